//! `new`: a working starter project, asked for on a terminal or given by flags.

use super::screen::Screen;
use super::{disk, Outcome, Trouble};
use crate::cli::{NewArgs, UnitArg};
use crate::project::{starter, StarterAnswers};
use crate::units::{parse_length, Mm, Unit};

/// The bay a starter assumes when asked nothing, in mm: a small van. Our own figure.
const USUAL_BAY: &str = "1200x1400x1000";
/// Air left round a fitted unit.
const AROUND: Mm = Mm(20.0);
/// A bay smaller than this takes no drawer; most likely its figures are in another unit. Our own figure.
const SMALLEST_BAY: [Mm; 3] = [Mm(300.0), Mm(300.0), Mm(150.0)];
/// A first unit is no higher than this.
const USUAL_HEIGHT: Mm = Mm(300.0);
/// A first unit is no deeper than this.
const USUAL_DEPTH: Mm = Mm(900.0);

pub(super) fn run(args: &NewArgs, screen: &Screen) -> Result<Outcome, Trouble> {
    if args.project.exists() {
        return Err(Trouble::new(
            format!("{} exists already", args.project.display()),
            "name a new file; nothing was changed",
        ));
    }
    let text = starter(&answers(args)?);
    disk::write_new(&args.project, &text)?;
    let name = args.project.display();
    screen.say(&format!("Wrote {name}. Measure your bay, change its figures, then: baywright check {name}"));
    Ok(Outcome::Fine)
}

fn answers(args: &NewArgs) -> Result<StarterAnswers, Trouble> {
    let ask = Screen::is_dialogue() && !args.yes && args.bay.is_none() && args.unit_size.is_none();
    let question = |given: Option<String>, question: &str, usual: &str| match given {
        Some(given) => Ok(given),
        None if ask => Screen::ask(question, usual),
        None => Ok(usual.to_owned()),
    };
    let title = question(args.title.clone(), "Title?", "First unit")?;
    let units = args.units.map(|u| if u == UnitArg::In { "in" } else { "mm" }.to_owned());
    let units = match question(units, "Units, mm or in?", "mm")?.as_str() {
        "mm" => Unit::Mm,
        "in" | "inch" | "inches" => Unit::Inch,
        other => return Err(Trouble::new(format!("units \"{other}\" are not known"), "write mm or in")),
    };
    let bay = question(
        args.bay.clone(),
        "Clear bay, width x depth x height (none for a free-standing unit)?",
        if ask { USUAL_BAY } else { "none" },
    )?;
    let bay = if bay == "none" { None } else { Some(three(&bay, units)?) };
    if bay.is_some_and(|b| b.iter().zip(SMALLEST_BAY).any(|(size, least)| *size < least)) {
        let [w, d, h] = SMALLEST_BAY;
        return Err(Trouble::new(
            format!("a bay below {w} x {d} x {h} mm has no room for a drawer unit"),
            "check the unit: a bare figure is in the project's",
        ));
    }
    let fitted = fitted(bay);
    let carcass = match &args.unit_size {
        Some(text) => three(text, units)?,
        None => fitted,
    };
    let drawers = question(args.drawers.map(|n| n.to_string()), "How many drawers?", "2")?;
    let drawers =
        drawers.parse().ok().filter(|n| (1..=12).contains(n)).ok_or_else(|| {
            Trouble::new(format!("\"{drawers}\" drawers cannot be laid out"), "give a number from 1 to 12")
        })?;
    Ok(StarterAnswers { title, units, bay, carcass, drawers })
}

/// A unit that fills the bay's width but is no larger than a first unit should be.
fn fitted(bay: Option<[Mm; 3]>) -> [Mm; 3] {
    match bay {
        Some([w, d, h]) => [w - AROUND, (d - AROUND).min(USUAL_DEPTH), (h - AROUND).min(USUAL_HEIGHT)],
        None => [Mm(900.0), Mm(700.0), Mm(250.0)],
    }
}

/// `1200x1300x900`, each with or without a unit.
fn three(text: &str, units: Unit) -> Result<[Mm; 3], Trouble> {
    let bad =
        |why: &str| Trouble::new(format!("\"{text}\" is not width x depth x height: {why}"), "write it like 1200x1300x900");
    let numbers =
        text.split(['x', 'X', '×']).map(|part| parse_length(part.trim(), Some(units)).map_err(|e| bad(&e.to_string())));
    let numbers: Vec<Mm> = numbers.collect::<Result<_, _>>()?;
    if numbers.iter().any(|n| *n <= Mm::ZERO) {
        return Err(bad("each must be above zero"));
    }
    <[Mm; 3]>::try_from(numbers).map_err(|n| bad(&format!("{} figures", n.len())))
}
