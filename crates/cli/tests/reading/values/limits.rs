//! Floors, caps and what rides, of a colony and of its role.

use super::support::{colony, colony_in, load};
use spareframe_solver::{Draw, Grams, Hundreds, Keep, Milli, Percent};

#[test]
fn a_colony_restates_single_limits_of_its_role() {
    let none = Draw::default();
    let production = colony("    brood: 6 combs at 100 %");
    let keep = |brood, bees, stores, drawn| Keep {
        brood: Milli(brood),
        bees: Hundreds(bees),
        stores: Grams(stores),
        drawn: Milli(drawn),
        covered: Percent(100),
    };
    assert_eq!(production.role, "production");
    assert_eq!(production.keep, keep(4000, 200, 10_000, 0));
    let usual = Draw {
        frames: Some(2),
        honey: Some(Grams(3000)),
        ..none
    };
    assert_eq!(production.draw, usual);

    let one = colony(
        "    brood: 6 combs at 100 %\n    keep: {bees: 5 frames}\n    draw: {brood: 1.5 frames, honey: 500 g}",
    );
    assert_eq!(one.keep, keep(4000, 105, 10_000, 0));
    let restated = Draw {
        brood: Some(Milli(1500)),
        honey: Some(Grams(500)),
        ..usual
    };
    assert_eq!(one.draw, restated);

    let lifted = colony("    brood: 6 combs at 100 %\n    draw: {frames: none, honey: none}");
    assert_eq!(lifted.draw, none);
    assert_eq!(lifted.keep, production.keep, "floors stay");

    let all = colony("    brood: 6 combs at 100 %\n    draw: all");
    assert_eq!((all.keep, all.draw), (Keep::default(), none));

    let nucleus = colony(
        "    brood: 3 combs at 100 %\n    role: nucleus\n    keep: {drawn: 2 frames, covered: 150.4 %}",
    );
    let covered = Percent(150);
    let wanted = Keep {
        covered,
        ..keep(1000, 25, 1000, 2000)
    };
    assert_eq!(nucleus.keep, wanted);
    assert_eq!(nucleus.draw, none);
}

#[test]
fn floors_of_bees_go_up_to_the_next_hundred_and_caps_down() {
    let limits = |bees: &str| {
        let lines = format!(
            "    brood: 6 combs at 100 %\n    keep: {{bees: {bees}}}\n    draw: {{bees: {bees}}}"
        );
        let c = colony(&lines);
        (c.keep.bees.0, c.draw.bees.unwrap().0)
    };
    assert_eq!(limits("2000"), (20, 20));
    assert_eq!(limits("2001"), (21, 20));
    assert_eq!(limits("1_999"), (20, 19));
    assert_eq!(limits("140"), (2, 1));
    // Frames are rounded alike in both, so that a cap of two frames is what two frames hold.
    assert_eq!(limits("2 frames"), (42, 42));
    assert_eq!(limits("1.5 frames"), (32, 32));
}

#[test]
fn a_share_of_the_bees_is_of_the_colony_and_may_be_lifted() {
    let role = "roles: {giver: {keep: {bees: 1 frame}, draw: {bees: 30 %, frames: 3}}}";
    let lines = "    role: giver\n    frames: [{count: 2, brood: 50 %}, {stores: 10 %}]\n    extra bees: 101";
    let giver = colony_in(role, lines);
    // 2 x 21 + 11 + 1 = 54 hundreds, 30 % of them to the nearest.
    assert_eq!(giver.draw.bees, Some(Hundreds(16)));
    let lifted = colony_in(role, &format!("{lines}\n    draw: {{bees: none}}"));
    assert_eq!((lifted.draw.bees, lifted.draw.frames), (None, Some(3)));
    let number = colony_in(role, &format!("{lines}\n    draw: {{bees: 700}}"));
    assert_eq!(number.draw.bees, Some(Hundreds(7)));
}

/// Frames in a role were once counted in the first standard size, whatever the colony's own comb.
#[test]
fn frames_in_a_role_are_frames_of_the_colonys_own_comb() {
    let sc = load(
        "spareframe: 2\nsites: {a: }\nroles: {giver: {keep: {bees: 4 frames}, draw: {bees: 2.5 frames}}}\n\
         colonies: {big: {role: giver, comb: Dadant-Blatt, brood: 6 combs}, small: {role: giver, comb: mini, brood: 6 combs}}\n\
         recipes: {r: {bees: 2000, lines: [{brood: 10 %}, {brood: 10 %, comb: Dadant-Blatt}]}}\n\
         boxes: {b: {count: 1, recipe: r}}",
    );
    let limits = |at: usize| {
        let colony = &sc.colonies[at];
        (colony.keep.bees.0, colony.draw.bees.unwrap().0)
    };
    // 11.3 dm2 a side make 29 hundreds, 2 dm2 make 5: 72.5 and 12.5 go up.
    assert_eq!(limits(0), (116, 73));
    assert_eq!(limits(1), (20, 13));
}

#[test]
fn what_rides_is_what_the_colony_says_else_its_role_else_the_settings() {
    let rides = |more: &str, lines: &str| colony_in(more, lines).rides;
    let role = "roles: {r: {keep: {brood: 1}, rides: 30 %}}";
    let both = "settings: {rides: 80 %}\nroles: {r: {keep: {brood: 1}, rides: 30 %}, s: {keep: {brood: 1}}}";
    let brood = "    brood: 6 combs at 100 %";
    assert_eq!(rides("", brood), Percent(50));
    assert_eq!(rides("settings: {rides: 80.5 %}", brood), Percent(81));
    assert_eq!(rides(role, &format!("{brood}\n    role: r")), Percent(30));
    let s = both.replace("r: {keep", "unused: {keep");
    assert_eq!(rides(&s, &format!("{brood}\n    role: s")), Percent(80));
    let own = format!("{brood}\n    role: r\n    rides: 0");
    assert_eq!(rides(both, &own), Percent(0));
    // It is no limit, so it outlives them.
    let apart = format!("{brood}\n    role: r\n    draw: all");
    assert_eq!(rides(role, &apart), Percent(30));
}

#[test]
fn a_colony_is_taken_apart_as_its_own_draw_says_else_its_roles() {
    let role = "roles: {r: {draw: all, keep: {brood: 3}}}";
    let of = |lines: &str| {
        let c = colony_in(
            role,
            &format!("    brood: 6 combs at 100 %\n    role: r{lines}"),
        );
        (c.apart, c.keep.brood.0, c.draw.frames)
    };
    assert_eq!(
        of(""),
        (true, 0, None),
        "the role's own floors are set aside"
    );
    assert_eq!(of("\n    keep: {brood: 2}"), (true, 2000, None));
    assert_eq!(of("\n    draw: {frames: 4}"), (false, 0, Some(4)));
    let own = colony("    brood: 6 combs at 100 %\n    draw: all\n    keep: {brood: 1}");
    assert_eq!((own.apart, own.keep.brood), (true, Milli(1000)));
    assert!(!colony("    brood: 6 combs at 100 %").apart);
}

#[test]
fn a_built_in_role_restated_stands_for_itself_alone() {
    let role = "roles: {production: {keep: {stores: 5 kg}}}";
    let c = colony_in(role, "    brood: 6 combs at 100 %");
    let stores = Grams(5000);
    let wanted = Keep {
        stores,
        ..Keep::default()
    };
    assert_eq!((c.keep, c.draw), (wanted, Draw::default()));
}
