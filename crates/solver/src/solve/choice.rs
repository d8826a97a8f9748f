//! What the optimiser settles on: frames and bees of each donor, compartments of each kind.

use super::bound::{Aim, Goal};
use super::tables::{Donor, Tables};

/// Counts chosen by the optimiser.
#[derive(Debug, Clone)]
pub(super) struct Choice {
    /// Compartments of each kind.
    pub compartments: Vec<i64>,
    /// For each donor: the frames of each of its items, where it is opened.
    pub takes: Vec<Option<Vec<u32>>>,
    /// Bees of each donor for each site.
    pub bees: Vec<Vec<i64>>,
}

impl Choice {
    /// Nothing more taken, nothing stocked but what is finished.
    pub fn none(tables: &Tables) -> Self {
        Self {
            compartments: tables.kinds.iter().map(|kind| kind.least).collect(),
            takes: vec![None; tables.donors.len()],
            bees: vec![vec![0; tables.sites.len()]; tables.donors.len()],
        }
    }

    /// Its value for an aim; less is better.
    pub fn value(&self, tables: &Tables, aim: Aim) -> i64 {
        let more = match aim {
            Aim::Worth => {
                let worth = tables.kinds.iter().zip(&self.compartments);
                -worth.map(|(kind, count)| kind.worth * count).sum::<i64>()
            }
            Aim::Honey => self.honey(tables),
            Aim::Otherwise => self.otherwise(tables),
            Aim::Opened => {
                let donors = tables.donors.iter().zip(&self.takes);
                let new = donors.filter(|(donor, take)| take.is_some() && !donor.opened);
                new.count() as i64
            }
            Aim::Shaken => self.shaken(tables),
        };
        tables.base(aim) + more
    }

    /// For each donor, the bees on its frames that leave and the most bees that may leave.
    pub fn limits(&self, tables: &Tables) -> Vec<(i64, i64)> {
        let of = |(donor, take): (&Donor, &Option<Vec<u32>>)| {
            let Some(take) = take else { return (0, 0) };
            let (mut riding, mut charge) = (0, 0);
            for (item, &count) in donor.items.iter().zip(take) {
                riding += item.bees * i64::from(count);
                charge += item.charge * i64::from(count);
            }
            let most = donor.most_bees(charge);
            (riding.min(most), most)
        };
        tables.donors.iter().zip(&self.takes).map(of).collect()
    }

    /// As good as another in all four goals, and in what a goal has settled besides.
    pub fn no_worse(&self, tables: &Tables, other: &Self, goal: Goal) -> bool {
        let kept = goal.otherwise.map(|_| Aim::Otherwise);
        [Aim::Worth, Aim::Honey, Aim::Opened, Aim::Shaken]
            .into_iter()
            .chain(kept)
            .all(|aim| self.value(tables, aim) <= other.value(tables, aim))
    }

    fn honey(&self, tables: &Tables) -> i64 {
        let mut charged = 0;
        for (index, donor) in tables.donors.iter().enumerate() {
            charged += self.bees[index].iter().sum::<i64>() * donor.bee_rate;
            for (item, &count) in donor.items.iter().zip(self.takes[index].iter().flatten()) {
                charged += item.charge * i64::from(count);
            }
        }
        charged
    }

    fn otherwise(&self, tables: &Tables) -> i64 {
        let mut otherwise = 0;
        for (donor, take) in tables.donors.iter().zip(&self.takes) {
            for (item, &count) in donor.items.iter().zip(take.iter().flatten()) {
                otherwise += item.otherwise(count);
            }
        }
        otherwise
    }

    fn shaken(&self, tables: &Tables) -> i64 {
        let mut shaken = 0;
        for (index, donor) in tables.donors.iter().enumerate() {
            let take = self.takes[index].iter().flatten();
            let riding: i64 = donor
                .items
                .iter()
                .zip(take)
                .map(|(item, &n)| item.bees * i64::from(n))
                .sum();
            shaken += (self.bees[index].iter().sum::<i64>() - riding).max(0);
        }
        shaken
    }
}
