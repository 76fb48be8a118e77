//! Good packs spoilt one way at a time: every kind must be caught by the rule that is about it.

use super::sample::{pack, Files, Flavour, PLAIN};
use baywright::proof::prove;
use serde_json::Value;

const FIRST: &str = "gcode/panel-01-2-cutter-6.nc";
const SECOND: &str = "gcode/panel-01-1-cutter-6.nc";
const PART_DXF: &str = "parts/P-1.dxf";
const PART_SVG: &str = "parts/P-1.svg";
const SHEET_DXF: &str = "sheets/panel-01.dxf";
const SHEET_SVG: &str = "sheets/panel-01.svg";

/// Changes a file's text; the change must be one.
fn edit(files: &mut Files, name: &str, change: impl FnOnce(&str) -> String) {
    let text = String::from_utf8(files[name].clone()).unwrap();
    let changed = change(&text);
    assert!(text != changed, "{name} was not changed");
    files.insert(name.to_owned(), changed.into_bytes());
}

fn swap(files: &mut Files, name: &str, from: &str, to: &str) {
    edit(files, name, |text| text.replacen(from, to, 1));
}

/// Changes the first line that contains `from` after the line that contains `marker`.
fn after(files: &mut Files, name: &str, marker: &str, from: &str, to: &str) {
    edit(files, name, |text| {
        let at = text.find(marker).unwrap_or_else(|| panic!("no {marker}"));
        text[..at].to_owned() + &text[at..].replacen(from, to, 1)
    });
}

/// Drops the nth line after a marker.
fn drop_line(files: &mut Files, name: &str, marker: &str, nth: usize) {
    edit(files, name, |text| {
        let mut lines: Vec<&str> = text.lines().collect();
        let at = lines.iter().position(|l| l.contains(marker)).unwrap();
        lines.remove(at + nth);
        lines.join("\n") + "\n"
    });
}

/// Changes the job's data.
fn job(files: &mut Files, change: impl FnOnce(&mut Value)) {
    let mut data: Value = serde_json::from_slice(&files["job.json"]).unwrap();
    change(&mut data);
    files.insert("job.json".into(), serde_json::to_vec(&data).unwrap());
}

/// Gives the part's contour of this index a bay between its edge, where the first corner lies, and the second corner.
fn bay(files: &mut Files, index: usize, [at, to]: [(f64, f64); 2]) {
    job(files, |j| {
        let vertices = j["parts"][0]["contours"][index]["vertices"].as_array_mut().unwrap();
        let along_x = (to.0 - at.0).abs() < (to.1 - at.1).abs();
        let last = if along_x { (to.0, at.1) } else { (at.0, to.1) };
        let first = if along_x { (at.0, to.1) } else { (to.0, at.1) };
        // After the vertex that the edge with the bay starts from.
        let edge = (0..vertices.len()).find(|k| {
            let (p, q) = (&vertices[*k], &vertices[(*k + 1) % vertices.len()]);
            let (axis, level) = if along_x { (1, at.1) } else { (0, at.0) };
            p[axis].as_f64() == Some(level) && q[axis].as_f64() == Some(level)
        });
        for (k, (x, y)) in [at, first, to, last].into_iter().enumerate() {
            vertices.insert(edge.unwrap() + 1 + k, serde_json::json!([x, y, 0.0]));
        }
    });
}

fn mirror_x(text: &str) -> String {
    // Every x of every motion line, about the middle of the sheet.
    let turn = |line: &str| match line.split_once('X') {
        Some((head, rest)) if line.starts_with('G') => {
            let end = rest.find(' ').unwrap_or(rest.len());
            let x: f64 = rest[..end].parse().unwrap();
            let mut line = format!("{head}X{:.4}{}", 600.0 - x, &rest[end..]);
            if let Some((head, rest)) = line.clone().split_once(" I") {
                let end = rest.find(' ').unwrap();
                line = format!("{head} I{:.4}{}", -rest[..end].parse::<f64>().unwrap(), &rest[end..]);
            }
            line.replace("G3 ", "G9 ").replace("G2 ", "G3 ").replace("G9 ", "G2 ")
        }
        _ => line.to_owned(),
    };
    text.lines().map(|l| turn(l) + "\n").collect()
}

type Spoil = (&'static str, &'static str, fn(&mut Files));

const KINDS: &[Spoil] = &[
    ("a coordinate in a part's DXF", "proof-drawing-differs", |f| swap(f, PART_DXF, "\r\n290.000000", "\r\n290.010000")),
    ("a coordinate in a part's SVG", "proof-drawing-differs", |f| swap(f, PART_SVG, "L290.000000", "L290.010000")),
    ("a coordinate in a sheet's DXF", "proof-sheet-differs", |f| swap(f, SHEET_DXF, "\r\n310.000000", "\r\n310.010000")),
    ("a coordinate in a sheet's SVG", "proof-sheet-differs", |f| swap(f, SHEET_SVG, "L310.000000", "L310.010000")),
    ("a bulge", "proof-drawing-differs", |f| swap(f, PART_DXF, "0.414213562373", "0.314213562373")),
    ("a bulge turned over", "proof-drawing-differs", |f| swap(f, PART_DXF, " 42\r\n0.", " 42\r\n-0.")),
    ("a radius of a circle", "proof-drawing-differs", |f| swap(f, PART_DXF, " 40\r\n5.000000", " 40\r\n5.100000")),
    ("an arc of an SVG turned over", "proof-drawing-differs", |f| {
        swap(f, PART_SVG, "A5.000000 5.000000 0 0 0 255", "A5.000000 5.000000 0 0 1 255");
    }),
    ("layers swapped in a DXF", "proof-drawing-differs", |f| {
        swap(f, PART_DXF, "  8\r\nTHROUGH-INSIDE", "  8\r\nPOCKET-6-00-DEEP");
    }),
    ("layers swapped in an SVG", "proof-sheet-differs", |f| {
        swap(f, SHEET_SVG, "\"DRILL-10-00-THROUGH\"", "\"DRILL-6-00-THROUGH\"");
    }),
    ("layers swapped in job and files", "proof-layer-wrong", |f| {
        for name in ["job.json", PART_DXF, PART_SVG, SHEET_DXF, SHEET_SVG] {
            edit(f, name, |t| t.replace("POCKET-6-00-DEEP", "POCKET-9-00-DEEP"));
        }
    }),
    ("a contour deleted from an SVG", "proof-drawing-differs", |f| drop_line(f, PART_SVG, "POCKET-6-00", 0)),
    ("a contour twice in an SVG", "proof-drawing-differs", |f| {
        edit(f, PART_SVG, |t| {
            let line = t.lines().find(|l| l.contains("POCKET-6-00")).unwrap();
            t.replacen(line, &format!("{line}\n{line}"), 1)
        });
    }),
    ("an outline before its openings", "proof-drawing-differs", |f| {
        edit(f, PART_SVG, |t| {
            let line = t.lines().find(|l| l.contains("THROUGH-OUTSIDE")).unwrap();
            t.replacen(&format!("{line}\n"), "", 1).replacen("<g ", &format!("{line}\n<g "), 1)
        });
    }),
    ("a wrong unit in a DXF header", "proof-units-differ", |f| {
        swap(f, PART_DXF, "$INSUNITS\r\n 70\r\n4", "$INSUNITS\r\n 70\r\n1");
    }),
    ("a unit that is no length", "proof-file-unreadable", |f| {
        swap(f, PART_DXF, "$INSUNITS\r\n 70\r\n4", "$INSUNITS\r\n 70\r\n0");
    }),
    ("no unit in a DXF and another in its comment", "proof-units-differ", |f| {
        swap(f, PART_DXF, "  9\r\n$INSUNITS\r\n 70\r\n4\r\n", "");
        swap(f, PART_DXF, "units: mm", "units: in");
    }),
    ("a wrong unit in an SVG", "proof-units-differ", |f| edit(f, PART_SVG, |t| t.replace("mm\" ", "in\" "))),
    ("an SVG page that scales", "proof-file-unreadable", |f| swap(f, PART_SVG, "viewBox=\"0 0 300", "viewBox=\"0 0 301")),
    ("a transform on a cut path", "proof-file-unreadable", |f| swap(f, PART_SVG, "<g ", "<g transform=\"scale(2)\" ")),
    ("extents that are not real", "proof-extents-wrong", |f| {
        swap(f, PART_DXF, "$EXTMAX\r\n 10\r\n300", "$EXTMAX\r\n 10\r\n400");
    }),
    ("an open contour", "proof-file-unreadable", |f| swap(f, PART_DXF, " 70\r\n1\r\n 10", " 70\r\n0\r\n 10")),
    ("a spline on a cut layer", "proof-file-unreadable", |f| swap(f, PART_DXF, "  0\r\nCIRCLE", "  0\r\nSPLINE")),
    ("a count of vertices that lies", "proof-file-unreadable", |f| swap(f, PART_DXF, " 90\r\n12", " 90\r\n2000000000")),
    ("a DXF cut short", "proof-file-unreadable", |f| edit(f, SHEET_DXF, |t| t[..t.len() / 2].to_owned())),
    ("an SVG cut short", "proof-file-unreadable", |f| edit(f, SHEET_SVG, |t| t[..t.len() / 2].to_owned())),
    ("a program cut short", "proof-file-unreadable", |f| edit(f, FIRST, |t| t[..t.len() / 2].to_owned())),
    ("a program cut short by its last line", "proof-file-unreadable", |f| swap(f, FIRST, "M30\n", "")),
    ("binary noise for a DXF", "proof-file-unreadable", |f| {
        drop(f.insert(PART_DXF.into(), (0..4000u32).map(|i| (i * 167 % 251) as u8).collect()));
    }),
    ("a file of zeros", "proof-file-unreadable", |f| drop(f.insert(FIRST.into(), vec![0; 100_000]))),
    ("an empty file", "proof-file-unreadable", |f| drop(f.insert(PART_SVG.into(), Vec::new()))),
    ("a missing program", "proof-file-missing", |f| drop(f.remove(FIRST))),
    ("a missing drawing", "proof-file-missing", |f| drop(f.remove(SHEET_SVG))),
    ("a foreign program", "proof-file-foreign", |f| drop(f.insert("gcode/other.nc".into(), f[FIRST].clone()))),
    ("a foreign drawing", "proof-file-foreign", |f| drop(f.insert("parts/P-9.dxf".into(), f[PART_DXF].clone()))),
    ("a drawing of another revision", "proof-revision-differs", |f| swap(f, PART_DXF, "0a1b2c3d4e5f", "0a1b2c3d4e5e")),
    ("a program of another revision", "proof-revision-differs", |f| swap(f, FIRST, "0a1b2c3d4e5f", "ffffffffffff")),
    ("a header that claims the tool centre", "proof-header-wrong", |f| {
        swap(f, PART_DXF, "holds: the finished edge", "holds: the tool centre");
    }),
    ("a header of another board", "proof-header-wrong", |f| swap(f, FIRST, "real thickness 15 mm", "real thickness 18 mm")),
    ("no job", "proof-job-unreadable", |f| drop(f.remove("job.json"))),
    ("a job cut short", "proof-job-unreadable", |f| edit(f, "job.json", |t| t[..t.len() - 9].to_owned())),
    ("a job of another version", "proof-job-unreadable", |f| job(f, |j| j["version"] = 2.into())),
    ("a job nested without end", "proof-job-unreadable", |f| {
        drop(f.insert("job.json".into(), "[".repeat(200_000).into_bytes()));
    }),
    ("a job with a huge quantity", "proof-job-unreadable", |f| {
        job(f, |j| j["parts"][0]["quantity"] = 4_000_000_000_u64.into());
    }),
    ("a copy placed twice", "proof-copies-wrong", |f| job(f, |j| j["sheets"][0]["placements"][1]["copy"] = 1.into())),
    ("a copy not placed", "proof-copies-wrong", |f| job(f, |j| j["parts"][0]["quantity"] = 3.into())),
    ("a part on another board", "proof-copies-wrong", |f| job(f, |j| j["parts"][0]["board"] = "other".into())),
    ("a part off its sheet", "proof-copies-wrong", |f| job(f, |j| j["sheets"][0]["length_mm"] = 500.into())),
    ("a part moved on its sheet", "proof-sheet-differs", |f| {
        job(f, |j| j["sheets"][0]["placements"][0]["x_mm"] = 20.5.into());
    }),
    ("a mirrored program", "proof-part-gouged", |f| edit(f, FIRST, mirror_x)),
    ("a flipped sheet run unflipped", "proof-floor-wrong", |f| job(f, |j| j["programs"][0]["side"] = "first".into())),
    ("a bigger cutter", "proof-part-gouged", |f| job(f, |j| j["programs"][1]["cutter"]["diameter_mm"] = 6.35.into())),
    ("a smaller cutter", "proof-wood-left", |f| job(f, |j| j["programs"][1]["cutter"]["diameter_mm"] = 5.5.into())),
    ("a coordinate of an outline", "proof-part-gouged", |f| after(f, FIRST, "(P-1.1 outline)", "Y17.0000", "Y17.1000")),
    ("a coordinate of a groove", "proof-part-gouged", |f| after(f, FIRST, "(P-1.1 groove)", "X77.0000", "X77.1000")),
    ("a hole beside its place", "proof-part-gouged", |f| {
        after(f, FIRST, "(P-1.1 pin)", "X40.0000 Y120.0000", "X40.2000 Y120.0000");
    }),
    ("a depth of a groove, deeper", "proof-part-gouged", |f| after(f, FIRST, "(P-1.1 groove)", "Z9.0000", "Z8.9000")),
    ("a bay of a groove too narrow for the cutter", "proof-floor-wrong", |f| bay(f, 4, [(60.0, 130.0), (68.0, 132.0)])),
    ("a bay of a window too narrow for the cutter", "proof-wood-left", |f| bay(f, 6, [(215.0, 60.0), (217.0, 55.0)])),
    ("a depth of a groove, shallower", "proof-floor-wrong", |f| after(f, FIRST, "(P-1.1 groove)", "Z9.0000", "Z9.1000")),
    ("a depth on the second side", "proof-part-gouged", |f| after(f, SECOND, "(P-1.2 under)", "Z11.0000", "Z10.9000")),
    ("a blind hole too deep", "proof-part-gouged", |f| after(f, FIRST, "(P-1.1 pilot)", "Z5.0000", "Z4.9000")),
    ("a blind hole too shallow", "proof-floor-wrong", |f| after(f, FIRST, "(P-1.2 pilot)", "Z5.0000", "Z5.1000")),
    ("a through cut that is not through", "proof-wood-left", |f| after(f, FIRST, "(P-1.1 slot)", "Z-0.3000", "Z0.1000")),
    ("a through hole that is not through", "proof-wood-left", |f| after(f, FIRST, "(P-1.1 pin)", "Z-0.3000", "Z0.1000")),
    ("an outline that is not through", "proof-outline-uncut", |f| {
        edit(f, FIRST, |t| {
            let at = t.find("(P-1.1 outline)").unwrap();
            let end = at + t[at..].find("(P-1.2 outline)").unwrap();
            t[..at].to_owned() + &t[at..end].replace("Z-0.3000", "Z2.0000") + &t[end..]
        });
    }),
    ("a feed with its decimal point slipped", "proof-feed-high", |f| swap(f, FIRST, "F3000.0000", "F30000.000")),
    ("another spindle speed", "proof-spindle-off", |f| swap(f, FIRST, "S18000 M3", "S8000 M3")),
    ("below the floor", "proof-out-of-bounds", |f| after(f, FIRST, "(P-1.1 hole)", "Z-0.3000", "Z-0.6000")),
    ("beyond the machine", "proof-out-of-bounds", |f| {
        job(f, |j| j["machine"]["travel_mm"] = serde_json::json!([500, 400, 100]));
    }),
    ("a restart where none is", "proof-preamble-incomplete", |f| {
        job(f, |j| j["programs"][1]["restarts"] = serde_json::json!([{ "number": 1, "line": 3, "label": "P-1 1 pin" }]));
    }),
    ("two sections said of a file of one", "proof-file-unreadable", |f| job(f, |j| j["programs"][1]["section"] = 2.into())),
    ("beyond the sheet", "proof-out-of-bounds", |f| swap(f, FIRST, "M5\n", "G1 X-40.0 Y-40.0 Z5.0\nG0 Z25.0\nM5\n")),
    ("tabs missing", "proof-part-loose", |f| {
        edit(f, FIRST, |t| {
            // The last pass of the first outline runs through three of its four tabs.
            let at = t.find("(P-1.1 outline)").unwrap();
            let end = at + t[at..].find("(P-1.2 outline)").unwrap();
            let last = at + t[at..end].find("Z-0.3000").unwrap();
            t[..last].to_owned() + &t[last..end].replacen("Z5.0000", "Z-0.3000", 3) + &t[end..]
        });
    }),
    ("one of four tabs missing", "proof-part-loose", |f| {
        edit(f, FIRST, |t| {
            let at = t.find("(P-1.1 outline)").unwrap();
            let end = at + t[at..].find("(P-1.2 outline)").unwrap();
            let last = at + t[at..end].find("Z-0.3000").unwrap();
            t[..last].to_owned() + &t[last..end].replacen("Z5.0000", "Z-0.3000", 1) + &t[end..]
        });
    }),
    ("a tab planned that no program leaves", "proof-part-loose", |f| {
        job(f, |j| j["sheets"][0]["placements"][1]["tabs"] = 5.into());
    }),
    ("a tab twice as long", "proof-part-loose", |f| after(f, FIRST, "(P-1.1 outline)", "X234.0000", "X242.0000")),
    ("a stretch left beside a tab", "proof-part-loose", |f| after(f, FIRST, "(P-1.1 outline)", "X234.0000", "X260.0000")),
    ("a tab half as long", "proof-part-loose", |f| after(f, FIRST, "(P-1.1 outline)", "X234.0000", "X230.0000")),
    ("a tab too low", "proof-part-loose", |f| {
        after(f, FIRST, "(P-1.1 outline)", "X220.0000 Y17.0000 F3000.0000\nG1 Z5.0000", "X220.0000 Y17.0000\nG1 Z4.9000");
    }),
    ("a tab higher than planned", "proof-part-loose", |f| {
        job(f, |j| j["sheets"][0]["placements"][0]["held"][0]["height_mm"] = 4.9.into());
    }),
    ("a pass left out", "proof-pass-deep", |f| {
        edit(f, FIRST, |t| {
            let at = t.find("(P-1.1 outline)").unwrap();
            let pass = at + t[at..].find("G1 Z10.0000").unwrap();
            let next = pass + t[pass..].find("G1 Z5.0000").unwrap();
            t[..pass].to_owned() + &t[next..]
        });
    }),
    ("a cutter that may go less deep", "proof-pass-deep", |f| {
        job(f, |j| j["programs"][1]["cutter"]["pass_max_mm"] = 8.0.into());
    }),
    ("a cutter that must not plunge", "proof-plunged", |f| {
        job(f, |j| j["programs"][1]["cutter"]["centre_cutting"] = false.into());
    }),
    ("screws that no program makes holes for", "proof-screw-hit", |f| {
        job(f, |j| {
            for program in [0, 1] {
                j["programs"][program]["set_up"]["screws_mm"] = serde_json::json!([[310, 390]]);
                j["programs"][program]["set_up"]["screw_head_mm"] = serde_json::json!([9, 3]);
            }
        });
    }),
    ("a cutter that may go less deep at first", "proof-pass-deep", |f| {
        job(f, |j| j["programs"][1]["cutter"]["first_pass_max_mm"] = 6.5.into());
    }),
    ("pins elsewhere when turned over", "proof-registration-wrong", |f| {
        job(f, |j| j["programs"][1]["set_up"]["pins_mm"][1][0] = 560.1.into());
    }),
    ("pins that the turned sheet misses", "proof-registration-wrong", |f| {
        job(f, |j| {
            for program in [0, 1] {
                j["programs"][program]["set_up"]["pins_mm"][1][1] = 201.into();
            }
        });
        swap(f, SECOND, "G0 X560.0000 Y200.0000", "G0 X560.0000 Y201.0000");
    }),
    ("a sheet that fits its pins end for end", "proof-registration-wrong", |f| {
        job(f, |j| {
            for program in [0, 1] {
                j["programs"][program]["set_up"]["pins_mm"][1][0] = 590.into();
            }
        });
        swap(f, SECOND, "G0 X560.0000 Y200.0000", "G0 X590.0000 Y200.0000");
    }),
    ("no registration holes named", "proof-registration-wrong", |f| {
        job(f, |j| drop(j["programs"][0].as_object_mut().unwrap().remove("set_up")));
    }),
    ("a registration hole beside its place", "proof-registration-wrong", |f| {
        swap(f, SECOND, "G0 X560.0000 Y200.0000", "G0 X560.2000 Y200.0000");
    }),
    ("a registration hole missing", "proof-registration-wrong", |f| drop_line(f, SECOND, "G0 X560.0000 Y200.0000", 1)),
    ("a registration hole that is not through", "proof-registration-wrong", |f| {
        swap(f, SECOND, "G1 Z-0.3000", "G1 Z0.5000");
    }),
    ("a pocket before the registration holes", "proof-registration-wrong", |f| {
        edit(f, SECOND, |t| {
            let (hole, work) = (t.find("(registration hole)").unwrap(), t.find("(P-1.1 under)").unwrap());
            let end = t.find("M5\n").unwrap();
            t[..hole].to_owned() + &t[work..end] + &t[hole..work] + &t[end..]
        });
    }),
    ("an opening without its last pass", "proof-wood-left", |f| {
        edit(f, FIRST, |t| {
            let at = t.find("(P-1.1 window)").unwrap();
            let last = at + t[at..].find("G1 Z-0.3000").unwrap();
            let end = last + t[last..].find("G0 Z25").unwrap();
            t[..last].to_owned() + &t[end..]
        });
    }),
    ("a line deleted from a groove", "proof-floor-wrong", |f| drop_line(f, FIRST, "(P-1.1 groove)", 6)),
    ("a line deleted before an arc", "proof-file-unreadable", |f| drop_line(f, FIRST, "(P-1.2 outline)", 3)),
    ("a lift deleted", "proof-rapid-low", |f| after(f, FIRST, "(P-1.1 hole)", "G0 Z25.0000\n", "")),
    ("a lift too low", "proof-rapid-low", |f| after(f, FIRST, "(P-1.1 hole)", "G0 Z25.0000", "G0 Z24.0000")),
    ("a rapid into the wood", "proof-rapid-low", |f| after(f, FIRST, "(P-1.1 hole)", "G1 Z8.0000", "G0 Z8.0000")),
    ("a rapid through the wood", "proof-rapid-low", |f| after(f, FIRST, "(P-1.2 slot)", "G1 X", "G0 X")),
    ("the spindle not started", "proof-spindle-off", |f| swap(f, FIRST, "S18000 M3", "S18000")),
    ("the spindle backwards", "proof-spindle-off", |f| swap(f, FIRST, "S18000 M3", "S18000 M4")),
    ("the spindle stopped too early", "proof-spindle-off", |f| swap(f, FIRST, "(P-1.2 slot)", "M5")),
    ("the spindle without speed", "proof-spindle-off", |f| swap(f, FIRST, "S18000 M3", "M3")),
    ("no feed", "proof-file-unreadable", |f| edit(f, SECOND, |t| t.replace(" F500.0000", "").replace(" F3000.0000", ""))),
    ("an arc turned the other way", "proof-part-gouged", |f| after(f, FIRST, "(P-1.1 outline)", "G3 ", "G2 ")),
    ("an arc whose radii differ", "proof-file-unreadable", |f| after(f, FIRST, "(P-1.1 outline)", "J13.0000", "J13.0100")),
    ("inches for millimetres", "proof-units-differ", |f| swap(f, FIRST, "G21", "G20")),
    ("incremental for absolute", "proof-part-gouged", |f| {
        edit(f, SECOND, |t| {
            t.replacen("G1 Z11.0000", "G91 G1 Z-14.5", 1).replacen("G0 Z25.0000\n(P-1.2", "G90 G0 Z25.0000\n(P-1.2", 1)
        });
    }),
    ("no plane stated", "proof-preamble-incomplete", |f| swap(f, FIRST, "G17 ", "")),
    ("no work offset stated", "proof-preamble-incomplete", |f| swap(f, FIRST, " G54", "")),
    ("first move sideways", "proof-preamble-incomplete", |f| swap(f, FIRST, "G0 Z25.0000\nT1", "G0 X0.0 Y0.0 Z25.0000\nT1")),
    ("a tool change in the middle", "proof-preamble-incomplete", |f| swap(f, FIRST, "(P-1.2 slot)", "T2 M6\nM3")),
    ("an unknown word", "proof-file-unreadable", |f| swap(f, FIRST, "(P-1.2 slot)", "G5.1")),
    ("an outline cut first", "proof-order-wrong", |f| {
        edit(f, FIRST, |t| {
            let outline = t.find("(P-1.1 outline)").unwrap();
            let end = outline + t[outline..].find("(P-1.2 outline)").unwrap();
            let first = t.find("(P-1.1 pin)").unwrap();
            let (head, body) = t.split_at(first);
            head.to_owned() + &t[outline..end] + &body.replacen(&t[outline..end], "", 1)
        });
    }),
    ("programs in the wrong order", "proof-order-wrong", |f| {
        job(f, |j| {
            j["programs"][0]["order"] = 2.into();
            j["programs"][1]["order"] = 1.into();
        });
    }),
    ("two programs with one place", "proof-not-simulated", |f| job(f, |j| j["programs"][0]["order"] = 2.into())),
    ("a program for no sheet", "proof-not-simulated", |f| job(f, |j| j["programs"][0]["sheet"] = 7.into())),
    ("no programs at all", "proof-not-simulated", |f| {
        job(f, |j| j["programs"] = Value::Array(Vec::new()));
        f.remove(FIRST);
        f.remove(SECOND);
    }),
    ("a corner without its relief", "proof-mate-does-not-seat", |f| {
        let run = "X123.0000 Y120.0000 F3000.0000\n";
        edit(f, FIRST, |t| t.replace(&format!("G1 {run}"), ""));
    }),
    ("a mate larger than its slot", "proof-mate-does-not-seat", |f| {
        job(f, |j| j["parts"][0]["seats"][0]["vertices"][2][1] = 115.4.into());
    }),
];

#[test]
fn every_kind_of_spoiling_is_caught_by_its_rule() {
    let mut missed = Vec::new();
    for (kind, rule, spoil) in KINDS {
        let mut files = pack(PLAIN);
        spoil(&mut files);
        let verdict = prove(&files);
        let caught = verdict.rules.iter().any(|r| r.rule == *rule && !r.passed);
        if verdict.passed || !caught {
            missed.push(format!("{kind}: not found by {rule}\n{}", verdict.to_text()));
        }
    }
    assert!(missed.is_empty(), "{} of {} missed\n{}", missed.len(), KINDS.len(), missed.join("\n"));
}

#[test]
fn kinds_are_caught_in_every_flavour() {
    // Spoilings that change only the job or whole files do not depend on how numbers are written.
    for (inches, release_12, sheet_top) in [(true, false, false), (false, true, true), (true, true, true)] {
        for (kind, rule, spoil) in KINDS.iter().filter(|(kind, _, _)| {
            [
                "a copy placed twice",
                "a bigger cutter",
                "a missing program",
                "programs in the wrong order",
                "a smaller cutter",
                "the spindle not started",
                "a file of zeros",
            ]
            .contains(kind)
        }) {
            let mut files = pack(Flavour { inches, release_12, sheet_top });
            spoil(&mut files);
            let verdict = prove(&files);
            assert!(verdict.rules.iter().any(|r| r.rule == *rule && !r.passed), "{kind}\n{}", verdict.to_text());
        }
    }
}
