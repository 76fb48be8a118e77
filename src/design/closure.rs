//! Four sides and two diagonals of one level: six readings of a shape that five settle, so that a wrong one shows.

use super::bench::Bench;
use super::codes;
use crate::diag::Finding;
use crate::project::Square;
use crate::units::Mm;

/// How far the sixth reading may be from what the other five say. Common practice, no source.
const AGREES: f64 = 3.0;
/// How far a reading is searched for a value that makes the six agree, either way, in mm.
const SEARCH: f64 = 400.0;
/// Halvings of an interval of the search: below a thousandth of a millimetre.
const HALVINGS: usize = 40;
/// Steps in which the search looks for a change of sign.
const STEPS: usize = 400;

const NAMES: [&str; 6] = [
    "front side",
    "rear side",
    "left side",
    "right side",
    "diagonal from front left to rear right",
    "diagonal from front right to rear left",
];

impl Bench<'_> {
    /// Finds out whether sides and diagonals agree, and names the reading that is most likely wrong.
    pub(super) fn closure(&mut self, square: &Square) {
        let mut readings = [0.0; 6];
        for (i, reading) in square.readings.iter().enumerate() {
            // A missing one was reported when the file was read.
            let Some(reading) = reading else { return };
            self.positive(reading, NAMES[i]);
            readings[i] = reading.value.0;
        }
        if readings.iter().any(|r| *r <= 0.0) {
            return;
        }
        let off = misses(&readings);
        if off.is_some_and(|off| off.abs() <= AGREES) {
            return;
        }
        let suspect = suspect(&readings);
        let (message, at) = match suspect {
            Some((i, value)) => (
                format!(
                    "sides and diagonals do not agree; the {} is {} mm, the other five say {} mm",
                    NAMES[i],
                    Mm(readings[i]),
                    Mm((value * 10.0).round() / 10.0)
                ),
                square.readings[i].as_ref().map_or(square.span, |r| r.span),
            ),
            None => ("sides and diagonals cannot belong to one shape".to_owned(), square.span),
        };
        self.report(
            Finding::stop(codes::READINGS_DISAGREE, message)
                .at(at)
                .limit(format!("{AGREES} mm (common practice, no source)"))
                .remedy(match suspect {
                    Some((i, _)) => format!("measure the {} again", NAMES[i]),
                    None => "measure all six again".to_owned(),
                }),
        );
    }
}

/// How much longer the rear side is than the other five say; `None` when they form no shape.
fn misses([front, rear, left, right, down, up]: &[f64; 6]) -> Option<f64> {
    // Front left at 0, 0 and front right at front, 0; the rear corners are where a side and a diagonal meet.
    let meet = |from_left: f64, from_right: f64| {
        let x = (front * front + from_left * from_left - from_right * from_right) / (2.0 * front);
        let square = from_left * from_left - x * x;
        (square >= 0.0).then(|| (x, square.sqrt()))
    };
    let (rear_left, rear_right) = (meet(*left, *up)?, meet(*down, *right)?);
    Some(rear - (rear_right.0 - rear_left.0).hypot(rear_right.1 - rear_left.1))
}

/// The reading whose correction alone leaves the most regular shape, and its corrected value.
fn suspect(readings: &[f64; 6]) -> Option<(usize, f64)> {
    (0..6)
        .filter_map(|i| {
            let value = corrected(readings, i)?;
            let mut all = *readings;
            all[i] = value;
            // Opposite sides of a bay are nearly alike, and so are its diagonals.
            let uneven = (all[0] - all[1]).abs() + (all[2] - all[3]).abs() + (all[4] - all[5]).abs();
            Some((i, value, uneven))
        })
        .min_by(|a, b| a.2.total_cmp(&b.2))
        .map(|(i, value, _)| (i, value))
}

/// The value nearest to a reading with which the six agree.
fn corrected(readings: &[f64; 6], index: usize) -> Option<f64> {
    let at = |x: f64| {
        let mut all = *readings;
        all[index] = x;
        if x > 0.0 {
            misses(&all)
        } else {
            None
        }
    };
    let step = SEARCH / STEPS as f64;
    let between = |from: f64, to: f64| -> Option<f64> {
        let (mut low, mut high) = (from, to);
        let sign = at(low)?.signum();
        if at(high)?.signum() == sign {
            return None;
        }
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if at(middle)?.signum() == sign {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(f64::midpoint(low, high))
    };
    (0..STEPS).find_map(|k| {
        let (near, far) = (k as f64 * step, (k + 1) as f64 * step);
        let x = readings[index];
        between(x + near, x + far).or_else(|| between(x - near, x - far))
    })
}
