//! Which joint is wanted where two parts meet, and the one that the design has for it.

use super::plain::Fixing;
use super::sizes::role_path;
use super::{
    box_joint, breadboard, bridle, button, clip, dovetail, dowel, housing, lap, loose_tenon, plate, rabbet, room, screw, sliding_dovetail,
    slotted, tenon, tongue,
};
use crate::design::{self, Bottom, Design, EndJoint, EndJointKind, Ruled, Sheet};
use crate::length::Length;
use crate::model::Role;
use crate::place::Block;

/// The joint that is wanted where two parts meet, with the sizes it is to have.
#[derive(Clone, Copy, Debug)]
pub enum Wanted<'a> {
    /// Loose tenons.
    LooseTenons(loose_tenon::Wanted<'a>),
    /// A tenon cut on the end that comes up.
    Tenon(tenon::Wanted<'a>),
    /// Dowels.
    Dowels(dowel::Wanted<'a>),
    /// Two parts that share room, halved over each other.
    Lap(lap::Wanted),
    /// An open mortise over a tenon as wide as its part.
    Bridle(bridle::Wanted),
    /// Screws.
    Screws(screw::Wanted),
    /// A metal clip's tongue in a kerf, which lies so far along the rail from the middle of the clip, mm.
    Clip(&'a clip::Figures, f64),
    /// A figure-eight plate in a recess.
    Plate(&'a plate::Figures),
    /// A screw under a top in a slot of the strip below it.
    SlottedScrew(&'a slotted::Figures),
    /// A screw up into a top through so much of what it holds, mm.
    ScrewedUp(f64),
    /// A groove for the edge of a panel.
    Groove(&'a design::Groove, &'a Sheet),
    /// A button's tongue in a slot, which lies so far along the rail from the middle of the button, mm.
    Button(&'a button::Figures, f64),
    /// The part that comes up notched round a block of the case, with so much clearance, mm.
    Notch(Block, f64),
    /// The end of a cleat in a tooth, counted from 1.
    Seat(&'a design::Sawtooth, u32),
    /// A pin in a hole of a row that is there, counted from 1.
    Pin(&'a design::Pins, u32),
    /// Nothing cut.
    Plain(Fixing),
    /// A tongue on an edge or an end, in a groove.
    Tongue(tongue::Wanted),
    /// An end in a housing.
    Housing(housing::Wanted),
    /// An end in a sliding dovetail.
    SlidingDovetail(sliding_dovetail::Wanted),
    /// An end or a back in a rabbet.
    Rabbet(rabbet::Wanted),
    /// A box joint.
    BoxJoint(box_joint::Wanted),
    /// Dovetails; the part that comes up has the tails.
    Dovetail(dovetail::Wanted),
    /// A breadboard end; the top comes up.
    Breadboard(breadboard::Wanted<'a>),
}

/// Whether a joint makes way for others in the same part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum MakesWay {
    /// Its sizes are the maker's.
    No,
    /// Its sizes follow rules, and leave room to what is cut before it.
    Yes,
    /// It would go right through the part, and is the first to make way.
    First,
}

impl Wanted<'_> {
    /// Whether it makes way for what is cut into the receiving part already, by rules that choose its sizes.
    pub(crate) fn makes_way(&self) -> MakesWay {
        let ruled = |sizes: [design::Ruled; 2]| if sizes.iter().any(|size| size.own().is_none()) { MakesWay::Yes } else { MakesWay::No };
        match self {
            Wanted::Tenon(wanted) => match wanted.sizes.reach {
                design::Reach::Through if wanted.sizes.length.own().is_none() => MakesWay::First,
                design::Reach::Through | design::Reach::Stopped => ruled([wanted.sizes.length, wanted.sizes.shoulder]),
            },
            Wanted::Dowels(wanted) => ruled([wanted.sizes.length, wanted.sizes.margin]),
            Wanted::LooseTenons(_)
            | Wanted::Lap(_)
            | Wanted::Bridle(_)
            | Wanted::Screws(_)
            | Wanted::Clip(..)
            | Wanted::Plate(_)
            | Wanted::SlottedScrew(_)
            | Wanted::ScrewedUp(_)
            | Wanted::Groove(..)
            | Wanted::Button(..)
            | Wanted::Notch(..)
            | Wanted::Seat(..)
            | Wanted::Pin(..)
            | Wanted::Plain(_)
            | Wanted::Tongue(_)
            | Wanted::Housing(_)
            | Wanted::SlidingDovetail(_)
            | Wanted::Rabbet(_)
            | Wanted::BoxJoint(_)
            | Wanted::Dovetail(_)
            | Wanted::Breadboard(_) => MakesWay::No,
        }
    }

    /// Whether it is glued.
    pub fn is_glued(&self) -> bool {
        match self {
            Wanted::LooseTenons(wanted) => wanted.glued,
            Wanted::Tenon(wanted) => wanted.glued,
            Wanted::Dowels(wanted) => wanted.glued,
            Wanted::Lap(wanted) => wanted.glued,
            Wanted::Bridle(wanted) => wanted.glued,
            Wanted::Plain(fixing) => *fixing == Fixing::Glue,
            Wanted::Screws(_)
            | Wanted::Clip(..)
            | Wanted::Plate(_)
            | Wanted::SlottedScrew(_)
            | Wanted::ScrewedUp(_)
            | Wanted::Groove(..)
            | Wanted::Button(..)
            | Wanted::Notch(..)
            | Wanted::Seat(..)
            | Wanted::Pin(..) => false,
            Wanted::Tongue(wanted) => wanted.glued,
            Wanted::Housing(wanted) => wanted.glued,
            Wanted::SlidingDovetail(wanted) => wanted.glued,
            Wanted::Rabbet(wanted) => wanted.glued,
            Wanted::BoxJoint(wanted) => wanted.glued,
            Wanted::Dovetail(wanted) => wanted.glued,
            Wanted::Breadboard(wanted) => wanted.glued,
        }
    }
}

/// What some joints need to know besides the contact and the design.
pub(crate) enum Detail<'m> {
    None,
    /// What else enters the part that receives an end.
    Beyond(room::Beyond),
    /// A clip's figures, and the shift of its kerf along the rail.
    Clip {
        figures: clip::Figures,
        shift: f64,
    },
    /// A plate's figures.
    Plate(plate::Figures),
    /// The figures of a screw in its slot.
    Slotted(slotted::Figures),
    /// How much of a fixing its screw goes through into the top, mm.
    Screwed(f64),
    /// The sheet of a panel.
    Sheet(&'m Sheet),
    /// The tooth of a cleat, from 1.
    Tooth(u32),
    /// The hole of a pin, from 1.
    Hole(u32),
    /// The screw of a fixed cleat.
    Screws(screw::Wanted),
    /// A housing: its stops, the room it leaves beyond the contact and for the shelf to grow thicker, whether it is glued.
    Housed {
        stops: [f64; 2],
        room: [f64; 2],
        thicker: f64,
        glued: bool,
    },
    /// How deep the part that comes up is halved, mm.
    Halved(f64),
    /// What a notch goes round, and how much room it leaves.
    Round {
        block: Block,
        clearance: f64,
    },
    /// A button's figures, and the shift of its slot along the rail.
    Button {
        figures: button::Figures,
        shift: f64,
    },
}

/// The joint that the design wants for a role. Where a detail that the joint needs is missing, the parts only lie together.
pub(crate) fn choose<'a>(role: Role, design: &'a Design, detail: &'a Detail<'_>) -> Wanted<'a> {
    let joinery = &design.joinery;
    let (path, timber) = (role_path(role).unwrap_or_default(), design.timber.frame.as_str());
    let beyond = if let Detail::Beyond(beyond) = detail { *beyond } else { room::Beyond::default() };
    let tenons = |sizes, glued| Wanted::LooseTenons(loose_tenon::Wanted { sizes, path, timber, beyond, glued });
    let end = |joint: &'a EndJoint| match joint.by {
        EndJointKind::LooseTenons => tenons(&joint.loose, true),
        EndJointKind::MortiseAndTenon => Wanted::Tenon(tenon::Wanted { sizes: &joint.tenon, path, beyond, glued: true }),
        EndJointKind::Dowels => Wanted::Dowels(dowel::Wanted { sizes: &joint.dowels, path, timber, beyond, glued: true }),
    };
    match (role, detail) {
        (Role::RailToPost | Role::RailToMuntin, _) => end(&joinery.rail_to_post),
        (Role::StileToRail | Role::MuntinToRail, _) => end(&joinery.stile_to_rail),
        (Role::CrossRailToRail, _) => end(&joinery.cross_rail_to_rail),
        (Role::StandardToPost, _) => tenons(&joinery.standard_to_post, false),
        (Role::PanelToFrame, Detail::Sheet(sheet)) => Wanted::Groove(&joinery.groove, sheet),
        (Role::ButtonToRail, Detail::Button { figures, shift }) => Wanted::Button(figures, *shift),
        (Role::FixingToRail, Detail::Clip { figures, shift }) => Wanted::Clip(figures, *shift),
        (Role::FixingToRail, Detail::Plate(figures)) => Wanted::Plate(figures),
        (Role::FixingToTop, Detail::Slotted(figures)) => Wanted::SlottedScrew(figures),
        (Role::ButtonToTop | Role::FixingToTop, Detail::Screwed(through)) => Wanted::ScrewedUp(*through),
        (Role::ButtonToTop | Role::FixingToTop, _) => Wanted::Plain(Fixing::Screw),
        (Role::FloorRoundPost | Role::SlatRoundStandard, Detail::Round { block, clearance }) => Wanted::Notch(*block, *clearance),
        (Role::FloorToFloor, Detail::Halved(depth)) => Wanted::Lap(over_each_other(design, *depth)),
        (Role::CleatToStandard, Detail::Tooth(tooth)) => Wanted::Seat(&design.sawtooth, *tooth),
        (Role::PinToUpright, Detail::Hole(hole)) => Wanted::Pin(&design.pins, *hole),
        (Role::CleatToUpright, Detail::Screws(wanted)) => Wanted::Screws(*wanted),
        (Role::BearerToRail | Role::FixingToRail | Role::CleatToUpright | Role::SpacerToStandard, _) => Wanted::Plain(Fixing::Glue),
        (Role::ShelfToUpright, Detail::Housed { stops, room, thicker, glued }) => {
            let (depth, fit) = (design.housed.depth.own(), design.housed.fit.own());
            Wanted::Housing(housing::Wanted { depth, fit, stops: *stops, room: *room, thicker: *thicker, round: false, glued: *glued })
        }
        (
            Role::TopToPost
            | Role::FloorToBearer
            | Role::FloorToFloor
            | Role::SlatToCleat
            | Role::PanelToFrame
            | Role::ButtonToRail
            | Role::FloorRoundPost
            | Role::SlatRoundStandard
            | Role::CleatToStandard
            | Role::PinToUpright
            | Role::ShelfToPin
            | Role::ShelfToUpright
            | Role::Own,
            _,
        ) => Wanted::Plain(Fixing::Rest),
    }
}

/// Two pieces of a floor halved over each other: laid dry, with as much room at either shoulder as round the floor.
fn over_each_other(design: &Design, depth: f64) -> lap::Wanted {
    let clearance = match &design.carcase.bottom {
        Bottom::LooseFloor(floor) => floor.clearance.to_mm(),
        Bottom::Open => 0.0,
    };
    lap::Wanted { depth: Ruled::Own(Length::mm(depth)), fit: Length::mm(2.0 * clearance), glued: false }
}
