//! A board with defects is cut at them into parts without any.

use std::collections::HashMap;

use super::super::super::ground::{Area, Board};
use super::beam::Beam;

/// Parts that are cut at pieces too; beyond that they are cut at defects alone.
const MOST_PARTS: usize = 1_500;

/// The best filling of a board with defects.
pub(super) fn best(beam: &mut Beam<'_>, board: &Board) -> Option<u32> {
    let mut parts = Parts { board, known: HashMap::new() };
    let whole = Area { from: [0, 0], to: board.room };
    let found = parts.of(beam, whole);
    found.into_iter().find(|&number| beam.may_be_first(number))
}

struct Parts<'b> {
    board: &'b Board,
    known: HashMap<[i64; 4], Vec<u32>>,
}

impl Parts<'_> {
    /// The fillings of an area, each as large as it.
    fn of(&mut self, beam: &mut Beam<'_>, area: Area) -> Vec<u32> {
        let key = [area.from[0], area.from[1], area.to[0], area.to[1]];
        if let Some(known) = self.known.get(&key) {
            return known.clone();
        }
        // No part of itself.
        self.known.insert(key, Vec::new());
        let mut list = Vec::new();
        let size = [0, 1].map(|way| area.to[way] - area.from[way]);
        let kerf = beam.rules.kerf;
        // The kerf of what lies there may lie on a defect.
        let touches = |defect: &&Area| (0..2).all(|way| defect.from[way] < area.to[way] - kerf && defect.to[way] > area.from[way]);
        let met: Vec<Area> = self.board.defects.iter().filter(touches).copied().collect();
        if met.is_empty() {
            for number in beam.of_room(size).to_vec() {
                if let Some(within) = beam.within(number, size) {
                    beam.keep(&mut list, within);
                }
            }
        }
        let few = self.known.len() <= MOST_PARTS;
        for way in [0, 1].into_iter().filter(|_| !met.is_empty()) {
            for at in cuts(beam, &met, area, way, few) {
                self.cut(beam, area, (way, at), &mut list);
            }
        }
        self.known.insert(key, list.clone());
        list
    }

    /// The fillings of the two parts of an area that is cut there, together and each by itself.
    fn cut(&mut self, beam: &mut Beam<'_>, area: Area, (way, at): (usize, i64), list: &mut Vec<u32>) {
        let (mut near, mut far) = (area, area);
        (near.to[way], far.from[way]) = (at, at);
        let (near, far) = (self.of(beam, near), self.of(beam, far));
        let size = [0, 1].map(|way| area.to[way] - area.from[way]);
        for &one in &near {
            for &two in &far {
                beam.work += 1;
                if let Some(joined) = beam.joined(way, one, two) {
                    beam.offer(list, joined);
                }
            }
        }
        for one in near {
            if let Some(within) = beam.within(one, size) {
                beam.keep(list, within);
            }
        }
        for two in far {
            if let Some(behind) = beam.behind(two, way, size[way]) {
                beam.keep(list, behind);
            }
        }
    }
}

/// Where an area with defects is cut along a way: before and behind each of them, and behind a piece at its near end.
fn cuts(beam: &Beam<'_>, defects: &[Area], area: Area, way: usize, behind_pieces: bool) -> Vec<i64> {
    let kerf = beam.rules.kerf;
    // The kerf may lie on a defect, and a strip to be cut off is at least as wide as the saw.
    let mut cuts: Vec<i64> =
        defects.iter().flat_map(|defect| [defect.from[way] + kerf, defect.to[way].max(area.from[way] + kerf)]).collect();
    if behind_pieces {
        cuts.extend(beam.sizes(way).map(|size| area.from[way] + size));
    }
    cuts.retain(|&at| at > area.from[way] && at < area.to[way]);
    cuts.sort_unstable();
    cuts.dedup();
    cuts
}
