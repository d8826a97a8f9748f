//! A scenario with something of every section, and a value for every key of the format.

use serde_json::{Value, json};

/// A scenario with something of every section.
pub fn whole() -> Value {
    json!({
        "spareframe": 2,
        "title": "Every key",
        "day": "2031-05-20",
        "settings": {"honey cap": "6 kg"},
        "combs": {"own": {"area": "9 dm2"}},
        "sites": {"home": {"at": [50.1, 8.2]}, "far": {"at": [50.14, 8.27]}, "hut": {"at": [50.105, 8.2]}},
        "distances": [{"from": "home", "to": "far", "is": "6.8 km"}],
        "roles": {"lender": {"keep": {"brood": 2, "bees": 6000}, "draw": {"frames": 6}}},
        "colonies": {
            "Ash": {
                "site": "home",
                "role": "lender",
                "frames": [
                    {"count": 6, "brood": "70 %", "stores": "10 %"},
                    {"count": 1, "brood": "50 %", "queen": true},
                    {"count": 3, "stores": "80 %"}
                ],
                "counted": "2031-05-16",
                "since": [{"day": "2031-05-18", "gone": [{"group": 3}], "bees": 1000, "got": [{"drawn": "100 %"}]},
                    {"day": "2031-05-19", "hang": [{"comb": "mini"}]}]
            },
            "Oak. 2": {"site": "home", "role": "nucleus", "brood": "6 combs", "stores": 2, "bees": "10 frames"},
            "Pine": {"site": "home", "role": "nucleus", "brood": "3 combs", "stores": 2,
                "counted": "2031-05-20",
                "since": [{"day": "2031-05-20", "gone": [{"of": "stores"}]}]},
            "Elm": {
                "site": "far",
                "crop": "20 kg",
                "flow": ["2031-06-08", "2031-07-02"],
                "frames": [{"count": 9, "brood": "70 %"}, {"count": 6, "stores": "85 %"}]
            }
        },
        "store room": [{"count": 9, "drawn": 0}, {"count": 4, "stores": "40 %"}],
        "recipes": {
            "half": {
                "bees": 2500,
                "again": {"bees": 1500, "lines": [{"brood": "30 %"}]},
                "lines": [
                    {"name": "brood", "brood": "40 %"},
                    {"name": "food", "stores": "60 %", "or": [{"stores": "30 %", "feed": "500 g"}, {"drawn": "90 %"}]},
                    {"name": "bare", "foundation": true}
                ]
            },
            "one comb": {"bees": 1000, "lines": [{"brood": "50 %"}]}
        },
        "boxes": {
            "mating box": {"count": 3, "compartments": 2, "site": "far", "recipe": "half"},
            "small box": {"count": 2, "site": "far", "recipe": "one comb", "worth": 0.5},
            "nucleus": {"count": 2, "site": "far", "recipe": "half", "takes": "mated queens"},
            "big nucleus": {"count": 1, "site": "far", "recipe": "half", "takes": "mated queens"}
        },
        "cells": [{"count": 5, "for": ["mating box"]}, {"count": 2}],
        "rearing": {"grafted": "2031-05-10", "intervals": {"cells in": "1 day"}},
        "standing": [
            {"box": "mating box", "number": 2, "since": "2031-05-02", "queen": "none", "seen": "2031-05-19",
             "extra bees": 1200, "frames": [{"brood": "20 %"}]}
        ],
        "requeen": [{"colony": "Elm"}],
        "season": {
            "rounds": ["2031-05-20", "2031-06-17"],
            "wants": [{"queens": 3, "by": "2031-07-20"}, {"nuclei": 1, "box": "nucleus"}, {"requeen": ["Elm"]}, {"winter": 1}],
            "winter": {"on": "2031-10-15"}
        },
        "done": [
            {"box": "mating box", "frames": [{"colony": "Elm", "group": 1}, {"store room": 1}]},
            {"box": "small box", "number": 2, "bees": {"Ash": 900}},
            {"box": "mating box", "number": 2, "compartment": 2, "frames": [{"colony": "Pine", "of": "brood"}]}
        ]
    })
}

/// Section, the path of one of its keys but the key, the same as a JSON pointer, then keys with a
/// value each. The value is typed as it stands here.
pub type Sample = (
    &'static str,
    &'static str,
    &'static str,
    &'static [(&'static str, &'static str)],
);

pub const SAMPLES: &[Sample] = &[
    (
        "scenario",
        "",
        "",
        &[
            ("spareframe", "1"),
            ("title", "Another, with a comma"),
            ("day", "2031-05-21"),
            ("counted", "2031-05-19"),
            ("settings", "{flying share: 20 %}"),
            ("combs", "{own: {area: 8.5}}"),
            (
                "sites",
                "{home: {at: [50.1, 8.2]}, far: {at: [50.101, 8.2]}}",
            ),
            ("distances", "[{from: home, to: far, is: 2 km}]"),
            ("roles", "{lender: {draw: all}}"),
            (
                "colonies",
                "{Ash: {site: home, brood: 6 combs, draw: all}, Elm: {site: far, frames: [{count: 4, brood: 60 %}]}, Pine: {site: far, brood: 4 combs, stores: 1}}",
            ),
            ("store room", "[{count: 2, drawn: 0}]"),
            (
                "recipes",
                "{half: {lines: [{brood: 30 %}, {foundation: yes}]}, one comb: {lines: [{brood: 20 %}]}}",
            ),
            (
                "boxes",
                "{small box: {count: 3, site: home, recipe: one comb}, mating box: {count: 2, compartments: 2, site: far, recipe: half}, nucleus: {count: 1, site: far, recipe: half, takes: mated queens}}",
            ),
            ("cells", "3"),
            ("standing", "[{box: small box, since: 2031-05-19}]"),
            ("requeen", "[{colony: Ash, prepared: 2031-05-18}]"),
            ("done", "[{box: small box, bees: {Elm: 800}}]"),
            ("rearing", "{ripe: 2031-05-21}"),
            ("dearth", "[2031-06-10, 2031-06-20]"),
            ("season", "{rounds: [2031-05-20]}"),
        ],
    ),
    (
        "season",
        "season",
        "/season",
        &[
            ("rounds", "every 14 days from 2031-05-20 to 2031-07-15"),
            ("cells", "[8, 4]"),
            ("success", "65 %"),
            ("spread", "10 %"),
            ("rained out", "2031-06-17"),
            ("wants", "[{queens: most}, {winter: 1}]"),
            ("last draw", "2031-07-01"),
            ("drones until", "2031-08-20"),
            ("winter", "{on: 2031-10-10}"),
        ],
    ),
    (
        "want",
        "season.wants[1]",
        "/season/wants/0",
        &[("queens", "most"), ("by", "2031-08-01")],
    ),
    (
        "want",
        "season.wants[2]",
        "/season/wants/1",
        &[("nuclei", "2"), ("box", "big nucleus")],
    ),
    (
        "want",
        "season.wants[3]",
        "/season/wants/2",
        &[("requeen", "[Pine]")],
    ),
    (
        "want",
        "season.wants[4]",
        "/season/wants/3",
        &[("winter", "2")],
    ),
    (
        "winter",
        "season.winter",
        "/season/winter",
        &[("on", "2031-10-01"), ("bees", "6000"), ("food", "8 kg")],
    ),
    (
        "settings",
        "settings",
        "/settings",
        &[
            ("homing distance", "8 km"),
            ("flying share", "25 %"),
            ("forager mortality", "12 %"),
            ("season shift", "10 days"),
            ("honey cap", "2.5 lb"),
            ("rides", "80 %"),
            ("prices", "{substitute: 400 g}"),
        ],
    ),
    (
        "prices",
        "settings.prices",
        "/settings/prices",
        &[
            ("burden", "50 g"),
            ("substitute", "1 kg"),
            ("hive opened", "2 kg"),
            ("frame drawn otherwise", "30 g"),
        ],
    ),
    (
        "comb",
        "combs.own",
        "/combs/own",
        &[
            ("area", "10.2 dm2"),
            ("bees", "2100"),
            ("cells", "7000"),
            ("stores", "2.1 kg"),
        ],
    ),
    (
        "site",
        "sites.far",
        "/sites/far",
        &[("at", "[50.13, 8.26]")],
    ),
    (
        "distance",
        "distances[1]",
        "/distances/0",
        &[("from", "hut"), ("to", "hut"), ("is", "1200 m")],
    ),
    (
        "role",
        "roles.lender",
        "/roles/lender",
        &[
            ("keep", "{stores: 1 kg}"),
            ("draw", "all"),
            ("rides", "100 %"),
        ],
    ),
    (
        "keep",
        "colonies.Ash.keep",
        "/colonies/Ash/keep",
        &[
            ("brood", "3.5 frames"),
            ("bees", "3 frames"),
            ("stores", "4 kg"),
            ("drawn", "7"),
            ("covered", "160 %"),
        ],
    ),
    (
        "draw",
        "colonies.Elm.draw",
        "/colonies/Elm/draw",
        &[
            ("frames", "none"),
            ("brood", "1.4"),
            ("bees", "30 %"),
            ("honey", "4 lb"),
        ],
    ),
    (
        "colony",
        "colonies.\"Oak. 2\"",
        "/colonies/Oak. 2",
        &[
            ("site", "far"),
            ("role", "lender"),
            ("comb", "Zander"),
            ("hold", "treatment, until 28 May"),
            ("all frames", "20"),
            ("brood", "4.5 combs at 70 %"),
            ("sealed", "30 %"),
            ("stores", "3"),
            ("empty", "2"),
            ("foundation", "1"),
            ("bees", "20_000"),
            ("extra bees", "1500 bees"),
            ("keep", "{brood: 2}"),
            ("draw", "{frames: 2, bees: none}"),
            ("rides", "0 %"),
        ],
    ),
    (
        "colony",
        "colonies.Elm",
        "/colonies/Elm",
        &[
            ("frames", "[{count: 8, brood: 65 %}]"),
            ("give", "2"),
            ("crop", "33 kg"),
            ("flow", "[2031-06-01, 2031-06-20]"),
            ("counted", "2031-05-15"),
            ("since", "[{day: 2031-05-20, bees: 2000}]"),
            ("requeened", "2031-05-18"),
            ("lays", "1650"),
        ],
    ),
    (
        "event",
        "colonies.Ash.since[1]",
        "/colonies/Ash/since/0",
        &[
            ("day", "2031-05-17"),
            ("gone", "[{group: 1, count: 2}]"),
            ("bees", "2 frames"),
            ("got", "[{count: 2, drawn: 50 %}]"),
        ],
    ),
    (
        "event",
        "colonies.Ash.since[2]",
        "/colonies/Ash/since/1",
        &[("hang", "[{count: 4, comb: mini}]")],
    ),
    (
        "gone",
        "colonies.Ash.since[1].gone[1]",
        "/colonies/Ash/since/0/gone/0",
        &[
            ("group", "1"),
            ("count", "2"),
            ("brood", "40 %"),
            ("stores", "10 %"),
        ],
    ),
    (
        "gone",
        "colonies.Pine.since[1].gone[1]",
        "/colonies/Pine/since/0/gone/0",
        &[("of", "brood"), ("comb", "Langstroth deep")],
    ),
    (
        "frame",
        "colonies.Ash.frames[1]",
        "/colonies/Ash/frames/0",
        &[
            ("count", "7"),
            ("place", "upper box, left"),
            ("comb", "own"),
            ("brood", "0.45"),
            ("sealed", "80 %"),
            ("stores", "25 %"),
            ("drawn", "90 %"),
            ("bees", "60 %"),
            ("queen", "yes"),
            ("give", "1"),
        ],
    ),
    (
        "recipe",
        "recipes.half",
        "/recipes/half",
        &[
            ("lines", "[{brood: 20 %}, {foundation: yes}]"),
            ("bees", "2 frames"),
            ("again", "{bees: 1 frame}"),
        ],
    ),
    (
        "line",
        "recipes.half.lines[2]",
        "/recipes/half/lines/1",
        &[
            ("name", "stores"),
            ("count", "2"),
            ("comb", "Langstroth deep"),
            ("brood", "10 %"),
            ("sealed", "5 %"),
            ("stores", "35 %"),
            ("drawn", "50 %"),
            ("no brood", "yes"),
            ("or", "[{drawn: 40 %}]"),
        ],
    ),
    (
        "line",
        "recipes.half.lines[3]",
        "/recipes/half/lines/2",
        &[("foundation", "no")],
    ),
    (
        "substitute",
        "recipes.half.lines[2].or[1]",
        "/recipes/half/lines/1/or/0",
        &[
            ("comb", "Langstroth deep"),
            ("brood", "5 % to 40 %"),
            ("sealed", "10 %"),
            ("stores", "20 to 80 %"),
            ("drawn", "80 %"),
            ("no brood", "yes"),
            ("feed", "1.5 kg"),
        ],
    ),
    (
        "substitute",
        "recipes.half.lines[3].or[+]",
        "/recipes/half/lines/2/or",
        &[("foundation", "yes")],
    ),
    (
        "box",
        "boxes.mating box",
        "/boxes/mating box",
        &[
            ("count", "2"),
            ("compartments", "3"),
            ("site", "home"),
            ("worth", "1.25"),
            ("whole", "yes"),
            ("takes", "mated queens"),
            ("keeps queen", "4 weeks"),
        ],
    ),
    (
        "box",
        "boxes.small box",
        "/boxes/small box",
        &[("recipe", "half")],
    ),
    (
        "batch",
        "cells[2]",
        "/cells/1",
        &[("count", "4"), ("for", "[small box]")],
    ),
    (
        "rearing",
        "rearing",
        "/rearing",
        &[
            ("grafted", "2031-05-11"),
            ("ripe", "2031-05-20"),
            ("larva age", "18 hours"),
            ("given", "virgin queens"),
            ("drone eggs", "2031-04-12"),
            ("no flight", "4 days"),
            ("success", "60 to 80 %"),
            ("intervals", "{first look: 3 weeks}"),
        ],
    ),
    (
        "intervals",
        "rearing.intervals",
        "/rearing/intervals",
        &[
            ("check before", "2 days"),
            ("cells in", "2 days"),
            ("graft to ripe", "10 to 11 days"),
            ("ripe to emergence", "1 day"),
            ("emergence to flights", "5 to 9 days"),
            ("emergence to eggs", "8 to 20 days"),
            ("first look", "15 days"),
            ("eggs to sealed", "8 to 9 days"),
            ("age when taken", "4 to 5 weeks"),
            ("taken to next cell", "1 day"),
            ("queenless before", "3 days"),
            ("in the cage", "4 days"),
            ("drone emergence", "25 days"),
            ("drone maturity", "14 days"),
            ("comb raised", "18 to 24 days"),
        ],
    ),
    (
        "again",
        "recipes.half.again",
        "/recipes/half/again",
        &[("lines", "[{name: brood, brood: 20 %}]"), ("bees", "1800")],
    ),
    (
        "standing",
        "standing[1]",
        "/standing/0",
        &[
            ("box", "small box"),
            ("number", "3"),
            ("compartment", "2"),
            ("since", "2031-05-03"),
            ("counted", "2031-05-18"),
            ("frames", "[{brood: 10 %}]"),
            ("extra bees", "900"),
            ("from", "[Ash]"),
            ("queen", "drone-layer"),
            ("seen", "2031-05-18"),
            ("round", "2031-05-12"),
            ("eggs", "2031-05-14"),
            ("failed", "1"),
            ("failed before", "1"),
            ("taken", "1"),
            ("next cell", "no"),
        ],
    ),
    (
        "requeen",
        "requeen[1]",
        "/requeen/0",
        &[
            ("colony", "Pine"),
            ("by", "2031-05-25"),
            ("prepared", "2031-05-19"),
        ],
    ),
    (
        "done",
        "done[2]",
        "/done/1",
        &[
            ("box", "mating box"),
            ("number", "1"),
            ("compartment", "1"),
            ("frames", "[{colony: Elm, group: 1}]"),
            ("bees", "{Ash: 1.5 frames, Elm: 200}"),
        ],
    ),
    (
        "taken",
        "done[1].frames[1]",
        "/done/0/frames/0",
        &[
            ("colony", "Ash"),
            ("group", "2"),
            ("count", "1"),
            ("line", "brood"),
        ],
    ),
    (
        "taken",
        "done[3].frames[1]",
        "/done/2/frames/0",
        &[("of", "stores"), ("comb", "Langstroth deep")],
    ),
    (
        "taken",
        "done[1].frames[2]",
        "/done/0/frames/1",
        &[("store room", "2")],
    ),
];
