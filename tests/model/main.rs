//! The model checked against figures and code from outside, and its files against faults. One file and one line here for
//! each thing checked: all of them make one program, so that the libraries are linked once.

mod assumed;
mod assumptions;
mod bad_lessons;
mod bad_yards;
mod balance_oracles;
mod bench_readings;
mod closeness;
mod coarse;
mod corpus;
mod drive;
mod kill_while_saving;
mod layers;
mod least_squares;
mod log_plans;
mod log_section;
mod loop_oracle;
mod own_saw;
mod person;
mod photograph;
mod polygon_oracles;
mod published_figures;
mod rack;
mod rack_choice;
mod rack_exposure;
mod refusals;
mod setup_laws;
mod sureness;
mod weigh_in;
