//! A program's lines as far as spoiling needs them, and distances from a part's outline: a reckoning of its own.

use super::pack::Pack;
use serde_json::Value;

/// Where the tool is after a line.
#[derive(Clone, Copy, Debug)]
pub(crate) struct At {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) z: f64,
}

/// A stretch of a program under one label.
#[derive(Clone, Debug)]
pub(crate) struct Block {
    pub(crate) part: String,
    pub(crate) copy: u64,
    pub(crate) feature: String,
    /// Lines, the label's first.
    pub(crate) from: usize,
    pub(crate) to: usize,
}

/// The number of a word on a line.
pub(crate) fn word(line: &str, letter: char) -> Option<f64> {
    if line.starts_with('(') {
        return None;
    }
    line.split(' ').find_map(|w| w.strip_prefix(letter)?.parse().ok())
}

pub(crate) fn is(line: &str, code: &str) -> bool {
    line.split(' ').any(|w| w == code)
}

/// A program's file, with what its numbers mean: lengths in mm, heights over the spoilboard.
pub(crate) struct Text {
    pub(crate) name: String,
    pub(crate) lines: Vec<String>,
    /// mm in one of its units.
    unit: f64,
    /// Its zero's height over the spoilboard.
    lift: f64,
    /// The line each cutter's section begins with, and its row in the job.
    sections: Vec<(usize, Value)>,
}

impl Text {
    pub(crate) fn of(pack: &Pack, name: &str) -> Option<Self> {
        let lines = pack.lines(name);
        let mut rows: Vec<Value> = pack.job["programs"].as_array()?.iter().filter(|p| p["file"] == name).cloned().collect();
        rows.sort_by_key(|row| row["section"].as_u64());
        let first = rows.first()?;
        let unit = if pack.job["cut_file_units"] == "in" { 25.4 } else { 1.0 };
        let lift = if first["z_zero"] == "sheet-top" { first["thickness_mm"].as_f64()? } else { 0.0 };
        let begins = std::iter::once(0).chain(changes(&lines)).collect::<Vec<_>>();
        let sections = begins.into_iter().zip(rows).collect();
        Some(Self { name: name.to_owned(), lines, unit, lift, sections })
    }

    /// The job's row of the section a line is in.
    pub(crate) fn row(&self, line: usize) -> &Value {
        let k = self.sections.partition_point(|(from, _)| *from <= line).max(1) - 1;
        &self.sections[k].1
    }

    pub(crate) fn number(&self, line: usize, key: &str) -> Option<f64> {
        self.row(line)[key].as_f64()
    }

    pub(crate) fn radius(&self, line: usize) -> Option<f64> {
        Some(self.row(line)["cutter"]["diameter_mm"].as_f64()? / 2.0)
    }

    /// A word's length in mm; a height over the spoilboard.
    pub(crate) fn mm(&self, line: &str, letter: char) -> Option<f64> {
        let value = word(line, letter)? * self.unit;
        Some(if letter == 'Z' { value + self.lift } else { value })
    }

    /// The word for a length in mm, or for a height over the spoilboard.
    pub(crate) fn word(&self, letter: char, mm: f64) -> String {
        let value = (if letter == 'Z' { mm - self.lift } else { mm }) / self.unit;
        format!("{letter}{value:.*}", if self.unit > 1.0 { 5 } else { 4 })
    }

    /// A line with a word for another length.
    pub(crate) fn with(&self, line: &str, letter: char, mm: f64) -> String {
        let own = |w: &str| if w.starts_with(letter) { self.word(letter, mm) } else { w.to_owned() };
        line.split(' ').map(own).collect::<Vec<_>>().join(" ")
    }

    /// The place after each line.
    pub(crate) fn places(&self) -> Vec<At> {
        let mut at = At { x: f64::NAN, y: f64::NAN, z: f64::NAN };
        let step = |line: &String| {
            at.x = self.mm(line, 'X').unwrap_or(at.x);
            at.y = self.mm(line, 'Y').unwrap_or(at.y);
            if !is(line, "G81") && !is(line, "G83") {
                at.z = self.mm(line, 'Z').unwrap_or(at.z);
            }
            at
        };
        self.lines.iter().map(step).collect()
    }
}

/// Lines at which another cutter is put in: a stop with the spindle standing that has turned.
pub(crate) fn changes(lines: &[String]) -> Vec<usize> {
    let (mut spun, mut turning) = (false, false);
    let stops = |line: &String| {
        if is(line, "M3") {
            (spun, turning) = (true, true);
        }
        turning &= !is(line, "M5");
        let stop = is(line, "M0") && spun && !turning;
        spun &= !stop;
        stop
    };
    let stops: Vec<bool> = lines.iter().map(stops).collect();
    (0..lines.len()).filter(|k| stops[*k]).collect()
}

pub(crate) fn blocks(pack: &Pack, lines: &[String]) -> Vec<Block> {
    let parts: Vec<&str> = pack.job["parts"].as_array().into_iter().flatten().filter_map(|p| p["id"].as_str()).collect();
    let mut found: Vec<Block> = Vec::new();
    for (k, line) in lines.iter().enumerate() {
        let label = line.strip_prefix('(').and_then(|l| l.strip_suffix(')'));
        // A label may name a restart point first.
        let label = label.map(|l| l.strip_prefix("restart ").and_then(|l| l.split_once(": ")).map_or(l, |(_, label)| label));
        let words = label.map(|l| l.splitn(3, ' ').collect::<Vec<_>>());
        if let Some([part, copy, feature]) = words.as_deref() {
            if let (true, Ok(copy)) = (parts.contains(part), copy.parse()) {
                let (part, feature) = ((*part).to_owned(), (*feature).to_owned());
                found.push(Block { part, copy, feature, from: k, to: lines.len() });
            }
        }
        if let Some(last) = found.last_mut().filter(|b| b.to == lines.len()) {
            if k > last.from && (is(line, "M5") || is(line, "M30")) {
                last.to = k;
            }
        }
    }
    for k in 1..found.len() {
        found[k - 1].to = found[k - 1].to.min(found[k].from);
    }
    found
}

/// A part's outline where a copy lies on the sheet, as a fine polygon.
pub(crate) fn outline(pack: &Pack, block: &Block) -> Option<Vec<[f64; 2]>> {
    let part = pack.job["parts"].as_array()?.iter().find(|p| p["id"] == block.part.as_str())?;
    let contour = part["contours"].as_array()?.iter().find(|c| c["operation"] == "through-outside")?;
    let placement = pack.job["sheets"]
        .as_array()?
        .iter()
        .flat_map(|s| s["placements"].as_array().into_iter().flatten())
        .find(|p| p["part"] == block.part.as_str() && p["copy"] == block.copy)?;
    let (dx, dy) = (placement["x_mm"].as_f64()?, placement["y_mm"].as_f64()?);
    let vertices: Vec<[f64; 3]> = serde_json::from_value(contour["vertices"].clone()).ok()?;
    let mut points = Vec::new();
    for (k, [ax, ay, bulge]) in vertices.iter().copied().enumerate() {
        let [bx, by, _] = vertices[(k + 1) % vertices.len()];
        points.push([ax, ay]);
        if bulge != 0.0 {
            // The arc's half angle over chord points: each splits by the tangent rule.
            let sweep = 4.0 * f64::atan(bulge);
            let n = 24;
            let (mx, my) = (f64::midpoint(ax, bx), f64::midpoint(ay, by));
            let off = (1.0 - bulge * bulge) / (4.0 * bulge);
            let (cx, cy) = (mx - (by - ay) * off, my + (bx - ax) * off);
            for i in 1..n {
                let (s, c) = (sweep * f64::from(i) / f64::from(n)).sin_cos();
                points.push([cx + (ax - cx) * c - (ay - cy) * s, cy + (ax - cx) * s + (ay - cy) * c]);
            }
        }
    }
    let turn = placement["turn_deg"].as_u64()?;
    let lay = |[x, y]: [f64; 2]| match turn {
        0 => [x + dx, y + dy],
        90 => [dx - y, dy + x],
        180 => [dx - x, dy - y],
        _ => [dx + y, dy - x],
    };
    Some(points.into_iter().map(lay).collect())
}

/// Distance of a place from a polygon's line, negative inside; and the direction away from the nearest point of it.
pub(crate) fn off(polygon: &[[f64; 2]], x: f64, y: f64) -> (f64, [f64; 2]) {
    let (mut least, mut near, mut inside) = (f64::INFINITY, [0.0, 0.0], false);
    for (k, [ax, ay]) in polygon.iter().copied().enumerate() {
        let [bx, by] = polygon[(k + 1) % polygon.len()];
        let (ex, ey) = (bx - ax, by - ay);
        let share = (((x - ax) * ex + (y - ay) * ey) / (ex * ex + ey * ey).max(1e-12)).clamp(0.0, 1.0);
        let (px, py) = (ax + ex * share, ay + ey * share);
        let distance = (x - px).hypot(y - py);
        if distance < least {
            (least, near) = (distance, [px, py]);
        }
        if (ay > y) != (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax) {
            inside = !inside;
        }
    }
    let side = if inside { -1.0 } else { 1.0 };
    let away = [(x - near[0]) / least.max(1e-9) * side, (y - near[1]) / least.max(1e-9) * side];
    (side * least, away)
}
