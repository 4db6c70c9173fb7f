//! What screens are made of: values in, callbacks out. One name, three places: `parts/shift_line.rs`,
//! `style/parts/shift-line.css`, class `shift-line`.
//!
//! Never here: the desk, the state, global context, words of their own.

pub mod alarm; // what rings, over the whole screen
pub mod asks; // words that somebody may not know, each a link
pub mod bars; // numbers side by side, with how well they are known
pub mod choice; // one of a few answers
pub mod cross_section; // what the teeth leave, across the road
pub mod drawn; // one of our own drawings
pub mod field; // something typed, with its sentence when it is wrong
pub mod frame_strip; // the strip with the marks for the frame, on paper
pub mod icon; // our own icons
pub mod life_bar; // how long a set lasts
pub mod live; // what follows the values that it reads
pub mod load_row; // a row on the board with what presses on it
pub mod news; // what is new
pub mod next_job; // the one large card with the one large button
pub mod notice; // something to be said, with one thing to do about it
pub mod phone_laid; // how the phone is to be laid
pub mod plain; // a sentence, a button, a link
pub mod readiness; // what this phone can and cannot do
pub mod row_profile; // how even the row is
pub mod row_strip; // the plates on the board
pub mod section_card; // a section of the day's plan
pub mod sheet_line; // a line of the sheet that opens to its reasons
pub mod shift_line; // the day from start to end
pub mod side_view; // the cutting angle, seen along the moldboard
pub mod steadiness; // whether the phone lies still
pub mod stepper; // a number by taps
pub mod tab_bar; // the tabs
pub mod terms; // terms, each with what it means
pub mod tick; // something on a checklist
pub mod time_field; // a time of day, by taps or typed
pub mod toe_heel; // how far the heel lies behind the toe
pub mod tooth_grid; // the teeth of a plate
pub mod top_view; // the grading angle and the tracks, seen from above
pub mod turning_chart; // how the teeth turned, shift by shift
pub mod whole_row; // the whole row on one line
