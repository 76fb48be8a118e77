//! The written programs, read back by a parser that is not ours and by a small interpreter of the subset.

use super::bench::{design, hole, machine, opening, part, pocket, rect, router, slot, Job};
use baywright::geom::Point3;
use baywright::nest::Turn;
use baywright::shop::{CutterKind, Dialect, Machine, Process, Router, ZZero};
use baywright::toolpath::{Block, Move, Program, SetUp, SheetSide, Work};
use baywright::units::{Mm, Unit};
use baywright::write::gcode::{program, programs};
use std::sync::Arc;

/// One line's words.
fn words(line: &str) -> Vec<(char, f64)> {
    line.split_whitespace()
        .map(|w| (w.chars().next().unwrap(), w[1..].parse().unwrap_or_else(|_| panic!("{line}"))))
        .collect()
}

fn router_of(m: &Machine) -> &Router {
    match &m.process {
        Process::Router(r) => r,
        Process::Laser(_) => panic!(),
    }
}

/// Every rule of the text: parses, states its modes, goes up first, runs the spindle before it goes down, keeps lines and numbers
/// within the standard, gives arcs whose radii agree, and ends where the moves end.
pub(super) fn check(m: &Machine, p: &Program, bytes: &[u8]) {
    let dialect = &router_of(m).dialect;
    let text = std::str::from_utf8(bytes).unwrap();
    assert!(text.is_ascii());
    assert_eq!(text.contains("\r\n"), dialect.crlf);
    let parsed = gcode::parse(text).unwrap_or_else(|d| panic!("{d:?}"));
    assert!(parsed.blocks.len() > 5);
    let inch = m.units == Unit::Inch;
    let limit = if inch { 0.0002 } else { 0.002 };
    let shift = if router_of(m).z_zero == ZZero::SheetTop { p.thickness.0 } else { 0.0 };
    let unit = if inch { 25.4 } else { 1.0 };
    let up = (p.clearance.0 - shift) / unit;
    let half = 0.5 / (0..dialect.decimals).map(|_| 10.0).product::<f64>() + 1e-9;

    let lines: Vec<&str> = text.lines().collect();
    assert!(lines.iter().all(|l| l.len() <= 256));
    if dialect.percent {
        assert_eq!((lines[0], lines[lines.len() - 1]), ("%", "%"));
    }
    let (mut at, mut known) = ([0.0; 3], [false; 3]);
    let (mut spindle, mut waited, mut feed, mut cycle, mut ended) = (false, false, false, false, false);
    let mut codes_seen: Vec<String> = Vec::new();
    for line in lines.iter().filter(|l| **l != "%") {
        if line.starts_with('(') {
            assert!(line.ends_with(')') && line.matches(['(', ')']).count() == 2, "{line}");
            continue;
        }
        assert!(!ended, "after the end: {line}");
        let mut w = words(line);
        for word in line.split_whitespace() {
            if "XYZIJRQF".contains(&word[..1]) {
                assert!(word.split('.').nth(1).is_some_and(|d| !d.is_empty()), "{line}: digits after the dot");
                assert!(!["-0.000", "-0.0000"].contains(&&word[1..]), "{line}");
            }
        }
        assert_eq!(w.first().is_some_and(|x| x.0 == 'N'), dialect.line_numbers.is_some(), "{line}");
        if w[0].0 == 'N' {
            assert!((1.0..=99_999.0).contains(&w[0].1));
            w.remove(0);
        }
        let get = |c: char| w.iter().find(|x| x.0 == c).map(|x| x.1);
        feed |= get('F').is_some_and(|f| f > 0.0);
        let modes: Vec<String> = w.iter().filter(|x| "GM".contains(x.0)).map(|x| format!("{}{}", x.0, x.1)).collect();
        codes_seen.extend(modes.iter().cloned());
        let target: Vec<Option<f64>> = ['X', 'Y', 'Z'].iter().map(|c| get(*c)).collect();
        let moving = modes.iter().find(|c| ["G0", "G1", "G2", "G3", "G81", "G83"].contains(&c.as_str())).cloned();
        if modes.contains(&"M3".into()) {
            assert!(get('S').is_some_and(|s| s > 0.0));
            assert!(known[2] && (at[2] - up).abs() <= half, "spindle starts up high");
            spindle = true;
        }
        waited |= modes.contains(&"G4".into()) && spindle;
        if modes.contains(&"M5".into()) {
            (spindle, waited) = (false, false);
        }
        ended |= modes.contains(&"M30".into());
        cycle &= !modes.contains(&"G80".into());
        let Some(code) = moving else { continue };
        for need in
            ["G17", "G40", "G49", "G80", "G90", "G94", if inch { "G20" } else { "G21" }, dialect.work_offset.as_str()]
        {
            assert!(codes_seen.contains(&need.to_owned()), "{need} before the first move");
        }
        assert!(!cycle, "a cycle is cancelled before the next move: {line}");
        if !known[2] {
            assert_eq!((code.as_str(), target[0], target[1]), ("G0", None, None), "first move goes up");
            assert!((target[2].unwrap() - up).abs() <= half);
        }
        let from = at;
        for axis in 0..3 {
            if let Some(v) = target[axis] {
                (at[axis], known[axis]) = (v, true);
            }
        }
        match code.as_str() {
            "G0" => {
                let sideways = from[0] != at[0] || from[1] != at[1];
                assert!(!(sideways && known[0]) || at[2] >= up - half, "rapid below clearance: {line}");
            }
            // The air trace runs at clearance height, spindle still.
            "G1" => {
                let in_air = from[2].min(at[2]) >= up - half;
                assert!((spindle && waited || in_air) && feed && known.iter().all(|k| *k), "{line}");
            }
            "G2" | "G3" => {
                assert!(spindle && waited && feed && dialect.arcs, "{line}");
                let (i, j) = (get('I').unwrap(), get('J').unwrap());
                let (rs, re) = (i.hypot(j), (from[0] + i - at[0]).hypot(from[1] + j - at[1]));
                assert!((rs - re).abs() <= limit + 1e-9, "{line}: radii differ by {}", (rs - re).abs());
                assert!(from[0] != at[0] || from[1] != at[1], "{line}: a full circle must be halves");
            }
            _ => {
                assert!(spindle && waited && feed && dialect.drill_cycles && modes.contains(&"G98".into()), "{line}");
                assert!(get('R').unwrap() >= at[2]);
                if code == "G83" {
                    assert!(get('Q').unwrap() > 0.0);
                }
                at[2] = from[2].max(get('R').unwrap());
                cycle = true;
            }
        }
    }
    assert!(ended && !spindle && (at[2] - up).abs() <= half, "ends up and stopped");
    let park = router_of(m).park;
    assert!((at[0] - park[0].0 / unit).abs() <= half && (at[1] - park[1].0 / unit).abs() <= half, "parked");
    for b in &p.blocks {
        let label = b.restart.map_or_else(|| b.label.clone(), |n| format!("restart {n}: {}", b.label));
        assert!(text.contains(&format!("({label})")), "{label} has its comment");
    }
}

fn job() -> Job {
    let cuts = vec![
        opening(rect(100.0, 100.0, 200.0, 150.0), "window"),
        pocket(rect(400.0, 60.0, 120.0, 80.0), 5.0, "pocket"),
        opening(slot(400.0, 200.0, 60.0, 6.35), "slot"),
        hole(30.0, 30.0, 5.0, None, "deep"),
        hole(60.0, 30.0, 5.0, Some(9.0), "blind"),
        hole(90.0, 30.0, 9.0, None, "bored"),
    ];
    Job::usual(vec![(part("a", rect(0.0, 0.0, 600.0, 400.0), cuts), Turn::Quarter, [600.0, 40.0])])
}

#[test]
fn every_dialect_keeps_the_rules() {
    type Change = (&'static str, fn(&mut Router));
    let change: [Change; 9] = [
        ("plain", |_| ()),
        ("no arcs", |r| r.dialect.arcs = false),
        ("no cycles", |r| r.dialect.drill_cycles = false),
        ("no numbers, crlf", |r| (r.dialect.line_numbers, r.dialect.crlf) = (None, true)),
        ("no percent", |r| r.dialect.percent = false),
        ("two decimals", |r| r.dialect.decimals = 2),
        ("four decimals", |r| r.dialect.decimals = 4),
        ("five decimals", |r| r.dialect.decimals = 5),
        ("zero on the sheet", |r| r.z_zero = ZZero::SheetTop),
    ];
    for (name, change) in change {
        for unit in [Unit::Mm, Unit::Inch] {
            let mut j = job();
            let mut r = router();
            change(&mut r);
            r.park = [Mm(100.0), Mm(1200.0)];
            j.design.process.machine = Arc::new(machine(r, unit));
            let all = j.sound();
            for p in &all {
                let text = program(&j.design.process.machine, p, &["job (bench)".into(), "revision 0".into()]);
                assert!(String::from_utf8_lossy(&text).contains("(job [bench])"), "{name}");
                check(&j.design.process.machine, p, &text);
            }
        }
    }
}

#[test]
fn inches_say_the_same_as_millimetres() {
    let mut j = job();
    let programs = j.sound();
    let mm = String::from_utf8(program(&j.design.process.machine, &programs[0], &[])).unwrap();
    let mut r = router();
    r.dialect.decimals = 5;
    j.design.process.machine = Arc::new(machine(r, Unit::Inch));
    let inch = String::from_utf8(program(&j.design.process.machine, &programs[0], &[])).unwrap();
    let places = |text: &str, unit: f64| -> Vec<f64> {
        let lines = text.lines().filter(|l| l.starts_with('N'));
        lines.flat_map(words).filter(|w| "XYZIJR".contains(w.0)).map(|w| w.1 * unit).collect()
    };
    let (a, b) = (places(&mm, 1.0), places(&inch, 25.4));
    assert_eq!(a.len(), b.len());
    assert!(a.iter().zip(&b).all(|(a, b)| (a - b).abs() < 0.001 + 0.0002));
}

#[test]
fn expanded_drilling_and_pecking_have_no_cycles() {
    let mut j = job();
    let mut r = router();
    r.dialect.drill_cycles = false;
    j.design.process.machine = Arc::new(machine(r, Unit::Mm));
    for p in j.sound() {
        let text = String::from_utf8(program(&j.design.process.machine, &p, &[])).unwrap();
        assert!(!["G81", "G83", "G98"].iter().any(|c| text.contains(c)));
        if p.cutter.kind == CutterKind::Drill {
            assert!(text.contains("Z-0.300"), "the through hole goes through");
        }
    }
}

#[test]
fn cutters_changed_inside_a_file_stop_and_ask_for_the_zero() {
    let j = job();
    let all = j.sound();
    let refs: Vec<&Program> = all.iter().collect();
    let text = String::from_utf8(programs(&j.design.process.machine, &refs, &[]).bytes).unwrap();
    gcode::parse(&text).unwrap();
    // One stop before the first move, one for each change.
    assert_eq!(text.lines().filter(|l| l.ends_with(" M0")).count(), all.len());
    assert_eq!(text.lines().filter(|l| l.ends_with(" M3")).count(), all.len());
    assert_eq!(text.matches("M30").count(), 1);
}

#[test]
fn ten_thousand_random_arcs_keep_the_radius_rule() {
    // An additive recurrence gives the same arcs every time.
    let mut k = 0.0_f64;
    let mut next = |irrational: f64| {
        k += 1.0;
        (k * irrational).fract()
    };
    for (unit, decimals) in [(Unit::Mm, 3), (Unit::Inch, 4)] {
        let mut r = router();
        r.dialect = Dialect { decimals, ..r.dialect };
        let d = design(r, vec![super::bench::cutter("up-cut", 6.35, CutterKind::UpCut)], unit);
        let mut moves = Vec::new();
        let mut here = Point3::new(500.0, 500.0, 20.0);
        let start = baywright::geom::Point::new(here.x, here.y);
        for _ in 0..10_000 {
            let radius = 0.05 * 4000_f64.powf(next(0.754_877_666_246_693));
            let angle = next(0.618_033_988_749_895) * std::f64::consts::TAU;
            let sweep = (next(0.569_840_290_998_053) * std::f64::consts::PI).max(0.001);
            let ccw = next(0.414_213_562_373_095) < 0.5;
            let centre = baywright::geom::Point::new(here.x - radius * angle.cos(), here.y - radius * angle.sin());
            let end = angle + if ccw { sweep } else { -sweep };
            let to = Point3::new(centre.x + radius * end.cos(), centre.y + radius * end.sin(), here.z - 0.000_1);
            moves.push(Move::Arc { to, centre, ccw, feed: 1000.0 });
            here = to;
        }
        moves.push(Move::Rapid { to: Point3 { z: 20.1, ..here } });
        let p = Program {
            board: baywright::design::BoardId(0),
            sheet: 0,
            side: SheetSide::First,
            order: 1,
            cutter: d.process.cutters[0].clone(),
            rpm: 16_000.0,
            thickness: Mm(14.8),
            clearance: Mm(20.1),
            blocks: vec![Block {
                placement: None,
                feature: "arcs".into(),
                label: "arcs".into(),
                work: Work::Outlines,
                restart: None,
                tabs: None,
                start,
                moves,
            }],
            run_s: 1.0,
            times: Vec::new(),
            set_up: SetUp::only(),
            trace: None,
        };
        let text = program(&d.process.machine, &p, &[]);
        check(&d.process.machine, &p, &text);
        let arcs = String::from_utf8(text).unwrap().lines().filter(|l| l.contains("G2 ") || l.contains("G3 ")).count();
        // Nearly all stay arcs: only those that vanish in rounding do not.
        assert!(arcs > 9_000, "{arcs}");
    }
}

#[test]
fn chords_stay_within_two_thousandths_of_their_arcs() {
    let mut j = job();
    let mut r = router();
    (r.dialect.arcs, r.dialect.decimals) = (false, 5);
    j.design.process.machine = Arc::new(machine(r, Unit::Mm));
    let all = j.sound();
    let p = all.iter().find(|p| p.blocks.iter().any(|b| b.feature == "bored")).unwrap();
    let text = String::from_utf8(program(&j.design.process.machine, p, &[])).unwrap();
    let bore = text.split("bored)").nth(1).unwrap().split('(').next().unwrap();
    // The bore's centre on the sheet: (90, 30) turned by a quarter, then moved.
    let centre = (600.0 - 30.0, 40.0 + 90.0);
    let orbit = 4.5 - p.cutter.diameter.0 / 2.0;
    let mut here: Option<(f64, f64)> = None;
    let mut chords = 0;
    for line in bore.lines().filter(|l| l.contains("G1 ")) {
        let w = words(line);
        let get = |c: char, old: f64| w.iter().find(|x| x.0 == c).map_or(old, |x| x.1);
        let (x, y) = (get('X', here.map_or(f64::NAN, |h| h.0)), get('Y', here.map_or(f64::NAN, |h| h.1)));
        if let Some((x0, y0)) = here {
            let (ends, middle) = (
                (x - centre.0).hypot(y - centre.1),
                (f64::midpoint(x, x0) - centre.0).hypot(f64::midpoint(y, y0) - centre.1),
            );
            if (ends - orbit).abs() < 1e-4 && (x0 - centre.0).hypot(y0 - centre.1) > orbit - 1e-4 {
                assert!(orbit - middle < 0.002 + 1e-4, "{line}");
                chords += 1;
            }
        }
        here = (!x.is_nan() && !y.is_nan()).then_some((x, y));
    }
    assert!(chords > 100, "{chords}");
}
