//! What stands from an earlier day, in the record and in words.

use super::build::{Notes, bees, holds, site};
use super::figures::{counted, some, whole};
use super::report::{
    CompartmentReport, LackingFrames, Lacks, LeftReport, LoadFrames, Report, StandsReport,
};
use super::words::{Words, clean};
use spareframe_solver::{Compartment, Plan, Recipe, Scenario, Standing};

/// What stands in a compartment of a plan.
pub(super) fn stands(scenario: &Scenario, notes: &Notes, c: &Compartment) -> Option<StandsReport> {
    let at = scenario.standing.iter().position(|stands| stands.is(c))?;
    let mut stands = report(scenario, notes, at, scenario.standing.get(at)?);
    for (group, count) in scenario.makes_room(c) {
        if let Some(frames) = stands.frames.get_mut(group) {
            frames.out = count;
        }
    }
    Some(stands)
}

fn report(scenario: &Scenario, notes: &Notes, at: usize, stands: &Standing) -> StandsReport {
    let said = notes.standing.get(at);
    let frames = stands.frames.iter().map(|group| LoadFrames {
        frames: group.count,
        each_holds: holds(scenario, &group.frame),
        out: 0,
    });
    StandsReport {
        since: said.map(|said| said.since.to_string()),
        queen: said.map(|said| said.queen.word().to_owned()),
        queen_seen: said.map(|said| said.seen.to_string()),
        frames: frames.collect(),
        bees: bees(stands.bees()),
    }
}

/// Frames of those that stand in it that come out of a compartment to make room.
pub(super) fn frames_out(scenario: &Scenario, c: &Compartment) -> u32 {
    let out = scenario.makes_room(c);
    out.iter().map(|(_, count)| count).sum()
}

/// Compartments in which bees stand and to which a plan does nothing, in the order of the scenario.
pub(super) fn left_in_peace(scenario: &Scenario, notes: &Notes, plan: &Plan) -> Vec<LeftReport> {
    let all = scenario.standing.iter().enumerate();
    let left = all.filter(|(_, stands)| !plan.touched().any(|c| stands.is(c)));
    let left = left.filter_map(|(at, stands)| {
        let kind = scenario.boxes.get(stands.kind.0)?;
        let barred = notes.standing.get(at).and_then(|said| said.barred);
        Some(LeftReport {
            box_kind: kind.name.clone(),
            box_no: stands.box_no.saturating_add(1),
            compartment: stands.place.saturating_add(1),
            site: site(scenario, kind.site.0),
            stands: report(scenario, notes, at, stands),
            lacks: stands.wants_cell.then(|| lacks(&stands.lacks(&kind.again))),
            no_next_cell: barred.map(|barred| barred.to_string()),
        })
    });
    left.collect()
}

fn lacks(recipe: &Recipe) -> Lacks {
    let lines = recipe.lines.iter().filter(|line| line.count > 0);
    Lacks {
        frames: lines
            .map(|line| LackingFrames {
                line: line.name.clone(),
                frames: line.count,
            })
            .collect(),
        bees: recipe.bees.0,
    }
}

/// What it lacks, in words: `1 frame (brood) and 900 bees`; nothing where it lacks nothing.
fn lacking(lacks: &Lacks) -> Option<String> {
    let frames = lacks.frames.iter().map(|f| {
        let frames = counted(f.frames.into(), "frame", "frames");
        format!("{frames} ({})", clean(&f.line))
    });
    let bees = (lacks.bees > 0).then(|| format!("{} bees", whole(lacks.bees)));
    let parts: Vec<String> = frames.chain(bees).collect();
    (!parts.is_empty()).then(|| parts.join(" and "))
}

/// A compartment that wants a next cell and gets none, with what it lacks: `mating box 1.2 lacks 1 frame (brood)`.
pub(super) fn without_cell(s: &LeftReport) -> Option<String> {
    let lacks = lacking(s.lacks.as_ref()?);
    let lacks = lacks.map_or_else(
        || "lacks nothing but a cell".to_owned(),
        |lacks| format!("lacks {lacks}"),
    );
    let (kind, no, at) = (clean(&s.box_kind), s.box_no, s.compartment);
    Some(format!("{kind} {no}.{at} {lacks}"))
}

/// What stands in a compartment that gets a next cell, in a line: `3 frames, brood 20%; some 4,000 bees; no queen
/// (2031-06-10)`.
pub(super) fn inside(words: &Words, stands: &StandsReport) -> String {
    let frames = words.alike(&stands.frames);
    let frames = frames
        .iter()
        .map(|(content, n)| format!("{}, {content}", counted(*n, "frame", "frames")));
    let mut parts: Vec<String> = frames.collect();
    parts.push(match stands.bees {
        0 => "no bees counted".to_owned(),
        n => format!("{} bees", some(n)),
    });
    parts.extend(queen(stands));
    parts.join("; ")
}

/// How its queen was.
fn queen(stands: &StandsReport) -> Option<String> {
    let word = match stands.queen.as_deref()? {
        "cell" => "a cell in",
        "virgin" => "a virgin queen",
        "laying" => "eggs seen",
        "mated" => "a mated queen",
        "to be taken" => "a mated queen, to be taken",
        "none" => "no queen",
        other => other,
    };
    let day = stands.queen_seen.as_deref();
    let day = day.map_or(String::new(), |day| format!(" ({})", clean(day)));
    Some(clean(word) + &day)
}

impl Words {
    /// What stands in a compartment that gets a next cell, what comes out of it, and whether the cell is all that it
    /// gets: each with what it is.
    pub(super) fn stands(&self, c: &CompartmentReport) -> Vec<(&'static str, String)> {
        let Some(stands) = &c.stands else {
            return Vec::new();
        };
        let mut lines = vec![("stands", inside(self, stands))];
        if c.frames_out > 0 {
            let out = counted(c.frames_out.into(), "frame", "frames");
            lines.push(("out", format!("{out}, the emptiest, to make room")));
        }
        if c.lacks_nothing() {
            lines.push(("gets", "the cell alone: it lacks nothing".to_owned()));
        }
        lines
    }
}

/// What the list of compartments is called to which nothing is done.
pub(super) const PEACE: &str = "Bees stand, nothing goes in";

/// Compartments that are left in peace, an item each.
pub(super) fn peace(words: &Words, report: &Report) -> Vec<String> {
    let item = |s: &LeftReport| {
        let name = format!(
            "{} {}",
            clean(&s.box_kind),
            words.number(&s.box_kind, s.box_no, s.compartment)
        );
        let since = s.stands.since.as_deref();
        let since = since.map_or(String::new(), |day| format!(" since {}", clean(day)));
        let queen = queen(&s.stands).map_or(String::new(), |queen| format!(": {queen}"));
        let cell = match (&s.no_next_cell, &s.lacks) {
            (Some(why), _) => format!(
                "; no next cell, as {}: unite it, or tip it out before a full colony",
                clean(why)
            ),
            (None, Some(lacks)) => {
                let lacks = lacking(lacks);
                let lacks = lacks.map_or(String::new(), |lacks| format!("; it lacks {lacks}"));
                format!("; gets no next cell today{lacks}")
            }
            (None, None) => String::new(),
        };
        format!("{name}{since}{queen}{cell}")
    };
    report.standing.iter().map(item).collect()
}

/// Compartments that get a next cell.
pub(super) fn next_cells(report: &Report) -> Vec<&CompartmentReport> {
    let stocked = report.compartments.iter();
    stocked.filter(|c| c.stands.is_some()).collect()
}

/// Compartments that get a next cell, where there are any: `mating box 1.2, 3.1`.
pub(super) fn listed(report: &Report) -> Option<String> {
    let next = next_cells(report);
    (!next.is_empty()).then(|| Words::of(report).listed(&next))
}

/// What to do at compartments that get a next cell, as a step of the day.
pub(super) fn step(report: &Report) -> Option<String> {
    let next = next_cells(report);
    if next.is_empty() {
        return None;
    }
    let words = Words::of(report);
    let with_queen = |c: &&CompartmentReport| {
        let queen = c.stands.as_ref().and_then(|stands| stands.queen.as_deref());
        matches!(
            queen,
            Some("to be taken" | "drone-layer" | "laying" | "mated" | "virgin")
        )
    };
    let queens: Vec<_> = next.iter().copied().filter(with_queen).collect();
    let queens = match queens.is_empty() {
        true => String::new(),
        false => format!(", take the queen out of {}", words.listed(&queens)),
    };
    let lack = next.iter().all(|c| c.lacks_nothing());
    let add = if lack { "" } else { ", add what it lacks" };
    Some(format!(
        "Where bees stand, in {}: break every wild cell{queens}{add}, close.",
        words.listed(&next)
    ))
}

/// What to do with wild cells.
pub(super) fn caution(report: &Report) -> Option<String> {
    let next = listed(report)?;
    Some(format!(
        "Next cells in {next}: break wild cells before the new cell goes in, and look again a week later: a queen out \
         of one that was missed kills yours."
    ))
}
