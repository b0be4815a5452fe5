//! The rules that a case is held against, each with its name in files.

/// The rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// No two parts are in the same place.
    Overlap,
    /// Every part finds a way to its place.
    LockedOut,
    /// No two parts run into each other when the case is at its driest or wettest.
    Season,
    /// A loose part comes out by hand while all that is fastened stays.
    Captive,
    /// A glue-up is done while the glue is open.
    GlueTime,
    /// A tool reaches a cut that might be made after glue-up.
    ToolReach,
    /// A shoulder reaches the part it stands against.
    Shoulder,
    /// A loose part is no longer than its holes are deep.
    TenonLength,
    /// A loose part has room at the bottoms of its holes for glue, and no more than that.
    BottomRoom,
    /// A loose part reaches into both parts far enough to hold.
    TenonHold,
    /// A loose tenon is about a third as thick as the thinner part.
    TenonThickness,
    /// The figures of a joint keep its rules.
    JointRule,
    /// Mortises in one part leave a wall between them.
    MortisesMeet,
    /// A mortise leaves a wall to the far face.
    MortiseBreaksOut,
    /// A mortise leaves wood beside it.
    MortiseCheek,
    /// No short grain between a cut and the end of its part, or at the tips of teeth.
    ShortGrain,
    /// Two parts that move unlike are not glued too wide.
    GlueAcross,
    /// A panel goes into its groove and does not rattle.
    PanelThickness,
    /// A panel stays in its grooves when driest and pushed over to one side.
    PanelEngaged,
    /// A panel has room at the bottoms of its grooves when wettest.
    PanelBottoms,
    /// A cutter is no wider than its groove.
    GrooveCutter,
    /// A groove leaves wood beside it, behind it, and to the mortises near it.
    GrooveLeavesWood,
    /// No edge that was hidden shows bare when the timber shrinks.
    BareLine,
    /// A top that stands out before the case does so at every moisture.
    OverhangStays,
    /// The tongue of a button holds the top at every moisture.
    ButtonHolds,
    /// The moisture is in the range in which movement can be reckoned.
    MoistureRange,
    /// A slat lies on its cleats.
    SlatBears,
    /// A cleat lies on its seats.
    CleatBears,
    /// A loose cleat stays in its teeth and under its shelf when it is pushed away from it.
    CleatStays,
    /// The slats of a shelf lie side by side.
    SlatsFit,
    /// A shelf goes in between its uprights.
    ShelfFits,
    /// A shelf lies on its pins.
    ShelfBears,
    /// What a shelf lies on is at one height.
    ShelfLevel,
    /// A solid shelf has room to grow.
    ShelfGrows,
    /// A loose shelf can be tilted out and in again while the others stay.
    ShelfTilts,
    /// A shelf's tooth, hole or level is there.
    ShelfHasTooth,
    /// Nothing sags further than its limit under what it bears.
    Sags,
    /// Nothing is stressed beyond what may be asked of it for years.
    Holds,
    /// All that bears is judged: no figure is lacking.
    NotJudged,
    /// The case does not tip under a light push, or is anchored.
    Stands,
    /// What is lifted is not too heavy for one.
    Lift,
    /// Some shelf takes each kind of box.
    BoxFits,
    /// Everything that it must hold has a place.
    AllPlaced,
    /// No box tips off a shelf or into a gap between its slats.
    BoxStands,
    /// A loose floor lies on its bearers.
    FloorBears,
    /// A loose floor closes its bay from side to side and from front to back.
    FloorCloses,
    /// The case goes where it is to stand.
    FitsSite,
    /// What is glued together gets there.
    Carried,
    /// No part reaches below the floor of the room.
    AboveGround,
    /// A part comes out of a stick.
    StickLength,
    /// What was set, measured or recorded names a part, or stock, that is there.
    NoSuchPart,
    /// A part that is there fits what is planned now.
    MadePartFits,
    /// The joints cut in a part are those that are planned now.
    CutsStillRight,
    /// What is recorded as glued is glued to something that is too.
    GluedToOthers,
    /// A sheet measures as what it is sold as.
    RightSheet,
    /// A part's cuts leave something of it.
    Solid,
    /// A round or a chamfer leaves some of the edge.
    EdgeLeavesWood,
}

impl Rule {
    /// Every rule.
    pub const ALL: &[Rule] = &[
        Rule::Overlap,
        Rule::LockedOut,
        Rule::Season,
        Rule::Captive,
        Rule::GlueTime,
        Rule::ToolReach,
        Rule::Shoulder,
        Rule::TenonLength,
        Rule::BottomRoom,
        Rule::TenonHold,
        Rule::TenonThickness,
        Rule::JointRule,
        Rule::MortisesMeet,
        Rule::MortiseBreaksOut,
        Rule::MortiseCheek,
        Rule::ShortGrain,
        Rule::GlueAcross,
        Rule::PanelThickness,
        Rule::PanelEngaged,
        Rule::PanelBottoms,
        Rule::GrooveCutter,
        Rule::GrooveLeavesWood,
        Rule::BareLine,
        Rule::OverhangStays,
        Rule::ButtonHolds,
        Rule::MoistureRange,
        Rule::SlatBears,
        Rule::CleatBears,
        Rule::CleatStays,
        Rule::SlatsFit,
        Rule::ShelfFits,
        Rule::ShelfBears,
        Rule::ShelfLevel,
        Rule::ShelfGrows,
        Rule::ShelfTilts,
        Rule::ShelfHasTooth,
        Rule::Sags,
        Rule::Holds,
        Rule::NotJudged,
        Rule::Stands,
        Rule::Lift,
        Rule::BoxFits,
        Rule::AllPlaced,
        Rule::BoxStands,
        Rule::FloorBears,
        Rule::FloorCloses,
        Rule::FitsSite,
        Rule::Carried,
        Rule::AboveGround,
        Rule::StickLength,
        Rule::NoSuchPart,
        Rule::MadePartFits,
        Rule::CutsStillRight,
        Rule::GluedToOthers,
        Rule::RightSheet,
        Rule::Solid,
        Rule::EdgeLeavesWood,
    ];

    /// Its name in files.
    pub fn id(self) -> &'static str {
        match self {
            Rule::Overlap => "overlap",
            Rule::LockedOut => "locked_out",
            Rule::Season => "season",
            Rule::Captive => "captive",
            Rule::GlueTime => "glue_time",
            Rule::ToolReach => "tool_reach",
            Rule::Shoulder => "shoulder",
            Rule::TenonLength => "tenon_length",
            Rule::BottomRoom => "bottom_room",
            Rule::TenonHold => "tenon_hold",
            Rule::TenonThickness => "tenon_thickness",
            Rule::JointRule => "joint_rule",
            Rule::MortisesMeet => "mortises_meet",
            Rule::MortiseBreaksOut => "mortise_breaks_out",
            Rule::MortiseCheek => "mortise_cheek",
            Rule::ShortGrain => "short_grain",
            Rule::GlueAcross => "glue_across",
            Rule::PanelThickness => "panel_thickness",
            Rule::PanelEngaged => "panel_engaged",
            Rule::PanelBottoms => "panel_bottoms",
            Rule::GrooveCutter => "groove_cutter",
            Rule::GrooveLeavesWood => "groove_leaves_wood",
            Rule::BareLine => "bare_line",
            Rule::OverhangStays => "overhang_stays",
            Rule::ButtonHolds => "button_holds",
            Rule::MoistureRange => "moisture_range",
            Rule::SlatBears => "slat_bears",
            Rule::CleatBears => "cleat_bears",
            Rule::CleatStays => "cleat_stays",
            Rule::SlatsFit => "slats_fit",
            Rule::ShelfFits => "shelf_fits",
            Rule::ShelfBears => "shelf_bears",
            Rule::ShelfLevel => "shelf_level",
            Rule::ShelfGrows => "shelf_grows",
            Rule::ShelfTilts => "shelf_tilts",
            Rule::ShelfHasTooth => "shelf_has_tooth",
            Rule::Sags => "sags",
            Rule::Holds => "holds",
            Rule::NotJudged => "not_judged",
            Rule::Stands => "stands",
            Rule::Lift => "lift",
            Rule::BoxFits => "box_fits",
            Rule::AllPlaced => "all_placed",
            Rule::BoxStands => "box_stands",
            Rule::FloorBears => "floor_bears",
            Rule::FloorCloses => "floor_closes",
            Rule::FitsSite => "fits_site",
            Rule::Carried => "carried",
            Rule::AboveGround => "above_ground",
            Rule::StickLength => "stick_length",
            Rule::NoSuchPart => "no_such_part",
            Rule::MadePartFits => "made_part_fits",
            Rule::CutsStillRight => "cuts_still_right",
            Rule::GluedToOthers => "glued_to_others",
            Rule::RightSheet => "right_sheet",
            Rule::Solid => "solid",
            Rule::EdgeLeavesWood => "edge_leaves_wood",
        }
    }
}
