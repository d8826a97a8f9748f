use spareframe_solver::*;
fn main() {
    for f in std::env::args().skip(1) {
        let sc = spareframe::scenario::read(&f, &std::fs::read(&f).unwrap()).loaded.unwrap().scenario;
        let plan = match solve(&sc, &SolveOptions::default()) { Outcome::Stocked(s) => s.plan, _ => Plan::default() };
        let w = why::why(&sc, &plan, &why::WhyOptions::default());
        let o = SolveOptions { until: Until::Honey, ..SolveOptions::default() };
        let best = |sc: &Scenario| match solve(sc, &o) { Outcome::Stocked(s) => (s.goals.worth, s.goals.honey, s.proof == Proof::Best), _ => (Worth(0), Milligrams(0), true) };
        let t = (w.today.worth, w.today.honey);
        for e in &w.effects {
            let b = best(&why::without(&sc, &[e.limit]));
            let said = e.lifted.map_or(t, |b| (b.worth, b.honey));
            if said != (b.0, b.1) { println!("{f} LIFTED {:?} said {said:?} is {b:?} today {t:?}", e.limit); }
            if let Some((c, said)) = e.one_more { let b = best(&c.applied(&sc)); if (said.worth, said.honey) != (b.0, b.1) { println!("{f} ONE {c:?} said {said:?} is {b:?}"); } }
        }
    }
}
