//! The text of a first project, for a maker to change.

use crate::units::{decimal, inches, InchFraction, Mm, Unit};

/// What a first project is made from.
#[derive(Clone, Debug)]
pub struct StarterAnswers {
    /// Its title.
    pub title: String,
    /// The unit of its figures.
    pub units: Unit,
    /// Width, depth and height of the bay; `None` for a unit without a vehicle.
    pub bay: Option<[Mm; 3]>,
    /// Outside width, depth and height of the carcass.
    pub carcass: [Mm; 3],
    /// How many drawers; up to three lie side by side, more are stacked in two columns.
    pub drawers: u32,
}

/// Lengths of side-mounted slides in the shop, in mm, with what their ids say.
const METRIC_SLIDES: [(f64, &str); 8] = [
    (300.0, "300"),
    (350.0, "350"),
    (400.0, "400"),
    (450.0, "450"),
    (500.0, "500"),
    (550.0, "550"),
    (600.0, "600"),
    (700.0, "700"),
];

/// The same for slides sold by the inch.
const INCH_SLIDES: [(f64, &str); 8] = [
    (12.0 * 25.4, "12in"),
    (14.0 * 25.4, "14in"),
    (16.0 * 25.4, "16in"),
    (18.0 * 25.4, "18in"),
    (20.0 * 25.4, "20in"),
    (22.0 * 25.4, "22in"),
    (24.0 * 25.4, "24in"),
    (28.0 * 25.4, "28in"),
];

/// What a drawer's front, a back and free space behind the slide take of a carcass's depth (common practice, no source).
const DEPTH_BESIDE_SLIDE: Mm = Mm(50.0);

/// Clear space in front of the carcass, from the sill (common practice, no source).
const FRONT_SPACE: Mm = Mm(20.0);

/// The most drawers a starter lays out.
const MOST_DRAWERS: u32 = 12;

/// A whole project file with comments, ready to be checked.
#[must_use]
pub fn starter(answers: &StarterAnswers) -> String {
    let figure = |length: Mm| figure(length, answers.units);
    let [width, depth, height] = answers.carcass;
    let (bay, left, front) = match answers.bay {
        Some([bay_width, bay_depth, bay_height]) => (
            format!(
                "\n[bay]                      # looking in from the load opening; add every reading you took\n\
                 width = {{ readings = [{}], uncertainty = {} }}\n\
                 depth = {{ readings = [{}], uncertainty = {} }}\n\
                 height = {{ readings = [{}], uncertainty = {} }}\n\
                 # opening = {{ width = {}, height = {}, sill = 0, left = {} }}   # the load opening, for loading in\n\
                 # door = [[0, {}], [{}, {}]]   # how far the closed door reaches in: [height, reach], from the sill up\n",
                figure(bay_width),
                figure(Mm(2.0)),
                figure(bay_depth),
                figure(Mm(2.0)),
                figure(bay_height),
                figure(Mm(2.0)),
                figure(bay_width * 0.9),
                figure(bay_height * 0.9),
                figure(bay_width * 0.05),
                figure(FRONT_SPACE / 2.0),
                figure(bay_height / 2.0),
                figure(FRONT_SPACE),
            ),
            ((bay_width - width) / 2.0).max(Mm::ZERO),
            FRONT_SPACE.min((bay_depth - depth).max(Mm::ZERO)),
        ),
        None => (String::new(), Mm::ZERO, Mm::ZERO),
    };
    let mut text = format!(
        "format = 1\n\
         title = {}\n\
         units = \"{}\"               # of bare figures; a text may carry its own: \"26 7/8 in\", \"18mm\"\n\
         {bay}\n\
         [boards.carcass]\n\
         profile = \"birch-ply-15\"\n\
         # readings = [{}]   # thickness at four places or more: slots are cut to it\n\
         \n\
         [boards.front]\n\
         profile = \"birch-ply-12\"\n\
         \n\
         [[carcass]]\n\
         name = \"lower\"\n\
         at = [{}, {}, 0]           # left, front, bottom\n\
         width = {}\n\
         depth = {}\n\
         height = {}\n\
         board = \"carcass\"\n\
         joint = \"finger\"\n",
        toml::Value::String(answers.title.clone()),
        answers.units.symbol(),
        [14.7, 14.9, 14.8, 14.8].map(|t| thickness(Mm(t), answers.units)).join(", "),
        figure(left),
        figure(front),
        figure(width),
        figure(depth),
        figure(height),
    );
    let drawer = format!(
        "drawer = {{ slide = \"side-mount-{}\", latch = \"flush-paddle\", front = \"front\" }}\n",
        slide(depth, answers.units)
    );
    for (name, count) in columns(answers.drawers.min(MOST_DRAWERS)) {
        text.extend(["\n[[carcass.column]]\nname = \"", name, "\"\n"]);
        for index in 0..count {
            // A latch strikes into what is above its front, so every drawer but the lowest stands on a shelf.
            let shelf = if index == 0 { "" } else { "  shelf = \"carcass\"\n" };
            text.extend(["  [[carcass.column.cell]]\n", shelf, "  ", &drawer]);
        }
    }
    text
}

/// Columns, left to right, with the drawers of each.
fn columns(drawers: u32) -> Vec<(&'static str, u32)> {
    match drawers {
        0 => vec![("open", 0)],
        1 => vec![("middle", 1)],
        2 => vec![("left", 1), ("right", 1)],
        3 => vec![("left", 1), ("middle", 1), ("right", 1)],
        more => vec![("left", more.div_ceil(2)), ("right", more / 2)],
    }
}

/// The longest slide that fits the depth, or the shortest there is.
fn slide(depth: Mm, units: Unit) -> &'static str {
    let list = match units {
        Unit::Mm => METRIC_SLIDES,
        Unit::Inch => INCH_SLIDES,
    };
    let fitting = list.iter().rev().find(|(length, _)| Mm(*length) <= depth - DEPTH_BESIDE_SLIDE);
    fitting.unwrap_or(&list[0]).1
}

/// A length as a TOML value: a bare number, or inches with a fraction as text.
fn figure(length: Mm, units: Unit) -> String {
    match units {
        Unit::Mm => decimal(length.0, 1),
        Unit::Inch => {
            let text = inches(length, InchFraction::Sixteenth).text;
            let bare = text.trim_end_matches(" in");
            if bare.contains('/') {
                format!("\"{text}\"")
            } else {
                bare.to_owned()
            }
        }
    }
}

/// A thickness as a TOML value; a sixteenth is too coarse for it.
fn thickness(length: Mm, units: Unit) -> String {
    decimal(units.count(length), if units == Unit::Mm { 1 } else { 3 })
}
