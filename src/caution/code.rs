//! The stable codes of cautions.

/// Variants with their codes.
macro_rules! codes {
    ($($(#[$doc:meta])* $variant:ident = $text:literal,)*) => {
        /// What a caution is of.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub(super) enum Code {
            $($(#[$doc])* $variant,)*
        }

        impl Code {
            pub(super) const ALL: &'static [&'static str] = &[$($text,)*];

            /// The code as hosts see it.
            pub(super) const fn as_str(self) -> &'static str {
                match self {
                    $(Self::$variant => $text,)*
                }
            }
        }

    };
}

codes! {
    /// Holds for every plan.
    ArithmeticOnly = "arithmetic_only",
    /// Hot water, mash or wort.
    HotLiquids = "hot_liquids",
    /// Wort that bacteria sour in the kettle.
    KettleSouring = "kettle_souring",
    /// Acid that goes into the wort before them, where no other acid is met earlier.
    AcidBeforeSouring = "acid_before_souring",
    /// A boil.
    BoilOver = "boil_over",
    /// A burner, wherever something is heated.
    BurnerIndoors = "burner_indoors",
    /// Electric heating beside water.
    ElectricityNearWater = "electricity_near_water",
    /// A bag of wet grain to be lifted.
    WetBag = "wet_bag",
    /// Hot wort and glass or closed vessels.
    HotWortInGlass = "hot_wort_in_glass",
    /// Honey, syrup or sugar into the kettle.
    HeatOffForSugar = "heat_off_for_sugar",
    /// Strong alcohol to be handled.
    Spirits = "spirits",
    /// An acid to be handled.
    Acids = "acids",
    /// A hydroxide to be handled.
    Caustics = "caustics",
    /// A fermenter that may be of glass.
    GlassVessels = "glass_vessels",
    /// Cleaning agents.
    CleaningAgents = "cleaning_agents",
    /// Gas in closed vessels.
    SealedVessels = "sealed_vessels",
    /// Gas on kegs.
    Kegs = "kegs",
    /// Carbon dioxide of a fermentation in a room.
    CarbonDioxide = "carbon_dioxide",
    /// Juice, sugar or solids into gassy beer.
    FoamOver = "foam_over",
    /// Fruit or hops in the fermenter.
    CloggedAirlock = "clogged_airlock",
    /// Bottles that ferment.
    BottlesPrimed = "bottles_primed",
    /// Wort that is kept without chilling.
    KeptWithoutChilling = "kept_without_chilling",
    /// Juice that may not be pasteurised.
    UnpasteurisedJuice = "unpasteurised_juice",
    /// Dust of malt.
    MaltDust = "malt_dust",
    /// Hops within reach of pets.
    PetsAndHops = "pets_and_hops",
    /// Alcohol and the law.
    AlcoholAndLaw = "alcohol_and_law",
    /// A herb or spice that the catalogue does not know.
    BotanicalUnknown = "botanical_unknown",
    /// Not for drinks: do not brew it.
    BotanicalBlock = "botanical_block",
    /// Limited by law or for health.
    BotanicalLimit = "botanical_limit",
    /// A herb or spice to be handled with care.
    BotanicalWarn = "botanical_warn",
    /// A juice or fruit with something to be known.
    JuiceOrFruit = "juice_or_fruit",
    /// A yeast that ferments further than predicted.
    Diastatic = "diastatic",
    /// Sulphites, for those who react to them.
    Sulphites = "sulphites",
    /// Sorbitol, which does not ferment.
    Sorbitol = "sorbitol",
    /// A process aid whose dust or handling can harm.
    AidDust = "aid_dust",
    /// Regulated allergens.
    Allergens = "allergens",
}
