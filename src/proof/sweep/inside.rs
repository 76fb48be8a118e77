//! Parts that lie in openings of others: which do, and that each is out of reach of its opening's cut, in order and in hold.
//!
//! Found from the contours alone; what the job says of it is compared.

use super::area;
use super::edges::Edges;
use super::order::SHARE;
use super::outline::BESIDE;
use super::probe::Opening;
use super::strokes::{through, Run, Stroke};
use crate::diag::Finding;
use crate::proof::fault::quoted;
use crate::proof::job::{Contour, Operation, Sheet};
use crate::proof::limits;
use crate::proof::pack::{file_name, sheet_name, Pack};
use crate::proof::shape::{Bounds, Ring};
use crate::proof::verdict::Rule;
use clipper2_rust::Paths64;

/// How far beside an edge its wood is looked for, in mm.
const RIM: f64 = 1.0;

/// A part in an opening of another.
#[derive(Debug)]
pub(super) struct Pair<'a> {
    /// Index of its placement.
    inner: usize,
    /// Index of the other's placement.
    host: usize,
    feature: &'a str,
    /// Its outline and the opening's edge, sheet frame.
    outline: Ring,
    edge: Ring,
}

/// Every part of a sheet with every opening it lies in; `None` where there are more of both than are looked through.
pub(super) fn pairs<'a>(pack: &'a Pack<'_>, sheet: &Sheet) -> Option<Vec<Pair<'a>>> {
    let of = |operation: Operation| {
        move |(k, contours): (usize, &'a [Contour])| {
            contours.iter().filter(move |c| c.operation == operation).map(move |c| (k, c)).collect::<Vec<_>>()
        }
    };
    let parts: Vec<(usize, &'a [Contour])> =
        sheet.placements.iter().enumerate().filter_map(|(k, p)| Some((k, &pack.part(&p.part)?.contours[..]))).collect();
    let laid = |(k, c): (usize, &'a Contour)| {
        let ring = c.ring.mapped(false, |p| sheet.placements[k].place(p));
        (k, c, ring.bounds(), ring)
    };
    let outlines: Vec<_> = parts.iter().copied().flat_map(of(Operation::ThroughOutside)).map(laid).collect();
    let widest = |b: Bounds| (b.max.x - b.min.x).max(b.max.y - b.min.y);
    let least = outlines.iter().map(|o| widest(o.2)).fold(f64::INFINITY, f64::min);
    // An opening holds no part that is longer than itself.
    let wide = |o: &(usize, &'a Contour, Bounds, Ring)| widest(o.2) >= least;
    let openings: Vec<_> = parts.iter().copied().flat_map(of(Operation::ThroughInside)).map(laid).filter(wide).collect();
    if openings.len().saturating_mul(outlines.len()) > limits::LOOKS {
        return None;
    }
    let mut pairs = Vec::new();
    for (host, opening, around, edge) in &openings {
        let mut hole = None;
        for (inner, _, bounds, outline) in &outlines {
            if inner == host || !(around.holds(bounds.min) && around.holds(bounds.max)) {
                continue;
            }
            let hole = hole.get_or_insert_with(|| area::of(edge));
            if outline.0.first().is_some_and(|corner| area::holds(hole, corner.at)) {
                let (outline, edge) = (outline.clone(), edge.clone());
                pairs.push(Pair { inner: *inner, host: *host, feature: &opening.feature, outline, edge });
            }
        }
    }
    Some(pairs)
}

/// What the job says of parts in openings is what their contours say.
pub(in crate::proof) fn said(rule: &mut Rule, pack: &Pack<'_>) {
    for sheet in &pack.job.sheets {
        let name = sheet_name(sheet);
        let Some(pairs) = pairs(pack, sheet) else {
            rule.fault(|code| Finding::stop(code, format!("{name} has more openings and parts than are looked through")));
            continue;
        };
        for (k, p) in sheet.placements.iter().enumerate() {
            let smaller = |a: &&Pair<'_>, b: &&Pair<'_>| a.edge.area().abs().total_cmp(&b.edge.area().abs());
            let found = pairs.iter().filter(|pair| pair.inner == k).min_by(smaller);
            let is = found.map(|pair| {
                let host = &sheet.placements[pair.host];
                (host.part.as_str(), host.copy, pair.feature)
            });
            let said = p.inside.as_ref().map(|said| (said.part.as_str(), said.copy, said.feature.as_str()));
            if is == said {
                continue;
            }
            let words = |at: Option<(&str, usize, &str)>| match at {
                Some((part, copy, feature)) => format!("in {} of {} copy {copy}", quoted(feature), quoted(part)),
                None => "in no opening".to_owned(),
            };
            rule.fault(|code| {
                let what = format!("Part {} copy {} on {name} lies", quoted(&p.part), p.copy);
                Finding::stop(code, format!("{what} {}; the job says {}", words(is), words(said))).part(&p.part)
            });
        }
    }
}

/// Nothing of a part is cut once the opening it lies in is, and it hangs on the part around it to the end.
pub(super) fn check(order: &mut Rule, hold: &mut Rule, pack: &Pack<'_>, sheet: &Sheet, runs: &[Run<'_>], all: &[Stroke]) {
    for pair in pairs(pack, sheet).into_iter().flatten() {
        let (inner, host) = (&sheet.placements[pair.inner], &sheet.placements[pair.host]);
        let what = format!("{}, part {} copy {}", sheet_name(sheet), quoted(&inner.part).trim_matches('"'), inner.copy);
        let around = format!("{} of {} copy {}", quoted(pair.feature), quoted(&host.part), host.copy);
        if let Some(late) = cut_when_loose(&pair, runs, all) {
            let place = format!("{} line {}", file_name(&runs[late.program].program.file), late.line);
            order.fault(|code| {
                Finding::stop(code, format!("{what}: cut by {place} after {around}, in which it lies, was cut through"))
                    .part(&inner.part)
            });
        }
        if !hangs(&pair, runs, all) {
            hold.fault(|code| {
                Finding::stop(code, format!("{what}: nothing joins it to the edge of {around} in the end"))
                    .limit("tabs to a ring of waste, and tabs from there to the part around it")
                    .part(&inner.part)
            });
        }
    }
}

/// The first stroke that cuts the inner part, or along its outline, when most of the opening's edge is through.
fn cut_when_loose<'s>(pair: &Pair<'_>, runs: &[Run<'_>], all: &'s [Stroke]) -> Option<&'s Stroke> {
    let (edge, outline) = (Edges::of(&area::of(&pair.edge)), Edges::of(&area::of(&pair.outline)));
    let around: f64 = area::edges(&area::of(&pair.edge)).map(|(a, b)| a.distance(b)).sum();
    let (reach, own) = (pair.edge.bounds(), pair.outline.bounds());
    let mut through = 0.0;
    for stroke in all.iter().filter(|s| reach.meets(s.bounds())) {
        let middle = stroke.at(0.5);
        let beside = |edges: &Edges| edges.distance(stroke.a, stroke.b, stroke.radius + BESIDE).is_some();
        let near = own.grown(stroke.radius + BESIDE).meets(stroke.bounds());
        let cuts = near && stroke.low() < runs[stroke.program].program.thickness_mm - limits::CUT;
        if cuts && through > SHARE * around && (outline.holds(middle) || beside(&outline)) {
            return Some(stroke);
        }
        if stroke.low() <= limits::SKIN_MAX && edge.holds(middle) && beside(&edge) {
            through += stroke.a.distance(stroke.b);
        }
    }
    None
}

/// Whether wood joins the inner part to what lies round the opening when all is cut.
fn hangs(pair: &Pair<'_>, runs: &[Run<'_>], all: &[Stroke]) -> bool {
    let hole = area::of(&pair.edge);
    let wide = area::grown(&hole, RIM);
    let reach = area::bounds(&wide);
    let near = all.iter().filter(|s| s.bounds().grown(s.radius).meets(reach));
    let opened = Opening::of(near.map(|s| (s, through(&runs[s.program])))).area(&[reach]);
    // Just outside the opening, and just inside the part.
    let part = area::of(&pair.outline);
    let (outer, own) = (area::minus(&wide, &hole), area::minus(&part, &area::squared(&part, -RIM)));
    let joins = |piece: &Paths64| {
        let shared = |rim: &Paths64| area::size(&area::both(piece, rim));
        shared(&outer) > limits::SPECK_MM2 && shared(&own) > area::size(&own) / 2.0
    };
    area::pieces(&area::minus(&wide, &opened)).iter().any(joins)
}
