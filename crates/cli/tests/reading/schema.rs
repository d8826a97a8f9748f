//! The printed JSON Schema against real files, with a validator of its own kind.

use jsonschema::Validator;
use serde_json::Value;
use spareframe::output::plan_schema;
use spareframe::scenario::{schema, starter};

fn root(path: &str) -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../..")
        .join(path)
}

fn validator() -> Validator {
    jsonschema::validator_for(&schema()).unwrap()
}

fn faults(validator: &Validator, yaml: &str) -> Vec<String> {
    let value: Value = serde_yaml::from_str(yaml).unwrap();
    validator
        .iter_errors(&value)
        .map(|e| format!("{} at {}", e, e.instance_path()))
        .collect()
}

#[test]
fn the_starter_and_every_scenario_satisfy_the_schema() {
    let validator = validator();
    assert_eq!(faults(&validator, starter()), [""; 0]);
    let mut files = 0;
    for entry in std::fs::read_dir(root("scenarios")).unwrap() {
        let path = entry.unwrap().path();
        let text = std::fs::read_to_string(&path).unwrap();
        assert_eq!(faults(&validator, &text), [""; 0], "{}", path.display());
        files += 1;
    }
    assert!(files >= 6);
}

#[test]
fn every_key_has_help_with_its_range() {
    let schema = schema();
    let mut keys = 0;
    let sections = schema["$defs"].as_object().unwrap().values();
    for section in sections.chain([&schema]) {
        for (key, value) in section["properties"].as_object().unwrap() {
            let help = value["description"].as_str().unwrap();
            assert!(help.contains("default: ") || help.contains("required)"));
            assert!(help.len() > key.len() + 15, "{key}: {help}");
            keys += 1;
        }
    }
    assert!(keys > 80, "{keys}");
    assert_eq!(
        schema["$defs"]["draw"]["properties"]["honey"]["description"],
        "most honey given up (weight, or `none`, 0 g to 10000 kg; default: of the role)"
    );
}

#[test]
fn the_schema_refuses_what_the_reader_refuses() {
    let validator = validator();
    for (from, to) in [
        ("role: nucleus", "rolle: nucleus"),
        ("crop: 20 kg", "crop: 20"),
        ("crop: 20 kg", "crop: 20 km"),
        ("crop: 20 kg", "crop: -20 kg"),
        ("count: 5, brood: 80 %", "count: 6, brood: 80 kg"),
        ("count: 5, brood: 80 %", "count: 5, brood: 1.5"),
        ("count: 5, brood: 80 %", "count: 10001, brood: 80 %"),
        ("count: 5, brood: 80 %", "count: '6.5', brood: 80 %"),
        ("count: 5, brood: 80 %", "count: 6, brood: [80]"),
        ("at: [48.10, 11.50]", "at: [98.10, 11.50]"),
        ("flow: [2031-06-10, 2031-07-05]", "flow: [10 June, 5 July]"),
        ("bees: 8 frames", "bees: 8 combs"),
        ("bees: 8 frames", "bees: 8"),
        ("cells: 4", "cells: many"),
        ("brood: 50 to 80 %}", "brood: 60 % or 80 %}"),
        ("brood: 5 combs", "rides: half\n    brood: 5 combs"),
        (
            "title: First round",
            "settings: {prices: {hive opened: 20}}",
        ),
        ("foundation: yes", "foundation: maybe"),
        ("{count: 2, compartments: 2,", "{compartments: 2,"),
        ("feed: 1 kg", "feed: 1 kg, count: 2"),
    ] {
        assert!(starter().contains(from), "{from}");
        let text = starter().replacen(from, to, 1);
        assert_ne!(faults(&validator, &text), [""; 0], "{to}");
        let read = spareframe::scenario::read("t.yaml", text.as_bytes());
        assert!(read.loaded.is_none(), "{to}");
    }
}

#[test]
fn the_schema_allows_every_way_to_say_a_quantity() {
    let validator = validator();
    for (from, to) in [
        ("crop: 20 kg", "crop: 44 lb"),
        ("crop: 20 kg", "crop: 20kg"),
        ("bees: 8 frames", "bees: 16_000"),
        ("bees: 8 frames", "bees: 16000 bees"),
        ("brood: 5 combs", "brood: 4.5 combs at 70 %"),
        ("sealed: 60 %\n    stores", "sealed: 0.6\n    stores"),
        (
            "sealed: 60 %\n    stores",
            "draw: {bees: 30 %, frames: none}\n    stores",
        ),
        ("sealed: 60 %\n    stores", "draw: all\n    stores"),
        ("cells: 4", "cells: {mating box: 4}"),
        ("cells: 4", "cells: []"),
        ("cells: 4", "cells: 4\ndone: []"),
        ("brood: 50 to 80 %}", "brood: 60 % to 80 %}"),
        ("brood: 50 to 80 %}", "brood: 60 %, sealed: 0.3}"),
        (
            "brood: 5 combs",
            "rides: 80 %\n    keep: {covered: 120 %}\n    brood: 5 combs",
        ),
        (
            "title: First round",
            "settings: {rides: 0 %, prices: {hive opened: 1 oz}}",
        ),
        ("cells: 4", "cells: [{count: 4, for: [mating box]}]"),
        ("role: nucleus ", "hold: yes\n    role: nucleus "),
    ] {
        assert!(starter().contains(from), "{from}");
        let text = starter().replacen(from, to, 1);
        assert_eq!(faults(&validator, &text), [""; 0], "{to}");
        let read = spareframe::scenario::read("t.yaml", text.as_bytes());
        assert!(read.loaded.is_some(), "{to}: {:?}", read.findings);
    }
}

#[test]
fn the_schema_of_a_plan_holds_for_every_plan_of_the_scenarios() {
    let validator = jsonschema::validator_for(&plan_schema()).unwrap();
    for entry in std::fs::read_dir(root("scenarios")).unwrap() {
        let path = entry.unwrap().path();
        let bytes = std::fs::read(&path).unwrap();
        let loaded = spareframe::scenario::read("t", &bytes).loaded.unwrap();
        let outcome = spareframe_solver::solve(&loaded.scenario, &Default::default());
        let goals = match &outcome {
            spareframe_solver::Outcome::Stocked(s) => s.goals,
            _ => Default::default(),
        };
        let report =
            spareframe::output::build(&loaded.scenario, &(&loaded).into(), &outcome, &goals);
        let value = serde_json::to_value(report).unwrap();
        let faults: Vec<_> = validator
            .iter_errors(&value)
            .map(|e| e.to_string())
            .collect();
        assert_eq!(faults, [""; 0], "{}", path.display());
    }
}
