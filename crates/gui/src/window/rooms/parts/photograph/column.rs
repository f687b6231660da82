//! The column beside the picture: what is marked in turn, how the view is squared up, each number with its ±.

use super::marking;
use crate::desk::document::Document;
use crate::desk::edit::Edits;
use crate::desk::forms::parts::{Draft, fields};
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::{PhotographView, ViewState};
use crate::window::widgets::{MeasureField, scrolled};
use barpoise_core::measure_text::read_length;
use barpoise_core::photograph::{Measured, Missing, Number, assumed, tenth};
use barpoise_core::record::{
    HeadUncertaintyFile, Landmark, PartFile, PartKind, PhotographFile, PowerheadFile, SquareUpFile,
};
use barpoise_core::units::Length;
use barpoise_core::{Range, ranges};
use egui::{Id, RichText, ScrollArea, Ui};

/// Widths of a field and of its name, points.
const FIELD: f32 = 92.0;
const NAME: f32 = 216.0;
/// Two points that are taped, to begin with, and how sure a tape is, mm.
const APART_MM: f64 = 400.0;
const TAPE_MM: f64 = 1.0;

/// Shows it; false once the page is to be closed.
pub(super) fn column_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    edits: &mut Edits,
    page: &mut PhotographView,
    file: &mut PhotographFile,
    head: &PowerheadFile,
) -> bool {
    let mut stays = true;
    ui.label(RichText::new(format!("{} from a photograph", head.name)).font(theme::strong(size::TITLE)));
    ui.horizontal(|ui| {
        stays = !ui.button("Back to the form").clicked();
        if ui
            .add_enabled((page.zoom - 1.0).abs() > f32::EPSILON, egui::Button::new("Whole picture"))
            .clicked()
        {
            page.zoom = 1.0;
            page.moved = egui::Vec2::ZERO;
        }
    });
    scrolled(ScrollArea::vertical().id_salt("photograph column").auto_shrink(false), ui, |ui| {
        if let Some(kept) = head.photograph.as_ref().filter(|kept| kept.path != file.path) {
            let said = format!(
                "{} keeps marks on {}. The first change here takes their place; undo brings them back.",
                head.name, kept.path
            );
            ui.add(egui::Label::new(RichText::new(said).color(view.paper.color(Ink::Warn))).wrap());
        }
        asked_ui(ui, view, page, file);
        marks_ui(ui, view, page, file);
        square_ui(ui, view, file);
        match page.measured(file) {
            Ok(measured) => numbers_ui(ui, document, view, edits, page, file, head, &measured),
            Err(missing) => {
                let why = match missing {
                    Missing::Marks(landmark) => {
                        format!("No numbers yet: the {} is asked first.", landmark.words())
                    }
                    Missing::View => {
                        "No camera sees these marks like this: look at the corners again.".to_owned()
                    }
                };
                ui.add_space(8.0);
                ui.add(egui::Label::new(RichText::new(why).color(view.paper.color(Ink::Soft))).wrap());
            }
        }
    });
    stays
}

/// What is to be done next.
fn asked_ui(ui: &mut Ui, view: &ViewState, page: &PhotographView, file: &PhotographFile) {
    let words = match marking(page, file) {
        Some(landmark) => {
            let count = file.marks_of(landmark).len();
            let full = count >= *landmark.counts().end();
            let how = if full {
                "Drag the marks, or step them with the arrow keys; Delete takes one away."
            } else {
                "Click on the picture."
            };
            format!("{} {how}", landmark.asks())
        }
        None => {
            "All is marked. Drag a mark, or step it with the arrow keys; Delete takes one away.".to_owned()
        }
    };
    ui.add_space(6.0);
    ui.add(
        egui::Label::new(
            RichText::new(words).font(theme::strong(size::BODY)).color(view.paper.color(Ink::Ours)),
        )
        .wrap(),
    );
}

/// What is marked and what is not: each can be picked.
fn marks_ui(ui: &mut Ui, view: &ViewState, page: &mut PhotographView, file: &mut PhotographFile) {
    ui.add_space(4.0);
    let next = marking(page, file);
    let square_up = file.square_up;
    for landmark in Landmark::ALL.into_iter().filter(|landmark| landmark.is_asked(&square_up)) {
        let (count, counts) = (file.marks_of(landmark).len(), landmark.counts());
        ui.horizontal(|ui| {
            let name = capitalised(landmark.words());
            if ui.selectable_label(next == Some(landmark), name).clicked() {
                page.marking = Some(landmark);
            }
            let words = match count {
                0 => String::new(),
                count if counts.contains(&count) => format!("{count} marked"),
                count => format!("{count} of {}", counts.start()),
            };
            ui.label(RichText::new(words).color(view.paper.color(Ink::Soft)));
            if count > 0 && ui.small_button("Clear").clicked() {
                file.set_marks(landmark, Vec::new());
                page.marking = Some(landmark);
            }
        });
    }
}

/// By what the view is squared up, and from where it was taken.
fn square_ui(ui: &mut Ui, view: &ViewState, file: &mut PhotographFile) {
    ui.add_space(8.0);
    ui.label(RichText::new("How it was taken").font(theme::strong(size::STRONG)));
    let distance = match file.square_up {
        SquareUpFile::Distance { .. } => file.square_up,
        SquareUpFile::Sheet { .. } => SquareUpFile::Distance { apart_mm: APART_MM, uncertainty_mm: TAPE_MM },
    };
    ui.horizontal(|ui| {
        ui.label("Squared up by");
        for (name, square_up) in
            [("A4", SquareUpFile::A4), ("Letter", SquareUpFile::LETTER), ("Two points", distance)]
        {
            if ui.selectable_label(file.square_up == square_up, name).clicked() {
                file.square_up = square_up;
            }
        }
    });
    if let SquareUpFile::Distance { apart_mm, uncertainty_mm } = &mut file.square_up {
        length_ui(ui, view, "Points apart", &ranges::KNOWN_LENGTH, apart_mm);
        length_ui(ui, view, "± of that", &ranges::LENGTH_UNCERTAINTY, uncertainty_mm);
    }
    length_ui(ui, view, "Lens to bar", &ranges::CAMERA_DISTANCE, &mut file.camera_distance_mm);
    length_ui(
        ui,
        view,
        "± of lens to bar",
        &ranges::CAMERA_UNCERTAINTY,
        &mut file.camera_distance_uncertainty_mm,
    );
    length_ui(ui, view, "Grips behind the bar", &ranges::GRIPS_BEHIND, &mut file.grips_behind_mm);
    length_ui(
        ui,
        view,
        "± of grips behind",
        &ranges::LENGTH_UNCERTAINTY,
        &mut file.grips_behind_uncertainty_mm,
    );
    field_ui(ui, view, "± of a mark, pixels", file.marking_px.to_string(), |text| {
        let number = text.trim().replace(',', ".").parse().map_err(|_| "a number of pixels".to_owned())?;
        within(&ranges::MARKING, number)
    })
    .into_iter()
    .for_each(|px| file.marking_px = px);
    let said = format!(
        "± are standard uncertainties. The depth of spikes, tanks and body behind the bar, a bend of the lens up to 1 %, \
         and two degrees of tilt where two points square the view up are {}.",
        assumed::MARK.words()
    );
    ui.add(egui::Label::new(RichText::new(said).color(view.paper.color(Ink::Soft))).wrap());
}

fn within(range: &Range, value: f64) -> Result<f64, String> {
    range.refusal(value).map_or(Ok(value), Err)
}

fn length_ui(ui: &mut Ui, view: &ViewState, name: &str, range: &Range, mm: &mut f64) {
    let units = view.units;
    let shown = units.length(Length::from_mm(*mm));
    let read = |text: &str| {
        let length = read_length(text, units.length_from()).map_err(|error| error.to_string())?;
        within(range, tenth(length.as_mm()))
    };
    if let Some(new) = field_ui(ui, view, name, shown, read) {
        *mm = new;
    }
}

fn field_ui(
    ui: &mut Ui,
    view: &ViewState,
    name: &str,
    shown: String,
    read: impl FnOnce(&str) -> Result<f64, String>,
) -> Option<f64> {
    ui.horizontal(|ui| {
        ui.allocate_ui(egui::vec2(NAME, size::HIT), |ui| {
            ui.set_min_width(NAME);
            ui.label(RichText::new(name).color(view.paper.color(Ink::Soft)));
        });
        let field = MeasureField { id: Id::unique(("photograph field", name)), name, shown, width: FIELD };
        field.show(ui, view.paper, read).1
    })
    .inner
}

/// Each number beside what the head has; nothing is put there unasked.
#[expect(clippy::too_many_arguments, reason = "what is read, what is asked, and the page")]
fn numbers_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    edits: &mut Edits,
    page: &PhotographView,
    file: &PhotographFile,
    head: &PowerheadFile,
    measured: &Measured,
) {
    ui.add_space(8.0);
    ui.label(RichText::new("What the photograph says").font(theme::strong(size::STRONG)));
    let scale = format!("A pixel at the sprocket is {:.2} mm.", measured.mm_per_px);
    ui.label(RichText::new(scale).color(view.paper.color(Ink::Soft)));
    let part = PartFile::Powerhead(Box::new(head.clone()));
    let mut put: Vec<&str> = Vec::new();
    let mut all: Vec<&str> = Vec::new();
    for number in &measured.numbers {
        let there = part.number(number.path);
        let differs = there != Some(tenth(number.value_mm));
        number_ui(ui, view, number, there, differs.then_some(&mut put));
        if differs {
            all.push(number.path);
        }
    }
    if !measured.outline.is_empty() {
        let mut drawn = head.clone();
        measured.put_outline(&mut drawn);
        let differs = drawn.outline != head.outline;
        let worst = measured.outline.iter().map(|corner| corner.uncertainty.amax()).fold(0.0, f64::max);
        ui.horizontal_wrapped(|ui| {
            let corners = measured.outline.len();
            let worst = view.units.length(Length::from_mm(worst));
            ui.label(format!("Outline: {corners} corners, each within ± {worst}"));
            if !differs {
                ui.label(RichText::new("as it stands").color(view.paper.color(Ink::Soft)));
            } else if ui.small_button("Put outline").clicked() {
                put.push("outline");
            }
        });
        if differs {
            all.push("outline");
        }
    }
    if all.len() > 1 && ui.button(format!("Put all {} into the form", all.len())).clicked() {
        put = all;
    }
    if !put.is_empty() {
        take(document, view, edits, page, file, measured, &put);
    }
}

fn number_ui(
    ui: &mut Ui,
    view: &ViewState,
    number: &Number,
    there: Option<f64>,
    put: Option<&mut Vec<&str>>,
) {
    let found = fields(PartKind::Powerhead).iter().find(|field| field.path == number.path);
    let name = found.map_or(number.path, |field| field.label);
    let with =
        view.units.length_with(Length::from_mm(number.value_mm), Length::from_mm(number.uncertainty_mm));
    ui.horizontal_wrapped(|ui| {
        ui.label(format!("{name}: {with}"));
        let Some(put) = put else {
            ui.label(RichText::new("as it stands").color(view.paper.color(Ink::Soft)));
            return;
        };
        if let Some(there) = there {
            let words = format!("now {}", view.units.length(Length::from_mm(there)));
            ui.label(RichText::new(words).color(view.paper.color(Ink::Soft)));
        }
        let button = ui.small_button("Put");
        button.widget_info(|| {
            egui::WidgetInfo::labeled(egui::Role::Button, true, format!("Put {name} into the form"))
        });
        if button.clicked() {
            put.push(number.path);
        }
    });
}

/// Puts numbers into the head as its owner's own, with how sure they are where the head says that.
fn take(
    document: &Document,
    view: &mut ViewState,
    edits: &mut Edits,
    page: &PhotographView,
    file: &PhotographFile,
    measured: &Measured,
    put: &[&str],
) {
    let Some(part) = document.yard().file().part(&page.head) else { return };
    let mut draft = Draft::new(Some(page.head.clone()), part);
    for path in put {
        let value = measured.numbers.iter().find(|number| number.path == *path).map(|n| tenth(n.value_mm));
        let change = |part: &mut PartFile| match (part, value) {
            (PartFile::Powerhead(head), None) => measured.put_outline(head),
            (part, value) => {
                part.set_number(path, value);
            }
        };
        draft.take(path, change, document.yard());
    }
    if let PartFile::Powerhead(head) = &mut draft.part {
        head.photograph = Some(file.clone());
        sure(&mut head.standard_uncertainty, measured, put);
    }
    view.parts.take(draft, document, edits);
}

/// The least that a stated uncertainty may be, to a hundredth above what was found.
fn sure(unsure: &mut HeadUncertaintyFile, measured: &Measured, put: &[&str]) {
    let stated = |mm: f64| ((mm * 100.0).ceil() / 100.0).max(ranges::LENGTH_UNCERTAINTY.min);
    let of =
        |path: &str| measured.numbers.iter().find(|number| number.path == path).map(|n| n.uncertainty_mm);
    if put.contains(&"spike_line_mm") {
        unsure.spike_line_mm = of("spike_line_mm").map(stated);
    }
    // One number stands for both tanks, and one for both grips: the less sure of them.
    let least_sure = |of: &dyn Fn(&str) -> bool| {
        let all = measured.numbers.iter().filter(|number| of(number.path));
        let worst = all.map(|number| number.uncertainty_mm).fold(0.0, f64::max);
        put.iter().any(|path| of(path)).then(|| stated(worst))
    };
    unsure.tanks_mm = least_sure(&|path| path.contains("tank.corner")).or(unsure.tanks_mm);
    unsure.grips_mm = least_sure(&|path| path.contains("_grip.")).or(unsure.grips_mm);
}
