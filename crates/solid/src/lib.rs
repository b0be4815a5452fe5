//! Blanks and cuts as solids: surfaces, edges, volume and overlap. Knows nothing of furniture.
//!
//! A [`Solid`] is a rectangular blank less a list of [`Prism`]s. From it come
//!
//! * a [`Shape`]: a closed surface with faces, edges, volume, area and centroid, found one
//!   supporting plane at a time; and how much of it lies on another ([`contact()`]);
//! * [`Cells`]: the same solid as convex pieces, which answer how far two parts, however they
//!   are turned, stand in each other ([`overlap()`]), how much room is between them
//!   ([`clearance()`]), and whether a part strikes another on its way ([`sweep()`], [`turn()`]);
//! * a [`view`] of many of them, as lines that are seen or hidden, and as faces that a plane cuts.
//!
//! All lengths are millimetres. A blank lies between the origin and its size, L × W × T.
//!
//! ```
//! use casewright_solid::{Axis, Facets, Prism, Profile, Solid};
//! use glam::{DVec2, DVec3};
//!
//! // A rail 600 × 70 × 20 with a groove 6 wide and 10 deep in its lower edge.
//! let groove = Prism {
//!     axis: Axis::L,
//!     from: 0.0,
//!     to: 600.0,
//!     profile: Profile::rect(DVec2::new(0.0, 7.0), DVec2::new(10.0, 13.0)),
//! };
//! let rail = Solid {
//!     size: DVec3::new(600.0, 70.0, 20.0),
//!     prisms: vec![groove],
//! };
//! let shape = rail.shape(Facets::ChordError(0.05))?;
//! assert!((shape.volume - (600.0 * 70.0 * 20.0 - 600.0 * 6.0 * 10.0)).abs() < 1e-6);
//! assert!(shape.is_watertight());
//! # Ok::<(), casewright_solid::SolidError>(())
//! ```

mod axis;
mod box_tree;
mod brep;
mod broad_phase;
mod cells;
mod cutter;
mod facet;
mod pose;
mod profile;
mod shape;
mod solid;
pub mod view;

pub use axis::Axis;
pub use box_tree::{Bounds, BoxTree};
pub use brep::{Brep, Curve, Edge, Patch, Surface};
pub use broad_phase::broad_phase;
pub use cells::Cells;
pub use cells::clearance::{Clearance, clearance};
pub use cells::moves::Hit;
pub use cells::overlap::{Overlap, overlap};
pub use cells::sweep::{strikes, sweep, swept_bounds};
pub use cells::turn::{strikes_turning, turn};
pub use cells::void_gap::{VoidGap, void_gap};
pub use facet::Facets;
pub use pose::Pose;
pub use profile::{Profile, ProfileError, Segment};
pub use shape::contact::{Contact, contact};
pub use shape::{Arc, Face, FaceOrigin, FeatureEdge, Shape};
pub use solid::{Prism, Solid, SolidError};
