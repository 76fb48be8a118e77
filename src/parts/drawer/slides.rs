//! Slides: screw holes in the uprights and in the box's sides, at one height.

use super::{Plan, Walls};
use crate::dim::Dim;
use crate::parts::builder::Builder;
use crate::parts::joint::face_towards;
use crate::parts::{Depth, Feature, FeatureKind, Hand, Hardware, PanelId, Purpose};
use crate::shop::SlideHole;
use crate::units::Mm;

/// Wood left behind a blind pilot for a slide's screw. Common practice, no source.
const PILOT_FLOOR: Mm = Mm(3.0);

/// Drills for both members of both slides.
pub(super) fn mount(b: &mut Builder<'_>, plan: &Plan<'_>, walls: &Walls) {
    let slide = &plan.drawer.slide;
    let level = plan.block[2].middle().named(format!("{} slide centre height", plan.name));
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
        for (i, hole) in chosen.iter().enumerate() {
            drill(
                b,
                plan,
                panel,
                &level,
                hole.from_front,
                &format!("{} {what} hole {}", plan.name, i + 1),
                on_upright,
                walls,
            );
            screws += 1;
        }
    }
    let screw = &plan.drawer.fasteners.slide;
    let longest = b.thickness(plan.drawer.box_board).nominal() - Mm(1.0);
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
