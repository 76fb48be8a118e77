//! Drives overlapping pieces apart.

use super::super::rng::Rng;
use super::convex::Corner;
use super::meeting::Meetings;

/// Where a piece lies: its form, and that form's lower left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Place {
    pub(super) form: usize,
    pub(super) at: Corner,
}

/// Lines along each axis that are tried for one move, beside its own: where it would touch another piece.
const LINES: usize = 2;
/// Most places with overlap that are looked at on one line.
const LOOKS: usize = 16;
/// Rounds without progress after which it is given up.
const STALE: u32 = 100;
/// Progress is an overlap under this part of the least so far.
const PROGRESS: f64 = 0.98;
/// How fast the weights of entangled pairs grow (the least so, the most so), and how fast others' fade.
const GROWTH: (f64, f64) = (1.1, 1.5);
const FADING: f64 = 0.9;

/// Pieces in a rectangle, which may overlap until they are separated.
pub(super) struct Separation<'a> {
    meetings: &'a Meetings,
    /// For each piece the forms it may have.
    choices: &'a [Vec<usize>],
    pub(super) size: Corner,
    pub(super) places: Vec<Place>,
    weights: Vec<f64>,
    pub(super) rng: Rng,
    pub(super) work: u64,
    stretches: Vec<(i64, i64)>,
    points: Vec<i64>,
}

impl<'a> Separation<'a> {
    pub(super) fn new(
        meetings: &'a Meetings,
        choices: &'a [Vec<usize>],
        size: Corner,
        places: Vec<Place>,
        rng: Rng,
    ) -> Self {
        let weights = vec![1.0; places.len() * places.len()];
        Self { meetings, choices, size, places, weights, rng, work: 0, stretches: Vec::new(), points: Vec::new() }
    }

    fn depth(&self, i: usize, j: usize) -> f64 {
        let (a, b) = (&self.places[i], &self.places[j]);
        self.meetings.depth(a.form, b.form, [b.at[0] - a.at[0], b.at[1] - a.at[1]])
    }

    /// Tries to separate all; false when it is stuck or the work is used up. Leaves the least overlap found.
    pub(super) fn run(&mut self, until: u64) -> bool {
        let n = self.places.len();
        self.weights.fill(1.0);
        let mut best = (f64::INFINITY, self.places.clone());
        let mut stale = 0;
        let mut depths: Vec<(usize, usize, f64)> = Vec::new();
        loop {
            depths.clear();
            for i in 0..n {
                for j in i + 1..n {
                    let d = self.depth(i, j);
                    if d > 0.0 {
                        depths.push((i, j, d));
                    }
                }
            }
            self.work += (n * n / 8) as u64;
            let total: f64 = depths.iter().map(|d| d.2).sum();
            if total < best.0 * PROGRESS {
                stale = 0;
            }
            if total < best.0 {
                best = (total, self.places.clone());
            }
            if depths.is_empty() {
                return true;
            }
            stale += 1;
            if stale > STALE || self.work > until {
                self.places = best.1;
                return false;
            }
            self.weigh(&depths);
            let mut moved: Vec<usize> = depths.iter().flat_map(|d| [d.0, d.1]).collect();
            moved.sort_unstable();
            moved.dedup();
            for k in (1..moved.len()).rev() {
                moved.swap(k, self.rng.below(k + 1));
            }
            for i in moved {
                self.relocate(i);
            }
        }
    }

    /// Pairs that overlap weigh more, the deeper the more; all others less again.
    fn weigh(&mut self, depths: &[(usize, usize, f64)]) {
        let n = self.places.len();
        let most = depths.iter().map(|d| d.2).fold(1.0, f64::max);
        for w in &mut self.weights {
            *w = (*w * FADING).max(1.0);
        }
        for &(i, j, d) in depths {
            let by = (GROWTH.0 + (GROWTH.1 - GROWTH.0) * d / most) / FADING;
            self.weights[i * n + j] *= by;
            self.weights[j * n + i] = self.weights[i * n + j];
        }
    }

    /// The weighted overlap of a piece at a place, or anything above the limit once that is reached.
    fn cost(&self, i: usize, place: Place, limit: f64) -> f64 {
        let n = self.places.len();
        let mut cost = 0.0;
        for (j, other) in self.places.iter().enumerate() {
            if j == i {
                continue;
            }
            let away = [place.at[0] - other.at[0], place.at[1] - other.at[1]];
            let d = self.meetings.depth(other.form, place.form, away);
            if d > 0.0 {
                cost += self.weights[i * n + j] * d;
                if cost >= limit {
                    break;
                }
            }
        }
        cost
    }

    /// Moves a piece to where it overlaps least, as far as it is looked for.
    fn relocate(&mut self, i: usize) {
        let now = self.places[i];
        let mut best = (self.cost(i, now, f64::INFINITY), now);
        if best.0 <= 0.0 {
            return;
        }
        let choices = &self.choices[i];
        let other = choices[self.rng.below(choices.len())];
        let forms = [now.form, other];
        for &form in if other == now.form { &forms[..1] } else { &forms[..] } {
            let size = self.meetings.forms[form].size;
            let room = [self.size[0] - size[0], self.size[1] - size[1]];
            if room.iter().any(|r| *r < 0) {
                continue;
            }
            for axis in [0, 1] {
                for line in 0..=LINES {
                    let across = 1 - axis;
                    let t = match line {
                        0 => now.at[across].clamp(0, room[across]),
                        _ => self.touching(i, form, across, room[across]),
                    };
                    self.along(i, form, (axis, t, room[axis]), &mut best);
                    if best.0 <= 0.0 {
                        self.places[i] = best.1;
                        return;
                    }
                }
            }
        }
        // From the best, along both axes as long as that helps.
        for _ in 0..3 {
            let before = best.0;
            for axis in [0, 1] {
                let Place { form, at } = best.1;
                self.along(i, form, (axis, at[1 - axis], self.size[axis] - self.meetings.forms[form].size[axis]), &mut best);
            }
            if best.0 >= before || best.0 <= 0.0 {
                break;
            }
        }
        self.places[i] = best.1;
    }

    /// A line on which it would touch some other piece.
    fn touching(&mut self, i: usize, form: usize, across: usize, room: i64) -> i64 {
        let j = self.rng.below(self.places.len());
        if j == i {
            return if self.rng.chance(50) { 0 } else { room };
        }
        let meeting = self.meetings.of(self.places[j].form, form);
        let area = &meeting.areas[self.rng.below(meeting.areas.len())];
        let end = if self.rng.chance(50) { area.low } else { area.high };
        (self.places[j].at[across] + end[across]).clamp(0, room)
    }

    /// The best place on a level (axis 0) or upright line, if it is better than the best so far.
    fn along(&mut self, i: usize, form: usize, (axis, t, room): (usize, i64, i64), best: &mut (f64, Place)) {
        let place = |s: i64| Place { form, at: if axis == 0 { [s, t] } else { [t, s] } };
        let mut stretches = std::mem::take(&mut self.stretches);
        let mut points = std::mem::take(&mut self.points);
        stretches.clear();
        points.clear();
        for (j, other) in self.places.iter().enumerate() {
            let line = t - other.at[1 - axis];
            let Some(meeting) = self.meetings.on_line(other.form, form, axis, line).filter(|_| j != i) else { continue };
            self.work += meeting.areas.len() as u64;
            for area in &meeting.areas {
                let Some((low, high)) = area.stretch(axis, line) else { continue };
                let (low, high) = (low + other.at[axis], high + other.at[axis]);
                if low < room && high > 0 {
                    stretches.push((low, high));
                }
            }
        }
        self.work += 2 + self.places.len() as u64 / 4 + stretches.len() as u64;
        stretches.sort_unstable();
        let mut reach = 0;
        for &(low, high) in &stretches {
            if low >= reach {
                points.extend([reach, low]);
            }
            reach = reach.max(high);
        }
        if reach <= room {
            points.extend([reach, room]);
        }
        if points.is_empty() {
            points.extend(stretches.iter().flat_map(|s| [s.0, s.1]).filter(|s| (0..=room).contains(s)));
            points.extend([0, room]);
            let looks = points.len().min(LOOKS);
            for k in 0..looks {
                let pick = k + self.rng.below(points.len() - k);
                points.swap(k, pick);
                self.work += 2 + self.places.len() as u64 / 8;
                let cost = self.cost(i, place(points[k]), best.0);
                if cost < best.0 {
                    *best = (cost, place(points[k]));
                }
            }
        } else {
            *best = (0.0, place(points[self.rng.below(points.len())]));
        }
        self.stretches = stretches;
        self.points = points;
    }

    /// The least place along x that overlaps nothing on some line, for a piece that lies nowhere yet.
    pub(super) fn leftmost(&mut self, form: usize) -> Option<Place> {
        let size = self.meetings.forms[form].size;
        let room = [self.size[0] - size[0], self.size[1] - size[1]];
        if room.iter().any(|r| *r < 0) {
            return None;
        }
        let mut lines = vec![0, room[1]];
        for other in &self.places {
            let meeting = self.meetings.of(other.form, form);
            lines.extend(meeting.areas.iter().flat_map(|a| [a.low[1], a.high[1]]).map(|y| y + other.at[1]));
        }
        lines.retain(|y| (0..=room[1]).contains(y));
        lines.sort_unstable();
        lines.dedup();
        let mut best: Option<Corner> = None;
        for t in lines {
            let mut stretches: Vec<(i64, i64)> = Vec::new();
            for other in &self.places {
                let line = t - other.at[1];
                if let Some(meeting) = self.meetings.on_line(other.form, form, 0, line) {
                    let found = meeting.areas.iter().filter_map(|a| a.stretch(0, line));
                    stretches.extend(found.map(|(a, b)| (a + other.at[0], b + other.at[0])));
                }
            }
            self.work += stretches.len() as u64 + 2;
            stretches.sort_unstable();
            let mut reach = 0;
            for (low, high) in stretches {
                if low >= reach && reach < high {
                    break;
                }
                reach = reach.max(high);
            }
            if reach <= room[0] && best.is_none_or(|b| reach < b[0]) {
                best = Some([reach, t]);
            }
        }
        best.map(|at| Place { form, at })
    }
}
