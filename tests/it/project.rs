//! Reading project files: every problem in one run, each at its line and column.

use baywright::diag::{render, Checked, FileId, Finding, Severity, Texts};
use baywright::project::{based_on, codes, read, starter, Choice, HoleSize, Project, StarterAnswers};
use baywright::units::{Mm, Unit};
use proptest::prelude::{prop, prop_assert, proptest, ProptestConfig};

/// A project that uses every key the file knows.
pub(crate) const EVERY_KEY: &str = include_str!("data/every-key.toml");

fn load(text: &str) -> (Texts, Checked<Project>) {
    let mut texts = Texts::default();
    let file = texts.add("van.toml", text);
    let project = read(&texts, &[file]);
    (texts, project)
}

/// Code, line and column of each finding.
fn places(texts: &Texts, findings: &[Finding]) -> Vec<(String, usize, usize)> {
    findings
        .iter()
        .map(|f| {
            let place = texts.place(f.span.expect("every finding of the reader has a place"));
            (f.code.id.to_owned(), place.line, place.column)
        })
        .collect()
}

fn with(from: &str, to: &str) -> String {
    assert!(EVERY_KEY.contains(from), "the sample has no {from:?}");
    EVERY_KEY.replacen(from, to, 1)
}

fn one(text: &str) -> Finding {
    let (texts, checked) = load(text);
    assert_eq!(checked.findings.len(), 1, "{}", render::text(&checked.findings, &texts, false));
    checked.findings[0].clone()
}

#[test]
fn a_file_with_every_key_reads_without_a_finding() {
    let (texts, checked) = load(EVERY_KEY);
    assert!(checked.findings.is_empty(), "{}", render::text(&checked.findings, &texts, false));
    let project = checked.value.unwrap();
    assert_eq!(project.title.unwrap().value, "River-survey van, rear unit");
    let bay = project.bay.unwrap();
    assert_eq!(
        bay.width.unwrap().readings.iter().map(|r| r.value).collect::<Vec<_>>(),
        [Mm(1184.0), Mm(1182.0), Mm(1186.0)]
    );
    assert_eq!(bay.depth.unwrap().readings.len(), 2);
    assert_eq!(bay.height.unwrap().readings.len(), 1);
    assert_eq!(bay.door[1].value, [Mm(250.0), Mm(30.0)]);
    assert_eq!(bay.anchors[0].rating_n, None);
    assert_eq!(bay.anchors[1].rating_n.as_ref().unwrap().value, 4000.0);
    assert_eq!(project.carcasses.len(), 2);
    let lower = &project.carcasses[0];
    assert!((lower.width.outside.as_ref().unwrap().value - Mm(36.25 * 25.4)).abs().0 < 1e-9);
    assert!(matches!(&lower.top, Choice::Given(top) if top.front.as_ref().unwrap().value == Mm(40.0)));
    let drawer = lower.columns[0].cells[0].drawer.as_ref().unwrap();
    assert_eq!(drawer.reveal.top.as_ref().unwrap().value, Mm(3.0));
    let second = lower.columns[1].cells[1].drawer.as_ref().unwrap();
    assert_eq!(second.reveal.left, second.reveal.bottom);
    assert!((project.pull_outs[0].keep_under_cover.as_ref().unwrap().value - 1.0 / 3.0).abs() < 1e-12);
    let baywright::project::CutShape::Hole { size, .. } = &project.panels[0].cuts[0].shape else { panic!("a hole") };
    assert!(matches!(size, HoleSize::For(id) if id.value == "M6"));
    assert_eq!(project.pins[0].name.value, "lower.left drawer front width");
}

/// Each code of this stage: the sample has no finding, the sample with one change has this one, at this place.
#[test]
fn every_code_has_a_failing_and_a_passing_case() {
    let cases = [
        (codes::FILE_SYNTAX, with("title  = ", "title  "), "title  \"R", 8),
        (codes::FORMAT_UNKNOWN, with("format = 1", "format = 2"), "format = 2", 10),
        (codes::UNIT_NOT_DECLARED, with("units  = \"mm\"\n", ""), "format", 1),
        (codes::UNKNOWN_KEY, with("setback = 0", "set_back = 0"), "set_back", 1),
        (codes::WRONG_TYPE, with("quantity = 2\n", "quantity = \"two\"\n"), "\"two\"", 1),
        (codes::UNREADABLE_LENGTH, with("\"36 1/4 in\"", "\"68,58 cm\""), "\"68,58 cm\"", 1),
        (codes::MISSING_KEY, with("slide = \"side-mount-700\", ", ""), "{ latch = \"flush-paddle\", front", 1),
        (codes::KEYS_CLASH, with("on = \"lower\"\nshift", "at = [0, 0, 0]\non = \"lower\"\nshift"), "[0, 0, 0]\non", 1),
        (codes::UNKNOWN_WORD, with("joint = \"dado\"", "joint = \"dadoo\""), "\"dadoo\"", 1),
        (codes::NUMBER_OUT_OF_RANGE, with("mass = 11", "mass = -11"), "-11", 1),
        (codes::BASE_MISSING, with("units  =", "based_on = \"gone.toml\"\nunits  ="), "\"gone.toml\"", 1),
        (codes::DUPLICATE_NAME, with("name = \"upper\"", "name = \"lower\""), "\"lower\"\non", 1),
    ];
    // A drawing is read after the file that names it: `fit::traced` has that code's cases; the codes of a list of offcuts have
    // theirs with the program on the disk.
    let elsewhere = [codes::DRAWING_UNFIT, codes::OFFCUTS_UNREADABLE, codes::OFFCUTS_EMPTY];
    for code in codes::ALL.iter().filter(|code| !elsewhere.contains(code)) {
        assert!(cases.iter().any(|(covered, ..)| covered == code), "{} has no case", code.id);
    }
    for (code, text, at, offset) in &cases {
        let (texts, checked) = load(text);
        let stop = checked.findings.iter().find(|f| f.code == *code);
        let stop = stop.unwrap_or_else(|| panic!("{}: {}", code.id, render::text(&checked.findings, &texts, false)));
        assert_eq!(stop.severity, Severity::Stop);
        assert!(!stop.remedy.is_empty(), "{}", code.id);
        let wanted = text.find(at).unwrap_or_else(|| panic!("no {at:?}")) + offset - 1;
        assert_eq!(stop.span.unwrap().start, wanted, "{}: {}", code.id, render::text(&checked.findings, &texts, false));
        // One slip, one finding.
        assert_eq!(checked.findings.len(), 1, "{}: {}", code.id, render::text(&checked.findings, &texts, false));
    }
}

/// Where every value of a file stands, inner ones too.
fn values(value: &toml::Spanned<toml::de::DeValue<'_>>, all: &mut Vec<std::ops::Range<usize>>) {
    all.push(value.span());
    match value.get_ref() {
        toml::de::DeValue::Table(table) => table.values().for_each(|inner| values(inner, all)),
        toml::de::DeValue::Array(items) => items.iter().for_each(|inner| values(inner, all)),
        _ => {}
    }
}

/// Each value of the sample, made one of no type it could have: one finding, there, and none about what stands beside it.
#[test]
fn a_value_of_the_wrong_type_hides_nothing_else() {
    let file = toml::de::DeTable::parse(EVERY_KEY).expect("TOML");
    let mut all = Vec::new();
    file.get_ref().values().for_each(|value| values(value, &mut all));
    // A table under a header has no value to take out.
    all.retain(|at| !EVERY_KEY[at.clone()].starts_with('[') || !EVERY_KEY[..at.start].trim_end_matches(' ').ends_with('\n'));
    let mut wrong = Vec::new();
    for at in &all {
        let text = format!("{}1979-05-27{}", &EVERY_KEY[..at.start], &EVERY_KEY[at.end..]);
        let (texts, checked) = load(&text);
        let starts: Vec<usize> = checked.findings.iter().map(|f| f.span.unwrap().start).collect();
        if starts != [at.start] {
            wrong.push(format!("{}: {}", &EVERY_KEY[at.clone()], render::text(&checked.findings, &texts, false)));
        }
    }
    assert!(all.len() > 400, "{}", all.len());
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), all.len(), wrong.join("\n"));
}

#[test]
fn several_problems_come_out_in_one_run_each_at_its_place() {
    let text =
        "format = 1\nunits = \"mm\"\ntitel = \"x\"\n\n[bay]\nwidth = \"118,4 cm\"\nheight = [900, \"9 furlongs\"]\n\n\
                [[carcass]]\nname = \"lower\"\nwidth = true\nboard = 15\njoint = \"fingers\"\nat = [0, 0]\n";
    let (texts, checked) = load(text);
    let mut found = places(&texts, &checked.findings);
    found.sort_by_key(|(_, line, column)| (*line, *column));
    let wanted: Vec<(String, usize, usize)> = [
        ("unknown-key", 3, 1),
        ("unreadable-length", 6, 9),
        ("unreadable-length", 7, 16),
        ("wrong-type", 11, 9),
        ("wrong-type", 12, 9),
        ("unknown-word", 13, 9),
        ("wrong-type", 14, 6),
    ]
    .map(|(code, line, column)| (code.to_owned(), line, column))
    .into();
    assert_eq!(found, wanted);
    assert!(checked.value.is_some(), "the rest is still worth settling");
    let printed = render::text(&checked.findings, &texts, false);
    assert!(printed.contains("van.toml:13:9") && printed.contains("did you mean `finger`?"), "{printed}");
    assert!(printed.contains("did you mean `title`?") && printed.contains("write a dot"), "{printed}");
}

#[test]
fn a_file_without_a_unit_gives_no_project_but_still_its_other_problems() {
    let (texts, checked) = load("format = 1\nbays = 3\n");
    assert!(checked.value.is_none());
    let found = places(&texts, &checked.findings);
    assert_eq!(found, [("unit-not-declared".into(), 1, 1), ("unknown-key".into(), 2, 1)]);
    assert!(read(&texts, &[]).value.is_none());
    assert!(load("").1.value.is_none());
}

#[test]
fn numbers_that_are_none_are_refused() {
    for (value, code) in [
        ("nan", codes::NUMBER_OUT_OF_RANGE),
        ("inf", codes::NUMBER_OUT_OF_RANGE),
        ("1e400", codes::NUMBER_OUT_OF_RANGE),
        ("99999999999999999999999", codes::NUMBER_OUT_OF_RANGE),
        ("\"nan\"", codes::UNREADABLE_LENGTH),
        ("\"\"", codes::UNREADABLE_LENGTH),
        ("2020-01-01", codes::WRONG_TYPE),
        ("[1, 2]", codes::WRONG_TYPE),
        ("{ a = 1 }", codes::WRONG_TYPE),
    ] {
        assert_eq!(one(&with("setback = 0", &format!("setback = {value}"))).code, code, "{value}");
    }
    for share in ["1", "-0.1", "\"1/0\"", "\"4/3\"", "\"a third\""] {
        let text = with("keep_under_cover = \"1/3\"", &format!("keep_under_cover = {share}"));
        assert_eq!(one(&text).code, codes::NUMBER_OUT_OF_RANGE, "{share}");
    }
    for quantity in ["0", "1.5", "-1", "1e9"] {
        let text = with("quantity = 2\n", &format!("quantity = {quantity}\n"));
        assert_eq!(one(&text).code, codes::NUMBER_OUT_OF_RANGE, "{quantity}");
    }
}

#[test]
fn a_bare_figure_is_in_the_file_s_unit_and_a_text_in_its_own() {
    let text =
        "format = 1\nunits = \"in\"\n[[lip]]\non = \"lower\"\nheight = 0.75\n[[lip]]\non = \"lower\"\nheight = \"18 mm\"\n";
    let project = load(text).1.value.unwrap();
    assert!((project.lips[0].height.as_ref().unwrap().value.0 - 19.05).abs() < 1e-9);
    assert_eq!(project.lips[1].height.as_ref().unwrap().value, Mm(18.0));
}

fn load_on(base: &str, later: &str) -> (Texts, Checked<Project>) {
    let mut texts = Texts::default();
    let main = texts.add("other.toml", later);
    assert_eq!(based_on(&texts, main).as_deref(), Some("van.toml"));
    let under = texts.add("van.toml", base);
    assert_eq!(based_on(&texts, under), None);
    let project = read(&texts, &[main, under]);
    (texts, project)
}

#[test]
fn a_file_based_on_another_overrides_by_key_and_by_name() {
    let later = "format = 1\nunits = \"in\"\nbased_on = \"van.toml\"\ntitle = \"Second van\"\n\n[bay]\nwidth = 45\n\n\
                 [[carcass]]\nname = \"lower\"\nclear_width = 34\n  [[carcass.column]]\n  name = \"left\"\n  width = 16\n\n\
                 [[carcass]]\nname = \"third\"\nboard = \"front\"\non = \"upper\"\nheight = 9\n";
    let (texts, checked) = load_on(EVERY_KEY, later);
    assert!(checked.findings.is_empty(), "{}", render::text(&checked.findings, &texts, false));
    let project = checked.value.unwrap();
    assert_eq!(project.title.unwrap().value, "Second van");
    let bay = project.bay.unwrap();
    assert!((bay.width.unwrap().readings[0].value.0 - 45.0 * 25.4).abs() < 1e-9);
    assert_eq!(bay.depth.unwrap().readings[0].value, Mm(1322.0), "the base keeps its own unit");
    let names: Vec<&str> = project.carcasses.iter().map(|c| c.name.value.as_str()).collect();
    assert_eq!(names, ["lower", "upper", "third"]);
    let lower = &project.carcasses[0];
    assert!(lower.width.outside.is_none(), "the clear width puts the base's outside width out of force");
    assert!((lower.width.clear.as_ref().unwrap().value.0 - 34.0 * 25.4).abs() < 1e-9);
    assert_eq!(lower.columns.len(), 2);
    assert!(lower.columns[0].cells[0].drawer.is_some(), "the column keeps its cells");
    assert!((lower.columns[0].width.as_ref().unwrap().value.0 - 16.0 * 25.4).abs() < 1e-9);
    assert_eq!(lower.board.as_ref().unwrap().value, "carcass");
    assert_eq!(lower.board.as_ref().unwrap().span.file, FileId(1));
}

#[test]
fn another_profile_drops_the_readings_of_the_first_and_an_empty_list_clears() {
    let later = "format = 1\nunits = \"mm\"\nbased_on = \"van.toml\"\npull_out = []\n\
                 [boards.carcass]\nprofile = \"birch-ply-18\"\n[boards.front]\nreadings = [12.1, 12.1, 12.2, 12.1]\n\
                 [[carcass]]\nname = \"upper\"\nat = [0, 0, 400]\nanchors = []\n";
    let (texts, checked) = load_on(EVERY_KEY, later);
    assert!(checked.findings.is_empty(), "{}", render::text(&checked.findings, &texts, false));
    let project = checked.value.unwrap();
    let board = |name: &str| project.boards.iter().find(|b| b.name.value == name).unwrap();
    assert!(board("carcass").readings.is_empty());
    assert_eq!(board("carcass").stock.len(), 2);
    assert_eq!(board("front").profile.as_ref().unwrap().value, "birch-ply-12");
    assert_eq!(board("front").readings[2].value, Mm(12.2));
    assert!(project.pull_outs.is_empty());
    let upper = &project.carcasses[1];
    assert!(upper.at.is_some() && upper.on.is_none() && upper.shift.is_none());
}

#[test]
fn a_problem_in_either_file_is_shown_in_that_file() {
    let later = "format = 1\nunits = \"mm\"\nbased_on = \"van.toml\"\n[bay]\nwidht = 3\n";
    let base = "format = 1\nunits = \"mm\"\n[bay]\ndepth = \"1 fathom\"\n";
    let (texts, checked) = load_on(base, later);
    let mut lines: Vec<(String, usize)> =
        checked.findings.iter().map(|f| texts.place(f.span.unwrap())).map(|p| (p.file, p.line)).collect();
    lines.sort();
    assert_eq!(lines, [("other.toml".to_owned(), 5), ("van.toml".to_owned(), 4)]);
    // The same name twice in the later file is a slip, not an override.
    let twice =
        "format = 1\nunits = \"mm\"\nbased_on = \"van.toml\"\n[[stow]]\nname = \"box\"\nsize = [1, 1, 1]\nmass = 1\n\
                 [[stow]]\nname = \"box\"\nsize = [1, 1, 1]\nmass = 1\n";
    let (_, checked) = load_on(twice.replace("based_on = \"van.toml\"\n", "").as_str(), twice);
    assert_eq!(checked.findings.iter().map(|f| f.code).collect::<Vec<_>>(), [codes::DUPLICATE_NAME]);
}

#[test]
fn nesting_without_end_is_refused() {
    for text in [
        format!("format = 1\nunits = \"mm\"\na = {}", "[".repeat(100_000)),
        format!("format = 1\nunits = \"mm\"\na = {}{}", "[".repeat(100_000), "]".repeat(100_000)),
        format!("format = 1\nunits = \"mm\"\n{}a = 1\n", "a.".repeat(100_000)),
        format!("format = 1\nunits = \"mm\"\n[{}a]\n", "a.".repeat(100_000)),
        format!("format = 1\nunits = \"mm\"\na = {}", "{a=".repeat(100_000)),
    ] {
        let (texts, checked) = load(&text);
        assert!(checked.value.is_none());
        assert!(checked.findings.iter().any(|f| f.code == codes::FILE_SYNTAX), "{}", texts.name(FileId(0)));
    }
}

#[test]
fn line_ends_and_marks_of_other_systems_do_no_harm() {
    let (texts, checked) = load(&EVERY_KEY.replace('\n', "\r\n"));
    assert!(checked.findings.is_empty(), "{}", render::text(&checked.findings, &texts, false));
    let (texts, checked) = load(&format!("\u{feff}{EVERY_KEY}"));
    assert!(checked.findings.is_empty(), "{}", render::text(&checked.findings, &texts, false));
    let (texts, checked) = load("\u{feff}format = 1\r\nunits = \"mm\"\r\ntitel = \"é\"\r\n");
    assert_eq!(places(&texts, &checked.findings), [("unknown-key".to_owned(), 3, 1)]);
}

#[test]
fn off_switches_and_short_forms() {
    let text = "format = 1\nunits = \"mm\"\n[bay]\nwidth = 1180\n[[carcass]]\nname = \"a\"\nboard = \"b\"\nbase = false\ntop = false\n\
                back = false\n[[carcass.column]]\nname = \"c\"\ncell = [{ shelf = true }, { shelf = false, drawer = false }]\n";
    let (texts, checked) = load(text);
    assert!(checked.findings.is_empty(), "{}", render::text(&checked.findings, &texts, false));
    let project = checked.value.unwrap();
    let carcass = &project.carcasses[0];
    assert!(matches!((&carcass.base, &carcass.top, &carcass.back), (Choice::Off, Choice::Off, Choice::Off)));
    assert_eq!(carcass.columns[0].cells[0].shelf.as_ref().unwrap().value, None);
    assert!(carcass.columns[0].cells[1].shelf.is_none());
}

fn answers(units: Unit, drawers: u32, bay: bool) -> StarterAnswers {
    StarterAnswers {
        title: "A \"quoted\" \\ title\nwith two lines".to_owned(),
        units,
        bay: bay.then_some([Mm(1184.0), Mm(1322.0), Mm(905.0)]),
        carcass: [Mm(920.0), Mm(1000.0), Mm(232.0)],
        drawers,
    }
}

#[test]
fn a_starter_reads_without_a_finding_and_holds_the_answers() {
    for units in [Unit::Mm, Unit::Inch] {
        for drawers in 0..9 {
            let asked = answers(units, drawers, drawers % 2 == 0);
            let text = starter(&asked);
            let (texts, checked) = load(&text);
            assert!(checked.findings.is_empty(), "{}\n{text}", render::text(&checked.findings, &texts, false));
            let project = checked.value.unwrap();
            assert_eq!(project.title.unwrap().value, asked.title);
            assert_eq!(project.units, units);
            let cells = project.carcasses[0].columns.iter().flat_map(|c| &c.cells);
            assert_eq!(cells.filter(|c| c.drawer.is_some()).count() as u32, drawers);
            let width = project.carcasses[0].width.outside.as_ref().unwrap().value;
            assert!((width - Mm(920.0)).abs() < Mm(0.8), "{width:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 300, ..ProptestConfig::default() })]

    /// Bytes cut out, doubled or replaced anywhere: findings or a project, never a panic, and every span inside its text.
    #[test]
    fn no_mutation_of_a_project_makes_the_reader_fall_over(
        edits in prop::collection::vec((0.0..1.0_f64, 0_usize..40, prop::sample::select(vec![
            "", "\"", "[", "]", "{", "}", "=", "\n", "-", "0", "1e999", "nan", "é", "\u{0}", "'", ",", ".", "[[carcass]]\n", "name", "true", "  ",
        ])), 1..6),
    ) {
        let mut text = EVERY_KEY.to_owned();
        for (place, length, insert) in edits {
            let boundary = |mut at: usize| { while !text.is_char_boundary(at) { at -= 1; } at };
            let start = boundary((place * text.len() as f64) as usize);
            let end = boundary((start + length).min(text.len()));
            text.replace_range(start..end.max(start), insert);
        }
        let (texts, checked) = load(&text);
        prop_assert!(checked.value.is_some() || !checked.findings.is_empty());
        for finding in &checked.findings {
            let span = finding.span.expect("has a place");
            prop_assert!(span.start <= span.end && span.end <= text.len());
        }
        let _ = render::text(&checked.findings, &texts, false);
    }
}
