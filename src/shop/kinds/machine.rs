//! Routers and lasers.

use super::{laser, stored, word, Needs, Profile};
use crate::shop::fields::Fields;
use crate::shop::file::Sign;
use crate::shop::rows::Row;
use crate::shop::{Basis, Dialect, Habits, HoldDown, HoldDownScrews, Machine, Process, Router, ZZero};
use crate::units::{decimal, Mm, Unit};
use std::f64::consts::FRAC_PI_2;

const UNITS: [(&str, Unit); 2] = [("mm", Unit::Mm), ("in", Unit::Inch)];
const Z_ZEROS: [(&str, ZZero); 2] = [("spoilboard", ZZero::Spoilboard), ("sheet-top", ZZero::SheetTop)];
const ROUGH: [(&str, bool); 2] = [("same", false), ("other", true)];
const PROCESSES: [(&str, bool); 2] = [("router", true), ("laser", false)];
/// Work offsets of RS274/NGC that one word can name.
const WORK_OFFSETS: [(&str, &str); 6] =
    [("G54", "G54"), ("G55", "G55"), ("G56", "G56"), ("G57", "G57"), ("G58", "G58"), ("G59", "G59")];
/// Longest file ending.
const ENDING_LETTERS: usize = 8;

impl Profile for Machine {
    const KIND: &'static str = "machine";

    fn read(id: String, f: &mut Fields<'_>, needs: &mut Needs) -> Option<Self> {
        let name = f.text("name");
        let units = f.choice("units", &UNITS);
        let travel = f.lengths::<3>("travel", Sign::Positive);
        let rapid = f.length("rapid_mm_min", Sign::Positive);
        let feed_max = f.length("feed_max_mm_min", Sign::Positive);
        let accel = f.length("accel_mm_s2", Sign::Positive);
        let process = match f.choice("process", &PROCESSES) {
            Some(true) => router(f, needs, travel).map(|router| Process::Router(Box::new(router))),
            Some(false) => f.inner("laser", laser::read).map(Process::Laser),
            None => {
                for key in ["router", "program", "laser"] {
                    f.has(key);
                }
                None
            }
        };
        f.likely("travel", travel.as_ref().map_or(&[], |reach| &reach[..2]), 100.0..=20_000.0);
        if let (Some(rapid), Some(feed)) = (rapid, feed_max) {
            if feed > rapid {
                let message = format!("`feed_max_mm_min` {feed} is more than `rapid_mm_min` {rapid}");
                f.clash("feed_max_mm_min", &message, "lower it");
                return None;
            }
        }
        Some(Self {
            id,
            name: name?,
            units: units?,
            travel: travel?,
            process: process?,
            rapid_mm_min: rapid?.0,
            feed_max_mm_min: feed_max?.0,
            accel_mm_s2: accel?.0,
            basis: Basis::new(),
        })
    }

    fn rows(&self) -> Vec<Row> {
        let mut rows = vec![
            Row::word("units", word(&UNITS, &self.units)),
            Row::lengths("travel", &self.travel, " x "),
            Row::number("rapid_mm_min", self.rapid_mm_min, "mm/min"),
            Row::number("feed_max_mm_min", self.feed_max_mm_min, "mm/min"),
            Row::number("accel_mm_s2", self.accel_mm_s2, "mm/s²"),
        ];
        match &self.process {
            Process::Router(router) => {
                rows.push(Row::word("process", "router"));
                rows.extend(router_rows(router));
                rows.extend(program_rows(&router.dialect));
            }
            Process::Laser(laser) => rows.extend(laser::rows(laser)),
        }
        rows
    }

    fn summary(&self) -> String {
        let process = match &self.process {
            Process::Router(router) => format!("router, {} cutters", router.cutters.len()),
            Process::Laser(laser) => format!("laser, kerf {} mm", laser.kerf),
        };
        let unit = match self.units {
            Unit::Mm => "millimetres",
            Unit::Inch => "inches",
        };
        format!("{process}, {} x {} mm, files in {}", self.travel[0], self.travel[1], unit)
    }

    stored!(machines);
}

fn router(f: &mut Fields<'_>, needs: &mut Needs, travel: Option<[Mm; 3]>) -> Option<Router> {
    let dialect = f.inner("program", program);
    f.inner("router", |f| router_table(f, needs, travel, dialect))
}

fn router_table(f: &mut Fields<'_>, needs: &mut Needs, travel: Option<[Mm; 3]>, dialect: Option<Dialect>) -> Option<Router> {
    let cutters = f.references("cutters");
    let rpm = f.number_window("rpm");
    let z_zero = f.choice("z_zero", &Z_ZEROS);
    let clearance = f.length("clearance", Sign::Positive);
    let overcut = f.length("overcut", Sign::NotNegative);
    let floor = f.length("floor", Sign::NotNegative);
    let part_gap = f.length("part_gap", Sign::NotNegative);
    let sheet_margin = f.length("sheet_margin", Sign::NotNegative);
    let ramp = f.number("ramp_angle_deg", Sign::Positive).map(f64::to_radians);
    let spindle_wait_s = f.number("spindle_wait_s", Sign::NotNegative);
    let climb = f.flag("climb");
    let hold_down = f.inner("hold_down", hold_down);
    let park = f.lengths::<2>("park", Sign::NotNegative);
    let habits = habits(f);
    let mut fits = true;
    if let (Some(overcut), Some(floor)) = (overcut, floor) {
        if overcut > floor {
            let message = format!("`router.overcut` {overcut} mm goes below `router.floor` {floor} mm");
            f.clash("overcut", &message, "lower it, or deepen `floor`");
            fits = false;
        }
    }
    if ramp.is_some_and(|angle| angle >= FRAC_PI_2) {
        f.clash("ramp_angle_deg", "`router.ramp_angle_deg` must be less than 90", "write a few degrees");
        fits = false;
    }
    if let (Some(park), Some(travel)) = (park, travel) {
        if park[0] > travel[0] || park[1] > travel[1] {
            f.clash("park", "`router.park` lies beyond `travel`", "move it inside");
            fits = false;
        }
    }
    if z_zero == Some(ZZero::SheetTop) && matches!(hold_down, Some(HoldDown::Skin { .. })) {
        f.clash("hold_down", "a skin needs z zero on the spoilboard: the sheet's thickness error would cut it", "use tabs");
        fits = false;
    }
    if let Some(cutters) = &cutters {
        let twice = cutters.iter().enumerate().find(|(i, cutter)| cutters[..*i].iter().any(|other| other.id == cutter.id));
        if let Some((_, cutter)) = twice {
            f.clash("cutters", &format!("`router.cutters` names `{}` twice", cutter.id), "take one out");
            fits = false;
        }
    }
    let cutters = cutters.map(|cutters| {
        let ids: Vec<String> = cutters.iter().map(|cutter| cutter.id.clone()).collect();
        needs.cutters.extend(cutters);
        ids
    });
    if !fits {
        return None;
    }
    Some(Router {
        cutters: cutters?,
        rpm: rpm?,
        z_zero: z_zero?,
        clearance: clearance?,
        overcut: overcut?,
        floor: floor?,
        part_gap: part_gap?,
        sheet_margin: sheet_margin?,
        ramp_angle: ramp?,
        spindle_wait_s: spindle_wait_s?,
        climb: climb?,
        hold_down: hold_down?,
        dialect: dialect?,
        park: park?,
        habits: habits?,
    })
}

/// Keys that may be left out: `edge_pass`, `rough_direction`, `air_trace`, `hold_down_screws`.
fn habits(f: &mut Fields<'_>) -> Option<Habits> {
    let usual = Habits::default();
    let edge_pass = f.or_usual("edge_pass", usual.edge_pass, |f, key| f.length(key, Sign::Positive).map(Some));
    let rough_other_way = f.or_usual("rough_direction", usual.rough_other_way, |f, key| f.choice(key, &ROUGH));
    let air_trace = f.or_usual("air_trace", usual.air_trace, Fields::flag);
    let screws = f.or_usual("hold_down_screws", usual.screws, |f, key| f.inner(key, hold_down_screws).map(Some));
    Some(Habits { edge_pass: edge_pass?, rough_other_way: rough_other_way?, air_trace: air_trace?, screws: screws? })
}

fn hold_down_screws(f: &mut Fields<'_>) -> Option<HoldDownScrews> {
    let hole = f.length("hole", Sign::Positive);
    let head = f.length("head", Sign::Positive);
    let head_height = f.length("head_height", Sign::NotNegative);
    let spacing = f.length("spacing", Sign::Positive);
    let screws = HoldDownScrews { hole: hole?, head: head?, head_height: head_height?, spacing: spacing? };
    if screws.head < screws.hole {
        let message = format!("a screw's head of {} mm falls through its hole of {} mm", screws.head, screws.hole);
        f.clash("head", &message, "make `head` wider than `hole`");
        return None;
    }
    Some(screws)
}

/// `{ tabs = { length, height, spacing } }` or `{ skin = thickness }`.
fn hold_down(f: &mut Fields<'_>) -> Option<HoldDown> {
    if f.has("skin") {
        return f.length("skin", Sign::Positive).map(|thickness| HoldDown::Skin { thickness });
    }
    f.inner("tabs", |f| {
        let length = f.length("length", Sign::Positive);
        let height = f.length("height", Sign::Positive);
        let spacing = f.length("spacing", Sign::Positive);
        Some(HoldDown::Tabs { length: length?, height: height?, spacing: spacing? })
    })
}

fn program(f: &mut Fields<'_>) -> Option<Dialect> {
    let decimals = f.whole("decimals", 3, 6);
    let arcs = f.flag("arcs");
    let drill_cycles = f.flag("drill_cycles");
    let line_numbers = f.or_usual("line_numbers", None, |f, key| f.whole(key, 1, 1000).map(Some));
    let crlf = f.flag("crlf");
    let percent = f.flag("percent");
    let tool_change_in_file = f.flag("tool_change_in_file");
    let work_offset = f.choice("work_offset", &WORK_OFFSETS);
    let file_ending = f.text("file_ending");
    let first_move_pause = f.flag("first_move_pause");
    let plain = |ending: &str| ending.len() <= ENDING_LETTERS && ending.chars().all(|c| c.is_ascii_alphanumeric());
    if file_ending.as_deref().is_some_and(|ending| !plain(ending)) {
        f.clash(
            "file_ending",
            "`program.file_ending` must be a few plain letters or digits without the dot",
            "write `nc`, say",
        );
        return None;
    }
    Some(Dialect {
        decimals: decimals? as usize,
        arcs: arcs?,
        drill_cycles: drill_cycles?,
        line_numbers: line_numbers?,
        crlf: crlf?,
        percent: percent?,
        tool_change_in_file: tool_change_in_file?,
        work_offset: work_offset?.to_owned(),
        file_ending: file_ending?,
        first_move_pause: first_move_pause?,
    })
}

fn router_rows(router: &Router) -> Vec<Row> {
    let (slowest, fastest) = router.rpm;
    let mut rows = vec![
        Row::words("router.cutters", &router.cutters),
        Row::other(
            "router.rpm",
            format!("{} to {} 1/min", decimal(slowest, 0), decimal(fastest, 0)),
            serde_json::json!([slowest, fastest]),
            "1/min",
        ),
        Row::word("router.z_zero", word(&Z_ZEROS, &router.z_zero)),
        Row::length("router.clearance", router.clearance),
        Row::length("router.overcut", router.overcut),
        Row::length("router.floor", router.floor),
        Row::length("router.part_gap", router.part_gap),
        Row::length("router.sheet_margin", router.sheet_margin),
        Row::number("router.ramp_angle_deg", router.ramp_angle.to_degrees(), "°"),
        Row::number("router.spindle_wait_s", router.spindle_wait_s, "s"),
        Row::flag("router.climb", router.climb),
    ];
    match router.hold_down {
        HoldDown::Tabs { length, height, spacing } => rows.extend([
            Row::length("router.hold_down.tabs.length", length),
            Row::length("router.hold_down.tabs.height", height),
            Row::length("router.hold_down.tabs.spacing", spacing),
        ]),
        HoldDown::Skin { thickness } => rows.push(Row::length("router.hold_down.skin", thickness)),
    }
    rows.push(Row::lengths("router.park", &router.park, ", "));
    let habits = &router.habits;
    rows.extend(habits.edge_pass.map(|left| Row::length("router.edge_pass", left)));
    // What a profile may leave out is shown where it is done.
    if habits.rough_other_way {
        rows.push(Row::word("router.rough_direction", word(&ROUGH, &true)));
    }
    if habits.air_trace {
        rows.push(Row::flag("router.air_trace", true));
    }
    if let Some(screws) = habits.screws {
        rows.extend([
            Row::length("router.hold_down_screws.hole", screws.hole),
            Row::length("router.hold_down_screws.head", screws.head),
            Row::length("router.hold_down_screws.head_height", screws.head_height),
            Row::length("router.hold_down_screws.spacing", screws.spacing),
        ]);
    }
    rows
}

fn program_rows(dialect: &Dialect) -> Vec<Row> {
    let mut rows = vec![
        Row::count("program.decimals", dialect.decimals as u32),
        Row::flag("program.arcs", dialect.arcs),
        Row::flag("program.drill_cycles", dialect.drill_cycles),
    ];
    rows.extend(dialect.line_numbers.map(|step| Row::count("program.line_numbers", step)));
    rows.extend([
        Row::flag("program.crlf", dialect.crlf),
        Row::flag("program.percent", dialect.percent),
        Row::flag("program.tool_change_in_file", dialect.tool_change_in_file),
        Row::word("program.work_offset", &dialect.work_offset),
        Row::word("program.file_ending", &dialect.file_ending),
        Row::flag("program.first_move_pause", dialect.first_move_pause),
    ]);
    rows
}
