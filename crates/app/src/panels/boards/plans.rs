//! Board plans: what is cut from which board. A part pointed at lights up in the case, and one pointed at in the case lights up here;
//! a piece can be dragged to another place, where it stays.

use casewright_core::Length;
use casewright_core::boards::{Cutting, Group, Marked, Piece};
use casewright_core::design::pile::Stuff;
use casewright_core::design::placed::Placed;
use casewright_core::length::{trimmed, trimmed_to};
use casewright_core::model::PartId;
use egui::{Align, Id, Layout, Rect, RichText, Sense, Ui};

use super::super::{Out, View, words};
use super::drag::{Held, Room, Target};
use super::plan::{self, Plan};
use crate::ask::Ask;
use crate::laid::{Leaf, Sought};
use crate::theme;

/// Draws them.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let pile = &view.session.design().shop.pile;
    if pile.is_empty() {
        words::small(ui, "There is nothing on hand to lay the parts out on.");
        let there = words::button(ui, "Write down what is on hand");
        if there.clicked() {
            out.ask(Ask::Turn(Leaf::OnHand));
        }
        return;
    }
    let found = view.laid.found(view.derived.generation);
    progress(ui, view.laid, found.is_some_and(|cutting| cutting.groups.iter().any(|group| !group.proven)), out);
    let Some(cutting) = found else { return };
    told(ui, cutting);
    for group in &cutting.groups {
        how_good(ui, view, group);
    }
    let scale = plan::scale(pile.iter(), ui.available_width());
    let mut targets = Vec::new();
    for board in &cutting.boards {
        if let Some(stuff) = pile.get(board.entry) {
            words::rule(ui);
            targets.push(ui.push_id((board.entry, board.number), |ui| one(ui, view, stuff, board, scale, out)).inner);
        }
    }
    unused(ui, view, cutting, scale, &mut targets);
    in_hand(ui, view, &targets, out);
}

/// How far a search has come, and what can be asked of it; once it is over, whether better is left to be found.
pub(super) fn progress<T: Send + 'static>(ui: &mut Ui, sought: &Sought<T>, open: bool, out: &mut Out) {
    if sought.is_busy() {
        let told = match sought.searched() {
            Some(searched) => {
                let gap = searched.gap.map_or(String::new(), |gap| format!(", within {} % of the least", trimmed_to(gap * 100.0, 1)));
                format!("Laying out {} ({} of {}){gap}", searched.name, searched.nth[0], searched.nth[1])
            }
            None => "Being laid out".to_owned(),
        };
        words::small(ui, told);
        let stop = words::link(ui, "That will do");
        out.mark("plans.stop", stop.rect);
        if stop.clicked() {
            out.ask(Ask::LayOut { longer: false });
        }
    } else if open {
        let longer = words::link(ui, "Look for better ones, 20 seconds more");
        out.mark("plans.longer", longer.rect);
        if longer.clicked() {
            out.ask(Ask::LayOut { longer: true });
        }
    }
}

/// What has no place, and what is wrong with the pile.
pub(super) fn told(ui: &mut Ui, cutting: &Cutting) {
    for left in &cutting.left {
        ui.horizontal_wrapped(|ui| {
            words::sign_here(ui, casewright_core::Seriousness::WillFail);
            words::strong(ui, format!("{} × {}", left.count, left.mark));
            words::small(ui, &left.words);
        });
    }
    for told in &cutting.told {
        ui.horizontal_wrapped(|ui| {
            words::sign_here(ui, casewright_core::Seriousness::AtRisk);
            words::small(ui, told);
        });
    }
}

/// How many boards of a kind it takes, and how near that is to the least.
fn how_good(ui: &mut Ui, view: &View<'_>, group: &Group) {
    let cost = group.cost_words(&view.session.design().money.currency);
    words::pair(ui, &words::sentence(&group.name), |ui| {
        words::small(ui, format!("{}, {cost}; {}", words::counted(group.boards, "piece", "pieces"), group.proof_words()));
    });
}

/// A board with what is cut from it.
fn one<'a>(ui: &mut Ui, view: &View<'a>, stuff: &'a Stuff, board: &'a Marked, scale: f32, out: &mut Out) -> Target<'a> {
    head(ui, stuff, board.number);
    let plan = Plan::new(ui, view, stuff, scale);
    let painter = ui.painter_at(plan.rect.expand(1.0));
    bare(ui, &plan, stuff);
    plan.cuts(&painter, board);
    for (index, piece) in board.pieces.iter().enumerate() {
        let area = plan.area(piece.x, piece.y, piece.length, piece.width);
        out.mark(format!("plan.{}.{}.{}", board.entry + 1, board.number, index + 1), area);
        let is = |one: Option<PartId>| one.is_some_and(|one| piece.parts().any(|part| part == one));
        plan.piece(&painter, area, &piece.words, is(view.selection.part), is(view.pointed));
        if piece.by_hand {
            plan::pin(&painter, area);
        }
        grasp(ui, view, &plan, piece, area, out);
    }
    let by_hand: Vec<&Piece> = board.pieces.iter().filter(|piece| piece.by_hand).collect();
    if !by_hand.is_empty() {
        ui.horizontal_wrapped(|ui| {
            words::small(ui, "Laid by hand; let go of");
            for piece in by_hand {
                let free = words::link(ui, piece.words.as_str());
                out.mark(format!("plans.free.{}", piece.words), free.rect);
                if free.clicked()
                    && let Some(part) = view.derived.model.parts.get(piece.part.0)
                {
                    out.ask(Ask::TakeBack { part: part.name.clone(), piece: piece.piece });
                }
            }
        });
    }
    Target { stuff, number: board.number, plan, pieces: &board.pieces }
}

/// The name and size of a board.
fn head(ui: &mut Ui, stuff: &Stuff, number: usize) {
    let size = [stuff.length, stuff.width, stuff.thickness].map(|length| trimmed(length.to_mm())).join(" × ");
    let which = if stuff.count > 1 { format!(", {number} of {}", stuff.count) } else { String::new() };
    ui.horizontal(|ui| {
        words::strong(ui, format!("{}{which}", stuff.name));
        words::small(ui, size);
    });
}

fn bare(ui: &Ui, plan: &Plan, stuff: &Stuff) {
    let painter = ui.painter_at(plan.rect.expand(1.0));
    plan.board(&painter);
    plan.ends(&painter, stuff);
    for flaw in &stuff.flaws {
        plan.flaw(&painter, flaw, false);
    }
}

/// Where the piece in hand is kept from frame to frame.
fn held_id() -> Id {
    Id::new("piece in hand")
}

/// What the pointer does to a piece: point at it, select its part, take it in hand.
fn grasp(ui: &mut Ui, view: &View<'_>, plan: &Plan, piece: &Piece, area: Rect, out: &mut Out) {
    let response = ui.interact(area, Id::new(("piece", piece.part.0, piece.piece)), Sense::click_and_drag());
    if response.hovered() || response.dragged() {
        out.pointed = Some(piece.part);
    }
    if response.clicked() {
        out.ask(Ask::Select(Some(piece.part)));
    }
    if response.drag_started()
        && let Some(at) = ui.input(|input| input.pointer.press_origin())
    {
        let place = plan.place(at);
        let held = Held { piece: piece.clone(), grip: [place[0] - piece.x, place[1] - piece.y] };
        ui.data_mut(|data| data.insert_temp(held_id(), Some(held)));
    }
    let title = view.derived.model.parts.get(piece.part.0).map_or("", |part| part.title.as_str());
    let [length, width, x, y] = [piece.length, piece.width, piece.x, piece.y].map(|mm| trimmed_to(mm, 1));
    let by_hand = if piece.by_hand { "\nlaid by hand" } else { "" };
    response
        .on_hover_cursor(egui::CursorIcon::Grab)
        .on_hover_text(format!("{}: {title}\n{length} × {width} on the board, {x} along and {y} across{by_hand}", piece.words));
}

/// Shows where the piece in hand would lie, and lays it there when it is let go.
fn in_hand(ui: &mut Ui, view: &View<'_>, targets: &[Target<'_>], out: &mut Out) {
    let Some(held) = ui.data(|data| data.get_temp::<Option<Held>>(held_id())).flatten() else { return };
    let (down, at) = ui.input(|input| (input.pointer.any_down(), input.pointer.latest_pos()));
    let over = at.and_then(|at| held.over(targets, |stuff| Room::of(view.session.design(), stuff), at));
    if let Some((target, place)) = over {
        plan::held(ui.painter(), held.area(&target.plan, place));
    }
    if down {
        return;
    }
    ui.data_mut(|data| data.insert_temp(held_id(), None::<Held>));
    if let (Some((target, [x, y])), Some(part)) = (over, view.derived.model.parts.get(held.piece.part.0)) {
        out.ask(Ask::Place(Placed {
            part: part.name.clone(),
            piece: held.piece.piece,
            board: target.stuff.name.clone(),
            number: u32::try_from(target.number).unwrap_or(1),
            x: Length::mm(x),
            y: Length::mm(y),
            turned: held.piece.turned,
        }));
    }
}

/// What stays in the rack, drawn bare: a piece can be dragged there.
fn unused<'a>(ui: &mut Ui, view: &View<'a>, cutting: &Cutting, scale: f32, targets: &mut Vec<Target<'a>>) {
    let mut first = true;
    for (entry, stuff) in view.session.design().shop.pile.iter().enumerate() {
        let used = cutting.boards.iter().filter(|board| board.entry == entry).count();
        for number in used + 1..=(stuff.count as usize).min(used + 1) {
            if std::mem::take(&mut first) {
                words::rule(ui);
                ui.label(RichText::new("Not cut into").font(theme::strong()));
            }
            ui.with_layout(Layout::top_down(Align::Min), |ui| head(ui, stuff, number));
            let plan = Plan::new(ui, view, stuff, scale);
            bare(ui, &plan, stuff);
            targets.push(Target { stuff, number, plan, pieces: &[] });
        }
    }
}
