//! A case that hangs on a wall.

use crate::strength::GRAVITY;

/// A case on a wall: hung from a rail at its top, bearing against the wall at its foot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hanging {
    /// What it weighs loaded, kg.
    pub loaded: f64,
    /// What it weighs empty, kg.
    pub empty: f64,
    /// How far its centre of mass is out from the wall, mm.
    pub out: f64,
    /// From the rail down to where its foot bears against the wall, mm.
    pub between: f64,
    /// Screws in the rail.
    pub screws: u32,
}

/// What its screws must hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HangingPlan {
    /// Downward on all screws, N.
    pub down: f64,
    /// Pull out of the wall on all screws, N.
    pub pull: f64,
    /// Downward on each, N.
    pub each_down: f64,
    /// Pull on each, N.
    pub each_pull: f64,
    /// Whether its empty weight alone keeps it from being lifted off by [`LIFT`]; else it needs a catch.
    pub stays_down: bool,
}

/// An upward push at the front edge under which a wall unit must not come off, N (EN 16121 and EN 16122, read in summaries).
pub const LIFT: f64 = 100.0;

impl Hanging {
    /// What the screws must hold: the weight, shared evenly, and what keeps the case from turning about its foot. Nothing where there are no
    /// screws or no height between rail and foot.
    ///
    /// A push at the front edge turns the case about the rail as well; that is held by the foot only where it can't swing out, so a catch
    /// below is always good.
    pub fn plan(&self) -> Option<HangingPlan> {
        if self.screws == 0 || self.between.is_nan() || self.between <= 0.0 {
            return None;
        }
        let down = self.loaded * GRAVITY;
        let pull = down * self.out / self.between;
        let screws = f64::from(self.screws);
        Some(HangingPlan { down, pull, each_down: down / screws, each_pull: pull / screws, stays_down: self.empty * GRAVITY > LIFT })
    }
}
