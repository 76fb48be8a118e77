//! Every finding of the fit checks with a failing and a passing twin, and the arithmetic of the gaps by trial.

use super::support::{build_text, two_drawers, Built};
use baywright::diag::Severity;
use baywright::dim::Dim;
use baywright::fit::codes;
use baywright::fit::{Ledger, Verdict};

/// A plain box 600 x 400 x 300 at (100, 50, 0) in a bay; `bay` is the bay's text, `more` further tables.
fn boxed(bay: &str, carcass: &str, more: &str) -> String {
    format!(
        "format = 1\ntitle = \"Gauge hut\"\nunits = \"mm\"\n[bay]\n{bay}\n[boards.carcass]\nprofile = \"birch-ply-15\"\n\
         readings = [15, 15, 15, 15]\n[[carcass]]\nname = \"low\"\nat = [100, 50, 0]\nwidth = 600\ndepth = 400\nheight = 300\n\
         board = \"carcass\"\njoint = \"butt\"\n{carcass}\n[[carcass.column]]\nname = \"only\"\n{more}\n"
    )
}

fn codes_of(text: &str) -> Vec<&'static str> {
    let (_, findings) = build_text(text).no_stops().checked();
    findings.iter().map(|f| f.code.id).collect()
}

const WIDE: &str = "width = 1000\ndepth = 1000\nheight = 800\n";

#[test]
fn a_gap_that_fails_says_how_much_is_missing() {
    let (ledger, findings) = build_text(&boxed("width = 702\ndepth = 1000\nheight = 800", "", "")).no_stops().checked();
    let line = ledger.lines.iter().find(|l| l.gap == "unit to the bay's right wall").unwrap();
    assert_eq!((line.nominal.0, line.verdict), (2.0, Verdict::Fails));
    assert_eq!(ledger.lines[0].gap, line.gap, "worst first");
    let finding = findings.iter().find(|f| f.code == codes::GAP_FAILS).unwrap();
    assert_eq!(finding.severity, Severity::Stop);
    assert!(finding.remedy.contains("3 mm more"), "{}", finding.remedy);
    assert!(!codes_of(&boxed(WIDE, "", "")).contains(&"gap-fails"));
}

#[test]
fn a_gap_within_its_readings_doubt_is_doubtful() {
    // 706 to 708 leaves 6 mm where 5 are wanted; the tape may be 2 mm off.
    let bay = "width = { readings = [706], uncertainty = 2 }\ndepth = 1000\nheight = 800";
    assert!(codes_of(&boxed(bay, "", "")).contains(&"gap-doubtful"));
    let sure = bay.replace("706", "708");
    assert!(!codes_of(&boxed(&sure, "", "")).contains(&"gap-doubtful"));
}

/// A gap that only fails when all goes wrong at once is tight: a slide's side space within its window at nominal and in all likelihood, but not in the worst case.
#[test]
fn a_side_space_can_be_tight() {
    let spread = |readings: &str| {
        let text = two_drawers("", "").replacen("readings = [15, 15, 15, 15]", readings, 1);
        let (ledger, findings) = build_text(&text).no_stops().checked();
        let line = ledger.lines.iter().find(|l| l.gap == "low left drawer: side space left").unwrap();
        (line.verdict, findings.iter().any(|f| f.code == codes::GAP_TIGHT))
    };
    assert_eq!(spread("readings = [15, 15, 15, 15]"), (Verdict::Fits, false));
    assert_eq!(spread("readings = [14.87, 15.13, 15, 15]"), (Verdict::Tight, true));
}

#[test]
fn overlapping_units_are_found_and_joined_panels_are_not() {
    let second = |x: u32| {
        format!(
            "[[carcass]]\nname = \"second\"\nat = [{x}, 50, 0]\nwidth = 200\ndepth = 400\nheight = 300\nboard = \"carcass\"\n\
             [[carcass.column]]\nname = \"only\""
        )
    };
    assert!(codes_of(&boxed(WIDE, "", &second(690))).contains(&"solids-overlap"));
    assert!(!codes_of(&boxed(WIDE, "", &second(700))).contains(&"solids-overlap"), "touching is not overlapping");
}

#[test]
fn a_unit_in_a_keep_out_is_found() {
    let arch =
        |x: u32| format!("{WIDE}[[bay.keep_out]]\nname = \"wheel arch\"\nfrom = [{x}, 300, 0]\nsize = [200, 300, 250]");
    let hit = build_text(&boxed(&arch(690), "", "")).no_stops();
    let (ledger, findings) = hit.checked();
    let line = ledger.lines.iter().find(|l| l.gap.ends_with("to wheel arch")).unwrap();
    assert_eq!((line.nominal.0, line.verdict), (-10.0, Verdict::Fails));
    let finding = findings.iter().find(|f| f.code == codes::GAP_FAILS).unwrap();
    assert!(finding.parts.contains(&"wheel arch".to_owned()), "{:?}", finding.parts);
    assert!(!codes_of(&boxed(&arch(705), "", "")).contains(&"gap-fails"));
}

#[test]
fn a_door_that_meets_the_unit_is_found_at_the_height_where_it_bulges() {
    // The unit's front stands at 50, the door wants 10 mm of air.
    let door = |reach: f64| format!("{WIDE}door = [[0, 0], [150, {reach}], [300, 0]]");
    assert!(codes_of(&boxed(&door(41.0), "", "")).contains(&"gap-fails"));
    assert!(!codes_of(&boxed(&door(35.0), "", "")).contains(&"gap-fails"));
    // Above the unit it does not matter.
    let high = format!("{WIDE}door = [[0, 0], [310, 0], [400, 90]]");
    assert!(!codes_of(&boxed(&high, "", "")).contains(&"gap-fails"));
}

fn with_opening(opening: &str, place: &str) -> String {
    let bay = format!("[bay]\nwidth = 1100\ndepth = 1000\nheight = 900\nopening = {opening}\n[boards.carcass]");
    two_drawers("", "").replacen("[boards.carcass]", &bay, 1).replacen("at = [0, 0, 0]", place, 1)
}

#[test]
fn drawers_must_come_out_through_the_opening() {
    let at = "at = [100, 50, 0]";
    let line = |opening: &str, edge: &str| {
        let (ledger, _) = build_text(&with_opening(opening, at)).no_stops().checked();
        let name = format!("low left drawer pulled out to the {edge}");
        ledger.lines.iter().find(|l| l.gap == name).map(|l| (l.nominal.0, l.verdict))
    };
    let fine = "{ width = 1000, height = 800, sill = 0, left = 50 }";
    assert!(matches!(line(fine, "sill"), Some((_, Verdict::Fits))));
    // Left end of the left front: 100 + 15 + 2.
    let narrow = "{ width = 900, height = 800, sill = 0, left = 116 }";
    assert_eq!(line(narrow, "left of the opening"), Some((1.0, Verdict::Fails)));
    // The front's lower edge: base 15, reveal 2.
    let high = "{ width = 1000, height = 800, sill = 20, left = 50 }";
    assert_eq!(line(high, "sill"), Some((-3.0, Verdict::Fails)));
    // A drawer that ends before the sill never passes it.
    let (ledger, _) = build_text(&with_opening(high, "at = [100, 460, 0]")).checked();
    assert!(!ledger.lines.iter().any(|l| l.gap.contains("pulled out")));
}

#[test]
fn what_does_not_pass_the_opening_is_said() {
    let at = "at = [100, 50, 0]";
    assert!(!codes_of(&with_opening("{ width = 1000, height = 800 }", at)).contains(&"assemble-inside"));
    let inside = codes_of(&with_opening("{ width = 1000, height = 235 }", at));
    assert!(inside.contains(&"assemble-inside"), "{inside:?}");
    assert!(!inside.contains(&"panel-too-large"));
    let never = codes_of(&with_opening("{ width = 560, height = 180 }", at));
    assert!(never.contains(&"panel-too-large"), "{never:?}");
}

#[test]
fn what_was_not_measured_is_said() {
    let whole = "width = 1000\ndepth = 1000\nheight = 800\ndoor = [[0, 0], [400, 0]]\n\
                 opening = { width = 990, height = 790, sill = 0, left = 5 }\n\
                 keep_out = [{ name = \"lamp\", from = [900, 900, 700], size = [50, 50, 50] }]";
    assert!(!codes_of(&boxed(whole, "", "")).contains(&"not-measured"));
    for (line, what) in [("height = 800", "height"), ("door = [[0, 0], [400, 0]]", "door profile")] {
        let (_, findings) = build_text(&boxed(&whole.replace(line, ""), "", "")).no_stops().checked();
        let note = findings.iter().find(|f| f.code == codes::NOT_MEASURED).unwrap_or_else(|| panic!("{what}"));
        assert!(note.message.contains(what), "{}", note.message);
        assert_eq!(note.severity, Severity::Note);
    }
}

/// Every code of the stage is brought about above, or by the planted faults.
#[test]
fn every_code_is_listed_once() {
    let mut ids: Vec<&str> = codes::ALL.iter().map(|c| c.id).collect();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), codes::ALL.len());
}

/// A plain linear congruential generator, enough to throw dice for gaps (Knuth's MMIX constants, from memory).
struct Dice(u64);

impl Dice {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Standard normal (Box and Muller's transform).
    fn normal(&mut self) -> f64 {
        let (a, b) = (self.unit().max(1e-300), self.unit());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }
}

fn sample(text: &str) -> (Built, Ledger) {
    let built = build_text(text).no_stops();
    let (ledger, _) = built.checked();
    (built, ledger)
}

fn thrown(gap: &Dim, mut error: impl FnMut(f64, f64) -> f64) -> f64 {
    gap.nominal().0 + gap.form().iter().map(|(s, k)| k * error(s.minus.0, s.plus.0)).sum::<f64>()
}

/// Thrown within their limits, the sources never take a gap out of its worst case; thrown as normal with their limits as 95 %
/// ranges, they keep 95 % of the gaps in the likely range.
#[test]
fn gaps_thrown_by_dice_stay_where_the_ledger_says() {
    const THROWS: usize = 4000;
    // Three standard errors of a share of 95 % in 4000 throws: 3 sqrt(0.95 x 0.05 / 4000).
    let allowed = 3.0 * (0.95_f64 * 0.05 / THROWS as f64).sqrt();
    for text in [include_str!("../../../samples/survey-van.toml"), include_str!("../../../samples/field-estate.toml")] {
        let (built, ledger) = sample(text);
        let mut dice = Dice(20_260_101);
        let mut moving = 0;
        for gap in &built.model.gaps {
            let line = ledger.lines.iter().find(|l| l.gap == gap.name).expect("every gap is judged");
            let (mut least, mut most, mut inside) = (f64::INFINITY, f64::NEG_INFINITY, 0);
            for _ in 0..THROWS {
                let x = thrown(&gap.gap, |minus, plus| -minus + (minus + plus) * dice.unit());
                (least, most) = (least.min(x), most.max(x));
                let y =
                    thrown(&gap.gap, |minus, plus| (plus - minus) / 2.0 + f64::midpoint(plus, minus) / 1.96 * dice.normal());
                inside += usize::from(y >= line.likely.min.0 && y <= line.likely.max.0);
            }
            assert!(least >= line.worst.min.0 - 1e-9 && most <= line.worst.max.0 + 1e-9, "{}", gap.name);
            if gap.gap.contributors().is_empty() {
                continue;
            }
            moving += 1;
            let share = inside as f64 / THROWS as f64;
            assert!((share - 0.95).abs() < allowed, "{}: {share}", gap.name);
            // The worst case is not idle either: throws come near it when one source rules.
            if gap.gap.contributors().len() == 1 {
                let whole = line.worst.max.0 - line.worst.min.0;
                assert!(most - least > 0.98 * whole, "{}", gap.name);
            }
        }
        assert!(moving >= 8, "{moving}");
    }
}
