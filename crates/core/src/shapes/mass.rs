//! What parts weigh, and where their weight acts.

use glam::DVec3;

use super::Solids;
use crate::model::{Model, Part};

/// A mass and the point at which its weight acts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mass {
    /// How heavy, kg.
    pub kg: f64,
    /// The centre of mass in the case, mm.
    pub centre: DVec3,
}

/// mm³ to the m³.
const CUBIC_MM: f64 = 1e9;

impl Mass {
    /// Several masses as one; nothing of nothing, or when they come to no mass.
    pub fn together(masses: impl IntoIterator<Item = Mass>) -> Option<Mass> {
        let (kg, moment) = masses.into_iter().fold((0.0, DVec3::ZERO), |(kg, moment), mass| (kg + mass.kg, moment + mass.centre * mass.kg));
        (kg > 0.0).then(|| Mass { kg, centre: moment / kg })
    }
}

impl Solids {
    /// What a part weighs as it is cut, where it stands, at a density in kg/m³ that is the same all through; nothing when it has no shape.
    pub fn mass(&self, part: &Part, density: f64) -> Option<Mass> {
        let shape = self.shape(part.id)?;
        Some(Mass { kg: shape.volume / CUBIC_MM * density, centre: part.pose.point(shape.centroid) })
    }

    /// What some parts of a model weigh together, each at its own density in kg/m³. Nothing when one of them has no shape or no density:
    /// a mass that left it out would be wrong.
    pub fn mass_of<'a>(&self, parts: impl IntoIterator<Item = &'a Part>, density: impl Fn(&Part) -> Option<f64>) -> Option<Mass> {
        let masses: Option<Vec<Mass>> = parts.into_iter().map(|part| self.mass(part, density(part)?)).collect();
        Mass::together(masses?)
    }

    /// What the whole model weighs, as [`mass_of`](Solids::mass_of), at the densities that the tables of timber and sheet goods give.
    pub fn mass_of_model(&self, model: &Model) -> Option<Mass> {
        self.mass_of(&model.parts, |part| model.timbers.density(&part.material).map(|density| density.value))
    }
}

#[cfg(test)]
mod tests {
    use glam::DVec3;

    use crate::ShapeCache;
    use crate::model::{Assembly, Face, Feature, Material, NewPart, PartKind};
    use crate::place::{Block, Dir, Lie};

    /// Held against arithmetic: a board of 500 kg/m³ with half of it cut away at one end, and one beside it that is whole.
    #[test]
    fn a_cut_moves_the_weight() {
        let board = |x: f64| {
            let block = Block::new((x, x + 1000.0), (0.0, 100.0), (0.0, 20.0));
            NewPart::filling(block, Lie { face: Dir::PlusZ, edge: Dir::MinusY }).called(
                "board",
                "Board",
                PartKind::Own,
                Material::Solid("white_ash".to_owned()),
            )
        };
        let mut assembly = Assembly::default();
        let (cut, whole) = (assembly.place(board(0.0)), assembly.place(board(2000.0)));
        let pocket = Feature::Mortise {
            face: Face::FaceSide,
            centre: DVec3::new(250.0, 50.0, 0.0),
            along: 0,
            length: 500.0,
            width: 100.0,
            depth: 10.0,
            round: false,
        };
        assembly.cut(cut, pocket, None);
        let model = assembly.finish();
        let solids = ShapeCache::default().shape(&model);
        let first = solids.mass(model.part(cut), 500.0).expect("a shape");
        assert!((first.kg - 0.75).abs() < 1e-9, "{}", first.kg);
        // A quarter is gone, whose centre lay a quarter of the length from its end.
        let grain = model.part(cut).pose.vector(DVec3::X).x;
        let along = 500.0 + grain * 0.25 * 250.0 / 0.75;
        assert!((first.centre.x - along).abs() < 1e-6, "{} wanted {along}", first.centre.x);
        let both = solids.mass_of(&model.parts, |_| Some(500.0)).expect("both have a shape");
        assert!((both.kg - 1.75).abs() < 1e-9);
        assert!((both.centre.x - (0.75 * along + 1.0 * 2500.0) / 1.75).abs() < 1e-6);
        assert_eq!(solids.mass_of(&model.parts, |part| (part.id != whole).then_some(500.0)), None, "one has no density");
        // White ash: the table's own density.
        let density = model.timbers.density(&model.part(whole).material).expect("white ash has one").value;
        let all = solids.mass_of_model(&model).expect("a mass");
        assert!((all.kg - 0.0035 * density).abs() < 1e-9);
    }
}
