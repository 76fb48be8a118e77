//! `write`: a pack from a job made by hand, read as text.

mod frame;
mod sample;

use sample::{sample, Sample};

#[test]
fn dump() {
    for (s, n) in [(sample(), "mm"), (sample().in_inches(), "inch"), (r12(), "r12"), (sample().on_a_laser(), "laser")] {
        for (name, bytes) in s.pack() {
            let path = std::path::Path::new("target/pack").join(n).join(name);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, bytes).unwrap();
        }
    }
}

fn r12() -> Sample {
    let mut s = sample();
    s.design.process.dxf_release_12 = true;
    s
}
