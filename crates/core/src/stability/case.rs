//! A case with all that moves and all that it holds.

use glam::DVec3;

use crate::shapes::Mass;

/// What a case stands on: the outermost of its feet, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feet {
    /// x of the left ones.
    pub left: f64,
    /// x of the right ones.
    pub right: f64,
    /// z of the rear ones.
    pub back: f64,
    /// z of the front ones: the line over which it tips forward.
    pub front: f64,
}

/// A case as stability sees it.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// What it stands on.
    pub feet: Feet,
    /// From the floor to its top edge, mm.
    pub height: f64,
    /// All that does not move, without what it holds.
    pub carcase: Mass,
    /// What it holds elsewhere than in drawers, each where it stands.
    pub contents: Vec<Mass>,
    /// Its doors.
    pub doors: Vec<Moving>,
    /// Its drawers.
    pub drawers: Vec<Drawer>,
}

/// Something that moves, such as a door.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moving {
    /// Its mass, with its centre when it is shut.
    pub shut: Mass,
    /// Where its centre is when it is open.
    pub open: DVec3,
}

impl Moving {
    /// A door on upright hinges at `x` and `z`, opened to a right angle: it then stands out straight to the front.
    pub fn door(shut: Mass, x: f64, z: f64) -> Moving {
        Moving { shut, open: DVec3::new(x, shut.centre.y, z + (shut.centre.x - x).abs()) }
    }
}

/// A drawer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawer {
    /// Its own mass, with its centre when it is shut.
    pub shut: Mass,
    /// What is in it, kg; it acts at the middle of the drawer.
    pub contents: f64,
    /// How far it comes out, mm.
    pub travel: f64,
    /// z of its front when it is shut.
    pub front: f64,
}

impl Drawer {
    fn mass(&self, loaded: bool, out: bool) -> Mass {
        let kg = self.shut.kg + if loaded { self.contents } else { 0.0 };
        Mass { kg, centre: self.shut.centre + DVec3::Z * if out { self.travel } else { 0.0 } }
    }
}

/// Which drawers are out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DrawersOut {
    /// None.
    None,
    /// One, by its place in [`Case::drawers`].
    One(usize),
    /// All of them.
    All,
}

/// How a case stands there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct State {
    /// Whether it holds what it is to hold.
    pub loaded: bool,
    /// Whether all its doors are open.
    pub doors_open: bool,
    /// Which drawers are out.
    pub drawers: DrawersOut,
}

impl State {
    /// Empty and shut.
    pub const EMPTY: State = State { loaded: false, doors_open: false, drawers: DrawersOut::None };
    /// Loaded and shut.
    pub const LOADED: State = State { loaded: true, ..State::EMPTY };
    /// Empty, with its doors open.
    pub const DOORS_OPEN: State = State { doors_open: true, ..State::EMPTY };
    /// Empty shelves, with all drawers and doors open.
    pub const ALL_OUT: State = State { doors_open: true, drawers: DrawersOut::All, ..State::EMPTY };
    /// Loaded, with all drawers and doors open.
    pub const LOADED_ALL_OUT: State = State { loaded: true, ..State::ALL_OUT };

    /// In words.
    pub fn words(self) -> String {
        let loaded = if self.loaded { "loaded" } else { "empty" };
        let doors = if self.doors_open { ", doors open" } else { "" };
        let drawers = match self.drawers {
            DrawersOut::None => String::new(),
            DrawersOut::One(index) => format!(", drawer {} out", index + 1),
            DrawersOut::All => ", drawers out".to_owned(),
        };
        format!("{loaded}{doors}{drawers}")
    }
}

impl Case {
    /// A case as a plain box that weighs the same all through.
    pub fn plain(width: f64, height: f64, depth: f64, kg: f64) -> Case {
        Case {
            feet: Feet { left: 0.0, right: width, back: 0.0, front: depth },
            height,
            carcase: Mass { kg, centre: DVec3::new(width, height, depth) / 2.0 },
            contents: Vec::new(),
            doors: Vec::new(),
            drawers: Vec::new(),
        }
    }

    /// The same with a door on the left of its front, so heavy and so wide, half as high as it is.
    #[must_use]
    pub fn with_door(mut self, kg: f64, width: f64) -> Case {
        let (left, front) = (self.feet.left, self.feet.front);
        let shut = Mass { kg, centre: DVec3::new(left + width / 2.0, self.height / 2.0, front) };
        self.doors.push(Moving::door(shut, left, front));
        self
    }

    /// The same with a drawer in its middle, half as high as it is, that comes out so far, mm; its own mass and that of what is in it, kg.
    #[must_use]
    pub fn with_drawer(mut self, kg: f64, contents: f64, travel: f64) -> Case {
        let Feet { left, right, back, front } = self.feet;
        let centre = DVec3::new(f64::midpoint(left, right), self.height / 2.0, f64::midpoint(back, front));
        self.drawers.push(Drawer { shut: Mass { kg, centre }, contents, travel, front });
        self
    }

    /// The states that are asked of it: empty and loaded, each shut and, where it has doors or drawers, with all of them open.
    pub fn states(&self) -> Vec<State> {
        let mut states = vec![State::EMPTY, State::LOADED];
        if !self.doors.is_empty() && !self.drawers.is_empty() {
            states.push(State::DOORS_OPEN);
        }
        if !self.doors.is_empty() || !self.drawers.is_empty() {
            let drawers = if self.drawers.is_empty() { DrawersOut::None } else { DrawersOut::All };
            states.extend([false, true].map(|loaded| State { loaded, doors_open: !self.doors.is_empty(), drawers }));
        }
        states
    }

    /// What it weighs in a state, and where that acts.
    pub fn mass(&self, state: State) -> Mass {
        let contents = self.contents.iter().filter(|_| state.loaded).copied();
        let doors = self.doors.iter().map(|door| Mass { centre: if state.doors_open { door.open } else { door.shut.centre }, ..door.shut });
        let drawers = self.drawers.iter().enumerate().map(|(index, drawer)| {
            let out = match state.drawers {
                DrawersOut::None => false,
                DrawersOut::One(one) => one == index,
                DrawersOut::All => true,
            };
            drawer.mass(state.loaded, out)
        });
        let all = [self.carcase].into_iter().chain(contents).chain(doors).chain(drawers);
        Mass::together(all).unwrap_or(Mass { kg: 0.0, centre: self.carcase.centre })
    }

    /// Depth of what it stands on, mm.
    pub fn depth(&self) -> f64 {
        self.feet.front - self.feet.back
    }

    /// The same, standing on something under its rear feet so thick, mm: it leans forward, as on carpet that lies up against the wall.
    ///
    /// Everything is told as seen by someone for whom the floor is level. Nothing for a block that would lay it on its front.
    #[must_use]
    pub fn leaning(&self, block: f64) -> Option<Case> {
        let sine = block / self.depth();
        if !(0.0..1.0).contains(&sine) {
            return None;
        }
        let cosine = (1.0 - sine * sine).sqrt();
        let front = self.feet.front;
        let lean = |at: DVec3| {
            let behind = front - at.z;
            DVec3::new(at.x, at.y * cosine + behind * sine, front - (behind * cosine - at.y * sine))
        };
        let mass = |mass: Mass| Mass { kg: mass.kg, centre: lean(mass.centre) };
        Some(Case {
            feet: Feet { back: front - self.depth() * cosine, ..self.feet },
            height: self.height * cosine,
            carcase: mass(self.carcase),
            contents: self.contents.iter().copied().map(mass).collect(),
            doors: self.doors.iter().map(|door| Moving { shut: mass(door.shut), open: lean(door.open) }).collect(),
            drawers: self
                .drawers
                .iter()
                .map(|drawer| Drawer {
                    shut: mass(drawer.shut),
                    travel: drawer.travel * cosine,
                    // Its front leans out with the case, as high as the drawer is.
                    front: lean(DVec3::new(0.0, drawer.shut.centre.y, drawer.front)).z,
                    ..*drawer
                })
                .collect(),
        })
    }
}
