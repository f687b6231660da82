//! The window and the command line of Barpoise.
//!
//! `document` owns the yard and its figures; `views` read them and hand back `edit`s; `scene` and `drawing`
//! make the pictures; `theme` and `format` are the only places for colours and for numbers as text.

pub mod app;
mod app_teach;
pub mod cli;
pub mod commands;
pub mod cut_words;
pub mod document;
pub mod drawing;
pub mod edit;
pub mod figures_table;
mod files;
pub mod format;
pub mod handout;
pub mod lesson;
pub mod output;
pub mod parts_form;
pub mod picture;
pub mod rack_view;
pub mod rack_words;
pub mod recovery;
pub mod scene;
pub mod theme;
pub mod today;
pub mod view_state;
pub mod views;
pub mod weigh_in_entry;
pub mod weigh_in_words;
pub mod widgets;
pub mod window;
