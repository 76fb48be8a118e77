//! Every sheet's programs swept with a general polygon library (`clipper2`), against the finished parts laid on the sheet: what a
//! cutter takes from a part, and what stays beside it and in its openings. Nothing but `job.json` and the programs' text is read.

use super::strokes::{read, Stroke};
use super::{quarter_turned, ring, rows};
use crate::cli::{sample, tree, Bench};
use clipper2_rust::{
    area_paths, difference_64, inflate_paths_64, intersect_64, is_positive, point_in_polygon, union_subjects_64, EndType,
    FillRule, JoinType, Path64, Paths64, Point64, PointInPolygonResult,
};
use geo::{Polygon, Translate};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// Grid points per mm.
const GRID: f64 = 1000.0;
/// Rounded ends become chords this close to them, in mm.
const ROUND: f64 = 0.01;
/// What the proof allows a cut to be off, in mm; chords of both libraries are within it.
const CUT: f64 = 0.05;
/// Area that a cutter may take along an edge, per mm of it: chords and rounding of the text.
const AREA_PER_MM: f64 = 0.02;
/// At or below this height a cut is through, in mm.
const BOTTOM: f64 = 0.001;
/// Depths in mm at which conical seats are looked at.
const IN_CONE: [f64; 2] = [0.7, 1.3];
/// Smaller areas than this are slivers of the grid, in mm2.
const SLIVER: f64 = 0.01;
/// How far opening and closing by a cutter stay inside its radius, so that a slot just as wide as the cutter stays a slot.
const SLACK: f64 = 0.04;
/// A tab with its ramps is no longer than this, in mm. Common practice, no source.
const TAB: f64 = 30.0;
/// A tab is at most this share of the sheet's thickness high. Common practice, no source.
const TAB_HEIGHT: f64 = 0.6;

pub(super) type Files = BTreeMap<String, Option<Vec<u8>>>;

/// A cut into a part, laid on the sheet; through where it has no depth.
struct Opening {
    name: String,
    shape: Paths64,
    depth: Option<f64>,
    /// Whether it is cut from the face that lies down.
    below: bool,
}

struct Laid {
    name: String,
    outline: Paths64,
    openings: Vec<Opening>,
    /// Rims of conical seats, with whether they are on the face that lies down.
    cones: Vec<(Paths64, bool)>,
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn grid(x: f64, y: f64) -> Point64 {
    Point64::new((x * GRID).round() as i64, (y * GRID).round() as i64)
}

fn mm2(paths: &Paths64) -> f64 {
    area_paths(paths) / GRID / GRID
}

fn grown(paths: &Paths64, by: f64) -> Paths64 {
    inflate_paths_64(paths, by * GRID, JoinType::Round, EndType::Polygon, 2.0, ROUND * GRID)
}

/// Least and greatest x and y, in mm.
fn bounds(paths: &Paths64) -> [f64; 4] {
    let points = || paths.iter().flatten();
    let of = |v: Option<i64>| v.map_or(f64::NAN, |v| v as f64 / GRID);
    [
        of(points().map(|p| p.x).min()),
        of(points().map(|p| p.y).min()),
        of(points().map(|p| p.x).max()),
        of(points().map(|p| p.y).max()),
    ]
}

fn laid(part: &Value, placed: &Value) -> Laid {
    assert_eq!(placed["flipped"], false, "no sample turns a part over");
    let shape = |vertices: &Value| -> Paths64 {
        let turned =
            quarter_turned(&Polygon::new(ring(vertices), Vec::new()), placed["turn_deg"].as_u64().expect("degrees"));
        let there = turned.translate(number(&placed["x_mm"]), number(&placed["y_mm"]));
        let mut path: Path64 = there.exterior().0.iter().map(|c| grid(c.x, c.y)).collect();
        path.pop();
        if !is_positive(&path) {
            path.reverse();
        }
        vec![path]
    };
    let mut outline = Paths64::new();
    let (mut openings, mut cones) = (Vec::new(), Vec::new());
    for contour in rows(&part["contours"]) {
        assert_eq!(&contour["island"], &Value::Bool(false), "no sample has islands");
        let below = contour["side"] == "down";
        let shape = shape(&contour["vertices"]);
        match contour["operation"].as_str().expect("an operation") {
            "through-outside" => outline = shape,
            "countersink" => cones.push((shape, below)),
            "through-inside" | "drill" | "pocket" => openings.push(Opening {
                name: contour["feature"].as_str().expect("a feature").to_owned(),
                shape,
                depth: contour["depth_mm"].as_f64(),
                below,
            }),
            other => panic!("no sample has {other}"),
        }
    }
    Laid { name: format!("{} {}", part["id"].as_str().expect("an id"), placed["copy"]), outline, openings, cones }
}

/// What cutters take away at or below a height.
fn swept(strokes: &[Stroke], height: f64) -> Paths64 {
    let mut lines: BTreeMap<i64, Paths64> = BTreeMap::new();
    let mut seen = BTreeSet::new();
    for stroke in strokes.iter().filter_map(|s| s.at_or_under(height)) {
        let (a, mut b) = (grid(stroke.from[0], stroke.from[1]), grid(stroke.to[0], stroke.to[1]));
        let radius = (stroke.radius * GRID).round() as i64;
        if a == b {
            // Straight down: a line of one grid step, which ends round on both sides.
            b.x += 1;
        }
        let ends = ((a.x, a.y), (b.x, b.y));
        if !seen.insert((radius, ends.0.min(ends.1), ends.0.max(ends.1))) {
            continue;
        }
        let of_radius = lines.entry(radius).or_default();
        match of_radius.last_mut() {
            Some(line) if line.last() == Some(&a) => line.push(b),
            _ => of_radius.push(vec![a, b]),
        }
    }
    let mut all = Paths64::new();
    for (radius, lines) in lines {
        all.extend(inflate_paths_64(&lines, radius as f64, JoinType::Round, EndType::Round, 2.0, ROUND * GRID));
    }
    union_subjects_64(&all, FillRule::NonZero)
}

/// The smallest cutter that works at or below a height inside an area (or outside of it).
fn cutter(strokes: &[Stroke], height: f64, area: &Paths64, inside: bool) -> Option<f64> {
    let there = strokes.iter().filter_map(|s| s.at_or_under(height)).filter(|s| {
        let middle = grid(f64::midpoint(s.from[0], s.to[0]), f64::midpoint(s.from[1], s.to[1]));
        area.iter().any(|p| point_in_polygon(middle, p) != PointInPolygonResult::IsOutside) == inside
    });
    there.map(|s| s.radius).min_by(f64::total_cmp)
}

/// The pieces of an area that are more than slivers.
fn pieces(area: &Paths64) -> Vec<Paths64> {
    let solid = grown(area, -CUT);
    solid.iter().filter(|p| is_positive(p)).map(|p| grown(&vec![p.clone()], CUT)).collect()
}

pub(super) struct Seen {
    pub(super) faults: Vec<String>,
    tabs: u64,
}

impl Seen {
    /// Wood that stays in a ring where all should be cut through: tabs, lower than the sheet and short, and nothing else. Gives how
    /// many of them stand at the edge: where neighbours' cuts overlap, a crumb may stay beside a tab.
    fn left(&mut self, name: &str, ring: &Paths64, edge: &Paths64, through: &Paths64, over_tabs: &Paths64) -> u64 {
        let mut tabs = 0;
        for piece in pieces(&difference_64(ring, through, FillRule::NonZero)) {
            let [x, y, far_x, far_y] = bounds(&piece);
            let high = pieces(&difference_64(&piece, over_tabs, FillRule::NonZero));
            if (far_x - x).hypot(far_y - y) > TAB || !high.is_empty() {
                self.faults
                    .push(format!("{name}: {:.3} mm2 left from ({x:.1}, {y:.1}) to ({far_x:.1}, {far_y:.1})", mm2(&piece)));
            } else if !intersect_64(&piece, edge, FillRule::NonZero).is_empty() {
                tabs += 1;
            }
        }
        tabs
    }

    /// What the strokes from one face take from a part that should stay: just below the face, just below each floor, and through.
    /// Gives what they cut through.
    fn gouges(&mut self, laid: &Laid, strokes: &[Stroke], thick: f64, below: bool) -> Paths64 {
        let name = &laid.name;
        let mut through = Paths64::new();
        if strokes.is_empty() {
            return through;
        }
        let mine = || laid.openings.iter().filter(|o| o.below == below);
        let mut levels: Vec<f64> = mine().filter_map(|o| o.depth).map(|d| d + CUT).collect();
        levels.extend([CUT, thick - BOTTOM]);
        if laid.cones.iter().any(|(_, on)| *on == below) {
            levels.extend(IN_CONE);
        }
        levels.sort_by(f64::total_cmp);
        levels.dedup();
        for depth in levels {
            let taken = swept(strokes, thick - depth);
            let deeper = laid.openings.iter().filter(|o| o.depth.is_none_or(|d| o.below == below && d >= depth));
            // A 90 degree seat is as much narrower on each side as it is deep. Common practice for wood screws, no source.
            let cones = laid.cones.iter().filter(|(_, on)| *on == below).flat_map(|(rim, _)| grown(rim, -depth));
            let open: Paths64 = deeper.flat_map(|o| o.shape.clone()).chain(cones).collect();
            let wood = difference_64(&laid.outline, &open, FillRule::NonZero);
            let along: f64 = wood.iter().map(length).sum();
            let all = mm2(&intersect_64(&taken, &wood, FillRule::NonZero));
            let deep = mm2(&intersect_64(&taken, &grown(&wood, -CUT), FillRule::NonZero));
            if all > AREA_PER_MM * along || deep > SLIVER {
                self.faults.push(format!("{name}: {all:.3} mm2 gouged {depth:.2} mm down, {deep:.3} of them deep"));
            }
            through = taken;
        }
        through
    }

    fn part(&mut self, laid: &Laid, strokes: &[Stroke], thick: f64) {
        let name = &laid.name;
        let mut through = Paths64::new();
        for below in [false, true] {
            let own: Vec<Stroke> = strokes.iter().filter(|s| s.below == below).copied().collect();
            through.extend(self.gouges(laid, &own, thick, below));
        }
        let through = union_subjects_64(&through, FillRule::NonZero);
        let over_tabs = swept(strokes, thick * TAB_HEIGHT);
        for opening in &laid.openings {
            let of = format!("{name} {}", opening.name);
            let Some(depth) = opening.depth else {
                let Some(radius) = cutter(strokes, BOTTOM, &opening.shape, true) else {
                    self.faults.push(format!("{of}: never cut through"));
                    continue;
                };
                let reached = grown(&grown(&opening.shape, SLACK - radius), radius - SLACK);
                let slug = grown(&opening.shape, 2.0 * (CUT - radius));
                self.left(&of, &difference_64(&reached, &slug, FillRule::NonZero), &opening.shape, &through, &over_tabs);
                continue;
            };
            let own: Vec<Stroke> = strokes.iter().filter(|s| s.below == opening.below).copied().collect();
            let floor = swept(&own, thick - depth + CUT);
            let Some(radius) = cutter(&own, thick - depth + CUT, &opening.shape, true) else {
                self.faults.push(format!("{of}: never cut {depth} mm deep"));
                continue;
            };
            let reached = grown(&grown(&opening.shape, SLACK - radius), radius - SLACK);
            for piece in pieces(&difference_64(&reached, &floor, FillRule::NonZero)) {
                self.faults.push(format!("{of}: {:.3} mm2 not down to {depth} mm", mm2(&piece)));
            }
        }
        let Some(radius) = cutter(strokes, BOTTOM, &laid.outline, false) else {
            self.faults.push(format!("{name}: its outline is never cut through"));
            return;
        };
        let closed = grown(&grown(&laid.outline, radius - SLACK), SLACK - radius);
        let beside = difference_64(&grown(&laid.outline, 2.0 * (radius - CUT)), &closed, FillRule::NonZero);
        let edge = grown(&closed, 4.0 * CUT);
        self.tabs += self.left(&format!("{name} outline"), &beside, &edge, &through, &over_tabs);
    }
}

fn length(path: &Path64) -> f64 {
    let ends = path.iter().zip(path.iter().cycle().skip(1));
    ends.map(|(a, b)| ((b.x - a.x) as f64).hypot((b.y - a.y) as f64) / GRID).sum()
}

/// Everything that is wrong with a pack's programs, and how many tabs hold its parts.
pub(super) fn judged(job: &Value, files: &Files) -> Seen {
    let mut seen = Seen { faults: Vec::new(), tabs: 0 };
    for sheet in rows(&job["sheets"]) {
        let of_sheet = |p: &&Value| p["board"] == sheet["board"] && p["sheet"] == sheet["number"];
        let mut strokes = Vec::new();
        let mut thick = f64::NAN;
        for program in rows(&job["programs"]).iter().filter(of_sheet) {
            thick = number(&program["thickness_mm"]);
            let lift = match program["z_zero"].as_str() {
                Some("spoilboard") => 0.0,
                Some("sheet-top") => thick,
                other => panic!("z zero at {other:?}"),
            };
            let bytes = files[program["file"].as_str().expect("a name")].as_ref().expect("a file");
            let text = std::str::from_utf8(bytes).expect("text");
            let section = program["section"].as_u64().expect("a section") as usize;
            let own = read(text, section, number(&program["cutter"]["diameter_mm"]) / 2.0, lift).into_iter();
            let width = number(&sheet["width_mm"]);
            strokes.extend(own.map(|s| if program["side"] == "second" { s.turned_over(width) } else { s }));
        }
        for placed in rows(&sheet["placements"]) {
            let part = rows(&job["parts"]).iter().find(|p| p["id"] == placed["part"]).expect("the part");
            let laid = laid(part, placed);
            let [x, y, far_x, far_y] = bounds(&laid.outline);
            let near = |s: &&Stroke| {
                let r = 2.0 * s.radius;
                s.from[2].min(s.to[2]) < thick
                    && s.from[0].max(s.to[0]) > x - r
                    && s.from[0].min(s.to[0]) < far_x + r
                    && s.from[1].max(s.to[1]) > y - r
                    && s.from[1].min(s.to[1]) < far_y + r
            };
            let near: Vec<Stroke> = strokes.iter().filter(near).copied().collect();
            let before = seen.tabs;
            seen.part(&laid, &near, thick);
            let (tabs, planned) = (seen.tabs - before, placed["tabs"].as_u64().expect("a count"));
            if tabs != planned {
                seen.faults.push(format!("{}: {tabs} pieces of wood hold it where {planned} tabs are planned", laid.name));
            }
        }
    }
    seen
}

fn made(name: &str) -> (Value, Files) {
    made_in(&Bench::new(), &sample(name))
}

/// Makes a project's pack; gives its data and its files.
pub(super) fn made_in(bench: &Bench, project: &str) -> (Value, Files) {
    bench.run(&["make", project, "--out", "pack"]).expect(0, &[]);
    let files = tree(&bench.path().join("pack"));
    (serde_json::from_slice(files["job.json"].as_ref().expect("a file")).expect("JSON"), files)
}

/// Clean, and held by the tabs that the proof counted.
fn agrees(name: &str) {
    held_as_proved(&made(name));
}

fn held_as_proved((job, files): &(Value, Files)) {
    let seen = judged(job, files);
    assert!(seen.faults.is_empty(), "{}", seen.faults.join("\n"));
    let proof: Value = serde_json::from_slice(files["proof.json"].as_ref().expect("a file")).expect("JSON");
    assert_eq!(proof["passed"], true);
    let hold = rows(&proof["rules"]).iter().find(|r| r["rule"] == "proof-part-loose").expect("the rule");
    assert_eq!(Some(seen.tabs), hold["checked"].as_u64(), "pieces of wood, tabs");
}

#[test]
fn first_drawer() {
    agrees("first-drawer");
}

/// Parts in the opening of another are no fault of that one, and hang by their own tabs.
#[test]
fn cleats_in_a_frame() {
    let case = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases/cleats-in-a-frame/project.toml");
    held_as_proved(&made_in(&Bench::new(), case));
}

#[test]
fn panels_only() {
    agrees("panels-only");
}

#[test]
fn field_estate() {
    agrees("field-estate");
}

#[test]
fn survey_van() {
    agrees("survey-van");
}

/// A cutter that is thicker than said, an outline that is elsewhere, a floor too deep and a pass that is missing are all seen.
#[test]
fn a_spoilt_pack_is_seen() {
    let (job, files) = made("panels-only");
    let told = |job: &Value, files: &Files| judged(job, files).faults.join("\n");

    let mut thick = job.clone();
    for program in thick["programs"].as_array_mut().expect("programs") {
        program["cutter"]["diameter_mm"] = (number(&program["cutter"]["diameter_mm"]) + 0.4).into();
    }
    assert!(told(&thick, &files).contains("gouged"), "a cutter 0.4 mm thicker");

    let moves = [("through-outside", " outline: "), ("through-inside", " mm2 left "), ("pocket", "not down to")];
    for (operation, word) in moves {
        let mut moved = job.clone();
        let parts = moved["parts"].as_array_mut().expect("parts").iter_mut();
        let mut contours = parts.flat_map(|p| p["contours"].as_array_mut().expect("contours"));
        let contour = contours.find(|c| c["operation"] == operation).expect("a contour");
        for vertex in contour["vertices"].as_array_mut().expect("vertices") {
            vertex[0] = (number(&vertex[0]) + 0.2).into();
        }
        let text = told(&moved, &files);
        assert!(text.contains("gouged") && text.contains(word), "{operation} 0.2 mm aside:\n{text}");
    }

    for (depth, word) in [(-0.2, "gouged"), (0.2, "never cut")] {
        let mut other = job.clone();
        for part in other["parts"].as_array_mut().expect("parts") {
            for contour in part["contours"].as_array_mut().expect("contours") {
                if contour["operation"] == "pocket" {
                    contour["depth_mm"] = (number(&contour["depth_mm"]) + depth).into();
                }
            }
        }
        assert!(told(&other, &files).contains(word), "a floor {depth} mm off");
    }

    let mut shallow = files.clone();
    for (name, bytes) in &mut shallow {
        if name.starts_with("gcode/") {
            let text = String::from_utf8(bytes.clone().expect("a file")).expect("text");
            *bytes = Some(text.replace("Z-0.3000", "Z0.3000").into_bytes());
        }
    }
    let text = told(&job, &shallow);
    assert!(text.contains("never cut through"), "programs that stop 0.3 mm above the spoilboard:\n{text}");
}
