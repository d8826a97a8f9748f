//! What the writers show of one plan.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

mod cli_support;

use cli_support::{notes, report, scenario, stocking};
use spareframe::output::plan_file::read_plan;
use spareframe::output::{self, TableOptions};
use spareframe_solver::{
    Ceiling, Goal, Goals, Hundreds, Outcome, PlacedBees, Proof, Rule, Worth, check,
};

fn plain(width: usize) -> String {
    let text = output::table(
        &report(),
        TableOptions {
            width,
            verbose: true,
        },
    );
    anstream::adapter::strip_str(&text).to_string()
}

#[test]
fn the_table_fits_its_width() {
    for width in [60, 80, 100, 120] {
        let text = plain(width);
        for line in text.lines() {
            assert!(
                unicode_width::UnicodeWidthStr::width(line) <= width,
                "{width}: {line}\n{text}"
            );
        }
    }
}

#[test]
fn the_answer_stands_first_and_honey_is_named_an_estimate() {
    let text = plain(80);
    assert_eq!(text.lines().nth(2), Some("3 of 4 compartments stocked."));
    assert!(text.contains("given up (estimate"), "{text}");
    assert!(text.contains("treatment until 28 May"), "{text}");
}

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
    assert_eq!(way_out("frames: 1", "frames: one"), "write a whole number");
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
fn each_substitute_is_named_and_fed() {
    let report = report();
    let second = &report.compartments[1];
    assert_eq!(second.frames[1].substitute, Some(1));
    assert_eq!(second.feed_kg, 0.5);
    assert!(report.cautions.iter().any(|c| c.id == "robbing"));
}

#[test]
fn a_gap_is_told_as_a_gap() {
    let mut open = stocking();
    open.proof = Proof::Open {
        goal: Goal::Worth,
        bound: 4000,
        timed_out: true,
    };
    let goals = open.goals;
    let report = output::build(&scenario(), &notes(), &Outcome::Stocked(open), &goals);
    let text = output::table(&report, TableOptions::default());
    assert!(text.contains("Stopped by the time limit"), "{text}");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("Not proved: worth, here 3, at best 4; cost comes after it."),
        "{text}"
    );
}

#[test]
fn nothing_possible_is_said_plainly() {
    let report = output::build(&scenario(), &notes(), &Outcome::Nothing, &Goals::default());
    let text = output::table(&report, TableOptions::default());
    assert!(
        text.contains("Nothing can be stocked: not one of 4"),
        "{text}"
    );
    assert!(!text.contains("Mind"), "{text}");
}

#[test]
fn markdown_cannot_be_broken_by_a_name() {
    let mut scenario = scenario();
    scenario.colonies[0].name = "a|b\u{1b}[31m<b>".into();
    let stocking = stocking();
    let goals = stocking.goals;
    let report = output::build(&scenario, &notes(), &Outcome::Stocked(stocking), &goals);
    let text = output::markdown(&report);
    assert!(text.contains("a\\|b?\\[31m\\<b\\>"), "{text}");
    assert!(!output::table(&report, TableOptions::default()).contains("\u{1b}[31m"));
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
fn a_load_names_frames_that_look_alike_once() {
    let mut report = report();
    let load = report
        .carry
        .iter_mut()
        .find(|c| c.from_site.is_some())
        .unwrap();
    let mut twin = load.frames[0].clone();
    twin.each_holds.bees /= 2;
    let both = twin.frames + load.frames[0].frames;
    load.frames.push(twin);
    let text = output::table(&report, TableOptions::default());
    let carry = &text[text.find("What to carry").unwrap()..];
    let item = format!("  - {both} frames, brood 60% (67% of it sealed), stores 20%\n");
    assert_eq!(carry.matches(&item).count(), 1, "{carry}");
}

#[test]
fn places_in_the_hive_stand_beside_the_frames() {
    let mut notes = notes();
    notes.places.colonies = vec![vec![Some("upper box, frames 3 to 6".into())]];
    let stocking = stocking();
    let goals = stocking.goals;
    let report = output::build(&scenario(), &notes, &Outcome::Stocked(stocking), &goals);
    let text = output::table(&report, TableOptions::default());
    let wanted = "2 frames, brood 60% (67% of it sealed), stores 20% (upper box, frames 3 to 6), with \
                  all their bees (some 1,600 on each)";
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains(wanted), "{text}");
    assert!(flat.contains("to nucleus box 1.1, 1.2"), "{text}");
    let yaml = output::yaml(&report).unwrap();
    assert_eq!(read_plan(&scenario(), "plan", yaml.as_bytes()).findings, []);
}

#[test]
fn groups_of_a_colony_that_look_alike_are_one_item() {
    let mut report = report();
    let donor = report.colonies.first_mut().unwrap();
    let mut twin = donor.leaving[0].clone();
    twin.frame_group += 7;
    let frames = twin.frames + donor.leaving[0].frames;
    donor.leaving.push(twin);
    let mut other = report.compartments[0].frames[0].clone();
    other.frame_group = Some(8);
    let placed = 2 * other.frames;
    report.compartments[0].frames.push(other);
    let text = output::table(&report, TableOptions::default());
    let item = format!("  - {frames} frames, brood 60% (67% of it sealed), stores 20%,");
    assert!(text.contains(&item), "{text}");
    assert!(text.contains("to nucleus box 1.1 (2), 1.2 (2)"), "{text}");
    assert!(text.contains(&format!("\n  {placed} brood ")), "{text}");
    let page = output::markdown(&report);
    assert!(page.contains("to nucleus box 1.1 (2), 1.2 (2)"), "{page}");
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

fn flat(report: &output::Report) -> String {
    let text = output::table(report, TableOptions::default());
    let text = anstream::adapter::strip_str(&text).to_string();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_colony_is_told_in_the_order_of_the_hands() {
    let text = flat(&report());
    let colony = &text[text.find("Colony Ash 1 (production").unwrap()..];
    let order = [
        "find the queen; set her frame aside",
        "2 frames, brood 60%",
        "with all their bees (some 1,600 on each) to nucleus box 1.1, 1.2",
        "1 frame, stores 90%, with all its bees (some 600) to nucleus box 1.1",
        "add some 200 bees, shaken from brood frames that stay to nucleus box 1.1",
        "add some 400 bees, shaken from brood frames that stay to nucleus box 1.2",
        "queen back",
        "close",
        "honey given up (estimate): ",
        "Colony M",
    ];
    let at = order.map(|part| {
        colony
            .find(part)
            .unwrap_or_else(|| panic!("{part}: {colony}"))
    });
    assert!(at.is_sorted(), "{at:?} {colony}");
}

#[test]
fn a_compartment_names_its_donors_and_its_bees_with_the_fewest_beside() {
    let text = flat(&report());
    let wanted = [
        "nucleus box 1.1, at Mating valley, from colony Ash 1",
        "bees some 2,400 from colony Ash 1 (1 frame), 1,600 on its brood, 800 added (fewest 1,000)",
        "bees some 1,500 from colony Müller's Linde (1 frame), on its brood; some 1,000 stay (fewest 1,000)",
    ];
    for part in wanted {
        assert!(text.contains(part), "{part}\n{text}");
    }
}

#[test]
fn the_cost_is_said_part_by_part_and_the_order_of_the_goals_once() {
    let report = report();
    let h = &report.headline;
    let price = &h.prices_g;
    let parts = [
        h.honey_given_up_g.unwrap(),
        h.burden * price.burden,
        h.substitutes * price.substitute,
        h.colonies_opened * price.colony_opened,
    ];
    assert_eq!(h.cost_g, parts.iter().sum::<i64>());
    assert!(parts.iter().all(|&part| part > 0), "{parts:?}");
    let text = flat(&report);
    assert_eq!(text.matches("Cost, in honey: ").count(), 1, "{text}");
    for part in [
        " given up (estimate",
        " points of burden, ",
        " to substitutes, ",
        "2 colonies opened.",
    ] {
        assert!(text.contains(part), "{part}\n{text}");
    }
    let goals = "no plan stocks more worth, and none of the same worth costs less";
    assert_eq!(text.matches(goals).count(), 1, "{text}");
}

#[test]
fn without_an_expected_crop_honey_is_not_estimated_rather_than_none() {
    let mut scenario = scenario();
    for colony in &mut scenario.colonies {
        colony.crop = None;
    }
    let mut stocking = stocking();
    stocking.goals = check(&scenario, &stocking.plan).0;
    let goals = stocking.goals;
    let report = output::build(&scenario, &notes(), &Outcome::Stocked(stocking), &goals);
    assert_eq!(report.headline.honey_given_up_g, None);
    let text = flat(&report);
    assert!(text.contains("honey given up not estimated"), "{text}");
    assert!(!text.contains("no honey"), "{text}");
    assert!(output::markdown(&report).contains("| not estimated |"));
    let yaml = output::yaml(&report).unwrap();
    assert_eq!(read_plan(&scenario, "plan", yaml.as_bytes()).findings, []);
}

#[test]
fn what_was_asked_for_at_most_is_said() {
    let mut report = report();
    report.headline.at_most = output::at_most(&Ceiling {
        compartments: Some(3),
        worth: Some(Worth(3500)),
    });
    let text = flat(&report);
    assert!(
        text.contains("As asked, at most 3 compartments and a worth of 3.5."),
        "{text}"
    );
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

#[test]
fn where_nothing_more_is_possible_the_figures_are_those_of_what_is_done() {
    let mut scenario = scenario();
    let done = stocking().plan.compartments[0].clone();
    scenario.done = vec![done];
    let plan = output::done_alone(&scenario);
    let (goals, breaches) = check(&scenario, &plan);
    assert!(
        breaches.iter().all(|breach| breach.rule == Rule::Done),
        "{breaches:?}"
    );
    let report = output::build(&scenario, &notes(), &Outcome::Nothing, &goals);
    let h = &report.headline;
    assert_eq!((h.compartments_stocked, h.worth), (0, 0.0));
    assert_eq!((h.bees_taken, h.colonies_opened), (2400, 1));
    assert!(
        h.honey_given_up_g > Some(0) && h.honey_given_up_simulated_g > Some(0),
        "{h:?}"
    );
    assert!(h.burden > 0 && h.cost_g > h.honey_given_up_g.unwrap());
    assert_eq!(report.colonies.len(), 1);
    assert_eq!(report.colonies[0].done.unwrap().bees, 2400);
    let text = flat(&report);
    assert!(
        text.contains("1 colony opened, some 2,400 bees taken."),
        "{text}"
    );
    assert!(
        text.contains("taken already: 2 frames and some 2,400 bees"),
        "{text}"
    );
}
