//! A drawer on a pair of side-mounted slides: box, bottom, front, slides, latch.

mod front;
mod grip;
mod hold;
mod latch;
mod slides;
mod walls;

pub(super) use slides::SlidePlace;

use super::builder::{as_cut, Builder};
use super::carcass::{CellSpace, Opening};
use super::frame::Stretch;
use super::room::Room;
use super::{codes, Gap, Motion, PanelId};
use crate::design::{Cell, Drawer, FrontFit};
use crate::diag::Finding;
use crate::dim::{Dim, Range};
use crate::geom::Axis;
use crate::units::Mm;

/// A front that moves between fixed edges needs at least this. Common practice, no source.
const LEAST_REVEAL: Mm = Mm(0.3);
/// Air wanted behind a box, so that it never stops a slide short of its own end. Common practice, no source.
const LEAST_BEHIND: Mm = Mm(3.0);

/// What the files of this room need to know of the drawer being built.
struct Plan<'a> {
    /// `lower left drawer`.
    name: String,
    cell: &'a Cell,
    drawer: &'a Drawer,
    opening: &'a Opening,
    space: &'a CellSpace,
    /// The box's outside.
    block: [Stretch; 3],
    /// Bay y of the front's inner face, which is where the box begins.
    behind_front: Dim,
}

/// Builds the drawer of a cell.
pub(super) fn build(b: &mut Builder<'_>, carcass: &str, cell: &Cell, drawer: &Drawer, opening: &Opening, space: &CellSpace) {
    let name = format!("{} drawer", cell.name.replace('.', " "));
    let front_t = b.thickness(drawer.front);
    let behind_front = match drawer.fit {
        FrontFit::Inset => &(&opening.y.from + &drawer.setback) + &front_t,
        FrontFit::Overlay => opening.y.from.clone(),
    }
    .named(format!("{name} inner face of the front, from the sill"));

    let side_space = Dim::number(drawer.slide.side_space, format!("side space for {}", drawer.slide.name));
    let width = b.size(&format!("{name} box width"), &(&opening.x.size - &(&side_space * 2.0)));
    let play = (&opening.x.size - &width) * 0.5;
    let length =
        drawer.depth.clone().unwrap_or_else(|| Dim::number(drawer.slide.length, format!("length of {}", drawer.slide.name)));
    let length = b.size(&format!("{name} box length"), &length);
    let room = &space.z.size - &drawer.gap_under - &drawer.gap_over;
    let height = b.size(&format!("{name} box height"), drawer.height.as_ref().unwrap_or(&room));
    let block = [
        Stretch { from: &opening.x.from + &play, size: width },
        Stretch { from: behind_front.clone(), size: length },
        Stretch { from: &space.z.from + &drawer.gap_under, size: height },
    ];
    let plan = Plan { name, cell, drawer, opening, space, block, behind_front };
    check_sizes(b, &plan);
    let mut moving = walls::make(b, &plan);
    let front = front::make(b, &plan, &moving);
    slides::mount(b, &plan, &moving);
    latch::fit(b, &plan, front, &moving);
    hold::make(b, &plan, front, &moving);
    b.against(&[front], &moving.all, "is drawn against");
    if drawer.fit == FrontFit::Overlay {
        let round: Vec<PanelId> =
            [opening.left, opening.right].into_iter().chain(space.floor).chain(space.ceiling).collect();
        b.against(&[front], &round, "shuts against");
    }
    moving.all.push(front);
    declare_gaps(b, &plan, carcass);
    b.model.motions.push(Motion {
        name: plan.name.clone(),
        panels: moving.all,
        axis: Axis::MinusY,
        travel: Dim::number(drawer.slide.travel, format!("travel of {}", drawer.slide.name)),
        span: drawer.span,
    });
}

/// The walls a drawer was given, by role.
struct Walls {
    left: PanelId,
    right: PanelId,
    box_front: PanelId,
    /// Everything that moves.
    all: Vec<PanelId>,
}

fn check_sizes(b: &mut Builder<'_>, plan: &Plan<'_>) {
    let slide = &plan.drawer.slide;
    let (length, height) = (plan.block[1].size.nominal(), plan.block[2].size.nominal());
    let room = (plan.opening.y.to() - &plan.behind_front).nominal();
    let span = plan.drawer.span;
    let mut stop = |code, message: String, remedy: String| {
        b.findings.push(Finding::stop(code, message).part(&plan.name).at(span).remedy(remedy));
    };
    if slide.length > length {
        stop(
            codes::SLIDE_LONGER_THAN_BOX,
            format!("slide {} is {} mm long, its drawer box only {length} mm", slide.id, slide.length),
            format!("take a slide of at most {length} mm, or make the box {} mm long", slide.length),
        );
    }
    if slide.length > room {
        stop(
            codes::SLIDE_LONGER_THAN_CELL,
            format!("slide {} is {} mm long, the cell only {room} mm deep behind the front", slide.id, slide.length),
            format!("take a slide of at most {room} mm, or make the carcass {} mm deeper", slide.length - room),
        );
    } else if length > room {
        stop(
            codes::BOX_DEEPER_THAN_CELL,
            format!("the box is {length} mm long, the cell only {room} mm deep behind the front"),
            format!("make the box {} mm shorter, or the carcass deeper", length - room),
        );
    }
    if slide.height > height {
        stop(
            codes::SLIDE_TALLER_THAN_BOX,
            format!("slide {} is {} mm high, its drawer box only {height} mm", slide.id, slide.height),
            format!("make the cell {} mm higher, or reduce gap_under or gap_over", slide.height - height),
        );
    }
}

/// Side space, room under, over and behind the box.
fn declare_gaps(b: &mut Builder<'_>, plan: &Plan<'_>, carcass: &str) {
    let Plan { name, drawer, opening, space, block, .. } = plan;
    let slide = &drawer.slide;
    let box_width = as_cut(&block[0].size, &format!("{name} box width"));
    let side = (opening.x.size.built() - &box_width) * 0.5;
    let window = Range { min: slide.side_space_min, max: slide.side_space_max };
    for hand in ["left", "right"] {
        b.gap(Gap {
            name: format!("{name}: side space {hand}"),
            gap: side.clone(),
            required: window,
            source: format!("window of {}", slide.name),
            parts: vec![format!("{name} {hand} side"), format!("{carcass} upright")],
            span: drawer.span,
        });
    }
    // The opening and the box are each cut at the front and at the back; what they differ by is taken from both slides' windows.
    let ends = |what: &str, place: &str| super::builder::cut_error(&format!("{name} {what} at the {place}"));
    let skew = ends("opening width", "back") - ends("opening width", "front") - ends("box width", "back")
        + ends("box width", "front");
    let most = slide.side_space_max - slide.side_space_min;
    b.gap(Gap {
        name: format!("{name}: side space at the back against the front"),
        gap: skew * 0.5,
        required: Range { min: -most, max: most },
        source: format!("the window of {} holds at both ends (checklist FM2)", slide.name),
        parts: vec![format!("{name} box back"), format!("{name} box front"), format!("{carcass} upright")],
        span: drawer.span,
    });
    let box_height = as_cut(&block[2].size, &format!("{name} box height"));
    let under = drawer.gap_under.clone() + super::builder::cut_error(&format!("{name} slide height"));
    let front = (drawer.fit == FrontFit::Inset).then(|| {
        let r = &drawer.reveal;
        let reveal = as_cut(&r.bottom, &format!("{name} front height and place"));
        (opening.x.from.nominal() + r.left.nominal(), opening.x.to().nominal() - r.right.nominal(), reveal)
    });
    b.rooms.push(Room {
        name: name.clone(),
        floor: space.floor,
        ceiling: space.ceiling,
        x: block[0].clone(),
        rear: block[1].to().nominal(),
        behind_front: plan.behind_front.nominal(),
        under,
        over: space.z.size.built() - &drawer.gap_under - &box_height,
        front,
        span: drawer.span,
    });
    b.gap(Gap {
        name: format!("{name}: behind the box"),
        gap: opening.y.to().built() - plan.behind_front.built() - as_cut(&block[1].size, &format!("{name} box length")),
        required: Gap::at_least(LEAST_BEHIND),
        source: "common practice, no source".into(),
        parts: vec![name.clone()],
        span: drawer.span,
    });
}
