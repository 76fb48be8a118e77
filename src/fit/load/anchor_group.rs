//! Bolts of equal stiffness under a rigid base: who takes how much.

use super::say::newton;
use crate::geom::Box3;
use crate::units::decimal;

/// What acts on a unit. Bay frame, mm and N.
#[derive(Clone, Copy, Debug)]
pub struct Load {
    /// Along the floor, x and y, N.
    pub push: [f64; 2],
    /// Upwards, N; negative when its weight holds it down.
    pub lift: f64,
    /// Where it acts: the centre of mass, mm.
    pub centre: [f64; 3],
}

/// Force at one anchor.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct AnchorForce {
    /// Upwards out of the floor, N.
    pub pull_n: f64,
    /// Along the floor, N.
    pub shear_n: f64,
}

impl AnchorForce {
    /// Both together, N.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.pull_n.hypot(self.shear_n)
    }
}

/// Shares the load among bolts at some places under a base.
#[must_use]
pub fn forces(load: &Load, base: &Box3, spots: &[[f64; 2]]) -> Vec<AnchorForce> {
    let (shears, pulls) = (shear(load, spots), pull(load, base, spots));
    shears.into_iter().zip(pulls).map(|(shear_n, pull_n)| AnchorForce { pull_n, shear_n }).collect()
}

/// For each bolt the highest force there when any one of the others is lost.
#[must_use]
pub fn one_lost(load: &Load, base: &Box3, spots: &[[f64; 2]]) -> Vec<AnchorForce> {
    let mut worst = vec![AnchorForce::default(); spots.len()];
    for lost in 0..spots.len() {
        let kept: Vec<usize> = (0..spots.len()).filter(|i| *i != lost).collect();
        let places: Vec<[f64; 2]> = kept.iter().map(|i| spots[*i]).collect();
        for (i, force) in kept.into_iter().zip(forces(load, base, &places)) {
            if force.total() > worst[i].total() {
                worst[i] = force;
            }
        }
    }
    worst
}

fn middle(spots: &[[f64; 2]]) -> [f64; 2] {
    let n = spots.len().max(1) as f64;
    [0, 1].map(|i| spots.iter().map(|s| s[i]).sum::<f64>() / n)
}

/// The push shared equally, and its moment about the bolts' middle by distance from it.
fn shear(load: &Load, spots: &[[f64; 2]]) -> Vec<f64> {
    let n = spots.len() as f64;
    let c = middle(spots);
    let turn = (load.centre[0] - c[0]) * load.push[1] - (load.centre[1] - c[1]) * load.push[0];
    let polar: f64 = spots.iter().map(|s| (s[0] - c[0]).powi(2) + (s[1] - c[1]).powi(2)).sum();
    let one = |s: &[f64; 2]| {
        let by = if polar > 0.0 { turn / polar } else { 0.0 };
        let x = load.push[0] / n - by * (s[1] - c[1]);
        let y = load.push[1] / n + by * (s[0] - c[0]);
        x.hypot(y)
    };
    spots.iter().map(one).collect()
}

/// The edge a load leans a base on, and the moment about it that the bolts must hold, N mm; `None` when nothing lifts.
fn leaning(load: &Load, base: &Box3) -> Option<Leaning> {
    let weight = -load.lift;
    let height = load.centre[2] - base.min.z;
    let edges = [
        Leaning { axis: 0, up: true, edge: base.max.x, moment: 0.0 },
        Leaning { axis: 0, up: false, edge: base.min.x, moment: 0.0 },
        Leaning { axis: 1, up: true, edge: base.max.y, moment: 0.0 },
        Leaning { axis: 1, up: false, edge: base.min.y, moment: 0.0 },
    ];
    let with_moment = |mut l: Leaning| {
        let sign = if l.up { 1.0 } else { -1.0 };
        let lever = (l.edge - load.centre[l.axis]) * sign;
        l.moment = load.push[l.axis] * sign * height - weight * lever;
        l
    };
    edges.into_iter().map(with_moment).filter(|l| l.moment > 0.0).max_by(|a, b| a.moment.total_cmp(&b.moment))
}

#[derive(Clone, Copy)]
struct Leaning {
    axis: usize,
    /// Whether the edge is the one with the larger coordinate.
    up: bool,
    edge: f64,
    moment: f64,
}

impl Leaning {
    fn distance(&self, spot: [f64; 2]) -> f64 {
        let d = if self.up { self.edge - spot[self.axis] } else { spot[self.axis] - self.edge };
        d.max(0.0)
    }
}

fn pull(load: &Load, base: &Box3, spots: &[[f64; 2]]) -> Vec<f64> {
    if load.lift > 0.0 {
        return lifted(load, spots);
    }
    let Some(leaning) = leaning(load, base) else { return vec![0.0; spots.len()] };
    let squares: f64 = spots.iter().map(|s| leaning.distance(*s).powi(2)).sum();
    spots.iter().map(|s| if squares > 0.0 { leaning.moment * leaning.distance(*s) / squares } else { 0.0 }).collect()
}

/// A lift shared as by a rigid plate on equal springs; where that would press a bolt down, the floor takes it.
fn lifted(load: &Load, spots: &[[f64; 2]]) -> Vec<f64> {
    let n = spots.len() as f64;
    let c = middle(spots);
    let d = |s: &[f64; 2]| [s[0] - c[0], s[1] - c[1]];
    let sum = |f: fn([f64; 2]) -> f64| spots.iter().map(|s| f(d(s))).sum::<f64>();
    let (xx, yy, xy) = (sum(|d| d[0] * d[0]), sum(|d| d[1] * d[1]), sum(|d| d[0] * d[1]));
    let e = [load.centre[0] - c[0], load.centre[1] - c[1]];
    let det = xx * yy - xy * xy;
    let slope = if det > xx.max(yy).powi(2) * SINGULAR {
        [(e[0] * yy - e[1] * xy) / det, (e[1] * xx - e[0] * xy) / det]
    } else {
        // All in one line: only what turns along it can be held by it.
        let along = xx + yy;
        let held = |i: usize, s: f64| if s > along * SINGULAR { e[i] / s } else { 0.0 };
        [held(0, xx), held(1, yy)]
    };
    let one = |s: &[f64; 2]| load.lift * (1.0 / n + slope[0] * d(s)[0] + slope[1] * d(s)[1]);
    spots.iter().map(|s| one(s).max(0.0)).collect()
}

/// Bolts lie in one line when the determinant of their second moments is below this share of the largest of them squared.
const SINGULAR: f64 = crate::geom::tolerance::IN_LINE;

/// How the push is shared, with its numbers; `None` when nothing pushes along the floor.
pub(super) fn shear_said(load: &Load, spots: &[[f64; 2]]) -> Option<String> {
    let (n, c) = (spots.len(), middle(spots));
    let push = load.push[0].hypot(load.push[1]);
    if push <= 0.0 {
        return None;
    }
    let (dx, dy) = (load.centre[0] - c[0], load.centre[1] - c[1]);
    let turn = dx * load.push[1] - dy * load.push[0];
    let polar: f64 = spots.iter().map(|s| (s[0] - c[0]).powi(2) + (s[1] - c[1]).powi(2)).sum();
    Some(format!(
        "    shear: {} / {n} = {} each; bolts' middle x {} mm, y {} mm, the push acts {} mm beside it: turning {} N m / {} mm²",
        newton(push),
        newton(push / n as f64),
        decimal(c[0], 0),
        decimal(c[1], 0),
        decimal(turn.abs() / push, 0),
        decimal(turn.abs() / 1000.0, 1),
        decimal(polar, 0)
    ))
}

/// The moment that the bolts hold, with its numbers.
pub(super) fn moment_said(load: &Load, base: &Box3, spots: &[[f64; 2]]) -> String {
    if load.lift > 0.0 {
        let c = middle(spots);
        let squares = |i: usize| spots.iter().map(|s| (s[i] - c[i]).powi(2)).sum::<f64>();
        return format!(
            "; lifts with {}: each bolt x (1/{} + {} mm dx / {} mm² + {} mm dy / {} mm²), dx and dy from the bolts' middle x {} mm, y {} mm",
            newton(load.lift),
            spots.len(),
            decimal(load.centre[0] - c[0], 0),
            decimal(squares(0), 0),
            decimal(load.centre[1] - c[1], 0),
            decimal(squares(1), 0),
            decimal(c[0], 0),
            decimal(c[1], 0)
        );
    }
    let Some(l) = leaning(load, base) else { return "; its weight keeps the base down, no pull".to_owned() };
    let sign = if l.up { 1.0 } else { -1.0 };
    let lever = (l.edge - load.centre[l.axis]) * sign;
    let squares: f64 = spots.iter().map(|s| l.distance(*s).powi(2)).sum();
    format!(
        "; about the edge {} {} mm: {} x {} mm - {} x {} mm = {} N m; pull = that x distance / {} mm²",
        ["x", "y"][l.axis],
        decimal(l.edge, 0),
        newton(load.push[l.axis] * sign),
        decimal(load.centre[2] - base.min.z, 0),
        newton(-load.lift),
        decimal(lever, 0),
        decimal(l.moment / 1000.0, 1),
        decimal(squares, 0)
    )
}
