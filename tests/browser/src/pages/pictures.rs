//! The edge at work, in pictures.

use super::glass::{Glass, css, nothing, quoted, xpath};
use super::parts;

/// The name of the screen.
const NAME: &str = "The edge at work";

/// The screen.
#[derive(Clone, Debug)]
pub struct Pictures(pub(super) Glass);

impl Pictures {
    /// Waits until it is shown.
    pub async fn see(&self) {
        self.0.see("the heading", css("main h1"), NAME).await;
    }

    /// Goes there from Setup or from a sheet.
    pub async fn open(&self) {
        let link = xpath(format!("//main//a[normalize-space()={}]", quoted(NAME)));
        self.0.tap(NAME, link).await;
        self.see().await;
    }

    /// Waits until it says with which sheet it begins.
    pub async fn see_lead(&self, text: &str) {
        let at = xpath("//main/p[1]");
        self.0.see("what it begins with", at, text).await;
    }

    /// Raises an angle by taps: "Cutting angle", "Grading angle".
    pub async fn raise(&self, angle: &str, taps: usize) {
        parts::raise(&self.0, angle, taps).await;
    }

    /// Lowers an angle by taps.
    pub async fn lower(&self, angle: &str, taps: usize) {
        parts::lower(&self.0, angle, taps).await;
    }

    /// Waits until an angle is this.
    pub async fn see_angle(&self, angle: &str, shown: &str) {
        parts::see_number(&self.0, angle, shown).await;
    }

    /// Waits until it says why an angle is refused.
    pub async fn see_refused(&self, sentence: &str) {
        self.0
            .see("the refusal", css(".grading-refused"), sentence)
            .await;
    }

    /// Picks an answer: "Half worn" for "Tips".
    pub async fn pick(&self, question: &str, answer: &str) {
        parts::pick(&self.0, question, answer).await;
    }

    /// Waits until a picture says this, to those who see it and to those who do not.
    pub async fn see_told(&self, title: &str, text: &str) {
        let figure = figure(title);
        let told = xpath(format!("{figure}//*[@class='picture-told']"));
        self.0.see(title, told, text).await;
        let label = xpath(format!("{figure}/div[@role='img']"));
        self.0
            .attributes_once(&format!("{title:?} is told"), label, "aria-label", |it| {
                it.iter().any(|it| it.contains(text))
            })
            .await;
    }

    /// Waits until a picture says this beside what it shows.
    pub async fn see_note(&self, title: &str, text: &str) {
        let note = xpath(format!(
            "{}//*[contains(@class, 'picture-note')]",
            figure(title)
        ));
        self.0.see(title, note, text).await;
    }

    /// How a picture is drawn: all its lines.
    pub async fn drawn(&self, title: &str) -> String {
        let lines = xpath(format!("{}//*[local-name()='path']", figure(title)));
        self.0
            .attributes_once("the lines of the picture", lines, "d", |it| !it.is_empty())
            .await
            .join(" ")
    }

    /// How many tracks the picture across the road shows.
    pub async fn tracks_across(&self) -> usize {
        self.0
            .count("the tracks", css(".cross-section .drawing-tip"))
            .await
    }

    /// How high the drawn surface reaches above the bottom of its tracks, in millimetres of the road.
    pub async fn drawn_ridge(&self) -> f64 {
        let script = "
            const path = document.querySelector('.cross-section .drawing-road').getAttribute('d');
            const heights = [...path.matchAll(/L(\\d+) (\\d+)/g)].filter((it) => Number(it[1]) <= 320).map((it) => Number(it[2]));
            return (Math.max(...heights) - Math.min(...heights)) / 6;";
        let ridge = self.0.script("the drawn ridge", script, nothing()).await;
        ridge.as_f64().unwrap_or(f64::NAN)
    }
}

fn figure(title: &str) -> String {
    format!(
        "//figure[contains(@class, 'picture')][h2[normalize-space()={}]]",
        quoted(title)
    )
}
