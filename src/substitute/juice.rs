//! Juices, three honest ways: the same volume, the same fermentable sugar, or the same volume topped up.
//!
//! Whole fruit stands for juice, and juice for fruit, by the liquid in it: what a litre is, is a litre of that.

use super::candidates::{Candidate, Sold};
use super::case::{Beside, Case, LEAST_SHARE, Measure, Offer, SlackUse};
use super::distance::Aspect;
use super::juice_acid::Acid;
use super::juice_content::{AXES, Bought, CONCENTRATE, Juiced, Typical, juiced};
use super::kind_group::KindGroup;
use super::needs::Need;
use super::part::Origin;
use super::practice::Practice;
use super::proposal::JuiceMatch;
use super::search::{Column, Problem, Slack};
use super::sensed::{ACID_STEP, taste_step};
use super::setting::Setting;
use super::taste::{Kin, LineSpread, OwnTaste, Tastes};
use super::weights::Weights;
use crate::catalogue::{EntryRef, JUICE_AXES, Juice, JuiceFunction, Kind};
use crate::process::{ItemIndex, LotSigma, Material, Stage};
use crate::quantity::litres;
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
fn water() -> Ingredient {
    Ingredient::new("water", Kind::Beverage)
}

/// A line of juice or fruit that is to be replaced.
struct Replaced<'a> {
    wanted: &'a Juiced,
    /// Litres of its liquid.
    l: f64,
    /// How much of it the line states for a litre of its liquid, in the line's measure.
    of_line: f64,
    by_volume: bool,
    acid: Option<Acid>,
    spread: LineSpread,
    weights: &'a Weights,
    most_parts: usize,
    /// Of the beer.
    share: f64,
}

/// A juice that may stand for it, as it would be poured.
#[derive(Clone)]
struct Poured {
    juice: Juiced,
    offer: Offer,
    /// How many of what is replaced can be had of it.
    left: f64,
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
    let weights = &setting.options.weights;
    let typical = Typical::of(setting);
    let row = row_of(&item.ingredient, setting);
    let Some(wanted) = juiced(&item.ingredient, row, &typical) else {
        return Vec::new();
    };
    let bought = Bought::of(Some(&part), wanted.density_kg_l);
    let (amount, of_line) = if by_volume {
        (setting.target_l(need.index), bought.l)
    } else {
        (setting.target_kg(need.index), bought.kg)
    };
    let replaced_l = amount / of_line;
    if replaced_l <= 0.0 {
        return Vec::new();
    }
    let share = replaced_l / setting.planned().brewed.boiled.volume_l.max(replaced_l);
    let lot = LotSigma::of(item);
    let colour_ebc = part.colour_ebc.unwrap_or(0.0) * share;
    let replaced = Replaced {
        wanted: &wanted,
        l: replaced_l,
        of_line,
        by_volume,
        acid: Acid::of(setting, row, by_volume),
        spread: LineSpread {
            original: lot.extract * share,
            colour_ebc: lot.colour * colour_ebc,
            ibu: 0.0,
        },
        weights,
        most_parts: setting.options.most_parts,
        share,
    };
    // Pulp is racked off a fermenter, and off nothing else.
    let takes_fruit = item.place.stage == Stage::Ferment;
    let function = row.and_then(|row| row.function);
    let rows = setting
        .catalogue
        .juices()
        .filter(|row| takes_fruit || !row.is_whole_fruit())
        .map(|row| Sold {
            name: &row.name,
            kind: Kind::Juice,
            from: Origin::of(row.commonness),
            does_it: row.function.is_some() && row.function == function,
        });
    let found: Vec<Poured> = setting
        .candidates(item, missing, (KindGroup::Juice, amount), rows)
        .into_iter()
        .filter_map(|candidate| {
            let row = row_of(&candidate.ingredient, setting);
            let is_fruit = row.is_some_and(Juice::is_whole_fruit);
            // Juice that is there to sour is pressed: the fruit would bring its peel.
            let is_pressed = function == Some(JuiceFunction::Acidulant) && bought.pulp.is_none();
            if is_fruit && is_pressed {
                return None;
            }
            let juice = juiced(&candidate.ingredient, row, &typical)?;
            let juice = juice.in_other_form(&wanted, is_fruit != bought.pulp.is_some());
            let part = is_fruit.then(|| setting.fermentable(&candidate.ingredient));
            let mut costs = setting.costs_of_buying(
                candidate.ingredient.catalogue_name(),
                candidate.from,
                row.and_then(|row| row.commonness),
                replaced.share,
            );
            if is_fruit && bought.pulp.is_none() {
                // It is crushed, and racked off its pulp.
                costs.push((Aspect::Practicality, weights.hard_mill));
            }
            let bought = Bought::of(part.flatten().as_ref(), juice.density_kg_l);
            (takes_fruit || !is_fruit).then(|| replaced.by(candidate, juice, bought, costs))
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
    fn by(
        &self,
        candidate: Candidate,
        juice: Juiced,
        bought: Bought,
        mut costs: Vec<(Aspect, f64)>,
    ) -> Poured {
        let Self { wanted, .. } = self;
        let Candidate {
            ingredient,
            from,
            left,
        } = candidate;
        let name = ingredient.name.clone();
        let mut practice = Vec::new();
        if let Some(caution) = &juice.caution {
            practice.push(Practice::Heed {
                name: name.clone(),
                caution: caution.clone(),
            });
        }
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
        let is_thinned = own_strength > CONCENTRATE && strength > 0.0 && own_strength > strength;
        let (juice, share, beside) = if is_thinned {
            let water_kg_l = sucrose_density_20(0.0) / 1000.0;
            let mass_kg = juice.extract_kg / strength;
            let water_l = (mass_kg - density_kg_l) / water_kg_l;
            let share = 1.0 / (mass_kg / (sucrose_density_20(strength) / 1000.0));
            practice.push(Practice::ThinWithWater {
                name,
                water: water_l,
            });
            let poured_l = water_l * share;
            let water = Beside {
                ingredient: water(),
                ratio: self.ratio([poured_l, poured_l * water_kg_l]),
                measure: Measure::Litres(self.l * poured_l),
                from: None,
            };
            (juice.thinned(share, strength), share, vec![water])
        } else {
            (juice, 1.0, Vec::new())
        };
        if let Some(keeps_l) = bought.keeps_l(self.l * share) {
            practice.push(Practice::KeepsBeer {
                name: ingredient.name.clone(),
                volume: litres(keeps_l),
            });
        }
        let measure = match bought.pulp {
            Some(_) => Measure::Kilograms(self.l * share * bought.kg),
            None => Measure::Litres(self.l * share),
        };
        // The stock counts what is measured in litres, fruit too.
        let left_of_one = left / (self.l * share * bought.l);
        Poured {
            left: left_of_one,
            offer: Offer {
                ratio: self.ratio([share * bought.l, share * bought.kg]),
                beside,
                practice,
                costs,
                tastes: juice.aroma.to_vec(),
                acid_meq_l: self.share * juice.acid_meq,
                tastes_alike: juice.is_like(wanted),
                kin: Some(Kin {
                    name: juice.fruit.clone(),
                    alike: juice.alike(wanted),
                }),
                ..Offer::plain(ingredient, measure, from)
            },
            juice,
        }
    }

    /// For one of what is replaced, in the measure of its line: of what has this volume and mass for a litre of the liquid.
    fn ratio(&self, [l, kg]: [f64; 2]) -> f64 {
        let own = if self.by_volume { l } else { kg };
        own / self.of_line
    }

    /// The same with as much acid as is lacking of what one of it stands for, where that is noticed.
    fn with_acid(&self, way: JuiceMatch, poured: &Poured) -> Option<Poured> {
        let wanted = self.wanted;
        let acid = self.acid.as_ref()?;
        let juice = &poured.juice;
        let of_one = match way {
            JuiceMatch::SameSugar => juice.fermentable_kg / wanted.fermentable_kg.max(1e-9),
            _ => 1.0,
        };
        let lacking = wanted.acid_meq * of_one - juice.acid_meq;
        if lacking * self.share / of_one.max(f64::MIN_POSITIVE) < ACID_STEP {
            return None;
        }
        let kg = lacking / acid.meq;
        let mut with = poured.clone();
        with.juice.acid_meq += lacking;
        with.offer.acid_meq_l += self.share * lacking;
        with.offer.beside.push(Beside {
            ingredient: acid.ingredient.clone(),
            ratio: self.ratio([kg / acid.kg_per_l, kg]),
            measure: if acid.is_liquid() {
                Measure::Litres(self.l * kg / acid.kg_per_l)
            } else {
                Measure::Kilograms(self.l * kg)
            },
            from: Some(acid.from),
        });
        // That its lack is noticed in the beer is known, however little of the beer is replaced.
        let weights = self.weights;
        let costs = &mut with.offer.costs;
        costs.push((Aspect::ExtraParts, weights.further_part(1.0)));
        if acid.from != Origin::Stock {
            costs.push((Aspect::ToBuy, weights.buying(1.0)));
        }
        Some(with)
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
        let with_acid = found
            .iter()
            .filter_map(|poured| self.with_acid(way, poured));
        let with_acid: Vec<Poured> = with_acid.collect();
        for Poured { juice, offer, left } in found.iter().chain(&with_acid) {
            let most = match way {
                JuiceMatch::SameSugar => (wanted.fermentable_kg
                    / juice.fermentable_kg.max(f64::MIN_POSITIVE))
                .min(MOST_VOLUME),
                _ => 1.0,
            };
            let high = most.min(*left);
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
                (Aspect::Aroma, AXES + 1),
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
                own: Some(OwnTaste {
                    name: wanted.fruit.clone(),
                    steps: self.share * wanted.strongest() / taste_step(self.share),
                }),
            },
            spread: self.spread,
            gate: None,
            per_residual: [0.0; 2],
        }
    }

    fn topped_up(&self, top_up: TopUp) -> Offer {
        let measure = if top_up.sugar_kg > 0.0 {
            Measure::Kilograms(self.l * top_up.density_kg_l)
        } else {
            Measure::Litres(self.l)
        };
        Offer {
            ratio: self.ratio([1.0, top_up.density_kg_l]),
            ..Offer::plain(top_up.ingredient, measure, Origin::Shop)
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
            fruit: String::new(),
            caution: None,
        }
    }
}
