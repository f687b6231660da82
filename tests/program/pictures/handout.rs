//! The handout on paper: to scale, nothing lost, its text selectable.

use super::image::Image;
use barpoise::desk::document::Log;
use barpoise::desk::format::Units;
use barpoise::desk::page_size::PageSize;
use barpoise::draw::output::Form;
use barpoise::draw::sheet::{Handout, HandoutError, Sheet};
use barpoise::draw::strokes::{Item, Scene, Typeface, text_width};
use barpoise_core::file::{demo, demo_text, parse_yard};
use barpoise_core::log::Stand;
use barpoise_core::record::YardFile;
use barpoise_core::units::Length;
use barpoise_core::weigh_in::Knowledge;
use barpoise_core::{CAUTIONS, KICKBACK_CAUTION, Setup, Yard, solve};

const DATE: &str = "2026-11-25";
/// Pixels of the sheet's image for each millimetre.
const PER_MM: f64 = 150.0 / 25.4;

fn handout<'a>(yard: &'a Yard, names: &[&str], log: Option<&'a Log>, size: PageSize) -> Handout<'a> {
    let setups: Vec<&Setup> = match names {
        [] => yard.setups().iter().collect(),
        names => names.iter().map(|name| yard.setup(name).unwrap()).collect(),
    };
    Handout { yard, setups, log, size, units: Units::default(), date: DATE, author: "" }
}

fn log(mm: f64) -> Log {
    Log::round(Length::from_mm(mm), Stand::OneSide).unwrap()
}

/// The text of a PDF's one page.
fn text_of(sheet: &Sheet) -> String {
    let pages = pdf_extract::extract_text_from_mem_by_pages(&sheet.written(Form::Pdf).unwrap()).unwrap();
    assert_eq!(pages.len(), 1);
    pages.concat()
}

/// Without what breaks lines.
fn letters(text: &str) -> String {
    text.chars().filter(|character| !character.is_whitespace()).collect()
}

#[test]
fn everything_that_must_be_said_can_be_selected_in_the_pdf() {
    let yard = demo().unwrap();
    let log = log(560.0);
    let text = letters(&text_of(&handout(&yard, &[], Some(&log), PageSize::A4).sheet().unwrap()));
    let mut must = vec![yard.name(), yard.note(), DATE, KICKBACK_CAUTION, "Where the numbers come from"];
    must.extend(CAUTIONS);
    must.extend(yard.setups().iter().map(Setup::name));
    for said in must {
        assert!(text.contains(&letters(said)), "{said}\n{text}");
    }
    let known = Knowledge::of(&yard, yard.setups());
    for setup in yard.setups() {
        let ready = known.bands(setup).ready_mass.unwrap();
        let weight = Units::default().mass_with(solve(setup).ready_mass(), ready);
        assert!(text.contains(&letters(&weight)), "{weight}");
    }
}

#[test]
fn the_sheet_has_its_size_on_paper() {
    let yard = demo().unwrap();
    for (size, points) in [(PageSize::A4, (595.276, 841.89)), (PageSize::Letter, (612.0, 792.0))] {
        let sheet = handout(&yard, &["Bittern B24"], None, size).sheet().unwrap();
        let document = pdf_extract::Document::load_mem(&sheet.written(Form::Pdf).unwrap()).unwrap();
        let page = *document.get_pages().get(&1).unwrap();
        let media = document.get_dictionary(page).unwrap().get(b"MediaBox").unwrap().as_array().unwrap();
        let side = |i: usize| f64::from(media[i].as_float().unwrap());
        assert!((side(2) - points.0).abs() < 0.1 && (side(3) - points.1).abs() < 0.1, "{media:?}");
    }
}

/// Millimetres of the sheet in pixels of its image.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a sheet is small")]
fn px(mm: f64) -> usize {
    (mm * PER_MM).round() as usize
}

/// The farthest dark pixel to the right in a row of the image before a white gap of 20 pixels.
fn end_of_dark(image: &Image, from: usize, y: usize) -> usize {
    let dark = |x: usize| image.at(x, y).iter().any(|channel| *channel < 250);
    let mut last = from;
    for x in from..image.width {
        if dark(x) {
            last = x;
        } else if x > last + 20 {
            break;
        }
    }
    last
}

#[test]
fn the_stated_scale_holds_on_the_printed_sheet() {
    let yard = demo().unwrap();
    for name in ["Bittern B30", "Bittern B14", "Wren B18"] {
        let sheet = handout(&yard, &[name], None, PageSize::A4).sheet().unwrap();
        let image = Image::of_png(&sheet.written(Form::Png).unwrap());
        assert_eq!(image.width, px(210.0));
        // The check line is the lowest long line of one ink.
        let left = px(13.0);
        let long = |y: usize| end_of_dark(&image, left, y) - left;
        // Letters have gaps, the line has none.
        let whole = |y: &usize| (left + 1..left + px(80.0)).all(|x| image.at(x, *y)[0] < 200);
        let check = (0..image.height).rev().filter(whole).map(long).next().unwrap();
        assert!((check as f64 / PER_MM - 100.0).abs() < 0.4, "the line is {} mm", check as f64 / PER_MM);
        // The saw: from its spike line to its nose, measured on the image.
        let setup = yard.setup(name).unwrap();
        let (spikes, bar_row) = spikes_of(&image);
        let nose = end_of_dark(&image, spikes, bar_row);
        let drawn = (nose - spikes) as f64 / PER_MM * f64::from(sheet.scale());
        let reach = solve(setup).reach.as_mm();
        // A pixel is scale / 5.9 mm of the saw; the danger arc stands out a few points of ink.
        let ink = 4.0 * 0.6 * 25.4 / 72.0 * f64::from(sheet.scale());
        assert!(drawn > reach - 3.0 && drawn < reach + ink + 3.0, "{name}: {drawn:.0} for {reach:.0} mm");
    }
}

/// The dash-dot line of the spikes, and the row of the bar's middle: the line's column is the one with the most ink
/// among those that reach over and under the saw; the bar's middle is where the sheet is widest covered.
fn spikes_of(image: &Image) -> (usize, usize) {
    let top = px(30.0);
    let bottom = px(90.0);
    let left = px(13.0);
    let covered = |y: usize| (left..image.width).filter(|x| image.at(*x, y)[0] < 250).count();
    let plate = [0xe9, 0xea, 0xe9];
    let is_plate = |x: usize, y: usize| (0..3).all(|c| image.at(x, y)[c].abs_diff(plate[c]) < 3);
    let bar: Vec<usize> =
        (top..bottom).filter(|y| (left..image.width).filter(|x| is_plate(*x, *y)).count() > 60).collect();
    let middle = bar[bar.len() / 2];
    assert!(covered(middle) > 100);
    let above = *bar.first().unwrap() - px(3.0);
    let soft = |x: usize| {
        (above - 40..above).filter(|y| image.at(x, *y)[0] < 200 && image.at(x + 4, *y)[0] > 200).count()
    };
    let body = (left..image.width).rev().find(|x| is_plate(*x, middle)).unwrap();
    let column = (left..body).rev().max_by_key(|x| soft(*x)).unwrap();
    (column, middle)
}

#[test]
fn no_text_runs_over_the_edge_or_into_another() {
    let yard = demo().unwrap();
    let (small, large) = (log(560.0), log(740.0));
    for (names, log, size) in [
        (&[][..], Some(&small), PageSize::A4),
        (&[][..], None, PageSize::Letter),
        (&["Bittern B18", "Wren B18", "Bittern B30"][..], Some(&large), PageSize::Letter),
        (&["Bittern B24"][..], Some(&small), PageSize::A4),
    ] {
        let sheet = handout(&yard, names, log, size).sheet().unwrap();
        let (scene, canvas) = sheet.drawings().next().unwrap();
        let labels: Vec<_> = scene
            .items()
            .iter()
            .filter_map(|item| match item {
                Item::Text(label) => {
                    let size = label.size * canvas.enlargement();
                    let room = egui::vec2(text_width(&label.text, size, label.strong), 0.8 * size);
                    Some((label.text.clone(), canvas.place(label, room)))
                }
                _ => None,
            })
            .collect();
        assert!(labels.len() > 20);
        let page = canvas.rect().shrink(20.0);
        for (index, (text, place)) in labels.iter().enumerate() {
            assert!(page.contains_rect(*place), "{text} at {place:?} of {page:?}");
            for (other, there) in labels.iter().skip(index + 1) {
                assert!(!place.shrink(0.5).intersects(*there), "{text} and {other} overlap");
            }
        }
    }
}

#[test]
fn what_does_not_fit_is_refused() {
    let yard = demo().unwrap();
    let empty = Handout { setups: Vec::new(), ..handout(&yard, &[], None, PageSize::A4) };
    assert_eq!(empty.sheet().unwrap_err(), HandoutError::Empty);
    let note = "This note has no end. ".repeat(400);
    let noted = Yard::new(YardFile { note, ..yard.file().clone() }).unwrap();
    assert_eq!(
        handout(&noted, &[], None, PageSize::A4).sheet().unwrap_err(),
        HandoutError::Full { setups: 8 }
    );
}

#[test]
fn more_setups_than_a_page_holds_go_on_as_many_as_it_takes() {
    let yard = demo().unwrap();
    let many: Vec<&Setup> = yard.setups().iter().cycle().take(40).collect();
    let log = log(560.0);
    let sheet = Handout { setups: many, ..handout(&yard, &[], Some(&log), PageSize::A4) }.sheet().unwrap();
    let pages = sheet.drawings().count();
    assert!((4..=10).contains(&pages), "{pages}");
    let texts = |scene: &Scene| -> Vec<String> {
        let text = |item: &Item| match item {
            Item::Text(label) => Some(label.text.clone()),
            _ => None,
        };
        scene.items().iter().filter_map(text).collect()
    };
    let mut named = 0;
    for (place, (scene, canvas)) in sheet.drawings().enumerate() {
        let said = texts(scene);
        assert!(
            said.iter().any(|text| text.ends_with(&format!("Page {} of {pages}", place + 1))),
            "{said:?}"
        );
        assert!(
            said.iter().any(|text| text.contains("does not reduce kickback")),
            "every page has the cautions"
        );
        // Once in the column, once in the table.
        named += said.iter().filter(|text| yard.setup(text).is_some()).count() / 2;
        for item in scene.items() {
            let Item::Text(label) = item else { continue };
            assert!(canvas.rect().contains(canvas.to_screen(label.at)), "{}", label.text);
        }
    }
    assert_eq!(named, 40);
    let pdf = sheet.written(Form::Pdf).unwrap();
    let read = lopdf_pages(&pdf);
    assert_eq!(read, pages);
    assert!(pdf_extract::extract_text_from_mem(&pdf).unwrap().contains(&format!("Page {pages} of {pages}")));
    // Under each other in a drawing.
    let (width, height) = PageSize::A4.mm();
    let all = height * f64::from(u32::try_from(pages).unwrap());
    assert!(sheet.svg(Typeface::Named).contains(&format!("width=\"{width:.2}mm\" height=\"{all:.2}mm\"")));
}

/// The pages that another reader finds.
fn lopdf_pages(bytes: &[u8]) -> usize {
    pdf_extract::Document::load_mem(bytes).unwrap().get_pages().len()
}

#[test]
fn an_svg_of_the_sheet_needs_nothing_else() {
    let yard = demo().unwrap();
    let sheet = handout(&yard, &["Wren B14"], None, PageSize::A4).sheet().unwrap();
    let text = sheet.svg(Typeface::Inside);
    assert!(text.contains("@font-face") && !text.contains("href"), "nothing is fetched");
}

/// Whatever fonts a machine has: no letter of a name stops a sheet, and its words can be read.
#[test]
fn names_in_any_script_go_on_paper() {
    let names = ["Bittern B24", "Bittern B14", "Wren B14"];
    let (mut text, scripts) = (demo_text().to_owned(), ["榛の木 24", "שלום", "البيترن"]);
    for (name, script) in names.iter().zip(scripts) {
        text = text.replace(&format!("\"{name}\""), &format!("\"{script}\""));
    }
    let yard = parse_yard(&text, "scripts").unwrap();
    let sheet = handout(&yard, &scripts, None, PageSize::A4).sheet().unwrap();
    for script in scripts {
        assert!(sheet.svg(Typeface::Inside).contains(script));
    }
    assert!(sheet.written(Form::Png).unwrap().len() > 10_000);
    let pdf = sheet.written(Form::Pdf).unwrap();
    assert_eq!(pdf_extract::Document::load_mem(&pdf).unwrap().get_pages().len(), 1);
    assert!(text_of(&sheet).contains("Ready weight"), "what the bundled typeface has stays text");
}
