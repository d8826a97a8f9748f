//! YAML to a tree in which every value and key knows its place.

use super::cx::{Cx, describe, word};
use super::finding::{bad, plain};
use serde_yaml::granit_parser::{Event, Parser, ScalarStyle, ScanError, options};
use std::borrow::Cow;
use std::collections::BTreeSet;

/// Largest file in bytes (a choice: a yard of 20,000 colonies frame by frame takes about 11 MB).
/// Without it a wrong file could fill the memory.
pub(crate) const MOST_BYTES: usize = 16_000_000;
/// Most keys and values in all (a choice, for the same reason: such a yard has about 2 million,
/// and this many still fit in 200 MB).
const MOST_NODES: usize = 2_500_000;
/// Deepest nesting (a choice: the format needs 8). Without it brackets could fill the stack.
const MOST_DEPTH: usize = 32;

/// Most keys that are compared one by one (a choice): a set for each of many small maps would
/// take more memory than the maps.
const FEW_KEYS: usize = 16;

/// Where a value stands.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct At {
    pub line: u32,
    pub column: u32,
    pub start: u32,
    pub end: u32,
}

impl At {
    fn new(line: usize, column: usize, start: usize, end: usize) -> Self {
        let small = |n| u32::try_from(n).unwrap_or(u32::MAX);
        Self {
            line: small(line),
            column: small(column),
            start: small(start),
            end: small(end),
        }
    }

    /// The beginning of the file.
    pub(crate) fn top() -> Self {
        Self::new(1, 1, 0, 0)
    }

    /// Where the bytes `from..to` of a text stand.
    pub(crate) fn within(text: &str, from: usize, to: usize) -> Self {
        let start = place(text, from);
        Self::new(start.line as usize, start.column as usize, from, to)
    }

    /// The same place where so many bytes stand before its text.
    pub(crate) fn after(self, bytes: u32) -> Self {
        Self {
            start: self.start.saturating_add(bytes),
            end: self.end.saturating_add(bytes),
            ..self
        }
    }
}

#[derive(Debug, Clone)]
pub(crate) struct Node<'a> {
    pub at: At,
    pub value: Value<'a>,
}

impl<'a> Node<'a> {
    /// The value of a key, if this is a map that has it.
    pub(crate) fn get(&'a self, key: &str) -> Option<&'a Node<'a>> {
        let Value::Map(entries) = &self.value else {
            return None;
        };
        let entry = entries.iter().find(|(k, _)| word(k) == key);
        entry.map(|(_, v)| v)
    }
}

#[derive(Debug, Clone)]
pub(crate) enum Value<'a> {
    Scalar { text: Cow<'a, str>, plain: bool },
    List(Vec<Node<'a>>),
    Map(Vec<(Node<'a>, Node<'a>)>),
}

/// The text of the file, if it is text and not too large.
pub(crate) fn source<'a>(cx: &mut Cx, bytes: &'a [u8]) -> Option<&'a str> {
    if bytes.len() > MOST_BYTES {
        cx.error(
            "too-large",
            At::top(),
            format!("{} bytes", bytes.len()),
            "at most 16 MB",
            "is it the right file? If so, split it",
        );
        return None;
    }
    let (text, fault) = match std::str::from_utf8(bytes) {
        Ok(text) => (text, text.find('\0').map(|i| (i, "a NUL byte"))),
        Err(e) => {
            let good = bytes.get(..e.valid_up_to()).unwrap_or_default();
            let good = std::str::from_utf8(good).unwrap_or_default();
            (good, Some((good.len(), "bytes that are not UTF-8")))
        }
    };
    let Some((at, found)) = fault else {
        return Some(text);
    };
    cx.error(
        "encoding",
        place(text, at),
        found,
        "UTF-8 text",
        "save the file as UTF-8 text",
    );
    None
}

fn place(text: &str, i: usize) -> At {
    let before = text.get(..i).unwrap_or_default();
    let line = before.matches('\n').count() + 1;
    let last = before.rsplit('\n').next().unwrap_or_default();
    At::new(line, last.chars().count() + 1, i, i + 1)
}

/// A list or map that is still open.
enum Open<'a> {
    List(Vec<Node<'a>>),
    Map {
        entries: Vec<(Node<'a>, Node<'a>)>,
        /// A key that waits for its value, and whether it is the first of its name.
        key: Option<(Node<'a>, bool)>,
        /// Every key, once there are more than a few.
        seen: BTreeSet<Cow<'a, str>>,
    },
}

/// Parses one document. Anchors, aliases and tags are not part of the format. `what` the file
/// should hold, and the command that writes it, are named when it holds nothing.
pub(crate) fn parse<'a>(
    cx: &mut Cx,
    text: &'a str,
    (what, written_by): (&str, &str),
) -> Option<Node<'a>> {
    let mut stack: Vec<(At, Open<'a>)> = Vec::new();
    let mut root = None;
    let (mut nodes, mut documents) = (0usize, 0usize);
    let options = options! { emit_comments: false, emit_unresolved_aliases: true };
    for next in Parser::new_from_str_with_options(text, options) {
        let (event, span) = match next {
            Ok(pair) => pair,
            Err(error) => {
                broken(cx, &error, text);
                return None;
            }
        };
        let start = span.start.byte_offset().unwrap_or(0);
        let end = span.end.byte_offset().unwrap_or(start).max(start);
        let at = At::new(span.start.line(), span.start.col() + 1, start, end);
        nodes += 1;
        if nodes > MOST_NODES || stack.len() > MOST_DEPTH {
            too_large(cx, at);
            return None;
        }
        if let Some((found, way_out)) = foreign(&event, &mut documents) {
            cx.error("yaml", at, found, "one document of plain values", way_out);
            return None;
        }
        let node = match event {
            Event::Scalar(text, style, ..) => Node {
                at,
                value: Value::Scalar {
                    text,
                    plain: style == ScalarStyle::Plain,
                },
            },
            Event::SequenceStart(..) => {
                stack.push((at, Open::List(Vec::new())));
                continue;
            }
            Event::MappingStart(..) => {
                let open = Open::Map {
                    entries: Vec::new(),
                    key: None,
                    seen: BTreeSet::new(),
                };
                stack.push((at, open));
                continue;
            }
            Event::SequenceEnd | Event::MappingEnd => match stack.pop() {
                Some((at, open)) => Node {
                    at,
                    value: match open {
                        Open::List(mut list) => {
                            list.shrink_to_fit();
                            Value::List(list)
                        }
                        Open::Map { mut entries, .. } => {
                            entries.shrink_to_fit();
                            Value::Map(entries)
                        }
                    },
                },
                None => continue,
            },
            _ => continue,
        };
        match stack.last_mut() {
            None => root = Some(node),
            Some((_, Open::List(list))) => list.push(node),
            Some((_, Open::Map { entries, key, seen })) => match key.take() {
                Some((k, true)) => entries.push((k, node)),
                Some(_) => {}
                None => {
                    let first = as_key(cx, &node, entries, seen);
                    *key = Some((node, first));
                }
            },
        }
    }
    if root.is_none() {
        let way_out = format!("is it the right file? `{written_by}` writes {what}");
        cx.error("empty", At::top(), "nothing", what, way_out);
    }
    root
}

fn broken(cx: &mut Cx, error: &ScanError, text: &str) {
    let mark = error.marker();
    let start = mark.byte_offset().unwrap_or(0);
    let at = At::new(mark.line(), mark.col() + 1, start, start + 1);
    if error.info().contains("nest") || error.info().contains("recursion") {
        too_large(cx, at);
        return;
    }
    let known = BROKEN.iter().find(|(part, _)| error.info().contains(part));
    let way_out = known.map_or(
        "check indentation, colons, brackets and quotes here",
        |(_, way_out)| way_out,
    );
    let line = text.lines().nth(mark.line().saturating_sub(1));
    let close = line.and_then(close_to_its_value);
    let way_out = close.unwrap_or_else(|| way_out.to_owned());
    cx.error("yaml", at, error.info(), "well-formed YAML", way_out);
}

/// The way out for a line such as `brood:3.5`, in which no blank follows the colon.
fn close_to_its_value(line: &str) -> Option<String> {
    let (key, value) = line.trim().split_once(':')?;
    let ordinary = |c: char| c.is_alphanumeric() || matches!(c, ' ' | '_' | '-' | '"');
    let close = !key.is_empty() && key.chars().all(ordinary) && key.chars().count() <= 40;
    let value = value.split(" #").next().unwrap_or_default().trim_end();
    let close = close && value.starts_with(|c: char| c.is_alphanumeric() || c == '"');
    let value: String = value.chars().take(40).collect();
    close.then(|| format!("write a blank behind the colon: `{key}: {}`", plain(&value)))
}

/// What the parser says, in part, and what is most often behind it.
const BROKEN: &[(&str, &str)] = &[
    ("tabs", "indent with spaces; there is a tab here"),
    (
        "simple key expected ':'",
        "write `key: value`, with a colon and a space",
    ),
    (
        "mapping values are not allowed",
        "indent the line as its neighbours; put a text with a colon in quotes",
    ),
    (
        "did not find expected '-'",
        "begin every entry of a list with `- `, indented alike; a map has no `- `",
    ),
    (
        "did not find expected key",
        "indent the line as the others of its map",
    ),
    ("quoted scalar", "close the quote, here or further up"),
    (
        "illegal placement of ':'",
        "close the bracket `[` or `{` further up",
    ),
    (
        "only valid inside a block",
        "close the bracket `[` or `{` further up",
    ),
    (
        "unexpected character",
        "put a text that begins so in quotes; write `80 %`, not `%80`",
    ),
];

fn too_large(cx: &mut Cx, at: At) {
    cx.error(
        "too-large",
        at,
        "too many or too deeply nested values",
        "at most 2,500,000 values, nested 32 deep",
        "split the file or flatten it",
    );
}

/// YAML that the format leaves out, and what to write instead.
fn foreign(event: &Event, documents: &mut usize) -> Option<(&'static str, &'static str)> {
    match event {
        Event::DocumentStart(..) => {
            *documents += 1;
            (*documents > 1).then_some((
                "a second document",
                "remove `---` and what follows, or put it in its own file",
            ))
        }
        Event::Alias(_) | Event::UnresolvedAlias(_) => Some((
            "an alias",
            "write the value out; anchors and aliases are not used",
        )),
        Event::Scalar(_, _, _, Some(_))
        | Event::SequenceStart(_, _, Some(_))
        | Event::MappingStart(_, _, Some(_)) => {
            Some(("a tag", "remove the word that begins with `!`"))
        }
        _ => None,
    }
}

/// Whether a key is the first of its name.
fn as_key<'a>(
    cx: &mut Cx,
    node: &Node<'a>,
    entries: &[(Node<'a>, Node<'a>)],
    seen: &mut BTreeSet<Cow<'a, str>>,
) -> bool {
    let Value::Scalar { text, .. } = &node.value else {
        cx.error(
            "wrong-type",
            node.at,
            "a list or map as a key",
            "a name",
            "write a plain key",
        );
        return false;
    };
    if text.chars().any(bad) {
        cx.error(
            "control-character",
            node.at,
            "a control character in a key",
            "printable text",
            "retype the key",
        );
    }
    let first = if entries.len() <= FEW_KEYS {
        !entries.iter().any(|(key, _)| word(key) == text)
    } else {
        if seen.is_empty() {
            let texts = entries.iter().filter_map(|(key, _)| match &key.value {
                Value::Scalar { text, .. } => Some(text.clone()),
                _ => None,
            });
            seen.extend(texts);
        }
        seen.insert(text.clone())
    };
    if !first {
        cx.error(
            "duplicate-key",
            node.at,
            format!("{} again", describe(node)),
            "each key once",
            "remove or rename one of them",
        );
    }
    first
}
