//! Drawers.

use super::bench::Bench;
use super::defaults::{FRONT_SCREW, GAP_OVER, GAP_UNDER, REVEAL, SCREW};
use super::{codes, BoardId, BottomStyle, Drawer, DrawerFasteners, FingerPull, FrontFit, JointKind, Reveal};
use crate::dim::Dim;
use crate::project::{self, Bottom, Length};
use crate::shop::{Latch, Slide};
use crate::units::Mm;

impl Bench<'_> {
    /// A drawer of the cell named; `board` and `joint` are the carcass's.
    pub(super) fn drawer(
        &mut self,
        written: &project::Drawer,
        cell: &str,
        board: Option<BoardId>,
        joint: JointKind,
    ) -> Option<Drawer> {
        let shop = self.shop;
        let name = format!("{cell} drawer");
        let slide = written.slide.as_ref().and_then(|id| self.profile(&shop.slides, "slide", &id.value, Some(id.span)));
        let latch = match &written.latch {
            Some(id) => self.profile(&shop.latches, "latch", &id.value, Some(id.span)).map(Some),
            None => Some(None),
        };
        let front = self.board_or(written.front.as_ref(), board);
        let box_board = self.board_or(written.box_board.as_ref(), board);
        let bottom_board = self.board_or(written.bottom_board.as_ref(), box_board);
        let bottom = match &written.bottom {
            Some(bottom) => match bottom.value {
                Bottom::Under => BottomStyle::Under,
                Bottom::Between => BottomStyle::Between,
                Bottom::Groove => BottomStyle::Groove,
            },
            None => self.usual_bottom(box_board, bottom_board),
        };
        let fit = match &written.overlay {
            Some(overlay) if overlay.value => FrontFit::Overlay,
            _ => FrontFit::Inset,
        };
        let setback = self.setback(written.setback.as_ref(), fit, &name);
        let (slide, latch) = (slide?, latch?);
        let drawer = Drawer {
            fasteners: self.drawer_fasteners(&slide, latch.as_deref())?,
            reveal: self.reveal(&written.reveal, &name),
            setback,
            depth: self.positive_if(written.depth.as_ref(), &format!("{name} depth")),
            height: self.positive_if(written.height.as_ref(), &format!("{name} height")),
            gap_under: self.chosen_or(
                written.gap_under.as_ref(),
                GAP_UNDER,
                "Gap under drawer boxes",
                &format!("{name} gap under"),
            ),
            gap_over: self.chosen_or(
                written.gap_over.as_ref(),
                GAP_OVER,
                "Gap over drawer boxes",
                &format!("{name} gap over"),
            ),
            finger_pull: written.finger_pull.as_ref().map(|pull| self.finger_pull(pull, &name)),
            joint: written.joint.as_ref().map_or(joint, |joint| JointKind::from(joint.value)),
            fit,
            bottom,
            slide,
            latch,
            front: front?,
            box_board: box_board?,
            bottom_board: bottom_board?,
            span: Some(written.span),
        };
        Some(drawer)
    }

    /// The screws its slide and latch ask for, and the usual ones for box and front.
    fn drawer_fasteners(&mut self, slide: &Slide, latch: Option<&Latch>) -> Option<DrawerFasteners> {
        let shop = self.shop;
        let slide = self.profile(&shop.fasteners, "fastener", &slide.screw, None);
        let latch = latch.map(|latch| self.profile(&shop.fasteners, "fastener", &latch.bolt, None));
        let wall = self.profile(&shop.fasteners, "fastener", SCREW, None);
        let front = self.profile(&shop.fasteners, "fastener", FRONT_SCREW, None);
        let latch = match latch {
            Some(bolt) => Some(bolt?),
            None => None,
        };
        Some(DrawerFasteners { slide: slide?, latch, wall: wall?, front: front? })
    }

    /// In a groove when the bottom's board is thinner than the walls', else under them.
    fn usual_bottom(&self, walls: Option<BoardId>, bottom: Option<BoardId>) -> BottomStyle {
        let nominal = |board: Option<BoardId>| {
            let id = self.project.boards.get(board?.0)?.profile.as_ref()?;
            self.shop.boards.get(&id.value).map(|profile| profile.nominal)
        };
        match (nominal(walls), nominal(bottom)) {
            (Some(walls), Some(bottom)) if bottom < walls => BottomStyle::Groove,
            _ => BottomStyle::Under,
        }
    }

    fn reveal(&mut self, written: &project::Reveal, drawer: &str) -> Reveal {
        let mut side = |length: &Option<Length>, side: &str| {
            self.chosen_or(length.as_ref(), REVEAL, "Gap round drawer fronts", &format!("{drawer} reveal {side}"))
        };
        Reveal {
            left: side(&written.left, "left"),
            right: side(&written.right, "right"),
            top: side(&written.top, "top"),
            bottom: side(&written.bottom, "bottom"),
        }
    }

    fn setback(&mut self, written: Option<&Length>, fit: FrontFit, drawer: &str) -> Dim {
        let label = format!("{drawer} front setback");
        let Some(length) = written else { return Dim::number(Mm::ZERO, label) };
        self.zero_or_more(length, &label);
        if fit == FrontFit::Overlay && length.value != Mm::ZERO {
            let message = format!(
                "the front of {drawer} lies over the uprights, so it cannot stand {} behind",
                self.show(length.value)
            );
            self.stop(codes::SETBACK_OVERLAY, message, length.span, "take `setback` out, or write `fit = \"inset\"`");
        }
        Self::chosen(length, &label)
    }

    fn finger_pull(&mut self, written: &project::FingerPull, drawer: &str) -> FingerPull {
        match written {
            project::FingerPull::Notch { width, depth } => FingerPull::Notch {
                width: self.positive(width, &format!("{drawer} finger pull width")),
                depth: self.positive(depth, &format!("{drawer} finger pull depth")),
            },
            project::FingerPull::Hole { diameter } => {
                FingerPull::Hole { diameter: self.positive(diameter, &format!("{drawer} finger pull diameter")) }
            }
        }
    }
}
