//! The answer for one line: what is proposed for it, or why nothing is, and what the beer would be without it.

use super::proposal::Proposal;
use crate::catalogue::Kind;
use crate::diagnostic::{Place, Severity, codes};
use crate::quantity::{Mass, Volume};
use crate::recipe::RecipeLine;
use crate::speech::{Speaks, Style};
use serde::Serialize;

/// What may stand for one line of a recipe.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Proposals {
    /// What is missing, as the recipe writes it.
    pub name: String,
    /// The line.
    pub line: RecipeLine,
    /// What it is.
    pub kind: Kind,
    /// How much of it the line has on the target, for what is weighed.
    #[serde(
        rename = "mass_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub mass: Option<Mass>,
    /// The same, for what is measured.
    #[serde(
        rename = "volume_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub volume: Option<Volume>,
    /// How many candidates there were.
    pub candidates: usize,
    /// The proposals, the nearest first, each led by another ingredient. Where nothing keeps gravity and colour, what
    /// misses one of them by least: marked as not feasible, with by how much.
    pub proposals: Vec<Proposal>,
    /// Why there is no honest substitute, where there is none; the proposals then hold the nearest misses, if any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub no_substitute: Option<NoSubstitute>,
    /// What becomes of the beer without it, for what may be left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub without: Option<WithoutIt>,
}

/// Why nothing can stand for a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum NoSubstitute {
    /// There is no candidate of a fitting kind: add lots to the stock, or look at the whole catalogue.
    NoCandidates,
    /// No blend keeps gravity and colour, or of hops bitterness: see how much the nearest one misses, and accept it or add lots.
    NothingKeepsGravityAndColour,
    /// Whatever keeps them leaves a grist that does not convert: add enzymes or base malt.
    NothingConverts,
    /// Nothing at hand or in a shop does what it is there for: see what the beer is without it.
    NothingDoesItsJob,
    /// The culture that sours the wort: any other of lactic acid bacteria does, and nothing else.
    AnotherCulture,
    /// The line adds no amount on this plant, so that nothing is missing.
    NothingNeeded,
}

codes! {
    NoSubstitute {
        NoCandidates = "no_candidates",
        NothingKeepsGravityAndColour = "nothing_keeps_gravity_and_colour",
        NothingConverts = "nothing_converts",
        NothingDoesItsJob = "nothing_does_its_job",
        AnotherCulture = "another_culture",
        NothingNeeded = "nothing_needed",
    }
}

/// What becomes of a beer when a spice, a fining, a salt or an acid is left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum WithoutIt {
    /// The taste of a spice is missing.
    LacksItsFlavour,
    /// It clears more slowly.
    ClearsSlowly,
    /// It may turn hazy when it is cooled.
    HazeInTheCold,
    /// It is not filtered.
    Unfiltered,
    /// Starch of raw grain may not convert.
    StarchStays,
    /// It ends sweeter and fuller.
    EndsSweeter,
    /// The run-off is slower.
    RunsOffSlowly,
    /// Fruit may leave a haze.
    PectinHaze,
    /// It wants time to lose its diacetyl.
    RestsForDiacetyl,
    /// A wort of fruit, honey or sugar may ferment slowly.
    FermentsSlowly,
    /// Its foam rises higher.
    FoamsHigher,
    /// Its head falls sooner.
    HeadFalls,
    /// The pH stays higher.
    PhStays,
    /// The water lacks ions.
    LacksItsIons,
    /// A beer that is to be sour is not.
    LacksItsAcid,
    /// A salt of wort or beer is not tasted.
    LacksItsSalt,
}

codes! {
    WithoutIt {
        LacksItsFlavour = "lacks_its_flavour",
        ClearsSlowly = "clears_slowly",
        HazeInTheCold = "haze_in_the_cold",
        Unfiltered = "unfiltered",
        StarchStays = "starch_stays",
        EndsSweeter = "ends_sweeter",
        RunsOffSlowly = "runs_off_slowly",
        PectinHaze = "pectin_haze_stays",
        RestsForDiacetyl = "rests_for_diacetyl",
        FermentsSlowly = "ferments_slowly",
        FoamsHigher = "foams_higher",
        HeadFalls = "head_falls",
        PhStays = "ph_stays",
        LacksItsIons = "lacks_its_ions",
        LacksItsAcid = "lacks_its_acid",
        LacksItsSalt = "lacks_its_salt",
    }
}

impl Proposals {
    /// The same for another line that wants the same.
    pub(super) fn at_line(&self, line: &RecipeLine, place: Option<&Place>) -> Self {
        Self {
            line: line.clone(),
            name: line.name.clone(),
            proposals: self
                .proposals
                .iter()
                .map(|proposal| proposal.at_line(line, place))
                .collect(),
            ..self.clone()
        }
    }
}

impl Speaks for NoSubstitute {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Warning
    }

    fn text(&self, _: Style) -> String {
        let text = match self {
            Self::NoCandidates => "nothing at hand or on sale could replace it",
            Self::NothingKeepsGravityAndColour => {
                "nothing matches strength and colour, or the bitterness of hops"
            }
            Self::NothingConverts => "every match leaves too little diastatic power to convert",
            Self::NothingDoesItsJob => "nothing else does its job",
            Self::AnotherCulture => {
                "any other culture of lactic acid bacteria sours the wort; else leave out the souring and add lactic acid to the beer"
            }
            Self::NothingNeeded => "this addition comes to nothing in this brewhouse",
        };
        text.to_owned()
    }
}

impl Speaks for WithoutIt {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, _: Style) -> String {
        let text = match self {
            Self::LacksItsFlavour => {
                "left out, its flavour is missing; strength, colour and bitterness stay"
            }
            Self::ClearsSlowly => {
                "left out, the beer clears more slowly and may stay hazy; its taste stays"
            }
            Self::HazeInTheCold => "left out, the beer may turn hazy in the cold; its taste stays",
            Self::Unfiltered => "left out, the beer is not filtered: weeks in the cold clear it",
            Self::StarchStays => "left out, the starch of raw grain may not convert: cook it first",
            Self::EndsSweeter => "left out, the beer ends sweeter, fuller and weaker",
            Self::RunsOffSlowly => "left out, the run-off is slower: add rice hulls",
            Self::PectinHaze => "left out, fruit may leave a haze; the taste stays",
            Self::RestsForDiacetyl => {
                "left out, keep the beer at fermenting temperature two days longer against diacetyl"
            }
            Self::FermentsSlowly => {
                "left out, an all-malt wort ferments as well; with much honey, sugar or fruit it may be slow"
            }
            Self::FoamsHigher => {
                "left out, the foam rises higher: leave headspace and watch the kettle"
            }
            Self::HeadFalls => "left out, the head falls sooner; the taste stays",
            Self::PhStays => "left out, the pH stays higher: measure it",
            Self::LacksItsAcid => "left out, the beer is not as sour; strength and colour stay",
            Self::LacksItsSalt => {
                "left out, its taste is missing: salty, fuller or drier; strength and colour stay"
            }
            Self::LacksItsIons => {
                "left out, the water lacks its ions: the taste is a little softer, and the mash pH may be higher"
            }
        };
        text.to_owned()
    }
}
