//! Honey rates and charges against a second working-out, written from `docs/honey.md` alone: it shares
//! no arithmetic with the solver's.

use spareframe_solver::honey::{
    ColonyModel, HoneyRates, Season, frame_charge, hundred_charge, rates,
};
use spareframe_solver::*;

/// A colony on one day: house bees, foragers, and brood by age with the youngest first.
#[derive(Clone)]
struct Day {
    house: f64,
    foragers: f64,
    brood: Vec<f64>,
}

/// What stays the same from day to day: foragers lost, eggs of the queen in a colony without end, and the season.
struct Course {
    m: f64,
    queen: f64,
    season: Option<Season>,
}

impl Course {
    /// Laying on the `number`th day after the count, as a part of what it was on that day.
    fn season(&self, number: i32) -> f64 {
        let Some(Season { counted, later }) = self.season else {
            return 1.0;
        };
        let share = |day: i32| {
            let day = f64::from((day - later + 3649) % 365 + 1);
            let begun = 1.0 / (1.0 + 385.0 * (-day / 15.0).exp());
            let ended = 1.0 / (1.0 + 36.0 * ((155.0 - day) / 15.0).exp());
            begun.min(1.0 - ended)
        };
        (share(counted + number) / share(counted)).min(2.0)
    }
}

impl Day {
    fn next(&self, number: i32, course: &Course) -> Self {
        let m = course.m;
        let all = self.house + self.foragers;
        let (mut recruited, mut laid) = (0.0, 0.0);
        if all > 0.0 {
            recruited = self.house * (0.25 - 0.75 * (self.foragers / all));
            let queen = course.queen * course.season(number);
            laid = (queen * all / (10_000.0 + all)).min(2000.0);
        }
        let (emerging, younger) = self.brood.split_last().expect("21 ages");
        let brood = std::iter::once(laid).chain(younger.iter().copied());
        Self {
            house: f64::max(0.0, self.house + emerging - recruited),
            foragers: f64::max(0.0, self.foragers + recruited - m * self.foragers),
            brood: brood.collect(),
        }
    }
}

/// Foragers at the start of each day of the flow, summed.
fn forager_days(start: &Day, course: &Course, from: i32, to: i32) -> f64 {
    let next = |(number, day): &(i32, Day)| Some((number + 1, day.next(*number, course)));
    let days = std::iter::successors(Some((0, start.clone())), next);
    let numbered = days.take_while(|(number, _)| *number <= to.min(365));
    let flow = numbered.filter(|(number, _)| *number >= from);
    flow.map(|(_, day)| day.foragers).sum()
}

/// Whole cells of a share of a comb, halves up, with the fraction kept until the end.
fn cells(share: Milli, comb: &Comb) -> i64 {
    let (whole, rest) = ((share.0 * comb.cells) / 1000, (share.0 * comb.cells) % 1000);
    whole + i64::from(rest >= 500)
}

/// Bees, sealed and open cells of a colony.
fn counted(combs: &[Comb], colony: &Colony) -> [f64; 3] {
    let mut sums = [colony.extra_bees.0 * 100, 0, 0];
    for group in &colony.frames {
        for _ in 0..group.count {
            let comb = &combs[group.frame.comb.0];
            let sealed = cells(group.frame.sealed, comb);
            sums[0] += group.frame.bees.0 * 100;
            sums[1] += sealed;
            sums[2] += cells(group.frame.brood, comb) - sealed;
        }
    }
    sums.map(|sum| sum as f64)
}

/// Stocking day with these shares of bees, sealed and open cells left.
fn stocking_day(held: [f64; 3], left: [f64; 3], m: f64) -> Day {
    let [bees, sealed, open] = held;
    // m J^2 + (m + 0.75 - 0.25) J - 0.25 = 0, the positive root.
    let b = m + 0.5;
    let j = ((b * b + m).sqrt() - b) / (2.0 * m);
    let mut brood = vec![open * left[2] / 9.0; 9];
    brood.resize(21, sealed * left[1] / 12.0);
    Day {
        house: bees * left[0] / (1.0 + j),
        foragers: bees * left[0] * j / (1.0 + j),
        brood,
    }
}

/// Milligrams for 1000 bees, sealed cells and open cells, before they are rounded up.
fn expected(combs: &[Comb], colony: &Colony, crop: Crop, model: ColonyModel) -> [f64; 3] {
    let held = counted(combs, colony);
    let [bees, sealed, open] = held;
    let course = Course {
        m: model.mortality.0 as f64 / 1000.0,
        queen: if sealed + open > 0.0 && bees > 0.0 {
            (sealed + open) / 21.0 * ((10_000.0 + bees) / bees)
        } else {
            2000.0
        },
        season: model.season,
    };
    let days = |left| {
        let start = stocking_day(held, left, course.m);
        forager_days(&start, &course, crop.from, crop.to)
    };
    let without = days([1.0; 3]);
    std::array::from_fn(|what| {
        let taken = held[what].min(1000.0);
        if taken == 0.0 || without == 0.0 {
            return 0.0;
        }
        let mut left = [1.0; 3];
        left[what] = (held[what] - taken) / held[what];
        let share = (1.0 - days(left) / without).clamp(0.0, 1.0);
        1000.0 * crop.honey.0 as f64 * share * (1000.0 / taken)
    })
}

/// Whole numbers that look thrown, the same each time.
struct Thrown(u64);

impl Thrown {
    fn to(&mut self, most: i64) -> i64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as i64 % (most + 1)
    }
}

fn combs() -> Vec<Comb> {
    let comb = |bees, cells, stores| Comb {
        name: format!("{cells} cells"),
        bees: Hundreds(bees),
        cells,
        stores: Grams(stores),
    };
    vec![comb(21, 6_401, 2_003), comb(6, 1_399, 499)]
}

fn frame(thrown: &mut Thrown) -> FrameState {
    let brood = thrown.to(1) * thrown.to(1000);
    let stores = thrown.to(1000 - brood);
    FrameState {
        comb: CombId(thrown.to(1) as usize),
        brood: Milli(brood),
        sealed: Milli(thrown.to(brood)),
        stores: Milli(stores),
        drawn: Milli(brood + stores),
        bees: Hundreds(thrown.to(25)),
    }
}

fn colony(thrown: &mut Thrown) -> (Colony, Crop) {
    let groups = thrown.to(6);
    let group = |_| FrameGroup {
        count: thrown.to(4) as u32,
        frame: frame(thrown),
        queen: thrown.to(5) == 0,
    };
    let frames = (0..groups).map(group).collect();
    let from = thrown.to(120) as i32 - 40;
    let crop = Crop {
        honey: Grams(1 + thrown.to(60_000)),
        from,
        to: from + thrown.to(60) as i32,
    };
    let colony = Colony {
        name: "a".into(),
        site: SiteId(0),
        role: "production".into(),
        hold: None,
        frames,
        extra_bees: Hundreds(thrown.to(3) * thrown.to(150)),
        crop: Some(crop),
        rides: Percent(50),
        apart: false,
        keep: Keep::default(),
        draw: Draw::default(),
    };
    (colony, crop)
}

#[test]
fn rates_are_those_that_the_page_gives() {
    let (combs, mut thrown, mut above) = (combs(), Thrown(13), 0);
    for case in 0..2000 {
        let season = Season {
            counted: 60 + thrown.to(160) as i32,
            later: thrown.to(60) as i32 - 30,
        };
        let model = ColonyModel {
            mortality: Milli(1 + thrown.to(349)),
            season: (thrown.to(3) > 0).then_some(season),
        };
        let (colony, crop) = colony(&mut thrown);
        let got = rates(&combs, &colony, &model);
        let due = expected(&combs, &colony, crop, model);
        for (got, due) in [got.bees, got.sealed, got.open].into_iter().zip(due) {
            // A thousandth of a milligram is noise, and so much less is rounded up.
            let rounded = (due - 0.001).ceil().max(0.0) as i64;
            assert_eq!(got, rounded, "case {case}, {due} mg: {colony:?}");
            above += i64::from(got > 0);
        }
        assert!(got.stores);
    }
    assert!(above > 3000, "too few rates above 0: {above}");
}

#[test]
fn charges_are_those_that_the_page_gives() {
    let (combs, mut thrown) = (combs(), Thrown(31));
    // Grams, one after the other, until they are as much as the millionths.
    let up = |millionths: i64| (0..).find(|grams| grams * 1_000_000 >= millionths);
    for case in 0..2000 {
        let frame = frame(&mut thrown);
        let comb = &combs[frame.comb.0];
        let rates = HoneyRates {
            bees: thrown.to(900_000),
            sealed: thrown.to(30_000),
            open: thrown.to(30_000),
            stores: thrown.to(1) == 1,
        };
        let sealed = cells(frame.sealed, comb);
        let open = cells(frame.brood, comb) - sealed;
        let brood = up(sealed * rates.sealed + open * rates.open).unwrap();
        let stores = (frame.stores.0 * comb.stores.0 + 500) / 1000;
        let due = Grams(brood + if rates.stores { stores } else { 0 });
        assert_eq!(frame_charge(comb, &frame, rates), due, "case {case}");
        // A hundred bees are a tenth of a thousand.
        assert_eq!(
            Some(hundred_charge(rates).0),
            up(100 * rates.bees),
            "case {case}"
        );
    }
}
