//! A spoiled part once more, and an earlier pack's offcuts as stock.

use super::{sample, tree, Bench, PLATE};

const FRONT: &str = "box left drawer front";

#[test]
fn a_spoiled_part_is_made_alone_on_a_stated_offcut() {
    let bench = Bench::new();
    let project = sample("first-drawer");
    for process in ["machine", "saw"] {
        let pack = format!("again-{process}");
        let args = ["make", &project, "--only", FRONT, "--from", "700x300", "--process", process, "--out", &pack];
        bench.run(&args).expect(0, &["1 different part, 1 in all", "1 sheet of 700 x 300 mm", "proved: "]);
        bench.run(&["prove", &pack]).expect(0, &["PASSED"]);
        let files = tree(&bench.path().join(&pack));
        assert_eq!(files.keys().filter(|n| n.starts_with("parts/")).count(), 2);
        assert!(!files.keys().any(|n| n.starts_with("coupon")));
        let job: serde_json::Value = serde_json::from_slice(files["job.json"].as_ref().expect("a file")).expect("JSON");
        assert_eq!(job["parts"].as_array().map(Vec::len), Some(1));
        assert_eq!(job["sheets"][0]["length_mm"], 700);
        assert_eq!(job["hardware"].as_array().map(Vec::len), Some(0));
    }
    // By id, two of one kind, without an offcut on the board's own sheets.
    let args = ["make", &project, "--only", "BL-1-006", "--only", "bl-1-003", "--out", "two"];
    bench.run(&args).expect(0, &["2 different parts, 2 in all", "2500 x 1250"]);
}

#[test]
fn what_cannot_be_made_again_is_said() {
    let bench = Bench::new();
    let project = sample("first-drawer");
    let before = bench.all();
    let make = |rest: &[&str]| bench.run(&[&["make", project.as_str(), "--out", "pack"], rest].concat());
    make(&["--only", "no such part"]).expect(2, &["no such part", "do: "]);
    make(&["--only", FRONT, "--from", "700"]).expect(2, &["700", "800x600"]);
    make(&["--only", FRONT, "--from", "0x300"]).expect(2, &["above zero"]);
    make(&["--only", FRONT, "--from", "700xwide"]).expect(2, &["wide"]);
    make(&["--only", FRONT, "--only", FRONT]).expect(2, &["2 times"]);
    make(&["--from", "700x300"]).expect(2, &["--only"]);
    make(&["--only", FRONT, "--from", "400x100"]).expect(1, &["stop[part-over-sheet]", "No pack"]);
    assert_eq!(bench.all(), before);
}

#[test]
fn the_offcuts_of_one_pack_are_the_first_stock_of_the_next() {
    let bench = Bench::with("first.toml", PLATE);
    bench.run(&["make", "first.toml", "--out", "pack"]).expect(0, &["keep "]);
    let list = std::fs::read_to_string(bench.path().join("pack/offcuts.csv")).expect("read");
    let row = list.lines().nth(1).expect("a piece is kept").to_owned();
    let next =
        PLATE.replace("[[panel]]", "offcuts = \"../pack/offcuts.csv\"\n[[panel]]").replace("[300, 200]", "[500, 400]");
    bench.write("next/next.toml", &next);
    let length = row.split(',').nth(7).expect("a length").to_owned();
    bench.run(&["make", "next/next.toml", "--out", "again"]).expect(0, &[&format!("1 sheet of {length} x ")]);
    // The smallest piece that serves goes first, a piece of another board never.
    let small = "small,ply,birch-ply-12,11.9,1,0,0,600,500,0.3\r\nother,thin,birch-ply-9,9,1,0,0,510,420,0.2\r\n";
    bench.write("pack/offcuts.csv", &format!("{list}{small}"));
    bench.run(&["make", "next/next.toml", "--out", "smaller"]).expect(0, &["1 sheet of 600 x 500 mm"]);
    // A list that is none, that is not there, or that holds nothing for the board.
    bench.write("pack/offcuts.csv", "profile,length_mm\r\nbirch-ply-12,400\r\n");
    bench.run(&["make", "next/next.toml", "--out", "no"]).expect(1, &["offcuts-unreadable", "width_mm", "offcuts.csv:1"]);
    bench.write("pack/offcuts.csv", "profile,length_mm,width_mm\r\nbirch-ply-12,400,-3\r\n");
    bench.run(&["make", "next/next.toml", "--out", "no"]).expect(1, &["offcuts-unreadable", "offcuts.csv:2"]);
    bench.write("pack/offcuts.csv", "profile,length_mm,width_mm\r\nbirch-ply-9,400,300\r\n");
    bench.run(&["make", "next/next.toml", "--out", "whole"]).expect(0, &["note[offcuts-empty]", "2500 x 1250"]);
    std::fs::remove_file(bench.path().join("pack/offcuts.csv")).expect("remove");
    bench.run(&["make", "next/next.toml", "--out", "no"]).expect(2, &["offcuts.csv", "do: "]);
}

#[test]
fn an_offcut_that_is_not_there_is_seen_by_the_proof() {
    let bench = Bench::with("first.toml", PLATE);
    bench.run(&["make", "first.toml", "--out", "pack"]).expect(0, &[]);
    let path = bench.path().join("pack/offcuts.csv");
    let list = std::fs::read_to_string(&path).expect("read");
    let spoilt = |from: &str, to: &str| {
        assert!(list.contains(from), "{list}");
        std::fs::write(&path, list.replacen(from, to, 1)).expect("write");
        bench.run(&["prove", "pack"]).expect(1, &["FAILED", "offcut-wrong"]);
    };
    let row: Vec<String> = list.lines().nth(1).expect("a row").split(',').map(str::to_owned).collect();
    let moved = |x: &str, y: &str| [&row[..5], &[x.to_owned(), y.to_owned()], &row[7..]].concat().join(",");
    spoilt(&row.join(","), &moved("0", "0"));
    spoilt(&row.join(","), &moved("2400", &row[6]));
    spoilt(",ply,", ",plywood,");
    std::fs::write(&path, format!("{list}{}\r\n", row.join(","))).expect("write");
    bench.run(&["prove", "pack"]).expect(1, &["listed twice"]);
    std::fs::write(&path, "id\r\nx\r\n").expect("write");
    bench.run(&["prove", "pack"]).expect(1, &["file-unreadable"]);
}
