//! Ways to spoil programs. What a cutter may take from a part, or leave: 0.05 mm; reckoned with room for chords.

use super::pack::{against, Effect, Pack};
use super::program::{blocks, changes, is, off, outline, word, At, Block, Text};

type Spoilt = Option<Effect>;

/// Clearance heights may be missed by this much.
const CLEARANCE: f64 = 0.002;

/// Shorter stretches may be what a tab leaves anyhow, or what a neighbouring stretch opens.
const STRETCH: f64 = 12.0;

/// Into a part, or short of its edge.
fn cut(change: f64) -> Spoilt {
    if change > 0.075 {
        Some(Effect::Harms)
    } else {
        (change < 0.025).then_some(Effect::Harmless)
    }
}

/// A program on the first side.
fn program(pack: &mut Pack) -> Option<Text> {
    let name = pack.file("gcode/")?;
    Text::of(pack, &name).filter(|text| text.row(0)["side"] == "first")
}

fn outlines(pack: &Pack, lines: &[String]) -> Vec<Block> {
    blocks(pack, lines).into_iter().filter(|b| b.feature == "outline").collect()
}

/// The height below which no pocket of a block's part goes: there, all inside its outline is wood.
fn solid(pack: &Pack, text: &Text, block: &Block) -> Option<f64> {
    let part = pack.job["parts"].as_array()?.iter().find(|p| p["id"] == block.part.as_str())?;
    let depths = part["contours"].as_array()?.iter().filter_map(|c| c["depth_mm"].as_f64());
    Some(text.number(block.from, "thickness_mm")? - depths.fold(0.0, f64::max) - 0.1)
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
fn sent(text: &Text, line: &str, x: f64, y: f64) -> String {
    let rest: Vec<&str> = line.split(' ').filter(|w| !w.starts_with('X') && !w.starts_with('Y') && *w != "G1").collect();
    let rest = if rest.is_empty() { String::new() } else { format!(" {}", rest.join(" ")) };
    format!("G1 {} {}{rest}", text.word('X', x), text.word('Y', y))
}

pub(crate) fn coordinate(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let at = text.places();
    let found = outlines(pack, &text.lines);
    let block = pack.one(&found)?;
    let (radius, top) = (text.radius(block.from)?, solid(pack, &text, &block)?);
    let k = pack.one(&straight(&text.lines, &at, &block, top))?;
    let (distance, away) = off(&outline(pack, &block)?, at[k].x, at[k].y);
    let by = pack.size(0.003, 2.0);
    let next = sent(&text, &text.lines[k + 1], at[k + 1].x, at[k + 1].y);
    text.lines[k] = sent(&text, &text.lines[k], at[k].x - away[0] * by, at[k].y - away[1] * by);
    text.lines[k + 1] = next;
    let into = radius - (distance - by);
    pack.put(&text.name, &text.lines);
    // Parts of a lead may stand off the path: then it is not known.
    if into < by - 0.01 {
        return None;
    }
    cut(into)
}

pub(crate) fn line_gone(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let at = text.places();
    let found = outlines(pack, &text.lines);
    let block = pack.one(&found)?;
    let (radius, top) = (text.radius(block.from)?, solid(pack, &text, &block)?);
    // Corners are turned round on arcs: without one, the next straight cut goes across the corner.
    let low = |k: usize| at[k].z < top;
    let cuts: Vec<usize> = (block.from + 3..block.to.saturating_sub(1))
        .filter(|k| {
            ["G1 ", "G2 ", "G3 "].iter().any(|g| text.lines[*k].starts_with(g)) && text.lines[k + 1].starts_with("G1 ")
        })
        .filter(|k| low(k - 1) && low(*k) && low(k + 1))
        .collect();
    let k = pack.one(&cuts)?;
    let ring = outline(pack, &block)?;
    text.lines.remove(k);
    let now = text.places()[k];
    pack.put(&text.name, &text.lines);
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
    let mut text = program(pack)?;
    let at = text.places();
    let found = outlines(pack, &text.lines);
    let block = pack.one(&found)?;
    let (radius, top) = (text.radius(block.from)?, solid(pack, &text, &block)?);
    let arcs: Vec<usize> = (block.from + 1..block.to)
        .filter(|k| {
            (text.lines[*k].starts_with("G2 ") || text.lines[*k].starts_with("G3 ")) && at[*k].z < top && at[k - 1].z < top
        })
        .collect();
    let k = pack.one(&arcs)?;
    let (i, j) = (text.mm(&text.lines[k], 'I')?, text.mm(&text.lines[k], 'J')?);
    let (cx, cy) = (at[k - 1].x + i, at[k - 1].y + j);
    let ccw = text.lines[k].starts_with("G2 ");
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
    let turned = text.lines[k].replacen(if ccw { "G2" } else { "G3" }, if ccw { "G3" } else { "G2" }, 1);
    text.lines[k] = turned;
    pack.put(&text.name, &text.lines);
    (radius - least > 0.1).then_some(Effect::Harms)
}

pub(crate) fn arc_centre(pack: &mut Pack) -> Spoilt {
    let name = pack.file("gcode/")?;
    let mut text = Text::of(pack, &name)?;
    let turns = |line: &String| line.starts_with("G2 ") || line.starts_with("G3 ");
    let arcs: Vec<usize> = (0..text.lines.len()).filter(|k| turns(&text.lines[*k])).collect();
    let k = pack.one(&arcs)?;
    let (i, j) = (text.mm(&text.lines[k], 'I')?, text.mm(&text.lines[k], 'J')?);
    let at = text.places();
    let by = pack.size(0.01, 2.0);
    let new = i + by;
    // By how much the radii at the two ends then differ: NISTIR 6556 allows 0.002 mm, 0.0002 in.
    let (dx, dy) = (at[k].x - at[k - 1].x, at[k].y - at[k - 1].y);
    let differ = (new.hypot(j) - (new - dx).hypot(j - dy)).abs();
    text.lines[k] = text.with(&text.lines[k], 'I', new);
    pack.put(&name, &text.lines);
    let limit = if pack.job["cut_file_units"] == "in" { 0.0002 * 25.4 } else { 0.002 };
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
fn deepen(text: &mut Text, block: &Block, by: f64) -> Option<f64> {
    let heights: Vec<Option<f64>> = (block.from..block.to).map(|k| text.mm(&text.lines[k], 'Z')).collect();
    let lowest = heights.iter().flatten().copied().fold(f64::INFINITY, f64::min);
    if !lowest.is_finite() {
        return None;
    }
    for (k, z) in (block.from..block.to).zip(heights) {
        if z.is_some_and(|z| z < lowest + 0.001) {
            text.lines[k] = text.with(&text.lines[k], 'Z', lowest + by);
        }
    }
    Some(lowest)
}

pub(crate) fn pocket_deeper(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let block = feature(pack, &text.lines, false)?;
    let by = pack.size(0.005, 3.0);
    deepen(&mut text, &block, -by)?;
    pack.put(&text.name, &text.lines);
    against(by, 0.05)
}

pub(crate) fn pocket_shallower(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let block = feature(pack, &text.lines, false)?;
    let by = pack.size(0.005, 1.0);
    deepen(&mut text, &block, by)?;
    pack.put(&text.name, &text.lines);
    against(by, 0.05)
}

pub(crate) fn not_through(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let block = feature(pack, &text.lines, true)?;
    let by = pack.size(0.05, 3.0);
    let low = deepen(&mut text, &block, by)? + by;
    pack.put(&text.name, &text.lines);
    // From the sheet's top, through is below the thickest it may be.
    let under = if text.row(0)["z_zero"] == "sheet-top" { thicker(pack, &text)? } else { 0.0 };
    if low > 0.01 - under {
        Some(Effect::Harms)
    } else {
        (low < -0.01 - under).then_some(Effect::Harmless)
    }
}

/// By how much a sheet may be thicker than a program takes it for.
fn thicker(pack: &Pack, text: &Text) -> Option<f64> {
    let board = pack.job["boards"].as_array()?.iter().find(|b| b["name"] == text.row(0)["board"])?;
    Some(board["thickness_mm"]["max"].as_f64()? - text.number(0, "thickness_mm")?)
}

pub(crate) fn below_floor(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let block = feature(pack, &text.lines, true)?;
    let by = pack.size(0.05, 5.0);
    let low = deepen(&mut text, &block, -by)? - by;
    let floor = text.number(block.from, "floor_mm")?;
    pack.put(&text.name, &text.lines);
    // Above the floor it may still be deeper than one pass may go: there is no telling.
    against(-low, floor).filter(|effect| *effect == Effect::Harms)
}

pub(crate) fn tabs_gone(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let top = text.number(0, "thickness_mm")?;
    let found = outlines(pack, &text.lines);
    let block = pack.one(&found)?;
    let height = |text: &Text, k: usize| text.mm(&text.lines[k], 'Z');
    let low = (block.from..block.to).filter_map(|k| height(&text, k)).fold(f64::INFINITY, f64::min);
    let first = (block.from..block.to).find(|k| height(&text, *k).is_some_and(|z| z < low + 0.001))?;
    for k in first..block.to {
        if height(&text, k).is_some_and(|z| z < top && z > low) && text.lines[k].starts_with("G1") {
            text.lines[k] = text.with(&text.lines[k], 'Z', low);
        }
    }
    pack.put(&text.name, &text.lines);
    (low < -0.01).then_some(Effect::Harms)
}

pub(crate) fn mirrored(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    if outlines(pack, &text.lines).is_empty() {
        return None;
    }
    let (sheet, board) = (text.row(0)["sheet"].clone(), text.row(0)["board"].clone());
    let long = pack.job["sheets"].as_array()?.iter().find(|s| s["number"] == sheet && s["board"] == board)?["length_mm"]
        .as_f64()?;
    for k in 0..text.lines.len() {
        let line = &text.lines[k];
        if line.starts_with('(') {
            continue;
        }
        let x = text.mm(line, 'X').map_or_else(|| line.clone(), |x| text.with(line, 'X', long - x));
        let i = text.mm(&x, 'I').map_or_else(|| x.clone(), |i| text.with(&x, 'I', -i));
        let turned = |w: &str| match w {
            "G2" => "G3".to_owned(),
            "G3" => "G2".to_owned(),
            other => other.to_owned(),
        };
        text.lines[k] = i.split(' ').map(turned).collect::<Vec<_>>().join(" ");
    }
    pack.put(&text.name, &text.lines);
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
    change(pack, |l| matches!(l.trim(), "G54" | "G55"), |_| None)
}

pub(crate) fn unknown_word(pack: &mut Pack) -> Spoilt {
    let words = ["G5.1", "M70", "A10.0", "X1.2.3", "G43 H1", "#1=2", "U3.0", "G18"];
    let more = words[pack.pick(words.len())];
    change(pack, |l| l.starts_with("G0 ") || l.starts_with("G1 "), |l| Some(format!("{l} {more}")))
}

pub(crate) fn rapid_in_wood(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let (at, top) = (text.places(), text.number(0, "thickness_mm")? - 0.1);
    let found = blocks(pack, &text.lines);
    let block = pack.one(&found)?;
    let k = pack.one(&straight(&text.lines, &at, &block, top))?;
    if (at[k].x - at[k - 1].x).hypot(at[k].y - at[k - 1].y) < 0.01 {
        return None;
    }
    let words: Vec<&str> = text.lines[k].split(' ').filter(|w| !w.starts_with('F')).collect();
    text.lines[k] = words.join(" ").replacen("G1", "G0", 1);
    pack.put(&text.name, &text.lines);
    Some(Effect::Harms)
}

/// Whether a sideways rapid comes next, not another lift, and goes somewhere: a way of no length harms nothing.
fn leaves(lines: &[String], at: &[At], lift: usize) -> bool {
    let Some(next) = (lift + 1..lines.len()).find(|k| !lines[*k].starts_with('(')) else { return false };
    let way = (at[next].x - at[lift].x).hypot(at[next].y - at[lift].y);
    // Where the tool stands before the first way is not known.
    (lines[next].starts_with("G0 X") || lines[next].starts_with("G0 Y")) && (way.is_nan() || way > 0.001)
}

pub(crate) fn low_lift(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let (at, clear) = (text.places(), text.number(0, "clearance_mm")?);
    let lifts: Vec<usize> = (0..text.lines.len())
        .filter(|k| {
            text.lines[*k].starts_with("G0 Z") && text.mm(&text.lines[*k], 'Z').is_some_and(|z| (z - clear).abs() < 0.001)
        })
        .filter(|k| leaves(&text.lines, &at, *k))
        .collect();
    let k = pack.one(&lifts)?;
    let by = pack.size(0.0005, 8.0);
    text.lines[k] = format!("G0 {}", text.word('Z', clear - by));
    pack.put(&text.name, &text.lines);
    against(by, CLEARANCE)
}

pub(crate) fn no_lift(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let (at, clear) = (text.places(), text.number(0, "clearance_mm")?);
    let lifts: Vec<usize> = (1..text.lines.len())
        .filter(|k| text.lines[*k].starts_with("G0 Z") && at[k - 1].z < clear - 0.01)
        .filter(|k| leaves(&text.lines, &at, *k))
        .collect();
    let k = pack.one(&lifts)?;
    text.lines.remove(k);
    pack.put(&text.name, &text.lines);
    Some(Effect::Harms)
}

/// A height of a last pass that counts from the spoilboard in a program that counts from the sheet's top, or the other way.
pub(crate) fn other_zero(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let at = text.places();
    let found = outlines(pack, &text.lines);
    let block = pack.one(&found)?;
    let low = (block.from + 1..block.to).map(|k| at[k].z).fold(f64::INFINITY, f64::min);
    // What a pass beside a last thin one leaves, that one takes.
    let (ring, radius) = (outline(pack, &block)?, text.radius(block.from)?);
    let next = |k: usize| (k + 1..block.to).find(|n| word(&text.lines[*n], 'Z').is_some()).unwrap_or(block.to);
    let way = |k: usize| (k + 1..next(k)).map(|n| (at[n].x - at[n - 1].x).hypot(at[n].y - at[n - 1].y)).sum::<f64>();
    let far = |k: &usize| way(*k) > STRETCH;
    let last = |k: &usize| off(&ring, at[*k].x, at[*k].y).0 < radius + 0.1;
    let down =
        |k: &usize| text.lines[*k].starts_with("G1 ") && word(&text.lines[*k], 'Z').is_some() && at[*k].z < low + 0.001;
    let k = pack.one(&(block.from + 1..block.to).filter(down).filter(last).filter(far).collect::<Vec<_>>())?;
    let thick = text.number(0, "thickness_mm")?;
    let by = if text.row(0)["z_zero"] == "sheet-top" { thick } else { -thick };
    text.lines[k] = text.with(&text.lines[k], 'Z', at[k].z + by);
    pack.put(&text.name, &text.lines);
    Some(Effect::Harms)
}

/// A place in millimetres in a program that counts in inches, or the other way, where that leads into the part.
pub(crate) fn other_unit(pack: &mut Pack) -> Spoilt {
    let letter = if pack.pick(2) == 0 { 'X' } else { 'Y' };
    let factor = if pack.job["cut_file_units"] == "in" { 25.4 } else { 1.0 / 25.4 };
    let mut text = program(pack)?;
    let at = text.places();
    let found = outlines(pack, &text.lines);
    let block = pack.one(&found)?;
    let (ring, radius, top) = (outline(pack, &block)?, text.radius(block.from)?, solid(pack, &text, &block)?);
    let now = |k: usize| {
        let (x, y) = (at[k].x, at[k].y);
        if letter == 'X' {
            At { x: x * factor, ..at[k] }
        } else {
            At { y: y * factor, ..at[k] }
        }
    };
    // Only the way to the wrong place is reckoned, so an arc may follow.
    let harms = |k: &usize| {
        let cuts = text.lines[*k].starts_with("G1 ") && at[k - 1].z < top && at[*k].z < top;
        let written = word(&text.lines[*k], letter).is_some();
        cuts && written && deep(&ring, at[k - 1], now(*k), radius) == Some(Effect::Harms)
    };
    let cuts: Vec<usize> = (block.from + 1..block.to).filter(harms).collect();
    let k = pack.one(&cuts)?;
    let place = if letter == 'X' { now(k).x } else { now(k).y };
    text.lines[k] = text.with(&text.lines[k], letter, place);
    pack.put(&text.name, &text.lines);
    Some(Effect::Harms)
}

/// A feed in the wood as if a decimal point had slipped.
pub(crate) fn feed_high(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let (at, top) = (text.places(), text.number(0, "thickness_mm")? - 0.1);
    let found = blocks(pack, &text.lines);
    let block = pack.one(&found)?;
    let cuts = straight(&text.lines, &at, &block, top).into_iter().filter(|k| word(&text.lines[*k], 'F').is_some());
    let k = pack.one(&cuts.collect::<Vec<_>>())?;
    let feed = word(&text.lines[k], 'F')?;
    let own = |w: &str| if w.starts_with('F') { format!("F{:.1}", 10.0 * feed) } else { w.to_owned() };
    text.lines[k] = text.lines[k].split(' ').map(own).collect::<Vec<_>>().join(" ");
    pack.put(&text.name, &text.lines);
    Some(Effect::Harms)
}

/// A line number with six digits, one with a fraction, or one behind a word.
pub(crate) fn line_number(pack: &mut Pack) -> Spoilt {
    let way = pack.pick(3);
    let change_to = move |l: &str| match way {
        0 => Some(format!("N100000 {l}")),
        1 => Some(format!("N12.5 {l}")),
        _ => Some(format!("{l} N40")),
    };
    change(pack, |l| l.starts_with("G0 ") || l.starts_with("G1 "), change_to)
}

/// A file in which cutters are changed, and the line of one change.
fn change_of_cutter(pack: &mut Pack) -> Option<(String, Vec<String>, usize)> {
    let name = pack.file("gcode/")?;
    let lines = pack.lines(&name);
    let stop = pack.one(&changes(&lines))?;
    Some((name, lines, stop))
}

pub(crate) fn no_stop(pack: &mut Pack) -> Spoilt {
    let (name, mut lines, stop) = change_of_cutter(pack)?;
    lines.remove(stop);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn turns_at_change(pack: &mut Pack) -> Spoilt {
    let (name, mut lines, stop) = change_of_cutter(pack)?;
    let still = (0..stop).rev().find(|k| is(&lines[*k], "M5"))?;
    lines.remove(still);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

pub(crate) fn not_lifted_after_change(pack: &mut Pack) -> Spoilt {
    let (name, mut lines, stop) = change_of_cutter(pack)?;
    let next = (stop + 1..lines.len()).find(|k| lines[*k].starts_with("G0 Z"))?;
    let label = (next..lines.len()).find(|k| lines[*k].starts_with("(restart "))?;
    // The label's own lift as well.
    lines.drain(label + 1..label + 2);
    lines.remove(next);
    pack.put(&name, &lines);
    Some(Effect::Harms)
}

/// A way across at clearance height, to where the machine does not reach.
pub(crate) fn beyond_machine(pack: &mut Pack) -> Spoilt {
    let mut text = program(pack)?;
    let travel = pack.job["machine"]["travel_mm"][0].as_f64()?;
    let by = pack.size(1.0, 500.0);
    let end = (0..text.lines.len()).rev().find(|k| is(&text.lines[*k], "M5"))?;
    text.lines.insert(end, format!("G0 {} {}", text.word('X', travel + by), text.word('Y', 0.0)));
    pack.put(&text.name, &text.lines);
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
