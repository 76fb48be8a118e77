//! Sawn layouts with fewer sheets than the best known ones (which keep to three stages of cuts): read from their pictures, judged.

use super::engine::{one_size, public};
use baywright::nest::check;
use baywright::nest::engine::{CutRule, PackedSheet, Packing, Spot, Turns};

/// The numbers in an attribute of one line of a picture.
fn numbers(line: &str, name: &str) -> Vec<i64> {
    let value = line.split_once(&format!(" {name}=\"")).and_then(|(_, rest)| rest.split_once('"')).unwrap().0;
    value.split(' ').map(|n| n.parse().unwrap()).collect()
}

#[test]
fn layouts_below_the_best_known_are_sound_and_can_be_sawn() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/nesting/below_best");
    let table = include_str!("../../nesting/rectangles_best.csv");
    let mut seen = 0;
    for file in std::fs::read_dir(folder).unwrap() {
        let path = file.unwrap().path();
        let name = path.file_stem().unwrap().to_str().unwrap();
        let (side, items) = public(name, Turns::Fixed);
        let mut left: Vec<usize> = (0..items.len()).collect();
        let mut sheets: Vec<PackedSheet> = Vec::new();
        for line in std::fs::read_to_string(&path).unwrap().lines() {
            if line.contains("translate") {
                sheets.push(PackedSheet { kind: 0, spots: Vec::new() });
            } else if line.starts_with("<rect") {
                let number = |attribute| numbers(line, attribute)[0];
                let size = [number("width"), number("height")];
                let found = left.iter().position(|&i| items[i].size == size).unwrap();
                let spot = Spot { item: left.remove(found), at: [number("x"), number("y")], size, quarters: 0 };
                sheets.last_mut().unwrap().spots.push(spot);
            }
        }
        let cost = sheets.len() as u64;
        let packing = Packing { sheets, cost, ..Packing::default() };
        let problem = one_size([side, side], 0, CutRule::Guillotine, items);
        assert_eq!(check::packing(&problem, &packing), Vec::<String>::new(), "{name}");
        let best = table.lines().find(|l| l.starts_with(name)).and_then(|l| l.split(',').nth(6)).unwrap();
        assert!(cost < best.parse().unwrap(), "{name}: {cost} sheets, best known {best}");
        seen += 1;
    }
    assert_eq!(seen, 6);
}
