//! Long work: it says how far it is, and hears whether to stop. Whoever starts the work sets a
//! watcher for the time it takes; the work itself knows neither terminals nor clocks.

use std::cell::RefCell;

type Watcher = Box<dyn FnMut(&str, f64) -> bool>;

thread_local! {
    static WATCHER: RefCell<Option<Watcher>> = const { RefCell::new(None) };
}

/// Runs `work` with a watcher: it is told what goes on and how much of it is done, from 0 to 1,
/// and answers whether to go on.
pub fn watched<T>(watcher: impl FnMut(&str, f64) -> bool + 'static, work: impl FnOnce() -> T) -> T {
    let before = WATCHER.with(|cell| cell.borrow_mut().replace(Box::new(watcher)));
    let result = work();
    WATCHER.with(|cell| *cell.borrow_mut() = before);
    result
}

/// Says how far the work is; gives whether to go on. Without a watcher it goes on.
pub fn goes_on(what: &str, done: f64) -> bool {
    WATCHER.with(|cell| match cell.try_borrow_mut() {
        Ok(mut watcher) => watcher.as_mut().is_none_or(|watcher| watcher(what, done)),
        Err(_) => true,
    })
}
