//! The person in the cut against figures from outside, against `geo`, and against a plain, slow model of the same
//! words.
#![expect(clippy::unwrap_used, reason = "helpers of tests, outside a test function")]

use barpoise_checks::{Within, assert_close};
use barpoise_core::file;
use barpoise_core::geometry::{Point, Polygon, Vector};
use barpoise_core::log::{LogSection, Side};
use barpoise_core::person::hold::hold_cost;
use barpoise_core::person::{
    Body, Hand, Legs, MEN, People, Person, SawBody, Stance, Standing, Survey, WOMEN, WhyNot,
};
use barpoise_core::solve;
use barpoise_core::units::{Angle, Length, Mass};
use geo::{Coord, Intersects, LineString};
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn deg(value: f64) -> Angle {
    Angle::from_deg(value)
}

fn saws() -> Vec<SawBody> {
    file::demo().unwrap().powerheads().iter().map(|head| SawBody::of(head)).collect()
}

fn section(width_m: f64, ratio: f64, clearance_m: f64) -> LogSection {
    let m = Length::from_m;
    LogSection::oval(m(width_m), m(width_m * ratio), m(clearance_m)).unwrap()
}

fn sides() -> impl Strategy<Value = Side> {
    prop_oneof![Just(Side::Near), Just(Side::Far)]
}

fn people() -> impl Strategy<Value = Person> {
    (1450.0_f64..2000.0, any::<bool>(), any::<bool>(), -20.0_f64..20.0, any::<bool>()).prop_map(
        |(stature, women, kneels, slope, level)| {
            let survey = if women { Survey::Women } else { Survey::Men };
            let slope = if level { 0.0 } else { slope };
            Person::new(mm(stature), survey).unwrap().with_kneeling(kneels).with_slope(deg(slope)).unwrap()
        },
    )
}

/// A place on the bark that a person may come to from a side, and a bar direction.
fn place(standing: &Standing, share: f64, turn_deg: f64) -> (Point, f64) {
    let near_rad = (60.0 + 170.0 * share).to_radians();
    let bark_rad = if standing.side() == Side::Near { near_rad } else { PI - near_rad };
    let section = standing.section();
    (section.bark_at(bark_rad), section.straight_in_rad(bark_rad) + turn_deg.to_radians())
}

// --- figures from outside

#[test]
fn the_means_are_those_of_the_survey() {
    // ANSUR II, Gordon et al. 2014, NATICK/TR-15/007: mean stature 1628.5 and 1756.2 mm; acromial height over it .8198
    // and .8203 (computed from the same tables).
    let within = Within::Absolute(1e-12);
    assert_close("men's stature", Person::default().stature().as_mm(), 1756.2, within);
    assert_close("women's stature", WOMEN.stature_m, 1.6285, within);
    // The means are printed to a tenth of a millimetre, which leaves the fourth digit open by one.
    assert_close("women's acromion", WOMEN.acromial_m / WOMEN.stature_m, 0.8198, Within::Absolute(1e-4));
    assert_close("men's acromion", MEN.acromial_m / MEN.stature_m, 0.8203, Within::Absolute(1e-4));
    assert_close("men's mass", Person::default().mass().as_kg(), 85.5, within);
    let woman = Person::new(mm(1628.5), Survey::Women).unwrap();
    assert_close("women's mass", woman.mass().as_kg(), 67.8, Within::Absolute(1e-9));
}

#[test]
fn the_segments_make_up_the_body() {
    // De Leva 1996, J. Biomech. 29(9):1223–1230, table 4: masses sum to 1.0000 (men) and .9999 (women).
    for (survey, sum) in [(Survey::Men, 1.0), (Survey::Women, 0.9999)] {
        let body = Body::of(&Person::new(mm(1700.0), survey).unwrap());
        let one_side = body.upper_arm.mass_kg
            + body.forearm.mass_kg
            + body.hand_kg
            + body.thigh.mass_kg
            + body.shank.mass_kg
            + body.foot.mass_kg;
        let all = body.head_kg + body.trunk.mass_kg + 2.0 * one_side;
        assert_close(format!("{survey:?}"), all / body.mass_kg, sum, Within::Absolute(5e-5));
    }
}

#[test]
fn standing_at_ease_the_weight_is_where_it_was_measured() {
    // Computed from de Leva's table and the survey: .554 H men, .560 H women; literature .55–.57 (second-hand).
    for (survey, share) in [(Survey::Men, 0.554), (Survey::Women, 0.560)] {
        let body = Body::of(&Person::new(mm(1700.0), survey).unwrap());
        let shoulder = body.shoulder_height_m;
        let elbow = shoulder - body.upper_arm_m;
        let knee = body.knee_height_m;
        let both = |segment: barpoise_core::person::SegmentMass, top: f64, length: f64| {
            2.0 * segment.mass_kg * (top - segment.centre * length)
        };
        let moment = body.head_kg * (shoulder + body.neck_m)
            + body.trunk.mass_kg * (shoulder - body.trunk.centre * body.trunk_m)
            + both(body.upper_arm, shoulder, body.upper_arm_m)
            + both(body.forearm, elbow, body.forearm_m)
            + 2.0 * body.hand_kg * (elbow - body.forearm_m)
            + both(body.thigh, body.hip_height_m, body.thigh_m)
            + both(body.shank, knee, body.shank_m)
            + 2.0 * body.foot.mass_kg * 0.02;
        let height = moment / body.mass_kg / body.stature_m;
        // Where the head's and the feet's centres lie is not in the table's columns: 5 mm of the whole.
        assert_close(format!("{survey:?}"), height, share, Within::Absolute(0.005));
        assert!((0.55..0.57).contains(&height), "{survey:?}: {height}");
    }
}

#[test]
fn an_arm_bends_as_the_closed_form_says() {
    // Closed form for H 1.756 m, grip .45 m ahead and .25 m below the shoulder: elbow 61.58°, upper arm 28.40° from
    // hanging, elbow at (.1351, −.2499) m.
    let body = Body::of(&Person::new(mm(1756.0), Survey::Men).unwrap());
    let arm = body.arm_to(0.45, -0.25, 0.0).unwrap();
    assert_close("elbow", arm.elbow_bend_rad.to_degrees(), 61.58, Within::Absolute(0.005));
    assert_close("upper arm", arm.upper_arm_rad.to_degrees(), 28.40, Within::Absolute(0.005));
    assert_close("elbow ahead", arm.elbow.x, 0.1351, Within::Absolute(5e-5));
    assert_close("elbow up", arm.elbow.y, -0.2499, Within::Absolute(5e-5));
    // The same links and heights printed in the design of the model: .284, .315, .599; 1.403, .901, .492 m; shortest
    // reach .197 m.
    for (what, ours, outside) in [
        ("upper arm", body.upper_arm_m, 0.284),
        ("forearm", body.forearm_m, 0.315),
        ("straight arm", body.upper_arm_m + body.forearm_m, 0.599),
        ("shoulder", body.shoulder_height_m, 1.403),
        ("hip", body.hip_height_m, 0.901),
        ("knee", body.knee_height_m, 0.492),
        ("shortest reach", body.shortest_arm_m(), 0.197),
    ] {
        assert_close(what, ours, outside, Within::Absolute(5e-4));
    }
    assert!(body.arm_to(0.6, 0.0, 0.0).is_none() && body.arm_to(0.0, 0.0, 0.0).is_none());
    assert!(body.arm_to(f64::NAN, 0.0, 0.0).is_none());
}

/// Farthest that the nose swings down from straight in before a grip behind the spikes comes within a room of round wood,
/// rad: acos(((r + c)² − r² − ρ²) / (2 r ρ)) − β, with ρ the distance from the spikes to the grip and β its angle above
/// the bar's middle, looking back.
fn front_grip_swing_rad(grip: Point, radius_m: f64, room_m: f64) -> f64 {
    let (distance_m, above_rad) = (grip.coords.norm(), grip.y.atan2(-grip.x));
    let near_m = radius_m + room_m;
    let cos =
        (near_m * near_m - radius_m * radius_m - distance_m * distance_m) / (2.0 * radius_m * distance_m);
    cos.acos() - above_rad
}

#[test]
fn the_front_grip_meets_round_wood_where_the_closed_form_says() {
    // (front grip behind the spikes and above the bar, mm): (log, in the wood beyond, with 50 mm for the hand).
    type Row = ((f64, f64), [(f64, f64, f64); 4]);
    let table: [Row; 2] = [
        (
            (166.0, 166.0),
            [(400.0, 80.9, 65.3), (560.0, 69.8, 55.8), (740.0, 63.5, 50.2), (900.0, 60.1, 47.1)],
        ),
        (
            (140.0, 150.0),
            [(400.0, 73.9, 56.8), (560.0, 64.5, 48.8), (740.0, 59.1, 44.0), (900.0, 56.2, 41.3)],
        ),
    ];
    for ((behind, up), rows) in table {
        let grip = Point::new(-behind, up) * 1e-3;
        for (log_mm, bare, with_hand) in rows {
            for (room_mm, outside) in [(0.0, bare), (50.0, with_hand)] {
                let saw = SawBody::from_polygons(&[], 0.0, grip, grip - Vector::new(0.3, 0.1))
                    .with_hand_room(mm(room_mm))
                    .unwrap();
                let what = format!("grip {behind}/{up}, log {log_mm}, room {room_mm}");
                let closed = front_grip_swing_rad(grip, log_mm * 5e-4, room_mm * 1e-3).to_degrees();
                assert_close(&what, closed, outside, Within::Absolute(0.05));
                // The pose test, with nothing but the hands in its way: held out at the hip, spikes on the upper near
                // bark.
                let log = LogSection::round(mm(log_mm), mm(900.0 - log_mm)).unwrap();
                let standing = Standing::new(&log, Side::Near, &saw, &Person::default());
                let swing = standing.intervals(125.0_f64.to_radians());
                let lowest = swing.first().unwrap().from_rad.to_degrees();
                assert_close(format!("{what}, tested"), -lowest, closed, Within::Absolute(0.006));
            }
        }
    }
}

// --- the saw against bark, by `geo`

fn ring(points: impl IntoIterator<Item = Point>) -> geo::Polygon<f64> {
    let coords = points.into_iter().map(|p| Coord { x: p.x, y: p.y });
    geo::Polygon::new(LineString::from_iter(coords), vec![])
}

/// A polygon inside the section, within a millionth of its size.
fn wood(section: &LogSection) -> geo::Polygon<f64> {
    ring((0..4000).map(|i| section.bark_at(TAU * f64::from(i) / 4000.0)))
}

fn outline_in_log(saw: &SawBody, side: Side, spikes: Point, direction: f64) -> Vec<geo::Polygon<f64>> {
    let along = Vector::new(direction.cos(), direction.sin());
    let upper =
        if side == Side::Near { Vector::new(-along.y, along.x) } else { Vector::new(along.y, -along.x) };
    saw.outline()
        .map(|part| ring(part.corners().iter().map(|c| spikes + c.x * along + c.y * upper)))
        .collect()
}

/// A star of any shape about a middle: often hollow at its sides.
fn star(middle: Point, radii: &[f64]) -> Polygon {
    let count = radii.len() as f64;
    let corners = radii.iter().zip(0_u32..).map(|(radius, i)| {
        let angle = TAU * f64::from(i) / count;
        middle + *radius * Vector::new(angle.cos(), angle.sin())
    });
    Polygon::new(corners.collect())
}

fn agrees_with_geo(
    saw: &SawBody,
    standing: &Standing,
    spikes: Point,
    direction: f64,
) -> Result<(), TestCaseError> {
    let wood = wood(standing.section());
    let meets =
        outline_in_log(saw, standing.side(), spikes, direction).iter().any(|part| part.intersects(&wood));
    let look = standing.look(spikes, direction);
    let saw_has_room = !matches!(look, Err(why) if why.is_saw());
    prop_assert!(!(meets && saw_has_room), "geo: they meet; ours {look:?}");
    if let Err(WhyNot::HeadInBark { by_m, at }) = look
        && by_m > 1e-5
    {
        prop_assert!(meets, "geo: apart; ours {look:?}");
        let p = geo::Point::new(at.x, at.y);
        prop_assert!(by_m < 2e-5 || wood.intersects(&p), "the deepest place {at:?} is off the wood");
    }
    Ok(())
}

proptest! {
    #![proptest_config(barpoise_checks::few_cases(64))]

    #[test]
    fn law_the_generic_outline_meets_the_bark_as_geo_says(
        head in 0_usize..2, width in 0.15_f64..1.2, ratio in 0.55_f64..1.8, side in sides(), share in 0.0_f64..1.0,
        turn in -90.0_f64..90.0, off in 0.0_f64..0.08, aside in -0.08_f64..0.08
    ) {
        let saw = &saws()[head];
        let standing = Standing::new(&section(width, ratio, 0.4), side, saw, &Person::default());
        let (spikes, direction) = place(&standing, share, turn);
        let spikes = spikes - off * Vector::new(direction.cos(), direction.sin()) + Vector::new(0.0, aside);
        agrees_with_geo(saw, &standing, spikes, direction)?;
    }

    #[test]
    fn law_hollow_outlines_meet_the_bark_as_geo_says(
        radii in prop::collection::vec(0.03_f64..0.3, 5..14), x in -0.6_f64..0.0, y in -0.3_f64..0.3,
        width in 0.06_f64..0.8, ratio in 0.55_f64..1.8, side in sides(), share in 0.0_f64..1.0,
        turn in -90.0_f64..90.0
    ) {
        // Grips far off, so that only the outline can meet anything.
        let (front, rear) = (Point::new(-2.0, 3.0), Point::new(-3.0, 3.0));
        let saw = SawBody::from_polygons(&[star(Point::new(x, y), &radii)], 0.0, front, rear);
        let standing = Standing::new(&section(width, ratio, 2.9), side, &saw, &Person::default());
        let (spikes, direction) = place(&standing, share, turn);
        agrees_with_geo(&saw, &standing, spikes, direction)?;
    }
}

// --- a plain, slow model

/// The model in its own words: postures, hip and feet tried one after another, every condition by itself.
struct Plain<'a> {
    body: Body,
    saw: &'a SawBody,
    radius_m: f64,
    slope_rad: f64,
    clearance_m: f64,
    out: f64,
    grid_m: f64,
    slack_m: f64,
    tries: Vec<Try>,
}

/// A posture, the hip places that legs, trunk and head allow, and how near the feet may come.
struct Try {
    kneeling: bool,
    bend: f64,
    hip_up: f64,
    lean: (f64, f64),
    base: (f64, f64),
    feet_from: f64,
    top_y: f64,
    hips: Vec<f64>,
}

impl<'a> Plain<'a> {
    /// Strict: what is found on the grid surely is one, for all that bark and trunk are sampled. Loose: what is one is
    /// found, for all that the grid may miss it by.
    fn new(
        log: &LogSection,
        side: Side,
        saw: &'a SawBody,
        person: &Person,
        grid_m: f64,
        loose: bool,
    ) -> Self {
        let slack_m = if loose { grid_m + 5e-4 } else { -5e-4 };
        let mut plain = Self {
            body: Body::of(person),
            saw,
            radius_m: log.round_diameter().unwrap().as_m() / 2.0,
            slope_rad: person.slope().as_rad(),
            clearance_m: log.clearance().as_m(),
            out: if side == Side::Near { -1.0 } else { 1.0 },
            grid_m,
            slack_m,
            tries: Vec::new(),
        };
        let body = plain.body;
        for share in [0.97, 0.93, 0.80, 0.62, f64::NAN] {
            let kneeling = share.is_nan();
            if kneeling && !person.can_kneel() {
                continue;
            }
            let leg = body.thigh_m + body.shank_m;
            let hip_up = if kneeling { body.kneeling_hip_m } else { body.ankle_height_m + share * leg };
            let up_to = if kneeling { hip_up.max(body.knee_height_m) } else { hip_up };
            let knees = (plain.farthest_out(up_to) + 0.05).max(0.0);
            let toes = plain.farthest_out(0.10) + body.ankle_to_toe_m;
            let feet_from = knees.max(toes) + 0.12 - slack_m;
            let upright = if kneeling { hip_up + body.trunk_m } else { body.shoulder_height_m };
            let top_y = plain.ground(plain.out * (feet_from + slack_m)) + upright;
            let lean = if kneeling { (0.06, 0.18) } else { (-leg, leg) };
            let ahead = 0.12 + body.ankle_to_ball_m;
            let base = if kneeling {
                (ahead - 0.20, 0.12 + body.shank_m - 0.20)
            } else {
                (ahead - 0.05, 0.12 + body.ankle_to_heel_m - 0.05)
            };
            for step in 0..=16 {
                let degrees = -10.0 + 5.0 * f64::from(step);
                if kneeling && degrees > 60.0 {
                    continue;
                }
                let bend = degrees.to_radians();
                let mut a_try =
                    Try { kneeling, bend, hip_up, lean, base, feet_from, top_y, hips: Vec::new() };
                a_try.hips = (-60..=260)
                    .map(|i| f64::from(i) * grid_m)
                    .filter(|hip| *hip >= knees - slack_m && plain.body_clear(&a_try, *hip, slack_m))
                    .collect();
                plain.tries.push(a_try);
            }
        }
        plain
    }

    fn ground(&self, x: f64) -> f64 {
        (x * self.slope_rad.sin() - self.radius_m - self.clearance_m) / self.slope_rad.cos()
    }

    fn above_ground(&self, p: Point) -> f64 {
        (p.y - self.ground(p.x)) * self.slope_rad.cos()
    }

    fn outside(&self, p: Point) -> f64 {
        p.coords.norm() - self.radius_m
    }

    fn farthest_out(&self, up_to: f64) -> f64 {
        (0..20_000)
            .map(|i| {
                self.radius_m
                    * Vector::new((TAU * f64::from(i) / 2e4).cos(), (TAU * f64::from(i) / 2e4).sin())
            })
            .filter(|p| p.y - self.ground(p.x) <= up_to)
            .map(|p| self.out * p.x)
            .fold(f64::NEG_INFINITY, f64::max)
    }

    fn hip(&self, a_try: &Try, hip: f64) -> Point {
        let x = self.out * hip;
        Point::new(x, self.ground(x) + a_try.hip_up)
    }

    fn shoulder(&self, a_try: &Try, hip: f64) -> Point {
        let trunk = self.body.trunk_m;
        self.hip(a_try, hip) + Vector::new(-self.out * trunk * a_try.bend.sin(), trunk * a_try.bend.cos())
    }

    fn head(&self, a_try: &Try, hip: f64) -> Point {
        let (neck, half) = (self.body.neck_m, 0.5 * a_try.bend);
        self.shoulder(a_try, hip) + Vector::new(-self.out * neck * half.sin(), neck * half.cos())
    }

    fn body_clear(&self, a_try: &Try, hip: f64, slack: f64) -> bool {
        let (low, high) = (self.hip(a_try, hip), self.shoulder(a_try, hip));
        (0..=60).all(|i| {
            self.outside(low + (f64::from(i) / 60.0) * (high - low)) >= self.body.half_chest_m - slack
        }) && self.outside(self.head(a_try, hip)) >= self.body.head_radius_m - slack
    }

    fn grips(&self, spikes: Point, direction: f64) -> [(Hand, Point); 2] {
        [(Hand::Front, self.saw.front_grip()), (Hand::Rear, self.saw.rear_grip())]
            .map(|(hand, grip)| (hand, self.at(spikes, direction, grip)))
    }

    fn at(&self, spikes: Point, direction: f64, p: Point) -> Point {
        let along = Vector::new(direction.cos(), direction.sin());
        let upper = -self.out * Vector::new(-along.y, along.x);
        spikes + p.x * along + p.y * upper
    }

    fn saw_clear(&self, spikes: Point, direction: f64, slack: f64) -> bool {
        self.grips(spikes, direction).iter().all(|(_, grip)| {
            self.above_ground(*grip) >= 0.06 - slack && self.outside(*grip) >= self.saw.hand_room_m() - slack
        }) && self.saw.outline().all(|part| {
            part.edges().all(|(a, b)| {
                (0..=20).all(|i| {
                    let p = self.at(spikes, direction, a + (f64::from(i) / 20.0) * (b - a));
                    self.outside(p) >= -slack && self.above_ground(p) >= -slack
                })
            })
        })
    }

    /// True where a try works with the hip and the feet so far out.
    fn works(
        &self,
        a_try: &Try,
        grips: &[(Hand, Point); 2],
        saw: Point,
        hip: f64,
        feet: f64,
        slack: f64,
    ) -> bool {
        let (least, most) = a_try.lean;
        let lean = hip - feet;
        if feet < a_try.feet_from || lean < least - slack || lean > most + slack {
            return false;
        }
        if !a_try.kneeling && !self.legs_reach(a_try, hip, feet, slack) {
            return false;
        }
        let weight = self.weight_out(a_try, grips, saw, hip, feet);
        weight >= feet - a_try.base.0 - slack && weight <= feet + a_try.base.1 + slack
    }

    fn legs_reach(&self, a_try: &Try, hip: f64, feet: f64, slack: f64) -> bool {
        [-0.12, 0.12].into_iter().all(|ahead| {
            let x = self.out * (feet + ahead);
            let ankle = Point::new(x, self.ground(x) + self.body.ankle_height_m);
            (ankle - self.hip(a_try, hip)).norm() <= self.body.thigh_m + self.body.shank_m + slack
        })
    }

    fn arms_work(&self, a_try: &Try, grips: &[(Hand, Point); 2], hip: f64, slack: f64) -> bool {
        let shoulder = self.shoulder(a_try, hip);
        let (a, b) = (self.body.upper_arm_m, self.body.forearm_m);
        grips.iter().all(|(hand, grip)| {
            let aside = if *hand == Hand::Front { 0.20 } else { 0.05 };
            let to = grip - shoulder;
            let space = to.norm().hypot(aside);
            let nearest = (a * a + b * b - 2.0 * a * b * (38.0_f64).to_radians().cos()).sqrt();
            let (ahead, down) = (-self.out * to.x, -to.y);
            let back = (50.0 + a_try.bend.to_degrees()).clamp(0.0, 60.0).to_radians().tan();
            space <= 0.97 * (a + b) + slack
                && space >= nearest - slack
                && ahead >= -back * down.max(0.0) - slack
        })
    }

    fn weight_out(&self, a_try: &Try, grips: &[(Hand, Point); 2], saw: Point, hip: f64, feet: f64) -> f64 {
        let body = &self.body;
        let hip_at = self.hip(a_try, hip).x * self.out;
        let shoulder = self.shoulder(a_try, hip).x * self.out;
        let head = self.head(a_try, hip).x * self.out;
        let knee = hip_at + body.thigh_m / (body.thigh_m + body.shank_m) * (feet - hip_at);
        let mut sum = body.head_kg * head
            + body.trunk.mass_kg * (shoulder + body.trunk.centre * (hip_at - shoulder))
            + self.saw.mass_kg() * saw.x * self.out;
        for (_, grip) in grips {
            // As if the arm were straight along its way to the grip.
            let grip = grip.x * self.out;
            let (a, b) = (body.upper_arm_m, body.forearm_m);
            let along = |metres: f64| shoulder + metres / (a + b) * (grip - shoulder);
            sum += body.upper_arm.mass_kg * along(body.upper_arm.centre * a)
                + body.forearm.mass_kg * along(a + body.forearm.centre * b)
                + body.hand_kg * grip;
        }
        let foot =
            feet + body.ankle_to_heel_m - body.foot.centre * (body.ankle_to_heel_m + body.ankle_to_toe_m);
        sum += 2.0 * body.thigh.mass_kg * (hip_at + body.thigh.centre * (knee - hip_at))
            + 2.0 * body.shank.mass_kg * (knee + body.shank.centre * (feet - knee))
            + 2.0 * body.foot.mass_kg * foot;
        sum / (body.mass_kg + self.saw.mass_kg())
    }

    fn can(&self, spikes: Point, direction: f64) -> bool {
        let slack = self.slack_m;
        if !self.saw_clear(spikes, direction, slack) {
            return false;
        }
        let grips = self.grips(spikes, direction);
        let saw = self.at(spikes, direction, self.saw.centre());
        let top = grips.iter().map(|(_, grip)| grip.y).fold(spikes.y, f64::max);
        self.tries.iter().any(|a_try| {
            top <= a_try.top_y + slack
                && a_try.hips.iter().any(|hip| {
                    self.arms_work(a_try, &grips, *hip, slack)
                        && (-80..=80).any(|i| {
                            self.works(a_try, &grips, saw, *hip, *hip + f64::from(i) * self.grid_m, slack)
                        })
                })
        })
    }

    /// A stance, taken at its word: every condition at its own hip and feet.
    fn accepts(&self, stance: &Stance, spikes: Point, direction: f64) -> Result<(), TestCaseError> {
        let tight = 1e-6;
        let kneeling = stance.legs == Legs::Kneeling;
        let hip = self.out * stance.hip.x;
        let feet = self.out * stance.feet.x;
        let hip_up = stance.hip.y - self.ground(stance.hip.x);
        let a_try = self
            .tries
            .iter()
            .find(|t| {
                t.kneeling == kneeling
                    && (t.bend - stance.bend_rad).abs() < 1e-9
                    && (t.hip_up - hip_up).abs() < 1e-9
            })
            .ok_or_else(|| TestCaseError::fail(format!("no such posture: {stance:?}")))?;
        let grips = self.grips(spikes, direction);
        let saw = self.at(spikes, direction, self.saw.centre());
        prop_assert!(self.saw_clear(spikes, direction, tight), "the saw has no room");
        prop_assert!(self.body_clear(a_try, hip, tight), "against the log: {stance:?}");
        prop_assert!(self.arms_work(a_try, &grips, hip, tight), "the arms: {stance:?}");
        // The bark was sampled for the feet.
        prop_assert!(
            self.works(a_try, &grips, saw, hip, feet + 1e-3, 1e-3 + tight),
            "feet, weight: {stance:?}"
        );
        Ok(())
    }
}

/// A link's length in space, from its view from the side and how far aside its ends are.
fn in_space(from: Point, to: Point, aside_m: f64) -> f64 {
    (to - from).norm().hypot(aside_m)
}

proptest! {
    #![proptest_config(barpoise_checks::few_cases(8))]

    #[test]
    fn law_intervals_are_what_a_plain_search_finds(
        head in 0_usize..2, diameter in 0.15_f64..1.1, clearance in 0.0_f64..0.7, side in sides(), person in people(),
        share in 0.0_f64..1.0
    ) {
        let saw = &saws()[head];
        let log = section(diameter, 1.0, clearance);
        let standing = Standing::new(&log, side, saw, &person);
        let [strict, loose] = [false, true].map(|loose| Plain::new(&log, side, saw, &person, 0.01, loose));
        for step in 0..4 {
            let (spikes, straight_in) = place(&standing, (share + 0.25 * f64::from(step)).fract(), 0.0);
            let bark_rad = spikes.y.atan2(spikes.x);
            let intervals = standing.intervals(bark_rad);
            for degree in (-90..=90).step_by(5) {
                let turn = f64::from(degree).to_radians();
                let ours = intervals.iter().any(|interval| interval.holds(turn));
                let direction = straight_in + turn;
                if ours {
                    prop_assert!(loose.can(spikes, direction), "{degree}° at {spikes:?}: only ours");
                    let stance = standing.look(spikes, direction).unwrap();
                    strict.accepts(&stance, spikes, direction)?;
                } else {
                    let why = standing.look(spikes, direction);
                    prop_assert!(!strict.can(spikes, direction), "{degree}° at {spikes:?}: {why:?}");
                }
            }
        }
    }
}

#[test]
fn the_plain_search_decides_nearly_everywhere() {
    // Between the strict and the loose search nothing is said: that must be a thin seam.
    let saw = &saws()[0];
    let log = section(0.56, 1.0, 0.3);
    let person = Person::default();
    let [strict, loose] = [false, true].map(|loose| Plain::new(&log, Side::Near, saw, &person, 0.005, loose));
    let standing = Standing::new(&log, Side::Near, saw, &person);
    let (mut yes, mut no, mut seam) = (0, 0, 0);
    for share in 0..10 {
        for degree in (-85..=85).step_by(10) {
            let (spikes, direction) = place(&standing, f64::from(share) / 10.0, f64::from(degree));
            match (strict.can(spikes, direction), loose.can(spikes, direction)) {
                (true, true) => yes += 1,
                (false, false) => no += 1,
                _ => seam += 1,
            }
        }
    }
    assert!(yes > 60 && no > 60 && seam < 9, "{yes} can, {no} cannot, {seam} undecided");
}

// --- laws

proptest! {
    #[test]
    fn law_a_mirrored_log_and_side_give_mirrored_holds(
        head in 0_usize..2, width in 0.15_f64..1.1, ratio in 0.6_f64..1.6, clearance in 0.0_f64..0.7,
        person in people(), share in 0.0_f64..1.0, turn in -80.0_f64..80.0
    ) {
        let saw = &saws()[head];
        let log = section(width, ratio, clearance);
        let other = person.with_slope(-person.slope()).unwrap();
        let near = Standing::new(&log, Side::Near, saw, &person);
        let far = Standing::new(&log, Side::Far, saw, &other);
        let (spikes, direction) = place(&near, share, turn);
        let flip = |p: Point| Point::new(-p.x, p.y);
        let mirrored = far.look(flip(spikes), PI - direction);
        match (near.look(spikes, direction), mirrored) {
            (Ok(a), Ok(b)) => {
                for (a, b) in [
                    (a.hip, b.hip), (a.head, b.head), (a.feet, b.feet), (a.front_arm.elbow, b.front_arm.elbow),
                    (a.rear_arm.hand, b.rear_arm.hand), (a.front_leg.knee, b.front_leg.knee)
                ] {
                    prop_assert!((a - flip(b)).norm() < 1e-9, "{a:?} {b:?}");
                }
                prop_assert_eq!(a.legs, b.legs);
                prop_assert!((a.bend_rad - b.bend_rad).abs() < 1e-12);
            }
            (Err(a), Err(b)) => {
                prop_assert!((a.by_m() - b.by_m()).abs() < 1e-9, "{a:?} {b:?}");
                prop_assert_eq!(a.words(), b.words());
                prop_assert!((a.at().unwrap() - flip(b.at().unwrap())).norm() < 1e-6);
            }
            (a, b) => prop_assert!(false, "{a:?} {b:?}"),
        }
    }

    #[test]
    fn law_less_hand_room_longer_arms_and_kneeling_lose_no_hold(
        head in 0_usize..2, width in 0.15_f64..1.1, ratio in 0.6_f64..1.6, clearance in 0.0_f64..0.7, side in sides(),
        person in people(), share in 0.0_f64..1.0, turn in -80.0_f64..80.0, less in 0.0_f64..50.0,
        more in 0.0_f64..120.0
    ) {
        let saw = &saws()[head];
        let log = section(width, ratio, clearance);
        let standing = |saw: &SawBody, person: &Person| Standing::new(&log, side, saw, person);
        let first = standing(saw, &person);
        let (spikes, direction) = place(&first, share, turn);
        let roomier = saw.clone().with_hand_room(mm(50.0 - less)).unwrap();
        let own = |arm_mm: f64| {
            let body = Body::of(&person);
            let survey = Survey::Own {
                people: person.people(),
                mass: Mass::from_kg(body.mass_kg),
                arm: Some(mm((body.upper_arm_m + body.forearm_m) * 1e3 + arm_mm)),
                leg: None,
            };
            let own = Person::new(person.stature(), survey).unwrap();
            own.with_kneeling(person.can_kneel()).with_slope(person.slope()).unwrap()
        };
        if first.can(spikes, direction) {
            prop_assert!(standing(&roomier, &person).can(spikes, direction), "less room for the hand");
            prop_assert!(standing(saw, &person.with_kneeling(true)).can(spikes, direction), "kneeling");
            prop_assert!(standing(saw, &own(0.01)).can(spikes, direction), "the same arms, measured");
            prop_assert!(standing(saw, &own(more)).can(spikes, direction), "arms longer by {more} mm");
        }
    }

    #[test]
    fn law_a_stance_keeps_the_lengths_of_the_body(
        head in 0_usize..2, width in 0.15_f64..1.1, ratio in 0.6_f64..1.6, clearance in 0.0_f64..0.7, side in sides(),
        person in people(), share in 0.0_f64..1.0, turn in -60.0_f64..40.0
    ) {
        let saw = &saws()[head];
        let standing = Standing::new(&section(width, ratio, clearance), side, saw, &person);
        let (spikes, direction) = place(&standing, share, turn);
        let body = standing.body();
        if let Some(held) = standing.look(spikes, direction).ok().or(standing.nearest_stance(spikes, direction)) {
            prop_assert!(((held.shoulder - held.hip).norm() - body.trunk_m).abs() < 1e-9);
            for arm in [held.front_arm, held.rear_arm] {
                if arm.reaches {
                    // The elbow is as far aside as its foot on the way to the hand.
                    let to = arm.hand - arm.shoulder;
                    let space = to.norm().hypot(arm.aside_m);
                    let (a, b) = (body.upper_arm_m, body.forearm_m);
                    let aside = (a * a + space * space - b * b) / (2.0 * space * space) * arm.aside_m;
                    prop_assert!((in_space(arm.shoulder, arm.elbow, aside) - a).abs() < 1e-9);
                    prop_assert!((in_space(arm.elbow, arm.hand, arm.aside_m - aside) - b).abs() < 1e-9);
                } else {
                    let straight = body.upper_arm_m + body.forearm_m;
                    prop_assert!(((arm.hand - arm.shoulder).norm() - straight).abs() < 1e-9);
                }
            }
            for leg in [held.front_leg, held.rear_leg] {
                // A knee turned aside looks nearer, never farther.
                let slip_m = if held.legs == Legs::Kneeling { KNEELING_SLIP_M } else { 1e-9 };
                prop_assert!((leg.knee - held.hip).norm() < body.thigh_m + slip_m);
                prop_assert!((leg.ankle - leg.knee).norm() < body.shank_m + slip_m);
            }
            prop_assert!(!held.words().is_empty());
        }
        // A stance exists where the look is good, and a nearest one only where it is not.
        prop_assert_eq!(standing.can(spikes, direction), standing.look(spikes, direction).is_ok());
        prop_assert_eq!(standing.can(spikes, direction), standing.nearest_stance(spikes, direction).is_none());
    }

    #[test]
    fn law_a_taller_person_loses_no_high_hold_for_want_of_reach(
        head in 0_usize..2, width in 0.4_f64..1.1, clearance in 0.3_f64..0.8, side in sides(), share in 0.0_f64..0.5,
        turn in -50.0_f64..38.0, stature in 1500.0_f64..1850.0, more in 5.0_f64..150.0, women in any::<bool>()
    ) {
        let saw = &saws()[head];
        let log = section(width, 1.0, clearance);
        let survey = if women { Survey::Women } else { Survey::Men };
        let standing = |stature: f64| Standing::new(&log, side, saw, &Person::new(mm(stature), survey).unwrap());
        let (short, tall) = (standing(stature), standing(stature + more));
        let (spikes, direction) = place(&short, share, turn);
        // High: above the taller one's hip.
        let is_high = spikes.y - log.ground_y_m() > tall.body().hip_height_m;
        if is_high && short.can(spikes, direction) {
            let now = tall.look(spikes, direction);
            let lost = matches!(now, Err(WhyNot::ArmTooShort { .. } | WhyNot::AboveShoulder { .. }));
            prop_assert!(!lost, "{stature} + {more}: {now:?}");
        }
    }

    #[test]
    fn law_every_interval_ends_where_the_hold_does(
        head in 0_usize..2, width in 0.15_f64..1.1, ratio in 0.6_f64..1.6, clearance in 0.0_f64..0.7, side in sides(),
        person in people(), share in 0.0_f64..1.0
    ) {
        let saw = &saws()[head];
        let standing = Standing::new(&section(width, ratio, clearance), side, saw, &person);
        let (spikes, straight_in) = place(&standing, share, 0.0);
        let can = |turn: f64| standing.can(spikes, straight_in + turn);
        let intervals = standing.intervals(spikes.y.atan2(spikes.x));
        for pair in intervals.windows(2) {
            prop_assert!(pair[0].to_rad < pair[1].from_rad, "{pair:?}");
        }
        for interval in &intervals {
            for (end, outward) in [(interval.from_rad, -1.0), (interval.to_rad, 1.0)] {
                prop_assert!(can(end));
                let beyond = end + outward * 1.1e-4;
                prop_assert!(beyond.abs() > 0.5 * PI || !can(beyond), "{interval:?} goes on");
            }
            let mut degree = interval.from_rad.to_degrees().ceil();
            while degree <= interval.to_rad.to_degrees() {
                prop_assert!(can(degree.to_radians()), "{degree}° in {interval:?}");
                degree += 1.0;
            }
        }
    }

    #[test]
    fn law_arms_are_bent_as_the_holds_are_counted(
        head in 0_usize..2, width in 0.3_f64..0.9, clearance in 0.1_f64..0.6, side in sides(), person in people(),
        share in 0.2_f64..0.8, turn in -45.0_f64..35.0
    ) {
        let yard = file::demo().unwrap();
        let saw = &saws()[head];
        let standing = Standing::new(&section(width, 1.0, clearance), side, saw, &person);
        let (spikes, direction) = place(&standing, share, turn);
        if let Ok(stance) = standing.look(spikes, direction) {
            let holder = person.holder().unwrap();
            let solved = solve(&yard.setups()[0]);
            // With one grip straight above the other the shares of the hands are undefined.
            let Ok(hands) = solved.hands_at(standing.pitch(direction)) else { return Ok(()) };
            let hold = standing.hold(&stance, &hands);
            for (arm, hand) in [(stance.front_arm, hold.front), (stance.rear_arm, hold.rear)] {
                let bent = holder.arm.bent(hand.to_grip, hand.sideways.as_m()).unwrap();
                prop_assert!((bent.flexion().as_rad() - arm.elbow_bend_rad).abs() < 1e-6);
                prop_assert!((bent.upper_arm().as_rad() - arm.upper_arm_rad).abs() < 1e-6);
            }
            // With one grip above the other vertical forces alone hold the saw only by enormous pulls: refused there.
            match hold_cost(&holder, &hold) {
                Ok(cost) => prop_assert!(cost.back.load.moment().as_n_m().is_finite()),
                Err(error) => prop_assert!(hands.front.abs().max(hands.rear.abs()).as_n() > 1000.0, "{error}"),
            }
        }
    }
}

/// Kneeling, the thigh leans a little while the hip keeps its height, m.
const KNEELING_SLIP_M: f64 = 0.06;

// --- nothing at all, and too much

#[test]
fn places_and_directions_that_are_none_are_refused() {
    let saw = &saws()[0];
    let standing = Standing::new(&section(0.5, 1.0, 0.3), Side::Near, saw, &Person::default());
    for (x, y, direction) in [(f64::NAN, 0.0, 0.0), (0.0, f64::INFINITY, 0.0), (-0.25, 0.0, f64::NAN)] {
        let look = standing.look(Point::new(x, y), direction);
        assert!(matches!(look, Err(WhyNot::NoNumber)), "{look:?}");
        assert!(!standing.can(Point::new(x, y), direction));
        assert!(standing.nearest_stance(Point::new(x, y), direction).is_none());
    }
    // Far away, and far above.
    let far = standing.look(Point::new(-40.0, 0.0), 0.0);
    assert!(far.is_err() || far.is_ok_and(|stance| stance.feet.x < -39.0));
    let above = standing.look(Point::new(-0.3, 9.0), 0.0);
    assert!(matches!(above, Err(WhyNot::AboveShoulder { by_m, .. }) if by_m > 7.0), "{above:?}");
}

#[test]
fn a_person_out_of_range_is_refused_with_the_range() {
    let refused = |stature: f64| Person::new(mm(stature), Survey::Men).unwrap_err().message;
    for bad in [0.0, 900.0, 2600.0, f64::NAN, f64::INFINITY] {
        assert!(refused(bad).contains("1300…2200 mm"), "{}", refused(bad));
    }
    let own = |mass: f64, arm: Option<f64>, leg: Option<f64>| {
        let survey = Survey::Own {
            people: People::Women,
            mass: Mass::from_kg(mass),
            arm: arm.map(mm),
            leg: leg.map(mm),
        };
        Person::new(mm(1700.0), survey).map(|person| Body::of(&person))
    };
    assert!(own(20.0, None, None).unwrap_err().path.contains("mass"));
    assert!(own(70.0, Some(200.0), None).unwrap_err().path.contains("arm"));
    assert!(own(70.0, None, Some(2000.0)).unwrap_err().path.contains("leg"));
    let body = own(70.0, Some(650.0), Some(900.0)).unwrap();
    assert_close("own arm", body.upper_arm_m + body.forearm_m, 0.65, Within::Absolute(1e-12));
    assert_close("own leg", body.hip_height_m, 0.9, Within::Absolute(1e-12));
    assert_close("own mass", body.mass_kg, 70.0, Within::Absolute(1e-12));
    let person = Person::default();
    assert!(person.with_strength_percentile(0.5).unwrap_err().message.contains("1…99"));
    assert!(person.with_slope(deg(40.0)).is_err() && person.with_slope(deg(f64::NAN)).is_err());
    assert!(person.is_average() && person.words().contains("average man"), "{}", person.words());
    assert!(!person.with_strength_percentile(20.0).unwrap().is_average());
    assert!(saws()[0].clone().with_hand_room(mm(-1.0)).is_err());
}

// --- the feet

proptest! {
    #![proptest_config(barpoise_checks::few_cases(24))]

    #[test]
    fn law_feet_that_stay_stand_to_every_hold_of_their_run(
        head in 0_usize..2, width in 0.3_f64..0.9, clearance in 0.1_f64..0.6, side in sides(), person in people(),
        share in 0.2_f64..0.8
    ) {
        let saw = &saws()[head];
        let standing = Standing::new(&section(width, 1.0, clearance), side, saw, &person);
        let (spikes, straight_in) = place(&standing, share, 0.0);
        let plain = Plain::new(standing.section(), side, saw, &person, 0.01, false);
        for interval in standing.intervals(spikes.y.atan2(spikes.x)) {
            let holds: Vec<(Point, f64)> = (0..=12)
                .map(|i| interval.from_rad + f64::from(i) / 12.0 * interval.span_rad())
                .map(|turn| (spikes, straight_in + turn))
                .filter(|(spikes, direction)| standing.can(*spikes, *direction))
                .collect();
            let places = standing.footing(&holds).unwrap();
            prop_assert_eq!(places.len(), holds.len());
            for ((spikes, direction), feet) in holds.iter().zip(&places) {
                let held = standing.look_from(*feet, *spikes, *direction);
                let held = held.ok_or_else(|| TestCaseError::fail(format!("no stance from {feet}")))?;
                prop_assert!((held.feet.x - feet).abs() < 1e-9, "{} for {feet}", held.feet.x);
                // Standing where one likes is never more laborious.
                prop_assert!(standing.look(*spikes, *direction).unwrap().cost <= held.cost + 1e-12);
                plain.accepts(&held, *spikes, *direction)?;
            }
        }
    }
}

#[test]
fn feet_of_no_holds_and_of_impossible_ones() {
    let saw = &saws()[0];
    let standing = Standing::new(&section(0.5, 1.0, 0.3), Side::Near, saw, &Person::default());
    assert_eq!(standing.footing(&[]).unwrap(), Vec::<f64>::new());
    let up = (Point::new(-0.25, 0.0), 0.5 * PI);
    assert!(standing.footing(&[up]).unwrap_err().is_saw());
    // In the log nobody stands.
    let held = (standing.section().bark_at(2.6), 0.0);
    assert!(standing.can(held.0, held.1) && standing.look_from(0.0, held.0, held.1).is_none());
}
