//! Where nothing can be cut.

use approx::assert_abs_diff_eq;
use casewright_core::joint::{Fixing, JointKind, Wanted, box_joint, breadboard, dovetail, housing, sliding_dovetail, tongue};
use casewright_core::model::{Assembly, Contact};
use casewright_core::place::Dir;
use glam::{DVec2, DVec3};

use crate::{INDOORS, board, join};

#[test]
fn a_joint_that_its_parts_do_not_allow_leaves_them_whole() {
    // A shelf's face cannot be dovetailed to a post's face.
    for wanted in [
        Wanted::Dovetail(dovetail::Wanted::default()),
        Wanted::BoxJoint(box_joint::Wanted::default()),
        Wanted::SlidingDovetail(sliding_dovetail::Wanted::default()),
        Wanted::Housing(housing::Wanted::default()),
        Wanted::Tongue(tongue::Wanted::default()),
        Wanted::Breadboard(breadboard::Wanted::by_rule(&INDOORS)),
    ] {
        let mut assembly = Assembly::default();
        let below = board(&mut assembly, "below", [(0.0, 400.0), (0.0, 20.0), (0.0, 100.0)], Dir::PlusY, Dir::PlusZ, "white_ash");
        let above = board(&mut assembly, "above", [(0.0, 400.0), (20.0, 40.0), (0.0, 100.0)], Dir::PlusY, Dir::PlusZ, "white_ash");
        let contact =
            Contact { centre: DVec3::new(200.0, 20.0, 50.0), into: Dir::MinusY, along: Dir::PlusX, extent: DVec2::new(400.0, 100.0) };
        let pair = join(assembly, above, below, contact, &wanted);
        assert_eq!(*pair.kind(), JointKind::Plain(Fixing::Rest), "{wanted:?}");
        assert_abs_diff_eq!(pair.removed("above") + pair.removed("below"), 0.0, epsilon = 1e-6);
    }
}
