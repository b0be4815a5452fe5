//! Marks: equal parts share one.

use crate::model::{BuildStage, Feature, Material, Part, PartKind};

/// Gives every part its mark: the letters of its kind and a number, the same for parts that are cut alike.
pub(super) fn give(parts: &mut [Part]) {
    let mut kinds: Vec<Alike> = Vec::new();
    for part in parts {
        let alike = Alike::of(part);
        let number = kinds.iter().filter(|other| other.kind == alike.kind).position(|other| *other == alike);
        let number = number.unwrap_or_else(|| {
            let number = kinds.iter().filter(|other| other.kind == alike.kind).count();
            kinds.push(alike);
            number
        });
        part.mark = format!("{}{}", part.kind.letters(), number + 1);
    }
}

/// What makes parts equal: kind, material, when they go in, size and cuts, to a ten-thousandth of a millimetre.
#[derive(PartialEq)]
struct Alike {
    kind: PartKind,
    material: Material,
    stage: BuildStage,
    size: [i64; 3],
    cuts: Vec<(&'static str, Vec<i64>)>,
}

impl Alike {
    fn of(part: &Part) -> Alike {
        let mut cuts: Vec<_> = part.cuts.iter().map(|cut| figures(&cut.feature)).collect();
        cuts.sort();
        Alike { kind: part.kind, material: part.material.clone(), stage: part.stage, size: part.lwt().to_array().map(grain), cuts }
    }
}

fn grain(mm: f64) -> i64 {
    (mm * 1e4).round() as i64
}

fn figures(feature: &Feature) -> (&'static str, Vec<i64>) {
    let flag = |set: bool| if set { 1.0 } else { 0.0 };
    let values = match *feature {
        Feature::Mortise { face, centre, along, length, width, depth, round } => {
            let mut at = centre;
            at[face.axis()] = flag(face.is_first());
            vec![face.axis() as f64, at.x, at.y, at.z, along as f64, length, width, depth, flag(round)]
        }
        Feature::Groove { face, centre, width, depth, from, to, through } => {
            vec![face.axis() as f64, flag(face.is_first()), centre, width, depth, from, to, flag(through[0]), flag(through[1])]
        }
        Feature::Notch { second_end, back_edge, length, width } => vec![flag(second_end), flag(back_edge), length, width],
        Feature::Rabbet { second_end, back_side, length, depth } => vec![flag(second_end), flag(back_side), length, depth],
        Feature::Bevel { second_end, inset } => vec![flag(second_end), inset],
        Feature::Teeth { first, pitch, seat, crest, count } => vec![first, pitch, seat, crest, f64::from(count)],
        Feature::RoundEdges => Vec::new(),
    };
    (feature.name(), values.into_iter().map(grain).collect())
}
