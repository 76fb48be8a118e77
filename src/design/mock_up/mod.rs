//! The same design in card: outer sizes kept or made smaller, everything that follows from a board's thickness left to be derived
//! again from the card's.

mod room;
mod scale;

use super::bench::known;
use super::{
    codes, defaults, BoardId, BoardUse, BottomStyle, Design, FreeCut, FreePanel, FreeShape, JointKind, ReliefStyle,
    StockSheet,
};
use crate::diag::{Checked, Code, Finding};
use crate::dim::{Dim, Source, SourceKind};
use crate::project::did_you_mean;
use crate::shop::{Board, Machine, Material, Process, Shop};
use crate::units::{decimal, Mm};
use scale::Scaled;
use std::sync::Arc;

/// What a mock-up is to be made of, and how large.
#[derive(Clone, Debug)]
pub struct MockUpWish {
    /// Id of the board's profile.
    pub board: String,
    /// Thickness readings of the card at hand; the profile's class stands in when there are none.
    pub readings: Vec<Mm>,
    /// How large.
    pub scale: Scale,
    /// Id of the laser's profile; the first of the shop's lasers when not said.
    pub machine: Option<String>,
    /// A slot's width as a share of the thickness that goes into it; the usual share when not said.
    pub slot_share: Option<f64>,
}

/// How large a mock-up is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scale {
    /// The card's thickness over the plywood's, so that joints look true.
    Auto,
    /// This many times the real size: 1 for full size.
    Factor(f64),
}

/// What a design was turned into a mock-up with.
#[derive(Clone, Debug, PartialEq)]
pub struct MockUp {
    /// Size of the mock-up over the real one.
    pub scale: f64,
    /// The scale in words: `full size`, `1:6`.
    pub words: String,
    /// What joints would need for a true look: thickness of the card over that of the plywood.
    pub true_scale: f64,
    /// A slot's width as a share of the thickness that goes into it.
    pub slot_share: f64,
}

impl MockUp {
    /// Whether joints have the same proportions as in plywood, within a twentieth.
    #[must_use]
    pub fn joints_look_true(&self) -> bool {
        (self.scale / self.true_scale - 1.0).abs() <= 0.05
    }
}

/// Whether a finding is about the boards the real thing is made of.
#[must_use]
pub fn about_boards(code: Code) -> bool {
    [codes::BOARD_NOMINAL, codes::BOARD_FEW_READINGS, codes::BOARD_READINGS_ODD, codes::SHEET_TO_BED].contains(&code)
}

/// Name of the one board of a mock-up.
const BOARD: &str = "card";

/// Turns a settled design into its mock-up.
#[must_use]
pub fn mock_up(design: &Design, shop: &Shop, wish: &MockUpWish) -> Checked<Design> {
    let mut found = Vec::new();
    let board = profile(&shop.boards, "board", &wish.board, &mut found);
    let machine = machine(design, shop, wish.machine.as_deref(), &mut found);
    let (Some(board), Some(machine)) = (board, machine) else { return Checked::failed(found) };
    let card = card(board, &wish.readings, &mut found);
    let Some(mock) = settle(design, wish, &card, &mut found) else { return Checked::failed(found) };
    let mut made = Scaled::by(mock.scale).design(design);
    all_of_one_board(&mut made);
    // A groove or step cannot be burnt: what has one gets tabs through slots instead.
    for carcass in &mut made.carcasses {
        through(&mut carcass.joint);
        for drawer in carcass.columns.iter_mut().flat_map(|c| &mut c.cells).filter_map(|c| c.drawer.as_mut()) {
            through(&mut drawer.joint);
            if drawer.bottom == BottomStyle::Groove {
                drawer.bottom = BottomStyle::Between;
            }
        }
    }
    made.process.cutters.clear();
    made.process.outline_cutter = None;
    made.process.relief = ReliefStyle::None;
    made.process.part_gap = defaults::LASER_PART_GAP.max(kerf(&machine) * 2.0);
    made.process.sheet_margin = defaults::LASER_SHEET_MARGIN;
    made.process.min_web = defaults::LASER_WEB_FLOOR.max(card.thickness.nominal());
    made.process.split = true;
    made.process.machine = machine;
    // Along its edge card does not give: fingers are cut to size, the press is across the thickness.
    made.process.joint_clearance.finger = Dim::zero();
    made.process.joint_clearance.press = (card.profile.material == Material::Card).then_some(mock.slot_share);
    made.boards = vec![card];
    made.title = format!("{}: mock-up, {}", design.title, mock.words);
    made.vehicle = None;
    made.prices = None;
    made.assumptions.push(format!(
        "Mock-up at {}: outer sizes {}, everything that depends on thickness derived again from the card.",
        mock.words,
        if mock.scale == 1.0 { "kept" } else { "scaled" }
    ));
    if !mock.joints_look_true() {
        found.push(
            Finding::note(
                codes::JOINTS_NOT_TO_SCALE,
                format!("at {} joints are not to scale: {} would look true", mock.words, ratio(mock.true_scale)),
            )
            .remedy("leave it, or take `--scale auto`"),
        );
    }
    for panel in design.panels.iter().filter(|p| p.cuts.iter().any(takes_a_mate)) {
        found.push(
            Finding::note(
                codes::LOOSE_AS_WRITTEN,
                format!(
                    "square slots and notches of {} are as written, times the scale: card does not fit them",
                    panel.name
                ),
            )
            .part(&panel.name)
            .at(panel.span)
            .remedy("trim them by hand where something is to stand in them"),
        );
    }
    room::check(&made, &mock, &mut found);
    made.mock_up = Some(mock);
    super::process::cut_to_bed(&mut made.boards, &made.process, &mut found);
    Checked::new(made, found)
}

impl Design {
    /// The same with nothing but these loose panels: bay, machine and boards are kept.
    #[must_use]
    pub fn only_panels(&self, panels: Vec<FreePanel>) -> Self {
        Self {
            panels,
            carcasses: Vec::new(),
            pull_outs: Vec::new(),
            lips: Vec::new(),
            stows: Vec::new(),
            pins: Vec::new(),
            title: format!("{}: gauges", self.title),
            ..self.clone()
        }
    }
}

/// Whether a cut of a loose panel is square, as for a mate's edge.
fn takes_a_mate(cut: &FreeCut) -> bool {
    match &cut.shape {
        FreeShape::CutOut { radius, .. } => radius.nominal() <= Mm::ZERO,
        FreeShape::Notch { .. } => true,
        FreeShape::Hole { .. } | FreeShape::Slot { .. } => false,
    }
}

fn through(joint: &mut JointKind) {
    if matches!(joint, JointKind::Dado | JointKind::Rabbet) {
        *joint = JointKind::Finger;
    }
}

fn kerf(machine: &Machine) -> Mm {
    match &machine.process {
        Process::Laser(laser) => laser.kerf,
        Process::Router(_) => Mm::ZERO,
    }
}

fn profile<T: Clone>(
    all: &std::collections::BTreeMap<String, T>,
    kind: &str,
    id: &str,
    found: &mut Vec<Finding>,
) -> Option<Arc<T>> {
    if let Some(profile) = all.get(id) {
        return Some(Arc::new(profile.clone()));
    }
    let ids: Vec<&str> = all.keys().map(String::as_str).collect();
    found.push(
        Finding::stop(codes::PROFILE_UNKNOWN, format!("the shop has no {kind} `{id}`"))
            .remedy(did_you_mean(id, ids.iter().copied()).unwrap_or_else(|| known(kind, &ids))),
    );
    None
}

/// The laser that was named, the project's own, or the shop's first.
fn machine(design: &Design, shop: &Shop, named: Option<&str>, found: &mut Vec<Finding>) -> Option<Arc<Machine>> {
    let is_laser = |machine: &Machine| matches!(machine.process, Process::Laser(_));
    let machine = match named {
        Some(id) => profile(&shop.machines, "machine", id, found)?,
        None if is_laser(&design.process.machine) => Arc::clone(&design.process.machine),
        None => match shop.machines.values().find(|m| is_laser(m)) {
            Some(first) => Arc::new(first.clone()),
            None => Arc::clone(&design.process.machine),
        },
    };
    if !is_laser(&machine) {
        found.push(
            Finding::stop(codes::MOCK_UP_NEEDS_LASER, format!("machine `{}` is no laser", machine.id))
                .remedy("name a laser: `--machine laser-bench`"),
        );
        return None;
    }
    Some(machine)
}

/// The card as a board of the project: one source, from readings or from the class.
fn card(profile: Arc<Board>, readings: &[Mm], found: &mut Vec<Finding>) -> BoardUse {
    let mean = readings.iter().copied().sum::<Mm>() / readings.len().max(1) as f64;
    let (nominal, least, most, basis) = if readings.is_empty() {
        found.push(
            Finding::caution(codes::BOARD_NOMINAL, "the card has no thickness readings: slots from nominal".to_owned())
                .limit(format!("{} to {} mm by the class of {}", profile.thickness_min, profile.thickness_max, profile.id))
                .remedy("measure a stack of ten sheets, take a tenth, and give it with `--thickness`"),
        );
        (profile.nominal, profile.thickness_min, profile.thickness_max, format!("class limits of {}", profile.id))
    } else {
        let least = readings.iter().copied().fold(mean, Mm::min);
        let most = readings.iter().copied().fold(mean, Mm::max);
        (mean, least, most, format!("{} readings", readings.len()))
    };
    if nominal <= Mm::ZERO {
        found.push(
            Finding::stop(codes::SIZE_NOT_POSITIVE, format!("the card's thickness is {nominal} mm"))
                .limit("over zero")
                .remedy("give a thickness over zero"),
        );
    }
    let label = format!("{BOARD} board thickness");
    let thickness = Dim::source(Source {
        key: format!("board:{BOARD}"),
        label: label.clone(),
        kind: SourceKind::Board,
        nominal,
        minus: (nominal - least).max(Mm::ZERO),
        plus: (most - nominal).max(Mm::ZERO),
        basis,
        span: None,
    })
    .named(label);
    let stock = profile
        .sheets
        .iter()
        .map(|size| StockSheet { size: *size, count: None, price: None, defects: Vec::new() })
        .collect();
    BoardUse { name: BOARD.to_owned(), profile, thickness, readings: readings.to_vec(), stock, span: None }
}

/// Scale and slot share; what cannot be is a finding.
fn settle(design: &Design, wish: &MockUpWish, card: &BoardUse, found: &mut Vec<Finding>) -> Option<MockUp> {
    let of_carcass = design.carcasses.first().map(|c| c.board);
    let ply = of_carcass.or(Some(BoardId(0))).and_then(|id| design.boards.get(id.0))?;
    let true_scale = card.thickness.nominal() / ply.thickness.nominal();
    let scale = match wish.scale {
        Scale::Auto => true_scale,
        Scale::Factor(factor) => factor,
    };
    if !(scale.is_finite() && scale > 0.0 && scale <= 1.0) {
        found.push(
            Finding::stop(codes::SCALE_UNFIT, format!("a scale of {} makes nothing that can be cut", decimal(scale, 4)))
                .limit("more than 0, at most 1: full size")
                .remedy("write `full`, `auto`, or a scale such as `1:6`"),
        );
        return None;
    }
    let slot_share = wish.slot_share.unwrap_or(defaults::SLOT_SHARE);
    if !(defaults::SLOT_SHARES.0..=defaults::SLOT_SHARES.1).contains(&slot_share) {
        let (least, most) = defaults::SLOT_SHARES;
        found.push(
            Finding::stop(codes::SLOT_SHARE_UNFIT, format!("slots of {} thicknesses do not hold", decimal(slot_share, 3)))
                .limit(format!("{least} to {most} thicknesses, common practice, no source"))
                .remedy("cut the coupon and take the share whose slot holds"),
        );
        return None;
    }
    Some(MockUp { scale, words: ratio(scale), true_scale, slot_share })
}

/// A scale in words.
fn ratio(scale: f64) -> String {
    if scale == 1.0 {
        "full size".to_owned()
    } else {
        format!("1:{}", decimal(1.0 / scale, 2))
    }
}

/// Every panel of the one board there is.
fn all_of_one_board(design: &mut Design) {
    let one = BoardId(0);
    for carcass in &mut design.carcasses {
        carcass.board = one;
        carcass.base = carcass.base.map(|_| one);
        if let Some(top) = &mut carcass.top {
            top.board = one;
        }
        if let Some(back) = &mut carcass.back {
            back.board = one;
        }
        for cell in carcass.columns.iter_mut().flat_map(|c| &mut c.cells) {
            cell.shelf = cell.shelf.map(|_| one);
            if let Some(drawer) = &mut cell.drawer {
                (drawer.front, drawer.box_board, drawer.bottom_board) = (one, one, one);
            }
        }
    }
    for pull_out in &mut design.pull_outs {
        (pull_out.board, pull_out.strip_board) = (one, one);
        pull_out.cover = pull_out.cover.map(|_| one);
    }
    design.lips.iter_mut().for_each(|lip| lip.board = one);
    design.panels.iter_mut().for_each(|panel| panel.board = one);
}
