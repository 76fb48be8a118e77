//! All or nothing: what a failure leaves on the disk, and that an earlier pack outlives it byte for byte.

use super::{tree, Bench, Ended, PLATE};
use std::fs;

/// A folder with a project and its pack, made a moment ago.
fn with_pack() -> Bench {
    let bench = Bench::with("plate.toml", PLATE);
    bench.run(&["make", "plate.toml", "--out", "pack"]).expect(0, &["proved: "]);
    bench
}

#[test]
fn a_pack_has_every_file_of_its_contract_and_proves_again() {
    let bench = with_pack();
    let pack = tree(&bench.path().join("pack"));
    for name in [
        "job.json",
        "cut-list.csv",
        "hardware.csv",
        "offcuts.csv",
        "proof.json",
        "proof.txt",
        "sheets/ply-01.dxf",
        "sheets/ply-01.svg",
    ] {
        assert!(pack.contains_key(name), "{name} in {:?}", pack.keys());
    }
    bench.run(&["prove", "pack"]).expect(0, &["PASSED"]);
    assert_eq!(bench.run(&["prove", "pack", "--json"]).expect(0, &[]).json()["passed"], true);
    let again = bench.run(&["make", "plate.toml", "--out", "pack", "--json"]).expect(0, &[]).json();
    assert!(again["files"].as_array().is_some_and(|f| f.len() >= 6) && again["pack"] == "pack", "{again}");
    assert_eq!(tree(&bench.path().join("pack")), pack, "made again over itself");
    assert!(bench.all().keys().all(|name| !name.contains(".baywright-")));
}

#[test]
fn a_changed_cut_file_does_not_pass() {
    let bench = with_pack();
    let pack = bench.path().join("pack");
    let program = fs::read_dir(pack.join("gcode")).expect("gcode").next().expect("a program").expect("a file").path();
    let text = fs::read_to_string(&program).expect("read");
    let at = text.rfind("\nG1").expect("a cutting move");
    let end = text[at + 1..].find('\n').map_or(text.len(), |n| at + 1 + n);
    fs::write(&program, format!("{}{}", &text[..at], &text[end..])).expect("write");
    bench.run(&["prove", "pack"]).expect(1, &["FAILED"]);
}

#[test]
fn a_changed_coupon_does_not_pass_and_a_stray_one_is_told() {
    let bench = with_pack();
    let pack = bench.path().join("pack");
    bench.run(&["make", "plate.toml", "--out", "other"]).expect(0, &["coupon first: coupon/ply\n"]);
    let proved = bench.run(&["prove", "pack", "--json"]).expect(0, &[]).json();
    assert_eq!(proved["coupons"]["coupon/ply"]["passed"], true);
    let drawing = pack.join("coupon/ply/sheets/ply-01.dxf");
    let text = fs::read_to_string(&drawing).expect("read");
    fs::write(&drawing, &text[..text.len() / 2]).expect("write");
    bench.run(&["prove", "pack"]).expect(1, &["PASSED", "coupon/ply: ", "FAILED", "ply-01.dxf"]);
    assert_eq!(bench.run(&["prove", "pack", "--json"]).expect(1, &[]).json()["passed"], false);
    fs::write(&drawing, &text).expect("write");
    bench.run(&["prove", "pack"]).expect(0, &["PASSED"]);
    // Neither beside the coupons nor in a folder without a job may a cut file lie unproved.
    bench.write("pack/coupon/stray.nc", "M30\n");
    bench.run(&["prove", "pack"]).expect(1, &["coupon/stray.nc"]);
    fs::remove_file(pack.join("coupon/stray.nc")).expect("remove");
    bench.write("pack/coupon/ash/gcode/stray.nc", "M30\n");
    bench.run(&["prove", "pack"]).expect(1, &["coupon/ash: ", "no job.json"]);
}

/// The narrowest slot of the ladder is narrower than the thinnest cutter; the plate itself is refused for its tabs alone.
#[test]
fn a_coupon_that_cannot_be_made_is_a_caution() {
    let thin = PLATE.replace("birch-ply-12", "laser-ply-3").replace("[11.9, 11.9, 12.0, 11.9]", "[2.9, 2.9, 2.9, 2.9]");
    let bench = Bench::with("plate.toml", &thin);
    bench.run(&["make", "plate.toml", "--out", "pack"]).expect(1, &["caution[coupon-not-made]", "`slot 1`"]);
}

#[test]
fn a_refused_design_leaves_the_earlier_pack_as_it_was() {
    let bench = with_pack();
    bench.write("plate.toml", &PLATE.replace("[300, 200]", "[5000, 200]"));
    let before = bench.all();
    bench.run(&["make", "plate.toml", "--out", "pack"]).expect(1, &["No pack was written"]);
    assert_eq!(bench.all(), before);
}

#[test]
fn an_old_pack_is_replaced_as_a_whole() {
    let bench = with_pack();
    bench.write("pack/parts/left-over.dxf", "0\nEOF\n");
    bench.run(&["make", "plate.toml", "--out", "pack"]).expect(0, &[]);
    assert!(!bench.path().join("pack/parts/left-over.dxf").exists());
}

#[test]
fn places_a_pack_may_not_take() {
    let bench = Bench::with("plate.toml", PLATE);
    bench.write("a-file", "keep me");
    bench.write("photos/one.txt", "keep me too");
    bench.write("empty/x", "");
    fs::remove_file(bench.path().join("empty/x")).expect("remove");
    let before = bench.all();
    bench.run(&["make", "plate.toml", "--out", "a-file"]).expect(2, &["a-file is a file", "do: "]);
    bench.run(&["make", "plate.toml", "--out", "photos"]).expect(2, &["photos holds files but is not a pack", "do: "]);
    bench.run(&["make", "plate.toml", "--out", "a-file/pack"]).expect(2, &["a-file", "do: "]);
    bench.run(&["make", "plate.toml", "--out", ""]).expect(2, &["a value is required"]);
    bench.run(&["make", "plate.toml", "--out", ".."]).expect(2, &["names no folder", "do: "]);
    assert_eq!(bench.all(), before);
    bench.run(&["make", "plate.toml", "--out", "empty"]).expect(0, &["proved: "]);
    bench.run(&["make", "plate.toml", "--out", "new/deep/pack"]).expect(0, &["proved: "]);
}

/// A place where even the superuser may not write.
#[cfg(target_os = "linux")]
#[test]
fn places_that_cannot_be_written_to() {
    let bench = Bench::with("plate.toml", PLATE);
    let before = bench.all();
    for out in ["/proc/baywright-pack", "/sys/baywright-pack", "/dev/null/pack"] {
        bench.run(&["make", "plate.toml", "--out", out]).expect(2, &[out.rsplit_once('/').expect("a folder").0, "do: "]);
    }
    bench.run(&["new", "/proc/start.toml", "--yes"]).expect(2, &["/proc/start.toml", "do: "]);
    assert_eq!(bench.all(), before);
}

/// Runs a script in which `$1` is the program.
#[cfg(unix)]
fn shell(bench: &Bench, script: &str) -> Ended {
    let program = env!("CARGO_BIN_EXE_baywright");
    let output = std::process::Command::new("sh").args(["-c", script, "sh", program]).current_dir(bench.path()).output();
    Ended::of(&output.expect("start sh"))
}

/// A file that cannot grow stands in for a full disk: the same call fails at the same place, and no device is needed for it.
#[cfg(unix)]
#[test]
fn no_space_leaves_nothing_half_written() {
    let bench = Bench::with("plate.toml", PLATE);
    let before = bench.all();
    for blocks in [0, 1, 4] {
        let script = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$1\" make plate.toml --out deep/pack 2>&1 | cat");
        let ended = shell(&bench, &script);
        assert!(ended.out.contains("cannot write") && ended.out.contains("do: "), "{}", ended.out);
        assert_eq!(bench.all(), before, "{blocks}");
    }
    let bench = with_pack();
    let before = bench.all();
    let script = "trap '' XFSZ; ulimit -f 1; \"$1\" make plate.toml --out pack >/dev/null 2>&1; echo \"code $?\" | cat";
    shell(&bench, script).expect(0, &["code 2"]);
    assert_eq!(bench.all(), before, "the earlier pack");
    shell(&bench, "trap '' XFSZ; ulimit -f 0; \"$1\" new start.toml --yes 2>&1; echo \"code $?\"").expect(0, &["code 2"]);
    assert_eq!(bench.all(), before, "no empty starter");
}
