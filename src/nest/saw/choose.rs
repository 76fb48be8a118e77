//! Among layouts on the same sheets, the one that is pleasant to saw.

use super::blanks;
use super::cutting;
use super::order;
use super::types::{Direction, SawSheet};
use crate::design::StockSheet;
use crate::flat::FlatParts;
use crate::geom::Rect;
use crate::nest::job::defect_rect;
use crate::nest::types::Sheet;
use crate::units::Mm;

/// Kept pieces whose areas differ by less than this share of a sheet count as equal.
const OFFCUT_STEP: f64 = 0.04;

/// The best of some layouts, cut up; `None` when none can be cut within so many stages.
///
/// Best is: the largest piece to keep (in steps), then the fewest settings of the fence, then the fewest cuts.
pub(super) fn best(
    variants: Vec<Vec<Sheet>>,
    parts: &FlatParts,
    stock: &[StockSheet],
    kerf: Mm,
    most: u32,
) -> Option<Vec<SawSheet>> {
    let cut = |sheets: Vec<Sheet>| sheets.iter().map(|s| one(s, parts, stock, kerf)).collect::<Option<Vec<SawSheet>>>();
    let all = variants.into_iter().filter_map(cut).filter(|sheets| sheets.iter().all(|s| s.stages() <= most));
    all.min_by_key(|sheets| {
        let largest = sheets.iter().map(kept_share).fold(0.0, f64::max);
        let settings: usize = sheets.iter().map(SawSheet::fence_settings).sum();
        let widths: usize = sheets.iter().map(SawSheet::rip_widths).sum();
        let cuts: usize = sheets.iter().map(|s| s.cuts.len()).sum();
        (-(largest / OFFCUT_STEP).floor() as i64, settings + widths, cuts)
    })
}

fn kept_share(s: &SawSheet) -> f64 {
    s.sheet.offcut.map_or(0.0, |r| r.area() / (s.sheet.length.0 * s.sheet.width.0))
}

/// Cuts up a sheet, begun with rips or with crosscuts, whichever needs fewer stages, then fewer settings.
fn one(sheet: &Sheet, parts: &FlatParts, stock: &[StockSheet], kerf: Mm) -> Option<SawSheet> {
    let blanks = blanks(parts, sheet);
    let defects: Vec<Rect> = stock.get(sheet.stock).into_iter().flat_map(|s| &s.defects).map(defect_rect).collect();
    let whole = Rect::new(0.0, 0.0, sheet.length.0, sheet.width.0);
    let begun = |first| {
        let cuts = order::ordered(&cutting::cuts(whole, &blanks, &defects, kerf, first)?);
        let mut sawn = SawSheet { sheet: sheet.clone(), cuts };
        sawn.sheet.offcut = sawn.kept().into_iter().max_by(|a, b| a.area().total_cmp(&b.area()));
        Some(sawn)
    };
    let both = [Direction::Rip, Direction::Cross].into_iter().filter_map(begun);
    both.min_by_key(|s| (s.stages(), s.fence_settings(), s.cuts.len()))
}
