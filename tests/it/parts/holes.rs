//! Holes that belong together lie on one line, and no two screws meet.

use super::support::{at, build_text, diameter, model, near, of_purpose, panel, two_drawers, Built, HEAD};
use baywright::parts::{Depth, Face, Feature, FeatureKind, Hand, Model, Panel, PanelId, Purpose};

const EPS: f64 = 1e-6;

/// A straight screw in the bay.
#[derive(Clone, Debug)]
struct Rod {
    name: String,
    from: [f64; 3],
    to: [f64; 3],
    radius: f64,
}

fn normal(panel: &Panel) -> [f64; 3] {
    let frame = panel.frame.as_ref().unwrap();
    frame.u.unit().cross(frame.v.unit()).to_array()
}

fn middle(panel: &Panel) -> [f64; 3] {
    let s = panel.solid().unwrap();
    let (a, b) = (s.min.to_array(), s.max.to_array());
    [0, 1, 2].map(|i| f64::midpoint(a[i], b[i]))
}

/// Every screw that goes through a face into an edge: 19 mm of thread (common practice, no source) or what the panel has.
fn edge_screws(model: &Model) -> Vec<(Rod, PanelId, PanelId)> {
    let mut list = Vec::new();
    for (i, p) in model.panels.iter().enumerate() {
        for f in p.features.iter().filter(|f| matches!(f.kind, FeatureKind::Countersunk { .. })) {
            let mate = f.mate.expect("a screw has a mate");
            let q = &model.panels[mate.0];
            let n = normal(p);
            let axis = (0..3).find(|k| n[*k] != 0.0).unwrap();
            let (own, theirs) = (middle(p), middle(q));
            let sign = (theirs[axis] - own[axis]).signum();
            let t = p.thickness.nominal().0;
            let mut from = at(p, f);
            from[axis] = own[axis] - sign * t / 2.0;
            let mut to = from;
            to[axis] += sign * (t + 19.0);
            let name = format!("{} {}", p.name, f.id);
            list.push((Rod { name, from, to, radius: 2.0 }, PanelId(i), mate));
        }
    }
    list
}

/// Slide screws in uprights.
fn slide_screws(model: &Model) -> Vec<Rod> {
    let mut list = Vec::new();
    for p in model.panels.iter().filter(|p| p.name.contains("upright")) {
        for f in of_purpose(p, Purpose::Slide) {
            let from = at(p, f);
            let depth = match &f.depth {
                Depth::Through => p.thickness.nominal().0,
                Depth::Blind(Face::A, d) => d.nominal().0,
                Depth::Blind(Face::B, _) => panic!("a slide lies on the inside"),
            };
            let n = normal(p);
            let to = [0, 1, 2].map(|i| from[i] - n[i] * depth);
            list.push(Rod { name: format!("{} {}", p.name, f.id), from, to, radius: 2.0 });
        }
    }
    list
}

fn apart(a: &Rod, b: &Rod) -> f64 {
    let gap = |i: usize| {
        let (l, h) = (a.from[i].min(a.to[i]), a.from[i].max(a.to[i]));
        let (m, k) = (b.from[i].min(b.to[i]), b.from[i].max(b.to[i]));
        (m - h).max(l - k).max(0.0)
    };
    (gap(0).powi(2) + gap(1).powi(2) + gap(2).powi(2)).sqrt() - a.radius - b.radius
}

/// Two screws in one board keep 2 mm of wood between them (common practice, no source).
pub(super) fn assert_screws_apart(built: &Built, what: &str) {
    let mut rods: Vec<Rod> = edge_screws(&built.model).into_iter().map(|(r, _, _)| r).collect();
    rods.extend(slide_screws(&built.model));
    for (i, a) in rods.iter().enumerate() {
        for b in &rods[i + 1..] {
            assert!(apart(a, b) >= 2.0 - EPS, "{} and {}: {}\n{a:?}\n{b:?}\n{what}", a.name, b.name, apart(a, b));
        }
    }
}

/// A clearance hole lies over the middle of its mate's edge, over the mate's wood, and the mate's pilots say the same place.
fn assert_screws_hit(model: &Model, what: &str) -> usize {
    let screws = edge_screws(model);
    for (rod, field, mate) in &screws {
        let q = &model.panels[mate.0];
        let n = normal(q);
        let across = (0..3).find(|k| n[*k] != 0.0).unwrap();
        near(rod.from[across], middle(q)[across], &format!("{what}: {} in the middle of {}", rod.name, q.name));
        let s = q.solid().unwrap();
        let (min, max) = (s.min.to_array(), s.max.to_array());
        let through = (0..3).find(|k| rod.from[*k] != rod.to[*k]).unwrap();
        let run = 3 - through - across;
        assert!(rod.to[run] > min[run] + 2.0 && rod.to[run] < max[run] - 2.0, "{what}: {} misses {}", rod.name, q.name);
        // The mate's note has a pilot at the same place along its edge.
        let frame = q.frame.as_ref().unwrap();
        let axis = if frame.u.index() == run { frame.u } else { frame.v };
        let origin = frame.origin[run].nominal().0;
        let along = (rod.to[run] - origin) * axis.sign();
        let noted = q.edges.iter().filter(|e| e.mate == *field).flat_map(|e| &e.screws);
        assert!(noted.into_iter().any(|d| (d.nominal().0 - along).abs() < EPS), "{what}: no pilot for {}", rod.name);
    }
    screws.len()
}

#[test]
fn screws_lie_over_the_middle_of_the_edge_they_hold() {
    for back in ["between", "behind"] {
        for uprights in ["single", "doubled"] {
            for (joint, bottom) in [("butt", "under"), ("butt", "between"), ("rabbet", "between")] {
                let carcass = format!("joint = \"butt\"\nback = {{ place = \"{back}\" }}\nuprights = \"{uprights}\"");
                let text = two_drawers(&carcass, &format!("joint = \"{joint}\", bottom = \"{bottom}\""));
                let built = build_text(&text).no_stops();
                assert!(assert_screws_hit(&built.model, &carcass) > 20);
                assert_screws_apart(&built, &carcass);
            }
        }
    }
}

#[test]
fn removable_tops_and_overhangs_are_screwed_over_the_uprights() {
    let text = two_drawers(
        "joint = \"finger\"\ntop = { removable = true, overhang_front = 25, overhang_left = 30, overhang_right = 4 }",
        "",
    );
    let model = model(&text);
    assert!(assert_screws_hit(&model, "removable top") >= 9);
    assert!(model.hardware.iter().any(|h| h.place.contains("no glue")));
}

fn slide_holes<'m>(panel: &'m Panel, drawer: &str) -> Vec<&'m Feature> {
    of_purpose(panel, Purpose::Slide).into_iter().filter(|f| f.id.starts_with(drawer)).collect()
}

/// Both members of a slide at one height; the drawer's holes at the places of the pattern, counted from the front's inner face;
/// left and right mirror images.
#[test]
fn slide_holes_lie_on_one_line() {
    for (fit, begins) in [("fit = \"inset\", setback = 10", 22.0), ("fit = \"overlay\"", 0.0)] {
        for uprights in ["single", "doubled"] {
            let model = model(&two_drawers(&format!("uprights = \"{uprights}\""), fit));
            for (column, left, right) in [("left", "left upright", "inner"), ("right", "inner", "right upright")] {
                let name = format!("low {column} drawer");
                let of = |side: &str| -> Vec<&Panel> {
                    model.panels.iter().filter(|p| p.name.starts_with("low ") && p.name.contains(side)).collect()
                };
                let mut levels = Vec::new();
                let mut sides = Vec::new();
                for (upright, side, member) in [(left, "left side", "left"), (right, "right side", "right")] {
                    let wall = panel(&model, &format!("{name} {side}"));
                    let mut wall_y: Vec<f64> = slide_holes(wall, &name).iter().map(|f| at(wall, f)[1] - begins).collect();
                    wall_y.sort_by(f64::total_cmp);
                    assert_eq!(wall_y.len(), 8, "both sets of eight");
                    for (y, seen) in wall_y.iter().zip([37.0, 69.0, 165.0, 197.0, 293.0, 325.0, 389.0, 421.0]) {
                        near(*y, seen, "hole of the pattern");
                    }
                    let holes: Vec<[f64; 3]> = of(upright)
                        .into_iter()
                        .filter(|p| p.name.contains("upright"))
                        .flat_map(|p| {
                            let want = format!("{name} {member} slide");
                            slide_holes(p, &want).into_iter().map(|f| at(p, f)).collect::<Vec<_>>()
                        })
                        .collect();
                    assert_eq!(holes.len(), 4, "one set on the upright: {uprights} {column} {member}");
                    for h in &holes {
                        assert!(wall_y.iter().any(|y| (y + begins - h[1]).abs() < EPS), "{h:?} has no twin on the box");
                        levels.push(h[2]);
                    }
                    levels.extend(slide_holes(wall, &name).iter().map(|f| at(wall, f)[2]));
                    sides.push(wall);
                }
                for z in &levels {
                    near(*z, levels[0], "one height");
                }
                mirrored(sides[0], sides[1]);
            }
        }
    }
}

/// Same sizes, mirrored u of every feature, other hand, other id.
fn mirrored(left: &Panel, right: &Panel) {
    assert_eq!((left.hand, right.hand), (Hand::Left, Hand::Right));
    assert_ne!(left.id, right.id);
    assert!(left.id.ends_with("-L") && right.id.ends_with("-R"));
    near(left.length.nominal().0, right.length.nominal().0, "length");
    near(left.width.nominal().0, right.width.nominal().0, "width");
    let length = left.length.nominal().0;
    let places = |p: &Panel, flip: bool| {
        let mut list: Vec<[f64; 2]> = p
            .features
            .iter()
            .map(|f| {
                let [u, v] = f.centre();
                [if flip { length - u.0 } else { u.0 }, v.0]
            })
            .collect();
        list.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
        list
    };
    // Frames are mirrored already: u runs in on the left and out on the right.
    let (l, r) = (places(left, false), places(right, true));
    assert_eq!(l.len(), r.len());
    let close = |a: &[f64; 2]| r.iter().any(|b| (a[0] - b[0]).abs() < EPS && (a[1] - b[1]).abs() < EPS);
    assert!(l.iter().all(close), "{}\n{l:?}\n{r:?}", left.name);
}

#[test]
fn left_and_right_of_every_kind_are_mirror_images() {
    for joint in ["butt", "finger", "dado", "rabbet"] {
        let back = "back = { place = \"behind\", board = \"front\" }";
        let model = model(&two_drawers(
            &format!("joint = \"{joint}\"\nuprights = \"doubled\"\n{back}"),
            &format!("joint = \"{joint}\""),
        ));
        for column in ["left", "right"] {
            mirrored(
                panel(&model, &format!("low {column} drawer left side")),
                panel(&model, &format!("low {column} drawer right side")),
            );
        }
        let mut ids: Vec<&str> = model.panels.iter().map(|p| p.id.as_str()).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), model.panels.len(), "ids are unique");
        for p in &model.panels {
            let mut ids: Vec<&str> = p.features.iter().map(|f| f.id.as_str()).collect();
            ids.sort_unstable();
            let before = ids.len();
            ids.dedup();
            assert_eq!(ids.len(), before, "{}: {:?}", p.name, p.features.iter().map(|f| &f.id).collect::<Vec<_>>());
        }
    }
}

/// The screws that hold a front line up with its pilots, clear of groove, latch and grip.
#[test]
fn front_screws_line_up_with_their_pilots() {
    for keys in [
        "",
        "latch = \"flush-paddle\"",
        "latch = \"slam-latch\", bottom = \"between\"",
        "finger_pull = { width = 120, depth = 30 }",
        "fit = \"overlay\", height = 60",
        "height = 48, bottom = \"between\"",
    ] {
        let built = build_text(&two_drawers("", keys)).no_stops();
        let (front, inner) = (built.panel("low left drawer front"), built.panel("low left drawer box front"));
        let holes: Vec<&Feature> = inner.features.iter().filter(|f| f.id.starts_with("front screw")).collect();
        assert_eq!(holes.len(), 4, "{keys}");
        for hole in holes {
            let pilot = front.features.iter().find(|f| f.id == hole.id).expect("a pilot of the same name");
            let (a, b) = (at(inner, hole), at(front, pilot));
            near(a[0], b[0], "x");
            near(a[2], b[2], "z");
            let Depth::Blind(Face::B, depth) = &pilot.depth else { panic!("a pilot is blind, from inside") };
            assert!(depth.nominal().0 < front.thickness.nominal().0 - 2.0);
            assert!(diameter(pilot).unwrap() < diameter(hole).unwrap());
            // No wood is missing round the hole within the head's radius, and none of it lies below the bottom's top.
            let solid = super::solids::solid(inner);
            for (dx, dz) in [(0.0, 0.0), (4.0, 0.0), (-4.0, 0.0), (0.0, 4.0), (0.0, -4.0)] {
                for back in [1.0, inner.thickness.nominal().0 - 1.0] {
                    assert!(solid.has([a[0] + dx, inner.solid().unwrap().min.y + back, a[2] + dz]), "{keys}: {}", hole.id);
                }
            }
            if keys.contains("between") {
                assert!(a[2] > inner.solid().unwrap().min.z + 9.0 + 4.0, "{keys}: the head is under the bottom");
            }
        }
    }
}

/// The latch's bolt lies under its strike, which is cut from below.
#[test]
fn the_strike_lies_above_the_bolt() {
    for (latch, rise, behind) in [("flush-paddle", 68.0, 4.0), ("slam-latch", 48.0, 3.0), ("knob-latch", 36.0, 3.0)] {
        for fit in ["fit = \"inset\", setback = 5", "fit = \"overlay\", reveal = 0"] {
            let built = build_text(&two_drawers("", &format!("latch = \"{latch}\", {fit}"))).no_stops();
            let (front, top) = (built.panel("low right drawer front"), built.panel("low top"));
            let centre = at(front, front.features.iter().find(|f| f.id == "latch").unwrap());
            let strike = of_purpose(top, Purpose::Strike).into_iter().find(|f| f.id == "strike low.right").unwrap();
            let (s, under) = (at(top, strike), top.solid().unwrap().min.z);
            near(s[0], centre[0], "x");
            let profile = super::support::shop().latch(latch).unwrap();
            let reach = centre[2] + rise + profile.strike.height.0 / 2.0 - under;
            near(reach, profile.strike.reach.0, "the bolt's top reaches into the strike");
            let FeatureKind::Rectangle { size, .. } = &strike.kind else { panic!("a pocket") };
            assert!(size[0].nominal().0 > profile.strike.width.0);
            let face = front.solid().unwrap().max.y + behind;
            near(s[1] - size[1].nominal().0 / 2.0, face, "its front face is where the bolt bears");
            match &strike.depth {
                Depth::Blind(Face::B, d) => assert!(d.nominal().0 > profile.strike.reach.0),
                Depth::Blind(Face::A, _) => panic!("cut from above"),
                Depth::Through => {}
            }
        }
    }
}

/// Shelves at one height on both sides of an upright leave no way for screws: they sit in dadoes, in a butt-jointed carcass too.
#[test]
fn facing_shelves_are_not_screwed_through_each_other() {
    let cells = "[[carcass.column.cell]]\nheight = 150\n[[carcass.column.cell]]\nshelf = true\n";
    let text = format!(
        "{HEAD}[[carcass]]\nname = \"low\"\nat = [0, 0, 0]\nwidth = 800\ndepth = 400\nheight = 400\nboard = \"carcass\"\njoint = \"butt\"\n\
         [[carcass.column]]\nname = \"left\"\n{cells}[[carcass.column]]\nname = \"right\"\n{cells}"
    );
    let built = build_text(&text).no_stops();
    let inner = built.panel("low inner upright");
    let grooves = inner.features.iter().filter(|f| matches!(f.kind, FeatureKind::Groove { .. })).count();
    assert_eq!(grooves, 2);
    assert_screws_hit(&built.model, "facing shelves");
    assert_screws_apart(&built, "facing shelves");
    // At different heights both are screwed.
    let other = text.replacen("height = 150", "height = 220", 1);
    let built = build_text(&other).no_stops();
    let inner = built.panel("low inner upright");
    assert!(!inner.features.iter().any(|f| matches!(f.kind, FeatureKind::Groove { .. })));
    assert_screws_apart(&built, "shelves at two heights");
}

/// Lips' screws come up through the top in the open, never under an upright or into one.
#[test]
fn lip_screws_can_be_reached() {
    let text = format!(
        "{}[[lip]]\non = \"low\"\nedges = [\"front\", \"back\", \"left\", \"right\"]\nheight = 40\nboard = \"carcass\"\n",
        two_drawers("joint = \"butt\"", "latch = \"slam-latch\"")
    );
    let built = build_text(&text).no_stops();
    let uprights: Vec<_> =
        built.model.panels.iter().filter(|p| p.name.contains("upright")).map(|p| p.solid().unwrap()).collect();
    let mut seen = 0;
    for (rod, field, mate) in edge_screws(&built.model) {
        if built.model.panels[field.0].name == "low top" && built.model.panels[mate.0].name.contains("lip") {
            seen += 1;
            // The head, 4 mm round, 8 mm wide.
            let hit =
                uprights.iter().any(|s| rod.from[0] > s.min.x - 4.0 && rod.from[0] < s.max.x + 4.0 && rod.from[1] < s.max.y);
            assert!(!hit, "{rod:?}");
        }
    }
    assert!(seen >= 8, "{seen}");
    assert_screws_hit(&built.model, "lips");
    assert_screws_apart(&built, "lips");
}

/// A screw bites 19 mm of edge (common practice, no source) but never comes out of what it holds.
#[test]
fn screws_bite_without_coming_through() {
    let lip = |height: u32| {
        build_text(&format!(
            "{}[[lip]]\non = \"low\"\nedges = [\"back\"]\nheight = {height}\nboard = \"carcass\"\n",
            two_drawers("joint = \"butt\"", "")
        ))
    };
    let length = |built: &Built| -> f64 {
        let h = built.model.hardware.iter().find(|h| h.place.contains("lip")).unwrap();
        h.name.rsplit("x ").next().unwrap().parse().unwrap()
    };
    let tall = lip(60).no_stops();
    assert!(length(&tall) >= 15.0 + 19.0 && !tall.has("screw-bites-little"), "{}", length(&tall));
    let low = lip(16).no_stops();
    assert!(length(&low) <= 15.0 + 16.0 - 3.0, "{}", length(&low));
    assert!(low.has("screw-bites-little"), "{}", low.shown());
}

/// Drawers on both sides of one upright with fronts set back by just the two sets' difference: no screw meets another.
#[test]
fn slides_on_one_upright_never_share_a_hole() {
    for setback in [0, 16, 31, 32, 33, 64] {
        let text = two_drawers("joint = \"butt\"", "").replacen(
            "bottom_board = \"bottom\"",
            &format!("bottom_board = \"bottom\", setback = {setback}"),
            1,
        );
        let built = build_text(&text);
        if built.has("slide-holes-meet") {
            continue;
        }
        assert_screws_apart(&built.no_stops(), &format!("setback {setback}"));
    }
}
