//! Feed, holds, cautions, figures as stated, and plans of another day or format.

use super::support::{between, changed, lines, round, slot};
use serde_json::{Value, json};

#[test]
fn feed_holds_cautions_and_stated_figures_have_a_line_each() {
    let one = |edit: &dyn Fn(&mut Value)| {
        let changes = changed(edit);
        assert_eq!(changes.len(), 1, "{changes:?}");
        let (about, line) = lines(&changes).remove(0);
        format!("{about}; {line}")
    };
    assert_eq!(
        one(&|plan| slot(plan, "2.2")["feed_kg"] = json!(0.5)),
        "feed; in all, for substitutes (honey equivalent): 500 g instead of none (mating box 2.2: \
         500 g instead of none)"
    );
    assert_eq!(
        one(&|plan| plan["on_hold"] = json!([])),
        "holds; colony 3: is no longer on hold"
    );
    let reason = |plan: &mut Value| plan["on_hold"][0]["reason"] = json!("treated");
    assert_eq!(
        one(&reason),
        "holds; colony 3: is on hold for another reason: treated"
    );
    let held = |plan: &mut Value| {
        let held = json!({"colony": "2", "reason": "weak"});
        plan["on_hold"].as_array_mut().unwrap().push(held);
    };
    assert_eq!(one(&held), "holds; colony 2: is on hold now: weak");
    let honey = |plan: &mut Value| plan["headline"]["honey_given_up_g"] = json!(1900);
    assert_eq!(
        one(&honey),
        "headline; honey given up (estimate): 1.90 kg instead of 1.41 kg, 490 g more"
    );
    let cost = |plan: &mut Value| plan["headline"]["cost_g"] = json!(5000);
    assert_eq!(
        one(&cost),
        "headline; cost, in honey: 5.00 kg instead of 5.36 kg, 360 g less"
    );
    let riding = |plan: &mut Value| slot(plan, "1.1")["bees"][0]["riding"] = json!(2000);
    assert_eq!(
        one(&riding),
        "compartments; mating box 1.1: bees: some 3,500 from colony 6 (some 2,000 on its brood) instead of \
         some 3,500 from colony 6 on its brood"
    );
    let old = round();
    let mut new = old.clone();
    new["cautions"][0] = json!({"id": "ice", "text": "The road is icy."});
    let changes = between(&old, &new)["changes"].clone();
    let wanted = json!([{"about": "mind", "subject": "ice", "text": "The road is icy."}]);
    assert_eq!(changes, wanted);
}

#[test]
fn plans_of_two_days_are_said_to_be() {
    let old = round();
    let mut new = old.clone();
    new["day"] = json!("2031-05-24");
    let report = between(&old, &new);
    assert_eq!(
        (&report["one_scenario"], &report["same"]),
        (&json!(false), &json!(false))
    );
    assert_eq!(report["changes"], json!([]));
}

#[test]
fn a_plan_of_format_1_is_compared_by_what_both_say() {
    let new = round();
    let mut old = new.clone();
    old["spareframe_plan"] = json!(1);
    old["headline"] = json!({"kinds": new["headline"]["kinds"], "worth": 10.0, "bees_shaken": 0,
                             "honey_given_up_charged_estimate_kg": 1.41, "colonies_opened": 5});
    for compartment in old["compartments"].as_array_mut().unwrap() {
        for frames in compartment["frames"].as_array_mut().unwrap() {
            let holds = frames["each_holds"].as_object_mut().unwrap();
            holds.remove("bees");
            holds.insert("bees_share".to_owned(), json!(0.5));
        }
        for bees in compartment["bees"].as_array_mut().unwrap() {
            bees.as_object_mut().unwrap().remove("riding");
            bees["bees"] = json!(3478);
        }
    }
    assert_eq!(between(&old, &new)["changes"], json!([]));
    assert_eq!(between(&new, &old)["changes"], json!([]));
}

#[test]
fn what_fills_a_gap_is_said_of_its_colony_and_of_the_load() {
    let comb = json!({"comb": "Langstroth deep", "brood_share": 0.0, "sealed_share": 0.0,
                      "stores_share": 0.0, "drawn_share": 0.9, "bees": 0});
    let filled = |plan: &mut Value| {
        let filler = json!([{"frames": 1, "store_room_entry": 3, "each_holds": comb}]);
        plan["colonies"][0]["gaps_filled_with"] = filler;
    };
    assert_eq!(
        lines(&changed(filled)),
        [
            ("gaps", "colony 1: 1 more frame, comb 90% drawn".to_owned()),
            (
                "carry",
                "to home from the store room: 1 more frame, comb 90% drawn".to_owned()
            ),
        ]
    );
}

#[test]
fn what_is_begun_is_said_of_its_compartment_and_still_leaves_its_colony() {
    let begun = |plan: &mut Value| slot(plan, "1.1")["done"] = json!("begun");
    assert_eq!(
        lines(&changed(begun)),
        [("begun", "mating box 1.1: is begun now".to_owned())]
    );
    let left = |plan: &mut Value| {
        let all = plan["compartments"].as_array_mut().unwrap();
        plan["begun"] = json!([all.remove(0)]);
    };
    let changes = changed(left);
    let shown = lines(&changes);
    for part in [
        ("compartments", "mating box 1.1: is no longer stocked"),
        ("begun", "mating box 1.1: is begun and not stocked now"),
    ] {
        assert!(shown.contains(&(part.0, part.1.to_owned())), "{shown:?}");
    }
    assert!(!shown.iter().any(|line| line.0 == "colonies"), "{shown:?}");
}
