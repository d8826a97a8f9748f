//! What is seen in compartments that stand, typed or in a table.

use crate::inspect_support::{into, otherwise, put};
use spareframe::inspect::{Inspected, look, table};
use spareframe::scenario::read;

const YARD: &str = "\
spareframe: 2
day: 2031-06-10
counted: 2031-05-20
sites: {home: }
colonies:
  Ash: {role: nucleus, brood: 5 combs, stores: 2 combs}
store room: [{comb: mini, count: 3}]
recipes:
  half: {bees: 1500, lines: [{brood: 30 %}]}
  small: {bees: 600, lines: [{comb: mini, count: 3}]}
boxes: {half box: {count: 2, compartments: 2, recipe: half}, mini: {count: 2, recipe: small}}
standing:
  # the first round
  - box: half box      # by the fence
    since: 2031-05-20
    frames:
      - {count: 1, brood: 60 %, bees: 80 %}
    queen: cell
  - {box: half box, compartment: 2, since: 2031-05-20, extra bees: 900, queen: laying, seen: 2031-06-03, frames: [{brood: 40 %}]}
  - {box: mini, number: 2, since: 2031-05-20, extra bees: 700, frames: [{count: 3, bees: 0 %}], failed: 1}
";

fn see(typed: &[&str]) -> Inspected {
    let typed: Vec<String> = typed.iter().map(|text| (*text).to_owned()).collect();
    look(&typed, ("s.yaml", YARD.as_bytes()))
}

fn changes(typed: &[&str]) -> Vec<String> {
    let seen = see(typed);
    assert_eq!(seen.findings, [], "{typed:?}");
    otherwise(YARD, &seen.text.unwrap())
}

#[test]
fn what_is_seen_stands_in_place_of_what_was_expected() {
    assert_eq!(
        changes(&["Half Box 1.1=eggs"]),
        [
            "-    queen: cell",
            "+    queen: laying",
            "+    seen: 2031-06-10"
        ]
    );
    // A round that brought no queen; another cell may follow.
    assert_eq!(
        changes(&["half box 1.1 = no queen"]),
        [
            "-    queen: cell",
            "+    queen: none",
            "+    seen: 2031-06-10",
            "+    failed: 1"
        ]
    );
    let second = changes(&["mini 2=none"]).remove(1);
    assert!(
        second.ends_with("failed: 2, queen: none, seen: 2031-06-10}"),
        "{second}"
    );
    let loaded = read("s.yaml", see(&["mini 2=none"]).text.unwrap().as_bytes())
        .loaded
        .unwrap();
    assert!(!loaded.scenario.standing[2].wants_cell);
    let once = see(&["half box 1.1=queenless"]).text.unwrap();
    assert!(
        read("s.yaml", once.as_bytes())
            .loaded
            .unwrap()
            .scenario
            .standing[0]
            .wants_cell
    );
}

#[test]
fn a_queen_lays_on_from_the_day_her_eggs_were_seen() {
    let mated = changes(&["half box 1.2=sealed brood"]).remove(1);
    assert!(mated.contains("queen: mated, seen: 2031-06-10"), "{mated}");
    assert!(mated.contains("eggs: 2031-06-03"), "{mated}");
    // The same again says nothing new, and the first day stays.
    assert_eq!(changes(&["half box 1.2=laying"]), [] as [&str; 0]);
    // What she laid is in the compartment when she is no more.
    for (typed, failed) in [("half box 1.2=none", true), ("half box 1.2=taken", false)] {
        let lost = changes(&[typed]).remove(1);
        assert!(
            lost.contains("queen: none") && lost.contains("counted: 2031-06-10"),
            "{lost}"
        );
        assert!(lost.contains("frames: [{count: 1, brood: "), "{lost}");
        assert_eq!(lost.contains("failed: 1"), failed, "{lost}");
    }
}

#[test]
fn bees_and_brood_at_a_glance_are_counted_that_day() {
    let seen = changes(&["half box 1.1=eggs, bees 1.5 frames, brood 1 comb at 30 %"]);
    assert!(
        seen.contains(&"+    counted: 2031-06-10".to_owned()),
        "{seen:?}"
    );
    let frames = seen
        .iter()
        .find(|line| line.starts_with("+      - "))
        .unwrap();
    assert!(
        frames.starts_with("+      - {count: 1, brood: 30 %, sealed: 57 %, bees: "),
        "{frames}"
    );
    let text = see(&["half box 1.1=eggs, bees 1.5 frames"]).text.unwrap();
    let loaded = read("s.yaml", text.as_bytes()).loaded.unwrap();
    assert_eq!(loaded.scenario.standing[0].bees().bees().0, 3500);
    // Without a word on the queen.
    assert!(!changes(&["mini 2=bees 500"]).remove(1).contains("queen"));
}

#[test]
fn what_lives_no_more_stands_no_more() {
    let gone = see(&["mini 2=dead", "half box 1.2=united"]);
    assert_eq!(gone.gone, ["half box 1.2", "mini 2"]);
    let text = gone.text.unwrap();
    assert_eq!(
        read("s.yaml", text.as_bytes())
            .loaded
            .unwrap()
            .standing
            .len(),
        1
    );
    assert!(text.contains("# by the fence"));
    let all = see(&[
        "mini 2=dead",
        "half box 1.2=united",
        "half box 1.1=tipped out",
    ]);
    assert!(!all.text.unwrap().contains("standing"));
}

#[test]
fn what_cannot_be_read_is_found_all_at_once() {
    let found = see(&[
        "half box 2.1=eggs",
        "mini 2=egs",
        "eggs",
        "mini 2=bees 3 frames, brood many",
    ]);
    assert_eq!(found.text, None);
    let found: Vec<String> = found
        .findings
        .iter()
        .map(|f| format!("{}:{} {} {}", f.line, f.column, f.found, f.way_out))
        .collect();
    assert_eq!(
        found,
        [
            "1:1 `half box 2.1` did you mean `half box 1.1`?",
            "2:8 `egs` did you mean `eggs`?",
            "3:1 `eggs` write `mating box 1.1=eggs`",
            "4:23 `brood many` write one of them",
        ]
    );
}

#[test]
fn a_table_has_rows_for_what_stands() {
    let written = table("s.yaml", YARD.as_bytes(), None).unwrap().table;
    assert!(
        written.lines().next().unwrap().ends_with(",counted,seen"),
        "{written}"
    );
    let rows: Vec<&str> = written.lines().skip(2).collect();
    assert!(
        rows[0].starts_with("half box 1.1,") && rows[0].ends_with(",cell"),
        "{written}"
    );
    assert_eq!(into(&written, YARD), YARD);
    let new = into(
        "colony;bees (frames);seen\nhalf box 1.1;2;eggs\nmini 2;;dead\nAsh;9;\n",
        YARD,
    );
    assert!(
        new.contains("    queen: laying\n") && !new.contains("box: mini"),
        "{new}"
    );
    assert!(new.contains("  Ash: {role: nucleus, brood: 5 combs, stores: 2 combs, bees: 9 frames, counted: 2031-06-10"), "{new}");
    let earlier = into("colony,seen,counted\nhalf box 1.1,eggs,2031-06-08\n", YARD);
    assert!(earlier.contains("seen: 2031-06-08"));
    let wrong = put(
        "colony,seen,role\nhalf box 3.1,eggs,\nmini 2,,nucleus\nmini 2,flies,\n",
        YARD,
        None,
        false,
    );
    let found: Vec<&str> = wrong.findings.iter().map(|f| f.found.as_str()).collect();
    assert_eq!(
        found,
        [
            "`half box 3.1`",
            "`role` of a compartment in row 3",
            "`flies`"
        ]
    );
}

#[test]
fn rounds_that_failed_before_one_that_went_well_are_not_forgotten() {
    let text = std::fs::read_to_string("../../scenarios/weeks.yaml").unwrap();
    let failed = text.replacen("queen: mated\n", "queen: mated\n    failed: 1\n", 1);
    let looks = ["parted box 1.1=taken".to_owned()];
    let new = look(&looks, ("s.yaml", failed.as_bytes())).text.unwrap();
    assert!(
        new.contains("    failed before: 1\n") && new.contains("    taken: 1\n"),
        "{new}"
    );
    assert!(!new.contains("    failed: 1\n    eggs"), "{new}");
}
