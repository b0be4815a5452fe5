//! A row for one decision: its words, and a field that fits its kind.

use std::cell::RefCell;

use casewright_core::design::decisions::{BY_RULE, Decision, Spec, Takes, Unit, Value};
use casewright_core::length::{parse, trimmed};
use egui::text::{CCursor, CCursorRange};
use egui::{Align, DragValue, Event, Id, Key, Layout, Response, RichText, Ui, vec2};

use super::{Out, words};
use crate::ask::{Ask, new_gesture};
use crate::theme;

/// A row: words on the left, the field on the right, and below it why a text would not do.
pub fn row(ui: &mut Ui, decision: &Decision, out: &mut Out) {
    row_with(ui, decision, &decision.spec.label, out, |_, _| {});
}

/// A row under words of its own, with more on its right end.
pub fn row_with(ui: &mut Ui, decision: &Decision, label: &str, out: &mut Out, more: impl FnOnce(&mut Ui, &mut Out)) {
    ui.push_id(&decision.spec.path, |ui| {
        let row = vec2(ui.available_width(), theme::ROW);
        ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
            more(ui, out);
            by_rule(ui, decision, out);
            let response = field(ui, decision, width_of(&decision.value, ui.available_width()), out);
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let (shown, cut_off) = words::in_rows(ui, label, theme::body(), theme::PENCIL, 1);
                out.cut_off.extend(cut_off.then(|| label.to_owned()));
                shown.on_hover_text(meaning(&decision.spec)).labelled_by(response.id);
            });
        });
        problem(ui, &decision.spec.path);
    });
}

/// Beside a size that follows a rule: that it does, or the way back to it.
fn by_rule(ui: &mut Ui, decision: &Decision, out: &mut Out) {
    let Value::Ruled { own, rule } = decision.value else { return };
    let back = ui.add_enabled(own.is_some(), egui::Button::new(RichText::new(BY_RULE).font(theme::small())));
    if back.on_hover_text(format!("The rule gives {rule} mm where there is room for it.")).clicked() {
        out.ask(Ask::set(&decision.spec.path, BY_RULE));
    }
}

/// Words are as wide as the row has room for beside its label.
fn width_of(value: &Value, row: f32) -> f32 {
    match value {
        Value::Length(_) | Value::Ruled { .. } | Value::Number(_) | Value::Count(_) => theme::FIELD_WIDTH,
        Value::Choice { .. } | Value::Text(_) => (row * 0.55).max(150.0),
    }
}

/// The field alone.
pub fn field(ui: &mut Ui, decision: &Decision, width: f32, out: &mut Out) -> Response {
    let Decision { spec, value } = decision;
    let response = match value {
        Value::Length(_) | Value::Ruled { .. } | Value::Number(_) | Value::Count(_) => figure(ui, spec, value, width, out),
        Value::Choice { word, options } => choice(ui, spec, word, options, width, out),
        Value::Text(text) => free_text(ui, spec, text, width, out),
    };
    out.mark(&spec.path, response.rect);
    response
}

/// What a decision means and from where to where it may go.
pub fn meaning(spec: &Spec) -> String {
    match &spec.range {
        Some(range) => format!("{}\n{}", spec.meaning, span(spec, *range.start(), *range.end())),
        None => spec.meaning.to_owned(),
    }
}

fn span(spec: &Spec, least: f64, greatest: f64) -> String {
    format!("{} to {} {}", trimmed(least), trimmed(greatest), spec.unit.suffix()).trim_end().to_owned()
}

fn figure(ui: &mut Ui, spec: &Spec, value: &Value, width: f32, out: &mut Out) -> Response {
    let old = value.number().unwrap_or_default();
    let mut number = old;
    let range = spec.range.clone().unwrap_or(f64::MIN..=f64::MAX);
    let refused = RefCell::new(None);
    let read = |text: &str| match read(spec, text) {
        // Left as it was shown, it stays what it is: more may be known than is shown.
        _ if text.trim() == trimmed(old) => {
            refused.replace(Some(None));
            None
        }
        Ok(number) => {
            refused.replace(Some(None));
            Some(number)
        }
        Err(why) => {
            refused.replace(Some(Some(why)));
            None
        }
    };
    let drag = DragValue::new(&mut number)
        .range(range.clone())
        .clamp_existing_to_range(false)
        .speed(speed(spec.unit, range.end() - range.start()))
        .max_decimals(if matches!(value, Value::Count(_)) { 0 } else { 2 })
        .prefix(egui::Atom::grow())
        .suffix(spec.unit.behind())
        .custom_formatter(|number, _| trimmed(number))
        .custom_parser(read)
        .update_while_editing(false);
    let response = ui.add_sized(vec2(width, theme::ROW - 2.0), drag).on_hover_text(meaning(spec));
    if ui.data_mut(|data| data.remove_temp::<()>(write_in_id(&spec.path))).is_some() {
        write_over(ui, &response, &trimmed(old));
    }
    if let Some(why) = refused.into_inner() {
        ui.data_mut(|data| data.insert_temp(problem_id(&spec.path), why));
    } else if response.has_focus() && ui.input(written) {
        // It was said of another text.
        ui.data_mut(|data| data.remove_temp::<Option<String>>(problem_id(&spec.path)));
    }
    if response.drag_started() {
        ui.data_mut(|data| data.insert_temp(gesture_id(&spec.path), new_gesture()));
    }
    if response.changed() && number.to_bits() != old.to_bits() {
        let gesture = if response.dragged() { ui.data(|data| data.get_temp(gesture_id(&spec.path))) } else { None };
        if response.dragged() {
            ui.data_mut(|data| data.insert_temp(problem_id(&spec.path), None::<String>));
        }
        out.ask(Ask::Set { path: spec.path.clone(), text: number.to_string(), gesture });
    }
    response
}

/// How far a figure goes for each pixel of a drag: fine where the whole range is small.
fn speed(unit: Unit, range: f64) -> f64 {
    match unit.takes() {
        Takes::Whole => 0.1,
        Takes::Length | Takes::Number => match range {
            r if r <= 2.0 => 0.01,
            r if r <= 25.0 => 0.05,
            r if r <= 120.0 => 0.1,
            r if r <= 700.0 => 0.5,
            _ => 1.0,
        },
    }
}

/// What was typed, or why it will not do.
fn read(spec: &Spec, text: &str) -> Result<f64, String> {
    let bare = text.trim();
    let suffix = spec.unit.suffix();
    let number = match spec.unit.takes() {
        Takes::Length => {
            let mm = parse(bare).map_err(|error| format!("“{bare}” is no length: {}", error.expected()))?.to_mm();
            // Inches leave a dust of binary digits behind the last that was meant.
            (mm * 1e9).round() / 1e9
        }
        Takes::Whole => bare.parse::<u32>().map(f64::from).map_err(|_| format!("“{bare}” will not do: write a whole number"))?,
        Takes::Number => {
            let number = bare.strip_suffix(suffix).unwrap_or(bare).trim().replace(',', ".").parse::<f64>();
            number.ok().filter(|number| number.is_finite()).ok_or_else(|| format!("“{bare}” will not do: write a number"))?
        }
    };
    match &spec.range {
        Some(range) if !range.contains(&number) => {
            Err(format!("{} is out of range: {}", trimmed(number), span(spec, *range.start(), *range.end())))
        }
        _ => Ok(number),
    }
}

fn choice(ui: &mut Ui, spec: &Spec, word: &str, options: &[(String, String)], width: f32, out: &mut Out) -> Response {
    let shown = options.iter().find(|(option, _)| option == word).map_or(word, |(_, label)| label.as_str());
    let combo = egui::ComboBox::from_id_salt("choice").width(width).truncate().selected_text(shown);
    // In a place of its own: a long word would else push the row apart.
    let place = ui.allocate_ui_with_layout(vec2(width, theme::ROW - 2.0), Layout::left_to_right(Align::Center), |ui| {
        ui.set_max_width(width);
        combo.show_ui(ui, |ui| {
            ui.set_min_width(width.max(220.0));
            for (option, label) in options {
                if ui.selectable_label(option == word, label).clicked() && option != word {
                    out.ask(Ask::set(&spec.path, option));
                }
            }
        })
    });
    place.inner.response.on_hover_text(format!("{shown}\n{}", meaning(spec)))
}

fn free_text(ui: &mut Ui, spec: &Spec, text: &str, width: f32, out: &mut Out) -> Response {
    let mut written = text.to_owned();
    let edit = egui::TextEdit::singleline(&mut written).margin(vec2(8.0, 3.0));
    let response = ui.add_sized(vec2(width, theme::ROW - 2.0), edit).on_hover_text(meaning(spec));
    if response.gained_focus() {
        ui.data_mut(|data| data.insert_temp(gesture_id(&spec.path), new_gesture()));
    }
    if response.changed() {
        let gesture = ui.data(|data| data.get_temp(gesture_id(&spec.path)));
        out.ask(Ask::Set { path: spec.path.clone(), text: written, gesture });
    }
    response
}

/// Whether a text was changed by a key in this pass.
fn written(input: &egui::InputState) -> bool {
    input.events.iter().any(|event| {
        matches!(event, Event::Text(_) | Event::Paste(_) | Event::Key { key: Key::Backspace | Key::Delete, pressed: true, .. })
    })
}

/// Asks that the field of that decision be written in as soon as it is there.
pub fn write_in(ui: &Ui, path: &str) {
    ui.data_mut(|data| data.insert_temp(write_in_id(path), ()));
}

/// Begins to write in a field, all that stands there chosen, so that what is typed takes its place.
fn write_over(ui: &Ui, field: &Response, text: &str) {
    field.request_focus();
    field.scroll_to_me(None);
    let mut state = egui::TextEdit::load_state(ui.ctx(), field.id).unwrap_or_default();
    state.cursor.set_char_range(Some(CCursorRange::two(CCursor::default(), CCursor::new(text.chars().count()))));
    state.store(ui.ctx(), field.id);
}

fn write_in_id(path: &str) -> Id {
    Id::new(("write in", path))
}

/// Why the last text in a field would not do.
pub fn problem(ui: &mut Ui, path: &str) {
    if let Some(Some(why)) = ui.data(|data| data.get_temp::<Option<String>>(problem_id(path))) {
        ui.label(RichText::new(why).font(theme::small()).color(theme::FAIL));
    }
}

fn problem_id(path: &str) -> Id {
    Id::new(("problem", path))
}

fn gesture_id(path: &str) -> Id {
    Id::new(("gesture", path))
}

#[cfg(test)]
mod tests {
    use super::super::Stage;
    use super::*;
    use casewright_core::design::decisions;

    fn spec(path: &str) -> Spec {
        let found = decisions::list(&crate::demo()).into_iter().find(|decision| decision.spec.path == path);
        found.expect("a decision of the demo").spec
    }

    /// A maker reads every label whole, on the sheet of the stage on which it stands.
    #[test]
    fn no_label_is_cut_off() {
        let mut design = crate::demo();
        for (path, kind) in [("joinery.rail_to_post.by", "mortise_and_tenon"), ("joinery.stile_to_rail.by", "dowels")] {
            decisions::set(&mut design, path, kind).expect("a kind of joint");
        }
        let context = egui::Context::default();
        theme::apply(&context);
        let _ = context.run_ui(egui::RawInput::default(), |_| {});
        let mut out = Out::default();
        let all = decisions::list(&design);
        let _ = context.run_ui(egui::RawInput::default(), |ui| {
            for stage in Stage::ALL {
                let width = super::super::stage::width(stage) - 2.0 * f32::from(theme::MARGIN) - 12.0;
                let of_stage = all.iter().filter(|decision| Some(decision.spec.stage) == stage.decisions());
                // What the maker names is as long as the maker makes it.
                for decision in of_stage.filter(|decision| !decision.spec.path.starts_with("money.")) {
                    ui.scope(|ui| {
                        ui.set_max_width(width);
                        row(ui, decision, &mut out);
                    });
                }
            }
        });
        assert!(!all.is_empty());
        assert_eq!(out.cut_off, Vec::<String>::new());
    }

    #[test]
    fn inches_are_taken_and_what_is_no_length_is_told() {
        let width = spec("carcase.width");
        assert_eq!(read(&width, "48 in").map(|mm| mm.to_string()), Ok("1219.2".to_owned()));
        assert!(read(&width, "wide").expect_err("no length").contains("millimetres"));
        assert_eq!(read(&width, "9000"), Err("9000 is out of range: 200 to 4000 mm".to_owned()));
        assert_eq!(read(&spec("timber.moisture.built"), "8,5 %"), Ok(8.5));
        assert!(read(&spec("sawtooth.slats.count"), "2.5").is_err());
    }
}
