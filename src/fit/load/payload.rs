//! The mass against the vehicle's payload and axles, and what is lifted by hand.

use super::codes;
use super::mass::{together, Body};
use super::say::{kg, Section};
use crate::design::{Design, Vehicle};
use crate::diag::Finding;
use crate::project::LoadSide;
use crate::units::{decimal, Mm};

/// Share of the payload that should not be passed: touring advice keeps a tenth spare (checklist FM12).
const USED: f64 = 0.9;
/// What one person should lift: reference mass of ISO 11228-1 (from memory).
const LIFT_KG: f64 = 25.0;

/// The masses against the vehicle.
#[derive(Clone, Debug, Default)]
pub struct Payload {
    /// kg of unit and goods.
    pub unit_kg: f64,
    /// kg of people and other cargo, as written.
    pub others_kg: f64,
    /// The vehicle's payload in kg, when given.
    pub payload_kg: Option<f64>,
    /// kg of unit and goods on the rear and the front axle, when wheelbase and rear axle are given.
    pub axles_kg: Option<[f64; 2]>,
}

/// Shares of a mass on the rear and the front axle, by moments about the axles; `ahead` is how far its centre lies in front of the
/// rear axle, negative behind it.
#[must_use]
pub fn axle_shares(mass_kg: f64, ahead: Mm, wheelbase: Mm) -> [f64; 2] {
    let front = mass_kg * (ahead / wheelbase);
    [mass_kg - front, front]
}

pub(super) fn judge(design: &Design, bodies: &[Body], loose_kg: f64, findings: &mut Vec<Finding>) -> (Payload, Section) {
    let mut section = Section::new("Payload, axles, lifting");
    let unit_kg = bodies.iter().map(Body::mass_kg).sum::<f64>() + loose_kg;
    let vehicle = design.vehicle.as_ref();
    let others_kg = vehicle.map_or(0.0, |v| v.people_kg.unwrap_or(0.0) + v.other_kg.unwrap_or(0.0));
    let payload_kg = vehicle.and_then(|v| v.payload_kg);
    if let (Some(v), Some(limit)) = (vehicle, payload_kg) {
        against_payload(v, unit_kg, others_kg, limit, findings, &mut section);
    } else {
        section.say("PAYLOAD NOT KNOWN: the vehicle's payload is not written, so this mass was held against nothing.");
        if design.bay.is_some() {
            findings.push(
                Finding::note(
                    codes::PAYLOAD_NOT_KNOWN,
                    format!("the unit with its goods weighs {}; the vehicle's payload is not known", kg(unit_kg)),
                )
                .at(vehicle.and_then(|v| v.span))
                .remedy("read payload and masses in the vehicle's papers and write them under [vehicle]"),
            );
        }
    }
    let axles_kg = axles(vehicle, bodies, findings, &mut section);
    section.say(format!("Lifted in by hand, empty (one person {} kg, ISO 11228-1, from memory):", decimal(LIFT_KG, 0)));
    for body in bodies {
        let two = if body.empty_kg() > LIFT_KG { "  two people" } else { "" };
        section.say(format!("  {}: {}{two}", body.name, kg(body.empty_kg())));
        if body.empty_kg() > LIFT_KG {
            findings.push(
                Finding::note(codes::HEAVY_LIFT, format!("{} weighs {} without goods", body.name, kg(body.empty_kg())))
                    .part(&body.name)
                    .limit(format!("{} kg for one person, ISO 11228-1 (from memory)", decimal(LIFT_KG, 0)))
                    .remedy("lift it with two, or put it together inside the vehicle"),
            );
        }
    }
    (Payload { unit_kg, others_kg, payload_kg, axles_kg }, section)
}

fn against_payload(v: &Vehicle, unit: f64, others: f64, limit: f64, findings: &mut Vec<Finding>, section: &mut Section) {
    let all = unit + others;
    section.say(format!(
        "Unit and goods {} + people {} + other {} = {} of {} payload ({} %)",
        kg(unit),
        v.people_kg.map_or_else(|| "not written".to_owned(), kg),
        v.other_kg.map_or_else(|| "not written".to_owned(), kg),
        kg(all),
        kg(limit),
        share(all, limit)
    ));
    if v.people_kg.is_none() || v.other_kg.is_none() {
        section.say("What is not written counts as nothing: add everyone aboard and everything else carried.");
    }
    let base = if all > limit {
        Finding::stop(codes::PAYLOAD_EXCEEDED, format!("{} are aboard; the vehicle may carry {}", kg(all), kg(limit)))
            .remedy(format!("take {} off: carry less, or build of thinner board", kg(all - limit)))
    } else if all > limit * USED {
        Finding::caution(
            codes::PAYLOAD_NEARLY_USED,
            format!("{} of {} payload are used ({} %)", kg(all), kg(limit), share(all, limit)),
        )
        .remedy(format!("take {} off, and weigh the loaded vehicle", kg(all - limit * USED)))
    } else {
        return;
    };
    findings.push(base.at(v.span).limit("payload as written; a tenth of it spare (checklist FM12, touring advice)"));
}

/// Whole percent of a limit; `over 999` where the limit is next to nothing.
fn share(all: f64, limit: f64) -> String {
    let percent = all / limit * 100.0;
    if percent < 1000.0 {
        decimal(percent, 0)
    } else {
        "over 999".to_owned()
    }
}

fn axles(v: Option<&Vehicle>, bodies: &[Body], findings: &mut Vec<Finding>, section: &mut Section) -> Option<[f64; 2]> {
    let sum = together(bodies.iter(), false);
    let known = v.and_then(|v| Some((v, v.wheelbase?, v.rear_axle?)));
    let (Some((v, wheelbase, rear)), Some(centre)) = (known, sum.centre()) else {
        section.say("AXLE SHARES NOT KNOWN: wheelbase and rear_axle (from the sill inwards) are not written.");
        return None;
    };
    if v.load_from != LoadSide::Rear {
        section.say("AXLE SHARES NOT KNOWN: they are worked out only for a bay that is loaded through the rear.");
        return None;
    }
    let ahead = Mm(centre[1]) - rear;
    let shares = axle_shares(sum.mass, ahead, wheelbase);
    section.say(format!(
        "Front axle: {} x ({} - {rear}) mm / {wheelbase} mm = {}; rear axle: {} - {} = {}",
        kg(sum.mass),
        Mm(centre[1]),
        kg(shares[1]),
        kg(sum.mass),
        kg(shares[1]),
        kg(shares[0])
    ));
    for (share, rest, name) in [(shares[0], v.rear_axle_rest_kg, "rear"), (shares[1], v.front_axle_rest_kg, "front")] {
        match rest {
            None => section.say(format!("What the {name} axle may still take is not known.")),
            Some(rest) => {
                section.say(format!("The {name} axle may still take {}.", kg(rest)));
                if share > rest {
                    findings.push(
                        Finding::stop(
                            codes::AXLE_OVERLOADED,
                            format!(
                                "unit and goods put {} on the {name} axle, which may still take {}",
                                kg(share),
                                kg(rest)
                            ),
                        )
                        .at(v.span)
                        .limit(format!("{name}_axle_rest as written"))
                        .remedy(format!("take {} off that axle: carry less, or move heavy goods", kg(share - rest))),
                    );
                }
            }
        }
    }
    Some(shares)
}
