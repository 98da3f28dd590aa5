//! Why each amount of a plan differs from the printed one.

use crate::process::Figure;
use crate::quantity::{Bitterness, BrewhouseYield, Concentration, Proportion, Share, Time, Volume};
use crate::wording::{Style, percent, shortest, time};
use serde::Serialize;

/// One change from the source to the plan, with its figures.
#[derive(Debug, Clone, PartialEq, Serialize)]
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
        /// Of the volume before the addition.
        #[serde(
            rename = "share_of_vessel_pct",
            with = "crate::quantity::json::percent"
        )]
        share: crate::quantity::Attenuation,
    },
    /// A lot's own figure replaces the recipe's.
    LotFigure {
        /// The ingredient.
        name: String,
        /// Which figure.
        figure: Figure,
        /// The recipe's or the catalogue's, in the unit of the figure, a fraction or EBC, WK, °P.
        #[serde(skip_serializing_if = "Option::is_none")]
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
    /// The source lets its wort stand hot; this plant does not.
    StandLeftOut {
        /// Length of the stands.
        #[serde(rename = "time_min", with = "crate::quantity::json::minute")]
        time: Time,
    },
}

impl Change {
    /// The change as a sentence without a full stop.
    pub fn text(&self, style: Style) -> String {
        match self {
            Self::Batch { source, target } => format!(
                "wort into the fermenter: {} in place of {}",
                style.volume(*target),
                style.volume(*source)
            ),
            Self::GristFollowsYield { source, target } => format!(
                "grain keeps its ratios; your plant yields {} of its extract, the source {}",
                percent(*target, 1),
                percent(*source, 1)
            ),
            Self::SugarKeepsExtractShare {
                name,
                extract_share,
                source_weight,
                target_weight,
            } => format!(
                "{name} keeps {} of the extract ({} of the weight, printed {})",
                percent(*extract_share, 1),
                percent(*target_weight, 1),
                percent(*source_weight, 1)
            ),
            Self::BitteringClosesGap {
                name,
                source,
                target,
                aim,
            } => format!(
                "{name} gives {:.1} IBU to the wort (source {:.1}) to reach {:.1} IBU in the beer",
                target.ibu(),
                source.ibu(),
                aim.ibu()
            ),
            Self::KeepsDose { name, dose } => {
                format!(
                    "{name} keeps its {} of cold wort",
                    style.concentration(*dose)
                )
            }
            Self::KeepsShareOfVessel { name, share } => {
                format!(
                    "{name} keeps its {} of what is in the vessel",
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
                    Some(recipe) => format!(
                        "{name}: your lot has {}, the recipe {}",
                        say(*lot),
                        say(*recipe)
                    ),
                    None => format!("{name}: your lot has {}", say(*lot)),
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
                        format!(", with {:+.1} % {base}", 100.0 * (factor.ratio() - 1.0))
                    }
                    _ => String::new(),
                };
                format!("{name} is replaced by {}{base}", with.join(" and "))
            }
            Self::StandLeftOut { time: length } => format!(
                "the source's hot stand of {} is left out: your plant has none and nothing goes into it",
                time(*length)
            ),
        }
    }
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
