//! A fermentation's balance, from its log.

mod balance;
mod entries;
mod faults;
mod laws;
mod published_beers;
mod random_logs;
mod readings;
mod what_counts;
