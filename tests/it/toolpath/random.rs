//! Random notched panels with openings, grooves and holes keep every rule.

use super::bench::{hole, opening, part, pocket, rect, router, usual_cutters, Job};
use baywright::flat::FlatPart;
use baywright::geom::{Contour, Vertex};
use baywright::nest::Turn;
use baywright::shop::HoldDown;
use baywright::units::Mm;
use proptest::prelude::*;

/// A panel with relieved notches in its upper edge: each a width and a depth in half millimetres, so that ties are common.
fn notched(w: f64, h: f64, notches: &[(u32, u32)]) -> Contour {
    let relief = 3.3;
    let v = |x, y, bulge| Vertex { x, y, bulge };
    let mut list = vec![v(0.0, 0.0, 0.0), v(w, 0.0, 0.0), v(w, h, 0.0)];
    let pitch = w / notches.len().max(1) as f64;
    for (k, (nw, nd)) in notches.iter().enumerate().rev() {
        let (nw, nd) = (14.0 + f64::from(*nw) / 2.0, 4.0 + f64::from(*nd) / 2.0);
        let x = pitch * (k as f64 + 0.5) - nw / 2.0;
        list.extend([v(x + nw, h, 0.0), v(x + nw, h - nd, 0.0)]);
        // Half rounds into the bottom, beside each corner, that a square mate seats over.
        list.push(v(x + nw - 2.0 * relief, h - nd, 0.0));
        list.push(v(x + 2.0 * relief, h - nd, 0.0));
        list.push(v(x, h - nd, 0.0));
        list.push(v(x, h, 0.0));
        let n = list.len();
        list[n - 5].bulge = -1.0;
        list[n - 3].bulge = -1.0;
    }
    list.push(v(0.0, h, 0.0));
    Contour::new(&list).unwrap()
}

prop_compose! {
    pub(super) fn panel()(
        w in 300_u32..600,
        h in 200_u32..400,
        notches in prop::collection::vec((0_u32..40, 0_u32..40), 0..5),
        groove in 0_u32..30,
        window in (20_u32..120, 20_u32..90),
        holes in prop::collection::vec((0_u32..5, 8_u32..80), 0..5),
        clean in any::<bool>(),
    ) -> FlatPart {
        let (w, h) = (f64::from(w), f64::from(h));
        let mut cuts = vec![
            pocket(rect(20.0, 20.0, w / 2.0, 6.5 + f64::from(groove) / 2.0), 5.0, "groove"),
            opening(rect(20.0, 60.0, f64::from(window.0), f64::from(window.1)), "window"),
        ];
        for (k, d) in &holes {
            let feature = format!("hole {k}");
            if !cuts.iter().any(|c: &baywright::flat::FlatCut| c.feature == feature) {
                cuts.push(hole(w * 0.55 + f64::from(*k) * w * 0.08, 60.0, (f64::from(*d) / 4.0).min(w * 0.06 - 1.0).max(3.5), None, &feature));
            }
        }
        let mut p = part("panel", notched(w, h, &notches), cuts);
        if clean {
            p.keep_clean = vec![baywright::geom::Rect::new(-1.0, h - 30.0, w + 1.0, h + 1.0)];
        }
        p
    }
}

/// The second is turned about its corner and set beside the first at the least gap.
pub(super) fn side_by_side(a: FlatPart, b: FlatPart, turn: u32) -> Vec<(FlatPart, Turn, [f64; 2])> {
    let x = 20.0 + a.length.0 + 8.0;
    let (turn, at) = match turn {
        0 => (Turn::None, [x, 20.0]),
        1 => (Turn::Quarter, [x + b.width.0, 20.0]),
        2 => (Turn::Half, [x + b.length.0, 20.0 + b.width.0]),
        _ => (Turn::ThreeQuarter, [x, 20.0 + b.length.0]),
    };
    vec![(a, Turn::None, [20.0, 20.0]), (b, turn, at)]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(30))]
    #[test]
    fn every_rule_holds(a in panel(), b in panel(), turn in 0_u32..4, climb in any::<bool>(), skin in any::<bool>()) {
        let mut r = router();
        r.climb = climb;
        if skin {
            r.hold_down = HoldDown::Skin { thickness: Mm(0.4) };
        }
        let job = Job::new(r, usual_cutters(), side_by_side(a, b, turn));
        let programs = job.sound();
        for p in &programs {
            let text = baywright::write::gcode::program(&job.design.process.machine, p, &[]);
            super::text::check(&job.design.process.machine, p, &text);
        }
    }
}
