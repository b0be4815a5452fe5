//! How each rule comes to its figures, in words: what stands beside the figures and the source of a finding that is asked "why".

use super::Rule;

impl Rule {
    /// How the figures of its findings are worked out from the sizes, and what they are held against.
    #[allow(clippy::too_many_lines, reason = "an arm a rule, and a sentence each")]
    pub fn reckoned(self) -> &'static str {
        match self {
            Rule::Overlap => {
                "volume = what both solids have in common; depth = the least move that parts them; they may touch, and have nothing in common"
            }
            Rule::LockedOut => {
                "each part is swept along every straight way its joints allow, and tipped in where it may be; a way counts when nothing stands in it"
            }
            Rule::Season => {
                "each solid grown by size × movement a percent × change of moisture, at the driest and at the wettest; then as for two parts in one place; a cleat jams by its length − the distance from riser to riser"
            }
            Rule::Captive => "each loose part is swept along every way out while all that is fastened stays",
            Rule::GlueTime => "takes = joints × seconds for each; may take = open time × 60 × the share that is used",
            Rule::ToolReach => {
                "the body of the tool, put to the cut, must have nothing in common with what stands by then; in the way = how far it reaches into it"
            }
            Rule::Shoulder => {
                "gap = from the shoulder to the face it should stand against; beside = how far it stands past the edge of that face; bare = from the edge of a top to the outer face of a post"
            }
            Rule::TenonLength => "too long = tenon, its length − mortises, the depths of both",
            Rule::BottomRoom => "room = depths of both holes − length of the loose part, both bottoms together",
            Rule::TenonHold => {
                "held = how far it reaches into the part, no farther than the hole is deep; least = half of the shortest in general use, or one and a half times the thickness"
            }
            Rule::TenonThickness => "share = thickness of the tenon ÷ thickness of the thinner part",
            Rule::JointRule => {
                "found = as decided or as measured; held against the least or the most that the rule of the joint gives for these parts"
            }
            Rule::MortisesMeet => {
                "wall = the least wood between two mortises, corner to corner; unmet = depth at which they stay apart by the least wall"
            }
            Rule::MortiseBreaksOut => "left = thickness there − depth of the mortise; beside = from the mortise to the face next to it",
            Rule::MortiseCheek => "beside = from the side of the mortise to the face next to it",
            Rule::ShortGrain => {
                "to the end = from the cut to the end of the part, along the grain; flat = width left at the tip of a tooth"
            }
            Rule::GlueAcross => {
                "glued = from the outermost glued edge of the joint to the other, across the grain of the one part, less what is free to slide"
            }
            Rule::PanelThickness => "room = width of the groove − thickness of the panel, as measured",
            Rule::PanelEngaged => {
                "engaged = width of the panel when driest − opening then − depth of the deeper groove: what stays in the other when it is pushed over"
            }
            Rule::PanelBottoms => "room = opening when wettest + depths of both grooves − width of the panel then",
            Rule::GrooveCutter => "a groove can be no narrower than its cutter; wider, it takes more than one pass",
            Rule::GrooveLeavesWood => "wood left = from the groove to the face beside or behind it, or to the next cut",
            Rule::BareLine => "bare line = what the opening grows by − what the panel grows by from built to driest, all of it at one edge",
            Rule::OverhangStays => {
                "left = overhang as built + what the top moves at that edge from its fixed line − what the frame under it moves"
            }
            Rule::ButtonHolds => {
                "held = length of the tongue − what it is free at the shoulder + what the top moves out there − slid, at the season in which that is least; slid = how far the top goes that way until another fixing stops it"
            }
            Rule::MoistureRange => {
                "built as measured; driest and wettest as decided, or by equation 4-5 from the air; equation 13-2 holds from 6 to 14 %"
            }
            Rule::SlatBears => {
                "bearing = how much of the end of the slat lies on its cleat, as built or as measured; borne = how much of the cleat's thickness lies under it when it is pushed away; middle inside = from the middle of the slat, its notches counted, to the nearer end of what bears it across its width"
            }
            Rule::CleatBears => {
                "too tall = height of the cleat − what its half rounds leave it; bearing = depth of the seat − (distance from riser to riser − length of the cleat): what stays when it is pushed to the other side"
            }
            Rule::CleatStays => {
                "slides = how far the cleat goes along its seats until something fixed stops it; left = how much of its thickness lies in the teeth, and under the shelf pushed the other way, when it has"
            }
            Rule::SlatsFit => "too wide = slat width × slats a shelf − room between front and back",
            Rule::ShelfFits => "too long = length of the shelf − distance between the uprights that its pins or cleats are in",
            Rule::ShelfBears => {
                "bearing = how far a pin stands out − the play at both ends of the shelf; covered = how much of the pin's thickness lies under the front or back edge of the shelf; least = thickness of the pin"
            }
            Rule::ShelfLevel => "out of level = height of the highest pin or cleat under the shelf − height of the lowest",
            Rule::ShelfGrows => {
                "grows = width × movement a percent × change from built to wettest; too wide = grows − room, between the standards or behind it in its housings"
            }
            Rule::ShelfTilts => {
                "tilted by = arccos(opening ÷ diagonal) + arctan(thickness ÷ length), the diagonal being that of length and thickness; takes = length × sine + thickness × cosine of it; height = from what lies below the shelf to what holds the one above; room = between what stands beyond its ends at its level, or between the standards where it is notched"
            }
            Rule::ShelfHasTooth => {
                "tooth wanted, hole wanted or level wanted = the one that was decided; teeth = as many as the pitch leaves on a standard, from the first to the last that keeps its seat"
            }
            Rule::Sags => {
                "sag at once = bending under the load it has to bear + bending under its own weight + shear (a shelf on pins: as a plate on its points); sag after years = sag at once × creep, which is 1 at once and grows to 1.5 in solid timber and 2.0 in panels; limit = span ÷ what is allowed"
            }
            Rule::Holds => {
                "stress = bending moment ÷ section modulus, or force ÷ area that bears; for years = six tenths of the mean strength ÷ factor of safety"
            }
            Rule::NotJudged => {
                "every sag and stress wants a modulus of elasticity or a strength of its timber or sheet; where the tables have none it is not judged"
            }
            Rule::Stands => "push = mass × free fall × distance from the centre of mass to the edge it tips over ÷ height of its top edge",
            Rule::Lift => {
                "heaviest = what is carried at once, volume × density of each part: all that is glued together, or the case without its loose shelves"
            }
            Rule::BoxFits => "width lacking, depth lacking, height lacking = size of the box + hand room − clear opening at its driest",
            Rule::AllPlaced => {
                "boxes placed one by one, the largest first, and then moved about until no more go in, within load, hand room and height"
            }
            Rule::BoxStands => {
                "beside = how far the middle of the box may come to stand beyond all slats; gap = from slat to slat; most = half the depth of the box"
            }
            Rule::FloorCloses => {
                "open = from the edge of the floor to what it should reach; planned = the room that the design leaves there"
            }
            Rule::FloorBears => "borne = how much of a bearer lies under the floor when it is pushed over to the other side",
            Rule::FitsSite => {
                "width of the case + what is left to scribe on both sides, height, depth + what the skirting keeps off; each less the room where it is to stand"
            }
            Rule::Carried => {
                "each piece that is glued together, turned every way square to its sides and tilted, against every opening, with room for hands on either side; √(height² + depth²) under the ceiling for what comes in lying; too long by = its length − the longest that comes round the landing as thick as it is"
            }
            Rule::AboveGround => "below the floor = how far its lowest point lies under that of the posts",
            Rule::StickLength => "rough length = finished length + what is sawn off to square the ends",
            Rule::NoSuchPart => "the name that was written, against those of the parts and the stock that are there",
            Rule::MadePartFits => "lacking or over = the size that is there − the size that is wanted now",
            Rule::CutsStillRight => "differs by = the farthest that a side of a cut as made lies from where it is planned now",
            Rule::GluedToOthers => "glued to it = how many of the parts it is glued to are recorded as glued too",
            Rule::RightSheet => "measured, against nominal thickness and the tolerance it is sold with",
            Rule::Solid => "volume = blank − all its cuts",
            Rule::EdgeLeavesWood => "flat left = thickness − what is taken off by the round or chamfer on either edge",
        }
    }
}
