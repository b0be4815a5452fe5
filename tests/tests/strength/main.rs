//! Strength against figures from outside, each named with its source and how it was obtained, and against what must hold of any beam.

mod holding;
mod properties;
mod published;
mod why;

use casewright_core::strength::{Beam, Bent, Load, Properties, Section};

const INCH: f64 = 25.4;
/// Pounds to the square inch, and to the square foot, in N/mm² (the international pound and inch).
const PSI: f64 = 0.006_894_757;
const PSF: f64 = PSI / 144.0;

/// A section of E·I, N·mm², and no shear to speak of.
fn section(bending: f64) -> Section {
    let stuff = Properties::plain("stuff", 1.0).with_shear_modulus(1e12);
    // A square of side a has I = a⁴/12.
    let side = (12.0 * bending).powf(0.25);
    Section::rectangle(side, side, &stuff).expect("a section")
}

fn rectangle(modulus: f64, width: f64, thickness: f64) -> Section {
    Section::rectangle(width, thickness, &Properties::plain("stuff", modulus)).expect("a section")
}

fn solve(beam: &Beam) -> Bent {
    beam.solve().unwrap_or_else(|error| panic!("{error}: {beam:?}"))
}

fn spread(total: f64, length: f64) -> Load {
    Load::Spread { from: 0.0, to: length, per_mm: total / length }
}
