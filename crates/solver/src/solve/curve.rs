//! Honey against compartments: the least honey for each worth, from nothing to the most.

use rayon::prelude::*;

use super::assemble::{assemble, trim};
use super::bound::{Aim, Domain, Goal};
use super::choice::Choice;
use super::options::{DrawOption, lean, list, unpriced};
use super::regions::{Step, pursue};
use super::search::{Deadline, Open, Region, domain};
use super::sweep::{Budget, TROUBLE, granule};
use super::tables::Tables;
use super::{Proof, SolveOptions};
use crate::check::{Breach, check};
use crate::scenario::Scenario;
use crate::units::{Milligrams, Worth};

/// One worth that can be reached, and the least honey for it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Point {
    /// Worth of the compartments stocked.
    pub worth: Worth,
    /// Least honey given up for so much worth or more, charged.
    pub honey: Milligrams,
    /// Compartments stocked, for each of [`Scenario::boxes`].
    pub compartments: Vec<u32>,
    /// Whether less honey is impossible (goal 2), and more worth for this honey (goal 1).
    pub proof: Proof,
    /// What the check finds wrong with the plan of this point; anything here is a bug of ours.
    pub breaches: Vec<Breach>,
}

/// The frontier of worth and honey, without the cap on the honey of all colonies together.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Curve {
    /// Points in the order of worth, which always rises; honey never falls. Where every count is
    /// a point, nothing at 0 is the first; else honey rises too, and no pair beats another.
    pub points: Vec<Point>,
    /// All compartments are worth the same and boxes are stocked alike, so that every count from
    /// 0 to the most is a point, in steps of whole boxes where boxes are whole.
    pub every_count: bool,
    /// Points are missing, or may be: the time limit came, or a search was given up.
    pub cut_off: bool,
}

impl Curve {
    /// The point that the dear step leads to: the first step from which on further compartments,
    /// however many, cost more honey for their worth than all compartments do on average. `None`
    /// where there is no such step, and where points are missing.
    #[must_use]
    pub fn dear(&self) -> Option<usize> {
        let last = self.points.last().filter(|_| !self.cut_off)?;
        let product = |worth: Worth, honey: Milligrams| i128::from(worth.0) * i128::from(honey.0);
        // How far a point lies below the average price; the last of equals.
        let saved =
            |point: &Point| product(point.worth, last.honey) - product(last.worth, point.honey);
        let before = (0..self.points.len()).max_by_key(|&index| saved(&self.points[index]))?;
        (before + 1 < self.points.len()).then_some(before + 1)
    }
}

/// Finds the least honey for every worth that can be reached, as if there were no cap on the
/// honey of all colonies together, and no wishes; caps of single colonies hold. Colonies opened and bees shaken
/// are not looked at. `until` plays no part. A pure function of its arguments, but for what a
/// time limit cuts off.
///
/// ```
/// use spareframe_solver::{Scenario, SolveOptions, curve};
/// let empty = curve(&Scenario::default(), &SolveOptions::default());
/// assert_eq!((empty.points.len(), empty.dear()), (1, None));
/// ```
#[must_use]
pub fn curve(scenario: &Scenario, options: &SolveOptions) -> Curve {
    let scenario = &Scenario {
        honey_cap: None,
        gives: Vec::new(),
        ..scenario.clone()
    };
    let tables = Tables::new(scenario);
    let wanted = tables.wanted();
    let lists: Vec<_> = tables.donors.iter().map(|d| list(d, &wanted)).collect();
    let cut = lists.iter().any(|list| list.cut);
    let short: Vec<_> = lists.iter().map(|list| lean(&list.options)).collect();
    let free: Vec<_> = lists.iter().map(|list| unpriced(&list.options)).collect();
    let search = Search {
        tables: &tables,
        short,
        cut,
        deadline: Deadline::new(options.time_limit),
    };
    let every_count = search.alike();
    let (spots, cut_off) = search.all(free, every_count);
    let points: Option<Vec<Point>> = spots
        .par_iter()
        .map(|spot| spot.point(scenario, &tables))
        .collect();
    Curve {
        cut_off: cut_off || points.is_none(),
        points: points.unwrap_or_default(),
        every_count,
    }
}

/// A choice of least honey for its worth.
#[derive(Clone)]
struct Spot {
    choice: Choice,
    worth: i64,
    honey: i64,
    proof: Proof,
}

impl Spot {
    fn point(&self, scenario: &Scenario, tables: &Tables) -> Option<Point> {
        let plan = assemble(scenario, tables, &self.choice)?;
        let (goals, breaches) = check(scenario, &plan);
        let mut compartments = vec![0; scenario.boxes.len()];
        for stocked in &plan.compartments {
            compartments[stocked.kind.0] += 1;
        }
        Some(Point {
            worth: goals.worth,
            honey: goals.honey,
            compartments,
            proof: self.proof,
            breaches,
        })
    }
}

struct Search<'a> {
    tables: &'a Tables,
    /// For each donor, the options that matter to worth and honey.
    short: Vec<Vec<DrawOption>>,
    /// A list of options was cut.
    cut: bool,
    deadline: Deadline,
}

/// Spots in the order of worth, and whether some are missing.
type Found = (Vec<Spot>, bool);

impl Search<'_> {
    /// Whether the worth of a plan is the number of its compartments, in equal steps.
    fn alike(&self) -> bool {
        let kinds = self.tables.kinds.iter().filter(|kind| kind.most > 0);
        let mut steps = kinds.map(|kind| (kind.worth, kind.step));
        let first = steps.next();
        steps.all(|step| Some(step) == first)
    }

    fn all(&self, unpriced: Vec<Vec<DrawOption>>, every_count: bool) -> Found {
        let none = self.spot(Choice::none(self.tables), Proof::Best);
        if self.tables.kinds.iter().all(|kind| kind.most == 0) {
            return (vec![none], false);
        }
        let most = self.pursue(unpriced, self.goal(Aim::Worth, None), &none.choice);
        let Some(most) = most else {
            return (vec![none], true);
        };
        let top = self.least(most.worth, &most.choice);
        let Some(top) = top else {
            return (vec![none], true);
        };
        let proof = first_open(most.proof, top.proof);
        let top = Spot { proof, ..top };
        if top.worth == none.worth {
            return (vec![top], false);
        }
        let Some(free) = self.free() else {
            return (vec![none, top], true);
        };
        let mut found = if every_count {
            self.each(none, &free, &top)
        } else if free.worth < top.worth {
            let (mut between, cut_off) = self.between(&free, &top, top.worth);
            between.insert(0, free);
            let dropped = unbeaten(&mut between, &top);
            (between, cut_off || dropped)
        } else {
            (Vec::new(), false)
        };
        found.0.push(top);
        found
    }

    /// Every multiple of the granule below the top.
    fn each(&self, none: Spot, free: &Spot, top: &Spot) -> Found {
        let step = granule(self.tables, Aim::Worth);
        let steps = none.worth / step + 1..top.worth / step;
        let worths: Vec<i64> = steps.map(|count| count * step).collect();
        let found: Vec<Option<Spot>> = worths
            .into_par_iter()
            .map(|worth| {
                if worth <= free.worth {
                    // No honey is less than none.
                    return self.lowered(&free.choice, worth, Proof::Best);
                }
                let spot = self.least(worth, &top.choice)?;
                // More compartments for the same honey: those beyond are left empty.
                self.lowered(&spot.choice, worth, spot.proof)
            })
            .collect();
        let cut_off = found.iter().any(Option::is_none);
        let mut spots = vec![none];
        spots.extend(found.into_iter().flatten());
        (spots, cut_off)
    }

    /// A spot for every honey between two; some may be beaten by others. No plan has a worth from
    /// `below` to that of `high` but at the honey of `high`.
    fn between(&self, low: &Spot, high: &Spot, below: i64) -> Found {
        let step = granule(self.tables, Aim::Worth);
        if below - low.worth <= step || low.honey >= high.honey {
            return (Vec::new(), false);
        }
        let middle = low.worth + (below - low.worth) / step / 2 * step;
        let Some(spot) = self.least(middle, &high.choice) else {
            return (Vec::new(), true);
        };
        let (under, over) = rayon::join(
            || self.between(low, &spot, middle),
            || self.between(&spot, high, below.max(spot.worth)),
        );
        let spots = [under.0, vec![spot], over.0].concat();
        (spots, under.1 || over.1)
    }

    /// The least honey for so much worth or more. `known` has as much.
    fn least(&self, worth: i64, known: &Choice) -> Option<Spot> {
        let goal = self.goal(Aim::Honey, Some(worth));
        self.pursue(self.short.clone(), goal, known)
    }

    /// The most worth without honey.
    fn free(&self) -> Option<Spot> {
        let free = self
            .tables
            .donors
            .iter()
            .zip(&self.short)
            .map(|(donor, options)| {
                let free = options.iter().filter(|option| option.charge == 0);
                let bees = donor.bee_rate == 0;
                let free = free.map(|option| DrawOption {
                    most_bees: if bees { option.most_bees } else { 0 },
                    riding: if bees { option.riding } else { 0 },
                    ..option.clone()
                });
                unpriced(&free.collect::<Vec<_>>())
            });
        let none = Choice::none(self.tables);
        self.pursue(free.collect(), self.goal(Aim::Worth, None), &none)
    }

    fn goal(&self, aim: Aim, worth: Option<i64>) -> Goal {
        Goal {
            aim,
            worth,
            honey: None,
            otherwise: None,
            opened: None,
        }
    }

    /// `None` where time has run out.
    fn pursue(&self, options: Vec<Vec<DrawOption>>, goal: Goal, known: &Choice) -> Option<Spot> {
        if self.deadline.passed() {
            return None;
        }
        let domain: Domain = domain(self.tables, options);
        let passed = Vec::new();
        let region = Region { domain, passed };
        let known = Some(known.clone());
        let budget = Budget {
            deadline: &self.deadline,
            trouble: Some(TROUBLE),
        };
        let step = pursue(self.tables, vec![region], goal, known, budget);
        let proof = self.proof(goal.aim, &step);
        Some(self.spot(step.choice?, proof))
    }

    fn proof(&self, aim: Aim, step: &Step) -> Proof {
        let open = step.open.or(self.cut.then_some(Open::GaveUp));
        let Some(reason) = open else {
            return Proof::Best;
        };
        // What a list leaves out is not in a bound.
        let bound = match aim {
            Aim::Worth if self.cut => {
                let kinds = self.tables.kinds.iter();
                kinds.map(|kind| kind.worth * kind.most).sum()
            }
            Aim::Worth => -step.least,
            _ if self.cut => 0,
            _ => step.least,
        };
        Proof::Open {
            goal: if aim == Aim::Worth { 1 } else { 2 },
            bound,
            timed_out: reason == Open::TimedOut,
        }
    }

    fn spot(&self, choice: Choice, proof: Proof) -> Spot {
        Spot {
            worth: -choice.value(self.tables, Aim::Worth),
            honey: choice.value(self.tables, Aim::Honey),
            choice,
            proof,
        }
    }

    /// The choice with fewer compartments, just as many as the worth needs.
    fn lowered(&self, choice: &Choice, worth: i64, proof: Proof) -> Option<Spot> {
        let mut over = -choice.value(self.tables, Aim::Worth) - worth;
        if over == 0 {
            return Some(self.spot(choice.clone(), proof));
        }
        let mut lowered = choice.clone();
        for (kind, count) in self.tables.kinds.iter().zip(&mut lowered.compartments) {
            let step = kind.worth * kind.step;
            let steps = (over / step).clamp(0, (*count - kind.least) / kind.step);
            *count -= steps * kind.step;
            over -= steps * step;
        }
        let lowered = trim(self.tables, &lowered)?;
        Some(self.spot(lowered, proof))
    }
}

/// Leaves out what stocks no more than another for as much honey. Returns whether any of that was not
/// proved: a better point may be missing there.
fn unbeaten(spots: &mut Vec<Spot>, top: &Spot) -> bool {
    let mut least = top.honey;
    let mut kept: Vec<Spot> = Vec::new();
    let mut missing = false;
    for spot in spots.drain(..).rev().filter(|spot| spot.worth < top.worth) {
        if spot.honey < least {
            least = spot.honey;
            kept.push(spot);
        } else {
            missing |= spot.proof != Proof::Best;
        }
    }
    kept.reverse();
    *spots = kept;
    missing
}

fn first_open(one: Proof, other: Proof) -> Proof {
    match one {
        Proof::Best => other,
        open => open,
    }
}
