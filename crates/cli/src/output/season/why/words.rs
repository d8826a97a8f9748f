//! Phrases on what holds a season back.

use super::super::report::{HeadlineReport, WantReport};
use super::super::words;
use super::build::Tried;
use super::record::{ColonyHolds, TotalWhy, TriedReport, WantWhy, WhySeason};
use crate::output::calendar::words::written;
use crate::output::counted as counted_on;
use crate::output::figures::{counted, grams};
use crate::output::reasons;
use crate::output::words::clean;
use crate::season::Change;
use spareframe_solver::Scenario;
use spareframe_solver::why::Limit;

/// A change as a short clause.
pub(super) fn change(
    scenario: &Scenario,
    tried: &Tried,
    round: Option<&str>,
    place: usize,
) -> String {
    let name = |id: spareframe_solver::ColonyId| {
        let colony = scenario.colonies.get(id.0);
        colony.map_or(String::new(), |colony| clean(&colony.name))
    };
    let round = round.map_or(String::new(), written);
    match tried.change {
        Change::Eased(eased) => match eased.limit {
            Limit::Boxes(id) => {
                let kind = scenario.boxes.get(id.0);
                kind.map_or(String::new(), |kind| {
                    let of = match kind.compartments {
                        ..=1 => String::new(),
                        of => format!(", of {of} compartments"),
                    };
                    format!("1 more {}{of}", clean(&kind.name))
                })
            }
            _ => reasons::eased_in_short(scenario, &eased).1,
        },
        Change::Cell(_) => format!("1 more cell for {round}"),
        Change::Like(id) => format!("1 more donor like colony {}", name(id)),
        Change::Later(_) => {
            let by = tried
                .by
                .map_or(String::new(), |by| written(&by.to_string()));
            format!("want {place} a week later, by {by}")
        }
        Change::RainedOut(_) => format!("the round of {round} gives no queen"),
    }
}

/// Sentences under the title.
pub(super) fn lead(report: &WhySeason) -> Vec<String> {
    let h = &report.headline;
    let mut lines = vec![words::today(h), words::leads_to(h)];
    lines.push(format!(
        "Today's round is a plan; all after it, and all that follows here, is an outlook, not to the frame. {}.",
        words::look_again(h)
    ));
    lines.extend(counted_on::sentence(report.counted_on.as_ref()));
    lines
}

/// A want, how far it is met, and what binds it.
pub(super) fn want(want: &WantWhy) -> String {
    words::line(&want.want)
}

/// A limit of a colony that binds.
pub(super) fn holds(holds: &ColonyHolds, many: &str) -> String {
    format!(
        "colony {} on {}: {}; a step less is worth some {} {many}",
        clean(&holds.colony),
        written(&holds.round),
        holds.limit,
        holds.worth
    )
}

/// What a want is of.
pub(super) fn names(want: &WantReport) -> (&'static str, &'static str) {
    match want.what {
        "nuclei" => ("nucleus", "nuclei"),
        _ => ("queen", "queens"),
    }
}

/// What binds more queens in all.
pub(super) fn total(total: &TotalWhy) -> Option<String> {
    let held: Vec<String> = total.held_back_by.iter().map(|held| clean(held)).collect();
    (!held.is_empty()).then(|| format!("More queens in all are held back by {}.", held.join("; ")))
}

/// By want: how many more or fewer, where there is a difference.
fn differing<'a>(
    report: &'a WhySeason,
    tried: &'a TriedReport,
) -> impl Iterator<Item = (String, &'a WantReport, i64, i64)> {
    let figures = tried.met.iter().zip(&tried.met_more);
    let wants = report.wants.iter().enumerate().zip(figures);
    let differing = wants.filter(|(_, (_, more))| **more != 0);
    differing.map(|((at, want), (met, more))| {
        let name = match report.wants.len() {
            1 => String::new(),
            _ => format!("want {}", at + 1),
        };
        (name, &want.want, *met, *more)
    })
}

/// A change with what it brings.
pub(super) fn one_more(report: &WhySeason, tried: &TriedReport) -> String {
    let of_wants = differing(report, tried).map(|(name, want, met, more)| {
        let (one, many) = names(want);
        let name = match name.is_empty() {
            true => name,
            false => format!(" ({name})"),
        };
        format!(
            "{} instead of {}{name}",
            counted(met, one, many),
            met - more
        )
    });
    let mut parts: Vec<String> = of_wants.collect();
    if parts.is_empty() {
        parts.push(format!("{} less of the cost", grams(-tried.cost_more_g)));
    } else if report.wants.len() > 1 {
        parts.push(format!("{} in all", tried.queens));
    }
    let doubt = if tried.sure { "" } else { "?" };
    format!("{}: {}{doubt}", tried.change, parts.join(", "))
}

/// What is said of changes that bring nothing.
pub(super) fn nothing(report: &WhySeason) -> Option<String> {
    let all = report.brings_nothing.iter();
    let all: Vec<&str> = all.map(|tried| tried.change.as_str()).collect();
    (!all.is_empty()).then(|| format!("These bring nothing: {}.", all.join("; ")))
}

/// A round that is rained out, with what is missed then.
pub(super) fn rain(report: &WhySeason, tried: &TriedReport) -> String {
    let missed = differing(report, tried).filter(|(.., more)| *more < 0);
    let missed: Vec<String> = missed
        .map(|(name, want, _, more)| {
            let (one, many) = names(want);
            format!("{name} misses {}", counted(-more, one, many))
        })
        .map(|missed| missed.trim_start().to_owned())
        .collect();
    let mut parts = match tried.queens_more {
        0 => Vec::new(),
        _ => vec![queens(&report.headline, tried)],
    };
    parts.extend((!missed.is_empty()).then(|| missed.join(", ")));
    if parts.is_empty() {
        parts.push("nothing is missed".to_owned());
    }
    format!("if {}: {}", tried.change, parts.join("; "))
}

fn queens(h: &HeadlineReport, tried: &TriedReport) -> String {
    format!(
        "{} instead of {} mated queens by {}",
        tried.queens,
        h.queens,
        written(&h.queens_by)
    )
}

/// What a round that is rained out means.
pub(super) const RAIN: &str = "Nobody knows the weather before: all up to that round is as planned, and what comes after is planned \
                               anew. Its boxes are free for their next cells on the same day.";

/// What the mark means.
pub(super) fn legend(report: &WhySeason) -> Option<String> {
    let doubt = report.one_more.iter().any(|tried| !tried.sure);
    doubt.then(|| "?: there may be as much without it, which was not found.".to_owned())
}
