//! What another colony would bring, at the prices of brood and bees in each round.

use spareframe_engine::{Objective, SHIFT, Simplex};

use super::listing::{Trajectory, list};
use super::master::{Figure, Goal, Listed, Master, QUEEN, RowOf, lots};
use super::outlook::Outlook;
use super::season::{Colony, Season};

/// What brood and bees of each round are worth for a want, beside those before it.
pub struct Valued<'a> {
    season: &'a Season,
    lots: f64,
    keys: Vec<RowOf>,
    prices: Vec<i64>,
    /// By colony: the trajectory that is worth most, and how much.
    best: Vec<Option<(Trajectory, i128)>>,
}

/// What a colony would bring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Brings {
    /// So many of what is wanted, at most.
    pub count: f64,
    /// Most of it in this round.
    pub round: usize,
}

impl<'a> Valued<'a> {
    /// The prices of a want, where those before it are met as in an outlook. Rounds that are rained out are taken as known.
    #[must_use]
    pub fn of(season: &'a Season, listed: &Listed, outlook: &Outlook, want: usize) -> Self {
        let mut master = Master::loose(season, listed);
        for (at, met) in outlook.wants.iter().enumerate().take(want) {
            let mut wholes = master.wholes.iter_mut();
            if let Some(whole) = wholes.find(|whole| whole.figure == Figure::Want(at)) {
                (whole.least, whole.from) = (met.count, met.count);
            }
        }
        master.goal = Goal::Want(want);
        let mut simplex = Simplex::new(&master);
        simplex.take_up(&master, Objective::Cost);
        simplex.search(&master, i128::MAX);
        let mut valued = Self {
            season,
            lots: lots(season),
            prices: simplex.prices.clone(),
            keys: master.keys,
            best: Vec::new(),
        };
        let all = season.colonies.iter().zip(listed.own());
        let best = all.map(|(colony, list)| valued.best_of(colony, &list.columns));
        valued.best = best.collect();
        valued
    }

    /// Whether colonies hold anything back: brood or bees have a price in some round.
    #[must_use]
    pub fn scarce(&self) -> bool {
        let mut rows = self.keys.iter().zip(&self.prices);
        rows.any(|(key, price)| {
            *price > 0 && matches!(key, RowOf::Frames(..) | RowOf::Bees(_) | RowOf::Loose(_))
        })
    }

    /// What a colony would bring in place of one that is there, or besides; `None` where it brings nothing.
    #[must_use]
    pub fn brings(&self, in_place_of: Option<usize>, colony: &Colony) -> Option<Brings> {
        let list = list(
            self.season,
            (in_place_of.unwrap_or(usize::MAX), colony),
            self.lots,
            &[],
        );
        let (now, worth) = self.best_of(colony, &list.columns)?;
        let before = in_place_of.and_then(|at| self.best.get(at)?.as_ref());
        let more = worth - before.map_or(0, |(_, worth)| *worth);
        let in_round = |of: &Trajectory, round| self.in_round(colony, of, round);
        let rounds = 0..self.season.rounds.len();
        let round = rounds.max_by_key(|&round| {
            let was = before.map_or(0, |(of, _)| in_round(of, round));
            (in_round(&now, round) - was, std::cmp::Reverse(round))
        })?;
        let count = more as f64 / (i128::from(QUEEN) << SHIFT) as f64;
        (more > 0).then_some(Brings { count, round })
    }

    fn price(&self, row: &RowOf) -> i64 {
        let at = self.keys.binary_search(row).ok();
        at.and_then(|at| self.prices.get(at)).copied().unwrap_or(0)
    }

    fn best_of(&self, colony: &Colony, columns: &[Trajectory]) -> Option<(Trajectory, i128)> {
        let worth = |of: &Trajectory| -> i128 {
            let rounds = 0..of.gives.len();
            let paid: i128 = rounds.map(|round| self.in_round(colony, of, round)).sum();
            paid - i128::from(self.price(&RowOf::Honey)) * i128::from(of.honey)
        };
        let best = columns.iter().rev().max_by_key(|of| worth(of))?;
        Some((best.clone(), worth(best)))
    }

    /// What a trajectory is worth by what it gives in a round.
    fn in_round(&self, colony: &Colony, of: &Trajectory, round: usize) -> i128 {
        let rows = [
            RowOf::Frames(colony.comb, round),
            RowOf::Bees(round),
            RowOf::Loose(round),
        ];
        let gives = of.gives[round];
        let paid = rows.iter().zip(gives);
        paid.map(|(row, gives)| i128::from(self.price(row)) * i128::from(gives))
            .sum()
    }
}
