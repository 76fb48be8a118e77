//! Slides: screw holes in the uprights and in the box's sides, at one height.

use super::{Plan, Walls};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::parts::builder::Builder;
use crate::parts::clash::Rod;
use crate::parts::codes;
use crate::parts::frame::Stretch;
use crate::parts::joint::face_towards;
use crate::parts::paper;
use crate::parts::{Depth, Feature, FeatureKind, Hand, Hardware, PanelId, Purpose};
use crate::shop::SlideHole;
use crate::units::Mm;

/// A slide's member wants at least this many screws. Common practice, no source.
const LEAST_SCREWS: usize = 2;
/// Wood left behind a blind pilot for a slide's screw. Common practice, no source.
const PILOT_FLOOR: Mm = Mm(3.0);

/// Drills for both members of both slides.
pub(super) fn mount(b: &mut Builder<'_>, plan: &Plan<'_>, walls: &Walls) {
    let slide = &plan.drawer.slide;
    let level = plan.block[2].middle().named(format!("{} slide centre height", plan.name));
    if b.is_paper() {
        let places = places(b, plan, walls, &level);
        paper::slides(b, &plan.name, slide, &places, plan.drawer.span);
        return;
    }
    let mut screws = 0;
    // The two members on an upright that serves two columns take different holes, so that no screw meets another.
    let members = [
        (plan.opening.left, 1, &slide.case_holes, "left slide"),
        (plan.opening.right, 0, &slide.case_holes, "right slide"),
        (walls.left, 0, &slide.drawer_holes, "left slide"),
        (walls.right, 0, &slide.drawer_holes, "right slide"),
    ];
    for (panel, set, holes, what) in members {
        let on_upright = panel == plan.opening.left || panel == plan.opening.right;
        let chosen: Vec<&SlideHole> = holes.iter().filter(|h| !on_upright || h.set == set).collect();
        let rods: Vec<Option<Rod>> = chosen.iter().map(|h| rod(b, plan, panel, &level, h.from_front, on_upright)).collect();
        // A hole that would meet another screw is left out, as long as enough others hold the member.
        let clear = |r: &Option<Rod>| r.is_some_and(|r| !on_upright || !b.meets_rod(&r));
        let kept: Vec<Mm> = chosen.iter().zip(&rods).filter(|(_, r)| clear(r)).map(|(h, _)| h.from_front).collect();
        if kept.len() < LEAST_SCREWS.min(chosen.len()) {
            b.findings.push(
                Finding::stop(
                    codes::SLIDE_HOLES_MEET,
                    format!(
                        "only {} screws of the {what} of {} clear others in {}",
                        kept.len(),
                        plan.name,
                        b.at(panel).name
                    ),
                )
                .part(b.at(panel).id.clone())
                .at(plan.drawer.span)
                .remedy("make the drawers on both sides of that upright differ 10 mm in height, or double the upright"),
            );
        }
        if on_upright {
            let made: Vec<Rod> = rods.into_iter().flatten().filter(|r| !b.meets_rod(r)).collect();
            b.rods.extend(made);
        }
        for (i, from_front) in kept.into_iter().enumerate() {
            let id = format!("{} {what} hole {}", plan.name, i + 1);
            drill(b, plan, panel, &level, from_front, &id, on_upright, walls);
            screws += 1;
        }
    }
    let screw = &plan.drawer.fasteners.slide;
    // The member's sheet lies under the head, and 2 mm of wood stay beyond the point: the same for box sides and uprights.
    let wood = [walls.left, walls.right, plan.opening.left, plan.opening.right];
    let thinnest = wood.into_iter().map(|id| b.at(id).thickness.nominal()).fold(Mm(f64::INFINITY), Mm::min);
    let longest = thinnest - Mm(1.0);
    let length = screw.lengths.iter().copied().filter(|l| *l <= longest).fold(Mm::ZERO, Mm::max);
    let length = if length > Mm::ZERO { length } else { screw.lengths.first().copied().unwrap_or(longest) };
    b.hardware(Hardware {
        profile: slide.id.clone(),
        name: format!("{}, pair", slide.name),
        quantity: 1,
        unit: plan.name.clone(),
        place: "box to uprights".into(),
        mass_kg: None,
    });
    b.hardware(Hardware {
        profile: screw.id.clone(),
        name: format!("{} x {length}", screw.name),
        quantity: screws,
        unit: plan.name.clone(),
        place: "slides to uprights and box sides".into(),
        mass_kg: None,
    });
}

/// Where a slide's member lies on a panel, for a mock-up.
pub(in crate::parts) struct SlidePlace {
    pub(in crate::parts) panel: PanelId,
    pub(in crate::parts) what: &'static str,
    /// The box it fills; across the panel it does not count.
    pub(in crate::parts) block: [Stretch; 3],
}

fn places(b: &Builder<'_>, plan: &Plan<'_>, walls: &Walls, level: &Dim) -> Vec<SlidePlace> {
    let slide = &plan.drawer.slide;
    let size = |mm: Mm, what: &str| Dim::number(mm, format!("{what} of {}", slide.name));
    let block = [
        plan.opening.x.clone(),
        Stretch { from: plan.behind_front.clone(), size: size(slide.length, "length") },
        Stretch { from: level - &size(slide.height / 2.0, "half the height"), size: size(slide.height, "height") },
    ];
    let members = [
        (plan.opening.left, "left slide"),
        (plan.opening.right, "right slide"),
        (walls.left, "left slide"),
        (walls.right, "right slide"),
    ];
    let has_frame = |(panel, _): &(PanelId, &str)| b.at(*panel).frame.is_some();
    members.into_iter().filter(has_frame).map(|(panel, what)| SlidePlace { panel, what, block: block.clone() }).collect()
}

/// The screw of a hole, from the face the slide lies on to its depth.
fn rod(b: &Builder<'_>, plan: &Plan<'_>, panel: PanelId, level: &Dim, from_front: Mm, on_upright: bool) -> Option<Rod> {
    let solid = b.at(panel).solid()?;
    let screw = &plan.drawer.fasteners.slide;
    let y = plan.behind_front.nominal().0 + from_front.0;
    let z = level.nominal().0;
    let (low, high) = (solid.min.x, solid.max.x);
    let middle = plan.opening.x.middle().nominal().0;
    // A screw in an upright starts at the opening; one that serves two columns is drilled through.
    let depth = if on_upright && b.at(panel).hand != Hand::None { high - low - PILOT_FLOOR.0 } else { high - low };
    let (from, to) = if middle > high { (high, high - depth) } else { (low, low + depth) };
    Some(Rod { from: [from, y, z], to: [to, y, z], radius: screw.diameter / 2.0 })
}

#[allow(clippy::too_many_arguments, reason = "one call site, each argument is a different thing")]
fn drill(
    b: &mut Builder<'_>,
    plan: &Plan<'_>,
    panel: PanelId,
    level: &Dim,
    from_front: Mm,
    id: &str,
    on_upright: bool,
    walls: &Walls,
) {
    let y = &plan.behind_front + &Dim::number(from_front, "hole of the slide from its front end");
    let at = [Dim::zero(), y, level.clone()];
    let Some(local) = b.at(panel).frame.as_ref().map(|f| f.local(&at)) else { return };
    let screw = &plan.drawer.fasteners.slide;
    let pilot = screw.pilot.unwrap_or(screw.diameter * 0.7);
    // Box sides and uprights that serve two columns are drilled through, which saves turning them over.
    let depth = if on_upright && b.at(panel).hand != Hand::None {
        let face = face_towards(b, panel, walls.left);
        let floor = Dim::number(PILOT_FLOOR, "wood left behind a pilot");
        Depth::Blind(face, b.thickness(b.at(panel).board) - floor)
    } else {
        Depth::Through
    };
    b.cut(
        panel,
        Feature {
            id: id.to_owned(),
            kind: FeatureKind::Hole { at: local, diameter: Dim::number(pilot, format!("pilot for {}", screw.name)) },
            depth,
            purpose: Purpose::Slide,
            mate: None,
            span: plan.drawer.span,
        },
    );
}
