//! Is a layout what the stage promises?

use crate::design::Design;
use crate::flat::FlatPart;
use crate::flat::FlatParts;
use crate::flat::Operation;
use crate::flat::PartGrain;
use crate::geom::tolerance;
use crate::geom::Contour;
use crate::geom::Point;
use crate::geom::Rect;
use crate::nest::mates::is_called;
use crate::nest::{gap, opening_gap, Layout, Placement, Turn};
use crate::units::Mm;

/// Everything that is wrong with a layout, in words; empty when it is sound. Judged on the true contours.
#[must_use]
pub fn layout(design: &Design, parts: &FlatParts, layout: &Layout) -> Vec<String> {
    let mut faults = Vec::new();
    let mut seen: Vec<Vec<u32>> = parts.parts.iter().map(|p| vec![0; p.panels.len()]).collect();
    let mut used: Vec<Vec<u32>> = design.boards.iter().map(|b| vec![0; b.stock.len()]).collect();
    for sheet in &layout.sheets {
        let name = format!("sheet {} of board {}", sheet.number, sheet.board.0);
        match design.boards.get(sheet.board.0).and_then(|b| b.stock.get(sheet.stock)) {
            Some(s) if s.size.length == sheet.length && s.size.width == sheet.width => {
                used[sheet.board.0][sheet.stock] += 1;
            }
            _ => faults.push(format!("{name} is not of the board's stock")),
        }
        let mut laid: Vec<(&FlatPart, Contour, Vec<Contour>)> = Vec::new();
        for p in &sheet.placements {
            let Some(part) = parts.parts.get(p.part) else {
                faults.push(format!("{name} holds unknown part {}", p.part));
                continue;
            };
            match seen[p.part].get_mut((p.copy as usize).wrapping_sub(1)) {
                Some(count) => *count += 1,
                None => faults.push(format!("{} has no copy {}", part.id, p.copy)),
            }
            if part.board != sheet.board {
                faults.push(format!("{} lies on {name}, another board", part.id));
            }
            if !may_turn(part.grain, p.turn) {
                faults.push(format!("{} is turned by {} degrees against its grain", part.id, p.turn.degrees()));
            }
            let contour = place(&part.outline.contour, p);
            let b = contour.bounds();
            let (margin, slack) = (design.process.sheet_margin.0, tolerance::NEST_CLEARANCE);
            if b.x0 < margin - slack
                || b.y0 < margin - slack
                || b.x1 > sheet.length.0 - margin + slack
                || b.y1 > sheet.width.0 - margin + slack
            {
                faults.push(format!("{} reaches into the margin of {name}", part.id));
            }
            let stock = design.boards.get(sheet.board.0).and_then(|b| b.stock.get(sheet.stock));
            for d in stock.iter().flat_map(|s| &s.defects) {
                if touches(&contour, d) {
                    faults.push(format!("{} lies on a defect of {name}", part.id));
                }
            }
            let through = part.cuts.iter().filter(|c| c.operation == Operation::ThroughInside);
            laid.push((part, contour, through.map(|c| place(&c.contour, p)).collect()));
        }
        let gap = gap(design).0;
        let flat = |c: &Contour| c.flattened(tolerance::NEST_FLATTENING);
        let lines: Vec<Vec<Vec<Point>>> =
            laid.iter().map(|(_, c, openings)| std::iter::once(c).chain(openings).map(flat).collect()).collect();
        // A part in an opening may have to keep more from its edge than from its neighbours.
        let ring = opening_gap(design).0;
        for (i, (part, outline, _)) in laid.iter().enumerate() {
            for (k, (host, _, openings)) in laid.iter().enumerate().filter(|(k, _)| *k != i) {
                let near = ring - 2.0 * tolerance::NEST_CLEARANCE;
                let around = |n: &usize| openings[*n].bounds().overlaps(outline.bounds()) && openings[*n].holds(outline);
                if (0..openings.len()).filter(around).any(|n| closer(&lines[i][0], &lines[k][n + 1], near)) {
                    let fault = format!("{} on {name} is closer than {ring} mm to the opening's edge", part.id);
                    faults.push(format!("{fault} in {}", host.id));
                }
            }
        }
        for i in 0..laid.len() {
            for j in i + 1..laid.len() {
                let (a, b) = (laid[i].1.bounds(), laid[j].1.bounds());
                let near = gap - tolerance::NEST_CLEARANCE;
                if a.inflate(near, near).intersect(b).area() <= 0.0 {
                    continue;
                }
                let near = gap - 2.0 * tolerance::NEST_CLEARANCE;
                let too_close = lines[i].iter().any(|a| lines[j].iter().any(|b| closer(a, b, near)));
                if too_close || on_top(&laid[i].1, &laid[i].2, &laid[j].1) || on_top(&laid[j].1, &laid[j].2, &laid[i].1) {
                    faults.push(format!("{} and {} on {name} are closer than {gap} mm", laid[i].0.id, laid[j].0.id));
                }
            }
        }
    }
    for together in &design.together {
        let mate = |p: &Placement| {
            let part = parts.parts.get(p.part)?;
            together.parts.iter().find(|name| is_called(&part.id, &part.name, name))
        };
        let on = layout.sheets.iter().filter(|s| s.placements.iter().any(|p| mate(p).is_some())).count();
        if on > 1 {
            faults.push(format!("{} lie on {on} sheets instead of one", together.parts.join(" and ")));
        }
    }
    for (part, counts) in parts.parts.iter().zip(&seen) {
        for (copy, n) in counts.iter().enumerate().filter(|(_, n)| **n != 1) {
            faults.push(format!("copy {} of {} is laid {n} times", copy + 1, part.id));
        }
    }
    for (board, counts) in design.boards.iter().zip(&used) {
        for (stock, n) in board.stock.iter().zip(counts) {
            if stock.count.is_some_and(|c| *n > c) {
                faults.push(format!("board {} is out of one of its sheets: {n} used", board.name));
            }
        }
    }
    faults
}

fn may_turn(grain: PartGrain, turn: Turn) -> bool {
    match grain {
        PartGrain::AlongX => matches!(turn, Turn::None | Turn::Half),
        PartGrain::AlongY => matches!(turn, Turn::Quarter | Turn::ThreeQuarter),
        PartGrain::Any => true,
    }
}

/// A part's contour where it lies on the sheet.
fn place(contour: &Contour, p: &Placement) -> Contour {
    contour.quarter_turned(p.turn.quarters()).moved(p.at.to_vec2())
}

/// Whether a part reaches over the border of a defect, or one lies wholly on the other.
fn touches(contour: &Contour, d: &[Mm; 4]) -> bool {
    let slack = 2.0 * tolerance::NEST_CLEARANCE;
    let (x0, y0, x1, y1) = (d[0].0 + slack, d[1].0 + slack, d[0].0 + d[2].0 - slack, d[1].0 + d[3].0 - slack);
    let corners = [Point::new(x0, y0), Point::new(x1, y0), Point::new(x1, y1), Point::new(x0, y1)];
    if contour.bounds().intersect(Rect::new(x0, y0, x1, y1)).area() <= 0.0 {
        return false;
    }
    let inside = contour.vertices().iter().any(|v| x0 < v.x && v.x < x1 && y0 < v.y && v.y < y1);
    let line = contour.flattened(tolerance::NEST_FLATTENING);
    inside || corners.iter().any(|c| contour.contains(*c)) || closer(&line, &corners, tolerance::NEST_CLEARANCE)
}

/// Whether a part that crosses no line of another lies on its wood: inside its outline, and in none of its openings.
fn on_top(outline: &Contour, openings: &[Contour], other: &Contour) -> bool {
    let first = other.vertices().first().map(|v| Point::new(v.x, v.y));
    first.is_some_and(|p| outline.contains(p) && !openings.iter().any(|o| o.contains(p)))
}

/// Whether two closed lines come closer than a distance.
fn closer(a: &[Point], b: &[Point], distance: f64) -> bool {
    let limit = distance * distance;
    let edges = |l: &[Point]| -> Vec<(Point, Point)> {
        l.iter().copied().zip(l.iter().copied().cycle().skip(1)).take(l.len()).collect()
    };
    let (ea, eb) = (edges(a), edges(b));
    ea.iter().any(|&s| {
        eb.iter().any(|&t| {
            let far =
                |a0: f64, a1: f64, b0: f64, b1: f64| (a0.min(a1) - b0.max(b1)).max(b0.min(b1) - a0.max(a1)) >= distance;
            if far(s.0.x, s.1.x, t.0.x, t.1.x) || far(s.0.y, s.1.y, t.0.y, t.1.y) {
                return false;
            }
            let near = |p: Point, e: (Point, Point)| {
                let d = e.1 - e.0;
                let t = if d.hypot2() > 0.0 { ((p - e.0).dot(d) / d.hypot2()).clamp(0.0, 1.0) } else { 0.0 };
                (p - (e.0 + d * t)).hypot2()
            };
            let side = |e: (Point, Point), p: Point| (e.1 - e.0).cross(p - e.0);
            let crossing = side(s, t.0) * side(s, t.1) < 0.0 && side(t, s.0) * side(t, s.1) < 0.0;
            crossing || near(s.0, t) < limit || near(s.1, t) < limit || near(t.0, s) < limit || near(t.1, s) < limit
        })
    })
}
