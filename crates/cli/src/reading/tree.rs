//! YAML to a tree in which every value and key knows its place.

use super::cx::Cx;
use super::finding::bad;
use serde_yaml::granit_parser::{Event, Parser, ScalarStyle, options};
use std::collections::BTreeSet;

const MAX_BYTES: usize = 32 * 1024 * 1024;
const MAX_NODES: usize = 6_000_000;
const MAX_DEPTH: usize = 32;

/// Where a value stands.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct At {
    pub line: usize,
    pub column: usize,
    pub start: usize,
    pub end: usize,
}

#[derive(Debug)]
pub(crate) struct Node {
    pub at: At,
    pub kind: Kind,
}

#[derive(Debug)]
pub(crate) enum Kind {
    Scalar { text: String, plain: bool },
    List(Vec<Node>),
    Map(Vec<(Node, Node)>),
}

/// The text of the file, if it is text and not too large.
pub(crate) fn source<'a>(cx: &mut Cx, bytes: &'a [u8]) -> Option<&'a str> {
    let top = At {
        line: 1,
        column: 1,
        start: 0,
        end: 0,
    };
    if bytes.len() > MAX_BYTES {
        cx.error(
            "too-large",
            top,
            format!("{} bytes", bytes.len()),
            "at most 32 MiB",
            "split the file",
        );
        return None;
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => match text.find('\0') {
            Some(i) => {
                let at = place(text, i);
                cx.error(
                    "encoding",
                    at,
                    "a NUL byte",
                    "text",
                    "save the file as UTF-8 text",
                );
                None
            }
            None => Some(text),
        },
        Err(e) => {
            let good = std::str::from_utf8(bytes.get(..e.valid_up_to()).unwrap_or_default())
                .unwrap_or_default();
            let at = place(good, good.len());
            cx.error(
                "encoding",
                at,
                "bytes that are not UTF-8",
                "UTF-8 text",
                "save the file as UTF-8 text",
            );
            None
        }
    }
}

fn place(text: &str, i: usize) -> At {
    let before = text.get(..i).unwrap_or_default();
    let line = before.matches('\n').count() + 1;
    let column = before
        .rsplit('\n')
        .next()
        .unwrap_or_default()
        .chars()
        .count()
        + 1;
    At {
        line,
        column,
        start: i,
        end: i + 1,
    }
}

enum Open {
    List(Vec<Node>),
    Map(Vec<(Node, Node)>, Option<Node>, BTreeSet<String>),
}

/// Parses one document. Anchors, aliases and tags are not part of the format.
pub(crate) fn parse(cx: &mut Cx, text: &str) -> Option<Node> {
    let mut stack: Vec<(At, Open)> = Vec::new();
    let mut root = None;
    let mut nodes = 0usize;
    let mut documents = 0usize;
    for next in Parser::new_from_str_with_options(
        text,
        options! { emit_comments: false, emit_unresolved_aliases: true },
    ) {
        let (event, span) = match next {
            Ok(pair) => pair,
            Err(e) => {
                let m = e.marker();
                let start = m.byte_offset().unwrap_or(0);
                let at = At {
                    line: m.line(),
                    column: m.col() + 1,
                    start,
                    end: start + 1,
                };
                if e.info().contains("nest") || e.info().contains("recursion") {
                    cx.error(
                        "too-large",
                        at,
                        "too deeply nested values",
                        "nesting of at most 32",
                        "flatten the structure",
                    );
                    return None;
                }
                cx.error(
                    "yaml",
                    at,
                    e.info(),
                    "well-formed YAML",
                    "check indentation, colons, brackets and quotes here",
                );
                return None;
            }
        };
        let start = span.start.byte_offset().unwrap_or(0);
        let end = span.end.byte_offset().unwrap_or(start).max(start);
        let at = At {
            line: span.start.line(),
            column: span.start.col() + 1,
            start,
            end,
        };
        nodes += 1;
        if nodes > MAX_NODES || stack.len() > MAX_DEPTH {
            cx.error(
                "too-large",
                at,
                "too many or too deeply nested values",
                "at most 6,000,000 values, nested 32 deep",
                "split the file or flatten it",
            );
            return None;
        }
        let node = match event {
            Event::DocumentStart(..) => {
                documents += 1;
                if documents > 1 {
                    cx.error(
                        "yaml",
                        at,
                        "a second document",
                        "one document",
                        "remove `---` and what follows, or put it in its own file",
                    );
                    return None;
                }
                continue;
            }
            Event::Alias(_) | Event::UnresolvedAlias(_) => {
                cx.error(
                    "yaml",
                    at,
                    "an alias",
                    "a plain value",
                    "write the value out; anchors and aliases are not used",
                );
                return None;
            }
            Event::Scalar(value, style, ..) => Node {
                at,
                kind: Kind::Scalar {
                    text: value.into_owned(),
                    plain: style == ScalarStyle::Plain,
                },
            },
            Event::SequenceStart(..) => {
                stack.push((at, Open::List(Vec::new())));
                continue;
            }
            Event::MappingStart(..) => {
                stack.push((at, Open::Map(Vec::new(), None, BTreeSet::new())));
                continue;
            }
            Event::SequenceEnd | Event::MappingEnd => match stack.pop() {
                Some((at, Open::List(list))) => Node {
                    at,
                    kind: Kind::List(list),
                },
                Some((at, Open::Map(map, ..))) => Node {
                    at,
                    kind: Kind::Map(map),
                },
                None => continue,
            },
            _ => continue,
        };
        match stack.last_mut() {
            None => root = Some(node),
            Some((_, Open::List(list))) => list.push(node),
            Some((_, Open::Map(map, key, seen))) => match key.take() {
                Some(k) => map.push((k, node)),
                None => {
                    if let Kind::Scalar { text, .. } = &node.kind {
                        if text.chars().any(bad) {
                            cx.error(
                                "control-character",
                                node.at,
                                "a control character in a key",
                                "printable text",
                                "retype the key",
                            );
                        }
                        if !seen.insert(text.clone()) {
                            cx.error(
                                "duplicate-key",
                                node.at,
                                format!("`{text}` again"),
                                "each key once",
                                "remove or rename one of them",
                            );
                        }
                    } else {
                        cx.error(
                            "wrong-type",
                            node.at,
                            "a list or map as a key",
                            "a name",
                            "write a plain key",
                        );
                    }
                    *key = Some(node);
                }
            },
        }
    }
    if root.is_none() {
        let top = At {
            line: 1,
            column: 1,
            start: 0,
            end: 0,
        };
        cx.error(
            "empty",
            top,
            "nothing",
            "a scenario",
            "start from the starter file",
        );
    }
    root
}
