//! From marks to numbers of a head, each with its uncertainty.
//!
//! Every number is a function of all that is not known exactly: each coordinate of each mark, the lens's distance and bend,
//! the known length, how squarely the camera looked, how far behind the bar's plane a landmark lies. Its uncertainty is
//! that of the first order: the root of the sum of squares of what one standard uncertainty of each would change.

use super::assumed::{self, Depth};
use super::view::{Picture, View};
use crate::geometry::{Point, Polygon, Vector};
use crate::record::{Landmark, OutlineFile, PhotographFile, PointFile, PowerheadFile, SquareUpFile};

/// A number of a head as a photograph gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    /// Its path in the head.
    pub path: &'static str,
    /// Its value, mm.
    pub value_mm: f64,
    /// Its standard uncertainty, mm.
    pub uncertainty_mm: f64,
}

/// A corner of the body's outline in the saw frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// Where it is.
    pub at: PointFile,
    /// Standard uncertainty along the bar and up, mm.
    pub uncertainty: Vector,
}

/// What a photograph says of a head.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Measured {
    /// Numbers, in the order of the marks.
    pub numbers: Vec<Number>,
    /// The outline of the body; none where it is not marked.
    pub outline: Vec<Corner>,
    /// Millimetres in the bar's plane that a pixel at the sprocket covers.
    pub mm_per_px: f64,
}

/// What is missing before there are numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Missing {
    /// This landmark is not marked, or not whole.
    Marks(Landmark),
    /// The marks that square the view up lie so that no camera sees them like this.
    View,
}

/// Works out what a photograph says.
///
/// # Errors
/// What is missing first: the view squared up, the sprocket and the bar's line make the saw's frame; any other landmark that
/// is whole gives its numbers.
pub fn measure(photograph: &PhotographFile) -> Result<Measured, Missing> {
    for landmark in Landmark::ALL.into_iter().filter(|landmark| makes_frame(*landmark)) {
        let whole = landmark.counts().contains(&photograph.marks_of(landmark).len());
        if landmark.is_asked(&photograph.square_up) && !whole {
            return Err(Missing::Marks(landmark));
        }
    }
    let unsure = Unsure::of(photograph);
    let view = unsure.view().ok_or(Missing::View)?;
    let values = unsure.values(&view).ok_or(Missing::View)?;
    let squares = squares_of_changes(&unsure, &view, values.len()).ok_or(Missing::View)?;
    let paths = paths(&unsure);
    let uncertainty = |place: usize| squares.get(place).copied().unwrap_or_default().sqrt();
    let numbers = paths.iter().zip(&values).enumerate().map(|(place, (path, value))| Number {
        path,
        value_mm: *value,
        uncertainty_mm: uncertainty(place),
    });
    let corners = values.get(paths.len()..).unwrap_or_default().chunks_exact(2).enumerate();
    let outline = corners.filter_map(|(corner, at)| {
        let place = paths.len() + 2 * corner;
        let &[x_mm, y_mm] = at else { return None };
        let uncertainty = Vector::new(uncertainty(place), uncertainty(place + 1));
        Some(Corner { at: PointFile { x_mm, y_mm }, uncertainty })
    });
    let sprocket = unsure.marks_of(Landmark::Sprocket).first().copied().ok_or(Missing::View)?;
    Ok(Measured {
        mm_per_px: view.mm_per_px(unsure.straight(sprocket)).ok_or(Missing::View)?,
        outline: outline.collect(),
        numbers: numbers.collect(),
    })
}

const fn makes_frame(landmark: Landmark) -> bool {
    matches!(
        landmark,
        Landmark::KnownPoints | Landmark::SheetCorners | Landmark::Sprocket | Landmark::BarLine
    )
}

impl Measured {
    /// Puts the outline into a head, to a tenth of a millimetre; without one, the head keeps what it has.
    pub fn put_outline(&self, head: &mut PowerheadFile) {
        if !self.outline.is_empty() {
            let corners = self
                .outline
                .iter()
                .map(|corner| PointFile { x_mm: tenth(corner.at.x_mm), y_mm: tenth(corner.at.y_mm) });
            head.outline = OutlineFile::Corners(corners.collect());
        }
    }
}

/// To a tenth of a millimetre: finer than any of these marks.
pub fn tenth(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}

/// All that is not known exactly.
#[derive(Clone, Debug)]
struct Unsure {
    picture: Picture,
    square_up: SquareUpFile,
    distance_mm: f64,
    bend: f64,
    tilt: Vector,
    marks: Vec<Marked>,
    marking_px: f64,
    distance_uncertainty_mm: f64,
}

/// A landmark that is marked whole.
#[derive(Clone, Debug)]
struct Marked {
    of: Landmark,
    at: Vec<Point>,
    depth: Depth,
}

/// One of those.
#[derive(Clone, Copy, Debug)]
enum What {
    Distance,
    Bend,
    /// The known distance, or the sheet's long side.
    Long,
    /// The sheet's short side.
    Short,
    TiltX,
    TiltY,
    /// How far behind the plane the marks in this place of the list lie.
    Behind(usize),
    X(usize, usize),
    Y(usize, usize),
}

impl Unsure {
    fn of(photograph: &PhotographFile) -> Self {
        let grips = Depth {
            behind_mm: photograph.grips_behind_mm,
            uncertainty_mm: photograph.grips_behind_uncertainty_mm,
        };
        let whole = |landmark: &Landmark| {
            landmark.is_asked(&photograph.square_up)
                && landmark.counts().contains(&photograph.marks_of(*landmark).len())
        };
        let marks = Landmark::ALL.into_iter().filter(whole).map(|of| Marked {
            of,
            at: photograph.marks_of(of).iter().map(|at| Point::new(at.x_px, at.y_px)).collect(),
            depth: assumed::depth(of, grips),
        });
        Self {
            picture: Picture {
                width_px: f64::from(photograph.width_px),
                height_px: f64::from(photograph.height_px),
            },
            square_up: photograph.square_up,
            distance_mm: photograph.camera_distance_mm,
            bend: 0.0,
            tilt: Vector::zeros(),
            marks: marks.collect(),
            marking_px: photograph.marking_px.hypot(assumed::PIXEL),
            distance_uncertainty_mm: photograph.camera_distance_uncertainty_mm,
        }
    }

    fn marks_of(&self, landmark: Landmark) -> &[Point] {
        self.marks.iter().find(|marked| marked.of == landmark).map_or(&[], |marked| &marked.at)
    }

    fn straight(&self, point: Point) -> Point {
        self.picture.straight(point, self.bend)
    }

    fn view(&self) -> Option<View> {
        match self.square_up {
            SquareUpFile::Distance { apart_mm, .. } => {
                let &[a, b] = self.marks_of(Landmark::KnownPoints) else { return None };
                View::of_distance([self.straight(a), self.straight(b)], apart_mm, self.distance_mm, self.tilt)
            }
            SquareUpFile::Sheet { long_mm, short_mm } => {
                let &[a, b, c, d] = self.marks_of(Landmark::SheetCorners) else { return None };
                let first_is_long = (b - a).norm() + (d - c).norm() >= (c - b).norm() + (a - d).norm();
                let (x, y) = if first_is_long { (long_mm, short_mm) } else { (short_mm, long_mm) };
                let sheet = [(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)].map(|(x, y)| Point::new(x, y));
                let marked = [a, b, c, d].map(|corner| self.straight(corner));
                let pairs: Vec<_> = marked.into_iter().zip(sheet).collect();
                View::of_sheet(&pairs, self.distance_mm)
            }
        }
    }

    /// The points of a landmark in the bar's plane.
    fn placed(&self, view: &View, landmark: Landmark) -> Option<Vec<Point>> {
        let marked = self.marks.iter().filter(|marked| marked.of == landmark);
        marked
            .flat_map(|marked| marked.at.iter().map(|point| (point, marked.depth.behind_mm)))
            .map(|(point, behind_mm)| view.at(self.straight(*point), behind_mm))
            .collect()
    }

    /// Every number in the order of [`paths`], then the outline's coordinates.
    fn values(&self, view: &View) -> Option<Vec<f64>> {
        let frame = self.frame(view)?;
        let mut values = Vec::new();
        for landmark in Landmark::ALL.into_iter().filter(|landmark| !makes_frame(*landmark)) {
            let placed = self.placed(view, landmark)?;
            if placed.is_empty() {
                continue;
            }
            let points: Vec<Point> = placed.into_iter().map(|point| frame.at(point)).collect();
            match landmark {
                Landmark::SpikeTips => values.push(middle(&points)?.x),
                Landmark::FuelTank | Landmark::OilTank => values.extend(boxed(points)?),
                _ => values.extend(points.iter().flat_map(|point| [point.x, point.y])),
            }
        }
        Some(values)
    }

    /// The saw's frame in the bar's plane: from the sprocket along the bar, up to where the front grip is, or the rear one;
    /// with neither, up in the picture.
    fn frame(&self, view: &View) -> Option<Frame> {
        let sprocket = *self.placed(view, Landmark::Sprocket)?.first()?;
        let line = self.placed(view, Landmark::BarLine)?;
        let along = (line.last()? - line.first()?).try_normalize(f64::EPSILON)?;
        // The nose is where the line is, seen from the sprocket.
        let along = if along.dot(&(middle(&line)? - sprocket)) < 0.0 { -along } else { along };
        let across = Vector::new(-along.y, along.x);
        let grips = [Landmark::FrontGrip, Landmark::RearGrip].into_iter();
        let above = grips.filter_map(|grip| self.placed(view, grip)?.first().copied()).next();
        let above = match above {
            Some(grip) => grip,
            None => view.at(self.straight(*self.marks_of(Landmark::Sprocket).first()?) - Vector::y(), 0.0)?,
        };
        let up = if across.dot(&(above - sprocket)) < 0.0 { -across } else { across };
        Some(Frame { sprocket, along, up })
    }

    fn nudge(&mut self, what: What, by: f64) {
        match what {
            What::Distance => self.distance_mm += by,
            What::Bend => self.bend += by,
            What::Long => match &mut self.square_up {
                SquareUpFile::Distance { apart_mm: side, .. } | SquareUpFile::Sheet { long_mm: side, .. } => {
                    *side += by;
                }
            },
            What::Short => {
                if let SquareUpFile::Sheet { short_mm, .. } = &mut self.square_up {
                    *short_mm += by;
                }
            }
            What::TiltX => self.tilt.x += by,
            What::TiltY => self.tilt.y += by,
            What::Behind(place) => {
                if let Some(marked) = self.marks.get_mut(place) {
                    marked.depth.behind_mm += by;
                }
            }
            What::X(place, point) => {
                if let Some(point) = self.point_mut(place, point) {
                    point.x += by;
                }
            }
            What::Y(place, point) => {
                if let Some(point) = self.point_mut(place, point) {
                    point.y += by;
                }
            }
        }
    }

    fn point_mut(&mut self, place: usize, point: usize) -> Option<&mut Point> {
        self.marks.get_mut(place).and_then(|marked| marked.at.get_mut(point))
    }
}

impl Unsure {
    /// Everything with its standard uncertainty, in the unit of the thing.
    fn standard(&self) -> Vec<(What, f64)> {
        let mut all = vec![(What::Distance, self.distance_uncertainty_mm), (What::Bend, assumed::LENS_BEND)];
        match self.square_up {
            SquareUpFile::Distance { uncertainty_mm, .. } => all.extend([
                (What::Long, uncertainty_mm),
                (What::TiltX, assumed::TILT_RAD),
                (What::TiltY, assumed::TILT_RAD),
            ]),
            SquareUpFile::Sheet { .. } => {
                all.extend([(What::Long, assumed::SHEET_SIDE_MM), (What::Short, assumed::SHEET_SIDE_MM)]);
            }
        }
        for (place, marked) in self.marks.iter().enumerate() {
            all.push((What::Behind(place), marked.depth.uncertainty_mm));
            all.extend((0..marked.at.len()).flat_map(|point| {
                [(What::X(place, point), self.marking_px), (What::Y(place, point), self.marking_px)]
            }));
        }
        all
    }

    /// True where the view changes with it.
    fn moves_view(&self, what: What) -> bool {
        match what {
            What::Distance | What::Bend | What::Long | What::Short | What::TiltX | What::TiltY => true,
            What::Behind(_) => false,
            What::X(place, _) | What::Y(place, _) => self
                .marks
                .get(place)
                .is_some_and(|marked| matches!(marked.of, Landmark::KnownPoints | Landmark::SheetCorners)),
        }
    }

    fn values_with(&self, view: &View, what: What, by: f64) -> Option<Vec<f64>> {
        let mut nudged = self.clone();
        nudged.nudge(what, by);
        if self.moves_view(what) { nudged.values(&nudged.view()?) } else { nudged.values(view) }
    }
}

/// The sum of squares of what a standard uncertainty of each unsure thing changes in each number: half the difference of a
/// step up and a step down.
fn squares_of_changes(unsure: &Unsure, view: &View, count: usize) -> Option<Vec<f64>> {
    let mut squares = vec![0.0; count];
    for (what, standard) in unsure.standard().into_iter().filter(|(_, standard)| *standard > 0.0) {
        let (up, down) =
            (unsure.values_with(view, what, standard)?, unsure.values_with(view, what, -standard)?);
        for (sum, (up, down)) in squares.iter_mut().zip(up.into_iter().zip(down)) {
            *sum += (0.5 * (up - down)).powi(2);
        }
    }
    Some(squares)
}

/// The saw's frame in the bar's plane.
struct Frame {
    sprocket: Point,
    along: Vector,
    up: Vector,
}

impl Frame {
    fn at(&self, point: Point) -> Point {
        let from = point - self.sprocket;
        Point::new(self.along.dot(&from), self.up.dot(&from))
    }
}

fn middle(points: &[Point]) -> Option<Point> {
    let count = f64::from(u32::try_from(points.len()).ok()?);
    let sum: Vector = points.iter().map(|point| point.coords).sum();
    (count > 0.0).then(|| Point::from(sum / count))
}

/// The upright box with the area's own centre and its own spread along either axis: corner, width and height. An upright
/// rectangle gives itself.
fn boxed(points: Vec<Point>) -> Option<[f64; 4]> {
    let outline = Polygon::new(points);
    let properties = outline.properties()?;
    let middle = properties.centroid;
    let (mut along, mut up) = (0.0, 0.0);
    for (a, b) in outline.edges() {
        let (a, b) = (a - middle, b - middle);
        let cross = a.perp(&b) / 12.0;
        along += cross * (a.x * a.x + a.x * b.x + b.x * b.x);
        up += cross * (a.y * a.y + a.y * b.y + b.y * b.y);
    }
    // Of a rectangle, either spread is a twelfth of its side's square times its area.
    let side = |moment: f64| (12.0 * moment.abs() / properties.area_m2).sqrt();
    let (width, height) = (side(along), side(up));
    Some([middle.x - 0.5 * width, middle.y - 0.5 * height, width, height])
}

fn paths(unsure: &Unsure) -> Vec<&'static str> {
    let of = |landmark: Landmark| -> &'static [&'static str] {
        match landmark {
            Landmark::SpikeTips => &["spike_line_mm"],
            Landmark::FrontGrip => &["front_grip.x_mm", "front_grip.y_mm"],
            Landmark::RearGrip => &["rear_grip.x_mm", "rear_grip.y_mm"],
            Landmark::FuelTank => &[
                "fuel_tank.corner.x_mm",
                "fuel_tank.corner.y_mm",
                "fuel_tank.width_mm",
                "fuel_tank.height_mm",
            ],
            Landmark::OilTank => {
                &["oil_tank.corner.x_mm", "oil_tank.corner.y_mm", "oil_tank.width_mm", "oil_tank.height_mm"]
            }
            _ => &[],
        }
    };
    unsure.marks.iter().flat_map(|marked| of(marked.of)).copied().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn an_upright_rectangle_is_its_own_box_whichever_way_round() {
        let mut corners =
            [(10.0, 20.0), (110.0, 20.0), (110.0, 60.0), (10.0, 60.0)].map(|(x, y)| Point::new(x, y));
        for _ in 0..2 {
            let found = boxed(corners.to_vec()).unwrap();
            for (found, wanted) in found.into_iter().zip([10.0, 20.0, 100.0, 40.0]) {
                assert_relative_eq!(found, wanted, max_relative = 1e-12);
            }
            corners.reverse();
        }
        assert!(boxed(corners[..2].to_vec()).is_none());
    }
}
