//! How far parts move so that what holds them together parts by as little as can be.

use glam::DVec3;

use super::Field;
use super::links::{Hold, Link};

/// Rounds of the solver for each unknown: it ends after one round each but for rounding.
const ROUNDS: usize = 2;
/// Squares of what is left that count as nothing, mm².
const NOTHING: f64 = 1e-20;

/// How far each part moves as a whole, beside its own growth. One part of each lot that hangs together stays where it is.
///
/// Level by level from the firmest: what a level holds together moves as one from then on. Within a level the squares of the distances by which its
/// links part are made least, each axis for itself.
pub(super) fn settle(fields: &[Field], links: &[Link]) -> Vec<DVec3> {
    let [x, y, z] = [0, 1, 2].map(|axis| settle_along(axis, fields, links));
    x.into_iter().zip(y).zip(z).map(|((x, y), z)| DVec3::new(x, y, z)).collect()
}

fn settle_along(axis: usize, fields: &[Field], links: &[Link]) -> Vec<f64> {
    let mut moved = vec![0.0; fields.len()];
    let mut lots: Vec<usize> = (0..fields.len()).collect();
    for hold in Hold::ALL {
        let pulls: Vec<Pull> = links
            .iter()
            .filter(|link| link.hold == hold && link.along[axis] > 0.0)
            .map(|link| {
                let at = |part: usize| moved[part] + fields[part].at(link.at)[axis];
                let [a, b] = link.parts;
                Pull { lots: [lots[a], lots[b]], apart: at(a) - at(b) }
            })
            .filter(|pull| pull.lots[0] != pull.lots[1])
            .collect();
        let shifts = least(&pulls, fields.len());
        for (moved, lot) in moved.iter_mut().zip(&lots) {
            *moved += shifts[*lot];
        }
        for pull in &pulls {
            join(&mut lots, pull.lots);
        }
    }
    moved
}

/// Two lots, and how far the first is ahead of the second where they hold each other, mm.
struct Pull {
    lots: [usize; 2],
    apart: f64,
}

/// Makes one lot of two that were joined before, whatever their numbers are by now.
fn join(lots: &mut [usize], [a, b]: [usize; 2]) {
    // A lot's number is that of one of its parts.
    let (a, b) = (lots[a], lots[b]);
    lots.iter_mut().filter(|lot| **lot == b).for_each(|lot| *lot = a);
}

/// The shifts of the lots for which the squares of what is left between them add up to least: the normal equations, by conjugate gradients
/// (M. R. Hestenes, E. Stiefel, "Methods of conjugate gradients for solving linear systems", 1952). From no shift at all, so that what
/// hangs together does not move on the whole.
fn least(pulls: &[Pull], count: usize) -> Vec<f64> {
    let apply = |shifts: &[f64]| {
        let mut out = vec![0.0; count];
        for Pull { lots: [a, b], .. } in pulls {
            let between = shifts[*a] - shifts[*b];
            out[*a] += between;
            out[*b] -= between;
        }
        out
    };
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let mut shifts = vec![0.0; count];
    let mut left = vec![0.0; count];
    for Pull { lots: [a, b], apart } in pulls {
        left[*a] -= apart;
        left[*b] += apart;
    }
    let mut along = left.clone();
    let mut size = dot(&left, &left);
    for _ in 0..count * ROUNDS {
        if size <= NOTHING {
            break;
        }
        let image = apply(&along);
        let step = size / dot(&along, &image);
        for at in 0..count {
            shifts[at] += step * along[at];
            left[at] -= step * image[at];
        }
        let next = dot(&left, &left);
        for at in 0..count {
            along[at] = left[at] + next / size * along[at];
        }
        size = next;
    }
    shifts
}
