//! The build book of whole packs: that it holds all of the pack and nothing else, works alone, and reads clearly.

mod html;
mod pages;

use crate::cli::{sample, tree, Bench, DRAWER, PLATE};
use crate::pack::SAMPLES;
use baywright::write::book::{FILES, PAGE, PAPER_A4, PAPER_LETTER};
use html::Element;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// A pack on disk, read.
struct Pack {
    files: BTreeMap<String, Vec<u8>>,
    job: Value,
    page: String,
    elements: Vec<Element>,
}

impl Pack {
    fn of(bench: &Bench) -> Self {
        let files: BTreeMap<String, Vec<u8>> =
            tree(&bench.path().join("pack")).into_iter().filter_map(|(name, bytes)| Some((name, bytes?))).collect();
        let job = serde_json::from_slice(&files["job.json"]).expect("JSON");
        let page = String::from_utf8(files[PAGE].clone()).expect("UTF-8");
        let elements = html::read(&page);
        Self { files, job, page, elements }
    }

    fn sample(name: &str) -> Self {
        let bench = Bench::new();
        bench.run(&["make", &sample(name), "--out", "pack"]).expect(0, &[]);
        Self::of(&bench)
    }

    fn project(text: &str) -> Self {
        let bench = Bench::with("project.toml", text);
        bench.run(&["make", "project.toml", "--out", "pack"]).expect(0, &[]);
        Self::of(&bench)
    }

    fn ids(&self) -> Vec<&str> {
        self.elements.iter().filter_map(|e| e.get("id")).collect()
    }

    fn anchors(&self, kind: &str) -> BTreeSet<&str> {
        self.ids().into_iter().filter(|id| id.starts_with(kind)).collect()
    }

    fn list(&self, key: &str) -> &[Value] {
        self.job[key].as_array().map_or(&[], Vec::as_slice)
    }

    /// The words of a chapter.
    fn chapter(&self, anchor: &str) -> String {
        html::words(html::inside(&self.page, anchor))
    }
}

fn word(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

/// A file's name without folder and ending.
fn stem(file: &str) -> &str {
    let name = file.rsplit('/').next().unwrap_or(file);
    name.rsplit_once('.').map_or(name, |(stem, _)| stem)
}

/// Records of a list, without the first; fields may be quoted.
fn records(bytes: &[u8]) -> Vec<Vec<String>> {
    let text = std::str::from_utf8(bytes).expect("UTF-8");
    let row = |line: &str| {
        let (mut fields, mut quoted) = (vec![String::new()], false);
        for c in line.chars() {
            match c {
                '"' => quoted = !quoted,
                ',' if !quoted => fields.push(String::new()),
                c => fields.last_mut().expect("a field").push(c),
            }
        }
        fields
    };
    text.lines().skip(1).map(row).collect()
}

/// Parts, sheets, screws and files: all of the pack is in the book, and nothing else.
#[test]
fn the_book_holds_all_of_the_pack_and_nothing_else() {
    for name in SAMPLES {
        let pack = Pack::sample(name);
        let parts: BTreeSet<String> =
            pack.list("parts").iter().map(|p| format!("part-{}", stem(word(&p["files"][0])))).collect();
        assert_eq!(pack.anchors("part-"), parts.iter().map(String::as_str).collect(), "{name}: parts");
        let sheets: BTreeSet<String> =
            pack.list("sheets").iter().map(|s| format!("sheet-{}", stem(word(&s["files"][0])))).collect();
        assert_eq!(pack.anchors("sheet-"), sheets.iter().map(String::as_str).collect(), "{name}: sheets");
        let told = pack.chapter("sheets");
        for program in pack.list("programs") {
            assert!(told.contains(word(&program["file"])), "{name}: {}", program["file"]);
        }
        every_copy_has_a_line_and_a_label(name, &pack);
        every_screw(name, &pack);
        every_file(name, &pack);
    }
}

fn every_copy_has_a_line_and_a_label(name: &str, pack: &Pack) {
    let list = pack.chapter("cut-list");
    let copies: u64 = pack.list("parts").iter().filter_map(|p| p["quantity"].as_u64()).sum();
    for part in pack.list("parts") {
        assert!(list.contains(word(&part["id"])) && list.contains(word(&part["name"])), "{name}: {}", part["id"]);
    }
    // A label stands between dashed lines; each names its board in its second line.
    let labels = html::inside(&pack.page, "labels");
    let dashed = html::read(labels).iter().filter(|e| e.get("class") == Some("snip")).count() as u64;
    assert_eq!(dashed, copies * 4, "{name}: four dashed sides a label");
    let drawn = pack.chapter("labels");
    for id in pack.list("parts").iter().map(|p| word(&p["id"])) {
        assert!(drawn.contains(id), "{name}: no label {id}");
    }
}

/// Counts of the hardware list, by name: in the list to buy, by unit, and in the steps of assembly.
fn every_screw(name: &str, pack: &Pack) {
    let mut wanted: BTreeMap<String, u64> = BTreeMap::new();
    for row in records(&pack.files["hardware.csv"]) {
        *wanted.entry(row[0].clone()).or_default() += row[2].parse::<u64>().expect("a count");
    }
    let counted = |anchor: &str, count: usize, piece: usize| {
        let mut found: BTreeMap<String, u64> = BTreeMap::new();
        for cells in html::rows(html::inside(&pack.page, anchor)) {
            let (Some(n), Some(what)) = (cells.get(count), cells.get(piece)) else { continue };
            if let Ok(n) = n.parse::<u64>() {
                *found.entry(what.clone()).or_default() += n;
            }
        }
        found
    };
    let mut bought: BTreeMap<String, u64> = BTreeMap::new();
    let mut placed = bought.clone();
    for cells in html::rows(html::inside(&pack.page, "hardware")) {
        match &cells[..] {
            [n, _, what, _, _] => *bought.entry(what.clone()).or_default() += n.parse::<u64>().unwrap_or_default(),
            [n, what, _] => *placed.entry(what.clone()).or_default() += n.parse::<u64>().unwrap_or_default(),
            _ => {}
        }
    }
    bought.retain(|_, n| *n > 0);
    placed.retain(|_, n| *n > 0);
    assert_eq!(bought, wanted, "{name}: to buy");
    assert_eq!(placed, wanted, "{name}: by unit");
    assert_eq!(counted("assembly", 0, 1), wanted, "{name}: in the steps");
}

fn every_file(name: &str, pack: &Pack) {
    let told: BTreeSet<String> =
        html::rows(html::inside(&pack.page, "files")).into_iter().filter_map(|cells| cells.into_iter().next()).collect();
    let there: BTreeSet<String> = pack.files.keys().cloned().collect();
    assert_eq!(told, there, "{name}: files");
    for file in FILES {
        assert!(pack.files.contains_key(file), "{name}: {file}");
    }
}

/// Nothing is fetched, nothing is run, every link leads somewhere, every id is there once.
#[test]
fn the_page_works_alone() {
    for name in SAMPLES {
        let pack = Pack::sample(name);
        let ids = pack.ids();
        let once: BTreeSet<&str> = ids.iter().copied().collect();
        assert_eq!(once.len(), ids.len(), "{name}: an id stands twice");
        for element in &pack.elements {
            let banned =
                ["script", "link", "img", "iframe", "object", "embed", "audio", "video", "base", "form", "image", "use"];
            assert!(!banned.contains(&element.name.as_str()), "{name}: <{}>", element.name);
            for (key, value) in &element.attributes {
                assert!(!key.starts_with("on") && key != "src" && key != "srcset", "{name}: {key}={value}");
                if key == "href" {
                    match value.strip_prefix('#') {
                        Some(id) => assert!(once.contains(id), "{name}: nothing at #{id}"),
                        None => assert!(pack.files.contains_key(value), "{name}: no file {value}"),
                    }
                }
                let address = value.contains("://");
                assert!(!address || key == "xmlns", "{name}: {key}={value}");
            }
        }
        let style = html::inside_element(&pack.page, "style");
        assert!(!style.contains("url(") && !style.contains("@import"), "{name}: the style sheet fetches something");
    }
}

/// Links lead from the cut list, maps, steps and findings to a part.
#[test]
fn ids_are_links_wherever_they_stand() {
    let pack = Pack::sample("survey-van");
    for chapter in ["cut-list", "hardware", "sheets", "parts", "assembly", "gaps"] {
        let links = html::read(html::inside(&pack.page, chapter));
        let to_parts = links.iter().filter(|e| e.get("href").is_some_and(|h| h.starts_with("#part-"))).count();
        assert!(to_parts > 0 || chapter == "hardware", "{chapter} has no link to a part");
    }
}

/// Every picture says what it shows; words in it neither leave it nor cover each other.
#[test]
fn pictures_speak_and_their_words_keep_apart() {
    for name in SAMPLES {
        let pack = Pack::sample(name);
        let mut seen = 0;
        for picture in html::pictures(&pack.page) {
            seen += 1;
            assert!(picture.label.len() > 8 && picture.role == "img", "{name}: {:?}", picture.label);
            let wrong = picture.clashes();
            assert!(wrong.is_empty(), "{name}: {}: {wrong:?}", picture.label);
        }
        assert!(seen > 3, "{name}: {seen} pictures");
    }
}

/// A panel larger than every sheet, with a notch in its second piece.
const IN_PIECES: &str = r#"
format = 1
title = "Deck"
units = "mm"

[shop]
split = true

[boards.ply]
profile = "birch-ply-12"
readings = [11.9, 11.9, 11.9, 11.9]

[[panel]]
name = "deck"
size = [2600, 400]
board = "ply"
notches = [{ at = [2300, 0], size = [100, 60] }]
"#;

/// The whole panel's running dimensions do not lie on a piece of it.
#[test]
fn a_piece_is_not_drawn_with_the_whole_panels_figures() {
    let pack = Pack::project(IN_PIECES);
    let drawn: Vec<_> = html::pictures(&pack.page).into_iter().filter(|p| p.label.starts_with("Part ")).collect();
    assert_eq!(drawn.len(), 2);
    for picture in drawn {
        assert_eq!(picture.clashes(), Vec::<String>::new(), "{}", picture.label);
    }
    assert_eq!(pack.page.matches("<strong>A piece </strong>of deck").count(), 2);
}

/// The same pack gives the same book, byte for byte.
#[test]
fn the_book_is_the_same_every_time() {
    let (a, b) = (Pack::sample("first-drawer"), Pack::sample("first-drawer"));
    for file in FILES {
        assert!(a.files[file] == b.files[file], "{file}");
    }
}

/// A maker's words stay words, whatever is in them.
#[test]
fn words_of_the_maker_cannot_become_markup() {
    let hostile = r#"</title></style><script>alert(1)</script> & \"x\" 'y'"#;
    let pack = Pack::project(&PLATE.replace("title = \"Plate\"", &format!("title = \"{hostile}\"")));
    assert!(!pack.page.contains("<script"), "a script got in");
    assert_eq!(pack.page.matches("</style>").count(), 1);
    assert!(html::words(&pack.page).contains("<script>alert(1)</script> & \"x\" 'y'"));
}

/// A maker who thinks in inches finds both.
#[test]
fn inches_stand_beside_millimetres() {
    let pack = Pack::sample("field-estate");
    let parts = pack.chapter("parts");
    // A drawer's box pinned to 28 1/2 in: 723.9 mm.
    assert!(parts.contains("723.9") && parts.contains("28 1/2 in"), "both figures of the pinned length");
    assert!(!Pack::sample("survey-van").chapter("cut-list").contains(" in)"), "no inches where nobody asked");
}

/// A stopper that was overridden is told on the first page, with the reason and with what it would have stopped.
#[test]
fn an_overridden_stopper_and_its_reason_stand_on_the_first_page() {
    let tight = DRAWER.replace("{}", "slide = \"side-mount-450\", latch = \"flush-paddle\"")
        + "[bay]\nwidth = { readings = [482], uncertainty = 1 }\n";
    let stopped = Bench::with("project.toml", &tight).run(&["make", "project.toml", "--out", "pack"]);
    assert_eq!(stopped.code, Some(1), "without its override the project has a stopper");
    let pack = Pack::project(&(tight + "[[override]]\nfinding = \"gap-fails\"\nreason = \"the trim gives way\"\n"));
    let first = pack.chapter("first");
    for wanted in ["gap-fails", "the trim gives way", "unit to the bay's right wall"] {
        assert!(first.contains(wanted), "{wanted} in {first}");
    }
}

/// A sawn pack's book has the saw's cuts instead of programs, each with its fence.
#[test]
fn the_book_of_a_sawn_pack_tells_every_cut() {
    let bench = Bench::new();
    bench.run(&["make", &sample("first-drawer"), "--process", "saw", "--out", "pack"]).expect(0, &[]);
    let pack = Pack::of(&bench);
    every_file("first-drawer, sawn", &pack);
    let tables: usize = pack
        .files
        .iter()
        .filter(|(name, _)| name.starts_with("saw/") && name.rsplit_once('.').is_some_and(|(_, ending)| ending == "csv"))
        .map(|(_, bytes)| records(bytes).len())
        .sum();
    let told = html::rows(html::inside(&pack.page, "sheets"))
        .iter()
        .filter(|r| ["rip", "crosscut"].contains(&r[1].as_str()))
        .count();
    assert!(tables > 5 && told == tables, "{told} cuts told of {tables}");
    assert!(!pack.chapter("sheets").contains("spindle"));
}

/// Words are black or nearly so on everything they can lie on, and links tell from paper: WCAG 2.2, 1.4.3 (4.5 to 1) and 1.4.11
/// (3 to 1 for lines).
#[test]
fn words_and_lines_stand_out_from_what_they_lie_on() {
    let pack = Pack::sample("panels-only");
    let style = html::inside_element(&pack.page, "style");
    let luminance = |hex: &str| -> f64 {
        let hex = if hex.len() == 3 { hex.chars().flat_map(|c| [c, c]).collect() } else { hex.to_owned() };
        let channel = |i: usize| {
            let c = f64::from(u8::from_str_radix(&hex[i..i + 2], 16).expect("a colour")) / 255.0;
            if c <= 0.04045 {
                c / 12.92
            } else {
                ((c + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * channel(0) + 0.7152 * channel(2) + 0.0722 * channel(4)
    };
    let ratio = |a: f64, b: f64| (a.max(b) + 0.05) / (a.min(b) + 0.05);
    let colours = |property: &str| -> Vec<f64> {
        let found = style.match_indices(property).map(|(at, word)| &style[at + word.len()..]);
        found.map(|rest| luminance(&rest[..rest.find(|c: char| !c.is_ascii_hexdigit()).expect("an end")])).collect()
    };
    let (black, white) = (0.0, 1.0);
    let fills: Vec<f64> = colours("fill:#").into_iter().filter(|l| *l > 0.0).collect();
    assert!(fills.len() > 8);
    for fill in fills {
        assert!(ratio(black, fill) >= 4.5, "black words on a fill: {:.2}", ratio(black, fill));
    }
    for ink in
        colours(";color:#").into_iter().chain(colours("{color:#")).chain(colours("--soft:#")).chain(colours("--ink:#"))
    {
        assert!(ratio(ink, white) >= 4.5, "words on paper: {:.2}", ratio(ink, white));
    }
    for line in colours("stroke:#").into_iter().chain(colours("--rule:#")) {
        assert!(ratio(line, white) >= 3.0, "a line on paper: {:.2}", ratio(line, white));
    }
}

/// Both papers hold the same leaves; the check lines are exactly 100 mm long in the file's own points.
#[test]
fn check_lines_are_a_hundred_millimetres_in_the_file() {
    for name in ["first-drawer", "survey-van"] {
        let pack = Pack::sample(name);
        let (a4, letter) = (pages::read(&pack.files[PAPER_A4]), pages::read(&pack.files[PAPER_LETTER]));
        assert_eq!(a4.len(), letter.len(), "{name}");
        assert!(!a4.is_empty(), "{name}");
        for (page, size) in a4.iter().map(|p| (p, [210.0, 297.0])).chain(letter.iter().map(|p| (p, [215.9, 279.4]))) {
            for i in 0..2 {
                assert!((page.size[i] - size[i]).abs() < 0.01, "{name}: {:?}", page.size);
                let check = page.lines.iter().filter(|l| (l[i] - 100.0).abs() < 0.1 && l[1 - i] < 0.001).count();
                assert!(check >= 1, "{name}: no check line along axis {i} among {:?}", page.lines);
            }
            assert!(page.farthest <= 0.0, "{name}: something is drawn {} mm beyond the paper", page.farthest);
        }
    }
}
