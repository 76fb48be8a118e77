//! The mock-up's page: what to cut, fold, join and tape, and what to try in the vehicle, in order. One file without anything from
//! elsewhere; each chapter is a function of its own, so that a book can take it over.

use super::heading;
use super::Job;
use crate::design::{MockUp, PRESS_LADDER};
use crate::flat::{FlatPart, Operation};
use crate::units::decimal;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// The page, when the job is a mock-up.
pub(super) fn page(job: &Job, revision: &str) -> Option<Vec<u8>> {
    let mock = job.design.mock_up.as_ref()?;
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{}</title>\n<style>{STYLE}</style>\n</head>\n\
         <body>\n<h1>{}</h1>\n<p class=\"small\">revision {revision}</p>\n",
        plain(&job.design.title),
        plain(&job.design.title)
    );
    let mut number = 0;
    for chapter in [what(job, mock), cautions(), cut(job, mock), fold(job), join(job), tape(job), try_it(job, mock), back()]
    {
        let step = chapter.contains(STEP);
        number += u32::from(step);
        out.push_str(&chapter.replacen(STEP, &format!("<h2>{number}. "), 1));
    }
    out.push_str("</body>\n</html>\n");
    Some(out.into_bytes())
}

const STYLE: &str = "body{font:11pt/1.45 Helvetica,Arial,sans-serif;max-width:46em;margin:2em auto;padding:0 1em;color:#222}\
h1{font-size:1.5em}h2{font-size:1.15em;margin-top:1.6em;border-bottom:1px solid #bbb}table{border-collapse:collapse}\
td,th{text-align:left;padding:.15em .9em .15em 0;vertical-align:top}.stamp{border:2px solid #d55e00;padding:.4em .8em;\
display:inline-block;font-weight:bold}.small{color:#666;font-size:.85em}li{margin:.25em 0}@media print{h2{break-after:avoid}}";

/// Text between tags.
fn plain(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

/// Opens a chapter that is a step of the work; the page numbers them.
const STEP: &str = "<h2>Step: ";

fn step(title: &str, body: &str) -> String {
    chapter(&format!("Step: {title}"), body)
}

fn chapter(title: &str, body: &str) -> String {
    format!("<h2>{title}</h2>\n{body}\n")
}

fn list(kind: &str, items: impl IntoIterator<Item = String>) -> String {
    let mut out = format!("<{kind}>\n");
    for item in items {
        // Writing to a String cannot fail.
        let _ = writeln!(out, "<li>{}</li>", plain(&item));
    }
    out + &format!("</{kind}>")
}

/// What it is, with a stamp where joints are out of proportion.
fn what(job: &Job, mock: &MockUp) -> String {
    let board = &job.design.boards[0];
    let [least, mean, most] = heading::thickness(board);
    let mut body = format!(
        "<p>Mock-up at <strong>{}</strong> in {}, {mean} mm thick ({least} to {most} mm). Outer sizes are those of the plywood \
         unit; everything that depends on thickness was derived again from the card.</p>\n",
        mock.words,
        plain(&board.profile.name)
    );
    if !mock.joints_look_true() {
        body.push_str("<p class=\"stamp\">joints not to scale</p>\n");
    }
    chapter("What this is", &body)
}

/// What hurts people.
fn cautions() -> String {
    let items = [
        "Never leave a running laser, not for a moment: card catches fire quickly. Water or an extinguisher stands at hand, the \
         extraction runs, the bed is free of scraps.",
        "Never burn film-faced, coated or plastic-laminated board: its fumes are not known.",
        "Card shows sizes, not strength: nobody sits, stands or leans on it, and nothing is carried in it on the road.",
        "In the vehicle keep clear of belts, buckles and airbags, and drill nothing yet.",
    ];
    chapter("Mind", &list("ul", items.map(str::to_owned)))
}

/// Coupon first, then the sheets.
fn cut(job: &Job, mock: &MockUp) -> String {
    let sheets = job.layout.sheets.len();
    let shares: Vec<String> = PRESS_LADDER.iter().map(|s| decimal(*s, 2)).collect();
    let seconds: f64 = job.beams.iter().map(|b| b.run_s).sum();
    let items = [
        format!(
            "The coupon, in coupon/: press the tongue into its slots. From the notched corner on they are {} thicknesses wide; this \
             pack takes {}. Where another holds better, make the pack again with --slot and its share. The square should measure \
             100 mm each way; what it lacks is missing in the kerf of the laser's profile.",
            shares.join(", "),
            decimal(mock.slot_share, 2)
        ),
        format!(
            "{sheets} sheet{}, flutes along the bed's length, from laser/. At full feed that is {} min at least; set power and feed \
             on scraps: cut through, marks hardly to be seen, folds through one liner and half of the flutes, never through both.",
            if sheets == 1 { "" } else { "s" },
            decimal((seconds / 60.0).ceil(), 0)
        ),
        "Write each part's number on it as it comes off the bed: the maps are in sheets/. The short bar burnt into each part lies along \
         its flutes."
            .to_owned(),
    ];
    step("Cut", &list("ol", items))
}

fn has_fold(part: &FlatPart) -> bool {
    part.cuts.iter().any(|c| matches!(c.operation, Operation::Fold { .. }))
}

/// Parts with folds.
fn fold(job: &Job) -> String {
    let parts = job.parts.parts.iter().filter(|p| has_fold(p));
    let items: Vec<String> = parts
        .map(|p| {
            let folds = p.cuts.iter().filter(|c| matches!(c.operation, Operation::Fold { .. })).count();
            format!("{} ({} of them): {folds} folds, scored side inwards, legs square to the web", p.id, p.panels.len())
        })
        .collect();
    if items.is_empty() {
        return String::new();
    }
    let note =
        "<p>Each fold is two lines one thickness apart; that much was allowed for it. Roll it over a table's edge.</p>";
    step("Fold", &format!("{}\n{note}", list("ul", items)))
}

/// Pieces that belong together.
fn join(job: &Job) -> String {
    let split = job.findings.iter().filter(|f| f.code == crate::flat::codes::SPLIT);
    let items: Vec<String> = split.map(|f| f.message.clone()).collect();
    if items.is_empty() {
        return String::new();
    }
    let how = "<p>Lay the pieces on a flat table, press the knobs in with the register marks in line (as many as the joint's number), \
               and tape over each joint on both sides.</p>";
    step("Join what was larger than the bed", &format!("{}\n{how}", list("ul", items)))
}

/// Tape and what stands in for hardware, unit by unit.
fn tape(job: &Job) -> String {
    let mut by_unit: BTreeMap<&str, [Vec<&str>; 2]> = BTreeMap::new();
    for piece in &job.model.hardware {
        let all = by_unit.entry(&piece.unit).or_default();
        match piece.profile.as_str() {
            "tape" => all[0].push(&piece.place),
            "card" => all[1].push(&piece.name),
            _ => {}
        }
    }
    by_unit.retain(|_, all| all.iter().any(|list| !list.is_empty()));
    if by_unit.is_empty() {
        return String::new();
    }
    let mut rows = String::new();
    for (unit, [taped, stand_ins]) in by_unit {
        let glued = if stand_ins.is_empty() {
            String::new()
        } else {
            format!("<br>glued over their marks on the box sides: {}", plain(&stand_ins.join(", ")))
        };
        // Writing to a String cannot fail.
        let _ = writeln!(rows, "<tr><th>{}</th><td>{}{glued}</td></tr>", plain(unit), plain(&taped.join("; ")));
    }
    let how = "<p>Fingers and tabs are pressed together dry, base and top last. The rest is taped:</p>";
    step("Press and tape", &format!("{how}\n<table>\n{rows}</table>"))
}

/// What to try, in the order in which it can be tried.
fn try_it(job: &Job, mock: &MockUp) -> String {
    if mock.scale < 1.0 {
        let items = [
            "Look at it from where you will stand: is everything within reach, does anything bar a door, a seat, the spare wheel?",
            "Pull out every drawer and table; pull out two at once.",
            "Take it apart and put it together again in the order in which the plywood will be assembled.",
        ];
        return step("Try", &list("ol", items.map(str::to_owned)));
    }
    let mut items = vec!["Carry it in through the opening the way the unit will go in.".to_owned()];
    if let Some(bay) = &job.design.bay {
        items.extend(bay.keep_outs.iter().map(|k| format!("Push it to {}: does it touch, and by how much?", k.name)));
        if !bay.door.is_empty() {
            items.push("Shut the door on it slowly, and look along the gap from outside.".to_owned());
        }
        if !bay.anchors.is_empty() {
            items.push("Look through each anchor's hole: is the bolt's thread in the middle of it?".to_owned());
        }
    }
    items.extend(job.design.pull_outs.iter().map(|p| {
        format!("Pull {} out to its stop: is the height right to work at, and does it clear bumper and door?", p.name)
    }));
    items.push("Pull out every drawer past the door, the latch pillar and your knees.".to_owned());
    step("Try", &list("ol", items))
}

/// What was found comes back into the project file.
fn back() -> String {
    let line = "rubs = [{ where = \"left wheel arch\", by = 4, had = 12 }]";
    step(
        "Write down what rubs",
        &format!(
            "<p>At the top of the project file, before its first table: <code>{}</code>. <code>where</code> takes words of the gap's \
             name as <code>baywright check</code> prints it, <code>by</code> how far it was too much, <code>had</code> the gap \
             that <code>check</code> showed of the design you tried. From then on <code>check</code> shows the place as met or \
             not.</p>",
            plain(line)
        ),
    )
}
