//! Combs that hang in a colony until they are drawn and bred.

use spareframe_solver::honey::Season;
use spareframe_solver::{
    Colony, Comb, CombId, FrameGroup, FrameState, Grams, Hundreds, Milli, Scenario, share_of,
};
use spareframe_weeks::{Count, Event, Gone, Hung, on};

/// The small yard, with small combs of 1600 cells.
fn yard() -> Scenario {
    let mut yard: Scenario = include!("../../solver/doctests/yard.rs");
    yard.colony_model.season = Some(Season {
        counted: 140,
        later: 0,
    });
    yard.combs.push(Comb {
        name: "small".to_owned(),
        bees: Hundreds(5),
        cells: 1600,
        stores: Grams(500),
    });
    yard
}

fn bare(yard: &Scenario, count: u32) -> FrameGroup {
    FrameGroup {
        count,
        frame: FrameState {
            comb: CombId(yard.combs.len() - 1),
            brood: Milli(0),
            sealed: Milli(0),
            stores: Milli(0),
            drawn: Milli(0),
            bees: Hundreds(0),
        },
        queen: false,
    }
}

fn hung(yard: &Scenario, days: u32) -> Count {
    let hung = Hung {
        frames: bare(yard, 6),
        days,
    };
    Count {
        since: vec![Event {
            hung: vec![hung],
            ..Event::default()
        }],
        ..Count::today(&yard.colonies[0])
    }
}

fn after(yard: &Scenario, count: &Count, days: u32) -> Colony {
    on((&yard.combs, &yard.colony_model), count, None, days).colony
}

fn small<'a>(yard: &Scenario, colony: &'a Colony) -> &'a FrameGroup {
    let comb = CombId(yard.combs.len() - 1);
    let of_it = |group: &&FrameGroup| group.frame.comb == comb;
    colony.frames.iter().find(of_it).expect("small combs")
}

fn cells(yard: &Scenario, colony: &Colony, of: fn(&FrameState) -> Milli) -> i64 {
    let each = |group: &FrameGroup| {
        let all = yard.combs[group.frame.comb.0].cells;
        i64::from(group.count) * share_of(of(&group.frame), all)
    };
    colony.frames.iter().map(each).sum()
}

fn bees(colony: &Colony) -> i64 {
    let on = |group: &FrameGroup| i64::from(group.count) * group.frame.bees.0;
    colony.extra_bees.0 + colony.frames.iter().map(on).sum::<i64>()
}

#[test]
fn they_are_left_alone_until_their_day_and_then_drawn_and_half_bred() {
    let yard = yard();
    let count = hung(&yard, 21);
    assert_eq!(small(&yard, &after(&yard, &count, 20)).count, 0);
    let ready = after(&yard, &count, 21);
    let ready = small(&yard, &ready);
    assert_eq!((ready.count, ready.frame.drawn), (6, Milli(1000)));
    assert!((495..=500).contains(&ready.frame.brood.0), "{ready:?}");
    assert!(ready.frame.sealed.0 > 0 && ready.frame.sealed < ready.frame.brood);
    assert!(ready.frame.bees.0 > 0);
}

#[test]
fn their_brood_and_bees_are_of_the_colony_and_none_is_made() {
    let yard = yard();
    let without = Count::today(&yard.colonies[0]);
    let [with, without] = [&hung(&yard, 21), &without].map(|count| after(&yard, count, 21));
    assert_eq!(bees(&with), bees(&without));
    for of in [(|frame| frame.brood) as fn(&FrameState) -> Milli, |frame| {
        frame.sealed
    }] {
        let more = cells(&yard, &with, of) - cells(&yard, &without, of);
        // Each comb is rounded down.
        assert!((-200..=0).contains(&more), "{more}");
    }
}

#[test]
fn at_most_half_of_the_brood_goes_onto_them() {
    let yard = yard();
    let mut count = hung(&yard, 21);
    count.since[0].hung[0].frames.count = 60;
    let ready = after(&yard, &count, 21);
    let all = cells(&yard, &ready, |frame| frame.brood);
    let there = small(&yard, &ready).clone();
    let on_them = 60 * share_of(there.frame.brood, 1600);
    assert!(
        on_them * 2 <= all && on_them * 9 >= all * 4,
        "{on_them} {all}"
    );
}

#[test]
fn those_that_were_ready_by_the_count_are_there_and_may_leave() {
    let yard = yard();
    let mut count = hung(&yard, 0);
    let there = after(&yard, &count, 0);
    assert_eq!(small(&yard, &there).count, 6);
    count.ago = 2;
    count.since.push(Event {
        after: 2,
        gone: vec![Gone {
            of: vec![yard.colonies[0].frames.len()],
            count: 4,
            each: (None, None),
        }],
        ..Event::default()
    });
    assert_eq!(small(&yard, &after(&yard, &count, 0)).count, 2);
}
