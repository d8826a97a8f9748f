//! The whole decision over an instance as one mixed-integer program: simple rather than fast, and a
//! second opinion.
//!
//! As few bees ride as must, and all others are loose: loose ones count wherever riding ones do.

mod backend;
mod rows;

use super::Ceiling;
use super::allocate::Totals;
use super::instance::{Donor, Instance};
use super::master::cost_of;
use crate::scenario::Scenario;
use crate::units::{Grams, Worth};

use backend::{Answer, Model, Sense};
use rows::{Columns, Giving};

/// Worth and cost of the best plan, found without the columns and bounds of [`solve`](super::solve); for
/// tests. `None` where the solver behind it gives up, or no plan meets the wishes.
#[doc(hidden)]
#[must_use]
pub fn direct_goals(scenario: &Scenario) -> Option<(Worth, Grams)> {
    let instance = Instance::new(scenario, None, &Ceiling::default());
    let totals = direct(&instance)?;
    let kinds = instance.kinds.iter().zip(&totals.compartments);
    let worth = kinds.map(|(kind, &count)| kind.worth * count).sum();
    let cost = cost_of(&instance, &totals).total(&instance.prices);
    Some((Worth(worth), cost))
}

/// Most worth, then least cost.
fn direct(instance: &Instance) -> Option<Totals> {
    let mut model = Model::default();
    let columns = Columns::new(instance, &mut model);
    columns.rows(instance, &mut model);
    let worth = columns.worth(instance);
    let lost: Vec<_> = worth.iter().map(|&(col, worth)| (col, -worth)).collect();
    model.minimise(&lost);
    let Answer::Best(first) = model.solve() else {
        return None;
    };
    let reached = worth.iter().map(|&(col, worth)| first[col] * worth).sum();
    model.row(worth, Sense::AtLeast, reached);
    model.minimise(&columns.cost(instance));
    match model.solve() {
        Answer::Best(values) => Some(columns.totals(instance, &values)),
        _ => None,
    }
}

/// Whether a donor can give so many frames, of one group or of any, as far as its own floors and caps and
/// the lines that the frames serve go. Where the solver gives up, it can.
pub(crate) fn can_give(
    instance: &Instance,
    donor: &Donor,
    group: Option<usize>,
    frames: u32,
) -> bool {
    let mut free = donor.clone();
    free.give = 0;
    for item in &mut free.items {
        item.give = 0;
    }
    let mut model = Model::default();
    let own = Giving::new(instance, &free, &mut model);
    own.rows(&free, &mut model);
    for (at, need) in instance.needs.iter().enumerate() {
        let most = instance.kinds[need.kind]
            .most
            .saturating_mul(need.each.into());
        model.row(own.serving(at), Sense::AtMost, most);
    }
    let wished = |item: usize| {
        let parts = &free.items[item].parts;
        group.is_none_or(|group| parts.iter().any(|part| part.group == group))
    };
    let counted = own.frames(|item| i64::from(wished(item)));
    model.row(counted, Sense::AtLeast, frames.into());
    model.solve() != Answer::Impossible
}
