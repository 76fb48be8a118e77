//! Planted faults: each is named with its number and a remedy; its twin, which differs in that one thing, is not.

use super::support::{design, judge_design, judged, near, one_drawer, stow, Judged, BAY, BOARDS};
use baywright::diag::{Code, Severity};
use baywright::fit::load::codes;
use baywright::units::Mm;
use std::sync::Arc;

const HELD: &str = "anchors = [\"a\", \"b\", \"c\", \"d\"]";

/// A carcass without columns inside: only its top counts.
fn wide_top(board: &str, load: f64) -> String {
    format!(
        "{BOARDS}[[carcass]]\nname = \"wide\"\nat = [0, 0, 0]\nwidth = 1200\ndepth = 500\nheight = 300\nboard = \"{board}\"\n\
         top = {{ board = \"{board}\", load = {load} }}\n[[carcass.column]]\nname = \"all\"\n"
    )
}

fn drawer_with(mass: f64) -> String {
    format!("{BOARDS}{BAY}{}{}", one_drawer(HELD, ""), stow("anchor chain", mass, "low.left", ""))
}

fn in_van(vehicle: &str) -> String {
    format!("{BOARDS}{BAY}[vehicle]\n{vehicle}\n{}{}", one_drawer(HELD, ""), stow("box", 10.0, "low.left", ""))
}

fn rated(rating: &str) -> String {
    format!(
        "{BOARDS}{}{}{}",
        BAY.replace("rating = 4000", &format!("rating = {rating}")),
        one_drawer(HELD, ""),
        stow("box", 10.0, "low.left", "")
    )
}

fn table(keep: &str) -> String {
    format!(
        "{BOARDS}[[carcass]]\nname = \"low\"\nat = [0, 0, 0]\nwidth = 600\ndepth = 900\nheight = 260\nboard = \"carcass\"\n\
         [[carcass.column]]\nname = \"left\"\n[[pull_out]]\nname = \"desk\"\nover = \"low\"\nboard = \"carcass\"\ncover = \"carcass\"\n\
         keep_under_cover = {keep}\nload = 5\n"
    )
}

fn lip(height: f64, screw: &str) -> String {
    format!(
        "{BOARDS}{}[[lip]]\non = \"low\"\nedges = [\"left\"]\nheight = {height}\nboard = \"carcass\"\nscrew = \"{screw}\"\n",
        one_drawer("", "")
    )
}

/// Shallow on the floor, with a heavy drawer: pulled out, its centre lies before its base.
fn shallow(mass: f64, drawer: &str) -> String {
    format!(
        "{BOARDS}{BAY}[[carcass]]\nname = \"low\"\nat = [100, 50, 0]\nwidth = 600\ndepth = 560\nheight = 260\nboard = \"carcass\"\n\
         [[carcass.column]]\nname = \"left\"\n[[carcass.column.cell]]\ndrawer = {{ slide = \"side-mount-500\", latch = \"flush-paddle\", \
         front = \"front\"{drawer} }}\n{}",
        stow("lead", mass, "low.left", "")
    )
}

fn pilot(factor: f64) -> Judged {
    let (texts, mut design) = design(&lip(40.0, "screw-4.0"));
    for lip in &mut design.lips {
        let screw = Arc::make_mut(&mut lip.screw);
        screw.pilot = screw.pilot.map(|p| p * factor);
    }
    for carcass in &mut design.carcasses {
        let screw = Arc::make_mut(&mut carcass.screw);
        screw.pilot = screw.pilot.map(|p| p * factor);
        for cell in carcass.columns.iter_mut().flat_map(|c| &mut c.cells) {
            if let Some(drawer) = &mut cell.drawer {
                let wall = Arc::make_mut(&mut drawer.fasteners.wall);
                wall.pilot = wall.pilot.map(|p| p * factor);
            }
        }
    }
    judge_design(texts, design)
}

/// The sample drawer on slides that leave this much over screw heads of 3.1 mm.
fn head_room(room: f64) -> Judged {
    let (texts, mut design) = design(&format!("{BOARDS}{}", one_drawer("", "")));
    for cell in design.carcasses.iter_mut().flat_map(|c| &mut c.columns).flat_map(|c| &mut c.cells) {
        if let Some(drawer) = &mut cell.drawer {
            Arc::make_mut(&mut drawer.slide).head_room = Some(Mm(room));
        }
    }
    judge_design(texts, design)
}

fn deep_box(length: &str) -> String {
    format!(
        "{BOARDS}{}[[stow]]\nname = \"oar\"\nsize = [100, {length}, 80]\nmass = 2\nin = \"low.left\"\nthis_way_up = true\n",
        one_drawer("", "depth = 560").replace("depth = 600", "depth = 640").replace("side-mount-500", "side-mount-400")
    )
}

/// Code, severity, words of the message, faulty text, twin.
type Case = (Code, Severity, &'static str, Judged, Judged);

fn cases() -> Vec<Case> {
    use Severity::{Caution, Note, Stop};
    let bare = |text: &str| judged(text);
    vec![
        (codes::SLIDE_OVERLOADED, Stop, "kg", bare(&drawer_with(80.0)), bare(&drawer_with(5.0))),
        (codes::SAGS, Caution, "mm", bare(&wide_top("front", 60.0)), bare(&wide_top("front", 4.0))),
        (codes::OVERSTRESSED, Stop, "N/mm²", bare(&wide_top("front", 900.0)), bare(&wide_top("front", 4.0))),
        (codes::TABLE_TIP_SOFT, Caution, "10 mm", bare(&table("\"1/3\"")), bare(&table("0.7"))),
        (
            codes::NOT_ANCHORED,
            Caution,
            "nothing but friction",
            bare(&format!("{BOARDS}{BAY}{}", one_drawer("", ""))),
            bare(&format!("{BOARDS}{BAY}{}", one_drawer(HELD, ""))),
        ),
        (codes::ANCHOR_OVERLOADED, Stop, "factor 2", bare(&rated("40")), bare(&rated("4000"))),
        (codes::RATING_NOT_KNOWN, Note, "not known", bare(&rated("\"not known\"")), bare(&rated("4000"))),
        (
            codes::PAYLOAD_EXCEEDED,
            Stop,
            "may carry 100 kg",
            bare(&in_van("payload = 100\npeople = 75")),
            bare(&in_van("payload = 900\npeople = 75")),
        ),
        (
            codes::PAYLOAD_NEARLY_USED,
            Caution,
            "%",
            bare(&in_van("payload = 115\npeople = 75")),
            bare(&in_van("payload = 900\npeople = 75")),
        ),
        (codes::PAYLOAD_NOT_KNOWN, Note, "not known", bare(&in_van("gross = 3000")), bare(&in_van("payload = 900"))),
        (
            codes::AXLE_OVERLOADED,
            Stop,
            "rear axle",
            bare(&in_van("payload = 900\nwheelbase = 3000\nrear_axle = 900\nrear_axle_rest = 20")),
            bare(&in_van("payload = 900\nwheelbase = 3000\nrear_axle = 900\nrear_axle_rest = 400")),
        ),
        (
            codes::HEAVY_LIFT,
            Note,
            "without goods",
            bare(&wide_top("carcass", 4.0).replace("width = 1200\ndepth = 500", "width = 1600\ndepth = 900")),
            bare(&format!("{BOARDS}{}", one_drawer("", ""))),
        ),
        (
            codes::TIPS_PULLED_OUT,
            Caution,
            "in front of its base",
            bare(&shallow(60.0, "")),
            bare(&(shallow(2.0, "") + &stow("ballast", 150.0, "low.top", ""))),
        ),
        (codes::SCREW_TOO_LONG, Caution, "comes out by", bare(&lip(8.0, "screw-5.0")), bare(&lip(60.0, "screw-5.0"))),
        (codes::SLIDE_SCREW_HEAD, Caution, "leaves 3.3 mm", head_room(3.3), head_room(3.4)),
        (codes::SCREW_TOO_SHORT, Note, "bites", bare(&lip(16.0, "screw-4.0")), bare(&lip(60.0, "screw-4.0"))),
        (codes::PILOT_SIZE, Caution, "strips", pilot(1.4), pilot(1.0)),
        (codes::GOODS_DO_NOT_FIT, Caution, "does not go into low.left", bare(&deep_box("700")), bare(&deep_box("300"))),
        (codes::GOODS_STUCK_AT_REAR, Note, "stays", bare(&deep_box("520")), bare(&deep_box("300"))),
        (
            codes::GOODS_WITHOUT_PLACE,
            Note,
            "has no place",
            bare(&format!("{BOARDS}{}{}", one_drawer("", ""), stow("tent", 6.0, "", ""))),
            bare(&format!("{BOARDS}{}{}", one_drawer("", ""), stow("tent", 6.0, "low.left", ""))),
        ),
    ]
}

#[test]
fn every_code_has_a_fault_and_a_twin() {
    let cases = cases();
    for code in codes::ALL {
        assert!(cases.iter().any(|(covered, ..)| covered == code), "{} has no case", code.id);
    }
    for (code, severity, words, faulty, twin) in &cases {
        let found = faulty.of(*code);
        let told = found.iter().find(|f| f.severity == *severity && f.message.contains(words));
        let told = told.unwrap_or_else(|| panic!("{}: {}", code.id, faulty.shown()));
        assert!(!told.remedy.is_empty(), "{}", code.id);
        assert!(told.message.chars().any(|c| c.is_ascii_digit()), "{}: no number in {}", code.id, told.message);
        assert!(twin.of(*code).is_empty(), "{}: the twin has it too: {}", code.id, twin.shown());
    }
}

/// Between the derated and the full rating it is a caution; the remedy's figures are those that would do.
#[test]
fn the_slide_remedy_would_do() {
    let caution = judged(&drawer_with(24.0));
    let found = caution.one(codes::SLIDE_OVERLOADED);
    assert_eq!(found.severity, Severity::Caution, "{}", caution.shown());
    let over = caution.report.slides[0].moving_kg - caution.report.slides[0].derated_kg;
    assert!(over > 0.0);
    assert!(judged(&drawer_with(24.0 - over - 0.01)).of(codes::SLIDE_OVERLOADED).is_empty());
    assert!(!judged(&drawer_with(24.0 - over + 0.01)).of(codes::SLIDE_OVERLOADED).is_empty());
}

/// At the least thickness that the page names, the sag is just at its limit.
#[test]
fn the_least_thickness_is_the_least() {
    let sagging = judged(&wide_top("front", 60.0));
    let bent = &sagging.report.bent[0];
    let thicker = bent.least.0 / 12.0;
    let first = bent.first.0 / thicker.powi(3);
    let limit = (bent.span.0 / 360.0).max(first);
    near(first.max(2.0 * first * 200.0 / 360.0), limit, 1e-6, "first load");
}

/// The payload remedy says by how much.
#[test]
fn the_payload_finding_carries_the_overload() {
    let judged = judged(&in_van("payload = 100\npeople = 75\nother = 5"));
    let over = judged.report.mass_kg + 80.0 - 100.0;
    let found = judged.one(codes::PAYLOAD_EXCEEDED);
    assert!(found.remedy.contains(&format!("{over:.1}")[..3]), "{} {}", over, found.remedy);
}
