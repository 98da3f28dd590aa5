//! A plan as a page of a brewing log with pictures.

mod canvas;
mod day;
mod ferment;
mod flavour;
mod glass;
mod page;
mod style;
mod weigh;

pub(crate) use page::{Brewing, Offer, page};
