//! Whole-number quantities, one type for each unit.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
        pub struct $name(pub i64);

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
                Self(items.map(|q| q.0).sum())
            }
        }
        impl $name {
            /// `times` as much.
            #[must_use]
            pub fn times(self, times: u32) -> Self {
                Self(self.0 * i64::from(times))
            }
        }
    };
}

quantity!(
    /// Thousandths: of a comb, of a frame equivalent, or of a whole.
    Milli
);
quantity!(
    /// Hundreds of bees: as fine as bees are counted, shaken and dealt out.
    Hundreds
);
quantity!(
    /// Bees: the fewest of a recipe, and what stays after drift.
    Bees
);
quantity!(
    /// Grams of stores, feed, crop, honey given up, or cost.
    Grams
);
quantity!(
    /// Whole percent.
    Percent
);
quantity!(
    /// Worth in thousandths: 1000 is one ordinary compartment.
    Worth
);

impl Hundreds {
    /// The same, bee by bee.
    ///
    /// ```
    /// use spareframe_solver::{Bees, Hundreds};
    /// assert_eq!(Hundreds(21).bees(), Bees(2100));
    /// ```
    #[must_use]
    pub fn bees(self) -> Bees {
        Bees(self.0.saturating_mul(100))
    }
}

/// `share` of `whole`, rounded half up. Both 0 or more.
///
/// ```
/// use spareframe_solver::{Milli, share_of};
/// assert_eq!(share_of(Milli(250), 2_080), 520);
/// assert_eq!(share_of(Milli(333), 10), 3);
/// ```
#[must_use]
pub fn share_of(share: Milli, whole: i64) -> i64 {
    (share.0 * whole + 500).div_euclid(1000)
}
