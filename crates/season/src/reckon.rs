//! From a solution to the outlook of a season.

use std::collections::BTreeSet;

use super::master::{Figure, Master, Solution};
use super::outlook::{Binds, Counted, Course, Met, Outlook, Stocked};
use super::plan::Found;
use super::season::{Season, Told, What};
use super::walk::{Walk, horizon};

pub(crate) fn outlook(season: &Season, found: &Found) -> Outlook {
    let (master, solution) = (&found.master, &found.solution);
    let value = |figure| master.value(solution, figure);
    let mut rounds: Vec<Stocked> = Vec::new();
    for (round, of) in season.rounds.iter().enumerate() {
        let kinds = 0..season.kinds.len();
        let kept = kinds.clone().map(|kind| {
            let wants = 0..season.wants.len();
            let units: i64 = wants
                .map(|want| value(Figure::Kept(want, kind, round)))
                .sum();
            let of = super::compartment::united(season, &season.kinds[kind], round);
            (units, of.unwrap_or(0))
        });
        rounds.push(Stocked {
            day: of.day,
            new: kinds
                .clone()
                .map(|kind| value(Figure::New(kind, round)))
                .collect(),
            next: kinds
                .clone()
                .map(|kind| value(Figure::Next(kind, round)))
                .collect(),
            nuclei: (0..season.wants.len())
                .map(|want| value(Figure::Nuclei(want, round)))
                .collect(),
            kept: kept.collect(),
            needed: [0; 3],
            given: [0; 3],
        });
    }
    sums(season, master, solution, &mut rounds);
    let colonies = season
        .colonies
        .iter()
        .zip(&master.givers)
        .zip(&solution.colonies);
    let colonies = colonies.map(|((colony, giver), &at)| {
        let levels: Vec<_> = giver.columns[at]
            .levels
            .iter()
            .map(|&level| (level, giver.levels[level]))
            .collect();
        course(season, colony, &levels, giver.columns[at].honey)
    });
    let colonies: Vec<Course> = colonies.collect();
    let wants = found.wants.iter().enumerate().map(|(want, (most, binds))| {
        let count = value(Figure::Want(want));
        let whole = season.wants[want]
            .count
            .is_some_and(|wanted| count >= i64::from(wanted));
        let hives = match season.wants[want].what {
            What::Nuclei { hives, .. } => count >= i64::from(hives),
            _ => false,
        };
        Met {
            count,
            most: *most,
            binds: match (whole, hives) {
                (true, _) => Vec::new(),
                (false, true) => vec![Binds::Hives],
                (false, false) => binds.clone(),
            },
        }
    });
    let wants: Vec<Met> = wants.collect();
    let queens = queens(season, &rounds, &wants);
    Outlook {
        otherwise: 0,
        honey: colonies.iter().map(|course| course.honey).sum(),
        rounds,
        colonies,
        wants,
        queens,
        cost: master.recount(solution).0,
        least_cost: found.least_cost,
    }
}

/// Compartments and brood frames of a season that are otherwise than people were told.
#[must_use]
pub fn otherwise(told: &Told, outlook: &Outlook) -> i64 {
    let stocked = told.stocked.iter();
    let stocked = stocked.map(|told| {
        let of = &outlook.rounds[told.round];
        (of.counts(&told.of) - told.then).abs()
    });
    let courses = told.given.iter().zip(&outlook.colonies);
    let given = courses.flat_map(|(told, course)| {
        let each = told.iter().zip(&course.draws);
        each.filter_map(|(then, draw)| Some((draw.counts() - (*then)?).abs()))
    });
    stocked.chain(given).sum()
}

/// What goes in, and what is given for it.
fn sums(season: &Season, master: &Master, solution: &Solution, rounds: &mut [Stocked]) {
    for (round, of) in rounds.iter_mut().enumerate() {
        let mut add = |need: super::Need, count: i64| {
            let loose = if need.loose { need.bees } else { 0 };
            for (sum, each) in of.needed.iter_mut().zip([need.brood, need.bees, loose]) {
                *sum += each * count;
            }
        };
        for (at, kind) in season.kinds.iter().enumerate() {
            add(kind.need, of.new[at]);
            add(master.lacks[at][round].unwrap_or_default(), of.next[at]);
        }
        for (want, &count) in season.wants.iter().zip(&of.nuclei) {
            if let What::Nuclei { need, .. } = &want.what {
                add(*need, count);
            }
        }
        for (giver, &at) in master.givers.iter().zip(&solution.colonies) {
            let given = of.given.iter_mut().zip(giver.columns[at].gives[round]);
            given.for_each(|(sum, gives)| *sum += gives);
        }
    }
}

/// A colony through the season.
fn course(
    season: &Season,
    colony: &super::Colony,
    levels: &[(usize, super::walk::Level)],
    honey: i64,
) -> Course {
    let (mut with, mut without) = (Walk::new(season, colony), Walk::new(season, colony));
    let mut course = Course {
        draws: Vec::new(),
        before: Vec::new(),
        undrawn: Vec::new(),
        recovery: Vec::new(),
        honey,
        winter: None,
    };
    for (round, (of, &(at, level))) in season.rounds.iter().zip(levels).enumerate() {
        let _ = with.until(of.day);
        let _ = without.until(of.day);
        course.before.push(with.strength());
        course.undrawn.push(without.strength());
        let drawn = with.draw(round, at, level).unwrap_or_default();
        let recovery = (drawn.frames > 0).then(|| {
            let beside = super::Setting {
                mortality: super::MORTALITY_BESIDE,
                ..season.setting
            };
            [&season.setting, &beside].map(|setting| back(season, &with, &without, setting))
        });
        let recovery = recovery.map(|[usual, beside]| (usual, beside));
        course.recovery.push(recovery);
        course.draws.push(drawn);
    }
    let last = horizon(season);
    let _ = with.until(last);
    let _ = without.until(last);
    course.winter = season.winter.map(|_| (with.winter, without.winter));
    course
}

/// What a colony must have of the brood that it would have had, to have it back (a choice).
const BACK: f64 = 0.95;

/// Days until a colony has its brood back.
fn back(season: &Season, with: &Walk, without: &Walk, setting: &super::Setting) -> Option<i32> {
    let (mut with, mut without) = (with.model, without.model);
    let days = horizon(season) - with.day();
    for day in 0..=days.max(0) {
        if with.brood() >= BACK * without.brood() {
            return Some(day);
        }
        with.step(setting);
        without.step(setting);
    }
    None
}

/// Queens by day.
fn queens(season: &Season, rounds: &[Stocked], wants: &[Met]) -> Vec<Counted> {
    let usable = |round: &Stocked| round.day + season.days.usable;
    let mut days: BTreeSet<i32> = rounds.iter().map(usable).collect();
    days.extend(season.wants.iter().map(|want| want.by));
    days.extend(season.queens.iter().map(|ready| ready.day.max(0)));
    let counted = |day: i32| {
        // Of mated queens in hundredths.
        let (mut through, mut unsure, mut sure) = (0, 0, 0);
        for (at, round) in rounds
            .iter()
            .enumerate()
            .filter(|(_, round)| usable(round) <= day)
        {
            through += round.cells();
            unsure += round.cells() * season.success_of(at);
        }
        for ready in season.queens.iter().filter(|ready| ready.day <= day) {
            let count = i64::from(ready.count);
            match ready.mated {
                true => sure += count,
                false => {
                    through += count;
                    unsure += count * i64::from(season.success);
                }
            }
        }
        let mut used = 0;
        for (at, (want, met)) in season.wants.iter().zip(wants).enumerate() {
            used += match want.what {
                What::Nuclei { .. } => {
                    let by = rounds.iter().filter(|round| round.day <= day);
                    by.map(|round| round.nuclei[at]).sum()
                }
                What::Queens if want.by <= day => met.count,
                What::Kept if day >= horizon(season) => met.count,
                _ => 0,
            };
        }
        Counted {
            day,
            through,
            queens: sure + unsure.div_euclid(100),
            used,
        }
    };
    days.into_iter().map(counted).collect()
}
