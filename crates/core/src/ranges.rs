//! The allowed range of every number in a yard file, in the unit in which the file writes it.
//!
//! Wide enough for anything a person holds in two hands, narrow enough to catch a slipped decimal point.

use crate::fault::Range;

/// Mass of the powerhead without bar, chain, fuel and oil.
pub const DRY_MASS: Range = Range::new("dry mass", "kg", 1.0, 15.0);
/// Any coordinate of the saw frame.
pub const COORDINATE: Range = Range::new("coordinate", "mm", -800.0, 800.0);
/// Any coordinate of a fitted extra, which may sit as far out as a nose.
pub const EXTRA_COORDINATE: Range = Range::new("coordinate", "mm", -2000.0, 2000.0);
/// Radius of gyration of the dry powerhead about its centroid.
pub const RADIUS_OF_GYRATION: Range = Range::new("radius of gyration", "mm", 20.0, 400.0);
/// Moment of inertia of the dry powerhead about its centroid.
pub const HEAD_INERTIA: Range = Range::new("moment of inertia", "kg·m²", 0.001, 2.0);
/// Width or height of a tank.
pub const TANK_SIDE: Range = Range::new("tank side", "mm", 5.0, 400.0);
/// Capacity of a tank.
pub const TANK_CAPACITY: Range = Range::new("tank capacity", "L", 0.02, 3.0);
/// Density of fuel mix or bar oil.
pub const FLUID_DENSITY: Range = Range::new("fluid density", "kg/L", 0.6, 1.2);
/// Distance of the spike line ahead of the sprocket centre.
pub const SPIKE_LINE: Range = Range::new("spike line", "mm", 20.0, 400.0);
/// What an engine displaces.
pub const ENGINE_SIZE: Range = Range::new("engine size", "cm³", 15.0, 150.0);
/// How far a nose may lie ahead of where a new loop of its count puts it, or behind.
pub const NOSE_PLACE: Range = Range::new("place of the nose", "mm", -80.0, 80.0);
/// Distance of the bar studs ahead of the sprocket centre.
pub const STUD: Range = Range::new("stud position", "mm", 10.0, 300.0);
/// How far the tensioner moves the bar.
pub const TENSIONER_TRAVEL: Range = Range::new("tensioner travel", "mm", 2.0, 60.0);
/// Teeth (or rim pockets) of a sprocket.
pub const TEETH: Range = Range::new("tooth count", "", 5.0, 14.0);
/// Pitch: half the span of three consecutive rivets.
pub const PITCH: Range = Range::new("pitch", "in", 0.2, 0.8);
/// Engine power.
pub const POWER: Range = Range::new("power", "kW", 0.2, 12.0);
/// Engine speed.
pub const ENGINE_SPEED: Range = Range::new("engine speed", "1/min", 500.0, 20_000.0);
/// A walk or a change that stands between cuts.
pub const MINUTES: Range = Range::new("time", "min", 0.0, 240.0);
/// How often something happens in 100 cuts.
pub const SWAPS: Range = Range::new("changes", "", 0.0, 100.0);
/// Work in a day.
pub const HOURS: Range = Range::new("work in a day", "h", 0.1, 16.0);
/// Oil pump flow.
pub const PUMP_FLOW: Range = Range::new("pump flow", "mL/min", 0.5, 100.0);
/// A length as stamped on a bar.
pub const MARKED_LENGTH: Range = Range::new("marked length", "in", 6.0, 60.0);
/// Overall length of a bar plate from tail end to nose end.
pub const OVERALL_LENGTH: Range = Range::new("overall length", "mm", 150.0, 1700.0);
/// How far a bar's tail end lies behind the studs with the bar pushed fully back.
pub const TAIL_BEHIND_STUDS: Range = Range::new("tail behind studs", "mm", 2.0, 150.0);
/// Width of a bar at its tail or body.
pub const BAR_WIDTH: Range = Range::new("bar width", "mm", 25.0, 160.0);
/// Radius of the plate's nose.
pub const NOSE_RADIUS: Range = Range::new("nose radius", "mm", 6.0, 60.0);
/// Thickness of a bar plate.
pub const BAR_THICKNESS: Range = Range::new("thickness", "mm", 2.0, 8.0);
/// Gauge: width of the bar groove and of the drive link.
pub const GAUGE: Range = Range::new("gauge", "mm", 0.9, 2.5);
/// Depth of the bar groove.
pub const GROOVE_DEPTH: Range = Range::new("groove depth", "mm", 2.0, 14.0);
/// Share of a solid plate that a laminated or lightened bar keeps.
pub const CONSTRUCTION_SHARE: Range = Range::new("construction share", "", 0.3, 1.0);
/// A bar's mass off the scale.
pub const BAR_MASS: Range = Range::new("weighed mass", "kg", 0.1, 8.0);
/// Drive links in a loop.
pub const DRIVE_LINKS: Range = Range::new("drive-link count", "", 16.0, 260.0);
/// Mass of chain for each drive link.
pub const LINK_MASS: Range = Range::new("mass per drive link", "g", 1.0, 20.0);
/// Height of the cutters above the rivet line.
pub const CUTTER_HEIGHT: Range = Range::new("cutter height", "mm", 1.0, 20.0);
/// Height of the rivet line above the bar rail.
pub const RAIL_TO_RIVET: Range = Range::new("rail to rivet line", "mm", 0.0, 12.0);
/// Fill of a tank, 0 for empty and 1 for full.
pub const FILL: Range = Range::new("fill", "", 0.0, 1.0);
/// Mass of a fitted extra.
pub const EXTRA_MASS: Range = Range::new("extra mass", "kg", 0.0, 5.0);
/// Overall length of a made-up bar.
pub const MADE_UP_LENGTH: Range = Range::new("bar length", "mm", 200.0, 1100.0);
/// Pitch angle at which the saw is held, nose up positive.
pub const HELD_PITCH: Range = Range::new("held pitch", "°", -60.0, 60.0);
/// A limit on the hang angle, nose down positive.
pub const HANG_LIMIT: Range = Range::new("hang limit", "°", 0.0, 60.0);
/// Weight of a whole saw on a scale.
pub const TOTAL_READING: Range = Range::new("weight", "kg", 2.0, 25.0);
/// Weight at one grip with the other on a support.
pub const GRIP_READING: Range = Range::new("weight at the grip", "kg", 0.0, 25.0);
/// Weight of a loop of chain.
pub const LOOP_MASS: Range = Range::new("weight of the loop", "kg", 0.05, 3.0);
/// A hang angle that was read, nose down positive.
pub const HANG_READING: Range = Range::new("hang angle", "°", -80.0, 85.0);
/// Where a saw balances, past the spike line.
pub const BALANCE_READING: Range = Range::new("balance point", "mm", -500.0, 800.0);
/// A reach that was read.
pub const REACH_READING: Range = Range::new("reach", "mm", 50.0, 1500.0);
/// Period of a swing from the front grip.
pub const PERIOD_READING: Range = Range::new("period", "s", 0.3, 5.0);
/// Standard uncertainty of a weight.
pub const WEIGHT_UNCERTAINTY: Range = Range::new("uncertainty", "kg", 0.0005, 2.0);
/// Standard uncertainty of the mass for each drive link.
pub const LINK_UNCERTAINTY: Range = Range::new("uncertainty", "g", 0.001, 5.0);
/// Standard uncertainty of a length.
pub const LENGTH_UNCERTAINTY: Range = Range::new("uncertainty", "mm", 0.05, 200.0);
/// Standard uncertainty of an angle.
pub const ANGLE_UNCERTAINTY: Range = Range::new("uncertainty", "°", 0.01, 20.0);
/// Standard uncertainty of a period.
pub const TIME_UNCERTAINTY: Range = Range::new("uncertainty", "s", 0.0005, 1.0);
/// A threshold of what suits what, in the unit of its check.
pub const THRESHOLD: Range = Range::new("threshold", "", 0.0, 1000.0);
/// Fuel for the work of an engine.
pub const FUEL_FOR_WORK: Range = Range::new("fuel for work", "g/kWh", 100.0, 2000.0);
/// Fuel of an idling engine.
pub const IDLE_FUEL: Range = Range::new("fuel at idle", "mL/min", 0.0, 50.0);
/// How often a diameter is cut.
pub const CUTS: Range = Range::new("number of cuts", "", 1.0, 1_000_000.0);
/// A share of the cuts.
pub const SHARE_OF_CUTS: Range = Range::new("share of the cuts", "", 0.0, 1.0);
/// A correlation coefficient.
pub const CORRELATION: Range = Range::new("correlation", "", -1.0, 1.0);
/// A side of a photograph.
pub const PICTURE_SIDE: Range = Range::new("side of the photograph", "px", 16.0, 30_000.0);
/// A mark on a photograph, which may stand a little outside it.
pub const PIXEL: Range = Range::new("mark", "px", -3000.0, 33_000.0);
/// Distance of a camera from the bar's plane.
pub const CAMERA_DISTANCE: Range = Range::new("camera distance", "mm", 200.0, 20_000.0);
/// Standard uncertainty of that.
pub const CAMERA_UNCERTAINTY: Range = Range::new("uncertainty", "mm", 0.0, 2000.0);
/// How far grips lie behind the bar's plane, seen from the camera.
pub const GRIPS_BEHIND: Range = Range::new("grips behind the bar", "mm", -300.0, 300.0);
/// Standard uncertainty of a mark.
pub const MARKING: Range = Range::new("uncertainty of a mark", "px", 0.1, 100.0);
/// A known distance or side of a sheet in a photograph.
pub const KNOWN_LENGTH: Range = Range::new("known length", "mm", 20.0, 2000.0);
