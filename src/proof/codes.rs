//! What this stage can find.

use crate::diag::Code;

/// A file that the job names is not in the pack.
pub const FILE_MISSING: Code =
    Code::new("proof-file-missing", "A file that the job names is not in the pack, so something would not be cut.");
/// A file that no one knows.
pub const FILE_FOREIGN: Code =
    Code::new("proof-file-foreign", "The pack holds a cut file that its job does not name; someone may cut it.");
/// `job.json` cannot be used.
pub const JOB_UNREADABLE: Code = Code::new(
    "proof-job-unreadable",
    "The pack's job.json cannot be read, so there is nothing to hold the other files against.",
);
/// A cut file cannot be read.
pub const UNREADABLE: Code = Code::new(
    "proof-file-unreadable",
    "A cut file is not what a strict reader accepts, so a machine may do anything with it.",
);
/// A file of another revision.
pub const REVISION: Code =
    Code::new("proof-revision-differs", "A file does not carry the job's revision: files of different packs are mixed.");
/// Units disagree.
pub const UNITS: Code = Code::new(
    "proof-units-differ",
    "A file counts in another unit than the job says, so parts would come out 25.4 times too large or small.",
);
/// A drawing differs from the design.
pub const CONTOURS: Code = Code::new("proof-drawing-differs", "A part's drawing does not show the contours of the design.");
/// A sheet drawing differs from parts and placements.
pub const SHEET: Code = Code::new("proof-sheet-differs", "A sheet's drawing does not show its parts where they are placed.");
/// Layer names do not say what is cut.
pub const LAYERS: Code =
    Code::new("proof-layer-wrong", "A layer's name does not say the operation, side and depth of what lies on it.");
/// Page or extents wrong.
pub const EXTENTS: Code = Code::new("proof-extents-wrong", "A drawing's page or header extents are not its real bounds.");
/// Placements do not add up.
pub const PLACEMENTS: Code =
    Code::new("proof-copies-wrong", "A copy of a part is placed twice, not at all, on another board, or off its sheet.");
/// The header of a file.
pub const HEADER: Code = Code::new(
    "proof-header-wrong",
    "A file's header does not name its board and whether it holds the finished edge or the tool centre.",
);
/// The preamble leaves something to memory.
pub const PREAMBLE: Code = Code::new(
    "proof-preamble-incomplete",
    "A program relies on the machine's memory: a mode is not stated, or the first move is not up.",
);
/// Contact with the spindle wrong.
pub const SPINDLE: Code =
    Code::new("proof-spindle-off", "A cutter touches the wood while the spindle stands or turns the wrong way.");
/// A rapid too low.
pub const RAPID: Code = Code::new("proof-rapid-low", "A rapid move runs sideways below clearance or down into the wood.");
/// A feed that overloads the cutter.
pub const FEED: Code =
    Code::new("proof-feed-high", "A cutter is fed faster than its edges can take at the speed it turns, and may break.");
/// A pass too deep.
pub const PASS: Code = Code::new(
    "proof-pass-deep",
    "A cutter is run sideways deeper into the wood than its profile allows, and may break or burn.",
);
/// A plunge.
pub const PLUNGE: Code = Code::new(
    "proof-plunged",
    "A cutter that does not cut in its middle is driven straight down into the wood, where it burns or breaks.",
);
/// Hold-down screws.
pub const SCREW: Code = Code::new(
    "proof-screw-hit",
    "A program cuts before the hold-down screws are in, or comes near a head, which breaks the cutter.",
);
/// Registration holes.
pub const REGISTRATION: Code = Code::new(
    "proof-registration-wrong",
    "A sheet cut from both faces does not meet the same pins when it is turned over, so its faces would not agree.",
);
/// Out of bounds.
pub const BOUNDS: Code =
    Code::new("proof-out-of-bounds", "A move leaves the sheet or the machine's travel, or goes below the depth floor.");
/// Cut into a part.
pub const GOUGE: Code = Code::new("proof-part-gouged", "A cutter takes wood from a finished part.");
/// Something left.
pub const LEFTOVER: Code = Code::new("proof-wood-left", "Wood is left in an opening or hole where the design has none.");
/// A pocket's floor.
pub const FLOOR: Code = Code::new("proof-floor-wrong", "A pocket or blind hole is not cut to its depth everywhere.");
/// An outline not cut.
pub const OUTLINE: Code =
    Code::new("proof-outline-uncut", "A part's outline is not cut through between its tabs, so it does not come out.");
/// A part not held.
pub const HOLD: Code =
    Code::new("proof-part-loose", "A part is held by too few tabs and no skin, so it moves before its last cut.");
/// Order of cuts.
pub const ORDER: Code = Code::new(
    "proof-order-wrong",
    "A part is cut again after its outline, or the opening of another part that it lies in, was cut through.",
);
/// A mate does not seat.
pub const SEAT: Code = Code::new("proof-mate-does-not-seat", "The square mate does not fit into what the cutter opened.");
/// A beam's line off its place.
pub const BEAM_EDGE: Code = Code::new(
    "proof-beam-off-edge",
    "A line of a laser's file does not lie half a kerf from the finished edge, so parts come out too large or too small.",
);
/// A beam's lines out of order.
pub const BEAM_ORDER: Code = Code::new(
    "proof-beam-order-wrong",
    "A laser would burn a line of a part after its outline, or leave a part half done: it may have dropped or shifted by then.",
);
/// The cuts of a saw.
pub const SAW_CUTS: Code =
    Code::new("proof-saw-cuts", "The cuts of a sheet, made one after the other, do not give the pieces they state.");
/// The pieces of a saw.
pub const SAW_PIECES: Code =
    Code::new("proof-saw-pieces", "A part's blank does not come off the saw once, in its size, along its grain.");
/// The pages of a saw.
pub const SAW_TOLD: Code =
    Code::new("proof-saw-told", "The page or the picture of a sheet's cuts says something else than their table.");
/// A piece to keep that is not there.
pub const OFFCUT: Code =
    Code::new("proof-offcut-wrong", "A piece listed to be kept is not left over by the parts of its sheet.");
/// What was not simulated.
pub const NOT_SIMULATED: Code =
    Code::new("proof-not-simulated", "Something in the pack is not covered by the simulated cut.");

/// Every code of this stage.
pub const ALL: &[Code] = &[
    FILE_MISSING,
    FILE_FOREIGN,
    JOB_UNREADABLE,
    UNREADABLE,
    REVISION,
    UNITS,
    CONTOURS,
    SHEET,
    LAYERS,
    EXTENTS,
    PLACEMENTS,
    HEADER,
    PREAMBLE,
    SPINDLE,
    RAPID,
    FEED,
    PASS,
    PLUNGE,
    SCREW,
    REGISTRATION,
    BOUNDS,
    GOUGE,
    LEFTOVER,
    FLOOR,
    OUTLINE,
    HOLD,
    ORDER,
    SEAT,
    BEAM_EDGE,
    BEAM_ORDER,
    SAW_CUTS,
    SAW_PIECES,
    SAW_TOLD,
    OFFCUT,
    NOT_SIMULATED,
];
