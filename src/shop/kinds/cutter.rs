//! Cutters and drills.

use super::board::MATERIALS;
use super::{stored, Needs, Profile};
use crate::shop::fields::Fields;
use crate::shop::file::Sign;
use crate::shop::rows::Row;
use crate::shop::{Basis, ChipLoad, Cutter, CutterKind, Material};
use crate::units::decimal;
use std::collections::BTreeMap;

#[derive(Clone, Copy)]
enum Word {
    UpCut,
    DownCut,
    Compression,
    Drill,
}

const WORDS: [(&str, Word); 4] =
    [("up-cut", Word::UpCut), ("down-cut", Word::DownCut), ("compression", Word::Compression), ("drill", Word::Drill)];

/// Most edges a cutter may have.
const MOST_FLUTES: u32 = 12;

impl Profile for Cutter {
    const KIND: &'static str = "cutter";

    fn read(id: String, f: &mut Fields<'_>, _: &mut Needs) -> Option<Self> {
        let name = f.text("name");
        let kind = f.choice("kind", &WORDS);
        let kind = match kind {
            Some(Word::Compression) => f.length("up_cut", Sign::Positive).map(|up_cut| CutterKind::Compression { up_cut }),
            Some(Word::UpCut) => Some(CutterKind::UpCut),
            Some(Word::DownCut) => Some(CutterKind::DownCut),
            Some(Word::Drill) => Some(CutterKind::Drill),
            None => {
                f.has("up_cut");
                None
            }
        };
        let diameter = f.length("diameter", Sign::Positive);
        let flutes = f.whole("flutes", 1, MOST_FLUTES);
        let flute_length = f.length("flute_length", Sign::Positive);
        let centre_cutting = f.flag("centre_cutting");
        let pass_depth = f.length("pass_depth", Sign::Positive);
        let rpm = f.number("rpm", Sign::Positive);
        let rpm_max = f.number("rpm_max", Sign::Positive);
        let chip_load = f.inner("chip_load", chip_loads);
        f.likely("diameter", diameter.as_slice(), 0.5..=40.0);
        let mut fits = true;
        if let (Some(rpm), Some(max)) = (rpm, rpm_max) {
            if rpm > max {
                let message = format!("`rpm` {} is more than `rpm_max` {}", decimal(rpm, 0), decimal(max, 0));
                f.clash("rpm", &message, "lower `rpm`");
                fits = false;
            }
        }
        if let (Some(pass), Some(length)) = (pass_depth, flute_length) {
            if pass > length {
                f.clash(
                    "pass_depth",
                    &format!("`pass_depth` {pass} mm is more than `flute_length` {length} mm"),
                    "lower `pass_depth`",
                );
                fits = false;
            }
        }
        if let (Some(CutterKind::Compression { up_cut }), Some(length)) = (kind, flute_length) {
            if up_cut >= length {
                f.clash(
                    "up_cut",
                    &format!("`up_cut` {up_cut} mm leaves nothing of `flute_length` {length} mm"),
                    "lower `up_cut`",
                );
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
            flutes: flutes?,
            flute_length: flute_length?,
            centre_cutting: centre_cutting?,
            pass_depth: pass_depth?,
            rpm_max: rpm_max?,
            rpm: rpm?,
            chip_load: chip_load?,
            basis: Basis::new(),
        })
    }

    fn rows(&self) -> Vec<Row> {
        let mut rows = vec![Row::word("kind", kind_word(self.kind))];
        if let CutterKind::Compression { up_cut } = self.kind {
            rows.push(Row::length("up_cut", up_cut));
        }
        rows.extend([
            Row::length("diameter", self.diameter),
            Row::count("flutes", self.flutes),
            Row::length("flute_length", self.flute_length),
            Row::flag("centre_cutting", self.centre_cutting),
            Row::length("pass_depth", self.pass_depth),
            Row::number("rpm", self.rpm, "1/min"),
            Row::number("rpm_max", self.rpm_max, "1/min"),
        ]);
        for (word, material) in MATERIALS {
            if let Some(load) = self.chip_load.get(&material) {
                rows.push(Row::lengths(&format!("chip_load.{word}"), &[load.min, load.max], " to "));
            }
        }
        rows
    }

    fn summary(&self) -> String {
        format!("{} mm {}, cuts {} mm deep", decimal(self.diameter.0, 3), kind_word(self.kind), self.flute_length)
    }

    stored!(cutters);
}

fn kind_word(kind: CutterKind) -> &'static str {
    match kind {
        CutterKind::UpCut => "up-cut",
        CutterKind::DownCut => "down-cut",
        CutterKind::Compression { .. } => "compression",
        CutterKind::Drill => "drill",
    }
}

fn chip_loads(f: &mut Fields<'_>) -> Option<BTreeMap<Material, ChipLoad>> {
    let mut loads = BTreeMap::new();
    let mut good = true;
    for (word, material) in MATERIALS {
        if f.has(word) {
            match f.window(word) {
                Some((min, max)) => {
                    loads.insert(material, ChipLoad { min, max });
                }
                None => good = false,
            }
        }
    }
    if good && loads.is_empty() {
        f.empty("name at least one material: `hardwood-ply = [0.10, 0.23]`");
        good = false;
    }
    good.then_some(loads)
}
