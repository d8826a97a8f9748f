//! Figures and phrases that the table and the Markdown writer share.

use super::report::{
    Answer, Carry, ColonyReport, CompartmentReport, Destination, FramesReport, Headline, Holds,
    KindReport, Level, ProofReport, ProofState, Report,
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
        let content = content(holds);
        if self.many_combs {
            format!("{}, {content}", clean(&holds.comb))
        } else {
            content
        }
    }

    /// The same without what only matters at the donor.
    fn brief(&self, holds: &Holds) -> String {
        self.content(&Holds {
            sealed_share: 0.0,
            ..holds.clone()
        })
    }

    /// Frames that leave a colony: `5 frames, brood 65%, stores 15%`.
    pub(super) fn leaving(&self, leaving: &super::report::Leaving) -> String {
        let frames = counted(i64::from(leaving.frames), "frame", "frames");
        let place = hanging(leaving.place.as_deref());
        format!("{frames}, {}{place}", self.content(&leaving.each_holds))
    }

    /// The compartments that frames go to: `to mating box 1.1 (2), 1.2 (1)`.
    pub(super) fn goes_to(&self, to: &[Destination]) -> String {
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

    /// A compartment by name: `mating box 3.2`.
    pub(super) fn compartment(&self, c: &CompartmentReport) -> String {
        let number = self.number(&c.box_kind, c.box_no, c.compartment);
        format!("{} {number}", clean(&c.box_kind))
    }

    /// Where frames of a compartment come from and what they hold.
    pub(super) fn origin(&self, frames: &FramesReport) -> String {
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

/// Text from a file, safe to show: control characters cannot reach the terminal.
pub(super) fn clean(text: &str) -> String {
    plain(text).replace('\t', " ")
}

/// A whole number with a mark for thousands: `12,400`.
pub(super) fn whole(value: i64) -> String {
    let digits = value.unsigned_abs().to_string();
    let mut out = String::from(if value < 0 { "-" } else { "" });
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

/// So many of something, in the singular or the plural.
pub(super) fn counted(n: i64, one: &str, many: &str) -> String {
    format!("{} {}", whole(n), if n == 1 { one } else { many })
}

/// A weight in the unit that reads best.
pub(super) fn weight(kg: f64) -> String {
    if kg.abs() < 1.0 {
        format!("{:.0} g", kg * 1000.0)
    } else {
        format!("{kg:.2} kg")
    }
}

fn percent(share: f64) -> String {
    let tenths = (share * 1000.0).round() / 10.0;
    format!("{tenths}%")
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
    if parts.is_empty() {
        parts.push(if holds.drawn_share < 1.0 {
            format!("comb {} drawn", percent(holds.drawn_share))
        } else {
            "empty comb".to_owned()
        });
    }
    parts.join(", ")
}

fn hanging(place: Option<&str>) -> String {
    place.map_or(String::new(), |place| format!(" ({})", clean(place)))
}

/// The first sentence of a plan.
pub(super) fn answer(headline: &Headline) -> String {
    let in_all = i64::try_from(headline.compartments_in_all).unwrap_or(i64::MAX);
    let in_all = counted(in_all, "compartment", "compartments");
    match headline.answer {
        Answer::Stocked => format!("{} of {in_all} stocked.", headline.compartments_stocked),
        Answer::NothingPossible => {
            format!("Nothing possible: not one of {in_all} can be stocked without breaking a rule.")
        }
        Answer::StoppedWithoutPlan => "Stopped by the time limit before any plan was found. There \
             may be one: give it more time."
            .to_owned(),
    }
}

/// How sure the plan is.
pub(super) fn proof(proof: &ProofReport) -> String {
    let gap = match (&proof.open_goal, proof.reached, proof.best_possible) {
        (Some(goal), Some(reached), Some(best)) => {
            format!(" Not proved: {goal}, here {reached}, at best {best}.")
        }
        _ => String::new(),
    };
    match proof.state {
        ProofState::ProvedBest => {
            "Proved best: no plan does better in the order of the goals.".to_owned()
        }
        ProofState::BestFound => format!("Best found, not proved best.{gap}"),
        ProofState::StoppedByTimeLimit => {
            format!("Stopped by the time limit: the best found so far.{gap}")
        }
    }
}

/// Honey given up, in one sentence.
pub(super) fn honey(headline: &Headline) -> String {
    let charged = headline.honey_given_up_charged_estimate_kg;
    let simulated = headline.honey_given_up_simulated_estimate_kg;
    if charged == 0.0 && simulated == 0.0 {
        return "Honey given up (estimate): none.".to_owned();
    }
    format!("Honey given up (estimate): {charged:.2} kg charged, {simulated:.2} kg simulated.")
}

/// Colonies and bees, in one sentence.
pub(super) fn work(headline: &Headline) -> String {
    let shaken = match headline.bees_shaken {
        0 => "none of them shaken from frames that stay".to_owned(),
        n => format!("{} of them shaken from frames that stay", whole(n)),
    };
    format!(
        "{} opened, {} taken, {shaken}.",
        counted(i64::from(headline.colonies_opened), "colony", "colonies"),
        counted(headline.bees_taken, "bee", "bees"),
    )
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
        .map(|b| format!("{} from colony {}", whole(b.bees), clean(&b.colony)))
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

/// A level as `before > after (must keep)`. The fewest decimals are shown that keep the figures
/// apart as they are; what is there is rounded down and what must be kept up, so that no plan
/// looks roomier than it is.
pub(super) fn level(level: &Level, most_decimals: u32) -> String {
    #[expect(clippy::cast_possible_truncation, reason = "figures of an apiary")]
    let milli = |v: f64| (v * 1000.0).round() as i64;
    let exact = [level.before, level.after, level.must_keep].map(milli);
    let mut shown = exact;
    let mut decimals = most_decimals.min(1);
    while decimals <= most_decimals {
        let step = 10_i64.pow(3 - decimals);
        let down = |v: i64| v.div_euclid(step) * step;
        let up = |v: i64| -down(-v);
        shown = [down(exact[0]), down(exact[1]), up(exact[2])];
        let same = |i: usize, j: usize| exact[i].cmp(&exact[j]) == shown[i].cmp(&shown[j]);
        if same(0, 1) && same(1, 2) {
            break;
        }
        decimals += 1;
    }
    let decimals = decimals.min(most_decimals);
    let [before, after, keep] = shown.map(|v| figure(v, decimals));
    format!("{before} > {after} ({keep})")
}

/// Thousandths as a figure with so many decimals.
fn figure(milli: i64, decimals: u32) -> String {
    let sign = if milli < 0 { "-" } else { "" };
    let rest = milli.unsigned_abs() % 1000 / 10_u64.pow(3 - decimals);
    let units = whole(milli.abs() / 1000);
    match decimals {
        0 => format!("{sign}{units}"),
        _ => format!("{sign}{units}.{rest:0width$}", width = decimals as usize),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(before: f64, after: f64, must_keep: f64) -> String {
        level(
            &Level {
                before,
                after,
                must_keep,
            },
            3,
        )
    }

    #[test]
    fn a_difference_is_shown_with_as_many_decimals_as_it_needs() {
        assert_eq!(shown(6.8, 6.2, 6.0), "6.8 > 6.2 (6.0)");
        assert_eq!(
            shown(1.79, 1.71, 1.0),
            "1.79 > 1.71 (1.0)".replace("(1.0)", "(1.00)")
        );
        assert_eq!(shown(2.0, 1.715, 1.71), "2.000 > 1.715 (1.710)");
    }

    #[test]
    fn a_floor_is_never_rounded_down_nor_what_is_left_up() {
        assert_eq!(shown(4.25, 1.04, 1.04), "4.25 > 1.04 (1.04)");
        assert_eq!(shown(4.2, 1.99, 1.01), "4.2 > 1.9 (1.1)");
    }

    #[test]
    fn bees_are_whole() {
        let bees = Level {
            before: 23_092.0,
            after: 8906.0,
            must_keep: 2500.0,
        };
        assert_eq!(level(&bees, 0), "23,092 > 8,906 (2,500)");
    }
}
