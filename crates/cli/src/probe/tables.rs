//! Where a path may lead: the tables of the format, step by step.

use super::path::{Part, Step};
use crate::reading::{Cx, Field, Kind, Node, Section, Value, plain, word};
use crate::scenario::SECTIONS;

/// What stands below a value.
pub(super) enum Below {
    /// Known keys.
    Keys(&'static Section),
    /// Names, each with a value of this kind.
    Names(Kind),
    /// Entries of a list.
    Entries(Kind),
    /// Names or entries, as it is written.
    Either(Kind, Kind),
    /// Nothing.
    Nothing,
}

/// The whole of a scenario.
pub(super) const WHOLE: Kind = Kind::Section("scenario");

pub(super) fn below(kind: Kind) -> Below {
    let keys = |name: &str| {
        let section = SECTIONS.iter().find(|section| section.name == name);
        section.map_or(Below::Nothing, |section| Below::Keys(section))
    };
    match kind {
        Kind::Section(of) => keys(of),
        Kind::DrawOrAll => keys("draw"),
        Kind::MapOf(of) => Below::Names(Kind::Section(of)),
        Kind::MapOfBees => Below::Names(Kind::Bees),
        Kind::ListOf(of) => Below::Entries(Kind::Section(of)),
        Kind::Names => Below::Entries(Kind::Name),
        Kind::PerRound => Below::Entries(Kind::Count),
        Kind::TwoDates | Kind::Dates | Kind::Rounds => Below::Entries(Kind::Date),
        Kind::Coordinates => Below::Entries(Kind::Number),
        Kind::Cells => Below::Either(Kind::Count, Kind::Section("batch")),
        _ => Below::Nothing,
    }
}

/// The field of a key.
pub(super) fn field(section: &'static Section, key: &str) -> Option<&'static Field> {
    section.fields.iter().find(|field| field.key == key)
}

/// The kind of value that a path leads to, with every step checked that the tables alone can
/// check: keys, and where names and entries are at all.
pub(super) fn kind(cx: &mut Cx, parts: &[Part]) -> Option<Kind> {
    let mut kind = WHOLE;
    for (i, part) in parts.iter().enumerate() {
        kind = match (below(kind), &part.step) {
            (Below::Keys(section), Step::Key(key)) => {
                let Some(field) = field(section, key) else {
                    cx.unknown_key(part.at, key, section);
                    return None;
                };
                field.kind
            }
            (Below::Names(of) | Below::Either(of, _), Step::Key(_))
            | (Below::Entries(of) | Below::Either(_, of), Step::Entry(_)) => of,
            (Below::Entries(of) | Below::Either(_, of), Step::Append) => {
                if i + 1 < parts.len() {
                    let way_out = "give the whole entry, as `store room[+]={count: 3}`";
                    cx.error(
                        "wrong-type",
                        part.at,
                        "a key of a new entry",
                        "`[+]` last",
                        way_out,
                    );
                    return None;
                }
                of
            }
            (below, step) => {
                let (found, expected, way_out) = misfit(&below, step, kind);
                cx.error("wrong-type", part.at, found, expected, way_out);
                return None;
            }
        };
    }
    Some(kind)
}

/// Finds a name with a point that stands in no quotes, and so falls apart in the path.
pub(super) fn apart(cx: &mut Cx, root: &Node, parts: &[Part]) -> bool {
    let [
        Part {
            step: Step::Key(map),
            ..
        },
        first,
        rest @ ..,
    ] = parts
    else {
        return false;
    };
    let Some(Value::Map(entries)) = root.get(map).map(|node| &node.value) else {
        return false;
    };
    let Step::Key(key) = &first.step else {
        return false;
    };
    let squeezed = |name: &str| name.replace(' ', "");
    let names: Vec<&str> = entries.iter().map(|(name, _)| word(name)).collect();
    if names.contains(&key.as_str()) {
        return false;
    }
    let mut whole = squeezed(key);
    for part in rest {
        let Step::Key(more) = &part.step else { break };
        whole = format!("{whole}.{}", squeezed(more));
        if let Some(name) = names.iter().find(|name| squeezed(name) == whole) {
            cx.error(
                "unknown-name",
                first.at,
                format!("`{}`", plain(key)),
                "a name in the file",
                format!("put a name with a point in quotes: `\"{}\"`", plain(name)),
            );
            return true;
        }
    }
    false
}

/// A step of the wrong kind: found, expected, way out.
fn misfit(below: &Below, step: &Step, kind: Kind) -> (String, String, &'static str) {
    let found = match step {
        Step::Key(key) => format!("`{}`", plain(key)),
        Step::Entry(n) => format!("entry {n}"),
        Step::Append => "a new entry".to_owned(),
    };
    match below {
        Below::Entries(_) => (
            found,
            "an entry of a list".to_owned(),
            "count entries from 1, as `store room[1].count`",
        ),
        Below::Nothing => (
            found,
            format!("nothing below a value of kind {}", kind.title()),
            "end the path here; put a name with a point in quotes",
        ),
        _ => (
            found,
            "a key or a name".to_owned(),
            "put a point and the key or name; brackets are for entries of lists",
        ),
    }
}
