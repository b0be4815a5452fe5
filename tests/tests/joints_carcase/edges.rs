//! Edges worked to a shape.

use approx::assert_abs_diff_eq;
use casewright_core::ShapeCache;
use casewright_core::model::{Assembly, EdgeChamfer, EdgeRabbet, EdgeRound, Face, Feature, Taper};
use casewright_core::place::Dir;

use crate::board;

/// A blank 400 × 60 × 20 with one cut.
fn removed_by(feature: Feature) -> f64 {
    let mut assembly = Assembly::default();
    let part = board(&mut assembly, "board", [(0.0, 400.0), (0.0, 60.0), (0.0, 20.0)], Dir::PlusZ, Dir::PlusY, "white_ash");
    assembly.cut(part, feature, None);
    let model = assembly.finish();
    let solids = ShapeCache::default().shape(&model);
    let shape = solids.shape(part).expect("a shape");
    assert!(shape.is_watertight());
    400.0 * 60.0 * 20.0 - shape.volume
}

#[test]
fn rounds_chamfers_tapers_and_rabbets_take_off_what_they_say() {
    let faces = [Face::FirstEnd, Face::SecondEnd, Face::FaceEdge, Face::BackEdge, Face::FaceSide, Face::BackSide];
    let size = [400.0, 60.0, 20.0];
    let mut arrises = 0;
    for a in faces {
        for b in faces.into_iter().filter(|b| b.axis() != a.axis()) {
            let along = size[3 - a.axis() - b.axis()];
            let round = removed_by(Feature::EdgeRound(EdgeRound { arris: [a, b], radius: 6.0 }));
            let exact = (1.0 - std::f64::consts::FRAC_PI_4) * 36.0 * along;
            assert!((round - exact).abs() < 0.03 * 36.0 * along && round >= exact, "{a:?} {b:?}: {round} for {exact}");
            let chamfer = removed_by(Feature::EdgeChamfer(EdgeChamfer { arris: [a, b], off: [4.0, 3.0] }));
            assert_abs_diff_eq!(chamfer, 6.0 * along, epsilon = 1e-3);
            arrises += 1;
        }
    }
    assert_eq!(arrises, 24, "twelve arrises, told either way round");
    for second_end in [false, true] {
        for (face, across) in [(Face::FaceEdge, 20.0), (Face::BackEdge, 20.0), (Face::FaceSide, 60.0), (Face::BackSide, 60.0)] {
            let taper = removed_by(Feature::Taper(Taper { face, second_end, length: 250.0, inset: 8.0 }));
            assert_abs_diff_eq!(taper, 250.0 * 8.0 / 2.0 * across, epsilon = 1e-3);
        }
        for back_side in [false, true] {
            let cut = EdgeRabbet { back_edge: second_end, back_side, width: 9.0, depth: 7.0, from: 0.0, to: 350.0 };
            assert_abs_diff_eq!(removed_by(Feature::EdgeRabbet(cut)), 9.0 * 7.0 * 350.0, epsilon = 1e-3);
        }
    }
}

/// The face on which a chamfer takes 4 is the one that is named first.
#[test]
fn a_chamfer_takes_its_figures_off_the_faces_it_names() {
    let mut assembly = Assembly::default();
    let part = board(&mut assembly, "leg", [(0.0, 400.0), (0.0, 60.0), (0.0, 20.0)], Dir::PlusZ, Dir::PlusY, "white_ash");
    let cut = Feature::EdgeChamfer(EdgeChamfer { arris: [Face::FaceSide, Face::FaceEdge], off: [4.0, 3.0] });
    assert_eq!(cut.describe(), "4 off the face side and 3 off the face edge");
    assembly.cut(part, cut, None);
    let solid = assembly.finish().part(part).solid();
    // Of the face side, T = 0, 56 of 60 are left; of the face edge, W = 0, 17 of 20.
    let centroid = solid.shape(casewright_solid::Facets::PerTurn(16)).expect("a shape").centroid;
    let (whole, off) = (60.0 * 20.0, 6.0);
    assert_abs_diff_eq!(centroid.y, (whole * 30.0 - off * 4.0 / 3.0) / (whole - off), epsilon = 1e-6);
    assert_abs_diff_eq!(centroid.z, (whole * 10.0 - off * 3.0 / 3.0) / (whole - off), epsilon = 1e-6);
}
