//! One whole pass of the window, tessellation included, while the nose is dragged: no display needed.

#![expect(clippy::expect_used, reason = "a bench that cannot start has nothing to time")]

use barpoise::desk::document::Document;
use barpoise::desk::edit::{Edit, Gesture, WeighInEdit};
use barpoise::draw::theme;
use barpoise::window::app::App;
use barpoise::window::rooms::parts::open_photograph;
use barpoise::window::view_state::{Room, ViewState};
use barpoise_core::file::demo;
use barpoise_core::photograph::assumed::begun;
use barpoise_core::record::{
    Landmark, MeasuredFile, PartFile, PartId, PartKind, PhotographFile, PixelFile, ReadingFile, SetupFile,
};
use barpoise_core::{Yard, solve};
use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use egui::{Context, Event, Modifiers, PointerButton, Pos2, RawInput, Rect, Vec2};

const SIZE: Vec2 = Vec2::new(1600.0, 1000.0);

/// A window on the demo yard that is fed passes by hand.
struct Bench {
    ctx: Context,
    app: App,
    time: f64,
}

impl Bench {
    fn new(room: Room) -> Self {
        Self::on(Document::demo().expect("the demo yard is valid"), room)
    }

    fn on(document: Document, room: Room) -> Self {
        let ctx = Context::default();
        theme::install(&ctx);
        let view = ViewState { room, ..ViewState::default() };
        let app = App::with_view(document, view);
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

fn handle(bench: &Bench, id: &str) -> Pos2 {
    bench.ctx.read_response(egui::Id::unique(id)).expect("the handle is on the canvas").rect.center()
}

fn button(pos: Pos2, pressed: bool) -> Event {
    Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE }
}

/// Times a pass in which a handle is dragged to and fro.
fn dragged(c: &mut Criterion, name: &str, room: Room, id: &str) {
    let mut bench = Bench::new(room);
    let grab = handle(&bench, id);
    bench.pass(vec![Event::PointerMoved(grab)]);
    bench.pass(vec![button(grab, true)]);
    let mut step = 0.0_f32;
    c.bench_function(name, |b| {
        b.iter(|| {
            step = (step + 1.0) % 100.0;
            bench.pass(vec![Event::PointerMoved(grab + Vec2::new(step - 50.0, 0.0))])
        });
    });
}

/// Twenty readings of the big head, four of each kind.
fn with_readings() -> Document {
    let mut file = demo().expect("the demo yard is valid").file().clone();
    file.readings.clear();
    let yard = Yard::new(file).expect("the demo yard is valid");
    let mut document = Document::new_yard(yard).expect("the demo has setups");
    let setups = ["Bittern B14", "Bittern B18", "Bittern B24", "Bittern B30"];
    for (turn, setup) in setups.into_iter().enumerate() {
        let solved = solve(document.yard().setup(setup).expect("the demo has it"));
        let off = if turn % 2 == 0 { 0.5 } else { -0.5 };
        let hang = solved.hang.expect("it hangs").as_deg();
        let (kg, reach) = (solved.ready_mass().as_kg(), solved.reach.as_mm());
        let front = solved.hands.expect("it is held").front.as_kgf();
        let ahead = solved.saw.centroid.x * 1e3 - 168.0;
        for measured in [
            MeasuredFile::Total { weight_kg: kg + 0.1 * off, uncertainty_kg: 0.05 },
            MeasuredFile::Hang { nose_down_deg: hang + off, uncertainty_deg: 1.0 },
            MeasuredFile::FrontGrip { weight_kg: front, uncertainty_kg: 0.05, nose_up_deg: 0.0 },
            MeasuredFile::Reach { past_spikes_mm: reach + off, uncertainty_mm: 5.0 },
            MeasuredFile::BalancePoint { past_spikes_mm: ahead + off, uncertainty_mm: 5.0 },
        ] {
            let reading = ReadingFile::new(measured, Some(setup.to_owned()));
            document.apply(Edit::WeighIn(WeighInEdit::AddReading(reading)), Gesture::Single);
        }
    }
    assert_eq!(document.yard().readings().len(), 20);
    document
}

fn window(c: &mut Criterion) {
    let mut bench = Bench::new(Room::Bench);
    c.bench_function("bench at rest", |b| b.iter(|| bench.pass(Vec::new())));
    dragged(c, "bench with the nose dragged", Room::Bench, "bench nose");
    let mut bench = Bench::new(Room::Log);
    c.bench_function("log at rest", |b| b.iter(|| bench.pass(Vec::new())));
    dragged(c, "log with the diameter dragged", Room::Log, "log edge");
    let mut bench = Bench::on(with_readings(), Room::WeighIn);
    c.bench_function("weigh-in of 20 readings at rest", |b| b.iter(|| bench.pass(Vec::new())));
    let mut document = with_readings();
    let mut out = false;
    c.bench_function("weigh-in of 20 readings, one left out or taken in: fit, curves, bands", |b| {
        b.iter(|| {
            out = !out;
            document.apply(Edit::WeighIn(WeighInEdit::LeaveOut(3, out)), Gesture::Single);
            let learnt = document.weigh_in().of_setup("Bittern B24").is_some();
            assert!(learnt, "the readings teach something of this setup");
        });
    });
}

/// A thousand setups of copies of the demo's parts: of so many heads, each with its share of the bars.
fn thousand(heads: usize) -> Document {
    let demo = demo().expect("the demo yard is valid").file().clone();
    let mut file = demo.clone();
    (file.powerheads, file.bars, file.chains, file.setups) = Default::default();
    for copy in 0..heads {
        let named = |name: &str| format!("{name} {copy}");
        for mut head in demo.powerheads.iter().cloned() {
            head.name = named(&head.name);
            head.photograph = None;
            file.powerheads.push(head);
        }
        for mut chain in demo.chains.iter().cloned() {
            chain.name = named(&chain.name);
            file.chains.push(chain);
        }
        for number in 0..1000 / heads {
            let mut setup = demo.setups.get(number % demo.setups.len()).expect("the demo has setups").clone();
            let mut bar = demo.bars.iter().find(|bar| bar.name == setup.bar).expect("it is there").clone();
            bar.name = format!("{} {copy} {number}", bar.name);
            setup.name = format!("{} {copy} {number}", setup.name);
            (setup.powerhead, setup.chain) = (named(&setup.powerhead), named(&setup.chain));
            setup.bar.clone_from(&bar.name);
            file.bars.push(bar);
            file.setups.push(setup);
        }
    }
    for reading in &mut file.readings {
        reading.setup =
            reading.setup.as_ref().map(|setup| format!("{setup} 0 {}", place(&demo.setups, setup)));
    }
    file.readings.retain(|reading| reading.setup.is_some());
    Document::new_yard(Yard::new(file).expect("copies are as valid")).expect("it has setups")
}

fn place(setups: &[SetupFile], name: &str) -> usize {
    setups.iter().position(|setup| setup.name == name).expect("the demo has it")
}

/// A room entered on a yard of a thousand setups, and looked at on.
fn large(c: &mut Criterion) {
    for heads in [20, 1] {
        let mut group = c.benchmark_group(format!("a thousand setups of {heads} times the demo's heads"));
        group.sample_size(10);
        for room in [Room::Bench, Room::Log, Room::Rack, Room::WeighIn, Room::Parts, Room::Teach] {
            group.bench_function(format!("{room:?} entered"), |b| {
                let enter = |document| Bench::on(document, room).app.view().room;
                b.iter_batched(|| thousand(heads), enter, BatchSize::PerIteration);
            });
        }
        for room in [Room::WeighIn, Room::Teach] {
            let mut bench = Bench::on(thousand(heads), room);
            group.bench_function(format!("{room:?} at rest"), |b| b.iter(|| bench.pass(Vec::new())));
        }
        group.finish();
    }
}

/// Width and height of a photograph of 24 megapixels.
const PHOTOGRAPH_PX: (u32, u32) = (6000, 4000);

/// The page of a head's photograph, with a mark on it that is dragged.
fn photograph(c: &mut Criterion) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("head.jpg");
    let (width, height) = PHOTOGRAPH_PX;
    let grain = |x: u32, y: u32| image::Rgb([x, y, x ^ y].map(|of| u8::try_from(of % 256).unwrap_or(0)));
    image::RgbImage::from_fn(width, height, grain).save(&path).expect("it is written");

    let ctx = Context::default();
    theme::install(&ctx);
    let head = PartId::new(PartKind::Powerhead, "Bittern");
    let mut file = demo().expect("the demo yard is valid").file().clone();
    let Some(PartFile::Powerhead(mut marked)) = file.part(&head) else { unreachable!("the demo has it") };
    marked.photograph = Some(marks(width, height));
    file.change_part(&head, PartFile::Powerhead(marked));
    let document = Document::new_yard(Yard::new(file).expect("marks are no fault")).expect("it has setups");
    let mut view = ViewState { room: Room::Parts, ..ViewState::default() };
    view.parts.pick(head);
    open_photograph(&document, &mut view, &path, &ctx);
    let mut bench = Bench { ctx, app: App::with_view(document, view), time: 0.0 };
    let mark = egui::Id::unique(("photograph mark", "spike tips", 0_usize));
    let seen = (0..2_000).any(|_| {
        bench.pass(Vec::new());
        std::thread::sleep(std::time::Duration::from_millis(5));
        bench.ctx.read_response(mark).is_some()
    });
    assert!(seen, "the picture was read");
    let grab = bench.ctx.read_response(mark).expect("seen").rect.center();
    bench.pass(vec![Event::PointerMoved(grab)]);
    bench.pass(vec![button(grab, true)]);
    let mut step = 0.0_f32;
    c.bench_function("a mark dragged on a photograph of 24 megapixels", |b| {
        b.iter(|| {
            step = (step + 1.0) % 20.0;
            bench.pass(vec![Event::PointerMoved(grab + Vec2::new(step - 10.0, 0.0))])
        });
    });
}

/// The sheet, the frame, grips and an outline of forty corners.
fn marks(width_px: u32, height_px: u32) -> PhotographFile {
    let mut file = begun("head.jpg".to_owned(), [width_px, height_px]);
    let at = |x_px: f64, y_px: f64| PixelFile { x_px, y_px };
    let (x, y) = (3000.0, 2000.0);
    let round = (0..40).map(|corner| f64::from(corner) * std::f64::consts::TAU / 40.0);
    for (landmark, marks) in [
        (
            Landmark::SheetCorners,
            vec![at(x, y + 300.0), at(x + 1782.0, y + 300.0), at(x + 1782.0, y + 1560.0), at(x, y + 1560.0)],
        ),
        (Landmark::Sprocket, vec![at(x, y)]),
        (Landmark::BarLine, vec![at(x + 200.0, y), at(x + 2400.0, y)]),
        (Landmark::SpikeTips, vec![at(x + 1000.0, y)]),
        (Landmark::FrontGrip, vec![at(x, y - 950.0)]),
        (Landmark::RearGrip, vec![at(x - 1800.0, y - 300.0)]),
        (Landmark::Outline, round.map(|turn| at(x + 800.0 * turn.cos(), y + 500.0 * turn.sin())).collect()),
    ] {
        file.set_marks(landmark, marks);
    }
    file
}

criterion_group!(benches, window, large, photograph);
criterion_main!(benches);
