//! Half a kerf: worked examples, and areas by a general polygon library.

use super::support::{codes, machine, made, panels, sound, Made, PLATE};
use baywright::flat::Operation;
use baywright::geom::{Contour, Point, Rect};
use baywright::toolpath::BeamLine;
use clipper2_rust::{
    area_paths, difference_64, get_bounds_paths, inflate_paths_64, EndType, FillRule, JoinType, Path64, Paths64, Point64,
};
use proptest::prelude::*;

/// Units of the integer library per mm.
const SCALE: f64 = 1e5;

fn path(c: &Contour) -> Path64 {
    let mut flat = c.flattened(2e-4);
    if !c.is_ccw() {
        flat.reverse();
    }
    flat.iter().map(|p| Point64::new((p.x * SCALE).round() as i64, (p.y * SCALE).round() as i64)).collect()
}

/// What a beam of this kerf burns away along a closed line.
fn burnt(line: &Contour, kerf: f64) -> Paths64 {
    inflate_paths_64(&vec![path(line)], kerf / 2.0 * SCALE, JoinType::Round, EndType::Joined, 2.0, 1e-4 * SCALE)
}

/// Width and height of paths in mm.
fn size(paths: &Paths64) -> (f64, f64) {
    let b = get_bounds_paths(paths);
    ((b.right - b.left) as f64 / SCALE, (b.bottom - b.top) as f64 / SCALE)
}

fn rect(w: f64, h: f64) -> Contour {
    Contour::rect(Rect::new(10.0, 10.0, 10.0 + w, 10.0 + h)).unwrap()
}

fn near((a, b): (f64, f64), (c, d): (f64, f64)) -> bool {
    (a - c).abs() < 2e-3 && (b - d).abs() < 2e-3
}

/// The trade's worked example: a kerf of 0.2 mm, 2.0 x 4.0 drawn, nothing moved: the part comes out 1.8 x 3.8, the opening
/// 2.2 x 4.2.
#[test]
fn uncompensated_a_part_loses_the_kerf_and_an_opening_gains_it() {
    let drawn = rect(2.0, 4.0);
    let band = burnt(&drawn, 0.2);
    let part = difference_64(&vec![path(&drawn)], &band, FillRule::NonZero);
    assert!(near(size(&part), (1.8, 3.8)), "{:?}", size(&part));
    assert!(near(size(&band), (2.2, 4.2)), "{:?}", size(&band));
}

/// The same, moved by half the kerf: what is left, and what is open, measure what was drawn.
#[test]
fn compensated_both_come_out_as_drawn_with_square_corners() {
    let drawn = rect(2.0, 4.0);
    let [outline] = &drawn.grown_sharp(0.1).unwrap()[..] else { panic!("one line") };
    let [opening] = &drawn.grown_sharp(-0.1).unwrap()[..] else { panic!("one line") };
    assert_eq!((outline.vertices().len(), opening.vertices().len()), (4, 4));
    let part = difference_64(&vec![path(outline)], &burnt(outline, 0.2), FillRule::NonZero);
    assert!(near(size(&part), (2.0, 4.0)));
    // Square to the corner: no area is lost there.
    assert!((area_paths(&part) / SCALE / SCALE - 8.0).abs() < 1e-3);
    assert!(near(size(&burnt(opening, 0.2)), (2.0, 4.0)));
}

/// A bar chart: square corners inwards and outwards.
fn chart() -> impl Strategy<Value = Contour> {
    prop::collection::vec((2u32..20, 0u32..30), 3..12).prop_map(|columns| {
        let (mut x, mut points) = (0.0, Vec::new());
        for (width, height) in &columns {
            points.push(Point::new(x, 20.0 + f64::from(*height)));
            x += f64::from(*width);
            points.push(Point::new(x, 20.0 + f64::from(*height)));
        }
        points.extend([Point::new(x, 0.0), Point::new(0.0, 0.0)]);
        points.dedup();
        Contour::polygon(&points).unwrap()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn sharp_offsets_agree_with_another_librarys_mitres(shape in chart(), half in 0.05..0.4f64, out in any::<bool>()) {
        let by = if out { half } else { -half };
        let ours: f64 = shape.grown_sharp(by).unwrap().iter().map(|c| c.area().abs()).sum();
        let theirs = inflate_paths_64(&vec![path(&shape)], by * SCALE, JoinType::Miter, EndType::Polygon, 10.0, 10.0);
        let theirs = area_paths(&theirs) / SCALE / SCALE;
        prop_assert!((ours - theirs).abs() < 0.002 * shape.length(), "{ours} against {theirs}");
    }

    /// Arcs stay arcs, and no corner appears where there was none.
    #[test]
    fn round_shapes_keep_their_vertices(r in 1.0..20.0f64, width in 50.0..90.0f64, half in 0.05..0.4f64) {
        let shape = Contour::rounded_rect(Rect::new(0.0, 0.0, width, 50.0), r).unwrap();
        let [grown] = &shape.grown_sharp(half).unwrap()[..] else { panic!("one line") };
        prop_assert_eq!(grown.vertices().len(), 8);
        let expected = (width + 2.0 * half) * (50.0 + 2.0 * half) - (4.0 - std::f64::consts::PI) * (r + half).powi(2);
        prop_assert!((grown.area() - expected).abs() < 0.05);
    }
}

fn lines(made: &Made) -> Vec<&BeamLine> {
    made.beams.iter().flat_map(|s| &s.parts).flat_map(|p| &p.lines).collect()
}

#[test]
fn each_part_is_burnt_whole_before_the_next_its_outline_last() {
    let made = sound(&panels(PLATE), &machine("0.2", true));
    assert_eq!(made.beams.len(), 1);
    for part in &made.beams[0].parts {
        let order: Vec<_> = part.lines.iter().map(|l| matches!(l.operation, Operation::ThroughOutside)).collect();
        assert_eq!(order, [false, false, false, false, true]);
    }
    assert!(made.beams[0].run_s > 60.0 * lines(&made).iter().map(|l| l.contour.length()).sum::<f64>() / 6000.0);
}

#[test]
fn a_profile_that_leaves_the_kerf_to_the_laser_gets_the_finished_edge_and_it_says_so() {
    let made = sound(&panels(PLATE), &machine("0.2", false));
    let outline = lines(&made).into_iter().find(|l| matches!(l.operation, Operation::ThroughOutside)).unwrap();
    assert!((outline.contour.bounds().width() - 120.0).abs() < 1e-9);
    let svg = String::from_utf8(made.files["laser/thin-01.svg"].clone()).unwrap();
    assert!(svg.contains("holds: the finished edge") && svg.contains("0.1 mm, on the waste side"), "{svg}");
    let moved = sound(&panels(PLATE), &machine("0.2", true));
    let svg = String::from_utf8(moved.files["laser/thin-01.svg"].clone()).unwrap();
    assert!(svg.contains("holds: the beam's centre, 0.1 mm outside"), "{svg}");
    assert!(svg.contains("stay with a running laser") && svg.contains("never burn film-faced"));
}

#[test]
fn a_part_in_anothers_opening_is_burnt_before_it_drops() {
    let frame = "[[panel]]\nname = \"frame\"\nsize = [880, 580]\nboard = \"thin\"\ngrain = \"length\"\n\
        cut_outs = [{ at = [100, 100], size = [600, 400], radius = 5 }]\n\
        [[panel]]\nname = \"inner\"\nsize = [300, 200]\nboard = \"thin\"\n";
    let made = sound(&panels(frame), &machine("0.2", true));
    assert_eq!(made.beams.len(), 1, "the inner part lies in the frame");
    let sizes: Vec<f64> =
        made.beams[0].parts.iter().map(|p| p.lines.last().unwrap().contour.bounds().width().round()).collect();
    assert_eq!(sizes, [300.0, 880.0]);
}

#[test]
fn what_the_beam_cannot_keep_open_is_a_finding() {
    let slot = "[[panel]]\nname = \"p\"\nsize = [100, 60]\nboard = \"thin\"\nslots = [{ from = [30, 30], to = [60, 30], width = 1.5 }]\n";
    let notch =
        "[[panel]]\nname = \"p\"\nsize = [100, 60]\nboard = \"thin\"\nnotches = [{ at = [0, 30], size = [20, 1.5] }]\n";
    for panel in [slot, notch] {
        assert_eq!(codes(&made(&panels(panel), &machine("1.6", true)).1), ["no-bay", "kerf-wider-than-cut"]);
        assert_eq!(codes(&made(&panels(panel), &machine("2", false)).1), ["no-bay", "kerf-wider-than-cut"]);
        assert!(made(&panels(panel), &machine("1.4", true)).0.is_some());
    }
}

#[test]
fn parts_never_share_a_line() {
    let close = panels(PLATE).replace("machine = \"own-laser\"", "machine = \"own-laser\"\npart_gap = 0.1");
    assert_eq!(codes(&made(&close, &machine("0.2", true)).1), ["no-bay", "common-cut-line"]);
    let touching = close.replace("0.1", "0.2");
    assert!(made(&touching, &machine("0.2", true)).0.is_some());
}

#[test]
fn sheets_are_cut_down_to_the_bed() {
    let large = panels(PLATE)
        .replace("readings = [3, 3, 3, 3]", "readings = [3, 3, 3, 3]\nstock = [{ length = 1200, width = 500 }]");
    let (made, found) = made(&large, &machine("0.2", true));
    let sheet = made.unwrap().design.boards[0].stock[0].size;
    assert_eq!((sheet.length.0, sheet.width.0), (900.0, 500.0));
    assert!(codes(&found).contains(&"sheet-cut-to-bed"));
}

/// The physical size by the standard's 96 px per inch (CSS Values 3): 900 mm are 3401.57 px, whatever the file's own unit.
#[test]
fn a_file_is_its_sheets_size() {
    let made = sound(&panels(PLATE), &machine("0.2", true));
    let svg = String::from_utf8(made.files["laser/thin-01.svg"].clone()).unwrap();
    let value = |key: &str| svg.split(&format!("{key}=\"")).nth(1).unwrap().split('"').next().unwrap().to_owned();
    assert_eq!((value("width"), value("height"), value("viewBox")), ("900mm".into(), "600mm".into(), "0 0 900 600".into()));
    let mm: f64 = value("width").trim_end_matches("mm").parse().unwrap();
    assert!((mm / 25.4 * 96.0 - 3401.575).abs() < 1e-3);
}
