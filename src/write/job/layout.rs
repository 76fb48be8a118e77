//! Fills the document from the job: sheets, programs, hardware, totals.

use super::build::{mm, number};
use super::schema::{
    Cutter, Document, Hardware, Held, Inside, Laser, LaserLines, LaserSheet, LineStyle, Machine, Offcut, Placement, Program,
    Restart, Saw, SawSheet, SetUp, Sheet, Time, Totals,
};
use crate::fit::load;
use crate::geom::Point;
use crate::nest::{self, SawPlan};
use crate::shop::{self, CutterKind, Process, ZZero};
use crate::toolpath::{self, SheetSide, TabsLeft};
use crate::units::Mm;
use crate::write::{beam, gcode, hardware as hardware_list, saw, Job, Names};

pub(super) fn sheets<'a>(job: &Job<'a>, names: &Names) -> Vec<Sheet<'a>> {
    let sheet = |(index, (sheet, stem)): (usize, (&'a nest::Sheet, &String))| Sheet {
        board: &job.design.boards[sheet.board.0].name,
        number: sheet.number,
        length_mm: mm(sheet.length),
        width_mm: mm(sheet.width),
        files: vec![format!("{stem}.dxf"), format!("{stem}.svg")],
        placements: nest::inside(sheet, &job.parts.parts)
            .into_iter()
            .zip(&sheet.placements)
            .enumerate()
            .map(|(i, (inside, p))| Placement {
                part: &job.parts.parts[p.part].id,
                copy: p.copy,
                x_mm: mm(Mm(p.at.x)),
                y_mm: mm(Mm(p.at.y)),
                turn_deg: p.turn.degrees(),
                flipped: false,
                tabs: job.tabs(index, i),
                inside: inside.map(|inside| {
                    let host = &sheet.placements[inside.host];
                    let part = &job.parts.parts[host.part];
                    Inside { part: &part.id, copy: host.copy, feature: &part.cuts[inside.cut].feature }
                }),
                held: job.held(index, i).into_iter().map(held).collect(),
            })
            .collect(),
        offcut_mm: sheet.offcut.map(|r| Offcut {
            x: mm(Mm(r.x0)),
            y: mm(Mm(r.y0)),
            length: mm(Mm(r.width())),
            width: mm(Mm(r.height())),
        }),
        used_ratio: number(sheet.used_ratio, 4),
    };
    job.layout.sheets.iter().zip(&names.sheets).enumerate().map(sheet).collect()
}

fn held((feature, tabs): (&str, TabsLeft)) -> Held<'_> {
    Held { feature, tabs: tabs.count, length_mm: mm(tabs.length), height_mm: mm(tabs.height), way_mm: mm(tabs.way) }
}

/// What is different where the panels are cut on a saw.
pub(super) fn on_a_saw<'a>(document: &mut Document<'a>, job: &Job<'a>, plan: &SawPlan, names: &Names) {
    document.machine = Machine { id: "saw", name: "saw", process: "saw", travel_mm: None, kerf_mm: Some(mm(plan.kerf)) };
    for sheet in &mut document.sheets {
        sheet.files.clear();
    }
    let sheets = plan.sheets.iter().zip(saw::stems(names)).map(|(s, stem)| SawSheet {
        board: &job.design.boards[s.sheet.board.0].name,
        number: s.sheet.number,
        cuts: s.cuts.len(),
        stages: s.stages(),
        fence_settings: s.fence_settings(),
        rip_widths: s.rip_widths(),
        files: ["csv", "txt", "svg"].map(|ending| format!("{stem}.{ending}")).to_vec(),
    });
    let sheets = sheets.collect();
    document.saw = Some(Saw { kerf_mm: mm(plan.kerf), trim_mm: mm(plan.trim), turns: plan.turns, sheets });
}

pub(super) fn programs<'a>(job: &Job<'a>, names: &'a Names, restarts: &'a [Vec<gcode::Restart>]) -> Vec<Program<'a>> {
    let (z_zero, floor) = match &job.design.process.machine.process {
        Process::Router(router) => match router.z_zero {
            ZZero::Spoilboard => ("spoilboard", Some(mm(router.floor))),
            ZZero::SheetTop => ("sheet-top", Some(mm(router.floor))),
        },
        Process::Laser(_) => ("sheet-top", None),
    };
    let program = |(nth, program): (usize, &'a crate::toolpath::Program)| Program {
        file: &names.programs[nth],
        section: names.sections[nth],
        board: &job.design.boards[program.board.0].name,
        sheet: job.layout.sheets[program.sheet].number,
        side: match program.side {
            SheetSide::First => "first",
            SheetSide::Second => "second",
        },
        order: program.order,
        cutter: Cutter {
            name: &program.cutter.name,
            id: &program.cutter.id,
            diameter_mm: mm(program.cutter.diameter),
            flutes: program.cutter.flutes,
            chip_max_mm: program
                .cutter
                .chip_load
                .get(&job.design.boards[program.board.0].profile.material)
                .map(|window| number(window.max.0, 4)),
            centre_cutting: program.cutter.centre_cutting || program.cutter.kind == CutterKind::Drill,
            first_pass_max_mm: mm(toolpath::deepest_allowed(&program.cutter)[0]),
            pass_max_mm: mm(toolpath::deepest_allowed(&program.cutter)[1]),
        },
        set_up: set_up(&program.set_up, &job.design.process.machine.process),
        rpm: number(program.rpm, 0),
        z_zero,
        clearance_mm: mm(program.clearance),
        floor_mm: floor,
        thickness_mm: mm(program.thickness),
        run_s: number(program.run_s, 1),
        times: program.times.iter().map(|(work, s)| Time { work: work.words(), s: number(*s, 1) }).collect(),
        restarts: restarts.get(nth).into_iter().flatten().map(restart).collect(),
    };
    job.programs.iter().enumerate().map(program).collect()
}

fn set_up(set_up: &toolpath::SetUp, process: &Process) -> SetUp {
    let screws = match process {
        Process::Router(router) => router.habits.screws.filter(|_| !set_up.screws.is_empty()),
        Process::Laser(_) => None,
    };
    let places = |points: &[Point]| points.iter().map(|p| [number(p.x, 6), number(p.y, 6)]).collect();
    SetUp {
        number: set_up.number,
        of: set_up.of,
        pins_mm: places(&set_up.pins),
        pin_diameter_mm: (!set_up.pins.is_empty()).then(|| mm(set_up.pin_diameter)),
        screws_mm: places(&set_up.screws),
        screw_head_mm: screws.map(|s| [mm(s.head), mm(s.head_height)]),
    }
}

fn restart(restart: &gcode::Restart) -> Restart<'_> {
    Restart { number: restart.number, line: restart.line, label: &restart.label }
}

/// What a laser burns; `None` for a router.
pub(super) fn laser<'a>(job: &Job<'a>, names: &Names) -> Option<Laser<'a>> {
    let laser = beam::laser(job)?;
    let style = |s: &'a shop::LineStyle| LineStyle { layer: &s.layer, colour: &s.colour, number: s.number };
    let lines = &laser.lines;
    let sheet = |(beam, stem): (&crate::toolpath::BeamSheet, &String)| {
        let sheet = &job.layout.sheets[beam.sheet];
        LaserSheet {
            board: &job.design.boards[sheet.board.0].name,
            sheet: sheet.number,
            files: vec![format!("{stem}.dxf"), format!("{stem}.svg")],
            run_s: number(beam.run_s, 1),
        }
    };
    Some(Laser {
        kerf_mm: mm(laser.kerf),
        compensated: laser.compensate,
        lines: LaserLines {
            mark: style(&lines.mark),
            fold: style(&lines.fold),
            opening: style(&lines.opening),
            outline: style(&lines.outline),
        },
        sheets: job.beams.iter().zip(&names.beams).map(sheet).collect(),
    })
}

pub(super) fn hardware(job: &Job) -> Vec<Hardware> {
    let pieces = hardware_list::merged(&job.model.hardware).into_iter().map(|piece| Hardware {
        name: piece.name,
        profile: piece.profile,
        quantity: piece.quantity,
        unit: piece.unit,
        place: piece.place,
        mass_kg: piece.mass_kg.map(|kg| number(kg, 4)),
    });
    pieces.collect()
}

pub(super) fn totals(job: &Job) -> Totals {
    let parts = &job.parts.parts;
    let sheets = &job.layout.sheets;
    let hardware: Option<f64> = job.model.hardware.iter().map(|h| h.mass_kg.map(|kg| kg * f64::from(h.quantity))).sum();
    let area = |s: &crate::nest::Sheet| s.length.0 * s.width.0;
    let all: f64 = sheets.iter().map(area).sum();
    let used: f64 = sheets.iter().map(|s| area(s) * s.used_ratio).sum();
    Totals {
        parts: parts.iter().map(|p| p.panels.len()).sum(),
        different_parts: parts.len(),
        sheets: sheets.len(),
        programs: job.programs.len(),
        parts_centre_mm: load::panels_centre(job.design, job.model).map(|c| c.map(|x| number(x, 1))),
        parts_mass_kg: number(parts.iter().map(|p| p.mass_kg * p.panels.len() as f64).sum(), 3),
        hardware_mass_kg: hardware.map(|kg| number(kg, 3)),
        sheet_area_m2: number(all / 1e6, 4),
        used_ratio: number(if all > 0.0 { used / all } else { 0.0 }, 4),
        run_s: number(job.programs.iter().map(|p| p.run_s).sum(), 1),
    }
}
