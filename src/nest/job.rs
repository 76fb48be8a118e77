//! One board's parts and sheets on their way into the engine and back.

use super::codes;
use super::engine::{self, CutRule, Item, Packing, Problem, Settings, SheetKind, Turns};
use super::inside::{depths, inside};
use super::mates;
use super::mates::Lot;
use super::offcut;
use super::options::{Options, Progress};
use super::pricing;
use super::shape;
use super::types::{BoardBound, Effort, Placement, Sheet, Turn};
use crate::design::BoardId;
use crate::design::BoardUse;
use crate::design::Design;
use crate::diag::Finding;
use crate::flat::FlatCut;
use crate::flat::FlatPart;
use crate::flat::FlatParts;
use crate::flat::Operation;
use crate::flat::PartGrain;
use crate::geom::tolerance;
use crate::geom::Contour;
use crate::geom::Point;
use crate::geom::Rect;
use crate::geom::Vec2;
use crate::units::Mm;
use std::collections::BTreeMap;

/// The engine counts in hundredths of a millimetre.
const STEPS_PER_MM: f64 = 100.0;

/// The leftover is gathered with this part of the work, so that a usual job stays instant.
const GATHERING: u64 = 40;

/// What holds for all boards of a job.
#[derive(Clone, Copy, Debug)]
pub(super) struct Manner {
    /// Between parts; a saw's kerf.
    pub(super) gap: Mm,
    /// Along the sheets' edges; a saw's trim.
    pub(super) margin: Mm,
    /// How parts may lie.
    pub(super) cut: CutRule,
    /// What parts keep from the edges of openings they lie in; `None` where they may not lie in any.
    pub(super) openings: Option<Mm>,
}

/// One board's parts and sheets, as the engine takes them.
pub(super) struct Job<'a> {
    board: &'a BoardUse,
    id: BoardId,
    manner: Manner,
    /// Parts and mates, as the engine's items count them.
    lots: Vec<Lot>,
    /// For each kind of stock, the corner of what may be used of it.
    corners: Vec<Point>,
    problem: Problem,
}

impl<'a> Job<'a> {
    /// A job for each board that has parts.
    pub(super) fn all(design: &'a Design, parts: &FlatParts, manner: Manner) -> Vec<Self> {
        let groups = mates::groups(design, parts);
        let boards = design.boards.iter().enumerate();
        boards
            .map(|(b, board)| Self::new(board, BoardId(b), parts, &groups, manner))
            .filter(|j| !j.lots.is_empty())
            .collect()
    }

    fn new(board: &'a BoardUse, id: BoardId, all: &FlatParts, groups: &[Vec<usize>], manner: Manner) -> Self {
        let Manner { gap, margin, .. } = manner;
        let parts: Vec<usize> =
            (0..all.parts.len()).filter(|&i| all.parts[i].board == id && !all.parts[i].panels.is_empty()).collect();
        let copies = parts.iter().map(|&i| all.parts[i].panels.len() as u64).sum();
        let costs = pricing::costs(&board.stock, copies);
        let mut sheets = Vec::with_capacity(board.stock.len());
        let mut corners = Vec::with_capacity(board.stock.len());
        let mut defects: BTreeMap<usize, Vec<[i64; 4]>> = BTreeMap::new();
        for (k, (s, cost)) in board.stock.iter().zip(costs).enumerate() {
            let (mut size, mut corner) =
                ([down(s.size.length - margin * 2.0), down(s.size.width - margin * 2.0)], Point::new(margin.0, margin.0));
            let bad: Vec<[i64; 4]> = s.defects.iter().filter_map(|d| inside_margins(*d, margin, size)).collect();
            if manner.cut == CutRule::Free && !bad.is_empty() {
                defects.insert(k, bad);
            } else if !bad.is_empty() {
                // A saw works on the largest rectangle between the defects.
                let area = |r: &[i64; 4]| (r[2] - r[0]) * (r[3] - r[1]);
                let clear = engine::free_rectangles(size, &bad, 1).into_iter().max_by_key(|r| (area(r), *r));
                let [x0, y0, x1, y1] = clear.unwrap_or_default();
                size = [x1 - x0, y1 - y0];
                corner += Vec2::new(mm(x0).0, mm(y0).0);
            }
            sheets.push(SheetKind { size, count: s.count, cost });
            corners.push(corner);
        }
        let size = |i: usize| {
            let b = all.parts[i].outline.contour.bounds();
            [up(b.width()), up(b.height())]
        };
        let usable: Vec<[i64; 2]> = sheets.iter().filter(|s| s.count != Some(0)).map(|s| s.size).collect();
        let mut lots = Vec::new();
        for &i in &parts {
            let part = &all.parts[i];
            match groups.iter().find(|g| g.contains(&i)) {
                None => lots.push(Lot::single(i, size(i), part.grain, part.panels.len() as u32)),
                // The first of the mates stands for all.
                Some(group) if group[0] == i => {
                    let copies =
                        |&p: &usize| std::iter::repeat_n((p, size(p), all.parts[p].grain), all.parts[p].panels.len());
                    let list: Vec<_> = group.iter().filter(|p| all.parts[**p].board == id).flat_map(copies).collect();
                    lots.push(mates::lot(&list, up(gap.0), &usable));
                }
                Some(_) => {}
            }
        }
        // On a saw mates are parted in two more stages.
        let mates = lots.iter().any(|lot| lot.members.len() > 1);
        let cut = match manner.cut {
            CutRule::Staged(most) if mates => CutRule::Staged(most.saturating_sub(2).max(2)),
            cut => cut,
        };
        let items: Vec<Item> = lots.iter().map(|lot| lot.item).collect();
        // The smallest opening that could take a part of this job: its shorter side, and the gap to the outer part.
        let least = items.iter().map(|i| i.size[0].min(i.size[1])).min().unwrap_or(0) + up(gap.0);
        let shape = |(k, lot): (usize, &Lot)| {
            let [only] = lot.members[..] else { return None };
            let part = &all.parts[only.part];
            let inner = manner.openings.map_or_else(Vec::new, |keep| usable_openings(part, keep - gap));
            let inner: Vec<&Contour> = inner.iter().collect();
            shape::cover(&part.outline.contour, &inner, lot.item.size, STEPS_PER_MM, least).map(|s| (k, s))
        };
        let shapes = lots.iter().enumerate().filter_map(shape).collect();
        let problem = Problem { items, shapes, defects, sheets, gap: up(gap.0), cut };
        Self { board, id, manner, lots, corners, problem }
    }

    /// A stopper for each part that fits no sheet, or one for a board without any.
    pub(super) fn refuse_oversize(&self, all: &FlatParts, findings: &mut Vec<Finding>) {
        let usable: Vec<&SheetKind> =
            self.problem.sheets.iter().filter(|s| s.count != Some(0) && s.size[0] > 0 && s.size[1] > 0).collect();
        let Some(largest) = usable.iter().max_by_key(|s| s.size[0] * s.size[1]) else {
            let message = format!(
                "board {} has no sheet to cut from that is larger than twice the {} mm margin",
                self.board.name, self.manner.margin
            );
            let remedy = "give the board a sheet size or an offcut";
            findings.push(Finding::stop(codes::NO_STOCK, message).remedy(remedy).at(self.board.span));
            return;
        };
        for (k, item) in self.problem.items.iter().enumerate() {
            let fits = |s: &&&SheetKind| {
                let lies = |w: i64, h: i64| w <= s.size[0] && h <= s.size[1];
                (item.turns != Turns::Quarter && lies(item.size[0], item.size[1]))
                    || (item.turns != Turns::Fixed && lies(item.size[1], item.size[0]))
            };
            if usable.iter().any(|s| fits(&s)) {
                continue;
            }
            let part = &all.parts[self.lots[k].members[0].part];
            let message = format!(
                "{} is {} x {} mm; the largest usable sheet of board {} is {} x {} mm",
                self.name(k, all),
                mm(item.size[0]),
                mm(item.size[1]),
                self.board.name,
                mm(largest.size[0]),
                mm(largest.size[1]),
            );
            let grain = match part.grain {
                PartGrain::AlongX => ", its length along the sheet's grain",
                PartGrain::AlongY => ", its width along the sheet's grain",
                PartGrain::Any => ", turned either way",
            };
            findings.push(
                Finding::stop(codes::PART_OVER_SHEET, message)
                    .limit(format!("sheet less {} mm margin on every side{grain}", self.manner.margin))
                    .remedy("make the part smaller, free its grain, or name a larger sheet")
                    .part(&part.id)
                    .at(part.span),
            );
        }
    }

    /// The name of a part, or of mates.
    fn name(&self, lot: usize, all: &FlatParts) -> String {
        let mut names: Vec<&str> = self.lots[lot].members.iter().map(|m| all.parts[m.part].name.as_str()).collect();
        names.dedup();
        names.join(" beside ")
    }

    /// Packs the board once; `ways` is in how many ways that is tried.
    pub(super) fn pack(&self, index: usize, boards: usize, ways: usize, options: &Options<'_>) -> Packing {
        let ask = |glance: engine::Glance| {
            options.watch.is_none_or(|w| {
                w.go_on(Progress {
                    board: index,
                    boards,
                    done: glance.done,
                    sheets: glance.sheets,
                    proved_best: glance.optimal,
                })
            })
        };
        let settings = Settings {
            // The job's budget is shared evenly, so that a job of many boards takes no longer than one of few.
            work: options.effort.work() / boards.max(1) as u64 / ways.max(1) as u64,
            seed: options.seed,
            threads: options.threads,
            ask: Some(&ask),
        };
        engine::pack(&self.problem, &settings)
    }

    /// A stopper that says how much found no place.
    pub(super) fn short(&self, packing: &Packing, all: &FlatParts) -> Finding {
        let copies: u32 = packing.unplaced.iter().map(|&(k, n)| n * self.lots[k].members.len() as u32).sum();
        let size = |k: usize| mm(self.lots[k].item.size[0]).0 * mm(self.lots[k].item.size[1]).0;
        let area: f64 = packing.unplaced.iter().map(|&(k, n)| size(k) * f64::from(n)).sum();
        let names: Vec<String> = packing.unplaced.iter().map(|&(k, _)| self.name(k, all)).collect();
        let message = format!(
            "no room was found on the stock of board {} for {copies} part{} ({:.2} m²): {}",
            self.board.name,
            if copies == 1 { "" } else { "s" },
            area / 1e6,
            names.join(", "),
        );
        let mut finding = Finding::stop(codes::STOCK_SHORT, message)
            .limit(format!("{} mm between parts and {} mm along the edges", self.manner.gap, self.manner.margin))
            .remedy("add a sheet or an offcut to the board's stock")
            .at(self.board.span);
        for member in packing.unplaced.iter().flat_map(|&(k, _)| &self.lots[k].members) {
            finding = finding.part(&all.parts[member.part].id);
        }
        finding
    }

    /// Layouts on the same sheets, each with another leftover; the packing's own comes first.
    pub(super) fn variants(
        &self,
        packing: &Packing,
        all: &FlatParts,
        options: &Options<'_>,
        (index, boards): (usize, usize),
    ) -> Vec<Vec<Sheet>> {
        // Who ended the search does not want to wait for its tidying either.
        let sheets = packing.sheets.len();
        let glance = Progress { board: index, boards, done: 1.0, sheets, proved_best: packing.optimal };
        let ended = options.watch.is_some_and(|w| !w.go_on(glance));
        let effort = options.effort.min(if ended { Effort::Quick } else { Effort::Thorough });
        let settings = Settings {
            work: effort.work() / boards.max(1) as u64 / GATHERING,
            seed: options.seed,
            threads: options.threads,
            ask: None,
        };
        let least = up((offcut::LEAST_SIDE - self.manner.margin).0);
        let gathered = engine::gathered(&self.problem, packing, &settings, least);
        let in_strips = engine::in_strips(&self.problem, packing);
        let packings = std::iter::once(packing.clone()).chain(gathered).chain(in_strips);
        packings.map(|packing| self.read_back(&packing, all)).collect()
    }

    /// Its board.
    pub(super) fn board(&self) -> BoardId {
        self.id
    }

    /// How near a packing is to the best there can be.
    pub(super) fn bound(&self, packing: &Packing) -> BoardBound {
        BoardBound {
            board: self.id,
            sheets: packing.sheets.len() as u32,
            sheets_at_least: engine::fewest_sheets(&self.problem),
            proved_best: packing.optimal,
        }
    }

    /// Whether the engine is asked the same as by another job of the board.
    pub(super) fn asks_the_same(&self, other: &Self) -> bool {
        self.problem.shapes == other.problem.shapes
    }

    /// Puts parts that lie in openings of others before all that lie round them, and gives the area that parts take, what lies in
    /// another counted once.
    fn put_in_order(&self, sheet: &mut Sheet, all: &FlatParts) -> f64 {
        let depths = match self.manner.openings {
            Some(_) => depths(&inside(sheet, &all.parts)),
            None => vec![(0, 0); sheet.placements.len()],
        };
        let mut laid: Vec<(u32, Placement)> = depths.iter().map(|d| d.0).zip(sheet.placements.iter().copied()).collect();
        laid.sort_by_key(|(depth, _)| std::cmp::Reverse(*depth));
        sheet.placements = laid.iter().map(|(_, p)| *p).collect();
        laid.iter().filter(|(d, _)| *d == 0).map(|(_, p)| all.parts[p.part].outline.contour.area().abs()).sum()
    }

    /// Turns the engine's sheets into the layout's.
    fn read_back(&self, packing: &Packing, all: &FlatParts) -> Vec<Sheet> {
        let mut sheets = Vec::with_capacity(packing.sheets.len());
        let mut copies = vec![0u32; all.parts.len()];
        for (index, packed) in packing.sheets.iter().enumerate() {
            let stock = &self.board.stock[packed.kind];
            let mut rects = Vec::new();
            let mut placements = Vec::new();
            for spot in &packed.spots {
                let lot = &self.lots[spot.item];
                for member in &lot.members {
                    let part = &all.parts[member.part];
                    copies[member.part] += 1;
                    let (within, quarters) = lot.laid(member, spot.quarters % 4);
                    let turn = Turn::ALL[usize::from(quarters)];
                    let lies = turned(part.outline.contour.bounds(), turn);
                    let [x, y] = [0, 1].map(|d| mm(spot.at[d] + within[d]).0);
                    let at = self.corners[packed.kind] + Vec2::new(x, y) - lies.origin().to_vec2();
                    rects.push(lies + at.to_vec2());
                    placements.push(Placement { part: member.part, copy: copies[member.part], turn, at });
                }
            }
            let (length, width) = (stock.size.length, stock.size.width);
            rects.extend(stock.defects.iter().map(defect_rect));
            let mut sheet = Sheet {
                board: self.id,
                number: index as u32 + 1,
                stock: packed.kind,
                length,
                width,
                offcut: offcut::largest(length, width, &rects, self.manner.gap),
                used_ratio: 0.0,
                placements,
            };
            sheet.used_ratio = self.put_in_order(&mut sheet, all) / (length.0 * width.0);
            sheets.push(sheet);
        }
        sheets
    }
}

/// A part's openings, drawn in by what is kept to their edges beyond the gap.
fn usable_openings(part: &FlatPart, beyond: Mm) -> Vec<Contour> {
    let through = part.cuts.iter().filter(|c| c.operation == Operation::ThroughInside);
    // An opening that cannot be drawn in is not used.
    let drawn_in = |c: &FlatCut| {
        if beyond > Mm::ZERO {
            return c.contour.clone().ccw().grown(-beyond.0).unwrap_or_default();
        }
        vec![c.contour.clone()]
    };
    through.flat_map(drawn_in).collect()
}

/// A defect as a rectangle in the sheet frame.
pub(super) fn defect_rect(d: &[Mm; 4]) -> Rect {
    Rect::new(d[0].0, d[1].0, d[0].0 + d[2].0, d[1].0 + d[3].0)
}

/// A defect in steps from the margin's corner, as far as it lies inside the margins; outwards to whole steps.
fn inside_margins(d: [Mm; 4], margin: Mm, size: [i64; 2]) -> Option<[i64; 4]> {
    let r = defect_rect(&d) - Vec2::new(margin.0, margin.0);
    let low = |v: f64| (v * STEPS_PER_MM + tolerance::SAME_POINT).floor().max(0.0) as i64;
    let high = |v: f64, end: i64| ((v * STEPS_PER_MM - tolerance::SAME_POINT).ceil().clamp(0.0, 1e12) as i64).min(end);
    let [x0, y0, x1, y1] = [low(r.x0), low(r.y0), high(r.x1, size[0]), high(r.y1, size[1])];
    (x0 < x1 && y0 < y1).then_some([x0, y0, x1, y1])
}

/// Bounds after turning counter-clockwise about the frame's origin.
pub(super) fn turned(r: Rect, turn: Turn) -> Rect {
    match turn {
        Turn::None => r,
        Turn::Quarter => Rect::new(-r.y1, r.x0, -r.y0, r.x1),
        Turn::Half => Rect::new(-r.x1, -r.y1, -r.x0, -r.y0),
        Turn::ThreeQuarter => Rect::new(r.y0, -r.x1, r.y1, -r.x0),
    }
}

/// A length in steps, never shorter than it is.
fn up(length: f64) -> i64 {
    ((length - tolerance::SAME_POINT) * STEPS_PER_MM).ceil().clamp(0.0, 1e12) as i64
}

/// A length in steps, never longer than it is.
fn down(length: Mm) -> i64 {
    ((length.0 + tolerance::SAME_POINT) * STEPS_PER_MM).floor().clamp(0.0, 1e12) as i64
}

fn mm(steps: i64) -> Mm {
    Mm(steps as f64 / STEPS_PER_MM)
}
