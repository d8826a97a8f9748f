//! The scenario as the optimiser sees it: exact figures, in an order that does not depend on
//! the order in which things were written down.

use std::collections::{BTreeMap, BTreeSet};

use itertools::Itertools;

use super::bound::Aim;
use super::done::Done;
use super::kinds::{Kind, Need, kinds, settle_finished};
use super::spent::{Gone, Spent};
use crate::honey::{self, HoneyRates};
use crate::plan::{Origin, Plan};
use crate::scenario::{BoxId, ColonyId, FrameState, Scenario, SiteId};
use crate::units::share_of;

/// For each need, the first place in its order of preference that a frame fits.
pub(super) type Service = Vec<Option<u8>>;

/// Frames of one group in an [`Item`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Part {
    /// Index in the colony's frame groups.
    pub group: usize,
    /// How many there are.
    pub count: u32,
    /// How many of these an earlier plan takes; 0 without one.
    pub then: u32,
}

/// Identical frames of one donor that serve something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Item {
    /// Position in [`Tables::classes`].
    pub class: usize,
    /// How many.
    pub count: u32,
    pub brood: i64,
    pub stores: i64,
    pub drawn: i64,
    pub bees: i64,
    pub charge: i64,
    /// Frame groups it is made of; one alone where there is a wish for it.
    pub groups: Vec<Part>,
    /// Frames of it that are to leave at least.
    pub give: u32,
}

impl Item {
    /// Frames of it that an earlier plan takes, of those that there still are.
    pub fn then(&self) -> i64 {
        self.groups.iter().map(|part| i64::from(part.then)).sum()
    }

    /// Frames drawn otherwise than in an earlier plan where so many are taken, less those drawn
    /// otherwise where none is: may be negative. The groups share the frames out in the best way
    /// ([`share_out`]).
    pub fn otherwise(&self, count: u32) -> i64 {
        let then = self.then();
        (i64::from(count) - then).abs() - then
    }
}

/// How many frames each part gives of so many: first what an earlier plan takes, in order.
pub(super) fn share_out(parts: &[Part], mut count: u32) -> Vec<u32> {
    let mut given = vec![0; parts.len()];
    for kept in [true, false] {
        for (part, given) in parts.iter().zip(&mut given) {
            let most = if kept { part.then } else { part.count } - *given;
            let more = most.min(count);
            *given += more;
            count -= more;
        }
    }
    given
}

/// A colony that may give, with what its floors and caps leave.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Donor {
    pub id: ColonyId,
    pub items: Vec<Item>,
    pub frames: i64,
    pub brood: i64,
    pub stores: i64,
    pub drawn: i64,
    pub bees: i64,
    pub honey: Option<i64>,
    pub bee_rate: i64,
    /// It has already given something, so that it costs nothing to open it.
    pub opened: bool,
    /// Thousandths of the bees taken that stay, for each of [`Tables::sites`].
    pub stay: Vec<i64>,
    /// Frames that are to leave at least.
    pub give: u32,
}

impl Donor {
    /// Whether it must be opened, as frames of it are wished for.
    pub fn wished(&self) -> bool {
        self.give > 0 || self.items.iter().any(|item| item.give > 0)
    }

    /// Most bees that may leave beside frames with this charge.
    pub fn most_bees(&self, charge: i64) -> i64 {
        match self.honey {
            Some(cap) if self.bee_rate > 0 => self.bees.min((cap - charge) / self.bee_rate),
            _ => self.bees,
        }
    }
}

/// Everything the model needs.
#[derive(Debug, Clone)]
pub(super) struct Tables {
    pub kinds: Vec<Kind>,
    pub needs: Vec<Need>,
    pub classes: Vec<Service>,
    pub donors: Vec<Donor>,
    /// Store room frames for each class: index in the store room and count.
    pub store_room: Vec<Vec<(usize, u32)>>,
    pub sites: Vec<SiteId>,
    /// For each batch of cells: how many, and the kinds it is for.
    pub cells: Option<Vec<(i64, Vec<usize>)>>,
    pub honey_cap: Option<i64>,
    /// There are wishes, so that no frame may leave that nothing needs, whatever the goal.
    pub wishes: bool,
    /// Frames drawn otherwise than in an earlier plan if nothing more is taken from any colony.
    then: i64,
    /// What is done comes to.
    spent: Spent,
    pub done: Done,
}

impl Tables {
    pub fn new(scenario: &Scenario) -> Self {
        Self::near(scenario, None)
    }

    /// With an earlier plan, where one is to be kept to.
    pub fn near(scenario: &Scenario, then: Option<&Plan>) -> Self {
        let then = then.map(Plan::drawn).unwrap_or_default();
        let done = Done::of(scenario);
        let (mut kinds, needs, sites) = kinds(scenario, &done);
        let service = |frame: &FrameState| -> Service {
            needs
                .iter()
                .map(|need| {
                    let kind = &scenario.boxes[kinds[need.kind].id.0];
                    let place = kind.lines[need.line].place_of(frame)?;
                    Some(u8::try_from(place).unwrap_or(u8::MAX))
                })
                .collect()
        };
        let mut classes: BTreeMap<Service, usize> = BTreeMap::new();
        let frames = scenario.store_room.iter().map(|spare| spare.frame).chain(
            scenario
                .colonies
                .iter()
                .flat_map(|c| c.frames.iter().map(|g| g.frame)),
        );
        for frame in frames {
            let service = service(&frame);
            if service.iter().any(Option::is_some) {
                classes.insert(service, 0);
            }
        }
        for (position, class) in classes.values_mut().enumerate() {
            *class = position;
        }
        let mut store_room = vec![Vec::new(); classes.len()];
        let shelf = (0..scenario.store_room.len()).sorted_by_key(|&i| scenario.store_room[i].frame);
        for index in shelf {
            let spare = &scenario.store_room[index];
            if let Some(&class) = classes.get(&service(&spare.frame)) {
                let gone = done.frames(Origin::StoreRoom(index));
                store_room[class].push((index, spare.count.saturating_sub(gone)));
            }
        }
        let mut donors: Vec<Donor> = (0..scenario.colonies.len())
            .sorted_by(|&a, &b| scenario.colonies[a].name.cmp(&scenario.colonies[b].name))
            .filter_map(|index| {
                let class_of = |frame: &FrameState| classes.get(&service(frame)).copied();
                donor(scenario, ColonyId(index), &sites, (&done, &then), class_of)
            })
            .collect();
        donors.shrink_to_fit();
        let cells: Option<Vec<_>> = scenario.cells.as_ref().map(|batches| {
            batches
                .iter()
                .map(|batch| {
                    let kinds = kinds
                        .iter()
                        .positions(|kind| batch.boxes.is_empty() || batch.boxes.contains(&kind.id))
                        .collect_vec();
                    (i64::from(batch.count), kinds)
                })
                .sorted()
                .collect()
        });
        settle_finished(&mut kinds, &needs, cells.as_deref());
        let spent = Spent::of(scenario, &done);
        let apart = |group: &(ColonyId, usize)| {
            let gone = u64::from(done.frames(Origin::Colony(group.0, group.1)));
            then.get(group).copied().unwrap_or(0).abs_diff(gone)
        };
        let groups = scenario.colonies.iter().enumerate();
        let groups = groups.flat_map(|(at, c)| (0..c.frames.len()).map(move |g| (ColonyId(at), g)));
        let groups: BTreeSet<_> = groups.chain(then.keys().copied()).collect();
        Self {
            kinds,
            needs,
            classes: classes.into_keys().collect(),
            donors,
            store_room,
            sites,
            cells,
            honey_cap: scenario.honey_cap.map(|cap| cap.0.max(spent.honey)),
            wishes: scenario.gives.iter().any(|give| done.left_of(give) > 0),
            then: groups.iter().map(|group| narrow(apart(group))).sum(),
            spent,
            done,
        }
    }
}

impl Tables {
    /// What an aim comes to where nothing more is taken, but for worth, which compartments count.
    pub fn base(&self, aim: Aim) -> i64 {
        match aim {
            Aim::Worth => 0,
            Aim::Honey => self.spent.honey,
            Aim::Otherwise => self.then,
            Aim::Opened => self.spent.opened,
            Aim::Shaken => self.spent.shaken,
        }
    }

    /// Lets no bee that is already in a compartment beyond its fewest count for others; returns
    /// whether any did.
    pub fn count_no_surplus(&mut self) -> bool {
        let counted = self.kinds.iter().any(|kind| kind.fewest < 0);
        for kind in &mut self.kinds {
            kind.fewest = kind.fewest.max(0);
        }
        settle_finished(&mut self.kinds, &self.needs, self.cells.as_deref());
        counted
    }

    /// The position of the kind that a compartment is of.
    pub fn kind_at(&self, id: BoxId, place: (u32, u32)) -> Option<usize> {
        let here = |kind: &Kind| kind.id == id && kind.places.has(place);
        self.kinds.iter().position(here)
    }

    /// For each class, the most frames that all boxes together can use.
    pub fn wanted(&self) -> Vec<i64> {
        self.classes
            .iter()
            .map(|serves| {
                let served = serves
                    .iter()
                    .zip(&self.needs)
                    .filter(|(rank, _)| rank.is_some());
                served
                    .map(|(_, need)| self.kinds[need.kind].most * i64::from(need.each))
                    .sum()
            })
            .collect()
    }
}

fn narrow(count: u64) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

/// `None` for a colony on hold, one that is below its floors or above its caps already, or one with
/// nothing to give.
fn donor(
    scenario: &Scenario,
    id: ColonyId,
    sites: &[SiteId],
    (done, then): (&Done, &BTreeMap<(ColonyId, usize), u64>),
    class_of: impl Fn(&FrameState) -> Option<usize>,
) -> Option<Donor> {
    let colony = &scenario.colonies[id.0];
    if colony.hold.is_some() {
        return None;
    }
    let rates = honey::rates(&scenario.combs, colony, &scenario.colony_model);
    let gone = Gone::of(scenario, colony, id, done);
    let (mut brood, mut stores, mut drawn) = (0, 0, 0);
    let mut bees = colony.extra_bees.0 - gone.bees;
    let mut items: Vec<(FrameState, Item)> = Vec::new();
    for index in (0..colony.frames.len()).sorted_by_key(|&g| colony.frames[g].frame) {
        let group = &colony.frames[index];
        let item = item(scenario, &group.frame, rates);
        let left_home = done.frames(Origin::Colony(id, index));
        let count = group.count.saturating_sub(left_home);
        bees += item.bees * i64::from(group.count);
        brood += item.brood * i64::from(count);
        stores += item.stores * i64::from(count);
        drawn += item.drawn * i64::from(count);
        let Some(class) = class_of(&group.frame) else {
            continue;
        };
        if group.queen || count == 0 {
            continue;
        }
        let wanted = then.get(&(id, index)).copied().unwrap_or(0);
        let wanted = wanted.saturating_sub(u64::from(left_home));
        let part = Part {
            group: index,
            count,
            then: u32::try_from(wanted).map_or(count, |n| n.min(count)),
        };
        let give = wish(scenario, id, Some(index), done);
        match items.last_mut() {
            Some((frame, same)) if *frame == group.frame && give == 0 && same.give == 0 => {
                same.count += count;
                same.groups.push(part);
            }
            _ => items.push((
                group.frame,
                Item {
                    class,
                    count,
                    groups: vec![part],
                    give,
                    ..item
                },
            )),
        }
    }
    let keep = colony.keep;
    let draw = colony.draw;
    let cap = |most: Option<i64>, gone: i64| most.map_or(i64::MAX, |most| most - gone);
    let honey = draw.honey.map(|most| most.0 - gone.charge);
    let frames = cap(draw.frames.map(i64::from), gone.frames);
    let left = Donor {
        id,
        items: items.into_iter().map(|(_, item)| item).collect(),
        frames: frames.min(i64::from(u32::MAX)),
        brood: (brood - keep.brood.0).min(cap(draw.brood.map(|most| most.0), gone.brood)),
        stores: stores - keep.stores.0,
        drawn: drawn - keep.drawn.0,
        bees: (bees - keep.bees.0).min(cap(draw.bees.map(|most| most.0), gone.bees)),
        honey,
        bee_rate: rates.bees,
        opened: done.opened(id),
        stay: sites
            .iter()
            .map(|&site| stay(scenario, colony.site, site))
            .collect(),
        give: wish(scenario, id, None, done),
    };
    let spent = [left.frames, left.brood, left.stores, left.drawn, left.bees];
    let below = spent.into_iter().chain(left.honey).any(|room| room < 0);
    (!below && (!left.items.is_empty() || left.bees > 0)).then_some(left)
}

pub(super) fn item(scenario: &Scenario, frame: &FrameState, rates: HoneyRates) -> Item {
    let comb = &scenario.combs[frame.comb.0];
    Item {
        class: 0,
        count: 0,
        brood: frame.brood.0,
        stores: share_of(frame.stores, comb.stores.0),
        drawn: frame.drawn.0,
        bees: share_of(frame.bees, comb.bees.0),
        charge: honey::frame_charge(comb, frame, rates).0,
        groups: Vec::new(),
        give: 0,
    }
}

/// The most frames that are still wished for from a colony, or from one of its groups.
fn wish(scenario: &Scenario, id: ColonyId, group: Option<usize>, done: &Done) -> u32 {
    let wishes = scenario.gives.iter();
    let wishes = wishes.filter(|give| give.colony == id && give.group == group);
    wishes.map(|give| done.left_of(give)).max().unwrap_or(0)
}

/// Thousandths of the bees taken at `from` that stay in a box at `to`.
pub(super) fn stay(scenario: &Scenario, from: SiteId, to: SiteId) -> i64 {
    if scenario.distances[from.0][to.0] < scenario.drift.homing_metres {
        1000 - scenario.drift.flying.0
    } else {
        1000
    }
}
