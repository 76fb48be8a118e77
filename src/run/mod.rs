//! One file per command: the only room that reads or writes files, prints, or shows progress.
//!
//! Takes: the parsed command line.
//! Gives: an exit code: 0 fine, 1 a stopper, 2 usage or file trouble.
//! Guarantees: nothing is half-written; every problem found is printed.
//! Never: derives or decides anything itself.

mod again;
mod check;
mod coupon;
mod derive;
mod disk;
mod ledger;
mod load;
mod make;
mod mock_up;
mod new;
mod other_board;
mod progress;
mod prove;
mod sawn;
mod screen;
mod shop;
mod trouble;
mod why;

pub use derive::{derive, Derived};
pub use disk::release;
pub use trouble::Trouble;

use crate::cli::{Cli, Command};
use clap::CommandFactory;
use screen::Screen;
use std::io::Write as _;
use std::process::ExitCode;

/// How a command ended, when it could do its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Outcome {
    /// Nothing stands in the way.
    Fine,
    /// The design or the pack has a stopper.
    Stopped,
}

/// Runs a command.
#[must_use]
pub fn run(cli: &Cli) -> ExitCode {
    let screen = Screen::new(&cli.common);
    let common = &cli.common;
    let result = match &cli.command {
        Command::New(args) => new::run(args, &screen),
        Command::Check(args) => check::run(args, common, &screen),
        Command::Why(args) => why::run(args, common, &screen),
        Command::Load(args) => load::run(args, common, &screen),
        Command::Make(args) => make::run(args, common, &screen),
        Command::MockUp(args) => mock_up::run(args, common, &screen),
        Command::Prove(args) => prove::run(args, &screen),
        Command::Shop(args) => shop::run(args, common, &screen),
        Command::Completions { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(*shell, &mut Cli::command(), "baywright", &mut script);
            Screen::bytes(&script)
        }
        Command::Man => manual().and_then(|page| Screen::bytes(&page)),
    };
    match result {
        Ok(Outcome::Fine) => ExitCode::SUCCESS,
        Ok(Outcome::Stopped) => ExitCode::from(1),
        Err(trouble) => {
            screen.trouble(&trouble);
            ExitCode::from(2)
        }
    }
}

/// The manual page: the program, then a section for each command.
fn manual() -> Result<Vec<u8>, Trouble> {
    let mut page = Vec::new();
    clap_mangen::Man::new(Cli::command()).render(&mut page).map_err(|e| Trouble::output(&e))?;
    for command in Cli::command().get_subcommands() {
        let mut command = command.clone().bin_name(format!("baywright {}", command.get_name()));
        let _ = write!(page, ".SH \"BAYWRIGHT {}\"\n.nf\n", command.get_name().to_uppercase());
        for line in command.render_long_help().to_string().lines() {
            // In roff a backslash opens an escape, and a full stop or an apostrophe in front a request.
            let guard = if line.starts_with(['.', '\'']) { "\\&" } else { "" };
            let _ = writeln!(page, "{guard}{}", line.replace('\\', "\\e").replace('-', "\\-"));
        }
        page.extend_from_slice(b".fi\n");
    }
    Ok(page)
}
