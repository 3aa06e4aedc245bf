//! What people see: whole screens, compared as they are printed.
//!
//! The notebook most of them show is [`GUN`], an invented bleed-down test. Its figures by hand:
//! 74 gal × 32 psi / (14.696 psi × 80.3 s) is 16.09 ft³/min; 74 gal × 35 psi / (14.696 psi ×
//! 16.09 ft³/min) is 87.8 s; 16.09 / 19.7 is 81.7 %.

mod anything;
mod checks;
mod completion;
mod help;
mod json;
mod messages;
mod paste;
mod remarks;
mod ripple;
mod screens;
mod studies;
mod tables;
mod why;

use gaugebook::export::text::{self, Layout};
use gaugebook::library::Library;
use gaugebook::notebook::{NoFiles, Notebook};
use gaugebook::report::{self, Options, Report};
use gaugebook::source::Document;
use std::rc::Rc;

/// A test of an invented gun, each kind of outcome once.
const GUN: &str = "\
# What the long-nose gun uses

Shop, parts and readings are invented.

## The test

```gaugebook
needle_zero = 0 psi ± 2 psi      # shared by both readings
tank  = 74.0 gal ± 0.6 gal       # weighed full of water
start = 126 psig ± 0.5 psi + needle_zero
stop  = 94 psig ± 0.5 psi + needle_zero
held  = readings({80.1, 80.9, 80.4, 79.8} s) ± 0.4 s   # 4 readings, thumb ± 0.4 s
draw  = bleed_down(tank, start, stop, held)
```

## What it asks of the pump

```gaugebook
pump_output = 19.7 cfm ± 0.8 cfm (95 %)   # pumped up in March
cut_in = 92 psig ± 1 psi
cut_out = 127 psig ± 1 psi
duty [%] = duty(draw, pump_output)
rest = rest_time(tank, draw, cut_in, cut_out)   # pump off, gun blowing
refill [min] = run_time(tank, pump_output, draw, cut_in, cut_out)  # pump on, gun blowing

check draw <= pump_output
check duty <= 75 %  \"the pump runs more than three quarters of the time\"
check rest >= 90 s  \"the pump gets less than a minute and a half\"
```
";

/// A document opened under the name `shop.md`.
fn open(document: &str) -> Notebook {
    let document = Document::new(document.to_owned());
    Notebook::open("shop.md", document, &NoFiles, Rc::new(Library::new()))
}

/// Cells without any document around them.
fn cells(lines: &str) -> Notebook {
    open(&format!("```gaugebook\n{lines}\n```\n"))
}

fn read(notebook: &Notebook) -> Report {
    report::report(notebook, Options::default())
}

/// What goes to standard output.
fn screen(notebook: &Notebook, width: usize) -> String {
    text::report(&read(notebook), Layout::plain(width))
}

/// What goes to standard error.
fn errors(notebook: &Notebook, width: usize) -> String {
    text::messages(&read(notebook), Layout::plain(width))
}

/// The answer to a line typed in the shell, below that line.
fn typed(notebook: &mut Notebook, line: &str, width: usize) -> String {
    let edit = notebook
        .enter_statement(line)
        .expect("the line can be read");
    let rippled = report::ripple(notebook, &edit);
    format!("{line}\n{}", text::ripple(&rippled, Layout::plain(width)))
}

fn why(notebook: &Notebook, name: &str, layout: Layout) -> String {
    let cell = notebook.find(name).expect("the cell is there");
    let why = report::why(notebook, cell);
    format!("why {name}\n{}", text::why(&why, layout))
}

fn show(notebook: &Notebook, name: &str) -> String {
    let cell = notebook.find(name).expect("the cell is there");
    let page = report::page(notebook, cell);
    format!("show {name}\n{}", text::page(&page, Layout::plain(80)))
}

/// A layout for terminals that can do less.
fn ascii(width: usize) -> Layout {
    Layout {
        unicode: false,
        ..Layout::plain(width)
    }
}
