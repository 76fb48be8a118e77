//! Tables at full reach: the end that gives way, the stress where they leave their cover, the pull on what holds the far end down.

use super::{allowed_stress, goods_in, overstressed, own, stiffness, strip, Bent, KDEF};
use crate::design::{Design, PlayAbove, PullOut};
use crate::diag::Finding;
use crate::fit::load::codes;
use crate::fit::load::say::{kg, newton, stress, Section, G};
use crate::fit::load::space::{self, Space, SpaceKind};
use crate::fit::load::stow::Stowed;
use crate::parts::{FeatureKind, Model, Purpose};
use crate::shop::Material;
use crate::units::{decimal, Mm};

/// A hand leaning on the end: 200 N, and the end gives way 10 mm at most (checklist FM11, from memory).
const LEAN: f64 = 200.0;
const TIP: f64 = 10.0;
/// Reaching out further than this wants a leg (checklist FM11, from memory).
const LEG: f64 = 600.0;

pub(super) fn judge(
    design: &Design,
    model: &Model,
    spaces: &[Space],
    stowed: &[Stowed],
    list: &mut Vec<Bent>,
    section: &mut Section,
    findings: &mut Vec<Finding>,
) {
    for plan in &design.pull_outs {
        let Some((index, table, solid)) = space::panel(model, &format!("{} table", plan.name)) else { continue };
        let Some(motion) = model.motions.iter().find(|m| m.panels.iter().any(|p| p.0 == index)) else { continue };
        let board = &design.boards[table.board.0];
        if board.profile.material == Material::Card {
            section.say(format!("{}: card is not judged.", table.name));
            continue;
        }
        let goods = goods_in(spaces, stowed, |k| matches!(k, SpaceKind::Table(m) if model.motions[m].name == plan.name));
        let load_kg = plan.load_kg.unwrap_or(0.0) + goods;
        let (length, width, t) = (solid.max.y - solid.min.y, solid.max.x - solid.min.x, table.thickness.nominal().0);
        let out = motion.travel.nominal().0;
        let kept = length - out;
        let slot: f64 = table
            .features
            .iter()
            .filter(|f| f.purpose == Purpose::Stop)
            .filter_map(|f| if let FeatureKind::Slot { width, .. } = &f.kind { Some(width.nominal().0) } else { None })
            .sum();
        if kept <= 0.0 || out <= 0.0 {
            continue;
        }
        let (e, grain) = stiffness(board, table, 1);
        let wide = width - slot;
        let i = wide * t.powi(3) / 12.0;
        let w_own = own(board, t) * width;
        let w = load_kg * G / length + w_own;
        let (lean, loaded) = (strip::overhang_end(LEAN, out, kept, e, i), strip::overhang_spread(w, out, kept, e, i));
        let play = play_above(plan, model, table.thickness.nominal().0);
        let drop = play * out / kept;
        let moment = [LEAN * out + w_own * out * out / 2.0, w * out * out / 2.0];
        let worst = moment[0].max(moment[1]);
        let sigma = 6.0 * worst / (wide * t * t);
        section.say(format!(
            "{}, the table at full reach: {} mm out, {} mm ({} %) under cover, {} mm wide less {} mm slot, {} mm thick, E {} N/mm² ({grain})",
            plan.name, decimal(out, 0), decimal(kept, 0), decimal(kept / length * 100.0, 0), decimal(width, 0), decimal(slot, 1),
            decimal(t, 2), decimal(e, 0)
        ));
        section.say(format!(
            "  end under {} (checklist FM11): {} x ({} mm)² x ({} mm + {} mm) / (3 x {} N/mm² x {} mm⁴) = {} mm; play {} mm x {} mm / {} mm lets it drop {} mm more",
            newton(LEAN), newton(LEAN), decimal(out, 0), decimal(out, 0), decimal(kept, 0), decimal(e, 0), decimal(i, 0),
            decimal(lean, 2), decimal(play, 2), decimal(out, 0), decimal(kept, 0), decimal(drop, 2)
        ));
        let said = if load_kg > 0.0 { kg(load_kg) } else { "no load written, own mass alone".to_owned() };
        section.say(format!(
            "  spread load ({said}): {} N/mm x ({} mm)³ x (4 x {} mm + 3 x {} mm) / (24 E I) = {} mm, with creep {} mm",
            decimal(w, 4),
            decimal(out, 0),
            decimal(kept, 0),
            decimal(out, 0),
            decimal(loaded, 2),
            decimal(loaded * (1.0 + KDEF), 2)
        ));
        section.say(format!(
            "  moment where it leaves its cover: leaning {} N m, loaded {} N m; 6 M / (b t²) = {}",
            decimal(moment[0] / 1000.0, 1),
            decimal(moment[1] / 1000.0, 1),
            stress(sigma)
        ));
        // The far end's own mass helps to hold it down.
        let hold = (worst - w_own * kept * kept / 2.0).max(0.0) / kept;
        section.say(format!(
            "  its far end pushes the cover up with ({} N m - own {} N m) / {} mm = {}; the moment on the strips is that of the same couple",
            decimal(worst / 1000.0, 1), decimal(w_own * kept * kept / 2000.0, 1), decimal(kept, 0), newton(hold)
        ));
        judge_tip(plan, &table.id, lean, drop, out, t, findings);
        let least = t * (lean / TIP).cbrt().max((sigma / allowed_stress()).sqrt());
        findings.extend(overstressed(table, plan.span, sigma, least));
        list.push(Bent {
            part: table.name.clone(),
            span: Mm(out),
            load_kg,
            first: Mm(lean.max(loaded)),
            lasting: Mm(lean.max(loaded * (1.0 + KDEF))),
            stress: sigma,
            least: Mm(least),
        });
    }
}

/// Air between the table and what covers it.
fn play_above(plan: &PullOut, model: &Model, table: f64) -> f64 {
    match &plan.play_above {
        PlayAbove::Play(play) => play.nominal().0,
        PlayAbove::Washers { count, fastener } => {
            let washers = fastener.washer.map_or(0.0, |w| w[2].0) * f64::from(*count);
            let strip = space::panel(model, &format!("{} left runner strip", plan.name));
            strip.map_or(table, |(_, p, _)| p.thickness.nominal().0) + washers - table
        }
    }
}

fn judge_tip(plan: &PullOut, id: &str, lean: f64, drop: f64, out: f64, t: f64, findings: &mut Vec<Finding>) {
    if lean > TIP {
        findings.push(
            Finding::caution(
                codes::TABLE_TIP_SOFT,
                format!(
                    "{} gives way {} mm at its end under 200 N, and drops {} mm by its play; {} mm are allowed",
                    plan.name,
                    decimal(lean, 1),
                    decimal(drop, 1),
                    decimal(TIP, 0)
                ),
            )
            .part(id)
            .at(plan.span)
            .limit("10 mm at 200 N (checklist FM11, from memory)")
            .remedy(format!(
                "take a board of {} mm or more, keep more of it under cover, or give it a leg",
                decimal((t * (lean / TIP).cbrt() * 10.0).ceil() / 10.0, 1)
            )),
        );
    } else if out > LEG {
        findings.push(
            Finding::note(codes::TABLE_TIP_SOFT, format!("{} reaches {} mm out", plan.name, decimal(out, 0)))
                .part(id)
                .at(plan.span)
                .limit("a leg beyond 600 mm (checklist FM11, from memory)")
                .remedy("give it a leg, or keep more of it under cover"),
        );
    }
}
