//! Looking up in a table with rising keys, and straight lines between its rows.

/// Why a table gives no answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TableTrouble<Key> {
    /// There are no rows.
    Empty,
    /// The columns have different lengths.
    Lengths(usize, usize),
    /// The key of this row, counted from zero, is not above the one before it.
    NotRising(usize),
    /// The key lies outside the table, whose first and last keys these are.
    Outside(Key, Key),
}

/// The keys of a table, known to rise.
#[derive(Clone, Copy, Debug)]
pub struct RisingKeys<'table, Key>(&'table [Key]);

/// Two neighbouring rows with a key between them, or twice the row that has the key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rows {
    /// The row below, counted from zero.
    pub lower: usize,
    /// The row above.
    pub upper: usize,
}

impl<'table, Key: Copy + PartialOrd> RisingKeys<'table, Key> {
    /// Checks that every key is above the one before it.
    ///
    /// # Errors
    /// [`TableTrouble::Empty`], [`TableTrouble::NotRising`].
    pub fn new(keys: &'table [Key]) -> Result<RisingKeys<'table, Key>, TableTrouble<Key>> {
        if keys.is_empty() {
            return Err(TableTrouble::Empty);
        }
        // A key that can't be compared (NaN) doesn't rise either.
        let falling =
            (1..keys.len()).find(|&row| !matches!(keys.get(row - 1..=row), Some([a, b]) if a < b));
        match falling {
            Some(row) => Err(TableTrouble::NotRising(row)),
            None => Ok(RisingKeys(keys)),
        }
    }

    /// The rows around a key.
    ///
    /// # Errors
    /// [`TableTrouble::Outside`].
    pub fn rows_around(self, key: Key) -> Result<Rows, TableTrouble<Key>> {
        let upper = self.0.partition_point(|&each| each < key);
        match (self.0.get(upper), upper.checked_sub(1)) {
            (Some(&above), _) if above == key => Ok(Rows {
                lower: upper,
                upper,
            }),
            (Some(&above), Some(lower)) if above > key => Ok(Rows { lower, upper }),
            _ => match self.0 {
                [first, .., last] => Err(TableTrouble::Outside(*first, *last)),
                [only] => Err(TableTrouble::Outside(*only, *only)),
                [] => Err(TableTrouble::Empty),
            },
        }
    }
}

/// The value at `x` on the straight lines through the rows (`xs`, `ys`).
///
/// # Errors
/// See [`TableTrouble`].
pub fn interpolate(x: f64, xs: &[f64], ys: &[f64]) -> Result<f64, TableTrouble<f64>> {
    if xs.len() != ys.len() {
        return Err(TableTrouble::Lengths(xs.len(), ys.len()));
    }
    let Rows { lower, upper } = RisingKeys::new(xs)?.rows_around(x)?;
    if lower == upper {
        return Ok(ys[lower]);
    }
    let share = (x - xs[lower]) / (xs[upper] - xs[lower]);
    Ok(ys[lower] + share * (ys[upper] - ys[lower]))
}
