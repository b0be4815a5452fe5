//! Joints: what each cuts in its two parts, which loose parts it adds, its figures, and which way it comes apart.
//!
//! `derive` says where parts meet and in what [`Role`](crate::model::Role); `choose` answers with the joint that the design [wants](Wanted) there;
//! `cut` has the joint write its cuts into both parts. Nothing but a joint cuts a part for joining.

mod as_cut;
pub mod box_joint;
pub mod breadboard;
pub mod bridle;
pub mod button;
pub mod clip;
pub mod dovetail;
pub mod dowel;
pub mod fit;
pub mod groove;
pub mod housing;
pub mod lap;
pub mod loose_tenon;
mod members;
pub mod notch;
pub mod pin;
pub mod plain;
pub mod plate;
mod prisms;
pub mod rabbet;
pub mod room;
pub mod rules;
pub mod screw;
pub mod screwed_up;
pub mod seat;
pub(crate) mod shim;
mod sizes;
pub mod sliding_dovetail;
pub mod slotted;
pub mod tenon;
pub mod tongue;
mod wanted;

pub use as_cut::{AsCut, as_cut};
pub use fit::{Fit, Fitted};
pub(crate) use members::reach;
pub use plain::Fixing;
pub(crate) use prisms::{OVERSHOOT, axis_of, depth_range, face_and_point, local_axis, plane_axes, polygon_prism, rect_prism};
pub use rules::Broken;
pub(crate) use sizes::{loose_tenons, role_path, sizes_path};
pub use wanted::Wanted;
pub(crate) use wanted::{Detail, MakesWay, choose};

use crate::model::{Assembly, Contact, JointId};
use crate::place::Dir;

/// A joint with its figures, as cut.
#[derive(Clone, Debug, PartialEq)]
pub enum JointKind {
    /// Mortises in both parts, tenons of their own.
    LooseTenons(loose_tenon::Figures),
    /// A tenon cut on an end, in its mortise.
    Tenon(tenon::Figures),
    /// Dowels in holes of both parts.
    Dowels(dowel::Figures),
    /// Two parts halved over each other.
    Lap(lap::Figures),
    /// An open mortise over a tenon as wide as its part.
    Bridle(bridle::Figures),
    /// Screws.
    Screws(screw::Figures),
    /// A metal clip's tongue in a kerf.
    Clip(clip::Figures),
    /// A figure-eight plate in a recess.
    Plate(plate::Figures),
    /// A screw in a slot under a top.
    SlottedScrew(slotted::Figures),
    /// A screw up into a top.
    ScrewedUp(screwed_up::Figures),
    /// A panel edge in a groove.
    Groove(groove::Figures),
    /// A button's tongue in a slot.
    Button(button::Figures),
    /// A part notched round another.
    Notch(notch::Figures),
    /// A cleat in the teeth.
    Seat(seat::Figures),
    /// A pin in a hole of its row.
    Pin(pin::Figures),
    /// Face to face, nothing cut.
    Plain(Fixing),
    /// A tongue in a groove.
    Tongue(tongue::Figures),
    /// An end let into a channel.
    Housing(housing::Figures),
    /// An end with a tail along it, in an undercut channel.
    SlidingDovetail(sliding_dovetail::Figures),
    /// An end or a back in a step.
    Rabbet(rabbet::Figures),
    /// Square fingers at a corner.
    BoxJoint(box_joint::Figures),
    /// Tails in sockets at a corner.
    Dovetail(dovetail::Figures),
    /// An end board that keeps a top flat and lets it move.
    Breadboard(breadboard::Figures),
}

/// What every joint can tell of itself.
pub(crate) trait Joining {
    /// See [`JointKind::describe`].
    fn describe(&self) -> String;
    /// See [`JointKind::ways_apart`].
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir>;
    /// See [`JointKind::has_shoulder`].
    fn has_shoulder(&self) -> bool;
    /// See [`JointKind::strength`].
    fn strength(&self) -> &'static str;
    /// See [`JointKind::glued_length`].
    fn glued_length(&self, contact: &Contact) -> f64 {
        contact.extent.x
    }
    /// See [`JointKind::fits`].
    fn fits(&self) -> Vec<Fitted> {
        Vec::new()
    }
    /// See [`JointKind::goes_through`].
    fn goes_through(&self) -> bool {
        false
    }
    /// See [`JointKind::meets_others`].
    fn meets_others(&self) -> bool {
        false
    }
    /// See [`JointKind::broken`].
    fn broken(&self) -> Vec<Broken> {
        Vec::new()
    }
}

impl JointKind {
    fn joining(&self) -> &dyn Joining {
        match self {
            JointKind::LooseTenons(figures) => figures,
            JointKind::Tenon(figures) => figures,
            JointKind::Dowels(figures) => figures,
            JointKind::Lap(figures) => figures,
            JointKind::Bridle(figures) => figures,
            JointKind::Screws(figures) => figures,
            JointKind::Clip(figures) => figures,
            JointKind::Plate(figures) => figures,
            JointKind::SlottedScrew(figures) => figures,
            JointKind::ScrewedUp(figures) => figures,
            JointKind::Groove(figures) => figures,
            JointKind::Button(figures) => figures,
            JointKind::Notch(figures) => figures,
            JointKind::Seat(figures) => figures,
            JointKind::Pin(figures) => figures,
            JointKind::Plain(fixing) => fixing,
            JointKind::Tongue(figures) => figures,
            JointKind::Housing(figures) => figures,
            JointKind::SlidingDovetail(figures) => figures,
            JointKind::Rabbet(figures) => figures,
            JointKind::BoxJoint(figures) => figures,
            JointKind::Dovetail(figures) => figures,
            JointKind::Breadboard(figures) => figures,
        }
    }

    /// What it is called, with its leading figures: "loose tenon 8 × 22 × 50".
    pub fn describe(&self) -> String {
        self.joining().describe()
    }

    /// The straight ways in which the part that comes up can leave the part that receives, as the joint is made. Glue is not asked.
    pub fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        self.joining().ways_apart(contact)
    }

    /// Whether the part that comes up must stand with its shoulder against the part that receives.
    pub fn has_shoulder(&self) -> bool {
        self.joining().has_shoulder()
    }

    /// What is known of its strength, with where that comes from; empty where nothing is.
    pub fn strength(&self) -> &'static str {
        self.joining().strength()
    }

    /// How many screws hold it, and what they are, where it has any; a plate's own, into what it is let in, not what it holds up.
    pub fn screws(&self) -> Option<(usize, String)> {
        let of_gauge =
            |gauge: screw::Gauge, length: f64| format!("screw, {} gauge × {}", gauge.number(), crate::length::trimmed_to(length, 0));
        Some(match self {
            JointKind::Screws(figures) => (figures.at.len(), of_gauge(figures.gauge, figures.length)),
            JointKind::ScrewedUp(figures) => (1, of_gauge(figures.gauge, figures.length)),
            JointKind::SlottedScrew(figures) => (1, format!("screw, shank {}, with a washer", crate::length::trimmed(figures.shank))),
            JointKind::Plate(figures) => (1, of_gauge(figures.screw.gauge, figures.screw.length)),
            JointKind::Plain(Fixing::Screw) => (1, "screw".to_owned()),
            JointKind::Plain(Fixing::Rest | Fixing::Glue)
            | JointKind::LooseTenons(_)
            | JointKind::Tenon(_)
            | JointKind::Dowels(_)
            | JointKind::Lap(_)
            | JointKind::Bridle(_)
            | JointKind::Clip(_)
            | JointKind::Groove(_)
            | JointKind::Button(_)
            | JointKind::Notch(_)
            | JointKind::Seat(_)
            | JointKind::Pin(_)
            | JointKind::Tongue(_)
            | JointKind::Housing(_)
            | JointKind::SlidingDovetail(_)
            | JointKind::Rabbet(_)
            | JointKind::BoxJoint(_)
            | JointKind::Dovetail(_)
            | JointKind::Breadboard(_) => return None,
        })
    }

    /// How much of the contact's long way is glued where the joint is, mm; less than all of it where the wood must move.
    pub fn glued_length(&self, contact: &Contact) -> f64 {
        self.joining().glued_length(contact)
    }

    /// How its parts fit, place by place, where it has a class of fit.
    pub fn fits(&self) -> Vec<Fitted> {
        self.joining().fits()
    }

    /// Whether its mortise comes out on the far face on purpose.
    pub fn goes_through(&self) -> bool {
        self.joining().goes_through()
    }

    /// How much longer its tenon is than lets it meet another at the mitre, mm, less than nothing where it is short enough; none where it is not mitred.
    pub fn past_mitre(&self) -> Option<f64> {
        match self {
            JointKind::Tenon(figures) => figures.past_mitre(),
            JointKind::LooseTenons(figures) => figures.past_mitre(),
            JointKind::Dowels(_)
            | JointKind::Lap(_)
            | JointKind::Bridle(_)
            | JointKind::Screws(_)
            | JointKind::Clip(_)
            | JointKind::Plate(_)
            | JointKind::SlottedScrew(_)
            | JointKind::ScrewedUp(_)
            | JointKind::Groove(_)
            | JointKind::Button(_)
            | JointKind::Notch(_)
            | JointKind::Seat(_)
            | JointKind::Pin(_)
            | JointKind::Plain(_)
            | JointKind::Tongue(_)
            | JointKind::Housing(_)
            | JointKind::SlidingDovetail(_)
            | JointKind::Rabbet(_)
            | JointKind::BoxJoint(_)
            | JointKind::Dovetail(_)
            | JointKind::Breadboard(_) => None,
        }
    }

    /// Whether its mortise meets that of another such joint on purpose.
    pub fn meets_others(&self) -> bool {
        self.joining().meets_others()
    }

    /// The rules that its figures break. Those told with more knowledge of the whole, by a check of their own, are not among them.
    pub fn broken(&self) -> Vec<Broken> {
        self.joining().broken()
    }
}

/// Cuts both parts of a joint as wanted, adds its loose parts, and gives its figures.
pub(crate) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted<'_>) -> JointKind {
    match *wanted {
        Wanted::LooseTenons(wanted) => loose_tenon::cut(assembly, id, &wanted),
        Wanted::Tenon(wanted) => tenon::cut(assembly, id, &wanted),
        Wanted::Dowels(wanted) => dowel::cut(assembly, id, &wanted),
        Wanted::Lap(wanted) => lap::cut(assembly, id, &wanted),
        Wanted::Bridle(wanted) => bridle::cut(assembly, id, &wanted),
        Wanted::Screws(wanted) => screw::cut(assembly, id, &wanted),
        Wanted::Clip(figures, shift) => clip::cut(assembly, id, figures, shift),
        Wanted::Plate(figures) => plate::cut(assembly, id, figures),
        Wanted::SlottedScrew(figures) => slotted::cut(assembly, id, figures),
        Wanted::ScrewedUp(through) => screwed_up::cut(assembly, id, through),
        Wanted::Groove(sizes, sheet) => groove::cut(assembly, id, sizes, sheet),
        Wanted::Button(figures, shift) => button::cut(assembly, id, figures, shift),
        Wanted::Notch(block, clearance) => notch::cut(assembly, id, &block, clearance),
        Wanted::Seat(sawtooth, tooth) => seat::cut(assembly, id, sawtooth, tooth),
        Wanted::Pin(pins, hole) => pin::cut(assembly, id, pins, hole),
        Wanted::Plain(fixing) => JointKind::Plain(fixing),
        Wanted::Tongue(wanted) => tongue::cut(assembly, id, &wanted),
        Wanted::Housing(wanted) => housing::cut(assembly, id, &wanted),
        Wanted::SlidingDovetail(wanted) => sliding_dovetail::cut(assembly, id, &wanted),
        Wanted::Rabbet(wanted) => rabbet::cut(assembly, id, &wanted),
        Wanted::BoxJoint(wanted) => box_joint::cut(assembly, id, &wanted),
        Wanted::Dovetail(wanted) => dovetail::cut(assembly, id, &wanted),
        Wanted::Breadboard(wanted) => breadboard::cut(assembly, id, &wanted),
    }
}
