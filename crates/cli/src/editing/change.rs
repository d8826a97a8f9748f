//! Changes of a scenario by path, made in its text and checked by reading it again.

use super::edits::{Edits, entries};
use super::new::New;
use super::same::same;
use crate::reading::{At, Cx, Node, Value, parse, word};
use std::borrow::Cow;

/// One step of a path.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Step {
    /// A key of a map.
    Key(String),
    /// An entry of a list, from 0.
    Entry(usize),
}

impl From<&str> for Step {
    fn from(key: &str) -> Self {
        Self::Key(key.to_owned())
    }
}

impl From<usize> for Step {
    fn from(entry: usize) -> Self {
        Self::Entry(entry)
    }
}

/// What is done at the end of a path.
#[derive(Debug, Clone)]
pub(crate) enum What {
    /// A key gets a value, or the one that it has is replaced.
    Set(String, New),
    /// A new key comes behind another.
    Behind(&'static str, String, New),
    /// A key goes.
    Gone(Cow<'static, str>),
    /// Entries go out of a list, by index; some stay.
    Out(Vec<usize>),
    /// Entries come to the end of a list that has some.
    More(Vec<New>),
}

/// A change at a map or a list.
#[derive(Debug, Clone)]
pub(crate) struct Change {
    pub path: Vec<Step>,
    pub what: What,
}

impl Change {
    pub fn at<const N: usize>(path: [Step; N], what: What) -> Self {
        let path = path.into();
        Self { path, what }
    }
}

/// The text with the changes made, and its tree to be read. `None` where the text is written so that they cannot be made
/// in it.
pub(crate) fn apply(text: &str, root: &Node, changes: &[Change]) -> Option<String> {
    let mut expected = owned(root);
    let mut paths: Vec<&[Step]> = Vec::new();
    for change in changes {
        make(find_mut(&mut expected, &change.path)?, &change.what)?;
        if !paths.contains(&&change.path[..]) {
            paths.push(&change.path);
        }
    }
    let mut edits = Edits::new(text);
    for path in paths {
        let here = changes.iter().filter(|change| change.path == path);
        let here: Vec<&What> = here.map(|change| &change.what).collect();
        edit(&mut edits, find(root, path)?, &here);
    }
    let new = edits.done();
    let tree = parse(&mut Cx::new("", &[]), &new, ("", ""))?;
    same(&tree, &expected).then_some(new)
}

fn find<'n, 'a>(node: &'n Node<'a>, path: &[Step]) -> Option<&'n Node<'a>> {
    let mut node = node;
    for step in path {
        node = match (step, &node.value) {
            (Step::Key(key), Value::Map(map)) => {
                &map.iter().find(|(known, _)| word(known) == key)?.1
            }
            (Step::Entry(entry), Value::List(list)) => list.get(*entry)?,
            _ => return None,
        };
    }
    Some(node)
}

fn find_mut<'n>(node: &'n mut Node<'static>, path: &[Step]) -> Option<&'n mut Node<'static>> {
    let Some((step, rest)) = path.split_first() else {
        return Some(node);
    };
    let next = match (step, &mut node.value) {
        (Step::Key(key), Value::Map(map)) => {
            &mut map.iter_mut().find(|(known, _)| word(known) == key)?.1
        }
        (Step::Entry(entry), Value::List(list)) => list.get_mut(*entry)?,
        _ => return None,
    };
    find_mut(next, rest)
}

/// Makes a change in the tree.
fn make(node: &mut Node<'static>, what: &What) -> Option<()> {
    match (what, &mut node.value) {
        (What::Set(key, new), Value::Map(map)) => {
            let new = value(new)?;
            match map.iter_mut().find(|(known, _)| word(known) == key) {
                Some((_, old)) => *old = new,
                None => map.push((scalar(&unquoted(key)), new)),
            }
        }
        (What::Behind(other, key, new), Value::Map(map)) => {
            let at = map.iter().position(|(known, _)| word(known) == *other)?;
            map.insert(at + 1, (scalar(key), value(new)?));
        }
        (What::Gone(key), Value::Map(map)) => map.retain(|(known, _)| word(known) != key),
        (What::Out(gone), Value::List(list)) => {
            let mut at = 0;
            list.retain(|_| {
                at += 1;
                !gone.contains(&(at - 1))
            });
        }
        (What::More(new), Value::List(list)) => {
            for new in new {
                list.push(value(new)?);
            }
        }
        _ => return None,
    }
    Some(())
}

/// Changes the text at one map or list.
fn edit(edits: &mut Edits, node: &Node, all: &[&What]) {
    let mut set: Vec<(String, New)> = Vec::new();
    let mut gone = Vec::new();
    for what in all {
        match what {
            What::Set(key, new) => set.push((key.clone(), new.clone())),
            What::Gone(key) => gone.push(key.as_ref()),
            What::Behind(other, key, new) => {
                let there = entries(node).iter().find(|(key, _)| word(key) == *other);
                if let Some((at, value)) = there {
                    edits.behind((at, value), node, (key, new));
                }
            }
            What::Out(entries) => edits.out(node, entries),
            What::More(new) => edits.more(node, new),
        }
    }
    if !set.is_empty() || !gone.is_empty() {
        edits.map(node, &set, &gone);
    }
}

/// A key as it is read, which may be written in quotes.
fn unquoted(key: &str) -> String {
    serde_json::from_str(key).unwrap_or_else(|_| key.to_owned())
}

fn scalar(text: &str) -> Node<'static> {
    Node {
        at: At::top(),
        value: Value::Scalar {
            text: Cow::Owned(text.to_owned()),
            plain: true,
        },
    }
}

/// A new value as it is read.
fn value(new: &New) -> Option<Node<'static>> {
    let text = format!("x: {}", new.inline());
    let tree = parse(&mut Cx::new("", &[]), &text, ("", ""))?;
    tree.get("x").map(owned)
}

fn owned(node: &Node) -> Node<'static> {
    let value = match &node.value {
        Value::Scalar { text, plain } => Value::Scalar {
            text: Cow::Owned(text.clone().into_owned()),
            plain: *plain,
        },
        Value::List(list) => Value::List(list.iter().map(owned).collect()),
        Value::Map(map) => {
            let entry = |(key, value): &(Node, Node)| (owned(key), owned(value));
            Value::Map(map.iter().map(entry).collect())
        }
    };
    Node { at: node.at, value }
}
