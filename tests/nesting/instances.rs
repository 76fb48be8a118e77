//! Reads the instance files.

use baywright::nest::engine::{free_rectangles, CutRule, Item, Problem, Shape, SheetKind, Turns};
use serde_json::Value;
use std::collections::BTreeMap;

pub(crate) struct Instance {
    pub(crate) name: String,
    pub(crate) class: String,
    pub(crate) problem: Problem,
    /// Fewest sheets known, where that is the measure.
    pub(crate) best: Option<u64>,
}

/// Every rectangle instance of a file; `best` counts come from `rectangles_best.csv` beside it or from the plan itself.
pub(crate) fn read(file: &str, turned: bool, cut: CutRule) -> Vec<Instance> {
    let text = std::fs::read_to_string(file).unwrap_or_else(|e| panic!("{file}: {e}"));
    let all: Vec<Value> = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{file}: {e}"));
    let folder = std::path::Path::new(file).parent().map(std::path::Path::to_path_buf).unwrap_or_default();
    let table = std::fs::read_to_string(folder.join("rectangles_best.csv")).unwrap_or_default();
    let column = match (turned, cut) {
        (false, CutRule::Free) => 4,
        (true, CutRule::Free) => 5,
        (false, _) => 6,
        (true, _) => 7,
    };
    let best: BTreeMap<&str, u64> = table
        .lines()
        .filter_map(|l| {
            let cells: Vec<&str> = l.split(',').collect();
            Some((cells[0], cells.get(column)?.parse().ok()?))
        })
        .collect();
    let turns = if turned { Turns::Any } else { Turns::Fixed };
    all.iter()
        .map(|v| {
            let name = v["name"].as_str().unwrap_or("?").to_owned();
            if v["parts"].is_array() {
                return planted(name, v, cut);
            }
            let items =
                list(&v["items"]).map(|i| Item { size: pair(i), turns, count: i[2].as_u64().unwrap_or(1) as u32 }).collect();
            let sheets: Vec<SheetKind> = if v["bins"].is_array() {
                // The measure is how well the sheets in use are filled: a sheet costs its area.
                list(&v["bins"])
                    .map(|b| {
                        let size = pair(b);
                        SheetKind { size, count: Some(b[2].as_u64().unwrap_or(1) as u32), cost: (size[0] * size[1]) as u64 }
                    })
                    .collect()
            } else {
                vec![SheetKind { size: pair(&v["bin"]), count: None, cost: 1 }]
            };
            let class = v["cls"].as_i64().map_or("-".to_owned(), |c| format!("class {c:02}"));
            let problem =
                Problem { items: merged(items), shapes: BTreeMap::new(), defects: BTreeMap::new(), sheets, gap: 0, cut };
            Instance { best: best.get(name.as_str()).copied(), name, class, problem }
        })
        .collect()
}

/// Our own instances: turns by grain, spacing, and the count that was planted.
fn planted(name: String, v: &Value, cut: CutRule) -> Instance {
    let mut shapes = BTreeMap::new();
    let mut items = Vec::new();
    for p in list(&v["parts"]) {
        let turns = if p["grain"].as_i64() == Some(1) { Turns::Fixed } else { Turns::Any };
        let count = p["qty"].as_u64().unwrap_or(1) as u32;
        let size = if p["size"].is_array() {
            pair(&p["size"])
        } else {
            let (size, cover) = covered(p);
            if cover.len() > 1 {
                shapes.insert(items.len(), Shape { cover });
            }
            size
        };
        items.push(Item { size, turns, count });
    }
    let sheets: Vec<SheetKind> = list(&v["sheets"])
        .map(|s| {
            let size = pair(&s["size"]);
            SheetKind { size, count: s["qty"].as_u64().map(|n| n as u32), cost: 1 }
        })
        .collect();
    let mut sheets = sheets;
    if sheets.len() > 1 {
        for s in &mut sheets {
            s.cost = (s.size[0] * s.size[1]) as u64;
        }
    } else {
        // One size: the count is what is asked, so more sheets than planted are at hand.
        sheets[0].count = None;
    }
    let problem = Problem { items, shapes, defects: BTreeMap::new(), sheets, gap: v["spacing"].as_i64().unwrap_or(0), cut };
    Instance { class: format!("planted {}", &name[..1]), best: v["optimum_sheets"].as_u64(), name, problem }
}

/// A rectilinear part's size, and the largest rectangles inside it.
fn covered(part: &Value) -> ([i64; 2], Vec<[i64; 4]>) {
    let ring = |v: &Value| -> Vec<[i64; 2]> { list(v).map(pair).collect() };
    let outer = ring(&part["outer"]);
    let size = [0, 1].map(|d| outer.iter().map(|p| p[d]).max().unwrap_or(0));
    let rings: Vec<Vec<[i64; 2]>> = std::iter::once(outer).chain(list(&part["holes"]).map(ring)).collect();
    let mut ys: Vec<i64> = rings.iter().flatten().map(|p| p[1]).collect();
    ys.sort_unstable();
    ys.dedup();
    let mut wood = Vec::new();
    for y in ys.windows(2) {
        let edges = rings.iter().flat_map(|r| r.iter().zip(r.iter().cycle().skip(1)));
        let mut xs: Vec<i64> =
            edges.filter(|(a, b)| a[1].min(b[1]) <= y[0] && a[1].max(b[1]) >= y[1]).map(|(a, _)| a[0]).collect();
        xs.sort_unstable();
        wood.extend(xs.chunks_exact(2).map(|x| [x[0], y[0], x[1], y[1]]));
    }
    let free = free_rectangles(size, &wood, 1);
    (size, free_rectangles(size, &free, 1))
}

/// Equal pieces as one item with a count.
pub(crate) fn merged(items: Vec<Item>) -> Vec<Item> {
    let mut counts: BTreeMap<([i64; 2], Turns), u32> = BTreeMap::new();
    for i in items {
        *counts.entry((i.size, i.turns)).or_default() += i.count;
    }
    counts.into_iter().map(|((size, turns), count)| Item { size, turns, count }).collect()
}

fn list(v: &Value) -> impl Iterator<Item = &Value> {
    v.as_array().into_iter().flatten()
}

fn pair(v: &Value) -> [i64; 2] {
    [v[0].as_i64().unwrap_or(0), v[1].as_i64().unwrap_or(0)]
}
