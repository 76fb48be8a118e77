//! Saw plans, replayed cut by cut.

use super::{design, flat, laid, part, sheet};
use baywright::design::Design;
use baywright::flat::{FlatParts, PartGrain};
use baywright::geom::Rect;
use baywright::nest::{saw_plan, Direction, Effort, Options, SawOptions, SawSheet, Turn};
use baywright::units::Mm;
use proptest::prelude::*;

/// Replays a sheet's cuts on the pieces there are; gives the pieces left at the end.
fn sawn(s: &SawSheet, kerf: f64) -> Vec<Rect> {
    let mut pieces = vec![Rect::new(0.0, 0.0, s.sheet.length.0, s.sheet.width.0)];
    for (k, c) in s.cuts.iter().enumerate() {
        assert_eq!(c.number as usize, k + 1);
        let on = pieces.iter().position(|p| *p == c.piece).expect("the piece is there");
        pieces.swap_remove(on);
        let (p, off) = (c.piece, c.off);
        let cut = match c.direction {
            Direction::Rip => {
                assert_eq!((off.x0, off.x1, off.y0), (p.x0, p.x1, p.y0));
                off.y1 - off.y0
            }
            Direction::Cross => {
                assert_eq!((off.y0, off.y1, off.x0), (p.y0, p.y1, p.x0));
                off.x1 - off.x0
            }
        };
        assert!((cut - c.fence.0).abs() < 1e-9);
        pieces.push(off);
        if let Some(rest) = c.rest {
            let step = if c.direction == Direction::Rip { rest.y0 - off.y1 } else { rest.x0 - off.x1 };
            assert!((step - kerf).abs() < 1e-9, "kerf {step}");
            pieces.push(rest);
        }
    }
    pieces
}

/// Makes a saw plan with a kerf of 3.2 and a trim of 8, and replays it.
fn saw_and_replay(design: &Design, parts: &FlatParts) {
    let search = Options { effort: Effort::Draft, ..Options::default() };
    let checked = saw_plan(design, parts, &SawOptions { kerf: Mm(3.2), trim: Mm(8.0), search });
    assert!(checked.findings.is_empty(), "{:?}", checked.findings);
    let plan = checked.value.unwrap();
    let blanks: usize = plan.sheets.iter().map(|s| s.sheet.placements.len()).sum();
    assert_eq!(blanks, parts.parts.iter().map(|p| p.panels.len()).sum::<usize>());
    for s in &plan.sheets {
        let pieces = sawn(s, 3.2);
        let mut freed: Vec<usize> = s.cuts.iter().flat_map(|c| [c.frees, c.frees_rest]).flatten().collect();
        freed.sort_unstable();
        assert_eq!(freed, (0..s.sheet.placements.len()).collect::<Vec<_>>());
        for p in &s.sheet.placements {
            let part = &parts.parts[p.part];
            let turned = matches!(p.turn, Turn::Quarter | Turn::ThreeQuarter);
            let (w, h) = if turned { (part.width.0, part.length.0) } else { (part.length.0, part.width.0) };
            let left = p.at.x - if turned { w } else { 0.0 };
            let fits = |r: &&Rect| {
                (r.width() - w).abs() < 0.02
                    && (r.height() - h).abs() < 0.02
                    && (r.x0 - left).abs() < 0.02
                    && (r.y0 - p.at.y).abs() < 0.02
            };
            assert_eq!(pieces.iter().filter(fits).count(), 1);
        }
        assert!(s.cuts[0].trims && s.cuts[1].trims);
        assert!(s.stages() >= 1 && s.fence_settings() <= s.cuts.len());
    }
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
    saw_and_replay(&design, &parts);
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
    fn every_layout_and_every_saw_plan_is_sound(parts in parts()) {
        let design = design(vec![sheet(1500.0, 1000.0, Some(2)), sheet(2500.0, 1250.0, None)]);
        laid(&design, &parts);
        saw_and_replay(&design, &parts);
    }
}
