//! Names that others refer to, and which of them was meant.

use std::collections::BTreeMap;

/// Longest name and most names that are compared by letter (a choice): each pair costs the
/// product of their lengths.
const MOST_LETTERS: usize = 40;
const MOST_COMPARED: usize = 500;

/// Names in order, found quickly: a yard may have thousands.
#[derive(Default)]
pub(crate) struct Names {
    list: Vec<String>,
    ids: BTreeMap<String, usize>,
}

impl Names {
    pub fn get(&self, name: &str) -> Option<usize> {
        self.ids.get(name).copied()
    }
    /// The index of a name, new or not.
    pub fn add(&mut self, name: &str) -> usize {
        if let Some(id) = self.get(name) {
            return id;
        }
        self.list.push(name.to_owned());
        self.ids.insert(name.to_owned(), self.list.len() - 1);
        self.list.len() - 1
    }
    pub fn list(&self) -> &[String] {
        &self.list
    }
}

/// Of names that differ, so that an index here is one there.
impl<'a> FromIterator<&'a str> for Names {
    fn from_iter<I: IntoIterator<Item = &'a str>>(names: I) -> Self {
        let mut out = Self::default();
        for name in names {
            out.add(name);
        }
        out
    }
}

/// The nearest name: at most `most` changes, about a third of it, and something in common.
pub(crate) fn near<'a>(
    name: &str,
    known: impl Iterator<Item = &'a str>,
    most: usize,
) -> Option<String> {
    if name.len() > MOST_LETTERS {
        return None;
    }
    let name = name.to_lowercase();
    let close = |k: &'a str| {
        let changes = strsim::damerau_levenshtein(&name, &k.to_lowercase());
        let len = k.chars().count();
        let close = changes <= most.min(1 + len / 3) && changes < len.max(name.chars().count());
        close.then_some((changes, k))
    };
    let short = known
        .take(MOST_COMPARED)
        .filter(|k| k.len() <= MOST_LETTERS);
    let nearest = short.filter_map(close).min();
    nearest.map(|(_, k)| format!("did you mean `{k}`?"))
}
