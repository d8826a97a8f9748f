//! Phrases of the table of alternatives, shared by its writers.

use super::super::build::decimal;
use super::super::counted as counted_on;
use super::super::figures::{counted, kilos, some, whole};
use super::super::headline;
use super::super::report::{Answer, ProofState};
use super::super::wishes;
use super::super::words::clean;
use super::report::{ColonyChange, ProbeReport, Row};
use itertools::Itertools;

/// The heading, with the scenario's title and day.
pub(super) fn heading(report: &ProbeReport) -> String {
    let mut heading = "What if".to_owned();
    for part in [&report.title, &report.day].into_iter().flatten() {
        heading = format!("{heading}, {}", clean(part));
    }
    heading
}

/// Sentences above the table.
pub(super) fn sentences(report: &ProbeReport) -> Vec<String> {
    let mut all = Vec::new();
    all.extend(counted_on::sentence(report.counted_on.as_ref()));
    let alternatives = report.rows.len().saturating_sub(1);
    let alternatives = i64::try_from(alternatives).unwrap_or(i64::MAX);
    all.push(format!(
        "{} beside the plan as it is; differences in brackets.",
        counted(alternatives, "alternative", "alternatives")
    ));
    if !report.in_all.is_empty() {
        all.push(format!(
            "In every alternative: {}.",
            clean(&report.in_all.join(", "))
        ));
    }
    all
}

/// Below the table: how to see a plan whole.
pub(super) const WHOLE_PLAN: &str = "For the whole plan of one of them, add --plan and its number.";

/// A difference with its sign in brackets, or nothing.
fn beside(difference: i64) -> String {
    match difference {
        0 => String::new(),
        n if n > 0 => format!(" (+{})", whole(n)),
        n => format!(" ({})", whole(n)),
    }
}

/// Compartments stocked; several kinds of box one below the other.
pub(super) fn compartments(row: &Row, today: &Row) -> Vec<String> {
    let difference = row.difference.as_ref();
    let more = beside(difference.map_or(0, |d| d.compartments_stocked));
    let all = match row.answer {
        Answer::Stocked => format!(
            "{} of {}{more}",
            row.compartments_stocked, row.compartments_in_all
        ),
        Answer::NothingPossible => format!("none possible{more}"),
        Answer::StoppedWithoutPlan => "no plan in time".to_owned(),
        Answer::WishNotMet => "wish not met".to_owned(),
    };
    let mut lines = vec![all];
    if row.kinds.len() > 1 && row.answer == Answer::Stocked {
        for kind in &row.kinds {
            let same = today
                .kinds
                .iter()
                .find(|other| other.box_kind == kind.box_kind);
            let then = same.map_or(0, |other| other.compartments_stocked);
            let more = match difference {
                Some(_) => i64::from(kind.compartments_stocked) - i64::from(then),
                None => 0,
            };
            lines.push(format!(
                "{} {}{}",
                clean(&kind.box_kind),
                kind.compartments_stocked,
                beside(more)
            ));
        }
    }
    lines
}

/// Worth of the stocked compartments.
pub(super) fn worth(row: &Row) -> String {
    let more = row.difference.as_ref().map_or(0.0, |d| d.worth);
    match more {
        _ if row.answer != Answer::Stocked => String::new(),
        0.0 => row.worth.to_string(),
        more => format!(
            "{} ({}{})",
            row.worth,
            if more > 0.0 { "+" } else { "-" },
            more.abs()
        ),
    }
}

/// Whether worth says something that the number of compartments does not.
pub(super) fn worth_matters(report: &ProbeReport) -> bool {
    let differs = |row: &Row| (row.worth - f64::from(row.compartments_stocked)).abs() > 1e-9;
    report.rows.iter().any(differs)
}

/// Honey given up in kg.
pub(super) fn honey(row: &Row) -> String {
    let more = row.difference.as_ref();
    let more = more.and_then(|difference| difference.honey_given_up_g);
    match (row.answer, row.honey_given_up_g) {
        (Answer::Stocked, Some(honey)) => kilograms(honey, more.unwrap_or(0)),
        (Answer::Stocked, None) => "not estimated".to_owned(),
        _ => String::new(),
    }
}

/// Cost in kg of honey.
pub(super) fn price(row: &Row) -> String {
    let more = row.difference.as_ref().map_or(0, |d| d.cost_g);
    match row.answer {
        Answer::Stocked => kilograms(row.cost_g, more),
        Answer::NothingPossible | Answer::StoppedWithoutPlan | Answer::WishNotMet => String::new(),
    }
}

/// Grams as kilograms, with what is more or less in brackets.
fn kilograms(grams: i64, more: i64) -> String {
    let kg = |grams: i64| kilos(decimal(grams, 1000.0));
    let sign = if more > 0 { "+" } else { "-" };
    match more {
        0 => kg(grams),
        more => {
            let more = kg(more.abs());
            format!("{} ({sign}{})", kg(grams), more.trim_end_matches(" kg"))
        }
    }
}

/// The notes of all rows, rows with equal notes together: what they are called, the notes.
pub(super) fn noted(report: &ProbeReport) -> Vec<(String, Vec<String>)> {
    let mut alike: Vec<(Vec<&Row>, Vec<String>)> = Vec::new();
    for row in &report.rows {
        let notes = notes(row);
        match alike.iter_mut().find(|(_, other)| *other == notes) {
            _ if notes.is_empty() => {}
            Some((rows, _)) => rows.push(row),
            None => alike.push((vec![row], notes)),
        }
    }
    let named = |(rows, notes): (Vec<&Row>, Vec<String>)| match rows.as_slice() {
        [row] => (format!("{}  {}", row.number, clean(&row.name)), notes),
        _ => (numbers(&rows), notes),
    };
    alike.into_iter().map(named).collect()
}

/// Numbers of rows, those that follow each other as a range: `1, 3 to 5`.
fn numbers(rows: &[&Row]) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for row in rows {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == row.number => *last = row.number,
            _ => runs.push((row.number, row.number)),
        }
    }
    let shown = |(first, last): &(u32, u32)| match last - first {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => format!("{first} to {last}"),
    };
    runs.iter().map(shown).join(", ")
}

/// What is otherwise than in the plan as it is, colony by colony, and how sure the row is.
pub(crate) fn notes(row: &Row) -> Vec<String> {
    let mut notes = row.days.clone();
    match row.answer {
        _ if row.number == 0 => {}
        Answer::StoppedWithoutPlan => notes
            .push("The time limit came before any plan was found. There may be one.".to_owned()),
        Answer::WishNotMet => notes.extend(row.wishes.iter().map(wishes::sentence)),
        Answer::NothingPossible => notes.push("Not one compartment can be stocked.".to_owned()),
        Answer::Stocked if row.colonies.is_empty() && row.difference.is_some() => {
            notes.push("Every colony gives the same.".to_owned());
        }
        Answer::Stocked => notes.extend(row.colonies.iter().map(change)),
    }
    notes.extend(cost(row));
    if let Some(proof) = row
        .proof
        .as_ref()
        .filter(|p| p.state != ProofState::ProvedBest)
    {
        notes.push(headline::proof(proof));
    }
    notes
}

/// What a choice of colonies costs, where nothing else is changed.
fn cost(row: &Row) -> Option<String> {
    let difference = row.difference.as_ref()?;
    let chosen = |change: &String| change.starts_with("give ") || change.starts_with("spare ");
    if row.answer != Answer::Stocked || !row.changes.iter().all(chosen) {
        return None;
    }
    let fewer = -difference.compartments_stocked;
    let compartments = match fewer {
        0 if difference.worth < 0.0 => format!("worth {}", -difference.worth),
        0 => "no compartment".to_owned(),
        fewer => counted(fewer, "compartment", "compartments"),
    };
    let kg = |grams: i64| kilos(decimal(grams, 1000.0));
    let price = match difference.cost_g {
        0 => "and nothing else".to_owned(),
        more if more > 0 => format!("and adds {} of honey to the cost", kg(more)),
        less => format!("and takes {} of honey off the cost", kg(-less)),
    };
    Some(format!("This choice costs {compartments} {price}."))
}

/// How one colony gives otherwise.
fn change(change: &ColonyChange) -> String {
    let (now, then) = (&change.gives, &change.as_it_is);
    let gives = |frames: u32, bees: i64| match (frames, bees) {
        (0, bees) => format!("{} bees", some(bees)),
        (frames, 0) => counted(i64::from(frames), "frame", "frames"),
        (frames, bees) => format!(
            "{} and {}",
            counted(i64::from(frames), "frame", "frames"),
            format_args!("{} bees", some(bees))
        ),
    };
    let name = format!("colony {}", clean(&change.colony));
    let nothing = |taken: &super::Taken| taken.frames == 0 && taken.bees == 0;
    if nothing(now) {
        return format!(
            "{name}: nothing, instead of {}",
            gives(then.frames, then.bees)
        );
    }
    if nothing(then) {
        return format!(
            "{name}: {}, instead of nothing",
            gives(now.frames, now.bees)
        );
    }
    let frames = i64::from(now.frames) - i64::from(then.frames);
    let bees = now.bees - then.bees;
    let mut parts = Vec::new();
    let more = |n: i64| if n > 0 { "more" } else { "fewer" };
    match frames {
        0 if now.groups != then.groups => {
            parts.push("as many frames, but different ones".to_owned())
        }
        0 => {}
        n => parts.push(format!(
            "{} {}",
            counted(n.abs(), "frame", "frames"),
            more(n)
        )),
    }
    if bees != 0 {
        parts.push(format!("{} bees {}", some(bees.abs()), more(bees)));
    }
    format!("{name}: {}", parts.join(", "))
}
