//! Frames side by side as SVG paths, one path for each thing that a comb may hold.

use crate::output::report::Holds;
use std::fmt::Write;

/// Width and height of a frame, and the step to the next, in pixels (a choice).
const WIDE: u32 = 24;
const HIGH: u32 = 40;
const STEP: u32 = 28;
const DOWN: u32 = 58;
/// Frames to a row (a choice: ten fit across a telephone).
const ROW: u32 = 10;
/// Most frames that are drawn of one colony or compartment (a choice: beyond, the table says it).
const MOST: u32 = 60;

/// How a frame is marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    /// It stays.
    None,
    /// It leaves.
    Leaves,
    /// It holds the queen.
    Queen,
    /// It fills a gap.
    Filler,
    /// It comes from the origin of this number.
    From(usize),
}

/// A letter or number under a frame.
#[derive(Debug, Clone)]
pub(super) struct Letter {
    pub x: u32,
    pub y: u32,
    pub text: String,
}

/// Frames in their order, ready to be drawn.
#[derive(Debug, Clone, Default)]
pub(super) struct Drawing {
    pub wide: u32,
    pub high: u32,
    pub outline: String,
    pub drawn: String,
    pub brood: String,
    pub sealed: String,
    pub stores: String,
    pub crossed: String,
    pub letters: Vec<Letter>,
    count: u32,
}

impl Drawing {
    /// Adds frames alike.
    pub(super) fn add(&mut self, holds: &Holds, frames: u32, mark: Mark) {
        let room = MOST.saturating_sub(self.count);
        for _ in 0..frames.min(room) {
            let (x, y) = self.place();
            self.comb(holds, x, y);
            self.mark(mark, x, y);
            self.count += 1;
        }
        self.wide = self.count.min(ROW) * STEP;
        self.high = self.count.div_ceil(ROW) * DOWN;
    }

    /// Whether there is nothing to draw.
    pub(super) fn is_empty(&self) -> bool {
        self.count == 0
    }

    fn place(&self) -> (u32, u32) {
        (self.count % ROW * STEP + 2, self.count / ROW * DOWN + 2)
    }

    /// Stores at the top, brood below, drawn comb behind, as it is in a comb.
    fn comb(&mut self, holds: &Holds, x: u32, y: u32) {
        bar(&mut self.outline, x, y, HIGH);
        bar(&mut self.drawn, x, y, pixels(holds.drawn_share));
        let stores = pixels(holds.stores_share);
        bar(&mut self.stores, x, y, stores);
        let open = (holds.brood_share - holds.sealed_share).max(0.0);
        let (open, sealed) = (pixels(open), pixels(holds.sealed_share));
        bar(&mut self.brood, x, y + stores, open);
        bar(&mut self.sealed, x, y + stores + open, sealed);
    }

    fn mark(&mut self, mark: Mark, x: u32, y: u32) {
        let text = match mark {
            Mark::None => return,
            Mark::Leaves => {
                let _ = write!(
                    self.crossed,
                    "M{x} {y}l{WIDE} {HIGH}m0-{HIGH}l-{WIDE} {HIGH}"
                );
                "L".to_owned()
            }
            Mark::Queen => "Q".to_owned(),
            Mark::Filler => "N".to_owned(),
            Mark::From(number) => number.to_string(),
        };
        let (x, y) = (x + WIDE / 2, y + HIGH + 12);
        self.letters.push(Letter { x, y, text });
    }
}

fn bar(path: &mut String, x: u32, y: u32, high: u32) {
    if high > 0 {
        let _ = write!(path, "M{x} {y}h{WIDE}v{high}h-{WIDE}z");
    }
}

/// A share of the comb as whole pixels; what is there at all is seen.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 0 and the height of a frame"
)]
fn pixels(share: f64) -> u32 {
    if share <= 0.0 {
        return 0;
    }
    ((share.min(1.0) * f64::from(HIGH)).round() as u32).max(1)
}
