//! Timber of the maker's own: of what is told, each figure.

use std::ops::RangeInclusive;

use super::{Stage, Unit, Walk};
use crate::design::own::{DENSITY, ELASTICITY, EXPANSION, MOVES, STRENGTH};
use crate::design::{OwnSheet, OwnSpecies};

/// Names every figure that the maker tells of own species and sheets.
pub(super) fn timber(walk: &mut Walk<'_>, species: &mut [OwnSpecies], sheets: &mut [OwnSheet]) {
    walk.inside("own_species", |walk| {
        for (index, own) in species.iter_mut().enumerate() {
            walk.entry(index, |walk| one_species(walk, own));
        }
    });
    walk.inside("own_sheets", |walk| {
        for (index, own) in sheets.iter_mut().enumerate() {
            walk.entry(index, |walk| one_sheet(walk, own));
        }
    });
}

const ID: &str = "Its name in files: small letters, figures and _.";
const NAME: &str = "Its name for people.";
const SOURCE: &str = "Where its figures come from.";

fn one_species(walk: &mut Walk<'_>, own: &mut OwnSpecies) {
    walk.under(Stage::Timber, format!("Own species {}", own.id));
    let OwnSpecies { id, name, softwood: _, density, radial, tangential, moe, mor, shear, compression, source } = own;
    words(walk, id, name, source);
    figure(walk, "density", "Density", "Density at 12 % moisture, kg/m³.", (Unit::Density, DENSITY), density);
    let meaning = "Change across the growth rings, % of the size for each percent of moisture: 0.18 for the 0.0018 that handbooks print.";
    figure(walk, "radial", "Moves across the rings", meaning, (Unit::Percent, MOVES), radial);
    let meaning = "Change along the growth rings, % of the size for each percent of moisture: 0.3 for the 0.0030 that handbooks print.";
    figure(walk, "tangential", "Moves along the rings", meaning, (Unit::Percent, MOVES), tangential);
    figure(walk, "moe", "Modulus of elasticity", "Modulus of elasticity along the grain, N/mm².", (Unit::Stress, ELASTICITY), moe);
    figure(walk, "mor", "Modulus of rupture", "Stress in bending at which it breaks, N/mm².", (Unit::Stress, STRENGTH), mor);
    figure(walk, "shear", "Shear", "Stress in shear along the grain at which it breaks, N/mm².", (Unit::Stress, STRENGTH), shear);
    let meaning = "Stress across the grain up to which it springs back, N/mm².";
    figure(walk, "compression", "Pressure across the grain", meaning, (Unit::Stress, STRENGTH), compression);
}

fn one_sheet(walk: &mut Walk<'_>, own: &mut OwnSheet) {
    walk.under(Stage::Timber, format!("Own sheet {}", own.id));
    let OwnSheet { id, name, made_as: _, density, expansion, moe, moe_cross, mor, source } = own;
    words(walk, id, name, source);
    figure(walk, "density", "Density", "Density, kg/m³.", (Unit::Density, DENSITY), density);
    let meaning = "Growth of length and width when the air goes from 35 to 85 % relative humidity, %.";
    figure(walk, "expansion", "Expansion", meaning, (Unit::Percent, EXPANSION), expansion);
    let meaning = "Modulus of elasticity along the sheet or its face grain, N/mm².";
    figure(walk, "moe", "Modulus of elasticity", meaning, (Unit::Stress, ELASTICITY), moe);
    let meaning = "Modulus of elasticity across the face grain, N/mm².";
    figure(walk, "moe_cross", "Modulus of elasticity across", meaning, (Unit::Stress, ELASTICITY), moe_cross);
    figure(walk, "mor", "Modulus of rupture", "Stress in bending at which it breaks, N/mm².", (Unit::Stress, STRENGTH), mor);
}

fn words(walk: &mut Walk<'_>, id: &mut String, name: &mut String, source: &mut String) {
    walk.text("id", "Name in files", ID, id);
    walk.text("name", "Name", NAME, name);
    if !source.is_empty() {
        walk.text("source", "Source", SOURCE, source);
    }
}

/// A figure, where it is told.
fn figure(
    walk: &mut Walk<'_>,
    name: &str,
    label: &str,
    meaning: &'static str,
    (unit, range): (Unit, RangeInclusive<f64>),
    slot: &mut Option<f64>,
) {
    if let Some(value) = slot {
        walk.number(name, label, meaning, unit, range, value);
    }
}
