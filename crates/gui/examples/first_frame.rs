//! The program's own window on the demo yard, closed after its first frame, to time the start against
//! `empty_window`.

use barpoise::app::App;
use barpoise::document::Document;

struct FirstFrame(App);

impl eframe::App for FirstFrame {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.0.show(ui);
        ui.ctx().send_viewport_cmd(egui::ViewportCommand::Close);
    }
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let document = Document::demo()?;
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default().with_inner_size([1280.0, 800.0]),
        renderer: eframe::Renderer::Glow,
        ..eframe::NativeOptions::default()
    };
    eframe::run_native(
        "barpoise",
        options,
        Box::new(|creation| Ok(Box::new(FirstFrame(App::start(creation, document))))),
    )?;
    Ok(())
}
