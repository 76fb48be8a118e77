//! Cuts along an edge: outlines and openings, in passes, with ramps, leads, tabs.

use super::hold::{Asked, Placed, Tabs};
use super::moves::{Feeds, Moves};
use super::path::{Path, Seg};
use super::room::Room;
use crate::geom::{tolerance, Point};

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
    /// Where it leaves.
    pub(super) exit: Exit,
    /// Enters or leaves on an edge that should stay clean.
    pub(super) marks: bool,
}

/// Where a cut leaves its way, and its lead-out, if it has one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Exit {
    pub(super) at: Point,
    pub(super) lead: Option<Seg>,
}

/// How a cut is to leave.
#[derive(Clone, Copy, Debug)]
pub(super) enum Leaving {
    /// Where there is room.
    Free,
    /// Where there is room, without a lead-out.
    Plain,
    /// Beside where another pass of the same edge leaves, along its lead-out, so that it finds that one open.
    Beside(Exit),
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
/// ends where a lead-out fits; every pass before it opens the lead-out down to its own depth, so that none of it is cut deeper at
/// once than the edge. Tabs are left in every pass that runs below their tops.
pub(super) fn cut(path: &Path, heights: &[f64], setting: &Setting, room: &Room, tabs: &Asked, leaving: Leaving) -> EdgeCut {
    let around = path.length();
    let touch = setting.top + ABOVE_WOOD;
    let slope = setting.ramp_angle.tan().max(tolerance::PATH_STEP);
    let floor = heights.last().copied().unwrap_or(touch);
    let given = tabs.given(path, room, setting);
    let ramps = (touch - floor) / slope;
    let ends = match leaving {
        Leaving::Beside(exit) => ends_beside(path, room, ramps, exit),
        Leaving::Free | Leaving::Plain => {
            let ends = choose_ends(path, room, ramps, given.as_ref().map(|tabs| (tabs, floor)));
            Ends { lead_out: ends.lead_out.filter(|_| matches!(leaving, Leaving::Free)), ..ends }
        }
    };
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
        let mut pass = vec![(place, above), (foot, *z), (foot + around, *z)];
        if let Some(placed) = &tabs {
            pass = placed.tabs.raise(&pass, around);
        }
        let last = *z == floor;
        if let Some(lead) = ends.lead_out.filter(|_| !last) {
            let [before, after] = parted(&pass, foot + (ends.end - foot).rem_euclid(around));
            moves.follow(path, &before);
            moves.along(&lead, setting.feeds.cut);
            moves.along(&lead.reversed(), setting.feeds.cut);
            moves.follow(path, &after);
        } else {
            moves.follow(path, &pass);
        }
        place = foot + around;
        above = *z;
    }
    if let Some(lead) = ends.lead_out {
        moves.along(&lead, setting.feeds.cut);
    }
    moves.up();
    let exit = Exit { at: path.at(ends.end), lead: ends.lead_out };
    let leads = ends.lead_in.into_iter().chain(ends.lead_out).collect();
    EdgeCut { moves, tabs, leads, exit, marks: !ends.clean }
}

/// A pass before and after a place of it, where it comes to it last.
fn parted(pass: &[(f64, f64)], at: f64) -> [Vec<(f64, f64)>; 2] {
    let Some(k) = pass.windows(2).rposition(|pair| pair[0].0 <= at && at <= pair[1].0) else {
        return [pass.to_vec(), Vec::new()];
    };
    let ((s0, z0), (s1, z1)) = (pass[k], pass[k + 1]);
    let z = if s1 - s0 < tolerance::NO_MOVE { z1 } else { z0 + (z1 - z0) * (at - s0) / (s1 - s0) };
    let (mut before, mut after) = (pass[..=k].to_vec(), vec![(at, z)]);
    before.push((at, z));
    after.extend(&pass[k + 1..]);
    [before, after]
}

/// Ends beside those of another pass of the same edge.
fn ends_beside(path: &Path, room: &Room, ramps: f64, exit: Exit) -> Ends {
    let end = path.closest(exit.at);
    let start = end - ramps;
    let by = path.at(end) - exit.at;
    let lead_out =
        exit.lead.map(|lead| Seg { from: lead.from + by, to: lead.to + by, ..lead }).filter(|lead| room.free(lead));
    Ends { start, end, lead_in: room.lead_in(path, start), lead_out, clean: room.markable(end) && room.markable(start) }
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
