//! All that the panels show, in one hand: for tests and benches, which have no window.

use casewright::ask::{Sag, Season, Selection, TakeApart};
use casewright::compared::{Compared, Of};
use casewright::derived::Derived;
use casewright::exported::Export;
use casewright::keeping::{Boxes, Kept};
use casewright::laid::{Bought, Laid, Leaf};
use casewright::panels::{Notice, Stage, View};
use casewright::proposed::Proposed;
use casewright::session::Session;
use casewright_core::Design;
use casewright_core::design::decisions::{self, Decision};
use casewright_sheets::drawing::Page;
use casewright_sheets::{Drafting, pages};

/// A design at a stage, with all that follows from it.
pub struct Hand {
    pub session: Session,
    pub derived: Derived,
    pub stage: Stage,
    pub leaf: Leaf,
    pub laid: Laid,
    pub bought: Bought,
    decisions: Vec<Decision>,
    selection: Selection,
    season: Season,
    sag: Sag,
    compared: Compared,
    kept: Option<Kept>,
    proposed: Proposed,
    drawn: Vec<Page>,
    export: Export,
    notice: Notice,
}

impl Hand {
    /// Takes it up.
    pub fn new(design: Design, stage: Stage, selection: Selection) -> Hand {
        let session = Session::new(design, None);
        let derived = Derived::of(session.design()).with_order(session.design());
        // Prices and hours are open while something is compared.
        let mut compared = Compared::default();
        compared.wanted = Some(Of::Panels);
        Hand {
            drawn: pages(session.design(), &derived.model, &derived.solids, derived.order(), &Drafting::default()),
            decisions: decisions::list(session.design()),
            kept: Kept::of(session.design(), &derived.model, None),
            session,
            derived,
            stage,
            leaf: Leaf::default(),
            laid: Laid::default(),
            bought: Bought::default(),
            selection,
            season: Season::default(),
            sag: Sag::default(),
            compared,
            proposed: Proposed::default(),
            export: Export::default(),
            notice: Notice::default(),
        }
    }

    /// Changes a decision as a field of the panels asks for it.
    ///
    /// # Panics
    ///
    /// Where it can't be set, which a field never asks for.
    #[allow(dead_code, reason = "only tests change anything")]
    pub fn set(&mut self, path: &str, text: &str, gesture: Option<u64>) {
        let mut design = self.session.design().clone();
        decisions::set(&mut design, path, text).expect("a field sends only what can be set");
        self.session.change(design, gesture);
        self.derived.update(self.session.design());
        self.decisions = decisions::list(self.session.design());
    }

    /// What the panels see of it.
    pub fn view(&self) -> View<'_> {
        View {
            session: &self.session,
            decisions: &self.decisions,
            derived: &self.derived,
            stage: self.stage,
            leaf: self.leaf,
            selection: &self.selection,
            pointed: None,
            take_apart: TakeApart::default(),
            season: &self.season,
            sag: &self.sag,
            compared: &self.compared,
            kept: self.kept.as_ref().map(|kept| (kept, None)),
            boxes: Boxes::default(),
            proposed: &self.proposed,
            laid: &self.laid.0,
            bought: &self.bought.0,
            drawn: Some(Ok(self.drawn.as_slice())),
            export: &self.export,
            notice: &self.notice,
            question: None,
        }
    }
}
