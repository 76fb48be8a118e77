//! A small pack written by hand: a board of two panels with openings, holes, grooves on both faces, and a mate that seats.

use serde_json::{json, Value};
use std::collections::BTreeMap;
use std::fmt::Write as _;

pub(super) type Files = BTreeMap<String, Vec<u8>>;
pub(super) const REVISION: &str = "0a1b2c3d4e5f";
const R: f64 = 3.0;
const TOP: f64 = 15.0;
const THROUGH: f64 = -0.3;
const SHEET: (f64, f64) = (600.0, 400.0);

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
        json!({ "part": "P-1", "copy": p.copy, "x_mm": p.x, "y_mm": p.y, "turn_deg": 90 * p.quarters, "flipped": false })
    });
    let program = |order: u32, side: &str| {
        json!({ "file": format!("gcode/panel-01-{order}-cutter-6.nc"), "board": "panel", "sheet": 1, "side": side, "order": order,
                "cutter": { "name": "cutter 6", "diameter_mm": 2.0 * R }, "z_zero": if flavour.sheet_top { "sheet-top" } else { "spoilboard" },
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

fn dxf(flavour: Flavour, contours: &[(String, Vertices)], size: (f64, f64)) -> String {
    let mut out = String::new();
    let mut pair = |code: u32, value: &str| writeln!(out, "{code:>3}\r\n{value}\r").unwrap();
    let number = |mm: f64| format!("{:.6}", mm / flavour.unit());
    for line in flavour.heading("finished edge") {
        pair(999, &line);
    }
    for (code, value) in
        [(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, if flavour.release_12 { "AC1009" } else { "AC1015" })]
    {
        pair(code, value);
    }
    if !flavour.release_12 {
        pair(9, "$INSUNITS");
        pair(70, if flavour.inches { "1" } else { "4" });
    }
    for (name, x, y) in [("$EXTMIN", 0.0, 0.0), ("$EXTMAX", size.0, size.1)] {
        pair(9, name);
        pair(10, &number(x));
        pair(20, &number(y));
    }
    for (code, value) in [(0, "ENDSEC"), (0, "SECTION"), (2, "ENTITIES")] {
        pair(code, value);
    }
    for (layer, vertices) in contours {
        if layer.contains("DRILL") {
            pair(0, "CIRCLE");
            pair(8, layer);
            pair(10, &number(f64::midpoint(vertices[0][0], vertices[1][0])));
            pair(20, &number(f64::midpoint(vertices[0][1], vertices[1][1])));
            pair(40, &number((vertices[1][0] - vertices[0][0]).hypot(vertices[1][1] - vertices[0][1]) / 2.0));
            continue;
        }
        pair(0, if flavour.release_12 { "POLYLINE" } else { "LWPOLYLINE" });
        pair(8, layer);
        if flavour.release_12 {
            pair(66, "1");
        } else {
            pair(90, &vertices.len().to_string());
        }
        pair(70, "1");
        for [x, y, bulge] in vertices {
            if flavour.release_12 {
                pair(0, "VERTEX");
                pair(8, layer);
            }
            pair(10, &number(*x));
            pair(20, &number(*y));
            if *bulge != 0.0 {
                pair(42, &format!("{bulge:.12}"));
            }
        }
        if flavour.release_12 {
            pair(0, "SEQEND");
        }
    }
    pair(0, "ENDSEC");
    pair(0, "EOF");
    out
}

fn svg(flavour: Flavour, contours: &[(String, Vertices)], size: (f64, f64)) -> String {
    let n = |mm: f64| format!("{:.6}", mm / flavour.unit());
    let (w, h, u) = (n(size.0), n(size.1), flavour.word());
    let mut out =
        format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}{u}\" height=\"{h}{u}\" viewBox=\"0 0 {w} {h}\">\n");
    writeln!(out, "<desc>{}</desc>", flavour.heading("finished edge").join("\n")).unwrap();
    for (layer, v) in contours {
        let at = |p: [f64; 3]| format!("{} {}", n(p[0]), n(size.1 - p[1]));
        write!(out, "<g data-layer=\"{layer}\"><path fill=\"none\" d=\"M{}", at(v[0])).unwrap();
        for i in 0..v.len() {
            let (a, b) = (v[i], v[(i + 1) % v.len()]);
            if a[2] == 0.0 {
                write!(out, " L{}", at(b)).unwrap();
            } else {
                let r = (b[0] - a[0]).hypot(b[1] - a[1]) * (1.0 + a[2] * a[2]) / (4.0 * a[2].abs());
                write!(out, " A{0} {0} 0 0 {1} {2}", n(r), i32::from(a[2] < 0.0), at(b)).unwrap();
            }
        }
        out.push_str(" Z\"/></g>\n");
    }
    out.push_str("</svg>\n");
    out
}

/// Writes a program, placement by placement.
struct Cam {
    out: String,
    flavour: Flavour,
    placement: Placement,
    second: bool,
    at: (f64, f64),
}

impl Cam {
    fn new(flavour: Flavour, second: bool) -> Self {
        let mut cam = Self { out: String::new(), flavour, placement: PLACED[0], second, at: (0.0, 0.0) };
        for line in flavour.heading("tool centre") {
            writeln!(cam.out, "({line})").unwrap();
        }
        let units = if flavour.inches { "G20" } else { "G21" };
        writeln!(cam.out, "{units} G17 G90 G94\nG40 G49 G80 G54\nG0 Z{}\nT1 M6\nS18000 M3\nG4 P5", cam.z(25.0)).unwrap();
        cam
    }

    fn number(&self, mm: f64) -> String {
        format!("{:.*}", if self.flavour.inches { 5 } else { 4 }, mm / self.flavour.unit())
    }

    fn z(&self, height: f64) -> String {
        self.number(if self.flavour.sheet_top { height - TOP } else { height })
    }

    fn xy(&self, p: (f64, f64)) -> (f64, f64) {
        let (x, y) = self.placement.at(p.0, p.1);
        (x, if self.second { SHEET.1 - y } else { y })
    }

    fn feed(&self, mm: f64) -> String {
        self.number(mm)
    }

    fn say(&mut self, feature: &str) {
        writeln!(self.out, "(P-1.{} {feature})", self.placement.copy).unwrap();
    }

    fn over(&mut self, p: (f64, f64)) {
        let (x, y) = self.xy(p);
        let line = format!("G0 X{} Y{}", self.number(x), self.number(y));
        writeln!(self.out, "{line}").unwrap();
        self.at = p;
    }

    fn down(&mut self, height: f64) {
        let line = format!("G1 Z{} F{}", self.z(height), self.feed(500.0));
        writeln!(self.out, "{line}").unwrap();
    }

    fn up(&mut self) {
        let line = format!("G0 Z{}", self.z(25.0));
        writeln!(self.out, "{line}").unwrap();
    }

    fn to(&mut self, p: (f64, f64)) {
        let (x, y) = self.xy(p);
        let line = format!("G1 X{} Y{} F{}", self.number(x), self.number(y), self.feed(3000.0));
        writeln!(self.out, "{line}").unwrap();
        self.at = p;
    }

    /// Counter-clockwise in the part's frame.
    fn arc(&mut self, p: (f64, f64), centre: (f64, f64)) {
        let ((x, y), (cx, cy), (ax, ay)) = (self.xy(p), self.xy(centre), self.xy(self.at));
        let word = if self.second { "G2" } else { "G3" };
        let line =
            format!("{word} X{} Y{} I{} J{}", self.number(x), self.number(y), self.number(cx - ax), self.number(cy - ay));
        writeln!(self.out, "{line}").unwrap();
        self.at = p;
    }

    /// Along a rectangle with round corners, from the middle of its lower side, at a height; lifted over tabs.
    fn lap(&mut self, x0: f64, y0: f64, x1: f64, y1: f64, r: f64, tabs: Option<f64>) {
        let mid = (f64::midpoint(x0, x1), f64::midpoint(y0, y1));
        let sides = [((x1 - r, y0), (x1, y0 + r), (x1 - r, y0 + r)), ((x1, y1 - r), (x1 - r, y1), (x1 - r, y1 - r))];
        let more = [((x0 + r, y1), (x0, y1 - r), (x0 + r, y1 - r)), ((x0, y0 + r), (x0 + r, y0), (x0 + r, y0 + r))];
        for (end, after, centre) in sides.into_iter().chain(more) {
            if let Some(floor) = tabs {
                let (dx, dy) = (end.0 - self.at.0, end.1 - self.at.1);
                let length = dx.hypot(dy);
                let along = |s: f64, from: (f64, f64)| (from.0 + dx / length * s, from.1 + dy / length * s);
                let from = self.at;
                self.to(along(50.0, from));
                self.down(5.0);
                self.to(along(64.0, from));
                self.down(floor);
            }
            self.to(end);
            self.arc(after, centre);
        }
        self.to((mid.0, y0));
    }

    fn end(mut self) -> String {
        writeln!(self.out, "M5\nG0 X0.0 Y0.0\nM30").unwrap();
        self.out
    }
}

fn second_side(flavour: Flavour) -> String {
    let mut cam = Cam::new(flavour, true);
    for p in PLACED {
        cam.placement = p;
        cam.say("under");
        pocket(&mut cam, 100.0, 20.0, 140.0, 40.0, TOP - 4.0);
    }
    cam.end()
}

/// Clears a rectangle in strips.
fn pocket(cam: &mut Cam, x0: f64, y0: f64, x1: f64, y1: f64, floor: f64) {
    cam.over((x0 + R, y0 + R));
    cam.down(floor);
    let mut y = y0 + R;
    while y < y1 - R {
        cam.to((x1 - R, y));
        cam.to((x0 + R, y));
        y = (y + 4.0).min(y1 - R);
        cam.to((x0 + R, y));
    }
    cam.to((x1 - R, y1 - R));
    cam.to((x1 - R, y0 + R));
    cam.up();
}

fn first_side(flavour: Flavour) -> String {
    let mut cam = Cam::new(flavour, false);
    for p in PLACED {
        cam.placement = p;
        cam.say("pin");
        cam.over((10.0, 100.0));
        let (x, y) = cam.xy((20.0, 100.0));
        let line = format!(
            "G98 G81 X{} Y{} Z{} R{} F{}",
            cam.number(x),
            cam.number(y),
            cam.z(THROUGH),
            cam.z(17.0),
            cam.feed(600.0)
        );
        writeln!(cam.out, "{line}").unwrap();
        cam.say("pilot");
        let (x, y) = cam.xy((270.0, 30.0));
        let line = format!(
            "G83 X{} Y{} Z{} R{} Q{}",
            cam.number(x),
            cam.number(y),
            cam.z(TOP - 10.0),
            cam.z(17.0),
            cam.number(4.0)
        );
        writeln!(cam.out, "{line}\nG80").unwrap();
        cam.say("hole");
        cam.over((42.0, 40.0));
        for z in [8.0, THROUGH] {
            cam.down(z);
            cam.arc((38.0, 40.0), (40.0, 40.0));
            cam.arc((42.0, 40.0), (40.0, 40.0));
        }
        cam.up();
        cam.say("groove");
        pocket(&mut cam, 40.0, 80.0, 60.0, 180.0, TOP - 6.0);
        cam.say("slot");
        cam.over((103.0, 103.0));
        for z in [8.0, THROUGH] {
            cam.down(z);
            for p in [
                (103.0, 100.0),
                (103.0, 115.2),
                (103.0, 112.2),
                (127.0, 112.2),
                (127.0, 115.2),
                (127.0, 100.0),
                (127.0, 103.0),
                (103.0, 103.0),
            ] {
                cam.to(p);
            }
        }
        cam.up();
        cam.say("window");
        cam.over((220.0, 63.0));
        for z in [8.0, THROUGH] {
            cam.down(z);
            cam.lap(183.0, 63.0, 257.0, 117.0, 2.0, None);
        }
        cam.up();
    }
    for p in PLACED {
        cam.placement = p;
        cam.say("outline");
        cam.over((150.0, -3.0));
        for z in [10.0, 5.0] {
            cam.down(z);
            cam.lap(-3.0, -3.0, 303.0, 203.0, 13.0, None);
        }
        cam.down(THROUGH);
        cam.lap(-3.0, -3.0, 303.0, 203.0, 13.0, Some(THROUGH));
        cam.up();
    }
    cam.end()
}
