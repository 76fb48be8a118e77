//! From a short text to the judged page, through the real stages.

use baywright::design::{settle, Design};
use baywright::diag::{render, Code, Finding, Severity, Texts};
use baywright::fit::load::{judge, LoadReport};
use baywright::nest::lay_floor;
use baywright::parts::{build, Model};
use baywright::project::read;
use baywright::shop::{load, Shop};
use std::sync::OnceLock;

pub(super) fn shop() -> &'static Shop {
    static SHOP: OnceLock<Shop> = OnceLock::new();
    SHOP.get_or_init(|| load(&Texts::default(), &[]).value.expect("the built-in shop"))
}

pub(super) struct Judged {
    pub(super) texts: Texts,
    pub(super) design: Design,
    pub(super) model: Model,
    pub(super) report: LoadReport,
    /// Of this room only.
    pub(super) findings: Vec<Finding>,
}

impl Judged {
    pub(super) fn shown(&self) -> String {
        render::text(&self.findings, &self.texts, false)
    }

    pub(super) fn of(&self, code: Code) -> Vec<&Finding> {
        self.findings.iter().filter(|f| f.code == code).collect()
    }

    pub(super) fn one(&self, code: Code) -> &Finding {
        let found = self.of(code);
        assert_eq!(found.len(), 1, "{}: {}", code.id, self.shown());
        found[0]
    }

    pub(super) fn lines(&self) -> impl Iterator<Item = &str> {
        self.report.sections.iter().flat_map(|s| &s.lines).map(String::as_str)
    }
}

pub(super) fn design(text: &str) -> (Texts, Design) {
    let mut texts = Texts::default();
    let file = texts.add("van.toml", text);
    let mut findings = Vec::new();
    let project = read(&texts, &[file]).into(&mut findings);
    let design = project.and_then(|p| settle(&p, shop(), &texts).into(&mut findings));
    let stops: Vec<Finding> = findings.into_iter().filter(|f| f.severity == Severity::Stop).collect();
    assert!(stops.is_empty(), "{}\n{text}", render::text(&stops, &texts, false));
    (texts, design.expect("a design"))
}

pub(super) fn judged(text: &str) -> Judged {
    let (texts, design) = design(text);
    judge_design(texts, design)
}

pub(super) fn judge_design(texts: Texts, design: Design) -> Judged {
    let model = build(&design).value.expect("a model");
    let checked = judge(&design, &model, lay_floor);
    Judged { texts, report: checked.value.expect("a report"), findings: checked.findings, design, model }
}

pub(super) fn sample() -> Judged {
    let path = format!("{}/samples/survey-van.toml", env!("CARGO_MANIFEST_DIR"));
    judged(&std::fs::read_to_string(path).expect("the sample"))
}

/// Boards of one real thickness each.
pub(super) const BOARDS: &str = r#"format = 1
title = "Survey boat trailer"
units = "mm"
[boards.carcass]
profile = "birch-ply-15"
readings = [15, 15, 15, 15]
[boards.front]
profile = "birch-ply-12"
readings = [12, 12, 12, 12]
[boards.bottom]
profile = "birch-ply-9"
readings = [9, 9, 9, 9]
"#;

/// A bay with four points, 300 kg of room in a van.
pub(super) const BAY: &str = r#"[bay]
width = { readings = [1400], uncertainty = 2 }
depth = { readings = [1400], uncertainty = 2 }
height = { readings = [1000], uncertainty = 2 }
[[bay.anchor]]
name = "a"
at = [200, 150]
thread = "M8"
rating = 4000
[[bay.anchor]]
name = "b"
at = [600, 150]
thread = "M8"
rating = 4000
[[bay.anchor]]
name = "c"
at = [200, 450]
thread = "M8"
rating = 4000
[[bay.anchor]]
name = "d"
at = [600, 450]
thread = "M8"
rating = 4000
"#;

/// One carcass 600 wide with one drawer, at 100, 50, 0; further keys for carcass and drawer.
pub(super) fn one_drawer(carcass: &str, drawer: &str) -> String {
    let more = if drawer.is_empty() { String::new() } else { format!(", {drawer}") };
    format!(
        "[[carcass]]\nname = \"low\"\nat = [100, 50, 0]\nwidth = 600\ndepth = 600\nheight = 260\nboard = \"carcass\"\n{carcass}\n\
         [[carcass.column]]\nname = \"left\"\n[[carcass.column.cell]]\n\
         drawer = {{ slide = \"side-mount-500\", latch = \"flush-paddle\", front = \"front\", bottom_board = \"bottom\"{more} }}\n"
    )
}

/// Goods of 200 x 200 x 100 mm.
pub(super) fn stow(name: &str, mass: f64, place: &str, more: &str) -> String {
    let place = if place.is_empty() { String::new() } else { format!("in = \"{place}\"\n") };
    format!("[[stow]]\nname = \"{name}\"\nsize = [200, 200, 100]\nmass = {mass}\n{place}{more}\n")
}

pub(super) fn near(a: f64, b: f64, share: f64, what: &str) {
    assert!((a - b).abs() <= share * b.abs(), "{what}: {a} is not {b} within {} %", share * 100.0);
}
