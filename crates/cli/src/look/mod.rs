//! Looking round: what was seen in compartments that stand goes into the text of the scenario, in place of what was
//! expected. `seen` knows the words for it, `typed` reads them from the command line, `changes` says what they change.

mod changes;
mod seen;
mod typed;

pub use typed::look;

pub(crate) use typed::{not_seen, unknown};

pub(crate) use changes::put_in;
pub(crate) use seen::{WORDS, said, word_of};

use crate::reading::At;
use crate::scenario::Loaded;
use jiff::civil::Date;
use seen::Seen;
use spareframe_solver::{BoxKind, Standing};

/// What was seen in one compartment.
#[derive(Debug, Clone)]
pub(crate) struct Look {
    /// Which of those that stand.
    pub entry: usize,
    /// How its queen is; nothing where it was not looked for.
    pub seen: Option<Seen>,
    /// Bees at a glance, as they were typed, with their place.
    pub bees: Option<(String, At)>,
    /// Brood at a glance.
    pub brood: Option<(String, At)>,
    /// The day of the look.
    pub day: Date,
}

/// A compartment by name: `mating box 3.2`, or `mini box 2` where boxes have one.
pub(crate) fn name(kind: &BoxKind, standing: &Standing) -> String {
    let (number, compartment) = (standing.box_no + 1, standing.place + 1);
    match kind.compartments > 1 {
        true => format!("{} {number}.{compartment}", kind.name),
        false => format!("{} {number}", kind.name),
    }
}

/// The names of all that stand, in their order.
pub(crate) fn names(loaded: &Loaded) -> Vec<String> {
    let scenario = &loaded.scenario;
    let named = |standing: &Standing| {
        let kind = scenario.boxes.get(standing.kind.0);
        kind.map(|kind| name(kind, standing)).unwrap_or_default()
    };
    scenario.standing.iter().map(named).collect()
}

/// Which of them is meant, however it is written as to capitals.
pub(crate) fn meant(names: &[String], typed: &str) -> Option<usize> {
    let typed = typed.trim().to_lowercase();
    let exact = names.iter().position(|name| name.to_lowercase() == typed);
    // The only compartment of a box may be written with its number, or the only box without.
    exact.or_else(|| {
        let short = typed.strip_suffix(".1").unwrap_or(&typed);
        names.iter().position(|name| name.to_lowercase() == short)
    })
}
