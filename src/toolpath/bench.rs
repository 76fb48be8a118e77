//! One sheet in one set-up: its parts in the program frame, heights, and the choice of cutter for a cut.

use super::codes;
use super::edge::Setting;
use super::moves::{Feeds, Moves};
use super::passes;
use super::path::Path;
use super::room::Room;
use super::{Block, SheetSide};
use crate::design::Design;
use crate::diag::Finding;
use crate::flat::{FlatCut, FlatPart, Operation};
use crate::geom::{tolerance, Contour, Point, Rect, Vec2};
use crate::nest::{Placement, Sheet};
use crate::shop::{Cutter, CutterKind, Machine, Material, Router, ZZero};
use std::sync::Arc;

/// Kinds of work in the order they are done on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Phase {
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

/// One cut, ready to be put in order.
#[derive(Debug)]
pub(super) struct Op {
    pub(super) phase: Phase,
    /// Index into the design's cutters.
    pub(super) cutter: usize,
    pub(super) block: Block,
}

/// A part in the program frame.
#[derive(Debug)]
pub(super) struct Laid<'a> {
    pub(super) part: &'a FlatPart,
    pub(super) copy: u32,
    place: Place,
    pub(super) outline: Contour,
    /// In how many other parts' openings it lies.
    pub(super) nested: u32,
}

/// From a part's frame to the program frame.
#[derive(Clone, Copy, Debug)]
struct Place {
    turns: u32,
    by: Vec2,
    /// Sheet width when the sheet is turned over about its x axis.
    over: Option<f64>,
}

impl Place {
    fn contour(&self, c: &Contour) -> Contour {
        let laid = c.quarter_turned(self.turns).moved(self.by);
        match self.over {
            None => laid,
            Some(width) => laid.mirrored_x().quarter_turned(2).moved(Vec2::new(0.0, width)),
        }
    }

    fn point(&self, p: Point) -> Point {
        let (x, y) = match self.turns % 4 {
            0 => (p.x, p.y),
            1 => (-p.y, p.x),
            2 => (-p.x, -p.y),
            _ => (p.y, -p.x),
        };
        let laid = Point::new(x, y) + self.by;
        self.over.map_or(laid, |width| Point::new(laid.x, width - laid.y))
    }

    fn rect(&self, r: Rect) -> Rect {
        Rect::from_points(self.point(Point::new(r.x0, r.y0)), self.point(Point::new(r.x1, r.y1)))
    }
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
    /// Thickest reading.
    pub(super) top: f64,
    pub(super) thickness: f64,
    /// Bottom of through cuts.
    pub(super) through: f64,
    pub(super) clearance: f64,
    pub(super) found: Vec<Finding>,
}

impl<'a> Bench<'a> {
    /// Lays the parts of a sheet; `None` when nothing lies on it.
    pub(super) fn new(
        design: &'a Design,
        router: &'a Router,
        parts: &'a [FlatPart],
        sheet: &Sheet,
        side: SheetSide,
    ) -> Option<Self> {
        let over = (side == SheetSide::Second).then_some(sheet.width.0);
        let mut found = Vec::new();
        let lay = |p: &Placement| -> Option<Laid<'a>> {
            let part = parts.get(p.part)?;
            let place = Place { turns: p.turn.degrees() / 90, by: p.at.to_vec2(), over };
            Some(Laid { part, copy: p.copy, place, outline: place.contour(&part.outline.contour).ccw(), nested: 0 })
        };
        let mut laid: Vec<Laid<'a>> = sheet.placements.iter().filter_map(lay).collect();
        for i in 0..laid.len() {
            let inside = (0..laid.len()).filter(|j| *j != i && in_opening_of(&laid[*j], &laid[i])).count();
            laid[i].nested = inside as u32;
        }
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
        let clearance = top + router.clearance.0;
        (!laid.is_empty()).then(|| Self {
            design,
            machine: &design.process.machine,
            router,
            material: board.profile.material,
            sheet: Rect::new(0.0, 0.0, sheet.length.0, sheet.width.0),
            laid,
            top,
            thickness,
            through,
            clearance,
            found,
        })
    }

    pub(super) fn cutter(&self, index: usize) -> &'a Arc<Cutter> {
        &self.design.process.cutters[index]
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
        part: &FlatPart,
        cut: &FlatCut,
        floor: f64,
        fits: &dyn Fn(f64) -> bool,
    ) -> Result<usize, Box<Finding>> {
        let (mut short, mut shallow) = (None, None);
        for index in self.cutters() {
            let cutter = self.cutter(index);
            if !fits(cutter.diameter.0 / 2.0) {
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
        } else {
            let remedy = super::centre::widest(fits).map_or_else(
                || "make the cut wider".to_owned(),
                |d| format!("the widest cutter that would is {d:.1} mm: add one, or make the cut wider"),
            );
            Finding::stop(codes::NO_CUTTER, format!("no cutter at hand fits {what}")).remedy(remedy)
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
    pub(super) fn room(&self, i: usize, path: &Path, mut own: Vec<Contour>, radius: f64, waste: f64) -> Room {
        let reach = 4.0 * radius;
        let around = path.segments().fold(None, |r: Option<Rect>, (_, s)| {
            let b = Rect::from_points(s.from, s.to).union_pt(s.at(0.5));
            Some(r.map_or(b, |r| r.union(b)))
        });
        let around = around.unwrap_or(Rect::ZERO).inflate(reach, reach);
        for (_, other) in self.laid.iter().enumerate().filter(|(j, l)| *j != i && l.outline.bounds().overlaps(around)) {
            own.push(other.outline.clone());
            // A part may lie in another's opening: that edge is near as well.
            let openings = other.part.cuts.iter().filter(|c| c.operation == Operation::ThroughInside);
            own.extend(openings.map(|c| other.contour(&c.contour)).filter(|c| c.bounds().overlaps(around)));
        }
        let clean = self.laid[i].part.keep_clean.iter().map(|r| self.laid[i].place.rect(*r)).collect();
        Room { edges: own, radius, sheet: self.sheet, clean, waste }
    }

    /// A block of part `i` for a cut.
    pub(super) fn block(&self, i: usize, cut: &FlatCut, moves: Moves) -> Block {
        let laid = &self.laid[i];
        let label = format!("{} {} {}", laid.part.id, laid.copy, cut.feature);
        Block { placement: Some(i), feature: cut.feature.clone(), label, start: moves.start, moves: moves.list }
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

impl Laid<'_> {
    pub(super) fn contour(&self, c: &Contour) -> Contour {
        self.place.contour(c)
    }

    pub(super) fn point(&self, p: Point) -> Point {
        self.place.point(p)
    }
}

/// Whether a part lies in an opening of another.
fn in_opening_of(host: &Laid, part: &Laid) -> bool {
    if !host.outline.bounds().overlaps(part.outline.bounds()) {
        return false;
    }
    let mut openings = host.part.cuts.iter().filter(|c| c.operation == Operation::ThroughInside);
    openings.any(|c| host.contour(&c.contour).ccw().holds(&part.outline))
}
