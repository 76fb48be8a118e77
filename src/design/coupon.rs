//! The coupon: a small job of its own, cut first from the real board, that shows how the machine really cuts.
//!
//! It holds a ladder of slots round the planned clearance, a hole, a groove and a plate 100 mm square (for a laser the ladder, a tongue
//! to press in and the square, whose size shows the kerf), and goes through the same
//! stages, files and proof as any job. What it shows is typed into the project file: the slot that the board's own offcut seats in
//! best gives the clearance under `[joints]`, so no key is needed for it.

use super::{codes, BoardId, BoardUse, Design, FreeCut, FreePanel, FreeShape, ProcessChoice, StockSheet};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::shop::{Material, Process, SheetSize};
use crate::units::Mm;

/// Widths of the ladder's slots over the board's thickness and the planned clearance, mm (trade pages: five slots from −0.1 to
/// +0.3).
const LADDER: [f64; 5] = [-0.1, 0.0, 0.1, 0.2, 0.3];
/// Length of a slot between the centres of its ends. Common practice, no source.
const SLOT: f64 = 30.0;
/// Wood between two slots. Common practice, no source.
const BETWEEN: f64 = 15.0;
/// From the plate's edge to the nearest cut. Common practice, no source.
const RIM: f64 = 20.0;
/// Diameter of the hole. Common practice, no source.
const HOLE: f64 = 10.0;
/// Depth of the groove over the board's thickness: what a dado takes. Common practice, no source.
const GROOVE_DEPTH: f64 = 1.0 / 3.0;
/// Widths of the slots in card, in its thicknesses (trade pages name 0.76 and 1.0; steps of 0.05).
pub const PRESS_LADDER: [f64; 8] = [0.70, 0.75, 0.80, 0.85, 0.90, 0.95, 1.00, 1.05];
/// Side of the notch that shows where a ladder begins. Common practice, no source.
const NOTCH: f64 = 8.0;
/// Side of the square plate that shows the machine's scale and squareness (trade pages).
const SQUARE: f64 = 100.0;

/// A job of the coupon's two plates from one board, on one piece just large enough for them; `None` for a board that is not in
/// the design.
#[must_use]
pub fn coupon(design: &Design, board: BoardId) -> Option<Design> {
    let from = design.boards.get(board.0)?;
    let on_laser = matches!(design.process.machine.process, Process::Laser(_));
    let plates =
        if on_laser { vec![pressed(design, from), tongue(), square()] } else { vec![ladder(design, from), square()] };
    let gap = design.process.part_gap.0 + 2.0 * design.process.sheet_margin.0;
    let [length, width] =
        plates.iter().fold([gap, 0.0_f64], |[l, w], p| [l + p.size[0].nominal().0, w.max(p.size[1].nominal().0 + gap)]);
    let size = SheetSize { length: Mm(length.ceil()), width: Mm(width.ceil()) };
    Some(Design {
        title: format!("{}, coupon of {}", design.title, from.name),
        units: design.units,
        bay: None,
        vehicle: None,
        prices: None,
        boards: vec![BoardUse {
            stock: vec![StockSheet { size, count: Some(1), price: None, defects: Vec::new() }],
            ..from.clone()
        }],
        process: ProcessChoice { split: false, parts_in_openings: false, ..design.process.clone() },
        carcasses: Vec::new(),
        pull_outs: Vec::new(),
        lips: Vec::new(),
        panels: plates,
        stows: Vec::new(),
        pins: Vec::new(),
        together: Vec::new(),
        overrides: Vec::new(),
        assumptions: Vec::new(),
        mock_up: design.mock_up.clone(),
        rubs: Vec::new(),
    })
}

/// That a board's coupon could not be made, and why.
#[must_use]
pub fn no_coupon(board: &BoardUse, why: &str) -> Finding {
    Finding::caution(codes::COUPON_NOT_MADE, format!("board \"{}\" has no coupon in the pack: {why}", board.name))
        .at(board.span)
        .remedy("cut a trial joint from an offcut of this board before the parts")
}

/// Slots side by side, and over them a groove and a hole.
fn ladder(design: &Design, board: &BoardUse) -> FreePanel {
    let mate = board.thickness.nominal() + design.process.joint_clearance.glued.nominal();
    let mut cuts = Vec::new();
    let mut x = RIM;
    for (k, over) in LADDER.iter().enumerate() {
        let width = mate.0 + over;
        let middle = x + width / 2.0;
        let bottom = RIM + width / 2.0;
        let shape = FreeShape::Slot {
            from: [size(middle), size(bottom)],
            to: [size(middle), size(bottom + SLOT)],
            width: Dim::number(Mm(width), format!("slot {} of the coupon's ladder", k + 1)),
        };
        cuts.push(cut(shape, None));
        x += width + BETWEEN;
    }
    let length = x - BETWEEN + RIM;
    let over = RIM + SLOT + mate.0 + LADDER[4] + BETWEEN;
    let groove = length - 2.0 * RIM - HOLE - BETWEEN;
    let (left, right) = (RIM + mate.0 / 2.0, RIM + groove - mate.0 / 2.0);
    let level = over + mate.0 / 2.0;
    let shape = FreeShape::Slot { from: [size(left), size(level)], to: [size(right), size(level)], width: size(mate.0) };
    cuts.push(cut(shape, Some(size(board.thickness.nominal().0 * GROOVE_DEPTH))));
    let hole = [size(length - RIM - HOLE / 2.0), size(level)];
    cuts.push(cut(FreeShape::Hole { at: hole, diameter: size(HOLE) }, None));
    plate("coupon ladder", length, over + mate.0.max(HOLE) + RIM, cuts)
}

/// Square slots side by side for a laser, the narrowest beside the notch in the plate's corner: of card by their share of its
/// thickness, of other board by what they have over it.
fn pressed(design: &Design, board: &BoardUse) -> FreePanel {
    let t = board.thickness.nominal().0;
    let widths: Vec<f64> = if board.profile.material == Material::Card {
        PRESS_LADDER.iter().map(|share| share * t).collect()
    } else {
        LADDER.iter().map(|over| t + design.process.joint_clearance.finger.nominal().0 + over).collect()
    };
    let mut cuts = vec![cut(FreeShape::Notch { at: [size(0.0), size(0.0)], size: [size(NOTCH), size(NOTCH)] }, None)];
    let mut x = RIM;
    for (k, width) in widths.iter().enumerate() {
        let wide = Dim::number(Mm(*width), format!("slot {} of the coupon's ladder", k + 1));
        let shape = FreeShape::CutOut { at: [size(x), size(RIM)], size: [wide, size(SLOT)], radius: Dim::zero() };
        cuts.push(cut(shape, None));
        x += width + BETWEEN;
    }
    plate("coupon ladder", x - BETWEEN + RIM, SLOT + 2.0 * RIM, cuts)
}

/// What is pressed into the slots: as wide as they are long.
fn tongue() -> FreePanel {
    plate("coupon tongue", 2.0 * SLOT, SLOT, Vec::new())
}

fn square() -> FreePanel {
    plate("coupon square", SQUARE, SQUARE, Vec::new())
}

/// A size that the coupon simply has.
fn size(mm: f64) -> Dim {
    Dim::number(Mm(mm), "a size of the coupon")
}

fn cut(shape: FreeShape, depth: Option<Dim>) -> FreeCut {
    FreeCut { shape, depth, span: None }
}

fn plate(name: &str, length: f64, width: f64, cuts: Vec<FreeCut>) -> FreePanel {
    FreePanel {
        name: name.to_owned(),
        size: [size(length), size(width)],
        outline: None,
        board: BoardId(0),
        quantity: 1,
        grain: None,
        cuts,
        at: None,
        span: None,
    }
}
