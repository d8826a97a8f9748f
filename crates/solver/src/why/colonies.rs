//! Why a colony gives nothing, or no more.

use rayon::prelude::*;

use super::asked::Asked;
use super::limit::{Floor, Limit};
use super::single::Effect;
use super::smallest::smallest;
use super::yard::{held, next_cells};
use crate::plan::Plan;
use crate::scenario::{Ask, Colony, ColonyId, FrameGroup, Line, Scenario};
use crate::solve::Reach;
use crate::units::Hundreds;
use crate::{Origin, check, remains};

/// A reason why a colony gives nothing, or no more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Because {
    /// It is on hold.
    OnHold,
    /// It has less than it must keep of this, so it gives none of it.
    Below(Floor),
    /// It has no frame that any line could use, and no bees to give.
    NothingFits,
    /// Every frame of it is given that is of a kind of which more would help.
    GaveAll(Vec<Ask>),
    /// Each of these limits, lifted alone, gives a better plan.
    Limits(Vec<Limit>),
    /// No one of these limits matters alone; lifted together they give a better plan.
    Together(Vec<Limit>),
    /// It would give (more) if that cost neither honey nor burden.
    TooDear,
    /// No limit of its own holds anything back, and it is not too dear.
    NotNeeded,
    /// A search ended without an answer.
    NotKnown,
}

/// What a colony gives and why no more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ColonyReason {
    /// Which colony.
    pub colony: ColonyId,
    /// Frames it gives in the plan.
    pub frames: u64,
    /// Bees it gives in the plan, riding and loose.
    pub bees: Hundreds,
    /// Why no more.
    pub because: Vec<Because>,
}

pub(super) fn colonies(
    asked: &Asked,
    plan: &Plan,
    effects: &[Effect],
    holding: &[bool],
) -> Vec<ColonyReason> {
    let accounts = remains(asked.yard.scenario, plan);
    let accounts = accounts.par_iter();
    accounts
        .map(|account| ColonyReason {
            colony: account.colony,
            frames: account.frames,
            bees: account.bees,
            because: because(asked, plan, (effects, holding), account.colony),
        })
        .collect()
}

/// Colonies that have less of something than they must keep, and so give none of it, though a line could use what they
/// have; each floor that one is below is an entry of its own. Colonies on hold are left out. Known without any search.
///
/// ```
/// use spareframe_solver::why::{Floor, below_floors};
/// use spareframe_solver::{ColonyId, Grams, Scenario};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let mut yard: Scenario = include!("../../doctests/yard.rs");
/// assert_eq!(below_floors(&yard), []);
/// yard.colonies[0].keep.stores = Grams(90_000);
/// assert_eq!(below_floors(&yard), [(ColonyId(0), Floor::Stores)]);
/// ```
#[must_use]
pub fn below_floors(scenario: &Scenario) -> Vec<(ColonyId, Floor)> {
    let colonies = (0..).map(ColonyId).zip(&scenario.colonies);
    let of = |(id, colony): (ColonyId, &Colony)| {
        let below = below(scenario, colony).map(move |floor| (id, floor));
        below.collect::<Vec<_>>()
    };
    colonies
        .filter(|(_, colony)| colony.hold.is_none() && may_give(scenario, colony))
        .flat_map(of)
        .collect()
}

/// The floors that a colony is below before the draw.
fn below(scenario: &Scenario, colony: &Colony) -> impl Iterator<Item = Floor> {
    Floor::TO_GIVE.into_iter().filter(|floor| {
        let held = held(scenario, colony, *floor);
        held.is_some_and(|held| held < floor.of(&colony.keep))
    })
}

fn because(
    asked: &Asked,
    plan: &Plan,
    (effects, holding): (&[Effect], &[bool]),
    id: ColonyId,
) -> Vec<Because> {
    let yard = &asked.yard;
    let Some(colony) = yard.scenario.colonies.get(id.0) else {
        return Vec::new();
    };
    if colony.hold.is_some() {
        return vec![Because::OnHold];
    }
    let mut because: Vec<Because> = below(yard.scenario, colony).map(Because::Below).collect();
    let own = || effects.iter().filter(|e| e.limit.colony() == Some(id));
    let alone: Vec<Limit> = own()
        .filter(|effect| effect.lifted.is_some())
        .map(|effect| effect.limit)
        .collect();
    if because.is_empty() && !may_give(yard.scenario, colony) {
        return vec![Because::NothingFits];
    }
    if !alone.is_empty() {
        because.push(Because::Limits(alone));
        return because;
    }
    let limits: Vec<Limit> = own().map(|effect| effect.limit).collect();
    let chosen = |places: &[usize]| {
        let chosen = places.iter().filter_map(|&place| limits.get(place));
        chosen.copied().collect::<Vec<_>>()
    };
    let better = |places: &[usize]| asked.improves(chosen(places)) == Some(true);
    let holds_back = holding.get(id.0).copied().unwrap_or(false);
    let together = holds_back.then(|| smallest(limits.len(), &better));
    if own().any(|effect| !effect.known) {
        because.push(Because::NotKnown);
    } else if let Some(found) = together.flatten() {
        because.push(Because::Together(chosen(&found.members)));
    } else if let Some(asks) = gave_all(plan, effects, id, colony) {
        because.push(Because::GaveAll(asks));
    } else if because.is_empty() {
        because.push(match too_dear(asked, plan, id) {
            None => Because::NotKnown,
            Some(true) => Because::TooDear,
            Some(false) => Because::NotNeeded,
        });
    }
    because
}

/// Whether a colony has a frame that any line could use, or bees.
fn may_give(scenario: &Scenario, colony: &Colony) -> bool {
    let fits = |group: &FrameGroup| {
        let lines = scenario.boxes.iter().flat_map(|kind| &kind.lines);
        let again = next_cells(scenario).flat_map(|kind| &kind.again.lines);
        let usable = |line: &Line| line.place_of(&group.frame).is_some();
        !group.queen && group.count > 0 && lines.chain(again).any(usable)
    };
    let bees = held(scenario, colony, Floor::Bees);
    bees.is_some_and(|bees| bees > 0) || colony.frames.iter().any(fits)
}

/// Whether, if the colony's frames and bees cost neither honey nor burden, there would be a better plan
/// than the one at hand.
fn too_dear(asked: &Asked, plan: &Plan, id: ColonyId) -> Option<bool> {
    let mut free = asked.yard.scenario.clone();
    if let Some(colony) = free.colonies.get_mut(id.0) {
        colony.crop = None;
        colony.apart = true;
    }
    let (goals, _) = check(&free, plan);
    let now = Reach::of(&goals, &free.prices);
    asked.again.beats(&free, &now)
}

/// The kinds of frames of which more would help and the colony gives all it may, where it gives any
/// and has none left of any such kind.
fn gave_all(plan: &Plan, effects: &[Effect], id: ColonyId, colony: &Colony) -> Option<Vec<Ask>> {
    let mut given = vec![0_u64; colony.frames.len()];
    for placed in plan.compartments.iter().flat_map(|c| &c.frames) {
        if let Origin::Colony(from, group) = placed.origin
            && from == id
            && let Some(count) = given.get_mut(group)
        {
            *count += u64::from(placed.count);
        }
    }
    let scarce = effects.iter().filter_map(|effect| match effect.limit {
        Limit::Frames(ask) if effect.lifted.is_some() => Some(ask),
        _ => None,
    });
    let mut asks = Vec::new();
    for ask in scarce {
        let groups = colony.frames.iter().zip(&given);
        let mut fitting = groups
            .filter(|(group, _)| !group.queen && group.count > 0 && ask.fits(&group.frame))
            .peekable();
        if fitting.peek().is_none() {
            continue;
        }
        if fitting.any(|(group, &given)| given < u64::from(group.count)) {
            return None;
        }
        asks.push(ask);
    }
    (!asks.is_empty()).then_some(asks)
}
