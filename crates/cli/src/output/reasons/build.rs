//! From the solver's reasons to the record.

use super::name;
use super::record::{
    ColonyBecause, ColonyWhy, EffectReport, KindBecause, KindWhy, OfferReport, ReachedReport,
    SiteWhy, SortReport, WHY_VERSION, WhyReport,
};
use crate::output::build::{Notes, decimal, estimated, site};
use crate::output::raise::{RaiseReport, raise};
use crate::output::report::{ColonyReport, Report};
use spareframe_solver::why::{
    Because, Best, Change, ColonyReason, Effect, Floor, KindReason, Limit, Offer, Steps, Unstocked,
    Why, WithoutSite,
};
use spareframe_solver::{Plan, Scenario, remains};

/// How to ask about all rounds.
const ASK_SEASON: &str = "This is today's round alone: `spareframe why SCENARIO --season` says what holds the season back.";

/// Builds the record. `report` is that of the plan that is explained.
#[must_use]
pub fn build(
    scenario: &Scenario,
    notes: &Notes,
    report: &Report,
    plan: &Plan,
    why: &Why,
) -> WhyReport {
    let today = Today {
        scenario,
        best: why.today,
        each: worth_of_each(scenario),
        stocked: u64::from(report.headline.compartments_stocked),
    };
    let offer = |offer: &Offer| OfferReport {
        changes: changes(scenario, &offer.changes),
        fewest: offer.fewest,
        reached: today.reached(offer.best, Some(offer.plan.compartments.len())),
    };
    let (telling, rest): (Vec<&Effect>, Vec<&Effect>) = why
        .effects
        .iter()
        .partition(|effect| effect.lifted.is_some());
    let effect = |effect: &&Effect| {
        Some(EffectReport {
            limit: name::limit(scenario, &effect.limit),
            step: {
                let unit = effect.limit.unit();
                name::in_unit(unit, Steps::ONE.of(unit))
            },
            one_more: effect.one_more.map(|(change, best)| OfferReport {
                changes: changes(scenario, &[change]),
                fewest: true,
                reached: today.reached(best, None),
            }),
            without: today.reached(effect.lifted?, None),
        })
    };
    WhyReport {
        spareframe_why: WHY_VERSION,
        title: report.title.clone(),
        day: report.day.clone(),
        today: report.headline.clone(),
        exact: why.exact,
        counted_by_worth: today.each.is_none() && scenario.boxes.len() > 1,
        one_more: why.offers.iter().map(offer).collect(),
        fewest_together: why.together.as_ref().map(offer),
        fewest_of_our_own: why.own.as_ref().map(offer),
        forbidding: why
            .forbidding
            .iter()
            .map(|group| name::group(scenario, group))
            .collect(),
        limits: telling.iter().filter_map(effect).collect(),
        limits_only_together: why
            .only_together
            .iter()
            .map(|(group, best)| SortReport {
                limits: name::group(scenario, group),
                without: today.reached(*best, None),
            })
            .collect(),
        not_limiting: rest
            .iter()
            .filter(|effect| effect.known)
            .map(|effect| name::limit(scenario, &effect.limit))
            .collect(),
        colonies: colonies(scenario, plan, why),
        kinds: why
            .kinds
            .iter()
            .map(|kind| of_kind(scenario, kind))
            .collect(),
        without_sites: why
            .without_sites
            .iter()
            .map(|without| of_site(&today, report, without))
            .collect(),
        no_next_cell: report
            .standing
            .iter()
            .filter(|stands| stands.lacks.is_some())
            .cloned()
            .collect(),
        raise: raises(scenario, notes, why),
        season: notes.season.as_ref().map(|_| ASK_SEASON),
        estimate_assumptions: report.estimate_assumptions.clone(),
    }
}

/// What to raise, of each frame size the least that would help.
fn raises(scenario: &Scenario, notes: &Notes, why: &Why) -> Vec<RaiseReport> {
    let together = why.together.iter().chain(&why.own);
    let offers = why.offers.iter().chain(together);
    let raises = offers.flat_map(|offer| &offer.changes);
    let mut found: Vec<RaiseReport> = raises
        .filter_map(|change| raise(scenario, notes, change))
        .collect();
    found.sort_by(|a, b| (&a.comb, a.frames).cmp(&(&b.comb, b.frames)));
    found.dedup_by(|next, first| next.comb == first.comb);
    found
}

fn changes(scenario: &Scenario, changes: &[Change]) -> Vec<super::record::ChangeReport> {
    let named = changes.iter().enumerate();
    named
        .map(|(place, change)| name::change(scenario, change, place))
        .collect()
}

/// The worth of one compartment, where all kinds of box have the same.
fn worth_of_each(scenario: &Scenario) -> Option<i64> {
    let mut worths = scenario.boxes.iter().map(|kind| kind.worth.0);
    let first = worths.next()?;
    worths.all(|worth| worth == first).then_some(first)
}

struct Today<'a> {
    scenario: &'a Scenario,
    best: Best,
    each: Option<i64>,
    stocked: u64,
}

impl Today<'_> {
    fn reached(&self, best: Best, counted: Option<usize>) -> ReachedReport {
        let counted = counted.and_then(|count| u64::try_from(count).ok());
        let by_worth = self.each.and_then(|each| best.worth.0.checked_div(each));
        let by_worth = by_worth.and_then(|count| u64::try_from(count).ok());
        let stocked = counted.or(by_worth);
        let total = |best: &Best| best.cost.total(&self.scenario.prices);
        let whole = |count: u64| i64::try_from(count).unwrap_or(i64::MAX);
        ReachedReport {
            worth: decimal(best.worth.0, 1000.0),
            compartments_stocked: stocked,
            cost_g: total(&best).0,
            honey_given_up_g: estimated(self.scenario, best.cost.honey.0),
            worth_more: decimal(best.worth.0 - self.best.worth.0, 1000.0),
            compartments_more: stocked.map(|stocked| whole(stocked) - whole(self.stocked)),
            cost_more_g: (total(&best) - total(&self.best)).0,
            honey_more_g: estimated(self.scenario, (best.cost.honey - self.best.cost.honey).0),
        }
    }
}

fn colonies(scenario: &Scenario, plan: &Plan, why: &Why) -> Vec<ColonyWhy> {
    let accounts = remains(scenario, plan);
    let of = |reason: &ColonyReason| {
        let colony = scenario.colonies.get(reason.colony.0)?;
        let account = accounts.get(reason.colony.0)?;
        // A colony whose brood is not covered may give all the same.
        let held = |floor| match floor {
            Floor::Brood => account.before.brood.0,
            Floor::Bees => account.before.bees.0,
            Floor::Stores => account.before.stores.0,
            Floor::Drawn => account.before.drawn.0,
            Floor::Covered => 0,
        };
        let limits = |limits: &[Limit]| {
            limits
                .iter()
                .map(|limit| name::limit(scenario, limit))
                .collect()
        };
        let because = |because: &Because| match because {
            Because::OnHold => ColonyBecause::OnHold(colony.hold.clone().unwrap_or_default()),
            Because::Below(floor) => {
                let limit = Limit::Floor(reason.colony, *floor);
                ColonyBecause::Below {
                    floor: Box::new(name::limit(scenario, &limit)),
                    has: name::in_unit(limit.unit(), held(*floor)),
                }
            }
            Because::NothingFits => ColonyBecause::NothingFits,
            Because::GaveAll(asks) => {
                let asks = asks.iter().map(|ask| name::ask(scenario, ask));
                ColonyBecause::GaveAll(asks.collect())
            }
            Because::Limits(of) => ColonyBecause::Limits(limits(of)),
            Because::Together(of) => ColonyBecause::LimitsTogether(limits(of)),
            Because::TooDear => ColonyBecause::TooDear,
            Because::NotNeeded => ColonyBecause::NotNeeded,
            Because::NotKnown => ColonyBecause::NotKnown,
        };
        Some(ColonyWhy {
            colony: colony.name.clone(),
            frames: reason.frames,
            bees: reason.bees.bees().0,
            because: reason.because.iter().map(because).collect(),
        })
    };
    why.colonies.iter().filter_map(of).collect()
}

fn of_site(today: &Today, report: &Report, without: &WithoutSite) -> SiteWhy {
    let site = site(today.scenario, without.site.0);
    let gets = without.plan.compartments.iter().any(|c| {
        let kind = today.scenario.boxes.get(c.kind.0);
        kind.is_some_and(|kind| kind.site == without.site)
    });
    let queens = |c: &ColonyReport| c.site == site && c.queens.is_some() && c.opens();
    SiteWhy {
        visited_anyway: gets || report.colonies.iter().any(queens),
        without: today.reached(without.best, Some(without.plan.compartments.len())),
        site,
    }
}

fn of_kind(scenario: &Scenario, reason: &KindReason) -> KindWhy {
    let kind = scenario.boxes.get(reason.kind.0);
    KindWhy {
        box_kind: kind.map(|kind| kind.name.clone()).unwrap_or_default(),
        compartments_stocked: reason.stocked,
        compartments_in_all: reason.in_all,
        because: match &reason.because {
            Unstocked::WorthLess(worth) => KindBecause::WorthLess(decimal(worth.0, 1000.0)),
            Unstocked::NoBetter => KindBecause::NoBetter,
            Unstocked::Never => KindBecause::Never,
            Unstocked::NotKnown => KindBecause::NotKnown,
            Unstocked::Limits(groups) => {
                let groups = groups.iter().map(|group| name::group(scenario, group));
                KindBecause::Limits(groups.collect())
            }
        },
    }
}
