//! Marks: equal parts share one.

use super::{BuildStage, Material, Part, PartKind};

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
        let mut cuts: Vec<_> =
            part.cuts.iter().map(|cut| (cut.feature.name(), cut.feature.figures().into_iter().map(grain).collect())).collect();
        cuts.sort();
        Alike { kind: part.kind, material: part.material.clone(), stage: part.stage, size: part.lwt().to_array().map(grain), cuts }
    }
}

fn grain(mm: f64) -> i64 {
    (mm * 1e4).round() as i64
}
