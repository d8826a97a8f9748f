//! Plans to compare, and what has changed between them.

use crate::support::{Folder, file, spareframe};
use serde_json::{Value, json};

/// The plan of a scenario.
pub fn plan(name: &str) -> Value {
    spareframe(&["stock", &file(name), "--format", "json"]).json()
}

/// A plan written by hand: ten compartments of five boxes, each with two brood frames and all its bees of
/// one colony; but 5.2, where colony 1 gives one of the two without bees.
pub fn round() -> Value {
    let holds = |brood: f64, stores: f64, drawn: f64| {
        json!({"comb": "Langstroth deep", "brood_share": brood, "sealed_share": brood / 2.0,
               "stores_share": stores, "drawn_share": drawn, "bees": 1000})
    };
    let brood = |colony: &str, frames: u32, share: f64| {
        json!({"line": "brood", "frames": frames, "colony": colony, "frame_group": 1,
               "each_holds": holds(share, 0.15, 1.0), "feed_kg": 0.0})
    };
    let filled = |number: usize| {
        let colony = ["6", "7", "6", "7", "8", "8", "9", "9", "6", "7"][number];
        let share = if colony == "8" { 0.6 } else { 0.65 };
        let mut frames = vec![
            json!({"line": "foundation", "frames": 1, "store_room_entry": 1,
                                     "each_holds": holds(0.0, 0.0, 0.0), "feed_kg": 0.0}),
        ];
        match number {
            9 => frames.extend([brood("1", 1, 0.7), brood(colony, 1, share)]),
            _ => frames.push(brood(colony, 2, share)),
        }
        json!({"box_kind": "mating box", "box_no": number / 2 + 1, "compartment": number % 2 + 1,
               "site": "far meadow", "frames": frames, "feed_kg": 0.0,
               "bees": [{"colony": colony, "bees": 3500, "riding": 3500}]})
    };
    let colonies = ["1", "12", "6", "7", "8", "9"];
    let colonies = colonies.map(|name| json!({"colony": name, "site": "home"}));
    json!({
        "spareframe_plan": 2, "title": "First round", "day": "2031-05-20",
        "headline": {
            "kinds": [{"box_kind": "mating box", "compartments_in_all": 12, "boxes_in_all": 6}],
            "worth": 10.0, "cost_g": 5363, "honey_given_up_g": 1410, "colonies_opened": 5,
        },
        "compartments": (0..10).map(filled).collect::<Vec<_>>(),
        "colonies": colonies,
        "on_hold": [{"colony": "3", "reason": "supersedure cells seen"}],
        "cautions": [{"id": "robbing", "text": "Open combs start robbing."}],
    })
}

/// What changes from that plan to the one with these edits: about, subject, text.
pub fn changed(edit: impl Fn(&mut Value)) -> Vec<[String; 3]> {
    let old = round();
    let mut new = old.clone();
    edit(&mut new);
    let there = between(&old, &new);
    let back = between(&new, &old);
    let mind = |report: &Value| {
        let changes = report["changes"].as_array().unwrap().iter();
        changes.filter(|c| c["about"] != "mind").count()
    };
    assert_eq!(mind(&there), mind(&back), "as much changes back");
    let text = |change: &Value| {
        ["about", "subject", "text"].map(|key| change[key].as_str().unwrap().to_owned())
    };
    there["changes"]
        .as_array()
        .unwrap()
        .iter()
        .map(text)
        .collect()
}

pub fn between(old: &Value, new: &Value) -> Value {
    let dir = Folder::new();
    let write = |name: &str, plan: &Value| dir.write(name, plan.to_string());
    let (old, new) = (write("old.json", old), write("new.json", new));
    let report = spareframe(&["compare", &old, &new, "-q", "--format", "json"]).json();
    // What is shown holds every line.
    for format in ["table", "markdown"] {
        spareframe(&["compare", &old, &new, "-q", "--format", format])
            .stdout("...")
            .check();
    }
    report
}

/// A compartment of that plan.
pub fn slot<'a>(plan: &'a mut Value, number: &str) -> &'a mut Value {
    let numbers = number.split('.').map(|n| n.parse::<u64>().ok());
    let numbers: Vec<_> = numbers.collect();
    let is = |c: &Value| [c["box_no"].as_u64(), c["compartment"].as_u64()] == numbers[..];
    let all = plan["compartments"].as_array_mut().unwrap();
    all.iter_mut().find(|c| is(c)).unwrap()
}

pub fn lines(changes: &[[String; 3]]) -> Vec<(&str, String)> {
    let line = |[_, subject, text]: &[String; 3]| format!("{subject}: {text}");
    changes.iter().map(|c| (c[0].as_str(), line(c))).collect()
}
