//! A log as jotted: what each of its lines says → `pitched`, `reading`, `drawn` and `added`.

mod corrected;
mod date;
mod entry;
mod head;
mod held;
mod jotted_number;
mod label;
mod line;
mod pages;
mod poured;
mod put_in;
mod warmth;
mod words;
mod wort;

use crate::diagnostic::{Code, Diagnostic, Span};
pub(super) use crate::notation::free::bit::{Bit, What as Piece};
use crate::notation::free::draft::{line, tokens};
use crate::notation::free::group::day_of;
use crate::notation::free::page::{Jotted, Page};
use crate::notation::free::scan::{opening_text, scan, scan_behind};
use crate::notation::free::sheet::Sheet;
use crate::notation::free::told::Told;
use crate::notation::free::words::has;
use crate::notation::tree::{Line, Token};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};
use date::{Calendar, Order, Reckoned, Stamp, Stamped, is_dotted_clock, order};
pub(super) use date::{Clocks, stamp};
use entry::{Entry, OfBrewDay, What};
pub(super) use head::Columns;
use head::{head, is_head};
use held::Held;
use jotted_number::Known;
use label::says_of_brew_day;
pub(super) use line::WHICH_INSTRUMENT;
use line::entries;
pub(super) use words::LogWord;
#[cfg(test)]
pub(super) use words::count_of_words;
use wort::wort;

/// The `log` lines of a page, and what is told of it.
pub(super) fn read(page: &Page, sheet: &mut Sheet<'_>) -> Vec<Line<'static>> {
    let lines = pages::parted(&page.lines);
    let texts: Vec<String> = lines
        .iter()
        .map(|line| opening_text(&line.tokens))
        .collect();
    let dotted = texts.iter().filter(|text| is_dotted_clock(text)).count() > 1;
    let clocks = if dotted {
        Clocks::Dotted
    } else {
        Clocks::Colon
    };
    let stamps = pages::stamps(&lines, &texts, clocks);
    let known: Vec<Stamp> = stamps
        .iter()
        .flatten()
        .map(|stamped| stamped.stamp)
        .collect();
    let (order, is_guess) = order(&known, sheet.is_us);
    if order == Order::Open || is_guess {
        tell_order(&lines, &stamps, order, sheet);
    }
    let mut logs = Vec::new();
    let mut from = 0;
    for to in 1..=lines.len() {
        let ends = to == lines.len() || begins_another(&lines, &stamps, from, to);
        if ends {
            let own = lines.get(from..to).unwrap_or(&[]);
            let opening = page.opening.as_ref().filter(|_| from == 0);
            let mut log = Log::new(sheet, order, stamps.get(from..to).unwrap_or(&[]));
            log.read(own, opening.is_some_and(|opening| opening.len() > 1));
            logs.push(log.finish(opening));
            from = to;
        }
    }
    if let Some(opening) = page.opening.clone().filter(|_| logs.is_empty()) {
        logs.push(line(opening, Vec::new()));
    }
    logs
}

/// Dates that can be read either way: asked for once, or told where one way makes a log of days and the other one of months.
fn tell_order(lines: &[Jotted], stamps: &[Option<Stamped>], order: Order, sheet: &mut Sheet<'_>) {
    let slashed = lines.iter().zip(stamps).find_map(|(typed, stamped)| {
        let stamped = (*stamped)?;
        match stamped.stamp {
            Stamp::Slashed { first, second, .. } => Some((typed, stamped.length, first, second)),
            _ => None,
        }
    });
    let Some((typed, length, first, second)) = slashed else {
        return;
    };
    let span = begin_of(typed, length);
    let (day, month) = match order {
        Order::DayFirst => (first, second),
        Order::MonthFirst => (second, first),
        Order::Open => {
            let message =
                "expected dates that can be read one way only, found none with a day above 12";
            let found = Diagnostic::warning(Code::AmbiguousNumber, span, message)
                .with_help("write one of them with the name of its month, such as `14 Jan`, or count days from pitching, such as `day 3`");
            sheet.told.push(Told::Asked(found));
            return;
        }
    };
    sheet.told.push(Told::Assumed(
        format!("{first}/{second}"),
        format!(
            "{day} {}, the order in which the log takes days and not months",
            date::month_name(month)
        ),
        span,
    ));
}

/// The first bytes of a line.
fn begin_of(typed: &Jotted, length: usize) -> Span {
    let whole = typed.span();
    let length = u32::try_from(length).unwrap_or(0);
    Span::new(
        whole.text,
        whole.start,
        (whole.start + length).min(whole.end),
    )
}

/// Whether the line is the heading of another log: it has no date, and the days behind it begin anew.
fn begins_another(lines: &[Jotted], stamps: &[Option<Stamped>], from: usize, at: usize) -> bool {
    let Some(typed) = lines
        .get(at)
        .filter(|line| !line.is_right && !line.is_below)
    else {
        return false;
    };
    let own = |at: usize| {
        stamps
            .get(at)
            .copied()
            .flatten()
            .map(|stamped| stamped.stamp)
    };
    let before = stamps.get(from..at).unwrap_or(&[]);
    let is_stamped = before.iter().any(Option::is_some);
    if own(at).is_some() || !is_stamped || !is_head(&typed.tokens) {
        return false;
    }
    let days = |stamp: Option<Stamp>| match stamp {
        Some(Stamp::Day(days)) => Some(days),
        _ => None,
    };
    let last = before
        .iter()
        .rev()
        .find_map(|stamped| stamped.map(|stamped| stamped.stamp));
    match (days(last), days(own(at + 1))) {
        (Some(last), Some(next)) => next < last,
        (None, Some(_)) => false,
        _ => {
            own(at + 1).is_some()
                && opening_text(&typed.tokens)
                    .to_lowercase()
                    .split(' ')
                    .any(|word| word.trim_end_matches(':') == "log")
        }
    }
}

/// A log while its lines are read.
struct Log<'s, 'c> {
    sheet: &'s mut Sheet<'c>,
    calendar: Calendar,
    stamps: Vec<Option<Stamped>>,
    columns: Option<Columns>,
    name: Option<(String, Span)>,
    entries: Vec<Entry>,
    /// The unit of the last gravity, in which a number alone may be read.
    unit: Option<Unit>,
    is_refractometer: bool,
    /// The day that the heading names.
    first_day: Option<i64>,
    /// The day of the first yeast.
    pitched_on: Option<i64>,
    /// The gravity of the wort, once it is read.
    original: Option<AsWritten>,
    /// How much of it there was, litres.
    wort_l: Option<f64>,
    /// Whether it was told whose the temperatures beside gravities are.
    is_warmth_told: bool,
    /// The day of a line that says nothing else, which is that of the lines below.
    heads_day: Option<Reckoned>,
}

impl<'s, 'c> Log<'s, 'c> {
    fn new(sheet: &'s mut Sheet<'c>, order: Order, stamps: &[Option<Stamped>]) -> Self {
        Self {
            sheet,
            calendar: Calendar::new(order),
            stamps: stamps.to_vec(),
            columns: None,
            name: None,
            entries: Vec::new(),
            unit: None,
            is_refractometer: false,
            first_day: None,
            pitched_on: None,
            original: None,
            wort_l: None,
            is_warmth_told: false,
            heads_day: None,
        }
    }

    fn read(&mut self, lines: &[Jotted], is_named: bool) {
        let is_stamped = self.stamps.iter().any(Option::is_some);
        let mut is_heading = !is_named;
        let mut day = None;
        for (at, typed) in lines.iter().enumerate() {
            let stamped = self.stamps.get(at).copied().flatten();
            if typed.is_right {
                is_heading = false;
                self.entries.push(Entry::as_it_stands(typed.line()));
                continue;
            }
            if let Some(columns) = Columns::of(&typed.tokens) {
                self.columns = Some(columns);
                is_heading = false;
                continue;
            }
            let is_row = self.columns.is_some();
            is_heading &= stamped.is_none() && !is_row;
            if is_heading && self.heading(typed, (at, is_stamped)) {
                continue;
            }
            is_heading = false;
            self.line(typed, stamped, &mut day, at);
        }
    }

    /// A line before the first entry: the name of the beer, and when it was brewed. `false` if it is an entry itself.
    fn heading(&mut self, typed: &Jotted, (number, is_stamped): (usize, bool)) -> bool {
        let is_first = number == 0;
        if says_of_brew_day(&scan(&typed.tokens)) {
            return false;
        }
        let head = head(&typed.tokens);
        self.is_refractometer |= head.is_refractometer;
        let is_measured = measures(&head.behind);
        let name = head.name.filter(|_| is_first || head.is_labelled);
        let is_entry = is_measured && !head.is_labelled;
        if let Some(name) = name {
            self.name = Some(name);
        } else if is_entry || !head.is_labelled && (!is_first || !is_stamped) {
            return false;
        }
        let mut day = None;
        if let Some(stamp) = head.stamp {
            day = self.calendar.day(stamp);
            self.first_day = match day {
                Some(Reckoned::SinceFirst(day)) => Some(day),
                _ => None,
            };
        }
        if is_entry {
            let mut bits = head.behind;
            self.sheet.gallons.read(&mut bits, &mut self.sheet.told);
            let day = day.map(|day| (day, begin_of(typed, 0)));
            self.say(typed, bits, day, number);
            return true;
        }
        for bit in head.behind.iter().filter(|bit| bit.quantity().is_some()) {
            let text = bit.quantity().map(ToString::to_string).unwrap_or_default();
            self.sheet.told.push(Told::NotUsed(text, bit.span));
        }
        self.remark(&head.behind);
        true
    }

    fn remark(&mut self, bits: &[Bit]) {
        let words: Vec<&str> = bits.iter().filter_map(Bit::word).collect();
        if let (Some(span), false) = (super::words::covered(bits), words.is_empty()) {
            self.sheet.told.push(Told::Remark(words.join(" "), span));
        }
    }

    fn line(
        &mut self,
        typed: &Jotted,
        stamped: Option<Stamped>,
        day: &mut Option<(Reckoned, Span)>,
        number: usize,
    ) {
        let length = stamped.map_or(0, |stamped| stamped.length);
        let mut bits = scan_behind(&typed.tokens, length);
        self.sheet.gallons.read(&mut bits, &mut self.sheet.told);
        let own = stamped.and_then(|stamped| {
            Some((
                self.calendar.day(stamped.stamp)?,
                begin_of(typed, stamped.length),
            ))
        });
        let is_open = self.entries.is_empty() && self.first_day.is_none();
        if let (Some((Reckoned::SinceFirst(first), _)), true) = (own, is_open)
            && (bits.is_empty() || opening_text(&typed.tokens).to_lowercase().contains("brew"))
        {
            self.first_day = Some(first);
        }
        if let (Some(stamped), Some((day, span))) = (stamped, own)
            && matches!(stamped.stamp, Stamp::After(_))
        {
            let typed = opening_text(&typed.tokens);
            let typed = typed.get(..stamped.length).unwrap_or("").trim().to_owned();
            let read = match day {
                Reckoned::SincePitching(days) => format!("day {days}, since the line before"),
                Reckoned::SinceFirst(_) => "counted from the line before".to_owned(),
            };
            self.sheet.told.push(Told::Assumed(typed, read, span));
        }
        if stamped.is_some() {
            self.heads_day = own.map(|(day, _)| day).filter(|_| bits.is_empty());
            *day = own;
        } else if typed.is_below {
            // A line below that of its date.
            *day = day.map(|(day, _)| (day, begin_of(typed, 0)));
        } else {
            let headed = self.heads_day.map(|day| (day, begin_of(typed, 0)));
            *day = day_behind(&mut bits).or(headed);
        }
        if let Some(columns) = &self.columns {
            let counted = columns.row(&mut bits, stamped.is_some(), self.sheet.is_us);
            *day = counted
                .map(|(days, span)| (Reckoned::SincePitching(days), span))
                .or(*day);
        }
        self.say(typed, bits, *day, number);
    }

    /// What the pieces of a line say.
    fn say(
        &mut self,
        typed: &Jotted,
        mut bits: Vec<Bit>,
        day: Option<(Reckoned, Span)>,
        number: usize,
    ) {
        if let Some(stamp) = pitched(&typed.tokens).filter(|_| day.is_none())
            && let Some(Reckoned::SinceFirst(day)) = self.calendar.day(stamp)
        {
            self.pitched_on.get_or_insert(day);
        }
        if let Some((Reckoned::SinceFirst(day), _)) = day
            && (has(&bits, LogWord::Yeast.phrases()) || has(&bits, LogWord::Pitched.phrases()))
        {
            self.pitched_on.get_or_insert(day);
        }
        let is_fermenting = self.original.is_some();
        // The head of a column says which degrees are in it.
        if self.columns.is_none() {
            warmth::with_scale(
                &mut bits,
                typed,
                (self.unit, is_fermenting),
                &mut self.sheet.told,
            );
        }
        let known = Known {
            unit: self.unit,
            is_refractometer: self.is_refractometer,
            is_fermenting,
            original: self.original,
            wort_l: self.wort_l,
        };
        let mut found = entries(&bits, self.sheet, known);
        corrected::settle(&mut found, &mut self.entries, &bits, &mut self.sheet.told);
        for entry in &mut found {
            entry.day = day;
            entry.line = number;
            if let What::Volume(litres) = &entry.what
                && !litres.label.is_before_fermenter()
            {
                let written = litres.written;
                self.wort_l
                    .get_or_insert(written.unit.to_base(written.number));
            }
            if let What::Shown(shown) = &entry.what {
                self.unit = Some(shown.written.unit);
                if !shown.label.is_before_fermenter() {
                    self.original.get_or_insert(shown.written);
                }
                let warm = warmth::is_of_sample(shown, &bits);
                if let Some((at, span)) = warm.filter(|_| !self.is_warmth_told) {
                    self.is_warmth_told = true;
                    let read = "the temperature of the sample, by which its reading is corrected";
                    let told = Told::Assumed(at.to_string(), read.to_owned(), span);
                    self.sheet.told.push(told);
                }
            }
        }
        self.entries.extend(found);
    }

    fn finish(mut self, opening: Option<&Vec<Token<'static>>>) -> Line<'static> {
        held::fill_first(&mut self.entries);
        let opening = opening.cloned().unwrap_or_else(|| self.opening());
        let is_whole = self
            .entries
            .iter()
            .any(|entry| matches!(&entry.what, What::AsItStands(line) if !is_of_brew_day(line)));
        let wort = wort(&self.entries).filter(|_| !is_whole);
        let first = match wort {
            Some(ref wort) => Some(wort.gravity.min(wort.volume)),
            None => self.entries.iter().position(Entry::is_of_the_beer),
        };
        let start = self.start();
        let brings =
            |entry: &Entry| matches!(&entry.what, What::Added(added) if added.litres != Some(0.0));
        let last = self.entries.iter().rposition(brings);
        let mut held = Held::default();
        if let Some(wort) = &wort {
            held.fill(&wort.written);
        }
        let mut lines = Vec::new();
        if wort.is_none() && !is_whole {
            let found = wort::lacks(&self.entries);
            self.sheet.told.extend(found.map(Told::Asked));
        }
        for (at, entry) in self.entries.iter().enumerate() {
            let is_before = !is_whole && first.is_some_and(|first| at < first);
            let gravity = wort.as_ref().filter(|wort| wort.gravity == at);
            let is_volume = wort.as_ref().is_some_and(|wort| wort.volume == at);
            if let Some(of_day) = entry.of_brew_day(&self.entries) {
                if let OfBrewDay::Line(mut written) = of_day {
                    written.extend(day_tokens(entry, start, &mut self.sheet.told));
                    lines.push(line(written, Vec::new()));
                }
                continue;
            }
            let told = &mut self.sheet.told;
            let written = match (&entry.what, gravity) {
                (What::Shown(shown), Some(wort)) => Some(shown.pitched(&wort.written, wort.span)),
                _ if is_volume => None,
                (What::UpTo(up), _) if wort.is_some() => held.filled(up, entry.span, told),
                (What::Lost(lost), _) if wort.is_some() && !is_before => {
                    held.lost(lost, entry.span, told)
                }
                (What::Volume(now), _)
                    if now.is_left
                        && wort
                            .as_ref()
                            .is_some_and(|wort| wort.gravity.max(wort.volume) < at)
                        && last.is_some_and(|last| at < last) =>
                {
                    held.left(&now.written, entry.span, told)
                }
                _ => entry.tokens(is_before, told),
            };
            if gravity.is_none() && !is_before {
                held.take(entry);
            }
            if let Some(mut written) = written {
                written.extend(day_tokens(entry, start, &mut self.sheet.told));
                lines.push(line(written, Vec::new()));
            }
        }
        line(opening, lines)
    }

    /// `log "Low Tide"`
    fn opening(&self) -> Vec<Token<'static>> {
        let here = self
            .entries
            .first()
            .map_or_else(Span::default, |entry| entry.span);
        let Some((name, span)) = &self.name else {
            return tokens("log", Span::new(here.text, here.start, here.start));
        };
        let mut opening = tokens("log", *span);
        opening.extend(tokens(&format!("\"{name}\""), *span));
        opening
    }

    /// The day that counts as 0: that of the first yeast, else the first.
    fn start(&self) -> Option<i64> {
        let since = |entry: &Entry| match entry.day {
            Some((Reckoned::SinceFirst(day), _)) => Some(day),
            _ => None,
        };
        let first = || {
            self.first_day
                .or_else(|| self.entries.iter().find_map(since))
        };
        // Yeast that goes into bottles later does not begin anything.
        let read = self
            .entries
            .iter()
            .find(|entry| entry.is_of_the_beer())
            .and_then(since);
        let is_before = |day: &i64| read.is_none_or(|read| *day <= read);
        self.pitched_on.filter(is_before).or_else(first)
    }
}

/// Whether a line of the notation speaks of the wort before the fermenter.
fn is_of_brew_day(line: &Line<'_>) -> bool {
    let typed = opening_text(line.tokens()).to_lowercase();
    ["mash ph", "first wort", "before boil", "after boil"]
        .iter()
        .any(|word| typed.starts_with(word))
}

/// `1.014 at 19 C, day 4`, `1.012 (day 7)`, `stuck at 1.020 on day 7, roused`: a day behind what is said of it.
fn day_behind(bits: &mut Vec<Bit>) -> Option<(Reckoned, Span)> {
    let at = (1..bits.len()).rfind(|at| bits.get(*at..).and_then(day_of).is_some())?;
    let (day, count) = bits.get(at..).and_then(day_of)?;
    let behind = bits.get(at + count..).unwrap_or(&[]);
    let ends = behind
        .first()
        .is_none_or(|next| matches!(next.what, Piece::Mark(',' | '.' | ')' | ';')));
    ends.then_some(())?;
    let span = super::words::covered(bits.get(at..at + count)?)?;
    bits.drain(at..at + count);
    Some((Reckoned::SincePitching(day.middle()), span))
}

/// `chilled overnight, pitched 10/6`: the date behind the word.
fn pitched(typed: &[Token<'_>]) -> Option<Stamp> {
    let text = opening_text(typed).to_lowercase();
    let behind = LogWord::Pitched.phrases().iter().find_map(|word| {
        let (_, behind) = text.split_once(*word)?;
        behind.strip_prefix(' ')
    })?;
    let found = stamp(behind, Clocks::Colon)?.stamp;
    matches!(found, Stamp::Date { .. } | Stamp::Slashed { .. }).then_some(found)
}

/// `on day 3`, at the date that says it.
fn day_tokens(entry: &Entry, start: Option<i64>, told: &mut Vec<Told>) -> Vec<Token<'static>> {
    let days = match entry.day {
        Some((Reckoned::SincePitching(days), span)) => Some((days, span)),
        #[allow(
            clippy::cast_precision_loss,
            reason = "a log counts thousands of days at most"
        )]
        Some((Reckoned::SinceFirst(day), span)) => start.map(|start| ((day - start) as f64, span)),
        None => None,
    };
    match days {
        Some((days, span)) if days >= 0.0 => tokens(&format!("on day {days}"), span),
        Some((days, span)) if !matches!(entry.what, What::MashPh(_)) => {
            let message = format!(
                "expected the date of the pitching or a later one, found one {} days before it",
                -days
            );
            let found = Diagnostic::error(Code::ConflictingFacts, span, message)
                .with_help("correct the date, or put the lines in the order of their dates");
            told.push(Told::Asked(found));
            Vec::new()
        }
        _ => Vec::new(),
    }
}

/// Whether pieces give a gravity, or how much wort there is.
fn measures(bits: &[Bit]) -> bool {
    bits.iter().filter_map(Bit::quantity).any(|written| {
        jotted_number::is_gravity(written) || written.unit.dimension() == Dimension::Volume
    })
}
