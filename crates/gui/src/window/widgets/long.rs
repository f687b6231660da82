//! What is longer than its room: shortened in the middle, where names differ least, and whole on hover and for a screen
//! reader.

use crate::desk::format::middle;
use egui::{Color32, FontId, FontSelection, Label, Painter, Response, RichText, Role, Ui, WidgetInfo};

/// A word longer than this many letters, such as a path, is shortened in a text that wraps.
const LONGEST_WORD: usize = 120;

/// A text of one line no wider than so many points, as far as it can be shown in them.
pub fn middle_of(painter: &Painter, text: &str, font: &FontId, width: f32) -> String {
    let wide = |text: String| painter.layout_no_wrap(text, font.clone(), Color32::PLACEHOLDER).size().x;
    if wide(text.to_owned()) <= width {
        return text.to_owned();
    }
    let (mut fits, mut too_many) = (1, text.chars().count());
    while too_many > fits + 1 {
        let most = usize::midpoint(fits, too_many);
        if wide(middle(text, most)) <= width { fits = most } else { too_many = most }
    }
    middle(text, fits)
}

/// One line no wider than so many points.
pub fn middle_label(ui: &mut Ui, text: &str, font: &FontId, color: Color32, width: f32) -> Response {
    let shown = middle_of(ui.painter(), text, font, width);
    let label = Label::new(RichText::new(&shown).font(font.clone()).color(color));
    whole(ui.add(label.extend()), Role::Label, text, shown != text)
}

/// A text that wraps, its longest words shortened.
pub fn long_label(ui: &mut Ui, text: &str) -> Response {
    let words: Vec<String> = text.split(' ').map(|word| middle(word, LONGEST_WORD)).collect();
    let shown = words.join(" ");
    let color = ui.visuals().text_color();
    let font = FontSelection::Default.resolve(ui.style());
    let response = ui.add(Label::new(RichText::new(&shown).font(font).color(color)).wrap());
    whole(response, Role::Label, text, shown != text)
}

/// Says the whole of what is shortened, on hover and to a screen reader.
pub fn whole(response: Response, role: Role, text: &str, is_shortened: bool) -> Response {
    if !is_shortened {
        return response;
    }
    response.widget_info(|| WidgetInfo::labeled(role, true, text));
    response.on_hover_text(text)
}
