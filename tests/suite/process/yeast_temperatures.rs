//! Fermentation temperatures against the catalogue's usual range of the yeast.

use wortwright::Job;
use wortwright::speech::{Speaks, Style};

/// Places and texts of the warnings of a lager (8 to 14 °C in the catalogue) that ferments as the lines say.
fn told(lines: &str) -> Vec<(String, String)> {
    let text = format!(
        "recipe Lager\nbatch 10 hL\ntarget original 12 P\nmash\n  100 % pilsner malt\nboil 60 min\nferment\n{lines}"
    );
    let predicted = Job::read([("lager", text)]).unwrap().as_written().unwrap();
    let warnings = predicted.warnings.iter();
    let of_yeast = warnings.filter(|told| told.code() == "yeast_temperature");
    of_yeast
        .map(|told| {
            let place = told.place().unwrap().to_string();
            (place, told.text(Style::default()))
        })
        .collect()
}

#[test]
fn a_usual_temperature_is_not_spoken_of() {
    assert_eq!(
        told("  pitch lager yeast at 10 C\n  hold 12 C for 10 days\n"),
        []
    );
}

/// Strains of a kind differ by a degree; lagers are pitched two colder and left to rise; a beer that has begun may finish four warmer, as at
/// a diacetyl rest. A beer that is only crashed fermented as it was pitched, and one that was pitched in the range did not start where it is
/// held colder later.
#[test]
fn what_brewers_do_is_not_spoken_of() {
    for lines in [
        "  pitch lager yeast at 15 C\n",
        "  pitch lager yeast at 6 C\n  hold 10 C for 10 days\n",
        "  pitch lager yeast at 10 C\n  hold 2 C for 14 days\n",
        "  pitch lager yeast\n  hold 2 C for 14 days\n",
        "  pitch lager yeast\n  hold 7 C for 14 days\n",
        "  pitch lager yeast at 10 C\n  hold 5 C for 14 days\n",
        "  pitch lager yeast at 8 C\n  hold 10 C for 10 days\n  hold 17 C for 3 days\n  hold 1 C for 30 days\n",
    ] {
        assert_eq!(told(lines), [], "{lines}");
    }
    for lines in [
        "  pitch lager yeast at 15.5 C\n",
        "  pitch lager yeast at 5.5 C\n  hold 10 C for 10 days\n",
        "  pitch lager yeast\n  hold 6.5 C for 14 days\n",
        "  pitch lager yeast at 8 C\n  hold 17 C for 10 days\n",
        "  pitch lager yeast at 8 C\n  hold 10 C for 10 days\n  hold 19 C for 3 days\n",
    ] {
        assert_eq!(told(lines).len(), 1, "{lines}");
    }
}

#[test]
fn a_beer_that_has_fermented_may_be_cold_but_not_warm() {
    let cold = "  pitch lager yeast at 10 C\n  hold 12 C for 10 days\n  hold 1 C for 14 days\n";
    assert_eq!(told(cold), []);
    let [(place, text)] = &told(&cold.replace("1 C for", "25 C for"))[..] else {
        panic!("one warning")
    };
    assert_eq!(place, "recipe.fermentation.holds[1].temperature_c");
    assert!(text.contains("keep it cooler"), "{text}");
}

#[test]
fn what_starts_too_cold_is_told_at_its_line() {
    let [(pitch, text), (hold, _)] =
        &told("  pitch lager yeast at 3 C\n  hold 4 C for 10 days\n")[..]
    else {
        panic!("two warnings")
    };
    assert_eq!(pitch, "recipe.fermentation.pitch.timing.at.at_c");
    assert_eq!(hold, "recipe.fermentation.holds[0].temperature_c");
    assert!(
        text.contains("3 °C") && text.contains("start warmer"),
        "{text}"
    );
}
