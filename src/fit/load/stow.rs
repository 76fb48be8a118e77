//! Goods in their places: do they go in together, can they be lifted out, and where does each stand.

use super::codes;
use super::say::{kg, mm, Section};
use super::space::{Space, SpaceKind};
use super::LayFloor;
use crate::design::{Design, Stow};
use crate::diag::Finding;
use crate::units::{decimal, Mm};

/// Air between goods that stand beside each other, for fingers. Common practice, no source.
const BETWEEN: Mm = Mm(5.0);
/// Air kept over goods, so that a drawer slides and a hand lifts. Common practice, no source.
const OVER: f64 = 5.0;
/// The most a place is made larger while looking for the smallest change that would do.
const MOST_MORE: f64 = 600.0;
/// The most stacks that are arranged in one place.
const MOST: usize = 150;
/// To what the smallest change is found.
const STEP: f64 = 1.0;

/// One thing (or stack of things of one kind), standing.
#[derive(Clone, Debug)]
pub struct Standing {
    /// Its name.
    pub name: String,
    /// How many of it stand on each other here.
    pub high: u32,
    /// kg of the stack.
    pub mass_kg: f64,
    /// Left, front, bottom corner in the bay, closed.
    pub at: [Mm; 3],
    /// Size along x, y and z.
    pub size: [Mm; 3],
}

/// What is carried in one place.
#[derive(Clone, Debug)]
pub struct Stowed {
    /// The place, as the project names it.
    pub place: String,
    /// Left, front, bottom corner of the room in the bay, closed.
    pub corner: [Mm; 3],
    /// Clear room: x, y, z; z is infinite where nothing stands above.
    pub room: [Mm; 3],
    /// kg of all goods meant for it, whether they fit or not.
    pub mass_kg: f64,
    /// The arrangement.
    pub standing: Vec<Standing>,
    /// Names of what found no place.
    pub left_out: Vec<String>,
    pub(super) space: usize,
}

/// One stack on its way onto the floor.
struct Stack<'a> {
    stow: &'a Stow,
    high: u32,
    /// Length and width of its footprint, and its height, with the air it needs round and above.
    size: [f64; 3],
}

/// Air that a thing needs all round and above.
fn air_of(stow: &Stow) -> f64 {
    stow.air.as_ref().map_or(0.0, |air| air.nominal().0)
}

/// Arranges all goods that have a place.
pub(super) fn arrange(design: &Design, spaces: &[Space], lay: LayFloor, findings: &mut Vec<Finding>) -> Vec<Stowed> {
    let mut all = Vec::new();
    for (index, space) in spaces.iter().enumerate() {
        let goods: Vec<&Stow> = design.stows.iter().filter(|s| stands_in(s, space)).collect();
        if goods.is_empty() {
            continue;
        }
        let mut stowed = one_place(index, space, &goods, lay, findings);
        stowed.mass_kg = goods.iter().map(|s| s.mass_kg * f64::from(s.quantity)).sum();
        all.push(stowed);
    }
    for stow in design.stows.iter().filter(|s| !spaces.iter().any(|space| stands_in(s, space))) {
        let mass = kg(stow.mass_kg * f64::from(stow.quantity));
        let said = stow.place.as_ref().map_or_else(String::new, |p| format!(" (\"{p}\" is no room of its own)"));
        findings.push(
            Finding::note(
                codes::GOODS_WITHOUT_PLACE,
                format!("{} ({mass}) has no place{said}: it counts in the total mass only", stow.name),
            )
            .part(&stow.name)
            .at(stow.span)
            .remedy("name the cell, top or table it goes in: `in = \"lower.left\"`"),
        );
    }
    all
}

fn stands_in(stow: &Stow, space: &Space) -> bool {
    stow.place.as_deref() == Some(space.place.as_str())
}

fn one_place(index: usize, space: &Space, goods: &[&Stow], lay: LayFloor, findings: &mut Vec<Finding>) -> Stowed {
    let min = space.room.min;
    let size = [space.room.max.x - min.x, space.room.max.y - min.y, space.room.max.z - min.z];
    let mut stowed = Stowed {
        place: space.place.clone(),
        corner: min.to_array().map(Mm),
        room: size.map(Mm),
        mass_kg: 0.0,
        standing: Vec::new(),
        left_out: Vec::new(),
        space: index,
    };
    let head = size[2] - OVER;
    let mut fitting = Vec::new();
    for stow in goods {
        if let Some(more) = stacks(stow, size, head) {
            fitting.extend(more);
        } else {
            findings.push(too_large(stow, space, size, head));
            stowed.left_out.push(stow.name.clone());
        }
    }
    let many = fitting.len().saturating_sub(MOST);
    if many > 0 {
        findings.push(not_arranged(space, fitting.len()));
        stowed.left_out.extend(fitting.drain(MOST..).map(|s| s.stow.name.clone()));
        stowed.left_out.dedup();
    }
    let footprints: Vec<[Mm; 2]> = fitting.iter().map(|s| [Mm(s.size[0]), Mm(s.size[1])]).collect();
    // First in front, where everything lifts straight out; else anywhere.
    let clear = [Mm(size[0]), Mm(space.lift_depth.min(size[1]))];
    let mut laid = lay(clear, &footprints, BETWEEN);
    let mut at_rear = false;
    if laid.iter().any(Option::is_none) && clear[1].0 < size[1] {
        laid = lay([Mm(size[0]), Mm(size[1])], &footprints, BETWEEN);
        at_rear = true;
    }
    for (stack, spot) in fitting.iter().zip(&laid) {
        let Some([x, y, w, h]) = spot else { continue };
        if at_rear && (*y + *h) > clear[1] {
            findings.push(stuck(stack.stow, space, *y + *h, clear[1]));
        }
        let air = Mm(air_of(stack.stow));
        stowed.standing.push(Standing {
            name: stack.stow.name.clone(),
            high: stack.high,
            mass_kg: stack.stow.mass_kg * f64::from(stack.high),
            at: [Mm(min.x) + *x + air, Mm(min.y) + *y + air, Mm(min.z)],
            size: [*w - air * 2.0, *h - air * 2.0, Mm(stack.size[2]) - air],
        });
    }
    let out: Vec<&Stack<'_>> = fitting.iter().zip(&laid).filter(|(_, spot)| spot.is_none()).map(|(s, _)| s).collect();
    if !out.is_empty() {
        findings.push(crowded(&out, space, size, &footprints, lay));
        stowed.left_out.extend(out.iter().map(|s| s.stow.name.clone()));
    }
    stowed
}

/// The ways a thing may stand: length, width, height, with its air.
fn ways(stow: &Stow) -> Vec<[f64; 3]> {
    let [a, b, c] = [stow.size[0].nominal().0, stow.size[1].nominal().0, stow.size[2].nominal().0];
    let all = if stow.this_way_up { vec![[a, b, c]] } else { vec![[a, b, c], [a, c, b], [b, c, a]] };
    let air = air_of(stow);
    all.into_iter().map(|[a, b, c]| [a + air * 2.0, b + air * 2.0, c + air]).collect()
}

/// A kind of thing as stacks in the first way up that goes into the room: as written before on its side.
fn stacks(stow: &Stow, room: [f64; 3], head: f64) -> Option<Vec<Stack<'_>>> {
    let lies = |w: &[f64; 3]| {
        let flat = (w[0] <= room[0] && w[1] <= room[1]) || (w[1] <= room[0] && w[0] <= room[1]);
        flat && w[2] <= head
    };
    let way = ways(stow).into_iter().find(lies)?;
    let most = if stow.stackable && air_of(stow) == 0.0 { ((head / way[2]).floor()).clamp(1.0, 100.0) as u32 } else { 1 };
    let mut left = stow.quantity;
    let mut list = Vec::new();
    while left > 0 {
        let high = most.min(left);
        list.push(Stack { stow, high, size: [way[0], way[1], way[2] * f64::from(high)] });
        left -= high;
    }
    Some(list)
}

/// One thing that goes in alone in no way: how much is missing in the way that misses least.
fn too_large(stow: &Stow, space: &Space, room: [f64; 3], head: f64) -> Finding {
    let short = |w: &[f64; 3]| -> [f64; 3] {
        let over = |a: f64, b: f64| (a - b).max(0.0);
        let (straight, turned) = ([over(w[0], room[0]), over(w[1], room[1])], [over(w[1], room[0]), over(w[0], room[1])]);
        let flat = if straight[0] + straight[1] <= turned[0] + turned[1] { straight } else { turned };
        [flat[0], flat[1], over(w[2], head)]
    };
    let missing = ways(stow).iter().map(short).min_by(|a, b| sum(a).total_cmp(&sum(b))).unwrap_or([0.0; 3]);
    let words: Vec<String> = ["wider", "deeper", "higher"]
        .iter()
        .zip(missing)
        .filter(|(_, m)| *m > 0.0)
        .map(|(word, m)| format!("{} mm {word}", decimal(m.ceil(), 0)))
        .collect();
    let [a, b, c] = [0, 1, 2].map(|i| stow.size[i].nominal());
    let up = if stow.this_way_up { "this way up" } else { "any way up" };
    Finding::caution(
        codes::GOODS_DO_NOT_FIT,
        format!(
            "{} ({a} x {b} x {c} mm{}, {up}) does not go into {}, which is {} clear",
            stow.name,
            stow.air.as_ref().map_or_else(String::new, |air| format!(" and {} mm of air round it", air.nominal())),
            space.place,
            clear_said(room)
        ),
    )
    .part(&stow.name)
    .at(stow.span)
    .limit(format!("its height and {} mm of air over it; common practice, no source", decimal(OVER, 0)))
    .remedy(format!("make the room {}, or carry it elsewhere", words.join(" and ")))
}

/// `380 x 670 x 170 mm`; a room without a lid has two sizes.
fn clear_said(room: [f64; 3]) -> String {
    let [w, d, h] = room.map(|r| decimal(r, 1));
    if room[2].is_finite() {
        format!("{w} x {d} x {h} mm")
    } else {
        format!("{w} x {d} mm")
    }
}

fn sum(list: &[f64; 3]) -> f64 {
    list.iter().sum()
}

/// Goods that go in alone but not together: the smallest change of width or depth that would do.
fn crowded(out: &[&Stack<'_>], space: &Space, room: [f64; 3], all: &[[Mm; 2]], lay: LayFloor) -> Finding {
    let fits =
        |more: [f64; 2]| lay([Mm(room[0] + more[0]), Mm(room[1] + more[1])], all, BETWEEN).iter().all(Option::is_some);
    let least = |axis: usize| -> Option<f64> {
        let with = |more: f64| if axis == 0 { [more, 0.0] } else { [0.0, more] };
        if !fits(with(MOST_MORE)) {
            return None;
        }
        let (mut low, mut high) = (0.0, MOST_MORE);
        while high - low > STEP {
            let middle = f64::midpoint(low, high).round();
            if middle <= low || middle >= high {
                break;
            }
            if fits(with(middle)) {
                high = middle;
            } else {
                low = middle;
            }
        }
        Some(high)
    };
    let mut changes: Vec<String> = Vec::new();
    let found = [(least(0), "wider"), (least(1), "deeper")];
    let best = found.iter().filter_map(|(m, word)| m.map(|m| (m, *word))).min_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((more, word)) = best {
        changes.push(format!("make {} {} mm {word}", space.place, decimal(more, 0)));
    }
    let names: Vec<String> = {
        let mut counted: Vec<(&str, u32)> = Vec::new();
        for stack in out {
            match counted.iter_mut().find(|(name, _)| *name == stack.stow.name) {
                Some((_, n)) => *n += stack.high,
                None => counted.push((&stack.stow.name, stack.high)),
            }
        }
        counted.into_iter().map(|(name, n)| if n == 1 { name.to_owned() } else { format!("{n} x {name}") }).collect()
    };
    changes.push(format!("take out {}", names.join(" and ")));
    let mut finding = Finding::caution(
        codes::GOODS_DO_NOT_FIT,
        format!(
            "{} {} no room in {} beside the rest: it is {} x {} mm clear",
            names.join(" and "),
            if names.len() == 1 { "finds" } else { "find" },
            space.place,
            decimal(room[0], 1),
            decimal(room[1], 1)
        ),
    )
    .at(out.first().and_then(|s| s.stow.span))
    .limit(format!("{} between things that stand beside each other; common practice, no source", mm(BETWEEN)))
    .remedy(changes.join(", or "));
    finding.parts = out.iter().map(|s| s.stow.name.clone()).collect();
    finding.parts.dedup();
    finding
}

fn not_arranged(space: &Space, count: usize) -> Finding {
    Finding::caution(
        codes::GOODS_DO_NOT_FIT,
        format!("{count} things are to stand in {}; only the first {MOST} were arranged", space.place),
    )
    .part(&space.place)
    .limit(format!("{MOST} things in one place"))
    .remedy("put small things into boxes and write the boxes")
}

fn stuck(stow: &Stow, space: &Space, reach: Mm, clear: Mm) -> Finding {
    let hidden = reach - clear;
    Finding::note(
        codes::GOODS_STUCK_AT_REAR,
        format!("{} in {} stays {hidden} mm under what is above when the drawer is open", stow.name, space.place),
    )
    .part(&stow.name)
    .at(stow.span)
    .limit(format!("{} of the drawer's depth come clear", mm(clear)))
    .remedy("carry it in front, slide it forward before lifting, or take a longer slide")
}

/// The page's section.
pub(super) fn section(stowed: &[Stowed], spaces: &[Space]) -> Section {
    let mut section = Section::new("Goods");
    if stowed.is_empty() {
        section.say("Nothing to be carried is named ([[stow]]), so only the unit itself was weighed.");
        return section;
    }
    section.say(format!(
        "Air kept: {} between things, {} mm over them (common practice, no source). Places from the left, front, bottom corner.",
        mm(BETWEEN),
        decimal(OVER, 0)
    ));
    for s in stowed {
        let space = &spaces[s.space];
        let kind = match space.kind {
            SpaceKind::Drawer(_) => "drawer",
            SpaceKind::Cell(_) => "open cell",
            SpaceKind::Top(_) => "top",
            SpaceKind::Table(_) => "table",
        };
        let height = if s.room[2].0.is_finite() { s.room[2].to_string() } else { "open".to_owned() };
        section.say(format!(
            "{} ({kind}), {} x {} x {height} mm clear from x {}, y {}, z {} mm, {}",
            s.place,
            s.room[0],
            s.room[1],
            s.corner[0],
            s.corner[1],
            s.corner[2],
            kg(s.mass_kg)
        ));
        for thing in &s.standing {
            let min = space.room.min;
            let many = if thing.high > 1 { format!("{} high ", thing.high) } else { String::new() };
            section.say(format!(
                "  {} {many}stands {} mm right, {} mm in: {} x {} x {} mm, {}",
                thing.name,
                decimal(thing.at[0].0 - min.x, 0),
                decimal(thing.at[1].0 - min.y, 0),
                thing.size[0],
                thing.size[1],
                thing.size[2],
                kg(thing.mass_kg)
            ));
        }
        if !s.standing.is_empty() {
            section.say("  seen from above, the opening below; letters in the order listed:");
            section.lines.extend(super::floor_plan::drawn(s));
        }
        for name in &s.left_out {
            section.say(format!("  {name} does not fit"));
        }
    }
    section
}
