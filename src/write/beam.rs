//! A laser's files: what its beam follows, sheet by sheet, in layers and colours of the machine's profile.
//!
//! Unlike the sheets' drawings they hold nothing but lines to burn: whatever else is in them, a laser would burn as well.

use super::drawing::{Cut, Drawing, Group, Shape};
use super::heading;
use super::layer::Layer;
use super::names;
use super::Job;
use crate::flat::{Operation, Side};
use crate::geom::Rect;
use crate::shop::{Laser, Process};
use crate::toolpath::BeamSheet;

/// What the beam follows on a sheet, in the order of burning.
pub(super) fn drawing(job: &Job, beam: &BeamSheet, revision: &str) -> Drawing {
    let sheet = &job.layout.sheets[beam.sheet];
    let groups = beam.parts.iter().map(|part| {
        let placement = &sheet.placements[part.placement];
        let cuts = part.lines.iter().map(|line| Cut {
            layer: Layer::Cut { operation: line.operation, side: Side::Up },
            feature: line.feature.clone(),
            shape: Shape::Contour(line.contour.clone()),
            island: false,
        });
        Group {
            id: format!("{}.{}", names::safe(&job.parts.parts[placement.part].id), placement.copy),
            label: None,
            has_grain: false,
            unit: 0,
            cuts: cuts.collect(),
        }
    });
    Drawing {
        heading: heading::of_beam(job, sheet, revision),
        bounds: Rect::new(0.0, 0.0, sheet.length.0, sheet.width.0),
        groups: groups.collect(),
        sheet: None,
        lines: laser(job).map(|laser| (*laser.lines).clone()),
    }
    .with_legend(job.design.process.machine.units)
}

/// The laser of a job, if it has one.
pub(super) fn laser<'a>(job: &Job<'a>) -> Option<&'a Laser> {
    match &job.design.process.machine.process {
        Process::Laser(laser) => Some(laser),
        Process::Router(_) => None,
    }
}

/// What a line of a laser's file is for, in a word; the layer of the profile that it lies on has this key.
pub(super) fn kind(operation: &Operation) -> usize {
    match operation {
        Operation::Mark => 0,
        Operation::Fold { .. } => 1,
        Operation::ThroughInside | Operation::Drill { .. } | Operation::Pocket { .. } | Operation::Countersink { .. } => 2,
        Operation::ThroughOutside => 3,
    }
}
