//! Which lines of two texts differ: the shortest list of changes goes out. Only lines are
//! compared; what they say does not matter.

/// Lines that differ.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change<'t> {
    /// The number of the first line, from 1: in the new text, or in the old one if all are gone.
    pub line: usize,
    /// As they were.
    pub was: Vec<&'t str>,
    /// As they are now.
    pub now: Vec<&'t str>,
}

/// More differing lines than this are taken as one change.
const MOST_DIFFERENT: usize = 2000;

/// The changes from one text to another, in order.
pub fn changes<'t>(old: &'t str, new: &'t str) -> Vec<Change<'t>> {
    let before: Vec<&str> = old.split('\n').collect();
    let after: Vec<&str> = new.split('\n').collect();
    let same = |(one, other): &(&&str, &&str)| one == other;
    let head = before.iter().zip(&after).take_while(same).count();
    let rest = before.len().min(after.len()) - head;
    let tail = before.iter().rev().zip(after.iter().rev());
    let tail = tail.take(rest).take_while(same).count();
    let middle = (
        &before[head..before.len() - tail],
        &after[head..after.len() - tail],
    );
    if middle.0.is_empty() && middle.1.is_empty() {
        return Vec::new();
    }
    match path(middle.0, middle.1) {
        Some(path) => runs(&path, middle, head),
        None => vec![change(middle.0, middle.1, head, head)],
    }
}

fn change<'t>(was: &[&'t str], now: &[&'t str], old: usize, new: usize) -> Change<'t> {
    Change {
        line: if now.is_empty() { old } else { new } + 1,
        was: was.to_vec(),
        now: now.to_vec(),
    }
}

/// The pairs of equal lines on a shortest path between two texts (Myers, 1986, An O(ND)
/// difference algorithm).
fn path(old: &[&str], new: &[&str]) -> Option<Vec<(usize, usize)>> {
    let most = (old.len() + new.len()).min(MOST_DIFFERENT);
    let middle = most + 1;
    let mut reach = vec![0_usize; 2 * most + 3];
    let mut steps: Vec<Vec<usize>> = Vec::new();
    for distance in 0..=most {
        steps.push(reach[middle - distance - 1..=middle + distance + 1].to_vec());
        let mut diagonal = middle - distance;
        while diagonal <= middle + distance {
            let down = diagonal == middle - distance
                || (diagonal != middle + distance && reach[diagonal - 1] < reach[diagonal + 1]);
            let mut x = if down {
                reach[diagonal + 1]
            } else {
                reach[diagonal - 1] + 1
            };
            let mut y = (x + middle).saturating_sub(diagonal);
            while x < old.len() && y < new.len() && old[x] == new[y] {
                (x, y) = (x + 1, y + 1);
            }
            reach[diagonal] = x;
            if x >= old.len() && y >= new.len() {
                return Some(trace(&steps, old, new));
            }
            diagonal += 2;
        }
    }
    None
}

/// Walks a shortest path back from the end.
fn trace(steps: &[Vec<usize>], old: &[&str], new: &[&str]) -> Vec<(usize, usize)> {
    let mut pairs = Vec::new();
    let (mut x, mut y) = (old.len() as i64, new.len() as i64);
    for (distance, reach) in steps.iter().enumerate().rev() {
        let distance = distance as i64;
        let at = |diagonal: i64| {
            let index = usize::try_from(diagonal + distance + 1).unwrap_or(0);
            reach.get(index).map_or(0, |x| *x as i64)
        };
        let diagonal = x - y;
        let down =
            diagonal == -distance || (diagonal != distance && at(diagonal - 1) < at(diagonal + 1));
        let before = if down { diagonal + 1 } else { diagonal - 1 };
        let from_x = at(before);
        let from_y = from_x - before;
        while x > from_x.max(0) && y > from_y.max(0) {
            (x, y) = (x - 1, y - 1);
            pairs.push((x as usize, y as usize));
        }
        (x, y) = (from_x, from_y);
    }
    pairs.reverse();
    pairs
}

/// The runs of lines between equal ones.
fn runs<'t>(
    path: &[(usize, usize)],
    (old, new): (&[&'t str], &[&'t str]),
    head: usize,
) -> Vec<Change<'t>> {
    let mut changes = Vec::new();
    let (mut x, mut y) = (0, 0);
    let end = (old.len(), new.len());
    for &(equal_x, equal_y) in path.iter().chain([&end]) {
        if equal_x > x || equal_y > y {
            changes.push(change(
                &old[x..equal_x],
                &new[y..equal_y],
                head + x,
                head + y,
            ));
        }
        (x, y) = (equal_x + 1, equal_y + 1);
    }
    changes
}
