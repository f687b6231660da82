//! Scratch.
use barpoise_core::geometry::Point;
use barpoise_core::log::*;
use barpoise_core::person::*;
use barpoise_core::units::*;
fn main() {
    let mm = Length::from_mm;
    let yard = barpoise_core::file::demo().unwrap();
    let setup = yard.setup("Bittern B14").unwrap();
    let saw = SawBody::of(setup.powerhead());
    let section = LogSection::round(mm(608.0), mm(0.0)).unwrap();
    let st = Standing::new(&section, Side::Near, &saw, &Person::default());
    for b in [90.0, 110.0, 120.0, 130.0, 140.0, 150.0, 160.0, 170.0, 180.0, 190.0f64] {
        println!(
            "{b}: {:?}",
            st.intervals(b.to_radians())
                .iter()
                .map(|i| (i.from_rad.to_degrees().round(), i.to_rad.to_degrees().round()))
                .collect::<Vec<_>>()
        );
    }
    for k in 0..20 {
        let y = k as f64 * 0.03 - 0.28;
        println!(
            "{y:.2} {:?}",
            st.look(Point::new(-0.304, y), 0.0).map(|s| s.words()).map_err(|e| e.words())
        );
    }
}
