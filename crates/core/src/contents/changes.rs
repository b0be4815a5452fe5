//! The least change of the case after which everything has a place.

use super::arrange::case::Case;
use super::arrange::{Arrangement, Effort, Piles, Row, ShelvesMay, arrange, arranged, eased, laid, levels_of};
use super::propose::usual_divider;
use crate::amounts::Amounts;
use crate::derive::{bay_plans, derive};
use crate::design::edit::{Edit, apply};
use crate::design::{Along, Bay, BaySize, Bears, Design, Fitting, Opening, Shelves, Split, decisions};
use crate::inspect::depth_of;
use crate::length::{Length, trimmed};
use crate::loads::{carries, whole};
use crate::model::{LevelKind, Model};

/// Steps that are spent on the case as it stands.
const STEPS: u64 = 1_000_000;

/// Steps that are spent on a case that is tried: dozens of them are.
const STEPS_A_TRIAL: u64 = 250_000;

/// A change of the case after which everything has a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// What is done: "Make the case 64 mm higher".
    pub words: String,
    /// What that gives: "all have a place", "all shelves together carry 1010 kg".
    pub gives: String,
    /// The case after it, its shelves laid so that everything has its place.
    pub design: Design,
    /// How much more solid timber it takes, m³; less than nothing where it takes less.
    pub timber: f64,
    /// How much more sheet, m².
    pub sheet: f64,
    /// By how much it changes the case at the least, mm, which is proven: less of the same gives not everything a place; none for what is not told in
    /// millimetres.
    pub least: Option<Least>,
}

/// How far a change of the case goes, and how far it must.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Least {
    /// By how much the case is changed, mm.
    pub by: u32,
    /// The least by which it must be, mm.
    pub proven: u32,
}

impl Least {
    /// "the least there is", or "no less than 98 mm would do".
    pub fn words(self) -> String {
        if self.by <= self.proven { "the least that does".to_owned() } else { format!("less than {} mm never does", self.proven) }
    }
}

/// The least changes of the case after which everything has a place, each of its own kind and with the shelves laid anew, those that take
/// least timber first; none where all has a place already, or nothing within reason gives it one. Where it is enough to move the shelves
/// that are there, that is the one change that is told.
///
/// Nothing is stood behind another by them, unless something must be as the case is.
pub fn changes(design: &Design) -> Vec<Change> {
    let Ok(model) = derive(design) else { return Vec::new() };
    let Ok(stay) = arrange(design, &model, ShelvesMay::Stay, Effort::steps(STEPS)) else { return Vec::new() };
    if stay.left.is_empty() {
        return stronger(design, &model, &stay).into_iter().collect();
    }
    let before = Amounts::of(&model);
    let change = |words: String, design: Design, least: Option<Least>| changed(&before, (words, ALL_PLACED.to_owned()), design, least);
    if let Ok(Some((after, there))) = laid(design, ShelvesMay::Move, Effort::steps(STEPS))
        && there.left.is_empty()
    {
        return change(moves(design, &after, &there), after, None).into_iter().collect();
    }
    // What costs nothing but the maker's word comes first.
    let borne = on_others(design).and_then(|(words, after)| change(words, after, None));
    let deep = stay.rows.iter().flat_map(|row| &row.stacks).map(|stack| stack.pile.deep).max().unwrap_or(1);
    let within = |way: Way<'_>| {
        let (least, design) = least(&way, deep)?;
        let there = derive(&design).ok().and_then(|model| arrange(&design, &model, ShelvesMay::Stay, Effort::steps(STEPS)).ok());
        let design = if let Some(there) = there.filter(|there| there.left.is_empty()) { eased(design, there).0 } else { design };
        change((way.words)(least.by), design, way.is_counted.then_some(least))
    };
    let mut found: Vec<Change> = ways(design).into_iter().filter_map(within).collect();
    found.sort_by(|a, b| a.timber.total_cmp(&b.timber).then_with(|| a.words.cmp(&b.words)));
    borne.into_iter().chain(found).collect()
}

/// What most changes give.
const ALL_PLACED: &str = "all have a place";

fn changed(before: &Amounts, (words, gives): (String, String), design: Design, least: Option<Least>) -> Option<Change> {
    let after = Amounts::of(&derive(&design).ok()?);
    let [timber, sheet] =
        [(&after.timber, &before.timber), (&after.sheet, &before.sheet)].map(|(after, before)| after.value - before.value);
    Some(Change { words, gives, design, timber, sheet, least })
}

/// Things of other kinds stood on one kind that so far bears its own alone, where that gives everything a place: only its maker knows whether it may.
fn on_others(design: &Design) -> Option<(String, Design)> {
    let alone = design.contents.iter().enumerate().filter(|(_, kind)| matches!(kind.bears, Bears::Others | Bears::One));
    alone.into_iter().find_map(|(index, kind)| {
        let mut borne = design.clone();
        borne.contents[index].bears = Bears::Any;
        let (after, there) = laid(&borne, ShelvesMay::Move, Effort::steps(STEPS_A_TRIAL)).ok()??;
        let words = format!("Let smaller things stand on {}, if it bears that", kind.name);
        there.left.is_empty().then_some((words, after))
    })
}

/// The part that gives out first made higher or thicker, as little as it takes for the case to carry all that stands in it; nothing where it does, or none
/// within reason would.
fn stronger(design: &Design, model: &Model, stay: &Arrangement) -> Option<Change> {
    let stands: f64 = stay.rows.iter().map(Row::kg).sum();
    let in_all = |design: &Design, model: &Model| whole(design, model, &carries(design, model));
    let now = in_all(design, model).filter(|all| all.is_less_than(stands))?;
    let (path, what) = depth_of(model, model.part(now.gives?.0))?;
    let size = decisions::value(design, path)?.number()?;
    let tried = |more: f64| {
        let mut after = design.clone();
        set(&mut after, path, size + more)?;
        let model = derive(&after).ok()?;
        let all = in_all(&after, &model).filter(|all| !all.is_less_than(stands))?;
        let there = arrange(&after, &model, ShelvesMay::Stay, Effort::steps(STEPS)).ok()?;
        there.left.is_empty().then_some((after, all.kg))
    };
    // By tenths up to twice its size, and back to the least millimetre: much more of it leaves less room on the shelves.
    let tenth = |more: u32| (size * f64::from(more) / 10.0).ceil();
    let (more, mut best) = (1..=10).find_map(|more| Some((more, tried(tenth(more))?)))?;
    let (mut low, mut high) = (tenth(more - 1), tenth(more));
    while high - low > 1.0 {
        let middle = f64::midpoint(low, high).floor();
        match tried(middle) {
            Some(found) => (high, best) = (middle, found),
            None => low = middle,
        }
    }
    let how = if path.contains("rail") || path.ends_with("height") { "higher" } else { "thicker" };
    let gives = format!("all shelves together carry {} kg", trimmed(best.1.floor()));
    changed(&Amounts::of(model), (format!("Make {what} {} mm {how}", trimmed(high)), gives), best.0, None)
}

/// "Move the shelves of bay 1 to teeth 5, 15".
fn moves(before: &Design, after: &Design, there: &Arrangement) -> String {
    let (was, is) = (levels_of(before), levels_of(after));
    let told: Vec<String> = was
        .iter()
        .zip(&is)
        .enumerate()
        .filter(|(_, (was, is))| was != is)
        .map(|(bay, (_, is))| {
            let counted = there.rows.iter().find(|row| row.bay == bay).map_or(LevelKind::Tooth, |row| row.counted).words();
            let levels: Vec<String> = is.iter().map(u32::to_string).collect();
            format!("of bay {} to {} {}", bay + 1, if is.len() == 1 { counted.0 } else { counted.1 }, levels.join(", "))
        })
        .collect();
    format!("Move the shelves {}", told.join(", and "))
}

/// One way to change a case: by so many millimetres.
struct Way<'a> {
    words: Box<dyn Fn(u32) -> String + 'a>,
    /// The case after so many; none where there is none.
    after: Box<dyn Fn(u32) -> Option<Design> + 'a>,
    /// How many are within reason.
    most: u32,
    /// Whether its words tell the millimetres.
    is_counted: bool,
}

/// The narrowest bay that is added, mm.
const NARROWEST: f64 = 100.0;

fn set(design: &mut Design, path: &str, value: f64) -> Option<()> {
    decisions::set(design, path, &value.to_string()).ok()
}

/// A way to give the case more of one size.
fn more<'a>(design: &'a Design, path: &'static str, word: &'static str, most: u32) -> Way<'a> {
    let now = match path {
        "carcase.width" => design.carcase.width,
        "carcase.height" => design.carcase.height,
        _ => design.carcase.depth,
    }
    .to_mm();
    Way {
        words: Box::new(move |mm| format!("Make the case {mm} mm {word}")),
        after: Box::new(move |mm| {
            let mut design = design.clone();
            set(&mut design, path, now + f64::from(mm)).map(|()| design)
        }),
        most,
        is_counted: true,
    }
}

fn ways(design: &Design) -> Vec<Way<'_>> {
    let mut ways = vec![
        Way {
            words: Box::new(|_| "Lay the shelves anew, and add those that are wanted".to_owned()),
            after: Box::new(|_| Some(design.clone())),
            most: 1,
            is_counted: false,
        },
        more(design, "carcase.height", "higher", 960),
        more(design, "carcase.depth", "deeper", 400),
    ];
    match &design.interior {
        Opening::Leaf(_) => ways.push(more(design, "carcase.width", "wider", 800)),
        Opening::Split(split) => {
            let shares = split.bays.iter().filter(|bay| matches!(bay.size, BaySize::Share(_))).count();
            if shares > 1 {
                ways.push(more(design, "carcase.width", "wider", 800));
            }
            ways.extend(split.bays.iter().enumerate().filter_map(|(bay, of)| wider_bay(design, bay, of, shares)));
        }
    }
    ways.push(one_more_bay(design));
    ways
}

/// One bay wider, and the case with it.
fn wider_bay<'a>(design: &'a Design, bay: usize, of: &Bay, shares: usize) -> Option<Way<'a>> {
    let clear = match of.size {
        BaySize::Clear(clear) => Some(clear.to_mm()),
        // Only one that takes all that is left grows with the case.
        BaySize::Share(_) if shares == 1 => None,
        BaySize::Share(_) => return None,
    };
    Some(Way {
        words: Box::new(move |mm| format!("Make bay {} and the case {mm} mm wider", bay + 1)),
        after: Box::new(move |mm| {
            let mut design = design.clone();
            let width = design.carcase.width.to_mm() + f64::from(mm);
            set(&mut design, "carcase.width", width)?;
            if let Some(clear) = clear {
                set(&mut design, &format!("interior.bays.{}.size", bay + 1), clear + f64::from(mm))?;
            }
            Some(design)
        }),
        most: 600,
        is_counted: true,
    })
}

/// A bay added at the right; the others stay as wide as they are.
fn one_more_bay(design: &Design) -> Way<'_> {
    let divider = usual_divider(design);
    let wide = divider.width.to_mm();
    let clear = |mm: u32| NARROWEST + f64::from(mm);
    Way {
        words: Box::new(move |mm| {
            format!("Add a bay {} mm wide; the case is then {} mm wider", trimmed(clear(mm)), trimmed(clear(mm) + wide))
        }),
        after: Box::new(move |mm| {
            let mut design = design.clone();
            let width = design.carcase.width.to_mm() + wide + clear(mm);
            let plans = bay_plans(&design).ok()?;
            let as_wide = |plan: &crate::derive::BayPlan| BaySize::Clear(Length::mm((plan.clear() * 1e6).round() / 1e6));
            match &mut design.interior {
                Opening::Split(split) => {
                    for (bay, plan) in split.bays.iter_mut().zip(&plans) {
                        bay.size = as_wide(plan);
                    }
                    apply(&mut design, &Edit::AddBay);
                }
                Opening::Leaf(fitting) => {
                    let system = fitting.system();
                    let first = Bay { size: as_wide(plans.first()?), opening: Opening::Leaf(fitting.clone()) };
                    let added = Opening::Leaf(Fitting::of(system, Shelves { shelves: Vec::new() }));
                    let bays = vec![first, Bay { size: BaySize::Share(1.0), opening: added }];
                    design.interior = Opening::Split(Split { along: Along::Width, divider: divider.clone(), bays });
                }
            }
            set(&mut design, "carcase.width", width).map(|()| design)
        }),
        most: 1000,
        // What it adds besides is the bay's divider and its least width.
        is_counted: false,
    }
}

/// The fewest millimetres of a way after which everything has a place, how few they could be, and the case then.
fn least(way: &Way<'_>, deep: u32) -> Option<(Least, Design)> {
    let tried = |mm: u32| (way.after)(mm).and_then(|design| filled(&design, deep));
    // Twice as far until it does, then half way back: more of a case never holds less.
    let mut low = 0;
    let (mut most, mut best) = loop {
        let mm = (low * 2).clamp(1, way.most);
        if let Some(design) = tried(mm) {
            break (mm, design);
        }
        if mm == way.most {
            return None;
        }
        low = mm;
    };
    while most - low > 1 {
        let middle = low.midpoint(most);
        match tried(middle) {
            Some(design) => (most, best) = (middle, design),
            None => low = middle,
        }
    }
    let proven = proven_least(way, deep, most);
    // Not quite: a wider shelf bears less, and what is hard to find is missed here and found there. So it is looked for between, too.
    let looks = (0..LOOKS).map(|part| proven + (most - proven) * part / LOOKS).filter(|mm| (1..most).contains(mm));
    low = proven.saturating_sub(1);
    for mm in looks {
        if let Some(design) = tried(mm) {
            (most, best) = (mm, design);
            break;
        }
        low = mm;
    }
    while most - low > 1 {
        let middle = low.midpoint(most);
        match tried(middle) {
            Some(design) => (most, best) = (middle, design),
            None => low = middle,
        }
    }
    Some((Least { by: most, proven }, best))
}

/// In how many parts the way is looked through once more.
const LOOKS: u32 = 16;

/// The least of a way, up to `most`, that could give everything a place.
fn proven_least(way: &Way<'_>, deep: u32, most: u32) -> u32 {
    let could = |mm: u32| (way.after)(mm).is_some_and(|design| could_fill(&design, deep));
    let (mut low, mut high) = (0, most);
    while high - low > 1 {
        let middle = low.midpoint(high);
        if could(middle) { high = middle } else { low = middle }
    }
    high
}

/// Whether it is not proven that something has no place in a design, however its shelves are laid.
fn could_fill(design: &Design, deep: u32) -> bool {
    let Ok(model) = derive(design) else { return false };
    let case = Case::of(design, &model, ShelvesMay::Come);
    let piles = Piles { high: u32::MAX, deep };
    arranged(&case, ShelvesMay::Come, (piles, Effort::steps(STEPS_A_TRIAL))).is_ok_and(|could| could.most >= could.wanted)
}

/// The design with its shelves laid so that everything has a place, no more than so many behind each other; none where not everything gets
/// one.
fn filled(design: &Design, deep: u32) -> Option<Design> {
    // What was not found in so few steps may be found when the shelves are laid one way after the other.
    if !could_fill(design, deep) {
        return None;
    }
    let (design, there) = laid(design, ShelvesMay::Come, Effort::steps(STEPS_A_TRIAL)).ok()??;
    let no_deeper = there.rows.iter().flat_map(|row| &row.stacks).all(|stack| stack.pile.deep <= deep);
    (there.left.is_empty() && no_deeper).then_some(design)
}
