//! DXF: the tag pairs of the entities section, by the published reference of the format (group codes of the AC1009 to AC1032 forms).

use super::chain::{close, Chain};
use super::{DrawingFault, Read};
use crate::geom::Vertex;
use crate::units::MM_PER_INCH;

/// Millimetres of `$INSUNITS` values that a bench uses: inches, feet, millimetres, centimetres, metres.
const UNITS: [(i64, f64); 5] = [(1, MM_PER_INCH), (2, 12.0 * MM_PER_INCH), (4, 1.0), (5, 10.0), (6, 1000.0)];
/// What may stand beside an outline without being part of it.
const BESIDE: [&str; 5] = ["TEXT", "MTEXT", "POINT", "DIMENSION", "VIEWPORT"];

/// One entity: its type and its tag pairs.
struct Entity<'t> {
    kind: &'t str,
    tags: Vec<(i64, &'t str)>,
}

impl Entity<'_> {
    fn number(&self, code: i64) -> Option<f64> {
        self.tags.iter().find(|(c, _)| *c == code).and_then(|(_, v)| v.parse().ok()).filter(|x: &f64| x.is_finite())
    }

    fn need(&self, code: i64) -> Result<f64, DrawingFault> {
        self.number(code).ok_or_else(|| broken(&format!("a {} lacks its group {code}", self.kind)))
    }

    fn flag(&self, bit: i64) -> bool {
        self.number(70).is_some_and(|flags| flags as i64 & bit != 0)
    }

    /// Drawn on the back of the page: x runs the other way.
    fn is_mirrored(&self) -> bool {
        self.number(230).is_some_and(|z| z < 0.0)
    }
}

fn broken(what: &str) -> DrawingFault {
    DrawingFault::new(format!("it is damaged: {what}"), "save the drawing again as ASCII DXF")
}

/// All outlines of a drawing.
pub(super) fn read(text: &str) -> Result<Read, DrawingFault> {
    if text.starts_with("AutoCAD Binary DXF") {
        return Err(DrawingFault::new("it is a binary DXF", "save it as ASCII DXF"));
    }
    let tags = pairs(text)?;
    let mm_per_unit = tags
        .windows(2)
        .find(|w| w[0] == (9, "$INSUNITS"))
        .and_then(|w| w[1].1.parse::<i64>().ok())
        .and_then(|code| UNITS.iter().find(|(c, _)| *c == code))
        .map(|(_, mm)| *mm);
    let mut chains = Vec::new();
    let list = entities(&tags)?;
    let mut rest = list.iter();
    while let Some(entity) = rest.next() {
        let mut made = match entity.kind {
            "LWPOLYLINE" => light_polyline(entity)?,
            "POLYLINE" => {
                let mut vertices = Vec::new();
                for part in rest.by_ref().take_while(|e| e.kind != "SEQEND") {
                    let bulge = part.number(42).unwrap_or(0.0);
                    vertices.push(Vertex { x: part.need(10)?, y: part.need(20)?, bulge });
                }
                Chain { vertices, closed: entity.flag(1) }
            }
            "LINE" => {
                let end = |x, y| Ok(Vertex { x: entity.need(x)?, y: entity.need(y)?, bulge: 0.0 });
                Chain { vertices: vec![end(10, 20)?, end(11, 21)?], closed: false }
            }
            "CIRCLE" => Chain::arc([entity.need(10)?, entity.need(20)?], entity.need(40)?, 0.0, 0.0),
            "ARC" => Chain::arc(
                [entity.need(10)?, entity.need(20)?],
                entity.need(40)?,
                entity.need(50)?.to_radians(),
                entity.need(51)?.to_radians(),
            ),
            kind if BESIDE.contains(&kind) => continue,
            kind => {
                return Err(DrawingFault::new(
                    format!("it holds a {kind}, which is not read"),
                    "save the outline as polylines, lines, arcs and circles",
                ))
            }
        };
        if entity.is_mirrored() {
            for v in &mut made.vertices {
                (v.x, v.bulge) = (-v.x, -v.bulge);
            }
        }
        chains.push(made);
    }
    Ok(Read { outlines: close(chains)?, mm_per_unit })
}

fn pairs(text: &str) -> Result<Vec<(i64, &str)>, DrawingFault> {
    let mut lines = text.lines();
    let mut list = Vec::new();
    while let Some(code) = lines.next() {
        if code.trim().is_empty() && lines.clone().next().is_none() {
            break;
        }
        let code = code.trim().parse().map_err(|_| broken(&format!("group code expected, not {:?}", shortened(code))))?;
        let value = lines.next().ok_or_else(|| broken("it ends after a group code"))?;
        list.push((code, value.trim()));
    }
    Ok(list)
}

fn shortened(text: &str) -> String {
    text.trim().chars().take(20).collect()
}

/// What stands in the section of entities; blocks are not looked into, so that an inserted one is a kind that is not read.
fn entities<'t>(tags: &[(i64, &'t str)]) -> Result<Vec<Entity<'t>>, DrawingFault> {
    let start = tags.windows(2).position(|w| w[0] == (0, "SECTION") && w[1] == (2, "ENTITIES"));
    let start = start.ok_or_else(|| broken("it has no section of entities"))?;
    let mut list: Vec<Entity<'t>> = Vec::new();
    for (code, value) in &tags[start + 2..] {
        match (code, *value) {
            (0, "ENDSEC") => return Ok(list),
            (0, kind) => list.push(Entity { kind, tags: Vec::new() }),
            _ => {
                if let Some(last) = list.last_mut() {
                    last.tags.push((*code, value));
                }
            }
        }
    }
    Err(broken("its section of entities has no end"))
}

fn light_polyline(entity: &Entity<'_>) -> Result<Chain, DrawingFault> {
    let mut vertices: Vec<Vertex> = Vec::new();
    for (code, value) in &entity.tags {
        let number = || value.parse::<f64>().ok().filter(|x| x.is_finite()).ok_or_else(|| broken("a vertex is no number"));
        match code {
            10 => vertices.push(Vertex { x: number()?, y: 0.0, bulge: 0.0 }),
            20 | 42 => {
                let Some(last) = vertices.last_mut() else { continue };
                *(if *code == 20 { &mut last.y } else { &mut last.bulge }) = number()?;
            }
            _ => {}
        }
    }
    Ok(Chain { vertices, closed: entity.flag(1) })
}
