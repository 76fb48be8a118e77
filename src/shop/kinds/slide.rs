//! Drawer slides.

use super::{stored, Needs, Profile};
use crate::shop::fields::Fields;
use crate::shop::file::Sign;
use crate::shop::rows::Row;
use crate::shop::value::{length, number};
use crate::shop::{Basis, Slide, SlideHole};
use crate::units::{decimal, Mm};
use serde_json::{json, Value};

impl Profile for Slide {
    const KIND: &'static str = "slide";

    fn read(id: String, f: &mut Fields<'_>, needs: &mut Needs) -> Option<Self> {
        let name = f.text("name");
        let length = f.length("length", Sign::Positive);
        let height = f.length("height", Sign::Positive);
        let thickness = f.length("thickness", Sign::Positive);
        let side_space = f.length("side_space", Sign::Positive);
        let side_space_min = f.length("side_space_min", Sign::Positive);
        let side_space_max = f.length("side_space_max", Sign::Positive);
        let travel = f.length("travel", Sign::Positive);
        let head_room = f.or_usual("head_room", None, |f, key| f.length(key, Sign::Positive).map(Some));
        let load_kg = f.number("load_kg", Sign::Positive);
        let case_holes = holes(f, "case_holes", length);
        let drawer_holes = holes(f, "drawer_holes", length);
        let screw = f.reference("screw");
        f.likely("length", length.as_slice(), 100.0..=2000.0);
        if let (Some(min), Some(space), Some(max)) = (side_space_min, side_space, side_space_max) {
            if min > space || space > max {
                let message = format!(
                    "`side_space` {} mm is not within `side_space_min` {} mm and `side_space_max` {} mm",
                    decimal(space.0, 3),
                    decimal(min.0, 3),
                    decimal(max.0, 3)
                );
                f.clash("side_space", &message, "put it inside the window");
                return None;
            }
        }
        let screw = screw.map(|screw| {
            let id = screw.id.clone();
            needs.fasteners.push(screw);
            id
        });
        Some(Self {
            id,
            name: name?,
            length: length?,
            height: height?,
            thickness: thickness?,
            side_space: side_space?,
            side_space_min: side_space_min?,
            side_space_max: side_space_max?,
            travel: travel?,
            head_room: head_room?,
            load_kg: load_kg?,
            case_holes: case_holes?,
            drawer_holes: drawer_holes?,
            screw: screw?,
            basis: Basis::new(),
        })
    }

    fn rows(&self) -> Vec<Row> {
        let mut rows = vec![
            Row::length("length", self.length),
            Row::length("height", self.height),
            Row::length("thickness", self.thickness),
            Row::length("side_space", self.side_space),
            Row::length("side_space_min", self.side_space_min),
            Row::length("side_space_max", self.side_space_max),
            Row::length("travel", self.travel),
            Row::number("load_kg", self.load_kg, "kg"),
            hole_row("case_holes", &self.case_holes),
            hole_row("drawer_holes", &self.drawer_holes),
            Row::word("screw", &self.screw),
        ];
        rows.extend(self.head_room.map(|room| Row::length("head_room", room)));
        rows
    }

    fn summary(&self) -> String {
        format!(
            "{} mm long, {} mm thick, {} to {} mm each side, {} kg",
            self.length,
            self.thickness,
            self.side_space_min,
            self.side_space_max,
            decimal(self.load_kg, 1)
        )
    }

    stored!(slides);
}

/// Holes as `[from the front, set]`; each inside the member, no two in one place.
fn holes(f: &mut Fields<'_>, key: &'static str, member: Option<Mm>) -> Option<Vec<SlideHole>> {
    let mut holes = f.list(key, "a list of [distance from the front, set 0 or 1]", |value| {
        let items = value.get_ref().as_array().filter(|items| items.len() == 2)?;
        let from_front = length(items[0].get_ref()).ok().filter(|at| at.0 > 0.0)?;
        let set = number(items[1].get_ref())?;
        let set = [0, 1].into_iter().find(|known| f64::from(*known) == set)?;
        Some(SlideHole { from_front, set })
    })?;
    holes.sort_by(|a, b| a.from_front.total_cmp(&b.from_front));
    if holes.windows(2).any(|pair| pair[0].from_front == pair[1].from_front) {
        f.clash(key, &format!("`{key}` has two holes in one place"), "take one out");
        return None;
    }
    if let (Some(member), Some(last)) = (member, holes.last()) {
        if last.from_front >= member {
            let message = format!("`{key}` has a hole at {} mm, beyond the member's {member} mm", last.from_front);
            f.clash(key, &message, "take it out");
            return None;
        }
    }
    Some(holes)
}

fn hole_row(key: &str, holes: &[SlideHole]) -> Row {
    let set = |wanted: u8| {
        let places: Vec<String> =
            holes.iter().filter(|hole| hole.set == wanted).map(|hole| decimal(hole.from_front.0, 3)).collect();
        places.join(" ")
    };
    let text = format!("set 0: {}; set 1: {} mm from the front", set(0), set(1));
    let value = holes.iter().map(|hole| json!([hole.from_front, hole.set])).collect();
    Row::other(key, text, Value::Array(value), "mm")
}
