//! Loose lines and arcs joined to closed outlines by their ends.

use super::DrawingFault;
use crate::geom::tolerance::DRAWING_JOINT;
use crate::geom::Vertex;

/// A run of vertices, each with the bulge of the stretch to the next; that of the last is of the stretch back to the first.
#[derive(Clone, Debug)]
pub(super) struct Chain {
    pub(super) vertices: Vec<Vertex>,
    pub(super) closed: bool,
}

impl Chain {
    /// An arc from its centre, turning counter-clockwise between two angles in radians; of a half turn at most in each piece.
    pub(super) fn arc(centre: [f64; 2], radius: f64, from: f64, to: f64) -> Self {
        let mut sweep = (to - from).rem_euclid(std::f64::consts::TAU);
        let whole = sweep < TINY_SWEEP;
        if whole {
            sweep = std::f64::consts::TAU;
        }
        let bulge = (sweep / 2.0 / 4.0).tan();
        let at = |angle: f64, bulge: f64| Vertex {
            x: centre[0] + radius * angle.cos(),
            y: centre[1] + radius * angle.sin(),
            bulge,
        };
        let mut vertices = vec![at(from, bulge), at(from + sweep / 2.0, bulge)];
        if !whole {
            vertices.push(at(from + sweep, 0.0));
        }
        Self { vertices, closed: whole }
    }

    fn reversed(&self) -> Self {
        let count = self.vertices.len();
        let vertices = (0..count)
            .rev()
            .map(|i| {
                let bulge = if i == 0 { 0.0 } else { -self.vertices[i - 1].bulge };
                Vertex { bulge, ..self.vertices[i] }
            })
            .collect();
        Self { vertices, closed: self.closed }
    }

    fn ends(&self) -> Option<(Vertex, Vertex)> {
        Some((*self.vertices.first()?, *self.vertices.last()?))
    }
}

/// A sweep below this, in radians, is a whole turn: arcs that end where they begin are written as circles.
const TINY_SWEEP: f64 = 1e-9;

fn near(a: Vertex, b: Vertex) -> bool {
    (a.x - b.x).hypot(a.y - b.y) <= DRAWING_JOINT
}

/// Joins what is open until every chain is closed; one that stays open is a fault with the place of its end.
pub(super) fn close(chains: Vec<Chain>) -> Result<Vec<Vec<Vertex>>, DrawingFault> {
    let (mut done, mut open): (Vec<Chain>, Vec<Chain>) = chains.into_iter().partition(|c| c.closed);
    open.retain(|c| c.vertices.len() > 1);
    while let Some(mut chain) = open.pop() {
        while let Some((first, last)) = chain.ends() {
            if chain.vertices.len() > 2 && near(first, last) {
                chain.vertices.pop();
                chain.closed = true;
                break;
            }
            let next = open.iter().enumerate().find_map(|(i, c)| {
                let (from, to) = c.ends()?;
                if near(last, from) {
                    Some((i, false))
                } else if near(last, to) {
                    Some((i, true))
                } else {
                    None
                }
            });
            let Some((i, backwards)) = next else { break };
            let other = open.remove(i);
            let other = if backwards { other.reversed() } else { other };
            chain.vertices.pop();
            chain.vertices.extend(other.vertices);
        }
        if !chain.closed {
            let at = chain.vertices.last().map_or([0.0; 2], |v| [v.x, v.y]);
            return Err(DrawingFault::new(
                format!("a line of it ends at {:.2}, {:.2} and nothing goes on from there", at[0], at[1]),
                "close the outline: each end must meet the next",
            ));
        }
        done.push(chain);
    }
    Ok(done.iter().map(halved).collect())
}

/// A closed chain's vertices with every arc over a half turn as two.
fn halved(chain: &Chain) -> Vec<Vertex> {
    let next = chain.vertices.iter().cycle().skip(1);
    chain
        .vertices
        .iter()
        .zip(next)
        .flat_map(|(v, to)| {
            if v.bulge.abs() <= 1.0 {
                return vec![*v];
            }
            let bulge = (v.bulge.atan() / 2.0).tan();
            // The arc's middle stands off its chord by bulge x half the chord, to the right of its way when it turns left.
            let (dx, dy) = (to.x - v.x, to.y - v.y);
            let x = f64::midpoint(v.x, to.x) + dy * v.bulge / 2.0;
            let y = f64::midpoint(v.y, to.y) - dx * v.bulge / 2.0;
            vec![Vertex { bulge, ..*v }, Vertex { x, y, bulge }]
        })
        .collect()
}
