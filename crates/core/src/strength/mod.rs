//! What a part bears: how far it sags, how hard it is stressed, how its ends are held.
//!
//! ```text
//! Properties ──▶ Section ──▶ Beam ──solve──▶ Bent ──creep──▶ years later ──Limits──▶ Verdict
//! (of the table)  (EI, GA′)   (spans, loads)  (shape, moments, reactions, stresses)
//!                    Plate ──solve──▶ BentPlate    of what lies on points
//! ```
//!
//! A [`Beam`] is solved exactly: between any two places where something changes, the shape is one polynomial, and the places where it is
//! greatest are roots of its slope; nothing is sampled. Bending under the load, bending under the own weight and deflection by shear are
//! told apart.
//! What holds the ends (seats, notches, pins, screws) is judged by short formulas. Figures can be asked "why": they are
//! [`Worked`](crate::worked::Worked), with formula, inputs and source.
//!
//! Lengths are mm, forces N, stresses and moduli N/mm², masses kg. Deflections are positive downward, moments positive where they
//! stretch the lower face.
//!
//! Figures of the timber are means of small clear pieces, not design values. Where a failure could hurt someone, local codes and licensed
//! practice decide.

mod beam;
mod bent;
mod creep;
mod fastening;
mod holding;
mod limits;
pub(crate) mod linear;
mod plate;
mod polynomial;
mod properties;
mod section;
mod stiffness;
mod why;

pub use beam::{Beam, BeamError, Hold, Load, Stretch, Support};
pub use bent::{Bent, Extreme, Reaction, Sag, Span};
pub use creep::{
    Board, CREEP_SOURCE, Creep, ServiceClass, YEARS as CREEP_YEARS, creep, eurocode_final, eurocode_k_def, eurocode_known, keeps,
};
pub use fastening::{screw_lateral, screw_lateral_allowed, screw_shank, screw_withdrawal, screw_withdrawal_allowed};
pub use holding::{
    SAFETY_ACROSS, SAFETY_IN_BENDING, SAFETY_IN_SHEAR, SAFETY_OF_BOARDS, SAFETY_OF_STEEL, allowed_bearing, allowed_bending,
    allowed_in_a_hole, allowed_of_screw, allowed_shear, bearing_at_angle, bearing_stress, notch_factor, pin_bending, pin_prising,
    pin_shear, safety_in_bending, shear_along, shear_at_notch, steel_bending, steel_shear,
};
pub use limits::{Limits, Verdict};
pub use plate::{BentPlate, Patch, Plate, PlateError, Stiffness};
pub use properties::{Properties, PropertiesError, SHEAR_SHARE};
pub use section::{Layer, Section, SectionError};
pub use why::{Borne, after, after_by_eurocode};

/// Newtons to the kilogram: the standard acceleration of free fall, m/s² (ISO 80000-3; exact by definition).
pub const GRAVITY: f64 = 9.806_65;
