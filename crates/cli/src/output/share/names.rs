//! Short names of compartments, as they stand on frames and boxes.

use crate::output::report::{CompartmentReport, Headline};
use crate::output::words::{Words, clean};
use std::collections::BTreeMap;

/// Where something goes: kind of box, box, compartment.
type Place = (String, u32, u32);

/// Names of compartments: `3.2`, or `B3.2` where there are several kinds of box.
pub(super) struct Names<'a> {
    words: &'a Words,
    letters: BTreeMap<&'a str, char>,
    /// Compartments that are stocked, begun, or left in peace, each with its number on the page.
    ids: BTreeMap<Place, usize>,
}

impl<'a> Names<'a> {
    pub(super) fn of(
        headline: &'a Headline,
        touched: impl Iterator<Item = &'a CompartmentReport>,
        words: &'a Words,
    ) -> Self {
        let touched: Vec<&CompartmentReport> = touched.collect();
        let used = headline.kinds.iter().map(|kind| kind.box_kind.as_str());
        let used: Vec<&str> = used
            .filter(|&kind| touched.iter().any(|c| c.box_kind == kind))
            .collect();
        // Letters of the alphabet are enough for one day; beyond, a number must do.
        let several = used.len() > 1 && used.len() <= 26;
        let letters = used.into_iter().zip('A'..='Z').filter(|_| several);
        let ids = touched.iter().enumerate();
        Self {
            words,
            letters: letters.collect(),
            ids: ids
                .map(|(id, c)| ((c.box_kind.clone(), c.box_no, c.compartment), id))
                .collect(),
        }
    }

    /// The letter of a kind of box, where it has one.
    pub(super) fn letter(&self, kind: &str) -> String {
        self.letters
            .get(kind)
            .map_or(String::new(), char::to_string)
    }

    /// The short name of a compartment.
    pub(super) fn short(&self, kind: &str, box_no: u32, compartment: u32) -> String {
        self.letter(kind) + &self.words.number(kind, box_no, compartment)
    }

    /// A kind of box with its letter.
    pub(super) fn kind(&self, kind: &str) -> String {
        match self.letters.get(kind) {
            Some(letter) => format!("{letter}: {}", clean(kind)),
            None => clean(kind),
        }
    }

    /// The number of a compartment on the page.
    pub(super) fn id(&self, kind: &str, box_no: u32, compartment: u32) -> Option<usize> {
        let place = (kind.to_owned(), box_no, compartment);
        self.ids.get(&place).copied()
    }
}
