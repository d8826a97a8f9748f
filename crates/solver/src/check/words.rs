//! Breaches in words.

use super::{Breach, Rule};
use crate::plan::{Compartment, Origin};
use crate::scenario::{Colony, Scenario};

pub(super) fn breach(
    rule: Rule,
    place: &str,
    found: impl Into<String>,
    expected: impl Into<String>,
) -> Breach {
    Breach {
        rule,
        place: place.to_owned(),
        found: found.into(),
        expected: expected.into(),
    }
}

/// Thousandths as a decimal figure.
pub(super) fn milli(value: i128) -> String {
    let sign = if value < 0 { "-" } else { "" };
    let size = value.unsigned_abs();
    format!("{sign}{}.{:03}", size / 1000, size % 1000)
}

/// A number of bees in thousandths as a decimal figure, whole where it is whole.
pub(super) fn milli_bees(value: i128) -> String {
    if value % 1000 == 0 {
        (value / 1000).to_string()
    } else {
        milli(value)
    }
}

pub(super) fn counted(count: impl Into<i128>, one: &str, many: &str) -> String {
    let count = count.into();
    format!("{count} {}", if count == 1 { one } else { many })
}

pub(super) fn colony_name(colony: &Colony) -> String {
    format!("colony {}", colony.name)
}

pub(super) fn group_name(colony: &Colony, group: usize) -> String {
    format!(
        "colony {}, frame group {}",
        colony.name,
        group.saturating_add(1)
    )
}

pub(super) fn place_of(scenario: &Scenario, compartment: &Compartment) -> String {
    let kind = match scenario.boxes.get(compartment.kind.0) {
        Some(kind) => kind.name.clone(),
        None => format!("kind of box {}", compartment.kind.0 + 1),
    };
    format!(
        "{kind}, box {}, compartment {}",
        u64::from(compartment.box_no) + 1,
        u64::from(compartment.place) + 1
    )
}

pub(super) fn origin_name(scenario: &Scenario, origin: Origin) -> String {
    match origin {
        Origin::Colony(id, group) => match scenario.colonies.get(id.0) {
            Some(colony) => group_name(colony, group),
            None => format!("colony number {}", id.0.saturating_add(1)),
        },
        Origin::StoreRoom(entry) => format!("store room, entry {}", entry.saturating_add(1)),
    }
}

/// Milligrams as kg with six decimals, exact.
pub(super) fn kilograms(mg: i128) -> String {
    let sign = if mg < 0 { "-" } else { "" };
    let size = mg.unsigned_abs();
    format!(
        "{sign}{}.{:06} kg of honey given up",
        size / 1_000_000,
        size % 1_000_000
    )
}
