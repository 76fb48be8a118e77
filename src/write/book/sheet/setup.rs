//! The set-up sheet: programs in order, cutter, zeros, depths, speeds, time, and what to check first.

use super::map;
use crate::shop::{CutterKind, HoldDown, Process, Router, ZZero};
use crate::toolpath::{Move, Program, SheetSide, Work};
use crate::units::{decimal, Mm};
use crate::write::book::page::wide;
use crate::write::book::Book;
use crate::write::heading;
use maud::{html, Markup};

/// When to look into the bin and the bag again: embers smoulder in dust. Common practice, no source.
const RECHECK: &str = "one hour";

pub(super) fn sheet(book: &Book, index: usize) -> Markup {
    let programs: Vec<(usize, &Program)> = book.job.programs.iter().enumerate().filter(|(_, p)| p.sheet == index).collect();
    match &book.job.design.process.machine.process {
        Process::Router(router) => html! {
            (check_first(book, router, &programs))
            (table(book, &programs))
            (stay())
        },
        Process::Laser(laser) => html! {
            p { "No programs: take " code { (book.names.beams.get(index).unwrap_or(&book.names.sheets[index])) ".dxf" } " or " code { ".svg" } " to the laser; its layers say what is cut. \
                Width of cut taken as " (book.lengths.fine(laser.kerf)) @if laser.compensate { "; the files hold the beam's middle." } @else { "; the files hold the finished edge, so keep the beam half of it on the waste side." } }
            p.warn { strong { "Stay with a running laser" } ", extractor on, extinguisher at hand. Never cut stock that may hold metal or a plastic film." }
        },
    }
}

/// What the operator does before the first move.
fn check_first(book: &Book, router: &Router, programs: &[(usize, &Program)]) -> Markup {
    let l = book.lengths;
    let Some((_, first)) = programs.first() else { return html! { p { "No programs for this sheet." } } };
    let thickest = heading::thickness(&book.job.design.boards[first.board.0])[2].max(first.thickness);
    let zero = match router.z_zero {
        ZZero::Spoilboard => "on the spoilboard, beside the sheet",
        ZZero::SheetTop => "on top of the sheet",
    };
    let deepest = programs.iter().map(|(_, p)| lowest(p)).fold(f64::INFINITY, f64::min);
    let screws = first.set_up.screws.len();
    let turned = programs.iter().any(|(_, p)| p.side == SheetSide::Second);
    let trace = programs.iter().any(|(_, p)| p.trace.is_some());
    html! {
        ol.do {
            li { span.tick {} "Measure this sheet: the programs are for " (l.fine(thickest)) " at the most." }
            li { span.tick {} "Lay it with its grain along x, lower left corner on zero: x zero at its left edge, y zero at its near edge, z zero " strong { (zero) } "." }
            li { span.tick {}
                @match router.hold_down {
                    HoldDown::Tabs { length, height, .. } => { "Parts are held by tabs " (l.bare(length)) " long and " (l.said(height)) " high" @if screws > 0 { ", the sheet by " (screws) " screws in the waste, crossed circles on the map" } ". Clamp outside the parts." }
                    HoldDown::Skin { thickness } => { "A skin of " (l.said(thickness)) " holds the parts" @if screws > 0 { "; " (screws) " screws in the waste hold the sheet, crossed circles on the map" } ". Clamp outside the parts." }
                }
            }
            li { span.tick {} "The spoilboard is cut into by " (l.said(Mm((-deepest).max(0.0)))) "; the machine's floor allows " (l.said(router.floor)) "." }
            @if trace { li { span.tick {} "The first program runs once round everything in the air: watch it clear clamps and screws." } }
            li { span.tick {} "Run the first program once in the air, above the sheet." }
            li { span.tick {} "After the first part comes free: measure its length and width against its drawing before you go on." }
            @if turned { li { span.tick {} "Turn the sheet over about its long edge between the set-ups, on to pins in the registration holes." } }
        }
    }
}

fn table(book: &Book, programs: &[(usize, &Program)]) -> Markup {
    let l = book.lengths;
    let table = html! {
        table {
            caption { "Programs, in order of running" }
            thead { tr { th.n { "No." } th { "File and cutter" } th.n { "Speed" } th.n { "Feed" } th.n { "Deepest" } th { "Does" } th.n { "Time" } } }
            tbody {
                @for (i, p) in programs {
                    tr {
                        td.n { (p.order) @if p.set_up.of > 1 { br; "set-up " (p.set_up.number) } }
                        td {
                            a href=(book.names.programs[*i]) { code { (book.names.programs[*i]) } }
                            @if book.names.sections[*i] > 1 { ", part " (book.names.sections[*i]) }
                            br;
                            (p.cutter.name) br;
                            (l.fine(p.cutter.diameter)) " across, " (p.cutter.flutes) " flutes, "
                            (kind(p.cutter.kind)) "; edges " (l.bare(p.cutter.flute_length)) " long, let it stand out at least " (l.bare(stick_out(p)))
                        }
                        td.n { (decimal(p.rpm, 0)) " /min" @if p.rpm > p.cutter.rpm_max { strong { " above the cutter's limit" } } br; "at most " (decimal(p.cutter.rpm_max, 0)) }
                        td.n { @let (low, high) = feeds(p); @if low < high { (decimal(low, 0)) " to " } (decimal(high, 0)) " mm/min" br; (decimal(chip(p, high), 3)) " mm per tooth" }
                        td.n { (l.bare(Mm(p.thickness.0 - lowest(p)))) " below top" }
                        td { (work(p)) }
                        td.n { (decimal(p.run_s / 60.0, 1)) " min" }
                    }
                }
            }
        }
    };
    wide("Programs", &table)
}

fn kind(kind: CutterKind) -> &'static str {
    match kind {
        CutterKind::UpCut => "up-cut",
        CutterKind::DownCut => "down-cut",
        CutterKind::Compression { .. } => "compression",
        CutterKind::Drill => "drill",
    }
}

/// Through the sheet and into the spoilboard, and 2 mm for the nut's face. Common practice, no source.
fn stick_out(p: &Program) -> Mm {
    Mm(p.thickness.0 - lowest(p) + 2.0)
}

/// Lowest height of the tip over the spoilboard; negative below it.
fn lowest(p: &Program) -> f64 {
    let heights = p.blocks.iter().flat_map(|b| &b.moves).map(|step| match step {
        Move::Rapid { to } | Move::Line { to, .. } | Move::Arc { to, .. } => to.z,
        Move::Drill { bottom, .. } => bottom.0,
    });
    heights.fold(p.thickness.0, f64::min)
}

/// Slowest and fastest feed in the wood.
fn feeds(p: &Program) -> (f64, f64) {
    let feeds = p.blocks.iter().flat_map(|b| &b.moves).filter_map(|step| match step {
        Move::Rapid { .. } => None,
        Move::Line { to, feed } | Move::Arc { to, feed, .. } => (to.z < p.thickness.0).then_some(*feed),
        Move::Drill { feed, .. } => Some(*feed),
    });
    let (low, high) = feeds.fold((f64::INFINITY, 0.0_f64), |(a, b), f| (a.min(f), b.max(f)));
    (low.min(high), high)
}

/// How thick a chip each cutting edge takes at a feed, in mm.
fn chip(p: &Program, feed_mm_min: f64) -> f64 {
    feed_mm_min / (p.rpm * f64::from(p.cutter.flutes.max(1)))
}

fn work(p: &Program) -> String {
    let kinds = [Work::HoldDown, Work::Registration, Work::Holes, Work::Pockets, Work::Openings, Work::Outlines];
    let said: Vec<&str> = kinds.iter().filter(|k| map::has(&p.blocks, **k)).map(|k| k.words()).collect();
    said.join(", ")
}

fn stay() -> Markup {
    html! {
        p.warn {
            strong { "Stay with the machine" } " while it runs; eyes and ears covered, dust drawn off. A stalled cutter chars the wood: look into bin and bag again "
            (RECHECK) " later. Never cut stock that may hold metal or a plastic film."
        }
    }
}
