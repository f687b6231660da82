//! Where each number comes from that a part is begun with.

use super::blank::{GAUGES_MM, PITCH_IN, POWER_KW, STAMP_IN, TEETH, WIDE_FROM_IN};
use super::{DOUBT_MARK, PROPOSED_MARK};
use super::{bar, chain, doubt, powerhead};
use crate::assumption::{Assumption, Size, guess, known, practice};
use crate::saw::OIL_PER_FUEL_MARK;
use crate::units::Length;

const fn proposed(what: &'static str, size: Size) -> Assumption {
    known(what, size, PROPOSED_MARK)
}

const fn plain(what: &'static str, times: f64) -> Assumption {
    proposed(what, Size::In(times, ""))
}

const fn doubted(what: &'static str, size: Size) -> Assumption {
    known(what, size, DOUBT_MARK)
}

const fn mm(mm: f64) -> Size {
    Size::Length(Length::from_mm(mm).as_m())
}

const fn inches(inches: f64) -> Size {
    Size::Length(Length::from_in(inches).as_m())
}

/// Everything that a proposed value is made of, and how far off it may be.
pub const PROPOSED_ASSUMPTIONS: [Assumption; 56] = [
    guess("power of a head that nobody has read", Size::In(POWER_KW, "kW")),
    guess("teeth of its sprocket", Size::Count(TEETH)),
    guess("pitch of its chain", inches(PITCH_IN)),
    guess("marked length of a bar that nobody has read", inches(STAMP_IN)),
    practice("gauge of narrow chains", mm(GAUGES_MM.0)),
    practice("gauge of wide chains", mm(GAUGES_MM.1)),
    practice("wide chains from a pitch of", inches(WIDE_FROM_IN)),
    practice("power for the size of an engine", Size::In(powerhead::POWER_KW_PER_CM3, "kW/cm³")),
    proposed("dry mass to begin with", Size::Mass(powerhead::MASS_KG.0)),
    proposed("and for each kilowatt", Size::Mass(powerhead::MASS_KG.1)),
    proposed(
        "lengths, grips and tanks of a head, by the cube root of its mass, from a head of",
        Size::Mass(powerhead::MASS_OF_MODEL_KG),
    ),
    proposed("radius of gyration of that head", mm(powerhead::GYRATION_OF_MODEL_MM)),
    proposed("engine speed of full power", Size::In(powerhead::POWER_RPM, "1/min")),
    proposed("engine speed at which a pump is stated", Size::In(powerhead::PUMP_RPM, "1/min")),
    proposed("density of the fuel", Size::In(powerhead::FUEL_KG_PER_L, "kg/L")),
    proposed("density of the oil", Size::In(powerhead::OIL_KG_PER_L, "kg/L")),
    proposed("fuel tank for the mass of a head", Size::In(powerhead::FUEL_L_PER_KG, "L/kg")),
    known("oil for each volume of fuel", Size::In(powerhead::OIL_TO_FUEL, ""), OIL_PER_FUEL_MARK),
    plain("an oil tank holds of that", powerhead::OIL_TO_SPARE),
    proposed("fuel at full power, for each kilowatt", Size::In(powerhead::FUEL_ML_PER_MIN_KW, "mL/min")),
    proposed("teeth of a nose sprocket", Size::Count(bar::NOSE_TEETH)),
    proposed("a plate is longer than its mark by", mm(bar::OVER_THE_STAMP_MM)),
    plain("width of a tail over that of the nose", bar::TAIL_SHARE),
    proposed(
        "width of a body over that of the nose, more by 1 mm for each inch of the mark",
        mm(bar::BODY_LESS_NOSE_MM),
    ),
    plain("thickness of a plate over its gauge", bar::THICKNESS_OVER_GAUGE),
    plain("depth of the groove over the pitch", bar::GROOVE_OVER_PITCH),
    proposed("a laminated plate keeps of a solid one", Size::Share(bar::LAMINATED_SHARE)),
    proposed("a lightened plate keeps of a solid one", Size::Share(bar::LIGHTENED_SHARE)),
    proposed("mass of a drive link over pitch squared and gauge", Size::In(chain::LINK_MASS_G_MM3, "g/mm³")),
    proposed("a semi-skip chain weighs of a full one", Size::Share(chain::SEMI_SKIP_SHARE)),
    proposed("a full-skip chain weighs of a full one", Size::Share(chain::FULL_SKIP_SHARE)),
    plain("height of a cutter over the pitch", chain::CUTTER_OVER_PITCH),
    plain("rivets above the rail over the pitch", chain::RIVET_OVER_PITCH),
    doubted("± of a dry mass by the power", Size::Share(doubt::MASS_AT_POWER)),
    doubted("± of it more where the power is not read either", Size::Share(doubt::POWER_UNREAD)),
    doubted("± of it more where the power follows from the engine's size", Size::Share(doubt::POWER_BY_SIZE)),
    doubted("± of lengths, share of the mass's", Size::Share(doubt::LENGTH_BY_MASS)),
    doubted("± of a proposed centre of gravity", Size::Length(doubt::CENTROID_M)),
    doubted("± of a proposed spike line", Size::Length(doubt::SPIKE_LINE_M)),
    doubted("± of a proposed place of a grip", Size::Length(doubt::GRIP_M)),
    doubted("± of what a proposed tank holds", Size::Share(doubt::FLUID)),
    doubted("± of a proposed place of a tank", Size::Length(doubt::TANK_M)),
    doubted("± of a proposed radius of gyration", Size::Share(doubt::GYRATION)),
    doubted("± of a proposed link's mass", Size::Share(doubt::LINK)),
    doubted("± of it more where pitch or gauge is not read", Size::Share(doubt::LINK_UNREAD)),
    doubted("± of a plate by its outline", Size::Share(doubt::PLATE)),
    doubted("± of it more for a proposed length", Size::Share(doubt::PLATE_LENGTH)),
    doubted("± of it more for a proposed width", Size::Share(doubt::PLATE_WIDTH)),
    doubted("± of it more for a proposed thickness", Size::Share(doubt::PLATE_THICKNESS)),
    doubted("± of it more for a proposed construction", Size::Share(doubt::PLATE_SHARE)),
    doubted("± of a nose by the stretch of its chain, share of half the loop", Size::Share(doubt::STRETCH)),
    doubted("± of a proposed count of links, links", Size::In(doubt::LINKS_SCATTER, "")),
    doubted("± of a nose by a proposed tooth, pitches", Size::In(doubt::TEETH, "")),
    doubted("± of a proposed radius of a nose", Size::Share(doubt::NOSE_RADIUS)),
    doubted("± of proposed rivets above the rail", Size::Length(doubt::RIVETS_M)),
    doubted("± of a proposed height of a cutter", Size::Length(doubt::CUTTERS_M)),
];
