//! Boards.

use super::{stored, word, Needs, Profile};
use crate::shop::fields::Fields;
use crate::shop::file::Sign;
use crate::shop::rows::Row;
use crate::shop::{Basis, Board, Material, SheetSize};

/// How files write the materials.
pub(super) const MATERIALS: [(&str, Material); 3] =
    [("hardwood-ply", Material::HardwoodPly), ("softwood-ply", Material::SoftwoodPly), ("card", Material::Card)];

impl Profile for Board {
    const KIND: &'static str = "board";

    fn read(id: String, f: &mut Fields<'_>, _: &mut Needs) -> Option<Self> {
        let name = f.text("name");
        let material = f.choice("material", &MATERIALS);
        let nominal = f.length("nominal", Sign::Positive);
        let thickness_min = f.length("thickness_min", Sign::Positive);
        let thickness_max = f.length("thickness_max", Sign::Positive);
        let within_sheet = f.length("within_sheet", Sign::NotNegative);
        let density_kg_m3 = f.number("density_kg_m3", Sign::Positive);
        let e_along = f.number("e_along", Sign::Positive);
        let e_across = f.number("e_across", Sign::Positive);
        let has_grain = f.flag("has_grain");
        let sheets = f.groups::<2>("sheets", Sign::Positive);
        f.likely("nominal", nominal.as_slice(), 1.0..=60.0);
        f.likely("sheets", sheets.as_deref().unwrap_or_default().as_flattened(), 150.0..=6000.0);
        if let (Some(min), Some(max)) = (thickness_min, thickness_max) {
            if min > max {
                f.clash(
                    "thickness_min",
                    &format!("`thickness_min` {min} mm is more than `thickness_max` {max} mm"),
                    "swap them",
                );
                return None;
            }
        }
        Some(Self {
            id,
            name: name?,
            material: material?,
            nominal: nominal?,
            thickness_min: thickness_min?,
            thickness_max: thickness_max?,
            within_sheet: within_sheet?,
            density_kg_m3: density_kg_m3?,
            e_along: e_along?,
            e_across: e_across?,
            has_grain: has_grain?,
            sheets: sheets?.into_iter().map(|[length, width]| SheetSize { length, width }).collect(),
            basis: Basis::new(),
        })
    }

    fn rows(&self) -> Vec<Row> {
        let sheets: Vec<[_; 2]> = self.sheets.iter().map(|sheet| [sheet.length, sheet.width]).collect();
        vec![
            Row::word("material", word(&MATERIALS, &self.material)),
            Row::length("nominal", self.nominal),
            Row::length("thickness_min", self.thickness_min),
            Row::length("thickness_max", self.thickness_max),
            Row::length("within_sheet", self.within_sheet),
            Row::number("density_kg_m3", self.density_kg_m3, "kg/m³"),
            Row::number("e_along", self.e_along, "N/mm²"),
            Row::number("e_across", self.e_across, "N/mm²"),
            Row::flag("has_grain", self.has_grain),
            Row::groups("sheets", sheets.iter().map(<[_; 2]>::as_slice), " x "),
        ]
    }

    fn summary(&self) -> String {
        let sheet = self.sheets.first().map_or_else(String::new, |s| format!(", sheet {} x {} mm", s.length, s.width));
        format!("{} to {} mm thick{sheet}", self.thickness_min, self.thickness_max)
    }

    stored!(boards);
}
