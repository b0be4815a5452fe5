//! Whether a thing goes into a room, which way up, and what is lacking where it does not.

use glam::DVec3;

use crate::design::{Bears, BoxKind, HandRoom, Lies, Taken};
use crate::length::trimmed_to;
use crate::model::{Model, Room};

/// Rounding of sums of lengths, mm: a room that is short by less takes the thing.
const HAIR: f64 = 1e-6;

/// How a thing stands or lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stance {
    /// As it is listed.
    AsListed,
    /// A quarter turn round, a side in front.
    Turned,
    /// Laid on a side, its front in front.
    OnItsSide,
    /// Laid on its back, its front up.
    OnItsBack,
    /// Laid on a side, and a quarter turn round.
    OnItsSideTurned,
    /// Laid on its back, and a quarter turn round.
    OnItsBackTurned,
}

impl Stance {
    /// How it lies, to follow its name; nothing where it stands as listed.
    pub fn words(self) -> &'static str {
        match self {
            Stance::AsListed => "",
            Stance::Turned => "turned round",
            Stance::OnItsSide => "on its side",
            Stance::OnItsBack => "on its back",
            Stance::OnItsSideTurned => "on its side, turned round",
            Stance::OnItsBackTurned => "on its back, turned round",
        }
    }

    /// Those that a thing may take, the one it is listed in first.
    pub fn of(lies: Lies) -> &'static [Stance] {
        use Stance::{AsListed, OnItsBack, OnItsBackTurned, OnItsSide, OnItsSideTurned, Turned};
        match lies {
            Lies::AsItStands => &[AsListed],
            Lies::Turned => &[AsListed, Turned],
            Lies::OnItsSide => &[AsListed, OnItsSide],
            Lies::OnItsBack => &[AsListed, OnItsBack],
            Lies::AnyWay => &[AsListed, Turned, OnItsSide, OnItsBack, OnItsSideTurned, OnItsBackTurned],
        }
    }

    /// Width, height and depth of a thing that stands so, mm.
    pub fn size(self, kind: &BoxKind) -> DVec3 {
        let (w, h, d) = (kind.width.to_mm(), kind.height.to_mm(), kind.depth.to_mm());
        match self {
            Stance::AsListed => DVec3::new(w, h, d),
            Stance::Turned => DVec3::new(d, h, w),
            Stance::OnItsSide => DVec3::new(h, w, d),
            Stance::OnItsBack => DVec3::new(w, d, h),
            Stance::OnItsSideTurned => DVec3::new(d, w, h),
            Stance::OnItsBackTurned => DVec3::new(h, d, w),
        }
    }

    /// How far one sinks into the one below, mm: only things on their own feet nest.
    pub(super) fn nests(self, kind: &BoxKind) -> f64 {
        match self {
            Stance::AsListed | Stance::Turned => kind.nests.to_mm().clamp(0.0, kind.height.to_mm()),
            Stance::OnItsSide | Stance::OnItsBack | Stance::OnItsSideTurned | Stance::OnItsBackTurned => 0.0,
        }
    }
}

/// So many of a kind on each other and behind each other: what a row is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pile {
    /// How each stands.
    pub stance: Stance,
    /// On each other.
    pub high: u32,
    /// Behind each other.
    pub deep: u32,
    /// What they fill, mm: width, height, depth.
    pub size: DVec3,
    /// What must stay free over them, mm.
    pub over: f64,
    /// What must stay free behind them, mm.
    pub behind: f64,
    /// What must stay free between them and what stands beside them, mm.
    pub beside: f64,
}

impl Pile {
    /// One of a kind.
    pub fn one(kind: &BoxKind, hand: &HandRoom, stance: Stance) -> Pile {
        Pile::of(kind, hand, stance, 1, 1)
    }

    /// A load that fills a space, and is no box.
    pub(crate) fn block(size: DVec3) -> Pile {
        Pile { stance: Stance::AsListed, high: 1, deep: 1, size, over: 0.0, behind: 0.0, beside: 0.0 }
    }

    /// `high` on each other, `deep` behind each other.
    pub fn of(kind: &BoxKind, hand: &HandRoom, stance: Stance, high: u32, deep: u32) -> Pile {
        let (one, nests) = (stance.size(kind), stance.nests(kind));
        let over = match kind.taken {
            Taken::ByTheFront => hand.over.to_mm(),
            Taken::Lifted => hand.lift.to_mm() + nests,
        };
        let height = f64::from(high) * one.y - f64::from(high.saturating_sub(1)) * nests;
        let size = DVec3::new(one.x, height, one.z * f64::from(deep));
        Pile { stance, high, deep, size, over, behind: hand.behind.to_mm(), beside: hand.beside.to_mm() }
    }

    /// The largest that a free space (width, height, depth, mm) takes, none where not even one of the kind goes in.
    pub fn largest(kind: &BoxKind, hand: &HandRoom, stance: Stance, space: DVec3, high: HowHigh) -> Option<Pile> {
        let one = Pile::one(kind, hand, stance);
        if !one.lack(space).fits() {
            return None;
        }
        let more = |room: f64, each: f64| if each > HAIR { ((room + HAIR) / each).floor().min(f64::from(u32::MAX / 2)) as u32 } else { 0 };
        let above = match (kind.bears, high) {
            (Bears::Others | Bears::Any, HowHigh::AsTheRoom) => more(space.y - one.needs().y, one.size.y - stance.nests(kind)),
            (Bears::One, HowHigh::AsTheRoom) => more(space.y - one.needs().y, one.size.y - stance.nests(kind)).min(1),
            (Bears::Nothing, _) | (_, HowHigh::One) => 0,
        };
        let behind = more(space.z - one.needs().z, one.size.z);
        Some(Pile::of(kind, hand, stance, 1 + above, 1 + behind))
    }

    /// How many it is.
    pub fn count(&self) -> u32 {
        self.high.saturating_mul(self.deep)
    }

    /// The free space that it asks for with nothing beside it, mm: width, height, depth.
    pub fn needs(&self) -> DVec3 {
        self.size + DVec3::new(2.0 * self.beside, self.over, self.behind)
    }

    /// The highest level on which it may stand, mm above the floor: a heavy thing is lifted from where it stands itself, on others too. No
    /// end to it for things that are not heavy.
    pub fn no_higher_than(&self, kind: &BoxKind, hand: &HandRoom) -> f64 {
        let highest = self.size.y - self.stance.size(kind).y;
        if kind.mass > hand.heavy { hand.heavy_up_to.to_mm() - highest } else { f64::INFINITY }
    }

    /// What a free space is short of.
    pub fn lack(&self, space: DVec3) -> Lack {
        let lack = self.needs() - space;
        Lack { width: lack.x, depth: lack.z, height: lack.y }
    }
}

/// How many may stand on each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HowHigh {
    /// As many as the room lets them, where their kind may bear others.
    AsTheRoom,
    /// Each stands on the shelf itself.
    One,
}

/// By how much a room is too small for a thing, mm; zero or less where it is large enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lack {
    /// In width.
    pub width: f64,
    /// In depth.
    pub depth: f64,
    /// In height.
    pub height: f64,
}

impl Lack {
    /// Whether nothing is lacking.
    pub fn fits(self) -> bool {
        self.width <= HAIR && self.depth <= HAIR && self.height <= HAIR
    }

    /// What is lacking, each direction as its name and its amount, mm.
    pub fn amounts(self) -> impl Iterator<Item = (&'static str, f64)> {
        [("width", self.width), ("depth", self.depth), ("height", self.height)].into_iter().filter(|(_, by)| *by > HAIR)
    }

    /// All directions added up, mm.
    pub(super) fn total(self) -> f64 {
        self.width.max(0.0) + self.depth.max(0.0) + self.height.max(0.0)
    }
}

/// How a thing goes into a space, or comes nearest to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// The way in which it stands.
    pub stance: Stance,
    /// What is lacking, below nothing where there is more than it asks for.
    pub lack: Lack,
}

impl Fit {
    /// The best way for a thing to stand in a free space (width, height, depth, mm): the one it is listed in where that fits, else the
    /// first that does, else the one that lacks least.
    pub fn of(space: DVec3, kind: &BoxKind, hand: &HandRoom) -> Fit {
        let ways = || Stance::of(kind.lies).iter().map(|&stance| Fit { stance, lack: Pile::one(kind, hand, stance).lack(space) });
        let nearest = || ways().min_by(|a, b| a.lack.total().total_cmp(&b.lack.total()));
        let listed = Stance::AsListed;
        ways().find(Fit::fits).or_else(nearest).unwrap_or(Fit { stance: listed, lack: Pile::one(kind, hand, listed).lack(space) })
    }

    /// Whether it goes in.
    pub fn fits(&self) -> bool {
        self.lack.fits()
    }

    /// What is lacking, and how it would lie: "31 mm of height, turned round"; only how it lies where nothing is lacking.
    pub fn words(&self) -> String {
        let amounts: Vec<String> =
            self.lack.amounts().map(|(word, by)| format!("{} mm of {word}", trimmed_to((by * 10.0 - 1e-6).ceil() / 10.0, 1))).collect();
        let lying = Some(self.stance.words()).filter(|words| !words.is_empty()).map(str::to_owned);
        Some(amounts.join(" and ")).filter(|words| !words.is_empty()).into_iter().chain(lying).collect::<Vec<_>>().join(", ")
    }
}

/// How a thing goes into a room of the case.
pub fn fit(room: &Room, kind: &BoxKind, hand: &HandRoom) -> Fit {
    Fit::of(room.space.size(), kind, hand)
}

/// The rooms of the model that take a thing.
pub fn rooms_for<'m>(model: &'m Model, kind: &BoxKind, hand: &HandRoom) -> Vec<&'m Room> {
    model.rooms.iter().filter(|room| fit(room, kind, hand).fits()).collect()
}

/// The room that takes a thing, or comes nearest to it, and how.
pub fn best_room<'m>(model: &'m Model, kind: &BoxKind, hand: &HandRoom) -> Option<(&'m Room, Fit)> {
    model.rooms.iter().map(|room| (room, fit(room, kind, hand))).min_by(|a, b| a.1.lack.total().total_cmp(&b.1.lack.total()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;

    fn close(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-9
    }

    /// Common practice, no source: four stacking containers of 594 × 396 × 280 outside that nest by 15, two columns two high, three gaps of
    /// 8, 14 of room behind, the nest and 20 to lift.
    #[test]
    fn stacking_containers_ask_for_the_bay_that_holds_them() {
        let hand = HandRoom { beside: Length::mm(8.0), behind: Length::mm(14.0), ..HandRoom::default() };
        let mut kind = BoxKind::new("container", [594.0, 396.0, 280.0], 20.0, 4);
        (kind.nests, kind.taken) = (Length::mm(15.0), Taken::Lifted);
        let pile = Pile::of(&kind, &hand, Stance::AsListed, 2, 1);
        assert!(close(pile.size.y, 545.0) && close(pile.needs().y, 580.0) && close(pile.needs().z, 410.0), "{pile:?}");
        // Beside each of two, and at the far end.
        assert!(close(pile.needs().x + pile.size.x + pile.beside, 1212.0));
        let bay = DVec3::new(1212.0, 580.0, 410.0);
        assert_eq!(Pile::largest(&kind, &hand, Stance::AsListed, bay, HowHigh::AsTheRoom), Some(pile));
        let lower = Pile::largest(&kind, &hand, Stance::AsListed, bay - DVec3::Y, HowHigh::AsTheRoom).expect("one goes in");
        assert_eq!(lower.high, 1, "a millimetre less takes one only");
    }

    #[test]
    fn what_is_lacking_is_told_by_direction() {
        let hand = HandRoom::default();
        let kind = BoxKind::new("carton", [330.0, 406.0, 254.0], 16.0, 1);
        let fit = Fit::of(DVec3::new(300.0, 270.0, 500.0), &kind, &hand);
        // 330 and 2 on either side, 254 and 25 over it.
        assert_eq!(fit.lack.amounts().collect::<Vec<_>>(), [("width", 34.0), ("height", 9.0)]);
        assert!(!fit.fits());
    }

    #[test]
    fn a_thing_is_turned_only_where_it_must_and_may_be() {
        let hand = HandRoom::default();
        let mut kind = BoxKind::new("flat box", [440.0, 320.0, 80.0], 7.5, 1);
        let narrow = DVec3::new(330.0, 200.0, 460.0);
        assert!(!Fit::of(narrow, &kind, &hand).fits());
        kind.lies = Lies::Turned;
        let turned = Fit::of(narrow, &kind, &hand);
        assert!(turned.fits() && turned.stance == Stance::Turned, "{turned:?}");
        assert_eq!(Fit::of(DVec3::new(500.0, 200.0, 460.0), &kind, &hand).stance, Stance::AsListed);
        kind.lies = Lies::AnyWay;
        // Edgewise, 80 wide: only a thing that may lie any way goes there.
        let slot = DVec3::new(90.0, 470.0, 330.0);
        assert!(Fit::of(slot, &kind, &hand).fits());
    }

    #[test]
    fn what_may_bear_nothing_is_never_stacked() {
        let hand = HandRoom::default();
        let mut kind = BoxKind::new("tray", [300.0, 300.0, 50.0], 1.0, 9);
        let space = DVec3::new(400.0, 500.0, 400.0);
        let high = |kind: &BoxKind| Pile::largest(kind, &hand, Stance::AsListed, space, HowHigh::AsTheRoom).map(|pile| pile.high);
        assert_eq!(high(&kind), Some(9), "nine of 50 and 25 over them go into 500");
        kind.bears = Bears::Nothing;
        assert_eq!(high(&kind), Some(1));
    }
}
