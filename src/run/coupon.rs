//! The coupons of a pack: a small job of its own for each board, to be cut first.

use crate::design::{self, BoardId, Design};
use crate::diag::{Finding, Severity, Texts};
use crate::fit;
use crate::flat;
use crate::nest::{self, Effort, Layout, Options};
use crate::parts;
use crate::share;
use crate::toolpath;
use crate::write::{self, Files, Job, Names};
use std::collections::{BTreeMap, BTreeSet};

/// The folder of a pack that holds its coupons, one folder for each board.
const FOLDER: &str = "coupon/";

/// Makes the coupon of each board that has sheets; files by their path inside the pack. One that cannot be made is a caution. They
/// are proved where they lie on the disk, with the pack they are in.
pub(super) fn make(design: &Design, layout: &Layout, names: &Names, texts: &Texts, findings: &mut Vec<Finding>) -> Files {
    let used: BTreeSet<usize> = layout.sheets.iter().map(|s| s.board.0).collect();
    let used: Vec<usize> = used.into_iter().filter(|i| *i < design.boards.len()).collect();
    let made = share::in_order(&used, || (), |(), i| one(design, BoardId(*i), texts));
    let mut files = Files::new();
    for (i, made) in used.into_iter().zip(made) {
        match made {
            Ok(own) => files.extend(own.into_iter().map(|(name, b)| (format!("{FOLDER}{}/{name}", names.boards[i]), b))),
            Err(why) => findings.push(design::no_coupon(&design.boards[i], &why)),
        }
    }
    files
}

/// The files of one board's coupon, or why there are none.
fn one(design: &Design, board: BoardId, texts: &Texts) -> Result<Files, String> {
    let small = design::coupon(design, board).ok_or("it is not in the design")?;
    let mut found = Vec::new();
    let made = pack(&small, texts, &mut found);
    if let Some(stop) = found.iter().find(|f| f.severity == Severity::Stop) {
        return Err(stop.message.clone());
    }
    made.ok_or_else(|| "its stages gave nothing to cut".to_owned())
}

/// The stages of a small job, one after the other.
fn pack(small: &Design, texts: &Texts, found: &mut Vec<Finding>) -> Option<Files> {
    let model = parts::build(small).into(found)?;
    let ledger = fit::check(small, &model).into(found)?;
    let flat = flat::flatten(small, &model).into(found)?;
    let options = Options { effort: Effort::Draft, ..Options::default() };
    let layout = nest::lay_out(small, &flat, &options).into(found)?;
    let programs = toolpath::plan(small, &flat, &layout).into(found)?;
    let beams = toolpath::beams(small, &flat, &layout).into(found)?;
    let job = Job {
        design: small,
        model: &model,
        ledger: &ledger,
        parts: &flat,
        layout: &layout,
        programs: &programs,
        beams: &beams,
        findings: found,
        texts,
    };
    Some(write::pack(&job))
}

/// A pack taken apart: its own files, and those of each coupon by its folder.
pub(super) fn apart(files: Files) -> (Files, BTreeMap<String, Files>) {
    let (mut own, mut coupons) = (Files::new(), BTreeMap::<String, Files>::new());
    for (name, bytes) in files {
        match folder(&name) {
            Some((folder, inside)) => coupons.entry(folder.to_owned()).or_default().insert(inside.to_owned(), bytes),
            None => own.insert(name, bytes),
        };
    }
    (own, coupons)
}

/// The folders of the coupons in a pack.
pub(super) fn folders(files: &Files) -> BTreeSet<&str> {
    files.keys().filter_map(|name| folder(name)).map(|(folder, _)| folder).collect()
}

/// The folder of the coupon that a file belongs to, and its path in there.
fn folder(name: &str) -> Option<(&str, &str)> {
    let slash = FOLDER.len() + name.strip_prefix(FOLDER)?.find('/')?;
    Some((&name[..slash], &name[slash + 1..]))
}
