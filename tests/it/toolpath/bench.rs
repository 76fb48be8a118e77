//! Hand-made jobs, and the rules every program must keep.

use baywright::design::{BoardId, BoardUse, Design, JointClearance, ProcessChoice, ReliefStyle};
use baywright::dim::Dim;
use baywright::flat::{FlatCut, FlatPart, FlatParts, Operation, PartGrain, Side};
use baywright::geom::{Contour, Point, Point3, Rect, Vertex};
use baywright::nest::{Layout, Placement, Sheet, Turn};
use baywright::parts::{Face, Hand, Purpose};
use baywright::shop::{
    Basis, Board, ChipLoad, Cutter, CutterKind, Dialect, HoldDown, Machine, Material, Process, Router, ZZero,
};
use baywright::toolpath::{plan, Block, Move, Program, SheetSide};
use baywright::units::{Mm, Unit};
use baywright::{diag::Checked, diag::Severity};
use std::collections::BTreeMap;
use std::sync::Arc;

pub(super) const THICK: f64 = 14.8;
pub(super) const THICKEST: f64 = 15.1;

pub(crate) fn cutter(id: &str, diameter: f64, kind: CutterKind) -> Cutter {
    Cutter {
        id: id.into(),
        name: format!("{diameter} mm {id}"),
        kind,
        diameter: Mm(diameter),
        flutes: 2,
        flute_length: Mm(25.0),
        centre_cutting: kind != CutterKind::Drill,
        pass_depth: Mm(diameter),
        rpm_max: 24_000.0,
        rpm: 16_000.0,
        // 1/4 inch in plywood: 0.15 to 0.23 mm (values handed down with the trade checklist, GC7).
        chip_load: BTreeMap::from([(Material::HardwoodPly, ChipLoad { min: Mm(0.05), max: Mm(0.23) })]),
        basis: Basis::new(),
    }
}

pub(super) fn usual_cutters() -> Vec<Cutter> {
    vec![
        cutter("up-cut", 6.35, CutterKind::UpCut),
        cutter("small up-cut", 3.175, CutterKind::UpCut),
        cutter("drill", 5.0, CutterKind::Drill),
        cutter("pin drill", 8.0, CutterKind::Drill),
    ]
}

pub(crate) fn router() -> Router {
    Router {
        cutters: Vec::new(),
        rpm: (8_000.0, 24_000.0),
        z_zero: ZZero::Spoilboard,
        clearance: Mm(5.0),
        overcut: Mm(0.3),
        floor: Mm(1.0),
        part_gap: Mm(8.0),
        sheet_margin: Mm(10.0),
        ramp_angle: 5.0_f64.to_radians(),
        spindle_wait_s: 5.0,
        climb: true,
        hold_down: HoldDown::Tabs { length: Mm(8.0), height: Mm(4.0), spacing: Mm(300.0) },
        dialect: Dialect {
            decimals: 3,
            arcs: true,
            drill_cycles: true,
            line_numbers: Some(10),
            crlf: false,
            percent: true,
            tool_change_in_file: false,
            work_offset: "G54".into(),
            file_ending: "nc".into(),
            first_move_pause: true,
        },
        park: [Mm(0.0), Mm(0.0)],
        habits: baywright::shop::Habits::default(),
    }
}

#[allow(clippy::useless_conversion, reason = "the router may be boxed")]
pub(crate) fn machine(router: Router, units: Unit) -> Machine {
    Machine {
        id: "bench".into(),
        name: "bench router".into(),
        units,
        travel: [Mm(2600.0), Mm(1300.0), Mm(100.0)],
        process: Process::Router(router.into()),
        rapid_mm_min: 10_000.0,
        feed_max_mm_min: 6_000.0,
        accel_mm_s2: 500.0,
        basis: Basis::new(),
    }
}

pub(super) fn design(router: Router, cutters: Vec<Cutter>, units: Unit) -> Design {
    let board = Board {
        id: "ply".into(),
        name: "birch plywood".into(),
        material: Material::HardwoodPly,
        nominal: Mm(15.0),
        thickness_min: Mm(14.5),
        thickness_max: Mm(15.2),
        within_sheet: Mm(0.3),
        density_kg_m3: 680.0,
        e_along: 9_000.0,
        e_across: 6_000.0,
        has_grain: true,
        sheets: Vec::new(),
        basis: Basis::new(),
    };
    Design {
        title: "bench".into(),
        units,
        vehicle: None,
        prices: None,
        bay: None,
        boards: vec![BoardUse {
            name: "carcass".into(),
            profile: Arc::new(board),
            thickness: Dim::zero(),
            readings: Vec::new(),
            stock: Vec::new(),
            span: None,
        }],
        process: ProcessChoice {
            machine: Arc::new(machine(router, units)),
            cutters: cutters.into_iter().map(Arc::new).collect(),
            outline_cutter: Some(0),
            joint_clearance: JointClearance { glued: Dim::zero(), finger: Dim::zero(), loose: Dim::zero(), press: None },
            relief: ReliefStyle::Diagonal,
            relief_extra: Mm(0.1),
            min_web: Mm(6.0),
            part_gap: Mm(8.0),
            sheet_margin: Mm(10.0),
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

pub(super) fn rect(x: f64, y: f64, w: f64, h: f64) -> Contour {
    Contour::rect(Rect::new(x, y, x + w, y + h)).unwrap()
}

/// Round-ended slot along x: centres of its ends at `(x, y)` and `(x + l, y)`.
pub(super) fn slot(x: f64, y: f64, l: f64, w: f64) -> Contour {
    let v = |x, y, bulge| Vertex { x, y, bulge };
    let r = w / 2.0;
    Contour::new(&[v(x, y - r, 0.0), v(x + l, y - r, 1.0), v(x + l, y + r, 0.0), v(x, y + r, 1.0)]).unwrap().cw()
}

pub(super) fn cut(operation: Operation, contour: Contour, feature: &str) -> FlatCut {
    FlatCut {
        operation,
        side: Side::Up,
        contour,
        islands: Vec::new(),
        purpose: Purpose::Own,
        feature: feature.into(),
        seats: None,
        span: None,
    }
}

pub(super) fn opening(contour: Contour, feature: &str) -> FlatCut {
    cut(Operation::ThroughInside, contour.cw(), feature)
}

pub(super) fn pocket(contour: Contour, depth: f64, feature: &str) -> FlatCut {
    cut(Operation::Pocket { depth: Mm(depth) }, contour.cw(), feature)
}

pub(super) fn hole(x: f64, y: f64, d: f64, depth: Option<f64>, feature: &str) -> FlatCut {
    let at = Point::new(x, y);
    let operation = Operation::Drill { at, diameter: Mm(d), depth: depth.map(Mm) };
    cut(operation, Contour::circle(at, d / 2.0).unwrap().cw(), feature)
}

pub(super) fn down(mut c: FlatCut) -> FlatCut {
    c.side = Side::Down;
    c
}

pub(super) fn part(id: &str, outline: Contour, cuts: Vec<FlatCut>) -> FlatPart {
    let b = outline.bounds();
    FlatPart {
        id: id.into(),
        name: id.into(),
        unit: "bench".into(),
        hand: Hand::None,
        board: BoardId(0),
        thickness_max: Mm(THICKEST),
        thickness: Mm(THICK),
        panels: Vec::new(),
        face_up: Face::A,
        grain: PartGrain::Any,
        length: Mm(b.width()),
        width: Mm(b.height()),
        outline: cut(Operation::ThroughOutside, outline.ccw(), "outline"),
        cuts,
        keep_clean: Vec::new(),
        mass_kg: 1.0,
        span: None,
    }
}

pub(super) struct Job {
    pub(super) design: Design,
    pub(super) parts: FlatParts,
    pub(super) layout: Layout,
}

impl Job {
    /// One sheet of 2440 by 1220 with these parts, each at a place.
    pub(super) fn new(router: Router, cutters: Vec<Cutter>, laid: Vec<(FlatPart, Turn, [f64; 2])>) -> Self {
        let placements = laid
            .iter()
            .enumerate()
            .map(|(part, (_, turn, at))| Placement { part, copy: 1, turn: *turn, at: Point::new(at[0], at[1]) })
            .collect();
        let sheet = Sheet {
            board: BoardId(0),
            number: 1,
            stock: 0,
            length: Mm(2440.0),
            width: Mm(1220.0),
            placements,
            offcut: None,
            used_ratio: 0.5,
        };
        Self {
            design: design(router, cutters, Unit::Mm),
            parts: FlatParts { parts: laid.into_iter().map(|l| l.0).collect() },
            layout: Layout { sheets: vec![sheet], bounds: Vec::new() },
        }
    }

    pub(super) fn usual(laid: Vec<(FlatPart, Turn, [f64; 2])>) -> Self {
        Self::new(router(), usual_cutters(), laid)
    }

    pub(super) fn one(p: FlatPart) -> Self {
        Self::usual(vec![(p, Turn::None, [40.0, 40.0])])
    }

    pub(super) fn plan(&self) -> Checked<Vec<Program>> {
        plan(&self.design, &self.parts, &self.layout)
    }

    /// The programs, when nothing stops them; the rules are checked.
    pub(super) fn sound(&self) -> Vec<Program> {
        let checked = self.plan();
        let stops: Vec<_> = checked.findings.iter().filter(|f| f.severity == Severity::Stop).collect();
        assert!(stops.is_empty(), "{stops:?}");
        let programs = checked.value.unwrap();
        self.rules(&programs);
        programs
    }

    /// A contour of a placed part in the frame of a side of the sheet.
    pub(super) fn laid(&self, placement: usize, c: &Contour, side: SheetSide) -> Contour {
        let sheet = &self.layout.sheets[0];
        let p = sheet.placements[placement];
        let c = c.quarter_turned(p.turn.degrees() / 90).moved(p.at.to_vec2());
        match side {
            SheetSide::First => c,
            SheetSide::Second => {
                let vertices: Vec<Vertex> =
                    c.vertices().iter().map(|v| Vertex { x: v.x, y: sheet.width.0 - v.y, bulge: -v.bulge }).collect();
                Contour::new(&vertices).unwrap()
            }
        }
    }

    /// Rules that hold for every program.
    pub(super) fn rules(&self, programs: &[Program]) {
        let Process::Router(router) = &self.design.process.machine.process else { panic!() };
        for p in programs {
            let radius = p.cutter.diameter.0 / 2.0;
            let outlines: Vec<Contour> = (0..self.layout.sheets[0].placements.len())
                .map(|i| self.laid(i, &self.parts.parts[self.layout.sheets[0].placements[i].part].outline.contour, p.side))
                .collect();
            for block in &p.blocks {
                let here = Point3::new(block.start.x, block.start.y, p.clearance.0);
                let steps = steps(here, block);
                assert!((steps.last().map_or(here.z, |s| s.1.z) - p.clearance.0).abs() < 1e-9, "{} ends up", block.label);
                for (from, to, m) in steps {
                    match m {
                        Move::Rapid { .. } => {
                            let sideways = (from.x - to.x).hypot(from.y - to.y) > 1e-9;
                            assert!(
                                !sideways || from.z.min(to.z) >= p.clearance.0 - 1e-9,
                                "{}: rapid below clearance",
                                block.label
                            );
                            assert!(to.z >= from.z - 1e-9, "{}: rapid down", block.label);
                        }
                        Move::Drill { bottom, .. } => {
                            assert!(bottom.0 >= -router.floor.0 - 1e-9);
                        }
                        Move::Line { feed, .. } | Move::Arc { feed, .. } => {
                            assert!(feed > 0.0 && feed <= self.design.process.machine.feed_max_mm_min + 1e-9);
                            assert!(to.z >= -router.floor.0 - 1e-9, "{}: below the floor", block.label);
                            if from.z.min(to.z) < THICKEST {
                                self.keeps_off(block, &outlines, radius, from, to, m);
                            }
                        }
                    }
                    if let Move::Arc { centre, ccw, .. } = m {
                        let (a, b) = (Point::new(from.x, from.y) - centre, Point::new(to.x, to.y) - centre);
                        assert!((a.hypot() - b.hypot()).abs() < 1e-6, "{}: radii {} {}", block.label, a.hypot(), b.hypot());
                        let side = if ccw { 1.0 } else { -1.0 };
                        let sweep = (side * a.cross(b)).atan2(a.dot(b)).rem_euclid(std::f64::consts::TAU);
                        assert!(sweep <= std::f64::consts::PI + 1e-6, "{}: turns {sweep}", block.label);
                    }
                }
            }
        }
        self.outlines_last(programs);
    }

    /// The tool centre stays its radius away from every finished outline, outside all but the part it works inside of.
    fn keeps_off(&self, block: &Block, outlines: &[Contour], radius: f64, from: Point3, to: Point3, m: Move) {
        let open = block.feature.contains("open");
        for p in along(from, to, m) {
            for (i, outline) in outlines.iter().enumerate() {
                let own = block.placement == Some(i);
                if own && block.feature != "outline" {
                    if !open {
                        assert!(outline.contains(p), "{} leaves its part at {p:?}", block.label);
                    }
                } else {
                    assert!(!outline.contains(p), "{} is inside part {i} at {p:?}", block.label);
                }
                if !(own && open) {
                    let d = outline.distance_to(p);
                    assert!(d >= radius - 1e-3, "{}: {d} from outline {i} at {p:?}, radius {radius}", block.label);
                }
            }
            if let (Some(i), false) = (block.placement, block.feature == "outline") {
                let part = &self.parts.parts[self.layout.sheets[0].placements[i].part];
                let cut = part.cuts.iter().find(|c| c.feature == block.feature).unwrap();
                if !open && !matches!(cut.operation, Operation::Countersink { .. }) {
                    let side = if (self.laid(i, &part.outline.contour, SheetSide::First).distance_to(p)
                        - outlines[i].distance_to(p))
                    .abs()
                        < 1e-6
                    {
                        SheetSide::First
                    } else {
                        SheetSide::Second
                    };
                    let edge = self.laid(i, &cut.contour, side);
                    for c in std::iter::once(edge).chain(cut.islands.iter().map(|c| self.laid(i, c, side))) {
                        let d = c.distance_to(p);
                        assert!(d >= radius - 1e-3, "{}: {d} from its edge at {p:?}, radius {radius}", block.label);
                    }
                }
            }
        }
    }

    /// In order of running, an outline is the last thing done to its part, and every cut of every part has a block.
    fn outlines_last(&self, programs: &[Program]) {
        let blocks: Vec<&Block> = programs.iter().flat_map(|p| &p.blocks).collect();
        for (i, placement) in self.layout.sheets[0].placements.iter().enumerate() {
            let of: Vec<&&Block> = blocks.iter().filter(|b| b.placement == Some(i)).collect();
            assert_eq!(of.last().map(|b| b.feature.as_str()), Some("outline"), "part {i}");
            for cut in &self.parts.parts[placement.part].cuts {
                if cut.operation != Operation::Mark {
                    assert!(of.iter().any(|b| b.feature == cut.feature), "{} of part {i} is not cut", cut.feature);
                }
            }
        }
        let orders: Vec<u32> = programs.iter().map(|p| p.order).collect();
        assert_eq!(orders, (1..=programs.len() as u32).collect::<Vec<_>>());
    }
}

/// From, to and the move, for each move of a block.
pub(super) fn steps(start: Point3, block: &Block) -> Vec<(Point3, Point3, Move)> {
    let mut here = start;
    block
        .moves
        .iter()
        .map(|m| {
            let from = here;
            here = match *m {
                Move::Rapid { to } | Move::Line { to, .. } | Move::Arc { to, .. } => to,
                Move::Drill { retract, .. } => Point3 { z: retract.0, ..here },
            };
            (from, here, *m)
        })
        .collect()
}

/// Points along a cutting move.
pub(super) fn along(from: Point3, to: Point3, m: Move) -> Vec<Point> {
    let (a, b) = (Point::new(from.x, from.y), Point::new(to.x, to.y));
    let far = (b - a).hypot();
    // An arc in steps of at most a twentieth of a radian.
    let pieces = if let Move::Arc { .. } = m { 64.0 } else { (far / 1.5).ceil().max(4.0) };
    (0..=pieces as u32)
        .map(|i| f64::from(i) / pieces)
        .map(|t| match m {
            Move::Arc { centre, ccw, .. } => {
                let (u, v) = (a - centre, b - centre);
                let side = if ccw { 1.0 } else { -1.0 };
                let sweep = (side * u.cross(v)).atan2(u.dot(v)).rem_euclid(std::f64::consts::TAU);
                let (sin, cos) = (side * sweep * t).sin_cos();
                centre + baywright::geom::Vec2::new(u.x * cos - u.y * sin, u.x * sin + u.y * cos)
            }
            _ => a + (b - a) * t,
        })
        .collect()
}

pub(super) fn block<'a>(programs: &'a [Program], feature: &str) -> (&'a Program, &'a Block) {
    let found = programs.iter().find_map(|p| p.blocks.iter().find(|b| b.feature == feature).map(|b| (p, b)));
    found.unwrap_or_else(|| panic!("no block {feature}"))
}
