//! What was taken for granted, in words.

use super::{Assumption, FermentabilityBasis, Figure, MashInUnused, NoMashPh, Unused};
use crate::diagnostic::Severity;
use crate::process::plant_defaults::per_mass;
use crate::process::side::{PlantSize, Side};
use crate::quantity::{Fermentability, Temperature, in_litres};
use crate::science::fermentability::{COOLEST_LAST_C, RISE_C_PER_MIN};
use crate::science::heat::Raise;
use crate::speech::{Speaks, Style, TemperatureScale, percent, shortest};

impl Speaks for Assumption {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, style: Style) -> String {
        match self {
            Self::PlantDefault { side, what, value } => format!(
                "{} {} (not stated; common practice)",
                whose(*side),
                what.say(*value, style)
            ),
            Self::CommercialPlant { size } => format!(
                "the recipe names no plant: a {} one with usual figures is taken",
                match size {
                    PlantSize::Small => "small",
                    PlantSize::Commercial => "commercial",
                }
            ),
            Self::OnlyOtherPlant { plant } => {
                format!(
                    "the recipe names no plant: `{plant}` is taken, the only one without a batch"
                )
            }
            Self::GenericName { name, taken } => format!("Assumed: `{name}` is {taken}"),
            Self::CatalogueFigures { name, figures } => {
                let words: Vec<_> = figures.iter().map(|f| f.word()).collect();
                format!("{name}: {} from the catalogue", words.join(", "))
            }
            Self::OwnFigures { name, figures } => {
                let words: Vec<_> = figures.iter().map(|f| f.word()).collect();
                format!(
                    "{name}: {} from your own entry, or from what that is like",
                    words.join(", ")
                )
            }
            Self::MeanOfGrist {
                name,
                figure,
                value,
            } => format!(
                "Assumed: the {} of {name} is the mean of the grist ({} %)",
                figure.word(),
                shortest(value * 100.0, 1)
            ),
            Self::MoistureLeftOut { name } => format!(
                "{name}: extract stated as is and moisture unknown; the water in it is counted as none"
            ),
            Self::FermentsInFull { name } => {
                format!("Assumed: {name} ferments in full; its fermentable share is not known")
            }
            Self::SharesNormalised { sum } => {
                format!(
                    "the shares add up to {} and were brought to 100 %",
                    percent(*sum, 2)
                )
            }
            Self::YieldInferred { reached } => format!(
                "the source plant's masses and gravity mean a yield of {}",
                percent(*reached, 1)
            ),
            Self::YieldOverridesLauter { side, reached } => format!(
                "{} yield of {} is taken as stated; its lauter lines give the volumes only",
                whose(*side),
                percent(*reached, 1)
            ),
            Self::MashInNotUsed {
                side,
                liquor,
                because,
            } => format!(
                "the recipe's mash in of {} is not used on {} plant: {}",
                per_mass(liquor.litres_per_kilogram(), style),
                match side {
                    Side::Source => "the source",
                    Side::Target => "your",
                },
                match because {
                    MashInUnused::Bag => "a bag takes all the water but that of its sparge",
                    MashInUnused::NoSparge => "it does not sparge, all the water goes into the mash",
                    MashInUnused::NoMash => "it does not mash",
                    MashInUnused::PlantStatesOwn => "it states its own",
                }
            ),
            Self::StandNotUsed { side } => format!(
                "{} own stand is not used: the recipe has stands of its own",
                whose(*side)
            ),
            Self::ChangesNoFigure { name, what } => not_used(name.as_deref().unwrap_or_default(), *what),
            Self::BoilTime { time_min } => {
                format!(
                    "the boil's length is not stated: {} min",
                    shortest(*time_min, 0)
                )
            }
            Self::MashFermentability {
                factor,
                rests_factor,
                share,
                basis,
            } => format!(
                "Assumed: {} of the extract from malt ferments, {}{}",
                percent(*share, 1),
                match basis {
                    FermentabilityBasis::PrintedFinal => "which gives the printed final gravity",
                    FermentabilityBasis::PrintedWortFinal =>
                        "which gives the printed final gravity of the wort",
                    FermentabilityBasis::PrintedAlcohol => "which gives the printed alcohol",
                    FermentabilityBasis::PrintedWortAlcohol =>
                        "which gives the printed alcohol of the wort",
                    FermentabilityBasis::StatedAttenuation => "by the attenuation stated for the yeast",
                    FermentabilityBasis::CatalogueAttenuation => "by the yeast's usual attenuation",
                    FermentabilityBasis::CatalogueGrist => "by the grist, the yeast's attenuation is not known",
                    FermentabilityBasis::PrintedRecipe => {
                        "as in the printed recipe, before anything was replaced"
                    }
                },
                estimated(*share, *factor, *rests_factor, *basis)
            ),
            Self::AttenuationCompared { stated, predicted } => format!(
                "the yeast's line states an attenuation of {}, the printed figure means {} on a malt wort and is used",
                percent(*stated, 1),
                percent(*predicted, 1)
            ),
            Self::CoolLastRest { temperature } => format!(
                "Assumed: a last rest at {} ferments as one at {}; starch may be left, test with iodine",
                style.temperature(*temperature),
                style.temperature(Temperature::clamped(COOLEST_LAST_C))
            ),
            Self::MashRise { side } => {
                let rise = match style.temperature {
                    TemperatureScale::Celsius => format!("{} °C", shortest(RISE_C_PER_MIN, 1)),
                    TemperatureScale::Fahrenheit => {
                        format!("{} °F", shortest(1.8 * RISE_C_PER_MIN, 1))
                    }
                };
                format!(
                    "Assumed: {} mash rises {rise} per minute between rests",
                    whose(*side)
                )
            }
            Self::StandWithoutBitterness { additions } => match additions {
                0 => "bitterness by Tinseth: the hot stand adds none to the hops already in"
                    .to_owned(),
                _ => "bitterness by Tinseth: hops in the hot stand add none".to_owned(),
            },
            Self::KineticForStand => {
                "Assumed: bitterness by `kinetic`, since `tinseth` gives none for hops in a hot stand".to_owned()
            }
            Self::MashHops { name } => format!(
                "Assumed: `{name}` in the mash gives 21 % (± 40 % of that) of its bitterness in a boil of 60 min"
            ),
            Self::KeptInKettle {
                side,
                trub,
                hops,
                beyond_loss,
            } => {
                let kettle = match side {
                    Side::Source => "the original brewery's kettle",
                    Side::Target => "your kettle",
                };
                let (trub_said, hops_said) = (style.volume(*trub), style.volume(*hops));
                match (*beyond_loss, in_litres(*trub) > 0.0, in_litres(*hops) > 0.0) {
                    (true, ..) => format!(
                        "Assumed: hops beyond 2 g/L keep {hops_said} of wort in {kettle}, on top of its loss"
                    ),
                    (false, true, true) => format!(
                        "Assumed: trub keeps {trub_said} of wort in {kettle}, hops {hops_said}"
                    ),
                    (false, true, false) => {
                        format!("Assumed: trub keeps {trub_said} of wort in {kettle}")
                    }
                    (false, false, _) => {
                        format!("Assumed: hops keep {hops_said} of wort in {kettle}")
                    }
                }
            }
            Self::KeptByDryHops { side, kept } => format!(
                "Assumed: dry hops keep {} of beer {}",
                style.volume(*kept),
                match side {
                    Side::Source => "at the original brewery",
                    Side::Target => "on your plant",
                }
            ),
            Self::HopsArePellets { names } => format!(
                "Assumed: pellets of {}; write `whole` for cones, which keep less liquid",
                names.join(", ")
            ),
            Self::DryHopsWithoutBitterness => "dry hops are taken to add no bitterness".to_owned(),
            Self::IsomerisationExtrapolated => {
                "bitterness from stands below 90 °C is extrapolated; the rates were measured from 90 °C up".to_owned()
            }
            Self::WaterAsStated => {
                "the source's mash water is taken to have the ions that its sheet prints".to_owned()
            }
            Self::CarbonationAsStated => {
                "carbonation is printed as stated; pressure and priming are not worked out"
                    .to_owned()
            }
            Self::FermentedAt { temperature } => format!(
                "no temperature of fermentation is stated: {} assumed",
                style.temperature(*temperature)
            ),
            Self::PackageTemperatureNotUsed { container } => format!(
                "the temperature of packaging is not used: it sets the pressure on a keg with a stated carbonation, and nothing for {}",
                container.plural()
            ),
            Self::FermentsInPackage { name } => format!(
                "{name} added at packaging: assumed to ferment there, in gravity, alcohol and gas"
            ),
            Self::MashPhNotPredicted { side, because } => format!(
                "mash pH not predicted, salts and acid not worked out: {} water report {}",
                whose(*side),
                match because {
                    NoMashPh::NoWaterReport =>
                        "is missing; write `water calcium 20 mg/L, …, alkalinity 60 mg/L`",
                    NoMashPh::NoAlkalinity => "names neither alkalinity nor bicarbonate",
                    NoMashPh::WaterOutOfModel => "has a pH and an alkalinity that do not go together",
                }
            ),
            Self::MashPhFromClass { names } => format!(
                "mash pH: {} counted by class and colour, for want of measured figures",
                names.join(", ")
            ),
            Self::MashWaterLeftOut { because } => format!(
                "the buffering of the mash water is left out, which makes acid or alkali come out a few per cent too small: {}",
                match because {
                    NoMashPh::NoWaterReport => "there is no water report",
                    NoMashPh::NoAlkalinity => {
                        "the water report names neither alkalinity nor bicarbonate"
                    }
                    NoMashPh::WaterOutOfModel => {
                        "its pH and alkalinity do not go together"
                    }
                }
            ),
            Self::WaterReportGaps { side, ions, ph } => {
                let mut gaps = Vec::new();
                if !ions.is_empty() {
                    let words: Vec<_> = ions.iter().map(|ion| ion.word()).collect();
                    gaps.push(format!("{} not stated and taken as none", words.join(", ")));
                }
                if let Some(ph) = ph {
                    gaps.push(format!("pH not stated, taken as {}", shortest(ph.value(), 1)));
                }
                format!("{} water: {}", whose(*side), gaps.join("; "))
            }
            Self::MashHeating { by } => format!(
                "how the mash is raised is not stated: {}",
                match by {
                    Raise::Direct => "by direct heat",
                    Raise::Infusion => "by boiling water, kept back from the mash water",
                    Raise::Decoction => "by boiling part of it",
                    Raise::None => "not at all",
                }
            ),
            Self::PitchRate {
                million_per_ml_plato,
            } => format!(
                "pitching rate not stated: {} million cells per mL and °P",
                shortest(*million_per_ml_plato, 2)
            ),
            Self::LateAddition { name } => {
                format!("{name}: no gravity stated, taken to go in when the wort has fermented")
            }
            Self::CarriedPerLitre { name } => {
                format!("{name}: not known here, carried along per litre; check that it is safe in food")
            }
            Self::PartOfMashWater { name } => {
                format!("Assumed: `{name}` under `mash` is part of the mash water")
            }
            Self::YeastVolumeLeftOut { name } => {
                format!("Assumed: `{name}` brings no volume; write its starter as `water` if it is pitched with the yeast")
            }
            Self::CountedAsWater { name } => {
                format!("Assumed: `{name}`, measured by volume, brings that volume of water")
            }
            Self::OriginalPredicted { original } => format!(
                "no original gravity is printed: the amounts give {}",
                style.gravity(*original)
            ),
        }
    }
}

impl Figure {
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Extract => "extract",
            Self::Moisture => "moisture",
            Self::Colour => "colour",
            Self::Fermentability => "fermentable share",
            Self::DiastaticPower => "diastatic power",
            Self::Alpha => "alpha acids",
            Self::Brix => "Brix",
            Self::Alcohol => "alcohol",
            Self::Attenuation => "attenuation",
        }
    }
}

fn not_used(name: &str, what: Unused) -> String {
    match what {
        Unused::Protein => format!("not used: the protein of {name}; no figure depends on it"),
        Unused::YeastAmount => format!(
            "not used: the amount of {name}; the cells to pitch follow from the pitching rate, such as `{name}, 0.75 M/mL/P`"
        ),
        Unused::AfterMash => {
            format!("not used: {name} after the mash; only a mash pH is calculated")
        }
        Unused::InMash => format!(
            "not used: {name} in the mash; ions and mash pH need grain and a `water` line with alkalinity"
        ),
        Unused::MashPh => {
            "mash pH as stated, neither predicted nor adjusted: that needs grain and a `water` line with alkalinity"
                .to_owned()
        }
    }
}

/// The estimate beside a fit, and what the rests of the mash do to it.
fn estimated(
    share: Fermentability,
    factor: f64,
    rests_factor: Option<f64>,
    basis: FermentabilityBasis,
) -> String {
    let rests = rests_factor.map_or_else(
        || "no rest stated: 65 °C for 60 min".to_owned(),
        |rests| format!("rests × {}", shortest(rests, 2)),
    );
    match basis {
        FermentabilityBasis::StatedAttenuation
        | FermentabilityBasis::CatalogueAttenuation
        | FermentabilityBasis::CatalogueGrist => format!(" ({rests})"),
        _ => {
            let share = Fermentability::clamped(share.fraction() / factor.max(f64::MIN_POSITIVE));
            format!(
                "; grist, mash and yeast would give {} ({rests})",
                percent(share, 1)
            )
        }
    }
}

const fn whose(side: Side) -> &'static str {
    match side {
        Side::Source => "the source plant's",
        Side::Target => "your plant's",
    }
}
