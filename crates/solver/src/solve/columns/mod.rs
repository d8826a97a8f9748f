//! Columns of one colony: which frames leave for which sites, how large a share it gives, and the loose
//! bees that go with them.
//!
//! A column takes the fewest bees that must ride; all further bees are loose, since a loose bee serves
//! every row that a riding one serves. The share p is a level: its burden is paid, and as many bees may
//! leave as it allows.

mod listing;
mod pricing;
mod relaxed;
mod search;
#[cfg(test)]
mod tests;

pub(crate) use listing::Listing;
pub(crate) use pricing::Draw;
use pricing::View;
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::sync::Arc;

use super::instance::{Donor, Instance, Item, divisor, points};

/// Vectors of frames that a colony may list (a choice); one with more is priced by search as needed.
const LISTED: usize = 3000;

/// Frames of one item for one site; for any site where no bees must ride on them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Slot {
    pub item: usize,
    pub site: Option<usize>,
    /// Needs they may serve, each with its place in the order of preference.
    pub needs: Vec<(usize, i64)>,
    /// Most frames of it.
    pub most: u32,
}

/// Rows that bees of a colony count in at a site, with the coefficient of a hundred.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct SiteRows {
    /// Of a riding hundred.
    pub riding: Vec<(usize, i64)>,
    /// Of a loose hundred.
    pub loose: Vec<(usize, i64)>,
}

/// The domain of a colony: what a node leaves of its choices.
#[derive(Debug, Clone)]
pub(crate) struct Choices {
    /// Fewest and most frames, by slot.
    pub frames: Vec<(u32, u32)>,
    /// Least and greatest share.
    pub share: (usize, usize),
    /// Whether it may stay closed, and be opened.
    pub closed: bool,
    pub opened: bool,
    /// Vectors that are left, where they are listed and some are not.
    pub list: Option<Rc<[u32]>>,
    /// Nothing is restricted.
    pub all: bool,
}

/// The columns of one colony.
pub(crate) struct Columns<'a> {
    pub donor: &'a Donor,
    pub slots: Vec<Slot>,
    /// By slot: one whose frames dominate its own, so that all of them leave before it is used.
    dominated: Vec<Option<usize>>,
    pub rows: Vec<SiteRows>,
    /// The row of the honey cap.
    pub honey_row: Option<usize>,
    /// Grams for a place in the order of preference, for opening it, and for a frame drawn otherwise.
    pub substitute: i64,
    pub opening: i64,
    pub otherwise: i64,
    /// By share: grams of burden beyond what is done.
    pub burden: Vec<i64>,
    /// By share: hundreds of bees that may be taken, beyond what is done.
    pub taken: Vec<i64>,
    /// All vectors that may be of interest, where they are few.
    pub listing: Option<Arc<Listing>>,
    /// They are all listed, whatever the prices.
    whole: bool,
    pub choices: Rc<Choices>,
    /// Prices as seen last; kept so that no memory is asked for again.
    seen: RefCell<View>,
    /// Slots that searches have gone through since this was last asked.
    pub searched: Cell<usize>,
}

impl<'a> Columns<'a> {
    /// Their vectors are not listed yet.
    pub fn new(instance: &'a Instance, donor: &'a Donor, rows: Vec<SiteRows>) -> Self {
        let prices = &instance.prices;
        let mut burden = vec![0];
        let mut taken = vec![i64::MAX / 4];
        if let Some(share) = &donor.burden {
            let gone = share.burden(0, 0);
            burden = (0..=100)
                .map(|p| prices.burden.0 * (points(p) - gone).max(0))
                .collect();
            taken = (0..=100)
                .map(|p| (p * share.bees_before / 100 - share.bees_gone).max(0))
                .collect();
        }
        let slots = slots(instance, donor);
        let dominated = dominated(instance, donor, &slots);
        let last = burden.len() - 1;
        Self {
            choices: Rc::new(Choices::all(&slots, last, donor)),
            donor,
            slots,
            dominated,
            rows,
            honey_row: None,
            substitute: prices.substitute.0,
            opening: if donor.opened { 0 } else { prices.opened.0 },
            otherwise: if instance.near { prices.otherwise.0 } else { 0 },
            burden,
            taken,
            listing: None,
            whole: false,
            seen: RefCell::default(),
            searched: Cell::default(),
        }
    }

    /// Lists the vectors, if they are few.
    pub fn list_all(&mut self) {
        self.take_list(self.list().map(Arc::new));
    }

    /// Takes this list of the vectors; none where they are too many.
    pub fn take_list(&mut self, listing: Option<Arc<Listing>>) {
        self.listing = listing;
        self.whole = self.listing.is_some();
    }

    pub fn item(&self, slot: usize) -> &Item {
        &self.donor.items[self.slots[slot].item]
    }

    /// Share in percent with so many hundreds of bees and brood cells beyond what is done; 0 where the colony
    /// carries no burden.
    pub fn share(&self, bees: i64, cells: i64) -> usize {
        let share = self.donor.burden.as_ref();
        let percent = share.map_or(0, |share| share.percent(bees, cells));
        usize::try_from(percent).map_or(0, |p| p.min(self.burden.len() - 1))
    }

    /// A divisor of the costs of all columns that are left.
    pub fn step(&self) -> i64 {
        let donor = self.donor;
        let mut step = divisor(self.opening, donor.hundred);
        step = self
            .burden
            .iter()
            .fold(step, |step, &burden| divisor(step, burden));
        let place = |slot: &Slot| slot.needs.iter().any(|&(_, place)| place > 0);
        if self.slots.iter().any(place) {
            step = divisor(step, self.substitute);
        }
        match &self.listing {
            Some(list) if self.left(list).next().is_none() => 0,
            Some(list) => self.left(list).fold(step, |step, at| {
                let (counts, facts) = list.at(at);
                divisor(divisor(step, self.charge(counts)), facts.extra)
            }),
            None => {
                let step = divisor(step, self.otherwise);
                donor
                    .items
                    .iter()
                    .fold(step, |step, item| divisor(step, item.charge))
            }
        }
    }
}

impl Columns<'_> {
    /// Leaves all choices.
    pub fn free(&mut self) {
        if !self.whole {
            self.listing = None;
        }
        let all = Choices::all(&self.slots, self.burden.len() - 1, self.donor);
        self.choices = Rc::new(all);
    }

    /// Leaves these choices, and of the vectors those that they allow.
    pub fn restrict(&mut self, mut choices: Choices) {
        if let Some(list) = &self.listing {
            let left = self.left(list).map(|at| (at, list.at(at)));
            let allowed = left.filter(|(_, (counts, facts))| {
                facts.share <= choices.share.1 && choices.allow(counts)
            });
            choices.list = Some(
                allowed
                    .filter_map(|(at, _)| u32::try_from(at).ok())
                    .collect(),
            );
        }
        self.choices = Rc::new(choices);
    }
}

impl Choices {
    fn all(slots: &[Slot], share: usize, donor: &Donor) -> Self {
        let wished = donor.give > 0 || donor.items.iter().any(|item| item.give > 0);
        Self {
            frames: slots.iter().map(|slot| (0, slot.most)).collect(),
            share: (0, share),
            closed: !wished,
            opened: true,
            list: None,
            all: true,
        }
    }
}

fn slots(instance: &Instance, donor: &Donor) -> Vec<Slot> {
    let mut slots = Vec::new();
    for (at, item) in donor.items.iter().enumerate() {
        let service = &instance.classes[item.class];
        let at_site = |site: Option<usize>| -> Slot {
            let needs = service.iter().zip(&instance.needs).enumerate();
            let needs = needs.filter(|(_, (_, need))| {
                site.is_none_or(|site| instance.kinds[need.kind].site == site)
            });
            let needs: Vec<(usize, i64)> = needs
                .filter_map(|(need, (place, _))| Some((need, i64::from((*place)?))))
                .collect();
            let wanted = needs.iter().map(|&(need, _)| {
                let need = &instance.needs[need];
                instance.kinds[need.kind].most * i64::from(need.each)
            });
            let wanted: i64 = wanted.sum();
            let most = wanted
                .min(i64::from(item.count))
                .min(donor.room(item))
                .max(0);
            Slot {
                item: at,
                site,
                needs,
                most: u32::try_from(most).unwrap_or(item.count),
            }
        };
        if item.least > 0 {
            let sites = 0..instance.sites.len();
            slots.extend(
                sites
                    .map(|site| at_site(Some(site)))
                    .filter(|slot| slot.most > 0),
            );
        } else {
            slots.extend(Some(at_site(None)).filter(|slot| slot.most > 0));
        }
    }
    slots
}

/// For each slot, the last before it whose frames dominate its own: they serve the same, carry no brood, and are
/// no dearer in anything that is short.
fn dominated(instance: &Instance, donor: &Donor, slots: &[Slot]) -> Vec<Option<usize>> {
    let plain = |item: &Item| item.give == 0 && item.brood == 0 && item.least == 0;
    let dominates = |a: &Item, b: &Item| {
        let short = |of: &Item| [of.stores, of.drawn, of.charge];
        let no_more = short(a).iter().zip(short(b)).all(|(a, b)| *a <= b);
        a.class == b.class && plain(a) && plain(b) && no_more
    };
    let of_slot = |at: usize| {
        let item = &donor.items[slots[at].item];
        let before = (0..at).rev();
        before
            .filter(|_| !instance.near)
            .find(|&other| dominates(&donor.items[slots[other].item], item))
    };
    (0..slots.len()).map(of_slot).collect()
}
