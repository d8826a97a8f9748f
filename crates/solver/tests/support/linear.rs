//! The obvious model of goals 1 and 2 as rows of whole numbers: one column for each frame group
//! and recipe line, for each colony and site, for each kind of box.
//!
//! Source: the rules of `docs/model.md`. No draw options, no pooling, none of the solver's code.
//! Whether a linear program or a constraint solver then works on the rows is not decided here.

use super::enumerate::{fits, part};
use spareframe_solver::*;

/// Position in [`Rows::columns`].
pub type Column = usize;
/// A sum of columns times whole numbers.
pub type Sum = Vec<(Column, i64)>;

/// How a sum compares to the right-hand side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    AtMost,
    AtLeast,
    Equal,
}

/// Columns `0 ..= most`, rows, and the two goals.
#[derive(Debug, Clone, Default)]
pub struct Rows {
    pub columns: Vec<i64>,
    pub rows: Vec<(Sum, Sense, i64)>,
    /// Greatest is best.
    pub worth: Sum,
    /// Mg; least is best.
    pub honey: Sum,
}

impl Rows {
    fn column(&mut self, most: i64) -> Column {
        self.columns.push(most);
        self.columns.len() - 1
    }

    fn row(&mut self, sum: Sum, sense: Sense, rhs: i64) {
        if !sum.is_empty() || rhs != 0 {
            self.rows.push((sum, sense, rhs));
        }
    }

    /// The model of a scenario.
    pub fn of(scenario: &Scenario) -> Self {
        let mut rows = Self::default();
        // Rule boxes: the column counts boxes where these are stocked whole, else compartments.
        let units: Vec<(Column, i64)> = scenario
            .boxes
            .iter()
            .map(|kind| {
                let (most, each) = if kind.whole {
                    (kind.count, kind.compartments)
                } else {
                    (kind.count * kind.compartments, 1)
                };
                (rows.column(most.into()), i64::from(each))
            })
            .collect();
        for (kind, &(unit, each)) in scenario.boxes.iter().zip(&units) {
            rows.worth.push((unit, kind.worth.0 * each));
        }
        rows.cells(scenario, &units);
        // By kind and line: the frames that serve it.
        let mut served: Vec<Vec<Sum>> = scenario
            .boxes
            .iter()
            .map(|kind| vec![Sum::new(); kind.lines.len()])
            .collect();
        for spare in &scenario.store_room {
            rows.serve(scenario, &spare.frame, spare.count, &mut served);
        }
        // By site: thousandths of bees that stay.
        let mut staying: Vec<Sum> = vec![Sum::new(); scenario.sites.len()];
        for colony in &scenario.colonies {
            rows.colony(scenario, colony, &mut served, &mut staying);
        }
        // Rule recipe.
        for ((kind, &(unit, each)), lines) in scenario.boxes.iter().zip(&units).zip(served) {
            for (line, mut sum) in kind.lines.iter().zip(lines) {
                sum.push((unit, -each * i64::from(line.count)));
                rows.row(sum, Sense::Equal, 0);
            }
        }
        // Rule bees.
        for (site, mut sum) in staying.into_iter().enumerate() {
            for (kind, &(unit, each)) in scenario.boxes.iter().zip(&units) {
                if kind.site.0 == site {
                    sum.push((unit, -1000 * each * kind.bees.0));
                }
            }
            rows.row(sum, Sense::AtLeast, 0);
        }
        if let Some(cap) = scenario.honey_cap {
            rows.row(rows.honey.clone(), Sense::AtMost, cap.0);
        }
        rows
    }

    /// Rule cells: cells of each batch for each kind.
    fn cells(&mut self, scenario: &Scenario, units: &[(Column, i64)]) {
        let Some(batches) = &scenario.cells else {
            return;
        };
        let mut given: Vec<Sum> = units
            .iter()
            .map(|&(unit, each)| vec![(unit, -each)])
            .collect();
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

    /// Rule supply: a column for each line that the frames fit, and a row for all of them.
    fn serve(
        &mut self,
        scenario: &Scenario,
        frame: &FrameState,
        count: u32,
        served: &mut [Vec<Sum>],
    ) -> Sum {
        let mut all = Sum::new();
        for (kind, lines) in scenario.boxes.iter().zip(served) {
            for (line, sum) in kind.lines.iter().zip(lines) {
                if fits(frame, &line.ask) || line.substitutes.iter().any(|s| fits(frame, &s.ask)) {
                    let frames = self.column(count.into());
                    sum.push((frames, 1));
                    all.push((frames, 1));
                }
            }
        }
        self.row(all.clone(), Sense::AtMost, count.into());
        all
    }

    fn colony(
        &mut self,
        scenario: &Scenario,
        colony: &Colony,
        served: &mut [Vec<Sum>],
        staying: &mut [Sum],
    ) {
        let narrow = |value: i128| i64::try_from(value).expect("within range");
        let (mut brood, mut stores, mut drawn, mut bees) = (0, 0, 0, colony.extra_bees.0);
        for group in &colony.frames {
            let comb = &scenario.combs[group.frame.comb.0];
            let times = i64::from(group.count);
            brood += times * group.frame.brood.0;
            drawn += times * group.frame.drawn.0;
            stores += times * narrow(part(group.frame.stores, comb.stores.0));
            bees += times * narrow(part(group.frame.bees, comb.bees.0));
        }
        let keep = &colony.keep;
        let left = [
            brood - keep.brood.0,
            stores - keep.stores.0,
            drawn - keep.drawn.0,
            bees - keep.bees.0,
        ];
        // A colony that is below a floor stays closed, as one on hold.
        if colony.hold.is_some() || left.iter().any(|&left| left < 0) {
            return;
        }
        let rates = honey::rates(&scenario.combs, colony, &scenario.colony_model);
        let mut sums: [Sum; 5] = Default::default();
        let [brood, stores, drawn, frames, honey] = &mut sums;
        for group in colony.frames.iter().filter(|group| !group.queen) {
            let frame = &group.frame;
            let comb = &scenario.combs[frame.comb.0];
            let grams = narrow(part(frame.stores, comb.stores.0));
            let sealed = narrow(part(frame.sealed, comb.cells));
            let open = narrow(part(frame.brood, comb.cells)) - sealed;
            let mut charge = sealed * rates.sealed + open * rates.open;
            if colony.crop.is_some() {
                charge += 1000 * grams;
            }
            for (column, _) in self.serve(scenario, frame, group.count, served) {
                brood.push((column, frame.brood.0));
                stores.push((column, grams));
                drawn.push((column, frame.drawn.0));
                frames.push((column, 1));
                honey.push((column, charge));
            }
        }
        let mut taken = Sum::new();
        let most = left[3].min(colony.draw.bees.map_or(i64::MAX, |cap| cap.0));
        for (site, staying) in staying.iter_mut().enumerate() {
            let near = scenario.distances[colony.site.0][site] < scenario.drift.homing_metres;
            let stay = 1000 - if near { scenario.drift.flying.0 } else { 0 };
            if stay > 0 && scenario.boxes.iter().any(|kind| kind.site.0 == site) {
                let bees = self.column(most);
                taken.push((bees, 1));
                staying.push((bees, stay));
                honey.push((bees, rates.bees));
            }
        }
        let [brood, stores, drawn, frames, honey] = sums;
        // Rules keep and draw.
        let brood_left = left[0].min(colony.draw.brood.map_or(i64::MAX, |cap| cap.0));
        self.row(brood, Sense::AtMost, brood_left);
        self.row(stores, Sense::AtMost, left[1]);
        self.row(drawn, Sense::AtMost, left[2]);
        self.row(taken, Sense::AtMost, most);
        if let Some(cap) = colony.draw.frames {
            self.row(frames, Sense::AtMost, cap.into());
        }
        if let Some(cap) = colony.draw.honey {
            self.row(honey.clone(), Sense::AtMost, cap.0);
        }
        self.honey
            .extend(honey.into_iter().filter(|&(_, each)| each != 0));
    }
}
