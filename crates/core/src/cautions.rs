//! What every screen and sheet that shows the nose or a cut says beside it.

/// The first caution, alone where there is room for one line only.
pub const KICKBACK_CAUTION: &str = "A longer bar does not reduce kickback: it brings more energy.";

/// What stands beside a figure of kickback that is smaller for one setup than for another.
pub const NO_LESS_DANGER: &str = "Below × 1 is not less danger: a longer bar turns more slowly only because more of it turns, \
    and what is left of the smaller one maims as well.";

/// The cautions in full, in the order in which they are shown.
pub const CAUTIONS: [&str; 7] = [
    "Two hands, left thumb wrapped round the front handle.",
    "Chain brake tested before work.",
    "Know where the nose is; where it is out of sight, keep the left arm straight.",
    "Not above shoulder height, out of the plane of the bar, bystanders two tree lengths from felling.",
    "Helmet, eyes, ears, leg protection, boots, gloves.",
    "These figures compare setups; they rate nothing.",
    "The maker's manual, local rules and a qualified trainer come first.",
];
