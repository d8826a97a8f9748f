//! `season`: today's round as a plan, and what it leads to.

use super::args;
use super::delivery::Delivery;
use super::detail::Detail;
use super::ended::{Exit, Stop, note};
use super::files::{is_stdin, label, read};
use super::limit::Limit;
use super::load::{load, show};
use super::progress::with_progress;
use super::rounds::{Rounds, checked, lost};
use crate::output::Stocked;
use crate::output::season::SeasonReport;
use crate::probe::figures;
use crate::reading::plain;
use crate::season::{Agreed, Near, Planned, most_cells, read_shared};
use rayon::prelude::*;
use spareframe_season::{Listed, Outlook, RELAXATIONS, otherwise, plan_each, plan_listed};
use spareframe_solver::{Outcome, Scenario, SolveOptions};
use std::path::{Path, PathBuf};

/// Other numbers today that the season is set against, at most (a choice: what a table shows).
const AGAINST: i64 = 8;
/// Most cells of today for which all numbers are set against it.
const MOST_BOXES: usize = 200;

/// What `season` is to do.
#[derive(Debug)]
pub(super) struct SeasonTask {
    scenario: PathBuf,
    boxes: Option<String>,
    /// A season that was shared, to stay near to.
    near: Option<PathBuf>,
    plan: Option<Delivery>,
    time_limit: Limit<'static>,
    shown: Delivery,
}

impl SeasonTask {
    pub(super) fn from_args(a: args::Season) -> Result<Self, Stop> {
        let shown = Delivery::of(a.writing, &a.of.scenario, (&a.said).into())?;
        if a.near.as_deref().is_some_and(is_stdin) && is_stdin(&a.of.scenario) {
            return Err(Stop::Said(
                "scenario and season cannot both come from stdin (-)".to_owned(),
            ));
        }
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
            near: a.near,
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
    let rounds = Rounds::of(&scenario, &notes)?;
    let typed = (task.boxes.as_deref(), task.near.as_deref());
    let (_, report) = with_progress(task.shown.detail, |_| {
        rounds.report(typed, task.time_limit, task.shown.detail)
    })?;
    if let Some(plan) = &task.plan {
        plan.deliver(&Stocked {
            report: &report.plan,
            scenario: &scenario,
            notes: &notes,
        })?;
    }
    task.shown.deliver(&report)?;
    Ok(exit(&report))
}

/// Whether anything is stocked in the season.
pub(super) fn exit(report: &SeasonReport) -> Exit {
    let stocked = report.rounds.iter().any(|round| round.cells > 0);
    if stocked { Exit::Done } else { Exit::No }
}

impl Rounds<'_> {
    /// The season, and today's round of it as a plan, which every command shows alike: with other numbers today, and with other
    /// numbers of boxes where these are asked for.
    pub(super) fn report(
        &self,
        (boxes, near): (Option<&str>, Option<&Path>),
        limit: Limit,
        detail: Detail,
    ) -> Result<(Outcome, SeasonReport), Stop> {
        let options = limit.solving();
        let planned = self.planned()?;
        let mut listed = Listed::of(&planned.season);
        let mut found = self.decided(&listed, &options)?;
        let told = match near {
            Some(path) => Some(self.near(path, &planned, detail)?),
            None => None,
        };
        let mut told = told.filter(|near| otherwise(&near.told, found.outlook()) > 0);
        if let Some(near) = &told {
            let mut planned = planned;
            planned.season.told = Some(near.told.clone());
            listed = Listed::of(&planned.season);
            found = self.decided_as(planned, &listed, &options)?;
        } else if let Some(path) = near
            && detail != Detail::Quiet
        {
            let file = label(path);
            note(&format!(
                "note: {file}: nothing to change, the season stays as it is"
            ));
        }
        if found.outlook().otherwise == 0 {
            told = None;
        }
        let against = against(
            self.scenario,
            (&found.base, &found.agreed),
            &listed,
            &options,
        )?;
        let boxes = match boxes {
            Some(typed) => self.boxes(typed, &listed)?,
            None => Vec::new(),
        };
        let report = self.shown(
            &found,
            &options,
            Some(detail),
            (against, boxes, told.as_ref()),
        )?;
        Ok((found.today, report))
    }

    /// Reads a season that was shared; says what is no longer there.
    fn near(&self, path: &Path, planned: &Planned, detail: Detail) -> Result<Near, Stop> {
        let bytes = read(path)?;
        let (shared, findings) = read_shared(&label(path), &bytes);
        show(&findings, &bytes, detail);
        let shared = shared.ok_or(Stop::Reported)?;
        let near = Near::of(self.scenario, self.asked, planned, shared);
        if detail != Detail::Quiet {
            for gone in &near.gone {
                note(&format!("note: {}: {}", label(path), plain(gone)));
            }
        }
        Ok(near)
    }

    /// The season with other numbers of boxes.
    fn boxes(&self, typed: &str, listed: &Listed) -> Result<Vec<(usize, u32, Outlook)>, Stop> {
        let (kind, numbers) = self.kind_and_numbers(typed)?;
        let one = |&boxes: &u32| {
            let mut scenario = self.scenario.clone();
            if let Some(kind) = scenario.boxes.get_mut(kind) {
                kind.count = boxes;
            }
            let other = Rounds {
                scenario: &scenario,
                ..*self
            };
            let planned = other.planned()?;
            let listed = listed.again(&planned.season);
            let outlook = plan_listed(&planned.season, &listed, RELAXATIONS).ok_or_else(lost)?;
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

/// The season for other numbers today: the planned one, and such around it.
fn against(
    scenario: &Scenario,
    (base, agreed): (&Planned, &Agreed),
    listed: &Listed,
    options: &SolveOptions,
) -> Result<Vec<(i64, Outlook)>, Stop> {
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
    // No number beyond what real frames allow is told of.
    let most = match most > planned {
        true if agreed.fewer > 0 => planned,
        true => most.min(most_cells(scenario, base, options).max(planned)),
        false => most,
    };
    let step = (most / AGAINST).max(1);
    let mut numbers: Vec<i64> = (0..=most)
        .step_by(usize::try_from(step).unwrap_or(1))
        .collect();
    numbers.extend([planned - 1, planned, planned + 1, most]);
    numbers.retain(|number| (0..=most).contains(number));
    numbers.sort_unstable();
    numbers.dedup();
    let mut others = numbers.clone();
    others.retain(|number| *number != planned);
    let mut found = vec![(planned, agreed.outlook.clone())];
    let each = plan_each(&base.season, listed, &others, RELAXATIONS);
    for (number, outlook) in others.iter().zip(each) {
        let Some(outlook) = outlook else { continue };
        let mut other = base.clone();
        other.season.today = Some(*number);
        checked(&other, &outlook)?;
        found.push((*number, outlook));
    }
    found.sort_by_key(|(number, _)| *number);
    Ok(found)
}
