//! Ways to spoil tabs, passes, and the registration holes of a sheet that is turned over.

use super::pack::{against, Effect, Pack};
use super::program::{blocks, off, outline as edge, word, At, Block, Text};
use serde_json::Value;

type Spoilt = Option<Effect>;

/// What is planned of the tabs of a block's part, by the key of `held`.
fn planned(pack: &Pack, block: &Block, key: &str) -> Option<f64> {
    let sheets = pack.job["sheets"].as_array()?.iter();
    let mut all = sheets.flat_map(|s| s["placements"].as_array().into_iter().flatten());
    let placed = all.find(|p| p["part"] == block.part.as_str() && p["copy"] == block.copy)?;
    placed["held"].as_array()?.iter().find(|h| h["feature"] == block.feature.as_str())?[key].as_f64()
}

/// An outline with tabs and the program that cuts it.
fn outline(pack: &mut Pack) -> Option<(Text, Block)> {
    let name = pack.file("gcode/")?;
    let text = Text::of(pack, &name)?;
    let all = blocks(pack, &text.lines);
    let found: Vec<Block> =
        all.into_iter().filter(|b| b.feature == "outline" && planned(pack, b, "height_mm").is_some()).collect();
    let block = pack.one(&found)?;
    Some((text, block))
}

/// A tab of a block's last pass that lies on a straight stretch: the line of its end at full height, the line that is down at the
/// floor again (to and fro, with a cutter that may not go down steeply), and the way's direction; the line after goes on along it.
fn tab(pack: &mut Pack, text: &Text, block: &Block) -> Option<(usize, usize, [f64; 2])> {
    let (at, height) = (text.places(), planned(pack, block, "height_mm")?);
    let low = at[block.from + 1..block.to].iter().map(|p| p.z).fold(f64::INFINITY, f64::min);
    // What a pass beside a last thin one leaves, that one takes.
    let (ring, radius) = (edge(pack, block)?, text.radius(block.from)?);
    let fits = |k: usize| {
        if off(&ring, at[k].x, at[k].y).0 > radius + 0.1 {
            return None;
        }
        let down = (k + 1..k + 3).find(|n| at[*n].z < low + 0.001)?;
        let straight = (k..=down + 1).all(|n| text.lines[n].starts_with("G1 "));
        let top = (at[k].z - height).abs() < 0.01 && (at[k - 1].z - height).abs() < 0.01;
        let ([x, y], [on_x, on_y]) = (way(&at, k), way(&at, down + 1));
        let goes_on = x * on_x + y * on_y > 0.999 && at[down + 1].z < low + 0.001;
        (straight && top && goes_on).then_some((k, down, [x, y]))
    };
    let all: Vec<(usize, usize, [f64; 2])> = (block.from + 2..block.to.saturating_sub(4)).filter_map(fits).collect();
    pack.one(&all)
}

fn way(at: &[At], k: usize) -> [f64; 2] {
    let (x, y) = (at[k].x - at[k - 1].x, at[k].y - at[k - 1].y);
    let length = x.hypot(y).max(1e-9);
    [x / length, y / length]
}

/// A cutting line to a place, with a height where one is given.
fn line(text: &Text, x: f64, y: f64, z: Option<f64>) -> String {
    let z = z.map_or(String::new(), |z| format!(" {}", text.word('Z', z)));
    format!("G1 {} {}{z}", text.word('X', x), text.word('Y', y))
}

pub(crate) fn long_tab(pack: &mut Pack) -> Spoilt {
    let (mut text, block) = outline(pack)?;
    let length = planned(pack, &block, "length_mm")?;
    let (k, down, [dx, dy]) = tab(pack, &text, &block)?;
    let at = text.places();
    if (at[down + 1].x - at[down].x).hypot(at[down + 1].y - at[down].y) < 3.0 * length {
        return None;
    }
    for (n, p) in at.iter().enumerate().take(down + 1).skip(k) {
        text.lines[n] = line(&text, p.x + dx * length, p.y + dy * length, Some(p.z));
    }
    text.lines[down + 1] = line(&text, at[down + 1].x, at[down + 1].y, None);
    pack.put(&text.name, &text.lines);
    Some(Effect::Harms)
}

/// A stretch that stays beside a tab, lower than it.
pub(crate) fn stretch_left(pack: &mut Pack) -> Spoilt {
    // Down again at five degrees.
    const RAMP: f64 = 30.0;
    let (mut text, block) = outline(pack)?;
    let height = planned(pack, &block, "height_mm")?;
    let (_, down, [dx, dy]) = tab(pack, &text, &block)?;
    let (at, far) = (text.places(), pack.size(6.0, 60.0));
    let (from, to) = (at[down], at[down + 1]);
    if (to.x - from.x).hypot(to.y - from.y) < far + RAMP + 1.0 {
        return None;
    }
    text.lines[down] = line(&text, from.x, from.y, Some(height / 2.0));
    let more = [
        line(&text, from.x + dx * far, from.y + dy * far, None),
        line(&text, from.x + dx * (far + RAMP), from.y + dy * (far + RAMP), Some(from.z)),
        line(&text, to.x, to.y, None),
    ];
    text.lines.splice(down + 1..down + 2, more);
    pack.put(&text.name, &text.lines);
    Some(Effect::Harms)
}

/// A tab lower than planned.
pub(crate) fn tab_height(pack: &mut Pack) -> Spoilt {
    let (mut text, block) = outline(pack)?;
    let height = planned(pack, &block, "height_mm")?;
    let (k, _, _) = tab(pack, &text, &block)?;
    let at = text.places();
    let by = pack.size(0.01, 3.0);
    let first = (block.from..=k).rev().take_while(|n| (at[*n].z - height).abs() < 0.01).last()?;
    word(&text.lines[first], 'Z')?;
    text.lines[first] = text.with(&text.lines[first], 'Z', height - by);
    pack.put(&text.name, &text.lines);
    against(by, 0.05)
}

/// A first pass as deep as the second.
pub(crate) fn pass_skipped(pack: &mut Pack) -> Spoilt {
    let name = pack.file("gcode/")?;
    let mut text = Text::of(pack, &name)?;
    let all: Vec<Block> = blocks(pack, &text.lines).into_iter().filter(|b| b.feature == "outline").collect();
    let block = pack.one(&all)?;
    let at = text.places();
    let next = |k: usize| (k + 1..block.to).find(|n| word(&text.lines[*n], 'Z').is_some()).unwrap_or(block.to);
    let far = |k: usize| (k + 1..next(k)).map(|n| (at[n].x - at[n - 1].x).hypot(at[n].y - at[n - 1].y)).sum::<f64>() > 150.0;
    let passes: Vec<usize> = (block.from + 1..block.to)
        .filter(|k| text.lines[*k].starts_with("G1 ") && word(&text.lines[*k], 'Z').is_some() && far(*k))
        .collect();
    let first = *passes.first()?;
    let second = *passes.iter().find(|k| at[**k].z < at[first].z - 0.5)?;
    let most = text.row(first)["cutter"]["first_pass_max_mm"].as_f64()?;
    let board = pack.job["boards"].as_array()?.iter().find(|b| b["name"] == text.row(first)["board"])?;
    let thickest = board["thickness_mm"]["max"].as_f64()?;
    let deep = thickest - at[second].z;
    for k in block.from..second {
        if word(&text.lines[k], 'Z').is_some() && (at[k].z - at[first].z).abs() < 0.001 {
            text.lines[k] = text.with(&text.lines[k], 'Z', at[second].z);
        }
    }
    pack.put(&text.name, &text.lines);
    (deep > most + 0.05).then_some(Effect::Harms)
}

/// The lines of a registration hole: from its label to before the next.
fn registration(pack: &mut Pack) -> Option<(Text, usize, usize)> {
    let named: Vec<String> = pack
        .files
        .keys()
        .filter(|n| n.starts_with("gcode/"))
        .filter(|n| !holes(&pack.lines(n)).is_empty())
        .cloned()
        .collect();
    let name = pack.one(&named)?;
    let text = Text::of(pack, &name)?;
    let from = pack.one(&holes(&text.lines))?;
    let to = (from + 1..text.lines.len()).find(|k| text.lines[*k].starts_with('('))?;
    Some((text, from, to))
}

fn holes(lines: &[String]) -> Vec<usize> {
    let named = |k: &usize| lines[*k].starts_with('(') && lines[*k].contains("registration hole ");
    let drills =
        |k: &usize| lines[k + 1..].iter().take(4).any(|l| l.starts_with("G0 ") || l.contains("G81") || l.contains("G83"));
    (0..lines.len()).filter(named).filter(drills).collect()
}

pub(crate) fn registration_moved(pack: &mut Pack) -> Spoilt {
    let (mut text, from, to) = registration(pack)?;
    let (axis, by) = (if pack.pick(2) == 0 { 'X' } else { 'Y' }, pack.size(0.01, 3.0));
    let all: Vec<usize> = (from + 1..to).filter(|k| word(&text.lines[*k], axis).is_some()).collect();
    if all.is_empty() {
        return None;
    }
    for k in all {
        let place = text.mm(&text.lines[k], axis)? + by;
        text.lines[k] = text.with(&text.lines[k], axis, place);
    }
    pack.put(&text.name, &text.lines);
    against(by, 0.05)
}

pub(crate) fn registration_gone(pack: &mut Pack) -> Spoilt {
    let (mut text, from, to) = registration(pack)?;
    text.lines.drain(from..to);
    pack.put(&text.name, &text.lines);
    Some(Effect::Harms)
}

/// Pins said to stand elsewhere when the sheet is turned over.
pub(crate) fn pins_elsewhere(pack: &mut Pack) -> Spoilt {
    let by = pack.size(0.001, 20.0);
    let axis = pack.pick(2);
    let programs = pack.job["programs"].as_array_mut()?;
    let pinned: Vec<usize> = (0..programs.len())
        .filter(|k| programs[*k]["set_up"]["pins_mm"].as_array().is_some_and(|p| !p.is_empty()))
        .collect();
    let k = *pinned.last()?;
    let place: &mut Value = &mut programs[k]["set_up"]["pins_mm"][0][axis];
    *place = (place.as_f64()? + by).into();
    pack.put_job();
    against(by, 0.005)
}
