//! Nothing that a brewer adds counts for nothing in silence: it is counted, known to bring nothing, or refused.

mod drinks;
mod hops;
mod packs;
mod told;
mod unknown;
mod water;

use crate::brewing::{l, predicted_on};
use wortwright::diagnostic::Error;
use wortwright::process::Prediction;
use wortwright::speech::Speaks;

/// A beer of 20 L with these lines in its blocks, on a plant where everything is stated.
#[derive(Default, Clone, Copy)]
struct Lines<'a> {
    mash: &'a str,
    boil: &'a str,
    hot: &'a str,
    ferment: &'a str,
    package: &'a str,
    plant: &'a str,
}

const PLAIN: Lines<'_> = Lines {
    mash: "",
    boil: "  30 g northern brewer, 9 % alpha at 60 min\n",
    hot: "",
    ferment: "",
    package: "",
    plant: "",
};

impl Lines<'_> {
    fn text(self) -> String {
        format!(
            "recipe Counted\nbatch 20 L into fermenter\nmash\n  4.5 kg pale ale malt\n{}boil 60 min\n{}{}ferment\n  \
             pitch american ale yeast, attenuation 75 %\n{}package\n  bottle, carbonate 5 g/L at 20 C\n{}\
             brewhouse Home\n  batch 20 L into fermenter\n  extract yield 75 %\n  absorption 1 L/kg\n  evaporation 4 L/h\n  \
             kettle loss 1 L\n  fermenter loss 1 L\n{}",
            self.mash, self.boil, self.hot, self.ferment, self.package, self.plant
        )
    }

    fn predicted(self) -> Prediction {
        predicted_on(&self.text(), "Home")
    }

    fn refused(self) -> Error {
        let job = wortwright::Job::read([("text", self.text())]).unwrap();
        let brew = job.on("Home").unwrap();
        let error = brew.predict().unwrap_err();
        assert_eq!(brew.plan().unwrap_err(), error);
        error
    }

    /// Refused at the line that holds `at`, with a help that holds `help`.
    #[track_caller]
    fn refused_at(self, at: &str, help: &str) {
        let error = self.refused();
        let text = self.text();
        let span = error.span().unwrap_or_else(|| panic!("{error}"));
        let line = text[..span.start as usize].matches('\n').count();
        assert!(text.lines().nth(line).unwrap().contains(at), "{error}");
        assert!(
            error.help().is_some_and(|said| said.contains(help)),
            "{error}"
        );
    }
}

fn abv(found: &Prediction) -> f64 {
    found.predicted.alcohol.unwrap().percent()
}

fn finished_l(found: &Prediction) -> f64 {
    l(found.predicted.finished.unwrap())
}

/// The places that an entry of this code speaks of.
fn places(found: &Prediction, code: &str) -> Vec<String> {
    let entries = found
        .assumptions
        .iter()
        .filter(|entry| entry.code() == code);
    entries
        .filter_map(|entry| entry.place().map(ToString::to_string))
        .collect()
}
