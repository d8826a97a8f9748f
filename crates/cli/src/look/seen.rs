//! What is seen in a compartment, in the words of the trade.

use crate::scenario::Queen;

/// What was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Seen {
    /// A queen, or none.
    Queen(Queen),
    /// She was taken out, mated.
    Taken,
    /// Nothing lives in it any more: dead, united, or tipped out.
    Gone,
}

/// Words for each, that of the scenario first.
pub(crate) const WORDS: [(&str, Seen); 29] = [
    ("cell", Seen::Queen(Queen::Cell)),
    ("virgin", Seen::Queen(Queen::Virgin)),
    ("virgin queen", Seen::Queen(Queen::Virgin)),
    ("emerged", Seen::Queen(Queen::Virgin)),
    ("laying", Seen::Queen(Queen::Laying)),
    ("eggs", Seen::Queen(Queen::Laying)),
    ("open brood", Seen::Queen(Queen::Laying)),
    ("mated", Seen::Queen(Queen::Mated)),
    ("sealed brood", Seen::Queen(Queen::Mated)),
    ("sealed", Seen::Queen(Queen::Mated)),
    ("flat brood", Seen::Queen(Queen::Mated)),
    ("to be taken", Seen::Queen(Queen::ToBeTaken)),
    ("none", Seen::Queen(Queen::None)),
    ("no queen", Seen::Queen(Queen::None)),
    ("no eggs", Seen::Queen(Queen::None)),
    ("queenless", Seen::Queen(Queen::None)),
    ("drone-layer", Seen::Queen(Queen::DroneLayer)),
    ("drone layer", Seen::Queen(Queen::DroneLayer)),
    ("drone brood", Seen::Queen(Queen::DroneLayer)),
    ("domed brood", Seen::Queen(Queen::DroneLayer)),
    ("laying workers", Seen::Queen(Queen::LayingWorkers)),
    ("taken", Seen::Taken),
    ("queen taken", Seen::Taken),
    ("dead", Seen::Gone),
    ("empty", Seen::Gone),
    ("absconded", Seen::Gone),
    ("united", Seen::Gone),
    ("tipped out", Seen::Gone),
    ("gone", Seen::Gone),
];

/// What a word says, as to capitals however it is written.
pub(crate) fn said(word: &str) -> Option<Seen> {
    let word = word.trim().to_lowercase();
    let known = WORDS.iter().find(|(known, _)| *known == word);
    known.map(|(_, seen)| *seen)
}

/// The word of the scenario.
pub(crate) fn word_of(queen: Queen) -> &'static str {
    let known = WORDS.iter().find(|(_, seen)| *seen == Seen::Queen(queen));
    known.map_or("none", |(word, _)| word)
}
