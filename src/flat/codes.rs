//! What this stage can find.

use crate::diag::Code;

/// Every code of this stage.
pub const ALL: &[Code] = &[];
