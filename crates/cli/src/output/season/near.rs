//! What is otherwise than in a season that was shared, and why.

use super::super::calendar::words::written;
use super::super::cautions;
use super::super::figures::counted;
use super::super::words::clean;
use super::build::Found;
use super::report::{SeasonReport, WantReport};
use super::words::{plural, short};
use crate::season::{Near, SharedWant};
use serde::Serialize;
use spareframe_season::{Course, Stocked, Stocks, ToldOf};
use std::collections::BTreeSet;

/// What is otherwise than in a season that was shared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NearReport {
    /// Day of the season that was shared, as it stands in it.
    pub day: String,
    /// Compartments and brood combs otherwise in the rounds that it had, too.
    pub otherwise: i64,
    /// What each of them weighs in the cost, in grams of honey.
    pub price_g: i64,
    /// Rounds with other numbers.
    pub rounds: Vec<OtherRound>,
    /// Colonies that give otherwise, by round.
    pub colonies: Vec<OtherGift>,
    /// Colonies that were to give nothing, and give now.
    pub newly_asked: Vec<String>,
    /// Colonies that were to give, and give nothing now.
    pub spared: Vec<String>,
    /// Wants that are met otherwise.
    pub wants: Vec<OtherWant>,
    /// Why it cannot stay as it was, as far as colonies are too weak for it.
    pub why: Vec<String>,
}

/// A round with another number.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OtherRound {
    /// The stocking day.
    pub day: String,
    /// Kind of box.
    pub box_kind: String,
    /// Compartments then.
    pub then: i64,
    /// Compartments now.
    pub now: i64,
}

/// A colony that gives otherwise in a round.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OtherGift {
    /// Its name.
    pub colony: String,
    /// The stocking day.
    pub day: String,
    /// Brood combs then, 1 for bees alone.
    pub then: i64,
    /// Brood combs now, 1 for bees alone.
    pub now: i64,
}

/// A want that is met otherwise.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OtherWant {
    /// Which, from 1.
    pub want: usize,
    /// As far as it was met then.
    pub then: i64,
    /// And now.
    pub now: i64,
}

/// What is otherwise, of a season that is decided.
pub(super) fn near(found: &Found, wants: &[WantReport]) -> Option<NearReport> {
    let near = found.near?;
    let colonies = gifts(found, near);
    let names: BTreeSet<&String> = colonies.iter().map(|gift| &gift.colony).collect();
    let in_order = found.planned.season.colonies.iter().enumerate();
    let changed: Vec<(usize, &String)> = in_order
        .map(|(at, colony)| (at, &colony.name))
        .filter(|(_, name)| names.contains(name))
        .collect();
    let gave = |at: usize| {
        let told = near.told.given.get(at);
        told.is_some_and(|told| told.iter().flatten().any(|then| *then > 0))
    };
    let gives = |at: usize| {
        let course = found.outlook.colonies.get(at);
        course.is_some_and(|course: &Course| course.draws.iter().any(|draw| draw.counts() > 0))
    };
    let named = |which: &dyn Fn(usize) -> bool| -> Vec<String> {
        let named = changed.iter().filter(|(at, _)| which(*at));
        named.map(|(_, name)| (*name).clone()).collect()
    };
    Some(NearReport {
        day: near.shared.day.clone(),
        otherwise: found.outlook.otherwise,
        price_g: found.planned.season.prices.otherwise,
        rounds: rounds(found, near),
        newly_asked: named(&|at| gives(at) && !gave(at)),
        spared: named(&|at| gave(at) && !gives(at)),
        wants: other_wants(near, wants),
        why: why(found, near),
        colonies,
    })
}

fn day(found: &Found, round: usize) -> String {
    let day = found.planned.rounds.get(round);
    day.map_or(String::new(), ToString::to_string)
}

fn rounds(found: &Found, near: &Near) -> Vec<OtherRound> {
    let told = near.told.stocked.iter().zip(&near.kinds);
    let one = |(told, kind): (&ToldOf, &spareframe_solver::BoxId)| {
        let stocked: &Stocked = found.outlook.rounds.get(told.round)?;
        let now = stocked.counts(&told.of);
        (now != told.then).then(|| OtherRound {
            day: day(found, told.round),
            box_kind: found
                .scenario
                .boxes
                .get(kind.0)
                .map_or(String::new(), |kind| kind.name.clone()),
            then: told.then,
            now,
        })
    };
    told.filter_map(one).collect()
}

fn gifts(found: &Found, near: &Near) -> Vec<OtherGift> {
    let colonies = found.planned.season.colonies.iter();
    let courses = colonies.zip(&found.outlook.colonies).zip(&near.told.given);
    let mut gifts = Vec::new();
    for ((colony, course), told) in courses {
        for (round, (draw, then)) in course.draws.iter().zip(told).enumerate() {
            let now = draw.counts();
            if let Some(then) = then.filter(|then| *then != now) {
                gifts.push(OtherGift {
                    colony: colony.name.clone(),
                    day: day(found, round),
                    then,
                    now,
                });
            }
        }
    }
    gifts
}

/// Wants that were met further then, or less far; those that are the same by what is wanted and by when.
fn other_wants(near: &Near, wants: &[WantReport]) -> Vec<OtherWant> {
    let same = |then: &&SharedWant, want: &WantReport| {
        then.what == want.what && then.kind == want.box_kind && then.by == want.by
    };
    let mut used = BTreeSet::new();
    let mut others = Vec::new();
    for (at, want) in wants.iter().enumerate() {
        let then = near.shared.wants.iter().enumerate();
        let then = then.filter(|(of, then)| same(then, want) && !used.contains(of));
        let Some((of, then)) = then.min_by_key(|(of, _)| of.abs_diff(at)) else {
            continue;
        };
        used.insert(of);
        if then.met != want.met {
            others.push(OtherWant {
                want: at + 1,
                then: then.met,
                now: want.met,
            });
        }
    }
    others
}

/// Which colonies cannot give any more what people were told, and which rounds have fewer cells.
fn why(found: &Found, near: &Near) -> Vec<String> {
    let season = &found.planned.season;
    let mut why = Vec::new();
    for (colony, round) in near.too_weak(found.planned) {
        let name = season
            .colonies
            .get(colony)
            .map_or("", |colony| &colony.name);
        let then = |round: usize| {
            let told = near.told.given.get(colony)?.get(round)?;
            Some(told.map_or(0, |then| then))
        };
        why.push(match round {
            Some(round) => format!(
                "colony {} cannot spare {} on {}",
                clean(name),
                combs(then(round).unwrap_or(0)),
                written(&day(found, round))
            ),
            None => format!(
                "colony {} would be too weak for its flow or for winter",
                clean(name)
            ),
        });
    }
    for (round, of) in season.rounds.iter().enumerate() {
        let told = near.told.stocked.iter().filter(|told| told.round == round);
        let cells = |told: &&ToldOf| {
            let of_cells = |of: &Stocks| matches!(of, Stocks::Cells(_));
            told.of.iter().any(of_cells)
        };
        let then: i64 = told.filter(cells).map(|told| told.then).sum();
        if let Some(cells) = of.cells.map(i64::from).filter(|cells| *cells < then) {
            why.push(format!(
                "{} for {}, and {then} were told",
                counted(cells, "cell", "cells"),
                written(&day(found, round))
            ));
        }
    }
    why
}

fn combs(count: i64) -> String {
    counted(count, "brood comb", "brood combs")
}

/// Lines about it.
pub(super) fn sentences(report: &SeasonReport) -> Vec<String> {
    let Some(near) = &report.near else {
        return Vec::new();
    };
    let mut lines = vec![format!(
        "Near to the season of {}: {} otherwise than was told, at {} g of honey each.",
        clean(&near.day),
        counted(
            near.otherwise,
            "compartment or brood comb",
            "compartments or brood combs"
        ),
        near.price_g
    )];
    let rounds = near.rounds.iter().map(|other| {
        format!(
            "{}: {} in {} instead of {}",
            written(&other.day),
            other.now,
            plural(&other.box_kind),
            other.then
        )
    });
    lines.extend(sentence("Other numbers: ", rounds.collect()));
    let asked = |names: &[String]| match names.is_empty() {
        true => Vec::new(),
        false => vec![cautions::colonies(
            &names.iter().map(|name| clean(name)).collect::<Vec<_>>(),
        )],
    };
    lines.extend(sentence("Newly asked: ", asked(&near.newly_asked)));
    lines.extend(sentence("Spared: ", asked(&near.spared)));
    let known = |gift: &&OtherGift| {
        !near.newly_asked.contains(&gift.colony) && !near.spared.contains(&gift.colony)
    };
    let gifts = near.colonies.iter().filter(known).map(|gift| {
        format!(
            "colony {} on {}, {} instead of {}",
            clean(&gift.colony),
            written(&gift.day),
            combs(gift.now),
            gift.then
        )
    });
    lines.extend(sentence("Otherwise asked: ", gifts.collect()));
    lines.extend(sentence(
        "As it was told it cannot be: ",
        near.why.iter().map(|why| clean(why)).collect(),
    ));
    let want = |other: &&OtherWant| report.wants.get(other.want - 1).map(short);
    let met = |fewer: bool| {
        let wants = near
            .wants
            .iter()
            .filter(move |other| (other.now < other.then) == fewer);
        wants.map(move |other| {
            format!(
                "{}. {} {}, {} then",
                other.want,
                other.now,
                want(&other).unwrap_or_default(),
                other.then
            )
        })
    };
    lines.extend(sentence("Met less far: ", met(true).collect()));
    lines.extend(sentence("Met further: ", met(false).collect()));
    lines
}

/// A sentence of several parts; none where there are none.
fn sentence(title: &str, parts: Vec<String>) -> Option<String> {
    (!parts.is_empty()).then(|| format!("{title}{}.", parts.join("; ")))
}
