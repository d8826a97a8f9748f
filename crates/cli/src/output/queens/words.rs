//! The same in sentences, in steps, and what to mind.

use super::super::calendar::written;
use super::super::figures::counted;
use super::super::report::{
    AcceptedReport, BoxQueen, CompartmentReport, QueenReport, QueensReport, Report, RequeenReport,
};
use super::super::words::{Words, clean};
use super::record::{from, given};
use spareframe_colony::BROOD_DAYS;
use spareframe_rearing::{Introduction, acceptance};

/// Days after which all brood of the old queen has emerged, so that workers may lay.
const BROODLESS: i32 = BROOD_DAYS as i32;

/// The queens in sentences: what there is, then each colony, each box, what is left, and how many are accepted.
pub(in super::super) fn lines(report: &Report) -> Vec<String> {
    let queens = report.queens.as_ref();
    let lines = queens.map(|queens| of(queens, report.day.as_deref(), boxes(report)));
    lines.unwrap_or_default()
}

/// The same of queens on a day, with a line for each box.
pub(in super::super) fn of(
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
pub(in super::super) fn at_sites(report: &Report) -> Vec<(String, String)> {
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
pub(in super::super) fn of_box(c: &CompartmentReport) -> String {
    let from = |queen: &BoxQueen| {
        let elsewhere = queen.site.as_ref().filter(|site| **site != c.site);
        let at = elsewhere.map_or(String::new(), |site| format!(", at {}", clean(site)));
        format!("queen from {}{at}", clean(&queen.from))
    };
    c.queen.as_ref().map_or_else(String::new, from)
}

/// How many are accepted, in one sentence.
pub(in super::super) fn estimate(accepted: &[AcceptedReport]) -> Option<String> {
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
pub(in super::super) fn steps(report: &Report) -> [Option<String>; 2] {
    let colonies = || report.queens.iter().flat_map(|queens| &queens.colonies);
    let today = |day: &Option<String>| day.is_some() && *day == report.day;
    let names = |colonies: &mut dyn Iterator<Item = &RequeenReport>| {
        let names: Vec<_> = colonies.map(|c| clean(&c.colony)).collect();
        (!names.is_empty()).then(|| super::super::cautions::colonies(&names))
    };
    let mut out = colonies().filter(|c| !c.prepared && c.gets.is_some() && today(&c.old_queen_out));
    let mut into = colonies().filter(|c| today(&c.goes_in));
    [
        names(&mut out).map(|names| format!("First of all, before smoke and shaking drive her about: the old queen out of {names}.")),
        names(&mut into).map(|names| format!("Towards evening: the new queen into {names}, once all wild cells are broken.")),
    ]
}

/// What to mind of queens, with a stable id each.
pub(in super::super) fn cautions(report: &Report) -> Vec<(&'static str, String)> {
    let Some(queens) = &report.queens else {
        return Vec::new();
    };
    let gets = || queens.colonies.iter().filter(|c| c.gets.is_some());
    let mut list = Vec::new();
    let named = |some: &mut dyn Iterator<Item = &RequeenReport>| {
        let names: Vec<_> = some.map(|c| clean(&c.colony)).collect();
        (!names.is_empty()).then(|| super::super::cautions::colonies(&names))
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
