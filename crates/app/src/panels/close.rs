//! A sheet looked at closely: it lies over the case, as large as there is room for, and comes nearer by the wheel.

use casewright_sheets::drawing::Page;
use egui::{Area, CursorIcon, Id, Key, Order, Rect, Sense, Ui, Vec2, vec2};

use super::{Out, View, page, words};
use crate::theme;

/// How near a sheet comes at most: so many times what shows all of it.
const NEAREST: f32 = 12.0;
/// How much nearer it comes for each pixel that the wheel turns.
const A_PIXEL: f32 = 0.004;

/// Which sheet is looked at, and how.
#[derive(Clone, Debug, PartialEq)]
struct Near {
    name: String,
    /// How much larger than where all of it is seen, 1 and up.
    zoom: f32,
    /// Where its corner lies from that of the room it is seen in, logical pixels.
    corner: Vec2,
}

fn id() -> Id {
    Id::new("sheet looked at closely")
}

fn near(ui: &Ui) -> Option<Near> {
    ui.data(|data| data.get_temp::<Option<Near>>(id())).flatten()
}

fn keep(ui: &Ui, near: Option<Near>) {
    ui.data_mut(|data| data.insert_temp(id(), near));
}

/// Looks closely at the sheet of that name.
pub(super) fn look(ui: &Ui, name: &str) {
    keep(ui, Some(Near { name: name.to_owned(), zoom: 1.0, corner: Vec2::ZERO }));
}

/// Whether it is the sheet of that name that is looked at.
pub(super) fn is_looked_at(ui: &Ui, name: &str) -> bool {
    near(ui).is_some_and(|near| near.name == name)
}

/// Draws it over `over`, where one is looked at and the paper still has it; whether it does.
pub(super) fn ui(ui: &mut Ui, view: &View<'_>, over: Rect, out: &mut Out) -> bool {
    let Some(mut near) = near(ui) else { return false };
    let pages = view.drawn.and_then(Result::ok).unwrap_or_default();
    let Some(at) = pages.iter().position(|page| page.name == near.name) else { return false };
    let before = near.clone();
    let over = over.shrink2(vec2(0.0, theme::GAP));
    let shown = Area::new(id()).order(Order::Middle).fixed_pos(over.min).constrain(false).show(ui.ctx(), |ui| {
        let frame = theme::sheet();
        let inside = over.size() - frame.total_margin().sum();
        let put_away = frame.show(ui, |ui| {
            ui.set_min_size(inside);
            ui.set_max_size(inside);
            let put_away = head(ui, pages, at, &mut near, out);
            if let Some(page) = pages.get(at) {
                sheet(ui, page, &mut near, out);
            }
            put_away
        });
        put_away.inner
    });
    if shown.inner || ui.input(|input| input.key_pressed(Key::Escape)) {
        keep(ui, None);
    } else if near != before {
        keep(ui, Some(near));
    }
    true
}

/// What sheet it is, and the ways on and back; whether it is put away.
fn head(ui: &mut Ui, pages: &[Page], at: usize, near: &mut Near, out: &mut Out) -> bool {
    let mut put_away = false;
    let neighbour = |at: Option<usize>| at.and_then(|at| pages.get(at));
    ui.horizontal(|ui| {
        words::strong(ui, pages.get(at).map_or("", |page| page.title.as_str()));
        words::small(ui, format!("{} of {}", at + 1, pages.len()));
        for (mark, text, to) in
            [("close.before", "The one before", neighbour(at.checked_sub(1))), ("close.next", "The next", neighbour(Some(at + 1)))]
        {
            let Some(page) = to else { continue };
            let link = words::link(ui, text);
            out.mark(mark, link.rect);
            if link.clicked() {
                *near = Near { name: page.name.clone(), zoom: 1.0, corner: Vec2::ZERO };
            }
        }
        if near.zoom > 1.0 {
            let whole = words::link(ui, "All of it");
            out.mark("close.whole", whole.rect);
            if whole.clicked() {
                near.zoom = 1.0;
            }
        } else {
            words::small(ui, "The wheel brings it nearer");
        }
        let back = words::link(ui, "Back to the case");
        out.mark("close.back", back.rect);
        put_away = back.clicked();
    });
    put_away
}

/// The sheet itself: the wheel brings what is under the pointer nearer, a drag moves it.
fn sheet(ui: &mut Ui, page: &Page, near: &mut Near, out: &mut Out) {
    let room = ui.available_rect_before_wrap();
    let response = ui.allocate_rect(room, Sense::click_and_drag());
    out.mark(format!("close.{}", page.name), room);
    let of = vec2(page.size.x.max(1.0) as f32, page.size.y.max(1.0) as f32);
    let whole = of * (room.width() / of.x).min(room.height() / of.y);
    if let Some(pointer) = response.hover_pos() {
        let (turned, pinched) = ui.input(|input| (input.smooth_scroll_delta().y, input.zoom_delta()));
        let zoom = (near.zoom * pinched * (turned * A_PIXEL).exp()).clamp(1.0, NEAREST);
        let under = pointer - room.min - near.corner;
        near.corner += under * (1.0 - zoom / near.zoom);
        near.zoom = zoom;
    }
    near.corner += response.drag_delta();
    let size = whole * near.zoom;
    near.corner = vec2(held(near.corner.x, size.x, room.width()), held(near.corner.y, size.y, room.height()));
    let painter = ui.painter_at(room);
    page::paint(&painter, Rect::from_min_size(room.min + near.corner, size), page);
    if near.zoom > 1.0 {
        response.on_hover_cursor(if ui.input(|input| input.pointer.any_down()) { CursorIcon::Grabbing } else { CursorIcon::Grab });
    }
}

/// So that the room is filled where the sheet is larger, and the sheet in the middle where it is smaller.
fn held(corner: f32, size: f32, room: f32) -> f32 {
    if size <= room { (room - size) / 2.0 } else { corner.clamp(room - size, 0.0) }
}
