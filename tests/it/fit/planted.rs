//! Small projects with one fault each, in `tests/planted/`: the fault is found, with its parts and its number, and the cured project
//! is free of it. Each file says in its first lines what is wrong, what must be found, and what cures it.

use baywright::diag::{Finding, Severity};
use baywright::flat;
use baywright::run::derive;
use std::fs;
use std::path::{Path, PathBuf};

/// The least number of faults that must be there.
const FAULTS: usize = 40;

struct Case {
    path: PathBuf,
    text: String,
    /// A code, and words that one finding of that code must hold.
    finds: Vec<Vec<String>>,
    /// What to write in place of what.
    cures: Vec<(String, String)>,
}

fn cases() -> Vec<Case> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/planted");
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)
        .expect("the folder")
        .map(|e| e.expect("an entry").path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    paths.sort();
    paths.into_iter().map(read).collect()
}

fn read(path: PathBuf) -> Case {
    let text = fs::read_to_string(&path).expect("a project");
    let after = |head: &str| -> Vec<String> {
        text.lines().filter_map(|l| l.strip_prefix(head)).map(|l| l.trim().to_owned()).collect()
    };
    let finds = after("# Finds:").iter().map(|l| l.split('|').map(|w| w.trim().to_owned()).collect()).collect();
    let cures = after("# Cure:")
        .iter()
        .map(|l| {
            let (from, to) = l.split_once("=>").expect("a cure says what to write in place of what");
            (from.trim().to_owned(), to.trim().to_owned())
        })
        .collect();
    Case { path, text, finds, cures }
}

/// Everything found in a project, up to its flat parts.
fn findings(text: &str) -> Vec<Finding> {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("project.toml");
    fs::write(&path, text).expect("written");
    let derived = derive(&path, None).expect("read");
    let mut findings = derived.findings;
    if let (Some(design), Some(model)) = (&derived.design, &derived.model) {
        findings.extend(flat::flatten(design, model).findings);
    }
    findings
}

fn holds(finding: &Finding, wanted: &[String]) -> bool {
    let all = format!("{} {} {}", finding.message, finding.parts.join(" "), finding.remedy);
    finding.code.id == wanted[0] && wanted[1..].iter().all(|word| all.contains(word.as_str()))
}

fn shown(findings: &[Finding]) -> String {
    findings
        .iter()
        .filter(|f| f.severity != Severity::Note)
        .map(|f| format!("    {} {} [{}] {}", f.code.id, f.message, f.parts.join(", "), f.remedy))
        .collect::<Vec<_>>()
        .join("\n")
}

/// The project without its first comments, cured or not.
fn body(case: &Case, cured: bool) -> String {
    let mut text: String = case.text.lines().skip_while(|l| l.starts_with('#')).collect::<Vec<_>>().join("\n");
    if cured {
        for (from, to) in &case.cures {
            assert!(text.contains(from.as_str()), "{}: there is no {from:?} to cure", case.path.display());
            text = text.replace(from.as_str(), to);
        }
    }
    text
}

#[test]
fn every_planted_fault_is_named_and_its_cure_clears_it() {
    let cases = cases();
    assert!(cases.len() >= FAULTS, "{} cases", cases.len());
    let mut wrong: Vec<String> = Vec::new();
    for case in &cases {
        let name = case.path.file_stem().expect("named").to_string_lossy();
        assert!(!case.finds.is_empty() && !case.cures.is_empty(), "{name} lacks what it finds or its cure");
        let ill = findings(&body(case, false));
        for wanted in &case.finds {
            if !ill.iter().any(|f| holds(f, wanted)) {
                wrong.push(format!("{name}: {wanted:?} not found in\n{}", shown(&ill)));
            }
        }
        let cured = findings(&body(case, true));
        let still: Vec<Finding> = cured
            .into_iter()
            .filter(|f| f.severity == Severity::Stop || case.finds.iter().any(|w| w[0] == f.code.id))
            .collect();
        if !still.is_empty() {
            wrong.push(format!("{name}: cured, and still\n{}", shown(&still)));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}
