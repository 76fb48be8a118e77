//! Each part's and each sheet's drawing shows exactly the contours of the design, on their layers, in the order of cutting.

use super::codes;
use super::drawing::Drawing;
use super::fault::quoted;
use super::job::{Contour, Operation};
use super::limits;
use super::pack::{file_name, sheet_name, Pack};
use super::rings;
use super::shape::{Bounds, Ring};
use super::verdict::Rule;
use crate::diag::Finding;
use std::collections::{BTreeMap, BTreeSet};

/// A contour that a drawing should show.
struct Wanted<'a> {
    contour: &'a Contour,
    ring: Ring,
    /// Which part, and which of its copies on the sheet.
    part: &'a str,
    group: usize,
}

/// The rules on drawings.
struct Rules {
    part: Rule,
    sheet: Rule,
    extents: Rule,
}

pub(super) fn check(pack: &Pack<'_>) -> [Rule; 3] {
    let mut rules = Rules {
        part: Rule::measuring(codes::CONTOURS, "contours in parts' drawings", limits::SAME_VERTEX, "mm"),
        sheet: Rule::measuring(codes::SHEET, "contours in sheets' drawings", limits::SAME_VERTEX, "mm"),
        extents: Rule::measuring(codes::EXTENTS, "drawings", limits::SAME_VERTEX, "mm"),
    };
    for part in &pack.job.parts {
        let wanted: Vec<Wanted<'_>> =
            part.contours.iter().map(|c| Wanted { contour: c, ring: c.ring.clone(), part: &part.id, group: 0 }).collect();
        // A page shows the outline's own rectangle; grooves may run out of it.
        let page = bounds(wanted.iter().filter(|w| w.contour.operation == Operation::ThroughOutside));
        for (name, drawing) in drawings(pack, &part.files) {
            compare(&mut rules.part, name, drawing, &wanted);
            extents(&mut rules.extents, name, drawing, bounds(&wanted), page);
        }
    }
    for sheet in &pack.job.sheets {
        let mut wanted = Vec::new();
        for (group, placement) in sheet.placements.iter().enumerate() {
            let Some(part) = pack.part(&placement.part) else { continue };
            wanted.extend(part.contours.iter().map(|c| {
                let ring = c.ring.mapped(false, |p| placement.place(p));
                Wanted { contour: c, ring, part: &part.id, group }
            }));
        }
        let corner = super::shape::Pt::new;
        let page = Bounds { min: corner(0.0, 0.0), max: corner(sheet.length_mm, sheet.width_mm) };
        let mut all = bounds(&wanted);
        all.join(page);
        for (name, drawing) in drawings(pack, &sheet.files) {
            compare(&mut rules.sheet, &format!("{name} ({})", sheet_name(sheet)), drawing, &wanted);
            extents(&mut rules.extents, name, drawing, all, page);
        }
    }
    [rules.part, rules.sheet, rules.extents]
}

fn drawings<'a>(pack: &'a Pack<'_>, files: &'a [String]) -> impl Iterator<Item = (&'a str, &'a Drawing)> {
    files.iter().filter_map(|name| pack.drawings.get(name.as_str()).map(|d| (name.as_str(), d)))
}

fn bounds<'w>(wanted: impl IntoIterator<Item = &'w Wanted<'w>>) -> Bounds {
    let mut bounds = Bounds::empty();
    wanted.into_iter().for_each(|w| bounds.join(w.ring.bounds()));
    bounds
}

/// Layer by layer: nothing missing, nothing more, nothing elsewhere.
fn compare(rule: &mut Rule, name: &str, drawing: &Drawing, wanted: &[Wanted<'_>]) {
    let mut by_layer: BTreeMap<&str, (Vec<usize>, Vec<usize>)> = BTreeMap::new();
    for (i, w) in wanted.iter().enumerate() {
        by_layer.entry(&w.contour.layer).or_default().0.push(i);
    }
    for (i, drawn) in drawing.contours.iter().enumerate() {
        by_layer.entry(&drawn.layer).or_default().1.push(i);
    }
    let mut shown: Vec<Option<usize>> = vec![None; drawing.contours.len()];
    for (layer, (expected, found)) in &by_layer {
        let expected_rings: Vec<&Ring> = expected.iter().map(|i| &wanted[*i].ring).collect();
        let found_rings: Vec<&Ring> = found.iter().map(|i| &drawing.contours[*i].ring).collect();
        let pairing = rings::pair(&expected_rings, &found_rings, limits::SAME_VERTEX);
        rule.count(found.len());
        for index in &pairing.missing {
            let w = &wanted[expected[*index]];
            rule.fault(|code| {
                let (feature, part) = (quoted(&w.contour.feature), quoted(w.part));
                let at = w.ring.bounds();
                let place = format!("near ({:.2}, {:.2})", at.min.x, at.min.y);
                Finding::stop(
                    code,
                    format!("{name}: feature {feature} of part {part} is not shown on layer {} {place}", quoted(layer)),
                )
                .limit(format!("{} mm, this project's own", limits::SAME_VERTEX))
                .part(w.part)
            });
        }
        for (k, pair) in pairing.pairs.iter().enumerate() {
            let drawn = &drawing.contours[found[k]];
            match pair {
                Some(index) => shown[found[k]] = Some(expected[*index]),
                None => rule.fault(|code| {
                    let at = drawn.ring.bounds();
                    let place = format!("({:.2}, {:.2})", at.min.x, at.min.y);
                    Finding::stop(
                        code,
                        format!(
                            "{name} line {}: a contour at {place} on layer {} is not in the design",
                            drawn.line,
                            quoted(layer)
                        ),
                    )
                }),
            }
        }
        if let Some((worst, index)) = pairing.worst {
            let w = &wanted[expected[index]];
            rule.figure(worst, || format!("{name}, part {}, feature {}", quoted(w.part), quoted(&w.contour.feature)));
        }
    }
    order(rule, name, drawing, wanted, &shown);
}

/// In the order of the file, an outline comes after everything else of its part.
fn order(rule: &mut Rule, name: &str, drawing: &Drawing, wanted: &[Wanted<'_>], shown: &[Option<usize>]) {
    let mut outlined: BTreeSet<usize> = BTreeSet::new();
    for (i, index) in shown.iter().enumerate() {
        let Some(w) = index.map(|index| &wanted[index]) else { continue };
        if outlined.contains(&w.group) {
            rule.fault(|code| {
                let line = drawing.contours[i].line;
                let (feature, part) = (quoted(&w.contour.feature), quoted(w.part));
                Finding::stop(code, format!("{name} line {line}: feature {feature} of part {part} comes after its outline"))
                    .part(w.part)
            });
        }
        if w.contour.operation == Operation::ThroughOutside {
            outlined.insert(w.group);
        }
    }
}

/// The header's extents are what is drawn; an SVG's page is the part's or the sheet's own size.
fn extents(rule: &mut Rule, name: &str, drawing: &Drawing, all: Bounds, page: Bounds) {
    rule.count(1);
    let stated = drawing.extents.map(|[x0, y0, x1, y1]| {
        all.differs(Bounds { min: super::shape::Pt::new(x0, y0), max: super::shape::Pt::new(x1, y1) })
    });
    let size = drawing.page.map(|[w, h]| (w - (page.max.x - page.min.x)).abs().max((h - (page.max.y - page.min.y)).abs()));
    let Some(worst) = stated.or(size) else {
        rule.fault(|code| Finding::stop(code, format!("{} states neither extents nor a page", file_name(name))));
        return;
    };
    rule.figure(worst, || file_name(name));
    if worst > limits::SAME_VERTEX {
        rule.fault(|code| {
            Finding::stop(code, format!("{} states a size that is {worst:.3} mm off what it shows", file_name(name)))
        });
    }
}
