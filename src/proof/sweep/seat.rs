//! The square mate fits into what the cutter opened.

use super::area;
use super::laid::Laid;
use super::left::{need, Needs};
use super::target::Target;
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::fault::quoted;
use crate::proof::job::Seat;
use crate::proof::limits;
use crate::proof::verdict::Rule;
use clipper2_rust::Paths64;

pub(super) fn rule() -> Rule {
    Rule::measuring(codes::SEAT, "mates", limits::SPECK_MM2, "mm2 in the way")
}

/// Checks one copy. `tabs` are broken off before anything is put together.
pub(super) fn check(rule: &mut Rule, laid: &Laid<'_>, tabs: &Paths64, needs: &mut Needs) {
    let Laid { target, spot, .. } = *laid;
    for seat in &target.part.seats {
        rule.count(1);
        let shape = area::squared(&area::of(&seat.ring), -limits::CUT);
        let blocked = blocked(laid, seat, &shape, tabs, needs);
        let worst = area::pieces(&blocked).iter().map(area::size).fold(0.0, f64::max);
        rule.figure(worst, || {
            if worst > 0.0 {
                format!("{}, feature {}", spot.words(), quoted(&seat.feature))
            } else {
                "nowhere".to_owned()
            }
        });
        if worst > limits::SPECK_MM2 {
            rule.fault(|code| {
                let at = area::bounds(&blocked);
                let place = format!("near ({:.2}, {:.2})", at.min.x, at.min.y);
                let (mate, feature) = (quoted(&seat.mate), quoted(&seat.feature));
                Finding::stop(
                    code,
                    format!(
                        "{}: {worst:.2} mm2 of wood are in the way of mate {mate} in feature {feature} {place}",
                        spot.words()
                    ),
                )
                .part(spot.part)
            });
        }
    }
}

/// The wood that stands where the mate should.
fn blocked(laid: &Laid<'_>, seat: &Seat, shape: &Paths64, tabs: &Paths64, needs: &mut Needs) -> Paths64 {
    let Laid { target, strokes, opened: open, .. } = *laid;
    let on_part = area::both(shape, &target.outline);
    let mine: Vec<usize> = (0..target.cuts.len()).filter(|i| target.cuts[*i].contour.feature == seat.feature).collect();
    if mine.is_empty() {
        // A notch of the outline: wood of the part, and what is left beside it for want of room for the cutter.
        let radius = strokes.iter().map(|s| s.radius).fold(0.0, f64::max);
        let beside = area::minus(&area::both(shape, &area::grown(&target.outline, 2.0 * radius)), &target.outline);
        let waste = area::minus(&area::minus(&beside, &open.through), tabs);
        let attached = waste_beside(target, &waste);
        return [area::squared(&on_part, -limits::SLIVER), attached].concat();
    }
    let mut left = on_part;
    for index in mine {
        let cut = &target.cuts[index];
        let opened = open.blind.iter().find(|(i, _)| *i == index).map_or(&open.through, |(_, o)| o);
        left = area::minus(&left, opened);
        if cut.depth.is_none() {
            let radius = strokes.iter().map(|s| s.radius).fold(f64::INFINITY, f64::min);
            let slug = need(needs, index, cut, radius, &target.outline).slug.clone();
            left = area::minus(&left, &slug);
        }
    }
    left
}

/// Pieces of waste that touch the part; others fall off with the sheet's skeleton.
fn waste_beside(target: &Target<'_>, waste: &Paths64) -> Paths64 {
    let near = area::grown(&target.outline, 2.0 * limits::CUT);
    let touches = |piece: &Paths64| !area::both(piece, &near).is_empty();
    area::pieces(waste).into_iter().filter(touches).flatten().collect()
}
