//! The paper that is looked at as it would be printed, made beside the frames.

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_sheets::{How, Packed, Page, Piece, Stop};

use crate::FrameSet;
use crate::beside::Beside;
use crate::derived::{self, Derived};
use crate::exported::Export;
use crate::panels::{AtStage, Stage};
use crate::session::Session;

/// Of what sheets are drawn.
#[derive(Clone, Debug, PartialEq)]
struct Of {
    /// Of the model.
    generation: u64,
    /// Whether its order of assembly was known.
    order: bool,
    piece: Piece,
    how: How,
}

/// The sheets of a paper, or why there are none.
type Sheets = Result<Vec<Page>, String>;

/// The sheets of the paper that is looked at, and those on their way.
#[derive(Resource, Default)]
pub struct Drawn {
    /// The last that were drawn.
    sheets: Option<(Of, Sheets)>,
    working: Beside<Of, Sheets>,
}

impl Drawn {
    /// The sheets of a paper; those of a case that has become another meanwhile stay until the new ones are there.
    pub fn pages(&self, piece: Piece) -> Option<Result<&[Page], &str>> {
        let (_, sheets) = self.sheets.as_ref().filter(|(of, _)| of.piece == piece)?;
        Some(sheets.as_deref().map_err(String::as_str))
    }
}

/// Keeps [`Drawn`] up with the design.
pub struct DrawnPlugin;

impl Plugin for DrawnPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Drawn>().add_systems(Update, follow.in_set(FrameSet::Derive).after(derived::follow));
    }
}

fn follow(
    mut drawn: ResMut<Drawn>,
    derived: Res<Derived>,
    session: Res<Session>,
    stage: Res<AtStage>,
    export: Res<Export>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if drawn.working.is_busy() {
        // A frame must come for it to be taken in.
        redraw.write(RequestRedraw);
        if let Some(sheets) = drawn.working.take() {
            drawn.sheets = Some(sheets);
        }
        return;
    }
    if stage.0 != Stage::Drawings || !derived.is_of(&session) || !derived.errors.is_empty() {
        return;
    }
    // With the order of assembly come the case taken apart and its stages; the order of work follows from it.
    let order = derived.order().cloned();
    let of = Of { generation: derived.generation, order: order.is_some(), piece: export.looked_at, how: export.how.clone() };
    if of.piece == Piece::OrderOfWork && order.is_none() {
        return;
    }
    if drawn.sheets.as_ref().is_some_and(|(known, _)| known.is_same_paper(&of)) {
        return;
    }
    let (design, model, solids) = (session.design().clone(), derived.model.clone(), derived.solids.clone());
    let findings = derived.findings.clone();
    drawn.working.start(of.clone(), async move {
        let packed = Packed {
            design: &design,
            model: &model,
            solids: &solids,
            findings: &findings,
            order: order.as_ref(),
            how: &of.how,
            stop: Stop::default(),
        };
        of.piece.pages(&packed).map_err(|error| error.to_string())
    });
    redraw.write(RequestRedraw);
}

impl Of {
    /// Whether its sheets are those of the other: only drawings and the order of work change once the order of assembly is known.
    fn is_same_paper(&self, other: &Of) -> bool {
        let goes_by_order = matches!(self.piece, Piece::Drawings | Piece::OrderOfWork);
        *self == Of { order: if goes_by_order { other.order } else { self.order }, ..other.clone() }
    }
}
