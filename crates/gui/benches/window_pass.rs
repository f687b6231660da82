//! One whole pass of the window, tessellation included, while the nose is dragged: no display needed.

#![expect(clippy::expect_used, reason = "a bench that cannot start has nothing to time")]

use barpoise::app::App;
use barpoise::document::Document;
use barpoise::theme;
use criterion::{Criterion, criterion_group, criterion_main};
use egui::{Context, Event, Modifiers, PointerButton, Pos2, RawInput, Rect, Vec2};

const SIZE: Vec2 = Vec2::new(1600.0, 1000.0);

/// A window on the demo yard that is fed passes by hand.
struct Bench {
    ctx: Context,
    app: App,
    time: f64,
}

impl Bench {
    fn new() -> Self {
        let ctx = Context::default();
        theme::install(&ctx);
        let app = App::new(Document::demo().expect("the demo yard is valid"));
        let mut bench = Self { ctx, app, time: 0.0 };
        for _ in 0..3 {
            bench.pass(Vec::new());
        }
        bench
    }

    fn pass(&mut self, events: Vec<Event>) -> usize {
        self.time += 1.0 / 60.0;
        let screen_rect = Some(Rect::from_min_size(Pos2::ZERO, SIZE));
        let input = RawInput { screen_rect, time: Some(self.time), events, ..RawInput::default() };
        let output = self.ctx.run_ui(input, |ui| self.app.show(ui));
        output.textures_delta.free.len();
        let meshes = self.ctx.tessellate(output.shapes, output.pixels_per_point);
        meshes.len()
    }
}

fn nose(bench: &Bench) -> Pos2 {
    bench.ctx.read_response(egui::Id::unique("bench nose")).expect("the nose is on the canvas").rect.center()
}

fn button(pos: Pos2, pressed: bool) -> Event {
    Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE }
}

fn window(c: &mut Criterion) {
    let mut bench = Bench::new();
    c.bench_function("pass at rest", |b| b.iter(|| bench.pass(Vec::new())));

    let mut bench = Bench::new();
    let grab = nose(&bench);
    bench.pass(vec![Event::PointerMoved(grab)]);
    bench.pass(vec![button(grab, true)]);
    let mut step = 0.0_f32;
    c.bench_function("pass with the nose dragged", |b| {
        b.iter(|| {
            step = (step + 1.0) % 100.0;
            bench.pass(vec![Event::PointerMoved(grab + Vec2::new(step - 50.0, 0.0))])
        });
    });
}

criterion_group!(benches, window);
criterion_main!(benches);
