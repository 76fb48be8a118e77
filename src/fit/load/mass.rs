//! Mass and centre of mass: panels less what is cut out of them, hardware and goods, by what moves as one.

use super::hardware::Catalogue;
use super::say::{kg, place, Section};
use super::space::{Space, SpaceKind};
use super::stow::Stowed;
use crate::design::{CarcassPlace, Design};
use crate::geom::tolerance::TRACE_CHORD;
use crate::geom::Contour;
use crate::parts::{Depth, Feature, FeatureKind, Model, Panel};
use crate::units::{decimal, Mm};
use std::f64::consts::PI;

const MM3_PER_M3: f64 = 1_000_000_000.0;

/// Something that moves, or is carried in, as one.
#[derive(Clone, Debug)]
pub struct Body {
    /// Its name: a carcass, a drawer, a table, the fixed parts of a pull-out.
    pub name: String,
    /// kg of its panels.
    pub wood_kg: f64,
    /// kg of its hardware.
    pub hardware_kg: f64,
    /// kg of what is carried in or on it.
    pub goods_kg: f64,
    /// Centre of mass, closed, goods included; bay frame in mm. `None` for what has no place in the bay.
    pub centre: Option<[f64; 3]>,
    /// How far it moves when pulled out, bay frame in mm.
    pub travel: [f64; 3],
    /// Index of the carcass it belongs to or lies on; `None` for a free panel.
    pub carcass: Option<usize>,
    /// Index of the carcass that carries all on the floor; `None` for a free panel.
    pub root: Option<usize>,
    /// Whether it is only there while the vehicle stands: goods on a table that is pulled out.
    pub(super) motion: Option<usize>,
}

impl Body {
    /// kg of all of it.
    #[must_use]
    pub fn mass_kg(&self) -> f64 {
        self.empty_kg() + self.goods_kg
    }

    /// kg of wood and hardware: what is lifted in by hand.
    #[must_use]
    pub fn empty_kg(&self) -> f64 {
        self.wood_kg + self.hardware_kg
    }
}

/// Mass and centre of a panel: kg, and the bay coordinates in mm when it stands somewhere.
#[derive(Clone, Copy, Debug)]
pub struct PanelMass {
    /// kg.
    pub mass_kg: f64,
    /// Bay frame, mm.
    pub centre: Option<[f64; 3]>,
    /// What is cut away of its rectangle, mm³.
    pub cut_mm3: f64,
}

/// Weighs a panel: its area less what is cut out, its thickness, its board's density.
#[must_use]
pub fn panel(design: &Design, panel: &Panel) -> PanelMass {
    let density = design.boards[panel.board.0].profile.density_kg_m3;
    let (length, width, t) = (panel.length.nominal().0, panel.width.nominal().0, panel.thickness.nominal().0);
    let whole = panel.outline.as_ref().map_or(length * width, |o| o.area().abs());
    let middle = panel.outline.as_ref().map_or([length / 2.0, width / 2.0], middle_of);
    let mut volume = whole * t;
    let mut first = [volume * middle[0], volume * middle[1]];
    for feature in &panel.features {
        let gone = removed(feature, t);
        let [u, v] = feature.centre();
        volume -= gone;
        first = [first[0] - gone * u.0, first[1] - gone * v.0];
    }
    let centre = panel
        .frame
        .as_ref()
        .filter(|_| volume > 0.0)
        .map(|frame| frame.to_bay(Mm(first[0] / volume), Mm(first[1] / volume), Mm(-t / 2.0)).to_array());
    let cut_mm3 = length * width * t - volume.max(0.0);
    PanelMass { mass_kg: volume.max(0.0) * density / MM3_PER_M3, centre, cut_mm3 }
}

/// Centre of area of an outline, its arcs as short chords.
fn middle_of(outline: &Contour) -> [f64; 2] {
    let points = outline.flattened(TRACE_CHORD);
    let mut sum = [0.0; 3];
    for (p, q) in points.iter().zip(points.iter().cycle().skip(1)) {
        let cross = p.x * q.y - q.x * p.y;
        sum = [sum[0] + cross, sum[1] + (p.x + q.x) * cross, sum[2] + (p.y + q.y) * cross];
    }
    let middle = outline.bounds().center();
    if sum[0] == 0.0 {
        return [middle.x, middle.y];
    }
    [sum[1] / (3.0 * sum[0]), sum[2] / (3.0 * sum[0])]
}

/// Centre of mass of all panels that stand in the bay, closed, without hardware and goods; bay frame, mm.
#[must_use]
pub fn panels_centre(design: &Design, model: &Model) -> Option<[f64; 3]> {
    let mut sum = Sum::default();
    for weighed in model.panels.iter().map(|p| panel(design, p)) {
        if let Some(at) = weighed.centre {
            sum.add(weighed.mass_kg, at);
        }
    }
    sum.centre()
}

/// Volume a feature takes away, mm³; cuts that overlap are each counted whole.
fn removed(feature: &Feature, t: f64) -> f64 {
    let deep = match &feature.depth {
        Depth::Through => t,
        Depth::Blind(_, depth) => depth.nominal().0.min(t),
    };
    match &feature.kind {
        FeatureKind::Hole { diameter, .. } => PI / 4.0 * diameter.nominal().0.powi(2) * deep,
        FeatureKind::Countersunk { diameter, head, .. } => {
            let (r, big) = (diameter.nominal().0 / 2.0, head.nominal().0 / 2.0);
            // A 90 degree cone is as deep as it widens.
            let cone = PI * (big - r).max(0.0) * ((big * big + big * r + r * r) / 3.0 - r * r);
            PI * r * r * deep + cone
        }
        FeatureKind::Slot { from, to, width } => {
            let (w, dx, dy) = (width.nominal().0, (&to[0] - &from[0]).nominal().0, (&to[1] - &from[1]).nominal().0);
            (w * dx.hypot(dy) + PI / 4.0 * w * w) * deep
        }
        FeatureKind::Rectangle { size, radius, .. } | FeatureKind::EdgeNotch { size, radius, .. } => {
            let r = radius.as_ref().map_or(0.0, |r| r.nominal().0);
            let corners = if matches!(feature.kind, FeatureKind::Rectangle { .. }) { 4.0 } else { 2.0 };
            (size[0].nominal().0 * size[1].nominal().0 - corners * (1.0 - PI / 4.0) * r * r) * deep
        }
        FeatureKind::Groove { size, .. } => size[0].nominal().0 * size[1].nominal().0 * deep,
        FeatureKind::Free(contour) => contour.area().abs() * deep,
    }
}

/// A sum of masses and their first moments.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sum {
    pub(super) mass: f64,
    moment: [f64; 3],
}

impl Sum {
    pub(super) fn add(&mut self, mass: f64, at: [f64; 3]) {
        self.mass += mass;
        for (m, x) in self.moment.iter_mut().zip(at) {
            *m += mass * x;
        }
    }

    pub(super) fn centre(&self) -> Option<[f64; 3]> {
        (self.mass > 0.0).then(|| self.moment.map(|m| m / self.mass))
    }
}

/// The carcass on the floor that carries a carcass.
pub(super) fn root_of(design: &Design, carcass: usize) -> usize {
    let mut at = carcass;
    // Carcasses come after what they stand on, so this ends.
    while let Some(CarcassPlace::On { below, .. }) = design.carcasses.get(at).map(|c| &c.at) {
        at = *below;
    }
    at
}

/// Weighs everything.
pub(super) fn bodies(
    design: &Design,
    model: &Model,
    catalogue: &Catalogue<'_>,
    spaces: &[Space],
    stowed: &[Stowed],
) -> Vec<Body> {
    let mut bodies: Vec<(Body, Sum)> = Vec::new();
    let motion_of = |i: usize| model.motions.iter().position(|m| m.panels.iter().any(|p| p.0 == i));
    let new = |name: &str, carcass: Option<usize>, motion: Option<usize>| Body {
        name: name.to_owned(),
        wood_kg: 0.0,
        hardware_kg: 0.0,
        goods_kg: 0.0,
        centre: None,
        travel: motion.map_or([0.0; 3], |m| {
            let moves = &model.motions[m];
            moves.axis.unit().to_array().map(|x| x * moves.travel.nominal().0)
        }),
        carcass,
        root: carcass.map(|c| root_of(design, c)),
        motion,
    };
    for (i, p) in model.panels.iter().enumerate() {
        let motion = motion_of(i);
        let (name, carcass) = owner(design, model, p, motion);
        let index = bodies.iter().position(|(b, _)| b.name == name).unwrap_or_else(|| {
            bodies.push((new(&name, carcass, motion), Sum::default()));
            bodies.len() - 1
        });
        let weighed = panel(design, p);
        bodies[index].0.wood_kg += weighed.mass_kg;
        if let Some(at) = weighed.centre {
            bodies[index].1.add(weighed.mass_kg, at);
        }
    }
    for piece in &model.hardware {
        let mass = catalogue.mass_kg(piece) * f64::from(piece.quantity);
        let index = bodies.iter().position(|(b, _)| b.name == piece.unit).or_else(|| {
            let fixed = format!("{} strips and cover", piece.unit);
            bodies.iter().position(|(b, _)| b.name == fixed)
        });
        let Some(index) = index else { continue };
        let mut shares = vec![(index, mass)];
        if catalogue.slides.contains_key(piece.profile.as_str()) {
            // Half of a pair of slides stays with the carcass that carries the drawer.
            let carcass = carcass_of_drawer(design, &piece.unit).and_then(|c| bodies.iter().position(|(b, _)| b.name == c));
            shares = vec![(index, mass / 2.0), (carcass.unwrap_or(index), mass / 2.0)];
        }
        for (to, share) in shares {
            let (body, sum) = &mut bodies[to];
            body.hardware_kg += share;
            if let Some(at) = sum.centre() {
                sum.add(share, at);
            }
        }
    }
    for goods in stowed {
        let space = &spaces[goods.space];
        let motion = match space.kind {
            SpaceKind::Drawer(m) | SpaceKind::Table(m) => Some(m),
            SpaceKind::Cell(_) | SpaceKind::Top(_) => None,
        };
        let carcass = match space.kind {
            SpaceKind::Cell(c) | SpaceKind::Top(c) => design.carcasses.get(c).map(|c| c.name.as_str()),
            SpaceKind::Drawer(_) | SpaceKind::Table(_) => None,
        };
        let found = bodies.iter_mut().find(|(b, _)| match (motion, carcass) {
            (Some(m), _) => b.motion == Some(m),
            (None, Some(name)) => b.name == name,
            (None, None) => false,
        });
        let Some((body, sum)) = found else { continue };
        body.goods_kg += goods.mass_kg;
        let mut stood = 0.0;
        for thing in &goods.standing {
            stood += thing.mass_kg;
            sum.add(thing.mass_kg, [0, 1, 2].map(|i| thing.at[i].0 + thing.size[i].0 / 2.0));
        }
        // What does not fit is taken as lying in the middle of the room's floor.
        let (min, max) = (space.room.min, space.room.max);
        sum.add(goods.mass_kg - stood, [min.x.midpoint(max.x), min.y.midpoint(max.y), min.z]);
    }
    bodies
        .into_iter()
        .map(|(mut body, sum)| {
            body.centre = sum.centre();
            body
        })
        .collect()
}

/// The body a panel belongs to, and the carcass it is part of or lies on.
fn owner(design: &Design, model: &Model, p: &Panel, motion: Option<usize>) -> (String, Option<usize>) {
    let carcass = |name: &str| design.carcasses.iter().position(|c| c.name == name);
    let pull_out = design.pull_outs.iter().find(|x| x.name == p.unit);
    if let Some(plan) = pull_out {
        let name = if motion.is_some() { p.unit.clone() } else { format!("{} strips and cover", p.unit) };
        return (name, Some(plan.over));
    }
    if let Some(m) = motion {
        let name = model.motions[m].name.clone();
        let owner = carcass_of_drawer(design, &name).and_then(carcass);
        return (name, owner);
    }
    (p.unit.clone(), carcass(&p.unit))
}

/// The carcass a drawer sits in.
pub(super) fn carcass_of_drawer<'a>(design: &'a Design, drawer: &str) -> Option<&'a str> {
    let cell = |c: &crate::design::Cell| format!("{} drawer", c.name.replace('.', " ")) == drawer;
    let found = design.carcasses.iter().find(|c| c.columns.iter().flat_map(|c| &c.cells).any(cell));
    found.map(|c| c.name.as_str())
}

/// Mass and centre of some bodies, closed or with everything pulled out.
pub(super) fn together<'b>(bodies: impl Iterator<Item = &'b Body>, out: bool) -> Sum {
    let mut sum = Sum::default();
    for body in bodies {
        let Some(at) = body.centre else { continue };
        let moved = [0, 1, 2].map(|i| at[i] + if out { body.travel[i] } else { 0.0 });
        sum.add(body.mass_kg(), moved);
    }
    sum
}

/// The page's section.
pub(super) fn section(design: &Design, model: &Model, bodies: &[Body], loose_kg: f64) -> Section {
    let mut section = Section::new("Mass and centre");
    section.say(
        "Panel: (length x width x thickness - cuts) x density of its board; hardware counts in the middle of its body's wood.",
    );
    section.say("Places from the sill's left end at floor level: x to the right, y into the vehicle, z up.");
    for board in &design.boards {
        section.say(format!(
            "  board {}: {} kg/m³, {} mm thick",
            board.name,
            decimal(board.profile.density_kg_m3, 0),
            board.thickness.nominal()
        ));
    }
    for p in &model.panels {
        let weighed = panel(design, p);
        let at = weighed.centre.map_or_else(|| "no place".to_owned(), place);
        section.say(format!(
            "  {}  {}: {} x {} x {} mm - {} cm³, {}, {at}",
            p.id,
            p.name,
            p.length.nominal(),
            p.width.nominal(),
            p.thickness.nominal(),
            decimal(weighed.cut_mm3 / 1000.0, 1),
            kg(weighed.mass_kg)
        ));
    }
    section.say("By what moves or is lifted as one (wood + hardware + goods):");
    for body in bodies {
        let at = body.centre.map_or_else(|| "no place in the bay".to_owned(), place);
        section.say(format!(
            "  {}: {} + {} + {} = {}, {at}",
            body.name,
            kg(body.wood_kg),
            kg(body.hardware_kg),
            kg(body.goods_kg),
            kg(body.mass_kg())
        ));
    }
    let total: f64 = bodies.iter().map(Body::mass_kg).sum::<f64>() + loose_kg;
    let empty: f64 = bodies.iter().map(Body::empty_kg).sum();
    section.say(format!("Unit empty {}, goods {}, together {}", kg(empty), kg(total - empty), kg(total)));
    for (what, out) in [("closed", false), ("everything pulled out", true)] {
        if let Some(at) = together(bodies.iter(), out).centre() {
            section.say(format!("Centre of mass, {what}: {}", place(at)));
        }
    }
    section
}
