//! Figures and phrases that the table and the Markdown writer share.

use super::contents::{contents, hanging};
use super::done::{already, mark};
use super::figures::{counted, covered, some, weight, whole};
use super::next_cells::inside;
use super::report::{
    BeesReport, ClosedBox, ColonyReport, CompartmentReport, Destination, FramesReport, Headline,
    Holds, KindReport, Report,
};
use crate::reading::plain;
use itertools::Itertools;
use spareframe_solver::Scenario;
use std::collections::BTreeSet;

/// What every phrase of one plan needs to know.
pub(super) struct Words {
    /// More than one comb is in use, so that a frame must name its own.
    many_combs: bool,
    /// Colonies differ in comb from each other or from the frames that are moved, so that frames of bees must name theirs.
    many_covered: bool,
    /// More than one kind of box is stocked.
    many_kinds: bool,
    /// Kinds of box with one compartment each.
    undivided: BTreeSet<String>,
    /// Kinds of box, in the order of the scenario.
    kinds: Vec<String>,
    /// What travels in closed carrying boxes.
    closed: Vec<ClosedBox>,
}

impl Words {
    pub(super) fn of(report: &Report) -> Self {
        let kinds = &report.headline.kinds;
        let single = |k: &&KindReport| k.compartments_in_all == u64::from(k.boxes_in_all);
        let giving = report.colonies.iter().filter(|c| c.bees_taken > 0);
        let told = giving.map(|c| c.covered_comb.as_str());
        let told: BTreeSet<&str> = told.filter(|comb| !comb.is_empty()).collect();
        let moved = combs(report);
        Self {
            many_combs: moved.len() > 1,
            many_covered: told.len() > 1 || !told.is_empty() && moved.is_disjoint(&told),
            many_kinds: kinds.iter().filter(|k| k.compartments_stocked > 0).count() > 1,
            undivided: kinds
                .iter()
                .filter(single)
                .map(|k| k.box_kind.clone())
                .collect(),
            kinds: kinds.iter().map(|k| k.box_kind.clone()).collect(),
            closed: report.closed_boxes.clone(),
        }
    }

    /// The same where all frames of opened colonies are shown, those that stay too.
    pub(super) fn of_whole_colonies(report: &Report, scenario: &Scenario) -> Self {
        let mut combs = combs(report);
        for colony in &scenario.colonies {
            if report.colonies.iter().any(|c| c.colony == colony.name) {
                let ids = colony.frames.iter().map(|group| group.frame.comb.0);
                combs.extend(ids.filter_map(|id| Some(scenario.combs.get(id)?.name.as_str())));
            }
        }
        Self {
            many_combs: combs.len() > 1,
            ..Self::of(report)
        }
    }

    /// Names the comb of all frames that are shown, where it is one. Boxes that stay empty may take
    /// others.
    pub(super) fn comb_sentence(&self, report: &Report) -> Option<String> {
        let combs = combs(report);
        let one = combs.first().filter(|_| !self.many_combs)?;
        let comb = clean(one);
        Some(match self.many_covered {
            false => format!("All frames in this plan are {comb}."),
            true => format!(
                "All frames that this plan moves are {comb}; frames of bees are those of their colony."
            ),
        })
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

    /// Covered frames as a person counts them, with their comb where combs differ: `3½ Dadant frames`.
    pub(super) fn covered(&self, frames: f64, comb: &str) -> Option<String> {
        let frames = covered(frames)?;
        Some(match self.many_covered && !comb.is_empty() {
            true => frames.replacen("frame", &format!("{} frame", clean(comb)), 1),
            false => frames,
        })
    }

    /// Bees in covered frames and in round numbers: `about 3½ frames of bees (some 8,000)`.
    pub(super) fn bees(&self, bees: i64, frames: f64, comb: &str) -> String {
        match self.covered(frames, comb) {
            Some(frames) => format!("about {frames} of bees ({})", some(bees)),
            None => format!("{} bees", some(bees)),
        }
    }

    /// Adds destinations to others; each compartment stays one, in the order of the boxes.
    pub(super) fn join(&self, to: &mut Vec<Destination>, more: &[Destination]) {
        for next in more {
            match to.iter_mut().find(|d| d.same_place(next)) {
                Some(same) => same.frames = same.frames.saturating_add(next.frames),
                None => to.push(next.clone()),
            }
        }
        let kind = |d: &Destination| self.kinds.iter().position(|k| *k == d.box_kind);
        to.sort_by_key(|d| (kind(d), d.box_no, d.compartment));
    }

    /// The compartments that frames go to, with how many where it is not one each: `to mating box
    /// 1.1 (2), 1.2 (1)`.
    pub(super) fn goes_to(&self, to: &[Destination]) -> String {
        let several = to.len() > 1 && to.iter().any(|d| d.frames > 1);
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

    /// How what a colony gives travels to boxes that are elsewhere: `in a closed box to wood for heath box 3.2`.
    pub(super) fn closed_boxes(&self, c: &ColonyReport) -> Vec<String> {
        let frames = c.leaving.iter().flat_map(|l| &l.goes_to);
        let frames = frames.map(|d| (&d.box_kind, d.box_no, d.compartment));
        let lots = c.adding.iter();
        let lots = lots.map(|d| (&d.box_kind, d.box_no, d.compartment));
        let to: BTreeSet<_> = frames.chain(lots).collect();
        let from = self.closed.iter().filter(|of| of.from_site == c.site);
        let own = from.filter(|of| to.contains(&(&of.box_kind, of.box_no, of.compartment)));
        let own: Vec<&ClosedBox> = own.collect();
        let sites = own.iter().map(|of| &of.to_site).unique();
        let item = |site: &String| {
            let to = own.iter().filter(|of| of.to_site == *site);
            let mut last = None;
            let names = to.map(|of| {
                let number = self.number(&of.box_kind, of.box_no, of.compartment);
                match last.replace(&of.box_kind) == Some(&of.box_kind) {
                    true => number,
                    false => format!("{} {number}", clean(&of.box_kind)),
                }
            });
            let (each, names) = match &names.collect::<Vec<_>>()[..] {
                [] => ("", String::new()),
                [one] => ("", one.clone()),
                [some @ .., last] => (" each", format!("{} and {last}", some.join(", "))),
            };
            format!("in a closed box{each} to {} for {names}", clean(site))
        };
        sites.map(item).collect()
    }

    /// Box and compartment as `3.2`, or `3` where the box is not divided.
    pub(super) fn number(&self, kind: &str, box_no: u32, compartment: u32) -> String {
        if self.undivided.contains(kind) {
            box_no.to_string()
        } else {
            format!("{box_no}.{compartment}")
        }
    }

    /// Compartments that follow each other and are filled alike, as runs.
    pub(super) fn runs<'a>(
        &self,
        compartments: &'a [CompartmentReport],
    ) -> impl Iterator<Item = &'a [CompartmentReport]> {
        let said = |c: &CompartmentReport| {
            let heading = self.heading_of(clean(&c.box_kind), c);
            let stands = c.stands.as_ref().map(|stands| inside(self, stands));
            (heading, stands, self.frames_of(c), self.bees_from(c))
        };
        compartments.chunk_by(move |a, b| said(a) == said(b))
    }

    /// The heading of a run: `mini 2 to 9, at forest, from colony 4`.
    pub(super) fn run_heading(&self, run: &[CompartmentReport]) -> Option<String> {
        let (first, last) = (run.first()?, run.last()?);
        let number = |c: &CompartmentReport| self.number(&c.box_kind, c.box_no, c.compartment);
        let gapless = usize::try_from(last.box_no.abs_diff(first.box_no)) == Ok(run.len() - 1);
        let numbers = match run.len() > 2 && gapless && self.undivided.contains(&first.box_kind) {
            true => format!("{} to {}", number(first), number(last)),
            false => run.iter().map(number).collect::<Vec<_>>().join(", "),
        };
        let name = format!("{} {numbers}", clean(&first.box_kind));
        Some(self.heading_of(name, first))
    }

    /// A compartment by name and site, its donors, and how far it is done: `mating box 3.2, at home,
    /// from colonies 4 and 7 (begun)`.
    fn heading_of(&self, name: String, c: &CompartmentReport) -> String {
        let site = clean(&c.site);
        let donors: Vec<String> = c.donor_colonies.iter().map(|name| clean(name)).collect();
        let from = match &donors[..] {
            [] => String::new(),
            [one] => format!(", from colony {one}"),
            [some @ .., last] => format!(", from colonies {} and {last}", some.join(", ")),
        };
        let next = if c.stands.is_some() {
            ": next cell"
        } else {
            ""
        };
        format!("{name}, at {site}{from}{}{next}", mark(c))
    }

    /// A compartment by name: `mating box 3.2`.
    pub(super) fn compartment(&self, c: &CompartmentReport) -> String {
        let number = self.number(&c.box_kind, c.box_no, c.compartment);
        format!("{} {number}", clean(&c.box_kind))
    }

    /// Compartments by name, each kind once: `mating box 3.2, 4.1, mini 2`.
    pub(super) fn listed(&self, compartments: &[&CompartmentReport]) -> String {
        let mut names: Vec<String> = Vec::new();
        let mut last = None;
        for c in compartments {
            names.push(match last.replace(&c.box_kind) == Some(&c.box_kind) {
                true => self.number(&c.box_kind, c.box_no, c.compartment),
                false => self.compartment(c),
            });
        }
        names.join(", ")
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
            let already = already(f.done, f.frames);
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
                let all = i64::try_from(k.compartments_in_all).unwrap_or(i64::MAX);
                let all = all.saturating_sub(k.compartments_standing.into());
                let new = k.compartments_stocked.saturating_sub(k.next_cells);
                let new = (all > 0 || k.compartments_standing == 0)
                    .then(|| format!("{new} of {}", free(all, k.compartments_standing.into())));
                let next = next_cells(k.next_cells, k.next_cells_wanted);
                let parts: Vec<String> = new.into_iter().chain(next).chain([boxes]).collect();
                format!("{}: {}", clean(&k.box_kind), parts.join(", "))
            } else {
                format!("{}: {boxes}", clean(&k.box_kind))
            }
        };
        // Boxes of a kind that are all used up say nothing.
        let there = headline.kinds.iter().filter(|k| k.boxes_in_all > 0);
        there.map(line).collect()
    }
}

/// So many compartments, of which none or some are left out as bees stand in them.
pub(super) fn free(count: i64, standing: i64) -> String {
    match standing {
        0 => counted(count, "compartment", "compartments"),
        _ => counted(count, "free compartment", "free compartments"),
    }
}

/// So many next cells of those that are wanted, where any are.
pub(super) fn next_cells(given: u32, wanted: u32) -> Option<String> {
    (wanted > 0).then(|| {
        let wanted = counted(wanted.into(), "next cell", "next cells");
        format!("{given} of {wanted}")
    })
}

/// Combs of all frames that a plan names.
fn combs(report: &Report) -> BTreeSet<&str> {
    let compartments = report.compartments.iter().chain(&report.begun);
    let placed = compartments.flat_map(|c| c.all_frames().map(|(_, holds)| holds));
    let gaps = report.colonies.iter().flat_map(|c| &c.gaps_filled_with);
    let fillers = gaps.map(|filler| &filler.each_holds);
    placed
        .chain(fillers)
        .map(|holds| holds.comb.as_str())
        .collect()
}

/// Text from a file, safe to show: control characters cannot reach the terminal.
pub(crate) fn clean(text: &str) -> String {
    plain(text).replace('\t', " ")
}

fn unfed(frames: &FramesReport) -> FramesReport {
    FramesReport {
        feed_kg: 0.0,
        ..frames.clone()
    }
}

/// Bees of a donor that ride on brood frames of it in the compartment: what rides is counted for a site.
fn on_brood(c: &CompartmentReport, bees: &BeesReport) -> i64 {
    let own = c.frames.iter();
    let own =
        own.filter(|f| f.colony.as_ref() == Some(&bees.colony) && f.each_holds.brood_share > 0.0);
    let there: i64 = own.map(|f| i64::from(f.frames) * f.each_holds.bees).sum();
    bees.riding.min(there)
}

impl Words {
    /// Bees of a compartment by donor, and how many stay.
    pub(super) fn bees_from(&self, c: &CompartmentReport) -> String {
        let from = c
            .bees
            .iter()
            .map(|bees| self.bees_of(bees, on_brood(c, bees)));
        let from: Vec<String> = from.collect();
        let from = match from.is_empty() {
            true => "none".to_owned(),
            false => from.join("; "),
        };
        let taken: i64 = c.bees.iter().map(|b| b.bees).sum();
        // A compartment may be short by less than a hundred where another of its site is over.
        let about = match c.bees_staying < c.bees_needed {
            true => "about ",
            false => "",
        };
        let needs = match (c.bees_needed, &c.stands) {
            (0, Some(_)) => "enough stand in it".to_owned(),
            (fewest, Some(_)) => format!("needs {about}{} more", whole(fewest)),
            (fewest, None) => format!("needs {about}{}", whole(fewest)),
        };
        match taken == c.bees_staying {
            true => format!("{from} ({needs})"),
            false => format!("{from}; {} stay ({needs})", some(c.bees_staying)),
        }
    }

    /// Bees of one donor: `some 2,900 from colony 4 (1½ frames), 2,100 on its brood, 800 others`.
    fn bees_of(&self, b: &BeesReport, riding: i64) -> String {
        let frames = self
            .covered(b.covered_frames, &b.covered_comb)
            .map_or(String::new(), |frames| format!(" ({frames})"));
        let how = match (riding, b.bees - riding) {
            _ if b.done == b.bees => String::new(),
            (_, 0) => ", on its brood".to_owned(),
            // Without brood of their own there, they ride on other combs of theirs or are shaken in: the colony's list says which.
            (0, _) => String::new(),
            (riding, loose) => format!(", {} on its brood, {} others", whole(riding), whole(loose)),
        };
        let already = match b.done {
            0 => String::new(),
            n if n == b.bees => ", in it already".to_owned(),
            n => format!(", {} in it already", whole(n)),
        };
        format!(
            "{} from colony {}{frames}{how}{already}",
            some(b.bees),
            clean(&b.colony)
        )
    }
}
