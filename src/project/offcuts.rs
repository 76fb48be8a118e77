//! The list of offcuts of an earlier pack, taken as stock.

use super::codes;
use super::shop::Stock;
use super::types::Project;
use super::Written;
use crate::diag::FileId;
use crate::diag::Finding;
use crate::diag::Span;
use crate::diag::Texts;
use crate::units::Mm;

/// Columns that are needed; others are left alone. Lengths are in mm.
const NEEDED: [&str; 3] = ["profile", "length_mm", "width_mm"];

/// Takes the pieces of a list that are of a board's profile as that board's first stock, the smallest first.
///
/// A list that cannot be read, or that holds nothing for the board, is a finding.
#[must_use]
pub fn take_offcuts(project: &mut Project, board: usize, texts: &Texts, file: FileId) -> Vec<Finding> {
    let mut findings = Vec::new();
    let Some(text) = project.boards.get_mut(board) else { return findings };
    let profile = text.profile.as_ref().map(|p| p.value.clone()).unwrap_or_default();
    match pieces(texts.text(file), &profile, file) {
        Ok(mut pieces) => {
            if pieces.is_empty() {
                let message = format!("the list of offcuts holds no piece of `{profile}` for board \"{}\"", text.name.value);
                let at = text.offcuts.as_ref().map_or(text.span, |o| o.span);
                findings.push(
                    Finding::note(codes::OFFCUTS_EMPTY, message).at(at).remedy("take `offcuts` out, or name another list"),
                );
            }
            let area =
                |s: &Stock| s.length.as_ref().map_or(0.0, |l| l.value.0) * s.width.as_ref().map_or(0.0, |w| w.value.0);
            pieces.sort_by(|a, b| area(a).total_cmp(&area(b)));
            text.kept = pieces;
        }
        Err((message, span)) => findings.push(
            Finding::stop(codes::OFFCUTS_UNREADABLE, format!("the list of offcuts cannot be read: {message}"))
                .at(span)
                .limit(format!("a table with the columns {}, as `offcuts.csv` of a pack", NEEDED.join(", ")))
                .remedy("name the `offcuts.csv` of a pack, and take out of it what is no longer there"),
        ),
    }
    findings
}

/// The rows of one profile; no field of these columns needs quotes, so a row with quotes elsewhere still has them in place.
fn pieces(text: &str, profile: &str, file: FileId) -> Result<Vec<Stock>, (String, Span)> {
    let mut start = 0;
    let mut columns: Option<Vec<usize>> = None;
    let mut found = Vec::new();
    for line in text.split_inclusive('\n') {
        let span = Span { file, start, end: start + line.trim_end().len() };
        start += line.len();
        let fields = fields(line.trim_end());
        let Some(at) = &columns else {
            let place =
                |name: &str| fields.iter().position(|f| f == name).ok_or_else(|| (format!("no column {name}"), span));
            columns = Some(NEEDED.into_iter().map(place).collect::<Result<_, _>>()?);
            continue;
        };
        if line.trim().is_empty() {
            continue;
        }
        let field = |k: usize| fields.get(at[k]).map(String::as_str).ok_or_else(|| ("a row is too short".to_owned(), span));
        let length = |k: usize| {
            let value = field(k)?.trim().parse::<f64>().ok().filter(|v| v.is_finite() && *v > 0.0);
            let value = value.ok_or_else(|| (format!("{} is not a length", NEEDED[k]), span))?;
            Ok(Written { value: Mm(value), span })
        };
        let (l, w) = (length(1)?, length(2)?);
        if field(0)? == profile {
            found.push(Stock {
                length: Some(l),
                width: Some(w),
                count: Some(Written { value: 1, span }),
                price: None,
                defects: Vec::new(),
                span,
            });
        }
    }
    if columns.is_none() {
        return Err(("it is empty".to_owned(), Span { file, start: 0, end: 0 }));
    }
    Ok(found)
}

/// The fields of one line, quotes taken off.
fn fields(line: &str) -> Vec<String> {
    let mut all = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => all.push(String::new()),
            c => {
                if let Some(last) = all.last_mut() {
                    last.push(c);
                }
            }
        }
    }
    all
}
