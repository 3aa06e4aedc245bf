//! One code fence of a document: whether it holds cells, and its lines without what lists, quotes
//! and forums put in front of them. What the lines say is read in `syntax`.

use super::forum::unwrap_line;
use super::lines::Lines;
use super::names::nearest;
use super::outline::Fence;
use super::{Block, Code, Diagnostic, MOST_CHARACTERS_IN_LINE, Span};

/// The word a fence of cells begins with.
const WORD: &str = "gaugebook";

/// The first line of a fence.
pub(super) struct Opening<'a> {
    /// The fence itself: three or more of one sign.
    pub run: &'a str,
    /// All that stands behind it.
    pub info: Span,
    /// The first word of that.
    pub word: &'a str,
}

impl Opening<'_> {
    /// Reads the line a fence begins on.
    pub fn read<'a>(text: &'a str, lines: &Lines, fence: &Fence) -> Opening<'a> {
        let start = fence.span.start as usize;
        let line_end = lines.span(text, lines.line_at(start)).end as usize;
        let line = text.get(start..line_end).unwrap_or_default();
        let (run, behind) = split_run(line);
        let info = behind.trim();
        let info_start = line_end - behind.trim_start().len();
        Opening {
            run,
            info: Span::new(info_start, info_start + info.len()),
            word: first_word(info),
        }
    }

    /// Whether the fence holds cells.
    pub fn holds_cells(&self) -> bool {
        self.word == WORD
    }

    /// A warning where the word looks like a slip for the one that makes cells.
    pub fn warn_of_slip(&self) -> Option<Diagnostic> {
        nearest(self.word, [WORD])?;
        let start = self.info.start as usize;
        let place = Span::new(start, start + self.word.len());
        let message = format!(
            "the lines of this fence are no cells: it says {}",
            self.word
        );
        Some(
            Diagnostic::warning(Code::Fence, place, message)
                .label("not the word for cells")
                .expected(format!("the word {WORD}, in small letters"))
                .replace(place, WORD),
        )
    }
}

/// Splits a line into the fence it begins with, which may be empty, and the rest.
fn split_run(line: &str) -> (&str, &str) {
    let sign = line.chars().next().filter(|&sign| is_fence_sign(sign));
    let Some(sign) = sign else {
        return ("", line);
    };
    line.split_at(line.len() - line.trim_start_matches(sign).len())
}

fn is_fence_sign(sign: char) -> bool {
    matches!(sign, '`' | '~')
}

fn first_word(info: &str) -> &str {
    let in_word = |sign: char| sign.is_alphanumeric() || sign == '_' || sign == '-';
    info.split(|sign| !in_word(sign)).next().unwrap_or(info)
}

/// The message for a document whose fences hold no cells.
pub(super) fn note_no_cells(text: &str, lines: &Lines, fence: &Fence) -> Diagnostic {
    let first = Opening::read(text, lines, fence);
    let start = fence.span.start as usize;
    let place = Span::new(start, start + first.run.len());
    let message = format!("no cells here: no fence of this document says {WORD}");
    Diagnostic::note(Code::Fence, place, message)
        .expected(format!("a fence that begins with the word {WORD}"))
        .repair(format!("```{WORD}"))
}

/// Reads a fence of cells; its messages are added to the list.
pub(super) fn read_block(
    text: &str,
    lines: &Lines,
    fence: &Fence,
    found: &mut Vec<Diagnostic>,
) -> Block {
    let opening = Opening::read(text, lines, fence);
    let first = lines.line_at(fence.span.start as usize);
    let last = lines.line_at((fence.span.end as usize).saturating_sub(1));
    let closed = is_closed(text, lines, fence, last, opening.run) && last > first;
    let behind_content = if closed { last } else { last + 1 };
    let physical = first + 1..behind_content;
    let mut content = content_lines(text, lines, physical.clone(), &fence.content);
    let inner = clear_inner_openings(text, &mut content);
    if let Some(message) = judge_closing(&opening, fence, closed, inner, lines) {
        found.push(message);
    }
    let prefix = prefix_of_content(text, lines, physical.start, &content);
    clear_wrapping(text, &mut content);
    clear_long_lines(text, &mut content, found);
    Block {
        info: opening.info,
        heading: None,
        span: Span::new(lines.start(text, first), lines.start(text, last + 1)),
        end_of_content: lines.start(text, behind_content) as u32,
        prefix: prefix.unwrap_or_else(|| prefix_of_opening(text, lines, first, fence.span)),
        lines: content,
        loose: false,
    }
}

/// Whether the last line of a fence closes it: no content is in it, and it ends with the fence.
fn is_closed(text: &str, lines: &Lines, fence: &Fence, last: usize, run: &str) -> bool {
    let start = lines.start(text, last);
    let holds_content = fence
        .content
        .last()
        .is_some_and(|content| content.end as usize > start);
    let line = lines.span(text, last).of(text).trim_end();
    !holds_content && line.ends_with(run)
}

/// The content of each line: from where the first run of content touches it to its end, and
/// nothing where none does.
fn content_lines(
    text: &str,
    lines: &Lines,
    physical: std::ops::Range<usize>,
    runs: &[Span],
) -> Vec<Span> {
    let mut runs = runs.iter().peekable();
    physical
        .map(|line| {
            let whole = lines.span(text, line);
            let behind = lines.start(text, line + 1) as u32;
            while runs.next_if(|run| run.end <= whole.start).is_some() {}
            let run = runs.peek().filter(|run| run.start < behind);
            let start = run.map_or(whole.end, |run| run.start.clamp(whole.start, whole.end));
            Span {
                start,
                end: whole.end,
            }
        })
        .collect()
}

/// Empties lines that open a fence of cells inside a fence, and gives the first: it shows where
/// the closing fence was forgotten.
fn clear_inner_openings(text: &str, content: &mut [Span]) -> Option<Span> {
    let mut first = None;
    for line in content {
        let written = line.of(text).trim_start();
        if !written.starts_with(is_fence_sign) {
            continue;
        }
        let (run, info) = split_run(written);
        if run.len() >= 3 && first_word(info.trim()) == WORD {
            first = first.or(Some(*line));
            line.start = line.end;
        }
    }
    first
}

/// The message for a fence that is not closed, or closed only behind the beginning of another.
fn judge_closing(
    opening: &Opening<'_>,
    fence: &Fence,
    closed: bool,
    inner: Option<Span>,
    lines: &Lines,
) -> Option<Diagnostic> {
    let start = fence.span.start;
    let place = Span {
        start,
        end: opening.info.end.max(start),
    };
    let (message, label) = match inner {
        Some(inner) => {
            let line = lines.line_at(inner.start as usize) + 1;
            let message =
                format!("this fence is not closed when the next one begins, in line {line}");
            (message, "all between them is read as cells")
        }
        None if !closed => {
            let message = "this fence is not closed".to_owned();
            (message, "all below it is read as cells")
        }
        None => return None,
    };
    let run = opening.run;
    Some(
        Diagnostic::error(Code::Fence, place, message)
            .label(label)
            .expected(format!("a line {run} behind the last cell"))
            .repair(run),
    )
}

/// Takes off what forums add; a line of nothing but tags becomes empty.
fn clear_wrapping(text: &str, content: &mut [Span]) {
    for line in content {
        let unwrapped = unwrap_line(text, *line);
        *line = unwrapped.content;
        if unwrapped.only_tags {
            line.start = line.end;
        }
    }
}

/// Empties lines that are too long to be read, with a message for each.
pub(super) fn clear_long_lines(text: &str, content: &mut [Span], found: &mut Vec<Diagnostic>) {
    for line in content {
        let written = line.of(text);
        if written.len() <= MOST_CHARACTERS_IN_LINE {
            continue;
        }
        let length = written.chars().count();
        if length > MOST_CHARACTERS_IN_LINE {
            found.push(refuse_long_line(*line, length));
            line.end = line.start;
        }
    }
}

fn refuse_long_line(line: Span, length: usize) -> Diagnostic {
    let message = format!("this line is {length} characters long");
    Diagnostic::error(Code::TooLong, line, message)
        .label("not read")
        .expected(format!(
            "at most {MOST_CHARACTERS_IN_LINE} characters in a line"
        ))
        .repair_with(
            "break the line",
            "what is indented deeper continues the line above",
        )
}

/// What stands in front of the least indented statement, for a new line to stand like it.
/// Comments do not count; `None` where there is no statement.
fn prefix_of_content(text: &str, lines: &Lines, first: usize, content: &[Span]) -> Option<String> {
    let mut least: Option<(usize, usize)> = None;
    for (index, line) in content.iter().enumerate() {
        let written = line.of(text);
        let statement = written.trim_start();
        if statement.is_empty() || statement.starts_with('#') {
            continue;
        }
        let blanks = &written[..written.len() - statement.len()];
        let columns = columns_of(blanks);
        if least.is_none_or(|(fewest, _)| columns < fewest) {
            least = Some((columns, index));
        }
        if columns == 0 {
            break;
        }
    }
    let (_, index) = least?;
    let line = content.get(index)?;
    let statement = line.of(text).trim_start().len();
    let start = lines.start(text, first + index);
    Some(text.get(start..line.end as usize - statement)?.to_owned())
}

/// The width of blanks in columns; a tab goes to the next stop of four.
fn columns_of(blanks: &str) -> usize {
    blanks.chars().fold(0, |column, blank| match blank {
        '\t' => (column / 4 + 1) * 4,
        _ => column + 1,
    })
}

/// What stands in front of the opening fence, with the sign of a list item as blanks.
fn prefix_of_opening(text: &str, lines: &Lines, line: usize, fence: Span) -> String {
    let start = lines.span(text, line).start as usize;
    let before = text.get(start..fence.start as usize).unwrap_or_default();
    let kept = |sign: char| match sign {
        '>' | '\t' => sign,
        _ => ' ',
    };
    before.chars().map(kept).collect()
}
