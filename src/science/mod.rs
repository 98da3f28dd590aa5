//! Pure relations of the trade, one file a topic; each states its source, its range and its units.

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
// Ways of cooling hot wort, and what each does to bitterness.
pub mod cooling;
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
