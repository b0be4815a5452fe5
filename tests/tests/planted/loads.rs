//! The case under its load, and whether it stands.

use super::{AtRisk, Fault, WillFail, demo_fault};
use casewright_core::inspect::Rule;

pub(super) const FAULTS: &[Fault] = &[
    demo_fault(
        "slats too thin for a bay of 1268",
        &[
            ("carcase.width", "2300"),
            ("carcase.rails.top", "96"),
            ("carcase.rails.bottom", "140"),
            ("sawtooth.slats.thick_by", "load"),
            // So far apart that slats 1,306 long can be tilted out between the others.
            ("interior.bays.3.opening.shelves.1", "7"),
        ],
        &[("sawtooth.slats.thick_by", "as_decided")],
        (Rule::Sags, WillFail),
        &[],
        // 1268, and half of what lies on each cleat: 20 less a play of 1.
        ("span", 1287.0),
    ),
    demo_fault(
        "a top rail too narrow for its length",
        &[
            ("carcase.width", "2300"),
            ("carcase.rails.top", "96"),
            ("carcase.rails.bottom", "140"),
            ("interior.bays.3.opening.shelves.1", "7"),
        ],
        // By itself it is not: dividers hand on to the bottom rail what it is spared.
        &[("carcase.rails.top", "72"), ("carcase.rails.bottom", "109")],
        // Seen to sag, and 173 kg are to be kept where 70 are allowed.
        (Rule::Sags, AtRisk),
        &["rail.back.top"],
        // 2300 less two posts of 48.
        ("span", 2204.0),
    ),
    demo_fault(
        "a seat that a thin cleat crushes",
        &[
            ("sawtooth.cleat.thickness", "8"),
            ("carcase.post.width", "52"),
            ("sawtooth.cleat.height", "40"),
            ("timber.floor.nominal", "30"),
            ("timber.floor.measured", "30"),
            ("contents.1.count", "1"),
            ("contents.1.mass", "105"),
        ],
        &[("contents.1.mass", "125")],
        (Rule::Holds, AtRisk),
        &[],
        // 8 N/mm² at the proportional limit, six tenths of it for ten years, over 1.5.
        ("for years", 3.2),
    ),
    demo_fault(
        "a light case that is not anchored",
        &[
            ("carcase.left.filling", "open"),
            ("carcase.right.filling", "open"),
            ("carcase.left.middle_rails", "0"),
            ("carcase.right.middle_rails", "0"),
            ("carcase.back.filling", "open"),
            ("carcase.wall", "anchored"),
        ],
        &[("carcase.wall", "free")],
        (Rule::Stands, AtRisk),
        &["post.front.left"],
        ("height over depth", 1480.0 / 470.0),
    ),
];
