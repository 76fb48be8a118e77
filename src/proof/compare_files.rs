//! No cut file missing, none that the job does not know.

use super::codes;
use super::pack::{file_name, Pack};
use super::saw;
use super::verdict::Rule;
use crate::diag::Finding;
use std::collections::BTreeSet;

/// Files that stand at the top of a pack beside its folders.
const TOP: &[&str] = &[
    "book.html",
    "mock-up.html",
    "templates-a4.pdf",
    "templates-letter.pdf",
    "job.json",
    "cut-list.csv",
    "hardware.csv",
    "offcuts.csv",
    "proof.json",
    "proof.txt",
];
/// Endings that someone may cut from.
const CUT: &[&str] = &[".dxf", ".svg", ".nc", ".ngc", ".gcode", ".tap", ".cnc"];

pub(super) fn check(pack: &Pack<'_>) -> [Rule; 2] {
    let mut missing = Rule::counting(codes::FILE_MISSING, "files named by the job");
    let mut foreign = Rule::counting(codes::FILE_FOREIGN, "files in the pack");
    let job = &pack.job;
    let drawings = job.parts.iter().flat_map(|p| &p.files).chain(job.sheets.iter().flat_map(|s| &s.files));
    let burnt = job.laser.iter().flat_map(|l| &l.sheets).flat_map(|s| &s.files);
    let drawings = drawings.chain(burnt);
    let mut named: BTreeSet<&str> = BTreeSet::new();
    let drawings = drawings.chain(saw::files(job));
    // A file with several programs is named by each; that their sections differ is seen when it is read.
    let programs = job.programs.iter().filter(|p| p.section == 1).map(|p| &p.file);
    for name in drawings.chain(programs) {
        missing.count(1);
        if !named.insert(name) {
            missing.fault(|code| Finding::stop(code, format!("The job names {} twice", file_name(name))));
        } else if pack.names.binary_search(&name.as_str()).is_err() {
            missing.fault(|code| {
                Finding::stop(code, format!("{} is not in the pack", file_name(name)))
                    .remedy("copy the whole pack, or make it again")
            });
        }
    }
    for (kind, ending) in [
        ("parts", job.parts.iter().map(|p| &p.files).collect::<Vec<_>>()),
        // A saw's sheets have a table, a page and a picture instead.
        ("sheets", job.sheets.iter().filter(|_| job.saw.is_none()).map(|s| &s.files).collect()),
        ("laser sheets", job.laser.iter().flat_map(|l| &l.sheets).map(|s| &s.files).collect()),
    ]
    .into_iter()
    .flat_map(|(kind, lists)| lists.into_iter().map(move |files| (kind, files)))
    {
        let has = |wanted: &str| ending.iter().any(|f| f.to_ascii_lowercase().ends_with(wanted));
        if !(has(".dxf") && has(".svg")) {
            missing.fault(|code| Finding::stop(code, format!("One of the job's {kind} has no DXF or no SVG")));
        }
    }
    let has_job = |folder: &str| pack.names.binary_search(&format!("{folder}/job.json").as_str()).is_ok();
    for name in &pack.names {
        foreign.count(1);
        // A coupon is a pack of its own, with a proof of its own.
        if named.contains(name) || TOP.contains(name) || coupon(name).is_some_and(has_job) {
            continue;
        }
        let lower = name.to_ascii_lowercase();
        let may_be_cut = CUT.iter().any(|e| lower.ends_with(e))
            || ["parts/", "sheets/", "gcode/", "laser/", "saw/"].iter().any(|f| lower.starts_with(f));
        let message = format!("{} is not named by the job", file_name(name));
        if may_be_cut {
            foreign.fault(|code| Finding::stop(code, message).remedy("take the file out of the pack"));
        } else {
            foreign.remark(|code| Finding::caution(code, message));
        }
    }
    [missing, foreign]
}

/// The folder of the coupon that a file belongs to.
fn coupon(name: &str) -> Option<&str> {
    let inside = name.strip_prefix("coupon/")?;
    Some(&name[..name.len() - inside.len() + inside.find('/')?])
}
