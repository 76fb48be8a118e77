//! A project of about a thousand parts: a wall of carcasses with drawers, and many loose panels with holes, slots and notches.

use std::fmt::Write as _;

/// Carcasses side by side, each with three drawers.
const CARCASSES: usize = 10;
/// Different loose panels.
const PANELS: usize = 76;
/// Copies of each.
const COPIES: usize = 10;

/// The project file's text; always the same.
pub(crate) fn text() -> String {
    let mut text = String::from(
        "format = 1\ntitle = \"A thousand parts\"\nunits = \"mm\"\n\
         [boards.carcass]\nprofile = \"birch-ply-15\"\nreadings = [14.8, 14.9, 14.8, 14.8, 14.9]\n\
         [boards.front]\nprofile = \"birch-ply-12\"\nreadings = [11.9, 11.9, 12.0, 11.9]\n",
    );
    for n in 0..CARCASSES {
        let (wide, deep, high) = (1180 + 3 * n, 640 + 5 * n, 232 + 2 * n);
        let _ = write!(
            text,
            "[[carcass]]\nname = \"unit {n}\"\nat = [{}, 0, 0]\nwidth = {wide}\ndepth = {deep}\nheight = {high}\n\
             board = \"carcass\"\njoint = \"finger\"\n",
            n * 1500
        );
        for column in ["left", "middle", "right"] {
            let _ = write!(
                text,
                "[[carcass.column]]\nname = \"{column}\"\n[[carcass.column.cell]]\n\
                 drawer = {{ slide = \"side-mount-500\", latch = \"flush-paddle\", front = \"front\", box = \"front\" }}\n"
            );
        }
    }
    let mut state = 12_345_u32;
    let mut pick = |from: u32, to: u32| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        from + (state >> 8) % (to - from)
    };
    for n in 0..PANELS {
        let (length, width) = (pick(220, 900), pick(140, 420));
        let _ = write!(
            text,
            "[[panel]]\nname = \"panel {n}\"\nsize = [{length}, {width}]\nboard = \"{}\"\nquantity = {COPIES}\n",
            if n % 2 == 0 { "carcass" } else { "front" },
        );
        let holes: Vec<String> = [(25, 25), (length - 25, 25), (25, width - 25), (length - 25, width - 25)]
            .iter()
            .map(|(x, y)| format!("{{ at = [{x}, {y}], for = \"M6\" }}"))
            .collect();
        let _ = writeln!(text, "holes = [{}]", holes.join(", "));
        let middle = width / 2;
        let _ = writeln!(
            text,
            "slots = [{{ from = [70, {middle}], to = [{}, {middle}], width = {} }}]",
            length - 70,
            pick(10, 30)
        );
        if n % 3 == 0 {
            let wide = pick(20, 40);
            let _ = writeln!(text, "notches = [{{ at = [{}, 0], size = [{wide}, 15] }}]", length / 2);
        }
    }
    text
}
