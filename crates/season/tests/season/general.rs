//! A solver of others on the same columns.

use super::brute::{cases, small};
use spareframe_oracles::{Direction, Model, Sense, Sum, exists, relaxed};
use spareframe_season::inside::{linear, linear_held, linear_loose};
use spareframe_season::*;

fn modelled(rows: inside::Linear) -> Model {
    let mut model = Model {
        columns: rows.columns,
        rows: Vec::new(),
    };
    for (sum, equal, rhs) in rows.rows {
        let sense = if equal { Sense::Equal } else { Sense::AtLeast };
        model.rows.push((sum, sense, rhs));
    }
    model
}

/// Prices say at most how much more a relaxation reaches, by a solver of others, with another colony.
#[test]
fn prices_bound_what_another_colony_would_bring() {
    let (mut more, mut reached) = (0, 0);
    for seed in 1..=cases(150) {
        let season = small(seed);
        let listed = Listed::of(&season);
        let found = plan(&season, 2_000).expect("a season");
        let valued = Valued::of(&season, &listed, &found, 0);
        let bound = |season: &Season| {
            let rows = linear_loose(season);
            let sum: Sum = vec![(rows.wants[0], 1)];
            relaxed(&modelled(rows), &sum, Direction::Most, None).expect("a season")
        };
        let now = bound(&season);
        for at in 0..=season.colonies.len() {
            let mut other = season.clone();
            let in_place_of = (at < season.colonies.len()).then_some(at);
            match other.colonies.get_mut(at) {
                Some(colony) => {
                    colony.keep.brood = (colony.keep.brood - 7040.0).max(0.0);
                    colony.keep.bees = (colony.keep.bees - 3000.0).max(0.0);
                    colony.caps.frames = colony.caps.frames.map(|most| most + 1);
                }
                None => other.colonies.push(season.colonies[0].clone()),
            }
            let brings = valued.brings(in_place_of, &other.colonies[at]);
            let most = brings.map_or(0.0, |brings| brings.count);
            let then = bound(&other);
            assert!(
                then <= now + most + 1e-4,
                "seed {seed}, {at}: {now} {then} {most}"
            );
            more += u32::from(most > 0.0);
            reached += u32::from(then > now + 1e-4);
        }
    }
    println!("{more} would bring something, {reached} do in the relaxation");
    assert!(reached > 10);
}

#[test]
fn a_general_solver_agrees() {
    let (mut agreed, mut dearer) = (0, 0);
    for seed in 1..=cases(100) {
        let mut season = small(seed);
        let mut found = plan(&season, 20_000).expect("a season");
        let mut rows = linear(&season);
        // In every other season a round is rained out, and held with all before it.
        if seed % 2 == 0 {
            let round = seed as usize / 2 % season.rounds.len();
            season.rounds[round].rained_out = true;
            rows = linear_held(&season, &found, round + 1);
            found = plan(&season, 20_000).expect("a season");
        }
        let (wants, costs) = (rows.wants.clone(), rows.costs.clone());
        let mut model = modelled(rows);
        for (met, &column) in found.wants.iter().zip(&wants) {
            let sum: Sum = vec![(column, 1)];
            // As much is possible, and no more: a linear solver may say so already.
            let bound = relaxed(&model, &sum, Direction::Most, None).expect("a season");
            assert!(bound + 1e-6 >= met.count as f64, "seed {seed}");
            if bound >= (met.count + 1) as f64 - 1e-6 {
                let more = exists(&model, &[(&sum, Sense::AtLeast, met.count + 1)], 200_000);
                assert!(more != Some(true), "seed {seed}: {met:?}");
                agreed += u32::from(more.is_some());
            } else {
                agreed += 1;
            }
            model.rows.push((sum, Sense::AtLeast, met.count));
        }
        let cost: Sum = costs
            .iter()
            .enumerate()
            .map(|(column, &cost)| (column, cost))
            .collect();
        let least = relaxed(&model, &cost, Direction::Least, None).expect("a season");
        assert!(
            least <= found.cost as f64 + 0.01,
            "seed {seed}: {least} {}",
            found.cost
        );
        if found.least_cost == found.cost && found.cost > 0 {
            let cheaper = exists(&model, &[(&cost, Sense::AtMost, found.cost - 1)], 100_000);
            assert!(cheaper != Some(true), "seed {seed}: {}", found.cost);
            let as_cheap = exists(&model, &[(&cost, Sense::AtMost, found.cost)], 100_000);
            assert!(as_cheap != Some(false), "seed {seed}");
            dearer += u32::from(cheaper.is_some());
        }
    }
    println!("{agreed} wants and {dearer} costs settled by the other solver");
    assert!(agreed > 0 && dearer > 0);
}
