//! Relations of the trade written anew from what is published, so that an answer is held against them and not against itself.
//! Nothing here calls the library.

/// Density of water of the ICUMSA polynomial and of ethanol by OIML R 22, both at 20 °C, kg/m³.
const WATER: f64 = 998.203_1;
const ETHANOL: f64 = 789.24;

/// Density of a sucrose solution at 20 °C, kg/m³: ICUMSA polynomial (Bubnik et al. 1995 p. 164; `tests/reference/sucrose_icumsa.csv`).
pub(super) fn wort_density(strength: f64) -> f64 {
    let terms = [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890];
    let sum = terms
        .iter()
        .rev()
        .fold(0.0, |sum, term| (sum + term) * strength);
    WATER + sum
}

/// The strength of a solution of that density, found by halves.
fn strength_of(density: f64) -> f64 {
    let (mut low, mut high) = (-0.1, 0.8);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if wort_density(middle) < density {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Kilograms of extract in litres of wort: its strength, kg/kg.
pub(super) fn strength(extract_kg: f64, litres: f64) -> f64 {
    let (mut low, mut high) = (0.0, 0.8);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if middle * wort_density(middle) * litres / 1000.0 < extract_kg {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Litres of a solution of extract and water.
pub(super) fn litres(water_kg: f64, extract_kg: f64) -> f64 {
    let all = water_kg + extract_kg;
    1000.0 * all / wort_density(extract_kg / all)
}

/// What a solution of so much ethanol, kg/kg, is lighter than water, kg/m³ at 20 °C: through figures of OIML R 22
/// (`tests/reference/ethanol_r22.csv`) by Lagrange, who lies within 0.01 kg/m³ of the others up to a tenth.
fn lighter(ethanol: f64) -> f64 {
    const KNOWN: [(f64, f64); 4] = [
        (0.00, 998.2012),
        (0.03, 992.7261),
        (0.06, 987.7824),
        (0.09, 983.2714),
    ];
    let weight = |at: usize| {
        let others = (0..KNOWN.len()).filter(|other| *other != at);
        others.fold(1.0, |product, other| {
            product * (ethanol - KNOWN[other].0) / (KNOWN[at].0 - KNOWN[other].0)
        })
    };
    let density: f64 = (0..KNOWN.len()).map(|at| KNOWN[at].1 * weight(at)).sum();
    KNOWN[0].1 - density
}

/// Alcohol, per cent by volume, of a beer of these original and apparent final extracts, kg/kg. Balling's balance of mass (1 kg of
/// ethanol of 2.0665 kg of extract, with 0.11 kg of yeast), and Tabarié's by volume: a beer weighs as its extract in water and its
/// ethanol in water together, less the water.
pub(super) fn alcohol(original: f64, apparent: f64) -> f64 {
    let shown = |ethanol: f64| {
        // Balling: OE = (2.0665 A + RE) / (100 + 1.0665 A), in per cent.
        let real = original * (1.0 + 1.0665 * ethanol) - 2.0665 * ethanol;
        // Grams of each in a litre of beer, whose density is found on the way.
        let mut density = wort_density(real);
        for _ in 0..12 {
            let residue = strength(real * density / 1000.0, 1.0);
            let (mut low, mut high) = (0.0, 0.2);
            for _ in 0..40 {
                let middle = 0.5 * (low + high);
                if middle * (WATER - lighter(middle)) < ethanol * density {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            density = wort_density(residue) - lighter(0.5 * (low + high));
        }
        (strength_of(density), density)
    };
    let (mut low, mut high) = (0.0, 0.15);
    for _ in 0..36 {
        let middle = 0.5 * (low + high);
        if shown(middle).0 > apparent {
            low = middle;
        } else {
            high = middle;
        }
    }
    let ethanol = 0.5 * (low + high);
    100.0 * ethanol * shown(ethanol).1 / ETHANOL
}

/// Specific gravity, weighed in air of 1.2 kg/m³.
pub(super) fn gravity(strength: f64) -> f64 {
    (wort_density(strength) - 1.2) / (WATER - 1.2)
}

/// Tinseth's utilisation (1997): by time at the boil and the average gravity of the boil.
pub(super) fn tinseth(minutes: f64, gravity: f64) -> f64 {
    1.65 * 0.000_125_f64.powf(gravity - 1.0) * (1.0 - (-0.04 * minutes).exp()) / 4.15
}

/// Morey (1995): SRM = 1.4922 MCU^0.6859, MCU in pounds times degrees Lovibond per US gallon; EBC are 25/12.7 of it.
pub(super) fn morey(kg_lovibond: f64, litres: f64) -> f64 {
    let units = kg_lovibond / 0.453_592_37 / (litres / 3.785_411_784);
    25.0 / 12.7 * 1.4922 * units.powf(0.6859)
}

/// Degrees Lovibond of a malt's EBC units (ASBC: EBC = 2.65 °L - 1.2).
pub(super) fn lovibond(ebc: f64) -> f64 {
    (ebc + 1.2) / 2.65
}

/// First wort of a mash without sparge, as a part of its whole solution: what is left when the grain has taken up `absorption` litres of
/// the water a kilogram (balance of mass, `lautering.md` of the published tables: retained is the solution less what runs off).
pub(super) fn first_wort(solution_l: f64, water_l: f64, absorbed_l: f64) -> f64 {
    (water_l - absorbed_l) / solution_l
}

/// Mean charge of carbonate, with the pK of carbonic acid 6.35 and 10.33 (25 °C).
fn charges(ph: f64) -> f64 {
    let (h, one, two) = (10_f64.powf(-ph), 10_f64.powf(-6.35), 10_f64.powf(-10.33));
    (h * one + 2.0 * one * two) / (h * h + h * one + one * two)
}

/// Free protons less hydroxide, mmol/L.
fn protons(ph: f64) -> f64 {
    1000.0 * (10_f64.powf(-ph) - 10_f64.powf(ph - 14.0))
}

/// A mash: kilograms, pH in distilled water and buffering, mEq/(kg pH), of each malt.
pub(super) type Malts = [(f64, f64, f64)];

/// Mash pH by a balance of charges (deLange, MBAA TQ 2015, 52(1) 3): what malts take up is what the water's carbonate gives as far as it
/// is used up there, less a proton for 3.5 equivalents of calcium and 7 of magnesium (Kolbach 1953). Water in litres, mEq/L and pH,
/// its alkalinity titrated to pH 4.3.
pub(super) fn mash_ph(
    malts: &Malts,
    litres: f64,
    (calcium, magnesium, alkalinity): (f64, f64, f64),
    water_ph: f64,
) -> f64 {
    let total =
        (alkalinity - (protons(4.3) - protons(water_ph))) / (charges(water_ph) - charges(4.3));
    let hardness = calcium / 3.5 + magnesium / 7.0;
    let (mut low, mut high) = (3.0, 8.0);
    for _ in 0..60 {
        let ph = 0.5 * (low + high);
        let used = total * (charges(water_ph) - charges(ph)) + protons(ph) - protons(water_ph);
        let taken: f64 = malts
            .iter()
            .map(|(kg, own, buffering)| kg * buffering * (ph - own))
            .sum();
        if taken + litres * (hardness - used) < 0.0 {
            low = ph;
        } else {
            high = ph;
        }
    }
    0.5 * (low + high)
}
