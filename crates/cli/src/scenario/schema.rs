//! The format as JSON Schema, for editors.

use super::fields::{BATCH, SECTIONS, TOP};
use crate::reading::{FEWEST_BARE, Field, Kind, Section, amount, pattern};
use serde_json::{Map, Value, json};

/// JSON Schema (draft 2020-12) of a scenario.
#[must_use]
pub fn schema() -> Value {
    let mut top = object(&TOP);
    let defs: Map<String, Value> = SECTIONS
        .iter()
        .skip(1)
        .map(|s| (s.name.to_owned(), object(s)))
        .collect();
    top["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    top["title"] = json!("Spareframe scenario");
    top["$defs"] = Value::Object(defs);
    top
}

fn object(section: &Section) -> Value {
    let property = |f: &Field| {
        let mut value = of_kind(f.kind, f.range);
        value["description"] = json!(hover(f));
        (f.key.to_owned(), value)
    };
    let properties: Map<String, Value> = section.fields.iter().map(property).collect();
    let required: Vec<&str> = section
        .fields
        .iter()
        .filter(|f| f.required())
        .map(|f| f.key)
        .collect();
    json!({
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    })
}

/// What an editor shows beside a key.
fn hover(f: &Field) -> String {
    let range = f.range.map_or(String::new(), |(least, most)| {
        let (least, most) = (amount(f.kind, least), amount(f.kind, most));
        format!(", {least} to {most}")
    });
    let default = if f.required() {
        "required".to_owned()
    } else {
        format!("default: {}", f.default)
    };
    format!("{} ({}{range}; {default})", f.meaning, f.kind.title())
}

fn reference(section: &str) -> Value {
    json!({"$ref": format!("#/$defs/{section}")})
}

fn of_kind(kind: Kind, range: Option<(f64, f64)>) -> Value {
    let name = json!({"type": ["string", "number"], "maxLength": 200});
    match kind {
        Kind::Count
        | Kind::Number
        | Kind::Area
        | Kind::Share
        | Kind::Frames
        | Kind::Combs
        | Kind::Bees => {
            json!({"anyOf": [number(kind, range), {"type": "string", "pattern": pattern(kind)}]})
        }
        Kind::Range(of) => {
            let text = json!({"type": "string", "pattern": pattern(kind)});
            match of_kind(*of, range) {
                // Where a bare number is read, it is one of the ways.
                one if one.get("anyOf").is_some() => json!({"anyOf": [one, text]}),
                _ => text,
            }
        }
        Kind::OneOf(words) => json!({"enum": words}),
        Kind::Grams | Kind::Metres | Kind::Days | Kind::Hours => {
            json!({"type": "string", "pattern": pattern(kind)})
        }
        Kind::Cap(of) => {
            let mut ways = vec![of_kind(*of, range), json!({"const": "none"})];
            if *of == Kind::Bees {
                ways.push(json!({"type": "string", "pattern": "^ *[0-9.]+ *% *$"}));
            }
            json!({"anyOf": ways})
        }
        Kind::Text | Kind::Name => name,
        Kind::Names => json!({"type": "array", "minItems": 1, "items": name}),
        Kind::Date => date(),
        Kind::TwoDates => {
            json!({"type": "array", "minItems": 2, "maxItems": 2, "items": date()})
        }
        Kind::Dates => json!({"anyOf": [
            date(),
            {"type": "array", "minItems": 1, "items": date()},
        ]}),
        Kind::Rounds => json!({"anyOf": [
            {"type": "array", "minItems": 1, "items": date()},
            {"type": "string", "pattern": "^ *every "},
        ]}),
        Kind::PerRound => {
            let count = of_kind(Kind::Count, range);
            json!({"anyOf": [count, {"type": "array", "minItems": 1, "items": count}]})
        }
        Kind::CountOrMost => {
            json!({"anyOf": [of_kind(Kind::Count, range), {"const": "most"}]})
        }
        Kind::Coordinates => json!({
            "type": "array",
            "minItems": 2,
            "maxItems": 2,
            "prefixItems": [
                {"type": "number", "minimum": -90, "maximum": 90},
                {"type": "number", "minimum": -180, "maximum": 180},
            ],
        }),
        Kind::Flag => json!({"enum": [true, false, "yes", "no"]}),
        Kind::Hold => json!({"type": ["string", "number", "boolean", "null"]}),
        Kind::Cells => {
            let range = BATCH.fields.iter().find_map(|f| f.range);
            let count = of_kind(Kind::Count, range);
            json!({"anyOf": [
                count,
                {"type": "object", "additionalProperties": count},
                {"type": "array", "items": reference(BATCH.name)},
            ]})
        }
        Kind::DrawOrAll => json!({"anyOf": [reference("draw"), {"const": "all"}]}),
        Kind::Section(of) => reference(of),
        // A site may be named and nothing said about it.
        Kind::MapOf("site") => json!({
            "type": "object",
            "minProperties": 1,
            "additionalProperties": {"anyOf": [reference("site"), {"type": "null"}]},
        }),
        Kind::MapOf(of) => json!({
            "type": "object",
            "minProperties": 1,
            "additionalProperties": reference(of),
        }),
        Kind::MapOfBees => {
            let bees = of_kind(Kind::Bees, range);
            json!({"type": "object", "additionalProperties": bees})
        }
        // Nothing is done yet, or stands.
        Kind::ListOf(of @ ("done" | "standing")) => {
            json!({"type": "array", "items": reference(of)})
        }
        Kind::ListOf(of) => json!({"type": "array", "minItems": 1, "items": reference(of)}),
        Kind::Unread => json!({}),
    }
}

fn number(kind: Kind, range: Option<(f64, f64)>) -> Value {
    if let (Kind::Bees, Some((least, most))) = (kind, range) {
        // Fewer may be bees or frames.
        let some = json!({"type": "number", "minimum": least.max(FEWEST_BARE), "maximum": most});
        return json!({"anyOf": [{"const": 0}, some]});
    }
    let mut value = json!({"type": if kind == Kind::Count { "integer" } else { "number" }});
    if let Some((least, most)) = range {
        value["minimum"] = json!(least);
        value["maximum"] = json!(most);
    }
    value
}

fn date() -> Value {
    json!({"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"})
}
