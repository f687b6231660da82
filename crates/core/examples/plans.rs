//! Scratch.
use barpoise_core::log::*;
use barpoise_core::units::*;
fn main() {
    let mm = Length::from_mm;
    for stand in [Stand::OneSide, Stand::BothSides] {
    for clear in [0.0, 150.0, 400.0] {
    for d in [200.0, 300.0, 452.0, 560.0, 700.0, 860.0] {
        let bar = CuttingBar::new(mm(452.0), mm(45.0), mm(36.0)).unwrap();
        let job = LogJob::new(LogSection::round(mm(d), mm(clear)).unwrap(), stand).with_tangle(Tangle::Far);
        let t = std::time::Instant::now();
        let p = plan(&job, &bar, &Workplace::free());
        let el = t.elapsed();
        println!("{stand:?} clear {clear} D {d}: {} settings whole {} cut {:.3} {el:?}", p.settings.len(), p.is_whole(), p.cover.covered_fraction);
        for s in &p.settings {
            println!("    {:?} {:?} bark {:.0} {:.0}->{:.0} on {:.0} off {:.0} rises {}", s.side(), s.kind(), s.bark().as_deg(), s.from().as_deg(), s.to().as_deg(), s.lay_on().as_mm(), s.run_off().as_mm(), s.rises());
        }
    }}}
}
