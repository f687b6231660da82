//! Check readings of one head with three bars of 3/8 in chain, tanks full: *common practice, no source*.
//!
//! A tape along the bar, from the spikes' front to the chain at the nose, gives reach to about 10 mm; a hanging scale
//! gives mass to 0.1 kg. Everything else is invented, as the bench yard has it, but for the spike line, which is placed
//! so that the longest bar reaches what was read.

use barpoise_checks::bench_yard::{
    self, CUTTER_HEIGHT_MM, NOSE_RADIUS_MM, PITCH_IN, RAIL_TO_RIVET_MM, TEETH,
};
use barpoise_checks::{Within, assert_close};
use barpoise_core::record::{ConstructionFile, PowerheadFile};
use barpoise_core::units::Length;
use barpoise_core::{Feel, LoopPath, Solved, Yard, loop_length, solve, sprocket_pitch_radius};

/// One bar's readings.
struct Reading {
    name: &'static str,
    marked_in: f64,
    /// Known for the longest bar; from memory for the other two.
    links: u32,
    reach_mm: f64,
    ready_kg: f64,
    feel: Feel,
}

const BAR_16: Reading =
    Reading { name: "16", marked_in: 16.0, links: 60, reach_mm: 330.0, ready_kg: 8.1, feel: Feel::Level };
const BAR_20: Reading = Reading {
    name: "20",
    marked_in: 20.0,
    links: 72,
    reach_mm: 450.0,
    ready_kg: 8.6,
    feel: Feel::SlightlyNoseHeavy,
};
const BAR_26: Reading =
    Reading { name: "26", marked_in: 26.0, links: 89, reach_mm: 620.0, ready_kg: 9.1, feel: Feel::NoseHeavy };

/// The tape's 10 mm, and a little more for a nose and cutters that are invented.
const TAPE_MM: f64 = 12.0;
/// Two readings of 0.1 kg each, half a step either way, and half as much again for plates that are invented.
const MASS_STEP_KG: f64 = 0.15;

/// Nose tip of a loop drawn tight, ahead of the sprocket centre, with the chain worn longer by a share.
fn tip_mm(nose_radius_mm: f64, links: u32, worn_share: f64) -> f64 {
    let pitch = Length::from_in(PITCH_IN);
    let path = LoopPath::with_length(
        sprocket_pitch_radius(TEETH, pitch),
        Length::from_mm(nose_radius_mm + RAIL_TO_RIVET_MM),
        loop_length(pitch, f64::from(links)) * (1.0 + worn_share),
    );
    match path {
        Ok(path) => path.centre_distance().as_mm() + nose_radius_mm + RAIL_TO_RIVET_MM + CUTTER_HEIGHT_MM,
        Err(error) => unreachable!("{links} links: {error}"),
    }
}

/// Where the spikes must be for the longest bar to reach as read.
fn spike_line_mm() -> f64 {
    tip_mm(NOSE_RADIUS_MM, BAR_26.links, 0.0) - BAR_26.reach_mm
}

fn yard(head: PowerheadFile) -> Yard {
    let bars = [BAR_16, BAR_20, BAR_26]
        .iter()
        .map(|reading| bench_yard::bar(reading.name, reading.marked_in, reading.links, 6.0))
        .collect();
    bench_yard::checked(bench_yard::yard_file(head, bars))
}

fn solved(reading: &Reading) -> Solved {
    match yard(bench_yard::head(spike_line_mm())).setup(reading.name) {
        Some(setup) => solve(setup),
        None => unreachable!("no setup {}", reading.name),
    }
}

#[test]
fn the_spike_line_of_the_longest_bar_is_where_spikes_are() {
    let spike_line = spike_line_mm();
    assert!((180.0..=210.0).contains(&spike_line), "spike line at {spike_line} mm");
    // Through a whole setup the reading comes back.
    let reach = solved(&BAR_26).reach.as_mm();
    assert_close("reach of the 26, mm", reach, BAR_26.reach_mm, Within::Absolute(1e-6));
}

#[test]
fn the_20_in_bar_reaches_as_read() {
    let reach = solved(&BAR_20).reach.as_mm();
    assert_close("reach of the 20, mm", reach, BAR_20.reach_mm, Within::Absolute(TAPE_MM));
}

/// Sixty links and 330 mm do not go together, and nothing says which of the two is off.
///
/// With like noses reach follows from the count alone, 9.525 mm for a link: 29 links fewer than the longest bar has are
/// 276 mm, while the two readings lie 290 mm apart. Nothing in the model can be set to close that, so the test holds what
/// can be known: by how much each count misses. Sixty is from memory; 58 and 59 agree.
#[test]
fn the_16_in_bar_reaches_as_read_with_fewer_links_than_remembered() {
    let off_mm = |links| tip_mm(NOSE_RADIUS_MM, links, 0.0) - spike_line_mm() - BAR_16.reach_mm;
    let agreeing: Vec<u32> = (55..=65).filter(|links| off_mm(*links).abs() <= TAPE_MM).collect();
    assert_eq!(agreeing, [58, 59]);
    let through_the_setup = solved(&BAR_16).reach.as_mm() - BAR_16.reach_mm;
    assert_close("60 links, mm off", through_the_setup, off_mm(60), Within::Absolute(1e-6));
    // 30.4 links' worth of readings against 29: 290 − 29 · 9.525 = 13.8, less what the rails' lean takes up.
    assert_close("60 links, mm off", through_the_setup, 13.8, Within::Absolute(0.2));
}

/// What else would make sixty links agree; nothing of it is known of these bars, each would take a measurement.
#[test]
fn the_16_in_bar_could_reach_as_read_with_sixty_links_for_other_reasons() {
    /// One tooth more or less of a 3/8 in nose sprocket, as radius.
    const TOOTH_MM: f64 = PITCH_IN * 25.4 / std::f64::consts::PI;
    let off_mm = |nose_16_mm: f64, nose_26_mm: f64, worn_26: f64| {
        let spike_line = tip_mm(nose_26_mm, BAR_26.links, worn_26) - BAR_26.reach_mm;
        tip_mm(nose_16_mm, BAR_16.links, 0.0) - spike_line - BAR_16.reach_mm
    };
    let like_noses = off_mm(NOSE_RADIUS_MM, NOSE_RADIUS_MM, 0.0);
    // A chain on the longest bar worn 3 mm in a metre longer; the trade discards one at several times that (from
    // memory).
    let worn = off_mm(NOSE_RADIUS_MM, NOSE_RADIUS_MM, 0.003);
    assert!(worn < TAPE_MM && worn > TAPE_MM - 1.0, "{worn} mm off with a worn chain");
    // A nose one tooth smaller on the longest bar, which would be unusual, only just does it.
    let small_nose = off_mm(NOSE_RADIUS_MM, NOSE_RADIUS_MM - TOOTH_MM, 0.0);
    assert!(small_nose < TAPE_MM && small_nose > TAPE_MM - 0.2, "{small_nose} mm off");
    // A tooth shifts the tip by its radius times 1 − π/2, less the lean of the rails.
    let by_tooth = like_noses - small_nose;
    let expected = TOOTH_MM * (std::f64::consts::FRAC_PI_2 - 1.0);
    assert_close("shift of a tooth, mm", by_tooth, expected, Within::Absolute(0.1));
    // The usual way round, a wider nose on the longer bar, moves it further off.
    assert!(off_mm(NOSE_RADIUS_MM, NOSE_RADIUS_MM + TOOTH_MM, 0.0) > like_noses);
}

#[test]
fn the_20_and_26_in_bars_weigh_as_read() {
    let step = (solved(&BAR_26).ready_mass() - solved(&BAR_20).ready_mass()).as_kg();
    let read = BAR_26.ready_kg - BAR_20.ready_kg;
    assert_close("step from 20 to 26, kg", step, read, Within::Absolute(MASS_STEP_KG));
}

/// One kind of plate does not explain both steps: from 16 to 20 in the scale reads 0.5 kg, as much as from 20 to 26,
/// which is nearly half as long again. Readings to 0.1 kg leave at least 0.4. A lighter plate on the 16, which nobody stated,
/// would do it: a laminated one of the same outline agrees with the scale.
#[test]
fn the_16_in_bar_weighs_as_read_only_if_its_plate_is_lighter() {
    let read = BAR_20.ready_kg - BAR_16.ready_kg;
    let bar_20 = solved(&BAR_20).ready_mass();
    let same_plate = (bar_20 - solved(&BAR_16).ready_mass()).as_kg();
    assert!((0.30..0.33).contains(&same_plate), "step of {same_plate} kg with one plate");
    let mut bar_16 = bench_yard::bar(BAR_16.name, BAR_16.marked_in, BAR_16.links, 6.0);
    bar_16.construction = ConstructionFile::Laminated { share: 0.8 };
    let laminated =
        bench_yard::checked(bench_yard::yard_file(bench_yard::head(spike_line_mm()), vec![bar_16]));
    let step = (bar_20 - solve(&laminated.setups()[0]).ready_mass()).as_kg();
    assert_close("step from a laminated 16 to 20, kg", step, read, Within::Absolute(0.1));
}

#[test]
fn each_bar_hangs_in_the_band_of_its_feel() {
    let mut before = None;
    for reading in [BAR_16, BAR_20, BAR_26] {
        let hang = solved(&reading).hang.unwrap();
        assert_eq!(Feel::of(hang), reading.feel, "the {} hangs {:.1}°", reading.name, hang.as_deg());
        assert!(before < Some(hang), "the {} hangs no more than a shorter bar", reading.name);
        before = Some(hang);
    }
}

#[test]
fn the_same_bar_reaches_70_mm_further_on_a_head_with_studs_nearer_its_front() {
    const NEARER_MM: f64 = 70.0;
    let usual = solved(&BAR_20);
    // The spikes stand back by 70 mm and nothing else changes: the same loop, and 70 mm to the last digit.
    let short = bench_yard::head(spike_line_mm() - NEARER_MM);
    let yard_short = yard(short.clone());
    let same_loop = solve(yard_short.setup(BAR_20.name).unwrap());
    assert_eq!(same_loop.links, usual.links);
    let gained = (same_loop.reach - usual.reach).as_mm();
    assert_close("reach gained, mm", gained, NEARER_MM, Within::Absolute(1e-9));
    // Studs 10 mm further from the sprocket and as near the front: one link more, and what the tensioner takes up.
    let head =
        PowerheadFile { stud_mm: short.stud_mm + 10.0, spike_line_mm: short.spike_line_mm + 10.0, ..short };
    let mut file =
        bench_yard::yard_file(head, vec![bench_yard::bar(BAR_20.name, BAR_20.marked_in, BAR_20.links, 6.0)]);
    file.setups[0].drive_links = Some(BAR_20.links + 1);
    let longer_loop = solve(&bench_yard::checked(file).setups()[0]);
    let gained = (longer_loop.reach - usual.reach).as_mm();
    let taken_up = (longer_loop.tensioner_out - usual.tensioner_out).as_mm();
    assert_close("reach gained, mm", gained, NEARER_MM + taken_up, Within::Absolute(1e-9));
    assert_close("reach gained, mm", gained, NEARER_MM, Within::Absolute(TAPE_MM));
}
