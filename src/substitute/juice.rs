//! Juices, three honest ways: the same volume, the same fermentable sugar, or the same volume topped up.

use super::case::{Case, LEAST_SHARE, Measure, Offer, SlackUse, Thinning};
use super::juice_content::{AXES, CONCENTRATE, Juiced, Typical, juiced};
use super::kind_group::KindGroup;
use super::noticed::Tastes;
use super::practice::Practice;
use super::proposal::{Aspect, JuiceMatch, Origin};
use super::search::{Column, Problem, Slack};
use super::setting::{Candidate, Need, Setting, Sold};
use super::weights::Weights;
use crate::catalogue::{EntryRef, JUICE_AXES, Juice, Kind};
use crate::process::{ItemIndex, Material};
use crate::recipe::Ingredient;
use crate::science::density::sucrose_density_20;

/// The most of a weak juice that may stand for a litre of a strong one (rule of the crate).
const MOST_VOLUME: f64 = 4.0;

fn row_of<'a>(ingredient: &Ingredient, setting: &Setting<'a>) -> Option<&'a Juice> {
    match setting.catalogue.find(ingredient.catalogue_name())?.entry {
        EntryRef::Juice(row) => Some(row),
        _ => None,
    }
}

/// Water, as something that thins a juice.
pub(super) fn water() -> Ingredient {
    Ingredient::new("water", Kind::Beverage)
}

/// A line of juice that is to be replaced.
struct Replaced<'a> {
    wanted: &'a Juiced,
    l: f64,
    by_volume: bool,
    weights: &'a Weights,
    most_parts: usize,
    /// Of the beer.
    share: f64,
}

/// A juice that may stand for it, as it would be poured.
struct Poured {
    juice: Juiced,
    offer: Offer,
    /// Litres that can be had.
    left_l: f64,
}

/// What makes up the volume in a way that is topped up.
struct TopUp {
    ingredient: Ingredient,
    density_kg_l: f64,
    /// In a litre.
    sugar_kg: f64,
    price: f64,
}

/// The line as a problem for each way.
pub(super) fn cases(setting: &Setting<'_>, need: &Need, missing: &[ItemIndex]) -> Vec<Case> {
    let Some(item) = setting.item(need.index) else {
        return Vec::new();
    };
    let Material::Fermentable(part) = item.material else {
        return Vec::new();
    };
    let by_volume = item.is_by_volume();
    let replaced_l = if by_volume {
        setting.target_l(need.index)
    } else {
        setting.target_kg(need.index) / part.density_kg_l
    };
    let weights = &setting.options.weights;
    let typical = Typical::of(setting);
    let row = row_of(&item.ingredient, setting);
    let Some(wanted) = juiced(&item.ingredient, row, &typical) else {
        return Vec::new();
    };
    if replaced_l <= 0.0 {
        return Vec::new();
    }
    let replaced = Replaced {
        wanted: &wanted,
        l: replaced_l,
        by_volume,
        weights,
        most_parts: setting.options.most_parts,
        share: replaced_l / setting.planned().brewed.boiled.volume_l.max(replaced_l),
    };
    let function = row.and_then(|row| row.function);
    let rows = setting
        .catalogue
        .juices()
        .filter(|row| !row.is_whole_fruit())
        .map(|row| Sold {
            name: &row.name,
            kind: Kind::Juice,
            from: Origin::of(row.commonness),
            does_it: row.function.is_some() && row.function == function,
        });
    let found: Vec<Poured> = setting
        .candidates(item, missing, KindGroup::Juice, rows)
        .into_iter()
        .filter_map(|candidate| {
            let row = row_of(&candidate.ingredient, setting);
            let juice = juiced(&candidate.ingredient, row, &typical)?;
            let costs = setting.costs_of_buying(
                candidate.ingredient.catalogue_name(),
                candidate.from,
                row.and_then(|row| row.commonness),
                replaced.share,
            );
            Some(replaced.by(candidate, juice, costs))
        })
        .collect();
    [
        JuiceMatch::SameVolume,
        JuiceMatch::SameSugar,
        JuiceMatch::ToppedUpWithSugar,
        JuiceMatch::ToppedUpWithWater,
    ]
    .into_iter()
    .map(|way| replaced.case(way, &found))
    .collect()
}

impl Replaced<'_> {
    /// A juice as it would be bought and poured: a concentrate thinned to the strength of what it stands for.
    fn by(&self, candidate: Candidate, juice: Juiced, mut costs: Vec<(Aspect, f64)>) -> Poured {
        let Self { wanted, .. } = self;
        let Candidate {
            ingredient,
            from,
            left: left_l,
        } = candidate;
        let name = ingredient.name.clone();
        let mut practice = Vec::new();
        if juice.preserved {
            practice.push(Practice::PreservedMayNotFerment { name: name.clone() });
        }
        if juice.pectin >= 3.0 {
            practice.push(Practice::PectinHaze { name: name.clone() });
        }
        if juice.sorbitol {
            practice.push(Practice::Sorbitol { name: name.clone() });
        }
        if !juice.assumed.is_empty() {
            practice.push(Practice::FiguresAssumed {
                name: name.clone(),
                figures: juice.assumed.clone(),
            });
        }
        let ratio_of = |density: f64, litres: f64| {
            if self.by_volume {
                litres
            } else {
                litres * density / wanted.density_kg_l
            }
        };
        costs.push((
            Aspect::Unknown,
            self.weights.unknown_figure * juice.assumed.len() as f64,
        ));
        if let (Some(job), Some(its)) = (wanted.function, juice.function)
            && job != its
        {
            costs.push((Aspect::ChangeOfFunction, self.weights.near_function));
        }
        costs.retain(|(_, cost)| *cost > 0.0);
        let density_kg_l = juice.density_kg_l;
        let strength = wanted.extract_kg / wanted.density_kg_l;
        let own_strength = juice.extract_kg / density_kg_l;
        let (juice, share, water) =
            if own_strength > CONCENTRATE && strength > 0.0 && own_strength > strength {
                let water_kg_l = sucrose_density_20(0.0) / 1000.0;
                let mass_kg = juice.extract_kg / strength;
                let water_l = (mass_kg - density_kg_l) / water_kg_l;
                let share = 1.0 / (mass_kg / (sucrose_density_20(strength) / 1000.0));
                practice.push(Practice::ThinWithWater {
                    name,
                    water: water_l,
                });
                let poured_l = water_l * share;
                let water = Thinning {
                    ratio: ratio_of(water_kg_l, poured_l),
                    l: self.l * poured_l,
                };
                (juice.thinned(share, strength), share, Some(water))
            } else {
                (juice, 1.0, None)
            };
        let (tastes, acid_meq_l) = (juice.aroma, self.share * juice.acid_meq);
        Poured {
            juice,
            offer: Offer {
                measure: Measure::Litres(self.l * share),
                ratio: ratio_of(density_kg_l, share),
                moved: None,
                water,
                practice,
                diastatic_wk: None,
                costs,
                from,
                is_base: false,
                tastes: tastes.to_vec(),
                acid_meq_l,
                mash_acid_meq: 0.0,
                ingredient,
            },
            left_l,
        }
    }

    fn case(&self, way: JuiceMatch, found: &[Poured]) -> Case {
        let Self {
            wanted, weights, ..
        } = self;
        let brings = |juice: &Juiced| match way {
            JuiceMatch::SameVolume => [1.0, 0.0],
            JuiceMatch::SameSugar => [juice.fermentable_kg, 0.0],
            JuiceMatch::ToppedUpWithSugar | JuiceMatch::ToppedUpWithWater => {
                [1.0, juice.fermentable_kg]
            }
        };
        let (mut columns, mut offers) = (Vec::new(), Vec::new());
        for Poured {
            juice,
            offer,
            left_l,
        } in found
        {
            let most = match way {
                JuiceMatch::SameSugar => (wanted.fermentable_kg
                    / juice.fermentable_kg.max(f64::MIN_POSITIVE))
                .min(MOST_VOLUME),
                _ => 1.0,
            };
            let high = most.min(left_l / offer.measure.number().max(f64::MIN_POSITIVE));
            // Of a strong juice less than a twentieth may hold all the sugar.
            let low = LEAST_SHARE.min(most);
            if high < low || (way == JuiceMatch::SameSugar && juice.fermentable_kg <= 0.0) {
                continue;
            }
            columns.push(Column {
                features: juice.features(wanted, weights),
                brings: brings(juice),
                low,
                high,
                cost: offer.costs.iter().map(|(_, cost)| cost).sum(),
                is_slack: false,
            });
            offers.push(offer.clone());
        }
        let top_up = TopUp::of(way, weights);
        let slack = top_up.as_ref().map(|top_up| Slack {
            features: top_up.juiced().features(wanted, weights),
            brings: [1.0, top_up.sugar_kg],
            low: 0.0,
            high: 1.0,
            price: top_up.price,
            // One more thing to weigh out.
            if_needed: Some(weights.further_part(self.share)),
        });
        Case {
            problem: Problem {
                columns,
                slack,
                target: wanted.features(wanted, weights),
                right: brings(wanted),
                band: None,
                part_cost: weights.further_part(self.share),
                most_parts: self.most_parts,
            },
            offers,
            way: Some(way),
            slack: top_up.map_or(SlackUse::None, |top_up| {
                SlackUse::TopUp(Box::new(self.topped_up(top_up)))
            }),
            aspects: vec![
                (Aspect::Aroma, AXES),
                (Aspect::Acid, 1),
                (Aspect::Sugar, 1),
                (Aspect::Unfermented, 1),
                (Aspect::Volume, 1),
                (Aspect::Hue, 2),
                (Aspect::TanninAndPectin, 2),
            ],
            considered: found.len(),
            acid_meq: None,
            tastes: Tastes {
                axes: &JUICE_AXES,
                share: self.share,
                wanted: wanted.aroma.to_vec(),
                slack: vec![0.0; AXES],
                acid_meq_l: self.share * wanted.acid_meq,
            },
            gate: None,
            per_residual: [0.0; 2],
        }
    }

    fn topped_up(&self, top_up: TopUp) -> Offer {
        Offer {
            measure: if top_up.sugar_kg > 0.0 {
                Measure::Kilograms(self.l * top_up.density_kg_l)
            } else {
                Measure::Litres(self.l)
            },
            ratio: if self.by_volume {
                1.0
            } else {
                top_up.density_kg_l / self.wanted.density_kg_l
            },
            ingredient: top_up.ingredient,
            moved: None,
            water: None,
            practice: Vec::new(),
            diastatic_wk: None,
            costs: Vec::new(),
            from: Origin::Shop,
            is_base: false,
            tastes: Vec::new(),
            acid_meq_l: 0.0,
            mash_acid_meq: 0.0,
        }
    }
}

impl TopUp {
    fn of(way: JuiceMatch, weights: &Weights) -> Option<Self> {
        match way {
            JuiceMatch::ToppedUpWithSugar => {
                let mut sugar = Ingredient::new("sucrose", Kind::Sugar);
                sugar.entry = Some("sucrose".to_owned());
                let density_kg_l = sucrose_density_20(1.0) / 1000.0;
                Some(Self {
                    ingredient: sugar,
                    density_kg_l,
                    sugar_kg: density_kg_l,
                    price: weights.topping_up * 10.0 * density_kg_l,
                })
            }
            JuiceMatch::ToppedUpWithWater => Some(Self {
                ingredient: water(),
                density_kg_l: sucrose_density_20(0.0) / 1000.0,
                sugar_kg: 0.0,
                price: weights.topping_up * 10.0,
            }),
            JuiceMatch::SameVolume | JuiceMatch::SameSugar => None,
        }
    }

    /// A litre of it among juices.
    fn juiced(&self) -> Juiced {
        Juiced {
            extract_kg: self.sugar_kg,
            fermentable_kg: self.sugar_kg,
            density_kg_l: self.density_kg_l,
            acid_meq: 0.0,
            aroma: [0.0; AXES],
            hue: [0.0; 2],
            tannin: 0.0,
            pectin: 0.0,
            sorbitol: false,
            preserved: false,
            assumed: Vec::new(),
            function: None,
        }
    }
}
