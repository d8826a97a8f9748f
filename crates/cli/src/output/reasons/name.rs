//! Limits of the solver by the names of a scenario.

use super::record::{AskReport, ChangeReport, GroupReport, LimitReport, SpanReport, Thing};
use super::setting;
use crate::output::build::decimal;
use spareframe_solver::why::{Cap, Change, Floor, Group, Limit, Unit};
use spareframe_solver::{Ask, Hundreds, Scenario, SiteId, Span};

fn of_floor(floor: Floor) -> (Thing, &'static str) {
    match floor {
        Floor::Brood => (Thing::KeepBrood, "brood frames"),
        Floor::Bees => (Thing::KeepBees, "bees"),
        Floor::Stores => (Thing::KeepStores, "kg"),
        Floor::Drawn => (Thing::KeepDrawn, "drawn combs"),
        Floor::Covered => (Thing::KeepCovered, "%"),
    }
}

fn of_cap(cap: Cap) -> (Thing, &'static str) {
    match cap {
        Cap::Frames => (Thing::DrawFrames, "frames"),
        Cap::Brood => (Thing::DrawBrood, "brood frames"),
        Cap::Bees => (Thing::DrawBees, "bees"),
        Cap::Honey => (Thing::DrawHoney, "kg"),
    }
}

fn rule(thing: Thing) -> &'static str {
    match thing {
        Thing::Frames | Thing::Hold => "supply",
        Thing::Bees => "bees",
        Thing::Cells => "cells",
        Thing::Boxes | Thing::WholeBoxes => "boxes",
        Thing::KeepBrood
        | Thing::KeepBees
        | Thing::KeepStores
        | Thing::KeepDrawn
        | Thing::KeepCovered => "keep",
        Thing::Rides => "ride",
        Thing::HoneyCap
        | Thing::DrawFrames
        | Thing::DrawBrood
        | Thing::DrawBees
        | Thing::DrawHoney => "draw",
    }
}

/// An amount of a limit in the unit of the record.
pub(super) fn in_unit(unit: Unit, amount: i64) -> f64 {
    match unit {
        Unit::FrameShares | Unit::Stores | Unit::Honey => decimal(amount, 1000.0),
        Unit::Bees => decimal(Hundreds(amount).bees().0, 1.0),
        Unit::Frames | Unit::Percent | Unit::Cells | Unit::Boxes | Unit::Lifted => {
            decimal(amount, 1.0)
        }
    }
}

pub(super) fn ask(scenario: &Scenario, ask: &Ask) -> AskReport {
    let comb = scenario.combs.get(ask.comb.0);
    let span = |span: Span| SpanReport {
        least: decimal(span.least.0, 1000.0),
        most: decimal(span.most.0, 1000.0),
    };
    AskReport {
        comb: comb.map(|comb| comb.name.clone()).unwrap_or_default(),
        brood_share: span(ask.brood),
        sealed_share: span(ask.sealed),
        stores_share: span(ask.stores),
        drawn_share: span(ask.drawn),
    }
}

fn site(scenario: &Scenario, id: SiteId) -> String {
    crate::output::build::site(scenario, id.0)
}

/// A limit by name.
pub(super) fn limit(scenario: &Scenario, limit: &Limit) -> LimitReport {
    let (thing, unit) = match *limit {
        Limit::Frames(_) => (Thing::Frames, Some("frames")),
        Limit::BeesAt(_) => (Thing::Bees, Some("bees")),
        Limit::Cells => (Thing::Cells, Some("cells")),
        Limit::Boxes(_) => (Thing::Boxes, Some("boxes")),
        Limit::Whole(_) => (Thing::WholeBoxes, None),
        Limit::HoneyCap => (Thing::HoneyCap, Some("kg")),
        Limit::Floor(_, floor) => (of_floor(floor).0, Some(of_floor(floor).1)),
        Limit::Cap(_, cap) => (of_cap(cap).0, Some(of_cap(cap).1)),
        Limit::Rides(_) => (Thing::Rides, Some("%")),
        Limit::Hold(_) => (Thing::Hold, None),
    };
    let colony = limit.colony().and_then(|id| scenario.colonies.get(id.0));
    let kind = match *limit {
        Limit::Boxes(id) | Limit::Whole(id) => scenario.boxes.get(id.0),
        _ => None,
    };
    let counted = !matches!(
        limit,
        Limit::Frames(_) | Limit::BeesAt(_) | Limit::Whole(_) | Limit::Hold(_)
    );
    LimitReport {
        rule: rule(thing),
        thing,
        frame: match limit {
            Limit::Frames(of) => Some(ask(scenario, of)),
            _ => None,
        },
        site: match *limit {
            Limit::BeesAt(id) => Some(site(scenario, id)),
            _ => None,
        },
        box_kind: kind.map(|kind| kind.name.clone()),
        colony: colony.map(|colony| colony.name.clone()),
        reason: match limit {
            Limit::Hold(_) => colony.and_then(|colony| colony.hold.clone()),
            _ => None,
        },
        now: counted.then(|| in_unit(limit.unit(), limit.now(scenario))),
        unit,
    }
}

/// Limits of one sort by name.
pub(super) fn group(scenario: &Scenario, group: &Group) -> GroupReport {
    let thing = match *group {
        Group::Frames(_) => Thing::Frames,
        Group::BeesAt(_) => Thing::Bees,
        Group::Cells => Thing::Cells,
        Group::Boxes => Thing::Boxes,
        Group::Whole => Thing::WholeBoxes,
        Group::HoneyCap => Thing::HoneyCap,
        Group::Floors(floor) => of_floor(floor).0,
        Group::Caps(cap) => of_cap(cap).0,
        Group::Rides => Thing::Rides,
        Group::Holds => Thing::Hold,
    };
    GroupReport {
        rule: rule(thing),
        thing,
        frame: match group {
            Group::Frames(of) => Some(ask(scenario, of)),
            _ => None,
        },
        site: match *group {
            Group::BeesAt(id) => Some(site(scenario, id)),
            _ => None,
        },
    }
}

/// A change by name; `place` is its place among those that are made together, from 0.
pub(super) fn change(scenario: &Scenario, change: &Change, place: usize) -> ChangeReport {
    let of = limit(scenario, &change.limit);
    let unit = change.limit.unit();
    let step = match change.limit.is_floor() {
        true => -change.by,
        false => change.by,
    };
    let to = change.limit.now(scenario).saturating_add(step).max(0);
    ChangeReport {
        by: (unit != Unit::Lifted).then(|| in_unit(unit, change.by)),
        to: of.now.map(|_| in_unit(unit, to)),
        set: setting::set_beside(scenario, change, place),
        limit: of,
    }
}
