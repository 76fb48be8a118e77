//! A reader of the paper's PDF, from the format's description: page sizes and straight lines, in millimetres.

/// A page.
pub(super) struct Page {
    pub(super) size: [f64; 2],
    /// Each line's length along x and along y.
    pub(super) lines: Vec<[f64; 2]>,
    /// How far anything reaches beyond the paper; not positive when nothing does.
    pub(super) farthest: f64,
}

/// 72 points to the inch (ISO 32000-1, 8.3.2.3).
const MM: f64 = 25.4 / 72.0;

/// Pages in order; their streams are plain and stand in the same order.
pub(super) fn read(bytes: &[u8]) -> Vec<Page> {
    let text = String::from_utf8_lossy(bytes);
    assert!(text.starts_with("%PDF-1."), "no PDF");
    let boxes: Vec<[f64; 2]> = text
        .split("/MediaBox [")
        .skip(1)
        .map(|t| {
            let numbers: Vec<f64> =
                t.split(']').next().expect("an end").split_whitespace().map(|n| n.parse().expect("a number")).collect();
            [(numbers[2] - numbers[0]) * MM, (numbers[3] - numbers[1]) * MM]
        })
        .collect();
    let streams: Vec<&str> =
        text.split("\nstream\n").skip(1).map(|t| t.split("\nendstream").next().expect("an end")).collect();
    assert_eq!(boxes.len(), streams.len(), "a stream a page");
    boxes.into_iter().zip(streams).map(|(size, stream)| page(size, stream)).collect()
}

fn page(size: [f64; 2], stream: &str) -> Page {
    let mut lines = Vec::new();
    let mut farthest = f64::NEG_INFINITY;
    let mut from = [0.0; 2];
    for line in stream.lines() {
        let words: Vec<&str> = line.split_whitespace().collect();
        let Some((operator, numbers)) = words.split_last() else { continue };
        if !["m", "l", "c"].contains(operator) {
            continue;
        }
        let numbers: Vec<f64> = numbers.iter().map(|n| n.parse::<f64>().expect("a number") * MM).collect();
        let at = [numbers[numbers.len() - 2], numbers[numbers.len() - 1]];
        for i in 0..2 {
            farthest = farthest.max(-at[i]).max(at[i] - size[i]);
        }
        if *operator == "l" {
            lines.push([(at[0] - from[0]).abs(), (at[1] - from[1]).abs()]);
        }
        from = at;
    }
    Page { size, lines, farthest }
}
