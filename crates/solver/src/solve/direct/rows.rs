//! Columns and rows of the direct model.

use std::collections::BTreeMap;

use super::backend::{Col, Model, Sense};
use crate::solve::allocate::Totals;
use crate::solve::instance::{Donor, Instance, Share};

/// Columns with their coefficients.
type Terms = Vec<(Col, i64)>;

/// Columns of one donor.
pub(super) struct Giving {
    opened: Col,
    /// Frames by item and need.
    frames: BTreeMap<(usize, usize), Col>,
    /// Hundreds of loose bees for each site.
    loose: Vec<Col>,
    /// The share it gives in percent, and points of burden.
    share: Col,
    burden: Col,
    /// Frames of each item that are drawn otherwise than in an earlier plan.
    otherwise: Vec<Col>,
}

/// Where everything stands in the model.
pub(super) struct Columns {
    /// For each kind, compartments in its steps.
    kinds: Vec<Col>,
    donors: Vec<Giving>,
    shelf: BTreeMap<(usize, usize), Col>,
    /// Cells by batch and kind.
    cells: BTreeMap<(usize, usize), Col>,
}

impl Columns {
    pub fn new(instance: &Instance, model: &mut Model) -> Self {
        let kinds = instance.kinds.iter();
        let kinds = kinds.map(|kind| model.column(kind.least / kind.step, kind.most / kind.step));
        let kinds = kinds.collect();
        let mut shelf = BTreeMap::new();
        for (class, entries) in instance.shelf.iter().enumerate() {
            let left = entries.iter().map(|&(_, count)| i64::from(count)).sum();
            for need in serves(instance, class) {
                shelf.insert((class, need), model.column(0, left));
            }
        }
        let mut cells = BTreeMap::new();
        for (batch, (count, kinds)) in instance.cells.iter().flatten().enumerate() {
            for &kind in kinds {
                cells.insert((batch, kind), model.column(0, *count));
            }
        }
        let donors = instance.donors.iter();
        let donors = donors.map(|donor| Giving::new(instance, donor, model));
        Self {
            donors: donors.collect(),
            kinds,
            shelf,
            cells,
        }
    }

    /// Worth of what is stocked.
    pub fn worth(&self, instance: &Instance) -> Terms {
        self.compartments(instance, |kind| instance.kinds[kind].worth)
    }

    /// Cost beyond what is done comes to, but for a constant.
    pub fn cost(&self, instance: &Instance) -> Terms {
        let prices = instance.prices;
        let place = |class: usize, need: usize| -> i64 {
            i64::from(instance.classes[class][need].unwrap_or(0)) * prices.substitute.0
        };
        let shelf = self.shelf.iter();
        let mut cost: Terms = shelf
            .map(|(&(class, need), &col)| (col, place(class, need)))
            .collect();
        for (donor, own) in instance.donors.iter().zip(&self.donors) {
            let opening = if donor.opened { 0 } else { prices.opened.0 };
            cost.push((own.opened, opening));
            cost.push((own.burden, prices.burden.0));
            cost.extend(own.otherwise.iter().map(|&col| (col, prices.otherwise.0)));
            cost.extend(own.honey(donor));
            let frames = own.frames.iter();
            cost.extend(
                frames.map(|(&(item, need), &col)| (col, place(donor.items[item].class, need))),
            );
        }
        cost
    }

    /// Totals of an assignment.
    pub fn totals(&self, instance: &Instance, values: &[i64]) -> Totals {
        let kinds = self.kinds.iter().zip(&instance.kinds);
        let mut totals = Totals {
            compartments: kinds.map(|(&col, kind)| values[col] * kind.step).collect(),
            ..Totals::default()
        };
        let count = |col: Col| u32::try_from(values[col]).unwrap_or(0);
        let shelf = self.shelf.iter().map(|(&key, &col)| (key, count(col)));
        totals.shelf = shelf.filter(|&(_, count)| count > 0).collect();
        for (at, own) in self.donors.iter().enumerate() {
            for (&(item, need), &col) in own.frames.iter().filter(|(_, col)| count(**col) > 0) {
                totals.frames.insert((at, item, need), count(col));
                let site = instance.kinds[instance.needs[need].kind].site;
                let riding = instance.donors[at].items[item].least * values[col];
                totals.bees.entry((at, site)).or_default().0 += riding;
            }
            for (site, &col) in own.loose.iter().enumerate() {
                totals.bees.entry((at, site)).or_default().1 += values[col];
            }
        }
        totals.bees.retain(|_, bees| bees.0 + bees.1 > 0);
        totals
    }

    /// All rules.
    pub fn rows(&self, instance: &Instance, model: &mut Model) {
        self.recipe(instance, model);
        self.bees(instance, model);
        self.cells(instance, model);
        self.ceilings(instance, model);
        for (donor, own) in instance.donors.iter().zip(&self.donors) {
            own.rows(donor, model);
        }
    }

    /// So much for each compartment of each kind.
    fn compartments(&self, instance: &Instance, of: impl Fn(usize) -> i64) -> Terms {
        let kinds = self.kinds.iter().zip(&instance.kinds).enumerate();
        kinds
            .map(|(at, (&col, kind))| (col, kind.step * of(at)))
            .collect()
    }

    /// Each need gets its frames, the store room gives no more than it has.
    fn recipe(&self, instance: &Instance, model: &mut Model) {
        for (at, need) in instance.needs.iter().enumerate() {
            let kind = &instance.kinds[need.kind];
            let mut terms = vec![(self.kinds[need.kind], -kind.step * i64::from(need.each))];
            terms.extend(self.donors.iter().flat_map(|own| own.serving(at)));
            let spares = self.shelf.iter();
            terms.extend(
                spares
                    .filter(|((_, to), _)| *to == at)
                    .map(|(_, &col)| (col, 1)),
            );
            model.row(terms, Sense::Equal, 0);
        }
        for (class, entries) in instance.shelf.iter().enumerate() {
            let left = entries.iter().map(|&(_, count)| i64::from(count)).sum();
            let of = self.shelf.iter().filter(|((from, _), _)| *from == class);
            model.row(of.map(|(_, &col)| (col, 1)).collect(), Sense::AtMost, left);
        }
    }

    /// At each site, enough bees, and enough loose ones.
    fn bees(&self, instance: &Instance, model: &mut Model) {
        for (site, boxes) in instance.sites.iter().enumerate() {
            for loose_only in [false, true] {
                let credit = if loose_only {
                    boxes.loose_credit
                } else {
                    boxes.credit
                };
                let mut terms = self.compartments(instance, |at| {
                    let kind = &instance.kinds[at];
                    let counts = kind.site == site && !(loose_only && kind.brood_line);
                    if counts { -kind.need } else { 0 }
                });
                for (donor, own) in instance.donors.iter().zip(&self.donors) {
                    let stay = donor.stay[site];
                    terms.push((own.loose[site], stay));
                    let frames = own.frames.iter().filter(|_| !loose_only);
                    let here = frames.filter(|((_, need), _)| {
                        instance.kinds[instance.needs[*need].kind].site == site
                    });
                    terms.extend(
                        here.map(|(&(item, _), &col)| (col, stay * donor.items[item].least)),
                    );
                }
                model.row(terms, Sense::AtLeast, -credit);
            }
        }
    }

    /// One cell for each compartment.
    fn cells(&self, instance: &Instance, model: &mut Model) {
        let Some(batches) = &instance.cells else {
            return;
        };
        for (at, (count, _)) in batches.iter().enumerate() {
            let of = self.cells.iter().filter(|((batch, _), _)| *batch == at);
            model.row(
                of.map(|(_, &col)| (col, 1)).collect(),
                Sense::AtMost,
                *count,
            );
        }
        for (at, kind) in instance.kinds.iter().enumerate() {
            let of = self.cells.iter().filter(|((_, of), _)| *of == at);
            let mut terms: Terms = of.map(|(_, &col)| (col, 1)).collect();
            terms.push((self.kinds[at], -kind.step));
            model.row(terms, Sense::AtLeast, 0);
        }
    }

    /// Honey, compartments and worth of all together.
    fn ceilings(&self, instance: &Instance, model: &mut Model) {
        if let Some(room) = instance.honey_room {
            let donors = instance.donors.iter().zip(&self.donors);
            let honey = donors.flat_map(|(donor, own)| own.honey(donor));
            model.row(honey.collect(), Sense::AtMost, room);
        }
        if let Some(most) = instance.most_compartments {
            model.row(self.compartments(instance, |_| 1), Sense::AtMost, most);
        }
        if let Some(most) = instance.most_worth {
            model.row(self.worth(instance), Sense::AtMost, most);
        }
    }
}

/// Needs that frames of a class fit.
fn serves(instance: &Instance, class: usize) -> impl Iterator<Item = usize> + '_ {
    let places = instance.classes[class].iter().enumerate();
    places
        .filter(|(_, place)| place.is_some())
        .map(|(need, _)| need)
}

impl Giving {
    pub fn new(instance: &Instance, donor: &Donor, model: &mut Model) -> Self {
        let mut frames = BTreeMap::new();
        for (at, item) in donor.items.iter().enumerate() {
            for need in serves(instance, item.class) {
                frames.insert((at, need), model.column(0, item.count.into()));
            }
        }
        let sites = instance.sites.iter();
        let loose = sites.map(|_| model.column(0, donor.bees));
        let loose = loose.collect();
        let least = donor
            .burden
            .map_or((0, 0), |share| (share.percent(0, 0), share.burden(0, 0)));
        let items = donor.items.iter();
        Self {
            opened: model.column(0, 1),
            share: model.column(least.0, i64::MAX),
            burden: model.column(least.1, i64::MAX),
            otherwise: items.map(|_| model.column(0, i64::MAX)).collect(),
            frames,
            loose,
        }
    }

    /// A figure over the frames taken.
    pub fn frames(&self, of: impl Fn(usize) -> i64) -> Terms {
        let frames = self.frames.iter();
        frames.map(|(&(item, _), &col)| (col, of(item))).collect()
    }

    /// Frames that serve a need.
    pub fn serving(&self, need: usize) -> Terms {
        let frames = self.frames.iter().filter(|((_, to), _)| *to == need);
        frames.map(|(_, &col)| (col, 1)).collect()
    }

    /// A figure over the frames taken and the hundreds of loose bees.
    fn all(&self, of: impl Fn(usize) -> i64, hundred: i64) -> Terms {
        let mut terms = self.frames(of);
        terms.extend(self.loose.iter().map(|&col| (col, hundred)));
        terms
    }

    /// Grams of honey.
    fn honey(&self, donor: &Donor) -> Terms {
        let charge = |item: usize| {
            let item = &donor.items[item];
            item.charge + item.least * donor.hundred
        };
        self.all(charge, donor.hundred)
    }

    pub fn rows(&self, donor: &Donor, model: &mut Model) {
        let items = &donor.items;
        let at_most = |terms, most| (terms, Sense::AtMost, most);
        let mut rows = vec![
            at_most(self.frames(|_| 1), donor.frames),
            at_most(self.frames(|item| items[item].brood), donor.brood),
            at_most(self.frames(|item| items[item].stores), donor.stores),
            at_most(self.frames(|item| items[item].drawn), donor.drawn),
            at_most(self.all(|item| items[item].least, 1), donor.bees),
            (self.frames(|_| 1), Sense::AtLeast, donor.give.into()),
        ];
        rows.extend(donor.honey.map(|most| at_most(self.honey(donor), most)));
        let covered = donor.covered;
        let lost =
            |item: usize| covered.times * items[item].least - covered.per * items[item].cover;
        let room = covered.times * covered.bees - covered.per * covered.cover;
        rows.push(at_most(self.all(lost, covered.times), room));
        for (terms, sense, rhs) in rows {
            model.row(terms, sense, rhs);
        }
        self.opening(donor, model);
        self.items(donor, model);
        if let Some(share) = donor.burden {
            self.burden(donor, share, model);
        }
    }

    /// Nothing leaves a colony that is not opened.
    fn opening(&self, donor: &Donor, model: &mut Model) {
        for (&(item, _), &col) in &self.frames {
            let count = i64::from(donor.items[item].count);
            model.row(vec![(col, 1), (self.opened, -count)], Sense::AtMost, 0);
        }
        let mut loose: Terms = self.loose.iter().map(|&col| (col, 1)).collect();
        loose.push((self.opened, -donor.bees));
        model.row(loose, Sense::AtMost, 0);
    }

    /// How many there are, how many are wished for, how many are drawn otherwise.
    fn items(&self, donor: &Donor, model: &mut Model) {
        for (at, item) in donor.items.iter().enumerate() {
            let of = self.frames(|item| i64::from(item == at));
            model.row(of.clone(), Sense::AtMost, item.count.into());
            model.row(of.clone(), Sense::AtLeast, item.give.into());
            let apart = |sign: i64| {
                let own = of.iter().map(|&(col, times)| (col, -sign * times));
                own.chain([(self.otherwise[at], 1)]).collect()
            };
            model.row(apart(1), Sense::AtLeast, -item.then());
            model.row(apart(-1), Sense::AtLeast, item.then());
        }
    }

    /// The share is no less than each part, the burden no less than each of its straight pieces.
    fn burden(&self, donor: &Donor, share: Share, model: &mut Model) {
        let items = &donor.items;
        let parts = [
            (
                self.all(|item| items[item].least, 1),
                share.bees_gone,
                share.bees_before,
            ),
            (
                self.frames(|item| items[item].cells),
                share.cells_gone,
                share.cells_before,
            ),
        ];
        for (taken, gone, before) in parts.into_iter().filter(|part| part.2 > 0) {
            let mut terms: Terms = taken.iter().map(|&(col, n)| (col, -100 * n)).collect();
            terms.push((self.share, before));
            model.row(terms, Sense::AtLeast, 100 * gone);
        }
        for pieces in 1..=5 {
            let terms = vec![(self.burden, 1), (self.share, -pieces)];
            model.row(terms, Sense::AtLeast, -10 * pieces * (pieces - 1));
        }
    }
}
