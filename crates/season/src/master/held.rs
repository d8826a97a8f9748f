//! Rounds that are held as they were decided.

use super::super::outlook::Outlook;
use super::{Figure, Master, Solution};

impl Master {
    /// Holds so many rounds as an outlook has them, of colonies that are listed so; one way to end the season.
    pub fn hold(&mut self, as_it_was: &Outlook, rounds: usize) -> Option<Solution> {
        for whole in &mut self.wholes {
            let (round, of) = match whole.figure {
                Figure::New(kind, round) => (round, (0, kind)),
                Figure::Next(kind, round) => (round, (1, kind)),
                Figure::Nuclei(want, round) => (round, (2, want)),
                Figure::Kept(..) | Figure::Want(_) | Figure::Otherwise(_) | Figure::Frames(..) => {
                    continue;
                }
            };
            if round < rounds {
                let stocked = &as_it_was.rounds[round];
                let all = [&stocked.new, &stocked.next, &stocked.nuclei];
                let count = all[of.0][of.1];
                (whole.least, whole.most) = (count, count);
            }
        }
        let least: Vec<i64> = self.wholes.iter().map(|whole| whole.least).collect();
        self.fitted(vec![0; self.givers.len()], &|at| least[at])
    }

    /// How many wants there are.
    pub fn wants(&self) -> usize {
        let wants = self.wholes.iter();
        wants
            .filter(|whole| matches!(whole.figure, Figure::Want(_)))
            .count()
    }
}
