//! `rod`: the setting-out rod and the templates as files.

use std::path::PathBuf;
use std::process::ExitCode;

use casewright_sheets::drawing::{Sheet, svg};
use casewright_sheets::exchange::template_files;
use casewright_sheets::{Over, SheetError, rod_pages, rod_pdf, template_pages, templates_pdf};
use clap::{Args, ValueEnum};

use crate::arguments::Input;
use crate::commands::draw::Figures;
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Folder};

/// What is asked of `rod`.
#[derive(Debug, Args)]
pub struct RodWords {
    /// The folder; it is made where it is not there
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// The paper that is laid together
    #[arg(long, value_enum, default_value_t)]
    sheet: Tile,
    /// How figures are written.
    #[command(flatten)]
    figures: Figures,
}

/// A sheet that any printer takes.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum Tile {
    #[default]
    A4,
    Letter,
}

/// Writes rod and templates into a folder.
pub fn run(input: &Input, words: &RodWords) -> Result<ExitCode, Failure> {
    let Case { design, model, .. } = load::case(input)?;
    let drafting = words.figures.on(match words.sheet {
        Tile::A4 => Sheet::A4,
        Tile::Letter => Sheet::Letter,
    });
    let fail = |error: SheetError| Failure::told(error.to_string());
    let mut files: Vec<(String, Vec<u8>)> = Vec::new();
    for (over, name) in [(Over::Sheets, ""), (Over::OnePage, "_long")] {
        files.push((format!("rod{name}.pdf"), rod_pdf(&design, &model, &drafting, over).map_err(fail)?));
        match templates_pdf(&design, &model, &drafting, over) {
            Ok(bytes) => files.push((format!("templates{name}.pdf"), bytes)),
            // Not every case has something that is cut to a line.
            Err(SheetError::Empty) => {}
            Err(error) => return Err(fail(error)),
        }
    }
    let pages = [rod_pages(&model, &drafting, Over::OnePage), template_pages(&model, &drafting, Over::OnePage)];
    files.extend(pages.iter().flatten().map(|page| (format!("{}.svg", page.name), svg(page).into_bytes())));
    let outlines = template_files(&model).map_err(|error| Failure::told(error.to_string()))?;
    files.extend(outlines.into_iter().map(|file| (file.name, file.bytes)));
    let folder = Folder::made(&words.out)?;
    let mut told = Vec::new();
    for (name, bytes) in files {
        told.push(folder.write(&name, &bytes)?);
    }
    output::print(&format!("{}\n", told.join("\n")))?;
    Ok(ExitCode::SUCCESS)
}
