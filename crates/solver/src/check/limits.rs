//! Rules keep and draw: floors and caps of each colony.

use super::account::{Account, Drawn};
use super::breach::{
    self, Amount, Breaches, Fault, Place, Rule, brood, drawn, honey, hundreds, narrow, stores,
};
use super::figures::up;
use super::goals::all_honey;
use crate::scenario::{Colony, ColonyId, Scenario};
use crate::units::Hundreds;

/// The colonies that give more than what is done: what was done alone is blamed for nothing.
fn giving<'a>(
    scenario: &'a Scenario,
    accounts: &'a [Account],
) -> impl Iterator<Item = (ColonyId, &'a Colony, &'a Account)> {
    let colonies = scenario.colonies.iter().zip(accounts).enumerate();
    colonies
        .filter(|(_, (_, account))| account.drawn.any() && account.gives_more)
        .map(|(id, (colony, account))| (ColonyId(id), colony, account))
}

pub(super) fn keep(scenario: &Scenario, accounts: &[Account], breaches: &mut Breaches) {
    for (id, colony, account) in giving(scenario, accounts) {
        let (left, keep, place) = (account.after(), &colony.keep, Place::Colony(id));
        // Where it had less before, or had after what is done, that is enough.
        let done = account.after_done();
        let mut floor = |left: i128, done: i128, least: i64, amount: fn(i64) -> Amount| {
            breaches.floor(Rule::Keep, place, (left, done.min(least.into())), amount);
        };
        floor(left.brood, done.brood, keep.brood.0, brood);
        floor(left.bees, done.bees, keep.bees.0, hundreds);
        floor(left.stores, done.stores, keep.stores.0, stores);
        floor(left.drawn, done.drawn, keep.drawn.0, drawn);
        covered(place, keep.covered.0.into(), account, breaches);
    }
}

/// Bees that stay cover the brood that stays, or as well as before, or as well as after what is done.
fn covered(place: Place, percent: i128, account: &Account, breaches: &mut Breaches) {
    let (left, before, done) = (account.after(), account.before, account.after_done());
    let enough = [
        (percent, 100_000),
        (before.bees, before.cover),
        (done.bees, done.cover),
    ];
    let least = enough
        .into_iter()
        .filter(|&(_, cover)| cover > 0)
        .map(|(bees, cover)| up(bees.saturating_mul(left.cover), cover))
        .min()
        .unwrap_or(0);
    if left.bees < least {
        let fault = Fault::Bare {
            bees: Hundreds(narrow(left.bees)),
            least: Hundreds(narrow(least)),
        };
        breaches.add(Rule::Keep, place, fault);
    }
}

pub(super) fn draw(scenario: &Scenario, accounts: &[Account], breaches: &mut Breaches) {
    for (id, colony, account) in giving(scenario, accounts) {
        let (caps, place) = (&colony.draw, Place::Colony(id));
        let mut cap = |of: fn(&Drawn) -> i128, most: Option<i64>, amount: fn(i64) -> Amount| {
            if let Some(most) = most {
                // What is done is within each cap.
                let most = of(&account.done).max(most.into());
                breaches.cap(Rule::Draw, place, (of(&account.drawn), most), amount);
            }
        };
        cap(
            |drawn| drawn.frames,
            caps.frames.map(i64::from),
            Amount::Frames,
        );
        cap(|drawn| drawn.content.brood, caps.brood.map(|b| b.0), brood);
        cap(|drawn| drawn.bees.all(), caps.bees.map(|b| b.0), hundreds);
        cap(|drawn| drawn.honey, caps.honey.map(|h| h.0), honey);
    }
    of_all(scenario, accounts, breaches);
}

/// The cap on honey of all colonies is at least what is done.
fn of_all(scenario: &Scenario, accounts: &[Account], breaches: &mut Breaches) {
    let Some(cap) = scenario.honey_cap else {
        return;
    };
    let done = all_honey(accounts, |account| account.done.honey);
    let all = all_honey(accounts, |account| account.drawn.honey);
    let most = done.max(i128::from(cap.0).max(0));
    breaches.cap(Rule::Draw, Place::AllColonies, (all, most), breach::honey);
}
