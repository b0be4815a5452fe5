//! Cuts that are centred by making them twice, the part turned end for end between.
//!
//! The fence stands at f from the near wall; turned, the other wall stands as far from the other face. So the cut is centred whatever the stock, and as wide as
//! the stock less 2 f: it follows the stock one to one (the trade's method, read; geometry).

/// Stock in one set agrees within so much, mm (common practice, no source: 0.05 to 0.1).
pub const AGREES: f64 = 0.1;

/// A centred cut in two passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turned {
    /// Which size of the part the fence is set from: 1 width, 2 thickness.
    pub axis: usize,
    /// The stock it is set for, mm.
    pub stock: f64,
    /// Where the fence stands, mm from the near wall of the cut.
    pub fence: f64,
}

impl Turned {
    /// How wide the cut comes out in stock so thick, mm.
    pub fn comes_out(&self, stock: f64) -> f64 {
        stock - 2.0 * self.fence
    }
}

/// A centred cut of a width in stock so thick, with a cutter so wide, mm. None where the cutter is not narrower than the cut, for then one pass does, or
/// narrower than half of it, for then a sliver stays in the middle.
pub fn turned(axis: usize, stock: f64, width: f64, cutter: f64) -> Option<Turned> {
    let does = cutter < width - 1e-9 && cutter >= width / 2.0 - 1e-9 && width < stock;
    does.then(|| Turned { axis, stock, fence: (stock - width) / 2.0 })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Stock 19.0, groove 6.6: fence 6.2; stock 19.2 in the same set: groove 6.8 (a check value of the trade's method, derived).
    #[test]
    fn the_fence_is_set_from_the_stock_and_the_cut_follows_it() {
        let set = turned(2, 19.0, 6.6, 6.0).expect("6 is narrower than 6.6 and wider than half of it");
        assert!((set.fence - 6.2).abs() < 1e-9 && (set.comes_out(19.2) - 6.8).abs() < 1e-9, "{set:?}");
        assert_eq!(turned(2, 19.0, 6.6, 6.6), None, "one pass does");
        assert_eq!(turned(2, 19.0, 6.6, 3.0), None, "a sliver would stay");
    }
}
