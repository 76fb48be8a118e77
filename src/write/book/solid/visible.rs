//! What of each body can be seen.

use super::view::{Block, Side, View};
use clipper2_rust::{area_paths, difference_64, union_subjects_64, FillRule, Path64, Paths64, Point64};
use std::cell::OnceCell;
use std::collections::BTreeMap;

/// Seen pieces smaller than this many paper steps squared are rounding: 0.1 mm² of the bay.
const SPECK: f64 = 900_000.0;

/// A seen piece of a body's side.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    /// Which body.
    pub(super) body: usize,
    /// Which way it faces.
    pub(super) side: Side,
    /// Its outline and the holes in it, on paper.
    pub(super) paths: Paths64,
}

/// Bounds on paper across the three directions that all edges have: exact for the outline of a box and of its sides.
#[derive(Clone, Copy, Debug)]
struct Bounds([[i64; 2]; 3]);

impl Bounds {
    fn of<'a>(points: impl IntoIterator<Item = &'a Point64>) -> Self {
        points.into_iter().fold(Self([[i64::MAX, i64::MIN]; 3]), |Self(around), p| {
            let across = View::across_edges(p);
            Self([0, 1, 2].map(|i| [around[i][0].min(across[i]), around[i][1].max(across[i])]))
        })
    }

    fn around(all: impl IntoIterator<Item = Self>) -> Self {
        all.into_iter().fold(Self([[i64::MAX, i64::MIN]; 3]), |Self(a), Self(b)| {
            Self([0, 1, 2].map(|i| [a[i][0].min(b[i][0]), a[i][1].max(b[i][1])]))
        })
    }

    fn is_apart(&self, other: &Self) -> bool {
        self.0.iter().zip(&other.0).any(|(a, b)| a[0] >= b[1] || b[0] >= a[1])
    }

    /// Whether they share room or border.
    fn touches(&self, other: &Self) -> bool {
        self.0.iter().zip(&other.0).all(|(a, b)| a[0] <= b[1] && b[0] <= a[1])
    }

    fn holds(&self, other: &Self) -> bool {
        self.0.iter().zip(&other.0).all(|(a, b)| a[0] <= b[0] && a[1] >= b[1])
    }
}

struct Solid {
    blocks: Vec<Block>,
    outlines: Vec<(Path64, Bounds)>,
    hull: Block,
    /// The outline of all boxes, worked out when it is asked for.
    shape: OnceCell<Paths64>,
    bounds: Bounds,
}

impl Solid {
    fn new(blocks: Vec<Block>, view: View) -> Option<Self> {
        let hull = blocks.iter().copied().reduce(|a, b| Block {
            min: [0, 1, 2].map(|i| a.min[i].min(b.min[i])),
            max: [0, 1, 2].map(|i| a.max[i].max(b.max[i])),
        })?;
        let outlines: Vec<(Path64, Bounds)> = blocks
            .iter()
            .map(|b| {
                let path = b.outline(view);
                let around = Bounds::of(&path);
                (path, around)
            })
            .collect();
        let bounds = Bounds::around(outlines.iter().map(|(_, room)| *room));
        Some(Self { blocks, outlines, hull, shape: OnceCell::new(), bounds })
    }

    fn shape(&self) -> &Paths64 {
        self.shape.get_or_init(|| {
            let all: Paths64 = self.outlines.iter().map(|(path, _)| path.clone()).collect();
            union_subjects_64(&all, FillRule::NonZero)
        })
    }
}

/// A body's outline is cut out whole when more of its boxes than this are in the way; else its boxes one by one.
const WHOLE: usize = 6;

/// Bodies as they stand before a viewer.
pub(super) struct Bodies {
    solids: Vec<Option<Solid>>,
    view: View,
}

impl Bodies {
    /// Bodies given as their boxes; boxes may touch but not share room.
    pub(super) fn new(bodies: &[Vec<Block>], view: View) -> Self {
        Self { solids: bodies.iter().map(|blocks| Solid::new(blocks.clone(), view)).collect(), view }
    }

    /// The seen pieces of all bodies.
    pub(super) fn pieces(&self) -> Vec<Piece> {
        (0..self.solids.len()).flat_map(|body| self.of(body)).collect()
    }

    /// The seen pieces of one body.
    pub(super) fn of(&self, body: usize) -> Vec<Piece> {
        let Some(solid) = &self.solids[body] else { return Vec::new() };
        let mut planes: BTreeMap<(Side, i64), Paths64> = BTreeMap::new();
        for block in &solid.blocks {
            for side in Side::ALL {
                planes.entry((side, block.plane(side, self.view))).or_default().push(block.face(side, self.view));
            }
        }
        let seen = planes.into_iter().filter_map(|((side, plane), faces)| {
            let paths = self.seen(side, plane, faces)?;
            Some(Piece { body, side, paths })
        });
        seen.collect()
    }

    /// What is seen of the faces in one plane.
    fn seen(&self, side: Side, plane: i64, faces: Paths64) -> Option<Paths64> {
        let mut groups: Vec<Group> = Vec::new();
        for face in faces {
            let room = Bounds::of(&face);
            if !self.is_hidden(side, plane, &room) {
                Group::add(&mut groups, face, room);
            }
        }
        let left: Paths64 = groups.into_iter().flat_map(|group| self.left(side, plane, group)).collect();
        (area_paths(&left) > SPECK).then_some(left)
    }

    /// Whether one box alone hides a face; most of what is hidden is hidden so.
    fn is_hidden(&self, side: Side, plane: i64, face: &Bounds) -> bool {
        self.solids.iter().flatten().filter(|s| s.bounds.holds(face)).any(|s| {
            let mut boxes = s.outlines.iter().zip(&s.blocks);
            boxes.any(|((_, room), block)| room.holds(face) && block.is_before(side, plane, self.view))
        })
    }

    /// What is left of faces that hang together when all that stands before them is cut out.
    fn left(&self, side: Side, plane: i64, group: Group) -> Paths64 {
        let view = self.view;
        let Group { faces, rooms } = group;
        let is_hit = |room: &Bounds| rooms.iter().any(|own| !room.is_apart(own));
        let mut before = Paths64::new();
        for other in self.solids.iter().flatten().filter(|s| is_hit(&s.bounds)) {
            let hull_before = other.hull.is_before(side, plane, view);
            let hits = || other.outlines.iter().zip(&other.blocks).filter(|((_, room), _)| is_hit(room));
            if hull_before && hits().nth(WHOLE).is_some() {
                before.extend(other.shape().iter().cloned());
                continue;
            }
            for ((outline, _), block) in hits() {
                if block.is_before(side, plane, view) {
                    before.push(outline.clone());
                } else if let Some(cut) = block.before(side, plane, view) {
                    before.push(cut.outline(view));
                }
            }
        }
        cleaned(match (before.is_empty(), faces.len()) {
            (true, 1) => faces,
            (true, _) => union_subjects_64(&faces, FillRule::NonZero),
            (false, _) => difference_64(&faces, &before, FillRule::NonZero),
        })
    }
}

/// Faces in one plane that touch, so that no line is drawn between them.
struct Group {
    faces: Paths64,
    rooms: Vec<Bounds>,
}

impl Group {
    /// Puts a face to those it touches; groups that it joins become one.
    fn add(groups: &mut Vec<Self>, face: Path64, room: Bounds) {
        let mut joined = Self { faces: vec![face], rooms: vec![room] };
        let mut k = 0;
        while k < groups.len() {
            if groups[k].rooms.iter().any(|own| own.touches(&room)) {
                let group = groups.remove(k);
                joined.faces.extend(group.faces);
                joined.rooms.extend(group.rooms);
            } else {
                k += 1;
            }
        }
        groups.push(joined);
    }
}

/// Without specks, and without points in the middle of a straight line.
fn cleaned(paths: Paths64) -> Paths64 {
    let straight = |path: Path64| -> Path64 {
        let count = path.len();
        let bends = |i: &usize| {
            let (a, b, c) = (path[(i + count - 1) % count], path[*i], path[(i + 1) % count]);
            (b.x - a.x) * (c.y - b.y) != (b.y - a.y) * (c.x - b.x)
        };
        (0..count).filter(bends).map(|i| path[i]).collect()
    };
    paths.into_iter().filter(|path| clipper2_rust::area(path).abs() > SPECK).map(straight).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cube(at: [i64; 3], size: [i64; 3]) -> Block {
        let s = |i: usize| (at[i] * 100, (at[i] + size[i]) * 100);
        Block { min: [s(0).0, s(1).0, s(2).0], max: [s(0).1, s(1).1, s(2).1] }
    }

    fn pieces(bodies: &[Vec<Block>], view: View) -> Vec<Piece> {
        Bodies::new(bodies, view).pieces()
    }

    fn area(pieces: &[Piece], body: usize) -> f64 {
        pieces.iter().filter(|p| p.body == body).map(|p| area_paths(&p.paths)).sum()
    }

    /// A side of 1 mm by 1 mm on paper: 26 * 2 * 15 * 100 * 100 for the level one, 26 * 30 * 100 * 100 for the upright ones.
    const UNIT: f64 = 7_800_000.0;

    #[test]
    fn a_box_alone_shows_three_sides_whole() {
        let pieces = pieces(&[vec![cube([0, 0, 0], [10, 20, 30])]], View::USUAL);
        assert_eq!(pieces.len(), 3);
        assert_eq!(area(&pieces, 0), UNIT * (10.0 * 20.0 + 10.0 * 30.0 + 20.0 * 30.0));
    }

    #[test]
    fn what_stands_behind_is_not_drawn_through() {
        // A board behind a larger one, and one half behind it.
        let front = cube([0, 0, 0], [100, 10, 100]);
        let hidden = cube([30, 11, 0], [20, 1, 50]);
        let found = pieces(&[vec![front], vec![hidden]], View::USUAL);
        assert_eq!(area(&found, 1), 0.0);
        assert_eq!(found.len(), 3);
        // Seen from the rear it stands in front.
        let view = View { rear: true, ..View::USUAL };
        let bay = |b: &Block| {
            let p = |c: [i64; 3]| crate::geom::Point3::new(c[0] as f64 / 100.0, c[1] as f64 / 100.0, c[2] as f64 / 100.0);
            view.block(&crate::geom::Box3 { min: p(b.min), max: p(b.max) })
        };
        let found = pieces(&[vec![bay(&front)], vec![bay(&hidden)]], view);
        assert_eq!(area(&found, 1), UNIT * (20.0 * 50.0 + 20.0 + 50.0));
    }

    /// Three bars that lie over each other in a ring have no order in which they could be painted.
    #[test]
    fn bars_that_lock_into_a_ring_are_drawn_right() {
        let bars = [cube([0, 0, 0], [30, 10, 10]), cube([20, 0, 10], [10, 30, 10]), cube([0, 20, 0], [10, 10, 30])];
        let found = pieces(&bars.map(|b| vec![b]), View::USUAL);
        let whole = |s: [f64; 3]| UNIT * (s[0] * s[1] + s[0] * s[2] + s[1] * s[2]);
        let total = whole([30.0, 10.0, 10.0]) + whole([10.0, 30.0, 10.0]) + whole([10.0, 10.0, 30.0]);
        let seen: f64 = (0..3).map(|i| area(&found, i)).sum();
        assert!(seen < total && seen > total * 0.7, "{seen} of {total}");
        // No two seen pieces share paper.
        let all: Paths64 = found.iter().flat_map(|p| p.paths.clone()).collect();
        let union = area_paths(&union_subjects_64(&all, FillRule::NonZero));
        assert!((union - seen).abs() < 1.0, "{union} {seen}");
    }

    #[test]
    fn boxes_of_one_body_make_one_side_without_a_line_between() {
        let found = pieces(&[vec![cube([0, 0, 0], [10, 10, 10]), cube([10, 0, 0], [10, 10, 10])]], View::USUAL);
        assert_eq!(found.len(), 3);
        assert!(found.iter().all(|p| p.paths.len() == 1 && p.paths[0].len() == 4), "{found:?}");
    }
}
