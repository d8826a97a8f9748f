//! What `inspect` changes in the text of a scenario: the figures of the table, and nothing else.

use crate::inspect_support::{YARD, errors, into, otherwise, put};
use spareframe::scenario::read;

#[test]
fn a_row_for_each_colony_changes_its_figures_and_nothing_else() {
    let new = into(
        "colony,brood (combs),stores (frames)\nElm,\"4,5\",\n2,3 combs at 70 %,1.5\n",
        YARD,
    );
    assert_eq!(
        otherwise(YARD, &new),
        [
            "-  \"2\": {site: home, role: nucleus, brood: 4 combs, stores: 2, bees: 9 frames}",
            "+  \"2\": {site: home, role: nucleus, brood: 3 combs at 70 %, stores: 1.5 frames, bees: 9 frames}",
            "-    brood: 5 combs          # of the record card",
            "+    brood: 4.5 combs          # of the record card",
        ]
    );
}

#[test]
fn a_row_for_each_frame_group_changes_that_group() {
    let new = into(
        "colony,group,count,brood (%)\nAsh,1,5,70\nAsh,2,,55\nAsh,,2,\n",
        YARD,
    );
    assert_eq!(
        otherwise(YARD, &new),
        [
            "-      - {count: 6, brood: 65 %, sealed: 60 %, stores: 15 %}   # upper box",
            "+      - {count: 5, brood: 70 %, sealed: 60 %, stores: 15 %}   # upper box",
            "-        brood: 60 %",
            "+        brood: 55 %",
            "+      - {count: 2}",
        ]
    );
}

#[test]
fn without_groups_the_rows_are_the_frames_of_the_colony() {
    let new = into(
        "colony,count,brood (%),stores (%),queen\nAsh,5,60,10,\n,1,50,,x\n",
        YARD,
    );
    assert_eq!(
        otherwise(YARD, &new),
        [
            "-      - {count: 6, brood: 65 %, sealed: 60 %, stores: 15 %}   # upper box",
            "+      - {count: 5, brood: 60 %, stores: 10 %}   # upper box",
            "-        brood: 60 %",
            "+        brood: 50 %",
            "-      - {count: 3, stores: 80 %}",
        ]
    );
    let more = into(
        "colony,count,brood (%)\nAsh,5,60\nAsh,1,60\nAsh,2,\nAsh,4,10\n",
        &YARD.replace("        queen: yes\n", ""),
    );
    assert!(more.contains("      - {count: 2}\n      - {count: 4, brood: 10 %}\n    extra bees"));
}

#[test]
fn keys_that_are_new_stand_behind_the_others() {
    let new = into(
        "colony;hold;empty;site\nElm;robbed: look, \"soon\";2;home\nash;;;\n2;no;1;\n",
        YARD,
    );
    assert_eq!(
        otherwise(YARD, &new),
        [
            "-  \"2\": {site: home, role: nucleus, brood: 4 combs, stores: 2, bees: 9 frames}",
            "+  \"2\": {site: home, role: nucleus, brood: 4 combs, stores: 2, bees: 9 frames, hold: no, empty: 1}",
            "-    site: far",
            "+    site: home",
            "+    hold: \"robbed: look, \\\"soon\\\"\"",
            "+    empty: 2",
        ]
    );
}

#[test]
fn a_colony_that_is_not_there_comes_last() {
    let new = into(
        "colony,site,role,brood,stores\nOak 4,home,nucleus,3,1\n=Yew,far,nucleus,2,1\n",
        YARD,
    );
    let lines: String = otherwise(YARD, &new).join("\n");
    assert_eq!(
        lines,
        "+  Oak 4:\n+    site: home\n+    role: nucleus\n+    brood: 3\n+    stores: 1\n\
         +  \"=Yew\":\n+    site: far\n+    role: nucleus\n+    brood: 2\n+    stores: 1"
    );
    let frames = into(
        "colony,site,role,count,brood (%)\nOak,home,nucleus,3,60\nOak,,,2,\n",
        YARD,
    );
    assert!(frames.contains("  Oak:\n    site: home\n    role: nucleus\n    frames:\n      - {count: 3, brood: 60 %}\n      - {count: 2}\n"));
    let found = put(
        "colony,site,role,brood,stores\nOak,home,nucleus,3,1\nElm,far,,,\n",
        YARD,
        None,
        false,
    );
    assert_eq!(
        (found.added, found.changed),
        (vec!["Oak".to_owned()], vec![])
    );
}

#[test]
fn the_other_way_of_counting_takes_its_place_only_where_asked() {
    let table = "colony,brood,stores\nAsh,5,2\n";
    assert!(errors(table)[0].contains("two-readings"));
    let new = put(table, YARD, None, true).text.unwrap();
    assert!(
        new.contains("    extra bees: 3_500\n    brood: 5\n    stores: 2\n"),
        "{new}"
    );
    assert!(!new.contains("upper box"));
    let frames = put(
        "colony,count,brood (%)\nElm,5,70\n2,4,60\n",
        YARD,
        None,
        true,
    )
    .text
    .unwrap();
    assert!(
        frames.contains("    role: nucleus\n    frames:\n      - {count: 5, brood: 70 %}\n\n"),
        "{frames}"
    );
    assert!(
        frames.contains("\"2\": {site: home, role: nucleus, frames: [{count: 4, brood: 60 %}]}"),
        "{frames}"
    );
}

#[test]
fn a_way_of_writing_that_cannot_be_changed_is_refused_not_spoilt() {
    let odd = YARD.replace(
        "  Elm:\n    site: far\n    role: nucleus\n    brood: 5 combs          # of the record card\n    stores: 2 frames\n",
        "  ? Elm\n  : {site: far, role: nucleus, brood: 5 combs, stores: 2 frames}\n",
    );
    assert!(read("s", odd.as_bytes()).loaded.is_some());
    let found = put("colony,empty\nElm,2\n", &odd, None, false);
    // Changed rightly or refused.
    if let Some(text) = found.text {
        let loaded = read("s", text.as_bytes()).loaded.unwrap();
        assert_eq!(
            loaded.scenario.colonies[2]
                .frames
                .iter()
                .map(|g| g.count)
                .sum::<u32>(),
            9
        );
    } else {
        assert_eq!(found.findings[0].code, "yaml");
    }
}

#[test]
fn all_bees_are_all_bees_however_they_were_counted_before() {
    let new = put("colony,brood,bees\nAsh,5,25000\n", YARD, None, true)
        .text
        .unwrap();
    assert!(!new.contains("extra bees"), "{new}");
    let beside = put(
        "colony,brood,bees,extra bees\nAsh,5,25000,500\n",
        YARD,
        None,
        true,
    );
    assert!(beside.text.unwrap().contains("    extra bees: 500\n"));
}

#[test]
fn what_is_said_beside_others_stays() {
    let yard = YARD.replace(
        "        brood: 60 %\n",
        "        brood: 60 %   # patchy\n        # look again\n        stores: 10 %  # little\n",
    );
    let table = "colony,count,brood (%),stores (%),queen\nAsh,6,65,15,\nAsh,,60,,x\nAsh,3,,80,\n";
    assert_eq!(
        otherwise(&yard, &into(table, &yard)),
        [
            "-      - {count: 6, brood: 65 %, sealed: 60 %, stores: 15 %}   # upper box",
            "-      - count: 1            # hers",
            "+      - {count: 6, brood: 65 %, stores: 15 %}   # upper box",
            "+      -             # hers",
            "-        stores: 10 %  # little",
        ]
    );
    let flow = YARD.replace(
        "{count: 6, brood: 65 %, sealed: 60 %, stores: 15 %}   # upper box",
        "{count: 6, # six\n         brood: 65 %, sealed: 60 %, # seen\n         stores: 15 %}",
    );
    let new = into(
        "colony,count,brood (%),queen\nAsh,6,65,\nAsh,1,60,x\nAsh,3,,\n",
        &flow,
    );
    assert!(
        new.contains("{count: 6, # six\n         brood: 65 %, # seen\n         }"),
        "{new}"
    );
    // Lines of their own between frames that go, and behind the last colony.
    let between = YARD.replace(
        "      - {count: 3,",
        "      # from the shelf\n      - {count: 3,",
    );
    let new = into(
        "colony,count,brood (%),queen\nAsh,6,65,\nAsh,1,60,x\n",
        &between,
    );
    assert!(
        new.contains("      # from the shelf\n    extra bees"),
        "{new}"
    );
    let behind = YARD.replace(
        "    stores: 2 frames\n\n",
        "    stores: 2 frames\n    # weak\n\n",
    );
    let new = into("colony,site,role,brood\nYew,far,nucleus,3\n", &behind);
    assert!(new.contains("    # weak\n  Yew:\n"), "{new}");
}

#[test]
fn line_ends_may_be_mixed() {
    let mixed = YARD.replacen('\n', "\r\n", 1).replace(
        "    role: nucleus\n    brood: 5",
        "    role: nucleus # note end X\n    brood: 5",
    );
    let table = "colony,count,brood (%)\nElm,5,70\n";
    let new = put(table, &mixed, None, true).text.unwrap();
    assert!(new.contains("# note end X"), "{new}");
}

#[test]
fn colonies_of_any_shape_are_changed() {
    let yard = |colony: &str| {
        format!(
            "spareframe: 2\nsites: {{home: }}\nroles: {{r: {{}}}}\ncolonies:\n{colony}recipes: {{r: {{lines: [{{brood: 1 %}}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}}}\n"
        )
    };
    for (colony, table, new) in [
        (
            "  N:\n    brood: 5\n    bees: 9 frames\n",
            "colony,count\nN,3\n",
            "  N:\n    frames:\n      - {count: 3}\n",
        ),
        (
            "  N:\n    frames:\n      - {count: 4}\n",
            "colony,brood\nN,3\n",
            "  N:\n    brood: 3\n",
        ),
        (
            "  N: {brood: 5}\n",
            "colony,count\nN,3\n",
            "  N: {frames: [{count: 3}]}\n",
        ),
        ("  N:\n", "colony,brood\nN,3\n", "  N: {brood: 3}\n"),
        (
            "  N:\n    frames:\n      -\n        count: 2\n",
            "colony,group,count\nN,,3\n",
            "      -\n        count: 2\n      - {count: 3}\n",
        ),
        (
            "  N:\n    frames:\n    - # first\n      count: 2\n",
            "colony,group,count\nN,,3\n",
            "    - # first\n      count: 2\n    - {count: 3}\n",
        ),
        (
            "  N:\n    frames:\n    - {count: 2}\n",
            "colony,group,count\nN,,3\n",
            "    - {count: 2}\n    - {count: 3}\n",
        ),
        (
            "  N:\n    frames:\n    - {count: 2}   # keep\n    # own\n    - {count: 1}   # gone\n",
            "colony,count\nN,3\n",
            "    - {count: 3}   # keep\n    # own\nrecipes",
        ),
        (
            "  N:\n    frames:\n    - {count: 2}\n    extra bees: 3000\n",
            "colony,brood\nN,3\n",
            "  N:\n    extra bees: 3000\n    brood: 3\n",
        ),
        (
            "  N: {frames: [\n      {count: 2},  # first\n      # own\n      {count: 1}   # gone\n    ]}   # end\n",
            "colony,count\nN,3\n",
            "[\n      {count: 3},  # first\n      # own\n         # gone\n    ]}   # end\n",
        ),
        (
            "  N:\n    frames:\n      - {stores: 10 %, # c\n         brood: 60 %}\n",
            "colony,count,brood (%)\nN,,60\n",
            "- { # c\n         brood: 60 %}\n",
        ),
        (
            "  N:\n    frames:\n      - {}\n",
            "colony,count,brood (%)\nN,2,60\n",
            "- {count: 2, brood: 60 %}\n",
        ),
        (
            "  N: {frames: [{count: 2}, {count: 1}]}\n",
            "colony,count\nN,3\n",
            "  N: {frames: [{count: 3}]}\n",
        ),
    ] {
        let found = put(table, &yard(colony), None, true);
        let wrong = found.findings.iter().find(|f| f.code != "two-meanings");
        assert_eq!(wrong, None, "{colony}");
        assert!(found.text.unwrap().contains(new), "{colony}");
    }
}
