//! The list of offcuts: each piece lies on its sheet and clear of every part, so that it is there once the parts are out.

use super::codes;
use super::fault::Fault;
use super::limits;
use super::pack::{sheet_name, Pack};
use super::read_csv;
use super::shape::{Bounds, Pt};
use super::verdict::Rule;
use crate::diag::Finding;
use std::collections::BTreeSet;

/// One row of the list.
#[derive(Debug)]
pub(super) struct Row {
    id: String,
    board: String,
    sheet: u32,
    at: Bounds,
}

/// Reads the list.
pub(super) fn read(bytes: &[u8]) -> Result<Vec<Row>, Fault> {
    let text = std::str::from_utf8(bytes).map_err(|_| Fault::whole("the file is not UTF-8 text"))?;
    let records = read_csv::records(text)?;
    let Some((head, rows)) = records.split_first() else { return Err(Fault::whole("the list is empty")) };
    let row = |(k, record): (usize, &Vec<String>)| {
        let field = |name: &str| {
            let value = head.iter().position(|h| h == name).and_then(|at| record.get(at));
            value.ok_or_else(|| Fault::on(k + 2, format!("no {name}")))
        };
        let length = |name: &str| {
            let value = field(name)?.parse::<f64>().ok().filter(|v| (0.0..limits::COORDINATE).contains(v));
            value.ok_or_else(|| Fault::on(k + 2, format!("{name} is not a length")))
        };
        let (x, y) = (length("x_mm")?, length("y_mm")?);
        let max = Pt::new(x + length("length_mm")?, y + length("width_mm")?);
        let sheet = field("sheet")?.parse().map_err(|_| Fault::on(k + 2, "sheet is not a number"))?;
        Ok(Row { id: field("id")?.clone(), board: field("board")?.clone(), sheet, at: Bounds { min: Pt::new(x, y), max } })
    };
    rows.iter().enumerate().map(row).collect()
}

/// The rule on offcuts; none for a pack without the list.
pub(super) fn check(pack: &Pack<'_>) -> Option<Rule> {
    let rows = pack.offcuts.as_ref()?;
    let mut rule = Rule::counting(codes::OFFCUT, "offcuts to keep");
    let mut seen = BTreeSet::new();
    for row in rows {
        rule.count(1);
        let mut fault = |message: String| rule.fault(|code| Finding::stop(code, message));
        if !seen.insert(&row.id) {
            fault(format!("Offcut {} is listed twice", row.id));
        }
        let Some(sheet) = pack.job.sheets.iter().find(|s| s.board == row.board && s.number == row.sheet) else {
            fault(format!("Offcut {} is of no sheet of the job", row.id));
            continue;
        };
        let slack = limits::SAWN;
        let (min, max) = (row.at.min, row.at.max);
        if max.x > sheet.length_mm + slack || max.y > sheet.width_mm + slack {
            fault(format!("Offcut {} reaches over {}", row.id, sheet_name(sheet)));
        }
        for p in &sheet.placements {
            let Some(part) = pack.part(&p.part) else { continue };
            let outlines = part.contours.iter().filter(|c| c.operation == super::job::Operation::ThroughOutside);
            let mut b = Bounds::empty();
            outlines.for_each(|o| b.join(o.ring.mapped(false, |point| p.place(point)).bounds()));
            let over =
                min.x + slack < b.max.x && b.min.x + slack < max.x && min.y + slack < b.max.y && b.min.y + slack < max.y;
            if over {
                fault(format!("Offcut {} lies under {} copy {}", row.id, p.part, p.copy));
            }
        }
        let others = rows.iter().filter(|o| (&o.board, o.sheet) == (&row.board, row.sheet) && o.id != row.id);
        for o in others.filter(|o| o.at.max.x > min.x + slack && max.x > o.at.min.x + slack) {
            if o.at.max.y > min.y + slack && max.y > o.at.min.y + slack {
                fault(format!("Offcuts {} and {} lie on each other", row.id, o.id));
            }
        }
    }
    Some(rule)
}
