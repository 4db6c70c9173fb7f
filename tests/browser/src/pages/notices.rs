//! What is said at the foot of any screen: what was kept and can be undone, and why something was refused.

use super::glass::{Glass, css, xpath};

fn question_text() -> thirtyfour::By {
    css(".notice-question .notice-text")
}

/// The notices.
#[derive(Clone, Debug)]
pub struct Notices(pub(super) Glass);

impl Notices {
    /// Waits until it says that this was kept; it can be undone while that stands there.
    pub async fn see_kept(&self, what: &str) {
        let at = css(".notice:not(.notice-trouble) .notice-text");
        self.0.see("the notice", at, &format!("Kept: {what}")).await;
    }

    /// Waits until it says this, which is no trouble.
    pub async fn see_told(&self, sentence: &str) {
        let at = css(".notice:not(.notice-trouble) .notice-text");
        self.0.see("the notice", at, sentence).await;
    }

    /// Waits until it warns of this, which stays until it is no longer so.
    pub async fn see_warning(&self, sentence: &str) {
        let at = css(".notices-warning");
        self.0.see("the warning", at, sentence).await;
    }

    /// Undoes what was kept last.
    pub async fn undo(&self) {
        let at = css(".notice:not(.notice-trouble) .notice-action");
        self.0.tap("Undo", at).await;
    }

    /// Waits until there is nothing to undo.
    pub async fn see_nothing_to_undo(&self) {
        self.0
            .see_none("the undo bar", css(".notice:not(.notice-trouble)"))
            .await;
    }

    /// Waits until it says why something was refused.
    pub async fn see_trouble(&self, sentence: &str) {
        self.0
            .see(
                "why it was refused",
                css(".notice-trouble .notice-text"),
                sentence,
            )
            .await;
    }

    /// Tries once more what was not kept.
    pub async fn try_again(&self) {
        self.0
            .tap("Try again", css(".notice-trouble .notice-action"))
            .await;
    }

    /// Says that the reason was understood.
    pub async fn understood(&self) {
        self.0
            .tap("Understood", css(".notice-trouble .notice-action"))
            .await;
        self.0.see_none("the refusal", css(".notice-trouble")).await;
    }

    /// Waits until it asks about the clock.
    pub async fn see_question(&self, question: &str) {
        self.0.see("the question", question_text(), question).await;
    }

    /// Answers the question about the clock: the new time is right, and the shift moves with it.
    pub async fn new_time_is_right(&self) {
        self.answer("The new one: move this shift with it").await;
    }

    /// Answers the question about the clock: the old time is right.
    pub async fn old_time_is_right(&self) {
        self.answer("The old one: leave this shift as it is").await;
    }

    /// Waits until nothing is asked.
    pub async fn see_no_question(&self) {
        self.0.see_none("the question", question_text()).await;
    }

    async fn answer(&self, answer: &str) {
        let at = xpath(format!(
            "//div[contains(@class, 'notice-question')]/button[normalize-space()='{answer}']"
        ));
        self.0.tap(answer, at).await;
        self.see_no_question().await;
    }

    /// Waits until it says that a newer version waits.
    pub async fn see_update(&self) {
        let at = css(".notice:not(.notice-trouble) .notice-text");
        self.0
            .see("the notice", at, "A newer version of the app is ready.")
            .await;
    }

    /// Takes the newer version.
    pub async fn take_the_update(&self) {
        let at = xpath("//div[contains(@class, 'notice')]/button[normalize-space()='Take it now']");
        self.0.tap("Take it now", at).await;
    }
}
