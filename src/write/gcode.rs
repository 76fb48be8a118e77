//! Programs as RS274/NGC text (NISTIR 6556), in the dialect of the machine's profile.
//!
//! The text states everything it relies on: units, plane, absolute distances, feed per minute, work offset, and cancels cutter
//! and length offsets and cycles. The first move goes up; the spindle runs up before the first move down; every block begins at
//! clearance height with a comment that names part and feature, so that a run can be taken up again there.

mod arc;
mod opening;
mod text;

use crate::geom::{Point, Point3};
use crate::shop::{Dialect, Machine, Process, Router, ZZero};
use crate::toolpath::{trace_feed, Block, Move, Program};
use crate::units::{Mm, Unit};
use text::Text;

/// One program as the bytes of its file. `header` holds comment lines: job, revision, board and its real thickness, what the file
/// holds. Empty for a machine that is not a router.
#[must_use]
pub fn program(machine: &Machine, program: &Program, header: &[String]) -> Vec<u8> {
    programs(machine, &[program], header).bytes
}

/// A file of one or more programs.
#[derive(Clone, Debug, Default)]
pub struct Written {
    /// The file.
    pub bytes: Vec<u8>,
    /// The restart points of each program, in order.
    pub restarts: Vec<Vec<Restart>>,
}

/// Where a run can be taken up again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Restart {
    /// Its number in the file, from 1.
    pub number: u32,
    /// Line of the file, from 1.
    pub line: usize,
    /// What begins there, in words.
    pub label: String,
}

/// Several programs of one sheet and side in one file, for a machine whose cutters are changed inside the file: between them the
/// tool goes up, the spindle stops, the tool parks, the next cutter is named, and the operator sets its zero before going on.
#[must_use]
pub fn programs(machine: &Machine, programs: &[&Program], header: &[String]) -> Written {
    let (Process::Router(router), Some(first)) = (&machine.process, programs.first()) else { return Written::default() };
    let router: &Router = router;
    let mut w = Writer::new(machine, router, first);
    w.opening(header, first);
    let mut restarts = Vec::new();
    for (nth, program) in programs.iter().enumerate() {
        if nth > 0 {
            w.change(program);
        }
        w.trace(program);
        w.cutter(program);
        for block in &program.blocks {
            w.block(block);
        }
        restarts.push(std::mem::take(&mut w.restarts));
    }
    Written { bytes: w.closing(), restarts }
}

/// What has been written so far, and where that leaves the machine.
struct Writer<'a> {
    text: Text,
    unit: Unit,
    router: &'a Router,
    dialect: &'a Dialect,
    /// Counts in one unit: ten to the power of the decimals.
    scale: f64,
    /// Taken from z on writing.
    z_shift: f64,
    clearance: f64,
    /// Of the run round the used rectangle, mm/min.
    trace_feed: f64,
    /// Where the moves are, unrounded, mm, program frame.
    here: Point3,
    /// Where the control is, in counts of the last decimal; `None` before it has been sent there.
    sent: [Option<i64>; 3],
    feed: Option<String>,
    /// Of the program being written.
    restarts: Vec<Restart>,
}

/// Feed back down into a hole between pecks, over the drilling feed. Common practice, no source.
const BACK_DOWN: f64 = 4.0;
const AXES: [char; 3] = ['X', 'Y', 'Z'];

impl<'a> Writer<'a> {
    fn new(machine: &Machine, router: &'a Router, first: &Program) -> Self {
        let z_shift = match router.z_zero {
            ZZero::Spoilboard => 0.0,
            ZZero::SheetTop => first.thickness.0,
        };
        Self {
            text: Text::new(&router.dialect),
            unit: machine.units,
            router,
            dialect: &router.dialect,
            scale: (0..router.dialect.decimals).map(|_| 10.0).product(),
            z_shift,
            clearance: first.clearance.0,
            trace_feed: trace_feed(machine),
            here: Point3::new(0.0, 0.0, first.clearance.0),
            sent: [None; 3],
            feed: None,
            restarts: Vec::new(),
        }
    }

    /// A length in counts of the last decimal.
    fn counts(&self, mm: f64) -> i64 {
        (self.unit.count(Mm(mm)) * self.scale).round() as i64
    }

    fn place(&self, p: Point3) -> [i64; 3] {
        [self.counts(p.x), self.counts(p.y), self.counts(p.z - self.z_shift)]
    }

    fn word(&self, letter: char, counts: i64) -> String {
        format!("{letter}{}", text::fixed(counts, self.dialect.decimals))
    }

    /// Once round the used rectangle at clearance height, the spindle still.
    fn trace(&mut self, program: &Program) {
        let Some(r) = program.trace else { return };
        self.text.comment("air trace: once round everything this set-up cuts, at clearance height, spindle still");
        let corners = [(r.x0, r.y0), (r.x1, r.y0), (r.x1, r.y1), (r.x0, r.y1), (r.x0, r.y0)];
        let z = self.clearance;
        self.rapid(Point3::new(r.x0, r.y0, z));
        self.feed = None;
        for (x, y) in &corners[1..] {
            self.line(Point3::new(*x, *y, z), self.trace_feed);
        }
        if self.dialect.first_move_pause {
            self.text.comment("MSG, did the trace stay on the sheet and clear of clamps: check before going on");
            self.text.line(&["M0".into()]);
        }
    }

    /// Straight to clearance height, unless the tool is there.
    fn lift(&mut self) {
        if self.sent[2] != Some(self.counts(self.clearance - self.z_shift)) {
            self.up();
        }
    }

    /// Straight to clearance height, whatever came before.
    fn up(&mut self) {
        let z = self.counts(self.clearance - self.z_shift);
        let word = self.word('Z', z);
        self.text.line(&["G0".into(), word]);
        self.sent[2] = Some(z);
        self.here.z = self.clearance;
    }

    fn park(&mut self) {
        let [x, y] = self.router.park;
        let (cx, cy) = (self.counts(x.0), self.counts(y.0));
        let words = ["G0".into(), self.word('X', cx), self.word('Y', cy)];
        self.text.line(&words);
        (self.sent[0], self.sent[1]) = (Some(cx), Some(cy));
        (self.here.x, self.here.y) = (x.0, y.0);
    }

    /// Names the cutter, starts the spindle and waits for it.
    fn cutter(&mut self, program: &Program) {
        let c = &program.cutter;
        self.text.comment(&format!("cutter {}, {} mm, {} flutes, {:.0} 1/min", c.name, c.diameter, c.flutes, program.rpm));
        self.text.line(&[format!("S{:.0}", program.rpm), "M3".into()]);
        self.text.line(&["G4".into(), format!("P{:.1}", self.router.spindle_wait_s)]);
        self.feed = None;
    }

    fn change(&mut self, next: &Program) {
        self.clearance = self.clearance.max(next.clearance.0);
        self.lift();
        self.text.line(&["M5".into()]);
        self.park();
        self.text.comment(&format!("MSG, put in {} and set its z zero", next.cutter.name));
        self.text.line(&["M0".into()]);
        self.sent[2] = None;
        self.up();
    }

    fn closing(mut self) -> Vec<u8> {
        self.lift();
        self.text.line(&["M5".into()]);
        self.park();
        self.text.line(&["M30".into()]);
        self.text.percent();
        self.text.into_bytes()
    }

    fn block(&mut self, block: &Block) {
        match block.restart {
            Some(number) => {
                self.restarts.push(Restart { number, line: self.text.next_line(), label: block.label.clone() });
                self.text.comment(&format!("restart {number}: {}", block.label));
                // Said in full, so that a run taken up here does not rest on what stood before.
                self.up();
                (self.sent[0], self.sent[1]) = (None, None);
            }
            None => self.text.comment(&block.label),
        }
        self.feed = None;
        self.rapid(Point3::new(block.start.x, block.start.y, self.clearance));
        for m in &block.moves {
            match *m {
                Move::Rapid { to } => self.rapid(to),
                Move::Line { to, feed } => self.line(to, feed),
                Move::Arc { to, centre, ccw, feed } => self.arc(to, centre, ccw, feed),
                Move::Drill { bottom, retract, peck, feed } => self.drill(bottom.0, retract.0, peck.map(|p| p.0), feed),
            }
        }
        if self.here.z < self.clearance {
            self.up();
        }
    }

    /// Words for the axes that change, and the new place remembered.
    fn moved(&mut self, to: Point3) -> Vec<String> {
        let place = self.place(to);
        let mut words = Vec::new();
        for (axis, letter) in AXES.into_iter().enumerate() {
            if self.sent[axis] != Some(place[axis]) {
                words.push(self.word(letter, place[axis]));
                self.sent[axis] = Some(place[axis]);
            }
        }
        self.here = to;
        words
    }

    fn rapid(&mut self, to: Point3) {
        let words = self.moved(to);
        self.send("G0", words, None);
    }

    fn line(&mut self, to: Point3, feed: f64) {
        let words = self.moved(to);
        self.send("G1", words, Some(feed));
    }

    /// A line of the file, unless nothing moves; the feed is written when it changes.
    fn send(&mut self, code: &str, words: Vec<String>, feed: Option<f64>) {
        if words.is_empty() {
            return;
        }
        let mut all = vec![code.to_owned()];
        all.extend(words);
        if let Some(feed) = feed {
            all.extend(self.feed_word(feed));
        }
        self.text.line(&all);
    }

    fn feed_word(&mut self, mm_min: f64) -> Option<String> {
        let places = if self.unit == Unit::Inch { 2 } else { 1 };
        // Never rounded to nought: a control takes a zero feed for a fault.
        let least = 10_f64.powi(-places);
        let word = format!("F{:.*}", places as usize, self.unit.count(Mm(mm_min)).max(least));
        (self.feed.as_ref() != Some(&word)).then(|| {
            self.feed = Some(word.clone());
            word
        })
    }

    fn arc(&mut self, to: Point3, centre: Point, ccw: bool, feed: f64) {
        let from = self.here;
        let (start, end) = (self.place(from), self.place(to));
        let centre_counts = [self.unit_counts(centre.x), self.unit_counts(centre.y)];
        let round = arc::Round {
            start: [start[0], start[1]],
            end: [end[0], end[1]],
            centre: centre_counts,
            limit: self.radius_limit(),
        };
        match round.fit() {
            arc::Fit::Line => self.line(to, feed),
            arc::Fit::Arc { i, j } if self.dialect.arcs => {
                let (x, y) = (self.word('X', end[0]), self.word('Y', end[1]));
                let mut words = vec![x, y];
                if self.sent[2] != Some(end[2]) {
                    words.push(self.word('Z', end[2]));
                }
                words.extend([self.word('I', i), self.word('J', j)]);
                self.sent = end.map(Some);
                self.here = to;
                self.send(if ccw { "G3" } else { "G2" }, words, Some(feed));
            }
            arc::Fit::Arc { .. } | arc::Fit::Chords => {
                for p in arc::chords(from, to, centre, ccw) {
                    self.line(p, feed);
                }
            }
        }
    }

    /// Unrounded counts, for the centre.
    fn unit_counts(&self, mm: f64) -> f64 {
        self.unit.count(Mm(mm)) * self.scale
    }

    /// How far an arc's radii at start and end may differ, in counts (NISTIR 6556, 3.5.3.2).
    fn radius_limit(&self) -> f64 {
        let limit = if self.unit == Unit::Inch { arc::RADII_INCH } else { arc::RADII_MM };
        limit * self.scale
    }

    /// As a cycle (G98: back up to where it came from), or move by move.
    fn drill(&mut self, bottom: f64, retract: f64, peck: Option<f64>, feed: f64) {
        let at = |z: f64| Point3::new(self.here.x, self.here.y, z);
        if !self.dialect.drill_cycles {
            let (air, retract) = (feed * BACK_DOWN, at(retract));
            let mut depth = retract.z;
            let step = peck.filter(|p| *p > 0.0).unwrap_or(f64::INFINITY);
            while depth > bottom {
                let next = (depth - step).max(bottom);
                let (from, to) = (Point3 { z: depth, ..retract }, Point3 { z: next, ..retract });
                if depth < retract.z {
                    self.line(from, air);
                }
                self.line(to, feed);
                self.rapid(retract);
                depth = next;
            }
            return;
        }
        let place = self.place(at(bottom));
        let r = self.counts(retract - self.z_shift);
        let (x, y, z) = (self.word('X', place[0]), self.word('Y', place[1]), self.word('Z', place[2]));
        let mut words =
            vec!["G98".to_owned(), if peck.is_some() { "G83".into() } else { "G81".into() }, x, y, z, self.word('R', r)];
        if let Some(q) = peck {
            words.push(self.word('Q', self.counts(q).max(1)));
        }
        words.extend(self.feed_word(feed));
        self.text.line(&words);
        self.text.line(&["G80".into()]);
        // Clear z under G98 is the old z where that is above R, else R.
        let clear = self.here.z.max(retract);
        self.here.z = clear;
        self.sent = [Some(place[0]), Some(place[1]), Some(self.counts(clear - self.z_shift))];
    }
}
