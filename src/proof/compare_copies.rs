//! Every copy of every part lies on some sheet of its board, exactly once, and on the sheet.

use super::codes;
use super::fault::quoted;
use super::job::Operation;
use super::limits;
use super::pack::{sheet_name, Pack};
use super::shape::Bounds;
use super::verdict::Rule;
use crate::diag::Finding;
use std::collections::BTreeMap;

pub(super) fn check(pack: &Pack<'_>) -> Rule {
    let mut rule = Rule::counting(codes::PLACEMENTS, "copies");
    let mut placed: BTreeMap<(&str, usize), String> = BTreeMap::new();
    for sheet in &pack.job.sheets {
        for placement in &sheet.placements {
            rule.count(1);
            let (id, copy, name) = (placement.part.as_str(), placement.copy, sheet_name(sheet));
            let what = format!("Part {} copy {copy}", quoted(id));
            let Some(part) = pack.part(id) else {
                rule.fault(|code| Finding::stop(code, format!("{what} on {name} is not a part of the job")));
                continue;
            };
            if let Some(first) = placed.insert((id, copy), name.clone()) {
                rule.fault(|code| Finding::stop(code, format!("{what} lies on {first} and again on {name}")).part(id));
            }
            if copy == 0 || copy > part.quantity {
                rule.fault(|code| {
                    Finding::stop(code, format!("{what} on {name}: only {} are wanted", part.quantity)).part(id)
                });
            }
            if part.board != sheet.board {
                rule.fault(|code| {
                    Finding::stop(code, format!("{what} lies on {name} and is made of {}", quoted(&part.board))).part(id)
                });
            }
            let mut bounds = Bounds::empty();
            for outline in part.contours.iter().filter(|c| c.operation == Operation::ThroughOutside) {
                bounds.join(outline.ring.mapped(false, |p| placement.place(p)).bounds());
            }
            let slack = limits::SAME_VERTEX;
            let on = bounds.min.x >= -slack
                && bounds.min.y >= -slack
                && bounds.max.x <= sheet.length_mm + slack
                && bounds.max.y <= sheet.width_mm + slack;
            if !on {
                rule.fault(|code| Finding::stop(code, format!("{what} does not lie wholly on {name}")).part(id));
            }
        }
    }
    super::sweep::said(&mut rule, pack);
    for part in &pack.job.parts {
        let count = placed.range((part.id.as_str(), 0)..=(part.id.as_str(), usize::MAX)).count();
        if count < part.quantity {
            rule.fault(|code| {
                Finding::stop(code, format!("Part {}: {count} of {} copies are placed", quoted(&part.id), part.quantity))
                    .part(part.id.clone())
            });
        }
    }
    rule
}
