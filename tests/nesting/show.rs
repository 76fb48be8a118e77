//! Layouts as small pictures, and read back from them.

use baywright::nest::engine::{Packing, Problem};
use std::fmt::Write as _;
use std::path::Path;

/// Writes a layout as an SVG named after the instance: sheets side by side, y upwards, in the instance's own unit. Each piece is
/// a `rect` whose `data-piece` is its unturned size.
pub(crate) fn write(folder: &Path, name: &str, problem: &Problem, packing: &Packing) {
    let gap = packing.sheets.iter().map(|s| problem.sheets[s.kind].size[0]).max().unwrap_or(0) / 20 + 1;
    let high = packing.sheets.iter().map(|s| problem.sheets[s.kind].size[1]).max().unwrap_or(0);
    let wide: i64 = packing.sheets.iter().map(|s| problem.sheets[s.kind].size[0] + gap).sum();
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{} {} {} {}\" fill=\"#e8dcc2\" stroke=\"#333\" \
         stroke-width=\"{}\">\n<g transform=\"scale(1 -1)\">\n",
        -gap,
        -high - gap,
        wide + gap,
        high + 2 * gap,
        high as f64 / 300.0
    );
    let mut x = 0;
    for sheet in &packing.sheets {
        let [w, h] = problem.sheets[sheet.kind].size;
        let _ = writeln!(out, "<g transform=\"translate({x} 0)\"><path fill=\"#fff\" d=\"M0 0H{w}V{h}H0Z\"/>");
        for s in &sheet.spots {
            let [a, b] = problem.items[s.item].size;
            let _ = writeln!(
                out,
                "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" data-piece=\"{a} {b}\"/>",
                s.at[0], s.at[1], s.size[0], s.size[1]
            );
        }
        out.push_str("</g>\n");
        x += w + gap;
    }
    out.push_str("</g>\n</svg>\n");
    std::fs::write(folder.join(format!("{name}.svg")), out).expect("write the picture");
}
