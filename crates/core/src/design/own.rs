//! Species and sheets that the tables do not have: the maker's own, in the design.
//!
//! ```text
//! timber: (
//!     frame: "olive_ash",
//!     own_species: [(id: "olive_ash", name: "Ash, olive", density: 690, tangential: 0.3, radial: 0.18, moe: 12000, source: "weighed, from my own boards")],
//!     …
//! )
//! ```

use std::borrow::Cow;
use std::collections::HashSet;
use std::ops::RangeInclusive;

use serde::{Deserialize, Serialize};

use super::Timber;
use super::decisions::DecisionError;
use super::shop::{bare, is_default};
use crate::timber::{How, Known, MadeAs, SheetProduct, Species, Timbers, sheet_goods, species};

/// What a density may be, kg/m³.
pub(super) const DENSITY: RangeInclusive<f64> = 50.0..=1500.0;
/// What a modulus of elasticity may be, N/mm².
pub(super) const ELASTICITY: RangeInclusive<f64> = 100.0..=40000.0;
/// What a strength may be, N/mm².
pub(super) const STRENGTH: RangeInclusive<f64> = 0.1..=400.0;
/// What the movement of solid timber may be, % of the size for each percent of moisture. No timber of the tables moves less than 0.07 across
/// its rings; what is less is a fraction as handbooks print it, 0.003, written where 0.3 is meant.
pub(super) const MOVES: RangeInclusive<f64> = 0.05..=1.0;
/// What a sheet may grow by from 35 to 85 % relative humidity, %. Less is a fraction written where percent is meant, or no matter.
pub(super) const EXPANSION: RangeInclusive<f64> = 0.02..=2.0;

/// A species of the maker's own. What is left out is not known: movement is then taken as great, and nothing is told of strength.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnSpecies {
    /// Its name in files: small letters, figures and `_`; none of the table's.
    pub id: String,
    /// Its name for people.
    pub name: String,
    /// Whether it is a softwood, by botany.
    #[serde(default, skip_serializing_if = "is_default")]
    pub softwood: bool,
    /// Density at 12 % moisture, kg/m³.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub density: Option<f64>,
    /// Change across the growth rings, % of the size for each percent of moisture.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub radial: Option<f64>,
    /// Change along the growth rings, % of the size for each percent of moisture.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub tangential: Option<f64>,
    /// Modulus of elasticity along the grain, N/mm².
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub moe: Option<f64>,
    /// Modulus of rupture, N/mm².
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub mor: Option<f64>,
    /// Strength in shear along the grain, N/mm².
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub shear: Option<f64>,
    /// Stress across the grain at the proportional limit, N/mm².
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub compression: Option<f64>,
    /// Where the figures come from, in the maker's words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
}

/// A product in sheets of the maker's own.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnSheet {
    /// Its name in files: small letters, figures and `_`; none of the table's.
    pub id: String,
    /// Its name for people.
    pub name: String,
    /// What it is made as; it is taken to show which way it lies as long as that is not told.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub made_as: Option<MadeAs>,
    /// Density, kg/m³.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub density: Option<f64>,
    /// How much length and width grow when the air goes from 35 to 85 % relative humidity, %.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub expansion: Option<f64>,
    /// Modulus of elasticity along the sheet or its face grain, N/mm².
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub moe: Option<f64>,
    /// Modulus of elasticity across it, N/mm².
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub moe_cross: Option<f64>,
    /// Modulus of rupture along the sheet or its face grain, N/mm².
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub mor: Option<f64>,
    /// Where the figures come from, in the maker's words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
}

impl Timber {
    /// Every timber and sheet that the design may name: its own, those of the maker's file, and those of the tables.
    pub fn timbers(&self) -> Timbers {
        let own = self.own_species.iter().map(Species::from).collect();
        Timbers::with_own(own, self.own_sheets.iter().map(SheetProduct::from).collect()).and_then(&self.library)
    }
}

fn hundredth(percent: f64) -> f64 {
    percent / 100.0
}

fn source(words: &str) -> String {
    if words.is_empty() { How::Maker.words().to_owned() } else { words.to_owned() }
}

fn known(value: Option<f64>, source: &str) -> Option<Known> {
    Some(Known::new(value?, How::Maker, Cow::Owned(source.to_owned())))
}

impl From<&OwnSpecies> for Species {
    fn from(own: &OwnSpecies) -> Species {
        let source = source(&own.source);
        let figure = |value| known(value, &source);
        let blank = Species::blank(&own.id, &own.name, How::Maker, &source);
        Species {
            softwood: own.softwood,
            density: figure(own.density),
            gravity: figure(own.density.map(Species::gravity_of)),
            radial: figure(own.radial.map(hundredth)),
            tangential: figure(own.tangential.map(hundredth)),
            moe: figure(own.moe),
            mor: figure(own.mor),
            shear: figure(own.shear),
            compression: figure(own.compression),
            ..blank
        }
    }
}

impl From<&OwnSheet> for SheetProduct {
    fn from(own: &OwnSheet) -> SheetProduct {
        let source = source(&own.source);
        let figure = |value| known(value, &source);
        let blank = SheetProduct::blank(&own.id, &own.name, How::Maker, &source);
        SheetProduct {
            made_as: own.made_as,
            grain: own.made_as.is_none_or(MadeAs::has_grain),
            density: figure(own.density),
            expansion: figure(own.expansion),
            moe: figure(own.moe),
            moe_cross: figure(own.moe_cross),
            mor: figure(own.mor),
            ..blank
        }
    }
}

/// What is wrong with the ids of the maker's own timber: each is to be one that files can name, and no other's.
pub(super) fn check_ids(timber: &Timber) -> Vec<DecisionError> {
    let own_species = timber.own_species.iter().map(|own| own.id.as_str());
    let own_sheets = timber.own_sheets.iter().map(|own| own.id.as_str());
    let mut errors = wrong_ids("own_species", own_species, species().iter().map(|species| species.id.as_str()));
    errors.extend(wrong_ids("own_sheets", own_sheets, sheet_goods().iter().map(|sheet| sheet.id.as_str())));
    errors
}

fn wrong_ids<'t>(list: &str, own: impl Iterator<Item = &'t str>, table: impl Iterator<Item = &'t str>) -> Vec<DecisionError> {
    let mut taken: HashSet<String> = table.map(str::to_owned).collect();
    let mut errors = Vec::new();
    for (index, id) in own.enumerate() {
        let Some(expected) = wrong_id(id, &mut taken) else { continue };
        let path = format!("timber.{list}.{}.id", index + 1);
        errors.push(DecisionError::Unreadable { path, found: id.to_owned(), expected: expected.to_owned() });
    }
    errors
}

/// Why an id will not do where others are taken; one that does is taken.
pub(super) fn wrong_id(id: &str, taken: &mut HashSet<String>) -> Option<&'static str> {
    if !is_id(id) {
        Some("write a name of small letters, figures and _, such as olive_ash")
    } else if !taken.insert(id.to_owned()) {
        Some("another timber has that name; write one of your own, such as olive_ash")
    } else {
        None
    }
}

fn is_id(id: &str) -> bool {
    id.starts_with(|c: char| c.is_ascii_lowercase()) && id.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{decisions, text};

    const DEMO: &str = include_str!("../../../../examples/records_cabinet.ron");

    fn with_own(species: &str) -> String {
        DEMO.replace("    timber: (\n", &format!("    timber: (\n        own_species: [{species}],\n"))
    }

    #[test]
    fn an_own_species_is_found_wherever_a_species_is_named() {
        let text = with_own(r#"(id: "olive_ash", name: "Ash, olive", density: 690, tangential: 0.3)"#)
            .replace("top: \"white_ash\"", "top: \"olive_ash\"");
        let design = text::read(&text).expect("a design");
        let model = crate::derive(&design).expect("a case");
        let top = model.find("top").expect("a top");
        assert_eq!(model.timbers.name(&top.material), "Ash, olive");
        let density = model.timbers.density(&top.material).expect("a density");
        assert_eq!((density.value, density.how, density.source.as_ref()), (690.0, How::Maker, "the maker's own"));
        let moved = crate::timber::Movement::of(top, &model.timbers, 8.0, 9.0).mm()[1];
        assert!((moved - top.size[1].mm * 0.003).abs() < 1e-9);
        let again = text::read(&text::write(&design).expect("text")).expect("a design");
        assert_eq!(again, design);
    }

    #[test]
    fn an_own_species_that_will_not_do_says_where_and_what_would() {
        for (species, says) in [
            (r#"(id: "white_ash", name: "Mine")"#, "timber.own_species.1.id: \"white_ash\" will not do; another timber has that name"),
            (r#"(id: "Olive ash", name: "Mine")"#, "timber.own_species.1.id: \"Olive ash\" will not do; write a name of small letters"),
            (r#"(id: "mine", name: "Mine"), (id: "mine", name: "Mine too")"#, "timber.own_species.2.id: \"mine\" will not do; another"),
            (
                r#"(id: "mine", name: "Mine", density: 7000)"#,
                "timber.own_species.1.density: 7000 is out of range; it must be 50 to 1500 kg/m³",
            ),
            // The fraction that handbooks print, where the design has percent.
            (
                r#"(id: "mine", name: "Mine", tangential: 0.0030)"#,
                "timber.own_species.1.tangential: 0.003 is out of range; it must be 0.05 to 1 %",
            ),
            (r#"(id: "mine", name: "Mine", radial: 0.0018)"#, "timber.own_species.1.radial: 0.0018 is out of range"),
            (r#"(id: "mine", name: "Mine", weight: 700)"#, "weight"),
        ] {
            let errors = text::read(&with_own(species)).expect_err(says);
            let told = errors.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
            assert!(told.contains(says) && told.contains("line 82"), "{told}");
        }
    }

    #[test]
    fn the_figures_of_an_own_species_are_decisions() {
        let text = with_own(r#"(id: "olive_ash", name: "Ash, olive", density: 690)"#);
        let mut design = text::read(&text).expect("a design");
        decisions::set(&mut design, "timber.own_species.1.density", "700").expect("a decision");
        assert_eq!(design.timber.own_species[0].density, Some(700.0));
        decisions::set(&mut design, "timber.frame", "olive_ash").expect("a species of the design");
        assert!(decisions::set(&mut design, "timber.frame", "olive").is_err());
    }
}
