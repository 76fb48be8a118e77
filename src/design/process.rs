//! Machine, cutters and joint habits.

use super::bench::Bench;
use super::defaults;
use super::{codes, BoardUse, JointClearance, ProcessChoice, ReliefStyle, Saw};
use crate::diag::Finding;
use crate::project::{Length, Relief, ShopChoice};
use crate::shop::{Cutter, CutterKind, Machine, Process};
use crate::units::Mm;
use std::sync::Arc;

impl Bench<'_> {
    pub(super) fn process(&mut self, boards: &[BoardUse]) -> Option<ProcessChoice> {
        let project = self.project;
        let (choice, joints) = (&project.shop, &project.joints);
        let machine = self.machine(choice);
        let joint_clearance = JointClearance {
            glued: self.chosen_or(
                joints.glued.as_ref(),
                defaults::GLUED_CLEARANCE,
                "Clearance of glued dados and rabbets",
                "glued joint clearance",
            ),
            finger: self.chosen_or(
                joints.finger.as_ref(),
                defaults::FINGER_CLEARANCE,
                "Clearance of fingers",
                "finger clearance",
            ),
            loose: self.chosen_or(
                joints.loose.as_ref(),
                defaults::LOOSE_CLEARANCE,
                "Clearance of grooves for loose bottoms",
                "loose groove clearance",
            ),
            press: None,
        };
        let machine = machine?;
        let (part_gap, sheet_margin, web, cutters, outline_cutter) = match &machine.process {
            Process::Router(router) => {
                let cutters = self.cutters(&machine, &router.cutters);
                let outline = self.outline_cutter(choice, &cutters);
                (router.part_gap, router.sheet_margin, defaults::ROUTER_WEB, cutters, outline)
            }
            Process::Laser(_) => {
                let thickest = boards.iter().map(|b| b.thickness.nominal()).fold(defaults::LASER_WEB_FLOOR, Mm::max);
                if let Some(cutter) = &choice.outline_cutter {
                    let message = format!("machine `{}` has no cutters", machine.id);
                    self.stop(codes::CUTTER_UNSUITABLE, message, cutter.span, "take `outline_cutter` out");
                }
                (defaults::LASER_PART_GAP, defaults::LASER_SHEET_MARGIN, thickest, Vec::new(), None)
            }
        };
        let router = matches!(machine.process, Process::Router(_));
        Some(ProcessChoice {
            joint_clearance,
            relief: relief(choice, router),
            relief_extra: self.plain(
                choice.relief_extra.as_ref(),
                defaults::RELIEF_EXTRA,
                "relief beyond the cutter's radius",
            ),
            min_web: self.plain(choice.min_web.as_ref(), web, "least web"),
            part_gap: self.plain(choice.part_gap.as_ref(), part_gap, "gap between parts"),
            sheet_margin: self.plain(choice.sheet_margin.as_ref(), sheet_margin, "sheet margin"),
            split: choice.split.as_ref().is_some_and(|split| split.value),
            parts_in_openings: choice.parts_in_openings.as_ref().is_none_or(|may| may.value),
            saw: self.saw(),
            dxf_release_12: choice.dxf_release_12.as_ref().is_some_and(|release| release.value),
            machine,
            cutters,
            outline_cutter,
        })
    }

    fn saw(&mut self) -> Saw {
        let written = &self.project.saw;
        let usual = Saw::default();
        if let Some(kerf) = &written.kerf {
            self.positive(kerf, "kerf of the saw");
        }
        if let Some(turns) = written.turns.as_ref().filter(|turns| turns.value == 0) {
            self.stop(
                codes::SIZE_NOT_POSITIVE,
                "a sheet cannot be cut up without turning it once".to_owned(),
                turns.span,
                "write `turns = 1` at least",
            );
        }
        Saw {
            kerf: written.kerf.as_ref().map_or(usual.kerf, |kerf| kerf.value),
            trim: self.plain(written.trim.as_ref(), usual.trim, "trim of the saw"),
            turns: written.turns.as_ref().map_or(usual.turns, |turns| turns.value.max(1)),
        }
    }

    fn plain(&mut self, length: Option<&Length>, default: Mm, label: &str) -> Mm {
        if let Some(length) = length {
            self.zero_or_more(length, label);
        }
        length.map_or(default, |length| length.value)
    }

    fn machine(&mut self, choice: &ShopChoice) -> Option<Arc<Machine>> {
        let shop = self.shop;
        if let Some(id) = &choice.machine {
            return self.profile(&shop.machines, "machine", &id.value, Some(id.span));
        }
        let id = defaults::machine(self.project.units);
        let machine = self.profile(&shop.machines, "machine", id, None)?;
        self.assume(format!("The machine: {} (`{id}`), since `[shop] machine` is not written.", machine.name));
        Some(machine)
    }

    fn cutters(&mut self, machine: &Machine, ids: &[String]) -> Vec<Arc<Cutter>> {
        let shop = self.shop;
        let span = self.project.shop.machine.as_ref().map(|id| id.span);
        ids.iter()
            .filter_map(|id| self.profile(&shop.cutters, &format!("cutter of machine `{}`", machine.id), id, span))
            .collect()
    }

    /// The one the maker names, else the first that is no drill.
    fn outline_cutter(&mut self, choice: &ShopChoice, cutters: &[Arc<Cutter>]) -> Option<usize> {
        let Some(id) = &choice.outline_cutter else {
            let first = cutters.iter().position(|cutter| cutter.kind != CutterKind::Drill);
            if first.is_none() && !cutters.is_empty() {
                self.report(
                    Finding::stop(codes::CUTTER_UNSUITABLE, "the machine has drills only, so no outline can be cut")
                        .remedy("add a milling cutter to the machine's profile"),
                );
            }
            return first;
        };
        let index = self.find(id, "cutter on the machine", cutters.iter().map(|cutter| cutter.id.as_str()))?;
        if cutters[index].kind == CutterKind::Drill {
            let message = format!("`{}` is a drill, which cannot cut outlines", id.value);
            self.stop(codes::CUTTER_UNSUITABLE, message, id.span, "name a milling cutter");
        }
        Some(index)
    }
}

fn relief(choice: &ShopChoice, router: bool) -> ReliefStyle {
    match choice.relief.as_ref().map(|relief| relief.value) {
        Some(Relief::Diagonal) => ReliefStyle::Diagonal,
        Some(Relief::AlongEdge) => ReliefStyle::AlongEdge,
        None if router => ReliefStyle::Diagonal,
        // A beam cuts a square corner.
        Some(Relief::None) | None => ReliefStyle::None,
    }
}

/// Sheets larger than a laser's bed are cut down to it first.
pub(super) fn cut_to_bed(boards: &mut [BoardUse], process: &ProcessChoice, found: &mut Vec<Finding>) {
    if !matches!(process.machine.process, Process::Laser(_)) {
        return;
    }
    let [bed_x, bed_y, _] = process.machine.travel;
    for board in boards {
        let larger = board.stock.iter().any(|s| s.size.length > bed_x || s.size.width > bed_y);
        for stock in &mut board.stock {
            stock.size.length = stock.size.length.min(bed_x);
            stock.size.width = stock.size.width.min(bed_y);
        }
        board.stock.dedup_by(|a, b| a.size == b.size && a.count == b.count && a.price == b.price);
        if larger {
            let name = &board.name;
            found.push(
                Finding::note(
                    codes::SHEET_TO_BED,
                    format!("sheets of board \"{name}\" are larger than the bed of {bed_x} x {bed_y} mm"),
                )
                .remedy("cut them down to the bed before they are laid on it, flutes or grain along its length"),
            );
        }
    }
}
