//! What was taken for granted, in words.

use super::{Assumption, FermentabilityBasis, Figure, MashInUnused, NoMashPh, Unused};
use crate::catalogue::ColourBasis;
use crate::diagnostic::Severity;
use crate::process::plant_defaults::per_mass;
use crate::process::side::{PlantSize, Side};
use crate::quantity::{Fermentability, Temperature, in_litres};
use crate::science::fermentability::{COOLEST_LAST_C, RISE_C_PER_MIN};

use crate::science::heat::Raise;
use crate::speech::{Speaks, Style, TemperatureScale, percent, shortest};

/// The rest that an attenuation figure is taken to be of, °C (see `science::fermentability`).
const USUAL_REST_C: f64 = 65.0;
/// Isomerisation was measured from here up, °C (Malowicki & Shellhammer 2005).
const MEASURED_FROM_C: f64 = 90.0;

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
                "Assumed: {} {} (not given; typical value)",
                whose(*side),
                what.say(*value, style)
            ),
            Self::CommercialPlant { size } => format!(
                "Assumed: a typical {} brewhouse; the recipe names none",
                match size {
                    PlantSize::Small => "small",
                    PlantSize::Commercial => "commercial",
                }
            ),
            Self::OnlyOtherPlant { plant } => {
                format!(
                    "Assumed: `{plant}`, the only brewhouse without a batch size; the recipe names none"
                )
            }
            Self::GenericName { name, taken } => format!("Assumed: `{name}` is {taken}"),
            Self::CatalogueFigures { name, figures } => {
                let words: Vec<_> = figures.iter().map(|f| f.word()).collect();
                format!(
                    "Assumed: {} of {name} from the ingredient table",
                    words.join(", ")
                )
            }
            Self::OwnFigures { name, figures } => {
                let words: Vec<_> = figures.iter().map(|f| f.word()).collect();
                format!(
                    "Assumed: {} of {name} from your own entry or the one it is based on",
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
                "Assumed: {name} is dry; its extract is given as is, without moisture"
            ),
            Self::FermentsInFull { name } => {
                format!("Assumed: {name} ferments in full; its fermentable share is not known")
            }
            Self::SharesNormalised { sum } => {
                format!(
                    "Assumed: shares scaled to 100 %; they add up to {}",
                    percent(*sum, 2)
                )
            }
            Self::YieldInferred { reached } => format!(
                "Assumed: a brewhouse yield of {}, from the original weights and gravity",
                percent(*reached, 1)
            ),
            Self::YieldOverridesLauter { side, reached } => format!(
                "Assumed: {} yield of {}, as given; the lauter figures set the volumes only",
                whose(*side),
                percent(*reached, 1)
            ),
            Self::MashInNotUsed {
                side,
                liquor,
                because,
            } => format!(
                "not used: the recipe's mash thickness of {} {}; {}",
                per_mass(liquor.litres_per_kilogram(), style),
                match side {
                    Side::Source => "at the original brewery",
                    Side::Target => "in your brewhouse",
                },
                match because {
                    MashInUnused::Bag => "a bag takes all the water but that of its sparge",
                    MashInUnused::NoSparge => "it does not sparge, all the water goes into the mash",
                    MashInUnused::NoMash => "it does not mash",
                    MashInUnused::PlantStatesOwn => "it states its own",
                }
            ),
            Self::StandNotUsed { side } => format!(
                "not used: {} own hot stand; the recipe has one",
                whose(*side)
            ),
            Self::ChangesNoFigure { name, what } => not_used(name.as_deref().unwrap_or_default(), *what),
            Self::BoilTime { time_min } => {
                format!(
                    "Assumed: a boil of {} min; none is given",
                    shortest(*time_min, 0)
                )
            }
            Self::MashFermentability {
                factor,
                rests_factor,
                is_mashed,
                share,
                basis,
            } => format!(
                "Assumed: {} of the malt extract ferments, {}{}",
                percent(*share, 1),
                match basis {
                    FermentabilityBasis::PrintedFinal => "set to match the final gravity on the original sheet",
                    FermentabilityBasis::PrintedWortFinal =>
                        "set to match the final gravity of the wort on the original sheet",
                    FermentabilityBasis::PrintedAlcohol => "set to match the alcohol on the original sheet",
                    FermentabilityBasis::PrintedWortAlcohol =>
                        "set to match the alcohol of the wort on the original sheet",
                    FermentabilityBasis::StatedAttenuation => "by the attenuation given for the yeast",
                    FermentabilityBasis::CatalogueAttenuation => "by the yeast's usual attenuation",
                    FermentabilityBasis::CatalogueGrist => "by the grist, the yeast's attenuation is not known",
                    FermentabilityBasis::PrintedRecipe => {
                        "as in the original recipe, before substitutions"
                    }
                },
                estimated(*share, (*factor, *basis), (*is_mashed, *rests_factor), style)
            ),
            Self::LaterYeast {
                name,
                attenuation,
                beyond,
            } => {
                let points = 100.0 * beyond.fraction();
                if points < 0.5 {
                    format!("Assumed: {name} ferments no further than the first yeast; it goes in as written")
                } else {
                    format!(
                        "Assumed: {name} takes the attenuation of malt to {}, {points:.0} points beyond the first yeast",
                        percent(*attenuation, 0)
                    )
                }
            }
            Self::Soured { from, to, acid } => format!(
                "Assumed: souring from pH {} to pH {} turns {} of the malt extract into lactic acid, which does not ferment",
                shortest(from.value(), 2),
                shortest(to.value(), 2),
                percent(*acid, 1)
            ),
            Self::AttenuationCompared { stated, predicted } => format!(
                "Assumed: attenuation {} on a malt wort, from the original sheet's final gravity or alcohol, not {} as given",
                percent(*predicted, 1),
                percent(*stated, 1)
            ),
            Self::ColourBasis { name, basis } => format!(
                "Assumed: the colour of `{name}` is {}",
                match basis {
                    ColourBasis::FullStrength => "that of 1 kg made up to 1 L",
                    ColourBasis::TenPercentSolution => "that of a 10 % solution",
                    ColourBasis::PoundPerGallon => "that of 1 lb in 1 US gal",
                    ColourBasis::Undiluted => "that of the undiluted liquid",
                }
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
                        format!("{} °F", shortest(1.8 * RISE_C_PER_MIN, 0))
                    }
                };
                format!(
                    "Assumed: {} mash rises {rise} per minute between rests",
                    whose(*side)
                )
            }
            Self::StandWithoutBitterness { additions } => match additions {
                0 => "Assumed: kettle hops gain no bitterness in the hot stand (Tinseth)"
                    .to_owned(),
                _ => "Assumed: hops in the stand give 0 IBU (Tinseth)".to_owned(),
            },
            Self::KineticForStand => {
                "Assumed: bitterness by isomerisation kinetics; Tinseth gives none for hops in a hot stand".to_owned()
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
                let (trub_said, hops_said) = (style.about_volume(*trub), style.about_volume(*hops));
                match (*beyond_loss, in_litres(*trub) > 0.0, in_litres(*hops) > 0.0) {
                    (true, ..) => format!(
                        "Assumed: hops beyond 2 g/L hold {hops_said} of wort in {kettle}, on top of its loss"
                    ),
                    (false, true, true) => format!(
                        "Assumed: trub holds {trub_said} of wort in {kettle}, hops {hops_said}"
                    ),
                    (false, true, false) => {
                        format!("Assumed: trub holds {trub_said} of wort in {kettle}")
                    }
                    (false, false, _) => {
                        format!("Assumed: hops hold {hops_said} of wort in {kettle}")
                    }
                }
            }
            Self::KeptByDryHops { side, kept } => format!(
                "Assumed: dry hops hold {} of beer {}",
                style.about_volume(*kept),
                match side {
                    Side::Source => "at the original brewery",
                    Side::Target => "in your brewhouse",
                }
            ),
            Self::KeptByFruit { side, kept } => format!(
                "Assumed: fruit pulp holds {} of beer (± 40 % of that) {}",
                style.about_volume(*kept),
                match side {
                    Side::Source => "at the original brewery",
                    Side::Target => "in your brewhouse",
                }
            ),
            Self::KeptBySteeped { side, names, kept } => format!(
                "Assumed: {} held by {} {}",
                style.volume(*kept),
                names.join(", "),
                match side {
                    Side::Source => "at the original brewery",
                    Side::Target => "in your brewhouse",
                }
            ),
            Self::HopsArePellets { names } => format!(
                "Assumed: pellets of {}; write `whole` for cones, which hold less liquid",
                names.join(", ")
            ),
            Self::DryHopsWithoutBitterness => "Assumed: dry hops add no bitterness".to_owned(),
            Self::ExtractWithoutBitterness { name } => format!(
                "not calculated: bitterness of {name}, which goes in after the boil; follow its label"
            ),
            Self::DextrinsSplit { name } => format!(
                "not calculated: {name} splits dextrins, and the beer ends drier than these figures"
            ),
            Self::IsomerisationExtrapolated => format!(
                "Assumed: bitterness formed below {} follows the rates measured above it",
                style.temperature(Temperature::clamped(MEASURED_FROM_C))
            ),
            Self::WaterAsStated => {
                "Assumed: the original mash water has the ions of the original sheet".to_owned()
            }
            Self::CarbonationAsStated => {
                "Assumed: carbonation as on the sheet; no pressure or priming is calculated"
                    .to_owned()
            }
            Self::FermentedAt { temperature } => format!(
                "Assumed: fermentation at {}; no temperature is given",
                style.temperature(*temperature)
            ),
            Self::CooledOn { from, to } => format!(
                "Assumed: the wort, cooled to {}, stands in the cold until it has {} and the yeast goes in",
                style.temperature(*from),
                style.temperature(*to)
            ),
            Self::SteepedInBag { side, gives } => format!(
                "Assumed: grain is steeped in a bag {} and gives {} of its extract; nothing is mashed",
                match side {
                    Side::Source => "at the original brewery",
                    Side::Target => "in your brewhouse",
                },
                percent(*gives, 0)
            ),
            Self::PackageTemperatureNotUsed { container } => format!(
                "not used: the temperature of packaging; it sets the pressure on a keg with a stated carbonation, and nothing for {}",
                container.plural()
            ),
            Self::FermentsInPackage { name } => format!(
                "Assumed: {name} added at packaging ferments there, in gravity, alcohol and gas"
            ),
            Self::MashPhNotPredicted { side, because } => format!(
                "not calculated: mash pH, salts and acid; {} water report {}",
                whose(*side),
                match because {
                    NoMashPh::NoWaterReport =>
                        "is missing, add `water calcium 20 mg/L, …, alkalinity 60 mg/L`",
                    NoMashPh::NoAlkalinity => "names neither alkalinity nor bicarbonate",
                    NoMashPh::WaterOutOfModel => "has a pH and an alkalinity that contradict each other",
                }
            ),
            Self::MashPhFromClass { names } => format!(
                "Assumed: acidity and buffering of {} in the mash are those of other malt of that type and colour",
                names.join(", ")
            ),
            Self::MashWaterLeftOut { because } => format!(
                "Assumed: mash water that does not buffer, so acid or alkali doses come out a few % low; {}",
                match because {
                    NoMashPh::NoWaterReport => "there is no water report",
                    NoMashPh::NoAlkalinity => {
                        "the water report names neither alkalinity nor bicarbonate"
                    }
                    NoMashPh::WaterOutOfModel => {
                        "its pH and alkalinity contradict each other"
                    }
                }
            ),
            Self::WaterReportGaps { side, ions, ph } => {
                let mut gaps = Vec::new();
                if !ions.is_empty() {
                    let words: Vec<_> = ions.iter().map(|ion| ion.word()).collect();
                    gaps.push(format!("no {}", words.join(", ")));
                }
                if let Some(ph) = ph {
                    gaps.push(format!("pH {}", shortest(ph.value(), 1)));
                }
                format!("Assumed: {} water has {}; not given", whose(*side), gaps.join(", "))
            }
            Self::MashHeating { by } => format!(
                "Assumed: {}; mash heating is not given",
                match by {
                    Raise::Direct => "direct heat",
                    Raise::Infusion => "boiling-water infusions, reserved from the mash water",
                    Raise::Decoction => "decoction",
                    Raise::None => "no heating",
                }
            ),
            Self::PitchRate {
                million_per_ml_plato,
            } => format!(
                "Assumed: pitching rate of {} million cells/mL/°P; none is given",
                shortest(*million_per_ml_plato, 2)
            ),
            Self::LateAddition { name } => {
                format!("Assumed: the beer has finished fermenting when {name} goes in; no gravity is given")
            }
            Self::CarriedPerLitre { name } => {
                format!("Assumed: {name}, an unknown ingredient, scales with the volume; check that it is safe in food")
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
                "Assumed: an original gravity of {}, from the amounts; none is given",
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
            "not predicted: the mash pH; that needs grain and a `water` line with alkalinity"
                .to_owned()
        }
    }
}

/// The estimate beside a fit, and what the rests of the mash do to it.
fn estimated(
    share: Fermentability,
    (factor, basis): (f64, FermentabilityBasis),
    (is_mashed, rests_factor): (bool, Option<f64>),
    style: Style,
) -> String {
    let usual = style.temperature(Temperature::clamped(USUAL_REST_C));
    let rests = match rests_factor {
        _ if !is_mashed => String::new(),
        None => format!("; a rest of 60 min at {usual}, none is given"),
        Some(rests) if (rests - 1.0).abs() < 0.005 => String::new(),
        Some(rests) => format!(
            "; the mash rests give {:.0} % of the fermentable extract of 60 min at {usual}",
            100.0 * rests
        ),
    };
    let of = if is_mashed {
        "grist, mash and yeast"
    } else {
        "malt extract and yeast"
    };
    match basis {
        FermentabilityBasis::StatedAttenuation
        | FermentabilityBasis::CatalogueAttenuation
        | FermentabilityBasis::CatalogueGrist => rests,
        _ => {
            let share = Fermentability::clamped(share.fraction() / factor.max(f64::MIN_POSITIVE));
            format!("; {of} alone would give {}{rests}", percent(share, 1))
        }
    }
}

const fn whose(side: Side) -> &'static str {
    match side {
        Side::Source => "the original brewhouse's",
        Side::Target => "your brewhouse's",
    }
}
