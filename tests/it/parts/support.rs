//! From a short text to a model, through the real stages.

use baywright::design::{settle, Design};
use baywright::diag::{render, Finding, Severity, Texts};
use baywright::fit::{check, Ledger};
use baywright::parts::{build, Feature, FeatureKind, Model, Panel, Purpose};
use baywright::project::read;
use baywright::shop::{load, Shop};
use std::sync::OnceLock;

pub(super) fn shop() -> &'static Shop {
    static SHOP: OnceLock<Shop> = OnceLock::new();
    SHOP.get_or_init(|| load(&Texts::default(), &[]).value.expect("the built-in shop"))
}

pub(super) struct Built {
    pub(super) texts: Texts,
    pub(super) design: Design,
    pub(super) model: Model,
    /// Of the builders only.
    pub(super) findings: Vec<Finding>,
}

impl Built {
    pub(super) fn shown(&self) -> String {
        render::text(&self.findings, &self.texts, false)
    }

    pub(super) fn has(&self, code: &str) -> bool {
        self.findings.iter().any(|f| f.code.id == code)
    }

    pub(super) fn no_stops(self) -> Self {
        assert!(self.findings.iter().all(|f| f.severity != Severity::Stop), "{}", self.shown());
        self
    }

    pub(super) fn panel(&self, name: &str) -> &Panel {
        panel(&self.model, name)
    }

    pub(super) fn checked(&self) -> (Ledger, Vec<Finding>) {
        let checked = check(&self.design, &self.model);
        (checked.value.expect("judged"), checked.findings)
    }
}

pub(super) fn build_text(text: &str) -> Built {
    let mut texts = Texts::default();
    let file = texts.add("van.toml", text);
    let mut findings = Vec::new();
    let project = read(&texts, &[file]).into(&mut findings);
    let design = project.and_then(|p| settle(&p, shop(), &texts).into(&mut findings));
    let stops: Vec<Finding> = findings.into_iter().filter(|f| f.severity == Severity::Stop).collect();
    let design = design.unwrap_or_else(|| panic!("{}\n{text}", render::text(&stops, &texts, false)));
    assert!(stops.is_empty(), "{}\n{text}", render::text(&stops, &texts, false));
    let checked = build(&design);
    Built { texts, design, model: checked.value.expect("a model"), findings: checked.findings }
}

pub(super) fn model(text: &str) -> Model {
    build_text(text).no_stops().model
}

pub(super) fn panel<'m>(model: &'m Model, name: &str) -> &'m Panel {
    model.panels.iter().find(|p| p.name == name).unwrap_or_else(|| {
        panic!("no panel {name:?} among {:?}", model.panels.iter().map(|p| p.name.as_str()).collect::<Vec<_>>())
    })
}

/// Bay coordinates of a feature's centre, on face A.
pub(super) fn at(panel: &Panel, feature: &Feature) -> [f64; 3] {
    let [u, v] = feature.centre();
    panel.frame.as_ref().expect("stands somewhere").to_bay(u, v, baywright::units::Mm::ZERO).to_array()
}

pub(super) fn diameter(feature: &Feature) -> Option<f64> {
    match &feature.kind {
        FeatureKind::Hole { diameter, .. } | FeatureKind::Countersunk { diameter, .. } => Some(diameter.nominal().0),
        _ => None,
    }
}

pub(super) fn of_purpose(panel: &Panel, purpose: Purpose) -> Vec<&Feature> {
    panel.features.iter().filter(|f| f.purpose == purpose).collect()
}

pub(super) fn near(a: f64, b: f64, what: &str) {
    assert!((a - b).abs() < 1e-6, "{what}: {a} is not {b}");
}

/// Boards of one real thickness each: carcass 15, front 12, bottom 9.
pub(super) const HEAD: &str = r#"format = 1
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

/// One carcass 600 x 600 x 240 with two columns of one drawer each; `carcass` and `drawer` are further keys.
pub(super) fn two_drawers(carcass: &str, drawer: &str) -> String {
    let drawer = format!(
        "drawer = {{ slide = \"side-mount-450\", front = \"front\", box = \"front\", bottom_board = \"bottom\"{}{drawer} }}",
        if drawer.is_empty() { "" } else { ", " }
    );
    format!(
        "{HEAD}[[carcass]]\nname = \"low\"\nat = [0, 0, 0]\nwidth = 800\ndepth = 600\nheight = 240\nboard = \"carcass\"\n{carcass}\n\
         [[carcass.column]]\nname = \"left\"\n[[carcass.column.cell]]\n{drawer}\n\
         [[carcass.column]]\nname = \"right\"\n[[carcass.column.cell]]\n{drawer}\n"
    )
}
