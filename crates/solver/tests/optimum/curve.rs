//! The curve of cost against worth: against the enumeration of all plans, and against solving under a
//! ceiling.
//!
//! Rules and goals: `docs/model.md`; what a point of the curve is: `docs/curve.md`.

use super::support::{answer, enumerate, figures, for_seeds, generate, same, seeds};
use spareframe_solver::*;
use std::collections::BTreeMap;

/// Worth and cost of each point of a curve that is whole, proved and checked.
fn points(scenario: &Scenario) -> Result<(Curve, Pairs), String> {
    let curve = curve(scenario, &SolveOptions::default());
    if curve.cut_off {
        return Err("cut off".into());
    }
    let free = Scenario {
        gives: vec![],
        ..scenario.clone()
    };
    for point in &curve.points {
        let (goals, breaches) = check(&free, &point.plan);
        let told = (goals.worth, goals.cost) == (point.worth, point.cost);
        if point.proof != Proof::Best || !breaches.is_empty() || !told {
            return Err(format!("{point:?}: {goals:?}, {breaches:?}"));
        }
        let counted = scenario.boxes.iter().zip(&point.compartments);
        let worth: i64 = counted.map(|(kind, &n)| kind.worth.0 * i64::from(n)).sum();
        if worth != point.worth.0 {
            return Err(format!("{worth} counted, {point:?}"));
        }
    }
    let total = |point: &Point| point.cost.total(&scenario.prices).0;
    let pairs = curve.points.iter().map(|p| (p.worth.0, total(p))).collect();
    Ok((curve, pairs))
}

/// Worth and cost.
type Pairs = Vec<(i64, i64)>;

/// What the curve must be: the least cost for each worth that can be reached; where points are worths, of those that no
/// greater one undercuts.
fn wanted(scenario: &Scenario, every_count: bool) -> Pairs {
    let mut least: BTreeMap<i64, i64> = BTreeMap::new();
    for (_, best) in enumerate::all_costs(scenario) {
        let cost = least.entry(best.worth).or_insert(best.cost);
        *cost = best.cost.min(*cost);
    }
    let undercut =
        |&(worth, cost): &(i64, i64)| least.range(worth + 1..).any(|(_, &other)| other <= cost);
    let all = least.iter().map(|(&worth, &cost)| (worth, cost));
    all.filter(|pair| every_count || !undercut(pair)).collect()
}

fn compare(scenario: &Scenario) -> Result<(), String> {
    let (curve, found) = points(scenario)?;
    let wanted = wanted(scenario, curve.every_count);
    match found == wanted {
        true => Ok(()),
        false => Err(format!("curve {found:?}, enumeration {wanted:?}")),
    }
}

#[test]
fn the_curve_is_what_going_through_all_plans_says() {
    for_seeds(seeds(400), |seed| compare(&generate::small(seed)));
    for_seeds(seeds(60), |seed| compare(&generate::full_size(seed)));
}

#[test]
fn the_curve_of_a_begun_day_is_what_going_through_all_plans_says() {
    for_seeds(seeds(300), |seed| {
        compare(&generate::begun(generate::small(seed), seed))
    });
}

#[test]
fn the_cases_have_curves_of_both_sorts_with_many_points_and_with_dear_steps() {
    let cases: Vec<_> = (0..400).map(generate::small).collect();
    let curves: Vec<_> = cases
        .iter()
        .map(|s| points(s).expect("a curve").0)
        .collect();
    let count = |holds: &dyn Fn(&Curve) -> bool| curves.iter().filter(|&c| holds(c)).count();
    let several = |c: &Curve| c.points.len() > 2;
    assert!(count(&|c| c.every_count && several(c)) > 20);
    assert!(count(&|c| !c.every_count && several(c)) > 20);
    assert!(count(&|c| c.dear(&Prices::default()).is_some()) > 20);
}

#[test]
fn each_point_is_what_solving_under_its_ceiling_says() {
    let case = |scenario: Scenario| {
        let (curve, pairs) = points(&scenario)?;
        for (point, &pair) in curve.points.iter().zip(&pairs) {
            let count: u32 = point.compartments.iter().sum();
            let most = Ceiling {
                compartments: curve.every_count.then_some(count.into()),
                worth: (!curve.every_count).then_some(point.worth),
            };
            let options = SolveOptions {
                most,
                ..SolveOptions::default()
            };
            let found = answer(&scenario, &options)?;
            if pair.0 > 0 {
                same(figures(&scenario, found.as_ref()), Some(pair))?;
            }
        }
        Ok(())
    };
    for_seeds(seeds(60), |seed| case(generate::full_size(seed)));
    for_seeds(seeds(2), |seed| case(generate::narrow_yard(seed)));
}

#[test]
fn two_searches_give_the_same_curve() {
    for_seeds(seeds(20), |seed| {
        let scenario = generate::full_size(seed);
        let options = SolveOptions::default();
        let (one, two) = (curve(&scenario, &options), curve(&scenario, &options));
        match one == two {
            true => Ok(()),
            false => Err(format!("{one:?}, {two:?}")),
        }
    });
}

#[test]
fn a_time_limit_leaves_points_out_and_says_so() {
    let scenario = generate::full_size(3);
    let options = SolveOptions {
        time_limit: Some(std::time::Duration::from_nanos(1)),
        ..SolveOptions::default()
    };
    let curve = curve(&scenario, &options);
    assert!(curve.cut_off);
    assert_eq!(curve.points.len(), 1);
}

fn of(pairs: &[(i64, i64)]) -> Curve {
    let point = |&(worth, honey): &(i64, i64)| Point {
        worth: Worth(worth),
        cost: Cost {
            honey: Grams(honey),
            ..Cost::default()
        },
        compartments: vec![],
        plan: Plan::default(),
        proof: Proof::Best,
    };
    Curve {
        points: pairs.iter().map(point).collect(),
        every_count: true,
        cut_off: false,
    }
}

#[test]
fn the_dear_step_is_the_first_from_which_on_all_further_ones_cost_clearly_more_than_the_average() {
    for (pairs, dear) in [
        // Free ones first.
        (&[(0, 0), (1, 0), (2, 0), (3, 5), (4, 9)][..], Some(3)),
        // Prices 1, 1, 1, 4, 5: average 2.4.
        (&[(0, 0), (1, 1), (2, 2), (3, 3), (4, 7), (5, 12)], Some(4)),
        // A dear step and a cheap one after it: together dearer than the average.
        (&[(0, 0), (1, 1), (2, 2), (3, 8), (4, 10)], Some(3)),
        // Steps of unlike worth count for each worth: prices 1/2 and 2.
        (&[(0, 0), (4, 2), (5, 4)], Some(2)),
        // No pair beats another, so that the free ones are one point.
        (&[(24, 0), (26, 3)], Some(1)),
        // Everywhere the same price, nothing to pay, and cheaper towards the end.
        (&[(0, 0), (1, 3), (2, 6), (3, 9)], None),
        (&[(0, 0), (1, 0), (2, 0)], None),
        (&[(0, 0), (1, 5), (2, 7)], None),
        // Hardly dearer: 4 where the average is 3.3.
        (&[(0, 0), (1, 3), (2, 6), (3, 10)], None),
        (&[(0, 0)], None),
        (&[], None),
    ] {
        assert_eq!(of(pairs).dear(&Prices::default()), dear, "{pairs:?}");
    }
}

#[test]
fn the_dear_step_of_any_curve_is_what_its_sentence_says() {
    for seed in 0..300 {
        let scenario = generate::small(seed);
        let (curve, pairs) = points(&scenario).expect("a curve");
        let dearer_from = |from: usize| {
            let last = pairs[pairs.len() - 1];
            pairs[from..].iter().all(|&(worth, honey)| {
                let before = pairs[from - 1];
                2 * (honey - before.1) * last.0 > 3 * last.1 * (worth - before.0)
            })
        };
        let first = (1..pairs.len()).find(|&from| dearer_from(from));
        assert_eq!(
            curve.dear(&scenario.prices),
            first,
            "seed {seed}: {pairs:?}"
        );
    }
}
