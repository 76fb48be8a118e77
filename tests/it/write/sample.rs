//! A small job made by hand: a river-survey van's chest of three different parts on two boards.

use super::settled::{cutter, design};
use baywright::design::{BoardId, Design};
use baywright::diag::{Code, Finding, Texts};
use baywright::dim::{Dim, Range};
use baywright::fit::{Ledger, LedgerLine, Verdict};
use baywright::flat::{FlatCut, FlatPart, FlatParts, Operation, PartGrain, Seat, Side};
use baywright::geom::{Contour, Point, Point3, Rect, Vertex};
use baywright::nest::{Layout, Placement, Sheet, Turn};
use baywright::parts::{EdgeNote, Face, Grain, Hand, Hardware, Model, Panel, PanelEdge, PanelId, Purpose};
use baywright::shop::{Laser, Process};
use baywright::toolpath::{self, BeamSheet, Block, Move, Program, SheetSide};
use baywright::units::{Mm, Unit};
use baywright::write::{Files, Job};
use std::sync::Arc;

/// A job that owns what `Job` borrows.
pub(super) struct Sample {
    pub(super) design: Design,
    pub(super) model: Model,
    pub(super) ledger: Ledger,
    pub(super) parts: FlatParts,
    pub(super) layout: Layout,
    pub(super) programs: Vec<Program>,
    pub(super) beams: Vec<BeamSheet>,
    pub(super) findings: Vec<Finding>,
    pub(super) texts: Texts,
}

impl Sample {
    pub(super) fn job(&self) -> Job<'_> {
        Job {
            design: &self.design,
            model: &self.model,
            ledger: &self.ledger,
            parts: &self.parts,
            layout: &self.layout,
            programs: &self.programs,
            beams: &self.beams,
            findings: &self.findings,
            texts: &self.texts,
        }
    }

    pub(super) fn pack(&self) -> Files {
        baywright::write::pack(&self.job())
    }

    /// The same job for a machine that counts in inches.
    pub(super) fn in_inches(mut self) -> Self {
        let mut machine = (*self.design.process.machine).clone();
        machine.units = Unit::Inch;
        self.design.process.machine = Arc::new(machine);
        self
    }

    /// The same job for a laser.
    pub(super) fn on_a_laser(mut self) -> Self {
        let mut machine = (*self.design.process.machine).clone();
        machine.process = Process::Laser(Laser { kerf: Mm(0.2), compensate: false, lines: Box::default() });
        self.design.process.machine = Arc::new(machine);
        self.programs.clear();
        // What is blind is only marked, as the flat stage has it.
        for cut in self.parts.parts.iter_mut().flat_map(|p| &mut p.cuts) {
            let through = matches!(cut.operation, Operation::ThroughInside | Operation::Drill { depth: None, .. });
            if !through {
                cut.operation = Operation::Mark;
                cut.side = Side::Up;
                cut.islands.clear();
            }
        }
        self.beams = toolpath::beams(&self.design, &self.parts, &self.layout).value.expect("lines for the beam");
        self
    }
}

pub(super) fn number(mm: f64) -> Dim {
    Dim::number(Mm(mm), "test")
}

fn rect(x: f64, y: f64, w: f64, h: f64) -> Contour {
    Contour::rect(Rect::new(x, y, x + w, y + h)).unwrap()
}

fn contour(vertices: &[[f64; 3]]) -> Contour {
    let vertices: Vec<Vertex> = vertices.iter().map(|[x, y, bulge]| Vertex { x: *x, y: *y, bulge: *bulge }).collect();
    Contour::new(&vertices).unwrap()
}

/// A rectangle with round corners, clockwise.
fn round_cornered(x: f64, y: f64, w: f64, h: f64, r: f64) -> Contour {
    let b = std::f64::consts::FRAC_PI_8.tan();
    let (x1, y1) = (x + w, y + h);
    contour(&[
        [x + r, y, 0.0],
        [x1 - r, y, b],
        [x1, y + r, 0.0],
        [x1, y1 - r, b],
        [x1 - r, y1, 0.0],
        [x + r, y1, b],
        [x, y1 - r, 0.0],
        [x, y + r, b],
    ])
    .cw()
}

fn cut(feature: &str, operation: Operation, contour: Contour) -> FlatCut {
    FlatCut {
        operation,
        side: Side::Up,
        contour,
        islands: Vec::new(),
        purpose: Purpose::Own,
        feature: feature.to_owned(),
        seats: None,
        span: None,
    }
}

fn drill(feature: &str, x: f64, y: f64, diameter: f64, depth: Option<f64>) -> FlatCut {
    let at = Point::new(x, y);
    let operation = Operation::Drill { at, diameter: Mm(diameter), depth: depth.map(Mm) };
    cut(feature, operation, Contour::circle(at, diameter / 2.0).unwrap().cw())
}

fn part(id: &str, name: &str, panels: &[usize], grain: PartGrain, outline: Contour, cuts: Vec<FlatCut>) -> FlatPart {
    let bounds = outline.bounds();
    FlatPart {
        id: id.to_owned(),
        name: name.to_owned(),
        unit: name.split(' ').next().unwrap().to_owned(),
        hand: Hand::None,
        board: BoardId(0),
        thickness_max: Mm(14.9),
        thickness: Mm(14.8),
        panels: panels.iter().map(|i| PanelId(*i)).collect(),
        face_up: Face::A,
        grain,
        length: Mm(bounds.width()),
        width: Mm(bounds.height()),
        outline: cut("outline", Operation::ThroughOutside, outline.ccw()),
        cuts,
        keep_clean: Vec::new(),
        mass_kg: bounds.area() * 14.8 * 680e-9,
        span: None,
    }
}

/// Two fingers along the right edge, with a half-round grip in the upper edge.
fn upright_outline() -> Contour {
    contour(&[
        [0.0, 0.0, 0.0],
        [600.0, 0.0, 0.0],
        [600.0, 60.0, 0.0],
        [585.2, 60.0, 0.0],
        [585.2, 120.0, 0.0],
        [600.0, 120.0, 0.0],
        [600.0, 232.0, 0.0],
        [345.0, 232.0, -1.0],
        [255.0, 232.0, 0.0],
        [0.0, 232.0, 0.0],
    ])
}

fn parts() -> FlatParts {
    let mut dado = cut("back dado", Operation::Pocket { depth: Mm(6.0) }, rect(20.0, -4.0, 15.05, 240.0).cw());
    dado.purpose = Purpose::Joint;
    dado.seats = Some(Seat { shape: rect(20.1, -4.0, 14.8, 240.0), mate: "LO-1-004".to_owned() });
    let mut strike = cut("strike", Operation::Pocket { depth: Mm(8.5) }, rect(420.0, 40.0, 80.0, 60.0).cw());
    strike.islands.push(rect(445.0, 60.0, 20.0, 20.0).ccw());
    let mut under = drill("under pilot", 120.0, 180.0, 2.5, Some(10.0));
    under.side = Side::Down;
    let at = Point::new(560.0, 150.0);
    let sink = Operation::Countersink { at, diameter: Mm(8.0) };
    let upright = vec![
        dado,
        strike,
        drill("slide hole 1", 80.0, 60.0, 5.0, None),
        drill("slide hole 2", 112.0, 60.0, 5.0, Some(12.0)),
        under,
        cut("head", sink, Contour::circle(at, 4.0).unwrap().cw()),
        drill("screw", 560.0, 150.0, 4.5, None),
        cut("front mark", Operation::Mark, rect(200.0, 100.0, 20.0, 8.0)),
    ];
    let front = vec![
        cut("latch", Operation::ThroughInside, round_cornered(200.0, 60.0, 90.0, 45.0, 6.0)),
        drill("latch bolt 1", 190.0, 82.5, 6.6, None),
        drill("latch bolt 2", 300.0, 82.5, 6.6, None),
    ];
    let disc = contour(&[[0.0, 60.0, 1.0], [120.0, 60.0, 1.0]]);
    let mut list = vec![
        part("LO-1-001", "lower upright", &[0, 1], PartGrain::AlongX, upright_outline(), upright),
        part("LO-1-002-L", "lower drawer front", &[2], PartGrain::AlongY, rect(0.0, 0.0, 490.0, 165.0), front),
        part("TB-1-001", "table disc", &[3, 4, 5], PartGrain::Any, disc, Vec::new()),
    ];
    list[1].hand = Hand::Left;
    FlatParts { parts: list }
}

fn panel(id: &str, name: &str) -> Panel {
    Panel {
        id: id.to_owned(),
        name: name.to_owned(),
        unit: "lower".to_owned(),
        hand: Hand::None,
        board: BoardId(0),
        length: number(600.0),
        width: number(232.0),
        thickness: number(14.8),
        frame: None,
        grain: Grain::AlongU,
        outline: None,
        features: Vec::new(),
        edges: Vec::new(),
        span: None,
    }
}

fn model() -> Model {
    let names = ["LO-1-001", "LO-1-001b", "LO-1-002-L", "TB-1-001", "TB-1-002", "TB-1-003"];
    let mut panels: Vec<Panel> = names.iter().map(|id| panel(id, "panel, \"quoted\"")).collect();
    panels[0].edges.push(EdgeNote {
        edge: PanelEdge::Right,
        joint: "finger".to_owned(),
        mate: PanelId(2),
        screws: Vec::new(),
    });
    let screw = |place: &str, quantity| Hardware {
        profile: "screw-4.0".to_owned(),
        name: "countersunk screw 4.0 x 40".to_owned(),
        quantity,
        unit: "lower".to_owned(),
        place: place.to_owned(),
        mass_kg: Some(0.003),
    };
    let hardware = vec![screw("base, to left upright", 6), screw("back", 4), screw("back", 5)];
    Model { panels, hardware, ..Model::default() }
}

fn layout() -> Layout {
    let place = |part, copy, turn, x, y| Placement { part, copy, turn, at: Point::new(x, y) };
    let sheet = |number, placements, offcut| Sheet {
        board: BoardId(0),
        number,
        stock: 0,
        length: Mm(1500.0),
        width: Mm(700.0),
        placements,
        offcut,
        used_ratio: 0.4,
    };
    let first = vec![
        place(0, 1, Turn::None, 10.0, 10.0),
        place(0, 2, Turn::Half, 610.0, 490.0),
        place(1, 1, Turn::Quarter, 800.0, 10.0),
        place(2, 1, Turn::None, 640.0, 520.0),
        place(2, 2, Turn::ThreeQuarter, 820.0, 140.0),
    ];
    let offcut = Some(Rect::new(960.0, 10.0, 1490.0, 690.0));
    let sheets = vec![sheet(1, first, offcut), sheet(2, vec![place(2, 3, Turn::None, 10.0, 10.0)], None)];
    Layout { sheets, ..Layout::default() }
}

fn programs() -> Vec<Program> {
    let p = Point3::new;
    vec![Program {
        board: BoardId(0),
        sheet: 0,
        side: SheetSide::First,
        order: 1,
        cutter: Arc::new(cutter()),
        rpm: 18_000.0,
        thickness: Mm(14.8),
        clearance: Mm(20.0),
        blocks: vec![Block {
            placement: Some(3),
            feature: "outline".to_owned(),
            label: "TB-1-001 1 outline".to_owned(),
            work: baywright::toolpath::Work::Outlines,
            restart: None,
            tabs: None,
            start: Point::new(637.0, 580.0),
            moves: vec![
                Move::Line { to: p(637.0, 580.0, -0.3), feed: 600.0 },
                Move::Arc { to: p(763.0, 580.0, -0.3), centre: Point::new(700.0, 580.0), ccw: false, feed: 2500.0 },
                Move::Arc { to: p(637.0, 580.0, -0.3), centre: Point::new(700.0, 580.0), ccw: false, feed: 2500.0 },
                Move::Rapid { to: p(637.0, 580.0, 20.0) },
            ],
        }],
        run_s: 61.25,
        times: Vec::new(),
        set_up: baywright::toolpath::SetUp::only(),
        trace: None,
    }]
}

/// A gap with no upper limit: the place where an infinite number could slip into a file.
fn ledger() -> Ledger {
    Ledger {
        lines: vec![LedgerLine {
            gap: "lower.left drawer: over the box".to_owned(),
            nominal: Mm(5.0),
            worst: Range { min: Mm(3.9), max: Mm(6.1) },
            likely: Range { min: Mm(4.4), max: Mm(5.6) },
            required: Range { min: Mm(3.0), max: Mm(f64::INFINITY) },
            source: "common practice, no source".to_owned(),
            verdict: Verdict::Fits,
            contributors: Vec::new(),
        }],
    }
}

pub(super) fn sample() -> Sample {
    let mut texts = Texts::default();
    let file = texts.add("van.toml", "format = 1\ntitle = \"x\"\n");
    let span = baywright::diag::Span { file, start: 11, end: 16 };
    let code = Code::new("test-finding", "A finding of the tests.");
    Sample {
        design: design(),
        model: model(),
        ledger: ledger(),
        parts: parts(),
        layout: layout(),
        programs: programs(),
        beams: Vec::new(),
        findings: vec![Finding::caution(code, "something").at(span)],
        texts,
    }
}
