//! The record: which queen goes where, and when.

use super::super::build::{Notes, decimal, site};
use super::super::report::{
    AcceptedReport, BoxQueen, ColonyQueens, CompartmentReport, QueenReport, QueensReport, Report,
    RequeenReport,
};
use super::super::words::clean;
use crate::scenario::{QueenStands, Requeen};
use jiff::civil::Date;
use spareframe_rearing::{IntervalId, Introduction, Requeened, acceptance};
use spareframe_solver::{Colony, Scenario};

/// What a compartment is given where no queen that stands is left for it.
const ELSEWHERE: &str = "elsewhere";

/// Compartments that are given a mated queen out of what stands.
pub(in super::super) fn given(report: &Report) -> impl Iterator<Item = &CompartmentReport> {
    report.compartments.iter().filter(|c| c.queen.is_some())
}

impl Report {
    /// Whether a queen goes into a colony on the stocking day, or an old one comes out of it.
    #[must_use]
    pub fn queens_today(&self) -> bool {
        let colonies = self.queens.iter().flat_map(|queens| &queens.colonies);
        let gets = colonies.filter(|colony| colony.gets.is_some());
        let today = |day: &Option<String>| day.is_some() && *day == self.day;
        gets.into_iter()
            .any(|c| today(&c.goes_in) || (!c.prepared && today(&c.old_queen_out)))
    }
}

/// Whether compartments are stocked and all of them are given mated queens.
pub(in super::super) fn alone(report: &Report) -> bool {
    !report.compartments.is_empty() && report.compartments.iter().all(|c| c.queen.is_some())
}

/// Puts queens into the compartments that take them, and says where all others go; nothing where there are none.
pub(in super::super) fn queens(
    scenario: &Scenario,
    notes: &Notes,
    compartments: &mut [CompartmentReport],
) -> Option<QueensReport> {
    let (queens, intervals) = (&notes.queens, &notes.rearing.intervals);
    let day: Option<Date> = notes.day.as_deref().and_then(|day| day.parse().ok());
    let found = day.map(|day| queens.allotted(day, intervals));
    let found = found.unwrap_or_default();
    let of = |id: &usize| Some(queen(scenario, queens.stand.get(*id)?));
    let mut left = found.left.iter().filter_map(of);
    let takes = |c: &CompartmentReport| {
        let kind = scenario
            .boxes
            .iter()
            .position(|kind| kind.name == c.box_kind);
        kind.is_some_and(|kind| notes.rearing.takes.get(kind) == Some(&true))
    };
    for c in compartments.iter_mut().filter(|c| takes(c)) {
        let queen = left.next();
        c.queen = Some(BoxQueen {
            site: queen.as_ref().map(|queen| queen.site.clone()),
            from: queen.map_or_else(|| ELSEWHERE.to_owned(), |queen| queen.queen),
        });
    }
    let free: Vec<_> = left.collect();
    let boxes = compartments.iter().filter(|c| c.queen.is_some()).count();
    if queens.stand.is_empty() && queens.requeen.is_empty() && boxes == 0 {
        return None;
    }
    let next = intervals.get(IntervalId::NextCell).usual;
    let colonies = queens.requeen.iter().zip(&found.colonies);
    let colonies = colonies.filter_map(|(wanted, gets)| {
        let colony = scenario.colonies.get(wanted.colony.0)?;
        let gets = gets.and_then(|gets| Some((gets, of(&gets.queen)?)));
        Some(requeen(scenario, (colony, wanted), gets, (day, next)))
    });
    let colonies: Vec<_> = colonies.collect();
    let at_hand = queens.stand.iter();
    Some(QueensReport {
        at_hand: at_hand
            .filter(|q| day.is_some_and(|day| q.of_age <= day))
            .count(),
        queenless_days: intervals.get(IntervalId::Queenless).usual,
        caged_days: intervals.get(IntervalId::Caged).usual,
        accepted: accepted(scenario, &colonies, boxes),
        colonies,
        boxes_on: None,
        free,
        later: found.later.iter().filter_map(of).collect(),
    })
}

/// The queens of a colony on the stocking day, where its old one is out, or goes out then.
pub(in super::super) fn of_hive(
    queens: &QueensReport,
    colony: &str,
    day: Option<&str>,
) -> Option<ColonyQueens> {
    let c = queens.colonies.iter().find(|c| c.colony == colony)?;
    let today = |on: &Option<String>| on.is_some() && on.as_deref() == day;
    let out = c.prepared || c.gets.is_some() && today(&c.old_queen_out);
    let new = c.gets.as_ref().filter(|_| today(&c.goes_in));
    out.then(|| ColonyQueens {
        old_out: c.old_queen_out.clone(),
        is_out: c.prepared,
        new_from: new.map(from),
    })
}

fn queen(scenario: &Scenario, stands: &QueenStands) -> QueenReport {
    QueenReport {
        queen: stands.name.clone(),
        site: site(scenario, stands.site.0),
        since: stands.since.to_string(),
        of_age: stands.of_age.to_string(),
    }
}

fn requeen(
    scenario: &Scenario,
    (colony, wanted): (&Colony, &Requeen),
    gets: Option<(Requeened, QueenReport)>,
    (day, next): (Option<Date>, u32),
) -> RequeenReport {
    let (gets, queen) = gets.unzip();
    let text = |day: Date| day.to_string();
    let goes_in = gets.map(|gets| gets.goes_in);
    let out = wanted.prepared.or(gets.map(|gets| gets.old_out));
    let until = goes_in.or(day);
    let next = goes_in.and_then(|day| {
        day.checked_add(jiff::Span::new().days(i64::from(next)))
            .ok()
    });
    RequeenReport {
        colony: colony.name.clone(),
        site: site(scenario, colony.site.0),
        gets: queen,
        old_queen_out: out.map(text),
        prepared: wanted.prepared.is_some(),
        goes_in: goes_in.map(text),
        next_cell_from: next.map(text),
        waits_days: gets.map_or(0, |gets| gets.waits),
        days_without: wanted
            .prepared
            .zip(until)
            .map(|(out, until)| (until - out).get_days()),
        by: wanted.by.map(text),
        late: wanted
            .by
            .is_some_and(|by| goes_in.is_none_or(|goes_in| goes_in > by)),
    }
}

/// How many queens are accepted. A colony of the role `nucleus` takes one as a nucleus does.
fn accepted(scenario: &Scenario, colonies: &[RequeenReport], boxes: usize) -> Vec<AcceptedReport> {
    let nucleus = |c: &&RequeenReport| {
        let mut all = scenario.colonies.iter();
        all.any(|colony| colony.name == c.colony && colony.role == "nucleus")
    };
    let gets = || colonies.iter().filter(|c| c.gets.is_some());
    let nuclei = gets().filter(nucleus).count();
    [
        (
            "full colonies",
            Introduction::IntoColony,
            gets().count() - nuclei,
        ),
        ("nuclei", Introduction::IntoNucleus, nuclei + boxes),
    ]
    .into_iter()
    .filter(|(_, _, queens)| *queens > 0)
    .map(|(into, how, queens)| {
        let share = acceptance(how);
        let of = |thousandths: u32| {
            let queens = i64::try_from(queens).unwrap_or(i64::MAX);
            decimal(queens.saturating_mul(i64::from(thousandths)), 1000.0)
        };
        AcceptedReport {
            into: into.to_owned(),
            queens,
            least_estimate: of(share.least),
            most_estimate: of(share.most),
            least_share: decimal(share.least.into(), 1000.0),
            most_share: decimal(share.most.into(), 1000.0),
            basis: share.source.to_owned(),
        }
    })
    .collect()
}

/// A compartment with its queen, as `mating box 1.2, at forest`.
pub(super) fn from(queen: &QueenReport) -> String {
    format!("{}, at {}", clean(&queen.queen), clean(&queen.site))
}
