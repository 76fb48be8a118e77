//! The accelerations a load is held against: chosen by the vehicle, named with their source.

use crate::design::{AccelerationSet, Design};
use crate::project::{LoadSide, VehicleClass};

/// Where the load is pushed, seen from the bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Push {
    /// Into the vehicle, +y.
    IntoBay,
    /// Out of the opening, -y.
    OutOfBay,
    /// To the right, +x.
    Right,
    /// To the left, -x.
    Left,
    /// Up.
    Up,
}

impl Push {
    /// The pushes along the floor.
    pub const ALONG: [Self; 4] = [Self::IntoBay, Self::OutOfBay, Self::Right, Self::Left];

    pub(super) fn direction(self) -> [f64; 2] {
        match self {
            Self::IntoBay => [0.0, 1.0],
            Self::OutOfBay => [0.0, -1.0],
            Self::Right => [1.0, 0.0],
            Self::Left => [-1.0, 0.0],
            Self::Up => [0.0, 0.0],
        }
    }
}

/// The accelerations in use, and how the bay lies in the vehicle.
#[derive(Clone, Debug)]
pub struct Set {
    /// The accelerations.
    pub accelerations: AccelerationSet,
    /// The side of the vehicle the bay opens to.
    pub load_from: LoadSide,
}

impl Set {
    /// What drives a push: `braking`, `pulling away`, `cornering`, `a bump`.
    #[must_use]
    pub fn cause(&self, push: Push) -> &'static str {
        match (self.load_from, push) {
            (_, Push::Up) => "bump",
            (LoadSide::Rear, Push::IntoBay) | (LoadSide::Left, Push::Left) | (LoadSide::Right, Push::Right) => "braking",
            (LoadSide::Rear, Push::OutOfBay) | (LoadSide::Left, Push::Right) | (LoadSide::Right, Push::Left) => {
                "pulling away"
            }
            _ => "cornering",
        }
    }

    /// The acceleration of a push in units of g.
    #[must_use]
    pub fn of(&self, push: Push) -> f64 {
        match self.cause(push) {
            "braking" => self.accelerations.forward,
            "pulling away" => self.accelerations.back,
            "cornering" => self.accelerations.side,
            _ => self.accelerations.up,
        }
    }
}

/// Chooses the set of accelerations by the vehicle, and says why.
#[must_use]
pub fn choose(design: &Design) -> Set {
    let vehicle = design.vehicle.as_ref();
    let load_from = vehicle.map_or(LoadSide::Rear, |v| v.load_from);
    if let Some(own) = vehicle.and_then(|v| v.accelerations.clone()) {
        return Set { accelerations: own, load_from };
    }
    let gross = vehicle.and_then(|v| v.gross_kg);
    let class = vehicle.and_then(|v| v.class);
    let heavy = gross.map_or(class == Some(VehicleClass::Truck), |g| g > 3500.0);
    let (forward, side, source) = if heavy {
        (0.8, 0.5, "EN 12195-1, over 3.5 t gross: 0.8 g forward, 0.5 g back, 0.5 g to the side")
    } else {
        let source = match (class, gross) {
            (Some(VehicleClass::Car), _) => {
                "a passenger car: no standard of cargo restraint covers it (EN 12195-1 excludes up to 3.5 t); the highest set for \
                 small vans, VDI 2700-16, up to 2.0 t: 0.9 g forward, 0.5 g back, 0.7 g to the side"
            }
            (_, Some(g)) if g <= 2000.0 => {
                "VDI 2700-16, vans up to 2.0 t gross: 0.9 g forward, 0.5 g back, 0.7 g to the side (EN 12195-1 excludes up to 3.5 t)"
            }
            (_, Some(_)) => {
                "VDI 2700-16, vans of 2.0 to 3.5 t gross, as quoted in a conference paper whose figure says 0.8 / 0.5 / 0.6 and whose \
                 text says 0.9 and 0.7: the higher reading, 0.9 g forward, 0.5 g back, 0.7 g to the side (EN 12195-1 excludes up to 3.5 t)"
            }
            _ => {
                "vehicle's gross mass not written: the highest set for small vans, VDI 2700-16: 0.9 g forward, 0.5 g back, 0.7 g to \
                 the side (EN 12195-1 excludes up to 3.5 t)"
            }
        };
        (0.9, 0.7, source)
    };
    let source =
        format!("{source}; a bump lifts by 0.2 g beyond its weight (20 % hold-down, 49 CFR 393.102(b), from memory)");
    Set { accelerations: AccelerationSet { forward, back: 0.5, side, up: 0.2, source }, load_from }
}

/// A push in words.
pub(super) fn label(set: &Set, push: Push) -> String {
    let cause = set.cause(push);
    match (cause, push) {
        ("cornering", Push::Right) => "cornering (to the right)".to_owned(),
        ("cornering", Push::Left) => "cornering (to the left)".to_owned(),
        ("cornering", Push::IntoBay) => "cornering (into the bay)".to_owned(),
        ("cornering", Push::OutOfBay) => "cornering (out of the bay)".to_owned(),
        _ => cause.to_owned(),
    }
}
