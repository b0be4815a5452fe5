//! Set-up cards: one setting of a tool a card, with the parts that are cut at it, to lie beside the machine.

use casewright_core::setup::setups;
use casewright_core::{Design, Model};
use serde::Serialize;

use crate::drawing::Paper;
use crate::figures::Wording;
use crate::typeset::{self, Set, SheetError};

const TEMPLATE: &str = include_str!("../../../assets/sheets/setup_cards.typ");

/// What the template reads.
#[derive(Serialize)]
struct Data<'a> {
    name: &'a str,
    date: &'a str,
    /// In what figures are.
    unit: &'static str,
    cards: Vec<Card>,
}

#[derive(Serialize)]
struct Card {
    number: usize,
    title: String,
    /// What is moved from the card before.
    changes: String,
    settings: Vec<(&'static str, String)>,
    cuts: Vec<On>,
    test: String,
    warnings: Vec<String>,
    cautions: Vec<String>,
}

#[derive(Serialize)]
struct On {
    words: String,
    at: String,
}

/// The set-up cards of a case as PDF, A4 upright.
///
/// The same design gives the same bytes.
///
/// # Errors
/// When nothing is left to be cut, or the typesetter fails.
pub fn setup_cards_pdf(design: &Design, model: &Model, paper: &Paper) -> Result<Vec<u8>, SheetError> {
    set(design, model, paper)?.pdf()
}

/// The same as it was set.
pub(crate) fn set(design: &Design, model: &Model, paper: &Paper) -> Result<Set, SheetError> {
    let all = setups(design, model);
    if all.is_empty() {
        return Err(SheetError::Empty);
    }
    let wording = Wording::of(design, model, paper.figures);
    let exact = |words: String| wording.exact(&words);
    let before = |at: usize| at.checked_sub(1).and_then(|before| all.get(before));
    let mut cards = Vec::with_capacity(all.len());
    for (at, setup) in all.iter().enumerate() {
        cards.push(Card {
            number: at + 1,
            title: exact(setup.title()),
            changes: before(at).map_or_else(String::new, |before| changes(setup.setting.changes_from(&before.setting))),
            settings: setup.settings().into_iter().map(|(name, words)| (name, exact(words))).collect(),
            cuts: setup.cuts.iter().map(|on| On { words: on.words(), at: exact(on.places(setup)) }).collect(),
            test: wording.exact(&setup.test),
            warnings: setup.warnings.iter().map(|words| wording.exact(words)).collect(),
            cautions: setup.cautions.iter().map(|words| wording.thumb(words)).collect(),
        });
    }
    let date = paper.date.as_deref().unwrap_or_default();
    typeset::set(TEMPLATE, &Data { name: &design.name, date, unit: paper.figures.unit(), cards })
}

fn changes(count: u32) -> String {
    match count {
        0 => "as before".to_owned(),
        1 => "1 setting is moved".to_owned(),
        count => format!("{count} settings are moved"),
    }
}
