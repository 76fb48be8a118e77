//! Heads of slide screws under the members that pass over them.

use super::codes;
use super::say::{mm, Section};
use crate::design::{Design, Drawer};
use crate::diag::Finding;
use crate::units::Mm;
use std::collections::BTreeMap;

/// Air between a head and the member that passes over it (checklist PJ12).
const AIR: Mm = Mm(0.3);

/// Holds every slide's screws against the room over them. The members slide in one plane, so that a head passes everywhere or
/// nowhere: each screw of the case member lies under the moving ones for a part of the travel, and each of the drawer member's under
/// the middle one.
pub(super) fn judge(design: &Design, findings: &mut Vec<Finding>, section: &mut Section) {
    let mut kinds: BTreeMap<(&str, &str), Vec<(String, &Drawer)>> = BTreeMap::new();
    for cell in design.carcasses.iter().flat_map(|c| &c.columns).flat_map(|c| &c.cells) {
        let Some(drawer) = &cell.drawer else { continue };
        let name = format!("{} drawer", cell.name.replace('.', " "));
        kinds.entry((&drawer.slide.id, &drawer.fasteners.slide.id)).or_default().push((name, drawer));
    }
    for drawers in kinds.values() {
        let Some((_, first)) = drawers.first() else { continue };
        let (slide, screw) = (&first.slide, &first.fasteners.slide);
        let head = screw.head_height;
        let base = match slide.head_room {
            None => {
                section.say(format!("  {}: heads {} high; room for them in {} NOT KNOWN", screw.name, mm(head), slide.id));
                Finding::note(
                    codes::SLIDE_SCREW_HEAD,
                    format!(
                        "the room over screw heads in {} is not known; those of {} are {head} mm high",
                        slide.id, screw.name
                    ),
                )
                .remedy(format!(
                    "measure it with the slide shut and write `head_room` in the profile; {} mm pass",
                    head + AIR
                ))
            }
            Some(room) => {
                section.say(format!(
                    "  {}: heads {} high in {}, which leaves {} over its whole travel, {} of it for air",
                    screw.name,
                    mm(head),
                    slide.id,
                    mm(room),
                    mm(AIR)
                ));
                if head <= room - AIR {
                    continue;
                }
                Finding::caution(
                    codes::SLIDE_SCREW_HEAD,
                    format!(
                        "the heads of {} are {head} mm high, and {} leaves {room} mm over its whole travel",
                        screw.name, slide.id
                    ),
                )
                .remedy(format!("take screws with heads of at most {} mm, or countersunk ones", room - AIR))
            }
        };
        let mut finding =
            base.at(first.span).limit("a head is at least 0.3 mm lower than the room over it (checklist PJ12)");
        finding.parts = drawers.iter().map(|(name, _)| name.clone()).collect();
        findings.push(finding);
    }
}
