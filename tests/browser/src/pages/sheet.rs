//! The questions and the sheet of a work.

use super::glass::{Glass, css, quoted, without, xpath};
use super::parts;

/// The sheet.
#[derive(Clone, Debug)]
pub struct Sheet(pub(super) Glass);

/// Why a line says what it says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reason {
    /// The reason.
    pub text: String,
    /// What it rests on.
    pub basis: String,
}

impl Sheet {
    /// Waits until the sheet of this work is shown.
    pub async fn see(&self, work: &str) {
        self.0.see("the sheet", css("main h1"), work).await;
        self.0.see_some("the verdict", css(".verdict")).await;
    }

    /// The questions asked, in order.
    pub async fn questions(&self) -> Vec<String> {
        let at = css(".questions .choice-label, .questions .stepper-label");
        self.0.read_all("the questions", at).await
    }

    /// Waits until this is asked.
    pub async fn see_question(&self, question: &str) {
        let at = css(".questions .choice-label, .questions .stepper-label");
        let awaited = format!("the question {question:?} is asked");
        self.0
            .read_all_once(&awaited, at, |asked| asked.iter().any(|it| it == question))
            .await;
    }

    /// Answers a question by one of its answers.
    pub async fn answer(&self, question: &str, answer: &str) {
        parts::pick(&self.0, question, answer).await;
    }

    /// The answer picked to a question.
    pub async fn answered(&self, question: &str) -> String {
        parts::picked(&self.0, question).await
    }

    /// Raises a number by so many taps; the first tap gives the first value.
    pub async fn raise(&self, question: &str, taps: usize) {
        parts::raise(&self.0, question, taps).await;
    }

    /// Lowers a number by so many taps.
    pub async fn lower(&self, question: &str, taps: usize) {
        parts::lower(&self.0, question, taps).await;
    }

    /// Waits until a number is shown so.
    pub async fn see_number(&self, question: &str, shown: &str) {
        parts::see_number(&self.0, question, shown).await;
    }

    /// Takes the answer to a number question back.
    pub async fn forget(&self, question: &str) {
        let at = xpath(format!(
            "//div[contains(@class, 'ask-number')][div[@aria-label={}]]//button[contains(@class, 'choice-option')]",
            quoted(question)
        ));
        self.0.tap("I don’t know", at).await;
    }

    /// Waits until the verdict is this: suits, with-care, do-not; and says this.
    pub async fn see_verdict(&self, verdict: &str, words: &str) {
        let at = css(format!(".verdict[data-verdict={verdict}] .verdict-head"));
        self.0.see("the verdict", at, words).await;
    }

    /// Opens the verdict and reads its reasons.
    pub async fn reasons_of_the_verdict(&self) -> Vec<Reason> {
        self.open_and_read("the verdict", "//details[contains(@class, 'verdict')]")
            .await
    }

    /// Waits until a line says this.
    pub async fn see_line(&self, line: &str, value: &str) {
        self.0
            .see(&format!("the line {line:?}"), value_of(line), value)
            .await;
    }

    /// Opens a line and reads its reasons.
    pub async fn reasons_of(&self, line: &str) -> Vec<Reason> {
        self.open_and_read(&format!("the line {line:?}"), &details(line))
            .await
    }

    /// Opens a line and goes where it leads.
    pub async fn follow(&self, line: &str) {
        let leads = xpath(format!(
            "{}//a[contains(@class, 'sheet-line-link')]",
            details(line)
        ));
        self.reasons_of(line).await;
        self.0.tap(&format!("the link of {line:?}"), leads).await;
    }

    /// The cautions that stand open.
    pub async fn cautions(&self) -> Vec<String> {
        self.0
            .read_all("the cautions", css("main > .cautions > li"))
            .await
    }

    /// Uses it for this shift.
    pub async fn use_it(&self) {
        self.0
            .tap("Use for this shift", css("button.use-setup"))
            .await;
    }

    /// Whether it can be used for this shift.
    pub async fn can_be_used(&self) -> bool {
        0 < self
            .0
            .count("the button that uses the sheet", css("button.use-setup"))
            .await
    }

    async fn open_and_read(&self, what: &str, details: &str) -> Vec<Reason> {
        // A line that stands open stays open when an answer changes the sheet.
        self.0.unfold(what, xpath(details)).await;
        let reasons = xpath(format!("{details}[@open]//li"));
        let bases = xpath(format!("{details}[@open]//li/small"));
        let awaited = format!("the reasons of {what}");
        let texts = self
            .0
            .read_all_once(&awaited, reasons, |texts| {
                !texts.is_empty() && texts.iter().all(|it| !it.is_empty())
            })
            .await;
        let bases = self.0.read_all("the bases", bases).await;
        texts
            .iter()
            .zip(&bases)
            .map(|(text, basis)| Reason {
                text: without(text, basis),
                basis: basis.clone(),
            })
            .collect()
    }
}

fn details(line: &str) -> String {
    format!(
        "//details[contains(@class, 'sheet-line')][summary//span[contains(@class, 'sheet-line-what')][normalize-space()={}]]",
        quoted(line)
    )
}

fn value_of(line: &str) -> thirtyfour::By {
    xpath(format!(
        "{}//span[contains(@class, 'sheet-line-value')]",
        details(line)
    ))
}
