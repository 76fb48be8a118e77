//! Plain washers.

use super::{stored, Needs, Profile};
use crate::shop::fields::Fields;
use crate::shop::file::Sign;
use crate::shop::rows::Row;
use crate::shop::{Basis, Washer};
use crate::units::decimal;

impl Profile for Washer {
    const KIND: &'static str = "washer";

    fn read(id: String, f: &mut Fields<'_>, needs: &mut Needs) -> Option<Self> {
        let name = f.text("name");
        let bolt = f.reference("bolt");
        let size = f.lengths::<3>("size", Sign::Positive);
        if let Some([inner, outer, _]) = size {
            if inner >= outer {
                f.clash("size", &format!("a washer of {inner} mm inside is not {outer} mm outside"), "swap them");
                return None;
            }
        }
        let bolt = bolt.map(|bolt| {
            let id = bolt.id.clone();
            needs.fasteners.push(bolt);
            id
        });
        Some(Self { id, name: name?, bolt: bolt?, size: size?, basis: Basis::new() })
    }

    fn rows(&self) -> Vec<Row> {
        vec![Row::word("bolt", &self.bolt), Row::lengths("size", &self.size, " x ")]
    }

    fn summary(&self) -> String {
        let [inner, outer, thickness] = self.size.map(|length| decimal(length.0, 3));
        format!("{inner} x {outer} x {thickness} mm for {}", self.bolt)
    }

    stored!(washers);
}
