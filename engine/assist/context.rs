//! What stands around the cursor of a line that is not finished: read sign by sign, since it can
//! seldom be parsed. A guess is enough; nothing that is typed depends on it.

/// Where the cursor stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// In a text or a comment, where nothing is offered.
    Nothing,
    /// At the first word of the line.
    LineStart,
    /// Behind a verb.
    BehindVerb(String),
    /// Behind a number, or in a bracket that holds a unit.
    Unit,
    /// Behind a number with this unit: a word may say what it counts from.
    Reference(String),
    /// Behind the dot of this table.
    Column(String),
    /// Where a value may stand; `true` at the beginning of an argument.
    Value(bool),
}

/// A call around the cursor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Call {
    /// The formula.
    pub name: String,
    /// The number of the argument the cursor is in.
    pub at: usize,
    /// The name before the colon of that argument.
    pub named: Option<String>,
    /// The arguments that are named, and how many are not.
    pub names: Vec<String>,
    pub unnamed: usize,
}

/// What stands around the cursor.
#[derive(Clone, Debug)]
pub(super) struct Context {
    /// The word before the cursor, as far as it is typed.
    pub word: String,
    /// Where it begins.
    pub start: usize,
    /// Where the cursor stands.
    pub place: Place,
    /// The innermost call around it.
    pub call: Option<Call>,
}

/// An open bracket.
struct Open {
    sign: char,
    /// The word directly before it.
    word: String,
    /// Whether blanks stand between that word and the bracket.
    apart: bool,
    commas: usize,
    /// What the arguments so far begin with, if that is a name and a colon.
    names: Vec<String>,
    /// The name of the argument that is open.
    named: Option<String>,
}

impl Context {
    /// What stands around byte `cursor` of a line.
    pub(super) fn of(line: &str, cursor: usize, verbs: &[&str]) -> Context {
        let before = line.get(..cursor).unwrap_or(line);
        let (open, inside_text) = brackets(before);
        let start = word_start(before);
        let word = before[start..].to_owned();
        let head = &before[..start];
        let call = open.iter().rev().find_map(call_of);
        let place = match inside_text {
            true => Place::Nothing,
            false => place(head, open.last(), verbs),
        };
        Context {
            word,
            start,
            place,
            call,
        }
    }
}

/// Whether a sign belongs to a name or to a unit word.
fn is_of_word(sign: char) -> bool {
    sign.is_alphanumeric() || matches!(sign, '_' | '°' | '%' | '²' | '³')
}

/// Where the word before the end of a text begins; digits before a unit are not of it.
fn word_start(before: &str) -> usize {
    let from = before
        .char_indices()
        .rev()
        .take_while(|(_, sign)| is_of_word(*sign))
        .last()
        .map_or(before.len(), |(at, _)| at);
    let word = &before[from..];
    let digits = word
        .find(|sign: char| !sign.is_ascii_digit())
        .unwrap_or(word.len());
    from + digits
}

/// The brackets that are open at the end, and whether a text or a comment is.
fn brackets(before: &str) -> (Vec<Open>, bool) {
    let mut open: Vec<Open> = Vec::new();
    let mut text = false;
    let mut word = String::new();
    let mut apart = false;
    let signs: Vec<char> = before.chars().collect();
    for (at, sign) in signs.iter().enumerate() {
        if text {
            text = *sign != '"';
            continue;
        }
        match sign {
            '"' => text = true,
            '#' if signs.get(at + 1).is_none_or(|next| next.is_whitespace()) => {
                return (open, true);
            }
            '(' | '[' | '{' => open.push(Open {
                sign: *sign,
                word: std::mem::take(&mut word),
                apart,
                commas: 0,
                names: Vec::new(),
                named: None,
            }),
            ')' | ']' | '}' => {
                open.pop();
            }
            ',' => {
                if let Some(top) = open.last_mut() {
                    top.commas += 1;
                    top.names.extend(top.named.take());
                }
            }
            ':' => {
                if let Some(top) = open.last_mut() {
                    top.named = Some(word.clone());
                }
            }
            _ => {}
        }
        if is_of_word(*sign) || *sign == '.' {
            if apart || !ends_word(&signs, at) {
                word.clear();
            }
            word.push(*sign);
            apart = false;
        } else if sign.is_whitespace() {
            apart = true;
        } else {
            word.clear();
            apart = false;
        }
    }
    (open, text)
}

/// Whether the sign before this one belongs to the same word.
fn ends_word(signs: &[char], at: usize) -> bool {
    at.checked_sub(1)
        .and_then(|before| signs.get(before))
        .is_some_and(|sign| is_of_word(*sign) || *sign == '.')
}

fn call_of(open: &Open) -> Option<Call> {
    let is_call = open.sign == '(' && !open.word.is_empty() && !open.apart;
    is_call.then(|| Call {
        name: open.word.clone(),
        at: open.commas,
        named: open.named.clone(),
        unnamed: open.commas - open.names.len().min(open.commas),
        names: open.names.clone(),
    })
}

fn place(head: &str, open: Option<&Open>, verbs: &[&str]) -> Place {
    let trimmed = head.trim_end();
    if trimmed.is_empty() {
        return Place::LineStart;
    }
    let first = head.trim_start();
    if let Some((verb, rest)) = first.split_once(' ')
        && verbs.contains(&verb)
        && rest.trim().is_empty()
    {
        return Place::BehindVerb(verb.to_owned());
    }
    if let Some(open) = open
        && open.sign == '['
        && (open.apart || open.word.is_empty())
    {
        return Place::Unit;
    }
    if let Some(table) = head.strip_suffix('.').and_then(last_word) {
        return Place::Column(table);
    }
    if ends_with_number(trimmed) || continues_unit(head) {
        return Place::Unit;
    }
    if let Some(unit) = unit_behind_number(trimmed).filter(|_| head.ends_with(' ')) {
        return Place::Reference(unit);
    }
    let begins = open.is_some_and(|open| open.sign == '(') && trimmed.ends_with(['(', ',']);
    Place::Value(begins)
}

fn last_word(text: &str) -> Option<String> {
    let start = word_start(text);
    (start < text.len()).then(|| text[start..].to_owned())
}

/// Whether a text ends with a number that stands by itself.
fn ends_with_number(text: &str) -> bool {
    let run = text
        .rfind(|sign: char| !(sign.is_alphanumeric() || matches!(sign, '.' | '_' | '/')))
        .map_or(text, |at| {
            let sign = text[at..].chars().next().map_or(1, char::len_utf8);
            &text[at + sign..]
        });
    run.starts_with(|sign: char| sign.is_ascii_digit())
        && run.ends_with(|sign: char| sign.is_ascii_digit())
}

/// Whether a text ends in the middle of a unit: `60 gal/`.
fn continues_unit(head: &str) -> bool {
    let Some(run) = head.rsplit(' ').next().filter(|run| !run.is_empty()) else {
        return false;
    };
    let before = head[..head.len() - run.len()].trim_end();
    run.ends_with(['/', '*', '·']) && ends_with_number(before)
}

/// The unit that stands behind a number at the end of a text.
fn unit_behind_number(text: &str) -> Option<String> {
    let run = text.rsplit(' ').next()?;
    let before = text[..text.len() - run.len()].trim_end();
    let is_unit = run.chars().all(|sign| is_of_word(sign) || sign == '/');
    (is_unit && !run.is_empty() && ends_with_number(before)).then(|| run.to_owned())
}
