//! Yards by chance.

use crate::scenario::*;
use crate::units::{Bees, Grams, Hundreds, Milli, Percent, Worth};

/// Numbers by chance, the same for the same seed (splitmix64, public domain).
pub(crate) struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5DEE_CE66)
    }

    /// 0..count.
    pub fn below(&mut self, count: i64) -> i64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        i64::try_from((mixed ^ (mixed >> 31)) % count.max(1).unsigned_abs()).unwrap()
    }

    /// from..=to.
    pub fn within(&mut self, from: i64, to: i64) -> i64 {
        from + self.below(to - from + 1)
    }

    pub fn one_in(&mut self, count: i64) -> bool {
        self.below(count) == 0
    }
}

fn frame(dice: &mut Dice, brood: i64) -> FrameState {
    let stores = if brood > 0 {
        dice.within(0, 2) * 100
    } else {
        dice.within(0, 9) * 100
    };
    FrameState {
        comb: CombId(0),
        brood: Milli(brood),
        sealed: Milli(brood * dice.within(0, 2) / 2),
        stores: Milli(stores),
        drawn: Milli(1000),
        bees: Hundreds(if brood > 0 {
            dice.within(10, 21)
        } else {
            dice.within(0, 10)
        }),
    }
}

fn colony(dice: &mut Dice, name: usize) -> Colony {
    let mut frames = vec![FrameGroup {
        count: 1,
        frame: frame(dice, 600),
        queen: true,
    }];
    for _ in 0..dice.within(1, 3) {
        let brood = dice.within(4, 8) * 100;
        let (count, frame) = (dice.within(1, 3) as u32, frame(dice, brood));
        frames.push(FrameGroup {
            count,
            frame,
            queen: false,
        });
    }
    let (count, stores) = (dice.within(1, 4) as u32, frame(dice, 0));
    frames.push(FrameGroup {
        count,
        frame: stores,
        queen: false,
    });
    let crop = Crop {
        honey: Grams(dice.within(5, 30) * 1000),
        from: 5,
        to: 25,
    };
    Colony {
        name: format!("{name:02}"),
        site: SiteId(dice.below(2) as usize),
        role: String::new(),
        hold: None,
        frames,
        extra_bees: Hundreds(dice.within(0, 60)),
        crop: dice.one_in(2).then_some(crop),
        keep: Keep {
            brood: Milli(dice.within(0, 2) * 500),
            bees: Hundreds(dice.within(0, 60)),
            covered: Percent(dice.within(0, 2) * 50),
            ..Keep::default()
        },
        draw: Draw {
            frames: dice.one_in(3).then(|| dice.within(1, 5) as u32),
            bees: dice.one_in(3).then(|| Hundreds(dice.within(20, 90))),
            ..Draw::default()
        },
        rides: Percent([30, 50, 50, 50, 100][dice.below(5) as usize]),
        apart: dice.one_in(5),
    }
}

fn line(name: &str, count: u32, ask: Ask, substitutes: &[Ask]) -> Line {
    let substitutes = substitutes.iter().map(|&ask| Substitute {
        ask,
        feed: Grams(500),
    });
    Line {
        name: name.into(),
        count,
        ask,
        substitutes: substitutes.collect(),
    }
}

fn boxes(dice: &mut Dice) -> Vec<BoxKind> {
    let any = Ask::any(CombId(0));
    let no_brood = Ask {
        brood: Span::NONE,
        ..any
    };
    let stores = Ask {
        stores: Span::from(300),
        ..no_brood
    };
    let drawn = Ask {
        drawn: Span::from(500),
        ..no_brood
    };
    let brood = Ask {
        brood: Span::from(400),
        ..any
    };
    let kind = |name: &str, dice: &mut Dice, fewest: i64, lines: Vec<Line>| BoxKind {
        name: name.into(),
        count: dice.within(1, 3) as u32,
        compartments: dice.within(1, 3) as u32,
        site: SiteId(dice.below(3) as usize),
        worth: Worth(dice.within(1, 4) * 500),
        whole: dice.one_in(4),
        lines,
        bees: Bees(fewest),
    };
    let fewest = dice.within(20, 60) * 50;
    let count = dice.within(1, 2) as u32;
    let nucleus = vec![
        line("brood", count, brood, &[]),
        line("stores", 1, stores, &[drawn]),
    ];
    let small = vec![line("comb", 1, drawn, &[Ask::foundation(CombId(0))])];
    let (a, b) = (dice.within(3, 12) * 55, dice.within(20, 40) * 50);
    vec![
        kind("nucleus", dice, fewest, nucleus.clone()),
        kind("small", dice, a, small),
        kind("other", dice, b, nucleus),
    ]
}

/// Three sites of which two are near to each other, some colonies, a store room, three kinds of box.
pub(crate) fn yard(dice: &mut Dice) -> Scenario {
    let sites = ["a", "b", "c"].map(|name| Site { name: name.into() });
    let spare = |frame: FrameState, count: i64| SpareFrames {
        count: count as u32,
        frame: FrameState {
            bees: Hundreds(0),
            brood: Milli(0),
            sealed: Milli(0),
            ..frame
        },
    };
    let drawn = frame(dice, 0);
    let foundation = FrameState {
        stores: Milli(0),
        drawn: Milli(0),
        ..drawn
    };
    Scenario {
        combs: vec![Comb {
            name: "comb".into(),
            bees: Hundreds(21),
            cells: 6000,
            stores: Grams(2000),
        }],
        sites: sites.into(),
        distances: vec![
            vec![0, 1000, 9000],
            vec![1000, 0, 9000],
            vec![9000, 9000, 0],
        ],
        colonies: (0..dice.within(2, 7) as usize)
            .map(|name| colony(dice, name))
            .collect(),
        store_room: vec![
            spare(drawn, dice.within(0, 4)),
            spare(foundation, dice.within(0, 6)),
        ],
        boxes: boxes(dice),
        cells: dice.one_in(2).then(|| {
            vec![CellBatch {
                count: dice.within(2, 9) as u32,
                boxes: vec![],
            }]
        }),
        ..Scenario::default()
    }
}
