//! What is asked for: changes on the command line, and alternatives in a file.

use super::MOST;
use super::path::{Part, Step, end, path, typed};
use super::piece::Piece;
use super::tables;
use super::values::{Wanted, given, missing, values};
use crate::reading::{Cx, Finding, Kind, Node, Value, describe, parse, source, word};
use std::borrow::Cow;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Typed {
    /// `PATH=VALUE`, each with one value, several with commas, or a range.
    pub sets: Vec<String>,
    /// `COLONY=FRAMES` or `COLONY[GROUP]=FRAMES`: frames that a colony is to give at least.
    pub gives: Vec<String>,
    /// Colonies to be left untouched.
    pub spares: Vec<String>,
    /// A file of alternatives: how findings name it, and its bytes.
    pub alternatives: Option<(String, Vec<u8>)>,
}

/// A path with the values that it takes in turn.
#[derive(Debug)]
pub(super) struct Varied<'a> {
    pub path: Vec<Part>,
    pub values: Vec<Wanted<'a>>,
    /// How it is named, before the value.
    pub lead: String,
}

impl Varied<'_> {
    /// The change with one of its values.
    pub fn shown(&self, value: usize) -> String {
        let value = self
            .values
            .get(value)
            .map_or("", |wanted| wanted.text.as_str());
        match self.lead.strip_prefix("spare ") {
            Some(_) => self.lead.clone(),
            None => format!("{}={value}", self.lead),
        }
    }
}

/// An alternative that has a name of its own.
#[derive(Debug)]
pub(super) struct Named<'a> {
    pub name: String,
    pub changes: Vec<(Vec<Part>, Wanted<'a>)>,
}

/// Everything that is asked for, with the texts that it came in.
#[derive(Debug, Default)]
pub(super) struct Asked<'a> {
    pub pieces: Vec<Piece<'a>>,
    pub varied: Vec<Varied<'a>>,
    pub named: Vec<Named<'a>>,
    /// Findings on the file of alternatives as a text, before it has places.
    pub unread: Vec<Finding>,
}

impl Asked<'_> {
    /// How many alternatives there are.
    pub fn count(&self) -> usize {
        let sizes = self.varied.iter().map(|varied| varied.values.len());
        sizes.fold(self.named.len().max(1), usize::saturating_mul)
    }

    /// Whether no more need be read: they are too many as it is.
    fn too_many(&self) -> bool {
        self.count() > MOST
    }
}

/// Reads all that was typed. `base` is the length of the scenario, `root` what stands in it.
pub(super) fn read<'a>(
    cx: &mut Cx,
    (root, base): (Option<&Node>, usize),
    typed: &'a Typed,
) -> Asked<'a> {
    let mut asked = Asked::default();
    let mut base = u32::try_from(base).unwrap_or(u32::MAX).saturating_add(1);
    let mut piece = |label: &str, text: &'a str| {
        let piece = Piece {
            label: label.to_owned(),
            text,
            base,
        };
        base = base
            .saturating_add(u32::try_from(text.len()).unwrap_or(u32::MAX))
            .saturating_add(1);
        piece
    };
    for text in &typed.sets {
        if asked.too_many() {
            return asked;
        }
        let piece = piece("--set", text);
        asked.varied.extend(set(cx, root, &piece));
        asked.pieces.push(piece);
    }
    for text in &typed.gives {
        if asked.too_many() {
            return asked;
        }
        let piece = piece("--give", text);
        asked.varied.extend(give(cx, &piece));
        asked.pieces.push(piece);
    }
    for text in &typed.spares {
        let piece = piece("--spare", text);
        asked.varied.extend(spare(&piece));
        asked.pieces.push(piece);
    }
    if let Some((label, bytes)) = &typed.alternatives {
        let mut own = Cx::new(label, crate::scenario::SECTIONS);
        let file = source(&mut own, bytes).and_then(|text| {
            let what = (
                "alternatives: a map of name to changes",
                "spareframe probe --help",
            );
            Some((text, parse(&mut own, text, what)?))
        });
        asked.unread = own.findings;
        if let Some((text, mut file)) = file {
            let piece = piece(label, text);
            piece.place(&mut file, 0);
            asked.named = alternatives(cx, root, &file);
            asked.pieces.push(piece);
        }
    }
    asked
}

fn set<'a>(cx: &mut Cx, root: Option<&Node>, piece: &Piece<'a>) -> Option<Varied<'a>> {
    let text = piece.text;
    let to = end(text);
    let at = |from, to| piece.at(from, to);
    if to == text.len() && text.contains('=') {
        // It is within a quote that is left open.
        path(cx, text, &at)?;
    }
    if to == text.len() {
        cx.error(
            "wrong-type",
            piece.at(0, text.len()),
            "a change without `=`",
            "PATH=VALUE, as `cells=12`",
            "add `=` and the value",
        );
        return None;
    }
    let path = path(cx, &text[..to], &at)?;
    let kind = led(cx, root, &path)?;
    let values = values(cx, piece, to + 1, kind);
    let lead = typed(path.iter().map(|part| &part.step));
    (!values.is_empty()).then_some(Varied { path, values, lead })
}

/// The kind of value that a path leads to.
fn led(cx: &mut Cx, root: Option<&Node>, path: &[Part]) -> Option<Kind> {
    if root.is_some_and(|root| tables::apart(cx, root, path)) {
        return None;
    }
    tables::kind(cx, path)
}

/// `COLONY=FRAMES`, or `COLONY[GROUP]=FRAMES`.
fn give<'a>(cx: &mut Cx, piece: &Piece<'a>) -> Option<Varied<'a>> {
    let text = piece.text;
    let to = end(text);
    let typed = text[..to].trim();
    let at = piece.at(0, to);
    let (name, group) = match typed.strip_suffix(']').and_then(|t| t.rsplit_once('[')) {
        None => (typed, None),
        Some((name, group)) => (name.trim(), Some(group.trim().parse::<usize>())),
    };
    let bare = |quote| name.strip_prefix(quote)?.strip_suffix(quote);
    let name = bare('"').or_else(|| bare('\'')).unwrap_or(name);
    let wrong = matches!(group, Some(Ok(0) | Err(_)));
    if to == text.len() || name.is_empty() || wrong {
        cx.error(
            "wrong-type",
            piece.at(0, text.len()),
            "no colony with frames",
            "COLONY=FRAMES or COLONY[N]=FRAMES, frame groups from 1",
            given_otherwise(typed).unwrap_or_else(|| {
                "write it as `Ash=2`, or `Ash[1]=2` for its first frame group".to_owned()
            }),
        );
        return None;
    }
    let mut steps = vec![Step::Key("colonies".to_owned()), Step::Key(name.to_owned())];
    if let Some(Ok(group)) = group {
        steps.extend([Step::Key("frames".to_owned()), Step::Entry(group)]);
    }
    steps.push(Step::Key("give".to_owned()));
    let values = values(cx, piece, to + 1, Kind::Count);
    (!values.is_empty()).then(|| Varied {
        path: steps.into_iter().map(|step| Part { step, at }).collect(),
        values,
        lead: format!("give {}", crate::reading::plain(typed)),
    })
}

/// `4+1` or `4 1`, as `4=1`.
fn given_otherwise(typed: &str) -> Option<String> {
    let at = typed.rfind(['+', ':', ' ', ',', 'x'])?;
    let (name, frames) = (typed[..at].trim(), typed[at + 1..].trim());
    let number = frames.parse::<u32>().ok()?;
    let name = crate::reading::plain(name);
    (!name.is_empty()).then(|| {
        format!("did you mean `{name}={number}`? For several colonies give `--give` several times")
    })
}

/// Why a colony is left untouched that is to be spared.
const SPARED: &str = "to be spared";

fn spare<'a>(piece: &Piece<'a>) -> Option<Varied<'a>> {
    let at = piece.at(0, piece.text.len());
    let key = |name: &str| Part {
        step: Step::Key(name.to_owned()),
        at,
    };
    let reason = Node {
        at,
        value: Value::Scalar {
            text: Cow::Borrowed(SPARED),
            plain: true,
        },
    };
    Some(Varied {
        path: vec![key("colonies"), key(piece.text.trim()), key("hold")],
        values: vec![given(&reason, SPARED)],
        lead: format!("spare {}", crate::reading::plain(piece.text.trim())),
    })
}

/// Reads the map of names to changes.
fn alternatives<'a>(cx: &mut Cx, root: Option<&Node>, file: &Node<'a>) -> Vec<Named<'a>> {
    let Value::Map(entries) = &file.value else {
        let way_out = "write each as `name: {PATH: VALUE}`";
        cx.error(
            "wrong-type",
            file.at,
            describe(file),
            "a map of name to changes",
            way_out,
        );
        return Vec::new();
    };
    if cx.too_many(file.at, entries.len(), "alternatives", MOST) {
        return Vec::new();
    }
    let mut out = Vec::new();
    for (key, value) in entries {
        let name = cx.name(key);
        let Value::Map(changes) = &value.value else {
            cx.error(
                "wrong-type",
                value.at,
                describe(value),
                "changes, each as `PATH: VALUE`",
                "write them below the name, as `cells: 12`",
            );
            continue;
        };
        if changes.is_empty() {
            let way_out = "add one, as `cells: 12`";
            cx.error(
                "empty",
                value.at,
                "an alternative without changes",
                "at least one",
                way_out,
            );
        }
        let changes = changes
            .iter()
            .filter_map(|(key, value)| change(cx, root, key, value));
        let changes = changes.collect();
        out.push(Named { name, changes });
    }
    out
}

fn change<'a>(
    cx: &mut Cx,
    root: Option<&Node>,
    key: &Node<'a>,
    value: &Node<'a>,
) -> Option<(Vec<Part>, Wanted<'a>)> {
    let path = path(cx, word(key), &|_, _| key.at)?;
    led(cx, root, &path)?;
    if missing(value) {
        let way_out = "write a value; `~` removes what is there";
        cx.error(
            "empty",
            value.at,
            "nothing where a value should be",
            "a value",
            way_out,
        );
        return None;
    }
    let text = match &value.value {
        Value::Scalar { text, .. } => text.to_string(),
        Value::List(_) => "[...]".to_owned(),
        Value::Map(_) => "{...}".to_owned(),
    };
    Some((path, given(value, &text)))
}
