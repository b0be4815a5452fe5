//! Colours, type and spacing as named tokens; panels use these and no figures of their own.

use egui::epaint::Shadow;
use egui::{
    Color32, Context, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Stroke, TextStyle, Theme, Vec2, Visuals,
};

/// Warm paper, the ground of everything.
pub const GROUND: Color32 = Color32::from_rgb(0xf5, 0xf0, 0xe4);
/// The rod along the top.
pub const ROD: Color32 = Color32::from_rgb(0xed, 0xe4, 0xcc);
/// A sheet that lies on the ground.
pub const SHEET: Color32 = Color32::from_rgb(0xfb, 0xf8, 0xf1);
/// Fields to write in.
pub const FIELD: Color32 = Color32::from_rgb(0xff, 0xff, 0xff);
/// Thin lines between things, and the marks of the rod.
pub const LINE: Color32 = Color32::from_rgb(0xd9, 0xd0, 0xbc);
/// Pencil: text and strong lines. 13 : 1 on a sheet.
pub const PENCIL: Color32 = Color32::from_rgb(0x2b, 0x2a, 0x28);
/// Soft pencil: what is said by the way. Above 5 : 1 on a sheet.
pub const PENCIL_SOFT: Color32 = Color32::from_rgb(0x6a, 0x65, 0x5b);
/// The blue of a chalk line: the one accent. 6.6 : 1 on a sheet.
pub const CHALK: Color32 = Color32::from_rgb(0x2a, 0x5a, 0x8e);
/// A wash of it, behind what is selected.
pub const CHALK_WASH: Color32 = Color32::from_rgb(0xe3, 0xec, 0xf5);
/// What will fail.
pub const FAIL: Color32 = Color32::from_rgb(0x9c, 0x2b, 0x20);
/// What is at risk.
pub const RISK: Color32 = Color32::from_rgb(0x9a, 0x5c, 0x0c);
/// What is worth knowing.
pub const NOTE: Color32 = PENCIL_SOFT;

/// The colours of kinds of things, muted so that timber stays what is looked at; after ten they come round lighter, then darker.
const KINDS: [Color32; 10] = [
    Color32::from_rgb(0x4c, 0x7a, 0x8a),
    Color32::from_rgb(0xb0, 0x79, 0x3a),
    Color32::from_rgb(0x7b, 0x6a, 0x9e),
    Color32::from_rgb(0x6f, 0x8f, 0x4e),
    Color32::from_rgb(0xa8, 0x5a, 0x4a),
    Color32::from_rgb(0x3f, 0x6f, 0x9f),
    Color32::from_rgb(0x9a, 0x8a, 0x3a),
    Color32::from_rgb(0x8a, 0x5a, 0x7a),
    Color32::from_rgb(0x4f, 0x8f, 0x7f),
    Color32::from_rgb(0x8c, 0x6b, 0x4f),
];

/// A colour thinned with the sheet's: `much` of it, 0 to 1.
pub fn thinned(colour: Color32, much: f32) -> Color32 {
    SHEET.lerp_to_gamma(colour, much)
}

/// The colour of a kind of things, by its place in the list; never alone, always with its name.
pub fn kind(index: usize) -> Color32 {
    let colour = KINDS[index % KINDS.len()];
    match index / KINDS.len() % 3 {
        0 => colour,
        1 => colour.lerp_to_gamma(FIELD, 0.42),
        _ => colour.lerp_to_gamma(PENCIL, 0.5),
    }
}

/// From the edge of the window to a sheet, and between sheets, logical px.
pub const GAP: f32 = 12.0;
/// From the edge of a sheet to what is written on it.
pub const MARGIN: i8 = 16;
/// Height of the rod.
pub const ROD_HEIGHT: f32 = 50.0;
/// Height of the strip at the bottom.
pub const STRIP_HEIGHT: f32 = 88.0;
/// Width of the left sheet where it holds plain fields.
pub const LEFT: f32 = 300.0;
/// Width of the left sheet where it holds a list, or fields with a rule beside them.
pub const LEFT_WIDE: f32 = 364.0;
/// Width of the left sheet where it holds a table.
pub const LEFT_TABLE: f32 = 470.0;
/// Greatest width of the left sheet where it holds tables and board plans.
pub const LEFT_PLANS: f32 = 620.0;
/// Width of the right sheets.
pub const RIGHT: f32 = 308.0;
/// Width of a field for a figure.
pub const FIELD_WIDTH: f32 = 92.0;
/// Height of a row with a field.
pub const ROW: f32 = 26.0;

/// The humanist face in its three cuts.
const REGULAR: &[u8] = include_bytes!("../../../assets/fonts/OpenSans-Regular.ttf");
const SEMIBOLD: &[u8] = include_bytes!("../../../assets/fonts/OpenSans-Semibold.ttf");
const ITALIC: &[u8] = include_bytes!("../../../assets/fonts/OpenSans-Italic.ttf");

/// The heading of a sheet.
pub fn heading() -> FontId {
    FontId::new(17.0, semibold_family())
}

/// What is said with weight.
pub fn strong() -> FontId {
    FontId::new(13.5, semibold_family())
}

/// Plain text and figures.
pub fn body() -> FontId {
    FontId::new(13.5, FontFamily::Proportional)
}

/// What is said by the way.
pub fn small() -> FontId {
    FontId::new(12.0, FontFamily::Proportional)
}

/// A rule quoted.
pub fn quoted() -> FontId {
    FontId::new(12.0, FontFamily::Name("italic".into()))
}

fn semibold_family() -> FontFamily {
    FontFamily::Name("semibold".into())
}

/// Sets type, colours and spacing. Named type is there from the next pass on.
pub fn apply(context: &Context) {
    context.set_fonts(fonts());
    context.set_theme(Theme::Light);
    context.all_styles_mut(|style| {
        style.visuals = visuals();
        style.text_styles = [
            (TextStyle::Heading, heading()),
            (TextStyle::Body, body()),
            (TextStyle::Button, body()),
            (TextStyle::Small, small()),
            (TextStyle::Monospace, body()),
        ]
        .into();
        style.drag_value_text_style = TextStyle::Body;
        style.spacing.item_spacing = Vec2::new(8.0, 5.0);
        style.spacing.button_padding = Vec2::new(9.0, 3.0);
        style.spacing.interact_size = Vec2::new(40.0, 24.0);
        style.spacing.slider_width = 260.0;
        style.spacing.slider_rail_height = 2.0;
        style.spacing.tooltip_width = 280.0;
        style.spacing.scroll = egui::style::ScrollStyle::thin();
        style.spacing.scroll.fade.strength = 0.0;
        style.interaction.selectable_labels = false;
        style.interaction.tooltip_delay = 0.4;
        style.animation_time = 0.0;
    });
    // A second pass in a frame would ask for everything twice.
    context.options_mut(|options| options.max_passes = std::num::NonZeroUsize::MIN);
}

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let cuts = [("regular", REGULAR), ("semibold", SEMIBOLD), ("italic", ITALIC)];
    for (name, bytes) in cuts {
        fonts.font_data.insert(name.to_owned(), FontData::from_static(bytes).into());
        // Signs that the face lacks come from what egui brings.
        let mut family = vec![name.to_owned()];
        family.extend(FontDefinitions::default().families.remove(&FontFamily::Proportional).unwrap_or_default());
        let key = if name == "regular" { FontFamily::Proportional } else { FontFamily::Name(name.into()) };
        fonts.families.insert(key, family);
    }
    fonts
}

fn visuals() -> Visuals {
    let mut visuals = Visuals::light();
    visuals.panel_fill = GROUND;
    visuals.window_fill = SHEET;
    visuals.window_stroke = Stroke::new(1.0, LINE);
    visuals.window_shadow = Shadow { offset: [0, 2], blur: 8, spread: 0, color: Color32::from_black_alpha(28) };
    visuals.popup_shadow = visuals.window_shadow;
    visuals.extreme_bg_color = FIELD;
    visuals.faint_bg_color = Color32::from_rgb(0xf4, 0xef, 0xe3);
    visuals.hyperlink_color = CHALK;
    visuals.weak_text_color = Some(PENCIL_SOFT);
    visuals.error_fg_color = FAIL;
    visuals.warn_fg_color = RISK;
    visuals.selection.bg_fill = CHALK_WASH;
    visuals.selection.stroke = Stroke::new(1.0, CHALK);
    visuals.striped = false;
    visuals.slider_trailing_fill = false;
    let radius = CornerRadius::same(4);
    let widgets = &mut visuals.widgets;
    for (widget, fill, line, ink) in [
        (&mut widgets.noninteractive, SHEET, LINE, PENCIL),
        (&mut widgets.inactive, FIELD, LINE, PENCIL),
        (&mut widgets.hovered, FIELD, CHALK, PENCIL),
        (&mut widgets.active, CHALK_WASH, CHALK, CHALK),
        (&mut widgets.open, FIELD, CHALK, PENCIL),
    ] {
        widget.bg_fill = fill;
        widget.weak_bg_fill = fill;
        widget.bg_stroke = Stroke::new(1.0, line);
        widget.fg_stroke = Stroke::new(1.0, ink);
        widget.corner_radius = radius;
        widget.expansion = 0.0;
    }
    visuals
}

/// A sheet on the ground: a card with a thin line round it.
pub fn sheet() -> egui::Frame {
    egui::Frame::new().fill(SHEET).stroke(Stroke::new(1.0, LINE)).corner_radius(6).inner_margin(Margin::same(MARGIN))
}
