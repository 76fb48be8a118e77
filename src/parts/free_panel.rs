//! Panels the builders do not know: as written.

use super::builder::Builder;
use super::frame::{Facing, Stretch};
use super::{codes, Depth, Face, Feature, FeatureKind, Grain, Hand, Panel, Purpose};
use crate::design::{FreeCut, FreePanel, FreeShape, GrainChoice};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::units::Mm;

/// Makes every copy of a free panel.
pub(super) fn build(b: &mut Builder<'_>, plan: &FreePanel) {
    let length = b.size(&format!("{} length", plan.name), &plan.size[0]);
    let width = b.size(&format!("{} width", plan.name), &plan.size[1]);
    let features: Vec<Feature> = plan.cuts.iter().enumerate().map(|(i, cut)| feature(cut, i + 1)).collect();
    check_inside(b, plan, &features, length.nominal(), width.nominal());
    let grain = match plan.grain {
        Some(GrainChoice::Length) | None => Grain::AlongU,
        Some(GrainChoice::Width) => Grain::AlongV,
        Some(GrainChoice::Any) => Grain::Any,
    };
    let thickness = b.thickness(plan.board);
    let frame = plan.at.map(|at| {
        let place = |value: f64, what: &str| Dim::number(Mm(value), format!("{} {what}", plan.name));
        let block = [
            Stretch::new(&place(at.x, "place from the left"), &length),
            Stretch::new(&place(at.y, "place from the sill"), &width),
            Stretch::new(&place(at.z, "place above the floor"), &thickness),
        ];
        Facing::Up.frame(&block)
    });
    for copy in 1..=plan.quantity {
        let id = b.next_id(&plan.name, plan.board, Hand::None);
        b.model.panels.push(Panel {
            id,
            name: if plan.quantity == 1 { plan.name.clone() } else { format!("{} {copy}", plan.name) },
            unit: plan.name.clone(),
            hand: Hand::None,
            board: plan.board,
            length: length.clone(),
            width: width.clone(),
            thickness: thickness.clone(),
            // Only the first copy can stand where the maker said.
            frame: if copy == 1 { frame.clone() } else { None },
            grain,
            outline: plan.outline.clone(),
            features: features.clone(),
            edges: Vec::new(),
            span: plan.span,
        });
    }
}

fn feature(cut: &FreeCut, number: usize) -> Feature {
    let (id, kind, purpose) = match &cut.shape {
        FreeShape::Hole { at, diameter } => {
            ("hole", FeatureKind::Hole { at: at.clone(), diameter: diameter.clone() }, Purpose::Own)
        }
        FreeShape::Slot { from, to, width } => {
            ("slot", FeatureKind::Slot { from: from.clone(), to: to.clone(), width: width.clone() }, Purpose::Own)
        }
        FreeShape::CutOut { at, size, radius } => {
            let square = radius.nominal() <= Mm::ZERO;
            let kind =
                FeatureKind::Rectangle { at: at.clone(), size: size.clone(), radius: (!square).then(|| radius.clone()) };
            ("cut-out", kind, if square { Purpose::Joint } else { Purpose::Own })
        }
        FreeShape::Notch { at, size } => {
            ("notch", FeatureKind::EdgeNotch { at: at.clone(), size: size.clone(), radius: None }, Purpose::Joint)
        }
    };
    let depth = cut.depth.as_ref().map_or(Depth::Through, |d| Depth::Blind(Face::A, d.clone()));
    Feature { id: format!("{id} {number}"), kind, depth, purpose, mate: None, span: cut.span }
}

fn check_inside(b: &mut Builder<'_>, plan: &FreePanel, features: &[Feature], length: Mm, width: Mm) {
    for f in features {
        let [u, v] = f.centre();
        let inside = u >= Mm::ZERO && v >= Mm::ZERO && u <= length && v <= width;
        if !inside {
            b.findings.push(
                Finding::stop(
                    codes::CUT_OUTSIDE_PANEL,
                    format!("{} of {} lies at {u}, {v} mm, outside its {length} x {width} mm", f.id, plan.name),
                )
                .part(&plan.name)
                .at(f.span)
                .remedy("measure from the panel's lower left corner, along its length first"),
            );
        }
    }
}
