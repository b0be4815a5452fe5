//! Whether a case stands: its mass and where it acts, what tips it, when to anchor it, and what hangs on a wall.
//!
//! A case tips forward over the line of its front feet. What lies behind that line holds it down; what is pulled out in front of it, and a
//! push at its top edge, turn it over.
//!
//! ```text
//!           ┌────────┐ ──▶ push at the top edge
//!           │        │
//!   back    │    ●   │ front: z grows this way
//!           │    │   │
//!           └────▼───┘
//!                    △ front feet
//!                ◀───▶ behind the feet
//! ```
//!
//! Lengths mm, masses kg, forces N, moments N·mm. Places are those of the case: x to the right, y up from the floor, z toward the front.
//!
//! Made with reference to EN 14749, EN 16122 and ASTM F2057, of which only abstracts and summaries were read; nothing here says that a
//! piece of furniture meets them. [`CAUTIONS`] are printed with every plan.

mod case;
mod hanging;
mod tipping;

pub use case::{Case, Drawer, DrawersOut, Feet, Moving, State};
pub use hanging::{Hanging, HangingPlan, LIFT};
pub use tipping::{Anchor, CARPET_BLOCK, Edge, Limits, Tipping, WallForce, tip};

/// What is printed with everything said of tipping, anchoring and hanging.
pub const CAUTIONS: &[&str] = &[
    "Anchor to the structure of the building, by local code and licensed practice; plasterboard alone holds nothing.",
    "Find cables and pipes before drilling.",
    "A case that can tip can kill a child: anchor it before it is loaded, and put what is heavy low.",
    "Designed with reference to EN 14749, EN 16122 and ASTM F2057; it was not tested to them.",
];
