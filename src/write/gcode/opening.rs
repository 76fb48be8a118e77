//! What stands before the first cut: how the sheet lies, the modes, and the first move.

use super::Writer;
use crate::geom::Point;
use crate::shop::ZZero;
use crate::toolpath::{Program, SheetSide, Work};
use crate::units::{decimal, Mm, Unit};

impl Writer<'_> {
    /// The file's heading, the modes it rests on, and the first move, up.
    pub(super) fn opening(&mut self, header: &[String], first: &Program) {
        self.text.percent();
        for line in header {
            self.text.comment(line);
        }
        let zero = match self.router.z_zero {
            ZZero::Spoilboard => "top of the spoilboard",
            ZZero::SheetTop => "top of the sheet",
        };
        self.text
            .comment(&format!("units {}, z zero at the {zero}, x and y zero at the sheet's corner", self.unit.symbol()));
        for line in self.set_up(first) {
            self.text.comment(&line);
        }
        let units = if self.unit == Unit::Inch { "G20" } else { "G21" };
        self.text.line(&[units.into(), "G17".into(), "G40".into(), "G49".into(), "G80".into(), "G90".into(), "G94".into()]);
        self.text.line(std::slice::from_ref(&self.dialect.work_offset));
        self.up();
        if self.dialect.first_move_pause {
            self.text.comment(&format!("MSG, z zero must be at the {zero}: check before going on"));
            self.text.line(&["M0".into()]);
        }
    }

    /// How the sheet lies, and what holds it, in the words of the trade.
    fn set_up(&self, first: &Program) -> Vec<String> {
        let s = &first.set_up;
        let up = match first.side {
            SheetSide::First => "the face drawn on the sheet map up",
            SheetSide::Second => "the face drawn on the sheet map down",
        };
        let mut lines = vec![format!("set-up {} of {}: {up}", s.number, s.of)];
        let turned = "turned over about its long edge, front to back, left end staying left";
        match (first.side, s.number) {
            (SheetSide::Second, 1) => lines.push(format!("lay the sheet {turned} from how the map shows it")),
            (SheetSide::First, 1) => {}
            _ => lines.push(format!("the sheet {turned}, since set-up {}", s.number - 1)),
        }
        if !s.pins.is_empty() {
            let holes = self.places(&s.pins);
            let size = self.length(s.pin_diameter);
            lines.push(if s.number < s.of {
                format!("registration holes of {size} at {holes}: drill them on into the spoilboard before the sheet is turned over")
            } else {
                format!("set the sheet on pins of {size} in the registration holes, now at {holes}")
            });
        }
        if !s.screws.is_empty() {
            let places = self.places(&s.screws);
            let drilling = first.blocks.iter().any(|b| b.work == Work::HoldDown);
            lines.push(if drilling {
                format!(
                    "drills the holes for {} hold-down screws; put the screws in after this program, at {places}",
                    s.screws.len()
                )
            } else {
                format!("{} hold-down screws must be in, heads down on the sheet, at {places}", s.screws.len())
            });
        }
        lines
    }

    fn places(&self, points: &[Point]) -> String {
        let one = |p: &Point| format!("x {} y {}", self.number(p.x), self.number(p.y));
        points.iter().map(one).collect::<Vec<_>>().join(", ")
    }

    /// A length in words, in the file's unit.
    fn length(&self, mm: Mm) -> String {
        format!("{} {}", self.number(mm.0), self.unit.symbol())
    }

    fn number(&self, mm: f64) -> String {
        decimal(self.unit.count(Mm(mm)), if self.unit == Unit::Inch { 3 } else { 1 })
    }
}
