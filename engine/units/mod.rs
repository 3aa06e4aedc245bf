//! What a unit means: dimensions, references, exact factors, the registry, reading and showing
//! unit expressions. Knows nothing of cells.
