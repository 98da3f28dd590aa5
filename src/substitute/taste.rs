//! What a drinker may taste of a line and of what is put for it, and how well its lot is known.

/// What a case tells of taste, one for each axis.
#[derive(Debug, Clone)]
pub(super) struct Tastes {
    pub(super) axes: &'static [&'static str],
    /// What is replaced makes so much of what the beer tastes of.
    pub(super) share: f64,
    pub(super) wanted: Vec<f64>,
    /// Of one of the slack.
    pub(super) slack: Vec<f64>,
    /// Acid of what is wanted, mEq in a litre of the beer.
    pub(super) acid_meq_l: f64,
    /// A taste that only this one has, as of a fruit or a spice.
    pub(super) own: Option<OwnTaste>,
}

/// A taste by which an ingredient is known in the beer, whatever the axes say of it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct OwnTaste {
    pub(super) name: String,
    /// How much of it there is in the beer, in smallest steps.
    pub(super) steps: f64,
}

/// How much of the own taste of what is replaced something else has, and what it is known by itself.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Kin {
    pub(super) name: String,
    /// From 0 to 1.
    pub(super) alike: f64,
}

/// One sigma of what the lot of a line brings to the beer.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct LineSpread {
    /// Of the original gravity, as a share.
    pub(super) original: f64,
    pub(super) colour_ebc: f64,
    pub(super) ibu: f64,
}
