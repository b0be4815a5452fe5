//! How timbers and sheets look: colours and figure, for the window, for files and for board plans.

use casewright_core::model::{Material, PartKind};

/// Colours (sRGB) and figure of a wood or sheet. Judged by eye from planed and oiled boards; no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wood {
    /// Late wood.
    pub light: u32,
    /// Early wood: the lines of the figure.
    pub dark: u32,
    /// End grain, or the core of a sheet.
    pub end: u32,
    /// From ring to ring, mm.
    pub ring: f32,
    /// How strongly the rings show, 0 to 1.
    pub contrast: f32,
    /// How strongly the pores show, 0 to 1.
    pub pores: f32,
    /// Width of the boards or leaves it is glued up from, mm; 0 for one piece.
    pub board: f32,
    /// How much it gleams.
    pub sheen: f32,
    /// A sheet with a veneer on both sides.
    pub sheet: bool,
}

/// Ash, and what a wood without a row of its own looks like, a little greyer.
const ASH: Wood = Wood {
    light: 0x00ee_dab4,
    dark: 0x00c8_a069,
    end: 0x00c6_a06e,
    ring: 4.6,
    contrast: 0.62,
    pores: 0.6,
    board: 0.0,
    sheen: 1.0,
    sheet: false,
};

impl Wood {
    /// The wood of a part of that material and kind.
    pub fn of(material: &Material, kind: PartKind) -> Wood {
        match material {
            Material::Sheet(id) => Wood::sheet(id),
            Material::Bought(_) => Wood { light: 0x009a_9a96, dark: 0x0088_8884, end: 0x0090_908c, contrast: 0.05, pores: 0.0, ..ASH },
            Material::Solid(_) if matches!(kind, PartKind::LooseTenon | PartKind::Dowel) => {
                // Loose tenons come out of another box than the boards, and are told from them by a darker, redder wood.
                Wood { light: 0x00b5_7a4e, dark: 0x008d_5836, end: 0x008a_5434, contrast: 0.4, ring: 3.0, ..ASH }
            }
            Material::Solid(id) => {
                let board = if kind == PartKind::Top { 118.0 } else { 0.0 };
                Wood { board, ..Wood::species(id) }
            }
        }
    }

    /// Its colour seen flat, red, green and blue.
    pub fn light(&self) -> [u8; 3] {
        [16, 8, 0].map(|shift| (self.light >> shift) as u8)
    }

    /// The stick beside the case.
    pub fn rod() -> Wood {
        Wood { light: 0x00c6_9a5c, dark: 0x00a5_7a3f, end: 0x0098_7040, contrast: 0.3, ..ASH }
    }

    fn species(id: &str) -> Wood {
        let close = |light, dark, end, contrast| Wood { light, dark, end, contrast, pores: 0.25, ring: 3.4, ..ASH };
        let open = |light, dark, end, contrast| Wood { light, dark, end, contrast, ..ASH };
        match id {
            "white_ash" | "european_ash" => ASH,
            "white_oak" | "european_oak" | "tasmanian_oak" | "american_chestnut" => open(0x00d9_b988, 0x00a9_8150, 0x00a0_7b4c, 0.6),
            "red_oak" => open(0x00dd_b48c, 0x00b0_7f57, 0x00a4_7650, 0.6),
            "american_elm" | "hickory_shagbark" | "hickory_pecan" => open(0x00d8_b48a, 0x00a3_7848, 0x009b_7247, 0.6),
            "black_walnut" | "european_walnut" => open(0x008a_654a, 0x005c_3f2c, 0x0053_3a2a, 0.55),
            "butternut" => open(0x00c0_9872, 0x0090_6a48, 0x0086_6345, 0.5),
            "black_cherry" | "european_cherry" | "red_alder" => close(0x00d0_9a6c, 0x00ae_7348, 0x00a0_6a44, 0.4),
            "sugar_maple" | "red_maple" | "silver_maple" | "basswood" | "quaking_aspen" | "american_sycamore" => {
                close(0x00ee_dbb9, 0x00d3_b283, 0x00c8_a87c, 0.35)
            }
            "american_beech" | "european_beech" => close(0x00e2_bd92, 0x00c3_9160, 0x00b6_875a, 0.35),
            "yellow_birch" | "paper_birch" | "european_birch" | "sweetgum" => close(0x00ea_d0a4, 0x00cb_a26c, 0x00c0_9866, 0.35),
            "yellow_poplar" => close(0x00dd_d3a8, 0x00b3_a878, 0x00aa_9c6e, 0.4),
            "mahogany_true" | "mahogany_african" | "sapele" | "meranti_dark_red" | "spanish_cedar" => {
                close(0x00a8_6445, 0x007d_4530, 0x0075_412d, 0.35)
            }
            "iroko" | "teak" => open(0x00b6_8451, 0x0088_5c34, 0x0080_5732, 0.5),
            "padauk_african" => close(0x00b0_4f2c, 0x0082_351d, 0x007a_321c, 0.35),
            "purpleheart" => close(0x0080_4c62, 0x005e_3346, 0x0057_3042, 0.3),
            "western_redcedar" | "eastern_redcedar" | "redwood_old_growth" => close(0x00bd_805a, 0x0090_563a, 0x0086_5137, 0.6),
            "longleaf_pine" | "loblolly_pine" | "shortleaf_pine" | "douglas_fir_coast" | "european_larch" | "radiata_pine" => {
                close(0x00e6_c48c, 0x00be_844a, 0x00b3_8049, 0.7)
            }
            "eastern_white_pine" | "ponderosa_pine" | "sugar_pine" | "western_white_pine" | "scots_pine" | "norway_spruce"
            | "engelmann_spruce" | "white_fir" | "western_hemlock" => close(0x00ee_d8a8, 0x00d0_a868, 0x00c4_9e66, 0.5),
            _ => open(0x00dd_c7a2, 0x00b6_9668, 0x00ab_8d62, 0.5),
        }
    }

    fn sheet(id: &str) -> Wood {
        let quiet = Wood {
            light: 0x00e8_d5b0,
            dark: 0x00cf_b083,
            end: 0x00a5_8a69,
            ring: 7.0,
            contrast: 0.5,
            pores: 0.4,
            board: 168.0,
            sheen: 0.7,
            sheet: true,
        };
        if id.contains("plywood") {
            Wood { light: 0x00e6_cd9f, dark: 0x00cc_a871, end: 0x00bd_9a6b, board: 0.0, ..quiet }
        } else if id.starts_with("mdf") || id.starts_with("hardboard") {
            Wood { light: 0x00b3_9a7a, dark: 0x00a8_8f70, end: 0x00a0_8767, contrast: 0.1, pores: 0.0, board: 0.0, sheen: 0.2, ..quiet }
        } else if id.starts_with("particleboard") {
            Wood { light: 0x00c9_b08a, dark: 0x00ae_946d, end: 0x00a8_8f6c, contrast: 0.3, board: 0.0, sheen: 0.2, ..quiet }
        } else {
            quiet
        }
    }
}
