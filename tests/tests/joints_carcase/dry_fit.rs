//! What the dry fit says of joints that follow their rules: nothing.

use casewright_core::inspect;
use casewright_core::joint::{Wanted, box_joint, breadboard, dovetail, housing, rabbet, sliding_dovetail, tongue};
use casewright_core::model::Stop;
use casewright_tests::demo;

use crate::{INDOORS, Pair, boxes, breadboard_ends, corners, rabbets, shelves, tongues};

/// Each finding in words, with its rule.
fn told(pair: &Pair) -> Vec<String> {
    let mut design = demo();
    design.contents.clear();
    let findings = inspect(&design, &pair.model, &pair.solids);
    findings.into_iter().map(|finding| format!("{}: {}", finding.rule.id(), finding.message)).collect()
}

#[test]
fn joints_by_their_rules_have_nothing_to_find() {
    let stops = [0.0, 10.0];
    let housed = |stops| Wanted::Housing(housing::Wanted { stops, glued: true, ..Default::default() });
    let sliding = Wanted::SlidingDovetail(sliding_dovetail::Wanted { stops, glued: true, ..Default::default() });
    let dovetailed = |half_blind| Wanted::Dovetail(dovetail::Wanted { half_blind, glued: true, ..Default::default() });
    let fingers = Wanted::BoxJoint(box_joint::Wanted { glued: true, ..Default::default() });
    let ramped = tongue::Wanted { stops: [60.0; 2], stop: Stop::Ramp { diameter: 150.0 }, ..Default::default() };
    for (name, pair) in [
        ("housing", shelves::shelf(&housed([0.0; 2]), "white_ash")),
        ("stopped housing", shelves::shelf(&housed(stops), "white_ash")),
        ("sliding dovetail", shelves::shelf(&sliding, "white_ash")),
        ("tongue", tongues::tongued(&tongue::Wanted::default())),
        ("stopped tongue", tongues::tongued(&ramped)),
        ("rabbet", rabbets::corner(rabbet::Wanted { glued: true, ..Default::default() })),
        ("through dovetails", corners::drawer(100.0, "white_ash", &dovetailed(false))),
        ("half-blind dovetails", corners::drawer(100.0, "white_ash", &dovetailed(true))),
        ("box joint", corners::drawer(100.0, "white_ash", &fingers)),
        ("breadboard end", breadboard_ends::breadboard_end(breadboard::Wanted::by_rule(&INDOORS))),
        ("drawer", boxes::drawer()),
    ] {
        assert_eq!(told(&pair), [""; 0], "{name}");
    }
}
