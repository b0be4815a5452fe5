//! What follows from the design at hand: the one resource that holds anything derived.

use std::sync::OnceLock;

use bevy::prelude::*;
use casewright_core::derive::DesignError;
use casewright_core::loads::{Standing, UnderLoad};
use casewright_core::takeoff::TakeOff;
use casewright_core::{CutList, Design, DryFit, Finding, Model, Sequence, ShapeCache, Solids, derive, inspect};

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
    /// Which of the session's pieces the model is of.
    pub piece: u64,
    /// The order of assembly, with the generation of the model it is of and how many parts that had.
    order: Option<(u64, Sequence, usize)>,
    /// What the case bears and how it stands, with the generation of the model it is of.
    loads: Option<(u64, UnderLoad, Option<Standing>)>,
    /// What the model takes, once somebody has looked at that.
    takes: OnceLock<TakeOff>,
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
            piece: 0,
            order: None,
            loads: None,
            takes: OnceLock::new(),
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

    /// The same with its order of assembly.
    #[must_use]
    pub fn with_order(mut self, design: &Design) -> Derived {
        let dry_fit = DryFit::after(self.findings.clone(), design, &self.model, &self.solids);
        self.take_dry_fit(dry_fit);
        self
    }

    /// The order of assembly, once it is worked out for the model at hand.
    pub fn order(&self) -> Option<&Sequence> {
        self.order.as_ref().filter(|(generation, ..)| *generation == self.generation).map(|(_, sequence, _)| sequence)
    }

    /// Whether all checks are of the model at hand: until then only those of its sizes and joints are.
    pub fn is_checked(&self) -> bool {
        self.order().is_some()
    }

    /// The order of assembly; until it is worked out that of an earlier model with as many parts, to go on showing it.
    pub fn last_order(&self) -> Option<&Sequence> {
        self.order.as_ref().filter(|(_, _, parts)| *parts == self.model.parts.len()).map(|(_, sequence, _)| sequence)
    }

    /// What the case bears, once it is worked out for the model at hand.
    pub fn under_load(&self) -> Option<&UnderLoad> {
        self.loads.as_ref().filter(|(generation, ..)| *generation == self.generation).map(|(_, under, _)| under)
    }

    /// How the case stands, once it is worked out for the model at hand.
    pub fn standing(&self) -> Option<&Standing> {
        self.loads.as_ref().filter(|(generation, ..)| *generation == self.generation).and_then(|(.., standing)| standing.as_ref())
    }

    /// What the model at hand takes of timber, sheets, finish and glue, of a design that it follows from: reckoned once.
    pub fn takes(&self, design: &Design) -> &TakeOff {
        self.takes.get_or_init(|| TakeOff::of(design, &self.model))
    }

    /// Takes the loads of the model at hand.
    pub fn take_loads(&mut self, (under, standing): (UnderLoad, Option<Standing>)) {
        self.loads = Some((self.generation, under, standing));
    }

    /// Takes the dry fit of the model at hand.
    pub fn take_dry_fit(&mut self, dry_fit: DryFit) {
        self.findings = dry_fit.findings;
        self.order = Some((self.generation, dry_fit.order, self.model.parts.len()));
    }

    /// Whether this is what follows from the design at hand, and not from one before it.
    pub fn is_of(&self, session: &Session) -> bool {
        self.revision == session.revision()
    }

    /// Follows the session. When the first design there is gives no case, the example stands in until one does.
    fn follow(&mut self, session: &Session) {
        self.update(session.design());
        self.revision = session.revision();
        if self.errors.is_empty() {
            self.piece = session.piece();
        } else if self.generation == 0 {
            let errors = std::mem::take(&mut self.errors);
            self.update(&crate::demo());
            self.errors = errors;
        }
    }

    /// Derives anew from `design`.
    pub fn update(&mut self, design: &Design) {
        match derive(design) {
            Ok(model) => {
                self.solids = self.cache.shape(&model);
                self.findings = inspect(design, &model, &self.solids);
                self.cut_list = CutList::of(design, &model);
                self.model = model;
                self.takes = OnceLock::new();
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

/// Derives anew when the design became another.
pub fn follow(session: Res<Session>, mut derived: ResMut<Derived>, mut selection: ResMut<Selection>) {
    if derived.is_of(&session) {
        return;
    }
    let chosen = selection.part.and_then(|part| derived.model.parts.get(part.0)).map(|part| part.name.clone());
    let shown = selection.finding.and_then(|index| derived.findings.get(index)).map(|finding| (finding.rule, finding.parts.clone()));
    derived.follow(&session);
    // Parts and findings are numbered anew; what was selected stays selected as long as it is there.
    let part = chosen.and_then(|name| derived.model.find(&name)).map(|part| part.id);
    let finding = shown.and_then(|(rule, parts)| derived.findings.iter().position(|found| found.rule == rule && found.parts == parts));
    if selection.part != part || selection.finding != finding {
        *selection = Selection { part, finding };
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use casewright_core::Length;

    #[test]
    fn a_design_that_gives_no_case_leaves_one_on_screen_and_says_why() {
        let mut wide = crate::demo();
        wide.carcase.width = Length::mm(9000.0);
        let mut session = Session::new(crate::demo(), None);
        session.open(wide, None);
        let mut derived = Derived::default();
        derived.follow(&session);
        assert!(derived.errors.iter().any(|error| error.path() == "carcase.width"), "{:?}", derived.errors);
        assert!(!derived.model.parts.is_empty());
        assert_ne!(derived.piece, session.piece(), "the case shown is of another piece");
        session.change(crate::demo(), None);
        derived.follow(&session);
        assert!(derived.errors.is_empty());
        assert_eq!(derived.piece, session.piece());
    }
}
