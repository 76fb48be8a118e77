//! How a laser's part of a machine profile is read and shown.

use crate::shop::fields::Fields;
use crate::shop::file::Sign;
use crate::shop::rows::Row;
use crate::shop::{Laser, LaserLines, LineStyle};

/// Reads the table `laser`.
pub(super) fn read(f: &mut Fields<'_>) -> Option<Laser> {
    let kerf = f.length("kerf", Sign::NotNegative);
    let compensate = f.flag("compensate");
    let lines = f.or_usual("lines", LaserLines::default(), |f, key| f.inner(key, lines));
    Some(Laser { kerf: kerf?, compensate: compensate?, lines: Box::new(lines?) })
}

/// What is left out of the table keeps its usual name and colour.
fn lines(f: &mut Fields<'_>) -> Option<LaserLines> {
    let usual = LaserLines::default();
    let mut line = |key, usual| f.or_usual(key, usual, |f, key| f.inner(key, style));
    let mark = line("mark", usual.mark);
    let fold = line("fold", usual.fold);
    let opening = line("opening", usual.opening);
    let outline = line("outline", usual.outline);
    let lines = LaserLines { mark: mark?, fold: fold?, opening: opening?, outline: outline? };
    let names = lines.all().map(|(_, style)| style.layer.as_str());
    if let Some(i) = (1..names.len()).find(|i| names[..*i].contains(&names[*i])) {
        let message = format!("two kinds of line lie on layer `{}`", names[i]);
        f.clash(lines.all()[i].0, &message, "give each kind a layer of its own");
        return None;
    }
    Some(lines)
}

fn style(f: &mut Fields<'_>) -> Option<LineStyle> {
    let layer = f.text("layer");
    let colour = f.text("colour");
    let number = f.whole("number", 1, 255);
    let style = LineStyle { layer: layer?, colour: colour?, number: u8::try_from(number?).ok()? };
    if !style.has_plain_layer() {
        let message = format!("`{}` is no name of a layer", style.layer);
        f.clash("layer", &message, "use capitals, digits, `$`, `-` and `_`, at most 31 of them");
        return None;
    }
    if !style.has_plain_colour() {
        f.clash("colour", &format!("`{}` is no colour", style.colour), "write six hexadecimal digits: \"#0072b2\"");
        return None;
    }
    Some(style)
}

/// Its values.
pub(super) fn rows(laser: &Laser) -> Vec<Row> {
    let mut rows = vec![
        Row::word("process", "laser"),
        Row::length("laser.kerf", laser.kerf),
        Row::flag("laser.compensate", laser.compensate),
    ];
    for (kind, style) in laser.lines.all() {
        rows.extend([
            Row::word(&format!("laser.lines.{kind}.layer"), &style.layer),
            Row::word(&format!("laser.lines.{kind}.colour"), &style.colour),
            Row::count(&format!("laser.lines.{kind}.number"), u32::from(style.number)),
        ]);
    }
    rows
}
