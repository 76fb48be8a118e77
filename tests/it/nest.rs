//! Layouts: every copy once, inside, apart, turned as allowed; honest bounds; the same for any thread count.

mod below_best;
mod engine;
mod saw;
mod shapes;

use baywright::design::{BoardId, BoardUse, Design, JointClearance, ProcessChoice, ReliefStyle, StockSheet, Together};
use baywright::dim::Dim;
use baywright::flat::{FlatCut, FlatPart, FlatParts, Operation, PartGrain, Side};
use baywright::geom::{Contour, Point, Rect, Vertex};
use baywright::nest::{check, inside, lay_out, opening_gap, Effort, Inside, Layout, Options, Turn};
use baywright::parts::{Face, Hand, PanelId, Purpose};
use baywright::shop::{Board, Cutter, CutterKind, HoldDown, Laser, Machine, Material, Process, Router, SheetSize};
use baywright::units::{Mm, Unit};
use std::collections::BTreeMap;
use std::sync::Arc;

fn board(stock: Vec<StockSheet>) -> BoardUse {
    let profile = Board {
        id: "ply-15".into(),
        name: "plywood 15".into(),
        material: Material::HardwoodPly,
        nominal: Mm(15.0),
        thickness_min: Mm(14.3),
        thickness_max: Mm(15.3),
        within_sheet: Mm(0.6),
        density_kg_m3: 680.0,
        e_along: 8000.0,
        e_across: 5000.0,
        has_grain: true,
        sheets: Vec::new(),
        basis: BTreeMap::new(),
    };
    BoardUse {
        name: "carcass".into(),
        profile: Arc::new(profile),
        thickness: Dim::number(Mm(14.8), "test"),
        readings: Vec::new(),
        stock,
        span: None,
    }
}

fn sheet(length: f64, width: f64, count: Option<u32>) -> StockSheet {
    StockSheet { size: SheetSize { length: Mm(length), width: Mm(width) }, count, price: None, defects: Vec::new() }
}

fn design(stock: Vec<StockSheet>) -> Design {
    let zero = || Dim::number(Mm(0.0), "test");
    let machine = Machine {
        id: "m".into(),
        name: "laser".into(),
        units: Unit::Mm,
        travel: [Mm(3000.0), Mm(2000.0), Mm(100.0)],
        process: Process::Laser(Laser { kerf: Mm(0.2), compensate: true, lines: Box::default() }),
        rapid_mm_min: 10_000.0,
        feed_max_mm_min: 5_000.0,
        accel_mm_s2: 500.0,
        basis: BTreeMap::new(),
    };
    Design {
        title: "test".into(),
        units: Unit::Mm,
        vehicle: None,
        prices: None,
        bay: None,
        boards: vec![board(stock)],
        process: ProcessChoice {
            machine: Arc::new(machine),
            cutters: Vec::new(),
            outline_cutter: None,
            joint_clearance: JointClearance { glued: zero(), finger: zero(), loose: zero(), press: None },
            relief: ReliefStyle::None,
            relief_extra: Mm(0.0),
            min_web: Mm(3.0),
            part_gap: Mm(10.0),
            sheet_margin: Mm(5.0),
            dxf_release_12: false,
            split: false,
            parts_in_openings: false,
            saw: baywright::design::Saw::default(),
        },
        carcasses: Vec::new(),
        pull_outs: Vec::new(),
        lips: Vec::new(),
        panels: Vec::new(),
        stows: Vec::new(),
        pins: Vec::new(),
        together: Vec::new(),
        overrides: Vec::new(),
        assumptions: Vec::new(),
        mock_up: None,
        rubs: Vec::new(),
    }
}

fn cut(operation: Operation, contour: Contour) -> FlatCut {
    FlatCut {
        operation,
        side: Side::Up,
        contour,
        islands: Vec::new(),
        purpose: Purpose::Own,
        feature: "outline".into(),
        seats: None,
        span: None,
    }
}

fn part(id: &str, length: f64, width: f64, copies: usize, grain: PartGrain) -> FlatPart {
    FlatPart {
        id: id.into(),
        name: format!("part {id}"),
        unit: "lower".into(),
        hand: Hand::None,
        board: BoardId(0),
        thickness_max: Mm(15.3),
        thickness: Mm(14.8),
        panels: (0..copies).map(PanelId).collect(),
        face_up: Face::A,
        grain,
        length: Mm(length),
        width: Mm(width),
        outline: cut(Operation::ThroughOutside, Contour::rect(Rect::new(0.0, 0.0, length, width)).unwrap()),
        cuts: Vec::new(),
        keep_clean: Vec::new(),
        mass_kg: 1.0,
        span: None,
    }
}

fn laid(design: &Design, parts: &FlatParts) -> Layout {
    let checked = lay_out(design, parts, &Options { effort: Effort::Draft, ..Options::default() });
    assert!(checked.findings.is_empty(), "{:?}", checked.findings);
    let layout = checked.value.unwrap();
    assert_eq!(check::layout(design, parts, &layout), Vec::<String>::new());
    layout
}

/// What stops a layout: the codes found.
fn stops(design: &Design, parts: &FlatParts) -> Vec<&'static str> {
    let checked = lay_out(design, parts, &Options { effort: Effort::Draft, ..Options::default() });
    assert!(checked.value.is_none());
    checked.findings.iter().map(|f| f.code.id).collect()
}

fn flat(parts: Vec<FlatPart>) -> FlatParts {
    FlatParts { parts }
}

#[test]
fn a_van_job_fits_the_sheets_that_must_be_bought() {
    let design = design(vec![sheet(2500.0, 1250.0, None)]);
    let parts = flat(vec![
        part("A", 920.0, 1000.0, 2, PartGrain::AlongX),
        part("B", 1000.0, 232.0, 3, PartGrain::AlongX),
        part("C", 700.0, 180.0, 4, PartGrain::Any),
        part("D", 430.0, 180.0, 4, PartGrain::AlongY),
    ]);
    let layout = laid(&design, &parts);
    assert_eq!(layout.bounds.len(), 1);
    assert_eq!(layout.bounds[0].sheets as usize, layout.sheets.len());
    assert_eq!(layout.sheets.len(), 2);
    assert!(layout.bounds[0].sheets_at_least <= layout.bounds[0].sheets);
    let numbers: Vec<u32> = layout.sheets.iter().map(|s| s.number).collect();
    assert_eq!(numbers, [1, 2]);
}

#[test]
fn grain_rules_the_turn() {
    // 300 x 1000 with its grain along y must lie turned, so that the grain runs along the sheet.
    let design = design(vec![sheet(1100.0, 400.0, None)]);
    let along_y = laid(&design, &flat(vec![part("A", 300.0, 1000.0, 1, PartGrain::AlongY)]));
    let p = along_y.sheets[0].placements[0];
    assert_eq!(p.turn, Turn::Quarter);
    // Turned counter-clockwise about its origin the part lies left of it, so the origin is at the lower right corner.
    assert_eq!((p.at.x, p.at.y), (1005.0, 5.0));
    assert_eq!(stops(&design, &flat(vec![part("A", 300.0, 1000.0, 1, PartGrain::AlongX)])), ["part-over-sheet"]);
    laid(&design, &flat(vec![part("A", 300.0, 1000.0, 1, PartGrain::Any)]));
}

#[test]
fn a_part_over_every_sheet_is_named_with_its_size_and_the_sheet() {
    let design = design(vec![sheet(1200.0, 600.0, None), sheet(2500.0, 1250.0, Some(1))]);
    let parts = flat(vec![part("A", 2600.0, 500.0, 1, PartGrain::Any), part("B", 100.0, 100.0, 1, PartGrain::Any)]);
    let checked = lay_out(&design, &parts, &Options::default());
    let message = &checked.findings[0].message;
    assert!(message.contains("2600 x 500") && message.contains("2490 x 1240"), "{message}");
    assert_eq!(checked.findings[0].parts, ["A"]);
    assert_eq!(checked.findings.len(), 1);
}

#[test]
fn exact_fits_are_found_and_a_hundredth_more_is_refused() {
    // Sheet 2500 less two margins of 5: two parts and the gap of 10 fill 2490 exactly.
    let design = design(vec![sheet(2500.0, 110.0, Some(1))]);
    laid(&design, &flat(vec![part("A", 1240.0, 100.0, 2, PartGrain::AlongX)]));
    assert_eq!(stops(&design, &flat(vec![part("A", 1240.01, 100.0, 2, PartGrain::AlongX)])), ["stock-short"]);
}

#[test]
fn too_little_stock_stops_and_says_what_is_left_over() {
    let design = design(vec![sheet(1000.0, 1000.0, Some(2))]);
    let checked = lay_out(&design, &flat(vec![part("A", 900.0, 900.0, 3, PartGrain::Any)]), &Options::default());
    assert!(checked.value.is_none());
    assert_eq!(checked.findings[0].code.id, "stock-short");
    assert!(checked.findings[0].message.contains("1 part (0.81 m²)"), "{}", checked.findings[0].message);
    let mut bare = design.clone();
    bare.boards[0].stock.clear();
    assert_eq!(stops(&bare, &flat(vec![part("A", 900.0, 900.0, 3, PartGrain::Any)])), ["board-without-sheets"]);
    // A board nobody uses needs no sheets.
    assert!(laid(&bare, &flat(Vec::new())).sheets.is_empty());
}

#[test]
fn the_cutter_widens_the_gap() {
    let mut design = design(vec![sheet(2500.0, 110.0, None)]);
    let parts = flat(vec![part("A", 1240.0, 100.0, 2, PartGrain::AlongX)]);
    assert_eq!(laid(&design, &parts).sheets.len(), 1);
    design.process.cutters = vec![Arc::new(Cutter {
        id: "c".into(),
        name: "cutter 8".into(),
        kind: CutterKind::UpCut,
        diameter: Mm(8.0),
        flutes: 2,
        flute_length: Mm(25.0),
        centre_cutting: true,
        pass_depth: Mm(6.0),
        rpm_max: 24_000.0,
        rpm: 18_000.0,
        chip_load: BTreeMap::new(),
        basis: BTreeMap::new(),
    })];
    design.process.outline_cutter = Some(0);
    // 8 + 4 mm instead of 10: they no longer fit beside each other.
    assert_eq!(laid(&design, &parts).sheets.len(), 2);
}

#[test]
fn offcuts_that_stand_first_are_used_first_and_prices_overrule_the_order() {
    let small = sheet(800.0, 600.0, Some(1));
    let large = sheet(2500.0, 1250.0, None);
    let parts = flat(vec![part("A", 700.0, 500.0, 1, PartGrain::Any)]);
    assert_eq!(laid(&design(vec![small.clone(), large.clone()]), &parts).sheets[0].stock, 0);
    assert_eq!(laid(&design(vec![large.clone(), small.clone()]), &parts).sheets[0].stock, 0);
    let priced = |mut s: StockSheet, price| {
        s.price = Some(price);
        s
    };
    let layout = laid(&design(vec![priced(large, 80.0), priced(small, 10.0)]), &parts);
    assert_eq!(layout.sheets[0].stock, 1);
    assert!(layout.bounds[0].proved_best);
}

#[test]
fn the_offcut_is_the_largest_rectangle_clear_of_the_parts() {
    let design = design(vec![sheet(2000.0, 1000.0, None)]);
    let layout = laid(&design, &flat(vec![part("A", 990.0, 990.0, 1, PartGrain::Any)]));
    // The part ends at 995, the gap at 1005.
    assert_eq!(layout.sheets[0].offcut, Some(Rect::new(1005.0, 0.0, 2000.0, 1000.0)));
    assert!((layout.sheets[0].used_ratio - 0.99 * 0.99 / 2.0).abs() < 1e-9);
    let full = laid(&design, &flat(vec![part("A", 1800.0, 800.0, 1, PartGrain::AlongX)]));
    assert_eq!(full.sheets[0].offcut, None);
}

#[test]
fn what_is_left_over_is_gathered_in_one_piece() {
    // Six parts of 500 x 400 with gaps of 10 fill 1530 x 820 at best; the rest of a 2500 x 1250 sheet stays in one piece.
    let design = design(vec![sheet(2500.0, 1250.0, None)]);
    let parts = flat(vec![part("A", 500.0, 400.0, 6, PartGrain::Any)]);
    let checked = lay_out(&design, &parts, &Options::default());
    let layout = checked.value.unwrap();
    let offcut = layout.sheets[0].offcut.unwrap();
    let free = (2500.0 - 1535.0) * 1250.0;
    assert!(offcut.area() >= free * 0.95, "{offcut:?}");
    assert!(layout.bounds[0].proved_best);
}

/// A contour through corners, in mm.
fn through(corners: &[(f64, f64)]) -> Contour {
    let vertices: Vec<Vertex> = corners.iter().map(|&(x, y)| Vertex { x, y, bulge: 0.0 }).collect();
    Contour::new(&vertices).unwrap()
}

#[test]
fn angles_interlock() {
    // Two equal L of 600 x 400 with legs 150 wide: one goes into the other's inner corner. They need
    // 600 + 160 by 400 + 160 on their own, and two rectangles of 600 x 400 would not fit.
    let mut l = part("L", 600.0, 400.0, 2, PartGrain::AlongX);
    l.outline.contour = through(&[(0.0, 0.0), (600.0, 0.0), (600.0, 150.0), (150.0, 150.0), (150.0, 400.0), (0.0, 400.0)]);
    let parts = flat(vec![l, part("S", 100.0, 100.0, 1, PartGrain::Any)]);
    let tight = design(vec![sheet(770.0, 570.0, Some(1))]);
    let layout = laid(&tight, &parts);
    assert_eq!(layout.sheets[0].placements.len(), 3);
}

#[test]
fn round_parts_keep_their_gap_by_their_true_outline() {
    let mut disc = part("D", 300.0, 300.0, 3, PartGrain::Any);
    disc.outline.contour = Contour::circle(Point::new(150.0, 150.0), 150.0).unwrap();
    let parts = flat(vec![disc, part("S", 30.0, 30.0, 8, PartGrain::Any)]);
    laid(&design(vec![sheet(2000.0, 330.0, None)]), &parts);
}

#[test]
fn openings_take_parts_when_that_saves_a_sheet_and_only_when_allowed() {
    let mut ring = part("R", 500.0, 500.0, 1, PartGrain::Any);
    let opening = Contour::rect(Rect::new(100.0, 100.0, 400.0, 400.0)).unwrap().cw();
    ring.cuts.push(cut(Operation::ThroughInside, opening));
    let parts = flat(vec![ring, part("S", 280.0, 280.0, 1, PartGrain::Any)]);
    let mut tight = design(vec![sheet(510.0, 510.0, None)]);
    assert_eq!(laid(&tight, &parts).sheets.len(), 2);
    tight.process.parts_in_openings = true;
    let layout = laid(&tight, &parts);
    assert_eq!(layout.sheets.len(), 1);
    assert_eq!(inside(&layout.sheets[0], &parts.parts), [Some(Inside { host: 1, cut: 0 }), None], "the inner part first");
    // The inner part adds nothing to what the ring takes of the sheet.
    assert!((layout.sheets[0].used_ratio - 500.0 * 500.0 / (510.0 * 510.0)).abs() < 1e-9);
    // One hundredth more and the gap of 10 is lost on one side.
    let more = flat(vec![parts.parts[0].clone(), part("S", 280.01, 280.0, 1, PartGrain::Any)]);
    assert_eq!(laid(&tight, &more).sheets.len(), 2);
    // Where tabs hold the parts a ring of waste stays between the two cuts: 6 + 6 mm for the cutter and 10 mm of wood.
    let mut milled = tight.clone();
    let tabs = HoldDown::Tabs { length: Mm(8.0), height: Mm(4.0), spacing: Mm(300.0) };
    milled.process = routed(&tight, tabs);
    assert_eq!(opening_gap(&milled), Mm(22.0));
    assert_eq!(laid(&milled, &parts).sheets.len(), 2);
    let fits = flat(vec![parts.parts[0].clone(), part("S", 256.0, 256.0, 1, PartGrain::Any)]);
    assert_eq!(laid(&milled, &fits).sheets.len(), 1);
    let over = flat(vec![parts.parts[0].clone(), part("S", 256.0, 256.01, 1, PartGrain::Any)]);
    assert_eq!(laid(&milled, &over).sheets.len(), 2);
    // A skin holds everything; the gap will do.
    milled.process = routed(&tight, HoldDown::Skin { thickness: Mm(0.4) });
    assert_eq!((opening_gap(&milled), laid(&milled, &parts).sheets.len()), (Mm(10.0), 1));
}

/// The same process on a router with a cutter of 6 mm.
fn routed(design: &Design, hold_down: HoldDown) -> ProcessChoice {
    let machine = crate::toolpath::bench::machine(Router { hold_down, ..crate::toolpath::bench::router() }, Unit::Mm);
    let mut process = ProcessChoice { machine: Arc::new(machine), outline_cutter: Some(0), ..design.process.clone() };
    process.cutters = vec![Arc::new(crate::toolpath::bench::cutter("compression", 6.0, CutterKind::UpCut))];
    process
}

/// What fits beside the others stays there, for an opening costs tabs and trouble; but an offcut worth keeping is worth it.
#[test]
fn openings_are_used_only_where_that_saves() {
    let mut ring = part("R", 500.0, 500.0, 1, PartGrain::Any);
    let opening = Contour::rect(Rect::new(100.0, 100.0, 400.0, 400.0)).unwrap().cw();
    ring.cuts.push(cut(Operation::ThroughInside, opening));
    let parts = flat(vec![ring, part("S", 280.0, 280.0, 1, PartGrain::Any)]);
    let in_opening = |length: f64, width: f64| {
        let mut design = design(vec![sheet(length, width, None)]);
        design.process.parts_in_openings = true;
        let layout = laid(&design, &parts);
        assert_eq!(layout.sheets.len(), 1);
        let own = inside(&layout.sheets[0], &parts.parts).iter().flatten().count();
        (own, layout.sheets[0].offcut.map_or(0.0, |o| o.area()))
    };
    // Beside the ring there is room, and what would be left of it is no offcut either way.
    assert_eq!(in_opening(810.0, 510.0), (0, 0.0));
    // Here the ring's neighbour would spoil half a square metre.
    let (own, offcut) = in_opening(1510.0, 510.0);
    assert!(own == 1 && offcut >= 990.0 * 510.0, "{own} {offcut}");
}

/// A sheet with a knot-hole in its middle still takes what goes beside it; the judge sees a part on it.
#[test]
fn defects_of_a_sheet_stay_clear_of_parts() {
    let mut knotty = sheet(1000.0, 600.0, Some(1));
    knotty.defects = vec![[Mm(480.0), Mm(280.0), Mm(40.0), Mm(40.0)]];
    let design = design(vec![knotty, sheet(1000.0, 600.0, None)]);
    // Beside the knot there is room for two of these, above it for none of the others.
    let parts = flat(vec![part("A", 450.0, 500.0, 2, PartGrain::AlongX), part("B", 900.0, 300.0, 1, PartGrain::AlongX)]);
    let layout = laid(&design, &parts);
    assert_eq!(layout.sheets.iter().map(|s| s.stock).collect::<Vec<_>>(), [0, 1]);
    assert!(layout.sheets[0].placements.iter().all(|p| p.part == 0));
    assert!(layout.sheets[0].offcut.is_none_or(|o| o.intersect(Rect::new(480.0, 280.0, 520.0, 320.0)).area() == 0.0));
    let mut moved = layout.clone();
    moved.sheets[0].placements[0].at.x = 200.0;
    assert!(check::layout(&design, &parts, &moved).join("; ").contains("defect"));
    // A part that fits only over the knot has no place on that sheet alone.
    let mut alone = design.clone();
    alone.boards[0].stock.truncate(1);
    assert_eq!(stops(&alone, &flat(vec![part("B", 900.0, 300.0, 1, PartGrain::AlongX)])), ["stock-short"]);
}

/// Two drawer fronts whose grain runs on lie end to end on one sheet, in order, though a larger part would part them.
#[test]
fn mates_lie_beside_each_other_on_one_sheet() {
    let mut design = design(vec![sheet(1200.0, 600.0, None)]);
    let parts = flat(vec![
        part("A", 1100.0, 400.0, 1, PartGrain::AlongX),
        part("B", 500.0, 150.0, 1, PartGrain::AlongX),
        part("C", 300.0, 580.0, 2, PartGrain::AlongX),
        part("D", 150.0, 420.0, 1, PartGrain::AlongY),
    ]);
    design.together = vec![Together { parts: vec!["B".into(), "part D".into()], span: None }];
    let layout = laid(&design, &parts);
    let (s, b) =
        layout.sheets.iter().find_map(|s| Some((s, s.placements.iter().find(|p| p.part == 1)?))).expect("B lies somewhere");
    let d = s.placements.iter().find(|p| p.part == 3).expect("its mate beside it");
    // D is turned by a quarter: its frame's origin is at its lower right corner.
    assert_eq!((d.turn, b.turn), (Turn::Quarter, Turn::None));
    assert!((d.at.x - 420.0 - (b.at.x + 500.0 + 10.0)).abs() < 0.011, "{b:?} {d:?}");
    assert!((d.at.y - b.at.y).abs() < 0.011);
    // The judge sees them apart, and names without parts stop.
    let mut apart = layout.clone();
    let (from, to) = (layout.sheets.iter().position(|x| x.number == s.number).expect("there"), layout.sheets.len());
    let mut other = apart.sheets[from].clone();
    other.placements.retain(|p| p.part == 3);
    apart.sheets[from].placements.retain(|p| p.part != 3);
    apart.sheets.push(other);
    assert!(check::layout(&design, &parts, &apart).join("; ").contains("instead of one"), "{to}");
    design.together[0].parts.push("E".into());
    assert_eq!(stops(&design, &parts), ["mates-apart"]);
    design.together[0].parts = vec!["A".into(), "B".into(), "C".into()];
    assert_eq!(stops(&design, &parts), ["part-over-sheet"]);
}

#[test]
fn the_judge_sees_each_fault() {
    let design = design(vec![sheet(2000.0, 1000.0, Some(1))]);
    let parts = flat(vec![part("A", 500.0, 400.0, 2, PartGrain::AlongX)]);
    let good = laid(&design, &parts);
    let spoiled = |change: &dyn Fn(&mut Layout)| {
        let mut layout = good.clone();
        change(&mut layout);
        check::layout(&design, &parts, &layout).join("; ")
    };
    assert!(spoiled(&|l| l.sheets[0].placements[0].at.x -= 0.01).contains("margin"));
    assert!(spoiled(&|l| l.sheets[0].placements[1].at = l.sheets[0].placements[0].at).contains("closer"));
    assert!(spoiled(&|l| l.sheets[0].placements[0].turn = Turn::Quarter).contains("grain"));
    assert!(spoiled(&|l| l.sheets[0].placements[0].copy = 2).contains("times"));
    assert!(spoiled(&|l| l.sheets[0].placements.truncate(1)).contains("times"));
    assert!(spoiled(&|l| l.sheets.push(l.sheets[0].clone())).contains("out of"));
    let step = good.sheets[0].placements[1].at - good.sheets[0].placements[0].at;
    assert!(spoiled(&|l| l.sheets[0].placements[1].at -= step.normalize() * 0.01).contains("closer"));
}
