use spareframe_solver::*;
use std::time::Instant;
fn main() {
    for f in std::env::args().skip(1) {
        let l = spareframe::scenario::read(&f, &std::fs::read(&f).unwrap()).loaded.unwrap();
        let sc = l.scenario;
        let t = Instant::now();
        let out = solve(&sc, &SolveOptions::default());
        let plan = match &out { Outcome::Stocked(s) => s.plan.clone(), _ => Plan::default() };
        let solved = t.elapsed();
        let t = Instant::now();
        let w = why::why(&sc, &plan, &why::WhyOptions::default());
        let whyt = t.elapsed();
        let t = Instant::now();
        let s = why::in_short(&sc, &why::WhyOptions::default());
        println!("{f} solve {solved:?} why {whyt:?} short {:?} ({}) today {:?} proved {} effects {} of {} offers {} together {} refused {} forbid {}", t.elapsed(), s.len(), w.today, w.proved,
          w.effects.iter().filter(|e| e.lifted.is_some()).count(), w.effects.len(), w.offers.len(), w.together.is_some(), w.refused, w.forbidding.len());
        if std::env::var("V").is_ok() {
            for e in &w.effects { if e.lifted.is_some() { println!("   {e:?}"); } }
            for o in &w.offers { println!("  offer {:?} {:?}", o.changes, o.best); }
            if let Some(o) = &w.together { println!("  together {:?} {:?}", o.changes, o.best); }
            for c in &w.colonies { println!("  {c:?}"); }
            for c in &w.kinds { println!("  {c:?}"); }
            println!("  {:?}", w.forbidding); println!("  {s:?}");
        }
    }
}
