//! What people were told, as the planner of seasons takes it.

use super::Planned;
use super::shared::Shared;
use crate::scenario::season::{Asked, What};
use jiff::civil::Date;
use spareframe_season::{Stocks, Told, ToldOf, can_give};
use spareframe_solver::{BoxId, Scenario};
use std::collections::{BTreeMap, BTreeSet};

/// What people were told, beside the season that is planned now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Near {
    pub shared: Shared,
    pub told: Told,
    /// What is no longer there, a sentence each.
    pub gone: Vec<String>,
    /// By what was told: which kind of box it is.
    pub kinds: Vec<BoxId>,
}

impl Near {
    /// What was told of the rounds that the season has still.
    pub fn of(scenario: &Scenario, asked: &Asked, planned: &Planned, shared: Shared) -> Self {
        let kinds = kinds(scenario, asked, planned);
        let mut told = Told::default();
        let mut of = Vec::new();
        for (round, day) in planned.rounds.iter().enumerate() {
            let Some(then) = shared.rounds.get(day) else {
                continue;
            };
            for (kind, stocks) in &kinds {
                let name = scenario.boxes.get(kind.0).map(|kind| &kind.name);
                told.stocked.push(ToldOf {
                    round,
                    of: stocks.clone(),
                    then: name.and_then(|name| then.get(name)).copied().unwrap_or(0),
                });
                of.push(*kind);
            }
        }
        let given = planned.season.colonies.iter().map(|colony| {
            let own = shared.given.get(&colony.name);
            let rounds = planned.rounds.iter().map(|day| {
                shared.rounds.get(day)?;
                Some(match own.and_then(|own| own.get(day)) {
                    Some((0, bees)) => i64::from(*bees > 0),
                    Some((combs, _)) => i64::from(*combs),
                    None => 0,
                })
            });
            rounds.collect()
        });
        told.given = given.collect();
        Self {
            gone: gone(scenario, asked, planned, &shared),
            told,
            shared,
            kinds: of,
        }
    }

    /// Of each colony that cannot give any more as it was told: its place, and the first round for which it cannot; `None`
    /// where it could in each, and would be too weak for its flow or for winter, or give up too much honey.
    pub fn too_weak(&self, planned: &Planned) -> Vec<(usize, Option<usize>)> {
        let colonies = planned.season.colonies.iter().enumerate();
        let one = |(at, colony): (usize, &spareframe_season::Colony)| {
            let own = self.shared.given.get(&colony.name)?;
            let draws = planned.rounds.iter().map(|day| match own.get(day) {
                Some((0, bees)) => (0, *bees as f64),
                Some((combs, _)) => (*combs, 0.0),
                None => (0, 0.0),
            });
            let draws: Vec<(u32, f64)> = draws.collect();
            can_give(&planned.season, at, &draws)
                .err()
                .map(|round| (at, round))
        };
        colonies.filter_map(one).collect()
    }
}

/// Kinds of box that are counted, with what is stocked in them.
fn kinds(scenario: &Scenario, asked: &Asked, planned: &Planned) -> Vec<(BoxId, Vec<Stocks>)> {
    let mut kinds: BTreeMap<BoxId, Vec<Stocks>> = BTreeMap::new();
    for (at, kind) in planned.kinds.iter().enumerate() {
        kinds.entry(*kind).or_default().push(Stocks::Cells(at));
    }
    for (at, want) in planned.wants.iter().enumerate() {
        let want = want.and_then(|want| asked.wants.get(want));
        if let Some(What::Nuclei(kind)) = want.map(|want| &want.what) {
            kinds.entry(*kind).or_default().push(Stocks::Nuclei(at));
        }
    }
    kinds.retain(|kind, _| scenario.boxes.get(kind.0).is_some());
    kinds.into_iter().collect()
}

/// What was told of what is no longer there, each once.
fn gone(scenario: &Scenario, asked: &Asked, planned: &Planned, shared: &Shared) -> Vec<String> {
    let today = planned.rounds.first().copied().unwrap_or(Date::MIN);
    let mut gone = Vec::new();
    let mut kinds: BTreeSet<&str> = BTreeSet::new();
    for (day, stocked) in shared.rounds.range(today..) {
        let any = stocked.values().any(|count| *count > 0);
        if any && !asked.rounds.contains(day) {
            gone.push(format!("round {day} is no longer there"));
        }
        let known = |kind: &str| scenario.boxes.iter().any(|own| own.name == kind);
        let used = stocked.iter().filter(|(_, count)| **count > 0);
        kinds.extend(
            used.map(|(kind, _)| kind.as_str())
                .filter(|kind| !known(kind)),
        );
    }
    gone.extend(
        kinds
            .iter()
            .map(|kind| format!("kind of box `{kind}` is no longer there")),
    );
    for (name, given) in &shared.given {
        let gives = given
            .range(today..)
            .any(|(_, (combs, bees))| *combs > 0 || *bees > 0);
        let gives_now = planned
            .season
            .colonies
            .iter()
            .any(|colony| colony.name == *name);
        let there = scenario.colonies.iter().any(|colony| colony.name == *name);
        if gives && !gives_now {
            gone.push(match there {
                true => format!("colony `{name}` is on hold"),
                false => format!("colony `{name}` is no longer there"),
            });
        }
    }
    gone
}
