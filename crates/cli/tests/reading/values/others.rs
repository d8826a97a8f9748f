//! Flows, prices, lines, cells and holds.

use super::support::{colony, load};
use spareframe_solver::{Ask, BoxId, CellBatch, CombId, Crop, Grams, Prices, Span};

#[test]
fn crop_days_count_from_the_stocking_day() {
    let crop = |flow: &str| {
        let lines = format!("    brood: 3 combs\n    crop: 22 kg\n    flow: {flow}");
        colony(&lines).crop.unwrap()
    };
    let of = |from, to| Crop {
        honey: Grams(22_000),
        from,
        to,
    };
    assert_eq!(crop("[2031-05-20, 2031-05-20]"), of(0, 0));
    assert_eq!(crop("[2031-05-10, 2031-06-01]"), of(-10, 12));
    assert_eq!(crop("[2031-06-08, 2031-07-02]"), of(19, 43));
    // Over a leap day.
    assert_eq!(crop("[2032-02-28, 2032-03-01]"), of(284, 286));
}

#[test]
fn prices_are_what_the_settings_say_key_by_key() {
    let prices = |settings: &str| {
        load(&format!(
            "spareframe: 2\n{settings}sites: {{a: }}\ncolonies: {{c: {{brood: 6 combs}}}}\n\
             recipes: {{r: {{bees: 2000, lines: [{{brood: 10 %}}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}}}"
        ))
        .prices
    };
    assert_eq!(prices(""), Prices::default());
    let some = prices("settings: {prices: {burden: 0.5 g, hive opened: 1 oz}}\n");
    let wanted = Prices {
        burden: Grams(1),
        opened: Grams(28),
        ..Prices::default()
    };
    assert_eq!(some, wanted);
    let others = prices("settings: {prices: {substitute: 0 g, frame drawn otherwise: 1 kg}}\n");
    let wanted = Prices {
        substitute: Grams(0),
        otherwise: Grams(1000),
        ..Prices::default()
    };
    assert_eq!(others, wanted);
}

#[test]
fn a_line_has_one_end_or_two_and_may_refuse_brood() {
    let ask = |line: &str| {
        let text = format!(
            "spareframe: 2\nsites: {{a: }}\ncolonies: {{c: {{brood: 6 combs}}}}\n\
             recipes: {{r: {{bees: 2000, lines: [{{brood: 10 %}}, {line}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}}}"
        );
        load(&text).boxes[0].lines[1].clone()
    };
    let any = Ask::any(CombId(0));
    let brood = |brood| Ask { brood, ..any };
    assert_eq!(ask("{brood: 50 %}").ask, brood(Span::from(500)));
    assert_eq!(ask("{brood: 20 % to 60 %}").ask, brood(Span::of(200, 600)));
    assert_eq!(ask("{brood: 20 to 60 %}").ask, brood(Span::of(200, 600)));
    assert_eq!(ask("{brood: 0.2 to 0.6}").ask, brood(Span::of(200, 600)));
    let comb = Ask {
        brood: Span::NONE,
        drawn: Span::from(800),
        stores: Span::of(0, 300),
        ..any
    };
    let line = ask("{drawn: 80 %, stores: 0 to 30 %, no brood: yes, or: [{foundation: yes}]}");
    assert_eq!(line.ask, comb);
    assert_eq!(line.substitutes[0].ask, Ask::foundation(CombId(0)));
    assert_eq!(ask("{drawn: 80 %, no brood: no}").ask.brood, Span::ANY);
}

#[test]
fn no_cells_and_nothing_done_are_said_with_an_empty_list() {
    let with = |more: &str| {
        load(&format!(
            "spareframe: 2\nsites: {{a: }}\ncolonies: {{c: {{brood: 6 combs}}}}\n{more}\n\
             recipes: {{r: {{bees: 2000, lines: [{{brood: 10 %}}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}, d: {{count: 1, recipe: r}}}}"
        ))
    };
    assert_eq!(with("").cells, None);
    assert_eq!(with("cells: []").cells, Some(vec![]));
    assert_eq!(with("cells: {}").cells, Some(vec![]));
    assert_eq!(with("done: []").done, []);
    // A box that is not named has none.
    let batch = CellBatch {
        count: 3,
        boxes: vec![BoxId(1)],
    };
    assert_eq!(with("cells: {d: 3}").cells, Some(vec![batch]));
}

#[test]
fn a_hold_keeps_its_reason_and_no_is_no_hold() {
    let hold = |text: &str| colony(&format!("    brood: 1 comb\n    hold: {text}")).hold;
    assert_eq!(hold("treatment"), Some("treatment".into()));
    assert_eq!(hold("no"), None);
    assert_eq!(hold("yes"), Some("no reason given".into()));
}
