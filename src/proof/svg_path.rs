//! Path data of SVG: closed subpaths of M, L, H, V, A and Z in absolute coordinates, exact arcs (SVG 1.1, section 8.3 and F.6).

use super::limits;
use super::shape::{Corner, Pt, Ring};

/// The closed subpaths of a path's data, as written: y down, in units of the view box.
pub(super) fn rings(data: &str) -> Result<Vec<Ring>, String> {
    let mut scan = Scan { rest: data };
    let mut rings = Vec::new();
    let mut open: Option<(Vec<Corner>, Pt)> = None;
    let mut command = None;
    loop {
        scan.separators();
        if scan.rest.is_empty() {
            break;
        }
        let letter = scan.rest.chars().next().filter(char::is_ascii_alphabetic);
        if let Some(letter) = letter {
            scan.rest = &scan.rest[1..];
            command = Some(letter);
        }
        match (command, open.as_mut()) {
            (Some('M'), None) => {
                let at = scan.point()?;
                open = Some((Vec::new(), at));
                // Further pairs after a move are lines.
                command = Some('L');
            }
            (Some('M'), Some(_)) => return Err("a subpath is not closed by Z".to_owned()),
            (Some('Z'), Some((corners, at))) if letter.is_some() => {
                corners.push(Corner { at: *at, bulge: 0.0 });
                let corners = std::mem::take(corners);
                rings.push(close(corners));
                open = None;
            }
            (Some('L'), Some((corners, at))) => step(corners, at, scan.point()?, 0.0),
            (Some('H'), Some((corners, at))) => {
                let to = Pt::new(scan.number()?, at.y);
                step(corners, at, to, 0.0);
            }
            (Some('V'), Some((corners, at))) => {
                let to = Pt::new(at.x, scan.number()?);
                step(corners, at, to, 0.0);
            }
            (Some('A'), Some((corners, at))) => arc(&mut scan, corners, at)?,
            (Some(c), _) => return Err(format!("path command {c} does not belong here")),
            (None, _) => return Err("path data without a command".to_owned()),
        }
    }
    if open.is_some() {
        return Err("a subpath is not closed by Z".to_owned());
    }
    if rings.is_empty() {
        return Err("a path without a contour".to_owned());
    }
    Ok(rings)
}

fn step(corners: &mut Vec<Corner>, at: &mut Pt, to: Pt, bulge: f64) {
    corners.push(Corner { at: *at, bulge });
    *at = to;
}

/// A subpath that came back to its start before Z has no closing line.
fn close(mut corners: Vec<Corner>) -> Ring {
    if let (Some(first), Some(last)) = (corners.first(), corners.last()) {
        if corners.len() > 1 && first.at.distance(last.at) < limits::SAME_POINT {
            corners.pop();
        }
    }
    Ring(corners)
}

/// An elliptical arc with equal radii, as bulges of at most a half turn.
fn arc(scan: &mut Scan<'_>, corners: &mut Vec<Corner>, at: &mut Pt) -> Result<(), String> {
    let (rx, ry) = (scan.number()?, scan.number()?);
    scan.number()?;
    let (large, clockwise_on_page) = (scan.flag()?, scan.flag()?);
    let to = scan.point()?;
    if rx <= 0.0 || (rx - ry).abs() > limits::ROUNDING {
        return Err(format!("an arc with radii {rx} and {ry}: only circles are cut"));
    }
    let half = at.distance(to) / 2.0;
    if half < limits::SAME_POINT / 2.0 {
        return Err("an arc that ends where it starts".to_owned());
    }
    // F.6.6: a radius too small is widened to fit; more than rounding is a fault here.
    if half > rx + limits::SAME_VERTEX {
        return Err(format!("an arc of radius {rx} between ends {:.4} apart", 2.0 * half));
    }
    let short = 2.0 * (half / rx.max(half)).asin();
    let size = if large { std::f64::consts::TAU - short } else { short };
    // The sweep flag turns towards positive angles, which in the page's own axes keeps the sign of a bulge.
    let sweep = if clockwise_on_page { size } else { -size };
    if size <= std::f64::consts::PI + limits::STRAIGHT_BULGE {
        step(corners, at, to, (sweep / 4.0).tan());
        return Ok(());
    }
    let whole = super::shape::Arc::of(*at, to, (sweep / 4.0).tan());
    let middle = whole.at(0.5);
    step(corners, at, middle, (sweep / 8.0).tan());
    step(corners, at, to, (sweep / 8.0).tan());
    Ok(())
}

struct Scan<'a> {
    rest: &'a str,
}

impl Scan<'_> {
    fn separators(&mut self) {
        self.rest = self.rest.trim_start_matches([' ', '\t', '\n', '\r', ',']);
    }

    fn number(&mut self) -> Result<f64, String> {
        self.separators();
        let bytes = self.rest.as_bytes();
        let mut end = usize::from(bytes.first().is_some_and(|b| matches!(b, b'+' | b'-')));
        let mut point = false;
        while let Some(b) = bytes.get(end) {
            if *b == b'.' && !point {
                point = true;
            } else if !b.is_ascii_digit() {
                break;
            }
            end += 1;
        }
        let (text, rest) = self.rest.split_at(end);
        let value = text.parse::<f64>().ok().filter(|v| v.abs() <= limits::COORDINATE);
        let value = value.ok_or(format!("{} is not a usable number", super::fault::quoted(self.rest)))?;
        if rest.starts_with(['e', 'E']) {
            return Err(format!("number {text} with an exponent"));
        }
        self.rest = rest;
        Ok(value)
    }

    fn flag(&mut self) -> Result<bool, String> {
        self.separators();
        let flag = match self.rest.as_bytes().first() {
            Some(b'0') => false,
            Some(b'1') => true,
            _ => return Err("an arc flag that is neither 0 nor 1".to_owned()),
        };
        self.rest = &self.rest[1..];
        Ok(flag)
    }

    fn point(&mut self) -> Result<Pt, String> {
        Ok(Pt::new(self.number()?, self.number()?))
    }
}
