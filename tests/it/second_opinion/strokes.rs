//! A program's text as strokes of the tool's centre, read with the `gcode` crate and a small loop that keeps the modes.

use super::CHORD;
use gcode::{Argument, Code, Value};

/// A stroke from one point to another in the sheet's frame, mm; heights count from the sheet's lower face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stroke {
    pub(super) from: [f64; 3],
    pub(super) to: [f64; 3],
    pub(super) radius: f64,
    /// Whether it is cut from the face that lies down as nested.
    pub(super) below: bool,
}

impl Stroke {
    /// Where a stroke of a sheet that was turned over about its long axis is on the sheet as nested; heights stay those of its set-up.
    pub(super) fn turned_over(mut self, width: f64) -> Self {
        for end in [&mut self.from, &mut self.to] {
            end[1] = width - end[1];
        }
        Self { below: true, ..self }
    }

    /// The part of the stroke at or below a height.
    pub(super) fn at_or_under(self, height: f64) -> Option<Self> {
        let (a, b) = (self.from, self.to);
        if a[2] > height && b[2] > height {
            return None;
        }
        if a[2] <= height && b[2] <= height {
            return Some(self);
        }
        let share = (height - a[2]) / (b[2] - a[2]);
        let cut = [0, 1, 2].map(|i| a[i] + (b[i] - a[i]) * share);
        Some(if a[2] > height { Self { from: cut, ..self } } else { Self { to: cut, ..self } })
    }
}

fn word(words: &[(char, f64)], letter: char) -> Option<f64> {
    words.iter().find(|w| w.0 == letter).map(|w| w.1)
}

fn literal(letter: char, value: &Value) -> (char, f64) {
    match value {
        Value::Literal(number) => (letter, f64::from(*number)),
        other => panic!("{letter} has no plain number: {other:?}"),
    }
}

/// The strokes of one of a file's cutters, counted from 1. `lift` is what makes its z zero the sheet's lower face, mm.
pub(super) fn read(text: &str, section: usize, radius: f64, lift: f64) -> Vec<Stroke> {
    let program = gcode::parse(text).unwrap_or_else(|d| panic!("{d:?}"));
    let mut strokes = Vec::new();
    let (mut unit, mut mode) = (f64::NAN, 0.0);
    let mut at = [f64::NAN; 3];
    // The next cutter is put in where the file stops after the spindle has run and stands.
    let (mut nth, mut spun, mut turning) = (1, false, false);
    for block in &program.blocks {
        let mut words: Vec<(char, f64)> = block.word_addresses.iter().map(|w| literal(w.letter, &w.value)).collect();
        for code in &block.codes {
            if let Code::Miscellaneous(m) = code {
                match m.number.major() {
                    3 => (spun, turning) = (true, true),
                    5 => turning = false,
                    0 if spun && !turning => {
                        (nth, spun) = (nth + 1, false);
                        at[2] = f64::NAN;
                    }
                    _ => {}
                }
            }
            let Code::General(general) = code else { continue };
            let number = f64::from(general.number.major())
                + f64::from(general.number.minor().map_or(0, std::num::NonZeroU32::get)) / 10.0;
            words.extend(general.args.iter().map(|Argument { letter, value, .. }| literal(*letter, value)));
            match number {
                20.0 => unit = 25.4,
                21.0 => unit = 1.0,
                0.0 | 1.0 | 2.0 | 3.0 | 81.0 | 83.0 => mode = number,
                // A dwell's P is no place; nothing moves.
                4.0 => words.clear(),
                80.0 => mode = f64::NAN,
                17.0 | 40.0 | 49.0 | 54.0 | 55.0 | 90.0 | 94.0 | 98.0 => {}
                other => panic!("G{other} is not in the subset"),
            }
        }
        let axes = ['X', 'Y', 'Z'].map(|c| word(&words, c).map(|v| v * unit));
        if axes.iter().all(Option::is_none) {
            continue;
        }
        let mut to = [0, 1, 2].map(|i| axes[i].map_or(at[i], |v| if i == 2 { v + lift } else { v }));
        let from = at;
        if nth != section {
            at = to;
            continue;
        }
        if mode >= 80.0 {
            // G98: the cycle goes down and comes back to the height it began at.
            let bottom = to;
            to[2] = from[2];
            strokes.push(Stroke { from: to, to: bottom, radius, below: false });
        } else if mode >= 2.0 {
            let [i, j] = ['I', 'J'].map(|c| word(&words, c).unwrap_or(0.0) * unit);
            arc(from, to, [from[0] + i, from[1] + j], mode == 2.0, radius, &mut strokes);
        } else if from.iter().all(|v| v.is_finite()) {
            strokes.push(Stroke { from, to, radius, below: false });
        }
        at = to;
    }
    strokes
}

/// An arc or a helix as chords; `turns_right` is G2's sense.
fn arc(from: [f64; 3], to: [f64; 3], centre: [f64; 2], turns_right: bool, radius: f64, strokes: &mut Vec<Stroke>) {
    use std::f64::consts::TAU;
    let angle = |p: [f64; 3]| (p[1] - centre[1]).atan2(p[0] - centre[0]);
    let size = (from[0] - centre[0]).hypot(from[1] - centre[1]);
    let whole = (from[0] - to[0]).hypot(from[1] - to[1]) < 1e-4;
    let mut sweep = if turns_right { angle(from) - angle(to) } else { angle(to) - angle(from) }.rem_euclid(TAU);
    if whole {
        sweep = TAU;
    }
    let steps = (sweep / (2.0 * (1.0 - CHORD / size).clamp(-1.0, 1.0).acos())).ceil().max(2.0) as usize;
    let mut last = from;
    for k in 1..=steps {
        let share = k as f64 / steps as f64;
        let turned = angle(from) + if turns_right { -sweep } else { sweep } * share;
        let (x, y) = (centre[0] + size * turned.cos(), centre[1] + size * turned.sin());
        let next = if k == steps { to } else { [x, y, from[2] + (to[2] - from[2]) * share] };
        strokes.push(Stroke { from: last, to: next, radius, below: false });
        last = next;
    }
}

/// Inches, modes kept from line to line, an arc's sense, and a cycle that comes back up.
#[test]
fn a_program_reads_as_the_strokes_it_says() {
    let text = "G20 G17 G90\nG0 Z1.0\nG0 X1.0 Y0.0\nG1 Z-0.5 F10.0\nG3 X-1.0 Y0.0 I-1.0 J0.0\nG0 Z1.0\nG98 G81 X2.0 Y2.0 Z-0.5 R0.1 F10.0\nG80\n";
    let strokes = read(text, 1, 3.0, 12.7);
    assert!(strokes.iter().any(|s| s.to[1] > 25.39 && s.to[1] < 25.41), "G3 turns left: over the top");
    assert!(strokes.iter().all(|s| s.to[1] > -1e-6), "{strokes:?}");
    let last = strokes.last().expect("a stroke");
    assert_eq!((last.from[2], last.to[2]), (38.1_f64.min(last.from[2]), 0.0));
    let slope = Stroke { from: [0.0, 0.0, 4.0], to: [8.0, 0.0, 0.0], radius: 3.0, below: false };
    let half = slope.at_or_under(1.0).expect("a part of it");
    assert_eq!((half.from, half.to), ([6.0, 0.0, 1.0], [8.0, 0.0, 0.0]));
    let two = "G21 G90\nG0 Z9.0\nM3\nG0 X1.0 Y1.0\nG1 Z-1.0\nG0 Z9.0\nM5\nM0\nG0 Z9.0\nM3\nG0 X2.0 Y1.0\nG1 Z-2.0\nM5\n";
    let low = |section| read(two, section, 3.0, 0.0).iter().map(|s| s.to[2]).fold(f64::INFINITY, f64::min);
    assert_eq!((low(1), low(2), low(3)), (-1.0, -2.0, f64::INFINITY));
}
