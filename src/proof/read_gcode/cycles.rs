//! Drilling cycles G81, G82 and G83 (NISTIR 6556, 3.5.16), expanded into plain moves.

use super::machine::Machine;
use super::moves::Path;
use super::words::Block;
use crate::proof::limits;
use crate::units::MM_PER_INCH;

/// How far above the last bottom G83 ends its rapid back in: 0.010 in or 0.254 mm, constants of the interpreter published with
/// NISTIR 6556 (from memory).
const BACK_OFF_MM: f64 = 0.254;

/// Words that stay in force from one line of a cycle to the next, in units of the file.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sticky {
    r: Option<f64>,
    z: Option<f64>,
    p: Option<f64>,
    q: Option<f64>,
}

/// One line of a cycle, as heights and steps in mm.
struct Holes {
    first: [f64; 2],
    step: [f64; 2],
    count: u32,
    r: f64,
    bottom: f64,
    clear: f64,
    dwell: f64,
    peck: Option<f64>,
}

/// Executes one line of a cycle; `word` is the G number times ten.
pub(super) fn drill(machine: &mut Machine, number: usize, block: &Block, word: u32) -> Result<(), String> {
    if !block.any("XYZ") {
        return Err("a drilling cycle without X, Y or Z".to_owned());
    }
    let holes = settle(machine, block, word)?;
    if machine.at[2].is_some_and(|z| z < holes.r) {
        // 3.5.16.1: once, before anything else.
        let up = [machine.at[0], machine.at[1], Some(holes.r)];
        machine.go(number, up, Path::Rapid)?;
    }
    let [mut x, mut y] = holes.first;
    for _ in 0..holes.count {
        let height = machine.at[2];
        machine.go(number, [Some(x), Some(y), height], Path::Rapid)?;
        machine.go(number, [Some(x), Some(y), Some(holes.r)], Path::Rapid)?;
        bore(machine, number, [x, y], &holes)?;
        x += holes.step[0];
        y += holes.step[1];
    }
    Ok(())
}

fn settle(machine: &mut Machine, block: &Block, word: u32) -> Result<Holes, String> {
    let scale = machine.scale()?;
    let [Some(at_x), Some(at_y), Some(at_z)] = machine.at else {
        return Err("a drilling cycle from a place that was never stated".to_owned());
    };
    let kept = &mut machine.cycle;
    kept.r = block.get('R').or(kept.r);
    kept.z = block.get('Z').or(kept.z);
    kept.p = block.get('P').or(kept.p);
    kept.q = block.get('Q').or(kept.q);
    let kept = *kept;
    let r = kept.r.ok_or("a drilling cycle without R")? * scale;
    let z = kept.z.ok_or("a drilling cycle without Z")? * scale;
    let count = block.whole('L')?.unwrap_or(1);
    if count == 0 {
        return Err("a drilling cycle repeated no times (L0)".to_owned());
    }
    let incremental = machine.incremental.ok_or("a drilling cycle before the distance mode is stated")?;
    let word_mm = |letter: char| block.get(letter).map(|v| v * scale);
    let (r, bottom, first, step) = if incremental {
        // 3.5.16: R counts from the tool's height, Z from R.
        let step = [word_mm('X').unwrap_or(0.0), word_mm('Y').unwrap_or(0.0)];
        (at_z + r, at_z + r + z, [at_x + step[0], at_y + step[1]], step)
    } else {
        (r, z, [word_mm('X').unwrap_or(at_x), word_mm('Y').unwrap_or(at_y)], [0.0, 0.0])
    };
    if r < bottom {
        return Err(format!("the cycle's R of {r} mm lies below its bottom of {bottom} mm"));
    }
    let far = |v: f64| v.abs() > limits::COORDINATE;
    if far(r) || far(bottom) || first.iter().chain(&step).any(|v| far(v * f64::from(count))) {
        return Err("a drilling cycle that lies beyond any machine".to_owned());
    }
    let back = machine.back_to_start.ok_or("a drilling cycle before the return level (G98 or G99) is stated")?;
    let dwell =
        if word == 820 { kept.p.filter(|p| *p >= 0.0).ok_or("G82 needs P with a time that is not negative")? } else { 0.0 };
    let peck = if word == 830 {
        let q = kept.q.filter(|q| *q > 0.0).ok_or("G83 needs Q with a step greater than zero")? * scale;
        if (r - bottom) / q > limits::PECKS as f64 {
            return Err(format!("G83 would peck more than {} times", limits::PECKS));
        }
        Some(q)
    } else {
        None
    };
    Ok(Holes { first, step, count, r, bottom, clear: if back { at_z.max(r) } else { r }, dwell, peck })
}

fn bore(machine: &mut Machine, number: usize, [x, y]: [f64; 2], holes: &Holes) -> Result<(), String> {
    let height = |z: f64| [Some(x), Some(y), Some(z)];
    if let Some(peck) = holes.peck {
        // 3.5.16.4: in steps of Q, out to clear the chips, back to just above the bottom.
        let back_off = if machine.scale()? > 1.0 { 0.010 * MM_PER_INCH } else { BACK_OFF_MM };
        let mut depth = holes.r - peck;
        while depth > holes.bottom {
            machine.go(number, height(depth), Path::Line)?;
            machine.go(number, height(holes.clear), Path::Rapid)?;
            machine.go(number, height((depth + back_off).min(holes.r)), Path::Rapid)?;
            depth -= peck;
        }
    }
    machine.go(number, height(holes.bottom), Path::Line)?;
    machine.pause(holes.dwell);
    machine.go(number, height(holes.clear), Path::Rapid)
}
