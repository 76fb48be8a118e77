//! Findings: what a stage has to say to the maker, and where in their file it belongs.
//!
//! Takes: nothing; every stage builds findings from here.
//! Gives: [`Finding`], [`Checked`], [`Span`], [`Texts`] and the rendering of findings as text.
//! Guarantees: a finding carries a code of its stage's own list, with its meaning.
//! Never: prints, or decides an exit code.

mod finding;
pub mod render;
mod texts;

pub use finding::{has_stop, Checked, Code, Finding, Severity};
pub use texts::{FileId, Place, Span, Texts};
