//! Joints: what each cuts in its two parts, which loose parts it adds, its figures, and which way it comes apart.
//!
//! `derive` says where parts meet and in what [`Role`]; `choose` answers with the joint that the design [wants](Wanted) there;
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

use casewright_solid::{Prism, Profile};
use glam::{DVec2, DVec3};

pub use as_cut::{AsCut, as_cut};
pub use fit::{Fit, Fitted};
pub use plain::Fixing;
pub use rules::Broken;
pub(crate) use sizes::{loose_tenons, role_path, sizes_path};

use crate::design::{self, Design, EndJoint, EndJointKind, Sheet};
use crate::model::{Assembly, Contact, Face, Feature, JointId, Part, Role, Shaping};
use crate::place::{Block, Dir};

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
    /// A housing: its stops, the room it leaves beyond the contact, whether it is glued.
    Housed {
        stops: [f64; 2],
        room: [f64; 2],
        glued: bool,
    },
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
        (Role::CleatToStandard, Detail::Tooth(tooth)) => Wanted::Seat(&design.sawtooth, *tooth),
        (Role::PinToUpright, Detail::Hole(hole)) => Wanted::Pin(&design.pins, *hole),
        (Role::CleatToUpright, Detail::Screws(wanted)) => Wanted::Screws(*wanted),
        (Role::BearerToRail | Role::FixingToRail | Role::CleatToUpright | Role::SpacerToStandard, _) => Wanted::Plain(Fixing::Glue),
        (Role::ShelfToUpright, Detail::Housed { stops, room, glued }) => {
            let (depth, fit) = (design.housed.depth.own(), design.housed.fit.own());
            Wanted::Housing(housing::Wanted { depth, fit, stops: *stops, room: *room, round: false, glued: *glued })
        }
        (
            Role::TopToPost
            | Role::FloorToBearer
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

impl Feature {
    /// The prisms that cut it out of a blank of `size`. Those that run out of the blank overshoot it, so that no skin is left.
    pub fn prisms(&self, size: DVec3) -> Vec<Prism> {
        match *self {
            Feature::Mortise { .. } | Feature::Recess { .. } => tenon::pocket_prisms(self, size),
            Feature::Tenon { .. } => tenon::tenon_prisms(self, size),
            Feature::Hole { face, centre, diameter, depth, sink } => screw::hole_prisms(size, face, centre, diameter, depth, sink),
            Feature::Lap { face, from, to, depth } => lap::lap_prisms(size, face, from, to, depth),
            Feature::Fork { second_end, length, from, to } => bridle::fork_prisms(size, second_end, length, from, to),
            Feature::Groove { .. } => groove::prisms(self, size),
            Feature::Notch { second_end, back_edge, length, width } => notch::prisms(size, second_end, back_edge, length, width),
            Feature::Rabbet { second_end, back_side, length, depth } => button::rabbet_prisms(size, second_end, back_side, length, depth),
            Feature::Bevel { second_end, inset } => seat::bevel_prisms(size, second_end, inset),
            Feature::Teeth { first, pitch, seat, crest, count } => seat::teeth_prisms(size, first, pitch, seat, crest, count),
            Feature::HalfRounds { first, pitch, radius, count } => seat::half_round_prisms(size, first, pitch, radius, count),
            Feature::HoleRow { face, first, pitch, count, diameter, depth } => {
                pin::row_prisms(size, face, first, pitch, count, [diameter, depth])
            }
            Feature::RoundEdges => loose_tenon::round_edge_prisms(size),
            Feature::RoundEnds => plate::round_end_prisms(size),
            Feature::EdgeRabbet(cut) => cut.prisms(size),
            Feature::Housing(cut) => cut.prisms(size),
            Feature::Tail(cut) => cut.prisms(size),
            Feature::EndGap(cut) => cut.prisms(size),
            Feature::Socket(cut) => cut.prisms(size),
            Feature::EdgeRound(cut) => cut.prisms(size),
            Feature::EdgeChamfer(cut) => cut.prisms(size),
            Feature::Taper(cut) => cut.prisms(size),
        }
    }
}

/// How far prisms stand out of the blank where they run out of it, mm.
pub(crate) const OVERSHOOT: f64 = 1.0;

/// The face of `part` that looks in the case's direction `out`, and a point of the case in the part's own measures.
pub(crate) fn face_and_point(part: &Part, out: DVec3, point: DVec3) -> (Face, DVec3) {
    (Face::looking(part.pose.inverse().vector(out)), part.pose.inverse().point(point))
}

/// The axis of the part, 0 to 2, that runs in the case's direction `along`.
pub(crate) fn local_axis(part: &Part, along: DVec3) -> usize {
    Dir::nearest(part.pose.inverse().vector(along)).axis()
}

/// The depth range of a pocket of `depth` from `face`, overshooting the face.
pub(crate) fn depth_range(face: Face, size: DVec3, depth: f64) -> (f64, f64) {
    let extent = size[face.axis()];
    if face.is_first() { (-OVERSHOOT, depth) } else { (extent - depth, extent + OVERSHOOT) }
}

/// The profile plane's first and second axis for a prism along `axis`: cyclic, so L → (W, T), W → (T, L), T → (L, W).
pub(crate) fn plane_axes(axis: usize) -> (usize, usize) {
    ((axis + 1) % 3, (axis + 2) % 3)
}

pub(crate) fn axis_of(index: usize) -> casewright_solid::Axis {
    match index {
        0 => casewright_solid::Axis::L,
        1 => casewright_solid::Axis::W,
        _ => casewright_solid::Axis::T,
    }
}

/// An upright rectangle prism along axis `axis` (0 to 2).
pub(crate) fn rect_prism(axis: usize, from: f64, to: f64, min: DVec2, max: DVec2) -> Prism {
    Prism { axis: axis_of(axis), from, to, profile: Profile::rect(min, max) }
}

/// A prism along axis `axis` (0 to 2) over a polygon, whose corners are points of the part; none when it encloses nothing.
pub(crate) fn polygon_prism(axis: usize, from: f64, to: f64, corners: &[DVec3]) -> Option<Prism> {
    let (u, v) = plane_axes(axis);
    let outline = corners.iter().map(|corner| DVec2::new(corner[u], corner[v])).collect();
    Profile::polygon(outline).ok().map(|profile| Prism { axis: axis_of(axis), from, to, profile })
}
