//! From a season that is decided to its record.

use super::super::assumptions;
use super::super::build::{Notes, decimal};
use super::super::counted::counted_on;
use super::super::report::Report;
use super::binds::{Of, held_back};
use super::report::{
    AgainstReport, AutumnReport, BoxesReport, CourseReport, DrawReport, FORMAT_VERSION,
    HeadlineReport, QueensReport, SeasonReport, UnitsReport, WantReport, WeakReport,
};
use super::rounds::{later, rounds};
use super::weeks;
use crate::scenario::season::{Asked, What};
use crate::season::{Near, Planned};
use jiff::ToSpan;
use jiff::civil::Date;
use spareframe_rearing::{mated, quantile, timeline, together};
use spareframe_season::{Counted, Drawn, Met, Outlook, Round, Stocked, Want};
use spareframe_solver::Scenario;

/// Days before the winter's day by which what winters is united and fed (a choice: while there are warm days).
const BEFORE_WINTER: i64 = 42;
/// What was decided.
pub(crate) struct Found<'a> {
    pub scenario: &'a Scenario,
    pub notes: &'a Notes,
    pub asked: &'a Asked,
    pub planned: &'a Planned,
    pub outlook: &'a Outlook,
    /// So many fewer today than sums would allow.
    pub fewer: i64,
    /// Today's round.
    pub plan: Report,
    /// Other numbers today.
    pub against: Vec<(i64, Outlook)>,
    /// A season that was shared, to which it is near, and from which something differs.
    pub near: Option<&'a Near>,
    /// Other numbers of boxes: which kind, how many.
    pub boxes: Vec<(usize, u32, Outlook)>,
}

/// Builds the record.
pub(crate) fn build(found: Found) -> SeasonReport {
    let by = headline_day(&found);
    let wants = wants(&found);
    let against = found.against.iter();
    let against = against.map(|(cells, outlook)| against_one(&found, *cells, outlook, by));
    let boxes = found.boxes.iter();
    let boxes = boxes.map(|(kind, count, outlook)| boxes_of(&found, (*kind, *count), outlook, by));
    let season = &found.planned.season;
    SeasonReport {
        spareframe_season: FORMAT_VERSION,
        title: found.notes.title.clone(),
        day: day(&found, 0),
        counted_on: counted_on(found.notes),
        headline: headline(&found, &wants, by),
        near: super::near::near(&found, &wants),
        today_against_the_season: against.collect(),
        rounds: rounds(&found),
        weeks: weeks::weeks(&found),
        colonies: colonies(&found),
        queens: queens(&found),
        autumn: autumn(&found),
        boxes: boxes.collect(),
        success: decimal(season.success.into(), 100.0),
        spread: found.planned.spread,
        last_draw: season.last_draw.map(|last| day(&found, last)),
        mind: super::words::mind(),
        estimate_assumptions: assumptions(found.scenario),
        wants,
        plan: found.plan,
    }
}

pub(super) fn day(found: &Found, after: i32) -> String {
    let day = found.planned.day(after);
    day.map_or(String::new(), |day| day.to_string())
}

fn headline_day(found: &Found) -> i32 {
    last_day(found.planned)
}

/// The last day by which queens are wanted, else the day on which those of the last round may be taken.
pub(super) fn last_day(planned: &Planned) -> i32 {
    let season = &planned.season;
    let leave = season
        .wants
        .iter()
        .filter(|want| want.what != spareframe_season::What::Kept);
    let last = season.rounds.last().map_or(0, |round| round.day) + season.days.usable;
    leave.map(|want| want.by).max().unwrap_or(last)
}

fn counted_by(outlook: &Outlook, day: i32) -> Option<&Counted> {
    outlook.queens.iter().rfind(|counted| counted.day <= day)
}

fn queens_by(outlook: &Outlook, day: i32) -> i64 {
    counted_by(outlook, day).map_or(0, |counted| counted.queens)
}

/// Least and most in eight of ten seasons, of so many queens as come by a day.
fn range(found: &Found, by: i32) -> (i64, i64) {
    let (chances, sure) = queens_chances(found, by);
    let at = |share| i64::try_from(quantile(&chances, share)).unwrap_or(0) + sure;
    (at(0.1), at(0.9))
}

/// The chance, in percent, that queens come by the day of a want for it and for all before it that are due by then.
fn enough(found: &Found, at: usize) -> Option<u32> {
    let wants = &found.planned.season.wants;
    let by = wants.get(at).filter(|want| want.count.is_some())?.by;
    let due = wants.iter().take(at + 1).filter(|want| want.by <= by);
    let needed: i64 = due.filter_map(|want| want.count).map(i64::from).sum();
    let (chances, sure) = queens_chances(found, by);
    let fewer = usize::try_from(needed - sure).unwrap_or(0);
    let short: f64 = chances.iter().take(fewer).sum();
    Some(((1.0 - short) * 100.0).round().clamp(0.0, 100.0) as u32)
}

/// Chances of 0, 1, … queens by a day, and those that are mated already.
fn queens_chances(found: &Found, by: i32) -> (Vec<f64>, i64) {
    let season = &found.planned.season;
    let (mean, spread) = (f64::from(season.success) / 100.0, found.planned.spread);
    let mut chances = vec![1.0];
    let mut sure = 0;
    let mut add = |cells: i64| {
        let cells = u32::try_from(cells).unwrap_or(0);
        chances = together(&chances, &mated(cells, mean, spread));
    };
    let rounds = season.rounds.iter().zip(&found.outlook.rounds);
    let counts = |(of, _): &(&Round, &Stocked)| !of.rained_out && of.day + season.days.usable <= by;
    for (_, round) in rounds.filter(counts) {
        add(round.cells());
    }
    for ready in season.queens.iter().filter(|ready| ready.day <= by) {
        match ready.mated {
            true => sure += i64::from(ready.count),
            false => add(ready.count.into()),
        }
    }
    (chances, sure)
}

fn headline(found: &Found, wants: &[WantReport], by: i32) -> HeadlineReport {
    let plan = &found.plan.headline;
    let kinds = plan.kinds.iter();
    let next_cells: i64 = kinds.map(|kind| i64::from(kind.next_cells)).sum();
    let compartments = found.plan.compartments.iter();
    let nuclei = compartments
        .filter(|compartment| compartment.queen.is_some())
        .count();
    let whole = |want: &WantReport| want.asked.is_some_and(|asked| want.met >= i64::from(asked));
    let unmet = wants.iter().position(|want| !whole(want));
    let (queens_least, queens_most) = range(found, by);
    let season = &found.planned.season;
    let next = found.planned.rounds.get(1).copied();
    let graft = next.map(|next| timeline(&later(found, next)).grafted.to_string());
    let of = unmet.and_then(|at| wants.get(at));
    HeadlineReport {
        stock_today: plan.compartments_stocked.into(),
        next_cells_today: next_cells,
        nuclei_today: i64::try_from(nuclei).unwrap_or(0),
        fewer_by_real_frames: found.fewer,
        queens_by: day(found, by),
        queens: queens_by(found.outlook, by),
        queens_least,
        queens_most,
        first_unmet: unmet.map(|at| at + 1),
        at_most_more: of.map_or(0, |want| want.at_most - want.met),
        held_back_by: of.map_or(Vec::new(), |want| want.held_back_by.clone()),
        look_again: graft.unwrap_or_else(|| day(found, season.days.usable)),
        next_round: next.map(|next| next.to_string()),
    }
}

fn wants(found: &Found) -> Vec<WantReport> {
    let season = &found.planned.season;
    let all = season
        .wants
        .iter()
        .zip(&found.planned.wants)
        .zip(&found.outlook.wants);
    let view = |(nth, ((want, at), met)): (usize, ((&Want, &Option<usize>), &Met))| {
        let asked = at.and_then(|at| found.asked.wants.get(at));
        let what = asked.map(|asked| &asked.what);
        let name = |colony: &spareframe_solver::ColonyId| {
            let colony = found.scenario.colonies.get(colony.0);
            colony.map(|colony| colony.name.clone())
        };
        WantReport {
            what: match what {
                Some(What::Nuclei(_)) => "nuclei",
                Some(What::Requeen(_)) => "requeen",
                Some(What::Winter) => "winter",
                Some(What::Queens) | None => "queens",
            },
            colonies: match what {
                Some(What::Requeen(colonies)) => colonies.iter().filter_map(name).collect(),
                _ => Vec::new(),
            },
            box_kind: match what {
                Some(What::Nuclei(kind)) => kind_name(found, kind.0),
                _ => None,
            },
            asked: want.count,
            by: day(found, want.by),
            met: met.count,
            at_most: met.most,
            enough_queens_percent: enough(found, nth),
            held_back_by: held_back(&found.of(), met),
        }
    };
    all.enumerate().map(view).collect()
}

pub(super) fn kind_name(found: &Found, kind: usize) -> Option<String> {
    found.scenario.boxes.get(kind).map(|kind| kind.name.clone())
}

pub(super) fn kind_of(found: &Found, kind: usize) -> String {
    found.of().kind(kind)
}

impl Found<'_> {
    fn of(&self) -> Of<'_> {
        Of {
            scenario: self.scenario,
            planned: self.planned,
            outlook: self.outlook,
        }
    }
}

fn honey(found: &Found, outlook: &Outlook) -> Option<i64> {
    let crops = found
        .planned
        .season
        .colonies
        .iter()
        .any(|colony| colony.crop.is_some());
    crops.then_some(outlook.honey)
}

fn against_one(found: &Found, cells: i64, outlook: &Outlook, by: i32) -> AgainstReport {
    let season = &found.planned.season;
    let today = |outlook: &Outlook| outlook.rounds.first().map(Stocked::cells);
    let below = season.winter.map(|winter| {
        let weak = |course: &&spareframe_season::Course| {
            course.winter.is_some_and(|(bees, _)| bees < winter.bees)
        };
        outlook.colonies.iter().filter(weak).count()
    });
    AgainstReport {
        cells_today: cells,
        planned: today(found.outlook) == Some(cells),
        met: outlook.wants.iter().map(|met| met.count).collect(),
        queens: queens_by(outlook, by),
        cells: outlook.rounds.iter().map(Stocked::cells).sum(),
        honey_given_up_g: honey(found, outlook),
        cost_g: outlook.cost,
        least_cost_g: outlook.least_cost,
        colonies_below_winter: below,
    }
}

fn boxes_of(found: &Found, (kind, boxes): (usize, u32), outlook: &Outlook, by: i32) -> BoxesReport {
    let wants = found.planned.season.wants.iter().zip(&outlook.wants);
    let unmet = |(want, met): &(&spareframe_season::Want, &Met)| {
        want.count.is_none_or(|count| met.count < i64::from(count))
    };
    let mut unmet = wants.filter(unmet);
    BoxesReport {
        box_kind: kind_name(found, kind).unwrap_or_default(),
        boxes,
        met: outlook.wants.iter().map(|met| met.count).collect(),
        queens: queens_by(outlook, by),
        at_most_more: unmet.next().map_or(0, |(_, met)| met.most - met.count),
        honey_given_up_g: honey(found, outlook),
    }
}

fn colonies(found: &Found) -> Vec<CourseReport> {
    let season = &found.planned.season;
    let all = season.colonies.iter().zip(&found.outlook.colonies);
    all.map(|(colony, course)| {
        let cells = found
            .scenario
            .combs
            .get(colony.comb)
            .map_or(1, |comb| comb.cells);
        let frames = |brood: f64| {
            let tenths = brood * 10.0 / cells.max(1) as f64;
            (tenths + 0.5).floor() / 10.0
        };
        let by_week = |draws: &[Drawn]| weeks::brood(found, colony, draws).map(frames).collect();
        let whole = |bees: f64| (bees + 0.5).floor() as i64;
        let rounds = (0..season.rounds.len()).filter_map(|at| {
            let (drawn, before) = (course.draws.get(at)?, course.before.get(at)?);
            let (undrawn, back) = (course.undrawn.get(at)?, course.recovery.get(at)?);
            Some(DrawReport {
                day: day(found, season.rounds.get(at)?.day),
                brood_combs: drawn.frames,
                brood_combs_before: combs(before.brood, colony.frame_cells).max(drawn.frames),
                bees_given: whole(drawn.bees),
                bees: whole(before.bees),
                brood_frames: frames(before.brood),
                brood_frames_given: frames(drawn.open + drawn.sealed),
                bees_undrawn: whole(undrawn.bees),
                brood_frames_undrawn: frames(undrawn.brood),
                brood_back_days: back.and_then(|(days, _)| days),
                brood_back_days_with_fewer_losses: back.and_then(|(_, days)| days),
            })
        });
        CourseReport {
            colony: colony.name.clone(),
            keeps_brood_frames: frames(if colony.apart { 0.0 } else { colony.keep.brood }),
            rounds: rounds.collect(),
            brood_frames_by_week: by_week(&course.draws),
            brood_frames_by_week_undrawn: by_week(&[]),
            honey_given_up_g: colony.crop.map(|_| course.honey),
            winter_bees: course.winter.map(|(bees, _)| whole(bees)),
            winter_bees_undrawn: course.winter.map(|(_, bees)| whole(bees)),
        }
    })
    .collect()
}

/// Brood as combs of so many cells.
fn combs(brood: f64, cells: f64) -> u32 {
    match cells > 0.0 {
        true => (brood / cells + 0.5).floor() as u32,
        false => 0,
    }
}

fn queens(found: &Found) -> Vec<QueensReport> {
    let all = found.outlook.queens.iter();
    all.map(|counted| {
        let (queens_least, queens_most) = range(found, counted.day);
        QueensReport {
            day: day(found, counted.day),
            cells: counted.through,
            queens: counted.queens,
            queens_least,
            queens_most,
            used: counted.used,
        }
    })
    .collect()
}

fn autumn(found: &Found) -> Option<AutumnReport> {
    let season = &found.planned.season;
    let winter = season.winter?;
    let on: Date = found.planned.day(winter.on)?;
    let rounds = found.planned.rounds.iter().zip(&found.outlook.rounds);
    let units = rounds.flat_map(|(date, stocked)| {
        let kept = stocked.kept.iter().enumerate();
        let kept = kept.filter(|(_, (units, _))| *units > 0);
        kept.map(|(kind, (units, each))| UnitsReport {
            box_kind: kind_of(found, kind),
            round: date.to_string(),
            units: *units,
            compartments_each: *each,
        })
        .collect::<Vec<_>>()
    });
    let colonies = season.colonies.iter().zip(&found.outlook.colonies);
    let weak = colonies.filter_map(|(colony, course)| {
        let (bees, undrawn) = course.winter.filter(|(bees, _)| *bees < winter.bees)?;
        Some(WeakReport {
            colony: colony.name.clone(),
            bees: bees as i64,
            lacks: (winter.bees - bees).ceil() as i64,
            anyway: undrawn < winter.bees,
        })
    });
    Some(AutumnReport {
        on: on.to_string(),
        unite_by: on.saturating_sub(BEFORE_WINTER.days()).to_string(),
        bees: winter.bees as i64,
        food_kg: winter.food / 1000.0,
        units: units.collect(),
        weak: weak.collect(),
    })
}
