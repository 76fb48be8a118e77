//! What hardware becomes in a mock-up: slides are strips of card folded or stacked to their thickness and marked where they lie;
//! latches and the holes of screws are marks; screwed joints are taped. Bolts stay where they are.

use super::builder::Builder;
use super::drawer::SlidePlace;
use super::{codes, Depth, Face, Feature, FeatureKind, Grain, Hand, Hardware, Panel, Purpose};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::shop::Slide;
use crate::units::Mm;

/// How far a fold stays from the ends of its strip, so that the beam does not score over the cut edge.
const FOLD_INSET: Mm = Mm(1.0);
/// A fold is scored to this share of the thickness: it never reaches the other face (from memory).
const FOLD_DEPTH: f64 = 0.5;
/// What joints are closed with. Common practice, no source.
const TAPE: &str = "paper tape, 50 mm";

impl Builder<'_> {
    /// Whether hardware is paper here.
    pub(super) fn is_paper(&self) -> bool {
        self.design.mock_up.is_some()
    }

    /// Tape along a joint.
    pub(super) fn tape(&mut self, unit: &str, place: String, length: Mm) {
        let pieces = (length / Mm(100.0)).ceil().max(1.0) as u32;
        self.hardware(Hardware {
            profile: "tape".into(),
            name: format!("{TAPE} wide, in pieces of 100 mm"),
            quantity: pieces,
            unit: unit.to_owned(),
            place,
            mass_kg: None,
        });
    }
}

/// Marks both members of a drawer's two slides and makes the strips that stand in for them.
pub(super) fn slides(
    b: &mut Builder<'_>,
    unit: &str,
    slide: &Slide,
    places: &[SlidePlace],
    span: Option<crate::diag::Span>,
) {
    for place in places {
        let Some((at, size)) = b.at(place.panel).frame.as_ref().map(|f| f.local_rect(&place.block)) else { continue };
        b.cut(
            place.panel,
            Feature {
                id: format!("{unit} {} body", place.what),
                kind: FeatureKind::Rectangle { at, size, radius: None },
                depth: Depth::Through,
                purpose: Purpose::Mark,
                mate: None,
                span,
            },
        );
    }
    let board = crate::design::BoardId(0);
    let t = b.thickness(board).nominal();
    let name = |what: &str| format!("{unit} slide {what}");
    if slide.thickness >= t * 2.0 {
        // Outer height, and twice the outer thickness, less one thickness of card for each of the two folds.
        let length = Dim::number(slide.length, format!("length of {}", slide.name));
        let leg = Dim::number(slide.thickness, format!("thickness of {}", slide.name)) - b.thickness(board);
        let web = Dim::number(slide.height, format!("height of {}", slide.name)) - &b.thickness(board) * 2.0;
        let width = &(&leg * 2.0 + &b.thickness(board) * 2.0) + &web;
        let fold = |from: Dim, number: u32, t: Dim| Feature {
            id: format!("fold {number}"),
            kind: FeatureKind::Rectangle {
                at: [Dim::number(FOLD_INSET, "fold stays off the ends"), from],
                size: [&length - &Dim::number(FOLD_INSET * 2.0, "fold stays off the ends"), t.clone()],
                radius: None,
            },
            depth: Depth::Blind(Face::A, &t * FOLD_DEPTH),
            purpose: Purpose::Fold,
            mate: None,
            span,
        };
        let first = fold(leg.clone(), 1, b.thickness(board));
        let second = fold(&(&leg + &b.thickness(board)) + &web, 2, b.thickness(board));
        strips(b, unit, &name("channel"), [length.clone(), width], &[first, second], 2, span);
    } else if slide.thickness >= t {
        let layers = (slide.thickness / t).floor() as u32;
        let size = [
            Dim::number(slide.length, format!("length of {}", slide.name)),
            Dim::number(slide.height, format!("height of {}", slide.name)),
        ];
        strips(b, unit, &name("strip"), size, &[], layers * 2, span);
    } else {
        b.findings.push(
            Finding::note(
                codes::SLIDE_THINNER_THAN_CARD,
                format!("the slides of {unit} are {} mm thick here, and the card is {t} mm", slide.thickness),
            )
            .at(span)
            .remedy("only their places are marked; draw the drawer by hand, or fill the gap with folded paper"),
        );
        return;
    }
    b.hardware(Hardware {
        profile: "card".into(),
        name: format!("stand-ins for {}, each {} mm thick", slide.name, slide.thickness),
        quantity: 2,
        unit: unit.to_owned(),
        place: "glued to the box sides, over their marks".into(),
        mass_kg: None,
    });
}

fn strips(
    b: &mut Builder<'_>,
    unit: &str,
    name: &str,
    [length, width]: [Dim; 2],
    features: &[Feature],
    quantity: u32,
    span: Option<crate::diag::Span>,
) {
    let board = crate::design::BoardId(0);
    let (length, width) = (b.size(&format!("{name} length"), &length), b.size(&format!("{name} width"), &width));
    for copy in 1..=quantity {
        let id = b.next_id(unit, board, Hand::None);
        b.model.panels.push(Panel {
            id,
            name: format!("{name} {copy}"),
            unit: unit.to_owned(),
            hand: Hand::None,
            board,
            length: length.clone(),
            width: width.clone(),
            thickness: b.thickness(board),
            frame: None,
            grain: Grain::AlongU,
            outline: None,
            features: features.to_vec(),
            edges: Vec::new(),
            span,
        });
    }
}

/// Turns what is left of screws and latches, and whatever does not go through, into marks.
pub(super) fn marks(b: &mut Builder<'_>) {
    // What is not cut from card or taped is not there.
    b.model.hardware.retain(|h| ["tape", "card"].contains(&h.profile.as_str()));
    let mut blind = 0;
    for feature in b.model.panels.iter_mut().flat_map(|p| &mut p.features) {
        let screw = matches!(feature.kind, FeatureKind::Countersunk { .. });
        let marked = match feature.purpose {
            Purpose::Pilot | Purpose::Slide | Purpose::Latch | Purpose::Strike => true,
            Purpose::Clearance => screw,
            Purpose::Joint
            | Purpose::Anchor
            | Purpose::Grip
            | Purpose::Stop
            | Purpose::Own
            | Purpose::Mark
            | Purpose::Fold => false,
        };
        let own = matches!(feature.purpose, Purpose::Own | Purpose::Joint | Purpose::Grip | Purpose::Stop | Purpose::Anchor);
        let is_blind = own && matches!(feature.depth, Depth::Blind(..));
        blind += u32::from(is_blind);
        if marked || is_blind {
            feature.purpose = Purpose::Mark;
        }
    }
    if blind > 0 {
        b.findings.push(
            Finding::note(codes::BLIND_IS_MARK, format!("{blind} cuts that do not go through are only marked on the card"))
                .remedy("take the card's upper liner off there by hand where it matters"),
        );
    }
}

/// Findings about hardware that is not there: they are about the plywood and `check` tells them.
const ABOUT_HARDWARE: [crate::diag::Code; 8] = [
    codes::LATCH_FRONT_THICKNESS,
    codes::LATCH_LARGER_THAN_FRONT,
    codes::LATCH_HAS_NO_STRIKE,
    codes::LATCH_SPLITS_BOX,
    codes::NO_POSITIVE_LOCK,
    codes::SCREW_BITES_LITTLE,
    codes::SCREW_HAS_NO_PLACE,
    codes::SLIDE_HOLES_MEET,
];

/// Takes those out and says how many there were.
pub(super) fn without_hardware(found: &mut Vec<Finding>) {
    let before = found.len();
    found.retain(|f| !ABOUT_HARDWARE.contains(&f.code));
    let gone = before - found.len();
    if gone > 0 {
        found.push(
            Finding::note(
                codes::HARDWARE_IS_PAPER,
                format!("findings about screws and latches do not apply to card: {gone}"),
            )
            .remedy("`baywright check` tells them of the plywood"),
        );
    }
}
