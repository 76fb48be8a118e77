//! The hand-written pack's programs.

use super::{Flavour, Placement, PINS, PLACED, R, SHEET, THROUGH, TOP};
use std::fmt::Write as _;

/// Writes a program, placement by placement.
struct Cam {
    out: String,
    flavour: Flavour,
    placement: Placement,
    second: bool,
    at: (f64, f64),
}

impl Cam {
    fn new(flavour: Flavour, second: bool) -> Self {
        let mut cam = Self { out: String::new(), flavour, placement: PLACED[0], second, at: (0.0, 0.0) };
        for line in flavour.heading("tool centre") {
            writeln!(cam.out, "({line})").unwrap();
        }
        writeln!(cam.out, "(cutter: cutter 6)").unwrap();
        let units = if flavour.inches { "G20" } else { "G21" };
        writeln!(cam.out, "{units} G17 G90 G94\nG40 G49 G80 G54\nG0 Z{}\nT1 M6\nS18000 M3\nG4 P5", cam.z(25.0)).unwrap();
        cam
    }

    fn number(&self, mm: f64) -> String {
        format!("{:.*}", if self.flavour.inches { 5 } else { 4 }, mm / self.flavour.unit())
    }

    fn z(&self, height: f64) -> String {
        self.number(if self.flavour.sheet_top { height - TOP } else { height })
    }

    fn xy(&self, p: (f64, f64)) -> (f64, f64) {
        let (x, y) = self.placement.at(p.0, p.1);
        (x, if self.second { SHEET.1 - y } else { y })
    }

    fn feed(&self, mm: f64) -> String {
        self.number(mm)
    }

    fn say(&mut self, feature: &str) {
        writeln!(self.out, "(P-1.{} {feature})", self.placement.copy).unwrap();
    }

    fn over(&mut self, p: (f64, f64)) {
        let (x, y) = self.xy(p);
        let line = format!("G0 X{} Y{}", self.number(x), self.number(y));
        writeln!(self.out, "{line}").unwrap();
        self.at = p;
    }

    fn down(&mut self, height: f64) {
        let line = format!("G1 Z{} F{}", self.z(height), self.feed(500.0));
        writeln!(self.out, "{line}").unwrap();
    }

    fn up(&mut self) {
        let line = format!("G0 Z{}", self.z(25.0));
        writeln!(self.out, "{line}").unwrap();
    }

    fn to(&mut self, p: (f64, f64)) {
        let (x, y) = self.xy(p);
        let line = format!("G1 X{} Y{} F{}", self.number(x), self.number(y), self.feed(3000.0));
        writeln!(self.out, "{line}").unwrap();
        self.at = p;
    }

    /// Counter-clockwise in the part's frame.
    fn arc(&mut self, p: (f64, f64), centre: (f64, f64)) {
        let ((x, y), (cx, cy), (ax, ay)) = (self.xy(p), self.xy(centre), self.xy(self.at));
        let word = if self.second { "G2" } else { "G3" };
        let line =
            format!("{word} X{} Y{} I{} J{}", self.number(x), self.number(y), self.number(cx - ax), self.number(cy - ay));
        writeln!(self.out, "{line}").unwrap();
        self.at = p;
    }

    /// Along a rectangle with round corners, from the middle of its lower side, at a height; lifted over tabs.
    fn lap(&mut self, x0: f64, y0: f64, x1: f64, y1: f64, r: f64, tabs: Option<f64>) {
        let mid = (f64::midpoint(x0, x1), f64::midpoint(y0, y1));
        let sides = [((x1 - r, y0), (x1, y0 + r), (x1 - r, y0 + r)), ((x1, y1 - r), (x1 - r, y1), (x1 - r, y1 - r))];
        let more = [((x0 + r, y1), (x0, y1 - r), (x0 + r, y1 - r)), ((x0, y0 + r), (x0 + r, y0), (x0 + r, y0 + r))];
        for (end, after, centre) in sides.into_iter().chain(more) {
            if let Some(floor) = tabs {
                let (dx, dy) = (end.0 - self.at.0, end.1 - self.at.1);
                let length = dx.hypot(dy);
                let along = |s: f64, from: (f64, f64)| (from.0 + dx / length * s, from.1 + dy / length * s);
                let from = self.at;
                self.to(along(50.0, from));
                self.down(5.0);
                self.to(along(64.0, from));
                self.down(floor);
            }
            self.to(end);
            self.arc(after, centre);
        }
        self.to((mid.0, y0));
    }

    fn end(mut self) -> String {
        writeln!(self.out, "M5\nG0 X0.0 Y0.0\nM30").unwrap();
        self.out
    }
}

pub(super) fn second_side(flavour: Flavour) -> String {
    let mut cam = Cam::new(flavour, true);
    for (x, y) in PINS {
        // Places on the table, 6 mm across: the cutter's own width.
        writeln!(cam.out, "(registration hole)\nG0 X{} Y{}", cam.number(x), cam.number(y)).unwrap();
        cam.down(THROUGH);
        cam.up();
    }
    for p in PLACED {
        cam.placement = p;
        cam.say("under");
        pocket(&mut cam, 100.0, 20.0, 140.0, 40.0, TOP - 4.0);
    }
    cam.end()
}

/// Clears a rectangle in strips.
fn pocket(cam: &mut Cam, x0: f64, y0: f64, x1: f64, y1: f64, floor: f64) {
    cam.over((x0 + R, y0 + R));
    cam.down(floor);
    let mut y = y0 + R;
    while y < y1 - R {
        cam.to((x1 - R, y));
        cam.to((x0 + R, y));
        y = (y + 4.0).min(y1 - R);
        cam.to((x0 + R, y));
    }
    cam.to((x1 - R, y1 - R));
    cam.to((x1 - R, y0 + R));
    cam.up();
}

pub(super) fn first_side(flavour: Flavour) -> String {
    let mut cam = Cam::new(flavour, false);
    for p in PLACED {
        cam.placement = p;
        cam.say("pin");
        cam.over((10.0, 100.0));
        let (x, y) = cam.xy((20.0, 100.0));
        let line = format!(
            "G98 G81 X{} Y{} Z{} R{} F{}",
            cam.number(x),
            cam.number(y),
            cam.z(THROUGH),
            cam.z(17.0),
            cam.feed(600.0)
        );
        writeln!(cam.out, "{line}").unwrap();
        cam.say("pilot");
        let (x, y) = cam.xy((270.0, 30.0));
        let line = format!(
            "G83 X{} Y{} Z{} R{} Q{}",
            cam.number(x),
            cam.number(y),
            cam.z(TOP - 10.0),
            cam.z(17.0),
            cam.number(4.0)
        );
        writeln!(cam.out, "{line}\nG80").unwrap();
        cam.say("hole");
        cam.over((42.0, 40.0));
        for z in [8.0, THROUGH] {
            cam.down(z);
            cam.arc((38.0, 40.0), (40.0, 40.0));
            cam.arc((42.0, 40.0), (40.0, 40.0));
        }
        cam.up();
        cam.say("groove");
        pocket(&mut cam, 40.0, 80.0, 60.0, 180.0, TOP - 6.0);
        cam.say("slot");
        cam.over((103.0, 103.0));
        for z in [8.0, THROUGH] {
            cam.down(z);
            for p in [
                (103.0, 100.0),
                (103.0, 115.2),
                (103.0, 112.2),
                (127.0, 112.2),
                (127.0, 115.2),
                (127.0, 100.0),
                (127.0, 103.0),
                (103.0, 103.0),
            ] {
                cam.to(p);
            }
        }
        cam.up();
        cam.say("window");
        cam.over((220.0, 63.0));
        for z in [8.0, THROUGH] {
            cam.down(z);
            cam.lap(183.0, 63.0, 257.0, 117.0, 2.0, None);
        }
        cam.up();
    }
    for p in PLACED {
        cam.placement = p;
        cam.say("outline");
        cam.over((150.0, -3.0));
        for z in [10.0, 5.0] {
            cam.down(z);
            cam.lap(-3.0, -3.0, 303.0, 203.0, 13.0, None);
        }
        cam.down(THROUGH);
        cam.lap(-3.0, -3.0, 303.0, 203.0, 13.0, Some(THROUGH));
        cam.up();
    }
    cam.end()
}
