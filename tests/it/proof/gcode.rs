//! The RS274/NGC interpreter against the worked examples of NISTIR 6556 (Kramer, Proctor, Messina, 17 August 2000).

use baywright::proof::read_gcode::{self, Move, Path, Place, Reading, Spindle};
use baywright::proof::Fault;
use baywright::units::Mm;

fn place(x: f64, y: f64, z: f64) -> Place {
    Place::new(Mm(x), Mm(y), Mm(z))
}

/// Reads a file of one cutter.
fn read(bytes: &[u8]) -> Result<Reading, Fault> {
    read_gcode::read(bytes).map(|mut all| all.remove(0))
}

/// Runs a few lines from a place, as the report's examples do.
fn from(x: f64, y: f64, z: f64, lines: &str) -> Result<Vec<Move>, String> {
    read_gcode::read_from(format!("{lines}\nM2\n").as_bytes(), place(x, y, z))
        .map(|r| r.into_iter().flat_map(|r| r.moves).collect())
        .map_err(|f| format!("line {}: {}", f.line, f.message))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-4
}

fn arc(m: &Move) -> (f64, f64, f64, f64) {
    let Path::Arc { centre_x, centre_y, sweep_rad } = m.path else { panic!("not an arc: {m:?}") };
    let radius = (m.from.x.0 - centre_x.0).hypot(m.from.y.0 - centre_y.0);
    (centre_x.0, centre_y.0, radius, sweep_rad.to_degrees())
}

#[track_caller]
fn assert_arc(lines: &str, start: (f64, f64), expected: (f64, f64, f64, f64)) {
    let moves = from(start.0, start.1, 0.0, lines).unwrap();
    let got = arc(&moves[0]);
    let same = near(got.0, expected.0) && near(got.1, expected.1) && near(got.2, expected.2) && near(got.3, expected.3);
    assert!(same, "{lines}: {got:?} for {expected:?}");
}

fn heights(moves: &[Move]) -> Vec<(bool, f64, f64, f64)> {
    moves.iter().map(|m| (m.path == Path::Rapid, m.to.x.0, m.to.y.0, (m.to.z.0 * 1e6).round() / 1e6)).collect()
}

#[test]
fn arcs_of_the_report() {
    // 3.5.3.2: from (7, 7).
    assert_arc("G17 G2 X10 Y16 I3 J4", (7.0, 7.0), (10.0, 11.0, 5.0, -143.1301));
    // Appendix C.1, n0190, n0320, n0490, n0590.
    assert_arc("g3 x13.5 y0 i-2.5", (16.0, 2.5), (13.5, 2.5, 2.5, 270.0));
    assert_arc("g2 x32.5 j2.5", (32.5, 0.0), (32.5, 2.5, 2.5, -360.0));
    assert_arc("g2 x69 r4", (64.0, 4.0), (66.5, 0.877_501, 4.0, -77.3644));
    assert_arc("g2 j2.5 y5", (79.5, 0.0), (79.5, 2.5, 2.5, -180.0));
    // 3.5.3.1: a negative radius takes the longer way.
    assert_arc("g2 x69 r-4", (64.0, 4.0), (66.5, 7.122_499, 4.0, -282.6356));
    // 3.5.17: I and J stay increments under G90 and G91 alike.
    assert_arc("g91 g3 x-2.5 y-2.5 i-2.5", (16.0, 2.5), (13.5, 2.5, 2.5, 270.0));
}

#[test]
fn a_helix_changes_height_evenly() {
    let moves = from(16.0, 2.5, 4.0, "g3 x13.5 y0 z-1 i-2.5").unwrap();
    assert_eq!(moves[0].from.z, Mm(4.0));
    assert_eq!(moves[0].to, place(13.5, 0.0, -1.0));
}

#[test]
fn arcs_whose_radii_differ_are_faults() {
    // 3.5.3.2: 0.002 mm under G21, 0.0002 in under G20.
    for (line, good) in [
        ("g2 x10 y0 i5", true),
        ("g2 x10.0018 y0 i5", true),
        ("g2 x10.0025 y0 i5", false),
        ("g20 g2 x10.0001 y0 i5", true),
        ("g20 g2 x10.0003 y0 i5", false),
        ("g2 x10 y0 i0 j0", false),
        ("g2 x0 y0 i5", true),
        ("g2 i5", false),
        ("g2 x10 y0", false),
        ("g2 x10 y0 i5 r5", false),
        ("g2 x10 y0 i5 k1", false),
        ("g2 x0 y0 r5", false),
        ("g2 x10 y0 r4.9", false),
    ] {
        assert_eq!(from(0.0, 0.0, 0.0, line).is_ok(), good, "{line}");
    }
}

#[test]
fn drilling_examples_of_the_report() {
    // 3.5.16.2, example 1.
    let moves = from(1.0, 2.0, 3.0, "G90 G81 G98 X4 Y5 Z1.5 R2.8").unwrap();
    assert_eq!(
        heights(&moves),
        [(true, 4.0, 5.0, 3.0), (true, 4.0, 5.0, 2.8), (false, 4.0, 5.0, 1.5), (true, 4.0, 5.0, 3.0)]
    );
    // Example 2: the preliminary move up to R happens once.
    let moves = from(1.0, 2.0, 3.0, "G91 G81 G98 X4 Y5 Z-0.6 R1.8 L3").unwrap();
    let mut expected = vec![(true, 1.0, 2.0, 4.8)];
    for (x, y) in [(5.0, 7.0), (9.0, 12.0), (13.0, 17.0)] {
        expected.extend([(true, x, y, 4.8), (false, x, y, 4.2), (true, x, y, 4.8)]);
    }
    assert_eq!(heights(&moves), expected);
}

#[test]
fn sticky_words_and_return_levels() {
    // 3.5.16 and 3.5.20: R and Z stay, L does not; G99 goes back to R only.
    let moves = from(0.0, 0.0, 10.0, "G99 G81 X1 Y1 Z-2 R1 L2\nX5").unwrap();
    let bottoms: Vec<f64> = moves.iter().filter(|m| m.path == Path::Line).map(|m| m.to.x.0).collect();
    assert_eq!(bottoms, [1.0, 1.0, 5.0]);
    assert_eq!(moves.last().unwrap().to, place(5.0, 1.0, 1.0));
    // 3.5.16.3: G82 dwells at the bottom.
    let lines = b"G98 G82 X1 Y1 Z-2 R1 P0.5\nX2\nM2\n";
    let dwell = read_gcode::read_from(lines, place(0.0, 0.0, 5.0)).unwrap()[0].dwell_s;
    assert!(near(dwell, 1.0));
}

#[test]
fn pecking_comes_out_and_goes_back_to_just_above_the_bottom() {
    // 3.5.16.4.
    let moves = from(0.0, 0.0, 5.0, "G98 G83 X1 Y1 Z-5 R1 Q2.5").unwrap();
    let z: Vec<(bool, f64)> = heights(&moves).iter().map(|m| (m.0, m.3)).collect();
    assert_eq!(
        z,
        [
            (true, 5.0),
            (true, 1.0),
            (false, -1.5),
            (true, 5.0),
            (true, -1.246),
            (false, -4.0),
            (true, 5.0),
            (true, -3.746),
            (false, -5.0),
            (true, 5.0)
        ]
    );
}

#[test]
fn cycle_errors_of_the_report() {
    for line in [
        "G98 G81",
        "G98 G81 X1 Z1 R0",
        "G98 G81 X1 Z-1 R1 L0",
        "G98 G81 X1 Z-1 R1 L1.5",
        "G98 G81 X1 Z-1",
        "G98 G81 X1 R1",
        "G98 G82 X1 Z-1 R1 P-1",
        "G98 G82 X1 Z-1 R1",
        "G98 G83 X1 Z-1 R1 Q0",
        "G98 G83 X1 Z-1 R1",
        "G81 X1 Z-1 R1",
        "G98 G83 X1 Z-9000 R1 Q0.001",
        "G98 G81 X1 Z-1 R1\nG0 X2\nG81 X3",
    ] {
        assert!(from(0.0, 0.0, 5.0, line).is_err(), "{line}");
    }
}

#[test]
fn a_line_is_executed_in_the_order_of_table_8() {
    // The spindle starts and the feed is set before the motion, wherever the words stand.
    let moves = from(0.0, 0.0, 5.0, "X5 G1 M3 F200 S12000").unwrap();
    assert_eq!((moves[0].spindle, moves[0].feed_mm_min, moves[0].speed_rpm), (Spindle::Clockwise, 200.0, 12_000.0));
    // Units and distance mode come before the motion, the feed before the units.
    let moves = from(1.0, 0.0, 5.0, "X1 G1 F100 G91 G20").unwrap();
    assert!(near(moves[0].to.x.0, 26.4) && near(moves[0].feed_mm_min, 100.0));
    // The stop comes after the motion.
    assert_eq!(from(0.0, 0.0, 5.0, "M2 G0 X5").unwrap_err(), "line 2: words after the end of the program");
}

#[test]
fn words_that_may_not_stand_together_or_at_all() {
    for line in [
        "G0 G1 X1",
        "G90 G91",
        "G20 G21",
        "G54 G55",
        "M3 M5",
        "M0 M30",
        "M3 M5 M8 M48 M6",
        "X1 X2 G0",
        "G0 X",
        "G0 X1.2.3",
        "G0 X1e3",
        "G0 X--1",
        "G5 X1",
        "G28",
        "G92 X0",
        "G41 D1",
        "G43 H1",
        "G18",
        "G93",
        "G53 G0 X1",
        "M98 P1",
        "O100",
        "A1",
        "#1=2",
        "G0 X[1+1]",
        "G0 X1 ; remark",
        "G0 X1 (open",
        "G0 X1 (a (b))",
        "G0 X1)",
        "G0 X1 P5",
        "G0 X1 R5",
        "G1 X1 Q5",
        "G0 X1 N5",
        "N100000 G0 X1",
        "N1.5 G0 X1",
        "N-1 G0 X1",
        "G0 X9999999",
        "G4",
        "G4 P-1",
        "F-1",
        "S-1",
        "X1",
        "G80 X1",
        "\u{e9}",
    ] {
        assert!(from(0.0, 0.0, 5.0, line).is_err(), "{line} was accepted");
    }
    // 3.3: 256 characters at most.
    assert!(from(0.0, 0.0, 5.0, &format!("G0 X1 ({})", "a".repeat(248))).is_ok());
    assert!(from(0.0, 0.0, 5.0, &format!("G0 X1 ({})", "a".repeat(249))).is_err());
}

#[test]
fn spaces_case_and_comments_do_not_matter() {
    // 3.3.1 and 3.3.4: "g0x +0. 12 34y 7" is the report's own example of allowed spacing.
    let moves = from(0.0, 0.0, 0.0, "n5 g0x +0. 12 34y 7 (to the corner)(again)").unwrap();
    assert_eq!(moves[0].to, place(0.1234, 7.0, 0.0));
}

const START: &str = "G21 G17 G90 G94\nG40 G49 G80 G54\nG0 Z20\nM3 S18000\nG4 P5\nG0 X0 Y0\nG1 Z-1 F300\n";

#[test]
fn percent_lines_and_ends() {
    // 3.1: an opening percent line needs a closing one; without them M2 or M30 must end the program.
    for (text, good) in [
        (format!("{START}G0 Z20\nM30\n"), true),
        (format!("%\n{START}G0 Z20\nM30\n%\n"), true),
        (format!("%\r\n{START}G0 Z20\r\nM2\r\n%\r\n"), true),
        (format!("%\n{START}G0 Z20\nM30\n"), false),
        (format!("{START}G0 Z20\n"), false),
        (format!("%\n{START}G0 Z20\n%\n"), false),
        (format!("{START}%\nM30\n%\n"), false),
        (format!("{START}M30\nG0 Z20\n"), false),
        (String::new(), false),
    ] {
        assert_eq!(read(text.as_bytes()).is_ok(), good, "{text}");
    }
}

#[test]
fn another_cutter_is_put_in_where_the_file_stops_with_the_spindle_standing_that_has_turned() {
    let head = format!("{START}G0 Z20\nM0\nS18000 M3\nG0 X5 Y5\nG1 Z-1 F100\nG0 Z20\n");
    let tail = "G0 Z20\nS9000 M3\nG4 P5\nG0 X7 Y7\nG1 Z-2 F100\nG0 Z20\nM30\n";
    let readings = |text: &str| read_gcode::read(text.as_bytes()).unwrap();
    // A stop before the spindle has turned, or while it turns, is for the operator to look.
    for (stop, cutters) in [("M5\nM0\n", 2), ("M0\n", 1), ("M5\n", 1), ("M5\nM0\nM0\n", 2)] {
        assert_eq!(readings(&format!("{head}{stop}{tail}")).len(), cutters, "{stop:?}");
    }
    let both = readings(&format!("{head}M5\nM0\n{tail}"));
    let lows = both.iter().map(|r| r.moves.iter().map(|m| m.to.z.0).fold(f64::INFINITY, f64::min));
    assert_eq!(lows.collect::<Vec<_>>(), [-1.0, -2.0]);
    assert!(both.iter().all(|r| r.lifts_first && r.unstated.is_empty()));
    assert_eq!(both[1].run_up_s, 5.0);
    // Where the new cutter's tip is, nobody knows until it has been lifted.
    let across = tail.replacen("G0 Z20\n", "", 1);
    assert!(read_gcode::read(format!("{head}M5\nM0\n{across}").as_bytes()).is_err());
    // Places before and after would not compare.
    let offset = tail.replacen("G0 Z20\n", "G55\nG0 Z20\n", 1);
    assert!(read_gcode::read(format!("{head}M5\nM0\n{offset}").as_bytes()).is_err());
}

#[test]
fn the_reading_says_what_the_file_leaves_to_memory() {
    let reading = read(format!("{START}G0 Z20\nM30\n").as_bytes()).unwrap();
    assert_eq!((reading.unstated.len(), reading.lifts_first, reading.run_up_s), (0, true, 5.0));
    let reading = read(b"G21\nG90\nG0 Z20\nG0 X1 Y1\nM30\n").unwrap();
    assert_eq!(reading.unstated.len(), 5);
    for text in [
        "G0 X1\nM30\n",
        "G21 G90\nG0 X1\nM30\n",
        "G21 G90 G94\nG0 Z5\nG1 X1 Y1 F100\nM30\n",
        "G21 G91 G0 Z5\nM30\n",
        "F100 G21\nM30\n",
    ] {
        assert!(read(text.as_bytes()).is_err(), "{text}");
    }
}
