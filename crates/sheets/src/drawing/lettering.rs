//! How wide words are, from the face they are set in.

use std::sync::OnceLock;

use typst::foundations::Bytes;
use typst::layout::Abs;
use typst::text::{Font, FontVariant, FontVariations};

/// Height of figures and capitals on a drawing, mm (one height a drawing, as ISO 129 and ISO 3098 have it).
pub const LETTERING: f64 = 2.5;

/// Height of a capital over the size of the face: Open Sans.
pub(crate) const CAPITAL: f64 = 0.714;

/// Letters of which the width is known; others count as wide as an n.
const KNOWN: usize = 0x180;

/// Width over the size of the face, regular and semibold.
static WIDTHS: OnceLock<[Vec<f64>; 2]> = OnceLock::new();

fn widths() -> &'static [Vec<f64>; 2] {
    WIDTHS.get_or_init(|| {
        let of = |file: &'static [u8]| {
            let font = Font::new(Bytes::new(file), 0);
            let font = font.map(|font| font.instantiate(FontVariant::default(), Abs::pt(10.0), &FontVariations::default()));
            let advance = |letter: u32| {
                let (font, letter) = (font.as_ref()?, char::from_u32(letter)?);
                let glyph = font.ttf().glyph_index(letter)?;
                Some(font.x_advance(glyph.0)?.get())
            };
            (0..KNOWN as u32).map(|letter| advance(letter).unwrap_or(0.57)).collect()
        };
        [of(crate::typeset::REGULAR), of(crate::typeset::SEMIBOLD)]
    })
}

/// How wide a text is, mm, with capitals so high.
pub(crate) fn width_of(text: &str, height: f64, bold: bool) -> f64 {
    let widths = &widths()[usize::from(bold)];
    let units: f64 = text.chars().map(|letter| widths.get(letter as usize).copied().unwrap_or(0.57)).sum();
    units * height / CAPITAL
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Held against the face: a figure of Open Sans is 1169 of 2048 units wide.
    #[test]
    fn figures_are_as_wide_as_in_the_face() {
        assert!((width_of("1360", 2.5, false) - 4.0 * 1169.0 / 2048.0 * 2.5 / 0.714).abs() < 0.02);
        assert!(width_of("iii", 2.5, false) < width_of("mmm", 2.5, false));
    }
}
