//! Which shelf takes a thing, at which tooth it would have to lie, and what is lacking where it does not.

use super::room::{in_use, past_doors};
use super::{Fit, Pile, fill};
use crate::design::{BoxKind, Design};
use crate::length::trimmed_to;
use crate::loads::{Carries, carries};
use crate::model::{LevelKind, Model, Room};

/// How a thing goes into the room over one shelf or floor, as the shelves lie now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InRoom {
    /// Which room, by its place in [`Model::rooms`].
    pub room: usize,
    /// How it stands and what is lacking, the room taken as small as the seasons make it.
    pub fit: Fit,
    /// Whether it would fit as built, and only the seasons take the room.
    pub when_built: bool,
    /// How many of its kind stand there when nothing else does.
    pub many: u32,
    /// What the shelf carries, kg, where one of the kind is more.
    pub too_heavy: Option<f64>,
    /// Whether it is too high up for a thing so heavy.
    pub too_high: bool,
}

impl InRoom {
    /// Why the thing may not stand there, "lacks 31 mm of height"; how it lies where it may, nothing where that is as listed.
    pub fn words(&self) -> String {
        if let Some(carries) = self.too_heavy {
            return format!("carries {} kg and no more", trimmed_to(carries, 0));
        }
        if self.too_high {
            return "too high up for a thing so heavy".to_owned();
        }
        match (self.fit.fits(), self.when_built) {
            (true, _) => self.fit.words(),
            (false, false) => format!("lacks {}", self.fit.words()),
            (false, true) => format!("lacks {} in some season", self.fit.words()),
        }
    }

    /// Whether the thing may stand there.
    pub fn takes(&self) -> bool {
        self.fit.fits() && self.too_heavy.is_none() && !self.too_high
    }
}

/// How a thing goes into a bay whose shelves may move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InBay {
    /// Which bay, from 0.
    pub bay: usize,
    /// How it stands and what is lacking in the bay without any shelf.
    pub fit: Fit,
    /// How many teeth lie from its shelf to the next one above, at the least.
    pub teeth: Option<u32>,
    /// What its levels are counted by; none where its shelves don't move.
    pub counted: Option<LevelKind>,
    /// The lowest tooth of the first shelf, for a thing that stands on the floor below it.
    pub over_floor: Option<u32>,
}

/// The shelves and floors of a case as things are put on them: as small as the seasons make them, with what each carries.
#[derive(Clone, Debug)]
pub struct Shelves<'m> {
    design: &'m Design,
    model: &'m Model,
    tight: Vec<Room>,
    carries: Vec<Carries>,
}

impl<'m> Shelves<'m> {
    /// Those of a case; worked out once, so that many things can be asked about.
    pub fn of(design: &'m Design, model: &'m Model) -> Shelves<'m> {
        Shelves { design, model, tight: in_use(design, model), carries: carries(design, model) }
    }

    /// How a thing goes into every room, in the order of the rooms.
    pub fn take(&self, kind: &BoxKind) -> Vec<InRoom> {
        self.model.rooms.iter().enumerate().map(|(index, room)| self.takes(kind, index, room)).collect()
    }

    fn takes(&self, kind: &BoxKind, index: usize, room: &Room) -> InRoom {
        let hand = &self.design.hand_room;
        let tight = self.tight.get(index).map_or(room.space, |room| room.space);
        let space = tight.size();
        let fit = Fit::of(space, kind, hand);
        let when_built = !fit.fits() && Fit::of(past_doors(self.design, room.space).size(), kind, hand).fits();
        let bears = self.carries.iter().find(|one| one.room == index).map(|one| one.kg);
        let by_weight = bears.filter(|_| kind.mass > 0.0).map_or(u32::MAX, |bears| (bears / kind.mass + 1e-9).floor() as u32);
        InRoom {
            room: index,
            fit,
            when_built,
            many: fill::most_of(kind, hand, tight).min(by_weight),
            too_heavy: bears.filter(|bears| fit.fits() && kind.mass > *bears),
            too_high: fit.fits() && room.space.min.y > Pile::one(kind, hand, fit.stance).no_higher_than(kind, hand),
        }
    }
}

/// How a thing goes into every bay of a case, wherever its shelves lie.
pub fn in_bays(design: &Design, model: &Model, kind: &BoxKind) -> Vec<InBay> {
    let one = |(index, bay): (usize, &crate::model::Bay)| {
        let fit = Fit::of(past_doors(design, bay.space).size(), kind, &design.hand_room);
        let clear = Pile::one(kind, &design.hand_room, fit.stance).needs().y;
        let teeth = bay.teeth.filter(|_| fit.fits());
        InBay {
            bay: index,
            fit,
            teeth: teeth.map(|teeth| teeth.steps(clear)),
            counted: teeth.map(|teeth| teeth.kind),
            over_floor: teeth.filter(|_| bay.has_floor).map(|teeth| teeth.over(bay.space.min.y, clear)),
        }
    };
    model.bays.iter().enumerate().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Lies;

    fn demo() -> (Design, Model) {
        let design = crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
        let model = crate::derive(&design).expect("the demo");
        (design, model)
    }

    #[test]
    fn a_shelf_moved_as_a_bay_says_takes_the_thing() {
        let (mut design, model) = demo();
        let kind = BoxKind::new("tall box", [300.0, 300.0, 500.0], 5.0, 1);
        assert!(Shelves::of(&design, &model).take(&kind).iter().all(|room| !room.fit.fits()), "no room is so high");
        let bay = in_bays(&design, &model, &kind)[0];
        let (teeth, over_floor) = (bay.teeth.expect("it fits the bay"), bay.over_floor.expect("there is a floor"));
        // One shelf, as low as it says, and the next as far above it; a tooth less and neither takes it.
        for (first, second, takes) in
            [(over_floor, over_floor + teeth, [true, true]), (over_floor - 1, over_floor + teeth - 2, [false, false])]
        {
            crate::design::decisions::set(&mut design, "interior.bays.1.opening.shelves.1", &first.to_string()).expect("a tooth");
            crate::design::decisions::set(&mut design, "interior.bays.1.opening.shelves.2", &second.to_string()).expect("a tooth");
            crate::design::decisions::set(&mut design, "interior.bays.1.opening.shelves.3", "40").expect("a tooth");
            let model = crate::derive(&design).expect("a case");
            let found: Vec<bool> = Shelves::of(&design, &model).take(&kind).iter().take(2).map(|room| room.fit.fits()).collect();
            assert_eq!(found, takes, "shelves on {first} and {second}");
        }
    }

    #[test]
    fn a_room_that_only_the_seasons_narrow_is_told_so() {
        let (design, model) = demo();
        let middle = &model.rooms[model.rooms.iter().position(|room| room.bay == 1).expect("a room")];
        let width = middle.space.size().x - 2.0 * design.hand_room.beside.to_mm();
        let mut kind = BoxKind::new("close fit", [width, 300.0, 100.0], 5.0, 1);
        let of_middle =
            |kind: &BoxKind| Shelves::of(&design, &model).take(kind).into_iter().find(|room| model.rooms[room.room].name == middle.name);
        let close = of_middle(&kind).expect("told");
        assert!(!close.fit.fits() && close.when_built && close.fit.lack.width < 1.0, "{close:?}");
        kind.width = crate::Length::mm(width - 1.0);
        assert!(of_middle(&kind).is_some_and(|room| room.fit.fits() && !room.when_built && room.many > 0));
        kind.lies = Lies::AnyWay;
        assert!(of_middle(&kind).is_some_and(|room| room.fit.fits()));
    }
}
