//! A board with many holes, and a bound that no way through them is under.

use std::fmt::Write as _;

/// A project of one board with so many holes, spread by a fixed recurrence that looks random.
pub(crate) fn board(count: u32) -> String {
    let mut state = 88_172_645_463_325_252_u64;
    let mut next = || {
        // Xorshift; from memory (Marsaglia 2003).
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    let mut places: Vec<(f64, f64)> = Vec::new();
    while (places.len() as u32) < count {
        let (x, y) = (20.0 + (next() * 2360.0).round(), 20.0 + (next() * 1110.0).round());
        if places.iter().all(|p| (p.0 - x).hypot(p.1 - y) > 16.0) {
            places.push((x, y));
        }
    }
    let mut text = String::from(
        "format = 1\ntitle = \"Holes\"\nunits = \"mm\"\n[boards.ply]\nprofile = \"birch-ply-15\"\nreadings = [14.8]\n\
         [[panel]]\nname = \"board\"\nsize = [2400, 1150]\nboard = \"ply\"\nholes = [\n",
    );
    for (x, y) in places {
        let _ = writeln!(text, "{{ at = [{x}, {y}], diameter = 5 }},");
    }
    text.push_str("]\n");
    text
}

/// How often the weights are changed.
const ASCENTS: usize = 400;

/// A length that no way from the first place through all others is under, ending anywhere: the least tree over the places, with
/// weights on them that make it ever more like a way (Held and Karp, The Traveling-Salesman Problem and Minimum Spanning Trees,
/// 1970; from memory). Weights change lengths of ways by what is known beforehand, save the weight of the unknown end.
pub(crate) fn bound(places: &[(f64, f64)]) -> f64 {
    let n = places.len();
    let mut weights = vec![0.0; n];
    let mut best = 0.0_f64;
    let mut step = 0.0;
    for ascent in 0..ASCENTS {
        let (tree, degrees) = least_tree(places, &weights);
        if ascent == 0 {
            step = tree / n as f64;
        }
        let end = weights[1..].iter().copied().fold(f64::INFINITY, f64::min);
        best = best.max(tree - 2.0 * weights.iter().sum::<f64>() + weights[0] + end);
        for (k, weight) in weights.iter_mut().enumerate() {
            let wanted = if k == 0 { 1.0 } else { 2.0 };
            *weight += step * (f64::from(degrees[k]) - wanted);
        }
        step *= 0.985;
    }
    best
}

/// Weight of the least tree where a step costs its length and the weights of its ends; and how many steps meet at each place.
fn least_tree(places: &[(f64, f64)], weights: &[f64]) -> (f64, Vec<u32>) {
    let n = places.len();
    let mut reach = vec![(f64::INFINITY, 0_usize); n];
    let (mut inside, mut degrees) = (vec![false; n], vec![0; n]);
    let (mut sum, mut last) = (0.0, 0);
    inside[0] = true;
    for _ in 1..n {
        for k in (0..n).filter(|k| !inside[*k]) {
            let far = (places[k].0 - places[last].0).hypot(places[k].1 - places[last].1) + weights[k] + weights[last];
            if far < reach[k].0 {
                reach[k] = (far, last);
            }
        }
        let next = (0..n).filter(|k| !inside[*k]).min_by(|a, b| reach[*a].0.total_cmp(&reach[*b].0)).expect("one is left");
        inside[next] = true;
        sum += reach[next].0;
        degrees[next] += 1;
        degrees[reach[next].1] += 1;
        last = next;
    }
    (sum, degrees)
}
