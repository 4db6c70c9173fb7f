//! The first start: its three steps and its three questions.

use super::glass::{Glass, css};
use super::parts::{ShiftTimes, field, pick, picked};

/// The first start.
#[derive(Clone, Debug)]
pub struct FirstStart(pub(super) Glass);

impl FirstStart {
    /// Has a backup or a shift in a file.
    pub async fn from_a_file(&self) {
        self.0.tap("I have a backup", css("a.to-records")).await;
    }

    /// Waits until it says that what records the answers has not come.
    pub async fn see_not_all_here(&self) {
        let at = css("main.first > p.wrong[role=alert]");
        self.0
            .see("what is missing", at, "nothing is recorded")
            .await;
    }

    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0
            .see(
                "the first start",
                css("main.first .first-title"),
                "Three questions",
            )
            .await;
    }

    /// Waits until this step is shown, by its number and by what its sentence says.
    pub async fn see_step(&self, step: usize, sentence: &str) {
        let shown = format!("{step} of 3");
        let awaited = format!("step {step} is shown");
        self.0
            .read_once(&awaited, css(".steps-shown"), |it| {
                it.contains(&shown) && it.contains(sentence)
            })
            .await;
    }

    /// Goes on to the next step.
    pub async fn next_step(&self) {
        self.0.tap("Next", css("button.steps-next")).await;
    }

    /// Goes back to the step before.
    pub async fn step_before(&self) {
        self.0.tap("Back", css("button.steps-back")).await;
    }

    /// Has no time for steps.
    pub async fn to_the_questions(&self) {
        self.0
            .tap("To the questions", css("button.to-questions"))
            .await;
    }

    /// Waits until the focus is on the heading of the questions, so that it is read out and in sight.
    pub async fn see_focus_on_the_questions(&self) {
        self.0
            .see_some("the heading of the questions", css(".first-title:focus"))
            .await;
    }

    /// Goes to how the app is put on the home screen.
    pub async fn to_install(&self) {
        self.0
            .tap(
                "How to put it on the home screen",
                css(".steps a.to-install"),
            )
            .await;
    }

    /// Goes to the words of the trade.
    pub async fn to_words(&self) {
        self.0.tap("Words of the trade", css("a.to-terms")).await;
    }

    /// Picks the units: "Metres, °C", "Feet, °F".
    pub async fn units(&self, units: &str) {
        pick(&self.0, "Units", units).await;
    }

    /// The units picked.
    pub async fn units_picked(&self) -> String {
        picked(&self.0, "Units").await
    }

    /// Picks a usual board: "12 ft (3.66 m)".
    pub async fn board(&self, board: &str) {
        pick(&self.0, "How long is the moldboard?", board).await;
    }

    /// The board picked.
    pub async fn board_picked(&self) -> String {
        picked(&self.0, "How long is the moldboard?").await
    }

    /// Types the length of another board in metres.
    pub async fn another_board(&self, metres: &str) {
        self.board("Another length").await;
        self.0
            .type_over("the length of the board", field("Length in metres"), metres)
            .await;
    }

    /// What stands in the field for another board.
    pub async fn another_board_typed(&self) -> String {
        self.0
            .value("the length of the board", field("Length in metres"))
            .await
    }

    /// The times of the usual shift.
    pub fn usual_shift(&self) -> ShiftTimes {
        ShiftTimes(self.0.clone())
    }

    /// Says that all is answered.
    pub async fn ready(&self) {
        self.0
            .tap("Ready to work", css("main.first .main-action"))
            .await;
    }

    /// Waits until it is said, below the board, what is wrong with it.
    pub async fn see_wrong(&self, sentence: &str) {
        self.0
            .see(
                "what is wrong with the board",
                css("main.first .wrong"),
                sentence,
            )
            .await;
    }

    /// Answers all three as most would, and goes on: metres, a board of 12 ft, seven to half past three.
    pub async fn answer_as_most_do(&self) {
        self.see().await;
        self.units("Metres, °C").await;
        self.board("12 ft (3.66 m)").await;
        self.usual_shift()
            .see("07:00", "15:30", "same day", "30 min", "11:00")
            .await;
        self.ready().await;
    }
}
