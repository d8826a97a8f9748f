//! The obvious model of both goals as rows of whole numbers: a column for each frame group and recipe
//! line, for bees that ride and loose ones of each colony to each site, for each kind of box, and for
//! the points of burden and their convex pieces.
//!
//! Source: the rules of `docs/model.md`. No draw options, no pooling, none of the solver's code.
//! Whether a linear program or a constraint solver then works on the rows is not decided here.

mod donor;

use super::enumerate::{Then, place};
use super::split::{Split, brood_line};
use donor::Donor;
use spareframe_solver::*;

pub use spareframe_oracles::{Column, Model, Sense, Sum};

/// The model and the two goals.
#[derive(Debug, Clone, Default)]
pub struct Rows {
    pub model: Model,
    /// Greatest is best.
    pub worth: Sum,
    /// Grams; least is best.
    pub cost: Sum,
    /// Grams of cost that belong to no column: what is done.
    pub base: i64,
    /// Grams of honey, and what is done of it.
    honey: Sum,
    honey_base: i64,
}

/// A column for compartments, and how many one of it is.
type Unit = (Column, i64);

/// What donors and the store room fill: frames by kind and line; bees that stay at each site, all and
/// loose ones.
struct Filled {
    served: Vec<Vec<Sum>>,
    staying: Vec<[Sum; 2]>,
}

impl Rows {
    fn column(&mut self, most: i64) -> Column {
        self.model.columns.push(most.max(0));
        self.model.columns.len() - 1
    }

    fn row(&mut self, sum: Sum, sense: Sense, rhs: i64) {
        if !sum.is_empty() || rhs != 0 {
            self.model.rows.push((sum, sense, rhs));
        }
    }

    /// The model of a scenario.
    pub fn of(scenario: &Scenario) -> Self {
        Self::of_all(scenario, None, Ceiling::default())
    }

    /// The same near to an earlier plan and under a ceiling.
    pub fn of_all(scenario: &Scenario, then: Option<&Plan>, most: Ceiling) -> Self {
        let then = then.map(Plan::drawn);
        let split = Split::of(scenario);
        let scenario = &split.scenario;
        let mut rows = Self::default();
        let units = rows.units(&split, most);
        rows.cells(scenario, &units);
        let lines = |kind: &BoxKind| vec![Sum::new(); kind.lines.len()];
        let mut filled = Filled {
            served: scenario.boxes.iter().map(lines).collect(),
            staying: vec![Default::default(); scenario.sites.len()],
        };
        rows.base += split.places * scenario.prices.substitute.0;
        for spare in &scenario.store_room {
            rows.serve(scenario, &spare.frame, spare.count.into(), &mut filled);
        }
        for at in 0..scenario.colonies.len() {
            Donor::new(&split, at, then.as_ref()).rows(&mut rows, &mut filled);
        }
        rows.lost(scenario, then.as_ref());
        rows.recipe(scenario, &units, &filled.served);
        rows.bees(&split, &units, filled.staying);
        if let Some(cap) = scenario.honey_cap {
            // The honey cap is at least what is done.
            let room = (cap.0 - rows.honey_base).max(0);
            rows.row(rows.honey.clone(), Sense::AtMost, room);
        }
        rows
    }

    /// Rule boxes: the column counts boxes where these are stocked whole, else compartments. Those that
    /// are finished are stocked, and count even beyond a ceiling.
    fn units(&mut self, split: &Split, most: Ceiling) -> Vec<Unit> {
        let boxes = &split.scenario.boxes;
        let unit = |kind: &BoxKind, rows: &mut Self| match kind.whole {
            true => (rows.column(kind.count.into()), kind.compartments.into()),
            false => (rows.column((kind.count * kind.compartments).into()), 1),
        };
        let units: Vec<Unit> = boxes.iter().map(|kind| unit(kind, self)).collect();
        let (mut count, mut finished, mut finished_worth) = (Sum::new(), 0, 0);
        for ((kind, &(column, each)), &least) in boxes.iter().zip(&units).zip(&split.least) {
            self.worth.push((column, kind.worth.0 * each));
            count.push((column, each));
            self.row(vec![(column, each)], Sense::AtLeast, least.into());
            finished += i64::from(least);
            finished_worth += i64::from(least) * kind.worth.0;
        }
        if let Some(most) = most.compartments {
            self.row(count, Sense::AtMost, finished.max(most as i64));
        }
        if let Some(most) = most.worth {
            let worth = self.worth.clone();
            self.row(worth, Sense::AtMost, finished_worth.max(most.0));
        }
        units
    }

    /// Rule cells: cells of each batch for each kind.
    fn cells(&mut self, scenario: &Scenario, units: &[Unit]) {
        let Some(batches) = &scenario.cells else {
            return;
        };
        let given = units.iter().map(|&(unit, each)| vec![(unit, -each)]);
        let mut given: Vec<Sum> = given.collect();
        for batch in batches {
            let mut used = Sum::new();
            for (kind, given) in given.iter_mut().enumerate() {
                if batch.boxes.is_empty() || batch.boxes.contains(&BoxId(kind)) {
                    let cells = self.column(batch.count.into());
                    used.push((cells, 1));
                    given.push((cells, 1));
                }
            }
            self.row(used, Sense::AtMost, batch.count.into());
        }
        for sum in given {
            self.row(sum, Sense::AtLeast, 0);
        }
    }

    /// Rule supply: a column for each line that the frames fit, and a row for all of them. Returns the
    /// columns with the sites that they go to.
    fn serve(
        &mut self,
        scenario: &Scenario,
        frame: &FrameState,
        count: i64,
        filled: &mut Filled,
    ) -> Vec<(Column, SiteId)> {
        let mut all = Vec::new();
        for (kind, lines) in scenario.boxes.iter().zip(&mut filled.served) {
            for (line, sum) in kind.lines.iter().zip(lines) {
                if let Some(place) = place(line, frame) {
                    let frames = self.column(count);
                    sum.push((frames, 1));
                    all.push((frames, kind.site));
                    let price = scenario.prices.substitute.0 * place;
                    self.cost.push((frames, price));
                }
            }
        }
        let sum = all.iter().map(|&(column, _)| (column, 1)).collect();
        self.row(sum, Sense::AtMost, count.max(0));
        all
    }

    /// What an earlier plan takes from colonies or groups that are no more.
    fn lost(&mut self, scenario: &Scenario, then: Option<&Then>) {
        for (&(id, group), &count) in then.into_iter().flatten() {
            let colony = scenario.colonies.get(id.0);
            if colony.is_none_or(|colony| group >= colony.frames.len()) {
                self.base += count as i64 * scenario.prices.otherwise.0;
            }
        }
    }

    fn recipe(&mut self, scenario: &Scenario, units: &[Unit], served: &[Vec<Sum>]) {
        for ((kind, &(unit, each)), lines) in scenario.boxes.iter().zip(units).zip(served) {
            for (line, sum) in kind.lines.iter().zip(lines) {
                let mut sum = sum.clone();
                sum.push((unit, -each * i64::from(line.count)));
                self.row(sum, Sense::Equal, 0);
            }
        }
    }

    fn bees(&mut self, split: &Split, units: &[Unit], staying: Vec<[Sum; 2]>) {
        for (site, sums) in staying.into_iter().enumerate() {
            for (loose, mut sum) in sums.into_iter().enumerate() {
                for (at, kind) in split.scenario.boxes.iter().enumerate() {
                    if kind.site.0 == site && (loose == 0 || !brood_line(kind)) {
                        let (unit, each) = units[at];
                        sum.push((unit, -each * split.need[at]));
                    }
                }
                self.row(sum, Sense::AtLeast, -split.credit[site][loose]);
            }
        }
    }
}
