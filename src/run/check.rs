//! `check`: derive, judge, print; write nothing.

use super::derive::{derive_with, Change, Derived};
use super::screen::{counted, tally, Screen};
use super::{ledger, other_board, Outcome, Trouble};
use crate::cli::{CheckArgs, Common};
use crate::design::Design;
use crate::diag::render;
use crate::fit::{self, AssemblyStep, LedgerLine, LoadPlan, Way};
use crate::geom::Axis;
use crate::parts::Model;
use crate::units::{Mm, Unit};
use serde_json::{json, Value};

pub(super) fn run(args: &CheckArgs, common: &Common, screen: &Screen) -> Result<Outcome, Trouble> {
    let derived = derive_with(&args.project, common.profiles.as_deref(), Change::None)?;
    if !args.with.is_empty() {
        let other = derive_with(&args.project, common.profiles.as_deref(), Change::Boards(&args.with))?;
        return other_board::compare(&derived, &other, &args.with, screen);
    }
    let more = derived.design.as_ref().zip(derived.model.as_ref()).map(|(d, m)| More::of(d, m));
    if screen.json {
        let lines: Vec<Value> = derived.ledger.iter().flat_map(|l| &l.lines).map(as_data).collect();
        let mut data = json!({ "findings": render::json(&derived.findings, &derived.texts), "ledger": lines });
        if let (Some(more), Some(model)) = (&more, &derived.model) {
            data["ways"] = more.ways.iter().map(way_data).collect();
            data["loading"] = more.loads.iter().map(load_data).collect();
            data["assembly"] = more.steps.iter().map(|s| step_data(s, model)).collect();
        }
        Screen::data(&data)?;
    } else {
        show(&derived, more.as_ref(), screen)?;
    }
    Ok(if derived.has_stop() { Outcome::Stopped } else { Outcome::Fine })
}

fn show(derived: &Derived, more: Option<&More>, screen: &Screen) -> Result<Outcome, Trouble> {
    screen.findings(&derived.findings, &derived.texts);
    let unit = derived.design.as_ref().map_or(Unit::Mm, |d| d.units);
    if let Some(ledger) = &derived.ledger {
        Screen::print(&ledger::table(ledger, unit))?;
    }
    if let Some(more) = more {
        Screen::print(&ledger::ways(&more.ways, unit))?;
        Screen::print(&ledger::loading(&more.loads, unit))?;
    }
    let panels = derived.model.as_ref().map_or(0, |m| m.panels.len());
    Screen::print(&format!("{}; {}\n", counted(panels, "panel"), tally(&derived.findings)))
}

/// What is known beside the gaps.
struct More {
    ways: Vec<Way>,
    loads: Vec<LoadPlan>,
    steps: Vec<AssemblyStep>,
}

impl More {
    fn of(design: &Design, model: &Model) -> Self {
        let steps = fit::assemble(model).value.unwrap_or_default();
        Self { ways: fit::ways(design, model), loads: fit::load(design, model), steps }
    }
}

fn finite(x: Mm) -> Value {
    if x.0.is_finite() {
        json!(x.0)
    } else {
        Value::Null
    }
}

fn as_data(line: &LedgerLine) -> Value {
    json!({
        "gap": line.gap,
        "nominal_mm": line.nominal,
        "worst_min_mm": line.worst.min, "worst_max_mm": line.worst.max,
        "rss_min_mm": line.likely.min, "rss_max_mm": line.likely.max,
        "required_min_mm": finite(line.required.min), "required_max_mm": finite(line.required.max),
        "source": line.source,
        "verdict": line.verdict.word(),
        "contributors": line.contributors.iter().map(|c| json!({
            "source": c.source.label, "sensitivity": c.sensitivity, "reach_mm": c.reach, "share": c.share,
        })).collect::<Vec<_>>(),
    })
}

fn way_data(way: &Way) -> Value {
    json!({
        "name": way.name, "travel_mm": way.travel, "nearest": way.nearest, "air_mm": finite(way.air),
        "turn_deg": way.turned.map(|t| t[0].to_degrees()), "at_turn_deg": way.turned.map(|t| t[1].to_degrees()),
        "at_travel_mm": way.at, "side": way.side, "needs": way.needs,
    })
}

fn load_data(load: &LoadPlan) -> Value {
    json!({ "unit": load.unit, "size_mm": load.size, "passes": load.passes, "moves": load.moves })
}

fn step_data(step: &AssemblyStep, model: &Model) -> Value {
    let along = step.along.map(|axis| match axis {
        Axis::PlusX => "to the right",
        Axis::MinusX => "to the left",
        Axis::PlusY => "in",
        Axis::MinusY => "out",
        Axis::PlusZ => "up",
        Axis::MinusZ => "down",
    });
    let ids: Vec<&str> = step.panels.iter().filter_map(|id| Some(model.panels.get(id.0)?.id.as_str())).collect();
    json!({ "group": step.group, "what": step.what, "panels": ids, "moves": along })
}
