//! How everything moves, and how it is brought in.

use super::assembly::picture::{hull, nearest, one_name};
use super::page::Chapter;
use super::solid::{Body, Look, Scene, View};
use super::Book;
use crate::fit::{self, LoadPlan, Way};
use crate::geom::{Box3, Point3};
use crate::parts::{Motion, PanelId};
use crate::units::{decimal, Mm};
use maud::{html, Markup};

/// Drawn thickness of the floor and of the load opening's frame, in mm.
const DRAWN: f64 = 12.0;
/// How far before the opening a unit stands in the picture of loading in, in mm.
const BEFORE: f64 = 350.0;

pub(super) fn chapter(book: &Book) -> Chapter {
    let ways = fit::ways(book.job.design, book.job.model);
    let loads = fit::load(book.job.design, book.job.model);
    let alike = alike(book, &ways);
    let body = html! {
        h3 { "What moves" }
        @if alike.is_empty() { p { "Nothing moves." } }
        @for list in &alike { (strip(book, list)) }
        h3 { "Loading in" }
        @if loads.is_empty() { p { "No load opening was measured, so no way in was looked for." } }
        @for (i, plan) in loads.iter().enumerate() { (way_in(book, &loads[..i], plan)) }
    };
    Chapter { anchor: "motion", title: "Motion and loading in", body }
}

/// Ways with the same figures, with their motions.
fn alike<'a>(book: &'a Book, ways: &'a [Way]) -> Vec<Vec<(&'a Way, &'a Motion)>> {
    let size = |m: &Motion| {
        hull(book, &m.panels).map(|b| [b.max.x - b.min.x, b.max.y - b.min.y, b.max.z - b.min.z].map(|x| x.round() as i64))
    };
    let key = |w: &Way, m: &Motion| {
        (decimal(w.travel.0, 1), decimal(w.air.0, 1), decimal(w.at.0, 0), w.side, size(m), w.needs.len())
    };
    let mut list: Vec<(_, Vec<(&Way, &Motion)>)> = Vec::new();
    for way in ways {
        let Some(motion) = book.job.model.motions.iter().find(|m| m.name == way.name) else { continue };
        let key = key(way, motion);
        match list.iter_mut().find(|(k, _)| *k == key) {
            Some((_, all)) => all.push((way, motion)),
            None => list.push((key, vec![(way, motion)])),
        }
    }
    list.into_iter().map(|(_, all)| all).collect()
}

/// Closed, half, open.
fn strip(book: &Book, list: &[(&Way, &Motion)]) -> Markup {
    let (way, motion) = list[0];
    let l = book.lengths;
    let names: Vec<&str> = list.iter().map(|(w, _)| w.name.as_str()).collect();
    let tight = match &way.nearest {
        Some(what) if way.air.0.is_finite() => {
            format!("tightest: {} to {what}, {}, after {} of travel", l.said(way.air), way.side, l.said(way.at))
        }
        _ => "nothing is near on its way".to_owned(),
    };
    html! {
        article.card {
            h4 { (names.join(", ")) }
            p { "Travels " (l.said(way.travel)) "; " strong { (tight) } "." }
            @for need in &way.needs { p { "Mind: " (need) "." } }
            div.strip {
                @for (word, share) in [("closed", 0.0), ("half", 0.5), ("open", 1.0)] {
                    figure {
                        (position(book, way, motion, word, share))
                        figcaption { (word) ", " (l.said(way.travel * share)) }
                    }
                }
            }
        }
    }
}

fn position(book: &Book, way: &Way, motion: &Motion, word: &str, share: f64) -> Markup {
    let panels = &book.job.model.panels;
    let rest: Vec<PanelId> =
        (0..panels.len()).map(PanelId).filter(|id| !motion.panels.contains(id) && panels[id.0].frame.is_some()).collect();
    let rest = hull(book, &motion.panels).map(|h| nearest(book, &rest, &h)).unwrap_or_default();
    let mut by = [0.0; 3];
    by[motion.axis.index()] = motion.axis.sign() * way.travel.0 * share;
    let mut bodies = book.unit.nameless(book.job, &rest, Look::Plain, [0.0; 3]);
    bodies.extend(book.unit.nameless(book.job, &motion.panels, Look::New, by));
    // Every position to the same scale: what it takes when open sets the frame.
    let open = motion.axis.unit();
    let ways: Vec<[Point3; 2]> = hull(book, &motion.panels)
        .map(|h| {
            let at = Point3::new(h.min.x, h.min.y, h.min.z);
            let far = at.plus(open, way.travel.0);
            vec![[far, far]]
        })
        .unwrap_or_default();
    let shows = format!("{}, {word}", way.name);
    Scene { bodies, ways, view: View::USUAL }.draw(58.0, 62.0, &shows)
}

/// One unit on its way in.
fn way_in(book: &Book, before: &[LoadPlan], plan: &LoadPlan) -> Markup {
    let l = book.lengths;
    let [x, y, z] = plan.size.map(|s| l.bare(s));
    let mass = book.around.load.and_then(|load| load.bodies.iter().find(|b| b.name == plan.unit));
    html! {
        article.card {
            h4 { (before.len() + 1) ". " (plan.unit) }
            p { "Without drawers, " (x) " wide, " (y) " deep, " (z) " high"
                @if let Some(body) = mass { ", " (decimal(body.empty_kg(), 1)) " kg" }
                ". "
                @if plan.passes { "It comes in whole:" } @else { strong { "It does not come in whole: put it together inside." } }
            }
            @if plan.passes { ol.do { @for step in &plan.moves { li { span.tick {} (step) } } } }
            @if let Some(picture) = scene(book, before, plan) { figure { (picture) figcaption { (plan.unit) " before the load opening; the vehicle is dashed." } } }
        }
    }
}

fn scene(book: &Book, before: &[LoadPlan], plan: &LoadPlan) -> Option<Markup> {
    let bay = book.job.design.bay.as_ref()?;
    let opening = bay.opening.as_ref()?;
    let here = hull(book, &plan.panels)?;
    let mut out = [0.0; 3];
    out[1] = -(here.max.y + BEFORE);
    let mut bodies = vehicle(bay, opening);
    let stands: Vec<PanelId> = before.iter().flat_map(|p| p.panels.clone()).collect();
    bodies.extend(book.unit.nameless(book.job, &nearest(book, &stands, &here), Look::Plain, [0.0; 3]));
    let mut new = book.unit.nameless(book.job, &nearest(book, &plan.panels, &here), Look::New, out);
    one_name(&mut new, &plan.unit);
    bodies.extend(new);
    let middle = Point3::new(f64::midpoint(here.min.x, here.max.x), here.max.y, here.max.z);
    let ways = vec![[middle.plus(Point3::new(0.0, out[1], 0.0), 1.0), middle]];
    let shows = format!("{} on its way in through the load opening, {}", plan.unit, View::USUAL.words());
    Some(Scene { bodies, ways, view: View::USUAL }.draw(130.0, 95.0, &shows))
}

/// Floor, what must stay free, and the frame of the opening.
fn vehicle(bay: &crate::design::Bay, opening: &crate::design::Opening) -> Vec<Body> {
    let at = |d: &Option<crate::dim::Dim>| d.as_ref().map_or(Mm(1000.0), crate::dim::Dim::nominal).0;
    let (width, depth) = (at(&bay.width), at(&bay.depth));
    let solid = |a: [f64; 3], b: [f64; 3]| Box3::between(Point3::new(a[0], a[1], a[2]), Point3::new(b[0], b[1], b[2]));
    let body = |label: &str, solid: Box3| Body { label: label.to_owned(), solids: vec![solid], look: Look::Around };
    let (left, sill) = (opening.left.nominal().0, opening.sill.nominal().0);
    let (right, top) = (left + opening.width.nominal().0, sill + opening.height.nominal().0);
    let mut list = vec![
        body("", solid([0.0, 0.0, -DRAWN], [width, depth, 0.0])),
        body("", solid([left - DRAWN, -DRAWN, -DRAWN], [left, 0.0, top + DRAWN])),
        body("", solid([right, -DRAWN, -DRAWN], [right + DRAWN, 0.0, top + DRAWN])),
        body("", solid([left, -DRAWN, top], [right, 0.0, top + DRAWN])),
    ];
    for keep in &bay.keep_outs {
        let from = [0, 1, 2].map(|i| keep.from[i].nominal().0);
        let to = [0, 1, 2].map(|i| from[i] + keep.size[i].nominal().0);
        list.push(body(&keep.name, solid(from, to)));
    }
    list
}
