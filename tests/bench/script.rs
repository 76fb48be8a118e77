//! The script that the program's speed is held against.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

/// A Python that has what the script needs: of `BAYWRIGHT_PYTHON`, the test command's environment, or the system.
pub(crate) fn python(root: &Path) -> Option<PathBuf> {
    let places = [
        std::env::var_os("BAYWRIGHT_PYTHON").map(PathBuf::from),
        Some(root.join("target/venv/bin/python")),
        Some(PathBuf::from("python3")),
    ];
    let found = places.into_iter().flatten().find(|python| {
        Command::new(python).args(["-c", "import ezdxf"]).output().is_ok_and(|output| output.status.success())
    });
    if found.is_none() {
        println!("left out: no Python with ezdxf; run `sh tests/all.sh` once, or");
        println!("  python3 -m venv target/venv && target/venv/bin/pip install -r tests/readers/requirements.txt");
    }
    found
}

/// Seconds of the whole process, and of its writing alone.
pub(crate) fn run(python: &Path, root: &Path, job: &Path, out: &Path) -> (f64, f64) {
    let begun = Instant::now();
    let output =
        Command::new(python).arg(root.join("tests/bench/write_pack.py")).args([job, out]).output().expect("run the script");
    let whole = begun.elapsed().as_secs_f64();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let told: serde_json::Value = serde_json::from_slice(&output.stdout).expect("one line of JSON");
    (whole, told["seconds"].as_f64().expect("seconds"))
}
