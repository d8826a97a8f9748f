//! The format as data: reader, schema and reference are driven by these tables.

use serde_json::{Map, Value, json};

pub(crate) struct Field {
    pub key: &'static str,
    pub kind: &'static str,
    pub least: f64,
    pub most: f64,
    pub required: bool,
    pub default: &'static str,
    pub meaning: &'static str,
}
pub(crate) struct Section {
    pub name: &'static str,
    pub fields: &'static [Field],
}
const fn f(
    key: &'static str,
    kind: &'static str,
    least: f64,
    most: f64,
    default: &'static str,
    meaning: &'static str,
) -> Field {
    Field {
        key,
        kind,
        least,
        most,
        required: false,
        default,
        meaning,
    }
}
const fn r(
    key: &'static str,
    kind: &'static str,
    least: f64,
    most: f64,
    meaning: &'static str,
) -> Field {
    Field {
        key,
        kind,
        least,
        most,
        required: true,
        default: "required",
        meaning,
    }
}
const COUNT: f64 = 10_000.0;
const BEES: f64 = 1_000_000.0;
const GRAMS: f64 = 10_000_000.0;

pub(crate) static TOP: Section = Section {
    name: "scenario",
    fields: &[
        r("spareframe", "count", 1.0, 1.0, "version of the format, 1"),
        f("title", "text", 0.0, 0.0, "none", "what the plan is called"),
        f(
            "day",
            "date",
            0.0,
            0.0,
            "none",
            "the stocking day, as 2031-05-20",
        ),
        f(
            "settings",
            "settings",
            0.0,
            0.0,
            "all defaults",
            "drift, colony model, honey cap",
        ),
        f(
            "combs",
            "map of comb",
            0.0,
            0.0,
            "standard sizes only",
            "own frame sizes by name",
        ),
        r("sites", "map of site", 0.0, 0.0, "places by name"),
        f(
            "distances",
            "list of distance",
            0.0,
            0.0,
            "from coordinates",
            "distances between sites; these override coordinates",
        ),
        f(
            "roles",
            "map of role",
            0.0,
            0.0,
            "production and nucleus",
            "default limits by name",
        ),
        r("colonies", "map of colony", 0.0, 0.0, "donors by name"),
        f(
            "store room",
            "list of frame",
            0.0,
            0.0,
            "none",
            "frames not in a colony, without brood and bees",
        ),
        r(
            "recipes",
            "map of recipe",
            0.0,
            0.0,
            "what a compartment is stocked with, by name",
        ),
        r("boxes", "map of box", 0.0, 0.0, "kinds of box by name"),
        f(
            "cells",
            "number, map or list of batch",
            0.0,
            0.0,
            "not counted",
            "ripe cells or queens: one number for all, a number by box name, or batches",
        ),
    ],
};
pub(crate) static SETTINGS: Section = Section {
    name: "settings",
    fields: &[
        f(
            "homing distance",
            "metres",
            0.0,
            100_000.0,
            "3 km (common practice)",
            "at or beyond it no bees fly home",
        ),
        f(
            "flying share",
            "share",
            0.0,
            1.0,
            "33 % (a choice)",
            "share of the bees taken that flies home from nearer by",
        ),
        f(
            "forager mortality",
            "share",
            0.001,
            0.35,
            "10 % a day (a choice)",
            "foragers lost each day in the colony model",
        ),
        f(
            "honey cap",
            "grams",
            0.0,
            GRAMS,
            "none",
            "most honey all colonies together may give up",
        ),
    ],
};
pub(crate) static COMB: Section = Section {
    name: "comb",
    fields: &[
        f(
            "area",
            "area",
            0.1,
            100.0,
            "none",
            "comb inside the frame, one side; sets the three figures below",
        ),
        f(
            "bees",
            "number",
            1.0,
            100_000.0,
            "260 a dm2",
            "bees on a frame covered on both sides",
        ),
        f(
            "cells",
            "count",
            1.0,
            100_000.0,
            "800 a dm2",
            "worker cells, both sides",
        ),
        f(
            "stores",
            "grams",
            1.0,
            50_000.0,
            "250 g a dm2",
            "honey in a full frame",
        ),
    ],
};
pub(crate) static SITE: Section = Section {
    name: "site",
    fields: &[f(
        "at",
        "latitude and longitude",
        0.0,
        0.0,
        "none",
        "coordinates in degrees, as [48.1, 11.5]",
    )],
};
pub(crate) static DISTANCE: Section = Section {
    name: "distance",
    fields: &[
        r("from", "name", 0.0, 0.0, "a site"),
        r("to", "name", 0.0, 0.0, "another site"),
        r("is", "metres", 0.0, 20_100_000.0, "how far apart"),
    ],
};
pub(crate) static ROLE: Section = Section {
    name: "role",
    fields: &[
        f("keep", "keep", 0.0, 0.0, "nothing", "floors after the draw"),
        f(
            "draw",
            "draw, or all",
            0.0,
            0.0,
            "no caps",
            "caps on the draw; `all` lets a colony be taken apart whole",
        ),
    ],
};
pub(crate) static KEEP: Section = Section {
    name: "keep",
    fields: &[
        f("brood", "frames", 0.0, COUNT, "of the role", "brood frames"),
        f("bees", "bees", 0.0, BEES, "of the role", "bees"),
        f("stores", "grams", 0.0, GRAMS, "of the role", "stores"),
        f("drawn", "frames", 0.0, COUNT, "of the role", "drawn combs"),
    ],
};
pub(crate) static DRAW: Section = Section {
    name: "draw",
    fields: &[
        f("frames", "count", 0.0, COUNT, "of the role", "most frames"),
        f(
            "brood",
            "frames",
            0.0,
            COUNT,
            "of the role",
            "most brood frames",
        ),
        f(
            "bees",
            "bees",
            0.0,
            BEES,
            "of the role",
            "most bees, as a number, `2 frames` or `30 %` of the colony",
        ),
        f(
            "honey",
            "grams",
            0.0,
            GRAMS,
            "of the role",
            "most honey given up",
        ),
    ],
};
pub(crate) static COLONY: Section = Section {
    name: "colony",
    fields: &[
        f("site", "name", 0.0, 0.0, "the only site", "where it stands"),
        f("role", "name", 0.0, 0.0, "production", "its default limits"),
        f(
            "comb",
            "name",
            0.0,
            0.0,
            "Langstroth deep",
            "frame size of its frames",
        ),
        f(
            "hold",
            "text",
            0.0,
            0.0,
            "none",
            "a reason to leave it untouched",
        ),
        f(
            "frames",
            "list of frame",
            0.0,
            0.0,
            "quick counts",
            "frame groups; instead of the quick counts",
        ),
        f(
            "brood",
            "frames",
            0.0,
            200.0,
            "0",
            "quick count: frames of brood",
        ),
        f(
            "sealed",
            "share",
            0.0,
            1.0,
            "57 %",
            "quick count: share of the brood that is sealed",
        ),
        f(
            "stores",
            "frames",
            0.0,
            200.0,
            "0",
            "quick count: frames of stores",
        ),
        f(
            "empty",
            "count",
            0.0,
            200.0,
            "0",
            "quick count: drawn empty frames",
        ),
        f(
            "foundation",
            "count",
            0.0,
            200.0,
            "0",
            "quick count: frames of bare foundation",
        ),
        f(
            "bees",
            "bees",
            0.0,
            BEES,
            "brood frames covered, others half",
            "quick count: all bees of the colony",
        ),
        f(
            "extra bees",
            "bees",
            0.0,
            BEES,
            "0",
            "bees not on the listed frames",
        ),
        f(
            "crop",
            "grams",
            1.0,
            GRAMS,
            "none",
            "expected crop; with flow",
        ),
        f(
            "flow",
            "two dates",
            0.0,
            0.0,
            "none",
            "first and last day of the flow",
        ),
        f(
            "keep",
            "keep",
            0.0,
            0.0,
            "of the role",
            "floors, key by key over the role",
        ),
        f(
            "draw",
            "draw, or all",
            0.0,
            0.0,
            "of the role",
            "caps, key by key over the role",
        ),
    ],
};
pub(crate) static FRAME: Section = Section {
    name: "frame",
    fields: &[
        f("count", "count", 1.0, COUNT, "1", "how many such frames"),
        f("comb", "name", 0.0, 0.0, "of the colony", "frame size"),
        f("brood", "share", 0.0, 1.0, "0", "brood"),
        f(
            "sealed",
            "share",
            0.0,
            1.0,
            "57 %",
            "of the brood, the share sealed",
        ),
        f("stores", "share", 0.0, 1.0, "0", "stores"),
        f(
            "drawn",
            "share",
            0.0,
            1.0,
            "100 %",
            "drawn comb; 0 is bare foundation",
        ),
        f(
            "bees",
            "share",
            0.0,
            1.0,
            "100 % with brood, else 50 %, foundation 0",
            "comb covered with bees",
        ),
        f(
            "queen",
            "yes or no",
            0.0,
            0.0,
            "no",
            "holds the queen and is never drawn",
        ),
    ],
};
pub(crate) static RECIPE: Section = Section {
    name: "recipe",
    fields: &[
        r(
            "lines",
            "list of line",
            0.0,
            0.0,
            "frames of one compartment",
        ),
        f("bees", "bees", 0.0, BEES, "0", "fewest bees after drift"),
    ],
};
pub(crate) static LINE: Section = Section {
    name: "line",
    fields: &[
        f(
            "name",
            "text",
            0.0,
            0.0,
            "line 1, line 2 ...",
            "shown in the plan",
        ),
        f(
            "count",
            "count",
            1.0,
            100.0,
            "1",
            "frames for each compartment",
        ),
        f("comb", "name", 0.0, 0.0, "Langstroth deep", "frame size"),
        f("brood", "share", 0.0, 1.0, "0", "least brood, of the comb"),
        f(
            "sealed",
            "share",
            0.0,
            1.0,
            "0",
            "least sealed brood, of the comb",
        ),
        f(
            "stores",
            "share",
            0.0,
            1.0,
            "0",
            "least stores, of the comb",
        ),
        f("drawn", "share", 0.0, 1.0, "0", "least drawn comb"),
        f(
            "foundation",
            "yes or no",
            0.0,
            0.0,
            "no",
            "bare foundation instead of the four above",
        ),
        f(
            "feed",
            "grams",
            0.0,
            100_000.0,
            "0",
            "in a substitute: what must then be fed for each frame",
        ),
        f(
            "or",
            "list of line",
            0.0,
            0.0,
            "none",
            "substitutes, best first",
        ),
    ],
};
pub(crate) static BOX: Section = Section {
    name: "box",
    fields: &[
        r("count", "count", 0.0, COUNT, "how many boxes"),
        f(
            "compartments",
            "count",
            1.0,
            100.0,
            "1",
            "compartments in each",
        ),
        f(
            "site",
            "name",
            0.0,
            0.0,
            "the only site",
            "where it stands once stocked",
        ),
        r("recipe", "name", 0.0, 0.0, "what each compartment gets"),
        f(
            "worth",
            "number",
            0.001,
            1000.0,
            "1",
            "worth of one stocked compartment",
        ),
        f(
            "whole",
            "yes or no",
            0.0,
            0.0,
            "no",
            "stocked in all compartments or not at all",
        ),
    ],
};
pub(crate) static BATCH: Section = Section {
    name: "batch",
    fields: &[
        r("count", "count", 0.0, BEES, "how many cells"),
        f(
            "for",
            "list of names",
            0.0,
            0.0,
            "any box",
            "the boxes they are for",
        ),
    ],
};
static SECTIONS: &[&Section] = &[
    &TOP, &SETTINGS, &COMB, &SITE, &DISTANCE, &ROLE, &KEEP, &DRAW, &COLONY, &FRAME, &RECIPE, &LINE,
    &BOX, &BATCH,
];

/// Standard frame sizes: name, hundredths of a dm2 of comb on one side, where the size comes from.
pub(crate) const STANDARD: &[(&str, i64, &str)] = &[
    (
        "Langstroth deep",
        880,
        "outside 448 x 232 mm; not checked against a text",
    ),
    ("Langstroth medium", 580, "not checked against a text"),
    (
        "British National",
        768,
        "14 x 8.5 in inside, BS 1300:1960, second hand",
    ),
    ("Zander", 800, "common practice: about 8 dm2"),
    (
        "Deutsch Normal",
        690,
        "outside 370 x 223 mm, German course notes",
    ),
    (
        "Dadant-Blatt",
        1130,
        "outside 435 x 300 mm; not checked against a text",
    ),
    ("mini", 200, "a small mating frame; a choice"),
];

fn schema_of(kind: &str) -> Value {
    if let Some(of) = kind.strip_prefix("map of ") {
        return json!({"type": "object", "additionalProperties": {"$ref": format!("#/$defs/{of}")}});
    }
    match kind {
        "count" => json!({"type": "integer"}),
        "number" => json!({"type": "number"}),
        "text" | "name" => json!({"type": ["string", "number"]}),
        "date" => json!({"type": "string", "format": "date"}),
        "yes or no" => json!({"enum": [true, false, "yes", "no"]}),
        "two dates" => {
            json!({"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2})
        }
        "latitude and longitude" => {
            json!({"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2})
        }
        "list of names" => json!({"type": "array", "items": {"type": ["string", "number"]}}),
        "settings" | "keep" => json!({"$ref": format!("#/$defs/{kind}")}),
        "draw, or all" => json!({"anyOf": [{"$ref": "#/$defs/draw"}, {"const": "all"}]}),
        "number, map or list of batch" => {
            json!({"anyOf": [{"type": "integer"}, {"type": "object"}, {"type": "array", "items": {"$ref": "#/$defs/batch"}}]})
        }
        k if k.starts_with("list of ") => {
            json!({"type": "array", "items": {"$ref": format!("#/$defs/{}", k.trim_start_matches("list of "))}})
        }
        _ => json!({"type": ["string", "number"]}),
    }
}

/// JSON Schema (draft 2020-12) of a scenario.
#[must_use]
pub fn schema() -> Value {
    let object = |s: &Section| {
        let mut props = Map::new();
        for f in s.fields {
            let mut v = schema_of(f.kind);
            v["description"] = json!(format!("{} (default: {})", f.meaning, f.default));
            props.insert(f.key.to_owned(), v);
        }
        let required: Vec<&str> = s
            .fields
            .iter()
            .filter(|f| f.required)
            .map(|f| f.key)
            .collect();
        json!({"type": "object", "properties": props, "required": required, "additionalProperties": false})
    };
    let mut defs = Map::new();
    for s in SECTIONS.iter().skip(1) {
        defs.insert(s.name.to_owned(), object(s));
    }
    let mut top = object(&TOP);
    top["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    top["title"] = json!("Spareframe scenario");
    top["$defs"] = Value::Object(defs);
    top
}

/// The reference of the format, in Markdown.
#[must_use]
pub fn reference_markdown() -> String {
    let mut out = String::from(include_str!("reference.md"));
    for s in SECTIONS {
        out.push_str(&format!(
            "\n## {}\n\n| key | value | range | default | meaning |\n|---|---|---|---|---|\n",
            s.name
        ));
        for f in s.fields {
            let range = if f.most > 0.0 {
                format!("{} to {}", f.least, f.most)
            } else {
                String::new()
            };
            out.push_str(&format!(
                "| `{}` | {} | {} | {} | {} |\n",
                f.key, f.kind, range, f.default, f.meaning
            ));
        }
    }
    out.push_str("\n## Standard frame sizes\n\nBees 130, cells 400 and stores 125 g for each dm2 of a side (second hand, second hand, common practice), both sides.\n\n| name | dm2 a side | source |\n|---|---|---|\n");
    for (name, area, source) in STANDARD {
        out.push_str(&format!(
            "| {name} | {}.{:02} | {source} |\n",
            area / 100,
            area % 100
        ));
    }
    out
}
