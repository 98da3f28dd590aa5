//! The cautions that name ingredients: what the catalogue knows of each.

use super::brew::{Brew, Part};
use super::code::Code;
use super::{BrewStep, Caution, Urgency};
use crate::catalogue::{Allergen, CautionLevel, EntryRef, Juice, Kind, StrainTrait, WaterAgentUse};
use std::borrow::Cow;

/// A juice whose solids hold this much sorbitol is named (rule of the crate).
const SORBITOL_FROM: f64 = 0.05;
/// Words of a juice's note that speak of health; its other notes speak of the beer.
const HEALTH: [&str; 14] = [
    "glycoside",
    "cyanide",
    "parasorbic",
    "patulin",
    "hypoglycin",
    "oxalate",
    "interaction",
    "furanocoumarin",
    "synephrine",
    "dermatitis",
    "hairs",
    "low acid",
    "laxative",
    "toxic",
];

pub(super) fn cautions(brew: &Brew<'_>) -> Vec<Caution> {
    let mut found = Vec::new();
    botanicals(brew, &mut found);
    juices(brew, &mut found);
    found.extend(diastatic(brew));
    found.extend(sulphites(brew));
    found.extend(sorbitol(brew));
    dust(brew, &mut found);
    found.extend(pets(brew));
    found.extend(allergens(brew));
    found
}

fn caution(
    code: Code,
    urgency: Urgency,
    step: BrewStep,
    text: String,
    reference: Option<&str>,
) -> Caution {
    Caution {
        code: code.as_str(),
        urgency,
        step,
        text: Cow::Owned(text),
        reference: reference.map(|reference| Cow::Owned(reference.to_owned())),
    }
}

/// Each name once, in the order of the day.
fn names<'a>(parts: impl Iterator<Item = Part<'a>>) -> Vec<&'a str> {
    let mut names = Vec::new();
    for part in parts {
        let name = part.ingredient.name.as_str();
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

/// Each ingredient once.
fn once<'a, 'b>(brew: &'b Brew<'a>) -> impl Iterator<Item = &'b Part<'a>> {
    brew.parts.iter().enumerate().filter_map(|(index, part)| {
        let before = brew.parts.iter().take(index);
        let is_new = before
            .into_iter()
            .all(|earlier| earlier.ingredient.name != part.ingredient.name);
        is_new.then_some(part)
    })
}

fn botanicals(brew: &Brew<'_>, found: &mut Vec<Caution>) {
    for part in once(brew) {
        let name = &part.ingredient.name;
        let Some(EntryRef::Botanical(known)) = part.entry else {
            let is_unknown = part.entry.is_none();
            if part.ingredient.kind == Kind::Botanical
                || (part.ingredient.kind == Kind::Other && is_unknown)
            {
                found.push(caution(
                    Code::BotanicalUnknown,
                    Urgency::Care,
                    BrewStep::of(part.stage),
                    format!(
                        "{name} is not in the ingredient table. Confirm what it is and a safe dose before using it."
                    ),
                    None,
                ));
            }
            continue;
        };
        let mut note = known.cautions.to_string();
        if !known.allergen_note.is_empty() {
            if !note.is_empty() {
                note.push_str("; ");
            }
            note.push_str("possible cross-allergy: ");
            note.push_str(&known.allergen_note);
        }
        let (code, urgency, text) = match known.caution_level {
            Some(CautionLevel::Block) => (
                Code::BotanicalBlock,
                Urgency::Stop,
                format!("Do not use {name}: {note}."),
            ),
            Some(CautionLevel::Limit) => (
                Code::BotanicalLimit,
                Urgency::Care,
                format!("{name} (legal or health limit): {note}."),
            ),
            Some(CautionLevel::Warn) => (
                Code::BotanicalWarn,
                Urgency::Care,
                format!("{name}: {note}."),
            ),
            Some(CautionLevel::Info) | None => continue,
        };
        let step = BrewStep::of(part.stage);
        found.push(caution(code, urgency, step, text, Some(&known.reference)));
    }
}

fn juice<'a>(part: &Part<'a>) -> Option<&'a Juice> {
    match part.entry {
        Some(EntryRef::Juice(juice)) => Some(juice),
        _ => None,
    }
}

/// What is to be known of juices and fruit, those with the same note together.
fn juices(brew: &Brew<'_>, found: &mut Vec<Caution>) {
    let mut notes: Vec<(BrewStep, String, &Juice, Vec<&str>)> = Vec::new();
    for part in once(brew) {
        let Some(known) = juice(part) else { continue };
        let mut said = Vec::new();
        if HEALTH.iter().any(|word| known.cautions.contains(word)) {
            said.push(&*known.cautions);
        }
        // Sulphites have a caution of their own.
        if known.allergen_note.contains("allerg") {
            said.push(&*known.allergen_note);
        }
        if said.is_empty() {
            continue;
        }
        let (step, note) = (BrewStep::of(part.stage), said.join("; "));
        let same = notes
            .iter_mut()
            .find(|(at, other, ..)| *at == step && *other == note);
        match same {
            Some((.., names)) => names.push(&part.ingredient.name),
            None => notes.push((step, note, known, vec![&part.ingredient.name])),
        }
    }
    found.extend(notes.into_iter().map(|(step, note, known, names)| {
        let text = format!("{}: {note}.", names.join(", "));
        let reference = Some(&*known.reference);
        caution(Code::JuiceOrFruit, Urgency::Care, step, text, reference)
    }));
}

/// Whether it goes on to ferment dextrins, or splits them for the yeast.
pub(super) fn ferments_dextrins(part: &Part<'_>) -> bool {
    match part.entry {
        Some(EntryRef::Yeast(yeast)) => {
            matches!(
                yeast.diastatic,
                Some(StrainTrait::Yes | StrainTrait::Possible)
            )
        }
        // The one enzyme of the catalogue that splits dextrins to sugar in the fermenter.
        Some(EntryRef::Aid(aid)) => aid.name == "amyloglucosidase",
        _ => false,
    }
}

fn diastatic(brew: &Brew<'_>) -> Option<Caution> {
    let names = names(brew.parts.iter().copied().filter(ferments_dextrins));
    (!names.is_empty()).then(|| {
        caution(
            Code::Diastatic,
            Urgency::Danger,
            BrewStep::Packaging,
            format!(
                "{} may ferment dextrins for weeks and burst bottles: package only after 3 weeks of stable gravity. Keep its hoses and vessels apart, or sanitise them.",
                names.join(", ")
            ),
            None,
        )
    })
}

fn sulphites(brew: &Brew<'_>) -> Option<Caution> {
    let holds = |part: &Part<'_>| {
        let stated = part
            .ingredient
            .facts
            .sulphite
            .as_ref()
            .map(|sulphite| sulphite.value().grams_per_litre() > 0.0);
        stated.unwrap_or_else(|| match part.entry {
            Some(EntryRef::WaterAgent(agent)) => agent.usage == Some(WaterAgentUse::Sulphite),
            Some(EntryRef::Juice(juice)) => juice.allergen_note.contains("sulphite"),
            Some(entry) => entry.allergens().contains(&Allergen::Sulphites),
            None => false,
        })
    };
    let names = names(brew.parts.iter().copied().filter(holds));
    (!names.is_empty()).then(|| {
        caution(
            Code::Sulphites,
            Urgency::Care,
            BrewStep::Shopping,
            format!(
                "{}: may contain sulphites, which trigger asthma in some people and must be declared above 10 mg/L. Check the label.",
                names.join(", ")
            ),
            Some("Regulation (EU) 1169/2011, Annex II"),
        )
    })
}

fn sorbitol(brew: &Brew<'_>) -> Option<Caution> {
    let holds = |part: &Part<'_>| {
        juice(part)
            .and_then(|juice| juice.sorbitol)
            .is_some_and(|share| share.fraction() >= SORBITOL_FROM)
    };
    let names = names(brew.parts.iter().copied().filter(holds));
    (!names.is_empty()).then(|| {
        caution(
            Code::Sorbitol,
            Urgency::Note,
            BrewStep::Shopping,
            format!(
                "{}: sorbitol, laxative; not for hereditary fructose intolerance.",
                names.join(", ")
            ),
            None,
        )
    })
}

fn dust(brew: &Brew<'_>, found: &mut Vec<Caution>) {
    for part in once(brew) {
        if let Some(EntryRef::Aid(aid)) = part.entry
            && aid.note.contains("dust")
        {
            found.push(caution(
                Code::AidDust,
                Urgency::Care,
                BrewStep::of(part.stage),
                format!("{}: {}.", part.ingredient.name, aid.note),
                Some(&aid.reference),
            ));
        }
    }
}

/// Every regulated allergen with what brings it, and what nothing is known of.
fn allergens(brew: &Brew<'_>) -> Option<Caution> {
    let mut brought: Vec<(Allergen, Vec<&str>)> = Vec::new();
    let mut unknown = Vec::new();
    for part in once(brew) {
        let name = part.ingredient.name.as_str();
        let Some(entry) = part.entry else {
            unknown.push(name);
            continue;
        };
        for allergen in entry.allergens() {
            match brought.binary_search_by_key(allergen, |(known, _)| *known) {
                Ok(at) => brought
                    .get_mut(at)
                    .into_iter()
                    .for_each(|(_, names)| names.push(name)),
                Err(at) => brought.insert(at, (*allergen, vec![name])),
            }
        }
    }
    if brought.is_empty() && unknown.is_empty() {
        return None;
    }
    let mut text = String::from("Allergens: ");
    if brought.is_empty() {
        text.push_str("none known");
    } else {
        let list: Vec<_> = brought
            .iter()
            .map(|(allergen, names)| format!("{allergen} ({})", names.join(", ")))
            .collect();
        text.push_str(&list.join("; "));
    }
    if !unknown.is_empty() {
        text.push_str("; not known for: ");
        text.push_str(&unknown.join(", "));
    }
    text.push_str(". Tell drinkers, check labels.");
    Some(caution(
        Code::Allergens,
        Urgency::Care,
        BrewStep::Shopping,
        text,
        Some(
            "Regulation (EU) 1169/2011, Annex II, and 21 USC 343(w); as the ingredient table lists them",
        ),
    ))
}

/// What kills dogs: hops, and grapes in whatever form.
fn pets(brew: &Brew<'_>) -> Option<Caution> {
    let is_grape = |part: &Part<'_>| {
        juice(part).is_some_and(|juice| {
            let name = &juice.name;
            name.contains("raisin") || name.contains("grape") && !name.contains("grapefruit")
        })
    };
    let (hops, grapes) = (brew.has_hops(), brew.parts.iter().any(is_grape));
    let what = match (hops, grapes) {
        (false, false) => return None,
        (true, false) => {
            "Hops, fresh or spent, can kill dogs: keep them and spent grain away from animals."
        }
        (false, true) => {
            "Grapes, raisins and their pomace can kill dogs: keep them and spent grain away from animals."
        }
        (true, true) => {
            "Hops, fresh or spent, grapes and raisins can kill dogs: keep them and spent grain away from animals."
        }
    };
    Some(caution(
        Code::PetsAndHops,
        Urgency::Care,
        BrewStep::Afterwards,
        what.to_owned(),
        Some(
            "Duncan et al., J. Am. Vet. Med. Assoc. 210 (1997) 51, cited in veterinary reviews; grapes: from memory",
        ),
    ))
}
