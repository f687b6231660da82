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
    /// Ink on a printed sheet: white, and every tint readable in grey.
    Print,
    /// Ink on a lit wall: white, and every text at least seven to one against it.
    Projector,
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
    /// The edge of a field, a tick box or a button: it must be seen to be found.
    Edge,
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
    /// A value that is proposed and not measured.
    Proposed,
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
            Ink::Line => (0x1e242a, 0xe8e6df),
            Ink::Soft => (0x5a6168, 0xa9b0b5),
            Ink::Rule => (0xd3cfc0, 0x3c454b),
            Ink::Edge => (0x8a8778, 0x76828a),
            Ink::Paper => (0xf5f2ea, 0x1b2126),
            Ink::Sheet => (0xfbfaf5, 0x22292f),
            Ink::Ours => (0x0f6b64, 0x5cc9bd),
            Ink::OursPale => (0xd5e4de, 0x203e3d),
            Ink::OursMid => (0x7fb5ac, 0x3d867f),
            Ink::Danger => (0xb5142f, 0xff867a),
            Ink::DangerPale => (0xf0cbc6, 0x5a2c2b),
            Ink::Warn => (0x8f5600, 0xe9b14e),
            Ink::Hand => (0x33429e, 0x9fb0ff),
            Ink::Proposed => (0x75387f, 0xd9a6e6),
            Ink::Body => (0xdadddb, 0x4a545a),
            Ink::Cover => (0xc3c9c7, 0x5b666c),
            Ink::Plate => (0xe9eae9, 0x3a4349),
            Ink::Steel => (0x3c434b, 0xb4bcc2),
            Ink::OnSteel => (0xf5f2ea, 0x1b2126),
            Ink::Ghost => (0xcfcdc5, 0x40484e),
            Ink::Fuel => (0xbfd3c0, 0x3f5f4d),
            Ink::Oil => (0xd9c99f, 0x6b5a33),
            Ink::Wood => (0xe4cfa6, 0x6a5638),
            Ink::Ring => (0xcfb98c, 0x856d48),
            Ink::Bark => (0x7a552f, 0xb08a5c),
            Ink::Branch => (0xa89a82, 0x6f6658),
        };
        rgb(match (self, ink) {
            (Self::Print | Self::Projector, Ink::Paper | Ink::Sheet | Ink::OnSteel) => 0xff_ff_ff,
            (Self::Projector, Ink::Line) => 0x000000,
            (Self::Projector, Ink::Soft) => 0x363b41,
            (Self::Projector, Ink::Ours) => 0x064b46,
            (Self::Projector, Ink::Danger) => 0x880c08,
            (Self::Projector, Ink::Warn) => 0x663c00,
            (Self::Projector, Ink::Hand) => 0x24307a,
            (Self::Projector, Ink::Proposed) => 0x5a2264,
            (Self::Light | Self::Print | Self::Projector, _) => light,
            (Self::Dark, _) => dark,
        })
    }

    /// The egui visuals that go with it.
    pub fn visuals(self) -> Visuals {
        let mut visuals = match self {
            Self::Light | Self::Print | Self::Projector => Visuals::light(),
            Self::Dark => Visuals::dark(),
        };
        let line = |width: f32, ink| Stroke::new(width, self.color(ink));
        visuals.override_text_color = None;
        visuals.weak_text_color = Some(self.color(Ink::Soft));
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
            (&mut widgets.inactive, Ink::Sheet, Ink::Edge),
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
        // What has the focus of the keys wears these too.
        visuals.widgets.active.bg_stroke = line(2.0, Ink::Ours);
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
    /// The smallest text on a projector, in points of a window that is not zoomed.
    pub const PROJECTED: f32 = 28.0;
    /// Smallest side of anything that can be grabbed.
    pub const HIT: f32 = 26.0;
}

/// The bundled typeface, in the window and on every sheet.
pub mod font {
    /// Its family name.
    pub const FAMILY: &str = "Barpoise Sans";
    /// The plain weight, an OpenType file.
    pub const REGULAR: &[u8] = include_bytes!("../../fonts/BarpoiseSans-Regular.otf");
    /// The heavier weight, an OpenType file; its weight in CSS terms is [`STRONG_WEIGHT`].
    pub const STRONG: &[u8] = include_bytes!("../../fonts/BarpoiseSans-SemiBold.otf");
    /// Weight of the heavier one.
    pub const STRONG_WEIGHT: u32 = 600;
}

/// The family name of the heavier weight.
pub const STRONG_FAMILY: &str = "strong";

/// Body text font.
pub fn body() -> FontId {
    plain(size::BODY)
}

/// The plain weight at a size.
pub fn plain(size: f32) -> FontId {
    FontId::proportional(size)
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
        Paper::Light | Paper::Print | Paper::Projector => egui::Theme::Light,
        Paper::Dark => egui::Theme::Dark,
    });
    let light = if paper == Paper::Projector { paper } else { Paper::Light };
    ctx.set_visuals_of(egui::Theme::Light, light.visuals());
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
    add("regular", font::REGULAR, &[FontFamily::Proportional, FontFamily::Monospace]);
    add("semi-bold", font::STRONG, &[FontFamily::Name(STRONG_FAMILY.into())]);
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
        // WCAG 2.2, 1.4.3; for a projector 1.4.6.
        const LEAST: f64 = 4.5;
        const LEAST_PROJECTED: f64 = 7.0;
        for paper in [Paper::Light, Paper::Dark, Paper::Print, Paper::Projector] {
            let least = if paper == Paper::Projector { LEAST_PROJECTED } else { LEAST };
            for ink in [Ink::Line, Ink::Soft, Ink::Ours, Ink::Danger, Ink::Warn, Ink::Hand, Ink::Proposed] {
                for ground in [Ink::Paper, Ink::Sheet, Ink::OursPale] {
                    let ratio = contrast(paper.color(ink), paper.color(ground));
                    assert!(ratio >= least, "{paper:?}: {ink:?} on {ground:?} is {ratio:.2}");
                }
            }
        }
    }
}
