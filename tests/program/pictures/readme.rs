//! The pictures of the README show the program as it is.

use super::image::Image;
use super::screen::shown;
use barpoise::desk::document::{Document, Log};
use barpoise::desk::edit::{Edit, Gesture, LogEdit};
use barpoise::desk::format::Units;
use barpoise::desk::page_size::PageSize;
use barpoise::draw::output::Form;
use barpoise::draw::sheet::Handout;
use barpoise::draw::theme::{Ink, Paper};
use barpoise::window::App;
use barpoise::window::view_state::{Room, ViewState};
use barpoise_core::Yard;
use barpoise_core::file::demo;
use barpoise_core::log::{Stand, Tangle};
use barpoise_core::record::{MeasuredFile, ReadingFile};
use barpoise_core::units::Length;
use std::path::PathBuf;

/// The size of a common small screen's window.
const SIZE: egui::Vec2 = egui::vec2(1280.0, 800.0);
/// Passes after which nothing moves any more.
const PASSES: u32 = 30;
/// Another processor may round an edge differently.
const APART: (f64, f64) = (0.05, 6.0);

/// The window in a room, once all is computed.
fn window(document: Document, view: ViewState) -> Vec<u8> {
    let mut app = App::with_view(document, view);
    let image = shown(SIZE, Paper::Light.color(Ink::Paper), 1.0, PASSES, |ui| {
        app.show(ui);
        app.wait();
    });
    image.png()
}

fn view(room: Room) -> ViewState {
    ViewState { room, cautions_folded: true, ..ViewState::default() }
}

fn bench() -> Vec<u8> {
    window(Document::demo().unwrap(), view(Room::Bench))
}

/// A log wider than the bar, part-way through its second setting.
fn log() -> Vec<u8> {
    let mut document = Document::demo().unwrap();
    for edit in [LogEdit::Diameter(Length::from_mm(740.0)), LogEdit::Tangle(Tangle::Far)] {
        document.apply(Edit::Log(edit), Gesture::Single);
    }
    window(document, ViewState { cut_run: 1.5, ..view(Room::Log) })
}

fn rack() -> Vec<u8> {
    window(Document::demo().unwrap(), view(Room::Rack))
}

/// The step with four bars on one head.
fn teach() -> Vec<u8> {
    let mut view = view(Room::Teach);
    view.teach.prepare().unwrap();
    view.teach.step = 3;
    let told = barpoise::desk::lesson::Chosen { answer: Some(3), told: true };
    view.teach.chosen.insert(3, told);
    window(Document::demo().unwrap(), view)
}

/// A few readings of our own.
fn weigh_in() -> Vec<u8> {
    let mut file = demo().unwrap().file().clone();
    let hang = |nose_down_deg| MeasuredFile::Hang { nose_down_deg, uncertainty_deg: 1.0 };
    for (setup, measured) in [
        ("Bittern B24", MeasuredFile::Total { weight_kg: 9.25, uncertainty_kg: 0.05 }),
        ("Bittern B24", hang(19.0)),
        ("Bittern B30", hang(32.0)),
        ("Bittern B14", hang(3.5)),
    ] {
        file.readings.push(ReadingFile::new(measured, Some(setup.to_owned())));
    }
    window(Document::new_yard(Yard::new(file).unwrap()).unwrap(), view(Room::WeighIn))
}

fn handout() -> Vec<u8> {
    let yard = demo().unwrap();
    let log = Log::round(Length::from_mm(560.0), Stand::OneSide).unwrap();
    let setups = yard.setups().iter().collect();
    let size = PageSize::A4;
    let sheet = Handout {
        yard: &yard,
        setups,
        log: Some(&log),
        size,
        units: Units::default(),
        date: "2026-11-25",
        author: "",
    };
    sheet.sheet().unwrap().written(Form::Png).unwrap()
}

/// `RENEW_PICTURES=1` writes them anew, to be looked at.
#[test]
fn the_pictures_of_the_readme_are_of_today() {
    type Made = fn() -> Vec<u8>;
    let pictures: [(&str, Made); 6] = [
        ("bench", bench),
        ("log", log),
        ("rack", rack),
        ("teach", teach),
        ("weigh-in", weigh_in),
        ("handout", handout),
    ];
    let mut old = Vec::new();
    for (name, made) in pictures {
        let path: PathBuf = [env!("CARGO_MANIFEST_DIR"), "../../assets-demo", name].iter().collect();
        let path = path.with_extension("png");
        let png = made();
        if std::env::var_os("RENEW_PICTURES").is_some() {
            std::fs::write(&path, &png).unwrap();
        }
        let (stored, now) = (Image::of_png(&std::fs::read(&path).unwrap()), Image::of_png(&png));
        let same = (stored.width, stored.height) == (now.width, now.height) && {
            let (mean, worst) = stored.apart(&now, now.width / 100);
            mean <= APART.0 && worst <= APART.1
        };
        if !same {
            old.push(name);
        }
    }
    assert!(old.is_empty(), "{old:?} of assets-demo are old: RENEW_PICTURES=1 cargo test -p barpoise readme");
}
