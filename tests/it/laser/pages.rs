//! What lies beside a mock-up's sheets: the page, the coupon, the gauges, the flutes.

use crate::cli::{sample, Bench};
use crate::pack::rows;
use serde_json::Value;
use std::fs;

/// The pack of a sample's mock-up.
fn pack(bench: &Bench, name: &str, more: &[&str]) -> Value {
    let project = sample(name);
    let args = [&["mockup", &project, "--board", "card-single-c", "--thickness", "4", "--out", "mock"], more].concat();
    bench.run(&args).expect(0, &["proved: "]);
    job(bench, "mock/job.json")
}

fn job(bench: &Bench, file: &str) -> Value {
    serde_json::from_slice(&fs::read(bench.path().join(file)).unwrap()).unwrap()
}

fn size(part: &Value) -> (f64, f64) {
    (part["x_mm"].as_f64().unwrap(), part["y_mm"].as_f64().unwrap())
}

fn named<'j>(job: &'j Value, name: &str) -> &'j Value {
    rows(&job["parts"]).iter().find(|p| p["name"] == name).unwrap_or_else(|| panic!("no {name}"))
}

/// Gauges at full size: the arch of 128 x 265 with 80 mm beside it, the door's 600 mm with a reach of 12 to 64, the faces of the
/// real drawers, the tables' height over the lower storey of 232 mm.
#[test]
fn only_the_envelope_is_gauges_of_what_is_doubtful() {
    let bench = Bench::new();
    let job = pack(&bench, "survey-van", &["--only", "envelope"]);
    let arch = named(&job, "left wheel arch profile");
    assert_eq!(size(arch), (128.0 + 80.0, 265.0 + 80.0));
    let area = arch["area_mm2"].as_f64().unwrap();
    assert!((area - (208.0 * 345.0 - 128.0 * 265.0)).abs() < 1e-3, "{area}");
    let door: Vec<&Value> = rows(&job["parts"]).iter().filter(|p| p["name"].as_str().unwrap().starts_with("door")).collect();
    // 600 mm do not fit across the flutes on a bed of 600: two pieces that add up.
    assert_eq!(door.len(), 2);
    let sum: f64 = door.iter().map(|p| p["area_mm2"].as_f64().unwrap()).sum();
    let profile = |z0: f64, r0: f64, z1: f64, r1: f64| (z1 - z0) * (144.0 - f64::midpoint(r0, r1));
    let whole = profile(0.0, 12.0, 250.0, 30.0) + profile(250.0, 30.0, 600.0, 64.0);
    assert!((sum - whole).abs() < 0.01, "{sum} for {whole}");
    // The real face: as `check` derives it from the plywood, not from the card.
    let real = bench.run(&["why", &sample("survey-van"), "lower left drawer front width"]).out;
    let width: f64 = real.split(" width: ").nth(1).unwrap().split(" mm").next().unwrap().parse().unwrap();
    assert!((size(named(&job, "lower left drawer front face")).0 - width).abs() < 0.006, "{real}");
    let stick = size(named(&job, "left table height stick"));
    assert!(stick.0 > 232.0 + 14.0 && stick.0 < 232.0 + 20.0, "{stick:?}");
    assert!(rows(&job["parts"]).iter().all(|p| p["features"].to_string().contains("flutes")));
    let project = bench.path().join("bare.toml");
    fs::write(&project, crate::cli::PLATE).unwrap();
    let args = ["mockup", "bare.toml", "--board", "card-single-c", "--only", "envelope", "--out", "none"];
    bench.run(&args).expect(1, &["no-envelope"]);
}

/// Slots of 0.70 to 1.05 thicknesses in steps of 0.05, which is what is held against the card.
#[test]
fn the_coupon_is_a_ladder_of_slots_by_share_of_the_thickness() {
    let bench = Bench::new();
    pack(&bench, "first-drawer", &[]);
    let job = job(&bench, "mock/coupon/card/job.json");
    let ladder = named(&job, "coupon ladder");
    let mut widths: Vec<f64> = rows(&ladder["contours"])
        .iter()
        .filter(|c| c["operation"] == "through-inside")
        .map(|c| {
            let xs = || rows(&c["vertices"]).iter().map(|v| v[0].as_f64().unwrap());
            xs().fold(f64::NEG_INFINITY, f64::max) - xs().fold(f64::INFINITY, f64::min)
        })
        .collect();
    widths.sort_by(f64::total_cmp);
    let expected = [0.70, 0.75, 0.80, 0.85, 0.90, 0.95, 1.00, 1.05].map(|share| share * 4.0);
    assert!(widths.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-6) && widths.len() == 8, "{widths:?}");
    assert_eq!(size(named(&job, "coupon square")), (100.0, 100.0));
}

#[test]
fn the_page_says_what_to_cut_fold_join_tape_and_try_in_order() {
    let bench = Bench::new();
    let job = pack(&bench, "survey-van", &[]);
    let page = fs::read_to_string(bench.path().join("mock/mock-up.html")).unwrap();
    let steps = ["1. Cut", "2. Fold", "3. Join what was larger", "4. Press and tape", "5. Try", "6. Write down what rubs"];
    let places: Vec<usize> = steps.iter().map(|s| page.find(s).unwrap_or_else(|| panic!("no {s}"))).collect();
    assert!(places.windows(2).all(|w| w[0] < w[1]), "{places:?}");
    for words in
        ["Never leave a running laser", "film-faced", "Water or an extinguisher", "joints not to scale", "right wheel arch"]
    {
        assert!(page.contains(words), "{words}");
    }
    assert!(page.contains(job["revision"].as_str().unwrap()));
    // Nothing from elsewhere.
    assert!(!["http", "<script", "<img", "src=", "@import"].iter().any(|word| page.contains(word)));
    let open = |tag: &str| page.matches(&format!("<{tag}>")).count() + page.matches(&format!("<{tag} ")).count();
    for tag in ["h2", "p", "ol", "ul", "li", "table", "tr", "td", "th", "code", "body", "html"] {
        assert_eq!(open(tag), page.matches(&format!("</{tag}>")).count(), "{tag}");
    }
    // The real thing has no such page.
    let plain = Bench::new();
    plain.run(&["make", &sample("first-drawer"), "--out", "pack"]).expect(0, &["proved"]);
    assert!(!plain.path().join("pack/mock-up.html").exists());
}
