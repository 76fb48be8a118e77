//! Saw plans, replayed cut by cut.

use super::{design, flat, laid, part, sheet};
use baywright::design::{Design, Together};
use baywright::flat::{FlatParts, PartGrain};
use baywright::geom::Rect;
use baywright::nest::{saw_plan, Direction, Effort, Options, Outcome, SawOptions, SawPlan, SawSheet, Source, Turn};
use baywright::units::Mm;
use proptest::prelude::*;
use std::collections::BTreeMap;

/// Replays a sheet's cuts on the pieces there are; gives the pieces left at the end with what becomes of them.
fn sawn(s: &SawSheet, kerf: f64) -> Vec<(Rect, Outcome)> {
    let mut pieces = BTreeMap::from([(Source::Sheet, (Rect::new(0.0, 0.0, s.sheet.length.0, s.sheet.width.0), 0, None))]);
    let mut done = Vec::new();
    for (k, c) in s.cuts.iter().enumerate() {
        assert_eq!(c.number as usize, k + 1);
        let (piece, stage, last) = pieces.remove(&c.from).expect("the piece is there");
        assert_eq!(piece, c.piece);
        let stage = stage + u32::from(last != Some(c.direction));
        assert_eq!(stage, c.stage, "cut {}", c.number);
        // Across the cut: where the fence stands, and where the piece ends.
        let side = |r: Rect| if c.direction == Direction::Rip { (r.y0, r.y1) } else { (r.x0, r.x1) };
        let other = |r: Rect| if c.direction == Direction::Rip { (r.x0, r.x1) } else { (r.y0, r.y1) };
        let (whole, off) = (side(piece), side(c.off));
        assert_eq!(other(c.off), other(piece));
        assert!((off.1 - off.0 - c.fence.0).abs() < 1e-9);
        assert_eq!(if c.far { off.1 } else { off.0 }, if c.far { whole.1 } else { whole.0 });
        let mut keep = |source, rect, outcome| {
            if outcome == Outcome::Again {
                pieces.insert(source, (rect, stage, Some(c.direction)));
            } else {
                done.push((rect, outcome));
            }
        };
        keep(Source::Off(c.number), c.off, c.off_is);
        if let Some(rest) = c.rest {
            assert_eq!(other(rest), other(piece));
            let rest_side = side(rest);
            let step = if c.far { off.0 - rest_side.1 } else { rest_side.0 - off.1 };
            assert!((step - kerf).abs() < 1e-9, "kerf {step}");
            assert_eq!(if c.far { rest_side.0 } else { rest_side.1 }, if c.far { whole.0 } else { whole.1 });
            keep(Source::Rest(c.number), rest, c.rest_is);
        }
    }
    assert!(pieces.is_empty(), "{pieces:?} are still to be cut");
    done
}

/// Makes a saw plan with a kerf of 3.2 and a trim of 8, and replays it.
fn saw_and_replay(design: &Design, parts: &FlatParts, turns: u32) -> SawPlan {
    let search = Options { effort: Effort::Draft, ..Options::default() };
    let checked = saw_plan(design, parts, &SawOptions { kerf: Mm(3.2), trim: Mm(8.0), turns, search });
    assert!(checked.findings.is_empty(), "{:?}", checked.findings);
    let plan = checked.value.unwrap();
    let blanks: usize = plan.sheets.iter().map(|s| s.sheet.placements.len()).sum();
    assert_eq!(blanks, parts.parts.iter().map(|p| p.panels.len()).sum::<usize>());
    for s in &plan.sheets {
        let pieces = sawn(s, 3.2);
        let blank = |(_, is): &(Rect, Outcome)| if let Outcome::Blank(k) = is { Some(*k) } else { None };
        let mut freed: Vec<usize> = pieces.iter().filter_map(blank).collect();
        freed.sort_unstable();
        assert_eq!(freed, (0..s.sheet.placements.len()).collect::<Vec<_>>());
        for (k, p) in s.sheet.placements.iter().enumerate() {
            let part = &parts.parts[p.part];
            let turned = matches!(p.turn, Turn::Quarter | Turn::ThreeQuarter);
            let (w, h) = if turned { (part.width.0, part.length.0) } else { (part.length.0, part.width.0) };
            let left = p.at.x - if turned { w } else { 0.0 };
            let r = pieces.iter().find(|piece| blank(piece) == Some(k)).unwrap().0;
            let same = |a: f64, b: f64| assert!((a - b).abs() < 0.02, "{a} {b}");
            same(r.width(), w);
            same(r.height(), h);
            same(r.x0, left);
            same(r.y0, p.at.y);
        }
        assert!(s.stages() <= turns + 1, "{} stages with {turns} turns", s.stages());
        assert!(s.rip_widths() <= s.fence_settings() && s.fence_settings() <= s.cuts.len());
        for kept in s.kept() {
            assert!(kept.width() >= 300.0 && kept.height() >= 300.0);
        }
    }
    plan
}

#[test]
fn a_saw_plan_frees_every_blank_by_cuts_from_edge_to_edge() {
    let design = design(vec![sheet(2500.0, 1250.0, None)]);
    let parts = flat(vec![
        part("A", 920.0, 455.5, 3, PartGrain::AlongX),
        part("B", 1000.25, 232.0, 5, PartGrain::AlongX),
        part("C", 700.0, 180.0, 4, PartGrain::Any),
        part("D", 430.0, 180.0, 4, PartGrain::AlongY),
    ]);
    let plan = saw_and_replay(&design, &parts, 3);
    assert_eq!(plan.sheets.len(), 2);
    // Equal parts share a setting: far fewer settings than cuts.
    for s in &plan.sheets {
        assert!(s.fence_settings() * 3 <= s.cuts.len() * 2, "{} settings, {} cuts", s.fence_settings(), s.cuts.len());
    }
    assert!(plan.sheets.iter().any(|s| s.sheet.offcut.is_some()));
}

/// A saw works beside the defects of a sheet, and keeps no offcut with one in it.
#[test]
fn a_saw_goes_round_defects() {
    let mut knotty = sheet(2500.0, 1250.0, None);
    knotty.defects = vec![[Mm(1900.0), Mm(600.0), Mm(60.0), Mm(50.0)]];
    let parts = flat(vec![part("A", 700.0, 400.0, 4, PartGrain::AlongX)]);
    let plan = saw_and_replay(&design(vec![knotty]), &parts, 3);
    let defect = Rect::new(1900.0, 600.0, 1960.0, 650.0);
    let clear = |r: &Rect| assert!(r.intersect(defect).area() <= 0.0, "{r:?}");
    for s in &plan.sheets {
        s.kept().iter().for_each(clear);
        sawn(s, 3.2).iter().filter(|p| matches!(p.1, Outcome::Blank(_))).for_each(|p| clear(&p.0));
    }
}

/// Mates come off the saw from one strip, however few turns are allowed beyond what they need.
#[test]
fn a_saw_parts_mates_too() {
    let mut design = design(vec![sheet(2500.0, 1250.0, None)]);
    let parts = flat(vec![
        part("A", 700.0, 400.0, 3, PartGrain::AlongX),
        part("B", 500.0, 150.0, 1, PartGrain::AlongX),
        part("C", 420.0, 140.0, 2, PartGrain::AlongX),
    ]);
    design.together = vec![Together { parts: vec!["B".into(), "C".into()], span: None }];
    let plan = saw_and_replay(&design, &parts, 3);
    let on = |s: &&SawSheet| s.sheet.placements.iter().any(|p| p.part > 0);
    assert_eq!(plan.sheets.iter().filter(on).count(), 1);
}

fn parts() -> impl Strategy<Value = FlatParts> {
    let grain = prop_oneof![Just(PartGrain::AlongX), Just(PartGrain::AlongY), Just(PartGrain::Any)];
    // Sizes in thousandths, so that rounding to hundredths has something to do.
    let one = (50_000..900_000i64, 50_000..700_000i64, 1..4usize, grain);
    proptest::collection::vec(one, 1..7).prop_map(|list| {
        let parts = list.into_iter().enumerate();
        flat(parts.map(|(i, (l, w, n, g))| part(&format!("P{i}"), l as f64 / 1e3, w as f64 / 1e3, n, g)).collect())
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn every_layout_and_every_saw_plan_is_sound(parts in parts(), turns in 1u32..4) {
        let design = design(vec![sheet(1500.0, 1000.0, Some(2)), sheet(2500.0, 1250.0, None)]);
        laid(&design, &parts);
        saw_and_replay(&design, &parts, turns);
    }
}
