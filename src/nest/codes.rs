//! What this stage can find.

use crate::diag::Code;

/// A part is larger than every sheet.
pub const PART_OVER_SHEET: Code = Code::new(
    "part-over-sheet",
    "A part fits no sheet of its board in any turn its grain allows, so it cannot be cut in one piece.",
);

/// The sheets at hand do not hold all parts.
pub const STOCK_SHORT: Code =
    Code::new("stock-short", "The sheets and offcuts at hand do not hold all parts of a board, so some would be missing.");

/// A board is used but has no sheets.
pub const NO_STOCK: Code = Code::new(
    "board-without-sheets",
    "A board in use has no sheet with room inside its margin, so nothing can be cut from it.",
);

/// The layout failed its own check.
pub const LAYOUT_FAULT: Code = Code::new(
    "layout-fault",
    "A finished layout failed the check that is made of every layout: a fault of the program, and nothing may be cut from it.",
);

/// Mates that cannot lie together.
pub const MATES_APART: Code = Code::new(
    "mates-apart",
    "Parts that are to be cut beside each other from one sheet cannot be, or are not parts at all.",
);

/// More than the saw can do.
pub const SAW_LEAVES_BLANK: Code = Code::new(
    "saw-leaves-blank",
    "Some parts are not rectangles: the saw plan cuts their rectangle, and the rest of their shape is cut afterwards.",
);

/// Every code of this stage.
pub const ALL: &[Code] = &[PART_OVER_SHEET, STOCK_SHORT, NO_STOCK, LAYOUT_FAULT, MATES_APART, SAW_LEAVES_BLANK];
