//! What is saved: the text of the file with the changes made in it, and its lines beside the old ones.

use crate::editing::{Change, New, Step, What, apply, quoted, same};
use crate::probe::Changed;
use crate::reading::{Cx, Node, Value, parse, word};
use serde::Serialize;
use similar::{Algorithm, ChangeTag, TextDiff};

/// Lines that stay, shown around those that change (a choice).
const AROUND: usize = 1;

/// A line of the file: as it is, as it will be, or both.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(crate) struct Line {
    /// Where it stands in the file, from 1.
    pub number: usize,
    pub old: Option<String>,
    pub new: Option<String>,
}

/// The text with the changes made, comments and order kept; `None` where it is written so that they cannot be.
pub(crate) fn edited(text: &str, changed: &Changed) -> Option<String> {
    let mut changes = Vec::new();
    let path = &mut Vec::new();
    if !differ(path, &changed.before, &changed.now, &mut changes) {
        return None;
    }
    let new = apply(text, &changed.before, &changes)?;
    let tree = parse(&mut Cx::new("", &[]), &new, ("", ""))?;
    same(&tree, &changed.now).then_some(new)
}

/// Finds what differs below a path. False where a change within is none that can be made there.
fn differ(path: &mut Vec<Step>, before: &Node, now: &Node, out: &mut Vec<Change>) -> bool {
    match (&before.value, &now.value) {
        (Value::Map(old), Value::Map(new)) => {
            maps(path, old, new, out);
            true
        }
        (Value::List(old), Value::List(new)) => lists(path, old, new, out),
        _ => same(before, now),
    }
}

type Entries<'n, 'a> = &'n [(Node<'a>, Node<'a>)];

fn maps(path: &mut Vec<Step>, old: Entries, new: Entries, out: &mut Vec<Change>) {
    let here = path.clone();
    let change = |what| Change {
        path: here.clone(),
        what,
    };
    for (key, value) in new {
        let name = word(key);
        let was = old.iter().find(|(known, _)| word(known) == name);
        match was {
            Some((_, was)) if same(was, value) => {}
            Some((_, was)) => {
                let made = out.len();
                path.push(Step::Key(name.to_owned()));
                let within = differ(path, was, value, out);
                path.pop();
                if !within {
                    out.truncate(made);
                    out.push(change(What::Set(name.to_owned(), written(value))));
                }
            }
            None => out.push(change(What::Set(written_text(name, true), written(value)))),
        }
    }
    for (key, _) in old {
        let name = word(key);
        if !new.iter().any(|(known, _)| word(known) == name) {
            out.push(change(What::Gone(name.to_owned().into())));
        }
    }
}

fn lists(path: &mut Vec<Step>, old: &[Node], new: &[Node], out: &mut Vec<Change>) -> bool {
    if old.is_empty() || new.is_empty() || new.len() < old.len() {
        return false;
    }
    for (nth, (was, value)) in old.iter().zip(new).enumerate() {
        if same(was, value) {
            continue;
        }
        path.push(Step::Entry(nth));
        let within = differ(path, was, value, out);
        path.pop();
        if !within {
            return false;
        }
    }
    let more: Vec<New> = new.iter().skip(old.len()).map(written).collect();
    if !more.is_empty() {
        let path = path.clone();
        out.push(Change {
            path,
            what: What::More(more),
        });
    }
    true
}

/// A value as it is written.
fn written(node: &Node) -> New {
    match &node.value {
        Value::Scalar { text, plain } => New::Scalar(written_text(text, *plain)),
        Value::List(list) => New::Scalar(New::List(list.iter().map(written).collect()).inline()),
        Value::Map(map) => {
            let entry = |(key, value): &(Node, Node)| {
                let Value::Scalar { text, plain } = &key.value else {
                    return (String::new(), written(value));
                };
                (written_text(text, *plain), written(value))
            };
            New::Scalar(New::Map(map.iter().map(entry).collect()).inline())
        }
    }
}

/// A text as it was typed where it stands so anywhere, else in quotes.
fn written_text(text: &str, plain: bool) -> String {
    let percent = text.strip_suffix('%').filter(|_| plain);
    match percent {
        Some(figure) if quoted(figure.trim_end()) == figure.trim_end() => text.to_owned(),
        _ if !plain => serde_json::Value::from(text).to_string(),
        _ => quoted(text),
    }
}

/// The lines that change, old beside new, each with one that stays before and behind.
pub(crate) fn lines(old: &str, new: &str) -> Vec<Line> {
    let diff = TextDiff::configure()
        .algorithm(Algorithm::Patience)
        .diff_lines(old, new);
    let mut all: Vec<Line> = Vec::new();
    for group in diff.grouped_ops(AROUND) {
        for op in group {
            let first = all.len();
            let mut fresh = first;
            for change in diff.iter_changes(&op) {
                let text = change.value().trim_end_matches(['\r', '\n']).to_owned();
                let number = change.new_index().or(change.old_index()).unwrap_or(0) + 1;
                match change.tag() {
                    ChangeTag::Equal => all.push(Line {
                        number,
                        old: Some(text.clone()),
                        new: Some(text),
                    }),
                    ChangeTag::Delete => all.push(Line {
                        number,
                        old: Some(text),
                        new: None,
                    }),
                    // What is new stands beside what it takes the place of.
                    ChangeTag::Insert => {
                        match all.get_mut(fresh).filter(|line| line.new.is_none()) {
                            Some(line) => line.new = Some(text),
                            None => all.push(Line {
                                number,
                                old: None,
                                new: Some(text),
                            }),
                        }
                        fresh += 1;
                    }
                }
            }
        }
    }
    all
}
