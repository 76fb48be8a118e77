//! Arguments in, exit code out.

use baywright::cli::Cli;
use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    // The DXF library asks the clock's time zone while writing and cannot take zones whose midnight of 1900-01-01 is ambiguous;
    // nothing the program prints depends on the zone.
    std::env::set_var("TZ", "UTC");
    baywright::run::run(&Cli::parse())
}
