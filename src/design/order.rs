//! Which carcass stands on which: each after the one below it.

use super::bench::Bench;
use super::codes;
use crate::project::Carcass;

/// The order to build in, and where each carcass of the project ends up in it.
pub(super) struct Order {
    /// Indices into the project's carcasses, each after the one it stands on.
    pub(super) rising: Vec<usize>,
    /// For each carcass of the project, the one below it.
    pub(super) below: Vec<Option<usize>>,
}

impl Order {
    /// The index in the design of a carcass of the project.
    pub(super) fn settled(&self, index: usize) -> Option<usize> {
        self.rising.iter().position(|i| *i == index)
    }
}

impl Bench<'_> {
    pub(super) fn order(&mut self) -> Order {
        let carcasses: &[Carcass] = &self.project.carcasses;
        let names = carcasses.iter().map(|carcass| carcass.name.value.as_str());
        let below: Vec<Option<usize>> =
            carcasses.iter().map(|carcass| self.find(carcass.on.as_ref()?, "carcass", names.clone())).collect();
        let mut rising: Vec<usize> = Vec::new();
        // Each round takes what stands on the floor or on something taken; the file's order holds within a round.
        loop {
            let next: Vec<usize> = (0..carcasses.len())
                .filter(|i| !rising.contains(i) && below[*i].is_none_or(|under| rising.contains(&under)))
                .collect();
            if next.is_empty() {
                break;
            }
            rising.extend(next);
        }
        for (index, carcass) in carcasses.iter().enumerate().filter(|(index, _)| !rising.contains(index)) {
            let (Some(on), Some(under)) = (&carcass.on, below[index]) else { continue };
            let message = if under == index {
                format!("carcass \"{}\" stands on itself", carcass.name.value)
            } else {
                format!("carcass \"{}\" stands on \"{}\", which never reaches the floor", carcass.name.value, on.value)
            };
            self.lost = true;
            self.stop(codes::STANDING_CYCLE, message, on.span, "give one of them `at = [x, y, z]` in place of `on`");
        }
        Order { rising, below }
    }
}
