//! Why the number is what it is: what holds it back, and what one more would take.
//!
//! What a change brings comes from solving again with it; that it brings nothing is proved, by a search or by the proof
//! of today's plan.

mod asked;
mod colonies;
mod idle;
mod kinds;
mod limit;
mod single;
mod sites;
mod smallest;
mod together;
mod wished;
mod yard;

pub use colonies::{Because, ColonyReason, below_floors};
pub use kinds::{KindReason, Unstocked};
pub use limit::{Cap, Change, Floor, Limit, Unit, changed};
pub use single::Effect;
pub use sites::WithoutSite;
pub use together::{Group, group_of};
pub use wished::forbidding;
pub use yard::Steps;

use std::sync::atomic::AtomicBool;
use std::time::Duration;

use crate::plan::{Cost, Plan};
use crate::scenario::Scenario;
use crate::solve::{Outcome, Reach, WHATEVER};
use crate::units::{Grams, Worth};
use asked::Asked;
use yard::Yard;

/// The best that is reached.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Best {
    /// Greatest worth.
    pub worth: Worth,
    /// What makes the cost, the least in all for it.
    pub cost: Cost,
}

impl From<Reach> for Best {
    fn from(reach: Reach) -> Self {
        Self {
            worth: reach.worth,
            cost: reach.cost,
        }
    }
}

/// Changes that together let more worth be stocked than today, and what is then reached.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// What is loosened; one change, or the fewest that do it together.
    pub changes: Vec<Change>,
    /// No fewer changes do it; else fewer may.
    pub fewest: bool,
    /// What is then reached.
    pub best: Best,
    /// A plan that reaches it, checked.
    pub plan: Plan,
}

/// What to look for.
#[derive(Debug, Clone, Copy)]
pub struct WhyOptions<'a> {
    /// What "one more" is; default [`Steps::ONE`].
    pub one: Steps,
    /// The least steps that offers are made of; default [`Steps::LEAST`].
    pub least: Steps,
    /// At equal worth, a plan counts as better if it costs so much less at least. Costs that are reached are less than
    /// this above the least, or than an eighth of what they differ from today's; with 1 they are the least. 1 or more,
    /// default [`WhyOptions::NOTABLE`].
    pub notable: Grams,
    /// After so long, whatever is not known yet is left out; default none.
    pub time_limit: Option<Duration>,
    /// Stop as soon as this is true, as if the time limit had come; default never.
    pub cancel: Option<&'a AtomicBool>,
}

impl WhyOptions<'_> {
    /// A choice: nobody weighs less honey than this, and most limits hold back a few grams.
    pub const NOTABLE: Grams = Grams(100);
}

impl Default for WhyOptions<'_> {
    fn default() -> Self {
        Self {
            notable: Self::NOTABLE,
            one: Steps::ONE,
            least: Steps::LEAST,
            time_limit: None,
            cancel: None,
        }
    }
}

/// The reasons behind a plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Why {
    /// What is reached as things stand.
    pub today: Best,
    /// Every answer is known. Where not, some searches ended without one: what depends on them is left
    /// out, and an amount may not be the least.
    pub exact: bool,
    /// Every limit with what it holds back, the most telling first.
    pub effects: Vec<Effect>,
    /// Groups of limits of which none holds anything back alone and all together do, with what is
    /// reached without them.
    pub only_together: Vec<(Group, Best)>,
    /// Single changes that let more worth be stocked, each with the least of its thing that does,
    /// least cost first. Holds and caps of 0 are not on offer.
    pub offers: Vec<Offer>,
    /// The fewest changes that do it together, where no single one does.
    pub together: Option<Offer>,
    /// The fewest changes of floors, caps and whole boxes alone that do it, where no offer above is made of
    /// such: what can be had without anything from outside.
    pub own: Option<Offer>,
    /// Where nothing can be stocked: the fewest groups of limits that forbid it by themselves, with
    /// all others lifted.
    pub forbidding: Vec<Group>,
    /// For each colony, why it gives nothing, or no more.
    pub colonies: Vec<ColonyReason>,
    /// For each kind of box that is not all stocked, why not.
    pub kinds: Vec<KindReason>,
    /// Where colonies of two sites or more give: what is reached without those of each.
    pub without_sites: Vec<WithoutSite>,
    /// Offers whose plan the check refuses; a bug of ours if it ever happens.
    pub refused: u32,
}

/// Explains the answer that [`crate::solve`] found for the scenario, without a ceiling or an earlier plan.
///
/// Pure: the same arguments give the same answer. Searches that do not depend on each other run
/// side by side.
///
/// ```
/// use spareframe_solver::why::{Limit, WhyOptions, why};
/// use spareframe_solver::{CellBatch, Scenario, SolveOptions, Worth, solve};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments, and two cells.
/// let mut yard: Scenario = include!("../../doctests/yard.rs");
/// yard.cells = Some(vec![CellBatch { count: 2, boxes: vec![] }]);
/// let found = solve(&yard, &SolveOptions::default());
/// let why = why(&yard, &found, &WhyOptions::default());
/// assert_eq!(why.today.worth, Worth(2_000));
/// let change = why.offers[0].changes[0];
/// assert_eq!((change.limit, change.by), (Limit::Cells, 1));
/// assert_eq!(why.offers[0].best.worth, Worth(3_000));
/// ```
#[must_use]
pub fn why(scenario: &Scenario, found: &Outcome, options: &WhyOptions) -> Why {
    let nothing = Plan::default();
    let plan = match found {
        Outcome::Stocked(best) => &best.plan,
        _ => &nothing,
    };
    let asked = Asked::new(scenario, found, options);
    let today = Best::from(asked.again.today());
    let holding = single::holding_back(&asked);
    let mut effects = single::effects(&asked, &holding);
    let (mut offers, mut refused) = single::offers(&asked, &effects);
    single::agree(&scenario.prices, &mut effects, &mut offers);
    offers.sort_by_key(|offer| offer.best.cost.total(&scenario.prices));
    let mut together = |wanted: bool, of: fn(&Limit, &Scenario) -> bool| {
        let found = wanted.then(|| together::together(&asked, of));
        let (offer, fault) = found.unwrap_or_default();
        refused += fault;
        offer
    };
    let fewest = together(offers.is_empty(), Limit::on_offer);
    let all_own = |offer: &Offer| {
        let mut changes = offer.changes.iter();
        changes.all(|change| change.limit.is_own(scenario))
    };
    let none_own = !offers.iter().chain(&fewest).any(all_own);
    let own = together(none_own, Limit::is_own);
    let forbidding = if today.worth.0 == 0 && asked.again.proved() {
        together::forbidding(&asked)
    } else {
        Vec::new()
    };
    let only_together = together::only_together(&asked, &effects);
    let colonies = colonies::colonies(&asked, plan, &effects, &holding);
    let kinds = kinds::kinds(&asked, plan);
    let (without_sites, fault) = sites::without_sites(&asked, plan);
    refused += fault;
    Why {
        today,
        exact: !asked.again.unsure(),
        effects: single::ranked(&scenario.prices, &today, effects),
        only_together,
        offers,
        together: fewest,
        own,
        forbidding,
        colonies,
        kinds,
        without_sites,
        refused,
    }
}

/// The scenario without some of its limits: each loosened so far that more would do nothing more.
///
/// ```
/// use spareframe_solver::why::{Floor, Limit, without};
/// use spareframe_solver::{ColonyId, Scenario};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../doctests/yard.rs");
/// let bees = Limit::Floor(ColonyId(1), Floor::Bees);
/// let free = without(&yard, &[bees]);
/// assert_eq!((bees.now(&yard), bees.now(&free)), (40, 0));
/// ```
#[must_use]
pub fn without(scenario: &Scenario, limits: &[Limit]) -> Scenario {
    Yard::new(scenario).without(limits.iter().copied())
}

/// What keeps compartments empty, in short.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InShort {
    /// Groups of limits of which any one, lifted alone, lets more worth be stocked; with the least of
    /// it that does, where it is one countable thing.
    pub alone: Vec<(Group, Option<Change>)>,
    /// Whether all limits lifted together do; `None` where that is not known.
    pub together: Option<bool>,
    /// Every answer is known.
    pub exact: bool,
}

/// What keeps compartments empty, in much less work than [`why`]. The answer may be one near to an earlier plan.
///
/// ```
/// use spareframe_solver::why::{Change, Group, Limit, WhyOptions, in_short};
/// use spareframe_solver::{CellBatch, Scenario, SolveOptions, solve};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments, and two cells.
/// let mut yard: Scenario = include!("../../doctests/yard.rs");
/// yard.cells = Some(vec![CellBatch { count: 2, boxes: vec![] }]);
/// let short = in_short(&yard, &solve(&yard, &SolveOptions::default()), &WhyOptions::default());
/// let cells = Change { limit: Limit::Cells, by: 1 };
/// assert_eq!(short.alone, [(Group::Cells, Some(cells))]);
/// ```
#[must_use]
pub fn in_short(scenario: &Scenario, found: &Outcome, options: &WhyOptions) -> InShort {
    let whatever_it_costs = WhyOptions {
        notable: WHATEVER,
        ..*options
    };
    let asked = Asked::new(scenario, found, &whatever_it_costs);
    let alone = together::lone_groups(&asked);
    let all = || asked.yard.lift(asked.yard.limits.iter().copied());
    let together = match alone.is_empty() {
        true => asked.more(&all()),
        false => Some(true),
    };
    InShort {
        alone,
        together,
        exact: !asked.again.unsure(),
    }
}

/// A plan of ours that the check does not agree with.
struct Refused;
