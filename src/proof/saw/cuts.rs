//! The table of a sheet's cuts, and what they do to the sheet.

use crate::diag::Finding;
use crate::proof::fault::Fault;
use crate::proof::job::{Saw, Sheet};
use crate::proof::limits;
use crate::proof::read_csv;
use crate::proof::shape::{Bounds, Pt};
use crate::proof::verdict::Rule;
use std::collections::BTreeMap;

/// One row of the table.
#[derive(Clone, Debug)]
pub(in crate::proof) struct Row {
    pub(super) number: u32,
    pub(super) stage: u32,
    pub(super) direction: String,
    pub(super) piece: Named,
    pub(super) fence: f64,
    pub(super) against: String,
    pub(super) fence_side: Named,
    pub(super) free_side: Option<Named>,
}

/// A piece with its stated size along the sheet's length and across.
#[derive(Clone, Debug)]
pub(in crate::proof) struct Named {
    pub(super) name: String,
    pub(super) size: [f64; 2],
}

/// Columns of the table, in order.
const COLUMNS: [&str; 14] = [
    "cut",
    "stage",
    "direction",
    "piece",
    "piece_length_mm",
    "piece_width_mm",
    "fence_mm",
    "against",
    "fence_side",
    "fence_side_length_mm",
    "fence_side_width_mm",
    "free_side",
    "free_side_length_mm",
    "free_side_width_mm",
];

/// Most cuts of one sheet.
const MOST: usize = 20_000;

/// Reads a table.
pub(super) fn rows(text: &str) -> Result<Vec<Row>, Fault> {
    let records = read_csv::records(text)?;
    let Some((head, rows)) = records.split_first() else { return Err(Fault::whole("the table is empty")) };
    if head.iter().ne(COLUMNS.iter()) {
        return Err(Fault::on(1, "the columns are not those of a table of cuts"));
    }
    if rows.len() > MOST {
        return Err(Fault::whole(format!("{} cuts are more than are replayed", rows.len())));
    }
    rows.iter().enumerate().map(|(i, r)| row(r, i + 2)).collect()
}

fn row(record: &[String], line: usize) -> Result<Row, Fault> {
    if record.len() != COLUMNS.len() {
        return Err(Fault::on(line, format!("the row has {} fields", record.len())));
    }
    let length = |k: usize| {
        let value = record[k].parse::<f64>().ok().filter(|v| v.is_finite() && (0.0..limits::COORDINATE).contains(v));
        value.ok_or_else(|| Fault::on(line, format!("{} is not a length", COLUMNS[k])))
    };
    let whole = |k: usize| record[k].parse::<u32>().map_err(|_| Fault::on(line, format!("{} is not a number", COLUMNS[k])));
    let named = |k: usize| Ok(Named { name: record[k].clone(), size: [length(k + 1)?, length(k + 2)?] });
    Ok(Row {
        number: whole(0)?,
        stage: whole(1)?,
        direction: record[2].clone(),
        piece: named(3)?,
        fence: length(6)?,
        against: record[7].clone(),
        fence_side: named(8)?,
        free_side: if record[11].is_empty() { None } else { Some(named(11)?) },
    })
}

/// A sheet after its cuts.
#[derive(Debug)]
pub(super) struct Replay {
    /// Every piece that is left, by name; waste may be there many times.
    pub(super) pieces: Vec<(String, Bounds)>,
    /// For each row: the line of the cut in the middle of its kerf.
    pub(super) lines: Vec<[Pt; 2]>,
}

/// A piece that waits to be cut: where it lies, in which stage it was made, and by a rip or a crosscut.
struct Waiting {
    at: Bounds,
    stage: u32,
    ripped: Option<bool>,
}

impl Replay {
    /// Makes the cuts, one after the other; faults go to the rule.
    pub(super) fn of(sheet: &Sheet, rows: &[Row], saw: &Saw, file: &str, rule: &mut Rule) -> Self {
        let whole = Bounds { min: Pt::new(0.0, 0.0), max: Pt::new(sheet.length_mm, sheet.width_mm) };
        let mut waiting = BTreeMap::from([("sheet".to_owned(), Waiting { at: whole, stage: 0, ripped: None })]);
        let mut replay = Self { pieces: Vec::new(), lines: Vec::new() };
        for (k, row) in rows.iter().enumerate() {
            rule.count(1);
            let mut fault = |message: String| {
                rule.fault(|code| Finding::stop(code, format!("{file} cut {}: {message}", row.number)));
            };
            if row.number as usize != k + 1 {
                fault(format!("it is the table's row {}", k + 1));
            }
            let Some(piece) = waiting.remove(&row.piece.name) else {
                fault(format!("there is no piece {} on the saw by then", row.piece.name));
                continue;
            };
            let rip = match row.direction.as_str() {
                "rip" => true,
                "crosscut" => false,
                other => {
                    fault(format!("a cut cannot go {other}"));
                    continue;
                }
            };
            let far = match (rip, row.against.as_str()) {
                (true, "lower") | (false, "left") => false,
                (true, "upper") | (false, "right") => true,
                (_, other) => {
                    fault(format!("no such edge lies against the fence: {other}"));
                    continue;
                }
            };
            let stage = piece.stage + u32::from(piece.ripped != Some(rip));
            if stage != row.stage || stage > saw.turns + 1 {
                fault(format!("it is of stage {stage}, of {} allowed, and stated as {}", saw.turns + 1, row.stage));
            }
            let size = |b: Bounds| [b.max.x - b.min.x, b.max.y - b.min.y];
            let differs = |stated: &Named, b: Bounds, rule: &mut Rule| {
                let is = size(b);
                let off = (stated.size[0] - is[0]).abs().max((stated.size[1] - is[1]).abs());
                rule.figure(off, || format!("{file} cut {}", row.number));
                off > limits::SAWN
            };
            let [off, rest, line] = sawn(piece.at, rip, far, row.fence, saw.kerf_mm);
            let room = size(piece.at)[usize::from(rip)];
            let mut wrong = Vec::new();
            if row.fence > room + limits::SAWN {
                wrong.push(format!("a fence at {} mm is beyond the piece of {room:.2} mm", row.fence));
            }
            if differs(&row.piece, piece.at, rule) || differs(&row.fence_side, off, rule) {
                wrong.push("the sizes it states are not those that come of the cuts".to_owned());
            }
            let has_rest = room - row.fence - saw.kerf_mm > limits::SAWN;
            match &row.free_side {
                Some(stated) if differs(stated, rest, rule) => {
                    wrong.push("the free side is not what the kerf leaves".to_owned());
                }
                None if has_rest => wrong.push("the free side is not named".to_owned()),
                _ => {}
            }
            for message in wrong {
                rule.fault(|code| Finding::stop(code, format!("{file} cut {}: {message}", row.number)));
            }
            replay.lines.push([line.min, line.max]);
            let sides = [Some((&row.fence_side, off, 'a')), row.free_side.as_ref().map(|f| (f, rest, 'b'))];
            for (stated, at, letter) in sides.into_iter().flatten() {
                if stated.name == format!("{}{letter}", row.number) {
                    waiting.insert(stated.name.clone(), Waiting { at, stage, ripped: Some(rip) });
                } else {
                    replay.pieces.push((stated.name.clone(), at));
                }
            }
        }
        for name in waiting.keys() {
            rule.fault(|code| Finding::stop(code, format!("{file}: piece {name} is never cut up")));
        }
        let mut names: Vec<&String> = replay.pieces.iter().map(|(n, _)| n).filter(|n| *n != "waste").collect();
        names.sort();
        for pair in names.windows(2).filter(|p| p[0] == p[1]) {
            rule.fault(|code| Finding::stop(code, format!("{file}: {} comes off twice", pair[0])));
        }
        replay
    }
}

/// What lies between fence and blade, the free side, and the line of the cut (as bounds without width).
fn sawn(at: Bounds, rip: bool, far: bool, fence: f64, kerf: f64) -> [Bounds; 3] {
    let (low, high) = if rip { (at.min.y, at.max.y) } else { (at.min.x, at.max.x) };
    let (off, rest, middle) = if far {
        let blade = high - fence;
        ([blade, high], [low, blade - kerf], blade - kerf / 2.0)
    } else {
        let blade = low + fence;
        ([low, blade], [blade + kerf, high], blade + kerf / 2.0)
    };
    [off, rest, [middle, middle]].map(|[a, b]| {
        if rip {
            Bounds { min: Pt::new(at.min.x, a), max: Pt::new(at.max.x, b) }
        } else {
            Bounds { min: Pt::new(a, at.min.y), max: Pt::new(b, at.max.y) }
        }
    })
}
