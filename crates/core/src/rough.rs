//! Rough sizes: how large a part is sawn before it is planed, from what board, and where the machines of the shop can't take it.

use crate::design::{Machine, MachineWork, Machines, Rough, Thickness, thicknesses};
use crate::length::{trimmed, trimmed_to};
use crate::sentence::inside;

/// A part as it is roughed out of boards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roughed {
    /// Along the grain, mm.
    pub length: f64,
    /// Across the grain, mm.
    pub width: f64,
    /// What boards it comes from; none where no table has any.
    pub board: Option<&'static Thickness>,
    /// How many such boards lie on each other in it: one, but where it is thicker than any that is sold.
    pub layers: u32,
}

/// So many layers are glued up at most; what wants more is no part of furniture.
const MOST_LAYERS: u32 = 8;
/// What a bench can't tell, mm: a board that comes out thinner by this is thick enough.
const AS_GOOD: f64 = 0.05;

impl Roughed {
    /// A part of solid timber of a finished length, width and thickness, mm.
    pub fn of(rules: &Rough, [length, width, thickness]: [f64; 3]) -> Roughed {
        let long = length + rules.length.to_mm();
        let enough = |layers: u32| {
            let of_kind = thicknesses().iter().filter(|step| step.sold == rules.sold);
            let mut enough = of_kind.filter(move |step| rules.clean(step.sawn, long) * f64::from(layers) >= thickness - AS_GOOD);
            enough.next().map(|board| (board, layers))
        };
        let found = (1..=MOST_LAYERS).find_map(enough);
        let (board, layers) = found.map_or((None, 1), |(board, layers)| (Some(board), layers));
        Roughed { length: long, width: width + rules.width.to_mm(), board, layers }
    }

    /// How thick its boards are as sawn, all layers together, mm; none where it is not known what boards.
    pub fn thickness(&self) -> Option<f64> {
        self.board.map(|board| board.sawn * f64::from(self.layers))
    }

    /// What it takes of sawn timber, m³.
    pub fn volume(&self) -> Option<f64> {
        self.thickness().map(|thickness| self.length * self.width * thickness / 1e9)
    }

    /// `32 mm`, `5/4`, `2 × 12/4`; empty where it is not known.
    pub fn words(&self) -> String {
        match (self.board, self.layers) {
            (None, _) => String::new(),
            (Some(board), 1) => board.words(),
            (Some(board), layers) => format!("{layers} × {}", board.words()),
        }
    }
}

/// A board foot: 144 cubic inches, m³ (the trade's measure; arithmetic).
pub const BOARD_FOOT: f64 = 144.0 * 0.0254 * 0.0254 * 0.0254;

/// What the parts of a mark come out of: pieces that are sawn out of boards and milled, each of one part or, where the machines take none so short, of several in one length.
#[derive(Clone, Debug, PartialEq)]
pub struct Blanks {
    /// How many parts come out of each, the most first.
    pub shares: Vec<usize>,
    /// How the longest is roughed out; all are laid out as long.
    pub rough: Roughed,
    /// The least length that the machines take, mm, where a part is shorter.
    pub least: Option<f64>,
}

impl Blanks {
    /// Of so many parts of a finished length, width and thickness, mm, crosscut by a saw that takes `kerf`. Those that no machine takes one by one are milled several in one length, and where
    /// they are few, in one as long as the machine wants.
    pub fn of(rules: &Rough, machines: &Machines, finished: [f64; 3], count: usize, kerf: f64) -> Blanks {
        let rough = Roughed::of(rules, finished);
        let Some(least) = least_length(machines).filter(|least| rough.length < *least) else {
            return Blanks { shares: vec![1; count], rough, least: None };
        };
        let (each, allowed) = (finished[0] + kerf, rough.length - finished[0]);
        let together = ((least - allowed) / each).ceil().max(2.0) as usize;
        let lengths = (count / together).max(1);
        let shares: Vec<usize> = (0..lengths).map(|nth| count / lengths + usize::from(nth < count % lengths)).collect();
        let most = shares.first().copied().unwrap_or(1);
        let length = (allowed + most as f64 * each).max(least);
        Blanks { shares, rough: Roughed { length, ..rough }, least: Some(least) }
    }

    /// "6 in one length", "3 and 2 in one length each"; nothing where each part is by itself.
    pub fn words(&self) -> Option<String> {
        let each = if self.shares.len() > 1 { " each" } else { "" };
        self.several().map(|several| format!("{several} in one length{each}"))
    }

    /// How many come out of those that give several: "6", or where they differ "3 and 2".
    fn several(&self) -> Option<String> {
        let mut kinds: Vec<usize> = self.shares.iter().copied().filter(|share| *share > 1).collect();
        kinds.dedup();
        let words: Vec<String> = kinds.iter().map(ToString::to_string).collect();
        (!words.is_empty()).then(|| words.join(" and "))
    }

    /// What is done where parts are shorter than the machines take.
    fn too_short(&self) -> Option<String> {
        let [least, length] = [self.least?, self.rough.length.ceil()].map(|mm| trimmed_to(mm, 0));
        let each = if self.shares.len() > 1 { " each" } else { "" };
        let done = match self.several() {
            Some(several) => format!("mill {several} in one length of {length} mm{each} and crosscut them after"),
            None => "leave the stock that long until it is milled".to_owned(),
        };
        Some(format!("shorter than a machine takes, {least} mm: {done}"))
    }
}

/// The least length that every kind of machine takes, mm: of each kind the one that takes the shortest.
fn least_length(machines: &Machines) -> Option<f64> {
    let least = |does: MachineWork| {
        let of_kind = machines.0.iter().filter(|machine| machine.does == does);
        of_kind.map(|machine| machine.least_length.to_mm()).reduce(f64::min)
    };
    [MachineWork::Flatten, MachineWork::Thickness, MachineWork::Rip].into_iter().filter_map(least).reduce(f64::max)
}

/// Where the machines of a shop can't take what parts of a finished width and thickness, mm, come out of, and what is done then: of each kind of work all the reasons of the machine that has
/// the fewest.
pub fn beyond(machines: &Machines, blanks: &Blanks, finished: [f64; 2]) -> Vec<String> {
    let mut told: Vec<String> = blanks.too_short().into_iter().collect();
    for does in [MachineWork::Flatten, MachineWork::Thickness, MachineWork::Rip] {
        let of_kind = machines.0.iter().filter(|machine| machine.does == does);
        let fewest = of_kind.map(|machine| against(machine, &blanks.rough, finished)).min_by_key(Vec::len);
        for words in fewest.into_iter().flatten() {
            if !told.contains(&words) {
                told.push(words);
            }
        }
    }
    told
}

/// From how many strips a part is glued up: each at its rough width, which is `more` than it comes to, no wider than the boards there are, nor than
/// a machine takes that flattens it, mm.
pub fn strips(machines: &Machines, width: f64, more: f64, widest: f64) -> usize {
    let flatten = machines.0.iter().filter(|machine| machine.does == MachineWork::Flatten);
    let takes = flatten.map(|machine| machine.greatest_width.to_mm()).reduce(f64::max).unwrap_or(f64::INFINITY);
    strips_no_wider(width, more, widest.min(takes))
}

fn strips_no_wider(width: f64, more: f64, most: f64) -> usize {
    // What is less than a strip's own allowance is no width at all.
    let most = most - more;
    if most > 0.0 { (width / most - 1e-9).ceil().max(1.0) as usize } else { 1 }
}

/// Why a machine does not take what is roughed out so and comes to a finished width and thickness, reason by reason; nothing where it does. That it is long enough is seen to before.
fn against(machine: &Machine, rough: &Roughed, [width, thickness]: [f64; 2]) -> Vec<String> {
    let mut told = Vec::new();
    let Machine { name, does, least_length: _, least_thickness, greatest_width, greatest_thickness, greatest_length } = machine;
    let (mm, name) = (|mm: f64| trimmed_to(mm, 0), inside(name));
    let planes = match does {
        MachineWork::Flatten | MachineWork::Thickness => true,
        MachineWork::Rip => false,
    };
    if rough.length > greatest_length.to_mm() {
        told.push(format!("longer than there is room for at the {name}, {} mm", mm(greatest_length.to_mm())));
    }
    if planes && rough.width > greatest_width.to_mm() {
        let boards = strips_no_wider(width, rough.width - width, greatest_width.to_mm());
        told.push(format!(
            "wider than the {name} takes, {} mm: glue it up from {boards} boards or more, each planed before, and flatten the whole by hand",
            mm(greatest_width.to_mm())
        ));
    }
    if *does == MachineWork::Thickness && thickness < least_thickness.to_mm() {
        told.push(format!("thinner than the {name} leaves, {} mm: plane it on a carrier board", trimmed(least_thickness.to_mm())));
    }
    let sawn = rough.board.map_or(thickness, |board| board.sawn);
    if sawn > greatest_thickness.to_mm() {
        told.push(format!("thicker than goes into the {name}, {} mm", mm(greatest_thickness.to_mm())));
    }
    told
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Length;
    use crate::design::Sold;

    fn rules(sold: Sold) -> Rough {
        Rough { sold, ..Rough::default() }
    }

    /// 25 longer, 6 wider, the next thickness up (common practice, no source); 4/4 gives 19 short and 18 long, so that a rail of 19 and
    /// 1,500 wants 5/4.
    #[test]
    fn the_next_thickness_up_depends_on_the_length() {
        let of = |length: f64, thickness: f64| Roughed::of(&rules(Sold::Quarters), [length, 80.0, thickness]);
        let short = of(600.0, 19.0);
        assert_eq!((short.length, short.width, short.words().as_str()), (625.0, 86.0, "4/4"));
        assert_eq!(of(1500.0, 19.0).words(), "5/4");
        assert_eq!(of(1500.0, 18.0).words(), "4/4");
        assert_eq!(Roughed::of(&rules(Sold::Metric), [1200.0, 48.0, 48.0]).words(), "60 mm");
    }

    #[test]
    fn what_is_thicker_than_any_board_is_glued_up() {
        let thick = Roughed::of(&rules(Sold::Metric), [700.0, 120.0, 120.0]);
        assert_eq!((thick.layers, thick.words().as_str()), (2, "2 × 70 mm"));
        assert_eq!(thick.thickness(), Some(140.0));
    }

    /// 8/4 × 7 × 8 ft = 9.33 board feet (a worked example of the trade, read).
    #[test]
    fn board_feet_as_the_trade_counts_them() {
        let volume = 2.0 * 25.4 * (7.0 * 25.4) * (8.0 * 304.8) / 1e9;
        assert!((volume / BOARD_FOOT - 9.333).abs() < 1e-3);
    }

    #[test]
    fn machines_tell_what_they_can_t_take_and_what_to_do() {
        let rules = rules(Sold::Metric);
        let blanks = |machines: &Machines, finished: [f64; 3], count: usize| Blanks::of(&rules, machines, finished, count, 3.2);
        let told = |machines: &Machines, finished: [f64; 3], count: usize| {
            beyond(machines, &blanks(machines, finished, count), [finished[1], finished[2]])
        };
        let ours = Machines::default();
        assert!(told(&ours, [600.0, 80.0, 20.0], 4).is_empty());
        // 25 more and twice 150 and a kerf is 331.4; once is 178.2.
        let short = told(&ours, [150.0, 40.0, 20.0], 4);
        assert_eq!(short.len(), 1, "{short:?}");
        assert!(short[0].contains("mill 2 in one length of 332 mm each"), "{short:?}");
        assert!(told(&ours, [150.0, 40.0, 20.0], 1)[0].contains("leave the stock that long"));
        // Five are milled in two lengths, of three and of two; a single one is left as long as the machine wants, and what the machines take is 25 longer.
        let lengths = |count: usize| blanks(&ours, [150.0, 40.0, 20.0], count);
        assert_eq!((lengths(5).shares, lengths(5).rough.length), (vec![3, 2], 25.0 + 3.0 * 153.2));
        assert!(told(&ours, [150.0, 40.0, 20.0], 5)[0].contains("mill 3 and 2 in one length of 485 mm each"));
        assert_eq!((lengths(1).shares, lengths(1).rough.length), (vec![1], 300.0));
        let long = blanks(&ours, [600.0, 80.0, 20.0], 4);
        assert_eq!((long.shares, long.rough.length, long.least), (vec![1; 4], 625.0, None));
        let wide = told(&ours, [1400.0, 518.0, 24.0], 1);
        assert!(
            wide.iter().any(|words| words.contains("from 3 boards or more")) && wide.iter().any(|words| words.contains("from 2 boards")),
            "{wide:?}"
        );
        assert!(told(&ours, [600.0, 60.0, 4.0], 2)[0].contains("carrier board"));
        // A machine tells all its reasons, and as many are milled together as the boards are cut for: 17 in two lengths, of nine and of eight.
        let both = told(&ours, [32.0, 60.0, 4.0], 17);
        assert!(
            both.iter().any(|words| words.contains("mill 9 and 8 in one length")) && both.iter().any(|words| words.contains("carrier")),
            "{both:?}"
        );
        let mut own = Machines::default();
        for machine in &mut own.0 {
            machine.least_length = Length::mm(150.0);
        }
        assert!(told(&own, [150.0, 40.0, 20.0], 1).is_empty());
    }

    /// Of two thickness planers the one does that takes it; what neither takes is told of the one that has less against it.
    #[test]
    fn the_machine_that_takes_it_is_the_one_that_is_used() {
        let mut two = Machines::default();
        let planer = two.0.iter().find(|machine| machine.does == MachineWork::Thickness).expect("a planer").clone();
        two.0.insert(0, Machine { greatest_width: Length::mm(100.0), greatest_length: Length::mm(500.0), ..planer });
        let told = |finished: [f64; 3]| {
            let blanks = Blanks::of(&rules(Sold::Metric), &two, finished, 1, 3.2);
            beyond(&two, &blanks, [finished[1], finished[2]])
        };
        assert_eq!(told([600.0, 150.0, 20.0]), Vec::<String>::new());
        assert!(matches!(told([600.0, 150.0, 4.0]).as_slice(), [one] if one.contains("carrier")));
    }
}
