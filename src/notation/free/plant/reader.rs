//! A plant while its lines are read.

use crate::notation::free::bit::{Bit, What};
use crate::notation::free::draft::{line, tokens};

use super::near::parts;
use super::words::{Tag, tags};
use crate::diagnostic::Span;
use crate::notation::free::sheet::Sheet;
use crate::notation::free::told::Told;
use crate::notation::free::words::{Clause, clauses};
use crate::notation::tree::{Line, Token};
use crate::quantity::lexer::AsWritten;

/// A plant while its lines are read.
pub(super) struct Reader<'s, 'c> {
    pub(super) sheet: &'s mut Sheet<'c>,
    pub(super) lines: Vec<Line<'static>>,
    /// The words of the lines that stand already.
    pub(super) stated: Vec<&'static str>,
    pub(super) is_first: bool,
    /// What the clauses before on the line spoke of.
    pub(super) context: Vec<Tag>,
    /// The vessel that was named last, on this line and on any.
    pub(super) on_line: Option<Tag>,
    pub(super) vessel: Option<Tag>,
    pub(super) batch_l: Option<f64>,
    /// Whether a sheet says it beside its recipe.
    pub(super) is_of_sheet: bool,
    pub(super) kettle_l: Option<f64>,
    pub(super) reached: Option<(AsWritten, Span, Vec<Tag>)>,
    pub(super) bag: Option<Span>,
    pub(super) way: Option<(&'static str, Span)>,
    pub(super) sparge: Option<(AsWritten, Span)>,
    pub(super) chiller: Chiller,
    /// The pieces of the line, of `4 x 40 L` the size of one by itself.
    pub(super) apart: Vec<Bit>,
}

#[derive(Default)]
pub(super) struct Chiller {
    pub(super) to: Option<(AsWritten, Span)>,
    pub(super) time: Option<(AsWritten, Span)>,
    pub(super) by: Option<(&'static str, Span)>,
}

impl<'s, 'c> Reader<'s, 'c> {
    pub(super) fn new(sheet: &'s mut Sheet<'c>) -> Self {
        Self {
            sheet,
            lines: Vec::new(),
            stated: Vec::new(),
            is_first: false,
            context: Vec::new(),
            on_line: None,
            vessel: None,
            batch_l: None,
            is_of_sheet: false,
            kettle_l: None,
            reached: None,
            bag: None,
            way: None,
            sparge: None,
            chiller: Chiller::default(),
            apart: Vec::new(),
        }
    }

    pub(super) fn as_it_stands(&mut self, typed: Line<'static>) {
        let text = typed
            .tokens()
            .iter()
            .map(Token::text)
            .collect::<Vec<_>>()
            .join(" ")
            .to_lowercase();
        let words = [
            "batch",
            "mash tun",
            "kettle loss",
            "kettle",
            "fermenter loss",
            "fermenter",
            "lauter",
            "mash in",
            "absorption",
            "extract yield",
            "evaporation",
            "tun loss",
            "altitude",
            "cool to",
            "coolant",
        ];
        self.stated
            .extend(words.iter().filter(|word| text.starts_with(**word)).take(1));
        self.lines.push(typed);
    }

    pub(super) fn line(&mut self, bits: &[Bit]) {
        self.context.clear();
        self.on_line = None;
        self.ask_of_each(bits);
        let mut used = vec![false; bits.len()];
        self.water(bits, &mut used);
        for clause in clauses(bits) {
            if matches!(clause.mark, Some('.' | ';')) {
                self.context.clear();
            }
            for part in parts(&clause) {
                self.part(&part, &mut used);
            }
        }
        self.leave(bits, &used);
    }

    /// A stretch with the figures of one verb.
    pub(super) fn part(&mut self, part: &Clause<'_>, used: &mut [bool]) {
        let own = tags(part.bits);
        for (at, tag) in &own {
            let span = part
                .bits
                .get(*at)
                .map_or_else(Span::default, |bit| bit.span);
            self.way_of(*tag, span, part);
        }
        let here: Vec<Tag> = own.iter().map(|(_, tag)| *tag).collect();
        let only_place = !here.is_empty()
            && here.iter().all(|tag| {
                tag.is_vessel()
                    || matches!(tag, Tag::Trub | Tag::Lees | Tag::Hops | Tag::BeforeBoil)
            });
        let mut whole = here.clone();
        if here.is_empty() || only_place && self.context.contains(&Tag::Loss) || here == [Tag::Hops]
        {
            whole.extend(self.context.iter().copied());
        }
        let vessel = whole.iter().copied().find(|tag| tag.is_vessel());
        for (at, bit) in part.bits.iter().enumerate() {
            let is_used = match &bit.what {
                What::Quantity(written) => self.figure(*written, bit.span, at, part, &own, &whole),
                What::Bare(_) => self.bare(bit, &whole),
                _ => false,
            };
            if is_used && let Some(used) = used.get_mut(part.from + at) {
                *used = true;
            }
        }
        self.on_line = here
            .iter()
            .copied()
            .find(|tag| tag.is_vessel())
            .or(self.on_line);
        self.vessel = vessel.or(self.vessel);
        if !(here.is_empty() || only_place && self.context.contains(&Tag::Loss)) {
            self.context = here;
        }
    }

    /// Ways of lautering and cooling, which are said without a figure.
    pub(super) fn way_of(&mut self, tag: Tag, span: Span, part: &Clause<'_>) {
        let twice = part.bits.iter().any(|bit| bit.word() == Some("twice"));
        let way = match tag {
            Tag::Bag => {
                self.bag.get_or_insert(span);
                return;
            }
            Tag::BatchSparge if twice => "lauter batch, sparges 2",
            Tag::BatchSparge => "lauter batch",
            Tag::Continuous => "lauter continuous",
            Tag::NoSparge => "lauter batch, sparges 0",
            Tag::NoMash => "no mash",
            Tag::Plate | Tag::Coil => {
                let by = if tag == Tag::Plate {
                    "through plate"
                } else {
                    "by coil"
                };
                self.chiller.by.get_or_insert((by, span));
                return;
            }
            Tag::NoChill => {
                self.put("cool to", "no chill", span);
                return;
            }
            _ => return,
        };
        // What a sheet says of its mash is read as a way of the plant.
        if tag == Tag::NoSparge && self.is_of_sheet {
            let told = Told::Assumed("no sparge".into(), way.into(), span);
            self.sheet.told.push(told);
        }
        self.way.get_or_insert((way, span));
    }

    /// Writes a line that does not stand yet.
    pub(super) fn put(&mut self, word: &'static str, text: &str, span: Span) -> bool {
        if self.stated.contains(&word) {
            return false;
        }
        self.stated.push(word);
        self.lines.push(line(tokens(text, span), Vec::new()));
        true
    }
}
