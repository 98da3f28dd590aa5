//! The cellar: pitched wort, every later addition in its turn, and what goes in at packaging.

use super::cellar::Fermenting;
use super::formula::{Formula, Item, ItemIndex, PerItem, Stage, shares_of_volume};
use super::kept::kept_by_l;
use super::plant::Plant;
use crate::catalogue::Kind;
use crate::science::liquid::{Fall, Liquid, apparent_plato_at};

/// What happens in the fermenter.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Cellar {
    /// What is in the fermenter when it has fermented.
    pub(crate) finished: Liquid,
    /// All of that as it is drunk: with what goes in at packaging, which ferments too.
    pub(crate) beer: Liquid,
    /// What goes in at packaging, as much as all of the fermenter would take.
    at_packaging: Fermenting,
    /// Extract of the wort that a yeast which goes in at packaging ferments on, as much as all of the fermenter holds, kg.
    pub(crate) in_packages_kg: f64,
    /// Extract of juices that is taken not to ferment, kg.
    juice_left_kg: f64,
    /// What the beer becomes if every juice ferments in full, where some of one is taken not to.
    pub(crate) if_juice_ferments: Option<Liquid>,
    /// What the wort would have become without later additions.
    pub(crate) without_additions: Liquid,
    /// What each item that brings extract meets, with all that goes in at once.
    pub(crate) met: PerItem<Option<Met>>,
    /// The same for the first of them to go in.
    pub(crate) first_met: Option<Met>,
    pub(crate) after_additions_l: f64,
    /// Litres that dry hops keep in the fermenter, beyond the plant's loss, and in the package.
    pub(crate) kept_l: f64,
    pub(crate) kept_in_package_l: f64,
    /// Litres that leave the fermenter.
    pub(crate) racked_l: f64,
    /// The same with what goes in at packaging.
    pub(crate) packaged_l: f64,
    /// Litres in the vessel just before each item goes in; what is racked, for one at packaging.
    pub(crate) vessel_l: PerItem<f64>,
    /// Items whose gravity is not met on the way down.
    pub(crate) missed: Vec<Missed>,
    /// Absorbance from juice and whatever else was added later, as colour times volume of all that the fermenter holds; none
    /// where one of them is unknown.
    pub(crate) later_colour_ebc_l: Option<f64>,
}

impl Cellar {
    /// The same cellar with another beer in its fermenter, to which as much goes in per litre at packaging.
    pub(crate) fn with_finished(mut self, finished: Liquid) -> Self {
        let times = finished.volume_l() / self.finished.volume_l().max(f64::MIN_POSITIVE);
        self.at_packaging = self.at_packaging.part(times);
        self.in_packages_kg *= times;
        self.finished = finished;
        self.package();
        self
    }

    /// The same cellar, of which so many litres are packaged.
    pub(crate) fn with_racked(mut self, racked_l: f64) -> Self {
        self.racked_l = racked_l;
        self.package();
        self
    }

    /// The same cellar, in whose packages a yeast finds so much more of the wort to ferment than the first left it.
    pub(crate) fn with_more_in_packages(mut self, kg: f64) -> Self {
        if kg > 0.0 {
            self.in_packages_kg = kg;
            self.package();
        }
        self
    }

    /// The beer that comes of what is in the fermenter and of what goes in at packaging.
    fn package(&mut self) {
        let mut mixed = Fermenting::done(self.finished).with(&self.at_packaging);
        mixed.fermentable_kg += self.in_packages_kg.min(self.finished.extract_kg);
        self.beer = mixed.finished();
        self.if_juice_ferments =
            (self.juice_left_kg > 0.0).then(|| self.beer.fermented_kg(self.juice_left_kg));
        let finished_l = self.finished.volume_l().max(f64::MIN_POSITIVE);
        let filled_l = self.racked_l * self.beer.volume_l() / finished_l;
        self.packaged_l = (filled_l - self.kept_in_package_l).max(0.0);
    }
}

/// What goes in together, as far as it is known.
struct Poured {
    mixed: Fermenting,
    /// Extract of juices that is taken not to ferment, kg.
    juice_left_kg: f64,
    /// Colour times volume; none where one of the colours is unknown.
    colour_ebc_l: Option<f64>,
}

impl Poured {
    const fn nothing() -> Self {
        Self {
            mixed: Fermenting::done(Liquid::solution(0.0, 0.0)),
            juice_left_kg: 0.0,
            colour_ebc_l: Some(0.0),
        }
    }

    /// `fit` is the factor on what a mash made, its maker's included.
    fn pour(&mut self, item: &Item, amount: f64, fit: f64) {
        let brought = item.brings(amount);
        let extract_kg = brought.liquid.extract_kg;
        let fermentable_kg = if item.is_of_a_mash() {
            (brought.fermentable_kg * fit).min(extract_kg)
        } else {
            brought.fermentable_kg
        };
        self.mixed = self.mixed.with(&Fermenting {
            liquid: brought.liquid,
            fermentable_kg,
        });
        if item.ingredient.kind == Kind::Juice {
            self.juice_left_kg += extract_kg - fermentable_kg;
        }
        self.colour_ebc_l =
            Option::zip(self.colour_ebc_l, brought.colour_ebc_l).map(|(a, b)| a + b);
    }

    /// So many times as much.
    fn times(self, factor: f64) -> Self {
        Self {
            mixed: self.mixed.part(factor),
            juice_left_kg: self.juice_left_kg * factor,
            colour_ebc_l: self.colour_ebc_l.map(|sum| sum * factor),
        }
    }
}

/// An item whose gravity is not met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Missed {
    pub(crate) index: ItemIndex,
    pub(crate) fall: Fall,
}

/// A beer around an addition, °P.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Met {
    /// Apparent extract just before.
    pub(crate) before_plato: f64,
    /// Apparent extract just after; it may have risen.
    pub(crate) after_plato: f64,
    /// Extract of the wort that everything in the vessel before it would have been.
    pub(crate) original_plato: f64,
    /// What the addition waits for, if for a gravity.
    pub(crate) awaited_plato: Option<f64>,
    /// The beer's part of the litres just after.
    pub(crate) beer_share: f64,
}

/// What a fermentation rests on.
#[derive(Debug, Clone, Copy)]
pub(crate) struct InFermenter<'a> {
    pub(crate) formula: &'a Formula,
    pub(crate) plant: &'a Plant,
    /// The factor on what a mash made, its maker's included, that a printed figure wants ([`super::MashFactor`]).
    pub(crate) fit: f64,
}

impl InFermenter<'_> {
    /// Ferments the pitched wort with every later addition in its turn.
    pub(crate) fn run(self, amounts: &PerItem<f64>, pitched: &Fermenting) -> Cellar {
        fermented(self, pitched, |index, _, _| amounts.at(index))
    }

    /// The same, each later addition dosed by its rule for the litres that it meets. Its amount is written into `amounts`.
    pub(crate) fn run_by_rule(self, amounts: &mut PerItem<f64>, pitched: &Fermenting) -> Cellar {
        fermented(self, pitched, |index, item, (vessel_l, shares)| {
            if let Some(amount) = item.rule.amount_in(vessel_l, shares) {
                amounts.set(index, amount);
            }
            amounts.at(index)
        })
    }
}

/// `amount_in` says how much of an item goes in where it meets so many litres, beside these shares of the volume.
fn fermented(
    of: InFermenter<'_>,
    pitched: &Fermenting,
    mut amount_in: impl FnMut(ItemIndex, &Item, (f64, f64)) -> f64,
) -> Cellar {
    let InFermenter {
        formula,
        plant,
        fit,
    } = of;
    let items = &formula.items;
    let mut vessel_l = items.all(0.0);
    let mut missed = Vec::new();
    let mut met = items.all(None);
    let mut first_met = None;
    let mut later_colour_ebc_l = Some(0.0);
    let mut juice_left_kg = 0.0;
    let mut kept_l = 0.0;
    let mut beer = *pitched;
    let mut after_additions_l = pitched.liquid.volume_l();
    for group in &formula.later {
        let Some(first) = group.first().and_then(|index| items.get(*index)) else {
            continue;
        };
        let mut members = group.iter().filter_map(|index| items.get(*index));
        let pours = members.any(Item::pours);
        match first.trigger_plato() {
            Some(plato) => match beer.fallen_to(plato) {
                Ok(fallen) => beer = fallen,
                Err(fall) => {
                    missed.extend(group.iter().map(|index| Missed {
                        index: *index,
                        fall,
                    }));
                    if let Fall::EndsAbove(_) = fall {
                        beer = Fermenting::done(beer.finished());
                    }
                }
            },
            // What goes in with the yeast finds it all still to do.
            None if pours && !first.is_at_pitching() => {
                beer = Fermenting::done(beer.finished());
            }
            None => {}
        }
        let density = beer.liquid.density_20();
        let now_l = beer.liquid.volume_at_l(density);
        let shares = shares_of_volume(items, group);
        let mut poured = Poured::nothing();
        for index in group {
            let Some(item) = items.get(*index) else {
                continue;
            };
            vessel_l.set(*index, now_l);
            let amount = amount_in(*index, item, (now_l, shares));
            poured.pour(item, amount, fit);
            kept_l += kept_by_l(item, amount);
        }
        juice_left_kg += poured.juice_left_kg;
        later_colour_ebc_l =
            Option::zip(later_colour_ebc_l, poured.colour_ebc_l).map(|(a, b)| a + b);
        if poured.mixed.liquid.mass_kg() > 0.0 {
            let original_plato = beer.liquid.original_plato();
            beer = beer.with(&poured.mixed);
            let density_then = beer.liquid.density_20();
            after_additions_l = beer.liquid.volume_at_l(density_then);
            let here = Met {
                before_plato: apparent_plato_at(density),
                after_plato: apparent_plato_at(density_then),
                original_plato,
                awaited_plato: first.trigger_plato(),
                beer_share: now_l / after_additions_l,
            };
            if pours {
                for index in group {
                    if items.get(*index).is_some_and(Item::pours) {
                        met.set(*index, Some(here));
                    }
                }
                first_met = first_met.or(Some(here));
            }
        }
    }
    let finished = beer.finished();
    let racked_l = (plant.fermenter_loss.after(finished.volume_l()) - kept_l).max(0.0);
    let mut at_packaging = Poured::nothing();
    let mut kept_in_package_l = 0.0;
    let shares = formula.packaged_shares();
    for (index, item) in items.iter() {
        if item.place.stage == Stage::Package {
            vessel_l.set(index, racked_l);
            let amount = amount_in(index, item, (racked_l, shares));
            at_packaging.pour(item, amount, fit);
            kept_in_package_l += kept_by_l(item, amount);
        }
    }
    let at_packaging = if racked_l > 0.0 {
        at_packaging.times(finished.volume_l() / racked_l)
    } else {
        Poured::nothing()
    };
    let mut cellar = Cellar {
        finished,
        beer: finished,
        at_packaging: at_packaging.mixed,
        in_packages_kg: 0.0,
        juice_left_kg: juice_left_kg + at_packaging.juice_left_kg,
        if_juice_ferments: None,
        without_additions: pitched.finished(),
        met,
        first_met,
        after_additions_l,
        kept_l,
        kept_in_package_l,
        racked_l,
        packaged_l: racked_l,
        vessel_l,
        missed,
        later_colour_ebc_l: Option::zip(later_colour_ebc_l, at_packaging.colour_ebc_l)
            .map(|(a, b)| a + b),
    };
    cellar.package();
    cellar
}
