//! A base document as a page in which a line of the grammar takes its place.

use wortwright::notation::{Block, Row};

/// A line without indent, and those below it.
#[derive(Debug, Clone)]
struct Statement {
    head: String,
    lines: Vec<String>,
}

/// A base document.
#[derive(Debug, Clone)]
pub(crate) struct Page {
    statements: Vec<Statement>,
}

/// Lines of a plant that say the same thing in other words: one of them stands.
const EITHER: [&[&str]; 3] = [
    &["lauter", "no mash"],
    &["cool to", "no chill"],
    &["absorption", "retention"],
];
/// What is fermented where a page has no log.
const LOG: &str = "log\n  pitched 10 L at 12 P on day 0\n  reading 1.011 at 20 C on day 16";

impl Page {
    pub(crate) fn new(text: &str) -> Self {
        let mut page = Self {
            statements: Vec::new(),
        };
        page.add(text);
        if page.of("log").is_none() {
            page.add(LOG);
        }
        page
    }

    /// The page with a line of the row, in place of the one that says another thing of the same.
    pub(crate) fn with(&self, row: &Row, line: &str) -> String {
        let mut page = self.clone();
        match row.example_in {
            Block::Text => page.state(row, line),
            Block::Ingredient => page.describe("Own", &[line]),
            Block::Mash | Block::Boil | Block::Stand => {
                page.put_in_kettle(row, row.example_in.as_str(), line);
            }
            block => page.put(row, block.as_str(), line),
        }
        page.text()
    }

    fn text(&self) -> String {
        let mut text = String::new();
        for statement in &self.statements {
            for (index, line) in std::iter::once(&statement.head)
                .chain(&statement.lines)
                .enumerate()
            {
                text += if index == 0 { "" } else { "  " };
                text += line;
                text += "\n";
            }
        }
        text
    }

    fn add(&mut self, text: &str) {
        for line in text.lines() {
            match line.strip_prefix("  ") {
                Some(line) => self
                    .statements
                    .last_mut()
                    .unwrap()
                    .lines
                    .push(line.to_owned()),
                None => self.statements.push(Statement {
                    head: line.to_owned(),
                    lines: Vec::new(),
                }),
            }
        }
    }

    /// The statement that opens with the word: of two plants the one that is brewed on, of two logs the first.
    fn of(&self, word: &str) -> Option<usize> {
        let opens = |statement: &Statement| statement.head.split(' ').next() == Some(word);
        if word == "brewhouse" {
            self.statements.iter().rposition(opens)
        } else {
            self.statements.iter().position(opens)
        }
    }

    /// The statement that opens with the word, in its place on the page.
    fn opened(&mut self, word: &str) -> &mut Statement {
        let at = self.of(word).unwrap_or_else(|| {
            let head = match word {
                "boil" => "boil 60 min",
                "sour" => "sour for 2 days",
                "stand" => "stand 20 min at 85 C",
                word => word,
            };
            let behind = match word {
                "sour" => self.of("boil").or(self.of("ferment")),
                // In the order of the hot side.
                "stand" => self.of("cool").or(self.of("ferment")),
                "cool" => self.of("ferment"),
                _ => None,
            };
            let at = behind
                .or(self.of("brewhouse"))
                .unwrap_or(self.statements.len());
            let statement = Statement {
                head: head.to_owned(),
                lines: Vec::new(),
            };
            self.statements.insert(at, statement);
            at
        });
        &mut self.statements[at]
    }

    /// A line without indent, with those below it.
    fn state(&mut self, row: &Row, line: &str) {
        let (head, below) = line.split_once('\n').unwrap_or((line, ""));
        let below: Vec<_> = below.lines().map(str::trim).collect();
        let word = head.split(' ').next().unwrap();
        if word == "ingredient" {
            let name = head.split_once(' ').unwrap().1;
            return self.describe(name, &below);
        }
        let statement = self.opened(word);
        if head != word {
            head.clone_into(&mut statement.head);
            match word {
                // All of it stands in the line.
                "target" | "water" => statement.lines.clear(),
                "package" => statement.lines.retain(|line| line.starts_with("add ")),
                _ => {}
            }
        }
        for line in below {
            match word {
                "mash" => self.put_in_kettle(row, word, line),
                word => self.put(row, word, line),
            }
        }
    }

    /// An ingredient of the brewer's own, and a line that uses it.
    fn describe(&mut self, name: &str, lines: &[&str]) {
        let (block, used) = if lines.iter().any(|line| line.contains("Bx")) {
            ("ferment", format!("add 1 L {name} on day 1"))
        } else {
            ("mash", format!("1 kg {name}"))
        };
        let used = self.in_shares(block, &used);
        self.opened(block).lines.push(used);
        self.add(&format!("ingredient {name}"));
        self.statements
            .last_mut()
            .unwrap()
            .lines
            .extend(lines.iter().map(|line| (*line).to_owned()));
    }

    /// Where shares stand the mass of a fermentable is one too, which the first of the grist leaves room for.
    fn in_shares(&mut self, block: &str, line: &str) -> String {
        let whole_mash = self.of("mash").map(|at| &mut self.statements[at].lines);
        let first = whole_mash.and_then(|lines| lines.first_mut());
        let Some(((share, rest), first)) = first.and_then(|first| {
            let (share, rest) = first.split_once(" % ")?;
            Some(((share.parse::<f64>().ok()?, rest.to_owned()), first))
        }) else {
            return line.to_owned();
        };
        match line.split_once(" kg ") {
            Some((kg, name)) if matches!(block, "mash" | "boil") => {
                let taken = 2.0 * kg.parse::<f64>().unwrap();
                *first = format!("{} % {rest}", share - taken);
                format!("{taken} % {name}")
            }
            _ => line.to_owned(),
        }
    }

    fn put_in_kettle(&mut self, row: &Row, block: &str, line: &str) {
        let line = if row.block == Block::Amount {
            if line.contains('%') && line.starts_with("100 ") || line.starts_with("99.8 ") {
                // All that there is.
                for block in ["mash", "boil"] {
                    let lines = &mut self.opened(block).lines;
                    lines.retain(|line| line.split(' ').nth(1) != Some("%"));
                }
            }
            line.to_owned()
        } else {
            self.in_shares(block, line)
        };
        self.put(row, block, &line);
    }

    /// A line below the one that opens its block.
    fn put(&mut self, row: &Row, block: &str, line: &str) {
        match block {
            "target" | "water" => self.put_figure(row, block, line),
            "package" if !line.starts_with("add ") => self.put_clause(line),
            "stock" => self.put_lot(line),
            "log" => self.put_event(line),
            _ => {
                let lines = &mut self.opened(block).lines;
                let is_item =
                    line.starts_with(|c: char| c.is_ascii_digit()) || line.starts_with("add ");
                let at = lines
                    .iter()
                    .position(|other| !is_item && says_the_same(other, line));
                match at {
                    Some(at) if line.starts_with("water ") && row.block == Block::WaterReport => {
                        let kept: Vec<_> = lines[at]
                            .split(", ")
                            .filter(|clause| !clause.starts_with("pH"))
                            .collect();
                        lines[at] = [kept.join(", "), line["water ".len()..].to_owned()].join(", ");
                    }
                    Some(at) => line.clone_into(&mut lines[at]),
                    None => lines.push(line.to_owned()),
                }
            }
        }
    }

    /// A figure of a list.
    fn put_figure(&mut self, row: &Row, block: &str, line: &str) {
        let statement = self.opened(block);
        let listed = [
            statement.head[block.len()..].trim(),
            &statement.lines.join(", "),
        ]
        .join(", ");
        let others = listed.split(", ").filter(|clause| {
            !clause.is_empty() && !clause.starts_with(&format!("{} ", row.word()))
        });
        let clauses: Vec<_> = others.chain([line]).collect();
        statement.head = format!("{block} {}", clauses.join(", "));
        statement.lines.clear();
    }

    /// A clause of a package.
    fn put_clause(&mut self, line: &str) {
        let role = |clause: &str| match clause.split(' ').next() {
            Some("carbonate") => 1,
            Some("at") => 2,
            _ => 0,
        };
        let lines = &mut self.opened("package").lines;
        let at = lines.iter().position(|other| !other.starts_with("add "));
        let was = at.map(|at| lines.remove(at)).unwrap_or_default();
        let mut clauses: Vec<_> = was
            .split(", ")
            .filter(|clause| !clause.is_empty() && role(clause) != role(line))
            .map(|clause| {
                if role(line) == 2 {
                    clause.split(" at ").next().unwrap()
                } else {
                    clause
                }
            })
            .collect();
        clauses.push(line);
        clauses.sort_by_key(|clause| role(clause));
        let clauses = clauses.join(", ");
        lines.insert(0, clauses);
    }

    /// A lot of what the page brews most of.
    fn put_lot(&mut self, line: &str) {
        let block = self.of("mash").or(self.of("boil")).unwrap();
        let main = self.statements[block].lines[0].split(", ").next().unwrap();
        let malt = main.splitn(3, ' ').nth(2).unwrap().to_owned();
        let line = line
            .replace("spelt malt", &malt)
            .replace("pale ale malt", &malt);
        let lines = &mut self.opened("stock").lines;
        lines.retain(|other| !other.contains(&malt));
        lines.push(line);
    }

    /// An entry of a log, in its turn.
    fn put_event(&mut self, line: &str) {
        let day = |line: &str| {
            let behind = line.split_once("on day ")?.1;
            behind.split(' ').next()?.parse::<f64>().ok()
        };
        let lines = &mut self.opened("log").lines;
        if line.starts_with("pitched ") {
            line.clone_into(&mut lines[0]);
            return;
        }
        let later = |other: &String| {
            day(other)
                .zip(day(line))
                .is_some_and(|(other, this)| other > this)
        };
        let at = lines.iter().position(later).unwrap_or(lines.len() - 1);
        lines.insert(at, line.to_owned());
    }
}

/// Whether two lines of a block say one thing of it.
fn says_the_same(one: &str, other: &str) -> bool {
    let word = |line: &str| line.split(' ').next().unwrap_or_default().to_owned();
    let opens = |line: &str, words: &[&str]| words.iter().any(|word| line.starts_with(word));
    EITHER
        .iter()
        .any(|words| opens(one, words) && opens(other, words))
        || word(one) == word(other) && two_words(one) == two_words(other)
}

/// Openings of which the second word tells more than the first.
fn two_words(line: &str) -> Option<&str> {
    [
        "mash in",
        "mash tun",
        "tun loss",
        "tun heat",
        "kettle loss",
        "fermenter loss",
        "sparge mixing",
    ]
    .into_iter()
    .find(|words| line.starts_with(words))
}
