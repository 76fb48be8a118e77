//! Tops, shelves, drawer bottoms and tables: how far they bend, now and after years, and how hard they are stressed.

pub mod plate;
mod pulled;
pub mod strip;

use super::codes;
use super::say::{coefficient, kg, mm, stress, Section, G};
use super::space::{self, Space, SpaceKind};
use super::stow::Stowed;
use crate::design::{BoardUse, Design};
use crate::diag::{Finding, Span};
use crate::geom::Axis;
use crate::parts::{Grain, Model, Panel};
use crate::shop::Material;
use crate::units::{decimal, Mm};
use plate::{Plate, PlateBent};

/// First load: span / 360 (IBC Table 1604.3, floor members, live load).
const FIRST: f64 = 360.0;
/// With creep: span / 200 (furniture practice; EN 1995-1-1, 7.2 has 150 to 300, from memory).
const LASTING: f64 = 200.0;
/// Creep of plywood in service class 2, the damp air of a vehicle: kdef 1.00 (EN 1995-1-1, Table 3.2).
pub const KDEF: f64 = 1.00;
/// Least bending strength of a plywood at breaking, N/mm²: Wood Handbook, Table 12-1 (from memory). Birch is stronger.
const BREAKS: f64 = 33.7;
/// Load duration and damp: kmod 0.80, and material factor 1.2 of plywood (EN 1995-1-1, Tables 3.1 and 2.3, from memory).
const KMOD: f64 = 0.80;
const MATERIAL_FACTOR: f64 = 1.2;
/// In-plane shear modulus of birch plywood, N/mm² (Handbook of Finnish Plywood, from memory).
const SHEAR: f64 = 620.0;
const MM3_PER_M3: f64 = 1_000_000_000.0;

/// The stress a board is counted on to take, N/mm².
#[must_use]
pub fn allowed_stress() -> f64 {
    BREAKS * KMOD / MATERIAL_FACTOR
}

/// One panel bent.
#[derive(Clone, Debug)]
pub struct Bent {
    /// The panel.
    pub part: String,
    /// Its span.
    pub span: Mm,
    /// kg it carries, its own mass left out.
    pub load_kg: f64,
    /// At first load.
    pub first: Mm,
    /// After years of the same load.
    pub lasting: Mm,
    /// N/mm².
    pub stress: f64,
    /// The least thickness of the same board that keeps every limit.
    pub least: Mm,
}

/// Bending of everything that is loaded.
pub(super) fn judge(
    design: &Design,
    model: &Model,
    spaces: &[Space],
    stowed: &[Stowed],
    findings: &mut Vec<Finding>,
) -> (Vec<Bent>, Section) {
    let mut section = Section::new("Bending");
    section.say(format!(
        "Limits: first load span / 360 (IBC Table 1604.3, floors, live load); with creep, x (1 + kdef) = x {} (kdef {} for plywood, \
         service class 2, EN 1995-1-1 Table 3.2), span / 200 (furniture practice). Stress: {} x kmod {} / {} = {} (Wood Handbook \
         Table 12-1, EN 1995-1-1 Tables 3.1 and 2.3, from memory). Own mass is counted in. E from the board's profile, by its grain.",
        decimal(1.0 + KDEF, 2),
        decimal(KDEF, 2),
        stress(BREAKS),
        decimal(KMOD, 2),
        decimal(MATERIAL_FACTOR, 1),
        stress(allowed_stress())
    ));
    let mut list = Vec::new();
    for (index, carcass) in design.carcasses.iter().enumerate() {
        if let Some(top) = &carcass.top {
            let goods = goods_in(spaces, stowed, |k| k == SpaceKind::Top(index));
            let load = top.load_kg.unwrap_or(0.0) + goods;
            let said = top.load_kg.is_some() || goods > 0.0;
            on_uprights(
                design,
                model,
                &format!("{} top", carcass.name),
                load,
                said,
                carcass.span,
                &mut list,
                &mut section,
                findings,
            );
        }
        for cell in carcass.columns.iter().flat_map(|c| &c.cells).filter(|c| c.shelf.is_some()) {
            let goods: f64 = if cell.drawer.is_some() {
                0.0
            } else {
                stowed.iter().filter(|s| s.place == cell.name).map(|s| s.mass_kg).sum()
            };
            let load = cell.load_kg.unwrap_or(0.0) + goods;
            let said = cell.load_kg.is_some() || goods > 0.0;
            let name = format!("{} shelf", cell.name.replace('.', " "));
            on_uprights(design, model, &name, load, said, cell.span, &mut list, &mut section, findings);
        }
    }
    for s in stowed {
        let space = &spaces[s.space];
        if matches!(space.kind, SpaceKind::Drawer(_)) {
            bottom(design, model, space, s, &mut list, &mut section, findings);
        }
    }
    pulled::judge(design, model, spaces, stowed, &mut list, &mut section, findings);
    if list.is_empty() {
        section
            .say("Nothing that bends is loaded: no load is written and nothing is stowed on a top, shelf, bottom or table.");
    }
    (list, section)
}

fn goods_in(spaces: &[Space], stowed: &[Stowed], kind: impl Fn(SpaceKind) -> bool) -> f64 {
    stowed.iter().filter(|s| kind(spaces[s.space].kind)).map(|s| s.mass_kg).sum()
}

/// E of a panel along a direction of the bay, N/mm², and how that is said.
fn stiffness(board: &BoardUse, panel: &Panel, axis: usize) -> (f64, &'static str) {
    let grain = panel.frame.as_ref().and_then(|f| match panel.grain {
        Grain::AlongU => Some(f.u),
        Grain::AlongV => Some(f.v),
        Grain::Any => None,
    });
    match grain.map(Axis::index) {
        Some(along) if along == axis => (board.profile.e_along, "along the grain"),
        Some(_) => (board.profile.e_across, "across the grain"),
        None => (board.profile.e_along.min(board.profile.e_across), "grain free, so across it"),
    }
}

/// Own mass of a panel over an area, N/mm².
fn own(board: &BoardUse, t: f64) -> f64 {
    board.profile.density_kg_m3 / MM3_PER_M3 * t * G
}

/// A panel that lies on uprights (or between them): a strip over the widest gap, its other edges taken as free.
#[allow(clippy::too_many_arguments, reason = "each argument is a different thing")]
fn on_uprights(
    design: &Design,
    model: &Model,
    name: &str,
    load_kg: f64,
    said: bool,
    span: Option<Span>,
    list: &mut Vec<Bent>,
    section: &mut Section,
    findings: &mut Vec<Finding>,
) {
    let Some((_, panel, solid)) = space::panel(model, name) else { return };
    let board = &design.boards[panel.board.0];
    if board.profile.material == Material::Card {
        section.say(format!("{name}: card is not judged."));
        return;
    }
    if !said {
        section.say(format!("{name}: no load written and nothing stowed on it; not judged (write `load = ...` in kg)."));
        return;
    }
    let gap = widest_gap(model, panel, &solid);
    let (depth, t) = (solid.max.y - solid.min.y, panel.thickness.nominal().0);
    let (e, grain) = stiffness(board, panel, 0);
    let i = depth * t.powi(3) / 12.0;
    let area = (solid.max.x - solid.min.x) * depth;
    let w = (load_kg * G / area + own(board, t)) * depth;
    let first = strip::spread(w, gap, e, i);
    let sigma = strip::spread_moment(w, gap) * 6.0 / (depth * t * t);
    section.say(format!(
        "{name}: strip over {} mm between uprights, {} mm deep, {} mm thick, {} carried, E {} N/mm² ({grain})",
        decimal(gap, 1),
        decimal(depth, 1),
        decimal(t, 2),
        kg(load_kg),
        decimal(e, 0)
    ));
    section.say(format!(
        "  5 x {} N/mm x ({} mm)⁴ / (384 x {} N/mm² x {} mm⁴) = {} mm; 6 x {} N/mm x ({} mm)² / (8 x {} mm x ({} mm)²) = {}",
        coefficient(w),
        decimal(gap, 1),
        decimal(e, 0),
        decimal(i, 0),
        decimal(first, 2),
        coefficient(w),
        decimal(gap, 1),
        decimal(depth, 1),
        decimal(t, 2),
        stress(sigma)
    ));
    finish(&Found { panel, span, gap, load_kg, first, sigma, t }, list, section, findings);
}

/// The widest stretch of a panel between the uprights that hold it.
fn widest_gap(model: &Model, panel: &Panel, solid: &crate::geom::Box3) -> f64 {
    let mut walls: Vec<[f64; 2]> = model
        .panels
        .iter()
        .filter(|p| p.unit == panel.unit && p.name.contains("upright"))
        .filter_map(Panel::solid)
        .filter(|s| s.max.z > solid.min.z - 1.0 && s.min.z < solid.max.z)
        .map(|s| [s.min.x, s.max.x])
        .collect();
    walls.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let inside = |w: &[[f64; 2]]| {
        let (from, to) = (w[0][1].max(solid.min.x), w[1][0].min(solid.max.x));
        to - from
    };
    let gap = walls.windows(2).map(inside).fold(0.0, f64::max);
    if gap > 0.0 {
        gap
    } else {
        solid.max.x - solid.min.x
    }
}

/// A drawer's bottom on its four walls: all goods spread over it, and the heaviest thing alone in its middle.
fn bottom(
    design: &Design,
    model: &Model,
    space: &Space,
    stowed: &Stowed,
    list: &mut Vec<Bent>,
    section: &mut Section,
    findings: &mut Vec<Finding>,
) {
    let panel = &model.panels[space.floor];
    let board = &design.boards[panel.board.0];
    if board.profile.material == Material::Card {
        section.say(format!("{}: card is not judged.", panel.name));
        return;
    }
    let t = panel.thickness.nominal().0;
    let (a, b) = (space.room.max.x - space.room.min.x, space.room.max.y - space.room.min.y);
    let ((e_x, _), (e_y, _)) = (stiffness(board, panel, 0), stiffness(board, panel, 1));
    let plate = Plate::orthotropic(a, b, e_x, e_y, SHEAR, t);
    let q_own = own(board, t);
    let q = stowed.mass_kg * G / (a * b);
    let all = plate.uniform(q + q_own);
    let heaviest = stowed.standing.iter().max_by(|x, y| x.mass_kg.total_cmp(&y.mass_kg));
    let alone = heaviest.map(|h| {
        let (p, o) = (plate.patch(h.mass_kg * G, h.size[0].0, h.size[1].0), plate.uniform(q_own));
        PlateBent { deflection: p.deflection + o.deflection, m1: p.m1 + o.m1, m2: p.m2 + o.m2 }
    });
    let rules = alone.filter(|x| x.deflection > all.deflection);
    let bent = rules.unwrap_or(all);
    let sigma = 6.0 * bent.m1.abs().max(bent.m2.abs()) / (t * t);
    let short = a.min(b);
    section.say(format!(
        "{}: plate {} x {} mm on its four walls, {} mm thick, E {} N/mm² along x, {} N/mm² along y, G {} N/mm² (Finnish handbook, from memory)",
        panel.name,
        decimal(a, 1),
        decimal(b, 1),
        decimal(t, 2),
        decimal(e_x, 0),
        decimal(e_y, 0),
        decimal(SHEAR, 0)
    ));
    let d1 = e_x * t.powi(3) / 12.0;
    section.say(format!(
        "  all spread: q = ({} x {} m/s² / {} mm² + own {} N/mm²) = {} N/mm²; w = k q a⁴ / D, k = {} (Navier series, Dy/D {}, H/D {}), a {} mm, D = {} N/mm² x ({} mm)³ / 12 = {} N mm: {} mm",
        kg(stowed.mass_kg),
        decimal(G, 3),
        decimal(a * b, 0),
        coefficient(q_own),
        coefficient(q + q_own),
        coefficient(all.deflection * d1 / ((q + q_own) * a.powi(4))),
        decimal(e_y / e_x, 3),
        decimal(2.0 * SHEAR / e_x, 3),
        decimal(a, 1),
        decimal(e_x, 0),
        decimal(t, 2),
        decimal(d1, 0),
        decimal(all.deflection, 2)
    ));
    if let (Some(h), Some(x)) = (heaviest, alone) {
        section.say(format!(
            "  {} alone in the middle, {} x {} mm, {}, and own mass: {} mm (series)",
            h.name,
            h.size[0],
            h.size[1],
            kg(h.mass_kg),
            decimal(x.deflection, 2)
        ));
    }
    section.say(format!(
        "  stress 6 m / t² = 6 x {} N mm/mm / ({} mm)² = {}",
        coefficient(bent.m1.abs().max(bent.m2.abs())),
        decimal(t, 2),
        stress(sigma)
    ));
    let found = Found { panel, span: panel.span, gap: short, load_kg: stowed.mass_kg, first: bent.deflection, sigma, t };
    finish(&found, list, section, findings);
}

/// A result on its way to being judged.
struct Found<'a> {
    panel: &'a Panel,
    span: Option<Span>,
    gap: f64,
    load_kg: f64,
    first: f64,
    sigma: f64,
    t: f64,
}

fn finish(found: &Found<'_>, list: &mut Vec<Bent>, section: &mut Section, findings: &mut Vec<Finding>) {
    let Found { panel, span, gap, load_kg, first, sigma, t } = *found;
    let lasting = first * (1.0 + KDEF);
    let (first_limit, lasting_limit) = (gap / FIRST, gap / LASTING);
    let over = (first / first_limit).max(lasting / lasting_limit);
    // Deflection goes with the cube of the thickness, stress with its square; the load is taken as it is.
    let least = t * over.cbrt().max((sigma / allowed_stress()).sqrt());
    let verdict = if over > 1.0 || sigma > allowed_stress() { "TOO MUCH" } else { "fine" };
    section.say(format!(
        "  first {} mm of {} mm allowed; with creep x {} = {} mm of {} mm allowed: {verdict}; least thickness that would do {} mm",
        decimal(first, 2),
        decimal(first_limit, 2),
        decimal(1.0 + KDEF, 2),
        decimal(lasting, 2),
        decimal(lasting_limit, 2),
        decimal(least, 1)
    ));
    if over > 1.0 {
        findings.push(
            Finding::caution(
                codes::SAGS,
                format!(
                    "{} sags {} mm at first and {} mm after years under {} over {} mm; {} mm and {} mm are allowed",
                    panel.name,
                    decimal(first, 1),
                    decimal(lasting, 1),
                    kg(load_kg),
                    decimal(gap, 0),
                    decimal(first_limit, 1),
                    decimal(lasting_limit, 1)
                ),
            )
            .part(panel.id.clone())
            .at(span)
            .limit("span / 360 at first (IBC Table 1604.3), span / 200 with creep (furniture practice), kdef EN 1995-1-1 Table 3.2")
            .remedy(format!(
                "take a board of {} mm or more, support it in the middle, or carry {} there",
                decimal((least * 10.0).ceil() / 10.0, 1),
                kg((load_kg / over * 10.0).floor() / 10.0)
            )),
        );
    }
    findings.extend(overstressed(panel, span, sigma, least));
    list.push(Bent {
        part: panel.name.clone(),
        span: Mm(gap),
        load_kg,
        first: Mm(first),
        lasting: Mm(lasting),
        stress: sigma,
        least: Mm(least),
    });
}

fn overstressed(panel: &Panel, span: Option<Span>, sigma: f64, least: f64) -> Option<Finding> {
    (sigma > allowed_stress()).then(|| {
        Finding::stop(
            codes::OVERSTRESSED,
            format!("{} is stressed with {}; {} are counted on", panel.name, stress(sigma), stress(allowed_stress())),
        )
        .part(panel.id.clone())
        .at(span)
        .limit("33.7 N/mm² (Wood Handbook Table 12-1, from memory) x kmod 0.80 / 1.2 (EN 1995-1-1)")
        .remedy(format!("take a board of {} or more, or carry less", mm(Mm((least * 10.0).ceil() / 10.0))))
    })
}
