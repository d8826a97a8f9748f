//! A colony day by day, beside what the season says of it on its rounds.

use super::brute::cases;
use super::yard::{Rng, season};
use spareframe_season::*;

#[test]
fn day_by_day_a_colony_is_on_each_round_what_the_season_says() {
    let mut given = 0;
    for seed in 1..=cases(30) {
        let rng = &mut Rng::new(5000 + seed);
        let (colonies, rounds) = (rng.of(1, 6) as usize, rng.of(2, 4) as usize);
        let season = season(rng, colonies, rounds);
        let found = plan(&season, 100).expect("nothing is asked of today");
        for (colony, course) in season.colonies.iter().zip(&found.colonies) {
            let with = day_by_day(&season, colony, &course.draws);
            let without = day_by_day(&season, colony, &[]);
            assert_eq!(with.len() as i32, last_day(&season) + 1);
            for (at, round) in season.rounds.iter().enumerate() {
                let day = round.day as usize;
                assert_eq!(with[day], course.before[at], "seed {seed}, round {at}");
                assert_eq!(without[day], course.undrawn[at], "seed {seed}, round {at}");
                given += course.draws[at].frames;
            }
        }
    }
    assert!(given > 0);
}
