//! How much a shelf may be given, evenly spread: what its label says.

use super::{Bending, RestWay, Stress, UnderLoad};
use crate::contents::{Pile, Stack};
use crate::design::Design;
use crate::length::trimmed;
use crate::model::{Model, PartId};

/// What a shelf or floor carries, evenly spread, before anything passes what it is made for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carries {
    /// The room whose boxes it holds, by its place in [`Model::rooms`].
    pub room: usize,
    /// How much, kg.
    pub kg: f64,
    /// What gives out first.
    pub part: PartId,
    /// How it gives out.
    pub by: Gives,
}

/// How a part passes what it is made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Gives {
    /// It sags further at once than it is made for.
    AtOnce,
    /// It sags further after years than it is made for.
    AfterYears,
    /// It is stressed beyond what may be asked of it for years.
    Stress,
}

impl Gives {
    /// What happens, to follow the name of the part.
    pub fn words(self) -> &'static str {
        match self {
            Gives::AtOnce => "sags at once as far as it is made for",
            Gives::AfterYears => "sags in years as far as it is made for",
            Gives::Stress => "is stressed as far as may be asked of it for years",
        }
    }
}

/// What a label says of so many kg: rounded down, to fives where that loses little.
pub fn on_a_label(kg: f64) -> String {
    let step = if kg >= 20.0 { 5.0 } else { 1.0 };
    trimmed((kg / step + 1e-9).floor() * step)
}

/// Two loads, kg, by which it is seen how fast everything grows: all of it grows in step with the load.
const TRIED: [f64; 2] = [10.0, 20.0];

/// For each shelf and floor of a model what it carries; none is told of one that can't be judged.
pub fn carries(design: &Design, model: &Model) -> Vec<Carries> {
    let [light, heavy] = TRIED.map(|kg| UnderLoad::with(design, model, model.rooms.iter().map(|room| spread(room.space, kg)).collect()));
    let limits = &design.limits.sag;
    let sagging = light.bending.iter().zip(&heavy.bending).flat_map(|(light, heavy)| {
        let share = |at: fn(&Bending) -> f64, limit: f64| [light, heavy].map(|one| at(one).abs() * limit / one.span());
        let stress = |of: fn(&Bending) -> Option<f64>| of(light).zip(of(heavy)).map(|(light, heavy)| [light, heavy]);
        [
            (light.room, light.part, Gives::AtOnce, Some(share(Bending::at_once, limits.working_at_once))),
            (light.room, light.part, Gives::AfterYears, Some(share(Bending::after, limits.working_after_creep))),
            (light.room, light.part, Gives::Stress, stress(|one| one.bending().share())),
            (light.room, light.part, Gives::Stress, stress(|one| one.shear().share())),
        ]
    });
    let pressed = light.rests.iter().zip(&heavy.rests).flat_map(|(light, heavy)| {
        let both = light.stresses().into_iter().zip(heavy.stresses());
        let room = light.room;
        let stress = move |((_, part, light), (.., heavy)): ((RestWay, PartId, Stress), (RestWay, PartId, Stress))| {
            (room, part, Gives::Stress, light.share().zip(heavy.share()).map(|(light, heavy)| [light, heavy]))
        };
        both.map(stress).collect::<Vec<_>>()
    });
    let all: Vec<Carries> = sagging
        .chain(pressed)
        .filter_map(|(room, part, by, shares)| Some(Carries { room: room?, kg: until_full(shares?, TRIED), part, by }))
        .collect();
    (0..model.rooms.len())
        .filter_map(|room| all.iter().filter(|one| one.room == room).min_by(|a, b| a.kg.total_cmp(&b.kg)).copied())
        .collect()
}

/// The load at which a share that grows evenly is 1, by what it is at two: nothing where its own weight is already too much.
pub(super) fn until_full([light, heavy]: [f64; 2], tried: [f64; 2]) -> f64 {
    let for_each = (heavy - light) / (tried[1] - tried[0]);
    if for_each <= 0.0 {
        return f64::INFINITY;
    }
    (tried[0] + (1.0 - light) / for_each).max(0.0)
}

/// So much, spread over all of a room's floor.
fn spread(space: crate::place::Block, kg: f64) -> Vec<Stack> {
    let pile = Pile::block(space.size());
    vec![Stack { kind: 0, count: 1, pile, kg, block: space, on: None }]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_never_says_more_than_a_shelf_carries() {
        for (kg, told) in [(4.99, "4"), (19.6, "19"), (20.0, "20"), (34.9, "30"), (35.0, "35"), (0.4, "0")] {
            assert_eq!(on_a_label(kg), told, "{kg}");
        }
    }

    #[test]
    fn what_a_shelf_carries_takes_it_just_to_what_it_is_made_for() {
        let design = crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
        let model = crate::derive(&design).expect("the demo");
        let found = carries(&design, &model);
        assert_eq!(found.len(), model.rooms.len(), "every shelf and floor is judged");
        for one in &found {
            let mut stacks = vec![Vec::new(); model.rooms.len()];
            stacks[one.room] = spread(model.rooms[one.room].space, one.kg);
            let under = UnderLoad::with(&design, &model, stacks);
            let limits = &design.limits.sag;
            let shares: Vec<f64> = under
                .bending
                .iter()
                .filter(|bending| bending.room == Some(one.room))
                .flat_map(|bending| {
                    let sag = |sag: f64, limit: f64| sag.abs() * limit / bending.span();
                    let stresses = [bending.bending().share(), bending.shear().share()].into_iter().flatten();
                    let sags = [sag(bending.at_once(), limits.working_at_once), sag(bending.after(), limits.working_after_creep)];
                    sags.into_iter().chain(stresses).collect::<Vec<_>>()
                })
                .chain(
                    under
                        .rests
                        .iter()
                        .filter(|rest| rest.room == Some(one.room))
                        .flat_map(|rest| rest.stresses().into_iter().filter_map(|(.., stress)| stress.share())),
                )
                .collect();
            let most = shares.iter().copied().fold(0.0, f64::max);
            assert!((most - 1.0).abs() < 1e-3, "{}: {} kg take it to {most}", model.rooms[one.room].name, one.kg);
        }
    }
}
