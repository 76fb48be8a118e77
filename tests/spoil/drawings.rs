//! Ways to spoil drawings. Tolerance on a vertex: 0.005 mm.

use super::pack::{against, Effect, Pack};

const VERTEX: f64 = 0.005;
type Spoilt = Option<Effect>;

/// Lines of the group values of a code within the cut entities of a DXF.
fn groups(lines: &[String], code: &str) -> Vec<usize> {
    let start = lines.iter().position(|l| l == "ENTITIES").unwrap_or(0);
    let mut cut = false;
    let mut found = Vec::new();
    for k in (start + 1..lines.len().saturating_sub(1)).step_by(2) {
        match (lines[k].trim(), lines[k + 1].as_str()) {
            ("0", _) => cut = false,
            ("8", layer) => cut = !layer.starts_with("NOTE"),
            (c, _) if c == code && cut => found.push(k + 1),
            _ => {}
        }
    }
    found
}

/// Millimetres in one unit of a DXF: `$INSUNITS` 1 is inches, 4 millimetres (DXF reference, header variables).
fn dxf_mm(lines: &[String]) -> f64 {
    let unit = lines.iter().position(|l| l == "$INSUNITS").and_then(|k| lines.get(k + 2));
    if unit.is_some_and(|u| u.trim() == "1") {
        25.4
    } else {
        1.0
    }
}

/// By how much a number of a cut entity is moved, in mm.
fn shift(pack: &mut Pack, code: &str) -> Option<f64> {
    let name = pack.file(".dxf")?;
    let mut lines = pack.lines(&name);
    let at = pack.one(&groups(&lines, code))?;
    let by = pack.size(0.0008, 5.0);
    let old: f64 = lines[at].trim().parse().ok()?;
    lines[at] = format!("{:.6}", old + by * pack.sign());
    let new: f64 = lines[at].parse().ok()?;
    let by = (new - old).abs() * dxf_mm(&lines);
    pack.put(&name, &lines);
    Some(by)
}

pub(crate) fn dxf_coordinate(pack: &mut Pack) -> Spoilt {
    let code = if pack.pick(2) == 0 { "10" } else { "20" };
    against(shift(pack, code)?, VERTEX)
}

pub(crate) fn dxf_radius(pack: &mut Pack) -> Spoilt {
    against(shift(pack, "40")?, VERTEX)
}

pub(crate) fn dxf_bulge(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".dxf")?;
    let mut lines = pack.lines(&name);
    let bulges: Vec<usize> =
        groups(&lines, "42").into_iter().filter(|k| lines[*k].trim().parse::<f64>().is_ok_and(|b| b.abs() > 0.05)).collect();
    let at = pack.one(&bulges)?;
    let old: f64 = lines[at].trim().parse().ok()?;
    lines[at] = format!("{:.9}", -old);
    pack.put(&name, &lines);
    // Arcs here have chords of a millimetre or more: the arc's middle moves by bulge times chord.
    Some(Effect::Harms)
}

pub(crate) fn dxf_layer(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".dxf")?;
    let mut lines = pack.lines(&name);
    let start = lines.iter().position(|l| l == "ENTITIES")?;
    let named: Vec<usize> = (start + 1..lines.len() - 1)
        .step_by(2)
        .filter(|k| lines[*k].trim() == "8" && !lines[k + 1].starts_with("NOTE"))
        .map(|k| k + 1)
        .collect();
    let at = pack.one(&named)?;
    let others: Vec<String> = named.iter().map(|k| lines[*k].clone()).filter(|l| *l != lines[at]).collect();
    lines[at] = pack.one(&others).unwrap_or_else(|| "THROUGH-OUTSIDE-2".to_owned());
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

/// Where entities begin and end, cut ones only.
fn entities(lines: &[String]) -> Vec<(usize, usize)> {
    let Some(start) = lines.iter().position(|l| l == "ENTITIES") else { return Vec::new() };
    let begins: Vec<usize> = (start + 1..lines.len() - 1).step_by(2).filter(|k| lines[*k].trim() == "0").collect();
    let whole = begins.windows(2).map(|w| (w[0], w[1]));
    whole
        .filter(|(a, b)| {
            matches!(lines[a + 1].as_str(), "CIRCLE" | "LWPOLYLINE") && !lines[*a..*b].iter().any(|l| l.starts_with("NOTE"))
        })
        .collect()
}

pub(crate) fn dxf_missing(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".dxf")?;
    let mut lines = pack.lines(&name);
    let (a, b) = pack.one(&entities(&lines))?;
    lines.drain(a..b);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn dxf_twice(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".dxf")?;
    let mut lines = pack.lines(&name);
    let (a, b) = pack.one(&entities(&lines))?;
    let again = lines[a..b].to_vec();
    lines.splice(b..b, again);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn dxf_line_gone(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".dxf")?;
    let mut lines = pack.lines(&name);
    let codes = ["10", "20", "42", "90", "70", "40"];
    let code = codes[pack.pick(codes.len())];
    let at = pack.one(&groups(&lines, code))?;
    lines.remove(at - pack.pick(2));
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn dxf_unit(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".dxf")?;
    let mut lines = pack.lines(&name);
    let at = lines.iter().position(|l| l == "$INSUNITS")? + 2;
    let old = lines[at].trim().to_owned();
    let units = ["0", "1", "2", "4", "5", "6", "13"];
    let others: Vec<&str> = units.into_iter().filter(|u| *u != old).collect();
    pack.one(&others)?.clone_into(&mut lines[at]);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn dxf_extents(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".dxf")?;
    let mut lines = pack.lines(&name);
    let corner = if pack.pick(2) == 0 { "$EXTMIN" } else { "$EXTMAX" };
    let at = lines.iter().position(|l| l == corner)? + if pack.pick(2) == 0 { 2 } else { 4 };
    let by = pack.size(0.0008, 50.0);
    let old: f64 = lines[at].trim().parse().ok()?;
    lines[at] = format!("{:.6}", old + by);
    let by = by * dxf_mm(&lines);
    pack.put(&name, &lines);
    against(by, VERTEX)
}

/// Cuts a file short somewhere before its last tenth.
fn short(pack: &mut Pack, ending: &str) -> Spoilt {
    let name = pack.file(ending)?;
    let length = pack.files[&name].len();
    let keep = (pack.share() * 0.9 * length as f64) as usize;
    pack.files.get_mut(&name)?.truncate(keep);
    Some(Effect::Harms)
}

pub(crate) fn dxf_short(pack: &mut Pack) -> Spoilt {
    short(pack, ".dxf")
}

pub(crate) fn svg_short(pack: &mut Pack) -> Spoilt {
    short(pack, ".svg")
}

pub(crate) fn program_short(pack: &mut Pack) -> Spoilt {
    short(pack, "gcode/")
}

fn svg_paths(lines: &[String]) -> Vec<usize> {
    (0..lines.len()).filter(|k| lines[*k].contains("<path d=") && lines[*k].contains("data-feature")).collect()
}

/// Ends of an SVG's straight moves: places of the number after `L`.
pub(crate) fn svg_coordinate(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".svg")?;
    let mut lines = pack.lines(&name);
    let at = pack.one(&svg_paths(&lines))?;
    let starts: Vec<usize> = lines[at].match_indices('L').map(|(k, _)| k + 1).collect();
    let start = pack.one(&starts)?;
    let end = start + lines[at][start..].find(' ')?;
    let old: f64 = lines[at][start..end].parse().ok()?;
    let by = pack.size(0.0008, 5.0);
    let new = format!("{:.6}", old + by * pack.sign());
    lines[at].replace_range(start..end, &new);
    pack.put(&name, &lines);
    // The arc that begins or ends there may move further than the vertex: no small change is sure to be harmless.
    against(by * unit(&lines), VERTEX).filter(|e| *e == Effect::Harms)
}

fn unit(lines: &[String]) -> f64 {
    if lines.first().is_some_and(|l| l.contains("in\"")) {
        25.4
    } else {
        1.0
    }
}

pub(crate) fn svg_missing(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".svg")?;
    let mut lines = pack.lines(&name);
    let at = pack.one(&svg_paths(&lines))?;
    lines.remove(at);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn svg_arc(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".svg")?;
    let mut lines = pack.lines(&name);
    let at = pack.one(&svg_paths(&lines))?;
    let (zero, one) = (" 0 0 0 ", " 0 0 1 ");
    // A whole circle of two half turns stays one when both are turned: only one is.
    let (from, to) = if lines[at].contains(zero) { (zero, one) } else { (one, zero) };
    if !lines[at].contains(from) {
        return None;
    }
    lines[at] = lines[at].replacen(from, to, 1);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn svg_layer(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".svg")?;
    let mut lines = pack.lines(&name);
    let groups: Vec<usize> = (0..lines.len()).filter(|k| lines[*k].contains("data-layer=")).collect();
    let at = pack.one(&groups)?;
    lines[at] = lines[at].replacen("data-layer=\"", "data-layer=\"UNDER-", 1);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn svg_transform(pack: &mut Pack) -> Spoilt {
    let name = pack.file(".svg")?;
    let mut lines = pack.lines(&name);
    let groups: Vec<usize> = (0..lines.len()).filter(|k| lines[*k].contains("data-layer=")).collect();
    let at = pack.one(&groups)?;
    lines[at] = lines[at].replacen("<g ", "<g transform=\"translate(1 0)\" ", 1);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}
