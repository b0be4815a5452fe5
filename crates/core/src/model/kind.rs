//! What parts are, what they are made of, when they go in; and what two are to each other where they meet.

use crate::timber::sheets;

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
    /// A strip that carries a shelf: loose in the teeth, or fixed.
    Cleat,
    /// A board of a shelf.
    Slat,
    /// A solid shelf.
    Shelf,
    /// A pin that a shelf lies on.
    Pin,
    /// An upright strip that keeps cleats in their teeth.
    Spacer,
    /// A wooden button that holds the top.
    Button,
    /// A loose tenon.
    LooseTenon,
    /// A dowel.
    Dowel,
    /// A metal clip that holds the top.
    Clip,
    /// A figure-eight plate that holds the top.
    Plate,
    /// A strip with slots for screws that hold the top.
    Strip,
    /// What makes a part up that came out too short.
    Shim,
    /// A part of no assembly, placed by hand.
    Own,
}

impl PartKind {
    /// All kinds, in the order of a cut list.
    pub const ALL: [PartKind; 23] = [
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
        PartKind::Shelf,
        PartKind::Pin,
        PartKind::Spacer,
        PartKind::Button,
        PartKind::LooseTenon,
        PartKind::Dowel,
        PartKind::Clip,
        PartKind::Plate,
        PartKind::Strip,
        PartKind::Shim,
        PartKind::Own,
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
            PartKind::Top => ("Top", "Tops"),
            PartKind::Floor => ("Floor", "Floors"),
            PartKind::Bearer => ("Bearer", "Bearers"),
            PartKind::Standard => ("Standard", "Standards"),
            PartKind::Cleat => ("Cleat", "Cleats"),
            PartKind::Slat => ("Slat", "Slats"),
            PartKind::Shelf => ("Shelf", "Shelves"),
            PartKind::Pin => ("Shelf pin", "Shelf pins"),
            PartKind::Spacer => ("Spacer", "Spacers"),
            PartKind::Button => ("Button", "Buttons"),
            PartKind::LooseTenon => ("Loose tenon", "Loose tenons"),
            PartKind::Dowel => ("Dowel", "Dowels"),
            PartKind::Clip => ("Clip", "Clips"),
            PartKind::Plate => ("Plate", "Plates"),
            PartKind::Strip => ("Strip", "Strips"),
            PartKind::Shim => ("Shim", "Shims"),
            PartKind::Own => ("Part", "Parts"),
        }
    }

    /// Whether it stands in another part and goes along with it: loose tenons and dowels.
    pub fn is_mounted(self) -> bool {
        matches!(self, PartKind::LooseTenon | PartKind::Dowel)
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
            PartKind::Shelf => "SF",
            PartKind::Pin => "PN",
            PartKind::Spacer => "SR",
            PartKind::Button => "BT",
            PartKind::LooseTenon => "LT",
            PartKind::Dowel => "D",
            PartKind::Clip => "CL",
            PartKind::Plate => "PL",
            PartKind::Strip => "SP",
            PartKind::Shim => "SH",
            PartKind::Own => "N",
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
    /// Bought in as it is, by what it is: "steel clip".
    Bought(String),
}

impl Material {
    /// The id of the species or product.
    pub fn id(&self) -> &str {
        match self {
            Material::Solid(id) | Material::Sheet(id) | Material::Bought(id) => id,
        }
    }

    /// Whether it is solid wood, in one board or several glued edge to edge: it moves across its grain and not along it.
    pub fn is_boards(&self) -> bool {
        match self {
            Material::Solid(_) => true,
            Material::Sheet(id) => sheets::is_boards(id),
            Material::Bought(_) => false,
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
    /// Clip, plate or strip to the rail that holds it.
    FixingToRail,
    /// Clip, plate or strip to the top it holds.
    FixingToTop,
    /// Top onto posts.
    TopToPost,
    /// Bearer to rail.
    BearerToRail,
    /// Floor onto bearer or cross rail.
    FloorToBearer,
    /// One piece of a floor over the other.
    FloorToFloor,
    /// Floor round a post.
    FloorRoundPost,
    /// Cleat into the teeth of a standard.
    CleatToStandard,
    /// Slat or solid shelf onto a cleat.
    SlatToCleat,
    /// Slat or solid shelf round a standard and the post before it.
    SlatRoundStandard,
    /// Spacer against a standard.
    SpacerToStandard,
    /// Pin into its hole in a post, stile or muntin.
    PinToUpright,
    /// Shelf onto a pin.
    ShelfToPin,
    /// Fixed cleat against a post, stile or muntin.
    CleatToUpright,
    /// Shelf end let into a post, stile or muntin.
    ShelfToUpright,
    /// Of no assembly: joined by hand.
    Own,
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
            Role::FixingToRail => "fixing to rail",
            Role::FixingToTop => "fixing to top",
            Role::TopToPost => "top on post",
            Role::BearerToRail => "bearer to rail",
            Role::FloorToBearer => "floor on bearer",
            Role::FloorToFloor => "one piece of a floor over the other",
            Role::FloorRoundPost => "floor round post",
            Role::CleatToStandard => "cleat in standard",
            Role::SlatToCleat => "board on cleat",
            Role::SlatRoundStandard => "board round standard",
            Role::SpacerToStandard => "spacer against standard",
            Role::PinToUpright => "pin in its hole",
            Role::ShelfToPin => "shelf on pin",
            Role::CleatToUpright => "cleat against upright",
            Role::ShelfToUpright => "shelf end in upright",
            Role::Own => "part to part",
        }
    }
}
