//! From a scenario and its answer to the report: the table of contents and the headline.

use super::below::below;
use super::calendar::{cells_in, day_conflicts};
use super::carry::carry;
use super::counted::counted_on;
use super::donors::{colony, simulated_total};
use super::figures::counted;
use super::filled::{Boxes, Route};
use super::next_cells::left_in_peace;
use super::report::{
    Answer, AtMost, Caution, ColonyReport, CompartmentReport, FORMAT_VERSION, GoalName, Headline,
    Holds, KindReport, OnHold, PricesReport, Progress, ProofReport, ProofState, Report,
};
use super::stocked::compartment;
use super::{assumptions, cautions, queens};
use crate::scenario::{ColonyCount, Loaded, Places, Queens, Rearing, Stands};
use jiff::civil::Date;
use spareframe_solver::{
    BoxId, BoxKind, Ceiling, Colony, FrameState, Goal, Goals, Hundreds, Milli, Origin, Outcome,
    Plan, Prices, Proof, Scenario, gaps, remains,
};
use spareframe_weeks::Counts;
use std::collections::BTreeSet;

/// What a scenario file says beside what the solver takes.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Notes {
    /// Title of the scenario.
    pub title: Option<String>,
    /// Stocking day, as year-month-day.
    pub day: Option<String>,
    /// Where frames hang or lie.
    pub places: Places,
    /// What the calendar counts with.
    pub rearing: Rearing,
    /// First and last day on which bees find nothing, counted from the stocking day.
    pub dearth: Option<(i32, i32)>,
    /// Mated queens that stand, and where they are to go.
    pub queens: Queens,
    /// Rounds to come, where the file has a season.
    pub season: Option<crate::scenario::season::Asked>,
    /// By colony: the count that it is reckoned from.
    pub counts: Vec<ColonyCount>,
    /// What the file says of each compartment that stands.
    pub standing: Vec<Stands>,
}

impl Notes {
    /// What the yard is reckoned from.
    #[must_use]
    pub fn counts(&self) -> Counts {
        let day: Option<Date> = self.day.as_deref().and_then(|day| day.parse().ok());
        let stand = |stands: &Stands| Some(stands.stand(day?));
        Counts {
            colonies: self
                .counts
                .iter()
                .map(|of| of.count.as_deref().cloned())
                .collect(),
            standing: self.standing.iter().filter_map(stand).collect(),
        }
    }
}

impl From<&Loaded> for Notes {
    fn from(loaded: &Loaded) -> Self {
        Self {
            title: loaded.title.clone(),
            day: loaded.day.map(|d| d.to_string()),
            places: loaded.places.clone(),
            rearing: loaded.rearing.clone(),
            dearth: loaded.dearth,
            queens: loaded.queens.clone(),
            season: loaded.season.clone(),
            counts: loaded.counts.clone(),
            standing: loaded.standing.clone(),
        }
    }
}

/// Builds the report of an answer. `goals` are those that the check recomputed: of the plan, or, where
/// nothing is stocked, of what is done.
///
/// A plan that names a colony, box or frame that the scenario does not have is a breach; such
/// parts are left out here, so check first.
#[must_use]
pub fn build(scenario: &Scenario, notes: &Notes, outcome: &Outcome, goals: &Goals) -> Report {
    let empty = done_alone(scenario);
    let (plan, answer, proof) = match outcome {
        Outcome::Stocked(s) if s.plan.compartments.is_empty() => (&empty, none(s.proof), None),
        Outcome::Stocked(s) => {
            let proof = proof(s.proof, goals, &scenario.prices);
            (&s.plan, Answer::Stocked, Some(proof))
        }
        Outcome::Nothing => (&empty, Answer::NothingPossible, None),
        Outcome::TimedOut => (&empty, Answer::StoppedWithoutPlan, None),
        Outcome::Unmet(_) => (&empty, Answer::WishNotMet, None),
    };
    let of = |c| compartment(scenario, notes, c);
    let begun = |c: CompartmentReport| CompartmentReport {
        done: Some(Progress::Begun),
        ..c
    };
    let rest = plan.rest(&scenario.done);
    let draws = super::donors::draws(scenario, plan);
    let left = super::donors::draws(scenario, &rest);
    let gaps = gaps(scenario, plan);
    let mut compartments: Vec<_> = plan.compartments.iter().filter_map(of).collect();
    let queens = queens::queens(scenario, notes, &mut compartments);
    let colonies = remains(scenario, plan);
    let colonies = colonies.iter().zip(draws.iter().zip(&left));
    let colonies: Vec<_> = colonies
        .filter_map(|(account, draw)| {
            let own = gaps.iter().find(|gaps| gaps.colony == account.colony);
            let name = &scenario.colonies.get(account.colony.0)?.name;
            let queens = queens.as_ref();
            let queens = queens.and_then(|all| queens::of_hive(all, name, notes.day.as_deref()));
            colony(scenario, notes, account, draw, (own, queens))
        })
        .collect();
    let route = Route::of(scenario, &colonies);
    let boxes = Boxes::of(scenario, plan, &route);
    boxes.say(plan, &mut compartments);
    let headline = Headline {
        proof,
        honey_given_up_simulated_g: estimated(scenario, simulated_total(scenario, &draws)),
        bees_taken: bees(taken(plan)),
        colonies_opened_for_queens: for_queens(&colonies),
        counted_on: counted_on(notes),
        ..headline(scenario, plan, answer, goals)
    };
    let all_stocked = u64::from(headline.compartments_stocked) >= headline.may_be_stocked();
    let mut report = Report {
        spareframe_plan: FORMAT_VERSION,
        title: notes.title.clone(),
        day: notes.day.clone(),
        headline,
        kept: None,
        wishes: super::wishes::wishes(scenario, outcome),
        held_back_by: Vec::new(),
        below_floor: below(scenario, all_stocked),
        steps: Vec::new(),
        begun: plan.begun.iter().filter_map(of).map(begun).collect(),
        standing: left_in_peace(scenario, notes, plan),
        queens,
        colonies,
        on_hold: on_hold(scenario),
        carry: carry(scenario, plan, &gaps, &boxes),
        boxes: boxes.to_fill(plan, &compartments),
        compartments,
        closed_boxes: boxes.closed(&rest),
        cautions: Vec::new(),
        estimate_assumptions: assumptions(scenario),
    };
    let on = cells_in(notes, &report).2.map(|day| day.to_string());
    let on = on.filter(|_| queens::given(&report).next().is_some());
    if let Some(queens) = &mut report.queens {
        queens.boxes_on = on;
    }
    let brought = brought(notes, &report);
    for load in report.carry.iter_mut().filter(|load| load.cells > 0) {
        load.cells_on.clone_from(&brought);
    }
    report.cautions = cautions(scenario, &report, cells_in(notes, &report).0);
    if report.compartments.iter().any(|c| c.queen.is_none()) {
        report.cautions.splice(0..0, days_apart(notes));
    }
    report.steps = super::steps::steps(&report, notes);
    report
}

/// When cells or queens are brought, where that is not with the rest.
fn brought(notes: &Notes, report: &Report) -> Option<String> {
    let (_, later, day) = cells_in(notes, report);
    let in_days = |later: u32| counted(i64::from(later), "day later", "days later");
    (later > 0).then(|| day.map_or_else(|| in_days(later), |day| day.to_string()))
}

/// Cautions of days that do not suit the cells or queens.
fn days_apart(notes: &Notes) -> impl Iterator<Item = Caution> {
    let of = |(n, text): (usize, String)| Caution {
        id: format!("days-{n}"),
        text,
    };
    (1..).zip(day_conflicts(notes)).map(of)
}

/// The plan where nothing is stocked: what is done stays as it is.
#[must_use]
pub fn done_alone(scenario: &Scenario) -> Plan {
    Plan {
        begun: scenario.done.clone(),
        ..Plan::default()
    }
}

/// The most that was to be stocked, where there is such a limit.
#[must_use]
pub fn at_most(most: &Ceiling) -> Option<AtMost> {
    (*most != Ceiling::default()).then(|| AtMost {
        compartments: most.compartments,
        worth: most.worth.map(|worth| decimal(worth.0, 1000.0)),
    })
}

/// The answer of a plan without a compartment.
fn none(proof: Proof) -> Answer {
    match proof {
        Proof::Best => Answer::NothingPossible,
        Proof::Open { .. } => Answer::StoppedWithoutPlan,
    }
}

fn headline(scenario: &Scenario, plan: &Plan, answer: Answer, goals: &Goals) -> Headline {
    let kinds = kinds(scenario, plan);
    let (cost, prices) = (goals.cost, &scenario.prices);
    Headline {
        answer,
        at_most: None,
        counted_on: None,
        compartments_stocked: kinds.iter().map(|k| k.compartments_stocked).sum(),
        compartments_in_all: kinds.iter().map(|k| k.compartments_in_all).sum(),
        compartments_standing: kinds.iter().map(|k| k.compartments_standing).sum(),
        next_cells_wanted: kinds.iter().map(|k| k.next_cells_wanted).sum(),
        next_cells: kinds.iter().map(|k| k.next_cells).sum(),
        kinds,
        proof: None,
        worth: decimal(goals.worth.0, 1000.0),
        cost_g: cost.total(prices).0,
        honey_given_up_g: estimated(scenario, cost.honey.0),
        honey_given_up_simulated_g: None,
        burden: cost.burden,
        substitutes: cost.substitutes,
        colonies_opened: cost.opened,
        colonies_opened_for_queens: 0,
        frames_drawn_otherwise: (cost.otherwise > 0).then_some(cost.otherwise),
        prices_g: PricesReport {
            burden: prices.burden.0,
            substitute: prices.substitute.0,
            colony_opened: prices.opened.0,
            frame_drawn_otherwise: prices.otherwise.0,
        },
        bees_taken: 0,
    }
}

/// Colonies from which nothing is taken, and that are opened all the same.
fn for_queens(colonies: &[ColonyReport]) -> i64 {
    let alone = |c: &&ColonyReport| c.opens() && !c.gives() && c.done.is_none();
    i64::try_from(colonies.iter().filter(alone).count()).unwrap_or(i64::MAX)
}

/// Honey in grams, where a colony states a crop to estimate it from.
pub(super) fn estimated(scenario: &Scenario, grams: i64) -> Option<i64> {
    let any = scenario.colonies.iter().any(|colony| colony.crop.is_some());
    any.then_some(grams)
}

fn taken(plan: &Plan) -> Hundreds {
    let bees = plan.touched().flat_map(|c| &c.bees);
    Hundreds(bees.fold(0, |sum, placed| sum.saturating_add(placed.taken().0)))
}

/// Hundreds as bees.
pub(super) fn bees(hundreds: Hundreds) -> i64 {
    hundreds.bees().0
}

#[expect(
    clippy::cast_precision_loss,
    reason = "figures of an apiary stay far below 2^53"
)]
pub(crate) fn decimal(value: i64, unit: f64) -> f64 {
    value as f64 / unit
}

/// How sure an answer is, with what the open goal has reached.
pub(super) fn proof(proof: Proof, goals: &Goals, prices: &Prices) -> ProofReport {
    let Proof::Open {
        goal,
        bound,
        timed_out,
    } = proof
    else {
        return ProofReport {
            state: ProofState::ProvedBest,
            open_goal: None,
            reached: None,
            best_possible: None,
        };
    };
    let (name, reached, unit) = match goal {
        Goal::Worth => (GoalName::Worth, goals.worth.0, 1000.0),
        Goal::Cost => (GoalName::Cost, goals.cost.total(prices).0, 1.0),
    };
    ProofReport {
        state: state(timed_out),
        open_goal: Some(name),
        reached: Some(decimal(reached, unit)),
        best_possible: Some(decimal(bound, unit)),
    }
}

fn state(timed_out: bool) -> ProofState {
    match timed_out {
        true => ProofState::StoppedByTimeLimit,
        false => ProofState::BestFound,
    }
}

fn kinds(scenario: &Scenario, plan: &Plan) -> Vec<KindReport> {
    let kind_report = |(id, kind): (usize, &BoxKind)| {
        let of_kind = || {
            plan.compartments
                .iter()
                .filter(move |c| c.kind == BoxId(id))
        };
        let standing = || {
            scenario
                .standing
                .iter()
                .filter(move |s| s.kind == BoxId(id))
        };
        let boxes: BTreeSet<u32> = of_kind().map(|c| c.box_no).collect();
        KindReport {
            box_kind: kind.name.clone(),
            site: site(scenario, kind.site.0),
            compartments_stocked: count(of_kind().count()),
            compartments_in_all: u64::from(kind.count) * u64::from(kind.compartments),
            compartments_standing: count(standing().count()),
            next_cells_wanted: count(standing().filter(|s| s.wants_cell).count()),
            next_cells: count(of_kind().filter(|c| standing().any(|s| s.is(c))).count()),
            boxes_used: count(boxes.len()),
            boxes_in_all: kind.count,
        }
    };
    scenario.boxes.iter().enumerate().map(kind_report).collect()
}

/// Compartments of a kind that may be stocked: those in which bees stand and no next cell is wanted are left out.
pub(super) fn may_be_stocked(scenario: &Scenario, id: BoxId) -> u64 {
    let stand = scenario.standing.iter();
    let left = stand.filter(|s| s.kind == id && !s.wants_cell).count();
    let kind = scenario.boxes.get(id.0);
    let all = kind.map_or(0, |kind| {
        u64::from(kind.count) * u64::from(kind.compartments)
    });
    all.saturating_sub(left as u64)
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

pub(super) fn site(scenario: &Scenario, id: usize) -> String {
    let site = scenario.sites.get(id);
    site.map(|s| s.name.clone()).unwrap_or_default()
}

pub(super) fn holds(scenario: &Scenario, frame: &FrameState) -> Holds {
    let share = |m: Milli| decimal(m.0, 1000.0);
    let comb = scenario.combs.get(frame.comb.0);
    Holds {
        comb: comb.map(|c| c.name.clone()).unwrap_or_default(),
        brood_share: share(frame.brood),
        sealed_share: share(frame.sealed),
        stores_share: share(frame.stores),
        drawn_share: share(frame.drawn),
        bees: bees(frame.bees),
    }
}

pub(super) fn frame_of(scenario: &Scenario, origin: Origin) -> Option<&FrameState> {
    match origin {
        Origin::Colony(c, g) => Some(&scenario.colonies.get(c.0)?.frames.get(g)?.frame),
        Origin::StoreRoom(e) => Some(&scenario.store_room.get(e)?.frame),
    }
}

/// Where frames hang or lie, where the file says so.
pub(super) fn place(notes: &Notes, origin: Origin) -> Option<String> {
    match origin {
        Origin::Colony(c, g) => notes.places.colonies.get(c.0)?.get(g)?.clone(),
        Origin::StoreRoom(e) => notes.places.store_room.get(e)?.clone(),
    }
}

fn on_hold(scenario: &Scenario) -> Vec<OnHold> {
    let held = |c: &Colony| {
        let reason = c.hold.clone()?;
        Some(OnHold {
            colony: c.name.clone(),
            reason,
        })
    };
    scenario.colonies.iter().filter_map(held).collect()
}
