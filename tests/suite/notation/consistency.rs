//! What is judged from several lines together: shares of the whole wort side, figures against one another.

use wortwright::catalogue::Kind;
use wortwright::diagnostic::{Code, TextRef};
use wortwright::notation::{Reading, ReadingNote, read};

fn parse(text: &str) -> Reading<'_> {
    read(&[TextRef::new("text", text)])
}

fn codes(text: &str) -> Vec<Code> {
    let reading = parse(text);
    reading.diagnostics.iter().map(|found| found.code).collect()
}

const STAND: &str = include_str!("fixtures/sugar_in_a_stand.gyle");

/// A sugar that goes into a stand is wort like all the rest: 90 + 5.2 + 4.6 = 99.8.
#[test]
fn a_sugar_in_a_stand_counts_among_the_shares() {
    let reading = parse(STAND);
    assert_eq!(reading.diagnostics, []);
    assert!(matches!(reading.notes.as_slice(),
        [ReadingNote::SharesNormalised { sum_pct, .. }] if (sum_pct - 99.8).abs() < 1e-9));
    let all_of_it_twice = STAND.replace("90 %", "94.8 %");
    assert_eq!(codes(&all_of_it_twice), [Code::SharesDoNotAddUp]);
    assert_eq!(
        codes(&STAND.replace("4.6 %", "46 g")),
        [Code::SharesBesideMasses]
    );
}

/// 12 °P to 2.5 °P is 5.0 % vol; juice that enters late adds what the gravities do not show.
#[test]
fn alcohol_is_held_against_the_gravities_unless_sugar_enters_late() {
    let text =
        "recipe A\ntarget original 12 P, final 2.5 P, alcohol 6.8 %\nmash\n  100 % pale ale malt\n";
    assert_eq!(codes(text), [Code::FiguresDisagree]);
    assert_eq!(codes(&text.replace("6.8 %", "5.2 %")), []);
    let late =
        format!("{text}ferment\n  add 10 % by volume when 6 P\n    100 % plum juice, 12 Bx\n");
    assert_eq!(codes(&late), []);
    let herb = format!("{text}ferment\n  add 2 g/L juniper berries on day 3\n");
    assert_eq!(codes(&herb), [Code::FiguresDisagree]);
}

/// The shore of the Dead Sea, 430 m below the sea.
#[test]
fn a_brewery_may_lie_below_the_sea() {
    let reading = parse("brewhouse Shore\n  altitude -430 m\n");
    assert_eq!(reading.diagnostics, []);
    assert_eq!(reading.brewhouses[0].altitude.unwrap().number(), -430.0);
    assert_eq!(
        codes("brewhouse Pit\n  altitude -501 m\n"),
        [Code::OutOfRange]
    );
    assert_eq!(
        codes("brewhouse Sky\n  altitude 9001 m\n"),
        [Code::OutOfRange]
    );
}

/// A slip is told once.
#[test]
fn one_slip_gives_one_finding() {
    for (text, code) in [
        ("recipe A\n\"mash\n", Code::UnterminatedQuote),
        (
            "recipe A\nmash\n  5 kg \"pale ale malt, 5 EBC\n",
            Code::UnterminatedQuote,
        ),
        (
            "recipe A\nmash\n  5 kg pale ale malt, 5.5 QBC\n",
            Code::UnknownUnit,
        ),
        (
            "recipe A\nmash\n  5 kg pale ale malt, 5.5 qqq\n",
            Code::UnknownUnit,
        ),
        (
            "recipe A\nmash\n  5 kg pale ale malt, 5.5\n",
            Code::MissingUnit,
        ),
        ("recipe A\nmash\n  5 kq pale ale malt\n", Code::UnknownUnit),
        (
            "recipe A\nmash\n  5 kg pale ale malt, 200 % extract\n",
            Code::OutOfRange,
        ),
        ("recipe A\nbrewd on Barn\n", Code::UnknownKeyword),
        ("recipe A\nbrewed Barn\n", Code::UnknownKeyword),
        ("recipe A\nbrewed at Barn\n", Code::UnknownKeyword),
        ("recipe A\nbrewed on\n", Code::MissingName),
        (
            "recipe A\nbrewed on \"Barn\nbrewhouse Barn\n  kettle 9 L\n",
            Code::UnterminatedQuote,
        ),
        (
            "recipe A\nbrewed on \"Barn, upstairs\nbrewhouse Barn\n  kettle 9 L\n",
            Code::UnterminatedQuote,
        ),
        (
            "recipe A\nbrewed on Bern\nbrewhouse Barn\n  kettle 9 L\n",
            Code::UnknownPlant,
        ),
    ] {
        assert_eq!(codes(text), [code], "{text}");
    }
}

/// In one unit two numbers are two figures, however near; in two units they are one if they agree as printed.
#[test]
fn near_figures_in_one_unit_are_not_the_same() {
    let head = |figures: &str| codes(&format!("recipe A\ntarget {figures}\n"));
    for figures in [
        "original 12 P, original 12.1 P",
        "original 1.050, original 1.0504",
        "colour 20 EBC, colour 20.1 EBC",
    ] {
        assert_eq!(head(figures), [Code::ConflictingFacts], "{figures}");
    }
    // 1.0484 is 12.0 °P in the tables; 10 SRM are 19.7 EBC.
    for figures in [
        "original 12 P, original 1.0484",
        "colour 19.7 EBC, colour 10 SRM",
        "original 12 P, original 12.0 P",
    ] {
        assert_eq!(head(figures), [], "{figures}");
    }
    let malt = |figures: &str| {
        codes(&format!(
            "recipe A\nmash\n  5 kg pale ale malt, {figures}\n"
        ))
    };
    let near = malt("80 % extract dry, 80.5 % extract dry");
    assert_eq!(near, [Code::ConflictingFacts]);
}

/// A bitterness of nothing would be a figure that nobody stated.
#[test]
fn a_hop_without_a_cultivar_is_a_hop() {
    let boil = |line: &str| format!("recipe A\nboil 60 min\n  {line}\n");
    for name in ["hops", "hop cones", "Hop pellets", "noble hops"] {
        let text = boil(&format!("30 g {name}, 9 % alpha at 60 min"));
        let reading = parse(&text);
        assert!(reading.is_usable(), "{text}");
        let hop = &reading.recipe.unwrap().boil.additions[0];
        assert_eq!(hop.ingredient().unwrap().kind, Kind::Hop, "{name}");
        for line in ["30 g NAME at 60 min", "20 IBU NAME at 60 min"] {
            let text = boil(&line.replace("NAME", name));
            assert_eq!(codes(&text), [Code::MissingAlpha], "{text}");
        }
    }
    // The figures of a sugar make it one, whatever it is called.
    let text = boil("200 g hop honey, 80 % extract at 10 min");
    let reading = parse(&text);
    assert!(reading.is_usable(), "{:#?}", reading.diagnostics);
    let honey = &reading.recipe.unwrap().boil.additions[0];
    assert_eq!(honey.ingredient().unwrap().kind, Kind::Sugar);
}

/// What a help says to write is read without a word.
#[test]
fn the_help_of_a_figure_without_a_word_fits_its_unit() {
    for (line, found) in [
        ("mash\n  5 kg pale ale malt", "50 %"),
        ("ferment\n  add 1 L plum juice", "0.05 g/L"),
    ] {
        let text = format!("recipe A\n{line}, {found}\n");
        let reading = parse(&text);
        assert_eq!(reading.diagnostics[0].code, Code::UnknownAttribute);
        let help = reading.diagnostics[0].help.as_deref().unwrap();
        assert!(help.starts_with("add `"), "{help}");
        for word in help.split('`').skip(1).step_by(2) {
            let mended = format!("recipe A\n{line}, {found} {word}\n");
            assert_eq!(codes(&mended), [], "{mended}");
        }
    }
}

/// A lauter line has one figure at most, and the last of two is not taken in silence.
#[test]
fn a_lauter_line_says_one_thing() {
    let plant = |line: &str| codes(&format!("brewhouse P\n  lauter {line}\n"));
    for way in [
        "bag, sparge 2 L",
        "batch, sparges 2",
        "continuous, yield 90 %",
    ] {
        assert_eq!(plant(way), [], "{way}");
        let (_, figure) = way.split_once(", ").unwrap();
        let twice = format!("{way}, {figure}");
        assert_eq!(plant(&twice), [Code::UnexpectedWords], "{twice}");
    }
}

/// A basis of shares beside masses has no effect, which is told at its line.
#[test]
fn a_basis_without_shares_is_told() {
    for basis in ["by weight", "by extract"] {
        let text = format!("recipe A\nshares {basis}\nmash\n  5 kg pale ale malt\n");
        let reading = parse(&text);
        let [told] = reading.diagnostics.as_slice() else {
            panic!("{:?}", reading.diagnostics)
        };
        assert_eq!(told.code, Code::UnusedLine);
        assert_eq!(told.span.slice(&text), format!("shares {basis}"));
        assert_eq!(codes(&text.replace("5 kg", "100 %")), []);
    }
}

/// A name that several go by bans or lists one of them only, which is said; the help can be typed.
#[test]
fn a_stock_is_not_narrowed_in_silence() {
    for line in ["none wheat", "any pale malt", "any crystal"] {
        let text = format!("stock\n  {line}\n");
        assert_eq!(codes(&text), [Code::UnknownIngredient], "{line}");
        let reading = parse(&text);
        let help = reading.diagnostics[0].help.as_deref().unwrap();
        let typed = help.split('`').nth(1).unwrap();
        assert_eq!(codes(&format!("stock\n  {typed}\n")), [], "{typed}");
    }
    assert_eq!(codes("stock\n  none wheat malt\n  any Crystal\n"), []);
}
