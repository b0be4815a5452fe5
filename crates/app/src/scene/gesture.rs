//! What a hand on the mouse means in the 3D view.
//!
//! A press that lets go where it began is a click; one that moves turns the case, or moves it with the right or middle
//! button or with Shift; one that begins on a handle drags what it is the handle of. Events are taken in the order in which they came,
//! so that a press, a move and a release between two slow frames still mean what the hand did.

use bevy::math::Vec2;
use bevy::prelude::{MouseButton, Resource};

use super::handles::Grip;

/// Pixels a pressed mouse may move and still mean a click.
const STILL: f32 = 4.0;

/// What the mouse does, as far as the view minds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Event {
    /// It is at a place on the window, logical pixels.
    Moved(Vec2),
    /// It left the window.
    Left,
    /// A button went down.
    Pressed(MouseButton),
    /// A button came up.
    Released(MouseButton),
    /// The wheel turned by notches, up positive.
    Wheel(f32),
}

/// What it means.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Act {
    /// A click at a place.
    Click(Vec2),
    /// Turn the case by pixels.
    Turn(Vec2),
    /// Move the case by pixels, held where the drag began.
    Pan {
        /// Where the drag began.
        from: Vec2,
        /// Pixels.
        by: Vec2,
    },
    /// Come nearer by notches, at a place.
    Zoom(Vec2, f32),
    /// Take hold of a handle.
    Take(Grip, Vec2),
    /// Drag it to a place.
    Drag(Grip, Vec2),
    /// Let it go.
    LetGo(Grip),
}

/// What the view lets the hand do at a place.
pub struct Ground<'a> {
    /// Whether no panel is there.
    pub free: &'a dyn Fn(Vec2) -> bool,
    /// The handle there.
    pub handle: &'a dyn Fn(Vec2) -> Option<Grip>,
    /// Whether Shift is down.
    pub shift: bool,
}

/// The hand: where it points and what it holds.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq)]
pub struct Hand {
    at: Option<Vec2>,
    held: Option<Held>,
    over: Option<Grip>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Held {
    button: MouseButton,
    from: Vec2,
    moved: bool,
    doing: Doing,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Doing {
    Turning,
    Panning,
    Dragging(Grip),
}

impl Hand {
    /// Takes in what the mouse did and says what it means.
    pub fn feel(&mut self, event: Event, ground: &Ground) -> Option<Act> {
        match event {
            Event::Moved(at) => self.moved(at, ground),
            Event::Left => {
                if self.held.is_none() {
                    (self.at, self.over) = (None, None);
                }
                None
            }
            Event::Pressed(button) => self.pressed(button, ground),
            Event::Released(button) => self.released(button),
            Event::Wheel(notches) => {
                let at = self.at.filter(|at| (ground.free)(*at))?;
                Some(Act::Zoom(at, notches))
            }
        }
    }

    /// Where it points while it holds nothing and no panel is there.
    pub fn pointing(&self) -> Option<Vec2> {
        self.at.filter(|_| self.held.is_none() && self.over.is_none())
    }

    /// The handle it holds, or else points at.
    pub fn lit(&self) -> Option<Grip> {
        match self.held {
            Some(Held { doing: Doing::Dragging(grip), .. }) => Some(grip),
            Some(_) => None,
            None => self.over,
        }
    }

    /// Whether it turns or moves the case.
    pub fn holds_case(&self) -> bool {
        matches!(self.held, Some(Held { moved: true, doing: Doing::Turning | Doing::Panning, .. }))
    }

    /// Whether it holds anything.
    pub fn holds(&self) -> bool {
        self.held.is_some()
    }

    fn moved(&mut self, at: Vec2, ground: &Ground) -> Option<Act> {
        let before = self.at.replace(at);
        let Some(held) = &mut self.held else {
            self.over = if (ground.free)(at) { (ground.handle)(at) } else { None };
            return None;
        };
        let mut by = at - before.unwrap_or(at);
        if !held.moved {
            if at.distance(held.from) <= STILL {
                return None;
            }
            held.moved = true;
            by = at - held.from;
        }
        Some(match held.doing {
            Doing::Turning => Act::Turn(by),
            Doing::Panning => Act::Pan { from: held.from, by },
            Doing::Dragging(grip) => Act::Drag(grip, at),
        })
    }

    fn pressed(&mut self, button: MouseButton, ground: &Ground) -> Option<Act> {
        let at = self.at.filter(|at| (ground.free)(*at))?;
        if self.held.is_some() {
            return None;
        }
        let doing = match button {
            MouseButton::Left => match (ground.handle)(at) {
                Some(grip) => Doing::Dragging(grip),
                None if ground.shift => Doing::Panning,
                None => Doing::Turning,
            },
            MouseButton::Right | MouseButton::Middle => Doing::Panning,
            MouseButton::Back | MouseButton::Forward | MouseButton::Other(_) => return None,
        };
        self.held = Some(Held { button, from: at, moved: false, doing });
        match doing {
            Doing::Dragging(grip) => Some(Act::Take(grip, at)),
            Doing::Turning | Doing::Panning => None,
        }
    }

    fn released(&mut self, button: MouseButton) -> Option<Act> {
        let held = self.held.take_if(|held| held.button == button)?;
        match held.doing {
            Doing::Dragging(grip) => Some(Act::LetGo(grip)),
            Doing::Turning | Doing::Panning => (!held.moved && button == MouseButton::Left).then_some(Act::Click(held.from)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::dimensions::Measure;
    use super::*;

    const HANDLE: Vec2 = Vec2::new(500.0, 500.0);

    /// A window whose left 200 pixels are a panel, with one handle.
    fn feel(hand: &mut Hand, events: &[Event]) -> Vec<Act> {
        let ground = Ground {
            free: &|at| at.x > 200.0,
            handle: &|at| (at.distance(HANDLE) < 10.0).then_some(Grip::Measure(Measure::Width)),
            shift: false,
        };
        events.iter().filter_map(|event| hand.feel(*event, &ground)).collect()
    }

    const LEFT: MouseButton = MouseButton::Left;

    #[test]
    fn a_press_that_stays_is_a_click_and_one_that_moves_turns() {
        let (from, near, to) = (Vec2::new(600.0, 300.0), Vec2::new(602.0, 301.0), Vec2::new(640.0, 310.0));
        let acts = feel(&mut Hand::default(), &[Event::Moved(from), Event::Pressed(LEFT), Event::Moved(near), Event::Released(LEFT)]);
        assert_eq!(acts, [Act::Click(from)]);
        let acts = feel(&mut Hand::default(), &[Event::Moved(from), Event::Pressed(LEFT), Event::Moved(to), Event::Released(LEFT)]);
        assert_eq!(acts, [Act::Turn(to - from)]);
    }

    #[test]
    fn nothing_that_begins_over_a_panel_reaches_the_case() {
        let (panel, case) = (Vec2::new(100.0, 300.0), Vec2::new(600.0, 300.0));
        let events = [Event::Moved(panel), Event::Wheel(1.0), Event::Pressed(LEFT), Event::Moved(case), Event::Released(LEFT)];
        assert_eq!(feel(&mut Hand::default(), &events), []);
    }

    #[test]
    fn a_drag_goes_on_over_a_panel_until_the_button_comes_up() {
        let (case, panel) = (Vec2::new(300.0, 300.0), Vec2::new(100.0, 300.0));
        let acts = feel(&mut Hand::default(), &[Event::Moved(case), Event::Pressed(LEFT), Event::Moved(panel)]);
        assert_eq!(acts, [Act::Turn(panel - case)]);
    }

    #[test]
    fn a_handle_is_taken_dragged_and_let_go() {
        let to = Vec2::new(560.0, 520.0);
        let mut hand = Hand::default();
        let acts = feel(&mut hand, &[Event::Moved(HANDLE), Event::Pressed(LEFT), Event::Moved(to)]);
        assert_eq!(acts, [Act::Take(Grip::Measure(Measure::Width), HANDLE), Act::Drag(Grip::Measure(Measure::Width), to)]);
        assert_eq!(hand.lit(), Some(Grip::Measure(Measure::Width)));
        assert_eq!(feel(&mut hand, &[Event::Released(LEFT)]), [Act::LetGo(Grip::Measure(Measure::Width))]);
    }

    #[test]
    fn the_right_button_moves_and_never_selects() {
        let (from, to) = (Vec2::new(600.0, 300.0), Vec2::new(600.0, 350.0));
        let right = MouseButton::Right;
        let acts = feel(&mut Hand::default(), &[Event::Moved(from), Event::Pressed(right), Event::Moved(to), Event::Released(right)]);
        assert_eq!(acts, [Act::Pan { from, by: to - from }]);
        assert_eq!(feel(&mut Hand::default(), &[Event::Moved(from), Event::Pressed(right), Event::Released(right)]), []);
    }
}
