//! Lasers: the width of the cut, and how the lines of their files are named and coloured.

use crate::units::Mm;

/// What a laser can do.
#[derive(Clone, Debug)]
pub struct Laser {
    /// Full width of the cut, as measured.
    pub kerf: Mm,
    /// Whether files hold the beam's centre (true) or the finished edge.
    pub compensate: bool,
    /// How each kind of line is named and coloured.
    pub lines: Box<LaserLines>,
}

/// Names and colours of a laser file's lines, by what the beam does on them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LaserLines {
    /// Marks on the face.
    pub mark: LineStyle,
    /// Folds, scored half through.
    pub fold: LineStyle,
    /// Openings, cut through.
    pub opening: LineStyle,
    /// Outlines, cut through.
    pub outline: LineStyle,
}

/// How one kind of line is told from the others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineStyle {
    /// Layer in DXF and group in SVG.
    pub layer: String,
    /// Stroke in SVG, `#rrggbb`.
    pub colour: String,
    /// Colour number in DXF, from 1 to 255.
    pub number: u8,
}

impl LineStyle {
    /// Letters of a layer's name at most (release 12 symbol names; from memory).
    pub const LONGEST: usize = 31;

    fn new(layer: &str, colour: &str, number: u8) -> Self {
        Self { layer: layer.to_owned(), colour: colour.to_owned(), number }
    }

    /// Whether the layer's name is one every reader takes: capitals, digits, `$`, `-` and `_`.
    #[must_use]
    pub fn has_plain_layer(&self) -> bool {
        let plain = |b: u8| b.is_ascii_uppercase() || b.is_ascii_digit() || b"$-_".contains(&b);
        (1..=Self::LONGEST).contains(&self.layer.len()) && self.layer.bytes().all(plain)
    }

    /// Whether the colour is six hexadecimal digits after a `#`.
    #[must_use]
    pub fn has_plain_colour(&self) -> bool {
        let digits = self.colour.strip_prefix('#').unwrap_or_default();
        digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit())
    }
}

/// The names of the parts' own drawings, in colours told apart by every kind of colour vision (after Okabe and Ito's set, Color
/// Universal Design, 2008; from memory).
impl Default for LaserLines {
    fn default() -> Self {
        Self {
            mark: LineStyle::new("MARK", "#7a7a7a", 8),
            fold: LineStyle::new("FOLD", "#d55e00", 30),
            opening: LineStyle::new("THROUGH-INSIDE", "#0072b2", 150),
            outline: LineStyle::new("THROUGH-OUTSIDE", "#1b1b1b", 7),
        }
    }
}

impl LaserLines {
    /// All of them with their keys in a profile, in the order of cutting.
    #[must_use]
    pub fn all(&self) -> [(&'static str, &LineStyle); 4] {
        [("mark", &self.mark), ("fold", &self.fold), ("opening", &self.opening), ("outline", &self.outline)]
    }
}
