//! `loads`: how far each shelf sags, how hard parts are stressed, whether the case stands, and what two must lift.

use std::fmt::Write as _;
use std::process::ExitCode;

use casewright_core::length::{trimmed_to, years};
use casewright_core::loads::{self, Bending, Lift, Shelf, Standing, UnderLoad, When};
use casewright_core::model::PartId;
use casewright_core::sentence::capital;
use casewright_core::stability::{Anchor, CAUTIONS};
use casewright_core::strength::GRAVITY;
use casewright_core::worked::{SIGN, Worked};
use casewright_core::{Design, Model, Sequence};
use casewright_sheets::json;

use crate::arguments::Input;
use crate::commands::check::count;
use crate::failure::Failure;
use crate::find;
use crate::load::{self, Case};
use crate::output::{self, Align};

/// Prints the case under its load, or why one part of it sags so far.
pub fn run(input: &Input, as_json: bool, why: Option<&str>) -> Result<ExitCode, Failure> {
    let Case { design, model, solids } = load::case(input)?;
    let (under, standing) = loads::of_case(&design, &model, &solids);
    let lifts = || loads::lifts(&design, &model, &solids, &Sequence::of(&design, &model, &solids));
    if let Some(wanted) = why {
        let told = match (Word::of(wanted), &standing) {
            (Some(Word::Lift), _) => why_lifted(&design, &lifts()),
            (Some(Word::Tipping), Some(standing)) => why_it_tips(standing),
            (Some(Word::Mass), Some(standing)) => explained(
                &standing.weighs.iter().chain(standing.filled.iter().map(|filled| &filled.weighs)).map(|it| (None, it)).collect::<Vec<_>>(),
            ),
            (Some(Word::Tipping | Word::Mass), None) => "This is no case that stands on posts\n".to_owned(),
            (None, _) => {
                let parts = find::parts(input, &model, wanted)?;
                parts.iter().map(|part| reasons(&design, &model, &under, part.id)).collect::<Vec<_>>().join("\n")
            }
        };
        output::print(&told)?;
        return Ok(ExitCode::SUCCESS);
    }
    let lifts = lifts();
    if as_json {
        output::print_json(&json::loads(&design, &model, &under, standing.as_ref(), &lifts))?;
    } else {
        output::print(&told(&design, &model, &under, standing.as_ref(), &lifts))?;
    }
    Ok(ExitCode::SUCCESS)
}

/// What may be asked of the whole case.
#[derive(Clone, Copy)]
enum Word {
    Tipping,
    Mass,
    Lift,
}

impl Word {
    fn of(wanted: &str) -> Option<Word> {
        let words = [("tipping", Word::Tipping), ("mass", Word::Mass), ("lift", Word::Lift)];
        words.into_iter().find(|(word, _)| wanted.eq_ignore_ascii_case(word)).map(|(_, word)| word)
    }
}

/// Each figure with what it rests on, under a line of its own where it needs one.
fn explained(figures: &[(Option<String>, &Worked)]) -> String {
    // A mass that several rest on is told once.
    let told: Vec<&Worked> = figures.iter().map(|(_, worked)| *worked).collect();
    let one = |(index, (head, worked)): (usize, &(Option<String>, &Worked))| {
        let lines = worked.explain_after(&told[..index]);
        let lines: Vec<String> = head.iter().cloned().chain(lines.iter().map(|line| format!("  {line}"))).collect();
        lines.join("\n") + "\n"
    };
    figures.iter().enumerate().map(one).collect::<Vec<_>>().join("\n")
}

/// Why each push tips it, how slender it is, and what its fixings hold.
fn why_it_tips(standing: &Standing) -> String {
    let pushes = standing.pushes.iter().map(|push| (Some(push.words()), &push.newtons));
    let slender = [(Some("How slender it is".to_owned()), &standing.slender)];
    let fixing = standing.fixing.iter().map(|fixing| (Some("Its fixings in the wall".to_owned()), &fixing.each));
    let weighs = standing.weighs.iter().chain(standing.filled.iter().map(|filled| &filled.weighs)).map(|mass| (None, mass));
    explained(&weighs.chain(pushes).chain(slender).chain(fixing).collect::<Vec<_>>())
}

/// Why each of what two must lift weighs what it does.
fn why_lifted(design: &Design, lifts: &[Lift]) -> String {
    if lifts.is_empty() {
        return format!("Nothing is over {} kg, which one lifts\n", trimmed_to(design.limits.lift, 1));
    }
    explained(&lifts.iter().map(|lift| (Some(lifted(design, std::slice::from_ref(lift))), &lift.kg)).collect::<Vec<_>>())
}

fn told(design: &Design, model: &Model, under: &UnderLoad, standing: Option<&Standing>, lifts: &[Lift]) -> String {
    let mut text = format!(
        "{}: every shelf under the heaviest of your boxes that it takes, for {}; made for {}; sag is that of the part alone, and \"in all\" how far it is then down after years at its lowest with all that bears it, mm\n\n",
        model.name,
        years(design.limits.years),
        design.limits.sag.made_for()
    );
    text += &shelves(design, model, under);
    text.push('\n');
    text += &others(design, model, under);
    for line in under.not_judged(model) {
        let _ = writeln!(text, "{line}");
    }
    text += &stressed(model, under);
    if let Some(standing) = standing {
        let _ = write!(text, "\n{}", stands(design, standing));
    }
    if !lifts.is_empty() {
        let _ = writeln!(text, "\nTwo lift what is over {} kg: {}", trimmed_to(design.limits.lift, 1), lifted(design, lifts));
    }
    text.push('\n');
    // Writing to a string can't fail.
    if standing.is_some_and(|standing| standing.can_hurt(&design.limits)) {
        for caution in CAUTIONS {
            let _ = writeln!(text, "{caution}");
        }
    }
    if text.contains('*') {
        let _ = writeln!(text, "{SIGN}.");
    }
    text += "Figures of timber are means of small clear pieces, no design values; --why PART, --why tipping, mass or lift tell where a figure comes from.\n";
    text
}

/// The heads of a table of what bends: what it is, what it bears, and the figures of [`figures`].
fn head(of: &'static str, bears: &'static str) -> [(&'static str, Align); 8] {
    [
        (of, Align::Left),
        (bears, Align::Right),
        ("Span", Align::Right),
        ("Sag", Align::Right),
        ("After years", Align::Right),
        ("Span over it", Align::Right),
        ("In all", Align::Right),
        ("", Align::Left),
    ]
}

/// Span, sag at once and after years, the span over that, how far it is down in all, and what is to be thought of it.
fn figures(design: &Design, bending: &Bending, in_all: f64) -> [String; 6] {
    let [at_once, after] = [bending.why_at_once(), bending.why_after()].map(|sag| format!("{}{}", trimmed_to(sag.value, 2), sag.sign()));
    [
        trimmed_to(bending.span(), 0),
        at_once,
        after,
        format!("L/{}", trimmed_to(bending.divisor(), 0)),
        trimmed_to(in_all, 2),
        design.limits.sag.words(bending.verdict()),
    ]
}

fn shelves(design: &Design, model: &Model, under: &UnderLoad) -> String {
    let rows: Vec<[String; 8]> = under
        .shelves(model)
        .into_iter()
        .map(|shelf| {
            let [span, sag, after, over, all, words] = figures(design, shelf.worst, shelf.in_all.down);
            [shelf_words(&shelf), trimmed_to(shelf.kg, 1), span, sag, after, over, all, words]
        })
        .collect();
    if rows.is_empty() { "There is no shelf.\n".to_owned() } else { output::table(head("Shelf", "kg"), &rows) }
}

/// "Shelf 1 of bay 2"; of one on pins the way in which it sags most for its length.
fn shelf_words(shelf: &Shelf<'_>) -> String {
    let name = capital(shelf.name);
    if shelf.worst.on_points() { format!("{name}, {}", shelf.worst.way()) } else { name }
}

/// What carries more than one shelf: rails and the top.
fn others(design: &Design, model: &Model, under: &UnderLoad) -> String {
    let sinking = under.sinking(model, When::After);
    let rows: Vec<[String; 8]> = under
        .bending
        .iter()
        .filter(|bending| bending.room.is_none())
        .map(|bending| {
            let [span, sag, after, over, all, words] =
                figures(design, bending, sinking.deepest(bending.part).map_or(0.0, |lowest| lowest.down));
            [model.part(bending.part).title.clone(), trimmed_to(bending.bears.total(), 0), span, sag, after, over, all, words]
        })
        .collect();
    if rows.is_empty() { String::new() } else { output::table(head("Part", "Load N"), &rows) + "\n" }
}

/// What is nearest to what may be asked of it for years.
fn stressed(model: &Model, under: &UnderLoad) -> String {
    let bent = under.bending.iter().flat_map(|it| [(it.part, "bent", it.bending()), (it.part, "sheared along its grain", it.shear())]);
    let held = under.rests.iter().flat_map(|rest| rest.stresses().into_iter().map(|(way, part, stress)| (part, way.words(), stress)));
    let all = bent.chain(held).filter_map(|(part, way, stress)| Some((stress.share()?, part, way, stress)));
    let Some((share, part, way, stress)) = all.max_by(|a, b| a.0.total_cmp(&b.0)) else { return String::new() };
    let sign = if stress.recalled { "*" } else { "" };
    format!(
        "Most stressed: {}, {way}, {} of the {}{sign} N/mm² that it should bear for years ({} %)\n",
        model.part(part).title,
        trimmed_to(stress.found, 2),
        stress.allowed.map_or_else(String::new, |allowed| trimmed_to(allowed, 2)),
        trimmed_to(share * 100.0, 0)
    )
}

fn stands(design: &Design, standing: &Standing) -> String {
    let whole = |value: f64| trimmed_to(value, 0);
    let [empty, loaded] = standing.weighs.each_ref().map(|kg| format!("{} kg{}", whole(kg.value), kg.aside()));
    let mut text = format!("Empty it weighs {empty}, with the heaviest boxes as high as they go {loaded}\n");
    if let Some(filled) = &standing.filled {
        let (kg, aside) = (whole(filled.weighs.value), filled.weighs.aside());
        let _ = writeln!(text, "With {} on its shelves as they lie it weighs {kg} kg{aside}", filled.words());
    }
    let (governing, others) = standing.governing();
    for push in governing {
        let _ = writeln!(text, "{} ({} kg){}", push.words(), trimmed_to(push.newtons.value / GRAVITY, 1), push.newtons.aside());
    }
    if others > 0 {
        let _ = writeln!(text, "The other {others} ways in which it may be pushed over need more; --json lists them");
    }
    let reasons: Vec<String> = standing.reasons.iter().map(Anchor::words).collect();
    let held = match (&standing.fixing, reasons.is_empty()) {
        (Some(fixing), _) => format!(
            "Anchored: {} at {} mm must each hold a pull of {} N, chosen by local code and licensed practice\n",
            count(fixing.count as usize, "fixing"),
            whole(fixing.height),
            whole(fixing.each.value)
        ),
        (None, false) => format!("Anchor it: {}\n", reasons.join("; ")),
        (None, true) => format!(
            "Level and forward it stands by itself, with {} N or more at its top edge, and is {} times as high as deep\n",
            whole(design.limits.push),
            trimmed_to(standing.slender.value, 1)
        ),
    };
    text.push_str(&held);
    if standing.fixing.is_none() {
        for leans in standing.leans_on(&design.limits) {
            let _ = writeln!(text, "{leans}");
        }
    }
    if !standing.not_weighed.is_empty() {
        let _ = writeln!(text, "{} of no known density left out", count(standing.not_weighed.len(), "part"));
    }
    text
}

/// "Top (31 kg, step 12), the empty case (71 kg)".
fn lifted(design: &Design, lifts: &[Lift]) -> String {
    let one = |lift: &Lift| {
        let step = lift.step.map_or_else(String::new, |step| format!(", step {}", step + 1));
        let people = lift.too_heavy_for_two(design);
        format!("{} ({} kg{step}{people}){}", lift.what, trimmed_to(lift.mass.kg, 0), lift.kg.aside())
    };
    lifts.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// Why a part sags so far, what it bears and how it is stressed.
fn reasons(design: &Design, model: &Model, under: &UnderLoad, part: PartId) -> String {
    let title = &model.part(part).title;
    let lacking = under.unjudged.iter().filter(|one| one.part == part);
    let lacking: Vec<String> = lacking.map(|one| format!("  {} not judged: {}", one.asked.words(), one.why)).collect();
    let Some(bending) = under.of_part(part) else {
        let why = if lacking.is_empty() { ": nothing bends it here".to_owned() } else { format!("\n{}", lacking.join("\n")) };
        return format!("{title}{why}\n");
    };
    let mut lines = vec![title.clone()];
    lines.extend(lacking);
    let mut tell = |worked: &Worked| {
        lines.push(String::new());
        lines.extend(worked.explain().iter().map(|line| format!("  {line}")));
    };
    for bending in std::iter::once(bending).chain(under.all_of_part(part).skip(1)) {
        let (stress, allowed) = bending.why_bending();
        let (shear, allowed_shear) = bending.why_shear();
        let load = under.why_bears(design, bending);
        tell(&load.clone().named(format!("{}, {}", load.name, bending.way())));
        let all = [bending.why_after()].into_iter().chain(bending.why_by_eurocode()).chain([stress]);
        all.chain(allowed).chain([shear]).chain(allowed_shear).for_each(|worked| tell(&worked));
    }
    under.why_in_all(model, part).iter().for_each(&mut tell);
    for rest in under.rests.iter().filter(|rest| rest.part == part) {
        let on = &model.part(rest.on).title;
        for (stress, allowed) in rest.why() {
            tell(&stress.clone().named(format!("on {on}: {}", stress.name)));
            allowed.iter().for_each(&mut tell);
        }
    }
    lines.join("\n") + "\n"
}
