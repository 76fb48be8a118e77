//! Fills the document from the job: what belongs to the whole, and the parts.

use super::layout;
use super::schema::{
    Board, ContourRow, Contributor, Document, Edge, Feature, Finding, LedgerLine, Machine, Number, Override, Part, Place,
    Seat, Thickness, VertexRow,
};
use crate::design::BoardUse;
use crate::diag;
use crate::fit::{self, Verdict};
use crate::flat::{FlatCut, FlatPart, Operation, PartGrain, Side};
use crate::geom::Contour;
use crate::parts::{Face, Purpose};
use crate::shop::Process;
use crate::units::Mm;
use crate::write::gcode::Restart;
use crate::write::layer::Layer;
use crate::write::{cut_list, heading, Job, Names};

/// A length, rounded to 0.001 mm.
pub(super) fn mm(length: Mm) -> Number {
    number(length.0, 3)
}

/// A number at a precision.
pub(super) fn number(value: f64, places: usize) -> Number {
    Number { value, places }
}

/// The whole document.
pub(super) fn document<'a>(
    job: &Job<'a>,
    names: &'a Names,
    restarts: &'a [Vec<Restart>],
    revision: &'a str,
) -> Document<'a> {
    let design = job.design;
    let machine = &design.process.machine;
    let (process, kerf) = match &machine.process {
        Process::Router(_) => ("router", None),
        Process::Laser(laser) => ("laser", Some(mm(laser.kerf))),
    };
    Document {
        version: 1,
        title: &design.title,
        revision,
        units: "mm",
        cut_file_units: machine.units.symbol(),
        dxf_release: if design.process.dxf_release_12 { 12 } else { 2000 },
        machine: Machine {
            id: &machine.id,
            name: &machine.name,
            process,
            travel_mm: Some(machine.travel.map(mm)),
            kerf_mm: kerf,
        },
        boards: design.boards.iter().map(board).collect(),
        parts: job.parts.parts.iter().zip(&names.parts).map(|(p, stem)| part(job, p, stem)).collect(),
        sheets: layout::sheets(job, names),
        programs: layout::programs(job, names, restarts),
        laser: layout::laser(job, names),
        saw: None,
        hardware: layout::hardware(job),
        findings: job.findings.iter().map(|f| finding(job, f)).collect(),
        ledger: job.ledger.lines.iter().map(ledger_line).collect(),
        assumptions: &design.assumptions,
        overrides: design
            .overrides
            .iter()
            .map(|o| Override { code: &o.code, part: o.part.as_deref(), reason: &o.reason })
            .collect(),
        totals: layout::totals(job),
    }
}

fn board(board: &BoardUse) -> Board<'_> {
    let [min, mean, max] = heading::thickness(board).map(mm);
    Board {
        name: &board.name,
        material: &board.profile.name,
        nominal_mm: mm(board.profile.nominal),
        thickness_mm: Thickness { min, mean, max },
        readings_mm: board.readings.iter().copied().map(mm).collect(),
        density_kg_m3: number(board.profile.density_kg_m3, 3),
    }
}

fn part<'a>(job: &Job<'a>, part: &'a FlatPart, stem: &str) -> Part<'a> {
    let [length, width] = cut_list::along_and_across(part);
    let panels = &job.model.panels;
    let edges = part.panels.first().map_or(&[][..], |id| &panels[id.0].edges);
    let cuts = || part.cuts.iter().chain([&part.outline]);
    let openings: f64 = part.cuts.iter().filter(|c| is_opening(c)).map(opening_area).sum();
    Part {
        id: &part.id,
        name: &part.name,
        unit: &part.unit,
        hand: cut_list::hand(part.hand),
        board: &job.design.boards[part.board.0].name,
        quantity: part.panels.len(),
        panels: part.panels.iter().map(|id| panels[id.0].id.as_str()).collect(),
        face_up: if part.face_up == Face::A { "A" } else { "B" },
        length_mm: number(length, 3),
        width_mm: number(width, 3),
        x_mm: mm(part.length),
        y_mm: mm(part.width),
        grain: match part.grain {
            PartGrain::AlongX => "along-x",
            PartGrain::AlongY => "along-y",
            PartGrain::Any => "any",
        },
        thickness_mm: mm(part.thickness),
        thickness_max_mm: mm(part.thickness_max),
        area_mm2: number(part.outline.contour.area().abs() - openings, 3),
        mass_kg: number(part.mass_kg, 4),
        edges: edges
            .iter()
            .map(|e| Edge { which: cut_list::edge(e.edge), joint: &e.joint, mate: &panels[e.mate.0].id })
            .collect(),
        files: vec![format!("{stem}.dxf"), format!("{stem}.svg")],
        features: part.cuts.iter().map(feature).collect(),
        contours: cuts().flat_map(|cut| contours(job, cut)).collect(),
        seats: cuts().filter_map(seat).collect(),
    }
}

fn is_opening(cut: &FlatCut) -> bool {
    matches!(cut.operation, Operation::ThroughInside | Operation::Drill { depth: None, .. })
}

fn opening_area(cut: &FlatCut) -> f64 {
    match cut.operation {
        Operation::Drill { diameter, .. } => std::f64::consts::PI * diameter.0 * diameter.0 / 4.0,
        _ => cut.contour.area().abs(),
    }
}

fn seat(cut: &FlatCut) -> Option<Seat<'_>> {
    let seat = cut.seats.as_ref()?;
    Some(Seat { feature: &cut.feature, mate: &seat.mate, vertices: vertices(&seat.shape) })
}

fn feature(cut: &FlatCut) -> Feature<'_> {
    let round = match cut.operation {
        Operation::Drill { at, diameter, .. } | Operation::Countersink { at, diameter } => Some((at, diameter)),
        _ => None,
    };
    Feature {
        id: &cut.feature,
        operation: operation(&cut.operation),
        side: side(cut.side),
        depth_mm: depth(&cut.operation),
        diameter_mm: round.map(|(_, diameter)| mm(diameter)),
        at_mm: round.map(|(at, _)| [number(at.x, 6), number(at.y, 6)]),
        purpose: purpose(cut.purpose),
    }
}

fn contours<'a>(job: &Job, cut: &'a FlatCut) -> Vec<ContourRow<'a>> {
    let layer = Layer::Cut { operation: cut.operation, side: cut.side };
    let row = |contour: &Contour, island| ContourRow {
        feature: &cut.feature,
        operation: operation(&cut.operation),
        side: side(cut.side),
        depth_mm: depth(&cut.operation),
        layer: layer.name(job.design.process.machine.units),
        island,
        vertices: vertices(contour),
    };
    [row(&cut.contour, false)].into_iter().chain(cut.islands.iter().map(|i| row(i, true))).collect()
}

fn vertices(contour: &Contour) -> Vec<VertexRow> {
    contour.vertices().iter().map(|v| [number(v.x, 6), number(v.y, 6), number(v.bulge, 12)]).collect()
}

fn operation(operation: &Operation) -> &'static str {
    match operation {
        Operation::ThroughOutside => "through-outside",
        Operation::ThroughInside => "through-inside",
        Operation::Pocket { .. } => "pocket",
        Operation::Drill { .. } => "drill",
        Operation::Countersink { .. } => "countersink",
        Operation::Mark => "mark",
        Operation::Fold { .. } => "fold",
    }
}

fn depth(operation: &Operation) -> Option<Number> {
    match operation {
        Operation::ThroughOutside | Operation::ThroughInside | Operation::Countersink { .. } => None,
        Operation::Pocket { depth } | Operation::Fold { depth } => Some(mm(*depth)),
        Operation::Drill { depth, .. } => depth.map(mm),
        Operation::Mark => Some(mm(Mm::ZERO)),
    }
}

fn side(side: Side) -> &'static str {
    match side {
        Side::Up => "up",
        Side::Down => "down",
    }
}

fn purpose(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::Joint => "joint",
        Purpose::Pilot => "pilot",
        Purpose::Clearance => "clearance",
        Purpose::Slide => "slide",
        Purpose::Latch => "latch",
        Purpose::Strike => "strike",
        Purpose::Anchor => "anchor",
        Purpose::Grip => "grip",
        Purpose::Stop => "stop",
        Purpose::Own => "own",
        Purpose::Mark => "mark",
        Purpose::Fold => "fold",
    }
}

fn finding<'a>(job: &Job, finding: &'a diag::Finding) -> Finding<'a> {
    let place = finding.span.map(|span| job.texts.place(span));
    Finding {
        code: finding.code.id,
        severity: finding.severity,
        message: &finding.message,
        limit: finding.limit.as_deref(),
        parts: &finding.parts,
        place: place.map(|p| Place { file: p.file, line: p.line, column: p.column }),
        remedy: &finding.remedy,
    }
}

fn ledger_line(line: &fit::LedgerLine) -> LedgerLine<'_> {
    LedgerLine {
        gap: &line.gap,
        nominal_mm: mm(line.nominal),
        worst_min_mm: mm(line.worst.min),
        worst_max_mm: mm(line.worst.max),
        rss_min_mm: mm(line.likely.min),
        rss_max_mm: mm(line.likely.max),
        required_min_mm: mm(line.required.min),
        required_max_mm: mm(line.required.max),
        source: &line.source,
        verdict: match line.verdict {
            Verdict::Fails => "fails",
            Verdict::Doubtful => "doubtful",
            Verdict::Tight => "tight",
            Verdict::Fits => "fits",
        },
        contributors: line
            .contributors
            .iter()
            .map(|c| Contributor {
                source: &c.source.label,
                sensitivity: number(c.sensitivity, 6),
                reach_mm: mm(c.reach),
                share: number(c.share, 4),
            })
            .collect(),
    }
}
