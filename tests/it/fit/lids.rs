//! Lids on their arc: by trigonometry, and by a general polygon library in small steps.

use super::derived;
use baywright::fit::{ways, Way};
use baywright::run::Derived;
use geo::{Area as _, BooleanOps as _, Distance as _, Euclidean, LineString, Polygon};
use proptest::prelude::*;

/// A box 700 wide and 500 deep at 200, 300 in a bay, its lid 12 mm thick.
fn project(hinge: &str, angle: f64, height: f64, more: &str) -> String {
    format!(
        "format = 1\ntitle = \"Stores\"\nunits = \"mm\"\n[bay]\nwidth = {{ readings = [1200], uncertainty = 2 }}\n\
         depth = {{ readings = [1400], uncertainty = 2 }}\nheight = {{ readings = [900], uncertainty = 2 }}\n{more}\
         [boards.ply]\nprofile = \"birch-ply-12\"\nreadings = [12, 12, 12, 12]\n[[carcass]]\nname = \"low\"\nat = [200, 300, 0]\n\
         width = 700\ndepth = 500\nheight = {height}\nboard = \"ply\"\ntop = {{ lid = {{ hinge = \"{hinge}\", angle = {angle} }} }}\n\
         [[carcass.column]]\nname = \"one\"\n"
    )
}

fn lid(derived: &Derived) -> Way {
    let (Some(design), Some(model)) = (&derived.design, &derived.model) else { panic!("{:?}", derived.findings) };
    ways(design, model).into_iter().find(|w| w.name == "low lid").expect("a lid")
}

fn blocked(derived: &Derived) -> Option<&str> {
    derived.findings.iter().find(|f| f.code.id == "way-blocked").map(|f| f.message.as_str())
}

#[test]
fn a_lid_meets_the_roof_where_trigonometry_says() {
    // Hinged at the lower arris: the far upper edge is at hypot(500, 12) and rises to it sin(a) + its own angle.
    let (radius, ahead) = (500f64.hypot(12.0), (12f64 / 500.0).atan());
    let derived = derived(&project("back", 95.0, 500.0, ""));
    // The lid lies on 488: 412 mm of room above its arris.
    let at = ((412.0 / radius).asin() - ahead).to_degrees();
    let message = blocked(&derived).expect("blocked");
    assert!(message.contains(&format!("after {at:.1} of 95 degrees")), "{message}, not {at:.1}");
    assert!(message.contains("the roof"), "{message}");
    // A lower box clears it, by what is left over the highest point of its arc.
    let derived = super::derived(&project("back", 120.0, 380.0, ""));
    assert!(blocked(&derived).is_none());
    let lid = lid(&derived);
    assert_eq!(lid.nearest.as_deref(), Some("the roof"));
    assert!((lid.air.0 - (900.0 - 368.0 - radius)).abs() < 0.01, "{lid:?}");
    let ledger = derived.ledger.expect("judged");
    let line = ledger.lines.iter().find(|l| l.gap == "low lid on its way to the roof").expect("a line");
    assert!((line.nominal.0 - lid.air.0).abs() < 1e-9 && line.required.min.0 == 10.0);
}

#[test]
fn each_edge_turns_its_own_way() {
    // A post stands beside the box on each side in turn, its near face 60 off: only the lid hinged there swings over it.
    for (hinge, from) in
        [("back", [400, 860, 0]), ("front", [400, 200, 0]), ("left", [100, 500, 0]), ("right", [960, 500, 0])]
    {
        let post =
            format!("[[bay.keep_out]]\nname = \"post\"\nfrom = [{}, {}, 0]\nsize = [40, 40, 700]\n", from[0], from[1]);
        for edge in ["back", "front", "left", "right"] {
            let derived = derived(&project(edge, 100.0, 200.0, &post));
            let met = blocked(&derived).is_some_and(|m| m.contains("post"));
            assert_eq!(met, edge == hinge, "post at the {hinge}, hinged at the {edge}: {:?}", blocked(&derived));
        }
    }
}

#[test]
fn a_lid_and_a_drawer_that_need_each_other_shut_are_told() {
    // The drawer of a second unit before the box stands open over the place where the lid's front edge rises.
    let other =
        "[[carcass]]\nname = \"high\"\nat = [200, 850, 220]\nwidth = 700\ndepth = 500\nheight = 200\nboard = \"ply\"\n\
                 [[carcass.column]]\nname = \"left\"\n[[carcass.column.cell]]\n\
                 drawer = { slide = \"side-mount-350\", latch = \"flush-paddle\" }\n";
    let derived = derived(&(project("front", 110.0, 200.0, "") + other));
    let lid = lid(&derived);
    assert_eq!(lid.needs, ["high left drawer must be shut"], "{:?}", derived.findings);
    let drawer = ways(derived.design.as_ref().expect("a design"), derived.model.as_ref().expect("a model"))
        .into_iter()
        .find(|w| w.name == "high left drawer")
        .expect("a drawer");
    assert!(drawer.needs.is_empty(), "the open lid stands before its front edge, at {:?}", drawer.needs);
    let finding = derived.findings.iter().find(|f| f.code.id == "ways-exclude").expect("told");
    assert!(finding.message.contains("low lid stops after") && finding.parts.len() == 2, "{}", finding.message);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    /// A keep-out anywhere over or behind the lid: the least air of the arc, and where it is met, against a polygon library that
    /// looks at the lid in every half degree.
    #[test]
    fn an_arc_is_what_a_polygon_library_sees(
        y in 250.0f64..1100.0, z in 260.0f64..780.0, deep in 5.0f64..80.0, high in 5.0f64..80.0, angle in 20.0f64..140.0
    ) {
        let post = format!(
            "[[bay.keep_out]]\nname = \"rail\"\nfrom = [100, {y}, {z}]\nsize = [1000, {deep}, {high}]\n"
        );
        let derived = derived(&project("back", angle, 200.0, &post));
        let polygon = |points: Vec<(f64, f64)>| Polygon::new(LineString::from(points), Vec::new());
        let rail = polygon(vec![(y, z), (y + deep, z), (y + deep, z + high), (y, z + high)]);
        let (mut least, mut met) = (f64::INFINITY, None);
        let steps = (angle * 2.0).ceil();
        for i in 0..=(steps as u32) {
            let turn = (angle * f64::from(i) / steps).to_radians();
            let at = |out: f64, up: f64| {
                (800.0 - (out * turn.cos() - up * turn.sin()), 188.0 + out * turn.sin() + up * turn.cos())
            };
            let leaf = polygon(vec![at(0.0, 0.0), at(500.0, 0.0), at(500.0, 12.0), at(0.0, 12.0)]);
            let apart = Euclidean.distance(&leaf, &rail);
            least = least.min(apart);
            if met.is_none() && apart == 0.0 && leaf.intersection(&rail).unsigned_area() > 1.0 {
                met = Some(turn.to_degrees());
            }
        }
        let message = blocked(&derived).filter(|m| m.contains("rail")).map(str::to_owned);
        match (met, message) {
            (Some(degrees), Some(message)) => {
                let told: f64 = message.split("after ").nth(1).and_then(|m| m.split(' ').next()).expect("a figure").parse().expect("one");
                // The library looks every half degree, and only from a square millimetre on.
                prop_assert!(told <= degrees + 0.1 && told > degrees - 1.5, "{told} and {degrees}");
            }
            (Some(degrees), None) => prop_assert!(false, "met at {degrees} and not told"),
            (None, Some(message)) => prop_assert!(least < 1.5, "{message}, and {least} mm of air"),
            (None, None) if least < 60.0 => {
                let line = derived.ledger.as_ref().and_then(|l| l.lines.iter().find(|l| l.gap == "low lid on its way to rail").cloned());
                if let Some(line) = line {
                    // Half a degree at 500 mm is 4.4 mm of arc: the library can only see more air than there is.
                    prop_assert!(line.nominal.0 <= least + 0.01 && line.nominal.0 > least - 4.4, "{} and {least}", line.nominal);
                }
            }
            (None, None) => {}
        }
    }
}
