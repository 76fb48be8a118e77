//! A pack in memory that can be spoilt, with a small source of chance that gives the same for the same seed.

use super::made::Made;
use baywright::write;
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::Path;

pub(crate) type Files = BTreeMap<String, Vec<u8>>;

/// A sample's pack, made through the library; `None` when the sample has a stopper.
pub(crate) fn made(sample: &str) -> Option<Files> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let case = root.join("tests/cases").join(sample).join("project.toml");
    let path = if case.is_file() { case } else { root.join("samples").join(sample).with_extension("toml") };
    Some(write::pack(&Made::of(&path)?.job()))
}

/// What a change does, reckoned without the proof.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Effect {
    /// More than the stated tolerance: it must be caught.
    Harms,
    /// Well within the tolerance.
    Harmless,
}

/// By how much something changed, against a tolerance: near it, within a fifth, nothing is said.
pub(crate) fn against(change: f64, tolerance: f64) -> Option<Effect> {
    if change > 1.2 * tolerance {
        Some(Effect::Harms)
    } else if change < 0.8 * tolerance {
        Some(Effect::Harmless)
    } else {
        None
    }
}

fn is_number(word: &str) -> bool {
    word.strip_prefix('N').is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
}

/// A pack to be spoilt.
#[derive(Clone)]
pub(crate) struct Pack {
    pub(crate) files: Files,
    pub(crate) job: Value,
    chance: u64,
}

impl Pack {
    pub(crate) fn of(files: &Files, seed: u64) -> Self {
        let job = serde_json::from_slice(&files["job.json"]).expect("job.json");
        let mut pack = Self { files: files.clone(), job, chance: seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x5851_f42d };
        for _ in 0..4 {
            pack.next();
        }
        pack
    }

    fn next(&mut self) -> u64 {
        // Xorshift; from memory (Marsaglia 2003).
        self.chance ^= self.chance << 13;
        self.chance ^= self.chance >> 7;
        self.chance ^= self.chance << 17;
        self.chance
    }

    /// From 0 to below `n`.
    pub(crate) fn pick(&mut self, n: usize) -> usize {
        (self.next() >> 11) as usize % n.max(1)
    }

    pub(crate) fn one<T: Clone>(&mut self, of: &[T]) -> Option<T> {
        let k = self.pick(of.len());
        of.get(k).cloned()
    }

    /// From 0 to 1.
    pub(crate) fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Between two sizes, small ones as often as large ones.
    pub(crate) fn size(&mut self, low: f64, high: f64) -> f64 {
        low * (high / low).powf(self.share())
    }

    pub(crate) fn sign(&mut self) -> f64 {
        if self.pick(2) == 0 {
            -1.0
        } else {
            1.0
        }
    }

    /// A file with the given ending or in the given folder, by chance.
    pub(crate) fn file(&mut self, of: &str) -> Option<String> {
        let names: Vec<String> = self.files.keys().filter(|n| n.ends_with(of) || n.starts_with(of)).cloned().collect();
        self.one(&names)
    }

    /// A file's lines, a program's without their line numbers.
    pub(crate) fn lines(&self, name: &str) -> Vec<String> {
        let program = name.starts_with("gcode/");
        let own = |line: &str| match line.trim_end_matches('\r').split_once(' ') {
            Some((first, rest)) if program && is_number(first) => rest.to_owned(),
            _ => line.trim_end_matches('\r').to_owned(),
        };
        String::from_utf8_lossy(&self.files[name]).split('\n').map(own).collect()
    }

    /// Writes a file's lines as it had them: with the ends of lines, and a program with line numbers where it had any.
    pub(crate) fn put(&mut self, name: &str, lines: &[String]) {
        let old = String::from_utf8_lossy(&self.files[name]).into_owned();
        let numbered = name.starts_with("gcode/") && old.lines().any(|l| l.split(' ').next().is_some_and(is_number));
        let mut number = 0;
        let numbered_line = |line: &String| {
            if !numbered || line.is_empty() || line.starts_with(['(', '%', 'N']) {
                return line.clone();
            }
            number = if number + 10 > 99_999 { 10 } else { number + 10 };
            format!("N{number} {line}")
        };
        let lines: Vec<String> = lines.iter().map(numbered_line).collect();
        let end = if old.contains("\r\n") { "\r\n" } else { "\n" };
        self.files.insert(name.to_owned(), lines.join(end).into_bytes());
    }

    pub(crate) fn put_job(&mut self) {
        self.files.insert("job.json".to_owned(), serde_json::to_vec(&self.job).expect("json"));
    }
}
