//! What a kilogram of a malt, grain or sugar brings, in this recipe and plant.

use super::practice::UnstatedFigure;
use crate::catalogue::{
    Catalogue, ColourBasis, EntryRef, FLAVOUR_AXES, Fermentable, FermentableClass,
    FermentableFunction, Gelatinisation, Kind, Level, NeedsMash,
};
use crate::process::{Sugars, colour_yield};
use crate::quantity::{
    DiastaticPower, Fermentability, LaboratoryExtract, MaltColour, Moisture, Quantity, Written,
};
use crate::recipe::{ExtractBasis, Facts, Ingredient, StatedExtract};

/// Axes of flavour.
const AXES: usize = 17;
/// pH that mash acidity is counted against: between a pale malt's own and the usual target (common practice 5.2-5.6).
const MASH_PH: f64 = 5.4;

/// The figures that may be unknown, each with a mean over its class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Known {
    Extract,
    Moisture,
    Colour,
    Diastatic,
    Protein,
    Fermentable,
    Acidity,
    Gum,
}

const FIGURES: usize = 8;

impl Known {
    const fn unstated(self) -> UnstatedFigure {
        match self {
            Self::Extract => UnstatedFigure::Extract,
            Self::Moisture => UnstatedFigure::Moisture,
            Self::Colour => UnstatedFigure::Colour,
            Self::Diastatic => UnstatedFigure::DiastaticPower,
            Self::Protein => UnstatedFigure::Protein,
            Self::Fermentable => UnstatedFigure::Fermentability,
            Self::Acidity => UnstatedFigure::MashAcidity,
            Self::Gum => UnstatedFigure::Gum,
        }
    }
}

/// Sum and count of each figure that is known.
#[derive(Debug, Clone, Copy, Default)]
struct Sums([(f64, f64); FIGURES]);

/// Mean figures of each class and of each kind.
#[derive(Debug, Clone, Default)]
pub(super) struct Means {
    /// By the place of a class or kind among all of its sort.
    classes: [Mean; FermentableClass::ALL.len()],
    kinds: [Mean; Kind::ALL.len()],
}

/// Sums of figures, sums of flavours, and of how many rows those are.
type Mean = (Sums, [f64; AXES], f64);

/// What a kilogram brings.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Profile {
    pub(super) kind: Kind,
    pub(super) function: Option<FermentableFunction>,
    /// Of what plant a malt or grain is.
    pub(super) genus: String,
    pub(super) is_mashed: bool,
    /// Laboratory extract as is.
    pub(super) extract: f64,
    /// As the catalogue or line states it, EBC; of what dissolves that of a kilogram made up to a litre.
    pub(super) colour_ebc: f64,
    /// Share of the extract that can ferment, before mash and yeast.
    pub(super) fermentable: f64,
    pub(super) sugars: Sugars,
    pub(super) diastatic_wk: f64,
    /// Kilograms of protein in a kilogram as is.
    pub(super) protein: f64,
    /// Three degrees.
    pub(super) gum: f64,
    /// Acid that a kilogram brings to a mash of pH 5.4, mEq.
    pub(super) acidity_meq: f64,
    pub(super) flavour: [f64; AXES],
    /// Figures that nobody states.
    pub(super) assumed: Vec<UnstatedFigure>,
}

fn figures(row: &Fermentable) -> [Option<f64>; FIGURES] {
    [
        row.extract.map(Quantity::in_base),
        row.moisture.map(Quantity::in_base),
        colour(row),
        row.diastatic_power.map(Quantity::in_base),
        row.protein.map(Quantity::in_base),
        row.fermentability.map(Quantity::in_base),
        acidity(row),
        row.gum.map(level),
    ]
}

/// Colour as a malt's is stated; of what dissolves that of a kilogram made up to a litre.
fn colour(row: &Fermentable) -> Option<f64> {
    if matches!(row.kind(), Kind::Malt | Kind::Grain) {
        return row.colour.map(Quantity::in_base);
    }
    colour_yield(
        &Facts::default(),
        Some(row),
        row.extract_as_is()?.fraction(),
    )
}

/// Acid that a kilogram brings to a mash of pH 5.4.
fn acidity(row: &Fermentable) -> Option<f64> {
    Some(row.buffering?.milliequivalents_per_kilogram_ph() * (MASH_PH - row.mash_ph?.value()))
}

pub(super) const fn level(level: Level) -> f64 {
    match level {
        Level::None => 0.0,
        Level::Low => 1.0,
        Level::Medium => 2.0,
        Level::High => 3.0,
    }
}

impl Means {
    pub(super) fn of(catalogue: &Catalogue) -> Self {
        let mut means = Self::default();
        for row in catalogue.fermentables() {
            let known = figures(row);
            let note = |(sums, flavour, count): &mut Mean| {
                for (sum, figure) in sums.0.iter_mut().zip(known) {
                    if let Some(figure) = figure {
                        sum.0 += figure;
                        sum.1 += 1.0;
                    }
                }
                if let Some(values) = &row.flavour {
                    for (sum, value) in flavour.iter_mut().zip(values.values()) {
                        *sum += f64::from(*value);
                    }
                    *count += 1.0;
                }
            };
            let kind = means.kinds.get_mut(row.kind() as usize);
            let class = (row.class).and_then(|class| means.classes.get_mut(class as usize));
            kind.into_iter().chain(class).for_each(note);
        }
        means
    }

    fn mean(&self, figure: Known, class: Option<FermentableClass>, kind: Kind) -> f64 {
        let mean = |sums: &Sums| {
            let (sum, count) = sums.0.get(figure as usize).copied().unwrap_or_default();
            (count > 0.0).then(|| sum / count)
        };
        class
            .and_then(|class| self.classes.get(class as usize))
            .and_then(|(sums, ..)| mean(sums))
            .or_else(|| {
                self.kinds
                    .get(kind as usize)
                    .and_then(|(sums, ..)| mean(sums))
            })
            .unwrap_or(0.0)
    }

    fn flavour(&self, class: Option<FermentableClass>, kind: Kind) -> [f64; AXES] {
        let mean =
            |(_, flavour, count): &Mean| (*count > 0.0).then(|| flavour.map(|sum| sum / count));
        class
            .and_then(|class| self.classes.get(class as usize))
            .and_then(mean)
            .or_else(|| self.kinds.get(kind as usize).and_then(mean))
            .unwrap_or([0.0; AXES])
    }
}

/// The mean of a figure over the rows that state it; zero where none does.
pub(super) fn mean_of<'r, R: 'r>(
    rows: impl Iterator<Item = &'r R>,
    get: &dyn Fn(&R) -> Option<f64>,
) -> f64 {
    let (sum, count) = rows
        .filter_map(get)
        .fold((0.0, 0.0), |(sum, count), value| (sum + value, count + 1.0));
    sum / f64::max(count, 1.0)
}

/// A figure, or the mean for one that nobody states, which is then noted.
pub(super) fn or_mean<T>(
    value: Option<T>,
    mean: T,
    figure: UnstatedFigure,
    assumed: &mut Vec<UnstatedFigure>,
) -> T {
    value.unwrap_or_else(|| {
        assumed.push(figure);
        mean
    })
}

/// The catalogue's row of an ingredient, if it has one.
pub(super) fn row_of<'a>(
    ingredient: &Ingredient,
    catalogue: &'a Catalogue,
) -> Option<&'a Fermentable> {
    match catalogue.find(ingredient.catalogue_name())?.entry {
        EntryRef::Fermentable(row) => Some(row),
        _ => None,
    }
}

/// The profile of an ingredient, and the same ingredient with every assumed figure written on it, so that the
/// prediction works with the same ones.
pub(super) fn profile(
    ingredient: &Ingredient,
    row: Option<&Fermentable>,
    means: &Means,
) -> (Profile, Ingredient) {
    let class = row.and_then(|row| row.class);
    let kind = ingredient.kind;
    let known = row.map_or([None; FIGURES], figures);
    let mut assumed = Vec::new();
    let mut facts = ingredient.facts.clone();
    let mut take = |figure: Known, stated: Option<f64>| -> (f64, bool) {
        let value = stated.or_else(|| known.get(figure as usize).copied().flatten());
        if let Some(value) = value {
            return (value, true);
        }
        assumed.push(figure.unstated());
        (means.mean(figure, class, kind), false)
    };
    let is_mashed = matches!(kind, Kind::Malt | Kind::Grain);
    let (moisture, knows_moisture) = take(Known::Moisture, base(facts.moisture.as_ref()));
    let extract = match &facts.extract {
        Some(stated) if stated.basis == ExtractBasis::AsIs => stated.value.value().fraction(),
        Some(stated) => stated.value.value().fraction() * (1.0 - moisture),
        None => {
            let (dry, knows) = take(Known::Extract, None);
            if !knows {
                facts.extract = Some(StatedExtract {
                    value: Written::in_base_unit(LaboratoryExtract::clamped(dry)),
                    basis: ExtractBasis::Dry,
                });
            }
            dry * (1.0 - moisture)
        }
    };
    if !knows_moisture {
        facts.moisture = Some(Written::in_base_unit(Moisture::clamped(moisture)));
    }
    let stated_ebc = match &facts.colour {
        Some(_) if !is_mashed => colour_yield(&facts, row, extract.min(1.0)),
        stated => base(stated.as_ref()),
    };
    let (colour_ebc, knows) = take(Known::Colour, stated_ebc);
    if !knows {
        facts.colour_basis = (!is_mashed).then_some(ColourBasis::FullStrength);
        facts.colour = Some(Written::in_base_unit(MaltColour::clamped(colour_ebc)));
    }
    let (fermentable, knows) = take(Known::Fermentable, base(facts.fermentability.as_ref()));
    if !knows {
        facts.fermentability = Some(Written::in_base_unit(Fermentability::clamped(fermentable)));
    }
    let (diastatic_wk, protein, gum, acidity_meq) = if is_mashed {
        let (power, knows) = take(Known::Diastatic, base(facts.diastatic_power.as_ref()));
        if !knows {
            facts.diastatic_power = Some(Written::in_base_unit(DiastaticPower::clamped(power)));
        }
        (
            power,
            take(Known::Protein, base(facts.protein.as_ref())).0 * (1.0 - moisture),
            take(Known::Gum, None).0,
            take(Known::Acidity, None).0,
        )
    } else {
        // Nothing that goes into the kettle takes part in the mash.
        (0.0, 0.0, 0.0, 0.0)
    };
    let mut flavour = row.and_then(|row| row.flavour).map_or_else(
        || {
            assumed.push(UnstatedFigure::Flavour);
            means.flavour(class, kind)
        },
        |flavour| flavour.values().map(f64::from),
    );
    if !is_mashed {
        // The sweetness of a sugar ferments with it.
        let sweet = FLAVOUR_AXES.iter().position(|axis| *axis == "sweet");
        if let Some(sweet) = sweet.and_then(|at| flavour.get_mut(at)) {
            *sweet *= 1.0 - fermentable.clamp(0.0, 1.0);
        }
    }
    (
        Profile {
            kind,
            genus: row
                .and_then(|row| row.botanical.split_whitespace().next())
                .unwrap_or_default()
                .to_owned(),
            function: row
                .and_then(|row| row.function)
                .or_else(|| function_of(class?)),
            is_mashed,
            extract: if is_mashed { extract } else { extract.min(1.0) },
            colour_ebc,
            fermentable,
            sugars: Sugars::of(kind, row),
            diastatic_wk,
            protein,
            gum,
            acidity_meq,
            flavour,
            assumed,
        },
        Ingredient {
            facts,
            ..ingredient.clone()
        },
    )
}

/// What an ingredient of the brewer's own does, by its class; none where that leaves it open.
const fn function_of(class: FermentableClass) -> Option<FermentableFunction> {
    Some(match class {
        FermentableClass::BaseMalt => FermentableFunction::Base,
        FermentableClass::SmokedMalt => FermentableFunction::Smoke,
        FermentableClass::HighKilnedMalt => FermentableFunction::Kilned,
        FermentableClass::ToastedMalt => FermentableFunction::Toasted,
        FermentableClass::CaramelMalt => FermentableFunction::Caramel,
        FermentableClass::RoastedMalt | FermentableClass::RoastedGrain => {
            FermentableFunction::Roast
        }
        FermentableClass::AcidMalt => FermentableFunction::Acid,
        FermentableClass::Honey => FermentableFunction::FlavourSugar,
        FermentableClass::Colouring => FermentableFunction::ColourOnly,
        FermentableClass::LauteringAid => FermentableFunction::LauteringAid,
        _ => return None,
    })
}

/// Whether the starch of a grain swells in a mash that rests at most at `rest_c`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Starch {
    /// It does, or there is none to swell.
    Converts,
    /// Only part of it does: it wants cooking first.
    WantsCooking,
    /// It does not.
    StaysRaw,
}

/// What becomes of the starch of a row. Below the middle of its range less than half of it swells.
pub(super) fn starch(row: Option<&Fermentable>, rest_c: f64) -> Starch {
    match row.and_then(|row| row.gelatinisation) {
        Some(Gelatinisation::Range(low, high)) => {
            if rest_c >= high.celsius() {
                Starch::Converts
            } else if rest_c >= f64::midpoint(low.celsius(), high.celsius()) {
                Starch::WantsCooking
            } else {
                Starch::StaysRaw
            }
        }
        Some(Gelatinisation::Pregelatinised) | None => Starch::Converts,
    }
}

/// Whether a row must be mashed; unknown counts as yes for grain.
pub(super) fn needs_mash(row: Option<&Fermentable>, kind: Kind) -> bool {
    match row.and_then(|row| row.needs_mash) {
        Some(NeedsMash::Yes) => true,
        Some(NeedsMash::No) => false,
        None => matches!(kind, Kind::Malt | Kind::Grain),
    }
}

fn base<Q: Quantity>(written: Option<&Written<Q>>) -> Option<f64> {
    written.map(|w| w.value().in_base())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The mean over the rows of a kind, counted anew.
    #[test]
    fn an_unknown_flavour_is_the_mean_of_its_kind() {
        let catalogue = Catalogue::builtin();
        let of_kind = catalogue
            .fermentables()
            .filter(|row| row.kind() == Kind::Malt);
        let known: Vec<_> = of_kind.filter_map(|row| row.flavour.as_ref()).collect();
        let means = Means::of(&catalogue).flavour(None, Kind::Malt);
        for (axis, mean) in means.into_iter().enumerate() {
            let all = known
                .iter()
                .filter_map(|flavour| flavour.values().get(axis));
            let sum: f64 = all.map(|value| f64::from(*value)).sum();
            assert!((mean - sum / known.len() as f64).abs() < 1e-12, "{axis}");
        }
    }
}
