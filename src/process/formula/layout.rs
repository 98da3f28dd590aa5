//! Laying a recipe out: each addition an item, its amount a rule.

use super::{Item, Rule, Slot, Stage, settled};
use crate::catalogue::Catalogue;
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::process::assumption::{Assumption, SumOfShares};
use crate::process::material::check_kind;
use crate::quantity::{Quantity as _, in_kilograms, in_litres};
use crate::recipe::{Addition, Amount, Content, Ingredient, PackSize, Packs, Timing};
use crate::speech::{Noted, shortest};
use std::sync::Arc;

/// A list of items in the making.
pub(super) struct Layout<'a> {
    pub(super) catalogue: &'a Catalogue,
    pub(super) assumptions: &'a mut Vec<Noted<Assumption>>,
    pub(super) items: Vec<Item>,
}

impl Layout<'_> {
    pub(super) fn stage(
        &mut self,
        stage: Stage,
        stand: usize,
        additions: &[Addition],
    ) -> Result<(), Error> {
        for (index, addition) in additions.iter().enumerate() {
            self.addition(stage, stand, index, addition)?;
        }
        Ok(())
    }

    pub(super) fn addition(
        &mut self,
        stage: Stage,
        stand: usize,
        index: usize,
        addition: &Addition,
    ) -> Result<(), Error> {
        let slot = |part| Slot {
            stage,
            stand,
            index,
            part,
        };
        match &addition.content {
            Content::Single(ingredient) => {
                let rule = rule(addition.amount.as_ref());
                self.item(ingredient, slot(None), &addition.timing, rule)
            }
            Content::Blend(parts) => {
                // Parts that are no shares are refused one by one.
                let sum = match sum_of_parts(parts) {
                    Some(sum) => {
                        let place = slot(None).place().field("content.blend");
                        whole(sum, "the parts of a blend", place, self.assumptions)?
                    }
                    None => 1.0,
                };
                for (part, child) in parts.iter().enumerate() {
                    let Some(ingredient) = child.ingredient() else {
                        return Err(Error::new(
                            ErrorKind::Contradiction,
                            "a blend cannot hold a blend; write its parts one level up",
                        )
                        .about(slot(Some(part)).place()));
                    };
                    let rule = part_rule(addition.amount.as_ref(), child.amount.as_ref(), sum)
                        .map_err(|error| error.about(slot(Some(part)).place().field("amount")))?;
                    self.item(ingredient, slot(Some(part)), &addition.timing, rule)?;
                }
                Ok(())
            }
        }
    }

    fn item(
        &mut self,
        ingredient: &Ingredient,
        place: Slot,
        timing: &Timing,
        rule: Rule,
    ) -> Result<(), Error> {
        check_kind(ingredient, &place.ingredient(), self.catalogue)?;
        let material = settled(ingredient, place, self.catalogue, self.assumptions)
            .map_err(|error| error.about_at_least(place.ingredient().field("facts")))?;
        self.items.push(Item {
            ingredient: Arc::new(ingredient.clone()),
            place,
            timing: timing.clone(),
            material,
            rule,
        });
        Ok(())
    }
}

/// Shares that add up to a whole within this are printed ones that were rounded; design of the notation.
const SHARES_WITHIN: f64 = 0.005;
/// Sums of decimal shares are exact to this.
const EXACT: f64 = 1e-9;

/// What printed shares are divided by, their sum: told where they were rounded, refused where they make no whole.
pub(crate) fn whole(
    sum: f64,
    of: &str,
    place: Place,
    assumptions: &mut Vec<Noted<Assumption>>,
) -> Result<f64, Error> {
    let off = (sum - 1.0).abs();
    if off > SHARES_WITHIN + EXACT {
        let sum = shortest(sum * 100.0, 2);
        return Err(Error::new(
            ErrorKind::Contradiction,
            format!("the shares of {of} add up to {sum} %, not 100 %"),
        )
        .about(place));
    }
    if off > EXACT {
        let sum = SumOfShares::clamped(sum);
        assumptions.push(Noted::at(place, Assumption::SharesNormalised { sum }));
    }
    Ok(sum)
}

/// The sum of the shares of a blend, if all of its parts are shares.
fn sum_of_parts(parts: &[Addition]) -> Option<f64> {
    let share = |part: &Addition| match &part.amount {
        Some(Amount::Share(share)) => Some(share.value().in_base()),
        _ => None,
    };
    let shares: Option<Vec<f64>> = parts.iter().map(share).collect();
    shares
        .filter(|shares| !shares.is_empty())
        .map(|shares| shares.iter().sum())
}

/// The amount of an addition as a rule.
fn rule(amount: Option<&Amount>) -> Rule {
    match amount {
        None => Rule::Open,
        Some(Amount::Mass(mass)) => Rule::Kilograms(in_kilograms(mass.value())),
        Some(Amount::Volume(volume)) => Rule::Litres(in_litres(volume.value())),
        Some(Amount::Concentration(dose)) => Rule::GramsPerLitre(dose.value().in_base()),
        Some(Amount::Dose(dose)) => Rule::LitresPerLitre(dose.value().in_base()),
        Some(Amount::Share(share)) => Rule::Share(share.value().in_base()),
        Some(Amount::ShareByVolume(share)) => Rule::ShareOfVolume {
            total: share.value().in_base(),
            part: 1.0,
        },
        Some(Amount::Bitterness(ibu)) => Rule::Ibu(ibu.value().in_base()),
        Some(Amount::Packs(Packs { count, each })) => match each {
            PackSize::Mass(mass) => Rule::Kilograms(f64::from(*count) * in_kilograms(mass.value())),
            PackSize::Volume(volume) => Rule::Litres(f64::from(*count) * in_litres(volume.value())),
        },
        Some(Amount::PackCount(count)) => Rule::Packs(count.packs()),
    }
}

/// The amount of a part of a blend: its share of the blend's amount, in the blend's own basis; `sum` is that of all shares.
fn part_rule(blend: Option<&Amount>, part: Option<&Amount>, sum: f64) -> Result<Rule, Error> {
    let Some(Amount::Share(share)) = part else {
        return match blend {
            None => Ok(rule(part)),
            Some(_) => Err(Error::new(
                ErrorKind::Contradiction,
                "a blend has an amount of its own, so its parts must be shares of it (`45 %`)",
            )),
        };
    };
    let part = share.value().in_base() / sum;
    Ok(match rule(blend) {
        Rule::Kilograms(kg) => Rule::Kilograms(kg * part),
        Rule::Litres(l) => Rule::Litres(l * part),
        Rule::GramsPerLitre(dose) => Rule::GramsPerLitre(dose * part),
        Rule::LitresPerLitre(dose) => Rule::LitresPerLitre(dose * part),
        Rule::Share(share) => Rule::Share(share * part),
        Rule::ShareOfVolume { total, .. } => Rule::ShareOfVolume { total, part },
        Rule::Ibu(ibu) => Rule::Ibu(ibu * part),
        Rule::Packs(_) | Rule::PacksPerLitre(_) | Rule::Open => {
            return Err(Error::new(
                ErrorKind::Incomplete,
                "a blend of shares needs an amount of its own, such as `12 % by volume`",
            ));
        }
    })
}
