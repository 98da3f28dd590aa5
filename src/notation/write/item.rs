//! Additions, ingredients and lots as lines.

use super::{Text, name};
use crate::catalogue::{ColourBasis, Kind};
use crate::quantity::{Temperature, Time, Unit, Written, in_minutes};
use crate::recipe::{
    Addition, Amount, At, Content, ExtractBasis, Facts, HopForm, Ingredient, Instrument, LogEntry,
    LogEvent, Lot, PackSize, Packs, Timing, WortReading,
};

/// An addition on a line of its own, behind `verb` if there is one; the parts of a blend below it.
pub(super) fn addition(text: &mut Text, depth: usize, verb: &str, addition: &Addition) {
    let mut words = Vec::new();
    if !verb.is_empty() {
        words.push(verb.to_owned());
    }
    words.extend(addition.amount.as_ref().map(amount));
    match &addition.content {
        Content::Single(single) => words.push(ingredient(single)),
        // Without an amount the line would have nothing to stand on.
        Content::Blend(_) if addition.amount.is_none() => words.push("blend".to_owned()),
        Content::Blend(_) => {}
    }
    words.extend(timing(&addition.timing));
    text.line(depth, words.join(" "));
    for part in addition.parts() {
        self::addition(text, depth + 1, "", part);
    }
}

pub(super) fn lot(text: &mut Text, lot: &Lot) {
    let line = match lot {
        Lot::Held(held) => format!("{} {}", amount(&held.amount), ingredient(&held.ingredient)),
        Lot::Any(any) => format!("any {}", ingredient(any)),
        Lot::Missing(missing) => format!("none {}", ingredient(missing)),
    };
    text.line(1, line);
}

pub(super) fn log_entry(entry: &LogEntry) -> String {
    let read = |instrument: Instrument, temperature: &Option<Written<Temperature>>| {
        let by = match instrument {
            Instrument::Hydrometer => "",
            Instrument::Refractometer => " by refractometer",
        };
        let at = temperature
            .map(|at| format!(" at {at}"))
            .unwrap_or_default();
        format!("{by}{at}")
    };
    let wort = |word: &str, wort: &WortReading| {
        let volume_at = wort.volume_at.map(|at| format!("at {at}"));
        let volume = [wort.volume.map(|volume| volume.to_string()), volume_at];
        let volume = volume.into_iter().flatten().collect::<Vec<_>>().join(" ");
        let by = read(wort.instrument, &wort.temperature);
        match (wort.shown, volume.is_empty()) {
            (Some(shown), true) => format!("{word} {shown}{by}"),
            // A temperature would be taken for that of the sample.
            (Some(shown), false) if wort.volume_at.is_some() => {
                format!("{word} {volume}, {shown}{by}")
            }
            (Some(shown), false) => format!("{word} {volume} at {shown}{by}"),
            (None, _) => format!("{word} {volume}{by}"),
        }
    };
    let what = match &entry.what {
        LogEvent::MashPh(ph) => format!("mash pH {ph}"),
        LogEvent::FirstWort(read) => wort("first wort", read),
        LogEvent::BeforeBoil(read) => wort("before boil", read),
        LogEvent::AfterBoil(read) => wort("after boil", read),
        LogEvent::Pitched(pitched) => format!(
            "pitched {} at {}{}",
            pitched.volume,
            pitched.shown,
            read(pitched.instrument, &pitched.temperature)
        ),
        LogEvent::Reading(reading) => format!(
            "reading {}{}",
            reading.shown,
            read(reading.instrument, &reading.temperature)
        ),
        LogEvent::Drawn(drawn) => format!("drawn {}", drawn.volume),
        LogEvent::Added(added) => {
            format!(
                "added {} {}",
                amount(&added.amount),
                ingredient(&added.ingredient)
            )
        }
    };
    let day = entry
        .day
        .as_ref()
        .map(|day| format!(" on day {}", days(day)));
    format!("{what}{}", day.unwrap_or_default())
}

fn amount(amount: &Amount) -> String {
    match amount {
        Amount::Mass(written) => written.to_string(),
        Amount::Volume(written) => written.to_string(),
        Amount::Concentration(written) => written.to_string(),
        Amount::Dose(written) => written.to_string(),
        Amount::Share(written) => written.to_string(),
        Amount::ShareByVolume(written) => format!("{written} by volume"),
        Amount::Bitterness(written) => written.to_string(),
        Amount::Packs(Packs { count, each }) => match each {
            PackSize::Mass(each) => format!("{count} x {each}"),
            PackSize::Volume(each) => format!("{count} x {each}"),
        },
        Amount::PackCount(count) => count.to_string(),
    }
}

fn ingredient(ingredient: &Ingredient) -> String {
    let mut clauses = vec![name(&ingredient.name)];
    clauses.extend(stated(&ingredient.facts, ingredient.kind));
    clauses.join(", ")
}

/// The figures stated of an ingredient, each as its line says it.
pub(in crate::notation) fn stated(facts: &Facts, kind: Kind) -> Vec<String> {
    let mut clauses = Vec::new();
    let mut state = |clause: Option<String>| clauses.extend(clause);
    state(facts.colour.map(|written| {
        let basis = match facts.colour_basis {
            None => "",
            Some(ColourBasis::FullStrength) => " full strength",
            Some(ColourBasis::TenPercentSolution) => " in a 10 % solution",
            Some(ColourBasis::PoundPerGallon) => " per lb/gal",
            Some(ColourBasis::Undiluted) => " undiluted",
        };
        format!("{written}{basis}")
    }));
    state(facts.extract.as_ref().map(|extract| {
        // A malt's figure is ambiguous without its basis, a sugar's is not.
        let basis = match (extract.basis, kind) {
            (ExtractBasis::Dry, _) => " dry",
            (ExtractBasis::AsIs, Kind::Malt) => " as is",
            (ExtractBasis::AsIs, _) => "",
        };
        format!("{} extract{basis}", extract.value)
    }));
    state(facts.moisture.map(|written| format!("{written} moisture")));
    state(
        facts
            .fermentability
            .map(|written| format!("{written} fermentable")),
    );
    state(facts.diastatic_power.map(|written| written.to_string()));
    state(facts.protein.map(|written| format!("{written} protein")));
    state(facts.form.map(|form| {
        let word = match form {
            HopForm::Pellet => "pellet",
            HopForm::Whole => "whole",
            HopForm::Fresh => "fresh",
            HopForm::Extract => "extract",
        };
        word.to_owned()
    }));
    state(facts.fruit_form.map(|form| form.word().to_owned()));
    state(facts.alpha.map(|written| format!("{written} alpha")));
    state(facts.brix.map(|written| {
        if written.unit() == Unit::SpecificGravity {
            format!("brix {written}")
        } else {
            written.to_string()
        }
    }));
    state(facts.alcohol.map(|written| format!("{written} alcohol")));
    state(facts.brings_nothing.then(|| "brings nothing".to_owned()));
    state(facts.ph.map(|written| format!("pH {written}")));
    state(facts.acidity.map(|written| format!("{written} acidity")));
    state(facts.sulphite.map(|written| format!("{written} SO2")));
    state(facts.sorbate.map(|written| format!("{written} sorbate")));
    state(
        facts
            .attenuation
            .map(|written| format!("attenuation {written}")),
    );
    state(facts.pitch_rate.map(|written| written.to_string()));
    clauses
}

fn timing(timing: &Timing) -> Vec<String> {
    let mut phrases = Vec::new();
    phrases.extend(timing.at.as_ref().map(|at| match at {
        At::TimeLeft(left) => format!("at {left}"),
        At::FirstWort => "at first wort".to_owned(),
        At::Temperature(temperature) => format!("at {temperature}"),
        At::Gravity(written) => format!("when {written}"),
        At::AfterPitching(after) => format!("on day {}", days(after)),
    }));
    phrases.extend(timing.contact.map(|contact| format!("for {contact}")));
    phrases
}

/// The number of a day, with its range and its `~`.
fn days(after: &Written<Time>) -> String {
    if after.unit() == Unit::Day {
        let written = after.to_string();
        return written
            .trim_end_matches(Unit::Day.symbol())
            .trim_end()
            .to_owned();
    }
    (in_minutes(after.value()) / Unit::Day.to_base(1.0)).to_string()
}
