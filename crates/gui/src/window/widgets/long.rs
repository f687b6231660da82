//! What is longer than its room: shortened in the middle, where names differ least, and whole on hover and for a screen
//! reader.

use egui::{Color32, FontSelection};
use egui::{FontId, Label, Response, RichText, Role, Ui, WidgetInfo};

/// What stands for the letters that are left out.
const GAP: &str = "…";
/// A word longer than this many letters, such as a path, is shortened in a text that wraps.
const LONGEST_WORD: usize = 120;

/// A text of at most so many letters: its beginning, a gap, its end.
fn middle(text: &str, most: usize) -> String {
    let count = text.chars().count();
    if count <= most {
        return text.to_owned();
    }
    let kept = most.saturating_sub(1);
    let (before, after) = (kept.div_ceil(2), kept / 2);
    let begin = text.chars().take(before);
    begin.chain(GAP.chars()).chain(text.chars().skip(count - after)).collect()
}

/// One line no wider than so many points.
pub fn middle_label(ui: &mut Ui, text: &str, font: &FontId, color: Color32, width: f32) -> Response {
    let wide = |text: String| ui.painter().layout_no_wrap(text, font.clone(), color).size().x;
    let (mut fits, mut too_many) = (1, text.chars().count() + 1);
    if wide(text.to_owned()) <= width {
        fits = too_many;
    }
    while too_many > fits + 1 {
        let most = usize::midpoint(fits, too_many);
        if wide(middle(text, most)) <= width { fits = most } else { too_many = most }
    }
    let shown = middle(text, fits);
    let label = Label::new(RichText::new(&shown).font(font.clone()).color(color));
    whole(ui.add(label.extend()), text, shown != text)
}

/// A text that wraps, its longest words shortened.
pub fn long_label(ui: &mut Ui, text: &str) -> Response {
    let words: Vec<String> = text.split(' ').map(|word| middle(word, LONGEST_WORD)).collect();
    let shown = words.join(" ");
    let color = ui.visuals().text_color();
    let font = FontSelection::Default.resolve(ui.style());
    let response = ui.add(Label::new(RichText::new(&shown).font(font).color(color)).wrap());
    whole(response, text, shown != text)
}

/// Says the whole where it is not shown.
fn whole(response: Response, text: &str, is_shortened: bool) -> Response {
    if !is_shortened {
        return response;
    }
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, text));
    response.on_hover_text(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ends_of_a_text_stay() {
        assert_eq!(middle("Alder Flat", 10), "Alder Flat");
        assert_eq!(middle("Alder Flat woodlot", 9), "Alde…dlot");
        assert_eq!(middle("Höfe am Fluß", 6), "Höf…uß");
        assert_eq!(middle("abc", 1), "…");
    }
}
