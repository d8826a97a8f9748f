//! What holds a season back, and what it comes to with one thing changed: each change planned anew, and checked.

use super::ended::Stop;
use super::limit::Limit;
use super::rounds::{Rounds, checked, lost};
use crate::output::Notes;
use crate::output::season::probe::{ProbeSeason, SeasonRow, build, row, without};
use crate::output::season::{Holds, SeasonReport, Total, Tried, Why, WhySeason, why};
use crate::scenario::Loaded;
use crate::scenario::season::What;
use crate::season::{Change, Changed, Decided, limits};
use rayon::prelude::*;
use spareframe_season::{Brings, Listed, RELAXATIONS, Stocked, Valued, Want, plan_listed};
use spareframe_solver::why::{Change as Eased, Limit as Of};
use spareframe_solver::{BoxId, ColonyId, SolveOptions};

/// Wants that are not met whole of which limits of colonies are asked for, the first first (a choice).
const MOST_WANTS: usize = 3;
/// Limits of colonies that are eased in turn, those first that would bring most (a choice).
const MOST_EASED: usize = 6;
/// What would bring less of a want than this is not named (a choice).
const TELLING: f64 = 0.05;

/// What holds a season back, what one more of a thing would bring, and what each round that is rained out would take.
pub(super) fn why_season(rounds: &Rounds, limit: Limit) -> Result<WhySeason, Stop> {
    let options = limit.solving();
    let listed = Listed::of(&rounds.planned()?.season);
    let found = rounds.decided(&listed, &options)?;
    let season = rounds.shown(&found, &options, None, (Vec::new(), Vec::new(), None))?;
    let looked = looked(rounds, &found, &listed)?;
    let changes = changes(rounds, &found, &looked);
    let tried = |change: &Change| tried(rounds, *change, &listed, &options);
    let tried: Result<Vec<Option<Tried>>, Stop> = changes.par_iter().map(tried).collect();
    Ok(why(Why {
        season,
        scenario: rounds.scenario,
        asked: rounds.asked,
        found: &found,
        total: looked.total,
        holds: looked.holds,
        tried: tried?.into_iter().flatten().collect(),
    }))
}

/// An alternative: what it is called and changes, and the scenario with that.
pub(super) type Other = ((String, Vec<String>), Loaded);

/// The season as it is, and beside it alternatives.
pub(super) fn probe_season(
    today: &Loaded,
    in_all: &[String],
    others: &[Other],
    limit: Limit,
) -> Result<ProbeSeason, Stop> {
    let options = limit.solving();
    let notes = Notes::from(today);
    let rounds = Rounds::of(&today.scenario, &notes)?;
    let listed = Listed::of(&rounds.planned()?.season);
    let as_it_is = short(&rounds, &listed, &options)?;
    let other = |((name, changes), loaded): &Other| -> Result<SeasonRow, Stop> {
        let notes = Notes::from(loaded);
        let rounds = Rounds::of(&loaded.scenario, &notes);
        let none = rounds.and_then(|rounds| rounds.planned().map(|_| rounds));
        let found = match none {
            Ok(rounds) => row(&short(&rounds, &listed, &options)?),
            Err(Stop::Said(why)) => without(why),
            Err(stop) => return Err(stop),
        };
        Ok(SeasonRow {
            name: name.clone(),
            changes: changes.clone(),
            ..found
        })
    };
    let first = SeasonRow {
        name: "as it is".to_owned(),
        ..row(&as_it_is)
    };
    let rows: Result<Vec<SeasonRow>, Stop> = others.par_iter().map(other).collect();
    let rows = std::iter::once(first).chain(rows?).collect();
    Ok(build(as_it_is, in_all, rows))
}

/// The season in short: with no other number today than the one that is planned.
fn short(rounds: &Rounds, listed: &Listed, options: &SolveOptions) -> Result<SeasonReport, Stop> {
    let found = rounds.decided(listed, options)?;
    let outlook = found.outlook().clone();
    let today = outlook.rounds.first().map_or(0, Stocked::cells);
    rounds.shown(
        &found,
        options,
        None,
        (vec![(today, outlook)], Vec::new(), None),
    )
}

/// The season with one thing changed.
fn tried(
    rounds: &Rounds,
    change: Change,
    listed: &Listed,
    options: &SolveOptions,
) -> Result<Option<Tried>, Stop> {
    let Some(to) = made(rounds, change) else {
        return Ok(None);
    };
    let Changed {
        scenario,
        notes,
        asked,
        sets,
    } = &to;
    let other = Rounds {
        scenario,
        notes,
        asked,
        ..*rounds
    };
    let found = other.decided(listed, options)?;
    Ok(Some(Tried {
        change,
        sets: sets.clone(),
        by: match change {
            Change::Later(want) => asked.wants.get(want).and_then(|want| want.by),
            _ => None,
        },
        outlook: found.agreed.outlook,
    }))
}

fn made(rounds: &Rounds, change: Change) -> Option<Changed> {
    let of = (rounds.scenario, rounds.notes, rounds.asked);
    change.made(of, rounds.today)
}

/// What limits of colonies hold back.
struct Looked {
    /// The season with as many queens wanted as there can be after all else, where the file does not ask for them.
    total: Option<Total>,
    /// By want of the season, the total behind them: the most telling first.
    holds: Vec<Holds>,
    /// The colony of which one more would bring most.
    like: Option<ColonyId>,
}

/// Looks through the limits of all colonies at the prices of what is not met.
fn looked(rounds: &Rounds, found: &Decided, listed: &Listed) -> Result<Looked, Stop> {
    let planned = &found.base;
    let season = &planned.season;
    let listed = listed.again(season);
    let short = |(want, met): &(usize, i64)| {
        let want = season.wants.get(*want);
        want.is_some_and(|want| want.count.is_none_or(|count| *met < i64::from(count)))
    };
    let met = found.met().into_iter().enumerate();
    let unmet: Vec<usize> = met
        .filter(short)
        .map(|(want, _)| want)
        .take(MOST_WANTS)
        .collect();
    let open = |want: &Want| want.what == spareframe_season::What::Queens && want.count.is_none();
    let mut total = None;
    if !season.wants.iter().any(open) {
        let last = season.rounds.iter().map(|round| round.day);
        let mut more = planned.clone();
        more.season.wants.push(Want {
            what: spareframe_season::What::Queens,
            count: None,
            by: last.max().unwrap_or(0) + season.days.usable,
        });
        let outlook = plan_listed(&more.season, &listed, RELAXATIONS).ok_or_else(lost)?;
        checked(&more, &outlook)?;
        total = Some(Total {
            planned: more,
            outlook,
        });
    }
    let of_wants = unmet.iter().map(|want| (season, found.outlook(), *want));
    let of_total = total.as_ref();
    let of_total = of_total.map(|total| {
        let season = &total.planned.season;
        (season, &total.outlook, season.wants.len() - 1)
    });
    let valued: Vec<(usize, Valued)> = of_wants
        .chain(of_total)
        .map(|(season, outlook, want)| (want, Valued::of(season, &listed, outlook, want)))
        .filter(|(_, valued)| valued.scarce())
        .collect();
    let ids = planned.colonies.iter().enumerate();
    let eased: Vec<(usize, Change)> = ids
        .flat_map(|(at, id)| {
            let own = limits(rounds.scenario, *id).into_iter();
            own.map(move |change| (at, change))
        })
        .collect();
    let worth = |(at, change): &(usize, Change)| -> Vec<Holds> {
        let Some(colony) = made(rounds, *change).and_then(|to| change.colony(&to, rounds.today))
        else {
            return Vec::new();
        };
        let of = valued.iter().filter_map(|(want, valued)| {
            let brings = valued.brings(Some(*at), &colony)?;
            (brings.count >= TELLING).then_some(Holds {
                want: *want,
                change: *change,
                brings,
            })
        });
        of.collect()
    };
    let holds: Vec<Vec<Holds>> = match valued.is_empty() {
        true => Vec::new(),
        false => eased.par_iter().map(worth).collect(),
    };
    let mut holds: Vec<Holds> = holds.into_iter().flatten().collect();
    holds.sort_by(|a, b| {
        let most = b.brings.count.total_cmp(&a.brings.count);
        most.then(a.change.cmp(&b.change))
    });
    let like = |id: &&ColonyId| {
        let change = Change::Like(**id);
        let colony = made(rounds, change).and_then(|to| change.colony(&to, rounds.today));
        let of = colony.zip(valued.first());
        let brings = of.and_then(|(colony, (_, valued))| valued.brings(None, &colony));
        brings.map_or(0.0, |Brings { count, .. }| count)
    };
    // Where nothing is scarce, one like that which gives most.
    let frames = |at: usize| {
        let course = found.outlook().colonies.get(at);
        course.map_or(0_u32, |course| {
            course.draws.iter().map(|drawn| drawn.frames).sum()
        })
    };
    let ids = planned.colonies.iter().enumerate();
    let best = ids.map(|(at, id)| (like(&id), frames(at), *id));
    let best = best.max_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(b.2.cmp(&a.2)));
    Ok(Looked {
        total,
        holds,
        like: best.map(|(.., id)| id),
    })
}

/// All that is tried.
fn changes(rounds: &Rounds, found: &Decided, looked: &Looked) -> Vec<Change> {
    let asked = rounds.asked;
    let nuclei = asked.wants.iter().filter_map(|want| match want.what {
        What::Nuclei(kind) => Some(kind),
        _ => None,
    });
    let mut kinds: Vec<BoxId> = found.base.kinds.iter().copied().chain(nuclei).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let boxes = kinds.into_iter().map(|kind| {
        Change::Eased(Eased {
            limit: Of::Boxes(kind),
            by: 1,
        })
    });
    let ahead = |(_, day): &(usize, &jiff::civil::Date)| **day >= rounds.today;
    let ahead = || asked.rounds.iter().enumerate().filter(ahead);
    // Where no drones fly, a cell more is of no use.
    let flown = |at: &usize| {
        let over = asked.rounds.len() - found.base.rounds.len();
        let round = found.base.season.rounds.get(at - over);
        round.is_some_and(|round| round.cells != Some(0))
    };
    let cells = ahead().map(|(at, _)| at).filter(flown).map(Change::Cell);
    let wants = found.base.wants.iter().flatten();
    let wants = wants.map(|want| Change::Later(*want));
    let mut eased: Vec<Change> = Vec::new();
    for holds in &looked.holds {
        if eased.len() < MOST_EASED && !eased.contains(&holds.change) {
            eased.push(holds.change);
        }
    }
    let rain = ahead().map(|(at, _)| Change::RainedOut(at));
    let like = looked.like.map(Change::Like);
    let all = boxes.chain(cells).chain(like).chain(eased).chain(wants);
    all.chain(rain).collect()
}
