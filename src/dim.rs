//! `Dim`: a length that knows what it was derived from.
//!
//! A `Dim` is a nominal value in mm, a linear form over its [`Source`]s (a board's thickness, a tape reading, a cut edge, a
//! number the maker chose) and the steps that led to it. Ordinary arithmetic keeps all three, so tolerance stack-ups and
//! explanations fall out of the sizing itself.

use crate::diag::Span;
use crate::units::Mm;
use std::collections::BTreeMap;
use std::fmt;
use std::ops::{Add, Mul, Neg, Sub};
use std::sync::Arc;

/// Where a length ultimately comes from: one measured, bought, cut or chosen quantity with its uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// Identity: two sources are the same quantity (fully correlated) exactly when their keys are equal.
    pub key: String,
    /// How a person would say it: `birch 15 board thickness`, `bay width reading 2`.
    pub label: String,
    /// What kind of thing it is.
    pub kind: SourceKind,
    /// Best estimate.
    pub nominal: Mm,
    /// How far below the nominal it may lie (zero or positive).
    pub minus: Mm,
    /// How far above the nominal it may lie (zero or positive).
    pub plus: Mm,
    /// What the limits rest on: a standard, a count of readings, the maker's word, or an assumption.
    pub basis: String,
    /// Where the maker wrote it, when they did.
    pub span: Option<Span>,
}

/// The kinds of source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SourceKind {
    /// A number the maker chose; exact.
    Chosen,
    /// A tape or rule reading of the vehicle.
    Reading,
    /// The thickness of a batch of board, shared by every panel cut from it.
    Board,
    /// One panel's own departure from its batch.
    Sheet,
    /// One cut edge.
    Cut,
    /// A bought piece of hardware.
    Hardware,
    /// A default of the program, listed as an assumption.
    Assumed,
}

/// A length in mm with its derivation.
#[derive(Clone)]
pub struct Dim(Arc<Node>);

struct Node {
    nominal: Mm,
    /// Sensitivity to each source, sorted by key; no zero coefficients.
    form: Vec<(Arc<Source>, f64)>,
    name: Option<String>,
    step: Step,
}

/// The step that produced a [`Dim`].
#[derive(Clone, Debug)]
pub enum Step {
    /// It is a source itself.
    Source(Arc<Source>),
    /// A plain count or fixed number, with the reason for it.
    Number(String),
    /// A signed sum of others.
    Sum(Vec<(Sign, Dim)>),
    /// Another length times a number.
    Times(f64, Dim),
    /// The smallest of several; the index names the one that rules.
    Least(Vec<Dim>, usize),
    /// The largest of several; the index names the one that rules.
    Most(Vec<Dim>, usize),
    /// The maker's own figure in place of the derived one.
    Pinned {
        /// What the maker wrote.
        by: Dim,
        /// What it would have been.
        derived: Dim,
    },
}

/// Whether a term is added or taken away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// Added.
    Plus,
    /// Taken away.
    Minus,
}

/// One source's share in a [`Dim`].
#[derive(Clone, Debug)]
pub struct Contributor {
    /// The source.
    pub source: Arc<Source>,
    /// How far the length moves when the source moves by one.
    pub sensitivity: f64,
    /// Half of its worst-case range, times the sensitivity.
    pub reach: Mm,
    /// Its share of the variance, 0 to 1.
    pub share: f64,
}

/// A closed range of lengths.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Lower end.
    pub min: Mm,
    /// Upper end.
    pub max: Mm,
}

impl Dim {
    /// A length that is itself a source.
    #[must_use]
    pub fn source(source: Source) -> Self {
        let source = Arc::new(source);
        Self(Arc::new(Node {
            nominal: source.nominal,
            form: vec![(source.clone(), 1.0)],
            name: None,
            step: Step::Source(source),
        }))
    }

    /// An exact number with the reason for it (`"reveal"`, `"half of the play"`).
    #[must_use]
    pub fn number(value: Mm, reason: impl Into<String>) -> Self {
        Self(Arc::new(Node { nominal: value, form: Vec::new(), name: None, step: Step::Number(reason.into()) }))
    }

    /// No length.
    #[must_use]
    pub fn zero() -> Self {
        Self::number(Mm::ZERO, "zero")
    }

    /// The same length under a name of its own, at which explanations stop and start.
    #[must_use]
    pub fn named(&self, name: impl Into<String>) -> Self {
        let node = &self.0;
        let step = if node.name.is_some() { Step::Sum(vec![(Sign::Plus, self.clone())]) } else { node.step.clone() };
        Self(Arc::new(Node { nominal: node.nominal, form: node.form.clone(), name: Some(name.into()), step }))
    }

    /// The smallest of some lengths. The branch that rules at nominal gives the form.
    ///
    /// Returns `None` for an empty list.
    #[must_use]
    pub fn least(dims: Vec<Self>) -> Option<Self> {
        Self::pick(dims, |a, b| a < b, Step::Least)
    }

    /// The largest of some lengths. The branch that rules at nominal gives the form.
    ///
    /// Returns `None` for an empty list.
    #[must_use]
    pub fn most(dims: Vec<Self>) -> Option<Self> {
        Self::pick(dims, |a, b| a > b, Step::Most)
    }

    fn pick(dims: Vec<Self>, better: fn(Mm, Mm) -> bool, step: fn(Vec<Self>, usize) -> Step) -> Option<Self> {
        let mut ruling = 0;
        for (i, dim) in dims.iter().enumerate() {
            if better(dim.nominal(), dims[ruling].nominal()) {
                ruling = i;
            }
        }
        let (nominal, form) = dims.get(ruling).map(|d| (d.nominal(), d.0.form.clone()))?;
        Some(Self(Arc::new(Node { nominal, form, name: None, step: step(dims, ruling) })))
    }

    /// The maker's figure in place of this one; the derived value stays visible in the explanation.
    #[must_use]
    pub fn pinned(&self, by: Self) -> Self {
        let (nominal, form) = (by.nominal(), by.0.form.clone());
        let name = self.0.name.clone();
        Self(Arc::new(Node { nominal, form, name, step: Step::Pinned { by, derived: self.clone() } }))
    }

    /// The same length as it stands once cut: what was read or chosen has become a fixed number, while boards, cuts and bought
    /// parts still vary.
    #[must_use]
    pub fn built(&self) -> Self {
        let varies =
            |s: &Source| matches!(s.kind, SourceKind::Board | SourceKind::Sheet | SourceKind::Cut | SourceKind::Hardware);
        let form = self.0.form.iter().filter(|(s, _)| varies(s)).cloned().collect();
        let step = Step::Sum(vec![(Sign::Plus, self.clone())]);
        Self(Arc::new(Node { nominal: self.nominal(), form, name: None, step }))
    }

    /// Nominal value.
    #[must_use]
    pub fn nominal(&self) -> Mm {
        self.0.nominal
    }

    /// Its name, if it was given one.
    #[must_use]
    pub fn name(&self) -> Option<&str> {
        self.0.name.as_deref()
    }

    /// The step that produced it.
    #[must_use]
    pub fn step(&self) -> &Step {
        &self.0.step
    }

    /// The sources it depends on, each with its sensitivity, in order of key.
    #[must_use]
    pub fn form(&self) -> &[(Arc<Source>, f64)] {
        &self.0.form
    }

    /// Worst case: every source at its most unfavourable limit at once.
    #[must_use]
    pub fn worst_case(&self) -> Range {
        let mut range = Range { min: self.nominal(), max: self.nominal() };
        for (source, k) in &self.0.form {
            let (down, up) = if *k > 0.0 { (source.minus, source.plus) } else { (source.plus, source.minus) };
            range.min -= down * k.abs();
            range.max += up * k.abs();
        }
        range
    }

    /// Root-sum-square range: each source's limits are read as its 95 % range, the sources as independent, and the result
    /// covers `coverage` standard deviations either side (1.96 for 95 %).
    #[must_use]
    pub fn root_sum_square(&self, coverage: f64) -> Range {
        let mut middle = self.nominal().0;
        let mut variance = 0.0;
        for (source, k) in &self.0.form {
            middle += k * (source.plus.0 - source.minus.0) / 2.0;
            variance += (k * (source.plus.0 + source.minus.0) / 2.0 / TWO_SIDED_95).powi(2);
        }
        let reach = coverage * variance.sqrt();
        Range { min: Mm(middle - reach), max: Mm(middle + reach) }
    }

    /// Every source that can move it, the largest share of the variance first; exact sources are left out.
    #[must_use]
    pub fn contributors(&self) -> Vec<Contributor> {
        let reach = |s: &Source, k: f64| Mm((k * (s.plus.0 + s.minus.0) / 2.0).abs());
        let total: f64 = self.0.form.iter().map(|(s, k)| reach(s, *k).0.powi(2)).sum();
        let mut list: Vec<Contributor> = self
            .0
            .form
            .iter()
            .filter(|(s, k)| reach(s, *k) > Mm::ZERO)
            .map(|(source, k)| {
                let r = reach(source, *k);
                Contributor { source: source.clone(), sensitivity: *k, reach: r, share: r.0 * r.0 / total }
            })
            .collect();
        list.sort_by(|a, b| b.share.total_cmp(&a.share).then_with(|| a.source.key.cmp(&b.source.key)));
        list
    }

    fn sum(&self, sign: Sign, other: &Self) -> Self {
        let factor = if sign == Sign::Plus { 1.0 } else { -1.0 };
        let nominal = self.nominal() + other.nominal() * factor;
        let form = merged(&self.0.form, &other.0.form, factor);
        // An unnamed sum swallows its left operand, so that `a - b - c` explains as one line.
        let mut terms = match (&self.0.name, &self.0.step) {
            (None, Step::Sum(terms)) => terms.clone(),
            _ => vec![(Sign::Plus, self.clone())],
        };
        terms.push((sign, other.clone()));
        Self(Arc::new(Node { nominal, form, name: None, step: Step::Sum(terms) }))
    }

    fn times(&self, factor: f64) -> Self {
        let form = self.0.form.iter().map(|(s, k)| (s.clone(), k * factor)).filter(|(_, k)| *k != 0.0).collect();
        Self(Arc::new(Node { nominal: self.nominal() * factor, form, name: None, step: Step::Times(factor, self.clone()) }))
    }
}

/// Half-width of the two-sided 95 % interval of a normal distribution, in standard deviations (NIST/SEMATECH e-Handbook of
/// Statistical Methods, 1.3.6.7.1: 1.96).
pub const TWO_SIDED_95: f64 = 1.96;

/// How many rounding steps of its two terms a sum may keep and still count as cancelled.
const CANCEL_ULPS: f64 = 4.0;

/// `a + factor * b`, term by term.
fn merged(a: &[(Arc<Source>, f64)], b: &[(Arc<Source>, f64)], factor: f64) -> Vec<(Arc<Source>, f64)> {
    let mut by_key: BTreeMap<&str, (Arc<Source>, f64)> = BTreeMap::new();
    for (source, k) in a {
        by_key.insert(&source.key, (source.clone(), *k));
    }
    for (source, k) in b {
        let term = &mut by_key.entry(&source.key).or_insert_with(|| (source.clone(), 0.0)).1;
        let (before, added) = (*term, factor * k);
        // What rounding leaves of terms that cancel is no sensitivity: 0.1 + 0.2 - 0.3 is nothing.
        let rounding = CANCEL_ULPS * f64::EPSILON * (before.abs() + added.abs());
        *term = if (before + added).abs() <= rounding { 0.0 } else { before + added };
    }
    by_key.into_values().filter(|(_, k)| *k != 0.0).collect()
}

impl Add for &Dim {
    type Output = Dim;
    fn add(self, other: &Dim) -> Dim {
        self.sum(Sign::Plus, other)
    }
}

impl Sub for &Dim {
    type Output = Dim;
    fn sub(self, other: &Dim) -> Dim {
        self.sum(Sign::Minus, other)
    }
}

impl Add for Dim {
    type Output = Dim;
    fn add(self, other: Dim) -> Dim {
        self.sum(Sign::Plus, &other)
    }
}

impl Sub for Dim {
    type Output = Dim;
    fn sub(self, other: Dim) -> Dim {
        self.sum(Sign::Minus, &other)
    }
}

impl Add<&Dim> for Dim {
    type Output = Dim;
    fn add(self, other: &Dim) -> Dim {
        self.sum(Sign::Plus, other)
    }
}

impl Sub<&Dim> for Dim {
    type Output = Dim;
    fn sub(self, other: &Dim) -> Dim {
        self.sum(Sign::Minus, other)
    }
}

impl Mul<f64> for &Dim {
    type Output = Dim;
    fn mul(self, factor: f64) -> Dim {
        self.times(factor)
    }
}

impl Mul<f64> for Dim {
    type Output = Dim;
    fn mul(self, factor: f64) -> Dim {
        self.times(factor)
    }
}

impl Neg for &Dim {
    type Output = Dim;
    fn neg(self) -> Dim {
        self.times(-1.0)
    }
}

impl fmt::Debug for Dim {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.0.name {
            Some(name) => write!(f, "{} mm ({name})", self.nominal()),
            None => write!(f, "{} mm", self.nominal()),
        }
    }
}

#[cfg(test)]
mod tests;
