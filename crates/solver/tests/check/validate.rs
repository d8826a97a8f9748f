//! Scenarios that are none.

use crate::yard::{compartment, frame, scenario, stands, with_small_boxes};
use spareframe_solver::*;

type Spoil = fn(&mut Scenario);

/// Each breaks one thing, in this field.
const SPOILT: [(&str, Spoil); 44] = [
    ("combs[0].bees", |s| s.combs[0].bees = Hundreds(0)),
    ("combs[0].cells", |s| s.combs[0].cells = i64::MAX),
    ("combs[1].name", |s| s.combs.push(s.combs[0].clone())),
    ("sites[1].name", |s| s.sites[1].name = "yard".into()),
    ("distances", |s| s.distances[1].truncate(1)),
    ("distances[1][1]", |s| s.distances[1][1] = 5),
    ("distances[0][1]", |s| s.distances[0][1] = 1),
    ("colonies[1].name", |s| s.colonies[1].name = "a".into()),
    ("colonies[0].site", |s| s.colonies[0].site = SiteId(2)),
    ("colonies[0].frames[2].frame.comb", |s| {
        s.colonies[0].frames[2].frame.comb = CombId(1);
    }),
    ("colonies[0].frames[0].frame.sealed", |s| {
        s.colonies[0].frames[0].frame.sealed = Milli(601);
    }),
    ("colonies[0].frames[0].frame.drawn", |s| {
        s.colonies[0].frames[0].frame.drawn = Milli(799);
    }),
    ("colonies[0].frames[0].frame.bees", |s| {
        s.colonies[0].frames[0].frame.bees = Hundreds(-1);
    }),
    ("colonies[0].frames[0].count", |s| {
        s.colonies[0].frames[0].count = 1_000_001
    }),
    ("colonies[0].extra_bees", |s| {
        s.colonies[0].extra_bees = Hundreds(-1)
    }),
    ("colonies[0].crop.honey", |s| {
        s.colonies[0].crop.as_mut().expect("a crop").honey = Grams(0);
    }),
    ("colonies[0].crop.to", |s| {
        s.colonies[0].crop.as_mut().expect("a crop").to = 4;
    }),
    ("colonies[0].keep.covered", |s| {
        s.colonies[0].keep.covered = Percent(-1)
    }),
    ("colonies[0].draw.honey", |s| {
        s.colonies[0].draw.honey = Some(Grams(-1))
    }),
    ("colonies[0].rides", |s| s.colonies[0].rides = Percent(101)),
    ("store_room[0].frame.bees", |s| {
        s.store_room[0].frame.bees = Hundreds(1)
    }),
    ("store_room[0].frame.brood", |s| {
        s.store_room[0].frame = frame(100, 0, 800, 1000, 0);
    }),
    ("boxes[0].compartments", |s| s.boxes[0].compartments = 0),
    ("boxes[0].site", |s| s.boxes[0].site = SiteId(9)),
    ("boxes[0].worth", |s| s.boxes[0].worth = Worth(0)),
    ("boxes[0].lines[1].name", |s| {
        s.boxes[0].lines[1].name = "brood".into()
    }),
    ("boxes[0].lines[0].count", |s| s.boxes[0].lines[0].count = 0),
    ("boxes[0].lines[0].ask.stores.least", |s| {
        s.boxes[0].lines[0].ask.stores = Span::of(500, 400);
    }),
    ("boxes[0].lines[1].substitutes[0].ask.comb", |s| {
        s.boxes[0].lines[1].substitutes[0].ask.comb = CombId(3);
    }),
    ("cells[0].boxes[0]", |s| {
        s.cells = Some(vec![CellBatch {
            count: 1,
            boxes: vec![BoxId(1)],
        }]);
    }),
    ("drift.flying", |s| s.drift.flying = Percent(101)),
    ("prices.opened", |s| s.prices.opened = Grams(-1)),
    ("gives[0].group", |s| {
        s.gives = vec![Give {
            colony: ColonyId(0),
            group: Some(3),
            frames: 1,
        }];
    }),
    ("boxes[0].again.lines[0].count", |s| {
        s.boxes[0].again.lines = vec![Line {
            count: 0,
            ..s.boxes[0].lines[0].clone()
        }];
    }),
    ("boxes[0].again.bees", |s| s.boxes[0].again.bees = Bees(-1)),
    ("standing[0].place", |s| s.standing = vec![stands(0, 2)]),
    ("standing[1]", |s| {
        s.standing = vec![stands(0, 1), stands(0, 1)]
    }),
    ("standing[0].kind", |s| {
        s.standing = vec![stands(0, 1)];
        s.standing[0].kind = BoxId(7);
    }),
    ("standing[0].frames[0].frame.comb", |s| {
        s.standing = vec![stands(0, 1)];
        s.standing[0].frames[0].frame.comb = CombId(3);
    }),
    ("standing[0].extra_bees", |s| {
        s.standing = vec![stands(0, 1)];
        s.standing[0].extra_bees = Hundreds(-1);
    }),
    ("done[0].frames[1].line", |s| {
        // Its lines are those of the next cell, of which there are none.
        s.standing = vec![stands(0, 0)];
        s.boxes[0].again.lines = s.boxes[0].lines[..1].to_vec();
        s.done = vec![compartment(0, 0)];
    }),
    ("done[0].box_no", |s| s.done = vec![compartment(2, 0)]),
    ("done[1]", |s| {
        s.done = vec![compartment(0, 0), compartment(0, 0)]
    }),
    ("done: bees of colonies[0]", |s| {
        s.done = vec![compartment(0, 0)];
        s.done[0].bees[0].loose = Hundreds(150);
    }),
];

#[test]
fn a_yard_is_valid() {
    assert_eq!(scenario().validate(), Ok(()));
    assert_eq!(with_small_boxes().validate(), Ok(()));
    let mut begun = scenario();
    begun.done = vec![compartment(0, 0), compartment(1, 1)];
    begun.standing = vec![stands(0, 1), stands(1, 0)];
    assert_eq!(begun.validate(), Ok(()));
}

#[test]
fn each_field_that_is_wrong_is_named() {
    for (field, spoil) in SPOILT {
        let mut scenario = scenario();
        spoil(&mut scenario);
        let invalid = scenario.validate().expect_err(field);
        let fields: Vec<_> = invalid.iter().map(|i| i.field.as_str()).collect();
        assert_eq!(fields, [field]);
    }
}

#[test]
fn bees_times_brood_beyond_64_bits_are_refused() {
    let mut scenario = scenario();
    scenario.combs[0].bees = Hundreds(10_000);
    scenario.colonies[0].extra_bees = Hundreds(1_000_000_000);
    scenario.colonies[0].frames[0].count = 1_000_000;
    let invalid = scenario.validate().expect_err("beyond 64 bits");
    assert_eq!(invalid[0].field, "colonies[0]: bees times cover of brood");
}
