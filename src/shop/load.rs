//! From profile files to the shop.

use super::fields::{Fields, File};
use super::find::nearest;
use super::kinds::{Needs, Profile};
use super::{codes, Basis, Board, Cutter, Fastener, Latch, Machine, Shop, Slide, Washer, BUILT_IN};
use crate::diag::{Checked, FileId, Finding, Span, Texts};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use toml::de::{DeTable, DeValue};
use toml::Spanned;

/// What a value without a source says in its stead.
const NO_SOURCE: &str = "no source given";

/// Reads the built-in profiles, then each extra file; a later profile of the same kind and id replaces the earlier.
///
/// A profile that cannot be used is left out (an earlier one of its id stays) and the reasons are stoppers. The shop is always
/// there, with every profile that is in order.
#[must_use]
pub fn load(texts: &Texts, extra: &[FileId]) -> Checked<Shop> {
    let mut loader = Loader::default();
    for (name, text) in BUILT_IN {
        loader.file(None, name, text);
    }
    for id in extra {
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

/// The arrays of one file: what each kind is called and the tables in it.
type Sources = BTreeMap<String, String>;

impl Loader {
    fn file(&mut self, id: Option<FileId>, name: &str, text: &str) {
        let file = File { id, name, findings: RefCell::default() };
        let (table, errors) = DeTable::parse_recoverable(text);
        for error in &errors {
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
        for item in items.iter() {
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
        let basis = basis(file, table, &what, &keys, sources, &at);
        let Some(id) = id else { return };
        let id_at = table.get("id").map_or(at, Spanned::span);
        if !here.insert(id.clone()) {
            file.add(
                Finding::stop(codes::REPEATED_ID, format!("{what} stands twice in this file"))
                    .at(file.span(id_at.clone()))
                    .remedy("give one of them another id, or take it out"),
            );
        }
        let clean = !file.findings.borrow()[before..].iter().any(|f| f.severity == crate::diag::Severity::Stop);
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
        let wanted = |kind, reference: super::fields::Reference| Needed {
            kind,
            id: reference.id,
            by: what.clone(),
            span: file.span(reference.at),
        };
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

/// The table of sources that a file's bases may name by `@`.
const SOURCES: &str = "sources";

fn sources(file: &File<'_>, root: &DeTable<'_>) -> Sources {
    let Some(value) = root.get(SOURCES) else { return Sources::new() };
    let mut all = Sources::new();
    let Some(table) = value.get_ref().as_table() else {
        let finding = Finding::stop(codes::WRONG_TYPE, "`sources` must be a table of texts").at(file.span(value.span()));
        file.add(finding.remedy("write `[sources]`"));
        return all;
    };
    for (key, value) in table {
        match value.get_ref().as_str() {
            Some(text) if !text.trim().is_empty() => {
                all.insert(key.get_ref().to_string(), text.to_owned());
            }
            _ => {
                let message = format!("`sources.{}` must be a text", key.get_ref());
                file.add(
                    Finding::stop(codes::WRONG_TYPE, message).at(file.span(value.span())).remedy("write where it is from"),
                );
            }
        }
    }
    all
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

/// The source of each value: its own, else the `rest` nearest to it.
fn basis(file: &File<'_>, table: &DeTable<'_>, what: &str, keys: &[String], sources: &Sources, at: &Range<usize>) -> Basis {
    let mut given: BTreeMap<String, (String, Range<usize>)> = BTreeMap::new();
    if let Some(value) = table.get("basis") {
        match value.get_ref().as_table() {
            Some(inner) => flatten(file, what, inner, "", sources, &mut given),
            None => file.add(
                Finding::stop(codes::WRONG_TYPE, format!("{what}: `basis` must be a table of texts"))
                    .at(file.span(value.span()))
                    .remedy("write `basis = { rest = \"where it is from\" }`"),
            ),
        }
    }
    for (key, (_, at)) in &given {
        let known = match key.strip_suffix("rest") {
            Some(prefix) if prefix.is_empty() || prefix.ends_with('.') => keys.iter().any(|k| k.starts_with(prefix)),
            _ => keys.contains(key),
        };
        if !known {
            let remedy = match nearest(key, keys.iter().map(String::as_str)).first() {
                Some(name) => format!("did you mean `{name}`?"),
                None => "take it out".to_owned(),
            };
            let message = format!("{what}: `basis.{key}` is about no value of this profile");
            file.add(Finding::stop(codes::UNKNOWN_KEY, message).at(file.span(at.clone())).remedy(remedy));
        }
    }
    let mut all = Basis::new();
    let mut without = Vec::new();
    for key in keys {
        let text = source_of(key, &given).unwrap_or_else(|| {
            without.push(format!("`{key}`"));
            NO_SOURCE.to_owned()
        });
        all.insert(key.clone(), text);
    }
    if !without.is_empty() {
        let message = format!("{what}: no source given for {}", without.join(", "));
        file.add(
            Finding::note(codes::NO_BASIS, message)
                .at(file.span(at.clone()))
                .remedy("add `basis = { rest = \"measured, say\" }`"),
        );
    }
    all
}

fn source_of(key: &str, given: &BTreeMap<String, (String, Range<usize>)>) -> Option<String> {
    if let Some((text, _)) = given.get(key) {
        return Some(text.clone());
    }
    let mut prefix = key;
    while let Some((shorter, _)) = prefix.rsplit_once('.') {
        if let Some((text, _)) = given.get(&format!("{shorter}.rest")) {
            return Some(text.clone());
        }
        prefix = shorter;
    }
    given.get("rest").map(|(text, _)| text.clone())
}

fn flatten(
    file: &File<'_>,
    what: &str,
    table: &DeTable<'_>,
    prefix: &str,
    sources: &Sources,
    given: &mut BTreeMap<String, (String, Range<usize>)>,
) {
    for (key, value) in table {
        let full = format!("{prefix}{}", key.get_ref());
        match value.get_ref() {
            DeValue::Table(inner) => flatten(file, what, inner, &format!("{full}."), sources, given),
            DeValue::String(text) if !text.trim().is_empty() => {
                let text = match text.strip_prefix('@') {
                    Some(name) => match sources.get(name) {
                        Some(text) => text.clone(),
                        None => {
                            let near = nearest(name, sources.keys().map(String::as_str));
                            let remedy = near.first().map_or_else(
                                || "add it to `[sources]`".to_owned(),
                                |near| format!("did you mean `@{near}`?"),
                            );
                            let message =
                                format!("{what}: `basis.{full}` names the source `{name}`, which is not in `[sources]`");
                            file.add(
                                Finding::stop(codes::UNKNOWN_REFERENCE, message).at(file.span(value.span())).remedy(remedy),
                            );
                            continue;
                        }
                    },
                    None => text.to_string(),
                };
                given.insert(full, (text, key.span()));
            }
            _ => file.add(
                Finding::stop(codes::WRONG_TYPE, format!("{what}: `basis.{full}` must be a text"))
                    .at(file.span(value.span()))
                    .remedy("write where the value is from"),
            ),
        }
    }
}
