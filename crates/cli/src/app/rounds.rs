//! A scenario whose season is asked about: planned, decided, checked, told.

use super::answer::{bug, hold_back, told};
use super::detail::Detail;
use super::ended::Stop;
use super::limit::Limit;
use super::load::{closed, stocking_day};
use crate::output::Notes;
use crate::output::season::{Found, SeasonReport, build};
use crate::scenario::season::Asked;
use crate::season::{Decided, Missing, Near, Planned, decided};
use jiff::civil::Date;
use spareframe_season::{Listed, Outlook, check};
use spareframe_solver::{Scenario, SolveOptions};

/// The season with other numbers today, and with other numbers of boxes; one that was shared, to which it is near.
pub(super) type Beside<'a> = (
    Vec<(i64, Outlook)>,
    Vec<(usize, u32, Outlook)>,
    Option<&'a Near>,
);

/// A scenario with a season.
#[derive(Clone, Copy)]
pub(super) struct Rounds<'a> {
    pub scenario: &'a Scenario,
    pub notes: &'a Notes,
    pub asked: &'a Asked,
    pub today: Date,
}

impl<'a> Rounds<'a> {
    /// Of a scenario that has one, on a day that is closed.
    pub fn of(scenario: &'a Scenario, notes: &'a Notes) -> Result<Self, Stop> {
        let today = stocking_day(notes)?;
        let asked = notes.season.as_ref().ok_or_else(no_season)?;
        closed(scenario)?;
        Ok(Self {
            scenario,
            notes,
            asked,
            today,
        })
    }

    /// With a season to plan from today on, or why there is none.
    pub fn at(
        scenario: &'a Scenario,
        notes: &'a Notes,
        asked: &'a Asked,
        today: Date,
    ) -> Result<Self, String> {
        let rounds = Self {
            scenario,
            notes,
            asked,
            today,
        };
        let planned = Planned::of(scenario, notes, asked, today);
        let missing = planned.map_err(|missing| rounds.missing(missing));
        missing.map(|_| rounds)
    }

    /// Whether nothing but today's round is asked for, so that its plan is that of `stock`.
    pub fn alone(&self) -> bool {
        self.planned().is_ok_and(|planned| planned.alone())
    }

    /// As the planner takes it.
    pub fn planned(&self) -> Result<Planned, Stop> {
        let planned = Planned::of(self.scenario, self.notes, self.asked, self.today);
        planned.map_err(|missing| Stop::Said(self.missing(missing)))
    }

    fn missing(&self, missing: Missing) -> String {
        match missing {
            Missing::Over => "all rounds of the season are over; add those to come to `rounds`".to_owned(),
            Missing::NotToday(next) => format!(
                "today, {}, is no round of the season: the next is {next}; go on to it with `spareframe onward --to {next}`, or \
                 write today into `rounds`",
                self.today
            ),
            Missing::Given => "compartments are given mated queens (`rearing: {given: mated queens}`), and a season is about \
                               cells; leave `given` out"
                .to_owned(),
        }
    }

    /// Decided, and its outlook checked; `listed` is what colonies may give in a season that has them in common.
    pub fn decided(&self, listed: &Listed, options: &SolveOptions) -> Result<Decided, Stop> {
        self.decided_as(self.planned()?, listed, options)
    }

    /// The same of a season as it is planned.
    pub fn decided_as(
        &self,
        planned: Planned,
        listed: &Listed,
        options: &SolveOptions,
    ) -> Result<Decided, Stop> {
        let found = decided(self.scenario, planned, listed, options).ok_or_else(lost)?;
        checked(&found.agreed.planned, found.outlook())?;
        Ok(found)
    }

    /// The report, with today's plan checked; what keeps its compartments empty is said in some detail, or not at all.
    pub fn shown(
        &self,
        found: &Decided,
        options: &SolveOptions,
        detail: Option<Detail>,
        (against, boxes, near): Beside,
    ) -> Result<SeasonReport, Stop> {
        let agreed = &found.agreed;
        let options = SolveOptions {
            most: agreed.most,
            ..*options
        };
        let of = (&agreed.yard, self.notes);
        let mut plan = told(of, &found.today, &options)?;
        if let Some(detail) = detail {
            let limit = Limit::under(&options);
            hold_back(of, &found.today, &mut plan, limit, detail);
        }
        Ok(build(Found {
            scenario: self.scenario,
            notes: self.notes,
            asked: self.asked,
            planned: &agreed.planned,
            outlook: &agreed.outlook,
            fewer: agreed.fewer,
            plan,
            against,
            near,
            boxes,
        }))
    }
}

fn no_season() -> Stop {
    Stop::Said(
        "the scenario has no season; add `season: {rounds: [2031-05-20, 2031-06-17]}` with the days of your rounds, \
         today's first"
            .to_owned(),
    )
}

/// That a season is lost is our bug.
pub(super) fn lost() -> Stop {
    Stop::Said(super::bugs::report("a season is lost"))
}

/// An outlook that fails its check is our bug, and no figure of it is shown.
pub(super) fn checked(planned: &Planned, outlook: &Outlook) -> Result<(), Stop> {
    let faults = check(&planned.season, outlook);
    if faults.is_empty() {
        return Ok(());
    }
    let faults: Vec<String> = faults.iter().map(|fault| format!("{fault:?}")).collect();
    Err(bug(&faults))
}
