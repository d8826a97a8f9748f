//! Plans and scenarios that are wrong in every way.

use crate::yard::{bees, scenario};
use spareframe_solver::*;

const FAR: usize = usize::MAX;

fn frames(line: usize, origin: Origin, count: u32) -> PlacedFrames {
    PlacedFrames {
        line,
        origin,
        count,
    }
}

fn compartment() -> Compartment {
    let of = |colony, group| Origin::Colony(ColonyId(colony), group);
    Compartment {
        kind: BoxId(0),
        box_no: u32::MAX,
        place: u32::MAX,
        frames: vec![
            frames(FAR, Origin::StoreRoom(FAR), 0),
            frames(0, of(FAR, FAR), u32::MAX),
            frames(0, of(0, FAR), u32::MAX),
            frames(0, of(0, 0), u32::MAX),
        ],
        bees: vec![
            bees(FAR, i64::MIN, i64::MAX),
            bees(0, i64::MIN, i64::MIN),
            bees(0, i64::MAX, i64::MAX),
            bees(0, i64::MAX, i64::MAX),
        ],
    }
}

fn wild_plan() -> Plan {
    let mut unknown = compartment();
    unknown.kind = BoxId(FAR);
    Plan {
        compartments: vec![compartment(), compartment(), unknown.clone()],
        begun: vec![compartment(), unknown],
    }
}

fn try_all(scenario: &Scenario, plan: &Plan) -> Vec<Breach> {
    let (goals, breaches) = check_near(scenario, plan, &wild_plan());
    let _ = goals.cost.total(&scenario.prices);
    for breach in &breaches {
        assert!(!breach.in_words(scenario).to_string().is_empty());
    }
    assert_eq!(remains(scenario, plan).len(), scenario.colonies.len());
    breaches
}

#[test]
fn nothing_in_a_plan_makes_it_panic() {
    let breaches = try_all(&scenario(), &wild_plan());
    for rule in Rule::ALL {
        let none = matches!(rule, Rule::Draw | Rule::Cells | Rule::Give | Rule::Ride);
        let broken = breaches.iter().any(|b| b.rule == rule);
        assert!(broken || none, "{rule:?}");
    }
}

fn spoil(scenario: &mut Scenario, v: i64) {
    let frame = FrameState {
        comb: CombId(0),
        brood: Milli(v),
        sealed: Milli(v),
        stores: Milli(v),
        drawn: Milli(v),
        bees: Hundreds(v),
    };
    scenario.standing = vec![Standing {
        kind: BoxId(0),
        box_no: u32::MAX,
        place: u32::MAX,
        frames: vec![FrameGroup {
            count: u32::MAX,
            frame,
            queen: false,
        }],
        extra_bees: Hundreds(v),
        wants_cell: v > 0,
    }];
    scenario.boxes[0].again = Recipe {
        lines: scenario.boxes[0].lines.clone(),
        bees: Bees(v),
    };
    scenario.combs[0] = Comb {
        name: String::new(),
        bees: Hundreds(v),
        cells: v,
        stores: Grams(v),
    };
    for colony in &mut scenario.colonies {
        for group in &mut colony.frames {
            group.count = u32::MAX;
            group.frame = frame;
        }
        colony.extra_bees = Hundreds(v);
        colony.site = SiteId(FAR);
        colony.rides = Percent(v);
        colony.crop = Some(Crop {
            honey: Grams(v),
            from: i32::MIN,
            to: i32::MAX,
        });
        colony.keep = Keep {
            brood: Milli(v),
            bees: Hundreds(v),
            stores: Grams(v),
            drawn: Milli(v),
            covered: Percent(v),
        };
    }
    scenario.drift.flying = Percent(v);
    scenario.boxes[0].bees = Bees(v);
    scenario.boxes[0].worth = Worth(v);
    scenario.honey_cap = Some(Grams(v));
    scenario.colony_model.mortality = Milli(v);
    scenario.done = vec![compartment(), compartment()];
    scenario.gives = vec![Give {
        colony: ColonyId(FAR),
        group: Some(FAR),
        frames: u32::MAX,
    }];
}

#[test]
fn nothing_in_a_scenario_makes_it_panic() {
    for v in [i64::MIN, -1, i64::MAX] {
        let mut scenario = scenario();
        spoil(&mut scenario, v);
        try_all(&scenario, &wild_plan());
        assert!(scenario.validate().is_err());
        scenario.distances.clear();
        scenario.combs.clear();
        scenario.sites.clear();
        scenario.cells = Some(vec![CellBatch {
            count: u32::MAX,
            boxes: vec![BoxId(FAR)],
        }]);
        try_all(&scenario, &wild_plan());
        scenario.boxes.clear();
        try_all(&scenario, &wild_plan());
        for invalid in scenario.validate().expect_err("nothing is left") {
            assert!(!invalid.to_string().is_empty());
        }
    }
}
