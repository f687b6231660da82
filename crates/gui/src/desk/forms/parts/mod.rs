//! The form of a part while it is being filled in: its fields, what is typed, what is proposed, what is wrong.

mod built;
mod draft;
mod field;
mod fields_bar;
mod fields_chain;
mod fields_powerhead;
mod fields_setup;
mod new_yard;
mod shown;
mod state;
mod unit;

pub use built::Built;
pub use draft::Draft;
pub use field::{Field, Section, Value, fields, option_text, options, set_text, text};
pub use new_yard::{NEW_YARD_FIELDS, NewYard};
pub use shown::PartShown;
pub use state::{PartsState, Picked};
pub use unit::FieldUnit;
