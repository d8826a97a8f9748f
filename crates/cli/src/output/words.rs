//! Figures and phrases that the table and the Markdown writer share.

use super::done::{already, mark};
use super::figures::{counted, percent, weight, whole};
use super::report::{
    Carry, ColonyReport, CompartmentReport, Destination, FramesReport, Headline, Holds, KindReport,
    Progress, Report,
};
use crate::reading::plain;
use std::collections::BTreeSet;

/// What every phrase of one plan needs to know.
pub(super) struct Words {
    /// More than one comb is in use, so that a frame must name its own.
    many_combs: bool,
    /// More than one kind of box is stocked.
    many_kinds: bool,
    /// Kinds of box with one compartment each.
    undivided: BTreeSet<String>,
    /// Kinds of box, in the order of the scenario.
    kinds: Vec<String>,
}

impl Words {
    pub(super) fn of(report: &Report) -> Self {
        let placed = report.compartments.iter().flat_map(|c| &c.frames);
        let combs: BTreeSet<&str> = placed.map(|f| f.each_holds.comb.as_str()).collect();
        let kinds = &report.headline.kinds;
        let single = |k: &&KindReport| k.compartments_in_all == u64::from(k.boxes_in_all);
        Self {
            many_combs: combs.len() > 1,
            many_kinds: kinds.iter().filter(|k| k.compartments_stocked > 0).count() > 1,
            undivided: kinds
                .iter()
                .filter(single)
                .map(|k| k.box_kind.clone())
                .collect(),
            kinds: kinds.iter().map(|k| k.box_kind.clone()).collect(),
        }
    }

    /// The comb of all frames, where it is one.
    pub(super) fn only_comb<'a>(&self, report: &'a Report) -> Option<&'a str> {
        let first = report.compartments.iter().find_map(|c| c.frames.first());
        first
            .filter(|_| !self.many_combs)
            .map(|f| f.each_holds.comb.as_str())
    }

    /// What one frame holds: `brood 60% (40% of it sealed), stores 20%`.
    pub(super) fn content(&self, holds: &Holds) -> String {
        contents(holds, self.many_combs)
    }

    /// The same without what only matters at the donor.
    fn brief(&self, holds: &Holds) -> String {
        self.content(&Holds {
            sealed_share: 0.0,
            ..holds.clone()
        })
    }

    /// Frames that leave a colony, and where they go: `5 frames, brood 65%, stores 15%`. Groups
    /// that look alike are one item.
    pub(super) fn leaving(&self, colony: &ColonyReport) -> Vec<(String, String)> {
        let mut alike: Vec<(String, i64, Vec<Destination>)> = Vec::new();
        for l in &colony.leaving {
            let place = hanging(l.place.as_deref());
            let what = format!("{}{place}", self.content(&l.each_holds));
            match alike.iter_mut().find(|(other, ..)| *other == what) {
                Some((_, frames, to)) => {
                    *frames += i64::from(l.frames);
                    self.join(to, &l.goes_to);
                }
                None => alike.push((what, i64::from(l.frames), l.goes_to.clone())),
            }
        }
        alike
            .into_iter()
            .map(|(what, n, to)| {
                let frames = counted(n, "frame", "frames");
                (format!("{frames}, {what}"), self.goes_to(&to))
            })
            .collect()
    }

    /// Adds destinations to others; each compartment stays one, in the order of the boxes.
    fn join(&self, to: &mut Vec<Destination>, more: &[Destination]) {
        for next in more {
            match to.iter_mut().find(|d| d.same_place(next)) {
                Some(same) => same.frames = same.frames.saturating_add(next.frames),
                None => to.push(next.clone()),
            }
        }
        let kind = |d: &Destination| self.kinds.iter().position(|k| *k == d.box_kind);
        to.sort_by_key(|d| (kind(d), d.box_no, d.compartment));
    }

    /// The compartments that frames go to: `to mating box 1.1 (2), 1.2 (1)`.
    fn goes_to(&self, to: &[Destination]) -> String {
        let several = to.len() > 1;
        let mut last = None;
        let mut parts = Vec::new();
        for d in to {
            let mut part = String::new();
            if last != Some(&d.box_kind) {
                part = format!("{} ", clean(&d.box_kind));
                last = Some(&d.box_kind);
            }
            part += &self.number(&d.box_kind, d.box_no, d.compartment);
            if several {
                part += &format!(" ({})", d.frames);
            }
            parts.push(part);
        }
        format!("to {}", parts.join(", "))
    }

    /// Box and compartment as `3.2`, or `3` where the box is not divided.
    pub(super) fn number(&self, kind: &str, box_no: u32, compartment: u32) -> String {
        if self.undivided.contains(kind) {
            box_no.to_string()
        } else {
            format!("{box_no}.{compartment}")
        }
    }

    /// A compartment by name and site, and how far it is done: `mating box 3.2, at home (begun)`.
    pub(super) fn heading(&self, c: &CompartmentReport) -> String {
        let (name, site) = (self.compartment(c), clean(&c.site));
        format!("{name}, at {site}{}", mark(c))
    }

    /// A compartment by name: `mating box 3.2`.
    pub(super) fn compartment(&self, c: &CompartmentReport) -> String {
        let number = self.number(&c.box_kind, c.box_no, c.compartment);
        format!("{} {number}", clean(&c.box_kind))
    }

    /// Frames of a compartment by line: how many, the line, and where they come from. Those that
    /// look alike are one item.
    pub(super) fn frames_of(&self, c: &CompartmentReport) -> Vec<(u32, String, String)> {
        let mut alike: Vec<FramesReport> = Vec::new();
        let key = |f: &FramesReport| {
            let fed = f.feed_kg > 0.0;
            (f.line.clone(), fed, self.origin(&unfed(f)))
        };
        for f in &c.frames {
            match alike.iter_mut().find(|other| key(other) == key(f)) {
                Some(same) => {
                    same.frames = same.frames.saturating_add(f.frames);
                    same.feed_kg += f.feed_kg;
                    same.done = same.done.saturating_add(f.done);
                }
                None => alike.push(f.clone()),
            }
        }
        let item = |f: &FramesReport| {
            let already = already(f.done.into(), f.frames.into());
            (f.frames, clean(&f.line), self.origin(f) + &already)
        };
        alike.iter().map(item).collect()
    }

    /// Where frames of a compartment come from and what they hold.
    fn origin(&self, frames: &FramesReport) -> String {
        let from = match &frames.colony {
            Some(colony) => format!("colony {}", clean(colony)),
            None => "store room".to_owned(),
        };
        // Frames of a colony were found when it was opened; those of the store room are not yet.
        let place = match frames.colony {
            None => hanging(frames.place.as_deref()),
            Some(_) => String::new(),
        };
        let substitute = match (frames.substitute, frames.feed_kg > 0.0) {
            (None, _) => String::new(),
            (Some(_), false) => "; substitute".to_owned(),
            (Some(_), true) => format!("; substitute, feed {}", weight(frames.feed_kg)),
        };
        let content = self.brief(&frames.each_holds);
        if content == frames.line {
            return format!("{from}{place}{substitute}");
        }
        format!("{from}: {content}{place}{substitute}")
    }

    /// The headline of the kinds of box, one line each.
    pub(super) fn kinds(&self, headline: &Headline) -> Vec<String> {
        let several = self.many_kinds || headline.kinds.len() > 1;
        let line = |k: &KindReport| {
            let boxes = format!(
                "{} of {}, at {}",
                k.boxes_used,
                counted(i64::from(k.boxes_in_all), "box", "boxes"),
                clean(&k.site)
            );
            if several {
                format!(
                    "{}: {} of {} compartments, {boxes}",
                    clean(&k.box_kind),
                    k.compartments_stocked,
                    k.compartments_in_all
                )
            } else {
                format!("{}: {boxes}", clean(&k.box_kind))
            }
        };
        headline.kinds.iter().map(line).collect()
    }

    /// Where a load comes from, and how many frames it is.
    pub(super) fn from(&self, carry: &Carry) -> String {
        let from = match &carry.from_site {
            Some(site) => clean(site),
            None => "the store room".to_owned(),
        };
        match carry.frames.iter().map(|f| i64::from(f.frames)).sum() {
            0 => format!("from {from}"),
            n => format!("from {from}, {}", counted(n, "frame", "frames")),
        }
    }

    /// The items of one load; frames that look alike are one item.
    pub(super) fn load(&self, carry: &Carry) -> Vec<String> {
        let mut frames: Vec<(String, i64)> = Vec::new();
        for f in &carry.frames {
            let (content, n) = (self.content(&f.each_holds), i64::from(f.frames));
            match frames.iter_mut().find(|(other, _)| *other == content) {
                Some((_, sum)) => *sum += n,
                None => frames.push((content, n)),
            }
        }
        let mut items: Vec<String> = frames
            .iter()
            .map(|(content, n)| format!("{}, {content}", counted(*n, "frame", "frames")))
            .collect();
        if carry.bees > 0 {
            items.push(counted(carry.bees, "bee", "bees"));
        }
        if carry.cells > 0 {
            let n = i64::from(carry.cells);
            items.push(counted(n, "cell or queen", "cells or queens"));
        }
        if carry.feed_kg > 0.0 {
            let feed = weight(carry.feed_kg);
            items.push(format!("feed for substitutes: {feed} (honey equivalent)"));
        }
        items
    }
}

/// Boxes to bring to a site, an item for each kind.
pub(super) fn boxes(report: &Report, site: &str) -> Vec<String> {
    let kinds = report.headline.kinds.iter();
    kinds
        .filter(|k| k.site == site)
        .filter_map(|k| {
            // A finished box has no more to be brought to it, and may stand there already.
            let open = report
                .compartments
                .iter()
                .filter(|c| c.box_kind == k.box_kind && c.done != Some(Progress::Finished));
            let boxes: BTreeSet<u32> = open.map(|c| c.box_no).collect();
            let count = i64::try_from(boxes.len()).ok().filter(|&count| count > 0)?;
            let boxes = counted(count, "box", "boxes");
            Some(format!("{boxes}, {}", clean(&k.box_kind)))
        })
        .collect()
}

/// Text from a file, safe to show: control characters cannot reach the terminal.
pub(super) fn clean(text: &str) -> String {
    plain(text).replace('\t', " ")
}

/// What one frame holds, its comb first where there are several.
pub(super) fn contents(holds: &Holds, many_combs: bool) -> String {
    match many_combs {
        true => format!("{}, {}", clean(&holds.comb), content(holds)),
        false => content(holds),
    }
}

fn content(holds: &Holds) -> String {
    if holds.drawn_share <= 0.0 {
        return "foundation".to_owned();
    }
    let mut parts = Vec::new();
    if holds.brood_share > 0.0 {
        let sealed = if holds.sealed_share > 0.0 {
            let of_brood = (holds.sealed_share / holds.brood_share * 100.0).round();
            format!(" ({of_brood}% of it sealed)")
        } else {
            String::new()
        };
        parts.push(format!("brood {}{sealed}", percent(holds.brood_share)));
    }
    if holds.stores_share > 0.0 {
        parts.push(format!("stores {}", percent(holds.stores_share)));
    }
    if !parts.is_empty() && holds.drawn_share < 1.0 {
        parts.push(format!("{} drawn", percent(holds.drawn_share)));
    }
    if parts.is_empty() {
        parts.push(if holds.drawn_share < 1.0 {
            format!("comb {} drawn", percent(holds.drawn_share))
        } else {
            "empty comb".to_owned()
        });
    }
    parts.join(", ")
}

fn unfed(frames: &FramesReport) -> FramesReport {
    FramesReport {
        feed_kg: 0.0,
        ..frames.clone()
    }
}

fn hanging(place: Option<&str>) -> String {
    place.map_or(String::new(), |place| format!(" ({})", clean(place)))
}

/// Bees taken from a colony, in one line.
pub(super) fn bees_of(colony: &ColonyReport) -> String {
    let taken = counted(colony.bees_taken, "bee", "bees");
    let back = whole(colony.bees_shaken_back);
    match (colony.leaving.is_empty(), colony.bees_taken) {
        (true, _) => format!("{taken}, shaken from frames that stay"),
        (false, 0) if colony.bees_shaken_back == 0 => "no bees".to_owned(),
        (false, 0) if colony.taken_apart => {
            format!("no bees: the {back} on these frames stay behind")
        }
        (false, 0) => format!("no bees: shake the {back} on these frames back first"),
        _ if colony.bees_shaken > 0 => format!(
            "{taken}: {} on these frames, {} shaken from frames that stay",
            whole(colony.bees_taken - colony.bees_shaken),
            whole(colony.bees_shaken)
        ),
        _ if colony.bees_shaken_back > 0 && colony.taken_apart => {
            let on = colony.bees_taken.saturating_add(colony.bees_shaken_back);
            format!("{taken} of the {} on these frames", whole(on))
        }
        _ if colony.bees_shaken_back > 0 => {
            format!("{taken} on these frames; shake the other {back} back first")
        }
        _ => format!("{taken}, all on these frames"),
    }
}

/// What becomes of a colony that is taken apart.
pub(super) fn taken_apart(colony: &ColonyReport) -> Option<String> {
    if !colony.taken_apart {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, reason = "a number of bees")]
    let left = colony.bees.after.round() as i64;
    Some(match left {
        0 => "taken apart whole: no frame and no bee stays".to_owned(),
        n => format!(
            "taken apart whole: no frame stays; {} left over",
            counted(n, "bee is", "bees are")
        ),
    })
}

/// Donors of a compartment's bees, and how many stay.
pub(super) fn bees_from(c: &CompartmentReport) -> String {
    let from: Vec<_> = c
        .bees
        .iter()
        .map(|b| {
            let already = match b.done {
                0 => String::new(),
                n if n == b.bees => " (in it already)".to_owned(),
                n => format!(" ({} in it already)", whole(n)),
            };
            format!(
                "{} from colony {}{already}",
                whole(b.bees),
                clean(&b.colony)
            )
        })
        .collect();
    let from = if from.is_empty() {
        "none".to_owned()
    } else {
        from.join(", ")
    };
    let taken: i64 = c.bees.iter().map(|b| b.bees).sum();
    let need = whole(c.bees_needed);
    if taken == c.bees_staying {
        format!("{from} (need {need})")
    } else {
        format!("{from}; {} stay (need {need})", whole(c.bees_staying))
    }
}
