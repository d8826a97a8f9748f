//! The keys of a plan, for reading it back. `verify` computes anew what it can; `compare` has the
//! plans alone and reads more.

use crate::reading::Kind::{Count, ListOf, Name, Number, Section as One, Text, Unread};
use crate::reading::{Section, section};

/// Ranges; nothing that a scenario may hold lies beyond. Frame groups are as many as fit a file.
const COUNT: f64 = 10_000.0;
const GROUPS: f64 = 1_000_000.0;
/// Boxes or compartments of a kind.
const IN_ALL: f64 = 1_000_000_000.0;
/// kg of honey equivalent for one compartment.
const FEED: f64 = 1_000_000.0;
const BEES_MOST: f64 = 1_000_000_000.0;

section! { PLAN = "plan" {
    "spareframe_plan": Count, [1.0, 2.0], "required", "version of the format, 1 or 2";
    "title": Text, "none", "title of the scenario";
    "day": Text, "none", "stocking day";
    "headline": One("headline"), "none", "the answer in short";
    "kept": Unread, "none", "what is kept of an earlier plan";
    "held_back_by": Unread, "none", "limits that keep compartments empty";
    "wishes": Unread, "none", "frames that colonies are to give at least";
    "steps": Unread, "none", "what to do, in order";
    "compartments": ListOf("compartment"), "required", "what goes where";
    "begun": ListOf("compartment"), "none", "compartments that are begun and not stocked";
    "colonies": ListOf("colony"), "none", "each colony opened";
    "on_hold": ListOf("on_hold"), "none", "colonies left untouched";
    "carry": Unread, "none", "what to bring to each site";
    "cautions": ListOf("caution"), "none", "what to mind";
    "estimate_assumptions": Unread, "none", "what the honey estimate assumes";
} }
section! { HEADLINE = "headline" {
    "answer": Unread, "none", "kind of answer";
    "compartments_stocked": Unread, "none", "compartments stocked";
    "compartments_in_all": Unread, "none", "compartments there are";
    "kinds": ListOf("kind"), "none", "the same by kind of box";
    "proof": Unread, "none", "how sure it is";
    "at_most": Unread, "none", "the most that was to be stocked";
    "worth": Unread, "none", "worth";
    "cost_g": Unread, "none", "cost";
    "honey_given_up_g": Unread, "none", "honey given up, charged";
    "honey_given_up_simulated_g": Unread, "none", "honey given up, simulated";
    "burden": Unread, "none", "points of burden";
    "substitutes": Unread, "none", "steps to substitutes";
    "frames_drawn_otherwise": Unread, "none", "frames drawn otherwise";
    "prices_g": Unread, "none", "what the parts of the cost weigh";
    "honey_given_up_charged_estimate_kg": Unread, "none", "honey given up, charged, in format 1";
    "honey_given_up_simulated_estimate_kg": Unread, "none", "honey given up, simulated, in format 1";
    "colonies_opened": Unread, "none", "colonies opened";
    "bees_taken": Unread, "none", "bees taken";
    "bees_shaken": Unread, "none", "bees shaken, in format 1";
} }
section! { COMPARTMENT = "compartment" {
    "box_kind": Name, "required", "kind of box";
    "box_no": Count, [1.0, COUNT], "required", "which box, from 1";
    "compartment": Count, [1.0, COUNT], "required", "which compartment, from 1";
    "site": Name, "none", "where it stands";
    "donor_colonies": Unread, "none", "colonies that anything in it is from";
    "frames": ListOf("frames"), "required", "its frames";
    "bees": ListOf("bees"), "required", "its bees";
    "bees_staying": Unread, "none", "bees that stay";
    "bees_needed": Unread, "none", "fewest bees";
    "bees_to_cover_brood": Unread, "none", "bees that would cover the brood";
    "feed_kg": Number, [0.0, FEED], "none", "feed";
    "done": Text, "none", "how far it is done";
} }
section! { FRAMES = "frames" {
    "line": Name, "required", "recipe line";
    "frames": Count, [0.0, COUNT], "required", "how many";
    "colony": Name, "none", "colony they come from";
    "frame_group": Count, [1.0, GROUPS], "none", "frame group, from 1";
    "store_room_entry": Count, [1.0, GROUPS], "none", "entry of the store room, from 1";
    "place": Text, "none", "where they hang or lie";
    "each_holds": One("each_holds"), "none", "what each holds";
    "substitute": Unread, "none", "substitute, from 1";
    "feed_kg": Unread, "none", "feed";
    "done": Unread, "none", "frames that are already in it";
} }
section! { BEES = "bees" {
    "colony": Name, "required", "colony they come from";
    "bees": Count, [0.0, BEES_MOST], "required", "bees taken";
    "riding": Count, [0.0, BEES_MOST], "none", "of those, bees on brood frames";
    "covered_frames": Unread, "none", "the same in covered frames";
    "done": Unread, "none", "bees that are already in it";
} }

section! { KIND = "kind" {
    "box_kind": Name, "required", "kind of box";
    "site": Unread, "none", "where the boxes stand";
    "compartments_stocked": Unread, "none", "compartments stocked";
    "compartments_in_all": Count, [0.0, IN_ALL], "none", "compartments there are";
    "boxes_used": Unread, "none", "boxes used";
    "boxes_in_all": Count, [0.0, IN_ALL], "none", "boxes there are";
} }
section! { HOLDS = "each_holds" {
    "comb": Name, "required", "frame size";
    "brood_share": Number, [0.0, 1.0], "required", "brood, share of the comb";
    "sealed_share": Number, [0.0, 1.0], "required", "sealed brood, share of the comb";
    "stores_share": Number, [0.0, 1.0], "required", "stores, share of the comb";
    "drawn_share": Number, [0.0, 1.0], "required", "drawn, share of the comb";
    "bees": Unread, "none", "bees on it";
    "bees_share": Unread, "none", "covered with bees, share of the comb, in format 1";
} }
section! { COLONY = "colony" {
    "colony": Name, "required", "its name";
    "site": Name, "none", "where it stands";
    "role": Unread, "none", "its role";
    "done": Unread, "none", "what has already left";
    "leaving": Unread, "none", "frames that leave";
    "adding": Unread, "none", "bees to add";
    "gaps_filled_with": ListOf("gap"), "none", "what fills the gaps";
    "covered_frames": Unread, "none", "bees taken, in covered frames";
    "bees_taken": Unread, "none", "bees taken";
    "bees_shaken": Unread, "none", "bees shaken, in format 1";
    "bees_shaken_back": Unread, "none", "bees shaken back, in format 1";
    "frames_before": Unread, "none", "frames before the draw";
    "frames_after": Unread, "none", "frames after the draw";
    "taken_apart": Unread, "none", "no frame stays";
    "queen_located": Unread, "none", "a group holds the queen";
    "brood_frames": Unread, "none", "brood before and after";
    "bees": Unread, "none", "bees before and after";
    "stores_kg": Unread, "none", "stores before and after";
    "drawn_frames": Unread, "none", "drawn comb before and after";
    "brood_covered_percent": Unread, "none", "cover before and after";
    "gives_percent": Unread, "none", "what it gives of what it has";
    "burden": Unread, "none", "points of burden";
    "honey_given_up_g": Unread, "none", "honey given up, charged";
    "honey_given_up_simulated_g": Unread, "none", "honey given up, simulated";
    "honey_given_up_charged_estimate_kg": Unread, "none", "honey given up, charged, in format 1";
    "honey_given_up_simulated_estimate_kg": Unread, "none", "honey given up, simulated, in format 1";
} }
section! { GAP = "gap" {
    "frames": Count, [0.0, COUNT], "required", "how many";
    "store_room_entry": Count, [1.0, GROUPS], "required", "entry of the store room, from 1";
    "place": Text, "none", "where they lie";
    "each_holds": One("each_holds"), "none", "what each holds";
} }
section! { ON_HOLD = "on_hold" {
    "colony": Name, "required", "its name";
    "reason": Text, "none", "why";
} }
section! { CAUTION = "caution" {
    "id": Name, "none", "its id";
    "text": Text, "required", "what to mind";
} }

/// Every section, the whole first. Those of `compare` alone are left out, so that `verify` points
/// nobody to what it does not read.
pub(crate) static SECTIONS: &[&Section] = &[&PLAN, &HEADLINE, &COMPARTMENT, &FRAMES, &BEES];
