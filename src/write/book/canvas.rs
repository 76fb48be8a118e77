//! One picture of the book as SVG inside the page: paper millimetres, y down, words that know the room they take.

use super::metrics;
use crate::units::decimal;
use maud::{html, Markup, PreEscaped};
use std::fmt::Write as _;

/// Size of the type in pictures: 10 pt (row PW11 of the trade's wishes).
pub(super) const TYPE: f64 = 3.53;

/// A picture in the making.
#[derive(Debug)]
pub(super) struct Canvas {
    /// In mm on paper.
    pub(super) width: f64,
    /// In mm on paper.
    pub(super) height: f64,
    body: String,
    taken: Vec<Room>,
}

/// A rectangle of the picture: left, top, right, bottom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Room(pub(super) [f64; 4]);

impl Room {
    pub(super) fn meets(&self, other: &Room) -> bool {
        let ([a, b, c, d], [e, f, g, h]) = (self.0, other.0);
        a < g && e < c && b < h && f < d
    }
}

/// Where words begin at their point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// Words to be written.
#[derive(Clone, Copy, Debug)]
pub(super) struct Words<'a> {
    pub(super) text: &'a str,
    /// Point on the baseline.
    pub(super) at: [f64; 2],
    pub(super) size: f64,
    pub(super) anchor: Anchor,
    pub(super) bold: bool,
    /// Written upwards.
    pub(super) upright: bool,
}

impl<'a> Words<'a> {
    pub(super) fn new(text: &'a str, at: [f64; 2]) -> Self {
        Self { text, at, size: TYPE, anchor: Anchor::Start, bold: false, upright: false }
    }

    pub(super) fn anchor(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }

    pub(super) fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    pub(super) fn upright(self) -> Self {
        Self { upright: true, ..self }
    }

    /// How long the words are.
    pub(super) fn length(&self) -> f64 {
        metrics::width(self.text, self.size, self.bold)
    }

    /// The rectangle they take.
    pub(super) fn room(&self) -> Room {
        let (length, over, under) = (self.length(), metrics::OVER * self.size, metrics::UNDER * self.size);
        let before = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => length / 2.0,
            Anchor::End => length,
        };
        let [x, y] = self.at;
        if self.upright {
            Room([x - over, y - length + before, x + under, y + before])
        } else {
            Room([x - before, y - over, x - before + length, y + under])
        }
    }
}

/// A number of a picture: a hundredth of a millimetre is finer than any printer.
pub(super) fn n(value: f64) -> String {
    decimal(value, 2)
}

impl Canvas {
    pub(super) fn new(width: f64, height: f64) -> Self {
        Self { width, height, body: String::new(), taken: Vec::new() }
    }

    /// A path of a class of the book's style sheet.
    pub(super) fn path(&mut self, class: &str, d: &str) {
        // Writing to a String cannot fail.
        let _ = write!(self.body, "<path class=\"{class}\" d=\"{d}\"/>");
    }

    pub(super) fn line(&mut self, class: &str, from: [f64; 2], to: [f64; 2]) {
        self.path(class, &format!("M{} {}L{} {}", n(from[0]), n(from[1]), n(to[0]), n(to[1])));
    }

    pub(super) fn rect(&mut self, class: &str, room: Room) {
        let [x0, y0, x1, y1] = room.0;
        self.path(class, &format!("M{} {}H{}V{}H{}Z", n(x0), n(y0), n(x1), n(y1), n(x0)));
    }

    pub(super) fn circle(&mut self, class: &str, centre: [f64; 2], radius: f64) {
        let _ = write!(
            self.body,
            "<circle class=\"{class}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            n(centre[0]),
            n(centre[1]),
            n(radius)
        );
    }

    /// Writes words where they are wanted, whatever stands there.
    pub(super) fn words(&mut self, words: &Words<'_>) {
        self.taken.push(words.room());
        let anchor = match words.anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let weight = if words.bold { " font-weight=\"700\"" } else { "" };
        let (x, y) = (n(words.at[0]), n(words.at[1]));
        let turn = if words.upright { format!(" transform=\"rotate(-90 {x} {y})\"") } else { String::new() };
        let _ = write!(
            self.body,
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"{anchor}{weight}{turn}>{}</text>",
            n(words.size),
            n(words.length()),
            html! { (words.text) }.into_string()
        );
    }

    /// Writes words if they stay inside the picture and off all other words; says whether it did.
    pub(super) fn words_if_free(&mut self, words: &Words<'_>) -> bool {
        let room = words.room();
        let [x0, y0, x1, y1] = room.0;
        let inside = x0 >= 0.0 && y0 >= 0.0 && x1 <= self.width && y1 <= self.height;
        let free = inside && self.taken.iter().all(|t| !t.meets(&room));
        if free {
            self.words(words);
        }
        free
    }

    /// Keeps words off a rectangle.
    pub(super) fn keep_free(&mut self, room: Room) {
        self.taken.push(room);
    }

    /// The same for a picture that scrolls sideways by itself where the screen is too narrow for its words.
    pub(super) fn finish_wide(self, shows: &str) -> Markup {
        html! { div.wide role="region" aria-label={"Picture: " (shows)} tabindex="0" { (self.finish("flat", shows)) } }
    }

    /// The picture, with what it shows in words for those who cannot see it.
    pub(super) fn finish(self, class: &str, shows: &str) -> Markup {
        let (w, h) = (n(self.width), n(self.height));
        html! {
            svg class=(class) xmlns="http://www.w3.org/2000/svg" viewBox={"0 0 " (w) " " (h)} style={"--w:" (w) "mm;--h:" (h) "mm"}
                role="img" aria-label=(shows) {
                title { (shows) }
                (PreEscaped(self.body))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_never_cover_words_nor_leave_the_picture() {
        let mut canvas = Canvas::new(100.0, 50.0);
        let words = Words::new("LO-1-001", [10.0, 20.0]);
        assert!(canvas.words_if_free(&words));
        assert!(!canvas.words_if_free(&Words::new("LO-1-002", [12.0, 21.0])));
        assert!(canvas.words_if_free(&Words::new("LO-1-002", [12.0, 30.0])));
        assert!(!canvas.words_if_free(&Words::new("LO-1-003", [95.0, 40.0])));
        canvas.keep_free(Room([60.0, 0.0, 100.0, 50.0]));
        assert!(!canvas.words_if_free(&Words::new("x", [70.0, 10.0])));
        // Upright words run up from their point.
        assert_eq!(Words::new("8", [10.0, 20.0]).upright().room().0[1], 20.0 - metrics::width("8", TYPE, false));
    }

    #[test]
    fn a_picture_says_what_it_shows_and_escapes_what_it_says() {
        let mut canvas = Canvas::new(10.0, 5.0);
        canvas.words(&Words::new("a<b&\"c\"", [0.0, 4.0]));
        let text = canvas.finish("flat", "<what> it shows").into_string();
        assert!(text.contains("a&lt;b&amp;") && text.contains("aria-label=\"&lt;what&gt; it shows\""), "{text}");
        assert!(text.contains("viewBox=\"0 0 10 5\""));
    }
}
