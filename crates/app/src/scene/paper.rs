//! The colours of paper, pencil and chalk line, and the width of a pencil line.

use bevy::prelude::{Color, Query, Window};

/// The ground: warm paper.
pub const PAPER: Color = Color::srgb(0.961, 0.945, 0.902);
/// A pencil line.
pub const PENCIL: Color = Color::srgb(0.17, 0.145, 0.12);
/// The one accent: the blue of a chalk line.
pub const ACCENT: Color = Color::srgb(0.165, 0.365, 0.588);
/// What paper turns to in full shadow.
pub const WASH: Color = Color::srgb(0.80, 0.745, 0.66);

/// Width of the edges of a part, logical pixels.
pub const EDGE: f32 = 1.15;
/// Width of a dimension line, logical pixels.
pub const FINE: f32 = 1.0;

/// Physical pixels a logical pixel: pencils are as wide on a fine screen as on a coarse one.
pub fn scale(windows: &Query<&Window>) -> f32 {
    windows.iter().next().map_or(1.0, Window::scale_factor)
}
