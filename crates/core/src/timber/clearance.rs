//! Room for timber that moves: slots for what holds it, and grooves for panels.
//!
//! Growth and shrinkage are counted separately from the moisture at which it is built, never as half the range. Limits are those of the
//! checks; here is only what follows from sizes and moistures (movement: Wood Handbook FPL-GTR-190, equation 13-2).

use super::movement::movement;
use crate::design::{Moisture, Season};

/// Room in a slot besides shank and travel, mm (common practice, no source).
pub const FREE: f64 = 1.0;

/// How far a point moves out from the line that stays put when wettest, and in when driest, mm; neither is negative.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Travel {
    /// Outward, by the wettest.
    pub growth: f64,
    /// Inward, by the driest.
    pub shrinkage: f64,
}

impl Travel {
    /// Of a point at a distance from the fixed line, mm, in timber that moves by `rate` of its size for each percent.
    pub fn at(distance: f64, rate: f64, moisture: &Moisture) -> Travel {
        let to = |season| movement(distance.abs(), rate, moisture.built, moisture.at(season));
        Travel { growth: to(Season::Wettest).max(0.0), shrinkage: (-to(Season::Driest)).max(0.0) }
    }

    /// Both ways together, mm.
    pub fn both(self) -> f64 {
        self.growth + self.shrinkage
    }
}

/// Length of a slot for a shank that travels so far both ways together, mm: with 1 mm of room, rounded up to a half (common practice, no
/// source).
pub fn slot_length(shank: f64, travel: f64) -> f64 {
    // A ten-thousandth is no reason for another half.
    ((shank + travel + FREE) * 2.0 - 1e-4).ceil() / 2.0
}

/// A size in the three states of a case, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seasons {
    /// As built.
    pub built: f64,
    /// The driest.
    pub driest: f64,
    /// The wettest.
    pub wettest: f64,
}

impl Seasons {
    /// Of a size as built, mm, that moves by `rate` of itself for each percent of moisture.
    pub fn of(built: f64, rate: f64, moisture: &Moisture) -> Seasons {
        let at = |season| built + movement(built, rate, moisture.built, moisture.at(season));
        Seasons { built, driest: at(Season::Driest), wettest: at(Season::Wettest) }
    }

    /// By how many times it grows at most from as it was built; 1 where it only shrinks.
    pub fn swelling(&self) -> f64 {
        if self.built > 0.0 { (self.wettest / self.built).max(1.0) } else { 1.0 }
    }

    /// In one of them.
    pub fn at(&self, season: Season) -> f64 {
        match season {
            Season::Built => self.built,
            Season::Driest => self.driest,
            Season::Wettest => self.wettest,
        }
    }
}

/// A panel between two grooves that face each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grooved {
    /// Clear distance between the two members, mm.
    pub opening: Seasons,
    /// Depths of the two grooves, mm.
    pub depths: [f64; 2],
    /// The panel's size across the opening.
    pub across: Seasons,
}

impl Grooved {
    /// From the bottom of one groove to that of the other, mm.
    fn whole(&self, season: Season) -> f64 {
        self.opening.at(season) + self.depths[0] + self.depths[1]
    }

    /// Room that is left, both bottoms together, mm; negative by what the panel would push its frame apart.
    pub fn room(&self, season: Season) -> f64 {
        self.whole(season) - self.across.at(season)
    }

    /// How deep the panel is in each groove when it stands in the middle, mm, of grooves equally deep; negative when it is out.
    pub fn engaged_centred(&self, season: Season) -> f64 {
        (self.across.at(season) - self.opening.at(season)) / 2.0
    }

    /// How deep the panel stays in the shallower groove when it is pushed to the bottom of the deeper, mm; negative when it is out.
    pub fn engaged_pushed(&self, season: Season) -> f64 {
        self.across.at(season) - self.opening.at(season) - self.depths[0].max(self.depths[1])
    }
}

/// The size that a panel should have as built, mm, to have `play` left in all when it is wettest, in grooves of `depth` across an
/// `opening`; `across` is any size of it in the seasons. To a tenth, downward.
pub fn panel_size(opening: f64, depth: f64, play: f64, across: &Seasons) -> f64 {
    ((opening + 2.0 * depth - play) / across.swelling() * 10.0).floor() / 10.0
}
