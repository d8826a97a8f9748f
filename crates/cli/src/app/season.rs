//! `season`: today's round as a plan, and what it leads to.

use super::answer::answer;
use super::args;
use super::delivery::Delivery;
use super::detail::Detail;
use super::ended::{Exit, Stop};
use super::limit::Limit;
use super::load::{closed, load, stocking_day};
use super::progress::with_progress;
use crate::output::season::{Found, SeasonReport, build};
use crate::output::{Notes, Stocked};
use crate::probe::figures;
use crate::scenario::season::Asked;
use crate::season::{Agreed, Missing, Planned, agree, settled};
use jiff::civil::Date;
use rayon::prelude::*;
use spareframe_season::{Outlook, RELAXATIONS, check, plan};
use spareframe_solver::{Outcome, Scenario, SolveOptions};
use std::path::PathBuf;

/// Other numbers today that the season is set against, at most (a choice: what a table shows).
const AGAINST: i64 = 8;
/// Most cells of today for which all numbers are set against it.
const MOST_BOXES: usize = 200;

/// What `season` is to do.
#[derive(Debug)]
pub(super) struct SeasonTask {
    scenario: PathBuf,
    boxes: Option<String>,
    plan: Option<Delivery>,
    time_limit: Limit<'static>,
    shown: Delivery,
}

impl SeasonTask {
    pub(super) fn from_args(a: args::Season) -> Result<Self, Stop> {
        let shown = Delivery::of(a.writing, &a.of.scenario, (&a.said).into())?;
        let plan = match a.plan {
            None => None,
            Some(out) => {
                let typed = args::Writing::<Stocked<'static>> {
                    format: None,
                    out: Some(out),
                    force: shown.force,
                    of: std::marker::PhantomData,
                };
                Some(Delivery::of(typed, &a.of.scenario, shown.detail)?)
            }
        };
        Ok(Self {
            scenario: a.of.scenario,
            boxes: a.boxes,
            plan,
            time_limit: Limit::of(a.time.time_limit),
            shown: shown.wide(a.table.width).marked(a.mark.bom)?,
        })
    }
}

/// Decides the season, and stocks today's round of it.
pub(super) fn perform(task: &SeasonTask) -> Result<Exit, Stop> {
    task.shown.may_write()?;
    if let Some(plan) = &task.plan {
        plan.may_write()?;
    }
    let (scenario, notes) = load(&task.scenario, task.shown.detail)?;
    let today = stocking_day(&notes)?;
    let asked = notes.season.as_ref().ok_or_else(no_season)?;
    closed(&scenario)?;
    let yard = Yard::of(&scenario, &notes, asked, today).map_err(Stop::Said)?;
    let boxes = task.boxes.as_deref();
    let (_, report) = with_progress(task.shown.detail, |_| {
        yard.report(boxes, task.time_limit, task.shown.detail)
    })?;
    if let Some(plan) = &task.plan {
        plan.deliver(&Stocked {
            report: &report.plan,
            scenario: &scenario,
            notes: &notes,
        })?;
    }
    task.shown.deliver(&report)?;
    let stocked = report.rounds.iter().any(|round| round.cells > 0);
    Ok(if stocked { Exit::Done } else { Exit::No })
}

fn no_season() -> Stop {
    Stop::Said(
        "the scenario has no season; add `season: {rounds: [2031-05-20, 2031-06-17]}` with the days of your rounds, \
         today's first"
            .to_owned(),
    )
}

/// Why there is no season to plan.
fn said(missing: Missing, today: Date) -> String {
    match missing {
        Missing::Over => {
            "all rounds of the season are over; add those to come to `rounds`".to_owned()
        }
        Missing::NotToday(next) => format!(
            "today, {today}, is no round of the season: the next is {next}; go on to it with `spareframe onward --to {next}`, or \
             write today into `rounds`"
        ),
        Missing::Given => "compartments are given mated queens (`rearing: {given: mated queens}`), and a season is about \
                           cells; leave `given` out"
            .to_owned(),
    }
}

/// A yard whose season is planned.
pub(super) struct Yard<'a> {
    scenario: &'a Scenario,
    notes: &'a Notes,
    asked: &'a Asked,
    today: Date,
    planned: Planned,
}

impl<'a> Yard<'a> {
    /// A yard with a season to plan from today on, or why there is none.
    pub(super) fn of(
        scenario: &'a Scenario,
        notes: &'a Notes,
        asked: &'a Asked,
        today: Date,
    ) -> Result<Self, String> {
        let planned = Planned::of(scenario, notes, asked, today);
        let planned = planned.map_err(|missing| said(missing, today))?;
        Ok(Self {
            scenario,
            notes,
            asked,
            today,
            planned,
        })
    }

    /// Whether nothing but today's round is asked for, so that its plan is that of `stock`.
    pub(super) fn alone(&self) -> bool {
        self.planned.alone()
    }

    /// The season, and today's round of it as a plan, which every command shows alike.
    pub(super) fn report(
        &self,
        boxes: Option<&str>,
        time_limit: Limit,
        detail: Detail,
    ) -> Result<(Outcome, SeasonReport), Stop> {
        let options = time_limit.solving();
        let planned = self.planned.clone();
        let decide = |planned: &Planned| plan(&planned.season, RELAXATIONS);
        let agreed = agree(self.scenario, planned, &decide, &options);
        let agreed = agreed.ok_or_else(|| Stop::Said(super::bugs::report("a season is lost")))?;
        let options = SolveOptions {
            most: agreed.most,
            ..options
        };
        let notes = self.notes;
        let (outcome, today) = answer(&agreed.yard, notes, None, &options, detail)?;
        let base = agreed.planned.clone();
        let agreed = settled(agreed, &outcome, &decide);
        checked(&agreed.planned, &agreed.outlook)?;
        let against = against(&base, &agreed)?;
        let boxes = match boxes {
            Some(typed) => self.boxes(typed)?,
            None => Vec::new(),
        };
        let report = build(Found {
            scenario: self.scenario,
            notes,
            asked: self.asked,
            planned: &agreed.planned,
            outlook: &agreed.outlook,
            fewer: agreed.fewer,
            plan: today,
            against,
            boxes,
        });
        Ok((outcome, report))
    }

    /// The season with other numbers of boxes.
    fn boxes(&self, typed: &str) -> Result<Vec<(usize, u32, Outlook)>, Stop> {
        let (kind, numbers) = self.kind_and_numbers(typed)?;
        let one = |&boxes: &u32| {
            let mut scenario = self.scenario.clone();
            if let Some(kind) = scenario.boxes.get_mut(kind) {
                kind.count = boxes;
            }
            let planned = Planned::of(&scenario, self.notes, self.asked, self.today);
            let planned = planned.map_err(|missing| Stop::Said(said(missing, self.today)))?;
            let lost = || Stop::Said(super::bugs::report("a season is lost"));
            let outlook = plan(&planned.season, RELAXATIONS).ok_or_else(lost)?;
            checked(&planned, &outlook)?;
            Ok((kind, boxes, outlook))
        };
        numbers.par_iter().map(one).collect()
    }

    fn kind_and_numbers(&self, typed: &str) -> Result<(usize, Vec<u32>), Stop> {
        let takes = &self.notes.rearing.takes;
        let kinds = self.scenario.boxes.iter().enumerate();
        let cells: Vec<(usize, &str)> = kinds
            .filter(|(at, _)| takes.get(*at) != Some(&true))
            .map(|(at, kind)| (at, kind.name.as_str()))
            .collect();
        let names: Vec<&str> = cells.iter().map(|(_, name)| *name).collect();
        let which = |typed: &str| {
            crate::reading::escaped(&format!(
                "--boxes {typed}: write numbers as 6..40, and of several kinds which: {}",
                names
                    .iter()
                    .map(|name| format!("`{name}=6..40`"))
                    .collect::<Vec<_>>()
                    .join(" or ")
            ))
        };
        let (kind, numbers) = match (typed.rsplit_once('='), &cells[..]) {
            (Some((name, numbers)), _) => {
                let found = cells.iter().find(|(_, known)| *known == name.trim());
                (found.map(|(at, _)| *at), numbers)
            }
            (None, [(only, _)]) => (Some(*only), typed),
            (None, _) => (None, typed),
        };
        let numbers: Option<Vec<u32>> = match numbers.contains("..") {
            true => figures(numbers.trim())
                .and_then(|figures| figures.iter().map(|n| n.parse().ok()).collect()),
            false => numbers.split(',').map(|n| n.trim().parse().ok()).collect(),
        };
        let fine = |numbers: &Vec<u32>| {
            let standing = |kind: usize| {
                let stands = self
                    .scenario
                    .standing
                    .iter()
                    .filter(|stands| stands.kind.0 == kind);
                stands.map(|stands| stands.box_no + 1).max().unwrap_or(0)
            };
            let least = kind.map_or(0, standing);
            (1..=MOST_BOXES).contains(&numbers.len())
                && numbers.iter().all(|n| (least..=10_000).contains(n))
        };
        match (kind, numbers.filter(fine)) {
            (Some(kind), Some(numbers)) => Ok((kind, numbers)),
            _ => Err(Stop::Said(which(typed))),
        }
    }
}

/// An outlook that fails its check is our bug, and no figure of it is shown.
fn checked(planned: &Planned, outlook: &Outlook) -> Result<(), Stop> {
    let faults = check(&planned.season, outlook);
    if faults.is_empty() {
        return Ok(());
    }
    let faults: Vec<String> = faults.iter().map(|fault| format!("{fault:?}")).collect();
    Err(super::answer::bug(&faults))
}

/// The season for other numbers today: the planned one, and such around it.
fn against(base: &Planned, agreed: &Agreed) -> Result<Vec<(i64, Outlook)>, Stop> {
    let cells = |outlook: &Outlook| {
        outlook
            .rounds
            .first()
            .map_or(0, spareframe_season::Stocked::cells)
    };
    let planned = cells(&agreed.outlook);
    if base.alone() {
        return Ok(vec![(planned, agreed.outlook.clone())]);
    }
    let most = base
        .season
        .kinds
        .iter()
        .map(|kind| i64::from(kind.compartments) + kind.standing.len() as i64);
    let most = most.sum::<i64>();
    let at_hand = base.season.rounds.first().and_then(|round| round.cells);
    let most = at_hand.map_or(most, |cells| most.min(cells.into()));
    let step = (most / AGAINST).max(1);
    let mut numbers: Vec<i64> = (0..=most)
        .step_by(usize::try_from(step).unwrap_or(1))
        .collect();
    numbers.extend([planned - 1, planned, planned + 1, most]);
    numbers.retain(|number| (0..=most).contains(number));
    numbers.sort_unstable();
    numbers.dedup();
    let one = |&number: &i64| {
        if number == planned {
            return Ok(Some((number, agreed.outlook.clone())));
        }
        let mut other = base.clone();
        other.season.today = Some(number);
        let Some(outlook) = plan(&other.season, RELAXATIONS) else {
            return Ok(None);
        };
        checked(&other, &outlook)?;
        Ok(Some((number, outlook)))
    };
    let found: Result<Vec<Option<(i64, Outlook)>>, Stop> = numbers.par_iter().map(one).collect();
    Ok(found?.into_iter().flatten().collect())
}
