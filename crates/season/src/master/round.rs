//! A whole season near to the weights of a relaxation.

use super::{Figure, Master, RowOf, Solution, Tag};

/// Times that each colony may change its trajectory in rounding (a choice).
const PASSES: usize = 3;

/// What is left of each row while numbers are raised.
struct Slack<'a> {
    master: &'a Master,
    left: Vec<i64>,
    wholes: Vec<i64>,
}

impl Slack<'_> {
    fn entries(&self, at: usize) -> &[(usize, i64)] {
        &self.master.wholes[at].entries
    }

    fn add(&mut self, at: usize, by: i64) {
        self.wholes[at] += by;
        let master = self.master;
        for &(row, each) in &master.wholes[at].entries {
            self.left[row] += by * each;
        }
    }

    /// Raises or lowers some numbers by one if no row is broken that was kept.
    fn try_all(&mut self, moves: &[(usize, i64)]) -> bool {
        for &(at, by) in moves {
            let whole = &self.master.wholes[at];
            if !(whole.least..=whole.most).contains(&(self.wholes[at] + by)) {
                return false;
            }
        }
        moves.iter().for_each(|&(at, by)| self.add(at, by));
        let mut rows = moves.iter().flat_map(|&(at, _)| self.entries(at));
        let holds = |row: usize| {
            let equal = self.master.rows[row].equal;
            self.left[row] == 0 || !equal && self.left[row] > 0
        };
        let kept = rows.all(|&(row, _)| holds(row));
        if !kept {
            moves.iter().for_each(|&(at, by)| self.add(at, -by));
        }
        kept
    }

    fn short(&self) -> Option<usize> {
        let mut rows = self.left.iter().zip(&self.master.rows);
        rows.position(|(&left, row)| left < 0 && !row.equal)
    }
}

impl Master {
    /// Takes the heaviest trajectory of each colony and fits the numbers to what they give; then each colony that has
    /// weight on several takes the one with which it comes to most.
    pub(super) fn rounded(&self, weighted: &[Vec<(f64, &Tag)>]) -> Option<Solution> {
        let near = self.nearest(weighted);
        let from = |at: usize| {
            let of = &weighted[self.givers.len() + at];
            (super::divide::average(of) + 1e-6).floor() as i64
        };
        let mut colonies = near.colonies;
        let mut best = self.fitted(colonies.clone(), &from);
        let made = |of: &Solution| -> i64 {
            let counted = self.wholes.iter().zip(&of.wholes);
            let counted = counted.filter(|(whole, _)| {
                !matches!(whole.figure, Figure::Otherwise(_) | Figure::Frames(..))
            });
            counted.map(|(_, value)| value).sum()
        };
        let score = |of: &Option<Solution>| of.as_ref().map(|of| (-self.recount(of).0, made(of)));
        for _ in 0..PASSES {
            let before = score(&best);
            for (set, of) in weighted[..self.givers.len()].iter().enumerate() {
                for &(_, &tag) in of.iter().filter(|_| of.len() > 1) {
                    let kept = std::mem::replace(&mut colonies[set], tag as usize);
                    let other = self.fitted(colonies.clone(), &from);
                    if score(&other) > score(&best) {
                        best = other;
                    } else {
                        colonies[set] = kept;
                    }
                }
            }
            if score(&best) == before {
                break;
            }
        }
        best
    }

    /// Fits the numbers to what these trajectories give, from so much of each on.
    pub(crate) fn fitted(
        &self,
        colonies: Vec<usize>,
        from: &dyn Fn(usize) -> i64,
    ) -> Option<Solution> {
        let mut left: Vec<i64> = self.rows.iter().map(|row| -row.rhs).collect();
        for (giver, &at) in self.givers.iter().zip(&colonies) {
            for &(row, by) in &giver.entries[at] {
                left[row] += by;
            }
        }
        let mut slack = Slack {
            master: self,
            left,
            wholes: vec![0; self.wholes.len()],
        };
        for (at, whole) in self.wholes.iter().enumerate() {
            let start = match whole.figure {
                Figure::Want(_) => 0,
                Figure::Otherwise(_) => whole.most,
                Figure::Frames(..) => self.frames(whole, &slack.left),
                _ => from(at).clamp(whole.least, whole.most),
            };
            slack.add(at, start);
        }
        self.follow(&mut slack);
        self.lower(&mut slack)?;
        self.raise(&mut slack);
        self.as_told(&mut slack);
        let solution = Solution {
            colonies,
            wholes: slack.wholes,
        };
        self.recount(&solution).1.then_some(solution)
    }

    /// These numbers with so many cells today: the greatest is lowered, or one with room raised.
    pub(crate) fn with_today(&self, wholes: &[i64], today: i64) -> Vec<i64> {
        let mut wholes = wholes.to_vec();
        let first: Vec<usize> = (0..wholes.len())
            .filter(|&at| {
                matches!(
                    self.wholes[at].figure,
                    Figure::New(_, 0) | Figure::Next(_, 0)
                )
            })
            .collect();
        let mut sum: i64 = first.iter().map(|&at| wholes[at]).sum();
        while sum != today {
            let room = |&&at: &&usize| wholes[at] < self.wholes[at].most;
            let at = match sum > today {
                true => first.iter().max_by_key(|&&at| wholes[at]),
                false => first.iter().find(room),
            };
            let Some(&at) = at else { break };
            let by = (today - sum).signum();
            wholes[at] += by;
            sum += by;
        }
        wholes
    }

    /// Whole frames that a round has, of what its row has over.
    pub(super) fn frames(&self, whole: &super::Whole, left: &[i64]) -> i64 {
        let row = whole.entries.iter().find(|of| of.1 < 0);
        let frames = row.map_or(0, |&(row, by)| left[row].div_euclid(-by));
        frames.clamp(0, whole.most)
    }

    /// Fills up what is below what people were told, where cost counts, and takes back what is counted as otherwise and is not.
    fn as_told(&self, slack: &mut Slack) {
        for (at, whole) in self.wholes.iter().enumerate() {
            let Figure::Otherwise(_) = whole.figure else {
                continue;
            };
            let [Some(more), Some(fewer)] = [0, 1].map(|at| whole.entries.get(at).map(|of| of.0))
            else {
                continue;
            };
            let short = |slack: &Slack| slack.wholes[at] > slack.left[fewer];
            if self.goal == super::Goal::Cost {
                for (of, other) in self.wholes.iter().enumerate() {
                    let counts = |&(row, by): &(usize, i64)| (row, by) == (fewer, 1);
                    let cell = matches!(other.figure, Figure::New(..) | Figure::Next(..));
                    if cell && other.entries.iter().any(counts) {
                        while short(slack) && slack.try_all(&[(of, 1)]) {}
                    }
                }
            }
            let over = slack.left[more]
                .min(slack.left[fewer])
                .min(slack.wholes[at]);
            slack.add(at, -over.max(0));
        }
    }

    /// Wants of things that are made count what is made.
    fn follow(&self, slack: &mut Slack) {
        for (at, whole) in self.wholes.iter().enumerate() {
            let Figure::Want(want) = whole.figure else {
                continue;
            };
            let row = self.keys.iter().position(|key| *key == RowOf::Want(want));
            if let Some(row) = row {
                let made = slack.left[row];
                slack.add(at, made);
            }
        }
    }

    /// The number of a want beside what is made for it.
    fn with_want(&self, at: usize, by: i64) -> Vec<(usize, i64)> {
        let want = match self.wholes[at].figure {
            Figure::Nuclei(want, _) | Figure::Kept(want, ..) => want,
            _ => return vec![(at, by)],
        };
        let of = self
            .wholes
            .iter()
            .position(|whole| whole.figure == Figure::Want(want));
        of.map_or(vec![(at, by)], |of| vec![(at, by), (of, by)])
    }

    /// Lowers what breaks rows, the greatest first.
    fn lower(&self, slack: &mut Slack) -> Option<()> {
        let all: i64 = slack.wholes.iter().sum();
        for _ in 0..=all {
            let Some(row) = slack.short() else {
                return Some(());
            };
            let of = (0..self.wholes.len()).filter(|&at| {
                let whole = &self.wholes[at];
                let asks = whole.entries.iter().any(|&(of, by)| of == row && by < 0);
                asks && slack.wholes[at] > whole.least && !matches!(whole.figure, Figure::Want(_))
            });
            let at = of.max_by_key(|&at| (slack.wholes[at], at))?;
            for (at, by) in self.with_want(at, -1) {
                slack.add(at, by);
            }
        }
        None
    }

    /// Raises wants in order, and what they are made of, while every row holds.
    fn raise(&self, slack: &mut Slack) {
        let cells: Vec<usize> = (0..self.wholes.len())
            .filter(|&at| matches!(self.wholes[at].figure, Figure::New(..) | Figure::Next(..)))
            .collect();
        while cells.iter().any(|&at| slack.try_all(&[(at, 1)])) {}
        for at in 0..self.wholes.len() {
            match self.wholes[at].figure {
                Figure::Nuclei(..) | Figure::Kept(..) => {
                    let moves = self.with_want(at, 1);
                    while slack.try_all(&moves) {}
                }
                Figure::Want(want) if !self.keys.contains(&RowOf::Want(want)) => {
                    while slack.try_all(&[(at, 1)]) {}
                }
                _ => {}
            }
        }
        if self.goal == super::Goal::Cost {
            for &at in cells.iter().rev() {
                while slack.try_all(&[(at, -1)]) {}
            }
        }
    }
}
