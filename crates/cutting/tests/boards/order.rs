//! The order of cuts at the saw: held against the checker, and against every other order.

use casewright_cutting::boards::{Cut, Cuts, Direction, Task, in_order};
use proptest::prelude::*;

use crate::check::assert_sound;
use crate::made::{laid, panel, sheet, task};

const KERF: f64 = 3.0;

/// A strip 100 wide with parts of these lengths side by side, and the cuts between them from the near end on.
fn row(lengths: &[f64]) -> ([[f64; 2]; 2], Vec<Cut>) {
    let mut end = 0.0;
    let mut cuts = Vec::new();
    for length in &lengths[..lengths.len() - 1] {
        cuts.push(Cut { stage: 1, cut: Direction::Across, at: end + length, from: 0.0, to: 100.0 });
        end += length + KERF;
    }
    ([[0.0, end + lengths[lengths.len() - 1]], [0.0, 100.0]], cuts)
}

/// The lengths of what is cut, cut by cut.
fn held(room: [[f64; 2]; 2], cuts: &[Cut]) -> Vec<f64> {
    let mut rests = vec![room[0]];
    let mut held = Vec::new();
    for cut in cuts {
        let at = rests.iter().position(|[from, to]| *from < cut.at && cut.at < *to).expect("a part to be cut");
        let [from, to] = rests.swap_remove(at);
        held.push(to - from);
        rests.extend([[from, cut.at], [cut.at + KERF, to]]);
    }
    held
}

fn shortest(room: [[f64; 2]; 2], cuts: &[Cut]) -> f64 {
    held(room, cuts).into_iter().fold(f64::INFINITY, f64::min)
}

/// The shortest that is held in the best of all orders.
fn best(room: [[f64; 2]; 2], made: &mut Vec<Cut>, open: &mut Vec<Cut>) -> f64 {
    if open.is_empty() {
        return shortest(room, made);
    }
    let mut most = 0.0_f64;
    for number in 0..open.len() {
        let cut = open.swap_remove(number);
        made.push(cut);
        most = most.max(best(room, made, open));
        made.pop();
        open.push(cut);
        let last = open.len() - 1;
        open.swap(number, last);
    }
    most
}

#[test]
fn short_ends_come_off_while_what_is_held_is_long() {
    // Cut from the near end, 1500 would come off first, and 403 be left to be parted.
    let (room, cuts) = row(&[1500.0, 200.0, 200.0]);
    let made = in_order(room, &cuts, [KERF; 2], (f64::INFINITY, [f64::INFINITY; 2]), &|_| true);
    assert_eq!(held(room, &made), [1906.0, 1703.0]);
}

/// Two rails of 1249 and what is over: the waste stays on while one stop serves both rails, for 1720 is held easily; two of 250 are not held so at the end of a
/// short strip.
#[test]
fn ends_that_are_alike_come_off_at_one_setting() {
    let (room, cuts) = row(&[1249.0, 1249.0, 468.0]);
    let made = in_order(room, &cuts, [KERF; 2], (f64::INFINITY, [600.0; 2]), &|_| true);
    assert_eq!(held(room, &made), [2972.0, 1720.0]);
    assert_eq!(made.iter().map(|cut| cut.at).collect::<Vec<_>>(), [1249.0, 2501.0]);
    let (room, cuts) = row(&[250.0, 250.0, 80.0]);
    assert_eq!(held(room, &in_order(room, &cuts, [KERF; 2], (f64::INFINITY, [600.0; 2]), &|_| true)), [586.0, 503.0]);
}

/// Two panels of a strip and its waste, at the near or the far end: the stop is set to each panel in turn and the waste is left over, where before the waste would have come
/// off first at a stop of both together; unless the last that is held would be too short for it.
#[test]
fn the_waste_is_what_is_left() {
    for (lengths, is_waste_near) in [([900.0, 700.0, 500.0], false), ([500.0, 700.0, 900.0], true)] {
        let (room, cuts) = row(&lengths);
        let wanted = |[[from, to], _]: [[f64; 2]; 2]| (to - from - 500.0).abs() > 1.0;
        let made = in_order(room, &cuts, [KERF; 2], (f64::INFINITY, [600.0; 2]), &wanted);
        assert_eq!(held(room, &made), [2106.0, 1203.0], "{is_waste_near}");
        // 1203 is too short to be held: so it must be the other way round.
        let made = in_order(room, &cuts, [KERF; 2], (f64::INFINITY, [1300.0; 2]), &wanted);
        assert_eq!(held(room, &made), [2106.0, 1603.0], "{is_waste_near}");
    }
}

#[test]
fn what_is_too_heavy_is_halved_first() {
    let (room, cuts) = row(&[500.0, 500.0, 500.0, 500.0]);
    // Up to 1200 of it can be lifted.
    let made = in_order(room, &cuts, [KERF; 2], (1200.0 * 100.0, [f64::INFINITY; 2]), &|_| true);
    assert_eq!(held(room, &made), [2009.0, 1003.0, 1003.0]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_other_order_holds_longer_parts(lengths in prop::collection::vec(4..900_u32, 2..7)) {
        let lengths: Vec<f64> = lengths.into_iter().map(f64::from).collect();
        let (room, mut cuts) = row(&lengths);
        let made = in_order(room, &cuts, [KERF; 2], (f64::INFINITY, [f64::INFINITY; 2]), &|_| true);
        prop_assert_eq!(made.len(), cuts.len());
        prop_assert!((shortest(room, &made) - best(room, &mut Vec::new(), &mut cuts)).abs() < 1e-9);
    }

    #[test]
    fn cuts_in_order_free_the_same_pieces(
        pieces in prop::collection::vec((40..700_u32, 30..400_u32, 1..4_u32), 1..8),
        kerf in 0..5_u32,
        liftable in 0..900_000_u32,
        easy in 0..2_000_u32,
    ) {
        let pieces = pieces.into_iter().map(|(length, width, count)| panel(f64::from(length), f64::from(width), count)).collect();
        let task = Task { kerf: f64::from(kerf), trim: 7.0, stock: vec![sheet(1200.0, 800.0)], pieces, ..task(Cuts::Guillotine) };
        let mut layout = laid(&task, 1);
        for used in &mut layout.used {
            let before = used.cuts.len();
            used.cuts = in_order([[7.0, 1193.0], [7.0, 793.0]], &used.cuts, [task.kerf; 2], (f64::from(liftable), [f64::from(easy); 2]), &|[along, _]| along[0] < 600.0);
            prop_assert_eq!(used.cuts.len(), before);
            prop_assert!(used.cuts.windows(2).all(|pair| pair[0].stage <= pair[1].stage), "stage by stage: {:?}", used.cuts);
        }
        assert_sound(&task, &layout);
    }
}
