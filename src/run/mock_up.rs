//! `mockup`: the same pipeline with another board, process and scale.

use super::derive::{derive_with, Change};
use super::screen::Screen;
use super::{make, Outcome, Trouble};
use crate::cli::{Common, MakeArgs, MockUpArgs, ProcessArg};

pub(super) fn run(args: &MockUpArgs, common: &Common, screen: &Screen) -> Result<Outcome, Trouble> {
    let derived = derive_with(&args.project, common.profiles.as_deref(), Change::MockUp(args))?;
    let out = args.out.clone().unwrap_or_else(|| make::default_out(&args.project, "mockup"));
    let rest = MakeArgs {
        only: Vec::new(),
        from: None,
        project: args.project.clone(),
        out: None,
        process: ProcessArg::Machine,
        effort: args.effort,
        seed: 1,
        threads: 0,
    };
    make::pack(&rest, derived, &out, screen)
}
