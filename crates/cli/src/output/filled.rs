//! Where compartments are filled: beside their first donor, or where they stand.

use super::build::site;
use super::report::{ColonyReport, CompartmentReport};
use super::stocked::donor_ids;
use itertools::Itertools;
use spareframe_solver::{Compartment, Plan, Scenario};

/// The sites in the order of the day, by number: those with colonies to open, then the others.
pub(super) struct Route(Vec<usize>);

impl Route {
    pub(super) fn of(scenario: &Scenario, colonies: &[ColonyReport]) -> Self {
        let opened = |at: &usize| {
            let name = site(scenario, *at);
            colonies.iter().any(|c| c.site == name)
        };
        let all = 0..scenario.sites.len();
        Self(all.sorted_by_key(|at| !opened(at)).collect())
    }

    pub(super) fn sites(&self) -> &[usize] {
        &self.0
    }

    /// Where a compartment is filled. One in which bees stand is not carried to its donor.
    pub(super) fn filled(&self, scenario: &Scenario, c: &Compartment) -> Option<usize> {
        let own = scenario.boxes.get(c.kind.0)?.site.0;
        if scenario.stands(c.kind, c.box_no, c.place).is_some() {
            return Some(own);
        }
        let homes = donor_ids(c).into_iter();
        let homes = homes.filter_map(|id| Some(scenario.colonies.get(id.0)?.site.0));
        let along = |home: &usize| self.0.iter().position(|at| at == home);
        Some(homes.min_by_key(along).unwrap_or(own))
    }

    /// Says of compartments where they are filled, where that is not where they stand.
    pub(super) fn say(&self, scenario: &Scenario, plan: &Plan, reports: &mut [CompartmentReport]) {
        for (c, report) in plan.compartments.iter().zip(reports) {
            let filled = self.filled(scenario, c).map(|at| site(scenario, at));
            report.filled_at = filled.filter(|at| *at != report.site);
        }
    }
}
