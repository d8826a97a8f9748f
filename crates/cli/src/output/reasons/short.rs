//! One reason in a clause, for the plan itself.

use super::record::Thing;
use super::{name, words};
use crate::output::report::HeldBack;
use spareframe_solver::Scenario;
use spareframe_solver::why::{Change, Group, Limit};

/// A group of limits that, eased alone, lets more be stocked; by the least change of it where it is
/// one thing.
pub(crate) fn in_short(
    scenario: &Scenario,
    group: &Group,
    change: Option<&Change>,
    many_combs: bool,
) -> HeldBack {
    let named = name::group(scenario, group);
    let text = match change {
        Some(change) => words::change(&name::change(scenario, change, 0), many_combs),
        None => words::eased(&named, ", in one colony or more", many_combs),
    };
    HeldBack {
        rule: named.rule.to_owned(),
        text,
        raise: None,
    }
}

/// A limit that is eased alone: the limit without its colony, and the change, each as a clause.
pub(crate) fn eased_in_short(scenario: &Scenario, change: &Change) -> (String, String) {
    let limit = name::limit(scenario, &change.limit);
    let changed = words::change(&name::change(scenario, change, 0), false);
    (words::limit(&limit, false), changed)
}

/// Limits of one colony that only together hold something back.
pub(crate) fn limits_in_short(scenario: &Scenario, limits: &[Limit]) -> HeldBack {
    let named: Vec<_> = limits
        .iter()
        .map(|limit| name::limit(scenario, limit))
        .collect();
    let text = named.iter().map(|limit| match limit.thing {
        Thing::KeepCovered => words::limit(limit, false),
        _ => format!("it {}", words::limit(limit, false)),
    });
    HeldBack {
        text: text.collect::<Vec<_>>().join(", and "),
        rule: match named.as_slice() {
            [one] => one.rule.to_owned(),
            _ => "several".to_owned(),
        },
        raise: None,
    }
}
