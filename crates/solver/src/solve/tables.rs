//! The scenario as the optimiser sees it: exact figures, in an order that does not depend on
//! the order in which things were written down.

use std::collections::BTreeMap;

use itertools::Itertools;

use crate::honey::{self, HoneyRates};
use crate::plan::Plan;
use crate::scenario::{BoxId, ColonyId, FrameState, Line, Scenario, SiteId};
use crate::units::share_of;

/// A recipe line of a kind of box.
#[derive(Debug, Clone)]
pub(super) struct Need {
    /// Position in [`Tables::kinds`].
    pub kind: usize,
    /// Index in the box kind's lines.
    pub line: usize,
    /// Frames for each compartment.
    pub each: u32,
}

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

/// A kind of box.
#[derive(Debug, Clone)]
pub(super) struct Kind {
    pub id: BoxId,
    /// Position in [`Tables::sites`].
    pub site: usize,
    /// Most compartments.
    pub most: i64,
    /// Compartments are stocked in multiples of this.
    pub step: i64,
    pub worth: i64,
    pub bees: i64,
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
    /// Frames that an earlier plan takes from colonies, all of them drawn otherwise where every
    /// colony stays closed.
    pub then: i64,
}

impl Tables {
    pub fn new(scenario: &Scenario) -> Self {
        Self::near(scenario, None)
    }

    /// With an earlier plan, where one is to be kept to.
    pub fn near(scenario: &Scenario, then: Option<&Plan>) -> Self {
        let then = then.map(Plan::drawn).unwrap_or_default();
        let mut kinds: Vec<Kind> = Vec::new();
        let mut needs = Vec::new();
        let mut sites: Vec<SiteId> = Vec::new();
        let order = (0..scenario.boxes.len())
            .sorted_by(|&a, &b| scenario.boxes[a].name.cmp(&scenario.boxes[b].name));
        for index in order {
            let kind = &scenario.boxes[index];
            let site = sites
                .iter()
                .position(|&s| s == kind.site)
                .unwrap_or_else(|| {
                    sites.push(kind.site);
                    sites.len() - 1
                });
            for (line, wanted) in kind.lines.iter().enumerate() {
                needs.push(Need {
                    kind: kinds.len(),
                    line,
                    each: wanted.count,
                });
            }
            let most = i64::from(kind.count) * i64::from(kind.compartments);
            kinds.push(Kind {
                id: BoxId(index),
                site,
                most,
                step: if kind.whole {
                    i64::from(kind.compartments)
                } else {
                    1
                },
                worth: kind.worth.0,
                bees: kind.bees.0,
            });
        }
        let service = |frame: &FrameState| -> Service {
            needs
                .iter()
                .map(|need| {
                    rank(
                        frame,
                        &scenario.boxes[kinds[need.kind].id.0].lines[need.line],
                    )
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
                store_room[class].push((index, spare.count));
            }
        }
        let mut donors: Vec<Donor> = (0..scenario.colonies.len())
            .sorted_by(|&a, &b| scenario.colonies[a].name.cmp(&scenario.colonies[b].name))
            .filter_map(|index| {
                let class_of = |frame: &FrameState| classes.get(&service(frame)).copied();
                donor(scenario, ColonyId(index), &sites, &then, class_of)
            })
            .collect();
        donors.shrink_to_fit();
        let cells = scenario.cells.as_ref().map(|batches| {
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
        Self {
            kinds,
            needs,
            classes: classes.into_keys().collect(),
            donors,
            store_room,
            sites,
            cells,
            honey_cap: scenario.honey_cap.map(|cap| cap.0),
            wishes: scenario.gives.iter().any(|give| give.frames > 0),
            then: then.values().map(|&count| narrow(count)).sum(),
        }
    }
}

impl Tables {
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

/// The first place in the line's order of preference that the frame fits.
fn rank(frame: &FrameState, line: &Line) -> Option<u8> {
    std::iter::once(&line.ask)
        .chain(line.substitutes.iter().map(|substitute| &substitute.ask))
        .position(|ask| ask.fits(frame))
        .map(|place| u8::try_from(place).unwrap_or(u8::MAX))
}

/// `None` for a colony on hold, one below its floors already, or one with nothing to give.
fn donor(
    scenario: &Scenario,
    id: ColonyId,
    sites: &[SiteId],
    then: &BTreeMap<(ColonyId, usize), u64>,
    class_of: impl Fn(&FrameState) -> Option<usize>,
) -> Option<Donor> {
    let colony = &scenario.colonies[id.0];
    if colony.hold.is_some() {
        return None;
    }
    let rates = honey::rates(&scenario.combs, colony, &scenario.colony_model);
    let (mut brood, mut stores, mut drawn, mut bees) = (0, 0, 0, colony.extra_bees.0);
    let mut items: Vec<(FrameState, Item)> = Vec::new();
    for index in (0..colony.frames.len()).sorted_by_key(|&g| colony.frames[g].frame) {
        let group = &colony.frames[index];
        let item = item(scenario, &group.frame, rates);
        let count = i64::from(group.count);
        brood += item.brood * count;
        stores += item.stores * count;
        drawn += item.drawn * count;
        bees += item.bees * count;
        let Some(class) = class_of(&group.frame) else {
            continue;
        };
        if group.queen || group.count == 0 {
            continue;
        }
        let taken = then.get(&(id, index)).copied().unwrap_or(0);
        let part = Part {
            group: index,
            count: group.count,
            then: u32::try_from(taken).map_or(group.count, |n| n.min(group.count)),
        };
        let give = wish(scenario, id, Some(index));
        match items.last_mut() {
            Some((frame, same)) if *frame == group.frame && give == 0 && same.give == 0 => {
                same.count += group.count;
                same.groups.push(part);
            }
            _ => items.push((
                group.frame,
                Item {
                    class,
                    count: group.count,
                    groups: vec![part],
                    give,
                    ..item
                },
            )),
        }
    }
    let keep = colony.keep;
    let draw = colony.draw;
    let left = Donor {
        id,
        items: items.into_iter().map(|(_, item)| item).collect(),
        frames: draw.frames.map_or(i64::from(u32::MAX), i64::from),
        brood: (brood - keep.brood.0).min(draw.brood.map_or(i64::MAX, |cap| cap.0)),
        stores: stores - keep.stores.0,
        drawn: drawn - keep.drawn.0,
        bees: (bees - keep.bees.0).min(draw.bees.map_or(i64::MAX, |cap| cap.0)),
        honey: draw.honey.map(|cap| cap.0),
        bee_rate: rates.bees,
        stay: sites
            .iter()
            .map(|&site| stay(scenario, colony.site, site))
            .collect(),
        give: wish(scenario, id, None),
    };
    let below = left.brood < 0 || left.stores < 0 || left.drawn < 0 || left.bees < 0;
    (!below && (!left.items.is_empty() || left.bees > 0)).then_some(left)
}

fn item(scenario: &Scenario, frame: &FrameState, rates: HoneyRates) -> Item {
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

/// The most frames that are wished for from a colony, or from one of its groups.
fn wish(scenario: &Scenario, id: ColonyId, group: Option<usize>) -> u32 {
    let wishes = scenario.gives.iter();
    let wishes = wishes.filter(|give| give.colony == id && give.group == group);
    wishes.map(|give| give.frames).max().unwrap_or(0)
}

/// Thousandths of the bees taken at `from` that stay in a box at `to`.
fn stay(scenario: &Scenario, from: SiteId, to: SiteId) -> i64 {
    if scenario.distances[from.0][to.0] < scenario.drift.homing_metres {
        1000 - scenario.drift.flying.0
    } else {
        1000
    }
}
