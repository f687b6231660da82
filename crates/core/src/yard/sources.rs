//! Where each number comes from that a reading is taken to be sure by.

use super::reading::{KITCHEN_SCALE_KG, LUGGAGE_SCALE_KG, PHONE_RAD, TAPE_M, TEN_SWINGS_S};
use crate::assumption::{Assumption, Size, practice};

/// How sure a reading is that says nothing of it: one standard deviation of a common tool.
pub const READING_ASSUMPTIONS: [Assumption; 5] = [
    practice("± of a luggage scale", Size::Mass(LUGGAGE_SCALE_KG)),
    practice("± of a kitchen scale", Size::Mass(KITCHEN_SCALE_KG)),
    practice("± of the angle a phone shows", Size::Angle(PHONE_RAD)),
    practice("± of a tape or an edge", Size::Length(TAPE_M)),
    practice("± of a swing timed over ten", Size::Time(TEN_SWINGS_S)),
];
