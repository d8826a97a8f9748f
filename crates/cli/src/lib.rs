//! Spareframe: plans the stocking of mating boxes. Reads a scenario, writes a plan.

pub mod app;
mod desk;
mod editing;
pub mod inspect;
mod look;
pub mod onward;
pub mod output;
pub mod plan;
pub mod probe;
mod reading;
pub mod scenario;
mod season;
