//! Why a plan is as good as it is and no better: one record, one writer for each format.

mod build;
mod name;
mod record;
mod sections;
mod setting;
mod short;
mod words;
mod write;

pub use build::build;
pub use record::{
    AskReport, ChangeReport, ColonyBecause, ColonyWhy, EffectReport, GroupReport, KindBecause,
    KindWhy, LimitReport, OfferReport, ReachedReport, SortReport, SpanReport, Thing, WHY_VERSION,
    WhyReport,
};
pub(super) use sections::{Section, closed, sections};
pub(crate) use setting::set;
pub(crate) use short::{eased_in_short, in_short, limits_in_short};
pub(super) use words::kept;
pub(super) use write::{code, quoted};
pub use write::{markdown, table};
