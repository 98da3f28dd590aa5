//! What all missing lines share: lots, usual upper shares, what the base malt gives way, the power to convert.

use super::super::case::{Case, Offer, SlackUse};
use super::super::grain::SLACK_SHARE;
use super::super::kind_group::{KindGroup, group};
use super::super::search::Found;
use super::super::setting::Setting;
use crate::catalogue::folded;
use crate::process::ItemIndex;

/// Variables of one line: up to three parts, and slack up and down.
pub(super) const VARIABLES: usize = 5;
/// Places of slack among them.
pub(super) const UP: usize = 3;
pub(super) const DOWN: usize = 4;
/// Places of the limits that are always there.
const MORE_BASE: usize = 0;
const LESS_BASE: usize = 1;
const POWER: usize = 2;

/// What binds, and what is left of it.
#[derive(Debug)]
pub(super) struct Limits {
    places: Vec<(Key, usize)>,
    left: Vec<f64>,
}

/// What a limit is of: a few dozen at most.
type Key = (Bound, KindGroup, String);

#[derive(Debug, Clone, Copy, PartialEq)]
enum Bound {
    Lot,
    UsualShare,
}

/// What a line takes of one limit: so much whatever its amounts, and so much for one of each of its variables.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Use {
    pub(super) limit: usize,
    pub(super) always: f64,
    pub(super) each: [f64; VARIABLES],
}

impl Use {
    pub(super) fn of(&self, amounts: &[f64; VARIABLES]) -> f64 {
        let taken: f64 = self
            .each
            .iter()
            .zip(amounts)
            .map(|(each, a)| each * a)
            .sum();
        self.always + taken
    }
}

/// The amounts of a line's variables.
pub(super) fn amounts(found: &Found) -> [f64; VARIABLES] {
    let [a, b, c] = found.amounts;
    [a, b, c, found.slack.max(0.0), (-found.slack).max(0.0)]
}

impl Limits {
    /// `power_to_spare` is what the grist has above the least power to convert; none where nothing is asked of it.
    pub(super) fn new(power_to_spare: Option<f64>) -> Self {
        Self {
            places: Vec::new(),
            left: vec![
                SLACK_SHARE,
                SLACK_SHARE,
                power_to_spare.unwrap_or(f64::INFINITY),
            ],
        }
    }

    /// What is left of each limit.
    pub(super) fn left(&self) -> Vec<f64> {
        self.left.clone()
    }

    /// What a support takes of each limit.
    pub(super) fn uses(
        &mut self,
        setting: &Setting<'_>,
        case: &Case,
        found: &Found,
        in_wort: bool,
        gone: &[ItemIndex],
    ) -> Vec<Use> {
        let mut uses: Vec<Use> = Vec::new();
        let mut take = |limit: usize, variable: usize, each: f64| {
            let known = uses.iter().position(|taken| taken.limit == limit);
            let at = known.unwrap_or_else(|| {
                uses.push(Use {
                    limit,
                    always: 0.0,
                    each: [0.0; VARIABLES],
                });
                uses.len() - 1
            });
            if let Some(entry) = uses.get_mut(at).and_then(|u| u.each.get_mut(variable)) {
                *entry += each;
            }
        };
        let parts = found.parts().enumerate();
        let members = parts.filter_map(|(at, (member, _))| Some((at, case.offers.get(member)?)));
        let topped_up = match &case.slack {
            SlackUse::TopUp(offer) => Some((UP, offer.as_ref())),
            _ => None,
        };
        for (variable, offer) in members.chain(topped_up) {
            let each = offer.measure.number();
            let ingredient = &offer.ingredient;
            let (name, kinds) = (ingredient.catalogue_name(), group(ingredient.kind));
            if let Some(limit) = self.lot(setting, name, kinds, gone) {
                take(limit, variable, each);
            }
            if in_wort && let Some(limit) = self.usual_share(offer) {
                take(limit, variable, each);
            }
            take(POWER, variable, -case.power_of_one(offer));
        }
        if let SlackUse::BaseMalt { index, kg, of_kg } = case.slack
            && let Some(base) = setting.item(index)
        {
            for (limit, sign) in [(MORE_BASE, 1.0), (LESS_BASE, -1.0)] {
                take(limit, UP, sign * kg / of_kg);
                take(limit, DOWN, -sign * kg / of_kg);
            }
            let name = base.ingredient.catalogue_name();
            if let Some(limit) = self.lot(setting, name, KindGroup::Fermentable, gone) {
                // Base malt that one line leaves over is not given to another.
                take(limit, UP, kg);
            }
            take(POWER, UP, -case.power_of_base());
            take(POWER, DOWN, case.power_of_base());
        }
        let amounts = amounts(found);
        for taken in &mut uses {
            if taken.limit == POWER {
                // What is replaced takes its own power away, whatever stands for it.
                taken.always = -case.power_gained(found) - taken.of(&amounts);
            }
        }
        uses
    }

    fn usual_share(&mut self, offer: &Offer) -> Option<usize> {
        let ingredient = &offer.ingredient;
        let kinds = group(ingredient.kind);
        let name = folded(ingredient.catalogue_name());
        let key = (Bound::UsualShare, kinds, name);
        if let Some(place) = self.place(&key) {
            // What more than one line may take goes as far as the one that may take most.
            if let (Some(left), Some(most)) = (self.left.get_mut(place), offer.usual_kg) {
                *left = left.max(most);
            }
            return Some(place);
        }
        if kinds != KindGroup::Fermentable {
            return None;
        }
        Some(self.add(key, offer.usual_kg?))
    }

    fn place(&self, key: &Key) -> Option<usize> {
        let known = self.places.iter().find(|(known, _)| known == key);
        known.map(|(_, place)| *place)
    }

    fn add(&mut self, key: Key, left: f64) -> usize {
        self.left.push(left.max(0.0));
        let place = self.left.len() - 1;
        self.places.push((key, place));
        place
    }

    /// A lot that binds; what the recipe needs elsewhere is taken off.
    fn lot(
        &mut self,
        setting: &Setting<'_>,
        name: &str,
        kinds: KindGroup,
        gone: &[ItemIndex],
    ) -> Option<usize> {
        let key = (Bound::Lot, kinds, folded(name));
        if let Some(place) = self.place(&key) {
            return Some(place);
        }
        let left = setting.left(name, kinds, gone);
        left.is_finite().then(|| self.add(key, left))
    }
}
