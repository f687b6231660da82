//! Picking setup, powerhead, bar and chain: what does not go together says why and cannot be picked.

use crate::desk::document::{BarChoice, Document};
use crate::desk::edit::{Edit, Edits};
use crate::desk::format::{self, Units};
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::{self, pick_list};
use barpoise_core::{Bar, Chain, Powerhead, Setup};
use egui::{Align, ComboBox, Layout, RichText, Ui};
use std::sync::Arc;

/// All four rows.
pub(crate) fn picks_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    setup_ui(ui, document, view, edits);
    powerhead_ui(ui, document, view, edits);
    bar_ui(ui, document, view, edits);
    chain_ui(ui, document, view, edits);
}

/// Setup and bar alone, for a room with much else to say.
pub(crate) fn short_picks_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    setup_ui(ui, document, view, edits);
    bar_ui(ui, document, view, edits);
}

fn setup_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let (yard, base, on_bench) = (document.yard(), document.bench().base(), document.figures().setup());
    let shown = match document.bench().bar() {
        BarChoice::Own => on_bench.name().to_owned(),
        BarChoice::Rack(_) | BarChoice::MadeUp(_) => {
            format!("{} · {}", base.powerhead().name(), on_bench.bar().name())
        }
    };
    let setups = yard.setups().iter().map(|setup| Choice {
        text: setup.name().to_owned(),
        edit: Edit::PickSetup(setup.name().to_owned()),
        chosen: setup.name() == shown,
        refusal: None,
    });
    pick_row(ui, document, view, edits, "Setup", &shown, setups);
}

fn powerhead_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let (yard, base) = (document.yard(), document.bench().base());
    let heads = yard.powerheads().iter().map(|head| Choice {
        text: head.name().to_owned(),
        edit: Edit::PickPowerhead(head.name().to_owned()),
        chosen: head.name() == base.powerhead().name(),
        refusal: would_fit(base, Some(head), None, None),
    });
    pick_row(ui, document, view, edits, "Powerhead", base.powerhead().name(), heads);
}

fn bar_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let (yard, base, on_bench) = (document.yard(), document.bench().base(), document.figures().setup());
    let bars = yard.bars().iter().map(|bar| Choice {
        text: bar_words(bar),
        edit: Edit::PickBar(bar.name().to_owned()),
        chosen: bar.name() == on_bench.bar().name(),
        refusal: would_fit(base, None, Some(bar), None),
    });
    let shown = match document.bench().bar() {
        BarChoice::MadeUp(_) => {
            format!("{} · {}", on_bench.bar().name(), on_bench.bar().construction().words())
        }
        BarChoice::Own | BarChoice::Rack(_) => bar_words(on_bench.bar()),
    };
    pick_row(ui, document, view, edits, "Bar", &shown, bars);
}

fn chain_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let (yard, base) = (document.yard(), document.bench().base());
    let chains = yard.chains().iter().map(|chain| Choice {
        text: chain_words(chain, view.units),
        edit: Edit::PickChain(chain.name().to_owned()),
        chosen: chain.name() == base.chain().name(),
        refusal: would_fit(base, None, None, Some(chain)),
    });
    let chain = base.chain();
    let shown = [
        format::pitch(chain.pitch()),
        format::gauge(view.units, chain.gauge()),
        chain.sequence().short_words().to_owned(),
    ];
    pick_row(ui, document, view, edits, "Chain", &shown.join(" · "), chains);
}

struct Choice {
    text: String,
    edit: Edit,
    chosen: bool,
    refusal: Option<String>,
}

fn bar_words(bar: &Bar) -> String {
    format!(
        "{} · {} · {}",
        bar.name(),
        bar.construction().words(),
        format::marked_length(bar.marked_length())
    )
}

fn chain_words(chain: &Chain, units: Units) -> String {
    format!(
        "{} · {} · {}",
        format::pitch(chain.pitch()),
        format::gauge(units, chain.gauge()),
        chain.sequence().words()
    )
}

fn would_fit(
    base: &Setup,
    head: Option<&Arc<Powerhead>>,
    bar: Option<&Arc<Bar>>,
    chain: Option<&Arc<Chain>>,
) -> Option<String> {
    let head = head.unwrap_or_else(|| base.powerhead());
    let bar = bar.unwrap_or_else(|| base.bar());
    let chain = chain.unwrap_or_else(|| base.chain());
    let (head, bar, chain) = (Arc::clone(head), Arc::clone(bar), Arc::clone(chain));
    Setup::new("", head, bar, chain, None, base.fittings()).err().map(|error| error.to_string())
}

fn pick_row(
    ui: &mut Ui,
    document: &Document,
    view: &ViewState,
    edits: &mut Edits,
    name: &str,
    shown: &str,
    choices: impl Iterator<Item = Choice>,
) {
    const PICK_WIDTH: f32 = 246.0;
    ui.horizontal(|ui| {
        let label = ui.label(RichText::new(name).color(view.paper.color(Ink::Soft)));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let text = RichText::new(shown).font(theme::strong(size::BODY));
            let combo = ComboBox::from_id_salt(("bench pick", name))
                .width(PICK_WIDTH)
                .height(420.0)
                .truncate()
                .selected_text(text);
            let mut choices: Vec<Choice> = choices.collect();
            let lines = choices.iter().map(|choice| {
                widgets::Choice::new(choice.text.clone(), choice.chosen).refused(choice.refusal.clone())
            });
            let (list, picked) = pick_list(ui, combo, lines.collect::<Vec<_>>());
            if let Some(picked) = picked.filter(|index| *index < choices.len()) {
                edits.ask(choices.swap_remove(picked).edit);
            }
            list.labelled_by(label.id);
        });
    });
    if let Some(refusal) = document.refusal() {
        let here = matches!(
            (&refusal.edit, name),
            (Edit::PickSetup(_), "Setup")
                | (Edit::PickPowerhead(_), "Powerhead")
                | (Edit::PickBar(_), "Bar")
                | (Edit::PickChain(_), "Chain")
        );
        if here {
            ui.colored_label(view.paper.color(Ink::Warn), &refusal.reason);
        }
    }
}

/// The setup to compare with.
pub(crate) fn compare_pick_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let compared = document.bench().compared();
    ui.horizontal(|ui| {
        let label = ui.label(RichText::new("Compared with").color(view.paper.color(Ink::Soft)));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let shown = RichText::new(compared.unwrap_or("nothing")).font(theme::strong(size::BODY));
            let combo = ComboBox::from_id_salt("bench compared")
                .width(210.0)
                .height(420.0)
                .truncate()
                .selected_text(shown);
            let names = || {
                let setups = document.yard().setups().iter().map(|setup| Some(setup.name()));
                std::iter::once(None).chain(setups)
            };
            let lines = names().map(|name| widgets::Choice::new(name.unwrap_or("nothing"), compared == name));
            let (list, picked) = pick_list(ui, combo, lines);
            if let Some(name) = picked.and_then(|index| names().nth(index)) {
                edits.ask(Edit::CompareWith(name.map(str::to_owned)));
            }
            list.labelled_by(label.id);
        });
    });
}
