//! Hold-down tabs: where they stand along an outline, and how a pass rises over them.

use super::edge::Setting;
use super::path::Path;
use super::room::Room;
use super::TabsLeft;
use crate::geom::{tolerance, Contour, Point};
use crate::units::Mm;

/// No tab nearer to a corner of the outline, unless nothing else is left (practice of cutting services, common practice).
const FROM_CORNER: f64 = 25.0;
/// Down from a tab with a centre-cutting tool, radians (20 degrees); others go down at the machine's ramp angle. Common practice,
/// no source.
const DOWN_ANGLE: f64 = 0.35;
/// Up onto a tab, radians (45 degrees): the tool cuts with its side only. Common practice, no source.
const UP_ANGLE: f64 = std::f64::consts::FRAC_PI_4;
/// Tabs on a loose part (common practice); on one too small for three, and the fewest that hold one still.
pub(super) const WANTED: usize = 3;
pub(super) const WANTED_TINY: usize = 2;
/// A tab may stand on an arc of at least this radius. Common practice, no source.
const LEAST_BEND: f64 = 30.0;
/// How fine places for tabs are tried, along the way.
const TRY_EVERY: f64 = 2.0;

/// Tabs along a way.
#[derive(Clone, Debug)]
pub(super) struct Tabs {
    /// Middles, as places along the way.
    pub(super) places: Vec<f64>,
    /// Half of what the tool centre passes at full tab height: half the tab plus the cutter's radius.
    half: f64,
    /// Height of their tops above the spoilboard.
    top: f64,
    up_slope: f64,
    /// `None` for a tool that may not go down steeply: it goes down to and fro behind the tab.
    down_slope: Option<f64>,
    /// Of the machine's ramps.
    ramp_slope: f64,
}

/// What the tabs turned out to be.
#[derive(Debug)]
pub(super) struct Placed {
    pub(super) tabs: Tabs,
    /// How many there should have been.
    pub(super) wanted: usize,
    /// How many have wood behind them when everything is cut.
    pub(super) hold: usize,
    /// Some stand within 25 mm of a corner.
    pub(super) near_corner: bool,
    /// Nothing else was left: some stand on edges that should stay clean.
    pub(super) on_clean: bool,
}

/// Size and spacing asked for.
#[derive(Clone, Copy, Debug)]
pub(super) struct TabSize {
    /// Of the wood left, along the edge.
    pub(super) length: f64,
    /// Above the spoilboard.
    pub(super) height: f64,
    pub(super) spacing: f64,
}

/// What tabs a cut is to have.
#[derive(Clone, Debug)]
pub(super) enum Asked {
    /// None.
    None,
    /// As many as hold the part.
    Held(TabSize),
    /// These, of which the middles of the finished edge's way are given.
    Beside(TabSize, Vec<Point>),
}

impl Asked {
    pub(super) fn size(&self) -> Option<TabSize> {
        match self {
            Self::None => None,
            Self::Held(size) | Self::Beside(size, _) => Some(*size),
        }
    }

    /// The tabs, when their places are given.
    pub(super) fn given(&self, path: &Path, room: &Room, setting: &Setting) -> Option<Tabs> {
        let Self::Beside(size, middles) = self else { return None };
        let mut tabs = Tabs::plain(*size, room.radius, setting.centre_cutting, setting.ramp_angle);
        tabs.places = middles.iter().map(|p| path.closest(*p)).collect();
        tabs.places.sort_by(f64::total_cmp);
        Some(tabs)
    }
}

impl Tabs {
    /// Without any places yet.
    fn plain(size: TabSize, radius: f64, centre_cutting: bool, ramp_angle: f64) -> Self {
        Self {
            places: Vec::new(),
            half: size.length / 2.0 + radius,
            top: size.height,
            up_slope: UP_ANGLE.tan(),
            down_slope: centre_cutting.then(|| ramp_angle.max(DOWN_ANGLE).tan()),
            ramp_slope: ramp_angle.tan().max(tolerance::PATH_STEP),
        }
    }

    /// The wood of the tabs along a way: as wide as its cutter.
    pub(super) fn wood(&self, path: &Path, radius: f64) -> Vec<Contour> {
        let half = self.half - radius;
        let ends = self.places.iter().map(|s| (path.at(s - half), path.at(s + half)));
        ends.filter_map(|(a, b)| Contour::obround(a, b, 2.0 * radius).ok()).collect()
    }

    /// What stays of a cut whose bottom is at `floor`.
    pub(super) fn left(&self, radius: f64, floor: f64) -> TabsLeft {
        TabsLeft {
            count: self.places.len(),
            length: Mm(2.0 * (self.half - radius)),
            height: Mm(self.top),
            way: Mm(2.0 * self.half + self.up_run(floor) + self.down_run(floor)),
        }
    }

    /// Whether a way may end at a place without meeting a tab or its flanks.
    pub(super) fn clear_of(&self, end: f64, around: f64, floor: f64, radius: f64) -> bool {
        let (before, after) = (self.half + self.up_run(floor), self.half + self.down_run(floor).max(self.to_and_fro(floor)));
        self.places.iter().all(|place| {
            let past = (end - place).rem_euclid(around);
            past > after + radius && around - past > before + radius
        })
    }

    /// Chooses places: evenly spread, on straight or gently bent stretches, away from corners and clean edges unless nothing else is left, and from `end`, the place
    /// where the last pass ends.
    pub(super) fn choose(
        path: &Path,
        room: &Room,
        size: TabSize,
        floor: f64,
        centre_cutting: bool,
        ramp_angle: f64,
        end: f64,
    ) -> Placed {
        let tabs = Self::plain(size, room.radius, centre_cutting, ramp_angle);
        let around = path.length();
        let zone = (tabs.half + tabs.up_run(floor), tabs.half + tabs.down_run(floor));
        let apart = zone.0 + zone.1.max(tabs.half + tabs.to_and_fro(floor));
        let by_spacing = (around / size.spacing.max(apart)).ceil() as usize;
        let wanted = if around < 3.0 * (apart + 2.0 * FROM_CORNER) { WANTED_TINY } else { by_spacing.max(WANTED) };
        let stands = |s: f64| room.stands(path.at(s), size.length);
        let list = |from_corner: f64, heed: bool| -> Vec<(f64, bool)> {
            let spots = spots(path, room, &tabs, zone, from_corner, heed, end).into_iter();
            spots.filter(|s| room.whole(path.at(*s), size.length)).map(|s| (s, stands(s))).collect()
        };
        // Nearer to a corner the cutter would take of the tab on its way round.
        let near = room.radius.min(FROM_CORNER);
        let far = list(FROM_CORNER, true);
        let mut places: Vec<f64> = Vec::new();
        let (mut near_corner, mut on_clean) = (false, false);
        if !far.iter().all(|s| s.1) {
            // Those that hold to the end come first: near a corner rather than none, and in waste that comes loose with the part on
            // a clean edge rather than none.
            let whole: Vec<f64> = far.iter().filter(|s| s.1).map(|s| s.0).collect();
            places = spread(&whole, around, apart, wanted.min(WANTED));
            for (from_corner, heed) in [(near, true), (FROM_CORNER, false), (near, false)] {
                let had = places.len();
                if had < WANTED_TINY && (heed || room.hangs) {
                    let whole: Vec<(f64, bool)> = list(from_corner, heed).into_iter().filter(|s| s.1).collect();
                    fill(&mut places, &whole, around, apart, WANTED_TINY);
                }
                if places.len() > had {
                    (near_corner, on_clean) = (near_corner || from_corner < FROM_CORNER, on_clean || !heed);
                }
            }
        }
        let hold = |places: &[f64]| places.iter().filter(|s| stands(**s)).count();
        // Even places all round do when enough of them hold; else more about those that do.
        let with = |had: &[f64], list: &[(f64, bool)]| {
            let even = spread(&list.iter().map(|s| s.0).collect::<Vec<_>>(), around, apart, wanted);
            let mut about = had.to_vec();
            fill(&mut about, list, around, apart, wanted);
            let worth = |places: &[f64]| (hold(places).min(WANTED), places.len());
            if worth(&even) >= worth(&about) {
                even
            } else {
                about
            }
        };
        places = with(&places, &far);
        if places.len() < wanted {
            let more = with(&places, &list(near, true));
            if more.len() > places.len() {
                near_corner |= more.iter().any(|p| far.iter().all(|f| (f.0 - p).abs() > TRY_EVERY));
                places = more;
            }
        }
        // A part that would fly is worse than an edge that wants sanding.
        for from_corner in [FROM_CORNER, near] {
            if places.len() < wanted.min(WANTED) {
                let more = with(&places, &list(from_corner, false));
                if more.len() > places.len() {
                    (on_clean, near_corner) = (true, from_corner < FROM_CORNER);
                    places = more;
                }
            }
        }
        let hold = hold(&places);
        Placed { tabs: Self { places, ..tabs }, wanted, hold, near_corner, on_clean }
    }

    fn up_run(&self, floor: f64) -> f64 {
        (self.top - floor).max(0.0) / self.up_slope
    }

    fn down_run(&self, floor: f64) -> f64 {
        self.down_slope.map_or(0.0, |slope| (self.top - floor).max(0.0) / slope)
    }

    /// How far a tool that goes down to and fro runs past the tab.
    fn to_and_fro(&self, floor: f64) -> f64 {
        (self.top - floor).max(0.0) / 2.0 / self.ramp_slope
    }

    /// Least height over a place measured from a tab's middle, positive past it.
    fn over(&self, past: f64) -> f64 {
        if past < -self.half - tolerance::NO_MOVE {
            self.top - (-self.half - past) * self.up_slope
        } else if past > self.half + tolerance::NO_MOVE {
            self.down_slope.map_or(f64::NEG_INFINITY, |slope| self.top - (past - self.half) * slope)
        } else {
            self.top
        }
    }

    /// Heights along a pass, raised over the tabs; `around` is the length of the way.
    pub(super) fn raise(&self, heights: &[(f64, f64)], around: f64) -> Vec<(f64, f64)> {
        let (Some(first), Some(last)) = (heights.first(), heights.last()) else { return Vec::new() };
        let low = heights.iter().map(|h| h.1).fold(f64::INFINITY, f64::min);
        if low >= self.top {
            return heights.to_vec();
        }
        let reach = self.half + self.up_run(low).max(self.down_run(low));
        let middles: Vec<f64> = self
            .places
            .iter()
            .flat_map(|p| {
                let lap = ((first.0 - reach - p) / around).ceil();
                (0..).map(move |k| p + (lap + f64::from(k)) * around).take_while(|m| *m < last.0 + reach)
            })
            .collect();
        let tab = |s: f64| middles.iter().map(|m| self.over(s - m)).fold(f64::NEG_INFINITY, f64::max);
        let mut places: Vec<f64> = heights.iter().map(|h| h.0).collect();
        for m in &middles {
            let kinks = [m - self.half - self.up_run(low), m - self.half, m + self.half, m + self.half + self.down_run(low)];
            // Just behind a tab's end, where a tool that goes to and fro has come down.
            let behind = m + self.half + tolerance::PATH_STEP;
            places.extend(kinks.into_iter().chain([behind]).filter(|s| *s > first.0 && *s < last.0));
        }
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < tolerance::NO_MOVE);
        let mut raised: Vec<(f64, f64)> = Vec::new();
        for s in places {
            let (pass, wood) = (height_at(heights, s), tab(s));
            if let Some(&(s0, _)) = raised.last() {
                // Where the pass meets a tab's flank between two kinks.
                let (d0, d1) = (tab(s0) - height_at(heights, s0), wood - pass);
                if d0.is_finite() && d1.is_finite() && d0 * d1 < 0.0 {
                    let at = s0 + (s - s0) * d0 / (d0 - d1);
                    if at - s0 > tolerance::PATH_STEP && s - at > tolerance::PATH_STEP {
                        raised.push((at, height_at(heights, at)));
                    }
                }
            }
            raised.push((s, pass.max(wood)));
        }
        if self.down_slope.is_some() {
            return raised;
        }
        self.down_to_and_fro(&raised)
    }

    /// Replaces each drop behind a tab by a run forwards and back, both no steeper than the ramp.
    fn down_to_and_fro(&self, heights: &[(f64, f64)]) -> Vec<(f64, f64)> {
        let mut list: Vec<(f64, f64)> = Vec::new();
        for &(s, z) in heights {
            if let Some(&(s0, z0)) = list.last() {
                if s - s0 < 2.0 * tolerance::PATH_STEP && z0 - z > (s - s0) * self.ramp_slope + tolerance::NO_MOVE {
                    let run = (z0 - z) / 2.0 / self.ramp_slope;
                    list.push((s + run, f64::midpoint(z0, z)));
                }
            }
            list.push((s, z));
        }
        list
    }
}

fn height_at(heights: &[(f64, f64)], s: f64) -> f64 {
    let i = heights.partition_point(|h| h.0 <= s).clamp(1, heights.len().max(2) - 1);
    let ((s0, z0), (s1, z1)) = (heights[i - 1], heights[i.min(heights.len() - 1)]);
    if s1 - s0 < tolerance::NO_MOVE {
        return z1;
    }
    z0 + (z1 - z0) * ((s - s0) / (s1 - s0)).clamp(0.0, 1.0)
}

/// Places where a tab may stand: on a stretch of the edge that is straight or bends little, `from_corner` clear at both ends of the wood; off clean
/// edges when they are to be heeded.
fn spots(path: &Path, room: &Room, tabs: &Tabs, zone: (f64, f64), from_corner: f64, heed: bool, end: f64) -> Vec<f64> {
    let around = path.length();
    let wood = tabs.half - room.radius;
    let mut list = Vec::new();
    for (start, seg) in path.segments().filter(|(_, s)| s.is_line() || (s.from - s.centre()).hypot() > LEAST_BEND) {
        let room_for = seg.length() - 2.0 * (wood + from_corner);
        if room_for < 0.0 {
            continue;
        }
        let count = (room_for / TRY_EVERY).floor() as u32;
        for i in 0..=count {
            let place = start + wood + from_corner + room_for * f64::from(i) / f64::from(count.max(1));
            let to_end = (end - place).rem_euclid(around);
            let clear_of_end = to_end > zone.1 + room.radius && around - to_end > zone.0 + room.radius;
            if clear_of_end && (!heed || room.markable_along(place - zone.0, place + zone.1)) {
                list.push(place);
            }
        }
    }
    list
}

/// The shorter way from one place to another along a closed way.
fn gap(a: f64, b: f64, around: f64) -> f64 {
    let d = (a - b).rem_euclid(around);
    d.min(around - d)
}

/// How much farther from the next tab one must be that steadies the part only until its neighbour is cut, to be chosen before one
/// that holds to the end. Common practice, no source.
const STEADY: f64 = 2.0;

/// Adds places until there are `wanted`, each as far from the others as can be and at least `apart`; rather those that stand.
fn fill(places: &mut Vec<f64>, spots: &[(f64, bool)], around: f64, apart: f64, wanted: usize) {
    while places.len() < wanted {
        let worth = |(spot, stands): &(f64, bool)| {
            let free = places.iter().map(|p| gap(*p, *spot, around)).fold(around, f64::min);
            (free >= apart).then_some((if *stands { STEADY * free } else { free }, *spot))
        };
        let best = spots.iter().filter_map(worth).reduce(|best, next| if next.0 > best.0 { next } else { best });
        let Some((_, place)) = best else { break };
        places.push(place);
    }
    places.sort_by(f64::total_cmp);
}

/// Picks up to `wanted` places near even targets, at least `apart` from one another all round.
fn spread(spots: &[f64], around: f64, apart: f64, wanted: usize) -> Vec<f64> {
    let Some(first) = spots.first() else { return Vec::new() };
    let gap = |a: f64, b: f64| gap(a, b, around);
    let mut best: Vec<f64> = Vec::new();
    for shift in 0..4 {
        let origin = first + around / wanted.max(1) as f64 * f64::from(shift) / 4.0;
        let mut taken: Vec<f64> = Vec::new();
        for k in 0..wanted {
            let target = origin + around * k as f64 / wanted as f64;
            let free = spots.iter().filter(|s| taken.iter().all(|t| gap(**s, *t) >= apart));
            if let Some(place) = free.min_by(|a, b| gap(**a, target).total_cmp(&gap(**b, target))) {
                taken.push(*place);
            }
        }
        if taken.len() > best.len() {
            best = taken;
        }
        if best.len() == wanted {
            break;
        }
    }
    best.sort_by(f64::total_cmp);
    best
}
