//! `job.json`: everything as data, version 1. Enough to prove a pack without the project it came from.
//!
//! Conventions. Lengths are in millimetres, rounded to 0.001, whatever unit the cut files are in; vertices carry six decimals so
//! that areas survive. Masses are in kg, times in s, angles in degrees counter-clockwise. `null` means: not known, no limit,
//! or does not apply (said at each key). Words are lower-case. Keys may be added within a version; none changes its meaning.
//!
//! Frames. A part's own frame is as it lies on the machine, working face up, y away from you, lower left corner of its bounds at
//! 0, 0. A sheet's frame has its corner at 0, 0, x along its length. A placement turns a part about its frame's origin, then
//! moves it by `x_mm`, `y_mm`. All the files in `parts/` and `sheets/` show these frames; SVG counts y downwards from the upper
//! edge of its page.
//!
//! | key | holds |
//! |---|---|
//! | `version` | 1 |
//! | `title`, `revision` | the project's title; the hash of everything that affects cutting |
//! | `units`, `cut_file_units` | always `mm`; `mm` or `in` |
//! | `dxf_release` | `12` or `2000` |
//! | `machine` | `id`, `name`, `process` (`router`, `laser`, `saw`), `travel_mm` [x, y, z] (a saw: `null`), `kerf_mm` (laser, else `null`) |
//! | `boards[]` | `name`, `material`, `nominal_mm`, `thickness_mm` {`min`, `mean`, `max`}, `readings_mm[]`, `density_kg_m3` |
//! | `parts[]` | see below |
//! | `sheets[]` | `board`, `number`, `length_mm`, `width_mm`, `files[]`, `placements[]`, `offcut_mm` {`x`, `y`, `length`, `width`} or `null`, `used_ratio` |
//! | `sheets[].placements[]` | `part`, `copy`, `x_mm`, `y_mm`, `turn_deg`, `flipped` (false: a part with face B up is already drawn so), `tabs` (how many tabs its outline is planned with; 0 with a skin or on a laser), `held[]` (left out where nothing is held by tabs) {`feature`, `tabs` (how many), `length_mm` (of the wood at full height, along the cutter's way), `height_mm` (over the spoilboard), `way_mm` (how far the tool centre runs above the cut's bottom for one tab: wood, twice the radius and both flanks)}, `inside` {`part`, `copy`, `feature`} (the opening of another part that it lies in and is cut out before) or `null` |
//! | `programs[]` | `file`, `section` (which of the programs in its file it is, from 1; the file stops between them, the spindle standing, for the next cutter), `board`, `sheet` (its number), `side` (`first`, `second`: turned over about the x axis, y becomes width − y), `order`, `cutter` {`name`, `id`, `diameter_mm`, `flutes`, `chip_max_mm` (the thickest chip per tooth in this board, or `null`), `centre_cutting` (whether it may go straight down into wood), `first_pass_max_mm` and `pass_max_mm` (how deep it may cut sideways into a whole sheet, and below a pass)}, `set_up` {`number` and `of` (which lie of the sheet this is, and of how many), `pins_mm` [x, y] and `pin_diameter_mm` (registration holes, in this program's frame; they are made in the first set-up; none and `null` with one), `screws_mm` [x, y] and `screw_head_mm` (hold-down screws; [diameter, height over the sheet] of their heads, `null` without any)}, `rpm`, `z_zero` (`spoilboard`, `sheet-top`), `clearance_mm` (height of rapid moves over the spoilboard), `floor_mm` (how far below the sheet's underside no move may go), `thickness_mm`, `run_s`, `times[]` {`work`, `s`} (together `run_s`), `restarts[]` {`number`, `line` (of the file, from 1), `label`} (where a run can be taken up again) |
//! | `laser` | only on a laser: `kerf_mm`, `compensated` (files hold the beam's centre, else the finished edge), `lines` {`mark`, `fold`, `opening`, `outline`: {`layer`, `colour`, `number`}}, `sheets[]` {`board`, `sheet`, `files[]`, `run_s`} |
//! | `saw` | only where the panels are cut on a saw: `kerf_mm`, `trim_mm`, `turns` (how often the work may be turned between rips and crosscuts), `sheets[]` {`board`, `number`, `cuts`, `stages`, `fence_settings`, `rip_widths`, `files[]`}; `sheets[].files` is empty then, and there are no programs |
//! | `hardware[]` | `name`, `profile`, `quantity`, `unit`, `place`, `mass_kg` of one or `null` |
//! | `findings[]` | `code`, `severity`, `message`, `limit`, `parts[]`, `place` {`file`, `line`, `column`} or `null`, `remedy` |
//! | `ledger[]` | `gap`, `nominal_mm`, `worst_min_mm`, `worst_max_mm`, `rss_min_mm`, `rss_max_mm`, `required_min_mm`, `required_max_mm` (`null` for no limit), `source`, `verdict` (`fits`, `tight`, `doubtful`, `fails`), `contributors[]` {`source`, `sensitivity`, `reach_mm`, `share`} |
//! | `assumptions[]`, `overrides[]` | sentences; {`code`, `part`, `reason`} |
//! | `totals` | `parts`, `different_parts`, `sheets`, `programs`, `parts_mass_kg`, `hardware_mass_kg` (`null` when a piece's mass is not known), `sheet_area_m2`, `used_ratio`, `run_s` |
//!
//! Each of `parts[]` has `id`, `name`, `unit`, `hand` (`left`, `right` or empty), `board`, `quantity`, `panels[]`, `face_up` (`A`, `B`),
//! `length_mm` and `width_mm` (finished, along and across the grain), `x_mm` and `y_mm` (the same in the part's frame), `grain`
//! (`along-x`, `along-y`, `any`), `thickness_mm`, `thickness_max_mm`, `area_mm2` (inside the outline, less the openings),
//! `mass_kg`, `edges[]` {`edge`, `joint`, `mate`}, `files[]`, and
//!
//! - `features[]` {`id`, `operation`, `side` (`up`, `down`: from the face that lies down), `depth_mm` (`null`: through),
//!   `diameter_mm` and `at_mm` (`null` unless round), `purpose`}: every cut but the outline;
//! - `contours[]` {`feature`, `operation`, `side`, `depth_mm`, `layer`, `island`, `vertices`}: the finished edges, the outline included.
//!   `vertices` are `[x, y, bulge]`, closed, bulge = tan(sweep / 4), positive counter-clockwise, as in DXF. An island is what its
//!   pocket leaves standing. `layer` is the layer of the part's and the sheet's drawings;
//! - `seats[]` {`feature`, `mate`, `vertices`}: the square shape, without clearance, that must fit into what is cut there.
//!
//! Operations: `through-outside`, `through-inside`, `pocket`, `drill`, `countersink` (90 degrees included; its depth is `null`, its
//! diameter that at the face), `mark` (depth 0), `fold` (scored along the contour to its depth).

mod build;
mod layout;
mod schema;

use super::gcode::Restart;
use super::{Job, Names};
use crate::nest::SawPlan;
use serde::Serialize;
use std::io;

/// `job.json` as bytes; `restarts` are those of each program, as its file has them.
#[must_use]
pub fn write(job: &Job, names: &Names, restarts: &[Vec<Restart>], revision: &str) -> Vec<u8> {
    printed(&build::document(job, names, restarts, revision))
}

/// The same for a pack that is cut on a saw.
pub(super) fn write_saw(job: &Job, plan: &SawPlan, names: &Names, revision: &str) -> Vec<u8> {
    let mut document = build::document(job, names, &[], revision);
    layout::on_a_saw(&mut document, job, plan, names);
    printed(&document)
}

fn printed(document: &schema::Document<'_>) -> Vec<u8> {
    let mut out = Vec::new();
    let mut serializer = serde_json::Serializer::with_formatter(&mut out, Lines::default());
    let done = document.serialize(&mut serializer);
    debug_assert!(done.is_ok(), "plain structs with text keys always serialise into memory");
    out.push(b'\n');
    out
}

/// Line breaks down to the keys of a list's items, none below: one line per contour, one per feature list.
#[derive(Default)]
struct Lines {
    depth: usize,
}

/// Deepest level that starts on a line of its own: document, list, item.
const DEEPEST: usize = 3;

impl Lines {
    fn new_line<W: ?Sized + io::Write>(&self, out: &mut W, space: bool) -> io::Result<()> {
        if self.depth > DEEPEST {
            return if space { out.write_all(b" ") } else { Ok(()) };
        }
        write!(out, "\n{:1$}", "", 2 * self.depth)
    }

    fn close<W: ?Sized + io::Write>(&mut self, out: &mut W, end: &[u8]) -> io::Result<()> {
        if self.depth <= DEEPEST {
            write!(out, "\n{:1$}", "", 2 * (self.depth - 1))?;
        }
        self.depth -= 1;
        out.write_all(end)
    }

    fn item<W: ?Sized + io::Write>(&self, out: &mut W, first: bool) -> io::Result<()> {
        if !first {
            out.write_all(b",")?;
        }
        self.new_line(out, !first)
    }
}

impl serde_json::ser::Formatter for Lines {
    fn begin_array<W: ?Sized + io::Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.depth += 1;
        out.write_all(b"[")
    }
    fn end_array<W: ?Sized + io::Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.close(out, b"]")
    }
    fn begin_array_value<W: ?Sized + io::Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.item(out, first)
    }
    fn begin_object<W: ?Sized + io::Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.depth += 1;
        out.write_all(b"{")
    }
    fn end_object<W: ?Sized + io::Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.close(out, b"}")
    }
    fn begin_object_key<W: ?Sized + io::Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.item(out, first)
    }
    fn begin_object_value<W: ?Sized + io::Write>(&mut self, out: &mut W) -> io::Result<()> {
        out.write_all(b": ")
    }
}
