//! A plan that is read back, as it was written or with mistakes, and its format.

use crate::support::{report, scenario, stocking};
use spareframe::output;
use spareframe::plan::read_plan;
use spareframe_solver::{Hundreds, PlacedBees};

#[test]
fn a_plan_in_yaml_or_json_is_read_back_as_it_was() {
    for text in [
        output::yaml(&report()).unwrap(),
        output::json(&report()).unwrap(),
    ] {
        let read = read_plan(&scenario(), "plan", text.as_bytes());
        assert_eq!(read.findings, []);
        let (plan, stated) = read.plan.unwrap();
        assert_eq!(plan, stocking().plan);
        assert_eq!(stated.worth, Some(3.0));
        let again: output::Report = serde_yaml::from_str(&text).unwrap();
        assert_eq!(again, report());
    }
}

#[test]
fn unknown_names_are_reported_all_at_once_with_their_place() {
    let text = output::yaml(&report()).unwrap();
    let text = text.replacen("colony: Ash 1", "colony: Ash 9", 1).replacen(
        "line: stores",
        "line: store",
        1,
    );
    let read = read_plan(&scenario(), "plan", text.as_bytes());
    assert!(read.plan.is_none());
    let found: Vec<_> = read
        .findings
        .iter()
        .map(|f| (f.code, f.way_out.as_str()))
        .collect();
    let wanted = [
        ("unknown-name", "did you mean `Ash 1`?"),
        ("unknown-name", "did you mean `stores`?"),
    ];
    assert_eq!(found, wanted);
    for (finding, word) in read.findings.iter().zip(["Ash 9", "store"]) {
        let line = text.lines().nth(finding.line - 1).unwrap();
        assert!(
            line[finding.column - 1..].starts_with(word),
            "{line} {finding:?}"
        );
    }
}

#[test]
fn faults_of_form_are_reported_all_at_once_with_unknown_keys() {
    let text = "spareframe_plan: 3\nheadlines: {}\ncompartments:\n  \
         - {box_kind: nucleus box, box_no: zero, compartment: 0, frames: [{line: brood}], bees: {}}\n  \
         - {box_kind: nucleus box, box_no: 1, compartment: 1, bee: [], bees: [], frames: \
         [{line: brood, frames: 1, colony: Ash 1, frame_group: 9}, \
         {line: brood, frames: 1, frame_group: 1, store_room_entry: 1}]}\n";
    let read = read_plan(&scenario(), "plan", text.as_bytes());
    assert!(read.plan.is_none());
    let codes: Vec<_> = read.findings.iter().map(|f| f.code).collect();
    let wanted = [
        "out-of-range",
        "unknown-key",
        "wrong-type",
        "out-of-range",
        "missing-key",
        "missing-key",
        "wrong-type",
        "unknown-key",
        "out-of-range",
        "two-readings",
    ];
    assert_eq!(codes, wanted, "{:#?}", read.findings);
    assert_eq!(read.findings[1].way_out, "did you mean `headline`?");
    assert_eq!(read.findings[7].way_out, "did you mean `bees`?");
}

#[test]
fn a_mistake_in_a_plan_has_a_way_out() {
    let way_out = |from: &str, to: &str| {
        let text = output::yaml(&report()).unwrap();
        assert!(text.contains(from), "{from}\n{text}");
        let text = text.replacen(from, to, 1);
        let found = read_plan(&scenario(), "plan", text.as_bytes()).findings;
        assert_eq!(found.len(), 1, "{to}: {found:#?}");
        found[0].way_out.clone()
    };
    assert_eq!(way_out("bees: 2", "bees: 2,"), "did you mean `2400`?");
    assert_eq!(way_out("frames: 1", "frames: one"), "did you mean `1`?");
    assert_eq!(way_out("box_no: 1", "box_no: 0"), "correct the figure");
    assert_eq!(way_out("- line:", "- lines:"), "did you mean `line`?");
    assert_eq!(
        way_out("spareframe_plan: 2", "spareframe: 1"),
        "name the scenario first, then the plan"
    );
}

#[test]
fn the_keys_of_a_plan_that_is_read_are_those_that_are_written() {
    // A key that the writer adds and the reader does not know would break `verify`.
    let schema = output::plan_schema();
    let mut value = serde_json::to_value(report()).unwrap();
    for (part, name) in [
        ("compartments", "CompartmentReport"),
        ("headline", "Headline"),
    ] {
        for key in schema["$defs"][name]["properties"]
            .as_object()
            .unwrap()
            .keys()
        {
            let held = &mut value[part];
            let map = if held.is_array() { &mut held[0] } else { held };
            let map = map.as_object_mut().unwrap();
            map.entry(key.clone()).or_insert(serde_json::Value::Null);
        }
    }
    for key in schema["$defs"]["FramesReport"]["properties"]
        .as_object()
        .unwrap()
        .keys()
    {
        if key == "store_room_entry" {
            continue;
        }
        let frames = value["compartments"][0]["frames"][0]
            .as_object_mut()
            .unwrap();
        frames.entry(key.clone()).or_insert("x".into());
    }
    let read = read_plan(&scenario(), "plan", value.to_string().as_bytes());
    assert_eq!(read.findings, []);
}

#[test]
fn the_plan_schema_names_every_top_level_key() {
    let schema = output::plan_schema();
    let json = serde_json::to_value(report()).unwrap();
    for key in json.as_object().unwrap().keys() {
        assert!(schema["properties"].get(key).is_some(), "{key}");
    }
}

#[test]
fn every_key_of_a_plan_stands_in_the_page_on_the_format() {
    let page = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/plan.md");
    let page = std::fs::read_to_string(page).unwrap();
    let page: String = page
        .split('`')
        .skip(1)
        .step_by(2)
        .map(|s| format!("{s} "))
        .collect();
    let schema = output::plan_schema();
    let mut missing = Vec::new();
    let defs = schema["$defs"].as_object().unwrap().iter();
    let whole = "plan".to_owned();
    for (name, part) in defs.chain([(&whole, &schema)]) {
        for key in part["properties"]
            .as_object()
            .into_iter()
            .flatten()
            .map(|(k, _)| k)
        {
            let named = page.split(|c: char| c != '_' && !c.is_alphanumeric());
            if !named.clone().any(|word| word == key) {
                missing.push(format!("{name}.{key}"));
            }
        }
    }
    assert_eq!(missing, Vec::<String>::new());
}

#[test]
fn a_plan_of_format_1_is_read_with_as_many_bees_riding_as_sit_on_its_brood() {
    let text = output::yaml(&report()).unwrap();
    let first: String = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("riding:"))
        .map(|line| line.replacen("spareframe_plan: 2", "spareframe_plan: 1", 1) + "\n")
        .collect();
    let read = read_plan(&scenario(), "plan", first.as_bytes());
    assert_eq!(read.findings, []);
    let plan = read.plan.unwrap().0;
    let bees = plan.compartments.iter().map(|c| c.bees[0].clone());
    let of = |riding, loose| (Hundreds(riding), Hundreds(loose));
    let bees: Vec<_> = bees.map(|b: PlacedBees| (b.riding, b.loose)).collect();
    assert_eq!(bees, [of(16, 8), of(16, 4), of(15, 0)]);
}

#[test]
fn more_riding_bees_than_bees_are_a_finding() {
    let text = output::yaml(&report()).unwrap();
    let text = text.replacen("riding: 1600", "riding: 2500", 1);
    let read = read_plan(&scenario(), "plan", text.as_bytes());
    assert_eq!(read.findings.len(), 1);
    assert_eq!(read.findings[0].expected, "at most the 2400 bees taken");
}
