//! One panel as a flat part, with what the checks need beside it.

use super::context::Context;
use super::cuts::{self, Cut};
use super::lay::Lay;
use super::outline::{self, Notch};
use super::tools::Tools;
use super::{clean, codes, mass, seat, FlatCut, FlatPart, Operation, PartGrain, Seat, Side};
use crate::design::{BoardUse, Design};
use crate::diag::Finding;
use crate::geom::Contour;
use crate::parts::{Grain, Model, PanelId, Purpose};
use crate::units::Mm;

/// A flat part and what is known of its notches.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    pub(super) part: FlatPart,
    /// Notches as cut, in the part frame, with the feature's id.
    pub(super) notches: Vec<(String, Contour)>,
    /// Sides (bottom, right, top, left) each notch opens, in the part frame.
    pub(super) opened: Vec<[bool; 4]>,
    /// Mates that seat in the notches, in the part frame, each with the feature's id.
    pub(super) seats: Vec<(String, Seat)>,
    /// Sides (bottom, right, top, left) each cut runs out over, in the part frame.
    pub(super) runs_out: Vec<[bool; 4]>,
}

/// Makes a panel flat; `None` when its outline cannot be made, which is then a finding.
pub(super) fn of_panel(
    design: &Design,
    model: &Model,
    tools: &Tools,
    id: PanelId,
    findings: &mut Vec<Finding>,
) -> Option<Piece> {
    let panel = model.panels.get(id.0)?;
    let Some(board) = design.boards.get(panel.board.0) else {
        let text = format!("board number {} is not among the design's {}", panel.board.0, design.boards.len());
        findings.push(
            Finding::stop(codes::UNKNOWN_BOARD, text).part(&panel.id).at(panel.span).remedy("name a board of the design"),
        );
        return None;
    };
    let mut cx = Context { design, model, tools, panel, findings, gathered: Vec::new() };
    let piece = made(&mut cx, board, id);
    cx.tell();
    piece
}

fn made(cx: &mut Context, board: &BoardUse, id: PanelId) -> Option<Piece> {
    let panel = cx.panel;
    let outline = outline::of_panel(cx)?;
    let mut cuts: Vec<Cut> = Vec::new();
    for feature in panel.features.iter().filter(|f| !outline::is_notch(f)) {
        cuts.extend(cuts::of_feature(cx, feature));
    }
    let lay = Lay::choose(&cuts, &outline.contour);
    let keep_clean = clean::of_panel(cx, &outline.notches).into_iter().map(|r| lay.rect(r)).collect();
    let seats = notch_seats(cx, &outline.notches).into_iter().map(|(id, s)| (id, lay.seat(&s))).collect();
    let mut cuts: Vec<(FlatCut, [bool; 4])> =
        cuts.into_iter().map(|c| (lay.sides(c.open), lay.cut(c))).map(|(open, c)| (c, open)).collect();
    leave_seats_to_hand(cx, &mut cuts);
    cuts.sort_by(|(a, _), (b, _)| order(a).cmp(&order(b)).then_with(|| a.feature.cmp(&b.feature)));
    let (cuts, runs_out): (Vec<FlatCut>, Vec<[bool; 4]>) = cuts.into_iter().unzip();
    let contour = lay.contour(&outline.contour);
    let size = contour.bounds();
    let thickness = cx.thickness();
    let part = FlatPart {
        id: panel.id.clone(),
        name: panel.name.clone(),
        unit: panel.unit.clone(),
        hand: panel.hand,
        board: panel.board,
        thickness_max: thickest(board).max(thickness),
        thickness,
        panels: vec![id],
        face_up: lay.up,
        grain: if board.profile.has_grain { grain(panel.grain) } else { PartGrain::Any },
        length: Mm(size.width()),
        width: Mm(size.height()),
        mass_kg: mass::of(&contour, &cuts, thickness, board.profile.density_kg_m3),
        outline: FlatCut {
            operation: Operation::ThroughOutside,
            side: Side::Up,
            contour,
            islands: Vec::new(),
            purpose: Purpose::Own,
            feature: "outline".to_owned(),
            seats: None,
            span: panel.span,
        },
        cuts,
        keep_clean,
        span: panel.span,
    };
    let named = |n: &Notch| (panel.features[n.feature].id.clone(), lay.contour(&n.contour));
    let opened = outline.notches.iter().map(|n| lay.sides(n.open)).collect();
    Some(Piece { part, notches: outline.notches.iter().map(named).collect(), opened, seats, runs_out })
}

/// Screw seats alone are no reason to turn a sheet over: when they are all there is to do on the lower face, they are left to a
/// hand countersink, and said so.
fn leave_seats_to_hand(cx: &mut Context, cuts: &mut Vec<(FlatCut, [bool; 4])>) {
    let seat = |c: &FlatCut| matches!(c.operation, Operation::Countersink { .. });
    let down = |c: &FlatCut| c.side == Side::Down;
    if cuts.iter().any(|(c, _)| down(c) && !seat(c)) {
        return;
    }
    let before = cuts.len();
    cuts.retain(|(c, _)| !down(c));
    let left = before - cuts.len();
    if left > 0 {
        cx.findings.push(
            Finding::note(codes::SEATS_BY_HAND, format!("{left} screw seats are on the face that lies down on the machine"))
                .part(&cx.panel.id)
                .at(cx.panel.span)
                .remedy("turn a hand countersink in each of them; the holes are drilled through"),
        );
    }
}

fn notch_seats(cx: &Context, notches: &[Notch]) -> Vec<(String, Seat)> {
    notches
        .iter()
        .map(|n| &cx.panel.features[n.feature])
        .filter_map(|f| Some((f.id.clone(), seat::of(cx.design, cx.model, cx.panel, f)?)))
        .collect()
}

/// The thickest the board may be: its highest reading, or its class's upper limit when none was taken.
fn thickest(board: &BoardUse) -> Mm {
    board.readings.iter().copied().reduce(Mm::max).unwrap_or(board.profile.thickness_max)
}

fn grain(grain: Grain) -> PartGrain {
    match grain {
        Grain::AlongU => PartGrain::AlongX,
        Grain::AlongV => PartGrain::AlongY,
        Grain::Any => PartGrain::Any,
    }
}

/// A stable order: marks, folds, drilling, countersinks, pockets, openings; within that by side and place, to a hundredth.
pub(super) fn order(cut: &FlatCut) -> (u32, Side, i64, i64) {
    let middle = cut.contour.bounds().center();
    let grid = |v: f64| (v * 100.0).round() as i64;
    (cut.operation.rank(), cut.side, grid(middle.x), grid(middle.y))
}
