//! What a table says that is new, as YAML.

use super::cells::Written;
use super::changes::{ColonyChange, FramesChange, MapChange};
use crate::editing::{New, quoted};

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
    New::List(
        frames
            .added
            .iter()
            .map(|map| New::Scalar(in_brackets(map)))
            .collect(),
    )
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
