//! Shapes traced from the vehicle: listed, or drawn in another program, each held against a length measured on the thing itself.

use baywright::diag::{Finding, Severity};
use baywright::run::{derive, Derived};
use std::fs;

const HEAD: &str =
    "format = 1\ntitle = \"Arch\"\nunits = \"mm\"\n[bay]\nwidth = { readings = [1200, 1201], uncertainty = 2 }\n\
depth = { readings = [1100], uncertainty = 2 }\nheight = { readings = [900], uncertainty = 2 }\n\
opening = { width = 1100, height = 860, sill = 0, left = 50 }\ndoor = [[0, 10], [880, 30]]\n";
const UNIT: &str = "[boards.carcass]\nprofile = \"birch-ply-15\"\nreadings = [15, 15, 15, 15]\n[[carcass]]\nname = \"low\"\n\
at = [LEFT, 60, 0]\nwidth = 700\ndepth = 600\nheight = 240\nboard = \"carcass\"\nback = false\n[[carcass.column]]\nname = \"one\"\n";

/// An arch 640 long and 260 high, as LWPOLYLINE with one bulge: a half round of 520 over straight flanks would be 260 high; here a
/// flat segment of an arc through (0, 0), (320, 260), (640, 0): bulge = sagitta / half chord = 260 / 320 = 0.8125.
fn dxf(units: &str, bulge: f64, closed: u8) -> String {
    format!(
        "0\nSECTION\n2\nHEADER\n{units}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\nARCH\n90\n2\n70\n{closed}\n\
         10\n640.0\n20\n0.0\n42\n{bulge}\n10\n0.0\n20\n0.0\n0\nENDSEC\n0\nEOF\n"
    )
}

const MM: &str = "9\n$INSUNITS\n70\n4\n";

fn with(drawing: Option<(&str, &str)>, keep_out: &str, left: u32) -> Derived {
    let folder = tempfile::tempdir().expect("a folder");
    if let Some((name, text)) = drawing {
        fs::write(folder.path().join(name), text).expect("written");
    }
    let path = folder.path().join("project.toml");
    let unit = UNIT.replace("LEFT", &left.to_string());
    fs::write(&path, format!("{HEAD}{keep_out}{unit}")).expect("written");
    derive(&path, None).expect("read")
}

fn drawn(file: &str, more: &str) -> String {
    format!(
        "[[bay.keep_out]]\nname = \"left arch\"\nview = \"side\"\nalong = [0, 150]\n\
         outline = {{ file = \"{file}\", at = [300, 0] {more} }}\ncheck = {{ width = 640 }}\n"
    )
}

fn found<'f>(derived: &'f Derived, code: &str) -> Option<&'f Finding> {
    derived.findings.iter().find(|f| f.code.id == code)
}

/// The gap of the unit to the arch.
fn gap(derived: &Derived) -> f64 {
    let ledger = derived.ledger.as_ref().unwrap_or_else(|| panic!("{:?}", derived.findings));
    ledger.lines.iter().find(|l| l.gap.ends_with("to left arch")).expect("a line").nominal.0
}

#[test]
fn a_drawn_arch_is_the_same_from_dxf_svg_and_a_list() {
    let svg = "<svg xmlns='http://www.w3.org/2000/svg' width='700mm' height='300mm' viewBox='0 0 700 300'>\
               <defs><path d='M0 0 L1 1'/></defs><g transform='translate(20 280)'>\
               <path d='M0 0 A 326.923077 326.923077 0 0 1 640 0 Z'/></g></svg>";
    let mut points = Vec::new();
    for i in 0..=64 {
        // The circle through the three points: radius (320² + 260²) / (2 x 260), its centre as far below the crown.
        let radius = (320.0f64.powi(2) + 260.0f64.powi(2)) / 520.0;
        let half = (320.0 / radius).asin();
        let angle = -half + 2.0 * half * f64::from(i) / 64.0;
        points.push(format!("[{}, {}]", 620.0 + radius * angle.sin(), (radius * angle.cos() + 260.0 - radius).max(0.0)));
    }
    let listed = format!(
        "[[bay.keep_out]]\nname = \"left arch\"\nview = \"side\"\nalong = [0, 150]\noutline = [{}]\n\
         check = {{ width = 640, points = [1, 33], length = 412.3 }}\n",
        points.join(", ")
    );
    let dxf = dxf(MM, 0.8125, 1);
    let lines = dxf_of_pieces();
    for (name, drawing, keep_out) in [
        ("dxf", Some(("arch.dxf", dxf.as_str())), drawn("arch.dxf", "")),
        ("pieces", Some(("arch.dxf", lines.as_str())), drawn("arch.dxf", "")),
        ("svg", Some(("arch.svg", svg)), drawn("arch.svg", "")),
        ("list", None, listed),
    ] {
        // Beside the arch: straight across. Into it: by the shortest way out.
        let beside = with(drawing, &keep_out, 160);
        assert!(beside.findings.iter().all(|f| f.severity != Severity::Stop), "{name}: {:?}", beside.findings);
        assert!((gap(&beside) - 10.0).abs() < 0.2, "{name}: {}", gap(&beside));
        let into = with(drawing, &keep_out, 140);
        assert!((gap(&into) + 10.0).abs() < 0.2, "{name}: {}", gap(&into));
        let stop = found(&into, "gap-fails").expect("found");
        assert!(stop.parts.iter().any(|p| p == "left arch"), "{:?}", stop.parts);
    }
}

/// The same arch as an ARC and two LINEs, not in order, one backwards.
fn dxf_of_pieces() -> String {
    let radius = (320.0f64.powi(2) + 260.0f64.powi(2)) / 520.0;
    let low = 260.0 - radius;
    let from = (-low).atan2(320.0).to_degrees();
    let line = |a: [f64; 2], b: [f64; 2]| format!("0\nLINE\n8\n0\n10\n{}\n20\n{}\n11\n{}\n21\n{}\n", a[0], a[1], b[0], b[1]);
    format!(
        "0\nSECTION\n2\nHEADER\n{MM}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{}0\nARC\n8\n0\n10\n320\n20\n{low}\n40\n{radius}\n50\n{from}\n\
         51\n{}\n{}0\nENDSEC\n0\nEOF\n",
        line([300.0, 0.0], [0.0, 0.0]),
        180.0 - from,
        line([300.0, 0.0], [640.0, 0.0]),
    )
}

#[test]
fn a_unit_may_stand_under_a_leaning_seat_back() {
    // Seen from the side the seat's back leans from 780 at the floor to 580 at 600 high. The unit's rear end at 660 is 240 high; the
    // back stands at 700 there, 40 off, and less square to its slope. The box round it would begin at 580.
    let keep_out = "[[bay.keep_out]]\nname = \"left arch\"\nview = \"side\"\nalong = [0, 1200]\n\
                    outline = [[780, 0], [1100, 0], [1100, 600], [580, 600]]\ncheck = { height = 600 }\n";
    let square = 40.0 * (200.0f64 / 600.0).atan().cos();
    let derived = with(None, keep_out, 300);
    assert!((gap(&derived) - square).abs() < 1e-6, "{} and {square}", gap(&derived));
}

#[test]
fn a_tracing_that_a_tape_contradicts_is_a_stop_with_both_figures() {
    let distorted = drawn("arch.dxf", "").replace("width = 640", "width = 652");
    let derived = with(Some(("arch.dxf", &dxf(MM, 0.8125, 1))), &distorted, 300);
    let stop = found(&derived, "outline-check").expect("found");
    assert!(stop.message.contains("640") && stop.message.contains("652") && stop.message.contains("12"), "{}", stop.message);
    assert!(stop.limit.as_deref().is_some_and(|l| l.contains("0.3 %")), "{:?}", stop.limit);
    // 0.3 % of 640 is 1.92 mm.
    for (measured, fine) in [("641.8", true), ("642.1", false)] {
        let text = drawn("arch.dxf", "").replace("width = 640", &format!("width = {measured}"));
        let derived = with(Some(("arch.dxf", &dxf(MM, 0.8125, 1))), &text, 300);
        assert_eq!(found(&derived, "outline-check").is_none(), fine, "{measured}");
    }
    // A drawing in inches that says millimetres.
    let inches = drawn("arch.dxf", "").replace("width = 640", "width = 16256");
    let derived = with(Some(("arch.dxf", &dxf(MM, 0.8125, 1))), &inches, 300);
    assert!(found(&derived, "outline-check").expect("found").remedy.contains("inches"));
}

#[test]
fn a_tracing_without_a_measured_length_is_said_so() {
    let keep_out = "[[bay.keep_out]]\nname = \"left arch\"\nview = \"side\"\nalong = [0, 150]\n\
                    outline = [[300, 0], [900, 0], [600, 200]]\n";
    let derived = with(None, keep_out, 300);
    assert_eq!(found(&derived, "outline-not-checked").expect("found").severity, Severity::Caution);
    let checked = with(None, &format!("{keep_out}check = {{ width = 600 }}\n"), 300);
    assert!(found(&checked, "outline-not-checked").is_none());
}

#[test]
fn a_drawing_that_gives_no_outline_says_why() {
    let spline = dxf(MM, 0.5, 1).replace("LWPOLYLINE", "SPLINE");
    let two = dxf(MM, 0.5, 1).replace("0\nENDSEC\n0\nEOF", "0\nCIRCLE\n8\n0\n10\n0\n20\n0\n40\n5\n0\nENDSEC\n0\nEOF");
    let page = "<svg xmlns='http://www.w3.org/2000/svg' width='700' height='300'><rect width='600' height='200'/></svg>";
    let stretched = "<svg width='700mm' height='200mm' viewBox='0 0 700 300'><rect width='600' height='200'/></svg>";
    let open = "<svg width='700mm' height='300mm' viewBox='0 0 700 300'><path d='M0 0 L600 0 L600 200'/></svg>";
    let embedded = "<svg width='700mm' height='300mm' viewBox='0 0 700 300'><use href='#a'/></svg>";
    for (name, text, wanted) in [
        ("a.dxf", dxf("", 0.5, 1), "does not say what its unit is"),
        ("a.dxf", spline, "a SPLINE, which is not read"),
        ("a.dxf", two, "2 closed outlines"),
        ("a.dxf", dxf(MM, 0.5, 0), "nothing goes on from there"),
        ("a.dxf", "0\nSECTION\n2\nENTITIES\n0\nLINE\nx\n".into(), "group code expected"),
        ("a.dxf", "not a drawing".into(), "damaged"),
        ("a.svg", page.into(), "does not say what its unit is"),
        ("a.svg", stretched.into(), "mm per unit across"),
        ("a.svg", open.into(), "not closed"),
        ("a.svg", embedded.into(), "a use, which is not read"),
        ("a.svg", "<svg".into(), "damaged"),
        ("a.pdf", "%PDF".into(), "neither DXF nor SVG"),
    ] {
        let derived = with(Some((name, &text)), &drawn(name, ""), 300);
        let stop = found(&derived, "drawing-unfit").unwrap_or_else(|| panic!("{wanted}: {:?}", derived.findings));
        assert!(stop.message.contains(wanted), "{wanted}: {}", stop.message);
        assert!(!stop.remedy.is_empty() && stop.span.is_some());
    }
    // A unit beside the file serves where the drawing has none.
    let derived = with(Some(("a.dxf", &dxf("", 0.8125, 1))), &drawn("a.dxf", ", unit = \"mm\""), 300);
    assert!(found(&derived, "drawing-unfit").is_none() && found(&derived, "outline-check").is_none());
}

#[test]
fn a_panel_takes_a_drawn_outline_and_a_scribed_edge() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("trim.dxf"), dxf(MM, 0.8125, 1)).expect("written");
    let project = |panel: &str| {
        let text = format!(
            "format = 1\ntitle = \"Trim\"\nunits = \"mm\"\n[boards.ply]\nprofile = \"birch-ply-12\"\nreadings = [12, 12, 12, 12]\n\
             [[panel]]\nname = \"trim\"\nboard = \"ply\"\n{panel}"
        );
        let path = folder.path().join("project.toml");
        fs::write(&path, text).expect("written");
        derive(&path, None).expect("read")
    };
    let drawn = project("outline = { file = \"trim.dxf\" }\ncheck = { width = 640, height = 260 }\n");
    let panel = &drawn.model.as_ref().expect("a model").panels[0];
    assert!((panel.length.nominal().0 - 640.0).abs() < 1e-3 && (panel.width.nominal().0 - 260.0).abs() < 1e-3);
    let outline = panel.outline.as_ref().expect("an outline");
    assert!(outline.vertices().iter().any(|v| v.bulge.abs() > 0.5), "its arc is still an arc");

    // Scribed to a wall that leans in by up to 18 mm over 300.
    let scribed = "size = [600, 300]\nscribed = { edge = \"right\", points = [[0, 0], [150, 12], [300, 18]], \
                   check = { points = [1, 3], length = 300.5 } }\n";
    let derived = project(scribed);
    let panel = &derived.model.as_ref().unwrap_or_else(|| panic!("{:?}", derived.findings)).panels[0];
    let area = panel.outline.as_ref().expect("an outline").area();
    // Trapezoids taken off: 12/2 x 150 + (12 + 18)/2 x 150.
    assert!((area - (180_000.0 - 900.0 - 2250.0)).abs() < 1e-6, "{area}");
    for (change, wanted) in [
        (("[300, 18]]", "[290, 18]]"), "along an edge of"),
        (("[150, 12]", "[150, 612]"), "in from an edge"),
        (("[150, 12], [300", "[310, 12], [300"), "go on along"),
    ] {
        let derived = project(&scribed.replace(change.0, change.1));
        let stop = found(&derived, "outline-unfit").unwrap_or_else(|| panic!("{wanted}: {:?}", derived.findings));
        assert!(stop.message.contains(wanted), "{}", stop.message);
    }
    for edge in ["bottom", "top", "left"] {
        let long = if edge == "left" { 300 } else { 600 };
        let text = format!(
            "size = [600, 300]\nscribed = {{ edge = \"{edge}\", points = [[0, 0], [150, 12], [{long}, 18]], \
             check = {{ width = {long} }} }}\n"
        );
        let derived = project(&text);
        let panel = &derived.model.as_ref().unwrap_or_else(|| panic!("{:?}", derived.findings)).panels[0];
        let off = 900.0 + 15.0 * f64::from(long - 150);
        let area = panel.outline.as_ref().expect("an outline").area();
        assert!((area - (180_000.0 - off)).abs() < 1e-6, "{edge}: {area}");
    }
}

mod damaged {
    use super::{dxf, dxf_of_pieces, MM};
    use baywright::diag::{FileId, Span};
    use baywright::project::{import, Drawing, Written};
    use proptest::prelude::*;

    fn drawing(file: &str) -> Drawing {
        let span = Span { file: FileId(0), start: 0, end: 0 };
        let file = Written { value: file.to_owned(), span };
        Drawing { file, unit: None, at: None, mirrored: None, contour: None }
    }

    proptest! {
        /// Whatever is done to a drawing's text, it gives an outline or says why not.
        #[test]
        fn a_damaged_drawing_never_ends_the_program(at in 0.0f64..1.0, len in 0usize..12, put in "[0-9a-zA-Z <>/.\\-\n'\"=]{0,6}", which in 0usize..3) {
            let svg = "<svg width='700mm' height='300mm' viewBox='0 0 700 300'><g transform='rotate(3) scale(1 2)'>\
                       <path d='M0 0 C 1 2 3 4 600 0 A 5 5 0 0 1 640 9 Z'/></g></svg>";
            let text = [dxf(MM, 0.8125, 1), dxf_of_pieces(), svg.to_owned()][which].clone();
            let from = ((text.len() as f64) * at) as usize;
            let to = (from + len).min(text.len());
            let spoilt = format!("{}{put}{}", &text[..from], &text[to..]);
            let mut one = drawing(["a.dxf", "a.dxf", "a.svg"][which]);
            let read = import(&mut one, &spoilt);
            prop_assert_eq!(read.is_none(), one.contour.is_some());
        }
    }
}
