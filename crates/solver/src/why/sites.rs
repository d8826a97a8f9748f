//! What is reached without the colonies of a site.

use std::collections::BTreeSet;

use rayon::prelude::*;

use super::asked::Asked;
use super::{Best, Refused};
use crate::plan::{Origin, Plan};
use crate::remains;
use crate::scenario::{ColonyId, Scenario, SiteId};

/// What is reached where no colony of a site gives anything.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WithoutSite {
    /// Which site.
    pub site: SiteId,
    /// What is then reached.
    pub best: Best,
    /// A plan that reaches it, checked.
    pub plan: Plan,
}

/// The same of each site of which colonies give in the plan, where there are two or more; without those of which something
/// is taken already, or wished. And how many plans the check refused.
pub(super) fn without_sites(asked: &Asked, plan: &Plan) -> (Vec<WithoutSite>, u32) {
    let scenario = asked.yard.scenario;
    let of = |id: ColonyId| Some(scenario.colonies.get(id.0)?.site);
    let gives = remains(scenario, plan);
    let gives = gives.iter().filter(|c| c.frames > 0 || c.bees.0 > 0);
    let sites: BTreeSet<SiteId> = gives.filter_map(|c| of(c.colony)).collect();
    if sites.len() < 2 {
        return (Vec::new(), 0);
    }
    let done = scenario.done.iter().flat_map(|c| {
        let frames = c.frames.iter().filter_map(|placed| match placed.origin {
            Origin::Colony(id, _) => Some(id),
            Origin::StoreRoom(_) => None,
        });
        frames.chain(c.bees.iter().map(|bees| bees.colony))
    });
    let wished = scenario.gives.iter().map(|give| give.colony);
    let stays: BTreeSet<SiteId> = done.chain(wished).filter_map(of).collect();
    let asked_of: Vec<SiteId> = sites.difference(&stays).copied().collect();
    let found: Vec<Result<WithoutSite, Refused>> = asked_of
        .into_par_iter()
        .filter_map(|site| {
            let less = left_alone(scenario, site);
            let (reach, plan) = asked.again.less(&less)?;
            Some(
                asked
                    .agreed(&less, reach, &plan)
                    .map(|best| WithoutSite { site, best, plan }),
            )
        })
        .collect();
    let refused = found.iter().filter(|found| found.is_err()).count();
    let found = found.into_iter().flatten().collect();
    (found, u32::try_from(refused).unwrap_or(u32::MAX))
}

/// The scenario with all colonies of a site left untouched.
fn left_alone(scenario: &Scenario, site: SiteId) -> Scenario {
    let mut less = scenario.clone();
    for colony in less.colonies.iter_mut().filter(|c| c.site == site) {
        colony.hold.get_or_insert_default();
    }
    less
}
