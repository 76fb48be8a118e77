//! Equal fingers at a corner, and tabs through slots where an edge meets the middle of a face.

use super::{thickest, Meeting};
use crate::dim::Dim;
use crate::parts::builder::Builder;
use crate::parts::frame::Stretch;
use crate::parts::{Depth, Feature, FeatureKind, PanelId, Purpose};
use crate::units::Mm;

/// Width of a finger in thicknesses of its board: 1.5 to 3 is usual (common practice, no source).
const FINGER_THICKNESSES: f64 = 2.25;
/// Width of a tab through a face, in thicknesses of its board (common practice, no source).
const TAB_THICKNESSES: f64 = 3.0;
/// Largest distance between tabs (common practice, no source).
const TAB_SPACING: Mm = Mm(300.0);
/// A finger is at least this many cutter diameters wide, so that the notch beside it can be cut (common practice, no source).
const FINGER_CUTTERS: f64 = 2.0;

/// How many equal fingers share a length: odd, so that both ends belong to one panel and no end is a sliver.
fn finger_count(length: Mm, thickness: Mm, cutter: Mm) -> usize {
    let wanted = (thickness * FINGER_THICKNESSES).max(cutter * FINGER_CUTTERS);
    let most = (length / (cutter * FINGER_CUTTERS).max(Mm(1.0))).floor() as usize;
    let mut count = (length / wanted).round() as usize;
    if count.is_multiple_of(2) {
        count += 1;
    }
    while count > 3 && count > most {
        count -= 2;
    }
    count.max(3)
}

/// Width of the fingers two panels of these thicknesses would share along a length.
pub(in crate::parts) fn finger_width(b: &Builder<'_>, length: Mm, thickness: Mm) -> Mm {
    length / finger_count(length, thickness, outline_cutter(b)) as f64
}

/// Cuts equal fingers into both panels of a corner. The field keeps the first and the last finger.
pub(in crate::parts) fn fingers(b: &mut Builder<'_>, meeting: &Meeting) {
    let run = meeting.block[meeting.run].clone();
    let cutter = outline_cutter(b);
    let thickness = b.at(meeting.field).thickness.nominal().max(b.at(meeting.edge).thickness.nominal());
    let count = finger_count(run.size.nominal(), thickness, cutter);
    let width = &run.size * (1.0 / count as f64);
    // The play is the whole of it: half at each flank of a finger, and each panel gives half of that.
    let quarter_play = &b.design.process.joint_clearance.finger * 0.25;
    for i in 0..count {
        let (cut, keeps) = if i % 2 == 0 { (meeting.edge, meeting.field) } else { (meeting.field, meeting.edge) };
        let from = &run.from + &(&width * i as f64);
        let to = &from + &width;
        // The outermost notches end with the panel itself, so only inner flanks get play.
        let from = if i == 0 { from } else { &from - &quarter_play };
        let to = if i + 1 == count { to } else { &to + &quarter_play };
        notch(b, meeting, cut, keeps, &Stretch::between(&from, &to), i + 1);
    }
    note_both(b, meeting, "finger");
}

/// Cuts tabs on the edge panel and the slots they pass through into the field.
///
/// `slots` is the stretch across which the slots reach: one board, or two for panels back to back, which share their slots; `None`
/// for the second of such a pair, which finds them cut.
pub(in crate::parts) fn tabs(b: &mut Builder<'_>, meeting: &Meeting, slots: Option<&Stretch>) {
    let run = meeting.block[meeting.run].clone();
    let cutter = outline_cutter(b);
    let length = run.size.nominal();
    let tab = (b.at(meeting.edge).thickness.nominal() * TAB_THICKNESSES).max(cutter * FINGER_CUTTERS).min(length / 3.0);
    let count = ((length / TAB_SPACING).ceil() as usize).max(if length > tab * 5.0 { 2 } else { 1 });
    let tab = Dim::number(tab, "tab width, three thicknesses");
    let pitch = &run.size * (1.0 / count as f64);
    let mut last_end = run.from.clone();
    for i in 0..count {
        let centre = &run.from + &(&pitch * (i as f64 + 0.5));
        let from = &centre - &(&tab * 0.5);
        let to = &from + &tab;
        notch(b, meeting, meeting.edge, meeting.field, &Stretch::between(&last_end, &from), i + 1);
        if let Some(across) = slots {
            slot(b, meeting, &Stretch::between(&from, &to), across, i + 1);
        }
        last_end = to;
    }
    notch(b, meeting, meeting.edge, meeting.field, &Stretch::between(&last_end, &run.to()), count + 1);
    let edge = meeting.meeting_edge(b);
    b.meets(meeting.edge, edge, meeting.field, "tabs through slots", Vec::new());
}

/// Cuts the slot of one tab, with half of the play on each side.
fn slot(b: &mut Builder<'_>, meeting: &Meeting, tab: &Stretch, across: &Stretch, number: usize) {
    let play = b.design.process.joint_clearance.finger.clone();
    let half = &play * 0.5;
    let board = b.at(meeting.edge).board;
    let extra = thickest(b, board) - b.thickness(board);
    let boards = (across.size.nominal() / b.thickness(board).nominal()).round().max(1.0);
    let width = match b.design.process.joint_clearance.press {
        // Card gives: the slot squeezes what goes in.
        Some(share) => &across.size * share,
        None => &(&across.size + &(&extra * boards)) + &play,
    };
    let mut block = meeting.at_run(Stretch::between(&(&tab.from - &half), &(&tab.to() + &half)));
    block[meeting.across(b)] = Stretch { from: &across.middle() - &(&width * 0.5), size: width };
    let Some((at, size)) = b.at(meeting.field).frame.as_ref().map(|f| f.local_rect(&block)) else { return };
    let (mate, span) = (b.at(meeting.edge).id.clone(), b.at(meeting.edge).span);
    b.cut(
        meeting.field,
        Feature {
            id: format!("slot {mate} {number}"),
            kind: FeatureKind::Rectangle { at, size, radius: None },
            depth: Depth::Through,
            purpose: Purpose::Joint,
            mate: Some(meeting.edge),
            span,
        },
    );
}

/// Cuts one notch, through, where the other panel's finger goes.
fn notch(b: &mut Builder<'_>, meeting: &Meeting, cut: PanelId, finger_of: PanelId, along: &Stretch, number: usize) {
    let mut block = meeting.at_run(along.clone());
    // As deep as the other panel is thick at its thickest reading.
    let deep = if cut == meeting.edge { meeting.through(b) } else { meeting.across(b) };
    let depth = thickest(b, b.at(finger_of).board);
    let inward_from_low = reaches_low_end(b, cut, deep, &meeting.block[deep]);
    let shared = &meeting.block[deep];
    block[deep] = if inward_from_low {
        Stretch { from: shared.from.clone(), size: depth }
    } else {
        Stretch { from: &shared.to() - &depth, size: depth }
    };
    let Some((at, size)) = b.at(cut).frame.as_ref().map(|f| f.local_rect(&block)) else { return };
    let (mate, span) = (b.at(finger_of).id.clone(), b.at(cut).span);
    b.cut(
        cut,
        Feature {
            id: format!("finger {mate} {number}"),
            kind: FeatureKind::EdgeNotch { at, size, radius: None },
            depth: Depth::Through,
            purpose: Purpose::Joint,
            mate: Some(finger_of),
            span,
        },
    );
}

/// Whether the shared stretch lies at the low end of the panel on that axis (so that a notch grows upward from it).
fn reaches_low_end(b: &Builder<'_>, panel: PanelId, axis: usize, shared: &Stretch) -> bool {
    let Some(solid) = b.at(panel).solid() else { return true };
    let (low, high) = (solid.min.to_array()[axis], solid.max.to_array()[axis]);
    let middle = shared.middle().nominal().0;
    (middle - low).abs() <= (high - middle).abs()
}

fn outline_cutter(b: &Builder<'_>) -> Mm {
    b.design.process.outline_cutter.and_then(|i| b.design.process.cutters.get(i)).map_or(Mm(1.0), |c| c.diameter)
}

fn note_both(b: &mut Builder<'_>, meeting: &Meeting, joint: &str) {
    let edge = meeting.meeting_edge(b);
    b.meets(meeting.edge, edge, meeting.field, joint, Vec::new());
    let other = Meeting { field: meeting.edge, edge: meeting.field, block: meeting.block.clone(), run: meeting.run };
    let edge = other.meeting_edge(b);
    b.meets(meeting.field, edge, meeting.edge, joint, Vec::new());
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Odd, at least three, no finger narrower than two cutters when three fit (checklist PJ9).
    #[test]
    fn fingers_are_odd_and_not_slivers() {
        for length in [60.0, 101.0, 232.0, 250.5, 999.0, 2000.0] {
            for t in [3.0, 9.0, 12.0, 15.0, 17.2, 18.0] {
                for cutter in [3.0, 6.0, 6.35, 8.0] {
                    let n = finger_count(Mm(length), Mm(t), Mm(cutter));
                    assert!(n >= 3 && n % 2 == 1);
                    assert!(n == 3 || length / n as f64 >= 2.0 * cutter, "{length} {t} {cutter}: {n}");
                }
            }
        }
    }
}
