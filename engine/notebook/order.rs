//! The order of need: each cell's level is one more than the highest level it reads.

use super::Notebook;
use crate::check::CellId;

impl Notebook {
    /// Levels of all cells, from scratch.
    pub(super) fn renew_levels(&mut self) {
        let mut open: Vec<u32> = self
            .cells
            .iter()
            .map(|cell| cell.uses.len() as u32)
            .collect();
        for cell in &mut self.cells {
            cell.level = 0;
        }
        let mut ready: Vec<CellId> = (0..self.cells.len() as u32)
            .map(CellId)
            .filter(|cell| open[cell.0 as usize] == 0)
            .collect();
        while let Some(cell) = ready.pop() {
            let level = self.cells[cell.0 as usize].level + 1;
            for index in 0..self.cells[cell.0 as usize].used_by.len() {
                let reader = self.cells[cell.0 as usize].used_by[index];
                let record = &mut self.cells[reader.0 as usize];
                record.level = record.level.max(level);
                let left = &mut open[reader.0 as usize];
                *left = left.saturating_sub(1);
                if *left == 0 {
                    ready.push(reader);
                }
            }
        }
    }

    /// Levels of these cells and of what reads them, after their edges changed.
    pub(super) fn raise_levels(&mut self, cells: &[CellId]) {
        let mut pending: Vec<CellId> = cells.to_vec();
        // A circle never comes here: its cells are broken and read nothing they could wait for
        // twice, but a limit keeps a mistake from becoming an endless loop.
        let mut left = self.cells.len().saturating_mul(64).saturating_add(1024);
        while let Some(cell) = pending.pop() {
            let level = self.cells[cell.0 as usize]
                .uses
                .iter()
                .map(|used| self.cells[used.0 as usize].level + 1)
                .max()
                .unwrap_or(0);
            if left == 0 {
                return;
            }
            left -= 1;
            if self.cells[cell.0 as usize].level != level {
                self.cells[cell.0 as usize].level = level;
                pending.extend_from_slice(&self.cells[cell.0 as usize].used_by);
            }
        }
    }
}
