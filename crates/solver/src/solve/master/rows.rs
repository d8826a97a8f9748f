//! The rows, and the coefficients of every set in them.

use super::super::columns::{Columns, SiteRows};
use super::super::engine::{Objective, Row};
use super::super::instance::{Instance, Kind, divisor};
use super::super::today::Today;
use std::rc::Rc;

use super::{Clock, Counted, Levels, Master, Pool, Set};

/// Rows and sets while they are put together.
struct Builder<'a> {
    instance: &'a Instance,
    rows: Vec<Row>,
    /// By kind of box: coefficients of one compartment.
    kinds: Vec<Vec<(usize, i64)>>,
    counted: Vec<Counted>,
    /// Levels of sums of bees.
    sums: Vec<Levels>,
}

impl<'a> Master<'a> {
    /// The model of an instance, without a worth that is asked for.
    pub fn new(instance: &'a Instance, clock: Clock<'a>) -> Self {
        Self::changed(instance, clock, None)
    }

    /// The same of a yard that was changed, with what is known of it as it stands.
    pub fn changed(instance: &'a Instance, clock: Clock<'a>, today: Option<&Today>) -> Self {
        let mut builder = Builder {
            instance,
            rows: Vec::new(),
            kinds: vec![Vec::new(); instance.kinds.len()],
            counted: Vec::new(),
            sums: Vec::new(),
        };
        builder.needs();
        (0..instance.sites.len()).for_each(|site| builder.bees(site));
        let pools = builder.cells();
        let honey_row = instance
            .honey_room
            .map(|room| builder.row(-room, false, 1000));
        builder.ceilings();
        let unit = instance
            .kinds
            .iter()
            .fold(0, |unit, kind| divisor(unit, kind.worth))
            .max(1);
        let worth_row = builder.worth(unit);
        builder.finish(pools, honey_row, worth_row, unit, clock, today)
    }
}

impl<'a> Builder<'a> {
    fn row(&mut self, rhs: i64, equal: bool, scale: i64) -> usize {
        self.rows.push(Row { rhs, equal, scale });
        self.rows.len() - 1
    }

    /// Rule recipe: frames for each need, just as many as its compartments ask for.
    fn needs(&mut self) {
        for need in &self.instance.needs {
            let row = self.row(0, true, 1);
            self.kinds[need.kind].push((row, -i64::from(need.each)));
        }
    }

    /// Rule bees at one site.
    fn bees(&mut self, site: usize) {
        let instance = self.instance;
        let here = |kind: &&Kind| kind.site == site && kind.most > 0 && kind.need > 0;
        let all: Vec<&Kind> = instance.kinds.iter().filter(here).collect();
        let of_site = &instance.sites[site];
        // Finished compartments with a brood line may be short where those without are over.
        let short = of_site.credit < of_site.loose_credit;
        if !all.is_empty() && (short || all.iter().any(|kind| kind.brood_line)) {
            self.count(site, false, of_site.credit, &|_| true);
        }
        if all.iter().any(|kind| !kind.brood_line) {
            self.count(site, true, of_site.loose_credit, &|kind| !kind.brood_line);
        }
    }

    fn count(&mut self, site: usize, loose: bool, credit: i64, of: &dyn Fn(&Kind) -> bool) {
        let instance = self.instance;
        let here = |kind: &Kind| kind.site == site && kind.need > 0 && of(kind);
        let kinds: Vec<usize> = (0..instance.kinds.len())
            .filter(|&at| here(&instance.kinds[at]))
            .collect();
        let needs = kinds.iter().map(|&at| instance.kinds[at].need);
        let mut stays: Vec<i64> = instance
            .donors
            .iter()
            .map(|donor| donor.stay[site])
            .collect();
        stays.sort_unstable();
        stays.dedup();
        stays.retain(|&stay| stay > 0);
        let plain = stays == [100] && credit == 0 && needs.clone().all(|need| need % 100 == 0);
        let by = if plain { 100 } else { 1 };
        let usual = needs.clone().max().unwrap_or(1) / by;
        let row = self.row(-credit, false, usual);
        for &at in &kinds {
            self.kinds[at].push((row, -instance.kinds[at].need / by));
        }
        let most: i64 = kinds
            .iter()
            .map(|&at| instance.kinds[at].need * instance.kinds[at].most)
            .sum();
        let mut sums = Vec::new();
        if !plain {
            for stay in stays {
                let sum = self.row(0, false, (usual / 100).max(1));
                sums.push((stay, sum, self.sums.len()));
                let most = most / stay + 1;
                self.sums.push(Levels {
                    least: 0,
                    most,
                    step: 1,
                    from: 0,
                    to: most,
                    worth: 0,
                    entries: vec![(sum, -1), (row, stay)],
                });
            }
        }
        self.counted.push(Counted {
            site,
            loose,
            sums,
            row,
        });
    }

    /// Rule cells: batches are shared out among the kinds that they are for.
    fn cells(&mut self) -> Vec<Pool> {
        let instance = self.instance;
        let Some(batches) = &instance.cells else {
            return Vec::new();
        };
        let for_all =
            |kinds: &Vec<usize>| (0..instance.kinds.len()).all(|kind| kinds.contains(&kind));
        if batches.iter().all(|(_, kinds)| for_all(kinds)) {
            let count: i64 = batches.iter().map(|(count, _)| count).sum();
            let row = self.row(-count, false, 1);
            self.kinds
                .iter_mut()
                .for_each(|entries| entries.push((row, -1)));
            return Vec::new();
        }
        let rows: Vec<usize> = (0..instance.kinds.len())
            .map(|_| self.row(0, false, 1))
            .collect();
        for (entries, &row) in self.kinds.iter_mut().zip(&rows) {
            entries.push((row, -1));
        }
        let pool = |(count, kinds): &(i64, Vec<usize>)| Pool {
            count: *count,
            uses: kinds.iter().map(|&kind| (rows[kind], 0)).collect(),
        };
        batches.iter().map(pool).collect()
    }

    fn ceilings(&mut self) {
        let instance = self.instance;
        let all = |of: &dyn Fn(&Kind) -> i64| instance.kinds.iter().map(|k| k.most * of(k)).sum();
        let binds = |most: &i64, all: i64| *most < all;
        if let Some(most) = instance
            .most_compartments
            .filter(|most| binds(most, all(&|_| 1)))
        {
            let row = self.row(-most, false, 1);
            self.kinds
                .iter_mut()
                .for_each(|entries| entries.push((row, -1)));
        }
        if let Some(most) = instance
            .most_worth
            .filter(|most| binds(most, all(&|k| k.worth)))
        {
            let row = self.row(-most, false, 1000);
            for (entries, kind) in self.kinds.iter_mut().zip(&instance.kinds) {
                entries.push((row, -kind.worth));
            }
        }
    }

    fn worth(&mut self, unit: i64) -> usize {
        let instance = self.instance;
        let usual = instance.kinds.iter().map(|kind| kind.worth / unit).max();
        let row = self.row(0, false, usual.unwrap_or(1));
        for (entries, kind) in self.kinds.iter_mut().zip(&instance.kinds) {
            entries.push((row, kind.worth / unit));
        }
        row
    }

    fn finish(
        self,
        pools: Vec<Pool>,
        honey_row: Option<usize>,
        worth_row: usize,
        unit: i64,
        clock: Clock<'a>,
        today: Option<&Today>,
    ) -> Master<'a> {
        let instance = self.instance;
        let mut same = Vec::new();
        let colony = |donor| {
            let mut columns = Columns::new(instance, donor, self.site_rows(donor));
            columns.honey_row = honey_row;
            let known = today.and_then(|today| today.same(instance, &columns));
            match (today, known) {
                (Some(today), Some(donor)) => columns.take_list(today.listing(donor)),
                _ => columns.list_all(),
            }
            same.push(known);
            Set::Colony(Box::new(columns))
        };
        let mut sets: Vec<Set> = instance.donors.iter().map(colony).collect();
        let kinds = sets.len();
        let of_kind = |(kind, entries): (&Kind, Vec<(usize, i64)>)| Levels {
            least: kind.least,
            most: kind.most,
            step: kind.step,
            from: kind.least,
            to: kind.most,
            worth: kind.worth / unit,
            entries,
        };
        sets.extend(
            instance
                .kinds
                .iter()
                .zip(self.kinds)
                .map(of_kind)
                .map(Set::Levels),
        );
        let first_sum = sets.len();
        sets.extend(self.sums.into_iter().map(Set::Levels));
        sets.extend(shelf(instance).map(Set::Pool));
        sets.extend(pools.into_iter().map(Set::Pool));
        let mut counted = self.counted;
        for (_, _, set) in counted.iter_mut().flat_map(|counted| &mut counted.sums) {
            *set += first_sum;
        }
        let first = |set: &Set| match set {
            Set::Colony(columns) => super::tagged(columns.closed()),
            Set::Levels(levels) => levels.column(Objective::Missing, levels.least),
            Set::Pool(pool) => pool.column(Objective::Missing, None),
        };
        Master {
            instance,
            rows: self.rows,
            active: (0..sets.len()).collect(),
            frozen: Rc::default(),
            starts: sets.iter().map(first).collect(),
            further: Vec::new(),
            same,
            sets,
            kinds,
            counted,
            worth_row,
            unit,
            aside: None,
            step: 1,
            clock,
        }
    }

    /// The rows that a donor's bees count in, by site.
    fn site_rows(&self, donor: &super::super::instance::Donor) -> Vec<SiteRows> {
        let mut rows = vec![SiteRows::default(); self.instance.sites.len()];
        for counted in &self.counted {
            let stay = donor.stay[counted.site];
            let row = match counted.sums.is_empty() {
                true => (stay == 100).then_some(counted.row),
                false => counted
                    .sums
                    .iter()
                    .find(|sum| sum.0 == stay)
                    .map(|sum| sum.1),
            };
            let of_site = &mut rows[counted.site];
            if let Some(row) = row {
                of_site.loose.push((row, 1));
                if !counted.loose {
                    of_site.riding.push((row, 1));
                }
            }
        }
        rows
    }
}

/// The shelf: each class of frames is shared out among the needs that it serves.
fn shelf(instance: &Instance) -> impl Iterator<Item = Pool> {
    let price = instance.prices.substitute.0;
    instance
        .shelf
        .iter()
        .zip(&instance.classes)
        .map(move |(entries, service)| {
            let uses = service.iter().enumerate();
            let uses = uses.filter_map(|(need, place)| Some((need, price * i64::from((*place)?))));
            Pool {
                count: entries.iter().map(|&(_, count)| i64::from(count)).sum(),
                uses: uses.collect(),
            }
        })
}
