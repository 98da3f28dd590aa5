//! All rows of the grammar.

use super::amount::{AMOUNTS, COUNTED};
use super::ferment::FERMENT;
use super::figure::{ATTRIBUTES, BRINGS_NOTHING};
use super::form::{FRUIT_FORMS, HOP_FORMS};
use super::head::{BATCH_POINTS, SHARE_BASES, TARGETS};
use super::kettle::{BOIL, STEEPED};
use super::lauter::{LAUTER_FIGURES, LAUTERS, YIELD_BASES, YIELD_POINTS};
use super::log::{INSTRUMENTS, LOG};
use super::mash::{MASH, REST_HEATINGS};
use super::own_ingredient::INGREDIENT;
use super::package::PACKAGE;
use super::plant_line::PLANT;
use super::plant_word::{COOLERS, HEATINGS, HOURLY, MODELS, WEIGHED};
use super::sour::SOURED_WITH;
use super::statement::STATEMENTS;
use super::stock::LISTED;
use super::water::{IONS, WATER_REPORT};
use crate::notation::grammar::Row;
use crate::notation::timing::TIMINGS;

/// All rows of the grammar, those of a block together: what an editor may complete, and what a line may say.
pub fn grammar() -> impl Iterator<Item = &'static Row> {
    let lines = STATEMENTS
        .rows()
        .chain(BATCH_POINTS.rows())
        .chain(TARGETS.rows())
        .chain(SHARE_BASES.rows())
        .chain(IONS.rows())
        .chain(MASH.rows())
        .chain(REST_HEATINGS.rows())
        .chain(SOURED_WITH.rows())
        .chain(BOIL.rows())
        .chain(STEEPED.rows())
        .chain(FERMENT.rows())
        .chain(PACKAGE.rows());
    let plants = PLANT
        .rows()
        .chain(LAUTERS.rows())
        .chain(LAUTER_FIGURES.rows())
        .chain(YIELD_BASES.rows())
        .chain(YIELD_POINTS.rows())
        .chain(HOURLY.rows())
        .chain(COOLERS.rows())
        .chain(HEATINGS.rows())
        .chain(WEIGHED.rows())
        .chain(MODELS.rows())
        .chain(WATER_REPORT.rows());
    let others = LISTED
        .rows()
        .chain(INGREDIENT.rows())
        .chain(LOG.rows())
        .chain(INSTRUMENTS.rows());
    let items = AMOUNTS
        .rows()
        .chain(COUNTED.rows())
        .chain(ATTRIBUTES.rows())
        .chain(BRINGS_NOTHING.rows())
        .chain(HOP_FORMS.rows())
        .chain(FRUIT_FORMS.rows())
        .chain(TIMINGS.rows());
    lines.chain(plants).chain(others).chain(items)
}
