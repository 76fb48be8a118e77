//! What the proof has to say: every rule with counts and worst figure, and what was found.

use super::limits;
use crate::diag::{Code, Finding, Severity};
use crate::units::decimal;
use serde::Serialize;
use std::fmt::Write as _;

/// The result of proving a pack.
#[derive(Clone, Debug)]
pub struct Verdict {
    /// Whether nothing was found that stops the pack.
    pub passed: bool,
    /// The job's revision; empty when `job.json` could not be read.
    pub revision: String,
    /// The job's title.
    pub title: String,
    /// Every rule, in the order of checking.
    pub rules: Vec<RuleResult>,
    /// Everything found, by rule; at most a dozen of each.
    pub findings: Vec<Finding>,
}

/// One rule's result.
#[derive(Clone, Debug, Serialize)]
pub struct RuleResult {
    /// The code of its findings.
    pub rule: &'static str,
    /// Whether nothing was found against it that stops the pack.
    pub passed: bool,
    /// How many things were checked.
    pub checked: usize,
    /// What was counted.
    pub of: &'static str,
    /// How many faults, also beyond those listed.
    pub faults: usize,
    /// The worst figure seen, good or bad.
    pub worst: Option<Figure>,
}

/// A measured figure.
#[derive(Clone, Debug, Serialize)]
pub struct Figure {
    /// Its value.
    pub value: f64,
    /// What it may be at most.
    pub limit: f64,
    /// Its unit.
    pub unit: &'static str,
    /// Where it was seen: sheet, part, feature, file and line as far as they apply.
    pub place: String,
}

/// A rule while it is being checked.
#[derive(Debug)]
pub(super) struct Rule {
    code: Code,
    of: &'static str,
    limit: f64,
    unit: &'static str,
    checked: usize,
    faults: usize,
    stops: usize,
    worst: Option<(f64, String)>,
    findings: Vec<Finding>,
}

impl Rule {
    /// A rule that counts things.
    pub(super) fn counting(code: Code, of: &'static str) -> Self {
        Self::measuring(code, of, 0.0, "")
    }

    /// A rule that also measures a figure against a limit.
    pub(super) fn measuring(code: Code, of: &'static str, limit: f64, unit: &'static str) -> Self {
        Self { code, of, limit, unit, checked: 0, faults: 0, stops: 0, worst: None, findings: Vec::new() }
    }

    /// Notes that things were checked.
    pub(super) fn count(&mut self, things: usize) {
        self.checked += things;
    }

    /// Notes a figure; keeps the worst.
    pub(super) fn figure(&mut self, value: f64, place: impl FnOnce() -> String) {
        if self.worst.as_ref().is_none_or(|(worst, _)| value > *worst) {
            self.worst = Some((value, place()));
        }
    }

    /// Notes a fault that stops the pack.
    pub(super) fn fault(&mut self, finding: impl FnOnce(Code) -> Finding) {
        self.faults += 1;
        if self.findings.len() < limits::FAULTS_KEPT {
            self.findings.push(finding(self.code));
        }
        self.stops += 1;
    }

    /// Notes something worth a look that does not stop the pack.
    pub(super) fn remark(&mut self, finding: impl FnOnce(Code) -> Finding) {
        self.faults += 1;
        if self.findings.len() < limits::FAULTS_KEPT {
            self.findings.push(finding(self.code));
        }
    }

    /// Takes over what the same rule found elsewhere, as if it had been checked after this.
    pub(super) fn join(&mut self, other: Self) {
        self.checked += other.checked;
        self.faults += other.faults;
        self.stops += other.stops;
        if let Some((value, place)) = other.worst {
            self.figure(value, || place);
        }
        let room = limits::FAULTS_KEPT.saturating_sub(self.findings.len());
        self.findings.extend(other.findings.into_iter().take(room));
    }

    /// Whether anything stops the pack.
    pub(super) fn stops(&self) -> bool {
        self.stops > 0
    }

    fn close(self) -> (RuleResult, Vec<Finding>) {
        let round = |v: f64| decimal(v, 4).parse().unwrap_or(v);
        let worst =
            self.worst.map(|(value, place)| Figure { value: round(value), limit: self.limit, unit: self.unit, place });
        let passed = self.stops == 0;
        (
            RuleResult { rule: self.code.id, passed, checked: self.checked, of: self.of, faults: self.faults, worst },
            self.findings,
        )
    }
}

impl Verdict {
    pub(super) fn of(title: String, revision: String, rules: Vec<Rule>) -> Self {
        let passed = !rules.iter().any(Rule::stops);
        let (rules, findings): (Vec<_>, Vec<_>) = rules.into_iter().map(Rule::close).unzip();
        Self { passed, revision, title, rules, findings: findings.concat() }
    }

    /// The verdict as data: `proof.json`, version 1.
    #[must_use]
    pub fn to_json(&self) -> Vec<u8> {
        let findings: Vec<Listed<'_>> = self.findings.iter().map(Listed::of).collect();
        let document = Document {
            version: 1,
            passed: self.passed,
            title: &self.title,
            revision: &self.revision,
            rules: &self.rules,
            findings,
        };
        let mut bytes = serde_json::to_vec_pretty(&document).unwrap_or_default();
        bytes.push(b'\n');
        bytes
    }

    /// The verdict as one page of text: `proof.txt`.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut out = String::new();
        let verdict = if self.passed {
            "PASSED: the files would cut what the job says."
        } else {
            "FAILED: do not cut from this pack."
        };
        let _ = writeln!(out, "Proof of {}, revision {}\n{verdict}\n", or_dash(&self.title), or_dash(&self.revision));
        for rule in &self.rules {
            let mark = if rule.passed { "ok  " } else { "FAIL" };
            let _ = write!(out, "{mark}  {:<26} {} {}", rule.rule.trim_start_matches("proof-"), rule.checked, rule.of);
            if let Some(worst) = &rule.worst {
                let _ = write!(out, "; worst {} {}", decimal(worst.value, 4), worst.unit);
                if worst.limit > 0.0 {
                    let _ = write!(out, " of {} allowed", decimal(worst.limit, 4));
                }
                let _ = write!(out, ", {}", worst.place);
            }
            if rule.faults > 0 {
                let _ = write!(out, "; {} found", rule.faults);
            }
            out.push('\n');
        }
        if !self.findings.is_empty() {
            out.push('\n');
        }
        for finding in &self.findings {
            let weight = if finding.severity == Severity::Stop { "stop" } else { "look" };
            let _ = writeln!(out, "{weight}  {}", finding.message);
        }
        out
    }
}

fn or_dash(text: &str) -> &str {
    if text.is_empty() {
        "-"
    } else {
        text
    }
}

#[derive(Serialize)]
struct Document<'a> {
    version: u32,
    passed: bool,
    title: &'a str,
    revision: &'a str,
    rules: &'a [RuleResult],
    findings: Vec<Listed<'a>>,
}

#[derive(Serialize)]
struct Listed<'a> {
    code: &'static str,
    severity: Severity,
    message: &'a str,
    limit: Option<&'a str>,
    parts: &'a [String],
    remedy: &'a str,
}

impl<'a> Listed<'a> {
    fn of(finding: &'a Finding) -> Self {
        Self {
            code: finding.code.id,
            severity: finding.severity,
            message: &finding.message,
            limit: finding.limit.as_deref(),
            parts: &finding.parts,
            remedy: &finding.remedy,
        }
    }
}
