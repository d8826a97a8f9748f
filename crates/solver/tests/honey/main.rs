//! The colony model and honey rates: against published figures, and against a second working-out.

mod combs;
mod difference;
mod model;
mod oracle;
