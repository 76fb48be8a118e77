//! Latches.

use super::{stored, Needs, Profile};
use crate::shop::fields::Fields;
use crate::shop::file::Sign;
use crate::shop::rows::Row;
use crate::shop::{Basis, CutOutShape, Latch, Strike};
use crate::units::Mm;

impl Profile for Latch {
    const KIND: &'static str = "latch";

    fn read(id: String, f: &mut Fields<'_>, needs: &mut Needs) -> Option<Self> {
        let name = f.text("name");
        let face = f.lengths::<2>("face", Sign::Positive);
        let cut_out = f.inner("cut_out", cut_out);
        let bolts = f.groups::<2>("bolts", Sign::Any);
        let bolt = f.reference("bolt");
        let body_depth = f.length("body_depth", Sign::Positive);
        let body = f.lengths::<2>("body", Sign::Positive);
        let strike = f.inner("strike", strike);
        let front_thickness = f.window("front_thickness");
        let positive_lock = f.flag("positive_lock");
        f.likely("face", face.as_ref().map_or(&[], <[Mm; 2]>::as_slice), 10.0..=400.0);
        let bolt = bolt.map(|bolt| {
            let id = bolt.id.clone();
            needs.fasteners.push(bolt);
            id
        });
        let (cut_out, bolts) = (cut_out?, bolts?);
        if let Some([x, y]) = bolts.iter().find(|bolt| inside(cut_out, **bolt)) {
            f.clash("bolts", &format!("the bolt at {x}, {y} mm lies in the cut-out"), "move it outside");
            return None;
        }
        Some(Self {
            id,
            name: name?,
            face: face?,
            cut_out,
            bolts,
            bolt: bolt?,
            body_depth: body_depth?,
            body: body?,
            strike: strike?,
            front_thickness: front_thickness?,
            positive_lock: positive_lock?,
            basis: Basis::new(),
        })
    }

    fn rows(&self) -> Vec<Row> {
        let mut rows = vec![Row::lengths("face", &self.face, " x ")];
        match self.cut_out {
            CutOutShape::Rectangle { width, height, radius } => rows.extend([
                Row::length("cut_out.width", width),
                Row::length("cut_out.height", height),
                Row::length("cut_out.radius", radius),
            ]),
            CutOutShape::Round { diameter } => rows.push(Row::length("cut_out.diameter", diameter)),
        }
        let (thinnest, thickest) = self.front_thickness;
        rows.extend([
            Row::groups("bolts", self.bolts.iter().map(<[Mm; 2]>::as_slice), "/"),
            Row::word("bolt", &self.bolt),
            Row::length("body_depth", self.body_depth),
            Row::lengths("body", &self.body, " x "),
            Row::length("strike.rise", self.strike.rise),
            Row::length("strike.behind_front", self.strike.behind_front),
            Row::length("strike.width", self.strike.width),
            Row::length("strike.height", self.strike.height),
            Row::length("strike.reach", self.strike.reach),
            Row::lengths("front_thickness", &[thinnest, thickest], " to "),
            Row::flag("positive_lock", self.positive_lock),
        ]);
        rows
    }

    fn summary(&self) -> String {
        let cut_out = match self.cut_out {
            CutOutShape::Rectangle { width, height, .. } => format!("{width} x {height} mm"),
            CutOutShape::Round { diameter } => format!("{diameter} mm round"),
        };
        format!("cut-out {cut_out}, fronts {} to {} mm", self.front_thickness.0, self.front_thickness.1)
    }

    stored!(latches);
}

/// A rectangle with width, height and corner radius, or a round hole with its diameter.
fn cut_out(f: &mut Fields<'_>) -> Option<CutOutShape> {
    if f.has("diameter") {
        return f.length("diameter", Sign::Positive).map(|diameter| CutOutShape::Round { diameter });
    }
    let width = f.length("width", Sign::Positive);
    let height = f.length("height", Sign::Positive);
    let radius = f.length("radius", Sign::NotNegative);
    let (width, height, radius) = (width?, height?, radius?);
    if radius * 2.0 > width.min(height) {
        f.clash(
            "radius",
            &format!("`cut_out.radius` {radius} mm is too large for {width} x {height} mm"),
            "make it smaller",
        );
        return None;
    }
    Some(CutOutShape::Rectangle { width, height, radius })
}

fn strike(f: &mut Fields<'_>) -> Option<Strike> {
    let rise = f.length("rise", Sign::Any);
    let behind_front = f.length("behind_front", Sign::NotNegative);
    let width = f.length("width", Sign::Positive);
    let height = f.length("height", Sign::Positive);
    let reach = f.length("reach", Sign::Positive);
    Some(Strike { rise: rise?, behind_front: behind_front?, width: width?, height: height?, reach: reach? })
}

/// Whether a bolt's centre lies in the opening (its corner radius aside).
fn inside(shape: CutOutShape, [x, y]: [Mm; 2]) -> bool {
    match shape {
        CutOutShape::Rectangle { width, height, .. } => x.abs() * 2.0 < width && y.abs() * 2.0 < height,
        CutOutShape::Round { diameter } => x.0.hypot(y.0) * 2.0 < diameter.0,
    }
}
