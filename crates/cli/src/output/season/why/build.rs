//! From a season and what was tried to the record.

use super::super::binds::{Of, held_back};
use super::super::report::SeasonReport;
use super::record::{ColonyHolds, TotalWhy, TriedReport, WHY_SEASON_VERSION, WantWhy, WhySeason};
use super::words;
use crate::output::reasons;
use crate::scenario::season::Asked;
use crate::season::{Change, Decided, Planned};
use jiff::civil::Date;
use spareframe_season::{Brings, Outlook};
use spareframe_solver::Scenario;

/// Limits of colonies that are named for a want (a choice).
const MOST_NAMED: usize = 3;
/// Savings below this are not named (a choice: nobody weighs honey so closely).
const SAVING: i64 = 100;

/// What was decided, looked at and tried.
pub(crate) struct Why<'a> {
    /// The season as it is.
    pub season: SeasonReport,
    pub scenario: &'a Scenario,
    pub asked: &'a Asked,
    pub found: &'a Decided,
    /// The season with as many queens wanted as there can be, where the file does not ask for them.
    pub total: Option<Total>,
    /// The most telling first.
    pub holds: Vec<Holds>,
    pub tried: Vec<Tried>,
}

/// A season with as many queens wanted, behind all else, as there can be.
pub(crate) struct Total {
    pub planned: Planned,
    pub outlook: Outlook,
}

/// A limit of a colony that holds a want back.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Holds {
    /// Which want of the season.
    pub want: usize,
    /// The limit, eased.
    pub change: Change,
    /// What that would bring.
    pub brings: Brings,
}

/// The season with one thing changed.
#[derive(Debug, Clone)]
pub(crate) struct Tried {
    pub change: Change,
    pub sets: Vec<String>,
    /// Of a want that is put off: its day.
    pub by: Option<Date>,
    pub outlook: Outlook,
}

/// Builds the record.
pub(crate) fn why(of: Why) -> WhySeason {
    let wants = of.season.wants.iter().enumerate();
    let wants = wants.map(|(at, want)| WantWhy {
        want: want.clone(),
        colonies: colonies(&of, at),
    });
    let total = of.total.as_ref().and_then(|total| {
        let met = total.outlook.wants.last()?;
        let named = Of {
            scenario: of.scenario,
            planned: &total.planned,
            outlook: &total.outlook,
        };
        Some(TotalWhy {
            held_back_by: held_back(&named, met),
            colonies: colonies(&of, total.outlook.wants.len() - 1),
        })
    });
    let rain = |tried: &&Tried| matches!(tried.change, Change::RainedOut(_));
    let rained_out = of.tried.iter().filter(rain).map(|one| told(&of, one));
    let others = of.tried.iter().filter(|tried| !rain(tried));
    let mut more: Vec<TriedReport> = others.map(|one| told(&of, one)).collect();
    let nothing = more.extract_if(.., |one| !brings(one)).collect();
    more.sort_by(|a, b| {
        let most = b.met_more.cmp(&a.met_more);
        most.then(a.cost_more_g.cmp(&b.cost_more_g))
    });
    WhySeason {
        spareframe_why_season: WHY_SEASON_VERSION,
        wants: wants.collect(),
        total,
        rained_out: rained_out.collect(),
        one_more: more,
        brings_nothing: nothing,
        title: of.season.title,
        day: of.season.day,
        counted_on: of.season.counted_on,
        headline: of.season.headline,
        mind: of.season.mind,
        estimate_assumptions: of.season.estimate_assumptions,
    }
}

/// Whether a change meets wants farther, the first first, or as far and is sure to cost less.
fn brings(tried: &TriedReport) -> bool {
    let none = vec![0; tried.met_more.len()];
    tried.met_more > none || tried.met_more == none && tried.sure && tried.cost_more_g <= -SAVING
}

fn colonies(of: &Why, want: usize) -> Vec<ColonyHolds> {
    let own = of.holds.iter().filter(|holds| holds.want == want);
    let named = own.filter_map(|holds| {
        let Change::Eased(eased) = holds.change else {
            return None;
        };
        let colony = of.scenario.colonies.get(eased.limit.colony()?.0)?;
        let (limit, change) = reasons::eased_in_short(of.scenario, &eased);
        let round = of.found.base.rounds.get(holds.brings.round)?;
        Some(ColonyHolds {
            colony: colony.name.clone(),
            round: round.to_string(),
            limit,
            eased: change,
            set: reasons::set(of.scenario, &eased),
            worth: (holds.brings.count * 10.0).ceil() / 10.0,
        })
    });
    named.take(MOST_NAMED).collect()
}

fn queens_by(outlook: &Outlook, day: i32) -> i64 {
    let counted = outlook.queens.iter().rfind(|counted| counted.day <= day);
    counted.map_or(0, |counted| counted.queens)
}

fn told(of: &Why, tried: &Tried) -> TriedReport {
    let (now, then) = (of.found.outlook(), &tried.outlook);
    let wants = || now.wants.iter().zip(&then.wants);
    let by = super::super::build::last_day(&of.found.agreed.planned);
    let queens = queens_by(then, by);
    let differs = wants().find(|(now, then)| now.count != then.count);
    let round = match tried.change {
        Change::Cell(round) | Change::RainedOut(round) => of.asked.rounds.get(round),
        _ => None,
    };
    let round = round.map(Date::to_string);
    let wanted = of.found.agreed.planned.wants.iter();
    let place = match tried.change {
        Change::Later(want) => wanted.take_while(|at| **at != Some(want)).count() + 1,
        _ => 0,
    };
    TriedReport {
        change: words::change(of.scenario, tried, round.as_deref(), place),
        round,
        sets: tried.sets.clone(),
        met: then.wants.iter().map(|met| met.count).collect(),
        met_more: wants().map(|(now, then)| then.count - now.count).collect(),
        queens,
        queens_more: queens - queens_by(now, by),
        cost_g: then.cost,
        cost_more_g: then.cost - now.cost,
        sure: match differs {
            Some((now, then)) => then.count > now.most,
            None => then.cost < now.least_cost,
        },
    }
}
