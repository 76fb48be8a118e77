//! How a laser's part of a machine profile is read and shown.

use crate::shop::fields::Fields;
use crate::shop::file::Sign;
use crate::shop::rows::Row;
use crate::shop::{Laser, LaserLines, LineStyle};

/// Reads the table `laser`.
pub(super) fn read(f: &mut Fields<'_>) -> Option<Laser> {
    let kerf = f.length("kerf", Sign::NotNegative);
    let compensate = f.flag("compensate");
    let lines = if f.has("lines") { lines(f) } else { Some(LaserLines::default()) };
    Some(Laser { kerf: kerf?, compensate: compensate?, lines: Box::new(lines?) })
}

/// What is left out of the table keeps its usual name and colour.
fn lines(f: &mut Fields<'_>) -> Option<LaserLines> {
    let mut inner = f.table("lines")?;
    let usual = LaserLines::default();
    let mark = style(&mut inner, "mark", usual.mark);
    let fold = style(&mut inner, "fold", usual.fold);
    let opening = style(&mut inner, "opening", usual.opening);
    let outline = style(&mut inner, "outline", usual.outline);
    let lines = LaserLines { mark: mark?, fold: fold?, opening: opening?, outline: outline? };
    let names = lines.all().map(|(_, style)| style.layer.as_str());
    let twice = (1..names.len()).find(|i| names[..*i].contains(&names[*i]));
    if let Some(i) = twice {
        let message = format!("two kinds of line lie on layer `{}`", names[i]);
        inner.clash(lines.all()[i].0, &message, "give each kind a layer of its own");
    }
    f.close(inner);
    twice.is_none().then_some(lines)
}

fn style(f: &mut Fields<'_>, key: &'static str, usual: LineStyle) -> Option<LineStyle> {
    if !f.has(key) {
        return Some(usual);
    }
    let mut inner = f.table(key)?;
    let layer = inner.text("layer");
    let colour = inner.text("colour");
    let number = inner.whole("number", 1, 255);
    let style = LineStyle { layer: layer?, colour: colour?, number: u8::try_from(number?).ok()? };
    if !style.has_plain_layer() {
        let message = format!("`{}` is no name of a layer", style.layer);
        inner.clash("layer", &message, "use capitals, digits, `$`, `-` and `_`, at most 31 of them");
        return None;
    }
    if !style.has_plain_colour() {
        inner.clash("colour", &format!("`{}` is no colour", style.colour), "write six hexadecimal digits: \"#0072b2\"");
        return None;
    }
    f.close(inner);
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
