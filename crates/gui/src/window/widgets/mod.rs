//! Controls that a stock toolkit does not have.

mod at_right;
mod figure_row;
mod gesture;
mod handle;
mod long;
mod measure_field;
mod panes;
mod pick_list;
mod rail;
mod scrolled;

pub use at_right::{at_right, width_at_right};
pub use figure_row::{Sense, caption, change_row, figure_row};
pub use gesture::gesture_of;
pub use handle::{Handle, Moved, Scale, Steps};
pub use long::{long_label, middle_label, middle_of, whole};
pub use measure_field::{MeasureField, focus_to_type_over, is_refused};
pub use panes::{go_to_main_pane, go_to_pane, main_pane, pane};
pub use pick_list::{Choice, pick_list};
pub use rail::with_rail;
pub use scrolled::{scrolled, scrolled_under};
