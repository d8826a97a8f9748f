//! The format as tables: reader, schema and reference are driven by them.

use crate::reading::Kind::{
    Area, Bees, Cap, Cells, Combs, Coordinates, Count, CountOrMost, Date, Dates, Days, DrawOrAll,
    Flag, Frames, Grams, Hold, Hours, ListOf, MapOf, MapOfBees, Metres, Name, Names, Number, OneOf,
    PerRound, Range, Rounds, Section as One, Share, Text, TwoDates,
};
use crate::reading::{Section, section};

/// Ranges that several keys share; beyond any apiary, and far below what a sum can hold.
pub(crate) const COUNT: f64 = 10_000.0;
const BEES: f64 = 1_000_000.0;
const GRAMS: f64 = 10_000_000.0;
/// Dearest part of the cost (a choice: a hundred kilograms forbid as well as any price).
const PRICE: f64 = 100_000.0;
/// The version of the format that is written here.
pub(crate) const VERSION: f64 = 2.0;

section! { TOP = "scenario" {
    "spareframe": Count, [1.0, VERSION], "required", "version of the format, 2; files of version 1 are read too";
    "title": Text, "none", "what the plan is called";
    "day": Date, "none", "the stocking day, as 2031-05-20";
    "counted": Date, "`day`", "the day on which colonies and what stands were counted, before that day's work, where they do not say otherwise; what there is on `day` is then expected, not counted", since 2;
    "settings": One("settings"), "all defaults", "drift, riding bees, colony model, honey cap, prices";
    "combs": MapOf("comb"), "standard sizes only", "own frame sizes by name";
    "sites": MapOf("site"), "required", "places by name";
    "distances": ListOf("distance"), "from coordinates", "distances between sites; these override coordinates";
    "roles": MapOf("role"), "production and nucleus", "default limits by name";
    "colonies": MapOf("colony"), "required", "donors by name";
    "store room": ListOf("frame"), "none", "frames not in a colony, without brood and bees";
    "recipes": MapOf("recipe"), "required", "what a compartment is stocked with, by name";
    "boxes": MapOf("box"), "required", "kinds of box by name";
    "cells": Cells, "not counted", "ripe cells or queens: one number for all, a number by box name, or batches; a box that is not named has none";
    "rearing": One("rearing"), "cells ripe the day after stocking", "when queens were grafted, and what the calendar counts with";
    "dearth": TwoDates, "none", "first and last day on which bees find nothing and live from their stores; for later days", since 2;
    "standing": ListOf("standing"), "nothing", "compartments in which bees stand from an earlier day", since 2;
    "requeen": ListOf("requeen"), "none", "colonies that are to get a mated queen out of what stands, in this order", since 2;
    "season": One("season"), "no season is planned", "rounds to come, and what their queens are for", since 2;
    "done": ListOf("done"), "nothing", "what is already in compartments today; all else stays as it was before";
} }
section! { SETTINGS = "settings" {
    "homing distance": Metres, [0.0, 100_000.0], "3 km (common practice)", "at or beyond it no bees fly home";
    "flying share": Share, [0.0, 1.0], "33 % (a choice)", "share of the bees taken that flies home from nearer by";
    "forager mortality": Share, [0.001, 0.35], "15.4 % a day", "foragers lost each day in the colony model";
    "season shift": Days, [-183.0, 183.0], "0 days", "by how much the bees' year runs later than in central Europe; less than 0 is earlier", since 2;
    "rides": Share, [0.0, 1.0], "50 % (a choice)", "of the bees on a brood frame that leaves, the share that leaves on it at least; 0 % is brushed off", since 2;
    "honey cap": Grams, [0.0, GRAMS], "none", "most honey all colonies together may give up";
    "prices": One("prices"), "all defaults", "what else counts beside honey given up, each weighed in honey", since 2;
} }
section! { PRICES = "prices" {
    "burden": Grams, [0.0, PRICE], "5 g (a choice)", "honey that you would give to spare colonies one point of burden; one that gives 20 % of its bees or brood bears 20 points, one that gives 40 % bears 60", since 2;
    "substitute": Grams, [0.0, PRICE], "50 g (a choice)", "honey that you would give to have a frame one step further up the order of preference", since 2;
    "hive opened": Grams, [0.0, PRICE], "20 g (a choice)", "honey that you would give for a hive less to open", since 2;
    "frame drawn otherwise": Grams, [0.0, PRICE], "100 g (a choice)", "honey that you would give to keep one more frame as in the earlier plan, or one more comb or compartment as in the season that was shared; for `--near` only", since 2;
} }
section! { COMB = "comb" {
    "area": Area, [0.1, 100.0], "none", "comb inside the frame, one side, in dm2; sets those of the three figures below that are not stated";
    "bees": Number, [1.0, 100_000.0], "260 a dm2", "bees on a frame covered on both sides";
    "cells": Count, [1.0, 100_000.0], "800 a dm2", "worker cells, both sides";
    "stores": Grams, [1.0, 50_000.0], "250 g a dm2", "honey in a full frame";
} }
section! { SITE = "site" {
    "at": Coordinates, "none", "coordinates in degrees, as [48.1, 11.5]";
} }
section! { DISTANCE = "distance" {
    "from": Name, "required", "a site";
    "to": Name, "required", "another site";
    "is": Metres, [0.0, 20_100_000.0], "required", "how far apart";
} }
section! { ROLE = "role" {
    "keep": One("keep"), "nothing", "floors after the draw";
    "draw": DrawOrAll, "no caps", "caps on the draw; `all` lets a colony be taken apart whole, and sets `keep` of the role aside";
    "rides": Share, [0.0, 1.0], "of the settings", "of the bees on a brood frame that leaves, the share that leaves on it at least", since 2;
} }
section! { KEEP = "keep" {
    "brood": Combs, [0.0, COUNT], "of the role", "brood, as `4 frames` full of it or as `6 combs` of 65 % each";
    "bees": Bees, [0.0, BEES], "of the role", "bees, as a number or as `4 frames` of the colony's own comb";
    "stores": Grams, [0.0, GRAMS], "of the role", "stores";
    "drawn": Frames, [0.0, COUNT], "of the role", "drawn combs";
    "covered": Share, [0.0, 2.0], "of the role", "bees that stay, of those that would cover the brood that stays; a colony below it beforehand keeps what it has", since 2;
} }
section! { DRAW = "draw" {
    "frames": Cap(&Count), [0.0, COUNT], "of the role", "most frames";
    "brood": Cap(&Frames), [0.0, COUNT], "of the role", "most brood frames";
    "bees": Cap(&Bees), [0.0, BEES], "of the role", "most bees, as a number, as `2 frames` of the colony's own comb or `30 %` of its bees";
    "honey": Cap(&Grams), [0.0, GRAMS], "of the role", "most honey given up";
} }
section! { COLONY = "colony" {
    "site": Name, "the only site", "where it stands";
    "role": Name, "production", "its default limits";
    "comb": Name, "Langstroth deep", "frame size of its frames";
    "hold": Hold, "no", "a reason to leave it untouched";
    "frames": ListOf("frame"), "quick counts", "frame groups; instead of the quick counts";
    "all frames": Count, [1.0, 400.0], "none", "frames that there are in the hive; no more may be counted", since 2;
    "brood": Combs, [0.0, 200.0], "0", "quick count: combs with brood, as `6 combs`, 65 % of each, or `6 combs at 70 %`; or as `4.2 full frames`";
    "sealed": Share, [0.0, 1.0], "57 %", "quick count: share of the brood that is sealed";
    "stores": Combs, [0.0, 200.0], "0", "quick count: combs with stores, as `4 combs`, 80 % of each, or `4 combs at 90 %`; or as `3.2 full frames`";
    "empty": Count, [0.0, 200.0], "0", "quick count: drawn empty frames";
    "foundation": Count, [0.0, 200.0], "0", "quick count: frames of bare foundation";
    "bees": Bees, [0.0, BEES], "brood frames covered, stores half", "quick count: all bees of the colony but `extra bees`";
    "extra bees": Bees, [0.0, BEES], "0", "bees not on the frames, beside those of `bees`; no plan takes them, but of a colony with `draw: all`";
    "give": Count, [0.0, COUNT], "0", "a wish: fewest frames that leave; each must fill a recipe line";
    "crop": Grams, [1.0, GRAMS], "none", "expected crop; with flow";
    "flow": TwoDates, "none", "first and last day of the flow";
    "counted": Date, "of the scenario", "the day on which it was counted, before that day's work", since 2;
    "since": ListOf("event"), "nothing", "what left it and what came into it since it was counted, oldest first", since 2;
    "lays": Count, [1.0, 10_000.0], "from its own brood", "eggs a day that its queen would lay in a colony without end, as an earlier count says; where the present count was taken within 21 days after a draw, so that its own brood misleads", since 2;
    "requeened": Date, "long ago", "the day its present queen went in, a mated one in place of the old; she lays as a young queen once she is out of her cage, and nobody did from the day the old one was taken out", since 2;
    "keep": One("keep"), "of the role", "floors, key by key over the role";
    "draw": DrawOrAll, "of the role", "caps, key by key over the role; `none` lifts one, `all` lifts the role's floors and caps";
    "rides": Share, [0.0, 1.0], "of the role", "of the bees on a brood frame that leaves, the share that leaves on it at least", since 2;
} }
section! { FRAME = "frame" {
    "count": Count, [0.0, COUNT], "1", "how many such frames; 0 where none is left of those that were counted";
    "place": Text, "none", "where they hang or lie, as `upper box, frames 3 to 6`; shown in the plan";
    "comb": Name, "of the colony; in the store room that of all colonies, if they have one, else Langstroth deep", "frame size";
    "brood": Share, [0.0, 1.0], "0", "brood";
    "sealed": Share, [0.0, 1.0], "57 %", "of the brood, the share sealed";
    "stores": Share, [0.0, 1.0], "0", "stores";
    "drawn": Share, [0.0, 1.0], "100 %", "drawn comb; 0 is bare foundation";
    "bees": Share, [0.0, 1.0], "100 % with brood, else 50 %, foundation 0", "comb covered with bees";
    "queen": Flag, "no", "holds the queen and is never drawn";
    "give": Count, [0.0, COUNT], "0", "a wish: fewest of these frames that leave; only in a colony";
} }
section! { EVENT = "event" {
    "day": Date, "required", "the day; not before the count";
    "gone": ListOf("gone"), "none", "frames that left";
    "bees": Bees, [0.0, BEES], "0", "bees that left, on frames or not, before drift; as a number or as `2 frames` of the colony's own comb";
    "got": ListOf("frame"), "none", "frames that were hung in, without bees unless they are stated";
    "hang": ListOf("frame"), "none", "frames that were hung in to be drawn and bred, foundation unless `drawn` says otherwise; left alone until they are";
} }
section! { GONE = "gone" {
    "group": Count, [1.0, 1_000_000.0], "the only one", "frame group of the colony as counted, from 1; beyond these, frames of `got`, in their order";
    "of": OneOf(COUNTS), "the only one", "which frames of a colony with quick counts, as they were counted";
    "comb": Name, "any", "of a colony with quick counts: of these, the frames of this size";
    "count": Count, [1.0, COUNT], "1", "how many";
    "brood": Share, [0.0, 1.0], "the fullest", "brood on each of them when they left, where not all were alike";
    "stores": Share, [0.0, 1.0], "the fullest", "stores in each of them when they left, where not all were alike";
} }
section! { RECIPE = "recipe" {
    "lines": ListOf("line"), "required", "frames of one compartment";
    "bees": Bees, [0.0, BEES], "0", "fewest bees after drift, as a number or as `4 frames` of the comb of the first line";
    "again": One("again"), "nothing but a cell", "what a compartment that stands is to hold for its next cell; what it lacks is asked for", since 2;
} }
section! { AGAIN = "again" {
    "lines": ListOf("line"), "none", "frames of the compartment; those that stand serve the lines that they fit, the first lines first", since 2;
    "bees": Bees, [0.0, BEES], "0", "fewest bees in it, as a number or as `4 frames` of the comb of the first line", since 2;
} }
section! { LINE = "line" {
    "name": Text, "line 1, line 2 ...", "shown in the plan";
    "count": Count, [1.0, 100.0], "1", "frames for each compartment";
    "comb": Name, "that of all colonies, if they have one, else Langstroth deep", "frame size";
    "brood": Range(&Share), [0.0, 1.0], "any", "least brood, of the comb, or from least to most";
    "sealed": Range(&Share), [0.0, 1.0], "any", "least sealed brood, of the comb, or from least to most";
    "stores": Range(&Share), [0.0, 1.0], "any", "least stores, of the comb, or from least to most";
    "drawn": Range(&Share), [0.0, 1.0], "any", "least drawn comb, or from least to most";
    "no brood": Flag, "no", "without any brood", since 2;
    "foundation": Flag, "no", "bare foundation instead of the five above";
    "or": ListOf("substitute"), "none", "substitutes, best first";
} }
section! { SUBSTITUTE = "substitute" {
    "comb": Name, "of the line", "frame size";
    "brood": Range(&Share), [0.0, 1.0], "any", "least brood, of the comb, or from least to most";
    "sealed": Range(&Share), [0.0, 1.0], "any", "least sealed brood, of the comb, or from least to most";
    "stores": Range(&Share), [0.0, 1.0], "any", "least stores, of the comb, or from least to most";
    "drawn": Range(&Share), [0.0, 1.0], "any", "least drawn comb, or from least to most";
    "no brood": Flag, "no", "without any brood", since 2;
    "foundation": Flag, "no", "bare foundation instead of the five above";
    "feed": Grams, [0.0, 100_000.0], "0", "what must then be fed for each such frame, in honey equivalent";
} }
section! { BOX = "box" {
    "count": Count, [0.0, COUNT], "required", "how many boxes";
    "compartments": Count, [1.0, 100.0], "1", "compartments in each";
    "site": Name, "the only site", "where it stands once stocked";
    "recipe": Name, "required", "what each compartment gets";
    "worth": Number, [0.001, 1000.0], "1", "worth of one stocked compartment";
    "whole": Flag, "no", "stocked in all compartments or not at all";
    "takes": OneOf(TAKES), "cells", "what each compartment is given: a ripe cell or what `rearing` says, or a mated queen out of what stands", since 2;
    "keeps queen": Cap(&Range(&Days)), [1.0, 400.0], "3 to 4 weeks where a compartment is small", "how long a queen stays before she is likely lost; for the calendar alone";
} }
section! { BATCH = "batch" {
    "count": Count, [0.0, BEES], "required", "how many cells";
    "for": Names, "any box", "the boxes they are for";
} }

section! { REARING = "rearing" {
    "grafted": Date, "10 days before the cells are ripe", "the grafting day";
    "ripe": Date, "10 days after grafting", "the day the cells are ripe";
    "larva age": Hours, [0.0, 120.0], "none", "of the oldest larva grafted, from hatching";
    "given": OneOf(GIVEN), "ripe cells", "what each compartment gets";
    "drone eggs": Date, "none", "first day of the eggs of which the drones come";
    "no flight": Days, [1.0, 60.0], "7 days (a choice)", "days without flight that feed must last for";
    "success": Range(&Share), [0.0, 1.0], "70 to 93 %, virgin queens 55 to 65 % (published), mated queens 75 to 95 % (a choice)", "share of compartments from which a mated queen comes";
    "intervals": One("intervals"), "as published", "days to count with";
} }
section! { INTERVALS = "intervals" {
    "check before": Days, [0.0, 60.0], "1 day (a choice)", "from the check of the donors to the stocking day";
    "cells in": Days, [0.0, 30.0], "1 day (common practice)", "from the stocking day to the day the cells go in";
    "graft to ripe": Range(&Days), [1.0, 30.0], "10 days", "from grafting to ripe cells";
    "ripe to emergence": Range(&Days), [0.0, 30.0], "1 to 2 days", "from ripe cells to the queens' emergence";
    "emergence to flights": Range(&Days), [0.0, 60.0], "6 to 10 days", "from emergence to mating flights";
    "emergence to eggs": Range(&Days), [0.0, 90.0], "4 to 22 days, mean 10.6", "from emergence to the first eggs";
    "first look": Days, [0.0, 60.0], "14 days", "from the day the cells went in to the first look";
    "eggs to sealed": Range(&Days), [1.0, 30.0], "9 days", "from eggs to sealed brood";
    "age when taken": Range(&Days), [0.0, 400.0], "24 to 35 days", "age of a queen that is taken, from emergence";
    "taken to next cell": Days, [0.0, 60.0], "2 days", "from the queen taken to the next cell";
    "queenless before": Days, [0.0, 60.0], "2 days", "from the old queen out of a colony to the mated one in", since 2;
    "in the cage": Days, [0.0, 30.0], "3 days", "from the mated queen in her cage to the day she is out of it", since 2;
    "drone emergence": Days, [1.0, 60.0], "24 days (common practice)", "from a drone's egg to its emergence";
    "drone maturity": Days, [0.0, 60.0], "12 days (common practice)", "from a drone's emergence to its maturity";
    "comb raised": Range(&Days), [1.0, 120.0], "14 to 28 days, 21 counted with (a choice)", "from the day foundation was hung into a colony (`hang`) until it is drawn and bred; drawn combs take 9 days less", since 2;
} }

/// What frames of quick counts are known by.
pub(crate) const COUNTS: &[&str] = &["brood", "stores", "empty", "foundation"];

/// What a compartment may get.
pub(crate) const GIVEN: &[&str] = &["ripe cells", "virgin queens", "mated queens"];

/// What the compartments of a kind of box take.
pub(crate) const TAKES: &[&str] = &["cells", "mated queens"];

/// How the queen of a compartment is that stands.
pub(crate) const QUEEN: &[&str] = &[
    "cell",
    "virgin",
    "laying",
    "mated",
    "to be taken",
    "none",
    "drone-layer",
    "laying workers",
];

section! { STANDING = "standing" {
    "box": Name, "required", "kind of box", since 2;
    "number": Count, [1.0, COUNT], "1", "which box of the kind, from 1", since 2;
    "compartment": Count, [1.0, 100.0], "1", "which compartment of the box, from 1", since 2;
    "since": Date, "required", "the day bees went in, `day` or earlier", since 2;
    "counted": Date, "`day`", "the day of what is said to be in it, `since` or later", since 2;
    "frames": ListOf("frame"), "none", "what hangs in it", since 2;
    "extra bees": Bees, [0.0, BEES], "0", "bees in it beside those on its frames", since 2;
    "from": Names, "not known", "colonies that its brood and bees came from", since 2;
    "queen": OneOf(QUEEN), "cell", "how its queen is: a cell is in; virgin; laying, as eggs are seen; mated, as flat sealed worker brood is seen; mated and to be taken; none; one that lays drones alone; or workers lay", since 2;
    "seen": Date, "`since`", "the day that was seen, or the cell given", since 2;
    "round": Date, "`since`; `seen` where a cell is in", "the day of its present round, on which it was stocked or got its next cell", since 2;
    "eggs": Date, "`seen` where she is laying, 9 days before where she is mated", "the day its queen's eggs were first seen; she lays from then on", since 2;
    "failed": Count, [0.0, 100.0], "0", "rounds from which no mated queen came, since the last from which one did", since 2;
    "failed before": Count, [0.0, 100.0], "0", "rounds from which none came, before that", since 2;
    "taken": Count, [0.0, 100.0], "0", "queens that laid in it and were taken out so far", since 2;
    "next cell": Flag, "yes where `queen` is none and a next cell is allowed; where she was taken, once the `taken to next cell` of `intervals` is over when it goes in", "it is to get a cell; not after 2 failed rounds, with laying workers, or after 28 days without open brood", since 2;
} }
section! { REQUEEN = "requeen" {
    "colony": Name, "required", "colony that is to get a mated queen", since 2;
    "by": Date, "none", "last day on which she is to go in", since 2;
    "prepared": Date, "not yet", "the day its old queen was found and taken out; from then on it has none", since 2;
} }
section! { SEASON = "season" {
    "rounds": Rounds, "required", "days on which boxes are stocked and next cells given, each once, the first first; those before `day` are over", since 2;
    "cells": PerRound, [0.0, COUNT], "as many as there is room for; on `day` those of `cells` at the top", "cells at hand for each round: one number for all, or one for each round of the file", since 2;
    "success": Share, [0.01, 1.0], "the middle of `success` of `rearing`, else 75 % (a choice inside what is published)", "share of the cells from which a mated queen is counted on", since 2;
    "spread": Share, [0.0, 0.4], "16 % (a choice)", "by how much success differs from round to round, as a standard deviation", since 2;
    "wants": ListOf("want"), "as many queens as there can be", "what the queens are for, the first first: each is met as far as those before it allow", since 2;
    "rained out": Dates, "none", "rounds of which no queen comes; nobody knows that before, so all up to such a round is decided as without it", since 2;
    "last draw": Date, "15 July of the first round's year, later by `season shift` (a choice)", "last day on which frames or bees leave a colony", since 2;
    "drones until": Date, "not counted", "last day on which enough drones fly; queens of a round fly by then, or it gets no cells", since 2;
    "winter": One("winter"), "nothing is asked of colonies in autumn", "the day on which all that winters is to be strong enough", since 2;
} }
section! { WANT = "want" {
    "queens": CountOrMost, [1.0, COUNT], "none", "mated queens that leave, as for sale; one of `queens`, `nuclei`, `requeen` and `winter` stands in each entry", since 2;
    "nuclei": CountOrMost, [1.0, COUNT], "none", "nuclei made on round days, each with a mated queen", since 2;
    "box": Name, "the only kind of box that takes mated queens", "of nuclei: kind of box that they are made in, by its recipe", since 2;
    "requeen": Names, "none", "colonies that get a mated queen each", since 2;
    "winter": CountOrMost, [1.0, COUNT], "none", "queens that winter with their bees in the boxes that they are in, united where they are too weak", since 2;
    "by": Date, "the day on which queens of the last round may be taken; of `winter` its own day", "last day on which it is of use", since 2;
} }
section! { WINTER = "winter" {
    "on": Date, "required", "the day on which strength is looked at", since 2;
    "bees": Bees, [0.0, BEES], "5000 (mild to middling winters; 10,000 where frost lasts)", "fewest bees of what winters", since 2;
    "food": Grams, [0.0, GRAMS], "10 kg (a choice)", "food of what winters in boxes, by the end of feeding", since 2;
} }
section! { DONE = "done" {
    "box": Name, "required", "kind of box";
    "number": Count, [1.0, COUNT], "1", "which box of the kind, from 1";
    "compartment": Count, [1.0, 100.0], "1", "which compartment of the box, from 1";
    "frames": ListOf("taken"), "none", "frames that are in it";
    "bees": MapOfBees, [0.0, BEES], "none", "bees that were put in, before drift, by colony; as a number or as `2 frames` of the colony's own comb";
} }
section! { TAKEN = "taken" {
    "colony": Name, "none", "colony they are from";
    "group": Count, [1.0, 1_000_000.0], "the only one", "frame group of the colony, from 1, where it lists `frames`";
    "of": OneOf(COUNTS), "the only one", "which frames of a colony with quick counts; the fullest first", since 2;
    "comb": Name, "any", "of a colony with quick counts: of these, the frames of this size", since 2;
    "store room": Count, [1.0, 1_000_000.0], "none", "instead of a colony: entry of the store room, from 1";
    "count": Count, [1.0, COUNT], "1", "how many";
    "line": Name, "the lines that they fit, filled in their order", "recipe line that they serve";
} }

/// Every section, the whole first.
pub(crate) static SECTIONS: &[&Section] = &[
    &TOP,
    &SETTINGS,
    &PRICES,
    &COMB,
    &SITE,
    &DISTANCE,
    &ROLE,
    &KEEP,
    &DRAW,
    &COLONY,
    &FRAME,
    &EVENT,
    &GONE,
    &RECIPE,
    &AGAIN,
    &LINE,
    &SUBSTITUTE,
    &BOX,
    &BATCH,
    &REARING,
    &INTERVALS,
    &STANDING,
    &REQUEEN,
    &SEASON,
    &WANT,
    &WINTER,
    &DONE,
    &TAKEN,
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
