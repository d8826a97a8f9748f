//! Bounds of whole numbers, as tight as rows make them.

use super::rows::RowOf;
use super::{Giver, Whole};
use spareframe_engine::Row;

/// Lowers bounds of numbers to what rows allow of each alone.
pub(super) fn tighten(keys: &[RowOf], rows: &[Row], givers: &[Giver], wholes: &mut [Whole]) {
    let mut there: Vec<i64> = rows.iter().map(|row| -row.rhs).collect();
    for giver in givers {
        let mut most = vec![0; rows.len()];
        for &(row, by) in giver.entries.iter().flatten() {
            most[row] = by.max(most[row]);
        }
        there
            .iter_mut()
            .zip(most)
            .for_each(|(there, most)| *there += most);
    }
    // Frames first, then new stockings, then what is made of them.
    for _ in 0..4 {
        let mut all = there.clone();
        for whole in wholes.iter() {
            for &(row, by) in &whole.entries {
                all[row] = all[row].saturating_add(by.max(0).saturating_mul(whole.most));
            }
        }
        for whole in wholes.iter_mut() {
            for &(row, by) in &whole.entries {
                let own = by.max(0).saturating_mul(whole.most);
                if by < 0 && !matches!(keys[row], RowOf::Today) {
                    whole.most = whole.most.min((all[row] - own).max(0) / -by);
                }
            }
            whole.to = whole.most;
        }
    }
}
