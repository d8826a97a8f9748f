//! The search of vectors against their list.

use super::Columns;
use crate::solve::Ceiling;
use crate::solve::engine::{Model, Objective, SHIFT};
use crate::solve::instance::Instance;
use crate::solve::master::{Clock, Master};
use crate::support::{generate, rng::Rng};

#[test]
fn at_any_prices_the_search_finds_the_cheapest_vector_of_the_list() {
    let mut compared = 0;
    for seed in 0..60 {
        let yard = match seed % 2 {
            0 => generate::apiary(seed),
            _ => generate::yard(seed),
        };
        let instance = Instance::new(&yard, None, &Ceiling::default());
        let master = Master::new(&instance, Clock::default());
        let mut rng = Rng::new(seed);
        for _ in 0..10 {
            let most = rng.pick(&[10, 300, 3000, 1 << 24]);
            let row = |_: &_| rng.range(0, most << SHIFT);
            let prices: Vec<i64> = master.rows().iter().map(row).collect();
            for listed in master.colonies().filter(|of| of.listing.is_some()) {
                let mut searched = Columns::new(&instance, listed.donor, listed.rows.clone());
                searched.honey_row = listed.honey_row;
                let price = |of: &Columns| of.price(Objective::Cost, &prices, i128::MAX).least;
                assert_eq!(price(&searched), price(listed), "seed {seed}");
                compared += 1;
            }
        }
    }
    assert!(compared > 3_000, "{compared}");
}
