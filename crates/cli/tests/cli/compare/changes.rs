//! What has changed, said once at each place that it concerns.

use super::support::{between, changed, lines, round, slot};
use crate::support::{Folder, file, spareframe};
use serde_json::{Value, json};

#[test]
fn a_plan_and_itself_do_not_differ_in_whatever_format_they_are_written() {
    let dir = Folder::new();
    for name in [
        "first-round",
        "forty",
        "home-yard",
        "nuclei",
        "taken-apart",
        "thin-spring",
    ] {
        let path = |ending: &str| dir.path(&format!("{name}.{ending}"));
        let (yaml, json) = (path("yaml"), path("json"));
        for out in [&yaml, &json] {
            spareframe(&["stock", &file(name), "-q", "--out", out]).check();
        }
        spareframe(&["compare", &yaml, &json])
            .stdout("From the old plan to the new one\n\nNothing has changed: both plans give the same frames and bees to the same\ncompartments.\n")
            .check();
        spareframe(&["compare", &yaml, &json, "--format", "markdown"])
            .stdout("# From the old plan to the new one\n\n**Nothing has changed: both plans give the same frames and bees to the same compartments.**\n")
            .check();
    }
    assert_eq!(changed(|_| {}), Vec::<[String; 3]>::new());
    let plan = round();
    assert_eq!(between(&plan, &plan)["same"], true);
}

#[test]
fn what_was_only_deleted_from_a_file_has_not_changed() {
    let stripped = |plan: &mut Value| {
        let compartments = plan["compartments"].take();
        *plan = json!({"spareframe_plan": 2, "title": plan["title"], "day": plan["day"]});
        plan["compartments"] = compartments;
        for compartment in plan["compartments"].as_array_mut().unwrap() {
            let compartment = compartment.as_object_mut().unwrap();
            for key in [
                "site",
                "feed_kg",
                "bees_staying",
                "bees_needed",
                "bees_to_cover_brood",
            ] {
                compartment.remove(key);
            }
            for frames in compartment["frames"].as_array_mut().unwrap() {
                let frames = frames.as_object_mut().unwrap();
                for key in ["each_holds", "place", "feed_kg", "substitute"] {
                    frames.remove(key);
                }
            }
        }
    };
    assert_eq!(changed(stripped), Vec::<[String; 3]>::new());
}

#[test]
fn frames_that_change_places_are_said_of_their_compartments_alone() {
    let changes = changed(|plan| {
        let one = slot(plan, "1.1")["frames"].clone();
        let two = slot(plan, "3.2")["frames"].clone();
        let at = |frames: &Value| {
            let frames = frames.as_array().unwrap();
            frames.iter().position(|f| f["line"] == "brood").unwrap()
        };
        let (a, b) = (at(&one), at(&two));
        slot(plan, "1.1")["frames"][a] = two[b].clone();
        slot(plan, "3.2")["frames"][b] = one[a].clone();
    });
    let six = "colony 6 (brood 65%, stores 15%)";
    let eight = "colony 8 (brood 60%, stores 15%)";
    assert_eq!(
        lines(&changes),
        [
            (
                "compartments",
                format!("mating box 1.1: brood: 2 from {eight} instead of 2 from {six}")
            ),
            (
                "compartments",
                format!("mating box 3.2: brood: 2 from {six} instead of 2 from {eight}")
            ),
        ]
    );
}

#[test]
fn bees_that_change_places_are_said_of_their_compartments_alone() {
    let changes = changed(|plan| {
        let one = slot(plan, "1.1")["bees"].clone();
        let two = slot(plan, "3.2")["bees"].clone();
        slot(plan, "1.1")["bees"] = two;
        slot(plan, "3.2")["bees"] = one;
    });
    let (six, eight) = [6, 8]
        .map(|colony| format!("some 3,500 from colony {colony} on its brood"))
        .into();
    assert_eq!(
        lines(&changes),
        [
            (
                "compartments",
                format!("mating box 1.1: bees: {eight} instead of {six}")
            ),
            (
                "compartments",
                format!("mating box 3.2: bees: {six} instead of {eight}")
            ),
        ]
    );
}

#[test]
fn compartments_that_are_only_renumbered_are_said_to_be() {
    let changes = changed(|plan| {
        slot(plan, "1.1")["compartment"] = json!(9);
        slot(plan, "1.2")["compartment"] = json!(1);
        slot(plan, "1.9")["compartment"] = json!(2);
    });
    assert_eq!(
        lines(&changes),
        [
            (
                "compartments",
                "mating box 1.1: is now 1.2, and gets the same".to_owned()
            ),
            (
                "compartments",
                "mating box 1.2: is now 1.1, and gets the same".to_owned()
            ),
        ]
    );
}

#[test]
fn more_bees_are_said_of_colony_compartment_load_and_in_short() {
    let changes = changed(|plan| slot(plan, "1.1")["bees"][0]["bees"] = json!(4000));
    assert_eq!(
        lines(&changes),
        [
            (
                "headline",
                "bees taken: some 35,500 instead of some 35,000".to_owned()
            ),
            ("colonies", "colony 6: some 500 bees more".to_owned()),
            (
                "compartments",
                "mating box 1.1: bees: some 4,000 from colony 6 (some 3,500 on its brood) instead of some 3,500 from \
                 colony 6 on its brood"
                    .to_owned()
            ),
            ("carry", "to far meadow from home: some 500 bees more".to_owned()),
        ]
    );
}

#[test]
fn another_frame_is_said_of_colony_compartment_and_load() {
    let changes = changed(|plan| {
        let frames = slot(plan, "1.1")["frames"].as_array_mut().unwrap();
        let brood = frames.iter_mut().find(|f| f["line"] == "brood").unwrap();
        brood["frame_group"] = json!(9);
        brood["each_holds"]["brood_share"] = json!(0.7);
    });
    assert_eq!(
        lines(&changes),
        [
            (
                "colonies",
                "colony 6: 2 frames fewer, brood 65%, stores 15%; 2 more frames, brood 70%, stores 15%"
                    .to_owned()
            ),
            (
                "compartments",
                "mating box 1.1: brood: 2 from colony 6 (brood 70%, stores 15%) instead of 2 from \
                 colony 6 (brood 65%, stores 15%)"
                    .to_owned()
            ),
            (
                "carry",
                "to far meadow from home: 2 frames fewer, brood 65%, stores 15%; 2 more frames, brood \
                 70%, stores 15%"
                    .to_owned()
            ),
        ]
    );
}

#[test]
fn frame_groups_that_look_alike_are_told_apart_by_number() {
    let changes = changed(|plan| {
        let frames = slot(plan, "1.1")["frames"].as_array_mut().unwrap();
        let brood = frames.iter_mut().find(|f| f["line"] == "brood").unwrap();
        brood["frame_group"] = json!(9);
    });
    assert!(changes[0][2].contains("frame group 9"), "{changes:?}");
    assert_eq!(changes.len(), 3, "{changes:?}");
}

#[test]
fn a_compartment_less_is_said_with_all_that_follows_and_so_is_one_more() {
    let remove = |plan: &mut Value| {
        plan["compartments"].as_array_mut().unwrap().remove(4);
    };
    let changes = changed(remove);
    let shown = lines(&changes);
    assert!(shown.contains(&(
        "headline",
        "compartments stocked: 9 instead of 10".to_owned()
    )));
    assert!(shown.contains(&(
        "compartments",
        "mating box 3.1: is no longer stocked".to_owned()
    )));
    assert!(shown.contains(&(
        "carry",
        "to far meadow: 9 cells or queens instead of 10".to_owned()
    )));
    let of = |about: &str| changes.iter().filter(|c| c[0] == about).count();
    assert_eq!(
        (of("compartments"), of("feed"), of("holds"), of("mind")),
        (1, 0, 0, 0)
    );
    let old = round();
    let mut new = old.clone();
    remove(&mut new);
    let back = between(&new, &old);
    let back = back["changes"].as_array().unwrap().iter();
    let text = back
        .filter(|c| c["about"] == "compartments")
        .map(|c| c["text"].as_str().unwrap());
    let text: Vec<_> = text.collect();
    assert!(
        text[0].starts_with("is new, at far meadow: 2 brood from colony "),
        "{text:?}"
    );
    assert!(text[0].contains("; bees: "), "{text:?}");
}

#[test]
fn a_colony_that_gives_no_more_and_one_that_gives_now_are_said_to() {
    let changes = changed(|plan| {
        for compartment in plan["compartments"].as_array_mut().unwrap() {
            for part in ["frames", "bees"] {
                for from in compartment[part].as_array_mut().unwrap() {
                    if from["colony"] == "1" {
                        from["colony"] = json!("12");
                    }
                }
            }
        }
    });
    let colonies: Vec<_> = lines(&changes)
        .into_iter()
        .filter(|c| c.0 == "colonies")
        .collect();
    let gave = "1 frame, brood 70%, stores 15%; no bees";
    assert_eq!(
        colonies,
        [
            (
                "colonies",
                format!("colony 1: is no longer opened: it gave {gave}")
            ),
            ("colonies", format!("colony 12: is opened now: {gave}")),
        ]
    );
}

#[test]
fn boxes_that_stand_elsewhere_are_carried_elsewhere() {
    let changes = changed(|plan| {
        for compartment in ["5.1", "5.2"] {
            slot(plan, compartment)["site"] = json!("orchard");
        }
    });
    let shown = lines(&changes);
    let stands = "stands at orchard instead of far meadow";
    assert!(
        shown.contains(&("compartments", format!("mating box 5.1: {stands}"))),
        "{shown:?}"
    );
    let carried = "to orchard: 1 box, mating box, instead of 0; 2 cells or queens instead of 0";
    assert!(shown.contains(&("carry", carried.to_owned())), "{shown:?}");
    assert!(
        changes
            .iter()
            .all(|c| c[0] == "compartments" || c[0] == "carry")
    );
}
