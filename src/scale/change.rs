//! Why each amount of a plan differs from the printed one.

use crate::diagnostic::{Severity, codes};
use crate::process::Figure;
use crate::quantity::json::{Rounded, in_unit};
use crate::quantity::{
    Bitterness, BrewhouseYield, Concentration, Ph, Proportion, Share, Time, Volume, in_litres,
};
use crate::remedy::Remedy;
use crate::science::water::Ion;
use crate::speech::{Speaks, Style, percent, shortest, time};
use serde::{Serialize, Serializer};

/// One change from the source to the plan, with its figures.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Change {
    /// The batch.
    Batch {
        /// Wort into the fermenter at the source.
        #[serde(rename = "source_l", with = "crate::quantity::json::litre")]
        source: Volume,
        /// Wort into the fermenter here.
        #[serde(rename = "target_l", with = "crate::quantity::json::litre")]
        target: Volume,
    },
    /// Grain keeps its ratios; its mass follows the yield that this plant reaches with it.
    GristFollowsYield {
        /// Yield at the source.
        #[serde(rename = "source_yield_pct", with = "crate::quantity::json::percent")]
        source: BrewhouseYield,
        /// Yield here.
        #[serde(rename = "target_yield_pct", with = "crate::quantity::json::percent")]
        target: BrewhouseYield,
    },
    /// A kettle sugar keeps its share of the wort's extract, so that the beer does not turn drier or fuller.
    SugarKeepsExtractShare {
        /// The sugar.
        name: String,
        /// Its share of the extract, there and here.
        #[serde(rename = "extract_share_pct", with = "crate::quantity::json::percent")]
        extract_share: Share,
        /// Its share of the fermentables by weight at the source.
        #[serde(
            rename = "source_weight_share_pct",
            with = "crate::quantity::json::percent"
        )]
        source_weight: Share,
        /// The same here.
        #[serde(
            rename = "target_weight_share_pct",
            with = "crate::quantity::json::percent"
        )]
        target_weight: Share,
    },
    /// The first bittering hop closes the gap to the bitterness of the beer.
    BitteringClosesGap {
        /// The hop.
        name: String,
        /// Bitterness it gives to the wort at the source.
        #[serde(rename = "source_ibu")]
        source: Bitterness,
        /// Bitterness it gives to the wort here.
        #[serde(rename = "target_ibu")]
        target: Bitterness,
        /// Bitterness aimed at in the beer.
        #[serde(rename = "aim_ibu")]
        aim: Bitterness,
    },
    /// An addition keeps its mass per litre of cold wort at the end of the boil.
    KeepsDose {
        /// The ingredient.
        name: String,
        /// Its dose.
        #[serde(rename = "dose_g_l")]
        dose: Concentration,
    },
    /// An addition in the fermenter keeps its share of the liquid then in the vessel.
    KeepsShareOfVessel {
        /// The ingredient.
        name: String,
        /// Of the volume before the addition: above 100 % for more than there was.
        #[serde(
            rename = "share_of_vessel_pct",
            with = "crate::quantity::json::percent"
        )]
        share: Proportion,
    },
    /// A lot's own figure replaces the recipe's. In JSON both are in `unit`.
    #[serde(serialize_with = "lot_figure_form")]
    #[cfg_attr(feature = "schema", schemars(with = "LotFigureForm<'static>"))]
    LotFigure {
        /// The ingredient.
        name: String,
        /// Which figure.
        figure: Figure,
        /// The recipe's or the catalogue's, in the base unit of [`Figure::unit`]; a share is a fraction.
        recipe: Option<f64>,
        /// The lot's.
        lot: f64,
    },
    /// Something was replaced; gravity and colour follow from what stands in its place.
    Replaced {
        /// What was replaced.
        name: String,
        /// What stands in its place.
        with: Vec<String>,
        /// The line of base malt that was changed with it.
        #[serde(skip_serializing_if = "Option::is_none")]
        base_malt: Option<String>,
        /// By how much, for one of what was printed.
        #[serde(rename = "base_malt_factor", skip_serializing_if = "Option::is_none")]
        factor: Option<Proportion>,
    },
    /// Salts bring the water towards the ions that the sheet names.
    WaterBrought {
        /// Each named ion.
        ions: Vec<IonBrought>,
    },
    /// Acid or alkali brings the mash to the pH that the sheet prints.
    MashPhSet {
        /// What does it.
        name: String,
        /// Predicted without it.
        #[serde(rename = "from_ph")]
        from: Ph,
        /// Predicted with it, as weighed out.
        #[serde(rename = "to_ph")]
        to: Ph,
        /// Wanted.
        #[serde(rename = "wanted_ph")]
        wanted: Ph,
    },
    /// The printed sparge is that of the original brewery; here it follows from the plant's own mash and run-off.
    SpargeFollowsPlant {
        /// Printed; absent where only its temperature is.
        #[serde(
            rename = "source_l",
            with = "crate::quantity::json::option::litre",
            skip_serializing_if = "Option::is_none"
        )]
        source: Option<Volume>,
        /// Sparge water here.
        #[serde(rename = "target_l", with = "crate::quantity::json::litre")]
        target: Volume,
    },
    /// The source lets its wort stand hot; this plant does not.
    StandLeftOut {
        /// Length of the stands.
        #[serde(rename = "time_min", with = "crate::quantity::json::minute")]
        time: Time,
        /// What they are worth in the source's beer, by isomerisation.
        #[serde(rename = "worth_ibu")]
        worth: Bitterness,
    },
    /// A remedy was taken for what this plant could not do.
    RemedyTaken {
        /// The remedy.
        remedy: Remedy,
    },
}

codes! {
    Change {
        Batch = "batch",
        GristFollowsYield = "grist_follows_yield",
        SugarKeepsExtractShare = "sugar_keeps_extract_share",
        BitteringClosesGap = "bittering_closes_gap",
        KeepsDose = "keeps_dose",
        KeepsShareOfVessel = "keeps_share_of_vessel",
        LotFigure = "lot_figure",
        Replaced = "replaced",
        WaterBrought = "water_brought",
        MashPhSet = "mash_ph_set",
        SpargeFollowsPlant = "sparge_follows_plant",
        StandLeftOut = "stand_left_out",
        RemedyTaken = "remedy_taken",
    }
}

/// An ion of the water, before and after salts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct IonBrought {
    /// Which.
    pub ion: Ion,
    /// In the water as it comes.
    #[serde(rename = "from_g_l")]
    pub from: Concentration,
    /// Wanted.
    #[serde(rename = "wanted_g_l")]
    pub wanted: Concentration,
    /// With the salts, as computed.
    #[serde(rename = "reached_g_l")]
    pub reached: Concentration,
}

impl Speaks for Change {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, style: Style) -> String {
        match self {
            Self::Batch { source, target } => format!(
                "batch: {} instead of {} into the fermenter",
                style.volume(*target),
                style.volume(*source)
            ),
            Self::GristFollowsYield { source, target } => format!(
                "grist proportions unchanged; brewhouse yield {} (original {})",
                percent(*target, 1),
                percent(*source, 1)
            ),
            Self::SugarKeepsExtractShare {
                name,
                extract_share,
                source_weight,
                target_weight,
            } => {
                let share = percent(*extract_share, 1);
                let (weight, original) = (percent(*target_weight, 1), percent(*source_weight, 1));
                if weight == original {
                    return format!("{name}: share of the extract unchanged at {share}");
                }
                format!(
                    "{name}: share of the extract unchanged at {share} ({weight} by weight, original {original})"
                )
            }
            Self::RemedyTaken { remedy } => format!("remedy: {}", remedy.text(style)),
            Self::BitteringClosesGap {
                name,
                source,
                target,
                aim,
            } => format!(
                "{name}: {:.1} IBU in the wort (original {:.1}), for {:.0} IBU of all hops in the beer",
                target.ibu(),
                source.ibu(),
                aim.ibu()
            ),
            Self::KeepsDose { name, dose } => {
                format!(
                    "{name}: same dose, {} of cold wort",
                    style.concentration(*dose)
                )
            }
            Self::KeepsShareOfVessel { name, share } => {
                format!(
                    "{name}: same proportion, {} of the volume before the addition",
                    percent(*share, 1)
                )
            }
            Self::LotFigure {
                name,
                figure,
                recipe,
                lot,
            } => {
                let say = |value: f64| figure.say(value, style);
                match recipe {
                    Some(recipe) => {
                        format!("{name}: your lot {}, recipe {}", say(*lot), say(*recipe))
                    }
                    None => format!("{name}: your lot {} (recipe gave none)", say(*lot)),
                }
            }
            Self::Replaced {
                name,
                with,
                base_malt,
                factor,
            } => {
                let base = match (base_malt, factor) {
                    (Some(base), Some(factor)) => {
                        format!(
                            "; {base} adjusted by {:+.1} %",
                            100.0 * (factor.ratio() - 1.0)
                        )
                    }
                    _ => String::new(),
                };
                format!("{name} replaced by {}{base}", with.join(" and "))
            }
            Self::WaterBrought { ions } => {
                let said: Vec<_> = ions
                    .iter()
                    .filter(|brought| brought.reached != brought.from)
                    .map(|brought| {
                        format!(
                            "{} from {} to {} (target {})",
                            brought.ion.word(),
                            mg_l(brought.from),
                            mg_l(brought.reached),
                            mg_l(brought.wanted)
                        )
                    })
                    .collect();
                if said.is_empty() {
                    return "no salt addition gets your water closer to the target profile"
                        .to_owned();
                }
                format!("salts change, in mg/L, {}", said.join(", "))
            }
            Self::MashPhSet {
                name,
                from,
                to,
                wanted,
            } => format!(
                "{name} moves the predicted mash pH from {:.2} to {:.2} (target {:.2}); check with a meter",
                from.value(),
                to.value(),
                wanted.value()
            ),
            Self::SpargeFollowsPlant { source, target } => {
                let printed = source.map_or_else(String::new, |source| {
                    format!(" of {}", style.volume(source))
                });
                let here = if in_litres(*target) > 0.0 {
                    format!("your brewhouse sparges with {}", style.volume(*target))
                } else {
                    "your brewhouse does not sparge".to_owned()
                };
                format!(
                    "the original sheet's sparge{printed} belongs to the original brewery; {here}"
                )
            }
            Self::StandLeftOut {
                time: length,
                worth,
            } => format!(
                "hot stand of {} omitted: nothing is added in it and your brewhouse has none; it gives about {:.1} IBU in the original",
                time(*length),
                worth.ibu()
            ),
        }
    }
}

/// What water holds of an ion, mg/L.
fn mg_l(concentration: Concentration) -> String {
    shortest(concentration.milligrams_per_litre(), 1)
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct LotFigureForm<'a> {
    name: &'a str,
    figure: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    recipe: Option<Rounded>,
    lot: Rounded,
    unit: &'static str,
}

#[allow(
    clippy::ref_option,
    clippy::trivially_copy_pass_by_ref,
    reason = "serde passes fields by reference"
)]
fn lot_figure_form<S: Serializer>(
    name: &str,
    figure: &Figure,
    recipe: &Option<f64>,
    lot: &f64,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    let unit = figure.unit();
    LotFigureForm {
        name,
        figure: *figure,
        recipe: recipe.map(|recipe| in_unit(recipe, unit)),
        lot: in_unit(*lot, unit),
        unit: unit.symbol(),
    }
    .serialize(serializer)
}

impl Figure {
    /// A value of this figure with its unit.
    fn say(self, value: f64, style: Style) -> String {
        match self {
            Self::Colour => style.malt_colour(crate::quantity::MaltColour::clamped(value)),
            Self::DiastaticPower => format!("{} WK", shortest(value, 0)),
            Self::Brix => format!("{} °Bx", shortest(value, 1)),
            _ => format!("{} % {}", shortest(value * 100.0, 1), self.word()),
        }
    }
}
