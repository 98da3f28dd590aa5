//! A recipe as lines.

use super::item::addition;
use super::{Text, free, words};
use crate::catalogue::Kind;
use crate::recipe::{
    Addition, At, Batch, BatchPoint, Boil, Fermentation, Heating, HotStep, IonTargets, Mash,
    Package, Recipe, ShareBasis, Souring, Targets,
};

pub(super) fn write(text: &mut Text, recipe: &Recipe) {
    text.line(0, format!("recipe {}", free(&recipe.name)));
    text.labelled(0, "source", recipe.source.as_deref().map(free));
    text.labelled(0, "brewed on", recipe.brewed_on.as_deref().map(free));
    text.labelled(0, "batch", recipe.batch.as_ref().map(batch));
    let printed = targets(&recipe.targets);
    if !printed.is_empty() {
        text.line(0, format!("target {}", printed.join(", ")));
    }
    if recipe.share_basis == ShareBasis::Extract {
        text.line(0, "shares by extract");
    }
    if !recipe.water.is_empty() {
        text.line(0, "water");
        text.line(1, ions(&recipe.water).join(", "));
    }
    mash(text, &recipe.mash);
    if let Some(souring) = &recipe.souring {
        sour(text, souring);
    }
    boil(text, &recipe.boil);
    for step in &recipe.hot_side {
        hot_step(text, step);
    }
    fermentation(text, &recipe.fermentation);
    package(text, &recipe.package);
}

fn sour(text: &mut Text, souring: &Souring) {
    let clauses = [
        Some("sour".to_owned()),
        souring.time.map(|time| format!("for {time}")),
        souring.temperature.map(|at| format!("at {at}")),
        souring.from.map(|ph| format!("from pH {}", ph.number())),
        souring.to.map(|ph| format!("to pH {}", ph.number())),
        souring.culture.is_some().then(|| "with".to_owned()),
    ];
    let clauses: Vec<String> = clauses.into_iter().flatten().collect();
    match &souring.culture {
        Some(culture) => addition(text, 0, &clauses.join(" "), culture),
        None => text.line(0, clauses.join(" ")),
    }
}

fn boil(text: &mut Text, boil: &Boil) {
    if boil.time.is_some() || !boil.additions.is_empty() {
        let time = boil.time.map(|time| format!(" {time}"));
        text.line(0, format!("boil{}", time.unwrap_or_default()));
        additions(text, "", &boil.additions);
    }
}

pub(super) fn batch(batch: &Batch) -> String {
    let at = match batch.at {
        BatchPoint::IntoFermenter => "into fermenter",
        BatchPoint::EndOfBoil => "at end of boil",
        BatchPoint::Packaged => "packaged",
    };
    format!("{} {at}", batch.volume)
}

pub(super) fn ions(ions: &IonTargets) -> Vec<String> {
    ions.stated()
        .map(|(name, written)| format!("{name} {written}"))
        .collect()
}

pub(super) const fn heating(heating: Heating) -> &'static str {
    match heating {
        Heating::Direct => "direct",
        Heating::Infusion => "infusion",
        Heating::Decoction => "decoction",
        Heating::None => "none",
    }
}

fn targets(targets: &Targets) -> Vec<String> {
    let t = targets;
    [
        t.original.map(|w| format!("original {w}")),
        t.final_extract.map(|w| format!("final {w}")),
        t.alcohol.map(|w| format!("alcohol {w}")),
        t.bitterness.map(|w| format!("bitterness {w}")),
        t.colour.map(|w| format!("colour {w}")),
        t.carbonation.map(|w| format!("carbonation {w}")),
        t.wort_final.map(|w| format!("wort final {w}")),
        t.wort_alcohol.map(|w| format!("wort alcohol {w}")),
        t.wort_bitterness.map(|w| format!("wort bitterness {w}")),
        t.wort_colour.map(|w| format!("wort colour {w}")),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn additions(text: &mut Text, verb: &str, additions: &[Addition]) {
    for item in additions {
        addition(text, 1, verb, item);
    }
}

fn mash(text: &mut Text, mash: &Mash) {
    if *mash == Mash::default() {
        return;
    }
    text.line(0, "mash");
    additions(text, "", &mash.additions);
    text.labelled(1, "mash in", mash.liquor);
    for rest in &mash.rests {
        let by = match rest.by {
            None | Some(Heating::None) => "",
            Some(Heating::Direct) => " by heat",
            Some(Heating::Infusion) => " by infusion",
            Some(Heating::Decoction) => " by decoction",
        };
        let line = format!("rest {} for {}{by}", rest.temperature, rest.time);
        text.line(1, line);
    }
    text.labelled(1, "pH", mash.ph);
    if let Some(sparge) = &mash.sparge {
        let volume = sparge
            .volume
            .map(|volume| format!(" {volume}"))
            .unwrap_or_default();
        let at = sparge
            .temperature
            .map(|at| format!(" at {at}"))
            .unwrap_or_default();
        if !(volume.is_empty() && at.is_empty()) {
            let line = format!("sparge{volume}{at}");
            text.line(1, line);
        }
    }
}

fn hot_step(text: &mut Text, step: &HotStep) {
    match step {
        HotStep::Stand(stand) => {
            let at = stand
                .temperature
                .map(|at| format!(" at {at}"))
                .unwrap_or_default();
            text.line(0, format!("stand {}{at}", stand.time));
            additions(text, "", &stand.additions);
        }
        HotStep::Cool(cool) => {
            let time = cool
                .time
                .map(|time| format!(" in {time}"))
                .unwrap_or_default();
            text.line(0, format!("cool to {}{time}", cool.to));
        }
    }
}

fn fermentation(text: &mut Text, fermentation: &Fermentation) {
    if *fermentation == Fermentation::default() {
        return;
    }
    text.line(0, "ferment");
    if let Some(water) = &fermentation.top_up {
        addition(text, 1, "top up with", water);
    }
    if let Some(pitch) = &fermentation.pitch {
        addition(text, 1, "pitch", pitch);
    }
    for hold in &fermentation.holds {
        let time = hold
            .time
            .map(|time| format!(" for {time}"))
            .unwrap_or_default();
        let line = format!("hold {}{time}", hold.temperature);
        text.line(1, line);
    }
    for item in &fermentation.additions {
        let is_yeast = item
            .ingredient()
            .is_some_and(|yeast| yeast.kind == Kind::Yeast);
        let is_timed = matches!(item.timing.at, Some(At::AfterPitching(_) | At::Gravity(_)));
        let verb = if is_yeast && is_timed { "pitch" } else { "add" };
        addition(text, 1, verb, item);
    }
}

fn package(text: &mut Text, package: &Package) {
    if *package == Package::default() {
        return;
    }
    text.line(0, "package");
    let mut clauses: Vec<String> = package
        .container
        .as_deref()
        .map(words)
        .into_iter()
        .collect();
    let at = package.temperature.map(|at| format!("at {at}"));
    let by = if package.primed {
        "prime to"
    } else {
        "carbonate"
    };
    match (package.carbonation, at) {
        (Some(carbonation), Some(at)) => clauses.push(format!("{by} {carbonation} {at}")),
        (Some(carbonation), None) => clauses.push(format!("{by} {carbonation}")),
        (None, at) => clauses.extend(at),
    }
    if !clauses.is_empty() {
        text.line(1, clauses.join(", "));
    }
    additions(text, "add", &package.additions);
}
