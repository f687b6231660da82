//! Scratch.
use barpoise_core::log::*;
use barpoise_core::person::*;
use barpoise_core::units::*;
fn main() {
    let mm = Length::from_mm;
    let yard = barpoise_core::file::demo().unwrap();
    let free = std::env::args().nth(1).is_some();
    let mut times = vec![];
    for name in ["Bittern B14", "Bittern B18", "Bittern B24", "Bittern B30"] {
        let setup = yard.setup(name).unwrap();
        let bar = cutting_bar(setup).unwrap();
        let saw = SawBody::of(setup.powerhead());
        let r = bar.reach().as_mm();
        for stand in [Stand::OneSide, Stand::BothSides] {
            for clear in [0.0, 150.0, 400.0] {
                for k in [0.6, 1.0, 1.3, 1.9] {
                    let d = (k * r).round();
                    let job = LogJob::new(LogSection::round(mm(d), mm(clear)).unwrap(), stand)
                        .with_tangle(Tangle::Far);
                    let t = std::time::Instant::now();
                    let w = if free { Workplace::free() } else { Workplace::new(&job, &saw) };
                    let el0 = t.elapsed();
                    let p = plan(&job, &bar, &w);
                    let el = t.elapsed();
                    times.push(el);
                    println!(
                        "{name} R {r:.0} {stand:?} clear {clear} D {d} ({k}): {} settings whole {} cut {:.3} {el0:?} {el:?}",
                        p.settings.len(),
                        p.is_whole(),
                        p.cover.covered_fraction
                    );
                    for s in &p.settings {
                        let h = |x| match w.hold(&job, &bar, s, x) {
                            Ok(Some(s)) => s.words(),
                            Ok(None) => "free".into(),
                            Err(t) => format!("{t:?}"),
                        };
                        println!(
                            "    {:?} {:?} {} o'clock, bark {:.0} {:.0}->{:.0} on {:.0} off {:.0} rises {} do {} | {} / {}",
                            s.side(),
                            s.kind(),
                            clock_hour(s.bark()),
                            s.bark().as_deg(),
                            s.from().as_deg(),
                            s.to().as_deg(),
                            s.lay_on().as_mm(),
                            s.run_off().as_mm(),
                            s.rises(),
                            w.can_do(&job, &bar, s),
                            h(0.0),
                            h(1.0)
                        );
                    }
                }
            }
        }
    }
    times.sort();
    println!(
        "median {:?} 95% {:?} max {:?}",
        times[times.len() / 2],
        times[times.len() * 95 / 100],
        times[times.len() - 1]
    );
}
