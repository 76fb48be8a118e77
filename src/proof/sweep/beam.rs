//! A laser's files: every line half a kerf from the finished edge, in the order of burning; then the beam swept along the lines and
//! what is left held against the finished part.

use super::area;
use super::beam_edge::{self, Moved};
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::drawing::{Drawing, Drawn};
use crate::proof::fault::quoted;
use crate::proof::job::{Contour, Laser, LaserSheet, Operation, Part, Placement, Sheet};
use crate::proof::limits;
use crate::proof::pack::{file_name, sheet_name, Pack};
use crate::proof::shape::{Bounds, Pt, Ring};
use crate::proof::verdict::Rule;
use clipper2_rust::Paths64;
use std::collections::BTreeMap;

/// The rules on a laser's files.
struct Rules {
    covered: Rule,
    edge: Rule,
    order: Rule,
    gouge: Rule,
    left: Rule,
    seat: Rule,
}

/// Proves every sheet of a laser's job.
pub(super) fn check(pack: &Pack<'_>) -> Vec<Rule> {
    let mut rules = Rules {
        covered: Rule::counting(codes::NOT_SIMULATED, "laser files simulated"),
        edge: Rule::measuring(codes::BEAM_EDGE, "lines of the beam", limits::SAME_VERTEX, "mm"),
        order: Rule::counting(codes::BEAM_ORDER, "lines in order"),
        gouge: Rule::measuring(codes::GOUGE, "parts", limits::SPECK_MM2, "mm2"),
        left: Rule::measuring(codes::LEFTOVER, "parts", limits::SPECK_MM2, "mm2"),
        seat: Rule::measuring(codes::SEAT, "mates", limits::SPECK_MM2, "mm2 in the way"),
    };
    let Some(laser) = &pack.job.laser else {
        rules.covered.fault(|code| Finding::stop(code, "The job is for a laser and says nothing of the laser's files"));
        return rules.into_list();
    };
    for sheet in pack.job.sheets.iter().filter(|s| !s.placements.is_empty()) {
        let files = laser.sheets.iter().filter(|b| b.board == sheet.board && b.sheet == sheet.number);
        let drawings: Vec<(&str, &Drawing)> = files.flat_map(|b| drawings(pack, b)).collect();
        if drawings.len() != 2 {
            let read = drawings.len();
            rules.covered.fault(|code| {
                Finding::stop(code, format!("{}: {read} of its two laser files could be read", sheet_name(sheet)))
            });
        }
        for (name, drawing) in drawings {
            rules.covered.count(1);
            rules.sheet(pack, laser, sheet, name, drawing);
        }
    }
    if !laser.compensated {
        let kerf = laser.kerf_mm;
        rules.covered.remark(|code| {
            let text = format!("The laser's files hold the finished edge: run as they are, parts come out {kerf} mm small");
            Finding::note(code, text).remedy("let the laser keep half its kerf on the waste side")
        });
    }
    rules.into_list()
}

fn drawings<'a>(pack: &'a Pack<'_>, beam: &'a LaserSheet) -> impl Iterator<Item = (&'a str, &'a Drawing)> {
    beam.files.iter().filter_map(|name| pack.drawings.get(name.as_str()).map(|d| (name.as_str(), d)))
}

/// A line of the job as it should be burnt.
struct Wanted<'a> {
    contour: &'a Contour,
    /// The finished edge on the sheet.
    ring: Ring,
    placement: usize,
}

impl Rules {
    fn into_list(self) -> Vec<Rule> {
        vec![self.covered, self.edge, self.order, self.gouge, self.left, self.seat]
    }

    /// One file of one sheet.
    fn sheet(&mut self, pack: &Pack<'_>, laser: &Laser, sheet: &Sheet, name: &str, drawing: &Drawing) {
        self.size(sheet, name, drawing);
        let mut wanted = Vec::new();
        for (placement, p) in sheet.placements.iter().enumerate() {
            let Some(part) = pack.part(&p.part) else { continue };
            wanted.extend(part.contours.iter().map(|contour| Wanted {
                contour,
                ring: contour.ring.mapped(false, |at| p.place(at)),
                placement,
            }));
        }
        if wanted.len().saturating_mul(drawing.contours.len()) > limits::PAIRINGS {
            self.covered.fault(|code| Finding::stop(code, format!("{name} holds more lines than are compared")));
            return;
        }
        let found = self.lines(laser, name, drawing, &wanted);
        self.sequence(name, drawing, &wanted, &found);
        if found.iter().filter(|f| f.is_some()).count() < wanted.len() {
            return;
        }
        self.burn(pack, laser, sheet, name, drawing, &wanted, &found);
    }

    /// The page is the sheet.
    fn size(&mut self, sheet: &Sheet, name: &str, drawing: &Drawing) {
        let Some([w, h]) = drawing.page else { return };
        let off = (w - sheet.length_mm).abs().max((h - sheet.width_mm).abs());
        if off > limits::SAME_VERTEX {
            self.edge.fault(|code| Finding::stop(code, format!("{name} has a page {off:.3} mm off its sheet's size")));
        }
    }

    /// For each line drawn, the contour of the job it burns.
    fn lines(&mut self, laser: &Laser, name: &str, drawing: &Drawing, wanted: &[Wanted<'_>]) -> Vec<Option<usize>> {
        let moved = Moved::by(if laser.compensated { laser.kerf_mm / 2.0 } else { 0.0 });
        let mut taken = vec![false; wanted.len()];
        let boxes: Vec<Bounds> = wanted.iter().map(|w| moved.bounds(w.contour.operation, &w.ring)).collect();
        let mut found = Vec::with_capacity(drawing.contours.len());
        for drawn in &drawing.contours {
            self.edge.count(1);
            let bounds = drawn.ring.bounds();
            let near = (0..wanted.len()).filter(|i| {
                !taken[*i]
                    && laser.lines.layer(wanted[*i].contour.operation) == drawn.layer
                    && boxes[*i].differs(bounds) <= limits::BEAM_SEARCH
            });
            let measured = near.map(|i| (i, moved.worst(wanted[i].contour.operation, &wanted[i].ring, &drawn.ring)));
            let best = measured.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, worst)| *worst <= limits::BEAM_SEARCH);
            let Some((i, worst)) = best else {
                self.edge.fault(|code| stray(code, name, drawn));
                found.push(None);
                continue;
            };
            taken[i] = true;
            let (feature, line) = (quoted(&wanted[i].contour.feature), drawn.line);
            self.edge.figure(worst, || format!("{name} line {line}, feature {feature}"));
            if worst > limits::SAME_VERTEX {
                self.edge.fault(|code| {
                    let text = format!("{name} line {line}: the line of {feature} is {worst:.3} mm off its place");
                    Finding::stop(code, text).limit(format!("{} mm off half a kerf", limits::SAME_VERTEX))
                });
            }
            found.push(Some(i));
        }
        for (i, _) in taken.iter().enumerate().filter(|(_, taken)| !**taken) {
            self.edge.fault(|code| {
                let at = wanted[i].ring.bounds().min;
                let feature = quoted(&wanted[i].contour.feature);
                Finding::stop(code, format!("{name}: no line burns {feature} near ({:.2}, {:.2})", at.x, at.y))
            });
        }
        found
    }

    /// Part by part: marks, folds, openings, the outline; a part in another's opening before that opening.
    fn sequence(&mut self, name: &str, drawing: &Drawing, wanted: &[Wanted<'_>], found: &[Option<usize>]) {
        let mut stage: BTreeMap<usize, u32> = BTreeMap::new();
        let mut current = None;
        let mut out: Vec<(usize, &Ring)> = Vec::new();
        for (drawn, index) in drawing.contours.iter().zip(found) {
            let Some(w) = index.map(|i| &wanted[i]) else { continue };
            self.order.count(1);
            let rank = rank(w.contour.operation);
            let before = stage.get(&w.placement).copied();
            let left = current.is_some_and(|c| c != w.placement) && before.is_some();
            let lost = matches!(w.contour.operation, Operation::ThroughInside | Operation::ThroughOutside)
                .then(|| out.iter().find(|(p, hole)| *p != w.placement && inside(hole, &w.ring)))
                .flatten();
            if left || before.is_some_and(|b| b > rank) || lost.is_some() {
                self.order.fault(|code| {
                    let feature = quoted(&w.contour.feature);
                    let text = format!("{name} line {}: {feature} is burnt out of turn", drawn.line);
                    Finding::stop(code, text).limit("part by part: marks, folds, openings, outline; inner parts first")
                });
            }
            stage.insert(w.placement, rank);
            current = Some(w.placement);
            if w.contour.operation == Operation::ThroughInside {
                out.push((w.placement, &w.ring));
            }
        }
    }

    /// Sweeps the beam along every line and compares what is left.
    #[expect(clippy::too_many_arguments, reason = "the sheet with its file, its lines and what they are")]
    fn burn(
        &mut self,
        pack: &Pack<'_>,
        laser: &Laser,
        sheet: &Sheet,
        name: &str,
        drawing: &Drawing,
        wanted: &[Wanted<'_>],
        found: &[Option<usize>],
    ) {
        // Uncorrected files are run by a laser that keeps its own kerf off the edge.
        let kerf = if laser.compensated { laser.kerf_mm } else { 0.0 };
        let mut by_copy: Vec<Vec<(&Ring, Operation)>> = vec![Vec::new(); sheet.placements.len()];
        for (drawn, index) in drawing.contours.iter().zip(found) {
            let Some(w) = index.map(|i| &wanted[i]) else { continue };
            by_copy[w.placement].push((&drawn.ring, w.contour.operation));
        }
        let with_bounds = |band: Paths64| {
            let bounds = area::bounds(&band);
            (band, bounds)
        };
        let bands: Vec<(Paths64, Bounds)> = by_copy.iter().map(|lines| with_bounds(beam_edge::band(lines, kerf))).collect();
        for (i, p) in sheet.placements.iter().enumerate() {
            let Some(part) = pack.part(&p.part) else { continue };
            let finished = beam_edge::finished(part, p);
            let around = area::bounds(&finished).grown(kerf);
            let near = bands.iter().filter(|(_, bounds)| bounds.meets(around));
            let burnt: Paths64 = near.flat_map(|(band, _)| band).cloned().collect();
            let remains = area::minus(&beam_edge::cut_out(&by_copy[i]), &area::union(&burnt));
            let place = || format!("{name}, part {} copy {}", quoted(&p.part), p.copy);
            judge(&mut self.gouge, &beam_edge::gouged(&finished, &remains), &place, "taken from the finished part");
            judge(&mut self.left, &beam_edge::left(&finished, &remains, kerf), &place, "left beyond the finished part");
            self.seats(part, p, &remains, &place);
        }
    }

    /// The square mates fit into what was burnt open.
    fn seats(&mut self, part: &Part, p: &Placement, remains: &Paths64, place: &dyn Fn() -> String) {
        for seat in &part.seats {
            let ring = seat.ring.mapped(false, |at| p.place(at));
            let mate = area::squared(&area::of(&ring), -limits::CUT);
            self.seat.count(1);
            let worst = area::pieces(&area::both(&mate, remains)).iter().map(area::size).fold(0.0, f64::max);
            let words = || format!("{}, mate {} in {}", place(), quoted(&seat.mate), quoted(&seat.feature));
            self.seat.figure(worst, words);
            if worst > limits::SPECK_MM2 {
                self.seat.fault(|code| {
                    Finding::stop(code, format!("{}: {worst:.2} mm2 of board are in the way", words())).part(part.id.clone())
                });
            }
        }
    }
}

fn stray(code: crate::diag::Code, name: &str, drawn: &Drawn) -> Finding {
    let at = drawn.ring.bounds().min;
    let layer = quoted(&drawn.layer);
    let text = format!(
        "{} line {}: a line on layer {layer} near ({:.2}, {:.2}) is not half a kerf from any edge of the job",
        file_name(name),
        drawn.line,
        at.x,
        at.y
    );
    Finding::stop(code, text).remedy("make the pack again")
}

/// The largest piece of an area that should be empty.
fn judge(rule: &mut Rule, wrong: &Paths64, place: &dyn Fn() -> String, what: &str) {
    rule.count(1);
    let worst = area::pieces(wrong).iter().map(area::size).fold(0.0, f64::max);
    rule.figure(worst, || if worst > 0.0 { place() } else { "nowhere".to_owned() });
    if worst > limits::SPECK_MM2 {
        rule.fault(|code| {
            let at = area::bounds(wrong).min;
            Finding::stop(code, format!("{}: {worst:.3} mm2 {what} near ({:.2}, {:.2})", place(), at.x, at.y))
        });
    }
}

fn rank(operation: Operation) -> u32 {
    match operation {
        Operation::Mark => 0,
        Operation::Fold => 1,
        Operation::Pocket | Operation::Drill | Operation::Countersink | Operation::ThroughInside => 2,
        Operation::ThroughOutside => 3,
    }
}

fn inside(hole: &Ring, ring: &Ring) -> bool {
    let (outer, inner) = (hole.bounds(), ring.bounds());
    let within = outer.holds(inner.min) && outer.holds(inner.max);
    within && ring.0.first().is_some_and(|c| area::holds(&area::of(hole), Pt::new(c.at.x, c.at.y)))
}
