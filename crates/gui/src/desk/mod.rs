//! What lies on the desk whoever looks at it: the yard in hand, its edits and history, what is said of things and how, what
//! is typed, the lesson being given, work kept safe. No window, no toolkit.

pub mod cautioned;
pub mod document;
pub mod edit;
pub mod figures_table;
pub mod format;
pub mod forms;
pub mod lesson;
pub mod page_size;
pub mod recovery;
pub mod sources;
pub mod today;
pub mod words;
