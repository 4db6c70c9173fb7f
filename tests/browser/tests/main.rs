//! The stories, in one program: so all of them share the turns of two browsers, and no file has to wait for the last story of
//! the one before. Each file opens with what it tells of.

mod bad_input;
mod book;
mod closed;
mod days_plan;
mod engines;
mod every_screen;
mod first_minutes;
mod frame_marks;
mod from_outside;
mod hardened;
mod invented_district;
mod languages;
mod look_and_reach;
mod many_shifts;
mod model;
mod never_dead;
mod nothing_is_lost;
mod offline;
mod on_the_steel;
mod pictures;
mod records;
mod reminders;
mod row;
mod soak;
mod sources;
mod summer_shift;
mod units;
mod winter_shift;
