//! The day's plan, and the form of a section.

use super::glass::{Glass, css, quoted, xpath};
use super::parts;

/// The plan.
#[derive(Clone, Debug)]
pub struct Plan(pub(super) Glass);

impl Plan {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0
            .see("the heading", css("main h1"), "The day’s plan")
            .await;
    }

    /// Goes there from Setup.
    pub async fn open(&self) {
        let link = xpath("//main//a[normalize-space()='The day’s plan']");
        self.0.tap("The day’s plan", link).await;
        self.see().await;
    }

    /// Goes to the form of a new section.
    pub async fn add(&self) {
        self.0.tap("Add a section", css("a.plan-add")).await;
        self.form().see_field("Name of the road", "").await;
    }

    /// Goes to the form again, which was left half filled.
    pub async fn add_again(&self) {
        self.0.tap("Add a section", css("a.plan-add")).await;
        self.0.see_some("the form", css(".section-form")).await;
    }

    /// The form of a section.
    pub fn form(&self) -> SectionForm {
        SectionForm(self.0.clone())
    }

    /// Waits until it says when all of it is done.
    pub async fn see_finish(&self, text: &str) {
        self.0.see("the finish", css(".plan-finish"), text).await;
    }

    /// Waits until it says what is planned, left, and at which pace.
    pub async fn see_state(&self, text: &str) {
        self.0
            .see("how the plan stands", css(".plan-state"), text)
            .await;
    }

    /// Waits until it names what does not fit.
    pub async fn see_not_today(&self, text: &str) {
        self.0
            .see("what does not fit", css(".plan-not-today"), text)
            .await;
    }

    /// Waits until everything fits.
    pub async fn see_all_fits(&self) {
        self.0
            .see_none("what does not fit", css(".plan-not-today:not([hidden])"))
            .await;
    }

    /// Waits until these sections stand there in this order, each by its number and name.
    pub async fn see_order(&self, titles: &[&str]) {
        self.0
            .read_all_once(
                &format!("the sections are {titles:?}"),
                css(".section-title"),
                |shown| shown == titles,
            )
            .await;
    }

    /// Waits until a section says this of its time.
    pub async fn see_when(&self, name: &str, text: &str) {
        let at = xpath(format!("{}//*[@class='section-when']", card(name)));
        self.0.see(&format!("the time of {name:?}"), at, text).await;
    }

    /// Waits until a section says this of the road and how it is worked.
    pub async fn see_facts(&self, name: &str, text: &str) {
        let at = xpath(format!("{}//*[@class='section-facts']", card(name)));
        self.0
            .see(&format!("the facts of {name:?}"), at, text)
            .await;
    }

    /// Ticks a section, or takes its tick back, and waits until that is kept.
    pub async fn tick(&self, name: &str, done: bool) {
        let at = xpath(format!("{}//button[@role='checkbox']", card(name)));
        self.0
            .tap(&format!("the tick of {name:?}"), at.clone())
            .await;
        let awaited = format!("{name:?} is ticked: {done}");
        self.0
            .attributes_once(&awaited, at, "aria-checked", |it| it == [done.to_string()])
            .await;
    }

    /// Taps the tick of a section, whatever comes of it.
    pub async fn try_to_tick(&self, name: &str) {
        let at = xpath(format!("{}//button[@role='checkbox']", card(name)));
        self.0.tap(&format!("the tick of {name:?}"), at).await;
    }

    /// Opens the changes of a section and picks one: "Change it", "Earlier", "Later", "Leave it out".
    pub async fn change(&self, name: &str, what: &str) {
        let changes = xpath(format!("{}//details", card(name)));
        self.0
            .unfold(&format!("the changes of {name:?}"), changes)
            .await;
        let button = xpath(format!(
            "{}//details[@open]//button[normalize-space()={}]",
            card(name),
            quoted(what)
        ));
        self.0.tap(what, button).await;
    }

    /// What the line says to those who cannot see it.
    pub async fn line_told(&self) -> String {
        self.0
            .attribute("the line of the day", css(".shift-line"), "aria-label")
            .await
    }

    /// Waits until the line shows sections that stand so: done, ahead, beyond.
    pub async fn see_line(&self, stages: &[&str]) {
        self.0
            .attributes_once(
                &format!("the line shows {stages:?}"),
                css(".shift-line-section"),
                "data-stage",
                |shown| shown == stages,
            )
            .await;
    }

    /// How many oilings and breaks the line shows.
    pub async fn drops_and_rests(&self) -> (usize, usize) {
        let drops = self.0.count("the drops", css(".shift-line-drop")).await;
        let rests = self.0.count("the breaks", css(".shift-line-rest")).await;
        (drops, rests)
    }
}

fn card(name: &str) -> String {
    let ends = format!(". {name}");
    format!(
        "//li[contains(@class, 'section-card')][.//strong[contains(., {})]]",
        quoted(&ends)
    )
}

/// The form of a section.
#[derive(Clone, Debug)]
pub struct SectionForm(pub(super) Glass);

impl SectionForm {
    /// Types into a field: "Name of the road", "Length in km", "Speed in km/h".
    pub async fn fill(&self, label: &str, text: &str) {
        self.0.type_over(label, parts::field(label), text).await;
        self.see_field(label, text).await;
    }

    /// Waits until this stands in a field.
    pub async fn see_field(&self, label: &str, text: &str) {
        self.0.see_value(label, parts::field(label), text).await;
    }

    /// Picks the work.
    pub async fn work(&self, work: &str) {
        self.0.unfold("the works", css(".section-work")).await;
        parts::pick(&self.0, "Which work?", work).await;
    }

    /// Raises a number by taps: "Passes", "Layers", "Minutes of work in an hour".
    pub async fn raise(&self, label: &str, taps: usize) {
        parts::raise(&self.0, label, taps).await;
    }

    /// Lowers a number by taps.
    pub async fn lower(&self, label: &str, taps: usize) {
        parts::lower(&self.0, label, taps).await;
    }

    /// Waits until a number is shown so.
    pub async fn see_number(&self, label: &str, shown: &str) {
        parts::see_number(&self.0, label, shown).await;
    }

    /// Waits until it says why so many passes.
    pub async fn see_passes_why(&self, text: &str) {
        self.0
            .see("why so many passes", css(".section-passes-why"), text)
            .await;
    }

    /// Has the passes worked out from the width again.
    pub async fn passes_from_the_width(&self) {
        self.0
            .tap(
                "Work them out from the width",
                css("button.section-use-width"),
            )
            .await;
    }

    /// Waits until it says how long it takes.
    pub async fn see_takes(&self, text: &str) {
        self.0
            .see("how long it takes", css(".section-takes"), text)
            .await;
    }

    /// Waits until it says that the sheet wants it slower.
    pub async fn see_too_fast(&self, text: &str) {
        self.0.see("too fast", css(".section-too-fast"), text).await;
    }

    /// Waits until it says what is wrong with a field.
    pub async fn see_wrong(&self, sentence: &str) {
        let at = xpath(format!(
            "//p[@class='wrong'][contains(., {})]",
            quoted(sentence)
        ));
        self.0.see_some(sentence, at).await;
    }

    /// Keeps it.
    pub async fn keep(&self) {
        self.0.tap("Keep", css("button.keep")).await;
    }
}
