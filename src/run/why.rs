//! `why`: where a size comes from.

use super::screen::Screen;
use super::{derive, Outcome, Trouble};
use crate::cli::{Common, WhyArgs};
use crate::diag::Severity;
use crate::parts::{why, Model};
use serde_json::json;

pub(super) fn run(args: &WhyArgs, common: &Common, screen: &Screen) -> Result<Outcome, Trouble> {
    let derived = derive(&args.project, common.profiles.as_deref())?;
    let Some(model) = &derived.model else {
        screen.findings(&derived.findings, &derived.texts);
        return Ok(Outcome::Stopped);
    };
    let Some(what) = &args.what else { return names(model, screen) };
    let dims = why::find(model, what).map_err(|close| {
        let near = if close.is_empty() {
            String::from("run `why` without a name to list all")
        } else {
            format!("nearest: {}", close.join("; "))
        };
        Trouble::new(format!("there is no part, size or gap called \"{what}\""), near)
    })?;
    let reasons: Vec<why::Reason> = dims.iter().map(|d| why::explain(d, &derived.texts)).collect();
    if screen.json {
        return Screen::data(&json!(reasons));
    }
    let stops: Vec<_> = derived.findings.iter().filter(|f| f.severity == Severity::Stop).cloned().collect();
    screen.findings(&stops, &derived.texts);
    for (reason, dim) in reasons.iter().zip(&dims) {
        Screen::print(&why::lines(reason))?;
        if let Some(n) = args.inches {
            let inches = crate::units::inches(dim.nominal(), n.into());
            Screen::print(&format!("  in inches: {inches}\n"))?;
        }
    }
    Ok(Outcome::Fine)
}

/// Everything that can be asked about.
fn names(model: &Model, screen: &Screen) -> Result<Outcome, Trouble> {
    let parts: Vec<_> = model.panels.iter().map(|p| format!("{}  {}", p.id, p.name)).collect();
    let sizes: Vec<_> = model.sizes.iter().filter_map(|d| d.name()).collect();
    let gaps: Vec<_> = model.gaps.iter().map(|g| g.name.as_str()).collect();
    if screen.json {
        return Screen::data(&json!({ "parts": parts, "sizes": sizes, "gaps": gaps }));
    }
    Screen::print(&format!(
        "Parts:\n  {}\nSizes:\n  {}\nGaps:\n  {}\n",
        parts.join("\n  "),
        sizes.join("\n  "),
        gaps.join("\n  ")
    ))
}
