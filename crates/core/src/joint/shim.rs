//! Shims: what makes up for what a part lacks at an end. It is glued to the shoulder there, and whatever joins the end goes through it.

use glam::DVec3;

use super::{Fixing, OVERSHOOT, Wanted, face_and_point, local_axis};
use crate::design::Dimension;
use crate::model::{Assembly, BuildStage, Contact, Feature, JointId, Meeting, NewPart, Part, PartKind, Role};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

/// Places the shim that is recorded at the end with which a part comes up in a joint, with a hole for all that goes through it, and with the grooves that run
/// out at that end of the part; a slice of the same section, whose grain runs as the part's, so that the two move together.
pub(crate) fn put(assembly: &mut Assembly, id: JointId) {
    let joint = assembly.joint(id).clone();
    let part = assembly.part(joint.a);
    let (into, thickness) = (joint.contact.into, part.shim_towards(joint.contact.into));
    let end = if into.vector().dot(part.pose.basis.x_axis) < 0.0 { "first" } else { "second" };
    let name = format!("shim.{}.{end}", part.name);
    if thickness <= 0.0 || assembly.has(&name) {
        return;
    }
    let title = format!("Shim at the {end} end of {}", part.title);
    let sizes = [Dimension::Width, Dimension::Thickness].map(|of| {
        let size = &part.size[of.index()];
        Size::sum(format!("{title}: {}", of.word()), [(1.0, size)])
    });
    let [width, thick] = sizes;
    let length = Size::decided(format!("made.{}.{end}_shim", part.name), format!("{title}: length"), thickness);
    let stage = if joint.glued { BuildStage::GlueUp } else { BuildStage::AfterGlueUp };
    let (block, lie) = (block(part, into, thickness), lie(part));
    let (material, sawn) = (part.material.clone(), part.sawn);
    let grooves = grooves(part, end == "second", thickness);
    let shim = NewPart { size: [length, width, thick], stage, ..NewPart::filling(block, lie) };
    let shim = assembly.place(shim.called(&name, &title, PartKind::Shim, material));
    assembly.saw(shim, sawn);
    for cut in holes(assembly.part(joint.b), assembly.part(shim), id, into).into_iter().chain(grooves) {
        assembly.cut(shim, cut, None);
    }
    let centre = block.centre() - into.vector() * (thickness / 2.0);
    let contact = Contact { centre, into: into.opposite(), ..joint.contact };
    assembly.join(&Meeting { role: Role::Own, a: shim, b: joint.a, contact }, &Wanted::Plain(Fixing::Glue));
}

/// As the part it makes longer.
fn lie(part: &Part) -> Lie {
    Lie { face: Dir::nearest(-part.pose.basis.z_axis), edge: Dir::nearest(-part.pose.basis.y_axis) }
}

/// From the shoulder of a part, `into` the way in which it comes up.
fn block(part: &Part, into: Dir, thickness: f64) -> Block {
    let (mut block, axis) = (part.body(), into.axis());
    if into.sign() > 0.0 {
        block.min[axis] = block.max[axis] - thickness;
    } else {
        block.max[axis] = block.min[axis] + thickness;
    }
    block
}

/// The grooves of a part that run out at an end, through a shim there.
fn grooves(part: &Part, second_end: bool, thickness: f64) -> Vec<Feature> {
    let through_shim = |feature: &Feature| match *feature {
        Feature::Groove { face, centre, width, depth, through, stop, .. } if through[usize::from(second_end)] => {
            Some(Feature::Groove { face, centre, width, depth, from: 0.0, to: thickness, through: [true, true], stop })
        }
        _ => None,
    };
    part.cuts.iter().filter_map(|cut| through_shim(&cut.feature)).collect()
}

/// A hole right through a shim for each that a joint makes in the part that receives.
fn holes(receives: &Part, shim: &Part, joint: JointId, into: Dir) -> Vec<Feature> {
    let through = |centre: DVec3, along: DVec3, (length, width): (f64, f64), round: bool| {
        let (face, centre) = face_and_point(shim, into.vector(), receives.pose.point(centre));
        let depth = shim.lwt()[face.axis()] + OVERSHOOT;
        Feature::Recess { face, centre, along: local_axis(shim, receives.pose.vector(along)), length, width, depth, round }
    };
    let cuts = receives.cuts.iter().filter(|cut| cut.joint == Some(joint));
    cuts.filter_map(|cut| match cut.feature {
        Feature::Mortise { centre, along, length, width, round, .. } | Feature::Recess { centre, along, length, width, round, .. } => {
            Some(through(centre, DVec3::AXES[along], (length, width), round))
        }
        Feature::Hole { face, centre, diameter, .. } => {
            Some(through(centre, DVec3::AXES[(face.axis() + 1) % 3], (diameter, diameter), true))
        }
        _ => None,
    })
    .collect()
}
