//! The keys of a plan, for reading it back. What `verify` computes anew is not read.

use crate::reading::Kind::{Count, ListOf, Name, Section as One, Text, Unread};
use crate::reading::{Section, section};

/// Ranges; nothing that a scenario may hold lies beyond. Frame groups are as many as fit a file.
const COUNT: f64 = 10_000.0;
const GROUPS: f64 = 1_000_000.0;
const BEES_MOST: f64 = 1_000_000_000.0;

section! { PLAN = "plan" {
    "spareframe_plan": Count, [1.0, 1.0], "required", "version of the format, 1";
    "title": Text, "none", "title of the scenario";
    "day": Text, "none", "stocking day";
    "headline": One("headline"), "none", "the answer in short";
    "kept": Unread, "none", "what is kept of an earlier plan";
    "held_back_by": Unread, "none", "limits that keep compartments empty";
    "wishes": Unread, "none", "frames that colonies are to give at least";
    "steps": Unread, "none", "what to do, in order";
    "compartments": ListOf("compartment"), "required", "what goes where";
    "colonies": Unread, "none", "each colony opened";
    "on_hold": Unread, "none", "colonies left untouched";
    "carry": Unread, "none", "what to bring to each site";
    "cautions": Unread, "none", "what to mind";
    "estimate_assumptions": Unread, "none", "what the honey estimate assumes";
} }
section! { HEADLINE = "headline" {
    "answer": Unread, "none", "kind of answer";
    "compartments_stocked": Unread, "none", "compartments stocked";
    "compartments_in_all": Unread, "none", "compartments there are";
    "kinds": Unread, "none", "the same by kind of box";
    "proof": Unread, "none", "how sure it is";
    "worth": Unread, "none", "worth";
    "honey_given_up_charged_estimate_kg": Unread, "none", "honey given up, charged";
    "honey_given_up_simulated_estimate_kg": Unread, "none", "honey given up, simulated";
    "colonies_opened": Unread, "none", "colonies opened";
    "bees_taken": Unread, "none", "bees taken";
    "bees_shaken": Unread, "none", "bees shaken";
} }
section! { COMPARTMENT = "compartment" {
    "box_kind": Name, "required", "kind of box";
    "box_no": Count, [1.0, COUNT], "required", "which box, from 1";
    "compartment": Count, [1.0, COUNT], "required", "which compartment, from 1";
    "site": Unread, "none", "where it stands";
    "frames": ListOf("frames"), "required", "its frames";
    "bees": ListOf("bees"), "required", "its bees";
    "bees_staying": Unread, "none", "bees that stay";
    "bees_needed": Unread, "none", "fewest bees";
    "bees_to_cover_brood": Unread, "none", "bees that would cover the brood";
    "feed_kg": Unread, "none", "feed";
} }
section! { FRAMES = "frames" {
    "line": Name, "required", "recipe line";
    "frames": Count, [0.0, COUNT], "required", "how many";
    "colony": Name, "none", "colony they come from";
    "frame_group": Count, [1.0, GROUPS], "none", "frame group, from 1";
    "store_room_entry": Count, [1.0, GROUPS], "none", "entry of the store room, from 1";
    "place": Unread, "none", "where they hang or lie";
    "each_holds": Unread, "none", "what each holds";
    "substitute": Unread, "none", "substitute, from 1";
    "feed_kg": Unread, "none", "feed";
} }
section! { BEES = "bees" {
    "colony": Name, "required", "colony they come from";
    "bees": Count, [0.0, BEES_MOST], "required", "bees taken";
} }

/// Every section, the whole first.
pub(crate) static SECTIONS: &[&Section] = &[&PLAN, &HEADLINE, &COMPARTMENT, &FRAMES, &BEES];
