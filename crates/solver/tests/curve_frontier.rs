//! The curve of honey against worth: against the enumeration of all plans, and against searches
//! under a cap.
//!
//! Rules and goals: `docs/model.md`; what a point of the curve is: `docs/curve.md`.

mod support;

use spareframe_solver::*;
use std::collections::BTreeMap;
use support::{enumerate, for_seeds, generate, proved_goals, seeds};

type Pairs = Vec<(i64, i64)>;

/// Worth and honey of each point of a curve that is whole, proved and checked.
fn points(scenario: &Scenario) -> Result<(Curve, Pairs), String> {
    let curve = curve(scenario, &SolveOptions::default());
    if curve.cut_off {
        return Err("cut off".into());
    }
    for point in &curve.points {
        if point.proof != Proof::Best || !point.breaches.is_empty() {
            return Err(format!("{point:?}"));
        }
        let counted = scenario.boxes.iter().zip(&point.compartments);
        let worth: i64 = counted.map(|(kind, &n)| kind.worth.0 * i64::from(n)).sum();
        if worth != point.worth.0 {
            return Err(format!("{worth} counted, {point:?}"));
        }
    }
    let pairs = curve.points.iter().map(|p| (p.worth.0, p.honey.0));
    let pairs: Pairs = pairs.collect();
    Ok((curve, pairs))
}

/// Boxes that differ neither in worth nor in the steps in which they are stocked.
fn alike(scenario: &Scenario) -> bool {
    let kinds = scenario
        .boxes
        .iter()
        .filter(|kind| kind.count * kind.compartments > 0);
    let step = |kind: &BoxKind| (kind.worth, if kind.whole { kind.compartments } else { 1 });
    let steps: std::collections::BTreeSet<_> = kinds.map(step).collect();
    steps.len() <= 1
}

/// What the curve must be, from the least honey for each worth alone.
fn wanted(scenario: &Scenario, least: &BTreeMap<i64, i64>) -> Pairs {
    let at_least = |worth: i64| {
        *least
            .range(worth..)
            .map(|(_, honey)| honey)
            .min()
            .expect("at or above a key")
    };
    let pairs = least.keys().map(|&worth| (worth, at_least(worth)));
    if alike(scenario) {
        return pairs.collect();
    }
    let beaten = |worth: i64, honey: i64| {
        let more = least.range(worth + 1..);
        more.into_iter().any(|(_, &other)| other <= honey)
    };
    pairs
        .filter(|&(worth, honey)| !beaten(worth, honey))
        .collect()
}

#[test]
fn the_curve_is_what_going_through_all_plans_says() {
    for_seeds(seeds(400), |seed| {
        let scenario = generate::small(seed);
        let (curve, found) = points(&scenario)?;
        let wanted = wanted(&scenario, &enumerate::least_honey(&scenario));
        if curve.every_count != alike(&scenario) {
            return Err(format!("every count: {}", curve.every_count));
        }
        if found != wanted {
            return Err(format!("curve {found:?}, enumeration {wanted:?}"));
        }
        Ok(())
    });
}

#[test]
fn the_cases_have_curves_of_both_sorts_with_many_points_and_with_dear_steps() {
    let cases: Vec<_> = (0..400).map(generate::small).collect();
    let curves: Vec<_> = cases.iter().map(|s| points(s).expect("a curve")).collect();
    let count = |holds: &dyn Fn(&Curve) -> bool| curves.iter().filter(|(c, _)| holds(c)).count();
    let several = |c: &Curve| c.points.len() > 2;
    assert!(count(&|c| c.every_count && several(c)) > 40);
    assert!(count(&|c| !c.every_count && several(c)) > 20);
    assert!(count(&|c| c.dear().is_some()) > 40);
}

/// A search under a cap finds each point, and a little less honey does not do for it.
fn under_caps(scenario: &Scenario) -> Result<(), String> {
    let (_, pairs) = points(scenario)?;
    for (index, &(worth, honey)) in pairs.iter().enumerate() {
        let best = |cap: i64| {
            proved_goals(&Scenario {
                honey_cap: Some(Milligrams(cap)),
                ..scenario.clone()
            })
        };
        let last = pairs.get(index + 1).is_none_or(|next| next.1 > honey);
        if last {
            let goals = best(honey)?;
            if (goals.worth.0, goals.honey.0) != (worth, honey) {
                return Err(format!("point {worth} {honey}, under its cap {goals:?}"));
            }
        }
        if honey > 0 {
            let goals = best(honey - 1)?;
            if goals.worth.0 >= worth {
                return Err(format!("point {worth} {honey}, below its cap {goals:?}"));
            }
        }
    }
    Ok(())
}

#[test]
fn a_cap_at_a_point_reaches_it_and_one_below_does_not() {
    for_seeds(seeds(60), |seed| under_caps(&generate::full_size(seed)));
    for_seeds(seeds(8), |seed| under_caps(&generate::narrow_yard(seed)));
}

#[test]
fn two_searches_give_the_same_curve_and_the_cap_plays_no_part() {
    for_seeds(seeds(20), |seed| {
        let scenario = generate::full_size(seed);
        let free = Scenario {
            honey_cap: None,
            ..scenario.clone()
        };
        let options = SolveOptions::default();
        let (one, two) = (curve(&scenario, &options), curve(&free, &options));
        (one == two && two == curve(&free, &options))
            .then_some(())
            .ok_or_else(|| format!("{one:?}, {two:?}"))
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
        honey: Milligrams(honey),
        compartments: vec![],
        proof: Proof::Best,
        breaches: vec![],
    };
    Curve {
        points: pairs.iter().map(point).collect(),
        every_count: true,
        cut_off: false,
    }
}

#[test]
fn the_dear_step_is_the_first_from_which_on_all_further_ones_cost_more_than_the_average() {
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
        (&[(0, 0)], None),
        (&[], None),
    ] {
        assert_eq!(of(pairs).dear(), dear, "{pairs:?}");
    }
}

#[test]
fn the_dear_step_of_any_curve_is_what_its_sentence_says() {
    for seed in 0..300 {
        let (curve, pairs) = points(&generate::small(seed)).expect("a curve");
        let dearer_from = |from: usize| {
            let last = pairs[pairs.len() - 1];
            pairs[from..].iter().all(|&(worth, honey)| {
                let before = pairs[from - 1];
                (honey - before.1) * last.0 > last.1 * (worth - before.0)
            })
        };
        let first = (1..pairs.len()).find(|&from| dearer_from(from));
        assert_eq!(curve.dear(), first, "seed {seed}: {pairs:?}");
    }
}
