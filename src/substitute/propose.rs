//! From missing lines to proposals with their consequences.

use super::answer::{NoSubstitute, Proposals};
use super::case::{Case, Offer};
use super::choice::Choice;
use super::consequences::{proposal, residuals};
use super::distance::{Aspect, DistancePart};
use super::kind_group::{KindGroup, group};
use super::needs::Need;
use super::noticed::{self, Difference, ProposalRole};
use super::options::SubstituteOptions;
use super::part::Origin;
use super::profile::Means;
use super::proposal::{JuiceMatch, Proposal};
use super::search::{Keep, Ranking, Table};
use super::setting::Setting;
use super::{grain, hop, juice, same_job, yeast};
use crate::catalogue::Kind;
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::numeric::order;
use crate::process::{ItemIndex, Stage};
use crate::quantity::{kilograms, litres};
use crate::scale::{Order, SourceRead};

/// Supports kept before folding.
const SUPPORTS: usize = 10;
/// Lines that differ in what they want, of one question: each takes a search and predictions of its own (rule of the crate).
pub(super) const MOST_WANTS: usize = 100;

/// Substitutes for each missing line, each judged as if it alone were replaced. `order` asks for exact amounts, of the source
/// that is read for it; `said` is what its texts say at each place, for names that stand there.
pub(crate) fn proposals(
    order: Order<'_>,
    read: SourceRead,
    options: &SubstituteOptions,
    said: &[(Place, String)],
) -> Result<Vec<Proposals>, Error> {
    let setting = Setting::new(order, read, options, said)?;
    let needs = setting.needs(&options.missing)?;
    let gone: Vec<ItemIndex> = needs.iter().map(|need| need.index).collect();
    let means = Means::of(order.catalogue);
    // A line like one before it is answered like that one.
    let (mut firsts, mut first_of): (Vec<usize>, Vec<usize>) = (Vec::new(), Vec::new());
    for (at, need) in needs.iter().enumerate() {
        let like = |first: &usize| {
            let first = needs.get(*first);
            first.is_some_and(|first| setting.alike(first, need))
        };
        let first = firsts.iter().copied().find(like).unwrap_or(at);
        if first == at {
            firsts.push(at);
        }
        if firsts.len() > MOST_WANTS {
            return Err(too_many(needs.len()));
        }
        first_of.push(first);
    }
    let mut answers: Vec<Proposals> = Vec::new();
    for (first, need) in first_of.into_iter().zip(&needs) {
        let answer = match answers.get(first) {
            Some(answer) => {
                let place = setting.item(need.index).map(|item| item.place.place());
                answer.at_line(&need.line, place.as_ref())
            }
            None => for_line(&setting, need, &gone, &means)?,
        };
        answers.push(answer);
    }
    Ok(answers)
}

fn too_many(missing: usize) -> Error {
    let message = format!(
        "substitutes are sought for {MOST_WANTS} different lines at most, and {missing} lines are missing"
    );
    Error::new(ErrorKind::OutOfRange, message).with_help("name fewer of them")
}

/// The line laid out in each way in which it can be matched.
pub(super) fn cases(
    setting: &Setting<'_>,
    need: &Need,
    gone: &[ItemIndex],
    means: &Means,
) -> Vec<Case> {
    let item = setting.item(need.index);
    let item = item.filter(|item| item.place.stage != Stage::Sour);
    let kind = item.map_or(Kind::Other, |item| item.ingredient.kind);
    match group(kind) {
        KindGroup::Fermentable => grain::case(setting, need, gone, means)
            .into_iter()
            .collect(),
        KindGroup::Juice => juice::cases(setting, need, gone),
        KindGroup::Hop => hop::case(setting, need, gone).into_iter().collect(),
        KindGroup::Yeast => yeast::case(setting, need, gone).into_iter().collect(),
        KindGroup::Botanical | KindGroup::WaterAgent | KindGroup::Aid => {
            same_job::case(setting, need, gone).into_iter().collect()
        }
        KindGroup::Other => Vec::new(),
    }
}

/// A way in which a line can be matched, with what was found for it.
struct Tried<'a> {
    case: &'a Case,
    table: Table<'a>,
    ranking: Ranking,
}

fn for_line(
    setting: &Setting<'_>,
    need: &Need,
    gone: &[ItemIndex],
    means: &Means,
) -> Result<Proposals, Error> {
    let cases = cases(setting, need, gone, means);
    let limit = setting.options.limit;
    let keep = Keep {
        supports: SUPPORTS,
        // Some of them are dropped.
        leaders: 2 * limit,
    };
    let tried: Vec<Tried<'_>> = cases
        .iter()
        .map(|case| {
            let table = Table::new(&case.problem);
            let ranking = table.search(keep, setting.options.effort, &|f| case.admits(f));
            Tried {
                case,
                table,
                ranking,
            }
        })
        .collect();
    let mut choices = leaders(need, &tried);
    drop_copies(&mut choices);
    choices.truncate(limit);
    let none_feasible = choices.is_empty();
    let turned_down = none_feasible
        && tried.iter().any(|tried| {
            let whatever = || tried.table.search(keep, setting.options.effort, &|_| true);
            tried.case.gate.is_some() && !whatever().supports.is_empty()
        });
    if none_feasible && let Some(first) = tried.first() {
        choices = nearest_misses(need, first, limit);
    }
    let considered = cases.iter().map(|case| case.considered).max().unwrap_or(0);
    let mut proposals = Vec::with_capacity(choices.len());
    for choice in &choices {
        let mut proposal = proposal(setting, choice)?;
        proposal.other_ways = other_ways(setting, &tried, choice)?;
        proposals.push(proposal);
    }
    let mut proposals = less_noticed_first(proposals);
    drop_other_beers(&mut proposals);
    give_roles(setting, &mut proposals);
    let item = setting.item(need.index);
    let without = item.and_then(|item| same_job::without(setting, item));
    let (kg, l) = (setting.target_kg(need.index), setting.target_l(need.index));
    Ok(Proposals {
        mass: (kg > 0.0).then(|| kilograms(kg)),
        volume: (l > 0.0).then(|| litres(l)),
        name: need.line.name.clone(),
        line: need.line.clone(),
        kind: item.map_or(Kind::Other, |item| item.ingredient.kind),
        candidates: considered,
        proposals,
        without,
        no_substitute: none_feasible.then_some(if cases.is_empty() {
            match without {
                _ if item.is_some_and(|item| item.place.stage == Stage::Sour) => {
                    NoSubstitute::AnotherCulture
                }
                Some(_) => NoSubstitute::NothingDoesItsJob,
                None => NoSubstitute::NothingNeeded,
            }
        } else if considered == 0 {
            NoSubstitute::NoCandidates
        } else if turned_down {
            NoSubstitute::NothingConverts
        } else {
            NoSubstitute::NothingKeepsGravityAndColour
        }),
    })
}

/// Base malts that are shown for what is not one.
const MOST_OF_BASE: usize = 2;

/// Drops what differs from a nearer one only in the base malt that makes up the rest, in which part leads, or in whether fruit is
/// pressed.
fn drop_copies(choices: &mut Vec<Choice<'_>>) {
    let mut seen: Vec<(Option<JuiceMatch>, Vec<&str>)> = Vec::new();
    let mut fruits: Vec<&Offer> = Vec::new();
    let mut of_base_alone = 0;
    choices.retain(|choice| {
        let offers = choice.found.parts();
        let offers = offers.filter_map(|(member, _)| choice.case.offers.get(member));
        let offers: Vec<&Offer> = offers.collect();
        if let [fruit] = offers[..]
            && choice.case.way.is_some()
        {
            if fruits.iter().any(|other| other.is_other_form_of(fruit)) {
                return false;
            }
            fruits.push(fruit);
        }
        let beside_base: Vec<&str> = offers
            .iter()
            .filter(|offer| !offer.is_base)
            .map(|offer| offer.ingredient.name.as_str())
            .collect();
        if beside_base.is_empty() {
            of_base_alone += 1;
            return of_base_alone <= MOST_OF_BASE;
        }
        let what = (choice.case.way, beside_base);
        let is_new = !seen.contains(&what);
        if is_new {
            seen.push(what);
        }
        is_new
    });
}

/// What is shown whatever it makes of the beer.
const ALWAYS_SHOWN: usize = 2;

/// Drops what makes another beer where something else does not, the first two aside.
fn drop_other_beers(proposals: &mut Vec<Proposal>) {
    let is_other =
        |proposal: &Proposal| noticed::most(&proposal.noticed) == Some(Difference::AnotherBeer);
    if !proposals.iter().all(is_other) {
        let mut place = 0;
        proposals.retain(|proposal| {
            place += 1;
            place <= ALWAYS_SHOWN || !is_other(proposal)
        });
    }
}

/// Whether all of it is at hand.
fn is_at_hand(proposal: &Proposal) -> bool {
    let mut origins = proposal.parts.iter().filter_map(|part| part.from);
    origins.all(|from| from == Origin::Stock)
}

/// Of those that do the same job with as many parts, as near at hand, that of which less is noticed goes first.
fn less_noticed_first(proposals: Vec<Proposal>) -> Vec<Proposal> {
    let group = |proposal: &Proposal| {
        let parts = proposal.parts.len() + usize::from(proposal.slack.is_some());
        let changed = |part: &DistancePart| part.what == Aspect::ChangeOfFunction;
        let other_job = proposal.distance_parts.iter().any(changed);
        (proposal.feasible, other_job, parts, is_at_hand(proposal))
    };
    let groups: Vec<_> = proposals.iter().map(group).collect();
    let verdict = |at: &usize| proposals.get(*at).map(|p| noticed::most(&p.noticed));
    let mut from: Vec<usize> = (0..groups.len()).collect();
    for (at, of) in groups.iter().enumerate() {
        let places = || (0..groups.len()).filter(|other| groups.get(*other) == Some(of));
        if places().next() != Some(at) {
            continue;
        }
        let mut sorted: Vec<usize> = places().collect();
        order::sort_by_key(&mut sorted, verdict);
        for (place, best) in places().zip(sorted) {
            if let Some(from) = from.get_mut(place) {
                *from = best;
            }
        }
    }
    let mut proposals: Vec<Option<Proposal>> = proposals.into_iter().map(Some).collect();
    from.into_iter()
        .filter_map(|at| proposals.get_mut(at)?.take())
        .collect()
}

/// Says for what each would be chosen before the first: each role goes to one at most, that is better by it than the first.
fn give_roles(setting: &Setting<'_>, proposals: &mut [Proposal]) {
    let trouble = |proposal: &Proposal| {
        let harder =
            |part: &&DistancePart| matches!(part.what, Aspect::Practicality | Aspect::ChangeOfKind);
        let harder = proposal.distance_parts.iter().filter(harder).count();
        proposal.parts.len() + usize::from(proposal.slack.is_some()) + harder
    };
    let hardest = |proposal: &Proposal| {
        let parts = proposal.parts.iter();
        let hardest = parts
            .map(|part| setting.hard_to_get(part))
            .collect::<Option<Vec<_>>>();
        hardest?.into_iter().max()
    };
    let best = |of: &dyn Fn(&Proposal) -> Option<f64>| {
        let sizes = proposals.iter().enumerate().filter(|(_, p)| p.feasible);
        let mut sizes = sizes.filter_map(|(at, proposal)| Some((at, of(proposal)?)));
        let (_, first) = sizes.next().filter(|(at, _)| *at == 0)?;
        let better = sizes.filter(|(_, size)| *size < first);
        let least = better.reduce(|least, next| if next.1 < least.1 { next } else { least });
        least.map(|(at, _)| at)
    };
    let roles = [
        (
            ProposalRole::Closest,
            // Of those that are noticed alike the first goes before.
            best(&|p| noticed::most(&p.noticed).map(|most| f64::from(most as u8))),
        ),
        (ProposalRole::Simplest, best(&|p| Some(trouble(p) as f64))),
        (
            ProposalRole::FromStock,
            best(&|p| Some(f64::from(u8::from(!is_at_hand(p))))),
        ),
        (ProposalRole::Easiest, best(&|p| Some(hardest(p)? as f64))),
    ];
    for (role, at) in roles {
        if let Some(proposal) = at.and_then(|at| proposals.get_mut(at)) {
            proposal.roles.push(role);
        }
    }
}

/// The best support of each leader over all ways, by the leader's name.
fn leaders<'a>(need: &'a Need, tried: &[Tried<'a>]) -> Vec<Choice<'a>> {
    let mut best: Vec<(&str, Choice<'_>)> = Vec::new();
    for Tried { case, ranking, .. } in tried {
        for (leader, found) in &ranking.leaders {
            let Some(offer) = case.offers.get(*leader) else {
                continue;
            };
            let variants = ranking
                .supports
                .iter()
                .filter(|other| case.problem.leader(other) == Some(*leader))
                .count()
                .saturating_sub(1);
            let choice = Choice {
                need,
                case,
                found: *found,
                feasible: true,
                variants,
            };
            let name = offer.ingredient.name.as_str();
            match best.iter_mut().find(|(known, _)| *known == name) {
                Some((_, kept)) if kept.found.value <= found.value => {}
                Some((_, kept)) => *kept = choice,
                None => best.push((name, choice)),
            }
        }
    }
    order::sort_by(&mut best, |a, b| {
        a.1.found
            .value
            .total_cmp(&b.1.found.value)
            .then(a.0.cmp(b.0))
    });
    best.into_iter().map(|(_, choice)| choice).collect()
}

/// Single candidates that miss gravity or colour by least, for what nothing fits.
fn nearest_misses<'a>(
    need: &'a Need,
    Tried { case, table, .. }: &Tried<'a>,
    limit: usize,
) -> Vec<Choice<'a>> {
    let mut misses: Vec<(f64, f64, Choice<'_>)> = Vec::new();
    for member in 0..case.offers.len() {
        let Some(found) = table.nearest(&[member]) else {
            continue;
        };
        if !case.admits(&found) {
            continue;
        }
        let [gravity, colour] = residuals(case, &found);
        misses.push((
            gravity.abs(),
            colour.abs(),
            Choice {
                need,
                case,
                found,
                feasible: false,
                variants: 0,
            },
        ));
    }
    // A hundredth of a per cent, or of an EBC unit, of gravity or colour is as good as none.
    let coarse = |off: f64| (off * 100.0).round();
    order::sort_by(&mut misses, |a, b| {
        coarse(a.0)
            .total_cmp(&coarse(b.0))
            .then(coarse(a.1).total_cmp(&coarse(b.1)))
            .then(a.2.found.value.total_cmp(&b.2.found.value))
    });
    let misses = misses.into_iter().map(|(.., choice)| choice);
    misses.take(limit).collect()
}

/// The same juices matched in the other ways.
fn other_ways(
    setting: &Setting<'_>,
    tried: &[Tried<'_>],
    choice: &Choice<'_>,
) -> Result<Vec<Proposal>, Error> {
    let case = choice.case;
    if case.way.is_none() {
        return Ok(Vec::new());
    }
    let names: Vec<&str> = choice
        .found
        .parts()
        .filter_map(|(member, _)| Some(case.offers.get(member)?.ingredient.name.as_str()))
        .collect();
    let mut others = Vec::new();
    for Tried {
        case: other, table, ..
    } in tried
    {
        if other.way == case.way {
            continue;
        }
        let members: Vec<usize> = names
            .iter()
            .filter_map(|name| {
                other
                    .offers
                    .iter()
                    .position(|offer| offer.ingredient.name == *name)
            })
            .collect();
        if members.len() != names.len() {
            continue;
        }
        if let Some(found) = table.solved(&members)
            && (other.problem.slack.is_none() || found.slack > 1e-9)
        {
            let choice = Choice {
                need: choice.need,
                case: other,
                found,
                feasible: true,
                variants: 0,
            };
            others.push(proposal(setting, &choice)?);
        }
    }
    Ok(others)
}
