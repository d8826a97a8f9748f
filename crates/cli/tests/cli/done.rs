//! `done`: a day half done keeps what is done, and loses nothing that could still be had.

use crate::support::{Folder, file, files, spareframe, text};
use serde_json::{Value, json};

/// The scenarios in which nothing is done yet, with their plans.
fn days() -> impl Iterator<Item = (String, String, Value)> {
    files().into_iter().filter_map(|file| {
        let text = std::fs::read_to_string(&file).unwrap();
        (!text.contains("\ndone:")).then(|| {
            let plan = plan(&text);
            (file, text, plan)
        })
    })
}

fn plan(scenario: &str) -> Value {
    let run = spareframe(&["stock", "-", "-q", "--format", "json"]);
    run.stdin(scenario).json()
}

/// A compartment of a plan as a record of what is done; without `frames`, its bees alone.
fn record(compartment: &Value, frames: bool) -> Value {
    let taken = |f: &Value| {
        let mut taken = json!({"count": f["frames"], "line": f["line"]});
        for (key, of) in [
            ("colony", "colony"),
            ("group", "frame_group"),
            ("store room", "store_room_entry"),
        ] {
            if !f[of].is_null() {
                taken[key] = f[of].clone();
            }
        }
        taken
    };
    let bees = compartment["bees"].as_array().unwrap().iter();
    let bees: serde_json::Map<String, Value> = bees
        .map(|b| (b["colony"].as_str().unwrap().to_owned(), b["bees"].clone()))
        .collect();
    let all = compartment["frames"].as_array().unwrap();
    let mut record = json!({
        "box": compartment["box_kind"],
        "number": compartment["box_no"],
        "compartment": compartment["compartment"],
    });
    if frames && !all.is_empty() {
        record["frames"] = all.iter().map(taken).collect();
    }
    if !bees.is_empty() {
        record["bees"] = Value::Object(bees);
    }
    record
}

/// The scenario with these records: JSON is YAML too.
fn with(scenario: &str, records: &[Value]) -> String {
    format!("{scenario}\ndone: {}\n", Value::from(records.to_vec()))
}

fn empty(list: &Value) -> bool {
    list.as_array().unwrap().is_empty()
}

/// Compartments that frames or bees go into: one that stands may get a cell alone.
fn filled(plan: &Value) -> Vec<&Value> {
    let all = plan["compartments"].as_array().unwrap().iter();
    all.filter(|c| !empty(&c["frames"]) || !empty(&c["bees"]))
        .collect()
}

fn goals(plan: &Value) -> [&Value; 2] {
    ["worth", "cost_g"].map(|key| &plan["headline"][key])
}

/// A compartment of a plan without what is said of its progress, and of which bees ride: a record says
/// how many bees, not where they sat.
fn content(compartment: &Value) -> Value {
    let mut content = compartment.clone();
    content.as_object_mut().unwrap().remove("done");
    for list in ["frames", "bees"] {
        for entry in content[list].as_array_mut().unwrap() {
            let entry = entry.as_object_mut().unwrap();
            entry.remove("done");
            entry.remove("riding");
        }
    }
    content
}

#[test]
fn doing_a_part_of_the_best_plan_leaves_its_goals_as_they_were() {
    for (file, text, plan) in days() {
        let all = filled(&plan);
        // By twos: a box begun in part need no longer be stocked whole.
        let parts = [2, all.len() / 4 * 2, all.len()];
        for part in parts.into_iter().filter(|&part| part > 0) {
            let some = all.iter().copied();
            let records: Vec<Value> = some.take(part).map(|c| record(c, true)).collect();
            let now = self::plan(&with(&text, &records));
            assert_eq!(goals(&now), goals(&plan), "{} {part}", file);
            let then: Vec<Value> = all.iter().copied().take(part).map(content).collect();
            let kept = now["compartments"].as_array().unwrap();
            let kept = kept.iter().filter(|c| c["done"] == "finished").map(content);
            assert_eq!(kept.collect::<Vec<_>>(), then, "{file}");
        }
    }
}

#[test]
fn when_all_is_done_nothing_but_cells_is_carried_and_no_colony_gives_more() {
    for (file, text, plan) in days() {
        let all = filled(&plan).into_iter();
        let records: Vec<Value> = all.map(|c| record(c, true)).collect();
        let now = self::plan(&with(&text, &records));
        for load in now["carry"].as_array().unwrap() {
            assert_eq!(load["frames"], json!([]), "{file}");
            assert_eq!(load["bees"], 0, "{file}");
        }
        let cells = |plan: &Value| -> u64 {
            let loads = plan["carry"].as_array().unwrap().iter();
            loads.map(|load| load["cells"].as_u64().unwrap()).sum()
        };
        assert_eq!(cells(&now), cells(&plan), "{file}");
        let steps = now["steps"].to_string();
        let cells = steps.contains("the day after: ripe cells ");
        assert!(cells && !steps.contains("Beforehand"), "{file}: {steps}");
        for colony in now["colonies"].as_array().unwrap() {
            assert_eq!(colony["leaving"], json!([]), "{file}");
            assert_eq!(colony["bees_taken"], 0, "{file}");
            let for_its_queen = !colony["queens"].is_null();
            assert!(!colony["done"].is_null() || for_its_queen, "{file}");
        }
    }
}

#[test]
fn bees_put_in_before_the_frames_are_kept_and_gain_nothing() {
    for (file, text, plan) in days() {
        let all = filled(&plan).into_iter();
        let with_bees = all.filter(|c| !empty(&c["bees"]) && !empty(&c["frames"]));
        let records: Vec<Value> = with_bees.take(2).map(|c| record(c, false)).collect();
        if records.is_empty() || text.contains("whole: yes") {
            continue;
        }
        let now = self::plan(&with(&text, &records));
        // They do not ride on the frames that follow, which bring bees of their own.
        let worth = |plan: &Value| plan["headline"]["worth"].as_f64();
        assert!(worth(&now) <= worth(&plan), "{file}");
        let lists = ["compartments", "begun"].map(|list| now[list].as_array());
        let begun = lists.into_iter().flatten().flatten();
        let begun = begun.filter(|c| c["done"] == "begun").count();
        assert_eq!(begun, records.len(), "{file}");
    }
}

#[test]
fn a_compartment_begun_and_not_stocked_is_never_called_finished() {
    // Some bees in each of twelve compartments, of which ten can be stocked.
    let record = |at: u32| {
        json!({"box": "mating box", "number": at / 2 + 1, "compartment": at % 2 + 1,
               "bees": {"7": 100}})
    };
    let records: Vec<Value> = (0..12).map(record).collect();
    let plan = plan(&with(&text("first-round"), &records));
    let begun = plan["begun"].as_array().unwrap();
    assert_eq!(begun.len(), 2);
    assert_eq!(begun[0]["done"], "begun");
}

#[test]
fn a_plan_of_a_day_half_done_is_read_back_by_every_command() {
    let scenario = &file("half-done");
    let dir = Folder::new();
    let plan = &dir.path("plan.yaml");
    spareframe(&["stock", scenario, "-q", "--out", plan]).check();
    let yaml = ["stock", scenario, "-q", "--format", "yaml"];
    let text = spareframe(&yaml).stdout("spareframe_plan: 2...").check();
    std::fs::write(plan, &text).unwrap();
    spareframe(&["verify", scenario, plan])
        .stdout("The plan holds: 9 compartments...")
        .check();
    let near = [&yaml[..], &["--near", plan]].concat();
    spareframe(&near).stdout(&text).check();
    spareframe(&["compare", plan, plan]).stdout("...").check();
}

#[test]
fn a_next_cell_given_alone_is_recorded() {
    let scenario = text("second-round");
    let before = plan(&scenario);
    // One lacks nothing, the other bees.
    let records = [(2, 1), (3, 2)].map(|(number, compartment)| {
        json!({"box": "mating box", "number": number, "compartment": compartment})
    });
    let with_records = with(&scenario, &records);
    let now = plan(&with_records);
    assert_eq!(goals(&now), goals(&before));
    let progress: Vec<&Value> = [1, 2].map(|at| &now["compartments"][at]["done"]).into();
    assert_eq!(progress, ["finished", "begun"]);
    let next = spareframe(&["onward", "-", "-q"]).stdin(with_records);
    let next = next.stdout("...").check();
    assert_eq!(
        next.matches("queen: cell").count(),
        2 + scenario.matches("queen: cell").count()
    );
    assert!(next.contains("cells: 3"));
    // Nothing stands there that a cell could go to.
    let other = json!({"box": "mating box", "number": 4, "compartment": 1});
    let wrong = spareframe(&["stock", "-", "-q"]).stdin(with(&scenario, &[other]));
    wrong
        .code(2)
        .stderr("<stdin>:118:8\nerror[empty]: found a record in which nothing is done\n...")
        .check();
}
