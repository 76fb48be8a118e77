//! Pull-outs, lids and lips.

use super::bench::{Bench, Lost};
use super::defaults::{self, KEEP_UNDER_COVER, LIP_HEIGHT, PLAY_SIDE, PLAY_WASHERS, PRACTICE, SCREW, STRIP_WIDTH};
use super::order::Order;
use super::{codes, BoardId, Edge, Lid, Lip, PlayAbove, PullOut};
use crate::project::{self, Choice, LipEdge, Text};
use crate::units::decimal;

/// No lid turns further than this from shut, in degrees: it would lie on what it is hinged to.
const WIDEST_LID_DEG: f64 = 180.0;

impl Bench<'_> {
    pub(super) fn pull_outs(&mut self, order: &Order) -> Vec<PullOut> {
        let project = self.project;
        let list: Vec<Option<PullOut>> = project.pull_outs.iter().map(|p| self.pull_out(p, order)).collect();
        self.lost |= list.iter().any(Option::is_none);
        list.into_iter().flatten().collect()
    }

    fn pull_out(&mut self, written: &project::PullOut, order: &Order) -> Option<PullOut> {
        let shop = self.shop;
        let name = &written.name.value;
        let place = written.over.as_ref().and_then(|over| self.column_of(over));
        let carcass_board = place.and_then(|(carcass, _)| self.carcass_board(carcass));
        let board = match &written.board {
            Some(board) => self.board(board),
            None => carcass_board,
        };
        let strip_board = self.board_or(written.strip_board.as_ref(), board);
        let stop_default = defaults::bolt(self.project.units);
        let stop = match &written.stop {
            Choice::Off => Some(None),
            Choice::Default => {
                self.assume(format!("Pull-outs: stopped at both ends by a bolt {stop_default} in a slot ({PRACTICE})."));
                self.profile(&shop.fasteners, "fastener", stop_default, None).map(Some)
            }
            Choice::Given(id) => self.profile(&shop.fasteners, "fastener", &id.value, Some(id.span)).map(Some),
        };
        let cover = self.cover(written, place.map(|(carcass, _)| carcass), order, strip_board);
        let keep_under_cover = written.keep_under_cover.as_ref().map(|share| share.value);
        if keep_under_cover.is_none() {
            self.assume(format!("Pull-outs: a share of {} stays under cover ({PRACTICE}).", decimal(KEEP_UNDER_COVER, 2)));
        }
        let strip_bolt = self.profile(&shop.fasteners, "fastener", stop_default, None);
        let pull_out = PullOut {
            strip_bolt: strip_bolt?,
            name: name.clone(),
            strip_width: self.strip_width(written),
            strip_length: self.positive_if(written.strip_length.as_ref(), &format!("{name} strip length")),
            length: self.positive_if(written.length.as_ref(), &format!("{name} length")),
            play_side: self.chosen_or(
                written.play.sides.as_ref(),
                PLAY_SIDE,
                "Play at each side of pull-outs",
                &format!("{name} play at each side"),
            ),
            play_above: self.play_above(written)?,
            pad: self.positive_if(written.play.pad.as_ref(), &format!("{name} pad above")),
            catch: written.catch.as_ref().is_some_and(|c| c.value),
            keep_under_cover: keep_under_cover.unwrap_or(KEEP_UNDER_COVER),
            over: order.settled(place?.0)?,
            column: place?.1,
            board: board?,
            strip_board: strip_board?,
            cover: cover.ok()?,
            stop: stop?,
            load_kg: written.load_kg.as_ref().map(|load| load.value),
            span: Some(written.span),
        };
        Some(pull_out)
    }

    fn strip_width(&mut self, written: &project::PullOut) -> crate::dim::Dim {
        let label = format!("{} strip width", written.name.value);
        match &written.strip_width {
            Some(length) => self.positive(length, &label),
            None => self.assumed(STRIP_WIDTH, "Width of runner strips", &label),
        }
    }

    fn play_above(&mut self, written: &project::PullOut) -> Option<PlayAbove> {
        let shop = self.shop;
        let play = &written.play;
        if let (Some(above), None) = (&play.above, &play.washers) {
            let label = format!("{} play above", written.name.value);
            return Some(PlayAbove::Play(self.positive(above, &label)));
        }
        let id = play.washer.as_ref().map_or(defaults::bolt(self.project.units), |washer| washer.value.as_str());
        let fastener = self.profile(&shop.fasteners, "fastener", id, play.washer.as_ref().map(|washer| washer.span))?;
        if fastener.washer.is_none() {
            self.lost = true;
            let message =
                format!("fastener `{id}` has no washer, so it cannot shim the strips of \"{}\"", written.name.value);
            let span = play.washer.as_ref().map_or(written.span, |washer| washer.span);
            self.stop(super::codes::NAME_UNKNOWN, message, span, "name a bolt, such as `washer = \"M6\"`");
        }
        let count = play.washers.as_ref().map(|washers| washers.value);
        if count.is_none() {
            self.assume(format!("Pull-outs: play above of {PLAY_WASHERS} washer {id} under the strips ({PRACTICE})."));
        }
        Some(PlayAbove::Washers { count: count.unwrap_or(PLAY_WASHERS), fastener })
    }

    /// A cover of its own, unless a carcass stands above.
    fn cover(
        &mut self,
        written: &project::PullOut,
        over: Option<usize>,
        order: &Order,
        strips: Option<BoardId>,
    ) -> Result<Option<BoardId>, Lost> {
        let carried = over.is_some_and(|over| order.below.contains(&Some(over)));
        match &written.cover {
            Some(cover) if cover.value == "above" => {
                if !carried && over.is_some() {
                    self.lost = true;
                    let message = format!("nothing stands above pull-out \"{}\" to cover it", written.name.value);
                    self.stop(
                        super::codes::NAME_UNKNOWN,
                        message,
                        cover.span,
                        "name a board for a cover of its own, or put a carcass above with `on`",
                    );
                }
                Ok(None)
            }
            Some(cover) => self.board(cover).map(Some).ok_or(Lost),
            None if carried => Ok(None),
            None => {
                self.assume(format!(
                    "Pull-out \"{}\": a cover of its own from the strips' board, since no carcass stands above it.",
                    written.name.value
                ));
                strips.map(Some).ok_or(Lost)
            }
        }
    }

    /// The carcass, and the column if one is named: `lower`, `lower.left`.
    fn column_of(&mut self, over: &Text) -> Option<(usize, Option<usize>)> {
        let project = self.project;
        let mut known: Vec<(String, usize, Option<usize>)> = Vec::new();
        for (i, carcass) in project.carcasses.iter().enumerate() {
            known.push((carcass.name.value.clone(), i, None));
            for (j, column) in carcass.columns.iter().enumerate() {
                known.push((format!("{}.{}", carcass.name.value, column.name.value), i, Some(j)));
            }
        }
        let at = self.find(over, "carcass or column", known.iter().map(|(name, ..)| name.as_str()))?;
        Some((known[at].1, known[at].2))
    }

    /// The board of a carcass of the project, without reporting its absence twice.
    fn carcass_board(&self, carcass: usize) -> Option<BoardId> {
        let name = self.project.carcasses.get(carcass)?.board.as_ref()?;
        self.project.boards.iter().position(|board| board.name.value == name.value).map(BoardId)
    }

    pub(super) fn lips(&mut self, order: &Order) -> Vec<Lip> {
        let project = self.project;
        let list: Vec<Option<Lip>> = project.lips.iter().map(|lip| self.lip(lip, order)).collect();
        self.lost |= list.iter().any(Option::is_none);
        list.into_iter().flatten().collect()
    }

    /// A top that opens.
    pub(super) fn lid(&mut self, lid: &project::Lid, name: &str) -> Option<Lid> {
        let (hinge, angle) = (lid.hinge.as_ref()?, lid.angle_deg.as_ref()?);
        if angle.value <= 0.0 || angle.value > WIDEST_LID_DEG {
            let message = format!("the lid of {name} is said to open to {} degrees", angle.value);
            self.stop(codes::DOOR_ANGLE, message, angle.span, "give the angle from shut: 90 stands straight up");
        }
        Some(Lid { hinge: edge(hinge.value), angle: angle.value.to_radians(), span: Some(lid.span) })
    }

    fn lip(&mut self, written: &project::Lip, order: &Order) -> Option<Lip> {
        let (project, shop) = (self.project, self.shop);
        let on = written
            .on
            .as_ref()
            .and_then(|on| self.find(on, "carcass", project.carcasses.iter().map(|carcass| carcass.name.value.as_str())));
        let board = match &written.board {
            Some(board) => self.board(board),
            None => on.and_then(|on| self.carcass_board(on)),
        };
        let below = on.and_then(|on| project.carcasses.get(on));
        let chosen = written.screw.as_ref().or_else(|| below.and_then(|carcass| carcass.screw.as_ref()));
        let id = chosen.map_or(SCREW, |screw| screw.value.as_str());
        let screw = self.profile(&shop.fasteners, "fastener", id, chosen.map(|screw| screw.span));
        let label = match below {
            Some(carcass) => format!("{} lip height", carcass.name.value),
            None => "lip height".to_owned(),
        };
        let height = match &written.height {
            Some(height) => self.positive(height, &label),
            None => self.assumed(LIP_HEIGHT, "Height of lips above the top", &label),
        };
        let mut edges: Vec<Edge> = written.edges.iter().map(|written| edge(written.value)).collect();
        edges.sort_unstable();
        edges.dedup();
        if edges.is_empty() {
            self.assume(format!("Lips without `edges`: along the back, left and right ({PRACTICE})."));
            edges = vec![Edge::Back, Edge::Left, Edge::Right];
        }
        Some(Lip { on: order.settled(on?)?, edges, height, board: board?, screw: screw?, span: Some(written.span) })
    }
}

fn edge(written: LipEdge) -> Edge {
    match written {
        LipEdge::Front => Edge::Front,
        LipEdge::Back => Edge::Back,
        LipEdge::Left => Edge::Left,
        LipEdge::Right => Edge::Right,
    }
}
