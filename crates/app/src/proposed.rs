//! Cases that hold what there is to keep, worked out beside the frames while they are looked at.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_core::Design;
use casewright_core::contents::propose::{Proposal, propose};

use crate::FrameSet;
use crate::beside::Beside;
use crate::derived;
use crate::session::Session;

/// What is proposed, and for what.
#[derive(Resource, Default)]
pub struct Proposed {
    wanted: bool,
    /// What was found, with the design it was asked for: what there is to keep and how it is built.
    found: Option<(Box<Design>, Vec<Proposal>)>,
    working: Beside<Box<Design>, Vec<Proposal>>,
    /// Ends the search that is under way.
    stop: Arc<AtomicBool>,
    /// How far it has come, in thousandths.
    done: Arc<AtomicU32>,
}

impl Proposed {
    /// Whether proposals are looked at.
    pub fn wanted(&self) -> bool {
        self.wanted
    }

    /// Asks for them, or puts them away and ends the search.
    pub fn want(&mut self, wanted: bool) {
        self.wanted = wanted;
        if !wanted {
            self.stop.store(true, Ordering::Relaxed);
            self.found = None;
        }
    }

    /// Which share of the search that is under way is done, 0 to 1.
    pub fn done(&self) -> f64 {
        f64::from(self.done.load(Ordering::Relaxed)) / 1000.0
    }

    /// What was found; while something else is sought, what was found before.
    pub fn found(&self) -> Option<&[Proposal]> {
        self.found.as_ref().map(|(_, found)| found.as_slice())
    }
}

/// Keeps [`Proposed`] up with the design.
pub struct ProposedPlugin;

impl Plugin for ProposedPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Proposed>().add_systems(Update, follow.in_set(FrameSet::Derive).after(derived::follow));
    }
}

fn follow(mut proposed: ResMut<Proposed>, session: Res<Session>, mut redraw: MessageWriter<RequestRedraw>) {
    if !proposed.wanted && !proposed.working.is_busy() {
        return;
    }
    if proposed.working.is_busy() {
        // A frame must come for it to be taken in.
        redraw.write(RequestRedraw);
        if let Some(found) = proposed.working.take()
            && proposed.wanted
        {
            proposed.found = Some(found);
        }
        return;
    }
    // One that was taken is built as those before it: they stay, until what there is to keep or the construction changes.
    let asked = session.design();
    let known = proposed.found.as_ref().is_some_and(|(of, _)| same_question(of, asked));
    if !known {
        let design = Box::new(asked.clone());
        proposed.stop = Arc::new(AtomicBool::new(false));
        proposed.done = Arc::new(AtomicU32::new(0));
        let (stop, done) = (Arc::clone(&proposed.stop), Arc::clone(&proposed.done));
        let go_on = move |share: f64| {
            done.store((share * 1000.0) as u32, Ordering::Relaxed);
            !stop.load(Ordering::Relaxed)
        };
        proposed.working.start(design.clone(), async move { propose(&design, &go_on) });
        redraw.write(RequestRedraw);
    }
}

/// Whether two designs ask for the same proposals: all but width, height, depth and the bays is the same.
fn same_question(a: &Design, b: &Design) -> bool {
    let mut a = a.clone();
    a.carcase.width = b.carcase.width;
    a.carcase.height = b.carcase.height;
    a.carcase.depth = b.carcase.depth;
    // Slats follow the depth.
    (a.sawtooth.slats.count, a.sawtooth.slats.width) = (b.sawtooth.slats.count, b.sawtooth.slats.width);
    a.interior.clone_from(&b.interior);
    a.overrides.clone_from(&b.overrides);
    a.shop.clone_from(&b.shop);
    a == *b
}
