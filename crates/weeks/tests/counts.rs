//! Colonies that were counted some days ago, with what was done since.

use proptest::prelude::*;
use spareframe_solver::honey::{ColonyModel, Season};
use spareframe_solver::{
    BoxId, Colony, Comb, CombId, FrameGroup, FrameState, Hundreds, Milli, Scenario, Standing,
    share_of,
};
use spareframe_weeks::{Change, Count, Counts, Event, Gone, Stand, expected, on, stands};

fn yard() -> Scenario {
    let mut yard: Scenario = include!("../../solver/doctests/yard.rs");
    yard.colony_model.season = Some(Season {
        counted: 140,
        later: 0,
    });
    yard
}

fn of(yard: &Scenario) -> (&[Comb], &ColonyModel) {
    (&yard.combs, &yard.colony_model)
}

fn bees(colony: &Colony) -> i64 {
    let on = |group: &FrameGroup| i64::from(group.count) * group.frame.bees.0;
    colony.extra_bees.0 + colony.frames.iter().map(on).sum::<i64>()
}

fn frames(colony: &Colony) -> u32 {
    colony.frames.iter().map(|group| group.count).sum()
}

fn brood(yard: &Scenario, colony: &Colony) -> i64 {
    let cells = |group: &FrameGroup| {
        let all = yard.combs[group.frame.comb.0].cells;
        i64::from(group.count) * share_of(group.frame.brood, all)
    };
    colony.frames.iter().map(cells).sum()
}

fn gone(origin: usize, count: u32) -> Gone {
    Gone {
        of: vec![origin],
        count,
        each: (None, None),
    }
}

#[test]
fn a_count_of_the_day_itself_stands_as_it_is() {
    let yard = yard();
    for colony in &yard.colonies {
        let then = on(of(&yard), &Count::today(colony), None, 0);
        assert_eq!(&then.colony, colony);
        assert_eq!(then.origins, (0..colony.frames.len()).collect::<Vec<_>>());
        assert_eq!(then.lacking, None);
    }
}

#[test]
fn so_many_days_ago_and_so_many_to_come_are_the_days_together() {
    let yard = yard();
    let days_on = |ago, days| {
        let mut yard = yard.clone();
        if let Some(season) = &mut yard.colony_model.season {
            season.counted = 140 + i32::try_from(ago).unwrap();
        }
        let event = |after| Event {
            after,
            gone: vec![gone(0, 1)],
            bees: Hundreds(15),
            ..Event::default()
        };
        let count = |colony: &Colony| Count {
            ago,
            since: vec![event(0), event(3)],
            ..Count::today(colony)
        };
        let counts: Vec<Count> = yard.colonies.iter().take(2).map(count).collect();
        let counts = Counts {
            colonies: counts.into_iter().map(Some).collect(),
            ..Counts::default()
        };
        expected(&yard, &counts, None, days).unwrap().colonies[..2].to_vec()
    };
    let whole = days_on(0, 17);
    for ago in [3, 9, 17] {
        assert_eq!(days_on(ago, 17 - ago), whole);
    }
}

#[test]
fn what_leaves_is_what_those_frames_held_and_the_bees_that_are_named() {
    let yard = yard();
    let colony = &yard.colonies[0];
    let mut count = Count::today(colony);
    count.since.push(Event {
        gone: vec![gone(0, 2)],
        bees: colony.frames[0].frame.bees.times(2),
        ..Event::default()
    });
    let after = on(of(&yard), &count, None, 0).colony;
    let mut due = colony.clone();
    due.frames[0].count -= 2;
    // What it gives is missing in the flow, too.
    let crop = |colony: &Colony| colony.crop.map(|crop| crop.honey);
    assert!(crop(&after) < crop(&due));
    due.crop = after.crop;
    assert_eq!(after, due);
    // Fewer bees than sat on them: the others are back in the hive.
    count.since[0].bees = Hundreds(10);
    let after = on(of(&yard), &count, None, 0).colony;
    assert_eq!(bees(&after), bees(colony) - 10);
}

#[test]
fn drawn_and_given_back_nothing_has_changed() {
    let yard = yard();
    for after in [0, 6] {
        let without = Count {
            ago: 6,
            ..Count::today(&yard.colonies[0])
        };
        let then = on(
            of(&yard),
            &Count {
                ago: after,
                ..without.clone()
            },
            None,
            0,
        )
        .colony;
        let mut back = then.frames[0].clone();
        back.count = 2;
        let with = Count {
            since: vec![Event {
                after,
                gone: vec![gone(0, 2)],
                bees: back.frame.bees.times(2),
                got: vec![back],
                ..Event::default()
            }],
            ..without.clone()
        };
        for days in [0, 1, 20, 60] {
            let [with, without] =
                [&with, &without].map(|count| on(of(&yard), count, None, days).colony);
            assert_eq!(frames(&with), frames(&without));
            assert!((bees(&with) - bees(&without)).abs() <= 1);
            let cells = brood(&yard, &with) - brood(&yard, &without);
            assert!(
                cells.abs() <= 8 * i64::from(frames(&with)),
                "{after} {days}: {cells}"
            );
        }
    }
}

#[test]
fn a_queen_lays_on_as_at_the_count_and_not_as_the_brood_left_after_a_draw() {
    let yard = yard();
    let colony = &yard.colonies[0];
    let drawn = Count {
        since: vec![Event {
            gone: vec![gone(0, 3)],
            bees: colony.frames[0].frame.bees.times(3),
            ..Event::default()
        }],
        ..Count::today(colony)
    };
    // The same hive, counted only after the draw.
    let after = Count::today(&on(of(&yard), &drawn, None, 0).colony);
    let knows = |count: &Count| brood(&yard, &on(of(&yard), count, None, 21).colony);
    assert!(
        knows(&drawn) > knows(&after) * 5 / 4,
        "{} {}",
        knows(&drawn),
        knows(&after)
    );
    let told = Count {
        lays: Some(2200),
        ..after.clone()
    };
    assert!(knows(&told) > knows(&after));
}

#[test]
fn of_frames_that_have_become_different_those_nearest_to_what_is_said_have_gone() {
    let mut yard = yard();
    // One well filled comb, and drawn ones beside it that the queen goes on to.
    let comb = CombId(0);
    let frame = |brood, bees| FrameState {
        comb,
        brood: Milli(brood),
        sealed: Milli(brood / 2),
        stores: Milli(0),
        drawn: Milli(1000),
        bees: Hundreds(bees),
    };
    yard.colonies[0].frames = vec![
        FrameGroup {
            count: 4,
            frame: frame(500, 22),
            queen: false,
        },
        FrameGroup {
            count: 6,
            frame: frame(0, 20),
            queen: false,
        },
    ];
    let before = Count {
        lays: Some(3000),
        ..Count::today(&yard.colonies[0])
    };
    let then = on(of(&yard), &before, None, 10);
    assert!(
        then.origins[2..].iter().all(|&origin| origin == 1),
        "{then:?}"
    );
    let begun = then.colony.frames[2].frame.brood;
    let taken = |brood| {
        let since = vec![Event {
            after: 10,
            gone: vec![Gone {
                of: vec![1],
                count: 1,
                each: (brood, None),
            }],
            ..Event::default()
        }];
        brood_left(
            &yard,
            &Count {
                since,
                ..before.clone()
            },
        )
    };
    let all = brood(&yard, &then.colony);
    assert_eq!(taken(Some(Milli(0))), all);
    assert_eq!(
        taken(Some(begun)),
        all - share_of(begun, yard.combs[0].cells)
    );
    assert_eq!(taken(None), taken(Some(begun)));
}

fn brood_left(yard: &Scenario, count: &Count) -> i64 {
    brood(yard, &on(of(yard), count, None, 10).colony)
}

#[test]
fn bees_that_never_were_are_named() {
    let yard = yard();
    let mut count = Count::today(&yard.colonies[0]);
    count.since.push(Event {
        bees: Hundreds(100_000),
        ..Event::default()
    });
    let then = on(of(&yard), &count, None, 0);
    assert_eq!(then.lacking, Some((0, Hundreds(bees(&yard.colonies[0])))));
    assert_eq!(bees(&then.colony), 0);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn nothing_is_made_or_lost(
        days in proptest::collection::vec(0..12_u32, 1..5),
        taken in proptest::collection::vec((0..3_usize, 0..3_u32, 0..30_i64, 0..3_u32), 1..5),
        more in 0..30_u32,
    ) {
        let yard = yard();
        let colony = &yard.colonies[0];
        let mut left: Vec<u32> = colony.frames.iter().map(|group| group.count).collect();
        let mut after = 0;
        let mut count = Count::today(colony);
        let mut due = frames(colony);
        for (days, (group, frames, bees, got)) in days.iter().zip(taken) {
            after += days;
            let group = group % left.len();
            let frames = frames.min(left[group]);
            left[group] -= frames;
            let mut comb = colony.frames[0].clone();
            (comb.count, comb.frame.brood, comb.frame.sealed, comb.frame.bees) = (got, Milli(0), Milli(0), Hundreds(0));
            due = due - frames + got;
            count.since.push(Event {
                after,
                gone: vec![gone(group, frames)],
                bees: Hundreds(bees),
                got: vec![comb],
                ..Event::default()
            });
        }
        count.ago = after;
        let then = on(of(&yard), &count, None, more);
        prop_assert_eq!(frames(&then.colony), due);
        prop_assert_eq!(then.origins.len(), then.colony.frames.len());
        let mut later = yard.clone();
        later.gives.clear();
        later.colonies[0] = then.colony;
        prop_assert_eq!(later.validate(), Ok(()));
        // A day later and so many days earlier counted are the same.
        let one_more = Count { ago: count.ago + 1, ..count.clone() };
        let mut next = yard.clone();
        next.colony_model.season = Some(Season { counted: 141, later: 0 });
        let a = on(of(&next), &one_more, None, more).colony;
        let b = on(of(&yard), &count, None, more + 1).colony;
        prop_assert_eq!(a, b);
    }
}

#[test]
fn in_a_compartment_brood_emerges_and_bees_die_until_a_queen_is_known_to_lay() {
    let mut yard = yard();
    let frame = |brood: i64, bees| FrameState {
        comb: CombId(0),
        brood: Milli(brood),
        sealed: Milli(brood),
        stores: Milli(0),
        drawn: Milli(1000),
        bees: Hundreds(bees),
    };
    let group = |frame| FrameGroup {
        count: 1,
        frame,
        queen: false,
    };
    let standing = Standing {
        kind: BoxId(0),
        box_no: 1,
        place: 0,
        frames: vec![group(frame(600, 20)), group(frame(0, 0))],
        extra_bees: Hundreds(10),
        wants_cell: true,
    };
    let stand = |ago, lays_from| Stand {
        standing: standing.clone(),
        ago,
        lays_from,
    };
    yard.standing = vec![standing.clone()];
    let then = |stand: &Stand, days| stands(of(&yard), stand, None, days);
    assert_eq!(then(&stand(0, None), 0), standing);
    let brood = |of: &Standing| of.frames.iter().map(|g| g.frame.brood.0).sum::<i64>();
    // Sealed brood is out after 12 days, and of the bees many are gone after 30 more.
    let out = then(&stand(0, None), 12);
    assert_eq!(brood(&out), 0);
    assert!(out.bees() > standing.bees());
    assert!(then(&stand(0, None), 42).bees() < out.bees());
    // She begins on the 14th day, and fills no more than the combs have.
    let laid = then(&stand(0, Some(14)), 42);
    assert!((1_000..=2_000).contains(&brood(&laid)), "{laid:?}");
    assert_eq!(brood(&then(&stand(0, Some(14)), 14)), 0);
    assert!(laid.wants_cell);
    // From the count, however the days are parted.
    let counts = Counts {
        standing: vec![stand(9, Some(14))],
        ..Counts::default()
    };
    let mut later = yard.clone();
    later.colony_model.season = Some(Season {
        counted: 149,
        later: 0,
    });
    let later = expected(&later, &counts, None, 33).unwrap();
    assert_eq!(later.standing, [laid]);
}

#[test]
fn without_a_queen_brood_becomes_less_until_a_young_one_lays() {
    let yard = yard();
    let colony = &yard.colonies[0];
    let after = |change: Option<Change>, days| {
        let count = Count {
            change,
            ..Count::today(colony)
        };
        brood(&yard, &on(of(&yard), &count, None, days).colony)
    };
    let out = |out, lays| Some(Change { out, lays });
    let now = brood(&yard, colony);
    // All brood of the old queen has emerged after 21 days.
    assert_eq!(after(out(0, None), 21), 0);
    assert!(after(out(0, None), 10) < now && after(out(0, None), 10) > 0);
    // Long before the count is as on its day.
    assert_eq!(after(out(-9, None), 10), after(out(0, None), 10));
    // Until then it is as if she were in.
    assert_eq!(after(out(12, Some(17)), 12), after(None, 12));
    let with = after(out(2, Some(7)), 21);
    assert!(0 < with && with < after(None, 21), "{with}");
    assert!(after(out(2, Some(7)), 60) > 0);
    // A days and b days are a and b days, also over the change.
    let count = |ago| Count {
        ago,
        change: out(4, Some(9)),
        ..Count::today(colony)
    };
    let days = |ago: u32, days| {
        let mut model = yard.colony_model;
        if let Some(season) = &mut model.season {
            season.counted += i32::try_from(ago).unwrap();
        }
        on((&yard.combs, &model), &count(ago), None, days)
            .colony
            .frames
    };
    assert_eq!(days(0, 20), days(13, 7));
}
