//! Yards as they are met: producers and nuclei with a brood nest, food and empty comb, boxes with brood and small ones.

use crate::support::plain;
use crate::support::rng::Rng;
use spareframe_solver::*;

const DEEP: CombId = CombId(0);
const MINI: CombId = CombId(1);
/// Where boxes stand beside the colonies' own place, and one too far off to fly home from.
const SITES: [&str; 3] = ["home", "orchard", "valley"];

/// A yard of 6 to 30 colonies with about as many boxes as they fill.
pub fn apiary(seed: u64) -> Scenario {
    let rng = &mut Rng::new(seed ^ 0xab_0000_0000);
    let size = rng.count(6, 30);
    let few = |share: u32| (size * share).div_ceil(100);
    let spare = |count, frame| SpareFrames { count, frame };
    let shelf = vec![
        spare(few(10), frame(DEEP, 0, 800, 0)),
        spare(few(20), frame(DEEP, 0, 0, 0)),
        spare(few(30), foundation(DEEP)),
        spare(few(20), frame(MINI, 0, 600, 0)),
        spare(few(60), foundation(MINI)),
    ];
    let mini = Comb {
        name: "mini".into(),
        stores: Grams(500),
        ..plain::comb(6, 1400)
    };
    Scenario {
        combs: vec![plain::comb(21, 6000), mini],
        sites: SITES.map(|name| Site { name: name.into() }).into(),
        distances: vec![
            vec![0, 1200, 9000],
            vec![1200, 0, 9000],
            vec![9000, 9000, 0],
        ],
        colonies: (1..=size).map(|number| colony(rng, number)).collect(),
        store_room: shelf,
        boxes: boxes(rng, few),
        cells: rng.percent(50).then(|| {
            vec![CellBatch {
                count: few(80),
                boxes: vec![],
            }]
        }),
        ..Scenario::default()
    }
}

fn frame(comb: CombId, brood: i64, stores: i64, bees: i64) -> FrameState {
    FrameState {
        comb,
        ..plain::frame(brood, stores, bees)
    }
}

fn foundation(comb: CombId) -> FrameState {
    FrameState {
        drawn: Milli(0),
        ..frame(comb, 0, 0, 0)
    }
}

fn colony(rng: &mut Rng, number: u32) -> Colony {
    let producer = rng.percent(70);
    let comb = match producer || rng.percent(60) {
        true => DEEP,
        false => MINI,
    };
    let full = [21, 6][comb.0];
    let brood = |rng: &mut Rng| {
        let share = rng.pick(&[300, 400, 500, 600, 700]);
        let bees = full * rng.range(6, 10) / 10;
        frame(comb, share, rng.range(0, 4) * 50, bees)
    };
    let mut frames = vec![plain::group(1, brood(rng))];
    frames[0].queen = rng.percent(70);
    let most = if producer { 3 } else { 2 };
    for _ in 0..rng.range(2, 3) {
        frames.push(plain::group(rng.count(1, most), brood(rng)));
    }
    let (food, on_it) = (rng.pick(&[450, 600, 800]), rng.range(full / 4, full / 2));
    frames.push(plain::group(rng.count(1, 3), frame(comb, 0, food, on_it)));
    let empty = frame(comb, 0, 0, rng.range(0, full / 4));
    frames.push(plain::group(rng.count(0, 2), empty));
    let extra = if producer {
        rng.range(20, 80)
    } else {
        rng.range(0, 15)
    };
    let mut colony = Colony {
        name: format!("{number:02}"),
        site: SiteId(rng.pick(&[0, 0, 0, 2])),
        role: if producer { "production" } else { "nucleus" }.into(),
        hold: rng.percent(5).then(|| "treatment".into()),
        apart: !producer && rng.percent(10),
        ..plain::colony(frames, extra)
    };
    if producer {
        let from = rng.range(5, 25) as i32;
        colony.crop = Some(Crop {
            honey: Grams(rng.range(15, 45) * 1000),
            from,
            to: from + rng.range(12, 24) as i32,
        });
        colony.draw.frames = Some(rng.count(1, 3));
        colony.draw.bees = Some(Hundreds(rng.range(20, 50)));
    }
    if !colony.apart {
        colony.keep = floors(producer, &colony);
    }
    colony
}

/// Those of the role, as far as the colony reaches them; brood that stays is covered.
fn floors(producer: bool, colony: &Colony) -> Keep {
    let have = |of: &dyn Fn(&FrameState) -> i64| -> i64 {
        let groups = colony.frames.iter();
        groups.map(|g| i64::from(g.count) * of(&g.frame)).sum()
    };
    let (brood, bees, drawn) = match producer {
        true => (2400, 90, 6000),
        false => (900, 25, 2000),
    };
    Keep {
        brood: Milli(have(&|f| f.brood.0).min(brood)),
        bees: Hundreds((have(&|f| f.bees.0) + colony.extra_bees.0).min(bees)),
        stores: Grams(0),
        drawn: Milli(have(&|f| f.drawn.0).min(drawn)),
        covered: Percent(100),
    }
}

fn boxes(rng: &mut Rng, few: impl Fn(u32) -> u32) -> Vec<BoxKind> {
    let ask = |comb, brood, stores, drawn| Ask {
        brood,
        stores: Span::from(stores),
        drawn: Span::from(drawn),
        ..Ask::any(comb)
    };
    let brood = |comb| ask(comb, Span::from(300), 0, 0);
    let food = |comb| ask(comb, Span::NONE, 400, 0);
    let drawn = |comb| ask(comb, Span::NONE, 0, 900);
    let comb_at_all = ask(DEEP, Span::ANY, 0, 500);
    let base = |comb| Some(Ask::foundation(comb));
    let mut kind = |name: &str, (share, compartments), fewest, lines: &[AskedFor]| BoxKind {
        name: name.into(),
        count: few(share),
        compartments,
        site: SiteId(rng.index(SITES.len())),
        worth: Worth(rng.pick(&[700, 1000, 1000, 2000])),
        whole: compartments > 1 && rng.percent(50),
        lines: lines.iter().enumerate().map(line).collect(),
        bees: Bees(fewest),
        again: spareframe_solver::Recipe::default(),
    };
    let fed = |comb| (1, food(comb), Some(drawn(comb)));
    let three_way = [(1, brood(DEEP), None), fed(DEEP)];
    let full = [(2, brood(DEEP), None), (1, comb_at_all, base(DEEP))];
    let mini = [
        (1, brood(MINI), None),
        fed(MINI),
        (1, drawn(MINI), base(MINI)),
    ];
    let dipped = [(2, drawn(MINI), base(MINI))];
    vec![
        kind("three-way", (12, 3), 1800, &three_way),
        kind("full", (10, 1), 4000, &full),
        kind("mini", (25, 1), 700, &mini),
        kind("dipped", (20, 1), 800, &dipped),
    ]
}

/// So many frames, and what may stand in for them.
type AskedFor = (u32, Ask, Option<Ask>);

fn line((number, &(count, ask, other)): (usize, &AskedFor)) -> Line {
    let substitute = |ask| Substitute {
        ask,
        feed: Grams(500),
    };
    Line {
        name: format!("line {number}"),
        count,
        ask,
        substitutes: other.map(substitute).into_iter().collect(),
    }
}
