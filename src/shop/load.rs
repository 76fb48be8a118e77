//! From profile files to the shop.

use super::basis::{basis, sources, Sources, SOURCES};
use super::fields::Fields;
use super::file::{File, Reference};
use super::find::nearest;
use super::kinds::{Needs, Profile};
use super::{codes, Board, Cutter, Fastener, Latch, Machine, Shop, Slide, Washer, BUILT_IN};
use crate::diag::{has_stop, Checked, FileId, Finding, Span, Texts};
use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Range;
use toml::de::{DeTable, DeValue};
use toml::Spanned;

/// How many of a file's syntax errors are told: one slip often makes many.
const MOST_SYNTAX: usize = 3;

/// Reads the built-in profiles, then each extra file; a later profile of the same kind and id replaces the earlier.
///
/// A file that is a copy of a built-in one is passed over. A profile that cannot be used is left out (an earlier one of its id stays) and the reasons are stoppers. The shop is always
/// there, with every profile that is in order.
#[must_use]
pub fn load(texts: &Texts, extra: &[FileId]) -> Checked<Shop> {
    let mut loader = Loader::default();
    for (name, text) in BUILT_IN {
        loader.file(None, name, text);
    }
    // A plain copy of a built-in file, as in this program's own source folder, replaces nothing.
    let copy = |id: &&FileId| BUILT_IN.iter().any(|(_, text)| *text == texts.text(**id));
    for id in extra.iter().filter(|id| !copy(id)) {
        loader.file(Some(*id), texts.name(*id), texts.text(*id));
    }
    loader.check_needs();
    Checked::new(loader.shop, loader.findings)
}

/// A name some profile needs, waiting until every file is read.
struct Needed {
    kind: &'static str,
    id: String,
    by: String,
    span: Option<Span>,
}

#[derive(Default)]
struct Loader {
    shop: Shop,
    findings: Vec<Finding>,
    needed: Vec<Needed>,
    /// Kind and id of profiles that were left out, so that nobody is told twice.
    left_out: BTreeSet<(&'static str, String)>,
}

impl Loader {
    fn file(&mut self, id: Option<FileId>, name: &str, text: &str) {
        let file = File { id, name, findings: RefCell::default() };
        let (table, errors) = DeTable::parse_recoverable(text);
        for error in errors.iter().take(MOST_SYNTAX) {
            let at = error.span().unwrap_or(0..0);
            file.add(Finding::stop(codes::SYNTAX, error.message()).at(file.span(at)).remedy("correct the file's TOML"));
        }
        if errors.is_empty() {
            self.tables(&file, table.get_ref());
        }
        let mut found = file.findings.into_inner();
        found.sort_by_key(|finding| finding.span.map(|span| span.start));
        self.findings.extend(found);
    }

    fn tables(&mut self, file: &File<'_>, root: &DeTable<'_>) {
        let sources = sources(file, root);
        // Fasteners and cutters first: the others name them.
        self.kind::<Fastener>(file, root, &sources);
        self.kind::<Cutter>(file, root, &sources);
        self.kind::<Board>(file, root, &sources);
        self.kind::<Machine>(file, root, &sources);
        self.kind::<Slide>(file, root, &sources);
        self.kind::<Latch>(file, root, &sources);
        self.kind::<Washer>(file, root, &sources);
        let known =
            [Board::KIND, Cutter::KIND, Fastener::KIND, Latch::KIND, Machine::KIND, Slide::KIND, Washer::KIND, SOURCES];
        for (key, _) in root.iter().filter(|(key, _)| !known.contains(&key.get_ref().as_ref())) {
            let name = key.get_ref();
            let remedy = match nearest(name, known).first() {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("known here: {}", known.join(", ")),
            };
            file.add(
                Finding::stop(codes::UNKNOWN_KEY, format!("unknown key `{name}`")).at(file.span(key.span())).remedy(remedy),
            );
        }
    }

    fn kind<P: Profile>(&mut self, file: &File<'_>, root: &DeTable<'_>, sources: &Sources) {
        let Some(value) = root.get(P::KIND) else { return };
        let Some(items) = value.get_ref().as_array() else {
            let message = format!("`{0}` must be written as `[[{0}]]`", P::KIND);
            let remedy = format!("write `[[{}]]` above each profile", P::KIND);
            file.add(Finding::stop(codes::WRONG_TYPE, message).at(file.span(value.span())).remedy(remedy));
            return;
        };
        let mut here: BTreeSet<String> = BTreeSet::new();
        for item in items {
            let DeValue::Table(table) = item.get_ref() else {
                let message = format!("each `{}` must be a table", P::KIND);
                let remedy = format!("write `[[{}]]` above each profile", P::KIND);
                file.add(Finding::stop(codes::WRONG_TYPE, message).at(file.span(item.span())).remedy(remedy));
                continue;
            };
            self.profile::<P>(file, table, item.span(), sources, &mut here);
        }
    }

    fn profile<P: Profile>(
        &mut self,
        file: &File<'_>,
        table: &DeTable<'_>,
        at: Range<usize>,
        sources: &Sources,
        here: &mut BTreeSet<String>,
    ) {
        let before = file.findings.borrow().len();
        let what = match table.get("id").and_then(|id| id.get_ref().as_str()) {
            Some(id) => format!("{} `{id}`", P::KIND),
            None => format!("a {} without an id", P::KIND),
        };
        let mut fields = Fields::new(file, table, at.clone(), what.clone());
        let id = fields.text("id").filter(|id| plain_id(&fields, id, P::KIND));
        fields.has("basis");
        let mut needs = Needs::default();
        let read = P::read(id.clone().unwrap_or_default(), &mut fields, &mut needs);
        let keys: Vec<String> = fields.finish().into_iter().filter(|key| key != "id" && key != "name").collect();
        let basis = basis(file, table, &what, (&keys, read.is_some()), sources, &at);
        let Some(id) = id else { return };
        let id_at = table.get("id").map_or(at, Spanned::span);
        if !here.insert(id.clone()) {
            file.add(
                Finding::stop(codes::REPEATED_ID, format!("{what} stands twice in this file"))
                    .at(file.span(id_at.clone()))
                    .remedy("give one of them another id, or take it out"),
            );
        }
        let clean = !has_stop(&file.findings.borrow()[before..]);
        let Some(mut profile) = read.filter(|_| clean) else {
            self.left_out.insert((P::KIND, id));
            return;
        };
        *profile.basis_mut() = basis;
        if P::shelf_mut(&mut self.shop).insert(id, profile).is_some() {
            file.add(
                Finding::note(codes::REPLACES, format!("{what} takes the place of the earlier profile of that id"))
                    .at(file.span(id_at))
                    .remedy("give it another id to keep both"),
            );
        }
        let wanted =
            |kind, reference: Reference| Needed { kind, id: reference.id, by: what.clone(), span: file.span(reference.at) };
        self.needed.extend(needs.fasteners.into_iter().map(|reference| wanted(Fastener::KIND, reference)));
        self.needed.extend(needs.cutters.into_iter().map(|reference| wanted(Cutter::KIND, reference)));
    }

    /// Every name a profile uses must be some profile's.
    fn check_needs(&mut self) {
        for needed in std::mem::take(&mut self.needed) {
            let found = match needed.kind {
                Cutter::KIND => self.shop.cutter(&needed.id).map(drop),
                _ => self.shop.fastener(&needed.id).map(drop),
            };
            let Err(near) = found else { continue };
            if self.left_out.contains(&(needed.kind, needed.id.clone())) {
                continue;
            }
            let remedy = match near.first() {
                Some(name) => format!("did you mean `{name}`?"),
                None => format!("add a `[[{}]]` of that id", needed.kind),
            };
            let message = format!("{}: there is no {} `{}`", needed.by, needed.kind, needed.id);
            self.findings.push(Finding::stop(codes::UNKNOWN_REFERENCE, message).at(needed.span).remedy(remedy));
        }
    }
}

/// Ids stand in file names, so they are plain; a fastener may be called `1/4`.
fn plain_id(fields: &Fields<'_>, id: &str, kind: &str) -> bool {
    let slash = kind == Fastener::KIND || kind == Washer::KIND;
    let good = id.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.') || slash && c == '/');
    if !good {
        fields.clash("id", &format!("the id `{id}` may hold only letters, digits, `-`, `_` and `.`"), "rename it");
    }
    good
}
