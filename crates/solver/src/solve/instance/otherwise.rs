//! Frames of one item, shared out among the groups that it is made of.

use super::{Item, Part};

impl Item {
    /// Frames of it that an earlier plan takes, of those that there still are.
    pub fn then(&self) -> i64 {
        self.parts.iter().map(|part| i64::from(part.then)).sum()
    }

    /// Frames drawn otherwise than in an earlier plan where so many are taken, less those drawn
    /// otherwise where none is: may be negative. The groups share the frames out in the best way
    /// ([`share_out`]).
    pub fn otherwise(&self, count: u32) -> i64 {
        let then = self.then();
        (i64::from(count) - then).abs() - then
    }
}

/// How many frames each part gives of so many: first what an earlier plan takes, in order.
pub(crate) fn share_out(parts: &[Part], mut count: u32) -> Vec<u32> {
    let mut given = vec![0; parts.len()];
    for kept in [true, false] {
        for (part, given) in parts.iter().zip(&mut given) {
            let most = if kept { part.then } else { part.count } - *given;
            let more = most.min(count);
            *given += more;
            count -= more;
        }
    }
    given
}
