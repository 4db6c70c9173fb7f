//! The parts that several screens are made of: choices, steppers, fields, and the times of a shift.

use thirtyfour::By;

use super::glass::{Glass, css, quoted, xpath};

/// Picks an answer to a question.
pub async fn pick(glass: &Glass, question: &str, answer: &str) {
    glass
        .tap(
            &format!("{answer:?} to {question:?}"),
            option(question, answer),
        )
        .await;
    glass
        .attributes_once(
            &format!("{answer:?} is the answer to {question:?}"),
            option(question, answer),
            "aria-pressed",
            |pressed| pressed == ["true"],
        )
        .await;
}

/// The answer that is picked to a question, once there is one.
pub async fn picked(glass: &Glass, question: &str) -> String {
    let path = format!(
        "//fieldset[legend[normalize-space()={}]]//button[@aria-pressed='true']",
        quoted(question)
    );
    glass
        .read(&format!("an answer to {question:?}"), xpath(path))
        .await
}

fn option(question: &str, answer: &str) -> By {
    xpath(format!(
        "//fieldset[legend[normalize-space()={}]]//button[normalize-space()={}]",
        quoted(question),
        quoted(answer)
    ))
}

/// Taps the button that raises a number, so many times.
pub async fn raise(glass: &Glass, label: &str, times: usize) {
    let more = css(format!(
        ".stepper[aria-label={}] .stepper-more",
        quoted(label)
    ));
    glass
        .tap_times(&format!("more of {label:?}"), more, times)
        .await;
}

/// Taps the button that lowers a number, so many times.
pub async fn lower(glass: &Glass, label: &str, times: usize) {
    let less = css(format!(
        ".stepper[aria-label={}] .stepper-less",
        quoted(label)
    ));
    glass
        .tap_times(&format!("less of {label:?}"), less, times)
        .await;
}

/// Waits until a number is shown so.
pub async fn see_number(glass: &Glass, label: &str, shown: &str) {
    glass.see(&format!("{label:?}"), number(label), shown).await;
}

fn number(label: &str) -> By {
    css(format!(
        ".stepper[aria-label={}] output.stepper-value",
        quoted(label)
    ))
}

/// The field with a label.
pub fn field(label: &str) -> By {
    xpath(format!(
        "//label[span[normalize-space()={}]]//*[contains(@class, 'field-input')]",
        quoted(label)
    ))
}

/// The times of a shift, on the three screens that ask for them.
#[derive(Clone, Debug)]
pub struct ShiftTimes(pub(super) Glass);

impl ShiftTimes {
    /// Types when it starts.
    pub async fn start_at(&self, time: &str) {
        self.type_time("Starts", time).await;
    }

    /// Types when it ends.
    pub async fn end_at(&self, time: &str) {
        self.type_time("Ends", time).await;
    }

    /// Types when the break starts.
    pub async fn break_at(&self, time: &str) {
        self.type_time("Break starts", time).await;
    }

    /// Moves the start by quarters of an hour.
    pub async fn start_later_by_quarters(&self, quarters: usize) {
        raise(&self.0, "Starts", quarters).await;
    }

    /// Moves the end back by quarters of an hour.
    pub async fn end_earlier_by_quarters(&self, quarters: usize) {
        lower(&self.0, "Ends", quarters).await;
    }

    /// Says on which day it ends: "same day", "next day".
    pub async fn ends(&self, day: &str) {
        pick(&self.0, "It ends", day).await;
    }

    /// Says how long the break is: "None", "30 min".
    pub async fn break_is(&self, length: &str) {
        pick(&self.0, "Break", length).await;
    }

    /// Waits until these are the times: start, end, the day of the end, break and its start.
    pub async fn see(&self, start: &str, end: &str, day: &str, rest: &str, rest_start: &str) {
        self.0
            .see_value("the start of the shift", time("Starts"), start)
            .await;
        self.0
            .see_value("the end of the shift", time("Ends"), end)
            .await;
        self.0
            .see_value("the start of the break", time("Break starts"), rest_start)
            .await;
        let picked = (
            picked(&self.0, "It ends").await,
            picked(&self.0, "Break").await,
        );
        assert_eq!((picked.0.as_str(), picked.1.as_str()), (day, rest));
    }

    /// Waits until it is said, below the end, what is wrong with it.
    pub async fn see_wrong_end(&self, sentence: &str) {
        let at =
            xpath("//div[contains(@class, 'time-field')][@aria-label='Ends']//p[@role='alert']");
        self.0.see("what is wrong with the end", at, sentence).await;
    }

    async fn type_time(&self, label: &str, text: &str) {
        self.0.type_over(label, time(label), text).await;
        self.0.leave(label, time(label)).await;
        self.0.see_value(label, time(label), text).await;
    }
}

fn time(label: &str) -> By {
    css(format!(".time-field input[aria-label={}]", quoted(label)))
}
