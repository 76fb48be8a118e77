//! Hand-worked cases, and properties of every expression that can be built.

use super::{Dim, Range, Source, SourceKind, Step, TWO_SIDED_95};
use crate::units::Mm;
use proptest::prelude::*;

fn source(key: &str, nominal: f64, minus: f64, plus: f64) -> Dim {
    Dim::source(Source {
        key: key.into(),
        label: key.into(),
        kind: SourceKind::Board,
        nominal: Mm(nominal),
        minus: Mm(minus),
        plus: Mm(plus),
        basis: "test".into(),
        span: None,
    })
}

#[test]
fn the_same_source_twice_is_fully_correlated() {
    let t = source("t", 15.0, 0.3, 0.3);
    let both = Dim::number(Mm(500.0), "outside") - &t - &t;
    assert_eq!(both.nominal(), Mm(470.0));
    assert_eq!(both.form().len(), 1);
    assert!((both.worst_case().min.0 - 469.4).abs() < 1e-12);
}

#[test]
fn a_source_that_cancels_leaves_the_form() {
    let t = source("t", 15.0, 0.3, 0.3);
    assert!((&(&t + &Dim::zero()) - &t).form().is_empty());
}

/// Root-sum-square of 0.3 and 0.4 is 0.5 (the 3-4-5 triangle), at the coverage the limits are stated at.
#[test]
fn independent_sources_add_in_quadrature() {
    let gap = source("a", 100.0, 0.3, 0.3) - source("b", 90.0, 0.4, 0.4);
    let range = gap.root_sum_square(TWO_SIDED_95);
    assert!((range.max.0 - 10.5).abs() < 1e-12 && (range.min.0 - 9.5).abs() < 1e-12);
    assert!((gap.contributors()[0].share - 0.64).abs() < 1e-12);
}

#[test]
fn a_skewed_tolerance_moves_the_likely_middle() {
    let range = source("a", 10.0, 0.0, 0.8).root_sum_square(TWO_SIDED_95);
    assert!((range.min.0 - 10.0).abs() < 1e-12 && (range.max.0 - 10.8).abs() < 1e-12);
}

#[test]
fn least_follows_the_branch_that_rules() {
    let least = Dim::least(vec![source("a", 10.0, 1.0, 1.0), source("b", 9.0, 2.0, 2.0)]).expect("not empty");
    assert_eq!(least.nominal(), Mm(9.0));
    assert_eq!(least.form()[0].0.key, "b");
    assert!(Dim::least(Vec::new()).is_none());
}

#[test]
fn a_pin_keeps_the_derived_value_to_show_its_cost() {
    let derived = source("a", 10.0, 1.0, 1.0).named("front width");
    let pinned = derived.pinned(Dim::number(Mm(11.0), "pinned"));
    assert_eq!(pinned.nominal(), Mm(11.0));
    assert!(pinned.form().is_empty());
    assert!(matches!(pinned.step(), Step::Pinned { derived, .. } if derived.nominal() == Mm(10.0)));
}

#[test]
fn terms_that_cancel_up_to_rounding_leave_no_sensitivity() {
    let t = source("t", 15.0, 0.3, 0.3);
    let nothing = &t * 0.1 + &t * 0.2 - &t * 0.3;
    assert!(nothing.form().is_empty(), "{:?}", nothing.form());
    let little = &t * 1.0 - &t * 0.999_999;
    assert_eq!(little.form().len(), 1, "a small true remainder stays");
}

/// How a length may be put together from four sources.
#[derive(Clone, Debug)]
enum Expression {
    Source(usize),
    Number(f64),
    Sum(Box<Expression>, Box<Expression>),
    Difference(Box<Expression>, Box<Expression>),
    Times(f64, Box<Expression>),
    Negative(Box<Expression>),
    Named(Box<Expression>),
    Pinned(Box<Expression>, Box<Expression>),
}

const SOURCES: usize = 4;

fn expression() -> impl Strategy<Value = Expression> {
    let factor = prop_oneof![Just(0.0), Just(1.0), Just(-1.0), Just(0.5), Just(2.0), -3.0..3.0f64];
    let leaf = prop_oneof![(0..SOURCES).prop_map(Expression::Source), (-500.0..500.0f64).prop_map(Expression::Number)];
    leaf.prop_recursive(5, 40, 2, move |inner| {
        let pair = (inner.clone().prop_map(Box::new), inner.clone().prop_map(Box::new));
        let one = || inner.clone().prop_map(Box::new);
        prop_oneof![
            pair.clone().prop_map(|(a, b)| Expression::Sum(a, b)),
            pair.clone().prop_map(|(a, b)| Expression::Difference(a, b)),
            pair.prop_map(|(a, b)| Expression::Pinned(a, b)),
            (factor.clone(), one()).prop_map(|(k, a)| Expression::Times(k, a)),
            one().prop_map(Expression::Negative),
            one().prop_map(Expression::Named),
        ]
    })
}

fn built(e: &Expression, sources: &[Dim]) -> Dim {
    match e {
        Expression::Source(i) => sources[*i].clone(),
        Expression::Number(x) => Dim::number(Mm(*x), "chosen"),
        Expression::Sum(a, b) => built(a, sources) + built(b, sources),
        Expression::Difference(a, b) => &built(a, sources) - &built(b, sources),
        Expression::Times(k, a) => built(a, sources) * *k,
        Expression::Negative(a) => -&built(a, sources),
        Expression::Named(a) => built(a, sources).named("part"),
        Expression::Pinned(derived, by) => built(derived, sources).pinned(built(by, sources)),
    }
}

/// The same expression with plain numbers: what the length would be if the sources had these values.
fn valued(e: &Expression, values: &[f64]) -> f64 {
    match e {
        Expression::Source(i) => values[*i],
        Expression::Number(x) => *x,
        Expression::Sum(a, b) => valued(a, values) + valued(b, values),
        Expression::Difference(a, b) => valued(a, values) - valued(b, values),
        Expression::Times(k, a) => valued(a, values) * k,
        Expression::Negative(a) => -valued(a, values),
        Expression::Named(a) => valued(a, values),
        Expression::Pinned(_, by) => valued(by, values),
    }
}

/// Nominal, lower and upper limit of each source.
fn limits() -> impl Strategy<Value = Vec<(f64, f64, f64)>> {
    let limit = || prop_oneof![Just(0.0), 0.0..2.0f64];
    prop::collection::vec((1.0..1500.0f64, limit(), limit()), SOURCES)
}

fn sources(limits: &[(f64, f64, f64)]) -> Vec<Dim> {
    limits.iter().enumerate().map(|(i, (n, minus, plus))| source(&format!("s{i}"), *n, *minus, *plus)).collect()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

proptest! {
    /// Moving the sources moves the length as its form says, whatever the expression.
    #[test]
    fn the_form_is_the_derivative(e in expression(), limits in limits(), moves in prop::collection::vec(-5.0..5.0f64, SOURCES)) {
        let dim = built(&e, &sources(&limits));
        let nominals: Vec<f64> = limits.iter().map(|l| l.0).collect();
        prop_assert!(near(dim.nominal().0, valued(&e, &nominals)));
        let moved: Vec<f64> = nominals.iter().zip(&moves).map(|(n, m)| n + m).collect();
        let by_form: f64 = dim.form().iter().map(|(s, k)| k * moves[s.key[1..].parse::<usize>().expect("index")]).sum();
        prop_assert!(near(valued(&e, &moved), dim.nominal().0 + by_form), "{dim:?}");
        prop_assert!(dim.form().windows(2).all(|w| w[0].0.key < w[1].0.key), "one term per source, in order of key");
        prop_assert!(dim.form().iter().all(|(_, k)| *k != 0.0));
    }

    /// No draw of the sources within their limits leaves the worst case, and its two ends are reached by some draw.
    #[test]
    fn the_worst_case_brackets_every_draw(
        e in expression(),
        limits in limits(),
        draws in prop::collection::vec(prop::collection::vec(0.0..=1.0f64, SOURCES), 40),
    ) {
        let dim = built(&e, &sources(&limits));
        let Range { min, max } = dim.worst_case();
        for draw in draws {
            let values: Vec<f64> = limits.iter().zip(&draw).map(|((n, a, b), t)| n - a + t * (a + b)).collect();
            let length = valued(&e, &values);
            prop_assert!(length >= min.0 - 1e-6 && length <= max.0 + 1e-6, "{length} outside {min} to {max}");
        }
        let mut reached = (f64::INFINITY, f64::NEG_INFINITY);
        for corner in 0..1u32 << SOURCES {
            let at = |(i, (n, a, b)): (usize, &(f64, f64, f64))| if corner >> i & 1 == 1 { n + b } else { n - a };
            let length = valued(&e, &limits.iter().enumerate().map(at).collect::<Vec<f64>>());
            reached = (reached.0.min(length), reached.1.max(length));
        }
        prop_assert!(near(reached.0, min.0) && near(reached.1, max.0));
    }

    /// At the coverage of the limits, the likely range lies within the worst case, with the same middle, and the shares of
    /// the sources make up the whole.
    #[test]
    fn the_likely_range_lies_within_the_worst_case(e in expression(), limits in limits()) {
        let dim = built(&e, &sources(&limits));
        let (likely, worst) = (dim.root_sum_square(TWO_SIDED_95), dim.worst_case());
        prop_assert!(likely.min.0 >= worst.min.0 - 1e-9 && likely.max.0 <= worst.max.0 + 1e-9);
        prop_assert!(near((likely.min + likely.max).0, (worst.min + worst.max).0));
        let contributors = dim.contributors();
        if !contributors.is_empty() {
            prop_assert!(near(contributors.iter().map(|c| c.share).sum(), 1.0));
            prop_assert!(contributors.windows(2).all(|w| w[0].share >= w[1].share));
            prop_assert!(near(contributors.iter().map(|c| c.reach.0).sum(), (worst.max - worst.min).0 / 2.0));
        }
    }

    /// The smallest and the largest are at their nominals what they are for plain numbers, and keep every candidate to show.
    #[test]
    fn least_and_most_pick_by_nominal(values in prop::collection::vec(-50.0..50.0f64, 1..6)) {
        let dims = || values.iter().enumerate().map(|(i, v)| source(&format!("s{i}"), *v, 0.1, 0.1)).collect::<Vec<_>>();
        let (least, most) = (Dim::least(dims()).expect("some"), Dim::most(dims()).expect("some"));
        prop_assert_eq!(least.nominal().0, values.iter().copied().fold(f64::INFINITY, f64::min));
        prop_assert_eq!(most.nominal().0, values.iter().copied().fold(f64::NEG_INFINITY, f64::max));
        let Step::Least(candidates, ruling) = least.step() else { panic!("a least remembers its candidates") };
        prop_assert_eq!(candidates.len(), values.len());
        prop_assert_eq!(candidates[*ruling].nominal(), least.nominal());
        prop_assert_eq!(&least.form()[0].0.key, &format!("s{ruling}"));
    }
}
