//! The bench the builders work at: it names and pins sizes, gives out ids and keeps what has been made.

use super::bolts::Standing;
use super::clash::Rod;
use super::frame::{Facing, Stretch};
use super::room::Room;
use super::{codes, Contact, EdgeNote, Feature, Gap, Grain, Hand, Hardware, Model, Panel, PanelEdge, PanelId};
use crate::design::{BoardId, Design};
use crate::diag::{Finding, Span};
use crate::dim::{Dim, Source, SourceKind};
use crate::units::Mm;
use std::collections::BTreeMap;

/// How far a cut edge may lie from where it was meant: a well-kept router or saw. Common practice, no source.
const CUT_EDGE: Mm = Mm(0.15);

/// What a new panel is made from.
pub(super) struct NewPanel<'a> {
    pub(super) unit: &'a str,
    pub(super) name: String,
    pub(super) hand: Hand,
    pub(super) board: BoardId,
    pub(super) facing: Facing,
    /// The box it fills in the bay: x, y, z. The stretch across the panel is its thickness.
    pub(super) block: [Stretch; 3],
    pub(super) grain: Grain,
    pub(super) span: Option<Span>,
}

/// The state of building.
pub(super) struct Builder<'a> {
    pub(super) design: &'a Design,
    pub(super) model: Model,
    pub(super) findings: Vec<Finding>,
    /// Screws and holes inside the wood so far.
    pub(super) rods: Vec<Rod>,
    /// Bolt heads and nuts that stand out of panels.
    pub(super) heads: Vec<Standing>,
    /// The rooms drawers move in.
    pub(super) rooms: Vec<Room>,
    pins_used: Vec<bool>,
    /// Letters of each unit, and how many parts it has so far.
    letters: BTreeMap<String, (String, u32)>,
}

impl<'a> Builder<'a> {
    pub(super) fn new(design: &'a Design) -> Self {
        Self {
            design,
            model: Model::default(),
            findings: Vec::new(),
            rods: Vec::new(),
            rooms: Vec::new(),
            heads: Vec::new(),
            pins_used: vec![false; design.pins.len()],
            letters: BTreeMap::new(),
        }
    }

    /// The model and everything found; pins that fitted nothing are reported.
    pub(super) fn finish(mut self) -> (Model, Vec<Finding>) {
        let names: Vec<String> = self.model.sizes.iter().filter_map(|d| d.name().map(str::to_owned)).collect();
        for (pin, used) in self.design.pins.iter().zip(&self.pins_used) {
            if !used {
                let near = nearest(&pin.name, &names).map_or_else(String::new, |n| format!("; the nearest is \"{n}\""));
                self.findings.push(
                    Finding::stop(codes::PIN_NOT_FOUND, format!("there is no size called \"{}\" to pin", pin.name))
                        .at(pin.span)
                        .remedy(format!("take a name that `why` prints{near}")),
                );
            }
        }
        (self.model, self.findings)
    }

    /// The maker's own figure for a size, when there is one.
    pub(super) fn pin_of(&self, name: &str) -> Option<Dim> {
        self.design.pins.iter().find(|pin| same_name(&pin.name, name)).map(|pin| pin.value.clone())
    }

    /// Names a derived size, replaces it where the maker pinned it, and keeps it for `why`.
    pub(super) fn size(&mut self, name: &str, derived: &Dim) -> Dim {
        let mut dim = derived.named(name);
        for (i, pin) in self.design.pins.iter().enumerate() {
            if same_name(&pin.name, name) {
                self.pins_used[i] = true;
                dim = dim.pinned(pin.value.clone());
                if dim.nominal() != derived.nominal() {
                    let change = dim.nominal() - derived.nominal();
                    self.findings.push(
                        Finding::note(
                            codes::PINNED,
                            format!(
                                "{name} is pinned at {} mm; derived it would be {} mm",
                                dim.nominal(),
                                derived.nominal()
                            ),
                        )
                        .at(pin.span)
                        .remedy(format!("a change of {change} mm is carried on to all that follows from it")),
                    );
                }
            }
        }
        self.model.sizes.push(dim.clone());
        dim
    }

    /// Thickness of a board: the batch.
    pub(super) fn thickness(&self, board: BoardId) -> Dim {
        self.design.boards[board.0].thickness.clone()
    }

    /// Makes a panel; its two sizes get names and may be pinned. A pinned panel stays centred in its place.
    pub(super) fn panel(&mut self, new: NewPanel<'_>) -> PanelId {
        let (u, v) = new.facing.axes();
        let mut block = new.block;
        for axis in [u, v] {
            let stretch = &mut block[axis.index()];
            let size_name = format!("{} {}", new.name, ["width", "depth", "height"][axis.index()]);
            let size = self.size(&size_name, &stretch.size);
            if size.nominal() != stretch.size.nominal() {
                stretch.from = &stretch.from + &((&stretch.size - &size) * 0.5);
            }
            stretch.size = size;
        }
        let frame = new.facing.frame(&block);
        let id = self.next_id(new.unit, new.board, new.hand);
        for axis in [u, v] {
            self.check_positive(&block[axis.index()].size, &new.name, new.span);
        }
        self.model.panels.push(Panel {
            id,
            name: new.name,
            unit: new.unit.to_owned(),
            hand: new.hand,
            board: new.board,
            length: block[u.index()].size.clone(),
            width: block[v.index()].size.clone(),
            thickness: self.thickness(new.board),
            frame: Some(frame),
            grain: new.grain,
            outline: None,
            features: Vec::new(),
            edges: Vec::new(),
            span: new.span,
        });
        PanelId(self.model.panels.len() - 1)
    }

    fn check_positive(&mut self, size: &Dim, name: &str, span: Option<Span>) {
        if size.nominal() <= Mm::ZERO {
            let what = size.name().unwrap_or(name).to_owned();
            self.findings.push(
                Finding::stop(codes::NO_ROOM, format!("{what} comes out at {} mm: there is no room for it", size.nominal()))
                    .part(name)
                    .at(span)
                    .remedy(format!("make its surroundings at least {} mm larger", -size.nominal() + Mm(1.0))),
            );
        }
    }

    /// The next id of a unit: two letters, the board's digit, a running number, and the hand: `LO-1-003-L`.
    pub(super) fn next_id(&mut self, unit: &str, board: BoardId, hand: Hand) -> String {
        if !self.letters.contains_key(unit) {
            let taken: Vec<&str> = self.letters.values().map(|(l, _)| l.as_str()).collect();
            let letters = unit_letters(unit, &taken);
            self.letters.insert(unit.to_owned(), (letters, 0));
        }
        let (letters, count) = self.letters.get_mut(unit).expect("inserted just above when missing");
        *count += 1;
        let hand = match hand {
            Hand::None => "",
            Hand::Left => "-L",
            Hand::Right => "-R",
        };
        format!("{letters}-{}-{count:03}{hand}", board.0 + 1)
    }

    pub(super) fn at(&self, id: PanelId) -> &Panel {
        &self.model.panels[id.0]
    }

    /// Cuts a feature into a panel.
    pub(super) fn cut(&mut self, id: PanelId, feature: Feature) {
        self.model.panels[id.0].features.push(feature);
    }

    /// Notes on both panels that they meet: the edge of `edge_of`, and `face_of` as its mate.
    pub(super) fn meets(&mut self, edge_of: PanelId, edge: PanelEdge, mate: PanelId, joint: &str, screws: Vec<Dim>) {
        self.model.panels[edge_of.0].edges.push(EdgeNote { edge, joint: joint.to_owned(), mate, screws });
    }

    /// Says that each of some panels may lie against each of others, and how.
    pub(super) fn against(&mut self, these: &[PanelId], those: &[PanelId], how: &'static str) {
        for a in these {
            self.model.contacts.extend(those.iter().filter(|b| *b != a).map(|b| Contact { panels: [*a, *b], how }));
        }
    }

    pub(super) fn hardware(&mut self, item: Hardware) {
        if item.quantity == 0 {
            return;
        }
        if let Some(same) = self
            .model
            .hardware
            .iter_mut()
            .find(|h| h.profile == item.profile && h.name == item.name && h.unit == item.unit && h.place == item.place)
        {
            same.quantity += item.quantity;
        } else {
            self.model.hardware.push(item);
        }
    }

    pub(super) fn gap(&mut self, gap: Gap) {
        self.model.gaps.push(gap);
    }
}

/// A cut edge's own error as a source: zero nominal, the same for everyone who names the same edge.
pub(super) fn cut_error(edge: &str) -> Dim {
    Dim::source(Source {
        key: format!("cut {edge}"),
        label: format!("cut edge of {edge}"),
        kind: SourceKind::Cut,
        nominal: Mm::ZERO,
        minus: CUT_EDGE,
        plus: CUT_EDGE,
        basis: "a well-kept router or saw, common practice, no source".into(),
        span: None,
    })
}

/// A size as it leaves the saw or router: the number that was cut, with the cut's own error, and no longer tied to the boards
/// it was derived from.
pub(super) fn as_cut(size: &Dim, edge: &str) -> Dim {
    Dim::number(size.nominal(), format!("{edge} as cut")) + cut_error(edge)
}

/// Whether two size names are the same but for case and separators.
pub(super) fn same_name(a: &str, b: &str) -> bool {
    let plain = |s: &str| s.to_lowercase().replace(['.', '_', '-'], " ");
    plain(a) == plain(b)
}

/// The most similar of some names, when one is similar at all.
pub(super) fn nearest<'n>(wanted: &str, names: &'n [String]) -> Option<&'n str> {
    names
        .iter()
        .map(|n| (strsim::jaro_winkler(&wanted.to_lowercase(), &n.to_lowercase()), n))
        .filter(|(score, _)| *score > 0.7)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, n)| n.as_str())
}

/// Two capital letters for a unit, different from those taken: the initials of its first two words (`lower left drawer`: LL), or
/// its first two letters; the next letters of its name when those are taken.
fn unit_letters(unit: &str, taken: &[&str]) -> String {
    let letters = |text: &str| -> Vec<char> {
        text.chars().filter(char::is_ascii_alphabetic).map(|c| c.to_ascii_uppercase()).collect()
    };
    let all = letters(unit);
    let first = all.first().copied().unwrap_or('U');
    let initial = unit.split_whitespace().nth(1).and_then(|word| letters(word).first().copied());
    let rest = initial.into_iter().chain(all.iter().skip(1).copied()).chain('A'..='Z');
    for second in rest {
        let pair: String = [first, second].iter().collect();
        if !taken.contains(&pair.as_str()) {
            return pair;
        }
    }
    for a in 'A'..='Z' {
        for b in 'A'..='Z' {
            let pair: String = [a, b].iter().collect();
            if !taken.contains(&pair.as_str()) {
                return pair;
            }
        }
    }
    format!("{first}{}", taken.len())
}
