//! Phrases on alternatives of a season.

use super::super::words;
use super::record::{ProbeSeason, SeasonRow};
use crate::output::calendar::words::written;
use crate::output::counted as counted_on;
use crate::output::figures::{counted, whole};
use crate::output::words::clean;

/// Sentences above the table.
pub(super) fn sentences(report: &ProbeSeason) -> Vec<String> {
    let mut all = Vec::new();
    all.extend(counted_on::sentence(report.counted_on.as_ref()));
    let alternatives = report.rows.len().saturating_sub(1);
    all.push(format!(
        "{} beside the season as it is; differences in brackets.",
        counted(
            i64::try_from(alternatives).unwrap_or(i64::MAX),
            "alternative",
            "alternatives"
        )
    ));
    if !report.in_all.is_empty() {
        let in_all = clean(&report.in_all.join(", "));
        all.push(format!("In every alternative: {in_all}."));
    }
    if let Some(row) = report.rows.first() {
        all.push(format!(
            "But for what is stocked today all of it is an outlook, not to the frame. {}.",
            look_again(row)
        ));
    }
    all
}

fn look_again(row: &SeasonRow) -> String {
    words::again(&row.look_again, row.next_round.as_deref())
}

/// Below the table: how to see a season whole.
pub(super) const WHOLE: &str = "For the whole season of one of them, add --plan and its number.";

/// A figure with its difference in brackets.
fn beside(value: &str, difference: Option<i64>) -> String {
    match difference {
        None | Some(0) => value.to_owned(),
        Some(more) if more > 0 => format!("{value} (+{})", whole(more)),
        Some(less) => format!("{value} ({})", whole(less)),
    }
}

/// Kilograms to a tenth, with the difference in brackets.
fn kilograms(row: &SeasonRow) -> String {
    let Some(honey) = row.honey_given_up_g else {
        return String::new();
    };
    let difference = row.difference.as_ref();
    let more = difference.and_then(|difference| difference.honey_given_up_g);
    let more = match more.unwrap_or(0) {
        0 => String::new(),
        more if more > 0 => format!(" (+{})", words::kg(more)),
        less => format!(" (-{})", words::kg(-less)),
    };
    let doubt = if row.dear() { "?" } else { "" };
    format!("{}{doubt}{more}", words::kg(honey))
}

/// Whether honey is estimated in any.
fn honey(report: &ProbeSeason) -> bool {
    report.rows.iter().any(|row| row.honey_given_up_g.is_some())
}

/// The columns: number, name, today, each want of the season as it is, queens, honey.
pub(super) fn columns(report: &ProbeSeason) -> Vec<String> {
    let wants = report.rows.first().map(|row| &row.wants[..]);
    let wants = wants.unwrap_or_default();
    let mut columns = vec![
        "No".to_owned(),
        "Alternative".to_owned(),
        "Today".to_owned(),
    ];
    if wants.len() > 1 {
        let wants = wants.iter().enumerate();
        columns.extend(wants.map(|(at, want)| format!("{}. {}", at + 1, words::short(want))));
    }
    columns.push("Queens".to_owned());
    if honey(report) {
        columns.push("Honey kg".to_owned());
    }
    columns
}

/// The figures of a row under the columns behind its name.
pub(super) fn figures(report: &ProbeSeason, row: &SeasonRow) -> Vec<String> {
    let wants = report.rows.first().map_or(0, |row| row.wants.len());
    let many = if wants > 1 { wants } else { 0 };
    if row.no_season.is_some() {
        let rest = many + 1 + usize::from(honey(report));
        let none = std::iter::once("none".to_owned());
        return none
            .chain(std::iter::repeat_n(String::new(), rest))
            .collect();
    }
    let difference = row.difference.as_ref();
    let mut cells = vec![beside(
        &row.stock_today.to_string(),
        difference.map(|of| of.stock_today),
    )];
    let more = difference.and_then(|of| of.met.as_ref());
    for at in 0..many {
        let met = row.wants.get(at).map(|want| want.met.to_string());
        let more = more.and_then(|more| more.get(at)).copied();
        cells.push(beside(&met.unwrap_or_default(), more));
    }
    let queens = difference.and_then(|of| of.queens);
    cells.push(beside(&row.queens.to_string(), queens));
    if honey(report) {
        cells.push(kilograms(row));
    }
    cells
}

/// What the columns mean.
pub(super) fn legend(report: &ProbeSeason) -> String {
    let by = report
        .rows
        .first()
        .map_or(String::new(), |row| written(&row.queens_by));
    let wants = report.rows.first().map_or(0, |row| row.wants.len());
    let numbers = match wants {
        ..=1 => "",
        _ => " 1. and so on: how far each want is met.",
    };
    let mut legend = format!(
        "Today: stocked today.{numbers} Queens: mated queens counted on by {by} (outlook)."
    );
    if honey(report) {
        legend += " Honey: given up over the season (estimate).";
    }
    if honey(report) && report.rows.iter().any(SeasonRow::dear) {
        legend += " ?: there may be a way that costs less.";
    }
    legend
}

/// What is otherwise in words, row by row: wants that are met otherwise, and what binds them.
pub(super) fn notes(report: &ProbeSeason, row: &SeasonRow) -> Vec<String> {
    let Some(first) = report.rows.first().filter(|_| row.number > 0) else {
        return Vec::new();
    };
    if let Some(why) = &row.no_season {
        return vec![clean(why)];
    }
    let as_it_is = |at: usize| first.wants.get(at).map(words::line);
    let wants = row.wants.iter().enumerate();
    let wants = wants.filter(|(at, want)| as_it_is(*at).as_ref() != Some(&words::line(want)));
    let mut notes: Vec<String> = wants
        .map(|(at, want)| format!("want {}, {}", at + 1, words::line(want)))
        .collect();
    if row.queens_by != first.queens_by {
        let by = written(&row.queens_by);
        notes.push(format!("queens are counted by {by}"));
    }
    if (&row.look_again, &row.next_round) != (&first.look_again, &first.next_round) {
        notes.push(look_again(row));
    }
    if notes.is_empty() {
        notes.push("every want is met as far, and held back by the same".to_owned());
    }
    notes
}
