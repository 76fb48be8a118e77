//! The stock's order of preference as costs that the engine can add up.

use crate::design::StockSheet;

/// Costs for the kinds of a board's stock, so that the least sum is the layout the maker wants.
///
/// With a price anywhere, prices rule: in hundredths, and an unpriced sheet with a count (an offcut at hand) costs next to
/// nothing, while an unpriced kind without one is priced by area like the dearest. Without prices the order rules: one sheet
/// of a later kind weighs more than all sheets of the earlier kinds together.
pub(super) fn costs(stock: &[StockSheet], copies: u64) -> Vec<u64> {
    let area = |s: &StockSheet| (s.size.length.0 * s.size.width.0).max(1.0);
    let priced = |s: &StockSheet| s.price.filter(|p| p.is_finite() && *p >= 0.0);
    if stock.iter().any(|s| priced(s).is_some()) {
        let dearest = stock.iter().filter_map(|s| priced(s).map(|p| p / area(s))).fold(0.0, f64::max);
        return stock
            .iter()
            .map(|s| match (priced(s), s.count) {
                // Whole hundredths, one more so that an unused sheet always saves something.
                (Some(p), _) => ((p * 100.0).round().min(1e12) as u64).saturating_mul(64) + 1,
                (None, Some(_)) => 1,
                (None, None) => ((dearest * area(s) * 100.0).round().min(1e12) as u64).saturating_mul(64) + 1,
            })
            .collect();
    }
    let mut cost = 1u64;
    let mut costs = Vec::with_capacity(stock.len());
    for s in stock {
        costs.push(cost);
        let most = u64::from(s.count.unwrap_or(u32::MAX)).min(copies);
        // Saturation only makes the last kinds of a very long list equal.
        cost = cost.saturating_add(cost.saturating_mul(most)).min(1 << 40);
    }
    costs
}
