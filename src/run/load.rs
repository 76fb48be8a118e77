//! `load`: the page of mass, strength and restraint; writes nothing.

use super::screen::{tally, Screen};
use super::{derive, Derived, Outcome, Trouble};
use crate::cli::{Common, LoadArgs};
use crate::design::Design;
use crate::diag::{render, Finding, Severity};
use crate::fit::load::{self, Cost, LoadReport, Section, SheetsUsed};
use crate::flat;
use crate::nest::{self, Options};
use crate::parts::Model;
use crate::toolpath;
use serde_json::{json, Value};
use std::fmt::Write as _;

pub(super) fn run(args: &LoadArgs, common: &Common, screen: &Screen) -> Result<Outcome, Trouble> {
    let derived = derive(&args.project, common.profiles.as_deref())?;
    let (Some(design), Some(model), Some(report)) = (&derived.design, &derived.model, &derived.load) else {
        return nothing(&derived, screen);
    };
    let cut = cut(design, model);
    let run_s = cut.run_s;
    let (cost, mut page) = load::add_up(design, &report.hardware, cut.sheets.as_deref(), run_s);
    page.lines.extend(cut.bounds);
    let mine = |f: &&Finding| load::codes::ALL.contains(&f.code) || f.severity == Severity::Stop;
    let findings: Vec<Finding> = derived.findings.iter().filter(mine).cloned().collect();
    if screen.json {
        Screen::data(&data(&derived, report, &cost, run_s, &findings))?;
    } else {
        screen.findings(&findings, &derived.texts);
        let mut text = format!("{}\nMass, strength, restraint\n", design.title);
        for section in report.sections.iter().chain([&page]) {
            append(&mut text, section);
        }
        let _ = writeln!(text, "\n{}", tally(&findings));
        Screen::print(&text)?;
    }
    Ok(if derived.has_stop() { Outcome::Stopped } else { Outcome::Fine })
}

fn nothing(derived: &Derived, screen: &Screen) -> Result<Outcome, Trouble> {
    if screen.json {
        Screen::data(&json!({ "load": null, "findings": render::json(&derived.findings, &derived.texts) }))?;
    } else {
        screen.findings(&derived.findings, &derived.texts);
        screen.say(&format!("Nothing could be weighed: {}.", tally(&derived.findings)));
    }
    Ok(Outcome::Stopped)
}

fn append(text: &mut String, section: &Section) {
    let _ = writeln!(text, "\n{}", section.title.to_uppercase());
    for line in &section.lines {
        let inset = line.len() - line.trim_start().len();
        let mut left = String::new();
        for word in line.trim_start().split(' ') {
            let start = if left.is_empty() { " ".repeat(inset) } else { left.clone() };
            let longer = if left.is_empty() { format!("{start}{word}") } else { format!("{start} {word}") };
            if longer.chars().count() > LINE && !left.is_empty() {
                let _ = writeln!(text, "{left}");
                left = format!("{}{word}", " ".repeat(inset + 4));
            } else {
                left = longer;
            }
        }
        let _ = writeln!(text, "{left}");
    }
}

/// Longest line of the page, in characters.
const LINE: usize = 128;

/// Sheets and cutting time of a usual layout, as far as the parts can be laid and planned.
#[derive(Default)]
struct Cut {
    sheets: Option<Vec<SheetsUsed>>,
    run_s: Option<f64>,
    /// What another layout could save.
    bounds: Vec<String>,
}

fn cut(design: &Design, model: &Model) -> Cut {
    let Some(parts) = flat::flatten(design, model).value else { return Cut::default() };
    let Some(layout) = nest::lay_out(design, &parts, &Options::default()).value else { return Cut::default() };
    let mut used: Vec<SheetsUsed> = Vec::new();
    for sheet in &layout.sheets {
        match used.iter_mut().find(|u| u.board == sheet.board && u.stock == sheet.stock) {
            Some(same) => same.count += 1,
            None => used.push(SheetsUsed { board: sheet.board, stock: sheet.stock, count: 1 }),
        }
    }
    let bound = |b: &nest::BoardBound| {
        let name = &design.boards[b.board.0].name;
        if b.sheets > b.sheets_at_least {
            format!("Another layout of {name} could save {} of {} sheets at most.", b.sheets - b.sheets_at_least, b.sheets)
        } else {
            format!("No layout of {name} uses fewer than {} sheets.", b.sheets)
        }
    };
    let run_s = toolpath::plan(design, &parts, &layout).value.map(|all| all.iter().map(|p| p.run_s).sum());
    Cut { sheets: Some(used), run_s, bounds: layout.bounds.iter().map(bound).collect() }
}

fn data(derived: &Derived, report: &LoadReport, cost: &Cost, run_s: Option<f64>, findings: &[Finding]) -> Value {
    let set = &report.set.accelerations;
    let force = |f: &load::AnchorForce| json!({ "pull_n": f.pull_n, "shear_n": f.shear_n, "total_n": f.total() });
    let finite = |x: f64| if x.is_finite() { json!(x) } else { Value::Null };
    json!({
        "mass_kg": report.mass_kg,
        "centre_closed_mm": report.centres.map(|c| c[0]),
        "centre_pulled_out_mm": report.centres.map(|c| c[1]),
        "bodies": report.bodies.iter().map(|b| json!({
            "name": b.name, "wood_kg": b.wood_kg, "hardware_kg": b.hardware_kg, "goods_kg": b.goods_kg,
            "centre_mm": b.centre, "travel_mm": b.travel,
        })).collect::<Vec<_>>(),
        "payload": {
            "unit_kg": report.payload.unit_kg, "others_kg": report.payload.others_kg, "payload_kg": report.payload.payload_kg,
            "rear_axle_kg": report.payload.axles_kg.map(|a| a[0]), "front_axle_kg": report.payload.axles_kg.map(|a| a[1]),
        },
        "goods": report.stowed.iter().map(|s| json!({
            "place": s.place, "room_mm": s.room.map(|r| finite(r.0)), "mass_kg": s.mass_kg, "left_out": s.left_out,
            "standing": s.standing.iter().map(|t| json!({
                "name": t.name, "high": t.high, "mass_kg": t.mass_kg, "at_mm": t.at, "size_mm": t.size,
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "bending": report.bent.iter().map(|b| json!({
            "part": b.part, "span_mm": b.span, "load_kg": b.load_kg, "first_mm": b.first, "lasting_mm": b.lasting,
            "stress_n_mm2": b.stress, "least_thickness_mm": b.least,
        })).collect::<Vec<_>>(),
        "slides": report.slides.iter().map(|s| json!({
            "drawer": s.name, "moving_kg": s.moving_kg, "rating_kg": s.rating_kg, "derated_kg": s.derated_kg,
            "latch_n": s.latch_n,
        })).collect::<Vec<_>>(),
        "accelerations": {
            "forward_g": set.forward, "back_g": set.back, "side_g": set.side, "up_g": set.up, "source": set.source,
        },
        "restraint": report.held.iter().map(|h| json!({
            "unit": h.name, "mass_kg": h.mass_kg, "centre_mm": h.centre,
            "cases": h.cases.iter().map(|c| json!({
                "name": c.name, "acceleration_g": c.acceleration_g,
                "anchors": c.forces.iter().map(force).collect::<Vec<_>>(),
                "one_lost": c.one_lost.iter().map(force).collect::<Vec<_>>(),
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "screws": report.screws.iter().map(|s| json!({
            "place": s.place, "unit": s.unit, "count": s.count, "length_mm": s.length, "bite_mm": s.bite(), "beyond_mm": s.beyond(),
        })).collect::<Vec<_>>(),
        "hardware": report.hardware.iter().map(|h| json!({
            "name": h.name, "profile": h.profile, "quantity": h.quantity, "spare": h.spare,
        })).collect::<Vec<_>>(),
        "cost": {
            "boards": cost.boards, "hardware": cost.hardware, "machine": cost.machine, "total": cost.total(), "run_s": run_s,
            "unpriced": cost.unpriced,
        },
        "page": report.sections.iter().map(|s| json!({ "title": s.title, "lines": s.lines })).collect::<Vec<_>>(),
        "findings": render::json(findings, &derived.texts),
    })
}
