//! `prove`: read a pack from disk as a stranger would, and say what would come off the machine.

use super::screen::Screen;
use super::{coupon, disk, Outcome, Trouble};
use crate::cli::ProveArgs;
use crate::diag::Finding;
use crate::proof::{self, Verdict};
use crate::write::Files;
use serde_json::Value;
use std::fmt::Write as _;

pub(super) fn run(args: &ProveArgs, screen: &Screen) -> Result<Outcome, Trouble> {
    let proved = Proved::of(disk::read_pack(&args.pack)?);
    if screen.json {
        Screen::bytes(&proved.to_json())?;
    } else {
        Screen::print(&proved.to_text())?;
    }
    Ok(if proved.passed() { Outcome::Fine } else { Outcome::Stopped })
}

/// Verdicts on a pack and on each coupon in it, which is a pack of its own.
pub(super) struct Proved {
    pub(super) pack: Verdict,
    /// With the folder of each.
    coupons: Vec<(String, Verdict)>,
}

impl Proved {
    /// Proves a pack as it was read from disk.
    pub(super) fn of(files: Files) -> Self {
        let prove = |mut files: Files| {
            // The verdict of an earlier proof is not evidence.
            files.remove("proof.json");
            files.remove("proof.txt");
            proof::prove(&files)
        };
        let (own, coupons) = coupon::apart(files);
        let coupons = coupons.into_iter().map(|(folder, files)| (folder, prove(files))).collect();
        Self { pack: prove(own), coupons }
    }

    pub(super) fn passed(&self) -> bool {
        self.pack.passed && self.coupons.iter().all(|(_, verdict)| verdict.passed)
    }

    /// Everything found, in the pack and in its coupons.
    pub(super) fn findings(self) -> impl Iterator<Item = Finding> {
        self.pack.findings.into_iter().chain(self.coupons.into_iter().flat_map(|(_, verdict)| verdict.findings))
    }

    /// The proof's files, each beside what it is about.
    pub(super) fn files(&self) -> Files {
        let coupons = self.coupons.iter().map(|(folder, verdict)| (format!("{folder}/"), verdict));
        let all = [(String::new(), &self.pack)].into_iter().chain(coupons);
        all.flat_map(|(folder, verdict)| {
            [
                (format!("{folder}proof.json"), verdict.to_json()),
                (format!("{folder}proof.txt"), verdict.to_text().into_bytes()),
            ]
        })
        .collect()
    }

    /// One verdict, with those on the coupons under `coupons` by folder.
    fn to_json(&self) -> Vec<u8> {
        let value = |verdict: &Verdict| serde_json::from_slice::<Value>(&verdict.to_json()).unwrap_or_default();
        let mut whole = value(&self.pack);
        whole["passed"] = self.passed().into();
        whole["coupons"] = self.coupons.iter().map(|(folder, verdict)| (folder.clone(), value(verdict))).collect();
        let mut bytes = format!("{whole:#}").into_bytes();
        bytes.push(b'\n');
        bytes
    }

    fn to_text(&self) -> String {
        let mut text = self.pack.to_text();
        for (folder, verdict) in &self.coupons {
            let _ = write!(text, "\n{folder}: {}", verdict.to_text());
        }
        text
    }
}
