//! What the window would show of a scene, by a small renderer of triangles that needs no graphics card.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::float_cmp,
    reason = "pixels of a small picture; an edge is owned where it is exactly level"
)]

use super::image::Image;
use barpoise::draw::strokes::{Canvas, Scene, paint};
use barpoise::draw::theme::{self, Ink, Paper};
use egui::epaint::{ClippedPrimitive, ImageData, ImageDelta, Primitive, Vertex};
use egui::{Color32, ColorImage, Context, Pos2, RawInput, Rect, TextureId, Ui, Vec2};
use std::collections::HashMap;

/// Paints a scene as the window does, at so many pixels for each point.
pub fn painted(scene: &Scene, canvas: &Canvas, paper: Paper, scale: f32) -> Image {
    // The first pass lays the fonts out.
    shown(canvas.rect().size(), paper.color(Ink::Paper), scale, 2, |ui| {
        let painter = ui.ctx().layer_painter(egui::LayerId::background());
        paint(scene, canvas, &painter, paper);
    })
}

/// What stands on the screen after so many passes.
pub fn shown(size: Vec2, ground: Color32, scale: f32, passes: u32, mut show: impl FnMut(&mut Ui)) -> Image {
    let ctx = Context::default();
    theme::install(&ctx);
    let mut input =
        RawInput { screen_rect: Some(Rect::from_min_size(Pos2::ZERO, size)), ..RawInput::default() };
    input.viewports.entry(input.viewport_id).or_default().native_pixels_per_point = Some(scale);
    let mut textures: HashMap<TextureId, ColorImage> = HashMap::new();
    let mut last = None;
    for _ in 0..passes {
        let mut output = ctx.run_ui(input.clone(), &mut show);
        for (id, deltas) in std::mem::take(&mut output.textures_delta.set) {
            for delta in deltas {
                put(&mut textures, id, &delta);
            }
        }
        output.textures_delta.clear();
        last = Some((output.shapes, output.pixels_per_point));
    }
    let (shapes, per_point) = last.unwrap();
    let mut screen = Screen::new((size.x * scale) as usize, (size.y * scale) as usize, ground);
    for ClippedPrimitive { primitive, clip_rect } in ctx.tessellate(shapes, per_point) {
        let Primitive::Mesh(mesh) = primitive else { panic!("no callbacks in a scene") };
        let texture = &textures[&mesh.texture_id];
        screen.clip = clip_rect * scale;
        for corners in mesh.indices.chunks(3) {
            let corner = |i: usize| mesh.vertices[corners[i] as usize];
            screen.triangle([corner(0), corner(1), corner(2)], texture, scale);
        }
    }
    screen.image()
}

/// Takes a texture, or a part of one, in.
fn put(textures: &mut HashMap<TextureId, ColorImage>, id: TextureId, delta: &ImageDelta) {
    let ImageData::Color(image) = &delta.image;
    match delta.pos {
        None => drop(textures.insert(id, (**image).clone())),
        Some([left, top]) => {
            let texture = textures.get_mut(&id).unwrap();
            for (y, row) in image.pixels.chunks(image.size[0]).enumerate() {
                let start = (top + y) * texture.size[0] + left;
                texture.pixels[start..start + row.len()].copy_from_slice(row);
            }
        }
    }
}

struct Screen {
    width: usize,
    height: usize,
    pixels: Vec<[f32; 3]>,
    /// Nothing is painted outside, pixels.
    clip: Rect,
}

impl Screen {
    fn new(width: usize, height: usize, ground: Color32) -> Self {
        let ground = [ground.r(), ground.g(), ground.b()].map(f32::from);
        Self { width, height, pixels: vec![ground; width * height], clip: Rect::EVERYTHING }
    }

    /// One triangle over what is there. A pixel on an edge that two triangles share belongs to one of them: that
    /// whose edge is on its left or on top.
    fn triangle(&mut self, mut corners: [Vertex; 3], texture: &ColorImage, scale: f32) {
        let mut at = corners.map(|vertex| (vertex.pos.x * scale, vertex.pos.y * scale));
        let edge = |a: (f32, f32), b: (f32, f32), p: (f32, f32)| {
            f64::from(b.0 - a.0) * f64::from(p.1 - a.1) - f64::from(b.1 - a.1) * f64::from(p.0 - a.0)
        };
        let mut area = edge(at[0], at[1], at[2]);
        if area == 0.0 {
            return;
        }
        if area < 0.0 {
            corners.swap(1, 2);
            at.swap(1, 2);
            area = -area;
        }
        let owns = |a: (f32, f32), b: (f32, f32)| b.1 < a.1 || (b.1 == a.1 && b.0 > a.0);
        let range = |values: [f32; 3], most: usize, (from, to): (f32, f32)| {
            let least = values.iter().copied().fold(f32::MAX, f32::min).floor().max(from.round()).max(0.0);
            let last = values.iter().copied().fold(f32::MIN, f32::max).ceil().min(to.round()).max(0.0);
            least as usize..(last as usize).min(most)
        };
        let clip = self.clip;
        for y in range(at.map(|p| p.1), self.height, (clip.top(), clip.bottom())) {
            for x in range(at.map(|p| p.0), self.width, (clip.left(), clip.right())) {
                let p = (x as f32 + 0.5, y as f32 + 0.5);
                let weights =
                    [(1, 2), (2, 0), (0, 1)].map(|(a, b)| (edge(at[a], at[b], p), owns(at[a], at[b])));
                if weights.iter().any(|(weight, owned)| *weight < 0.0 || (*weight == 0.0 && !owned)) {
                    continue;
                }
                let share = weights.map(|(weight, _)| (weight / area) as f32);
                self.blend(x, y, &corners, share, texture);
            }
        }
    }

    fn blend(&mut self, x: usize, y: usize, corners: &[Vertex; 3], share: [f32; 3], texture: &ColorImage) {
        let mix = |of: &dyn Fn(&Vertex) -> f32| {
            corners.iter().zip(share).map(|(vertex, share)| of(vertex) * share).sum::<f32>()
        };
        let [wide, high] = texture.size;
        let (u, v) = (mix(&|vertex| vertex.uv.x) * wide as f32, mix(&|vertex| vertex.uv.y) * high as f32);
        let (column, row) = ((u as usize).min(wide - 1), (v as usize).min(high - 1));
        let texel = texture.pixels[row * wide + column].to_array().map(|value| f32::from(value) / 255.0);
        let color = |channel: usize| {
            mix(&move |vertex: &Vertex| f32::from(vertex.color.to_array()[channel])) * texel[channel]
        };
        let clear = 1.0 - color(3) / 255.0;
        let pixel = &mut self.pixels[y * self.width + x];
        for (channel, value) in pixel.iter_mut().enumerate() {
            *value = color(channel) + *value * clear;
        }
    }

    fn image(self) -> Image {
        let pixels = self.pixels.iter().map(|pixel| pixel.map(|value| value.round().clamp(0.0, 255.0) as u8));
        Image { width: self.width, height: self.height, pixels: pixels.collect() }
    }
}
