//! Webs that are too thin: held against their limits, and alike ones told together.

use super::context::mm;
use super::web::HARD_FLOOR;
use super::{codes, FlatPart};
use crate::diag::{Finding, Severity, Span};
use crate::geom::tolerance;
use crate::units::Mm;

/// What is wood's neighbour on one side.
pub(super) const EDGE: &str = "the edge";

/// Two shapes of one part, by feature id (or [`EDGE`]).
#[derive(Clone, Copy)]
pub(super) struct Between<'a> {
    pub(super) a: &'a str,
    pub(super) b: &'a str,
    pub(super) span: Option<Span>,
}

/// What a web has to stand.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Web {
    /// Between two cuts through the part, or such a cut and an edge: the project's least web.
    Through,
    /// Beside a single screw's hole: no bridge, so only the hard floor counts.
    Screw,
    /// Beside a blind cut: the wall stands on its floor; under the hard floor it is worth a look.
    Blind,
}

struct Thin {
    severity: Severity,
    apart: f64,
    limit: Mm,
    a: Vec<String>,
    b: String,
    span: Option<Span>,
}

/// The thin webs of one part.
#[derive(Default)]
pub(super) struct Webs(Vec<Thin>);

impl Webs {
    /// Holds a web of `apart` mm against what it has to stand.
    pub(super) fn judge(&mut self, between: Between, apart: f64, min_web: Mm, web: Web) {
        let under = |limit: Mm| apart < limit.0 - tolerance::SAME_POINT;
        let (severity, limit) = if under(HARD_FLOOR) {
            (if web == Web::Blind { Severity::Caution } else { Severity::Stop }, HARD_FLOOR)
        } else if web == Web::Through && under(min_web) {
            (Severity::Caution, min_web)
        } else {
            return;
        };
        let alike =
            |t: &&mut Thin| t.severity == severity && t.b == between.b && t.span == between.span && mm(t.apart) == mm(apart);
        if let Some(thin) = self.0.iter_mut().find(alike) {
            thin.a.push(between.a.to_owned());
        } else {
            let (a, b) = (vec![between.a.to_owned()], between.b.to_owned());
            self.0.push(Thin { severity, apart, limit, a, b, span: between.span });
        }
    }

    /// All of them as findings on a part.
    pub(super) fn tell(self, part: &FlatPart, findings: &mut Vec<Finding>) {
        for thin in self.0 {
            let names: Vec<String> = thin.a.iter().map(|a| format!("`{a}`")).collect();
            let each = if names.len() > 1 { "each of " } else { "" };
            let other = if thin.b == EDGE { thin.b } else { format!("`{}`", thin.b) };
            let text = format!("{} mm of wood between {other} and {each}{}", mm(thin.apart), names.join(", "));
            let source = if thin.limit == HARD_FLOOR { "cutting services' file rules" } else { "the project's least web" };
            let finding = if thin.severity == Severity::Stop {
                Finding::stop(codes::WEB_TOO_THIN, text)
            } else {
                Finding::caution(codes::WEB_TOO_THIN, text)
            };
            findings.push(
                finding
                    .limit(format!("{} mm, {source}", thin.limit))
                    .part(&part.id)
                    .at(thin.span)
                    .remedy(format!("move them {} mm further apart", mm(thin.limit.0 - thin.apart))),
            );
        }
    }
}
