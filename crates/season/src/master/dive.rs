//! Straight down to a whole season: numbers near to whole ones are made whole, then the heaviest trajectories are taken, with the
//! relaxation solved anew after each.

use std::rc::Rc;

use spareframe_engine::{Branching, End, Model, Objective, SHIFT, Simplex, next_below};

use super::{Master, Solution, Tag};

/// Choices that may turn out impossible before a dive is given up (a choice).
const TURNS: usize = 8;

/// Choices for each set, at most (a choice).
const MOST: usize = 4;

/// What was chosen last, to be turned round.
enum Choice {
    Number(usize, (i64, i64), i64, bool),
    Trajectory(usize, Rc<Vec<u32>>, Tag),
}

impl Master {
    /// The best whole season on the way down from the choices that are left now, if it costs less than `below`; relaxations that
    /// it took are added.
    pub(crate) fn dive(
        &mut self,
        simplex: &mut Simplex<Tag>,
        below: i64,
        taken: &mut usize,
    ) -> Option<(i64, Solution)> {
        let whole = self.domains();
        let found = self.down(simplex, below, taken);
        self.enter(&whole, None);
        found
    }

    fn down(
        &mut self,
        simplex: &mut Simplex<Tag>,
        mut below: i64,
        taken: &mut usize,
    ) -> Option<(i64, Solution)> {
        let mut best = None;
        let mut last: Option<Choice> = None;
        let mut turns = 0;
        for _ in 0..MOST * self.sets() {
            *taken += 1;
            simplex.take_up(self, Objective::Cost);
            let cutoff = match below {
                i64::MAX => i128::MAX,
                _ => (i128::from(next_below(below, self.step())) << SHIFT) + 1,
            };
            let end = simplex.search(self, cutoff);
            if end == End::Stopped {
                return best;
            }
            if end == End::Cut || simplex.lacks() {
                turns += 1;
                let Some(choice) = last.take().filter(|_| turns <= TURNS) else {
                    return best;
                };
                self.turn(choice);
                continue;
            }
            let weighted = simplex.weighted();
            let found = self.round(&weighted);
            if let Some((cost, solution)) = found.filter(|(cost, _)| *cost < below) {
                below = cost;
                best = Some((cost, solution));
            }
            let choice = self.choose(&weighted);
            match choice {
                Some(choice) => last = Some(choice),
                None => {
                    let leaf = self.leaf(&weighted);
                    return leaf.filter(|(cost, _)| *cost < below).or(best);
                }
            }
        }
        best
    }

    /// Makes the number nearest to a whole one whole, else takes the heaviest trajectory of those that are not alone.
    fn choose(&mut self, weighted: &[Vec<(f64, &Tag)>]) -> Option<Choice> {
        let givers = self.givers.len();
        let numbers =
            (0..self.wholes.len()).filter_map(|at| Some((at, self.doubtful(at, weighted)?)));
        let far = |mean: f64| (mean - mean.round()).abs();
        let nearest = numbers.min_by(|a, b| far(a.1).total_cmp(&far(b.1)));
        if let Some((at, mean)) = nearest {
            let whole = &mut self.wholes[at];
            let before = (whole.from, whole.to);
            let up = mean.round() > mean;
            let to = mean.round() as i64;
            if up {
                whole.from = to;
            } else {
                whole.to = to;
            }
            return Some(Choice::Number(at, before, to, up));
        }
        let heaviest = |set: usize| {
            let of = weighted[set].iter();
            of.copied().max_by(|a, b| a.0.total_cmp(&b.0))
        };
        let mixed = (0..givers).filter(|&set| weighted[set].len() > 1);
        let (_, set, tag) = mixed
            .filter_map(|set| heaviest(set).map(|(weight, tag)| (weight, set, *tag)))
            .max_by(|a, b| a.0.total_cmp(&b.0))?;
        let before = self.givers[set].left.clone();
        self.givers[set].left = Rc::new(vec![tag as u32]);
        Some(Choice::Trajectory(set, before, tag))
    }

    /// The other part of a choice.
    fn turn(&mut self, choice: Choice) {
        match choice {
            Choice::Number(at, before, to, up) => {
                let whole = &mut self.wholes[at];
                (whole.from, whole.to) = match up {
                    true => (before.0, to - 1),
                    false => (to + 1, before.1),
                };
            }
            Choice::Trajectory(set, before, tag) => {
                let left = before.iter().copied().filter(|&at| Tag::from(at) != tag);
                self.givers[set].left = Rc::new(left.collect());
            }
        }
    }
}
