//! How much all shelves and floors of a case may be given together: what rails and dividers bear of them may be less than the shelves themselves do.

use super::carries::until_full;
use super::{Bending, Carries, Gives, Judging, Rest, UnderLoad, frame, shelves};
use crate::contents::{Pile, Stack};
use crate::design::{BoxKind, Design};
use crate::model::{Model, PartId};

/// What a case carries on all its shelves and floors together, each of them given the same share of what it carries by itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Whole {
    /// How much, kg.
    pub kg: f64,
    /// Which share of what each shelf carries by itself that is, 0 to 1; 1 where the shelves give out first.
    pub share: f64,
    /// What gives out first, and how; none where that is the shelves themselves.
    pub gives: Option<(PartId, Gives)>,
}

impl Whole {
    /// What is said of one shelf or floor: what it carries by itself, and no more than all carry together.
    pub fn on_one(all: Option<Whole>, kg: f64) -> f64 {
        all.map_or(kg, |all| kg.min(all.kg))
    }

    /// Whether so many kg on all shelves and floors are more than the case carries.
    pub fn is_less_than(&self, kg: f64) -> bool {
        kg > self.kg + 1e-6
    }
}

/// Shares of what each shelf carries, by which it is seen how fast everything grows.
const TRIED: [f64; 2] = [0.25, 0.5];

/// What a case carries in all; none where a shelf can't be judged. `each` is what its shelves and floors carry by themselves, [`super::carries`].
pub fn whole(design: &Design, model: &Model, each: &[Carries]) -> Option<Whole> {
    let of_room = |room: usize| each.iter().find(|one| one.room == room).map(|one| one.kg).filter(|kg| kg.is_finite());
    let kg: Vec<f64> = (0..model.rooms.len()).map(of_room).collect::<Option<_>>()?;
    let sum: f64 = kg.iter().sum();
    // As many boxes as it takes: what counts here is what is put there, not what the list has.
    let endless = Design { contents: vec![BoxKind::new("load", [1.0; 3], sum + 1.0, 1)], ..design.clone() };
    let [light, heavy] = TRIED.map(|share| {
        let stacks = model.rooms.iter().zip(&kg).map(|(room, kg)| {
            let space = room.space;
            vec![Stack { kind: 0, count: 1, pile: Pile::block(space.size()), kg: kg * share, block: space, on: None }]
        });
        let mut under = UnderLoad::default();
        let mut judging = Judging::new(&endless, model);
        shelves::load_with(&mut under, &mut judging, stacks.collect());
        frame::load(&mut under, &mut judging);
        under
    });
    let limits = &design.limits.sag;
    let sags = light.bending.iter().zip(&heavy.bending).filter(|(light, _)| light.room.is_none()).flat_map(|(light, heavy)| {
        let sag = |at: fn(&Bending) -> f64, limit: f64| Some([light, heavy].map(|one| at(one).abs() * limit / one.span()));
        let stress = |of: fn(&Bending) -> Option<f64>| of(light).zip(of(heavy)).map(|(light, heavy)| [light, heavy]);
        [
            (light.part, Gives::AtOnce, sag(Bending::at_once, limits.working_at_once)),
            (light.part, Gives::AfterYears, sag(Bending::after, limits.working_after_creep)),
            (light.part, Gives::Stress, stress(|one| one.bending().share())),
            (light.part, Gives::Stress, stress(|one| one.shear().share())),
        ]
    });
    let pressed = light.rests.iter().zip(&heavy.rests).filter(|(light, _)| light.room.is_none()).flat_map(|(light, heavy)| {
        let stress = |of: fn(&Rest) -> Option<f64>| of(light).zip(of(heavy)).map(|(light, heavy)| [light, heavy]);
        [(light.part, Gives::Stress, stress(|one| one.bearing.share())), (light.part, Gives::Stress, stress(|one| one.shear.share()))]
    });
    let all = sags.chain(pressed).filter_map(|(part, by, shares)| Some((until_full(shares?, TRIED), part, by)));
    let least = all.min_by(|a, b| a.0.total_cmp(&b.0)).filter(|(share, ..)| *share < 1.0);
    Some(match least {
        Some((share, part, by)) => Whole { kg: sum * share, share, gives: Some((part, by)) },
        None => Whole { kg: sum, share: 1.0, gives: None },
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The case bears what it is said to bear and not a tenth more: its rails, with every shelf at that share, reach just what they are made for.
    #[test]
    fn what_a_case_carries_in_all_takes_its_rails_just_to_what_they_are_made_for() {
        let design = crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
        let model = crate::derive(&design).expect("the demo");
        let each = super::super::carries(&design, &model);
        let all = whole(&design, &model, &each).expect("it is judged");
        let alone: f64 = each.iter().map(|one| one.kg).sum();
        assert!(all.kg < alone && all.share < 1.0, "rails of 24 × 110 do not bear {alone} kg: {all:?}");
        assert!((all.kg / alone - all.share).abs() < 1e-9);
        // As many boxes of that weight as there are rooms, each filling its room: the check finds the rails just as loaded.
        let worst = |share: f64| {
            let stacks: Vec<Vec<Stack>> = model
                .rooms
                .iter()
                .enumerate()
                .map(|(room, of)| {
                    let kg = each.iter().find(|one| one.room == room).expect("judged").kg * share;
                    vec![Stack { kind: 0, count: 1, pile: Pile::block(of.space.size()), kg, block: of.space, on: None }]
                })
                .collect();
            let endless = Design { contents: vec![BoxKind::new("load", [1.0; 3], 1e6, 1)], ..design.clone() };
            let (mut under, mut judging) = (UnderLoad::default(), Judging::new(&endless, &model));
            shelves::load_with(&mut under, &mut judging, stacks);
            frame::load(&mut under, &mut judging);
            let (at_once, after) = (design.limits.sag.working_at_once, design.limits.sag.working_after_creep);
            let of = |one: &Bending| {
                let sag = (one.at_once().abs() * at_once / one.span()).max(one.after().abs() * after / one.span());
                [one.bending().share(), one.shear().share()].into_iter().flatten().fold(sag, f64::max)
            };
            under.bending.iter().filter(|one| one.room.is_none()).map(of).fold(0.0, f64::max)
        };
        assert!((worst(all.share) - 1.0).abs() < 1e-3, "{}", worst(all.share));
        assert!(worst(all.share * 1.1) > 1.0);
    }
}
