//! Two setups over each other at one scale, spikes on spikes: one in full lines, one dashed.

use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits, RackEdit};
use crate::desk::format::short_name;
use crate::draw::pieces::{self, mm};
use crate::draw::strokes::{self, Canvas, Dash, Label, Pen, Scene, Side};
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use crate::window::widgets::{Choice, pick_list};
use barpoise_core::{Setup, solve};
use egui::{ComboBox, Role, Sense, Ui, WidgetInfo};
use kurbo::{Affine, Point};

/// Pens of the two.
const PENS: [Pen; 2] = [Pen::solid(Ink::Line, 1.8), Pen::solid(Ink::Ours, 1.8).with_dash(Dash::Dashed)];
/// Room about the drawing for its labels, in points.
const MARGIN: f32 = 14.0;
/// So many times as wide as it is high, a strip is low.
const LOW: f32 = 3.0;
/// Room before the noses for the names, in points.
const BEFORE_NOSE: f32 = 240.0;

/// Picks and drawing.
pub(super) fn laid_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    ui.horizontal(|ui| picks_ui(ui, document, edits));
    drawing_ui(ui, document, view);
}

/// Which two.
pub(super) fn picks_ui(ui: &mut Ui, document: &Document, edits: &mut Edits) {
    let [first, second] = names(document);
    pick_ui(ui, document, edits, false, first.as_deref());
    ui.label("and");
    pick_ui(ui, document, edits, true, second.as_deref());
}

/// The drawing.
pub(super) fn drawing_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let names = names(document);
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::hover());
    let setups: Vec<&Setup> = names.iter().flatten().filter_map(|name| document.yard().setup(name)).collect();
    let spoken = match setups.as_slice() {
        [a, b] => format!("{} and {} over each other at one scale", a.name(), b.name()),
        [a] => format!("{} to scale", a.name()),
        _ => "Nothing to lay over each other".to_owned(),
    };
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    if setups.is_empty() || rect.height() < 40.0 {
        return;
    }
    // In a low strip the names have no room over and under the bars: they stand before the noses.
    let low = rect.width() > LOW * rect.height();
    let room =
        if low { rect.shrink(MARGIN).with_max_x(rect.right() - BEFORE_NOSE) } else { rect.shrink(MARGIN) };
    let canvas = Canvas::fit(room, extent(&setups)).within(rect);
    let mut whole = Scene::new(canvas.points_per_mm());
    let farthest = setups.iter().map(|setup| tip_mm(setup)).fold(0.0, f64::max);
    for (place, (setup, pen)) in setups.iter().zip(PENS).enumerate() {
        let mut saw = Scene::new(canvas.points_per_mm());
        pieces::outlined_bar(&mut saw, setup, pen, 0.1);
        pieces::outlined_head(&mut saw, setup.powerhead(), pen, 0.1);
        whole.add(saw, Affine::translate((-setup.powerhead().spike_line().as_mm(), 0.0)));
        let nose = Nose { over: place == 0, before: low.then_some(farthest) };
        tip_label(&mut whole, view, setup, pen, nose);
    }
    spikes(&mut whole, low);
    strokes::paint(&whole, &canvas, &ui.painter_at(rect), view.paper);
}

/// The picked two; where one is not picked, who goes on and the next after it.
fn names(document: &Document) -> [Option<String>; 2] {
    let [first, second] = document.rack().laid();
    let order: Vec<String> = document
        .rack_figures()
        .zip(document.chosen())
        .map(|(figures, chosen)| {
            let ranked = chosen.choice.order.iter().map(|ranked| ranked.index);
            let refused = chosen.choice.refused.iter().map(|(index, _)| *index);
            let all = ranked.chain(refused);
            all.filter_map(|index| figures.contenders.get(index))
                .map(|one| one.solved.setup.clone())
                .collect()
        })
        .unwrap_or_default();
    let known = |name: &Option<String>| name.clone().filter(|name| document.yard().setup(name).is_some());
    let first = known(first).or_else(|| order.first().cloned());
    let other = order.iter().find(|name| Some(*name) != first.as_ref()).cloned();
    [first, known(second).or(other)]
}

fn pick_ui(ui: &mut Ui, document: &Document, edits: &mut Edits, second: bool, now: Option<&str>) {
    let (default, spoken) = if second {
        ("the next after it", "Laid over, dashed")
    } else {
        ("the one that goes on", "Laid over, full lines")
    };
    let [first, other] = document.rack().laid();
    let picked = if second { other } else { first };
    let combo = ComboBox::from_id_salt(("rack laid", second)).width(150.0).height(420.0).truncate();
    let names = || std::iter::once(None).chain(document.yard().setups().iter().map(|one| Some(one.name())));
    let lines = names().map(|name| Choice::new(name.unwrap_or(default), picked.as_deref() == name));
    let (list, asked) = pick_list(ui, combo.selected_text(now.unwrap_or("none")), lines);
    if let Some(setup) = asked.and_then(|index| names().nth(index)) {
        edits.ask(Edit::Rack(RackEdit::Lay { second, setup: setup.map(str::to_owned) }));
    }
    let spoken = format!("{spoken}: {}", now.unwrap_or("none"));
    list.widget_info(|| WidgetInfo { label: Some(spoken.clone()), ..WidgetInfo::new(Role::ComboBox) });
}

fn tip_mm(setup: &Setup) -> f64 {
    let path = setup.path();
    (path.centre_distance() + path.nose_radius() - setup.powerhead().spike_line()).as_mm()
}

/// Both saws about the spike line, with room for the labels over and under the bars, mm.
fn extent(setups: &[&Setup]) -> kurbo::Rect {
    let mut rect = kurbo::Rect::new(0.0, -150.0, 0.0, 190.0);
    for setup in setups {
        let head = setup.powerhead();
        let rear = mm(head.rear_grip()).x - head.spike_line().as_mm() - 100.0;
        rect = rect.union_pt(Point::new(rear, 0.0)).union_pt(Point::new(tip_mm(setup) + 30.0, 0.0));
    }
    rect
}

/// Where the name of a setup stands at its nose.
#[derive(Clone, Copy)]
struct Nose {
    /// Over the bars rather than under them.
    over: bool,
    /// Before this place rather than behind the nose, mm.
    before: Option<f64>,
}

/// Name and reach at the nose.
fn tip_label(scene: &mut Scene, view: &ViewState, setup: &Setup, pen: Pen, nose: Nose) {
    let tip = tip_mm(setup);
    let way = if nose.over { 1.0 } else { -1.0 };
    let end = Point::new(tip, way * (60.0 + scene.pt(10.0)));
    scene.line(Point::new(tip, 0.0), end, Pen::solid(pen.ink, 1.0));
    let (at, side) = match nose.before {
        None => (end + kurbo::Vec2::new(0.0, way * scene.pt(10.0)), Side::Left),
        Some(farthest) => (Point::new(farthest + scene.pt(8.0), way * scene.pt(12.0)), Side::Right),
    };
    let reach = view.units.length(solve(setup).reach);
    let text = format!("{}, reach {reach}", short_name(setup.name()));
    scene.label(Label::new(at, side, text, pen.ink).strong().on_patch());
}

fn spikes(scene: &mut Scene, low: bool) {
    let pen = Pen::solid(Ink::Soft, 1.0).with_dash(Dash::DashDot);
    scene.line(Point::new(0.0, 120.0), Point::new(0.0, -120.0), pen);
    if !low {
        let at = Point::new(0.0, -120.0);
        scene.label(Label::new(at, Side::Below, "spikes on spikes", Ink::Soft).on_patch());
    }
}
