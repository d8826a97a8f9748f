//! What must hold when a season changes, and of every season.

use super::brute::{cases, small};
use super::yard::{Rng, season};
use spareframe_colony::Colony as Model;
use spareframe_season::*;

/// Counts of the first want, which alone is free of all others: what is found and at most.
fn first(season: &Season) -> (i64, i64) {
    let found = plan(season, 2_000).expect("nothing is asked of today");
    assert_eq!(check(season, &found), []);
    found
        .wants
        .first()
        .map_or((0, 0), |met| (met.count, met.most))
}

#[test]
fn more_of_anything_is_never_worth_less() {
    for seed in 1..=cases(60) {
        let season = small(seed);
        let (count, most) = first(&season);
        let rng = &mut Rng::new(seed);
        let mut richer = [
            season.clone(),
            season.clone(),
            season.clone(),
            season.clone(),
        ];
        let round = rng.of(0, season.rounds.len() as i64 - 1) as usize;
        richer[0].rounds[round].cells = season.rounds[round].cells.map(|cells| cells + 1);
        richer[1].kinds[0].compartments += 1;
        let mut another = season.colonies[0].clone();
        another.name = "another".into();
        richer[2].colonies.push(another);
        richer[3].wants[0].by += 28;
        for (at, more) in richer.iter().enumerate() {
            // Floors at the season's end move with it.
            if at == 3 && more.wants[0].by > 147 {
                continue;
            }
            let (now, bound) = first(more);
            assert!(bound >= count, "seed {seed}, {at}: {bound} {count}");
            assert!(
                now >= count - (most - count),
                "seed {seed}, {at}: {now} {count}"
            );
        }
    }
}

#[test]
fn every_season_passes_its_check_and_is_the_same_again() {
    for seed in 1..=cases(60) {
        let rng = &mut Rng::new(1000 + seed);
        let (colonies, rounds) = (rng.of(1, 8) as usize, rng.of(1, 4) as usize);
        let season = season(rng, colonies, rounds);
        let found = plan(&season, 100).expect("nothing is asked of today");
        assert_eq!(check(&season, &found), [], "seed {seed}");
        assert_eq!(plan(&season, 100).expect("again"), found, "seed {seed}");
    }
}

#[test]
fn what_is_listed_again_is_as_if_it_were_listed_anew() {
    for seed in 1..=cases(30) {
        let rng = &mut Rng::new(7000 + seed);
        let (colonies, rounds) = (rng.of(2, 6) as usize, rng.of(1, 3) as usize);
        let season = season(rng, colonies, rounds);
        let listed = Listed::of(&season);
        let mut others = vec![season.clone(); 8];
        others[0].kinds[0].compartments += 1;
        others[1].colonies[0].keep.brood /= 2.0;
        let mut another = season.colonies[0].clone();
        another.name = "another".into();
        others[2].colonies.push(another);
        others[3].colonies.remove(0);
        others[4].wants[0].by += 7;
        others[5].kinds[0].need.bees += 500;
        others[6].last_draw = Some(7);
        others[7].rounds[0].rained_out = true;
        for (at, other) in others.iter().enumerate() {
            let again = plan_listed(other, &listed.again(other), 100).expect("a season");
            assert_eq!(
                again,
                plan(other, 100).expect("a season"),
                "seed {seed}, {at}"
            );
            assert_eq!(check(other, &again), [], "seed {seed}, {at}");
        }
    }
}

#[test]
fn what_is_said_too_much_is_found() {
    let mut found_any = 0;
    for seed in 1..=30 {
        let season = small(seed);
        let found = plan(&season, 400).expect("a season");
        let Some(round) = found
            .rounds
            .iter()
            .position(|round| round.new.iter().any(|&new| new > 0))
        else {
            continue;
        };
        found_any += 1;
        let mut more = found.clone();
        more.rounds[round].new[0] += 20;
        assert!(!check(&season, &more).is_empty());
        let mut more = found.clone();
        more.wants[0].count += 50;
        assert!(!check(&season, &more).is_empty());
        let mut more = found.clone();
        for course in &mut more.colonies {
            course.draws[round].frames += 9;
        }
        assert!(!check(&season, &more).is_empty());
    }
    assert!(found_any > 10);
}

/// Without deaths, what a colony has gained in bees is what emerged of it: nothing is counted twice where brood leaves.
#[test]
fn bees_and_brood_are_conserved() {
    let mut drawn_any = 0;
    for seed in 1..=cases(60) {
        let mut season = small(seed);
        season.setting.mortality = 0.0;
        season.winter = None;
        season.wants.retain(|want| want.what != What::Kept);
        let found = plan(&season, 400).expect("a season");
        for (colony, course) in season.colonies.iter().zip(&found.colonies) {
            let mut hive = Model::counted(colony.bees, colony.open, colony.sealed, &season.setting);
            let (mut laid, mut gone, mut day) = (0.0, 0.0, 0);
            let start = hive.bees() + hive.brood();
            for ((round, draw), before) in
                season.rounds.iter().zip(&course.draws).zip(&course.before)
            {
                while day < round.day {
                    laid += hive.eggs_a_day(&season.setting);
                    hive.step(&season.setting);
                    day += 1;
                }
                assert!(
                    (before.bees - hive.bees()).abs() < 0.01
                        && (before.brood - hive.brood()).abs() < 0.01
                );
                hive.take(draw.bees, draw.open, draw.sealed);
                gone += draw.bees + draw.open + draw.sealed;
                drawn_any += i32::from(draw.level > 0);
                let now = hive.bees() + hive.brood();
                assert!((start + laid - gone - now).abs() < 0.01, "seed {seed}");
            }
        }
    }
    assert!(drawn_any > 10);
}

#[test]
fn a_second_round_planned_from_what_is_expected_does_no_worse() {
    for seed in 1..=cases(40) {
        let mut season = small(seed);
        season.kinds.truncate(1);
        season.kinds[0].standing.clear();
        season.kinds[0].again = Need::default();
        season.queens.clear();
        season.winter = None;
        season.told = None;
        season.honey = None;
        season.nuclei_today = None;
        season.last_draw = None;
        let last = season.rounds.last().map_or(0, |round| round.day);
        season.wants = vec![Want {
            what: What::Queens,
            count: None,
            by: last + 30,
        }];
        let found = plan(&season, 4_000).expect("a season");
        let second = season.rounds[1].day;
        let mut later = season.clone();
        let first = found.rounds[0].clone();
        later.rounds.remove(0);
        later
            .rounds
            .iter_mut()
            .for_each(|round| round.day -= second);
        later.wants[0].by -= second;
        later.kinds[0].compartments -= first.new[0] as u32;
        later.kinds[0].standing = (0..first.cells())
            .map(|_| Stands {
                free: season.days.free - second,
                lacks: Need::default(),
            })
            .collect();
        later.queens = vec![Ready {
            day: season.days.usable - second,
            count: first.cells() as u32,
            mated: false,
        }];
        if let Some(year) = &mut later.setting.season {
            year.counted += second;
        }
        for (colony, course) in later.colonies.iter_mut().zip(&found.colonies) {
            let mut hive = Model::counted(colony.bees, colony.open, colony.sealed, &season.setting);
            let draw = course.draws[0];
            hive.take(draw.bees, draw.open, draw.sealed);
            hive.run(&season.setting, second as u32);
            // What the model cannot be told: ages of brood are spread evenly at a count.
            let spare = 1.02;
            (colony.bees, colony.open, colony.sealed) = (
                hive.bees() * spare,
                hive.open() * spare,
                hive.sealed() * spare,
            );
            let ratio = season.setting.season.map_or(1.0, |year| year.ratio(second));
            colony.laying = Some(hive.laying * ratio * spare);
            let frames = (hive.brood() / colony.frame_cells - 1.0).max(0.0) as usize;
            let each = |of: f64| of * colony.frame_cells / hive.brood();
            colony.today = (1..=frames)
                .map(|of| {
                    let of = of as f64;
                    let bees = (colony.frame_bees * of).min(each(hive.bees()) * of);
                    Taken {
                        open: each(hive.open()) * of,
                        sealed: each(hive.sealed()) * of,
                        bees,
                        fewest: bees,
                    }
                })
                .collect();
            colony.crop = None;
            let _ = &course;
        }
        let again = plan(&later, 4_000).expect("a season");
        assert!(
            again.wants[0].count + 1 >= found.wants[0].count,
            "seed {seed}: {} {}",
            again.wants[0].count,
            found.wants[0].count
        );
    }
}

/// Told what it says itself, a season that is proved is the same again, and nothing is otherwise; told of another, what costs
/// less with its price is never left for more.
#[test]
fn a_season_near_to_itself_is_itself_and_near_to_another_no_dearer_than_it() {
    let (mut same, mut kept) = (0, 0);
    for seed in 1..=cases(60) {
        let mut season = small(seed);
        season.told = None;
        let found = plan(&season, 4_000).expect("a season");
        let told = as_told(&season, &found);
        assert_eq!(otherwise(&told, &found), 0);
        season.told = Some(told);
        let again = plan(&season, 4_000).expect("a season");
        assert_eq!(check(&season, &again), [], "seed {seed}");
        let met =
            |found: &Outlook| -> Vec<i64> { found.wants.iter().map(|met| met.count).collect() };
        assert_eq!(met(&again), met(&found), "seed {seed}");
        assert!(
            again.cost <= found.cost || again.cost > again.least_cost,
            "seed {seed}"
        );
        if found.cost == found.least_cost {
            assert_eq!(
                (again.otherwise, again.cost),
                (0, found.cost),
                "seed {seed}"
            );
            same += 1;
        }
        // A colony is weaker than it was counted: what was told is kept as far as it pays.
        season.colonies[0].bees *= 0.8;
        let near = plan(&season, 4_000).expect("a season");
        assert_eq!(check(&season, &near), [], "seed {seed}");
        let told = season.told.take().expect("told");
        let anew = plan(&season, 4_000).expect("a season");
        assert_eq!(met(&near), met(&anew), "seed {seed}");
        let price = season.prices.otherwise;
        if near.cost == near.least_cost && anew.cost == anew.least_cost {
            let far = anew.cost + price * otherwise(&told, &anew);
            assert!(near.cost <= far, "seed {seed}");
            assert!(near.otherwise <= otherwise(&told, &anew), "seed {seed}");
            kept += i32::from(near.otherwise < otherwise(&told, &anew));
        }
    }
    println!("{same} the same again, {kept} kept nearer");
    assert!(same > 30 && kept > 0);
}

/// What people are told of a season.
fn as_told(season: &Season, found: &Outlook) -> Told {
    let mut stocked = Vec::new();
    for (round, of) in found.rounds.iter().enumerate() {
        let kinds = (0..season.kinds.len()).map(Stocks::Cells);
        let nuclei = (0..season.wants.len()).map(Stocks::Nuclei);
        for of_one in kinds.chain(nuclei) {
            let then = of.counts(&[of_one]);
            stocked.push(ToldOf {
                round,
                of: vec![of_one],
                then,
            });
        }
    }
    let given = found.colonies.iter().map(|course| {
        let draws = course.draws.iter();
        draws.map(|draw| Some(draw.counts())).collect()
    });
    Told {
        given: given.collect(),
        stocked,
    }
}
