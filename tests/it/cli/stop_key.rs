//! The key that ends an exhaustive search.

use super::{tree, Bench};
use std::fmt::Write as _;
use std::io::Write as _;
use std::process::Stdio;
use std::time::{Duration, Instant};

/// Six panels of which hardly two go on one sheet: the bound says four sheets, and five is what there is, so the search goes on.
const OPEN: [[u32; 2]; 6] = [[578, 407], [635, 317], [488, 396], [636, 190], [633, 399], [571, 375]];

#[test]
fn a_line_on_standard_input_ends_the_search_and_keeps_the_best() {
    let mut text = "format = 1\ntitle = \"Open\"\nunits = \"mm\"\n[boards.ply]\nprofile = \"birch-ply-12\"\n\
        readings = [11.9, 11.9, 12.0, 11.9]\nstock = [{ length = 1000, width = 700 }]\n[shop]\npart_gap = 0\nsheet_margin = 5\n"
        .to_owned();
    for (i, [l, w]) in OPEN.iter().enumerate() {
        writeln!(text, "[[panel]]\nname = \"p{i}\"\nsize = [{l}, {w}]\nboard = \"ply\"").expect("into a String");
    }
    let bench = Bench::with("open.toml", &text);
    let begun = Instant::now();
    let mut run = bench.command();
    run.args(["make", "open.toml", "--effort", "exhaustive", "--threads", "1", "--out", "pack"]);
    let mut run = run.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("start");
    run.stdin.take().expect("piped").write_all(b"\n").expect("press the key");
    let ended = super::Ended::of(&run.wait_with_output().expect("an end"));
    let ended = ended.expect(0, &["ended by hand", "proved only that 4 are needed", "proved: "]);
    assert!(ended.out.contains("5 sheets"), "{}", ended.out);
    // The whole search is some minutes.
    assert!(begun.elapsed() < Duration::from_secs(100), "{:?}", begun.elapsed());
    bench.run(&["prove", "pack"]).expect(0, &["PASSED"]);
    assert!(tree(&bench.path().join("pack")).contains_key("job.json"));
}
