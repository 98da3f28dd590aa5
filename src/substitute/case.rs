//! One line to be replaced, laid out as a problem for the search, with what each column means to a brewer.

use super::distance::{Aspect, DistancePart};
use super::part::Origin;
use super::practice::Practice;
use super::proposal::JuiceMatch;
use super::search::{Found, Problem};
use super::taste::{Kin, LineSpread, Tastes};
use crate::process::ItemIndex;
use crate::quantity::Temperature;
use crate::recipe::{Ingredient, Moved};

/// A part is at least this share of what it stands for (rule of the crate).
pub(super) const LEAST_SHARE: f64 = 0.01;

/// A problem and the meaning of its columns. One unit of a column is as much as there is of what is replaced.
#[derive(Debug, Clone)]
pub(super) struct Case {
    pub(super) problem: Problem,
    pub(super) offers: Vec<Offer>,
    pub(super) way: Option<JuiceMatch>,
    pub(super) slack: SlackUse,
    /// Which features tell of what.
    pub(super) aspects: Vec<(Aspect, usize)>,
    /// Candidates, before any was turned down.
    pub(super) considered: usize,
    pub(super) gate: Option<Gate>,
    /// Acid that one of what is replaced brings to the mash, mEq, where that is what it is there for.
    pub(super) acid_meq: Option<f64>,
    /// What a drinker may taste of it.
    pub(super) tastes: Tastes,
    /// What the lot of the line may be off.
    pub(super) spread: LineSpread,
    /// Residuals of the two equalities for one unit: per cent of gravity, EBC of the whole wort.
    pub(super) per_residual: [f64; 2],
}

/// What the slack of a problem is.
#[derive(Debug, Clone)]
pub(super) enum SlackUse {
    None,
    /// The base malt at an index of the formula: kilograms in a unit, and its own kilograms.
    BaseMalt {
        index: ItemIndex,
        kg: f64,
        of_kg: f64,
    },
    /// Sugar or water on top.
    TopUp(Box<Offer>),
}

/// A candidate as a brewer buys it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Offer {
    pub(super) ingredient: Ingredient,
    /// For one unit: kilograms or litres on the target.
    pub(super) measure: Measure,
    /// For one unit: the amount for one of what is replaced, in the measure of its line.
    pub(super) ratio: f64,
    pub(super) moved: Option<Moved>,
    /// What goes in with it: water that thins it, acid that it lacks.
    pub(super) beside: Vec<Beside>,
    pub(super) practice: Vec<Practice>,
    /// Diastatic power of a kilogram and whether it is mashed, for the gate.
    pub(super) diastatic_wk: Option<f64>,
    /// Fixed costs by aspect.
    pub(super) costs: Vec<(Aspect, f64)>,
    pub(super) from: Origin,
    /// Base malt that makes up what something else brought.
    pub(super) is_base: bool,
    /// Intensities of one unit, along the case's axes.
    pub(super) tastes: Vec<f64>,
    /// Acid that one unit brings to a litre of the beer, mEq.
    pub(super) acid_meq_l: f64,
    /// Acid that one unit brings to a mash, mEq.
    pub(super) mash_acid_meq: f64,
    /// How much of the own taste of what is replaced it has.
    pub(super) kin: Option<Kin>,
    /// Whether its aroma is known well enough to call what is not noticed the same.
    pub(super) tastes_alike: bool,
    /// Its usual upper share, kilograms beside what the recipe has of it.
    pub(super) usual_kg: Option<f64>,
    /// Of a yeast, where it does not ferment as warm as the recipe: the nearest that it does.
    pub(super) ferments_at: Option<Temperature>,
}

/// What goes in with an offer, for one unit of it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Beside {
    pub(super) ingredient: Ingredient,
    /// For one of what is replaced, in the measure of its line.
    pub(super) ratio: f64,
    pub(super) measure: Measure,
    /// From where it is taken; nowhere for water.
    pub(super) from: Option<Origin>,
}

impl Offer {
    /// Whether one is the juice of the other: of one fruit and one taste, the one weighed and the other poured.
    pub(super) fn is_other_form_of(&self, other: &Self) -> bool {
        let is_weighed = |offer: &Self| matches!(offer.measure, Measure::Kilograms(_));
        is_weighed(self) != is_weighed(other)
            && self.kin == other.kin
            && self.tastes == other.tastes
    }

    /// So much of an ingredient, of which nothing more is to be said.
    pub(super) const fn plain(ingredient: Ingredient, measure: Measure, from: Origin) -> Self {
        Self {
            ingredient,
            measure,
            ratio: 1.0,
            moved: None,
            beside: Vec::new(),
            practice: Vec::new(),
            diastatic_wk: None,
            costs: Vec::new(),
            from,
            is_base: false,
            tastes: Vec::new(),
            acid_meq_l: 0.0,
            mash_acid_meq: 0.0,
            kin: None,
            tastes_alike: true,
            usual_kg: None,
            ferments_at: None,
        }
    }
}

/// An amount on the target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Measure {
    Kilograms(f64),
    Litres(f64),
    /// As much as the line has, in whatever it is measured.
    OneForOne,
}

impl Measure {
    pub(super) fn times(self, factor: f64) -> Self {
        match self {
            Self::Kilograms(kg) => Self::Kilograms(kg * factor),
            Self::Litres(l) => Self::Litres(l * factor),
            Self::OneForOne => self,
        }
    }

    pub(super) const fn number(self) -> f64 {
        match self {
            Self::Kilograms(number) | Self::Litres(number) => number,
            Self::OneForOne => 1.0,
        }
    }
}

/// The grist that is left must convert: its diastatic power without what is replaced.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Gate {
    pub(super) mash_kg: f64,
    /// Kilograms times WK.
    pub(super) power: f64,
    /// The same two with what is replaced.
    pub(super) whole: (f64, f64),
    pub(super) base_wk: f64,
    pub(super) lowest_wk: f64,
}

impl Gate {
    fn above_least(&self, kg: f64, power: f64) -> f64 {
        power - self.lowest_wk * (1.0 - 1e-9) * kg
    }

    /// What the whole grist has above the least power before anything is replaced, kilograms times WK.
    pub(super) fn power_to_spare(&self) -> f64 {
        let (kg, power) = self.whole;
        self.above_least(kg, power)
    }
}

impl Case {
    /// Whether a support leaves a grist that converts.
    pub(super) fn admits(&self, found: &Found) -> bool {
        let Some(gate) = &self.gate else {
            return true;
        };
        let (kg, power) = self.grist_with(gate, found);
        kg <= 0.0 || power / kg >= gate.lowest_wk * (1.0 - 1e-9)
    }

    /// Kilograms of mashed grain, and kilograms times WK, with a support in it.
    fn grist_with(&self, gate: &Gate, found: &Found) -> (f64, f64) {
        let (mut kg, mut power) = (gate.mash_kg, gate.power);
        for (member, amount) in found.parts() {
            if let Some(offer) = self.offers.get(member)
                && let (Some(wk), Measure::Kilograms(unit_kg)) = (offer.diastatic_wk, offer.measure)
            {
                kg += unit_kg * amount;
                power += unit_kg * amount * wk;
            }
        }
        if let SlackUse::BaseMalt { kg: unit_kg, .. } = self.slack {
            kg += unit_kg * found.slack;
            power += unit_kg * found.slack * gate.base_wk;
        }
        (kg, power)
    }

    /// What a support adds to the power that the whole grist has above the least one, kilograms times WK.
    pub(super) fn power_gained(&self, found: &Found) -> f64 {
        let Some(gate) = &self.gate else {
            return 0.0;
        };
        let (kg, power) = self.grist_with(gate, found);
        gate.above_least(kg, power) - gate.power_to_spare()
    }

    /// What one unit of an offer adds to that.
    pub(super) fn power_of_one(&self, offer: &Offer) -> f64 {
        match (&self.gate, offer.diastatic_wk, offer.measure) {
            (Some(gate), Some(wk), Measure::Kilograms(kg)) => gate.above_least(kg, kg * wk),
            _ => 0.0,
        }
    }

    /// What one unit of slack of the base malt adds to that.
    pub(super) fn power_of_base(&self) -> f64 {
        match (&self.gate, &self.slack) {
            (Some(gate), SlackUse::BaseMalt { kg, .. }) => gate.above_least(*kg, kg * gate.base_wk),
            _ => 0.0,
        }
    }

    /// Whether all parts of a support are known to taste like what they replace where nothing is told of it.
    pub(super) fn tastes_alike(&self, found: &Found) -> bool {
        let mut offers = found.parts().map(|(member, _)| self.offers.get(member));
        offers.all(|offer| offer.is_some_and(|offer| offer.tastes_alike))
    }

    /// The parts of a found support's value.
    pub(super) fn distance_parts(&self, found: &Found) -> Vec<DistancePart> {
        let off = self.problem.off(found);
        let mut parts: Vec<DistancePart> = Vec::new();
        let mut note = |what: Aspect, value: f64| {
            if value <= 1e-12 {
                return;
            }
            match parts.iter_mut().find(|part| part.what == what) {
                Some(part) => part.value += value,
                None => parts.push(DistancePart { what, value }),
            }
        };
        let mut rest = off.as_slice();
        for (aspect, count) in &self.aspects {
            let (these, others) = rest.split_at((*count).min(rest.len()));
            note(*aspect, these.iter().map(|d| d * d).sum());
            rest = others;
        }
        note(
            Aspect::ExtraParts,
            self.problem.part_cost * found.count.saturating_sub(1) as f64,
        );
        for (member, _) in found.parts() {
            for (aspect, cost) in self
                .offers
                .get(member)
                .iter()
                .flat_map(|offer| &offer.costs)
            {
                note(*aspect, *cost);
            }
        }
        if let Some(slack) = self.problem.slack.as_ref().filter(|_| found.slack != 0.0) {
            let what = match self.slack {
                SlackUse::TopUp(_) => Aspect::ToppingUp,
                _ => Aspect::Slack,
            };
            note(
                what,
                slack.price * found.slack + slack.if_needed.unwrap_or(0.0),
            );
        }
        if let Some(band) = &self.problem.band {
            let [_, colour] = self.problem.residuals(found);
            note(Aspect::Colour, band.cost(colour));
        }
        parts
    }
}

#[cfg(test)]
mod tests {
    use super::super::search::MOST_PARTS;
    use super::*;
    use crate::catalogue::Kind;
    use crate::process::PerItem;

    fn offer(measure: Measure, diastatic_wk: Option<f64>) -> Offer {
        let ingredient = Ingredient::new("anything", Kind::Malt);
        Offer {
            diastatic_wk,
            ..Offer::plain(ingredient, measure, Origin::Stock)
        }
    }

    /// 4 kg of base malt at 100 WK stay; candidates of 2 kg a unit at 40 WK and of 3 kg at none, and sugar that is not mashed.
    fn case(lowest_wk: f64) -> Case {
        Case {
            problem: Problem {
                columns: Vec::new(),
                slack: None,
                target: Vec::new(),
                right: [0.0; 2],
                band: None,
                part_cost: 0.0,
                most_parts: MOST_PARTS,
            },
            offers: vec![
                offer(Measure::Kilograms(2.0), Some(40.0)),
                offer(Measure::Kilograms(3.0), Some(0.0)),
                offer(Measure::Kilograms(5.0), None),
            ],
            way: None,
            slack: SlackUse::BaseMalt {
                index: PerItem::<f64>::default().push(0.0),
                kg: 2.0,
                of_kg: 4.0,
            },
            aspects: Vec::new(),
            considered: 3,
            gate: Some(Gate {
                mash_kg: 4.0,
                power: 400.0,
                whole: (6.0, 520.0),
                base_wk: 100.0,
                lowest_wk,
            }),
            acid_meq: None,
            tastes: Tastes {
                axes: &[],
                share: 0.0,
                wanted: Vec::new(),
                slack: Vec::new(),
                acid_meq_l: 0.0,
                own: None,
            },
            spread: LineSpread::default(),
            per_residual: [1.0; 2],
        }
    }

    fn found(parts: &[(usize, f64)], slack: f64) -> Found {
        let mut found = Found {
            members: [0; MOST_PARTS],
            count: parts.len(),
            amounts: [0.0; MOST_PARTS],
            slack,
            distance: 0.0,
            value: 0.0,
        };
        for (at, (member, amount)) in parts.iter().enumerate() {
            found.members[at] = *member;
            found.amounts[at] = *amount;
        }
        found
    }

    #[test]
    fn the_power_of_a_grist_is_that_of_all_its_grain() {
        // Half a unit of each: 1 kg at 40, 1.5 kg at none, nothing of the sugar; a quarter less base malt is 0.5 kg at 100.
        let parts = found(&[(0, 0.5), (1, 0.5), (2, 0.5)], -0.25);
        let case = case(50.0);
        let (kg, power) = case.grist_with(case.gate.as_ref().unwrap(), &parts);
        assert_eq!((kg, power), (4.0 + 1.0 + 1.5 - 0.5, 400.0 + 40.0 - 50.0));
    }

    #[test]
    fn a_grist_below_the_least_power_is_turned_down() {
        // 390 kg WK in 6 kg are 65 WK.
        let parts = found(&[(0, 0.5), (1, 0.5), (2, 0.5)], -0.25);
        assert!(case(64.9).admits(&parts));
        assert!(case(65.0).admits(&parts));
        assert!(!case(65.1).admits(&parts));
        // A candidate at 40 WK alone: 480 kg WK in 6 kg are 80.
        assert!(case(80.0).admits(&found(&[(0, 1.0)], 0.0)));
        assert!(!case(80.1).admits(&found(&[(0, 1.0)], 0.0)));
        // Without a gate nothing has to convert.
        let open = Case {
            gate: None,
            ..case(1000.0)
        };
        assert!(open.admits(&parts));
    }
}
