//! A case for a small sum: of a design, with what its derived case does not have yet.

use std::path::PathBuf;

use casewright_core::loads::Standing;
use casewright_core::{Design, Model};
use clap::Args;

use crate::arguments::Input;
use crate::failure::Failure;
use crate::load::{self, Case, OwnTimber};

/// A design instead of figures.
#[derive(Debug, Args)]
pub struct OfCase {
    /// Take masses and sizes from a design, a .ron file
    #[arg(long = "case", value_name = "FILE")]
    pub file: Option<PathBuf>,
    /// Try another decision of that design, as often as wanted
    #[arg(long = "with", value_name = "NAME=VALUE", value_parser = crate::arguments::name_and_value, allow_hyphen_values = true, requires = "file")]
    with: Vec<(String, String)>,
    #[command(flatten)]
    own: OwnTimber,
}

impl OfCase {
    /// How the case of the design stands; nothing where none is named.
    ///
    /// # Errors
    /// When the design can't be read, or is no case that stands on posts.
    pub fn standing(&self) -> Result<Option<(Design, Model, Standing)>, Failure> {
        let Some(file) = &self.file else { return Ok(None) };
        let input = Input { file: file.clone(), with: self.with.clone(), own: self.own.clone() };
        let Case { design, model, solids } = load::case(&input)?;
        let standing = Standing::of(&design, &model, &solids)
            .ok_or_else(|| Failure::told(format!("--case {}: it is no case that stands on posts and has a weight", file.display())))?;
        let standing = standing.filled(&design, &model);
        Ok(Some((design, model, standing)))
    }
}
