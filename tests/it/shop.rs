//! The shop's profiles against the standards they quote, and how bad profile files are answered.

use baywright::diag::{Checked, Code, Severity, Texts};
use baywright::shop::{
    codes, describe, load, nearest, CutterKind, HoldDown, Material, Process, Router, Shop, ZZero, BUILT_IN,
};
use baywright::units::{Mm, Unit};
use proptest::prelude::*;

fn built_in() -> Shop {
    let loaded = load(&Texts::default(), &[]);
    assert!(loaded.findings.is_empty(), "{:#?}", loaded.findings);
    loaded.value.unwrap()
}

/// The shop with one more file, and that file kept for looking at spans.
fn with(text: &str) -> (Checked<Shop>, Texts) {
    let mut texts = Texts::default();
    let id = texts.add("mine.toml", text);
    (load(&texts, &[id]), texts)
}

fn close(a: Mm, b: f64, what: &str) {
    assert!((a.0 - b).abs() < 1e-6, "{what}: {a:?} is not {b}");
}

fn router(shop: &Shop, id: &str) -> Router {
    match &shop.machine(id).unwrap().process {
        Process::Router(router) => (**router).clone(),
        Process::Laser(_) => panic!("{id} is a laser"),
    }
}

// ---- what is there -------------------------------------------------------------------------------------------------------

#[test]
fn built_in_profiles_load_without_a_finding_and_every_value_has_a_source() {
    let shop = built_in();
    for entry in describe::entries(&shop) {
        let keys: Vec<&str> = entry.rows.iter().map(|row| row.key.as_str()).collect();
        for key in &keys {
            let source = entry.basis.get(*key).unwrap_or_else(|| panic!("{} {}: {key} has no source", entry.kind, entry.id));
            assert!(source.len() > 5 && source != "no source given", "{} {}: {key}: {source}", entry.kind, entry.id);
        }
        for key in entry.basis.keys() {
            assert!(keys.contains(&key.as_str()), "{} {}: {key} is not shown", entry.kind, entry.id);
        }
    }
}

#[test]
fn every_source_named_in_a_built_in_file_is_used() {
    for (name, text) in BUILT_IN {
        let head = text.split("[[").next().unwrap();
        let names = head.lines().skip_while(|line| *line != "[sources]").filter_map(|line| line.split_once(" = "));
        for (source, _) in names {
            assert!(text.contains(&format!("\"@{source}\"")), "{name}: nothing uses @{source}");
        }
    }
}

#[test]
fn the_promised_profiles_exist() {
    let shop = built_in();
    for id in [
        "birch-ply-9",
        "birch-ply-12",
        "birch-ply-15",
        "birch-ply-18",
        "poplar-ply-15",
        "softwood-ply-18",
        "card-single-c",
        "card-single-b",
        "card-double-bc",
        "laser-ply-3",
        "birch-ply-half-inch",
        "birch-ply-three-quarter-inch",
    ] {
        shop.board(id).unwrap();
    }
    for id in ["up-cut-3", "up-cut-6", "up-cut-8", "up-cut-12", "down-cut-6", "compression-6", "compression-6.35"] {
        shop.cutter(id).unwrap();
    }
    for id in ["drill-2.5", "drill-3", "drill-5", "drill-8"] {
        assert_eq!(shop.cutter(id).unwrap().kind, CutterKind::Drill);
    }
    for id in ["router-metric", "router-inch", "laser-bench"] {
        shop.machine(id).unwrap();
    }
    for id in ["flush-paddle", "slam-latch", "knob-latch"] {
        shop.latch(id).unwrap();
    }
    for id in ["M4", "M12", "1/4", "1/2", "screw-3.5", "screw-5.0", "pan-screw-3.5", "pan-screw-4.0"] {
        shop.fastener(id).unwrap();
    }
}

// ---- boards --------------------------------------------------------------------------------------------------------------

/// EN 315 / EN 14279 thickness limits: sanded +(0.2 + 0.03 t) / -(0.4 + 0.03 t), unsanded +(0.8 + 0.03 t) / -(0.4 + 0.03 t).
#[test]
fn metric_boards_have_their_thickness_class() {
    let shop = built_in();
    for (id, nominal, above, within) in [
        ("laser-ply-3", 3.0, 0.2, 0.6),
        ("birch-ply-9", 9.0, 0.2, 0.6),
        ("birch-ply-12", 12.0, 0.2, 0.6),
        ("birch-ply-15", 15.0, 0.2, 0.6),
        ("birch-ply-18", 18.0, 0.2, 0.6),
        ("poplar-ply-15", 15.0, 0.2, 0.6),
        ("softwood-ply-18", 18.0, 0.8, 1.5),
    ] {
        let board = shop.board(id).unwrap();
        close(board.nominal, nominal, id);
        close(board.thickness_max, nominal + above + 0.03 * nominal, id);
        close(board.thickness_min, nominal - 0.4 - 0.03 * nominal, id);
        close(board.within_sheet, within, id);
    }
    // The worked limits for 18 mm and 12 mm sanded.
    let eighteen = shop.board("birch-ply-18").unwrap();
    assert_eq!((eighteen.thickness_min, eighteen.thickness_max), (Mm(17.06), Mm(18.74)));
    let twelve = shop.board("birch-ply-12").unwrap();
    assert_eq!((twelve.thickness_min, twelve.thickness_max), (Mm(11.24), Mm(12.56)));
}

/// PS 1 performance categories: 1/2 is 0.469 to 0.531 in, 3/4 is 0.719 to 0.781 in.
#[test]
fn inch_boards_have_their_performance_category() {
    let shop = built_in();
    for (id, nominal, min, max) in
        [("birch-ply-half-inch", 0.5, 0.469, 0.531), ("birch-ply-three-quarter-inch", 0.75, 0.719, 0.781)]
    {
        let board = shop.board(id).unwrap();
        close(board.nominal, nominal * 25.4, id);
        close(board.thickness_min, min * 25.4, id);
        close(board.thickness_max, max * 25.4, id);
        close(board.sheets[0].length, 96.0 * 25.4, id);
        close(board.sheets[0].width, 48.0 * 25.4, id);
    }
}

/// Bending stiffness along and across the face grain of a cross-laid sheet whose veneers carry nothing across their grain.
fn laminate(veneers: &[f64], e: f64) -> (f64, f64) {
    let total: f64 = veneers.iter().sum();
    let mut lower = -total / 2.0;
    let mut along = 0.0;
    for (i, veneer) in veneers.iter().enumerate() {
        let upper = lower + veneer;
        if i % 2 == 0 {
            along += upper.powi(3) - lower.powi(3);
        }
        lower = upper;
    }
    let share = along / 3.0 / (total.powi(3) / 12.0);
    (e * share, e * (1.0 - share))
}

/// Handbook of Finnish Plywood figures: E0 17500, 1.4 mm veneers, 0.3 mm sanded off each face; the two always add to 17500.
#[test]
fn birch_stiffness_is_the_laminate_sum() {
    let shop = built_in();
    for (id, plies) in [
        ("birch-ply-9", 7),
        ("birch-ply-12", 9),
        ("birch-ply-15", 11),
        ("birch-ply-18", 13),
        ("birch-ply-half-inch", 9),
        ("birch-ply-three-quarter-inch", 13),
    ] {
        let mut veneers = vec![1.4; plies];
        veneers[0] -= 0.3;
        veneers[plies - 1] -= 0.3;
        let (along, across) = laminate(&veneers, 17500.0);
        let board = shop.board(id).unwrap();
        assert!((board.e_along - along).abs() < 0.5 && (board.e_across - across).abs() < 0.5, "{id}: {along} {across}");
        assert_eq!(board.e_along + board.e_across, 17500.0, "{id}");
    }
    for (id, plies, e) in [("poplar-ply-15", 7, 8000.0), ("softwood-ply-18", 7, 11000.0), ("laser-ply-3", 3, 17500.0)] {
        let (along, across) = laminate(&vec![1.0; plies], e);
        let board = shop.board(id).unwrap();
        assert!((board.e_along - along).abs() < 0.5 && (board.e_across - across).abs() < 0.5, "{id}: {along} {across}");
    }
}

/// Mean density of a birch mill's datasheet: 9, 12, 15, 18 mm.
#[test]
fn birch_density_is_the_mills() {
    let shop = built_in();
    for (id, density) in [("birch-ply-9", 710.0), ("birch-ply-12", 695.0), ("birch-ply-15", 690.0), ("birch-ply-18", 685.0)]
    {
        assert_eq!(shop.board(id).unwrap().density_kg_m3, density, "{id}");
    }
    // The same datasheet's mass of a 1220 x 2440 sheet of 15 mm (14.9 mean): 30.8 kg.
    let board = shop.board("birch-ply-15").unwrap();
    let mass_kg = board.density_kg_m3 * 1.22 * 2.44 * 0.0149;
    assert!((mass_kg - 30.8).abs() < 0.3, "{mass_kg}");
}

/// Flutes of a common table: C 3.5 to 4, B 2.5 to 3 mm; double wall is the sum of its flutes.
#[test]
fn card_is_as_thick_as_its_flutes() {
    let shop = built_in();
    let limits = |id: &str| {
        let board = shop.board(id).unwrap();
        assert_eq!(board.material, Material::Card);
        (board.thickness_min.0, board.thickness_max.0)
    };
    assert_eq!(limits("card-single-c"), (3.5, 4.0));
    assert_eq!(limits("card-single-b"), (2.5, 3.0));
    assert_eq!(limits("card-double-bc"), (2.5 + 3.5, 3.0 + 4.0));
}

#[test]
fn every_board_lies_inside_its_own_limits_and_has_sheets_that_fit_a_machine() {
    let shop = built_in();
    for board in shop.boards.values() {
        assert!(board.thickness_min <= board.nominal && board.nominal <= board.thickness_max, "{}", board.id);
        assert!(board.thickness_min < board.thickness_max, "{}", board.id);
        let sheet = board.sheets[0];
        let fits = shop.machines.values().any(|m| sheet.length <= m.travel[0] && sheet.width <= m.travel[1]);
        assert!(fits, "{}: no machine takes {sheet:?}", board.id);
    }
}

// ---- fasteners -----------------------------------------------------------------------------------------------------------

/// Id, diameter, holes, across corners, head height, large washer, plain washer.
type BoltRow = (&'static str, f64, [f64; 3], f64, f64, [f64; 3], [f64; 3]);

/// ISO 273:1979 fine, medium, coarse; ISO 4014/4017 across corners e(min) and head k; ISO 7093-1 large washer; ISO 7089 washer.
#[test]
fn metric_bolts_follow_their_standards() {
    let shop = built_in();

    let table: [BoltRow; 6] = [
        ("M4", 4.0, [4.3, 4.5, 4.8], 7.66, 2.8, [4.3, 12.0, 1.0], [4.3, 9.0, 0.8]),
        ("M5", 5.0, [5.3, 5.5, 5.8], 8.79, 3.5, [5.3, 15.0, 1.0], [5.3, 10.0, 1.0]),
        ("M6", 6.0, [6.4, 6.6, 7.0], 11.05, 4.0, [6.4, 18.0, 1.6], [6.4, 12.0, 1.6]),
        ("M8", 8.0, [8.4, 9.0, 10.0], 14.38, 5.3, [8.4, 24.0, 2.0], [8.4, 16.0, 1.6]),
        ("M10", 10.0, [10.5, 11.0, 12.0], 17.77, 6.4, [10.5, 30.0, 2.5], [10.5, 20.0, 2.0]),
        ("M12", 12.0, [13.0, 13.5, 14.5], 20.03, 7.5, [13.0, 37.0, 3.0], [13.0, 24.0, 2.5]),
    ];
    for (id, diameter, holes, corners, head, large, plain) in table {
        let bolt = shop.fastener(id).unwrap();
        assert_eq!(bolt.diameter, Mm(diameter), "{id}");
        assert_eq!(bolt.clearance, holes.map(Mm), "{id}");
        assert_eq!((bolt.head_diameter, bolt.head_height), (Mm(corners), Mm(head)), "{id}");
        assert_eq!(bolt.washer, Some(large.map(Mm)), "{id}");
        assert_eq!(bolt.pilot, None, "{id}");
        let washer = shop.washer(&format!("washer-{id}")).unwrap();
        assert_eq!((washer.bolt.as_str(), washer.size), (id, plain.map(Mm)), "{id}");
    }
    // ISO 7093 as tabulated for M10: 10.5..10.77 / 29.48..30 / 2.3..2.7.
    let [inner, outer, thickness] = shop.fastener("M10").unwrap().washer.unwrap();
    assert!((10.5..=10.77).contains(&inner.0) && (29.48..=30.0).contains(&outer.0) && (2.3..=2.7).contains(&thickness.0));
}

/// ASME B18.2.8: close 17/64, 21/64, 25/64, 17/32; normal 9/32, 11/32, 13/32, 9/16; loose from 0.297, 0.359, 0.422, 0.609 in;
/// and within 0.25 mm of the same standard's metric drills.
#[test]
fn inch_bolts_follow_their_standard() {
    let shop = built_in();
    let table = [
        ("1/4", 0.25, [17.0 / 64.0, 9.0 / 32.0, 0.297], [6.7, 7.1, 7.5]),
        ("5/16", 0.3125, [21.0 / 64.0, 11.0 / 32.0, 0.359], [8.3, 8.7, 9.1]),
        ("3/8", 0.375, [25.0 / 64.0, 13.0 / 32.0, 0.422], [9.9, 10.2, 10.5]),
        ("1/2", 0.5, [17.0 / 32.0, 9.0 / 16.0, 0.609], [13.5, 14.25, 15.5]),
    ];
    for (id, diameter, holes, drills) in table {
        let bolt = shop.fastener(id).unwrap();
        close(bolt.diameter, diameter * 25.4, id);
        for ((hole, inches), drill) in bolt.clearance.iter().zip(holes).zip(drills) {
            close(*hole, inches * 25.4, id);
            assert!((hole.0 - drill).abs() <= 0.25, "{id}: {hole} against a {drill} mm drill");
        }
        shop.washer(&format!("washer-{id}")).unwrap();
    }
}

/// Root and shank diameters in inches of gauge 6, 8, 10, 12 wood screws; the lead hole in hardwood is 90 % of the root.
#[test]
fn pilots_are_nine_tenths_of_the_root() {
    let gauges = [(0.138, 0.094), (0.164, 0.112), (0.190, 0.130), (0.216, 0.148)];
    let root = |shank: f64| {
        let at = gauges.windows(2).find(|pair| shank <= pair[1].0 * 25.4).unwrap();
        let ((s0, r0), (s1, r1)) = (at[0], at[1]);
        25.4 * (r0 + (r1 - r0) * (shank / 25.4 - s0) / (s1 - s0))
    };
    let shop = built_in();
    let metric = router(&shop, "router-metric");
    let inch = router(&shop, "router-inch");
    let mut wood_screws = 0;
    for screw in shop.fasteners.values() {
        let Some(pilot) = screw.pilot else { continue };
        wood_screws += 1;
        let wanted = 0.9 * root(screw.diameter.0);
        assert!((pilot.0 / wanted - 1.0).abs() < 0.04, "{}: {pilot} is not about {wanted}", screw.id);
        // Handbooks: the shank hole is the shank diameter, up to +0.4 mm.
        let [close, normal, loose] = screw.clearance;
        assert!(close > screw.diameter && normal > close && loose > normal);
        assert!(loose.0 <= screw.diameter.0 + 0.4 + 1e-9, "{}", screw.id);
        // Both routers hold the drill.
        for router in [&metric, &inch] {
            let has = router.cutters.iter().map(|id| shop.cutter(id).unwrap());
            assert!(
                has.clone().any(|c| c.kind == CutterKind::Drill && c.diameter == pilot),
                "{}: no {pilot} drill",
                screw.id
            );
        }
    }
    assert_eq!(wood_screws, 6);
}

#[test]
fn countersunk_heads_are_ninety_degree_cones() {
    let shop = built_in();
    for id in ["screw-3.5", "screw-4.0", "screw-4.5", "screw-5.0"] {
        let screw = shop.fastener(id).unwrap();
        close((screw.head_diameter - screw.diameter) / 2.0, screw.head_height.0, id);
    }
}

// ---- slides and latches --------------------------------------------------------------------------------------------------

/// A 12.7 mm slide: side space thickness + 0.2 to + 0.5, a slide maker's help page; 13.05 its middle.
#[test]
fn metric_slides_have_the_seen_window() {
    let shop = built_in();
    for length in [300, 350, 400, 450, 500, 550, 600, 700] {
        let slide = shop.slide(&format!("side-mount-{length}")).unwrap();
        assert_eq!((slide.length, slide.travel), (Mm(f64::from(length)), Mm(f64::from(length))));
        assert_eq!((slide.thickness, slide.side_space), (Mm(12.7), Mm(13.05)));
        close(slide.side_space_min, 12.7 + 0.2, &slide.id);
        close(slide.side_space_max, 12.7 + 0.5, &slide.id);
    }
}

/// 1/2 in nominal each side (trade exam note); 12.5 binds, 13.5 rattles (a second slide maker's help page).
#[test]
fn inch_slides_have_half_an_inch_and_a_bit_more() {
    let shop = built_in();
    for inches in [12, 14, 16, 18, 20, 22, 24, 28] {
        let slide = shop.slide(&format!("side-mount-{inches}in")).unwrap();
        close(slide.length, f64::from(inches) * 25.4, &slide.id);
        assert_eq!((slide.thickness, slide.side_space), (Mm(12.7), Mm(12.7)));
        close(slide.side_space_min, 12.5, &slide.id);
        close(slide.side_space_max, 13.5, &slide.id);
    }
}

/// 32 mm pitch, first row 37 mm from the front; at least three holes of each set, so that back-to-back members share none.
#[test]
fn slide_holes_stand_on_the_pitch_in_two_sets() {
    let shop = built_in();
    let mut load = f64::INFINITY;
    for length in [300, 350, 400, 450, 500, 550, 600, 700] {
        let slide = shop.slide(&format!("side-mount-{length}")).unwrap();
        assert!(slide.load_kg <= load, "a longer slide carries more: {}", slide.id);
        load = slide.load_kg;
    }
    for slide in shop.slides.values() {
        assert!(shop.fastener(&slide.screw).unwrap().pilot.is_some());
        for holes in [&slide.case_holes, &slide.drawer_holes] {
            for hole in holes {
                assert_eq!((hole.from_front.0 - 37.0) % 32.0, 0.0, "{}", slide.id);
                assert!(hole.from_front.0 >= 37.0 && hole.from_front.0 <= slide.length.0 - 20.0, "{}", slide.id);
            }
            for set in [0, 1] {
                let of_set: Vec<f64> = holes.iter().filter(|h| h.set == set).map(|h| h.from_front.0).collect();
                assert!(of_set.len() >= 3, "{}: set {set}", slide.id);
                // They hold front and back: the set spans more than half of the member.
                assert!(of_set.last().unwrap() - of_set[0] > slide.length.0 / 2.0, "{}: set {set}: {of_set:?}", slide.id);
            }
            let mut places: Vec<f64> = holes.iter().map(|h| h.from_front.0).collect();
            places.dedup();
            assert_eq!(places.len(), holes.len(), "{}: two holes in one place", slide.id);
        }
    }
}

#[test]
fn latches_leave_wood_between_cut_out_and_bolts_and_reach_past_their_face() {
    let shop = built_in();
    for latch in shop.latches.values() {
        let hole = shop.fastener(&latch.bolt).unwrap().clearance[1];
        for [x, y] in &latch.bolts {
            let web = match latch.cut_out {
                baywright::shop::CutOutShape::Rectangle { width, height, .. } => {
                    let dx = (x.abs() - width / 2.0).max(Mm::ZERO);
                    let dy = (y.abs() - height / 2.0).max(Mm::ZERO);
                    dx.0.hypot(dy.0)
                }
                baywright::shop::CutOutShape::Round { diameter } => x.0.hypot(y.0) - diameter.0 / 2.0,
            } - hole.0 / 2.0;
            // Least web of a 15 mm front: max(6 mm, t / 2).
            assert!(web >= 7.5, "{}: {web} mm of wood beside the bolt at {x}, {y}", latch.id);
            assert!(x.abs() * 2.0 + hole < latch.face[0] && y.abs() * 2.0 + hole < latch.face[1], "{}", latch.id);
        }
        assert!(latch.strike.rise > latch.face[1] / 2.0, "{}: the strike lies behind the face", latch.id);
        assert!(latch.strike.reach <= latch.strike.height, "{}", latch.id);
        assert!(latch.front_thickness.1 < latch.body_depth, "{}", latch.id);
    }
}

/// A free-standing carcass with one drawer.
fn drawer_unit(units: Unit, slide: &str, latch: &str, depth: f64) -> String {
    let (word, width, height, board) = match units {
        Unit::Mm => ("mm", 600.0, 260.0, "birch-ply-15"),
        Unit::Inch => ("in", 24.0, 10.5, "birch-ply-half-inch"),
    };
    let depth = units.count(Mm(depth));
    format!(
        "format = 1\ntitle = \"Sample drawer\"\nunits = \"{word}\"\n[boards.carcass]\nprofile = \"{board}\"\n\
         [[carcass]]\nname = \"lower\"\nwidth = {width}\ndepth = {depth}\nheight = {height}\nboard = \"carcass\"\n\
         [[carcass.column]]\nname = \"left\"\n[[carcass.column.cell]]\n\
         drawer = {{ slide = \"{slide}\", latch = \"{latch}\" }}\n"
    )
}

#[test]
fn every_slide_and_latch_can_be_built_with() {
    let shop = built_in();
    for slide in shop.slides.values() {
        for latch in shop.latches.keys() {
            let units = if slide.id.ends_with("in") { Unit::Inch } else { Unit::Mm };
            let mut texts = Texts::default();
            let file = texts.add("drawer.toml", drawer_unit(units, &slide.id, latch, slide.length.0 + 60.0));
            let mut found = Vec::new();
            let project = baywright::project::read(&texts, &[file]).into(&mut found).unwrap();
            let design = baywright::design::settle(&project, &shop, &texts).into(&mut found).unwrap();
            let model = baywright::parts::build(&design).into(&mut found).unwrap();
            let stops: Vec<_> = found.iter().filter(|f| f.severity == Severity::Stop).collect();
            assert!(stops.is_empty(), "{} {latch}: {stops:#?}", slide.id);
            assert!(model.panels.len() > 8, "{} {latch}: {} panels", slide.id, model.panels.len());
        }
    }
}

// ---- cutters and machines ------------------------------------------------------------------------------------------------

/// A pass is half to once the diameter; a compression cutter's first pass goes 1 mm below its up-cut tip; flutes outreach it.
#[test]
fn cutters_obey_the_pass_rules() {
    let shop = built_in();
    for cutter in shop.cutters.values() {
        match cutter.kind {
            CutterKind::Drill => assert!(cutter.centre_cutting, "{}", cutter.id),
            CutterKind::Compression { up_cut } => {
                assert!(cutter.pass_depth.0 >= up_cut.0 + 1.0, "{}", cutter.id);
                assert!(cutter.pass_depth <= cutter.diameter && !cutter.centre_cutting, "{}", cutter.id);
            }
            CutterKind::UpCut | CutterKind::DownCut => {
                let ratio = cutter.pass_depth / cutter.diameter;
                assert!((0.45..=1.0).contains(&ratio), "{}: {ratio}", cutter.id);
            }
        }
        assert!(cutter.flute_length.0 >= cutter.pass_depth.0 + 2.0, "{}", cutter.id);
        assert!(cutter.rpm <= cutter.rpm_max, "{}", cutter.id);
        assert!(!cutter.chip_load.contains_key(&Material::Card), "{}: card is not routed", cutter.id);
    }
    // Plywood, 1/4 in cutter: up to 0.23 mm a tooth, below 0.1 it rubs.
    for id in ["up-cut-6.35", "compression-6.35", "up-cut-6", "compression-6"] {
        let load = shop.cutter(id).unwrap().chip_load[&Material::HardwoodPly];
        assert_eq!((load.min, load.max), (Mm(0.1), Mm(0.23)), "{id}");
    }
    // Between the figures of 1/4, 3/8 and 1/2 in: at most 0.46 at 3/8 in, 0.53 at 1/2 in.
    let most = |id: &str| shop.cutter(id).unwrap().chip_load[&Material::HardwoodPly].max.0;
    assert!(most("up-cut-8") > 0.23 && most("up-cut-8") < 0.46);
    assert!(most("up-cut-12") > 0.46 && most("up-cut-12") < 0.53);
}

#[test]
fn routers_can_drive_their_own_cutters_through_their_own_boards() {
    let shop = built_in();
    for machine in shop.machines.values() {
        let Process::Router(router) = &machine.process else { continue };
        let cutters: Vec<_> = router.cutters.iter().map(|id| shop.cutter(id).unwrap()).collect();
        for cutter in &cutters {
            assert!((router.rpm.0..=router.rpm.1).contains(&cutter.rpm), "{} on {}", cutter.id, machine.id);
            for (material, load) in &cutter.chip_load {
                let least = load.min.0 * f64::from(cutter.flutes) * cutter.rpm;
                assert!(least <= machine.feed_max_mm_min, "{}: {} rubs in {material:?} at full feed", machine.id, cutter.id);
            }
        }
        // The outline cutter goes through the thickest birch board with its overcut and 2 mm to spare.
        let outline = cutters.iter().find(|c| c.kind != CutterKind::Drill).unwrap();
        let thickest = shop.board("birch-ply-18").unwrap().thickness_max + router.overcut;
        assert!(outline.flute_length.0 >= thickest.0 + 2.0, "{}", machine.id);
        // Part gap: 10 mm or cutter + 4, whichever is more; edge about 5 mm.
        assert!(router.part_gap.0 >= (outline.diameter.0 + 4.0).max(10.0), "{}", machine.id);
        assert!(router.sheet_margin.0 >= 5.0 && router.overcut <= router.floor, "{}", machine.id);
        assert!(router.clearance.0 >= 5.0);
    }
}

#[test]
fn the_two_routers_differ_in_what_they_can() {
    let shop = built_in();
    let (metric, inch) = (router(&shop, "router-metric"), router(&shop, "router-inch"));
    assert_eq!(shop.machine("router-metric").unwrap().units, Unit::Mm);
    assert_eq!(shop.machine("router-inch").unwrap().units, Unit::Inch);
    assert_eq!((metric.z_zero, inch.z_zero), (ZZero::Spoilboard, ZZero::SheetTop));
    assert!(metric.dialect.drill_cycles && !inch.dialect.drill_cycles);
    // A pack has one file per cutter, so neither claims otherwise.
    assert!(!metric.dialect.tool_change_in_file && inch.dialect.tool_change_in_file);
    assert_eq!((metric.dialect.line_numbers, inch.dialect.line_numbers), (None, Some(10)));
    assert_eq!((metric.dialect.decimals, inch.dialect.decimals), (4, 5));
    assert!(!metric.dialect.crlf && inch.dialect.crlf && metric.dialect.percent && !inch.dialect.percent);
    assert!((metric.ramp_angle - 5_f64.to_radians()).abs() < 1e-12);
    let HoldDown::Tabs { length, height, spacing } = metric.hold_down else { panic!("tabs") };
    assert_eq!((length, height, spacing), (Mm(8.0), Mm(4.0), Mm(300.0)));
    let bed = shop.machine("router-inch").unwrap().travel;
    assert!(bed[0] >= Mm::from_inches(96.0) && bed[1] >= Mm::from_inches(48.0));
    let Process::Laser(laser) = &shop.machine("laser-bench").unwrap().process else { panic!("a laser") };
    assert_eq!((laser.kerf, laser.compensate), (Mm(0.2), true));
}

// ---- a maker's own files -------------------------------------------------------------------------------------------------

const OWN_CUTTER: &str = r#"
[[cutter]]
id = "up-cut-6"
name = "reground, measured"
kind = "up-cut"
diameter = "5.85 mm"
flutes = 2
flute_length = "7/8 in"
centre_cutting = true
pass_depth = 3
rpm = 16_000
rpm_max = 24000
chip_load = { hardwood-ply = [0.1, 0.2] }
basis = { diameter = "caliper", rest = "as bought" }
"#;

#[test]
fn a_later_profile_takes_the_earlier_ones_place() {
    let (loaded, texts) = with(OWN_CUTTER);
    assert_eq!(loaded.findings.len(), 1, "{:#?}", loaded.findings);
    assert_eq!((loaded.findings[0].code, loaded.findings[0].severity), (codes::REPLACES, Severity::Note));
    assert_eq!(texts.place(loaded.findings[0].span.unwrap()).line, 3);
    let shop = loaded.value.unwrap();
    let cutter = shop.cutter("up-cut-6").unwrap();
    assert_eq!(cutter.diameter, Mm(5.85));
    close(cutter.flute_length, 22.225, "7/8 in");
    assert_eq!(cutter.basis["diameter"], "caliper");
    assert_eq!(cutter.basis["chip_load.hardwood-ply"], "as bought");
    assert_eq!(shop.cutters.len(), built_in().cutters.len());

    // Of two extra files the last one rules.
    let mut texts = Texts::default();
    let first = texts.add("one.toml", OWN_CUTTER);
    let second = texts.add("two.toml", OWN_CUTTER.replace("5.85", "5.91"));
    let shop = load(&texts, &[first, second]).value.unwrap();
    assert_eq!(shop.cutter("up-cut-6").unwrap().diameter, Mm(5.91));
    let shop = load(&texts, &[second, first]).value.unwrap();
    assert_eq!(shop.cutter("up-cut-6").unwrap().diameter, Mm(5.85));
}

#[test]
fn a_broken_profile_leaves_the_earlier_one_and_says_why() {
    let (loaded, _) = with(&OWN_CUTTER.replace("flutes = 2", "flutes = 0"));
    assert!(loaded.has_stop());
    assert_eq!(loaded.value.unwrap().cutter("up-cut-6").unwrap().diameter, Mm(6.0));
}

#[test]
fn a_value_without_a_source_is_noted_not_refused() {
    let (loaded, _) = with(&OWN_CUTTER.replace("up-cut-6", "mine").replace("rest = \"as bought\"", "rpm = \"sticker\""));
    let codes: Vec<Code> = loaded.findings.iter().map(|f| f.code).collect();
    assert_eq!(codes, [codes::NO_BASIS]);
    assert!(loaded.findings[0].message.contains("`flutes`") && !loaded.findings[0].message.contains("`rpm`,"));
    assert_eq!(loaded.value.unwrap().cutter("mine").unwrap().basis["flutes"], "no source given");
}

#[test]
fn a_size_in_the_wrong_unit_is_doubted() {
    for (file, from, to) in [
        ("boards", "nominal = 18\nthickness_min = 17.06", "nominal = 0.75\nthickness_min = 0.7"),
        ("boards", "[[2500, 1250]", "[[98, 49]"),
        ("cutters", "diameter = 6.35", "diameter = 0.25"),
        ("slides", "length = 500", "length = 20"),
        ("latches", "face = [136, 106]", "face = [5.3, 4.2]"),
        ("fasteners", "diameter = 6\n", "diameter = 0.25\n"),
        ("machines", "travel = [2600, 1350, 200]", "travel = [98, 50, 6]"),
    ] {
        let (loaded, texts) = with(&changed(file, from, to));
        let doubt = loaded.findings.iter().find(|f| f.code == codes::UNLIKELY_SIZE);
        let doubt = doubt.unwrap_or_else(|| panic!("{file}: {to:?}: {:?}", loaded.findings));
        assert_eq!(doubt.severity, Severity::Caution);
        assert!(doubt.limit.as_deref().unwrap().contains("mm") && doubt.span.is_some(), "{doubt:?}");
        assert!(texts.place(doubt.span.unwrap()).line > 5);
    }
}

/// A built-in file with one text changed, as a maker's own file.
fn changed(file: &str, from: &str, to: &str) -> String {
    let (_, text) = BUILT_IN.iter().find(|(name, _)| name.contains(file)).unwrap();
    assert!(text.contains(from), "{file} has no {from:?}");
    text.replacen(from, to, 1)
}

/// Each: file, text taken out, text put in, what is found, where it points (a piece of the text there), what the remedy says.
#[test]
fn bad_files_are_answered_at_the_place() {
    use codes::{BAD_VALUE, MISSING_KEY, REPEATED_ID, SYNTAX, UNKNOWN_KEY, UNKNOWN_REFERENCE, WRONG_TYPE};
    let cases: &[(&str, &str, &str, Code, &str, &str)] = &[
        ("boards", "nominal = 9", "nominal 9", SYNTAX, "", "TOML"),
        ("boards", "thickness_max = 9.47", "thicknes_max = 9.47", UNKNOWN_KEY, "thicknes_max", "thickness_max"),
        ("boards", "thickness_max = 9.47\n", "", MISSING_KEY, "[[board]]", "thickness_max"),
        ("boards", "nominal = 9", "nominal = true", WRONG_TYPE, "true", "length"),
        ("boards", "nominal = 9", "nominal = \"nine\"", BAD_VALUE, "\"nine\"", "length"),
        ("boards", "nominal = 9", "nominal = \"9\"", BAD_VALUE, "\"9\"", "length"),
        ("boards", "density_kg_m3 = 710", "density_kg_m3 = nan", BAD_VALUE, "nan", "finite"),
        ("boards", "nominal = 9", "nominal = \"9 yd\"", BAD_VALUE, "\"9 yd\"", "length"),
        ("boards", "nominal = 9", "nominal = 0", BAD_VALUE, "0", "more than 0"),
        ("boards", "nominal = 9", "nominal = -9", BAD_VALUE, "-9", "more than 0"),
        ("boards", "nominal = 9", "nominal = nan", BAD_VALUE, "nan", "length"),
        ("boards", "nominal = 9", "nominal = inf", BAD_VALUE, "inf", "length"),
        ("boards", "nominal = 9", "nominal = \"1/0 in\"", BAD_VALUE, "\"1/0 in\"", "length"),
        ("boards", "density_kg_m3 = 710", "density_kg_m3 = \"710\"", WRONG_TYPE, "\"710\"", "number"),
        ("boards", "density_kg_m3 = 710", "density_kg_m3 = -1", BAD_VALUE, "-1", "more than 0"),
        ("boards", "thickness_min = 8.33", "thickness_min = 10", BAD_VALUE, "10", "swap"),
        ("boards", "\"hardwood-ply\"", "\"hardwod-ply\"", BAD_VALUE, "\"hardwod-ply\"", "`hardwood-ply`"),
        ("boards", "has_grain = true", "has_grain = \"yes\"", WRONG_TYPE, "\"yes\"", "true or false"),
        ("boards", "[2500, 1250]", "[2500]", WRONG_TYPE, "[2500]", "list of 2"),
        ("boards", "[2500, 1250]", "[2500, 0]", BAD_VALUE, "0", "more than 0"),
        ("boards", "[2500, 1250]", "2500", WRONG_TYPE, "2500", "list of 2"),
        ("boards", "sheets = [[2500, 1250], [2440, 1220], [1525, 1525]]", "sheets = []", WRONG_TYPE, "[]", "list"),
        ("boards", "id = \"birch-ply-9\"", "id = \"birch ply\"", BAD_VALUE, "\"birch ply\"", "rename"),
        ("boards", "id = \"birch-ply-9\"\n", "", MISSING_KEY, "[[board]]", "id"),
        ("boards", "id = \"birch-ply-9\"", "id = \"\"", BAD_VALUE, "\"\"", "text"),
        ("boards", "id = \"birch-ply-9\"", "id = 9", WRONG_TYPE, "9", "text"),
        ("boards", "id = \"birch-ply-9\"", "id = \"birch-ply-12\"", REPEATED_ID, "\"birch-ply-12\"", "another id"),
        ("boards", "[sources]", "[[bord]]\nid = 1\n[sources]", UNKNOWN_KEY, "bord", "`board`"),
        ("boards", "[sources]", "[source]", UNKNOWN_KEY, "source", "`sources`"),
        ("boards", "\"@sanded\"", "\"@sandd\"", UNKNOWN_REFERENCE, "\"@sandd\"", "@sanded"),
        ("boards", "nominal = \"name of the trade size\"", "nominl = \"x\"", UNKNOWN_KEY, "nominl", "`nominal`"),
        ("boards", "nominal = \"name of the trade size\"", "nominal = 3", WRONG_TYPE, "3", "where"),
        ("boards", "sanded = \"sanded class", "x = 3\nsanded = \"sanded class", WRONG_TYPE, "3", "where"),
        ("cutters", "flutes = 2", "flutes = 2.5", WRONG_TYPE, "2.5", "whole"),
        ("cutters", "flutes = 2", "flutes = 99", BAD_VALUE, "99", "from 1 to 12"),
        ("cutters", "flutes = 2", "flutes = -2", BAD_VALUE, "-2", "from 1 to 12"),
        ("cutters", "kind = \"up-cut\"", "kind = \"upcut\"", BAD_VALUE, "\"upcut\"", "`up-cut`"),
        ("cutters", "kind = \"up-cut\"", "kind = \"compression\"", MISSING_KEY, "[[cutter]]", "up_cut"),
        ("cutters", "kind = \"compression\"", "kind = \"down-cut\"", UNKNOWN_KEY, "up_cut", "take it out"),
        ("cutters", "up_cut = 4.5", "up_cut = 40", BAD_VALUE, "40", "lower"),
        ("cutters", "rpm = 20000", "rpm = 30000", BAD_VALUE, "30000", "lower"),
        ("cutters", "pass_depth = 1.5", "pass_depth = 30", BAD_VALUE, "30", "lower"),
        ("cutters", "hardwood-ply = [0.05, 0.12]", "hardwood-ply = [0.12, 0.05]", BAD_VALUE, "[0.12, 0.05]", "swap"),
        ("cutters", "hardwood-ply = [", "oak = [", UNKNOWN_KEY, "oak", "hardwood-ply"),
        ("machines", "process = \"laser\"", "process = \"saw\"", BAD_VALUE, "\"saw\"", "`router`"),
        ("machines", "process = \"laser\"", "process = \"router\"", MISSING_KEY, "[[machine]]", "router"),
        ("machines", "process = \"router\"", "process = \"laser\"", UNKNOWN_KEY, "router", "take it out"),
        ("machines", "\"up-cut-3\"", "\"up-cut-33\"", UNKNOWN_REFERENCE, "\"up-cut-33\"", "up-cut-3"),
        ("machines", "\"up-cut-3\"", "\"up-cut-6\"", BAD_VALUE, "[\"compression-6\"", "take one out"),
        ("machines", "rpm = [6000, 24000]", "rpm = [24000, 6000]", BAD_VALUE, "[24000, 6000]", "order"),
        ("machines", "rpm = [6000, 24000]", "rpm = [6000, 8000, 9000]", BAD_VALUE, "[6000,", "order"),
        ("machines", "overcut = 0.3", "overcut = 3", BAD_VALUE, "3", "floor"),
        ("machines", "ramp_angle_deg = 5", "ramp_angle_deg = 90", BAD_VALUE, "90", "degrees"),
        ("machines", "park = [0, 0]", "park = [9000, 0]", BAD_VALUE, "[9000, 0]", "inside"),
        ("machines", "park = [0, 0]", "park = [-1, 0]", BAD_VALUE, "-1", "0 or more"),
        ("machines", "work_offset = \"G54\"", "work_offset = \"G60\"", BAD_VALUE, "\"G60\"", "G54"),
        ("machines", "file_ending = \"nc\"", "file_ending = \"../x\"", BAD_VALUE, "\"../x\"", "nc"),
        ("machines", "decimals = 4", "decimals = 1", BAD_VALUE, "1", "from 3 to 6"),
        ("machines", "line_numbers = 10", "line_numbers = 0", BAD_VALUE, "0", "from 1"),
        ("machines", "feed_max_mm_min = 8000", "feed_max_mm_min = 80000", BAD_VALUE, "80000", "lower"),
        ("machines", "tabs = { length = 8, height = 4, spacing = 300 }", "", MISSING_KEY, "{", "tabs"),
        ("machines", "tabs = { length = 8,", "tabs = { lenght = 8,", UNKNOWN_KEY, "lenght", "`length`"),
        (
            "machines",
            "tabs = { length = \"3/8 in\", height = \"0.16 in\", spacing = \"12 in\" }",
            "skin = 0.4",
            BAD_VALUE,
            "{",
            "tabs",
        ),
        ("slides", "side_space = 13.05", "side_space = 12.5", BAD_VALUE, "12.5", "window"),
        ("slides", "[37, 0]", "[37, 2]", WRONG_TYPE, "[37, 2]", "set 0 or 1"),
        ("slides", "[37, 0]", "[0, 0]", WRONG_TYPE, "[0, 0]", "set 0 or 1"),
        ("slides", "[37, 0]", "[69, 0]", BAD_VALUE, "[[69, 0]", "take one out"),
        ("slides", "[37, 0]", "[370, 0]", BAD_VALUE, "[[370, 0]", "take it out"),
        (
            "slides",
            "screw = \"pan-screw-4.0\"",
            "screw = \"pan-screw-4\"",
            UNKNOWN_REFERENCE,
            "\"pan-screw-4\"",
            "pan-screw-4.0",
        ),
        ("latches", "bolt = \"M5\"", "bolt = \"M7\"", UNKNOWN_REFERENCE, "\"M7\"", "M"),
        ("latches", "radius = 8", "radius = 80", BAD_VALUE, "80", "smaller"),
        ("latches", "[-60, -45]", "[-40, -30]", BAD_VALUE, "[[-40", "outside"),
        ("latches", "front_thickness = [9, 20]", "front_thickness = [20, 9]", BAD_VALUE, "[20, 9]", "swap"),
        ("latches", "rise = 68, ", "", MISSING_KEY, "{", "rise"),
        ("latches", "cut_out = { diameter = 26 }", "cut_out = 26", WRONG_TYPE, "26", "table"),
        ("fasteners", "clearance = [4.3, 4.5, 4.8]", "clearance = [4.8, 4.5, 4.3]", BAD_VALUE, "[4.8,", "swap"),
        ("fasteners", "clearance = [4.3, 4.5, 4.8]", "clearance = [3.9, 4.5, 4.8]", BAD_VALUE, "[3.9,", "larger"),
        ("fasteners", "pilot = 2.2\n", "", MISSING_KEY, "[[fastener]]", "pilot"),
        ("fasteners", "pilot = 2.2", "pilot = 3.5", BAD_VALUE, "3.5", "smaller"),
        ("fasteners", "kind = \"hex-bolt\"", "kind = \"hex-bolt\"\npilot = 3", BAD_VALUE, "3", "take"),
        ("fasteners", "washer = [4.3, 12, 1.0]", "washer = [12, 4.3, 1.0]", BAD_VALUE, "[12, 4.3", "swap"),
        ("fasteners", "size = [4.3, 9, 0.8]", "size = [9, 4.3, 0.8]", BAD_VALUE, "[9, 4.3", "swap"),
        ("fasteners", "bolt = \"M4\"", "bolt = \"M3\"", UNKNOWN_REFERENCE, "\"M3\"", "M"),
        ("fasteners", "lengths = [10, 12, 16, 20, 25, 30, 35, 40]", "lengths = [10, \"x\"]", BAD_VALUE, "\"x\"", "length"),
    ];
    let mut seen: Vec<Code> = Vec::new();
    let mut missed: Vec<String> = Vec::new();
    for (file, from, to, code, at, remedy) in cases {
        let (loaded, texts) = with(&changed(file, from, to));
        let found: Vec<_> = loaded.findings.iter().filter(|f| f.severity == Severity::Stop).collect();
        let hit = found.iter().find(|f| {
            let span = f.span.unwrap();
            f.code == *code && texts.text(span.file)[span.start..].starts_with(at) && f.remedy.contains(remedy)
        });
        if hit.is_none() {
            let found: Vec<_> = found.iter().map(|f| (f.code.id, &f.message, &f.remedy)).collect();
            missed.push(format!("{file}: {from:?} -> {to:?}: {found:?}"));
        }
        assert!(found.iter().all(|f| !f.message.is_empty() && !f.remedy.is_empty()), "{found:#?}");
        assert!(loaded.value.is_some());
        seen.push(*code);
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
    for code in codes::ALL.iter().filter(|code| ![codes::NO_BASIS, codes::REPLACES, codes::UNLIKELY_SIZE].contains(code)) {
        assert!(seen.contains(code), "no case for {}", code.id);
    }
}

#[test]
fn one_fault_gives_one_finding_and_all_faults_are_told_at_once() {
    let (loaded, _) = with(&changed("boards", "nominal = 9", "nominal = -9"));
    assert_eq!(loaded.findings.iter().filter(|f| f.severity == Severity::Stop).count(), 1, "{:#?}", loaded.findings);

    let (loaded, _) =
        with("[[board]]\nid = \"b\"\nnominal = -1\nmaterial = \"tin\"\ncolour = 3\n[[slide]]\nid = \"s\"\n[[tool]]\n");
    let stops: Vec<Code> = loaded.findings.iter().filter(|f| f.severity == Severity::Stop).map(|f| f.code).collect();
    let count = |code: Code| stops.iter().filter(|c| **c == code).count();
    // Board: name and seven more are missing; slide: name, nine sizes and tables, screw.
    assert_eq!(count(codes::BAD_VALUE), 2, "{:#?}", loaded.findings);
    assert_eq!(count(codes::UNKNOWN_KEY), 2, "colour and tool");
    assert_eq!(count(codes::MISSING_KEY), 9 + 12, "{:#?}", loaded.findings);
    // In the file's order.
    let starts: Vec<usize> = loaded.findings.iter().map(|f| f.span.unwrap().start).collect();
    assert!(starts.is_sorted(), "{starts:?}");
}

/// Each key of each kind of profile, given a value of no type it could have: one stopper, there, and none about the keys after it.
#[test]
fn a_value_of_the_wrong_type_hides_no_other_key() {
    let slides = changed("slides", "load_kg = ", "head_room = 3.4\nload_kg = ");
    let habits = "edge_pass = 0.5\nrough_direction = \"other\"\nhold_down_screws = { hole = 5, head = 9, head_height = 3, spacing = 300 }\n";
    let machines = changed("machines", "air_trace = true", &format!("{habits}air_trace = true"));
    let texts = BUILT_IN.iter().map(|(name, text)| match *name {
        name if name.contains("slides") => slides.as_str(),
        name if name.contains("machines") => machines.as_str(),
        _ => text,
    });
    let mut spoilt = 0;
    for text in texts {
        let mut seen = std::collections::BTreeSet::new();
        let mut table = "";
        let mut start = 0;
        for line in text.split_inclusive('\n') {
            let at = start;
            start += line.len();
            if line.starts_with('[') {
                table = line.trim();
            }
            let Some((key, value)) = line.trim_end().split_once(" = ") else { continue };
            if line.starts_with('#')
                || table == "[sources]"
                || table.contains("basis")
                || key == "id"
                || !seen.insert((table, key))
            {
                continue;
            }
            let from = at + key.len() + 3;
            let text = format!("{}1979-05-27{}", &text[..from], &text[from + value.len()..]);
            let (loaded, _) = with(&text);
            let stops: Vec<_> = loaded.findings.iter().filter(|f| f.severity == Severity::Stop).collect();
            assert!(
                stops.len() == 1 && stops[0].code == codes::WRONG_TYPE && stops[0].span.unwrap().start == from,
                "{table} {key}: {stops:#?}"
            );
            spoilt += 1;
        }
    }
    assert!(spoilt > 90, "{spoilt}");
}

#[test]
fn a_fault_in_a_fastener_is_not_told_again_by_those_that_use_it() {
    let text = "[[fastener]]\nid = \"mine\"\n[[slide]]\nid = \"own\"\nscrew = \"mine\"\n";
    let (loaded, _) = with(text);
    assert!(loaded.findings.iter().all(|f| f.code != codes::UNKNOWN_REFERENCE), "{:#?}", loaded.findings);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Whatever is cut out of a profile file or put in: no panic, spans inside the file, the shop still there and sound.
    #[test]
    fn damaged_files_never_break_the_shop(file in 0_usize..6, at in 0.0_f64..1.0, gone in 0_usize..40, put in "[\\[\\]{}=\"@#,.a-z0-9\\-\n ]{0,12}") {
        let text = BUILT_IN[file].1;
        let mut start = (at * text.len() as f64) as usize;
        while !text.is_char_boundary(start) { start -= 1; }
        let mut end = (start + gone).min(text.len());
        while !text.is_char_boundary(end) { end += 1; }
        let damaged = format!("{}{put}{}", &text[..start], &text[end..]);
        let (loaded, texts) = with(&damaged);
        for finding in &loaded.findings {
            if let Some(span) = finding.span {
                prop_assert!(span.start <= span.end && span.end <= damaged.len(), "{finding:?}");
                prop_assert!(texts.place(span).line >= 1);
            }
        }
        let shop = loaded.value.unwrap();
        prop_assert!(shop.boards.values().all(|b| b.nominal.0 > 0.0 && b.thickness_min <= b.thickness_max && !b.sheets.is_empty()));
        prop_assert!(shop.slides.values().all(|s| s.side_space_min <= s.side_space && s.side_space <= s.side_space_max));
        prop_assert!(shop.cutters.values().all(|c| c.diameter.0 > 0.0 && c.flutes > 0 && !c.chip_load.is_empty()));
        let entries = describe::entries(&shop);
        prop_assert!(entries.iter().all(|e| e.rows.iter().all(|row| e.basis.contains_key(&row.key))));
    }
}

// ---- looking up and showing ----------------------------------------------------------------------------------------------

#[test]
fn lookups_suggest_the_nearest_names() {
    let shop = built_in();
    assert_eq!(shop.board("brich-ply-15").unwrap_err()[0], "birch-ply-15");
    assert_eq!(shop.slide("side-mount-750").unwrap_err().len(), 3);
    assert!(shop.latch("paddle").unwrap_err().contains(&"flush-paddle".to_owned()));
    assert_eq!(shop.fastener("m6").unwrap_err()[0], "M6");
    assert!(shop.machine("zzzzzzzz").unwrap_err().is_empty());
    assert!(shop.cutter("").unwrap_err().is_empty());
    assert_eq!(nearest("widht", ["width", "depth"]), ["width"]);
}

#[test]
fn the_list_holds_every_profile_once_sorted_by_number() {
    let shop = built_in();
    let list = describe::list(&shop);
    let total = shop.boards.len()
        + shop.cutters.len()
        + shop.machines.len()
        + shop.slides.len()
        + shop.latches.len()
        + shop.fasteners.len()
        + shop.washers.len();
    assert_eq!(list.lines().count(), total);
    assert_eq!(describe::list_json(&shop).as_array().unwrap().len(), total);
    let place = |id: &str| list.lines().position(|line| line.split_whitespace().nth(1) == Some(id)).unwrap();
    assert!(
        place("birch-ply-9") < place("birch-ply-12") && place("M8") < place("M10") && place("drill-2.5") < place("drill-3")
    );
    assert!(list.contains("birch-ply-15") && list.contains("14.15 to 15.65 mm thick"));
    let mut ids: Vec<String> =
        describe::entries(&shop).into_iter().map(|entry| format!("{} {}", entry.kind, entry.id)).collect();
    ids.sort();
    ids.dedup();
    assert_eq!(ids.len(), total);
}

#[test]
fn one_profile_shows_every_value_with_unit_and_source() {
    let shop = built_in();
    let found = describe::with_id(&shop, "side-mount-500").unwrap();
    assert_eq!(found.len(), 1);
    let text = describe::text(&found[0]);
    assert!(text.starts_with("slide side-mount-500\n"));
    for piece in ["12.9 mm", "13.2 mm", "42 kg", "set 0: 37", "a slide maker's help page"] {
        assert!(text.contains(piece), "{piece:?} is not in\n{text}");
    }
    let data = describe::json(&found[0]);
    let values = data["values"].as_array().unwrap();
    let least = values.iter().find(|v| v["key"] == "side_space_min").unwrap();
    assert_eq!((least["value"].as_f64(), least["unit"].as_str()), (Some(12.9), Some("mm")));
    assert!(least["basis"].as_str().unwrap().contains("help page"));
    assert_eq!(describe::with_id(&shop, "side-mount-55").unwrap_err()[0], "side-mount-550");
}

#[test]
fn a_profile_written_out_as_a_file_reads_back_as_it_was() {
    let shop = built_in();
    let before = describe::entries(&shop);
    let text: String = before.iter().map(describe::file_text).collect();
    let (loaded, _) = with(&text);
    assert_eq!(loaded.findings.len(), before.len());
    assert!(loaded.findings.iter().all(|f| f.code == codes::REPLACES), "{:#?}", loaded.findings);
    let after = describe::entries(&loaded.value.unwrap());
    for (before, after) in before.iter().zip(&after) {
        assert_eq!((before.kind, &before.id, &before.name), (after.kind, &after.id, &after.name));
        assert_eq!(before.rows, after.rows, "{}", before.id);
        assert_eq!(before.basis, after.basis, "{}", before.id);
    }
}

#[test]
fn profiles_name_nobody_and_no_path() {
    for (name, text) in BUILT_IN {
        assert!(name.starts_with("profiles/"));
        for word in ["http", "www", "(c)", "®", "™", "/home"] {
            assert!(!text.contains(word), "{name} holds {word:?}");
        }
    }
}
