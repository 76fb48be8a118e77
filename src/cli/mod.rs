//! Command-line types only.
//!
//! Takes: the words of the command line.
//! Gives: [`Cli`].
//! Guarantees: a value that exists has been spelt rightly.
//! Never: reads a file, prints, or decides anything.

use crate::design::Scale;
use crate::nest::Effort;
use crate::units::InchFraction;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// From a measured vehicle bay and a short written design to checked, nested, proved cut files for plywood storage.
#[derive(Debug, Parser)]
#[command(name = "baywright", version, arg_required_else_help = true, after_help = EXAMPLES)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// What every command takes.
    #[command(flatten)]
    pub common: Common,
}

const EXAMPLES: &str = "\
Examples:
  baywright new van.toml                          write a working starter project
  baywright check van.toml                        will it fit, slide and close?
  baywright why van.toml \"lower left drawer front\"  where does each of its sizes come from?
  baywright make van.toml --out pack              cut files, lists and proof
  baywright mockup van.toml --board card-single-c  the same in card, to try in the bay
  baywright prove pack                            read a pack back and prove it again
  baywright shop birch-ply-15                     what the program knows of a board

Exit codes: 0 fine, 1 the design or the pack has a stopper, 2 wrong usage or trouble with a file.";

/// Options of every command.
#[derive(Clone, Debug, Args)]
pub struct Common {
    /// Print data (JSON) instead of text.
    #[arg(long, global = true)]
    pub json: bool,
    /// A folder of shop profiles of your own; those beside the project file, in `profiles/`, are read as well.
    #[arg(long, global = true, value_name = "FOLDER", env = "BAYWRIGHT_PROFILES")]
    pub profiles: Option<PathBuf>,
    /// Colour in messages.
    #[arg(long, global = true, value_name = "WHEN", default_value = "auto")]
    pub colour: Colour,
}

/// When to use colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Colour {
    /// On a terminal, unless `NO_COLOR` is set.
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write a working starter project
    New(NewArgs),
    /// Derive the design and judge every gap; write nothing
    Check(CheckArgs),
    /// Explain a size down to tape readings, boards and chosen numbers
    Why(WhyArgs),
    /// Weigh the unit with its goods and judge bending, slides, anchors and screws; write nothing
    Load(LoadArgs),
    /// Make the pack: cut files, lists, job data and proof
    Make(MakeArgs),
    /// Make the pack of a mock-up in card for a laser: the same design, full size or smaller
    #[command(name = "mockup")]
    MockUp(MockUpArgs),
    /// Read a pack back from disk and prove it, without the project file
    Prove(ProveArgs),
    /// List the shop's boards, cutters, machines, slides, latches and fasteners, or show one
    Shop(ShopArgs),
    /// Print the completion script for a shell
    Completions {
        /// The shell.
        shell: clap_complete::Shell,
    },
    /// Print the manual page (roff)
    Man,
}

/// Arguments of `load`.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  baywright load samples/survey-van.toml")]
pub struct LoadArgs {
    /// The project file (TOML).
    pub project: PathBuf,
}

/// Arguments of `check`.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  baywright check samples/survey-van.toml\n  baywright check samples/survey-van.toml --with carcass=17.2"
)]
pub struct CheckArgs {
    /// The project file (TOML).
    pub project: PathBuf,
    /// What if this board were so thick? Shows sizes and gaps that change, and which parts already cut still serve; repeatable.
    #[arg(long, value_name = "BOARD=THICKNESS")]
    pub with: Vec<OtherBoard>,
}

/// A board of the project and another thickness for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherBoard {
    /// The name the project gives it.
    pub name: String,
    /// As written: a bare figure is in the project's unit.
    pub thickness: String,
}

impl std::str::FromStr for OtherBoard {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        match text.rsplit_once('=') {
            Some((name, thickness)) if !name.trim().is_empty() && !thickness.trim().is_empty() => {
                Ok(Self { name: name.trim().to_owned(), thickness: thickness.trim().to_owned() })
            }
            _ => Err("write a board's name and its thickness: carcass=17.2".to_owned()),
        }
    }
}

/// Arguments of `new`.
#[derive(Debug, Args)]
#[command(
    after_help = "Without flags on a terminal, it asks. Example:\n  baywright new van.toml --units mm --bay 1200x1300x900 --drawers 2"
)]
pub struct NewArgs {
    /// The file to write; it must not exist yet.
    pub project: PathBuf,
    /// Title of the project.
    #[arg(long)]
    pub title: Option<String>,
    /// The unit to write it in.
    #[arg(long, value_name = "mm|in")]
    pub units: Option<UnitArg>,
    /// Width x depth x height of the bay, each with or without a unit: `1200x1300x900`; leave out for a free-standing unit.
    #[arg(long, value_name = "WxDxH")]
    pub bay: Option<String>,
    /// Width x depth x height of the unit; fitted to the bay when left out.
    #[arg(long, value_name = "WxDxH")]
    pub unit_size: Option<String>,
    /// How many drawers side by side.
    #[arg(long)]
    pub drawers: Option<u32>,
    /// Ask nothing; take the usual answer for what is not given.
    #[arg(long)]
    pub yes: bool,
}

/// Units as an argument.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum UnitArg {
    /// Millimetres.
    Mm,
    /// Inches.
    In,
}

/// Arguments of `why`.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  baywright why van.toml \"lower left drawer front\"\n  baywright why van.toml \"lower left opening width\""
)]
pub struct WhyArgs {
    /// The project file (TOML).
    pub project: PathBuf,
    /// A part by name or id, a size, or a gap; left out, all names are listed.
    pub what: Option<String>,
    /// Also print inches, rounded to this mark, with the error that makes.
    #[arg(long, value_name = "MARK")]
    pub inches: Option<MarkArg>,
}

/// Marks of an inch rule as an argument.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum MarkArg {
    /// Sixteenths.
    #[value(name = "1/16")]
    Sixteenth,
    /// Thirty-seconds.
    #[value(name = "1/32")]
    ThirtySecond,
    /// Sixty-fourths.
    #[value(name = "1/64")]
    SixtyFourth,
}

impl From<MarkArg> for InchFraction {
    fn from(mark: MarkArg) -> Self {
        match mark {
            MarkArg::Sixteenth => Self::Sixteenth,
            MarkArg::ThirtySecond => Self::ThirtySecond,
            MarkArg::SixtyFourth => Self::SixtyFourth,
        }
    }
}

/// Arguments of `make`.
#[derive(Debug, Args)]
#[command(
    after_help = "The pack is written beside its place, proved, and then moved there; an earlier pack survives any failure.\nExamples:\n  baywright make samples/survey-van.toml --out pack\n  baywright make samples/survey-van.toml --process saw --out saw-pack\n  baywright make samples/survey-van.toml --only \"lower left drawer front\" --from 900x400 --out again"
)]
pub struct MakeArgs {
    /// The project file (TOML).
    pub project: PathBuf,
    /// The folder to make; default: the project file's name with `-pack` (or `-again`), beside it.
    #[arg(long, value_name = "FOLDER")]
    pub out: Option<PathBuf>,
    /// What cuts the panels: the machine of the project, or a saw by straight cuts from edge to edge (`[saw]` in the project).
    #[arg(long, value_name = "KIND", default_value = "machine")]
    pub process: ProcessArg,
    /// Only this part, by id or name, once more because it was spoiled; repeatable.
    #[arg(long, value_name = "PART")]
    pub only: Vec<String>,
    /// Lay the parts of `--only` on this offcut: its length along the grain and its width, as `800x600`.
    #[arg(long, value_name = "LENGTHxWIDTH", requires = "only")]
    pub from: Option<String>,
    /// How hard to look for a better layout.
    #[arg(long, value_name = "LEVEL", default_value = "quick")]
    pub effort: EffortArg,
    /// Seed of the layout's random choices.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// Threads for the layout; 0 for all processors. The result never depends on it.
    #[arg(long, default_value_t = 0)]
    pub threads: usize,
}

/// Arguments of `mockup`.
#[derive(Debug, Args)]
#[command(after_help = MOCK_UP_EXAMPLES)]
pub struct MockUpArgs {
    /// The project file (TOML).
    pub project: PathBuf,
    /// Id of the card's profile: `card-single-b`, `card-single-c`, `card-double-bc`, or one of your own.
    #[arg(long, value_name = "ID")]
    pub board: String,
    /// How large: `full`, `auto` (joints look as in plywood), or a scale such as `1:6`.
    #[arg(long, value_name = "SCALE", default_value = "full")]
    pub scale: ScaleArg,
    /// Thickness of your card, measured; several readings with commas between. A bare figure is in the project's unit.
    #[arg(long, value_name = "READINGS")]
    pub thickness: Option<String>,
    /// Width of a slot in thicknesses of what is pressed into it; 0.85 when not said. Take it from the coupon.
    #[arg(long, value_name = "SHARE")]
    pub slot: Option<f64>,
    /// Id of the laser's profile; the first of the shop's lasers when not said.
    #[arg(long, value_name = "ID")]
    pub machine: Option<String>,
    /// Only a part of it: `envelope` for gauges of what is doubtful (arches, door, drawer faces, table heights).
    #[arg(long, value_name = "WHAT")]
    pub only: Option<OnlyArg>,
    /// The folder to make; default: the project file's name with `-mockup`, beside it.
    #[arg(long, value_name = "FOLDER")]
    pub out: Option<PathBuf>,
    /// How hard to look for a better layout.
    #[arg(long, value_name = "LEVEL", default_value = "quick")]
    pub effort: EffortArg,
}

/// What of a mock-up is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum OnlyArg {
    /// Gauges of what is doubtful, for a fast try in the vehicle.
    Envelope,
}

const MOCK_UP_EXAMPLES: &str = "\
Outer sizes are kept or scaled; joints, slots and everything else that depends on thickness is derived again from the card.
Examples:
  baywright mockup samples/survey-van.toml --board card-single-c --scale 1:6 --out mock-up
  baywright mockup samples/survey-van.toml --board card-single-c --thickness 4.1,4.2,4.2 --scale full
  baywright mockup samples/survey-van.toml --board card-single-c --only envelope";

/// A scale as an argument. Whether anything can be made at it is for the design to say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScaleArg(pub Scale);

impl std::str::FromStr for ScaleArg {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let wrong = || "write `full`, `auto`, or a scale such as `1:6`".to_owned();
        let number = |text: &str| text.trim().parse::<f64>().map_err(|_| wrong());
        match (text.trim(), text.split_once(':')) {
            ("full", _) => Ok(Self(Scale::Factor(1.0))),
            ("auto", _) => Ok(Self(Scale::Auto)),
            (_, Some((one, of))) => Ok(Self(Scale::Factor(number(one)? / number(of)?))),
            (plain, None) => Ok(Self(Scale::Factor(number(plain)?))),
        }
    }
}

/// What cuts the panels, as an argument.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ProcessArg {
    /// The project's machine.
    Machine,
    /// A panel or table saw.
    Saw,
}

/// Effort as an argument.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum EffortArg {
    /// A glance.
    Draft,
    /// About a second at most.
    Quick,
    /// About ten seconds.
    Thorough,
    /// Minutes for each board; Enter ends it with the best so far.
    Exhaustive,
}

impl From<EffortArg> for Effort {
    fn from(effort: EffortArg) -> Self {
        match effort {
            EffortArg::Draft => Self::Draft,
            EffortArg::Quick => Self::Quick,
            EffortArg::Thorough => Self::Thorough,
            EffortArg::Exhaustive => Self::Exhaustive,
        }
    }
}

/// Arguments of `prove`.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  baywright prove pack")]
pub struct ProveArgs {
    /// The pack's folder.
    pub pack: PathBuf,
}

/// Arguments of `shop`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  baywright shop\n  baywright shop side-mount-600")]
pub struct ShopArgs {
    /// Id of one profile; left out, all are listed.
    pub id: Option<String>,
}
