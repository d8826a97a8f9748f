//! Changes to the tree of a scenario, so that it reads as if the file had been edited.

use super::path::{Part, Step, typed};
use super::tables::{Below, WHOLE, below, field};
use super::values::Wanted;
use crate::reading::{At, Cx, Kind, Node, Value, describe, plain, word};
use std::borrow::Cow;
use std::cmp::Reverse;
use std::collections::BTreeSet;

/// A path and what it is given.
#[derive(Debug, Clone, Copy)]
pub(super) struct Change<'c, 'a> {
    pub path: &'c [Part],
    pub wanted: &'c Wanted<'a>,
}

impl Change<'_, '_> {
    fn steps(&self) -> Vec<Step> {
        self.path.iter().map(|part| part.step.clone()).collect()
    }

    fn removes_an_entry(&self) -> bool {
        let last = self.path.last().map(|part| &part.step);
        self.wanted.node.is_none() && matches!(last, Some(Step::Entry(_)))
    }
}

/// Makes changes in their order. Entries of lists are removed at the end and from behind, so that
/// entries are counted as they stand in the file.
pub(super) fn graft<'a>(cx: &mut Cx, root: &mut Node<'a>, changes: &[Change<'_, 'a>]) {
    distinct(cx, changes);
    let (mut removals, others): (Vec<&Change>, Vec<&Change>) =
        changes.iter().partition(|change| change.removes_an_entry());
    removals.sort_by_key(|change| Reverse(change.steps()));
    for change in others.into_iter().chain(removals) {
        descend(cx, root, WHOLE, change.path, change.wanted);
    }
}

/// Finds what is changed twice in one alternative.
fn distinct(cx: &mut Cx, changes: &[Change]) {
    let mut seen: BTreeSet<Vec<Step>> = BTreeSet::new();
    let removed = changes.iter().filter(|change| change.removes_an_entry());
    let removed: BTreeSet<Vec<Step>> = removed.map(Change::steps).collect();
    for change in changes {
        let steps = change.steps();
        if steps.contains(&Step::Append) {
            continue;
        }
        let next = seen.range(steps.clone()..).next();
        let again = next.is_some_and(|other| other.starts_with(&steps));
        // An entry that is removed is removed last, and takes with it what is changed within it.
        let within = (1..steps.len()).any(|length| removed.contains(&steps[..length]));
        if let (Some(part), true) = (change.path.last(), again || within) {
            cx.error(
                "duplicate-key",
                part.at,
                format!("`{}` again", plain(&typed(steps.iter()))),
                "each value changed once in an alternative",
                "remove one of the changes, or put what is changed within it behind it",
            );
        }
        seen.insert(steps);
    }
}

/// A value of the kind that nothing has been said about yet.
fn bare<'a>(kind: Kind, at: At, next: &Step) -> Node<'a> {
    let list = match below(kind) {
        Below::Entries(_) => true,
        Below::Either(..) => !matches!(next, Step::Key(_)),
        _ => false,
    };
    let value = if list {
        Value::List(Vec::new())
    } else {
        Value::Map(Vec::new())
    };
    Node { at, value }
}

fn unsaid(node: &Node) -> bool {
    matches!(&node.value, Value::Scalar { text, plain: true } if matches!(&**text, "" | "~" | "null"))
}

fn descend<'a>(cx: &mut Cx, node: &mut Node<'a>, kind: Kind, path: &[Part], wanted: &Wanted<'a>) {
    let Some((part, rest)) = path.split_first() else {
        return;
    };
    if unsaid(node) {
        *node = bare(kind, node.at, &part.step);
    }
    match (&part.step, &mut node.value) {
        (Step::Key(key), Value::Map(entries)) => {
            into_map(cx, entries, (kind, part, key), rest, wanted);
        }
        (Step::Entry(entry), Value::List(list)) => {
            let Some(place) = entry.checked_sub(1).filter(|&place| place < list.len()) else {
                cx.error(
                    "out-of-range",
                    part.at,
                    format!("entry {entry}"),
                    match list.len() {
                        0 => "an entry; there is none".to_owned(),
                        n => format!("an entry from 1 to {n}"),
                    },
                    match rest.last().map(|part| &part.step) {
                        Some(Step::Key(key)) if list.is_empty() && key == "give" => {
                            "a colony counted at a glance has no groups to name: write `COLONY=FRAMES`"
                        }
                        _ => "correct the number, or add an entry with `[+]`",
                    },
                );
                return;
            };
            match (&wanted.node, rest.is_empty()) {
                (Some(new), true) => list[place] = new.clone(),
                (None, true) => drop(list.remove(place)),
                (_, false) => {
                    let of = match below(kind) {
                        Below::Entries(of) | Below::Either(_, of) => of,
                        _ => return,
                    };
                    descend(cx, &mut list[place], of, rest, wanted);
                }
            }
        }
        (Step::Append, Value::List(list)) => match &wanted.node {
            Some(new) => list.push(new.clone()),
            None => nothing_there(cx, part.at, "a new entry"),
        },
        (step, _) => {
            let way_out = match step {
                Step::Key(_) => "give the whole value, as `cells={mating box: 8}`",
                _ => "give the whole list, as `cells=[{count: 8}]`",
            };
            let expected = match step {
                Step::Key(_) => "a map in the file",
                _ => "a list in the file",
            };
            cx.error("wrong-type", part.at, describe(node), expected, way_out);
        }
    }
}

fn nothing_there(cx: &mut Cx, at: At, what: &str) {
    cx.error(
        "missing-key",
        at,
        format!("{what} that is not there"),
        "something to remove",
        "leave this change out, or correct the path",
    );
}

type Entries<'a> = Vec<(Node<'a>, Node<'a>)>;

fn into_map<'a>(
    cx: &mut Cx,
    entries: &mut Entries<'a>,
    (kind, part, key): (Kind, &Part, &str),
    rest: &[Part],
    wanted: &Wanted<'a>,
) {
    let place = entries.iter().position(|(k, _)| word(k) == key);
    let (of, named) = match below(kind) {
        Below::Keys(section) => match field(section, key) {
            Some(field) => (field.kind, false),
            None => return,
        },
        Below::Names(of) | Below::Either(of, _) => (of, true),
        _ => return,
    };
    let place = match (place, rest.first()) {
        (Some(place), _) => place,
        (None, None) => {
            match &wanted.node {
                Some(new) => entries.push((key_node(part, key), new.clone())),
                None => nothing_there(cx, part.at, &format!("`{}`", plain(key))),
            }
            return;
        }
        (None, Some(_)) if named => {
            unknown(cx, entries, (kind, part, key));
            return;
        }
        (None, Some(_)) if wanted.node.is_none() => {
            nothing_there(cx, part.at, &format!("a value below `{}`", plain(key)));
            return;
        }
        (None, Some(next)) => {
            entries.push((key_node(part, key), bare(of, part.at, &next.step)));
            entries.len() - 1
        }
    };
    match (&wanted.node, rest) {
        (Some(new), []) => entries[place].1 = new.clone(),
        (None, []) => drop(entries.remove(place)),
        (_, rest) => {
            descend(cx, &mut entries[place].1, of, rest, wanted);
            // A list or map by name that has lost its last entry goes, as it would in the file.
            let hollow = match &entries[place].1.value {
                Value::List(list) => list.is_empty(),
                Value::Map(map) => map.is_empty() && matches!(below(of), Below::Names(_)),
                Value::Scalar { .. } => false,
            };
            if hollow {
                entries.remove(place);
            }
        }
    }
}

fn key_node<'a>(part: &Part, key: &str) -> Node<'a> {
    Node {
        at: part.at,
        value: Value::Scalar {
            text: Cow::Owned(key.to_owned()),
            plain: true,
        },
    }
}

/// A name that is not there, and below which something is to be changed.
fn unknown(cx: &mut Cx, entries: &Entries, (kind, part, key): (Kind, &Part, &str)) {
    let what = match kind {
        Kind::MapOf(of) => of,
        Kind::MapOfBees => "colony",
        _ => "box",
    };
    let names: Vec<&str> = entries.iter().map(|(k, _)| word(k)).collect();
    cx.unknown_name(part.at, (key, &format!("`{}`", plain(key))), what, &names);
}
