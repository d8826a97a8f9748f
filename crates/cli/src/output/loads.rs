//! What is carried, in words.

use super::figures::{counted, some, weight};
use super::report::{Carry, LoadFrames};
use super::words::{Words, clean};

impl Words {
    /// Where a load comes from, and how many frames it is.
    pub(super) fn from(&self, carry: &Carry) -> String {
        let from = match &carry.from_site {
            Some(site) => clean(site),
            None => "the store room".to_owned(),
        };
        let frames = carry.frames.iter().chain(&carry.gap_frames);
        match frames.map(|f| i64::from(f.frames)).sum() {
            0 => format!("from {from}"),
            n => format!("from {from}, {}", counted(n, "frame", "frames")),
        }
    }

    /// Frames of a load that fill gaps: what each holds, and how many.
    pub(super) fn gap_frames(&self, carry: &Carry) -> Vec<(String, i64)> {
        self.alike(&carry.gap_frames)
    }

    /// Frames that look alike as one.
    pub(super) fn alike(&self, load: &[LoadFrames]) -> Vec<(String, i64)> {
        let mut frames: Vec<(String, i64)> = Vec::new();
        for f in load {
            let (content, n) = (self.content(&f.each_holds), i64::from(f.frames));
            match frames.iter_mut().find(|(other, _)| *other == content) {
                Some((_, sum)) => *sum += n,
                None => frames.push((content, n)),
            }
        }
        frames
    }

    /// The items of one load but for its cells; frames that look alike are one item.
    pub(super) fn load(&self, carry: &Carry) -> Vec<String> {
        let frames =
            |(content, n): &(String, i64)| format!("{}, {content}", counted(*n, "frame", "frames"));
        let mut items: Vec<String> = self.alike(&carry.frames).iter().map(frames).collect();
        let gaps = self.gap_frames(carry);
        items.extend(
            gaps.iter()
                .map(|gap| format!("to fill gaps: {}", frames(gap))),
        );
        if carry.bees > 0 {
            items.push(format!("{} bees", some(carry.bees)));
        }
        if carry.feed_kg > 0.0 {
            let feed = weight(carry.feed_kg);
            items.push(format!("feed for substitutes: {feed} (honey equivalent)"));
        }
        items
    }
}

/// Cells or queens that come with a load, and when; they do not lie in the store room.
pub(super) fn cells(carry: &Carry) -> Option<String> {
    let on = carry.cells_on.as_deref();
    let on = on.map_or(String::new(), |on| {
        match on.starts_with(|c: char| c.is_ascii_digit()) && on.contains('-') {
            true => format!(", on {on}"),
            false => format!(", {on}"),
        }
    });
    let n = i64::from(carry.cells);
    (n > 0).then(|| counted(n, "cell or queen", "cells or queens") + &on)
}
