//! Figures that are written in several pieces: `half a pound`, `4 lb 8 oz`, `24 to 36 h`, `6 boxes of 44 lb`, `IBU 38`.

use super::bit::{Bit, What};
use super::jotted_unit::spelt;
use super::said::trade;
use crate::notation::cursor::ANY;
use crate::quantity::lexer::{self, AsWritten, BARE_GRAVITY, Marked};
use crate::quantity::{Dimension, Unit};

/// What the pieces at the start of a line say together: how many they are, and what stands in their place.
type Rule = fn(&[Bit]) -> Option<(usize, Vec<Bit>)>;

/// In this order: a number in words is one before a range of numbers is.
const RULES: [Rule; 27] = [
    target,
    decocted,
    ions_first,
    labels_first,
    label_by_label,
    ordinal,
    rows_of_corns,
    numbered_name,
    tablets,
    rate,
    spoken,
    rate,
    unit_alone,
    composed,
    number_word,
    labelled,
    alpha,
    gravity,
    ratio,
    imperial,
    range,
    counted,
    per_litre,
    of_each,
    sparges,
    falling,
    acidified,
];

/// The pieces of a line, what says one figure as one.
pub(super) fn join(bits: &mut Vec<Bit>) {
    for rule in RULES {
        apply(bits, rule);
    }
}

fn apply(bits: &mut Vec<Bit>, rule: Rule) {
    let mut at = 0;
    while let Some(rest) = bits.get(at..).filter(|rest| !rest.is_empty()) {
        at += match rule(rest) {
            Some((taken, instead)) => {
                let count = instead.len();
                bits.splice(at..bits.len().min(at + taken.max(1)), instead);
                count
            }
            None => 1,
        };
    }
}

/// One piece in the place of the first `count`.
fn one(bits: &[Bit], count: usize, what: What) -> Option<(usize, Vec<Bit>)> {
    let first = bits.first()?;
    let last = bits.get(count.checked_sub(1)?)?;
    let span = first.span.to(last.span);
    Some((count, vec![Bit { what, span }]))
}

fn word(bits: &[Bit], at: usize) -> Option<&str> {
    bits.get(at)?.word()
}

fn quantity(bits: &[Bit], at: usize) -> Option<AsWritten> {
    bits.get(at)?.quantity().copied()
}

fn bare(bits: &[Bit], at: usize) -> Option<Marked> {
    bits.get(at)?.bare()
}

fn is_mark(bits: &[Bit], at: usize, mark: char) -> bool {
    bits.get(at).is_some_and(|bit| bit.is_mark(mark))
}

const fn plain(low: f64) -> Marked {
    Marked {
        low,
        high: None,
        about: false,
    }
}

/// `Rest 1:`, `Step 2 -`: which it is, and no figure of it.
fn ordinal(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let counts = [
        "rest", "step", "addition", "hop", "dh", "stage", "no", "batch", "brew",
    ];
    let is_small = bare(bits, 1).is_some_and(|bare| bare.low.fract() == 0.0 && bare.low < 10.0);
    let is_label = [':', '-', '='].iter().any(|mark| is_mark(bits, 2, *mark));
    let is_it = counts.contains(&word(bits, 0)?) && is_small && is_label;
    is_it.then(|| (2, bits.iter().take(1).cloned().collect()))
}

/// `American 2 row`: barley by the rows of its ear, and no amount of anything.
fn rows_of_corns(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let rows = bare(bits, 0).filter(|rows| matches!(rows.low, 2.0 | 6.0) && rows.high.is_none())?;
    word(bits, 1).filter(|word| *word == "row")?;
    one(bits, 2, What::Word(format!("{}-row", rows.low)))
}

/// `5 F a day`, `1 C per minute`: how fast, and no temperature to go to.
fn rate(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    // No more than this: `67 C an hour and a half` is a rest.
    let heat = quantity(bits, 0)?;
    let is_warmth = heat.unit.dimension() == Dimension::Temperature && heat.number <= 15.0;
    // `two degrees a day`, where `a day` is one already.
    let is_one = |time: AsWritten| {
        time.unit.dimension() == Dimension::Time && (time.number - 1.0).abs() < 1e-9
    };
    if is_warmth && quantity(bits, 1).is_some_and(is_one) {
        return Some((2, Vec::new()));
    }
    let is_per = matches!(word(bits, 1), Some("a" | "an" | "per")) || is_mark(bits, 1, '/');
    let times = ["day", "d", "hour", "h", "hr", "minute", "min"];
    let is_time = word(bits, 2).is_some_and(|word| times.contains(&word));
    (is_warmth && is_per && is_time).then(|| (3, Vec::new()))
}

/// `invert no. 3`, `No 1 invert`: a number that is part of the name, as brewers' sugars are sold.
fn numbered_name(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let is_no = |at: usize| matches!(word(bits, at), Some("no" | "nr" | "number"));
    let (no, invert) = match (word(bits, 0), is_no(0)) {
        (Some("invert"), _) if is_no(1) => (1, 0),
        (Some("invert"), _) if word(bits, 1) == Some("sugar") && is_no(2) => (2, 0),
        (_, true) if word(bits, 2) == Some("invert") => (0, 2),
        _ => return None,
    };
    let number = bare(bits, no + 1).filter(|number| matches!(number.low, 1.0 | 2.0 | 3.0))?;
    let count = 1 + invert.max(no + 1);
    let name = format!("invert no. {}", number.low);
    one(bits, count, What::Word(name))
}

/// `half a copper finings tablet`, `6 kettle finings tablets`: the unit behind the name.
fn tablets(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let (number, from) = match (word(bits, 0), word(bits, 1)) {
        (Some("half"), Some("a" | "of")) => (0.5, 2),
        (Some("half"), _) => (0.5, 1),
        (Some("a" | "one"), _) => (1.0, 1),
        _ => (bare(bits, 0)?.middle(), 1),
    };
    let words = bits.get(from..)?.iter().map_while(Bit::word);
    let at = words
        .take(4)
        .position(|word| matches!(word, "tablet" | "tablets" | "tab" | "tabs"))?;
    (at > 0).then_some(())?;
    let first = bits.first()?;
    let packs = What::Quantity(AsWritten::plain(number, Unit::Pack));
    let amount = Bit {
        what: packs,
        span: first.span,
    };
    let name = bits.iter().skip(from).take(at).cloned();
    Some((from + at + 1, std::iter::once(amount).chain(name).collect()))
}

/// Numbers in words.
const NUMBERS: [(&str, f64); 20] = [
    ("another", 1.0),
    ("full", 1.0),
    ("a", 1.0),
    ("an", 1.0),
    ("one", 1.0),
    ("two", 2.0),
    ("three", 3.0),
    ("four", 4.0),
    ("five", 5.0),
    ("six", 6.0),
    ("seven", 7.0),
    ("eight", 8.0),
    ("nine", 9.0),
    ("ten", 10.0),
    ("twelve", 12.0),
    ("fifteen", 15.0),
    ("twenty", 20.0),
    ("thirty", 30.0),
    ("sixty", 60.0),
    ("ninety", 90.0),
];

fn number_of(word: &str) -> Option<f64> {
    let mut numbers = NUMBERS.iter();
    numbers
        .find(|(own, _)| *own == word)
        .map(|(_, number)| *number)
}

/// `half a pound`, `an ounce and a half`, `two weeks`: a number in words before a unit.
fn spoken(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let (number, before) = match (word(bits, 0)?, word(bits, 1), word(bits, 2)) {
        ("half", Some("of"), Some("a" | "an")) => (0.5, 3),
        ("half", Some("a" | "an"), _) => (0.5, 2),
        ("half", ..) => (0.5, 1),
        ("quarter", Some("of"), Some("a" | "an")) => (0.25, 3),
        ("quarter", Some("a" | "an"), _) => (0.25, 2),
        ("quarter", ..) => (0.25, 1),
        ("a" | "an" | "one", Some("half"), _) => (0.5, 2),
        ("a" | "an" | "one", Some("quarter"), _) => (0.25, 2),
        ("a", Some("couple"), Some("of")) => (2.0, 3),
        ("a", Some("couple"), _) => (2.0, 2),
        ("hour" | "pound" | "ounce", Some("and"), Some("a")) => (1.0, 0),
        (first, ..) => (number_of(first)?, 1),
    };
    let rest = bits.get(before..)?;
    // A single letter is a unit behind digits only: `a g` is none.
    let is_long = word(rest, 0).is_some_and(|word| word.len() > 1);
    let printed = is_long
        .then(|| lexer::unit(|at| word(rest, at), ANY))
        .flatten();
    let (unit, words, factor) = if let Some((unit, words)) = printed {
        (unit, words, 1.0)
    } else {
        let (unit, _, factor) = spelt(word(rest, 0)?, plain(number))?;
        (unit, 1, factor)
    };
    let is_none = matches!(
        unit.dimension(),
        Dimension::Ph | Dimension::Ratio | Dimension::GasVolumes
    );
    // `full volume`; but `two volumes` are of gas.
    let is_counted = !matches!(word(bits, 0), Some("full" | "a" | "another" | "half"));
    if is_none && !(is_counted && unit.dimension() == Dimension::GasVolumes) {
        return None;
    }
    let more = rest.get(words..).unwrap_or(&[]);
    let and_a_half =
        (word(more, 0), word(more, 1), word(more, 2)) == (Some("and"), Some("a"), Some("half"));
    let (number, taken) = if and_a_half {
        (number * factor + 0.5, before + words + 3)
    } else {
        (number * factor, before + words)
    };
    one(bits, taken, What::Quantity(AsWritten::plain(number, unit)))
}

/// `pint of slurry`, `oz each`, `handful of heather`: one of a unit.
fn unit_alone(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let first = word(bits, 0)?;
    if matches!(first, "handful" | "pinch") && word(bits, 1) == Some("of") {
        let (unit, _, factor) = spelt(first, plain(1.0))?;
        return one(bits, 2, What::Quantity(AsWritten::plain(factor, unit)));
    }
    let unit = match first {
        "pint" => Unit::Pint,
        "oz" | "ounce" => Unit::Ounce,
        "lb" | "pound" => Unit::Pound,
        "pack" | "packet" | "sachet" => Unit::Pack,
        _ => return None,
    };
    word(bits, 1).filter(|word| matches!(*word, "of" | "each"))?;
    one(bits, 1, What::Quantity(AsWritten::plain(1.0, unit)))
}

/// `4 lb 8 oz`: one quantity in two units.
fn composed(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let mut whole = quantity(bits, 0)?;
    // `1h 45`
    let minutes = bare(bits, 1).filter(|minutes| {
        whole.unit == Unit::Hour && minutes.high.is_none() && (5.0..60.0).contains(&minutes.low)
    });
    let more = match minutes {
        Some(minutes) => AsWritten::marked(minutes, Unit::Minute),
        None => quantity(bits, 1)?,
    };
    whole.absorb(whole.unit, &more).then_some(())?;
    one(bits, 2, What::Quantity(whole))
}

/// A number in words without a unit.
fn number_word(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let first =
        word(bits, 0).filter(|word| !matches!(*word, "a" | "an" | "one" | "full" | "another"))?;
    one(bits, 1, What::Bare(plain(number_of(first)?)))
}

/// `IBU 38`, `pH 5.4`, `EBC: 65`: a unit that stands before its number.
fn labelled(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let unit = match word(bits, 0)? {
        "ibu" | "ibus" | "ebu" => Unit::Ibu,
        "ebc" => Unit::Ebc,
        "srm" => Unit::Srm,
        "ph" => Unit::PhValue,
        "brix" => Unit::Brix,
        "plato" => Unit::Plato,
        _ => return None,
    };
    let between = ["of", "about", "to", "at", "approx", "around"];
    let is_between = |bit: &&Bit| {
        matches!(bit.what, What::Mark(':' | '=' | '~'))
            || bit.word().is_some_and(|word| between.contains(&word))
    };
    let gap = bits.iter().skip(1).take_while(is_between).count();
    let number = bare(bits, 1 + gap)?;
    one(
        bits,
        2 + gap,
        What::Quantity(AsWritten::marked(number, unit)),
    )
}

/// Words that stand before a figure of a beer.
const LABELS: [&str; 17] = [
    "og",
    "fg",
    "sg",
    "tg",
    "ibu",
    "ibus",
    "ebu",
    "bu",
    "ebc",
    "srm",
    "abv",
    "alc",
    "ph",
    "colour",
    "color",
    "bitterness",
    "volume",
];

fn is_label(bits: &[Bit], at: usize) -> bool {
    word(bits, at).is_some_and(|word| LABELS.contains(&word))
}

fn colon(bits: &[Bit], at: usize) -> usize {
    usize::from(is_mark(bits, at, ':') || is_mark(bits, at, '='))
}

/// `OG 1042 EBU 34 SRM 6`: in a row that begins with a label, each unit is the label of the number behind it.
fn labels_first(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    is_label(bits, 0).then_some(())?;
    let mut at = 1 + colon(bits, 1);
    let mut instead: Vec<Bit> = bits.iter().take(at).cloned().collect();
    let mut shifted = 0;
    while let Some(written) = quantity(bits, at)
        && let Some(label) = unit_label(written.unit)
        && written.range.is_none()
    {
        let span = bits.get(at)?.span;
        let comma = What::Mark(',');
        instead.extend([
            Bit {
                what: What::Bare(plain(written.number)),
                span,
            },
            Bit { what: comma, span },
            Bit {
                what: What::Word(label.into()),
                span,
            },
        ]);
        at += 1 + colon(bits, at + 1);
        shifted += 1;
    }
    // Where no number is left for the last unit, each is that of the number before it.
    (shifted > 0 && bare(bits, at).is_some()).then_some((at, instead))
}

/// How a unit is called that is also the label of its figure.
const fn unit_label(unit: Unit) -> Option<&'static str> {
    Some(match unit {
        Unit::Ibu => "ibu",
        Unit::Ebc => "ebc",
        Unit::Srm => "srm",
        _ => return None,
    })
}

/// `OG: 1.042 FG: 1.010`: a figure ends where the next label begins.
fn label_by_label(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    is_label(bits, 0).then_some(())?;
    let at = 1 + colon(bits, 1);
    let number = bits
        .get(at)
        .filter(|bit| bit.bare().is_some() || bit.quantity().is_some())?;
    is_label(bits, at + 1).then_some(())?;
    let mut instead: Vec<Bit> = bits.iter().take(at + 1).cloned().collect();
    instead.push(Bit {
        what: What::Mark(','),
        span: number.span,
    });
    Some((at + 1, instead))
}

/// `8.0 AA`
fn alpha(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let number = bare(bits, 0).filter(|_| matches!(word(bits, 1), Some("aa" | "a.a" | "alpha")))?;
    one(
        bits,
        2,
        What::Quantity(AsWritten::marked(number, Unit::Percent)),
    )
}

/// A bare gravity is one wherever it stands.
fn gravity(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let number = bare(bits, 0)?;
    let is_gravity = BARE_GRAVITY.contains(&number.middle()) && number.middle().fract() != 0.0;
    is_gravity.then_some(())?;
    one(
        bits,
        1,
        What::Quantity(AsWritten::marked(number, Unit::SpecificGravity)),
    )
}

/// `2.7:1`, as liquor stands to grist.
fn ratio(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let number = bare(bits, 0)
        .filter(|number| (1.5..=6.0).contains(&number.low) && is_mark(bits, 1, ':'))?;
    bare(bits, 2).filter(|under| (under.low - 1.0).abs() < 1e-9)?;
    one(
        bits,
        3,
        What::Quantity(AsWritten::marked(number, Unit::LitrePerKilogram)),
    )
}

/// `5 gal (imp)`, `5 gallons imperial`: which gallon it is.
fn imperial(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let mut written = quantity(bits, 0)?;
    let opens = usize::from(is_mark(bits, 1, '('));
    word(bits, 1 + opens).filter(|word| matches!(*word, "imp" | "imperial" | "uk"))?;
    written.unit = imperial_of(written.unit);
    let closes = usize::from(opens > 0 && is_mark(bits, 3, ')'));
    one(bits, 2 + opens + closes, What::Quantity(written))
}

/// The imperial measure of the same name.
pub(super) const fn imperial_of(unit: Unit) -> Unit {
    match unit {
        Unit::Gallon => Unit::ImperialGallon,
        Unit::Quart => Unit::ImperialQuart,
        Unit::Pint => Unit::ImperialPint,
        Unit::FluidOunce => Unit::ImperialFluidOunce,
        Unit::Barrel => Unit::ImperialBarrel,
        other => other,
    }
}

/// `24 to 36 h`, `6 or 7 days`: a range in words.
fn range(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let low = bare(bits, 0).filter(|low| low.high.is_none())?;
    let high = quantity(bits, 2).filter(|high| high.range.is_none())?;
    let joins = matches!(word(bits, 1), Some("to" | "or")) || is_mark(bits, 1, '-');
    let is_near = high.number <= low.low * 4.0
        || high.unit.dimension() == Dimension::Temperature && high.number <= 10.0;
    (joins && low.low < high.number && is_near).then_some(())?;
    let written = AsWritten::between(low.low, high.number, high.unit).ok()?;
    one(bits, 3, What::Quantity(written))
}

/// `4 x 55 lb`, `6 boxes of 44 lb`, `5 sacks … (55 lb each)`: so many times as much. A number of sacks alone is no figure of what they hold.
fn counted(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let count = bare(bits, 0)
        .filter(|count| count.high.is_none() && count.low.fract() == 0.0 && count.low >= 1.0)?;
    let is_holder = word(bits, 1).is_some_and(|word| trade().is_holder(word));
    let at = if is_mark(bits, 1, 'x') {
        Some(2)
    } else if is_holder && word(bits, 2) == Some("of") {
        Some(3)
    } else {
        None
    };
    let measures = |written: &AsWritten| {
        matches!(
            written.unit.dimension(),
            Dimension::Mass | Dimension::Volume
        )
    };
    if let Some((at, each)) = at.and_then(|at| Some((at, quantity(bits, at).filter(measures)?))) {
        return one(bits, at + 1, What::Quantity(so_many(each, count.low)));
    }
    if !is_holder {
        return None;
    }
    let rest = bits.get(2..).unwrap_or(&[]);
    let says_each = |pair: &[Bit]| {
        quantity(pair, 0).is_some() && matches!(word(pair, 1), Some("each" | "apiece" | "ea"))
    };
    let Some(at) = rest.windows(2).position(says_each) else {
        return Some((2, Vec::new()));
    };
    let mut instead: Vec<Bit> = rest.iter().take(at + 1).cloned().collect();
    if let Some(last) = instead.last_mut()
        && let What::Quantity(each) = last.what
    {
        last.what = What::Quantity(so_many(each, count.low));
    }
    Some((2 + at + 1, instead))
}

fn so_many(mut each: AsWritten, count: f64) -> AsWritten {
    each.number *= count;
    each.range = each.range.map(|(low, high)| (low * count, high * count));
    each
}

/// `1 oz each simcoe and amarillo`, `20 g each of saaz, perle and tettnang`: things of which each has the amount.
fn of_each(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let amount = quantity(bits, 0)?;
    let is_weight = amount.unit.dimension() == Dimension::Mass;
    (is_weight && word(bits, 1) == Some("each")).then_some(())?;
    let ends = |bit: &Bit| bit.word().is_none() && !bit.is_mark(',');
    let end = bits
        .iter()
        .skip(2)
        .position(ends)
        .map_or(bits.len(), |at| at + 2);
    let last = (2..end).rev().find(|at| word(bits, *at) == Some("and"))?;
    let mut whole: Vec<Bit> = bits.iter().take(last + 1).cloned().collect();
    for (at, bit) in whole.iter_mut().enumerate().skip(2) {
        if at == last || bit.is_mark(',') {
            bit.what = What::Mark('&');
        }
    }
    Some((last + 1, whole))
}

/// `two batch sparges of 9 L`: of so much together.
fn sparges(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let count = bare(bits, 0).filter(|count| matches!(count.low, 2.0 | 3.0 | 4.0))?;
    let is_it = word(bits, 1) == Some("batch") && word(bits, 2) == Some("sparges");
    let of = usize::from(word(bits, 3) == Some("of"));
    let each = quantity(bits, 3 + of).filter(|each| each.unit.dimension() == Dimension::Volume)?;
    is_it.then_some(())?;
    let mut whole: Vec<Bit> = bits.iter().skip(1).take(2).cloned().collect();
    let span = bits.get(3 + of)?.span;
    whole.push(Bit {
        what: What::Quantity(so_many(each, count.low)),
        span,
    });
    Some((4 + of, whole))
}

/// `pre-acidify to 4.5`
fn acidified(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let verb = word(bits, 0)?;
    let is_it = matches!(
        verb,
        "acidify" | "acidified" | "preacidify" | "pre-acidify" | "pre-acidified"
    ) && word(bits, 1) == Some("to");
    let ph = bare(bits, 2).filter(|ph| (3.0..=5.5).contains(&ph.low))?;
    is_it.then_some(())?;
    let mut whole: Vec<Bit> = bits.iter().take(2).cloned().collect();
    whole.push(Bit {
        what: What::Quantity(AsWritten::marked(ph, Unit::PhValue)),
        span: bits.get(2)?.span,
    });
    Some((3, whole))
}

/// What a water report calls an ion.
fn is_ion(bits: &[Bit], at: usize) -> bool {
    word(bits, at).is_some_and(|word| {
        matches!(
            word,
            "ca" | "mg"
                | "na"
                | "so4"
                | "cl"
                | "hco3"
                | "calcium"
                | "magnesium"
                | "sodium"
                | "sulphate"
                | "sulfate"
                | "chloride"
                | "bicarbonate"
                | "alkalinity"
        )
    })
}

/// `Ca 35 Mg 7 Na 20 Cl 22`: the sign of the next ion is no unit.
fn ions_first(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    is_ion(bits, 0).then_some(())?;
    let at = 1 + colon(bits, 1);
    let written = quantity(bits, at)?;
    let label = match written.unit {
        Unit::Milligram => "mg",
        Unit::Centilitre => "cl",
        _ => return None,
    };
    let behind = at + 1 + colon(bits, at + 1);
    bits.get(behind)
        .filter(|bit| bit.bare().is_some() || bit.quantity().is_some())?;
    let span = bits.get(at)?.span;
    let mut whole: Vec<Bit> = bits.iter().take(at).cloned().collect();
    let number = AsWritten::plain(written.number, Unit::MilligramPerLitre);
    for what in [
        What::Quantity(number),
        What::Mark(','),
        What::Word(label.into()),
    ] {
        whole.push(Bit { what, span });
    }
    // The label begins the next row of all.
    Some((at + 1, whole))
}

/// `target 1052 down to 1010`: no hop of that name.
fn target(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    word(bits, 0).filter(|word| matches!(*word, "target" | "targets"))?;
    let at = 1 + colon(bits, 1);
    let is_gravity = bare(bits, at).is_some_and(|bare| {
        (1000.0..=1200.0).contains(&bare.low) || BARE_GRAVITY.contains(&bare.low)
    }) || quantity(bits, at).is_some_and(|own| own.unit == Unit::Plato);
    is_gravity.then(|| one(bits, 1, What::Word("gravity".into())))?
}

/// `decoction mash: 50 C 20 min, …`: a mash, before its steps.
fn decocted(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let is_it = word(bits, 0).is_some_and(|word| word.starts_with("decoct"))
        && word(bits, 1) == Some("mash");
    let from = 2 + colon(bits, 2);
    let heat = quantity(bits, from).filter(|own| own.unit.dimension() == Dimension::Temperature);
    heat.filter(|_| is_it)?;
    one(bits, 2, What::Word("mash".into()))
}

/// `72 C falling to 66`: between the two. Beer that falls is held at the second.
fn falling(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let high = quantity(bits, 0).filter(|high| {
        high.unit.dimension() == Dimension::Temperature && high.unit.to_base(high.number) > 50.0
    })?;
    let is_it = matches!(
        word(bits, 1),
        Some("falling" | "dropping" | "sinking" | "drifting" | "cooling")
    ) && word(bits, 2) == Some("to");
    let low = bare(bits, 3).map(|low| low.low).or_else(|| {
        let low = quantity(bits, 3).filter(|low| low.unit == high.unit)?;
        Some(low.number)
    })?;
    (is_it && low < high.number).then_some(())?;
    let written = AsWritten::between(low, high.number, high.unit).ok()?;
    one(bits, 4, What::Quantity(written))
}

/// `4 g sugar per litre`: a dose.
fn per_litre(bits: &[Bit]) -> Option<(usize, Vec<Bit>)> {
    let mut dose = quantity(bits, 0).filter(|own| own.unit == Unit::Gram)?;
    let rest = bits.get(1..)?;
    let is_per = |pair: &[Bit]| {
        matches!(word(pair, 0), Some("per" | "a"))
            && matches!(word(pair, 1), Some("litre" | "liter" | "l" | "ltr"))
    };
    // `2 g gypsum per 10 L`
    let is_per_some = |pair: &[Bit]| {
        matches!(word(pair, 0), Some("per"))
            && quantity(pair, 1)
                .is_some_and(|volume| volume.unit == Unit::Litre && volume.number > 0.0)
    };
    if let Some(at) = rest.windows(2).take(4).position(is_per_some)
        && let Some(volume) = quantity(rest, at + 1)
    {
        dose.unit = Unit::GramPerLitre;
        dose.number /= volume.number;
        dose.range = dose
            .range
            .map(|(low, high)| (low / volume.number, high / volume.number));
        let span = bits.first()?.span;
        let dose = Bit {
            what: What::Quantity(dose),
            span,
        };
        let between = rest.iter().take(at).cloned();
        return Some((at + 3, std::iter::once(dose).chain(between).collect()));
    }
    let at = rest.windows(2).take(4).position(is_per)?;
    dose.unit = Unit::GramPerLitre;
    let first = bits.first()?;
    let dose = Bit {
        what: What::Quantity(dose),
        span: first.span,
    };
    let between = rest.iter().take(at).cloned();
    Some((at + 3, std::iter::once(dose).chain(between).collect()))
}
