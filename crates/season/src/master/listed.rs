//! What each colony may give over a season, listed once for seasons that have it in common.

use rayon::prelude::*;
use spareframe_colony::Setting;

use super::super::listing::{List, list, listed_at_most};
use super::super::outlook::{Drawn, Outlook};
use super::super::season::{Colony, Prices, Season, Told, Winter};
use super::rows::lots;

/// What each colony may give over a season.
#[derive(Debug, Clone)]
pub struct Listed {
    ground: Ground,
    colonies: Vec<Colony>,
    lists: Vec<List>,
}

/// What lists of all colonies rest on.
#[derive(Debug, Clone, PartialEq)]
struct Ground {
    days: Vec<i32>,
    winter: Option<Winter>,
    last_draw: Option<i32>,
    setting: Setting,
    prices: Prices,
    /// Whether honey counts by itself.
    honey: bool,
    told: Option<Told>,
}

impl Ground {
    fn of(season: &Season) -> Self {
        Self {
            days: season.rounds.iter().map(|round| round.day).collect(),
            winter: season.winter,
            last_draw: season.last_draw,
            setting: season.setting,
            prices: season.prices,
            honey: season.honey.is_some(),
            told: season.told.clone(),
        }
    }
}

impl Listed {
    /// Lists what each colony may give; of rounds that are rained out nobody knows before.
    #[must_use]
    pub fn of(season: &Season) -> Self {
        Self::made(&season.dry(), |_, _| None, |_| &[])
    }

    /// The same of a season that has changed: only colonies of which anything has changed that matters to what they may give
    /// are listed anew.
    #[must_use]
    pub fn again(&self, season: &Season) -> Self {
        // What was told goes by the order of colonies.
        let in_order = season.told.is_none() || self.colonies.len() == season.colonies.len();
        let same = in_order && self.ground == Ground::of(season);
        let most = listed_at_most(season);
        let known = |colony: &Colony, lots: f64| {
            let at = self.colonies.iter().position(|known| known == colony)?;
            let list = self.lists.get(at).filter(|_| same)?;
            list.serves(season, colony, lots, most)
                .then(|| list.clone())
        };
        Self::made(&season.dry(), known, |_| &[])
    }

    /// Lists what each colony may give that gives in so many rounds as an outlook has it.
    pub(crate) fn held(season: &Season, outlook: &Outlook, rounds: usize) -> Self {
        let draws = |at: usize| {
            let course = outlook.colonies.get(at);
            course.map_or(&[][..], |course| &course.draws[..rounds])
        };
        Self::made(season, |_, _| None, draws)
    }

    fn made<'a>(
        season: &Season,
        known: impl Fn(&Colony, f64) -> Option<List> + Sync,
        held: impl Fn(usize) -> &'a [Drawn] + Sync,
    ) -> Self {
        let lots = lots(season);
        let one = |(at, colony): (usize, &Colony)| {
            known(colony, lots).unwrap_or_else(|| list(season, (at, colony), lots, held(at)))
        };
        Self {
            ground: Ground::of(season),
            lists: season.colonies.par_iter().enumerate().map(one).collect(),
            colonies: season.colonies.clone(),
        }
    }

    /// By colony.
    pub(crate) fn own(&self) -> &[List] {
        &self.lists
    }
}
