//! The rack in the window.

use super::harness::{SIZE, focus_slider, move_to, press, slider_at, window_of};
use barpoise::desk::document::{Document, LIMITS};
use barpoise::desk::edit::{Edit, Gesture, RackEdit};
use barpoise::desk::format::{ForceUnit, Units};
use barpoise::window::app::App;
use barpoise::window::view_state::{Room, ViewState};
use barpoise_core::rack::{CheckKind, Limit, Measure, Otherwise, Threshold, Verdict, WorkRates};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

fn window_in(size: Vec2) -> Harness<'static, App> {
    // Round loads in newtons.
    let units = Units { force: ForceUnit::N, ..Units::default() };
    let view = ViewState { room: Room::Rack, units, ..ViewState::default() };
    let mut app = App::with_view(Document::demo().unwrap(), view);
    app.wait();
    let mut harness = window_of(app, size);
    settled(&mut harness);
    harness
}

fn window() -> Harness<'static, App> {
    window_in(SIZE)
}

/// After all that is computed beside the window is there.
fn settled(harness: &mut Harness<'_, App>) {
    harness.state_mut().wait();
    harness.run();
}

fn document<'a>(harness: &'a Harness<'_, App>) -> &'a Document {
    harness.state().document()
}

fn winner(harness: &Harness<'_, App>) -> String {
    let document = document(harness);
    let index = document.chosen().unwrap().choice.winner().unwrap();
    document.rack_figures().unwrap().contenders.get(index).unwrap().solved.setup.clone()
}

fn cuts(harness: &Harness<'_, App>, place: usize) -> u32 {
    document(harness).rack_wood().unwrap().logs().get(place).unwrap().cuts
}

fn undo(harness: &mut Harness<'_, App>) {
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    harness.run();
    settled(harness);
}

fn type_into(harness: &mut Harness<'_, App>, field: &str, text: &str) {
    harness.get_by_role_and_label(Role::TextInput, field).focus();
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, field).type_text(text);
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
}

#[test]
fn each_wood_of_the_demo_gets_its_setup_in_words() {
    let mut harness = window();
    let woods: Vec<String> =
        document(&harness).yard().woods().iter().map(|wood| wood.name().to_owned()).collect();
    let mut now = woods[0].clone();
    for wood in woods {
        if wood != now {
            harness.get_by_role_and_label(Role::ComboBox, &format!("Wood: {now}")).click();
            harness.run();
            harness.get_by_role_and_label(Role::Button, &wood).click();
            harness.run();
            settled(&mut harness);
        }
        assert_eq!(document(&harness).rack_wood().unwrap().name(), wood);
        assert!(!document(&harness).rack_figures().unwrap().is_old);
        harness.get_by_label_contains(&format!("{} goes on for {wood}", winner(&harness)));
        now = wood;
    }
}

#[test]
fn a_count_changes_by_keys_and_by_drag_and_the_old_figures_stay_meanwhile() {
    let mut harness = window();
    let before = cuts(&harness, 0);
    focus_slider(&mut harness, "Cuts of 420 mm");
    harness.key_press(Key::ArrowUp);
    harness.run();
    assert_eq!(cuts(&harness, 0), before + 1);
    assert!(document(&harness).rack_figures().is_some(), "the last figures stay in sight");
    settled(&mut harness);
    assert!(document(&harness).unsaved());
    assert_eq!(document(&harness).rack_figures().unwrap().wood.logs()[0].cuts, before + 1);
    let grab = slider_at(&harness, "Cuts of 500 mm");
    let was = cuts(&harness, 1);
    move_to(&mut harness, grab);
    press(&mut harness, grab, true);
    for down in [8.0, 20.0, 40.0] {
        move_to(&mut harness, grab + Vec2::new(0.0, down));
    }
    press(&mut harness, grab + Vec2::new(0.0, 40.0), false);
    assert!(cuts(&harness, 1) < was);
    undo(&mut harness);
    assert_eq!(cuts(&harness, 1), was, "one drag is one step");
    undo(&mut harness);
    assert_eq!(cuts(&harness, 0), before);
    assert!(!document(&harness).unsaved());
}

#[test]
fn a_diameter_is_added_removed_and_typed() {
    let mut harness = window();
    type_into(&mut harness, "Diameter to add", "12 in");
    let logs = document(&harness).rack_wood().unwrap().logs().to_vec();
    assert!((logs[0].diameter.as_mm() - 304.8).abs() < 1e-9 && logs[0].cuts == 1, "{logs:?}");
    focus_slider(&mut harness, "Cuts of 305 mm");
    type_into(&mut harness, "Number of cuts of 305 mm", "7");
    assert_eq!(cuts(&harness, 0), 7);
    focus_slider(&mut harness, "Cuts of 305 mm");
    harness.key_press(Key::Delete);
    harness.run();
    assert_eq!(document(&harness).rack_wood().unwrap().logs().len(), logs.len() - 1);
}

#[test]
fn a_limit_puts_rows_out_with_words() {
    let mut harness = window();
    let out = |harness: &Harness<'_, App>| document(harness).chosen().unwrap().choice.refused.len();
    assert_eq!(out(&harness), 0);
    type_into(&mut harness, "Front hand at most, in N", "100");
    assert!(out(&harness) > 1);
    harness.get_by_label_contains("Bittern B24, out, front hand 107 N, wanted at most 100 N");
    undo(&mut harness);
    assert_eq!(out(&harness), 0);
    focus_slider(&mut harness, "Limit of front hand in N");
    harness.key_press(Key::ArrowLeft);
    harness.run();
    let (limit, in_force) = document(&harness).rack().limit(Measure::FrontHand).unwrap();
    assert!(in_force && (limit.bound - 99.0).abs() < 1e-9, "{limit:?}");
}

#[test]
fn weights_change_the_winner_and_undo_brings_it_back() {
    let mut harness = window();
    let first = winner(&harness);
    for _ in 0..4 {
        focus_slider(&mut harness, "How much weight counts");
        harness.key_press(Key::ArrowRight);
        harness.run();
    }
    assert!(document(&harness).rack().weight(Measure::Weight) > 1.0);
    type_into(&mut harness, "How much weight counts", "10");
    assert_ne!(winner(&harness), first);
    assert!(!document(&harness).rack_figures().unwrap().is_old, "nothing is computed anew for a weight");
    undo(&mut harness);
    assert_eq!(winner(&harness), first);
}

#[test]
fn a_scale_is_moved_and_comes_back() {
    let mut harness = window_in(Vec2::new(1600.0, 4000.0));
    let bad = |harness: &Harness<'_, App>| document(harness).rack().anchors(Measure::FrontHand).bad();
    let before = bad(&harness);
    harness.get_by_label("Ends of the scales").click();
    harness.run();
    harness.run_steps(20);
    type_into(&mut harness, "Front hand as bad as it gets, in N", "110");
    assert!((bad(&harness) - 110.0).abs() < 1e-9, "{}", bad(&harness));
    assert!(!document(&harness).rack_figures().unwrap().is_old, "nothing is computed anew for a scale");
    type_into(&mut harness, "Front hand as bad as it gets, in N", "40");
    assert!((bad(&harness) - 110.0).abs() < 1e-9, "the wrong way round is refused");
    harness.run_steps(5);
    harness.get_by_label_contains("below what is as bad as it gets, 40 N");
    undo(&mut harness);
    assert!((bad(&harness) - before).abs() < 1e-9);
}

#[test]
fn cuts_not_done_go_to_another_saw_by_keys_and_come_back() {
    let mut harness = window_in(Vec2::new(1600.0, 4000.0));
    let means = |harness: &Harness<'_, App>| document(harness).rack().rates().otherwise.clone();
    assert_eq!(means(&harness), Otherwise::OtherSide);
    harness.get_by_label("What work takes").click();
    harness.run();
    harness.run_steps(20);
    harness.get_by_role_and_label(Role::ComboBox, "Cuts not done go from the other side").focus();
    harness.run();
    harness.key_press(Key::Space);
    harness.run();
    harness.run_steps(5);
    harness.get_by_label("by Bittern B14").click();
    harness.run();
    settled(&mut harness);
    assert_eq!(means(&harness), Otherwise::OtherSaw("Bittern B14".to_owned()));
    harness.get_by_label("Cuts not done go by Bittern B14");
    undo(&mut harness);
    assert_eq!(means(&harness), Otherwise::OtherSide);
}

#[test]
fn picking_a_row_changes_the_bench_and_tells_how_it_suits() {
    let mut harness = window();
    harness.get_by(|node| node.role() == Role::Row && starts(node, "Wren B18,")).click();
    harness.run();
    assert_eq!(document(&harness).figures().setup().name(), "Wren B18");
    harness.get_by_label("How Wren B18 suits itself");
    assert!(harness.query_all_by_label_contains("are our guess: they are yours").next().is_some());
    harness.get_by_label("Bench").click();
    harness.run();
    harness.get_by_label_contains("Saw to scale, Wren B18");
}

fn starts(node: &egui_kittest::kittest::AccessKitNode<'_>, with: &str) -> bool {
    node.label().is_some_and(|label| label.starts_with(with))
}

#[test]
fn pasted_nonsense_is_answered_by_line_and_sense_is_taken() {
    let mut harness = window();
    let paste = |harness: &mut Harness<'_, App>, text: &str| {
        let field = || "Paste diameters";
        harness.get_by_role_and_label(Role::MultilineTextInput, field()).focus();
        harness.run();
        harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
        harness.run();
        harness.get_by_role_and_label(Role::MultilineTextInput, field()).type_text(text);
        harness.run();
        harness.get_by_label("Take these diameters").scroll_to_me();
        harness.run();
        harness.get_by_label("Take these diameters").click();
        harness.run();
    };
    let before = document(&harness).rack_wood().unwrap().logs().to_vec();
    paste(&mut harness, "300\n30 kg\n300 x many");
    assert_eq!(document(&harness).rack_wood().unwrap().logs(), before);
    harness.get_by_label_contains("line 2: the unit `kg`");
    harness.get_by_label_contains("line 3: `many` is not a whole number");
    paste(&mut harness, "450 x 3\n200 x 2; 200");
    let logs = document(&harness).rack_wood().unwrap().logs().to_vec();
    let found: Vec<(f64, u32)> = logs.iter().map(|log| (log.diameter.as_mm().round(), log.cuts)).collect();
    assert_eq!(found, [(200.0, 3), (450.0, 3)], "thin before thick, the same together");
}

#[test]
fn woods_are_added_copied_renamed_and_deleted() {
    let mut harness = window();
    for button in ["Add", "Duplicate"] {
        harness.get_by_label(button).click();
        harness.run();
    }
    settled(&mut harness);
    let name = |harness: &Harness<'_, App>| document(harness).rack_wood().unwrap().name().to_owned();
    assert_eq!(name(&harness), "New wood 2");
    type_into(&mut harness, "Name of the wood", "Poplar butts");
    assert_eq!(name(&harness), "New wood 2", "a name that is taken is refused");
    type_into(&mut harness, "Name of the wood", "Alder row");
    assert_eq!(name(&harness), "Alder row");
    // Typing the name has scrolled to it.
    harness.get_by_label("Delete").scroll_to_me();
    harness.run();
    for _ in 0..6 {
        harness.get_by_label("Delete").click();
        harness.run();
    }
    assert!(document(&harness).rack_wood().is_none());
    settled(&mut harness);
    harness.get_by_label_contains("This yard has no wood yet");
    undo(&mut harness);
    assert!(document(&harness).rack_wood().is_some());
}

#[test]
fn four_columns_stand_there_and_the_rest_on_request() {
    let mut harness = window();
    let heads = |harness: &Harness<'_, App>| {
        let heads = harness.query_all_by_role(Role::Button);
        heads
            .filter(|node| node.accesskit_node().label().is_some_and(|label| label.starts_with("Sort by")))
            .count()
    };
    assert_eq!(heads(&harness), 1 + 4, "the order and four figures");
    harness.get_by_label("All columns").click();
    harness.run();
    assert_eq!(heads(&harness), 1 + 14);
    harness.get_by_label("Sort by reach past the spikes").click();
    harness.run();
    harness.get_by_label("All columns").click();
    harness.run();
    assert_eq!(heads(&harness), 1 + 4);
    harness.get_by_label("Sort by order of the choice, least first");
}

#[test]
fn the_one_that_goes_on_stands_over_the_table_as_a_picture_and_a_sentence() {
    let harness = window();
    let name = winner(&harness);
    let picture = harness.get_by_role_and_label(Role::Image, &format!("{name} to scale")).rect();
    let sentence = harness.get_by_label_contains(&format!("{name} goes on for")).rect();
    let table = harness.get_by_label_contains("Sort by order of the choice").rect();
    assert!(picture.bottom() <= table.top() && sentence.bottom() <= table.top(), "over the table");
    assert!(picture.right() <= sentence.left(), "side by side");
}

#[test]
fn rows_are_sorted_pinned_and_filtered() {
    let mut harness = window();
    let rows = |harness: &Harness<'_, App>| -> Vec<String> {
        let mut rows: Vec<(f32, String)> = harness
            .query_all_by_role(Role::Row)
            .map(|node| (node.rect().top(), node.accesskit_node().label().unwrap()))
            .collect();
        rows.sort_by(|a, b| a.0.total_cmp(&b.0));
        rows.into_iter().map(|(_, label)| label.split(',').next().unwrap().to_owned()).collect()
    };
    harness.get_by_label("Sort by weight ready to work").click();
    harness.run();
    assert_eq!(rows(&harness)[0], "Wren B14", "the lightest on top");
    harness.get_by_label("Sort by weight ready to work, least first").click();
    harness.run();
    assert_eq!(rows(&harness)[0], "Bittern B30", "and the other way round");
    harness.get_by_label("Keep Wren B18 on top").click();
    harness.run();
    assert_eq!(rows(&harness)[0], "Wren B18");
    harness.get_by_role_and_label(Role::TextInput, "Filter by name").focus();
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Filter by name").type_text("b24");
    harness.run();
    assert_eq!(rows(&harness), ["Bittern B24", "Bittern B24 light"]);
}

#[test]
fn every_rack_window_size_shows_what_can_be_reached_inside_it() {
    for size in [Vec2::new(1024.0, 700.0), SIZE, Vec2::new(1920.0, 1080.0), Vec2::new(2560.0, 1440.0)] {
        let harness = window_in(size);
        let window = egui::Rect::from_min_size(egui::Pos2::ZERO, size);
        let limit = harness.get_by_role_and_label(Role::Slider, "Limit of front hand in N").rect();
        assert!(window.contains_rect(limit), "{size:?}: {limit:?}");
        let rows = harness.query_all_by_role(Role::Row).count();
        assert!(rows >= 8, "{size:?}: {rows} rows");
        let chart = harness.get_by_label_contains("Setups by what they are worth").rect();
        assert!(window.contains_rect(chart) && chart.height() > 100.0, "{size:?}: {chart:?}");
    }
}

#[test]
fn tab_reaches_every_control_by_name() {
    let mut harness = window();
    let mut names = std::collections::BTreeSet::new();
    for _ in 0..140 {
        harness.key_press(Key::Tab);
        harness.run();
        let node = harness.query_all_by(|node| node.is_focused()).next();
        let Some(node) = node else { continue };
        let node = node.accesskit_node();
        let name = node.label().or_else(|| node.value()).unwrap_or_default();
        assert!(!name.is_empty(), "a control without a name: {:?}", node.role());
        names.insert(name);
    }
    let mut wanted: Vec<String> = LIMITS
        .iter()
        .map(|measure| format!("How much {} counts", measure.words()))
        .chain(["Cuts of 420 mm", "Limit of front hand in N", "Paste diameters", "Delete"].map(str::to_owned))
        .collect();
    wanted.push("Sort by weight ready to work".to_owned());
    wanted.push("Keep Bittern B30 on top".to_owned());
    for name in wanted {
        assert!(names.contains(&name), "Tab misses {name}: {names:#?}");
    }
}

#[test]
fn at_rest_nothing_is_painted_again() {
    let mut harness = window();
    harness.run();
    let before = harness.ctx.cumulative_pass_nr();
    harness.run();
    assert!(harness.ctx.cumulative_pass_nr() - before <= 2);
    assert!(document(&harness).rack_progress().is_none());
}

#[test]
fn wishes_and_woods_undo_as_one_history() {
    let mut document = Document::demo().unwrap();
    document.wait_for_rack();
    let start = document.rack().clone();
    let limit = Limit { measure: Measure::Hang, bound: 0.3 };
    document.apply(Edit::Rack(RackEdit::Limit(limit)), Gesture::Single);
    document.apply(Edit::Rack(RackEdit::DeleteWood("Larch stems".to_owned())), Gesture::Single);
    assert_eq!(document.undo_step(), Some("delete wood"));
    document.apply(Edit::Undo, Gesture::Single);
    document.apply(Edit::Undo, Gesture::Single);
    assert_eq!(document.rack(), &start);
    assert!(document.yard().wood("Larch stems").is_some());
    document.apply(Edit::Redo, Gesture::Single);
    assert_eq!(document.rack().limit(Measure::Hang), Some((limit, true)));
    let bad = Edit::Rack(RackEdit::RemoveDiameter { wood: "Larch stems".to_owned(), place: 99 });
    document.apply(bad, Gesture::Single);
    assert!(document.refusal().unwrap().reason.contains("no such diameter"));
}

#[test]
fn work_under_way_is_given_up_where_the_wood_changes() {
    let mut document = Document::demo().unwrap();
    document.tend_rack(|| ());
    assert!(document.rack_progress().is_some(), "the window does not wait for it");
    document.apply(Edit::Rack(RackEdit::PickWood("Hedgerow poles".to_owned())), Gesture::Single);
    document.wait_for_rack();
    assert_eq!(document.rack_figures().unwrap().wood.name(), "Hedgerow poles");
    let weigh = Edit::Rack(RackEdit::Weigh(Measure::Weight, 7.0));
    document.apply(weigh, Gesture::Single);
    document.tend_rack(|| ());
    assert!(document.rack_progress().is_none(), "nothing is computed anew for a weight");
    assert!(document.chosen().unwrap().purchases.is_some());
}

#[test]
fn what_suits_and_what_work_takes_is_the_persons_to_change() {
    let mut document = Document::demo().unwrap();
    document.wait_for_rack();
    let power = |document: &Document| {
        let figures = document.rack_figures().unwrap();
        let checks = figures.contenders[0].fit.checks().to_vec();
        checks.into_iter().find(|check| check.kind == CheckKind::Power).unwrap()
    };
    let before = power(&document);
    assert_eq!(before.verdict, Verdict::Suits);
    let threshold = Threshold { suits: before.value + 1.0, marginal: before.value - 1.0 };
    let edit = |edit| Edit::Rack(edit);
    document.apply(edit(RackEdit::Threshold(CheckKind::Power, threshold)), Gesture::Single);
    assert_eq!(power(&document).verdict, Verdict::Marginal);
    // The wrong way round is refused, with the reason.
    let wrong = Threshold { suits: 1.0, marginal: 2.0 };
    document.apply(edit(RackEdit::Threshold(CheckKind::Power, wrong)), Gesture::Single);
    assert_eq!(document.refusal().unwrap().reason, "what is marginal lies below what suits");
    document.apply(Edit::Undo, Gesture::Single);
    document.wait_for_rack();
    assert_eq!(power(&document), before);
    // Twice the fuel for the work is nearly twice the fuel.
    let fuel = |document: &Document| {
        let figures = document.rack_figures().unwrap();
        figures.contenders[0].value(Measure::Fuel).unwrap()
    };
    let lean = fuel(&document);
    let rates = document.rack().rates().clone();
    let thirsty = WorkRates { fuel_g_per_kwh: 2.0 * rates.fuel_g_per_kwh, ..rates };
    document.apply(edit(RackEdit::Rates(thirsty)), Gesture::Single);
    document.wait_for_rack();
    assert!((1.7..2.0).contains(&(fuel(&document) / lean)), "{} and {lean}", fuel(&document));
}

#[test]
fn a_threshold_is_typed_in_the_column() {
    let mut harness = window_in(Vec2::new(1600.0, 4000.0));
    harness.get_by_label("From where on it suits").click();
    harness.run();
    harness.run_steps(20);
    type_into(&mut harness, "Oil for the bar suits, in mL/(min·m)", "60");
    settled(&mut harness);
    assert!((document(&harness).rack().thresholds().oil.suits - 60.0).abs() < 1e-12);
    undo(&mut harness);
    assert!((document(&harness).rack().thresholds().oil.suits - 21.0).abs() < 1e-12);
}
