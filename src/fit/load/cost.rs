//! Cost: sheets, hardware and machine time, at the maker's own prices.

use super::hardware::Bought;
use super::say::{kg, Section};
use crate::design::{BoardId, Design};
use crate::parts::Model;
use crate::units::{decimal, Mm};

/// Sheets of one size that a layout takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SheetsUsed {
    /// The board.
    pub board: BoardId,
    /// Index into the board's stock.
    pub stock: usize,
    /// How many.
    pub count: u32,
}

/// What it costs, as far as prices are given.
#[derive(Clone, Debug, Default)]
pub struct Cost {
    /// Sheets.
    pub boards: f64,
    /// Hardware, spares included.
    pub hardware: f64,
    /// Machine time.
    pub machine: f64,
    /// What has no price.
    pub unpriced: Vec<String>,
}

impl Cost {
    /// All that has a price.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.boards + self.hardware + self.machine
    }
}

/// Adds up what the sheets, the hardware and the machine cost; `run_s` is the cutting time in seconds when it is known.
#[must_use]
pub fn add_up(design: &Design, list: &[Bought], sheets: Option<&[SheetsUsed]>, run_s: Option<f64>) -> (Cost, Section) {
    let mut section = Section::new("Cost");
    let mut cost = Cost::default();
    let currency = design.prices.as_ref().map_or("units of money", |p| p.currency.as_str());
    let money = |amount: f64| format!("{} {currency}", decimal(amount, 2));
    match sheets {
        None => section.say("The parts could not be laid on sheets, so boards are not counted."),
        Some(sheets) => {
            for used in sheets {
                let board = &design.boards[used.board.0];
                let stock = &board.stock[used.stock];
                let size = format!("{} x {} mm", stock.size.length, stock.size.width);
                if let Some(price) = stock.price {
                    let sum = price * f64::from(used.count);
                    cost.boards += sum;
                    let (each, sum) = (money(price), money(sum));
                    section.say(format!("  {} x {} {size} at {each} = {sum}", used.count, board.name));
                } else {
                    cost.unpriced.push(format!("board {}", board.name));
                    section.say(format!("  {} x {} {size}: no price", used.count, board.name));
                }
            }
        }
    }
    for item in list {
        let price = design.prices.as_ref().and_then(|p| p.each.get(&item.profile));
        let count = item.quantity + item.spare;
        match price {
            Some(price) => {
                let sum = price * f64::from(count);
                cost.hardware += sum;
                section.say(format!("  {count} x {} at {} = {}", item.name, money(*price), money(sum)));
            }
            None => cost.unpriced.push(item.name.clone()),
        }
    }
    match (design.prices.as_ref().and_then(|p| p.machine_hour), run_s) {
        (Some(hour), Some(run)) => {
            cost.machine = hour * run / 3600.0;
            section.say(format!(
                "  machine {} min at {} an hour = {}",
                decimal(run / 60.0, 0),
                money(hour),
                money(cost.machine)
            ));
        }
        (None, Some(run)) => {
            cost.unpriced.push("machine time".to_owned());
            section.say(format!("  machine {} min: no price of an hour", decimal(run / 60.0, 0)));
        }
        (_, None) => section.say("  machine time is not known: the parts could not be planned"),
    }
    section.say(format!("Together {} for what has a price.", money(cost.total())));
    if !cost.unpriced.is_empty() {
        section.say(format!(
            "Without a price: {}. Write `price` at a board's stock, and [prices] machine_hour and [prices.each] by profile.",
            cost.unpriced.join("; ")
        ));
    }
    (cost, section)
}

/// What a thinner board would save in mass, for each board whose loaded panels could be thinner.
pub(super) fn thinner(design: &Design, model: &Model, bent: &[super::bending::Bent]) -> Section {
    let mut section = Section::new("What thinner boards would save");
    for (index, board) in design.boards.iter().enumerate() {
        let mine = |name: &str| model.panels.iter().any(|p| p.board.0 == index && p.name == name);
        let judged: Vec<_> = bent.iter().filter(|b| mine(&b.part)).collect();
        let Some(least) = judged.iter().map(|b| b.least).max_by(Mm::total_cmp) else { continue };
        let now = board.thickness.nominal();
        let mass: f64 =
            model.panels.iter().filter(|p| p.board.0 == index).map(|p| super::mass::panel(design, p).mass_kg).sum();
        if least < now {
            section.say(format!(
                "board {}: its loaded panels need {} mm of {} mm; at that {} of {} would go (joints and screws not judged anew)",
                board.name,
                decimal(least.0, 1),
                now,
                kg(mass * (1.0 - least / now)),
                kg(mass)
            ));
        } else {
            section.say(format!("board {}: its loaded panels need {} mm, it has {now} mm", board.name, decimal(least.0, 1)));
        }
    }
    if section.lines.is_empty() {
        section.say("No loaded panel was judged, so nothing can be said.");
    }
    section
}
