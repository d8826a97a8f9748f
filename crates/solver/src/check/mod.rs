//! The independent check: is a plan valid, and what does it reach?
//!
//! The check shares the definitions of the model with the optimiser, and none of its
//! arithmetic: it recomputes every figure from the scenario and the plan alone, in exact
//! integers wide enough (`i128`) that no sum of the input can overflow. A plan edited by
//! hand may be wrong in any way; what is wrong comes back as a [`Breach`], never as a panic.
//!
//! Definitions:
//!
//! * A share of a frame is `share x whole / 1000` of its comb, rounded half up, for each frame
//!   alone (bees, cells, grams).
//! * Charged honey (mg) = sealed cells x rate + open cells x rate + bees x rate, at the rates
//!   of [`crate::honey::rates`], plus 1000 x grams of stores for a colony with a crop.
//! * A colony is opened if a frame or a bee is taken from it.
//! * Shaken bees of a colony = bees taken less the bees on the frames taken, at least 0; what is
//!   already done is counted by itself, and the rest by itself.
//! * Of bees taken, `1000 - flying` thousandths stay where the box stands nearer to the
//!   donor's site than the homing distance, else all.

mod account;
mod cells;
mod done;
mod draws;
mod stocked;
mod supply;
mod wishes;
mod words;

use crate::scenario::{ColonyId, Scenario};
use crate::units::{Bees, Grams, Milli, Milligrams, Worth};
use crate::{Goals, Plan};
use account::{Account, Taken, accounts, all_honey, narrow};

/// The rules of a valid plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// No more frames than there are; none with the queen or from a colony on hold.
    Supply,
    /// Each compartment gets every line's frames.
    Recipe,
    /// Floors hold.
    Keep,
    /// Caps hold.
    Draw,
    /// Enough bees arrive and stay.
    Bees,
    /// No more compartments than exist; whole boxes whole.
    Boxes,
    /// No more compartments than cells.
    Cells,
    /// Colonies give the frames that are wished for.
    Give,
    /// What is already done is in the plan as it stands.
    Done,
}

/// A broken rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Breach {
    /// Which rule.
    pub rule: Rule,
    /// Where: colony, compartment, box kind or store room, in words.
    pub place: String,
    /// What was found, with unit.
    pub found: String,
    /// What the rule asks for, with unit.
    pub expected: String,
}

/// What a colony holds, summed over its frames.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Holding {
    /// Brood, in thousandths of a frame equivalent.
    pub brood: Milli,
    /// Bees, on frames and besides.
    pub bees: Bees,
    /// Stores, rounded to whole grams for each frame.
    pub stores: Grams,
    /// Drawn comb, in thousandths of a frame equivalent.
    pub drawn: Milli,
}

/// What a plan takes from one colony and what it leaves there.
///
/// A plan that takes more than there is leaves negative figures; [`check`] reports it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ColonyAccount {
    /// Which colony.
    pub colony: ColonyId,
    /// Before the draw.
    pub before: Holding,
    /// After the draw.
    pub after: Holding,
    /// Frames taken.
    pub frames: u64,
    /// Bees taken, with the frames and shaken.
    pub bees: Bees,
    /// Bees shaken from frames that stay.
    pub shaken: Bees,
    /// Honey given up, charged.
    pub honey: Milligrams,
}

/// Recomputes a plan's goals and every breach, from the scenario and the plan alone.
///
/// Breaches are in the order of their rules; within one rule in the order of the scenario
/// or of the plan. Goals are those of the plan as it stands, valid or not; figures beyond
/// the range of their type are given as the nearest they can hold.
///
/// ```
/// use spareframe_solver::{Goals, Plan, Scenario, check};
/// assert_eq!(check(&Scenario::default(), &Plan::default()), (Goals::default(), vec![]));
/// ```
#[must_use]
pub fn check(scenario: &Scenario, plan: &Plan) -> (Goals, Vec<Breach>) {
    let mut breaches = Vec::new();
    let taken = Taken::of(scenario, plan.touched());
    let done = Taken::of(scenario, &scenario.done);
    let accounts = accounts(scenario, &taken, &done);
    supply::supply(scenario, plan, &taken, &mut breaches);
    supply::recipe(scenario, plan, &mut breaches);
    draws::keep(scenario, &accounts, &mut breaches);
    draws::draw(scenario, &accounts, &mut breaches);
    stocked::bees(scenario, plan, &mut breaches);
    stocked::boxes(scenario, plan, &mut breaches);
    cells::cells(scenario, plan, &mut breaches);
    wishes::give(scenario, plan, &mut breaches);
    done::done(scenario, plan, &mut breaches);
    (goals(scenario, plan, &accounts), breaches)
}

/// What a plan takes from each colony and leaves there, in the order of the scenario,
/// colonies that give nothing included.
#[must_use]
pub fn remains(scenario: &Scenario, plan: &Plan) -> Vec<ColonyAccount> {
    let taken = Taken::of(scenario, plan.touched());
    let done = Taken::of(scenario, &scenario.done);
    accounts(scenario, &taken, &done)
        .iter()
        .enumerate()
        .map(|(colony, account)| ColonyAccount {
            colony: ColonyId(colony),
            before: account.before.narrow(),
            after: account.before.less(account.drawn).narrow(),
            frames: u64::try_from(account.frames).unwrap_or(u64::MAX),
            bees: Bees(narrow(account.bees)),
            shaken: Bees(narrow(account.shaken())),
            honey: Milligrams(narrow(account.honey)),
        })
        .collect()
}

fn goals(scenario: &Scenario, plan: &Plan, accounts: &[Account]) -> Goals {
    let worth: i128 = plan
        .compartments
        .iter()
        .filter_map(|c| scenario.boxes.get(c.kind.0))
        .map(|kind| i128::from(kind.worth.0))
        .sum();
    let opened = accounts.iter().filter(|a| a.opened()).count();
    Goals {
        worth: Worth(narrow(worth)),
        honey: Milligrams(narrow(all_honey(accounts))),
        opened: u32::try_from(opened).unwrap_or(u32::MAX),
        shaken: Bees(narrow(accounts.iter().map(Account::shaken).sum())),
    }
}

#[cfg(test)]
mod tests {
    use super::account::part;
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
            bees: Milli(750),
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
            extra_bees: Bees(3000),
            crop: Some(Crop {
                honey: Grams(20_000),
                from: 5,
                to: 30,
            }),
            keep: Keep::default(),
            draw: Draw::default(),
        };
        Scenario {
            combs: vec![Comb {
                name: "comb".into(),
                bees: Bees(2000),
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
                    bees: Bees(3200),
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
        assert_eq!((a.frames, a.bees, a.shaken), (2, Bees(3200), Bees(200)));
        let holding = |brood, bees, stores, drawn| Holding {
            brood: Milli(brood),
            bees: Bees(bees),
            stores: Grams(stores),
            drawn: Milli(drawn),
        };
        assert_eq!(a.before, holding(3600, 12_000, 2400, 6000));
        assert_eq!(a.after, holding(2400, 8800, 1600, 4000));
        assert_eq!(accounts[1].before, accounts[1].after);
        assert_eq!(accounts[1].honey, Milligrams(0));
    }

    #[test]
    fn account_of_too_great_a_draw_is_negative() {
        let a = remains(&scenario(), &plan(10))[0];
        assert_eq!(a.after.brood, Milli(-2400));
    }

    #[test]
    fn a_share_is_rounded_half_up() {
        assert_eq!(part(Milli(5), 100), 1);
        assert_eq!(part(Milli(4), 100), 0);
        assert_eq!(part(Milli(333), 10), 3);
        assert_eq!(part(Milli(1000), 4321), 4321);
    }
}
