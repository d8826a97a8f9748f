//! The independent check: is a plan valid, and what does it reach?
//!
//! The check shares the definitions of `docs/model.md` with the optimiser, and none of its
//! arithmetic: it recomputes every figure from the scenario and the plan alone, in exact
//! integers wide enough (`i128`) that no sum of the input can overflow. Rates of honey alone it
//! takes from [`crate::honey::rates`]. A plan edited by hand may be wrong in any way; what is wrong
//! comes back as a [`Breach`], never as a panic, and so it is where the scenario is wrong.

mod account;
mod asked;
mod boxes;
mod breach;
mod cells;
mod done;
mod figures;
mod goals;
mod limits;
mod recipe;
mod rest;
mod stocked;
mod supply;
mod wishes;
mod words;

use crate::plan::{Goals, Plan};
use crate::scenario::{ColonyId, Scenario};
use crate::units::{Grams, Hundreds, Milli, Percent};
use account::{Account, Taken, accounts};
pub use breach::{Amount, Breach, Fault, Place, Rule, Spot, Thing};
use breach::{Breaches, narrow};
use figures::{Content, up};
use rest::Done;
pub use words::InWords;

/// What a colony holds, summed over its frames.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Holding {
    /// Brood, in thousandths of a frame equivalent.
    pub brood: Milli,
    /// Bees, on frames and besides.
    pub bees: Hundreds,
    /// Stores, rounded to whole grams for each frame.
    pub stores: Grams,
    /// Drawn comb, in thousandths of a frame equivalent.
    pub drawn: Milli,
    /// Bees that would cover the brood, rounded up.
    pub cover: Hundreds,
}

impl Holding {
    fn of(content: Content) -> Self {
        Self {
            brood: Milli(narrow(content.brood)),
            bees: Hundreds(narrow(content.bees)),
            stores: Grams(narrow(content.stores)),
            drawn: Milli(narrow(content.drawn)),
            cover: Hundreds(narrow(up(content.cover, 1000))),
        }
    }
}

/// What a plan takes from one colony and what it leaves there.
///
/// A plan that takes more than there is leaves negative figures; [`check`] reports it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ColonyAccount {
    /// Which colony.
    pub colony: ColonyId,
    /// Before the draw and before anything was done.
    pub before: Holding,
    /// After the draw.
    pub after: Holding,
    /// Frames taken.
    pub frames: u64,
    /// Bees taken that ride on brood frames.
    pub riding: Hundreds,
    /// Other bees taken.
    pub loose: Hundreds,
    /// All bees taken.
    pub bees: Hundreds,
    /// Honey given up, charged.
    pub honey: Grams,
    /// The share given: of its bees or of its brood cells, whichever is more, rounded up.
    pub share: Percent,
    /// Points of burden.
    pub burden: i64,
}

impl ColonyAccount {
    fn of(colony: usize, account: &Account) -> Self {
        let drawn = &account.drawn;
        Self {
            colony: ColonyId(colony),
            before: Holding::of(account.before),
            after: Holding::of(account.after()),
            frames: u64::try_from(drawn.frames).unwrap_or(u64::MAX),
            riding: Hundreds(narrow(drawn.bees.riding)),
            loose: Hundreds(narrow(drawn.bees.loose)),
            bees: Hundreds(narrow(drawn.bees.all())),
            honey: Grams(narrow(drawn.honey)),
            share: Percent(narrow(account.share())),
            burden: narrow(account.burden()),
        }
    }
}

/// Recomputes a plan's goals and every breach, from the scenario and the plan alone.
///
/// Breaches are in the order of their rules; within one rule in the order of the scenario
/// or of the plan. Goals are those of the plan as it stands, valid or not; figures beyond
/// the range of their type are given as the nearest they can hold. Frames drawn otherwise are 0: see
/// [`check_near`].
///
/// ```
/// use spareframe_solver::{ColonyId, Hundreds, Outcome, Place, Rule, Scenario, SolveOptions, check, solve};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let mut yard: Scenario = include!("../../doctests/yard.rs");
/// let Outcome::Stocked(best) = solve(&yard, &SolveOptions::default()) else { panic!() };
/// assert_eq!(check(&yard, &best.plan), (best.goals, vec![]));
///
/// // The nucleus must keep 9000 bees: the same plan takes too many of it.
/// yard.colonies[1].keep.bees = Hundreds(90);
/// let (_, breaches) = check(&yard, &best.plan);
/// assert_eq!((breaches[0].rule, breaches[0].place), (Rule::Keep, Place::Colony(ColonyId(1))));
/// let said = "keep: colony Ash: found 4000 bees left, expected at least 9000 bees";
/// assert_eq!(breaches[0].in_words(&yard).to_string(), said);
/// ```
#[must_use]
pub fn check(scenario: &Scenario, plan: &Plan) -> (Goals, Vec<Breach>) {
    let mut breaches = Breaches(Vec::new());
    let taken = Taken::of(scenario, plan.touched());
    let gone = Taken::of(scenario, &scenario.done);
    let accounts = accounts(scenario, &taken, &gone);
    let records = Done::of(scenario);
    supply::supply(scenario, plan, (&taken, &gone), &accounts, &mut breaches);
    recipe::recipe(scenario, plan, &mut breaches);
    limits::keep(scenario, &accounts, &mut breaches);
    limits::draw(scenario, &accounts, &mut breaches);
    stocked::ride(scenario, plan, &records, &mut breaches);
    stocked::bees(scenario, plan, &records, &mut breaches);
    boxes::boxes(scenario, plan, &mut breaches);
    cells::cells(scenario, plan, &mut breaches);
    wishes::give(scenario, &taken, &mut breaches);
    done::done(scenario, plan, &records, &mut breaches);
    (goals::goals(scenario, plan, &accounts), breaches.0)
}

/// The same, with the frames drawn otherwise than in an earlier plan as a part of the cost.
///
/// ```
/// use spareframe_solver::{Outcome, Plan, Scenario, SolveOptions, check_near, solve};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../doctests/yard.rs");
/// let Outcome::Stocked(best) = solve(&yard, &SolveOptions::default()) else { panic!() };
/// // Four brood frames and a comb of stores leave colonies; the other three come off the shelf.
/// assert_eq!(check_near(&yard, &best.plan, &Plan::default()).0.cost.otherwise, 5);
/// assert_eq!(check_near(&yard, &best.plan, &best.plan).0, best.goals);
/// ```
#[must_use]
pub fn check_near(scenario: &Scenario, plan: &Plan, earlier: &Plan) -> (Goals, Vec<Breach>) {
    let (mut goals, breaches) = check(scenario, plan);
    goals.cost.otherwise = goals::otherwise(plan, earlier);
    (goals, breaches)
}

/// What a plan takes from each colony and leaves there, in the order of the scenario,
/// colonies that give nothing included.
///
/// ```
/// use spareframe_solver::{Hundreds, Outcome, Scenario, SolveOptions, remains, solve};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../doctests/yard.rs");
/// let Outcome::Stocked(best) = solve(&yard, &SolveOptions::default()) else { panic!() };
/// let nucleus = remains(&yard, &best.plan)[1];
/// assert_eq!((nucleus.before.bees, nucleus.after.bees), (Hundreds(99), Hundreds(40)));
/// ```
#[must_use]
pub fn remains(scenario: &Scenario, plan: &Plan) -> Vec<ColonyAccount> {
    let taken = Taken::of(scenario, plan.touched());
    let done = Taken::of(scenario, &scenario.done);
    let accounts = accounts(scenario, &taken, &done);
    let accounts = accounts.iter().enumerate();
    accounts
        .map(|(colony, account)| ColonyAccount::of(colony, account))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        BoxId, Colony, Comb, Compartment, Crop, Draw, FrameGroup, FrameState, Keep, Origin,
        PlacedBees, PlacedFrames, SiteId,
    };

    fn scenario() -> Scenario {
        let frame = FrameState {
            comb: crate::CombId(0),
            brood: Milli(600),
            sealed: Milli(400),
            stores: Milli(200),
            drawn: Milli(1000),
            bees: Hundreds(15),
        };
        let colony = |name: &str| Colony {
            name: name.into(),
            site: SiteId(0),
            role: "production".into(),
            hold: None,
            frames: vec![FrameGroup {
                count: 6,
                frame,
                queen: false,
            }],
            extra_bees: Hundreds(30),
            crop: Some(Crop {
                honey: Grams(20_000),
                from: 5,
                to: 30,
            }),
            keep: Keep::default(),
            draw: Draw::default(),
            rides: Percent(50),
            apart: false,
        };
        Scenario {
            combs: vec![Comb {
                name: "comb".into(),
                bees: Hundreds(20),
                cells: 5000,
                stores: Grams(2000),
            }],
            colonies: vec![colony("a"), colony("b")],
            ..Scenario::default()
        }
    }

    fn plan(count: u32) -> Plan {
        Plan {
            compartments: vec![Compartment {
                kind: BoxId(0),
                box_no: 0,
                place: 0,
                frames: vec![PlacedFrames {
                    line: 0,
                    origin: Origin::Colony(ColonyId(0), 0),
                    count,
                }],
                bees: vec![PlacedBees {
                    colony: ColonyId(0),
                    riding: Hundreds(20),
                    loose: Hundreds(12),
                }],
            }],
            ..Plan::default()
        }
    }

    #[test]
    fn accounts_before_and_after() {
        let accounts = remains(&scenario(), &plan(2));
        assert_eq!(accounts.len(), 2);
        let a = accounts[0];
        assert_eq!((a.frames, a.bees), (2, Hundreds(32)));
        assert_eq!((a.riding, a.loose), (Hundreds(20), Hundreds(12)));
        let holding = |brood, bees, stores, drawn, cover| Holding {
            brood: Milli(brood),
            bees: Hundreds(bees),
            stores: Grams(stores),
            drawn: Milli(drawn),
            cover: Hundreds(cover),
        };
        assert_eq!(a.before, holding(3600, 120, 2400, 6000, 72));
        assert_eq!(a.after, holding(2400, 88, 1600, 4000, 48));
        // 32 of 120 hundreds are 27 %, 2 of 6 frames of brood 34 %.
        assert_eq!((a.share, a.burden), (Percent(34), 34 + 14));
        assert_eq!(accounts[1].before, accounts[1].after);
        assert_eq!(accounts[1].honey, Grams(0));
        assert_eq!((accounts[1].share, accounts[1].burden), (Percent(0), 0));
    }

    #[test]
    fn account_of_too_great_a_draw_is_negative() {
        let a = remains(&scenario(), &plan(10))[0];
        assert_eq!(a.after.brood, Milli(-2400));
    }
}
