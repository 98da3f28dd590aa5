//! What a plant could not reach, with the figure it can reach and the ways out.

use crate::diagnostic::{Severity, codes};
use crate::inverse::Stop;
use crate::quantity::{BeerColour, Extract, Volume};
use crate::remedy::Remedy;
use crate::science::heat::MashStop;
use crate::science::water::MissedIon;
use crate::speech::{self, Speaks, Style};
use serde::Serialize;

/// A wort below this would be said to have no strength at all.
const NO_WORT_PLATO: f64 = 0.05;

/// A target that could not be met. The plan holds the nearest that the plant can do.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Outcome {
    /// The mash cannot reach the gravity at this batch: take a remedy, or accept the highest.
    GravityOutOfReach {
        /// Wanted.
        #[serde(rename = "wanted_plato")]
        wanted: Extract,
        /// The highest that the plant reaches; the plan brews this.
        #[serde(rename = "highest_plato")]
        highest: Extract,
        /// Why.
        because: Stop,
        /// Ways out.
        remedies: Vec<Remedy>,
    },
    /// The kettle does not hold the wort before the boil: take a remedy. The plan still shows the wanted batch.
    KettleOverflows {
        /// Hot volume before the boil.
        #[serde(rename = "needed_hot_l", with = "crate::quantity::json::litre")]
        needed: Volume,
        /// The kettle's capacity.
        #[serde(rename = "capacity_l", with = "crate::quantity::json::litre")]
        capacity: Volume,
        /// The largest batch that fits, where one does.
        #[serde(
            rename = "largest_batch_l",
            with = "crate::quantity::json::option::litre",
            skip_serializing_if = "Option::is_none"
        )]
        largest_batch: Option<Volume>,
        /// Ways out.
        remedies: Vec<Remedy>,
    },
    /// The grist does not explain the printed colour; nothing was added to meet it.
    ColourNotExplained {
        /// Printed.
        #[serde(rename = "printed_ebc")]
        printed: BeerColour,
        /// Malt part.
        #[serde(rename = "malt_ebc")]
        malt: BeerColour,
        /// With juice, rough, where there is any.
        #[serde(rename = "with_juice_ebc", skip_serializing_if = "Option::is_none")]
        with_juice: Option<BeerColour>,
        /// Ways out; none where the grist is too dark.
        remedies: Vec<Remedy>,
    },
    /// Salts do not bring the water to every ion that the sheet names: accept it, or mix with softer water what is too
    /// much.
    IonsMissed {
        /// The ions.
        missed: Vec<MissedIon>,
    },
    /// The plant cannot carry the mash to its last rest as planned; the schedule ends where it can.
    MashStops {
        /// What stops it.
        stopped: MashStop,
    },
    /// Something cannot be bought and nothing stands in for it: choose a substitute.
    CannotBeBought {
        /// The ingredient.
        name: String,
    },
}

codes! {
    Outcome {
        GravityOutOfReach = "gravity_out_of_reach",
        KettleOverflows = "kettle_overflows",
        ColourNotExplained = "colour_not_explained",
        IonsMissed = "ions_missed",
        MashStops = "mash_stops",
        CannotBeBought = "cannot_be_bought",
    }
}

impl Outcome {
    /// The ways out, none where only a choice helps.
    pub fn remedies(&self) -> &[Remedy] {
        match self {
            Self::GravityOutOfReach { remedies, .. }
            | Self::KettleOverflows { remedies, .. }
            | Self::ColourNotExplained { remedies, .. } => remedies,
            Self::IonsMissed { .. } | Self::MashStops { .. } | Self::CannotBeBought { .. } => &[],
        }
    }
}

impl Speaks for Outcome {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        match self {
            Self::ColourNotExplained { .. } | Self::IonsMissed { .. } => Severity::Warning,
            Self::GravityOutOfReach { .. }
            | Self::KettleOverflows { .. }
            | Self::MashStops { .. }
            | Self::CannotBeBought { .. } => Severity::Error,
        }
    }

    fn text(&self, style: Style) -> String {
        match self {
            Self::GravityOutOfReach {
                wanted,
                highest,
                because,
                remedies,
            } => {
                let nothing = highest.plato() < NO_WORT_PLATO;
                let place = match because {
                    Stop::TooThick => "the mash gets too thick to stir",
                    Stop::VesselFull if nothing => {
                        "the water of this batch fills the mash vessel by itself"
                    }
                    Stop::VesselFull => "the mash vessel is full",
                    Stop::GrainHoldsBack => "the grain keeps back too much of its wort",
                    Stop::NoMash => "this plant does not mash",
                };
                let highest = if nothing {
                    String::new()
                } else {
                    format!("; the highest is {}", style.gravity(*highest))
                };
                format!(
                    "the mash can't reach {}: {place}{highest}{}",
                    style.gravity(*wanted),
                    ways_out(remedies, style)
                )
            }
            Self::KettleOverflows {
                needed,
                capacity,
                remedies,
                ..
            } => format!(
                "the kettle overflows: {} of hot wort before the boil, it holds {}{}",
                style.volume(*needed),
                style.volume(*capacity),
                ways_out(remedies, style)
            ),
            Self::ColourNotExplained {
                printed,
                malt,
                with_juice,
                remedies,
            } => {
                let juice = with_juice
                    .map(|c| format!(" ({} with juice, rough)", style.beer_colour(c)))
                    .unwrap_or_default();
                format!(
                    "the sheet prints {}, its grist gives {}{juice}; nothing was added to meet it{}",
                    style.beer_colour(*printed),
                    style.beer_colour(*malt),
                    ways_out(remedies, style)
                )
            }
            Self::IonsMissed { missed } => {
                let said: Vec<_> = missed
                    .iter()
                    .map(|ion| {
                        format!(
                            "{} {} in place of {}",
                            ion.ion.word(),
                            speech::ion(ion.reached),
                            speech::ion(ion.wanted)
                        )
                    })
                    .collect();
                format!(
                    "salts can't bring your water to what the sheet wants: {}; softer water thins what is too much",
                    said.join(", ")
                )
            }
            Self::MashStops { stopped } => mash_stops(stopped, style),
            Self::CannotBeBought { name } => {
                format!(
                    "{name} cannot be bought and nothing was put in its place; choose a substitute"
                )
            }
        }
    }
}

fn mash_stops(stopped: &MashStop, style: Style) -> String {
    match stopped {
        MashStop::StrikeTooHot { needed } => match needed {
            Some(needed) => format!(
                "strike water would have to be at {}: use more water, or warm grain and tun",
                style.temperature(*needed)
            ),
            None => "no water is hot enough to mash in with: use more of it".to_owned(),
        },
        MashStop::TooThick { left, enough } => format!(
            "infusions leave {} L/kg to mash in with, too thick to stir: take {} of mash water, leave out a rest, or heat the mash",
            speech::shortest(left.litres_per_kilogram(), 1),
            style.mass(*enough)
        ),
        MashStop::VesselFull {
            rest,
            needed,
            capacity,
        } => format!(
            "the mash vessel holds {}, rest {rest} needs {}: use less water or brew less",
            style.volume(*capacity),
            style.volume(*needed)
        ),
        MashStop::WaterTooCool { rest } => {
            format!("boiling water is no hotter than rest {rest}: heat the mash itself")
        }
        MashStop::NoHeating { rest } => format!(
            "nothing raises the mash to rest {rest}: leave it out, or keep boiling water for it"
        ),
    }
}

fn ways_out(remedies: &[Remedy], style: Style) -> String {
    let texts: Vec<_> = remedies.iter().map(|remedy| remedy.text(style)).collect();
    if texts.is_empty() {
        String::new()
    } else {
        format!("; {}", texts.join(", or "))
    }
}
