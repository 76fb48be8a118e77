//! Every screw against the wood it goes into: bite, point, pilot, spacing.

use super::codes;
use super::hardware::{length_in, Catalogue};
use super::heads;
use super::say::{mm, Section};
use super::space;
use crate::design::Design;
use crate::diag::{Finding, Span};
use crate::parts::{Hardware, Model, Panel, PanelEdge, Purpose};
use crate::shop::Fastener;
use crate::units::{decimal, Mm};

/// Least thread in the wood that holds: 19 mm into an edge (checklist PJ10).
pub(super) const BITE: Mm = Mm(19.0);
/// Wood that must be left beyond a point (checklist PJ10).
pub(super) const POINT: Mm = Mm(2.0);
/// Pilot as a share of the thread's root in hardwood and plywood (wood council guidance, as quoted).
pub(super) const PILOT_SHARE: f64 = 0.90;
/// Sheet of a slide's member, which lies between a screw's head and the wood. Common practice, no source: 1.0 to 1.5 mm.
const MEMBER: Mm = Mm(1.0);
/// How far a pilot may lie from that: drills are sold in steps of 0.1 mm, and roots differ from maker to maker.
const PILOT_OFF: Mm = Mm(0.25);
/// Screws of one joint stand no further apart (checklist PJ10).
const SPACING: f64 = 200.0;

/// Shank and root diameters of wood screws by gauge 6, 8, 10 and 12, in inches (table of a trade page).
const ROOTS: [[f64; 2]; 4] = [[0.138, 0.094], [0.164, 0.112], [0.190, 0.130], [0.216, 0.148]];

/// Root diameter of a wood screw by its shank, between and beyond the gauges in the same proportion.
#[must_use]
pub fn root_diameter(shank: Mm) -> Mm {
    let inches = shank.inches();
    let pair = ROOTS.windows(2).find(|w| inches <= w[1][0]).unwrap_or(&ROOTS[2..]);
    let (from, to) = (pair[0], pair[1]);
    let along = (inches - from[0]) / (to[0] - from[0]);
    Mm::from_inches(from[1] + (to[1] - from[1]) * along)
}

/// One kind of screw in one joint.
#[derive(Clone, Debug)]
pub struct Screwed {
    /// Where: `lower base to lower back`.
    pub place: String,
    /// The unit.
    pub unit: String,
    /// How many.
    pub count: u32,
    /// Its length.
    pub length: Mm,
    /// Wood it passes without holding.
    pub passes: Mm,
    /// Wood from its head to where its point would come out.
    pub stack: Mm,
    /// Whether its thread should bite as deep as an edge screw.
    edge: bool,
}

impl Screwed {
    /// Thread in the wood that holds.
    #[must_use]
    pub fn bite(&self) -> Mm {
        (self.length - self.passes).min(self.stack - self.passes)
    }

    /// Wood beyond the point; negative when it comes out.
    #[must_use]
    pub fn beyond(&self) -> Mm {
        self.stack - self.length
    }
}

pub(super) fn judge(
    design: &Design,
    model: &Model,
    catalogue: &Catalogue<'_>,
    findings: &mut Vec<Finding>,
) -> (Vec<Screwed>, Section) {
    let mut section = Section::new("Screws");
    section.say(format!(
        "Point: at least {} of wood left beyond it; bite: at least {} into an edge (checklist PJ10). Glue the joints that stay shut.",
        mm(POINT),
        mm(BITE)
    ));
    let mut list = Vec::new();
    let mut pilots: Vec<&str> = Vec::new();
    for piece in &model.hardware {
        let Some(screw) = catalogue.fasteners.get(piece.profile.as_str()) else { continue };
        let (Some(pilot), Some(length)) = (screw.pilot, length_in(&piece.name)) else { continue };
        if !pilots.contains(&screw.id.as_str()) {
            pilots.push(&screw.id);
            check_pilot(screw, pilot, findings, &mut section);
        }
        let found = joint(model, piece, length);
        if found.is_empty() {
            section.say(format!("  {} x {}: its joint was not found, so it was not checked", piece.quantity, piece.place));
        }
        for (one, span, part) in found {
            section.say(format!(
                "  {} x {} in {} ({}): passes {}, bites {}, {} of wood beyond its point",
                one.count,
                piece.name,
                one.place,
                one.unit,
                mm(one.passes),
                mm(one.bite()),
                mm(one.beyond())
            ));
            findings.extend(too_long(&one, screw, span, &part));
            findings.extend(too_short(&one, screw, span, &part));
            list.push(one);
        }
    }
    spacing(model, &mut section);
    heads::judge(design, findings, &mut section);
    (list, section)
}

fn check_pilot(screw: &Fastener, pilot: Mm, findings: &mut Vec<Finding>, section: &mut Section) {
    let root = root_diameter(screw.diameter);
    let wanted = root * PILOT_SHARE;
    section.say(format!(
        "  {}: root {} for a shank of {}; pilot 0.9 x {} = {}, the profile says {}",
        screw.name,
        mm(root),
        mm(screw.diameter),
        mm(root),
        mm(wanted),
        mm(pilot)
    ));
    if (pilot - wanted).abs() > PILOT_OFF {
        let fault = if pilot > wanted { "strips" } else { "splits the ply" };
        findings.push(
            Finding::caution(
                codes::PILOT_SIZE,
                format!(
                    "the pilot of {} is {pilot} mm; its root asks for {} mm, so it {fault}",
                    screw.name,
                    decimal(wanted.0, 1)
                ),
            )
            .limit("90 % of the root diameter in hardwood and plywood (wood council guidance); roots by gauge 6 to 12")
            .remedy(format!("write `pilot = {}` in the profile {}", decimal(wanted.0, 1), screw.id)),
        );
    }
}

/// The joints a line of the hardware list stands for, from the panels' own sizes.
fn joint(model: &Model, piece: &Hardware, length: Mm) -> Vec<(Screwed, Option<Span>, String)> {
    let new = |passes: Mm, stack: Mm, edge: bool, count: u32, place: &str| Screwed {
        place: place.to_owned(),
        unit: piece.unit.clone(),
        count,
        length,
        passes,
        stack,
        edge,
    };
    let named = |what: &str| space::panel(model, &format!("{} {what}", piece.unit)).map(|(_, p, _)| p);
    if piece.place.starts_with("box front to front") {
        let (Some(inner), Some(outer)) = (named("box front"), named("front")) else { return Vec::new() };
        let (a, b) = (inner.thickness.nominal(), outer.thickness.nominal());
        return vec![(new(a, a + b, false, piece.quantity, &piece.place), outer.span, outer.id.clone())];
    }
    if piece.place.starts_with("slides to") {
        // The thinnest wood that any of them goes into: box sides, and the uprights that were drilled for this drawer.
        let mine = format!("{} ", piece.unit);
        let drilled = |p: &&Panel| p.features.iter().any(|f| f.purpose == Purpose::Slide && f.id.starts_with(&mine));
        let thinnest = model
            .panels
            .iter()
            .filter(drilled)
            .min_by(|a, b| a.thickness.nominal().total_cmp(&b.thickness.nominal()).then_with(|| a.id.cmp(&b.id)));
        let Some(wood) = thinnest else { return Vec::new() };
        let t = wood.thickness.nominal();
        return vec![(new(MEMBER, t + MEMBER, false, piece.quantity, &piece.place), wood.span, wood.id.clone())];
    }
    // `FIELD to EDGE`, and perhaps a remark after a comma.
    let hit = model.panels.iter().find_map(|edge_panel| {
        edge_panel.edges.iter().find_map(|note| {
            let field = &model.panels[note.mate.0];
            let place = format!("{} to {}", field.name, edge_panel.name);
            let same = piece.place == place || piece.place.strip_prefix(&place).is_some_and(|r| r.starts_with(", "));
            (same && !note.screws.is_empty()).then_some((field, edge_panel, note.edge))
        })
    });
    let Some((field, edge_panel, edge)) = hit else { return Vec::new() };
    let passes = field.thickness.nominal();
    let stack = passes + depth_from(edge_panel, edge);
    vec![(new(passes, stack, true, piece.quantity, &piece.place), edge_panel.span, edge_panel.id.clone())]
}

/// How far a panel reaches in from one of its edges.
fn depth_from(panel: &Panel, edge: PanelEdge) -> Mm {
    match edge {
        PanelEdge::Bottom | PanelEdge::Top => panel.width.nominal(),
        PanelEdge::Left | PanelEdge::Right => panel.length.nominal(),
    }
}

fn too_long(one: &Screwed, screw: &Fastener, span: Option<Span>, part: &str) -> Option<Finding> {
    if one.beyond() >= POINT {
        return None;
    }
    let most = one.stack - POINT;
    let fits = screw.lengths.iter().copied().filter(|l| *l <= most).fold(Mm::ZERO, Mm::max);
    let remedy = if fits > Mm::ZERO {
        format!("take {} x {fits}", screw.name)
    } else {
        format!("take a screw of {} or less, thicker wood, or grind the points off", mm(most))
    };
    let comes = if one.beyond() < Mm::ZERO {
        format!("its point comes out by {}", mm(-one.beyond()))
    } else {
        format!("only {} are left beyond its point", mm(one.beyond()))
    };
    let message =
        format!("a screw of {} in {} ({}) has {} of wood: {comes}", mm(one.length), one.place, one.unit, mm(one.stack));
    Some(
        Finding::caution(codes::SCREW_TOO_LONG, message)
            .part(part)
            .at(span)
            .limit("2 mm of wood beyond a screw's point (checklist PJ10)")
            .remedy(remedy),
    )
}

fn too_short(one: &Screwed, screw: &Fastener, span: Option<Span>, part: &str) -> Option<Finding> {
    if !one.edge || one.bite() >= BITE {
        return None;
    }
    let wanted = one.passes + BITE;
    let next = screw.lengths.iter().copied().filter(|l| *l >= wanted && *l + POINT <= one.stack).fold(Mm::ZERO, Mm::max);
    let remedy = if next > Mm::ZERO {
        format!("take {} x {next}", screw.name)
    } else {
        format!("make the wood {} deeper, or glue it too", mm(one.passes + BITE + POINT - one.stack))
    };
    Some(
        Finding::note(
            codes::SCREW_TOO_SHORT,
            format!("a screw of {} in {} ({}) bites {}", mm(one.length), one.place, one.unit, mm(one.bite())),
        )
        .part(part)
        .at(span)
        .limit("19 mm of thread in an edge (checklist PJ10)")
        .remedy(remedy),
    )
}

/// The largest distance between neighbouring screws of one joint.
fn spacing(model: &Model, section: &mut Section) {
    let mut widest: Option<(f64, &str)> = None;
    for panel in &model.panels {
        for note in &panel.edges {
            let mut at: Vec<f64> = note.screws.iter().map(|s| s.nominal().0).collect();
            at.sort_by(f64::total_cmp);
            for pair in at.windows(2) {
                if widest.is_none_or(|(most, _)| pair[1] - pair[0] > most) {
                    widest = Some((pair[1] - pair[0], &panel.name));
                }
            }
        }
    }
    if let Some((most, name)) = widest {
        let verdict = if most <= SPACING { "within" } else { "MORE THAN" };
        section.say(format!(
            "  widest spacing {} mm ({name}): {verdict} {} mm (checklist PJ10)",
            decimal(most, 0),
            decimal(SPACING, 0)
        ));
    }
}
