//! What brewers write in a log.

/// Wort before the end of the boil, and what becomes of the mash, beside the moments of the brewing day below.
pub(super) const HOT: &[&str] = &[
    "copper full",
    "coppers full",
    "two coppers full",
    "in the kettle",
    "in kettle",
    "into the kettle",
    "in the copper",
    "in copper",
    "in the pot",
    "in the boiler",
    "collected",
    "second runnings",
    "last runnings",
    "runnings",
    "last wort",
    "run off",
    "ran off",
    "runoff",
    "running off",
    "mash",
    "mashed",
    "mashing",
    "mash in",
    "mashed in",
    "strike",
    "strike water",
    "sparge",
    "sparged",
    "batch sparged",
    "fly sparged",
    "boil",
    "boiled",
    "boiling",
    "post",
    "hot",
    "vorlauf",
    "first wort hops",
    "liquor",
    "hlt",
    "heated",
    "settled",
];

/// The wort that ran off first.
pub(super) const FIRST_WORT: &[&str] = &["first wort", "first runnings"];

/// The wort in the kettle before the boil.
pub(super) const BEFORE_BOIL: &[&str] = &[
    "preboil",
    "pre-boil",
    "pre boil",
    "before boil",
    "before the boil",
    "kettle full",
    "full kettle",
];

/// The wort in the kettle at the end of the boil.
pub(super) const AFTER_BOIL: &[&str] = &[
    "postboil",
    "post-boil",
    "post boil",
    "after boil",
    "after the boil",
    "end of boil",
    "end of the boil",
];

/// What a pH is of.
pub(super) const MASH: &[&str] = &["mash"];

/// Wort on its way to the fermenter.
pub(super) const OUT: &[&str] = &[
    "knocked out",
    "knock out",
    "knockout",
    "ko",
    "cast out",
    "cast-out",
    "castout",
    "cast",
    "chilled",
    "cooled",
];

pub(super) const COLD: &[&str] = &[
    "fermenter",
    "fermentor",
    "in the fermenter",
    "into the fermenter",
    "into fermenter",
    "fv",
    "fv1",
    "fv2",
    "fv3",
    "fv4",
    "in fv",
    "in the fv",
    "bucket",
    "carboy",
    "jug",
    "demijohn",
    "tank",
    "into the bucket",
    "pitched",
    "pitch",
    "pitching",
    "og",
    "o.g",
    "original gravity",
    "starting gravity",
    "fg",
    "f.g",
    "final gravity",
    "vessel",
    "tun room",
    "filled",
];

/// Beer that is taken out.
pub(super) const DRAWN: &[&str] = &[
    "drawn",
    "drawn off",
    "drew",
    "drew off",
    "draw",
    "draw off",
    "drawing",
    "pulled",
    "pull",
    "pulled off",
    "sample",
    "sampled",
    "samples",
    "took",
    "take out",
    "taken",
    "taken out",
    "removed",
    "for tasting",
    "to taste",
    "to the lab",
];

/// What is taken out and is no beer.
pub(super) const NOT_BEER: &[&str] = &[
    "trub",
    "yeast",
    "hops",
    "hop",
    "slurry",
    "barm",
    "cone",
    "dumped",
    "dump",
    "skimmed",
    "cropped",
    "harvested",
    "runnings",
    "liquor",
];

/// What is lost or short, of which nobody knows what it was.
pub(super) const LOST: &[&str] = &[
    "lost", "lose", "loss", "losses", "short", "short by", "blowoff", "blow-off", "blow off",
    "waste", "leaking", "spilled", "spilt", "left",
];

/// Something goes in.
pub(super) const ADDED: &[&str] = &[
    "added",
    "add",
    "adding",
    "topped up",
    "top up",
    "topped off",
    "top off",
    "topped",
    "top",
    "topped up with",
    "poured",
    "poured in",
    "in went",
    "went in",
    "refilled",
    "filled back",
    "dosed",
    "onto",
    "on to",
    "stirred in",
    "mixed in",
];

/// What is moved to another vessel.
pub(super) const MOVED: &[&str] = &[
    "racked",
    "rack",
    "racking",
    "transferred",
    "transfer",
    "moved",
    "pumped",
    "pumped over",
    "drained",
    "barrelled",
    "dropped",
    "filtered",
    "to brite",
    "brite",
    "to second fermenter",
    "to secondary",
];

/// What is filled for sale or for the cellar, and what goes in there.
pub(super) const PACKAGED: &[&str] = &[
    "bottled", "bottle", "bottles", "bottling", "kegged", "keg", "kegs", "kegging", "canned",
    "cans", "casked", "cask", "casks", "primed", "prime", "priming", "firkins", "firkin",
    "packaged",
];

/// Doses of each of several vessels.
pub(super) const EACH: &[&str] = &[
    "each",
    "per bottle",
    "per cask",
    "per keg",
    "per firkin",
    "per pin",
    "apiece",
];

/// Yeast, of which a log does not keep how much there was.
pub(super) const YEAST: &[&str] = &[
    "yeast",
    "starter",
    "slurry",
    "cake",
    "barm",
    "pitched from",
    "dregs",
    "lacto",
    "lactobacillus",
    "brett",
    "brux",
    "kveik",
    "yogurt",
    "yogurts",
    "yoghurt",
    "sachet",
    "sachets",
];

/// Yeast goes in.
pub(super) const PITCHED: &[&str] = &["pitched", "pitch", "pitching"];

/// A refractometer, and its reading as it stands.
pub(super) const RAW: &[&str] = &["refractometer", "refrac", "refract", "raw", "uncorrected"];

/// Words about a reading that say nothing more.
pub(super) const READS: &[&str] = &[
    "og",
    "fg",
    "sg",
    "o.g",
    "f.g",
    "gravity",
    "reading",
    "read",
    "reads",
    "sample",
    "hydrometer",
    "refractometer",
    "says",
    "said",
    "raw",
    "uncorrected",
    "corrected",
    "fermenter",
    "fv",
    "pitched",
    "added",
    "drawn",
    "drew",
    "pulled",
    "topped",
    "now",
    "same",
    "final",
    "original",
];
