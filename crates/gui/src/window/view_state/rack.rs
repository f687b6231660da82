//! How a person looks at the rack: what the table is sorted by and shows, which chart is open, what is being typed.

/// A column of the table that it can be sorted by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
pub enum RackColumn {
    /// The order of the choice.
    #[default]
    Order,
    /// Done in one setting.
    OneSetting,
    /// Done from where one may stand.
    Done,
    /// Load in the front hand.
    FrontHand,
    /// Hang angle.
    Hang,
    /// Weight ready to work.
    Weight,
    /// Time with the nose out among branches.
    #[serde(alias = "HiddenNose")]
    TangleTime,
    /// How far the nose is out there.
    NoseOut,
    /// What holding takes of the arms.
    #[serde(alias = "HandWork")]
    Effort,
    /// Lifts to the bark.
    Lifts,
    /// Reach past the spikes.
    Reach,
    /// Time.
    Time,
    /// Fuel.
    Fuel,
    /// Bar oil.
    Oil,
    /// How head, bar and chain suit each other.
    Suits,
}

/// What stands under the table where there is no room for both.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum RackDrawing {
    /// The setups on a chart.
    #[default]
    Chart,
    /// Two of them over each other.
    Laid,
}

/// What stands beside the table where there is no room for both.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum RackColumnShown {
    /// The choice and what is wanted.
    #[default]
    Wanted,
    /// The wood.
    Wood,
}

/// What the rack remembers of how it is seen.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(default)]
pub struct RackView {
    /// What the table is sorted by.
    pub sort: RackColumn,
    /// The other way round.
    pub backwards: bool,
    /// Every column is shown, not the four that matter most.
    pub all_columns: bool,
    /// What stands under the table in a small window.
    pub drawing: RackDrawing,
    /// What stands beside it.
    pub column: RackColumnShown,
    /// Place of the measure across the chart among those that a limit can be put on.
    pub across: usize,
    /// Only setups with this in their name.
    #[serde(skip)]
    pub filter: String,
    /// Only setups of this head.
    #[serde(skip)]
    pub head: Option<String>,
    /// Place of the diameter that is picked on the histogram.
    #[serde(skip)]
    pub diameter: Option<usize>,
    /// Diameters as they were pasted, and why they were refused.
    #[serde(skip)]
    pub pasted: Pasted,
    /// The diameter to be added.
    #[serde(skip)]
    pub new_diameter: String,
}

/// The paste field.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pasted {
    /// What was pasted.
    pub text: String,
    /// It is a table; a list otherwise.
    pub is_table: bool,
    /// The column of diameters, by name or by its place from 1.
    pub diameters: String,
    /// The column of counts; empty where each row is one cut.
    pub counts: String,
    /// Each line that is not understood.
    pub faults: Vec<String>,
}
