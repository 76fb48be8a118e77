//! The first page: what it is, whether it is proved, what it takes, and whatever could make a wrong cut.

use super::page::Chapter;
use super::solid::{Look, Scene, View};
use super::Book;
use crate::design::BoardUse;
use crate::diag::Severity;
use crate::parts::PanelId;
use crate::shop::Process;
use crate::units::decimal;
use crate::write::heading::thickness;
use maud::{html, Markup};

pub(super) fn chapter(book: &Book) -> Chapter {
    let design = book.job.design;
    let body = html! {
        h1 { (design.title) }
        p.rev { "Build book, revision " strong { (book.revision) } ". Every page and every file of this pack carries the same revision; a page or file with another is of another pack." }
        (verdict(book))
        (overridden(book))
        div.front {
            (picture(book))
            (takes(book))
        }
        h2 { "Boards" }
        (boards(book))
        (coupon(book))
        h2 { "What could make a wrong cut" }
        (assumptions(book))
    };
    Chapter { anchor: "first", title: "First page", body }
}

fn verdict(book: &Book) -> Markup {
    let proof = book.around.proof;
    let checks: usize = proof.rules.iter().map(|(_, checked, _)| checked).sum();
    html! {
        p.verdict {
            @if proof.passed { "Proved: the files would cut what the design says." }
            @else { "NOT PROVED: do not cut from this pack." }
        }
        p { (proof.rules.len()) " rules, " (checks) " checks; each is told in " code { "proof.txt" } ". \
            The proof does not say that your machine is square, your cutter its size, or your sheet flat." }
    }
}

/// The whole unit as it stands.
fn picture(book: &Book) -> Markup {
    let all: Vec<PanelId> = (0..book.job.model.panels.len()).map(PanelId).collect();
    let bodies = book.unit.nameless(book.job, &all, Look::Plain, [0.0; 3]);
    if bodies.is_empty() {
        return html! { p { "Its parts have no place in a vehicle; see the part drawings." } };
    }
    let view = View::USUAL;
    let shows = format!("{} as it stands, {}, all closed", book.job.design.title, view.words());
    html! {
        figure {
            (Scene { bodies, ways: Vec::new(), view }.draw(92.0, 80.0, &shows))
            figcaption { (shows) "." }
        }
    }
}

/// Stoppers that the maker overrode, and why.
fn overridden(book: &Book) -> Markup {
    let list = &book.job.design.overrides;
    html! {
        @if !list.is_empty() {
            div.warn {
                p { strong { "Stoppers overridden by the maker" } }
                ul {
                    @for o in list {
                        li {
                            code { (o.code) } @if let Some(part) = &o.part { " for " (book.links.id(part)) } ": " (o.reason)
                            @for f in book.job.findings.iter().filter(|f| f.code.id == o.code && f.message.contains("overridden")) {
                                br; (book.links.words(&f.message))
                            }
                        }
                    }
                }
            }
        }
    }
}

fn takes(book: &Book) -> Markup {
    let job = book.job;
    let copies: usize = job.parts.parts.iter().map(|p| p.panels.len()).sum();
    let wood: f64 = job.parts.parts.iter().map(|p| p.mass_kg * p.panels.len() as f64).sum();
    let minutes = job.programs.iter().map(|p| p.run_s).sum::<f64>() / 60.0;
    let pieces: u32 = job.model.hardware.iter().map(|h| h.quantity).sum();
    html! {
        dl.facts {
            dt { "Parts" } dd { (copies) ", of which " (job.parts.parts.len()) " are different" }
            dt { "Sheets to buy" } dd { (sheets(book)) }
            dt { "Hardware" } dd { (pieces) " pieces; " a href="#hardware" { "the list" } }
            dt { "Mass" } dd {
                (decimal(wood, 1)) " kg of wood"
                @if let Some(load) = book.around.load {
                    ", " (decimal(load.bodies.iter().map(crate::fit::load::Body::empty_kg).sum::<f64>(), 1)) " kg with its hardware, "
                    (decimal(load.mass_kg, 1)) " kg with all goods of the design"
                }
            }
            dt { "Cutting time" } dd {
                @if let Some(plan) = book.around.saw {
                    (plan.sheets.iter().map(|s| s.cuts.len()).sum::<usize>()) " straight cuts on the saw, the fence set " (plan.sheets.iter().map(crate::nest::SawSheet::fence_settings).sum::<usize>()) " times"
                }
                @else if !job.beams.is_empty() { "about " (decimal(job.beams.iter().map(|b| b.run_s).sum::<f64>() / 60.0, 0)) " min at full feed on the laser" }
                @else if job.programs.is_empty() { "no programs" }
                @else { "about " (decimal(minutes, 0)) " min in " (job.programs.len()) " programs, without setting up" }
            }
            @if let Some([x, y, z]) = size(book) { dt { "Outside" } dd { (x) " wide, " (y) " deep, " (z) " high" } }
        }
    }
}

fn size(book: &Book) -> Option<[String; 3]> {
    let all = || book.unit.solids.iter().flatten();
    all().next()?;
    let l = book.lengths;
    Some([0, 1, 2].map(|i| {
        let from = all().map(|b| b.min.to_array()[i]).fold(f64::INFINITY, f64::min);
        let to = all().map(|b| b.max.to_array()[i]).fold(f64::NEG_INFINITY, f64::max);
        l.said(crate::units::Mm(to - from))
    }))
}

/// Sheets by board and size.
fn sheets(book: &Book) -> Markup {
    let mut kinds: Vec<(usize, String, usize)> = Vec::new();
    for sheet in &book.job.layout.sheets {
        let size = book.lengths.area(sheet.length, sheet.width);
        match kinds.iter_mut().find(|(b, s, _)| *b == sheet.board.0 && *s == size) {
            Some((_, _, count)) => *count += 1,
            None => kinds.push((sheet.board.0, size, 1)),
        }
    }
    html! {
        @for (i, (board, size, count)) in kinds.iter().enumerate() {
            @if i > 0 { br; }
            (count) " of " (book.job.design.boards[*board].name) ", " (size)
        }
        @if kinds.is_empty() { "none" }
    }
}

fn boards(book: &Book) -> Markup {
    let design = book.job.design;
    let used = |i: usize| book.job.parts.parts.iter().any(|p| p.board.0 == i);
    html! {
        div.wide role="region" aria-label="Boards" tabindex="0" {
            table.slim {
                thead { tr { th { "Board" } th { "What it is" } th.n { "Real thickness" } th { "Rests on" } } }
                tbody {
                    @for (_, board) in design.boards.iter().enumerate().filter(|(i, _)| used(*i)) {
                        @let [min, mean, max] = thickness(board);
                        tr {
                            th scope="row" { (board.name) }
                            td { (board.profile.name) }
                            td.n { (book.lengths.fine(mean)) br; (decimal(min.0, 2)) " to " (decimal(max.0, 2)) }
                            td { (readings(board)) }
                        }
                    }
                }
            }
        }
        p { span.tick {} "Measure the sheets at hand at four places before you cut. If one lies outside its range above, stop: change the readings in the project and make the pack again." }
    }
}

/// Cut the coupon before the first sheet.
fn coupon(book: &Book) -> Markup {
    let mut folders: Vec<&str> = book
        .around
        .files
        .iter()
        .filter_map(|f| f.strip_prefix("coupon/").and_then(|rest| rest.split_once('/')))
        .map(|(folder, _)| folder)
        .collect();
    folders.sort_unstable();
    folders.dedup();
    html! {
        @if !folders.is_empty() {
            p { span.tick {} strong { "First of all cut the coupon of each board" } ", from "
                @for (i, f) in folders.iter().enumerate() { @if i > 0 { ", " } code { "coupon/" (f) } }
                ": push the board's own offcut into the ladder of slots, measure the square and the hole, and go on only when they come out as its " code { "job.json" } " says." }
        }
    }
}

fn readings(board: &BoardUse) -> Markup {
    html! {
        @if board.readings.is_empty() {
            strong { "not measured: " } "tolerance class of the nominal " (board.profile.nominal) " mm"
        } @else {
            (board.readings.len()) " readings by the maker"
        }
    }
}

/// Whatever could make a wrong cut: machine, cutter, clearances, relief, defaults in use.
fn assumptions(book: &Book) -> Markup {
    let design = book.job.design;
    let process = &design.process;
    let l = book.lengths;
    let cautions = |severity| book.job.findings.iter().filter(|f| f.severity == severity).count();
    html! {
        dl.facts {
            dt { "Machine" } dd { (process.machine.name) ", files in " (process.machine.units.symbol()) }
            @match &process.machine.process {
                Process::Router(_) => {
                    @if let Some(cutter) = process.outline_cutter.and_then(|i| process.cutters.get(i)) {
                        dt { "Cutter of outlines" } dd { (cutter.name) ", taken as " (l.fine(cutter.diameter)) " across. Measure yours: a cutter that is 0.1 mm less leaves every slot 0.1 mm tight" }
                        dt { "Inner corners" } dd { (relief(book, cutter.diameter)) }
                    }
                }
                Process::Laser(laser) => {
                    dt { "Beam" } dd { "width of cut taken as " (l.fine(laser.kerf)) @if laser.compensate { ", offset in the files" } @else { ", to be offset by the machine" } }
                }
            }
            dt { "Joint clearance" } dd {
                "fingers and tabs " (l.fine(process.joint_clearance.finger.nominal())) ", glued channels " (l.fine(process.joint_clearance.glued.nominal()))
                ", loose bottoms " (l.fine(process.joint_clearance.loose.nominal())) ", each over the mate's real thickness"
            }
            dt { "Finish" } dd { "no allowance: joints are cut for bare wood; keep lacquer and oil out of them" }
            dt { "Bay" } dd {
                @if let Some(bay) = &design.bay {
                    @let read = [("width", &bay.width), ("depth", &bay.depth), ("height", &bay.height)];
                    @for (i, (name, dim)) in read.iter().filter_map(|(n, d)| d.as_ref().map(|d| (n, d))).enumerate() {
                        @if i > 0 { ", " }
                        (name) " " (l.said(dim.nominal()))
                    }
                    "; read by the maker, the least reading of each rules"
                } @else { "none measured: it stands free, and was held against no vehicle" }
            }
        }
        @if !design.assumptions.is_empty() {
            p { "Defaults in use where the project says nothing:" }
            ul { @for text in &design.assumptions { li { (book.links.words(text)) } } }
        }
        p { (cautions(Severity::Caution)) " cautions and " (cautions(Severity::Note)) " notes: see " a href="#gaps" { "gaps and findings" } "." }
    }
}

fn relief(book: &Book, cutter: crate::units::Mm) -> String {
    use crate::design::ReliefStyle;
    let process = &book.job.design.process;
    let radius = book.lengths.fine(cutter / 2.0 + process.relief_extra);
    match process.relief {
        ReliefStyle::Diagonal => format!("relieved on the diagonal, radius {radius}, so that a square mate seats"),
        ReliefStyle::AlongEdge => format!("relieved along the edge, radius {radius}, so that a square mate seats"),
        ReliefStyle::None => "not relieved: square them by hand where a mate seats".to_owned(),
    }
}
