//! How a plan looks at the boxes and at the hives, over a hundred yards: bees with their brood, few colonies in
//! one compartment, brood for nothing that comb would do for, no brood left cold, and no frame shaken whose bees
//! might ride at no cost.
//!
//! `cargo test -p spareframe-solver --test optimum -- allocation --nocapture` prints the figures.

use std::sync::Mutex;

use super::support::{checked, for_seeds, generate, plain, seeds};
use figures::Figures;
use spareframe_solver::*;

mod figures;

fn measured(yard: impl Fn(u64) -> Scenario + Sync) -> Figures {
    let figures = Mutex::new(Figures::default());
    for_seeds(seeds(100), |seed| {
        let yard = yard(seed);
        if let Some(stocking) = checked(&yard, &SolveOptions::default())? {
            let mut figures = figures.lock().expect("no case panicked");
            figures.add(&yard, &stocking.plan);
        }
        Ok(())
    });
    let figures = figures.into_inner().expect("no case panicked");
    println!("{figures:?}");
    figures
}

/// At least so many of a hundred.
fn at_least(percent: u32, part: u32, whole: u32) {
    assert!(
        whole > 0 && part * 100 >= whole * percent,
        "{part} of {whole}, {percent} % wanted"
    );
}

/// In so many of a hundred, brood frames have their bees and compartments those of few colonies.
fn bees_and_brood_together(percent: u32, yard: impl Fn(u64) -> Scenario + Sync) {
    let all = measured(yard);
    at_least(percent, all.with_bees, all.brood_frames);
    at_least(percent, all.few_colonies, all.compartments);
    at_least(98, all.yards - all.wasteful, all.yards);
    at_least(99, all.ride, all.ride + all.could_ride);
    at_least(55, all.loose_lots - all.small_lots, all.loose_lots);
    assert_eq!((all.lots_below_a_hundred, all.left_cold), (0, 0));
    assert_eq!((all.crossed_bees, all.crossed_frames), (0, 0));
}

#[test]
fn in_yards_as_they_are_met_bees_stay_with_brood_and_brood_with_bees() {
    bees_and_brood_together(95, generate::apiary);
}

/// Where recipes ask for far fewer bees than ride, down to none, others live on them: what rides for a site is a
/// sum. Where boxes of few bees stand beside each other, more colonies meet. Over seeds 0 to 99 it is 94.5 and 94.4 %.
#[test]
fn in_odd_yards_too_if_not_as_often() {
    bees_and_brood_together(90, generate::yard);
}

/// Yards with boxes for a third of what colonies could stock, no flow to come, and recipes that ask for fewer bees
/// than sit on the brood.
fn with_few_boxes(seed: u64) -> Scenario {
    let mut yard = generate::apiary(seed);
    for colony in &mut yard.colonies {
        colony.crop = None;
    }
    for kind in &mut yard.boxes {
        kind.count = kind.count.div_ceil(3);
        kind.bees = Bees(kind.bees.0 * 3 / 4);
    }
    yard
}

#[test]
fn where_bees_abound_all_ride_that_can_at_no_cost() {
    bees_and_brood_together(95, with_few_boxes);
}

/// A nucleus has honey combs to give, and so has the shelf; the nucleus keeps its own.
#[test]
fn the_shelf_gives_before_a_colony_where_it_serves_as_well() {
    let frames = vec![
        plain::group(4, plain::frame(600, 0, 20)),
        plain::group(2, plain::frame(0, 600, 10)),
        plain::group(2, plain::frame(0, 0, 10)),
    ];
    let mut lines = vec![
        plain::line("brood", 400, 0),
        plain::line("food", 0, 500),
        plain::line("comb", 0, 0),
    ];
    lines[2].ask.brood.most = Milli(0);
    let mut yard = plain::yard(plain::colony(frames, 0), plain::kind(2, lines, 1000));
    yard.store_room = vec![
        SpareFrames {
            count: 2,
            frame: plain::frame(0, 900, 0),
        },
        SpareFrames {
            count: 2,
            frame: plain::frame(0, 0, 0),
        },
    ];
    let stocking = checked(&yard, &SolveOptions::default());
    let plan = stocking.expect("sound").expect("stocked").plan;
    assert_eq!(plan.compartments.len(), 2);
    let taken: u64 = plan.drawn().values().sum();
    assert_eq!(taken, 2, "{plan:#?}");
}

/// Two colonies, each near the boxes of the other's site alone by drift: brood goes where no bees fly home. Each box gets
/// the honey comb of its brood's colony.
#[test]
fn honey_combs_go_where_brood_of_their_colony_goes() {
    let colony = |name: &str, site: usize| Colony {
        name: name.into(),
        site: SiteId(site),
        ..plain::colony(
            vec![
                plain::group(4, plain::frame(600, 0, 20)),
                plain::group(2, plain::frame(0, 800, 10)),
            ],
            0,
        )
    };
    let lines = || vec![plain::line("brood", 400, 0), plain::line("food", 0, 500)];
    let mut yard = plain::yard(colony("a", 0), plain::kind(2, lines(), 2000));
    let far = |site: usize| BoxKind {
        name: "far".into(),
        site: SiteId(site),
        ..plain::kind(2, lines(), 2000)
    };
    yard.colonies.push(colony("b", 1));
    yard.boxes.push(far(1));
    yard.sites.push(Site { name: "far".into() });
    yard.distances = vec![vec![0, 9000], vec![9000, 0]];
    let stocking = checked(&yard, &SolveOptions::default());
    let plan = stocking.expect("sound").expect("stocked").plan;
    assert_eq!(plan.compartments.len(), 4);
    for compartment in &plan.compartments {
        let of = compartment.frames.iter().map(|placed| match placed.origin {
            Origin::Colony(id, _) => id,
            Origin::StoreRoom(_) => unreachable!("there is none"),
        });
        let of: Vec<ColonyId> = of.collect();
        assert_eq!(of[0], of[1], "{plan:#?}");
    }
}
