//! The machine's state, and what each line does to it, in the order of NISTIR 6556, Table 8.

use super::modes;
use super::moves::{Move, Path, Place, Reading, Spindle};
use super::words::Block;
use super::{arcs, cycles};
use crate::proof::fault::Fault;
use crate::proof::limits;
use crate::units::{Mm, MM_PER_INCH};

/// Everything a line's meaning may depend on. Lengths in mm.
#[derive(Debug, Default)]
#[allow(clippy::struct_excessive_bools, reason = "each is one modal state of the language")]
pub(super) struct Machine {
    pub(super) reading: Reading,
    /// What the cutters before did.
    before: Vec<Reading>,
    /// Moves made so far.
    made: usize,
    pub(super) ended: bool,
    /// Where the tool is, axis by axis, as far as the program has said.
    pub(super) at: [Option<f64>; 3],
    /// mm per unit of the file; `None` until G20 or G21.
    scale: Option<f64>,
    /// G91; `None` until stated.
    pub(super) incremental: Option<bool>,
    /// G98: back to the old height after a cycle.
    pub(super) back_to_start: Option<bool>,
    /// Motion word times ten; `None` after G80.
    motion: Option<u32>,
    pub(super) cycle: cycles::Sticky,
    feed: Option<f64>,
    spindle: Option<Spindle>,
    speed: f64,
    offset: Option<u32>,
    plane: bool,
    feed_mode: bool,
    compensation_off: bool,
    length_off: bool,
    cycle_off: bool,
    moved: bool,
    /// Whether the cutter went anywhere at feed with the spindle turning.
    fed: bool,
    /// Whether the spindle has turned since the cutter was put in.
    spun: bool,
}

impl Machine {
    /// With everything stated and the tool at a place.
    pub(super) fn at(place: Place) -> Self {
        Self {
            at: [Some(place.x.0), Some(place.y.0), Some(place.z.0)],
            scale: Some(1.0),
            incremental: Some(false),
            feed: Some(100.0),
            ..Self::default()
        }
    }

    /// Executes one line.
    pub(super) fn run(&mut self, number: usize, block: &Block) -> Result<(), Fault> {
        self.reading.comments.extend(block.comments.iter().map(|c| (number, c.clone())));
        if block.is_idle() {
            return Ok(());
        }
        modes::check(block).and_then(|()| self.execute(number, block)).map_err(|message| Fault::on(number, message))
    }

    fn execute(&mut self, number: usize, block: &Block) -> Result<(), String> {
        let has = |g: u32| block.g.contains(&g);
        let says = |m: u32| block.m.contains(&m);
        self.feed_mode |= has(940);
        if let Some(f) = block.get('F') {
            let scale = self.scale.ok_or("a feed before the units are stated")?;
            if f < 0.0 {
                return Err(format!("feed F{f} is negative"));
            }
            self.feed = Some(f * scale);
        }
        if let Some(s) = block.get('S') {
            if s < 0.0 {
                return Err(format!("spindle speed S{s} is negative"));
            }
            self.speed = s;
        }
        block.whole('T')?;
        if says(6) {
            self.reading.tool_changes.push(number);
            self.spindle = Some(Spindle::Off);
        }
        self.spin(block);
        if has(40) {
            self.dwell(block)?;
        }
        self.plane |= has(170);
        if let Some(units) = modes::one_of(block, &[200, 210]) {
            self.scale = Some(if units == 200 { MM_PER_INCH } else { 1.0 });
            if !self.moved {
                self.reading.inches = units == 200;
            }
        }
        self.compensation_off |= has(400);
        self.length_off |= has(490);
        if let Some(offset) = modes::one_of(block, &[540, 550, 560, 570, 580, 590]) {
            if (self.moved || !self.before.is_empty()) && self.offset != Some(offset) {
                return Err(format!(
                    "work offset G{} is chosen after the first move: places before and after do not compare",
                    offset / 10
                ));
            }
            self.offset = Some(offset);
        }
        if let Some(mode) = modes::one_of(block, &[900, 910]) {
            self.incremental = Some(mode == 910);
        }
        if let Some(level) = modes::one_of(block, &[980, 990]) {
            self.back_to_start = Some(level == 980);
        }
        self.travel(number, block)?;
        if says(0) && self.spun && self.spindle == Some(Spindle::Off) {
            self.next_cutter();
        }
        if says(2) || says(30) {
            self.ended = true;
        }
        Ok(())
    }

    /// The file stops for another cutter: its tip is anywhere until it is lifted.
    fn next_cutter(&mut self) {
        let next = Reading { inches: self.reading.inches, ..Reading::default() };
        self.before.push(std::mem::replace(&mut self.reading, next));
        self.at[2] = None;
        (self.moved, self.fed, self.spun) = (false, false, false);
    }

    /// What each cutter did.
    pub(super) fn finished(mut self) -> Vec<Reading> {
        self.before.push(self.reading);
        self.before
    }

    fn spin(&mut self, block: &Block) {
        for (word, spindle) in [(3, Spindle::Clockwise), (4, Spindle::CounterClockwise), (5, Spindle::Off)] {
            if block.m.contains(&word) {
                self.spindle = Some(spindle);
                self.spun |= spindle != Spindle::Off;
                if !self.fed {
                    self.reading.run_up_s = 0.0;
                }
            }
        }
    }

    fn dwell(&mut self, block: &Block) -> Result<(), String> {
        let seconds = block.get('P').filter(|p| *p >= 0.0).ok_or("a dwell (G4) needs P with a time that is not negative")?;
        self.reading.dwell_s += seconds;
        if !self.fed {
            self.reading.run_up_s += seconds;
        }
        Ok(())
    }

    /// The motion of the line, if it has any.
    fn travel(&mut self, number: usize, block: &Block) -> Result<(), String> {
        let word = modes::motion(block);
        match word {
            Some(800) => {
                self.motion = None;
                self.cycle_off = true;
            }
            Some(g) => {
                if self.motion != Some(g) {
                    self.cycle = cycles::Sticky::default();
                }
                self.motion = Some(g);
                self.cycle_off = true;
            }
            None => {}
        }
        self.idle_words(block)?;
        let axes = block.any("XYZ");
        match self.motion {
            None if axes => Err("axis words without a motion word: none is in force".to_owned()),
            Some(_) if !axes && matches!(word, None | Some(0 | 10)) => Ok(()),
            None => Ok(()),
            Some(g @ (20 | 30)) => {
                if !axes && block.get('R').is_none() && !block.any("IJ") && word.is_none() {
                    return Ok(());
                }
                self.arc(number, block, g == 30)
            }
            Some(g @ (810 | 820 | 830)) => cycles::drill(self, number, block, g),
            Some(g) => self.straight(number, block, g == 0),
        }
    }

    /// Words that stand on a line without anything that uses them are errors (NISTIR 6556, 3.3.5 and each word's section).
    fn idle_words(&self, block: &Block) -> Result<(), String> {
        let axes = block.any("XYZ");
        let cycle = axes && matches!(self.motion, Some(810 | 820 | 830));
        let arc = matches!(self.motion, Some(20 | 30)) && (axes || block.any("IJR"));
        let dwell = block.g.contains(&40);
        for (letter, used) in [
            ('I', arc),
            ('J', arc),
            ('K', false),
            ('L', cycle),
            ('P', dwell || (cycle && self.motion == Some(820))),
            ('Q', cycle && self.motion == Some(830)),
            ('R', arc || cycle),
        ] {
            if block.get(letter).is_some() && !used {
                return Err(format!("word {letter} stands on a line where nothing uses it"));
            }
        }
        Ok(())
    }

    /// Where the line's axis words lead, in mm.
    fn target(&self, block: &Block) -> Result<[Option<f64>; 3], String> {
        let mut to = self.at;
        for (axis, letter) in ['X', 'Y', 'Z'].into_iter().enumerate() {
            let Some(word) = block.get(letter) else { continue };
            let value = word * self.scale()?;
            let incremental = self.incremental.ok_or("a move before the distance mode (G90 or G91) is stated")?;
            to[axis] = if incremental {
                Some(
                    self.at[axis].ok_or(format!("an incremental move in {letter} from a place that was never stated"))?
                        + value,
                )
            } else {
                Some(value)
            };
            if to[axis].is_some_and(|v| v.abs() > limits::COORDINATE) {
                return Err(format!("{letter}{word} lies beyond any machine"));
            }
        }
        Ok(to)
    }

    /// mm per unit of the file.
    pub(super) fn scale(&self) -> Result<f64, String> {
        self.scale.ok_or("a length before the units (G20 or G21) are stated".to_owned())
    }

    fn straight(&mut self, number: usize, block: &Block, rapid: bool) -> Result<(), String> {
        let to = self.target(block)?;
        self.go(number, to, if rapid { Path::Rapid } else { Path::Line })
    }

    fn arc(&mut self, number: usize, block: &Block, ccw: bool) -> Result<(), String> {
        let to = self.target(block)?;
        let (Some(x), Some(y), Some(ex), Some(ey)) = (self.at[0], self.at[1], to[0], to[1]) else {
            return Err("an arc from a place that was never stated".to_owned());
        };
        let (path, differ) = arcs::path(block, [x, y], [ex, ey], ccw, self.scale()?)?;
        self.reading.arcs += 1;
        self.reading.worst_radii = self.reading.worst_radii.max(Mm(differ));
        self.go(number, to, path)
    }

    /// Moves the tool and notes it.
    pub(super) fn go(&mut self, number: usize, to: [Option<f64>; 3], path: Path) -> Result<(), String> {
        if path == Path::Rapid && to == self.at {
            return Ok(());
        }
        self.first_move(to, path)?;
        let feed = self.feed.unwrap_or(0.0);
        if path != Path::Rapid {
            if feed <= 0.0 {
                return Err("a cutting move without a feed".to_owned());
            }
            self.fed |= self.spindle.is_some_and(|s| s != Spindle::Off);
        }
        let from = self.at;
        self.at = to;
        let [Some(x), Some(y), Some(z)] = to else {
            // Only a lift is allowed before all axes are known.
            return if path == Path::Rapid && from[0] == to[0] && from[1] == to[1] {
                Ok(())
            } else {
                Err("a move sideways while a place along some axis was never stated".to_owned())
            };
        };
        if path != Path::Rapid && from.contains(&None) {
            return Err("a cutting move from a place that was never stated".to_owned());
        }
        if from[0].is_none() || from[1].is_none() {
            self.reading.entered = Some((number, Mm(from[2].map_or(z, |start| start.min(z)))));
        }
        self.made += 1;
        if self.made > limits::MOVES {
            return Err(format!("the program makes more than {} moves", limits::MOVES));
        }
        let from = Place::new(Mm(from[0].unwrap_or(x)), Mm(from[1].unwrap_or(y)), Mm(from[2].unwrap_or(z)));
        let spindle = self.spindle.unwrap_or(Spindle::Off);
        let to = Place::new(Mm(x), Mm(y), Mm(z));
        self.reading.moves.push(Move { line: number, from, to, path, feed_mm_min: feed, spindle, speed_rpm: self.speed });
        Ok(())
    }

    /// At the first move: what the file leaves to the machine's memory.
    fn first_move(&mut self, to: [Option<f64>; 3], path: Path) -> Result<(), String> {
        if self.moved {
            return Ok(());
        }
        self.scale()?;
        self.moved = true;
        self.reading.lifts_first = path == Path::Rapid && to[0] == self.at[0] && to[1] == self.at[1];
        let stated = [
            (self.plane, "plane (G17)"),
            (self.incremental.is_some(), "distance mode (G90)"),
            (self.feed_mode, "feed mode (G94)"),
            (self.compensation_off, "no cutter compensation (G40)"),
            (self.length_off, "no tool length offset (G49)"),
            (self.cycle_off, "no cycle in force (G80)"),
            (self.offset.is_some(), "work offset (G54 to G59)"),
        ];
        self.reading.unstated = stated.iter().filter(|(said, _)| !said).map(|(_, name)| *name).collect();
        Ok(())
    }

    /// Adds a dwell made by a cycle.
    pub(super) fn pause(&mut self, seconds: f64) {
        self.reading.dwell_s += seconds;
    }
}
