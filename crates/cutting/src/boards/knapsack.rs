//! What fits into a length and brings most by given prices.

/// A size with its price, and how many may be taken.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ware {
    pub number: usize,
    pub size: i64,
    pub price: u64,
    pub most: u32,
}

/// The best that was found, and what nothing can beat.
#[derive(Clone, Debug)]
pub(super) struct Best {
    pub value: u64,
    pub upper: u64,
    /// By number of the ware, in ascending order.
    pub amounts: Vec<(usize, u32)>,
    /// What it took to find it, in the steps of [`super::effort::Meter`].
    pub steps: u64,
}

/// Steps of the search before the table is tried instead: where that is small, and where it is large and the best must be found.
const STEPS: [u64; 2] = [30_000, 2_000_000];

/// Cells of the table at most where an answer that is nearly the best will do, and where it must be the best.
const MOST_CELLS: [u64; 2] = [2_000_000, 40_000_000];

/// Fills a room with a great sum of prices; with the greatest that there is, if that is asked for and the table is not too large.
pub(super) fn best(room: i64, wares: &[Ware], greatest: bool) -> Best {
    let mut wares: Vec<Ware> = wares.iter().filter(|ware| ware.price > 0 && ware.most > 0 && ware.size <= room).copied().collect();
    let ratio = |ware: &Ware| ware.price as f64 / ware.size as f64;
    wares.sort_by(|a, b| ratio(b).total_cmp(&ratio(a)).then(b.size.cmp(&a.size)));
    let mut least = vec![i64::MAX; wares.len() + 1];
    for (number, ware) in wares.iter().enumerate().rev() {
        least[number] = least[number + 1].min(ware.size);
    }
    let parts = parts(&wares, room);
    let cells = room.unsigned_abs().saturating_mul(parts.len() as u64);
    let most = STEPS[usize::from(greatest && cells > MOST_CELLS[0])];
    let ratios = wares.iter().map(ratio).chain([0.0]).collect();
    let mut search = Search { wares: &wares, ratios, least, taken: vec![0; wares.len()], best: 0, amounts: Vec::new(), steps: 0, most };
    let done = search.go(0, room, 0);
    let (value, amounts, steps) = (search.best, search.amounts, search.steps / 16 + 1);
    let named = |amounts: &[u32]| {
        let mut named: Vec<(usize, u32)> =
            wares.iter().zip(amounts).filter(|(_, amount)| **amount > 0).map(|(ware, &amount)| (ware.number, amount)).collect();
        named.sort_unstable();
        named
    };
    if done {
        return Best { value, upper: value, amounts: named(&amounts), steps };
    }
    if cells <= MOST_CELLS[usize::from(greatest)] {
        let (value, amounts) = by_table(&wares, &parts, room);
        return Best { value, upper: value, amounts: named(&amounts), steps: steps + cells / 256 + 1 };
    }
    let upper = wares.first().map_or(0, |ware| (u128::from(ware.price) * room as u128 / ware.size as u128) as u64);
    Best { value, upper, amounts: named(&amounts), steps }
}

struct Search<'a> {
    /// Dearest for its size first.
    wares: &'a [Ware],
    ratios: Vec<f64>,
    /// The least size from each on.
    least: Vec<i64>,
    taken: Vec<u32>,
    best: u64,
    amounts: Vec<u32>,
    steps: u64,
    most: u64,
}

impl Search<'_> {
    /// Takes of each ware from a number on; whether it came to the end.
    fn go(&mut self, number: usize, room: i64, value: u64) -> bool {
        if value > self.best {
            self.best = value;
            self.amounts.clone_from(&self.taken);
        }
        if room < self.least[number] {
            return true;
        }
        self.steps += 1;
        if self.steps > self.most {
            return false;
        }
        // Skips what no longer goes in.
        let mut number = number;
        while self.wares[number].size > room {
            number += 1;
        }
        let ware = self.wares[number];
        let most = (room / ware.size).min(i64::from(ware.most)) as u32;
        for amount in (0..=most).rev() {
            let (rest, value) = (room - ware.size * i64::from(amount), value + ware.price * u64::from(amount));
            // Rounded, but by far less than the hundredth.
            let upper = value as f64 + rest as f64 * self.ratios[number + 1];
            if upper < self.best as f64 + 0.99 && value <= self.best {
                break;
            }
            self.taken[number] = amount;
            let done = self.go(number + 1, rest, value);
            self.taken[number] = 0;
            if !done {
                return false;
            }
        }
        true
    }
}

/// Amounts of wares that add up to any amount that may be taken: 1, 2, 4 … and what is left.
fn parts(wares: &[Ware], room: i64) -> Vec<(usize, u32)> {
    let mut parts = Vec::new();
    for (number, ware) in wares.iter().enumerate() {
        let mut left = (room / ware.size).min(i64::from(ware.most)) as u32;
        let mut part = 1;
        while left > 0 {
            parts.push((number, part.min(left)));
            left -= part.min(left);
            part *= 2;
        }
    }
    parts
}

fn by_table(wares: &[Ware], parts: &[(usize, u32)], room: i64) -> (u64, Vec<u32>) {
    let cells = room as usize + 1;
    let mut best = vec![0_u64; cells];
    let mut taken = vec![false; cells * parts.len()];
    for (&(number, amount), taken) in parts.iter().zip(taken.chunks_mut(cells)) {
        let (size, price) = ((wares[number].size * i64::from(amount)) as usize, wares[number].price * u64::from(amount));
        for cell in (size..cells).rev() {
            let with = best[cell - size] + price;
            if with > best[cell] {
                best[cell] = with;
                taken[cell] = true;
            }
        }
    }
    let mut amounts = vec![0; wares.len()];
    let mut cell = cells - 1;
    for (&(number, amount), taken) in parts.iter().zip(taken.chunks(cells)).rev() {
        if taken[cell] {
            amounts[number] += amount;
            cell -= (wares[number].size * i64::from(amount)) as usize;
        }
    }
    (best[room as usize], amounts)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        /// The search and the table, which knows nothing of bounds, come to the same.
        #[test]
        fn the_search_finds_what_the_table_finds(
            room in 1_i64..400,
            wares in proptest::collection::vec((1_i64..200, 0_u64..1000, 1_u32..4), 0..9),
        ) {
            let ware = |(number, (size, price, most)): (usize, (i64, u64, u32))| Ware { number, size, price, most };
            let wares: Vec<Ware> = wares.into_iter().enumerate().map(ware).collect();
            let found = best(room, &wares, true);
            let (value, _) = by_table(&wares, &parts(&wares, room), room);
            prop_assert_eq!((found.value, found.upper), (value, value));
            let sum = |of: fn(&Ware) -> i64| found.amounts.iter().map(|&(number, amount)| of(&wares[number]) * i64::from(amount)).sum::<i64>();
            prop_assert!(sum(|ware| ware.size) <= room);
            prop_assert_eq!(sum(|ware| ware.price.cast_signed()), value.cast_signed());
            prop_assert!(found.amounts.iter().all(|&(number, amount)| amount <= wares[number].most));
        }
    }
}
