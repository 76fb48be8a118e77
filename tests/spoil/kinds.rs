//! Every way of spoiling, and the table.

use super::pack::{Effect, Files, Pack};
use super::{drawings as d, held as h, jobs as j, programs as p};
use baywright::proof;
use std::collections::BTreeMap;

type Spoil = fn(&mut Pack) -> Option<Effect>;

pub(crate) const KINDS: &[(&str, Spoil)] = &[
    ("a coordinate of a DXF", d::dxf_coordinate),
    ("a radius of a DXF", d::dxf_radius),
    ("a bulge turned over", d::dxf_bulge),
    ("a swapped layer of a DXF", d::dxf_layer),
    ("an entity missing", d::dxf_missing),
    ("an entity twice", d::dxf_twice),
    ("a deleted line of a DXF", d::dxf_line_gone),
    ("a wrong unit header", d::dxf_unit),
    ("extents of a DXF", d::dxf_extents),
    ("a DXF cut short", d::dxf_short),
    ("a coordinate of an SVG", d::svg_coordinate),
    ("a path missing", d::svg_missing),
    ("an arc of an SVG turned over", d::svg_arc),
    ("a swapped layer of an SVG", d::svg_layer),
    ("a transform in an SVG", d::svg_transform),
    ("an SVG cut short", d::svg_short),
    ("a coordinate of an outline", p::coordinate),
    ("a deleted line of an outline", p::line_gone),
    ("an arc turned the other way", p::arc_turned),
    ("an arc's centre", p::arc_centre),
    ("a pocket deeper", p::pocket_deeper),
    ("a pocket shallower", p::pocket_shallower),
    ("a through cut shallower", p::not_through),
    ("a through cut deeper", p::below_floor),
    ("missing tabs", p::tabs_gone),
    ("a tab twice as long", h::long_tab),
    ("a stretch left beside a tab", h::stretch_left),
    ("a tab too low", h::tab_height),
    ("a pass left out", h::pass_skipped),
    ("a registration hole moved", h::registration_moved),
    ("a registration hole missing", h::registration_gone),
    ("registration pins elsewhere", h::pins_elsewhere),
    ("a mirrored program", p::mirrored),
    ("a dropped M3", p::no_start),
    ("M4 for M3", p::backwards),
    ("no spindle speed", p::no_speed),
    ("the spindle stopped early", p::stopped_early),
    ("inches for millimetres", p::unit),
    ("a mode not stated", p::mode_gone),
    ("no work offset", p::offset_gone),
    ("an unknown word", p::unknown_word),
    ("a rapid in the wood", p::rapid_in_wood),
    ("a lift too low", p::low_lift),
    ("a lift missing", p::no_lift),
    ("no feed", p::no_feed),
    ("a program cut short", d::program_short),
    ("a height from the other zero", p::other_zero),
    ("a place in the other unit", p::other_unit),
    ("a line number that cannot be", p::line_number),
    ("a feed too high", p::feed_high),
    ("a change of cutter without a stop", p::no_stop),
    ("a change with the spindle turning", p::turns_at_change),
    ("a change without a lift after it", p::not_lifted_after_change),
    ("a way beyond the machine", p::beyond_machine),
    ("sections of a file swapped", j::sections),
    ("a sheet not turned over", j::not_turned_over),
    ("a restart on another line", j::restart),
    ("a bigger or smaller cutter", j::cutter),
    ("a part moved", j::moved),
    ("a part turned", j::turned),
    ("a part placed twice", j::placed_twice),
    ("a part not placed", j::not_placed),
    ("a copy more wanted", j::wanted_more),
    ("a vertex of the design", j::vertex),
    ("another z zero", j::zero),
    ("the other side", j::side),
    ("programs in another order", j::order),
    ("an opening before its parts", j::opening_first),
    ("a part said to lie elsewhere", j::elsewhere),
    ("a higher clearance", j::clearance),
    ("a file of another revision", j::revision),
    ("a file missing", j::missing),
    ("a foreign file", j::foreign),
    ("two files swapped", j::swapped),
    ("a byte of noise", j::noise),
];

/// What came of one kind.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Row {
    pub(crate) tried: usize,
    pub(crate) harmless: usize,
    pub(crate) caught: usize,
    pub(crate) missed: usize,
    /// Harmless changes that were called faults.
    pub(crate) alarms: usize,
}

/// The first lines that were changed, by file.
fn changed(before: &Files, after: &Files) -> String {
    let text =
        |files: &Files, name: &String| files.get(name).map_or(String::new(), |b| String::from_utf8_lossy(b).into_owned());
    let names = before.keys().filter(|name| before.get(*name) != after.get(*name));
    let lines = names.flat_map(|name| {
        let (old, new) = (text(before, name), text(after, name));
        let pairs = old.lines().zip(new.lines()).enumerate().filter(|(_, (a, b))| a != b);
        let short = |line: &str| line.chars().take(80).collect::<String>();
        pairs
            .map(|(n, (a, b))| format!("{name}:{}: `{}` became `{}`", n + 1, short(a), short(b)))
            .take(2)
            .collect::<Vec<_>>()
    });
    lines.take(4).collect::<Vec<_>>().join("; ")
}

/// Spoils packs in every way named with the words `only`, with so many seeds each; `told` hears of what went wrong.
pub(crate) fn table(
    packs: &[(&str, Files)],
    seeds: u64,
    only: &str,
    mut told: impl FnMut(String),
) -> BTreeMap<&'static str, Row> {
    let mut rows = BTreeMap::new();
    for (name, spoil) in KINDS.iter().filter(|(name, _)| name.contains(only)) {
        let row: &mut Row = rows.entry(*name).or_default();
        // A kind does not fit every place of every pack: more seeds are looked at than are used.
        for seed in 0..seeds * 12 {
            if row.tried as u64 >= seeds {
                break;
            }
            let (sample, files) = &packs[seed as usize % packs.len()];
            let mut pack = Pack::of(files, seed * 977 + 1);
            let Some(effect) = spoil(&mut pack) else { continue };
            if pack.files == *files {
                continue;
            }
            row.tried += 1;
            let passed = proof::prove(&pack.files).passed;
            match (effect, passed) {
                (Effect::Harms, false) => row.caught += 1,
                (Effect::Harms, true) => {
                    row.missed += 1;
                    told(format!("missed: {name}, {sample}, seed {seed}: {}", changed(files, &pack.files)));
                }
                (Effect::Harmless, true) => row.harmless += 1,
                (Effect::Harmless, false) => {
                    row.alarms += 1;
                    let verdict = proof::prove(&pack.files);
                    let first = verdict.findings.first().map(|f| f.message.clone()).unwrap_or_default();
                    told(format!("false alarm: {name}, {sample}, seed {seed}: {first}"));
                }
            }
        }
    }
    rows
}
