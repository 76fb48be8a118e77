//! The outline: the panel's rectangle or free outline without its notches.

use super::context::{bounds, mm, Context, WHICH};
use super::{codes, cuts, free};
use crate::diag::Finding;
use crate::geom::{tolerance, Contour, GeomError, Rect, Relief};
use crate::parts::{Depth, Feature, FeatureKind, Purpose};

/// A notch as cut, in the panel frame.
#[derive(Clone, Debug)]
pub(super) struct Notch {
    /// Index into the panel's features.
    pub(super) feature: usize,
    /// The notch with its relieved corners, run out over the panel's edge.
    pub(super) contour: Contour,
    /// Which sides of the panel it opens: bottom, right, top, left.
    pub(super) open: [bool; 4],
    /// Whether a mate seats in it or a corner of it is relieved: its stretch of the outline stays clean.
    pub(super) clean: bool,
}

/// An outline and the notches it was cut with.
#[derive(Clone, Debug)]
pub(super) struct Outline {
    pub(super) contour: Contour,
    pub(super) notches: Vec<Notch>,
}

/// Builds the outline; `None` when it cannot be made, which is then a finding.
pub(super) fn of_panel(cx: &mut Context) -> Option<Outline> {
    let base = base(cx)?;
    let notches = notches(cx);
    let mut whole = base;
    for group in united(cx, &notches) {
        let name = &cx.panel.features[group.feature];
        match whole.minus(&group.contour) {
            Ok(mut regions) => {
                regions.retain(|r| r.outer.area() > tolerance::LEFTOVER_AREA);
                let pieces = regions.len();
                match regions.pop() {
                    Some(region) if pieces == 1 && region.inner.is_empty() => whole = region.outer,
                    other => {
                        let holes = other.map_or(0, |r| r.inner.len());
                        let text = format!("the panel falls into {pieces} pieces with {holes} holes at {WHICH}");
                        let remedy = "make the notch smaller, or split the panel";
                        cx.stop(name, codes::OUTLINE_IN_PIECES, text, remedy);
                        return None;
                    }
                }
            }
            Err(error) => return bad(cx, &error),
        }
    }
    if let Err(error) = whole.check_simple() {
        return bad(cx, &error);
    }
    Some(Outline { contour: whole.ccw(), notches })
}

fn bad(cx: &mut Context, error: &GeomError) -> Option<Outline> {
    cx.findings.push(
        Finding::stop(codes::OUTLINE_BAD, format!("the outline cannot be made: {error}"))
            .part(&cx.panel.id)
            .at(cx.panel.span)
            .remedy("correct the panel's size or outline"),
    );
    None
}

fn base(cx: &mut Context) -> Option<Contour> {
    let Some(outline) = &cx.panel.outline else {
        return match Contour::rect(bounds(cx.panel)) {
            Ok(rect) if cx.panel.length.nominal().0 > 0.0 && cx.panel.width.nominal().0 > 0.0 => Some(rect),
            Ok(_) => bad(cx, &GeomError::Degenerate).map(|o| o.contour),
            Err(error) => bad(cx, &error).map(|o| o.contour),
        };
    };
    if let Err(error) = outline.check_simple() {
        return bad(cx, &error).map(|o| o.contour);
    }
    if !cx.tools.laser {
        free::outline_reached(cx, outline);
    }
    Some(outline.clone().ccw())
}

/// Whether a feature is part of the outline.
pub(super) fn is_notch(feature: &Feature) -> bool {
    let drawn = matches!(feature.purpose, Purpose::Mark | Purpose::Fold);
    !drawn && matches!((&feature.kind, &feature.depth), (FeatureKind::EdgeNotch { .. }, Depth::Through))
}

/// All notches through the panel, each with its corners made.
fn notches(cx: &mut Context) -> Vec<Notch> {
    let panel = cx.panel;
    let b = bounds(panel);
    let found: Vec<(usize, &Feature, Rect)> = panel
        .features
        .iter()
        .enumerate()
        .filter(|(_, f)| is_notch(f))
        .filter_map(|(i, f)| Some((i, f, cuts::opening(panel, f)?.rect)))
        .collect();
    let cutters = [cx.tools.outline];
    let mut notches = Vec::with_capacity(found.len());
    for (i, feature, rect) in &found {
        let Some(mut opening) = cuts::opening(panel, feature) else { continue };
        let inside = rect.intersect(b);
        if !opening.open.contains(&true) || inside.width() <= 0.0 || inside.height() <= 0.0 {
            let text = format!("{WHICH} at {}, {} does not reach an edge of the panel", mm(rect.x0), mm(rect.y0));
            cx.stop(feature, codes::NOTCH_OFF_EDGE, text, "move it to an edge, or make it an opening");
            continue;
        }
        // A corner that lies on another notch has no wood around it, so nothing to relieve.
        let corners = [(rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)];
        for (real, (x, y)) in opening.real.iter_mut().zip(corners) {
            let reach = tolerance::EDGE_REACH;
            let taken = |r: &Rect| x >= r.x0 - reach && x <= r.x1 + reach && y >= r.y0 - reach && y <= r.y1 + reach;
            let wood = panel.outline.as_ref().is_none_or(|o| o.contains(crate::geom::Point::new(x, y)));
            *real = *real && wood && !found.iter().any(|(j, _, other)| j != i && taken(other));
        }
        let made = opening.made(cx.tools, &cutters);
        if let Some(made) = cx.made(feature, made, &cutters) {
            cuts::corner_notes(cx, feature, &opening, made.cutter);
            let relieved = |r: &Relief| matches!(r, Relief::Diagonal(_) | Relief::AlongX(_) | Relief::AlongY(_));
            let clean = feature.purpose == Purpose::Joint || feature.mate.is_some() || made.corners.iter().any(relieved);
            notches.push(Notch { feature: *i, contour: made.contour, open: opening.open, clean });
        }
    }
    notches
}

/// Notches that touch or overlap, united; the others as they are.
fn united(cx: &mut Context, notches: &[Notch]) -> Vec<Notch> {
    let mut groups: Vec<Notch> = Vec::with_capacity(notches.len());
    for notch in notches {
        let mut grown = notch.clone();
        let mut i = 0;
        while i < groups.len() {
            let joined = if near(&groups[i], &grown) { groups[i].contour.union(&grown.contour).ok() } else { None };
            match joined.as_deref() {
                Some([one]) if one.inner.is_empty() => {
                    grown.contour = one.outer.clone();
                    groups.remove(i);
                    // What grew may now touch one that was passed.
                    i = 0;
                }
                Some([one]) => {
                    let feature = &cx.panel.features[notch.feature];
                    let text = format!("{WHICH} and its neighbours enclose {} pieces", one.inner.len());
                    cx.stop(feature, codes::OUTLINE_IN_PIECES, text, "move the notches apart, or make them one");
                    i += 1;
                }
                _ => i += 1,
            }
        }
        groups.push(grown);
    }
    groups
}

fn near(a: &Notch, b: &Notch) -> bool {
    let (a, b) = (a.contour.bounds(), b.contour.bounds());
    let gap = tolerance::SAME_POINT;
    a.x0 <= b.x1 + gap && b.x0 <= a.x1 + gap && a.y0 <= b.y1 + gap && b.y0 <= a.y1 + gap
}
