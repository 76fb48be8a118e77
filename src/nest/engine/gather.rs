//! The same sheets once more, with what is left over gathered in one piece.
//!
//! The emptiest sheet is cut shorter, from one end or from one side, as long as all pieces still find a place.

use super::free_rects::FreeSheet;
use super::guillotine::SawnSheet;
use super::model::{CutRule, Packing, Problem, Settings, Spot};
use super::pieces::{Blank, Grown};
use super::ruin::{history, Search};
use super::solve::finished;
use super::state::State;
use super::surface::Surface;

/// The leftover is found to within this part of the sheet's side.
const FINENESS: i32 = 128;
/// Steps that may fail per direction; sets how the work is shared out.
const STEPS: u64 = 7;

/// Layouts on the same sheets whose leftover lies along an end or a side of one of them, at least `least` wide.
///
/// At most one for each direction; none when no better than nothing was found within the work.
#[must_use]
pub fn gathered(problem: &Problem, packing: &Packing, settings: &Settings<'_>, least: i64) -> Vec<Packing> {
    let g = Grown::new(problem);
    let fill = |s: usize| -> i64 { packing.sheets[s].spots.iter().map(|p: &Spot| p.size[0] * p.size[1]).sum() };
    let Some(short) = (0..packing.sheets.len()).min_by_key(|&s| (fill(s), s)) else { return Vec::new() };
    if !packing.unplaced.is_empty() {
        return Vec::new();
    }
    let mut used = vec![0u32; g.blanks.len()];
    for s in &packing.sheets {
        used[s.kind] += 1;
    }
    let kind = packing.sheets[short].kind;
    [false, true]
        .into_iter()
        .filter_map(|upright| {
            let sheets = match g.cut {
                CutRule::Free => shortest::<FreeSheet>(&g, &used, kind, upright, settings, least),
                CutRule::Guillotine | CutRule::Staged(_) => shortest::<SawnSheet>(&g, &used, kind, upright, settings, least),
            };
            sheets.map(|sheets| Packing { sheets, ..packing.clone() })
        })
        .collect()
}

/// The layout with one sheet of a kind cut shortest; its width is cut when `upright`, else its length.
fn shortest<S: Surface>(
    g: &Grown,
    used: &[u32],
    kind: usize,
    upright: bool,
    settings: &Settings<'_>,
    least: i64,
) -> Option<Vec<super::model::PackedSheet>> {
    let full = g.blanks[kind];
    let (side, other) = if upright { (full.h, full.w) } else { (full.w, full.h) };
    let total: i64 = g.pieces.iter().map(|p| p.area * i64::from(p.count)).sum();
    let rest: i64 = g.blanks.iter().zip(used).map(|(b, &n)| b.area * i64::from(n)).sum::<i64>() - full.area;
    let needed = ((total - rest).max(1) + i64::from(other) - 1) / i64::from(other);
    let mut low = i32::try_from(needed).unwrap_or(side);
    let mut high = i32::try_from(i64::from(side) - least).unwrap_or(0);
    let mut best = None;
    // First the least that is worth keeping, then halves of what lies between.
    let mut tried = high;
    while low <= high && tried >= low {
        let found = within::<S>(g, used, kind, if upright { (full.w, tried) } else { (tried, full.h) }, settings);
        match found {
            Some((sheets, reach)) => {
                let reached = if upright { reach.1 } else { reach.0 };
                best = Some(sheets);
                high = reached.min(tried) - 1;
            }
            None if best.is_none() => return None,
            None => low = tried + 1,
        }
        if high - low < side / FINENESS {
            break;
        }
        tried = low + (high - low) / 2;
    }
    best
}

type Laid = (Vec<super::model::PackedSheet>, (i32, i32));

/// All pieces on the given sheets, one of which is cut to a size; and how far that one is filled.
fn within<S: Surface>(g: &Grown, used: &[u32], kind: usize, (w, h): (i32, i32), settings: &Settings<'_>) -> Option<Laid> {
    let mut cut = g.clone();
    for (b, &n) in cut.blanks.iter_mut().zip(used) {
        (b.count, b.cost) = (n, 0);
    }
    cut.blanks[kind].count -= 1;
    let defects = cut.defects[kind].clone();
    cut.add(Blank { w, h, area: i64::from(w) * i64::from(h), count: 1, cost: 0 }, defects);
    let mut state = State::<S>::empty(&cut);
    for kind in (0..cut.blanks.len()).rev() {
        for _ in 0..cut.blanks[kind].count {
            state.open(&cut, kind);
        }
    }
    state.loose = (0..cut.pieces.len()).flat_map(|p| std::iter::repeat_n(p as u32, cut.pieces[p].count as usize)).collect();
    let mut search = Search::new(&cut, state, settings.seed, 0, history(settings.work));
    search.limit_to(u64::MAX - 1);
    let mut work = 0;
    if !search.run(settings.work / STEPS / 2, &mut work) {
        return None;
    }
    let last = cut.blanks.len() - 1;
    let gap = g.gap;
    let mut sheets = finished(&cut, &search.state);
    let mut reach = (0, 0);
    for s in &mut sheets {
        if s.kind == last {
            for p in &s.spots {
                reach.0 = reach.0.max((p.at[0] + p.size[0]) as i32 + gap);
                reach.1 = reach.1.max((p.at[1] + p.size[1]) as i32 + gap);
            }
            s.kind = kind;
        }
    }
    sheets.sort_by_key(|s| s.kind);
    Some((sheets, reach))
}
