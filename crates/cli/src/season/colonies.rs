//! Colonies that may give, as a season sees them: sums and standard frames.

use crate::output::Notes;
use crate::scenario::season::{Asked, What};
use jiff::ToSpan;
use jiff::civil::Date;
use spareframe_rearing::IntervalId;
use spareframe_season as season;
use spareframe_solver::{Colony, ColonyId, CombId, FrameGroup, FrameState, Milli, Scenario};
use spareframe_weeks::laying;
use std::collections::BTreeMap;

/// All colonies that may be opened.
pub(super) fn donors(
    scenario: &Scenario,
    notes: &Notes,
    asked: &Asked,
    (today, last): (Date, Date),
) -> Vec<(ColonyId, season::Colony)> {
    let all = scenario.colonies.iter().enumerate();
    let open = all.filter(|(_, colony)| colony.hold.is_none());
    open.map(|(at, colony)| {
        let id = ColonyId(at);
        (id, one(scenario, notes, asked, (today, last), (id, colony)))
    })
    .collect()
}

/// A colony as the planner of seasons takes it.
pub(super) fn one(
    scenario: &Scenario,
    notes: &Notes,
    asked: &Asked,
    days: (Date, Date),
    (id, colony): (ColonyId, &Colony),
) -> season::Colony {
    let broodless = broodless(notes, asked, id, days);
    season::Colony {
        broodless,
        ..donor(scenario, notes, id, colony)
    }
}

fn donor(scenario: &Scenario, notes: &Notes, id: ColonyId, colony: &Colony) -> season::Colony {
    let model = (&scenario.combs[..], &scenario.colony_model);
    let count = notes.counts.get(id.0).and_then(|of| of.count.as_deref());
    let lays = count.and_then(|count| laying(model, count, count.ago));
    let sum = |figure: &dyn Fn(&FrameGroup) -> f64| colony.frames.iter().map(figure).sum::<f64>();
    let held = |figure: fn(&Scenario, &FrameState) -> f64| {
        sum(&|group| f64::from(group.count) * figure(scenario, &group.frame))
    };
    let comb = usual_comb(colony);
    let full = scenario.combs.get(comb.0);
    let cells = full.map_or(0.0, |comb| comb.cells as f64);
    let bees = full.map_or(0.0, |comb| comb.bees.bees().0 as f64);
    let with_brood = |group: &FrameGroup| group.frame.brood.0 > 0 && group.frame.comb == comb;
    let brooding = sum(&|group| match with_brood(group) {
        true => f64::from(group.count),
        false => 0.0,
    });
    let mean = |figure: fn(&Scenario, &FrameState) -> f64| match brooding > 0.0 {
        true => {
            let of = |group: &FrameGroup| f64::from(group.count) * figure(scenario, &group.frame);
            sum(&|group| if with_brood(group) { of(group) } else { 0.0 }) / brooding
        }
        false => 0.0,
    };
    let share = |of: Milli| of.0 as f64 / 1000.0 * cells;
    season::Colony {
        name: colony.name.clone(),
        bees: held(on_it) + colony.extra_bees.bees().0 as f64,
        open: held(open),
        sealed: held(sealed),
        laying: lays.map(f64::from),
        broodless: None,
        comb: comb.0,
        frame_cells: mean(|scenario, frame| open(scenario, frame) + sealed(scenario, frame)),
        frame_bees: mean(on_it),
        cover: if cells > 0.0 { bees / cells } else { 0.0 },
        today: today(scenario, colony, comb),
        keep: season::Keep {
            brood: share(colony.keep.brood),
            bees: colony.keep.bees.bees().0 as f64,
            covered: colony.keep.covered.0 as f64,
        },
        caps: season::Caps {
            frames: colony.draw.frames,
            brood: colony.draw.brood.map(share),
            bees: colony.draw.bees.map(|bees| bees.bees().0 as f64),
            honey: colony.draw.honey.map(|honey| honey.0 as f64),
        },
        crop: colony.crop.map(|crop| season::Crop {
            grams: crop.honey.0 as f64,
            from: crop.from,
            to: crop.to,
        }),
        stay: stay(scenario, notes, colony),
        apart: colony.apart,
    }
}

fn on_it(_: &Scenario, frame: &FrameState) -> f64 {
    frame.bees.bees().0 as f64
}

fn cells(scenario: &Scenario, frame: &FrameState, share: Milli) -> f64 {
    let comb = scenario.combs.get(frame.comb.0);
    comb.map_or(0.0, |comb| comb.cells as f64 * share.0 as f64 / 1000.0)
}

fn open(scenario: &Scenario, frame: &FrameState) -> f64 {
    cells(scenario, frame, Milli(frame.brood.0 - frame.sealed.0))
}

fn sealed(scenario: &Scenario, frame: &FrameState) -> f64 {
    cells(scenario, frame, frame.sealed)
}

/// The size of most of its brood frames, else of most of its frames.
fn usual_comb(colony: &Colony) -> CombId {
    let most = |brood: bool| {
        let mut counts: BTreeMap<CombId, u32> = BTreeMap::new();
        let frames = colony.frames.iter();
        for group in frames.filter(|group| !brood || group.frame.brood.0 > 0) {
            *counts.entry(group.frame.comb).or_default() += group.count;
        }
        let most = counts.into_iter().rev().max_by_key(|(_, count)| *count);
        most.filter(|(_, count)| *count > 0).map(|(comb, _)| comb)
    };
    most(true).or_else(|| most(false)).unwrap_or(CombId(0))
}

/// For so many of its real brood frames that may leave today: what they hold at most.
fn today(scenario: &Scenario, colony: &Colony, comb: CombId) -> Vec<season::Taken> {
    let fits = |frame: &FrameState| {
        let lines = scenario.boxes.iter().flat_map(|kind| &kind.lines);
        let mut asks = lines.filter(|line| line.ask.asks_for_brood());
        asks.any(|line| line.place_of(frame).is_some())
    };
    let may = |group: &&FrameGroup| {
        let frame = &group.frame;
        !group.queen && group.count > 0 && frame.comb == comb && frame.brood.0 > 0 && fits(frame)
    };
    let most = season::MOST_FRAMES as usize;
    let groups = colony.frames.iter().filter(may);
    let each = groups.flat_map(|group| {
        let count = usize::try_from(group.count).unwrap_or(most);
        std::iter::repeat_n(group.frame, count.min(most))
    });
    let mut frames: Vec<FrameState> = each.collect();
    let rides = colony.rides.0 as f64 / 100.0;
    let mut fewest: Vec<f64> = frames.iter().map(|f| on_it(scenario, f) * rides).collect();
    fewest.sort_by(f64::total_cmp);
    frames.sort_by_key(|frame| std::cmp::Reverse((frame.brood, frame.bees)));
    let mut sum = season::Taken::default();
    let all = frames.iter().zip(fewest).take(most);
    all.map(|(frame, fewest)| {
        sum.open += open(scenario, frame);
        sum.sealed += sealed(scenario, frame);
        sum.bees += on_it(scenario, frame);
        sum.fewest += fewest;
        sum
    })
    .collect()
}

/// Of a hundred bees that leave so many stay: by the nearest boxes.
fn stay(scenario: &Scenario, notes: &Notes, colony: &Colony) -> i64 {
    let kinds = scenario.boxes.iter().enumerate();
    let used =
        kinds.filter(|(at, kind)| kind.count > 0 && notes.rearing.takes.get(*at) != Some(&true));
    let near = |site: usize| {
        let metres = scenario
            .distances
            .get(colony.site.0)
            .and_then(|row| row.get(site));
        metres.is_none_or(|metres| *metres < scenario.drift.homing_metres)
    };
    let mut sites = used.map(|(_, kind)| kind.site.0);
    match sites.any(near) {
        true => (100 - scenario.drift.flying.0).max(1),
        false => 100,
    }
}

/// Days on which nobody lays in a colony that gets a new queen: by the want's day, or the last on which queens may be taken.
fn broodless(
    notes: &Notes,
    asked: &Asked,
    id: ColonyId,
    (today, last): (Date, Date),
) -> Option<(i32, i32)> {
    let intervals = &notes.rearing.intervals;
    let days = |id| i64::from(intervals.get(id).usual);
    let after = |day: Date| (day - today).get_days();
    let caged = |goes_in: Date| goes_in.saturating_add(days(IntervalId::Caged).days());
    let allotted = notes.queens.allotted(today, intervals);
    let stated = notes.queens.requeen.iter().zip(&allotted.colonies);
    let mut stated = stated.filter(|(colony, _)| colony.colony == id);
    if let Some((_, Some(given))) = stated.next() {
        return Some((after(given.old_out), after(caged(given.goes_in))));
    }
    let want = asked.wants.iter().find(|want| match &want.what {
        What::Requeen(colonies) => colonies.contains(&id),
        _ => false,
    });
    let by = want?.by.unwrap_or(last);
    if by < today {
        return None;
    }
    let out = by.saturating_sub(days(IntervalId::Queenless).days());
    Some((after(out).max(0), after(caged(by))))
}
