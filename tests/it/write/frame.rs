//! The fixed part of a DXF file comes from the `dxf` crate, corrected once and kept in `src/write/frames/`.
//!
//! The crate cannot run inside `write`: it reads the clock and the local time zone while saving, and stops the program in zones
//! where 1900 began twice. `BLESS=1` writes the frames anew; without it this test compares.

use dxf::enums::{AcadVersion, DrawingUnits, Units};
use dxf::Drawing;
use std::fmt::Write as _;
use std::path::Path;
use std::process::Command;

/// A group code and its value.
type Pair = (i32, String);

/// Header variables that the writer fills in, with what goes into their first, second and third value.
const FILLED: [(&str, &[&str]); 7] = [
    ("$EXTMIN", &["{min_x}", "{min_y}", "0.0"]),
    ("$EXTMAX", &["{max_x}", "{max_y}", "0.0"]),
    ("$LIMMIN", &["{min_x}", "{min_y}"]),
    ("$LIMMAX", &["{max_x}", "{max_y}"]),
    ("$INSUNITS", &["{insunits}"]),
    ("$MEASUREMENT", &["{measurement}"]),
    ("$HANDSEED", &["{seed}"]),
];

/// Header variables that would hold a moment or a random number, with the value they are pinned to: noon of 1 January 2000
/// (Julian day 2451545.0) and the nil UUID.
const PINNED: [(&str, &str); 6] = [
    ("$TDCREATE", "2451545.0"),
    ("$TDUCREATE", "2451545.0"),
    ("$TDUPDATE", "2451545.0"),
    ("$TDUUPDATE", "2451545.0"),
    ("$FINGERPRINTGUID", "{00000000-0000-0000-0000-000000000000}"),
    ("$VERSIONGUID", "{00000000-0000-0000-0000-000000000000}"),
];

#[test]
fn frames_are_what_the_library_writes_after_correction() {
    if std::env::var("TZ").as_deref() != Ok("UTC") {
        // The crate's own saving needs a zone in which 1900 began once: run this test again in a process that has one.
        let status = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "write::frame::frames_are_what_the_library_writes_after_correction"])
            .env("TZ", "UTC")
            .status()
            .unwrap();
        assert!(status.success());
        return;
    }
    for (version, name) in [(AcadVersion::R12, "release-12.dxf"), (AcadVersion::R2000, "release-2000.dxf")] {
        let wanted = frame(version);
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/write/frames").join(name);
        if std::env::var_os("BLESS").is_some() {
            std::fs::write(&path, &wanted).unwrap();
        }
        assert_eq!(std::fs::read_to_string(&path).unwrap(), wanted, "{name}: BLESS=1 writes it anew");
    }
}

fn frame(version: AcadVersion) -> String {
    let mut drawing = Drawing::new();
    drawing.header.version = version;
    drawing.header.default_drawing_units = Units::Millimeters;
    drawing.header.drawing_units = DrawingUnits::Metric;
    drawing.header.handles_enabled = version != AcadVersion::R12;
    while drawing.app_ids().count() > 1 {
        let last = drawing.app_ids().count() - 1;
        drawing.remove_app_id(last);
    }
    let spare = drawing.dim_styles().position(|s| s.name == "ANNOTATIVE").unwrap();
    drawing.remove_dim_style(spare);
    let spare = drawing.styles().position(|s| s.name == "ANNOTATIVE").unwrap();
    drawing.remove_style(spare);
    let mut bytes = Vec::new();
    drawing.save(&mut bytes).unwrap();
    let mut pairs = read(&String::from_utf8(bytes).unwrap());
    header(&mut pairs);
    if version == AcadVersion::R12 {
        release_12(&mut pairs);
    } else {
        release_2000(&mut pairs);
    }
    let mut out = String::new();
    for (code, value) in pairs {
        if code == FILL {
            writeln!(out, "{value}").unwrap();
        } else {
            writeln!(out, "{code:>3}\n{value}").unwrap();
        }
    }
    out
}

/// Stands for a whole run of pairs that the writer puts in.
const FILL: i32 = -1;

fn read(text: &str) -> Vec<Pair> {
    let lines: Vec<&str> = text.lines().collect();
    lines.chunks_exact(2).map(|c| (c[0].trim().parse().unwrap(), c[1].to_owned())).collect()
}

fn header(pairs: &mut [Pair]) {
    let mut variable = String::new();
    let mut nth = 0;
    for (code, value) in pairs.iter_mut() {
        if *code == 0 {
            variable.clear();
        } else if *code == 9 {
            variable.clone_from(value);
            nth = 0;
        } else {
            if let Some((_, fill)) = FILLED.iter().find(|(name, _)| *name == variable) {
                fill[nth].clone_into(value);
            }
            if let Some((_, pin)) = PINNED.iter().find(|(name, _)| *name == variable) {
                (*pin).clone_into(value);
            }
            nth += 1;
        }
    }
    // The first view shows the whole drawing.
    let mut record = String::new();
    for (code, value) in pairs.iter_mut() {
        if *code == 0 {
            record.clone_from(value);
        } else if record == "VPORT" {
            match *code {
                12 => "{view_x}".clone_into(value),
                22 => "{view_y}".clone_into(value),
                40 => "{view_height}".clone_into(value),
                41 => "1.5".clone_into(value),
                _ => {}
            }
        }
    }
}

/// Release 12: no subclass markers, no handles.
fn release_12(pairs: &mut Vec<Pair>) {
    drop_variable(pairs, "$HANDSEED");
    pairs.retain(|(code, _)| *code != 100 && *code != 5);
    let mut out = Vec::new();
    let (mut table, mut record) = (String::new(), String::new());
    for (code, mut value) in pairs.drain(..) {
        if code == 0 {
            if value == "ENDTAB" && table == "LAYER" {
                out.push((FILL, "{layers}".to_owned()));
            }
            record.clone_from(&value);
        }
        if record == "TABLE" && code == 2 {
            table.clone_from(&value);
        }
        if record == "TABLE" && code == 70 {
            value = count_of(&table);
        }
        out.push((code, value));
        entities_here(&mut out);
    }
    *pairs = out;
}

/// How many records a table has, as its opening says.
fn count_of(table: &str) -> String {
    match table {
        "LAYER" => "{layer_count}",
        "BLOCK_RECORD" => "2",
        "LTYPE" => "3",
        _ => "1",
    }
    .to_owned()
}

fn entities_here(out: &mut Vec<Pair>) {
    if out.ends_with(&[(2, "ENTITIES".to_owned())]) {
        out.push((FILL, "{entities}".to_owned()));
    }
}

fn drop_variable(pairs: &mut Vec<Pair>, name: &str) {
    if let Some(start) = pairs.iter().position(|(code, value)| *code == 9 && value == name) {
        let len = 1 + pairs[start + 1..].iter().take_while(|(code, _)| *code != 9 && *code != 0).count();
        pairs.drain(start..start + len);
    }
}

/// Release 2000: tables with handles and owners, both blocks, a root dictionary, the usual spelling of the space names.
fn release_2000(pairs: &mut Vec<Pair>) {
    const TABLES: [&str; 8] = ["APPID", "BLOCK_RECORD", "DIMSTYLE", "LTYPE", "LAYER", "STYLE", "VPORT", "VIEW"];
    let mut out: Vec<Pair> = Vec::new();
    let (mut table, mut owner, mut record) = (String::new(), String::new(), String::new());
    for (code, mut value) in pairs.drain(..) {
        if code == 0 {
            if value == "ENDTAB" && table == "LAYER" {
                out.push((FILL, "{layers}".to_owned()));
            }
            record.clone_from(&value);
            if value == "ENDTAB" {
                table.clear();
            }
        }
        if (340..=344).contains(&code) || code == 390 {
            continue;
        }
        if value == "*MODEL_SPACE" {
            "*Model_Space".clone_into(&mut value);
        }
        if value == "*PAPER_SPACE" {
            "*Paper_Space".clone_into(&mut value);
        }
        if record == "TABLE" && code == 70 {
            value = count_of(&table);
        }
        if record == "TABLE" && code == 2 {
            table.clone_from(&value);
            let nth = TABLES.iter().position(|t| *t == table).unwrap();
            owner = format!("{:X}", 0x20 + nth);
            out.extend([(2, value), (5, owner.clone()), (330, "0".to_owned())]);
            continue;
        }
        if code == 5 && record == table && !table.is_empty() {
            out.extend([(if table == "DIMSTYLE" { 105 } else { 5 }, value), (330, owner.clone())]);
            continue;
        }
        if code == 100 && value == "AcDbSymbolTable" && table == "DIMSTYLE" {
            out.push((code, value));
            continue;
        }
        out.push((code, value));
        entities_here(&mut out);
    }
    let block_record = |name: &str| {
        let at = out.iter().position(|(code, value)| *code == 2 && value == name).unwrap();
        out[..at].iter().rev().find(|(code, _)| *code == 5).unwrap().1.clone()
    };
    let (model, paper) = (block_record("*Model_Space"), block_record("*Paper_Space"));
    let mut blocks = vec![(0, "SECTION".to_owned()), (2, "BLOCKS".to_owned())];
    for (name, owner, first) in [("*Model_Space", &model, 0x30), ("*Paper_Space", &paper, 0x32)] {
        let text = |s: &str| s.to_owned();
        blocks.extend([(0, text("BLOCK")), (5, format!("{first:X}")), (330, owner.clone()), (100, text("AcDbEntity"))]);
        blocks.extend([(8, text("0")), (100, text("AcDbBlockBegin")), (2, text(name)), (70, text("0"))]);
        blocks.extend([(10, text("0.0")), (20, text("0.0")), (30, text("0.0")), (3, text(name)), (1, String::new())]);
        blocks.extend([(0, text("ENDBLK")), (5, format!("{:X}", first + 1)), (330, owner.clone())]);
        blocks.extend([(100, text("AcDbEntity")), (8, text("0")), (100, text("AcDbBlockEnd"))]);
    }
    blocks.push((0, "ENDSEC".to_owned()));
    let at = out.iter().position(|(code, value)| *code == 2 && value == "ENTITIES").unwrap() - 1;
    out.splice(at..at, blocks);
    let at = out.iter().position(|(code, value)| *code == 2 && value == "OBJECTS").unwrap() + 1;
    let text = |s: &str| s.to_owned();
    let root = [(0, text("DICTIONARY")), (5, text("40")), (330, text("0")), (100, text("AcDbDictionary")), (281, text("1"))];
    let group =
        [(0, text("DICTIONARY")), (5, text("41")), (330, text("40")), (100, text("AcDbDictionary")), (281, text("1"))];
    let entry = [(3, text("ACAD_GROUP")), (350, text("41"))];
    out.splice(at..at, root.into_iter().chain(entry).chain(group));
    assert_eq!(model, "5", "the writer names the model space by this handle");
    *pairs = out;
}
