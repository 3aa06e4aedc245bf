//! The verbs that have to do with the file: `open`, `save` and `quit`.

use super::answer;
use super::difference::{Change, changes};
use super::greeting;
use super::outcome::Outcome;
use super::session::{Asked, Session};
use crate::files::{self, Beside, Refusal};
use crate::notebook::Notebook;
use crate::report::Said;
use crate::source::{Code, Diagnostic, Span};
use std::path::{Path, PathBuf};
use std::rc::Rc;

impl Session {
    /// What a session begins with, and what was left by earlier ones.
    pub fn begin(&mut self) -> Outcome {
        let mut outcome = Outcome::answer(greeting::greeting(self));
        outcome.join(self.offer());
        outcome
    }

    /// `open`, which asks back where something is not saved.
    pub(super) fn open_asked(&mut self, path: &str, asked: &Asked) -> Outcome {
        let path = found(typed_path(path));
        let again = *asked == Asked::Open(path.clone());
        if self.is_unsaved() && self.line.is_none() && !again {
            let verb = format!("open {}", path.display());
            self.asked = Asked::Open(path);
            return Outcome::answer(self.unsaved(&verb));
        }
        self.open(&path)
    }

    /// Opens a file.
    pub fn open(&mut self, path: &Path) -> Outcome {
        let (name, document) = match files::read_document(path) {
            Ok(read) => read,
            Err(refusal) => return self.refuse_file(&refusal),
        };
        let beside = Rc::new(Beside::new(&name));
        let mut notebook = Notebook::open(&name, document, &*beside, self.library.clone());
        notebook.keep_files(beside);
        self.notebook = notebook;
        self.saved = self.notebook.text();
        self.file = Some(path.to_path_buf());
        self.said = Said::default();
        let mut outcome = greeting::opened(self);
        outcome.join(self.offer());
        outcome
    }

    /// Turns to the journal of the notebook at hand and offers what was left in it.
    fn offer(&mut self) -> Outcome {
        let file = self.file.clone();
        if let Err(error) = self.recall.begin(file.as_deref()) {
            return self.no_journal(&error);
        }
        match self.recall.left() {
            [] => Outcome::default(),
            left => Outcome::answer(greeting::offer(self, left)),
        }
    }

    fn refuse_file(&self, refusal: &Refusal) -> Outcome {
        Outcome::error(answer::draw(self, "", refusal))
    }

    /// `save`, which asks back before it writes over what this session has not read.
    pub(super) fn save(&mut self, path: &str, asked: &Asked) -> Outcome {
        let path = match (path, &self.file) {
            ("", Some(file)) => file.clone(),
            ("", None) => {
                let message =
                    Diagnostic::error(Code::File, Span::default(), "this notebook has no file yet")
                        .expected("a name for it, for example save gun.md");
                return Outcome::error(answer::draw(self, "", &message));
            }
            (path, _) => with_ending(typed_path(path)),
        };
        let text = self.notebook.text();
        let own = self.file.as_ref() == Some(&path);
        if *asked != Asked::Save(path.clone())
            && let Some(why) = self.would_overwrite(&path, own)
        {
            let verb = match own {
                true => "save".to_owned(),
                false => format!("save {}", path.display()),
            };
            self.asked = Asked::Save(path);
            return Outcome {
                is_wrong: self.line.is_some(),
                ..Outcome::answer(format!("  {why}: `{verb}` again writes over it"))
            };
        }
        if own && text == self.saved && path.exists() {
            return Outcome::answer(format!("  nothing to save: {} has it all", path.display()));
        }
        if let Err(refusal) = files::save(&path, text.as_bytes()) {
            return self.refuse_file(&refusal);
        }
        let answer = match own {
            true => greeting::saved(self, &path, &text),
            false => greeting::saved_anew(&path, &text),
        };
        let mut outcome = Outcome::answer(answer);
        self.saved = text;
        self.recall.all_saved();
        if !own {
            self.file = Some(path.clone());
            if let Err(error) = self.recall.begin(Some(&path)) {
                outcome.join(self.no_journal(&error));
            }
        }
        outcome
    }

    /// Why saving would write over something that this session does not know.
    fn would_overwrite(&self, path: &Path, own: bool) -> Option<String> {
        let name = path.display();
        match (std::fs::metadata(path), own) {
            (Err(_), _) => None,
            (Ok(about), _) if !about.is_file() => None,
            (Ok(_), false) => Some(format!("{name} is there already")),
            (Ok(_), true) => {
                let now = files::read(path).ok()?;
                (now != self.saved.as_bytes())
                    .then(|| format!("{name} was changed by another program since it was opened"))
            }
        }
    }

    /// `quit`, which tells first what is not saved.
    pub(super) fn quit(&mut self, asked: &Asked) -> Outcome {
        let is_unsaved = self.is_unsaved();
        if is_unsaved && *asked != Asked::Quit {
            self.asked = Asked::Quit;
            return Outcome::answer(self.unsaved("quit"));
        }
        if !is_unsaved {
            self.recall.keep_left();
        }
        self.recall.end();
        Outcome {
            ends: true,
            ..Outcome::default()
        }
    }

    /// What is not in the file, and what keeps or drops it.
    fn unsaved(&self, again: &str) -> String {
        let text = self.notebook.text();
        let differing = changes(&self.saved, &text);
        let what = match &self.file {
            None => lines_typed(&differing),
            Some(_) => lines_differing(&differing),
        };
        let save = match &self.file {
            Some(_) => "`save` keeps",
            None => "`save NAME.md` keeps",
        };
        let several = differing
            .iter()
            .map(|change| change.now.len().max(change.was.len()))
            .sum::<usize>()
            != 1;
        let it = if several { "them" } else { "it" };
        let mut said = format!("{what}: {save} {it}, `{again}` again drops {it}");
        if self.recall.is_kept() {
            let next = match &self.file {
                Some(_) => "`open`",
                None => "session",
            };
            said.push_str(&format!(" (the next {next} still offers {it})"));
        }
        answer::hanging(&said, self.screen)
    }
}

fn lines_typed(changes: &[Change<'_>]) -> String {
    match changes.iter().map(|change| change.now.len()).sum::<usize>() {
        1 => "1 line is in no file".to_owned(),
        lines => format!("{lines} lines are in no file"),
    }
}

fn lines_differing(changes: &[Change<'_>]) -> String {
    let numbers: Vec<usize> = changes
        .iter()
        .flat_map(|change| change.line..change.line + change.now.len().max(1))
        .collect();
    let gone = changes.iter().all(|change| change.now.is_empty());
    let named = named_lines(&numbers);
    match (numbers.len(), gone) {
        (1, false) => format!("{named} is not in the file"),
        (_, false) => format!("{named} are not in the file"),
        (1, true) => format!("{named} of the file was removed here"),
        (_, true) => format!("{named} of the file were removed here"),
    }
}

/// `lines 4, 5 and 9`, and how many more there are.
fn named_lines(numbers: &[usize]) -> String {
    let words: Vec<String> = numbers
        .iter()
        .take(MOST_NAMED)
        .map(usize::to_string)
        .collect();
    let more = numbers.len() - words.len();
    match (words.split_last(), more) {
        (Some((last, [])), 0) => format!("line {last}"),
        (Some((last, before)), 0) => format!("lines {} and {last}", before.join(", ")),
        _ => format!("lines {} and {more} more", words.join(", ")),
    }
}

/// More lines than these are counted, not named.
const MOST_NAMED: usize = 8;

/// A path as typed: quotes around it are taken off, and `~/` is the home folder.
fn typed_path(text: &str) -> PathBuf {
    let text = text.trim();
    let inner = text
        .strip_prefix('"')
        .and_then(|text| text.strip_suffix('"'));
    let text = inner.unwrap_or(text);
    match (text.strip_prefix("~/"), std::env::home_dir()) {
        (Some(rest), Some(home)) => home.join(rest),
        _ if text == "-" => PathBuf::from("./-"),
        _ => PathBuf::from(text),
    }
}

/// The file that a name stands for: `gun` is `gun.md` where there is no `gun`.
fn found(path: PathBuf) -> PathBuf {
    let longer = with_ending(path.clone());
    if !path.exists() && longer.exists() {
        return longer;
    }
    path
}

/// A name without an ending gets that of a document.
fn with_ending(path: PathBuf) -> PathBuf {
    match path.extension() {
        None if !path.exists() => path.with_extension("md"),
        _ => path,
    }
}
