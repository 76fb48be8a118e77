//! A layer's name says operation, side and depth, and says them the same way everywhere.

use super::codes;
use super::fault::quoted;
use super::job::{Contour, Operation, Side};
use super::pack::Pack;
use super::shape::Ring;
use super::verdict::Rule;
use crate::diag::Finding;
use std::collections::BTreeMap;

/// First words of layers in the project's own naming; a machine's own names are only held to be one per meaning.
const OWN: &[&str] = &["THROUGH", "POCKET", "DRILL", "COUNTERSINK", "MARK", "FOLD", "UNDER", "NOTE"];
/// Longest layer name that release 12 takes (from memory).
const LONGEST: usize = 31;

pub(super) fn check(pack: &Pack<'_>) -> Rule {
    let mut rule = Rule::counting(codes::LAYERS, "contours' layers");
    let mut meanings: BTreeMap<&str, String> = BTreeMap::new();
    let mut layers: BTreeMap<String, &str> = BTreeMap::new();
    for part in &pack.job.parts {
        for contour in &part.contours {
            rule.count(1);
            let layer = contour.layer.as_str();
            let meaning = meaning(contour, layer, pack.unit_mm());
            let plain = layer.bytes().all(|b| b.is_ascii_uppercase() || b.is_ascii_digit() || b"$-_".contains(&b));
            let own = OWN.iter().any(|word| layer.starts_with(word));
            let same = meanings.entry(layer).or_insert_with(|| meaning.clone()) == &meaning
                && *layers.entry(meaning.clone()).or_insert(layer) == layer;
            if !plain || layer.is_empty() || layer.len() > LONGEST || (own && layer != meaning) || !same {
                rule.fault(|code| {
                    let (id, feature) = (quoted(&part.id), quoted(&contour.feature));
                    Finding::stop(
                        code,
                        format!("Part {id}, feature {feature} lies on layer {} and is {meaning}", quoted(layer)),
                    )
                    .part(part.id.clone())
                });
            }
        }
    }
    rule
}

/// The name that says what a contour is, in the files' unit. The job's depths are rounded, so that at a tie the layer's own
/// spelling counts.
fn meaning(contour: &Contour, layer: &str, unit_mm: f64) -> String {
    let spelt = [0.0, -ROUNDED, ROUNDED].map(|by| spelt(contour, by, unit_mm));
    let [first, ..] = &spelt;
    spelt.iter().find(|name| *name == layer).unwrap_or(first).clone()
}

/// Half the last decimal of a depth in the job, and a little.
const ROUNDED: f64 = 0.000_6;

fn spelt(contour: &Contour, by: f64, unit_mm: f64) -> String {
    let size = |mm: f64| if unit_mm > 1.0 { format!("{:.4}", mm / unit_mm) } else { format!("{mm:.2}") }.replace('.', "-");
    let diameter = || size(diameter(&contour.ring) + by);
    let name = match (contour.operation, contour.depth_mm) {
        (Operation::ThroughOutside, _) => "THROUGH-OUTSIDE".to_owned(),
        (Operation::ThroughInside, _) => "THROUGH-INSIDE".to_owned(),
        (Operation::Pocket, depth) => format!("POCKET-{}-DEEP", size(depth.unwrap_or(0.0) + by)),
        (Operation::Drill, None) => format!("DRILL-{}-THROUGH", diameter()),
        (Operation::Drill, Some(depth)) => {
            format!("DRILL-{}-DEEP-{}", size(self::diameter(&contour.ring)), size(depth + by))
        }
        (Operation::Countersink, _) => format!("COUNTERSINK-{}", diameter()),
        (Operation::Mark, _) => "MARK".to_owned(),
        (Operation::Fold, _) => "FOLD".to_owned(),
    };
    match contour.side {
        Side::Up => name,
        Side::Down => format!("UNDER-{name}"),
    }
}

fn diameter(ring: &Ring) -> f64 {
    let bounds = ring.bounds();
    // Six decimals are what the job's vertices carry.
    ((bounds.max.x - bounds.min.x) * 1_000_000.0).round() / 1_000_000.0
}
