//! The moisture of the timber: when it is built, and in its place.

use serde::{Deserialize, Serialize};

use super::shop::bare;
use crate::timber::Air;
use crate::timber::moisture::{Margin, margin};
use crate::worked::Worked;

/// Moisture of the timber in percent of dry mass.
///
/// In a file either `(built: 8, by: Moisture, driest: 6, wettest: 11)` or
/// `(built: 8, by: Climate, winter: (temperature: 20, humidity: 30), summer: (temperature: 22, humidity: 60))`; `by` may be left out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Written", into = "Written")]
pub struct Moisture {
    /// When it is built, measured. Every clearance is counted from it.
    pub built: f64,
    /// What it meets in its place.
    pub place: Place,
}

/// What the timber meets in its place.
#[derive(Clone, Debug, PartialEq)]
pub enum Place {
    /// Moistures, % of dry mass.
    Range {
        /// The driest it will be.
        driest: f64,
        /// The wettest it will be.
        wettest: f64,
    },
    /// The air of its room: the timber comes to the moisture of each.
    Climate {
        /// In winter.
        winter: Air,
        /// In summer.
        summer: Air,
    },
}

/// A state in which a case is looked at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Season {
    /// As it is built.
    #[default]
    Built,
    /// The driest in its place.
    Driest,
    /// The wettest in its place.
    Wettest,
}

impl Season {
    /// All three.
    pub const ALL: [Season; 3] = [Season::Built, Season::Driest, Season::Wettest];

    /// In a few words.
    pub fn words(self) -> &'static str {
        match self {
            Season::Built => "as built",
            Season::Driest => "driest",
            Season::Wettest => "wettest",
        }
    }
}

impl Moisture {
    /// Built at one moisture, and kept between two others.
    pub const fn range(built: f64, driest: f64, wettest: f64) -> Moisture {
        Moisture { built, place: Place::Range { driest, wettest } }
    }

    /// The driest it will be in its place, %.
    pub fn driest(&self) -> f64 {
        match &self.place {
            Place::Range { driest, .. } => *driest,
            Place::Climate { winter, summer } => winter.moisture_nearest().min(summer.moisture_nearest()),
        }
    }

    /// The wettest it will be in its place, %.
    pub fn wettest(&self) -> f64 {
        match &self.place {
            Place::Range { wettest, .. } => *wettest,
            Place::Climate { winter, summer } => winter.moisture_nearest().max(summer.moisture_nearest()),
        }
    }

    /// The same as [`at`](Moisture::at), with where it comes from.
    pub fn worked(&self, season: Season) -> Worked {
        let named = |worked: Worked| worked.named(format!("moisture, {}", season.words()));
        let given = || Worked::given("moisture", self.at(season), "%");
        match (&self.place, season) {
            (Place::Range { .. }, _) | (Place::Climate { .. }, Season::Built) => named(given()),
            (Place::Climate { winter, summer }, Season::Driest | Season::Wettest) => {
                let winter_is_drier = winter.moisture_nearest() <= summer.moisture_nearest();
                let air = if winter_is_drier == (season == Season::Driest) { winter } else { summer };
                named(air.worked_with_margin().unwrap_or_else(|_| given()))
            }
        }
    }

    /// How far the driest and the wettest may be off, where they come from the air of its room; nothing where they were told as moistures.
    pub fn margin(&self) -> Option<Margin> {
        matches!(self.place, Place::Climate { .. }).then(|| margin(None))
    }

    /// In one of the three states, %.
    pub fn at(&self, season: Season) -> f64 {
        match season {
            Season::Built => self.built,
            Season::Driest => self.driest(),
            Season::Wettest => self.wettest(),
        }
    }
}

/// The temperature taken for a moisture that is told as air, °C (a heated room: common practice, no source).
const ROOM: f64 = 20.0;

impl Place {
    /// The same place told as moistures.
    pub(super) fn as_range(&self) -> Place {
        let moisture = Moisture { built: 0.0, place: self.clone() };
        let tenth = |percent: f64| (percent * 10.0).round() / 10.0;
        Place::Range { driest: tenth(moisture.driest()), wettest: tenth(moisture.wettest()) }
    }

    /// The same place told as air of a heated room, as near as the equation goes.
    pub(super) fn as_climate(&self) -> Place {
        let moisture = Moisture { built: 0.0, place: self.clone() };
        let air = |percent: f64, else_humidity: f64| {
            let humidity = Air::of_moisture(ROOM, percent).map_or(else_humidity, |air| air.humidity.round());
            Air { temperature: ROOM, humidity }
        };
        Place::Climate { winter: air(moisture.driest(), 35.0), summer: air(moisture.wettest(), 60.0) }
    }
}

/// By what a place is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
enum By {
    Moisture,
    Climate,
}

/// As it stands in a file.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Moisture")]
struct Written {
    built: f64,
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    by: Option<By>,
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    driest: Option<f64>,
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    wettest: Option<f64>,
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    winter: Option<Air>,
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    summer: Option<Air>,
}

impl Written {
    /// Its fields but `built`, as they are called.
    fn found(&self) -> String {
        let fields = [
            ("by: Moisture", self.by == Some(By::Moisture)),
            ("by: Climate", self.by == Some(By::Climate)),
            ("driest", self.driest.is_some()),
            ("wettest", self.wettest.is_some()),
            ("winter", self.winter.is_some()),
            ("summer", self.summer.is_some()),
        ];
        let found: Vec<_> = fields.into_iter().filter(|(_, is)| *is).map(|(name, _)| name).collect();
        if found.is_empty() { "no place".to_owned() } else { found.join(", ") }
    }
}

impl TryFrom<Written> for Moisture {
    type Error = String;

    fn try_from(written: Written) -> Result<Moisture, String> {
        let place = match written {
            Written { by: None | Some(By::Moisture), driest: Some(driest), wettest: Some(wettest), winter: None, summer: None, .. } => {
                Place::Range { driest, wettest }
            }
            Written { by: None | Some(By::Climate), driest: None, wettest: None, winter: Some(winter), summer: Some(summer), .. } => {
                Place::Climate { winter, summer }
            }
            other => {
                return Err(format!(
                    "found {}; write driest and wettest, or winter and summer, each as (temperature: 20, humidity: 40)",
                    other.found()
                ));
            }
        };
        Ok(Moisture { built: written.built, place })
    }
}

impl From<Moisture> for Written {
    fn from(moisture: Moisture) -> Written {
        let bare = Written { built: moisture.built, by: None, driest: None, wettest: None, winter: None, summer: None };
        match moisture.place {
            Place::Range { driest, wettest } => Written { by: Some(By::Moisture), driest: Some(driest), wettest: Some(wettest), ..bare },
            Place::Climate { winter, summer } => Written { by: Some(By::Climate), winter: Some(winter), summer: Some(summer), ..bare },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_climate_is_read_written_and_gives_the_moistures_of_its_two_airs() {
        let text = "(built: 8, winter: (temperature: 20, humidity: 30), summer: (temperature: 24, humidity: 65))";
        let moisture: Moisture = ron::from_str(text).expect("a climate");
        assert_eq!(ron::from_str::<Moisture>(&ron::to_string(&moisture).expect("text")), Ok(moisture.clone()));
        let of = |temperature, humidity| Air { temperature, humidity }.moisture().expect("in range");
        assert!((moisture.driest() - of(20.0, 30.0)).abs() < 1e-12 && (moisture.wettest() - of(24.0, 65.0)).abs() < 1e-12);
        assert!((moisture.at(Season::Built) - 8.0).abs() < 1e-12);
    }

    /// In some places the heated winter is the wet season; the driest is the drier of the two.
    #[test]
    fn a_winter_may_be_the_wetter_season() {
        let air = |humidity| Air { temperature: 20.0, humidity };
        let moisture = Moisture { built: 8.0, place: Place::Climate { winter: air(70.0), summer: air(40.0) } };
        assert!(moisture.driest() < moisture.wettest());
    }

    #[test]
    fn half_a_range_or_both_ways_at_once_say_what_would_do() {
        for text in [
            "(built: 8, driest: 6)",
            "(built: 8)",
            "(built: 8, driest: 6, wettest: 9, winter: (temperature: 20, humidity: 30))",
            "(built: 8, by: Climate, driest: 6, wettest: 9)",
        ] {
            let error = ron::from_str::<Moisture>(text).expect_err(text).to_string();
            assert!(error.contains("driest and wettest, or winter and summer"), "{error}");
        }
    }

    #[test]
    fn a_place_told_the_other_way_and_back_is_nearly_the_same() {
        let place = Place::Range { driest: 6.0, wettest: 11.0 };
        let Place::Range { driest, wettest } = place.as_climate().as_range() else { panic!("a range") };
        assert!((driest - 6.0).abs() < 0.15 && (wettest - 11.0).abs() < 0.15, "{driest} {wettest}");
    }
}
