//! Rounds, and colonies from round to round, in words.

use super::super::calendar::words::written;
use super::super::figures::{counted, covered, grams, whole};
use super::super::words::clean;
use super::report::{CourseReport, DrawReport, KindCount, RoundReport, SeasonReport};
use super::words::{between, plural};

fn kinds(counts: &[KindCount], next: bool) -> Vec<String> {
    let one = |count: &KindCount| match next {
        true => format!(
            "{} in {} that stand",
            counted(count.compartments, "next cell", "next cells"),
            plural(&count.box_kind)
        ),
        false => format!("{} new in {}", count.compartments, plural(&count.box_kind)),
    };
    counts.iter().map(one).collect()
}

/// What a round is, a line for each part.
pub(super) fn round(round: &RoundReport) -> Vec<String> {
    let mut what = kinds(&round.new, false);
    what.extend(kinds(&round.next, true));
    if round.nuclei > 0 {
        what.push(counted(round.nuclei, "nucleus made", "nuclei made"));
    }
    if what.is_empty() {
        return vec!["nothing is stocked".to_owned()];
    }
    let mut lines = vec![what.join(", ")];
    let needs = [combs(round.brood_combs), bees(round.bees)];
    let needs: Vec<String> = needs.into_iter().flatten().collect();
    if !needs.is_empty() {
        lines.push(format!("takes {}", needs.join(" and ")));
    }
    let lacks = [combs(round.top_up_brood_combs), bees(round.top_up_bees)];
    let lacks: Vec<String> = lacks.into_iter().flatten().collect();
    if !lacks.is_empty() && !round.next.is_empty() {
        lines.push(format!(
            "of it to top up what stands: {}",
            lacks.join(" and ")
        ));
    }
    if round.outlook && round.other_combs > 0 {
        lines.push(format!(
            "{} without brood to be had ready, and not reckoned",
            counted(round.other_combs, "comb", "combs")
        ));
    }
    if round.cells > 0 {
        lines.push(format!(
            "{} ready, grafted by {}",
            counted(round.cells, "cell", "cells"),
            written(&round.graft)
        ));
        if round.rained_out {
            lines.push(format!(
                "rained out: no queen is counted on; boxes free for the next cell on {}",
                written(&round.free_from)
            ));
            return lines;
        }
        lines.push(format!(
            "{} counted on ({} in eight of ten rounds), to be taken from {} on; boxes free for the next cell on {}",
            counted(round.queens, "queen", "queens"),
            between(round.queens_least, round.queens_most),
            written(&round.usable_from),
            written(&round.free_from)
        ));
    }
    lines
}

fn combs(combs: f64) -> Option<String> {
    let up = combs.ceil() as i64;
    (up > 0).then(|| counted(up, "brood comb", "brood combs"))
}

/// Bees to thousands, as far as an outlook goes.
fn bees(bees: i64) -> Option<String> {
    (bees > 0).then(|| format!("{} bees", some(bees)))
}

pub(super) fn some(bees: i64) -> String {
    match (bees + 500).div_euclid(1000) {
        0 => "fewer than 500".to_owned(),
        thousands => format!("some {}", whole(thousands * 1000)),
    }
}

fn strength((bees, frames): (i64, f64)) -> String {
    let brood = covered(frames).map_or("no brood".to_owned(), |frames| {
        let (count, unit) = frames.split_once(' ').unwrap_or((&frames, "frames"));
        format!("{count} full {unit} of brood")
    });
    format!("{} bees, {brood}", some(bees))
}

/// A colony's rounds, a line for each in which it gives, and for the last.
pub(super) fn course(course: &CourseReport) -> Vec<String> {
    let mut given = false;
    let mut lines = Vec::new();
    for (at, round) in course.rounds.iter().enumerate() {
        let gives = round.brood_combs > 0 || round.bees_given > 0;
        let mut line = format!(
            "{}: {}",
            written(&round.day),
            strength((round.bees, round.brood_frames))
        );
        if given {
            line += &format!(
                " (never drawn on: {})",
                strength((round.bees_undrawn, round.brood_frames_undrawn))
            );
        }
        if gives {
            line += &format!("; gives {}", gives_what(round));
            line += &back(round);
        } else if at == 0 || !given {
            continue;
        }
        given |= gives;
        lines.push(line);
    }
    let honey = course.honey_given_up_g.filter(|honey| *honey > 0);
    lines.extend(honey.map(|honey| {
        format!(
            "honey given up over the season (estimate): {}",
            grams(honey)
        )
    }));
    if let (Some(bees), Some(undrawn)) = (course.winter_bees, course.winter_bees_undrawn) {
        lines.push(format!(
            "raises {} bees for winter (never drawn on: {})",
            some(bees),
            some(undrawn)
        ));
    }
    lines
}

fn gives_what(round: &DrawReport) -> String {
    let bees = bees(round.bees_given);
    match (round.brood_combs, bees) {
        (0, bees) => bees.unwrap_or_default(),
        (combs, None) => counted(combs.into(), "brood comb", "brood combs"),
        (combs, Some(bees)) => format!(
            "{} with {bees}",
            counted(combs.into(), "brood comb", "brood combs")
        ),
    }
}

/// Days until its brood is back.
fn back(round: &DrawReport) -> String {
    if round.brood_combs == 0 {
        return String::new();
    }
    let days = (
        round.brood_back_days,
        round.brood_back_days_with_fewer_losses,
    );
    match days {
        (Some(a), Some(b)) if a == b => format!("; brood back in some {a} days"),
        (Some(a), Some(b)) => format!("; brood back in {} to {} days", a.min(b), a.max(b)),
        (Some(a), None) | (None, Some(a)) => format!("; brood back in {a} days or later"),
        (None, None) => "; brood not back this season".to_owned(),
    }
}

/// A day by its name in the month: `17 Jun`.
pub(super) fn short_day(day: &str) -> String {
    let date: Option<jiff::civil::Date> = day.parse().ok();
    date.map_or(clean(day), |date| date.strftime("%-d %b").to_string())
}

/// Columns of colonies: what they give in each round, when brood is back, and bees for winter.
pub(super) fn colony_columns(report: &SeasonReport) -> Vec<String> {
    let days = report.rounds.iter().map(|round| short_day(&round.day));
    let mut columns = vec!["Colony".to_owned()];
    columns.extend(days);
    columns.push("Back in".to_owned());
    if report.autumn.is_some() {
        columns.push("For winter".to_owned());
    }
    columns
}

/// A colony: combs that it gives, of those with brood before.
pub(super) fn colony(report: &SeasonReport, course: &CourseReport) -> Vec<String> {
    let mut cells = vec![clean(&course.colony)];
    cells.extend(course.rounds.iter().map(|round| {
        let before = round.brood_combs_before;
        match (round.brood_combs, round.bees_given) {
            (0, 1..) => "bees alone".to_owned(),
            (combs, _) => format!("{combs} of {before}"),
        }
    }));
    let mut drawn = course.rounds.iter().filter(|round| round.brood_combs > 0);
    let back = |round: &DrawReport| {
        (
            round.brood_back_days,
            round.brood_back_days_with_fewer_losses,
        )
    };
    cells.push(match drawn.next().map(back) {
        None => String::new(),
        Some((Some(a), Some(b))) if a == b => format!("{a} days"),
        Some((Some(a), Some(b))) => format!("{} to {} days", a.min(b), a.max(b)),
        Some((Some(a), None) | (None, Some(a))) => format!("{a} days or more"),
        Some((None, None)) => "-".to_owned(),
    });
    if report.autumn.is_some() {
        let bees = course.winter_bees.map_or(String::new(), some);
        cells.push(bees.replace("some ", ""));
    }
    cells
}

/// What the columns of colonies mean.
pub(super) fn colonies(report: &SeasonReport) -> String {
    let winter = match report.autumn {
        Some(_) => " For winter: bees raised in the two months before the winter's day.",
        None => "",
    };
    format!(
        "Brood combs given in each round, with the bees on them, of those there are before. Back in: days after the first \
         draw until it would have 95 % of the brood it would have had untouched, were nothing more taken, with more and with \
         fewer foragers lost a day; -: not this season.{winter}"
    )
}

/// Colonies that give nothing.
pub(super) fn left_alone(report: &SeasonReport) -> Option<String> {
    let names = report.colonies.iter().filter(|colony| !colony.gives());
    let names: Vec<String> = names.map(|colony| clean(&colony.colony)).collect();
    (!names.is_empty())
        .then(|| format!("Left alone: {}.", super::super::cautions::colonies(&names)))
}
