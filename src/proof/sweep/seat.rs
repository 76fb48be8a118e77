//! The square mate fits into what the cutter opened.

use super::area;
use super::band::Line;
use super::laid::Laid;
use super::left::{need, room, Needs, FINE};
use super::probe::{self, Probes};
use super::target::Target;
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::fault::quoted;
use crate::proof::job::Seat;
use crate::proof::limits;
use crate::proof::verdict::Rule;
use clipper2_rust::Paths64;
use std::collections::BTreeMap;

/// What must be open for each seat, by seat and cutter radius in micrometres; the same for all copies of a part.
pub(super) type Seats = BTreeMap<(usize, i64, i64), Room>;

/// What must be open for one mate.
#[derive(Clone, Debug)]
pub(super) struct Room {
    /// The cuts it goes into; none for a notch of the outline.
    cuts: Vec<usize>,
    /// Wood of the part that stands there whatever is cut.
    blocked: Paths64,
    /// To be opened.
    open: Paths64,
    probes: Probes,
}

pub(super) fn rule() -> Rule {
    Rule::measuring(codes::SEAT, "mates", limits::SPECK_MM2, "mm2 in the way")
}

/// Checks one copy. `tabs` are broken off before anything is put together.
pub(super) fn check(rule: &mut Rule, laid: &Laid<'_>, tabs: &[Line], needs: &mut Needs, seats: &mut Seats) {
    let Laid { target, strokes, spot, .. } = *laid;
    let smallest = strokes.iter().map(|s| s.radius).fold(f64::INFINITY, f64::min);
    let largest = strokes.iter().map(|s| s.radius).fold(0.0, f64::max);
    for (index, seat) in target.part.seats.iter().enumerate() {
        rule.count(1);
        let micrometres = |v: f64| (v * 1000.0).round() as i64;
        let key = (index, micrometres(smallest), micrometres(largest));
        let wanted = seats.entry(key).or_insert_with(|| wanted(target, seat, [smallest, largest], needs));
        let blocked = blocked(laid, wanted, tabs, largest);
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

/// What must be open for a mate, with the smallest and largest cutter at work.
fn wanted(target: &Target<'_>, seat: &Seat, [smallest, largest]: [f64; 2], needs: &mut Needs) -> Room {
    let shape = area::squared(&area::of(&seat.ring), -limits::CUT);
    let on_part = area::both(&shape, &target.outline);
    let cuts: Vec<usize> = (0..target.cuts.len()).filter(|i| target.cuts[*i].contour.feature == seat.feature).collect();
    let (blocked, open) = if cuts.is_empty() {
        // A notch of the outline: wood of the part, and what is left beside it for want of room for the cutter.
        let beside = area::both(&shape, &area::grown(&target.outline, 2.0 * largest));
        (area::squared(&on_part, -limits::SLIVER), area::minus(&beside, &target.outline))
    } else {
        let through = cuts.iter().filter(|i| target.cuts[**i].depth.is_none());
        let slugs = through.flat_map(|i| need(needs, *i, &target.cuts[*i], smallest, target).slug.clone());
        let slugs: Paths64 = slugs.collect();
        (Paths64::new(), area::minus(&on_part, &area::union(&slugs)))
    };
    Room { cuts, blocked, probes: Probes::of(&open, FINE), open }
}

/// The wood that stands where the mate should.
fn blocked(laid: &Laid<'_>, wanted: &Room, tabs: &[Line], radius: f64) -> Paths64 {
    let Laid { target, opened, .. } = *laid;
    let openings = if wanted.cuts.is_empty() {
        vec![&opened.through]
    } else {
        wanted.cuts.iter().flat_map(|i| opened.of(&target.cuts[*i])).collect()
    };
    let left = probe::left(&wanted.open, &wanted.probes.gaps(&openings), &openings, room(radius));
    if wanted.cuts.is_empty() && !left.is_empty() {
        let lines: Paths64 = tabs.iter().map(|l| vec![area::grid(l.a), area::grid(l.b)]).collect();
        let waste = area::minus(&left, &area::swept(&lines, &[], 2.0 * radius));
        return [wanted.blocked.clone(), waste_beside(target, &waste)].concat();
    }
    [wanted.blocked.clone(), left].concat()
}

/// Pieces of waste that touch the part; others fall off with the sheet's skeleton.
fn waste_beside(target: &Target<'_>, waste: &Paths64) -> Paths64 {
    let near = area::grown(&target.outline, 2.0 * limits::CUT);
    let touches = |piece: &Paths64| !area::both(piece, &near).is_empty();
    area::pieces(waste).into_iter().filter(touches).flatten().collect()
}
