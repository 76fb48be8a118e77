//! The build book: everything a person needs in the shop and at the car, as one page that opens from disk without a network, and
//! its templates and labels on paper true to size.
//!
//! Takes: a [`Job`] and what is [`Around`] it. Gives: [`Files`]. Chapters are files of this folder, in the order of reading in
//! [`write()`].

mod assembly;
mod canvas;
mod cut_list;
mod file_list;
mod first;
mod gaps;
mod hardware;
mod lengths;
mod links;
mod load_page;
mod metrics;
mod motion;
mod page;
mod paper;
mod part;
mod shape;
mod sheet;
mod solid;
mod unit;

use super::{Files, Job, Names};
use crate::fit::load::LoadReport;
use crate::nest::SawPlan;
use crate::share::in_order;
use lengths::Lengths;
use links::Links;

/// The page's name in a pack.
pub const PAGE: &str = "book.html";
/// Templates and labels at true size on A4.
pub const PAPER_A4: &str = "templates-a4.pdf";
/// Templates and labels at true size on Letter.
pub const PAPER_LETTER: &str = "templates-letter.pdf";
/// Every file that the book adds to a pack.
pub const FILES: [&str; 3] = [PAGE, PAPER_A4, PAPER_LETTER];

/// What the book tells beside the job itself.
#[derive(Clone, Copy, Debug)]
pub struct Around<'a> {
    /// Mass, strength and restraint.
    pub load: Option<&'a LoadReport>,
    /// The saw plan, when the parts are sawn; the job's layout is its sheets then.
    pub saw: Option<&'a SawPlan>,
    /// What the proof said of the files.
    pub proof: &'a Proved,
    /// Every other file of the pack, by its path.
    pub files: &'a [String],
}

/// What a proof said, in figures.
#[derive(Clone, Debug, Default)]
pub struct Proved {
    /// Whether the files would cut what the job says.
    pub passed: bool,
    /// The revision that the files carry.
    pub revision: String,
    /// Each rule: what was looked at, how often, and whether it held.
    pub rules: Vec<(String, usize, bool)>,
}

/// Everything a chapter draws on.
struct Book<'a> {
    job: &'a Job<'a>,
    around: &'a Around<'a>,
    names: Names,
    revision: String,
    lengths: Lengths,
    links: Links,
    unit: unit::Unit,
    plan: assembly::Plan,
}

impl<'a> Book<'a> {
    fn new(job: &'a Job<'a>, around: &'a Around<'a>) -> Self {
        let names = Names::of(job);
        let links = Links::new(job, &names, around.saw.is_some());
        let lengths = Lengths::new(job.design.units, job.design.process.machine.units);
        let unit = unit::Unit::of(job);
        let plan = assembly::Plan::of(job, &unit);
        Self { job, around, names, revision: around.proof.revision.clone(), lengths, links, unit, plan }
    }
}

/// The book's files: the page, and its templates and labels as PDF for both usual sizes of paper.
#[must_use]
pub fn write(job: &Job, around: &Around) -> Files {
    let book = Book::new(job, around);
    let leaves = paper::Leaves::of(&book);
    let chapters: [fn(&Book) -> page::Chapter; 9] = [
        first::chapter,
        cut_list::chapter,
        hardware::chapter,
        sheet::chapter,
        part::chapter,
        assembly::chapter,
        motion::chapter,
        gaps::chapter,
        load_page::chapter,
    ];
    let mut chapters = in_order(&chapters, || (), |(), chapter| chapter(&book));
    chapters.extend([leaves.templates(), leaves.labels(), file_list::chapter(&book)]);
    let mut files = leaves.files(&book);
    files.insert(PAGE.to_owned(), page::page(&book, chapters).into_bytes());
    files
}
