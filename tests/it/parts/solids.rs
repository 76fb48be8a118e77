//! Panels as exact solids: a box less the boxes cut from it, all along the bay's axes.

use baywright::parts::{Depth, Face, FeatureKind, Model, Panel, PanelId};
use baywright::units::Mm;

#[derive(Clone, Copy, Debug)]
pub(super) struct Block {
    pub(super) min: [f64; 3],
    pub(super) max: [f64; 3],
}

impl Block {
    pub(super) fn meet(&self, other: &Self) -> Option<Self> {
        let min = [0, 1, 2].map(|i| self.min[i].max(other.min[i]));
        let max = [0, 1, 2].map(|i| self.max[i].min(other.max[i]));
        (0..3).all(|i| max[i] - min[i] > 1e-9).then_some(Self { min, max })
    }

    fn holds(&self, p: [f64; 3]) -> bool {
        (0..3).all(|i| p[i] > self.min[i] && p[i] < self.max[i])
    }

    pub(super) fn size(&self, i: usize) -> f64 {
        self.max[i] - self.min[i]
    }
}

pub(super) struct Solid {
    pub(super) whole: Block,
    pub(super) cuts: Vec<Block>,
}

impl Solid {
    pub(super) fn has(&self, p: [f64; 3]) -> bool {
        self.whole.holds(p) && !self.cuts.iter().any(|c| c.holds(p))
    }
}

/// The panel's own box, by its frame alone.
pub(super) fn block(panel: &Panel, from: [f64; 3], to: [f64; 3]) -> Block {
    let frame = panel.frame.as_ref().expect("stands somewhere");
    let a = frame.to_bay(Mm(from[0]), Mm(from[1]), Mm(from[2])).to_array();
    let b = frame.to_bay(Mm(to[0]), Mm(to[1]), Mm(to[2])).to_array();
    Block { min: [0, 1, 2].map(|i| a[i].min(b[i])), max: [0, 1, 2].map(|i| a[i].max(b[i])) }
}

/// The panel less its notches, openings and grooves; round holes stay in, for they only ever remove more.
pub(super) fn solid(panel: &Panel) -> Solid {
    let (l, w, t) = (panel.length.nominal().0, panel.width.nominal().0, panel.thickness.nominal().0);
    let whole = block(panel, [0.0, 0.0, -t], [l, w, 0.0]);
    let cuts = panel
        .features
        .iter()
        .filter_map(|f| {
            let (FeatureKind::Rectangle { at, size, .. }
            | FeatureKind::EdgeNotch { at, size, .. }
            | FeatureKind::Groove { at, size }) = &f.kind
            else {
                return None;
            };
            let (low, high) = match &f.depth {
                Depth::Through => (-t - 1.0, 1.0),
                Depth::Blind(Face::A, d) => (-d.nominal().0, 1.0),
                Depth::Blind(Face::B, d) => (-t - 1.0, -t + d.nominal().0),
            };
            let (u, v) = (at[0].nominal().0, at[1].nominal().0);
            Some(block(panel, [u, v, low], [u + size[0].nominal().0, v + size[1].nominal().0, high]))
        })
        .collect();
    Solid { whole, cuts }
}

/// Volumes within a region, by cells between all edges met there: in both solids, and in neither.
pub(super) fn volumes(a: &Solid, b: &Solid, region: &Block) -> (f64, f64) {
    let cut = [0, 1, 2].map(|i| {
        let mut edges = vec![region.min[i], region.max[i]];
        for solid in [a, b] {
            for c in solid.cuts.iter().chain(std::iter::once(&solid.whole)) {
                if c.meet(region).is_some() {
                    edges.extend([c.min[i], c.max[i]]);
                }
            }
        }
        edges.retain(|e| *e >= region.min[i] && *e <= region.max[i]);
        edges.sort_by(f64::total_cmp);
        edges.dedup_by(|x, y| (*x - *y).abs() < 1e-9);
        edges
    });
    let (mut both, mut neither) = (0.0, 0.0);
    for x in cut[0].windows(2) {
        for y in cut[1].windows(2) {
            for z in cut[2].windows(2) {
                let middle = [x, y, z].map(|e| f64::midpoint(e[0], e[1]));
                let volume = (x[1] - x[0]) * (y[1] - y[0]) * (z[1] - z[0]);
                match (a.has(middle), b.has(middle)) {
                    (true, true) => both += volume,
                    (false, false) => neither += volume,
                    _ => {}
                }
            }
        }
    }
    (both, neither)
}

/// No two panels share volume.
pub(super) fn assert_apart(model: &Model, what: &str) {
    if let Some(fault) = overlap(model) {
        panic!("{what}: {fault}");
    }
}

pub(super) fn overlap(model: &Model) -> Option<String> {
    let standing: Vec<(&Panel, Solid)> = model.panels.iter().filter(|p| p.frame.is_some()).map(|p| (p, solid(p))).collect();
    for (i, (p, a)) in standing.iter().enumerate() {
        for (q, b) in &standing[i + 1..] {
            let Some(region) = a.whole.meet(&b.whole) else { continue };
            let (both, _) = volumes(a, b, &region);
            if both > 1e-6 {
                return Some(format!("{} and {} share {both} mm3 of {region:?}", p.name, q.name));
            }
        }
    }
    None
}

/// A finger corner.
#[derive(Debug)]
pub(super) struct Corner {
    pub(super) name: String,
    /// How much of the run neither panel fills, in mm.
    pub(super) open: f64,
    /// Flanks between fingers.
    pub(super) flanks: usize,
}

/// Every finger corner of the model. Grooves count as whole wood: a bottom fills them.
pub(super) fn corners(model: &Model) -> Vec<Corner> {
    let mut list = Vec::new();
    for (i, p) in model.panels.iter().enumerate() {
        for note in p.edges.iter().filter(|e| e.joint == "finger" && e.mate > PanelId(i)) {
            let q = &model.panels[note.mate.0];
            let ungrooved = |p: &Panel| {
                let mut p = p.clone();
                p.features.retain(|f| !matches!(f.kind, FeatureKind::Groove { .. }));
                solid(&p)
            };
            let (a, b) = (ungrooved(p), ungrooved(q));
            let region = a.whole.meet(&b.whole).expect("fingers share a corner");
            let (_, neither) = volumes(&a, &b, &region);
            let run = (0..3).map(|k| region.size(k)).fold(0.0, f64::max);
            let across: f64 = (0..3).map(|k| region.size(k)).product::<f64>() / run;
            let notches = |p: &Panel, mate: usize| {
                let of = |f: &&baywright::parts::Feature| f.mate == Some(PanelId(mate)) && f.id.starts_with("finger");
                p.features.iter().filter(of).count()
            };
            let flanks = notches(p, note.mate.0) + notches(q, i) - 1;
            list.push(Corner { name: format!("{} and {}", p.name, q.name), open: neither / across, flanks });
        }
    }
    list
}
