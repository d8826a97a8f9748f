//! Where a node is divided, and the domains that its parts leave.

use std::rc::Rc;

use super::super::columns::{Choices, Draw};
use super::super::engine::{Branching, Candidate, Column, SHIFT, next_below};
use super::super::instance::divisor;
use super::core::Saved;
use super::leaf::Solution;
use super::{Levels, Master, Set, Tag};
use crate::units::{Grams, Worth};

/// A restriction of one set.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Split {
    set: usize,
    what: What,
    from: i64,
    to: i64,
}

/// What a node leaves of the choices of a set.
pub(crate) enum Domain {
    Colony(Rc<Choices>),
    /// The least and the greatest level.
    Levels(i64, i64),
    Pool,
}

/// What is restricted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum What {
    Level,
    /// Closed is 0, opened 1.
    Opened,
    Frames(usize),
    Share,
}

type Weighted<'t> = [Vec<(f64, &'t Tag)>];

/// A place to divide at: how far the weights are from whole, and what they come to on average.
struct Doubt {
    set: usize,
    what: What,
    average: f64,
    doubt: f64,
}

/// With fewer sets than this, none is left out below a node (a choice).
const SMALL: usize = 40;

/// Weights nearer to whole numbers than this are whole.
const WHOLE: f64 = 1e-4;

impl Branching for Master<'_> {
    type Split = Split;
    type Domains = Vec<Domain>;
    type Saved = Saved;
    type Leaf = Solution;

    fn domains(&self) -> Vec<Domain> {
        let of_set = |set: &Set| match set {
            Set::Colony(columns) => Domain::Colony(columns.choices.clone()),
            Set::Levels(levels) => Domain::Levels(levels.from, levels.to),
            Set::Pool(_) => Domain::Pool,
        };
        (0..self.active.len())
            .map(|at| of_set(self.set(at)))
            .collect()
    }

    fn enter(&mut self, domains: &Vec<Domain>, split: Option<&Split>) {
        for (&set, domain) in self.active.iter().zip(domains) {
            match (&mut self.sets[set], domain) {
                (Set::Colony(columns), Domain::Colony(choices)) => {
                    columns.choices = choices.clone()
                }
                (Set::Levels(levels), Domain::Levels(from, to)) => {
                    (levels.from, levels.to) = (*from, *to);
                }
                _ => {}
            }
        }
        let Some(split) = split else { return };
        match &mut self.sets[self.active[split.set]] {
            Set::Colony(columns) => restrict_colony(columns, split),
            Set::Levels(levels) => {
                levels.from = levels.from.max(split.from);
                levels.to = levels.to.min(split.to);
            }
            Set::Pool(_) => {}
        }
    }

    fn candidates(&self, weighted: &Weighted) -> Vec<Candidate<Split>> {
        let kinds = self.kinds..self.kinds + self.instance.kinds.len();
        let (of_kinds, others): (Vec<usize>, Vec<usize>) =
            (0..self.active.len()).partition(|&at| kinds.contains(&self.active[at]));
        let level = |&at: &usize| self.level(at, &weighted[at]);
        let mut found: Vec<Doubt> = of_kinds.iter().filter_map(level).collect();
        if found.is_empty() {
            let colonies = others.iter().filter(|&&at| self.active[at] < self.kinds);
            found.extend(colonies.flat_map(|&at| colony(at, &weighted[at])));
            found.extend(others.iter().filter_map(level));
        }
        found.sort_by(|a, b| b.doubt.total_cmp(&a.doubt));
        found.iter().map(|doubt| self.parts(doubt)).collect()
    }

    fn leaf(&mut self, weighted: &Weighted) -> Option<(i64, Solution)> {
        self.whole(weighted)
    }

    fn fix_by_reduced_cost(&mut self, prices: &[i64], bound: i128, best: i64) {
        let gap = (i128::from(next_below(best, self.step)) << SHIFT) - bound;
        for &set in &self.active {
            match &mut self.sets[set] {
                Set::Colony(columns) => columns.fix_by_reduced_cost(prices, gap),
                set => set.fix_levels(prices, gap),
            }
        }
    }

    fn improved(&mut self, prices: &[i64], bound: i128, best: i64) {
        let gap = (i128::from(next_below(best, self.step)) << SHIFT) - bound;
        // Of a part alone, what is listed would be missing elsewhere.
        let whole = self.frozen.is_empty();
        for &set in self.active.iter().filter(|_| whole) {
            if let Set::Colony(columns) = &mut self.sets[set] {
                columns.list_within(prices, gap);
            }
        }
        self.fix_by_reduced_cost(prices, bound, best);
        let shelf = self.instance.prices.substitute.0;
        let step = self
            .colonies()
            .fold(shelf, |step, columns| divisor(step, columns.step()));
        self.step = step.max(1);
    }

    fn shrink(&mut self, columns: &dyn Fn() -> Vec<Column<Tag>>) -> Option<Saved> {
        let closed: Vec<bool> = (0..self.active.len())
            .map(|at| self.stays_closed(at))
            .collect();
        if closed.len() < SMALL
            || 2 * closed.iter().filter(|closed| **closed).count() < closed.len()
        {
            return None;
        }
        Some(self.freeze(columns(), &|at| !closed[at]))
    }

    fn restore(&mut self, saved: Saved) {
        self.thaw(saved);
    }

    fn step(&self) -> i64 {
        self.step
    }

    fn tell(&self, bound: i64) {
        let prices = &self.instance.prices;
        let asked = Worth(self.rows[self.worth_row].rhs * self.unit);
        let least = bound
            .saturating_add(self.instance.base.total(prices).0)
            .max(0);
        self.clock.tell(|now| {
            if let Some(best) = &self.aside {
                now.best = Some((Worth(best.worth), best.cost.total(prices)));
            }
            // A bound of a part, or of less worth, is none of the whole.
            if self.frozen.is_empty() && now.most == Some(asked) {
                now.least = now.least.max(Some(Grams(least)));
            }
        });
    }

    fn round(&mut self, weighted: &Weighted) -> Option<(i64, Solution)> {
        self.rounded(weighted)
    }
}

fn restrict_colony(columns: &mut super::Columns, split: &Split) {
    let mut choices = (*columns.choices).clone();
    choices.all = false;
    let (from, to) = (split.from.max(0), split.to.max(-1));
    match split.what {
        What::Opened => {
            choices.closed &= split.from <= 0;
            choices.opened &= split.to >= 1;
        }
        What::Frames(slot) => {
            let of_slot = &mut choices.frames[slot];
            of_slot.0 = of_slot.0.max(u32::try_from(from).unwrap_or(u32::MAX));
            of_slot.1 =
                of_slot
                    .1
                    .min(u32::try_from(to).unwrap_or(if to < 0 { 0 } else { u32::MAX }));
            choices.closed &= split.from <= 0;
        }
        What::Share => {
            let share = &mut choices.share;
            share.0 = share.0.max(usize::try_from(from).unwrap_or(0));
            share.1 = share.1.min(usize::try_from(to).unwrap_or(0));
            choices.closed &= split.from <= 0;
        }
        What::Level => {}
    }
    columns.restrict(choices);
}

impl Master<'_> {
    fn level(&self, set: usize, weighted: &[(f64, &Tag)]) -> Option<Doubt> {
        let Set::Levels(levels) = self.set(set) else {
            return None;
        };
        let of = |&(weight, tag): &(f64, &Tag)| match tag {
            Tag::Level(level) => weight * *level as f64,
            _ => 0.0,
        };
        let total: f64 = weighted.iter().map(|(weight, _)| weight).sum();
        let average = weighted.iter().map(of).sum::<f64>() / total.max(0.5);
        let steps = (average - levels.least as f64) / levels.step as f64;
        let doubt = (steps - steps.round()).abs();
        (doubt > WHOLE).then_some(Doubt {
            set,
            what: What::Level,
            average,
            doubt,
        })
    }

    /// The two parts, the nearer to the weights first.
    fn parts(&self, found: &Doubt) -> Candidate<Split> {
        let (low, high) = match self.set(found.set) {
            Set::Levels(Levels { least, step, .. }) => {
                let steps = ((found.average - *least as f64) / *step as f64).floor() as i64;
                (least + step * steps, least + step * (steps + 1))
            }
            _ => {
                let low = found.average.floor() as i64;
                (low, low + 1)
            }
        };
        let split = |from, to| Split {
            set: found.set,
            what: found.what,
            from,
            to,
        };
        let up = (found.average - low as f64) / (high - low) as f64;
        let (mut parts, mut away) = (
            [split(i64::MIN, low), split(high, i64::MAX)],
            [up, 1.0 - up],
        );
        if up > 0.5 {
            parts.swap(0, 1);
            away.swap(0, 1);
        }
        let what = match found.what {
            What::Level => 0,
            What::Opened => 1,
            What::Share => 2,
            What::Frames(slot) => 3 + slot,
        };
        Candidate {
            key: (found.set, 2 * what + usize::from(up > 0.5)),
            parts,
            away: away.map(|by| by.max(WHOLE)),
        }
    }
}

/// Where a colony's weights lie on different columns: the attributes in doubt; its share only where no
/// other is.
fn colony(set: usize, weighted: &[(f64, &Tag)]) -> Vec<Doubt> {
    let draws = weighted.iter().filter_map(|(weight, tag)| match tag {
        Tag::Draw(draw) => Some((*weight, draw)),
        _ => None,
    });
    let draws: Vec<(f64, &Draw)> = draws.collect();
    let Some((_, first)) = draws.first() else {
        return Vec::new();
    };
    let differ = |of: &dyn Fn(&Draw) -> i64, what: What| {
        let value = of(first);
        if draws.iter().all(|(_, draw)| of(draw) == value) {
            return None;
        }
        let total: f64 = draws.iter().map(|(weight, _)| weight).sum();
        let average = draws
            .iter()
            .map(|(weight, draw)| weight * of(draw) as f64)
            .sum::<f64>();
        let average = average / total;
        let doubt = (average - average.round()).abs();
        // Mixed, and yet whole on average: divided above the least, so that neither part has all of them.
        let least = draws.iter().map(|(_, draw)| of(draw)).min()?;
        let average = if doubt < WHOLE {
            least as f64 + 0.5
        } else {
            average
        };
        Some(Doubt {
            set,
            what,
            average,
            doubt: doubt.max(1e-3),
        })
    };
    let opened = differ(&|draw| i64::from(draw.opened), What::Opened);
    let frames = (0..first.frames.len())
        .filter_map(|slot| differ(&|draw| i64::from(draw.frames[slot]), What::Frames(slot)));
    let mut found: Vec<Doubt> = opened.into_iter().chain(frames).collect();
    if found.is_empty() {
        found.extend(differ(&|draw| draw.share as i64, What::Share));
    }
    found
}
