//! Where a joint may lie: clear of cuts, of the outline's own corners, and so that both pieces come nearer to fitting.

use super::knobs::{HEIGHT, MARK_REACH};
use crate::flat::web::is_line;
use crate::flat::FlatPart;
use crate::geom::Rect;

/// The direction in which a part is divided; the joint runs across it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Along {
    /// Left and right piece.
    X,
    /// Lower and upper piece.
    Y,
}

impl Along {
    pub(super) fn index(self) -> usize {
        usize::from(self == Self::Y)
    }

    /// From and to along this direction.
    pub(super) fn of(self, r: Rect) -> (f64, f64) {
        match self {
            Self::X => (r.x0, r.x1),
            Self::Y => (r.y0, r.y1),
        }
    }

    pub(super) fn other(self) -> Self {
        match self {
            Self::X => Self::Y,
            Self::Y => Self::X,
        }
    }
}

/// Steps in which places are tried, in mm.
const STEP: f64 = 1.0;

/// The directions to divide in, the one that is more over its limit first; only those that are over it on some sheet.
pub(super) fn directions(usable: &[[f64; 2]], part: &FlatPart) -> Vec<Along> {
    let size = [part.length.0, part.width.0];
    // The sheet on which the fewest pieces come out.
    let pieces = |u: &[f64; 2]| -> f64 { (0..2).map(|i| (size[i] / u[i].max(1.0)).ceil()).product() };
    let Some(best) = usable.iter().min_by(|a, b| pieces(a).total_cmp(&pieces(b))) else { return Vec::new() };
    let mut over: Vec<(f64, Along)> = [Along::X, Along::Y]
        .into_iter()
        .map(|along| (size[along.index()] / best[along.index()].max(1.0), along))
        .filter(|(share, _)| *share > 1.0)
        .collect();
    over.sort_by(|a, b| b.0.total_cmp(&a.0));
    over.into_iter().map(|(_, along)| along).collect()
}

/// Places to try, best first: clear of everything, then those that run through an opening; near an even division before others.
pub(super) fn spots(part: &FlatPart, along: Along, limit: f64, radius: f64, web: f64) -> Vec<f64> {
    let (from, to) = along.of(part.outline.contour.bounds());
    let knob = HEIGHT * radius;
    let count = ((to - from) / (limit - knob)).ceil().max(2.0);
    // The first piece carries the knobs beyond the joint; what is left must need one piece less.
    let least = (to - from - (count - 1.0) * (limit - knob)).max(radius * 4.0) + from;
    let most = (from + limit - knob).min(to - knob - radius * 4.0);
    let even = from + (to - from) / count;
    let steps = ((most - least) / STEP).floor();
    if steps < 0.0 {
        return Vec::new();
    }
    let all = (0..=steps as usize).map(|i| least + i as f64 * STEP);
    let mut scored: Vec<(u8, f64, f64)> =
        all.filter_map(|at| Some((rank(part, along, at, radius, web)?, (at - even).abs(), at))).collect();
    scored.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.total_cmp(&b.2)));
    // A shape that fails at one place may well pass at the next; more tries are not worth their time.
    scored.into_iter().map(|(_, _, at)| at).take(MOST_TRIES).collect()
}

const MOST_TRIES: usize = 60;

/// How far a joint keeps from cuts where it can, in radii of its knobs: a panel stands beside a row of slots. Common practice, no
/// source.
const WELL_CLEAR: f64 = 4.0;

/// The lower the better; places well clear of everything come before all that are only just so.
fn rank(part: &FlatPart, along: Along, at: f64, radius: f64, web: f64) -> Option<u8> {
    let just = || worth(part, along, at, radius, web).map(|w| w + 3);
    worth(part, along, at, radius, web.max(WELL_CLEAR * radius)).or_else(just)
}

/// 0 for a place clear of all cuts, 1 where the knobs must dodge some, 2 where the line runs through an opening; `None` where it must
/// not lie.
fn worth(part: &FlatPart, along: Along, at: f64, radius: f64, web: f64) -> Option<u8> {
    let reach = HEIGHT * radius;
    // The line itself ends on the part's edges: not at a corner, a finger's flank or a relief.
    let near_line = |v: f64| v > at - web && v < at + web;
    let corners = part.outline.contour.vertices();
    if corners.iter().any(|v| near_line(if along == Along::X { v.x } else { v.y })) {
        return None;
    }
    let mut worth = 0;
    for cut in part.cuts.iter().filter(|c| !is_line(c)) {
        let (from, to) = along.of(cut.contour.bounds());
        if to < at - web || from > at + reach + web {
            continue;
        }
        let beside = from > at + web;
        let through = from < at - web && to > at + reach + web;
        worth = match (beside, through && cut.seats.is_none()) {
            (true, _) => worth.max(1),
            (_, true) => 2,
            _ => return None,
        };
    }
    (at - MARK_REACH > along.of(part.outline.contour.bounds()).0).then_some(worth)
}
