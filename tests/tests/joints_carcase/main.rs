//! Joints of carcases, drawers and tops on parts put together by hand: what each takes away, how it fits, which ways it comes apart,
//! and which of its rules it breaks. Figures from outside name their source.

mod boxes;
mod breadboard_ends;
mod corners;
mod decided;
mod dry_fit;
mod edges;
mod order;
mod rabbets;
mod shelves;
mod tongues;
mod whole;
mod wild;

use casewright_core::design::Moisture;
use casewright_core::joint::{Broken, JointKind, Wanted};
use casewright_core::model::{Assembly, Contact, JointId, Material, Meeting, Model, NewPart, PartId, PartKind, Role};
use casewright_core::place::{Block, Dir, Lie};
use casewright_core::{ShapeCache, Solids};
use casewright_solid::{clearance, overlap, sweep};
use glam::DVec3;

/// A heated room, and a shop in between.
const INDOORS: Moisture = Moisture::range(8.0, 6.0, 11.0);

/// Boards joined, and one of the joints.
struct Pair {
    model: Model,
    solids: Solids,
    joint: JointId,
}

/// A board that fills a block, of white ash where no other timber is named.
fn board(assembly: &mut Assembly, name: &str, block: [(f64, f64); 3], face: Dir, edge: Dir, timber: &str) -> PartId {
    let [x, y, z] = block;
    let new = NewPart::filling(Block::new(x, y, z), Lie { face, edge });
    assembly.place(new.called(name, name, PartKind::Own, Material::Solid(timber.to_owned())))
}

fn join(mut assembly: Assembly, a: PartId, b: PartId, contact: Contact, wanted: &Wanted<'_>) -> Pair {
    let joint = assembly.join(&Meeting { role: Role::Own, a, b, contact }, wanted);
    Pair::of(assembly, joint)
}

impl Pair {
    /// What was put together, with the joint that is asked about.
    pub fn of(assembly: Assembly, joint: JointId) -> Pair {
        let model = assembly.finish();
        let solids = ShapeCache::default().shape(&model);
        Pair { model, solids, joint }
    }

    pub fn kind(&self) -> &JointKind {
        &self.model.joint(self.joint).kind
    }

    pub fn broken(&self) -> Vec<&'static str> {
        self.kind().broken().iter().map(|broken| broken.rule).collect()
    }

    /// What was cut from the part of that name, mm³.
    pub fn removed(&self, name: &str) -> f64 {
        let part = self.model.find(name).expect("a part of that name");
        part.lwt().element_product() - self.solids.shape(part.id).expect("it has a shape").volume
    }

    pub fn length(&self, name: &str) -> f64 {
        self.model.find(name).expect("a part of that name").size[0].mm
    }

    /// No two parts stand in each other.
    pub fn assert_together(&self) {
        for a in &self.model.parts {
            let shape = self.solids.shape(a.id).unwrap_or_else(|| panic!("{} has no shape", a.name));
            assert!(shape.is_watertight(), "{}", a.name);
            for b in &self.model.parts[a.id.0 + 1..] {
                let found = overlap(self.solids.cells(a.id).expect("cells"), &a.pose, self.solids.cells(b.id).expect("cells"), &b.pose);
                assert!(found.as_ref().is_none_or(|found| found.depth < 1e-6), "{} in {}: {found:?}", a.name, b.name);
            }
        }
    }

    /// The ways along the axes in which the part that comes up can go a metre without meeting the other.
    pub fn free_ways(&self) -> Vec<Dir> {
        let joint = self.model.joint(self.joint);
        let (a, b) = (self.model.part(joint.a), self.model.part(joint.b));
        let (moving, standing) = (self.solids.cells(a.id).expect("cells"), self.solids.cells(b.id).expect("cells"));
        let free = |way: &Dir| sweep(moving, &a.pose, way.vector() * 1000.0, standing, &b.pose, 0.01).is_none();
        Dir::ALL.into_iter().filter(free).collect()
    }

    /// They go together without overlap, and come apart in the ways in which the joint says, and in no other.
    pub fn assert_goes_together(&self) {
        self.assert_together();
        let joint = self.model.joint(self.joint);
        let mut told = joint.kind.ways_apart(&joint.contact);
        told.sort_by_key(|way| Dir::ALL.iter().position(|other| other == way));
        assert_eq!(self.free_ways(), told, "{}", joint.kind.describe());
        assert!(!told.is_empty());
    }

    /// How far the two are apart when the part that comes up is drawn back by so much, mm.
    pub fn clearance_drawn(&self, by: DVec3) -> f64 {
        let joint = self.model.joint(self.joint);
        let (a, b) = (self.model.part(joint.a), self.model.part(joint.b));
        let mut pose = a.pose;
        pose.origin += by;
        clearance(self.solids.cells(a.id).expect("cells"), &pose, self.solids.cells(b.id).expect("cells"), &b.pose).distance
    }
}

/// The rules told with the figure that breaks each and its limit.
fn with_figures(broken: &[Broken]) -> Vec<(&'static str, f64, f64)> {
    broken.iter().map(|broken| (broken.rule, broken.value, broken.limit)).collect()
}
