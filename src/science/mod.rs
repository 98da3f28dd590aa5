//! Pure relations of the trade, one file a topic; each states its source, its range and its units.

/// Bitterness from hops: utilisation, isomerisation and the ageing of hops in store.
pub mod bitterness;
/// Colour of wort and beer from the grist, of blends, and on a screen.
pub mod colour;
/// Ways of cooling hot wort, and what each does to bitterness.
pub mod cooling;
/// Heat balances of mash and wort.
pub mod heat;
/// What runs off from a mash and what the grain keeps.
pub mod lautering;
mod within;
/// Yeast cells to pitch.
pub mod yeast;
