//! Which words may stand together: the modal groups of NISTIR 6556, Table 4.

use super::words::Block;

/// G words (times ten) by group; a line may hold one of each group. Only the words read here are listed.
const G_GROUPS: &[(&str, &[u32])] = &[
    ("non-modal", &[40]),
    ("motion", &[0, 10, 20, 30, 800, 810, 820, 830]),
    ("plane", &[170]),
    ("distance mode", &[900, 910]),
    ("feed mode", &[940]),
    ("units", &[200, 210]),
    ("cutter compensation", &[400]),
    ("tool length", &[490]),
    ("return level", &[980, 990]),
    ("work offset", &[540, 550, 560, 570, 580, 590]),
    ("path control", &[610, 611, 640]),
];

/// M words by group; the tool change (M6) and coolant words stand alone in theirs.
const M_GROUPS: &[(&str, &[u32])] = &[
    ("stopping", &[0, 1, 2, 30]),
    ("tool change", &[6]),
    ("spindle", &[3, 4, 5]),
    ("coolant", &[7, 8, 9]),
    ("override", &[48, 49]),
];

/// The one word of a group on the line.
pub(super) fn one_of(block: &Block, words: &[u32]) -> Option<u32> {
    block.g.iter().copied().find(|g| words.contains(g))
}

/// The motion word on the line: G0 to G3 or a cycle, or G80.
pub(super) fn motion(block: &Block) -> Option<u32> {
    one_of(block, &[0, 10, 20, 30, 800, 810, 820, 830])
}

/// Every word known, and at most one of each group.
pub(super) fn check(block: &Block) -> Result<(), String> {
    groups('G', &block.g, G_GROUPS, 10.0)?;
    groups('M', &block.m, M_GROUPS, 1.0)
}

fn groups(letter: char, words: &[u32], groups: &[(&str, &[u32])], scale: f64) -> Result<(), String> {
    let shown = |w: u32| format!("{letter}{}", f64::from(w) / scale);
    for (i, word) in words.iter().enumerate() {
        let Some((name, members)) = groups.iter().find(|(_, members)| members.contains(word)) else {
            return Err(format!("word {} is not one this pack may use", shown(*word)));
        };
        if let Some(other) = words[..i].iter().find(|w| members.contains(w)) {
            return Err(format!(
                "{} and {} on one line: both are of the group {name} (NISTIR 6556, Table 4)",
                shown(*other),
                shown(*word)
            ));
        }
    }
    Ok(())
}
