//! Decisions that are one of a closed set of words.

use super::Choice;
use crate::design::dealer::Per;
use crate::design::pile::Good;
use crate::design::{
    Anchors, Arrises, Bears, Cheeks, CleatsBy, Corners, CutterKind, EdgeShape, EdgeSides, EndJointKind, Filling, Finish, FirstCut, Fitting,
    FixedLine, FloorPieces, GlueStages, GrooveWidth, Haunch, Lies, Lipped, LooseMeeting, MachineWork, MidStandards, OpenTime, PanelCorners,
    PinOf, Place, Reach, Rings, SheetCuts, ShelfOf, Sold, Spacers, System, Taken, Teeth, TenonMeeting, ThickBy, ToolWork, TopFixing,
    Veneered, Wall, find_glue, glues,
};
use crate::timber::{Sawn, Timbers};

/// A species by its id: of the table, or the maker's own.
pub(super) struct Species<'a>(pub &'a mut String, pub &'a Timbers);

impl Choice for Species<'_> {
    fn word(&self) -> String {
        self.0.clone()
    }
    fn options(&self) -> Vec<(String, String)> {
        self.1.all_species().map(|species| (species.id.clone(), species.name.clone())).collect()
    }
    fn choose(&mut self, word: &str) -> bool {
        let known = self.1.species(word).is_some();
        if known {
            word.clone_into(self.0);
        }
        known
    }
}

/// A product in sheets by its id: of the table, or the maker's own.
pub(super) struct Product<'a>(pub &'a mut String, pub &'a Timbers);

impl Choice for Product<'_> {
    fn word(&self) -> String {
        self.0.clone()
    }
    fn options(&self) -> Vec<(String, String)> {
        self.1.all_sheets().map(|product| (product.id.clone(), product.name.clone())).collect()
    }
    fn choose(&mut self, word: &str) -> bool {
        let known = self.1.sheet(word).is_some();
        if known {
            word.clone_into(self.0);
        }
        known
    }
}

/// Whether a flaw may lie where nobody sees it.
pub(super) struct Hides<'a>(pub &'a mut bool);

impl Choice for Hides<'_> {
    fn word(&self) -> String {
        if *self.0 { "may" } else { "nowhere" }.to_owned()
    }
    fn options(&self) -> Vec<(String, String)> {
        [("nowhere", "in no part"), ("may", "in parts that nobody sees")].map(|(word, label)| (word.to_owned(), label.to_owned())).to_vec()
    }
    fn choose(&mut self, word: &str) -> bool {
        let chosen = match word {
            "nowhere" => false,
            "may" => true,
            _ => return false,
        };
        *self.0 = chosen;
        true
    }
}

/// Something that is so or not.
pub(super) struct Yes<'a>(pub &'a mut bool);

impl Choice for Yes<'_> {
    fn word(&self) -> String {
        if *self.0 { "yes" } else { "no" }.to_owned()
    }
    fn options(&self) -> Vec<(String, String)> {
        ["no", "yes"].map(|word| (word.to_owned(), word.to_owned())).to_vec()
    }
    fn choose(&mut self, word: &str) -> bool {
        let chosen = match word {
            "no" => false,
            "yes" => true,
            _ => return false,
        };
        *self.0 = chosen;
        true
    }
}

/// A family of the table of glues, by its id.
pub(super) struct Family<'a>(pub &'a mut String);

impl Choice for Family<'_> {
    fn word(&self) -> String {
        self.0.clone()
    }
    fn options(&self) -> Vec<(String, String)> {
        glues().iter().map(|glue| (glue.id.clone(), glue.name.clone())).collect()
    }
    fn choose(&mut self, word: &str) -> bool {
        let known = find_glue(word).is_some();
        if known {
            word.clone_into(self.0);
        }
        known
    }
}

/// The angle of the rings that is taken until the maker says another, degrees: half way between flat and quartered.
const RIFT: f64 = 45.0;

impl Choice for Sawn {
    fn word(&self) -> String {
        match self {
            Sawn::Unknown => "unknown",
            Sawn::Flat => "flat",
            Sawn::Rift { .. } => "rift",
            Sawn::Quartered => "quartered",
        }
        .to_owned()
    }
    fn options(&self) -> Vec<(String, String)> {
        let labels = [("unknown", "not known"), ("flat", "flat-sawn"), ("rift", "rift-sawn"), ("quartered", "quartered")];
        labels.map(|(word, label)| (word.to_owned(), label.to_owned())).to_vec()
    }
    fn choose(&mut self, word: &str) -> bool {
        *self = match (word, &self) {
            ("unknown", _) => Sawn::Unknown,
            ("flat", _) => Sawn::Flat,
            ("rift", Sawn::Rift { rings }) => Sawn::Rift { rings: *rings },
            ("rift", _) => Sawn::Rift { rings: RIFT },
            ("quartered", _) => Sawn::Quartered,
            _ => return false,
        };
        true
    }
}

/// Told the other way, the place stays as near to what it was as can be.
impl Choice for Place {
    fn word(&self) -> String {
        match self {
            Place::Range { .. } => "moisture",
            Place::Climate { .. } => "climate",
        }
        .to_owned()
    }
    fn options(&self) -> Vec<(String, String)> {
        let labels = [("moisture", "the moisture of its timber"), ("climate", "the air, winter and summer")];
        labels.map(|(word, label)| (word.to_owned(), label.to_owned())).to_vec()
    }
    fn choose(&mut self, word: &str) -> bool {
        *self = match (word, &self) {
            ("moisture", Place::Climate { .. }) => self.as_range(),
            ("climate", Place::Range { .. }) => self.as_climate(),
            ("moisture" | "climate", _) => return true,
            _ => return false,
        };
        true
    }
}

/// Told again that it is anchored, a case keeps its fixings.
impl Choice for Wall {
    fn word(&self) -> String {
        match self {
            Wall::Free => "free",
            Wall::Anchored(_) => "anchored",
        }
        .to_owned()
    }
    fn options(&self) -> Vec<(String, String)> {
        let labels = [("free", "it stands by itself"), ("anchored", "anchored to the wall")];
        labels.map(|(word, label)| (word.to_owned(), label.to_owned())).to_vec()
    }
    fn choose(&mut self, word: &str) -> bool {
        *self = match (word, &self) {
            ("free", _) => Wall::Free,
            ("anchored", Wall::Anchored(anchors)) => Wall::Anchored(*anchors),
            ("anchored", Wall::Free) => Wall::Anchored(Anchors::default()),
            _ => return false,
        };
        true
    }
}

/// A bay keeps its shelves when other things hold them.
impl Choice for Fitting {
    fn word(&self) -> String {
        match self.system() {
            Some(System::Sawtooth) => "sawtooth",
            Some(System::Pins) => "pins",
            Some(System::Cleats) => "cleats",
            Some(System::Housed) => "housed",
            None => "nothing",
        }
        .to_owned()
    }
    fn options(&self) -> Vec<(String, String)> {
        let labels = [
            ("sawtooth", "loose cleats in sawtooth standards"),
            ("pins", "pins in rows of holes"),
            ("cleats", "cleats that are fixed"),
            ("housed", "housings"),
            ("nothing", "nothing: no shelves"),
        ];
        labels.map(|(word, label)| (word.to_owned(), label.to_owned())).to_vec()
    }
    fn choose(&mut self, word: &str) -> bool {
        let system = match word {
            "sawtooth" => Some(System::Sawtooth),
            "pins" => Some(System::Pins),
            "cleats" => Some(System::Cleats),
            "housed" => Some(System::Housed),
            "nothing" => None,
            _ => return false,
        };
        let shelves = self.shelves_mut().map(std::mem::take).unwrap_or_default();
        *self = Fitting::of(system, shelves);
        true
    }
}

/// Writes [`Choice`] for a closed set of unit variants.
macro_rules! words {
    ($kind:ty { $($variant:path => $word:literal, $label:literal;)+ }) => {
        impl Choice for $kind {
            fn word(&self) -> String {
                match self { $($variant => $word.to_owned(),)+ }
            }
            fn options(&self) -> Vec<(String, String)> {
                vec![$(($word.to_owned(), $label.to_owned()),)+]
            }
            fn choose(&mut self, word: &str) -> bool {
                match word {
                    $($word => *self = $variant,)+
                    _ => return false,
                }
                true
            }
        }
    };
}

words!(Good {
    Good::Both => "both", "both";
    Good::Upper => "upper", "the upper one";
    Good::Under => "under", "the under one";
    Good::Neither => "neither", "neither";
});
words!(Per {
    Per::Piece => "piece", "a piece";
    Per::CubicMetre => "cubic_metre", "a cubic metre";
    Per::SquareMetre => "square_metre", "a square metre";
    Per::Metre => "metre", "a metre";
    Per::BoardFoot => "board_foot", "a board foot";
});
words!(Rings {
    Rings::Alternate => "alternate", "every second strip turned over";
    Rings::Matched => "matched", "all the same way up";
});
words!(FirstCut {
    FirstCut::Either => "either", "what wastes least";
    FirstCut::Crosscut => "crosscut", "crosscut to length";
    FirstCut::Rip => "rip", "rip to width";
});
words!(SheetCuts {
    SheetCuts::Two => "two", "into strips, and these across";
    SheetCuts::Three => "three", "and once more along";
    SheetCuts::Free => "free", "as often as it takes";
});
words!(Lipped {
    Lipped::FaceEdge => "face_edge", "the face edge";
    Lipped::LongEdges => "long_edges", "both edges along its length";
    Lipped::AllRound => "all_round", "all round";
});
words!(Veneered { Veneered::No => "no", "none"; Veneered::Bought => "bought", "bought"; Veneered::Sawn => "sawn", "sawn here"; });
words!(Sold { Sold::Metric => "metric", "in millimetres"; Sold::Quarters => "quarters", "in quarters of an inch"; });
words!(MachineWork {
    MachineWork::Flatten => "flatten", "makes a face flat";
    MachineWork::Thickness => "thickness", "brings to thickness";
    MachineWork::Rip => "rip", "saws to width";
});
words!(Filling { Filling::Panel => "panel", "panels in grooves"; Filling::Open => "open", "open"; });
words!(GrooveWidth { GrooveWidth::FromSheet => "from_sheet", "from the sheet"; GrooveWidth::Own => "own", "my own"; });
words!(ThickBy { ThickBy::AsDecided => "as_decided", "as decided"; ThickBy::Load => "load", "the load, or more"; });
words!(FixedLine { FixedLine::Front => "front", "the front"; FixedLine::Centre => "centre", "the middle"; FixedLine::Back => "back", "the back"; });
words!(CutterKind { CutterKind::Round => "round", "a round cutter"; CutterKind::Slot => "slot", "a slot cutter or saw"; });
words!(EdgeShape { EdgeShape::Square => "square", "square"; EdgeShape::Round => "round", "rounded"; EdgeShape::Chamfer => "chamfer", "chamfered"; });
words!(Finish { Finish::Open => "open", "not decided"; Finish::Bare => "bare", "soap, wax or nothing"; Finish::DryingOil => "drying_oil", "a drying oil"; Finish::Film => "film", "lacquer or varnish"; });
words!(Arrises { Arrises::Upper => "upper", "the upper ones"; Arrises::Lower => "lower", "the lower ones"; Arrises::Both => "both", "both"; });
words!(EdgeSides { EdgeSides::FrontAndEnds => "front_and_ends", "front and ends"; EdgeSides::AllRound => "all_round", "all round"; });
words!(PanelCorners { PanelCorners::Square => "square", "square"; PanelCorners::CutOff => "cut_off", "cut off"; });
words!(OpenTime { OpenTime::FromTable => "from_table", "from the table"; OpenTime::Own => "own", "my own"; });
words!(GlueStages {
    GlueStages::Few => "few", "as few as the joints allow";
    GlueStages::WithinOpenTime => "within_open_time", "each within the open time";
});
words!(ToolWork { ToolWork::Slot => "slot", "mortises and slots"; ToolWork::Groove => "groove", "grooves"; ToolWork::Hole => "hole", "round holes"; });
words!(EndJointKind {
    EndJointKind::LooseTenons => "loose_tenons", "loose tenons";
    EndJointKind::MortiseAndTenon => "mortise_and_tenon", "mortise and tenon";
    EndJointKind::Dowels => "dowels", "dowels";
});
words!(Lies {
    Lies::AsItStands => "as_it_stands", "as it stands";
    Lies::Turned => "turned", "also turned round";
    Lies::OnItsSide => "on_its_side", "also on its side";
    Lies::OnItsBack => "on_its_back", "also on its back";
    Lies::AnyWay => "any_way", "any way";
});
words!(Bears { Bears::Others => "others", "others of its kind"; Bears::One => "one", "one of its kind"; Bears::Any => "any", "anything smaller"; Bears::Nothing => "nothing", "nothing"; });
words!(Taken { Taken::ByTheFront => "by_the_front", "pulled to the front"; Taken::Lifted => "lifted", "lifted out"; });
words!(Reach { Reach::Stopped => "stopped", "stopped"; Reach::Through => "through", "through"; });
words!(TenonMeeting {
    TenonMeeting::Mitred => "mitred", "mitred";
    TenonMeeting::Short => "short", "short of each other";
    TenonMeeting::Staggered => "staggered", "one above the other";
});
words!(FloorPieces {
    FloorPieces::One => "one", "in one piece";
    FloorPieces::Butted => "butted", "in two, edge to edge";
    FloorPieces::Lapped => "lapped", "in two, halved over each other";
});
words!(LooseMeeting {
    LooseMeeting::AsDecided => "as_decided", "each as deep as decided";
    LooseMeeting::Mitred => "mitred", "mitred";
    LooseMeeting::Staggered => "staggered", "one above the other";
});
words!(Haunch { Haunch::WhereNeeded => "where_needed", "where it is needed"; Haunch::None => "none", "none"; });
words!(Cheeks {
    Cheeks::Both => "both", "on both sides";
    Cheeks::FaceSide => "face_side", "on the face side only";
    Cheeks::BackSide => "back_side", "on the back side only";
});
words!(Corners { Corners::Square => "square", "square"; Corners::Round => "round", "half round"; });
words!(TopFixing {
    TopFixing::Buttons => "buttons", "wooden buttons";
    TopFixing::Clips => "clips", "metal clips in kerfs";
    TopFixing::Plates => "plates", "figure-eight plates";
    TopFixing::SlottedScrews => "slotted_screws", "screws in slotted strips";
});
words!(Teeth { Teeth::Sloped => "sloped", "a seat and a slope"; Teeth::HalfRound => "half_round", "half circles"; });
words!(MidStandards { MidStandards::TwoStrips => "two_strips", "a standard to each bay"; MidStandards::OnePiece => "one_piece", "one piece for both"; });
words!(Spacers { Spacers::None => "none", "what stands there"; Spacers::Strips => "strips", "spacer strips where there is room"; });
words!(ShelfOf { ShelfOf::Slats => "slats", "slats"; ShelfOf::Solid => "solid", "a solid board"; });
words!(PinOf { PinOf::Steel => "steel", "steel"; PinOf::Wood => "wood", "the shelving's timber"; });
words!(CleatsBy { CleatsBy::Screws => "screws", "screws"; CleatsBy::Glue => "glue", "glue"; });
