//! How few sticks could do at the very best.

use super::task::Task;

/// A count of sticks below which the sizes cannot be placed; `sizes` longest first.
///
/// The greater of two bounds: by length alone over the sticks that can be had, longest first; and the bound L2 of
/// S. Martello and P. Toth, "Lower bounds and reduction procedures for the bin packing problem", Discrete Applied
/// Mathematics 28 (1990), as if every stick were the longest.
pub(super) fn fewest(task: &Task, sizes: &[i64]) -> usize {
    let rooms = task.longest_bins(usize::MAX);
    let Some(&roomiest) = rooms.first() else {
        return 0;
    };
    by_length(&rooms, sizes).max(by_halves(roomiest, sizes))
}

fn by_length(rooms: &[i64], sizes: &[i64]) -> usize {
    let mut still: i64 = sizes.iter().sum();
    let mut count = 0;
    for room in rooms {
        if still <= 0 {
            break;
        }
        still -= room;
        count += 1;
    }
    count
}

/// L2. For a threshold: items above room − threshold stand alone, other items above half stand one to a bin, and what
/// items from the threshold to half do not fit beside those needs bins of its own. The best of all thresholds counts.
fn by_halves(room: i64, sizes: &[i64]) -> usize {
    // Sums over the first n items, so that every threshold costs only a few look-ups: of the sizes, and of the room that
    // each item would leave in a bin of its own.
    let sums = running_sums(sizes.iter().copied());
    let gaps = running_sums(sizes.iter().map(|size| room - size));
    let above = |limit: i64| sizes.partition_point(|&size| size > limit);
    let half = above(room / 2);
    let mut best = half;
    for &threshold in sizes[half..].iter().chain([&0]) {
        let alone = above(room - threshold);
        let small = sizes.partition_point(|&size| size >= threshold).max(half);
        let beside = gaps[half] - gaps[alone];
        let rest = (sums[small] - sums[half] - beside).max(0);
        let more = rest.unsigned_abs().div_ceil(room.unsigned_abs());
        best = best.max(half + more as usize);
    }
    best
}

/// The sums of the first 0, 1, 2 … numbers.
fn running_sums(numbers: impl Iterator<Item = i64>) -> Vec<i64> {
    let mut sums = vec![0];
    let mut sum = 0;
    sums.extend(numbers.map(|number| {
        sum += number;
        sum
    }));
    sums
}

#[cfg(test)]
mod tests {
    use super::by_halves;

    #[test]
    fn halves_see_what_length_alone_does_not() {
        // Five pieces of six tenths: by length three bins, in truth five.
        assert_eq!(by_halves(10, &[6, 6, 6, 6, 6]), 5);
        // Beside 7 and 6 there are 3 and 4 left; three 4s need one more bin of their own.
        assert_eq!(by_halves(10, &[7, 6, 4, 4, 4]), 3);
        assert_eq!(by_halves(10, &[]), 0);
    }
}
