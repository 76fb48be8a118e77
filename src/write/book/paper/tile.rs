//! Templates larger than a leaf: cut into tiles with register marks at their corners.

use super::leaf::{Leaf, Pen, FIELD, TYPE};
use crate::write::book::canvas::{Room, Words};

/// Size of a tile's own window; more is drawn round it, so that neighbours can be laid over each other.
const TILE: [f64; 2] = [148.0, 194.0];
/// What is drawn round the window.
const OVERLAP: f64 = 6.0;
/// Reach of a register mark.
const MARK: f64 = 4.0;

/// A flat template: lines in mm, x right, y up, from its lower left corner.
#[derive(Clone, Debug, Default)]
pub(super) struct Template {
    pub(super) title: String,
    pub(super) size: [f64; 2],
    pub(super) lines: Vec<(Pen, [f64; 2], [f64; 2])>,
    /// Crosses with what is written beside them.
    pub(super) points: Vec<([f64; 2], String)>,
}

/// The leaves of a template.
pub(super) fn leaves(template: &Template, revision: &str) -> Vec<Leaf> {
    let count = [0, 1].map(|i| (template.size[i] / TILE[i]).ceil().max(1.0) as usize);
    let mut list = Vec::new();
    for row in 0..count[1] {
        for column in 0..count[0] {
            let title = if count[0] * count[1] > 1 {
                format!("{}, row {} of {}, column {} of {}", template.title, row + 1, count[1], column + 1, count[0])
            } else {
                template.title.clone()
            };
            let mut leaf = Leaf::new(&title, revision);
            let low = [column as f64 * TILE[0], row as f64 * TILE[1]];
            draw(&mut leaf, template, low);
            list.push(leaf);
        }
    }
    list
}

fn draw(leaf: &mut Leaf, template: &Template, low: [f64; 2]) {
    let window = [low[0] - OVERLAP, low[1] - OVERLAP, low[0] + TILE[0] + OVERLAP, low[1] + TILE[1] + OVERLAP];
    let at = |p: [f64; 2]| [FIELD[0] + OVERLAP + p[0] - low[0], FIELD[1] + OVERLAP + TILE[1] - (p[1] - low[1])];
    for (pen, a, b) in &template.lines {
        if let Some((a, b)) = clipped(*a, *b, window) {
            leaf.line(*pen, at(a), at(b));
        }
    }
    let mut taken: Vec<Room> = Vec::new();
    for (p, text) in &template.points {
        if p[0] >= window[0] && p[0] <= window[2] && p[1] >= window[1] && p[1] <= window[3] {
            let [x, y] = at(*p);
            leaf.cross(Pen::Firm, [x, y], 3.0);
            beside(leaf, &mut taken, [x, y], text);
        }
    }
    for x in [low[0], low[0] + TILE[0]] {
        for y in [low[1], low[1] + TILE[1]] {
            let [cx, cy] = at([x, y]);
            leaf.cross(Pen::Fine, [cx, cy], MARK);
            leaf.circle([cx, cy], 1.5);
        }
    }
}

/// Words beside a point, off all others and inside the leaf's field. A point whose words find no room has them on the part's own
/// page, where every hole is in figures.
fn beside(leaf: &mut Leaf, taken: &mut Vec<Room>, [x, y]: [f64; 2], text: &str) {
    let long = Words::new(text, [0.0, 0.0]).length();
    for dy in [-1.2, TYPE + 0.6, -1.2 - 1.2 * TYPE, 1.8 * TYPE + 0.6, 3.0 * TYPE, -3.0 * TYPE] {
        for x in [x + 1.2, x - 1.2 - long] {
            let room = Words::new(text, [x, y + dy]).room();
            let [x0, y0, x1, y1] = room.0;
            let inside = x0 >= FIELD[0] && x1 <= FIELD[2] + 6.0 && y0 >= FIELD[1] - 2.0 && y1 <= FIELD[3];
            if inside && taken.iter().all(|t| !t.meets(&room)) {
                taken.push(room);
                leaf.words(text, [x, y + dy], TYPE, false);
                return;
            }
        }
    }
}

/// The stretch of a line inside a window (Liang and Barsky 1984).
fn clipped(a: [f64; 2], b: [f64; 2], [x0, y0, x1, y1]: [f64; 4]) -> Option<([f64; 2], [f64; 2])> {
    let d = [b[0] - a[0], b[1] - a[1]];
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q) in [(-d[0], a[0] - x0), (d[0], x1 - a[0]), (-d[1], a[1] - y0), (d[1], y1 - a[1])] {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    let point = |t: f64| [a[0] + d[0] * t, a[1] + d[1] * t];
    (from < to).then(|| (point(from), point(to)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_kept_where_the_window_is() {
        let window = [0.0, 0.0, 10.0, 10.0];
        assert_eq!(clipped([-5.0, 5.0], [15.0, 5.0], window), Some(([0.0, 5.0], [10.0, 5.0])));
        assert_eq!(clipped([-5.0, 11.0], [15.0, 11.0], window), None);
        assert_eq!(clipped([2.0, 2.0], [3.0, 3.0], window), Some(([2.0, 2.0], [3.0, 3.0])));
    }

    #[test]
    fn a_large_template_takes_as_many_tiles_as_cover_it() {
        let template = Template { title: "x".into(), size: [300.0, 200.0], ..Template::default() };
        assert_eq!(leaves(&template, "r").len(), 3 * 2);
    }
}
