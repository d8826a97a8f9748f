//! What a compartment asks for: the recipe of its kind, or what it lacks for its next cell where bees stand in
//! it from an earlier day.

use super::breach::Spot;
use super::cells::unserved;
use super::goals::place;
use crate::scenario::{Line, Scenario};
use crate::standing::Standing;

/// Lines and fewest bees of one compartment.
pub(super) struct Asked<'a> {
    /// Each line, and frames that are asked for.
    pub lines: Vec<(&'a Line, i128)>,
    /// Fewest bees to be put in.
    pub fewest: i128,
    /// Bees stand in it.
    stands: bool,
    /// Bees stand in it, and it is to get no cell.
    pub left_alone: bool,
}

impl<'a> Asked<'a> {
    /// `None` where there is no such kind of box.
    pub(super) fn of(scenario: &'a Scenario, spot: Spot) -> Option<Self> {
        let kind = scenario.boxes.get(spot.kind.0)?;
        let mut all = scenario.standing.iter();
        let here =
            |s: &&Standing| (s.kind, s.box_no, s.place) == (spot.kind, spot.box_no, spot.place);
        let Some(stands) = all.find(here) else {
            let lines = kind.lines.iter();
            return Some(Self {
                lines: lines.map(|line| (line, line.count.into())).collect(),
                fewest: kind.bees.0.into(),
                stands: false,
                left_alone: false,
            });
        };
        let again = &kind.again;
        let there = stands.frames.iter().map(|group| i128::from(group.count));
        let bees = stands
            .frames
            .iter()
            .map(|group| i128::from(group.frame.bees.0));
        let on_frames: i128 = there
            .clone()
            .zip(bees)
            .map(|(count, bees)| count * bees)
            .sum();
        let short = i128::from(again.bees.0) - 100 * (on_frames + i128::from(stands.extra_bees.0));
        let fits: Vec<Vec<usize>> = again
            .lines
            .iter()
            .map(|line| {
                let fits = |at: &usize| place(line, &stands.frames[*at].frame).is_some();
                (0..stands.frames.len()).filter(fits).collect()
            })
            .collect();
        let wanted = again.lines.iter().map(|line| line.count.into()).collect();
        let lacking = unserved(&fits, wanted, there.collect());
        Some(Self {
            lines: again.lines.iter().zip(lacking).collect(),
            fewest: if short < 100 { 0 } else { short },
            stands: true,
            left_alone: !stands.wants_cell,
        })
    }

    /// Whether some line asks for brood, substitutes left aside; where bees stand, one that lacks frames.
    pub(super) fn brood_line(&self) -> bool {
        self.lines.iter().any(|(line, count)| {
            let asks = line.ask.brood.least.0 > 0 || line.ask.sealed.least.0 > 0;
            asks && (*count > 0 || !self.stands)
        })
    }
}
