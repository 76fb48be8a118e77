//! A reader of DXF group codes: release 12 (POLYLINE) and 2000 (LWPOLYLINE), strict about what lies on cut layers.

use super::drawing::{is_note, Drawing, Drawn};
use super::fault::{ascii, quoted, Fault};
use super::limits;
use super::shape::{Corner, Pt, Ring};
use crate::units::MM_PER_INCH;

/// A group: code, value and the line of its value.
#[derive(Clone, Copy, Debug)]
struct Group<'a> {
    code: i32,
    value: &'a str,
    line: usize,
}

/// Reads a drawing. Lengths come out in mm by the header's unit; without one they are taken as mm.
///
/// # Errors
/// At the first group that is not well formed, or an entity that does not belong on a cut layer.
pub fn read(bytes: &[u8]) -> Result<Drawing, Fault> {
    let groups = groups(ascii(bytes)?)?;
    let mut drawing = Drawing::default();
    let mut rest = groups.as_slice();
    let mut ended = false;
    while let Some((first, after)) = rest.split_first() {
        rest = after;
        match (first.code, first.value) {
            (999, text) => drawing.notes.push(text.to_owned()),
            (0, "EOF") => {
                ended = true;
                if let Some(more) = rest.first() {
                    return Err(Fault::on(more.line, "groups after the end of the file"));
                }
            }
            (0, "SECTION") => {
                let end = rest
                    .iter()
                    .position(|g| g.code == 0 && g.value == "ENDSEC")
                    .ok_or(Fault::on(first.line, "a section is not closed: the file is cut short"))?;
                section(&mut drawing, first.line, &rest[..end])?;
                rest = &rest[end + 1..];
            }
            _ => {
                return Err(Fault::on(
                    first.line,
                    format!("group {} {} outside any section", first.code, quoted(first.value)),
                ))
            }
        }
    }
    if !ended {
        return Err(Fault::whole("the file has no end mark (EOF): it is cut short"));
    }
    scale(&mut drawing);
    Ok(drawing)
}

fn groups(text: &str) -> Result<Vec<Group<'_>>, Fault> {
    let mut lines = text.split('\n').map(|l| l.strip_suffix('\r').unwrap_or(l)).enumerate();
    let mut groups = Vec::new();
    while let Some((index, code)) = lines.next() {
        if code.trim().is_empty() {
            // Blank lines may only trail.
            if lines.any(|(_, l)| !l.trim().is_empty()) {
                return Err(Fault::on(index + 1, "an empty line where a group code belongs"));
            }
            break;
        }
        let parsed = code.trim().parse::<i32>().ok().filter(|c| (0..=1071).contains(c));
        let code = parsed.ok_or(Fault::on(index + 1, format!("{} is not a group code", quoted(code))))?;
        let (_, value) = lines.next().ok_or(Fault::on(index + 1, "a group code without a value: the file is cut short"))?;
        groups.push(Group { code, value: value.trim(), line: index + 2 });
    }
    Ok(groups)
}

fn section(drawing: &mut Drawing, line: usize, groups: &[Group<'_>]) -> Result<(), Fault> {
    let Some(name) = groups.first().filter(|g| g.code == 2) else {
        return Err(Fault::on(line, "a section without a name"));
    };
    drawing.notes.extend(groups.iter().filter(|g| g.code == 999).map(|g| g.value.to_owned()));
    match name.value {
        "HEADER" => header(drawing, &groups[1..]),
        "ENTITIES" => entities(drawing, &groups[1..]),
        "BLOCKS" => blocks(&groups[1..]),
        "TABLES" | "CLASSES" | "OBJECTS" => Ok(()),
        other => Err(Fault::on(name.line, format!("unknown section {}", quoted(other)))),
    }
}

fn number(group: Group<'_>) -> Result<f64, Fault> {
    let value = group.value.parse::<f64>().ok().filter(|v| v.is_finite() && v.abs() <= limits::COORDINATE * MM_PER_INCH);
    value.ok_or(Fault::on(group.line, format!("{} is not a usable number", quoted(group.value))))
}

fn header(drawing: &mut Drawing, groups: &[Group<'_>]) -> Result<(), Fault> {
    let mut extents: [Option<f64>; 4] = [None; 4];
    let mut variable = "";
    for group in groups {
        match (variable, group.code) {
            (_, 9) => variable = group.value,
            ("$INSUNITS", 70) => {
                // DXF reference, $INSUNITS: 1 inches, 4 millimetres.
                drawing.unit_mm = match group.value {
                    "4" => Some(1.0),
                    "1" => Some(MM_PER_INCH),
                    other => {
                        return Err(Fault::on(
                            group.line,
                            format!("unit {} is neither millimetres (4) nor inches (1)", quoted(other)),
                        ))
                    }
                };
            }
            ("$EXTMIN", 10) => extents[0] = Some(number(*group)?),
            ("$EXTMIN", 20) => extents[1] = Some(number(*group)?),
            ("$EXTMAX", 10) => extents[2] = Some(number(*group)?),
            ("$EXTMAX", 20) => extents[3] = Some(number(*group)?),
            _ => {}
        }
    }
    if let [Some(a), Some(b), Some(c), Some(d)] = extents {
        drawing.extents = Some([a, b, c, d]);
    }
    Ok(())
}

/// Blocks may only frame the model and paper space; an entity in one would be cut by some readers and not by others.
fn blocks(groups: &[Group<'_>]) -> Result<(), Fault> {
    match groups.iter().find(|g| g.code == 0 && !matches!(g.value, "BLOCK" | "ENDBLK")) {
        Some(group) => Err(Fault::on(group.line, format!("entity {} inside a block", quoted(group.value)))),
        None => Ok(()),
    }
}

/// One entity's groups, after its type.
struct Entity<'a> {
    kind: &'a str,
    line: usize,
    groups: &'a [Group<'a>],
}

impl Entity<'_> {
    fn get(&self, code: i32) -> Option<Group<'_>> {
        self.groups.iter().find(|g| g.code == code).copied()
    }

    fn need(&self, code: i32) -> Result<f64, Fault> {
        number(self.get(code).ok_or(Fault::on(self.line, format!("{} without group {code}", self.kind)))?)
    }

    fn or(&self, code: i32, otherwise: f64) -> Result<f64, Fault> {
        self.get(code).map_or(Ok(otherwise), number)
    }

    fn layer(&self) -> &str {
        self.get(8).map_or("0", |g| g.value)
    }

    /// Flat in the plane, in model space, seen from above.
    fn lies_flat(&self) -> Result<(), Fault> {
        for (code, name, wanted) in [
            (30, "z", 0.0),
            (38, "elevation", 0.0),
            (67, "paper space", 0.0),
            (210, "extrusion x", 0.0),
            (220, "extrusion y", 0.0),
            (230, "extrusion z", 1.0),
        ] {
            if (self.or(code, wanted)? - wanted).abs() > limits::ROUNDING {
                return Err(Fault::on(self.line, format!("{} has {name} other than {wanted}", self.kind)));
            }
        }
        Ok(())
    }
}

fn entities(drawing: &mut Drawing, groups: &[Group<'_>]) -> Result<(), Fault> {
    let starts: Vec<usize> = (0..groups.len()).filter(|i| groups[*i].code == 0).collect();
    let mut open: Option<(Drawn, bool)> = None;
    for (k, start) in starts.iter().enumerate() {
        let end = starts.get(k + 1).copied().unwrap_or(groups.len());
        let entity = Entity { kind: groups[*start].value, line: groups[*start].line, groups: &groups[start + 1..end] };
        match (entity.kind, open.as_mut()) {
            ("VERTEX", Some((drawn, _))) => {
                if entity.layer() != drawn.layer {
                    return Err(Fault::on(entity.line, "a vertex on another layer than its polyline"));
                }
                let flags = entity.or(70, 0.0)?;
                if flags != 0.0 {
                    return Err(Fault::on(entity.line, "a vertex that belongs to a curve fit or a mesh"));
                }
                drawn.ring.0.push(corner(&entity)?);
            }
            ("SEQEND", Some(_)) => {
                if let Some((drawn, cut)) = open.take() {
                    keep(drawing, drawn, cut)?;
                }
            }
            (_, Some(_)) => return Err(Fault::on(entity.line, "a polyline is not closed by SEQEND")),
            ("POLYLINE", None) => {
                let cut = !is_note(entity.layer());
                entity.lies_flat()?;
                closed(&entity, cut)?;
                open = Some((Drawn { line: entity.line, layer: entity.layer().to_owned(), ring: Ring(Vec::new()) }, cut));
            }
            (_, None) => single(drawing, &entity)?,
        }
    }
    if open.is_some() {
        return Err(Fault::whole("the last polyline is not closed by SEQEND: the file is cut short"));
    }
    Ok(())
}

fn corner(entity: &Entity<'_>) -> Result<Corner, Fault> {
    Ok(Corner { at: Pt::new(entity.need(10)?, entity.need(20)?), bulge: entity.or(42, 0.0)? })
}

fn closed(entity: &Entity<'_>, cut: bool) -> Result<(), Fault> {
    let flags = entity.or(70, 0.0)?;
    if cut && flags != 1.0 && flags != 129.0 {
        return Err(Fault::on(
            entity.line,
            format!("{} on layer {} does not carry the closed flag alone", entity.kind, quoted(entity.layer())),
        ));
    }
    Ok(())
}

fn single(drawing: &mut Drawing, entity: &Entity<'_>) -> Result<(), Fault> {
    let layer = entity.layer().to_owned();
    if is_note(&layer) {
        drawing.notes.extend(entity.groups.iter().filter(|g| matches!(g.code, 1 | 3)).map(|g| g.value.to_owned()));
        *drawing.uncut.entry(layer).or_insert(0) += 1;
        return Ok(());
    }
    let ring = match entity.kind {
        "CIRCLE" => {
            let radius = entity.need(40)?;
            if radius <= 0.0 {
                return Err(Fault::on(entity.line, "a circle without a radius"));
            }
            Ring::circle(Pt::new(entity.need(10)?, entity.need(20)?), radius)
        }
        "LWPOLYLINE" => {
            closed(entity, true)?;
            light(entity)?
        }
        "LINE" | "ARC" => {
            return Err(Fault::on(entity.line, format!("an open {} on the cut layer {}", entity.kind, quoted(&layer))))
        }
        other => {
            return Err(Fault::on(entity.line, format!("entity {} on the cut layer {}", quoted(other), quoted(&layer))))
        }
    };
    entity.lies_flat()?;
    keep(drawing, Drawn { line: entity.line, layer, ring }, true)
}

fn light(entity: &Entity<'_>) -> Result<Ring, Fault> {
    let mut corners: Vec<Corner> = Vec::new();
    for group in entity.groups {
        match (group.code, corners.last_mut()) {
            (10, _) => corners.push(Corner { at: Pt::new(number(*group)?, f64::NAN), bulge: 0.0 }),
            (20, Some(last)) => last.at.y = number(*group)?,
            (42, Some(last)) => last.bulge = number(*group)?,
            _ => {}
        }
    }
    if corners.iter().any(|c| c.at.y.is_nan()) {
        return Err(Fault::on(entity.line, "a vertex without y"));
    }
    let count = entity.need(90)?;
    if count != corners.len() as f64 {
        return Err(Fault::on(entity.line, format!("the polyline says {count} vertices and has {}", corners.len())));
    }
    Ok(Ring(corners))
}

fn keep(drawing: &mut Drawing, drawn: Drawn, cut: bool) -> Result<(), Fault> {
    if !cut {
        *drawing.uncut.entry(drawn.layer).or_insert(0) += 1;
        return Ok(());
    }
    check_ring(&drawn.ring, drawn.line)?;
    drawing.contours.push(drawn);
    Ok(())
}

/// A ring fit to be cut: at least two vertices, none repeated, arcs of at most a half turn.
pub(super) fn check_ring(ring: &Ring, line: usize) -> Result<(), Fault> {
    if ring.0.len() < 2 {
        return Err(Fault::on(line, format!("a contour with {} vertices", ring.0.len())));
    }
    for (a, b, bulge) in ring.segments() {
        if a.distance(b) < limits::SAME_POINT {
            return Err(Fault::on(line, format!("a contour with a repeated vertex at ({:.3}, {:.3})", a.x, a.y)));
        }
        if bulge.abs() > 1.0 + limits::SAME_POINT {
            return Err(Fault::on(line, format!("an arc of more than a half turn at ({:.3}, {:.3})", a.x, a.y)));
        }
    }
    Ok(())
}

fn scale(drawing: &mut Drawing) {
    let factor = drawing.unit_mm.unwrap_or(1.0);
    let point = |p: Pt| Pt::new(p.x * factor, p.y * factor);
    for drawn in &mut drawing.contours {
        drawn.ring = drawn.ring.mapped(false, point);
    }
    drawing.extents = drawing.extents.map(|e| e.map(|v| v * factor));
}
