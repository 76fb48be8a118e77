//! `make --only`: a spoiled part once more, alone, on the stock or on a stated offcut.

use super::Trouble;
use crate::cli::MakeArgs;
use crate::design::{Design, StockSheet};
use crate::flat::{FlatPart, FlatParts};
use crate::parts::Model;
use crate::shop::SheetSize;
use crate::units::{parse_length, Mm, Unit};

/// The asked-for parts, and the design and model as they are for these alone.
pub(super) struct Again {
    pub(super) design: Design,
    pub(super) model: Model,
    pub(super) parts: FlatParts,
}

/// One copy of each part named, by id or name as often as it is named; with an offcut as the only stock where one is stated.
pub(super) fn only(args: &MakeArgs, design: &Design, model: &Model, all: &FlatParts) -> Result<Again, Trouble> {
    let mut parts: Vec<FlatPart> = Vec::new();
    for name in &args.only {
        let is = |text: &str| text.eq_ignore_ascii_case(name.trim());
        let panel = |p: &FlatPart| p.panels.iter().any(|id| is(&model.panels[id.0].id) || is(&model.panels[id.0].name));
        let Some(part) = all.parts.iter().find(|p| is(&p.id) || is(&p.name) || panel(p)) else {
            return Err(Trouble::new(
                format!("there is no part called \"{name}\""),
                "run `baywright why PROJECT` for the list of parts",
            ));
        };
        match parts.iter_mut().find(|p| p.id == part.id) {
            Some(there) => {
                let Some(more) = part.panels.get(there.panels.len()) else {
                    let asked = there.panels.len() + 1;
                    return Err(Trouble::new(
                        format!("{} is asked for {asked} times, and the project has it {} times", part.name, asked - 1),
                        "name each part as often as it was spoiled",
                    ));
                };
                there.panels.push(*more);
            }
            None => parts.push(FlatPart { panels: part.panels[..1].to_vec(), ..part.clone() }),
        }
    }
    parts.sort_by(|a, b| a.id.cmp(&b.id));
    let ids: Vec<&str> = parts.iter().map(|p| p.id.as_str()).collect();
    let mut design = Design { title: format!("{}, again {}", design.title, ids.join(" and ")), ..design.clone() };
    // A part made again has no mates at hand.
    design.together.clear();
    if let Some(text) = &args.from {
        let size = size(text, design.units)?;
        let board = parts.first().map(|p| p.board);
        if parts.iter().any(|p| Some(p.board) != board) {
            return Err(Trouble::new(
                "the parts named are of different boards, which one offcut is not",
                "make them one after the other",
            ));
        }
        if let Some(board) = board {
            let stock = StockSheet { size, count: Some(1), price: None, defects: Vec::new() };
            design.boards[board.0].stock = vec![stock];
        }
    }
    // What is bought was bought the first time.
    let model = Model { hardware: Vec::new(), ..model.clone() };
    Ok(Again { design, model, parts: FlatParts { parts } })
}

/// `800x600`: along the grain, then across it.
fn size(text: &str, unit: Unit) -> Result<SheetSize, Trouble> {
    let bad = |why: &str| Trouble::new(format!("\"{text}\" is not length x width: {why}"), "write it like 800x600");
    let sides: Vec<Mm> = text
        .split(['x', 'X', '×'])
        .map(|side| parse_length(side.trim(), Some(unit)).map_err(|e| bad(&e.to_string())))
        .collect::<Result<_, _>>()?;
    match sides[..] {
        [length, width] if length > Mm::ZERO && width > Mm::ZERO => Ok(SheetSize { length, width }),
        [_, _] => Err(bad("both must be above zero")),
        _ => Err(bad(&format!("{} figures", sides.len()))),
    }
}
