//! Every part and joint, and equal parts together.

use casewright_core::cutlist::Row;
use casewright_core::joint::Fitted;
use casewright_core::model::{Joint, Material, Part};
use casewright_core::{CutList, Design, Model, Solids};
use serde::Serialize;

use super::{SCHEMA, tidy, tidy3};

/// The parts of a case; schema `assets/schema/parts.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PartsDocument {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: String,
    /// Every part.
    pub parts: Vec<PartEntry>,
    /// Every joint.
    pub joints: Vec<JointEntry>,
    /// Equal parts together, an entry a mark.
    pub cut_list: Vec<RowEntry>,
}

/// One part.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PartEntry {
    /// Its number in this document.
    pub id: usize,
    /// What is written on it; equal parts share it.
    pub mark: String,
    /// Its name, such as `rail.front.bottom`.
    pub name: String,
    /// What a maker calls it.
    pub title: String,
    /// What it is: "Rail".
    pub kind: &'static str,
    /// Finished, along the grain, mm.
    pub length: f64,
    /// Finished, across the grain, mm.
    pub width: f64,
    /// Finished, mm.
    pub thickness: f64,
    /// Which way the grain runs.
    pub grain: &'static str,
    /// What it is made of.
    #[serde(flatten)]
    pub stuff: Stuff,
    /// How many there are of it: 1, since equal parts have entries of their own.
    pub count: usize,
    /// How far its making is: "planned", "roughed", "cut" or "glued".
    pub state: &'static str,
    /// When it goes in.
    pub stage: &'static str,
    /// Where it stands.
    pub placement: Placement,
    /// Volume with all cuts, mm³; none where the cuts leave nothing of it.
    pub volume_mm3: Option<f64>,
    /// Its surface, mm²; none where it has no volume.
    pub surface_mm2: Option<f64>,
    /// Where its weight acts, in the case, mm; none where it has no volume.
    pub centre_of_mass: Option<[f64; 3]>,
    /// What it weighs, kg; none where nothing is known of its density.
    pub mass_kg: Option<f64>,
    /// Everything cut into it.
    pub cuts: Vec<CutEntry>,
    /// Ids of its joints.
    pub joints: Vec<usize>,
}

/// What a part is made of.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Stuff {
    /// "solid" or "sheet".
    pub material: &'static str,
    /// Id of the species, for solid timber.
    pub species: Option<String>,
    /// Id of the product, for sheet goods.
    pub product: Option<String>,
    /// Name of the species or product.
    pub material_name: String,
}

/// Where a part stands: its own origin and axes in the case.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Placement {
    /// The corner of first end, face edge and face side, mm.
    pub origin: [f64; 3],
    /// Direction of the length.
    pub length_axis: [f64; 3],
    /// Direction of the width.
    pub width_axis: [f64; 3],
    /// Direction of the thickness.
    pub thickness_axis: [f64; 3],
}

/// One cut.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutEntry {
    /// What it is called.
    pub name: &'static str,
    /// What it is, where and how large, from face side, face edge and first end; and whether it is there, where that is not as planned.
    pub words: String,
    /// The joint it serves.
    pub joint: Option<usize>,
}

/// How two parts of a joint fit at one place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FitEntry {
    /// What goes into what: "tenon in mortise, in thickness".
    pub what: &'static str,
    /// The class it should be of: "glued, snug"; "snug, put in dry" where the joint is not glued.
    pub class: &'static str,
    /// The total clearance as cut, mm; less than nothing where the inner part is the larger. Where wood moves, what is left besides.
    pub clearance: f64,
}

impl FitEntry {
    fn of(fitted: &Fitted, glued: bool) -> FitEntry {
        FitEntry { what: fitted.what, class: fitted.class.words_in(glued), clearance: tidy(fitted.clearance) }
    }
}

/// One joint.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct JointEntry {
    /// Its number in this document.
    pub id: usize,
    /// Where in the case it is used: "rail end to post".
    pub role: &'static str,
    /// What it is, with its figures.
    pub words: String,
    /// How its parts fit, place by place; empty where nothing has a class of fit.
    pub fits: Vec<FitEntry>,
    /// Name of the part that comes up.
    pub coming: String,
    /// Name of the part that receives.
    pub receiving: String,
    /// Names of its loose parts.
    pub loose: Vec<String>,
    /// Whether it is glued.
    pub glued: bool,
    /// The middle of the contact, mm.
    pub place: [f64; 3],
}

/// Equal parts.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RowEntry {
    /// The mark they share.
    pub mark: String,
    /// What they are.
    pub kind: &'static str,
    /// How many.
    pub count: usize,
    /// Finished, mm.
    pub length: f64,
    /// Finished, mm.
    pub width: f64,
    /// Finished, mm.
    pub thickness: f64,
    /// Length to crosscut first, mm.
    pub rough_length: f64,
    /// Width to rip first, mm.
    pub rough_width: f64,
    /// How many pieces of these sizes are sawn for all its parts: fewer than parts where several come out of one.
    pub blanks: usize,
    /// The boards it comes out of, by the thickness they are sold in; empty for sheet goods and what is bought.
    pub board: String,
    /// Which way its grain runs.
    pub grain: &'static str,
    /// Where its face side looks.
    pub face_side: String,
    /// Where its face edge looks.
    pub face_edge: String,
    /// Other marks that are as long.
    pub at_one_stop: String,
    /// Which of its parts are made together; empty where each is made by itself.
    pub together: String,
    /// Where the machines of the shop can't take it, and what is done then.
    pub notes: Vec<String>,
    /// What they are made of.
    #[serde(flatten)]
    pub stuff: Stuff,
    /// When they go in.
    pub stage: &'static str,
    /// What is cut into each.
    pub cuts: String,
    /// Names of the parts.
    pub parts: Vec<String>,
}

/// The parts of a case as a document.
pub fn parts(design: &Design, model: &Model, solids: &Solids) -> PartsDocument {
    PartsDocument {
        schema: SCHEMA,
        name: model.name.clone(),
        parts: model.parts.iter().map(|part| part_entry(model, solids, part)).collect(),
        joints: model.joints.iter().map(|joint| joint_entry(model, joint)).collect(),
        cut_list: CutList::of(design, model).rows.iter().map(|row| row_entry(model, row)).collect(),
    }
}

fn part_entry(model: &Model, solids: &Solids, part: &Part) -> PartEntry {
    let [length, width, thickness] = part.lwt().to_array().map(tidy);
    let basis = part.pose.basis;
    let shape = solids.shape(part.id);
    let mass = model.timbers.density(&part.material).and_then(|density| solids.mass(part, density.value));
    PartEntry {
        id: part.id.0,
        mark: part.mark.clone(),
        name: part.name.clone(),
        title: part.title.clone(),
        kind: part.kind.words().0,
        length,
        width,
        thickness,
        grain: model.timbers.grain(&part.material),
        stuff: Stuff::of(&part.material, model.timbers.name(&part.material)),
        count: 1,
        state: part.state.word(),
        stage: part.stage.words(),
        placement: Placement {
            origin: tidy3(part.pose.origin),
            length_axis: tidy3(basis.x_axis),
            width_axis: tidy3(basis.y_axis),
            thickness_axis: tidy3(basis.z_axis),
        },
        volume_mm3: shape.map(|shape| tidy(shape.volume)),
        surface_mm2: shape.map(|shape| tidy(shape.area)),
        centre_of_mass: shape.map(|shape| tidy3(part.pose.point(shape.centroid))),
        mass_kg: mass.map(|mass| tidy(mass.kg)),
        cuts: part
            .cuts
            .iter()
            .map(|cut| CutEntry { name: cut.feature.name(), words: cut.describe(), joint: cut.joint.map(|joint| joint.0) })
            .collect(),
        joints: model.joints_of(part.id).map(|joint| joint.id.0).collect(),
    }
}

impl Stuff {
    fn of(material: &Material, name: &str) -> Stuff {
        let id = Some(material.id().to_owned());
        let (word, species, product) = match material {
            Material::Solid(_) => ("solid", id, None),
            Material::Sheet(_) => ("sheet", None, id),
            Material::Bought(_) => ("bought", None, None),
        };
        Stuff { material: word, species, product, material_name: name.to_owned() }
    }
}

fn joint_entry(model: &Model, joint: &Joint) -> JointEntry {
    let name = |id| model.part(id).name.clone();
    JointEntry {
        id: joint.id.0,
        role: joint.role.words(),
        words: joint.kind.describe(),
        fits: joint.kind.fits().iter().map(|fitted| FitEntry::of(fitted, joint.glued)).collect(),
        coming: name(joint.a),
        receiving: name(joint.b),
        loose: joint.loose.iter().copied().map(name).collect(),
        glued: joint.glued,
        place: tidy3(joint.contact.centre),
    }
}

fn row_entry(model: &Model, row: &Row) -> RowEntry {
    let [length, width, thickness] = row.finished.map(tidy);
    let [rough_length, rough_width] = row.rough_size().map(tidy);
    RowEntry {
        mark: row.mark.clone(),
        kind: row.kind.words().0,
        count: row.parts.len(),
        length,
        width,
        thickness,
        rough_length,
        rough_width,
        blanks: row.blanks(),
        board: row.rough.map(|rough| rough.words()).unwrap_or_default(),
        grain: row.grain,
        face_side: row.face_side.clone(),
        face_edge: row.face_edge.clone(),
        at_one_stop: row.at_one_stop.clone(),
        together: row.together.clone(),
        notes: row.notes.clone(),
        stuff: Stuff::of(&row.material, &row.made_of),
        stage: row.stage.words(),
        cuts: row.cuts.clone(),
        parts: row.parts.iter().map(|part| model.part(*part).name.clone()).collect(),
    }
}
