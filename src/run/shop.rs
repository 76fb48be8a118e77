//! `shop`: list the profiles, or show one.

use super::derive::load_shop;
use super::screen::Screen;
use super::{Outcome, Trouble};
use crate::cli::{Common, ShopArgs};
use crate::diag::{has_stop, Texts};
use crate::shop::describe;
use serde_json::json;
use std::path::Path;

pub(super) fn run(args: &ShopArgs, common: &Common, screen: &Screen) -> Result<Outcome, Trouble> {
    let mut texts = Texts::default();
    let mut findings = Vec::new();
    let shop = load_shop(&mut texts, common.profiles.as_deref(), Path::new(""), &mut findings)?;
    screen.findings(&findings, &texts);
    let Some(shop) = shop else { return Ok(Outcome::Stopped) };
    // What is in order is shown all the same; the exit code says that something is not.
    let outcome = if has_stop(&findings) { Outcome::Stopped } else { Outcome::Fine };
    let Some(id) = &args.id else {
        if screen.json {
            Screen::data(&describe::list_json(&shop))?;
        } else {
            Screen::print(&describe::list(&shop))?;
        }
        return Ok(outcome);
    };
    let cards = describe::with_id(&shop, id).map_err(|near| {
        let hint = if near.is_empty() {
            "run `baywright shop` for the list".to_owned()
        } else {
            format!("nearest: {}", near.join(", "))
        };
        Trouble::new(format!("the shop has nothing called {id}"), hint)
    })?;
    if screen.json {
        Screen::data(&json!(cards.iter().map(describe::json).collect::<Vec<_>>()))?;
        return Ok(outcome);
    }
    for card in &cards {
        Screen::print(&describe::text(card))?;
    }
    Ok(outcome)
}
