//! Everything a panel, a key or the 3D view can ask for, and the one system that acts on it.

use std::sync::atomic::{AtomicU64, Ordering};

use bevy::prelude::*;
use casewright_core::Design;
use casewright_core::design::placed::{self, Placed};
use casewright_core::design::{decisions, edit};
use casewright_core::loads::When;
use casewright_core::model::PartId;

use crate::FrameSet;
use crate::compared::{Compared, Of};
use crate::derived::Derived;
use crate::exported::ExportAsk;
use crate::files::FileAsk;
use crate::keeping::Boxes;
use crate::laid::{Bought, Laid, Leaf};
use crate::panels::{AtStage, Notice, Stage};
use crate::proposed::Proposed;
use crate::session::Session;

/// Something asked for. Nothing else changes the design, what is selected, or what is shown.
#[derive(Message, Clone, Debug, PartialEq)]
pub enum Ask {
    /// Sets one decision.
    Set {
        /// Its name, as [`decisions::list`] gives it, or `part.NAME.length`.
        path: String,
        /// Its value as typed.
        text: String,
        /// Changes of the same gesture are one step of the history; see [`new_gesture`].
        gesture: Option<u64>,
    },
    /// Sets several decisions as one step.
    SetMany {
        /// Names and values as typed.
        changes: Vec<(String, String)>,
        /// As for [`Ask::Set`].
        gesture: Option<u64>,
    },
    /// Adds to or takes from the lists of the design.
    Edit(edit::Edit),
    /// Goes over to another design of the same piece, as one step.
    Become(Box<Design>),
    /// Does what a finding proposes.
    Remedy {
        /// The finding, by its number.
        finding: usize,
        /// Which of its remedies, from 0.
        remedy: usize,
    },
    /// Takes the newest step back.
    Undo,
    /// Takes it again.
    Redo,
    /// Opens another design.
    Open,
    /// Saves to the file it came from.
    Save,
    /// Saves to a file to be named.
    SaveAs,
    /// Names the folder that papers and files go into, by a dialog.
    ChooseFolder,
    /// Looks at papers, exports or prints.
    Export(ExportAsk),
    /// Selects a part, or none.
    Select(Option<PartId>),
    /// Selects the finding of that number and goes to its place.
    ShowFinding(usize),
    /// Shows the whole case.
    ShowWhole,
    /// Goes to a stage.
    GoTo(Stage),
    /// Takes the case apart so far, 0 to 1.
    TakeApart(f32),
    /// Goes on by itself, step after step, until all is apart or together; none stops.
    Play(Option<Way>),
    /// Shows the case at another moisture, or as built.
    Season(Season),
    /// Sets something side by side with what could serve in its place; none puts it away.
    Compare(Option<Of>),
    /// Shows the parts as they sag, or straight.
    Sag(Sag),
    /// Shows the things in the case, and the shelves that take one of them.
    Boxes(Boxes),
    /// Asks for cases that hold all there is to keep, or puts them away.
    Propose(bool),
    /// Turns to another leaf of the sheet of the stage Boards.
    Turn(Leaf),
    /// Looks longer for better board plans, or for what costs less to buy; or is content with what was found so far.
    LayOut {
        /// Whether to look longer.
        longer: bool,
    },
    /// Lays a piece on a board by hand, where it stays.
    Place(Placed),
    /// Lets a piece that was laid by hand be laid out with the rest.
    TakeBack {
        /// The name of its part.
        part: String,
        /// Which strip or layer of it, from 1.
        piece: u32,
    },
    /// Answers the question that stands in the window.
    Answer(crate::files::Answer),
    /// Puts away what the window told.
    DismissNotice,
    /// Leaves the program.
    Quit,
}

impl Ask {
    /// Sets one decision in a step of its own.
    pub fn set(path: impl Into<String>, text: impl Into<String>) -> Ask {
        Ask::Set { path: path.into(), text: text.into(), gesture: None }
    }
}

/// A number for a new gesture, from pressing to letting go; never given twice.
pub fn new_gesture() -> u64 {
    static NEXT: AtomicU64 = AtomicU64::new(1);
    NEXT.fetch_add(1, Ordering::Relaxed)
}

/// What is selected.
#[derive(Resource, Clone, Debug, Default, PartialEq, Eq)]
pub struct Selection {
    /// The part that is lit up and told about.
    pub part: Option<PartId>,
    /// The finding last shown, by its number.
    pub finding: Option<usize>,
}

/// The part that the pointer is at in a panel; it lights up in the case.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Pointed(pub Option<PartId>);

/// How far the joinery is taken apart.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq)]
pub struct TakeApart {
    /// 0 is together, 1 as far apart as it goes.
    pub amount: f32,
    /// Which way it goes on by itself.
    pub playing: Option<Way>,
}

/// At which moisture the case is shown.
#[derive(Resource, Clone, Copy, Debug, PartialEq)]
pub struct Season {
    /// Percent of its dry mass; none for as built.
    pub moisture: Option<f64>,
    /// How many times larger than true the movement is drawn.
    pub times: f64,
}

impl Default for Season {
    fn default() -> Season {
        Season { moisture: None, times: 1.0 }
    }
}

/// How parts are shown under their load.
#[derive(Resource, Clone, Copy, Debug, PartialEq)]
pub struct Sag {
    /// As they sag then; none for straight.
    pub shown: Option<When>,
    /// How many times larger than true it is drawn.
    pub times: f64,
}

impl Default for Sag {
    fn default() -> Sag {
        Sag { shown: None, times: 20.0 }
    }
}

/// Which way the joinery goes by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Apart.
    Apart,
    /// Together, in the order of assembly.
    Together,
}

impl Way {
    /// The amount at which it ends.
    pub fn end(self) -> f32 {
        match self {
            Way::Apart => 1.0,
            Way::Together => 0.0,
        }
    }
}

/// The part of the window that no panel covers, in logical pixels from the top left.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq)]
pub struct ViewArea {
    /// Its top left corner.
    pub min: Vec2,
    /// Its bottom right corner.
    pub max: Vec2,
    /// Whether a sheet of paper lies over it.
    pub covered: bool,
}

impl ViewArea {
    /// Whether the case itself is what a pointer there is over; before the panels have been drawn it is everywhere.
    pub fn is_free(&self, at: Vec2) -> bool {
        let free = bevy::math::Rect::from_corners(self.min, self.max);
        !self.covered && (free.is_empty() || free.contains(at))
    }
}

/// Where the 3D view is to look.
#[derive(Message, Clone, Copy, Debug, PartialEq)]
pub enum LookAt {
    /// At the whole case.
    Whole,
    /// At a place in the case, mm.
    Place(Vec3),
    /// At a part.
    Part(PartId),
}

/// Takes [`Ask`]s and acts on them.
pub struct AskPlugin;

impl Plugin for AskPlugin {
    fn build(&self, app: &mut App) {
        app.add_message::<Ask>()
            .add_message::<LookAt>()
            .init_resource::<Selection>()
            .init_resource::<Pointed>()
            .init_resource::<TakeApart>()
            .init_resource::<Season>()
            .init_resource::<Sag>()
            .init_resource::<ViewArea>()
            .add_systems(Update, act.in_set(FrameSet::Ask));
    }
}

/// What acting on an ask may touch besides the session.
#[derive(bevy::ecs::system::SystemParam)]
struct Reach<'w> {
    selection: ResMut<'w, Selection>,
    take_apart: ResMut<'w, TakeApart>,
    season: ResMut<'w, Season>,
    compared: ResMut<'w, Compared>,
    sag: ResMut<'w, Sag>,
    boxes: ResMut<'w, Boxes>,
    proposed: ResMut<'w, Proposed>,
    leaf: ResMut<'w, Leaf>,
    laid: ResMut<'w, Laid>,
    bought: ResMut<'w, Bought>,
    stage: ResMut<'w, AtStage>,
    notice: ResMut<'w, Notice>,
    look_at: MessageWriter<'w, LookAt>,
    files: MessageWriter<'w, FileAsk>,
    exports: MessageWriter<'w, ExportAsk>,
}

fn act(mut asked: MessageReader<Ask>, mut session: ResMut<Session>, derived: Res<Derived>, mut reach: Reach) {
    for ask in asked.read() {
        match ask {
            Ask::Set { path, text, gesture } => change(&mut session, &mut reach.notice, &[(path.clone(), text.clone())], *gesture),
            Ask::SetMany { changes, gesture } => change(&mut session, &mut reach.notice, changes, *gesture),
            Ask::Edit(wanted) => {
                let mut design = session.design().clone();
                edit::apply(&mut design, wanted);
                session.change(design, None);
            }
            Ask::Place(piece) => {
                let mut design = session.design().clone();
                placed::put(&mut design, piece.clone());
                session.change(design, None);
            }
            Ask::TakeBack { part, piece } => {
                let mut design = session.design().clone();
                placed::take_back(&mut design, part, *piece);
                session.change(design, None);
            }
            Ask::Become(design) => session.change((**design).clone(), None),
            Ask::Remedy { finding, remedy } => {
                if let Some(remedy) = derived.findings.get(*finding).and_then(|finding| finding.remedies.get(*remedy)) {
                    change(&mut session, &mut reach.notice, &remedy.changes, None);
                }
            }
            Ask::Undo => session.undo(),
            Ask::Redo => session.redo(),
            Ask::Select(part) => {
                reach.selection.part = part.filter(|part| part.0 < derived.model.parts.len());
            }
            Ask::ShowFinding(index) => show_finding(*index, &derived, &mut reach),
            Ask::ShowWhole => {
                reach.look_at.write(LookAt::Whole);
            }
            Ask::GoTo(stage) => reach.stage.0 = *stage,
            Ask::TakeApart(amount) => *reach.take_apart = TakeApart { amount: amount.clamp(0.0, 1.0), playing: None },
            Ask::Play(way) => play(*way, &mut reach.take_apart),
            Ask::Season(season) => *reach.season = *season,
            Ask::Sag(sag) => *reach.sag = *sag,
            Ask::Propose(wanted) => reach.proposed.want(*wanted),
            Ask::Turn(leaf) => *reach.leaf = *leaf,
            Ask::LayOut { longer } => match *reach.leaf {
                Leaf::Buying => reach.bought.0.look(*longer),
                Leaf::Parts | Leaf::OnHand | Leaf::Plans | Leaf::Cost => reach.laid.0.look(*longer),
            },
            Ask::Boxes(boxes) => *reach.boxes = *boxes,
            Ask::Compare(of) => reach.compared.wanted = *of,
            Ask::DismissNotice => *reach.notice = Notice::default(),
            Ask::Open => pass_on(&mut reach, FileAsk::Open),
            Ask::Save => pass_on(&mut reach, FileAsk::Save),
            Ask::SaveAs => pass_on(&mut reach, FileAsk::SaveAs),
            Ask::ChooseFolder => pass_on(&mut reach, FileAsk::ChooseFolder),
            Ask::Export(ask) => {
                reach.exports.write(ask.clone());
            }
            Ask::Quit => pass_on(&mut reach, FileAsk::Quit),
            Ask::Answer(answer) => pass_on(&mut reach, FileAsk::Answer(*answer)),
        }
    }
}

/// Starts over when it is already there.
fn play(way: Option<Way>, take_apart: &mut TakeApart) {
    if let Some(way) = way
        && (take_apart.amount - way.end()).abs() < f32::EPSILON
    {
        take_apart.amount = 1.0 - way.end();
    }
    take_apart.playing = way;
}

fn pass_on(reach: &mut Reach, ask: FileAsk) {
    reach.files.write(ask);
}

/// Sets decisions as one step, or tells why not and sets none.
fn change(session: &mut Session, notice: &mut Notice, changes: &[(String, String)], gesture: Option<u64>) {
    match changed(session.design(), changes) {
        Ok(design) => session.change(design, gesture),
        Err(error) => *notice = Notice::told("That can't be set", vec![error.to_string()]),
    }
}

/// The design after `changes`.
fn changed(design: &Design, changes: &[(String, String)]) -> Result<Design, decisions::DecisionError> {
    let mut design = design.clone();
    for (path, text) in changes {
        decisions::set(&mut design, path, text)?;
    }
    Ok(design)
}

fn show_finding(index: usize, derived: &Derived, reach: &mut Reach) {
    let Some(finding) = derived.findings.get(index) else { return };
    let part = finding.parts.first().copied();
    *reach.selection = Selection { part, finding: Some(index) };
    match (finding.place, part) {
        (Some(place), _) => {
            reach.look_at.write(LookAt::Place(place.as_vec3()));
        }
        (None, Some(part)) => {
            reach.look_at.write(LookAt::Part(part));
        }
        (None, None) => {}
    }
}
