//! The program's own window on the demo yard, which prints how long its start took, from the beginning of the program
//! until its first frame was on the screen, and closes. `empty_window` is what it is measured against.

use barpoise::desk::document::Document;
use barpoise::window::app::App;
use std::time::Instant;

struct FirstFrame {
    app: App,
    started: Instant,
    passes: u32,
}

impl eframe::App for FirstFrame {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        // The second pass begins when the first frame has been handed over.
        if self.passes == 1 {
            println!("{:.1}", self.started.elapsed().as_secs_f64() * 1e3);
            ui.ctx().send_viewport_cmd(egui::ViewportCommand::Close);
        }
        self.passes += 1;
        self.app.show(ui);
        ui.ctx().request_repaint();
    }
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let started = Instant::now();
    let document = Document::demo()?;
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default().with_inner_size([1280.0, 800.0]),
        renderer: eframe::Renderer::Glow,
        ..eframe::NativeOptions::default()
    };
    let make = move |creation: &eframe::CreationContext<'_>| -> Result<Box<dyn eframe::App>, _> {
        Ok(Box::new(FirstFrame { app: App::start(creation, document), started, passes: 0 }))
    };
    eframe::run_native("barpoise", options, Box::new(make))?;
    Ok(())
}
