//! Single relations of the trade for a host's own calculators: gravity, bitterness, carbonation, mash, water, yeast.
//!
//! Each function takes and returns quantities with units, says in which range its source holds, and gives the source with a
//! check value. What a plan, a ledger or advice says comes from the same functions.
//!
//! ```
//! use wortwright::quantity::{Extract, SpecificGravity, Temperature, Time, uom::si::time::minute};
//! use wortwright::science::{bitterness, density, instruments};
//! let celsius = Temperature::from_celsius;
//! let wort = density::extract_of(SpecificGravity::from_ratio(1.050)?);
//! assert_eq!(format!("{:.2}", wort.plato()), "12.38");
//! let cold = instruments::hydrometer(wort, celsius(30.0)?, celsius(20.0)?)?; // read in a sample at 30 °C
//! assert_eq!(format!("{:.2}", cold.plato()), "13.06");
//! let used = bitterness::utilisation(Time::new::<minute>(60.0), density::gravity_of(cold))?;
//! assert_eq!(format!("{:.1}", used.percent()), "22.5");
//! # Ok::<(), wortwright::Error>(())
//! ```
//!
//! | question | ask | source |
//! |---|---|---|
//! | extract and gravity, density of water and wort | [`density`] | Kell 1975, ICUMSA |
//! | reading of a hydrometer or refractometer | [`instruments`] | ICUMSA, Terrill 2011 |
//! | what wort, beer or juice holds; fermented, blended, diluted, boiled down | [`liquid::Liquid`] | Balling, Tabarié |
//! | degrees of attenuation | [`attenuation`] | Balling |
//! | what of a mash ferments, by its rests | [`fermentability`] | fitted to Chandrasekhar, Muller 1991 and others |
//! | density and strength of ethanol in water | [`ethanol`] | OIML R 22 |
//! | boiling point by altitude | [`boiling`] | ISO 2533, IAPWS-IF97 |
//! | boil-off of a heater, hot litres as cold litres | [`evaporation`] | IAPWS-IF97, ICUMSA |
//! | bitterness: Tinseth, isomerisation by temperature, old hops | [`bitterness`] | Tinseth 1997, Malowicki & Shellhammer 2005 |
//! | colour of a grist, colour on a screen | [`colour`] | Morey 1995, deLange 2008, CIE |
//! | strike water, rests, decoction, sparge water | [`heat`] | a trade book of 1984/85 |
//! | run-off and grain absorption | [`lautering`] | mass balance |
//! | ions, alkalinity, salts | [`water`] | Kolbach 1953, deLange 2015 |
//! | acids, mash pH, lactic acid of sour wort | [`acid`], [`mash_ph`], [`souring`] | deLange 2015, mass action |
//! | cells, packs, starters | [`yeast`] | the trade's convention |
//! | gas: kegs, bottles, priming | [`carbonation`] | deLange 2011, stoichiometry |
//! | preservatives in juice | [`inhibition`] | mass action |
//!
//! # Formulas that no plan runs
//!
//! Brewing programs ask for them; each is held against published figures all the same.
//!
//! | formula | answers | held against |
//! |---|---|---|
//! | [`utilisation`](bitterness::utilisation), [`BitteringHops::bitterness`](bitterness::BitteringHops::bitterness), [`BitteringHops::mass_for`](bitterness::BitteringHops::mass_for) | Tinseth's utilisation; bitterness of hops, hops for a bitterness | `bitterness_tinseth.csv`, Tinseth's worked examples |
//! | [`Isomerisation::hold`](bitterness::Isomerisation::hold), [`linear`](bitterness::Isomerisation::linear), [`by_coil`](bitterness::Isomerisation::by_coil) | bitter acids after a boil, a stand or a cooling; plans run the same kernel | `bitterness_iso_fraction.csv`, `bitterness_hot_stand.csv` |
//! | [`lost_by_storage_index`](bitterness::lost_by_storage_index), [`HopStore::kept_after`](bitterness::HopStore::kept_after) | alpha acids that old hops have left | `bitterness_hsi.csv`, `bitterness_hop_storage.csv` |
//! | [`grist_colour`](colour::grist_colour), [`ScreenColour::hex`](colour::ScreenColour::hex) | Morey's colour with its range, a colour for a screen | `colour_mcu.csv`, `colour_srm_lab_srgb.csv` |
//! | [`mash_factor`](fermentability::mash_factor) | what the rests of a mash make of its fermentability; plans run the same kernel | `mash_fermentability_factor.csv`, `mash_fermentability_steps.csv` |
//! | [`water`](density::water()), [`density`](ethanol::density), [`volume_strength`](ethanol::volume_strength), [`mass_strength`](ethanol::mass_strength) | density of water and of spirits by temperature; alcohol by mass and by volume | `water_density.csv`, `ethanol_r22.csv`, `ethanol_strength.csv` |
//! | [`MashIn::temperature`](heat::MashIn::temperature), [`step_infusion`](heat::step_infusion) | what a mash settles at, boiling water for the next rest | a trade book of 1984/85, `mash_steps.csv` |
//! | [`Bed::absorbing`](lautering::Bed::absorbing), [`sparged`](lautering::Bed::sparged) | a run-off drain by drain; plans run the same kernel | `lautering_mass_balance.csv` |
//! | [`Liquid::diluted`](liquid::Liquid::diluted), [`boiled_down`](liquid::Liquid::boiled_down), [`fermented`](liquid::Liquid::fermented), read by [`mass`](liquid::Liquid::mass), [`specific_gravity`](liquid::Liquid::specific_gravity) | a wort after water has gone in or out, or part of it has fermented | mass balance by hand, `evaporation_volume.csv`, `balling_factors.csv` |
//! | [`residual_alkalinity`](water::Ions::residual_alkalinity), [`german_degrees`](water::EquivalentConcentration::german_degrees) | Kolbach's residual alkalinity | `water_residual_alkalinity.csv` |
//! | [`acid_down_to`](water::CarbonateWater::acid_down_to), of [`from_milliequivalents_per_litre`](water::EquivalentConcentration::from_milliequivalents_per_litre) of alkalinity | acid that takes water down to a pH | `water_alkalinity_to_mash_ph.csv` |
//! | [`AcidProduct::volume_for`](acid::AcidProduct::volume_for) | millilitres of an acid for a number of protons | `water_acid_charge.csv` |
//! | [`billions_per_gram`](yeast::CellDensity::billions_per_gram) | the figure of a cell density | `yeast_pitch.csv` |

// Acids: protons given up at a pH.
pub mod acid;
// Extract into alcohol, and the degrees of fermentation.
pub mod attenuation;
// Bitterness from hops: utilisation, isomerisation and the ageing of hops in store.
pub mod bitterness;
// Boiling point of water at an altitude or a pressure.
pub mod boiling;
// Carbon dioxide in beer: pressure, what fermentation leaves, priming.
pub mod carbonation;
// Colour of wort and beer from the grist, of blends, and on a screen.
pub mod colour;
// How a coil cools hot wort.
pub(crate) mod cooling;
// Density of water and of sugar solutions, and the gravity scales read from it.
pub mod density;
// Density of ethanol and water, and strength by volume and by mass.
pub mod ethanol;
// Evaporation in the boil, and the volume of hot against cold wort.
pub mod evaporation;
// What of a mash ferments, by the temperatures and times of its rests.
pub mod fermentability;
// Heat balances of mash and wort.
pub mod heat;
// Preservatives that may keep a beer from fermenting.
pub mod inhibition;
// What hydrometers and refractometers show.
pub mod instruments;
// Wort, juice and beer: water, extract and ethanol, and what instruments show of them.
pub mod liquid;
// What runs off from a mash and what the grain keeps.
pub mod lautering;
// Mash pH by a balance of charge.
pub mod mash_ph;
// Brewing water: ions, alkalinity, salts.
pub mod water;
// Souring of wort by bacteria: what becomes acid.
pub mod souring;
mod within;
// Yeast cells to pitch, how they age, and how many a starter grows.
pub mod yeast;
