//! The litres of the day as a balance: what comes in between two vessels, and what leaves.

use wortwright::catalogue::Kind;
use wortwright::process::Stage;
use wortwright::quantity::uom::si::{mass::kilogram, volume::liter};
use wortwright::quantity::{Extract, Mass, Volume};
use wortwright::scale::{Plan, PlannedAddition};
use wortwright::science::liquid::Liquid;
use wortwright::speech::Style;

/// Water at 20 °C, kg/L (Kell 1975).
const WATER_KG_PER_L: f64 = 0.9982;
/// Litres that a kilogram of dissolved extract adds, about (sucrose at 12 °P, from the tables behind `science::density`).
const EXTRACT_L_PER_KG: f64 = 0.62;
/// Less than this of the largest volume is no flow: volumes are measured no better.
const NO_FLOW: f64 = 1e-4;

/// What a flow is of.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Of {
    Water,
    Wort,
    Addition,
    Lost,
}

/// Litres on their way in or out.
pub(crate) struct Flow {
    pub(crate) text: String,
    pub(crate) litres: f64,
    pub(crate) of: Of,
}

/// Liquid in a vessel, after what came and went.
pub(crate) struct Standing {
    pub(crate) name: &'static str,
    pub(crate) volume: Volume,
    pub(crate) gravity: Option<Extract>,
    pub(crate) of: Of,
    /// What came in on the way here, and what left.
    pub(crate) came: Vec<Flow>,
    pub(crate) left: Vec<Flow>,
}

impl Standing {
    pub(crate) fn litres(&self) -> f64 {
        self.volume.get::<liter>()
    }
}

/// The day from the first water to the packaged beer; where nothing comes or goes there is no step.
pub(crate) fn day(plan: &Plan, style: Style) -> Vec<Standing> {
    let volumes = &plan.volumes;
    let mashed = volumes.mash_hot.get::<liter>() > 0.0;
    let day = Day {
        plan,
        style,
        tiny_l: NO_FLOW
            * volumes
                .total_water
                .max(volumes.after_additions)
                .get::<liter>(),
    };
    let first = if mashed {
        "water into the mash"
    } else {
        "water into the kettle"
    };
    let mut steps = vec![
        standing(first, volumes.mash_water, Of::Water),
        day.run_off(),
        day.boiled(),
        day.to_the_fermenter(),
        day.with_additions(),
        day.packaged(),
    ];
    let first = steps.len();
    let mut place = 0;
    steps.retain(|step| {
        place += 1;
        let moves = !step.came.is_empty() || !step.left.is_empty();
        step.litres() > 0.0 && (place == 1 || place == first || moves)
    });
    steps
}

/// A vessel before anything is told of its flows.
const fn standing(name: &'static str, volume: Volume, of: Of) -> Standing {
    Standing {
        name,
        volume,
        gravity: None,
        of,
        came: Vec::new(),
        left: Vec::new(),
    }
}

struct Day<'a> {
    plan: &'a Plan,
    style: Style,
    tiny_l: f64,
}

impl Day<'_> {
    fn flow(&self, list: &mut Vec<Flow>, name: &str, litres: f64, of: Of) {
        if litres > self.tiny_l {
            let volume = self.style.volume(Volume::new::<liter>(litres));
            let text = format!("{} {name}", whole(&volume));
            list.push(Flow { text, litres, of });
        }
    }

    /// Additions that bring liquid, each with its share of the litres that they bring together.
    fn additions(&self, list: &mut Vec<Flow>, of: &[&PlannedAddition], together_l: f64) {
        let sum_l: f64 = of.iter().map(|addition| brought_l(addition)).sum();
        if together_l <= self.tiny_l || sum_l <= 0.0 {
            return;
        }
        for addition in of {
            let litres = brought_l(addition) / sum_l * together_l;
            let amount = match (addition.volume, addition.mass) {
                (Some(volume), _) => self.style.volume(volume),
                (None, Some(mass)) => self.style.mass(mass),
                (None, None) => String::new(),
            };
            if litres > 0.0 {
                list.push(Flow {
                    text: format!("{} {}", whole(&amount), addition.name),
                    litres,
                    of: Of::Addition,
                });
            }
        }
    }

    /// What brings extract to the hot side: the sugars of the mash's list go into the kettle too.
    fn sugars(&self, stage: Stage) -> Vec<&PlannedAddition> {
        let meant = |a: &&PlannedAddition| {
            let here = a.stage == stage
                || (stage == Stage::Boil && a.stage == Stage::Mash && a.kind == Kind::Sugar);
            here && a.extract.is_some() && (a.stage != Stage::Mash || a.kind == Kind::Sugar)
        };
        self.plan.additions.iter().filter(meant).collect()
    }

    fn run_off(&self) -> Standing {
        let volumes = &self.plan.volumes;
        let mut step = standing("before the boil", volumes.pre_boil, Of::Wort);
        if volumes.mash_hot.get::<liter>() <= 0.0 {
            step.name = "in the kettle";
            step.of = Of::Water;
        }
        let sparge_l = volumes.sparge_water.get::<liter>();
        self.flow(&mut step.came, "sparge water", sparge_l, Of::Water);
        if step.of == Of::Wort {
            step.gravity = Some(volumes.pre_boil_extract);
        }
        let kept_l = volumes.total_water.get::<liter>() - step.litres();
        let tun_loss = self.plan.brewhouse.tun_loss.as_ref();
        let name = match tun_loss {
            Some(loss) if loss.value().get::<liter>() > 0.0 => "grain absorption and mash tun",
            _ => "grain absorption",
        };
        self.flow(&mut step.left, name, kept_l, Of::Lost);
        step
    }

    fn boiled(&self) -> Standing {
        let volumes = &self.plan.volumes;
        let mut step = standing("after the boil", volumes.post_boil, Of::Wort);
        let sugars = self.sugars(Stage::Boil);
        let before = Liquid::wort(volumes.pre_boil, volumes.pre_boil_extract).ok();
        let with = before.and_then(|wort| {
            let parts = sugars.iter().filter_map(|a| dissolved(a));
            Some(parts.fold(wort, Liquid::blended)).filter(|_| !sugars.is_empty())
        });
        let before_l = volumes.pre_boil.get::<liter>();
        let full_l = with.map_or(before_l, |wort| wort.volume().get::<liter>());
        self.additions(&mut step.came, &sugars, full_l - before_l);
        let gone_l = full_l - step.litres();
        self.flow(&mut step.left, "boil-off", gone_l, Of::Lost);
        let extract = with.or(before).map(Liquid::extract);
        step.gravity = extract.and_then(|extract| strength(extract, volumes.post_boil));
        step
    }

    fn to_the_fermenter(&self) -> Standing {
        let volumes = &self.plan.volumes;
        let name = "into the fermenter";
        let mut step = standing(name, volumes.into_fermenter, Of::Wort);
        let sugars = self.sugars(Stage::Stand);
        let brought_l: f64 = sugars.iter().map(|a| brought_l(a)).sum();
        self.additions(&mut step.came, &sugars, brought_l);
        let lost_l = volumes.post_boil.get::<liter>() + brought_l - step.litres();
        let hot = |a: &&PlannedAddition| matches!(a.stage, Stage::Boil | Stage::Stand);
        let hops = self.plan.additions.iter().filter(hot).any(is_hop);
        let name = if hops {
            "trub, hops, kettle"
        } else {
            "trub and kettle"
        };
        self.flow(&mut step.left, name, lost_l, Of::Lost);
        step.gravity = self.plan.predicted.original;
        step
    }

    fn with_additions(&self) -> Standing {
        let volumes = &self.plan.volumes;
        let name = "with all additions";
        let mut step = standing(name, volumes.after_additions, Of::Wort);
        let more_l = step.litres() - volumes.into_fermenter.get::<liter>();
        let parts: Vec<_> = self.at(Stage::Ferment).collect();
        self.additions(&mut step.came, &parts, more_l);
        step
    }

    fn packaged(&self) -> Standing {
        let volumes = &self.plan.volumes;
        let mut step = standing("packaged", volumes.packaged, Of::Wort);
        let parts: Vec<_> = self.at(Stage::Package).collect();
        let more_l = (volumes.packaged - volumes.racked).get::<liter>();
        self.additions(&mut step.came, &parts, more_l);
        let brought_l: f64 = step.came.iter().map(|flow| flow.litres).sum();
        let left_l = volumes.after_additions.get::<liter>() + brought_l - step.litres();
        let mut kept = vec!["yeast"];
        if self.at(Stage::Ferment).any(is_hop) {
            kept.push("hops");
        }
        if self.at(Stage::Ferment).any(is_fruit) {
            kept.push("fruit");
        }
        let name = format!("{}, sediment", kept.join(", "));
        self.flow(&mut step.left, &name, left_l, Of::Lost);
        step.gravity = self.plan.predicted.final_extract;
        step
    }

    fn at(&self, stage: Stage) -> impl Iterator<Item = &PlannedAddition> {
        let later = move |a: &&PlannedAddition| a.stage == stage && a.kind != Kind::Yeast;
        self.plan.additions.iter().filter(later)
    }
}

/// An amount that no line of a label parts from its unit.
fn whole(amount: &str) -> String {
    amount.replace(' ', "\u{a0}")
}

/// Fruit is weighed, juice is measured.
fn is_fruit(addition: &PlannedAddition) -> bool {
    addition.kind == Kind::Juice && addition.volume.is_none()
}

fn is_hop(addition: &PlannedAddition) -> bool {
    addition.kind == Kind::Hop
}

/// An addition as water and extract.
fn dissolved(addition: &PlannedAddition) -> Option<Liquid> {
    let (mass, extract) = (addition.mass?, addition.extract?);
    Liquid::new(
        (mass - extract).max(Mass::default()),
        extract,
        Mass::default(),
    )
    .ok()
}

/// Litres that an addition brings, about: a measured liquid all of it, what is weighed by its water and its extract.
fn brought_l(addition: &PlannedAddition) -> f64 {
    let extract_kg = addition.extract.map_or(0.0, |m| m.get::<kilogram>());
    match (addition.volume, addition.mass) {
        (Some(volume), _) => volume.get::<liter>(),
        (None, Some(mass)) if extract_kg > 0.0 => {
            (mass.get::<kilogram>() - extract_kg).max(0.0) / WATER_KG_PER_L
                + EXTRACT_L_PER_KG * extract_kg
        }
        _ => 0.0,
    }
}

/// How strong a wort of this volume with this extract is.
fn strength(extract: Mass, volume: Volume) -> Option<Extract> {
    let mut plato = 10.0;
    for _ in 0..20 {
        let wort = Liquid::wort(volume, Extract::from_plato(plato).ok()?).ok()?;
        plato = 100.0 * extract.get::<kilogram>() / wort.mass().get::<kilogram>();
    }
    Extract::from_plato(plato).ok().filter(|e| e.plato() > 0.0)
}
