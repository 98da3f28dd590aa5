//! The way in for hosts.

mod host;
