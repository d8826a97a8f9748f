//! A scenario's season as the planner of seasons takes it, and today's round as the stocking decision takes it.

mod change;
mod colonies;
mod decided;
mod kinds;
mod queens;
mod shared;
mod today;
mod told;

pub(crate) use change::{Change, Changed, limits};
pub(crate) use decided::{Decided, decided};
pub(crate) use shared::{SharedWant, read_shared};
pub(crate) use today::Agreed;
pub(crate) use today::most_cells;
use today::{agree, settled};
pub(crate) use told::Near;

use crate::output::Notes;
use crate::scenario::raised_in;
use crate::scenario::season::{Asked, usable_and_free};
use jiff::civil::{Date, date};
use jiff::{Span, ToSpan};
use spareframe_rearing::{Given, IntervalId, success};
use spareframe_season as season;
use spareframe_solver::{BoxId, CellBatch, ColonyId, Scenario};

/// Food of a unit that winters in boxes, in grams, where nothing is said (a choice: 10 kg for a nucleus).
const FOOD: f64 = 10_000.0;
/// Standard deviation of success between rounds, in thousandths, where nothing is said (a choice).
const SPREAD: u32 = 160;

/// A season as it is planned, with what its parts are in the scenario.
#[derive(Debug, Clone)]
pub(crate) struct Planned {
    /// As the planner takes it.
    pub season: season::Season,
    /// Days of its rounds; the first is today.
    pub rounds: Vec<Date>,
    /// Kinds of box that take cells.
    pub kinds: Vec<BoxId>,
    /// Colonies that may give.
    pub colonies: Vec<ColonyId>,
    /// By want: what is asked for; `None` for as many queens as there can be, where nothing is wanted.
    pub wants: Vec<Option<usize>>,
    /// Standard deviation of success between rounds.
    pub spread: f64,
}

/// Why there is no season to plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Missing {
    /// All rounds are over.
    Over,
    /// Today is no round; the next one.
    NotToday(Date),
    /// Compartments are given mated queens.
    Given,
}

impl Planned {
    /// The season of a scenario, from today on.
    pub fn of(
        scenario: &Scenario,
        notes: &Notes,
        asked: &Asked,
        today: Date,
    ) -> Result<Self, Missing> {
        let ahead = asked.rounds.iter().filter(|day| **day >= today).count();
        let over = asked.rounds.len() - ahead;
        let rounds: Vec<Date> = asked.rounds.iter().skip(over).copied().collect();
        match rounds.first() {
            None => return Err(Missing::Over),
            Some(&next) if next > today => return Err(Missing::NotToday(next)),
            Some(_) => {}
        }
        if notes.rearing.given == Given::MatedQueens {
            return Err(Missing::Given);
        }
        let days = days(notes);
        let after = |day: Date| (day - today).get_days();
        let last_round = rounds.last().copied().unwrap_or(today);
        let last_taken = last_round.saturating_add(i64::from(days.usable).days());
        let colonies = colonies::donors(scenario, notes, asked, (today, last_taken));
        let kinds = kinds::kinds(scenario, notes, &colonies, &days, today);
        let cells = asked.cells.iter().skip(over).copied();
        let flown = flown(notes);
        let of_rounds = rounds
            .iter()
            .zip(cells)
            .enumerate()
            .map(|(at, (day, cells))| {
                let drones = asked.drones_until.is_none_or(|until| *day + flown <= until);
                let today = if at == 0 {
                    of_today(scenario, notes)
                } else {
                    None
                };
                season::Round {
                    day: after(*day),
                    cells: match (cells, today) {
                        _ if !drones => Some(0),
                        (Some(said), Some(today)) => Some(said.min(today)),
                        (said, today) => said.or(today),
                    },
                    rained_out: asked.rained_out.contains(day),
                }
            });
        let of_rounds: Vec<season::Round> = of_rounds.collect();
        let last = of_rounds.last().map_or(0, |round| round.day) + days.usable;
        let (wants, of) = queens::wants(scenario, asked, today, last);
        let shift = scenario
            .colony_model
            .season
            .map_or(0, |season| season.later);
        let usual = |first: &Date| date(first.year(), 7, 15).saturating_add(shift.days());
        let last_draw = asked.last_draw.or(asked.rounds.first().map(usual));
        let winter = asked.winter.as_ref().map(|winter| season::Winter {
            on: after(winter.on),
            bees: winter.bees.map_or(5000.0, |bees| bees.0 as f64),
            food: winter.food.map_or(FOOD, |food| food.0 as f64),
        });
        Ok(Self {
            season: season::Season {
                rounds: of_rounds,
                kinds: kinds.iter().map(|(_, kind)| kind.clone()).collect(),
                colonies: colonies.iter().map(|(_, colony)| colony.clone()).collect(),
                wants,
                success: success_of(notes, asked),
                queens: queens::ready(notes, asked, today, &days),
                days,
                winter,
                last_draw: last_draw.map(after),
                setting: scenario.colony_model.setting(),
                prices: season::Prices {
                    burden: scenario.prices.burden.0,
                    opened: scenario.prices.opened.0,
                    otherwise: scenario.prices.otherwise.0,
                },
                today: None,
                nuclei_today: None,
                honey: scenario.honey_cap.map(|honey| honey.0),
                told: None,
            },
            rounds,
            kinds: kinds.into_iter().map(|(id, _)| id).collect(),
            colonies: colonies.into_iter().map(|(id, _)| id).collect(),
            wants: of,
            spread: f64::from(asked.spread.unwrap_or(SPREAD)) / 1000.0,
        })
    }

    /// Whether nothing but today's round is asked for, so that today's plan is the plan of `stock`.
    pub fn alone(&self) -> bool {
        let most = |want: &season::Want| want.what == season::What::Queens && want.count.is_none();
        self.season.rounds.len() == 1
            && self.season.winter.is_none()
            && self.season.wants.iter().all(most)
    }

    /// The day so many days from today.
    pub fn day(&self, after: i32) -> Option<Date> {
        Some(self.rounds.first()?.saturating_add(after.days()))
    }
}

/// Share of cells, in percent, from which a mated queen is counted on.
fn success_of(notes: &Notes, asked: &Asked) -> u32 {
    let own = notes.rearing.success;
    let published = success(notes.rearing.given);
    let (least, most) = own.unwrap_or((published.least, published.most));
    let middle = (least + most) / 20;
    let usual = match (own, notes.rearing.given) {
        (None, Given::RipeCells) => season::SUCCESS,
        _ => middle,
    };
    asked.success.unwrap_or(usual).clamp(1, 100)
}

fn days(notes: &Notes) -> season::Days {
    let (usable, free) = usable_and_free(&notes.rearing);
    let days = |id| notes.rearing.intervals.get(id).usual;
    let emerged = match notes.rearing.given {
        Given::RipeCells => notes.rearing.intervals.get(IntervalId::Emergence).most,
        _ => 0,
    };
    let laying = days(IntervalId::CellsIn) + emerged + days(IntervalId::Eggs);
    let whole = |days: u32| i32::try_from(days).unwrap_or(i32::MAX);
    season::Days {
        usable,
        free,
        laying: whole(laying),
        raised: whole(raised_in(&notes.rearing).usual),
    }
}

/// From a stocking day to the last of the mating flights.
fn flown(notes: &Notes) -> Span {
    let intervals = &notes.rearing.intervals;
    let days = intervals.get(IntervalId::CellsIn).usual
        + intervals.get(IntervalId::Emergence).most
        + intervals.get(IntervalId::Flights).most;
    i64::from(days).days()
}

/// Cells at hand today, where they are counted.
fn of_today(scenario: &Scenario, notes: &Notes) -> Option<u32> {
    let queens = |batch: usize| notes.queens.is_batch(scenario, batch);
    let batches = scenario.cells.as_ref()?.iter().enumerate();
    let cells = batches
        .filter(|(at, _)| !queens(*at))
        .map(|(_, batch)| batch.count);
    let sum = cells.fold(0, u32::saturating_add);
    (sum < CellBatch::UNCOUNTED).then_some(sum)
}
