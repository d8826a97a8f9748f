//! What holds a want back, in words.

use super::build::{Found, day_of, kind_of};
use super::words;
use spareframe_season::{Binds, Met};

/// Limits that are said of a want (a choice).
const SAID: usize = 3;

/// What holds a want back, in words.
pub(super) fn held_back(found: &Found, met: &Met) -> Vec<String> {
    let season = &found.planned.season;
    let round = |round: usize| {
        let day = season.rounds.get(round).map_or(0, |round| round.day);
        words::on(&day_of(found, day))
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
        Binds::Boxes(kind) => format!("the number of {}", words::plural(&kind_of(found, kind))),
        Binds::Free(kind, at) if at < season.rounds.len() => format!(
            "{} that are free {}",
            words::plural(&kind_of(found, kind)),
            round(at)
        ),
        Binds::Free(kind, _) | Binds::Keeping(kind) => {
            format!("{} for winter", words::plural(&kind_of(found, kind)))
        }
        Binds::Hives => "hives for nuclei".to_owned(),
        Binds::Queens(day) => format!("queens that may be taken by {}", day_of(found, day)),
        Binds::Colony(colony, at) => {
            let name = season
                .colonies
                .get(colony)
                .map_or("", |colony| &colony.name);
            format!(
                "what colony {name} can spare from {} on",
                round(at).trim_start_matches("on ")
            )
        }
    });
    let mut said: Vec<String> = said.collect();
    said.dedup();
    said
}
