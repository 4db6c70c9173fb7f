//! The shift that runs: the line, the card, the looks, and everything else that is recorded.

use super::glass::{Glass, css, xpath};
use super::reminders;

/// The screen of the shift.
#[derive(Clone, Debug)]
pub struct Shift(pub(super) Glass);

/// The one large card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// How pressing it is: ahead, due, late.
    pub press: String,
    /// What is to be done.
    pub title: String,
    /// How pressing it is, in a word; none while there is time.
    pub word: String,
    /// The time left, or by how much it is late.
    pub big: String,
    /// When.
    pub small: String,
    /// What the button says.
    pub button: String,
}

impl Shift {
    /// Waits until a shift runs on this screen.
    pub async fn see(&self) {
        self.0
            .see_some("the shift that runs", css(".next-job"))
            .await;
    }

    /// The card, once it is this pressing and says this.
    pub async fn card_once(&self, press: &str, big: &str) -> Card {
        let at = css(format!(".next-job[data-press={press}] .next-job-big"));
        let awaited = format!("the card is {press} and says {big:?}");
        self.0.read_once(&awaited, at, |shown| shown == big).await;
        self.card().await
    }

    /// The card as it stands now.
    pub async fn card(&self) -> Card {
        let part = async |name: &str| self.0.read(name, css(format!(".next-job-{name}"))).await;
        Card {
            press: self
                .0
                .attribute("the card", css(".next-job"), "data-press")
                .await,
            title: part("title").await,
            word: part("word").await,
            big: part("big").await,
            small: part("small").await,
            button: part("button").await,
        }
    }

    /// Waits until the card has this title.
    pub async fn see_title(&self, title: &str) {
        self.0.see("the card", css(".next-job-title"), title).await;
    }

    /// Presses the one large button.
    pub async fn press(&self) {
        self.0
            .tap("the large button", css(".next-job-button"))
            .await;
    }

    /// Waits until the line shows these drops, from left to right: planned, done, done-late, wanting, missed.
    pub async fn see_drops(&self, drops: &[&str]) {
        self.0
            .attributes_once(
                &format!("the shift line shows the drops {drops:?}"),
                css(".shift-line-drop"),
                "data-drop",
                |shown| shown == drops,
            )
            .await;
    }

    /// Waits until the line shows so many looks at the teeth.
    pub async fn see_looks_on_the_line(&self, looks: usize) {
        self.0
            .read_all_once(
                &format!("the shift line shows {looks} looks"),
                css(".shift-line-look"),
                |shown| shown.len() == looks,
            )
            .await;
    }

    /// What the line says to those who cannot see it.
    pub async fn line_told(&self) -> String {
        self.0
            .attribute("the shift line", css(".shift-line"), "aria-label")
            .await
    }

    /// Waits until the head says this: the work, how many oilings are done.
    pub async fn see_head(&self, text: &str) {
        self.0
            .see("the head of the shift", css(".shift-head"), text)
            .await;
    }

    /// Notes that all teeth turn.
    pub async fn all_turning(&self) {
        self.0.tap("All turning", css("button.all-turning")).await;
    }

    /// Goes to the form for teeth that do not turn.
    pub async fn some_are_not(&self) {
        self.0.tap("Some are not", css("a.some-not")).await;
    }

    /// Starts a break.
    pub async fn start_break(&self) {
        self.0.tap("Break", css("button.start-break")).await;
    }

    /// Goes to the choice of work.
    pub async fn change_work(&self) {
        self.0.tap("Change work", css("a.change-work")).await;
    }

    /// Goes to the note.
    pub async fn write_note(&self) {
        self.0.tap("Note", css("a.write-note")).await;
    }

    /// Goes to the opening checklist.
    pub async fn to_opening(&self) {
        self.0.tap("Opening checklist", css("a.to-opening")).await;
    }

    /// Waits until the way to the opening checklist says how far it is.
    pub async fn see_opening(&self, tally: &str) {
        self.0
            .see("the opening checklist", css("a.to-opening"), tally)
            .await;
    }

    /// Goes to the end of the shift.
    pub async fn to_closing(&self) {
        self.0.tap("End of shift", css("a.to-closing")).await;
    }

    /// Notes an oiling in a break.
    pub async fn oiled_in_the_break(&self) {
        self.0.tap("Oiled now", css("button.oiled-in-break")).await;
    }

    /// Waits until the section on looks says when the next one is.
    pub async fn see_next_look(&self, when: &str) {
        let at = xpath("//*[contains(@class, 'looks-when')]");
        self.0.see("when to look", at, when).await;
    }

    /// Waits until it says that stiff or stuck teeth bring the oilings closer together.
    pub async fn see_oilings_come_closer(&self) {
        self.0
            .see("oil more often", css(".more-often"), "closer together")
            .await;
    }

    /// Refuses that they come closer together.
    pub async fn keep_the_usual_interval(&self) {
        self.0
            .tap("Keep the usual interval", css("button.keep-usual"))
            .await;
    }

    /// Waits until a line says that something on this phone is as it should be.
    pub async fn see_good(&self, sentence: &str) {
        reminders::see_good(&self.0, sentence).await;
    }

    /// Waits until a line says that something on this phone is not as it should be.
    pub async fn see_bad(&self, sentence: &str) {
        reminders::see_bad(&self.0, sentence).await;
    }

    /// Goes to the reminders.
    pub async fn to_reminders(&self) {
        self.0.tap("the reminders", css("a.to-reminders")).await;
    }

    /// Puts the focus where a thumb would leave it: on the button for teeth that all turn.
    pub async fn focus_all_turning(&self) {
        self.0.focus("All turning", css("button.all-turning")).await;
        self.see_focus_on_all_turning().await;
    }

    /// Waits until the focus is there.
    pub async fn see_focus_on_all_turning(&self) {
        self.0
            .see_some("the focus on All turning", css("button.all-turning:focus"))
            .await;
    }

    /// Waits until nothing brings the oilings closer together.
    pub async fn see_usual_oilings(&self) {
        self.0.see_none("oil more often", css(".more-often")).await;
    }
}
