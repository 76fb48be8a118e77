//! Every chosen and measured size of a design times one factor; thicknesses of boards are not among them.

use crate::design::{
    Access, Anchor, Bay, Carcass, CarcassPlace, Cell, Column, Design, Drawer, DrawerFasteners, FingerPull, FreeCut,
    FreePanel, FreeShape, KeepOut, Lip, OpenDoor, Opening, Pin, PlayAbove, PullOut, Reveal, Sides, Size, Stow, Top,
};
use crate::dim::Dim;
use crate::geom::Point3;
use crate::shop::{CutOutShape, Fastener, Latch, Slide, SlideHole, Strike};
use crate::units::Mm;
use std::sync::Arc;

/// A factor on its way through a design.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scaled(f64);

impl Scaled {
    pub(super) fn by(factor: f64) -> Self {
        Self(factor)
    }

    pub(super) fn design(self, design: &Design) -> Design {
        Design {
            bay: design.bay.as_ref().map(|b| self.bay(b)),
            carcasses: design.carcasses.iter().map(|c| self.carcass(c)).collect(),
            pull_outs: design.pull_outs.iter().map(|p| self.pull_out(p)).collect(),
            lips: design
                .lips
                .iter()
                .map(|l| Lip { height: self.dim(&l.height), screw: self.fastener(&l.screw), ..l.clone() })
                .collect(),
            panels: design.panels.iter().map(|p| self.panel(p)).collect(),
            stows: design
                .stows
                .iter()
                .map(|s| Stow { size: self.dims(&s.size), air: self.maybe(s.air.as_ref()), ..s.clone() })
                .collect(),
            pins: design.pins.iter().map(|p| Pin { value: self.dim(&p.value), ..p.clone() }).collect(),
            ..design.clone()
        }
    }

    /// A length, its name kept.
    fn dim(self, dim: &Dim) -> Dim {
        if self.0 == 1.0 {
            return dim.clone();
        }
        let scaled = dim * self.0;
        dim.name().map_or_else(|| scaled.clone(), |name| scaled.named(name))
    }

    fn dims<const N: usize>(self, dims: &[Dim; N]) -> [Dim; N] {
        dims.each_ref().map(|d| self.dim(d))
    }

    fn maybe(self, dim: Option<&Dim>) -> Option<Dim> {
        dim.map(|d| self.dim(d))
    }

    fn bay(self, bay: &Bay) -> Bay {
        let opening = |o: &Opening| Opening {
            width: self.dim(&o.width),
            height: self.dim(&o.height),
            sill: self.dim(&o.sill),
            left: self.dim(&o.left),
        };
        Bay {
            width: self.maybe(bay.width.as_ref()),
            depth: self.maybe(bay.depth.as_ref()),
            height: self.maybe(bay.height.as_ref()),
            opening: bay.opening.as_ref().map(opening),
            door: bay.door.iter().map(|(z, reach)| (self.dim(z), self.dim(reach))).collect(),
            open_doors: bay
                .open_doors
                .iter()
                .map(|d| OpenDoor { width: self.dim(&d.width), thickness: self.dim(&d.thickness), ..d.clone() })
                .collect(),
            keep_outs: bay
                .keep_outs
                .iter()
                .map(|k| KeepOut {
                    from: self.dims(&k.from),
                    size: self.dims(&k.size),
                    shape: k.shape.as_ref().map(|s| s.scaled(self.0)),
                    ..k.clone()
                })
                .collect(),
            access: bay
                .access
                .iter()
                .map(|a| Access { from: self.dims(&a.from), size: self.dims(&a.size), ..a.clone() })
                .collect(),
            anchors: bay
                .anchors
                .iter()
                .map(|a| Anchor { at: self.dims(&a.at), thread: self.fastener(&a.thread), ..a.clone() })
                .collect(),
            span: bay.span,
        }
    }

    fn size(self, size: &Size) -> Size {
        Size { outside: self.maybe(size.outside.as_ref()), clear: self.maybe(size.clear.as_ref()) }
    }

    fn sides(self, s: &Sides) -> Sides {
        Sides { front: self.dim(&s.front), back: self.dim(&s.back), left: self.dim(&s.left), right: self.dim(&s.right) }
    }

    fn carcass(self, c: &Carcass) -> Carcass {
        Carcass {
            at: match &c.at {
                CarcassPlace::At(at) => CarcassPlace::At(self.dims(at)),
                CarcassPlace::On { below, shift } => CarcassPlace::On { below: *below, shift: self.dims(shift) },
            },
            width: self.size(&c.width),
            depth: self.size(&c.depth),
            height: self.size(&c.height),
            top: c.top.as_ref().map(|t| Top { overhang: self.sides(&t.overhang), ..t.clone() }),
            columns: c.columns.iter().map(|column| self.column(column)).collect(),
            screw: self.fastener(&c.screw),
            standing_bolt: self.fastener(&c.standing_bolt),
            ..c.clone()
        }
    }

    fn column(self, column: &Column) -> Column {
        let cell = |cell: &Cell| Cell {
            height: self.maybe(cell.height.as_ref()),
            drawer: cell.drawer.as_ref().map(|d| self.drawer(d)),
            ..cell.clone()
        };
        Column { width: self.maybe(column.width.as_ref()), cells: column.cells.iter().map(cell).collect(), ..column.clone() }
    }

    fn drawer(self, d: &Drawer) -> Drawer {
        let pull = |pull: &FingerPull| match pull {
            FingerPull::Notch { width, depth } => FingerPull::Notch { width: self.dim(width), depth: self.dim(depth) },
            FingerPull::Hole { diameter } => FingerPull::Hole { diameter: self.dim(diameter) },
        };
        let r = &d.reveal;
        Drawer {
            slide: Arc::new(self.slide(&d.slide)),
            latch: d.latch.as_ref().map(|l| Arc::new(self.latch(l))),
            finger_pull: d.finger_pull.as_ref().map(pull),
            reveal: Reveal {
                left: self.dim(&r.left),
                right: self.dim(&r.right),
                top: self.dim(&r.top),
                bottom: self.dim(&r.bottom),
            },
            setback: self.dim(&d.setback),
            depth: self.maybe(d.depth.as_ref()),
            height: self.maybe(d.height.as_ref()),
            gap_under: self.dim(&d.gap_under),
            gap_over: self.dim(&d.gap_over),
            fasteners: DrawerFasteners {
                slide: self.fastener(&d.fasteners.slide),
                latch: d.fasteners.latch.as_ref().map(|f| self.fastener(f)),
                wall: self.fastener(&d.fasteners.wall),
                front: self.fastener(&d.fasteners.front),
            },
            ..d.clone()
        }
    }

    fn pull_out(self, p: &PullOut) -> PullOut {
        PullOut {
            strip_width: self.dim(&p.strip_width),
            strip_length: self.maybe(p.strip_length.as_ref()),
            length: self.maybe(p.length.as_ref()),
            play_side: self.dim(&p.play_side),
            play_above: match &p.play_above {
                PlayAbove::Washers { count, fastener } => {
                    PlayAbove::Washers { count: *count, fastener: self.fastener(fastener) }
                }
                PlayAbove::Play(play) => PlayAbove::Play(self.dim(play)),
            },
            pad: self.maybe(p.pad.as_ref()),
            stop: p.stop.as_ref().map(|f| self.fastener(f)),
            strip_bolt: self.fastener(&p.strip_bolt),
            ..p.clone()
        }
    }

    fn panel(self, p: &FreePanel) -> FreePanel {
        let cut = |cut: &FreeCut| FreeCut {
            shape: match &cut.shape {
                FreeShape::Hole { at, diameter } => FreeShape::Hole { at: self.dims(at), diameter: self.dim(diameter) },
                FreeShape::Slot { from, to, width } => {
                    FreeShape::Slot { from: self.dims(from), to: self.dims(to), width: self.dim(width) }
                }
                FreeShape::CutOut { at, size, radius } => {
                    FreeShape::CutOut { at: self.dims(at), size: self.dims(size), radius: self.dim(radius) }
                }
                FreeShape::Notch { at, size } => FreeShape::Notch { at: self.dims(at), size: self.dims(size) },
            },
            depth: self.maybe(cut.depth.as_ref()),
            span: cut.span,
        };
        FreePanel {
            size: self.dims(&p.size),
            outline: p.outline.as_ref().map(|o| o.scaled(self.0)),
            cuts: p.cuts.iter().map(cut).collect(),
            at: p.at.map(|at| Point3::new(at.x * self.0, at.y * self.0, at.z * self.0)),
            ..p.clone()
        }
    }

    fn mm(self, length: Mm) -> Mm {
        length * self.0
    }

    fn fastener(self, f: &Arc<Fastener>) -> Arc<Fastener> {
        Arc::new(Fastener {
            diameter: self.mm(f.diameter),
            clearance: f.clearance.map(|c| self.mm(c)),
            pilot: f.pilot.map(|p| self.mm(p)),
            head_diameter: self.mm(f.head_diameter),
            head_height: self.mm(f.head_height),
            washer: f.washer.map(|w| w.map(|x| self.mm(x))),
            lengths: f.lengths.iter().map(|l| self.mm(*l)).collect(),
            ..(**f).clone()
        })
    }

    fn slide(self, s: &Slide) -> Slide {
        let hole = |h: &SlideHole| SlideHole { from_front: self.mm(h.from_front), ..*h };
        Slide {
            length: self.mm(s.length),
            height: self.mm(s.height),
            thickness: self.mm(s.thickness),
            side_space: self.mm(s.side_space),
            side_space_min: self.mm(s.side_space_min),
            side_space_max: self.mm(s.side_space_max),
            travel: self.mm(s.travel),
            case_holes: s.case_holes.iter().map(hole).collect(),
            drawer_holes: s.drawer_holes.iter().map(hole).collect(),
            ..s.clone()
        }
    }

    fn latch(self, l: &Latch) -> Latch {
        let strike = &l.strike;
        Latch {
            face: l.face.map(|x| self.mm(x)),
            cut_out: match l.cut_out {
                CutOutShape::Rectangle { width, height, radius } => {
                    CutOutShape::Rectangle { width: self.mm(width), height: self.mm(height), radius: self.mm(radius) }
                }
                CutOutShape::Round { diameter } => CutOutShape::Round { diameter: self.mm(diameter) },
            },
            bolts: l.bolts.iter().map(|at| at.map(|x| self.mm(x))).collect(),
            body_depth: self.mm(l.body_depth),
            body: l.body.map(|x| self.mm(x)),
            strike: Strike {
                rise: self.mm(strike.rise),
                behind_front: self.mm(strike.behind_front),
                width: self.mm(strike.width),
                height: self.mm(strike.height),
                reach: self.mm(strike.reach),
            },
            front_thickness: (self.mm(l.front_thickness.0), self.mm(l.front_thickness.1)),
            ..l.clone()
        }
    }
}
