//! An interpreter of RS274/NGC as NISTIR 6556 has it (Kramer, Proctor, Messina, 17 August 2000), for the words a three-axis
//! router needs; any other word is a fault.

mod arcs;
mod cycles;
mod machine;
mod modes;
mod moves;
mod words;

pub use moves::{Move, Path, Place, Reading, Spindle};

use super::fault::{ascii, Fault};
use machine::Machine;

/// Reads and executes a file. Gives what each cutter does, one reading for each: another cutter is put in where the file stops (M0)
/// with the spindle standing that has turned before. The moves are in mm whatever the file's unit.
///
/// # Errors
/// At the first line that the language does not allow or that would make the machine do something unforeseeable.
pub fn read(bytes: &[u8]) -> Result<Vec<Reading>, Fault> {
    start_from(bytes, None)
}

/// Like [`read`], with the tool already at a known place, units in mm and a feed of 100 mm/min, as worked examples assume.
///
/// # Errors
/// As [`read`].
pub fn read_from(bytes: &[u8], at: Place) -> Result<Vec<Reading>, Fault> {
    start_from(bytes, Some(at))
}

fn start_from(bytes: &[u8], at: Option<Place>) -> Result<Vec<Reading>, Fault> {
    let text = ascii(bytes)?;
    let mut machine = at.map_or_else(Machine::default, Machine::at);
    let mut percents: usize = 0;
    let mut seen_any = false;
    for (index, raw) in text.split('\n').enumerate() {
        let number = index + 1;
        let line = raw.strip_suffix('\r').unwrap_or(raw);
        if line.trim().is_empty() {
            continue;
        }
        let block = words::line(number, line)?;
        if block.percent {
            // NISTIR 6556, 3.1: a first percent line opens the program, the second closes it.
            if percents == 0 && seen_any {
                return Err(Fault::on(number, "a percent line in the middle of the program"));
            }
            percents += 1;
            continue;
        }
        if percents > 1 || (machine.ended && !block.is_idle()) {
            return Err(Fault::on(number, "words after the end of the program"));
        }
        seen_any = true;
        machine.run(number, &block)?;
        machine.reading.lines = number;
    }
    if percents == 1 {
        return Err(Fault::whole("the program opens with a percent line and does not close with one: it is cut short"));
    }
    if !machine.ended {
        return Err(Fault::whole("the program does not end with M2 or M30: it is cut short"));
    }
    Ok(machine.finished())
}
