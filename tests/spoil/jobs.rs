//! Ways to spoil the job's data or the pack as a whole.

use super::pack::{against, Effect, Pack};
use super::program::{blocks, Text};
use serde_json::{json, Value};

type Spoilt = Option<Effect>;

fn list<'p>(pack: &'p mut Pack, key: &str) -> Option<&'p mut Vec<Value>> {
    pack.job[key].as_array_mut()
}

fn done(pack: &mut Pack) -> Effect {
    pack.put_job();
    Effect::Harms
}

/// A program that cuts outlines, by index.
fn outliner(pack: &mut Pack) -> Option<usize> {
    let rows = list(pack, "programs")?.clone();
    let cuts = |row: &Value| {
        let text = Text::of(pack, row["file"].as_str()?)?;
        let outlines = blocks(pack, &text.lines).into_iter().filter(|b| b.feature == "outline");
        Some(outlines.map(|b| b.from).any(|line| text.row(line)["section"] == row["section"]))
    };
    let found: Vec<usize> = (0..rows.len()).filter(|k| cuts(&rows[*k]) == Some(true)).collect();
    pack.one(&found)
}

/// Two sections of one file, by index.
pub(crate) fn sections(pack: &mut Pack) -> Spoilt {
    let programs = list(pack, "programs")?;
    let later: Vec<usize> = (0..programs.len()).filter(|k| programs[*k]["section"].as_u64() > Some(1)).collect();
    let k = pack.one(&later)?;
    let programs = list(pack, "programs")?;
    let (a, b) = (programs[k - 1]["section"].clone(), programs[k]["section"].clone());
    programs[k - 1]["section"] = b;
    programs[k]["section"] = a;
    Some(done(pack))
}

/// A sheet with work on both faces, one of whose programs is said to run on the other.
pub(crate) fn not_turned_over(pack: &mut Pack) -> Spoilt {
    let programs = list(pack, "programs")?;
    let below: Vec<usize> = (0..programs.len()).filter(|k| programs[*k]["side"] == "second").collect();
    let k = pack.one(&below)?;
    let file = list(pack, "programs")?[k]["file"].as_str()?.to_owned();
    // Registration holes alone are in the waste on either face.
    if blocks(pack, &pack.lines(&file)).is_empty() {
        return None;
    }
    list(pack, "programs")?[k]["side"] = json!("first");
    Some(done(pack))
}

pub(crate) fn restart(pack: &mut Pack) -> Spoilt {
    let n = list(pack, "programs")?.len();
    let k = pack.pick(n);
    let n = list(pack, "programs")?[k]["restarts"].as_array()?.len();
    let (r, by) = (pack.pick(n), 1 + pack.pick(20) as u64);
    let line = list(pack, "programs")?[k]["restarts"].get_mut(r)?.get_mut("line")?;
    *line = json!(line.as_u64()? + by);
    Some(done(pack))
}

pub(crate) fn cutter(pack: &mut Pack) -> Spoilt {
    let k = outliner(pack)?;
    let by = pack.size(0.01, 3.0) * pack.sign();
    let cutter = &mut list(pack, "programs")?[k]["cutter"]["diameter_mm"];
    let old = cutter.as_f64()?;
    *cutter = json!(old + by);
    pack.put_job();
    let change = by.abs() / 2.0;
    if change > 0.075 {
        Some(Effect::Harms)
    } else {
        (change < 0.02).then_some(Effect::Harmless)
    }
}

/// A sheet with placements, and one of them.
fn placement(pack: &mut Pack) -> Option<(usize, usize)> {
    let counts: Vec<usize> = list(pack, "sheets")?.iter().map(|s| s["placements"].as_array().map_or(0, Vec::len)).collect();
    let all: Vec<(usize, usize)> = counts.iter().enumerate().flat_map(|(s, n)| (0..*n).map(move |p| (s, p))).collect();
    pack.one(&all)
}

pub(crate) fn moved(pack: &mut Pack) -> Spoilt {
    let (s, p) = placement(pack)?;
    let by = pack.size(0.0008, 20.0) * pack.sign();
    let key = if pack.pick(2) == 0 { "x_mm" } else { "y_mm" };
    let place = &mut list(pack, "sheets")?[s]["placements"][p][key];
    *place = json!(place.as_f64()? + by);
    pack.put_job();
    against(by.abs(), 0.005)
}

pub(crate) fn turned(pack: &mut Pack) -> Spoilt {
    let (s, p) = placement(pack)?;
    let turn = &mut list(pack, "sheets")?[s]["placements"][p]["turn_deg"];
    *turn = json!((turn.as_u64()? + 90) % 360);
    Some(done(pack))
}

pub(crate) fn placed_twice(pack: &mut Pack) -> Spoilt {
    let (s, p) = placement(pack)?;
    let all = list(pack, "sheets")?[s]["placements"].as_array_mut()?;
    all.push(all[p].clone());
    Some(done(pack))
}

pub(crate) fn not_placed(pack: &mut Pack) -> Spoilt {
    let (s, p) = placement(pack)?;
    list(pack, "sheets")?[s]["placements"].as_array_mut()?.remove(p);
    Some(done(pack))
}

pub(crate) fn wanted_more(pack: &mut Pack) -> Spoilt {
    let n = list(pack, "parts")?.len();
    let k = pack.pick(n);
    let quantity = &mut list(pack, "parts")?[k]["quantity"];
    *quantity = json!(quantity.as_u64()? + 1);
    Some(done(pack))
}

pub(crate) fn vertex(pack: &mut Pack) -> Spoilt {
    let n = list(pack, "parts")?.len();
    let k = pack.pick(n);
    let n = list(pack, "parts")?[k]["contours"].as_array()?.len();
    let c = pack.pick(n);
    let n = list(pack, "parts")?[k]["contours"][c]["vertices"].as_array()?.len();
    let (v, axis, by) = (pack.pick(n), pack.pick(2), pack.size(0.0008, 5.0) * pack.sign());
    let value = &mut list(pack, "parts")?[k]["contours"][c]["vertices"][v][axis];
    *value = json!(value.as_f64()? + by);
    // A circle is two half turns: its middle moves by half of what an end of them does.
    let share = if n == 2 { 0.5 } else { 1.0 };
    pack.put_job();
    against(share * by.abs(), 0.005).filter(|e| *e == Effect::Harms)
}

pub(crate) fn zero(pack: &mut Pack) -> Spoilt {
    let k = outliner(pack)?;
    let zero = &mut list(pack, "programs")?[k]["z_zero"];
    *zero = json!(if *zero == "spoilboard" { "sheet-top" } else { "spoilboard" });
    Some(done(pack))
}

pub(crate) fn side(pack: &mut Pack) -> Spoilt {
    let k = outliner(pack)?;
    let side = &mut list(pack, "programs")?[k]["side"];
    *side = json!(if *side == "first" { "second" } else { "first" });
    Some(done(pack))
}

pub(crate) fn order(pack: &mut Pack) -> Spoilt {
    let k = outliner(pack)?;
    let programs = list(pack, "programs")?;
    let mine = programs[k].clone();
    let other = programs.iter().position(|p| {
        p["sheet"] == mine["sheet"] && p["board"] == mine["board"] && p["order"].as_u64() < mine["order"].as_u64()
    })?;
    let (a, b) = (programs[k]["order"].clone(), programs[other]["order"].clone());
    programs[k]["order"] = b;
    programs[other]["order"] = a;
    Some(done(pack))
}

/// A part in an opening of another, by sheet and placement.
fn inner(pack: &mut Pack) -> Option<(usize, usize)> {
    let sheets = list(pack, "sheets")?;
    let lies = |s: usize| {
        let placements = sheets[s]["placements"].as_array().map_or(&[][..], Vec::as_slice);
        (0..placements.len()).filter(|p| placements[*p]["inside"].is_object()).map(move |p| (s, p)).collect::<Vec<_>>()
    };
    let all: Vec<(usize, usize)> = (0..sheets.len()).flat_map(lies).collect();
    pack.one(&all)
}

/// The opening's cut goes before that of a part which lies in it.
pub(crate) fn opening_first(pack: &mut Pack) -> Spoilt {
    let (s, p) = inner(pack)?;
    let placement = list(pack, "sheets")?[s]["placements"][p].clone();
    let names: Vec<String> = pack.files.keys().filter(|n| n.starts_with("gcode/")).cloned().collect();
    for name in names {
        let mut text = Text::of(pack, &name)?;
        let blocks = blocks(pack, &text.lines);
        let of = |part: &Value, copy: &Value, feature: &str| {
            let is = |b: &&super::program::Block| part == &b.part && *copy == b.copy && b.feature == feature;
            blocks.iter().find(is).map(|b| (b.from, b.to))
        };
        let around = &placement["inside"];
        let own = of(&placement["part"], &placement["copy"], "outline");
        let opening = of(&around["part"], &around["copy"], around["feature"].as_str()?);
        if let (Some((to, _)), Some((from, end))) = (own, opening) {
            text.lines[to..end].rotate_left(from - to);
            pack.put(&name, &text.lines);
            return Some(Effect::Harms);
        }
    }
    None
}

/// The job says another opening, or none, of a part that lies in one.
pub(crate) fn elsewhere(pack: &mut Pack) -> Spoilt {
    let (s, p) = inner(pack)?;
    let way = pack.pick(3);
    let inside = &mut list(pack, "sheets")?[s]["placements"][p]["inside"];
    match way {
        0 => *inside = Value::Null,
        1 => inside["copy"] = json!(inside["copy"].as_u64()? + 1),
        _ => inside["feature"] = json!("outline"),
    }
    Some(done(pack))
}

pub(crate) fn clearance(pack: &mut Pack) -> Spoilt {
    let k = outliner(pack)?;
    let by = pack.size(0.0005, 10.0);
    let clear = &mut list(pack, "programs")?[k]["clearance_mm"];
    *clear = json!(clear.as_f64()? + by);
    pack.put_job();
    against(by, 0.002)
}

pub(crate) fn revision(pack: &mut Pack) -> Spoilt {
    let revision = pack.job["revision"].as_str()?.to_owned();
    let names: Vec<String> =
        pack.files.keys().filter(|n| [".nc", ".dxf", ".svg"].iter().any(|e| n.ends_with(e))).cloned().collect();
    let name = pack.one(&names)?;
    let text = String::from_utf8_lossy(&pack.files[&name]).replace(&revision, "0123456789ab");
    pack.files.insert(name, text.into_bytes());
    Some(Effect::Harms)
}

pub(crate) fn missing(pack: &mut Pack) -> Spoilt {
    let endings = ["gcode/", ".dxf", ".svg"];
    let ending = endings[pack.pick(3)];
    let name = pack.file(ending)?;
    pack.files.remove(&name);
    Some(Effect::Harms)
}

pub(crate) fn foreign(pack: &mut Pack) -> Spoilt {
    let endings = [".nc", ".dxf", ".svg"];
    let ending = endings[pack.pick(3)];
    let name = pack.file(ending)?;
    let bytes = pack.files[&name].clone();
    pack.files.insert(format!("gcode/other{ending}"), bytes);
    Some(Effect::Harms)
}

pub(crate) fn swapped(pack: &mut Pack) -> Spoilt {
    let endings = ["gcode/", ".dxf", ".svg"];
    let ending = endings[pack.pick(3)];
    let (a, b) = (pack.file(ending)?, pack.file(ending)?);
    let (one, two) = (pack.files[&a].clone(), pack.files[&b].clone());
    // Two parts that are mirror images may have drawings of the same bytes but for their names.
    if a == b {
        return None;
    }
    pack.files.insert(a, two);
    pack.files.insert(b, one);
    Some(Effect::Harms)
}

pub(crate) fn noise(pack: &mut Pack) -> Spoilt {
    let endings = ["gcode/", ".dxf", ".svg"];
    let ending = endings[pack.pick(3)];
    let name = pack.file(ending)?;
    let at = pack.pick(pack.files[&name].len());
    pack.files.get_mut(&name)?.insert(at, 0x80);
    Some(Effect::Harms)
}
