//! Fillings that passed over vertices in the middle of straight runs, put right.

use std::collections::BTreeMap;

use super::skin::Skin;
use super::stitch::vertices_on;

/// Rounds of splitting; each can mend one edge of a triangle.
const ROUNDS: usize = 8;

/// Splits the triangles of one face, those from `first` on, until they fit each other and the
/// face's outlines corner to corner.
pub(super) fn refit(skin: &Skin, face: usize, first: usize, triangles: &mut Vec<[u32; 3]>) {
    for _ in 0..ROUNDS {
        let open = open_edges(skin, face, &triangles[first..]);
        let mut ends: Vec<u32> = open.iter().flat_map(|&(a, b)| [a, b]).collect();
        ends.sort_unstable();
        ends.dedup();
        let mut split = false;
        for place in first..triangles.len() {
            let [a, b, c] = triangles[place];
            for (from, to, apex) in [(a, b, c), (b, c, a), (c, a, b)] {
                if !open.contains(&(from, to)) {
                    continue;
                }
                let on = vertices_on(&skin.positions, from, to, &ends, skin.weld * 2.0);
                if on.is_empty() {
                    continue;
                }
                let stops: Vec<u32> = on.into_iter().chain([to]).collect();
                triangles[place] = [from, stops[0], apex];
                triangles.extend(stops.windows(2).map(|s| [s[0], s[1], apex]));
                split = true;
                break;
            }
        }
        if !split {
            return;
        }
    }
}

/// The directed edges of a face's triangles and of its surroundings that no other runs against.
fn open_edges(skin: &Skin, face: usize, triangles: &[[u32; 3]]) -> Vec<(u32, u32)> {
    let mut balance: BTreeMap<(u32, u32), i32> = BTreeMap::new();
    let mut count = |from: u32, to: u32| {
        let step = if from < to { 1 } else { -1 };
        *balance.entry((from.min(to), from.max(to))).or_default() += step;
    };
    for &[a, b, c] in triangles {
        count(a, b);
        count(b, c);
        count(c, a);
    }
    for l in skin.faces[face].loops.clone() {
        let outline = skin.outline_of(l as usize);
        let next = outline.iter().cycle().skip(1);
        for (&from, &to) in outline.iter().zip(next) {
            count(to, from);
        }
    }
    balance.into_iter().filter(|&(_, n)| n != 0).map(|((a, b), n)| if n > 0 { (a, b) } else { (b, a) }).collect()
}
