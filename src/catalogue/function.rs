//! What an ingredient does, which the head noun of its name says.

use super::{AidPurpose, EntryRef, FermentableClass, Kind};

/// The function of an ingredient: a name is never read as one of another function.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Function {
    Malt,
    Grain,
    Hulls,
    Sugar,
    Syrup,
    Honey,
    MaltExtract,
    Colouring,
    Juice,
    Fruit,
    Drink,
    Hop,
    Spice,
    Salt,
    Acid,
    Fining,
    Enzyme,
    Nutrient,
    Aid,
    Yeast,
    Other,
}

impl Function {
    /// What an entry does.
    pub(super) fn of(entry: EntryRef<'_>) -> Self {
        match entry {
            EntryRef::Fermentable(row) => row.class.map_or(Self::Other, Self::of_class),
            EntryRef::Juice(row) if row.is_whole_fruit() => Self::Fruit,
            EntryRef::Juice(_) => Self::Juice,
            EntryRef::Beverage(_) => Self::Drink,
            EntryRef::Hop(_) => Self::Hop,
            EntryRef::Botanical(_) => Self::Spice,
            EntryRef::WaterAgent(row) if row.kind() == Kind::Acid => Self::Acid,
            EntryRef::WaterAgent(_) => Self::Salt,
            EntryRef::Aid(row) => match row.purpose {
                Some(AidPurpose::Fining) => Self::Fining,
                Some(AidPurpose::Enzyme) => Self::Enzyme,
                Some(AidPurpose::Nutrient) => Self::Nutrient,
                _ => Self::Aid,
            },
            EntryRef::Yeast(_) => Self::Yeast,
        }
    }

    const fn of_class(class: FermentableClass) -> Self {
        match class {
            FermentableClass::LauteringAid => Self::Hulls,
            FermentableClass::Sugar => Self::Sugar,
            FermentableClass::Syrup => Self::Syrup,
            FermentableClass::Honey => Self::Honey,
            FermentableClass::MaltExtract => Self::MaltExtract,
            FermentableClass::Colouring => Self::Colouring,
            FermentableClass::RoastedGrain | FermentableClass::UnmaltedGrain => Self::Grain,
            _ => Self::Malt,
        }
    }

    /// One bit for each, for sets of them.
    pub(super) const fn bit(self) -> u32 {
        1 << self as u32
    }
}
