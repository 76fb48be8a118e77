//! What this stage can find.

use crate::diag::Code;

/// A profile file is not TOML.
pub const SYNTAX: Code =
    Code::new("profile-syntax", "A profile file cannot be read as TOML, so none of its profiles is used.");
/// A key nobody knows.
pub const UNKNOWN_KEY: Code = Code::new(
    "profile-unknown-key",
    "A profile has a key that means nothing here; a mistyped key would otherwise be lost without a word.",
);
/// A value that must be given is not.
pub const MISSING_KEY: Code =
    Code::new("profile-missing-key", "A profile lacks a value that every profile of its kind needs.");
/// A value of the wrong type.
pub const WRONG_TYPE: Code = Code::new("profile-wrong-type", "A profile's value is of another type than it must be.");
/// A value that cannot be.
pub const BAD_VALUE: Code = Code::new(
    "profile-bad-value",
    "A profile's value cannot be: not positive, not finite, out of order, or not one of the words allowed.",
);
/// A profile names another that does not exist.
pub const UNKNOWN_REFERENCE: Code =
    Code::new("profile-unknown-reference", "A profile names a cutter or fastener that no profile describes.");
/// Two profiles of one kind share an id in one file.
pub const REPEATED_ID: Code =
    Code::new("profile-repeated-id", "One file describes the same id twice, so it is unclear which one is meant.");
/// A value without a source.
pub const NO_BASIS: Code = Code::new("profile-no-basis", "A profile does not say where some of its values come from.");
/// A size that smells of the wrong unit.
pub const UNLIKELY_SIZE: Code = Code::new(
    "profile-unlikely-size",
    "A profile's size is far from anything sold, as happens when inches are written as bare millimetres.",
);
/// A later file replaces a profile.
pub const REPLACES: Code = Code::new("profile-replaces", "A profile takes the place of an earlier one of the same id.");

/// Every code of this stage.
pub const ALL: &[Code] = &[
    SYNTAX,
    UNKNOWN_KEY,
    MISSING_KEY,
    WRONG_TYPE,
    BAD_VALUE,
    UNKNOWN_REFERENCE,
    REPEATED_ID,
    NO_BASIS,
    UNLIKELY_SIZE,
    REPLACES,
];
