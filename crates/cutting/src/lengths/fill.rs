//! Best fit, longest first: quick, and never far off.

use std::collections::BTreeSet;

use super::task::Task;

/// Which items lie in which bin, as indices into the task's items.
#[derive(Debug)]
pub(super) struct Filled {
    pub bins: Vec<Vec<usize>>,
    /// Items for which no stick was left.
    pub left_out: Vec<usize>,
}

impl Filled {
    /// The sizes of the items that have a place, longest first.
    pub fn sizes_placed(&self, task: &Task) -> Vec<i64> {
        let mut sizes: Vec<i64> = self.bins.iter().flatten().map(|&item| task.items[item].size).collect();
        sizes.sort_by_key(|size| -size);
        sizes
    }
}

/// Puts each item into the bin that it fills best, and opens the longest stick left where none takes it.
///
/// Longest because the aim is few sticks; a shorter stock that does as well is chosen afterwards.
pub(super) fn best_fit(task: &Task) -> Filled {
    let rooms = task.longest_bins(usize::MAX);
    let mut filled = Filled { bins: Vec::new(), left_out: Vec::new() };
    // Room left and bin, in that order, so that the first entry that is large enough is the tightest.
    let mut left: BTreeSet<(i64, usize)> = BTreeSet::new();
    for (index, item) in task.items.iter().enumerate() {
        let tightest = left.range((item.size, 0)..).next().copied();
        let opened = filled.bins.len();
        if let Some((room, bin)) = tightest {
            left.remove(&(room, bin));
            left.insert((room - item.size, bin));
            filled.bins[bin].push(index);
        } else if let Some(room) = rooms.get(opened).filter(|&&room| room >= item.size) {
            left.insert((room - item.size, opened));
            filled.bins.push(vec![index]);
        } else {
            filled.left_out.push(index);
        }
    }
    filled
}
