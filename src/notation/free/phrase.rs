//! A group → the lines of the notation that its phrase and its figures say.

use super::draft::{line, tokens};
use super::fill::fill;
use super::group::{Figure, Group, Link, Name};
use super::item::UNNAMED_HOP;
use super::said::{Part, Said, Slot, trade};
use super::sheet::Sheet;
use super::told::Told;
use crate::catalogue::Kind;
use crate::diagnostic::Diagnostic;
use crate::notation::tree::{Line, Token, text_of};
use crate::quantity::Dimension;
use crate::quantity::lexer::AsWritten;

/// Noted once the mash has an ingredient of the notation.
pub(super) const GRIST: &str = "grist";

/// Noted while the batch is a volume that no word says it is.
const UNLABELLED: &str = "batch without a label";

/// Phrases of beer that stays cold.
const LAGERS: [&str; 4] = ["lager", "condition", "mature", "cold"];

/// Degrees Celsius at which beer is lagered at most (common practice, no source).
const COLD_C: f64 = 8.0;

impl Sheet<'_> {
    /// Reads a group; gives whether it says anything, and what is left of it.
    pub(super) fn group(&mut self, mut group: Group) -> (bool, Group) {
        if let Some(doubt) = group.doubt.take() {
            self.told.push(Told::Asked(doubt));
            group.figures.clear();
            group.others.clear();
            return (true, group);
        }
        if group.is_denied {
            return (true, group);
        }
        Self::without_strike_heat(&mut group);
        self.note_cooling(&group);
        // `steep 30 g goldings 30 min off the boil`
        if group.name.is_some() && group.is_steeped() {
            return (self.plain_item(&mut group), group);
        }
        let mut said = std::mem::take(&mut group.said);
        // `steep 500 g crystal malt 30 min 65 C`, beside a grist: that one's water, and no rest of the mash.
        let is_grain = group.name.as_ref().is_some_and(|name| {
            let found = self.names.resolve(&name.words, &[Kind::Malt, Kind::Grain]);
            found.is_some()
        });
        if group.phrase == "steep" && is_grain && self.once.contains(GRIST) {
            said.clear();
            for figure in group.figures.extract_if(.., |figure| is_of_water(figure)) {
                self.told.push(Told::NotUsed(figure.text(), figure.span));
            }
        }
        // `dough in 20 L, 50 C, 10 min`: with a time the heat is that of a rest.
        if group.phrase.starts_with("dough") || group.phrase.starts_with("mash") {
            let has = |dimension| {
                group
                    .figures
                    .iter()
                    .any(|figure| figure.dimension() == Some(dimension))
            };
            if has(Dimension::Volume) && has(Dimension::Time) && has(Dimension::Temperature) {
                said.sort_by_key(|said| !said.line.starts_with("rest"));
            }
        }
        let mut any = false;
        let takes_item = said.iter().find(|said| said.takes_item());
        if let Some(said) = takes_item {
            Self::unnamed_hop(said, &mut group);
            // `pitch cascade`: no yeast, and nothing else that is pitched.
            if said.line.starts_with("pitch") && self.is_no_yeast(&group) {
                return (false, group);
            }
            any = self.later_yeast(said, &mut group)
                || self.fresh_yeast(said, &mut group)
                || group.name.is_some() && self.item_of(said, &mut group)
                || said.line.starts_with("pitch")
                    && (self.pitched_at(&mut group) || self.keep_pitching_heat(&mut group));
            // What follows goes into the fermenter, whatever the yeast is.
            if any
                && said.line.starts_with("pitch")
                && matches!(self.part, Part::Boil | Part::Stand)
            {
                self.part = Part::Ferment;
            }
        }
        // `ferment with ale yeast, 19 C`: the heat at which it is pitched.
        if said.iter().any(|said| said.line.starts_with("hold")) && self.is_yeast(&group) {
            any |= self.plain_item(&mut group);
        }
        for said in said.iter().copied() {
            if said.line.is_empty() && self.lagers(&mut group) {
                any = true;
            } else if said.line.is_empty() {
                // `crash 2 C 3 days, 2.7 vols`: the gas is that of the package.
                let is_gas = |figure: &Figure| figure.dimension() == Some(Dimension::GasVolumes);
                let (gas, figures): (Vec<Figure>, Vec<Figure>) =
                    group.figures.drain(..).partition(is_gas);
                group.figures = gas;
                // What is not used is not asked about.
                self.told.retain(|told| {
                    let is_of =
                        |found: &Diagnostic| figures.iter().any(|figure| figure.span == found.span);
                    !matches!(told, Told::Asked(found) if is_of(found))
                });
                let told = figures
                    .iter()
                    .map(|figure| Told::NotUsed(figure.text(), figure.span));
                self.told.extend(told);
                any = true;
            } else if !said.takes_item() {
                // `4 g/L sugar` in a bottle is sugar, and no carbon dioxide.
                if said.line.starts_with("carbonate") && group.name.is_some() {
                    any |= self.plain_item(&mut group);
                }
                // What has no slot takes no figure, and is said once.
                let is_fixed = !said.line.contains('{');
                while self.say(said, &mut group) {
                    any = true;
                    if is_fixed {
                        break;
                    }
                }
            }
        }
        let has_item = group.name.is_some() || takes_item.is_some();
        let is_yeast = self.is_yeast(&group);
        let is_moved = ["rack", "fill"]
            .iter()
            .any(|verb| group.phrase.starts_with(verb));
        let is_packaged = is_moved
            || group.when_words.first().is_some_and(|word| word != "per")
                && group.when.iter().any(|when| when.part == Part::Package)
            || said.iter().any(|said| said.part == Part::Package)
            || self.part == Part::Package;
        if is_packaged && self.container(&group) {
            any = true;
            self.without_counts(&mut group);
        }
        if group.name.is_some() {
            any |= self.plain_item(&mut group);
        }
        if let Some(doubt) = group.doubt.take() {
            self.told.push(Told::Asked(doubt));
            group.figures.clear();
            group.name = None;
            any = true;
        }
        any |= self.loose(&mut group, has_item, is_yeast);
        (any, group)
    }

    /// Whether a group names a yeast.
    pub(super) fn is_yeast(&self, group: &Group) -> bool {
        let name = group.name.as_ref();
        name.is_some_and(|name| self.names.resolve(&name.words, &[Kind::Yeast]).is_some())
    }

    /// Whether a group names an ingredient that is no yeast.
    fn is_no_yeast(&self, group: &Group) -> bool {
        let Some(name) = group.name.as_ref().filter(|name| name.is_known) else {
            return false;
        };
        let of = |kinds: &'static [Kind]| self.names.resolve(&name.words, kinds).is_some();
        !of(&[Kind::Yeast]) && of(&[])
    }

    /// `strike 60 L at 75 C, want 67 C`: the heat of the water is no rest.
    fn without_strike_heat(group: &mut Group) {
        let is_volume = |figure: &Figure| figure.dimension() == Some(Dimension::Volume);
        let is_warmth = |figure: &Figure| figure.dimension() == Some(Dimension::Temperature);
        let Some(volume) = group
            .figures
            .iter()
            .find(|figure| is_volume(figure))
            .map(|figure| figure.at)
        else {
            return;
        };
        let several = group
            .figures
            .iter()
            .filter(|figure| is_warmth(figure))
            .count()
            > 1;
        let heat = group
            .figures
            .iter()
            .position(|figure| is_warmth(figure) && figure.at > volume && figure.link == Link::At);
        if let Some(heat) = heat.filter(|_| several) {
            group.figures.remove(heat);
        }
    }

    /// Figures whose unit says what they are where they stand.
    fn loose(&mut self, group: &mut Group, has_item: bool, is_yeast: bool) -> bool {
        let mut any = false;
        let part = match self.part {
            Part::Boil if self.draft.boil.opening.is_none() => Part::Mash,
            part => part,
        };
        let here = trade().of_figures(part);
        for said in here {
            // A share beside other words is of something else: attenuation, yield.
            let is_alcohol = said.line.ends_with("{share}");
            // `apparent final 3.3 %` is an extract.
            if is_alcohol && group.phrase.contains("final") {
                continue;
            }
            if is_alcohol
                && group
                    .others
                    .iter()
                    .any(|word| !matches!(word.as_str(), "vol" | "volume"))
            {
                continue;
            }
            // `8 g/L citra, day 5, 16 C`: the heat of the beer that it goes into, at which it is not held.
            if said.line.starts_with("hold") && has_item && !is_yeast {
                continue;
            }
            // `12.2 P` on a line of its own, among the grist; `first runnings 18 P` is another wort's.
            let is_alone = group.figures.len() == 1
                && group.others.is_empty()
                && group.phrase.is_empty()
                && !has_item;
            if said.line.starts_with("target original") && part != Part::Head && !is_alone {
                continue;
            }
            // `12 psi at 38 F for a week`: a keg under gas.
            let is_pressed = |figure: &Figure| figure.dimension() == Some(Dimension::Pressure);
            if said.line.starts_with("hold") && group.figures.iter().any(is_pressed) {
                continue;
            }
            // `4 cucumbers without seeds`: a number beside words counts them, and is no heat.
            let is_heat = |figure: &Figure| {
                figure.dimension() == Some(Dimension::Temperature) || figure.link == Link::At
            };
            if said.line.starts_with("hold")
                && !group.others.is_empty()
                && !group.figures.iter().any(is_heat)
            {
                continue;
            }
            // A dose beside words that are not known is of something else.
            let is_packaged = said.part == Part::Package && part != Part::Package;
            if is_packaged
                && !said.line.contains("{volumes}")
                && (!group.others.is_empty() || has_item)
            {
                continue;
            }
            // The last rest of several stands alone: a strike temperature is none.
            let rested = self.once.contains("rest");
            if said.line.contains("{mash-out}") && (!rested || !group.phrase.is_empty()) {
                continue;
            }
            while self.say(said, group) {
                any = true;
            }
        }
        any |= part == Part::Ferment && self.held_for(group);
        any |= self.boil_of_heading(group, has_item);
        any
    }

    /// `In the copper, an hour:`
    fn boil_of_heading(&mut self, group: &mut Group, has_item: bool) -> bool {
        let [time] = group.figures.as_slice() else {
            return false;
        };
        let is_it = self.is_heading && self.part == Part::Boil && self.draft.boil.opening.is_none();
        if !is_it
            || has_item
            || !group.others.is_empty()
            || time.dimension() != Some(Dimension::Time)
        {
            return false;
        }
        self.is_boil_jotted = true;
        self.once.insert("boil".to_owned());
        self.draft.boil.opening = Some(tokens(&format!("boil {}", time.text()), time.span));
        group.figures.clear();
        true
    }

    /// Writes the line of a row, if its slots can be filled.
    fn say(&mut self, said: &'static Said, group: &mut Group) -> bool {
        if !self.is_open(said, group) {
            return false;
        }
        // `calcium 100 mg/L as CaCO3` is no calcium: the notation converts it.
        let is_converted = group.others.iter().any(|word| word == "caco3");
        if is_converted && said.part == Part::Water && !said.line.starts_with("alkalinity") {
            return false;
        }
        // `bitterness 6 IBU from saaz`: of that one.
        let of_hop = || group.name.as_ref().is_some_and(|name| name.is_known);
        if said.line.starts_with("target bitterness") && self.part == Part::Boil && of_hop() {
            return false;
        }
        let Some(filled) = fill(said, group, self.is_us) else {
            return false;
        };
        // What becomes of a package afterwards is no temperature of the fermenter.
        if said.line.starts_with("hold") && self.part == Part::Package {
            for at in &filled.used {
                if let Some(figure) = group.figures.iter().find(|own| own.at == *at) {
                    self.told.push(Told::NotUsed(figure.text(), figure.span));
                }
                group.figures.retain(|own| own.at != *at);
            }
            return true;
        }
        if said.line.starts_with("mash in {volume}") {
            let first = group
                .figures
                .iter()
                .find(|figure| filled.used.contains(&figure.at));
            self.strike = first.and_then(|figure| Some((figure.written?, figure.span)));
            group.figures.retain(|own| !filled.used.contains(&own.at));
            self.part = Part::Mash;
            self.once.insert("mash".to_owned());
            return true;
        }
        for figure in &filled.used {
            group.figures.retain(|own| own.at != *figure);
        }
        self.told.extend(filled.told);
        self.part = match said.part {
            Part::Head => self.part,
            // A head that says how the beer is served goes on.
            Part::Package if self.part == Part::Head => self.part,
            part => part,
        };
        self.put(said, filled.tokens);
        true
    }

    /// Whether what may be said once is not said yet.
    fn is_open(&self, said: &Said, group: &Group) -> bool {
        let key = key_of(said.line.split(' '));
        // `Batch: 20 L`, behind litres that only looked like it.
        if key == "batch" && !said.is_of_figures() && self.once.contains(UNLABELLED) {
            return true;
        }
        if key == "boil" && self.once.contains("boil") {
            // Of several boils the wort's is the longest: a decoction boils for minutes.
            let mut times = group.figures.iter().filter_map(|figure| figure.written);
            let time = times.find(|written| written.unit.dimension() == Dimension::Time);
            let stated = self.draft.boil.opening.as_deref().and_then(boiled);
            return stated.is_none_or(|stated| {
                self.is_boil_jotted
                    && time.is_some_and(|time| time.unit.to_base(time.number) > stated)
            });
        }
        !(is_said_once(&key) && self.once.contains(&key))
    }

    fn put(&mut self, said: &Said, tokens: Vec<Token<'static>>) {
        let first = said.line.split(' ').next().unwrap_or("");
        if first == "batch" {
            if self.once.remove(UNLABELLED) {
                let is_batch = |line: &Line<'_>| {
                    line.tokens()
                        .first()
                        .is_some_and(|token| token.text() == "batch")
                };
                self.draft.head.retain(|line| !is_batch(line));
            }
            if said.is_of_figures() {
                self.once.insert(UNLABELLED.to_owned());
            }
        }
        self.once.insert(key_of(said.line.split(' ')));
        match (said.part, first) {
            (Part::Boil, "boil") => {
                self.is_boil_jotted = true;
                self.draft.boil.opening = Some(tokens);
            }
            (Part::Stand, "stand") if self.set_stand(&tokens) => {}
            (Part::Stand, _) => {
                let is_assumed =
                    |told: &Told| matches!(told, Told::Default(what, ..) if what == "stand");
                self.is_stand_open = first == "stand" && self.told.last().is_some_and(is_assumed);
                self.is_cool_jotted |= first == "cool";
                self.draft.hot.push(line(tokens, Vec::new()));
            }
            (part, _) => self.lines(part).push(line(tokens, Vec::new())),
        }
    }

    /// Notes what a line of the notation says.
    pub(super) fn note(&mut self, line: &Line<'_>) {
        if self.part == Part::Mash && line.tokens().first().is_some_and(Token::is_number) {
            self.once.insert(GRIST.to_owned());
        }
        let key = key_of(line.tokens().iter().map(Token::text));
        if is_said_once(&key) || trade().is_container(&key) {
            self.once.insert(key);
        }
    }

    /// Notes what a line without indent says: `target` has several figures.
    pub(super) fn note_head(&mut self, line: &Line<'_>) {
        let clauses = line.clauses().chain(line.lines().map(Line::tokens));
        for (at, clause) in clauses.enumerate() {
            let mut words: Vec<&str> = clause.iter().map(Token::text).collect();
            if at > 0
                && line
                    .tokens()
                    .first()
                    .is_some_and(|first| first.text().eq_ignore_ascii_case("target"))
            {
                words.insert(0, "target");
            }
            let key = key_of(words.into_iter());
            if is_said_once(&key) {
                self.once.insert(key);
            }
        }
    }

    /// `pitch at 18 C`, said of a yeast that stands on another line.
    fn pitched_at(&mut self, group: &mut Group) -> bool {
        let is_warmth = |figure: &Figure| figure.dimension() == Some(Dimension::Temperature);
        let is_us = self.is_us;
        for figure in &mut group.figures {
            let bare = figure
                .bare
                .filter(|_| matches!(figure.link, Link::At | Link::None));
            let unit =
                bare.and_then(|bare| Slot::Temperature.bare(bare.middle(), Part::Ferment, is_us));
            if let (Some(bare), Some(unit)) = (bare, unit) {
                let written = AsWritten::marked(bare, unit);
                self.told.push(Told::Assumed(
                    figure.text(),
                    written.to_string(),
                    figure.span,
                ));
                (figure.written, figure.bare) = (Some(written), None);
                break;
            }
        }
        let Some(at) = group.figures.iter().position(is_warmth) else {
            return false;
        };
        let is_pitch = |line: &&mut Line<'_>| {
            line.tokens()
                .first()
                .is_some_and(|token| token.text() == "pitch")
        };
        let Some(pitch) = self.draft.ferment.lines.iter_mut().find(is_pitch) else {
            return false;
        };
        if pitch.tokens().iter().any(|token| token.text() == "at") {
            return false;
        }
        let figure = group.figures.remove(at);
        let mut whole = std::mem::take(&mut pitch.tokens).into_vec();
        whole.extend(tokens(&format!("at {}", figure.text()), figure.span));
        pitch.tokens = whole.into_boxed_slice();
        true
    }

    /// `10 days`, said of the temperature before it.
    fn held_for(&mut self, group: &mut Group) -> bool {
        let is_time = |figure: &Figure| figure.dimension() == Some(Dimension::Time);
        let is_warmth = |figure: &Figure| figure.dimension() == Some(Dimension::Temperature);
        let Some(at) = group.figures.iter().position(is_time) else {
            return false;
        };
        // `second vessel 4 weeks at 14 C`
        if group.figures.iter().any(is_warmth) {
            return false;
        }
        let Some(hold) = self.draft.ferment.lines.last_mut() else {
            return false;
        };
        let mut own = hold.tokens().iter().map(Token::text);
        if own.next() != Some("hold") || own.any(|word| word == "for") {
            return false;
        }
        let figure = group.figures.remove(at);
        let mut whole = std::mem::take(&mut hold.tokens).into_vec();
        whole.extend(tokens(&format!("for {}", figure.text()), figure.span));
        hold.tokens = whole.into_boxed_slice();
        true
    }

    /// `crash to 2 C, lager 3 weeks`: at the heat of the cold hold before it.
    fn lagers(&mut self, group: &mut Group) -> bool {
        let is_said = LAGERS.iter().any(|word| group.phrase.starts_with(word));
        let &[time] = group.figures.as_slice() else {
            return false;
        };
        let is_time = time.dimension() == Some(Dimension::Time);
        if !is_said || !is_time || group.name.is_some() {
            return false;
        }
        let Some(hold) = self.draft.ferment.lines.last() else {
            return false;
        };
        let mut own = hold.tokens().iter().map(Token::text);
        if own.next() != Some("hold") {
            return false;
        }
        let heat = own.take(2).collect::<Vec<_>>().join(" ");
        let is_cold = AsWritten::read(&heat, &[Dimension::Temperature])
            .is_ok_and(|heat| heat.unit.to_base(heat.number) <= COLD_C);
        if !is_cold {
            return false;
        }
        let text = format!("hold {heat} for {}", time.text());
        self.told
            .push(Told::Assumed(group.phrase.clone(), text.clone(), time.span));
        self.draft
            .ferment
            .lines
            .push(line(tokens(&text, time.span), Vec::new()));
        group.figures.clear();
        true
    }

    /// The time of the boil as it is written.
    pub(super) fn boil_time(&self) -> Option<String> {
        let opening = self.draft.boil.opening.as_ref()?;
        let text = text_of(opening.get(1..)?);
        boiled(opening).map(|_| text)
    }

    /// `dry hop 40 g, 3 days`: hops without a name bring no bitterness that would have to be known.
    fn unnamed_hop(said: &Said, group: &mut Group) {
        let is_dry =
            said.phrases().any(|phrase| phrase == "dry hop") && group.phrase.contains("hop");
        let is_dose = |figure: &Figure| {
            matches!(
                figure.dimension(),
                Some(Dimension::Mass | Dimension::Concentration)
            )
        };
        let plain = group
            .others
            .iter()
            .all(|word| trade().is_how_made(word) || trade().container(word).is_some());
        if is_dry && plain && group.name.is_none() && group.figures.iter().any(is_dose) {
            let span = group.span.unwrap_or_default();
            group.name = Some(Name {
                words: vec![UNNAMED_HOP.to_owned()],
                span,
                at: group.said_at,
                is_known: true,
                is_quoted: false,
            });
        }
    }

    /// `add yeast on day 5`, where one is pitched already: nobody says which.
    fn later_yeast(&mut self, said: &Said, group: &mut Group) -> bool {
        const VERB: usize = 1;
        // Behind a hop it says when that goes in: `1 lb Citra with the yeast, day 1`.
        let stands_first = group.said_at <= VERB;
        let is_it = said.line.starts_with("pitch")
            && self.is_pitched
            && group.phrase == "yeast"
            && stands_first;
        let mut figures = group.figures.iter();
        let day = figures.position(|figure| figure.link == Link::Day);
        let Some(day) = day.filter(|_| is_it && group.name.is_none()) else {
            return false;
        };
        let text = format!(
            "add second yeast on day {}",
            group.figures.remove(day).text()
        );
        let span = group.span.unwrap_or_default();
        let added = line(tokens(&text, span), Vec::new());
        self.draft.ferment.lines.push(added);
        true
    }

    /// `bottle with dextrose and fresh yeast`: any yeast will do.
    fn fresh_yeast(&mut self, said: &Said, group: &mut Group) -> bool {
        let is_it = said.line.starts_with("pitch") && self.is_filled && self.is_pitched;
        if !is_it || group.name.is_some() || group.phrase != "yeast" {
            return false;
        }
        let span = group.span.unwrap_or_default();
        let packs = group
            .figures
            .iter()
            .position(|figure| figure.dimension() == Some(Dimension::Packs));
        let amount = packs.map(|at| group.figures.remove(at).text());
        let text = format!("add {} ale yeast", amount.unwrap_or_default());
        self.told
            .push(Told::Default("yeast".into(), "ale yeast".into(), span));
        self.draft
            .package
            .lines
            .push(line(tokens(&text, span), Vec::new()));
        group.others.retain(|word| !trade().is_how_made(word));
        true
    }

    /// How many there are is the brewer's business.
    fn without_counts(&mut self, group: &mut Group) {
        let is_count = |figure: &mut Figure| {
            figure.link == Link::None
                && figure
                    .bare
                    .is_some_and(|bare| bare.high.is_none() && bare.low.fract() == 0.0)
        };
        for figure in group.figures.extract_if(.., is_count) {
            self.told.push(Told::NotUsed(figure.text(), figure.span));
        }
    }

    /// `keg`, `36 bottles`: what the beer is filled into.
    fn container(&mut self, group: &Group) -> bool {
        let words = group
            .phrase
            .split(' ')
            .chain(group.others.iter().map(String::as_str))
            .chain(group.when_words.iter().map(String::as_str));
        let found = words.filter_map(|word| trade().container(word));
        let Some(container) = found.into_iter().next() else {
            return false;
        };
        // `bottle with 1/2 tsp sugar per bottle`
        let verb = group.phrase.split(' ').next().unwrap_or("");
        if group.is_per_container && trade().container(verb).is_none() {
            return false;
        }
        if self.is_contained
            || self
                .draft
                .package
                .opening
                .as_ref()
                .is_some_and(|opening| opening.len() > 1)
        {
            return false;
        }
        self.is_contained = true;
        let span = group.span.unwrap_or_default();
        self.draft
            .package
            .lines
            .insert(0, line(tokens(container, span), Vec::new()));
        if self.part != Part::Head {
            self.part = Part::Package;
        }
        true
    }
}

/// What is said of the water that something is steeped in.
fn is_of_water(figure: &Figure) -> bool {
    matches!(
        figure.dimension(),
        Some(Dimension::Temperature | Dimension::Time)
    )
}

/// The minutes of a `boil` line.
fn boiled(opening: &[Token<'_>]) -> Option<f64> {
    let time = opening.get(1..)?;
    let text = text_of(time);
    let written = AsWritten::read(&text, &[Dimension::Time]).ok()?;
    Some(written.unit.to_base(written.number))
}

/// What a line says: its first word, of a figure of `target` its name too.
fn key_of<'w>(mut words: impl Iterator<Item = &'w str>) -> String {
    let first = words.next().unwrap_or("").to_lowercase();
    match first.as_str() {
        "target" | "targets" => format!("target {}", words.next().unwrap_or("").to_lowercase()),
        _ => first,
    }
}

/// Whether a sheet may say it once only; a rest is noted, and may be said again.
fn is_said_once(key: &str) -> bool {
    key.starts_with("target")
        || matches!(
            key,
            "batch" | "boil" | "sparge" | "mash" | "ph" | "carbonate"
        )
}
