//! Can it be sawn?

/// Whether rectangles (x0, y0, x1, y1) can be parted from each other by straight cuts, each from edge to edge of the piece
/// it cuts and as wide as the kerf.
#[must_use]
pub fn can_be_sawn(boxes: &[[i64; 4]], kerf: i64) -> bool {
    if boxes.len() < 2 {
        return true;
    }
    for axis in 0..2 {
        let mut order: Vec<&[i64; 4]> = boxes.iter().collect();
        order.sort_by_key(|b| b[axis]);
        // All cuts across this axis at once: a cut stands where everything before it ends a kerf ahead of what follows.
        let mut groups: Vec<Vec<[i64; 4]>> = Vec::new();
        let mut reach = i64::MIN;
        for b in order {
            if groups.is_empty() || b[axis] >= reach.saturating_add(kerf) {
                groups.push(Vec::new());
            }
            if let Some(group) = groups.last_mut() {
                group.push(*b);
            }
            reach = reach.max(b[axis + 2]);
        }
        if groups.len() > 1 {
            // Cutting never makes a later cut impossible, so the first axis that can be cut is as good as any.
            return groups.iter().all(|g| can_be_sawn(g, kerf));
        }
    }
    false
}
