//! `[[panel]]`: panels the builders do not know.

use super::outline::{outline, scribed};
use super::table::Table;
use super::{Length, Outline, Scribed, Text, Written};
use crate::diag::Span;
use crate::units::Mm;

/// `[[panel]]`.
#[derive(Clone, Debug)]
pub struct Panel {
    /// `name`.
    pub name: Text,
    /// `size`: length and width.
    pub size: Option<Written<[Mm; 2]>>,
    /// `board`.
    pub board: Option<Text>,
    /// `quantity`.
    pub quantity: Option<Written<u32>>,
    /// `grain`.
    pub grain: Option<Written<PanelGrain>>,
    /// `at`: left, front, bottom.
    pub at: Option<Written<[Mm; 3]>>,
    /// `outline`: corners or a drawing; `None` when not given.
    pub outline: Option<Outline>,
    /// `scribed`: an edge that follows something crooked.
    pub scribed: Option<Scribed>,
    /// `holes`, `slots`, `cut_outs` and `notches`.
    pub cuts: Vec<Cut>,
    /// Where it is written.
    pub span: Span,
}

/// `grain = "length" | "width" | "any"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PanelGrain {
    /// `length`.
    Length,
    /// `width`.
    Width,
    /// `any`.
    Any,
}

/// One cut of a panel.
#[derive(Clone, Debug)]
pub struct Cut {
    /// What.
    pub shape: CutShape,
    /// `depth`; `None` for through.
    pub depth: Option<Length>,
    /// Where it is written.
    pub span: Span,
}

/// Shapes of cuts.
#[derive(Clone, Debug)]
pub enum CutShape {
    /// One of `holes`.
    Hole {
        /// `at`: centre.
        at: Written<[Mm; 2]>,
        /// `diameter` or `for`.
        size: HoleSize,
    },
    /// One of `slots`.
    Slot {
        /// `from`: centre of one end.
        from: Written<[Mm; 2]>,
        /// `to`: centre of the other.
        to: Written<[Mm; 2]>,
        /// `width`.
        width: Length,
    },
    /// One of `cut_outs`.
    CutOut {
        /// `at`: lower left corner.
        at: Written<[Mm; 2]>,
        /// `size`.
        size: Written<[Mm; 2]>,
        /// `radius` of its corners.
        radius: Option<Length>,
    },
    /// One of `notches`.
    Notch {
        /// `at`: lower left corner.
        at: Written<[Mm; 2]>,
        /// `size`.
        size: Written<[Mm; 2]>,
    },
}

/// How a hole's size is given.
#[derive(Clone, Debug)]
pub enum HoleSize {
    /// `diameter`.
    Diameter(Length),
    /// `for`: the fastener that passes.
    For(Text),
}

pub(super) fn read(mut table: Table<'_>, index: usize) -> Panel {
    let span = table.span;
    let name = table.own_name("panel", index);
    let outline = outline(&mut table);
    let size = if table.entries().iter().any(|e| e.key == "outline") {
        table.lengths("size")
    } else {
        table.need("size", "[600, 300]", Table::lengths)
    };
    let mut cuts = Vec::new();
    cuts.extend(table.tables("holes").into_iter().filter_map(hole));
    cuts.extend(table.tables("slots").into_iter().filter_map(slot));
    cuts.extend(table.tables("cut_outs").into_iter().filter_map(cut_out));
    cuts.extend(table.tables("notches").into_iter().filter_map(notch));
    let panel = Panel {
        name,
        size,
        board: table.need("board", "\"carcass\"", Table::text),
        quantity: table.count("quantity"),
        grain: table
            .one_of("grain", &[("length", PanelGrain::Length), ("width", PanelGrain::Width), ("any", PanelGrain::Any)]),
        at: table.lengths("at"),
        outline,
        scribed: scribed(&mut table),
        cuts,
        span,
    };
    table.finish();
    panel
}

fn hole(mut table: Table<'_>) -> Option<Cut> {
    let span = table.span;
    let at = table.need("at", "[20, 20]", Table::lengths);
    let (diameter, fastener, depth) = (table.length("diameter"), table.text("for"), table.length("depth"));
    let size = match (diameter, fastener) {
        (Some(diameter), None) => Some(HoleSize::Diameter(diameter)),
        (None, Some(fastener)) => Some(HoleSize::For(fastener)),
        (Some(diameter), Some(_)) => {
            super::carcass::clash(&table, "`for` and `diameter`", "keep one of them", diameter.span);
            None
        }
        (None, None) => {
            if !table.gives("for") && !table.gives("diameter") {
                table.missing("diameter", "6.6");
            }
            None
        }
    };
    table.finish();
    Some(Cut { shape: CutShape::Hole { at: at?, size: size? }, depth, span })
}

fn slot(mut table: Table<'_>) -> Option<Cut> {
    let span = table.span;
    let from = table.need("from", "[40, 40]", Table::lengths);
    let to = table.need("to", "[90, 40]", Table::lengths);
    let width = table.need("width", "8", Table::length);
    let depth = table.length("depth");
    table.finish();
    Some(Cut { shape: CutShape::Slot { from: from?, to: to?, width: width? }, depth, span })
}

fn cut_out(mut table: Table<'_>) -> Option<Cut> {
    let span = table.span;
    let at = table.need("at", "[40, 40]", Table::lengths);
    let size = table.need("size", "[90, 40]", Table::lengths);
    let (radius, depth) = (table.length("radius"), table.length("depth"));
    table.finish();
    Some(Cut { shape: CutShape::CutOut { at: at?, size: size?, radius }, depth, span })
}

fn notch(mut table: Table<'_>) -> Option<Cut> {
    let span = table.span;
    let at = table.need("at", "[0, 40]", Table::lengths);
    let size = table.need("size", "[15, 90]", Table::lengths);
    table.finish();
    Some(Cut { shape: CutShape::Notch { at: at?, size: size? }, depth: None, span })
}
