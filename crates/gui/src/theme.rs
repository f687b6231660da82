//! Every colour and size, by meaning, light and dark.
//!
//! Drafting paper and ink. Teal is ours, red is danger and nothing else, amber is a warning, blue is a hand.

use egui::{Color32, CornerRadius, FontFamily, FontId, Stroke, TextStyle, Visuals};
use std::sync::Arc;

/// Light paper or dark.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum Paper {
    /// Ink on paper.
    #[default]
    Light,
    /// Chalk on slate.
    Dark,
}

/// What a colour is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// Lines and main text.
    Line,
    /// Secondary text.
    Soft,
    /// Guide lines and rules.
    Rule,
    /// The paper of the drawing.
    Paper,
    /// The paper of the column beside it.
    Sheet,
    /// What is ours: the current value, handles, the plumb line.
    Ours,
    /// Ours, as a pale fill.
    OursPale,
    /// Ours, half way.
    OursMid,
    /// Danger only.
    Danger,
    /// Danger, as a pale fill.
    DangerPale,
    /// A warning.
    Warn,
    /// A hand and its load.
    Hand,
    /// Body of the powerhead.
    Body,
    /// Covers of the powerhead.
    Cover,
    /// The bar plate.
    Plate,
    /// Chain and spikes.
    Steel,
    /// Rivets and marks on steel.
    OnSteel,
    /// The saw as it hangs.
    Ghost,
    /// Fuel in its tank.
    Fuel,
    /// Oil in its tank.
    Oil,
    /// Wood of a log.
    Wood,
    /// Its rings, and hatching.
    Ring,
    /// Its bark, and the ground.
    Bark,
    /// Branches of the tangle.
    Branch,
}

const fn rgb(hex: u32) -> Color32 {
    let [_, r, g, b] = hex.to_be_bytes();
    Color32::from_rgb(r, g, b)
}

impl Paper {
    /// The colour of an ink on this paper.
    pub const fn color(self, ink: Ink) -> Color32 {
        let (light, dark) = match ink {
            Ink::Line => (0x1e_24_2a, 0xe8_e6_df),
            Ink::Soft => (0x5a_61_68, 0xa9_b0_b5),
            Ink::Rule => (0xd3_cf_c0, 0x3c_45_4b),
            Ink::Paper => (0xf5_f2_ea, 0x1b_21_26),
            Ink::Sheet => (0xfb_fa_f5, 0x22_29_2f),
            Ink::Ours => (0x0f_6b_64, 0x5c_c9_bd),
            Ink::OursPale => (0xd5_e4_de, 0x24_45_44),
            Ink::OursMid => (0x7f_b5_ac, 0x3d_86_7f),
            Ink::Danger => (0xb9_1f_1a, 0xff_86_7a),
            Ink::DangerPale => (0xf0_cb_c6, 0x5a_2c_2b),
            Ink::Warn => (0x8f_56_00, 0xe9_b1_4e),
            Ink::Hand => (0x33_42_9e, 0x9f_b0_ff),
            Ink::Body => (0xda_dd_db, 0x4a_54_5a),
            Ink::Cover => (0xc3_c9_c7, 0x5b_66_6c),
            Ink::Plate => (0xe9_ea_e9, 0x3a_43_49),
            Ink::Steel => (0x3c_43_4b, 0xb4_bc_c2),
            Ink::OnSteel => (0xf5_f2_ea, 0x1b_21_26),
            Ink::Ghost => (0xcf_cd_c5, 0x40_48_4e),
            Ink::Fuel => (0xbf_d3_c0, 0x3f_5f_4d),
            Ink::Oil => (0xd9_c9_9f, 0x6b_5a_33),
            Ink::Wood => (0xe4_cf_a6, 0x6a_56_38),
            Ink::Ring => (0xcf_b9_8c, 0x85_6d_48),
            Ink::Bark => (0x7a_55_2f, 0xb0_8a_5c),
            Ink::Branch => (0xa8_9a_82, 0x6f_66_58),
        };
        rgb(match self {
            Self::Light => light,
            Self::Dark => dark,
        })
    }

    /// The egui visuals that go with it.
    pub fn visuals(self) -> Visuals {
        let mut visuals = match self {
            Self::Light => Visuals::light(),
            Self::Dark => Visuals::dark(),
        };
        let line = |width: f32, ink| Stroke::new(width, self.color(ink));
        visuals.override_text_color = None;
        visuals.panel_fill = self.color(Ink::Paper);
        visuals.window_fill = self.color(Ink::Sheet);
        visuals.extreme_bg_color = self.color(Ink::Sheet);
        visuals.faint_bg_color = self.color(Ink::OursPale);
        visuals.selection.bg_fill = self.color(Ink::OursPale);
        visuals.selection.stroke = line(1.5, Ink::Ours);
        visuals.hyperlink_color = self.color(Ink::Ours);
        visuals.error_fg_color = self.color(Ink::Danger);
        visuals.warn_fg_color = self.color(Ink::Warn);
        visuals.window_stroke = line(1.0, Ink::Rule);
        let radius = CornerRadius::same(4);
        let widgets = &mut visuals.widgets;
        widgets.noninteractive.fg_stroke = line(1.0, Ink::Line);
        widgets.noninteractive.bg_stroke = line(1.0, Ink::Rule);
        for (state, fill, edge) in [
            (&mut widgets.inactive, Ink::Sheet, Ink::Rule),
            (&mut widgets.hovered, Ink::OursPale, Ink::Ours),
            (&mut widgets.active, Ink::OursPale, Ink::Ours),
            (&mut widgets.open, Ink::OursPale, Ink::Ours),
        ] {
            state.bg_fill = self.color(fill);
            state.weak_bg_fill = self.color(fill);
            state.bg_stroke = line(1.0, edge);
            state.fg_stroke = line(1.5, Ink::Line);
            state.corner_radius = radius;
        }
        visuals
    }
}

/// Sizes of text in points. Nothing is smaller than [`size::BODY`].
pub mod size {
    /// Body text.
    pub const BODY: f32 = 15.0;
    /// Values and labels on the drawing that matter most.
    pub const STRONG: f32 = 16.0;
    /// The one figure of a panel.
    pub const FIGURE: f32 = 24.0;
    /// The program's name.
    pub const TITLE: f32 = 20.0;
    /// Smallest side of anything that can be grabbed.
    pub const HIT: f32 = 26.0;
}

/// The family name of the heavier weight.
pub const STRONG_FAMILY: &str = "strong";

/// Body text font.
pub fn body() -> FontId {
    FontId::proportional(size::BODY)
}

/// The heavier weight at a size.
pub fn strong(size: f32) -> FontId {
    FontId::new(size, FontFamily::Name(STRONG_FAMILY.into()))
}

/// Installs fonts and text styles; colours follow [`set_paper`].
pub fn install(ctx: &egui::Context) {
    ctx.set_fonts(fonts());
    ctx.all_styles_mut(|style| {
        style.text_styles = [
            (TextStyle::Small, body()),
            (TextStyle::Body, body()),
            (TextStyle::Button, body()),
            (TextStyle::Monospace, body()),
            (TextStyle::Heading, strong(size::TITLE)),
        ]
        .into();
        style.spacing.item_spacing = egui::vec2(8.0, 6.0);
        style.spacing.button_padding = egui::vec2(8.0, 4.0);
        style.spacing.interact_size.y = size::HIT;
        style.spacing.scroll = egui::style::ScrollStyle::solid();
    });
}

/// Makes the window's colours those of a paper.
pub fn set_paper(ctx: &egui::Context, paper: Paper) {
    ctx.set_theme(match paper {
        Paper::Light => egui::Theme::Light,
        Paper::Dark => egui::Theme::Dark,
    });
    ctx.set_visuals_of(egui::Theme::Light, Paper::Light.visuals());
    ctx.set_visuals_of(egui::Theme::Dark, Paper::Dark.visuals());
}

fn fonts() -> egui::FontDefinitions {
    let mut fonts = egui::FontDefinitions::empty();
    let mut add = |name: &str, bytes: &'static [u8], families: &[FontFamily]| {
        fonts.font_data.insert(name.to_owned(), Arc::new(egui::FontData::from_static(bytes)));
        for family in families {
            fonts.families.entry(family.clone()).or_default().push(name.to_owned());
        }
    };
    add(
        "regular",
        include_bytes!("../fonts/BarpoiseSans-Regular.otf"),
        &[FontFamily::Proportional, FontFamily::Monospace],
    );
    add(
        "semi-bold",
        include_bytes!("../fonts/BarpoiseSans-SemiBold.otf"),
        &[FontFamily::Name(STRONG_FAMILY.into())],
    );
    fonts
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast ratio: WCAG 2.2, definitions.
    fn contrast(a: Color32, b: Color32) -> f64 {
        let luminance = |c: Color32| {
            let channel = |v: u8| {
                let v = f64::from(v) / 255.0;
                if v <= 0.040_45 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
            };
            0.2126 * channel(c.r()) + 0.7152 * channel(c.g()) + 0.0722 * channel(c.b())
        };
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn every_text_ink_reads_on_every_ground() {
        const LEAST: f64 = 4.5;
        for paper in [Paper::Light, Paper::Dark] {
            for ink in [Ink::Line, Ink::Soft, Ink::Ours, Ink::Danger, Ink::Warn, Ink::Hand] {
                for ground in [Ink::Paper, Ink::Sheet] {
                    let ratio = contrast(paper.color(ink), paper.color(ground));
                    assert!(ratio >= LEAST, "{paper:?}: {ink:?} on {ground:?} is {ratio:.2}");
                }
            }
        }
    }
}
