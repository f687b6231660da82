//! An empty window of the same toolkit, a panel with nothing in it, that prints how long its start took, from the
//! beginning of the program until its first frame was on the screen, and closes: what `first_frame` is measured
//! against.

use std::time::Instant;

struct Empty {
    started: Instant,
    passes: u32,
}

impl eframe::App for Empty {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        // The second pass begins when the first frame has been handed over.
        if self.passes == 1 {
            println!("{:.1}", self.started.elapsed().as_secs_f64() * 1e3);
            ui.ctx().send_viewport_cmd(egui::ViewportCommand::Close);
        }
        self.passes += 1;
        egui::CentralPanel::default_margins().show(ui, |_| {});
        ui.ctx().request_repaint();
    }
}

fn main() -> eframe::Result {
    let started = Instant::now();
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default().with_inner_size([1280.0, 800.0]),
        renderer: eframe::Renderer::Glow,
        ..eframe::NativeOptions::default()
    };
    eframe::run_native("empty", options, Box::new(move |_| Ok(Box::new(Empty { started, passes: 0 }))))
}
