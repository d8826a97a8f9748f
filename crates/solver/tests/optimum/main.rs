//! Plans, curves and reasons against ways to the optimum that do not go through the solver.

mod allocation;
mod ceiling;
mod changes;
mod constraints;
mod curve;
mod defects;
mod direct;
mod done;
mod enumeration;
mod generator;
mod near;
mod progress;
mod relaxation;
mod standing;
#[path = "../support/mod.rs"]
mod support;
mod why;
mod wishes;
