//! Boards: the thickness of each batch as one source.

use super::bench::Bench;
use super::defaults::{READINGS_WANTED, READING_OFF};
use super::{codes, BoardUse, StockSheet};
use crate::diag::Finding;
use crate::dim::{Dim, Source, SourceKind};
use crate::project::{BoardText, Defect, Length, Stock};
use crate::shop::{Board, SheetSize};
use crate::units::Mm;

impl Bench<'_> {
    pub(super) fn boards(&mut self) -> Vec<BoardUse> {
        let project = self.project;
        project.boards.iter().filter_map(|board| self.board_use(board)).collect()
    }

    fn board_use(&mut self, written: &BoardText) -> Option<BoardUse> {
        let shop = self.shop;
        let profile = written.profile.as_ref().and_then(|id| self.profile(&shop.boards, "board", &id.value, Some(id.span)));
        let mut stock: Vec<StockSheet> = written.stock.iter().filter_map(|s| self.stock(s, &written.name.value)).collect();
        let mut all: Vec<StockSheet> = written.kept.iter().filter_map(|s| self.stock(s, &written.name.value)).collect();
        self.lost |= profile.is_none();
        let profile = profile?;
        let thickness = self.thickness(written, &profile);
        if stock.is_empty() {
            let whole = |size: &SheetSize| StockSheet { size: *size, count: None, price: None, defects: Vec::new() };
            stock = profile.sheets.iter().map(whole).collect();
        }
        // Offcuts at hand come before any whole sheet.
        all.append(&mut stock);
        Some(BoardUse {
            name: written.name.value.clone(),
            profile,
            thickness,
            readings: written.readings.iter().map(|r| r.value).collect(),
            stock: all,
            span: Some(written.span),
        })
    }

    fn stock(&mut self, stock: &Stock, board: &str) -> Option<StockSheet> {
        let mut side = |length: &Option<Length>, name: &str| {
            length.as_ref().map(|length| self.positive(length, &format!("{name} of a sheet of board \"{board}\"")).nominal())
        };
        let (length, width) = (side(&stock.length, "length"), side(&stock.width, "width"));
        self.lost |= length.is_none() || width.is_none();
        let defects = stock.defects.iter().filter_map(|d| self.defect(d, board)).collect();
        Some(StockSheet {
            defects,
            size: SheetSize { length: length?, width: width? },
            count: stock.count.as_ref().map(|count| count.value),
            price: stock.price.as_ref().map(|price| price.value),
        })
    }

    fn defect(&mut self, defect: &Defect, board: &str) -> Option<[Mm; 4]> {
        let (Some(at), Some(size)) = (&defect.at, &defect.size) else {
            self.lost = true;
            return None;
        };
        for side in size.value {
            let side = Length { value: side, span: size.span };
            self.positive(&side, &format!("size of a defect on board \"{board}\""));
        }
        Some([at.value[0], at.value[1], size.value[0], size.value[1]])
    }

    /// One source per batch: from the readings, or from the profile's class when there are none.
    fn thickness(&mut self, written: &BoardText, profile: &Board) -> Dim {
        let name = &written.name.value;
        let label = format!("{name} board thickness");
        for reading in &written.readings {
            self.positive(reading, &label);
        }
        let (nominal, minus, plus, basis) = if written.readings.is_empty() {
            let (least, most) = (self.show(profile.thickness_min), self.show(profile.thickness_max));
            self.assume(format!(
                "Board \"{name}\": thickness {} nominal, {least} to {most} by the class of {}, since no readings are written.",
                self.show(profile.nominal),
                profile.name
            ));
            self.report(
                Finding::caution(
                    codes::BOARD_NOMINAL,
                    format!("board \"{name}\" has no thickness readings: slots from nominal"),
                )
                .at(written.span)
                .limit(format!("{READINGS_WANTED} readings ({})", super::defaults::PRACTICE))
                .remedy(format!(
                    "measure the sheets at hand near each corner and write `readings = [...]` under [boards.{name}]"
                )),
            );
            let below = (profile.nominal - profile.thickness_min).max(Mm::ZERO);
            let above = (profile.thickness_max - profile.nominal).max(Mm::ZERO);
            (profile.nominal, below, above, format!("class limits of {}", profile.id))
        } else {
            self.readings_basis(written, profile)
        };
        Dim::source(Source {
            key: format!("board:{name}"),
            label: label.clone(),
            kind: SourceKind::Board,
            nominal,
            minus,
            plus,
            basis,
            span: Some(written.readings.first().map_or(written.span, |reading| reading.span)),
        })
        .named(label)
    }

    fn readings_basis(&mut self, written: &BoardText, profile: &Board) -> (Mm, Mm, Mm, String) {
        let name = &written.name.value;
        let count = written.readings.len();
        let values = || written.readings.iter().map(|reading| reading.value);
        let mean = values().sum::<Mm>() / count as f64;
        let least = values().fold(mean, Mm::min);
        let most = values().fold(mean, Mm::max);
        let mut below = mean - least;
        let mut above = most - mean;
        if count < READINGS_WANTED {
            // Few readings do not show the spread; the profile's spread within one sheet stands in.
            below = below.max(profile.within_sheet / 2.0);
            above = above.max(profile.within_sheet / 2.0);
            self.report(
                Finding::caution(codes::BOARD_FEW_READINGS, format!("board \"{name}\" has {count} thickness readings"))
                    .at(written.readings[0].span)
                    .limit(format!("{READINGS_WANTED} readings ({})", super::defaults::PRACTICE))
                    .remedy("measure near each corner of the sheets at hand, to 0.05 mm"),
            );
        }
        self.check_readings(written, profile);
        (mean, below, above, format!("{count} readings"))
    }

    fn check_readings(&mut self, written: &BoardText, profile: &Board) {
        let name = &written.name.value;
        let class = format!(
            "{} to {} by the class of {}",
            self.show(profile.thickness_min),
            self.show(profile.thickness_max),
            profile.id
        );
        for reading in &written.readings {
            let value = reading.value;
            let message = format!("a thickness reading of board \"{name}\" is {}", self.show(value));
            if (value - profile.nominal).abs() > profile.nominal * READING_OFF {
                self.report(
                    Finding::stop(codes::BOARD_READINGS_ODD, message)
                        .at(reading.span)
                        .limit(class.clone())
                        .remedy("check the reading, its unit, and the profile"),
                );
            } else if value < profile.thickness_min || value > profile.thickness_max {
                self.report(
                    Finding::caution(codes::BOARD_READINGS_ODD, message)
                        .at(reading.span)
                        .limit(class.clone())
                        .remedy("measure again; if it stands, the readings are used as they are"),
                );
            }
        }
    }
}
