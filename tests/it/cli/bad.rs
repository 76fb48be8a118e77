//! Bad input: each a finding with its place and what to do, or a message that says the same; the right exit code; nothing written.

use super::{Bench, DRAWER, PLATE};

/// Runs `make` on a project text that must be refused with 1, at a place, with a remedy, leaving nothing behind.
#[track_caller]
fn refused(text: &str, words: &[&str]) {
    let bench = Bench::with("p.toml", text);
    let before = bench.all();
    let ended = bench.run(&["make", "p.toml", "--out", "pack"]).expect(1, words);
    let ended = ended.expect(1, &["stop[", "p.toml:", "remedy: ", "No pack was written to pack"]);
    assert_eq!(bench.all(), before, "{}", ended.err);
    let data = bench.run(&["make", "p.toml", "--out", "pack", "--json"]).expect(1, &[]).json();
    assert!(data["pack"].is_null());
    let stops: Vec<_> = data["findings"].as_array().expect("a list").iter().filter(|f| f["severity"] == "stop").collect();
    assert!(!stops.is_empty());
    for stop in stops {
        assert!(stop["remedy"].as_str().is_some_and(|r| !r.is_empty()), "{stop}");
    }
}

fn plate(from: &str, to: &str) -> String {
    assert!(PLATE.contains(from), "{from}");
    PLATE.replace(from, to)
}

fn drawer(inside: &str) -> String {
    DRAWER.replace("{}", inside)
}

#[test]
fn text_that_is_not_a_project() {
    refused("format = 1\nunits = \"mm\"\n[[panel]\n", &["p.toml:3:"]);
    refused("", &["units", "format"]);
    refused(&plate("units = \"mm\"\n", ""), &["units"]);
    refused(&plate("units = \"mm\"", "units = \"parsec\""), &["parsec", "p.toml:3:"]);
    refused(&plate("format = 1", "format = 99"), &["99", "p.toml:1:"]);
    refused("\u{0}\u{1}\u{2}", &["p.toml:1:"]);
}

#[test]
fn unknown_keys_wrong_types_and_unreadable_lengths_all_in_one_run() {
    let text = plate("size = [300, 200]", "size = [300, \"68,58 cm\"]\nbord = \"ply\"").replace("quantity", "");
    let text = text.replace("for = \"M6\"", "for = 6").replace("title = \"Plate\"", "title = 12");
    refused(&text, &["`bord`", "board", "68,58 cm", "p.toml:2:", "p.toml:9:", "p.toml:10:", "p.toml:12:"]);
    refused(&plate("board = \"ply\"", "board = \"plyy\""), &["plyy", "ply"]);
    refused(&plate("[[panel]]", "[panel]"), &["panel"]);
}

#[test]
fn sizes_that_are_zero_negative_or_absurd() {
    for size in ["[0, 200]", "[-300, 200]", "[3e9, 200]", "[nan, 200]", "[inf, 200]", "[300]", "[300, 200, 18]"] {
        refused(&plate("[300, 200]", size), &["p.toml:9:"]);
    }
    refused(&plate("name = \"plate\"", "name = \"plate\"\nquantity = 0"), &["quantity"]);
    refused(&plate("name = \"plate\"", "name = \"plate\"\nquantity = 2000000000"), &["quantity"]);
    refused(&plate("[11.9, 11.9, 12.0, 11.9]", "[11.9, -3]"), &["p.toml:6:"]);
    refused(&plate("[11.9, 11.9, 12.0, 11.9]", "[119, 119, 119, 119]"), &["p.toml:6:"]);
}

#[test]
fn profiles_the_shop_does_not_have() {
    refused(&plate("birch-ply-12", "birch-ply-13"), &["birch-ply-13", "birch-ply-12"]);
    refused(&drawer("slide = \"side-mount-455\""), &["side-mount-455", "side-mount-450"]);
    refused(&drawer("slide = \"side-mount-450\", latch = \"flush-padle\""), &["flush-padle", "flush-paddle"]);
    refused(&plate("for = \"M6\"", "for = \"M7\""), &["M7"]);
    refused(&format!("{}\n[shop]\nmachine = \"router-of-oz\"\n", plate("title", "title")), &["router-of-oz"]);
}

#[test]
fn drawers_and_hardware_that_do_not_fit() {
    let fits = "slide = \"side-mount-450\"";
    // Wider than its column, higher than its cell, too narrow for any box.
    refused(&drawer(&format!("{fits}, height = 400")), &["height"]);
    refused(&drawer(fits).replace("width = 480", "width = 60"), &[]);
    refused(&drawer(fits).replace("name = \"left\"", "name = \"left\"\nwidth = 700"), &["700"]);
    // A slide longer than the box and than the carcass it runs in.
    refused(&drawer("slide = \"side-mount-700\""), &["700"]);
    // A latch larger than its front.
    let low = drawer(&format!("{fits}, latch = \"flush-paddle\"")).replace("height = 200", "height = 95");
    refused(&low, &["latch"]);
}

#[test]
fn panels_and_cuts_that_cannot_be_made() {
    refused(&plate("[300, 200]", "[5000, 200]"), &["sheet"]);
    let notch = "size = [300, 200]\nnotches = [{ at = [100, 0], size = [2, 30] }]";
    refused(&plate("size = [300, 200]", notch), &["cutter"]);
    refused(&plate("at = [40, 40]", "at = [400, 40]"), &["outline"]);
    refused(&plate("for = \"M6\"", "diameter = 0"), &["p.toml:11:"]);
    let crossed = "size = [300, 200]\noutline = [[0, 0], [300, 200], [300, 0], [0, 200]]";
    refused(&plate("size = [300, 200]", crossed), &["p.toml:10:"]);
}

/// A judgement of any stage can be overridden, and says so in the pack; what cannot be cut stays a stopper, so that nothing is
/// left out of a pack.
#[test]
fn only_a_judgement_can_be_overridden() {
    let over = |code: &str| format!("[[override]]\nfinding = \"{code}\"\nreason = \"no load\"\n");
    // 1.7 mm of wood between the hole for M6 (6.6 mm, ISO 273) and the edge.
    let thin = plate("at = [40, 40]", "at = [5, 40]");
    refused(&thin, &["web-too-thin"]);
    let bench = Bench::with("p.toml", &(thin + &over("web-too-thin")));
    bench.run(&["make", "p.toml", "--out", "pack"]).expect(0, &["web-too-thin", "(overridden: no load)"]);
    let book = std::fs::read_to_string(bench.path().join("pack/book.html")).expect("the book");
    assert!(book.contains("web-too-thin") && book.contains("no load"));
    let off = plate("at = [40, 40]", "at = [400, 40]") + &over("cut-outside-panel");
    refused(&off, &["cut-outside-panel", "caution[override-in-vain]"]);
}

#[test]
fn files_that_cannot_be_read() {
    let bench = Bench::new();
    bench.write("folder.toml/inside.txt", "");
    std::fs::write(bench.path().join("latin.toml"), b"title = \"\xe9\"\n").expect("write");
    for command in ["check", "make", "why"] {
        bench.run(&[command, "missing.toml"]).expect(2, &["missing.toml", "do: "]);
        bench.run(&[command, "folder.toml"]).expect(2, &["folder.toml is a folder", "do: "]);
        bench.run(&[command, "latin.toml"]).expect(2, &["latin.toml", "UTF-8"]);
        bench.run(&[command, "/proc/self/mem-that-is-not"]).expect(2, &["do: "]);
        bench.run(&[command, ""]).expect(2, &["a value is required"]);
    }
    let told = bench.run(&["check", "missing.toml", "--json"]).expect(2, &[]);
    let data: serde_json::Value = serde_json::from_str(&told.err).expect("JSON");
    assert!(data["trouble"].as_str().is_some_and(|t| t.contains("missing.toml")));
}

#[test]
fn files_based_on_each_other_in_a_circle() {
    let bench = Bench::with("a.toml", "format = 1\nbased_on = \"sub/b.toml\"\n");
    bench.write("sub/b.toml", "format = 1\nbased_on = \"../a.toml\"\n");
    bench.write("self.toml", "format = 1\nbased_on = \"self.toml\"\n");
    bench.write("lost.toml", "format = 1\nbased_on = \"gone.toml\"\n");
    let before = bench.all();
    bench.run(&["make", "a.toml"]).expect(2, &["a.toml", "b.toml", "circle", "do: "]);
    bench.run(&["make", "self.toml"]).expect(2, &["self.toml", "circle"]);
    bench.run(&["make", "lost.toml"]).expect(2, &["gone.toml", "lost.toml", "do: "]);
    assert_eq!(bench.all(), before);
}

#[test]
fn a_project_in_another_folder_is_based_on_its_own_neighbours() {
    let bench = Bench::with("van/base.toml", PLATE);
    bench.write("van/long/mine.toml", "format = 1\nunits = \"mm\"\nbased_on = \"../base.toml\"\ntitle = \"Mine\"\n");
    bench.write("top.toml", "format = 1\nunits = \"mm\"\nbased_on = \"van/long/mine.toml\"\n");
    bench.run(&["check", "top.toml"]).expect(0, &["1 panel"]);
}

#[test]
fn packs_that_are_none() {
    let bench = Bench::with("empty/readme.txt", "");
    bench.write("file", "");
    bench.write("odd/job.json", "{ \"version\": 1");
    bench.run(&["prove", "missing"]).expect(2, &["missing", "do: "]);
    bench.run(&["prove", "file"]).expect(2, &["file", "do: "]);
    bench.run(&["prove", "empty"]).expect(1, &["FAILED", "job.json"]);
    bench.run(&["prove", "odd"]).expect(1, &["FAILED"]);
    let data = bench.run(&["prove", "odd", "--json"]).expect(1, &[]).json();
    assert_eq!(data["passed"], false);
}
