//! A recipe built in code, written as text and read again, is the same recipe bit for bit.

use proptest::prelude::*;
use wortwright::catalogue::{Catalogue, Kind};
use wortwright::diagnostic::TextRef;
use wortwright::notation::{Document, read};
use wortwright::quantity::{Quantity, Unit, Written};
use wortwright::recipe::{
    Addition, Amount, At, Batch, BatchPoint, CoolStep, ExtractBasis, Heating, Hold, HopForm,
    HotStep, Ingredient, IonTargets, PackSize, Packs, Recipe, Rest, ShareBasis, Sparge, Stand,
    StatedExtract,
};

/// Throws that decide how a recipe looks. All zero is the emptiest recipe, which is where a failing case shrinks to.
struct Dice(std::vec::IntoIter<u16>);

impl Dice {
    fn throw(&mut self) -> usize {
        self.0.next().unwrap_or(0).into()
    }

    fn of<T: Clone>(&mut self, choices: &[T]) -> T {
        choices[self.throw() % choices.len()].clone()
    }

    fn maybe<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        (self.throw() % 2 == 1).then(|| make(self))
    }

    fn some<T>(&mut self, most: usize, mut make: impl FnMut(&mut Self) -> T) -> Vec<T> {
        (0..self.throw() % (most + 1)).map(|_| make(self)).collect()
    }

    /// A figure with up to three decimals, or a range of them, exact or roughly.
    fn figure<Q: Quantity>(&mut self, low: f64, high: f64, units: &[Unit]) -> Written<Q> {
        let unit = self.of(units);
        let figure = |dice: &mut Self| {
            let places = [1.0, 10.0, 1000.0][dice.throw() % 3];
            let share = dice.throw() as f64 / f64::from(u16::MAX);
            // As written in a text: the nearest figure to so many decimals.
            ((low + (high - low) * share) * places).round() / places
        };
        let (one, other) = (figure(self), figure(self));
        let written = if self.throw() % 4 == 3 && one > 0.0 && other > 0.0 {
            let (low, high) = (one.min(other), one.max(other));
            Written::between(low, high, unit)
        } else {
            Written::new(one, unit)
        };
        let written = written.expect("within the scale");
        if self.throw() % 4 == 3 {
            written.approximately()
        } else {
            written
        }
    }

    /// An ingredient that the catalogue knows.
    fn known(&mut self, kinds: &[Kind]) -> Ingredient {
        let kind = self.of(kinds);
        let catalogue = Catalogue::builtin();
        let names: Vec<&str> = catalogue
            .of_kind(kind)
            .map(wortwright::catalogue::EntryRef::name)
            .collect();
        let name = self.of(&names);
        let mut ingredient = Ingredient::new(name, kind);
        ingredient.entry = Some(name.to_owned());
        self.facts(&mut ingredient);
        ingredient
    }

    fn facts(&mut self, ingredient: &mut Ingredient) {
        let kind = ingredient.kind;
        let facts = &mut ingredient.facts;
        match kind {
            Kind::Malt | Kind::Grain | Kind::Sugar => {
                facts.colour =
                    self.maybe(|d| d.figure(2.0, 900.0, &[Unit::Ebc, Unit::Srm, Unit::Lovibond]));
                facts.extract = self.maybe(|d| {
                    StatedExtract::new(
                        d.figure(60.0, 80.0, &[Unit::Percent]),
                        d.of(&[ExtractBasis::AsIs, ExtractBasis::Dry]),
                    )
                });
                facts.moisture = self.maybe(|d| d.figure(1.0, 9.0, &[Unit::Percent]));
                facts.fermentability = self.maybe(|d| d.figure(10.0, 100.0, &[Unit::Percent]));
                facts.diastatic_power =
                    self.maybe(|d| d.figure(20.0, 300.0, &[Unit::WindischKolbach, Unit::Lintner]));
                facts.protein = self.maybe(|d| d.figure(8.0, 13.0, &[Unit::Percent]));
            }
            Kind::Hop => {
                facts.form = self.maybe(|d| {
                    d.of(&[
                        HopForm::Pellet,
                        HopForm::Whole,
                        HopForm::Fresh,
                        HopForm::Extract,
                    ])
                });
                facts.alpha = self.maybe(|d| d.figure(1.0, 20.0, &[Unit::Percent]));
            }
            Kind::Juice => {
                facts.brix = self.maybe(|d| d.figure(5.0, 60.0, &[Unit::Brix, Unit::Plato]));
                facts.ph = self.maybe(|d| d.figure(2.5, 4.5, &[Unit::PhValue]));
                facts.acidity = self.maybe(|d| d.figure(1.0, 30.0, &[Unit::GramPerLitre]));
                facts.sulphite = self.maybe(|d| d.figure(1.0, 90.0, &[Unit::MilligramPerLitre]));
                facts.sorbate = self.maybe(|d| d.figure(1.0, 90.0, &[Unit::MilligramPerLitre]));
            }
            Kind::Yeast => {
                facts.attenuation = self.maybe(|d| d.figure(60.0, 90.0, &[Unit::Percent]));
                facts.pitch_rate =
                    self.maybe(|d| d.figure(0.5, 2.0, &[Unit::MillionPerMillilitrePlato]));
            }
            _ => {}
        }
    }

    fn mass(&mut self) -> Amount {
        let units = [Unit::Kilogram, Unit::Gram, Unit::Pound, Unit::Ounce];
        Amount::Mass(self.figure(0.5, 90.0, &units))
    }

    fn amount(&mut self) -> Amount {
        match self.throw() % 5 {
            0 => self.mass(),
            1 => Amount::Volume(self.figure(
                0.5,
                90.0,
                &[Unit::Litre, Unit::Millilitre, Unit::FluidOunce],
            )),
            2 => Amount::Concentration(self.figure(
                0.5,
                9.0,
                &[Unit::GramPerHectolitre, Unit::OuncePerGallon],
            )),
            3 => Amount::Dose(self.figure(0.5, 9.0, &[Unit::MillilitrePerLitre])),
            _ => Amount::Packs(Packs::new(
                1 + self.throw() as u32 % 9,
                match self.throw() % 2 {
                    0 => PackSize::Mass(self.figure(1.0, 900.0, &[Unit::Gram])),
                    _ => PackSize::Volume(self.figure(1.0, 900.0, &[Unit::Millilitre])),
                },
            )),
        }
    }

    /// Shares in whole per cent that add up to a hundred.
    fn shares(&mut self, count: usize) -> Vec<Amount> {
        let mut left = 100;
        (0..count)
            .map(|at| {
                let share = if at + 1 == count {
                    left
                } else {
                    1 + self.throw() % (left / count).max(1)
                };
                left -= share;
                Amount::Share(Written::new(share as f64, Unit::Percent).expect("a share"))
            })
            .collect()
    }

    fn grist(&mut self) -> Vec<Addition> {
        let mut grist = self.some(5, |d| Addition::of(d.known(&[Kind::Malt, Kind::Grain])));
        let amounts = if self.throw().is_multiple_of(2) {
            self.shares(grist.len())
        } else {
            grist.iter().map(|_| self.mass()).collect()
        };
        for (addition, amount) in grist.iter_mut().zip(amounts) {
            addition.amount = Some(amount);
        }
        grist
    }

    fn in_the_boil(&mut self) -> Addition {
        let mut addition = match self.throw() % 4 {
            0 => Addition::of(self.known(&[Kind::Hop])),
            1 => {
                // A hop that no catalogue knows, under a name full of marks.
                let mut hop = Ingredient::new(
                    self.of(&["wild #hop, 3", "at 5 min", "\"old\" one", "x"]),
                    Kind::Hop,
                );
                hop.facts.alpha = Some(self.figure(1.0, 20.0, &[Unit::Percent]));
                Addition::of(hop)
            }
            2 => {
                let mut herb = Addition::of(self.known(&[Kind::Botanical]));
                herb.amount = Some(self.amount());
                herb
            }
            _ => self.blend(&[Kind::Botanical]),
        };
        if addition
            .ingredient()
            .is_some_and(|single| single.kind == Kind::Hop)
        {
            addition.amount = match self.throw() % 3 {
                0 => None,
                1 => Some(self.mass()),
                _ => Some(Amount::Bitterness(self.figure(1.0, 90.0, &[Unit::Ibu]))),
            };
        }
        addition.timing.at = self.maybe(|d| match d.throw() % 3 {
            0 => At::FirstWort,
            _ => At::TimeLeft(d.figure(1.0, 60.0, &[Unit::Minute])),
        });
        addition
    }

    /// A blend, with an amount of its own or without.
    fn blend(&mut self, kinds: &[Kind]) -> Addition {
        let mut parts = vec![
            Addition::of(self.known(kinds)),
            Addition::of(self.known(kinds)),
        ];
        parts.extend(self.some(2, |d| Addition::of(d.known(kinds))));
        let shares = self.throw().is_multiple_of(2);
        let amounts = if shares {
            self.shares(parts.len())
        } else {
            parts.iter().map(|_| self.amount()).collect()
        };
        for (part, amount) in parts.iter_mut().zip(amounts) {
            part.amount = Some(amount);
        }
        let mut blend = Addition::blend(parts);
        blend.amount = self.maybe(Self::amount);
        blend
    }

    fn in_the_fermenter(&mut self) -> Addition {
        let mut addition = if self.throw().is_multiple_of(2) {
            let mut single = Addition::of(self.known(&[Kind::Juice, Kind::Hop, Kind::Botanical]));
            single.amount = Some(self.amount());
            single
        } else {
            let mut blend = self.blend(&[Kind::Juice]);
            if self.throw().is_multiple_of(2) {
                blend.amount = Some(Amount::ShareByVolume(self.figure(
                    1.0,
                    40.0,
                    &[Unit::Percent],
                )));
            }
            blend
        };
        addition.timing.at = self.maybe(|d| match d.throw() % 3 {
            0 => At::Temperature(d.figure(1.0, 30.0, &[Unit::Celsius, Unit::Fahrenheit])),
            1 => At::Gravity(d.figure(1.0, 9.0, &[Unit::Plato])),
            _ => At::AfterPitching(d.figure(1.0, 20.0, &[Unit::Day])),
        });
        addition.timing.contact =
            self.maybe(|d| d.figure(1.0, 9.0, &[Unit::Day, Unit::Hour, Unit::Week]));
        addition
    }

    fn ions(&mut self) -> IonTargets {
        let ion = |d: &mut Self| d.maybe(|d| d.figure(1.0, 200.0, &[Unit::MilligramPerLitre]));
        let mut ions = IonTargets::default();
        ions.calcium = ion(self);
        ions.sulphate = ion(self);
        ions.alkalinity = ion(self);
        ions
    }

    fn hot_step(&mut self) -> HotStep {
        if self.throw().is_multiple_of(2) {
            let mut cool = CoolStep::new(self.figure(10.0, 90.0, &[Unit::Celsius]));
            cool.time = self.maybe(|d| d.figure(5.0, 60.0, &[Unit::Minute]));
            return HotStep::Cool(cool);
        }
        let mut stand = Stand::new(self.figure(5.0, 60.0, &[Unit::Minute]));
        stand.temperature = self.maybe(|d| d.figure(70.0, 98.0, &[Unit::Celsius]));
        stand.additions = self.some(2, |d| {
            let mut addition = Addition::of(d.known(&[Kind::Hop, Kind::Botanical]));
            addition.amount = Some(d.mass());
            addition.timing.contact = d.maybe(|d| d.figure(5.0, 30.0, &[Unit::Minute]));
            addition
        });
        HotStep::Stand(stand)
    }

    fn recipe(&mut self) -> Recipe {
        let names = [
            "Low Tide", "100 %", "a, b", "# 3", "\"Q\"", "at 20 C", "Zoë's",
        ];
        let mut recipe = Recipe::new(self.of(&names));
        recipe.source = self.maybe(|d| d.of(&names).to_owned());
        recipe.brewed_on = self.maybe(|d| d.of(&names).to_owned());
        recipe.batch = self.maybe(|d| {
            let volume = d.figure(5.0, 90.0, &[Unit::Litre, Unit::Hectolitre, Unit::Barrel]);
            let points = [
                BatchPoint::IntoFermenter,
                BatchPoint::EndOfBoil,
                BatchPoint::Packaged,
            ];
            Batch::new(volume, d.of(&points))
        });
        recipe.targets.original = self.maybe(|d| d.figure(5.0, 25.0, &[Unit::Plato, Unit::Brix]));
        recipe.targets.final_extract = self.maybe(|d| d.figure(1.0, 5.0, &[Unit::Plato]));
        recipe.targets.alcohol = self.maybe(|d| d.figure(1.0, 12.0, &[Unit::Percent]));
        recipe.targets.bitterness = self.maybe(|d| d.figure(1.0, 90.0, &[Unit::Ibu]));
        recipe.targets.wort_colour = self.maybe(|d| d.figure(3.0, 90.0, &[Unit::Ebc, Unit::Srm]));
        recipe.targets.carbonation =
            self.maybe(|d| d.figure(1.0, 3.0, &[Unit::GasVolumes, Unit::GramPerLitre]));
        recipe.share_basis = self.of(&[ShareBasis::Weight, ShareBasis::Extract]);
        recipe.water = self.ions();
        recipe.mash.additions = self.grist();
        recipe.mash.liquor =
            self.maybe(|d| d.figure(2.0, 5.0, &[Unit::LitrePerKilogram, Unit::QuartPerPound]));
        recipe.mash.rests = self.some(3, |d| {
            let mut rest = Rest::new(
                d.figure(40.0, 78.0, &[Unit::Celsius]),
                d.figure(5.0, 90.0, &[Unit::Minute]),
            );
            rest.by = d.maybe(|d| d.of(&[Heating::Direct, Heating::Infusion, Heating::Decoction]));
            rest
        });
        recipe.mash.ph = self.maybe(|d| d.figure(5.0, 5.8, &[Unit::PhValue]));
        recipe.mash.sparge = self.maybe(|d| {
            let mut sparge = Sparge::default();
            sparge.volume = Some(d.figure(1.0, 20.0, &[Unit::Litre]));
            sparge.temperature = d.maybe(|d| d.figure(70.0, 80.0, &[Unit::Celsius]));
            sparge
        });
        recipe.boil.time = self.maybe(|d| d.figure(60.0, 120.0, &[Unit::Minute]));
        recipe.boil.additions = self.some(5, Self::in_the_boil);
        recipe.hot_side = self.some(2, Self::hot_step);
        recipe.fermentation.pitch = self.maybe(|d| {
            let mut pitch = Addition::of(d.known(&[Kind::Yeast]));
            pitch.amount = d.maybe(|d| format!("{} packs", 1 + d.throw() % 5).parse().unwrap());
            pitch.timing.at = d.maybe(|d| At::Temperature(d.figure(8.0, 25.0, &[Unit::Celsius])));
            pitch
        });
        recipe.fermentation.holds = self.some(2, |d| {
            let mut hold = Hold::new(d.figure(2.0, 30.0, &[Unit::Celsius, Unit::Fahrenheit]));
            hold.time = d.maybe(|d| d.figure(1.0, 20.0, &[Unit::Day]));
            hold
        });
        recipe.fermentation.additions = self.some(3, Self::in_the_fermenter);
        recipe.package.container = self.maybe(|d| {
            d.of(&["keg", "swing-top bottles", "add", "7 crates"])
                .to_owned()
        });
        recipe.package.carbonation = self.maybe(|d| d.figure(3.0, 8.0, &[Unit::GramPerLitre]));
        // Sometimes without a carbonation.
        recipe.package.temperature = self.maybe(|d| d.figure(1.0, 20.0, &[Unit::Celsius]));
        recipe
    }
}

proptest! {
    #[test]
    fn a_recipe_written_and_read_is_the_same(throws in prop::collection::vec(any::<u16>(), 0..400)) {
        let recipe = Dice(throws.into_iter()).recipe();
        let document = Document::from(&recipe);
        let text = document.to_string();
        let reading = read(&[TextRef::new("text", &text)]);
        prop_assert!(reading.is_usable(), "{}\n{:#?}", text, reading.diagnostics);
        prop_assert_eq!(reading.recipe.as_ref(), Some(&recipe), "{}", text);
        prop_assert_eq!(&reading.documents[0], &document, "{}", text);
        prop_assert_eq!(reading.documents[0].to_string(), text);
    }
}
