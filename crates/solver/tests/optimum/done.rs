//! Days on which something is already done: the rest is the best that can still be had.
//!
//! Source: `docs/model.md`, "What is done"; the enumeration of `support/enumerate.rs`.

use std::sync::atomic::{AtomicU64, Ordering};

use super::support::rng::Rng;
use super::support::{
    as_enumerated, changed::changed, figures, for_seeds, generate, near, near_as_enumerated,
    plan_of, proved, proved_figures, rank, seeds, shrink::made_small,
};
use spareframe_solver::*;

/// What of a compartment is in it when the work is broken off.
fn part(compartment: &Compartment, rng: &mut Rng) -> Compartment {
    let mut part = compartment.clone();
    for placed in &mut part.frames {
        placed.count = rng.count(0, placed.count);
    }
    for placed in &mut part.bees {
        placed.riding = Hundreds(rng.range(0, placed.riding.0));
        placed.loose = Hundreds(rng.range(0, placed.loose.0));
    }
    part.frames.retain(|placed| placed.count > 0);
    part.bees.retain(|placed| placed.taken().0 > 0);
    part
}

/// Some compartments of a plan, done whole or in part.
fn some(plan: &Plan, rng: &mut Rng) -> Vec<Compartment> {
    let mut done = Vec::new();
    for compartment in &plan.compartments {
        match rng.range(0, 2) {
            0 => done.push(compartment.clone()),
            1 => done.push(part(compartment, rng)),
            _ => {}
        }
    }
    done.retain(|c| !c.frames.is_empty() || !c.bees.is_empty());
    done
}

fn compare(scenario: &Scenario) -> Result<(), String> {
    made_small(scenario, as_enumerated)
}

/// The goals of a part that is done stand even where nothing can be stocked.
fn begin(mut scenario: Scenario, seed: u64) -> Result<Scenario, String> {
    let plan = plan_of(&scenario)?;
    scenario.done = some(&plan, &mut Rng::new(seed ^ 0xd0));
    Ok(scenario)
}

#[test]
fn the_rest_of_a_small_yard_is_the_best_of_all_rests() {
    for_seeds(seeds(800), |seed| {
        compare(&begin(generate::small(seed), seed)?)
    });
}

#[test]
fn the_rest_with_full_size_combs_is_the_best_of_all_rests() {
    for_seeds(seeds(400), |seed| {
        compare(&begin(generate::full_size(seed), seed)?)
    });
}

#[test]
fn wishes_that_what_is_done_has_met_in_part_are_met_by_the_rest() {
    for_seeds(seeds(600), |seed| {
        let scenario = begin(generate::small(seed), seed)?;
        let wished = generate::wishes(scenario, seed);
        compare(&wished)
    });
}

#[test]
fn whatever_is_done_the_rest_is_the_best_of_all_rests() {
    for_seeds(seeds(1000), |seed| {
        compare(&generate::begun(generate::small(seed), seed))
    });
    for_seeds(seeds(300), |seed| {
        compare(&generate::begun(generate::full_size(seed), seed))
    });
}

#[test]
fn what_is_done_may_be_far_from_any_plan() {
    for_seeds(seeds(800), |seed| {
        let scenario = begin(generate::small(seed), seed)?;
        let mut now = changed(&scenario, &mut Rng::new(seed ^ 0x7e));
        // What is done must be possible: what was taken was there, and the boxes are.
        for (colony, before) in now.colonies.iter_mut().zip(&scenario.colonies) {
            colony.hold.clone_from(&before.hold);
            for (group, before) in colony.frames.iter_mut().zip(&before.frames) {
                group.count = group.count.max(before.count);
                group.queen = before.queen;
            }
        }
        now.store_room.clone_from(&scenario.store_room);
        for (kind, before) in now.boxes.iter_mut().zip(&scenario.boxes) {
            kind.count = before.count;
        }
        compare(&now)
    });
}

/// Boxes that are begun no longer bind as whole, so that the rest may be better than the plan was.
fn in_parts(mut scenario: Scenario) -> Scenario {
    for kind in &mut scenario.boxes {
        kind.whole = false;
    }
    scenario
}

/// Some compartments of the best plan, finished; as many of these as leave the rest of the plan valid.
/// Where bees that ride are put beside their frame, or what is finished holds a hundred bees or more beyond
/// its fewest, that is not always so, but no other rule may break.
fn finish(scenario: &mut Scenario, plan: &Plan, seed: u64) -> Result<(), String> {
    let rng = &mut Rng::new(seed);
    let finished = plan.compartments.iter().filter(|_| rng.percent(50));
    scenario.done = finished.cloned().collect();
    loop {
        let breaches = check(scenario, plan).1;
        let may = |breach: &Breach| matches!(breach.rule, Rule::Ride | Rule::Bees);
        if let Some(breach) = breaches.iter().find(|breach| !may(breach)) {
            return Err(format!("{breach:?}"));
        }
        if breaches.is_empty() {
            return Ok(());
        }
        scenario.done.pop();
    }
}

/// Runs `case` on small yards and on yards of many colonies, with boxes that are stocked in part.
fn for_yards(case: impl Fn(Scenario, u64) -> Result<(), String> + Sync) {
    for_seeds(seeds(300), |seed| {
        case(in_parts(generate::small(seed)), seed)
    });
    for_seeds(seeds(2), |seed| {
        case(in_parts(generate::narrow_yard(seed)), seed)
    });
}

/// What is finished may be short by less than a hundred bees and lacks nothing, so that the rest may be a
/// little cheaper, but never dearer.
#[test]
fn finishing_compartments_of_the_best_plan_costs_nothing() {
    let done = AtomicU64::new(0);
    for_yards(|mut scenario, seed| {
        let Some(before) = proved(&scenario)? else {
            return Ok(());
        };
        finish(&mut scenario, &before.plan, seed ^ 0xa1)?;
        done.fetch_add(scenario.done.len() as u64, Ordering::Relaxed);
        let before = figures(&scenario, Some(&before));
        let after = proved_figures(&scenario)?;
        match rank(after) >= rank(before) {
            true => Ok(()),
            false => Err(format!("before {before:?}, after {after:?}")),
        }
    });
    let done = done.into_inner();
    let cases = seeds(300).count() as u64;
    assert!(cases < 100 || done >= cases / 2, "{done} finished");
}

/// The rest may be better than nothing: in a compartment without a brood line, bees that rode count as
/// loose once they are recorded.
#[test]
fn a_whole_plan_that_is_done_is_the_answer_where_none_is_better() {
    let kept = AtomicU64::new(0);
    for_yards(|mut scenario, _| {
        let Some(before) = proved(&scenario)? else {
            return Ok(());
        };
        scenario.done.clone_from(&before.plan.compartments);
        let after = proved(&scenario)?.ok_or("nothing stocked")?;
        if rank(figures(&scenario, Some(&after))) > rank(figures(&scenario, Some(&before))) {
            return Ok(());
        }
        kept.fetch_add(1, Ordering::Relaxed);
        match before == after {
            true => Ok(()),
            false => Err(format!("before {before:?}\nafter {after:?}")),
        }
    });
    let kept = kept.into_inner();
    let cases = seeds(300).count() as u64;
    assert!(cases < 100 || kept >= cases / 2, "{kept} kept");
}

#[test]
fn near_to_a_plan_of_which_a_part_is_done_the_plan_is_kept_where_none_is_better() {
    let kept = AtomicU64::new(0);
    for_yards(|mut scenario, seed| {
        let Some(before) = proved(&scenario)? else {
            return Ok(());
        };
        finish(&mut scenario, &before.plan, seed ^ 0x4e)?;
        let near = near(&scenario, &before.plan)?;
        if rank(figures(&scenario, near.as_ref())) > rank(figures(&scenario, Some(&before))) {
            return Ok(());
        }
        kept.fetch_add(1, Ordering::Relaxed);
        let plan = near.map_or_else(Plan::default, |near| near.plan);
        match plan == before.plan {
            true => Ok(()),
            false => Err(format!("before {:?}\nnear {plan:?}", before.plan)),
        }
    });
    let kept = kept.into_inner();
    let cases = seeds(300).count() as u64;
    assert!(cases < 100 || kept >= cases / 2, "{kept} kept");
}

#[test]
fn near_and_done_together_are_as_near_as_can_be() {
    for_seeds(seeds(400), |seed| {
        let scenario = begin(generate::small(seed), seed)?;
        let plan = plan_of(&Scenario {
            done: vec![],
            ..changed(&scenario, &mut Rng::new(seed ^ 0x31))
        })?;
        near_as_enumerated(&scenario, &plan)
    });
}

/// Compartments that lack something.
fn left_begun(scenario: &Scenario, plan: &Plan) -> usize {
    let place = |c: &Compartment| (c.kind, c.box_no, c.place);
    let stocked: Vec<_> = plan.compartments.iter().map(place).collect();
    let done = scenario.done.iter().map(place);
    done.filter(|place| !stocked.contains(place)).count()
}

#[test]
fn no_plan_as_good_that_stocks_all_that_is_begun_is_passed_over() {
    for_seeds(seeds(600), |seed| {
        let scenario = begin(generate::small(seed), seed)?;
        let Some(best) = proved(&scenario)? else {
            return Ok(());
        };
        if left_begun(&scenario, &best.plan) == 0 {
            return Ok(());
        }
        // Boxes of the same kind in which nothing is begun are taken away: a plan without them that
        // is as good and leaves nothing begun would have been found.
        let mut fewer = scenario.clone();
        for kind in 0..fewer.boxes.len() {
            let of_kind = fewer.done.iter().filter(|c| c.kind.0 == kind);
            let last = of_kind.map(|c| c.box_no + 1).max().unwrap_or(0);
            fewer.boxes[kind].count = last;
        }
        let Some(other) = proved(&fewer)? else {
            return Ok(());
        };
        match other.goals == best.goals && left_begun(&fewer, &other.plan) == 0 {
            true => Err(format!("{other:#?}\nis as good as {best:#?}")),
            false => Ok(()),
        }
    });
}

#[test]
fn a_compartment_that_is_begun_is_stocked_and_not_one_beside_it() {
    let mut told = [0, 0];
    for seed in 0..300 {
        let mut scenario = generate::small(seed);
        let Some(best) = proved(&scenario).expect("proved") else {
            continue;
        };
        let used: Vec<_> = best
            .plan
            .compartments
            .iter()
            .map(|c| (c.kind, c.box_no))
            .collect();
        let last = best
            .plan
            .compartments
            .last()
            .expect("a stocked plan")
            .clone();
        let spare = (0..scenario.boxes[last.kind.0].count)
            .find(|&box_no| !used.contains(&(last.kind, box_no)));
        let (Some(box_no), false) = (spare, last.frames.is_empty()) else {
            continue;
        };
        let mut begun = Compartment {
            box_no,
            place: 0,
            bees: Vec::new(),
            ..last
        };
        begun.frames.truncate(1);
        scenario.done = vec![begun];
        let Some(now) = proved(&scenario).expect("proved") else {
            continue;
        };
        // The best plan with this compartment instead of that one: where it is as good, it counts.
        let mut instead = best.plan.clone();
        let moved = instead.compartments.pop().expect("a stocked plan");
        instead.compartments.push(Compartment {
            box_no,
            place: 0,
            ..moved
        });
        instead
            .compartments
            .sort_by_key(|c| (c.kind, c.box_no, c.place));
        if check(&scenario, &instead) == (now.goals, Vec::new()) {
            told[left_begun(&scenario, &now.plan).min(1)] += 1;
        }
    }
    assert!(told[0] >= 10 && told[1] == 0, "{told:?}");
}
