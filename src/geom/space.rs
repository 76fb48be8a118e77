//! Axis-aligned things in the bay: right-handed, x right, y into the vehicle, z up, in mm.

use serde::Serialize;

/// A signed coordinate direction of the bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Axis {
    /// To the right.
    PlusX,
    /// To the left.
    MinusX,
    /// Into the vehicle.
    PlusY,
    /// Out of the vehicle.
    MinusY,
    /// Up.
    PlusZ,
    /// Down.
    MinusZ,
}

impl Axis {
    /// Unit vector.
    #[must_use]
    pub fn unit(self) -> Point3 {
        match self {
            Self::PlusX => Point3::new(1.0, 0.0, 0.0),
            Self::MinusX => Point3::new(-1.0, 0.0, 0.0),
            Self::PlusY => Point3::new(0.0, 1.0, 0.0),
            Self::MinusY => Point3::new(0.0, -1.0, 0.0),
            Self::PlusZ => Point3::new(0.0, 0.0, 1.0),
            Self::MinusZ => Point3::new(0.0, 0.0, -1.0),
        }
    }

    /// 0 for x, 1 for y, 2 for z.
    #[must_use]
    pub fn index(self) -> usize {
        match self {
            Self::PlusX | Self::MinusX => 0,
            Self::PlusY | Self::MinusY => 1,
            Self::PlusZ | Self::MinusZ => 2,
        }
    }

    /// 1 along the coordinate, -1 against it.
    #[must_use]
    pub fn sign(self) -> f64 {
        match self {
            Self::PlusX | Self::PlusY | Self::PlusZ => 1.0,
            Self::MinusX | Self::MinusY | Self::MinusZ => -1.0,
        }
    }
}

/// A point or a displacement in the bay frame.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Point3 {
    /// To the right.
    pub x: f64,
    /// Into the vehicle.
    pub y: f64,
    /// Up.
    pub z: f64,
}

impl Point3 {
    /// From its coordinates.
    #[must_use]
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }

    /// As an array, in the order of [`Axis::index`].
    #[must_use]
    pub fn to_array(self) -> [f64; 3] {
        [self.x, self.y, self.z]
    }

    /// The right-handed cross product.
    #[must_use]
    pub fn cross(self, other: Self) -> Self {
        Self::new(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )
    }

    /// `self + other * factor`.
    #[must_use]
    pub fn plus(self, other: Self, factor: f64) -> Self {
        Self::new(self.x + other.x * factor, self.y + other.y * factor, self.z + other.z * factor)
    }
}

/// An axis-aligned box; `min` is below `max` on every axis.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Box3 {
    /// Left, front, bottom corner.
    pub min: Point3,
    /// Right, rear, top corner.
    pub max: Point3,
}

impl Box3 {
    /// The box between two opposite corners.
    #[must_use]
    pub fn between(a: Point3, b: Point3) -> Self {
        Self {
            min: Point3::new(a.x.min(b.x), a.y.min(b.y), a.z.min(b.z)),
            max: Point3::new(a.x.max(b.x), a.y.max(b.y), a.z.max(b.z)),
        }
    }

    /// The least box round two.
    #[must_use]
    pub fn around(&self, other: &Self) -> Self {
        let pick = |f: fn(f64, f64) -> f64, p: Point3, q: Point3| Point3::new(f(p.x, q.x), f(p.y, q.y), f(p.z, q.z));
        Self { min: pick(f64::min, self.min, other.min), max: pick(f64::max, self.max, other.max) }
    }

    /// Moved by so much along an axis.
    #[must_use]
    pub fn moved(&self, axis: Axis, by: f64) -> Self {
        Self { min: self.min.plus(axis.unit(), by), max: self.max.plus(axis.unit(), by) }
    }

    /// How deep two boxes overlap on the axis where they overlap least; negative or zero when they do not.
    #[must_use]
    pub fn overlap_depth(&self, other: &Self) -> f64 {
        let (a, b, c, d) = (self.min.to_array(), self.max.to_array(), other.min.to_array(), other.max.to_array());
        (0..3).map(|i| b[i].min(d[i]) - a[i].max(c[i])).fold(f64::INFINITY, f64::min)
    }
}
