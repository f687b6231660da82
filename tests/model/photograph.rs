//! Photographs against code and cameras from outside: the transform of four corners against another library and a
//! textbook's closed form, stated intervals against pinhole cameras that tilt, bend and blur.

#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

use barpoise_checks::{Within, assert_close};
use barpoise_core::geometry::Point;
use barpoise_core::photograph::{Measured, Missing, Projective, measure};
use barpoise_core::record::{Landmark, MarksFile, PhotographFile, PixelFile, SquareUpFile};
use imageproc::geometric_transformations::Projection;
use nalgebra::{Rotation3, Vector3};
use proptest::prelude::*;

/// Rounding of eight equations over coordinates of some thousands.
const SAME: f64 = 1e-9;

fn mapped(from: [(f64, f64); 4], to: [(f64, f64); 4]) -> Projective {
    let point = |(x, y)| Point::new(x, y);
    let pairs: Vec<_> = from.into_iter().zip(to).map(|(from, to)| (point(from), point(to))).collect();
    Projective::from_pairs(&pairs).unwrap()
}

/// The other library keeps its answer in single precision. Where numerators are eighths and denominators powers of two, single
/// precision holds every number of the problem and of the answer exactly, and both must agree to the last digits of ours.
fn exact(h: [i8; 6], (x, y): (f64, f64)) -> (f64, f64) {
    let [a, b, c, d, e, f] = h.map(|eighths| f64::from(eighths) / 8.0);
    let w = 1.0 + x + y;
    ((a * x + b * y + c) / w, (d * x + e * y + f) / w)
}

const CONTROL: [(f64, f64); 4] = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 2.0)];
/// Further points with denominators 4 and 8.
const ELSEWHERE: [(f64, f64); 5] = [(3.0, 0.0), (2.0, 1.0), (3.0, 4.0), (0.0, 3.0), (5.0, 2.0)];

fn single((x, y): (f64, f64)) -> (f32, f32) {
    #[expect(clippy::cast_possible_truncation, reason = "the other library's own numbers")]
    (x as f32, y as f32)
}

proptest! {
    #[test]
    fn four_corners_go_where_the_other_library_puts_them(h in proptest::array::uniform6(-64_i8..64)) {
        let to = CONTROL.map(|point| exact(h, point));
        let ours = {
            let pairs: Vec<_> = CONTROL.iter().zip(to).map(|(from, to)| (Point::from(<[f64; 2]>::from(*from)), Point::from(<[f64; 2]>::from(to)))).collect();
            Projective::from_pairs(&pairs)
        };
        let theirs = Projection::from_control_points(CONTROL.map(single), to.map(single));
        // Corners that fall onto a line have no transform: then ours says so too.
        let area = |a: (f64, f64), b: (f64, f64), c: (f64, f64)| (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0);
        let [p, q, r, s] = to;
        let least = [area(p, q, r), area(p, q, s), area(p, r, s), area(q, r, s)].map(f64::abs).into_iter().fold(f64::MAX, f64::min);
        prop_assume!(least > 0.05);
        let (ours, theirs) = (ours.unwrap(), theirs.unwrap());
        for point in ELSEWHERE {
            let found = ours.at(Point::new(point.0, point.1)).unwrap();
            let other = theirs * single(point);
            assert_close("x", found.x, f64::from(other.0), Within::Absolute(SAME));
            assert_close("y", found.y, f64::from(other.1), Within::Absolute(SAME));
        }
    }

    /// The closed form of the map from the unit square to four points, which solves no equations. Source: P. Heckbert,
    /// *Fundamentals of Texture Mapping and Image Warping*, 1989, section 2.2.3 (from memory, not looked up).
    #[test]
    fn the_unit_square_goes_where_the_closed_form_puts_it(
        jitter in proptest::array::uniform8(-400.0..400.0_f64),
        (u, v) in (0.0..1.0_f64, 0.0..1.0_f64),
    ) {
        let [a, b, c, d, e, f, g, h] = jitter;
        let to = [(900.0 + a, 700.0 + b), (3900.0 + c, 800.0 + d), (4000.0 + e, 2900.0 + f), (800.0 + g, 3000.0 + h)];
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        let found = mapped(square, to).at(Point::new(u, v)).unwrap();
        let (x, y) = closed_form(to, (u, v));
        assert_close("x", found.x, x, Within::Absolute(4000.0 * SAME / 1000.0));
        assert_close("y", found.y, y, Within::Absolute(4000.0 * SAME / 1000.0));
    }
}

fn closed_form(to: [(f64, f64); 4], (u, v): (f64, f64)) -> (f64, f64) {
    let [(x0, y0), (x1, y1), (x2, y2), (x3, y3)] = to;
    let (dx1, dx2, sx) = (x1 - x2, x3 - x2, x0 - x1 + x2 - x3);
    let (dy1, dy2, sy) = (y1 - y2, y3 - y2, y0 - y1 + y2 - y3);
    let whole = dx1 * dy2 - dx2 * dy1;
    let g = (sx * dy2 - dx2 * sy) / whole;
    let h = (dx1 * sy - sx * dy1) / whole;
    let (a, b, c) = (x1 - x0 + g * x1, x3 - x0 + h * x3, x0);
    let (d, e, f) = (y1 - y0 + g * y1, y3 - y0 + h * y3, y0);
    let w = g * u + h * v + 1.0;
    ((a * u + b * v + c) / w, (d * u + e * v + f) / w)
}

/// Worked by hand with that closed form: the unit square onto (0 0), (4 0), (3 3), (0 4). Sums are -1 and -1, the sides'
/// differences (1 -3) and (-3 1), their determinant -8; so g = h = 1/2 and a = 6, and the middle goes to 6 · 1/2 over 3/2.
#[test]
fn a_worked_example() {
    let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    let map = mapped(square, [(0.0, 0.0), (4.0, 0.0), (3.0, 3.0), (0.0, 4.0)]);
    let middle = map.at(Point::new(0.5, 0.5)).unwrap();
    assert_close("x", middle.x, 2.0, Within::Absolute(SAME));
    assert_close("y", middle.y, 2.0, Within::Absolute(SAME));
    let lower = map.at(Point::new(0.5, 0.0)).unwrap();
    assert_close("x below", lower.x, 2.4, Within::Absolute(SAME));
    assert_close("y below", lower.y, 0.0, Within::Absolute(SAME));
}

/// Numbers drawn one after another from a seed: the same at every run.
struct Draws(u64);

impl Draws {
    /// Between 0 and 1. Source of the step: G. Marsaglia, *Xorshift RNGs*, 2003 (from memory, not looked up).
    fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        #[expect(clippy::cast_precision_loss, reason = "53 bits")]
        let bits = (self.0 >> 11) as f64;
        bits / 9_007_199_254_740_992.0
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Of mean 0 and deviation 1, by Box and Muller.
    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.share()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.share()).cos()
    }
}

/// The true head: what is marked, mm in the saw's frame.
const HEAD: [(Landmark, &[(f64, f64)]); 8] = [
    (Landmark::Sprocket, &[(0.0, 0.0)]),
    (Landmark::BarLine, &[(120.0, 0.0), (420.0, 0.0)]),
    (Landmark::SpikeTips, &[(168.0, 30.0), (168.0, -40.0)]),
    (Landmark::FrontGrip, &[(2.0, 166.0)]),
    (Landmark::RearGrip, &[(-312.0, 58.0)]),
    (Landmark::FuelTank, &[(-200.0, -80.0), (-70.0, -80.0), (-70.0, -27.0), (-200.0, -27.0)]),
    (Landmark::OilTank, &[(-46.0, -84.0), (66.0, -84.0), (66.0, -54.0), (-46.0, -54.0)]),
    (Landmark::Outline, &[(-230.0, -90.0), (150.0, -90.0), (150.0, 60.0), (20.0, 120.0), (-230.0, 100.0)]),
];

fn truth(path: &str) -> f64 {
    match path {
        "spike_line_mm" => 168.0,
        "front_grip.x_mm" => 2.0,
        "front_grip.y_mm" => 166.0,
        "rear_grip.x_mm" => -312.0,
        "rear_grip.y_mm" => 58.0,
        "fuel_tank.corner.x_mm" => -200.0,
        "fuel_tank.corner.y_mm" => -80.0,
        "fuel_tank.width_mm" => 130.0,
        "fuel_tank.height_mm" => 53.0,
        "oil_tank.corner.x_mm" => -46.0,
        "oil_tank.corner.y_mm" => -84.0,
        "oil_tank.width_mm" => 112.0,
        "oil_tank.height_mm" => 30.0,
        // Close to nothing.
        _ => f64::NAN,
    }
}

/// A camera of pinhole and bent lens before the saw; nothing of it is the model's.
struct Pinhole {
    turn: Rotation3<f64>,
    lens: Vector3<f64>,
    focal_px: f64,
    bend: f64,
    width_px: f64,
    height_px: f64,
}

impl Pinhole {
    /// Where a point of the saw falls that lies so far behind the bar's plane.
    fn sees(&self, (x, y): (f64, f64), behind: f64) -> (f64, f64) {
        let from_lens = self.turn * (Vector3::new(x, y, -behind) - self.lens);
        // The camera looks along its own -z; its picture's y runs down.
        let straight =
            (-self.focal_px * from_lens.x / from_lens.z, self.focal_px * from_lens.y / from_lens.z);
        let corner = 0.25 * (self.width_px.powi(2) + self.height_px.powi(2));
        let share = (straight.0.powi(2) + straight.1.powi(2)) / corner;
        let bent = 1.0 + self.bend * share;
        (0.5 * self.width_px + bent * straight.0, 0.5 * self.height_px + bent * straight.1)
    }
}

/// How the camera of a case is held, and how well its user knows it.
struct Case {
    by_sheet: bool,
    /// Deviation of the tilt, rad.
    tilt_rad: f64,
}

/// True depth of a landmark behind the bar's plane, drawn as unsure as the program says it is.
fn depth(landmark: Landmark, grips: f64, draws: &mut Draws) -> f64 {
    let depth = barpoise_core::photograph::assumed::depth(
        landmark,
        barpoise_core::photograph::assumed::Depth { behind_mm: grips, uncertainty_mm: 0.0 },
    );
    depth.behind_mm + depth.uncertainty_mm * draws.normal()
}

fn photograph(case: &Case, draws: &mut Draws) -> PhotographFile {
    let (width_px, height_px) = (6000.0, 4000.0);
    let distance = draws.between(1200.0, 3000.0);
    let tilt = (case.tilt_rad * draws.normal(), case.tilt_rad * draws.normal());
    let roll = draws.between(-0.2, 0.2);
    let turn = Rotation3::from_axis_angle(&Vector3::z_axis(), roll)
        * Rotation3::from_axis_angle(&Vector3::x_axis(), tilt.0)
        * Rotation3::from_axis_angle(&Vector3::y_axis(), tilt.1);
    // It looks at a place near the saw's middle.
    let aim = Vector3::new(draws.between(-50.0, 100.0), draws.between(-40.0, 80.0), 0.0);
    let lens = aim + turn.inverse() * Vector3::new(0.0, 0.0, distance);
    let camera = Pinhole {
        turn,
        lens,
        focal_px: distance * width_px / draws.between(1200.0, 1700.0),
        bend: draws.between(-0.01, 0.01),
        width_px,
        height_px,
    };
    let marking_px = draws.between(0.5, 5.0);
    // A hand that shakes while the shutter is open moves all of the picture alike.
    let blur = (draws.between(-4.0, 4.0), draws.between(-4.0, 4.0));
    let (grips_behind_mm, grips_behind_uncertainty_mm) =
        (draws.between(40.0, 110.0), draws.between(3.0, 25.0));
    let grips = grips_behind_mm + grips_behind_uncertainty_mm * draws.normal();
    let marked = |at: (f64, f64), behind: f64, draws: &mut Draws| {
        let (x, y) = camera.sees(at, behind);
        let wrong = (marking_px * draws.normal(), marking_px * draws.normal());
        // A mark stands on a whole pixel.
        PixelFile { x_px: (x + wrong.0 + blur.0).round(), y_px: (y + wrong.1 + blur.1).round() }
    };
    let (square_up, first) = if case.by_sheet {
        let side = barpoise_core::photograph::assumed::SHEET_SIDE_MM;
        let (long, short) = (297.0 + side * draws.normal(), 210.0 + side * draws.normal());
        let turned = draws.between(-0.5, 0.5);
        let corners = [(0.0, 0.0), (long, 0.0), (long, short), (0.0, short)].map(|(x, y)| {
            (130.0 + x * turned.cos() - y * turned.sin(), -180.0 + x * turned.sin() + y * turned.cos())
        });
        let at = corners.map(|corner| marked(corner, 0.0, draws)).to_vec();
        (SquareUpFile::A4, MarksFile { of: Landmark::SheetCorners, at })
    } else {
        let (apart_mm, uncertainty_mm) = (420.0, 1.0);
        let apart = apart_mm + uncertainty_mm * draws.normal();
        let at = [(60.0, 10.0), (60.0 + apart, 10.0)].map(|end| marked(end, 0.0, draws)).to_vec();
        (SquareUpFile::Distance { apart_mm, uncertainty_mm }, MarksFile { of: Landmark::KnownPoints, at })
    };
    let mut marks = vec![first];
    for (of, points) in HEAD {
        let behind = depth(of, grips, draws);
        marks.push(MarksFile { of, at: points.iter().map(|at| marked(*at, behind, draws)).collect() });
    }
    let uncertainty = 0.05 * distance;
    PhotographFile {
        path: "head.jpg".to_owned(),
        width_px: 6000,
        height_px: 4000,
        square_up,
        camera_distance_mm: distance + uncertainty * draws.normal(),
        camera_distance_uncertainty_mm: uncertainty,
        grips_behind_mm,
        grips_behind_uncertainty_mm,
        marking_px,
        marks,
    }
}

/// Misses of every number in its own standard uncertainties: at most 1.96 of them for nineteen in twenty.
fn misses(measured: &Measured) -> Vec<f64> {
    let numbers = measured.numbers.iter().map(|n| (n.value_mm - truth(n.path)) / n.uncertainty_mm);
    let corners = HEAD.iter().find(|(of, _)| *of == Landmark::Outline).unwrap().1;
    let outline = measured.outline.iter().zip(corners).flat_map(|(found, (x, y))| {
        [(found.at.x_mm - x) / found.uncertainty.x, (found.at.y_mm - y) / found.uncertainty.y]
    });
    numbers.chain(outline).collect()
}

const CAMERAS: u32 = 500;

fn coverage(case: &Case, seed: u64) -> (f64, f64) {
    let mut draws = Draws(seed);
    let (mut held, mut all, mut width) = (0.0, 0.0, 0.0);
    for _ in 0..CAMERAS {
        let measured = measure(&photograph(case, &mut draws)).unwrap();
        assert_eq!(measured.numbers.len(), 13);
        assert_eq!(measured.outline.len(), 5);
        for miss in misses(&measured) {
            all += 1.0;
            held += f64::from(u8::from(miss.abs() <= 1.959_963_984_540_054));
        }
        width += measured.numbers.iter().map(|number| number.uncertainty_mm).sum::<f64>() / 13.0;
    }
    (held / all, width / f64::from(CAMERAS))
}

#[test]
fn stated_intervals_hold_over_pinhole_cameras() {
    let square = barpoise_core::photograph::assumed::TILT_RAD;
    for (what, case) in [
        ("two points", Case { by_sheet: false, tilt_rad: square }),
        ("a sheet", Case { by_sheet: true, tilt_rad: 0.12 }),
    ] {
        let (held, width) = coverage(&case, 0x5eed_0001);
        println!("{what}: {:.2} % hold, mean standard uncertainty {width:.2} mm", 100.0 * held);
        assert!((0.93..=0.97).contains(&held), "{what}: {held}");
    }
}

/// Without any error, what is marked comes back: the frame, the parallax and the boxes are right, not only wide.
#[test]
fn an_exact_camera_gives_the_head_back() {
    for seed in 1..40 {
        let mut draws = Draws(0xace_0000 + seed);
        let (distance, tilt) =
            (draws.between(1200.0, 3000.0), (draws.between(-0.3, 0.3), draws.between(-0.3, 0.3)));
        let turn = Rotation3::from_axis_angle(&Vector3::z_axis(), draws.between(-3.0, 3.0))
            * Rotation3::from_axis_angle(&Vector3::x_axis(), tilt.0)
            * Rotation3::from_axis_angle(&Vector3::y_axis(), tilt.1);
        let lens = turn.inverse() * Vector3::new(0.0, 0.0, distance);
        let camera = Pinhole { turn, lens, focal_px: 5000.0, bend: 0.0, width_px: 6000.0, height_px: 4000.0 };
        let grips = draws.between(20.0, 120.0);
        let see = |at: (f64, f64), behind: f64| {
            let (x_px, y_px) = camera.sees(at, behind);
            PixelFile { x_px, y_px }
        };
        let depth = |of| {
            let grips = barpoise_core::photograph::assumed::Depth { behind_mm: grips, uncertainty_mm: 1.0 };
            barpoise_core::photograph::assumed::depth(of, grips).behind_mm
        };
        let sheet = [(10.0, 20.0), (307.0, 20.0), (307.0, 230.0), (10.0, 230.0)];
        let mut marks =
            vec![MarksFile { of: Landmark::SheetCorners, at: sheet.map(|at| see(at, 0.0)).to_vec() }];
        marks.extend(HEAD.iter().map(|(of, points)| MarksFile {
            of: *of,
            at: points.iter().map(|at| see(*at, depth(*of))).collect(),
        }));
        let file = PhotographFile {
            path: "head.jpg".to_owned(),
            width_px: 6000,
            height_px: 4000,
            square_up: SquareUpFile::A4,
            camera_distance_mm: distance,
            camera_distance_uncertainty_mm: 10.0,
            grips_behind_mm: grips,
            grips_behind_uncertainty_mm: 1.0,
            marking_px: 1.0,
            marks,
        };
        let measured = measure(&file).unwrap();
        for number in &measured.numbers {
            assert_close(number.path, number.value_mm, truth(number.path), Within::Absolute(1e-6));
        }
        // Of a picture in a mirror, the front grip is still up and the nose still ahead.
        let mut mirrored = file.clone();
        for mark in mirrored.marks.iter_mut().flat_map(|marks| &mut marks.at) {
            mark.x_px = 6000.0 - mark.x_px;
        }
        for (number, other) in measured.numbers.iter().zip(measure(&mirrored).unwrap().numbers) {
            assert_close(number.path, number.value_mm, other.value_mm, Within::Absolute(1e-6));
        }
        // Twice the pixels, twice the marking error: the same head, as sure.
        let mut finer = PhotographFile { width_px: 12_000, height_px: 8000, marking_px: 2.0, ..file };
        for mark in finer.marks.iter_mut().flat_map(|marks| &mut marks.at) {
            (mark.x_px, mark.y_px) = (2.0 * mark.x_px, 2.0 * mark.y_px);
        }
        for (number, other) in measured.numbers.iter().zip(measure(&finer).unwrap().numbers) {
            assert_close(number.path, number.value_mm, other.value_mm, Within::Absolute(1e-6));
            // Half a pixel's own width is no longer there.
            assert!(other.uncertainty_mm <= number.uncertainty_mm);
        }
    }
}

#[test]
fn what_is_missing_is_said_first() {
    let whole = photograph(&Case { by_sheet: true, tilt_rad: 0.1 }, &mut Draws(77));
    for landmark in [Landmark::SheetCorners, Landmark::Sprocket, Landmark::BarLine] {
        let mut file = whole.clone();
        file.set_marks(landmark, Vec::new());
        assert_eq!(measure(&file), Err(Missing::Marks(landmark)));
    }
    let mut file = whole.clone();
    let corner = file.marks_of(Landmark::SheetCorners)[0];
    file.set_marks(Landmark::SheetCorners, vec![corner; 4]);
    assert_eq!(measure(&file), Err(Missing::View));
    let mut file = whole;
    file.set_marks(Landmark::FuelTank, Vec::new());
    assert!(measure(&file).unwrap().numbers.iter().all(|number| !number.path.starts_with("fuel")));
}
