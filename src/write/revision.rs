//! The revision: a hash of everything that affects cutting, so that two packs with the same revision cut the same parts.

use super::Job;
use crate::flat::{FlatCut, FlatPart, Operation};
use crate::geom::Contour;
use crate::nest::SawPlan;
use crate::shop::Process;
use crate::toolpath::{Move, Program};
use crate::units::decimal;
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// Decimals of a length in the hashed text: far below any machine's resolution, far above rounding noise.
const PLACES: usize = 5;
/// Hexadecimal digits of a revision.
const DIGITS: usize = 12;

/// First 12 hexadecimal digits of the SHA-256 of the job's boards, process, parts, layout and programs. Titles, dates, findings
/// and places in the maker's files do not count.
#[must_use]
pub fn revision(job: &Job) -> String {
    digits(&described(job))
}

/// The same for a saw pack: its cuts count as well.
pub(super) fn of_saw(job: &Job, plan: &SawPlan) -> String {
    let mut text = described(job);
    line(&mut text, format_args!("saw {} {} {}", number(plan.kerf.0), number(plan.trim.0), plan.turns));
    for (index, sheet) in plan.sheets.iter().enumerate() {
        for cut in &sheet.cuts {
            let fence = number(cut.fence.0);
            line(
                &mut text,
                format_args!("cut {index} {} {:?} {:?} {fence} {}", cut.number, cut.direction, cut.from, cut.far),
            );
        }
    }
    digits(&text)
}

fn described(job: &Job) -> String {
    let mut text = String::from("revision 1\n");
    process(&mut text, job);
    for board in &job.design.boards {
        let [min, mean, max] = super::heading::thickness(board).map(|t| number(t.0));
        line(&mut text, format_args!("board {:?} {:?} {min} {mean} {max}", board.name, board.profile.id));
    }
    for part in &job.parts.parts {
        describe_part(&mut text, part);
    }
    for sheet in &job.layout.sheets {
        let (l, w) = (number(sheet.length.0), number(sheet.width.0));
        line(&mut text, format_args!("sheet {} {} {l} {w}", sheet.board.0, sheet.number));
        for p in &sheet.placements {
            let (x, y) = (number(p.at.x), number(p.at.y));
            line(&mut text, format_args!("place {} {} {} {x} {y}", p.part, p.copy, p.turn.degrees()));
        }
    }
    for program in job.programs {
        describe_program(&mut text, program);
    }
    text
}

fn digits(text: &str) -> String {
    let mut digits = String::new();
    for byte in Sha256::digest(text.as_bytes()).iter().take(DIGITS / 2) {
        line_end(&mut digits, format_args!("{byte:02x}"), "");
    }
    digits
}

fn number(value: f64) -> String {
    decimal(value, PLACES)
}

fn line(text: &mut String, args: std::fmt::Arguments) {
    line_end(text, args, "\n");
}

fn line_end(text: &mut String, args: std::fmt::Arguments, end: &str) {
    text.write_fmt(args).expect("writing to a String cannot fail");
    text.push_str(end);
}

fn process(text: &mut String, job: &Job) {
    let process = &job.design.process;
    let machine = &process.machine;
    line(text, format_args!("machine {:?} {} release 12 {}", machine.id, machine.units.symbol(), process.dxf_release_12));
    match &machine.process {
        Process::Router(router) => {
            let sizes = [router.clearance.0, router.overcut.0, router.floor.0, router.spindle_wait_s];
            let [clearance, overcut, floor, wait] = sizes.map(number);
            let park = router.park.map(|mm| number(mm.0));
            line(text, format_args!("router {:?} {clearance} {overcut} {floor} {wait} {park:?}", router.z_zero));
            line(text, format_args!("dialect {:?}", router.dialect));
        }
        Process::Laser(laser) => {
            line(text, format_args!("laser {} {}", number(laser.kerf.0), laser.compensate));
        }
    }
}

fn describe_part(text: &mut String, part: &FlatPart) {
    let thickness = [part.thickness.0, part.thickness_max.0].map(number);
    line(text, format_args!("part {:?} {} x{} {:?} {thickness:?}", part.id, part.board.0, part.panels.len(), part.face_up));
    for cut in [&part.outline].into_iter().chain(&part.cuts) {
        describe_cut(text, cut);
    }
}

fn describe_cut(text: &mut String, cut: &FlatCut) {
    let what = match cut.operation {
        Operation::ThroughOutside => "outside".to_owned(),
        Operation::ThroughInside => "inside".to_owned(),
        Operation::Pocket { depth } => format!("pocket {}", number(depth.0)),
        Operation::Drill { at, diameter, depth } => {
            let depth = depth.map_or("through".to_owned(), |d| number(d.0));
            format!("drill {} {} {} {depth}", number(at.x), number(at.y), number(diameter.0))
        }
        Operation::Countersink { at, diameter } => {
            format!("countersink {} {} {}", number(at.x), number(at.y), number(diameter.0))
        }
        Operation::Mark => "mark".to_owned(),
        Operation::Fold { depth } => format!("fold {}", number(depth.0)),
    };
    line(text, format_args!("cut {:?} {:?} {what}", cut.feature, cut.side));
    for contour in [&cut.contour].into_iter().chain(&cut.islands) {
        describe_contour(text, contour);
    }
}

fn describe_contour(text: &mut String, contour: &Contour) {
    for v in contour.vertices() {
        line_end(text, format_args!("{} {} {}", number(v.x), number(v.y), decimal(v.bulge, 8)), ";");
    }
    text.push('\n');
}

fn describe_program(text: &mut String, program: &Program) {
    let (rpm, clearance) = (number(program.rpm), number(program.clearance.0));
    let thickness = number(program.thickness.0);
    let (cutter, diameter) = (&program.cutter.id, number(program.cutter.diameter.0));
    line(
        text,
        format_args!(
            "program {} {:?} {} {cutter:?} {diameter} {rpm} {clearance} {thickness}",
            program.sheet, program.side, program.order
        ),
    );
    for block in &program.blocks {
        line(text, format_args!("block {} {}", number(block.start.x), number(block.start.y)));
        for step in &block.moves {
            describe_move(text, step);
        }
    }
}

fn describe_move(text: &mut String, step: &Move) {
    let point = |to: &crate::geom::Point3| to.to_array().map(number).join(" ");
    match step {
        Move::Rapid { to } => line(text, format_args!("rapid {}", point(to))),
        Move::Line { to, feed } => line(text, format_args!("line {} {}", point(to), number(*feed))),
        Move::Arc { to, centre, ccw, feed } => {
            let (x, y) = (number(centre.x), number(centre.y));
            line(text, format_args!("arc {} {x} {y} {ccw} {}", point(to), number(*feed)));
        }
        Move::Drill { bottom, retract, peck, feed } => {
            let peck = peck.map_or("one".to_owned(), |p| number(p.0));
            let (bottom, retract) = (number(bottom.0), number(retract.0));
            line(text, format_args!("drill {bottom} {retract} {peck} {}", number(*feed)));
        }
    }
}
