//! What is to be done at each colony and compartment.

use super::support::flat;
use crate::support::{notes, report, scenario, stocking};
use spareframe::output::{self, CompartmentReport, TableOptions};
use spareframe::plan::read_plan;
use spareframe_solver::{Hundreds, Milli, Outcome};

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
fn each_substitute_is_named_and_fed() {
    let report = report();
    let second = &report.compartments[1];
    assert_eq!(second.frames[1].substitute, Some(1));
    assert_eq!(second.feed_kg, 0.5);
    assert!(report.cautions.iter().any(|c| c.id == "robbing"));
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
fn a_load_names_frames_that_look_alike_once() {
    let mut report = report();
    let load = report
        .carry
        .iter_mut()
        .find(|c| c.from_site.is_some())
        .unwrap();
    let brood = load.frames.iter().find(|f| f.each_holds.brood_share > 0.0);
    let mut twin = brood.unwrap().clone();
    let both = 2 * twin.frames;
    twin.each_holds.bees /= 2;
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
                  their bees (some 1,600 on each)";
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
fn a_colony_is_told_in_the_order_of_the_hands() {
    let text = flat(&report());
    let colony = &text[text.find("Colony Ash 1 (production").unwrap()..];
    let order = [
        "find the queen; set her frame aside",
        "2 frames, brood 60%",
        "with their bees (some 1,600 on each) to nucleus box 1.1, 1.2",
        "1 frame, stores 90%, with its bees (some 600) to nucleus box 1.1",
        "add some 200 bees, shaken from frames that stay, brood frames first to nucleus box 1.1",
        "add some 400 bees, shaken from frames that stay, brood frames first to nucleus box 1.2",
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
        "bees some 2,400 from colony Ash 1 (1 frame), 1,600 on its brood, 800 others (needs 1,000)",
        "bees some 1,500 from colony Müller's Linde (1 frame), on its brood; some 1,000 stay (needs 1,000)",
    ];
    for part in wanted {
        assert!(text.contains(part), "{part}\n{text}");
    }
}

#[test]
fn the_comb_is_said_of_the_frames_in_the_plan_alone() {
    let mut report = report();
    let said = "All frames in this plan are Zander.";
    assert!(flat(&report).contains(said));
    // A compartment of another size that is begun is in the plan, too.
    let mut begun = report.compartments[0].clone();
    begun.frames[0].each_holds.comb = "mini".into();
    report.begun.push(begun);
    let text = flat(&report);
    assert!(!text.contains("All frames"), "{text}");
    assert!(text.contains("2 frames, Zander, brood 60%"), "{text}");
}

#[test]
fn where_brood_may_chill_the_way_out_is_what_the_hands_can_do() {
    let caution = |riding: i64| {
        let mut stocking = stocking();
        stocking.plan.compartments[2].bees[0].riding = Hundreds(riding);
        let goals = stocking.goals;
        let report = output::build(&scenario(), &notes(), &Outcome::Stocked(stocking), &goals);
        let thin = report.cautions.iter().find(|c| c.id == "thin-cover");
        thin.map_or(String::new(), |c| c.text.clone())
    };
    assert!(caution(15).contains("add bees, or wait"), "{}", caution(15));
    assert!(caution(9).contains("shake less off"), "{}", caution(9));
    assert_eq!(caution(40), "");
}

#[test]
fn compartments_filled_alike_are_said_once() {
    let mut report = report();
    let twin = CompartmentReport {
        compartment: 2,
        ..report.compartments[0].clone()
    };
    report.compartments[1] = twin;
    let text = flat(&report);
    let heading = "nucleus box 1.1, 1.2, at Mating valley, from colony Ash 1 1 brood";
    assert_eq!(text.matches(heading).count(), 1, "{text}");
    let page = output::markdown(&report);
    assert!(page.contains("| nucleus box 1.1, 1.2, at"), "{page}");
}

#[test]
fn bees_to_add_are_shaken_or_brushed_off_a_frame_that_is_named() {
    for (riding, how) in [(9, "shaken off"), (0, "brushed off")] {
        let mut stocking = stocking();
        let bees = &mut stocking.plan.compartments[0].bees[0];
        (bees.riding, bees.loose) = (Hundreds(riding), Hundreds(6));
        let goals = stocking.goals;
        let report = output::build(&scenario(), &notes(), &Outcome::Stocked(stocking), &goals);
        let text = flat(&report);
        let wanted = format!("bees, {how} the frame for nucleus box 1.1 to nucleus box 1.2");
        assert!(text.contains(&format!("add some 400 {wanted}")), "{text}");
    }
}

#[test]
fn bees_to_add_come_off_all_frames_that_are_shaken_for_a_compartment() {
    let mut stocking = stocking();
    let first = &mut stocking.plan.compartments[0];
    first.frames[0].count = 2;
    (first.bees[0].riding, first.bees[0].loose) = (Hundreds(18), Hundreds(6));
    let goals = stocking.goals;
    let report = output::build(&scenario(), &notes(), &Outcome::Stocked(stocking), &goals);
    let text = flat(&report);
    let wanted = "shaken off the frames for nucleus box 1.1 to nucleus box 1.2";
    assert!(text.contains(wanted), "{text}");
}

#[test]
fn a_producer_closed_with_gaps_is_cautioned_of_wild_comb() {
    let caution = |combs: u32, stores: i64| {
        let mut scenario = scenario();
        scenario.store_room[1].count = combs;
        scenario.store_room[1].frame.stores = Milli(stores);
        let stocking = stocking();
        let goals = stocking.goals;
        let report = output::build(&scenario, &notes(), &Outcome::Stocked(stocking), &goals);
        let gaps = report.cautions.iter().find(|c| c.id == "gaps");
        gaps.map_or(String::new(), |c| c.text.clone())
    };
    let open = "Gaps stay empty in colonies Ash 1, Müller's Linde";
    assert!(caution(2, 800).starts_with(open));
    assert!(caution(9, 800).ends_with("Foundation for 4 gaps lies in the store room."));
    assert_eq!(caution(9, 500), "");
}

#[test]
fn a_gap_that_stays_empty_says_what_would_do() {
    let report = |foundation: u32, role: &str| {
        let mut scenario = scenario();
        scenario.store_room[0].count = foundation;
        scenario.store_room[1].count = 2;
        scenario.colonies[2].crop = None;
        scenario.colonies[2].role = role.into();
        let stocking = stocking();
        let goals = stocking.goals;
        flat(&output::build(
            &scenario,
            &notes(),
            &Outcome::Stocked(stocking),
            &goals,
        ))
    };
    let none = "combs to the edge; 3 gaps stay empty: no comb is left; close";
    let text = report(3, "production");
    assert!(text.contains(none), "{text}");
    let some = "3 gaps stay empty: no drawn comb is left, and foundation, for 2 of them, would do where the colony draws comb;";
    assert!(report(5, "production").contains(some));
    let all = "1 gap stays empty: no drawn comb is left, and foundation would do where the colony draws comb; close";
    assert!(report(9, "production").contains(all));
    assert!(report(9, "nucleus").contains("gaps at the outside; close"));
}

#[test]
fn a_place_that_is_a_number_is_no_count() {
    let text = |place: &str| {
        let mut notes = notes();
        notes.places.colonies = vec![vec![Some(place.into())]];
        let stocking = stocking();
        let goals = stocking.goals;
        flat(&output::build(
            &scenario(),
            &notes,
            &Outcome::Stocked(stocking),
            &goals,
        ))
    };
    for (place, shown) in [
        ("8", "stores 20% (place 8), with"),
        ("3 to 7", "stores 20% (places 3 to 7), with"),
        ("9 and 10", "stores 20% (places 9 and 10), with"),
        ("upper box, 3", "stores 20% (upper box, 3), with"),
        ("edge", "stores 20% (edge), with"),
    ] {
        let text = text(place);
        assert!(text.contains(shown), "{place}: {text}");
    }
}

#[test]
fn a_queen_that_is_looked_for_is_set_aside_before_she_is_back() {
    let mut scenario = scenario();
    scenario.colonies[0].frames[2].queen = false;
    scenario.colonies[0].frames[1].frame.bees = Hundreds(0);
    let stocking = stocking();
    let goals = stocking.goals;
    let text = flat(&output::build(
        &scenario,
        &notes(),
        &Outcome::Stocked(stocking),
        &goals,
    ));
    let wanted = "find the queen before anything leaves, as no frame is marked as hers; set her frame aside, covered";
    assert!(text.contains(wanted), "{text}");
    // Combs that nobody was seen on may have bees all the same.
    assert!(
        text.contains("1 frame, stores 90%, brush off any bees to nucleus box 1.1"),
        "{text}"
    );
}

#[test]
fn frames_that_stay_and_those_hung_in_can_be_counted_at_the_hive() {
    let mut scenario = scenario();
    scenario.store_room[1].count = 9;
    scenario.store_room[1].frame.stores = Milli(0);
    let stocking = stocking();
    let goals = stocking.goals;
    let report = output::build(&scenario, &notes(), &Outcome::Stocked(stocking), &goals);
    let table = |width: usize| {
        let verbose = false;
        let text = output::table(&report, TableOptions { width, verbose });
        anstream::adapter::strip_str(&text).to_string()
    };
    let wide = table(120);
    assert!(
        wide.contains("What stays: before > after + hung in (must keep)"),
        "{wide}"
    );
    assert!(wide.contains("  7 > 4 + 3\n"), "{wide}");
    assert!(!wide.contains("frames: 7"), "{wide}");
    let narrow = table(60);
    assert!(
        narrow.contains("\n  frames: 7 > 4 + 3 hung in\n"),
        "{narrow}"
    );
    assert!(output::markdown(&report).contains("| 7 > 4 + 3 |"));
}

/// Where nobody counted what is sealed, the plan counts with 12 of 21 days and does not tell it as a count.
#[test]
fn sealed_brood_is_said_where_it_was_counted() {
    let counted = spareframe::scenario::starter();
    let said = |scenario: &str| {
        let run = crate::support::spareframe(&["stock", "-", "-q"]).stdin(scenario);
        run.stdout("...").check().contains("of it sealed")
    };
    assert!(said(counted));
    let lines = counted
        .lines()
        .map(|line| match line.split_once("sealed: ") {
            Some((before, rest)) => {
                let after = rest.find([',', '}']).map_or("", |end| &rest[end..]);
                format!("{}{after}", before.trim_end_matches([',', ' ']))
            }
            None => line.to_owned(),
        });
    let not = lines.collect::<Vec<_>>().join("\n");
    assert!(!said(&not), "{not}");
}
