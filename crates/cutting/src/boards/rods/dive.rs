//! Whole numbers from the programme: what it cuts whole is cut, the rest is priced anew, and so on to the end.

use super::super::dice::Dice;
use super::super::effort::Meter;
use super::pack::{self, Outcome};
use super::prices::{self, Pool, Priced, Question};
use super::shares::shares;
use super::task::{Answer, Pattern, Rods};

/// Pieces left at most for the exact search to be tried.
const MOST_PACKED: u32 = 60;

/// Steps of that search.
const PACK_STEPS: u64 = 20_000;

/// Ways on that are tried at most from one step of a dive.
const MOST_WAYS: usize = 3;

/// Ways that may come to nothing in one dive.
const MOST_FAILED: u32 = 4;

/// A share from which on a pattern is cut along with the one that has the greatest.
const NEARLY_WHOLE: f64 = 0.8;

/// A dive as far as it has come.
struct Level {
    rest: Question,
    answer: Answer,
    shares: Vec<(Pattern, f64)>,
    price: Vec<f64>,
    /// How many ways on from here were tried.
    tried: usize,
}

/// Looks for an answer to the question by fixing patterns step by step, beginning from the programme as it was solved. Where that
/// comes to nothing it goes back a step and tries another pattern, so often at most. With dice, which pattern comes first is left
/// to chance among those with great shares.
pub(super) fn dive(
    rods: &Rods,
    question: &Question,
    priced: &Priced,
    pool: &mut Pool,
    mut dice: Option<&mut Dice>,
    meter: &mut Meter,
) -> Option<Answer> {
    let first = shares(rods, question, pool, priced)?;
    let mut levels = vec![Level { rest: question.clone(), answer: Answer::new(), shares: first, price: priced.price.clone(), tried: 0 }];
    let mut failed = 0;
    while let Some(level) = levels.last_mut() {
        if level.tried >= MOST_WAYS.min(level.shares.len().max(1)) {
            levels.pop();
            continue;
        }
        let chosen = chosen(&level.shares, level.tried, dice.as_deref_mut());
        level.tried += 1;
        let (mut rest, mut answer) = (level.rest.clone(), level.answer.clone());
        cut(rods, chosen, &mut rest, &mut answer);
        if rest.wanted.iter().all(|&count| count == 0) {
            return Some(answer);
        }
        if let Some(end) = packed(rods, &rest, meter) {
            answer.extend(end);
            return Some(answer);
        }
        let mut known = pool.clipped(rods, &level.price, &rest.wanted);
        let before = known.patterns.len();
        let priced = prices::settle(rods, &rest, &mut known, meter)?;
        for pattern in &known.patterns[before..] {
            pool.add(pattern.clone());
        }
        if !meter.goes_on() {
            return None;
        }
        let shares = if priced.least_cost > rest.dearest { None } else { shares(rods, &rest, &known, &priced) };
        match shares {
            Some(shares) if !shares.is_empty() => levels.push(Level { rest, answer, shares, price: priced.price, tried: 0 }),
            _ => {
                failed += 1;
                if failed > MOST_FAILED {
                    return None;
                }
            }
        }
    }
    None
}

/// Cuts patterns as often as there is need and money for them.
fn cut(rods: &Rods, chosen: Vec<(Pattern, u32)>, rest: &mut Question, answer: &mut Answer) {
    for (pattern, times) in chosen {
        let times = times.min(pattern.times(&rest.wanted)).min(rest.most[pattern.bar]);
        let cost = rods.bars[pattern.bar].cost * u64::from(times);
        if times == 0 || cost > rest.dearest {
            continue;
        }
        pattern.take(times, &mut rest.wanted);
        rest.dearest -= cost;
        rest.most[pattern.bar] -= times;
        rest.least[pattern.bar] = rest.least[pattern.bar].saturating_sub(times);
        answer.push((pattern, times));
    }
}

/// Which patterns are cut now, and how often: all that are cut whole; where there is none, the greatest share. Where some ways were
/// tried, one pattern alone: the next.
fn chosen(shares: &[(Pattern, f64)], tried: usize, dice: Option<&mut Dice>) -> Vec<(Pattern, u32)> {
    if tried > 0 {
        return shares.get(tried).map(|(pattern, _)| (pattern.clone(), 1)).into_iter().collect();
    }
    let whole = |share: f64| (share + 1e-6).floor() as u32;
    let mut chosen: Vec<(Pattern, u32)> =
        shares.iter().filter(|(_, share)| whole(*share) > 0).map(|(pattern, share)| (pattern.clone(), whole(*share))).collect();
    if chosen.is_empty() {
        let first = dice.map_or(0, |dice| {
            let weights = shares.iter().map(|(_, share)| share * (0.5 + dice.share()));
            weights.enumerate().max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(number, _)| number)
        });
        chosen.extend(shares.get(first).map(|(pattern, _)| (pattern.clone(), 1)));
        let others = shares.iter().enumerate().filter(|(number, (_, share))| *number != first && *share > NEARLY_WHOLE);
        chosen.extend(others.map(|(_, (pattern, _))| (pattern.clone(), 1)));
    }
    chosen
}

/// The rest by trying everything, where it is small and it is settled which bars there are for it.
pub(super) fn packed(rods: &Rods, rest: &Question, meter: &mut Meter) -> Option<Answer> {
    if rest.wanted.iter().sum::<u32>() > MOST_PACKED {
        return None;
    }
    let bars = settled(rods, rest)?;
    pack(rods, rest, &bars, PACK_STEPS, meter).unwrap_or_default()
}

/// The bars that there are, if there is only one choice of them worth trying.
pub(super) fn settled(rods: &Rods, rest: &Question) -> Option<Vec<usize>> {
    let count: u32 = rest.wanted.iter().sum();
    let numbers: Vec<u32> = if rods.bars.len() == 1 {
        let affordable = rest.dearest.checked_div(rods.bars[0].cost).unwrap_or(u64::MAX);
        vec![u64::from(rest.most[0].min(count)).min(affordable) as u32]
    } else {
        if rest.least != rest.most {
            return None;
        }
        rest.most.clone()
    };
    let mut bars: Vec<usize> = (0..numbers.len()).flat_map(|bar| std::iter::repeat_n(bar, numbers[bar] as usize)).collect();
    bars.sort_by_key(|&bar| rods.bars[bar].room);
    Some(bars)
}

/// Packs all that is wanted into these bars: an answer, `None` if there is none, or `Err` if the steps did not suffice.
pub(super) fn pack(rods: &Rods, rest: &Question, bars: &[usize], steps: u64, meter: &mut Meter) -> Result<Option<Answer>, ()> {
    let sizes: Vec<usize> = (0..rods.sizes.len()).flat_map(|size| std::iter::repeat_n(size, rest.wanted[size] as usize)).collect();
    let items: Vec<i64> = sizes.iter().map(|&size| rods.sizes[size]).collect();
    let rooms: Vec<i64> = bars.iter().map(|&bar| rods.bars[bar].room).collect();
    match pack::pack(&items, &rooms, steps, meter) {
        Outcome::Impossible => Ok(None),
        Outcome::GaveUp => Err(()),
        Outcome::Found(places) => {
            let mut filled: Vec<Pattern> = bars.iter().map(|&bar| Pattern { bar, amounts: Vec::new() }).collect();
            for (&size, place) in sizes.iter().zip(places) {
                let amounts = &mut filled[place].amounts;
                match amounts.last_mut() {
                    Some((last, amount)) if *last == size => *amount += 1,
                    _ => amounts.push((size, 1)),
                }
            }
            filled.retain(|pattern| !pattern.amounts.is_empty());
            Ok(Some(filled.into_iter().map(|pattern| (pattern, 1)).collect()))
        }
    }
}
