//! The same input gives the same bytes, whatever the run, the threads, the zone and the language.

use super::{sample, tree, Bench};

#[test]
fn runs_threads_zones_and_languages_change_no_byte() {
    let bench = Bench::new();
    let project = sample("first-drawer");
    let cases: [(&str, &str, &str, &str); 6] = [
        ("first", "1", "UTC", "C"),
        ("again", "1", "UTC", "C"),
        ("two", "2", "UTC", "C"),
        ("stockholm", "1", "Europe/Stockholm", "de_DE.UTF-8"),
        ("kolkata", "2", "Asia/Kolkata", "de_DE.UTF-8"),
        ("zoneless", "0", ":nonsense", "tr_TR.UTF-8"),
    ];
    let mut first = None;
    for (out, threads, zone, language) in cases {
        let output = bench
            .command()
            .args(["make", &project, "--out", out, "--threads", threads])
            .env("TZ", zone)
            .env("LC_ALL", language)
            .env("LANG", language)
            .output()
            .expect("start");
        super::Ended::of(&output).expect(0, &["proved: "]);
        let files = tree(&bench.path().join(out));
        assert!(files.len() > 20, "{} files", files.len());
        let first = first.get_or_insert_with(|| files.clone());
        for (name, bytes) in &files {
            assert!(first.get(name) == Some(bytes), "{name} differs in {out}");
        }
        assert_eq!(first.len(), files.len(), "{out}");
    }
}

#[test]
fn nothing_in_a_pack_tells_where_or_when_it_was_made() {
    let bench = Bench::with("inner/plate.toml", super::PLATE);
    bench.run(&["make", "inner/plate.toml", "--out", "pack"]).expect(0, &[]);
    let place = bench.path().to_string_lossy().into_owned();
    for (name, bytes) in tree(&bench.path().join("pack")) {
        let text = bytes.map_or_else(String::new, |b| String::from_utf8_lossy(&b).into_owned());
        assert!(!text.contains(&place), "{name}");
    }
}
