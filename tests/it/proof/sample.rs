//! A small pack written by hand: a board of two panels with openings, holes, grooves on both faces, and a mate that seats.

mod drawings;
mod programs;

use drawings::{dxf, svg};
use programs::{first_side, second_side};
use serde_json::{json, Value};
use std::collections::BTreeMap;

pub(super) type Files = BTreeMap<String, Vec<u8>>;
pub(super) const REVISION: &str = "0a1b2c3d4e5f";
const R: f64 = 3.0;
const TOP: f64 = 15.0;
const THROUGH: f64 = -0.3;
const SHEET: (f64, f64) = (600.0, 400.0);
/// Registration holes, on the sheet's middle line: where they are whichever face lies up.
const PINS: [(f64, f64); 2] = [(10.0, 200.0), (560.0, 200.0)];

/// How the files are written.
#[derive(Clone, Copy)]
pub(super) struct Flavour {
    pub inches: bool,
    pub release_12: bool,
    pub sheet_top: bool,
}

pub(super) const PLAIN: Flavour = Flavour { inches: false, release_12: false, sheet_top: false };

type Vertices = Vec<[f64; 3]>;

pub(super) struct Contour {
    pub feature: &'static str,
    operation: &'static str,
    side: &'static str,
    depth: Option<f64>,
    vertices: Vertices,
}

fn polygon(points: &[(f64, f64)]) -> Vertices {
    points.iter().map(|(x, y)| [*x, *y, 0.0]).collect()
}

fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Vertices {
    polygon(&[(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
}

/// A rectangle with round corners, counter-clockwise from the left of its lower side.
fn rounded(x0: f64, y0: f64, x1: f64, y1: f64, r: f64) -> Vertices {
    let b = (std::f64::consts::PI / 8.0).tan();
    vec![
        [x0 + r, y0, 0.0],
        [x1 - r, y0, b],
        [x1, y0 + r, 0.0],
        [x1, y1 - r, b],
        [x1 - r, y1, 0.0],
        [x0 + r, y1, b],
        [x0, y1 - r, 0.0],
        [x0, y0 + r, b],
    ]
}

fn circle(x: f64, y: f64, r: f64) -> Vertices {
    vec![[x - r, y, 1.0], [x + r, y, 1.0]]
}

fn slot() -> Vertices {
    let (x0, x1, y0, y1) = (100.0, 130.0, 100.0, 115.2);
    polygon(&[
        (x0, y0 - R),
        (x0 + 6.0, y0 - R),
        (x0 + 6.0, y0),
        (x1 - 6.0, y0),
        (x1 - 6.0, y0 - R),
        (x1, y0 - R),
        (x1, y1 + R),
        (x1 - 6.0, y1 + R),
        (x1 - 6.0, y1),
        (x0 + 6.0, y1),
        (x0 + 6.0, y1 + R),
        (x0, y1 + R),
    ])
}

/// The panel's contours in the order of cutting.
pub(super) fn contours() -> Vec<Contour> {
    let c = |feature, operation, side, depth, vertices| Contour { feature, operation, side, depth, vertices };
    vec![
        c("pin", "drill", "up", None, circle(20.0, 100.0, 3.0)),
        c("pilot", "drill", "up", Some(10.0), circle(270.0, 30.0, 3.0)),
        c("hole", "drill", "up", None, circle(40.0, 40.0, 5.0)),
        c("under", "pocket", "down", Some(4.0), rectangle(100.0, 20.0, 140.0, 40.0)),
        c("groove", "pocket", "up", Some(6.0), rectangle(40.0, 80.0, 60.0, 180.0)),
        c("slot", "through-inside", "up", None, slot()),
        c("window", "through-inside", "up", None, rounded(180.0, 60.0, 260.0, 120.0, 5.0)),
        c("outline", "through-outside", "up", None, rounded(0.0, 0.0, 300.0, 200.0, 10.0)),
    ]
}

#[derive(Clone, Copy)]
pub(super) struct Placement {
    copy: u32,
    x: f64,
    y: f64,
    quarters: u32,
}

pub(super) const PLACED: [Placement; 2] =
    [Placement { copy: 1, x: 20.0, y: 20.0, quarters: 0 }, Placement { copy: 2, x: 540.0, y: 30.0, quarters: 1 }];

impl Placement {
    fn at(&self, x: f64, y: f64) -> (f64, f64) {
        let (x, y) = if self.quarters == 0 { (x, y) } else { (-y, x) };
        (x + self.x, y + self.y)
    }
}

impl Flavour {
    fn unit(self) -> f64 {
        if self.inches {
            25.4
        } else {
            1.0
        }
    }

    fn word(self) -> &'static str {
        if self.inches {
            "in"
        } else {
            "mm"
        }
    }

    fn layer(self, c: &Contour) -> String {
        let size = |mm: f64| if self.inches { format!("{:.4}", mm / 25.4) } else { format!("{mm:.2}") }.replace('.', "-");
        let diameter = || size(c.vertices[1][0] - c.vertices[0][0]);
        let name = match (c.operation, c.depth) {
            ("pocket", Some(depth)) => format!("POCKET-{}-DEEP", size(depth)),
            ("drill", None) => format!("DRILL-{}-THROUGH", diameter()),
            ("drill", Some(depth)) => format!("DRILL-{}-DEEP-{}", diameter(), size(depth)),
            (other, _) => other.to_ascii_uppercase(),
        };
        if c.side == "down" {
            format!("UNDER-{name}")
        } else {
            name
        }
    }

    fn heading(self, what: &str) -> Vec<String> {
        let thickness = if self.inches { "0.5906 in" } else { "15 mm" };
        vec![
            "job: two panels".into(),
            format!("revision: {REVISION}"),
            format!("board: panel, plywood, real thickness {thickness}"),
            format!("units: {}", self.word()),
            format!("holds: the {what}"),
        ]
    }
}

/// The whole pack.
pub(super) fn pack(flavour: Flavour) -> Files {
    let mut files = Files::new();
    let own: Vec<(String, Vertices)> = contours().into_iter().map(|c| (flavour.layer(&c), c.vertices)).collect();
    let mut on_sheet = Vec::new();
    for p in PLACED {
        for c in contours() {
            let placed = c.vertices.iter().map(|v| {
                let (x, y) = p.at(v[0], v[1]);
                [x, y, v[2]]
            });
            on_sheet.push((flavour.layer(&c), placed.collect()));
        }
    }
    files.insert("parts/P-1.dxf".into(), dxf(flavour, &own, (300.0, 200.0)).into_bytes());
    files.insert("parts/P-1.svg".into(), svg(flavour, &own, (300.0, 200.0)).into_bytes());
    files.insert("sheets/panel-01.dxf".into(), dxf(flavour, &on_sheet, SHEET).into_bytes());
    files.insert("sheets/panel-01.svg".into(), svg(flavour, &on_sheet, SHEET).into_bytes());
    files.insert("gcode/panel-01-1-cutter-6.nc".into(), second_side(flavour).into_bytes());
    files.insert("gcode/panel-01-2-cutter-6.nc".into(), first_side(flavour).into_bytes());
    files.insert("job.json".into(), serde_json::to_vec_pretty(&job(flavour)).unwrap());
    files
}

pub(super) fn job(flavour: Flavour) -> Value {
    let rows = contours().into_iter().map(|c| {
        json!({ "feature": c.feature, "operation": c.operation, "side": c.side, "depth_mm": c.depth, "layer": flavour.layer(&c),
                "island": false, "vertices": c.vertices })
    });
    let placements = PLACED.iter().map(|p| {
        json!({ "part": "P-1", "copy": p.copy, "x_mm": p.x, "y_mm": p.y, "turn_deg": 90 * p.quarters, "flipped": false,
                "tabs": 4, "held": [{ "feature": "outline", "tabs": 4, "length_mm": 8, "height_mm": 5, "way_mm": 14 }] })
    });
    let program = |order: u32, side: &str| {
        json!({ "file": format!("gcode/panel-01-{order}-cutter-6.nc"), "board": "panel", "sheet": 1, "side": side, "order": order,
                "cutter": { "name": "cutter 6", "diameter_mm": 2.0 * R, "flutes": 2, "chip_max_mm": 0.1,
                            "centre_cutting": true, "first_pass_max_mm": 9, "pass_max_mm": 8.5 },
                "set_up": { "number": order, "of": 2, "pins_mm": PINS, "pin_diameter_mm": 2.0 * R, "screws_mm": [] },
                "rpm": 18000, "z_zero": if flavour.sheet_top { "sheet-top" } else { "spoilboard" },
                "clearance_mm": 25, "floor_mm": 0.5, "thickness_mm": TOP, "run_s": 1 })
    };
    json!({
        "version": 1, "title": "two panels", "revision": REVISION, "units": "mm", "cut_file_units": flavour.word(),
        "machine": { "process": "router" },
        "boards": [{ "name": "panel", "thickness_mm": { "min": TOP, "mean": TOP, "max": TOP } }],
        "parts": [{ "id": "P-1", "board": "panel", "quantity": 2, "files": ["parts/P-1.dxf", "parts/P-1.svg"],
            "contours": rows.collect::<Vec<_>>(),
            "seats": [{ "feature": "slot", "mate": "P-2", "vertices": rectangle(100.0, 100.1, 130.0, 115.1) }] }],
        "sheets": [{ "board": "panel", "number": 1, "length_mm": SHEET.0, "width_mm": SHEET.1,
            "files": ["sheets/panel-01.dxf", "sheets/panel-01.svg"], "placements": placements.collect::<Vec<_>>() }],
        "programs": [program(1, "second"), program(2, "first")],
    })
}
