//! Screws and bolts.

use super::{stored, word, Needs, Profile};
use crate::shop::fields::Fields;
use crate::shop::file::Sign;
use crate::shop::rows::Row;
use crate::shop::{Basis, Fastener, FastenerKind};
use crate::units::decimal;

const KINDS: [(&str, FastenerKind); 3] = [
    ("hex-bolt", FastenerKind::HexBolt),
    ("countersunk-screw", FastenerKind::CountersunkScrew),
    ("pan-screw", FastenerKind::PanScrew),
];

impl Profile for Fastener {
    const KIND: &'static str = "fastener";

    fn read(id: String, f: &mut Fields<'_>, _: &mut Needs) -> Option<Self> {
        let name = f.text("name");
        let kind = f.choice("kind", &KINDS);
        let diameter = f.length("diameter", Sign::Positive);
        let clearance = f.lengths::<3>("clearance", Sign::Positive);
        let has_pilot = f.has("pilot");
        let pilot = if has_pilot { f.length("pilot", Sign::Positive) } else { None };
        let head_diameter = f.length("head_diameter", Sign::Positive);
        let head_height = f.length("head_height", Sign::Positive);
        let has_washer = f.has("washer");
        let washer = if has_washer { f.lengths::<3>("washer", Sign::Positive) } else { None };
        let lengths = f.any_lengths("lengths");
        f.likely("diameter", diameter.as_slice(), 1.5..=30.0);
        let mut fits = has_pilot == pilot.is_some() && has_washer == washer.is_some();
        if let Some(clearance) = &clearance {
            fits &= f.in_order("clearance", clearance);
        }
        if let (Some([close, ..]), Some(diameter)) = (clearance, diameter) {
            if close < diameter {
                f.clash("clearance", &format!("a hole of {close} mm does not let {diameter} mm through"), "make it larger");
                fits = false;
            }
        }
        if let (Some(pilot), Some(diameter)) = (pilot, diameter) {
            if pilot >= diameter {
                f.clash("pilot", &format!("a pilot of {pilot} mm leaves a {diameter} mm screw no hold"), "make it smaller");
                fits = false;
            }
        }
        match kind {
            Some(FastenerKind::CountersunkScrew | FastenerKind::PanScrew) if !has_pilot => {
                f.missing("pilot", "a wood screw needs its pilot hole");
                fits = false;
            }
            Some(FastenerKind::HexBolt) if has_pilot => {
                f.clash("pilot", "a bolt has no pilot hole", "take `pilot` out");
                fits = false;
            }
            _ => {}
        }
        if let Some([inner, outer, _]) = washer {
            if inner >= outer {
                f.clash("washer", &format!("a washer of {inner} mm inside is not {outer} mm outside"), "swap them");
                fits = false;
            }
        }
        if !fits {
            return None;
        }
        Some(Self {
            id,
            name: name?,
            kind: kind?,
            diameter: diameter?,
            clearance: clearance?,
            pilot,
            head_diameter: head_diameter?,
            head_height: head_height?,
            washer,
            lengths: lengths?,
            basis: Basis::new(),
        })
    }

    fn rows(&self) -> Vec<Row> {
        let mut rows = vec![
            Row::word("kind", word(&KINDS, &self.kind)),
            Row::length("diameter", self.diameter),
            Row::lengths("clearance", &self.clearance, ", "),
        ];
        rows.extend(self.pilot.map(|pilot| Row::length("pilot", pilot)));
        rows.push(Row::length("head_diameter", self.head_diameter));
        rows.push(Row::length("head_height", self.head_height));
        rows.extend(self.washer.map(|washer| Row::lengths("washer", &washer, " x ")));
        rows.push(Row::lengths("lengths", &self.lengths, ", "));
        rows
    }

    fn summary(&self) -> String {
        let hole = match self.pilot {
            Some(pilot) => format!("pilot {} mm", decimal(pilot.0, 3)),
            None => format!("hole {} mm", decimal(self.clearance[1].0, 3)),
        };
        format!("{}, {hole}", word(&KINDS, &self.kind))
    }

    stored!(fasteners);
}
