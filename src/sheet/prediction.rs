//! A prediction as text.

use super::SheetOptions;
use super::page::Page;
use super::spread::{Doubted, LEGEND};
use super::{head, reasons, units};
use crate::process::{Figures, PredictedFigure, Prediction};
use crate::quantity::Bitterness;
use crate::speech::{Style, alcohol, percent};

impl Prediction {
    /// The prediction as plain text: printed against predicted figures, volumes, assumptions, warnings. Without a style
    /// in the options it speaks metric.
    #[must_use]
    pub fn sheet(&self, options: &SheetOptions) -> String {
        let style = options.style.unwrap_or_default();
        let mut page = Page::default();
        figures(&mut page, self, style);
        volumes(&mut page, self, style);
        reasons::warnings(&mut page, self.warnings.iter(), style);
        reasons::assumed(&mut page, &self.assumptions, style);
        page.into_text()
    }
}

/// One figure, said.
type Say<'a> = &'a dyn Fn(&Figures) -> Option<String>;

fn figures(page: &mut Page, prediction: &Prediction, style: Style) {
    page.heading("FIGURES");
    page.columns("", &["original sheet", "predicted"]);
    let later = has_later(prediction);
    // Without hops there is nothing to say.
    let ibu = |b: Bitterness| (b.ibu() > 0.0).then(|| format!("{:.0} IBU", b.ibu()));
    let rows: [(&str, PredictedFigure, Say<'_>); 17] = [
        ("Original gravity", PredictedFigure::Original, &|f| {
            f.original.map(|g| style.gravity(g))
        }),
        ("Final gravity", PredictedFigure::Final, &|f| {
            f.final_extract.map(|g| style.gravity(g))
        }),
        (
            "   if the juice ferments out fully",
            PredictedFigure::FinalIfJuiceFerments,
            &|f| f.final_if_juice_ferments.map(|g| style.gravity(g)),
        ),
        (
            "   without fermenter additions",
            PredictedFigure::WortFinal,
            &|f| f.wort_final.filter(|_| later).map(|g| style.gravity(g)),
        ),
        (
            "Gravity before the addition",
            PredictedFigure::BeforeAddition,
            &|f| f.before_addition.map(|g| style.gravity(g)),
        ),
        (
            "Gravity after the addition",
            PredictedFigure::AfterAddition,
            &|f| f.after_addition.map(|g| style.gravity(g)),
        ),
        (
            "Original gravity incl. additions",
            PredictedFigure::EquivalentOriginal,
            &|f| {
                let counted = f.equivalent_original.filter(|_| later);
                counted.map(|g| style.gravity(g))
            },
        ),
        ("Alcohol", PredictedFigure::Alcohol, &|f| {
            f.alcohol.map(alcohol)
        }),
        (
            "   if the juice ferments out fully",
            PredictedFigure::AlcoholIfJuiceFerments,
            &|f| f.alcohol_if_juice_ferments.map(alcohol),
        ),
        ("Bitterness", PredictedFigure::Bitterness, &|f| {
            f.bitterness.and_then(ibu)
        }),
        ("   by Tinseth", PredictedFigure::BitternessTinseth, &|f| {
            f.bitterness_tinseth.and_then(ibu)
        }),
        (
            "   by isomerisation kinetics",
            PredictedFigure::BitternessKinetic,
            &|f| f.bitterness_kinetic.and_then(ibu),
        ),
        (
            "Bitterness in the wort",
            PredictedFigure::WortBitterness,
            &|f| f.wort_bitterness.and_then(ibu),
        ),
        ("Colour from malt", PredictedFigure::Colour, &|f| {
            f.colour.map(|c| style.beer_colour(c))
        }),
        (
            "Colour with juice (estimate)",
            PredictedFigure::ColourWithJuice,
            &|f| f.colour_with_juice.map(|c| style.beer_colour(c)),
        ),
        ("Wort colour", PredictedFigure::WortColour, &|f| {
            f.wort_colour.map(|c| style.beer_colour(c))
        }),
        ("Extract yield", PredictedFigure::ExtractYield, &|f| {
            f.extract_yield.map(|y| percent(y, 1))
        }),
    ];
    let published = head::printed(&prediction.published, &prediction.predicted);
    let doubted = Doubted {
        predicted: &prediction.predicted,
        spread: prediction.spread.as_ref(),
        style,
    };
    for (name, figure, say) in rows {
        let (printed, predicted) = (say(&published), say(&prediction.predicted));
        if printed.is_none() && predicted.is_none() {
            continue;
        }
        let predicted = predicted.map(|said| doubted.said(said, figure));
        let cell = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
        page.columns(name, &[&cell(printed), &cell(predicted)]);
    }
    if let Some(power) = prediction.predicted.diastatic_power {
        let said = format!("{:.0} WK", power.windisch_kolbach());
        page.columns("Diastatic power of the grist", &["-", &said]);
    }
    if prediction.spread.is_some() {
        page.hung("   ", LEGEND);
    }
}

/// Whether anything joins the beer after pitching: without that, figures with it and without it are the same.
fn has_later(prediction: &Prediction) -> bool {
    let volumes = &prediction.volumes;
    volumes.after_additions > volumes.into_fermenter
}

fn volumes(page: &mut Page, prediction: &Prediction, style: Style) {
    page.heading(&format!(
        "VOLUMES (at {} unless marked hot)",
        units::cold(style)
    ));
    let volumes = &prediction.volumes;
    let after_additions = has_later(prediction).then_some(volumes.after_additions);
    for (name, volume) in [
        ("Mash water", Some(volumes.mash_water)),
        ("Sparge water", Some(volumes.sparge_water)),
        ("Total mash volume, hot", Some(volumes.mash_hot)),
        ("Pre-boil volume", Some(volumes.pre_boil)),
        ("Pre-boil volume, hot", Some(volumes.pre_boil_hot)),
        ("Post-boil volume", Some(volumes.post_boil)),
        ("Post-boil volume, hot", Some(volumes.post_boil_hot)),
        ("Wort into the fermenter", Some(volumes.into_fermenter)),
        ("With fermenter additions", after_additions),
        ("Beer packaged", Some(volumes.packaged)),
    ] {
        if let Some(volume) = volume {
            page.columns(name, &[&style.volume(volume)]);
        }
    }
    page.columns(
        "Pre-boil gravity",
        &[&style.gravity(volumes.pre_boil_extract)],
    );
}
