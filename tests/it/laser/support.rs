//! Small projects for a laser, and what becomes of them.

use baywright::design::{self, Design};
use baywright::diag::{Finding, Texts};
use baywright::fit;
use baywright::flat;
use baywright::nest::{self, Options};
use baywright::parts;
use baywright::project;
use baywright::shop;
use baywright::toolpath::{self, BeamSheet};
use baywright::write::{self, Files, Job};

/// A machine profile: a laser with a bed of 900 by 600 and this kerf.
pub(super) fn machine(kerf: &str, compensate: bool) -> String {
    format!(
        "[[machine]]\nid = \"own-laser\"\nname = \"own laser\"\nunits = \"mm\"\ntravel = [900, 600, 40]\n\
         rapid_mm_min = 18000\nfeed_max_mm_min = 6000\naccel_mm_s2 = 2000\nprocess = \"laser\"\n\
         laser = {{ kerf = {kerf}, compensate = {compensate} }}\nbasis.rest = \"test\"\n"
    )
}

/// A project of loose panels of 3 mm plywood on that laser.
pub(super) fn panels(panels: &str) -> String {
    format!(
        "format = 1\ntitle = \"Loose\"\nunits = \"mm\"\n[shop]\nmachine = \"own-laser\"\n\
         [boards.thin]\nprofile = \"laser-ply-3\"\nreadings = [3, 3, 3, 3]\n{panels}"
    )
}

/// One panel with an opening, a slot, a hole and a notch.
pub(super) const PLATE: &str = "[[panel]]\nname = \"plate\"\nsize = [120, 80]\nboard = \"thin\"\nquantity = 2\n\
    cut_outs = [{ at = [20, 20], size = [30, 12], radius = 0 }, { at = [70, 20], size = [30, 20], radius = 6 }]\n\
    slots = [{ from = [30, 60], to = [60, 60], width = 5 }]\nholes = [{ at = [90, 60], diameter = 8 }]\n\
    notches = [{ at = [0, 50], size = [10, 3.2] }]\n";

/// What a project became: the design, a laser's lines, the pack.
pub(super) struct Made {
    pub(super) design: Design,
    pub(super) beams: Vec<BeamSheet>,
    pub(super) files: Files,
}

/// The whole pipeline but the disk; what stopped it, when it stops.
pub(super) fn made(project: &str, machine: &str) -> (Option<Made>, Vec<Finding>) {
    let mut found = Vec::new();
    (make(project, machine, &mut found), found)
}

fn make(project: &str, machine: &str, found: &mut Vec<Finding>) -> Option<Made> {
    let mut texts = Texts::default();
    let file = texts.add("loose.toml", project);
    let own = texts.add("machine.toml", machine);
    let shop = shop::load(&texts, &[own]).into(found)?;
    let written = project::read(&texts, &[file]).into(found)?;
    let design = design::settle(&written, &shop, &texts).into(found)?;
    let model = parts::build(&design).into(found)?;
    let ledger = fit::check(&design, &model).into(found)?;
    let parts = flat::flatten(&design, &model).into(found)?;
    let layout = nest::lay_out(&design, &parts, &Options::default()).into(found)?;
    let beams = toolpath::beams(&design, &parts, &layout).into(found)?;
    let files = write::pack(&Job {
        design: &design,
        model: &model,
        ledger: &ledger,
        parts: &parts,
        layout: &layout,
        programs: &[],
        beams: &beams,
        findings: found,
        texts: &texts,
    });
    Some(Made { design, beams, files })
}

/// The same, when it must go through.
pub(super) fn sound(project: &str, machine: &str) -> Made {
    let (made, found) = self::made(project, machine);
    made.unwrap_or_else(|| panic!("{found:?}"))
}

/// Codes of what was found.
pub(super) fn codes(found: &[Finding]) -> Vec<&'static str> {
    found.iter().map(|f| f.code.id).collect()
}
