//! Each cut of a part as moves: outlines, openings, pockets and grooves.
//!
//! Turning sense, seen from above, for a right-hand cutter that turns clockwise: climb cutting has the wood of the finished edge on
//! the right, so outlines run clockwise and openings and pocket walls counter-clockwise; conventional cutting the other way.

use super::bench::{Bench, Op, Phase};
use super::centre::Waste;
use super::codes;
use super::edge::{self, Leaving};
use super::hold::{Asked, TabSize, WANTED, WANTED_TINY};
use super::passes;
use super::path::Path;
use super::pocket;
use super::store::Slug;
use crate::diag::Finding;
use crate::flat::FlatCut;
use crate::geom::{tolerance, Contour, Point, Rect, Region, Vertex};
use crate::shop::HoldDown;
use crate::units::{decimal, Mm};

/// A loose piece smaller than this every way is cut to dust instead of being left for the cutter to throw (common practice).
const SLUG: f64 = 50.0;
/// So is one nowhere wider than this: a strip breaks its tabs. Common practice, no source.
const THIN_SLUG: f64 = 10.0;
/// An outline of less than this area, mm², is small and cut before big ones: about a hand's size. Common practice, no source.
const SMALL_AREA: f64 = 40_000.0;
/// How far a groove is run out past an open end, beyond the cutter's radius.
const RUN_OUT: f64 = 0.5;

/// The outline of part `i`.
pub(super) fn outline(bench: &mut Bench, i: usize) -> Vec<Op> {
    let part = bench.laid[i].part;
    let edge = bench.laid[i].outline.clone();
    let nested = bench.laid[i].nested;
    let rank = rank(bench, nested) + u32::from(edge.area().abs() >= SMALL_AREA);
    let floor = held_floor(bench);
    along(bench, i, &part.outline, &edge, Waste::Outside, floor, true, Phase::Outline(rank))
}

/// Outlines by depth of nesting, inmost first: four ranks for each depth.
fn rank(bench: &Bench, nested: u32) -> u32 {
    let deepest = bench.laid.iter().map(|l| l.nested).max().unwrap_or(0);
    deepest.saturating_sub(nested) * 4
}

/// Bottom of cuts that set a piece free: the skin's top, or through.
fn held_floor(bench: &Bench) -> f64 {
    match bench.router.hold_down {
        HoldDown::Skin { thickness } => thickness.0,
        HoldDown::Tabs { .. } => bench.through,
    }
}

/// An opening of part `i`: cleared when the piece that falls out is small, else cut along its edge with the piece held.
pub(super) fn opening(bench: &mut Bench, i: usize, cut: &FlatCut) -> Vec<Op> {
    let edge = bench.laid[i].contour(&cut.contour).cw();
    let hosts = bench.hosts(i, cut);
    // Parts inside are one step deeper than this one; their outlines come before the opening sets them free.
    let phase = if hosts { Phase::Outline(rank(bench, bench.laid[i].nested + 1) + 2) } else { Phase::Inner };
    let fits = |r: f64| bench.fits(i, cut, r);
    let index = match bench.pick(i, cut, bench.through, &fits) {
        Ok(index) => index,
        Err(finding) => {
            bench.found.push(*finding);
            return Vec::new();
        }
    };
    let Slug { largest, thin } = bench.slug(i, cut, bench.cutter(index).diameter.0);
    if !hosts && largest > 0.0 && (largest < SLUG || thin) {
        let through = bench.through;
        return clear(bench, i, cut, index, through, phase);
    }
    let floor = if largest > 0.0 { held_floor(bench) } else { bench.through };
    along(bench, i, cut, &edge, Waste::Inside, floor, largest > 0.0, phase)
}

/// What a cutter of this diameter leaves loose in an opening.
pub(super) fn slug(opening: &Region, across: f64) -> Slug {
    let largest = opening.shrunk(across).map_or(f64::INFINITY, |left| {
        left.iter().map(Contour::bounds).map(|b| b.width().max(b.height())).fold(0.0, f64::max)
    });
    Slug { largest, thin: opening.shrunk(across + THIN_SLUG / 2.0).is_ok_and(|left| left.is_empty()) }
}

/// Cuts along a finished edge with the best cutter.
#[allow(clippy::too_many_arguments, reason = "one call describes one cut")]
fn along(
    bench: &mut Bench,
    i: usize,
    cut: &FlatCut,
    edge: &Contour,
    waste: Waste,
    floor: f64,
    held: bool,
    phase: Phase,
) -> Vec<Op> {
    let part = bench.laid[i].part;
    let fits = |r: f64| bench.fits(i, cut, r);
    let index = match bench.pick(i, cut, floor, &fits) {
        Ok(index) => index,
        Err(finding) => {
            bench.found.push(*finding);
            return Vec::new();
        }
    };
    let cutter = bench.cutter(index);
    let radius = cutter.diameter.0 / 2.0;
    let centre = bench.centre(i, cut, radius);
    let Ok(Some(centre)) = &*centre else {
        bench.unreliable(i, cut);
        return Vec::new();
    };
    let centre: Vec<Contour> = centre.iter().map(|c| bench.laid[i].lay(c)).collect();
    let heights = passes::heights(bench.top, floor, cutter);
    let setting = bench.setting(cutter, &heights);
    // Offsets come counter-clockwise round an outline and in an opening; climb has the wood on the right.
    let way = |climb: bool| (climb == (waste == Waste::Outside), if climb { 1.0 } else { -1.0 });
    let (reverse, side) = way(bench.router.climb);
    let rough = rough(bench, i, cut, radius, centre.len());
    let size = match bench.router.hold_down {
        HoldDown::Tabs { length, height, spacing } if held => {
            Asked::Held(TabSize { length: length.0, height: height.0, spacing: spacing.0 })
        }
        _ => Asked::None,
    };
    let rough_climb = bench.router.climb != bench.router.habits.rough_other_way;
    let mut ops = Vec::new();
    // Inner contours of a grown outline (waste closed in by the cutter's width) come before the outline itself.
    for contour in centre.iter().rev() {
        let Some(path) = Path::new(contour, reverse) else { continue };
        let own = vec![edge.clone()];
        let room = bench.room(i, &path, own, radius, side);
        let last_only = [floor];
        let heights_here = if rough.is_some() { &last_only[..] } else { &heights };
        let mut done = edge::cut(&path, heights_here, &setting, &room, &size, Leaving::Free);
        if let Some((contour, reverse, side)) = rough.as_ref().map(|c| (c, way(rough_climb).0, way(rough_climb).1)) {
            let Some(wide) = Path::new(contour, reverse) else { continue };
            let beside = match (&size, &done.tabs) {
                (Asked::Held(size), Some(tabs)) => {
                    Asked::Beside(*size, tabs.tabs.places.iter().map(|s| path.at(*s)).collect())
                }
                _ => Asked::None,
            };
            let round = bench.room(i, &wide, vec![edge.clone()], radius, side);
            let first = edge::cut(&wide, &heights, &setting, &round, &beside, Leaving::Beside(done.exit));
            if done.exit.lead.is_some() && first.exit.lead.is_none() {
                // The last pass would cut its way out at full depth.
                done = edge::cut(&path, heights_here, &setting, &room, &size, Leaving::Plain);
            }
            done.leads.extend(first.leads);
            let mut moves = first.moves;
            moves.then(done.moves);
            done.moves = moves;
        }
        bench.leads.extend(done.leads.iter().map(|lead| (*lead, radius)));
        let what = format!("{} {}", part.id, cut.feature);
        if let Some(tabs) = &done.tabs {
            bench.tabs.extend(tabs.tabs.wood(&path, radius));
            let have = tabs.tabs.places.len();
            if room.hangs && waste == Waste::Outside && tabs.hold < WANTED_TINY {
                bench.found.push(
                    Finding::stop(codes::INNER_LOOSE, format!("{} of the tabs of {what} have wood behind them", tabs.hold))
                        .part(&part.id)
                        .at(cut.span)
                        .limit(format!("{WANTED_TINY} tabs to waste that stays, common practice"))
                        .remedy("write `parts_in_openings = false` under [shop], or hold the sheet by a skin"),
                );
            }
            if !room.hangs && waste == Waste::Outside && tabs.hold < have.min(WANTED_TINY) {
                let (behind, cutter) = (size.size().map_or(0.0, |s| s.length / 2.0), 2.0 * radius);
                let gap = |cutters: f64| decimal((cutters * cutter + behind).ceil(), 0);
                bench.found.push(
                    Finding::caution(
                        codes::TAB_WITHOUT_WASTE,
                        format!("{what} has {have} tabs, and {} with waste behind that stays to the end", tabs.hold),
                    )
                    .part(&part.id)
                    .at(cut.span)
                    .limit(format!("{WANTED_TINY} tabs that hold to the end, common practice"))
                    .remedy(format!(
                        "write `part_gap = \"{} mm\"` and `sheet_margin = \"{} mm\"` under [shop], or hold the sheet by vacuum",
                        gap(2.0),
                        gap(1.0)
                    )),
                );
            }
            if have < tabs.wanted {
                let weigh = if have < tabs.wanted.min(WANTED) { Finding::caution } else { Finding::note };
                bench.found.push(
                    weigh(codes::TABS_FEW, format!("{what} has room for {have} of {} tabs", tabs.wanted))
                        .part(&part.id)
                        .at(cut.span)
                        .limit("three on a loose part and the machine's spacing, common practice")
                        .remedy("use shorter tabs, hold the sheet down by vacuum or screws in the waste, or leave a skin"),
                );
            }
            if tabs.on_clean {
                bench.found.push(
                    Finding::caution(codes::TAB_ON_EDGE, format!("{what} has its tabs on edges that should stay clean"))
                        .part(&part.id)
                        .at(cut.span)
                        .remedy("sand these tabs flush before assembly, or hold the part another way and take them out"),
                );
            } else if tabs.near_corner {
                bench.found.push(
                    Finding::note(codes::TAB_NEAR_CORNER, format!("{what} has a tab within 25 mm of a corner"))
                        .part(&part.id)
                        .at(cut.span)
                        .remedy("saw this tab, do not break it"),
                );
            }
        }
        if done.marks {
            bench.found.push(
                Finding::caution(
                    codes::MARK_ON_EDGE,
                    format!("{what} is entered or left on an edge that should stay clean"),
                )
                .part(&part.id)
                .at(cut.span)
                .remedy("sand the mark, or leave some edge free for it"),
            );
        }
        let mut block = bench.block(i, cut, phase, done.moves.start, done.moves.list);
        block.tabs = done.tabs.map(|placed| placed.tabs.left(radius, floor));
        ops.push(Op { phase, cutter: index, block });
    }
    ops
}

/// Where passes run that leave wood for a last thin one, when the machine's profile asks for it and there is room: somewhat
/// farther from the finished edge than its way. Where the cutter only just fits (a relief, a slot of its own width) there is no
/// such room, and the cut is made as usual.
fn rough(bench: &mut Bench, i: usize, cut: &FlatCut, radius: f64, ways: usize) -> Option<Contour> {
    let left = bench.router.habits.edge_pass?.0;
    let wide = bench.centre(i, cut, radius + left);
    if let (Ok(Some(wide)), 1) = (&*wide, ways) {
        if let [one] = &wide[..] {
            return Some(bench.laid[i].lay(one));
        }
    }
    let part = bench.laid[i].part;
    bench.found.push(
        Finding::note(codes::NO_EDGE_PASS, format!("{} {} is cut without a last thin pass", part.id, cut.feature))
            .part(&part.id)
            .at(cut.span)
            .limit(format!("the cutter's width and {} mm on either side, the machine's profile", Mm(left)))
            .remedy("use a thinner cutter, or wider reliefs and slots, if this edge is to be smoother"),
    );
    None
}

/// A pocket or groove of part `i`, run out where it is open at the part's edge.
pub(super) fn pocket(bench: &mut Bench, i: usize, cut: &FlatCut, depth: f64) -> Vec<Op> {
    let part = bench.laid[i].part;
    let floor = bench.thickness - depth;
    if floor <= tolerance::EDGE_REACHED {
        bench.found.push(
            Finding::stop(
                codes::NO_CUTTER,
                format!("{} {} is {depth:.1} deep in a board of {:.1}", part.id, cut.feature, bench.thickness),
            )
            .part(&part.id)
            .at(cut.span)
            .remedy("make the pocket shallower, or cut it through"),
        );
        return Vec::new();
    }
    let fits = |r: f64| bench.fits(i, cut, r);
    match bench.pick(i, cut, floor, &fits) {
        Ok(index) => clear(bench, i, cut, index, floor, Phase::Pocket),
        Err(finding) => {
            bench.found.push(*finding);
            Vec::new()
        }
    }
}

/// Clears a region down to a height.
pub(super) fn clear(bench: &mut Bench, i: usize, cut: &FlatCut, index: usize, floor: f64, phase: Phase) -> Vec<Op> {
    let cutter = bench.cutter(index);
    let radius = cutter.diameter.0 / 2.0;
    let heights = passes::heights(bench.top, floor, cutter);
    let setting = bench.setting(cutter, &heights);
    let climb = bench.router.climb;
    let rough_climb = climb != bench.router.habits.rough_other_way;
    let moves = bench.cleared(i, cut, [radius, setting.feeds.cut, setting.top, floor], || {
        let region = bench.laid[i].region(cut, radius);
        let wall = bench.centre(i, cut, radius);
        let rings = pocket::rings(&region, wall.as_ref().as_ref().ok()?.as_ref()?, radius, [climb, rough_climb]).ok()?;
        pocket::clear(&region, &rings, &heights, radius, &setting)
    });
    let Some((start, moves)) = moves else {
        bench.unreliable(i, cut);
        return Vec::new();
    };
    vec![Op { phase, cutter: index, block: bench.block(i, cut, phase, start, moves) }]
}

/// The pocket lengthened past the part's edge wherever one of its straight sides lies on the outline, far enough for a cutter of
/// this radius to clear the corners there; `None` when it cannot be joined.
pub(super) fn run_out(pocket: &Contour, outline: &Contour, radius: f64) -> Option<Contour> {
    let mut shape = pocket.clone().ccw();
    for (vertex, to) in shape.segments() {
        let from = Point::new(vertex.x, vertex.y);
        let on_edge = [from, from.midpoint(to), to].iter().all(|p| outline.distance_to(*p) < tolerance::ON_OUTLINE);
        if vertex.bulge != 0.0 || !on_edge {
            continue;
        }
        let way = (to - from).normalize();
        let out = crate::geom::Vec2::new(way.y, -way.x);
        let far = out * (radius + RUN_OUT);
        let near = out * -RUN_OUT.min(pocket_depth(&shape, from, out));
        let corner = |p: Point| Vertex { x: p.x, y: p.y, bulge: 0.0 };
        let more = Contour::new(&[corner(from + near), corner(from + far), corner(to + far), corner(to + near)]).ok()?;
        shape = shape.union(&more.ccw()).ok()?.into_iter().next()?.outer;
    }
    Some(shape)
}

/// How far the pocket reaches inward from an open end, at most its bounds.
fn pocket_depth(shape: &Contour, from: Point, out: crate::geom::Vec2) -> f64 {
    let b: Rect = shape.bounds();
    let across = if out.x.abs() > out.y.abs() { b.width() } else { b.height() };
    (across / 2.0).min((from - b.center()).hypot())
}
