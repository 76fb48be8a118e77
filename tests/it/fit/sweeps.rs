//! What sweeps through what, judged in plan and side view by a general polygon library (`geo`): the hull of a box's positions on
//! its way against what stands, a door's leaf turned about its hinge, and two ways against each other.
//!
//! All sizes are whole halves of a millimetre, so that nothing lies on the edge of a tolerance.

use super::derived;
use baywright::design::{Bay, BoardId, Design, OpenDoor, Opening};
use baywright::dim::Dim;
use baywright::fit::{ways, Way};
use baywright::geom::Axis;
use baywright::parts::{Frame, Grain, Hand, Model, Motion, Panel, PanelId};
use baywright::units::Mm;
use geo::{point, ConvexHull, Distance, Euclidean, Intersects, LineString, MultiPoint, Polygon, Rotate, Translate};
use proptest::prelude::*;

/// Ends along x, y and z.
type Block = [[f64; 2]; 3];

const AXES: [Axis; 6] = [Axis::PlusX, Axis::MinusX, Axis::PlusY, Axis::MinusY, Axis::PlusZ, Axis::MinusZ];
/// Plan, and view from the right.
const VIEWS: [[usize; 2]; 2] = [[0, 1], [1, 2]];
/// What two figures of one length may differ by, well below half a millimetre.
const SAME: f64 = 0.1;
/// Two solids this near guide each other and are no finding; the next possible gap is 0.5.
const GUIDED: f64 = 0.3;

fn number(value: f64) -> Dim {
    Dim::number(Mm(value), "a random size")
}

fn panel(name: &str, block: &Block) -> Panel {
    let [x, y, z] = block;
    Panel {
        id: name.to_owned(),
        name: name.to_owned(),
        unit: "unit".to_owned(),
        hand: Hand::None,
        board: BoardId(0),
        length: number(x[1] - x[0]),
        width: number(y[1] - y[0]),
        thickness: number(z[1] - z[0]),
        frame: Some(Frame { origin: [number(x[0]), number(y[0]), number(z[1])], u: Axis::PlusX, v: Axis::PlusY }),
        grain: Grain::AlongU,
        outline: None,
        features: Vec::new(),
        edges: Vec::new(),
        span: None,
    }
}

/// What moves as one.
#[derive(Clone, Debug)]
struct Mover {
    blocks: Vec<Block>,
    axis: Axis,
    way: f64,
}

impl Mover {
    fn at(&self, travel: f64) -> Vec<Block> {
        self.blocks.iter().map(|b| moved(b, self.axis, travel)).collect()
    }
}

fn moved(block: &Block, axis: Axis, by: f64) -> Block {
    let mut next = *block;
    next[axis.index()] = next[axis.index()].map(|x| x + axis.sign() * by);
    next
}

fn model(movers: &[Mover], stills: &[Block]) -> Model {
    let mut panels: Vec<Panel> = stills.iter().enumerate().map(|(i, b)| panel(&format!("still {i}"), b)).collect();
    let mut motions = Vec::new();
    for (k, mover) in movers.iter().enumerate() {
        let first = panels.len();
        panels.extend(mover.blocks.iter().enumerate().map(|(i, b)| panel(&format!("mover {k} part {i}"), b)));
        motions.push(Motion {
            name: format!("mover {k}"),
            panels: (first..panels.len()).map(PanelId).collect(),
            axis: mover.axis,
            travel: number(mover.way),
            span: None,
        });
    }
    Model { panels, motions, ..Model::default() }
}

fn design(bay: Option<Bay>) -> Design {
    let text = "format = 1\ntitle = \"Sweeps\"\nunits = \"mm\"\n[boards.deck]\nprofile = \"birch-ply-12\"\n[[panel]]\n\
                name = \"board\"\nsize = [300, 200]\nboard = \"deck\"\n";
    let mut design = derived(text).design.expect("a design");
    design.bay = bay;
    design
}

fn corners(block: &Block, [a, b]: [usize; 2]) -> [(f64, f64); 4] {
    let (a, b) = (block[a], block[b]);
    [(a[0], b[0]), (a[1], b[0]), (a[1], b[1]), (a[0], b[1])]
}

fn view(block: &Block, axes: [usize; 2]) -> Polygon<f64> {
    Polygon::new(LineString::from(corners(block, axes).to_vec()), Vec::new())
}

/// The hull of a block's positions from the start to a travel.
fn path(block: &Block, axis: Axis, way: f64, axes: [usize; 2]) -> Polygon<f64> {
    let points: Vec<(f64, f64)> =
        (0..=4).flat_map(|i| corners(&moved(block, axis, way * f64::from(i) / 4.0), axes)).collect();
    MultiPoint::from(points).convex_hull()
}

fn grown(block: &Block, by: f64) -> Block {
    block.map(|[low, high]| [low - by, high + by])
}

/// Whether a block on its way comes into another that is grown by so much on all sides.
fn meets(block: &Block, axis: Axis, way: f64, still: &Block, by: f64) -> bool {
    let wide = grown(still, by);
    VIEWS.iter().all(|axes| path(block, axis, way, *axes).intersects(&view(&wide, *axes)))
}

/// Whether two blocks are in one place before anything moves.
fn at_rest(block: &Block, still: &Block) -> bool {
    meets(block, Axis::PlusX, 0.0, still, -SAME)
}

fn halves(from: u32, to: u32) -> impl Strategy<Value = f64> {
    (from..to).prop_map(|n| f64::from(n) / 2.0)
}

fn block() -> impl Strategy<Value = Block> {
    ([halves(0, 120), halves(0, 120), halves(0, 120)], [halves(2, 60), halves(2, 60), halves(2, 60)])
        .prop_map(|(at, size)| [0, 1, 2].map(|i| [at[i], at[i] + size[i]]))
}

fn mover() -> impl Strategy<Value = Mover> {
    (prop::collection::vec(block(), 1..4), 0..6usize, halves(2, 120)).prop_map(|(blocks, axis, way)| Mover {
        blocks,
        axis: AXES[axis],
        way,
    })
}

/// A box of one block: as two of several meet nearly always.
fn single() -> impl Strategy<Value = Mover> {
    mover().prop_map(|m| Mover { blocks: vec![m.blocks[0]], ..m })
}

/// All pairs of what moves and what stands that are apart before it begins.
fn pairs<'a>(mover: &'a Mover, stills: &'a [Block]) -> impl Iterator<Item = (&'a Block, &'a Block)> {
    mover.blocks.iter().flat_map(move |b| stills.iter().map(move |s| (b, s))).filter(|(b, s)| !at_rest(b, s))
}

fn judge(mover: &Mover, stills: &[Block], found: &Way) -> Result<(), TestCaseError> {
    let (axis, way, air) = (mover.axis, mover.way, found.air.0);
    let Some(name) = &found.nearest else {
        for (b, s) in pairs(mover, stills) {
            prop_assert!(meets(b, axis, way, s, GUIDED) && !meets(b, axis, way, s, -SAME), "nothing is near: {found:?}");
        }
        return Ok(());
    };
    let index: usize = name.trim_start_matches("still ").parse().expect("a still one");
    let named = &stills[index..=index];
    if air < 0.0 {
        let free = way + air;
        prop_assert!((found.at.0 - free).abs() < SAME, "it stops where it meets: {found:?}");
        prop_assert!(pairs(mover, stills).all(|(b, s)| !meets(b, axis, free, s, -SAME)), "stopped before: {found:?}");
        prop_assert!(pairs(mover, named).any(|(b, s)| meets(b, axis, free + 2.0 * SAME, s, -SAME)), "goes on: {found:?}");
        return Ok(());
    }
    for (b, s) in pairs(mover, stills) {
        let guided = meets(b, axis, way, s, GUIDED) && !meets(b, axis, way, s, -SAME);
        prop_assert!(guided || !meets(b, axis, way, s, air - SAME), "something is nearer: {found:?}");
    }
    prop_assert!(pairs(mover, named).any(|(b, s)| meets(b, axis, way, s, air + SAME)), "it is not so near: {found:?}");
    // There, at that travel, not only somewhere on the way.
    let there = mover.at(found.at.0);
    let near = there.iter().any(|b| meets(b, axis, 0.0, &named[0], air + SAME));
    prop_assert!(near, "it is nearest elsewhere: {found:?}");
    Ok(())
}

/// What one needs of the other, by the views alone.
fn needs(mover: &Mover, other: &Mover, first: bool) -> Option<&'static str> {
    let hits = |travel: f64| {
        let stands = other.at(travel);
        let hit = pairs(mover, &stands).any(|(b, s)| meets(b, mover.axis, mover.way, s, -SAME));
        hit
    };
    let crossing = || {
        let all = |m: &Mover, b: &Block, axes| path(b, m.axis, m.way, axes);
        let meet = |a: &Block, b: &Block| {
            let [plan, side] = VIEWS;
            // Both on their ways: shrunk, so that touching is no meeting.
            let (a, b) = (grown(a, -SAME), grown(b, -SAME));
            [plan, side].iter().all(|axes| all(mover, &a, *axes).intersects(&all(other, &b, *axes)))
        };
        mover.axis.index() != other.axis.index() && mover.blocks.iter().any(|a| other.blocks.iter().any(|b| meet(a, b)))
    };
    match (hits(0.0), hits(other.way)) {
        (true, true) => Some("blocked by"),
        (true, false) => Some("must be open"),
        (false, true) => Some("must be shut"),
        (false, false) => (first && crossing()).then_some("must be shut or fully open"),
    }
}

/// How far the door reaches in at most between two whole heights, read off its profile millimetre by millimetre.
fn reach(profile: &[[f64; 2]], low: f64, high: f64) -> f64 {
    let at = |h: f64| {
        profile.windows(2).find(|p| h >= p[0][0] && h <= p[1][0]).map_or(0.0, |p| {
            let share = (h - p[0][0]) / (p[1][0] - p[0][0]);
            p[0][1] + (p[1][1] - p[0][1]) * share
        })
    };
    (low as i32..=high as i32).map(|h| at(f64::from(h))).fold(0.0, f64::max)
}

#[derive(Clone, Debug)]
struct Door {
    left: bool,
    degrees: f64,
    width: f64,
    thick: f64,
    profile: Vec<[f64; 2]>,
}

const OPENING: [f64; 2] = [320.0, 400.0];

impl Door {
    fn bay(&self) -> Bay {
        let opening =
            Opening { width: number(OPENING[1]), height: number(500.0), sill: number(0.0), left: number(OPENING[0]) };
        Bay {
            width: None,
            depth: None,
            height: None,
            opening: Some(opening),
            door: self.profile.iter().map(|[h, r]| (number(*h), number(*r))).collect(),
            open_doors: vec![OpenDoor {
                hinge_left: self.left,
                width: number(self.width),
                angle: self.degrees.to_radians(),
                thickness: number(self.thick),
                span: None,
            }],
            keep_outs: Vec::new(),
            access: Vec::new(),
            anchors: Vec::new(),
            span: None,
        }
    }

    /// Shut, the leaf lies across the opening; it turns outwards about its hinge.
    fn leaf(&self, block: &Block) -> Polygon<f64> {
        let inner = reach(&self.profile, block[2][0], block[2][1]);
        let hinge = if self.left { OPENING[0] } else { OPENING[0] + OPENING[1] };
        let across = if self.left { [hinge, hinge + self.width] } else { [hinge - self.width, hinge] };
        let shut = view(&[across, [-self.thick, inner], [0.0, 1.0]], VIEWS[0]);
        shut.rotate_around_point(if self.left { -self.degrees } else { self.degrees }, point!(x: hinge, y: 0.0))
    }
}

fn door() -> impl Strategy<Value = Door> {
    (any::<bool>(), 20..170u32, 50..250u32, 10..60u32, [0..40u32, 0..40u32, 0..40u32]).prop_map(
        |(left, degrees, width, thick, reach)| Door {
            left,
            degrees: f64::from(degrees),
            width: f64::from(width),
            thick: f64::from(thick),
            profile: [0.0, 100.0, 300.0].iter().zip(reach).map(|(h, r)| [*h, f64::from(r)]).collect(),
        },
    )
}

/// Something in the opening, pulled out towards the doors.
fn pulled() -> impl Strategy<Value = Mover> {
    let block = ([330..600i32, 45..200, 0..250], [20..120i32, 10..100, 10..150])
        .prop_map(|(at, size)| [0, 1, 2].map(|i| [f64::from(at[i]), f64::from(at[i] + size[i])]));
    (prop::collection::vec(block, 1..3), 50..400u32).prop_map(|(blocks, way)| Mover {
        blocks,
        axis: Axis::MinusY,
        way: f64::from(way),
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]

    #[test]
    fn the_tightest_gap_of_a_way_is_what_the_views_show(
        mover in mover(),
        stills in prop::collection::vec(block(), 1..5),
    ) {
        let found = ways(&design(None), &model(std::slice::from_ref(&mover), &stills));
        prop_assert_eq!(found.len(), 1);
        judge(&mover, &stills, &found[0])?;
    }

    #[test]
    fn what_must_be_shut_or_open_first_is_what_the_views_show(one in single(), two in single()) {
        prop_assume!(!at_rest(&one.blocks[0], &two.blocks[0]));
        let found = ways(&design(None), &model(&[one.clone(), two.clone()], &[]));
        for (name, mover, other, first) in [("mover 0", &one, &two, true), ("mover 1", &two, &one, false)] {
            let way = found.iter().find(|w| w.name == name).expect("its way");
            let expected: Vec<String> = needs(mover, other, first)
                .map(|what| {
                    let name = if first { "mover 1" } else { "mover 0" };
                    if what.ends_with("by") { format!("{what} {name}") } else { format!("{name} {what}") }
                })
                .into_iter()
                .collect();
            prop_assert_eq!(&way.needs, &expected);
        }
    }

    #[test]
    fn an_open_door_is_as_near_as_its_turned_leaf(mover in pulled(), door in door()) {
        let found = &ways(&design(Some(door.bay())), &model(std::slice::from_ref(&mover), &[]))[0];
        let shapes: Vec<(Polygon<f64>, Polygon<f64>)> = mover
            .blocks
            .iter()
            .map(|b| (path(b, mover.axis, mover.way, VIEWS[0]), door.leaf(b)))
            .collect();
        let air = shapes.iter().map(|(a, b)| Euclidean.distance(a, b)).fold(f64::INFINITY, f64::min);
        if found.nearest.as_deref() == Some("the bay's left wall") {
            prop_assert!(air >= found.air.0 - SAME);
        } else if air > 0.0 {
            prop_assert!((found.air.0 - air).abs() < 1e-6, "{found:?} and {air}");
        } else {
            // Pushed aside by a little less than what is missing, some pair still overlaps, whichever way; by a little more, each
            // gets clear in one direction at least.
            prop_assert!(found.air.0 <= 0.0, "{found:?}");
            let clear = |by: f64, (a, b): &(Polygon<f64>, Polygon<f64>)| (0..720).any(|k| {
                let (sin, cos) = (f64::from(k) / 2.0).to_radians().sin_cos();
                !a.intersects(&b.translate(cos * by, sin * by))
            });
            let missing = -found.air.0;
            prop_assert!(shapes.iter().all(|s| clear(missing + SAME, s)), "{found:?}");
            prop_assert!(missing < SAME || !shapes.iter().all(|s| clear(missing - SAME, s)), "{found:?}");
        }
    }
}
