//! Boxes on a floor: the engine's packing for things that stand beside each other.

use super::engine::{pack, CutRule, Item, Problem, Settings, SheetKind, Turns};
use crate::units::Mm;
use std::collections::BTreeMap;

/// The engine counts in hundredths of a millimetre.
const STEPS_PER_MM: f64 = 100.0;
/// Work for one floor: a few dozen boxes at most, so well under a tenth of a second.
const WORK: u64 = 400_000;

/// Stands boxes of some lengths and widths on a floor, each turned by quarters as is best, apart by the gap (none is kept to the
/// walls). Gives for each box its lower left corner and its size as it stands; `None` for one that found no place.
#[must_use]
pub fn lay_floor(room: [Mm; 2], boxes: &[[Mm; 2]], gap: Mm) -> Vec<Option<[Mm; 4]>> {
    let up = |x: Mm| (x.0 * STEPS_PER_MM - 0.5).ceil().max(1.0) as i64;
    let down = |x: Mm| (x.0 * STEPS_PER_MM + 0.5).floor() as i64;
    let mut laid = vec![None; boxes.len()];
    let size = room.map(down);
    if boxes.is_empty() || size.iter().any(|s| *s <= 0) {
        return laid;
    }
    let items = boxes.iter().map(|b| Item { size: [up(b[0]), up(b[1])], turns: Turns::Any, count: 1 }).collect();
    let problem = Problem {
        items,
        shapes: BTreeMap::new(),
        defects: BTreeMap::new(),
        sheets: vec![SheetKind { size, count: Some(1), cost: 1 }],
        gap: up(gap).max(0),
        cut: CutRule::Free,
    };
    let packing = pack(&problem, &Settings { work: WORK, seed: 1, threads: 1, ask: None });
    let mm = |steps: i64| Mm(steps as f64 / STEPS_PER_MM);
    for spot in packing.sheets.iter().flat_map(|s| &s.spots) {
        laid[spot.item] = Some([mm(spot.at[0]), mm(spot.at[1]), mm(spot.size[0]), mm(spot.size[1])]);
    }
    laid
}
