//! Knowledge: facts about the toothed edge go in, advice comes out.
//!
//! No clock, no storage, no randomness and no sentence for the operator lives here. Answers are numbers and closed
//! enums; each carries the reasons that decided it, and each reason carries its basis. The app finds the words.
//!
//! Modules in reading order, from the bricks to the advice built of them.
#![no_std]

extern crate alloc;

pub mod angle; // the only file that knows radians
pub mod checklist; // what is gone through before and after a shift
pub mod machine; // moldboard, plates, and the row of teeth that fits
pub mod oiling; // when the sockets fall due, and what has become of each due time
pub mod quantity; // lengths, temperatures, instants: numbers that know their unit and range
pub mod setup; // the set-up sheet, one file per rule
pub mod source; // the bibliography, and what a statement may rest on
pub mod work; // the kinds of work, and what has to be asked about each
