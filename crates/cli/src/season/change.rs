//! A scenario whose season is asked about anew, with one thing changed.

use super::colonies;
use crate::output::Notes;
use crate::output::reasons;
use crate::scenario::season::{Asked, What, usable_and_free};
use jiff::ToSpan;
use jiff::civil::Date;
use spareframe_season::Colony;
use spareframe_solver::why::{Cap, Change as Eased, Floor, Limit, changed};
use spareframe_solver::{BoxId, CellBatch, ColonyId, Scenario};

/// Days by which a want is put off (a choice: a week).
const LATER: i64 = 7;

/// Something that is otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Change {
    /// More boxes of a kind, or a limit of a colony eased.
    Eased(Eased),
    /// One more cell for a round of the file.
    Cell(usize),
    /// One more colony like one that is there.
    Like(ColonyId),
    /// A want of the file a week later.
    Later(usize),
    /// A round of the file gives no queen.
    RainedOut(usize),
}

/// What is known of a season, one thing changed.
#[derive(Debug, Clone)]
pub(crate) struct Changed {
    pub scenario: Scenario,
    pub notes: Notes,
    pub asked: Asked,
    /// The same as changes of values of the file; none where it is no change of values.
    pub sets: Vec<String>,
}

/// Limits of a colony that a season knows, each eased by a step: a frame, 1000 bees, 10 % of the bees that cover, 1 kg.
pub(crate) fn limits(scenario: &Scenario, id: ColonyId) -> Vec<Change> {
    let floors = [
        (Floor::Brood, 1000),
        (Floor::Bees, 10),
        (Floor::Covered, 10),
    ];
    let caps = [
        (Cap::Frames, 1),
        (Cap::Brood, 1000),
        (Cap::Bees, 10),
        (Cap::Honey, 1000),
    ];
    let floors = floors.map(|(floor, by)| (Limit::Floor(id, floor), by));
    let caps = caps.map(|(cap, by)| (Limit::Cap(id, cap), by));
    let all = floors.into_iter().chain(caps);
    // There is no such floor, or no such cap, or nothing is to leave the colony.
    let there = all.filter(|(limit, _)| limit.now(scenario) > 0);
    let by = |limit: &Limit, by: i64| match limit.is_floor() {
        true => by.min(limit.now(scenario)),
        false => by,
    };
    there
        .map(|(limit, most)| {
            let by = by(&limit, most);
            Change::Eased(Eased { limit, by })
        })
        .collect()
}

impl Change {
    /// The scenario with it; `None` where there is nothing to change.
    pub fn made(
        self,
        (scenario, notes, asked): (&Scenario, &Notes, &Asked),
        today: Date,
    ) -> Option<Changed> {
        let mut to = Changed {
            scenario: scenario.clone(),
            notes: notes.clone(),
            asked: asked.clone(),
            sets: Vec::new(),
        };
        match self {
            Self::Eased(eased) => {
                to.scenario = changed(scenario, &[eased]);
                to.sets.push(reasons::set(scenario, &eased));
            }
            Self::Cell(round) => to.one_more_cell(round, today)?,
            Self::Like(id) => {
                let mut colony = scenario.colonies.get(id.0)?.clone();
                colony.name = free_name(scenario, &colony.name);
                to.scenario.colonies.push(colony);
                to.notes.counts.extend(notes.counts.get(id.0).cloned());
            }
            Self::Later(at) => {
                let want = to.asked.wants.get_mut(at)?;
                let by = want.by.filter(|_| want.what != What::Winter)?;
                let by = by.saturating_add(LATER.days());
                want.by = Some(by);
                to.sets.push(format!("season.wants[{}].by={by}", at + 1));
            }
            Self::RainedOut(round) => {
                let day = *asked.rounds.get(round)?;
                let lost = &mut to.asked.rained_out;
                if lost.contains(&day) {
                    return None;
                }
                lost.push(day);
                lost.sort_unstable();
                let days: Vec<String> = lost.iter().map(Date::to_string).collect();
                to.sets
                    .push(format!("season.rained out=[{}]", days.join(", ")));
            }
        }
        Some(to)
    }

    /// A colony that it changes, or that comes, as the planner of seasons takes it.
    pub fn colony(self, to: &Changed, today: Date) -> Option<Colony> {
        let id = match self {
            Self::Eased(eased) => eased.limit.colony()?,
            Self::Like(_) => ColonyId(to.scenario.colonies.len().checked_sub(1)?),
            _ => return None,
        };
        let of = (id, to.scenario.colonies.get(id.0)?);
        let last = to.asked.rounds.last().copied().unwrap_or(today);
        let (usable, _) = usable_and_free(&to.notes.rearing);
        let days = (today, last.saturating_add(i64::from(usable).days()));
        Some(colonies::one(&to.scenario, &to.notes, &to.asked, days, of))
    }
}

impl Changed {
    /// One more cell for a round in which they are counted; of those at hand today, where they are for all boxes that take cells.
    fn one_more_cell(&mut self, round: usize, today: Date) -> Option<()> {
        let said = self.asked.cells.get(round).copied().flatten();
        let mut counted = false;
        if self.asked.rounds.get(round) == Some(&today) {
            let takes = &self.notes.rearing.takes;
            let cells = |kind: &BoxId| takes.get(kind.0) != Some(&true);
            let all = (0..self.scenario.boxes.len())
                .map(BoxId)
                .filter(cells)
                .count();
            let batches = self.scenario.cells.iter_mut().flatten();
            let own = batches.filter(|batch| batch.boxes.iter().all(cells));
            let own: Vec<_> = own.filter(|of| of.count < CellBatch::UNCOUNTED).collect();
            for batch in own {
                if counted || !batch.boxes.is_empty() && batch.boxes.len() < all {
                    return None;
                }
                counted = true;
                batch.count += 1;
                self.sets.push(format!("cells={}", batch.count));
            }
        }
        if let Some(said) = said {
            *self.asked.cells.get_mut(round)? = Some(said + 1);
            let cells = self.asked.cells.iter();
            let cells: Vec<String> = cells.map(|cells| cells.unwrap_or(0).to_string()).collect();
            self.sets
                .push(format!("season.cells=[{}]", cells.join(", ")));
        }
        (counted || said.is_some()).then_some(())
    }
}

fn free_name(scenario: &Scenario, like: &str) -> String {
    let mut name = format!("like {like}");
    while scenario.colonies.iter().any(|colony| colony.name == name) {
        name.push('\'');
    }
    name
}
