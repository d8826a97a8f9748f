//! Phrases of what stands, shared by its writers.

use super::super::calendar::words::written;
use super::super::counted as counted_on;
use super::super::figures::{counted, some, whole};
use super::super::queens;
use super::super::words::clean;
use super::record::{CompartmentStanding, StandingReport};

pub(super) fn heading(report: &StandingReport) -> String {
    let title = report.title.as_deref().map(clean);
    let parts = ["What stands".to_owned()].into_iter().chain(title);
    let parts = parts.chain([report.day.clone()]);
    parts.collect::<Vec<_>>().join(", ")
}

/// How many stand, and success so far.
pub(super) fn sentences(report: &StandingReport) -> Vec<String> {
    let so_far = &report.so_far;
    if report.compartments.is_empty() {
        return vec![
            "No bees stand in a compartment. `spareframe onward` closes a stocking day and notes what does."
                .to_owned(),
        ];
    }
    let count = i64::try_from(report.compartments.len()).unwrap_or(i64::MAX);
    let parts = [
        (so_far.mated, "mated"),
        (so_far.laying, "laying"),
        (so_far.without, "without a queen"),
        (so_far.open, "not looked for yet"),
    ];
    let parts = parts.iter().filter(|(n, _)| *n > 0);
    let parts: Vec<String> = parts.map(|(n, what)| format!("{n} {what}")).collect();
    let stand = if count == 1 { "stands" } else { "stand" };
    let mut all = vec![format!(
        "{} {stand}: {}.",
        counted(count, "compartment", "compartments"),
        parts.join(", ")
    )];
    let queens = so_far.mated + so_far.laying + so_far.taken;
    let rounds = queens + so_far.failed_rounds;
    if rounds > 0 {
        all.push(format!(
            "Success so far: {queens} of {} with a queen that lays ({}%). Published: {}% to {}%.",
            counted(rounds.into(), "round looked at", "rounds looked at"),
            (100 * queens + rounds / 2) / rounds,
            percent(so_far.least_share),
            percent(so_far.most_share)
        ));
    }
    all.extend(counted_on::sentence(report.counted_on.as_ref()));
    all
}

fn percent(share: f64) -> f64 {
    (share * 1000.0).round() / 10.0
}

/// What is to be done, with the compartments for each: today first, then by day.
pub(super) fn tasks(report: &StandingReport) -> Vec<(String, String)> {
    let mut tasks: Vec<(bool, String, String, Vec<&CompartmentStanding>)> = Vec::new();
    for row in &report.compartments {
        let next = &row.next;
        let what = what(row);
        let alike = |task: &&mut (bool, String, String, Vec<&CompartmentStanding>)| {
            task.2 == what && (next.today || task.1 == next.first_day)
        };
        match tasks
            .iter_mut()
            .filter(|task| task.0 == next.today)
            .find(alike)
        {
            Some(task) => task.3.push(row),
            None => tasks.push((next.today, next.first_day.clone(), what, vec![row])),
        }
    }
    tasks.sort_by(|a, b| {
        let day = |today: bool, day: &String| if today { String::new() } else { day.clone() };
        (!a.0, day(a.0, &a.1)).cmp(&(!b.0, day(b.0, &b.1)))
    });
    let said = |(today, first, what, rows): (bool, String, String, Vec<&CompartmentStanding>)| {
        let leave = rows.first().is_some_and(|row| row.next.id == "leave");
        let days = match (today, leave) {
            (true, _) => "Today".to_owned(),
            (_, true) => format!("Until {}", written(&first)),
            _ => format!("From {}", written(&first)),
        };
        (format!("{days}: {what}"), named(&rows))
    };
    tasks.into_iter().map(said).collect()
}

/// What is next for one compartment, without its days.
fn what(row: &CompartmentStanding) -> String {
    let next = &row.next;
    let last = next
        .last_day
        .as_deref()
        .filter(|_| !matches!(next.id.as_str(), "leave" | "look"));
    let last = last.map_or(String::new(), |day| format!(", by {}", written(day)));
    format!("{}{last}", clean(&next.text))
}

/// Compartments by name, each kind once: `mating box 3.2, 4.1, mini 2`.
fn named(rows: &[&CompartmentStanding]) -> String {
    let mut names: Vec<String> = Vec::new();
    let mut last = None;
    for row in rows {
        let name = clean(&row.name);
        let kind = clean(&row.box_kind);
        names.push(
            match last.replace(row.box_kind.clone()) == Some(row.box_kind.clone()) {
                true => name
                    .strip_prefix(&kind)
                    .map_or(name.clone(), |n| n.trim().to_owned()),
                false => name,
            },
        );
    }
    names.join(", ")
}

/// Those that are short of bees.
pub(super) fn bees(report: &StandingReport) -> Option<String> {
    let short = report.compartments.iter();
    let short = short.filter_map(|row| Some((clean(&row.name), row.next.give_bees?)));
    let short: Vec<String> = short
        .map(|(name, bees)| format!("{name} ({})", some(bees)))
        .collect();
    (!short.is_empty()).then(|| short.join(", "))
}

/// Where queens go.
pub(super) fn queens(report: &StandingReport) -> Vec<String> {
    let of = |queens| queens::of(queens, Some(&report.day), []);
    report.queens.as_ref().map_or(Vec::new(), of)
}

/// How the queen is: as seen, and as expected.
pub(super) fn queen(row: &CompartmentStanding) -> String {
    match &row.queen_expected {
        Some(expected) => format!("{}, {expected} expected", row.queen),
        None => row.queen.clone(),
    }
}

/// The cells of a compartment, as [`COLUMNS`].
pub(super) fn cells(row: &CompartmentStanding) -> [String; 6] {
    [
        clean(&row.name),
        queen(row),
        row.seen.clone(),
        row.days.to_string(),
        whole(row.bees),
        format!("{:.1}", row.brood_frames),
    ]
}

pub(super) const COLUMNS: [&str; 6] = [
    "Compartment",
    "Queen",
    "Seen",
    "Days",
    "Bees",
    "Brood frames",
];
