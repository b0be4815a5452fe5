//! Every part at its finished size, with its cuts and where it stands, and every joint between them.

use casewright_solid::{Pose, Solid};
use glam::{DVec2, DVec3};

use crate::inspect::Finding;
use crate::joint::JointKind;
use crate::length::{Length, trimmed};
use crate::origin::Size;
use crate::place::{Block, Dir};

/// A part, by its place in [`Model::parts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(pub usize);

/// A joint, by its place in [`Model::joints`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JointId(pub usize);

/// The case worked out: what [`derive()`](crate::derive()) makes of a design.
#[derive(Clone, Debug, Default)]
pub struct Model {
    /// What the piece is called.
    pub name: String,
    /// Every part; equal parts are separate entries with the same mark.
    pub parts: Vec<Part>,
    /// Every joint.
    pub joints: Vec<Joint>,
    /// The clear rooms between floor, shelves and top, for what it must hold.
    pub rooms: Vec<Room>,
    /// Over everything, the top's overhang included: least and greatest corner, mm.
    pub bounds: Option<Block>,
    /// What could not be placed as decided, found while deriving.
    pub findings: Vec<Finding>,
}

impl Model {
    /// The part of that id.
    pub fn part(&self, id: PartId) -> &Part {
        &self.parts[id.0]
    }

    /// The joint of that id.
    pub fn joint(&self, id: JointId) -> &Joint {
        &self.joints[id.0]
    }

    /// The part of that name, such as `rail.front.bottom`.
    pub fn find(&self, name: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.name == name)
    }

    /// The joints in which a part is a member or a loose part.
    pub fn joints_of(&self, id: PartId) -> impl Iterator<Item = &Joint> {
        self.joints.iter().filter(move |joint| joint.a == id || joint.b == id || joint.loose.contains(&id))
    }
}

/// One piece of wood or sheet.
#[derive(Clone, Debug)]
pub struct Part {
    /// Its place in the model.
    pub id: PartId,
    /// A stable name: kind, assembly and place, such as `rail.front.bottom`.
    pub name: String,
    /// What a maker calls it: "Front rail, bottom".
    pub title: String,
    /// What is written on it; equal parts share it.
    pub mark: String,
    /// What it is.
    pub kind: PartKind,
    /// What it is made of.
    pub material: Material,
    /// Finished length (along the grain), width and thickness.
    pub size: [Size; 3],
    /// Where it stands.
    pub pose: Pose,
    /// Everything cut into it.
    pub cuts: Vec<Cut>,
    /// When it goes in.
    pub stage: BuildStage,
}

impl Part {
    /// Finished length, width and thickness, mm.
    pub fn lwt(&self) -> DVec3 {
        DVec3::new(self.size[0].mm, self.size[1].mm, self.size[2].mm)
    }

    /// The blank less its cuts.
    pub fn solid(&self) -> Solid {
        let size = self.lwt();
        Solid { size, prisms: self.cuts.iter().flat_map(|cut| cut.feature.prisms(size)).collect() }
    }

    /// The upright box it fills in the case; parts stand square to the case.
    pub fn block(&self) -> Block {
        let (a, b) = (self.pose.point(DVec3::ZERO), self.pose.point(self.lwt()));
        Block { min: a.min(b), max: a.max(b) }
    }

    /// `1264 × 96 × 24`.
    pub fn size_text(&self) -> String {
        format!("{} × {} × {}", trimmed(self.size[0].mm), trimmed(self.size[1].mm), trimmed(self.size[2].mm))
    }
}

/// What a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartKind {
    /// A corner post.
    Post,
    /// A rail between posts or muntins.
    Rail,
    /// The front upright of a divider.
    Stile,
    /// The back upright of a divider, part of the back frame.
    Muntin,
    /// A rail from front to back in a divider.
    CrossRail,
    /// A panel in grooves.
    Panel,
    /// The solid top.
    Top,
    /// A piece of the floor.
    Floor,
    /// A strip that carries the floor.
    Bearer,
    /// A strip with teeth.
    Standard,
    /// A loose strip in the teeth that carries slats.
    Cleat,
    /// A board of a shelf.
    Slat,
    /// A wooden button that holds the top.
    Button,
    /// A loose tenon.
    LooseTenon,
}

impl PartKind {
    /// All kinds, in the order of a cut list.
    pub const ALL: [PartKind; 14] = [
        PartKind::Post,
        PartKind::Rail,
        PartKind::Stile,
        PartKind::Muntin,
        PartKind::CrossRail,
        PartKind::Panel,
        PartKind::Top,
        PartKind::Floor,
        PartKind::Bearer,
        PartKind::Standard,
        PartKind::Cleat,
        PartKind::Slat,
        PartKind::Button,
        PartKind::LooseTenon,
    ];

    /// Singular and plural, for lists.
    pub fn words(self) -> (&'static str, &'static str) {
        match self {
            PartKind::Post => ("Post", "Posts"),
            PartKind::Rail => ("Rail", "Rails"),
            PartKind::Stile => ("Stile", "Stiles"),
            PartKind::Muntin => ("Muntin", "Muntins"),
            PartKind::CrossRail => ("Cross rail", "Cross rails"),
            PartKind::Panel => ("Panel", "Panels"),
            PartKind::Top => ("Top", "Top"),
            PartKind::Floor => ("Floor", "Floor"),
            PartKind::Bearer => ("Bearer", "Bearers"),
            PartKind::Standard => ("Standard", "Standards"),
            PartKind::Cleat => ("Cleat", "Cleats"),
            PartKind::Slat => ("Slat", "Slats"),
            PartKind::Button => ("Button", "Buttons"),
            PartKind::LooseTenon => ("Loose tenon", "Loose tenons"),
        }
    }

    /// The letters of its mark.
    pub fn letters(self) -> &'static str {
        match self {
            PartKind::Post => "P",
            PartKind::Rail => "R",
            PartKind::Stile => "S",
            PartKind::Muntin => "M",
            PartKind::CrossRail => "X",
            PartKind::Panel => "PA",
            PartKind::Top => "T",
            PartKind::Floor => "F",
            PartKind::Bearer => "B",
            PartKind::Standard => "ST",
            PartKind::Cleat => "C",
            PartKind::Slat => "SL",
            PartKind::Button => "BT",
            PartKind::LooseTenon => "LT",
        }
    }
}

/// What a part is made of.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Material {
    /// Solid timber, by the id of its species.
    Solid(String),
    /// Sheet goods, by the id of the product.
    Sheet(String),
}

impl Material {
    /// The id of the species or product.
    pub fn id(&self) -> &str {
        match self {
            Material::Solid(id) | Material::Sheet(id) => id,
        }
    }

    /// Its name in the table, or its id where the table has none.
    pub fn name(&self) -> &str {
        match self {
            Material::Solid(id) => crate::timber::find_species(id).map_or(id, |species| &species.name),
            Material::Sheet(id) => crate::timber::find_sheet(id).map_or(id, |sheet| &sheet.name),
        }
    }

    /// Which way the grain runs.
    pub fn grain(&self) -> &'static str {
        match self {
            Material::Solid(_) => "along the length",
            Material::Sheet(_) => "face grain along the length",
        }
    }
}

/// When a part goes in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BuildStage {
    /// In the glue-up of the carcase.
    GlueUp,
    /// After it.
    AfterGlueUp,
    /// Never fixed: taken out and put back by hand.
    Loose,
}

impl BuildStage {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            BuildStage::GlueUp => "in the glue-up",
            BuildStage::AfterGlueUp => "after glue-up",
            BuildStage::Loose => "loose",
        }
    }
}

/// A cut in a part, with the joint that asked for it; a shape of the part's own, such as a row of teeth, has none.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// What is cut, in the part's own measures.
    pub feature: Feature,
    /// The joint it serves.
    pub joint: Option<JointId>,
}

/// One of the six faces of a part's blank.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Face {
    /// L = 0.
    FirstEnd,
    /// L = length.
    SecondEnd,
    /// W = 0.
    FaceEdge,
    /// W = width.
    BackEdge,
    /// T = 0.
    FaceSide,
    /// T = thickness.
    BackSide,
}

impl Face {
    /// 0 for the ends, 1 for the edges, 2 for the sides.
    pub fn axis(self) -> usize {
        match self {
            Face::FirstEnd | Face::SecondEnd => 0,
            Face::FaceEdge | Face::BackEdge => 1,
            Face::FaceSide | Face::BackSide => 2,
        }
    }

    /// Whether it lies at the zero of its axis.
    pub fn is_first(self) -> bool {
        matches!(self, Face::FirstEnd | Face::FaceEdge | Face::FaceSide)
    }

    /// The face whose outward normal in the part's own axes is nearest to `out`.
    pub fn looking(out: DVec3) -> Face {
        let dir = Dir::nearest(out);
        match (dir.axis(), dir.sign() < 0.0) {
            (0, true) => Face::FirstEnd,
            (0, false) => Face::SecondEnd,
            (1, true) => Face::FaceEdge,
            (1, false) => Face::BackEdge,
            (_, true) => Face::FaceSide,
            (_, false) => Face::BackSide,
        }
    }

    /// The trade's word.
    pub fn words(self) -> &'static str {
        match self {
            Face::FirstEnd => "first end",
            Face::SecondEnd => "second end",
            Face::FaceEdge => "face edge",
            Face::BackEdge => "back edge",
            Face::FaceSide => "face side",
            Face::BackSide => "back side",
        }
    }
}

/// What is cut into a part. Every figure is local: L from the first end, W from the face edge, T from the face side, mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Feature {
    /// A pocket in a face, its long way along one of the part's axes.
    Mortise {
        /// The face it is cut into.
        face: Face,
        /// Its middle on that face; the component through the face is ignored.
        centre: DVec3,
        /// The axis of its long way: 0 L, 1 W, 2 T.
        along: usize,
        /// Its long way.
        length: f64,
        /// Its narrow way.
        width: f64,
        /// How deep.
        depth: f64,
        /// Half-round ends, as a round cutter leaves them; else square.
        round: bool,
    },
    /// A groove along the grain in an edge or a side.
    Groove {
        /// The face it is cut into: an edge or a side.
        face: Face,
        /// From the face edge or face side to its middle line.
        centre: f64,
        /// How wide.
        width: f64,
        /// How deep.
        depth: f64,
        /// Where its full width begins, along L.
        from: f64,
        /// Where its full width ends, along L.
        to: f64,
        /// Whether it runs out at the first and at the second end; else it stops half-round beyond its full width.
        through: [bool; 2],
    },
    /// A corner cut out through the thickness.
    Notch {
        /// At the second end; else at the first.
        second_end: bool,
        /// At the back edge; else at the face edge.
        back_edge: bool,
        /// Along L.
        length: f64,
        /// Along W.
        width: f64,
    },
    /// A step across an end: what is left is a tongue.
    Rabbet {
        /// At the second end; else at the first.
        second_end: bool,
        /// Taken off the back side; else off the face side.
        back_side: bool,
        /// Along L.
        length: f64,
        /// Along T.
        depth: f64,
    },
    /// An end cut to a slope across the width: nothing off at the face edge, `inset` off at the back edge.
    Bevel {
        /// At the second end; else at the first.
        second_end: bool,
        /// Taken off along L at the back edge.
        inset: f64,
    },
    /// A row of sawteeth in the back edge, through the thickness. Each has a level seat and a slope above it.
    Teeth {
        /// From the first end to the lowest seat.
        first: f64,
        /// From seat to seat.
        pitch: f64,
        /// Depth of a seat.
        seat: f64,
        /// Flat at the tips.
        crest: f64,
        /// How many seats.
        count: u32,
    },
    /// Both edges rounded to half circles, as on a loose tenon.
    RoundEdges,
}

impl Feature {
    /// What it is called, for lists.
    pub fn name(&self) -> &'static str {
        match self {
            Feature::Mortise { round: true, .. } => "mortise",
            Feature::Mortise { .. } => "slot",
            Feature::Groove { through: [true, true], .. } => "groove, through",
            Feature::Groove { .. } => "groove, stopped",
            Feature::Notch { .. } => "notch",
            Feature::Rabbet { .. } => "rabbet",
            Feature::Bevel { .. } => "bevel",
            Feature::Teeth { .. } => "teeth",
            Feature::RoundEdges => "rounded edges",
        }
    }

    /// What it is, where and how large, measured from face side, face edge and first end.
    pub fn describe(&self) -> String {
        let mm = |value: f64| Length::mm(value).to_string();
        match self {
            Feature::Mortise { face, centre, along, length, width, depth, .. } => {
                let axes = ["from the first end", "from the face edge", "from the face side"];
                let at: Vec<_> =
                    (0..3).filter(|axis| *axis != face.axis()).map(|axis| format!("{} {}", mm(centre[axis]), axes[axis])).collect();
                let turned = if *along == 0 { "" } else { ", across" };
                format!(
                    "{} × {}, {} deep, in the {}{turned}, middle {}",
                    mm(*length),
                    mm(*width),
                    mm(*depth),
                    face.words(),
                    at.join(" and ")
                )
            }
            Feature::Groove { face, centre, width, depth, from, to, through } => {
                let ends = match through {
                    [true, true] => "through".to_owned(),
                    [true, false] => format!("from the first end, full to {}", mm(*to)),
                    [false, true] => format!("full from {}, to the second end", mm(*from)),
                    [false, false] => format!("stopped, full from {} to {}", mm(*from), mm(*to)),
                };
                let datum = if face.axis() == 1 { "face side" } else { "face edge" };
                format!(
                    "{} wide, {} deep, in the {}, middle {} from the {datum}, {ends}",
                    mm(*width),
                    mm(*depth),
                    face.words(),
                    mm(*centre)
                )
            }
            Feature::Notch { second_end, back_edge, length, width } => {
                let (end, edge) =
                    (if *second_end { "second end" } else { "first end" }, if *back_edge { "back edge" } else { "face edge" });
                format!("{} × {} out of the corner of {end} and {edge}", mm(*length), mm(*width))
            }
            Feature::Rabbet { second_end, back_side, length, depth } => {
                let (end, side) =
                    (if *second_end { "second end" } else { "first end" }, if *back_side { "back side" } else { "face side" });
                format!("{} long, {} off the {side} at the {end}", mm(*length), mm(*depth))
            }
            Feature::Bevel { second_end, inset } => {
                format!("{} off the back edge at the {}", mm(*inset), if *second_end { "second end" } else { "first end" })
            }
            Feature::Teeth { first, pitch, seat, crest, count } => {
                format!("{count} seats {} deep every {}, the lowest at {}, tips {} flat", mm(*seat), mm(*pitch), mm(*first), mm(*crest))
            }
            Feature::RoundEdges => "both edges half round".to_owned(),
        }
    }
}

/// A joint between two parts, with any loose parts it adds.
#[derive(Clone, Debug)]
pub struct Joint {
    /// Its place in the model.
    pub id: JointId,
    /// What it is, with its figures.
    pub kind: JointKind,
    /// Where in the case it is used.
    pub role: Role,
    /// The part that comes up: rail, panel, slat.
    pub a: PartId,
    /// The part that receives: post, groove, cleat.
    pub b: PartId,
    /// Loose tenons and the like.
    pub loose: Vec<PartId>,
    /// Where they meet, as designed.
    pub contact: Contact,
    /// Whether it is glued.
    pub glued: bool,
}

/// Where two parts meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// The middle of the contact, in the case, mm, on the face of the receiving part.
    pub centre: DVec3,
    /// The direction in which the coming part moves to close the joint.
    pub into: Dir,
    /// The long direction of the contact.
    pub along: Dir,
    /// Extent along `along`, and across it, mm.
    pub extent: DVec2,
}

/// What two parts are to each other where they meet. The design chooses a joint for each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// Rail end to post.
    RailToPost,
    /// Rail end to the edge of a muntin.
    RailToMuntin,
    /// Stile end to the edge of a rail.
    StileToRail,
    /// Muntin end to the edge of a rail.
    MuntinToRail,
    /// Cross rail end to the inner face of a rail.
    CrossRailToRail,
    /// Standard to post, stile or muntin.
    StandardToPost,
    /// Panel edge to post, rail or muntin.
    PanelToFrame,
    /// Button to rail.
    ButtonToRail,
    /// Button to the top it is screwed to.
    ButtonToTop,
    /// Top onto posts.
    TopToPost,
    /// Bearer to rail.
    BearerToRail,
    /// Floor onto bearer or cross rail.
    FloorToBearer,
    /// Floor round a post.
    FloorRoundPost,
    /// Cleat into the teeth of a standard.
    CleatToStandard,
    /// Slat onto a cleat.
    SlatToCleat,
    /// Slat round a standard and the post before it.
    SlatRoundStandard,
}

impl Role {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Role::RailToPost => "rail end to post",
            Role::RailToMuntin => "rail end to muntin",
            Role::StileToRail => "stile end to rail",
            Role::MuntinToRail => "muntin end to rail",
            Role::CrossRailToRail => "cross rail end to rail",
            Role::StandardToPost => "standard to post",
            Role::PanelToFrame => "panel edge to frame",
            Role::ButtonToRail => "button to rail",
            Role::ButtonToTop => "button to top",
            Role::TopToPost => "top on post",
            Role::BearerToRail => "bearer to rail",
            Role::FloorToBearer => "floor on bearer",
            Role::FloorRoundPost => "floor round post",
            Role::CleatToStandard => "cleat in standard",
            Role::SlatToCleat => "slat on cleat",
            Role::SlatRoundStandard => "slat round standard",
        }
    }
}

/// A clear room in a bay between two levels: where boxes stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// "bay 2, shelf 1", or "bay 2, floor".
    pub name: String,
    /// Which bay, from 0.
    pub bay: usize,
    /// The free space, mm; boxes stand on its lower face.
    pub space: Block,
}
