//! A scene: bodies, how they look, and the picture of them.

use super::label::Shown;
use super::view::{Block, Side, View, PAPER};
use super::visible::{Bodies, Piece};
use crate::geom::{Box3, Point3};
use crate::write::book::canvas::{n, Canvas, Room, Words};
use maud::Markup;
use std::fmt::Write as _;

/// White round the bodies, in mm on paper.
const MARGIN: f64 = 3.0;
/// Words stay so far off arrows, in mm on paper.
const CLEAR: f64 = 1.0;

/// How a body is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::write::book) enum Look {
    /// As wood that stands already.
    Plain,
    /// As what the picture is about.
    New,
    /// As what surrounds it: the vehicle.
    Around,
}

/// One body.
#[derive(Clone, Debug)]
pub(in crate::write::book) struct Body {
    /// What is written on it.
    pub(in crate::write::book) label: String,
    /// The boxes that fill it, bay frame.
    pub(in crate::write::book) solids: Vec<Box3>,
    /// How it looks.
    pub(in crate::write::book) look: Look,
}

/// Bodies and lines of motion, seen from a corner.
#[derive(Clone, Debug)]
pub(in crate::write::book) struct Scene {
    pub(in crate::write::book) bodies: Vec<Body>,
    /// Ways that bodies take, from and to, drawn over everything.
    pub(in crate::write::book) ways: Vec<[Point3; 2]>,
    pub(in crate::write::book) view: View,
}

impl Scene {
    /// How much of the paper that a body would take alone is seen of it, 0 to 1.
    pub(in crate::write::book) fn seen(&self, body: usize) -> f64 {
        let blocks = self.blocks();
        let area = |list: Vec<Piece>| -> f64 { list.iter().map(|p| clipper2_rust::area_paths(&p.paths)).sum() };
        let alone = area(Bodies::new(&blocks[body..=body], self.view).pieces());
        if alone > 0.0 {
            area(Bodies::new(&blocks, self.view).of(body)) / alone
        } else {
            0.0
        }
    }

    fn blocks(&self) -> Vec<Vec<Block>> {
        self.bodies.iter().map(|b| b.solids.iter().map(|s| self.view.block(s)).collect()).collect()
    }

    /// The picture, no wider and no higher than so many mm on paper.
    pub(in crate::write::book) fn draw(&self, width: f64, height: f64, shows: &str) -> Markup {
        let pieces = Bodies::new(&self.blocks(), self.view).pieces();
        let ends: Vec<_> = self.ways.iter().flatten().map(|p| self.view.point(*p)).collect();
        let mut b = [i64::MAX, i64::MAX, i64::MIN, i64::MIN];
        for p in pieces.iter().flat_map(|p| &p.paths).flatten().chain(&ends) {
            b = [b[0].min(p.x), b[1].min(p.y), b[2].max(p.x), b[3].max(p.y)];
        }
        if b[0] > b[2] {
            return Canvas::new(width, MARGIN).finish("solid", shows);
        }
        let size = [(b[2] - b[0]) as f64, (b[3] - b[1]) as f64];
        let scale = ((width - 2.0 * MARGIN) / size[0]).min((height - 2.0 * MARGIN) / size[1]).min(0.5 / PAPER);
        let mut canvas = Canvas::new(size[0] * scale + 2.0 * MARGIN, size[1] * scale + 2.0 * MARGIN);
        let place = |x: i64, y: i64| [(x - b[0]) as f64 * scale + MARGIN, (b[3] - y) as f64 * scale + MARGIN];
        let mut shown: Vec<(usize, Shown)> = Vec::new();
        for piece in &pieces {
            let mut d = String::new();
            let mut rings = Vec::new();
            for path in &piece.paths {
                let ring: Vec<[f64; 2]> = path.iter().map(|p| place(p.x, p.y)).collect();
                for (i, [x, y]) in ring.iter().enumerate() {
                    let _ = write!(d, "{}{} {}", if i == 0 { "M" } else { "L" }, n(*x), n(*y));
                }
                d.push('Z');
                rings.push(ring);
            }
            canvas.path(class(self.bodies[piece.body].look, piece.side), &d);
            shown.push((piece.body, Shown { rings }));
        }
        for pair in ends.chunks_exact(2) {
            if pair[0] == pair[1] {
                continue;
            }
            canvas.line("way", place(pair[0].x, pair[0].y), place(pair[1].x, pair[1].y));
            arrow(&mut canvas, place(pair[0].x, pair[0].y), place(pair[1].x, pair[1].y));
        }
        for pair in ends.chunks_exact(2) {
            let ([x0, y0], [x1, y1]) = (place(pair[0].x, pair[0].y), place(pair[1].x, pair[1].y));
            // Words stay off the arrow: it is walked in short steps.
            let steps = ((x1 - x0).hypot(y1 - y0) / CLEAR).ceil().max(1.0);
            for k in 0..=steps as usize {
                let t = k as f64 / steps;
                let (x, y) = (x0 + (x1 - x0) * t, y0 + (y1 - y0) * t);
                canvas.keep_free(Room([x - CLEAR, y - CLEAR, x + CLEAR, y + CLEAR]));
            }
        }
        self.write_labels(&mut canvas, &shown);
        canvas.finish("solid", shows)
    }

    /// Ids on bodies where they have room: what the picture is about first.
    fn write_labels(&self, canvas: &mut Canvas, shown: &[(usize, Shown)]) {
        let mut order: Vec<usize> = (0..self.bodies.len()).filter(|i| !self.bodies[*i].label.is_empty()).collect();
        order.sort_by_key(|i| self.bodies[*i].look != Look::New);
        for i in order {
            let body = &self.bodies[i];
            let new = body.look == Look::New;
            let words = Words { bold: new, ..Words::new(&body.label, [0.0, 0.0]) };
            let own = || shown.iter().filter(|(k, _)| *k == i).map(|(_, s)| s);
            let written = own().any(|s| s.write(canvas, &words));
            if !written && new {
                if let Some(at) = own().find_map(Shown::middle) {
                    beside(canvas, at, &words);
                }
            }
        }
    }
}

/// Words beside a point, with a line to it, wherever they are free.
fn beside(canvas: &mut Canvas, at: [f64; 2], words: &Words<'_>) {
    for reach in [6.0, 10.0, 16.0, 24.0, 34.0] {
        for (dx, dy) in
            [(0.7, -0.7), (-0.7, -0.7), (0.7, 0.7), (-0.7, 0.7), (0.0, -1.0), (0.0, 1.0), (1.0, 0.0), (-1.0, 0.0)]
        {
            let end = [at[0] + dx * reach, at[1] + dy * reach];
            let left = if dx < 0.0 { -words.length() } else { 0.0 };
            let words = Words { at: [end[0] + left, end[1] + 0.35 * words.size], ..*words };
            if canvas.words_if_free(&words) {
                canvas.line("lead", at, end);
                return;
            }
        }
    }
}

/// A head at the end of a way.
fn arrow(canvas: &mut Canvas, from: [f64; 2], to: [f64; 2]) {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let length = dx.hypot(dy);
    if length < 1.0 {
        return;
    }
    let (ux, uy) = (dx / length, dy / length);
    let (long, half) = (2.6, 0.9);
    let base = [to[0] - ux * long, to[1] - uy * long];
    let d = format!(
        "M{} {}L{} {}L{} {}Z",
        n(to[0]),
        n(to[1]),
        n(base[0] - uy * half),
        n(base[1] + ux * half),
        n(base[0] + uy * half),
        n(base[1] - ux * half)
    );
    canvas.path("head", &d);
}

fn class(look: Look, side: Side) -> &'static str {
    match (look, side) {
        (Look::Plain, Side::Level) => "w0",
        (Look::Plain, Side::Front) => "w1",
        (Look::Plain, Side::Right) => "w2",
        (Look::New, Side::Level) => "n0",
        (Look::New, Side::Front) => "n1",
        (Look::New, Side::Right) => "n2",
        (Look::Around, Side::Level) => "a0",
        (Look::Around, Side::Front) => "a1",
        (Look::Around, Side::Right) => "a2",
    }
}
