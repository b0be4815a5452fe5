//! What a cut is tried by on a test piece of the same stock (common practice, no source).

use super::Work;
use crate::joint::JointKind;
use crate::model::{Cut, Model, Part};

/// What to try of a cut, by the joint it is for; where it is for none, by its kind of work.
pub(super) fn of(model: &Model, part: &Part, cut: &Cut, work: Work) -> &'static str {
    let Some(joint) = cut.joint.map(|joint| model.joint(joint)) else { return of_work(work) };
    let comes_up = joint.a == part.id;
    match &joint.kind {
        JointKind::LooseTenons(_) => "a loose tenon goes in by hand and stands by itself",
        JointKind::Tenon(_) if comes_up => "it goes into a mortise that is cut already, by hand, and its shoulder closes",
        JointKind::Tenon(_) => "a tenon goes in by hand and stands by itself",
        JointKind::Dowels(_) => "a dry dowel goes in by hand and stands by itself",
        JointKind::Button(button) if comes_up && button.gap > 0.0 => {
            "its tongue goes into a slot of a rail, and its shoulder stays clear of it"
        }
        JointKind::Button(_) if comes_up => {
            "its tongue goes into a slot of a rail, and its shoulder comes up to that before the tongue is at the bottom"
        }
        JointKind::Button(_) => "the tongue of a button goes in and slides along it",
        JointKind::Clip(_) => "a clip hooks in and slides along it",
        JointKind::Plate(_) if work == Work::Mortise => "a plate lies flush in it and can turn a little",
        JointKind::SlottedScrew(_) if work != Work::Pilot => "a screw with its washer slides from one end to the other",
        JointKind::Screws(_) | JointKind::ScrewedUp(_) | JointKind::SlottedScrew(_) | JointKind::Plate(_) => match work {
            Work::Pilot => "a screw bites and draws up, and the wood doesn't split",
            Work::Hole => "a screw drops through, and its head draws",
            Work::Mortise
            | Work::Tenon
            | Work::Groove
            | Work::Housing
            | Work::Rabbet
            | Work::Cutout
            | Work::Dovetail
            | Work::Teeth
            | Work::Shape => of_work(work),
        },
        JointKind::Pin(_) => "a pin goes in by hand and doesn't wobble",
        JointKind::Seat(_) => "it lies against the slope or the round of a tooth, and no light shows between",
        JointKind::Notch(_) => "what it goes round passes it with the room that is meant",
        JointKind::Housing(_) => "the end of the shelf goes in by hand",
        JointKind::SlidingDovetail(_) => "the tail slides halfway in by hand",
        JointKind::Groove(_)
        | JointKind::Tongue(_)
        | JointKind::Lap(_)
        | JointKind::Bridle(_)
        | JointKind::Plain(_)
        | JointKind::Rabbet(_)
        | JointKind::BoxJoint(_)
        | JointKind::Dovetail(_)
        | JointKind::Breadboard(_) => of_work(work),
    }
}

fn of_work(work: Work) -> &'static str {
    match work {
        Work::Mortise => "a tenon goes in by hand and stands by itself",
        Work::Tenon => "it goes into a mortise that is cut already, by hand, and its shoulder closes",
        Work::Groove => "an offcut of the panel slides along it without force and without rattling",
        Work::Housing => "the end of the shelf goes in by hand",
        Work::Rabbet => "what goes into it lies flush",
        Work::Cutout => "both faces come out flush",
        Work::Dovetail => "the joint goes together once, with a mallet",
        Work::Teeth => "a cleat lies on the first and on the last of them",
        Work::Hole => "the pin, dowel or screw goes in as it should",
        Work::Pilot => "a screw bites and draws up, and the wood doesn't split",
        Work::Shape => "it comes to the line all along, by eye and by straightedge",
    }
}
