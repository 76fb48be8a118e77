//! The bay: tape readings as sources.

use super::bench::Bench;
use super::defaults::{PRACTICE, TAPE_UNCERTAINTY};
use super::{codes, Access, Anchor, Bay, KeepOut, OpenDoor, Opening};
use crate::diag::{Finding, Span};
use crate::dim::{Dim, Source, SourceKind};
use crate::project;
use crate::units::Mm;

/// No door of a vehicle turns further than this from shut, in degrees.
const WIDEST_DOOR_DEG: f64 = 275.0;
/// Bolts that may have to come out before a hand gets at something, at the roadside (checklist FM16, from memory).
const MOST_BOLTS: u32 = 4;
/// Thickness of a door's leaf where nothing is written. Common practice, no source.
const DOOR_THICKNESS: Mm = Mm(60.0);

impl Bench<'_> {
    pub(super) fn bay(&mut self) -> Option<Bay> {
        let project = self.project;
        let Some(written) = &project.bay else {
            self.report(
                Finding::note(codes::NO_BAY, "there is no bay, so nothing was checked against the vehicle")
                    .remedy("add `[bay]` with width, depth and height to have the fit checked"),
            );
            return None;
        };
        let width = written.width.as_ref().and_then(|m| self.measured(m, "bay width"));
        let depth = written.depth.as_ref().and_then(|m| self.measured(m, "bay depth"));
        let height = written.height.as_ref().and_then(|m| self.measured(m, "bay height"));
        if let Some(square) = &written.square {
            self.closure(square);
        }
        Some(Bay {
            opening: written.opening.as_ref().and_then(|opening| self.opening(opening, width.as_ref(), height.as_ref())),
            width,
            depth,
            height,
            door: self.door(&written.door),
            open_doors: written.open_doors.iter().filter_map(|d| self.open_door(d)).collect(),
            keep_outs: written.keep_outs.iter().flat_map(|k| self.keep_out(k)).collect(),
            access: written.access.iter().filter_map(|a| self.access(a)).collect(),
            anchors: written.anchors.iter().filter_map(|a| self.anchor(a)).collect(),
            span: Some(written.span),
        })
    }

    /// The least reading rules.
    fn measured(&mut self, measured: &project::Measured, label: &str) -> Option<Dim> {
        if let Some(uncertainty) = &measured.uncertainty {
            self.zero_or_more(uncertainty, &format!("uncertainty of the {label}"));
        }
        let uncertainty = measured.uncertainty.as_ref().map(|u| u.value.abs());
        let mut dims = Vec::new();
        for (index, reading) in measured.readings.iter().enumerate() {
            self.positive(reading, label);
            self.check_bay(reading, label);
            let called = match measured.places.get(index) {
                Some(place) => format!("{label} at {place}"),
                None => format!("{label} reading {}", index + 1),
            };
            dims.push(self.reading(reading.value, reading.span, &called, uncertainty));
        }
        Dim::least(dims).map(|dim| dim.named(label))
    }

    /// One tape reading; `uncertainty` as the maker gave it.
    pub(super) fn reading(&mut self, value: Mm, span: Span, label: &str, uncertainty: Option<Mm>) -> Dim {
        let basis = if uncertainty.is_some() {
            "uncertainty written in the project".to_owned()
        } else {
            self.assume(format!(
                "Tape readings without an uncertainty: taken as within {} either way ({PRACTICE}).",
                self.show(TAPE_UNCERTAINTY)
            ));
            format!("default for a tape, {PRACTICE}")
        };
        let reach = uncertainty.unwrap_or(TAPE_UNCERTAINTY);
        Dim::source(Source {
            key: format!("reading:{label}"),
            label: label.to_owned(),
            kind: SourceKind::Reading,
            nominal: value,
            minus: reach,
            plus: reach,
            basis,
            span: Some(span),
        })
    }

    fn taped<const N: usize>(&mut self, point: &project::Written<[Mm; N]>, label: &str, axes: [&str; N]) -> [Dim; N] {
        let mut index = 0;
        point.value.map(|value| {
            let label = format!("{label} {}", axes[index]);
            index += 1;
            self.reading(value, point.span, &label, None).named(label)
        })
    }

    fn opening(&mut self, opening: &project::Opening, bay_width: Option<&Dim>, bay_height: Option<&Dim>) -> Option<Opening> {
        let mut one = |length: &Option<project::Length>, label: &str, positive: bool| -> Option<Dim> {
            let label = format!("opening {label}");
            length.as_ref().map(|length| {
                if positive {
                    self.positive(length, &label);
                }
                self.reading(length.value, length.span, &label, None).named(label)
            })
        };
        let (width, height) = (one(&opening.width, "width", true), one(&opening.height, "height", true));
        let (sill, left) = (one(&opening.sill, "sill", false), one(&opening.left, "left", false));
        let sill = sill.unwrap_or_else(|| self.assumed(Mm::ZERO, "Sill of the opening over the floor", "opening sill"));
        let left = left.or_else(|| Some(self.centred(width.as_ref()?, bay_width)));
        for (dim, room, label) in [(&width, bay_width, "opening width"), (&height, bay_height, "opening height")] {
            if let Some(dim) = dim {
                self.check_against(dim.nominal(), room.map(Dim::nominal), label, opening.span);
            }
        }
        self.lost |= width.is_none() || height.is_none();
        Some(Opening { width: width?, height: height?, sill, left: left? })
    }

    /// The left of an opening that is written without: centred in the bay, or at its left when the bay has no width.
    fn centred(&mut self, opening_width: &Dim, bay_width: Option<&Dim>) -> Dim {
        let Some(bay_width) = bay_width else {
            self.assume(
                "The load opening: from the bay's left, since neither its left nor the bay's width is written.".to_owned(),
            );
            return Dim::number(Mm::ZERO, "opening left");
        };
        self.assume("The load opening: centred in the bay's width, since its left is not written.".to_owned());
        ((bay_width - opening_width) * 0.5).named("opening left")
    }

    fn door(&mut self, points: &[project::Written<[Mm; 2]>]) -> Vec<(Dim, Dim)> {
        for pair in points.windows(2) {
            if pair[1].value[0] <= pair[0].value[0] {
                let message = format!(
                    "the door's point at height {} comes after the one at {}",
                    self.show(pair[1].value[0]),
                    self.show(pair[0].value[0])
                );
                self.stop(codes::DOOR_ORDER, message, pair[1].span, "list the points [height, reach] from the sill up");
            }
        }
        points
            .iter()
            .enumerate()
            .map(|(i, point)| {
                let [height, reach] = self.taped(point, &format!("door point {}", i + 1), ["height", "reach"]);
                (height, reach)
            })
            .collect()
    }

    fn open_door(&mut self, door: &project::OpenDoor) -> Option<OpenDoor> {
        let label = format!("open {} door", if door.hinge_left.as_ref()?.value { "left" } else { "right" });
        let width = door.width.as_ref()?;
        self.positive(width, &format!("width of the {label}"));
        let angle = door.angle_deg.as_ref()?;
        if angle.value > WIDEST_DOOR_DEG {
            let message = format!("the {label} is said to open to {} degrees", angle.value);
            self.stop(codes::DOOR_ANGLE, message, angle.span, "give the angle from shut: 90 stands straight out");
        }
        let thickness = match &door.thickness {
            Some(t) => self.reading(t.value, t.span, &format!("{label} thickness"), None),
            None => self.assumed(DOOR_THICKNESS, "Thickness of an open door's leaf", "door thickness"),
        };
        Some(OpenDoor {
            hinge_left: door.hinge_left.as_ref()?.value,
            width: self.reading(width.value, width.span, &format!("{label} width"), None),
            angle: angle.value.to_radians(),
            thickness,
            span: Some(door.span),
        })
    }

    /// One solid, or one for each place it is said to stand in.
    fn keep_out(&mut self, keep_out: &project::KeepOut) -> Vec<KeepOut> {
        let name = &keep_out.name.value;
        if let Some(outline) = &keep_out.outline {
            return self.traced_keep_out(keep_out, outline).into_iter().collect();
        }
        let first = self.boxed(keep_out, keep_out.from.as_ref(), name.clone());
        let others = keep_out.also_from.iter().enumerate();
        let others: Vec<Option<KeepOut>> =
            others.map(|(i, from)| self.boxed(keep_out, Some(from), format!("{name}, place {}", i + 2))).collect();
        first.into_iter().chain(others.into_iter().flatten()).collect()
    }

    fn boxed(
        &mut self,
        keep_out: &project::KeepOut,
        from: Option<&project::Written<[Mm; 3]>>,
        name: String,
    ) -> Option<KeepOut> {
        if let Some(size) = &keep_out.size {
            self.all_positive(size, &format!("size of keep-out \"{name}\""));
        }
        let from = from.map(|p| self.taped(p, &name, ["left", "front", "bottom"]));
        let size = keep_out.size.as_ref().map(|p| self.taped(p, &name, ["width", "depth", "height"]));
        self.lost |= from.is_none() || size.is_none();
        Some(KeepOut { name, from: from?, size: size?, shape: None, span: Some(keep_out.span) })
    }

    fn access(&mut self, access: &project::Access) -> Option<Access> {
        let name = &access.name.value;
        if let Some(size) = &access.size {
            self.all_positive(size, &format!("size of access \"{name}\""));
        }
        let from = access.from.as_ref().map(|p| self.taped(p, name, ["left", "front", "bottom"]));
        let size = access.size.as_ref().map(|p| self.taped(p, name, ["width", "depth", "height"]));
        self.lost |= from.is_none() || size.is_none() || access.reached_from.is_none();
        Some(Access {
            name: name.clone(),
            from: from?,
            size: size?,
            from_where: access.reached_from.as_ref()?.value,
            most_bolts: access.most_bolts.as_ref().map_or(MOST_BOLTS, |bolts| bolts.value),
            span: Some(access.span),
        })
    }

    /// Reports every length of a list that is not over zero.
    pub(super) fn all_positive<const N: usize>(&mut self, lengths: &project::Written<[Mm; N]>, label: &str) {
        for value in lengths.value {
            self.positive(&project::Length { value, span: lengths.span }, label);
        }
    }

    fn anchor(&mut self, anchor: &project::Anchor) -> Option<Anchor> {
        let shop = self.shop;
        let name = &anchor.name.value;
        let at = anchor.at.as_ref().map(|p| self.taped(p, &format!("anchor {name}"), ["x", "y"]));
        let thread =
            anchor.thread.as_ref().and_then(|id| self.profile(&shop.fasteners, "fastener", &id.value, Some(id.span)));
        self.lost |= at.is_none() || thread.is_none();
        let rating_n = anchor.rating_n.as_ref().map(|rating| rating.value);
        Some(Anchor { name: name.clone(), at: at?, thread: thread?, rating_n, span: Some(anchor.span) })
    }
}
