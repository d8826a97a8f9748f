//! Compartments in which bees stand from an earlier day, and what one of them lacks for its next cell.

use std::borrow::Cow;

use crate::plan::Compartment;
use crate::scenario::{BoxId, BoxKind, FrameGroup, Line, Scenario};
use crate::solve::Network;
use crate::units::{Bees, Hundreds};

/// A compartment in which bees stand from an earlier day. Its place is not free for a new stocking.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// Kind of box.
    pub kind: BoxId,
    /// Which box of that kind, from 0.
    pub box_no: u32,
    /// Which compartment of that box, from 0.
    pub place: u32,
    /// Its frames; whether one holds a queen plays no part.
    pub frames: Vec<FrameGroup>,
    /// Bees in it that are on none of its frames.
    pub extra_bees: Hundreds,
    /// A next cell is wanted for it.
    pub wants_cell: bool,
}

/// What a compartment is to hold.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Recipe {
    /// Its frames.
    pub lines: Vec<Line>,
    /// Fewest bees.
    pub bees: Bees,
}

/// What a compartment asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked<'a> {
    /// Lines, with frames that are still asked for; 0 where frames that stand fill the line.
    pub lines: Cow<'a, [Line]>,
    /// Fewest bees to come, after drift.
    pub bees: Bees,
    /// Bees stand in it from an earlier day.
    pub stands: bool,
}

impl Asked<'_> {
    /// Whether some line, substitutes left aside, asks for brood, where bees stand in it one that lacks frames. Where
    /// none does, it is covered by loose bees alone.
    #[must_use]
    pub fn has_brood_line(&self) -> bool {
        let mut lines = self.lines.iter();
        lines.any(|line| line.ask.asks_for_brood() && (line.count > 0 || !self.stands))
    }
}

impl Standing {
    /// How many frames there would be beyond what there is room for, once so many more come.
    #[must_use]
    pub fn over(&self, kind: &BoxKind, more: u32) -> u32 {
        let sum = |lines: &[Line]| lines.iter().map(|l| l.count).fold(0, u32::saturating_add);
        let most = sum(&kind.lines).max(sum(&kind.again.lines));
        let there = self
            .frames
            .iter()
            .map(|g| g.count)
            .fold(0, u32::saturating_add);
        match more {
            0 => 0,
            more => there.saturating_add(more).saturating_sub(most).min(there),
        }
    }

    /// All bees in it.
    #[must_use]
    pub fn bees(&self) -> Hundreds {
        let on = |g: &FrameGroup| g.frame.bees.0.saturating_mul(g.count.into());
        let sum = self.frames.iter().map(on);
        Hundreds(sum.fold(self.extra_bees.0, i64::saturating_add))
    }

    /// Whether it is the compartment of a plan.
    #[must_use]
    pub fn is(&self, compartment: &Compartment) -> bool {
        let place = (compartment.kind, compartment.box_no, compartment.place);
        (self.kind, self.box_no, self.place) == place
    }

    /// What it lacks of what its next cell asks for. Its frames serve lines that they fit, themselves or by a
    /// substitute: each line in turn as many as it can have while those before it keep theirs, so that least
    /// is lacking in all. Fewer than a hundred bees are not asked for.
    ///
    /// ```
    /// use spareframe_solver::*;
    /// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
    /// let mut yard: Scenario = include!("../doctests/yard.rs");
    /// let kind = &mut yard.boxes[0];
    /// kind.again = Recipe { lines: kind.lines.clone(), bees: Bees(1_500) };
    /// // A full honey comb and 900 bees stand: a brood frame and 600 bees are lacking.
    /// let frames = vec![FrameGroup { count: 1, frame: yard.store_room[0].frame, queen: false }];
    /// let (kind, extra_bees) = (BoxId(0), Hundreds(9));
    /// let stands = Standing { kind, box_no: 0, place: 0, frames, extra_bees, wants_cell: true };
    /// let lacks = stands.lacks(&yard.boxes[0].again);
    /// assert_eq!(lacks.lines.iter().map(|line| line.count).collect::<Vec<_>>(), [1, 0]);
    /// assert_eq!(lacks.bees, Bees(600));
    /// ```
    #[must_use]
    pub fn lacks(&self, again: &Recipe) -> Recipe {
        let mut network = Network::default();
        let (source, sink) = (network.node(), network.node());
        let held = network.nodes(self.frames.len());
        for (group, &node) in self.frames.iter().zip(&held) {
            network.arc(node, sink, group.count.into(), 0);
        }
        let mut lines = again.lines.clone();
        for line in &mut lines {
            let asks = network.node();
            network.arc(source, asks, line.count.into(), 0);
            for (group, &node) in self.frames.iter().zip(&held) {
                if line.place_of(&group.frame).is_some() {
                    network.arc(asks, node, group.count.into(), 0);
                }
            }
            let (served, _) = network.send(source, sink, line.count.into());
            line.count -= u32::try_from(served).unwrap_or(0).min(line.count);
        }
        let short = again.bees.0.saturating_sub(self.bees().bees().0);
        Recipe {
            lines,
            bees: Bees(if short < 100 { 0 } else { short }),
        }
    }
}

impl Scenario {
    /// Frames of those that stand in a compartment for which it has no room beside what a plan puts into it: which of
    /// them, and how many. It has room for as many as its recipe, new or for the next cell, has. Frames with
    /// brood stay; of the others first those that serve no line, the emptiest first.
    ///
    /// ```
    /// use spareframe_solver::*;
    /// let mut yard: Scenario = include!("../doctests/yard.rs");
    /// let again = Recipe { lines: yard.boxes[0].lines.clone(), bees: Bees(0) };
    /// yard.boxes[0].again = again;
    /// // Two lines, one frame each; a comb of stores and an empty one stand, a brood frame comes.
    /// let stores = FrameGroup { count: 1, frame: yard.store_room[0].frame, queen: false };
    /// let mut empty = stores.clone();
    /// empty.frame.stores = Milli(0);
    /// let (kind, extra_bees) = (BoxId(0), Hundreds(9));
    /// let frames = vec![stores, empty];
    /// yard.standing = vec![Standing { kind, box_no: 0, place: 0, frames, extra_bees, wants_cell: true }];
    /// let brood = PlacedFrames { line: 0, origin: Origin::Colony(ColonyId(0), 0), count: 1 };
    /// let next = Compartment { kind, box_no: 0, place: 0, frames: vec![brood], bees: vec![] };
    /// assert_eq!(yard.makes_room(&next), [(1, 1)]);
    /// ```
    #[must_use]
    pub fn makes_room(&self, compartment: &Compartment) -> Vec<(usize, u32)> {
        let (kind, box_no, place) = (compartment.kind, compartment.box_no, compartment.place);
        let stands = self.stands(kind, box_no, place);
        let Some((stands, kind)) = stands.zip(self.boxes.get(kind.0)) else {
            return Vec::new();
        };
        let more = compartment.frames.iter().map(|placed| placed.count);
        let mut left = stands.over(kind, more.fold(0, u32::saturating_add));
        let again = &kind.again.lines;
        let serves = |group: &FrameGroup| again.iter().any(|l| l.place_of(&group.frame).is_some());
        let bare = |(_, group): &(usize, &FrameGroup)| group.frame.brood.0 == 0;
        let mut bare: Vec<_> = stands.frames.iter().enumerate().filter(bare).collect();
        bare.sort_by_key(|(at, g)| (serves(g), g.frame.stores, g.frame.drawn, *at));
        let mut out = Vec::new();
        for (at, group) in bare {
            let here = group.count.min(left);
            left -= here;
            out.extend((here > 0).then_some((at, here)));
        }
        out
    }

    /// What stands in a compartment, if anything does.
    #[must_use]
    pub fn stands(&self, kind: BoxId, box_no: u32, place: u32) -> Option<&Standing> {
        let place = (kind, box_no, place);
        self.standing
            .iter()
            .find(|stands| (stands.kind, stands.box_no, stands.place) == place)
    }

    /// What a compartment of a kind asks for: the recipe of its kind, or what it lacks for its next cell where
    /// bees stand in it. `None` where there is no such kind.
    #[must_use]
    pub fn asked(&self, kind: BoxId, box_no: u32, place: u32) -> Option<Asked<'_>> {
        let boxes = self.boxes.get(kind.0)?;
        let stands = self.stands(kind, box_no, place);
        let lacks = stands.map(|stands| stands.lacks(&boxes.again));
        Some(match lacks {
            Some(Recipe { lines, bees }) => Asked {
                lines: Cow::Owned(lines),
                bees,
                stands: true,
            },
            None => Asked {
                lines: Cow::Borrowed(&boxes.lines),
                bees: boxes.bees,
                stands: false,
            },
        })
    }
}
