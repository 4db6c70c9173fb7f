//! One file a screen. A screen reads what is known, finds the words, hands both to parts, and turns what parts call back
//! into commands.
//!
//! Never here: what the trade advises (`evenrow_rules`), what may be recorded (`evenrow_journal`), browser calls.

pub mod angle; // the cutting angle on the steel
mod board; // the length of the moldboard, by preset or typed
pub mod book; // the shifts so far
pub mod books; // the books over time, prices and cost
pub mod checks; // the opening and the closing checklist
pub mod crossfall; // how far the road falls to its side
pub mod district; // the invented district: in, out, and what it leaves out
pub mod erase; // the end of all records on this phone
pub mod first; // the three questions of the first start
pub mod grading; // the grading angle by tape
pub mod install; // how the app comes onto the home screen
mod languages; // in which language the app speaks
mod laying; // the phone laid somewhere and read once it lies still
mod line; // the shift line's view of a shift
pub mod load; // what each tooth gets of the force on the edge
pub mod look; // some teeth do not turn: how many
pub mod machine; // the machine and this phone
pub mod marks; // marks on the frame
pub mod measure; // a quick pass over every nth tooth
pub mod note; // a note
pub mod pictures; // the edge at work, in pictures
pub mod plan; // the day's plan
pub mod records; // backup, files taken in, what things take up
pub mod reminders; // what this phone does when it is locked, and its calendar
pub mod report; // the report of a shift
pub mod row; // the mounted set, tooth by tooth
mod row_answers; // what the row tells
pub mod row_plates; // on which plate a tooth stands
pub mod season; // the season plan
pub mod section; // a section of the day's plan
pub mod sets; // sets on machines and in store
pub mod setup; // the choice of work
pub mod sheet; // the questions and the sheet of a work
pub mod shift; // the shift that runs
pub mod sources; // every number and what it rests on
pub mod start; // the start of a shift
mod steps; // what the app is for, at the first start
pub mod stock; // the spares
pub mod tables; // the records as tables for a spreadsheet
mod tape_field; // a length typed off a tape
mod target; // what a measurement is compared with
pub mod terms; // the words of the trade
mod units; // in which units numbers are shown
mod usual; // the usual shift, as a form
pub mod version; // the version, what is new, the licences
