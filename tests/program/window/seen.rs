//! What can be read in the window, in which ink, and on what ground: taken from what was painted, not from what was
//! meant.

use super::shapes::shapes;
use barpoise::window::app::App;
use egui::epaint::text::PlacedRow;
use egui::epaint::{Mesh, PathShape, Shape, TextShape};
use egui::{Color32, Pos2, Rect};
use egui_kittest::Harness;

/// A piece of text as it stands on the screen.
#[derive(Clone, Debug)]
pub struct Seen {
    pub text: String,
    pub ink: Color32,
    /// The ground on which it reads worst.
    pub ground: Color32,
    pub rect: Rect,
}

/// Every text that shows, with the ground under it.
pub fn texts(harness: &Harness<'_, App>) -> Vec<Seen> {
    let painted = shapes(harness);
    let mut seen = Vec::new();
    for (index, (clip, shape)) in painted.iter().enumerate() {
        let Shape::Text(text) = shape else { continue };
        for row in &text.galley.rows {
            let rect = row.rect().translate(text.pos.to_vec2());
            let shown = row.text().trim().to_owned();
            if shown.is_empty() || !clip.intersects(rect) || text.opacity_factor < 1.0 {
                continue;
            }
            let places = [0.02, 0.25, 0.5, 0.75, 0.98]
                .map(|share| Pos2::new(rect.left() + share * rect.width(), rect.center().y));
            for ink in inks(text, row) {
                let grounds =
                    places.iter().filter(|at| clip.contains(**at)).map(|at| ground(&painted[..index], *at));
                let worst = grounds.min_by(|a, b| contrast(ink, *a).total_cmp(&contrast(ink, *b)));
                seen.extend(worst.map(|ground| Seen { text: shown.clone(), ink, ground, rect }));
            }
        }
    }
    seen
}

/// The inks of a row.
fn inks(text: &TextShape, row: &PlacedRow) -> Vec<Color32> {
    if let Some(ink) = text.override_text_color {
        return vec![ink];
    }
    let mut inks = Vec::new();
    for vertex in &row.visuals.mesh.vertices[row.visuals.glyph_vertex_range.clone()] {
        let ink = if vertex.color == Color32::PLACEHOLDER { text.fallback_color } else { vertex.color };
        if !inks.contains(&ink) {
            inks.push(ink);
        }
    }
    inks
}

/// What lies under a point: everything filled that was painted before, one over the other.
fn ground(painted: &[(Rect, Shape)], at: Pos2) -> Color32 {
    painted
        .iter()
        .filter(|(clip, _)| clip.contains(at))
        .filter_map(|(_, shape)| fill_at(shape, at))
        .fold(Color32::BLACK, |under, over| under.blend(over))
}

fn fill_at(shape: &Shape, at: Pos2) -> Option<Color32> {
    match shape {
        Shape::Rect(rect) => rect.rect.contains(at).then_some(rect.fill),
        Shape::Circle(circle) => (circle.center.distance(at) <= circle.radius).then_some(circle.fill),
        Shape::Path(PathShape { points, closed: true, fill, .. }) => inside(points, at).then_some(*fill),
        Shape::Mesh(mesh) => mesh_at(mesh, at),
        _ => None,
    }
}

/// Even-odd.
fn inside(points: &[Pos2], at: Pos2) -> bool {
    let ends = points.iter().zip(points.iter().cycle().skip(1));
    let crossings = ends.filter(|(a, b)| {
        (a.y > at.y) != (b.y > at.y) && at.x < (b.x - a.x) * (at.y - a.y) / (b.y - a.y) + a.x
    });
    crossings.count() % 2 == 1
}

fn mesh_at(mesh: &Mesh, at: Pos2) -> Option<Color32> {
    if mesh.texture_id != egui::TextureId::default() {
        return None;
    }
    mesh.indices.chunks_exact(3).find_map(|corners| {
        let [a, b, c] = [corners[0], corners[1], corners[2]].map(|corner| mesh.vertices[corner as usize]);
        inside(&[a.pos, b.pos, c.pos], at).then_some(a.color)
    })
}

/// Contrast ratio from relative luminances: WCAG 2.2, definitions.
pub fn contrast(a: Color32, b: Color32) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// A channel of sRGB as light: WCAG 2.2, definition of relative luminance.
pub fn light(channel: u8) -> f64 {
    let share = f64::from(channel) / 255.0;
    if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
}

fn luminance(color: Color32) -> f64 {
    0.2126 * light(color.r()) + 0.7152 * light(color.g()) + 0.0722 * light(color.b())
}
