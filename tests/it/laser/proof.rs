//! A laser's pack proves; spoilt, it does not.

use super::support::{machine, panels, sound, PLATE};
use baywright::proof::{self, Verdict};
use baywright::write::Files;

fn files(compensate: bool) -> Files {
    sound(&panels(PLATE), &machine("0.2", compensate)).files
}

fn failed(verdict: &Verdict) -> Vec<&'static str> {
    verdict.rules.iter().filter(|r| !r.passed).map(|r| r.rule).collect()
}

/// The pack with its laser's SVG changed.
fn spoilt(change: impl FnOnce(String) -> String) -> Vec<&'static str> {
    let mut files = files(true);
    let name = "laser/thin-01.svg";
    let before = String::from_utf8(files[name].clone()).unwrap();
    let after = change(before.clone());
    assert_ne!(before, after, "the change must change something");
    files.insert(name.to_owned(), after.into_bytes());
    failed(&proof::prove(&files))
}

#[test]
fn a_laser_pack_proves_moved_or_not() {
    for compensate in [true, false] {
        let verdict = proof::prove(&files(compensate));
        assert!(verdict.passed, "{}", verdict.to_text());
        let checked = |rule: &str| verdict.rules.iter().find(|r| r.rule == rule).map_or(0, |r| r.checked);
        // Two files with two copies of five lines each.
        assert_eq!((checked("proof-beam-off-edge"), checked("proof-part-gouged")), (20, 4));
        assert_eq!(verdict.findings.iter().any(|f| f.message.contains("0.2 mm small")), !compensate);
    }
}

/// The first path on a layer, by its data.
fn path_on<'a>(svg: &'a str, layer: &str) -> &'a str {
    let from = svg.find(&format!("data-layer=\"{layer}\"")).expect("the layer");
    let at = from + svg[from..].find("<path d=\"").expect("a path") + 9;
    &svg[at..at + svg[at..].find('"').expect("its end")]
}

#[test]
fn a_line_off_its_place_fails() {
    // The whole drawing stays; one outline's first corner moves by a hundredth.
    let moved = |by: f64| {
        spoilt(|svg| {
            let d = path_on(&svg, "THROUGH-OUTSIDE").to_owned();
            let x: f64 = d[1..].split(' ').next().unwrap().parse().unwrap();
            let first = format!("M{x} ");
            svg.replacen(&d, &d.replacen(&first, &format!("M{} ", x + by), 1), 1)
        })
    };
    assert!(moved(0.02).contains(&"proof-beam-off-edge"));
    assert!(moved(-0.02).contains(&"proof-beam-off-edge"));
    assert!(moved(0.5).contains(&"proof-part-gouged"));
    assert!(moved(-0.5).contains(&"proof-wood-left"));
}

#[test]
fn the_finished_edge_in_place_of_the_beams_centre_fails() {
    let edge = files(false)["laser/thin-01.svg"].clone();
    let failed = spoilt(|_| String::from_utf8(edge).unwrap());
    assert!(failed.contains(&"proof-beam-off-edge") && failed.contains(&"proof-header-wrong"), "{failed:?}");
}

#[test]
fn an_outline_before_its_openings_fails() {
    let failed = spoilt(|svg| {
        let (outside, inside) = (path_on(&svg, "THROUGH-OUTSIDE").to_owned(), path_on(&svg, "THROUGH-INSIDE").to_owned());
        // Both groups change places with their layers.
        let (a, b) =
            (svg.find("<g data-layer=\"THROUGH-INSIDE\"").unwrap(), svg.find("<g data-layer=\"THROUGH-OUTSIDE\"").unwrap());
        let end = b + svg[b..].find("</g>").unwrap() + 5;
        assert!(svg[a..b].contains(&inside) && svg[b..end].contains(&outside));
        format!("{}{}{}{}", &svg[..a], &svg[b..end], &svg[a..b], &svg[end..])
    });
    assert!(failed.contains(&"proof-beam-order-wrong"), "{failed:?}");
}

#[test]
fn a_missing_line_a_line_too_many_and_a_wrong_layer_fail() {
    let path = |svg: &str| {
        let d = path_on(svg, "THROUGH-INSIDE");
        let at = svg.find(d).unwrap() - 9;
        (at, at + svg[at..].find("/>").unwrap() + 3)
    };
    let gone = spoilt(|svg| {
        let (a, b) = path(&svg);
        format!("{}{}", &svg[..a], &svg[b..])
    });
    let twice = spoilt(|svg| {
        let (a, b) = path(&svg);
        format!("{}{}{}", &svg[..b], &svg[a..b], &svg[b..])
    });
    let wrong = spoilt(|svg| svg.replacen("data-layer=\"THROUGH-INSIDE\"", "data-layer=\"MARK\"", 1));
    for failed in [gone, twice, wrong] {
        assert!(failed.contains(&"proof-beam-off-edge"), "{failed:?}");
    }
}

#[test]
fn files_that_are_not_there_fail() {
    let mut files = files(true);
    files.remove("laser/thin-01.dxf");
    let failed = failed(&proof::prove(&files));
    assert!(failed.contains(&"proof-file-missing") && failed.contains(&"proof-not-simulated"), "{failed:?}");
}
