//! Rules ride and bees: bees that ride with their brood, and bees that stay in what is stocked.

use super::asked::Asked;
use super::breach::{Breaches, Fault, Place, Rule, Spot, bees as in_bees, hundreds, loose};
use super::cells::enough_for;
use super::figures::least_riding;
use super::goals::place;
use super::rest::{Done, Inside};
use super::supply::frame_at;
use crate::plan::{Compartment, Origin, Plan};
use crate::scenario::{BoxId, BoxKind, ColonyId, Scenario, SiteId};
use std::collections::BTreeMap;

/// Hundreds of bees of one colony for one site: least, most and riding.
#[derive(Default)]
struct Ride {
    least: i128,
    most: i128,
    riding: i128,
}

/// What rides of each colony for each site.
type Rides = BTreeMap<(ColonyId, SiteId), Ride>;

/// Over what is still to leave and to be taken.
pub(super) fn ride(scenario: &Scenario, plan: &Plan, done: &Done, breaches: &mut Breaches) {
    let mut rides = Rides::new();
    for compartment in plan.touched() {
        if let Some(kind) = scenario.boxes.get(compartment.kind.0) {
            add_rides(scenario, kind.site, &done.to_come(compartment), &mut rides);
        }
    }
    for ((id, site), ride) in rides {
        let place = Place::ToSite(id, site);
        breaches.floor(Rule::Ride, place, (ride.riding, ride.least), hundreds);
        breaches.cap(Rule::Ride, place, (ride.riding, ride.most), hundreds);
    }
}

fn add_rides(scenario: &Scenario, site: SiteId, to_come: &Inside, rides: &mut Rides) {
    for (&(_, origin), &count) in &to_come.frames {
        if let Origin::Colony(id, _) = origin
            && let Some(colony) = scenario.colonies.get(id.0)
            && let Some(frame) = frame_at(scenario, origin)
            && let Some(least) = least_riding(colony, frame)
        {
            let ride = rides.entry((id, site)).or_default();
            ride.least += count * least;
            ride.most += count * i128::from(frame.bees.0);
        }
    }
    for (&id, bees) in &to_come.bees {
        rides.entry((id, site)).or_default().riding += bees.riding;
    }
}

/// Bees that are needed at a site and bees that stay there, of what is still to be taken.
#[derive(Default)]
struct Balance {
    stay: i128,
    need: i128,
}

/// All compartments at a site, and those without a brood line.
type Balances = (Balance, Balance);

pub(super) fn bees(scenario: &Scenario, plan: &Plan, done: &Done, breaches: &mut Breaches) {
    let mut sites = BTreeMap::<SiteId, Balances>::new();
    for compartment in &plan.compartments {
        lots(compartment, breaches);
        let spot = Spot::of(compartment);
        let kind = scenario.boxes.get(spot.kind.0);
        let Some((kind, asked)) = kind.zip(Asked::of(scenario, spot)) else {
            continue;
        };
        let (stay, stay_loose) = done.to_come(compartment).staying(scenario, kind.site);
        let held = done.held(scenario, spot, kind);
        let need = need(&asked, held);
        let balance = sites.entry(kind.site).or_default();
        balance.0.stay += stay;
        balance.0.need += need;
        balance.1.stay += stay_loose;
        if !asked.brood_line() {
            balance.1.need += need;
        }
        let held = held.unwrap_or(0);
        enough(compartment, &asked, held, (stay, stay_loose), breaches);
    }
    let credits = credits(scenario, done);
    for (site, (all, broodless)) in sites {
        let credit = credits.get(&site).copied().unwrap_or_default();
        let least = (all.need - credit.0.clamp(0, 99)).max(0);
        breaches.floor(Rule::Bees, Place::Site(site), (all.stay, least), in_bees);
        let least = (broodless.need - credit.1.clamp(0, 99)).max(0);
        let place = Place::BroodlessAt(site);
        breaches.floor(Rule::Bees, place, (broodless.stay, least), loose);
    }
}

/// Each lot is a hundred bees or more.
fn lots(compartment: &Compartment, breaches: &mut Breaches) {
    for placed in &compartment.bees {
        let (riding, loose) = (placed.riding.0, placed.loose.0);
        if riding < 0 || loose < 0 || (riding, loose) == (0, 0) {
            let place = Place::BeesIn(Spot::of(compartment), placed.colony);
            breaches.add(Rule::Bees, place, Fault::Empty);
        }
    }
}

/// A compartment may be short by less than a hundred.
fn enough(
    compartment: &Compartment,
    asked: &Asked,
    held: i128,
    (stay, stay_loose): (i128, i128),
    breaches: &mut Breaches,
) {
    let place = Place::Compartment(Spot::of(compartment));
    let least = asked.fewest - 99;
    let mut floor = |stay, unit| {
        breaches.floor(Rule::Bees, place, (held + stay, least), unit);
    };
    floor(stay, in_bees);
    if !asked.brood_line() && held + stay >= least {
        floor(stay_loose, loose);
    }
}

/// What a compartment still needs, where it holds so much if it is begun.
fn need(asked: &Asked, held: Option<i128>) -> i128 {
    match held {
        None => asked.fewest,
        Some(held) if asked.fewest - held < 100 => 0,
        Some(held) => asked.fewest - held,
    }
}

/// What compartments that lack nothing hold beyond their fewest on balance, for each site: all, and those
/// without a brood line. Only where all of them must be stocked.
fn credits(scenario: &Scenario, done: &Done) -> BTreeMap<SiteId, (i128, i128)> {
    let mut credits = BTreeMap::<SiteId, (i128, i128)>::new();
    for spot in finished(scenario, done) {
        let kind = scenario.boxes.get(spot.kind.0);
        let Some((kind, asked)) = kind.zip(Asked::of(scenario, spot)) else {
            continue;
        };
        let held = done.held(scenario, spot, kind).unwrap_or(0);
        let beyond = held - asked.fewest;
        let credit = credits.entry(kind.site).or_default();
        credit.0 += beyond;
        if !asked.brood_line() {
            credit.1 += beyond;
        }
    }
    credits
}

/// The compartments that lack nothing, where there are cells for all of them; else none.
pub(super) fn finished(scenario: &Scenario, done: &Done) -> Vec<Spot> {
    let records = done.0.iter();
    let lacking_nothing: Vec<_> = records
        .filter(|(spot, inside)| {
            let kind = scenario.boxes.get(spot.kind.0);
            kind.is_some_and(|kind| lacks_nothing(scenario, kind, **spot, inside, done))
        })
        .map(|(spot, _)| *spot)
        .collect();
    let mut wanted = BTreeMap::<BoxId, i128>::new();
    for spot in &lacking_nothing {
        *wanted.entry(spot.kind).or_default() += 1;
    }
    if enough_for(scenario, &wanted) {
        lacking_nothing
    } else {
        Vec::new()
    }
}

fn lacks_nothing(
    scenario: &Scenario,
    kind: &BoxKind,
    spot: Spot,
    inside: &Inside,
    done: &Done,
) -> bool {
    let exists = spot.box_no < kind.count && spot.place < kind.compartments;
    let Some(asked) = Asked::of(scenario, spot) else {
        return false;
    };
    let fits = inside.frames.keys().all(|&(line, origin)| {
        let line = asked.lines.get(line);
        let frame = frame_at(scenario, origin);
        line.zip(frame)
            .is_some_and(|((line, _), frame)| place(line, frame).is_some())
    });
    let full = asked.lines.iter().enumerate().all(|(index, &(_, count))| {
        let placed = inside.frames.iter().filter(|((on, _), _)| *on == index);
        placed.map(|(_, &count)| count).sum::<i128>() == count
    });
    let enough = need(&asked, done.held(scenario, spot, kind)) == 0;
    exists && !asked.left_alone && fits && full && enough
}
