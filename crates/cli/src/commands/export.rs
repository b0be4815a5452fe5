//! `export`: files for other programs.

use std::process::ExitCode;

use casewright_sheets::exchange::{Format, export};

use crate::arguments::{ExportWords, Form, Input};
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Folder};

/// Writes them into a folder.
pub fn run(input: &Input, words: &ExportWords) -> Result<ExitCode, Failure> {
    let Case { design, model, solids } = load::case(input)?;
    let format = match words.form {
        Form::Dxf => Format::Dxf,
        Form::Svg => Format::Svg,
        Form::Gltf => Format::Gltf,
        Form::Stl => Format::Stl,
        Form::ThreeMf => Format::ThreeMf,
        Form::Step => Format::Step,
    };
    let files = export(&design, &model, &solids, format, words.date.as_deref()).map_err(|error| Failure::told(error.to_string()))?;
    let folder = Folder::made(&words.out)?;
    let mut told = Vec::new();
    for file in files {
        told.push(format!("{}\n", folder.write(&file.name, &file.bytes)?));
    }
    output::print(&told.concat())?;
    Ok(ExitCode::SUCCESS)
}
