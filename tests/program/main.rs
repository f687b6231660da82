//! The program from outside: the window, drawings as they come out, the command line, what is packed. One file and one
//! line here for each thing checked: all of them make one program, so that the toolkit is linked once.

mod command_line;
mod corpus_replay;
mod packaging;
mod panic_keeps_work;
mod pictures;
mod readme;
mod window;
