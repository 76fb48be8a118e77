//! Dadoes and rabbets: a channel in a face that takes the mate's edge.

use super::{thickest, Meeting};
use crate::dim::Dim;
use crate::parts::builder::Builder;
use crate::parts::frame::Stretch;
use crate::parts::{Depth, Feature, FeatureKind, Purpose};
use crate::units::Mm;

/// Cuts a channel of the given depth into the field; the edge panel must already reach that far into it.
///
/// Along the edge of the field the channel is a rabbet and ends with the panel; elsewhere it is a dado with half of the play on each
/// side.
///
/// `pair` is the stretch of two panels back to back, which share one channel; pass `None` for `meeting.block`'s own, and call
/// [`seated`] for the second panel of a pair.
pub(in crate::parts) fn channel(
    b: &mut Builder<'_>,
    meeting: &Meeting,
    pair: Option<&Stretch>,
    depth: &Dim,
    clearance: &Dim,
    joint: &str,
) {
    let face = meeting.inner_face(b);
    let across = meeting.across(b);
    let mut block = meeting.block.clone();
    let board = b.at(meeting.edge).board;
    if let Some(pair) = pair {
        block[across] = pair.clone();
    }
    let boards = (block[across].size.nominal() / b.thickness(board).nominal()).round().max(1.0);
    let extra = thickest(b, board) - b.thickness(board);
    let width = &(&block[across].size + &(&extra * boards)) + clearance;
    let (low, high) = at_rim(b, meeting, across);
    block[across] = if low {
        Stretch { from: block[across].from.clone(), size: width }
    } else if high {
        Stretch { from: &block[across].to() - &width, size: width }
    } else {
        Stretch { from: &block[across].middle() - &(&width * 0.5), size: width }
    };
    let Some((at, size)) = b.at(meeting.field).frame.as_ref().map(|f| f.local_rect(&block)) else { return };
    let (mate, span) = (b.at(meeting.edge).id.clone(), b.at(meeting.edge).span);
    b.cut(
        meeting.field,
        Feature {
            id: format!("{joint} {mate}"),
            kind: FeatureKind::Groove { at, size },
            depth: Depth::Blind(face, depth.clone()),
            purpose: Purpose::Joint,
            mate: Some(meeting.edge),
            span,
        },
    );
    seated(b, meeting, joint);
}

/// Notes that an edge sits in a channel.
pub(in crate::parts) fn seated(b: &mut Builder<'_>, meeting: &Meeting, joint: &str) {
    let edge = meeting.meeting_edge(b);
    b.meets(meeting.edge, edge, meeting.field, joint, Vec::new());
}

/// Whether the shared stretch ends with the field's low or high rim on an axis.
fn at_rim(b: &Builder<'_>, meeting: &Meeting, axis: usize) -> (bool, bool) {
    let Some(solid) = b.at(meeting.field).solid() else { return (false, false) };
    let shared = &meeting.block[axis];
    let near = |a: f64, c: Mm| (Mm(a) - c).abs() < Mm(0.01);
    (near(solid.min.to_array()[axis], shared.from.nominal()), near(solid.max.to_array()[axis], shared.to().nominal()))
}
