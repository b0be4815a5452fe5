//! What of a part is drawn: the cuts by letter, and the faces on which they are marked out.

use casewright_core::model::{Cut, Face, Feature, Material, Part};

use super::super::drafting::Drafting;
use super::marked::{On, Size, marked};

/// Cuts of one size and kind.
pub(super) struct Key {
    /// What is said of each.
    pub words: String,
    /// How many there are.
    pub count: usize,
    /// What the figures among the words say, of all of them.
    pub sizes: Vec<Size>,
}

/// A face with what is marked out on it.
pub(super) struct Seen {
    pub face: Face,
    /// The opposite face where it is marked out the same and so not drawn.
    pub alike: Option<Face>,
    /// What is cut: the key of each, and where.
    pub cuts: Vec<(usize, On)>,
}

/// What of a part is drawn.
pub(super) struct Plan {
    pub keys: Vec<Key>,
    /// Sides and edges, in the order in which the part is rolled over.
    pub sides: Vec<Seen>,
    pub ends: Vec<Seen>,
}

impl Plan {
    pub fn of(part: &Part, drafting: &Drafting) -> Plan {
        let size = part.lwt();
        let mut keys: Vec<Key> = Vec::new();
        let mut seen = [Face::FaceEdge, Face::FaceSide, Face::BackEdge, Face::BackSide, Face::FirstEnd, Face::SecondEnd].map(|face| Seen {
            face,
            alike: None,
            cuts: Vec::new(),
        });
        // Nobody rounds a rod that is bought.
        let cuts: &[Cut] = if is_bought(part) && is_rod(part) { &[] } else { &part.cuts };
        for cut in cuts {
            let told = marked(&cut.feature, size, drafting);
            let words = cut.there.words().map_or(told.words.clone(), |there| format!("{}; {there}", told.words));
            let known = keys.iter().position(|key| key.words == words);
            let number = known.unwrap_or(keys.len());
            if known.is_none() {
                keys.push(Key { words, count: 0, sizes: Vec::new() });
            }
            if let Some(key) = keys.get_mut(number) {
                key.count += 1;
                key.sizes.extend(told.sizes);
            }
            for on in told.on {
                seen.iter_mut().filter(|seen| seen.face == on.face).for_each(|seen| seen.cuts.push((number, on.clone())));
            }
        }
        let [face_edge, face_side, back_edge, back_side, first, second] = seen;
        let bare = [&face_edge, &face_side, &back_edge, &back_side].iter().all(|seen| seen.cuts.is_empty());
        let ends = together(first, second);
        if bare {
            return Plan { keys, sides: vec![face_side], ends };
        }
        let (edges, sides) = (together(face_edge, back_edge), together(face_side, back_side));
        let mut all: Vec<Seen> = edges.into_iter().chain(sides).collect();
        all.sort_by_key(|seen| rolled(seen.face));
        Plan { keys, sides: all, ends }
    }

    /// How much there is to say: letters and places.
    pub fn figures(&self) -> usize {
        let views = self.sides.iter().map(|seen| seen.cuts.iter().map(|(_, on)| on.places.len() + 1).sum::<usize>());
        views.sum()
    }
}

/// Whether nobody makes it.
pub(super) fn is_bought(part: &Part) -> bool {
    match part.material {
        Material::Bought(_) => true,
        Material::Solid(_) | Material::Sheet(_) => false,
    }
}

/// Whether it is a rod: as thick as wide, and round.
pub(super) fn is_rod(part: &Part) -> bool {
    let size = part.lwt();
    (size.y - size.z).abs() < 1e-6 && part.cuts.iter().any(|cut| matches!(cut.feature, Feature::RoundEdges))
}

/// The order in which faces come up when the part is rolled over.
fn rolled(face: Face) -> u8 {
    match face {
        Face::FaceEdge => 0,
        Face::FaceSide => 1,
        Face::BackEdge => 2,
        Face::BackSide => 3,
        Face::FirstEnd => 4,
        Face::SecondEnd => 5,
    }
}

/// Two opposite faces that carry something; one where they are marked out alike.
fn together(mut one: Seen, other: Seen) -> Vec<Seen> {
    if !one.cuts.is_empty() && places(&one) == places(&other) {
        one.alike = Some(other.face);
        return vec![one];
    }
    [one, other].into_iter().filter(|seen| !seen.cuts.is_empty()).collect()
}

/// What is marked out where, to be compared.
fn places(seen: &Seen) -> Vec<(usize, Vec<(usize, i64)>)> {
    let grain = |mm: f64| (mm * 1e3).round() as i64;
    let mut all: Vec<_> = seen
        .cuts
        .iter()
        .map(|(key, on)| {
            let across = (0..3).filter(|axis| *axis != on.face.axis()).map(|axis| (axis + 3, grain(on.at[axis])));
            (*key, on.places.iter().map(|place| (place.axis, grain(place.at))).chain(across).collect::<Vec<_>>())
        })
        .collect();
    all.sort();
    all
}
