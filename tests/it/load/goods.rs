//! Goods in their places.

use super::support::{judged, one_drawer, stow, Judged, BOARDS};
use baywright::fit::load::codes;
use baywright::units::Mm;

fn with(goods: &str) -> Judged {
    judged(&format!("{BOARDS}{}{goods}", one_drawer("", "")))
}

/// Nothing stands in anything else, all inside the room, and each thing as often as asked.
fn sound(judged: &Judged) {
    for s in &judged.report.stowed {
        for (i, a) in s.standing.iter().enumerate() {
            let far = |k: usize| a.at[k] + a.size[k];
            for b in &s.standing[..i] {
                let apart = (0..3).any(|k| a.at[k] >= b.at[k] + b.size[k] || b.at[k] >= far(k));
                assert!(apart, "{} stands in {}", a.name, b.name);
            }
            for k in 0..2 {
                let inside = a.at[k] >= s.corner[k] && far(k) <= s.corner[k] + s.room[k] + Mm(0.02);
                assert!(inside, "{} sticks out of {}", a.name, s.place);
            }
            assert!(a.size[2] < s.room[2]);
        }
    }
}

#[test]
fn several_things_stand_beside_each_other() {
    let judged = with(&stow("box", 3.0, "low.left", "quantity = 4"));
    sound(&judged);
    let stowed = &judged.report.stowed[0];
    assert_eq!(stowed.standing.iter().map(|s| s.high).sum::<u32>(), 4, "{}", judged.shown());
    assert!((stowed.mass_kg - 12.0).abs() < 1e-9);
    assert!(judged.of(codes::GOODS_DO_NOT_FIT).is_empty(), "{}", judged.shown());
}

/// More than go in: the finding says how many are left over, and the change it names would do.
#[test]
fn too_many_are_counted_and_the_change_would_do() {
    let crowd = |width: f64| {
        judged(&format!(
            "{BOARDS}{}{}",
            one_drawer("", "").replace("width = 600", &format!("width = {width}")),
            stow("box", 2.0, "low.left", "quantity = 6")
        ))
    };
    let full = crowd(600.0);
    sound(&full);
    let found = full.one(codes::GOODS_DO_NOT_FIT);
    assert!(found.message.contains("2 x box"), "{}", found.message);
    assert!(found.remedy.contains("take out 2 x box"), "{}", found.remedy);
    let more: f64 = found
        .remedy
        .split(" mm wider")
        .next()
        .and_then(|s| s.rsplit(' ').next())
        .and_then(|s| s.parse().ok())
        .unwrap_or_else(|| panic!("{}", found.remedy));
    assert!(crowd(600.0 + more).of(codes::GOODS_DO_NOT_FIT).is_empty());
    assert!(!crowd(600.0 + more - 2.0).of(codes::GOODS_DO_NOT_FIT).is_empty());
}

/// What may be stacked is; what must stay upright is not laid on its side.
#[test]
fn stacking_and_this_way_up_are_kept() {
    let flat = "[[stow]]\nname = \"tray\"\nsize = [400, 400, 50]\nmass = 2\nin = \"low.left\"\nquantity = 3\n";
    let apart = with(flat);
    assert!(!apart.of(codes::GOODS_DO_NOT_FIT).is_empty(), "{}", apart.shown());
    let stacked = with(&format!("{flat}stackable = true\n"));
    sound(&stacked);
    assert!(stacked.of(codes::GOODS_DO_NOT_FIT).is_empty(), "{}", stacked.shown());
    assert_eq!(stacked.report.stowed[0].standing[0].high, 3);
    let tall = "[[stow]]\nname = \"bottle\"\nsize = [100, 100, 350]\nmass = 2\nin = \"low.left\"\n";
    assert!(with(tall).of(codes::GOODS_DO_NOT_FIT).is_empty(), "laid on its side it fits");
    let upright = with(&format!("{tall}this_way_up = true\n"));
    let found = upright.one(codes::GOODS_DO_NOT_FIT);
    assert!(found.remedy.contains("mm higher"), "{}", found.remedy);
}

/// Open cells, tops and tables are places too; the goods' mass goes where they stand.
#[test]
fn every_kind_of_place_takes_goods() {
    let text = format!(
        "{BOARDS}[[carcass]]\nname = \"low\"\nat = [0, 0, 0]\nwidth = 800\ndepth = 600\nheight = 500\nboard = \"carcass\"\n\
         [[carcass.column]]\nname = \"left\"\n[[carcass.column.cell]]\nheight = 200\n[[carcass.column.cell]]\nshelf = true\nload = 8\n\
         [[carcass.column]]\nname = \"right\"\n\
         [[pull_out]]\nname = \"desk\"\nover = \"low.right\"\nboard = \"carcass\"\ncover = \"carcass\"\n{}{}{}{}",
        stow("a", 1.0, "low.left.1", ""),
        stow("b", 2.0, "low.left.2", ""),
        stow("c", 4.0, "low.right", ""),
        stow("d", 8.0, "desk", "")
    );
    let judged = judged(&text);
    sound(&judged);
    let places: Vec<&str> = judged.report.stowed.iter().map(|s| s.place.as_str()).collect();
    assert_eq!(places, ["low.left.1", "low.left.2", "low.right", "desk"], "{}", judged.shown());
    assert!(judged.report.stowed.iter().all(|s| s.left_out.is_empty()), "{}", judged.shown());
    let body = |name: &str| judged.report.bodies.iter().find(|b| b.name == name).expect("a body");
    assert!((body("low").goods_kg - 7.0).abs() < 1e-9);
    assert!((body("desk").goods_kg - 8.0).abs() < 1e-9);
    let bent: Vec<&str> = judged.report.bent.iter().map(|b| b.part.as_str()).collect();
    assert!(bent.contains(&"low left 2 shelf") && bent.contains(&"desk table"), "{bent:?}");
    let shelf = judged.report.bent.iter().find(|b| b.part == "low left 2 shelf").expect("a shelf");
    assert!((shelf.load_kg - 10.0).abs() < 1e-9);
}
