//! Where a node is divided.

use std::rc::Rc;

use spareframe_engine::{Branching, Candidate, Column, SHIFT, next_below};

use super::{Figure, Goal, Master, QUEEN, Solution, Tag, reduced};
use spareframe_engine::Objective;

/// A restriction of one set.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Split {
    set: usize,
    what: What,
    from: i64,
    to: i64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum What {
    /// The number itself.
    Level,
    /// Brood frames in a round.
    Frames(usize),
    /// The level of a round.
    LevelOf(usize),
    /// The position of the trajectory.
    Position,
}

/// What a node leaves of a set.
#[derive(Clone)]
pub(crate) enum Domain {
    Giver(Rc<Vec<u32>>),
    Whole(i64, i64),
}

type Weighted<'t> = [Vec<(f64, &'t Tag)>];

/// Weights nearer to whole numbers than this are whole.
const WHOLE: f64 = 1e-4;

impl Master {
    fn attribute(&self, set: usize, what: What, tag: Tag) -> i64 {
        let Some(giver) = self.givers.get(set) else {
            return tag;
        };
        let column = &giver.columns[tag as usize];
        match what {
            What::Frames(round) => i64::from(giver.levels[column.levels[round]].frames),
            What::LevelOf(round) => column.levels[round] as i64,
            What::Position | What::Level => tag,
        }
    }

    /// The heaviest trajectory of each colony, and numbers as near as may be.
    pub(super) fn nearest(&self, weighted: &Weighted) -> Solution {
        let heaviest = |of: &Vec<(f64, &Tag)>| {
            let best = of.iter().max_by(|a, b| a.0.total_cmp(&b.0));
            best.map_or(0, |(_, tag)| **tag)
        };
        let colonies = weighted[..self.givers.len()]
            .iter()
            .map(|of| heaviest(of) as usize);
        let colonies: Vec<usize> = colonies.collect();
        let mut given: Vec<i64> = self.rows.iter().map(|row| -row.rhs).collect();
        for (giver, &at) in self.givers.iter().zip(&colonies) {
            for &(row, by) in &giver.entries[at] {
                given[row] += by;
            }
        }
        let wholes = self.wholes.iter().zip(&weighted[self.givers.len()..]);
        let wholes = wholes.map(|(whole, of)| match whole.figure {
            Figure::Frames(..) => self.frames(whole, &given),
            _ => average(of).round() as i64,
        });
        Solution {
            wholes: wholes.collect(),
            colonies,
        }
    }

    /// What a number is on average, where it is to be made whole: of frames, those that are given, where no whole number of
    /// them is given and enough.
    pub(super) fn doubtful(&self, at: usize, weighted: &Weighted) -> Option<f64> {
        let givers = self.givers.len();
        let whole = &self.wholes[at];
        // What floats alone make of a number that a node leaves no choice divides nothing.
        let parted = |mean: &f64| {
            let low = mean.floor() as i64;
            (whole.from..whole.to).contains(&low)
        };
        if !matches!(whole.figure, Figure::Frames(..)) {
            let mean = average(&weighted[givers + at]);
            let far = (mean - mean.round()).abs() > WHOLE;
            return far.then_some(mean).filter(parted);
        }
        let [asked, given] = [true, false].map(|asks| {
            let row = whole.entries.iter().find(|of| (of.1 > 0) == asks);
            row.map_or((0, 1), |&(row, by)| (row, by.abs()))
        });
        let of_row = |entries: &[(usize, i64)], of: usize| -> f64 {
            let own = entries.iter().filter(|(row, _)| *row == of);
            own.map(|(_, by)| *by as f64).sum()
        };
        let gives = self.givers.iter().zip(weighted).flat_map(|(giver, of)| {
            let columns = of.iter();
            columns.map(|(weight, tag)| weight * of_row(&giver.entries[**tag as usize], given.0))
        });
        let gives = gives.sum::<f64>() / given.1 as f64;
        let others = self.wholes.iter().zip(&weighted[givers..]).enumerate();
        let asks = others.filter(|(other, _)| *other != at);
        let asks = asks.map(|(_, (other, of))| -average(of) * of_row(&other.entries, asked.0));
        let asks = asks.sum::<f64>() / asked.1 as f64;
        let doubt = (gives + WHOLE).floor() < asks - WHOLE;
        doubt.then_some(gives).filter(parted)
    }

    /// Where a number may be divided.
    fn divided(&self, at: usize, weighted: &Weighted) -> Option<Candidate<Split>> {
        let mean = self.doubtful(at, weighted)?;
        Some(parted_at((self.givers.len() + at, 0), What::Level, mean))
    }

    /// Where a colony's weights lie on different trajectories.
    fn doubts(&self, set: usize, weighted: &[(f64, &Tag)]) -> Vec<Candidate<Split>> {
        let rounds = self.givers[set]
            .columns
            .first()
            .map_or(0, |column| column.levels.len());
        let tries = [
            (0..rounds).map(What::Frames).collect::<Vec<_>>(),
            (0..rounds).map(What::LevelOf).collect(),
            vec![What::Position],
        ];
        for whats in tries {
            let found: Vec<_> = whats
                .into_iter()
                .filter_map(|what| self.doubt(set, what, weighted))
                .collect();
            if !found.is_empty() {
                return found;
            }
        }
        Vec::new()
    }

    fn doubt(&self, set: usize, what: What, weighted: &[(f64, &Tag)]) -> Option<Candidate<Split>> {
        let values = weighted
            .iter()
            .map(|&(weight, tag)| (weight, self.attribute(set, what, *tag)));
        let values: Vec<(f64, i64)> = values.collect();
        let least = values.iter().map(|of| of.1).min()?;
        let most = values.iter().map(|of| of.1).max()?;
        let total: f64 = values.iter().map(|of| of.0).sum();
        let mean = values.iter().map(|of| of.0 * of.1 as f64).sum::<f64>() / total.max(0.5);
        if least == most {
            return None;
        }
        let far = (mean - mean.round()).abs();
        // Mixed, and yet whole on average: divided above the least, so that neither part has all of them.
        let mean = if far <= WHOLE {
            least as f64 + 0.5
        } else {
            mean
        };
        let number = match what {
            What::Level => 0,
            What::Position => 1,
            What::Frames(round) => 2 + 2 * round,
            What::LevelOf(round) => 3 + 2 * round,
        };
        Some(parted_at((set, number), what, mean))
    }
}

/// Both sides of a mean, the nearer first; of a set so many ways to divide it are told apart by number.
fn parted_at((set, number): (usize, usize), what: What, mean: f64) -> Candidate<Split> {
    let low = mean.floor() as i64;
    let up = mean - low as f64;
    let split = |from, to| Split {
        set,
        what,
        from,
        to,
    };
    let mut parts = [split(i64::MIN, low), split(low + 1, i64::MAX)];
    let mut away = [up, 1.0 - up];
    if up > 0.5 {
        parts.swap(0, 1);
        away.swap(0, 1);
    }
    Candidate {
        key: (set, 2 * number + usize::from(up > 0.5)),
        parts,
        away: away.map(|by| by.max(WHOLE)),
    }
}

pub(super) fn average(of: &[(f64, &Tag)]) -> f64 {
    let total: f64 = of.iter().map(|of| of.0).sum();
    of.iter()
        .map(|&(weight, tag)| weight * *tag as f64)
        .sum::<f64>()
        / total.max(0.5)
}

impl Branching for Master {
    type Split = Split;
    type Domains = Vec<Domain>;
    type Saved = ();
    type Leaf = Solution;

    fn domains(&self) -> Vec<Domain> {
        let givers = self
            .givers
            .iter()
            .map(|giver| Domain::Giver(giver.left.clone()));
        let wholes = self
            .wholes
            .iter()
            .map(|whole| Domain::Whole(whole.from, whole.to));
        givers.chain(wholes).collect()
    }

    fn enter(&mut self, domains: &Vec<Domain>, split: Option<&Split>) {
        let givers = self.givers.len();
        for (set, domain) in domains.iter().enumerate() {
            match domain {
                Domain::Giver(left) => self.givers[set].left = left.clone(),
                Domain::Whole(from, to) => {
                    let whole = &mut self.wholes[set - givers];
                    (whole.from, whole.to) = (*from, *to);
                }
            }
        }
        let Some(split) = split else { return };
        if split.set < givers {
            let within = |&&at: &&u32| {
                let value = self.attribute(split.set, split.what, i64::from(at));
                split.from <= value && value <= split.to
            };
            let left = self.givers[split.set].left.iter().filter(within).copied();
            self.givers[split.set].left = Rc::new(left.collect());
        } else {
            let whole = &mut self.wholes[split.set - givers];
            whole.from = whole.from.max(split.from);
            whole.to = whole.to.min(split.to);
        }
    }

    fn candidates(&self, weighted: &Weighted) -> Vec<Candidate<Split>> {
        let givers = self.givers.len();
        let numbers = 0..self.wholes.len();
        let numbers = numbers.filter_map(|at| self.divided(at, weighted));
        let mut found: Vec<Candidate<Split>> = numbers.collect();
        if found.is_empty() {
            found = (0..givers)
                .flat_map(|set| self.doubts(set, &weighted[set]))
                .collect();
        }
        let doubt = |of: &Candidate<Split>| of.away[0].min(of.away[1]);
        found.sort_by(|a, b| doubt(b).total_cmp(&doubt(a)));
        found
    }

    fn leaf(&mut self, weighted: &Weighted) -> Option<(i64, Solution)> {
        let solution = self.nearest(weighted);
        let (cost, kept) = self.recount(&solution);
        kept.then_some((cost, solution))
    }

    fn round(&mut self, weighted: &Weighted) -> Option<(i64, Solution)> {
        let solution = self.rounded(weighted)?;
        let (cost, kept) = self.recount(&solution);
        kept.then_some((cost, solution))
    }

    fn fix_by_reduced_cost(&mut self, prices: &[i64], bound: i128, best: i64) {
        let gap = (i128::from(next_below(best, self.step())) << SHIFT) - bound;
        for set in 0..self.givers.len() {
            let giver = &self.givers[set];
            let value = |&at: &u32| {
                let cost = self.giver_cost(giver, at as usize, Objective::Cost);
                reduced(cost, &giver.entries[at as usize], prices)
            };
            let values: Vec<i128> = giver.left.iter().map(value).collect();
            let Some(least) = values.iter().min().copied() else {
                continue;
            };
            if values.iter().all(|value| value - least <= gap) {
                continue;
            }
            let near = giver
                .left
                .iter()
                .zip(&values)
                .filter(|(_, value)| **value - least <= gap);
            self.givers[set].left = Rc::new(near.map(|(at, _)| *at).collect());
        }
        for at in 0..self.wholes.len() {
            let whole = &self.wholes[at];
            let each = reduced(self.price_of(whole), &whole.entries, prices);
            if each == 0 || gap < 0 {
                continue;
            }
            let steps = i64::try_from(gap / each.abs()).unwrap_or(i64::MAX);
            let whole = &mut self.wholes[at];
            if each > 0 {
                whole.to = whole.to.min(whole.from.saturating_add(steps));
            } else {
                whole.from = whole.from.max(whole.to.saturating_sub(steps));
            }
        }
    }

    fn improved(&mut self, _: &[i64], _: i128, _: i64) {}

    fn shrink(&mut self, _: &dyn Fn() -> Vec<Column<Tag>>) -> Option<()> {
        None
    }

    fn restore(&mut self, (): ()) {}

    fn step(&self) -> i64 {
        match self.goal {
            Goal::Want(_) => QUEEN,
            Goal::Cost => 1,
        }
    }

    fn tell(&self, _: i64) {}
}
