//! A pack's shapes and layout judged by a general polygon library (`geo`), from nothing but `job.json`; its programs swept by another.

mod machines;
mod strokes;
mod sweep;

use crate::pack::rows;
use geo::{Area, BoundingRect, Contains, Distance, Euclidean, LineString, Polygon, Translate, Validation};
use serde_json::Value;

/// Arcs become chords this close to them, in mm.
const CHORD: f64 = 0.02;
/// What chords and the rounding of `job.json` may make of an area, per mm of edge.
const AREA_PER_MM: f64 = 0.02;
/// Parts lie at least the cutter's width apart: 6 mm is the narrowest outline cutter of the samples.
const APART: f64 = 6.0;

/// A contour's vertices `[x, y, bulge]` as a closed ring; the arc from a vertex turns by 4 atan(bulge) (DXF reference, LWPOLYLINE
/// group 42).
fn ring(vertices: &Value) -> LineString<f64> {
    let points: Vec<[f64; 3]> = rows(vertices).iter().map(|v| [0, 1, 2].map(|i| v[i].as_f64().expect("a number"))).collect();
    let mut line = Vec::new();
    for (i, [x, y, bulge]) in points.iter().copied().enumerate() {
        let [ex, ey, _] = points[(i + 1) % points.len()];
        line.push((x, y));
        if bulge == 0.0 {
            continue;
        }
        let sweep = 4.0 * bulge.atan();
        let chord = (ex - x).hypot(ey - y);
        let radius = chord / 2.0 / (sweep / 2.0).sin().abs();
        // The centre lies left of the chord for a positive bulge, at the distance that the sagitta leaves.
        let off = (radius - chord / 2.0 * bulge.abs()) * bulge.signum();
        let (cx, cy) = (f64::midpoint(x, ex) - (ey - y) / chord * off, f64::midpoint(y, ey) + (ex - x) / chord * off);
        let steps = (sweep.abs() / (2.0 * (1.0 - CHORD / radius).clamp(-1.0, 1.0).acos())).ceil().max(1.0) as usize;
        let from = (y - cy).atan2(x - cx);
        for k in 1..steps {
            let angle = from + sweep * k as f64 / steps as f64;
            line.push((cx + radius * angle.cos(), cy + radius * angle.sin()));
        }
    }
    LineString::from(line)
}

/// The part's outline with its through openings as holes, in its own frame.
fn part(part: &Value) -> Polygon<f64> {
    let of = |operation: &str| {
        rows(&part["contours"])
            .iter()
            .filter(|c| c["operation"] == operation && c["depth_mm"].is_null())
            .map(|c| ring(&c["vertices"]))
            .collect::<Vec<_>>()
    };
    let outline = of("through-outside").pop().expect("an outline");
    Polygon::new(outline, of("through-inside"))
}

fn quarter_turned(polygon: &Polygon<f64>, degrees: u64) -> Polygon<f64> {
    use geo::MapCoords;
    polygon.map_coords(|c| match degrees {
        0 => c,
        90 => geo::Coord { x: -c.y, y: c.x },
        180 => geo::Coord { x: -c.x, y: -c.y },
        270 => geo::Coord { x: c.y, y: -c.x },
        other => panic!("turned by {other} degrees"),
    })
}

/// Every part is a valid polygon of the area that is said, openings inside; on every sheet the parts lie inside and apart.
pub(crate) fn shapes_and_layout(job: &Value) {
    for p in rows(&job["parts"]) {
        let shape = part(p);
        let id = &p["id"];
        shape.check_validation().unwrap_or_else(|e| panic!("{id}: {e}"));
        let outline = Polygon::new(shape.exterior().clone(), Vec::new());
        for hole in shape.interiors() {
            assert!(outline.contains(hole), "{id}: an opening is not inside the outline");
        }
        let bounds = outline.bounding_rect().expect("bounds");
        assert!((bounds.width() - p["x_mm"].as_f64().expect("a number")).abs() < 0.01, "{id}: width");
        assert!((bounds.height() - p["y_mm"].as_f64().expect("a number")).abs() < 0.01, "{id}: height");
    }
    for sheet in rows(&job["sheets"]) {
        let laid: Vec<(String, Polygon<f64>)> = rows(&sheet["placements"])
            .iter()
            .map(|placed| {
                let p = rows(&job["parts"]).iter().find(|p| p["id"] == placed["part"]).expect("the part");
                let turned = quarter_turned(&part(p), placed["turn_deg"].as_u64().expect("degrees"));
                let (x, y) = (placed["x_mm"].as_f64().expect("x"), placed["y_mm"].as_f64().expect("y"));
                (format!("{} {}", p["id"], placed["copy"]), turned.translate(x, y))
            })
            .collect();
        let (length, width) = (sheet["length_mm"].as_f64().expect("length"), sheet["width_mm"].as_f64().expect("width"));
        for (i, (name, shape)) in laid.iter().enumerate() {
            let b = shape.bounding_rect().expect("bounds");
            assert!(
                b.min().x > 0.0 && b.min().y > 0.0 && b.max().x < length && b.max().y < width,
                "{name} is off its sheet"
            );
            for (other, neighbour) in &laid[..i] {
                let apart = Euclidean.distance(shape, neighbour);
                // A laser's parts lie 2 mm apart.
                let least = if job["laser"].is_object() { 1.99 } else { APART };
                assert!(apart >= least, "{name} and {other} lie {apart} mm apart");
            }
        }
    }
}

/// The library and the ring above agree on shapes whose areas are known: a 60 x 40 rectangle, and a circle of radius 10 as two
/// half turns.
#[test]
fn rings_have_their_textbook_areas() {
    let area = |text: &str| Polygon::new(ring(&serde_json::from_str(text).expect("JSON")), Vec::new()).signed_area();
    assert!((area("[[0,0,0],[60,0,0],[60,40,0],[0,40,0]]") - 2400.0).abs() < 1e-9);
    let circle = area("[[-10,0,1],[10,0,1]]");
    let exact = std::f64::consts::PI * 100.0;
    assert!((circle - exact).abs() < AREA_PER_MM * 2.0 * std::f64::consts::PI * 10.0, "{circle} for {exact}");
    assert!(circle < exact, "chords lie inside a convex arc");
}
