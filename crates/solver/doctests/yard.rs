{
    // Three colonies at home: a producer, a nucleus, and one on hold. Two mating boxes of two compartments
    // 6 km away. Bees in hundreds, shares in thousandths of a comb.
    use spareframe_solver::*;

    let deep = CombId(0);
    let frame = |brood, sealed, stores, drawn, bees| FrameState {
        comb: deep,
        brood: Milli(brood),
        sealed: Milli(sealed),
        stores: Milli(stores),
        drawn: Milli(drawn),
        bees: Hundreds(bees),
    };
    let group = |count, frame, queen| FrameGroup { count, frame, queen };
    let birch = Colony {
        name: "Birch".into(),
        site: SiteId(0),
        role: "production".into(),
        hold: None,
        frames: vec![
            group(6, frame(700, 420, 150, 1000, 20), false),
            group(1, frame(500, 200, 100, 1000, 18), true),
            group(3, frame(0, 0, 900, 1000, 8), false),
        ],
        extra_bees: Hundreds(60),
        crop: Some(Crop { honey: Grams(18_000), from: 4, to: 25 }),
        keep: Keep {
            brood: Milli(3_000),
            bees: Hundreds(120),
            stores: Grams(3_000),
            drawn: Milli(0),
            covered: Percent(100),
        },
        draw: Draw::default(),
        rides: Percent(50),
        apart: false,
    };
    let ash = Colony {
        name: "Ash".into(),
        role: "nucleus".into(),
        frames: vec![
            group(3, frame(650, 390, 150, 1000, 21), false),
            group(1, frame(400, 100, 200, 1000, 20), true),
            group(1, frame(0, 0, 800, 1000, 6), false),
        ],
        extra_bees: Hundreds(10),
        crop: None,
        keep: Keep {
            brood: Milli(1_000),
            bees: Hundreds(40),
            stores: Grams(1_000),
            drawn: Milli(0),
            covered: Percent(100),
        },
        ..birch.clone()
    };
    let elm = Colony { name: "Elm".into(), hold: Some("chalkbrood".into()), ..birch.clone() };
    let line = |name: &str, ask| Line { name: name.into(), count: 1, ask, substitutes: vec![] };
    let brood = Ask { brood: Span::from(500), ..Ask::any(deep) };
    let stores = Ask { brood: Span::NONE, stores: Span::from(600), ..Ask::any(deep) };
    Scenario {
        combs: vec![Comb {
            name: "Langstroth deep".into(),
            bees: Hundreds(23),
            cells: 7_040,
            stores: Grams(2_200),
        }],
        sites: vec![Site { name: "home".into() }, Site { name: "mating yard".into() }],
        distances: vec![vec![0, 6_000], vec![6_000, 0]],
        colonies: vec![birch, ash, elm],
        store_room: vec![
            SpareFrames { count: 3, frame: frame(0, 0, 800, 1000, 0) },
            SpareFrames { count: 2, frame: frame(0, 0, 0, 900, 0) },
        ],
        boxes: vec![BoxKind {
            name: "mating box".into(),
            count: 2,
            compartments: 2,
            site: SiteId(1),
            worth: Worth(1_000),
            whole: false,
            lines: vec![line("brood", brood), line("stores", stores)],
            bees: Bees(2_000),
            again: Recipe::default(),
        }],
        cells: Some(vec![CellBatch { count: 4, boxes: vec![] }]),
        ..Scenario::default()
    }
}
