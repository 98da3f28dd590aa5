//! What holds of any beer, whoever writes it down and however.

use super::answer::{self, Asked, Figures, HOME, WORKS};
use super::compare::{Within, differences};
use super::draw::{self, Beer};
use super::page::Line;
use crate::brewing::{Numbers, kg};
use wortwright::catalogue::Kind;
use wortwright::diagnostic::{Error, TextRef};
use wortwright::notation::{DecimalComma, Document, ReadOptions, read, read_with};
use wortwright::process::Stage;
use wortwright::quantity::Bitterness;
use wortwright::recipe::BitternessModel;
use wortwright::scale::{Outcome, Plan, PlannedAddition};

/// A beer with what it is answered.
#[derive(Debug)]
pub struct Case {
    pub seed: u64,
    pub beer: Beer,
    pub text: String,
    pub plan: Plan,
    pub figures: Figures,
    /// What a law draws of its own.
    pub numbers: Numbers,
    /// A fault that is planted to see whether the law finds it.
    pub fault: Fault,
}

/// A fault of whoever reads or answers.
#[derive(Debug, Clone, Copy)]
pub enum Fault {
    None,
    /// The other text is read as if it were another one.
    Text(fn(&str) -> String),
    /// A figure of the other answer is off by so many parts of itself.
    Figure(&'static str, f64),
    /// What is taken changes nothing.
    Untaken,
}

impl Case {
    /// The case of a beer.
    ///
    /// # Errors
    ///
    /// When it is refused.
    pub fn of(seed: u64, fault: Fault) -> Result<Self, Error> {
        let beer = draw::beer(seed);
        let text = beer.page.text();
        let plan = answer::plan(&text, HOME, Asked::Exact)?;
        Ok(Self {
            seed,
            beer,
            text,
            figures: answer::of_plan(&plan),
            plan,
            numbers: Numbers(seed),
            fault,
        })
    }

    /// The other text of a law, with the fault in it.
    fn read_as(&self, text: String) -> String {
        match self.fault {
            Fault::Text(bent) => bent(&text),
            _ => text,
        }
    }

    /// The figures of the other answer, with the fault in them.
    pub(super) fn answered(&self, mut figures: Figures) -> Figures {
        if let Fault::Figure(name, part) = self.fault {
            for figure in figures.iter_mut().filter(|(path, _)| path.contains(name)) {
                *figure.1 *= 1.0 + part;
            }
        }
        figures
    }
}

/// What a law finds: nothing, that it does not apply, or in which figures two answers differ.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Found {
    Holds,
    DoesNotApply,
    Fails(String),
}

/// A law with its name.
pub type Law = (&'static str, fn(&mut Case) -> Found);

/// Laws of the text alone: what is read is the same to the last bit, so that all figures are.
pub const OF_THE_TEXT: [Law; 4] = [
    ("printed and read again", printed_and_read),
    ("models written down and read again", written_down),
    ("decimal commas", decimal_commas),
    ("line ends of two bytes", two_byte_ends),
];

/// Laws of the answer.
pub const OF_THE_ANSWER: [Law; 9] = [
    ("units exchanged", units_exchanged),
    ("lines in another order", another_order),
    ("a line in two", a_line_in_two),
    ("recipe and plants so many times", so_many_times),
    ("a plan's own text predicted", own_text_predicted),
    ("a plan's own text planned again", own_text_planned),
    ("there and back again", there_and_back),
    ("a proposal taken", proposal_taken),
    ("a remedy taken", remedy_taken),
];

pub(super) fn all(_: &str) -> bool {
    true
}

/// Finds whether two answers agree.
fn agree(one: &Figures, other: &Figures, within: Within) -> Found {
    let told = differences(one, other, within);
    if told.is_empty() {
        Found::Holds
    } else {
        Found::Fails(told)
    }
}

/// Whether a page that says the same has the same spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Spread {
    Compared,
    /// Each line is weighed by itself, and balances and marks are off by grams and litres, of however much.
    Apart,
}

/// Finds whether another page is answered the same.
fn same_answer(case: &Case, other: String, within: Within, spread: Spread) -> Found {
    let other = &*case.read_as(other);
    match answer::plan(other, HOME, Asked::Exact) {
        Ok(plan) => {
            let found = agree(
                &case.figures,
                &case.answered(answer::of_plan(&plan)),
                within,
            );
            if found != Found::Holds {
                return with_page(found, other);
            }
            if spread == Spread::Compared {
                let spreads = same_spread(case, other);
                if spreads != Found::Holds {
                    return with_page(spreads, other);
                }
            }
            let logs = [case.text.as_str(), other].map(answer::of_logs);
            match logs {
                [Ok(one), Ok(other)] => agree(&one, &other, within),
                _ => Found::Fails("logs that are read no more".to_owned()),
            }
        }
        Err(error) => Found::Fails(format!("refused: {error}\n{other}")),
    }
}

/// One beer of so many is asked for its spread too, which takes as long as the rest.
const SPREAD_OF: u64 = 4;
/// A spread is worked out from differences of answers, which lose digits.
const OF_DIFFERENCES: f64 = 1e-6;

/// Whether another page is answered the same spread.
fn same_spread(case: &Case, other: &str) -> Found {
    if !case.seed.is_multiple_of(SPREAD_OF) {
        return Found::Holds;
    }
    let within = Within {
        part: OF_DIFFERENCES,
        factor: 1.0,
        of: all,
    };
    let spread_of =
        |text| answer::plan(text, HOME, Asked::WithSpread).map(|plan| answer::spread(&plan));
    match (spread_of(&case.text), spread_of(other)) {
        (Ok(one), Ok(other)) => agree(&one, &case.answered(other), within),
        (one, other) => Found::Fails(format!("no spread: {:?} {:?}", one.err(), other.err())),
    }
}

pub(super) fn with_page(found: Found, page: &str) -> Found {
    match found {
        Found::Fails(told) => Found::Fails(format!("{told}the other page:\n{page}")),
        found => found,
    }
}

/// Whether two texts mean the same models.
fn same_models(case: &Case, other: String, options: &ReadOptions) -> Found {
    let (one, other) = (&*case.text, &*case.read_as(other));
    let catalogue = wortwright::catalogue::Catalogue::builtin();
    let first = read(&[TextRef::new("beer", one)]);
    let second = read_with(&[TextRef::new("beer", other)], &catalogue, options);
    if !second.is_usable() {
        return Found::Fails(format!("{:?}\n{other}", second.diagnostics));
    }
    let is_same = first.recipe == second.recipe
        && first.brewhouses == second.brewhouses
        && first.stock == second.stock
        && first.logs == second.logs
        && first.ingredients == second.ingredients;
    if is_same {
        Found::Holds
    } else {
        Found::Fails(format!("other models:\n{other}"))
    }
}

fn printed_and_read(case: &mut Case) -> Found {
    let reading = read(&[TextRef::new("beer", &case.text)]);
    let printed: String = reading.documents.iter().map(ToString::to_string).collect();
    same_models(case, printed, &ReadOptions::default())
}

fn written_down(case: &mut Case) -> Found {
    let reading = read(&[TextRef::new("beer", &case.text)]);
    let Some(recipe) = &reading.recipe else {
        return Found::DoesNotApply;
    };
    let mut document = Document::from(recipe);
    for plant in &reading.brewhouses {
        document = document.followed_by(Document::from(plant));
    }
    let mut text = document.to_string();
    for ingredient in &reading.ingredients {
        text += "\n";
        text += &Document::of_ingredient(ingredient)
            .map(|own| own.to_string())
            .unwrap_or_default();
    }
    if !reading.stock.lots.is_empty() {
        text += "\n";
        text += &Document::from(&reading.stock).to_string();
    }
    for log in &reading.logs {
        text += "\n";
        text += &Document::from(log).to_string();
    }
    same_models(case, text, &ReadOptions::default())
}

fn decimal_commas(case: &mut Case) -> Found {
    let comma = ReadOptions::default().with_decimal_comma(DecimalComma::Accepted);
    let chars: Vec<char> = case.text.chars().collect();
    let is_digit = |at: usize| chars.get(at).is_some_and(char::is_ascii_digit);
    let text: String = (0..chars.len())
        .map(|at| match chars[at] {
            '.' if at > 0 && is_digit(at - 1) && is_digit(at + 1) => ',',
            other => other,
        })
        .collect();
    same_models(case, text, &comma)
}

fn two_byte_ends(case: &mut Case) -> Found {
    let text = case.text.replace('\n', "\r\n");
    same_models(case, text, &ReadOptions::default())
}

/// Which way out is told first hangs on what can be measured: a range that is narrower than a step holds an amount in litres and none in
/// gallons, or in a larger brew.
fn without_the_remedy(name: &str) -> bool {
    !name.starts_with("remedy:")
}

/// A figure in another unit is off by the last of the thirteen digits of a page; of a grist near the strongest, and of what is found from
/// that in turn, that is multiplied by some thousands.
fn units_exchanged(case: &mut Case) -> Found {
    let other = case.beer.page.in_other_units(&mut case.numbers);
    let within = Within {
        part: 1e-7,
        factor: 1.0,
        of: without_the_remedy,
    };
    same_answer(case, other.text(), within, Spread::Compared)
}

fn another_order(case: &mut Case) -> Found {
    let other = case.beer.page.in_other_order(&mut case.numbers);
    let within = Within {
        part: 1e-9,
        factor: 1.0,
        // Which blend of its stage one is, is its place; and one note speaks of all hops without a form, at the first of them, so
        // that sheet and plan say it once where they begin with the same.
        of: |name| {
            name.rsplit('.').next() != Some("blend") && name != "assumptions: hops_are_pellets"
        },
    };
    same_answer(case, other.text(), within, Spread::Compared)
}

/// What is said of a line is said of each of two.
pub(super) fn without_what_is_said(name: &str) -> bool {
    ![
        "changes:",
        "assumptions:",
        "warnings:",
        "drift:",
        "outcomes:",
    ]
    .iter()
    .any(|list| name.starts_with(list))
}

fn a_line_in_two(case: &mut Case) -> Found {
    let Some((other, line)) = case.beer.page.with_a_line_in_two(&mut case.numbers) else {
        return Found::DoesNotApply;
    };
    let within = Within {
        part: 1e-9,
        factor: 1.0,
        of: without_what_is_said,
    };
    match same_answer(case, other.text(), within, Spread::Apart) {
        Found::Fails(told) => Found::Fails(format!("`{line}`\n{told}")),
        found => found,
    }
}

fn so_many_times(case: &mut Case) -> Found {
    // Plants of one class stay of it: what is assumed of a large one is not what is assumed of a pot.
    let factor = case.numbers.between(0.6, 1.9);
    let other = case.beer.page.times(factor);
    let within = Within {
        part: 1e-9,
        factor,
        of: |name| without_what_is_said(name) && without_the_remedy(name),
    };
    same_answer(case, other.text(), within, Spread::Apart)
}

/// Figures of the beer and its volumes, which a prediction has as well as a plan; gas and mash pH are worked out by a plan alone.
fn of_the_beer(name: &str) -> bool {
    let is_of = ["predicted.", "volumes."]
        .iter()
        .any(|part| name.starts_with(part));
    is_of && !name.contains("carbonation") && !name.contains("mash_ph")
}

/// A plan that is written for a machine has twelve digits, what kettles keep and packages hold is settled in rounds to some more, and of a
/// mash near the strongest that a plant can do a digit of its gravity is hundreds of its grist.
fn own_text_predicted(case: &mut Case) -> Found {
    let text = case.read_as(case.plan.to_document().to_string());
    let again = answer::brew(&text, HOME, Asked::Exact).and_then(|brew| brew.predict());
    match again {
        Ok(again) => {
            let mut figures = answer::of(
                "predicted",
                &serde_json::to_value(&again.predicted).unwrap_or_default(),
            );
            figures.extend(answer::of(
                "volumes",
                &serde_json::to_value(&again.volumes).unwrap_or_default(),
            ));
            let within = Within {
                part: 1e-6,
                factor: 1.0,
                of: of_the_beer,
            };
            with_page(agree(&case.figures, &case.answered(figures), within), &text)
        }
        Err(error) => Found::Fails(format!("refused: {error}\n{text}")),
    }
}

fn own_text_planned(case: &mut Case) -> Found {
    let text = case.read_as(case.plan.to_document().to_string());
    match answer::plan(&text, HOME, Asked::Exact) {
        Ok(again) => {
            let within = Within {
                part: 1e-6,
                factor: 1.0,
                of: of_the_beer,
            };
            with_page(
                agree(
                    &case.figures,
                    &case.answered(answer::of_plan(&again)),
                    within,
                ),
                &text,
            )
        }
        Err(error) => Found::Fails(format!("refused: {error}\n{text}")),
    }
}

/// Amounts, and the beer that they make. Salts and acid that a plan works out stand with the grain of its text.
fn of_beer_and_amounts(name: &str) -> bool {
    let is_worked_out = ["acid,", "salt,"].iter().any(|kind| name.contains(kind));
    !is_worked_out && of_the_beer(name)
        || !is_worked_out
            && name.starts_with("additions")
            && name.ends_with("_kg")
            && !name.contains("source")
}

/// Whether a plan is the beer that was wanted.
fn is_in_reach(plan: &Plan) -> bool {
    !plan.outcomes.iter().any(|told| {
        matches!(
            told.what,
            Outcome::GravityOutOfReach { .. }
                | Outcome::KettleOverflows { .. }
                | Outcome::BitternessNotMet { .. }
        )
    })
}

/// Whether the bittering hop is left out and the beer is more bitter all the same: what the others bring cannot be taken out of a wort, so
/// that it is another beer than was wanted.
fn is_too_bitter(plan: &Plan) -> bool {
    let none = |added: &PlannedAddition| {
        added.kind == Kind::Hop
            && added.stage == Stage::Boil
            && added.mass.is_some_and(|mass| kg(mass) == 0.0)
    };
    let ibu = |figures: &wortwright::process::Figures| figures.bitterness.map(Bitterness::ibu);
    plan.additions.iter().any(none) && ibu(&plan.predicted) > ibu(&plan.source)
}

/// Where a recipe says how thick its mash is, a plant that says so too goes before it, and its plan's text states the plant's: the way
/// back is that of another mash.
fn says_how_thick(case: &Case) -> bool {
    let mash = |line: &&Line| line.text() == "mash";
    let mash = case.beer.page.lines.iter().find(mash);
    let mut lines = mash.into_iter().flat_map(|mash| &mash.below);
    lines.any(|line| line.text().starts_with("mash in"))
}

/// A stand of the sheet without additions is done on a plant that has a stand, in its own time; one that has none leaves it out, and with
/// it its temperature.
fn has_a_bare_stand(case: &Case) -> bool {
    let mut lines = case.beer.page.lines.iter();
    lines.any(|line| line.below.is_empty() && line.text().starts_with("stand"))
}

/// By one model of bitterness: of two plants with a model each one plan keeps the bitterness by one, and the other by the other.
fn there_and_back(case: &mut Case) -> Found {
    if says_how_thick(case) || has_a_bare_stand(case) {
        return Found::DoesNotApply;
    }
    let model = match case.numbers.one_of(&["tinseth", "kinetic"]) {
        "tinseth" => BitternessModel::Tinseth,
        _ => BitternessModel::Kinetic,
    };
    let asked = Asked::By(model);
    let here = match answer::plan(&case.text, HOME, asked) {
        Ok(here) if is_in_reach(&here) => here,
        Ok(_) => return Found::DoesNotApply,
        Err(error) => return Found::Fails(format!("refused here: {error}")),
    };
    let plants = &case.beer.page.lines;
    let works = plants.iter().find(|line| line.is_plant(WORKS));
    let works = works.map_or_else(String::new, Line::text_below);
    let text = case.read_as(format!("{}\n{works}", here.to_document()));
    let away = match answer::plan(&text, WORKS, asked) {
        Ok(away) if is_in_reach(&away) && !is_too_bitter(&away) => away,
        Ok(_) => return Found::DoesNotApply,
        Err(error) => return Found::Fails(format!("refused there: {error}\n{text}")),
    };
    let home = Document::from(&here.brewhouse);
    let text = format!("{}\n{home}", away.to_document());
    match answer::plan(&text, HOME, asked) {
        Ok(back) => {
            let within = Within {
                part: 1e-6,
                factor: 1.0,
                of: of_beer_and_amounts,
            };
            let found = agree(
                &answer::of_plan(&here),
                &case.answered(answer::of_plan(&back)),
                within,
            );
            with_page(found, &text)
        }
        Err(error) => Found::Fails(format!("refused back: {error}\n{text}")),
    }
}

fn proposal_taken(case: &mut Case) -> Found {
    if !case.text.contains("\n  none ") {
        return Found::DoesNotApply;
    }
    let asked = answer::brew(&case.text, HOME, Asked::Exact);
    let found = asked.and_then(|brew| Ok((brew.substitutes()?, brew)));
    let (found, brew) = match found {
        Ok(found) => found,
        Err(error) => return Found::Fails(format!("refused: {error}")),
    };
    let proposals = found
        .missing
        .iter()
        .flat_map(|line| line.proposals.iter().take(2));
    let mut any = Found::DoesNotApply;
    for proposal in proposals {
        let plan = brew.taking([proposal]).and_then(|brew| brew.plan());
        let plan = match plan {
            Ok(plan) => plan,
            Err(error) => return Found::Fails(format!("refused: {error}")),
        };
        let promised = answer::of(
            "predicted",
            &serde_json::to_value(&proposal.predicted).unwrap_or_default(),
        );
        let given = answer::of(
            "predicted",
            &serde_json::to_value(&plan.predicted).unwrap_or_default(),
        );
        let within = Within {
            part: 1e-9,
            factor: 1.0,
            of: all,
        };
        any = agree(&promised, &case.answered(given), within);
        if any != Found::Holds {
            return any;
        }
    }
    any
}

fn remedy_taken(case: &mut Case) -> Found {
    let Some(remedy) = case.plan.remedy.clone() else {
        return Found::DoesNotApply;
    };
    let taken = answer::brew(&case.text, HOME, Asked::Exact)
        .and_then(|brew| match case.fault {
            Fault::Untaken => Ok(brew),
            _ => brew.taking([&remedy]),
        })
        .and_then(|brew| brew.plan());
    match taken {
        Ok(taken) if is_in_reach(&taken) => Found::Holds,
        Ok(taken) => Found::Fails(format!("{remedy:?}: after it {:?}", taken.outcomes)),
        Err(error) => Found::Fails(format!("{remedy:?} refused: {error}")),
    }
}
