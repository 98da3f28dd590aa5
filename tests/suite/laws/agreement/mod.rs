//! One beer has one set of figures, however it is written and asked for: drawn beers under the laws that hold of any.

mod beers;
mod faults;
mod published;
mod recomputed;
