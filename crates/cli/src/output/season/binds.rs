//! What holds a want back, in words.

use super::super::calendar::words::written;
use super::words;
use crate::season::Planned;
use spareframe_season::{Binds, Met, Outlook};
use spareframe_solver::Scenario;

/// Limits that are said of a want (a choice).
const SAID: usize = 3;

/// A season by the names of its scenario.
#[derive(Clone, Copy)]
pub(super) struct Of<'a> {
    pub scenario: &'a Scenario,
    pub planned: &'a Planned,
    pub outlook: &'a Outlook,
}

impl Of<'_> {
    /// The name of a kind of box.
    pub fn kind(&self, kind: usize) -> String {
        let id = self.planned.kinds.get(kind);
        let kind = id.and_then(|id| self.scenario.boxes.get(id.0));
        kind.map_or(String::new(), |kind| kind.name.clone())
    }

    /// A day as it is written in a text.
    pub fn day(&self, after: i32) -> String {
        let day = self.planned.day(after);
        day.map_or(String::new(), |day| written(&day.to_string()))
    }
}

/// What holds a want back, in words.
pub(super) fn held_back(found: &Of, met: &Met) -> Vec<String> {
    let season = &found.planned.season;
    let round = |round: usize| {
        let day = season.rounds.get(round).map_or(0, |round| round.day);
        words::on(&found.day(day))
    };
    let givers = |at: usize| {
        let most = found.outlook.colonies.iter().enumerate();
        let most = most.filter_map(|(colony, course)| {
            let drawn = course.draws.get(at)?;
            (drawn.level > 0).then_some((drawn.frames, drawn.bees, colony))
        });
        let most = most.max_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(b.2.cmp(&a.2)));
        let name = most.and_then(|(.., colony)| season.colonies.get(colony));
        name.map_or(String::new(), |colony| {
            format!(", where colony {} gives most", colony.name)
        })
    };
    // That there are no more queens says nothing, where something says why.
    let queens = |binds: &&Binds| !matches!(binds, Binds::Queens(_));
    let why = met.binds.iter().filter(queens).count();
    let binds = met.binds.iter().filter(|binds| why == 0 || queens(binds));
    let said = binds.take(SAID).map(|binds| match *binds {
        Binds::Brood(at) => format!("brood that colonies can spare {}{}", round(at), givers(at)),
        Binds::Bees(at) => format!("bees that colonies can spare {}{}", round(at), givers(at)),
        Binds::Loose(at) => format!("bees to shake off {}{}", round(at), givers(at)),
        Binds::Cells(at) => format!("cells for {}", round(at).trim_start_matches("on ")),
        Binds::Boxes(kind) => format!("the number of {}", words::plural(&found.kind(kind))),
        Binds::Free(kind, at) if at < season.rounds.len() => format!(
            "{} that are free {}",
            words::plural(&found.kind(kind)),
            round(at)
        ),
        Binds::Free(kind, _) | Binds::Keeping(kind) => {
            format!("{} for winter", words::plural(&found.kind(kind)))
        }
        Binds::Honey => "the honey that the whole yard may give up".to_owned(),
        Binds::Hives => "hives for nuclei".to_owned(),
        Binds::Queens(day) => format!("queens that may be taken by {}", found.day(day)),
    });
    let mut said: Vec<String> = said.collect();
    said.dedup();
    said
}
