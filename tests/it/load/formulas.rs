//! Every formula beside a published value.

use super::support::{design, near, shop, BOARDS};
use baywright::fit::load::bending::plate::Plate;
use baywright::fit::load::bending::{allowed_stress, strip, KDEF};
use baywright::fit::load::{axle_shares, latch_force, panel, root_diameter, IN_A_VEHICLE};
use baywright::parts::build;
use baywright::units::Mm;

/// Roark's Formulas for Stress and Strain, 7th ed., Table 11.4, cases 1a and 1b: long over short side, deflection and stress under
/// a uniform load, deflection under a load in the middle; Poisson 0.3.
const ROARK: [(f64, f64, f64, Option<f64>); 7] = [
    (1.0, 0.0444, 0.2874, Some(0.1267)),
    (1.2, 0.0616, 0.3762, Some(0.1478)),
    (1.4, 0.0770, 0.4530, Some(0.1621)),
    (1.6, 0.0906, 0.5172, Some(0.1715)),
    (1.8, 0.1017, 0.5688, Some(0.1770)),
    (2.0, 0.1110, 0.6102, Some(0.1805)),
    (3.0, 0.1335, 0.7134, None),
];

/// Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., Tables 8 and 23 (from memory): deflection and moment
/// under a uniform load, deflection under a load in the middle; and the exact uniform coefficient by Levy's series.
const TIMOSHENKO: [(f64, f64, f64, f64, f64); 7] = [
    (1.0, 0.00406, 0.0479, 0.01160, 0.004_062),
    (1.2, 0.00564, 0.0627, 0.01353, 0.005_651),
    (1.4, 0.00705, 0.0755, 0.01484, 0.007_085),
    (1.6, 0.00830, 0.0862, 0.01570, 0.008_308),
    (1.8, 0.00931, 0.0948, 0.01620, 0.009_316),
    (2.0, 0.01013, 0.1017, 0.01651, 0.010_129),
    (3.0, 0.01223, 0.1189, 0.01690, 0.012_233),
];

/// The printed tables are up to half a percent away from the exact series.
const PRINTED: f64 = 0.005;

#[test]
fn plates_agree_with_roark_table_11_4() {
    let (short, e, t, q, p) = (400.0, 10_000.0, 9.0, 0.002, 150.0);
    for (ratio, alpha, beta, central) in ROARK {
        let plate = Plate::isotropic(short, short * ratio, e, 0.3, t);
        let bent = plate.uniform(q);
        near(bent.deflection * e * t.powi(3) / (q * short.powi(4)), alpha, PRINTED, &format!("1a alpha {ratio}"));
        let stress = 6.0 * bent.m1.max(bent.m2) / (t * t);
        near(stress * t * t / (q * short * short), beta, PRINTED, &format!("1a beta {ratio}"));
        if let Some(central) = central {
            let w = plate.patch(p, 0.0, 0.0).deflection;
            near(w * e * t.powi(3) / (p * short * short), central, PRINTED, &format!("1b alpha {ratio}"));
        }
    }
}

#[test]
fn plates_agree_with_timoshenko_tables_8_and_23() {
    let (short, e, t, q, p) = (400.0, 10_000.0, 9.0, 0.002, 150.0);
    let d = e * f64::powi(t, 3) / (12.0 * (1.0 - 0.09));
    for (ratio, alpha, beta, central, exact) in TIMOSHENKO {
        let plate = Plate::isotropic(short, short * ratio, e, 0.3, t);
        let bent = plate.uniform(q);
        let found = bent.deflection * d / (q * short.powi(4));
        near(found, alpha, PRINTED, &format!("table 8 alpha {ratio}"));
        // The exact value is known to six places.
        assert!((found - exact).abs() < 1e-6, "{ratio}: {found} is not {exact}");
        near(bent.m1 / (q * short * short), beta, PRINTED, &format!("table 8 beta {ratio}"));
        let w = plate.patch(p, 0.0, 0.0).deflection;
        near(w * d / (p * short * short), central, PRINTED, &format!("table 23 alpha {ratio}"));
    }
}

/// A very long plate is a strip: 5/384, and Roark's last row: alpha 0.1421, beta 0.7500.
#[test]
fn a_long_plate_is_a_strip() {
    let (short, e, t, q) = (300.0, 9_000.0, 9.0, 0.001);
    let bent = Plate::isotropic(short, short * 8.0, e, 0.3, t).uniform(q);
    near(bent.deflection * e * t.powi(3) / (q * short.powi(4)), 0.1421, PRINTED, "alpha");
    near(6.0 * bent.m1 / (q * short * short), 0.75, PRINTED, "beta");
    let i = t.powi(3) / 12.0;
    near(strip::spread(q, short, e, i) * e * i / (q * short.powi(4)), 0.013_020_83, 1e-6, "5/384");
    near(strip::spread_moment(8.0, 100.0), 10_000.0, 1e-12, "w L2 / 8");
}

/// An overhang without a span behind it is a cantilever: P L³ / 3 E I and w L⁴ / 8 E I (standard beam theory); an overhang as long
/// as its span under an end load gives way by 2 P L³ / 3 E I.
#[test]
fn overhangs_agree_with_beam_theory() {
    let (p, w, l, e, i) = (200.0, 0.3, 600.0, 10_000.0, 90_000.0);
    near(strip::overhang_end(p, l, 0.0, e, i), p * l.powi(3) / (3.0 * e * i), 1e-12, "cantilever, end");
    near(strip::overhang_spread(w, l, 0.0, e, i), w * l.powi(4) / (8.0 * e * i), 1e-12, "cantilever, spread");
    near(strip::overhang_end(p, l, l, e, i), 2.0 * p * l.powi(3) / (3.0 * e * i), 1e-12, "equal arms");
    near(strip::overhang_spread(w, l, l, e, i), 7.0 * w * l.powi(4) / (24.0 * e * i), 1e-12, "equal arms, spread");
}

/// Bending stiffness of birch plywood as its profile gives it, along and across: the laminate sum of 1.4 mm veneers with E0 17500
/// and E90 0 N/mm², 0.3 mm sanded off each face, gives the table of the Handbook of Finnish Plywood exactly.
#[test]
fn the_profiles_stiffness_is_the_laminate_sum() {
    let mut seen = 0;
    for (id, plies) in [("birch-ply-9", 7), ("birch-ply-12", 9), ("birch-ply-15", 11), ("birch-ply-18", 13)] {
        let Some(board) = shop().boards.get(id) else { continue };
        seen += 1;
        let full = 1.4 * f64::from(plies);
        let half = full / 2.0 - 0.3;
        let (mut along, mut across) = (0.0, 0.0);
        for ply in 0..plies {
            let from = (-full / 2.0 + 1.4 * f64::from(ply)).max(-half);
            let to = (-full / 2.0 + 1.4 * f64::from(ply + 1)).min(half);
            let second = (to.powi(3) - from.powi(3)) / 3.0;
            if ply % 2 == 0 {
                along += second;
            } else {
                across += second;
            }
        }
        let whole = (2.0 * half).powi(3) / 12.0;
        near(17_500.0 * along / whole, board.e_along, 2e-4, &format!("{id} along"));
        near(17_500.0 * across / whole, board.e_across, 2e-4, &format!("{id} across"));
        assert!((board.e_along + board.e_across - 17_500.0).abs() < 1.0, "{id}: along and across add up to 17500");
    }
    assert!(seen >= 3);
}

/// kdef of plywood in service class 2 is 1.00 (EN 1995-1-1, Table 3.2), so a lasting load bends it twice as far.
#[test]
fn creep_and_strength_are_those_of_the_code() {
    near(1.0 + KDEF, 2.0, 1e-12, "creep");
    near(allowed_stress(), 33.7 * 0.8 / 1.2, 1e-12, "33.7 x 0.80 / 1.2");
}

/// A birch mill's datasheet, 1220 x 2440 mm: 12.0 mm and 695 kg/m³ weigh 24.8 kg, 14.9 mm and 690 kg/m³ weigh 30.8 kg.
#[test]
fn sheets_weigh_what_the_mill_says() {
    for (profile, thickness, published) in [("birch-ply-12", 12.0, 24.8), ("birch-ply-15", 14.9, 30.8)] {
        let text = format!(
            "format = 1\ntitle = \"Sheet\"\nunits = \"mm\"\n[boards.ply]\nprofile = \"{profile}\"\n\
             readings = [{thickness}, {thickness}, {thickness}, {thickness}]\n\
             [[panel]]\nname = \"sheet\"\nsize = [2440, 1220]\nboard = \"ply\"\n"
        );
        let (_, design) = design(&text);
        let model = build(&design).value.expect("a model");
        near(panel(&design, &model.panels[0]).mass_kg, published, 0.01, profile);
    }
}

/// What is cut out weighs nothing, and the centre moves away from it.
#[test]
fn cuts_come_off_mass_and_centre() {
    let plate = |cuts: &str| {
        let text =
            format!("{BOARDS}[[panel]]\nname = \"p\"\nsize = [600, 300]\nboard = \"front\"\nat = [0, 0, 0]\n{cuts}\n");
        let (_, design) = design(&text);
        let model = build(&design).value.expect("a model");
        panel(&design, &model.panels[0])
    };
    let whole = plate("");
    near(whole.mass_kg, 0.6 * 0.3 * 0.012 * 695.0, 1e-9, "whole");
    assert_eq!(whole.centre.map(|c| c.map(|x| (x * 1e6).round() / 1e6)), Some([300.0, 150.0, 6.0]));
    let cut = plate("cut_outs = [{ at = [50, 100], size = [100, 100], radius = 10 }]");
    let gone = 100.0 * 100.0 - (4.0 - std::f64::consts::PI) * 100.0;
    near(whole.mass_kg - cut.mass_kg, gone * 12.0 * 695.0 / 1e9, 1e-9, "cut-out");
    near(cut.centre.expect("placed")[0], (180_000.0 * 300.0 - gone * 100.0) / (180_000.0 - gone), 1e-9, "centre");
    let pocket = plate("cut_outs = [{ at = [50, 100], size = [100, 100], radius = 10, depth = 3 }]");
    near(whole.mass_kg - pocket.mass_kg, gone * 3.0 * 695.0 / 1e9, 1e-9, "pocket");
    let slot = plate("slots = [{ from = [100, 40], to = [200, 40], width = 10 }]");
    near(whole.mass_kg - slot.mass_kg, (1000.0 + 25.0 * std::f64::consts::PI) * 12.0 * 695.0 / 1e9, 1e-9, "slot");
}

/// Roots of wood screws by gauge (trade table): 6, 8, 10 and 12.
#[test]
fn roots_are_those_of_the_table() {
    for (shank, root) in [(0.138, 0.094), (0.164, 0.112), (0.190, 0.130), (0.216, 0.148)] {
        near(root_diameter(Mm::from_inches(shank)).inches(), root, 1e-9, "root");
    }
    // Between gauges the root grows with the shank.
    assert!(root_diameter(Mm(4.0)) < root_diameter(Mm(4.5)) && root_diameter(Mm(4.5)) < root_diameter(Mm(5.0)));
}

/// A truck maker's manual for body builders, appendix on weight distribution (seen): 100 lb at 133 in behind the front axle of a
/// wheelbase of 214 in put 62.14 lb on the rear axle.
#[test]
fn axle_shares_agree_with_a_body_builders_manual() {
    let in_lb = 0.453_592_37;
    let [rear, front] = axle_shares(100.0 * in_lb, Mm::from_inches(214.0 - 133.0), Mm::from_inches(214.0));
    near(rear / in_lb, 62.14, 2e-4, "rear");
    near(front / in_lb, 100.0 - 62.14, 3e-4, "front");
}

/// Moments about the axles: a mass over the rear axle is all on it, one half way between them half on each, one behind the rear
/// axle lifts the front; both always add up to the mass.
#[test]
fn axle_shares_balance() {
    let base = Mm(3000.0);
    assert_eq!(axle_shares(300.0, Mm(0.0), base), [300.0, 0.0]);
    assert_eq!(axle_shares(300.0, Mm(1500.0), base), [150.0, 150.0]);
    assert_eq!(axle_shares(300.0, Mm(-600.0), base), [360.0, -60.0]);
}

/// One seller's figure: slides rated 500 lb are named 300 lb in vehicles (checklist FM9); a latch holds 2 m x 0.5 g (FM7).
#[test]
fn slides_and_latches_take_the_checklists_factors() {
    near(500.0 * IN_A_VEHICLE, 300.0, 1e-12, "derated");
    near(latch_force(20.0, 0.5, 2.0), 196.133, 1e-9, "20 kg");
}
