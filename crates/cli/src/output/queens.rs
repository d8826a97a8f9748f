//! Mated queens out of what stands: which goes where, when, and what to mind.

use super::build::{Notes, decimal, site};
use super::calendar::written;
use super::figures::counted;
use super::report::{
    AcceptedReport, BoxQueen, ColonyQueens, CompartmentReport, QueenReport, QueensReport, Report,
    RequeenReport,
};
use super::words::{Words, clean};
use crate::scenario::{QueenStands, Requeen};
use jiff::civil::Date;
use spareframe_colony::BROOD_DAYS;
use spareframe_rearing::{IntervalId, Introduction, Requeened, acceptance};
use spareframe_solver::{Colony, Scenario};

/// What a compartment is given where no queen that stands is left for it.
const ELSEWHERE: &str = "elsewhere";
/// Days after which all brood of the old queen has emerged, so that workers may lay.
const BROODLESS: i32 = BROOD_DAYS as i32;

/// Compartments that are given a mated queen out of what stands.
pub(super) fn given(report: &Report) -> impl Iterator<Item = &CompartmentReport> {
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
pub(super) fn alone(report: &Report) -> bool {
    !report.compartments.is_empty() && report.compartments.iter().all(|c| c.queen.is_some())
}

/// Puts queens into the compartments that take them, and says where all others go; nothing where there are none.
pub(super) fn queens(
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
pub(super) fn of_hive(
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
fn from(queen: &QueenReport) -> String {
    format!("{}, at {}", clean(&queen.queen), clean(&queen.site))
}

/// The queens in sentences: what there is, then each colony, each box, what is left, and how many are accepted.
pub(super) fn lines(report: &Report) -> Vec<String> {
    let queens = report.queens.as_ref();
    let lines = queens.map(|queens| of(queens, report.day.as_deref(), boxes(report)));
    lines.unwrap_or_default()
}

/// The same of queens on a day, with a line for each box.
pub(super) fn of(
    queens: &QueensReport,
    day: Option<&str>,
    boxes: impl IntoIterator<Item = String>,
) -> Vec<String> {
    let waiting = queens.colonies.iter().filter_map(|c| c.gets.as_ref());
    let later = waiting.filter(|queen| day.is_some_and(|day| *queen.of_age > *day));
    let later = later.count() + queens.later.len();
    let count = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
    let at_hand = counted(count(queens.at_hand), "mated queen", "mated queens");
    let mut lines = vec![match later {
        0 => format!("{at_hand} at hand."),
        later => format!("{at_hand} at hand, {later} of age later."),
    }];
    lines.extend(queens.colonies.iter().map(|c| of_colony(c, day)));
    lines.extend(boxes);
    lines.extend(all(&queens.free, "Free, to keep or to sell", |_| {
        String::new()
    }));
    lines.extend(all(&queens.later, "Of age later", |queen| {
        format!(" from {} on", written(&queen.of_age))
    }));
    lines.extend(estimate(&queens.accepted));
    lines
}

fn all(
    queens: &[QueenReport],
    what: &str,
    more: impl Fn(&QueenReport) -> String,
) -> Option<String> {
    let named = queens.iter().map(|queen| from(queen) + &more(queen));
    let named: Vec<_> = named.collect();
    (!named.is_empty()).then(|| format!("{what}: {}.", named.join("; ")))
}

/// What becomes of one colony.
fn of_colony(c: &RequeenReport, now: Option<&str>) -> String {
    let colony = format!("Colony {}, at {}", clean(&c.colony), clean(&c.site));
    let today = |day: &str| now == Some(day);
    let on = |day: &str| match today(day) {
        true => "today".to_owned(),
        false => format!("on {}", written(day)),
    };
    let by = c.by.as_deref().filter(|_| c.late);
    let late = by.map_or(String::new(), |by| {
        format!(" That is later than {}.", written(by))
    });
    let out = c.old_queen_out.as_deref().unwrap_or_default();
    let (Some(queen), Some(goes_in)) = (&c.gets, &c.goes_in) else {
        let what = match c.prepared {
            true => format!(
                "it has had none since {}: give it a cell, or unite it",
                written(out)
            ),
            false => "leave its old queen in".to_owned(),
        };
        return format!("{colony}: no queen is in sight for it; {what}.{late}");
    };
    let old = match c.prepared {
        true => format!("Its old queen is out since {}.", written(out)),
        false => format!("Find its old queen {} and take her out.", on(out)),
    };
    let age = match now.is_some_and(|now| *queen.of_age > *now) {
        true => format!(", where she is of age {}", on(&queen.of_age)),
        false => String::new(),
    };
    format!(
        "{colony}: queen from {}{age}; she goes in {}. {old}{late}",
        from(queen),
        on(goes_in)
    )
}

/// Compartments that are given a queen, a line for each.
fn boxes(report: &Report) -> impl Iterator<Item = String> + '_ {
    let words = Words::of(report);
    let on = report.queens.as_ref().and_then(|q| q.boxes_on.as_deref());
    let on = on.map_or(String::new(), |on| format!(", on {}", written(on)));
    given(report).map(move |c| {
        let name = words.compartment(c);
        format!(
            "{}, at {}: {}{on}.",
            capital(&name),
            clean(&c.site),
            of_box(c)
        )
    })
}

fn capital(name: &str) -> String {
    let mut rest = name.chars();
    let first = rest.next().map(|c| c.to_uppercase().collect::<String>());
    first.unwrap_or_default() + rest.as_str()
}

/// What is done for queens at which site, each with its day: old queens out, new ones out of their compartments and in;
/// what is done at colonies on the stocking day stands with the work there.
pub(super) fn at_sites(report: &Report) -> Vec<(String, String)> {
    let queens = report.queens.as_ref();
    // What is done on the stocking day stands with the work at its hive.
    let apart = |day: Option<&str>| day.is_none() || day != report.day.as_deref();
    let mut list = Vec::new();
    let mut add = |site: &str, day: Option<&str>, what: String| {
        let day = day.map_or(String::new(), |day| format!("{}: ", written(day)));
        list.push((site.to_owned(), format!("{day}{what}")));
    };
    for c in queens.iter().flat_map(|queens| &queens.colonies) {
        let (Some(queen), out, day) = (&c.gets, c.old_queen_out.as_deref(), c.goes_in.as_deref())
        else {
            continue;
        };
        let (name, from) = (clean(&c.colony), clean(&queen.queen));
        if !c.prepared && apart(out) {
            add(
                &c.site,
                out,
                format!("find the old queen of colony {name}, and take her out"),
            );
        }
        add(
            &queen.site,
            day,
            format!("take the queen out of {from}, for colony {name}"),
        );
        if apart(day) {
            add(
                &c.site,
                day,
                format!("break all wild cells in colony {name}; then its queen in, from {from}"),
            );
        }
    }
    let words = Words::of(report);
    let on = queens.and_then(|queens| queens.boxes_on.as_deref());
    for c in given(report) {
        if let Some(BoxQueen {
            from,
            site: Some(site),
        }) = &c.queen
        {
            let what = format!(
                "take the queen out of {}, for {}",
                clean(from),
                words.compartment(c)
            );
            add(site, on, what);
        }
    }
    list
}

/// Where the queen of a compartment is from, with the site where that is another.
pub(super) fn of_box(c: &CompartmentReport) -> String {
    let from = |queen: &BoxQueen| {
        let elsewhere = queen.site.as_ref().filter(|site| **site != c.site);
        let at = elsewhere.map_or(String::new(), |site| format!(", at {}", clean(site)));
        format!("queen from {}{at}", clean(&queen.from))
    };
    c.queen.as_ref().map_or_else(String::new, from)
}

/// How many are accepted, in one sentence.
pub(super) fn estimate(accepted: &[AcceptedReport]) -> Option<String> {
    let parts = accepted.iter().map(|a| {
        format!(
            "{:.1} to {:.1} of {} into {} ({:.0} to {:.0}%, {})",
            a.least_estimate,
            a.most_estimate,
            a.queens,
            a.into,
            a.least_share * 100.0,
            a.most_share * 100.0,
            a.basis
        )
    });
    let parts: Vec<_> = parts.collect();
    (!parts.is_empty()).then(|| format!("Accepted (estimate): {}.", parts.join("; ")))
}

/// What is done for colonies that get a queen, on the day: before all else, and last of all.
pub(super) fn steps(report: &Report) -> [Option<String>; 2] {
    let colonies = || report.queens.iter().flat_map(|queens| &queens.colonies);
    let today = |day: &Option<String>| day.is_some() && *day == report.day;
    let names = |colonies: &mut dyn Iterator<Item = &RequeenReport>| {
        let names: Vec<_> = colonies.map(|c| clean(&c.colony)).collect();
        (!names.is_empty()).then(|| super::cautions::colonies(&names))
    };
    let mut out = colonies().filter(|c| !c.prepared && c.gets.is_some() && today(&c.old_queen_out));
    let mut into = colonies().filter(|c| today(&c.goes_in));
    [
        names(&mut out).map(|names| format!("First of all, before smoke and shaking drive her about: the old queen out of {names}.")),
        names(&mut into).map(|names| format!("Towards evening: the new queen into {names}, once all wild cells are broken.")),
    ]
}

/// What to mind of queens, with a stable id each.
pub(super) fn cautions(report: &Report) -> Vec<(&'static str, String)> {
    let Some(queens) = &report.queens else {
        return Vec::new();
    };
    let gets = || queens.colonies.iter().filter(|c| c.gets.is_some());
    let mut list = Vec::new();
    let named = |some: &mut dyn Iterator<Item = &RequeenReport>| {
        let names: Vec<_> = some.map(|c| clean(&c.colony)).collect();
        (!names.is_empty()).then(|| super::cautions::colonies(&names))
    };
    if let Some(names) = named(&mut gets().filter(|c| !c.prepared)) {
        let overdue = named(&mut gets().filter(|c| !c.prepared && c.waits_days > 0));
        let overdue = overdue.map_or(String::new(), |names| {
            format!(
                " It is past the day for {names}: the new queen is of age, and waits in her compartment until the old one has \
                 been out for {}.",
                counted(queens.queenless_days.into(), "day", "days")
            )
        });
        list.push((
            "old-queen",
            format!(
                "The old queen is still in {names}. Find her before anything else, comb by comb with little smoke, and be sure \
                 that there is no second one: where one is left, the new one is killed.{overdue}"
            ),
        ));
    }
    let long = |c: &&RequeenReport| c.days_without.is_some_and(|days| days >= BROODLESS);
    if let Some(names) = named(&mut queens.colonies.iter().filter(long)) {
        list.push((
            "long-queenless",
            format!(
                "No brood of an old queen is left in {names}: look for several eggs in a cell. Where workers lay, no queen is \
                 taken; unite it with one that has a queen, or shake it out before such."
            ),
        ));
    }
    if gets().next().is_some() {
        list.push((
            "queen-in",
            format!(
                "Before a queen goes into a colony, shake the bees off every brood comb and break all wild cells. Smoke well and \
                 let her run in, or hang her in a cage with candy for {}. After 2 or more days without a queen, with smoke, \
                 nearly all are said to be taken (Perez-Sato and Ratnieks 2008, second hand). A queen that may not be lost \
                 goes in with the nucleus she lays in, by uniting: {}% (a choice).",
                counted(queens.caged_days.into(), "day", "days"),
                acceptance(Introduction::ByUniting).least / 10
            ),
        ));
    }
    if gets().next().is_some() || given(report).next().is_some() {
        list.push((
            "queen-look",
            format!(
                "Look {} after a queen went in whether she is out of her cage and the bees let her be: where they cling to the \
                 cage or ball her, leave her caged. Then a week without opening. Eggs and no wild cells: she is taken.",
                counted(queens.caged_days.into(), "day", "days")
            ),
        ));
    }
    list
}
