//! What is chosen for a line, before its consequences are worked out.

use super::case::Case;
use super::needs::Need;
use super::search::Found;

/// A support for a line, in one of the ways in which that can be matched.
#[derive(Debug, Clone, Copy)]
pub(super) struct Choice<'a> {
    pub(super) need: &'a Need,
    pub(super) case: &'a Case,
    pub(super) found: Found,
    pub(super) feasible: bool,
    pub(super) variants: usize,
}
