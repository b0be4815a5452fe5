//! `casewright-cli`: the pipeline without a window.

mod arguments;
mod commands;
mod failure;
mod find;
mod load;
mod output;
mod wood;

use std::process::ExitCode;

use clap::Parser;

use arguments::{Arguments, Command};

fn main() -> ExitCode {
    let outcome = match Arguments::parse().command {
        Command::Boards { input, words } => commands::boards::run(&input, &words),
        Command::Check { input, json, why } => commands::check::run(&input, json, why),
        Command::Parts { input, format } => commands::parts::run(&input, format.wanted()),
        Command::Compare { input, of, json } => commands::compare::run(&input, of, json),
        Command::Draw { input, words } => commands::draw::run(&input, &words),
        Command::Export { input, words } => commands::export::run(&input, &words),
        Command::Explain { input, part } => commands::explain::run(&input, &part),
        Command::Holds { input, words } => commands::holds::run(&input, &words),
        Command::Milled { input, words } => commands::milled::run(&input, &words),
        Command::Loads { input, json, why } => commands::loads::run(&input, json, why.as_deref()),
        Command::Order { input, json } => commands::order::run(&input, json),
        Command::Propose { input, take, out, json } => commands::propose::run(&input, take, out.as_deref(), json),
        Command::Rod { input, words } => commands::rod::run(&input, &words),
        Command::Sizes { input, json } => commands::sizes::run(&input, json),
        Command::Cost { input, json, csv, why, stock } => commands::cost::run(&input, (json, csv), why, &stock),
        Command::Takeoff { input, json, csv, why } => commands::takeoff::run(&input, (json, csv), why),
        Command::Lay { file, words } => commands::lay::run(&file, &words),
        Command::Wood { sum } => wood::run(&sum),
        Command::Cards { input, json } => commands::cards::run(&input, json),
        Command::Packet { input, words } => commands::packet::run(&input, &words),
        Command::Papers { input, words } => commands::packet::papers(&input, &words),
    };
    match outcome {
        Ok(code) => code,
        Err(failure) => failure.report(),
    }
}
