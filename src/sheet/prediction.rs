//! A prediction as text.

use super::SheetOptions;
use super::page::Page;
use super::spread::{LEGEND, said, said_with_spread};
use super::{assumptions, head, reasons, units};
use crate::process::{PredictedFigure, Prediction};
use crate::speech::Style;

impl Prediction {
    /// The prediction as plain text: printed against predicted figures, volumes, assumptions, warnings. Without a style
    /// in the options it speaks metric.
    #[must_use]
    pub fn sheet(&self, options: &SheetOptions) -> String {
        let style = options.style.unwrap_or_default();
        let mut page = Page::of(style);
        figures(&mut page, self, style);
        volumes(&mut page, self, style);
        reasons::warnings(&mut page, self.warnings.iter(), style);
        assumptions::print(&mut page, (&self.assumptions, self.spread.as_ref()), style);
        page.into_text()
    }
}

fn figures(page: &mut Page, prediction: &Prediction, style: Style) {
    use PredictedFigure as F;
    page.heading("FIGURES");
    page.columns("", &["original sheet", "predicted"]);
    let later = has_later(prediction);
    let rows = [
        ("Original gravity", F::Original),
        ("Final gravity", F::Final),
        ("   if additions ferment out fully", F::FinalIfJuiceFerments),
        ("   without fermenter additions", F::WortFinal),
        ("Gravity before the addition", F::BeforeAddition),
        ("Gravity after the addition", F::AfterAddition),
        ("Original gravity incl. additions", F::EquivalentOriginal),
        ("Alcohol", F::Alcohol),
        (
            "   if additions ferment out fully",
            F::AlcoholIfJuiceFerments,
        ),
        ("Bitterness", F::Bitterness),
        ("   by Tinseth", F::BitternessTinseth),
        ("   by isomerisation kinetics", F::BitternessKinetic),
        ("Bitterness in the wort", F::WortBitterness),
        ("Colour from malt", F::Colour),
        ("Colour with additions (estimate)", F::ColourWithJuice),
        ("Wort colour", F::WortColour),
        ("Carbonation", F::Carbonation),
        ("Extract yield", F::ExtractYield),
    ];
    let published = head::printed(&prediction.published, &prediction.predicted);
    let (predicted, spread) = (&prediction.predicted, prediction.spread.as_ref());
    for (name, figure) in rows {
        if matches!(figure, F::WortFinal | F::EquivalentOriginal) && !later {
            continue;
        }
        let printed = said(figure, &published, style);
        let predicted = said_with_spread(figure, (predicted, spread), style);
        if printed.is_none() && predicted.is_none() {
            continue;
        }
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
    prediction.predicted.before_addition.is_some()
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
