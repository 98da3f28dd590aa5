//! Which line of the text states a field of a model.

use wortwright::catalogue::Catalogue;
use wortwright::notation::Reading;

/// The stated inputs with their lines.
#[derive(Debug)]
pub(super) struct Lines<'t> {
    stated: Vec<(String, usize)>,
    text: Vec<&'t str>,
}

impl<'t> Lines<'t> {
    pub(super) fn of(reading: &Reading<'_>, text: &'t str, catalogue: &Catalogue) -> Self {
        let inputs = reading.inputs(catalogue);
        let stated = inputs
            .iter()
            .map(|(span, place)| (place.to_string(), span.position(text).line))
            .collect();
        Self {
            stated,
            text: text.lines().collect(),
        }
    }

    /// The line that states a path, else the nearest whole it belongs to; 0 where none does.
    pub(super) fn line(&self, path: &str) -> usize {
        let exactly = self.stated.iter().find(|(stated, _)| stated == path);
        let holds = |stated: &str| {
            path.strip_prefix(stated)
                .is_some_and(|rest| rest.starts_with(['.', '[']))
        };
        exactly
            .or_else(|| {
                let wholes = self.stated.iter().filter(|(stated, _)| holds(stated));
                wholes.max_by_key(|(stated, _)| stated.len())
            })
            .map_or(0, |(_, line)| *line)
    }

    /// The lines of a list's elements, of each of which the line probably shows the words. A line that could not be used counts
    /// among the places and not among the elements, so that the two are laid beside each other in order.
    pub(super) fn of_list(&self, list: &str, words: &[String]) -> Vec<usize> {
        let mut places: Vec<(usize, usize)> = self
            .stated
            .iter()
            .filter_map(|(path, line)| {
                let (index, rest) = path
                    .strip_prefix(list)?
                    .strip_prefix('[')?
                    .split_once(']')?;
                (rest.is_empty() || rest.starts_with('.')).then_some(())?;
                Some((index.parse().ok()?, *line))
            })
            .collect();
        places.sort_by_key(|(index, _)| *index);
        places.dedup_by_key(|(index, _)| *index);
        let lines: Vec<usize> = places.into_iter().map(|(_, line)| line).collect();
        if lines.len() == words.len() {
            return lines;
        }
        self.aligned(&lines, words)
    }

    /// Elements laid beside lines in order, as many as possible beside lines that show their words.
    fn aligned(&self, lines: &[usize], words: &[String]) -> Vec<usize> {
        let shows = |line: usize, word: &str| {
            let text = line.checked_sub(1).and_then(|at| self.text.get(at));
            text.is_some_and(|text| text.to_lowercase().contains(&word.to_lowercase()))
        };
        let (rows, columns) = (words.len(), lines.len());
        // The most that the elements from `row` on can show on the lines from `column` on.
        let mut best = vec![vec![0_u32; columns + 1]; rows + 1];
        let beside = |best: &[Vec<u32>], row: usize, column: usize| {
            best[row + 1][column + 1] + 1 + 2 * u32::from(shows(lines[column], &words[row]))
        };
        for row in (0..rows).rev() {
            for column in (0..columns).rev() {
                best[row][column] = beside(&best, row, column)
                    .max(best[row][column + 1])
                    .max(best[row + 1][column]);
            }
        }
        let mut found = vec![0; rows];
        let (mut row, mut column) = (0, 0);
        while row < rows && column < columns {
            if best[row][column] == beside(&best, row, column) {
                found[row] = lines[column];
                row += 1;
                column += 1;
            } else if best[row][column] == best[row][column + 1] {
                column += 1;
            } else {
                row += 1;
            }
        }
        found
    }
}
