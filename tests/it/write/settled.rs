//! The settled design of the sample: one board, one router, one cutter.

use super::sample::number;
use baywright::design::{BoardUse, Design, JointClearance, ProcessChoice, ReliefStyle, StockSheet};
use baywright::shop::{
    Basis, Board, Cutter, CutterKind, Dialect, HoldDown, Machine, Material, Process, Router, SheetSize, ZZero,
};
use baywright::units::{Mm, Unit};
use std::collections::BTreeMap;
use std::sync::Arc;

fn board() -> Board {
    let size = SheetSize { length: Mm(1500.0), width: Mm(700.0) };
    Board {
        id: "birch-ply-15".to_owned(),
        name: "birch plywood 15".to_owned(),
        material: Material::HardwoodPly,
        nominal: Mm(15.0),
        thickness_min: Mm(14.3),
        thickness_max: Mm(15.3),
        within_sheet: Mm(0.3),
        density_kg_m3: 680.0,
        e_along: 8000.0,
        e_across: 6000.0,
        has_grain: true,
        sheets: vec![size],
        basis: Basis::new(),
    }
}

pub(super) fn cutter() -> Cutter {
    Cutter {
        id: "up-cut 6".to_owned(),
        name: "6 mm up-cut".to_owned(),
        kind: CutterKind::UpCut,
        diameter: Mm(6.0),
        flutes: 2,
        flute_length: Mm(25.0),
        centre_cutting: true,
        pass_depth: Mm(6.0),
        rpm_max: 24_000.0,
        rpm: 18_000.0,
        chip_load: BTreeMap::new(),
        basis: Basis::new(),
    }
}

fn router() -> Router {
    Router {
        cutters: vec!["up-cut 6".to_owned()],
        rpm: (8_000.0, 24_000.0),
        z_zero: ZZero::Spoilboard,
        clearance: Mm(5.0),
        overcut: Mm(0.3),
        floor: Mm(1.0),
        part_gap: Mm(10.0),
        sheet_margin: Mm(10.0),
        ramp_angle: 0.09,
        spindle_wait_s: 5.0,
        climb: true,
        hold_down: HoldDown::Skin { thickness: Mm(0.4) },
        dialect: Dialect {
            decimals: 4,
            arcs: true,
            drill_cycles: false,
            line_numbers: None,
            crlf: false,
            percent: false,
            tool_change_in_file: false,
            work_offset: "G54".to_owned(),
            file_ending: "nc".to_owned(),
            first_move_pause: false,
        },
        park: [Mm(0.0), Mm(0.0)],
        habits: baywright::shop::Habits::default(),
    }
}

pub(super) fn design() -> Design {
    let machine = Machine {
        id: "shop-router".to_owned(),
        name: "shop router".to_owned(),
        units: Unit::Mm,
        travel: [Mm(2500.0), Mm(1300.0), Mm(150.0)],
        process: Process::Router(Box::new(router())),
        rapid_mm_min: 8000.0,
        feed_max_mm_min: 5000.0,
        accel_mm_s2: 400.0,
        basis: Basis::new(),
    };
    let stock = StockSheet {
        size: SheetSize { length: Mm(1500.0), width: Mm(700.0) },
        count: None,
        price: None,
        defects: Vec::new(),
    };
    Design {
        title: "Größe \"A\", river-survey van".to_owned(),
        units: Unit::Mm,
        vehicle: None,
        prices: None,
        bay: None,
        boards: vec![BoardUse {
            name: "carcass".to_owned(),
            profile: Arc::new(board()),
            thickness: number(14.8),
            readings: vec![Mm(14.7), Mm(14.9), Mm(14.8), Mm(14.8)],
            stock: vec![stock],
            span: None,
        }],
        process: ProcessChoice {
            machine: Arc::new(machine),
            cutters: vec![Arc::new(cutter())],
            outline_cutter: Some(0),
            joint_clearance: JointClearance { glued: number(0.15), finger: number(0.1), loose: number(0.25), press: None },
            relief: ReliefStyle::Diagonal,
            relief_extra: Mm(0.25),
            min_web: Mm(6.0),
            part_gap: Mm(10.0),
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
        assumptions: vec!["the tape is good to 2 mm".to_owned()],
        mock_up: None,
        rubs: Vec::new(),
    }
}
