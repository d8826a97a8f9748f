//! The lane of a colony: its brood with and without what it gives, draws on their days, and until when it recovers.

use super::super::report::{CourseReport, DrawReport, SeasonReport};
use super::Axis;
use crate::output::words::clean;

/// A colony over the season.
#[derive(Debug)]
pub(in super::super::super) struct ColonyLane {
    pub name: String,
    /// Brood in full frames, by place on the axis; two figures where some leaves.
    pub brood: Vec<(f64, f64)>,
    /// The same had it never given, from its first draw on.
    pub undrawn: Vec<(f64, f64)>,
    /// What it keeps at each draw.
    pub keeps: Option<f64>,
    pub gives: Vec<Gives>,
    /// From a draw until its brood is back: at the earliest, and at the latest; `None`: not while anything is counted.
    pub recovers: Vec<(f64, Option<f64>, Option<f64>)>,
}

/// What a colony gives in a round.
#[derive(Debug)]
pub(in super::super::super) struct Gives {
    pub at: f64,
    /// Brood combs; 0: bees alone.
    pub combs: u32,
    pub outlook: bool,
}

impl ColonyLane {
    pub(super) fn of(report: &SeasonReport, course: &CourseReport, axis: &Axis) -> Self {
        let rounds = course.rounds.iter();
        let rounds = rounds.filter_map(|round| Some((axis.at(&round.day)?, round)));
        let rounds: Vec<(f64, &DrawReport)> = rounds.collect();
        let drawn = rounds
            .iter()
            .filter(|(_, round)| round.brood_combs > 0 || round.bees_given > 0);
        let gives = drawn.map(|(at, round)| Gives {
            at: *at,
            combs: round.brood_combs,
            outlook: *at > axis.today,
        });
        let gives: Vec<Gives> = gives.collect();
        let by_week = |brood: &[f64]| -> Vec<(f64, f64)> {
            let weeks = report.weeks.iter().zip(brood);
            let weeks = weeks.filter_map(|(day, brood)| Some((axis.at(day)?, *brood)));
            weeks.collect()
        };
        let is_round = |(at, _): &(f64, f64)| rounds.iter().any(|(day, _)| (day - at).abs() < 0.5);
        let mut brood = by_week(&course.brood_frames_by_week);
        brood.retain(|point| !is_round(point));
        let mut undrawn = by_week(&course.brood_frames_by_week_undrawn);
        undrawn.retain(|point| !is_round(point));
        for (at, round) in &rounds {
            brood.push((*at, round.brood_frames));
            if round.brood_frames_given > 0.0 {
                let left = (round.brood_frames - round.brood_frames_given).max(0.0);
                brood.push((*at, left));
            }
            undrawn.push((*at, round.brood_frames_undrawn));
        }
        brood.sort_by(|a, b| a.0.total_cmp(&b.0));
        undrawn.sort_by(|a, b| a.0.total_cmp(&b.0));
        let first = gives.first().map_or(0.0, |gives| gives.at);
        undrawn.retain(|(at, _)| *at >= first);
        Self {
            name: clean(&course.colony),
            brood,
            undrawn,
            keeps: Some(course.keeps_brood_frames).filter(|keeps| *keeps > 0.0),
            recovers: recovers(&rounds),
            gives,
        }
    }

    /// Most brood of it.
    pub(super) fn most(&self) -> f64 {
        let all = self.brood.iter().chain(&self.undrawn);
        all.map(|(_, brood)| *brood).fold(0.0, f64::max)
    }
}

/// From each draw of brood until it is back, or until more is taken.
fn recovers(rounds: &[(f64, &DrawReport)]) -> Vec<(f64, Option<f64>, Option<f64>)> {
    let drawn = rounds.iter().filter(|(_, round)| round.brood_combs > 0);
    let drawn: Vec<&(f64, &DrawReport)> = drawn.collect();
    let one = |(nth, (at, round)): (usize, &&(f64, &DrawReport))| {
        let until = drawn.get(nth + 1).map(|(next, _)| *next);
        let ends = [
            round.brood_back_days,
            round.brood_back_days_with_fewer_losses,
        ];
        let ends = ends.map(|days| days.map(|days| at + f64::from(days)));
        let sooner = match ends {
            [Some(a), Some(b)] => Some(a.min(b)),
            [a, b] => a.or(b),
        };
        let later = match ends {
            [Some(a), Some(b)] => Some(a.max(b)),
            _ => None,
        };
        let cut = |end: Option<f64>| match (end, until) {
            (Some(end), Some(until)) => Some(end.min(until)),
            (end, until) => end.or(until),
        };
        (*at, cut(sooner), cut(later))
    };
    drawn.iter().enumerate().map(one).collect()
}
