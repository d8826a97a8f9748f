//! The tree of a scenario with the changes made: what the changed text must say.

use super::changes::{ColonyChange, MapChange};
use crate::editing::same;
use crate::reading::{At, Node, Value, word};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// The tree with the changes made.
pub(super) fn changed<'a>(root: &Node<'a>, changes: &[ColonyChange]) -> Node<'a> {
    let mut root = root.clone();
    let Value::Map(top) = &mut root.value else {
        return root;
    };
    let Some((_, colonies)) = top.iter_mut().find(|(key, _)| word(key) == "colonies") else {
        return root;
    };
    let Value::Map(entries) = &mut colonies.value else {
        return root;
    };
    let index: BTreeMap<String, usize> = entries
        .iter()
        .enumerate()
        .map(|(i, (key, _))| (word(key).to_owned(), i))
        .collect();
    for change in changes {
        match index.get(&change.name).and_then(|&i| entries.get_mut(i)) {
            Some((_, node)) => change_colony(node, change),
            None => {
                let mut node = map(At::top());
                change_colony(&mut node, change);
                entries.push((scalar(&change.name), node));
            }
        }
    }
    root
}

fn map<'a>(at: At) -> Node<'a> {
    Node {
        at,
        value: Value::Map(Vec::new()),
    }
}

fn scalar<'a>(text: &str) -> Node<'a> {
    Node {
        at: At::top(),
        value: Value::Scalar {
            text: Cow::Owned(text.to_owned()),
            plain: true,
        },
    }
}

pub(super) fn change_colony(node: &mut Node, change: &ColonyChange) {
    if !matches!(node.value, Value::Map(_)) {
        *node = map(node.at);
    }
    change_map(node, &change.map);
    since_out(node, &change.since_out);
    let Some(frames) = &change.frames else { return };
    let Value::Map(entries) = &mut node.value else {
        return;
    };
    if !entries.iter().any(|(key, _)| word(key) == "frames") {
        let list = Node {
            at: At::top(),
            value: Value::List(Vec::new()),
        };
        entries.push((scalar("frames"), list));
    }
    let Some((_, list)) = entries.iter_mut().find(|(key, _)| word(key) == "frames") else {
        return;
    };
    let Value::List(list) = &mut list.value else {
        return;
    };
    for (group, change) in &frames.each {
        if let Some(node) = list.get_mut(*group) {
            change_map(node, change);
        }
    }
    list.truncate(frames.keep);
    for change in &frames.added {
        let mut node = map(At::top());
        change_map(&mut node, change);
        list.push(node);
    }
}

fn since_out(node: &mut Node, out: &[usize]) {
    let Value::Map(entries) = &mut node.value else {
        return;
    };
    let since = entries.iter_mut().find(|(key, _)| word(key) == "since");
    if let Some((_, since)) = since
        && let Value::List(list) = &mut since.value
    {
        let mut at = 0;
        list.retain(|_| {
            at += 1;
            !out.contains(&(at - 1))
        });
    }
}

fn change_map(node: &mut Node, change: &MapChange) {
    let Value::Map(entries) = &mut node.value else {
        return;
    };
    entries.retain(|(key, _)| !change.gone.contains(&word(key)));
    for (key, value) in &change.set {
        match entries.iter_mut().find(|(known, _)| word(known) == *key) {
            Some((_, node)) => *node = scalar(&value.text),
            None => entries.push((scalar(key), scalar(&value.text))),
        }
    }
}

/// The first colony that is not as expected.
pub(super) fn odd<'c>(
    tree: &Node,
    expected: &Node,
    changes: &'c [ColonyChange],
) -> Option<&'c ColonyChange> {
    let tree = tree.get("colonies")?;
    let expected = expected.get("colonies")?;
    let wrong = |change: &&ColonyChange| match (tree.get(&change.name), expected.get(&change.name))
    {
        (Some(is), Some(wanted)) => !same(is, wanted),
        (is, wanted) => is.is_some() != wanted.is_some(),
    };
    changes.iter().find(wrong)
}
