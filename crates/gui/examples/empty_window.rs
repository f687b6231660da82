//! An empty window of the same toolkit, closed after its first frame: what the start of the program is
//! measured against; `first_frame` is its counterpart.

struct Empty;

impl eframe::App for Empty {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        ui.label("empty");
        ui.ctx().send_viewport_cmd(egui::ViewportCommand::Close);
    }
}

fn main() -> eframe::Result {
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default().with_inner_size([1280.0, 800.0]),
        renderer: eframe::Renderer::Glow,
        ..eframe::NativeOptions::default()
    };
    eframe::run_native("empty", options, Box::new(|_| Ok(Box::new(Empty))))
}
