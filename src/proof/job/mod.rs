//! The design as a pack states it: `job.json`, version 1, read with nothing taken on trust.

mod process;
mod program;

use super::fault::{quoted, Fault};
use super::limits;
use super::shape::{Corner, Pt, Ring};
pub(super) use process::{Laser, LaserSheet, Saw};
pub(super) use program::{Program, ProgramSide, SetUp, ZZero};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};

/// What the proof needs of `job.json`; other keys are left alone.
#[derive(Clone, Debug, Deserialize)]
pub(super) struct Job {
    pub(super) version: u32,
    pub(super) title: String,
    pub(super) revision: String,
    pub(super) units: String,
    pub(super) cut_file_units: String,
    pub(super) machine: Machine,
    pub(super) boards: Vec<Board>,
    pub(super) parts: Vec<Part>,
    pub(super) sheets: Vec<Sheet>,
    pub(super) programs: Vec<Program>,
    /// What a laser burns, when the job is for one.
    #[serde(default)]
    pub(super) laser: Option<Laser>,
    /// Only where the panels are cut on a saw.
    #[serde(default)]
    pub(super) saw: Option<Saw>,
}

#[derive(Clone, Debug, Deserialize)]
pub(super) struct Machine {
    pub(super) process: String,
    /// How far it moves along x, y and z, if the pack says so.
    #[serde(default)]
    pub(super) travel_mm: Option<[f64; 3]>,
}

#[derive(Clone, Debug, Deserialize)]
pub(super) struct Board {
    pub(super) name: String,
    pub(super) thickness_mm: Thickness,
}

#[derive(Clone, Copy, Debug, Deserialize)]
pub(super) struct Thickness {
    pub(super) min: f64,
    pub(super) mean: f64,
    pub(super) max: f64,
}

#[derive(Clone, Debug, Deserialize)]
pub(super) struct Part {
    pub(super) id: String,
    pub(super) board: String,
    pub(super) quantity: usize,
    /// `along-x`, `along-y` or `any`, if the pack says so.
    #[serde(default)]
    pub(super) grain: String,
    pub(super) files: Vec<String>,
    pub(super) contours: Vec<Contour>,
    pub(super) seats: Vec<Seat>,
}

impl Part {
    /// The feature that its outline is; a part has one.
    pub(super) fn outline(&self) -> Option<&str> {
        self.contours.iter().find(|c| c.operation == Operation::ThroughOutside).map(|c| c.feature.as_str())
    }
}

/// One closed line of a part.
#[derive(Clone, Debug, Deserialize)]
pub(super) struct Contour {
    pub(super) feature: String,
    pub(super) operation: Operation,
    pub(super) side: Side,
    pub(super) depth_mm: Option<f64>,
    pub(super) layer: String,
    #[serde(default)]
    pub(super) island: bool,
    vertices: Vec<[f64; 3]>,
    /// Filled after the vertices were checked.
    #[serde(skip, default = "no_ring")]
    pub(super) ring: Ring,
}

#[derive(Clone, Debug, Deserialize)]
pub(super) struct Seat {
    pub(super) feature: String,
    pub(super) mate: String,
    vertices: Vec<[f64; 3]>,
    #[serde(skip, default = "no_ring")]
    pub(super) ring: Ring,
}

fn no_ring() -> Ring {
    Ring(Vec::new())
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Operation {
    ThroughOutside,
    ThroughInside,
    Pocket,
    Drill,
    Countersink,
    Mark,
    Fold,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Side {
    Up,
    Down,
}

#[derive(Clone, Debug, Deserialize)]
pub(super) struct Sheet {
    pub(super) board: String,
    pub(super) number: u32,
    pub(super) length_mm: f64,
    pub(super) width_mm: f64,
    pub(super) files: Vec<String>,
    pub(super) placements: Vec<Placement>,
}

#[derive(Clone, Debug, Deserialize)]
pub(super) struct Placement {
    pub(super) part: String,
    pub(super) copy: usize,
    pub(super) x_mm: f64,
    pub(super) y_mm: f64,
    pub(super) turn_deg: u32,
    /// How many tabs were planned along the outline, if the pack says so.
    #[serde(default)]
    pub(super) tabs: Option<usize>,
    /// The opening of another part it lies in, if any.
    #[serde(default)]
    pub(super) inside: Option<Inside>,
    /// The tabs planned along each cut that has any, if the pack says so.
    #[serde(default)]
    pub(super) held: Vec<Held>,
}

/// An opening of a placed part.
#[derive(Clone, Debug, Deserialize)]
pub(super) struct Inside {
    pub(super) part: String,
    pub(super) copy: usize,
    pub(super) feature: String,
}

/// Tabs planned along one cut, all alike.
#[derive(Clone, Debug, Deserialize)]
pub(super) struct Held {
    pub(super) feature: String,
    /// How many.
    pub(super) tabs: usize,
    /// Of the wood at full height, along the cutter's way.
    pub(super) length_mm: f64,
    /// Over the spoilboard.
    pub(super) height_mm: f64,
    /// How far the tool centre runs above the cut's bottom for one tab.
    pub(super) way_mm: f64,
}

impl Placement {
    /// A point of the part's frame as it lies on the sheet: turned about the frame's origin, then moved.
    pub(super) fn place(&self, p: Pt) -> Pt {
        let (x, y) = match self.turn_deg {
            0 => (p.x, p.y),
            90 => (-p.y, p.x),
            180 => (-p.x, -p.y),
            _ => (p.y, -p.x),
        };
        Pt::new(x + self.x_mm, y + self.y_mm)
    }

    /// The other way: a point of the sheet in the part's frame.
    pub(super) fn lift(&self, p: Pt) -> Pt {
        let (x, y) = (p.x - self.x_mm, p.y - self.y_mm);
        match self.turn_deg {
            0 => Pt::new(x, y),
            90 => Pt::new(y, -x),
            180 => Pt::new(-x, -y),
            _ => Pt::new(-y, x),
        }
    }
}

/// Reads `job.json`.
///
/// # Errors
/// When it is not version 1 of the document, or holds numbers that cannot be.
pub(super) fn read(bytes: &[u8]) -> Result<Job, Fault> {
    if bytes.len() > limits::FILE_BYTES {
        return Err(Fault::whole(format!(
            "the file has {} bytes, more than the {} read at all",
            bytes.len(),
            limits::FILE_BYTES
        )));
    }
    let mut job: Job = serde_json::from_slice(bytes).map_err(|e| Fault::on(e.line(), plain(&e.to_string())))?;
    check(&mut job).map_err(Fault::whole)?;
    Ok(job)
}

fn plain(message: &str) -> String {
    message.chars().take(160).map(|c| if c.is_ascii_graphic() || c == ' ' { c } else { '?' }).collect()
}

fn check(job: &mut Job) -> Result<(), String> {
    if job.version != 1 {
        return Err(format!("the document is version {}; version 1 is understood", job.version));
    }
    if job.units != "mm" || !matches!(job.cut_file_units.as_str(), "mm" | "in") {
        return Err(format!(
            "units {} and cut file units {} are not understood",
            quoted(&job.units),
            quoted(&job.cut_file_units)
        ));
    }
    if job.revision.len() < 8 || !job.revision.bytes().all(|b| b.is_ascii_hexdigit()) {
        return Err(format!("revision {} is not a hash", quoted(&job.revision)));
    }
    for board in &job.boards {
        let Thickness { min, mean, max } = board.thickness_mm;
        if !(min > 0.0 && min <= mean && mean <= max && max < limits::COORDINATE) {
            return Err(format!("board {} has thickness {min} to {max} mm", quoted(&board.name)));
        }
    }
    if let Some(laser) = &job.laser {
        if !(0.0..limits::KERF).contains(&laser.kerf_mm) {
            return Err(format!("a kerf of {} mm cannot be", laser.kerf_mm));
        }
        if !laser.lines.are_apart() {
            return Err("two kinds of a laser's lines share a layer".to_owned());
        }
    }
    let mut ids = BTreeSet::new();
    for part in &mut job.parts {
        if !ids.insert(part.id.clone()) {
            return Err(format!("part {} is listed twice", quoted(&part.id)));
        }
        check_part(part).map_err(|m| format!("part {}: {m}", quoted(&part.id)))?;
    }
    let mut sheets = BTreeSet::new();
    if let Some(twice) = job.sheets.iter().find(|s| !sheets.insert((s.board.as_str(), s.number))) {
        return Err(format!("sheet {} of {} is listed twice", twice.number, quoted(&twice.board)));
    }
    let copies = job.sheets.iter().map(|s| s.placements.len()).sum::<usize>();
    if copies > limits::COPIES || job.parts.iter().any(|p| p.quantity > limits::COPIES) {
        return Err(format!("more than {} copies of parts", limits::COPIES));
    }
    if job.sheets.len() > limits::SHEETS || job.programs.len() > limits::PROGRAMS {
        return Err(format!(
            "{} sheets and {} programs are more than are proved at once",
            job.sheets.len(),
            job.programs.len()
        ));
    }
    let contours: BTreeMap<&str, usize> = job.parts.iter().map(|p| (p.id.as_str(), p.contours.len())).collect();
    for sheet in &job.sheets {
        let shown: usize = sheet.placements.iter().filter_map(|p| contours.get(p.part.as_str())).sum();
        if shown > limits::CONTOURS.1 {
            return Err(format!("sheet {} of {} shows {shown} contours", sheet.number, quoted(&sheet.board)));
        }
    }
    let rings = job.parts.iter().flat_map(|p| p.contours.iter().map(|c| &c.ring).chain(p.seats.iter().map(|s| &s.ring)));
    if rings.map(Ring::fineness).sum::<usize>() > limits::POINTS {
        return Err(format!("the parts' contours come to more than {} points", limits::POINTS));
    }
    for sheet in &job.sheets {
        let name = format!("sheet {} of {}", sheet.number, quoted(&sheet.board));
        let fits = |v: f64| v > 0.0 && v < limits::COORDINATE;
        if !fits(sheet.length_mm) || !fits(sheet.width_mm) {
            return Err(format!("{name} measures {} x {} mm", sheet.length_mm, sheet.width_mm));
        }
        for p in &sheet.placements {
            if !matches!(p.turn_deg, 0 | 90 | 180 | 270)
                || p.x_mm.abs() > limits::COORDINATE
                || p.y_mm.abs() > limits::COORDINATE
            {
                return Err(format!("{name} places part {} where it cannot lie", quoted(&p.part)));
            }
        }
    }
    if let Some(saw) = &job.saw {
        if !(0.0..limits::COORDINATE).contains(&saw.kerf_mm) || saw.turns > 1000 {
            return Err(format!("a saw with a kerf of {} mm and {} turns", saw.kerf_mm, saw.turns));
        }
        if !job.programs.is_empty() || job.machine.process != "saw" {
            return Err("a saw plan for a machine that runs programs".to_owned());
        }
    }
    job.programs.iter().try_for_each(Program::check)?;
    for held in job.sheets.iter().flat_map(|s| &s.placements).flat_map(|p| &p.held) {
        if [held.length_mm, held.height_mm, held.way_mm].iter().any(|v| !(0.0..limits::COORDINATE).contains(v)) {
            return Err(format!("tabs along {} have sizes that cannot be", quoted(&held.feature)));
        }
    }
    Ok(())
}

fn check_part(part: &mut Part) -> Result<(), String> {
    let mut depths: Vec<f64> = part.contours.iter().filter_map(|c| c.depth_mm).collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup();
    if part.contours.len() > limits::CONTOURS.0 || depths.len() > limits::DEPTHS {
        return Err(format!("{} contours at {} depths are more than are proved", part.contours.len(), depths.len()));
    }
    for contour in &mut part.contours {
        let name = quoted(&contour.feature);
        contour.ring = ring(&contour.vertices).map_err(|m| format!("feature {name}: {m}"))?;
        if contour.depth_mm.is_some_and(|d| !(0.0..limits::COORDINATE).contains(&d)) {
            return Err(format!("feature {name} has an impossible depth"));
        }
        if contour.operation == Operation::Pocket && contour.depth_mm.is_none() {
            return Err(format!("pocket {name} has no depth"));
        }
    }
    for seat in &mut part.seats {
        seat.ring = ring(&seat.vertices).map_err(|m| format!("seat in {}: {m}", quoted(&seat.feature)))?;
    }
    let straight = |ring: &Ring| ring.segments().map(|(a, b, _)| a.distance(b)).sum::<f64>();
    if part.contours.iter().map(|c| straight(&c.ring)).sum::<f64>() > limits::LENGTH {
        return Err("its contours are longer together than are proved".to_owned());
    }
    let outlines = part.contours.iter().filter(|c| c.operation == Operation::ThroughOutside).count();
    if outlines != 1 {
        return Err(format!("it has {outlines} outlines"));
    }
    Ok(())
}

fn ring(vertices: &[[f64; 3]]) -> Result<Ring, String> {
    let usable = |v: &[f64; 3]| {
        v[0].abs() <= limits::COORDINATE && v[1].abs() <= limits::COORDINATE && v[2].abs() <= 1.0 + limits::SAME_POINT
    };
    if vertices.len() < 2 || !vertices.iter().all(usable) {
        return Err(format!("a contour of {} vertices is not usable", vertices.len()));
    }
    let ring = Ring(vertices.iter().map(|v| Corner { at: Pt::new(v[0], v[1]), bulge: v[2] }).collect());
    super::read_dxf::check_ring(&ring, 0).map_err(|f| f.message)?;
    if ring.area().abs() < limits::SPECK_MM2 / 100.0 {
        return Err("a contour without area".to_owned());
    }
    Ok(ring)
}
