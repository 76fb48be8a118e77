//! Good packs pass, whatever their flavour.

use super::sample::{pack, Flavour, PLAIN};
use baywright::proof::prove;

#[test]
fn good_packs_pass() {
    for inches in [false, true] {
        for release_12 in [false, true] {
            for sheet_top in [false, true] {
                let verdict = prove(&pack(Flavour { inches, release_12, sheet_top }));
                assert!(
                    verdict.passed,
                    "inches {inches}, release 12 {release_12}, sheet top {sheet_top}\n{}",
                    verdict.to_text()
                );
            }
        }
    }
}

#[test]
fn the_verdict_counts_what_it_checked() {
    let verdict = prove(&pack(PLAIN));
    let checked = |rule: &str| verdict.rules.iter().find(|r| r.rule == rule).unwrap().checked;
    for (rule, count) in [
        ("proof-file-unreadable", 6),
        ("proof-drawing-differs", 16),
        ("proof-sheet-differs", 32),
        ("proof-copies-wrong", 2),
        ("proof-not-simulated", 1),
        ("proof-wood-left", 8),
        ("proof-floor-wrong", 6),
        ("proof-outline-uncut", 2),
        ("proof-part-loose", 8),
        ("proof-mate-does-not-seat", 2),
    ] {
        assert_eq!(checked(rule), count, "{rule}\n{}", verdict.to_text());
    }
    // Nothing is screwed down here: see `held_down`.
    let idle = |r: &&baywright::proof::RuleResult| r.checked == 0 && r.rule != "proof-screw-hit";
    assert_eq!(verdict.rules.iter().find(idle).map(|r| r.rule), None, "a rule checked nothing\n{}", verdict.to_text());
    let data: serde_json::Value = serde_json::from_slice(&verdict.to_json()).unwrap();
    assert_eq!((&data["passed"], data["rules"].as_array().unwrap().len()), (&true.into(), verdict.rules.len()));
}
