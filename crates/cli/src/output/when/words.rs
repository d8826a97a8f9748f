//! Phrases of the days, shared by their writers.

use super::super::build::decimal;
use super::super::calendar::words::written;
use super::super::counted as counted_on;
use super::super::figures::counted;
use super::super::raise;
use super::super::report::{Answer, ProofState};
use super::super::words::clean;
use super::report::{DayReport, WhenReport};

/// Columns of the days.
pub(in super::super) const COLUMNS: [&str; 5] = [
    "Day",
    "Stocked",
    "Cells",
    "Honey given up (estimate), kg",
    "Dry sugar, kg",
];

/// One day, in their order.
pub(in super::super) fn cells_of(day: &DayReport) -> [String; 5] {
    [
        written(&day.day),
        stocked(day),
        cells(day),
        honey(day),
        sugar(day),
    ]
}

/// The heading, with the scenario's title and day.
pub(super) fn heading(report: &WhenReport) -> String {
    let mut heading = "When to stock".to_owned();
    for part in [&report.title, &report.day].into_iter().flatten() {
        heading = format!("{heading}, {}", clean(part));
    }
    heading
}

/// What waiting brings, and what it costs.
pub(in super::super) fn sentences(report: &WhenReport) -> Vec<String> {
    let expected = counted_on::sentence(report.counted_on.as_ref());
    waiting(report).into_iter().chain(expected).collect()
}

fn waiting(report: &WhenReport) -> Vec<String> {
    let Some(today) = report.days.first() else {
        return Vec::new();
    };
    let best = report.best_day.as_ref();
    let best = best.and_then(|best| report.days.iter().find(|day| &day.day == best));
    let Some(best) = best else {
        return vec!["On none of these days could a compartment be stocked.".to_owned()];
    };
    if best.day == today.day {
        return vec![format!(
            "Waiting brings no more: {} today, and no more on any later day.",
            compartments(best.compartments_stocked.into())
        )];
    }
    let more = i64::from(best.compartments_stocked) - i64::from(today.compartments_stocked);
    let mut brings = match more {
        1.. => format!("{} more than today", more),
        0 => "as many as today, but worth more".to_owned(),
        _ => "fewer than today, but worth more".to_owned(),
    };
    if let (Some(then), Some(now)) = (best.honey_given_up_g, today.honey_given_up_g) {
        brings += &match then - now {
            0 => ", for as much honey".to_owned(),
            more if more > 0 => format!(", for {} kg more honey (estimate)", kg(more)),
            less => format!(", for {} kg less honey (estimate)", kg(-less)),
        };
    }
    let first = format!(
        "Most on {}: {}, {brings}.",
        written(&best.day),
        compartments(best.compartments_stocked.into()),
    );
    let cells = best.cells.iter().flatten().next();
    let cells = cells.map(|cells| format!("But: {}", clean(&cells.text)));
    std::iter::once(first).chain(cells).collect()
}

fn compartments(count: i64) -> String {
    counted(count, "compartment", "compartments")
}

pub(super) fn kg(grams: i64) -> String {
    format!("{:.1}", decimal(grams, 1000.0))
}

/// Compartments: with more and with fewer foragers lost, where they differ.
pub(super) fn stocked(day: &DayReport) -> String {
    match day.answer {
        Answer::StoppedWithoutPlan => return "no plan in time".to_owned(),
        Answer::WishNotMet => return "wish not met".to_owned(),
        Answer::Stocked | Answer::NothingPossible => {}
    }
    let open = |proof: &super::super::report::ProofReport| proof.state != ProofState::ProvedBest;
    let mark = if day.proof.as_ref().is_some_and(open) {
        "?"
    } else {
        ""
    };
    let here = day.compartments_stocked;
    match day
        .compartments_with_fewer_losses
        .filter(|&other| other != here)
    {
        Some(other) if other > here => format!("{here}{mark} (to {other})"),
        Some(other) => format!("{here}{mark} (from {other})"),
        None => format!("{here}{mark}"),
    }
}

/// Honey given up, where it is estimated.
pub(super) fn honey(day: &DayReport) -> String {
    match (day.answer, day.honey_given_up_g) {
        (Answer::Stocked, Some(grams)) => kg(grams),
        _ => String::new(),
    }
}

/// Sugar for days without flight.
pub(super) fn sugar(day: &DayReport) -> String {
    match day.answer {
        Answer::Stocked => format!("{:.1}", day.sugar_kg),
        _ => String::new(),
    }
}

/// How cells or queens are, in a word or two; the first that is said counts.
pub(super) fn cells(day: &DayReport) -> String {
    let Some(of_day) = &day.cells else {
        return String::new();
    };
    let said = |id: &str| of_day.iter().any(|cells| cells.id == id);
    let found = CELLS.iter().find(|(id, _)| said(id));
    found.map_or("fit", |(_, short)| short).to_owned()
}

/// Conflicts of the calendar that are about cells or queens, in short.
const CELLS: [(&str, &str); 5] = [
    ("not-yet-ripe", "not ripe yet"),
    ("ripe-before-stocking", "cage them"),
    ("out-before", "may be out"),
    ("no-virgin-yet", "not out yet"),
    ("virgins-too-old", "too old"),
];

/// Whether a conflict of the calendar is about cells or queens.
pub(super) fn of_cells(id: &str) -> bool {
    CELLS.iter().any(|(of, _)| *of == id)
}

/// Limits that are said of a day (a choice; `why` says them all).
const SAID: usize = 2;

/// What holds back, day by day; days in a row of which the same is said are said together.
pub(super) fn held_back(report: &WhenReport) -> Vec<(String, String)> {
    let mut said: Vec<(String, String, String)> = Vec::new();
    for day in &report.days {
        let limits: Vec<String> = day
            .held_back_by
            .iter()
            .take(SAID)
            .map(|held| clean(&held.text))
            .collect();
        let limits = limits.join("; ");
        match said.last_mut().filter(|last| last.2 == limits) {
            Some(last) => last.1.clone_from(&day.day),
            None => said.push((day.day.clone(), day.day.clone(), limits)),
        }
    }
    let days = |first: &str, last: &str| match first == last {
        true => written(first),
        false => format!("{} to {}", written(first), written(last)),
    };
    let named = said.into_iter().filter(|(.., limits)| !limits.is_empty());
    named
        .map(|(first, last, limits)| (days(&first, &last), limits))
        .collect()
}

/// Combs to raise for one of these days.
pub(super) fn raised(report: &WhenReport) -> Vec<String> {
    let days = report.days.iter();
    let raises = days.flat_map(|day| {
        day.held_back_by
            .iter()
            .filter_map(|held| held.raise.as_ref())
    });
    let raises: Vec<_> = raises.collect();
    raise::by_day(&raises, report.day.as_deref().unwrap_or_default())
}

/// Whether anything is known of cells.
pub(super) fn dated(report: &WhenReport) -> bool {
    report.days.iter().any(|day| day.cells.is_some())
}

/// What the columns mean.
pub(in super::super) fn legend(report: &WhenReport) -> Vec<String> {
    let mut lines = Vec::new();
    if report.days.iter().any(|day| stocked(day).contains('(')) {
        lines.push("In brackets: if the colonies lose 10 % of their foragers a day.".to_owned());
    }
    if report.days.iter().any(|day| stocked(day).contains('?')) {
        lines.push("?: not proved; there may be a better plan.".to_owned());
    }
    if !dated(report) {
        lines.push(
            "Cells are not dated; with `rearing: {grafted: ...}` each day says how they are."
                .to_owned(),
        );
    }
    let no_flight = report.days.first().map_or(0, |day| day.no_flight_days);
    lines.push(format!(
        "Sugar: dry sugar for all compartments in {no_flight} days without flight (estimate)."
    ));
    lines
}

/// Cautions.
pub(super) fn mind(days: &[DayReport], no_plan: &str, expected: bool) -> Vec<String> {
    let mut mind = vec![
        match expected {
            true => {
                "An outlook, not a count: all days are reckoned from the last count. Look the colonies through \
                 again before you stock."
            }
            false => {
                "An outlook, not a count: all days but the first are reckoned from it. Look the colonies \
                 through again before you stock."
            }
        }
        .to_owned(),
        "Each queen is taken to lay on as she does, as far as season and comb allow. Stores are taken to stay \
         as they are, but for a `dearth` that is stated: feed where the bees find nothing."
            .to_owned(),
        no_plan.to_owned(),
    ];
    if let Some(day) = days.iter().find(|day| day.doubtful) {
        mind.push(format!(
            "From {} on the season alone would more than double laying; so early a count says little of \
             these days.",
            written(&day.day)
        ));
    }
    mind
}
