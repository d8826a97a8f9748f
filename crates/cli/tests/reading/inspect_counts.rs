//! New counts of colonies that were counted before, and what was done since.

use crate::inspect_support::{into, otherwise, put};
use spareframe::inspect::table;

const YARD: &str = "\
spareframe: 2
day: 2031-06-03
counted: 2031-05-20
sites: {home: }
colonies:
  Ash:
    role: nucleus
    frames:
      - {count: 6, brood: 65 %}
      - {count: 3, stores: 80 %}
    since:
      - {day: 2031-05-20, gone: [{group: 1}], bees: 2000}
      - {day: 2031-06-03, got: [{count: 1}]}   # today
  Elm: {role: nucleus, brood: 5 combs, stores: 2 combs, since: [{day: 2031-05-21, gone: [{of: brood}], bees: 2000}]}   # old
  Oak: {role: nucleus, brood: 5 combs, stores: 2 combs}
recipes: {r: {lines: [{brood: 30 %}], bees: 700}}
boxes: {b: {count: 2, recipe: r}}
";

#[test]
fn a_new_count_stands_in_place_of_the_old_one_and_of_what_was_done_before() {
    let new = into("colony,brood (combs)\nElm,4.5\nOak,5\n", YARD);
    let elm = otherwise(YARD, &new);
    assert_eq!(elm.len(), 2, "{elm:?}");
    // 22,880 cells and 13,900 bees before the draw: 22,880 / 21 x 23,900 / 13,900, and 0.8 % more by June.
    assert_eq!(
        elm[1],
        "+  Elm: {role: nucleus, brood: 4.5 combs, stores: 2 combs, counted: 2031-06-03, lays: 1888}   # old"
    );
}

#[test]
fn what_was_done_on_the_day_of_the_count_is_done_after_it() {
    let new = into("colony,group,count,brood\nAsh,1,5,70 %\n", YARD);
    assert!(new.contains("    since:\n      - {day: 2031-06-03, got: [{count: 1}]}   # today\n    counted: 2031-06-03\n    lays: "), "{new}");
    assert!(new.contains("- {count: 5, brood: 70 %}"));
}

#[test]
fn the_table_says_when_it_was_counted() {
    let new = into(
        "colony,brood (combs),counted\nOak,5,2031-05-30\nElm,5,2031-05-20\n",
        YARD,
    );
    assert_eq!(
        otherwise(YARD, &new),
        [
            "-  Oak: {role: nucleus, brood: 5 combs, stores: 2 combs}",
            "+  Oak: {role: nucleus, brood: 5 combs, stores: 2 combs, counted: 2031-05-30}",
        ]
    );
    // As the one that all have: nothing is to be said.
    let again = into("colony,brood (combs),counted\nOak,4,2031-05-20\n", &new);
    assert!(
        again.contains("  Oak: {role: nucleus, brood: 4 combs, stores: 2 combs}\n"),
        "{again}"
    );
    let late = "colony,brood (combs),counted\nOak,5,2031-06-30\n";
    let late = put(late, YARD, None, false).findings;
    let found: Vec<&str> = late.iter().map(|f| f.found.as_str()).collect();
    assert_eq!(
        found,
        ["a count on 2031-06-30, after `day` in row 2, column `counted`"]
    );
}

#[test]
fn other_figures_of_the_old_day_are_asked_about() {
    let found = put(
        "colony,brood (combs),counted\nElm,4.5,2031-05-20\n",
        YARD,
        None,
        false,
    );
    let codes: Vec<_> = found.findings.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["two-meanings"]);
    assert!(
        found
            .text
            .unwrap()
            .contains("brood: 4.5 combs, stores: 2 combs, since:")
    );
}

#[test]
fn long_after_a_draw_its_own_brood_says_how_she_lays() {
    let later = YARD
        .replace("day: 2031-06-03\n", "day: 2031-06-15\n")
        .replace(
            "brood: 5 combs, stores: 2 combs, since",
            "brood: 5 combs, stores: 2 combs, lays: 1500, since",
        );
    let new = into("colony,brood (combs)\nElm,4.5\n", &later);
    assert!(
        new.contains(
            "  Elm: {role: nucleus, brood: 4.5 combs, stores: 2 combs, counted: 2031-06-15}   # old"
        ),
        "{new}"
    );
}

#[test]
fn a_table_to_fill_in_says_from_which_day_its_figures_are() {
    let written = table("s.yaml", YARD.as_bytes(), None).unwrap();
    assert!(
        written.table.contains("colony,group,count,"),
        "{}",
        written.table
    );
    assert!(written.table.lines().next().unwrap().ends_with(",counted"));
    assert!(
        written
            .table
            .lines()
            .nth(1)
            .unwrap()
            .ends_with(",2031-05-20")
    );
    assert!(written.table.lines().nth(2).unwrap().ends_with(','));
    // Filled in with nothing, it says nothing new.
    assert_eq!(into(&written.table, YARD), YARD);
}

#[test]
fn how_the_old_queen_laid_is_not_kept_for_a_new_one() {
    let old = "stores: 2 combs, since: [{day: 2031-05-21";
    assert!(YARD.contains(old));
    let yard = YARD.replace(old, &format!("requeened: 2031-05-28, {old}"));
    let new = into("colony,brood (combs)\nElm,4.5\n", &yard);
    assert!(new.contains("requeened: 2031-05-28"), "{new}");
    assert!(!new.contains("lays:"), "{new}");
    // Nor where she goes in by the same table.
    let new = into("colony,brood (combs),requeened\nElm,4.5,2031-05-28\n", YARD);
    assert!(new.contains("requeened: 2031-05-28"), "{new}");
    assert!(!new.contains("lays:"), "{new}");
}
