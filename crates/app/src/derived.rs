//! What follows from the design at hand: the one resource that holds anything derived.

use bevy::prelude::*;
use casewright_core::derive::DesignError;
use casewright_core::{CutList, Design, Finding, Model, ShapeCache, Solids, derive, inspect};

use crate::FrameSet;
use crate::ask::Selection;
use crate::session::Session;

/// What was derived from the design. While the design gives no case, all but the errors stays that of the last good one.
#[derive(Resource)]
pub struct Derived {
    /// Every part and joint.
    pub model: Model,
    /// Their solids.
    pub solids: Solids,
    /// What the checks found, the most serious first.
    pub findings: Vec<Finding>,
    /// Equal parts together.
    pub cut_list: CutList,
    /// Why the design as it stands gives no case; empty when it does.
    pub errors: Vec<DesignError>,
    /// Grows by one whenever the model became another.
    pub generation: u64,
    cache: ShapeCache,
    /// The revision of the session this was derived from.
    revision: u64,
}

impl Default for Derived {
    fn default() -> Derived {
        Derived {
            model: Model::default(),
            solids: Solids::default(),
            findings: Vec::new(),
            cut_list: CutList { rows: Vec::new() },
            errors: Vec::new(),
            generation: 0,
            cache: ShapeCache::default(),
            revision: 0,
        }
    }
}

impl Derived {
    /// All that follows from `design`.
    pub fn of(design: &Design) -> Derived {
        let mut derived = Derived::default();
        derived.update(design);
        derived
    }

    /// Derives anew from `design`.
    pub fn update(&mut self, design: &Design) {
        match derive(design) {
            Ok(model) => {
                self.solids = self.cache.shape(&model);
                self.findings = inspect(design, &model, &self.solids);
                self.cut_list = CutList::of(&model);
                self.model = model;
                self.errors.clear();
                self.generation += 1;
            }
            Err(errors) => self.errors = errors,
        }
    }
}

/// Keeps [`Derived`] up with the [`Session`], in the frame in which that changed.
pub struct DerivedPlugin;

impl Plugin for DerivedPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Derived>().add_systems(Update, follow.in_set(FrameSet::Derive));
    }
}

fn follow(session: Res<Session>, mut derived: ResMut<Derived>, mut selection: ResMut<Selection>) {
    if derived.revision == session.revision() {
        return;
    }
    let chosen = selection.part.and_then(|part| derived.model.parts.get(part.0)).map(|part| part.name.clone());
    let shown = selection.finding.and_then(|index| derived.findings.get(index)).map(|finding| (finding.rule, finding.parts.clone()));
    derived.update(session.design());
    derived.revision = session.revision();
    // Parts and findings are numbered anew; what was selected stays selected as long as it is there.
    let part = chosen.and_then(|name| derived.model.find(&name)).map(|part| part.id);
    let finding = shown.and_then(|(rule, parts)| derived.findings.iter().position(|found| found.rule == rule && found.parts == parts));
    if selection.part != part || selection.finding != finding {
        *selection = Selection { part, finding };
    }
}
