//! Cuts along an edge: outlines and openings, in passes, with ramps, leads, tabs.

use super::hold::{Asked, Placed, Tabs};
use super::moves::{Feeds, Moves};
use super::path::{Path, Seg};
use super::room::Room;
use crate::geom::tolerance;

/// How far above the wood a cutting feed begins.
pub(super) const ABOVE_WOOD: f64 = 1.0;
/// How many places along the way are looked at for entry and exit.
const PLACES: u32 = 60;

/// What stays the same for all cuts of one cutter on one set-up.
#[derive(Clone, Copy, Debug)]
pub(super) struct Setting {
    /// Thickest reading: where wood may begin.
    pub(super) top: f64,
    pub(super) clearance: f64,
    /// Radians.
    pub(super) ramp_angle: f64,
    pub(super) centre_cutting: bool,
    pub(super) feeds: Feeds,
}

/// A finished edge cut.
#[derive(Debug)]
pub(super) struct EdgeCut {
    pub(super) moves: Moves,
    pub(super) tabs: Option<Placed>,
    /// The leads in and out.
    pub(super) leads: Vec<Seg>,
    /// Enters or leaves on an edge that should stay clean.
    pub(super) marks: bool,
}

/// Where a cut enters and leaves.
struct Ends {
    start: f64,
    end: f64,
    lead_in: Option<Seg>,
    lead_out: Option<Seg>,
    clean: bool,
}

/// Runs along a way at each of the heights, ramping from one to the next without leaving the cut.
///
/// Each pass ramps along the way, then goes once round from the ramp's foot, so that the ramp is cut away as well. The last pass
/// ends where a lead-out fits. Tabs are left in every pass that runs below their tops.
pub(super) fn cut(path: &Path, heights: &[f64], setting: &Setting, room: &Room, tabs: &Asked) -> EdgeCut {
    let around = path.length();
    let touch = setting.top + ABOVE_WOOD;
    let slope = setting.ramp_angle.tan().max(tolerance::PATH_STEP);
    let floor = heights.last().copied().unwrap_or(touch);
    let given = tabs.given(path, room, setting);
    let ends = choose_ends(path, room, (touch - floor) / slope, given.as_ref().map(|tabs| (tabs, floor)));
    let tabs = match given {
        Some(tabs) => {
            Some(Placed { wanted: tabs.places.len(), hold: tabs.places.len(), tabs, near_corner: false, on_clean: false })
        }
        None => tabs
            .size()
            .map(|size| Tabs::choose(path, room, size, floor, setting.centre_cutting, setting.ramp_angle, ends.end)),
    };

    let begin = ends.lead_in.map_or_else(|| path.at(ends.start), |l| l.from);
    let mut moves = Moves::new(begin, setting.clearance, setting.feeds);
    moves.air_to(touch);
    if let Some(lead) = ends.lead_in {
        moves.along(&lead, setting.feeds.cut);
    }
    let mut place = ends.start;
    let mut above = touch;
    for z in heights {
        let foot = place + (above - z) / slope;
        let pass = [(place, above), (foot, *z), (foot + around, *z)];
        match &tabs {
            Some(placed) => moves.follow(path, &placed.tabs.raise(&pass, around)),
            None => moves.follow(path, &pass),
        }
        place = foot + around;
        above = *z;
    }
    if let Some(lead) = ends.lead_out {
        moves.along(&lead, setting.feeds.cut);
    }
    moves.up();
    let leads = ends.lead_in.into_iter().chain(ends.lead_out).collect();
    EdgeCut { moves, tabs, leads, marks: !ends.clean }
}

/// Looks for an end with room for a lead-out, away from clean edges, whose start, the ramps' length before it, is good too.
///
/// Where tabs stand already, an end keeps clear of them if it can.
fn choose_ends(path: &Path, room: &Room, ramps: f64, tabs: Option<(&Tabs, f64)>) -> Ends {
    let around = path.length();
    let mut places: Vec<(f64, f64)> =
        path.segments().filter(|(_, s)| s.is_line()).map(|(start, s)| (start + s.length() / 2.0, s.length())).collect();
    places.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.total_cmp(&b.0)));
    let even = (0..PLACES).map(|i| around * f64::from(i) / f64::from(PLACES));
    let mut best: Option<(u32, Ends)> = None;
    for end in places.iter().take(PLACES as usize / 3).map(|p| p.0).chain(even) {
        let start = end - ramps;
        let clean = room.markable(end) && room.markable(start);
        let lead_out = room.lead_out(path, end);
        let lead_in = room.lead_in(path, start);
        let clear = tabs.is_none_or(|(tabs, floor)| tabs.clear_of(end, around, floor, room.radius));
        let worth =
            u32::from(clear) * 8 + u32::from(clean) * 4 + u32::from(lead_out.is_some()) * 2 + u32::from(lead_in.is_some());
        if best.as_ref().is_none_or(|(w, _)| worth > *w) {
            best = Some((worth, Ends { start, end, lead_in, lead_out, clean }));
        }
        if worth == 15 {
            break;
        }
    }
    best.map_or(Ends { start: 0.0, end: ramps, lead_in: None, lead_out: None, clean: true }, |(_, ends)| ends)
}
