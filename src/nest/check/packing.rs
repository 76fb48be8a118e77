//! Is a packing what it claims to be?

use super::guillotine::can_be_sawn;
use crate::nest::engine::{CutRule, Packing, Problem, Spot, Turns};

/// Everything that is wrong with a packing, in words; empty when it is sound. All in whole numbers.
#[must_use]
pub fn packing(problem: &Problem, packing: &Packing) -> Vec<String> {
    let mut faults = Vec::new();
    let mut seen = vec![0u64; problem.items.len()];
    let mut used = vec![0u64; problem.sheets.len()];
    for (n, sheet) in packing.sheets.iter().enumerate() {
        let Some(kind) = problem.sheets.get(sheet.kind) else {
            faults.push(format!("sheet {n} is of unknown kind {}", sheet.kind));
            continue;
        };
        used[sheet.kind] += 1;
        for (i, a) in sheet.spots.iter().enumerate() {
            let Some(item) = problem.items.get(a.item) else {
                faults.push(format!("sheet {n} holds unknown item {}", a.item));
                continue;
            };
            seen[a.item] += 1;
            let allowed = match item.turns {
                Turns::Fixed => a.quarters % 2 == 0,
                Turns::Quarter => a.quarters % 2 == 1,
                Turns::Any => true,
            } && a.quarters < 4;
            let lies = if a.quarters % 2 == 1 { [item.size[1], item.size[0]] } else { item.size };
            if !allowed || lies != a.size {
                faults.push(format!("item {} lies on sheet {n} in a turn or size it may not have", a.item));
            }
            if (0..2).any(|d| a.at[d] < 0 || a.at[d] + a.size[d] > kind.size[d]) {
                faults.push(format!("item {} reaches over sheet {n}", a.item));
            }
            let on = |d: &[i64; 4], r: &[i64; 4]| (0..2).all(|k| r[k] < d[k + 2] && d[k] < r[k + 2]);
            let rects = rectangles(problem, a);
            if problem.defects.get(&sheet.kind).into_iter().flatten().any(|d| rects.iter().any(|r| on(d, r))) {
                faults.push(format!("item {} lies on a defect of sheet {n}", a.item));
            }
            for b in &sheet.spots[i + 1..] {
                if !apart(problem, a, b) {
                    faults.push(format!("items {} and {} on sheet {n} are closer than {}", a.item, b.item, problem.gap));
                }
            }
        }
        if problem.cut != CutRule::Free {
            let boxes: Vec<[i64; 4]> =
                sheet.spots.iter().map(|s| [s.at[0], s.at[1], s.at[0] + s.size[0], s.at[1] + s.size[1]]).collect();
            if !can_be_sawn(&boxes, problem.gap) {
                faults.push(format!("sheet {n} cannot be cut from edge to edge"));
            }
        }
    }
    for &(item, n) in &packing.unplaced {
        seen[item] += u64::from(n);
    }
    for (i, item) in problem.items.iter().enumerate() {
        if seen[i] != u64::from(item.count) {
            faults.push(format!("item {i} is there {} times instead of {}", seen[i], item.count));
        }
    }
    for (k, kind) in problem.sheets.iter().enumerate() {
        if kind.count.is_some_and(|c| used[k] > u64::from(c)) {
            faults.push(format!("{} sheets of kind {k} used, {:?} at hand", used[k], kind.count));
        }
    }
    let cost: u64 = packing.sheets.iter().filter_map(|s| problem.sheets.get(s.kind)).map(|k| k.cost).sum();
    if cost != packing.cost {
        faults.push(format!("the cost is {cost}, not {}", packing.cost));
    }
    if packing.unplaced.is_empty() && packing.bound > cost {
        faults.push(format!("the bound {} is above the cost {cost}", packing.bound));
    }
    if packing.optimal && (packing.bound != cost || !packing.unplaced.is_empty()) {
        faults.push("called optimal without reaching the bound".to_owned());
    }
    faults
}

/// Whether two pieces keep the gap: every rectangle of one from every rectangle of the other, in x or in y.
fn apart(problem: &Problem, a: &Spot, b: &Spot) -> bool {
    let keeps =
        |p: &[i64; 4], q: &[i64; 4]| (0..2).any(|d| p[d + 2] + problem.gap <= q[d] || q[d + 2] + problem.gap <= p[d]);
    let (a, b) = (rectangles(problem, a), rectangles(problem, b));
    a.iter().all(|p| b.iter().all(|q| keeps(p, q)))
}

/// What a piece covers on its sheet.
fn rectangles(problem: &Problem, spot: &Spot) -> Vec<[i64; 4]> {
    let whole = || vec![[0, 0, spot.size[0], spot.size[1]]];
    let shape = problem.shapes.get(&spot.item).filter(|_| problem.cut == CutRule::Free);
    let mut rects = shape.map_or_else(whole, |s| s.cover.clone());
    if shape.is_some() {
        // Turn by turn: (x, y) goes to (height - y, x).
        let mut height = problem.items[spot.item].size[1];
        let mut width = problem.items[spot.item].size[0];
        for _ in 0..spot.quarters {
            for r in &mut rects {
                *r = [height - r[3], r[0], height - r[1], r[2]];
            }
            std::mem::swap(&mut width, &mut height);
        }
    }
    rects.iter().map(|r| [r[0] + spot.at[0], r[1] + spot.at[1], r[2] + spot.at[0], r[3] + spot.at[1]]).collect()
}
