//! Figures as they are shown.

use super::report::Level;

/// A whole number with a mark for thousands: `12,400`.
pub(super) fn whole(value: i64) -> String {
    let digits = value.unsigned_abs().to_string();
    let mut out = String::from(if value < 0 { "-" } else { "" });
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

/// So many of something, in the singular or the plural.
pub(super) fn counted(n: i64, one: &str, many: &str) -> String {
    format!("{} {}", whole(n), if n == 1 { one } else { many })
}

/// Honey or cost to 10 g, as far as an estimate goes.
pub(super) fn grams(grams: i64) -> String {
    match grams {
        0 => "0 g".to_owned(),
        1..=4 => "less than 10 g".to_owned(),
        ..=994 => format!("{} g", (grams + 5).div_euclid(10) * 10),
        _ => {
            let hundredths = (grams + 5).div_euclid(10);
            format!("{}.{:02} kg", whole(hundredths / 100), hundredths % 100)
        }
    }
}

/// So many bees as a person counts them, in round hundreds: `some 8,000`.
pub(super) fn some(bees: i64) -> String {
    match (bees + 50).div_euclid(100) * 100 {
        0 if bees > 0 => "fewer than 100".to_owned(),
        round => format!("some {}", whole(round)),
    }
}

/// Covered frames, to half a frame: `½ frame`, `3½ frames`; `None` for less than a quarter.
pub(super) fn covered(frames: f64) -> Option<String> {
    #[expect(clippy::cast_possible_truncation, reason = "frames of one apiary")]
    let halves = (frames * 2.0).round() as i64;
    let half = if halves % 2 == 1 { "½" } else { "" };
    Some(match (halves, halves / 2) {
        (..=0, _) => return None,
        (1, _) => "½ frame".to_owned(),
        (2, _) => "1 frame".to_owned(),
        (_, full) => format!("{}{half} frames", whole(full)),
    })
}

/// A weight in the unit that reads best.
pub(super) fn weight(kg: f64) -> String {
    if kg.abs() < 1.0 {
        format!("{:.0} g", kg * 1000.0)
    } else {
        format!("{kg:.2} kg")
    }
}

/// A weight in kg to 10 g, as far as an estimate goes.
pub(super) fn kilos(kg: f64) -> String {
    match kg {
        0.0 => "0 kg".to_owned(),
        kg if kg < 0.005 => "less than 0.01 kg".to_owned(),
        kg => format!("{kg:.2} kg"),
    }
}

pub(super) fn percent(share: f64) -> String {
    let tenths = (share * 1000.0).round() / 10.0;
    format!("{tenths}%")
}

/// A level as `before > after (must keep)`.
pub(super) fn level(of: &Level, most_decimals: u32) -> String {
    let [before, after, keep] = level_parts(of, most_decimals);
    format!("{before} > {after} ({keep})")
}

/// Before, after and what must be kept of a level. The fewest decimals are shown that keep the figures
/// apart as they are; what is there is rounded down, so that no plan looks roomier than it is.
pub(super) fn level_parts(level: &Level, most_decimals: u32) -> [String; 3] {
    #[expect(clippy::cast_possible_truncation, reason = "figures of an apiary")]
    let milli = |v: f64| (v * 1000.0).round() as i64;
    let exact = [level.before, level.after, level.must_keep].map(milli);
    let mut shown = exact;
    let mut decimals = most_decimals.min(1);
    // What must be kept is told as exactly as where it stands alone.
    let keep = {
        let step = 10_i64.pow(3 - most_decimals);
        -(-exact[2]).div_euclid(step) * step
    };
    while decimals <= most_decimals {
        let step = 10_i64.pow(3 - decimals);
        let down = |v: i64| v.div_euclid(step) * step;
        shown = [down(exact[0]), down(exact[1]), keep];
        let same = |i: usize, j: usize| exact[i].cmp(&exact[j]) == shown[i].cmp(&shown[j]);
        if same(0, 1) && same(1, 2) {
            break;
        }
        decimals += 1;
    }
    let decimals = decimals.min(most_decimals);
    let mut own = decimals;
    while own < most_decimals && keep % 10_i64.pow(3 - own) != 0 {
        own += 1;
    }
    [
        figure(shown[0], decimals),
        figure(shown[1], decimals),
        figure(keep, own),
    ]
}

/// A level in whole percent: `130% > 105% (100%)`.
pub(super) fn percent_level(level: &Level) -> String {
    let [before, after, keep] = percent_parts(level);
    format!("{before} > {after} ({keep})")
}

/// The parts of a level in whole percent.
pub(super) fn percent_parts(level: &Level) -> [String; 3] {
    let parts = [
        level.before.floor(),
        level.after.floor(),
        level.must_keep.ceil(),
    ];
    parts.map(|part| format!("{part}%"))
}

/// Thousandths as a figure with so many decimals.
fn figure(milli: i64, decimals: u32) -> String {
    let sign = if milli < 0 { "-" } else { "" };
    let rest = milli.unsigned_abs() % 1000 / 10_u64.pow(3 - decimals);
    let units = whole(milli.abs() / 1000);
    match decimals {
        0 => format!("{sign}{units}"),
        _ => format!("{sign}{units}.{rest:0width$}", width = decimals as usize),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(before: f64, after: f64, must_keep: f64) -> String {
        level(
            &Level {
                before,
                after,
                must_keep,
            },
            3,
        )
    }

    #[test]
    fn a_difference_is_shown_with_as_many_decimals_as_it_needs() {
        assert_eq!(shown(6.8, 6.2, 6.0), "6.8 > 6.2 (6.0)");
        assert_eq!(
            shown(1.79, 1.71, 1.0),
            "1.79 > 1.71 (1.0)".replace("(1.0)", "(1.00)")
        );
        assert_eq!(shown(2.0, 1.715, 1.71), "2.000 > 1.715 (1.710)");
    }

    #[test]
    fn a_floor_is_never_rounded_down_nor_what_is_left_up() {
        assert_eq!(shown(4.25, 1.04, 1.04), "4.25 > 1.04 (1.04)");
        assert_eq!(shown(4.2, 1.99, 1.01), "4.2 > 1.9 (1.01)");
        assert_eq!(shown(22.8, 15.2, 11.34), "22.8 > 15.2 (11.34)");
        assert_eq!(shown(22.8, 11.345, 11.34), "22.800 > 11.345 (11.340)");
    }

    #[test]
    fn honey_is_shown_to_ten_grams_and_little_is_not_nothing() {
        let shown = [0, 3, 5, 244, 994, 995, 1236, 12_345].map(grams);
        let wanted = [
            "0 g",
            "less than 10 g",
            "10 g",
            "240 g",
            "990 g",
            "1.00 kg",
            "1.24 kg",
            "12.35 kg",
        ];
        assert_eq!(shown, wanted);
    }

    #[test]
    fn bees_are_counted_in_half_frames_and_round_hundreds() {
        let shown = [3.5, 1.0, 0.5, 0.0].map(covered);
        let wanted = [Some("3½ frames"), Some("1 frame"), Some("½ frame"), None];
        assert_eq!(shown, wanted.map(|text| text.map(str::to_owned)));
        assert_eq!(some(33), "fewer than 100");
    }

    #[test]
    fn bees_are_whole() {
        let bees = Level {
            before: 23_092.0,
            after: 8906.0,
            must_keep: 2500.0,
        };
        assert_eq!(level(&bees, 0), "23,092 > 8,906 (2,500)");
    }
}
