//! The page of words and the picture of a sheet's cuts: they must say what the table says.

use super::cuts::{Replay, Row};
use crate::diag::Finding;
use crate::proof::fault::Fault;
use crate::proof::job::Sheet;
use crate::proof::limits;
use crate::proof::pack::{file_name, Pack};
use crate::proof::shape::{Bounds, Pt};
use crate::proof::verdict::Rule;
use crate::proof::xml::{Piece, Reader};
use crate::units::MM_PER_INCH;
use std::collections::BTreeMap;

/// The page of words: its heading, and its lines by their cells.
#[derive(Debug)]
pub(in crate::proof) struct Page {
    text: String,
    /// Cells of the lines that begin with a cut's number.
    cuts: Vec<Vec<String>>,
}

/// Reads a page: cells are two spaces or more apart.
pub(super) fn page(text: &str) -> Page {
    let cells = |line: &str| -> Vec<String> {
        line.split("  ").map(str::trim).filter(|c| !c.is_empty()).map(str::to_owned).collect()
    };
    let numbered = |line: &&str| line.starts_with(|c: char| c.is_ascii_digit());
    Page { text: text.to_owned(), cuts: text.lines().filter(numbered).map(cells).collect() }
}

/// Holds a page against the table.
pub(super) fn compare_page(pack: &Pack<'_>, page: &Page, file: &str, rows: &[Row], rule: &mut Rule) {
    let file = file_name(file);
    let unit_mm = if page.text.lines().any(|l| l.trim() == "units: in") { MM_PER_INCH } else { 1.0 };
    // Half of the last decimal shown, and the table's own.
    let slack = if unit_mm > 1.0 { 0.0006 * unit_mm + limits::SAWN } else { 0.05 + limits::SAWN };
    if !page.text.contains(&pack.job.revision) {
        rule.fault(|code| Finding::stop(code, format!("{file} does not carry the revision of the job")));
    }
    if page.cuts.len() != rows.len() {
        rule.fault(|code| Finding::stop(code, format!("{file} lists {} cuts of {}", page.cuts.len(), rows.len())));
    }
    for (cells, row) in page.cuts.iter().zip(rows) {
        rule.count(1);
        let fence = cells.get(4).and_then(|c| c.trim_start_matches('*').parse::<f64>().ok());
        let starts = |k: usize, name: &str| cells.get(k).is_some_and(|c| c.split(' ').next() == name.split(' ').next());
        let is = |k: usize, word: &str| cells.get(k).is_some_and(|c| c == word);
        let good = is(0, &row.number.to_string())
            && is(1, &row.stage.to_string())
            && is(2, &row.direction)
            && starts(3, &row.piece.name)
            && fence.is_some_and(|f| (f * unit_mm - row.fence).abs() <= slack)
            && is(5, &row.against)
            && starts(6, &row.fence_side.name)
            && row.free_side.as_ref().is_none_or(|f| starts(7, &f.name));
        if !good {
            rule.fault(|code| {
                Finding::stop(code, format!("{file} says something else of cut {} than the table", row.number))
            });
        }
    }
}

/// The picture: pieces by name, cuts by number, in mm with y down.
#[derive(Debug, Default)]
pub(in crate::proof) struct Picture {
    text: String,
    view: [f64; 2],
    pieces: BTreeMap<String, [f64; 4]>,
    cuts: BTreeMap<u32, [f64; 4]>,
}

/// Reads a picture.
pub(super) fn picture(text: &str) -> Result<Picture, Fault> {
    let mut reader = Reader::new(text);
    let mut picture = Picture::default();
    loop {
        let line = reader.line();
        let Some(piece) = reader.next()? else { return Ok(picture) };
        match piece {
            Piece::Words(words) => picture.text.push_str(&words),
            Piece::Close(_) => {}
            Piece::Open { name, attributes, .. } => {
                let get = |key: &str| attributes.iter().find(|(k, _)| *k == key).map(|(_, v)| v.as_str());
                let number = |key: &str| {
                    let value = get(key).and_then(|v| v.parse::<f64>().ok()).filter(|v| v.is_finite());
                    value.ok_or_else(|| Fault::on(line, format!("{key} is not a number")))
                };
                match (name, get("data-piece"), get("data-cut")) {
                    ("svg", ..) => {
                        let view: Vec<f64> =
                            get("viewBox").unwrap_or_default().split(' ').filter_map(|v| v.parse().ok()).collect();
                        let [x, y, w, h] = view[..] else { return Err(Fault::on(line, "no view box")) };
                        let true_size = |v: f64, key: &str| {
                            get(key).and_then(|t| t.strip_suffix("mm")).and_then(|t| t.parse().ok()) == Some(v)
                        };
                        if x != 0.0 || y != 0.0 || !true_size(w, "width") || !true_size(h, "height") {
                            return Err(Fault::on(line, "the picture is not in true size"));
                        }
                        picture.view = [w, h];
                    }
                    ("rect", Some(piece), _) => {
                        let at = [number("x")?, number("y")?, number("width")?, number("height")?];
                        if picture.pieces.insert(piece.to_owned(), at).is_some() {
                            return Err(Fault::on(line, format!("piece {piece} is drawn twice")));
                        }
                    }
                    ("line", _, Some(cut)) => {
                        let cut = cut.parse().map_err(|_| Fault::on(line, "a cut without a number"))?;
                        picture.cuts.insert(cut, [number("x1")?, number("y1")?, number("x2")?, number("y2")?]);
                    }
                    _ => {}
                }
            }
        }
    }
}

/// Holds a picture against what the table makes of the sheet.
pub(super) fn compare_picture(
    pack: &Pack<'_>,
    picture: &Picture,
    file: &str,
    sheet: &Sheet,
    rows: &[Row],
    replay: &Replay,
    rule: &mut Rule,
) {
    let file = file_name(file);
    if !picture.text.contains(&pack.job.revision) {
        rule.fault(|code| Finding::stop(code, format!("{file} does not carry the revision of the job")));
    }
    let near = |a: f64, b: f64| (a - b).abs() <= limits::SAWN;
    if !near(picture.view[0], sheet.length_mm) || !near(picture.view[1], sheet.width_mm) {
        rule.fault(|code| Finding::stop(code, format!("{file} does not show the whole sheet")));
    }
    let shown = |p: Pt| Pt::new(p.x, sheet.width_mm - p.y);
    let mut drawn = picture.pieces.clone();
    for (name, Bounds { min, max }) in replay.pieces.iter().filter(|(name, _)| name != "waste") {
        rule.count(1);
        let corner = shown(Pt::new(min.x, max.y));
        let same = drawn.remove(name).is_some_and(|[x, y, w, h]| {
            near(x, corner.x) && near(y, corner.y) && near(w, max.x - min.x) && near(h, max.y - min.y)
        });
        if !same {
            rule.fault(|code| Finding::stop(code, format!("{file} does not show {name} where the cuts leave it")));
        }
    }
    for name in drawn.keys() {
        rule.fault(|code| Finding::stop(code, format!("{file} shows {name}, which no cut makes")));
    }
    if picture.cuts.len() != rows.len() {
        rule.fault(|code| Finding::stop(code, format!("{file} shows {} cuts of {}", picture.cuts.len(), rows.len())));
    }
    for (row, [a, b]) in rows.iter().zip(&replay.lines) {
        let (a, b) = (shown(*a), shown(*b));
        let same = picture
            .cuts
            .get(&row.number)
            .is_some_and(|[x1, y1, x2, y2]| near(*x1, a.x) && near(*y1, a.y) && near(*x2, b.x) && near(*y2, b.y));
        if !same {
            rule.fault(|code| Finding::stop(code, format!("{file} shows cut {} elsewhere", row.number)));
        }
    }
}
