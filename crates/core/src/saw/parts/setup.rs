//! A setup: head, bar, chain and fluids that go together, its loop closed within the tensioner's travel.

use super::{Bar, Chain, Nose, Powerhead, same_gauge, same_pitch};
use crate::geometry::Point;
use crate::ranges;
use crate::saw::loop_path::{LoopError, LoopPath, loop_length};
use crate::saw::mass::MassPart;
use crate::saw::nose::NoseZone;
use crate::units::{Length, Mass};
use std::fmt;
use std::sync::Arc;

/// A loop may be this far past the tensioner's ends and still count as closed: a rounding of the file's mm.
const CLOSE_TOLERANCE_M: f64 = 1e-9;

/// A saw as it is put together. A setup that exists has agreeing pitches and gauges and a loop that closes.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    name: String,
    powerhead: Arc<Powerhead>,
    bar: Arc<Bar>,
    chain: Arc<Chain>,
    links: Links,
    path: LoopPath,
    fuel_fill: f64,
    oil_fill: f64,
    extras: Vec<Extra>,
}

/// How many drive links the loop has.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Links {
    /// A loop that can be made.
    Whole(u32),
    /// A made-up bar drawn where the person put its nose: the exact count that reaches there, and the whole
    /// count to order, which the tensioner takes up.
    MadeUp {
        /// Links, not a whole number, that place the nose as drawn.
        exact: f64,
        /// The loop to order; `None` where the tensioner's travel is shorter than a link's step and no whole
        /// count closes at this length.
        order: Option<u32>,
    },
}

impl Links {
    /// The count that the figures are computed with.
    pub fn exact(self) -> f64 {
        match self {
            Self::Whole(count) => f64::from(count),
            Self::MadeUp { exact, .. } => exact,
        }
    }

    /// The whole count to order, where one closes.
    pub const fn order(self) -> Option<u32> {
        match self {
            Self::Whole(count) => Some(count),
            Self::MadeUp { order, .. } => order,
        }
    }
}

/// A fitted extra as a point mass.
#[derive(Clone, Debug, PartialEq)]
pub struct Extra {
    /// What it is.
    pub name: String,
    /// Mass and place.
    pub part: MassPart,
}

/// Why parts do not go together.
#[derive(Clone, Debug, PartialEq)]
pub enum SetupError {
    /// Head and bar have different mounts.
    Mount {
        /// The head's mount.
        head: String,
        /// The bar's mount.
        bar: String,
    },
    /// The chain's pitch is not the sprocket's.
    SprocketPitch {
        /// The chain's pitch.
        chain: Length,
        /// The sprocket's pitch.
        sprocket: Length,
    },
    /// The chain's pitch is not the bar nose's.
    NosePitch {
        /// The chain's pitch.
        chain: Length,
        /// The nose sprocket's pitch.
        nose: Length,
    },
    /// The chain's gauge is not the bar groove's.
    Gauge {
        /// The chain's gauge.
        chain: Length,
        /// The bar's gauge.
        bar: Length,
    },
    /// The loop does not close within the tensioner's travel.
    Links {
        /// The count that was asked for.
        count: u32,
        /// The counts that would close, in order; may be empty.
        would_close: Vec<u32>,
    },
    /// A fill outside 0 to 1.
    Fill {
        /// Which tank.
        tank: &'static str,
        /// Its fill.
        fill: f64,
    },
    /// No loop at all lies round this sprocket and nose.
    Loop(LoopError),
}

impl SetupError {
    /// The field of a setup's mirror that is to blame.
    pub(crate) const fn field(&self) -> &'static str {
        match self {
            Self::Mount { .. } => "bar",
            Self::SprocketPitch { .. } | Self::NosePitch { .. } | Self::Gauge { .. } => "chain",
            Self::Links { .. } | Self::Loop(_) => "drive_links",
            Self::Fill { tank, .. } => match tank.as_bytes() {
                b"fuel" => "fuel_fill",
                _ => "oil_fill",
            },
        }
    }
}

impl fmt::Display for SetupError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mount { head, bar } => {
                write!(f, "the bar's mount `{bar}` does not go on the head's mount `{head}`")
            }
            Self::SprocketPitch { chain, sprocket } => write!(
                f,
                "the chain's pitch {:.3} in does not run on the sprocket's {:.3} in",
                chain.as_in(),
                sprocket.as_in()
            ),
            Self::NosePitch { chain, nose } => write!(
                f,
                "the chain's pitch {:.3} in does not run on the bar nose's {:.3} in",
                chain.as_in(),
                nose.as_in()
            ),
            Self::Gauge { chain, bar } => write!(
                f,
                "the chain's gauge {:.1} mm does not run in the bar's groove of {:.1} mm",
                chain.as_mm(),
                bar.as_mm()
            ),
            Self::Links { count, would_close } => {
                write!(f, "a loop of {count} drive links does not close within the tensioner's travel: ")?;
                match would_close.as_slice() {
                    [] => write!(f, "no count does on this head"),
                    [one] => write!(f, "{one} would"),
                    [first, .., last] => write!(f, "{first} to {last} would"),
                }
            }
            Self::Fill { tank, fill } => write!(f, "{tank} fill {fill} is outside 0…1"),
            Self::Loop(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for SetupError {}

/// Every whole count of links whose loop closes on this head and bar within the tensioner's travel.
pub fn loop_counts_that_close(powerhead: &Powerhead, bar: &Bar, chain: &Chain) -> Vec<u32> {
    let (back, out) = bar.nose_centre_span(powerhead.stud(), powerhead.tensioner_travel());
    let links_at = |distance: Length| {
        LoopPath::with_centre_distance(powerhead.sprocket_radius(), nose_radius(bar, chain), distance)
            .map(|path| path.length() / (chain.pitch() * 2.0))
    };
    let slack = CLOSE_TOLERANCE_M / chain.pitch().as_m();
    let (Some(fewest), Some(most)) = (links_at(back), links_at(out)) else {
        return Vec::new();
    };
    whole_between(fewest - slack, most + slack)
}

fn whole_between(low: f64, high: f64) -> Vec<u32> {
    let (range, links) = (&ranges::DRIVE_LINKS, low.ceil().max(ranges::DRIVE_LINKS.min));
    let mut counts = Vec::new();
    let mut count = links;
    while count <= high && count <= range.max {
        // In range by the loop's own condition, so the cast is exact.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a whole number within DRIVE_LINKS"
        )]
        counts.push(count as u32);
        count += 1.0;
    }
    counts
}

/// Radius of the chain's rivet line round a bar's nose.
fn nose_radius(bar: &Bar, chain: &Chain) -> Length {
    bar.nose_radius() + chain.rail_to_rivet()
}

/// What goes into a setup beside the three parts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fittings {
    /// Fuel, 0 empty to 1 full.
    pub fuel_fill: f64,
    /// Bar oil, 0 empty to 1 full.
    pub oil_fill: f64,
    /// Fitted extras.
    pub extras: Vec<Extra>,
}

impl Setup {
    /// Puts parts together. `drive_links` of `None` takes the bar's marked count, or the nearest count that
    /// closes on this head.
    ///
    /// # Errors
    /// The first thing that does not agree: mount, pitch, gauge, fills, or a loop that does not close.
    pub fn new(
        name: impl Into<String>,
        powerhead: Arc<Powerhead>,
        bar: Arc<Bar>,
        chain: Arc<Chain>,
        drive_links: Option<u32>,
        fittings: Fittings,
    ) -> Result<Self, SetupError> {
        agree(&powerhead, &bar, &chain)?;
        let closing = loop_counts_that_close(&powerhead, &bar, &chain);
        let marked = bar.marked_drive_links();
        let count = match drive_links {
            Some(count) => count,
            None => closing.iter().copied().min_by_key(|count| count.abs_diff(marked)).unwrap_or(marked),
        };
        if !closing.contains(&count) {
            return Err(SetupError::Links { count, would_close: closing });
        }
        let length = loop_length(chain.pitch(), f64::from(count));
        let path = LoopPath::with_length(powerhead.sprocket_radius(), nose_radius(&bar, &chain), length)
            .map_err(SetupError::Loop)?;
        let path =
            path.with_nose_moved(bar.nose_place()).ok_or(SetupError::Loop(LoopError::DidNotConverge))?;
        Self::assembled(name.into(), powerhead, bar, chain, Links::Whole(count), path, fittings)
    }

    /// A made-up bar with its nose centre exactly at `centre_distance`.
    pub(crate) fn with_nose_at(like: &Self, bar: Bar, centre_distance: Length) -> Result<Self, SetupError> {
        let (powerhead, chain) = (Arc::clone(&like.powerhead), Arc::clone(&like.chain));
        let radius = nose_radius(&bar, &chain);
        let shortest =
            Length::from_m(2.0 * std::f64::consts::PI * radius.max(powerhead.sprocket_radius()).as_m());
        let path = LoopPath::with_centre_distance(powerhead.sprocket_radius(), radius, centre_distance)
            .ok_or(SetupError::Loop(LoopError::TooShort { length: centre_distance * 2.0, shortest }))?;
        // Links of a new chain: what this one is stretched by are no links.
        let new = path.with_nose_moved(-bar.nose_place()).unwrap_or(path);
        let exact = new.length() / (chain.pitch() * 2.0);
        let order = loop_counts_that_close(&powerhead, &bar, &chain)
            .into_iter()
            .min_by(|a, b| (f64::from(*a) - exact).abs().total_cmp(&(f64::from(*b) - exact).abs()));
        let fittings =
            Fittings { fuel_fill: like.fuel_fill, oil_fill: like.oil_fill, extras: like.extras.clone() };
        let name = bar.name().to_owned();
        Self::assembled(name, powerhead, Arc::new(bar), chain, Links::MadeUp { exact, order }, path, fittings)
    }

    fn assembled(
        name: String,
        powerhead: Arc<Powerhead>,
        bar: Arc<Bar>,
        chain: Arc<Chain>,
        links: Links,
        path: LoopPath,
        fittings: Fittings,
    ) -> Result<Self, SetupError> {
        for (tank, fill) in [("fuel", fittings.fuel_fill), ("oil", fittings.oil_fill)] {
            if !ranges::FILL.holds(fill) {
                return Err(SetupError::Fill { tank, fill });
            }
        }
        let Fittings { fuel_fill, oil_fill, extras } = fittings;
        Ok(Self { name, powerhead, bar, chain, links, path, fuel_fill, oil_fill, extras })
    }

    /// The same saw with other fills, 0 empty to 1 full.
    ///
    /// # Errors
    /// [`SetupError::Fill`] outside that.
    pub fn with_fills(&self, fuel_fill: f64, oil_fill: f64) -> Result<Self, SetupError> {
        let Self { name, powerhead, bar, chain, links, path, extras, .. } = self.clone();
        Self::assembled(name, powerhead, bar, chain, links, path, Fittings { fuel_fill, oil_fill, extras })
    }

    /// The same head, chain and fittings with another bar of the rack, at the count that closes.
    ///
    /// # Errors
    /// Where the bar does not go with the head and chain.
    pub fn with_bar(&self, bar: Arc<Bar>) -> Result<Self, SetupError> {
        let (powerhead, chain) = (Arc::clone(&self.powerhead), Arc::clone(&self.chain));
        let name = bar.name().to_owned();
        Self::new(name, powerhead, bar, chain, None, self.fittings())
    }

    /// What is fitted and filled beside the three parts.
    pub fn fittings(&self) -> Fittings {
        Fittings { fuel_fill: self.fuel_fill, oil_fill: self.oil_fill, extras: self.extras.clone() }
    }

    /// Name of the setup.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The powerhead.
    pub const fn powerhead(&self) -> &Arc<Powerhead> {
        &self.powerhead
    }

    /// The guide bar.
    pub const fn bar(&self) -> &Arc<Bar> {
        &self.bar
    }

    /// The chain's type.
    pub const fn chain(&self) -> &Arc<Chain> {
        &self.chain
    }

    /// Drive links of the loop.
    pub const fn links(&self) -> Links {
        self.links
    }

    /// The chain's path.
    pub const fn path(&self) -> &LoopPath {
        &self.path
    }

    /// Fuel, 0 empty to 1 full.
    pub const fn fuel_fill(&self) -> f64 {
        self.fuel_fill
    }

    /// Bar oil, 0 empty to 1 full.
    pub const fn oil_fill(&self) -> f64 {
        self.oil_fill
    }

    /// Fitted extras.
    pub fn extras(&self) -> &[Extra] {
        &self.extras
    }

    /// How far the tensioner stands out from fully back, m.
    pub fn tensioner_out(&self) -> Length {
        let (back, _) = self.bar.nose_centre_span(self.powerhead.stud(), self.powerhead.tensioner_travel());
        self.path.centre_distance() - back
    }

    /// Centre of the nose circle in the saw frame, m.
    pub fn nose_centre(&self) -> Point {
        Point::new(self.path.centre_distance().as_m(), 0.0)
    }

    /// The longest bar that the head is meant for, where this one is marked longer.
    pub fn beyond_longest_bar(&self) -> Option<Length> {
        // What is stamped in inches comes back with a last digit of rounding.
        let rounding = Length::from_mm(1e-6);
        self.powerhead.longest_bar().filter(|longest| self.bar.marked_length() > *longest + rounding)
    }

    /// The nose circle out to the cutters, saw frame.
    pub fn nose_zone(&self) -> NoseZone {
        NoseZone { centre: self.nose_centre(), radius: self.path.nose_radius() + self.chain.cutter_height() }
    }

    /// From the spikes to the end of the nose's cutters.
    pub fn reach(&self) -> Length {
        self.nose_zone().tip_x() - self.powerhead.spike_line()
    }

    /// Mass of the whole loop.
    pub fn chain_mass(&self) -> Mass {
        self.chain.link_mass() * self.links.exact()
    }
}

/// The cross-checks between head, bar and chain.
fn agree(powerhead: &Powerhead, bar: &Bar, chain: &Chain) -> Result<(), SetupError> {
    if powerhead.mount() != bar.mount() {
        return Err(SetupError::Mount { head: powerhead.mount().to_owned(), bar: bar.mount().to_owned() });
    }
    let sprocket = powerhead.sprocket().pitch;
    if !same_pitch(chain.pitch(), sprocket) {
        return Err(SetupError::SprocketPitch { chain: chain.pitch(), sprocket });
    }
    if let Nose::Sprocket(nose) = bar.nose()
        && !same_pitch(chain.pitch(), nose)
    {
        return Err(SetupError::NosePitch { chain: chain.pitch(), nose });
    }
    if !same_gauge(chain.gauge(), bar.gauge()) {
        return Err(SetupError::Gauge { chain: chain.gauge(), bar: bar.gauge() });
    }
    Ok(())
}
