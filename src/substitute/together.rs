//! Several missing lines under one stock.

use super::case::{Case, Gate, Offer, SlackUse};
use super::grain::usual_room_kg;
use super::options::SubstituteOptions;
use super::profile::Means;
use super::proposal::{Proposal, rounded};
use super::propose::{Choice, cases, proposal, swap};
use super::search::{Found, Keep, Table};
use super::setting::{Held, KindGroup, Need, Setting, group};
use crate::catalogue::{Catalogue, folded};
use crate::diagnostic::Error;
use crate::process::{Figures, Stage};
use crate::recipe::{Brewhouse, Recipe, Stock, Swap};
use serde::Serialize;
use std::collections::BTreeMap;

/// Supports of each line that are combined.
const SUPPORTS: usize = 200;
/// Combinations that are looked at before the search stops and says so.
const MOST_STEPS: usize = 2_000_000;
/// A lot is overdrawn beyond this, kg or L: rounding of sums.
const SLIP: f64 = 1e-9;
/// Base malt gives way within this share of itself, for all lines together.
const SLACK_SHARE: f64 = 0.1;

/// What may stand for several missing lines at once.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Together {
    /// The combinations, the nearest first; none where the lots do not suffice for all lines.
    pub combinations: Vec<Joint>,
    /// No combination beyond the best 200 supports of each line has a smaller distance than this; absent where none was left out.
    #[serde(skip_serializing_if = "Option::is_none", serialize_with = "maybe")]
    pub left_out_from: Option<f64>,
    /// The least distance of a combination that was turned down since its lines together ask too much of a lot, of a
    /// usual upper share, of the base malt's tenth, or leave a grist that does not convert. Other amounts of the same
    /// ingredients may fit: they are not looked for, and are no nearer than this. Absent where none was turned down
    /// before those shown were found.
    #[serde(skip_serializing_if = "Option::is_none", serialize_with = "maybe")]
    pub turned_down_from: Option<f64>,
}

/// A substitute for each of several lines, with lots that suffice for all of them.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Joint {
    /// One for each line, in the order of the recipe; each predicted as if it alone were made.
    pub proposals: Vec<Proposal>,
    /// The sum of their distances.
    #[serde(serialize_with = "rounded")]
    pub distance: f64,
    /// The whole recipe on the target with all of them in it.
    pub predicted: Figures,
}

#[allow(clippy::ref_option, reason = "serde passes fields by reference")]
fn maybe<S: serde::Serializer>(value: &Option<f64>, serializer: S) -> Result<S::Ok, S::Error> {
    match value {
        Some(value) => rounded(value, serializer),
        None => serializer.serialize_none(),
    }
}

/// What one support takes of the lots, and of the base malt's slack.
struct Pick {
    choice: Choice,
    uses: Vec<(usize, f64)>,
    slack_share: f64,
    power_gained: f64,
}

/// Substitutes for all missing lines at once, from lots that suffice for all of them and within a tenth of the base
/// malt: the best combinations of the best 200 supports of each line.
///
/// Lots, usual upper shares, base malt and the power to convert are checked for all lines together, and the prediction
/// is of all together. Amounts are those that each line alone would have: where they do not fit together the
/// combination is turned down, not fitted anew, and [`Together::turned_down_from`] tells how near it would have been.
///
/// # Errors
///
/// Those of [`propose`](super::propose).
pub fn propose_together(
    recipe: &Recipe,
    source: Option<&Brewhouse>,
    target: &Brewhouse,
    missing: &[&str],
    stock: &Stock,
    catalogue: &Catalogue,
    options: &SubstituteOptions,
) -> Result<Together, Error> {
    let setting = Setting::new(recipe, source, target, stock, catalogue, options)?;
    let needs = setting.needs(missing)?;
    let gone: Vec<usize> = needs.iter().map(|need| need.index).collect();
    let means = Means::of(catalogue);
    let laid_out: Vec<(&Need, Vec<Case>)> = needs
        .iter()
        .map(|need| (need, cases(&setting, need, &gone, &means)))
        .filter(|(_, cases)| !cases.is_empty())
        .collect();
    let mut lots = Lots::default();
    let mut lines: Vec<Vec<Pick>> = Vec::new();
    let mut last_kept: Vec<Option<f64>> = Vec::new();
    for (need, cases) in &laid_out {
        let (options, last) = supports(&setting, (need, cases), &gone, &mut lots);
        lines.push(options);
        last_kept.push(last);
    }
    let mut search = Search {
        lines: &lines,
        best_of_rest: rest(&lines),
        left: lots.left.clone(),
        taken: Vec::new(),
        kept: Vec::new(),
        power_to_spare: laid_out
            .iter()
            .flat_map(|(_, cases)| cases)
            .find_map(|case| case.gate.as_ref().map(Gate::power_to_spare)),
        turned_down_from: f64::INFINITY,
        limit: options.limit,
        steps: 0,
    };
    if !lines.is_empty() && lines.iter().all(|line| !line.is_empty()) {
        search.deeper(0.0, 0.0, 0.0);
    }
    let all_best: f64 = lines
        .iter()
        .filter_map(|line| line.first())
        .map(|option| option.choice.found.value)
        .sum();
    let left_out = lines
        .iter()
        .zip(&last_kept)
        .filter_map(|(line, last)| Some(all_best - line.first()?.choice.found.value + (*last)?))
        .reduce(f64::min);
    let stopped = search.steps >= MOST_STEPS;
    let turned_down_from = search.turned_down_from;
    let kept = std::mem::take(&mut search.kept);
    let mut combinations = Vec::new();
    for (distance, picks) in kept {
        let mut proposals = Vec::new();
        let mut swaps: Vec<Swap> = Vec::new();
        for ((need, cases), (line, pick)) in laid_out.iter().zip(lines.iter().zip(picks)) {
            let Some(choice) = line.get(pick).map(|option| option.choice) else {
                continue;
            };
            if let Some(case) = cases.get(choice.case) {
                swaps.push(swap(&setting, need, case, &choice.found)?);
                proposals.push(proposal(&setting, need, case, &choice)?);
            }
        }
        let plan = setting.plan_of(&recipe.with_swaps(&swaps)?)?;
        combinations.push(Joint {
            proposals,
            distance,
            predicted: plan.predicted,
        });
    }
    Ok(Together {
        combinations,
        left_out_from: if stopped { Some(all_best) } else { left_out },
        turned_down_from: turned_down_from.is_finite().then_some(turned_down_from),
    })
}

/// What binds, and what is left of it: a lot, or the usual upper share of a name.
#[derive(Debug, Default)]
struct Lots {
    places: BTreeMap<(Bound, KindGroup, String), usize>,
    left: Vec<f64>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Bound {
    Lot,
    UsualShare,
}

impl Lots {
    /// The place of a usual upper share.
    fn share_place(&mut self, setting: &Setting<'_>, offer: &Offer) -> Option<usize> {
        let ingredient = &offer.ingredient;
        let kinds = group(ingredient.kind);
        let key = (
            Bound::UsualShare,
            kinds,
            folded(ingredient.catalogue_name()),
        );
        if let Some(place) = self.places.get(&key) {
            return Some(*place);
        }
        if kinds != KindGroup::Fermentable {
            return None;
        }
        let left_kg = usual_room_kg(setting, ingredient)?;
        Some(self.add(key, left_kg))
    }

    fn add(&mut self, key: (Bound, KindGroup, String), left: f64) -> usize {
        self.left.push(left.max(0.0));
        let place = self.left.len() - 1;
        self.places.insert(key, place);
        place
    }

    /// The place of a lot that binds; what the recipe needs elsewhere is taken off.
    fn place(
        &mut self,
        setting: &Setting<'_>,
        name: &str,
        kinds: KindGroup,
        gone: &[usize],
    ) -> Option<usize> {
        let key = (Bound::Lot, kinds, folded(name));
        if let Some(place) = self.places.get(&key) {
            return Some(*place);
        }
        let Held::Amount { kg, l } = setting.holding(name, kinds)?.supply else {
            return None;
        };
        let (used_kg, used_l) = setting.used(name, kinds, gone);
        let left = match kinds {
            KindGroup::Juice => l - used_l,
            _ => kg - used_kg,
        };
        Some(self.add(key, left))
    }
}

/// The best supports of a line over all its ways, and the value from which more were left out.
fn supports(
    setting: &Setting<'_>,
    (need, cases): (&Need, &[Case]),
    gone: &[usize],
    lots: &mut Lots,
) -> (Vec<Pick>, Option<f64>) {
    let in_wort = setting
        .item(need.index)
        .is_some_and(|item| item.place.stage < Stage::Ferment);
    let keep = Keep {
        supports: SUPPORTS,
        leaders: 0,
    };
    let mut all: Vec<(usize, Found)> = cases
        .iter()
        .enumerate()
        .flat_map(|(at, case)| {
            Table::new(&case.problem)
                .search(keep, setting.options.effort, &|found| case.admits(found))
                .supports
                .into_iter()
                .map(move |found| (at, found))
        })
        .collect();
    all.sort_by(|a, b| a.1.value.total_cmp(&b.1.value).then(a.0.cmp(&b.0)));
    let last = (all.len() >= SUPPORTS)
        .then(|| all.get(SUPPORTS - 1).map(|(_, found)| found.value))
        .flatten();
    all.truncate(SUPPORTS);
    let options = all
        .into_iter()
        .filter_map(|(at, found)| {
            let case = cases.get(at)?;
            let mut uses = Vec::new();
            let topped_up = match &case.slack {
                SlackUse::TopUp(offer) => Some((offer.as_ref(), found.slack)),
                _ => None,
            };
            let members = found
                .parts()
                .filter_map(|(member, amount)| Some((case.offers.get(member)?, amount)));
            for (offer, amount) in members.chain(topped_up) {
                let ingredient = &offer.ingredient;
                let kinds = group(ingredient.kind);
                let used = offer.measure.times(amount).number();
                let lot = lots.place(setting, ingredient.catalogue_name(), kinds, gone);
                uses.extend(lot.map(|place| (place, used)));
                if in_wort {
                    let share = lots.share_place(setting, offer);
                    uses.extend(share.map(|place| (place, used)));
                }
            }
            let slack_share = match case.slack {
                SlackUse::BaseMalt { index, kg, of_kg } => {
                    if let Some(base) = setting.item(index) {
                        let name = base.ingredient.catalogue_name();
                        let lot = lots.place(setting, name, KindGroup::Fermentable, gone);
                        // Base malt that one line leaves over is not given to another.
                        uses.extend(lot.map(|place| (place, (found.slack * kg).max(0.0))));
                    }
                    found.slack * kg / of_kg
                }
                _ => 0.0,
            };
            let power_gained = case.power_gained(&found);
            Some(Pick {
                choice: Choice {
                    case: at,
                    found,
                    feasible: true,
                    variants: 0,
                },
                uses,
                slack_share,
                power_gained,
            })
        })
        .collect();
    (options, last)
}

/// For each line the least that it and all lines after it can add.
fn rest(lines: &[Vec<Pick>]) -> Vec<f64> {
    let mut rest = vec![0.0; lines.len() + 1];
    let mut sum = 0.0;
    for (line, place) in lines.iter().zip(rest.iter_mut()).rev() {
        sum += line.first().map_or(0.0, |option| option.choice.found.value);
        *place = sum;
    }
    rest
}

/// A depth-first search over one support for each line, bounded by the best of the lines to come.
struct Search<'a> {
    lines: &'a [Vec<Pick>],
    best_of_rest: Vec<f64>,
    left: Vec<f64>,
    taken: Vec<usize>,
    kept: Vec<(f64, Vec<usize>)>,
    /// What the grist has above the least power to convert; none where nothing is asked of it.
    power_to_spare: Option<f64>,
    turned_down_from: f64,
    limit: usize,
    steps: usize,
}

impl Search<'_> {
    fn worth(&self) -> f64 {
        if self.kept.len() == self.limit {
            self.kept
                .last()
                .map_or(f64::NEG_INFINITY, |(value, _)| *value)
        } else {
            f64::INFINITY
        }
    }

    fn deeper(&mut self, value: f64, slack_share: f64, power_gained: f64) {
        let depth = self.taken.len();
        let lines = self.lines;
        let Some(line) = lines.get(depth) else {
            let converts = self
                .power_to_spare
                .is_none_or(|spare| spare + power_gained >= -1e-9 * spare.abs());
            if slack_share.abs() > SLACK_SHARE * (1.0 + 1e-9) || !converts {
                self.turned_down_from = self.turned_down_from.min(value);
                return;
            }
            let place = self.kept.partition_point(|(kept, _)| *kept <= value);
            self.kept.insert(place, (value, self.taken.clone()));
            self.kept.truncate(self.limit);
            return;
        };
        let to_come = self.best_of_rest.get(depth + 1).copied().unwrap_or(0.0);
        for (pick, option) in line.iter().enumerate() {
            self.steps += 1;
            let so_far = value + option.choice.found.value;
            if so_far + to_come >= self.worth() || self.steps >= MOST_STEPS {
                break;
            }
            let slack = slack_share + option.slack_share;
            self.take(option, -1.0);
            if self.suffices(option) {
                self.taken.push(pick);
                self.deeper(so_far, slack, power_gained + option.power_gained);
                self.taken.pop();
            } else {
                self.turned_down_from = self.turned_down_from.min(so_far + to_come);
            }
            self.take(option, 1.0);
        }
    }

    /// Whether no lot is overdrawn after an option was taken.
    fn suffices(&self, option: &Pick) -> bool {
        option
            .uses
            .iter()
            .all(|(lot, _)| self.left.get(*lot).is_none_or(|left| *left >= -SLIP))
    }

    fn take(&mut self, option: &Pick, sign: f64) {
        for (lot, used) in &option.uses {
            if let Some(left) = self.left.get_mut(*lot) {
                *left += sign * used;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pick(value: f64, used: f64, power_gained: f64) -> Pick {
        Pick {
            choice: Choice {
                case: 0,
                found: Found {
                    members: [0; 3],
                    count: 1,
                    amounts: [1.0, 0.0, 0.0],
                    slack: 0.0,
                    distance: value,
                    value,
                },
                feasible: true,
                variants: 0,
            },
            uses: vec![(0, used)],
            slack_share: 0.0,
            power_gained,
        }
    }

    /// Distances of the combinations of two like lines, and from which one was turned down.
    fn combined(left: f64, power_to_spare: Option<f64>) -> (Vec<f64>, f64) {
        let line = || vec![pick(0.1, 1.0, -30.0), pick(0.4, 0.0, 10.0)];
        let lines = [line(), line()];
        let mut search = Search {
            best_of_rest: rest(&lines),
            lines: &lines,
            left: vec![left],
            taken: Vec::new(),
            kept: Vec::new(),
            power_to_spare,
            turned_down_from: f64::INFINITY,
            limit: 3,
            steps: 0,
        };
        search.deeper(0.0, 0.0, 0.0);
        let distances = search.kept.iter().map(|(value, _)| *value).collect();
        (distances, search.turned_down_from)
    }

    #[test]
    fn a_lot_or_share_is_not_overdrawn_by_two_lines() {
        let (kept, turned_down_from) = combined(2.0, None);
        assert_eq!(kept, [0.2, 0.5, 0.5]);
        assert!(turned_down_from.is_infinite());
        let (kept, turned_down_from) = combined(1.5, None);
        assert_eq!(kept, [0.5, 0.5, 0.8]);
        assert!((turned_down_from - 0.2).abs() < 1e-12);
    }

    #[test]
    fn a_grist_that_converts_with_either_may_not_with_both() {
        let (kept, turned_down_from) = combined(9.0, Some(40.0));
        assert_eq!(kept, [0.5, 0.5, 0.8]);
        assert!((turned_down_from - 0.2).abs() < 1e-12);
    }
}
