//! The facts of a plant.

use super::{Gathering, amount, figures, some};
use crate::corpus::fact::{Amount, Figures};
use crate::corpus::measure::{Measure, Scale};
use wortwright::recipe::{Brewhouse, CoolingMethod, Evaporation, Lauter, YieldPoint};

impl Gathering<'_> {
    pub(super) fn plant(&mut self, plant: &Brewhouse) {
        let of = |field: &str| format!("brewhouses[{}].{field}", plant.name);
        if !plant.name.is_empty() {
            let line = self.lines.line(&format!("brewhouses[{}]", plant.name));
            let slot = ["plant", "name", plant.name.as_str()];
            self.setting(line, slot, Amount::Unstated, Figures::new());
        }
        self.batch(&of("batch"), "plant", plant.batch.as_ref());
        for (field, kind, name, volume) in [
            ("mash_tun_l", "mash-tun", "-", &plant.mash_tun),
            ("kettle_l", "kettle", "-", &plant.kettle),
            ("fermenter_l", "fermenter-size", "-", &plant.fermenter),
            ("tun_loss_l", "loss", "mash tun", &plant.tun_loss),
            ("kettle_loss_l", "loss", "kettle", &plant.kettle_loss),
            (
                "fermenter_loss_l",
                "loss",
                "fermenter",
                &plant.fermenter_loss,
            ),
        ] {
            self.figure(&of(field), ["plant", kind, name], volume.as_ref());
        }
        self.figure(
            &of("liquor_l_per_kg"),
            ["plant", "mash-in", "-"],
            plant.liquor.as_ref(),
        );
        let absorption = plant.absorption.as_ref();
        self.figure(
            &of("absorption_l_per_kg"),
            ["plant", "absorption", "-"],
            absorption,
        );
        let retention = plant.retention.as_ref();
        self.figure(
            &of("retention_l_per_kg"),
            ["plant", "absorption", "retention"],
            retention,
        );
        let conversion = plant.conversion.as_ref();
        self.figure(
            &of("conversion_pct"),
            ["plant", "efficiency", "conversion"],
            conversion,
        );
        self.figure(
            &of("altitude_m"),
            ["plant", "altitude", "-"],
            plant.altitude.as_ref(),
        );
        self.figure(
            &of("stand_min"),
            ["plant", "stand", "-"],
            plant.stand.as_ref(),
        );
        self.figure(
            &of("coolant_c"),
            ["plant", "water", "coolant"],
            plant.coolant.as_ref(),
        );
        self.lautering(plant, &of("lauter"));
        if let Some(reached) = &plant.extract_yield {
            let line = self.lines.line(&of("extract_yield"));
            let name = match reached.at {
                YieldPoint::IntoFermenter => "into fermenter",
                _ => "-",
            };
            let slot = ["plant", "efficiency", name];
            self.setting(line, slot, amount(&reached.value), Figures::new());
        }
        if let Some(evaporation) = &plant.evaporation {
            let line = self.lines.line(&of("evaporation"));
            let rate = match evaporation {
                Evaporation::Rate(rate) => Measure::of(rate),
                Evaporation::SharePerHour(share) => {
                    Measure::of(share).as_scale(Scale::PercentPerHour)
                }
                _ => return,
            };
            let slot = ["plant", "evaporation", "-"];
            self.setting(line, slot, Amount::Is(rate), Figures::new());
        }
        self.cooling(plant, &of("cooling"));
        if let Some(water) = &plant.water {
            self.ions(&of("water.ions"), "plant", &water.ions);
            self.figure(&of("water.ph"), ["plant", "ph", "-"], water.ph.as_ref());
        }
    }

    fn lautering(&mut self, plant: &Brewhouse, path: &str) {
        let Some(lauter) = &plant.lauter else {
            return;
        };
        let line = self.lines.line(path);
        let (name, sparge) = match lauter {
            Lauter::Bag(bag) => ("bag", bag.sparge.as_ref()),
            Lauter::Batch(_) => ("batch", None),
            Lauter::Continuous(_) => ("continuous", None),
            Lauter::NoMash => ("no mash", None),
            _ => ("?", None),
        };
        let slot = ["plant", "lauter", name];
        self.setting(line, slot, Amount::Unstated, Figures::new());
        if let Some(volume) = sparge {
            let slot = ["plant", "sparge", "-"];
            self.setting(line, slot, amount(volume), Figures::new());
        }
        if let Lauter::Continuous(continuous) = lauter
            && let Some(reached) = &continuous.reached
        {
            let slot = ["plant", "efficiency", "-"];
            self.setting(line, slot, amount(reached), Figures::new());
        }
    }

    fn cooling(&mut self, plant: &Brewhouse, path: &str) {
        let Some(cooling) = &plant.cooling else {
            return;
        };
        let line = self.lines.line(path);
        let name = match cooling.method {
            Some(CoolingMethod::Coil) => "coil",
            Some(CoolingMethod::Plate) => "plate",
            Some(CoolingMethod::NoChill) => "no-chill",
            _ => "-",
        };
        let to = cooling.to.as_ref().map_or(Amount::Unstated, amount);
        let time = figures([("for", some(cooling.time.as_ref()))]);
        self.setting(line, ["plant", "cool", name], to, time);
    }
}
