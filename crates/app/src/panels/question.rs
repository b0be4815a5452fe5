//! A question that stands: a band under the rod, so that it hides nothing of the case.

use egui::{Frame, Margin, Panel, Ui};

use super::words;
use super::{Out, View};
use crate::ask::Ask;
use crate::files::{Answer, Next, Question};
use crate::theme;

/// Draws the question, where there is one.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let Some(question) = view.question else { return };
    let frame = Frame::new().fill(theme::CHALK_WASH).inner_margin(Margin::symmetric(theme::MARGIN, 9));
    Panel::top("question").show_separator_line(false).frame(frame).show(ui, |ui| {
        ui.horizontal_wrapped(|ui| {
            let answers: [(&str, &str, Answer); 3] = match question {
                Question::Unsaved(next) => {
                    words::strong(ui, unsaved(next));
                    let leave = match next {
                        Next::Quit => "Leave without saving",
                        Next::Open | Next::Take { .. } => "Open without saving",
                    };
                    [("Save", "answer.save", Answer::Save), (leave, "answer.leave", Answer::LeaveIt), ("Stay", "answer.stay", Answer::Stay)]
                }
                Question::Kept { .. } => {
                    words::strong(ui, "Changes from the last time were kept, but never saved.");
                    [
                        ("Take them", "answer.take", Answer::TakeKept),
                        ("Leave them", "answer.leave_kept", Answer::LeaveKept),
                        ("", "", Answer::Stay),
                    ]
                }
            };
            ui.add_space(10.0);
            for (text, name, answer) in answers.into_iter().filter(|(text, ..)| !text.is_empty()) {
                let response = words::button(ui, text);
                out.mark(name, response.rect);
                if response.clicked() {
                    out.ask(Ask::Answer(answer));
                }
            }
        });
    });
}

fn unsaved(next: &Next) -> &'static str {
    match next {
        Next::Open | Next::Quit => "There are changes that no file holds.",
        Next::Take { .. } => "You went on while the other design was being chosen: there are changes that no file holds.",
    }
}
