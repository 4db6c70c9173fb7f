//! The usual shift as a form: when it starts and ends, and the break.

use evenrow_journal::event::{ShiftPlan, TimeOfDay, UsualShift};
use evenrow_rules::quantity::{Instant, Span};
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use crate::device::clock;
use crate::parts::choice::Choice;
use crate::parts::live::{Reads, drawn, when};
use crate::parts::stepper::StepNames;
use crate::parts::time_field::{TimeField, TimeNames};
use crate::phone::Phone;
use crate::words::Words;

/// The breaks offered, in minutes; none is none.
const REST_MINUTES: [u16; 4] = [0, 30, 45, 60];

/// What has been tapped in so far, in minutes after midnight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ShiftForm {
    /// When it starts.
    pub start: u16,
    /// When it ends.
    pub end: u16,
    /// Whether that is on the next day.
    pub next_day: bool,
    /// When the break starts.
    pub rest: u16,
    /// How long it is.
    pub rest_minutes: u16,
}

impl Default for ShiftForm {
    /// Seven to half past three with half an hour at eleven: a house default to begin with.
    fn default() -> ShiftForm {
        ShiftForm {
            start: 7 * 60,
            end: 15 * 60 + 30,
            next_day: false,
            rest: 11 * 60,
            rest_minutes: 30,
        }
    }
}

impl ShiftForm {
    /// The form that shows a usual shift.
    pub fn of(usual: &UsualShift) -> ShiftForm {
        let (rest, rest_minutes) = usual
            .rest
            .map_or((11 * 60, 0), |(start, length)| (start.minutes(), length));
        ShiftForm {
            start: usual.start.minutes(),
            end: usual.end.minutes(),
            next_day: usual.end <= usual.start,
            rest,
            rest_minutes,
        }
    }

    /// The usual shift that the form says.
    pub fn usual(&self) -> UsualShift {
        let rest = (TimeOfDay::from_minutes(self.rest), self.rest_minutes);
        UsualShift {
            start: TimeOfDay::from_minutes(self.start),
            end: TimeOfDay::from_minutes(self.end),
            rest: (0 < self.rest_minutes).then_some(rest),
        }
    }

    /// The plan that the form says, for a shift that starts on the day of `day`. It may be an impossible one.
    pub fn plan(&self, day: Instant) -> ShiftPlan {
        let start = clock::on_day(day, 0, TimeOfDay::from_minutes(self.start));
        let end = clock::on_day(
            day,
            i32::from(self.next_day),
            TimeOfDay::from_minutes(self.end),
        );
        // A break earlier in the day than the start lies after midnight.
        let rest_day = i32::from(self.rest < self.start);
        let rest = clock::on_day(day, rest_day, TimeOfDay::from_minutes(self.rest));
        let rest = Span::new(
            rest,
            rest.plus(core::time::Duration::from_mins(u64::from(
                self.rest_minutes,
            ))),
        );
        let breaks = if self.rest_minutes == 0 {
            Vec::new()
        } else {
            vec![rest]
        };
        ShiftPlan { start, end, breaks }
    }
}

/// The names of the two buttons beside a value.
pub fn step_names(words: &Words, label: &str) -> StepNames {
    StepNames {
        less: words.step_less(label),
        more: words.step_more(label),
    }
}

/// The form.
#[component]
pub fn ShiftFields(
    /// What needs no record.
    phone: Phone,
    /// What has been tapped in so far.
    form: RwSignal<ShiftForm>,
    /// It was changed.
    on_change: Callback<()>,
) -> impl IntoView {
    let words = phone.words;
    let change = move |change: &dyn Fn(&mut ShiftForm)| {
        form.update(|form| change(form));
        on_change.run(());
    };
    let time = move |label: String, read: fn(&ShiftForm) -> u16, write: fn(&mut ShiftForm, u16)| {
        view! {
            <TimeField
                names=TimeNames { steps: step_names(words, &label), not_a_time: words.not_a_time() }
                label=label
                value=Reads::of(move || TimeOfDay::from_minutes(form.with(read)))
                on_change=Callback::new(move |time: TimeOfDay| change(&|form| write(form, time.minutes())))
            />
        }
    };
    // The field must not be drawn anew with every change of the form, half typed as it may be.
    let has_rest = move || 0 < form.with(|form| form.rest_minutes);
    let rest_options = REST_MINUTES
        .iter()
        .map(|minutes| {
            if *minutes == 0 {
                words.rest_none()
            } else {
                words.minutes(&minutes.to_string())
            }
        })
        .collect();
    let rest_chosen =
        move || form.with(|form| REST_MINUTES.iter().position(|&it| it == form.rest_minutes));
    let pick_rest = move |at: usize| {
        let minutes = REST_MINUTES.get(at).copied().unwrap_or(0);
        change(&|form| form.rest_minutes = minutes);
    };
    drawn(view! {
        {time(words.shift_start(), |form| form.start, |form, minutes| form.start = minutes)}
        {time(words.shift_end(), |form| form.end, |form, minutes| form.end = minutes)}
        <Choice
            label=words.shift_end_day()
            options=vec![words.same_day(), words.next_day()]
            chosen=Reads::of(move || Some(usize::from(form.with(|form| form.next_day))))
            on_pick=Callback::new(move |at: usize| change(&|form| form.next_day = at == 1))
        />
        <Choice
            label=words.rest_length()
            options=rest_options
            chosen=Reads::of(rest_chosen)
            on_pick=Callback::new(pick_rest)
        />
        {when(has_rest, move || {
            time(words.rest_start(), |form| form.rest, |form, minutes| form.rest = minutes).into_any()
        })}
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_usual_shift_comes_back_from_its_form_by_day_and_by_night() {
        let time = TimeOfDay::from_minutes;
        for usual in [
            UsualShift {
                start: time(420),
                end: time(930),
                rest: Some((time(660), 30)),
            },
            UsualShift {
                start: time(1320),
                end: time(360),
                rest: None,
            },
        ] {
            assert_eq!(ShiftForm::of(&usual).usual(), usual);
        }
        let night = UsualShift {
            start: time(1320),
            end: time(360),
            rest: None,
        };
        assert!(ShiftForm::of(&night).next_day);
    }
}
