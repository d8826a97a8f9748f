//! Colonies that are to give, or to be spared.

use super::support::{names, rows};
use crate::support::{Folder, file, spareframe, text};
use serde_json::Value;

#[test]
fn a_wish_is_kept_or_said_not_to_be_met_and_its_cost_is_said() {
    let first = file("first-round");
    let rows = rows(&[&first, "--give", "4=0..2"]);
    assert_eq!(names(&rows)[1..], ["give 4=0", "give 4=1", "give 4=2"]);
    assert_eq!(rows[1]["difference"]["cost_g"], 0);
    assert_eq!(rows[1]["colonies"], serde_json::json!([]));
    let four = |row: &Value| {
        let list = row["colonies"].as_array().unwrap();
        let four = list.iter().find(|change| change["colony"] == "4");
        four.map_or(0, |change| change["gives"]["frames"].as_u64().unwrap())
    };
    assert_eq!(four(&rows[2]), 1);
    assert_eq!(rows[3]["answer"], "wish_not_met");
    assert_eq!(rows[3]["difference"], Value::Null);
    assert_eq!(rows[3]["wishes"][0]["not_met"], "limits");
    let held = &rows[3]["wishes"][0]["held_by"];
    assert_eq!(held[0]["rule"], "several", "{held}");
    let text = "it may give at most 1 frame, and it may give up at most 2 kg of honey";
    assert_eq!(held[0]["text"], text, "{held}");
    let table = ["probe", &first, "--give", "4[1]=1", "--spare", "6"];
    let table = spareframe(&table).stdout("What if...").check();
    let cost = "This choice costs 3 compartments and takes 0.91 kg of honey off the cost.";
    assert!(table.contains(cost), "{table}");
    let mixed = ["probe", &first, "--give", "4=1", "--set", "cells=8"];
    let mixed = spareframe(&mixed).stdout("What if...").check();
    assert!(!mixed.contains("This choice costs"), "{mixed}");
}

#[test]
fn a_wish_in_the_file_is_the_same_and_every_command_knows_it() {
    let first = file("first-round");
    let with = |frames: &str| {
        let wish = format!("  \"6\":\n    give: {frames}\n");
        let text = text("first-round");
        let at = text.find("  \"6\":").unwrap();
        let rest = text[at..].split_once('\n').unwrap().1;
        format!("{}{wish}{rest}", &text[..at])
    };
    for frames in ["10", "11"] {
        let code = i32::from(frames == "11");
        let plan = spareframe(&["stock", "-"])
            .stdin(with(frames))
            .code(code)
            .stdout("...")
            .check();
        let give = format!("6={frames}");
        let probe = ["probe", &first, "--give", &give, "--plan", "1"];
        spareframe(&probe).code(code).stdout(&plan).check();
        let why = spareframe(&["why", "-"])
            .stdin(with(frames))
            .code(code)
            .stdout("...")
            .check();
        assert_eq!(why == plan, frames == "11", "{why}");
    }
    let unmet = spareframe(&["stock", "-"])
        .stdin(with("11"))
        .code(1)
        .stdout("...")
        .check();
    assert!(
        unmet.contains("No plan gives the frames that are wished for."),
        "{unmet}"
    );
    assert!(
        unmet.split_whitespace().collect::<Vec<_>>().join(" ").contains(
            "Colony 6 cannot give 11 frames: it must keep 1.2 brood frames, and it must keep 2 kg of stores; easing \
             one of them is enough."
        ),
        "{unmet}"
    );
    let folder = Folder::new();
    let plan = &folder.path("plan.yaml");
    spareframe(&["stock", "-", "--out", plan, "-q"])
        .stdin(with("10"))
        .check();
    spareframe(&["verify", "-", plan])
        .stdin(with("10"))
        .stdout("The plan holds: ...")
        .check();
    let broken = spareframe(&["verify", "-", plan])
        .stdin(with("12"))
        .code(1)
        .stdout("...")
        .check();
    let breach =
        "give: colony 6: found 10 frames taken, expected at least 12 frames, as wished for";
    assert!(broken.contains(breach), "{broken}");
    let curve = spareframe(&["curve", "-"])
        .stdin(with("10"))
        .stdout("...")
        .check();
    assert!(
        curve.contains("Wishes (`give`) are left out here"),
        "{curve}"
    );
    let store = text("first-round").replace(
        "{count: 8, drawn: 90 %}",
        "{count: 8, drawn: 90 %, give: 1}",
    );
    spareframe(&["stock", "-"])
        .stdin(store)
        .code(2)
        .stderr("<stdin>:117:5\nerror[out-of-range]: found brood, bees, a queen or a wish in the store room...")
        .check();
}
