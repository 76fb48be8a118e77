//! The gap ledger: nominal, worst case, likely range, verdict, and what moves each gap.

use super::codes;
use crate::diag::Finding;
use crate::dim::{Contributor, Range, SourceKind, TWO_SIDED_95};
use crate::parts::Gap;
use crate::units::Mm;

/// A gap this far out of its window at nominal still passes: rounding, not misfit.
const ROUNDING: Mm = Mm(0.001);

/// All gaps, judged.
#[derive(Clone, Debug, Default)]
pub struct Ledger {
    /// One line per gap, worst first.
    pub lines: Vec<LedgerLine>,
}

/// One gap, judged.
#[derive(Clone, Debug)]
pub struct LedgerLine {
    /// Name of the gap.
    pub gap: String,
    /// Nominal.
    pub nominal: Mm,
    /// Worst case.
    pub worst: Range,
    /// Likely range (root-sum-square, 95 %).
    pub likely: Range,
    /// What it must be.
    pub required: Range,
    /// Source of the requirement.
    pub source: String,
    /// The judgement.
    pub verdict: Verdict,
    /// What moves it, largest share first.
    pub contributors: Vec<Contributor>,
}

/// Judgement of a gap.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Nominal already outside its window.
    Fails,
    /// Likely range leaves its window.
    Doubtful,
    /// Only the worst case leaves its window.
    Tight,
    /// Worst case inside.
    Fits,
}

impl Verdict {
    /// One word for tables and data.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Fails => "fails",
            Self::Doubtful => "doubtful",
            Self::Tight => "tight",
            Self::Fits => "fits",
        }
    }
}

impl LedgerLine {
    fn judge(gap: &Gap) -> Self {
        let nominal = gap.gap.nominal();
        let worst = gap.gap.worst_case();
        let likely = gap.gap.root_sum_square(TWO_SIDED_95);
        let inside = |min: Mm, max: Mm| min >= gap.required.min - ROUNDING && max <= gap.required.max + ROUNDING;
        let verdict = if !inside(nominal, nominal) {
            Verdict::Fails
        } else if !inside(likely.min, likely.max) {
            Verdict::Doubtful
        } else if !inside(worst.min, worst.max) {
            Verdict::Tight
        } else {
            Verdict::Fits
        };
        Self {
            gap: gap.name.clone(),
            nominal,
            worst,
            likely,
            required: gap.required,
            source: gap.source.clone(),
            verdict,
            contributors: gap.gap.contributors(),
        }
    }

    /// How far the worst end stays inside its window; negative when it leaves it.
    #[must_use]
    pub fn margin(&self) -> Mm {
        (self.worst.min - self.required.min).min(self.required.max - self.worst.max)
    }
}

impl Ledger {
    /// Judges gaps: worst verdict first, least margin first within it.
    pub(super) fn judge(gaps: &[Gap]) -> Self {
        let mut ledger = Self { lines: gaps.iter().map(LedgerLine::judge).collect() };
        ledger.sort();
        ledger
    }

    /// Takes in gaps that are known only later, as those round stowed goods; what is found of them.
    pub fn add(&mut self, gaps: &[Gap]) -> Vec<Finding> {
        let more = Self::judge(gaps);
        let findings = more.findings(gaps);
        self.lines.extend(more.lines);
        self.sort();
        findings
    }

    fn sort(&mut self) {
        self.lines.sort_by(|a, b| {
            a.verdict.cmp(&b.verdict).then_with(|| a.margin().total_cmp(&b.margin())).then_with(|| a.gap.cmp(&b.gap))
        });
    }

    /// A finding for every gap that does not fit.
    pub(super) fn findings(&self, gaps: &[Gap]) -> Vec<Finding> {
        let of = |line: &LedgerLine| gaps.iter().find(|g| g.name == line.gap);
        self.lines.iter().filter_map(|line| finding(line, of(line)?)).collect()
    }
}

fn finding(line: &LedgerLine, gap: &Gap) -> Option<Finding> {
    let window = window(line.required);
    let measure = line.contributors.first().map_or_else(String::new, |c| {
        format!("; {} holds {:.0} % of the spread: measure it to narrow this", c.source.label, c.share * 100.0)
    });
    let (short, way) = if line.nominal < line.required.min {
        (line.required.min - line.nominal, "more")
    } else {
        (line.nominal - line.required.max, "less")
    };
    let base = match line.verdict {
        Verdict::Fails => {
            Finding::stop(codes::GAP_FAILS, format!("{} is {} mm; it must be {window}", line.gap, line.nominal))
                .remedy(format!("give it {short} mm {way}{}", ruling(line)))
        }
        Verdict::Doubtful => Finding::caution(
            codes::GAP_DOUBTFUL,
            format!("{} will likely be {} to {} mm; it must be {window}", line.gap, line.likely.min, line.likely.max),
        )
        .remedy(format!("move the nominal to the middle of the window{measure}")),
        Verdict::Tight => Finding::note(
            codes::GAP_TIGHT,
            format!(
                "{} may in the worst case be {} to {} mm; it must be {window}",
                line.gap, line.worst.min, line.worst.max
            ),
        )
        .remedy(format!("likely fine{measure}")),
        Verdict::Fits => return None,
    };
    let mut finding = base.at(gap.span).limit(gap.source.clone());
    finding.parts.clone_from(&gap.parts);
    Some(finding)
}

/// The reading that a gap hangs on most, by name.
fn ruling(line: &LedgerLine) -> String {
    let reading = line.contributors.iter().find(|c| c.source.kind == SourceKind::Reading);
    reading.map_or_else(String::new, |c| format!("; {} rules", c.source.label))
}

fn window(range: Range) -> String {
    if range.max.0.is_infinite() {
        format!("at least {} mm", range.min)
    } else if range.min.0.is_infinite() {
        format!("at most {} mm", range.max)
    } else {
        format!("{} to {} mm", range.min, range.max)
    }
}
