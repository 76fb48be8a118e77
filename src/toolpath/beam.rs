//! What a laser's beam follows: every line of a sheet in the order of burning.
//!
//! The beam takes away its kerf: outlines are moved out and openings in by half of it, corners kept square, so that the finished
//! edge is left; or nothing is moved, where the machine's profile leaves that to whoever runs the laser. Part by part: marks,
//! folds, openings, the outline last; a part that lies in another's opening before the part around it.

use super::codes;
use crate::design::Design;
use crate::diag::{Checked, Finding};
use crate::flat::{FlatCut, FlatPart, FlatParts, Operation};
use crate::geom::{Contour, GeomError, Point};
use crate::nest::{self, Layout, Placement, Sheet};
use crate::shop::{Laser, Process};
use crate::units::Mm;
use std::collections::BTreeSet;

/// All lines of one sheet, in the order of burning.
#[derive(Clone, Debug)]
pub struct BeamSheet {
    /// Index into [`Layout::sheets`].
    pub sheet: usize,
    /// Its parts, one after the other.
    pub parts: Vec<BeamPart>,
    /// Estimated time in seconds at full feed, ways between included; how hard the board burns is not known.
    pub run_s: f64,
}

/// The lines of one copy of a part.
#[derive(Clone, Debug)]
pub struct BeamPart {
    /// Index into the sheet's placements.
    pub placement: usize,
    /// Its lines in the order of burning, the outline last.
    pub lines: Vec<BeamLine>,
}

/// One closed line that the beam follows.
#[derive(Clone, Debug)]
pub struct BeamLine {
    /// What is done.
    pub operation: Operation,
    /// The feature it belongs to.
    pub feature: String,
    /// Middle of the beam, or the finished edge where nothing is moved; sheet frame, in mm.
    pub contour: Contour,
}

/// The lines of every sheet; none for a router.
#[must_use]
pub fn beams(design: &Design, parts: &FlatParts, layout: &Layout) -> Checked<Vec<BeamSheet>> {
    let Process::Laser(laser) = &design.process.machine.process else {
        return Checked::new(Vec::new(), Vec::new());
    };
    let mut found = Vec::new();
    common_lines(design, laser, &mut found);
    let moved: Vec<Option<Vec<BeamLine>>> = parts.parts.iter().map(|part| of_part(part, laser, &mut found)).collect();
    if moved.iter().any(Option::is_none) {
        return Checked::failed(found);
    }
    let sheets = layout.sheets.iter().enumerate().map(|(index, sheet)| {
        let parts = order(sheet, parts)
            .into_iter()
            .map(|placement| {
                let p = &sheet.placements[placement];
                let lines = moved[p.part].iter().flatten();
                let lines = lines.map(|line| BeamLine { contour: p.laid(&line.contour), ..line.clone() });
                BeamPart { placement, lines: lines.collect() }
            })
            .collect();
        let mut sheet = BeamSheet { sheet: index, parts, run_s: 0.0 };
        sheet.run_s = seconds(&sheet, design);
        sheet
    });
    Checked::new(sheets.collect(), found)
}

/// Neighbours that lie nearer than the kerf would lose material to each other's cut.
fn common_lines(design: &Design, laser: &Laser, found: &mut Vec<Finding>) {
    let gap = design.process.part_gap;
    if gap < laser.kerf {
        found.push(
            Finding::stop(codes::COMMON_LINE, format!("parts lie {gap} mm apart and the beam takes {} mm", laser.kerf))
                .limit("each part has its own line: neighbours on a common line lose half a kerf each")
                .remedy(format!("write `part_gap = {}` or more under [shop]", laser.kerf * 2.0)),
        );
    }
}

/// A part's lines in its own frame, in the order of burning; `None` when one cannot be made, which is then a finding.
fn of_part(part: &FlatPart, laser: &Laser, found: &mut Vec<Finding>) -> Option<Vec<BeamLine>> {
    let half = laser.kerf.0 / 2.0;
    let by = if laser.compensate { half } else { 0.0 };
    let mut lines = Vec::with_capacity(part.cuts.len() + 1);
    let mut good = true;
    let mut cuts: Vec<&FlatCut> = part.cuts.iter().chain([&part.outline]).collect();
    cuts.sort_by_key(|cut| cut.operation.rank());
    for cut in cuts {
        let line = |contour| BeamLine { operation: cut.operation, feature: cut.feature.clone(), contour };
        let made = match cut.operation {
            Operation::Mark | Operation::Fold { .. } => Ok(vec![cut.contour.clone()]),
            Operation::ThroughInside | Operation::Drill { depth: None, .. } => {
                // What the beam cannot go round inside is burnt away as a whole, moved or not.
                cut.contour.grown(-half).and_then(|room| {
                    if room.is_empty() && half > 0.0 {
                        return Ok(Vec::new());
                    }
                    cut.contour.grown_sharp(-by)
                })
            }
            Operation::ThroughOutside => cut.contour.grown_sharp(by),
            Operation::Pocket { .. } | Operation::Drill { .. } | Operation::Countersink { .. } => {
                found.push(not_through(part, cut));
                good = false;
                continue;
            }
        };
        match made {
            Ok(all) if all.len() == 1 => lines.extend(all.into_iter().map(line)),
            Ok(_) => {
                found.push(too_narrow(part, cut, laser.kerf));
                good = false;
            }
            Err(error) => {
                found.push(unreliable(part, cut, &error));
                good = false;
            }
        }
    }
    good &= notches_enter(part, laser, found);
    good.then_some(lines)
}

/// Whether the beam gets into every notch of the outline: a sharp corner keeps a speck, a narrow notch stays shut along its length.
fn notches_enter(part: &FlatPart, laser: &Laser, found: &mut Vec<Finding>) -> bool {
    let half = laser.kerf.0 / 2.0;
    match part.outline.contour.unreachable_outside(half) {
        Ok(left) => {
            let long = |r: &crate::geom::Region| {
                let b = r.outer.bounds();
                b.width().max(b.height()) > NOTCH_KERFS * laser.kerf.0
            };
            let shut = left.iter().any(long);
            if shut {
                found.push(too_narrow(part, &part.outline, laser.kerf));
            }
            !shut
        }
        Err(error) => {
            found.push(unreliable(part, &part.outline, &error));
            false
        }
    }
}

/// A corner of 30 degrees keeps a speck of one and a half kerfs; what is longer is a notch that the beam does not enter.
const NOTCH_KERFS: f64 = 1.6;

fn too_narrow(part: &FlatPart, cut: &FlatCut, kerf: Mm) -> Finding {
    let what = if matches!(cut.operation, Operation::ThroughOutside) {
        "a notch in the outline".to_owned()
    } else {
        let b = cut.contour.bounds();
        format!("`{}`, {} x {} mm,", cut.feature, Mm(b.width()), Mm(b.height()))
    };
    Finding::stop(codes::KERF_WIDE, format!("{what} of {} is not wider than the beam's kerf of {kerf} mm", part.name))
        .part(&part.id)
        .at(cut.span.or(part.span))
        .remedy("make it wider, mark it instead, or measure the kerf again")
}

fn unreliable(part: &FlatPart, cut: &FlatCut, error: &GeomError) -> Finding {
    Finding::stop(codes::UNRELIABLE, format!("the beam's way along `{}` of {}: {error}", cut.feature, part.name))
        .part(&part.id)
        .at(cut.span.or(part.span))
        .remedy("change its size by a tenth of a millimetre")
}

fn not_through(part: &FlatPart, cut: &FlatCut) -> Finding {
    Finding::stop(codes::NO_CUTTER, format!("`{}` of {} is blind, and a laser cuts through", cut.feature, part.name))
        .part(&part.id)
        .at(cut.span.or(part.span))
        .remedy("cut it through, or mark it")
}

/// Placements in the order of burning: from the lower left on, each time the nearest whose inner neighbours are out.
fn order(sheet: &Sheet, parts: &FlatParts) -> Vec<usize> {
    let outline = |p: &Placement| p.laid(&parts.parts[p.part].outline.contour);
    let outlines: Vec<Contour> = sheet.placements.iter().map(outline).collect();
    let inside = nest::inside(sheet, &parts.parts);
    let mut left: BTreeSet<usize> = (0..outlines.len()).collect();
    let mut at = Point::ORIGIN;
    let mut order = Vec::with_capacity(outlines.len());
    while !left.is_empty() {
        let holds_one = |i: usize| left.iter().any(|j| inside[*j].is_some_and(|inside| inside.host == i));
        let free = left.iter().copied().filter(|i| !holds_one(*i));
        let way = |i: &usize| (outlines[*i].bounds().center() - at).hypot();
        // Nothing lies inside itself, so something is always free.
        let Some(next) = free.min_by(|a, b| way(a).total_cmp(&way(b))).or_else(|| left.first().copied()) else { break };
        left.remove(&next);
        at = outlines[next].bounds().center();
        order.push(next);
    }
    order
}

/// Burning at the machine's full feed and going from line to line at its full speed.
fn seconds(sheet: &BeamSheet, design: &Design) -> f64 {
    let machine = &design.process.machine;
    let lines = || sheet.parts.iter().flat_map(|p| &p.lines);
    let burnt: f64 = lines().map(|l| l.contour.length()).sum();
    let starts: Vec<Point> = lines().filter_map(|l| l.contour.vertices().first().map(|v| Point::new(v.x, v.y))).collect();
    let between: f64 = starts.windows(2).map(|w| (w[1] - w[0]).hypot()).sum();
    60.0 * (burnt / machine.feed_max_mm_min + between / machine.rapid_mm_min)
}
