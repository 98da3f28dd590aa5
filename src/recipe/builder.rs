//! A recipe and a plant put together in code, line by line, each line as the notation has it.

use super::{
    Addition, Bag, Batch, BitternessModel, Brewhouse, ContinuousSparge, CoolStep, CoolingMethod,
    Evaporation, FruitForm, Heating, Hold, HopForm, HotStep, Ingredient, Instrument, IonTargets,
    Lauter, LogReading, Pitched, PlantCooling, Recipe, Rest, ShareBasis, Souring, Sparge, Stand,
    StatedExtract, StatedYield, WaterReport, YieldBasis, YieldPoint,
};
use crate::catalogue::ColourBasis;
use crate::quantity::{
    Absorption, AlcoholByVolume, AlphaAcids, Attenuation, BeerColour, Bitterness, BrewhouseYield,
    CarbonDioxide, Concentration, Conversion, DiastaticPower, Extract, Fermentability,
    HeatCapacity, Length, LiquorRatio, MaltColour, Mass, Mixing, Moisture, Ph, PitchRate, Power,
    Protein, Temperature, Time, Volume, Written,
};

/// Methods that each state one thing.
macro_rules! state {
    ($($(#[$doc:meta])* $method:ident($type:ty) => $($field:ident).+;)+) => {
        $(
            $(#[$doc])*
            #[must_use]
            pub fn $method(mut self, stated: $type) -> Self {
                self.$($field).+ = Some(stated);
                self
            }
        )+
    };
}

/// Methods that each add a line.
macro_rules! add {
    ($($(#[$doc:meta])* $method:ident($type:ty) => $($field:ident).+;)+) => {
        $(
            $(#[$doc])*
            #[must_use]
            pub fn $method(mut self, line: $type) -> Self {
                self.$($field).+.push(line);
                self
            }
        )+
    };
}

/// Lines of a recipe, in any order.
///
/// ```
/// use wortwright::recipe::{Addition, Recipe, Rest};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let recipe = Recipe::new("Plain pale")
///     .batch("20 L".parse()?)
///     .original("12 P".parse()?)
///     .mash(Addition::new("pale ale malt", "100 %".parse()?))
///     .rest(Rest::new("66 C".parse()?, "60 min".parse()?))
///     .boil_for("60 min".parse()?)
///     .boil(Addition::new("northern brewer", "20 IBU".parse()?).at("60 min".parse()?))
///     .pitch(Addition::of("american ale yeast"));
/// assert_eq!(recipe.additions().count(), 3);
/// # Ok(())
/// # }
/// ```
impl Recipe {
    /// Where the recipe comes from, in free words.
    #[must_use]
    pub fn source(mut self, source: impl Into<String>) -> Self {
        self.source = Some(source.into());
        self
    }

    /// The name of the plant that the figures speak for.
    #[must_use]
    pub fn brewed_on(mut self, plant: impl Into<String>) -> Self {
        self.brewed_on = Some(plant.into());
        self
    }

    /// What the shares of fermentables are shares of.
    #[must_use]
    pub const fn shares(mut self, basis: ShareBasis) -> Self {
        self.share_basis = basis;
        self
    }

    /// Wanted ions of the brewing water.
    #[must_use]
    pub fn water(mut self, ions: IonTargets) -> Self {
        self.water = ions;
        self
    }

    state! {
        /// How much, and where it is counted.
        batch(Batch) => batch;
        /// Original extract of the wort into the fermenter.
        original(Written<Extract>) => targets.original;
        /// Apparent final extract of the beer.
        final_extract(Written<Extract>) => targets.final_extract;
        /// Alcohol of the beer.
        alcohol(Written<AlcoholByVolume>) => targets.alcohol;
        /// Bitterness of the beer.
        bitterness(Written<Bitterness>) => targets.bitterness;
        /// As printed: it is compared, and the grist is not changed for it.
        colour(Written<BeerColour>) => targets.colour;
        /// Mash water per kilogram of grist.
        liquor(Written<LiquorRatio>) => mash.liquor;
        /// Wanted mash pH.
        mash_ph(Written<Ph>) => mash.ph;
        /// Sparge as printed.
        sparge(Sparge) => mash.sparge;
        /// Souring before the boil.
        sour(Souring) => souring;
        /// Length of the boil.
        boil_for(Written<Time>) => boil.time;
        /// The yeast.
        pitch(Addition) => fermentation.pitch;
        /// Water that makes up the wort in the fermenter, before the yeast.
        top_up(Addition) => fermentation.top_up;
        /// Apparent extract that the wort would end at without later additions.
        wort_final(Written<Extract>) => targets.wort_final;
        /// Alcohol that the wort would reach without later additions.
        wort_alcohol(Written<AlcoholByVolume>) => targets.wort_alcohol;
        /// Bitterness of the wort without later additions.
        wort_bitterness(Written<Bitterness>) => targets.wort_bitterness;
        /// Colour of the wort without later additions.
        wort_colour(Written<BeerColour>) => targets.wort_colour;
        /// Wanted carbonation at packaging.
        carbonate(Written<CarbonDioxide>) => package.carbonation;
        /// Temperature at which it is carbonated.
        carbonate_at(Written<Temperature>) => package.temperature;
    }

    add! {
        /// A line of the grist.
        mash(Addition) => mash.additions;
        /// A mash rest, after those before it.
        rest(Rest) => mash.rests;
        /// What goes into the kettle.
        boil(Addition) => boil.additions;
        /// A temperature held in the fermenter, after those before it.
        hold(Hold) => fermentation.holds;
        /// What goes into the fermenter beside the yeast.
        ferment(Addition) => fermentation.additions;
        /// What goes in at packaging.
        package(Addition) => package.additions;
    }

    /// Into what it is packaged, in free words.
    #[must_use]
    pub fn container(mut self, container: impl Into<String>) -> Self {
        self.package.container = Some(container.into());
        self
    }

    /// Carbonation by sugar in the closed container, a keg too.
    #[must_use]
    pub fn prime_to(mut self, gas: Written<CarbonDioxide>) -> Self {
        self.package.carbonation = Some(gas);
        self.package.primed = true;
        self
    }

    /// A hot stand, after the boil and the stands before it.
    #[must_use]
    pub fn stand(mut self, stand: Stand) -> Self {
        self.hot_side.push(HotStep::Stand(stand));
        self
    }

    /// Cooling to a further stand.
    #[must_use]
    pub fn cool(mut self, cool: CoolStep) -> Self {
        self.hot_side.push(HotStep::Cool(cool));
        self
    }
}

/// Lines of a plant, in any order.
///
/// ```
/// use wortwright::recipe::{Bag, Brewhouse, Evaporation, Lauter};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let plant = Brewhouse::new("Stove top")
///     .batch("8 L".parse()?)
///     .kettle("16 L".parse()?)
///     .lauter(Lauter::Bag(Bag::default()))
///     .evaporation(Evaporation::Rate("2.6 L/h".parse()?))
///     .kettle_loss("0.6 L".parse()?);
/// assert_eq!(plant.kettle.map(|kettle| kettle.to_string()).as_deref(), Some("16 L"));
/// # Ok(())
/// # }
/// ```
impl Brewhouse {
    state! {
        /// Its batch, and where it is counted.
        batch(Batch) => batch;
        /// Capacity of the mash tun.
        mash_tun(Written<Volume>) => mash_tun;
        /// Capacity of the kettle.
        kettle(Written<Volume>) => kettle;
        /// Capacity of the fermenter.
        fermenter(Written<Volume>) => fermenter;
        /// How the wort leaves the grain.
        lauter(Lauter) => lauter;
        /// Mash water per kilogram of grist.
        liquor(Written<LiquorRatio>) => liquor;
        /// Apparent absorption.
        absorption(Written<Absorption>) => absorption;
        /// Wort that the grain retains; stated in place of an absorption.
        retention(Written<Absorption>) => retention;
        /// How thoroughly sparge water mixes with the wort in the grain.
        mixing(Written<Mixing>) => mixing;
        /// Share of the laboratory extract that dissolves.
        conversion(Written<Conversion>) => conversion;
        /// A yield that the plant is known to reach.
        extract_yield(StatedYield) => extract_yield;
        /// How much the boil drives off.
        evaporation(Evaporation) => evaporation;
        /// Wort left in the mash tun beside what the grain retains.
        tun_loss(Written<Volume>) => tun_loss;
        /// Wort left in the kettle.
        kettle_loss(Written<Volume>) => kettle_loss;
        /// Beer left in the fermenter.
        fermenter_loss(Written<Volume>) => fermenter_loss;
        /// Above the sea: it sets the boiling point.
        altitude(Written<Length>) => altitude;
        /// Hot stand that this plant always has.
        stand(Written<Time>) => stand;
        /// How the wort is cooled to pitching temperature.
        cooling(PlantCooling) => cooling;
        /// The water that cools the wort.
        coolant(Written<Temperature>) => coolant;
        /// Temperature of the grain before mashing in.
        grain(Written<Temperature>) => grain;
        /// Heat that the mash vessel takes up.
        tun_heat(Written<HeatCapacity>) => tun_heat;
        /// How the mash can be heated.
        heating(Heating) => heating;
        /// Power of what heats mash and wort.
        heat_power(Written<Power>) => heat_power;
        /// The step in which malt, grain and sugar can be weighed.
        weigh_malt(Written<Mass>) => weighing.malt;
        /// The step in which hops and botanicals can be weighed.
        weigh_hops(Written<Mass>) => weighing.hops;
        /// The step in which salts, aids and yeast can be weighed.
        weigh_salts(Written<Mass>) => weighing.salts;
        /// How bitterness is predicted.
        bitterness(BitternessModel) => bitterness;
        /// What its water holds before salts and acid.
        water(WaterReport) => water;
    }
}

impl Rest {
    /// A rest at a temperature for a time.
    #[must_use]
    pub const fn new(temperature: Written<Temperature>, time: Written<Time>) -> Self {
        Self {
            temperature,
            time,
            by: None,
        }
    }

    state! {
        /// How the mash reaches its temperature.
        by(Heating) => by;
    }
}

impl Sparge {
    state! {
        /// How much water.
        volume(Written<Volume>) => volume;
        /// Its temperature.
        temperature(Written<Temperature>) => temperature;
    }
}

impl Bag {
    state! {
        /// Water poured over the lifted bag.
        sparge(Written<Volume>) => sparge;
    }
}

impl ContinuousSparge {
    state! {
        /// The yield it is known to reach.
        reached(Written<BrewhouseYield>) => reached;
    }
}

impl StatedYield {
    /// What it is a share of.
    #[must_use]
    pub const fn of(mut self, basis: YieldBasis) -> Self {
        self.of = basis;
        self
    }

    /// Where the extract is counted.
    #[must_use]
    pub const fn at(mut self, point: YieldPoint) -> Self {
        self.at = point;
        self
    }
}

impl PlantCooling {
    state! {
        /// Temperature reached.
        to(Written<Temperature>) => to;
        /// Time it takes for the whole batch.
        time(Written<Time>) => time;
        /// By what.
        method(CoolingMethod) => method;
    }
}

impl WaterReport {
    /// A report of these ions.
    #[must_use]
    pub const fn new(ions: IonTargets) -> Self {
        Self { ions, ph: None }
    }

    state! {
        /// pH of the water.
        ph(Written<Ph>) => ph;
    }
}

/// Figures that the line of an ingredient states.
///
/// ```
/// use wortwright::recipe::{HopForm, Ingredient};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let hop = Ingredient::of("northern brewer").alpha("9 %".parse()?).form(HopForm::Pellet);
/// assert_eq!(hop.facts.alpha.as_ref().map(ToString::to_string).as_deref(), Some("9 %"));
/// # Ok(())
/// # }
/// ```
impl Ingredient {
    state! {
        /// Colour.
        colour(Written<MaltColour>) => facts.colour;
        /// What the colour of a sugar, syrup or extract refers to.
        colour_basis(ColourBasis) => facts.colour_basis;
        /// Fine-grind laboratory extract, or the solids of a sugar.
        extract(StatedExtract) => facts.extract;
        /// Moisture as is.
        moisture(Written<Moisture>) => facts.moisture;
        /// Share of its extract that ferments, by mass.
        fermentable(Written<Fermentability>) => facts.fermentability;
        /// Diastatic power.
        diastatic_power(Written<DiastaticPower>) => facts.diastatic_power;
        /// Protein of dry matter.
        protein(Written<Protein>) => facts.protein;
        /// Alpha acids of a hop product.
        alpha(Written<AlphaAcids>) => facts.alpha;
        /// Form of a hop product.
        form(HopForm) => facts.form;
        /// How fruit was prepared.
        fruit_form(FruitForm) => facts.fruit_form;
        /// Soluble solids of a juice.
        brix(Written<Extract>) => facts.brix;
        /// pH of a juice, or of a distilled-water mash of a malt.
        ph(Written<Ph>) => facts.ph;
        /// Titratable acidity of a juice.
        acidity(Written<Concentration>) => facts.acidity;
        /// Free sulphur dioxide of a juice.
        sulphite(Written<Concentration>) => facts.sulphite;
        /// Sorbic acid of a juice.
        sorbate(Written<Concentration>) => facts.sorbate;
        /// Apparent attenuation of a yeast.
        attenuation(Written<Attenuation>) => facts.attenuation;
        /// Pitching rate of a yeast.
        pitch_rate(Written<PitchRate>) => facts.pitch_rate;
    }
}

impl IonTargets {
    state! {
        /// Calcium.
        calcium(Written<Concentration>) => calcium;
        /// Magnesium.
        magnesium(Written<Concentration>) => magnesium;
        /// Sodium.
        sodium(Written<Concentration>) => sodium;
        /// Potassium.
        potassium(Written<Concentration>) => potassium;
        /// Sulphate.
        sulphate(Written<Concentration>) => sulphate;
        /// Chloride.
        chloride(Written<Concentration>) => chloride;
        /// Bicarbonate.
        bicarbonate(Written<Concentration>) => bicarbonate;
        /// Alkalinity, as calcium carbonate.
        alkalinity(Written<Concentration>) => alkalinity;
    }
}

impl Pitched {
    state! {
        /// Temperature of the sample.
        at(Written<Temperature>) => temperature;
    }

    /// By what it was read.
    #[must_use]
    pub const fn by(mut self, instrument: Instrument) -> Self {
        self.instrument = instrument;
        self
    }
}

impl LogReading {
    state! {
        /// Temperature of the sample.
        at(Written<Temperature>) => temperature;
    }

    /// By what it was read.
    #[must_use]
    pub const fn by(mut self, instrument: Instrument) -> Self {
        self.instrument = instrument;
        self
    }
}

impl Souring {
    state! {
        /// pH at which it is boiled.
        to(Written<Ph>) => to;
        /// How long it is given.
        time(Written<Time>) => time;
        /// Its temperature.
        at(Written<Temperature>) => temperature;
        /// The bacteria.
        with(Addition) => culture;
    }
}

impl Stand {
    /// A stand that starts at the boiling point, with nothing in it yet.
    #[must_use]
    pub const fn new(time: Written<Time>) -> Self {
        Self {
            time,
            temperature: None,
            additions: Vec::new(),
        }
    }

    state! {
        /// Of the beer when it is packaged, or of the keg.
        at(Written<Temperature>) => temperature;
    }

    add! {
        /// What goes in.
        with(Addition) => additions;
    }
}

impl CoolStep {
    /// Cooling to a temperature.
    #[must_use]
    pub const fn new(to: Written<Temperature>) -> Self {
        Self { to, time: None }
    }

    state! {
        /// Time taken.
        time(Written<Time>) => time;
    }
}

impl Hold {
    /// A temperature held to the end, or until the next one.
    #[must_use]
    pub const fn new(temperature: Written<Temperature>) -> Self {
        Self {
            temperature,
            time: None,
        }
    }

    state! {
        /// How long it is held.
        time(Written<Time>) => time;
    }
}
