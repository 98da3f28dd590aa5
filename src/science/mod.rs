//! Pure relations of the trade, one file a topic; each states its source, its range and its units.
//!
//! Plans, ledgers and advice run nearly all of them. The rest is a shelf of formulas that brewers and their programs ask for and that
//! this crate itself has no use for; each is held against published figures all the same:
//!
//! | formula | answers | held against |
//! |---|---|---|
//! | `protons_per_mole`, `protons_in`, `volume_for`, `lactic_88` | what an acid neutralises, and how many millilitres of it | `water_acid_charge.csv` |
//! | `acid_down_to` | acid that takes brewing water down to a pH | `water_alkalinity_to_mash_ph.csv` |
//! | `residual_alkalinity`, `german_degrees`, `from_calcium_carbonate`, `from_milliequivalents_per_litre` | Kolbach's residual alkalinity and its units | `water_residual_alkalinity.csv` |
//! | `utilisation`, `bitterness`, `hops_for` | Tinseth's utilisation, the bitterness of hops, hops for a bitterness | `bitterness_tinseth.csv`, Tinseth's worked examples |
//! | `hold`, `linear`, `exponential`, `after` | bitter acids after a boil, a stand or a cooling | `bitterness_iso_fraction.csv`, `bitterness_hot_stand.csv` |
//! | `lost_by_storage_index`, `kept_in_store` | alpha acids that old hops have left | `bitterness_hsi.csv`, `bitterness_hop_storage.csv` |
//! | `carbon_dioxide_at` | carbon dioxide in a keg at a pressure | `carbonation_table.csv` |
//! | `grist_colour`, `transmittance`, `lab`, `hex` | Morey's colour with its range, a photometer's reading, a colour in Lab and for a screen | `colour_mcu.csv`, `colour_definitions.csv`, `colour_srm_lab_srgb.csv` |
//! | `water`, `density` | density of water, and of ethanol and water, by temperature | `water_density.csv`, `ethanol_r22.csv` |
//! | `gravity_of_density`, `density_of_gravity` | what a density meter shows, as a gravity | `gravity_tables.csv` |
//! | `volume_strength`, `mass_strength` | alcohol by mass and by volume of spirits | `ethanol_strength.csv` |
//! | `rate_of_power`, `power_of_rate` | boil-off of a heater | `evaporation_power.csv` |
//! | `hot_volume` | cold wort in a hot kettle | `water_properties.csv` |
//! | `mash_temperature`, `slaking_rise` | what a mash settles at | a trade book of 1984/85 |
//! | `step_infusion` | boiling water for the next rest | `mash_steps.csv` |
//! | `heat_to_change`, `coolant`, `water_specific_heat`, `wort_specific_heat` | heat to warm or cool wort, and the water that takes it up | a practice sheet of brewing arithmetic |
//! | `equal_portion` | sparges that make all run-offs equal | `lautering_mass_balance.csv` |
//! | `absorbing`, `sparged` | a run-off step by step, as plans run it | `lautering_mass_balance.csv` |
//! | `diluted`, `boiled_down`, `mass`, `specific_gravity` | a wort after water has gone in or out, its mass and its gravity | mass balance by hand, `evaporation_volume.csv` |
//! | `fermented` | a wort of which so much has fermented | Balling's balance by hand, `balling_factors.csv` |
//! | `billions_per_gram` | the figure of a cell density | `yeast_pitch.csv` |

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
mod within;
// Yeast cells to pitch, how they age, and how many a starter grows.
pub mod yeast;
