//! What a file says in each version of the format.

use spareframe::scenario::{Finding, read};
use spareframe_solver::{Colony, Hundreds, Percent};

/// Two colonies of a role, of which the second has more to say; findings too.
fn colonies(version: u32, top: &str, more: &str) -> (Vec<Colony>, Vec<Finding>) {
    let text = format!(
        "spareframe: {version}\nsites: {{a: }}\n{top}\ncolonies:\n  c: {{role: r, brood: 6 combs}}\n  d: {{role: r, brood: 6 combs{more}}}\n\
         recipes: {{r: {{bees: 2000, lines: [{{brood: 10 %}}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}}}"
    );
    let read = read("yard.yaml", text.as_bytes());
    (read.loaded.unwrap().scenario.colonies, read.findings)
}

fn bees(colony: &Colony) -> (Option<Hundreds>, Percent) {
    (colony.draw.bees, colony.rides)
}

const CAP: &str = "roles: {r: {keep: {brood: 1}, draw: {bees: 0}}}";
const BARE: (Option<Hundreds>, Percent) = (None, Percent(0));
const USUAL: (Option<Hundreds>, Percent) = (None, Percent(50));

#[test]
fn a_cap_of_no_bees_is_bare_frames_in_version_1_and_a_cap_in_version_2() {
    for cap in ["0", "0 frames", "0 %"] {
        let cap = CAP.replace("bees: 0", &format!("bees: {cap}"));
        let (old, found) = colonies(1, &cap, "");
        assert_eq!((bees(&old[0]), bees(&old[1])), (BARE, BARE), "{cap}");
        let codes: Vec<_> = found.iter().map(|f| (f.code, f.line)).collect();
        assert_eq!(codes, [("meaning-changed", 3)], "{cap}");
        let (new, found) = colonies(2, &cap, "");
        assert_eq!(bees(&new[0]), (Some(Hundreds(0)), Percent(50)), "{cap}");
        assert_eq!(found, [], "{cap}");
    }
}

#[test]
fn in_version_1_too_a_colony_restates_what_its_role_says() {
    let own = |more: &str| bees(&colonies(1, CAP, more).0[1]);
    assert_eq!(own(", draw: {bees: none}"), USUAL);
    assert_eq!(own(", draw: {bees: 700}"), (Some(Hundreds(7)), Percent(50)));
    assert_eq!(own(", draw: {frames: 3}"), BARE);
    assert_eq!(own(", draw: all"), USUAL);
    assert_eq!(own(", rides: 20 %"), (None, Percent(20)));
    // Less than a hundred is no way to say bare.
    assert_eq!(
        own(", draw: {bees: 40 bees}"),
        (Some(Hundreds(0)), Percent(50))
    );
}

#[test]
fn where_no_frame_may_leave_a_cap_of_no_bees_is_one_in_version_1_too() {
    let (old, found) = colonies(1, &CAP.replace("bees: 0", "frames: 0, bees: 0"), "");
    assert_eq!(bees(&old[0]), (Some(Hundreds(0)), Percent(50)));
    assert_eq!(found, []);
}
