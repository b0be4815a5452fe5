//! Edges of the top: rounded or chamfered as decided.

use super::Builder;
use crate::design::{Arrises, EdgeShape, EdgeSides, Edges};
use crate::model::{EdgeChamfer, EdgeRound, Face, Feature, PartId};

/// Works the edges of a slab whose face side looks up and whose face edge looks to the front.
pub(super) fn work(builder: &mut Builder<'_>, slab: PartId, edges: &Edges) {
    let size = edges.size.to_mm();
    if edges.shape == EdgeShape::Square || size <= 0.0 {
        return;
    }
    let flats: &[Face] = match edges.arrises {
        Arrises::Upper => &[Face::FaceSide],
        Arrises::Lower => &[Face::BackSide],
        Arrises::Both => &[Face::FaceSide, Face::BackSide],
    };
    let upright: &[Face] = match edges.sides {
        EdgeSides::FrontAndEnds => &[Face::FaceEdge, Face::FirstEnd, Face::SecondEnd],
        EdgeSides::AllRound => &[Face::FaceEdge, Face::FirstEnd, Face::SecondEnd, Face::BackEdge],
    };
    for flat in flats {
        for edge in upright {
            let arris = [*flat, *edge];
            let feature = match edges.shape {
                EdgeShape::Square => continue,
                EdgeShape::Round => Feature::EdgeRound(EdgeRound { arris, radius: size }),
                EdgeShape::Chamfer => Feature::EdgeChamfer(EdgeChamfer { arris, off: [size; 2] }),
            };
            builder.cut(slab, feature);
        }
    }
}
