//! The keys of a plan, for reading it back. Those that are read stand here; all others are those of the record, by its
//! schema, and are left unread. `verify` computes anew what it can; `compare` has the plans alone and reads more.

use crate::output::plan_schema;
use crate::reading::Kind::{Count, ListOf, Name, Number, Section as One, Text, Unread};
use crate::reading::{Field, Section, section};
use serde_json::Value;
use std::sync::LazyLock;

/// Ranges; nothing that a scenario may hold lies beyond. Frame groups are as many as fit a file.
const COUNT: f64 = 10_000.0;
const GROUPS: f64 = 1_000_000.0;
/// Boxes or compartments of a kind.
const IN_ALL: f64 = 1_000_000_000.0;
/// kg of honey equivalent for one compartment.
const FEED: f64 = 1_000_000.0;
const BEES_MOST: f64 = 1_000_000_000.0;

section! { READ_PLAN = "plan" {
    "spareframe_plan": Count, [1.0, 2.0], "required", "version of the format, 1 or 2";
    "title": Text, "none", "title of the scenario";
    "day": Text, "none", "stocking day";
    "headline": One("headline"), "none", "the answer in short";
    "compartments": ListOf("compartment"), "required", "what goes where";
    "begun": ListOf("compartment"), "none", "compartments that are begun and not stocked";
    "standing": ListOf("standing"), "none", "compartments in which bees stand and to which nothing is done";
    "colonies": ListOf("colony"), "none", "each colony opened";
    "on_hold": ListOf("on_hold"), "none", "colonies left untouched";
    "cautions": ListOf("caution"), "none", "what to mind";
} }
section! { READ_HEADLINE = "headline" {
    "kinds": ListOf("kind"), "none", "the same by kind of box";
} }
section! { READ_COMPARTMENT = "compartment" {
    "box_kind": Name, "required", "kind of box";
    "box_no": Count, [1.0, COUNT], "required", "which box, from 1";
    "compartment": Count, [1.0, COUNT], "required", "which compartment, from 1";
    "site": Name, "none", "where it stands";
    "frames": ListOf("frames"), "required", "its frames";
    "bees": ListOf("bees"), "required", "its bees";
    "feed_kg": Number, [0.0, FEED], "none", "feed";
    "done": Text, "none", "how far it is done";
    "stands": Unread, "none", "what stands in it";
} }
section! { READ_STANDING = "standing" {
    "box_kind": Name, "required", "kind of box";
    "box_no": Count, [1.0, COUNT], "required", "which box, from 1";
} }
section! { READ_FRAMES = "frames" {
    "line": Name, "required", "recipe line";
    "frames": Count, [0.0, COUNT], "required", "how many";
    "colony": Name, "none", "colony they come from";
    "frame_group": Count, [1.0, GROUPS], "none", "frame group, from 1";
    "store_room_entry": Count, [1.0, GROUPS], "none", "entry of the store room, from 1";
    "place": Text, "none", "where they hang or lie";
    "each_holds": One("each_holds"), "none", "what each holds";
} }
section! { READ_BEES = "bees" {
    "colony": Name, "required", "colony they come from";
    "bees": Count, [0.0, BEES_MOST], "required", "bees taken";
    "riding": Count, [0.0, BEES_MOST], "none", "of those, bees on brood frames";
} }
section! { READ_KIND = "kind" {
    "box_kind": Name, "required", "kind of box";
    "compartments_in_all": Count, [0.0, IN_ALL], "none", "compartments there are";
    "boxes_in_all": Count, [0.0, IN_ALL], "none", "boxes there are";
} }
section! { READ_HOLDS = "each_holds" {
    "comb": Name, "required", "frame size";
    "brood_share": Number, [0.0, 1.0], "required", "brood, share of the comb";
    "sealed_share": Number, [0.0, 1.0], "required", "sealed brood, share of the comb";
    "stores_share": Number, [0.0, 1.0], "required", "stores, share of the comb";
    "drawn_share": Number, [0.0, 1.0], "required", "drawn, share of the comb";
} }
section! { READ_COLONY = "colony" {
    "colony": Name, "required", "its name";
    "site": Name, "none", "where it stands";
    "gaps_filled_with": ListOf("gap"), "none", "what fills the gaps";
} }
section! { READ_GAP = "gap" {
    "frames": Count, [0.0, COUNT], "required", "how many";
    "store_room_entry": Count, [1.0, GROUPS], "required", "entry of the store room, from 1";
    "place": Text, "none", "where they lie";
    "each_holds": One("each_holds"), "none", "what each holds";
} }
section! { READ_ON_HOLD = "on_hold" {
    "colony": Name, "required", "its name";
    "reason": Text, "none", "why";
} }
section! { READ_CAUTION = "caution" {
    "id": Name, "none", "its id";
    "text": Text, "required", "what to mind";
} }

/// The whole.
pub(crate) static PLAN: LazyLock<Section> = LazyLock::new(|| whole(&READ_PLAN, None, &[]));
/// The answer in short.
pub(crate) static HEADLINE: LazyLock<Section> = LazyLock::new(|| {
    whole(
        &READ_HEADLINE,
        Some("Headline"),
        &[
            "honey_given_up_charged_estimate_kg",
            "honey_given_up_simulated_estimate_kg",
            "bees_shaken",
        ],
    )
});
/// What goes into one compartment.
pub(crate) static COMPARTMENT: LazyLock<Section> =
    LazyLock::new(|| whole(&READ_COMPARTMENT, Some("CompartmentReport"), &[]));
/// What stands and is left in peace.
pub(crate) static STANDING: LazyLock<Section> =
    LazyLock::new(|| whole(&READ_STANDING, Some("LeftReport"), &[]));
/// Frames of one origin.
pub(crate) static FRAMES: LazyLock<Section> =
    LazyLock::new(|| whole(&READ_FRAMES, Some("FramesReport"), &[]));
/// Bees of one colony.
pub(crate) static BEES: LazyLock<Section> =
    LazyLock::new(|| whole(&READ_BEES, Some("BeesReport"), &[]));
/// Compartments of one kind of box.
pub(crate) static KIND: LazyLock<Section> =
    LazyLock::new(|| whole(&READ_KIND, Some("KindReport"), &[]));
/// What one frame holds.
pub(crate) static HOLDS: LazyLock<Section> =
    LazyLock::new(|| whole(&READ_HOLDS, Some("Holds"), &["bees_share"]));
/// One colony opened.
pub(crate) static COLONY: LazyLock<Section> = LazyLock::new(|| {
    whole(
        &READ_COLONY,
        Some("ColonyReport"),
        &[
            "bees_shaken",
            "bees_shaken_back",
            "honey_given_up_charged_estimate_kg",
            "honey_given_up_simulated_estimate_kg",
        ],
    )
});
/// What fills gaps.
pub(crate) static GAP: LazyLock<Section> = LazyLock::new(|| whole(&READ_GAP, Some("Filling"), &[]));
/// A colony on hold.
pub(crate) static ON_HOLD: LazyLock<Section> =
    LazyLock::new(|| whole(&READ_ON_HOLD, Some("OnHold"), &[]));
/// Something to mind.
pub(crate) static CAUTION: LazyLock<Section> =
    LazyLock::new(|| whole(&READ_CAUTION, Some("Caution"), &[]));

/// A section with every key that the record has, and those that it had in format 1.
fn whole(read: &'static Section, of: Option<&str>, first_format: &[&'static str]) -> Section {
    let mut keys = recorded(of);
    keys.extend(first_format.iter().map(|key| (*key).to_owned()));
    let known = |key: &String| read.fields.iter().any(|field| field.key == *key);
    let unread = keys.into_iter().filter(|key| !known(key)).map(|key| Field {
        // Once for each key and run of the program.
        key: key.leak(),
        kind: Unread,
        range: None,
        default: "none",
        meaning: "",
        since: 1,
    });
    let read_too = read.fields.iter().map(|field| Field { ..*field });
    let fields: Vec<Field> = read_too.chain(unread).collect();
    Section {
        name: read.name,
        fields: fields.leak(),
    }
}

/// The keys of the record, or of one of its parts.
fn recorded(of: Option<&str>) -> Vec<String> {
    static SCHEMA: LazyLock<Value> = LazyLock::new(plan_schema);
    let part = match of {
        Some(name) => &SCHEMA["$defs"][name],
        None => &SCHEMA,
    };
    let keys = part["properties"].as_object();
    keys.map_or_else(Vec::new, |keys| keys.keys().cloned().collect())
}

/// Every section, the whole first. Those of `compare` alone are left out, so that `verify` points
/// nobody to what it does not read.
pub(crate) static SECTIONS: LazyLock<[&Section; 5]> =
    LazyLock::new(|| [&PLAN, &HEADLINE, &COMPARTMENT, &FRAMES, &BEES]);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_that_is_read_is_one_of_the_record() {
        for (read, of) in [
            (&READ_PLAN, None),
            (&READ_HEADLINE, Some("Headline")),
            (&READ_COMPARTMENT, Some("CompartmentReport")),
            (&READ_FRAMES, Some("FramesReport")),
            (&READ_BEES, Some("BeesReport")),
            (&READ_KIND, Some("KindReport")),
            (&READ_HOLDS, Some("Holds")),
            (&READ_COLONY, Some("ColonyReport")),
            (&READ_GAP, Some("Filling")),
            (&READ_STANDING, Some("LeftReport")),
            (&READ_ON_HOLD, Some("OnHold")),
            (&READ_CAUTION, Some("Caution")),
        ] {
            let keys = recorded(of);
            assert!(!keys.is_empty(), "{of:?}");
            for field in read.fields {
                assert!(
                    keys.iter().any(|key| key == field.key),
                    "{of:?}: {}",
                    field.key
                );
            }
        }
    }
}
