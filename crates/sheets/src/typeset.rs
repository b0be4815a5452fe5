//! Sets paper from a template of `assets/sheets` and what it is to say.

use serde::Serialize;
use typst_as_lib::TypstEngine;
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;

use crate::drawing::Page;
use crate::seen;
use crate::stop::BrokenOff;

/// Why a paper can't be made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SheetError {
    /// There is nothing to draw.
    #[error("the case has no parts to draw")]
    Empty,
    /// It was to stop before it was whole.
    #[error(transparent)]
    BrokenOff(#[from] BrokenOff),
    /// The typesetter did not take it.
    #[error("the paper could not be set: {0}")]
    Typeset(String),
}

/// The face that papers are set in, and its heavier sister.
pub(crate) const REGULAR: &[u8] = include_bytes!("../../../assets/fonts/OpenSans-Regular.ttf");
pub(crate) const SEMIBOLD: &[u8] = include_bytes!("../../../assets/fonts/OpenSans-Semibold.ttf");
const ITALIC: &[u8] = include_bytes!("../../../assets/fonts/OpenSans-Italic.ttf");

/// What the papers have in common, for templates to import.
const COMMON: (&str, &str) = ("common.typ", include_str!("../../../assets/sheets/common.typ"));

/// A paper as it was set.
pub(crate) struct Set(PagedDocument);

impl Set {
    /// As PDF.
    ///
    /// # Errors
    /// When the writer of PDF does not take it.
    pub(crate) fn pdf(&self) -> Result<Vec<u8>, SheetError> {
        // No time and no name of a machine goes in, so that the same design gives the same bytes.
        typst_pdf::pdf(&self.0, &PdfOptions::default()).map_err(|errors| {
            let messages: Vec<_> = errors.iter().map(|error| error.message.to_string()).collect();
            SheetError::Typeset(messages.join("; "))
        })
    }

    /// Its pages as they are drawn on a screen, called `name-1` and so on.
    pub(crate) fn pages(&self, name: &str, title: &str) -> Vec<Page> {
        self.0.pages().iter().enumerate().map(|(at, page)| seen::page(&page.frame, format!("{name}-{}", at + 1), title)).collect()
    }
}

/// A paper as PDF: `template` reads `data` as `sheet.json`, and the other files by their names; it may import `common.typ`.
pub(crate) fn pdf(template: &'static str, data: &impl Serialize, files: &[(&str, String)]) -> Result<Vec<u8>, SheetError> {
    set_with(template, data, files.iter().map(|(name, text)| ((*name).to_owned(), text.clone().into_bytes())).collect())?.pdf()
}

/// A paper set from a template that reads nothing but `data`.
pub(crate) fn set(template: &'static str, data: &impl Serialize) -> Result<Set, SheetError> {
    set_with(template, data, Vec::new())
}

/// A paper set from a template that reads `data` and other files of any kind.
pub(crate) fn set_with(template: &'static str, data: &impl Serialize, mut files: Vec<(String, Vec<u8>)>) -> Result<Set, SheetError> {
    let json = serde_json::to_vec(data).map_err(|error| SheetError::Typeset(error.to_string()))?;
    files.push(("sheet.json".to_owned(), json));
    let engine = TypstEngine::builder()
        .main_file(template)
        .fonts([REGULAR, SEMIBOLD, ITALIC])
        .with_static_source_file_resolver([COMMON])
        .with_static_file_resolver(files.iter().map(|(name, bytes)| (name.as_str(), bytes.clone())))
        .build();
    engine.compile().output.map(Set).map_err(|error| SheetError::Typeset(error.to_string()))
}
