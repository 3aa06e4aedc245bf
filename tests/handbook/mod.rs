//! The handbook: every example holds, every formula is described, and the published rows come
//! out of the language.

mod chapters;
mod covered;
mod decisions;
mod index_page;
mod measured;
mod recipes;
mod roots;
mod rows;
mod shop;
mod tried;
mod uncertainty;
