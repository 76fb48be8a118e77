//! One sheet in one set-up: its parts in the program frame, heights, and the choice of cutter for a cut.

use super::centre::{self, along_edge, Waste};
use super::codes;
use super::cuts;
use super::edge::Setting;
use super::laid::{Laid, Place};
use super::moves::{Feeds, Moves};
use super::narrow;
use super::passes;
use super::path::{Path, Seg};
use super::room::{self, Room};
use super::screws;
use super::store::{Centre, Slug, Store};
use super::{Block, Move, SheetSide, Work};
use crate::design::Design;
use crate::diag::Finding;
use crate::flat::{FlatCut, FlatPart, Operation};
use crate::geom::{tolerance, Contour, Point, Rect, Region};
use crate::nest::{self, Inside, Placement, Sheet};
use crate::shop::{Cutter, CutterKind, Machine, Material, Router, ZZero};
use std::rc::Rc;
use std::sync::Arc;

/// Kinds of work in the order they are done on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Phase {
    /// Holes for hold-down screws.
    HoldDown,
    /// Registration holes.
    Register,
    /// Drilled and bored holes.
    Drill,
    /// Pockets and grooves, screw seats.
    Pocket,
    /// Openings.
    Inner,
    /// Outlines, and openings that hold other parts, by rank: inmost parts first, small before big.
    Outline(u32),
}

impl Phase {
    /// What it is called in times and restart points.
    pub(super) fn work(self) -> Work {
        match self {
            Self::HoldDown => Work::HoldDown,
            Self::Register => Work::Registration,
            Self::Drill => Work::Holes,
            Self::Pocket => Work::Pockets,
            Self::Inner => Work::Openings,
            Self::Outline(_) => Work::Outlines,
        }
    }
}

/// One cut, ready to be put in order.
#[derive(Debug)]
pub(super) struct Op {
    pub(super) phase: Phase,
    /// Index into the design's cutters.
    pub(super) cutter: usize,
    pub(super) block: Block,
}

/// One sheet in one set-up.
#[derive(Debug)]
pub(super) struct Bench<'a> {
    pub(super) design: &'a Design,
    pub(super) machine: &'a Machine,
    pub(super) router: &'a Router,
    pub(super) material: Material,
    pub(super) sheet: Rect,
    pub(super) laid: Vec<Laid<'a>>,
    /// Which of them lie in openings of others.
    inside: Vec<Option<Inside>>,
    /// Thickest reading.
    pub(super) top: f64,
    pub(super) thickness: f64,
    /// Bottom of through cuts.
    pub(super) through: f64,
    pub(super) clearance: f64,
    pub(super) found: Vec<Finding>,
    /// Middles of hold-down screws, kept clear.
    pub(super) screws: Vec<Point>,
    /// Tabs that stand already, which no lead may cut.
    pub(super) tabs: Vec<Contour>,
    /// Where leads of outlines run, with their cutter's radius: no tab may stand there.
    pub(super) leads: Vec<(Seg, f64)>,
    store: &'a Store,
}

impl<'a> Bench<'a> {
    /// Lays the parts of a sheet; `None` when nothing lies on it.
    pub(super) fn new(
        design: &'a Design,
        router: &'a Router,
        parts: &'a [FlatPart],
        sheet: &Sheet,
        side: SheetSide,
        store: &'a Store,
    ) -> Option<Self> {
        let over = (side == SheetSide::Second).then_some(sheet.width.0);
        let mut found = Vec::new();
        let inside = nest::inside(sheet, parts);
        let depths = nest::depths(&inside);
        let lay = |(p, (nested, outermost)): (&Placement, (u32, usize))| -> Option<Laid<'a>> {
            let part = parts.get(p.part)?;
            let place = Place::new(p, over);
            let outline = place.contour(&part.outline.contour).ccw();
            Some(Laid { part, index: p.part, copy: p.copy, place, outline, nested, outermost })
        };
        let laid: Vec<Laid<'a>> = sheet.placements.iter().zip(depths).filter_map(lay).collect();
        let thickness = laid.iter().map(|l| l.part.thickness.0).fold(0.0, f64::max);
        let top = laid.iter().map(|l| l.part.thickness_max.0).fold(thickness, f64::max);
        let board = design.boards.get(sheet.board.0)?;
        let spread = if router.z_zero == ZZero::SheetTop { top - thickness } else { 0.0 };
        let wanted = -(router.overcut.0 + spread);
        let through = wanted.max(-router.floor.0.max(0.0));
        if through > wanted {
            found.push(
                Finding::caution(
                    codes::FLOOR_REACHED,
                    format!(
                        "through cuts stop at the machine's floor, {} below the sheet, where {} is wanted",
                        router.floor,
                        crate::units::Mm(-wanted)
                    ),
                )
                .remedy("lower the floor, or measure the sheets closer"),
            );
        }
        // Over the heads of screws there is as much air again as over a bare sheet, 5 mm at least (trade pages).
        let heads = router.habits.screws.map_or(0.0, |s| s.head_height.0 + screws::OVER_HEAD);
        let clearance = top + router.clearance.0.max(heads);
        (!laid.is_empty()).then(|| Self {
            design,
            machine: &design.process.machine,
            router,
            material: board.profile.material,
            sheet: Rect::new(0.0, 0.0, sheet.length.0, sheet.width.0),
            laid,
            inside,
            top,
            thickness,
            through,
            clearance,
            found,
            screws: Vec::new(),
            tabs: Vec::new(),
            leads: Vec::new(),
            store,
        })
    }

    pub(super) fn cutter(&self, index: usize) -> &'a Arc<Cutter> {
        &self.design.process.cutters[index]
    }

    /// Whether parts lie in an opening of part `i`.
    pub(super) fn hosts(&self, i: usize, cut: &FlatCut) -> bool {
        let is = |inside: &Inside| self.laid[i].part.cuts.get(inside.cut).is_some_and(|c| std::ptr::eq(c, cut));
        self.inside.iter().flatten().any(|inside| inside.host == i && is(inside))
    }

    /// How many holes of a diameter there are on the sheet.
    pub(super) fn holes_of(&self, diameter: f64) -> usize {
        let alike = |c: &&FlatCut| match c.operation {
            Operation::Drill { diameter: d, .. } => (d.0 - diameter).abs() <= tolerance::DRILL_MATCH,
            _ => false,
        };
        self.laid.iter().map(|l| l.part.cuts.iter().filter(alike).count()).sum()
    }

    /// Whether a cutter's profile has a chip load for the sheet's material; without one it is not used.
    pub(super) fn cuts_this(&self, cutter: &Cutter) -> bool {
        cutter.chip_load.contains_key(&self.material)
    }

    /// Indices of cutters that run sideways: the outline cutter first, then the widest.
    pub(super) fn cutters(&self) -> Vec<usize> {
        let all = &self.design.process.cutters;
        let outline = self.design.process.outline_cutter;
        let mut list: Vec<usize> = (0..all.len()).filter(|i| all[*i].kind != CutterKind::Drill).collect();
        list.sort_by(|a, b| {
            (Some(*b) == outline)
                .cmp(&(Some(*a) == outline))
                .then(all[*b].diameter.total_cmp(&all[*a].diameter))
                .then(a.cmp(b))
        });
        list
    }

    /// Whether a cutter's edges are long enough for a cut down to a height.
    pub(super) fn long_enough(&self, cutter: &Cutter, floor: f64) -> bool {
        cutter.flute_length.0 + tolerance::NO_MOVE >= self.top - floor + passes::FLUTE_SPARE
    }

    /// The first cutter, in order of [`Bench::cutters`], that fits, is long enough, and is not a compression cutter whose up-cut
    /// part is longer than a blind cut is deep. Otherwise the finding that says why not.
    pub(super) fn pick(
        &self,
        i: usize,
        cut: &FlatCut,
        floor: f64,
        fits: &dyn Fn(f64) -> bool,
    ) -> Result<usize, Box<Finding>> {
        let part = self.laid[i].part;
        let (mut short, mut shallow, mut unknown) = (None, None, None);
        for index in self.cutters() {
            let cutter = self.cutter(index);
            if !fits(cutter.diameter.0 / 2.0) {
                continue;
            }
            if !self.cuts_this(cutter) {
                unknown = unknown.or(Some(index));
                continue;
            }
            let blind = floor > self.through + tolerance::EDGE_REACHED;
            if let CutterKind::Compression { up_cut } = cutter.kind {
                if blind && self.thickness - floor < up_cut.0 {
                    shallow = shallow.or(Some((index, up_cut)));
                    continue;
                }
            }
            if !self.long_enough(cutter, floor) {
                short = short.or(Some(index));
                continue;
            }
            return Ok(index);
        }
        let what = format!("{} {}", part.id, cut.feature);
        let finding = if let Some(index) = short {
            let cutter = self.cutter(index);
            Finding::stop(
                codes::FLUTE_SHORT,
                format!(
                    "{}'s edges are {} long; {what} needs {:.1}",
                    cutter.name,
                    cutter.flute_length,
                    self.top - floor + passes::FLUTE_SPARE
                ),
            )
            .limit("depth of cut plus 2 mm, common practice")
            .remedy("use a cutter with longer edges")
        } else if let Some((index, up_cut)) = shallow {
            let name = &self.cutter(index).name;
            Finding::stop(
                codes::COMPRESSION_SHALLOW,
                format!("{what} is {:.1} deep; {name} cuts upwards over its lowest {up_cut}", self.thickness - floor),
            )
            .limit("the cutter's up-cut part")
            .remedy("add an up-cut or down-cut cutter to those at hand")
        } else if let Some(index) = unknown {
            let name = &self.cutter(index).name;
            Finding::stop(
                codes::CHIP_UNKNOWN,
                format!("{name} would fit {what}, but has no chip load for {}", passes::words(self.material)),
            )
            .remedy("give the chip load in the cutter's profile, or add another cutter")
        } else {
            let remedy = centre::widest(fits).map_or_else(
                || "make the cut wider".to_owned(),
                |d| format!("the widest cutter that would is {d:.1} mm: add one, or make the cut wider"),
            );
            let stays = self.stays(i, cut).map_or(String::new(), |stays| format!(": {stays}"));
            Finding::stop(codes::NO_CUTTER, format!("no cutter at hand fits {what}{stays}")).remedy(remedy)
        };
        Err(Box::new(finding.part(&part.id).at(cut.span)))
    }

    /// Feeds for passes at these heights, findings kept.
    pub(super) fn feeds(&mut self, cutter: &Cutter, heights: &[f64]) -> Feeds {
        let pass = passes::deepest(self.top, heights);
        if pass > cutter.pass_depth.0 + tolerance::EDGE_REACHED && cutter.kind != CutterKind::Drill {
            self.found.push(
                Finding::caution(
                    codes::FIRST_PASS_DEEP,
                    format!("{}'s first pass is {pass:.1} mm, its usual pass {}", cutter.name, cutter.pass_depth),
                )
                .limit("the cutter's profile")
                .remedy("use a compression cutter with a shorter up-cut part"),
            );
        }
        passes::feeds(cutter, self.material, self.machine, self.router, pass, &mut self.found)
    }

    /// What stays the same for cuts of a cutter at these heights.
    pub(super) fn setting(&mut self, cutter: &Cutter, heights: &[f64]) -> Setting {
        let feeds = self.feeds(cutter, heights);
        Setting {
            top: self.top,
            clearance: self.clearance,
            ramp_angle: self.router.ramp_angle,
            centre_cutting: cutter.centre_cutting,
            feeds,
        }
    }

    /// Surroundings of a way of part `i` with these finished edges of its own.
    pub(super) fn room(&self, i: usize, path: &Path, own: Vec<Contour>, radius: f64, waste: f64) -> Room {
        let reach = room::reach(radius, &self.router.hold_down);
        let around = path.segments().fold(None, |r: Option<Rect>, (_, s)| {
            let b = Rect::from_points(s.from, s.to).union_pt(s.at(0.5));
            Some(r.map_or(b, |r| r.union(b)))
        });
        let around = around.unwrap_or(Rect::ZERO).inflate(reach, reach);
        let (mut keep, mut others) = (own, Vec::new());
        for (_, other) in self.laid.iter().enumerate().filter(|(j, l)| *j != i && l.outline.bounds().overlaps(around)) {
            others.push(other.outline.clone());
            // A part may lie in another's opening: that edge is near as well.
            let openings = other.part.cuts.iter().filter(|c| c.operation == Operation::ThroughInside);
            others.extend(openings.map(|c| other.contour(&c.contour)).filter(|c| c.bounds().overlaps(around)));
        }
        keep.extend(self.tabs.iter().filter(|t| t.bounds().overlaps(around)).cloned());
        let heads = self.screws.iter().filter(|p| around.contains(**p));
        keep.extend(heads.filter_map(|p| Contour::circle(*p, screws::kept_clear(self.router)).ok()));
        let clean: Vec<Rect> = self.laid[i].part.keep_clean.iter().map(|r| self.laid[i].place.rect(*r)).collect();
        let leads = self.leads.iter().filter(|(lead, r)| lead.bounds().inflate(*r, *r).overlaps(around)).copied().collect();
        Room::new(path, [&keep, &others], &clean, self.sheet, radius, waste).beside(leads, self.laid[i].nested > 0)
    }

    /// A block of part `i` for a cut.
    pub(super) fn block(&self, i: usize, cut: &FlatCut, phase: Phase, start: Point, moves: Vec<Move>) -> Block {
        let laid = &self.laid[i];
        let label = format!("{} {} {}", laid.part.id, laid.copy, cut.feature);
        Block {
            placement: Some(i),
            feature: cut.feature.clone(),
            label,
            // Openings that hold parts wait among the outlines.
            work: if cut.operation == Operation::ThroughInside { Work::Openings } else { phase.work() },
            restart: None,
            tabs: None,
            start,
            moves,
        }
    }

    /// Tool-centre contours of a cut of part `i`, in its face frame.
    pub(super) fn centre(&self, i: usize, cut: &FlatCut, radius: f64) -> Rc<Centre> {
        let laid = &self.laid[i];
        self.store.centre(laid.of(cut), radius, || {
            let region = laid.region(cut, radius);
            let waste = Waste::of(cut);
            let edge = if waste == Waste::Outside { region.outer } else { region.outer.cw() };
            along_edge(&edge, &region.inner, waste, radius)
        })
    }

    /// Whether a cutter of this radius reaches all of a cut of part `i`.
    pub(super) fn fits(&self, i: usize, cut: &FlatCut, radius: f64) -> bool {
        matches!(*self.centre(i, cut, radius), Ok(Some(_)))
    }

    /// What the narrowest cutter for the board would leave of a cut of part `i`, and where, in words.
    fn stays(&self, i: usize, cut: &FlatCut) -> Option<String> {
        let laid = &self.laid[i];
        let index = self.cutters().into_iter().rev().find(|k| self.cuts_this(self.cutter(*k)))?;
        let cutter = self.cutter(index);
        let radius = cutter.diameter.0 / 2.0;
        let waste = Waste::of(cut);
        let left = narrow::left_by(&centre::all_of(laid.region(cut, radius), waste, radius).ok()?, radius).ok()?;
        let worst = left.iter().max_by(|a, b| a.area().total_cmp(&b.area()))?;
        let area: f64 = left.iter().map(Region::area).sum();
        let at = laid.place.unfaced(worst.outer.bounds().center());
        Some(format!("{} would leave {area:.1} mm² uncut, at ({:.1}, {:.1}) of the part", cutter.name, at.x, at.y))
    }

    /// What falls out of an opening of part `i` cut with a cutter of this diameter.
    pub(super) fn slug(&self, i: usize, cut: &FlatCut, across: f64) -> Slug {
        let laid = &self.laid[i];
        self.store.slug(laid.of(cut), across, || cuts::slug(&laid.region(cut, across / 2.0), across))
    }

    /// Moves that clear a cut of part `i`, computed once for all copies: from the face frame to the program frame.
    pub(super) fn cleared(
        &self,
        i: usize,
        cut: &FlatCut,
        numbers: [f64; 4],
        work: impl FnOnce() -> Option<Moves>,
    ) -> Option<(Point, Vec<Move>)> {
        let laid = &self.laid[i];
        let moves = self.store.cleared(laid.of(cut), numbers, work)?;
        Some((laid.place.lay_point(moves.start), moves.list.iter().map(|m| laid.lay_move(*m)).collect()))
    }

    /// A finding about an offset that failed.
    pub(super) fn unreliable(&mut self, i: usize, cut: &FlatCut) {
        let part = self.laid[i].part;
        self.found.push(
            Finding::stop(codes::UNRELIABLE, format!("the tool path of {} {} could not be computed", part.id, cut.feature))
                .part(&part.id)
                .at(cut.span)
                .remedy("change the shape a little, by a tenth of a millimetre"),
        );
    }
}
