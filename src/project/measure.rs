//! A size measured with a tape: one reading, a list, or a grid by height and depth.

use super::bay::readings;
use super::table::Table;
use super::tree::{Node, Value};
use super::{codes, Measured};
use crate::diag::Finding;

/// A number, a list of readings, or `{ readings, heights, depths, uncertainty }`.
pub(super) fn measured(table: &mut Table<'_>, key: &'static str) -> Option<Measured> {
    let node = table.get(key)?;
    let called = table.called(key);
    let Value::Table(_) = &node.value else {
        let readings = readings(table.desk, &called, node);
        return (!readings.is_empty()).then_some(Measured {
            readings,
            places: Vec::new(),
            uncertainty: None,
            span: node.span,
        });
    };
    let mut inner = Table::open(table.desk, &called, node)?;
    let uncertainty = inner.length("uncertainty");
    let mut marks = |key| -> Option<Vec<String>> {
        let node = inner.get(key)?;
        let called = inner.called(key);
        Some(readings(inner.desk, &called, node).iter().map(|m| m.value.to_string()).collect())
    };
    let (heights, depths) = (marks("heights"), marks("depths"));
    let grid = inner.need("readings", "[...]", |t, key| t.get(key).map(|node| (t.called(key), node)));
    let read = grid.map(|(called, node)| by_rows(&inner, &called, node, heights, depths));
    inner.finish();
    let (readings, places) = read?;
    (!readings.is_empty()).then_some(Measured { readings, places, uncertainty, span: node.span })
}

/// Readings with their places. A list of lists is a grid: a row for each height, in it a reading for each depth.
fn by_rows(
    table: &Table<'_>,
    called: &str,
    node: &Node,
    heights: Option<Vec<String>>,
    depths: Option<Vec<String>>,
) -> (Vec<super::Length>, Vec<String>) {
    let rows: Option<Vec<&Node>> = match &node.value {
        Value::List(items) if items.iter().any(|i| matches!(i.value, Value::List(_))) => Some(items.iter().collect()),
        _ => None,
    };
    let (mut all, mut places) = (Vec::new(), Vec::new());
    let known = heights.is_some() || depths.is_some();
    if let Some(rows) = rows {
        count(table, called, "heights", heights.as_ref(), rows.len(), node);
        for (r, row) in rows.iter().enumerate() {
            let found = readings(table.desk, called, row);
            count(table, called, "depths", depths.as_ref(), found.len(), row);
            for (c, reading) in found.into_iter().enumerate() {
                all.push(reading);
                places.push(format!("{}, {}", place("height", heights.as_ref(), r), place("depth", depths.as_ref(), c)));
            }
        }
        return (all, places);
    }
    let all = readings(table.desk, called, node);
    if let (true, Some(word)) = (
        known,
        if heights.is_none() {
            Some("depth")
        } else if depths.is_none() {
            Some("height")
        } else {
            None
        },
    ) {
        let marks = heights.or(depths);
        count(table, called, if word == "depth" { "depths" } else { "heights" }, marks.as_ref(), all.len(), node);
        places = (0..all.len()).map(|i| place(word, marks.as_ref(), i)).collect();
    } else if known {
        table.desk.report(
            Finding::stop(codes::WRONG_TYPE, format!("{called} is one row, but both `heights` and `depths` are given"))
                .at(node.span)
                .remedy("write a row of readings for each height: [[1184, 1182], [1180, 1179]]"),
        );
    }
    (all, places)
}

fn place(word: &str, marks: Option<&Vec<String>>, index: usize) -> String {
    match marks.and_then(|m| m.get(index)) {
        Some(mark) => format!("{word} {mark}"),
        None => format!(
            "{word} {}",
            ["first", "second", "third"].get(index).map_or_else(|| (index + 1).to_string(), |s| (*s).to_owned())
        ),
    }
}

fn count(table: &Table<'_>, called: &str, key: &str, marks: Option<&Vec<String>>, wanted: usize, node: &Node) {
    if let Some(marks) = marks.filter(|m| m.len() != wanted) {
        table.desk.report(
            Finding::stop(codes::WRONG_TYPE, format!("{called} has {wanted} readings there, but {} `{key}`", marks.len()))
                .at(node.span)
                .remedy(format!("write one of `{key}` for each reading")),
        );
    }
}
