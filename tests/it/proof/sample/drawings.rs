//! The hand-written pack's drawings.

use super::{Flavour, Vertices};
use std::fmt::Write as _;

pub(super) fn dxf(flavour: Flavour, contours: &[(String, Vertices)], size: (f64, f64)) -> String {
    let mut out = String::new();
    let mut pair = |code: u32, value: &str| writeln!(out, "{code:>3}\r\n{value}\r").unwrap();
    let number = |mm: f64| format!("{:.6}", mm / flavour.unit());
    for line in flavour.heading("finished edge") {
        pair(999, &line);
    }
    for (code, value) in
        [(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, if flavour.release_12 { "AC1009" } else { "AC1015" })]
    {
        pair(code, value);
    }
    if !flavour.release_12 {
        pair(9, "$INSUNITS");
        pair(70, if flavour.inches { "1" } else { "4" });
    }
    for (name, x, y) in [("$EXTMIN", 0.0, 0.0), ("$EXTMAX", size.0, size.1)] {
        pair(9, name);
        pair(10, &number(x));
        pair(20, &number(y));
    }
    for (code, value) in [(0, "ENDSEC"), (0, "SECTION"), (2, "ENTITIES")] {
        pair(code, value);
    }
    for (layer, vertices) in contours {
        if layer.contains("DRILL") {
            pair(0, "CIRCLE");
            pair(8, layer);
            pair(10, &number(f64::midpoint(vertices[0][0], vertices[1][0])));
            pair(20, &number(f64::midpoint(vertices[0][1], vertices[1][1])));
            pair(40, &number((vertices[1][0] - vertices[0][0]).hypot(vertices[1][1] - vertices[0][1]) / 2.0));
            continue;
        }
        pair(0, if flavour.release_12 { "POLYLINE" } else { "LWPOLYLINE" });
        pair(8, layer);
        if flavour.release_12 {
            pair(66, "1");
        } else {
            pair(90, &vertices.len().to_string());
        }
        pair(70, "1");
        for [x, y, bulge] in vertices {
            if flavour.release_12 {
                pair(0, "VERTEX");
                pair(8, layer);
            }
            pair(10, &number(*x));
            pair(20, &number(*y));
            if *bulge != 0.0 {
                pair(42, &format!("{bulge:.12}"));
            }
        }
        if flavour.release_12 {
            pair(0, "SEQEND");
        }
    }
    pair(0, "ENDSEC");
    pair(0, "EOF");
    out
}

pub(super) fn svg(flavour: Flavour, contours: &[(String, Vertices)], size: (f64, f64)) -> String {
    let n = |mm: f64| format!("{:.6}", mm / flavour.unit());
    let (w, h, u) = (n(size.0), n(size.1), flavour.word());
    let mut out =
        format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}{u}\" height=\"{h}{u}\" viewBox=\"0 0 {w} {h}\">\n");
    writeln!(out, "<desc>{}</desc>", flavour.heading("finished edge").join("\n")).unwrap();
    for (layer, v) in contours {
        let at = |p: [f64; 3]| format!("{} {}", n(p[0]), n(size.1 - p[1]));
        write!(out, "<g data-layer=\"{layer}\"><path fill=\"none\" d=\"M{}", at(v[0])).unwrap();
        for i in 0..v.len() {
            let (a, b) = (v[i], v[(i + 1) % v.len()]);
            if a[2] == 0.0 {
                write!(out, " L{}", at(b)).unwrap();
            } else {
                let r = (b[0] - a[0]).hypot(b[1] - a[1]) * (1.0 + a[2] * a[2]) / (4.0 * a[2].abs());
                write!(out, " A{0} {0} 0 0 {1} {2}", n(r), i32::from(a[2] < 0.0), at(b)).unwrap();
            }
        }
        out.push_str(" Z\"/></g>\n");
    }
    out.push_str("</svg>\n");
    out
}
