//! What the page must not be taken for.

use super::say::Section;

/// The cautions at the head of the page.
pub(super) fn section() -> Section {
    let lines = [
        "NOT CRASH TESTED, and not an approval: the figures compare one design with another under the accelerations that are named.",
        "Local rules, the vehicle's handbook and licensed practice decide. Bolt down to the vehicle's own rated points; the rating of \
         a point is read in the handbook, never guessed from its thread. Never use the anchors of seat belts. Before any new hole \
         look underneath: tank, lines, harness. Keep within payload and axle loads, and weigh the loaded vehicle.",
        "Lengths in mm, masses in kg, forces in N, stresses in N/mm²; 1 g = 9.807 m/s².",
    ];
    Section { title: "Read this first".to_owned(), lines: lines.map(str::to_owned).to_vec() }
}
