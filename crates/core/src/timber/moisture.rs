//! The moisture that wood comes to in air of a temperature and a humidity, and the other way round.
//!
//! One curve serves all species: Wood Handbook FPL-GTR-190, equation 4-5 (Hailwood and Horrobin's two-hydrate form, as fitted by
//! Simpson, 1973), with its coefficients in degrees Celsius (read in two independent copies). It rests mainly on wood that dries;
//! wood that takes moisture up stays somewhat below (from memory).

use std::ops::RangeInclusive;
use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::known::{How, Known};
use super::tables::{all_publications, rows};
use crate::length::trimmed;
use crate::worked::{Basis, Worked};

/// Temperatures for which the moisture of wood is told, °C: indoors. The table that the equation was made from is wider.
pub const TEMPERATURES: RangeInclusive<f64> = 0.0..=50.0;
/// Relative humidities for which the moisture of wood is told, %.
pub const HUMIDITIES: RangeInclusive<f64> = 5.0..=95.0;

const FORMULA: &str = "1800/W × [K h/(1 − K h) + (K1 K h + 2 K1 K2 K² h²)/(1 + K1 K h + K1 K2 K² h²)], W, K, K1, K2 by temperature";
const SOURCE: &str = "Wood Handbook FPL-GTR-190, equation 4-5";

/// Air that wood stands in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Air {
    /// Temperature, °C.
    pub temperature: f64,
    /// Relative humidity, %.
    pub humidity: f64,
}

/// What is outside the range of the equation.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum OutOfRange {
    /// The temperature.
    #[error("temperature: {} °C is out of range; the moisture of wood is told from {} to {} °C", trimmed(*.0), TEMPERATURES.start(), TEMPERATURES.end())]
    Temperature(f64),
    /// The relative humidity.
    #[error("relative humidity: {} % is out of range; the moisture of wood is told from {} to {} %", trimmed(*.0), HUMIDITIES.start(), HUMIDITIES.end())]
    Humidity(f64),
    /// The moisture, for which there is no humidity in range at that temperature.
    #[error(
        "moisture: {} % is out of range; wood at {} °C comes to {} to {} % in air of {} to {} % relative humidity",
        trimmed(*.moisture), trimmed(*.temperature), trimmed(*.least), trimmed(*.greatest), HUMIDITIES.start(), HUMIDITIES.end()
    )]
    Moisture {
        /// What was asked for, %.
        moisture: f64,
        /// At this temperature, °C.
        temperature: f64,
        /// Least moisture there, %.
        least: f64,
        /// Greatest moisture there, %.
        greatest: f64,
    },
}

impl Air {
    /// The moisture that wood comes to in this air, % of dry mass.
    ///
    /// # Errors
    /// When temperature or humidity is outside [`TEMPERATURES`] or [`HUMIDITIES`].
    pub fn moisture(self) -> Result<f64, OutOfRange> {
        if !TEMPERATURES.contains(&self.temperature) {
            return Err(OutOfRange::Temperature(self.temperature));
        }
        if !HUMIDITIES.contains(&self.humidity) {
            return Err(OutOfRange::Humidity(self.humidity));
        }
        Ok(equilibrium(self.temperature, self.humidity))
    }

    /// The same, of the nearest air that is in range; for a design that is not checked yet.
    pub(crate) fn moisture_nearest(self) -> f64 {
        let within = |value: f64, range: RangeInclusive<f64>| {
            if value.is_nan() { *range.start() } else { value.clamp(*range.start(), *range.end()) }
        };
        equilibrium(within(self.temperature, TEMPERATURES), within(self.humidity, HUMIDITIES))
    }

    /// The air of a temperature in which wood comes to a moisture: found by halving, since moisture only rises with humidity.
    ///
    /// # Errors
    /// When the temperature is out of range, or no humidity in range gives that moisture.
    pub fn of_moisture(temperature: f64, moisture: f64) -> Result<Air, OutOfRange> {
        let at = |humidity| Air { temperature, humidity };
        let (mut low, mut high) = (*HUMIDITIES.start(), *HUMIDITIES.end());
        let (least, greatest) = (at(low).moisture()?, at(high).moisture()?);
        if !(least..=greatest).contains(&moisture) {
            return Err(OutOfRange::Moisture { moisture, temperature, least, greatest });
        }
        // Each step halves what is left of 90 %: after 50 nothing is.
        for _ in 0..50 {
            let middle = f64::midpoint(low, high);
            if equilibrium(temperature, middle) < moisture {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(at(f64::midpoint(low, high)))
    }

    /// The moisture with its formula, inputs and source.
    ///
    /// # Errors
    /// As [`moisture`](Air::moisture).
    pub fn worked(self) -> Result<Worked, OutOfRange> {
        let inputs = vec![Worked::given("temperature", self.temperature, "°C"), Worked::given("relative humidity", self.humidity, "%")];
        Ok(Worked::by("moisture", self.moisture()?, "%", (FORMULA, SOURCE), inputs))
    }

    /// [`worked`](Air::worked) with how far wood was seen to stray from the one curve for all species.
    ///
    /// # Errors
    /// As [`moisture`](Air::moisture).
    pub fn worked_with_margin(self) -> Result<Worked, OutOfRange> {
        let mut worked = self.worked()?;
        let margin = margin(None);
        let by = |by: f64| Known::new(by.max(0.0), margin.how, margin.source.clone());
        let told = [("some species were seen below that by up to", -margin.below), ("and some above it by up to", margin.above)];
        if let Basis::Formula { inputs, .. } = &mut worked.basis {
            inputs.extend(told.map(|(name, off)| Worked::known(name, &by(off), "%")));
        }
        Ok(worked)
    }

    /// The humidity of [`of_moisture`](Air::of_moisture) with its formula, inputs and source.
    ///
    /// # Errors
    /// As [`of_moisture`](Air::of_moisture).
    pub fn worked_of_moisture(temperature: f64, moisture: f64) -> Result<Worked, OutOfRange> {
        let air = Air::of_moisture(temperature, moisture)?;
        let inputs = vec![Worked::given("temperature", temperature, "°C"), Worked::given("moisture", moisture, "%")];
        let formula = ("the humidity h at which the moisture is so much, found by halving", SOURCE);
        Ok(Worked::by("relative humidity", air.humidity, "%", formula, inputs))
    }
}

/// Equation 4-5: temperature in °C, relative humidity and result in %.
fn equilibrium(t: f64, humidity: f64) -> f64 {
    let h = humidity / 100.0;
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
    let kh = k * h;
    let hydrates = k1 * kh + k1 * k2 * kh * kh;
    1800.0 / w * (kh / (1.0 - kh) + (hydrates + k1 * k2 * kh * kh) / (1.0 + hydrates))
}

/// By how much a species was seen to stray from the one curve for all.
#[derive(Clone, Debug, PartialEq)]
pub struct Margin {
    /// The furthest below the curve, % of dry mass; 0 or less.
    pub below: f64,
    /// The furthest above it, % of dry mass; 0 or more.
    pub above: f64,
    /// Whether the species itself was measured; else the margin is that of all that were.
    pub own: bool,
    /// Where the measured moistures stand.
    pub source: String,
    /// How they were obtained, at the weakest.
    pub how: How,
}

#[derive(Deserialize)]
struct Row {
    species: String,
    temperature_c: f64,
    humidity_pct: f64,
    moisture_pct: f64,
    source: String,
    how: How,
}

static MEASURED: LazyLock<Vec<Row>> = LazyLock::new(|| rows(include_str!("../../../../assets/timber/moisture.csv")).collect());

/// By how much wood of a species may stray from the one curve for all, by what was measured of it at two humidities; without a
/// species, or with one that was not measured, by what was measured of any.
pub fn margin(species: Option<&str>) -> Margin {
    let own: Vec<&Row> = MEASURED.iter().filter(|row| Some(row.species.as_str()) == species).collect();
    let (rows, is_own) = if own.is_empty() { (MEASURED.iter().collect(), false) } else { (own, true) };
    let off = |row: &&Row| row.moisture_pct - equilibrium(row.temperature_c, row.humidity_pct);
    let below = rows.iter().map(off).fold(0.0, f64::min);
    let above = rows.iter().map(off).fold(0.0, f64::max);
    let mut codes: Vec<&str> = rows.iter().map(|row| row.source.as_str()).collect();
    codes.sort_unstable();
    codes.dedup();
    let how = rows.iter().map(|row| row.how).min().unwrap_or(How::Memory);
    Margin { below, above, own: is_own, source: all_publications(&codes.join("; ")), how }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_out_of_range_says_so_and_what_would_do() {
        let told = |temperature, humidity| Air { temperature, humidity }.moisture().expect_err("out of range").to_string();
        assert_eq!(told(-1.0, 50.0), "temperature: -1 °C is out of range; the moisture of wood is told from 0 to 50 °C");
        assert_eq!(told(20.0, 96.0), "relative humidity: 96 % is out of range; the moisture of wood is told from 5 to 95 %");
        assert!(told(f64::NAN, 50.0).starts_with("temperature"));
        let error = Air::of_moisture(20.0, 30.0).expect_err("too wet").to_string();
        assert!(error.starts_with("moisture: 30 % is out of range; wood at 20 °C comes to 1.3"), "{error}");
    }

    /// European oak 8.9 % at 20 °C and 37 %, Scots pine 15.3 % at 83 %, against 7.3 and 17.2 by the equation (pages of a European
    /// timber initiative, read).
    #[test]
    fn the_margin_of_a_species_is_what_was_measured_of_it() {
        let oak = margin(Some("european_oak"));
        assert!(oak.own && (oak.above - 1.65).abs() < 0.1 && oak.below.abs() < 0.1, "{oak:?}");
        let any = margin(None);
        assert!(!any.own && (any.below + 1.9).abs() < 0.1 && (any.above - 1.65).abs() < 0.1, "{any:?}");
        assert_eq!(margin(Some("red_oak")), any, "it was not measured");
    }
}
