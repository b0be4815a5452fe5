//! Whether the case stands, empty and loaded, on a hard floor and on carpet; and what holds it to the wall.

use super::SAME_LEVEL;
use crate::contents::arrange::{Effort, ShelvesMay, arrange};
use crate::contents::top_heavy;
use crate::design::{Design, Limits, Wall};
use crate::length::trimmed_to;
use crate::model::{Material, Model, Part, PartId, PartKind};
use crate::shapes::{Mass, Solids};
use crate::stability::{Anchor, CARPET_BLOCK, Case, Edge, Feet, State};
use crate::strength::GRAVITY;
use crate::timber::{How, Known};
use crate::worked::Worked;

/// How a case stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// The case as stability sees it.
    pub case: Case,
    /// What it weighs empty, and where that acts.
    pub empty: Mass,
    /// What it weighs with as many of its boxes as go in when the heaviest are put as high as they go.
    pub loaded: Mass,
    /// Why it weighs that, kg: empty, and loaded.
    pub weighs: [Worked; 2],
    /// With the boxes that find a place on its shelves as they lie, where that is heavier than `loaded`; nothing until it is asked for
    /// ([`Standing::filled`]).
    pub filled: Option<Filled>,
    /// Parts of no known density, which are left out: the case is heavier than told, and stands firmer.
    pub not_weighed: Vec<PartId>,
    /// The pushes at its top edge that begin to tip it.
    pub pushes: Vec<Push>,
    /// How many times as high as deep it is.
    pub slender: Worked,
    /// Why it is to be anchored, whether it is or not; nothing where it stands well by itself.
    pub reasons: Vec<Anchor>,
    /// What the fixings in the wall must hold, where it is anchored.
    pub fixing: Option<Fixing>,
}

/// A case with all its boxes that find a place, on the shelves as they lie.
#[derive(Clone, Debug, PartialEq)]
pub struct Filled {
    /// What it weighs, and where that acts.
    pub mass: Mass,
    /// Why it weighs that, kg.
    pub weighs: Worked,
    /// How many boxes find a place.
    pub placed: u64,
    /// How many there are.
    pub wanted: u64,
}

impl Filled {
    /// In words: "all its 21 boxes", "the 10 of its 21 boxes that find a place".
    pub fn words(&self) -> String {
        if self.placed == self.wanted {
            format!("all its {} boxes", self.wanted)
        } else {
            format!("the {} of its {} boxes that find a place", self.placed, self.wanted)
        }
    }
}

/// What its masses are called where they are told.
const EMPTY: &str = "mass, empty";
const LOADED: &str = "mass, loaded";

/// A push at the top edge that begins to tip a case.
#[derive(Clone, Debug, PartialEq)]
pub struct Push {
    /// Over which edge.
    pub over: Edge,
    /// How the case stands then.
    pub state: State,
    /// Whether it leans forward, as on carpet.
    pub on_carpet: bool,
    /// N; 0 when it tips by itself.
    pub newtons: Worked,
}

impl Push {
    /// Whether it is less than the case is to stand, as newtons are told: in whole ones.
    pub fn is_weak(&self, limits: &Limits) -> bool {
        self.newtons.value + 0.5 < limits.push
    }

    /// In words: "126 N at its top edge tip it forward, empty, on carpet".
    pub fn words(&self) -> String {
        let ground = if self.on_carpet { "on carpet" } else { "level" };
        let newtons = trimmed_to(self.newtons.value, 0);
        format!("{newtons} N at its top edge tip it {}, {}, {ground}", self.over.way(), self.state.words())
    }
}

/// What holds a case to the wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Fixing {
    /// How many.
    pub count: u32,
    /// Above the floor, mm.
    pub height: f64,
    /// Pull straight out of the wall, all together, N.
    pub pull: Worked,
    /// On each, N.
    pub each: Worked,
}

impl Standing {
    /// How the case of a model stands. Nothing for what is no case: parts without posts, or without weight.
    pub fn of(design: &Design, model: &Model, solids: &Solids) -> Option<Standing> {
        let Weighed { case, left_out, timber, boxes } = case(design, model, solids)?;
        let mut standing = Standing::of_case(case, &design.limits);
        standing.weighs = weighs(&standing, timber, boxes);
        for push in &mut standing.pushes {
            let [empty, loaded] = &standing.weighs;
            push.newtons.rest_on(if push.state.loaded { loaded } else { empty });
        }
        if let Wall::Anchored(anchors) = design.carcase.wall {
            let height = fixing_height(model).unwrap_or(standing.case.height);
            standing = standing.anchored(&design.limits, height, anchors.fixings);
        }
        Some(Standing { not_weighed: left_out, ..standing })
    }

    /// The same with its boxes on the shelves as they lie, as many as find a place there, where that is heavier than with the heaviest as high as
    /// they go. Seeks places for all of them: not for every frame.
    #[must_use]
    pub fn filled(self, design: &Design, model: &Model) -> Standing {
        let filled = filled(design, model, &self).filter(|filled| filled.mass.kg > self.loaded.kg + 1e-6);
        Standing { filled, ..self }
    }

    /// The same where so many fixings hold it to the wall, so high above the floor, mm.
    #[must_use]
    pub fn anchored(self, limits: &Limits, height: f64, fixings: u32) -> Standing {
        let fixing = self.fixed(limits, height, fixings);
        Standing { fixing, ..self }
    }

    /// How a case stands that is not anchored.
    pub fn of_case(case: Case, limits: &Limits) -> Standing {
        let states = case.states();
        let mut pushes: Vec<Push> = states.iter().flat_map(|state| Edge::ALL.map(|over| push(&case, over, *state, false))).collect();
        if let Some(leaning) = case.leaning(CARPET_BLOCK) {
            pushes.extend(states.iter().map(|state| push(&leaning, Edge::Front, *state, true)));
        }
        let [empty, loaded] = [State::EMPTY, State::LOADED].map(|state| case.mass(state));
        let slender = Worked::by(
            "height over depth",
            case.height / case.depth(),
            "",
            ("height / depth of what it stands on", "arithmetic"),
            vec![Worked::given("height", case.height, "mm"), Worked::given("depth of what it stands on", case.depth(), "mm")],
        );
        Standing {
            weighs: [Worked::given(EMPTY, empty.kg, "kg"), Worked::given(LOADED, loaded.kg, "kg")],
            filled: None,
            empty,
            loaded,
            not_weighed: Vec::new(),
            pushes,
            slender,
            reasons: case.anchor(&limits.stands()),
            fixing: None,
            case,
        }
    }

    /// The push that tips it over an edge, level, empty or loaded, with all that opens shut.
    pub fn push(&self, over: Edge, loaded: bool) -> Option<&Push> {
        let state = if loaded { State::LOADED } else { State::EMPTY };
        self.pushes.iter().find(|push| push.over == over && push.state == state && !push.on_carpet)
    }

    /// The push that tips it forward with the least, as it may come to stand, by which it is judged; after it the least over another edge where
    /// that is less still. And how many others it bears, which need more than the least of these.
    pub fn governing(&self) -> (Vec<&Push>, usize) {
        let least = |forward: bool| {
            let of = self.pushes.iter().filter(|push| (push.over == Edge::Front) == forward);
            of.min_by(|a, b| a.newtons.value.total_cmp(&b.newtons.value))
        };
        let forward = least(true);
        let other = least(false).filter(|other| forward.is_none_or(|forward| other.newtons.value < forward.newtons.value));
        let governing: Vec<&Push> = forward.into_iter().chain(other).collect();
        let others = self.pushes.len() - governing.len();
        (governing, others)
    }

    /// What a case that stands by itself needs all the same, where a push over another edge than the front, or forward on carpet, tips it sooner
    /// than the push it is to stand: "133 N tip it backward, less than the 150 N it is to stand: put its back to a wall, or anchor it".
    pub fn leans_on(&self, limits: &Limits) -> Vec<String> {
        let weak = |over: Edge| {
            let pushes = self.pushes.iter().filter(move |push| push.over == over && push.is_weak(limits));
            pushes.min_by(|a, b| a.newtons.value.total_cmp(&b.newtons.value))
        };
        let told = |push: &Push| {
            let remedy = match push.over {
                Edge::Front => "anchor it where it stands on carpet",
                Edge::Back => "put its back to a wall, or anchor it",
                Edge::Left | Edge::Right => "put its sides between walls or other cases, or anchor it",
            };
            let ground = if push.on_carpet { " on carpet" } else { "" };
            let [found, wanted] = [push.newtons.value, limits.push].map(|newtons| trimmed_to(newtons, 0));
            format!("{found} N tip it {}{ground}, less than the {wanted} N it is to stand: {remedy}", push.over.way())
        };
        Edge::ALL.into_iter().filter_map(weak).map(told).collect()
    }

    /// Whether what is printed of tipping and anchoring concerns it: it is to be anchored, is anchored, needs a wall behind it, or is as high as
    /// what standards of tipping begin with.
    pub fn can_hurt(&self, limits: &Limits) -> bool {
        let high = self.case.height >= limits.with_drawers.to_mm();
        high || !self.reasons.is_empty() || self.fixing.is_some() || !self.leans_on(limits).is_empty()
    }

    /// What fixings must hold: the greatest of a push at its top edge of which its own weight takes nothing, someone's weight that pulls straight at
    /// them, and someone on an open drawer with all others open. Each is more than statics ask of a case that stands: a fixing is for the day on
    /// which it does not (the program's own; the strength of restraints is a matter of ASTM F3096).
    fn fixed(&self, limits: &Limits, height: f64, count: u32) -> Option<Fixing> {
        if height <= 0.0 || count == 0 {
            return None;
        }
        let given = |name: &'static str, value: f64, unit: &'static str| Worked::given(name, value, unit);
        let someone = || {
            let known =
                Known::new(limits.on_drawer, How::Maker, "limits.on_drawer; 27.2 kg are the 60 lb of ASTM F2057-23 (read in a summary)");
            Worked::known("someone's weight", &known, "kg")
        };
        let free_fall = || given("acceleration of free fall", GRAVITY, "m/s²");
        let pushed = Worked::by(
            "a push at its top edge",
            limits.push * self.case.height / height,
            "N",
            ("push × height of the top edge ÷ height of the fixings, its own weight left out", "statics"),
            vec![
                given("push it is to stand", limits.push, "N"),
                given("height of the top edge", self.case.height, "mm"),
                given("height of the fixings", height, "mm"),
            ],
        );
        let formula = ("weight × free fall", "ours, no standard's");
        let hanging = Worked::by("someone who hangs on it", limits.on_drawer * GRAVITY, "N", formula, vec![someone(), free_fall()]);
        let leaning = self.case.leaning(CARPET_BLOCK).unwrap_or_else(|| self.case.clone());
        let drawers = (0..self.case.drawers.len()).filter_map(|drawer| {
            let turns = leaning.turned_by(drawer, limits.on_drawer)?;
            let force = leaning.wall_force(State::ALL_OUT, turns, height, count)?;
            let formula =
                ("(moment of someone on it − moment of the case with all of it open, on carpet) ÷ height of the fixings", "statics");
            let inputs = vec![
                someone(),
                given("moment of that about its front feet", turns / 1000.0, "N·m"),
                given("moment by which its own weight holds it", leaning.tipping(State::ALL_OUT).holds / 1000.0, "N·m"),
                given("height of the fixings", height, "mm"),
            ];
            Some(Worked::by(format!("someone on drawer {}", drawer + 1), force.pull, "N", formula, inputs))
        });
        let on_drawer = drawers.max_by(|a, b| a.value.total_cmp(&b.value));
        let asked: Vec<Worked> = [pushed, hanging].into_iter().chain(on_drawer).collect();
        let most = asked.iter().map(|worked| worked.value).fold(0.0, f64::max);
        let pull = Worked::by("pull out of the wall", most, "N", ("the greatest of these", "ours, no standard's"), asked);
        let shared = vec![pull.clone(), given("fixings", f64::from(count), "")];
        let each = Worked::by("pull on each fixing", most / f64::from(count), "N", ("pull / fixings", "arithmetic"), shared);
        Some(Fixing { count, height, pull, each })
    }
}

fn push(case: &Case, over: Edge, state: State, on_carpet: bool) -> Push {
    let tipping = case.tipping_over(over, state);
    let mut inputs = vec![
        Worked::given(if state.loaded { LOADED } else { EMPTY }, tipping.kg, "kg"),
        Worked::given("acceleration of free fall", GRAVITY, "m/s²"),
        Worked::given("from its centre of mass to the edge", tipping.behind, "mm"),
        Worked::given("height", case.height, "mm"),
    ];
    if on_carpet {
        let block = Known::new(CARPET_BLOCK, How::Memory, "0.43 in, ASTM F2057-23; it turns the case forward about its front feet");
        inputs.push(Worked::known("block under its back that stands for carpet", &block, "mm"));
    }
    let formula = ("mass × free fall × distance to the edge ÷ height", "statics");
    Push { over, state, on_carpet, newtons: Worked::by("push at the top edge that tips it", tipping.push, "N", formula, inputs) }
}

/// What a case weighs empty and loaded, with what that rests on: what it is of, and what is in it.
fn weighs(standing: &Standing, timber: Vec<Worked>, boxes: Vec<Worked>) -> [Worked; 2] {
    let all = ("all that it is made of, its loose parts with it", "arithmetic");
    let empty = Worked::by(EMPTY, standing.empty.kg, "kg", all, timber);
    let put = ("those that go in when each room from the highest down is given the heaviest that is left", "ours");
    let boxes = Worked::by("boxes, the heaviest as high as they go", standing.loaded.kg - standing.empty.kg, "kg", put, boxes);
    let both = ("mass, empty + boxes", "arithmetic");
    let loaded = Worked::by(LOADED, standing.loaded.kg, "kg", both, vec![empty.clone(), boxes]);
    [empty, loaded]
}

/// Where its boxes find a place on its shelves as they lie, and what it weighs so; nothing where none is asked to hold any.
fn filled(design: &Design, model: &Model, standing: &Standing) -> Option<Filled> {
    let found = arrange(design, model, ShelvesMay::Stay, Effort::default()).ok().filter(|found| found.placed > 0)?;
    let stacks = || found.rows.iter().flat_map(|row| &row.stacks);
    let boxes = design.contents.iter().enumerate().filter_map(|(index, kind)| {
        let of_kind = || stacks().filter(move |stack| stack.kind == index);
        let (count, kg) = (of_kind().map(|stack| stack.count).sum::<u32>(), of_kind().map(|stack| stack.kg).sum());
        (count > 0).then(|| Worked::given(format!("{count} × {}", kind.name), kg, "kg"))
    });
    let empty = standing.weighs[0].clone();
    let inputs: Vec<Worked> = std::iter::once(empty).chain(boxes).collect();
    let boxes = stacks().map(|stack| Mass { kg: stack.kg, centre: stack.block.centre() });
    let mass = Mass::together(boxes.chain([standing.empty]))?;
    let formula = ("mass, empty + the boxes that find a place on the shelves as they lie", "arithmetic");
    let weighs = Worked::by("mass, with its boxes", mass.kg, "kg", formula, inputs);
    Some(Filled { mass, weighs, placed: found.placed, wanted: found.wanted })
}

/// A case and what it weighs.
struct Weighed {
    case: Case,
    /// Parts of no known density.
    left_out: Vec<PartId>,
    /// What all parts of one material weigh, material by material.
    timber: Vec<Worked>,
    /// What is in it, kind by kind.
    boxes: Vec<Worked>,
}

/// What all parts of a material weigh together.
fn of_material(model: &Model, material: &Material, density: &Known, kg: f64) -> Worked {
    let inputs =
        vec![Worked::given("volume of the parts as they are cut", kg / density.value, "m³"), Worked::known("density", density, "kg/m³")];
    Worked::by(model.timbers.name(material).to_owned(), kg, "kg", ("volume × density", "arithmetic"), inputs)
}

fn case(design: &Design, model: &Model, solids: &Solids) -> Option<Weighed> {
    let feet = feet(model)?;
    let Weight { masses, timber, left_out } = weigh(model, solids, &model.parts);
    let carcase = Mass::together(masses)?;
    let filled = top_heavy(model, design);
    let boxes = design.contents.iter().enumerate().filter_map(|(index, kind)| {
        let of_kind = || filled.iter().flatten().filter(|stack| stack.kind == index);
        let (count, kg) = (of_kind().map(|stack| stack.count).sum::<u32>(), of_kind().map(|stack| stack.kg).sum());
        (count > 0).then(|| Worked::given(format!("{count} × {}", kind.name), kg, "kg"))
    });
    let boxes = boxes.collect();
    let contents = filled.iter().flatten().map(|stack| Mass { kg: stack.kg, centre: stack.block.centre() }).collect();
    let height = model.bounds?.max.y;
    let case = Case { feet, height, carcase, contents, doors: Vec::new(), drawers: Vec::new() };
    (case.depth() > 0.0 && height > 0.0).then_some(Weighed { case, left_out, timber, boxes })
}

/// What some parts weigh.
#[derive(Debug, Default)]
pub(super) struct Weight {
    /// Each of them.
    pub masses: Vec<Mass>,
    /// All of a material, material by material.
    pub timber: Vec<Worked>,
    /// Those of no known density.
    pub left_out: Vec<PartId>,
}

/// Weighs parts as they are cut.
pub(super) fn weigh<'m>(model: &'m Model, solids: &Solids, parts: impl IntoIterator<Item = &'m Part>) -> Weight {
    let mut weight = Weight::default();
    let mut materials: Vec<(&Material, &Known, f64)> = Vec::new();
    for part in parts {
        let density = model.timbers.density(&part.material);
        match density.and_then(|density| Some((density, solids.mass(part, density.value)?))) {
            Some((density, mass)) => {
                weight.masses.push(mass);
                match materials.iter_mut().find(|(material, ..)| **material == part.material) {
                    Some((.., kg)) => *kg += mass.kg,
                    None => materials.push((&part.material, density, mass.kg)),
                }
            }
            None => weight.left_out.push(part.id),
        }
    }
    let of = materials.into_iter().map(|(material, density, kg)| of_material(model, material, density, kg)).collect();
    Weight { timber: of, ..weight }
}

/// The outermost of what reaches the floor. Nothing where no post does.
fn feet(model: &Model) -> Option<Feet> {
    let lowest = model.bounds?.min.y;
    let stands = |part: &&Part| part.kind == PartKind::Post && part.block().min.y < lowest + SAME_LEVEL;
    model.parts.iter().filter(stands).fold(None, |feet: Option<Feet>, post| {
        let block = post.block();
        let own = Feet { left: block.min.x, right: block.max.x, back: block.min.z, front: block.max.z };
        Some(feet.map_or(own, |feet| Feet {
            left: feet.left.min(own.left),
            right: feet.right.max(own.right),
            back: feet.back.min(own.back),
            front: feet.front.max(own.front),
        }))
    })
}

/// The middle of the highest rail along the back, mm above the floor.
fn fixing_height(model: &Model) -> Option<f64> {
    let middle = model.bounds?.centre().z;
    let behind = model.parts.iter().filter(|part| part.kind == PartKind::Rail && part.block().centre().z < middle);
    let along = behind.filter(|rail| rail.body().size().x > rail.body().size().z);
    along.map(|rail| rail.block().centre().y).reduce(f64::max)
}
