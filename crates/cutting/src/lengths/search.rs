//! Exact packing of a small task: tries every way that could matter, within a limit of steps.

use super::task::Item;

/// More items than this are not searched: the answer would not come within the limit of steps.
const MOST_ITEMS: usize = 120;

/// Placings tried before giving up; well under a tenth of a second.
const MOST_STEPS: u32 = 200_000;

/// What the search found out.
#[derive(Debug)]
pub(super) enum Outcome {
    /// A packing: the items of each bin that is not empty.
    Found(Vec<Vec<usize>>),
    /// There is none.
    Impossible,
    /// Too large a task to say.
    GaveUp,
}

/// Looks for a way to put all items, longest first, into bins of these rooms.
pub(super) fn pack(items: &[Item], rooms: &[i64]) -> Outcome {
    if items.len() > MOST_ITEMS {
        return Outcome::GaveUp;
    }
    let mut rest = vec![0; items.len() + 1];
    for (index, item) in items.iter().enumerate().rev() {
        rest[index] = rest[index + 1] + item.size;
    }
    let mut search = Search { items, rest, left: rooms.to_vec(), bin_of: Vec::with_capacity(items.len()), steps: MOST_STEPS };
    match search.place_next() {
        Some(true) => Outcome::Found(search.bins()),
        Some(false) => Outcome::Impossible,
        None => Outcome::GaveUp,
    }
}

struct Search<'a> {
    items: &'a [Item],
    /// Total size of the items from each index on.
    rest: Vec<i64>,
    /// Room left in each bin.
    left: Vec<i64>,
    /// The bin of each item placed so far.
    bin_of: Vec<usize>,
    steps: u32,
}

impl Search<'_> {
    /// Places the next item and all that follow; `None` when the limit of steps is reached.
    fn place_next(&mut self) -> Option<bool> {
        let next = self.bin_of.len();
        let Some(item) = self.items.get(next) else {
            return Some(true);
        };
        if self.rest[next] > self.room_of_use() {
            return Some(false);
        }
        // Equal items are alike, so only the order in which their bins do not decrease is tried.
        let alike = next > 0 && self.items[next - 1].size == item.size;
        let first = if alike { self.bin_of[next - 1] } else { 0 };
        for bin in first..self.left.len() {
            let left = self.left[bin];
            // Bins with equal room left are alike too.
            if left < item.size || self.left[first..bin].contains(&left) {
                continue;
            }
            self.steps = self.steps.checked_sub(1)?;
            self.left[bin] -= item.size;
            self.bin_of.push(bin);
            if self.place_next()? {
                return Some(true);
            }
            self.bin_of.pop();
            self.left[bin] += item.size;
        }
        Some(false)
    }

    /// Room left in bins that can still take the smallest item; the rest is waste.
    fn room_of_use(&self) -> i64 {
        let smallest = self.items.last().map_or(0, |item| item.size);
        self.left.iter().filter(|&&left| left >= smallest).sum()
    }

    fn bins(&self) -> Vec<Vec<usize>> {
        let mut bins = vec![Vec::new(); self.left.len()];
        for (item, &bin) in self.bin_of.iter().enumerate() {
            bins[bin].push(item);
        }
        bins.retain(|bin| !bin.is_empty());
        bins
    }
}
