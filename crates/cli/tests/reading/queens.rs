//! Mated queens out of what stands, as the reader has them.

use spareframe::scenario::{Finding, Loaded, read};
use spareframe_solver::{BoxId, CellBatch};

/// Two mating boxes of two compartments, three nucleus boxes that take queens.
fn yard(rest: &str) -> (Option<Loaded>, Vec<Finding>) {
    let text = format!(
        "spareframe: 2\nday: 2031-06-30\nsites: {{a: }}\n\
         colonies:\n  Ash: {{brood: 6 combs, stores: 5 combs}}\n  Elm: {{brood: 6 combs, stores: 5 combs}}\n  \
         Yew: {{brood: 6 combs, stores: 5 combs, hold: robbed}}\n  \
         Fir: {{brood: 4 combs, stores: 3 combs, draw: all}}\n\
         recipes:\n  r: {{bees: 3000, lines: [{{name: brood, brood: 50 %}}]}}\n\
         boxes:\n  mating box: {{count: 2, compartments: 2, recipe: r}}\n  \
         nucleus box: {{count: 3, recipe: r, takes: mated queens}}\n{rest}"
    );
    let read = read("yard.yaml", text.as_bytes());
    (read.loaded, read.findings)
}

/// Queens of age on 30 June: two to be taken, one seen to be mated on 22 June; one more on 2 July.
const STANDING: &str = "standing:\n  \
    - {box: mating box, since: 2031-05-30, queen: to be taken, seen: 2031-06-29}\n  \
    - {box: mating box, compartment: 2, since: 2031-05-30, round: 2031-06-06, queen: mated, seen: 2031-06-24}\n  \
    - {box: mating box, number: 2, since: 2031-05-30, round: 2031-06-06, queen: mated, seen: 2031-06-22}\n  \
    - {box: mating box, number: 2, compartment: 2, since: 2031-05-30, queen: to be taken}\n  \
    - {box: nucleus box, since: 2031-05-30, queen: mated, seen: 2031-06-10}\n";

fn codes(found: &[Finding]) -> Vec<&'static str> {
    found.iter().map(|f| f.code).collect()
}

fn batches(rest: &str) -> Vec<CellBatch> {
    let (loaded, found) = yard(&format!("{STANDING}{rest}"));
    assert_eq!(found, [], "{rest}");
    loaded.unwrap().scenario.cells.unwrap()
}

fn batch(count: u32, kinds: &[usize]) -> CellBatch {
    let boxes = kinds.iter().copied().map(BoxId).collect();
    CellBatch { count, boxes }
}

#[test]
fn queens_that_stand_are_at_hand_once_they_are_of_age() {
    let (loaded, found) = yard(STANDING);
    assert_eq!(found, []);
    let queens = loaded.unwrap().queens;
    let stand: Vec<_> = queens
        .stand
        .iter()
        .map(|q| (q.name.as_str(), q.of_age.to_string()))
        .collect();
    let day = |day: &str| day.to_owned();
    // By the day her round began.
    let began = STANDING.replace(
        "round: 2031-06-06, queen: mated, seen: 2031-06-24",
        "queen: mated, seen: 2031-06-24",
    );
    let of_age = yard(&began).0.unwrap().queens.stand[1].of_age;
    assert_eq!(of_age.to_string(), "2031-06-26");
    // The day of her first eggs says more, where it is known.
    let dated = STANDING.replace("seen: 2031-06-24", "seen: 2031-06-24, eggs: 2031-06-12");
    let of_age = yard(&dated).0.unwrap().queens.stand[1].of_age;
    assert_eq!(of_age.to_string(), "2031-06-29");
    // A queen that a nucleus was given stays its own.
    assert_eq!(
        stand,
        [
            ("mating box 1.1", day("2031-06-29")),
            ("mating box 1.2", day("2031-07-02")),
            ("mating box 2.1", day("2031-06-30")),
            ("mating box 2.2", day("2031-05-30")),
        ]
    );
}

#[test]
fn boxes_that_take_queens_get_those_that_no_colony_gets() {
    let cells = batch(CellBatch::UNCOUNTED, &[0]);
    assert_eq!(batches(""), [cells.clone(), batch(3, &[1])]);
    assert_eq!(
        batches("requeen: [{colony: Elm}]\n"),
        [cells, batch(2, &[1])]
    );
    // Cells for any box are for those that take cells.
    assert_eq!(batches("cells: 4\n"), [batch(4, &[0]), batch(3, &[1])]);
    // Queens that the file counts stand in place of those that stand.
    let own = batches("cells: {mating box: 2, nucleus box: 1}\n");
    assert_eq!(own, [batch(2, &[0]), batch(1, &[1])]);
}

#[test]
fn bad_entries_are_found() {
    for (entry, code) in [
        ("{by: 2031-07-10}", "missing-key"),
        ("{colony: Oak}", "unknown-name"),
        ("{colony: Elm}, {colony: Elm}", "duplicate-key"),
        ("{colony: Yew}", "not-to-requeen"),
        ("{colony: Fir}", "not-to-requeen"),
        ("{colony: Elm, by: 2031-06-29}", "dates-order"),
        ("{colony: Elm, prepared: 2031-07-01}", "dates-order"),
        ("{colony: Elm, prepared: yesterday}", "wrong-type"),
        ("{colony: Elm, queen: mating box}", "unknown-key"),
    ] {
        let (_, found) = yard(&format!("{STANDING}requeen: [{entry}]\n"));
        assert_eq!(codes(&found), [code], "{entry}");
    }
    let (_, found) =
        yard("requeen: [{colony: Oak}, {colony: Yew}, {colony: Ash, by: 2031-01-01}]\n");
    let all = ["unknown-name", "not-to-requeen", "dates-order"];
    assert_eq!(codes(&found), all, "all at once");
}

#[test]
fn without_a_stocking_day_no_queen_goes_in() {
    let text = "spareframe: 2\nsites: {a: }\ncolonies: {Ash: {brood: 6 combs}}\nrequeen: [{colony: Ash}]\n\
                recipes: {r: {bees: 3000, lines: [{brood: 50 %}]}}\nboxes: {b: {count: 2, recipe: r}}\n";
    let found = read("yard.yaml", text.as_bytes()).findings;
    assert_eq!(codes(&found), ["dates-without-day"]);
}

/// Full frames of brood that a colony has on 30 June, counted on 9 June.
fn brood(colony: &str, rest: &str) -> (i64, Vec<&'static str>) {
    let text = format!(
        "spareframe: 2\nday: 2031-06-30\ncounted: 2031-06-09\nsites: {{a: }}\n\
         colonies:\n  Ash: {{brood: 6 combs, stores: 5 combs{colony}}}\n\
         recipes:\n  r: {{bees: 3000, lines: [{{name: brood, brood: 20 %}}]}}\n\
         boxes:\n  mating box: {{count: 2, recipe: r}}\n{rest}"
    );
    let read = read("yard.yaml", text.as_bytes());
    let brood = read.loaded.map_or(0, |loaded| {
        let frames = loaded.scenario.colonies[0].frames.iter();
        frames.map(|g| g.frame.brood.0 * i64::from(g.count)).sum()
    });
    (brood, codes(&read.findings))
}

#[test]
fn a_colony_is_expected_with_the_brood_of_the_queen_that_it_has() {
    let (with, found) = brood("", "");
    assert_eq!(found, [""; 0]);
    // Prepared on the day of the count, it has no brood 21 days later, and the recipe finds none.
    let out = "requeen: [{colony: Ash, prepared: 2031-06-09}]\n";
    assert_eq!(brood("", out), (0, vec!["no-frame-fits"]));
    let (late, _) = brood("", &out.replace("06-09}", "06-28}"));
    assert!(0 < late && late < with, "{late} {with}");
    // A young queen that went in on the 11th.
    let (young, found) = brood(", requeened: 2031-06-11", "");
    assert_eq!(found, [""; 0]);
    assert!(0 < young && young != with, "{young} {with}");
    // Long before the count: its brood is hers.
    assert_eq!(brood(", requeened: 2031-05-15", ""), (with, vec![]));
    assert_eq!(brood(", requeened: 2031-07-01", "").1, ["dates-order"]);
}
