//! What this stage can find.

use crate::diag::Code;

/// The file is not TOML.
pub const FILE_SYNTAX: Code = Code::new("file-syntax", "The project file is not readable as TOML.");
/// The file's own version is missing or unknown.
pub const FORMAT_UNKNOWN: Code =
    Code::new("format-unknown", "The project file does not say which format it is written in, or one that is not known.");
/// The file declares no unit.
pub const UNIT_NOT_DECLARED: Code =
    Code::new("unit-not-declared", "The file does not say whether its bare figures are millimetres or inches.");
/// A key nobody asked for.
pub const UNKNOWN_KEY: Code =
    Code::new("unknown-key", "A key is not known in its place, so what it asks for would be lost.");
/// A value of another kind than wanted.
pub const WRONG_TYPE: Code = Code::new("wrong-type", "A value is of another kind than the key wants.");
/// A length that cannot be read.
pub const UNREADABLE_LENGTH: Code = Code::new("unreadable-length", "A length is written in a way that cannot be read.");
/// A key that must be there is not.
pub const MISSING_KEY: Code = Code::new("missing-key", "A key that must be there is missing.");
/// Two keys that exclude each other, or that leave something unsaid.
pub const KEYS_CLASH: Code = Code::new("keys-clash", "Two keys say the same thing in different ways.");
/// A word outside the list of words a key takes.
pub const UNKNOWN_WORD: Code = Code::new("unknown-word", "A word is not one of those the key takes.");
/// A number outside what the key takes.
pub const NUMBER_OUT_OF_RANGE: Code = Code::new("number-out-of-range", "A number is outside what the key takes.");
/// The same name twice in one list.
pub const DUPLICATE_NAME: Code = Code::new("duplicate-name", "Two things of one kind carry the same name.");

/// A base that is not there.
pub const BASE_MISSING: Code =
    Code::new("base-missing", "The file this one is based on is not at hand, so what it says would be lost.");

/// A drawing that gives no outline.
pub const DRAWING_UNFIT: Code =
    Code::new("drawing-unfit", "A drawing cannot be read, holds no single closed outline, or does not say its unit.");
/// A list of offcuts that is none.
pub const OFFCUTS_UNREADABLE: Code =
    Code::new("offcuts-unreadable", "The list of offcuts that a board names is not one that can be read.");
/// A list without a piece for the board.
pub const OFFCUTS_EMPTY: Code =
    Code::new("offcuts-empty", "The list of offcuts that a board names holds no piece of its profile.");

/// Every code of this stage.
pub const ALL: &[Code] = &[
    FILE_SYNTAX,
    FORMAT_UNKNOWN,
    UNIT_NOT_DECLARED,
    UNKNOWN_KEY,
    WRONG_TYPE,
    UNREADABLE_LENGTH,
    MISSING_KEY,
    KEYS_CLASH,
    UNKNOWN_WORD,
    NUMBER_OUT_OF_RANGE,
    DUPLICATE_NAME,
    BASE_MISSING,
    DRAWING_UNFIT,
    OFFCUTS_UNREADABLE,
    OFFCUTS_EMPTY,
];
