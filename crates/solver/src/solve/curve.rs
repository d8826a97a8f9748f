//! Cost against compartments: the least cost for each number, or each worth, from nothing to the most.

use std::time::{Duration, Instant};

use rayon::prelude::*;

use super::{Ceiling, Goal, Outcome, Proof, SolveOptions, solve_below};
use crate::check::check;
use crate::plan::{Cost, Plan};
use crate::scenario::{Prices, Scenario};
use crate::units::{Grams, Worth};

/// Ranges of worth that are gone through side by side (a choice: enough for the cores of a laptop).
const RANGES: i64 = 16;

/// A price is dear that is above so many halves of the average (a choice: less is hardly worth a second thought).
const DEAR: i128 = 3;

/// One number of compartments, or one worth that costs less than every greater one, and the least cost for it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Point {
    /// Worth of the compartments stocked.
    pub worth: Worth,
    /// What makes the cost, the least in all for so much worth under its ceiling.
    pub cost: Cost,
    /// Compartments stocked, for each of [`Scenario::boxes`].
    pub compartments: Vec<u32>,
    /// The plan, checked.
    pub plan: Plan,
    /// How sure that is.
    pub proof: Proof,
}

/// The frontier of worth and cost. Each point is the plan of [`crate::solve`] with a ceiling at its number.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Curve {
    /// Points in the order of worth, which always rises; where points are worths, cost does, too, but for points that are not
    /// proved. Nothing at 0 is the first, or what is finished.
    pub points: Vec<Point>,
    /// All compartments are worth the same, so that points are numbers of compartments; else they are
    /// worths.
    pub every_count: bool,
    /// Points are missing, or may be: the time limit came.
    pub cut_off: bool,
}

impl Curve {
    /// The point that the dear step leads to: the first step from which on further compartments,
    /// however many, cost more than one and a half times as much for their worth as all compartments do on average.
    /// `None` where there is no such step, and where points are missing.
    #[must_use]
    pub fn dear(&self, prices: &Prices) -> Option<usize> {
        let last = self.points.last().filter(|_| !self.cut_off)?;
        let total = |point: &Point| point.cost.total(prices).0;
        let product =
            |one: &Point, other: &Point| i128::from(one.worth.0) * i128::from(total(other));
        // How far a point lies below the dear price; the last of equals.
        let saved = |point: &Point| DEAR * product(point, last) - 2 * product(last, point);
        let before = (0..self.points.len()).max_by_key(|&index| saved(&self.points[index]))?;
        (before + 1 < self.points.len()).then_some(before + 1)
    }
}

/// Finds the least cost for every number of compartments that can be reached, or for every worth that no greater one undercuts,
/// without wishes. `most`, `near` and `progress` of the options play no part. A pure function of its arguments,
/// but for what a time limit cuts off.
///
/// ```
/// use spareframe_solver::{Scenario, SolveOptions, curve};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../doctests/yard.rs");
/// let curve = curve(&yard, &SolveOptions::default());
/// let points = curve.points.iter();
/// let points = points.map(|point| (point.worth.0 / 1000, point.cost.total(&yard.prices).0));
/// // Two of the nucleus are cheap; more come from the producer, which gives up honey for them.
/// assert_eq!(points.collect::<Vec<_>>(), [(0, 0), (1, 200), (2, 560), (3, 2_828), (4, 7_203)]);
/// assert_eq!(curve.dear(&yard.prices), Some(4));
/// ```
#[must_use]
pub fn curve(scenario: &Scenario, options: &SolveOptions) -> Curve {
    let scenario = &Scenario {
        gives: Vec::new(),
        ..scenario.clone()
    };
    let end = options.time_limit.map(|limit| (Instant::now(), limit));
    let search = Search {
        scenario,
        options,
        end,
    };
    let every_count = alike(scenario);
    let top = search.under(Ceiling::default(), None);
    let below = match (&top, every_count) {
        (None, _) => vec![search.lowest()],
        (Some(top), true) => search.counts(top),
        (Some(top), false) => search.worths(top.worth.0),
    };
    let found: Vec<Option<Point>> = below.into_iter().chain([top]).collect();
    let cut_off = found
        .iter()
        .any(|point| point.as_ref().is_none_or(may_hide_others));
    let mut points: Vec<Point> = found.into_iter().flatten().collect();
    points.sort_by_key(|point| point.worth);
    points.dedup_by_key(|point| point.worth);
    if !every_count {
        points = not_undercut(points, &scenario.prices);
    }
    Curve {
        points,
        every_count,
        cut_off,
    }
}

/// Whether all compartments that there are have one worth.
fn alike(scenario: &Scenario) -> bool {
    let kinds = scenario.boxes.iter();
    let mut worths = kinds
        .filter(|kind| kind.count > 0 && kind.compartments > 0)
        .map(|kind| kind.worth);
    let first = worths.next();
    worths.all(|worth| Some(worth) == first)
}

/// Points without those that cost as much as one of more worth, or more, unless it is not proved that they do.
fn not_undercut(mut points: Vec<Point>, prices: &Prices) -> Vec<Point> {
    let mut least = None;
    points.reverse();
    points.retain(|point| {
        let cost = point.cost.total(prices);
        let dearer = least.is_some_and(|least| cost >= least);
        least = least.into_iter().chain([cost]).min();
        !dearer || point.proof != Proof::Best
    });
    points.reverse();
    points
}

/// Whether there may be a point of more worth under the same ceiling.
fn may_hide_others(point: &Point) -> bool {
    matches!(
        point.proof,
        Proof::Open {
            goal: Goal::Worth,
            ..
        }
    )
}

struct Search<'a> {
    scenario: &'a Scenario,
    options: &'a SolveOptions<'a>,
    /// When it began, and how long it may take.
    end: Option<(Instant, Duration)>,
}

impl Search<'_> {
    /// Every number of compartments below those of the top.
    fn counts(&self, top: &Point) -> Vec<Option<Point>> {
        let most: u64 = top.compartments.iter().copied().map(u64::from).sum();
        (0..most)
            .into_par_iter()
            .map(|count| {
                let most = Ceiling {
                    compartments: Some(count),
                    worth: None,
                };
                self.under(most, None)
            })
            .collect()
    }

    /// Every worth below the top's.
    fn worths(&self, top: i64) -> Vec<Option<Point>> {
        let width = (top / RANGES).max(1);
        let ends: Vec<i64> = (0..RANGES).map(|range| top - 1 - range * width).collect();
        let lowest = ends.len() - 1;
        let ranges = ends
            .into_par_iter()
            .enumerate()
            .filter(|(_, end)| *end >= 0);
        ranges
            .flat_map_iter(|(range, end)| {
                let above = if range == lowest { -1 } else { end - width };
                self.between(above, end)
            })
            .collect()
    }

    /// The worths above one and up to another that none of them undercuts.
    fn between(&self, above: i64, end: i64) -> Vec<Option<Point>> {
        let nothing = self.nothing();
        let nothing = check(self.scenario, &nothing).0.cost.total(self.prices());
        let mut found = Vec::new();
        let (mut ceiling, mut below) = (end, None);
        while ceiling > above && below.is_none_or(|below| below > nothing) {
            let most = Ceiling {
                compartments: None,
                worth: Some(Worth(ceiling)),
            };
            let point = self.under(most, below);
            let reached = point
                .as_ref()
                .map(|point| (point.worth.0, point.cost.total(self.prices())));
            found.push(point);
            match reached {
                Some((worth, cost)) if worth <= ceiling => {
                    (ceiling, below) = (worth - 1, Some(cost));
                }
                // Out of time, or what is finished is worth more.
                _ => break,
            }
        }
        found
    }

    fn prices(&self) -> &Prices {
        &self.scenario.prices
    }

    /// The best plan under a ceiling that costs less than so much; `None` where time has run out before there was one.
    fn under(&self, most: Ceiling, below: Option<Grams>) -> Option<Point> {
        let left = self
            .end
            .map(|(from, limit)| limit.saturating_sub(from.elapsed()));
        let options = SolveOptions {
            time_limit: left,
            most,
            near: None,
            progress: None,
            ..*self.options
        };
        match solve_below(self.scenario, &options, below) {
            Outcome::Stocked(best) => Some(self.point(best.plan, best.proof)),
            Outcome::Nothing => Some(self.point(self.nothing(), Proof::Best)),
            Outcome::TimedOut | Outcome::Unmet(_) => None,
        }
    }

    /// The first point where the time limit leaves no other: nothing, or what is finished.
    fn lowest(&self) -> Option<Point> {
        let nothing = self.nothing();
        if check(self.scenario, &nothing).1.is_empty() {
            return Some(self.point(nothing, Proof::Best));
        }
        let most = Ceiling {
            compartments: Some(0),
            worth: None,
        };
        self.under(most, None)
    }

    /// Nothing but what is begun.
    fn nothing(&self) -> Plan {
        let mut plan = Plan {
            compartments: Vec::new(),
            begun: self.scenario.done.clone(),
        };
        plan.put_in_order();
        plan
    }

    fn point(&self, plan: Plan, proof: Proof) -> Point {
        let (goals, _) = check(self.scenario, &plan);
        let mut compartments = vec![0; self.scenario.boxes.len()];
        for stocked in &plan.compartments {
            if let Some(count) = compartments.get_mut(stocked.kind.0) {
                *count += 1;
            }
        }
        Point {
            worth: goals.worth,
            cost: goals.cost,
            compartments,
            plan,
            proof,
        }
    }
}
