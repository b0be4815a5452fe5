//! `export`: files for other programs.

use std::fs;
use std::path::Path;
use std::process::ExitCode;

use casewright_sheets::exchange::{Format, export};

use crate::arguments::{ExportWords, Form, Input};
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output;

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
    let fail = |path: &Path, error: &std::io::Error| Failure::told(format!("{}: it can't be written: {error}", path.display()));
    fs::create_dir_all(&words.out).map_err(|error| fail(&words.out, &error))?;
    let mut told = Vec::new();
    for file in files {
        let path = words.out.join(&file.name);
        fs::write(&path, file.bytes).map_err(|error| fail(&path, &error))?;
        told.push(format!("{}\n", path.display()));
    }
    output::print(&told.concat())?;
    Ok(ExitCode::SUCCESS)
}
