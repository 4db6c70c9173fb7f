//! Knowledge: facts about the toothed edge go in, advice comes out.
//!
//! No clock, no storage, no randomness and no sentence for the operator lives here. Answers are numbers and closed
//! enums; each carries the reasons that decided it, and each reason carries its basis. The app finds the words.
//!
//! Each module says beside its name what it is for; `quantity`, `angle` and `source` are the bricks of all others.
#![no_std]

extern crate alloc;

pub mod angle; // the only file that knows radians
pub mod checklist; // what is gone through before and after a shift
pub mod cold; // which grade of fuel oil still flows
pub mod cost; // what the edge costs per hour, kilometre and square metre
pub mod crossfall; // how far the road falls to its side, and how far it should
pub mod day; // the day's plan: sections of road, when each is done, and the day's own pace
pub mod finish; // the tracks across the road, and the ridge between them
pub mod line; // a straight line by least squares, and how far it can be trusted
pub mod load; // the down-force at the edge, and what one tooth gets of it
pub mod machine; // moldboard, plates, and the row of teeth that fits
pub mod marks; // the angles by tape, and marks on the frame
pub mod oiling; // when the sockets fall due, and what has become of each due time
pub mod plan; // passes, hours, and when the work is done
pub mod proportion; // how often something was seen among how many, and whether two shares differ
pub mod quantity; // lengths, temperatures, instants: numbers that know their unit and range
pub mod season; // hours, sets to order, and by when
pub mod setup; // the set-up sheet, one file per rule
pub mod source; // the bibliography, and what a statement may rest on
pub mod spares; // which spare fits where, how many to carry, when to order
pub mod statistics; // quantiles, counts to expect, a slope that wild readings cannot move
pub mod tilt; // the cutting angle from the phone's sense of gravity
pub mod wear; // how fast the tips wear, how long the set lasts, how even the row is
pub mod work; // the kinds of work, and what has to be asked about each
