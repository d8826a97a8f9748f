//! The matching of compartments to cells against Hall's condition, tried on every subset.

use proptest::prelude::*;
use spareframe_solver::*;

const KINDS: usize = 4;

/// Every set of kinds finds at least as many cells as it has compartments.
fn hall(wanted: &[u32], batches: &[(u32, Vec<usize>)]) -> bool {
    (0..1_usize << KINDS).all(|set| {
        let inside = |kind: usize| set >> kind & 1 == 1;
        let need: u32 = (0..KINDS).filter(|&k| inside(k)).map(|k| wanted[k]).sum();
        let cells: u32 = batches
            .iter()
            .filter(|(_, kinds)| (kinds.is_empty() && set != 0) || kinds.iter().any(|&k| inside(k)))
            .map(|(count, _)| count)
            .sum();
        need <= cells
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn cells_breach_where_hall_says_so(
        wanted in prop::collection::vec(0_u32..5, KINDS),
        batches in prop::collection::vec(
            (0_u32..6, prop::collection::vec(0..KINDS, 0..3)), 0..5),
    ) {
        let kind = |i: usize| BoxKind {
            name: format!("box {i}"),
            count: 5,
            compartments: 1,
            site: SiteId(0),
            worth: Worth(1000),
            whole: false,
            lines: vec![],
            bees: Bees(0),
            again: spareframe_solver::Recipe::default(),
        };
        let scenario = Scenario {
            boxes: (0..KINDS).map(kind).collect(),
            cells: Some(
                batches
                    .iter()
                    .map(|(count, kinds)| CellBatch {
                        count: *count,
                        boxes: kinds.iter().map(|&k| BoxId(k)).collect(),
                    })
                    .collect(),
            ),
            ..Scenario::default()
        };
        let compartments = wanted
            .iter()
            .enumerate()
            .flat_map(|(kind, &count)| (0..count).map(move |box_no| Compartment {
                kind: BoxId(kind),
                box_no,
                place: 0,
                frames: vec![],
                bees: vec![],
            }))
            .collect();
        let (_, breaches) = check(&scenario, &Plan { compartments, ..Plan::default() });
        prop_assert!(breaches.iter().all(|b| b.rule == Rule::Cells));
        prop_assert_eq!(breaches.is_empty(), hall(&wanted, &batches));
    }
}
