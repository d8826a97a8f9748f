//! Figures as they are written, exact until they are rounded once.

/// Most digits of a figure; what is behind them is left out (a choice: far finer than anything that is
/// weighed or counted).
const MOST_DIGITS: usize = 18;
/// A factor of a unit, and a scale, in whole parts: each that there is has so few places.
const UNIT_PARTS: i128 = 1_000_000_000;
const SCALE_PARTS: i128 = 100;

/// A decimal figure in the base unit of its kind: `units / parts`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Exact {
    units: i128,
    /// Above 0.
    parts: i128,
}

impl Exact {
    /// Reads digits with a point and a sign, of a unit with this factor to the base unit.
    pub fn read(number: &str, factor: f64) -> Option<Self> {
        let (sign, number) = match number.strip_prefix('-') {
            Some(rest) => (-1, rest),
            None => (1, number.strip_prefix('+').unwrap_or(number)),
        };
        let (mut units, mut parts) = (0_i128, UNIT_PARTS);
        let (mut digits, mut is_part, mut any) = (0, false, false);
        for byte in number.bytes() {
            match byte {
                b'_' => {}
                b'.' if !is_part => is_part = true,
                b'0'..=b'9' => {
                    any = true;
                    if is_part && digits >= MOST_DIGITS {
                        continue;
                    }
                    digits += usize::from(is_part || units > 0 || byte > b'0');
                    parts *= if is_part { 10 } else { 1 };
                    units = units.saturating_mul(10);
                    units = units.saturating_add(i128::from(byte - b'0'));
                }
                _ => return None,
            }
        }
        let factor = (factor * UNIT_PARTS as f64).round() as i128;
        let units = units.saturating_mul(factor).saturating_mul(sign);
        any.then_some(Self { units, parts })
    }

    /// Whether it lies within a range, both ends included.
    pub fn within(self, (least, most): (f64, f64)) -> bool {
        let at = |end: f64| ((end * UNIT_PARTS as f64).round() as i128).saturating_mul(self.parts);
        let here = self.units.saturating_mul(UNIT_PARTS);
        at(least) <= here && here <= at(most)
    }

    /// Whether it is a whole number.
    pub fn is_whole(self) -> bool {
        self.units % self.parts == 0
    }

    /// Whether it is 0.
    pub fn is_nothing(self) -> bool {
        self.units == 0
    }

    /// `scale` times as much, to the nearest whole number, halves up.
    pub fn nearest(self, scale: f64) -> i64 {
        self.rounded(scale, |parts| parts / 2)
    }

    /// `scale` times as much, to the next whole number up.
    pub fn up(self, scale: f64) -> i64 {
        self.rounded(scale, |parts| parts - 1)
    }

    /// `scale` times as much, to the next whole number down.
    pub fn down(self, scale: f64) -> i64 {
        self.rounded(scale, |_| 0)
    }

    fn rounded(self, scale: f64, more: impl Fn(i128) -> i128) -> i64 {
        let scale = (scale * SCALE_PARTS as f64).round() as i128;
        let parts = self.parts.saturating_mul(SCALE_PARTS);
        let units = self.units.saturating_mul(scale).saturating_add(more(parts));
        let whole = units.div_euclid(parts);
        i64::try_from(whole).unwrap_or(if whole < 0 { i64::MIN } else { i64::MAX })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str, factor: f64) -> Exact {
        Exact::read(text, factor).unwrap()
    }

    #[test]
    fn halves_go_up_whatever_binary_figures_make_of_them() {
        // 1.0005 * 1000 is 1000.4999999999999 in binary figures, 35 * 0.01 is above 0.35.
        assert_eq!(read("1.0005", 1.0).nearest(1000.0), 1001);
        assert_eq!(read("1.00049999", 1.0).nearest(1000.0), 1000);
        assert_eq!(read("2.675", 0.01).nearest(100_000.0), 2675);
        assert!(read("35", 0.01).within((0.001, 0.35)));
        assert!(!read("35.000001", 0.01).within((0.001, 0.35)));
    }

    #[test]
    fn floors_go_up_and_caps_go_down_by_no_more_than_they_must() {
        for (text, up, down, nearest) in [
            ("2000", 20, 20, 20),
            ("2001", 21, 20, 20),
            ("2_049.99", 21, 20, 20),
            ("2050", 21, 20, 21),
            ("0", 0, 0, 0),
        ] {
            let bees = read(text, 1.0);
            let rounded = (bees.up(0.01), bees.down(0.01), bees.nearest(0.01));
            assert_eq!(rounded, (up, down, nearest), "{text}");
        }
    }

    #[test]
    fn what_is_no_figure_is_none_and_long_ones_do_no_harm() {
        for text in ["", ".", "-", "1.2.3", "--1", "1-", "x", "1e9"] {
            assert_eq!(Exact::read(text, 1.0), None, "{text}");
        }
        assert!(!read(&"9".repeat(60), 1.0).within((0.0, 1e12)));
        assert!(!read(&format!("-{}", "9".repeat(60)), 1.0).within((0.0, 1e12)));
        assert_eq!(
            read(&format!("0.{}", "3".repeat(60)), 0.01).nearest(100.0),
            0
        );
        assert_eq!(read(&"9".repeat(18), 1e5).nearest(1000.0), i64::MAX);
    }
}
