//! Values that are new in a scenario, as YAML.

use super::cells::Written;
use super::changes::{ColonyChange, FramesChange, MapChange};

/// A value that was not there.
pub(super) enum New {
    Scalar(String),
    /// Frames, each in brackets.
    List(Vec<String>),
    Map(Vec<(String, New)>),
}

impl New {
    /// In one line, with brackets.
    pub(super) fn inline(&self) -> String {
        match self {
            Self::Scalar(text) => text.clone(),
            Self::List(list) => format!("[{}]", list.join(", ")),
            Self::Map(entries) => {
                let entry = |(key, new): &(String, Self)| format!("{key}: {}", new.inline());
                let entries: Vec<_> = entries.iter().map(entry).collect();
                format!("{{{}}}", entries.join(", "))
            }
        }
    }

    /// Lines of a key with this value, so many blanks in.
    pub(super) fn lines(&self, key: &str, blanks: usize, out: &mut Vec<String>) {
        let indent = " ".repeat(blanks);
        match self {
            Self::Scalar(text) => out.push(format!("{indent}{key}: {text}")),
            Self::List(list) => {
                out.push(format!("{indent}{key}:"));
                out.extend(list.iter().map(|entry| format!("{indent}  - {entry}")));
            }
            Self::Map(entries) => {
                out.push(format!("{indent}{key}:"));
                for (key, new) in entries {
                    new.lines(key, blanks + 2, out);
                }
            }
        }
    }
}

/// Keys that are set, with their values.
pub(super) fn scalars(map: &MapChange) -> Vec<(String, New)> {
    let set = map.set.iter();
    set.map(|(key, value)| ((*key).to_owned(), New::Scalar(written(value))))
        .collect()
}

/// All that is said of a colony that is not there yet, or of which nothing is said.
pub(super) fn entries_of(change: &ColonyChange) -> Vec<(String, New)> {
    let mut list = scalars(&change.map);
    if let Some(frames) = &change.frames {
        list.push(("frames".to_owned(), added(frames)));
    }
    list
}

/// Frames that are new.
pub(super) fn added(frames: &FramesChange) -> New {
    New::List(frames.added.iter().map(in_brackets).collect())
}

/// A frame in brackets.
pub(super) fn in_brackets(map: &MapChange) -> String {
    let entry = |(key, value): &(&str, Written)| format!("{key}: {}", written(value));
    let entries: Vec<_> = map.set.iter().map(entry).collect();
    format!("{{{}}}", entries.join(", "))
}

fn written(value: &Written) -> String {
    match value.free {
        true => quoted(&value.text),
        false => value.text.clone(),
    }
}

/// A text as YAML, in quotes where it would not stand without.
pub(super) fn quoted(text: &str) -> String {
    let plain = text.starts_with(char::is_alphanumeric)
        && !text.ends_with(' ')
        && text
            .chars()
            .all(|c| c.is_alphanumeric() || " ._/+-".contains(c))
        && text != "null";
    match plain {
        true => text.to_owned(),
        false => serde_json::Value::from(text).to_string(),
    }
}
