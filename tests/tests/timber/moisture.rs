//! The moisture that wood comes to.

use approx::assert_abs_diff_eq;
use casewright_core::timber::Air;
use proptest::prelude::*;

/// Moisture of wood by temperature, °F, and relative humidity: Wood Handbook FPL-GTR-190 (2010), table 4-2 (read in a page copy).
const TABLE: &str = include_str!("emc.csv");

/// The points of the table from 0 to 50 °C: air and moisture.
fn points() -> Vec<(Air, f64)> {
    let mut lines = TABLE.lines().map(|line| line.split(',').collect::<Vec<_>>());
    let head = lines.next().expect("a head");
    let humidities: Vec<f64> = head[1..].iter().map(|cell| cell.trim_start_matches("rh").parse().expect("a humidity")).collect();
    let row = |cells: Vec<&str>| {
        let numbers: Vec<f64> = cells.iter().map(|cell| cell.parse().expect("a number")).collect();
        let temperature = (numbers[0] - 32.0) / 1.8;
        humidities
            .iter()
            .zip(&numbers[1..])
            .map(|(humidity, moisture)| (Air { temperature, humidity: *humidity }, *moisture))
            .collect::<Vec<_>>()
    };
    lines.flat_map(row).filter(|(air, _)| (0.0..=50.0).contains(&air.temperature)).collect()
}

/// To 0.06 %, the rounding of the print and a little more.
#[test]
fn every_point_of_the_published_table_comes_out() {
    let points = points();
    assert!(points.len() > 150, "{}", points.len());
    for (air, published) in points {
        let moisture = air.moisture().expect("in range");
        assert!((moisture - published).abs() <= 0.06, "{air:?}: {moisture}, published {published}");
    }
}

/// At 70 °F and 30, 50, 65 and 80 %: 6.2, 9.2, 12.0 and 16.0 (same table; read in a second copy too).
#[test]
fn a_room_at_21_degrees() {
    for (humidity, published) in [(30.0, 6.2), (50.0, 9.2), (65.0, 12.0), (80.0, 16.0)] {
        let moisture = Air { temperature: 21.11, humidity }.moisture().expect("in range");
        assert_abs_diff_eq!(moisture, published, epsilon = 0.06);
    }
}

#[test]
fn the_moisture_tells_formula_inputs_and_source() {
    let why = Air { temperature: 21.0, humidity: 50.0 }.worked().expect("in range").explain().join("\n");
    for part in ["moisture 9.245 %", "equation 4-5", "temperature 21 °C", "relative humidity 50 %", "read"] {
        assert!(why.contains(part), "no {part} in\n{why}");
    }
}

proptest! {
    /// More humid air, wetter wood; and the way back finds the same air.
    #[test]
    fn moisture_rises_with_humidity_and_can_be_turned_round(temperature in 0.0..=50.0, humidity in 5.0..=94.0, more in 0.01..1.0) {
        let at = |humidity| Air { temperature, humidity }.moisture().expect("in range");
        prop_assert!(at(humidity + more) > at(humidity));
        let back = Air::of_moisture(temperature, at(humidity)).expect("in range");
        prop_assert!((back.humidity - humidity).abs() < 1e-6, "{} for {humidity}", back.humidity);
    }

    #[test]
    fn nothing_is_told_outside_the_range(temperature in -40.0..120.0, humidity in -20.0..120.0) {
        let inside = (0.0..=50.0).contains(&temperature) && (5.0..=95.0).contains(&humidity);
        prop_assert_eq!(Air { temperature, humidity }.moisture().is_ok(), inside);
    }
}
