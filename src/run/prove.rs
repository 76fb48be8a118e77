//! `prove`: read a pack from disk as a stranger would, and say what would come off the machine.

use super::screen::Screen;
use super::{disk, Outcome, Trouble};
use crate::cli::ProveArgs;
use crate::proof;

pub(super) fn run(args: &ProveArgs, screen: &Screen) -> Result<Outcome, Trouble> {
    let mut files = disk::read_pack(&args.pack)?;
    // The verdict of an earlier proof is not evidence.
    files.remove("proof.json");
    files.remove("proof.txt");
    let verdict = proof::prove(&files);
    if screen.json {
        Screen::bytes(&verdict.to_json())?;
    } else {
        Screen::print(&verdict.to_text())?;
    }
    Ok(if verdict.passed { Outcome::Fine } else { Outcome::Stopped })
}
