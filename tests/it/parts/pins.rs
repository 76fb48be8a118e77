//! Pinned sizes: what follows is derived again, and everything still meets.

use super::solids::assert_apart;
use super::support::{build_text, near, two_drawers, Built};

fn pinned(pins: &str) -> Built {
    let text =
        format!("{}[pin]\n{pins}\n", two_drawers("joint = \"finger\"\nback = { place = \"behind\" }", "joint = \"finger\""));
    let built = build_text(&text).no_stops();
    assert_apart(&built.model, pins);
    assert!(built.has("pinned-size"), "{}", built.shown());
    built
}

fn verdict(built: &Built, gap: &str) -> (f64, &'static str) {
    let (ledger, _) = built.checked();
    let line = ledger.lines.iter().find(|l| l.gap == gap).unwrap_or_else(|| panic!("no gap {gap}"));
    (line.nominal.0, line.verdict.word())
}

#[test]
fn a_pinned_box_width_moves_the_walls_and_shows_in_the_side_space() {
    let built = pinned("\"low.left.drawer.box.width\" = 350");
    let (left, right) = (
        built.panel("low left drawer left side").solid().unwrap(),
        built.panel("low left drawer right side").solid().unwrap(),
    );
    near(right.max.x - left.min.x, 350.0, "box");
    // Opening 377.5: 13.75 on each side, more than the 13.2 that do not rattle.
    assert_eq!(verdict(&built, "low left drawer: side space left"), (13.75, "fails"));
    assert_eq!(verdict(&built, "low right drawer: side space left").1, "fits");
}

#[test]
fn a_pinned_front_stays_in_the_middle_of_its_opening() {
    let built = pinned("\"low.left.drawer.front.width\" = 376");
    let front = built.panel("low left drawer front").solid().unwrap();
    near(front.min.x - 15.0, 0.75, "left");
    near(15.0 + 377.5 - front.max.x, 0.75, "right");
    let (gap, _) = verdict(&built, "low left drawer front: reveals left and right, together");
    near(gap, 1.5, "together");
}

#[test]
fn a_pinned_opening_leaves_the_rest_to_the_other() {
    let built = pinned("\"low left opening width\" = 300");
    let inner = built.panel("low inner upright").solid().unwrap();
    near(inner.min.x, 315.0, "inner upright");
    let right = built.panel("low right upright").solid().unwrap();
    near(right.max.x, 800.0, "outside stays");
    near(verdict(&built, "low right drawer: side space right").0, 13.05, "the other box follows");
}

#[test]
fn pinned_inner_sizes_carry_outwards() {
    let built = pinned("\"low clear width\" = 760\n\"low clear height\" = 205\n\"low upright depth before the back\" = 580");
    let (base, top) = (built.panel("low base").solid().unwrap(), built.panel("low top").solid().unwrap());
    near(base.max.x - base.min.x, 790.0, "outside width");
    near(top.max.z, 15.0 + 205.0 + 15.0, "outside height");
    near(base.max.y, 580.0 + 15.0, "outside depth");
    let back = built.panel("low back").solid().unwrap();
    near(back.min.y, 580.0, "the back stands right behind");
}

#[test]
fn a_pinned_upright_takes_its_fingers_along() {
    let built = pinned("\"low left upright depth\" = 570");
    let upright = built.panel("low left upright");
    near(upright.length.nominal().0, 570.0, "pinned");
    for f in &upright.features {
        assert!(f.centre()[0].0 < 570.0, "{}", f.id);
    }
}

#[test]
fn a_pin_for_nothing_is_a_stop_with_the_nearest_name() {
    let text = format!("{}[pin]\n\"low left drawer box widht\" = 300\n", two_drawers("", ""));
    let built = build_text(&text);
    let finding = built.findings.iter().find(|f| f.code.id == "pin-not-found").expect("a finding");
    assert!(finding.remedy.contains("low left drawer box width"), "{}", finding.remedy);
}

#[test]
fn columns_that_almost_add_up_meet_the_last_upright() {
    // 370 + 384.8 + 3 x 15 = 799.8: 0.2 mm less than the outside, which a tape cannot tell.
    let text = two_drawers("", "")
        .replace("name = \"left\"", "name = \"left\"\nwidth = 370")
        .replace("name = \"right\"", "name = \"right\"\nwidth = 384.8");
    let built = build_text(&text).no_stops();
    near(verdict(&built, "low right drawer: side space right").0, 13.05, "side space");
    let (side, upright) =
        (built.panel("low right drawer right side").solid().unwrap(), built.panel("low right upright").solid().unwrap());
    near(upright.min.x - side.max.x, 13.05, "as built");
    let off = text.replace("384.8", "380");
    assert!(build_text(&off).has("shares-do-not-fit"));
}
