//! Ways to spoil programs. What a cutter may take from a part, or leave: 0.05 mm; reckoned with room for chords.

use super::pack::{against, Effect, Pack};
use super::program::{blocks, is, off, outline, places, row, word, At, Block};

type Spoilt = Option<Effect>;

/// Clearance heights may be missed by this much.
const CLEARANCE: f64 = 0.002;

/// Into a part, or short of its edge.
fn cut(change: f64) -> Spoilt {
    if change > 0.075 {
        Some(Effect::Harms)
    } else {
        (change < 0.025).then_some(Effect::Harmless)
    }
}

/// A program on the first side, with heights from the spoilboard, in mm, and its lines.
fn program(pack: &mut Pack) -> Option<(String, Vec<String>)> {
    let name = pack.file("gcode/")?;
    let row = row(pack, &name)?;
    if row["z_zero"] != "spoilboard" || row["side"] != "first" || pack.job["cut_file_units"] != "mm" {
        return None;
    }
    let lines = pack.lines(&name);
    Some((name, lines))
}

fn outlines(pack: &Pack, lines: &[String]) -> Vec<Block> {
    blocks(pack, lines).into_iter().filter(|b| b.feature == "outline").collect()
}

fn number(pack: &Pack, name: &str, key: &str) -> Option<f64> {
    row(pack, name)?[key].as_f64()
}

fn radius(pack: &Pack, name: &str) -> Option<f64> {
    Some(row(pack, name)?["cutter"]["diameter_mm"].as_f64()? / 2.0)
}

/// Straight cuts of a block that are followed by another, wholly in the wood.
fn straight(lines: &[String], at: &[At], block: &Block, top: f64) -> Vec<usize> {
    let low = |k: usize| at[k].z < top;
    (block.from + 3..block.to.saturating_sub(1))
        .filter(|k| lines[*k].starts_with("G1 ") && lines[k + 1].starts_with("G1 ") && low(k - 1) && low(*k) && low(k + 1))
        .filter(|k| word(&lines[*k], 'X').or(word(&lines[*k], 'Y')).is_some())
        .collect()
}

/// A line's words with others for the places along x and y.
fn sent(line: &str, x: f64, y: f64) -> String {
    let rest: Vec<&str> = line.split(' ').filter(|w| !w.starts_with('X') && !w.starts_with('Y') && *w != "G1").collect();
    let rest = if rest.is_empty() { String::new() } else { format!(" {}", rest.join(" ")) };
    format!("G1 X{x:.4} Y{y:.4}{rest}")
}

pub(crate) fn coordinate(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    let (at, top) = (places(&lines), number(pack, &name, "thickness_mm")? - 0.1);
    let found = outlines(pack, &lines);
    let block = pack.one(&found)?;
    let k = pack.one(&straight(&lines, &at, &block, top))?;
    let (distance, away) = off(&outline(pack, &block)?, at[k].x, at[k].y);
    let by = pack.size(0.003, 2.0);
    let next = sent(&lines[k + 1], at[k + 1].x, at[k + 1].y);
    lines[k] = sent(&lines[k], at[k].x - away[0] * by, at[k].y - away[1] * by);
    lines[k + 1] = next;
    let into = radius(pack, &name)? - (distance - by);
    pack.put(&name, &lines);
    // Parts of a lead may stand off the path: then it is not known.
    if into < by - 0.01 {
        return None;
    }
    cut(into)
}

pub(crate) fn line_gone(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    let (at, top) = (places(&lines), number(pack, &name, "thickness_mm")? - 0.1);
    let found = outlines(pack, &lines);
    let block = pack.one(&found)?;
    // Corners are turned round on arcs: without one, the next straight cut goes across the corner.
    let low = |k: usize| at[k].z < top;
    let cuts: Vec<usize> = (block.from + 3..block.to.saturating_sub(1))
        .filter(|k| ["G1 ", "G2 ", "G3 "].iter().any(|g| lines[*k].starts_with(g)) && lines[k + 1].starts_with("G1 "))
        .filter(|k| low(k - 1) && low(*k) && low(k + 1))
        .collect();
    let k = pack.one(&cuts)?;
    let ring = outline(pack, &block)?;
    lines.remove(k);
    let now = places(&lines)[k];
    let radius = radius(pack, &name)?;
    pack.put(&name, &lines);
    deep(&ring, at[k - 1], now, radius)
}

/// Whether a straight cut goes well into a part.
fn deep(ring: &[[f64; 2]], from: At, to: At, radius: f64) -> Spoilt {
    let share = |i: u32| f64::from(i) / 40.0;
    let place = |s: f64| (from.x + (to.x - from.x) * s, from.y + (to.y - from.y) * s);
    let least = (0..=40).map(share).map(place).map(|(x, y)| off(ring, x, y).0).fold(f64::INFINITY, f64::min);
    (radius - least > 0.1).then_some(Effect::Harms)
}

pub(crate) fn arc_turned(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    let (at, top) = (places(&lines), number(pack, &name, "thickness_mm")? - 0.1);
    let found = outlines(pack, &lines);
    let block = pack.one(&found)?;
    let arcs: Vec<usize> = (block.from + 1..block.to)
        .filter(|k| (lines[*k].starts_with("G2 ") || lines[*k].starts_with("G3 ")) && at[*k].z < top && at[k - 1].z < top)
        .collect();
    let k = pack.one(&arcs)?;
    let (i, j) = (word(&lines[k], 'I')?, word(&lines[k], 'J')?);
    let (cx, cy) = (at[k - 1].x + i, at[k - 1].y + j);
    let ccw = lines[k].starts_with("G2 ");
    let angle = |p: At| (p.y - cy).atan2(p.x - cx);
    let (from, to) = (angle(at[k - 1]), angle(at[k]));
    let sweep = if ccw { to - from } else { from - to }.rem_euclid(std::f64::consts::TAU);
    let ring = outline(pack, &block)?;
    let size = i.hypot(j);
    let place = |n: u32| {
        let turned = from + sweep * f64::from(n) / 60.0 * if ccw { 1.0 } else { -1.0 };
        off(&ring, cx + size * turned.cos(), cy + size * turned.sin()).0
    };
    let least = (0..=60).map(place).fold(f64::INFINITY, f64::min);
    let turned = lines[k].replacen(if ccw { "G2" } else { "G3" }, if ccw { "G3" } else { "G2" }, 1);
    lines[k] = turned;
    let radius = radius(pack, &name)?;
    pack.put(&name, &lines);
    (radius - least > 0.1).then_some(Effect::Harms)
}

pub(crate) fn arc_centre(pack: &mut Pack) -> Spoilt {
    let name = pack.file("gcode/")?;
    let mut lines = pack.lines(&name);
    let arcs: Vec<usize> =
        (0..lines.len()).filter(|k| lines[*k].starts_with("G2 ") || lines[*k].starts_with("G3 ")).collect();
    let k = pack.one(&arcs)?;
    let (i, j) = (word(&lines[k], 'I')?, word(&lines[k], 'J')?);
    let at = places(&lines);
    let by = pack.size(0.01, 2.0);
    let new = i + by;
    // By how much the radii at the two ends then differ: NISTIR 6556 allows 0.002 mm, 0.0002 in.
    let (dx, dy) = (at[k].x - at[k - 1].x, at[k].y - at[k - 1].y);
    let differ = (new.hypot(j) - (new - dx).hypot(j - dy)).abs();
    let words: Vec<String> =
        lines[k].split(' ').map(|w| if w.starts_with('I') { format!("I{new:.5}") } else { w.to_owned() }).collect();
    lines[k] = words.join(" ");
    pack.put(&name, &lines);
    let limit = if pack.job["cut_file_units"] == "in" { 0.0002 } else { 0.002 };
    (differ > 1.5 * limit).then_some(Effect::Harms)
}

/// A block cut by only one label, of a feature of the given kind, with its feature's depth.
fn feature(pack: &mut Pack, lines: &[String], through: bool) -> Option<Block> {
    let fits = |b: &Block| {
        let part = pack.job["parts"].as_array()?.iter().find(|p| p["id"] == b.part.as_str())?;
        let of: Vec<_> = part["contours"].as_array()?.iter().filter(|c| c["feature"] == b.feature.as_str()).collect();
        let [contour] = of.as_slice() else { return None };
        let right = if through {
            contour["operation"] == "through-inside" || (contour["operation"] == "drill" && contour["depth_mm"].is_null())
        } else {
            contour["operation"] == "pocket"
        };
        let label = format!("{} {} {})", b.part, b.copy, b.feature);
        let once: usize = pack
            .files
            .iter()
            .filter(|(n, _)| n.starts_with("gcode/"))
            .map(|(_, f)| String::from_utf8_lossy(f).matches(&label).count())
            .sum();
        (right && once == 1).then_some(())
    };
    let found: Vec<Block> = blocks(pack, lines).into_iter().filter(|b| fits(b).is_some()).collect();
    pack.one(&found)
}

/// Moves the lowest height of a block; gives the height before.
fn deepen(lines: &mut [String], block: &Block, by: f64) -> Option<f64> {
    let lowest = lines[block.from..block.to].iter().filter_map(|l| word(l, 'Z')).fold(f64::INFINITY, f64::min);
    if !lowest.is_finite() {
        return None;
    }
    for line in &mut lines[block.from..block.to] {
        if word(line, 'Z').is_some_and(|z| z < lowest + 0.001) {
            let words: Vec<String> = line
                .split(' ')
                .map(|w| if w.starts_with('Z') { format!("Z{:.4}", lowest + by) } else { w.to_owned() })
                .collect();
            *line = words.join(" ");
        }
    }
    Some(lowest)
}

pub(crate) fn pocket_deeper(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    let block = feature(pack, &lines, false)?;
    let by = pack.size(0.005, 3.0);
    deepen(&mut lines, &block, -by)?;
    pack.put(&name, &lines);
    against(by, 0.05)
}

pub(crate) fn pocket_shallower(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    let block = feature(pack, &lines, false)?;
    let by = pack.size(0.005, 1.0);
    deepen(&mut lines, &block, by)?;
    pack.put(&name, &lines);
    against(by, 0.05)
}

pub(crate) fn not_through(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    let block = feature(pack, &lines, true)?;
    let by = pack.size(0.05, 3.0);
    let low = deepen(&mut lines, &block, by)? + by;
    pack.put(&name, &lines);
    if low > 0.01 {
        Some(Effect::Harms)
    } else {
        (low < -0.01).then_some(Effect::Harmless)
    }
}

pub(crate) fn below_floor(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    let block = feature(pack, &lines, true)?;
    let by = pack.size(0.05, 5.0);
    let low = deepen(&mut lines, &block, -by)? - by;
    let floor = number(pack, &name, "floor_mm")?;
    pack.put(&name, &lines);
    against(-low, floor)
}

pub(crate) fn tabs_gone(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    let top = number(pack, &name, "thickness_mm")?;
    let found = outlines(pack, &lines);
    let block = pack.one(&found)?;
    let heights: Vec<f64> = lines[block.from..block.to].iter().filter_map(|l| word(l, 'Z')).collect();
    let low = heights.into_iter().fold(f64::INFINITY, f64::min);
    let first = (block.from..block.to).find(|k| word(&lines[*k], 'Z').is_some_and(|z| z < low + 0.001))?;
    for line in &mut lines[first..block.to] {
        if word(line, 'Z').is_some_and(|z| z < top && z > low) && line.starts_with("G1") {
            let words: Vec<String> =
                line.split(' ').map(|w| if w.starts_with('Z') { format!("Z{low:.4}") } else { w.to_owned() }).collect();
            *line = words.join(" ");
        }
    }
    pack.put(&name, &lines);
    (low < -0.01).then_some(Effect::Harms)
}

pub(crate) fn mirrored(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    if outlines(pack, &lines).is_empty() {
        return None;
    }
    let sheet = row(pack, &name)?["sheet"].clone();
    let board = row(pack, &name)?["board"].clone();
    let long = pack.job["sheets"].as_array()?.iter().find(|s| s["number"] == sheet && s["board"] == board)?["length_mm"]
        .as_f64()?;
    for line in &mut lines {
        if line.starts_with('(') {
            continue;
        }
        let turn = |w: &str| match (w.chars().next(), w.get(1..).and_then(|n| n.parse::<f64>().ok())) {
            (Some('X'), Some(x)) => format!("X{:.4}", long - x),
            (Some('I'), Some(i)) => format!("I{:.4}", -i),
            _ => match w {
                "G2" => "G3".to_owned(),
                "G3" => "G2".to_owned(),
                other => other.to_owned(),
            },
        };
        *line = line.split(' ').map(turn).collect::<Vec<_>>().join(" ");
    }
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

/// Changes the first line that `fits`, or one of those by chance.
fn change(pack: &mut Pack, fits: impl Fn(&str) -> bool, to: impl Fn(&str) -> Option<String>) -> Spoilt {
    let name = pack.file("gcode/")?;
    let mut lines = pack.lines(&name);
    let found: Vec<usize> = (0..lines.len()).filter(|k| !lines[*k].starts_with('(') && fits(&lines[*k])).collect();
    let k = pack.one(&found)?;
    match to(&lines[k]) {
        Some(line) => lines[k] = line,
        None => drop(lines.remove(k)),
    }
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn no_start(pack: &mut Pack) -> Spoilt {
    change(pack, |l| is(l, "M3"), |l| Some(l.replace(" M3", "")))
}

pub(crate) fn backwards(pack: &mut Pack) -> Spoilt {
    change(pack, |l| is(l, "M3"), |l| Some(l.replace(" M3", " M4")))
}

pub(crate) fn no_speed(pack: &mut Pack) -> Spoilt {
    change(pack, |l| is(l, "M3"), |l| Some(l.split(' ').filter(|w| !w.starts_with('S')).collect::<Vec<_>>().join(" ")))
}

pub(crate) fn unit(pack: &mut Pack) -> Spoilt {
    change(
        pack,
        |l| is(l, "G21") || is(l, "G20"),
        |l| Some(if l.contains("G21") { l.replace("G21", "G20") } else { l.replace("G20", "G21") }),
    )
}

pub(crate) fn mode_gone(pack: &mut Pack) -> Spoilt {
    let words = ["G17", "G40", "G49", "G90", "G94"];
    let gone = words[pack.pick(words.len())];
    change(pack, |l| is(l, gone), |l| Some(l.split(' ').filter(|w| *w != gone).collect::<Vec<_>>().join(" ")))
}

pub(crate) fn offset_gone(pack: &mut Pack) -> Spoilt {
    change(pack, |l| l.trim() == "G54", |_| None)
}

pub(crate) fn unknown_word(pack: &mut Pack) -> Spoilt {
    let words = ["G5.1", "M70", "A10.0", "X1.2.3", "G43 H1", "#1=2", "U3.0", "G18"];
    let more = words[pack.pick(words.len())];
    change(pack, |l| l.starts_with("G0 ") || l.starts_with("G1 "), |l| Some(format!("{l} {more}")))
}

pub(crate) fn rapid_in_wood(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    let (at, top) = (places(&lines), number(pack, &name, "thickness_mm")? - 0.1);
    let found = blocks(pack, &lines);
    let block = pack.one(&found)?;
    let k = pack.one(&straight(&lines, &at, &block, top))?;
    if (at[k].x - at[k - 1].x).hypot(at[k].y - at[k - 1].y) < 0.01 {
        return None;
    }
    lines[k] = lines[k].split(' ').filter(|w| !w.starts_with('F')).collect::<Vec<_>>().join(" ").replacen("G1", "G0", 1);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

/// Whether a sideways rapid comes next, not another lift.
fn leaves(lines: &[String], lift: usize) -> bool {
    lines[lift + 1..].iter().find(|l| !l.starts_with('(')).is_some_and(|l| l.starts_with("G0 X") || l.starts_with("G0 Y"))
}

pub(crate) fn low_lift(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    let clear = number(pack, &name, "clearance_mm")?;
    let lifts: Vec<usize> = (0..lines.len())
        .filter(|k| lines[*k].starts_with("G0 Z") && word(&lines[*k], 'Z').is_some_and(|z| (z - clear).abs() < 0.001))
        .filter(|k| leaves(&lines, *k))
        .collect();
    let k = pack.one(&lifts)?;
    let by = pack.size(0.0005, 8.0);
    lines[k] = format!("G0 Z{:.4}", clear - by);
    pack.put(&name, &lines);
    against(by, CLEARANCE)
}

pub(crate) fn no_lift(pack: &mut Pack) -> Spoilt {
    let (name, mut lines) = program(pack)?;
    let (at, clear) = (places(&lines), number(pack, &name, "clearance_mm")?);
    let lifts: Vec<usize> = (1..lines.len())
        .filter(|k| lines[*k].starts_with("G0 Z") && at[k - 1].z < clear - 0.01)
        .filter(|k| leaves(&lines, *k))
        .collect();
    let k = pack.one(&lifts)?;
    lines.remove(k);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn no_feed(pack: &mut Pack) -> Spoilt {
    let name = pack.file("gcode/")?;
    let mut lines = pack.lines(&name);
    for line in &mut lines {
        if !line.starts_with('(') {
            *line = line.split(' ').filter(|w| !w.starts_with('F')).collect::<Vec<_>>().join(" ");
        }
    }
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn stopped_early(pack: &mut Pack) -> Spoilt {
    let name = pack.file("gcode/")?;
    let mut lines = pack.lines(&name);
    let found = blocks(pack, &lines);
    let block = pack.one(&found)?;
    lines.insert(block.from + 1, "M5".to_owned());
    pack.put(&name, &lines);
    Some(Effect::Harms)
}
