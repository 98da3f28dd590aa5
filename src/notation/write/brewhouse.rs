//! A plant as lines.

use super::recipe::{batch, heating, ions};
use super::{Text, free};
use crate::recipe::{
    BitternessModel, Brewhouse, CoolingMethod, Evaporation, Heating, Lauter, PlantCooling,
    StatedYield, YieldBasis, YieldPoint,
};

pub(super) fn write(text: &mut Text, plant: &Brewhouse) {
    text.line(0, format!("brewhouse {}", free(&plant.name)));
    text.labelled(1, "batch", plant.batch.as_ref().map(batch));
    text.labelled(1, "mash tun", plant.mash_tun);
    text.labelled(1, "kettle", plant.kettle);
    text.labelled(1, "fermenter", plant.fermenter);
    if let Some(way) = &plant.lauter {
        text.line(1, lauter(way));
    }
    text.labelled(1, "mash in", plant.liquor);
    text.labelled(1, "absorption", plant.absorption);
    text.labelled(1, "retention", plant.retention);
    text.labelled(1, "sparge mixing", plant.mixing);
    text.labelled(1, "conversion", plant.conversion);
    text.labelled(
        1,
        "extract yield",
        plant.extract_yield.as_ref().map(stated_yield),
    );
    text.labelled(
        1,
        "evaporation",
        plant
            .evaporation
            .as_ref()
            .map(|evaporation| match evaporation {
                Evaporation::Rate(rate) => rate.to_string(),
                Evaporation::SharePerHour(share) => format!("{share} per hour"),
            }),
    );
    text.labelled(1, "tun loss", plant.tun_loss);
    text.labelled(1, "kettle loss", plant.kettle_loss);
    text.labelled(1, "fermenter loss", plant.fermenter_loss);
    text.labelled(1, "altitude", plant.altitude);
    text.labelled(1, "stand", plant.stand);
    if let Some(line) = plant.cooling.as_ref().and_then(cooling) {
        text.line(1, line);
    }
    text.labelled(1, "coolant", plant.coolant);
    text.labelled(1, "grain at", plant.grain);
    text.labelled(1, "tun heat", plant.tun_heat);
    let power = plant.heat_power.map(|power| format!(" {power}"));
    // A power alone is that of direct heat.
    let heated = plant.heating.or(power.as_ref().map(|_| Heating::Direct));
    let power = power.unwrap_or_default();
    text.labelled(
        1,
        "heat",
        heated.map(|by| format!("{}{power}", heating(by))),
    );
    let weighing = [
        plant.weighing.malt.map(|step| format!("malt {step}")),
        plant.weighing.hops.map(|step| format!("hops {step}")),
        plant.weighing.salts.map(|step| format!("salts {step}")),
    ];
    let weighing: Vec<String> = weighing.into_iter().flatten().collect();
    list(text, "weigh", &weighing);
    text.labelled(
        1,
        "bitterness",
        plant.bitterness.map(|model| match model {
            BitternessModel::Tinseth => "tinseth",
            BitternessModel::Kinetic => "kinetic",
        }),
    );
    if let Some(water) = &plant.water {
        let mut clauses = ions(&water.ions);
        clauses.extend(water.ph.map(|ph| format!("pH {ph}")));
        list(text, "water", &clauses);
    }
}

fn list(text: &mut Text, label: &str, clauses: &[String]) {
    if !clauses.is_empty() {
        text.labelled(1, label, Some(clauses.join(", ")));
    }
}

fn lauter(lauter: &Lauter) -> String {
    match lauter {
        Lauter::Bag(bag) => match bag.sparge {
            None => "lauter bag".into(),
            Some(sparge) => format!("lauter bag, sparge {sparge}"),
        },
        Lauter::Batch(batch) => format!("lauter batch, sparges {}", batch.sparges),
        Lauter::Continuous(tun) => match tun.reached {
            None => "lauter continuous".into(),
            Some(reached) => format!("lauter continuous, yield {reached}"),
        },
        Lauter::NoMash => "no mash".into(),
    }
}

fn stated_yield(stated: &StatedYield) -> String {
    let of = match stated.of {
        YieldBasis::LaboratoryExtract => "",
        YieldBasis::Grist => " of grist",
    };
    let at = match stated.at {
        YieldPoint::EndOfBoil => "",
        YieldPoint::IntoFermenter => " in fermenter",
    };
    format!("{}{of}{at}", stated.value)
}

fn cooling(cooling: &PlantCooling) -> Option<String> {
    if cooling.method == Some(CoolingMethod::NoChill) {
        return Some("no chill".into());
    }
    let to = cooling.to?;
    let time = cooling
        .time
        .map(|time| format!(" in {time}"))
        .unwrap_or_default();
    let method = match cooling.method {
        Some(CoolingMethod::Coil) => " by coil",
        Some(CoolingMethod::Plate) => " through plate",
        _ => "",
    };
    Some(format!("cool to {to}{time}{method}"))
}
