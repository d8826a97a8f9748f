//! Floors and caps that nothing the colony could give would ever reach.

use super::limit::{Cap, Floor, Limit};
use super::yard::held;
use crate::honey;
use crate::scenario::{Colony, Comb, FrameState, Scenario};
use crate::solve::can_be_taken;
use crate::units::share_of;

/// Whether no draw that the colony's other limits allow would break a limit of it, so that to loosen it
/// allows nothing new. Where something is done already, nothing is said.
pub(super) fn idle(scenario: &Scenario, limit: &Limit) -> bool {
    let colony = limit.colony().and_then(|id| scenario.colonies.get(id.0));
    let Some(colony) = colony.filter(|_| scenario.done.is_empty()) else {
        return false;
    };
    let yields = Yields { scenario, colony };
    match *limit {
        Limit::Hold(_) => false,
        _ if colony.hold.is_some() => true,
        Limit::Floor(_, floor) => yields.above(floor),
        Limit::Cap(_, cap) => yields.below(cap),
        _ => false,
    }
}

/// The most that a colony could give.
struct Yields<'a> {
    scenario: &'a Scenario,
    colony: &'a Colony,
}

impl Yields<'_> {
    /// Whether a floor holds whatever is given.
    fn above(&self, floor: Floor) -> bool {
        let (keep, draw) = (&self.colony.keep, &self.colony.draw);
        let (least, given) = match floor {
            Floor::Brood => {
                let given = self.frames(|frame, _| frame.brood.0);
                let cap = draw.brood.map_or(i64::MAX, |cap| cap.0);
                (keep.brood.0, given.min(cap))
            }
            Floor::Drawn => (keep.drawn.0, self.frames(|frame, _| frame.drawn.0)),
            Floor::Stores => {
                let stores =
                    |frame: &FrameState, comb: &Comb| share_of(frame.stores, comb.stores.0);
                (keep.stores.0, self.frames(stores))
            }
            Floor::Bees => {
                let cap = draw.bees.map_or(i64::MAX, |cap| cap.0);
                (keep.bees.0, cap.min(can_be_taken(self.colony)))
            }
            Floor::Covered => return false,
        };
        let held = held(self.scenario, self.colony, floor);
        held.is_some_and(|held| held.saturating_sub(given) >= least)
    }

    /// Whether a cap holds whatever is given.
    fn below(&self, cap: Cap) -> bool {
        let draw = &self.colony.draw;
        match cap {
            Cap::Frames => draw
                .frames
                .is_some_and(|cap| self.count() <= i64::from(cap)),
            Cap::Brood => {
                let given = self.frames(|frame, _| frame.brood.0);
                draw.brood.is_some_and(|cap| given <= cap.0)
            }
            Cap::Bees => draw.bees.is_some_and(|cap| self.bees() <= cap.0),
            Cap::Honey => {
                let model = &self.scenario.colony_model;
                let rates = honey::rates(&self.scenario.combs, self.colony, model);
                let bees = draw.bees.map_or(i64::MAX, |cap| cap.0).min(self.bees());
                let bees = bees.saturating_mul(honey::hundred_charge(rates).0);
                let charge =
                    |frame: &FrameState, comb: &Comb| honey::frame_charge(comb, frame, rates).0;
                let given = self.frames(charge).saturating_add(bees);
                draw.honey.is_some_and(|cap| given <= cap.0)
            }
        }
    }

    /// Hundreds of bees on combs that the floor of bees leaves.
    fn bees(&self) -> i64 {
        let held = held(self.scenario, self.colony, Floor::Bees);
        let left = held.unwrap_or(i64::MAX) - self.colony.keep.bees.0;
        left.min(can_be_taken(self.colony)).max(0)
    }

    /// Frames without the queen.
    fn count(&self) -> i64 {
        let groups = self.colony.frames.iter().filter(|group| !group.queen);
        groups.map(|group| i64::from(group.count)).sum()
    }

    /// The most of a figure that as many frames hold as may be given.
    fn frames(&self, of: impl Fn(&FrameState, &Comb) -> i64) -> i64 {
        let groups = self.colony.frames.iter().filter(|group| !group.queen);
        let mut each: Vec<(i64, i64)> = groups
            .filter_map(|group| {
                let comb = self.scenario.combs.get(group.frame.comb.0)?;
                Some((of(&group.frame, comb), i64::from(group.count)))
            })
            .collect();
        each.sort_unstable_by(|one, other| other.cmp(one));
        let mut left = self.colony.draw.frames.map_or(i64::MAX, i64::from);
        let mut sum = 0_i64;
        for (figure, count) in each {
            let taken = count.min(left);
            left -= taken;
            sum = sum.saturating_add(figure.saturating_mul(taken));
        }
        sum
    }
}
