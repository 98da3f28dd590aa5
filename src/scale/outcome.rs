//! What a plant could not reach, with the figure it can reach and the ways out.

use crate::diagnostic::{Severity, codes};
use crate::inverse::Stop;
use crate::quantity::{BeerColour, Bitterness, Extract, Volume, in_kilograms, litres};
use crate::remedy::Remedy;
use crate::science::density::WATER_KG_PER_L;
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
    /// Hops that only stand give another bitterness here than in the original brewery, and no hop boils that could make it up.
    BitternessNotMet {
        /// Wanted in the beer.
        #[serde(rename = "wanted_ibu")]
        wanted: Bitterness,
        /// What the hops give.
        #[serde(rename = "predicted_ibu")]
        predicted: Bitterness,
        /// Ways out.
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
        BitternessNotMet = "bitterness_not_met",
        IonsMissed = "ions_missed",
        MashStops = "mash_stops",
        CannotBeBought = "cannot_be_bought",
    }
}

impl Outcome {
    /// Whether it keeps the beer out of reach and has a way out.
    pub(crate) fn stops_with_remedy(&self) -> bool {
        self.severity() == Severity::Error && !self.remedies().is_empty()
    }

    /// The ways out in words, none with the gravity that all of them are to reach.
    pub(crate) fn ways_out(&self, style: Style) -> Vec<String> {
        let ways = self.remedies().iter().map(|remedy| remedy.text(style));
        let Self::GravityOutOfReach { wanted, .. } = self else {
            return ways.collect();
        };
        let wanted = style.gravity(*wanted);
        let gives = [format!(" (gives {wanted})"), format!("gives {wanted}; ")];
        ways.map(|way| gives.iter().fold(way, |way, told| way.replace(told, "")))
            .collect()
    }

    /// The ways out, none where only a choice helps.
    pub fn remedies(&self) -> &[Remedy] {
        match self {
            Self::GravityOutOfReach { remedies, .. }
            | Self::KettleOverflows { remedies, .. }
            | Self::ColourNotExplained { remedies, .. }
            | Self::BitternessNotMet { remedies, .. } => remedies,
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
            Self::ColourNotExplained { .. }
            | Self::BitternessNotMet { .. }
            | Self::IonsMissed { .. } => Severity::Warning,
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
                ..
            } => {
                let nothing = highest.plato() < NO_WORT_PLATO;
                let place = match because {
                    Stop::TooThick => "the mash gets too thick to stir",
                    Stop::VesselFull if nothing => "the mash water alone overfills the mash vessel",
                    Stop::VesselFull => "the mash vessel is full",
                    Stop::GrainHoldsBack => "too much wort is lost to grain absorption",
                    Stop::NoMash => "this brewhouse does not mash",
                };
                let highest = if nothing {
                    String::new()
                } else {
                    format!("; highest possible {}", style.gravity(*highest))
                };
                let lost = match because {
                    Stop::NoMash if !self.remedies().is_empty() => {
                        " With extract alone the colour and taste of the grain are lost."
                    }
                    _ => "",
                };
                format!(
                    "{} is out of reach: {place}{highest}.{lost}{}",
                    style.gravity(*wanted),
                    options(self, style)
                )
            }
            Self::KettleOverflows {
                needed, capacity, ..
            } => format!(
                "Kettle too small: {} of hot wort before the boil, capacity {}.{}",
                style.volume(*needed),
                style.volume(*capacity),
                options(self, style)
            ),
            Self::ColourNotExplained {
                printed,
                malt,
                with_juice,
                ..
            } => {
                let juice = with_juice
                    .map(|c| format!(" (estimate with juice {})", style.beer_colour(c)))
                    .unwrap_or_default();
                format!(
                    "Original sheet: colour {}, calculated from the grist {}{juice}; nothing adjusted.{}",
                    style.beer_colour(*printed),
                    style.beer_colour(*malt),
                    options(self, style)
                )
            }
            Self::BitternessNotMet {
                wanted, predicted, ..
            } => format!(
                "Hop stand gives {:.0} IBU here, target {:.0} IBU.{}",
                predicted.ibu(),
                wanted.ibu(),
                options(self, style)
            ),
            Self::IonsMissed { missed } => {
                let said: Vec<_> = missed
                    .iter()
                    .map(|ion| {
                        format!(
                            "{} {} (target {})",
                            ion.ion.word(),
                            speech::ion(ion.reached),
                            speech::ion(ion.wanted)
                        )
                    })
                    .collect();
                let dilute = if missed.iter().any(|ion| ion.reached > ion.wanted) {
                    " Dilute with softer water."
                } else {
                    ""
                };
                format!(
                    "Salts alone cannot reach the target water profile: {}.{dilute}",
                    said.join(", ")
                )
            }
            Self::MashStops { stopped } => mash_stops(stopped, style),
            Self::CannotBeBought { name } => {
                format!("{name} is not available: choose a substitute.")
            }
        }
    }
}

fn mash_stops(stopped: &MashStop, style: Style) -> String {
    match stopped {
        MashStop::StrikeTooHot { needed } => match needed {
            Some(needed) => format!(
                "Strike water would need {}: use more water, or preheat grain and tun.",
                style.temperature(*needed)
            ),
            None => "Even boiling strike water is too cool: use more of it.".to_owned(),
        },
        MashStop::TooThick { left, enough } => format!(
            "Only {} L/kg left for mashing in, too thick to stir: use {} of mash water, drop a rest, or heat the mash.",
            speech::shortest(left.litres_per_kilogram(), 1),
            style.volume(litres(in_kilograms(*enough) / WATER_KG_PER_L))
        ),
        MashStop::VesselFull {
            rest,
            needed,
            capacity,
        } => format!(
            "Mash vessel too small for rest {rest}: capacity {}, needed {}. Use less water or brew less.",
            style.volume(*capacity),
            style.volume(*needed)
        ),
        MashStop::WaterTooCool { rest } => {
            format!("Rest {rest} is too hot to reach by infusion: heat the mash.")
        }
        MashStop::NoHeating { rest } => format!(
            "No way given to heat to rest {rest}: drop it, or reserve boiling water for an infusion."
        ),
    }
}

fn options(outcome: &Outcome, style: Style) -> String {
    let texts = outcome.ways_out(style);
    if texts.is_empty() {
        String::new()
    } else {
        format!(" Options: {}.", texts.join("; or "))
    }
}
