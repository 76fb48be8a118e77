//! A table that slides between runner strips on a carcass's top, under a cover.

use super::bolts::{self, Bolt};
use super::builder::{as_cut, Builder, NewPanel};
use super::carcass::Built;
use super::frame::{Facing, Stretch};
use super::{codes, Depth, Feature, FeatureKind, Gap, Grain, Hand, Hardware, Motion, PanelId, Purpose};
use crate::design::{PlayAbove, PullOut};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::geom::Axis;
use crate::shop::Fastener;
use crate::units::Mm;

/// A table binds with less play than this at its sides, both together. Common practice, no source.
const LEAST_SIDE_PLAY: Mm = Mm(2.0);
/// A table binds with less play than this above. Common practice, no source.
const LEAST_PLAY_ABOVE: Mm = Mm(0.5);
/// Strips stand in this far from their ends for the first bolt. Common practice, no source.
const BOLT_INSET: Mm = Mm(45.0);

/// What a pull-out left for those who come after.
pub(super) struct Strips {
    /// The runner strips, and the cover when there is one.
    pub(super) panels: Vec<PanelId>,
    /// The bolts through them.
    pub(super) bolts: Vec<Bolt>,
    /// Height of all that lies on the top below, cover included.
    pub(super) layer: Dim,
}

/// Builds a pull-out on the carcass below it.
pub(super) fn build(b: &mut Builder<'_>, plan: &PullOut, below: &Built) -> Option<Strips> {
    let Some(top) = below.top else {
        b.findings.push(
            Finding::stop(codes::PULL_OUT_NEEDS_TOP, format!("{} slides on a carcass that has no top", plan.name))
                .part(&plan.name)
                .at(plan.span)
                .remedy("give that carcass a top"),
        );
        return None;
    };
    let name = &plan.name;
    let floor = b.at(top).frame.as_ref()?.origin[2].clone();
    let region = match plan.column.and_then(|i| below.openings.get(i)) {
        Some(opening) => opening.x.clone(),
        None => below.block[0].clone(),
    };
    let depth = &below.block[1];
    let length = plan.length.clone().unwrap_or_else(|| depth.size.clone());
    let table_t = b.thickness(plan.board);
    let strip_t = b.thickness(plan.strip_board);
    let layer = layer_height(plan, &table_t, &strip_t).named(format!("{name} layer height"));

    let sides = &(&plan.strip_width + &plan.play_side) * 2.0;
    let table_x = Stretch { from: &region.from + &(&sides * 0.5), size: &region.size - &sides };
    let table_y = Stretch::new(&depth.from, &length);
    let table = b.panel(NewPanel {
        unit: name,
        name: format!("{name} table"),
        hand: Hand::None,
        board: plan.board,
        facing: Facing::Up,
        block: [table_x, table_y.clone(), Stretch::new(&floor, &table_t)],
        grain: Grain::AlongV,
        span: plan.span,
    });
    let strip_length = plan.strip_length.clone().unwrap_or_else(|| length.clone());
    let strip_y = Stretch::new(&depth.from, &strip_length);
    let strip_z = Stretch::new(&floor, &strip_t);
    let mut strips = Vec::new();
    for (what, from) in [("left", region.from.clone()), ("right", &region.to() - &plan.strip_width)] {
        let x = Stretch { from, size: plan.strip_width.clone() };
        strips.push(b.panel(NewPanel {
            unit: name,
            name: format!("{name} {what} runner strip"),
            hand: Hand::None,
            board: plan.strip_board,
            facing: Facing::Up,
            block: [x, strip_y.clone(), strip_z.clone()],
            grain: Grain::AlongV,
            span: plan.span,
        }));
    }
    let cover = plan.cover.map(|board| {
        let z = Stretch { from: &floor + &layer, size: b.thickness(board) };
        b.panel(NewPanel {
            unit: name,
            name: format!("{name} cover"),
            hand: Hand::None,
            board,
            facing: Facing::Up,
            block: [region.clone(), strip_y.clone(), z],
            grain: Grain::AlongV,
            span: plan.span,
        })
    });
    let mut bolted = vec![top];
    bolted.extend(cover);
    b.against(&[table], &below.upper_side(), "slides on");
    b.against(&strips, &below.upper_side(), "is bolted to");
    b.against(cover.as_slice(), &strips, "is bolted to");
    let bolts = bolt_strips(b, plan, &strips, &bolted, &strip_y, &below.uprights);
    shims(b, plan, bolts.len());

    quiet(b, plan);
    let travel = b.size(&format!("{name} travel"), &(&length * (1.0 - plan.keep_under_cover)));
    if let Some(stop) = &plan.stop {
        stop_slot(b, plan, stop, (table, top), &table_y, &travel, &below.uprights);
    }
    declare_gaps(b, plan, &region, table, &table_t, &layer);
    b.model.motions.push(Motion { name: name.clone(), panels: vec![table], axis: Axis::MinusY, travel, span: plan.span });
    let whole = plan.cover.map_or_else(|| layer.clone(), |board| &layer + &b.thickness(board));
    let panels = strips.into_iter().chain(cover).collect();
    Some(Strips { panels, bolts, layer: whole })
}

/// Height between the top below and the cover: strips and shims, or the table and its play.
fn layer_height(plan: &PullOut, table: &Dim, strip: &Dim) -> Dim {
    match &plan.play_above {
        PlayAbove::Washers { count, fastener } => {
            let one = fastener.washer.map_or(Mm::ZERO, |w| w[2]);
            strip + &Dim::number(one * f64::from(*count), format!("{count} washers of {} as shims", fastener.name))
        }
        PlayAbove::Play(play) => table + play,
    }
}

/// Bolts through top, strip and cover, two per strip; a carcass that stands on the strips is held by the same bolts.
///
/// They go down the middle of a strip, or beside it where their washers would come upon an upright.
fn bolt_strips(
    b: &mut Builder<'_>,
    plan: &PullOut,
    strips: &[PanelId],
    others: &[PanelId],
    y: &Stretch,
    uprights: &[PanelId],
) -> Vec<Bolt> {
    let fastener = &*plan.strip_bolt;
    let inset = Dim::number(BOLT_INSET.min(y.size.nominal() / 4.0), "strip bolts stand in from the ends");
    let mut bolts = Vec::new();
    for strip in strips {
        let Some(frame) = b.at(*strip).frame.clone() else { continue };
        let middle = &frame.origin[0] + &(&b.at(*strip).length * 0.5);
        let half = b.at(*strip).length.nominal() / 2.0 - fastener.clearance[1];
        let x = bolts::clear_x(b, uprights, &middle, fastener, (middle.nominal() - half, middle.nominal() + half));
        for at_y in [&y.from + &inset, &y.to() - &inset] {
            let id = format!("{} strip bolt {}", plan.name, bolts.len() + 1);
            let bolt = Bolt { id, at: [x.clone(), at_y], fastener: fastener.clone() };
            bolts::keep_off(b, &bolt, uprights, &plan.name);
            for panel in std::iter::once(strip).chain(others) {
                bolts::drill(b, *panel, &bolt);
            }
            b.heads.extend(others.first().map(|top| bolt.nut_under(*top)));
            bolts.push(bolt);
        }
    }
    b.hardware(Hardware {
        profile: fastener.id.clone(),
        name: format!("{} with two washers and a nut, thread cut off at the nut", fastener.name),
        quantity: bolts.len() as u32,
        unit: plan.name.clone(),
        place: "runner strips".into(),
        mass_kg: None,
    });
    bolts
}

/// The pad and the catch that the maker asked for.
fn quiet(b: &mut Builder<'_>, plan: &PullOut) {
    if let Some(pad) = &plan.pad {
        b.hardware(Hardware {
            profile: "pad".into(),
            name: format!("self-adhesive felt or foam strip, {} mm thick", pad.nominal()),
            quantity: 2,
            unit: plan.name.clone(),
            place: "under what is above the table, along both sides".into(),
            mass_kg: Some(0.0),
        });
    }
    if plan.catch {
        b.hardware(Hardware {
            profile: "catch".into(),
            name: "sprung bolt catch, with its own screws".into(),
            quantity: 1,
            unit: plan.name.clone(),
            place: "front end of a runner strip, into a hole in the table's edge drilled in place".into(),
            mass_kg: None,
        });
    }
}

fn shims(b: &mut Builder<'_>, plan: &PullOut, bolts: usize) {
    if let PlayAbove::Washers { count, fastener } = &plan.play_above {
        b.hardware(Hardware {
            profile: fastener.id.clone(),
            name: format!("large washer for {}", fastener.name),
            quantity: count * bolts as u32,
            unit: plan.name.clone(),
            place: "shims between runner strips and cover, at each bolt".into(),
            mass_kg: None,
        });
    }
}

fn hole(b: &mut Builder<'_>, panel: PanelId, plan: &PullOut, id: String, at: [Dim; 2], bolt: &Fastener, purpose: Purpose) {
    b.cut(
        panel,
        Feature {
            id,
            kind: FeatureKind::Hole { at, diameter: Dim::number(bolt.clearance[1], format!("{} clearance", bolt.name)) },
            depth: Depth::Through,
            purpose,
            mate: None,
            span: plan.span,
        },
    );
}

/// A slot along the table and a bolt in the top below: the table stops against it at both ends.
fn stop_slot(
    b: &mut Builder<'_>,
    plan: &PullOut,
    stop: &Fastener,
    (table, top): (PanelId, PanelId),
    y: &Stretch,
    travel: &Dim,
    uprights: &[PanelId],
) {
    let Some(frame) = b.at(table).frame.clone() else { return };
    let middle = &frame.origin[0] + &(&b.at(table).length * 0.5);
    let half = b.at(table).length.nominal() / 2.0 - stop.clearance[2] * 2.0;
    let x = bolts::clear_x(b, uprights, &middle, stop, (middle.nominal() - half, middle.nominal() + half));
    // Closed, the bolt stands at the slot's front end; the slot lies in the middle of the table's length.
    let bolt_y = &y.from + &(&(&y.size - travel) * 0.5);
    let at = [x.clone(), bolt_y.clone(), Dim::zero()];
    let far = [x, &bolt_y + travel, Dim::zero()];
    b.cut(
        table,
        Feature {
            id: "stop slot".into(),
            kind: FeatureKind::Slot {
                from: frame.local(&at),
                to: frame.local(&far),
                width: Dim::number(stop.clearance[2], format!("{} loose clearance", stop.name)),
            },
            depth: Depth::Through,
            purpose: Purpose::Stop,
            mate: None,
            span: plan.span,
        },
    );
    if let Some(local) = b.at(top).frame.as_ref().map(|f| f.local(&at)) {
        hole(b, top, plan, format!("{} stop bolt", plan.name), local, stop, Purpose::Stop);
    }
    let bolt = Bolt { id: String::new(), at: [at[0].clone(), at[1].clone()], fastener: stop.clone() };
    b.heads.push(bolt.head_under(top));
    b.hardware(Hardware {
        profile: stop.id.clone(),
        name: format!(
            "{} from below with a washer, its shank standing in the slot, cut off flush with the table",
            stop.name
        ),
        quantity: 1,
        unit: plan.name.clone(),
        place: "top below, in the table's slot".into(),
        mass_kg: None,
    });
}

fn declare_gaps(b: &mut Builder<'_>, plan: &PullOut, region: &Stretch, table: PanelId, table_t: &Dim, layer: &Dim) {
    let name = &plan.name;
    let id = b.at(table).id.clone();
    let width = as_cut(&b.at(table).length.clone(), &format!("{name} table width"));
    let strips = as_cut(&(&plan.strip_width * 2.0), &format!("{name} runner strips"));
    b.gap(Gap {
        name: format!("{name}: play at the sides, together"),
        gap: as_cut(&region.size, &format!("{name} strip places")) - strips - width,
        required: Gap::at_least(LEAST_SIDE_PLAY),
        source: "common practice, no source".into(),
        parts: vec![id.clone()],
        span: plan.span,
    });
    let pad = plan.pad.clone().unwrap_or_else(Dim::zero);
    b.gap(Gap {
        name: format!("{name}: play above"),
        gap: layer - table_t - &pad,
        required: Gap::at_least(LEAST_PLAY_ABOVE),
        source: "common practice, no source".into(),
        parts: vec![id],
        span: plan.span,
    });
}
