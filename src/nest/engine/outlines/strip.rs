//! Pieces in a strip of fixed width that is made as short as the work allows.

use super::super::model::{Glance, Settings};
use super::super::rng::Rng;
use super::convex::{convex_parts, Corner};
use super::meeting::{Form, Meetings};
use super::separate::{Place, Separation};
use std::cmp::Reverse;

/// Pieces to be laid in a strip.
#[derive(Clone, Debug)]
pub struct Strip {
    /// Across, along y. The strip runs along x.
    pub width: i64,
    /// The different pieces.
    pub pieces: Vec<StripPiece>,
}

/// A kind of piece.
#[derive(Clone, Debug)]
pub struct StripPiece {
    /// Simple polygons that together make it up; they may overlap.
    pub outline: Vec<Vec<[i64; 2]>>,
    /// Quarters it may be turned by.
    pub quarters: Vec<u8>,
    /// How many.
    pub count: u32,
}

/// A layout in a strip.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LaidStrip {
    /// Used of the strip's length.
    pub length: i64,
    /// Every copy of every piece.
    pub pieces: Vec<LaidPiece>,
}

/// A piece where it lies: turned by quarters counter-clockwise, then moved so that its lower left corner is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct LaidPiece {
    /// Index into [`Strip::pieces`].
    pub piece: usize,
    /// How it is turned.
    pub quarters: u8,
    /// The lower left corner of its bounds.
    pub at: [i64; 2],
}

/// Farthest a corner may lie from the origin: products of coordinates stay exact.
const FARTHEST: i64 = 1 << 24;
/// How much shorter the strip is asked to be at first and at last.
const SHRINK: (f64, f64) = (0.015, 0.0005);

/// Lays all pieces in a strip; `None` when one is wider than it, or no simple polygon of less than 2^24 steps. The work's search
/// runs on one thread, so the threads asked for make no difference.
#[must_use]
pub fn in_strip(strip: &Strip, settings: &Settings<'_>) -> Option<LaidStrip> {
    let far = |c: &Corner| c.iter().any(|v| v.abs() > FARTHEST);
    if strip.pieces.iter().flat_map(|p| p.outline.iter().flatten()).any(far) || strip.width > FARTHEST {
        return None;
    }
    let mut forms = Vec::new();
    let mut kinds: Vec<(usize, Vec<usize>)> = Vec::new();
    for (k, piece) in strip.pieces.iter().enumerate() {
        let parts: Vec<Vec<Corner>> =
            piece.outline.iter().map(|ring| convex_parts(ring)).collect::<Option<Vec<_>>>()?.concat();
        let own: Vec<usize> = piece.quarters.iter().enumerate().map(|(n, _)| forms.len() + n).collect();
        forms.extend(piece.quarters.iter().map(|&q| Form::new(&parts, q)));
        kinds.extend((0..piece.count).map(|_| (k, own.clone())));
    }
    let room = |f: &usize| forms[*f].size[1] <= strip.width;
    if kinds.iter().any(|(_, own)| !own.iter().any(room)) {
        return None;
    }
    let area = |f: usize| forms[f].size[0] * forms[f].size[1];
    kinds.sort_by_key(|(k, own)| (Reverse(own.first().map(|&f| area(f))), *k));
    let choices: Vec<Vec<usize>> = kinds.iter().map(|(_, own)| own.clone()).collect();
    let longest: i64 = forms.iter().map(|f| f.size[0]).max().unwrap_or(0);
    let size = [longest * i64::try_from(choices.len() + 1).ok()?, strip.width];
    let meetings = Meetings::new(forms);
    let mut s = Separation::new(&meetings, &choices, size, Vec::new(), Rng::new(settings.seed, 0));
    for own in &choices {
        let end = |p: &Place| (p.at[0] + meetings.forms[p.form].size[0], p.at[1]);
        let place = own.iter().filter_map(|&f| s.leftmost(f)).min_by_key(end)?;
        s.places.push(place);
    }
    let start = std::mem::take(&mut s.places);
    let (work, rng) = (s.work, s.rng);
    let mut s = Separation::new(&meetings, &choices, size, start, rng);
    s.work = work;
    // No shorter than a piece.
    let shortest = |own: &Vec<usize>| {
        own.iter().filter(|&&f| meetings.forms[f].size[1] <= strip.width).map(|&f| meetings.forms[f].size[0]).min()
    };
    let least = choices.iter().filter_map(shortest).max().unwrap_or(0);
    shorten(&mut s, &meetings, least, settings);
    let mut pieces: Vec<LaidPiece> = s
        .places
        .iter()
        .zip(&kinds)
        .map(|(p, (piece, _))| LaidPiece { piece: *piece, quarters: meetings.forms[p.form].quarters, at: p.at })
        .collect();
    let length = reach(&s.places, &meetings);
    pieces.sort_unstable();
    Some(LaidStrip { length, pieces })
}

fn reach(places: &[Place], meetings: &Meetings) -> i64 {
    places.iter().map(|p| p.at[0] + meetings.forms[p.form].size[0]).max().unwrap_or(0)
}

/// Shorter and shorter as long as the pieces can be separated again; leaves the shortest.
fn shorten(s: &mut Separation<'_>, meetings: &Meetings, least: i64, settings: &Settings<'_>) {
    let mut best = (reach(&s.places, meetings), s.places.clone());
    let mut failed = 0u32;
    while s.work < settings.work {
        let done = s.work as f64 / settings.work as f64;
        if settings.ask.is_some_and(|ask| !ask(Glance { done, sheets: 1, optimal: false })) {
            break;
        }
        let shrink = SHRINK.0 * (SHRINK.1 / SHRINK.0).powf(done);
        let ask = best.0 - ((best.0 as f64 * shrink) as i64).max(1);
        if ask < least {
            break;
        }
        if failed > 0 {
            // Another start: from the best, some pieces swapped.
            if failed.is_multiple_of(4) || s.rng.chance(30) {
                s.places.clone_from(&best.1);
            }
            swap(s);
        }
        s.size[0] = ask;
        clamp(s, meetings);
        if s.run(settings.work) && reach(&s.places, meetings) <= ask {
            best = (reach(&s.places, meetings), s.places.clone());
            failed = 0;
        } else {
            failed += 1;
        }
    }
    s.places = best.1;
}

/// Swaps two pieces of different kinds.
fn swap(s: &mut Separation<'_>) {
    let n = s.places.len();
    // Pieces come largest first; a swap of large ones changes most.
    let large = (n / 2).max(2).min(n);
    let (a, b) = (s.rng.below(large), s.rng.below(n));
    let at = s.places[a].at;
    s.places[a].at = s.places[b].at;
    s.places[b].at = at;
}

/// Pushes what sticks out of the strip back into it; a form too long for it is turned.
fn clamp(s: &mut Separation<'_>, meetings: &Meetings) {
    for p in &mut s.places {
        for d in 0..2 {
            p.at[d] = p.at[d].clamp(0, (s.size[d] - meetings.forms[p.form].size[d]).max(0));
        }
    }
}
