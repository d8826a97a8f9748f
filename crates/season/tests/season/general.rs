//! A solver of others on the same columns.

use super::brute::{cases, small};
use spareframe_oracles::{Direction, Model, Sense, Sum, exists, relaxed};
use spareframe_season::inside::linear;
use spareframe_season::*;

#[test]
fn a_general_solver_agrees() {
    let (mut agreed, mut dearer) = (0, 0);
    for seed in 1..=cases(100) {
        let season = small(seed);
        let found = plan(&season, 20_000).expect("a season");
        let rows = linear(&season);
        let mut model = Model {
            columns: rows.columns,
            rows: Vec::new(),
        };
        for (sum, equal, rhs) in rows.rows {
            let sense = if equal { Sense::Equal } else { Sense::AtLeast };
            model.rows.push((sum, sense, rhs));
        }
        for (met, &column) in found.wants.iter().zip(&rows.wants) {
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
        let cost: Sum = rows
            .costs
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
