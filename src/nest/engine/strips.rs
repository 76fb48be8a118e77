//! Layouts for a saw in level strips: few widths to rip, each strip then cut across. Only as good as they are simple, so they
//! count where they need no dearer sheets than the packing that was searched for.

use super::model::{CutRule, PackedSheet, Packing, Problem};
use super::pieces::Grown;
use super::solve::finished_from;
use super::surface::Placed;
use std::cmp::Reverse;

/// Pieces side by side, none higher than the first.
struct Strip {
    height: i32,
    width: i32,
    /// Piece, width, height, quarters.
    pieces: Vec<(u32, i32, i32, u8)>,
}

/// Layouts in strips of all pieces that cost no more than a packing: pieces that may turn lie along the strip, or stand in it,
/// or lie as most pieces' heights suggest.
#[must_use]
pub fn in_strips(problem: &Problem, packing: &Packing) -> Vec<Packing> {
    let g = Grown::new(problem);
    if g.cut == CutRule::Free || !packing.unplaced.is_empty() {
        return Vec::new();
    }
    let laid = |stand| {
        let sheets = lay(&g, stand)?;
        let cost = sheets.iter().map(|s| g.blanks[s.kind].cost).sum();
        (cost <= packing.cost).then(|| Packing { sheets, cost, ..packing.clone() })
    };
    [Stand::Lying, Stand::Standing, Stand::Popular].into_iter().filter_map(laid).collect()
}

/// How pieces that may turn lie in a strip.
#[derive(Clone, Copy, PartialEq)]
enum Stand {
    Lying,
    Standing,
    Popular,
}

/// On the first kind of sheet that is cheap enough for all, sheet after sheet; `None` when the stock does not suffice.
fn lay(g: &Grown, stand: Stand) -> Option<Vec<PackedSheet>> {
    let popular = |h: i32| -> u32 { g.pieces.iter().filter(|p| p.ways.iter().any(|w| w.1 == h)).map(|p| p.count).sum() };
    let mut list: Vec<(u32, i32, i32, u8)> = Vec::new();
    for (id, p) in g.pieces.iter().enumerate() {
        let best = p.ways.iter().copied().min_by_key(|&(w, h, q)| match stand {
            Stand::Lying => (0, h, w, q),
            Stand::Standing => (0, w, h, q),
            Stand::Popular => (-i64::from(popular(h)), h, w, q),
        });
        let (w, h, q) = if p.count > 0 { best? } else { continue };
        list.extend(std::iter::repeat_n((id as u32, w, h, q), p.count as usize));
    }
    // The kinds in the stock's order of cost; each sheet opened is of the cheapest kind left.
    let mut kinds: Vec<usize> =
        (0..g.blanks.len()).flat_map(|k| std::iter::repeat_n(k, (g.blanks[k].count as usize).min(list.len()))).collect();
    kinds.sort_by_key(|&k| (g.blanks[k].cost, k));
    list.sort_by_key(|&(id, w, h, q)| (Reverse(h), Reverse(w), id, q));
    let mut sheets: Vec<(usize, Vec<Placed>)> = Vec::new();
    for kind in kinds {
        if list.is_empty() {
            break;
        }
        let placed = one_sheet(g, kind, &mut list);
        if !placed.is_empty() {
            sheets.push((kind, placed));
        }
    }
    list.is_empty().then(|| finished_from(g, sheets.iter().map(|(kind, placed)| (*kind, placed.as_slice()))))
}

/// Fills a sheet with strips, the highest first, and takes what lies on it off the list.
fn one_sheet(g: &Grown, kind: usize, list: &mut Vec<(u32, i32, i32, u8)>) -> Vec<Placed> {
    let (w, h) = (g.blanks[kind].w, g.blanks[kind].h);
    let mut strips: Vec<Strip> = Vec::new();
    let mut room = h;
    list.retain(|&piece| {
        // Where it fits with the least height to spare, then the least width.
        let open = strips.iter_mut().filter(|s| s.height >= piece.2 && s.width + piece.1 <= w);
        if let Some(strip) = open.min_by_key(|s| (s.height - piece.2, w - s.width - piece.1)) {
            strip.width += piece.1;
            strip.pieces.push(piece);
            return false;
        }
        if piece.1 <= w && piece.2 <= room {
            room -= piece.2;
            strips.push(Strip { height: piece.2, width: piece.1, pieces: vec![piece] });
            return false;
        }
        true
    });
    let mut placed = Vec::new();
    let mut y = 0;
    for strip in strips {
        let mut x = 0;
        for (id, w, h, quarters) in strip.pieces {
            placed.push(Placed { piece: id, x, y, w, h, quarters });
            x += w;
        }
        y += strip.height;
    }
    placed
}
