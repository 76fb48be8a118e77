//! A small shop and panels built by hand.

use baywright::design::{BoardId, BoardUse, Design, JointClearance, ProcessChoice, ReliefStyle};
use baywright::diag::{Checked, Code, Severity};
use baywright::dim::Dim;
use baywright::flat::{flatten, FlatPart, FlatParts};
use baywright::geom::{Contour, Region};
use baywright::parts::{Depth, Face, Feature, FeatureKind, Grain, Hand, Model, Panel, PanelId, Purpose};
use baywright::shop::{Board, Cutter, CutterKind, Dialect, HoldDown, Laser, Machine, Material, Process, Router, ZZero};
use baywright::units::{Mm, Unit};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Density of the test board, kg/m³: birch plywood 680 (common practice, no source).
pub(super) const DENSITY: f64 = 680.0;
/// Clearance of glued joints in the test design, mm.
pub(super) const GLUED: f64 = 0.15;
/// Clearance of fingers in the test design, mm.
pub(super) const FINGER: f64 = 0.1;

pub(super) fn d(mm: f64) -> Dim {
    Dim::number(Mm(mm), "test")
}

fn cutter(kind: CutterKind, diameter: f64) -> Arc<Cutter> {
    Arc::new(Cutter {
        id: format!("c{diameter}"),
        name: format!("{diameter} mm"),
        kind,
        diameter: Mm(diameter),
        flutes: 2,
        flute_length: Mm(25.0),
        centre_cutting: true,
        pass_depth: Mm(6.0),
        rpm_max: 24000.0,
        rpm: 16000.0,
        chip_load: BTreeMap::new(),
        basis: BTreeMap::new(),
    })
}

fn machine(process: Process) -> Arc<Machine> {
    Arc::new(Machine {
        id: "m".into(),
        name: "test machine".into(),
        units: Unit::Mm,
        travel: [Mm(2500.0), Mm(1250.0), Mm(120.0)],
        process,
        rapid_mm_min: 5000.0,
        feed_max_mm_min: 3000.0,
        accel_mm_s2: 300.0,
        basis: BTreeMap::new(),
    })
}

fn router() -> Process {
    Process::Router(Box::new(Router {
        cutters: Vec::new(),
        rpm: (8000.0, 24000.0),
        z_zero: ZZero::Spoilboard,
        clearance: Mm(10.0),
        overcut: Mm(0.3),
        floor: Mm(1.0),
        part_gap: Mm(10.0),
        sheet_margin: Mm(5.0),
        ramp_angle: 0.09,
        spindle_wait_s: 5.0,
        climb: true,
        hold_down: HoldDown::Skin { thickness: Mm(0.4) },
        dialect: Dialect {
            decimals: 4,
            arcs: true,
            drill_cycles: true,
            line_numbers: None,
            crlf: false,
            percent: false,
            tool_change_in_file: false,
            work_offset: "G54".into(),
            file_ending: "nc".into(),
            first_move_pause: true,
        },
        park: [Mm::ZERO, Mm::ZERO],
        habits: baywright::shop::Habits::default(),
    }))
}

/// One board and a router with the given cutters (the first cuts outlines) and drills.
pub(super) fn design(cutters: &[f64], drills: &[f64]) -> Design {
    let board = Arc::new(Board {
        id: "b".into(),
        name: "test ply".into(),
        material: Material::HardwoodPly,
        nominal: Mm(18.0),
        thickness_min: Mm(17.1),
        thickness_max: Mm(18.7),
        within_sheet: Mm(0.6),
        density_kg_m3: DENSITY,
        e_along: 9000.0,
        e_across: 6000.0,
        has_grain: true,
        sheets: Vec::new(),
        basis: BTreeMap::new(),
    });
    let all =
        cutters.iter().map(|c| cutter(CutterKind::UpCut, *c)).chain(drills.iter().map(|c| cutter(CutterKind::Drill, *c)));
    Design {
        title: "test".into(),
        units: Unit::Mm,
        vehicle: None,
        prices: None,
        bay: None,
        boards: vec![BoardUse {
            name: "carcass".into(),
            profile: board,
            thickness: d(18.0),
            readings: Vec::new(),
            stock: Vec::new(),
            span: None,
        }],
        process: ProcessChoice {
            machine: machine(router()),
            cutters: all.collect(),
            outline_cutter: (!cutters.is_empty()).then_some(0),
            joint_clearance: JointClearance { glued: d(GLUED), finger: d(FINGER), loose: d(0.5), press: None },
            relief: ReliefStyle::Diagonal,
            relief_extra: Mm(0.25),
            min_web: Mm(6.0),
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

pub(super) fn laser() -> Design {
    let mut design = design(&[], &[]);
    design.process.machine = machine(Process::Laser(Laser { kerf: Mm(0.2), compensate: false, lines: Box::default() }));
    design
}

/// A 6 mm cutter and 3 and 5 mm drills.
pub(super) fn usual() -> Design {
    design(&[6.0], &[3.0, 5.0])
}

pub(super) fn panel(id: &str, length: f64, width: f64, features: Vec<Feature>) -> Panel {
    Panel {
        id: id.into(),
        name: format!("panel {id}"),
        unit: "unit".into(),
        hand: Hand::None,
        board: BoardId(0),
        length: d(length),
        width: d(width),
        thickness: d(18.0),
        frame: None,
        grain: Grain::AlongU,
        outline: None,
        features,
        edges: Vec::new(),
        span: None,
    }
}

pub(super) fn feature(id: &str, kind: FeatureKind, depth: Depth, purpose: Purpose) -> Feature {
    Feature { id: id.into(), kind, depth, purpose, mate: None, span: None }
}

pub(super) fn blind(face: Face, depth: f64) -> Depth {
    Depth::Blind(face, d(depth))
}

/// x, y, length, height.
pub(super) fn notch(id: &str, [x, y, l, h]: [f64; 4]) -> Feature {
    let kind = FeatureKind::EdgeNotch { at: [d(x), d(y)], size: [d(l), d(h)], radius: None };
    feature(id, kind, Depth::Through, Purpose::Joint)
}

pub(super) fn rectangle(id: &str, [x, y, l, h]: [f64; 4], radius: Option<f64>, depth: Depth) -> Feature {
    let kind = FeatureKind::Rectangle { at: [d(x), d(y)], size: [d(l), d(h)], radius: radius.map(d) };
    feature(id, kind, depth, Purpose::Own)
}

pub(super) fn groove(id: &str, [x, y, l, h]: [f64; 4], face: Face, depth: f64) -> Feature {
    let kind = FeatureKind::Groove { at: [d(x), d(y)], size: [d(l), d(h)] };
    feature(id, kind, blind(face, depth), Purpose::Joint)
}

pub(super) fn hole(id: &str, x: f64, y: f64, diameter: f64, depth: Depth) -> Feature {
    feature(id, FeatureKind::Hole { at: [d(x), d(y)], diameter: d(diameter) }, depth, Purpose::Own)
}

pub(super) fn slot(id: &str, from: [f64; 2], to: [f64; 2], width: f64) -> Feature {
    let kind = FeatureKind::Slot { from: from.map(d), to: to.map(d), width: d(width) };
    feature(id, kind, Depth::Through, Purpose::Stop)
}

pub(super) fn model(panels: Vec<Panel>) -> Model {
    Model { panels, ..Model::default() }
}

pub(super) fn run(design: &Design, panels: Vec<Panel>) -> Checked<FlatParts> {
    flatten(design, &model(panels))
}

/// The only part of a panel with these features, which must give no finding at all.
pub(super) fn clean(design: &Design, panel: Panel) -> FlatPart {
    let checked = run(design, vec![panel]);
    assert!(checked.findings.is_empty(), "{:?}", checked.findings);
    checked.value.expect("a value").parts.remove(0)
}

/// The only part, whatever was found.
pub(super) fn part(design: &Design, panel: Panel) -> FlatPart {
    run(design, vec![panel]).value.expect("a value").parts.remove(0)
}

/// Findings of a 400 x 200 panel with these features, as code and severity.
pub(super) fn found(design: &Design, features: Vec<Feature>) -> Vec<(Code, Severity)> {
    run(design, vec![panel("P", 400.0, 200.0, features)]).findings.iter().map(|f| (f.code, f.severity)).collect()
}

/// A mate for panel 0's first feature: panel 1, of this thickness.
pub(super) fn mated(mut host: Panel, thickness: f64) -> Vec<Panel> {
    for feature in &mut host.features {
        feature.mate = Some(PanelId(1));
    }
    let mut mate = panel("Z-mate", 300.0, 300.0, Vec::new());
    mate.thickness = d(thickness);
    vec![host, mate]
}

pub(super) fn area(regions: &[Region]) -> f64 {
    regions.iter().map(Region::area).sum()
}

/// Area of `shape` outside `cut` in mm².
pub(super) fn outside(shape: &Contour, cut: &Contour) -> f64 {
    area(&shape.minus(cut).expect("difference"))
}

#[track_caller]
pub(super) fn close(a: f64, b: f64, tolerance: f64) {
    assert!((a - b).abs() <= tolerance, "{a} is not {b} within {tolerance}");
}
