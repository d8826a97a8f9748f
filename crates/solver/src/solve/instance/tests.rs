//! Figures of the instance, worked out by hand.

use super::*;
use crate::plan::Plan;
use crate::scenario::*;
use crate::solve::Ceiling;
use crate::support::plain::{self, colony, comb, frame, group, kind, line, record};
use crate::units::{Grams, Hundreds, Milli, Percent, Worth};

/// One colony of four full brood frames, and three boxes of one brood frame and 1000 bees.
fn yard() -> Scenario {
    let full = || group(2, frame(1000, 0, 21));
    let boxes = kind(3, vec![line("brood", 500, 0)], 1000);
    Scenario {
        combs: vec![comb(21, 5000)],
        ..plain::yard(colony(vec![full(), full()], 10), boxes)
    }
}

fn instance(scenario: &Scenario) -> Instance {
    Instance::new(scenario, None, &Ceiling::default())
}

#[test]
fn frames_that_hold_the_same_are_one_item_unless_there_is_a_wish_for_some() {
    let mut scenario = yard();
    let item = &instance(&scenario).donors[0].items[0];
    let figures = (item.count, item.least, item.cells, item.cover);
    assert_eq!(figures, (4, 11, 5000, 21_000));
    scenario.gives.push(Give {
        colony: ColonyId(0),
        group: Some(1),
        frames: 1,
    });
    let donor = &instance(&scenario).donors[0];
    let counts: Vec<_> = donor.items.iter().map(|i| (i.count, i.give)).collect();
    assert_eq!(counts, [(2, 0), (2, 1)]);
}

#[test]
fn a_colony_gives_nothing_on_hold_and_none_of_what_it_is_below_a_floor_of() {
    let rooms = |scenario: &Scenario| {
        let of = |donor: &Donor| {
            [
                donor.brood,
                donor.bees,
                donor.drawn,
                donor.stores,
                donor.frames,
            ]
        };
        instance(scenario).donors.first().map(of)
    };
    let mut held = yard();
    held.colonies[0].hold = Some("sick".into());
    assert_eq!(rooms(&held), None);
    let floors: [fn(&mut Keep); 4] = [
        |keep| keep.brood = Milli(4001),
        |keep| keep.bees = Hundreds(95),
        |keep| keep.drawn = Milli(4001),
        |keep| keep.stores = Grams(1),
    ];
    let all = rooms(&yard()).unwrap();
    for (at, floor) in floors.into_iter().enumerate() {
        let mut scenario = yard();
        floor(&mut scenario.colonies[0].keep);
        let mut left = all;
        left[at] = 0;
        assert_eq!(rooms(&scenario), Some(left));
    }
    let mut scenario = yard();
    scenario.done = vec![record(0, 15)];
    scenario.colonies[0].draw.bees = Some(Hundreds(14));
    assert_eq!(rooms(&scenario).map(|of| of[1]), Some(0));
}

#[test]
fn what_is_done_is_finished_or_asks_for_what_it_lacks() {
    let mut scenario = yard();
    // 67 of a hundred stay: 1005 bees are enough, 670 are not.
    scenario.done = vec![record(0, 15), record(1, 10)];
    let instance = instance(&scenario);
    let kinds: Vec<_> = instance
        .kinds
        .iter()
        .map(|kind| (kind.least, kind.most, kind.need, kind.begun))
        .collect();
    assert_eq!(
        kinds,
        [(0, 1, 1000, false), (1, 1, 0, true), (0, 1, 330, true)]
    );
    assert_eq!(
        (instance.sites[0].credit, instance.sites[0].loose_credit),
        (5, 0)
    );
    assert_eq!(instance.needs.len(), 1);
    // 25 of 94 hundreds and 10000 of 20000 cells: half, so 50 + 30 + 10.
    let share = instance.donors[0].burden.unwrap();
    assert_eq!(share.percent(0, 0), 50);
    assert_eq!((instance.base.burden, instance.base.opened), (90, 1));
}

#[test]
fn finished_compartments_are_free_where_there_are_not_cells_for_all_of_them() {
    let mut scenario = yard();
    scenario.done = vec![record(0, 15), record(1, 15)];
    for (cells, least) in [(2, 2), (1, 0)] {
        scenario.cells = Some(vec![CellBatch {
            count: cells,
            boxes: Vec::new(),
        }]);
        assert_eq!(instance(&scenario).kinds[1].least, least);
    }
}

#[test]
fn what_is_finished_counts_beyond_a_ceiling() {
    let mut scenario = yard();
    scenario.done = vec![record(0, 15), record(1, 15)];
    let most = Ceiling {
        compartments: Some(1),
        worth: Some(Worth(2500)),
    };
    let instance = Instance::new(&scenario, None, &most);
    assert_eq!(instance.most_compartments, Some(2));
    assert_eq!(instance.most_worth, Some(2500));
}

#[test]
fn a_colony_with_too_few_bees_for_its_brood_keeps_what_it_has() {
    let mut scenario = yard();
    scenario.colonies[0].keep.covered = Percent(100);
    let covered = instance(&scenario).donors[0].covered;
    assert_eq!((covered.times, covered.per), (1000, 1));
    scenario.colonies[0].frames[0].frame.bees = Hundreds(10);
    let covered = instance(&scenario).donors[0].covered;
    // 72 hundreds for 84000 thousandths of a hundred, which is 3 for 3500.
    assert_eq!((covered.times, covered.per), (3500, 3));
}

#[test]
fn frames_drawn_otherwise_are_counted_from_what_is_taken_if_nothing_more_is() {
    let scenario = yard();
    let earlier = Plan {
        compartments: vec![record(0, 15)],
        begun: Vec::new(),
    };
    let instance = Instance::new(&scenario, Some(&earlier), &Ceiling::default());
    assert_eq!(instance.base.otherwise, 1);
    let item = &instance.donors[0].items[0];
    let otherwise: Vec<_> = (0..4).map(|count| item.otherwise(count)).collect();
    assert_eq!(otherwise, [0, -1, 0, 1]);
    assert_eq!(share_out(&item.parts, 3), [2, 1]);
}
