//! The holes of a part, each with a tag.

use crate::flat::{FlatPart, Operation, Side};
use crate::geom::{tolerance, Point};
use crate::units::Mm;

/// A round hole, with its screw seat where it has one.
#[derive(Clone, Debug)]
pub(super) struct Hole {
    /// `A1`: a letter for each kind, a number for each of it.
    pub(super) tag: String,
    /// From the lower left corner.
    pub(super) at: Point,
    pub(super) diameter: Mm,
    /// `None` for through.
    pub(super) depth: Option<Mm>,
    /// Diameter of its conical seat at the face.
    pub(super) seat: Option<Mm>,
    pub(super) side: Side,
    /// What it belongs to.
    pub(super) feature: String,
}

/// All holes, kind by kind, each kind from left to right.
pub(super) fn of(part: &FlatPart) -> Vec<Hole> {
    let corner = part.outline.contour.bounds().origin();
    let seats: Vec<(Point, Mm)> = part
        .cuts
        .iter()
        .filter_map(|cut| match cut.operation {
            Operation::Countersink { at, diameter } => Some((at, diameter)),
            _ => None,
        })
        .collect();
    let same = |a: Point, b: Point| (a - b).hypot() < tolerance::SAME_CUT;
    let drilled = |c: Point| part.cuts.iter().any(|k| matches!(k.operation, Operation::Drill { at, .. } if same(at, c)));
    let mut list: Vec<Hole> = part
        .cuts
        .iter()
        .filter_map(|cut| {
            let (at, diameter, depth) = match cut.operation {
                Operation::Drill { at, diameter, depth } => (at, diameter, depth),
                // A seat whose hole is drilled by hand.
                Operation::Countersink { at, diameter } if !drilled(at) => (at, diameter, None),
                _ => return None,
            };
            let seat = seats.iter().find(|(c, _)| same(*c, at)).map(|(_, d)| *d);
            let at = Point::new(at.x - corner.x, at.y - corner.y);
            Some(Hole { tag: String::new(), at, diameter, depth, seat, side: cut.side, feature: cut.feature.clone() })
        })
        .collect();
    let key = |h: &Hole| (h.seat.map(tenths), h.side, tenths(h.diameter), h.depth.map(tenths));
    list.sort_by(|a, b| {
        key(a).cmp(&key(b)).then(a.at.x.total_cmp(&b.at.x)).then(a.at.y.total_cmp(&b.at.y)).then(a.feature.cmp(&b.feature))
    });
    let (mut kind, mut number) = (0, 0);
    for i in 0..list.len() {
        if i > 0 && key(&list[i - 1]) != key(&list[i]) {
            (kind, number) = (kind + 1, 0);
        }
        number += 1;
        list[i].tag = format!("{}{number}", letters(kind));
    }
    list
}

fn tenths(length: Mm) -> i64 {
    (length.0 * 10.0).round() as i64
}

/// A, B, to Z, then AA, AB.
fn letters(mut n: usize) -> String {
    let mut text = String::new();
    loop {
        text.insert(0, char::from(b'A' + (n % 26) as u8));
        if n < 26 {
            return text;
        }
        n = n / 26 - 1;
    }
}

#[cfg(test)]
mod tests {
    use super::letters;

    #[test]
    fn kinds_go_on_after_z() {
        assert_eq!([0, 25, 26, 27, 701, 702].map(letters), ["A", "Z", "AA", "AB", "ZZ", "AAA"]);
    }
}
