//! The whole decision over an instance as one mixed-integer program: simple rather than fast, and a
//! second opinion.
//!
//! As few bees ride as must, and all others are loose: loose ones count wherever riding ones do.

mod backend;
mod rows;

use std::time::{Duration, Instant};

use super::allocate::Totals;
use super::instance::{Donor, Instance};

use backend::{Answer, Model, Sense};
use rows::{Columns, Giving};

/// What came of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Direct {
    /// No totals are better.
    Best(Totals),
    /// Stopped by the time limit, or the solver gave up; totals that break no rule, if any were found.
    Open(Option<Totals>),
    /// No totals keep the rules, which is so only where there are wishes.
    Impossible,
}

/// Most worth, then least cost.
pub(crate) fn direct(instance: &Instance, limit: Option<Duration>) -> Direct {
    let start = Instant::now();
    let mut model = Model::default();
    let columns = Columns::new(instance, &mut model);
    columns.rows(instance, &mut model);
    let worth = columns.worth(instance);
    let lost: Vec<_> = worth.iter().map(|&(col, worth)| (col, -worth)).collect();
    model.minimise(&lost);
    let first = match model.solve(limit) {
        Answer::Best(values) => values,
        Answer::Stopped(values) => return Direct::Open(Some(columns.totals(instance, &values))),
        Answer::Impossible => return Direct::Impossible,
        Answer::Failed => return Direct::Open(None),
    };
    let reached = worth.iter().map(|&(col, worth)| first[col] * worth).sum();
    model.row(worth, Sense::AtLeast, reached);
    model.minimise(&columns.cost(instance));
    match model.solve(limit.map(|limit| limit.saturating_sub(start.elapsed()))) {
        Answer::Best(values) => Direct::Best(columns.totals(instance, &values)),
        Answer::Stopped(values) => Direct::Open(Some(columns.totals(instance, &values))),
        _ => Direct::Open(Some(columns.totals(instance, &first))),
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
    model.solve(None) != Answer::Impossible
}
