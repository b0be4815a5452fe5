//! Exact packing into given rooms: tries every way that could matter, within a limit of steps.

use super::super::effort::Meter;

/// What the search found out.
#[derive(Debug)]
pub(super) enum Outcome {
    /// The room of each item.
    Found(Vec<usize>),
    /// There is no way.
    Impossible,
    /// Too large a task to say.
    GaveUp,
}

/// Looks for a way to put all items, longest first, into these rooms.
pub(super) fn pack(items: &[i64], rooms: &[i64], steps: u64, meter: &mut Meter) -> Outcome {
    let mut rest = vec![0; items.len() + 1];
    for (index, item) in items.iter().enumerate().rev() {
        rest[index] = rest[index + 1] + item;
    }
    let mut search = Search { items, rest, left: rooms.to_vec(), places: Vec::new(), next_from: Vec::new(), steps };
    let found = search.place_next();
    meter.spend((steps - search.steps) / 8);
    match found {
        Some(true) => Outcome::Found(search.places),
        Some(false) => Outcome::Impossible,
        None => Outcome::GaveUp,
    }
}

struct Search<'a> {
    items: &'a [i64],
    /// Total size of the items from each index on.
    rest: Vec<i64>,
    /// Room left in each.
    left: Vec<i64>,
    /// The room of each item placed so far.
    places: Vec<usize>,
    /// Beside each, from which room on an equal item is tried next.
    next_from: Vec<usize>,
    steps: u64,
}

impl Search<'_> {
    /// Places the next item and all that follow; `None` when the limit of steps is reached.
    fn place_next(&mut self) -> Option<bool> {
        let next = self.places.len();
        let Some(&item) = self.items.get(next) else {
            return Some(true);
        };
        if self.rest[next] > self.room_of_use() {
            return Some(false);
        }
        // Equal items are alike, so only the order in which their rooms do not decrease is tried.
        let alike = next > 0 && self.items[next - 1] == item;
        let first = if alike { self.next_from[next - 1] } else { 0 };
        // A room that is filled to the last is never a mistake for the longest item left.
        if let Some(exact) = (first..self.left.len()).find(|&room| self.left[room] == item)
            && !alike
        {
            return self.place(item, exact, 0);
        }
        for room in first..self.left.len() {
            let left = self.left[room];
            // Rooms with equal space left are alike too.
            if left < item || self.left[first..room].contains(&left) {
                continue;
            }
            if self.place(item, room, room)? {
                return Some(true);
            }
        }
        Some(false)
    }

    fn place(&mut self, item: i64, room: usize, next_from: usize) -> Option<bool> {
        self.steps = self.steps.checked_sub(1)?;
        self.left[room] -= item;
        self.places.push(room);
        self.next_from.push(next_from);
        if self.place_next()? {
            return Some(true);
        }
        self.places.pop();
        self.next_from.pop();
        self.left[room] += item;
        Some(false)
    }

    /// Space left in rooms that can still take the smallest item; the rest is waste.
    fn room_of_use(&self) -> i64 {
        let smallest = self.items.last().copied().unwrap_or(0);
        self.left.iter().filter(|&&left| left >= smallest).sum()
    }
}
