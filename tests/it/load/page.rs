//! The sample's page, worked out again from what it prints; and the command that prints it.

use super::support::{near, sample};
use crate::cli;
use baywright::fit::load::codes;
use baywright::flat::flatten;

/// Numbers of a text, in order.
fn numbers(text: &str) -> Vec<f64> {
    let mut found = Vec::new();
    let mut word = String::new();
    for c in text.chars().chain([' ']) {
        if c.is_ascii_digit() || c == '.' || (c == '-' && word.is_empty()) {
            word.push(c);
        } else {
            found.extend(word.trim_end_matches('.').parse::<f64>());
            word.clear();
        }
    }
    found
}

#[test]
fn sums_and_products_on_the_page_are_right() {
    let judged = sample();
    let (mut sums, mut latches, mut slides) = (0, 0, 0);
    for line in judged.lines() {
        if let Some((_, rest)) = line.split_once(": ").filter(|(_, r)| r.matches(" kg").count() == 4 && r.contains(" = ")) {
            let n = numbers(rest);
            assert!((n[0] + n[1] + n[2] - n[3]).abs() < 0.021, "{line}");
            sums += 1;
        }
        if let Some((_, rest)) = line.split_once("latch: ") {
            let n = numbers(&rest.replace("m/s²", ""));
            near(n[0] * n[1] * n[2] * n[3], n[4], 0.01, line);
            latches += 1;
        }
        if let Some((_, rest)) = line.split_once("moving; ") {
            let n = numbers(rest.split_once(' ').expect("a slide").1);
            near(n[0] * n[1], n[2], 0.001, line);
            slides += 1;
        }
    }
    assert_eq!((latches, slides), (4, 4));
    assert!(sums >= 10, "{sums}");
}

/// The bending of a bottom and of a table again, from the printed numbers.
#[test]
fn bending_on_the_page_is_right() {
    let judged = sample();
    let (mut ends, mut plates) = (0, 0);
    for line in judged.lines() {
        if let Some((_, rest)) = line.split_once("checklist FM11): ") {
            let n = numbers(&rest.replace(['²', '⁴'], " "));
            let [p, c, b, e, i, w] = [n[0], n[1], n[3], n[5], n[6], n[7]];
            near(p * c * c * (c + b) / (3.0 * e * i), w, 0.01, line);
            ends += 1;
        }
        if let Some((_, rest)) = line.split_once("all spread: ") {
            let after = |mark: &str| numbers(rest.split_once(mark).unwrap_or_else(|| panic!("{mark} in {line}")).1)[0];
            let (q, k, a) = (after(") = "), after(", k = "), after(", a "));
            let d = numbers(rest.rsplit_once("= ").expect("D").1);
            near(k * q * a.powi(4) / d[0], d[1], 0.03, line);
            plates += 1;
        }
    }
    assert_eq!((ends, plates), (2, 2));
}

/// The pushes and the moments again: mass x acceleration x g, push / bolts, and the pulls from the printed moment and distances.
#[test]
fn restraint_on_the_page_is_right() {
    let judged = sample();
    let (mut pushes, mut shares, mut pulls) = (0, 0, 0);
    let lines: Vec<&str> = judged.lines().collect();
    let spots: Vec<[f64; 2]> = judged
        .design
        .bay
        .as_ref()
        .expect("a bay")
        .anchors
        .iter()
        .map(|a| [a.at[0].nominal().0, a.at[1].nominal().0])
        .collect();
    for (i, line) in lines.iter().enumerate() {
        if let Some((_, rest)) = line.split_once(" g x ").filter(|_| line.contains(" m/s² = ") && !line.contains("unbolted"))
        {
            let g = numbers(line.split_once(" g x ").expect("g").0.rsplit_once(' ').expect("g").1)[0];
            let n = numbers(&rest.replace("m/s²", ""));
            near(g * n[0] * n[1], n[2], 0.005, line);
            pushes += 1;
        }
        if let Some((_, rest)) = line.split_once("shear: ").filter(|(_, r)| r.contains(" each")) {
            let n = numbers(rest);
            near(n[0] / n[1], n[2], 0.01, line);
            shares += 1;
        }
        if let Some((_, rest)) = line.split_once("lifts with ") {
            // Lift x (1/n + ex dx / sum + ey dy / sum) at every anchor.
            let n = numbers(rest);
            for (spot, said) in spots.iter().zip(&lines[i + 1..]) {
                let share = 1.0 / n[2] + n[3] * (spot[0] - n[7]) / n[4] + n[5] * (spot[1] - n[8]) / n[6];
                let pull = numbers(said.split_once("pull ").expect("a pull").1)[0];
                near(n[0] * share, pull, 0.03, said);
                pulls += 1;
            }
        }
    }
    assert_eq!((pushes, shares, pulls), (5, 4, 6));
}

/// The page carries its cautions, names its set, and says what is not known.
#[test]
fn the_page_is_honest() {
    let judged = sample();
    let page: Vec<&str> = judged.lines().collect();
    let has = |words: &str| assert!(page.iter().any(|l| l.contains(words)), "no \"{words}\"");
    has("NOT CRASH TESTED");
    has("not an approval");
    has("licensed practice");
    has("VDI 2700-16");
    has("rating NOT KNOWN");
    has("CTU Code 2014");
    has("Never use the anchors of seat belts");
    assert_eq!(judged.of(codes::RATING_NOT_KNOWN).len(), 1);
    assert!(judged.of(codes::SLIDE_OVERLOADED).is_empty(), "{}", judged.shown());
    assert!(judged.of(codes::SCREW_TOO_LONG).is_empty(), "{}", judged.shown());
    assert!(judged.of(codes::GOODS_DO_NOT_FIT).is_empty(), "{}", judged.shown());
    assert!(judged.of(codes::PAYLOAD_NOT_KNOWN).is_empty(), "{}", judged.shown());
    assert!(judged.report.payload.axles_kg.is_some());
    // No force is worked out of a thread.
    assert!(page.iter().all(|l| !l.contains("8.8") || l.contains("mm")), "a strength class on the page");
}

/// Panels weighed from the model agree with the flat parts, whose corners are relieved.
#[test]
fn mass_agrees_with_the_flat_parts() {
    let judged = sample();
    let parts = flatten(&judged.design, &judged.model).value.expect("flat parts");
    let flat: f64 = parts.parts.iter().map(|p| p.mass_kg * p.panels.len() as f64).sum();
    let wood: f64 = judged.report.bodies.iter().map(|b| b.wood_kg).sum();
    near(wood, flat, 0.005, "wood");
}

/// Hardware is counted exactly, small pieces with a tenth to spare.
#[test]
fn the_shopping_list_is_the_models() {
    let judged = sample();
    let count: u32 = judged.report.hardware.iter().map(|h| h.quantity).sum();
    assert_eq!(count, judged.model.hardware.iter().map(|h| h.quantity).sum::<u32>());
    for item in &judged.report.hardware {
        let large = ["side-mount", "flush-paddle", "pad", "catch"];
        let small = !large.iter().any(|l| item.profile.starts_with(l));
        assert_eq!(item.spare, if small { item.quantity.div_ceil(10) } else { 0 }, "{}", item.name);
    }
}

#[test]
fn the_command_prints_the_page_and_its_data() {
    let bench = cli::Bench::new();
    let plain = bench.run(&["load", &cli::sample("survey-van")]);
    let plain = plain.expect(0, &["NOT CRASH TESTED", "PAYLOAD", "RESTRAINT", "COST", "0 stoppers"]);
    let longest = plain.out.lines().map(|l| l.chars().count()).max().unwrap_or(0);
    assert!(longest <= 130, "{longest}");
    let data = bench.run(&["load", &cli::sample("survey-van"), "--json"]).expect(0, &[]);
    let data: serde_json::Value = serde_json::from_str(&data.out).expect("JSON");
    let bodies = data["bodies"].as_array().expect("bodies");
    let sum: f64 = bodies
        .iter()
        .map(|b| ["wood_kg", "hardware_kg", "goods_kg"].iter().map(|k| b[k].as_f64().expect("kg")).sum::<f64>())
        .sum();
    near(sum, data["mass_kg"].as_f64().expect("kg"), 1e-9, "mass");
    assert!(data["cost"]["machine"].as_f64().is_some_and(|m| m > 0.0));
    assert!(data["restraint"][0]["cases"].as_array().is_some_and(|c| c.len() == 6));
}
