//! The plainest parts of a yard, for tests that change what they are about.

use spareframe_solver::*;

pub fn comb(bees: i64, cells: i64) -> Comb {
    Comb {
        name: "comb".into(),
        bees: Hundreds(bees),
        cells,
        stores: Grams(2000),
    }
}

/// Drawn; half of its brood is sealed.
pub fn frame(brood: i64, stores: i64, bees: i64) -> FrameState {
    FrameState {
        comb: CombId(0),
        brood: Milli(brood),
        sealed: Milli(brood / 2),
        stores: Milli(stores),
        drawn: Milli(1000),
        bees: Hundreds(bees),
    }
}

pub fn group(count: u32, frame: FrameState) -> FrameGroup {
    FrameGroup {
        count,
        frame,
        queen: false,
    }
}

/// Without a crop, a floor or a cap.
pub fn colony(frames: Vec<FrameGroup>, extra: i64) -> Colony {
    Colony {
        name: "a".into(),
        site: SiteId(0),
        role: "nucleus".into(),
        hold: None,
        frames,
        extra_bees: Hundreds(extra),
        crop: None,
        keep: Keep::default(),
        draw: Draw::default(),
        rides: Percent(50),
        apart: false,
    }
}

/// For one frame with so much brood and so much stores.
pub fn line(name: &str, brood: i64, stores: i64) -> Line {
    Line {
        name: name.into(),
        count: 1,
        ask: Ask {
            brood: Span::from(brood),
            stores: Span::from(stores),
            ..Ask::any(CombId(0))
        },
        substitutes: vec![],
    }
}

/// Boxes of one compartment.
pub fn kind(count: u32, lines: Vec<Line>, fewest: i64) -> BoxKind {
    BoxKind {
        name: "box".into(),
        count,
        compartments: 1,
        site: SiteId(0),
        worth: Worth(1000),
        whole: false,
        lines,
        bees: Bees(fewest),
        again: spareframe_solver::Recipe::default(),
    }
}

/// One colony and boxes beside it; a third of the bees flies home.
pub fn yard(colony: Colony, kind: BoxKind) -> Scenario {
    Scenario {
        combs: vec![comb(20, 6000)],
        sites: vec![Site {
            name: "home".into(),
        }],
        distances: vec![vec![0]],
        colonies: vec![colony],
        boxes: vec![kind],
        ..Scenario::default()
    }
}

pub fn placed(line: usize, origin: Origin) -> PlacedFrames {
    PlacedFrames {
        line,
        origin,
        count: 1,
    }
}

pub fn bees(colony: usize, riding: i64, loose: i64) -> PlacedBees {
    PlacedBees {
        colony: ColonyId(colony),
        riding: Hundreds(riding),
        loose: Hundreds(loose),
    }
}

/// A frame of the first group of the first colony and so many loose hundreds of it, in a box of the first kind.
pub fn record(box_no: u32, loose: i64) -> Compartment {
    Compartment {
        kind: BoxId(0),
        box_no,
        place: 0,
        frames: vec![placed(0, Origin::Colony(ColonyId(0), 0))],
        bees: vec![bees(0, 0, loose)],
    }
}
