//! What was done on the day: what is recorded, and the rest of a plan that was carried out.

use spareframe_solver::{
    Breach, ColonyId, Compartment, Fault, Filler, Place, Plan, Scenario, Spot, check, gaps,
};

/// What was done on the day.
#[derive(Debug, Clone, Default)]
pub struct Done {
    /// What is in each compartment of the day's work, all of it.
    pub compartments: Vec<Compartment>,
    /// Frames of the store room that went into gaps.
    pub fillers: Vec<Filler>,
    /// For which colonies what the plan says of queens was done.
    pub requeened: Requeened,
    /// Compartments, by index, that got no cell and no queen.
    pub without_queen: Vec<usize>,
}

/// Colonies of `requeen` for which was done what the plan says of their queens.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub enum Requeened {
    /// None of them.
    #[default]
    Nowhere,
    /// All of them.
    AsPlanned,
    /// These.
    These(Vec<ColonyId>),
}

impl Requeened {
    pub(super) fn has(&self, colony: ColonyId) -> bool {
        match self {
            Self::Nowhere => false,
            Self::AsPlanned => true,
            Self::These(colonies) => colonies.contains(&colony),
        }
    }
}

/// Why a plan was not what was done.
#[derive(Debug, Clone)]
pub enum Refused {
    /// It does not hold in this scenario.
    Plan(Vec<Breach>),
    /// Together with what is recorded it takes more than there was.
    Together(Vec<Breach>),
}

/// What is recorded in a scenario, with the rest of a plan as carried out. A compartment that is recorded otherwise
/// than planned is as recorded.
///
/// # Errors
/// A plan that breaks a rule, alone or beside what is recorded.
pub fn done(scenario: &Scenario, plan: Option<&Plan>) -> Result<Done, Refused> {
    let recorded = || scenario.done.clone();
    let Some(plan) = plan else {
        return Ok(Done {
            compartments: recorded(),
            ..Done::default()
        });
    };
    let breaches = check(scenario, plan).1;
    if breaches.is_empty() {
        return Ok(Done {
            compartments: plan.touched().cloned().collect(),
            fillers: fillers(scenario, plan),
            requeened: Requeened::AsPlanned,
            without_queen: Vec::new(),
        });
    }
    if scenario.done.is_empty() {
        return Err(Refused::Plan(breaches));
    }
    // Made before anything was recorded, and carried out otherwise in places.
    let before = Scenario {
        done: Vec::new(),
        ..scenario.clone()
    };
    let breaches = check(&before, plan).1;
    if !breaches.is_empty() {
        return Err(Refused::Plan(breaches));
    }
    let place = |c: &Compartment| (c.kind, c.box_no, c.place);
    let others = |c: &&Compartment| scenario.done.iter().all(|record| place(record) != place(c));
    let mut merged = Plan {
        compartments: plan.compartments.iter().filter(others).cloned().collect(),
        begun: recorded(),
    };
    // What lacks nothing is stocked.
    let breaches = check(scenario, &merged).1;
    let lacks = |c: &Compartment| !breaches.iter().any(|breach| left_out(breach, c));
    let (begun, stocked): (Vec<_>, Vec<_>) = merged.begun.into_iter().partition(lacks);
    merged.begun = begun;
    merged.compartments.extend(stocked);
    let breaches = check(scenario, &merged).1;
    if !breaches.is_empty() {
        return Err(Refused::Together(breaches));
    }
    Ok(Done {
        fillers: fillers(scenario, &merged),
        compartments: merged.touched().cloned().collect(),
        requeened: Requeened::AsPlanned,
        without_queen: Vec::new(),
    })
}

/// Frames of the store room that go into gaps.
fn fillers(scenario: &Scenario, plan: &Plan) -> Vec<Filler> {
    let gaps = gaps(scenario, plan).into_iter();
    gaps.flat_map(|gaps| gaps.fillers).collect()
}

/// Whether a compartment was left begun though it lacks nothing.
fn left_out(breach: &Breach, c: &Compartment) -> bool {
    let here = |spot: &Spot| (spot.kind, spot.box_no, spot.place) == (c.kind, c.box_no, c.place);
    breach.fault == Fault::LeftOut
        && matches!(&breach.place, Place::Compartment(spot) if here(spot))
}
