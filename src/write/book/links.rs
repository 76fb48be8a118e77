//! Ids and where they lead: the same id names a part in the cut list, on the map, on its label, in a step and in a file, and
//! each of them is a link.

use crate::write::{Job, Names};
use maud::{html, Markup};
use std::collections::BTreeMap;

/// Every id of a job and the place in the book that it leads to.
#[derive(Clone, Debug)]
pub(super) struct Links {
    /// By id or file name: the anchor.
    places: BTreeMap<String, String>,
    /// Anchor of each part.
    pub(super) parts: Vec<String>,
    /// Anchor of each sheet.
    pub(super) sheets: Vec<String>,
    /// Short name of each sheet: `carcass-01`.
    pub(super) sheet_names: Vec<String>,
    /// Files of each sheet, programs apart.
    pub(super) sheet_files: Vec<Vec<String>>,
}

impl Links {
    pub(super) fn new(job: &Job, names: &Names, sawn: bool) -> Self {
        let stem = |name: &String| name.rsplit('/').next().unwrap_or_default().to_owned();
        let parts: Vec<String> = names.parts.iter().map(|n| format!("part-{}", stem(n))).collect();
        let sheet_names: Vec<String> = names.sheets.iter().map(stem).collect();
        let sheets: Vec<String> = sheet_names.iter().map(|n| format!("sheet-{n}")).collect();
        let mut places = BTreeMap::new();
        for (part, (anchor, name)) in job.parts.parts.iter().zip(parts.iter().zip(&names.parts)) {
            places.insert(part.id.clone(), anchor.clone());
            for panel in &part.panels {
                places.entry(job.model.panels[panel.0].id.clone()).or_insert_with(|| anchor.clone());
            }
            for ending in ["dxf", "svg"] {
                places.insert(format!("{name}.{ending}"), anchor.clone());
            }
        }
        let sheet_files: Vec<Vec<String>> = names
            .sheets
            .iter()
            .enumerate()
            .map(|(i, name)| {
                if sawn {
                    return ["txt", "csv", "svg"].map(|e| format!("saw/{}.{e}", stem(name))).to_vec();
                }
                let beams = job.beams.iter().zip(&names.beams).filter(|(b, _)| b.sheet == i).map(|(_, n)| n);
                [name].into_iter().chain(beams).flat_map(|n| ["dxf", "svg"].map(|e| format!("{n}.{e}"))).collect()
            })
            .collect();
        for ((anchor, short), files) in sheets.iter().zip(&sheet_names).zip(&sheet_files) {
            places.insert(short.clone(), anchor.clone());
            for file in files {
                places.insert(file.clone(), anchor.clone());
            }
        }
        for (program, name) in job.programs.iter().zip(&names.programs) {
            places.insert(name.clone(), sheets[program.sheet].clone());
        }
        Self { places, parts, sheets, sheet_names, sheet_files }
    }

    /// An id as a link, or as it is when nothing in the book goes by it.
    pub(super) fn id(&self, id: &str) -> Markup {
        if let Some(place) = self.places.get(id) {
            html! { a href={"#" (place)} { (id) } }
        } else {
            html! { (id) }
        }
    }

    /// Where a file is spoken of: the anchor, and what goes by it.
    pub(super) fn to(&self, file: &str) -> Option<(&str, &str)> {
        let anchor = self.places.get(file)?;
        let (_, name) = anchor.split_once('-')?;
        Some((anchor, name))
    }

    /// A sheet's name as a link.
    pub(super) fn sheet(&self, sheet: usize) -> Markup {
        html! { a href={"#" (self.sheets[sheet])} { (self.sheet_names[sheet]) } }
    }

    /// A sentence with every id in it as a link, and what stands between backquotes as it is typed.
    pub(super) fn words(&self, text: &str) -> Markup {
        html! {
            @for (i, piece) in text.split('`').enumerate() {
                @if i % 2 == 1 { code { (piece) } } @else { (self.linked(piece)) }
            }
        }
    }

    fn linked(&self, text: &str) -> Markup {
        let part_of_id = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.' | '/');
        let mut pieces: Vec<(&str, Option<&str>)> = Vec::new();
        let mut rest = text;
        while !rest.is_empty() {
            let start = rest.find(part_of_id).unwrap_or(rest.len());
            if start > 0 {
                pieces.push((&rest[..start], None));
                rest = &rest[start..];
                continue;
            }
            let end = rest.find(|c| !part_of_id(c)).unwrap_or(rest.len());
            let word = rest[..end].trim_end_matches(['.', '/']);
            let end = if word.is_empty() { end } else { word.len() };
            pieces.push((&rest[..end], self.places.get(&rest[..end]).map(String::as_str)));
            rest = &rest[end..];
        }
        html! {
            @for (text, place) in pieces {
                @match place {
                    Some(place) => a href={"#" (place)} { (text) },
                    None => (text),
                }
            }
        }
    }
}
