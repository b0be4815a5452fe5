//! The season slider: the case from its driest to its wettest, and what moves most.

use casewright_core::design::{self as moistures, Moisture};
use casewright_core::length::trimmed_to;
use casewright_core::model::{Model, Part, PartKind};
use casewright_core::seasons::{growth, overhangs};
use casewright_core::timber::Movement;
use casewright_core::worked::Worked;
use egui::{Align2, Ui, pos2};

use super::line::Line;
use super::{Out, View, words};
use crate::ask::{Ask, Season};
use crate::theme;

/// How many times larger than true it is drawn on request.
const LARGER: f64 = 10.0;
/// So many changes are named.
const NAMED: usize = 6;
/// A press of an arrow key goes so far, % moisture.
const PRESS: f64 = 0.25;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let moisture = &view.session.design().timber.moisture;
    let season = *view.season;
    let range = Range::of(moisture);
    words::group(ui, "Season");
    if range.most - range.least <= f64::EPSILON {
        words::small(ui, "Driest and wettest are the same: nothing moves.");
        return;
    }
    let now = season.moisture.unwrap_or(moisture.built);
    let built = range.share(moisture.built);
    let line = Line { name: "Season", mark: "season", length: (ui.available_width() - 8.0).min(300.0), at: range.share(now) };
    let ticks = [(0.0, 6.0), (built, 6.0), (1.0, 6.0)];
    let step = |at: f32, by: f32| (at + by * (PRESS / (range.most - range.least)) as f32).clamp(0.0, 1.0);
    let (rect, wanted) = line.ui(ui, ticks.into_iter(), step, out);
    if let Some(at) = wanted {
        out.ask(Ask::Season(Season { moisture: Some(range.at(at)), ..season }));
    }
    for (at, align, word, percent) in
        [(0.0, Align2::LEFT_CENTER, "driest", range.least), (1.0, Align2::RIGHT_CENTER, "wettest", range.most)]
    {
        let place = pos2(rect.left() + rect.width() * at, rect.bottom());
        let text = format!("{word} {} %", trimmed_to(percent, 1));
        let told = ui.painter().text(place, align, text, theme::small(), theme::PENCIL_SOFT);
        let off = |season: &moistures::Season| (moisture.at(*season) - percent).abs();
        let season = moistures::Season::ALL.into_iter().min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or_default();
        words::asked(ui.interact(told, ui.id().with(word), egui::Sense::hover()), [&moisture.worked(season)]);
    }
    ui.add_space(10.0);
    told(ui, view, moisture, now, out);
}

/// What the case is at, how it is drawn, and what has moved most.
fn told(ui: &mut Ui, view: &View<'_>, moisture: &Moisture, now: f64, out: &mut Out) {
    let season = *view.season;
    let as_built = (now - moisture.built).abs() < 0.005;
    ui.horizontal_wrapped(|ui| {
        words::strong(
            ui,
            if as_built { format!("As built, {} %", trimmed_to(moisture.built, 1)) } else { format!("At {} %", trimmed_to(now, 1)) },
        );
        if !as_built {
            let back = words::link(ui, "As built");
            out.mark("season.built", back.rect);
            if back.clicked() {
                out.ask(Ask::Season(Season { moisture: None, ..season }));
            }
        }
        let (text, times) = if season.times > 1.0 { ("Draw it true", 1.0) } else { ("Draw it 10 times larger", LARGER) };
        let other = words::link(ui, text);
        out.mark("season.times", other.rect);
        if other.clicked() {
            out.ask(Ask::Season(Season { times, ..season }));
        }
    });
    words::small(
        ui,
        if season.times > 1.0 { "Movement is drawn 10 times larger than true; figures are true." } else { "Movement is drawn true." },
    );
    if view.sag.shown.is_some() {
        words::small(
            ui,
            format!("The sag is drawn too, {} times larger than true; Dry fit draws it straight.", trimmed_to(view.sag.times, 0)),
        );
    }
    if as_built {
        words::small(ui, "Nothing has moved since it was built.");
        return;
    }
    if let Some(margin) = moisture.margin() {
        let [below, above] = [-margin.below, margin.above].map(|by| trimmed_to(by, 1));
        words::small(
            ui,
            format!(
                "The moistures come from the air, by one curve for all species: some were seen up to {below} % below it, some up to {above} % above."
            ),
        );
    }
    for (text, change) in changes(&view.derived.model, moisture.built, now) {
        words::why(ui, &text, &change);
    }
    for overhang in overhangs(&view.derived.model, moisture) {
        words::why(ui, &format!("Top: {}", overhang.words()), &overhang.why);
    }
}

/// The greatest changes, one for equal parts, in words and with what they rest on.
fn changes(model: &Model, from: f64, to: f64) -> Vec<(String, Worked)> {
    let mut all: Vec<(f64, &Part)> = Vec::new();
    for (part, growth) in model.parts.iter().zip(growth(model, from, to)) {
        let hidden = matches!(part.kind, PartKind::LooseTenon | PartKind::Dowel);
        if hidden || all.iter().any(|(_, other)| other.mark == part.mark) {
            continue;
        }
        all.push((part.lwt().y * growth.y, part));
    }
    all.sort_by(|a, b| b.0.abs().total_cmp(&a.0.abs()));
    let told = |(by, part): &(f64, &Part)| {
        let sign = if *by > 0.0 { "+" } else { "−" };
        let (kind, _) = part.kind.words();
        format!("{kind}: width {} {sign}{} mm", trimmed_to(part.lwt().y, 1), trimmed_to(by.abs(), 2))
    };
    let seen: Vec<(f64, &Part)> = all.into_iter().filter(|(by, _)| by.abs() >= 0.005).collect();
    // What is told alike stands in one line: slats of five lengths and one width.
    let lines = seen.chunk_by(|a, b| told(a) == told(b)).take(NAMED);
    lines
        .filter_map(|alike| {
            let (first, marks) = (alike.first()?, alike.iter().map(|(_, part)| part.mark.as_str()).collect::<Vec<_>>());
            let [_, width, _] = Movement::of(first.1, &model.timbers, from, to).change;
            Some((format!("{} {}", marks.join(", "), told(first)), width))
        })
        .collect()
}

/// From the least to the greatest moisture, the built one among them.
struct Range {
    least: f64,
    most: f64,
}

impl Range {
    fn of(moisture: &Moisture) -> Range {
        let all = [moisture.built, moisture.driest(), moisture.wettest()];
        Range { least: all.into_iter().fold(f64::INFINITY, f64::min), most: all.into_iter().fold(f64::NEG_INFINITY, f64::max) }
    }

    fn share(&self, moisture: f64) -> f32 {
        ((moisture - self.least) / (self.most - self.least)).clamp(0.0, 1.0) as f32
    }

    fn at(&self, share: f32) -> f64 {
        self.least + f64::from(share) * (self.most - self.least)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_top_moves_most_and_equal_parts_are_named_once() {
        let design = crate::demo();
        let model = casewright_core::derive(&design).expect("the demo");
        let (built, wettest) = (design.timber.moisture.built, design.timber.moisture.wettest());
        let told: Vec<String> = changes(&model, built, wettest).into_iter().map(|(text, _)| text).collect();
        assert!(told[0].contains("op: width") && told[0].contains('+'), "{told:?}");
        let mut lines = told.clone();
        let is_mark = |word: &&str| word.trim_end_matches(',').ends_with(|letter: char| letter.is_ascii_digit());
        lines.dedup_by_key(|line| line.split(' ').skip_while(is_mark).collect::<Vec<_>>().join(" "));
        assert_eq!(lines.len(), told.len(), "what moves alike stands in one line: {told:?}");
        assert!(changes(&model, built, built).is_empty());
    }
}
